package main

import (
	"encoding/json"
	"math"

	"shimsheet/internal/tally"
)

// number is a number that is null where it does not exist.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}

type shareJSON struct {
	Inside int    `json:"inside"`
	Of     int    `json:"of"`
	Share  number `json:"share_pct"`
	Low    number `json:"low_pct"`
	High   number `json:"high_pct"`
}

func shareOf(s tally.Share) shareJSON {
	p, low, high := s.Part()
	return shareJSON{s.N, s.Of, number(100 * p), number(100 * low), number(100 * high)}
}

type spreadJSON struct {
	Mean   number `json:"mean_mm"`
	SD     number `json:"sd_mm"`
	Least  number `json:"least_mm"`
	Median number `json:"median_mm"`
	Most   number `json:"most_mm"`
}

func spreadOf(s *tally.Spread) spreadJSON {
	return spreadJSON{number(s.Mean), number(s.SD), number(s.Least), number(s.Median), number(s.Most)}
}

// statsJSON gives the numbers of the jobs exactly, in mm: {"jobs": [{"job": …, "first_attempt": …, "repeats": […], "missed": […], "moves": […]}]}. What does not exist is null.
func statsJSON(jobs []*tally.Job) ([]byte, error) {
	type attemptJSON struct {
		By    string    `json:"by"`
		Name  string    `json:"name"`
		First shareJSON `json:"first_attempt"`
	}
	type repeatJSON struct {
		By          string `json:"by"`
		Crew        string `json:"crew"`
		Gauge       bool   `json:"gauge"`
		Sweeps      int    `json:"sweeps"`
		Failed      int    `json:"failed"`
		Slips       int    `json:"slips"`
		Repeats     int    `json:"repeats"`
		FromRepeats number `json:"from_repeats_mm"`
		Balances    int    `json:"balances"`
		FromBalance number `json:"from_balance_mm"`
	}
	type missJSON struct {
		By     string     `json:"by"`
		Name   string     `json:"name"`
		Feet   int        `json:"feet"`
		V      spreadJSON `json:"v"`
		H      spreadJSON `json:"h"`
		Sprang int        `json:"sprang_back"`
	}
	type moveJSON struct {
		Machine string `json:"machine"`
		Base    string `json:"base"`
		Crew    string `json:"crew"`
		Round   string `json:"round"`
		Foot    string `json:"foot"`
		V       number `json:"v_mm"`
		H       number `json:"h_mm"`
		Sprang  bool   `json:"sprang_back"`
	}
	type jobJSON struct {
		Job      string        `json:"job"`
		Machines int           `json:"machines"`
		Found    shareJSON     `json:"inside_as_found"`
		First    shareJSON     `json:"first_attempt"`
		Now      shareJSON     `json:"inside_now"`
		Attempts []attemptJSON `json:"attempts"`
		Repeats  []repeatJSON  `json:"repeats"`
		Missed   []missJSON    `json:"missed"`
		Moves    []moveJSON    `json:"moves"`
	}
	var out struct {
		Jobs []jobJSON `json:"jobs"`
	}
	for _, j := range jobs {
		x := jobJSON{j.Name, j.Machines, shareOf(j.Found), shareOf(j.First), shareOf(j.Now), []attemptJSON{}, []repeatJSON{}, []missJSON{}, []moveJSON{}}
		for _, a := range j.Attempts {
			x.Attempts = append(x.Attempts, attemptJSON{a.By, a.Name, shareOf(a.First)})
		}
		for _, r := range j.Repeats {
			x.Repeats = append(x.Repeats, repeatJSON{r.By, r.Name, r.Gauge, r.Sweeps, r.Failed, r.Slips, r.Repeats, number(r.FromRepeats), r.Balances, number(r.FromBalance)})
		}
		for _, m := range j.Misses {
			x.Missed = append(x.Missed, missJSON{m.By, m.Name, m.V.N, spreadOf(&m.V), spreadOf(&m.H), m.Sprang})
		}
		for _, m := range j.Moves {
			x.Moves = append(x.Moves, moveJSON{m.Machine, m.Base, m.Crew, m.Round, m.Foot, number(m.V), number(m.H), m.Sprang})
		}
		out.Jobs = append(out.Jobs, x)
	}
	return json.MarshalIndent(&out, "", " ")
}

package evaluate

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// An Older is an older job that is set beside the one at hand: has a machine moved since?
type Older struct {
	Name string // of its file
	Job  *job.Job
	ev   *Evaluator
}

// A Past is what an older job says of a machine, held against what was found now: now less then. Then is the last cold round that counts there, as the machine was left; now the first that counts here,
// as it was found.
type Past struct {
	File, When    string       // When: of the round, else the date of the job, else when it was saved; "" nobody knows
	Round, Now    string       // the two rounds
	Why           words.Phrase // why they are not compared; empty: they are
	Offset, Slope calc.Vector  // the ± is the root of both readings' squares; NaN where they are not compared
	Advised       bool         // something was to be done after that round there, and it was not read again
	then, found   roundRead    // the last and the first round there
	day           float64      // of then, in days; NaN not known
}

// A Drift is how a machine moves over the years: a straight line, by least squares, through what it moved from each time it was left to the next time it was found, added up. At the coupling
// centre, mm a year, positive high and towards 3 o'clock.
type Drift struct {
	Times  int // how many times it was read, this one too
	Years  float64
	V, H   float64
	UV, UH float64 // expanded, for 95 %, from the scatter
	SV, SH float64 // the standard deviation about the line, mm: how well it repeats
}

// SetHistory sets older jobs beside this one. They are not changed.
func (e *Evaluator) SetHistory(list []Older) {
	e.older = slices.Clone(list)
	for k := range e.older {
		if e.older[k].ev == nil {
			e.older[k].ev = NewEvaluator(e.older[k].Job)
		}
	}
}

// HasHistory says whether older jobs are set beside this one.
func (e *Evaluator) HasHistory() bool { return len(e.older) > 0 }

// A roundRead is what one round came to, for comparing.
type roundRead struct {
	name, when string
	line       calc.Line
	cov        calc.Cov
	sound      bool // there is a line, and its readings passed their checks
	verdict    calc.Verdict
}

// coldRounds are the cold rounds of a machine that are not struck, in their order; its own readings where it has no rounds.
func (r *RowResult) coldRounds() (list []roundRead) {
	if len(r.Rounds) == 0 {
		if r.RoundWord() == StateWaiting {
			return nil
		}
		return []roundRead{{foundRound, "", r.Calc.Line, r.Calc.Cov, r.soundLine(), r.Verdict}}
	}
	for k := range r.Rounds {
		if o := &r.Rounds[k]; o.Struck == "" && !o.Hot() {
			list = append(list, roundRead{o.Name, o.When, o.Line, o.Cov, o.sound && !r.withheld, o.Verdict})
		}
	}
	return list
}

// soundLine says whether the row came to a line whose readings passed their checks.
func (r *RowResult) soundLine() bool {
	s := r.Calc.Status
	return r.HasLine() && (s == calc.OK || s == calc.NoLimit || s == calc.NoLength)
}

// whenRead is when a round was read: as it says, else the job's date, else when the job was saved.
func (e *Evaluator) whenRead(o *roundRead) string {
	saved := e.job.SavedAt
	saved = saved[:min(len(saved), dateLen)]
	for _, s := range [...]string{o.when, e.Setting("date"), saved} {
		if !math.IsNaN(dayOf(s)) {
			return s
		}
	}
	return cmp.Or(o.when, e.Setting("date"), saved)
}

// dayOf is the day of a text that begins with a date as 2026-04-12, in days; NaN for another.
func dayOf(s string) float64 {
	s = strings.TrimSpace(s)
	if len(s) < dateLen || s[4] != '-' || s[7] != '-' {
		return nan
	}
	year, err := strconv.Atoi(s[:4])
	month, err2 := strconv.Atoi(s[5:7])
	day, err3 := strconv.Atoi(s[8:dateLen])
	if err != nil || err2 != nil || err3 != nil || month < 1 || month > 12 || day < 1 || day > 31 {
		return nan
	}
	y := year - (14-month)/12 // years from March to March end with the leap day
	return float64(365*y + y/4 - y/100 + y/400 + (153*((month+9)%12)+2)/5 + day)
}

// dateLen is the length of 2026-04-12.
const dateLen = 10

// History is what the older jobs say of the machine of row i, the oldest first; those without a date come before.
func (e *Evaluator) History(i int) (list []Past) {
	r := e.Row(i)
	if len(e.older) == 0 || r == nil || r.Kind != MachineRow || e.keys[i] == "" || e.dups[i] >= 0 {
		return nil
	}
	rounds := r.coldRounds()
	for k := range e.older {
		o := &e.older[k]
		at := slices.Index(o.ev.keys, e.keys[i])
		if at < 0 {
			continue
		}
		p := Past{File: o.Name, Offset: noVector, Slope: noVector, day: nan}
		old := o.ev.Row(at)
		then := old.coldRounds()
		if len(then) > 0 {
			p.then, p.found = then[len(then)-1], then[0]
			p.Round, p.When = p.then.name, o.ev.whenRead(&p.then)
			p.day = dayOf(p.When)
			p.Advised = p.then.name != leftRound && p.then.verdict != calc.Inside
		}
		a, b := e.MachineText(i, job.ColStationary), o.ev.MachineText(at, job.ColStationary)
		switch {
		case slices.Contains(o.ev.dups, int32(at)):
			p.Why = words.PastTwice.With()
		case a != "" && b != "" && nameKey(a) != nameKey(b):
			p.Why = words.PastOther.With(b)
		case len(then) == 0 || !p.then.sound:
			p.Why = words.PastThenNot.With()
		case len(rounds) == 0 || !rounds[0].sound:
			p.Why = words.PastNowNot.With()
		default:
			now := &rounds[0]
			p.Now = now.name
			d := func(x, y float64) float64 { return x - y }
			c := func(k, j int) float64 { return now.cov[k][j] + p.then.cov[k][j] }
			p.Offset = vector(d(now.line.DV, p.then.line.DV), d(now.line.DH, p.then.line.DH), c(0, 0), c(0, 2), c(2, 2))
			p.Slope = vector(d(now.line.TV, p.then.line.TV), d(now.line.TH, p.then.line.TH), c(1, 1), c(1, 3), c(3, 3))
		}
		list = append(list, p)
	}
	sorting.Stable(list, func(a, b Past) int { return cmp.Compare(a.day, b.day) })
	return list
}

// Beyond is by how much a change is larger than the readings explain; 0: it is not.
func Beyond(v *calc.Vector) float64 { return max(v.Total-v.UTotal, 0) }

// Drift is how the machine of row i moves over the years; ok is false where fewer than three times with a date can be compared, this one among them.
func (e *Evaluator) Drift(i int) (d Drift, ok bool) {
	var days, v, h []float64
	var last *roundRead
	take := func(day float64, found, left *roundRead) {
		if n := len(days); n == 0 {
			v, h = append(v, 0), append(h, 0)
		} else {
			v, h = append(v, v[n-1]+found.line.DV-last.line.DV), append(h, h[n-1]+found.line.DH-last.line.DH)
		}
		days, last = append(days, day), left
	}
	list := e.History(i)
	for k := range list {
		if p := &list[k]; p.Why.Empty() && Known(p.day) && p.found.sound {
			take(p.day, &p.found, &p.then)
		}
	}
	rounds := e.Row(i).coldRounds()
	if len(days) < 2 || len(rounds) == 0 || !rounds[0].sound {
		return d, false
	}
	day := dayOf(e.whenRead(&rounds[0]))
	if !(day > days[len(days)-1]) {
		return d, false
	}
	take(day, &rounds[0], nil)
	for k := range days {
		days[k] /= 365.25
	}
	d.Times, d.Years = len(days), days[len(days)-1]-days[0]
	d.V, d.UV, d.SV = calc.Trend(days, v)
	d.H, d.UH, d.SH = calc.Trend(days, h)
	f := calc.Coverage(len(days) - 2)
	d.UV, d.UH = d.UV*f, d.UH*f
	return d, true
}

// Misses says how well the feet came to stand where they should, over all machines and all their rounds that count: how many were read again after a move, by how much they stood higher and farther
// towards 3 o'clock than predicted in the mean, and the standard deviation, mm.
func (e *Evaluator) Misses() (n int, meanV, sdV, meanH, sdH float64) {
	var v, h []float64
	for i := range e.dirty {
		r := e.Row(i)
		for k := range r.Rounds {
			if o := &r.Rounds[k]; !o.Hot() {
				for _, f := range o.Missed {
					v, h = append(v, f.V), append(h, f.H)
				}
			}
		}
	}
	meanV, sdV = calc.MeanSD(v)
	meanH, sdH = calc.MeanSD(h)
	return len(v), meanV, sdV, meanH, sdH
}

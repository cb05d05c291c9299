package tally

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A Table is a part of the numbers in words.
type Table struct {
	Title  string
	About  string // what the columns mean
	Header []string
	Words  int // columns from the left that hold words; the others are numbers
	Rows   [][]string
}

// all are several jobs in words of the first one's units.
type all struct {
	e    *sentences.Teller
	jobs []*Job
	unit units.Unit
	dec  int
}

// Tables words the numbers of the job of e, which is the first of jobs, and of others beside it. Lengths are in its units.
func Tables(e *sentences.Teller, jobs []*Job) (list []Table) {
	a := &all{e, jobs, job.QThickness.Unit(e.ShowsInch()), 3}
	if a.unit == units.Mil {
		a.dec = 1
	}
	for _, t := range []Table{a.whole(), a.attempts(), a.repeats(), a.misses()} {
		if len(t.Rows) == 0 {
			continue
		}
		if len(jobs) == 1 && t.Header[0] == words.TallyJob.String() && t.Title != words.TallyJobs.String() { // it is the same on every row
			t.Header, t.Words = t.Header[1:], t.Words-1
			for k := range t.Rows {
				t.Rows[k] = t.Rows[k][1:]
			}
		}
		list = append(list, t)
	}
	return list
}

// headings are the texts of keys.
func headings(keys ...words.Key) []string {
	list := make([]string, len(keys))
	for i, k := range keys {
		list[i] = k.String()
	}
	return list
}

// in is a heading with the unit of lengths.
func (a *all) in(k words.Key) string { return k.String() + " [" + a.unit.String() + "]" }

// length is a length in words; "" for none.
func (a *all) length(mm float64) string {
	if math.IsNaN(mm) {
		return ""
	}
	return string(a.e.AppendUnit(nil, mm, a.unit, a.dec))
}

// count is a number of values, with a word where they are few.
func count(n int) string {
	if n > 0 && n < Few {
		return words.TallyFew.Say(n)
	}
	return strconv.Itoa(n)
}

// String is the share in words: 3 of 4; 7 of 9, 78 % (45 to 94 %). "" of none.
func (s Share) String() string {
	if s.Of == 0 {
		return ""
	}
	text := words.TallyOf.Say(s.N, s.Of)
	if p, low, high := s.Part(); !math.IsNaN(p) {
		whole := func(x float64) string { return strconv.FormatFloat(100*x, 'f', 0, 64) }
		text = words.TallyShare.Say(s.N, s.Of, whole(p), whole(low), whole(high))
	}
	return text
}

// said is a name of a group, or that nobody gave one.
func said(by, name string) string {
	switch {
	case by == "all":
		return "all"
	case name == "":
		return words.TallyNotSaid.Say(by)
	}
	return name
}

func (a *all) whole() Table {
	t := Table{Title: words.TallyJobs.String(), About: words.TallyJobsAbout.String(), Words: 1,
		Header: append(headings(words.TallyJob, words.TallyMachines, words.TallyFound, words.TallyFirst, words.TallyNow), a.in(words.TallyRepeatsTo), a.in(words.TallyMissedV), a.in(words.TallyMissedH), words.TallySprang.String())}
	for _, j := range a.jobs {
		row := []string{j.Name, strconv.Itoa(j.Machines), j.Found.String(), j.First.String(), j.Now.String(), "", "", "", ""}
		for _, r := range j.Repeats { // that of all crews comes last
			if !r.Gauge {
				row[5] = a.length(r.FromRepeats)
			}
		}
		if len(j.Misses) > 0 {
			m := &j.Misses[0]
			row[6], row[7], row[8] = a.length(m.V.Mean), a.length(m.H.Mean), words.TallyOf.Say(m.Sprang, count(m.V.N))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// beside puts the rows of all jobs that speak of the same beside each other: key, and then the job.
func (a *all) beside(t *Table, rows func(*Job, func(key string, row ...string))) {
	at := map[string]int{}
	var parts [][][]string
	for _, j := range a.jobs {
		rows(j, func(key string, row ...string) {
			key = strings.ToLower(key)
			k, ok := at[key]
			if !ok {
				k = len(parts)
				at[key] = k
				parts = append(parts, nil)
			}
			parts[k] = append(parts[k], append([]string{j.Name}, row...))
		})
	}
	t.Rows = slices.Concat(parts...)
}

func (a *all) attempts() Table {
	t := Table{Title: words.TallyFirst.String(), About: words.TallyFirstAbout.Say(Few), Header: headings(words.TallyJob, words.TallyBy, words.TallyName, words.TallyFirst), Words: 4}
	a.beside(&t, func(j *Job, add func(string, ...string)) {
		for _, x := range j.Attempts {
			add(x.By+"\x00"+x.Name, x.By, said(x.By, x.Name), x.First.String())
		}
	})
	return t
}

func (a *all) repeats() Table {
	t := Table{Title: words.TallyRepeats.String(), About: words.TallyRepeatsAbout.Say(slip), Words: 3,
		Header: append(headings(words.TallyJob, words.TallyCrew, words.TallyWith, words.TallySweeps, words.TallyFailed, words.TallySlips, words.TallyAgain), a.in(words.TallyRepeat), words.TallyTopSide.String(), a.in(words.TallyAgree))}
	a.beside(&t, func(j *Job, add func(string, ...string)) {
		for _, r := range j.Repeats {
			with := words.TallyDial.String()
			if r.Gauge {
				with = words.TallyGauge.String()
			}
			add(with+r.By+"\x00"+r.Name, said(r.By, r.Name), with, strconv.Itoa(r.Sweeps), strconv.Itoa(r.Failed), strconv.Itoa(r.Slips), count(r.Repeats), a.length(r.FromRepeats), count(r.Balances), a.length(r.FromBalance))
		}
	})
	return t
}

func (a *all) misses() Table {
	t := Table{Title: words.TallyMisses.String(), About: words.TallyMissesAbout.Say(Few), Words: 3,
		Header: append(headings(words.TallyJob, words.TallyBy, words.TallyName, words.TallyFeet), a.in(words.TallyMeanV), a.in(words.TallySpreadV), a.in(words.TallyMeanH), a.in(words.TallySpreadH), a.in(words.TallyLargest), words.TallySprang.String())}
	a.beside(&t, func(j *Job, add func(string, ...string)) {
		for _, m := range j.Misses {
			add(m.By+"\x00"+m.Name, m.By, said(m.By, m.Name), count(m.V.N), a.length(m.V.Mean), a.length(m.V.SD), a.length(m.H.Mean), a.length(m.H.SD),
				a.length(math.Max(m.V.Largest(), m.H.Largest())), strconv.Itoa(m.Sprang))
		}
	})
	return t
}

// AppendText writes the tables for a terminal.
func AppendText(b []byte, list []Table) []byte {
	for k, t := range list {
		if k > 0 {
			b = append(b, '\n')
		}
		b = append(append(b, t.Title...), '\n')
		b = results.AppendTable(b, append([][]string{t.Header}, t.Rows...), t.Words, len(t.Header))
		b = append(append(b, t.About...), '\n')
	}
	if len(list) == 0 {
		b = append(append(b, words.TallyNothing.String()...), '\n')
	}
	return b
}

// AppendCSV writes the tables behind one another, each under its title, with a blank line between.
func AppendCSV(b []byte, list []Table, sep byte) []byte {
	for k, t := range list {
		if k > 0 {
			b = append(b, '\r', '\n')
		}
		b = job.AppendCSVRow(b, []string{t.Title}, sep)
		b = job.AppendCSVRow(b, t.Header, sep)
		for _, row := range t.Rows {
			b = job.AppendCSVRow(b, row, sep)
		}
	}
	return b
}

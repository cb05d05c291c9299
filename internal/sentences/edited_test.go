package sentences

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
)

// A job that is edited cell by cell, with rows put in, taken out and moved, says of every row, and as a whole, what a job opened afresh says: names that stand twice, headers further down, totals, decimal commas, rounds, trains with a
// chosen plan, feet and records among them. Every row that says something else than before is among those that were marked.
func TestEditedJobIsTheJob(t *testing.T) {
	lines := plus(trainText, "Trains: Train=T1 | Plan=shared out", "Trains: Train=T1 | Machine=Gear | May move=yes", "4 of 3: Machine=Fan | Train | Stationary=motor 2", "5 of 3: Machine=P-5 | Train | Stationary | Speed=1480 | Note=1.234", "6 of 5: Machine=P-6 | Offset limit", "7 of 5: Machine=P-7",
		"Machines: Machine=Total | Speed=2", "Machines: Machine", "Rounds: Machine=Fan | Round=1"+rims(calc.Line{DV: 0.1}), "Rounds: Machine=P-7 | Round=found | Struck=x", "Feet: Machine=P-5 | Foot=front 9 | Pack in place=0.5", "Checks: Machine=P-6 | Check=guard | Done=yes",
		"Record: Machine=P-5 | Signed by=a | Signed at=b", "Readings: Machine=P-8 | Sweep=movable rim | Angle=0 | Reading=0", "Growth: Machine=P-7 | Support=front | Part=foot | Growth V=0.1", "Stock: Thickness=0.05", "Stock: Thickness=0.2")
	j := jobText(t, lines...)
	e := work(t, j)
	all := func(e *Teller) (rows []string, whole string) {
		for i := range e.Len() {
			r := e.Row(i)
			rows = append(rows, fmt.Sprintf("%v %s %s\n%s%s", r.Kind, r.Name, r.State, toldBy(r.Problems), sentencesOf(e, i, SentenceVerdict, SentenceLine, SentenceDo, SentenceAfter, SentenceHint)))
		}
		n, v := e.Count()
		whole = fmt.Sprint(n, v, toldBy(e.Problems()))
		for i := range e.Len() {
			whole += fmt.Sprint(e.TrainOf(i), " ")
		}
		for _, p := range e.Trains() {
			whole += e.TrainWords(&p) + "\n"
		}
		return rows, whole
	}
	rng := rand.New(rand.NewPCG(4, 5))
	header := slices.Clone(j.Machines.Header)
	before, _ := all(e)
	e.Marked()
	texts := []string{"", "P-5", "p-6", "Motor", "Gear", "T1", "t1", "0,5", "1.234", "x", "0.3", "-", "Total", "100", "Pump", "Fan"}
	kinds := map[string]int{}
	for n := range 140 {
		rows := j.Machines.Rows
		i := rng.IntN(len(rows))
		var what string
		from, to := i, i+1
		switch rng.IntN(12) {
		case 0:
			what = "put in"
			row := slices.Clone(rows[rng.IntN(len(rows))])
			j.Machines.Rows = slices.Insert(slices.Clone(rows), i, row)
		case 1:
			what = "taken out"
			if len(rows) < 8 {
				continue
			}
			j.Machines.Rows = slices.Delete(slices.Clone(rows), i, i+1)
		case 2:
			what = "exchanged"
			k := rng.IntN(len(rows))
			j.Machines.Rows = slices.Clone(rows)
			j.Machines.Rows[i], j.Machines.Rows[k] = rows[k], rows[i]
			from, to = min(i, k), max(i, k)+1
		case 3:
			what = "header"
			row := make([]string, len(header))
			for c, h := range header {
				if rng.IntN(3) > 0 {
					row[c] = h
				}
			}
			if rng.IntN(2) == 0 {
				row[5], row[6] = header[6], header[5]
			}
			j.Machines.Rows = slices.Insert(slices.Clone(rows), i, row)
		default:
			what = "cell"
			c := []int{0, 1, 1, 2, 5, 6, 7, 9, 11, 12}[rng.IntN(10)]
			row := slices.Clone(rows[i])
			for len(row) <= c {
				row = append(row, "")
			}
			if row[c] = texts[rng.IntN(len(texts))]; rng.IntN(3) == 0 { // as it was in the beginning
				row = slices.Clone(jobText(t, lines...).Machines.Rows[i%6])
			}
			j.Machines.Rows[i] = row
		}
		kinds[what]++
		e.RowsChanged(from, to)
		first, last := e.Marked()
		got, whole := all(e)
		a, b := e.Marked() // plans that are followed have rows wait
		if a < b {
			if first == last {
				first, last = a, b
			}
			first, last = min(first, a), max(last, b)
		}
		want, wantWhole := all(work(t, j))
		if !slices.Equal(got, want) || whole != wantWhole {
			for k := range want {
				if k < len(got) && got[k] != want[k] {
					t.Errorf("row %d:\n%s", k, differs(strings.Split(got[k], "\n"), strings.Split(want[k], "\n")))
				}
			}
			t.Fatalf("step %d, %s at %d: %d rows, afresh %d\n%s\nafresh\n%s", n, what, i, len(got), len(want), whole, wantWhole)
		}
		for k := range got { // what is said of the whole train is asked for when it is looked at
			if (k >= len(before) || withoutTrain(got[k]) != withoutTrain(before[k])) && (k < first || k >= last) {
				t.Fatalf("step %d, %s at %d: row %d says something else and is not among %d to %d\n%s", n, what, i, k, first, last, strings.Join(differsLines(before, got, k), "\n"))
			}
		}
		before = got
		if n%20 == 19 { // afresh, so that it does not all come apart
			j.Machines.Rows = jobText(t, lines...).Machines.Rows
			e.RowsChanged(0, len(j.Machines.Rows))
			before, _ = all(e)
			e.Marked()
		}
	}
	if kinds["cell"] < 60 || kinds["header"] < 3 || kinds["put in"] < 5 || kinds["taken out"] < 5 || kinds["exchanged"] < 5 {
		t.Error(kinds)
	}
}

// Seen: what the ± of a verdict is made of, and what would settle it, was said of the readings of the Machines row, or of the machine that was worked out last, where the round that counts stands on the Rounds sheet.
func TestSureOfTheRoundThatCounts(t *testing.T) {
	base := plus(roundsText, "2: Offset limit=0.1 | Slope limit=5 | Graduation=0.01", "3 of 2: Machine=fan", "Rounds: Machine=fan | Round=1"+strings.Replace(rims(calc.Line{DV: 3}), " | Stationary rim 9=3.000000000000", "", 1))
	near := rims(calc.Line{DV: 0.1})
	own := workText(t, plus(base, "2: "+strings.TrimPrefix(near, " | "))...)
	round := workText(t, plus(base, "2: "+strings.TrimPrefix(rims(calc.Line{DV: 2}), " | "), "Rounds: Machine=pump | Round=1"+near)...)
	alone := workText(t, plus(roundsText, "2: Offset limit=0.1 | Slope limit=5 | Graduation=0.01", "2: "+strings.TrimPrefix(near, " | "))...)
	for _, e := range []*Teller{own, round} {
		e.RowsChanged(1, 2)
		e.Row(1) // the fan is worked out last
	}
	sure := func(e *Teller) (out string) {
		for _, s := range strings.Split(sentencesOf(e, 0, SentenceHint), "\n") {
			if strings.Contains(s, "settle") || strings.Contains(s, "what decides") {
				out += s + "\n"
			}
		}
		return out
	}
	if a, b := sure(own), sure(round); a != b || a != sure(alone) || !strings.Contains(a, "settle") || !strings.Contains(a, "what decides") {
		t.Errorf("as found: %s\nof round 1: %s", a, b)
	}
}

func withoutTrain(s string) string {
	return strings.Join(slices.DeleteFunc(strings.Split(s, "\n"), func(l string) bool {
		return strings.HasPrefix(l, "This coupling belongs") || strings.HasPrefix(l, "Train ")
	}), "\n")
}

func differsLines(a, b []string, k int) []string {
	if k >= len(a) {
		return []string{b[k]}
	}
	return []string{differs(strings.Split(a[k], "\n"), strings.Split(b[k], "\n"))}
}

package sentences

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// NaN in the machines' numbers never reads as level or in line.
func TestUnknownIsNotLevel(t *testing.T) {
	e := workText(t, plus(panelText, "2: Given slope H")...)
	offset, slope := e.StandsShort(e.Row(0))
	if fmt.Sprint(offset, slope) != "[high 0.3 the wall 0.1] [rises 0.2 not known]" {
		t.Error(offset, slope)
	}
	if got := e.upDown(math.NaN(), 0, 0, "level", e.Thickness); strings.Contains(got, "level") {
		t.Error(got)
	}
}

// Rows that end with their last filled cell, as files have them, say what rows filled up with blanks say, on every sheet.
func TestRowsThatEndEarly(t *testing.T) {
	lines := plus(trainText, "Trains: Train=T1 | Plan=as set | Machine", "Trains: Note=n | Train=T1 | Machine=Gear | May move=yes", "4 of 3: Machine=Fan | Train | Stationary=motor 2", "Machines: Machine=P-5 | Speed=1480", "Rounds: Note=n | Machine=Fan | Round=1"+rims(calc.Line{DV: 0.1}), "Rounds: Machine=Fan | Round=2 | Movable rim 12=0",
		"Rounds: Machine=Fan | Round=3", "Feet: Machine=Motor | Foot=front 9 | Pack in place=0.5", "Feet: Machine=Motor | Foot=front 3", "Checks: Note=x | Machine=Fan | Check=guard | Done=yes", "Checks: Note=y", "Record: Note=x | Machine=Fan | Signed by=a | Signed at=b | Digest="+strings.Repeat("0", 64), "Record: Note=y", "Growth: Machine=Fan | Support=front | Part=foot | Growth V=0.1",
		"Stock: Thickness=0.05 | Pieces on hand=3", "Stock: Thickness=0.5", "Readings: Machine=P-5 | Sweep=movable rim | Angle=0 | Reading=0")
	all := func(j *job.Job) string {
		e := work(t, j)
		out := toldBy(e.Problems())
		for i := range e.Len() {
			out += toldBy(e.Row(i).Problems) + sentencesOf(e, i, SentenceVerdict, SentenceLine, SentenceDo, SentenceAfter, SentenceHint) + fmt.Sprint(e.RoundFields(i), e.ReadingsTyped(i), e.Todo(i))
		}
		for k := range j.Record.Rows {
			text, ok := e.CanonicalText(j.Record.SourceRow(k))
			out += fmt.Sprint(text, ok)
		}
		c, _ := e.Card(2)
		return out + cardTold(&c)
	}
	whole, short := jobText(t, lines...), jobText(t, lines...)
	for _, k := range job.SheetOrder {
		if tab := short.Table(k); tab != nil {
			for i, row := range tab.Rows {
				for len(row) > 0 && row[len(row)-1] == "" {
					row = row[:len(row)-1]
				}
				tab.Rows[i] = row
			}
		}
	}
	if a, b := all(whole), all(short); a != b {
		t.Error(differs(strings.Split(a, "\n"), strings.Split(b, "\n")))
	}
	// Two columns of three that sum up are enough.
	e := workText(t, "Machines: Machine=a | Coupling to front feet=100 | Face diameter=10 | Front to rear feet=5", "Machines: Machine=b | Coupling to front feet=200 | Face diameter=30 | Front to rear feet=7", "Machines: Machine | Coupling to front feet=300 | Face diameter=40 | Front to rear feet=500")
	if e.Row(2).Kind != evaluate.LeftOutRow {
		t.Error(toldBy(e.Row(2).Problems))
	}
	if v, ok := e.NumberIn(job.MachinesSheet, "Note", "3.5"); !ok || v != 3.5 {
		t.Error(v, ok)
	}
}

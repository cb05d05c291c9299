package evaluate

import (
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// Each round has fields of its own: a new one begins empty, on the Rounds sheet, and typing into it leaves the readings found as they are.
func TestNewRound(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, without...)
	e := work(t, j)
	if _, _, why := e.NewRound(0, NextRound, ""); why.String() != words.RoundWaiting.String() || e.NextRound(0) != "found" {
		t.Errorf("before anything was read: %q, %s", why, e.NextRound(0))
	}
	readings := strings.Split("Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9", ",")
	j.Machines.Header = append(j.Machines.Header, readings...)
	for k := range 4 { // all four of the dial: a unit over one of them alone could be meant for all
		j.Machines.Header[len(j.Machines.Header)-1-k] += " [mil]"
	}
	j.Machines.Rows[0] = append(j.Machines.Rows[0], strings.Split(rimRow(calc.Line{DV: 0.3, TV: 0.4, DH: 0.1, TH: -0.2}), ",")...)
	e = work(t, j)
	fields := e.RoundFields(0)
	if len(fields) != 8 || fields[0].Sheet != job.MachinesSheet || fields[1].Angle != 90 || fields[2].Angle != 180 {
		t.Fatalf("%+v", fields)
	}
	names, texts, why := e.NewRound(0, NextRound, "today")
	if !why.Empty() || texts[0] != "pump" || texts[1] != "1" || texts[2] != "today" || len(names) != 16 || names[15] != "Stationary rim 9 [mil]" {
		t.Fatalf("%q %q %q", names, texts, why)
	}
	rounds := &job.Table{Name: "Rounds", Header: names, Rows: [][]string{texts}, FirstRow: 2}
	j.SetTable(job.RoundsSheet, rounds)
	e = work(t, j)
	fields = e.RoundFields(0)
	if len(fields) != 8 || fields[0].Sheet != job.RoundsSheet || fields[0].Text != "" || e.Row(0).State != "round 1" {
		t.Fatalf("%+v", fields)
	}
	if _, _, why = e.NewRound(0, LeftRound, ""); why.String() != words.RoundEmpty.String() {
		t.Errorf("a round after an empty one: %q", why)
	}
	for k, f := range fields {
		rounds.Rows[0][f.Col] = strings.Split(rimRow(calc.Line{DV: 0.01, TV: 0.01}), ",")[k]
	}
	e = work(t, j)
	r := e.Row(0)
	if len(r.Rounds) != 2 || r.Rounds[0].Name != "found" || r.Rounds[0].Line.DV == r.Rounds[1].Line.DV {
		t.Fatalf("%+v", r.Rounds)
	}
	_, texts, why = e.NewRound(0, LeftRound, "")
	if !why.Empty() || texts[1] != "left" || e.NextRound(0) != "2" {
		t.Errorf("%q %q, next %s", texts, why, e.NextRound(0))
	}
}

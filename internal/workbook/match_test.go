package workbook

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sheet"
)

const ownWords = "Outage list,,,,,,,,,,\nEquip no,Revs rpm,M plane,S plane,M 0,M 90,M 180,M 270,S 0,S 90,S 180,S 270\nP-1,1480,120,130,0,0.05,0.12,0.07,0,-0.15,-0.02,0.13\n"

// A list in its own words: nothing is read by a guess, each guess stands beside its column, and what a person takes is learnt.
func TestOwnWords(t *testing.T) {
	j, r, err := Read([]byte(ownWords), "list.csv", nil)
	if err != nil {
		t.Fatal(err)
	}
	if s := r.Sheets[0]; s.HeaderRow != 2 || len(s.Columns) != 12 || s.Columns[5].Key != "" || s.Columns[5].Guess != "movable_rim_3" || s.Columns[5].Why == "" || s.Columns[1].GuessUnit != "rpm" {
		t.Errorf("%+v", s)
	}
	if j.Machines.Header[5] != "M 90" || len(r.Learnt) != 0 {
		t.Errorf("taken in silence: %q %v", j.Machines.Header, r.Learnt)
	}
	c := &Choices{Sheets: []SheetChoice{{Sheet: "list", Columns: []ColumnChoice{{5, "movable_rim_3", "mil"}, {0, "machine", ""}}}}}
	if j, r, err = Read([]byte(ownWords), "list.csv", c); err != nil || j.Machines.Header[5] != "Movable rim 3 [mil]" || len(r.Learnt) != 2 || r.Learnt[0] != (Learnt{"Machines", "M 90", "Movable rim 3 [mil]"}) {
		t.Errorf("%v %+v %v", j.Machines.Header, r.Learnt, err)
	}
	// What was matched in another job is offered, and no more.
	if j, r, err = Read([]byte(ownWords), "list.csv", &Choices{Before: r.Learnt}); err != nil || j.Machines.Header[5] != "M 90" || r.Sheets[0].Columns[5].Guess != "movable_rim_3" || r.Sheets[0].Columns[5].GuessUnit != "mil" || !strings.Contains(r.Sheets[0].Columns[5].Why, "before") {
		t.Errorf("%v %+v %v", j.Machines.Header, r.Sheets[0].Columns[5], err)
	}
}

// What the Job sheet says of headers goes through a workbook of ours, and rules a list in somebody's own workbook.
func TestOwnHeadersInWorkbook(t *testing.T) {
	j, _, err := Read([]byte("Machine,Speed\nP-1,1480\n"), "list.csv", nil)
	if err != nil {
		t.Fatal(err)
	}
	j.Settings = &job.Table{Name: "Job", Header: []string{"Name", "Value"}, FirstRow: 2, Rows: [][]string{{"Header of Machines: DE 12", "Movable rim 12 [mil]"}}}
	file, err := Write(j, sheet.NewEvaluator(j), Options{})
	if err != nil {
		t.Fatal(err)
	}
	back, _, err := Read(file, "job.xlsx", nil)
	if err != nil {
		t.Fatal(err)
	}
	if own := sheet.OwnHeaders(back.Settings); len(own) != 1 || own[0].Means != "Movable rim 12 [mil]" {
		t.Errorf("%v", own)
	}
}

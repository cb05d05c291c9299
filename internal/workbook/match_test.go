package workbook

import (
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
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
	file, err := Write(j, sentences.New(j), Options{})
	if err != nil {
		t.Fatal(err)
	}
	back, _, err := Read(file, "job.xlsx", nil)
	if err != nil {
		t.Fatal(err)
	}
	if own := evaluate.OwnHeaders(back.Settings); len(own) != 1 || own[0].Means != "Movable rim 12 [mil]" {
		t.Errorf("%v", own)
	}
}

// A Job sheet in somebody's own workbook says what their headers mean: the list is found by them and read so, and that is told with each name; a workbook of ours, and a list with headers of its own, are read as they are.
func TestOwnHeadersRule(t *testing.T) {
	list := [2]string{"Pumps", "Nothing known|stands here\nTag no|Turns|DE 12|DE 3|Crew's word\nP 1|1480|5|7|x\n"}
	jobs := [2]string{"Job", "Setting|Value\nHeader of Machines: Tag no|Machine\nHeader of Machines: Turns|Speed\nHeader of Machines: DE 12|Movable rim 12 [mil]\nHeader of Machines: DE 3|Movable rim 3 [mil]\n"}
	for _, sheets := range [][][2]string{{list, jobs}, {jobs, list}, {{"Readings", "a\n"}, list, jobs}} {
		j, r, err := Read(bookOfSheets(sheets...), "x.xlsx", nil)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if got := strings.Join(j.Machines.Header, "|"); got != "Machine|Speed|Movable rim 12 [mil]|Movable rim 3 [mil]|Crew's word" || len(j.Machines.Title) != 1 || j.Machines.Cell(0, 2) != "5" {
			t.Errorf("%q %q", got, j.Machines.Rows)
		}
		want := `read as the Job sheet says of their headers: "Tag no" as Machine, "Turns" as Speed, "DE 12" as Movable rim 12 [mil], "DE 3" as Movable rim 3 [mil]`
		if n := notice(&r.Preview, "Pumps", 0, "", "as the Job sheet says"); n == nil || n.Text != want || n.Severity != "note" {
			t.Errorf("%+v, want %s", n, want)
		}
	}
	if _, r, err := Read(bookOfSheets(list), "x.xlsx", nil); err == nil {
		t.Errorf("read by nothing: %+v", r)
	}
	if _, r, err := Read(bookOfSheets([2]string{"Pumps", "Machine|Speed|DE 12\nP 1|1480|5\n"}), "x.xlsx", nil); err != nil || notice(&r.Preview, "Pumps", 0, "", "as the Job sheet says") != nil {
		t.Errorf("%v", err)
	}
}

// Where no sheet has known headers, that is taken whose headers look most like those of machines: at least four of them; nobody's choice is put aside for it, and a sheet of known headers comes first.
func TestTakenByItsLooks(t *testing.T) {
	looks := "Equip no|Revs rpm|M 0|M 90|M 180|M 270|S 0|S 90|S 180|S 270\nP-1|1480|0|0.05|0.12|0.07|0|-0.15|-0.02|0.13\n"
	less := "Equip no|Revs rpm|M 0|M 90\nP-1|1480|0|0.05\n"
	kind := func(c *Choices, sheets ...[2]string) string {
		p, err := new(Reader).open(bookOfSheets(sheets...), "x.xlsx", c)
		if err != nil {
			t.Fatal(err)
		}
		out := ""
		for _, s := range p.preview.Sheets {
			out += s.Name + ": " + s.Kind + ", " + s.Why + "; "
		}
		return out
	}
	none := ""
	for _, c := range []struct {
		choice *Choices
		sheets [][2]string
		want   string
	}{
		{nil, [][2]string{{"A", looks}}, "A: machines, by what its headers look like; "},
		{nil, [][2]string{{"A", less}, {"B", looks}}, "A: , no header row with known names; B: machines, by what its headers look like; "},
		{nil, [][2]string{{"B", looks}, {"A", less}}, "B: machines, by what its headers look like; A: , no header row with known names; "},
		{nil, [][2]string{{"A", looks}, {"B", looks}}, "A: machines, by what its headers look like; B: , no header row with known names; "},
		{nil, [][2]string{{"A", looks}, {"B", "Machine|Speed\nP 1|1480\n"}}, "A: , no header row with known names; B: machines, by its headers; "},
		{nil, [][2]string{{"A", "one|two\n1|2\n"}}, "A: , no header row with known names; "},
		{&Choices{Sheets: []SheetChoice{{Sheet: "A", Kind: &none}}}, [][2]string{{"A", looks}, {"B", looks}}, "A: , kept unread as chosen; B: , no header row with known names; "},
		{&Choices{Sheets: []SheetChoice{{Sheet: "A", HeaderRow: 1}}}, [][2]string{{"A", looks}}, "A: machines, by what its headers look like; "},
	} {
		if got := kind(c.choice, c.sheets...); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

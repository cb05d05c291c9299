package workbook

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// A preview names each column that holds something or has a name, and no other: its letter, what it is understood as, its unit and where that is from, how many cells are filled, and the first three. What is understood needs no guess.
func TestPreviewOfColumns(t *testing.T) {
	cell := func(ref, text string) string {
		if _, ok := parseNumber(text); ok {
			return `<c r="` + ref + `"><v>` + text + `</v></c>`
		}
		return `<c r="` + ref + `" t="inlineStr"><is><t>` + text + `</t></is></c>`
	}
	row := func(n int, cells ...string) string { // letter and text in turns
		s := fmt.Sprintf(`<row r="%d">`, n)
		for i := 0; i < len(cells); i += 2 {
			s += cell(fmt.Sprintf("%s%d", cells[i], n), cells[i+1])
		}
		return s + "</row>"
	}
	x := sheetOpen + `<sheetData>` + row(1, "A", "Spring") + row(3, "A", "Machine", "B", "Speed", "C", "Note", "E", "Offset limit [mil]", "F", "Owner", "G", "Front to rear feet", "H", "Verdict", "I", "Front pack") +
		row(4, "A", "P 1", "B", "1480", "D", "loose", "E", "2", "F", "me", "G", "500", "H", "inside") + row(5, "A", "P 2", "B", "990", "F", "me", "G", "600") + row(6, "A", "P 3", "B", "2970", "F", strings.Repeat("é", 70)) + row(7, "A", "P 4", "B", "740", "F", "you") + `</sheetData></worksheet>`
	p, err := Inspect(bookOf(x), "x.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	s := &p.Sheets[0]
	if s.HeaderRow != 3 || s.Titles != 2 || s.Rows != 4 || s.LastRow != 7 || s.Kind != "machines" {
		t.Errorf("%+v", s)
	}
	got := ""
	for _, c := range s.Columns {
		got += fmt.Sprintf("%d %s %q %s %q %v %s/%s %d %q\n", c.Col, c.Letter, c.Header, c.Key, c.Name, c.Result, c.Unit, c.UnitFrom, c.Filled, c.Sample)
	}
	want := `0 A "Machine" machine "Machine" false / 4 ["P 1" "P 2" "P 3"]
1 B "Speed" speed "Speed" false rpm/job 4 ["1480" "990" "2970"]
2 C "Note" note "Note" false / 0 []
3 D ""  "" false / 1 ["loose"]
4 E "Offset limit [mil]" offset_limit "Offset limit" false mil/header 1 ["2"]
5 F "Owner"  "" false / 4 ["me" "me" "` + strings.Repeat("é", 60) + `…"]
6 G "Front to rear feet" front_to_rear_feet "Front to rear feet" false mm/job 2 ["500" "600"]
7 H "Verdict" verdict "Verdict" true / 1 ["inside"]
8 I "Front pack" front_pack "Front pack" true mm/job 0 []
`
	if got != want {
		t.Errorf("columns\n%s, want\n%s", got, want)
	}
	if n := notice(p, "Machines", 0, "", "columns are kept unread"); n == nil || n.Text != `2 columns are kept unread: D, "Owner"` || n.Severity != "note" {
		t.Errorf("%+v", p.Notices)
	}
	if n := notice(p, "Machines", 0, "", "rows were read"); n == nil || n.Text != "4 rows were read below the header, the last in row 7" {
		t.Errorf("%+v", n)
	}
	guessed := 0
	for _, data := range [][]byte{foreign(t, "openpyxl.xlsx"), foreign(t, "libreoffice.xlsx"), bookOf(x), []byte(strings.Replace(ownWords, "Revs rpm", "Speed", 1))} {
		name := "x.xlsx"
		if data[0] == 'O' {
			name = "x.csv"
		}
		p, err := Inspect(data, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range p.Sheets {
			for _, c := range s.Columns {
				if c.Key != "" && (c.Guess != "" || c.GuessUnit != "" || c.Asked != nil || c.Why != "" || c.Series != 0 || c.Place != "") {
					t.Errorf("%s is known, and guessed: %+v", c.Header, c)
				}
				if c.Guess != "" || c.Asked != nil {
					guessed++
				}
			}
		}
	}
	if guessed == 0 {
		t.Error("nothing was guessed")
	}
}

// Many columns or rows are told by the first of them and how many more; a sheet that says it reaches elsewhere than it does is told so, the more loudly the worse it is.
func TestPreviewCounts(t *testing.T) {
	for _, n := range []int{1, 12, 13, 20} {
		head, cells := "Machine|Speed", "P 1|1480"
		for i := range n {
			head += fmt.Sprintf("|own %d", i)
			cells += "|x"
		}
		p, err := Inspect(bookOfSheets([2]string{"Pumps", head + "\n" + cells + "\n"}), "x.xlsx")
		if err != nil {
			t.Fatal(err)
		}
		want := fmt.Sprintf("%d columns are kept unread: ", n)
		if n == 1 {
			want = "1 column is kept unread: "
		}
		for i := range min(n, 12) {
			if i > 0 {
				want += ", "
			}
			want += fmt.Sprintf("%q", fmt.Sprintf("own %d", i))
		}
		if n > 12 {
			want += fmt.Sprintf(", and %d more", n-12)
		}
		if got := notice(p, "Pumps", 0, "", "kept unread"); got == nil || got.Text != want {
			t.Errorf("%+v, want %q", got, want)
		}
	}
	for n, want := range map[int]string{1: "3", 2: "3, 4", 8: "3, 4, 5, 6, 7, 8, 9, 10", 9: "3, 4, 5, 6, 7, 8, 9, 10 and 1 more", 12: "3, 4, 5, 6, 7, 8, 9, 10 and 4 more"} {
		var rows []int
		for i := range n {
			rows = append(rows, 3+i)
		}
		if got := rowList(rows); got != want {
			t.Errorf("%d rows: %q", n, got)
		}
	}
	for dim, want := range map[string]string{"A1:C5": "", "A1:C4": "warning", "A1:C6": "note", "A1:C55": "note", "A1:C56": "warning", "A1": "", "B2:C900": "warning"} {
		x := strings.Replace(sheetOf(plainRows(4)), "<sheetData>", `<dimension ref="`+dim+`"/><sheetData>`, 1)
		p, err := Inspect(bookOf(x), "x.xlsx")
		if err != nil {
			t.Fatal(err)
		}
		n := notice(p, "Machines", 0, "", "the workbook says the sheet reaches to row")
		if p.Sheets[0].Dimension != dim || (n == nil) != (want == "") {
			t.Errorf("%s: %+v", dim, n)
			continue
		}
		if n != nil && (n.Severity != want || !strings.HasSuffix(n.Text, "; the last row that holds something is 5") || !strings.Contains(n.Text, "row "+dim[4:]+";") || strings.Contains(n.Hint, "lost count") != (dim == "A1:C4")) {
			t.Errorf("%s: %+v, want a %s", dim, n, want)
		}
	}
}

// Numbers whose format shows a word count from the header on: what stands above the list, or beside it, is no cell of it. A cell's format counts where none is named, too: it is the first.
func TestShownUnitsBelowTheHeader(t *testing.T) {
	x := sheetOpen + `<sheetData><row r="1"><c r="C1" s="1"><v>7</v></c></row>` + strings.NewReplacer(`r="1"`, `r="2"`, "A1", "A2", "B1", "B2", "C1", "C2", "Note", "Offset limit").Replace(headerRow) +
		`<row r="3"><c r="A3" t="inlineStr"><is><t>P 1</t></is></c><c r="C3" s="1"><v>3</v></c></row><row r="4"><c r="A4" t="inlineStr"><is><t>P 2</t></is></c><c r="C4" s="1"><v>4</v></c></row></sheetData></worksheet>`
	j, r := mustRead(t, withFormats(x, `0.0" mil"`), "x.xlsx", nil)
	if j.Machines.Cell(0, 2) != "3.0 mil" && j.Machines.Cell(0, 2) != "3 mil" || !strings.HasSuffix(j.Machines.Cell(1, 2), " mil") || len(j.Machines.Title) != 1 || j.Machines.Title[0][2] != "7.0" && j.Machines.Title[0][2] != "7" {
		t.Errorf("%q %q", j.Machines.Title, j.Machines.Rows)
	}
	if n := notice(&r.Preview, "Machines", 3, "Offset limit", `shows "mil" beside the number; it is read as`); n == nil || n.Count != 2 || n.Severity != "note" || !strings.HasSuffix(n.Text, "(the first of 2 such cells of the column)") {
		t.Errorf("%+v", r.Notices)
	}
	sr := &sheetReader{formats: []cellFormat{{class: fmtDecimals + 2, shown: "mil"}, {class: fmtPercent}}}
	g, err := sr.read("p", "S", []byte(sheetOf(`<row r="2"><c r="A2"><v>1.5</v></c><c r="B2" s="0"><v>2</v></c><c r="C2" s="2"><v>3</v></c></row>`)))
	if err != nil || fmt.Sprint(g.shown) != "[{1 0 0} {1 1 0}]" || strings.Join(g.rows[1], "|") != "1.50|2.00|3" {
		t.Errorf("%v %+v", err, g)
	}
	if got := job.FindColumn(job.MachinesSheet, "Offset limit"); got == nil {
		t.Error("no such column")
	}
}

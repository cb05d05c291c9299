package workbook

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// Texts in runs (ECMA-376 Part 1, 18.4.4) are those in t elements: what stands between them for the eye of a reader of XML is none.
func TestRunsOfText(t *testing.T) {
	sr := &sheetReader{}
	g, err := sr.read("p", "S", []byte(sheetOf("<row r=\"2\"><c r=\"A2\" t=\"inlineStr\">\n<is>\n <r>\n  <rPr><b/>\n </rPr><t>pu</t>\n </r>\n <r> <t>mp</t> </r>\n <rPh sb=\"0\"> <t>aid</t> </rPh></is>\n</c></row>")))
	if err != nil || g.rows[1][0] != "pump" {
		t.Errorf("%v %v", g, err)
	}
	for _, code := range []string{"0.00_m", "0.00*m", `0.00_)"" `, "0_i_n"} {
		if _, shown, _ := formatWords(code); shown != "" {
			t.Errorf("%q shows %q", code, shown)
		}
	}
	for _, code := range []string{`0.00" mil"`, `0.00\m\i\l`, "0.00_ \"mil\""} {
		if _, shown, _ := formatWords(code); strings.TrimSpace(shown) != "mil" {
			t.Errorf("%q shows %q", code, shown)
		}
	}
}

// A unit stands in a header's brackets wherever they are, as package job reads it, and an open bracket is none. Seen: behind a header (mil) Movable rim 12 a number whose format shows mm was read in mm, although the two say different things.
func TestUnitsInHeaders(t *testing.T) {
	for h, want := range map[string]units.Unit{"Movable rim 12 [mil]": units.Mil, "(mil) Movable rim 12": units.Mil, "Movable rim (mil) 12": units.Mil, "Movable rim 12 [mil": units.None, "Movable rim 12": units.None, "Movable rim 12 [ell]": units.None, "]mil[": units.None} {
		if u, _, ok := headerUnit(job.MachinesSheet, h, units.Length); u != want || ok != (want != units.None) {
			t.Errorf("%q: %v %v", h, u, ok)
		}
	}
	data := withFormats(listOf([]string{"Machine", "Speed", "Note", "Train", "Method", "Coupling", "(mil) Movable rim 12"}, []string{"P", "", "", "", "", "", "5"}, 1), `0.0" mm"`)
	j, r := mustRead(t, data, "x.xlsx", nil)
	if n := notice(&r.Preview, "Machines", 2, "Movable rim 12", "says another unit"); n == nil || n.Severity != "error" || n.Count != 0 || j.Machines.Cell(0, 6) != "5.0 mm or mil?" {
		t.Errorf("%q %+v", j.Machines.Rows, r.Notices)
	}
}

// Sheets up to the limit are read, one more is not; a workbook without the relations at its top is looked for where they all are; ordinary files are told nothing of headers in somebody's own words.
func TestWorkbooksAtTheLimits(t *testing.T) {
	book := func(n int, top bool) []byte {
		names, rels := "", ""
		parts := []zipPart{{name: "[Content_Types].xml", data: []byte(contentTypes)}}
		if top {
			parts = append(parts, zipPart{name: "_rels/.rels", data: []byte(topRels)})
		}
		for i := range n {
			name := fmt.Sprintf("S%d", i)
			if i == 0 {
				name = "Machines"
			}
			names += fmt.Sprintf(`<sheet name="%s" sheetId="%d" r:id="r%d"/>`, name, i+1, i)
			rels += fmt.Sprintf(`<Relationship Id="r%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/s%d.xml"/>`, i, i)
			rows := ""
			if i == 0 {
				rows = headerRow + plainRows(2)
			}
			parts = append(parts, zipPart{name: fmt.Sprintf("xl/worksheets/s%d.xml", i), data: []byte(sheetOpen + "<sheetData>" + rows + "</sheetData></worksheet>")})
		}
		at := strings.Index(bookXML, "<sheets>")
		parts = append(parts, zipPart{name: "xl/workbook.xml", data: []byte(bookXML[:at] + "<sheets>" + names + "</sheets></workbook>")})
		at = strings.Index(bookRels, "<Relationship Id")
		return zipOf(append(parts, zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels[:at] + rels + "</Relationships>")})...)
	}
	for n, refused := range map[int]string{MaxSheets: "", MaxSheets + 1: fmt.Sprintf("has %d sheets", MaxSheets+1), 0: "no sheets"} {
		j, r, err := Read(book(n, true), "x.xlsx", nil)
		if (err == nil) != (refused == "") || err != nil && !strings.Contains(err.Error(), refused) || err == nil && len(j.Machines.Rows) != 2 {
			t.Errorf("%d sheets: %v", n, err)
		}
		if r != nil && notice(&r.Preview, "Machines", 0, "", "as the Job sheet says") != nil {
			t.Errorf("%+v", r.Notices)
		}
	}
	if j, _, err := Read(book(1, false), "x.xlsx", nil); err != nil || len(j.Machines.Rows) != 2 {
		t.Errorf("without relations at the top: %v", err)
	}
}

// The side of a move is named where there is one: as typed, else by the clock; no move has none.
func TestSidesOfMoves(t *testing.T) {
	for _, c := range []struct {
		three, nine string
		v           float64
		want        string
	}{{"river", "wall", 1, "river"}, {"river", "wall", -1, "wall"}, {"river", "wall", 0, ""}, {"", "", 0.1, "3 o'clock"}, {"", "", -0.1, "9 o'clock"}, {"", "", 0, ""}, {"river", "", -1, "9 o'clock"}, {"", "wall", 1, "3 o'clock"}} {
		if got := side(&evaluate.RowResult{Side3: c.three, Side9: c.nine}, c.v); got != c.want {
			t.Errorf("%+v: %q", c, got)
		}
	}
}

// The sheet Limits used stands in order: couplings, then limit sets, then speeds; each line once, with the source of its set, and where limits were typed it says so.
func TestLimitsUsedInOrder(t *testing.T) {
	m := demoBook(t, "")
	var last []string
	seen := map[string]bool{}
	for _, r := range tableIn(t, m.f, "Limits used", "Coupling", "Limit set") {
		upTo := r.cell["Up to"]
		for len(upTo) < 8 {
			upTo = " " + upTo
		}
		if upTo == "     any" {
			upTo = "~"
		}
		key := []string{r.cell["Coupling"], r.cell["Limit set"], upTo}
		if slices.Compare(last, key) > 0 {
			t.Errorf("%q stands behind %q", key, last)
		}
		last = key
		if all := fmt.Sprint(r.cell); seen[all] {
			t.Errorf("%s twice", all)
		} else {
			seen[all] = true
		}
		if (r.cell["Source"] != "") != (r.cell["Limit set"] != "") {
			t.Errorf("%v", r.cell)
		}
	}
	own := map[string]int{}
	for i := range m.ev.Len() {
		l := m.ev.Row(i).Limits
		switch {
		case l.OwnOffset && l.OwnSlope:
			own["both typed on the row"]++
		case l.OwnOffset:
			own["offset typed on the row"]++
		case l.OwnSlope:
			own["slope typed on the row"]++
		}
	}
	for _, r := range tableIn(t, m.f, "Limits used", "Coupling", "Limit set") {
		if s := r.cell["Own limits"]; s != "" {
			own[s] -= int(r.num(t, "Couplings"))
		}
	}
	for s, n := range own {
		if n != 0 {
			t.Errorf("%s: %d rows more than the sheet counts", s, n)
		}
	}
}

// The sheet Method names two thousand problems and how many more there are.
func TestManyProblemsAreCounted(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header = []string{"Machine", "Speed"}
	for i := range 2003 {
		j.Machines.Rows = append(j.Machines.Rows, []string{fmt.Sprintf("P %d", i), "fast"})
	}
	ev := work(t, j)
	more := len(ev.Problems())
	for i := range ev.Len() {
		for _, p := range ev.Row(i).Problems {
			if p.Severity > job.Note {
				more++
			}
		}
	}
	out, err := Write(j, ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	rows := rawSheet(t, out, "Method")
	told := 0
	for _, r := range rows {
		if len(r) > 0 && (strings.HasPrefix(r[0], "error: ") || strings.HasPrefix(r[0], "warning: ")) {
			told++
		}
	}
	if last := rows[len(rows)-1][0]; told != 2000 || last != fmt.Sprintf("and %d more", more-2000) {
		t.Errorf("%d are told, then %q; there are %d", told, last, more)
	}
}

// A column that was named on the page with its unit behind the name, without brackets, goes out in that unit. Seen: the formulas took such a cell in the job's unit, and the header showed that unit behind its own.
func TestLooseUnitGoesOut(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header = []string{"Machine", "Speed", "Coupling", "Method", "Coupling to stationary plane", "Coupling to movable plane", "Coupling to front feet in", "Front to rear feet", "Movable rim 12 mil", "Movable rim 3 mil", "Movable rim 6 mil", "Movable rim 9 mil",
		"Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9"}
	j.Machines.Rows = [][]string{{"P 1", "1480", "short", "reverse indicator", "80", "80", "10", "500", "0", "2", "4", "2", "0", "-0.02", "-0.04", "-0.02"}}
	parts := ""
	for _, p := range partsOf(t, write(t, j, Options{Live: true})) {
		parts += string(p)
	}
	if !strings.Contains(parts, "Machines!I2*0.0254") {
		t.Error("no formula takes the cell in mil")
	}
	if n := strings.Count(parts, `formatCode="@&#34; [mm]&#34;"`); n != 1 || strings.Contains(parts, "[mil]") {
		t.Errorf("%d formats of headers in mm", n)
	}
}

package workbook

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// changed is what State says of a row whose values no longer belong to its inputs.
const changed = "changed since the calculation: verdict, ±, chance and packs no longer belong to these inputs"

// withPartsOf is a workbook in which the sheets of that name are those of another one, as if somebody had typed there.
func withPartsOf(t *testing.T, data, other []byte, names ...string) []byte {
	t.Helper()
	open := func(data []byte) (*archive, *workbookPart) {
		a, err := new(Reader).openArchive(data)
		if err != nil {
			t.Fatal(err)
		}
		w, err := a.workbook()
		if err != nil {
			t.Fatal(err)
		}
		return a, w
	}
	a, wa := open(data)
	b, wb := open(other)
	take := map[string]string{}
	for _, s := range wa.sheets {
		for _, o := range wb.sheets {
			if s.name == o.name && slices.Contains(names, s.name) {
				take[s.part] = o.part
			}
		}
	}
	var parts []zipPart
	for _, f := range a.order {
		p, err := a.part(f.Name)
		if to := take[f.Name]; to != "" {
			p, err = b.part(to)
		}
		if err != nil {
			t.Fatal(err)
		}
		parts = append(parts, zipPart{name: f.Name, data: p})
	}
	return zipOf(parts...)
}

// states are the State of the formulas and the name of each coupling of a Results sheet.
func states(rows [][]string) map[string]string {
	out := map[string]string{}
	col := -1
	for _, row := range rows {
		if at := slices.Index(row, "State of the formulas"); len(row) > 0 && row[0] == "Machine" && at > 0 {
			col = at
		} else if col > 0 && col < len(row) && row[0] != "" {
			out[row[0]] = row[col]
		}
	}
	return out
}

// A speed changed from 990 to 3570 in LibreOffice once left "inside" and a State that said nothing: the limit hangs on it, and it stood in no formula.
// Every input that a verdict hangs on is watched, and what is unchanged is not said to have changed.
func TestLibreOfficeStates(t *testing.T) {
	// What is typed on one row each: the State of that row tells, and no other.
	rows := []struct{ key, before, after string }{{"speed", "990", "3570"}, {"coupling", "", "spacer"}, {"offset_limit", "", "0.02"}, {"coupling_to_movable_plane", "4 1/2 in", "4 1/4 in"},
		{"movable_rim_12", "0.00", ""}, {"movable_sag_6", "", "-0.05"}, {"note", "", "seen"}}
	whole := func(changed bool) *job.Job {
		j := demoJob(t)
		for i, c := range rows {
			cell := &j.Machines.Rows[i][column(t, j.Machines, job.MachinesSheet, c.key)]
			if c.before != "" {
				*cell = c.before
			}
			if changed {
				*cell = c.after
			}
		}
		return j
	}
	data := write(t, whole(false), Options{Live: true})
	ours := states(rawSheet(t, data, "Results"))
	if n := len(ours); n != 26 {
		t.Fatalf("%d states", n)
	}
	files := map[string][]byte{"rows": withPartsOf(t, data, write(t, whole(true), Options{Live: true}), "Machines")}
	for what, kind := range map[string]job.SheetKind{"header": job.MachinesSheet, "job": job.SettingsSheet, "stock": job.StockSheet} { // all rows hang on these
		j := whole(false)
		switch what {
		case "header":
			j.Machines.Header[column(t, j.Machines, kind, "speed")] = "Speed [Hz]"
		case "job":
			for r, row := range j.Settings.Rows {
				if info := job.FindColumn(kind, row[0]); info != nil && info.Key == "units" {
					j.Settings.Rows[r][1] = "inch"
				}
			}
		case "stock":
			j.Stock.Rows[0][column(t, j.Stock, kind, "thickness")] = "0.33"
		}
		files[what] = withPartsOf(t, data, write(t, j, Options{Live: true}), kind.String())
	}
	in := map[string][]byte{}
	for what, data := range files {
		in[what+".xlsx"] = data
	}
	//evidence: calc=workbook formulas grade=independent count=4 source=LibreOffice Calc (Debian): inputs changed one by one, the State of every coupling of the demo worked out anew
	got := office(t, "xlsx:Calc MS Excel 2007 XML", in)
	for what := range files {
		theirs := states(rawSheet(t, got[what+".xlsx"], "Results"))
		want := maps.Clone(ours)
		base := whole(false)
		for n := range want {
			if what != "rows" {
				want[n] = changed
			}
		}
		for i, c := range rows {
			if what == "rows" && c.key != "note" {
				want[base.Machines.Cell(i, 0)] = changed
			}
		}
		for n := range want {
			if theirs[n] != want[n] {
				t.Errorf("%s: %s: State is %q, want %q", what, n, theirs[n], want[n])
			}
		}
	}
}

// column is where a column of a table stands.
func column(t *testing.T, tab *job.Table, kind job.SheetKind, key string) int {
	t.Helper()
	for c, h := range tab.Header {
		if info := job.FindColumn(kind, h); info != nil && info.Key == key {
			return c
		}
	}
	t.Fatalf("no column %s", key)
	return -1
}

// A file of a byte more than 48 MB was once told as "the file has 48 MB; files up to 48 MB are read".
func TestTooLargeIsSaid(t *testing.T) {
	for n, want := range map[int]string{MaxFile + 1: "the file has 50331649 bytes, 1 more than 48 MB; files up to 48 MB are read", MaxFile + 1<<20: "the file has 49.0 MB; files up to 48 MB are read"} {
		if got := tooLarge(n).Error(); got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}

// A text is held against what it was whole, in pieces of at most 250 signs, which is what a formula can hold; above a thousand signs, and where programs do not agree on a sign, it is only asked whether some text is still there.
func TestTextsAreWatched(t *testing.T) {
	for _, c := range []struct {
		s    string
		want []string
	}{
		{"P 1", []string{`EXACT(A1,"P 1")`}}, {`2"`, []string{`EXACT(A1,"2""")`}}, {"é\ufffd", []string{"EXACT(A1,\"é\ufffd\")"}}, {"", []string{`EXACT(A1,"")`}},
		{"a\nb", []string{"LEN(A1)>0"}}, {"a\x1fb", []string{"LEN(A1)>0"}}, {"a\ufffeb", []string{"LEN(A1)>0"}}, {"a\uffffb", []string{"LEN(A1)>0"}}, {"😀", []string{"LEN(A1)>0"}}, {"a\U00010000", []string{"LEN(A1)>0"}}, {" ", []string{`EXACT(A1," ")`}},
		{strings.Repeat("x", 250), []string{`EXACT(A1,"` + strings.Repeat("x", 250) + `")`}},
		{strings.Repeat("é", 250) + "z", []string{"LEN(A1)=251", `EXACT(MID(A1,1,250),"` + strings.Repeat("é", 250) + `")`, `EXACT(MID(A1,251,250),"z")`}},
		{strings.Repeat("x", 500), []string{"LEN(A1)=500", `EXACT(MID(A1,1,250),"` + strings.Repeat("x", 250) + `")`, `EXACT(MID(A1,251,250),"` + strings.Repeat("x", 250) + `")`}},
		{strings.Repeat("x", 1001), []string{"LEN(A1)>0"}},
	} {
		if got := isText("A1", c.s); !slices.Equal(got, c.want) {
			t.Errorf("%.20q: %.300q", c.s, got)
		}
	}
	if got := isText("A1", strings.Repeat("x", 1000)); len(got) != 5 || got[0] != "LEN(A1)=1000" {
		t.Errorf("%.100q", got)
	}
	for x, want := range map[float64]string{0: `A1&""="0"`, 1.5: "A1=1.5", -2: "A1=(-2)", 1e-7: "A1=1E-07"} {
		if got := isNumber("A1", x); got != want {
			t.Errorf("%g: %s", x, got)
		}
	}
	// Many conditions are parted into several formulas, none lost: two hundred in one, and no more than six thousand signs.
	for _, c := range []struct{ n, size, parts int }{{0, 5, 0}, {1, 5, 1}, {200, 5, 1}, {201, 5, 2}, {400, 5, 2}, {60, 99, 1}, {61, 99, 2}, {3, 2990, 2}, {2, 5999, 2}} {
		var conds []condition
		for i := range c.n {
			conds = append(conds, fmt.Sprintf("%0*d", c.size, i))
		}
		got := all(conds)
		if len(got) != c.parts {
			t.Errorf("%d of %d signs: %d formulas, want %d", c.n, c.size, len(got), c.parts)
		}
		var back []string
		for _, f := range got {
			in, ok := strings.CutPrefix(strings.TrimSuffix(f, ")"), "AND(")
			if !ok {
				t.Errorf("%.40s", f)
			}
			back = append(back, strings.Split(in, ",")...)
		}
		if !slices.Equal(back, conds) {
			t.Errorf("%d of %d signs: %d are left", c.n, c.size, len(back))
		}
	}
}

package workbook

import (
	"bytes"
	"context"
	"encoding/csv"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/sheet"
)

// Every result that the list of results has for some machine of the demo stands in the workbook too, under the same name, and where it is words in the same words. Seen: the column State was empty for every machine, signed or not, since the column of that name that tells of formulas took its place.
func TestResultsSheetSaysWhatTheListSays(t *testing.T) {
	f, _, j := demoBook(t, "")
	ev := sheet.NewEvaluator(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	if _, err := ev.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := ev.ResultsCSV(&b); err != nil {
		t.Fatal(err)
	}
	read := csv.NewReader(strings.NewReader(b.String()))
	read.FieldsPerRecord = -1
	all, err := read.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	for all[at][0] != "Machine" {
		at++
	}
	head, machines := all[at], all[at+1:]
	byName := map[string][]string{}
	for _, m := range machines {
		if m[0] != "" {
			byName[m[0]] = m
		}
	}
	rows := tableIn(t, f, "Results", "Machine", "Verdict")
	if len(rows) < 20 {
		t.Fatalf("%d rows of results", len(rows))
	}
	// A name that the workbook words otherwise, with its reason.
	also := map[string]string{"Wanted readings": "", "Balance": "", "Closure": ""}
	words, columns := 0, 0
	for _, c := range sheet.ResultColumns() {
		k := -1
		for i, h := range head {
			if name, _, _ := strings.Cut(h, " ["); name == c.Name && i >= len(j.Machines.Header) {
				k = i
			}
		}
		if k < 0 {
			continue
		}
		filled := ""
		for _, m := range machines {
			if len(m) > k && m[k] != "" {
				filled = m[0]
			}
		}
		if _, ok := rows[0].cell[c.Name]; !ok {
			if _, other := also[c.Name]; filled != "" && !other {
				t.Errorf("%s of %s is in the list and not in the workbook", c.Name, filled)
			}
			continue
		}
		columns++
		for i := range rows {
			r := &rows[i]
			m := byName[r.cell["Machine"]]
			if m == nil || len(m) <= k {
				continue
			}
			got, want := r.cell[c.Name], strings.TrimPrefix(m[k], "'")
			if _, err := strconv.ParseFloat(want, 64); err == nil {
				continue // TestCellsAgainstJSON
			}
			if got != want {
				t.Errorf("%s, %s: %q, in the list %q", m[0], c.Name, got, want)
			}
			if want != "" {
				words++
			}
		}
	}
	// Each ± of the list has its column: "± X", or "±" right behind X.
	all, err = f.GetRows("Results")
	if err != nil {
		t.Fatal(err)
	}
	pm := map[string]bool{}
	for _, row := range all {
		if len(row) < 2 || row[0] != "Machine" {
			continue
		}
		for k, h := range row {
			name, _, _ := strings.Cut(h, " [")
			if name == "±" {
				before, _, _ := strings.Cut(row[k-1], " [")
				name = "± " + before
			}
			pm[name] = true
		}
	}
	for i, h := range head {
		name, _, _ := strings.Cut(h, " [")
		if strings.HasPrefix(name, "± ") && !pm[name] && i >= len(j.Machines.Header) {
			for _, m := range machines {
				if len(m) > i && m[i] != "" {
					t.Errorf("%s of %s is in the list and not in the workbook", name, m[0])
					break
				}
			}
		}
	}
	if words < 150 || columns < 35 {
		t.Errorf("%d words in %d columns were compared", words, columns)
	}
}

// In a workbook with formulas the lines after the moves of a train follow from the shims and moves above them, for every coupling of the demo.
func TestMovesAreFormulas(t *testing.T) {
	_, _, j := demoBook(t, "")
	ev := sheet.NewEvaluator(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	out, err := Write(j, ev, Options{Live: true})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, r := range tableIn(t, f, "Moves", "Train", "Coupling of") {
		if r.cell["State"] != "formulas" {
			t.Errorf("%s: %s", r.cell["Coupling of"], r.cell["State"])
		}
		for col := 'A'; col <= 'Z'; col++ {
			if s, _ := f.GetCellFormula("Moves", string(col)+strconv.Itoa(r.n)); s != "" {
				n++
			}
		}
	}
	if n != 8 {
		t.Errorf("%d formulas for two couplings", n)
	}
}

// What XML cannot hold goes into a cell in the notation of the format (ECMA-376 Part 1, 22.4.2.4, _xHHHH_), each such character, and comes back as it was; a text that looks like the notation does too.
func TestCharactersOutsideXML(t *testing.T) {
	for _, s := range []string{"a\ufffeb", "a\uffffb", "\ufffe", "\x01", "a\x0bb", "a\x1fb", "_x0041_", "_xFFFE_", "_x00g1_", "a\tb", "a_x", "\U0010fffd"} {
		text, ok := appendXMLText(nil, s)
		if !ok {
			t.Errorf("%q is no text", s)
			continue
		}
		for _, r := range string(text) {
			if r == 0xfffe || r == 0xffff || r < ' ' && r != '\t' && r != '\n' && r != '\r' {
				t.Errorf("%q goes out as %q, which is no XML", s, text)
			}
		}
		j := sheet.NewJob()
		table, _, err := sheet.ReadDelimited("Machines", []byte("Machine\tNote\nP 1\tx\n"), '\t')
		if err != nil {
			t.Fatal(err)
		}
		table.SplitHeader(sheet.MachinesSheet)
		table.Rows[0][1] = "n " + s + " n"
		j.SetTable(sheet.MachinesSheet, table)
		out, err := Write(j, sheet.NewEvaluator(j), Options{})
		if err != nil {
			t.Fatal(err)
		}
		back, _, err := Read(out, "x.xlsx", nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := back.Machines.Cell(0, 1); got != "n "+s+" n" && !(s == "a\tb") {
			t.Errorf("%q comes back as %q", s, got)
		}
	}
}

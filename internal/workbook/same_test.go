package workbook

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

// Every result that the list of results has for some machine of the demo stands in the workbook too, under the same name, and where it is words in the same words. Seen: the column State was empty for every machine, signed or not, since the column of that name that tells of formulas took its place.
func TestResultsSheetSaysWhatTheListSays(t *testing.T) {
	m := demoBook(t, "")
	f, j, ev := m.f, m.j, m.ev
	var b bytes.Buffer
	if err := results.WriteCSV(&b, ev); err != nil {
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
	for _, c := range job.ResultColumns() {
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

// What XML cannot hold goes into a cell in the notation of the format (ECMA-376 Part 1, 22.4.2.4, _xHHHH_), each such character, and comes back as it was; a text that looks like the notation does too.
func TestCharactersOutsideXML(t *testing.T) {
	list := []string{"a\ufffeb", "a\uffffb", "\ufffe", "\x01", "a\x0bb", "a\x1fb", "_x0041_", "_xFFFE_", "_x00g1_", "a_x", "\U0010fffd"}
	table, _, err := job.ReadDelimited("Machines", []byte("Machine\tNote\n"+strings.Repeat("P\tx\n", len(list))), '\t')
	if err != nil {
		t.Fatal(err)
	}
	table.SplitHeader(job.MachinesSheet)
	for k, s := range list {
		text, ok := appendXMLText(nil, s)
		if !ok {
			t.Errorf("%q is no text", s)
		}
		for _, r := range string(text) {
			if r == 0xfffe || r == 0xffff || r < ' ' && r != '\t' && r != '\n' && r != '\r' {
				t.Errorf("%q goes out as %q, which is no XML", s, text)
			}
		}
		table.Rows[k][1] = "n " + s + " n"
	}
	j := job.NewJob()
	j.SetTable(job.MachinesSheet, table)
	out, err := Write(j, sentences.New(j), Options{})
	if err != nil {
		t.Fatal(err)
	}
	back, _, err := Read(out, "x.xlsx", nil)
	if err != nil {
		t.Fatal(err)
	}
	for k, s := range list {
		if got := back.Machines.Cell(k, 1); got != "n "+s+" n" {
			t.Errorf("%q comes back as %q", s, got)
		}
	}
}

// worksFormulasOut says whether the library that this run is built with still has its formula engine: the page's copy has not.
func worksFormulasOut(t *testing.T) bool {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetCellFormula("Sheet1", "A1", "SQRT(4)"); err != nil {
		t.Fatal(err)
	}
	v, err := f.CalcCellValue("Sheet1", "A1")
	return err == nil && v == "2"
}

// Every formula of a workbook with formulas, worked out by another program's engine (excelize), gives the number of that name in JSON, in metric and in inch, for every method of reading and every kind of
// coupling; and where the formulas stand the row says "formulas".
func TestFormulasGiveJSON(t *testing.T) {
	if !worksFormulasOut(t) {
		t.Skip("this copy of the library is cut down for the page and works no formula out; the stock library's run asks this")
	}
	factor := map[string]float64{"mm": 1, "in": 25.4, "mil": 0.0254, "mm/m": 1, "mil/in": 1, "%": 1}
	for _, units := range []string{"metric", "inch"} {
		j, ev := cellsJob(t, units)
		out, err := Write(j, ev, Options{Live: true})
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		by := machinesOf(t, ev)
		rows, err := f.GetRows("Results")
		if err != nil {
			t.Fatal(err)
		}
		var head []string
		compared, formulas := 0, 0
		for n, row := range rows {
			if len(row) > 0 && row[0] == "Machine" {
				head = row
			}
			if head == nil || len(row) == 0 || by[row[0]] == nil {
				continue
			}
			m := by[row[0]]
			state := -1
			missing := map[string]bool{}
			for _, name := range []string{"Offset V", "Offset H", "Offset total", "Slope V", "Slope H", "Slope total", "Share of limit", "Front shim", "Rear shim", "Front move", "Rear move", "Wanted offset V", "Wanted offset H", "Wanted slope V", "Wanted slope H"} {
				key := jsonNames(name)
				for _, k := range key {
					if _, ok := m[k].(float64); ok { // what there is of these follows a formula
						missing[name] = true
					}
				}
			}
			for c, h := range head {
				if h == "State of the formulas" {
					state = c
				}
				name, unit, _ := strings.Cut(strings.TrimSuffix(h, "]"), " [")
				at := cellName(c, n+1)
				if s, _ := f.GetCellFormula("Results", at); s == "" {
					continue
				}
				formulas++
				delete(missing, name)
				got, err := f.CalcCellValue("Results", at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Errorf("%s of %s: %v", h, row[0], err)
					continue
				}
				for _, key := range jsonNames(name) {
					want, ok := m[key].(float64)
					if !ok || factor[unit] == 0 {
						continue
					}
					v, err := strconv.ParseFloat(got, 64)
					if err != nil || math.Abs(v-want/factor[unit]) > 1e-9*max(1, math.Abs(v)) {
						t.Errorf("%s, %s of %s: the formula gives %s, JSON has %g", units, h, row[0], got, want/factor[unit])
					}
					compared++
				}
			}
			if len(missing) > 0 && row[0] != "flange" {
				t.Errorf("%s, %s: no formulas for %v", units, row[0], missing)
			}
			if row[0] != "no line" && (state < 0 || state >= len(row) || !strings.HasPrefix(row[state], "formulas")) {
				t.Errorf("%s: state %d of %q", row[0], state, row)
			}
		}
		if compared < 40 || formulas < 60 {
			t.Errorf("%s: %d formulas, %d compared", units, formulas, compared)
		}
	}
}

// Every cell of every sheet that was typed stands in the workbook as it was typed, a number as that number: Feet, Rounds, Record, Checks, Growth, Trains, Stock, Limits, Materials, Readings and Machines alike.
func TestInputSheetsAsTyped(t *testing.T) {
	m := demoBook(t, "")
	kinds := 0
	for _, k := range job.SheetKinds() {
		table := m.j.Table(k)
		if k == job.SettingsSheet || table == nil || len(table.Rows) == 0 {
			continue
		}
		kinds++
		rows, err := m.f.GetRows(k.String(), excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) < len(table.Title)+1+len(table.Rows) {
			t.Errorf("%s: %d rows of %d", k, len(rows), len(table.Rows))
			continue
		}
		for i := range table.Rows {
			for c := range table.Header {
				typed, got := strings.TrimSpace(table.Cell(i, c)), ""
				if row := rows[len(table.Title)+1+i]; c < len(row) {
					got = row[c]
				}
				if typed == got {
					continue
				}
				a, errA := strconv.ParseFloat(typed, 64)
				b, errB := strconv.ParseFloat(got, 64)
				if errA != nil || errB != nil || a != b {
					t.Errorf("%s row %d, %s: %q, typed %q", k, i+1, table.Header[c], got, typed)
				}
			}
		}
	}
	if kinds < 10 {
		t.Errorf("%d sheets", kinds)
	}
}

// Names that a workbook defines lead to the column they name, over all of its rows and no other, in the unit that stands in the name; each once.
func TestDefinedNames(t *testing.T) {
	for _, units := range []string{"metric", "inch"} {
		j, ev := cellsJob(t, units)
		out, err := Write(j, ev, Options{Live: true})
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		heads := map[string]string{"Limit_offset_mm": "Offset limit [mm]", "Limit_slope_mm_per_m": "Slope limit [mm/m]", "Station_first_mm": "Station of the first plane [mm]", "Station_second_mm": "Station of the second plane [mm]",
			"Station_front_feet_mm": "Station of the front feet [mm]", "Station_rear_feet_mm": "Station of the rear feet [mm]", "Spacer_length_mm": "Spacer length [mm]"}
		seen := map[string]bool{}
		for _, n := range f.GetDefinedName() {
			if strings.HasPrefix(n.Name, "_xlnm") || strings.HasPrefix(n.Name, "Shimsheet_") { // what is printed, and our own marks
				continue
			}
			name, ref, ok := strings.Cut(n.RefersTo, "!")
			from, to, ok2 := strings.Cut(strings.ReplaceAll(ref, "$", ""), ":")
			if !ok || !ok2 {
				continue
			}
			name = strings.Trim(name, "'")
			c1, r1, err1 := excelize.CellNameToCoordinates(from)
			c2, r2, err2 := excelize.CellNameToCoordinates(to)
			if err1 != nil || err2 != nil || c1 != c2 {
				t.Errorf("%s: %s is %s", units, n.Name, n.RefersTo)
				continue
			}
			if seen[n.Name] {
				t.Errorf("%s twice", n.Name)
			}
			seen[n.Name] = true
			rows, err := f.GetRows(name)
			if err != nil || r1 < 2 || r2 > len(rows) {
				t.Errorf("%s: %s is %s of %d rows", units, n.Name, n.RefersTo, len(rows))
				continue
			}
			head := rows[r1-2][c1-1]
			if first, last := rows[r1-1][0], rows[r2-1][0]; first != "short" || last != "no line" {
				t.Errorf("%s: %s goes from %q to %q", units, n.Name, first, last)
			}
			if key, ok := strings.CutPrefix(n.Name, "Machines_"); ok {
				if info := job.FindColumn(job.MachinesSheet, head); info == nil || info.Key != key {
					t.Errorf("%s: %s leads to %q", units, n.Name, head)
				}
				continue
			}
			if want := heads[n.Name]; want != head {
				t.Errorf("%s: %s leads to %q, want %q", units, n.Name, head, want)
			}
			delete(heads, n.Name)
		}
		if len(heads) > 0 || !seen["Machines_coupling_to_front_feet"] || !seen["Machines_coupling_to_movable_plane"] {
			t.Errorf("%s: no name for %v; there are %v", units, heads, seen)
		}
	}
}

// Writing tells how far it is as reading does: never less than before, and 1 at the end.
func TestWriteProgress(t *testing.T) {
	j, ev := cellsJob(t, "metric")
	last, n := 0.0, 0
	if _, err := Write(j, ev, Options{Progress: func(done float64) {
		if done < last || done > 1 {
			t.Errorf("%g behind %g", done, last)
		}
		last, n = done, n+1
	}}); err != nil || last != 1 || n < 3 {
		t.Errorf("%v: %d told, the last %g", err, n, last)
	}
}

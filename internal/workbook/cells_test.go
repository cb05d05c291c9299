package workbook

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// cellsJob has a row of each kind of coupling and mounting, with numbers that no two columns share.
func cellsJob(t testing.TB, units string) (*job.Job, *sentences.Teller) {
	t.Helper()
	head := "Machine,Coupling,Mounting,Method,Speed,Spacer length [mm],Coupling to flange [mm],Bolt circle [mm],Bolts,Coupling to stationary plane [mm],Coupling to movable plane [mm],Coupling to front feet [mm],Front to rear feet [mm]," +
		"Movable rim 12 [mm],Movable rim 3 [mm],Movable rim 6 [mm],Movable rim 9 [mm],Stationary rim 12 [mm],Stationary rim 3 [mm],Stationary rim 6 [mm],Stationary rim 9 [mm],Running offset V [mm],Running slope H [mm/m],Shaft gap [mm],Gap wanted [mm]\n"
	rims, far := "0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01", "0,0.33,0.52,0.19,0,-0.25,-0.36,-0.11"
	text := head + "short,short,,reverse indicator,1480,,,,,100,140,300,500," + rims + ",0.02,0.1,3.2,3\n" +
		"spacer,spacer,,reverse indicator,1480,400,,,,260,310,600,700," + far + ",0.03,-0.07,,\n" +
		"turned spacer,spacer,,reverse indicator,980,300,,,,210,190,520,640," + rims + ",,,,\n" +
		"universal,universal,,reverse indicator,980,700,,,,200,150,420,800," + far + ",,,,\n" +
		"flange,short,vertical flange,reverse indicator,1480,,180,500,8,110,90,,," + far + ",0.01,,,\n" +
		"no line,short,,reverse indicator,1480,,,,,100,140,300,500,,,,,,,,,,,,\n"
	j := job.NewJob()
	for k, s := range map[job.SheetKind]string{job.MachinesSheet: text, job.SettingsSheet: "Name,Value\nUnits," + units + "\n"} {
		table, _, err := job.ReadDelimited(k.String(), []byte(s), 0)
		if err != nil {
			t.Fatal(err)
		}
		table.SplitHeader(k)
		j.SetTable(k, table)
	}
	ev := sentences.New(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return j, ev
}

// jsonNames are the names that a column of the Results sheet may have in JSON, by its header without ± and unit; nil: it is none of those that are compared.
func jsonNames(name string) []string {
	if k := map[string]string{"Wanted offset V": "wanted_offset_v_mm", "Wanted offset H": "wanted_offset_h_mm", "Wanted slope V": "wanted_slope_v", "Wanted slope H": "wanted_slope_h",
		"Offset limit": "limits.offset_mm", "Slope limit": "limits.slope"}[name]; k != "" {
		return []string{k}
	}
	for _, c := range job.ResultColumns() {
		if c.Name == name && !strings.HasSuffix(c.Key, "_pack") {
			return []string{c.Key + "_mm", c.Key, c.Key + "_pct"}
		}
	}
	return nil
}

// Every number in the Results sheet, and every ±, is the one of that name in JSON, in the unit its header names: to the last bits, since the cell holds the number and only
// shows fewer digits.
func TestCellsAgainstJSON(t *testing.T) {
	factor := map[string]float64{"mm": 1, "in": 25.4, "mil": 0.0254, "mm/m": 1, "mil/in": 1, "%": 1}
	for _, units := range []string{"metric", "inch"} {
		for _, live := range []bool{false, true} {
			j, ev := cellsJob(t, units)
			out, err := Write(j, ev, Options{Live: live})
			if err != nil {
				t.Fatal(err)
			}
			f, err := excelize.OpenReader(bytes.NewReader(out))
			if err != nil {
				t.Fatal(err)
			}
			rows, err := f.GetRows("Results", excelize.Options{RawCellValue: true})
			if err != nil {
				t.Fatal(err)
			}
			by := machinesOf(t, ev)
			var head []string
			compared, pms, seen := 0, 0, map[string]bool{}
			for _, row := range rows {
				if len(row) > 0 && row[0] == "Machine" {
					head = row
					continue
				}
				if head == nil || len(row) == 0 || by[row[0]] == nil {
					continue
				}
				m := by[row[0]]
				last := "" // ± alone stands behind its number
				for c, h := range head {
					name, unit, ok := strings.Cut(h, " [")
					pm := strings.HasPrefix(h, "±")
					name = strings.TrimPrefix(name, "± ")
					if name == "±" {
						name = last
					}
					last = name
					if !ok {
						continue
					}
					keys := jsonNames(name)
					if unit = strings.TrimSuffix(unit, "]"); len(keys) == 0 {
						if live || strings.HasSuffix(name, " pack") {
							continue // a step of the formulas; words
						}
						t.Fatalf("%s: what is that in JSON?", h)
					}
					if factor[unit] == 0 {
						t.Fatalf("%s: in what unit is that?", h)
					}
					var want any
					ok = false
					for _, key := range keys {
						from := m
						if k, is := strings.CutPrefix(key, "limits."); is {
							from, key = m["limits"].(map[string]any), k
						}
						if pm {
							key = "u_" + key
						}
						if v, is := from[key]; is {
							want, ok = v, true
						}
					}
					cell := ""
					if c < len(row) {
						cell = row[c]
					}
					if !ok { // words, such as the balance of each sweep
						if _, err := strconv.ParseFloat(cell, 64); err == nil {
							t.Errorf("%s, %s: %s, and JSON has none of %q", row[0], h, cell, keys)
						}
						continue
					}
					if _, is := want.([]any); is {
						continue // one a pair of feet, in words
					}
					if want == nil {
						if cell != "" {
							t.Errorf("%s, %s: %q where JSON has none", row[0], h, cell)
						}
						continue
					}
					got, err := strconv.ParseFloat(cell, 64)
					if w := want.(float64) / factor[unit]; err != nil || math.Abs(got-w) > 1e-12*math.Max(1, math.Abs(w)) {
						t.Errorf("%s, live %v: %s, %s: %q, JSON has %v", units, live, row[0], h, cell, w)
					}
					compared++
					seen[h] = true
					if pm {
						pms++
					}
				}
				if row[1] != m["verdict"] {
					t.Errorf("%s: %q, JSON has %q", row[0], row[1], m["verdict"])
				}
			}
			if compared < 120 || pms < 40 || len(seen) < 35 {
				t.Errorf("%s: only %d numbers and %d ± in %d columns were compared", units, compared, pms, len(seen))
			}
			checkLists(t, f, ev)
		}
	}
}

// checkLists counts the order list of a workbook from its pick list: every piece that goes in, and every coupling that takes one.
func checkLists(t *testing.T, f *excelize.File, ev *sentences.Teller) {
	t.Helper()
	picks, err := f.GetRows("Pick list")
	if err != nil {
		t.Fatal(err)
	}
	pieces, who := map[string]int{}, map[string]map[string]bool{}
	rows := 0
	for _, row := range picks {
		if len(row) < 6 || row[0] == "Machine" || row[5] == "" {
			continue
		}
		rows++
		for _, p := range strings.Split(row[5], " + ") {
			v, err := strconv.ParseFloat(p, 64)
			if err != nil {
				t.Fatalf("%q in the pick list", row[5])
			}
			k := fmt.Sprintf("%g", v)
			if who[k] == nil {
				who[k] = map[string]bool{}
			}
			pieces[k]++
			who[k][row[0]] = true
		}
	}
	orders, err := f.GetRows("Order list", excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	total, counted := 0, 0
	for _, row := range orders {
		if len(row) > 5 && row[0] != "All" {
			v, err := strconv.ParseFloat(row[0], 64)
			if err != nil {
				continue
			}
			k := fmt.Sprintf("%g", v)
			n, _ := strconv.Atoi(row[1])
			couplings, _ := strconv.Atoi(row[5])
			if n != pieces[k] || couplings != len(who[k]) {
				t.Errorf("order list: %d pieces of %s for %d couplings; the pick list has %d for %d", n, k, couplings, pieces[k], len(who[k]))
			}
			total += n
			counted++
			delete(pieces, k)
		}
		if len(row) > 1 && row[0] == "All" {
			if n, _ := strconv.Atoi(row[1]); n != total || n == 0 {
				t.Errorf("order list: all are %d, the lines have %d", n, total)
			}
		}
	}
	if len(pieces) > 0 || counted < 3 || rows < 4 {
		t.Errorf("%v are in the pick list and not in the order list of %d lines; %d feet take pieces", pieces, counted, rows)
	}
}

// A text that can be read as two numbers goes out as a text and comes back as the same, and is refused as a reading either way. As a number cell it would be one of the two.
func TestAmbiguousStaysText(t *testing.T) {
	for _, typed := range []string{"1,234", "12,345", "-1,234", "1.234,5", "0,35", "1,234.5"} {
		j := job.NewJob()
		table, _, err := job.ReadDelimited("Machines", []byte("Machine\tMethod\tSpeed\tCoupling to front feet\tFront to rear feet\tGiven offset V\tGiven offset H\tGiven slope V\tGiven slope H\nP\tline\t1480\t300\t500\t"+typed+"\t0\t0\t0\n"), '\t')
		if err != nil {
			t.Fatal(err)
		}
		table.SplitHeader(job.MachinesSheet)
		j.SetTable(job.MachinesSheet, table)
		ev := sentences.New(j)
		out, err := Write(j, ev, Options{})
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		found := false
		rows, _ := f.GetRows("Machines", excelize.Options{RawCellValue: true})
		for r, row := range rows {
			for c, s := range row {
				if s == typed {
					at, _ := excelize.CoordinatesToCellName(c+1, r+1)
					kind, _ := f.GetCellType("Machines", at)
					found = kind == excelize.CellTypeSharedString || kind == excelize.CellTypeInlineString
				}
			}
		}
		if !found {
			t.Errorf("%q does not go out as a text: %q", typed, rows)
		}
		back, _, err := Read(out, "x.xlsx", nil)
		if err != nil {
			t.Fatal(err)
		}
		two := sentences.New(back)
		a, b := ev.Row(0), two.Row(0)
		if a.Verdict != b.Verdict || math.Float64bits(a.Offset.V) != math.Float64bits(b.Offset.V) && !(math.IsNaN(a.Offset.V) && math.IsNaN(b.Offset.V)) {
			t.Errorf("%q: %v with %g before, %v with %g from the workbook", typed, a.Verdict, a.Offset.V, b.Verdict, b.Offset.V)
		}
		if strings.Count(typed, ",") == 1 && len(typed)-strings.Index(typed, ",") == 4 && a.HasLine() {
			t.Errorf("%q is read as %g", typed, a.Offset.V)
		}
	}
}

package workbook

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

// A made is the demo job as a workbook, opened by another library, with its results as JSON.
type made struct {
	f   *excelize.File
	doc map[string]any
	j   *job.Job
	ev  *sentences.Teller
}

// demoMade is the demo with its own settings, made once.
var demoMade *made

// demoBook makes the demo. job holds the settings to be used in place of its own; "" those.
func demoBook(t testing.TB, whole string) *made {
	t.Helper()
	if whole == "" && demoMade != nil {
		return demoMade
	}
	m := demoWith(t, whole, nil)
	if whole == "" {
		demoMade = m
	}
	return m
}

// demoWith makes the demo with what edit does to it; nil nothing.
func demoWith(t testing.TB, whole string, edit func(*job.Job)) *made {
	t.Helper()
	j := job.NewJob()
	for _, k := range job.SheetKinds() {
		name := strings.ToLower(k.String()) + ".csv"
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name))
		if k == job.SettingsSheet && whole != "" {
			data, err = []byte(whole), nil
		}
		if os.IsNotExist(err) {
			continue
		}
		table, _, err := job.ReadDelimited(name, data, 0)
		if err != nil {
			t.Fatal(err)
		}
		table.SplitHeader(k)
		j.SetTable(k, table)
	}
	if edit != nil {
		edit(j)
	}
	ev := sentences.New(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	if _, err := ev.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	out, err := Write(j, ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := results.WriteJSON(&b, ev); err != nil {
		t.Fatal(err)
	}
	var doc map[string]any
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	return &made{f, doc, j, ev}
}

// A tableRow is a row of a sheet by the names in its header, units taken off; unit holds them.
type tableRow struct {
	cell, unit map[string]string
	n          int
}

func (r *tableRow) num(t testing.TB, name string) float64 {
	t.Helper()
	s, ok := r.cell[name]
	if !ok {
		t.Fatalf("no column %s in %v", name, r.cell)
	}
	if s == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		t.Fatalf("%s: %q in %v", name, s, r.cell)
	}
	return v * map[string]float64{"": 1, "mm": 1, "in": 25.4, "mil": 0.0254, "mm/m": 1, "mil/in": 1, "%": 1, "rpm": 1}[r.unit[name]]
}

// tableIn reads the rows below the header that begins with these two names, to the next empty row.
func tableIn(t testing.TB, f *excelize.File, name, first, second string) (list []tableRow) {
	t.Helper()
	rows, err := f.GetRows(name, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	var names, units []string
	for n, row := range rows {
		bare := func(k int) string {
			s, _, _ := strings.Cut(row[k], " [")
			return s
		}
		switch {
		case len(row) > 1 && names == nil && bare(0) == first && bare(1) == second:
			for k := range row {
				_, u, _ := strings.Cut(strings.TrimSuffix(row[k], "]"), " [")
				names, units = append(names, bare(k)), append(units, u)
			}
		case names != nil && (len(row) < 2 || row[0] == "" || row[0] == "All"):
			return list
		case names != nil:
			r := tableRow{map[string]string{}, map[string]string{}, n + 1}
			for k, h := range names {
				r.cell[h], r.unit[h] = "", units[k]
				if k < len(row) {
					r.cell[h] = row[k]
				}
			}
			list = append(list, r)
		}
	}
	if names == nil {
		t.Fatalf("%s has no table %s, %s", name, first, second)
	}
	return list
}

// pieces adds up what a cell says of pieces; n is how many there are.
func pieces(t testing.TB, cell, unit string) (mm float64, n int) {
	if strings.TrimSpace(cell) == "" || cell == "0" {
		return 0, 0
	}
	k := map[string]float64{"mm": 1, "mil": 0.0254, "in": 25.4}[unit]
	for _, p := range strings.Split(cell, " + ") {
		v, err := strconv.ParseFloat(strings.Fields(p)[0], 64)
		if err != nil {
			t.Fatalf("%q among pieces", cell)
		}
		mm, n = mm+v*k, n+1
	}
	return mm, n
}

// Pick list, order list, moves and limits of the demo add up, cell against cell and against JSON, in both systems of units: what goes in less what comes out is what a foot is to rise by, but for what
// it is said to be off by; there are as many pieces as are named; the order list has each piece of the pick list once, what is short is what is not on hand, and orders hold the spares; every station,
// shim, move and room of a train, and every line at a coupling, is JSON's; the limits used count each coupling once.
func TestSheetsAddUp(t *testing.T) {
	for _, whole := range []string{"", "Setting,Value\nUnits,inch\nSpare allowance,10 %\nCold temperature,14 °C\n"} {
		m := demoBook(t, whole)
		f, doc, j := m.f, m.doc, m.j
		before := map[string]float64{} // what lies under a foot, as typed
		feet := j.Table(job.FeetSheet)
		for k := range feet.Rows {
			at := func(name string) string {
				for c, h := range feet.Header {
					if strings.HasPrefix(h, name) {
						return feet.Cell(k, c)
					}
				}
				return ""
			}
			if s := at("Pack in place"); s != "" && whole == "" {
				mm := 0.0
				for _, p := range strings.Split(s, "+") {
					v, err := strconv.ParseFloat(strings.TrimSpace(p), 64)
					if err != nil {
						continue // written in another way
					}
					mm += v
				}
				before[at("Machine")+", "+at("Foot")] = mm
			}
		}
		need := map[string]int{} // pieces to go in, by thickness; the demo has one size
		couplings := map[string]map[string]bool{}
		picks, moved := tableIn(t, f, "Pick list", "Machine", "Foot"), 0
		for _, r := range picks {
			if strings.HasPrefix(r.cell["Put in"], "from the ") {
				continue // steps of a shim under a bent foot, cut to size
			}
			out, _ := pieces(t, r.cell["Take out"], r.unit["Take out"])
			in, n := pieces(t, r.cell["Put in"], r.unit["Put in"])
			then, count := pieces(t, r.cell["Pack then"], r.unit["Pack then"])
			rise, off := r.num(t, "To rise by"), r.num(t, "Off by")
			if math.IsNaN(off) {
				off = 0
			}
			who := r.cell["Machine"] + ", " + r.cell["Foot"]
			if known := !math.IsNaN(rise) && n > 0 && r.cell["Pack then"] != ""; known {
				if math.Abs(in-out-rise-off) > 0.0011 && math.Abs(in-out-rise+off) > 0.0011 && math.Abs(in-out+rise) > 0.0011+math.Abs(off) {
					t.Errorf("%s: %.4f goes in, %.4f comes out, to rise by %.4f, off by %.4f", who, in, out, rise, off)
				}
				moved++
			}
			if pcs := r.cell["Pieces"]; pcs != "" && count > 0 && pcs != strconv.Itoa(count) {
				t.Errorf("%s: %s pieces are %q", who, pcs, r.cell["Pack then"])
			}
			if was, ok := before[who]; ok && count > 0 && math.Abs(was-out+in-then) > 1e-9 {
				t.Errorf("%s: %.3f lay there, %.3f comes out, %.3f goes in, and then %.3f lies there", who, was, out, in, then)
			}
			if r.cell["Put in"] != "" {
				for _, p := range strings.Split(r.cell["Put in"], " + ") {
					v, _ := strconv.ParseFloat(strings.Fields(p)[0], 64)
					k := strconv.FormatFloat(v, 'g', -1, 64)
					if couplings[k] == nil {
						couplings[k] = map[string]bool{}
					}
					need[k]++
					couplings[k][r.cell["Machine"]] = true
				}
			}
		}
		if moved < 12 {
			t.Errorf("%d feet of %d were added up", moved, len(picks))
		}
		total := 0
		for _, r := range tableIn(t, f, "Order list", "Thickness", "Pieces to add") {
			add, short, order := r.num(t, "Pieces to add"), r.num(t, "Short by"), r.num(t, "Order, spares included")
			k := strconv.FormatFloat(r.num(t, "Thickness")/map[string]float64{"mm": 1, "mil": 0.0254}[r.unit["Thickness"]], 'g', 6, 64)
			total += int(add)
			if r.cell["On hand"] != "not counted" {
				hand := r.num(t, "On hand")
				want := max(0, add-hand)
				if math.IsNaN(short) {
					short = 0
				}
				if short != want {
					t.Errorf("%s: %g to add, %g on hand, short by %g", k, add, hand, short)
				}
			}
			if math.IsNaN(order) {
				order = 0
			}
			if order < short || order > math.Ceil(1.5*add)+1 {
				t.Errorf("%s: short by %g, %g ordered", k, short, order)
			}
			if strings.HasPrefix(r.cell["Kind"], "plain") && whole == "" && int(add) != need[k] {
				t.Errorf("%s: %g to add, the pick list has %d", k, add, need[k])
			}
			if c := r.num(t, "Couplings"); whole == "" && add > 0 && int(c) > len(couplings[k]) {
				t.Errorf("%s: for %g couplings, the pick list has %d", k, c, len(couplings[k]))
			}
		}
		if total == 0 {
			t.Error("nothing to add")
		}
		checkTrains(t, f, doc)
		checkLimits(t, f, doc)
	}
}

// checkTrains holds the sheet Moves to JSON, number by number.
func checkTrains(t *testing.T, f *excelize.File, doc map[string]any) {
	t.Helper()
	same := func(what string, got float64, want any) {
		t.Helper()
		w, ok := want.(float64)
		if !ok {
			w = math.NaN()
		}
		if !(math.Abs(got-w) <= 1e-9*max(1, math.Abs(w))) && !(math.IsNaN(got) && math.IsNaN(w)) {
			t.Errorf("%s: %v, JSON has %v", what, got, want)
		}
	}
	feet, rows := tableIn(t, f, "Moves", "Train", "Machine"), tableIn(t, f, "Moves", "Train", "Coupling of")
	n, m := 0, 0
	for _, x := range doc["trains"].([]any) {
		train := x.(map[string]any)
		for _, y := range train["feet"].([]any) {
			if n == len(feet) {
				t.Fatalf("%d feet", n)
			}
			j, r := y.(map[string]any), &feet[n]
			n++
			who := r.cell["Machine"] + ", " + r.cell["Foot"]
			if r.cell["Train"] != train["train"] || r.cell["Machine"] != j["machine"] || r.cell["Foot"] != j["foot"] {
				t.Errorf("%v is %v in JSON", r.cell, j)
			}
			for name, key := range map[string]string{"Station": "station_mm", "Shim": "shim_mm", "Move": "move_mm", "Room up": "room_up_mm", "Room down": "room_down_mm", "Room to 9": "room_left_mm", "Room to 3": "room_right_mm"} {
				same(who+" "+name, r.num(t, name), j[key])
			}
		}
		for _, y := range train["couplings"].([]any) {
			if m == len(rows) {
				t.Fatalf("%d couplings", m)
			}
			j, r := y.(map[string]any), &rows[m]
			m++
			if r.cell["Train"] != train["train"] || r.cell["Coupling of"] != j["machine"] {
				t.Errorf("%v is %v in JSON", r.cell, j)
			}
			same("row", r.num(t, "Row"), j["row"])
			for name, key := range map[string]string{"After: offset V": "offset_v_mm", "After: offset H": "offset_h_mm", "After: slope V": "slope_v", "After: slope H": "slope_h"} {
				same(r.cell["Coupling of"]+" "+name, r.num(t, name), j[key])
			}
			for _, z := range doc["machines"].([]any) {
				if own := z.(map[string]any); own["row"] == j["row"] {
					for name, key := range map[string]string{"Found: offset V": "offset_v_mm", "Found: offset H": "offset_h_mm", "Found: slope V": "slope_v", "Found: slope H": "slope_h"} {
						same(r.cell["Coupling of"]+" "+name, r.num(t, name), own[key])
					}
				}
			}
		}
	}
	if n != len(feet) || m != len(rows) || n < 8 || m < 2 {
		t.Errorf("%d feet of %d and %d couplings of %d were compared", n, len(feet), m, len(rows))
	}
}

// checkLimits counts the couplings by what JSON says each was held to.
func checkLimits(t *testing.T, f *excelize.File, doc map[string]any) {
	t.Helper()
	key := func(coupling string, offset, slope float64) string {
		r := func(v float64) string { return strconv.FormatFloat(math.Round(v*1e6)/1e6, 'g', -1, 64) }
		return coupling + " " + r(offset) + " " + r(slope)
	}
	want := map[string]int{}
	all := 0
	for _, x := range doc["machines"].([]any) {
		m := x.(map[string]any)
		l, ok := m["limits"].(map[string]any)
		if !ok {
			continue
		}
		number := func(k string) float64 {
			if v, ok := l[k].(float64); ok {
				return v
			}
			return math.NaN()
		}
		o, s := number("offset_mm"), number("slope")
		if math.IsNaN(o) && math.IsNaN(s) {
			continue
		}
		kind, _ := m["coupling"].(string)
		want[key(kind, o, s)]++
		all++
	}
	got := map[string]int{}
	sum := 0
	for _, r := range tableIn(t, f, "Limits used", "Coupling", "Limit set") {
		n := int(r.num(t, "Couplings"))
		got[key(r.cell["Coupling"], r.num(t, "Offset"), r.num(t, "Slope"))] += n
		sum += n
	}
	for k, n := range want {
		if got[k] != n {
			t.Errorf("%d couplings are held to %s, the sheet Limits used counts %d: %v", n, k, got[k], got)
		}
	}
	if sum != all || all < 15 {
		t.Errorf("%d couplings have limits, the sheet counts %d", all, sum)
	}
}

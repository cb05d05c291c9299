package evaluate

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/calculators"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/words"
)

// The pairs of feet between and beyond front and rear: each its shim and its move by hand, −(offset + slope · station), with the ± of a given line, 2·√(u_d² + (x·u_θ)²), wherever they are said; the
// packs are those of that pair. Lists of JSON have one entry a pair, in the order in which they were typed.
func TestFurtherFeetByHand(t *testing.T) {
	const dv, dh, tv, th, front, apart = 0.31, -0.12, 0.4, 0.25, 480.0, 710.0
	further := []float64{600, 800, 1000}
	e, r := one(t, "Speed=1480", "Coupling=short", "Method=line", "Given offset V=0.31", "Given offset H=-0.12", "Given slope V=0.4", "Given slope H=0.25", "Coupling to front feet=480", "Front to rear feet=710", "Further feet=600 800 1000")
	m := machines(t, e)[0]
	at := func(name string, k int) float64 {
		l, ok := m[name].([]any)
		if !ok || len(l) != len(further) {
			t.Fatalf("%s: %v", name, m[name])
		}
		v, ok := l[k].(float64)
		if !ok {
			t.Fatalf("%s: %v", name, l)
		}
		return v
	}
	u := func(x float64, c *calc.Cov, o int) float64 { // JCGM 100, 5.2.2
		k := x / 1000
		return 2 * math.Sqrt(c[o][o]+2*k*c[o][o+1]+k*k*c[o+1][o+1])
	}
	for k, x := range further {
		near(t, "further shim", at("further_shims_mm", k), -(dv + tv*x/1000), 1e-12)
		near(t, "further move", at("further_moves_mm", k), -(dh + th*x/1000), 1e-12)
		for name, o := range map[string]int{"u_further_shims_mm": 0, "u_further_moves_mm": 2} { // a little more is right: distances are not known exactly either
			if got, by := at(name, k), u(x, &r.Calc.Cov, o); got < by-1e-12 || got > 1.02*by+0.004 {
				t.Errorf("%s at %g: %g, by propagation %g", name, x, got, by)
			}
		}
		sum := 0.0
		for name, sign := range map[string]float64{"further_packs_mm": 1, "further_removes_mm": -1} {
			list, _ := m[name].([]any)
			if len(list) != len(further) {
				t.Fatalf("%s: %v", name, m[name])
			}
			pieces, _ := list[k].([]any)
			for _, p := range pieces {
				sum += sign * p.(float64)
			}
		}
		near(t, "further pack", sum, -(dv + tv*x/1000), 0.0126) // half of the thinnest piece
	}
	var b bytes.Buffer
	if err := e.ResultsCSV(&b); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(b.String())).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	seen := 0
	for c, h := range rows[0] {
		d, s := dv, tv
		switch {
		case strings.HasPrefix(h, "Further moves"):
			d, s = dh, th
		case !strings.HasPrefix(h, "Further shims"):
			continue
		}
		cells := strings.Split(strings.TrimPrefix(rows[1][c], "'"), "; ") // the mark keeps a spreadsheet from taking it for a formula
		for k, x := range further {
			v, err := strconv.ParseFloat(cells[k], 64)
			if err != nil || len(cells) != len(further) {
				t.Fatalf("%s: %q", h, rows[1][c])
			}
			near(t, h, v, -(d + s*x/1000), 0.0051) // as shown
		}
		seen++
	}
	if seen != 2 {
		t.Errorf("%d columns of further feet", seen)
	}
	for name, x := range map[string]float64{"front": front, "rear": front + apart} {
		near(t, name, m[name+"_shim_mm"].(float64), -(dv + tv*x/1000), 1e-12)
		near(t, name, m[name+"_move_mm"].(float64), -(dh + th*x/1000), 1e-12)
	}
}

// What a pack in place may be written as, each read in one way or refused: a number of pieces is whole and at least one.
func TestPieceCounts(t *testing.T) {
	for text, want := range map[string][]float64{
		"2 x 0.5 + 0.1": {0.5, 0.5, 0.1}, "2x0.5+0.1": {0.5, 0.5, 0.1}, "1 × 0.5": {0.5}, "3*0.2": {0.2, 0.2, 0.2}, "0.5 0.2": {0.5, 0.2}, "0": {}, "none": {}, "0.5; 0.2": {0.5, 0.2},
		"1.5 x 0.5": nil, "0 x 0.5": nil, "-2 x 0.5": nil, "100 x 0.1": nil, "x 0.5": nil, "a x 0.5": nil, "2 x": nil, "2 x 0": nil, "0.5 + -0.1": nil, "2 x 3 x 0.1": nil, "0.5 x 2": nil,
	} {
		_, r := grown(t, []string{"Speed=1480", "Method=line", "Given offset V=0.3", "Given offset H=0", "Given slope V=0", "Given slope H=0", "Coupling to front feet=300", "Front to rear feet=500"},
			"Feet", "Machine,Foot,Pack in place\npump,front 9,"+quoted(text)+"\n")
		if want == nil {
			if r.Feet != nil && len(r.Feet.Feet) > 0 && r.Feet.Feet[0].Listed {
				t.Errorf("%q is read as %v", text, r.Feet.Feet[0].InPlace)
			}
			continue
		}
		if r.Feet == nil || len(r.Feet.Feet) != 1 || !r.Feet.Feet[0].Listed || fmt.Sprint(r.Feet.Feet[0].InPlace) != fmt.Sprint(want) {
			t.Errorf("%q: %+v, want %v", text, r.Feet, want)
		}
	}
}

func quoted(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }

// Feet of one pair on the Feet sheet: the other pair gets its pack by the row's own shim all the same, and no foot is without one.
func TestFeetOfOnePair(t *testing.T) {
	for _, end := range []string{"front", "rear"} {
		e, r := grown(t, []string{"Speed=1480", "Method=line", "Given offset V=-0.3", "Given offset H=0", "Given slope V=-0.2", "Given slope H=0", "Coupling to front feet=300", "Front to rear feet=500"},
			"Feet", "Machine,Foot,Pack in place\npump,"+end+" 9,0.5\npump,"+end+" 3,0.5\n")
		sums := map[string]float64{}
		for _, p := range e.Packs(0) {
			for _, mm := range p.Pieces {
				sums[p.Foot] += mm
			}
		}
		for foot, shim := range map[string]float64{"front": 0.36, "rear": 0.46} {
			inPlace := 0.0
			if foot == end {
				inPlace = 0.5
			}
			for _, n := range []string{foot + " 9", foot + " 3"} {
				if got, ok := sums[n]; !ok || math.Abs(got-shim-inPlace) > 0.0126 {
					t.Errorf("%s on the sheet: under %s lie %v (%v), want %g", end, n, got, sums, shim+inPlace)
				}
			}
		}
		if r.Feet == nil || len(r.Feet.Feet) != 2 {
			t.Errorf("%+v", r.Feet)
		}
	}
}

// A row of the Feet sheet that names no machine, behind one that does, may have been meant for it: the machine is not told what lies under its feet, and the row is named.
func TestFootWithoutMachine(t *testing.T) {
	for _, blank := range []int{1, 2, 3} {
		text := "Machine,Foot,Pack in place\n"
		for k, foot := range []string{"front 9", "front 3", "rear 9", "rear 3"} {
			name := "pump"
			if k == blank {
				name = ""
			}
			text += name + "," + foot + ",0.5\n"
		}
		e, r := grown(t, []string{"Speed=1480", "Method=line", "Given offset V=-0.3", "Given offset H=0", "Given slope V=0", "Given slope H=0", "Coupling to front feet=300", "Front to rear feet=500"}, "Feet", text)
		told := false
		for _, p := range append(e.Problems(), r.Problems...) {
			told = told || p.Severity == job.Error && strings.Contains(p.String(), fmt.Sprint("row ", blank+2))
		}
		if !told || len(e.Packs(0)) > 0 && e.Packs(0)[0].Status == packs.PickMet && r.Feet != nil && len(r.Feet.Feet) == 3 {
			t.Errorf("row %d names no machine: told %v, %+v", blank+2, told, r.Problems)
		}
	}
}

// A check that fails points to the column of its sweep, whichever sweep that is, for readings in columns and for a sweep in one cell.
func TestFailedCheckPointsToItsColumn(t *testing.T) {
	for _, c := range []struct{ column, cells string }{
		{"Movable rim 12", "Movable rim 3=-0.57"}, {"Stationary rim 12", "Stationary rim 3=0.61"},
	} {
		e, r := one(t, change(reverse, c.cells)...)
		pointsTo(t, e, r, c.column)
	}
	at := 3
	sweep := func(v, h float64, off float64) string {
		s := ""
		for k := range 8 {
			sin, cos := math.Sincos(float64(k) * math.Pi / 4)
			x := v*cos + h*sin
			if k == at {
				x += off
			}
			s += fmt.Sprintf("%d:%.4f ", 45*k, x)
		}
		return s
	}
	for i, column := range []string{"Movable sweep", "Stationary sweep", "Movable sweep", "Stationary sweep"} {
		off := [2]float64{}
		off[i%2] = 0.5
		at = 3 - i/2 // between two quarters: all sweeps together scatter; then on one of them: that sweep fails by itself
		e, r := one(t, "Speed=1480", "Method=sweeps", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500", "Movable sag at 6=0", "Stationary sag at 6=0",
			"Movable sweep="+sweep(0.15, -0.02, off[0]), "Stationary sweep="+sweep(-0.05, 0.06, off[1]))
		if r.Verdict != calc.NotJudged {
			t.Errorf("%s: %v with a reading that is off by 0.5 mm", column, r.Verdict)
		}
		said := words.Together(r.Hints...).String()
		for _, p := range r.Problems {
			said += p.String()
		}
		if at == 2 {
			pointsTo(t, e, r, column)
		} else if !strings.Contains(said, column) || !strings.Contains(said, "135") {
			t.Errorf("%s at 135 is not named: %q %v", column, said, e.Problems())
		}
	}
}

func pointsTo(t *testing.T, e *Evaluator, r *RowResult, column string) {
	t.Helper()
	if r.Verdict != calc.NotJudged {
		t.Errorf("%s: %v", column, r.Verdict)
	}
	for _, p := range r.Problems {
		if p.Severity == job.Error && p.Col >= 0 && p.Col < len(e.Job().Machines.Header) && e.Job().Machines.Header[p.Col] == column {
			return
		}
	}
	t.Errorf("nothing points to %s: %+v", column, r.Problems)
}

// The question whether a number is right shows the bounds it was held to, as the table of usual numbers has them: no digit of a bound is lost, and thirds of an inch are not written out.
func TestUsualBoundsAreShown(t *testing.T) {
	job.LoadColumns()
	for _, inch := range []string{"metric", "inch"} {
		e := work(t, with(t, job.NewJob(), job.SettingsSheet, "Name,Value\nUnits,"+inch+"\n"))
		n := 0
		for c, s := range spans {
			if !(s.high > s.low) {
				continue
			}
			u := job.ColumnID(c).Info().Unit(e.set.inch)
			said := e.oddText(job.ColumnID(c), s.high*1000+1, "x", 0).String()
			_, said, _ = strings.Cut(said, "usual here is ")
			low, rest, _ := strings.Cut(said, " to ")
			for k, word := range []string{low, strings.Fields(rest)[0]} {
				want := u.FromBase([2]float64{s.low, s.high}[k])
				v, err := strconv.ParseFloat(strings.ReplaceAll(word, "−", "-"), 64)
				if err != nil || math.Abs(v-want) > 5.1e-4 || math.Abs(v-want) > 1e-9*math.Abs(want) && math.Abs(want-math.Round(want*1e4)/1e4) < 1e-9 && len(strconv.FormatFloat(math.Abs(want), 'g', 12, 64)) < 5 {
					t.Errorf("%s, %s: %q, the bound is %g", inch, job.ColumnID(c).Info().Name, word, want)
				}
			}
			n++
		}
		if n < 20 {
			t.Errorf("%d bounds", n)
		}
	}
}

// Where nothing can be said in numbers of an earlier job there are no numbers: the cells are empty and the reason stands beside them.
func TestHistoryWithoutNumbers(t *testing.T) {
	found := calc.Line{DV: 0.3}
	then := yearJob(t, 2025, without, "pump,found,,,,,,,,"+rimRow(found)+"\n") // never left: nothing to hold it against
	e := beside(t, yearJob(t, 2026, without, "pump,found,,,,,,,,"+rimRow(found)+"\n"), then)
	e.Count()
	var b bytes.Buffer
	if err := e.ListText(&b, "history"); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "NaN") || strings.Contains(b.String(), "nan") {
		t.Error(b.String())
	}
}

// The hint of a measure lists units, each once and parted by commas, and every one of them can be read with a number before it.
func TestMeasureHintsCanBeTyped(t *testing.T) {
	seen := 0
	for _, c := range calculators.All() {
		for _, in := range c.Inputs {
			hint := in.Measure.Hint()
			list, ok := strings.CutPrefix(hint, "write ")
			if !ok {
				continue
			}
			names := map[string]bool{}
			for _, u := range strings.Split(list, ", ") {
				if u = strings.TrimSpace(u); u == "" || names[u] || strings.HasPrefix(u, ",") {
					t.Errorf("%s, %s: %q in %q", c.Key, in.Key, u, hint)
				}
				names[u] = true
			}
			if len(names) > 1 {
				seen++
			}
		}
	}
	if seen == 0 {
		t.Error("no measure lists units")
	}
}

// Something was done since the feet were listed, and no round says what lies there now: that is pointed out, also where the first round there is comes after work; not where it is the round found, nor
// where nothing was listed.
func TestListedFeetGrowStale(t *testing.T) {
	for _, c := range []struct {
		round, pack string
		stale       bool
	}{{"1", "0.5", true}, {"2", "0.5", true}, {"left", "0.5", true}, {"found", "0.5", false}, {"1", "", false}} {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, without...)
		with(t, j, job.RoundsSheet, roundsHead+"pump,"+c.round+",,,,,,,,"+rimRow(calc.Line{DV: 0.3})+"\n")
		with(t, j, job.FeetSheet, "Machine,Foot,Pack in place\npump,front 9,"+c.pack+"\npump,front 3,"+c.pack+"\npump,rear 9,"+c.pack+"\npump,rear 3,"+c.pack+"\n")
		r := work(t, j).Row(0)
		told := false
		for _, p := range r.Problems {
			told = told || p.Severity == job.Warning && p.Text.String() == words.ProblemFeetStale.Say(c.round)
		}
		if told != c.stale {
			t.Errorf("round %s, pack %q: told %v: %+v", c.round, c.pack, told, r.Problems)
		}
	}
}

// Where the feet stand in each round, and where they should have come to, is measured from the wanted line, in both planes: by hand, lines at 300 and 800 mm less what is wanted there.
func TestRoundsStandFromTheWantedLine(t *testing.T) {
	wanted := calc.Line{DV: 0.07, TV: 0.2, DH: -0.11, TH: 0.3}
	cells := append(append([]string{}, without...), "Running offset V=0.07", "Running slope V=0.2", "Running offset H=-0.11", "Running slope H=0.3")
	first, second := calc.Line{DV: 0.5, TV: -0.4, DH: 0.3, TH: 0.6}, calc.Line{DV: 0.1, TV: 0.15, DH: -0.09, TH: 0.25}
	done := [4]float64{-0.2, 0.1, -0.3, 0.05} // front and rear shim, front and rear move
	_, r := withRounds(t, cells, "pump,found,,,,,,,,"+rimRow(first)+"\npump,1,,,,-0.2,0.1,-0.3,0.05,"+rimRow(second)+"\n")
	if len(r.Rounds) != 2 || len(r.Rounds[1].Stand) != 2 {
		t.Fatalf("%+v", r.Rounds)
	}
	for k, x := range []float64{0.3, 0.8} {
		for n, l := range []calc.Line{first, second} {
			f := r.Rounds[n].Stand[k]
			near(t, f.Foot+" V", f.V, l.DV+l.TV*x-wanted.DV-wanted.TV*x, 1e-9)
			near(t, f.Foot+" H", f.H, l.DH+l.TH*x-wanted.DH-wanted.TH*x, 1e-9)
		}
		f := r.Rounds[1].Stand[k]
		near(t, f.Foot+" predicted V", f.PredictedV, first.DV+first.TV*x+done[k]-wanted.DV-wanted.TV*x, 1e-9)
		near(t, f.Foot+" predicted H", f.PredictedH, first.DH+first.TH*x+done[2+k]-wanted.DH-wanted.TH*x, 1e-9)
		if p := r.Rounds[0].Stand[k]; !math.IsNaN(p.PredictedV) || !math.IsNaN(p.PredictedH) {
			t.Errorf("nothing was predicted of the first round: %+v", p)
		}
	}
}

// What moved since an older job names both rounds that are held against each other, the file and the day: what was left then, what was found now.
func TestHistoryNamesItsRounds(t *testing.T) {
	then := yearJob(t, 2025, without, "pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.3})+"\npump,left,,,,,,,,"+rimRow(calc.Line{DV: 0.01})+"\n")
	now := yearJob(t, 2026, without, "pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.2})+"\npump,1,,,,,,,,"+rimRow(calc.Line{DV: 0.02})+"\n")
	e := beside(t, now, then)
	e.Count()
	list := e.History(0)
	if len(list) != 1 || list[0].Round != "left" || list[0].Now != "found" || list[0].File != "year-0.json" || !strings.Contains(list[0].When, "2025-04-12") || !list[0].Why.Empty() {
		t.Fatalf("%+v", list)
	}
	near(t, "moved", list[0].Offset.V, 0.2-0.01, 1e-9)
	near(t, "moved sideways", list[0].Offset.H, 0, 1e-9)
}

// The feet in JSON: each number that was typed, in mm, under its name, with the station of its pair; what the alignment asks of it by hand, −(offset + slope · station); the rooms; and what lies there.
func TestFeetInJSON(t *testing.T) {
	e, _ := grown(t, []string{"Speed=1480", "Method=line", "Given offset V=0.3", "Given offset H=0.1", "Given slope V=0.2", "Given slope H=0", "Coupling to front feet=300", "Front to rear feet=500"},
		"Feet", "Machine,Foot,Across [mm],Gap,Pack in place,Room up,Room down,Room left,Room right\npump,front 9,-251,0.01,0.5+0.2,1.1,1.2,1.3,1.4\npump,front 3,252,0.02,0.7,2.1,2.2,2.3,2.4\npump,rear 9,-253,0.03,1.0,3.1,3.2,3.3,3.4\npump,rear 3,254,0.04,1.5,4.1,4.2,4.3,4.4\n")
	m := machines(t, e)[0]
	feet, _ := m["feet"].([]any)
	if len(feet) != 4 {
		t.Fatalf("%v", m["feet"])
	}
	for k, x := range feet {
		f := x.(map[string]any)
		pair := float64(k / 2)
		station, n := 300+500*pair, float64(k+1)
		for key, want := range map[string]float64{"row": float64(k + 2), "station_mm": station, "across_mm": []float64{-251, 252, -253, 254}[k], "align_mm": -(0.3 + 0.2*station/1000),
			"room_up_mm": n + 0.1, "room_down_mm": n + 0.2, "room_left_mm": n + 0.3, "room_right_mm": n + 0.4} {
			v, ok := f[key].(float64)
			if !ok {
				t.Errorf("foot %d: %s is %v", k, key, f[key])
				continue
			}
			near(t, fmt.Sprint(f["foot"], " ", key), v, want, 1e-9)
		}
		if f["foot"] != []string{"front 9", "front 3", "rear 9", "rear 3"}[k] {
			t.Errorf("foot %d is %v", k, f["foot"])
		}
		align, _ := f["align_mm"].(float64)
		soft, _ := f["soft_mm"].(float64)
		shim, _ := f["shim_mm"].(float64)
		near(t, "the whole change", shim, align+soft, 1e-9)
	}
}

// A sweep in one cell: a unit behind one reading of several could be meant for all of them, so it is asked, unless each has one, or those without are zero, or the column has that unit.
func TestSweepUnits(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		read       bool
	}{
		{"0:0 90:0.1 180:0.2 270:0.1", "", true}, {"0:0 mil 90:4 mil 180:8 mil 270:4 mil", "", true}, {"0:0 90:4 mil 180:8 mil 270:4 mil", "", true},
		{"0:0 90:4 180:8 270:4 mil", "", false}, {"0:0 90:0.1 180:0.2 270:0.1 mm", "", true}, {"0:0 90:4 180:8 270:4 mil", " [mil]", true},
	} {
		_, r := one(t, "Speed=1480", "Method=sweeps", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Movable sweep"+c.unit+"="+c.text, "Stationary sweep=0:0 90:-0.1 180:-0.2 270:-0.1")
		if r.HasLine() != c.read {
			t.Errorf("%q in %q: read %v: %v", c.text, c.unit, r.HasLine(), r.Problems)
		}
	}
}

package sentences

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// shownAs writes a number in a unit by the standard library: so many digits, the minus sign away from a zero, the job's decimal sign.
func shownAs(v float64, u units.Unit, dec int, comma bool) string {
	if math.IsNaN(v) {
		return ""
	}
	s := strconv.FormatFloat(u.FromBase(v), 'f', dec, 64)
	if x, _ := strconv.ParseFloat(s, 64); x == 0 {
		s = strings.TrimPrefix(s, "-")
	}
	if comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// withCommas has a job written with decimal commas.
func withCommas(j *job.Job) {
	point := regexp.MustCompile(`(\d)\.(\d)`)
	for _, k := range job.SheetOrder {
		if t := j.Table(k); t != nil {
			for _, row := range t.Rows {
				for c := range row {
					row[c] = point.ReplaceAllString(row[c], "$1,$2")
				}
			}
		}
	}
	j.Settings.Rows = append(j.Settings.Rows, []string{"Decimal sign", "comma"})
}

// In whatever units a job is shown, every result reads as the number that JSON has, in that unit, with the digits that unit is read to; what is typed, what goes into a file and the pieces under the feet keep the job's own. Digits: mm 3, of shims and moves 2; mil 1; slopes 2; per cent none.
func TestResultsInEitherUnits(t *testing.T) {
	digits := map[units.Unit]int{units.MM: 3, units.Mil: 1, units.MMPerM: 2, units.MilPerInch: 2, units.Percent: 0}
	for _, comma := range []bool{false, true} {
		j := demoJob(t, false)
		if comma {
			withCommas(j)
		}
		e := work(t, j)
		for _, system := range []string{"", "metric", "inch", "no such"} {
			e.ShowAs(system)
			inch := system == "inch"
			if e.ShowsInch() != inch || e.Inch() {
				t.Fatalf("%q shows inch: %v", system, e.ShowsInch())
			}
			compared := 0
			for i := range e.Len() {
				r := e.Row(i)
				if r.Kind != evaluate.MachineRow {
					continue
				}
				for k, col := range job.ResultColumns() {
					v, pm, ok := numberOf(r, job.ResultVerdict+job.ColumnID(k))
					n, has := e.ResultNumber(i, k)
					u := col.Unit(inch)
					if has != (ok && !math.IsNaN(v)) || has && math.Abs(n-u.FromBase(v)) > 1e-12*math.Max(1, math.Abs(n)) {
						t.Errorf("%s, %s: the number is %v, %v", r.Name, col.Name, n, has)
					}
					if !ok {
						continue
					}
					dec := digits[u]
					move, shim := strings.HasSuffix(col.Key, "_move"), strings.HasSuffix(col.Key, "_shim")
					if u == units.MM && (move || shim || strings.HasPrefix(col.Key, "slide_")) {
						dec = 2
					}
					want := ""
					if !math.IsNaN(v) {
						x := v
						if move {
							x = math.Abs(v)
						}
						want = shownAs(x, u, dec, comma)
						if shim && v > 0 {
							want = "+" + want
						}
						if col.PlusMinus && !math.IsNaN(pm) {
							want += " ± " + shownAs(pm, u, dec, comma)
						}
						if move && v != 0 {
							want += " " + e.SideName(r, v)
						}
					}
					if got := string(e.AppendResultText(nil, i, k)); got != want {
						t.Errorf("%q, %s, %s: %q, want %q", system, r.Name, col.Name, got, want)
					}
					compared++
				}
			}
			if compared < 500 {
				t.Error(compared)
			}
			thick, dist, slope := job.QThickness.Unit(inch), job.QDistance.Unit(inch), job.QSlope.Unit(inch)
			for _, v := range []float64{0, 0.1234567, -0.0254, 1.0004, -0.0000001, 12.7, 2.54e-5, math.NaN()} {
				shim := digits[thick]
				if !inch {
					shim = 2
				}
				for what, p := range map[string][2]string{
					"thickness": {string(e.AppendThickness(nil, v)), shownAs(v, thick, digits[thick], comma)}, "shim": {string(e.AppendShim(nil, v)), shownAs(v, thick, shim, comma)}, "distance": {string(e.AppendDistance(nil, v)), shownAs(v, dist, 2, comma)},
					"slope": {string(e.AppendSlope(nil, v)), shownAs(v, slope, 2, comma)}, "unit": {string(e.AppendUnit([]byte("x"), v, units.Inch, 5)), "x" + shownAs(v, units.Inch, 5, comma)},
				} {
					if p[0] != p[1] {
						t.Errorf("%q: the %s %g is %q, want %q", system, what, v, p[0], p[1])
					}
				}
				if got := e.ShownZero(v); !math.IsNaN(v) && got != (strings.Trim(shownAs(v, thick, shim, false), "-0.") == "") {
					t.Errorf("%q: %g is shown as zero: %v", system, v, got)
				}
			}
			for v, want := range map[float64]string{0.1: "0.10", 0.325: "0.325", 2: "2.00", 0.0254: "0.0254", 0.5: "0.50"} { // pieces, in the job's unit
				if comma {
					want = strings.Replace(want, ".", ",", 1)
				}
				if got := string(e.AppendPack(nil, v)); got != want {
					t.Errorf("a piece of %g mm is %q", v, got)
				}
			}
			if got, want := string(e.AppendPieces(nil, []float64{0.5, 0.1})), "0.50 + 0.10"; strings.ReplaceAll(got, ",", ".") != want {
				t.Error(got)
			}
		}
	}
	e := work(t, with(t, demoJob(t, true), job.SettingsSheet, "Name,Value\nUnits,inch\n"))
	if e.ShowAs(""); !e.ShowsInch() || string(e.AppendPack(nil, 0.635)) != "25" || string(e.AppendPack(nil, 0.0635)) != "2.5" {
		t.Errorf("%s", e.AppendPack(nil, 0.635))
	}
	if e.ShowAs("metric"); e.ShowsInch() || string(e.AppendPack(nil, 0.635)) != "25" {
		t.Error("pieces keep the unit of the job")
	}
	for _, c := range [][2]int{{-1, 0}, {0, -1}, {0, len(job.ResultColumns())}, {999, 0}} {
		if _, ok := e.ResultNumber(c[0], c[1]); ok || len(e.AppendResultText(nil, c[0], c[1])) > 0 || len(e.AppendTold(nil, c[0], c[1])) > 0 {
			t.Errorf("a result at %v", c)
		}
	}
	if e.ResultText(0, "no such key") != "" {
		t.Error("a result of no name")
	}
}

// What a cell is understood as, shown under it, and the number it comes to for sorting: worked out by hand from the units (an inch is 25.4 mm, a mil a thousandth of it).
func TestWhatCellsMean(t *testing.T) {
	j := list(t, "Machine,Speed,Coupling to front feet [in],Movable rim 12 [mil],Movable sweep,Further feet,Method,Verdict,own,Movable rim 3 [ell],Offset limit\nP,1480,12 1/2,-12.5,0:0 90:-0.1 180:-0.2,100 mm; 20 in,Reverse dial,inside,x,5,0.05\nQ,,x,,zz,zz,zz,,,,\n")
	e := work(t, j)
	for c, want := range []string{"", "= 1480 rpm", "= 317.5 mm", "= -0.3175 mm", "= 3 readings", "= 100 mm; 508 mm", "= reverse indicator", "", "", "", "= 0.05 mm"} {
		if got := e.Meaning(0, c); got != want {
			t.Errorf("%s: %q, want %q", j.Machines.Header[c], got, want)
		}
		if got := e.Meaning(1, c); got != "" {
			t.Errorf("%s: nothing is read as %q", j.Machines.Header[c], got)
		}
	}
	e.ShowAs("inch")
	for c, want := range []string{"", "= 1480 rpm", "= 12.5 in", "= -12.5 mil", "= 3 readings", "= 3.937007874015748 in; 20 in", "= reverse indicator", "", "", "", "= 1.968503937007874 mil"} {
		got := e.Meaning(0, c)
		if strings.Contains(want, "…") || c == 5 || c == 10 {
			got, want = strings.ReplaceAll(got, "0", ""), strings.ReplaceAll(want, "0", "")
			if len(got) < 6 || got[:6] != want[:6] {
				t.Errorf("%s in inch: %q, want %q", j.Machines.Header[c], got, want)
			}
			continue
		}
		if got != want {
			t.Errorf("%s in inch: %q, want %q", j.Machines.Header[c], got, want)
		}
	}
	// In units that are not the job's, a cell is shown converted; its text is shown where that is no number, and where the units are the job's.
	for c, want := range []string{"", "", "12.500", "-12.5", "", "", "", "", "", "", "2.0"} {
		got, ok := e.AppendShown([]byte("x"), 0, c)
		if ok != (want != "") || string(got) != "x"+want {
			t.Errorf("%s is shown as %q, %v, want %q", j.Machines.Header[c], got, ok, want)
		}
		u := e.ShownUnit(c)
		if wantU := map[int]units.Unit{2: units.Inch, 3: units.Mil, 9: units.Mil, 10: units.Mil}[c]; u != wantU {
			t.Errorf("%s is shown in %v, want %v", j.Machines.Header[c], u, wantU)
		}
		if _, ok := e.AppendShown(nil, 1, c); ok {
			t.Errorf("%s: what is no number is shown as one", j.Machines.Header[c])
		}
	}
	e.ShowAs("")
	if _, ok := e.AppendShown(nil, 0, 2); ok || e.ShownUnit(2) != units.None {
		t.Error("the job's own units are shown converted")
	}
	for c, want := range []bool{false, false, false, true, true, false, false, false, false, true, false} {
		if e.IsReading(c) != want {
			t.Errorf("%s is read at the machine: %v", j.Machines.Header[c], !want)
		}
	}
	if e.IsReading(99) || e.IsReading(-1) || e.Uses(0, 99) || e.Uses(99, 0) {
		t.Error("columns beyond the sheet")
	}
	for _, c := range []struct {
		kind         job.SheetKind
		header, text string
		means        string
		number       float64
	}{
		{job.StockSheet, "Thickness [mil]", "10", "= 0.254 mm", 0.254}, {job.StockSheet, "Thickness", "0.5", "= 0.5 mm", 0.5}, {job.StockSheet, "Pieces on hand", "7", "= 7", 7}, {job.StockSheet, "Size", "75 x 75", "", math.NaN()}, {job.StockSheet, "Size", "75", "", 75},
		{job.GrowthSheet, "Running [°F]", "212", "= 100 °C", 100}, {job.SettingsSheet, "Cold temperature", "14 °C", "= 14 °C", 14}, {job.SettingsSheet, "Units", "imperial", "", math.NaN()}, {job.MachinesSheet, "own words", "12", "", 12}, {job.MachinesSheet, "own words", "twelve", "", math.NaN()},
		{job.MachinesSheet, "Verdict", "3", "", 3}, {job.MachinesSheet, "Method", "line", "= line", math.NaN()}, {job.MachinesSheet, "Movable sweep", "0:0", "= 1 readings", math.NaN()}, {job.MachinesSheet, "Further feet", "100", "= 100 mm", math.NaN()}, {job.MachinesSheet, "Speed", " ", "", math.NaN()}, {job.MachinesSheet, "Speed", "x", "", math.NaN()},
		{job.MachinesSheet, "Movable rim 3 [ell]", "5", "", math.NaN()},
	} {
		if got := e.MeaningIn(c.kind, c.header, c.text); got != c.means && !(c.header == "Movable sweep") && c.header != "Movable rim 3 [ell]" && !(c.header == "Units") {
			t.Errorf("%s, %q means %q, want %q", c.header, c.text, got, c.means)
		}
		if v, ok := e.NumberIn(c.kind, c.header, c.text); ok != !math.IsNaN(c.number) && c.header != "Movable rim 3 [ell]" || ok && math.Abs(v-c.number) > 1e-12*math.Abs(c.number) && c.header != "Movable rim 3 [ell]" {
			t.Errorf("%s, %q is %v, %v, want %v", c.header, c.text, v, ok, c.number)
		}
	}
	e.ShowAs("inch")
	if v, ok := e.NumberIn(job.StockSheet, "Thickness [mm]", "0.254"); !ok || math.Abs(v-10) > 1e-12 {
		t.Error(v, ok)
	}
}

// What is told to be done at the feet is what the packs and the moves are: counted and compared one by one, for every machine of the demo.
func TestTodoIsThePacksAndMoves(t *testing.T) {
	for _, shared := range []bool{false, true} {
		e := work(t, demoJob(t, false))
		if shared {
			if _, err := e.Allocate(nil); err != nil {
				t.Fatal(err)
			}
		}
		feet, pushes := 0, 0
		for i := range e.Len() {
			r := e.Row(i)
			todo := e.Todo(i)
			if r.Kind != evaluate.MachineRow {
				if todo.Missing != words.TodoNoCoupling.String() || len(todo.Feet)+len(todo.Bolts)+len(todo.Pushes) > 0 {
					t.Errorf("%+v", todo)
				}
				continue
			}
			take := map[string]int{}
			k, b := 0, 0
			for _, p := range e.Packs(i) {
				if p.Pair < 0 && p.Single < 0 && p.Bolt < 0 {
					continue
				}
				var f FootTodo
				if p.Bolt >= 0 {
					f, b = todo.Bolts[b], b+1
				} else {
					f, k = todo.Feet[k], k+1
				}
				feet++
				if f.Name != p.Foot || f.Pair != p.Pair {
					t.Errorf("%s: %+v, the pack is for %s", r.Name, f, p.Foot)
				}
				if p.Pair >= 0 && p.Single < 0 && f.Station != r.Calc.Feet[p.Pair].Station {
					t.Errorf("%s, %s stands at %g", r.Name, p.Foot, f.Station)
				}
				if side := strings.HasSuffix(p.Foot, " 3"); p.Bolt < 0 && (f.Side != 1) == side || p.Bolt < 0 && (f.Side != -1) == strings.HasSuffix(p.Foot, " 9") {
					t.Errorf("%s: %s is on the side %d", r.Name, p.Foot, f.Side)
				}
				in, out := strings.Join(f.In, " + "), strings.Join(f.Out, " + ")
				if p.Made && p.Change.Status.String() != "" && len(p.Change.Take)+len(p.Change.Put) > 0 && !f.Exact {
					wantIn := ""
					if len(p.Change.Put) > 0 {
						wantIn = string(e.AppendPieces(nil, evaluate.NewPieces(&p.Change)))
					}
					if wantOut := string(e.AppendPieces(nil, p.Change.Take)); (in != wantIn || out != wantOut) && !strings.Contains(e.PickDo(&p), "in all") {
						t.Errorf("%s, %s: %q out and %q in, the pack says %q and %q", r.Name, p.Foot, out, in, wantOut, wantIn)
					}
				}
				if f.Nothing() != (in == "" && out == "") {
					t.Errorf("%s, %s: nothing is %v", r.Name, p.Foot, f.Nothing())
				}
				if short := slices.ContainsFunc(f.Notes, func(s string) bool { return s == p.Status.String() }); p.Status.Short() && !short {
					t.Errorf("%s, %s: %q, and is %v", r.Name, p.Foot, f.Notes, p.Status)
				}
				if !f.Exact {
					for _, s := range f.In {
						take[s]++
					}
				}
			}
			if k != len(todo.Feet) || b != len(todo.Bolts) {
				t.Errorf("%s: %d feet of %d", r.Name, k, len(todo.Feet))
			}
			last := math.Inf(1)
			for _, s := range todo.Take() {
				n, thick, _ := strings.Cut(s, " × ")
				count, _ := strconv.Atoi(n)
				x, err := strconv.ParseFloat(thick, 64)
				if count != take[thick] || count == 0 || err != nil || !(x < last) {
					t.Errorf("%s takes %s of %v", r.Name, s, take)
				}
				last = x
				delete(take, thick)
			}
			if len(take) > 0 {
				t.Errorf("%s does not take %v", r.Name, take)
			}
			n := 0
			for f := range r.Calc.Feet {
				foot := &r.Calc.Feet[f]
				if math.IsNaN(foot.Move) || r.Stays() {
					continue
				}
				if n == len(todo.Pushes) {
					t.Fatalf("%s: %d pushes", r.Name, n)
				}
				p := todo.Pushes[n]
				n++
				pushes++
				move := foot.Move
				if !math.IsNaN(foot.MoveRounded) {
					move = foot.MoveRounded
				}
				if small := math.Abs(foot.Move) < foot.UMove || math.Round(math.Abs(move)*100) == 0; small {
					if p.Towards != 0 || p.Amount != "" || p.Number != "" || p.Side != "" {
						t.Errorf("%s: %+v of a move of %g ± %g", r.Name, p, foot.Move, foot.UMove)
					}
					continue
				}
				want := strconv.FormatFloat(math.Abs(move), 'f', 2, 64)
				side := r.Side3
				if move < 0 {
					side = r.Side9
				}
				if p.Pair != f || p.Station != foot.Station || p.Word != e.FootWord(r, f) || p.Number != want || p.Amount != want+" mm" || side != "" && !strings.Contains(p.Side, side) || p.Towards != int(math.Copysign(1, move)) {
					t.Errorf("%s: %+v, the move is %g", r.Name, p, move)
				}
			}
			if n != len(todo.Pushes) || todo.Stays != r.Stays() {
				t.Errorf("%s: %d pushes of %d, stays %v", r.Name, n, len(todo.Pushes), todo.Stays)
			}
			if (todo.Missing == "") != (len(todo.Feet)+len(todo.Bolts)+len(todo.Pushes)+len(todo.Others) > 0) {
				t.Errorf("%s: %q is missing", r.Name, todo.Missing)
			}
			if (todo.Slide != "") != (len(todo.Bolts) > 0 && !math.IsNaN(r.Calc.SlideV)) {
				t.Errorf("%s: %q", r.Name, todo.Slide)
			}
			offset, slope := e.StandsShort(r)
			for _, c := range []struct {
				got, up, down, none string
				v                   float64
				u                   units.Unit
			}{{offset[0], "high", "low", "level", r.Offset.V, units.MM}, {offset[1], e.SideName(r, 1), e.SideName(r, -1), "straight", r.Offset.H, units.MM}, {slope[0], "rises", "falls", "level", r.Slope.V, units.MMPerM}, {slope[1], e.SideName(r, 1), e.SideName(r, -1), "straight", r.Slope.H, units.MMPerM}} {
				if !r.HasLine() {
					continue
				}
				amount := strings.TrimSuffix(strings.TrimRight(shownAs(math.Abs(c.v), c.u, 3, false), "0"), ".")
				want := c.up + " " + amount
				if c.v < 0 {
					want = c.down + " " + amount
				}
				if amount == "0" {
					want = c.none
				}
				if c.got != want {
					t.Errorf("%s: %q, want %q (%g)", r.Name, c.got, want, c.v)
				}
			}
		}
		if feet < 70 || pushes < 30 {
			t.Errorf("%d feet and %d pushes", feet, pushes)
		}
	}
}

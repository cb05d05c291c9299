package evaluate

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// Rooms are those typed on the row, foot by foot and direction by direction; where the Feet sheet has the machine they are its, and of a pair the tighter one counts, shims that lie there being the room down.
func TestRoomsAsTyped(t *testing.T) {
	cells := append([]string{}, reverse...)
	want := [2][4]float64{}
	for p, foot := range []string{"Front", "Rear"} {
		for d, dir := range []string{"up", "down", "left", "right"} {
			want[p][d] = float64(4*p+d+1) / 4
			cells = append(cells, fmt.Sprintf("%s room %s=%g", foot, dir, want[p][d]))
		}
	}
	e, _ := one(t, cells...)
	for p, r := range e.Rooms(0) {
		if got := [4]float64{r.Up, r.Down, r.Left, r.Right}; got != want[p] {
			t.Errorf("pair %d: %v, want %v", p, got, want[p])
		}
	}
	e, _ = grown(t, cells, "Feet", "Machine,Foot,Pack in place,Room up,Room down,Room left,Room right\npump,front 9,1.0+0.5,3,,2,4\npump,front 3,1.0+0.2,4,,3,1\npump,rear 9,,,0.7,,\npump,rear 3,2.0,,0.9,,6\n")
	for p, r := range e.Rooms(0) {
		got := [4]float64{r.Up, r.Down, r.Left, r.Right}
		for d, w := range [2][4]float64{{3, 1.2, 2, 1}, {nan, 0.7, nan, 6}}[p] {
			if math.Abs(got[d]-w) > 1e-12 || math.IsNaN(got[d]) != math.IsNaN(w) {
				t.Errorf("pair %d with a Feet sheet: %v", p, got)
			}
		}
	}
}

// A line given by gap differences has the ± of its diameter (JCGM 100, 5.1.2: slope = gap / D, so u = gap/D² · u(D)), beside the one given.
func TestDiameterOfGaps(t *testing.T) {
	given := []string{"Speed=1480", "Given offset V=0.1", "Given offset H=0.05", "Face diameter=200", "Given gap 12 minus 6=0.3", "Given gap 3 minus 9=-0.1", "Given slope ±=0.2", "Given offset ±=0.02"}
	for _, setting := range []string{"", "4"} {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, given...)
		u := 1.0
		if setting != "" {
			u = 4
			j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Distance uncertainty", setting}}}
		}
		r := work(t, j).Row(0)
		near(t, "slope V", r.Slope.V, -0.3/200*1000, 1e-12)
		near(t, "slope H", r.Slope.H, 0.1/200*1000, 1e-12)
		near(t, "± slope V", r.Slope.UV, 2*math.Hypot(0.1, 0.3/200*1000*u/200), 1e-9)
		near(t, "± slope H", r.Slope.UH, 2*math.Hypot(0.1, 0.1/200*1000*u/200), 1e-9)
		near(t, "± offset V", r.Offset.UV, 0.02, 1e-12)
	}
}

// Names are one whatever their capitals, in every alphabet, and their blanks; the second of them is not judged and names the first.
func TestOneNameInEveryAlphabet(t *testing.T) {
	for _, pair := range [][2]string{{"Pumpe 1", "PUMPE 1"}, {"über 1", "ÜBER 1"}, {"насос", "НАСОС"}, {"a", " a "}, {"Ärger", "ärger"}, {"\u0080x", "\u0080X"}} {
		r := work(t, list(t, "Machine,Speed\n"+pair[0]+",1480\nother,1480\n"+pair[1]+",1480\n")).Row(2)
		if r.Verdict != calc.NotJudged || !strings.Contains(r.Why.String(), "row 2") {
			t.Errorf("%q: %q", pair, r.Why)
		}
	}
	r := work(t, list(t, "Machine,Speed\nPumpe 1,1480\nPumpe 2,1480\n")).Row(1)
	if strings.Contains(r.Why.String(), "row 2") {
		t.Error(r.Why)
	}
}

// A dash in a column of numbers says that nothing is given, on every sheet: it is noted once a column and counts as blank. In a column of words it is one.
func TestDashesAreNoted(t *testing.T) {
	for _, c := range []struct {
		kind job.SheetKind
		csv  string
		col  string
		row  int
	}{
		{job.StockSheet, "Thickness,Pieces on hand\n0.1,-\n0.2,-\n", "Pieces on hand", 2}, {job.FeetSheet, "Machine,Foot,Room up\npump,front 9,n/a\n", "Room up", 2}, {job.GrowthSheet, "Machine,Support,Part,Height,Material,Running\npump,movable front,foot,100,steel,40\npump,movable front,foot,-,steel,tbd\n", "Height", 3},
		{job.LimitsSheet, "Set,Coupling,Up to,Offset,Slope\nmine,flexible,3000,0.05,?\n", "Slope", 2}, {job.MaterialsSheet, "Material,Coefficient,Uncertainty\nX,12,-\n", "Uncertainty", 2}, {job.ReadingsSheet, "Machine,Sweep,Angle,Reading\npump,Movable rim,0,–\n", "Reading", 2},
	} {
		j := list(t, "Machine,Speed\npump,1480\n")
		with(t, j, c.kind, c.csv)
		e := work(t, j)
		n := 0
		for _, p := range e.Problems() {
			if p.Severity == job.Note && p.Column == c.col {
				if n++; p.Row != c.row {
					t.Errorf("%v: %v", c.kind, &p)
				}
			}
		}
		if n != 1 {
			t.Errorf("%v, %s: noted %d times: %v", c.kind, c.col, n, e.Problems())
		}
	}
}

// The unit of a row rules its bare numbers and no others; a dash there is none. Typed otherwise the row comes to the same.
func TestUnitOfEachRow(t *testing.T) {
	mm := func(s string, f float64) string {
		x, _ := strconv.ParseFloat(s, 64)
		return strconv.FormatFloat(math.Round(x/f*1e6)/1e6, 'f', -1, 64)
	}
	var header, plain, mil []string
	for _, c := range reverse {
		h, v, _ := strings.Cut(c, "=")
		header, plain = append(header, h), append(plain, v)
		if strings.Contains(h, " rim ") {
			v = mm(v, 0.0254)
		}
		mil = append(mil, v)
	}
	for _, unit := range [][2]string{{"mil", "mm"}, {"mils", "-"}, {"[thou]", ""}, {"(mil)", "n/a"}} {
		e := work(t, list(t, "Machine,Unit,"+strings.Join(header, ",")+"\nA,"+unit[0]+","+strings.Join(mil, ",")+"\nB,"+unit[1]+","+strings.Join(plain, ",")+"\n"))
		a, b := e.Row(0), e.Row(1)
		if math.Abs(a.Offset.V-b.Offset.V) > 1e-6 || math.Abs(a.Slope.H-b.Slope.H) > 1e-6 || math.IsNaN(a.Offset.V) || a.Worst() == job.Error || b.Worst() == job.Error {
			t.Errorf("%q: %g and %g, %v %v", unit, a.Offset.V, b.Offset.V, a.Problems, b.Problems)
		}
	}
}

// Names of feet say which end and which side they are, in the trade's letters too (common practice, no source).
func TestFeetByTheirLetters(t *testing.T) {
	for name, want := range map[string][2]int{"front 9": {0, -1}, "front 3": {0, 1}, "rear 9": {1, -1}, "rear 3": {1, 1}, "FL": {0, -1}, "fr": {0, 1}, "RL": {1, -1}, "rr": {1, 1}, "IBL": {0, -1}, "IBR": {0, 1}, " obl ": {1, -1}, "OBR": {1, 1},
		"inboard left": {0, -1}, "outboard-right": {1, 1}, "left front": {0, -1}, "foot": {-1, 0}, "front": {0, 0}, "rear (3)": {1, 1}} {
		if end, side := FootWords(name); end != want[0] || side != want[1] {
			t.Errorf("%q: %d %d, want %v", name, end, side, want)
		}
	}
}

// A train's plans side by side: "only X" moves X and no other, "X stays" leaves X where it is; what is touched is counted by hand, and a coupling that cannot be judged is not judged after a plan either.
func TestPlansMoveWhatTheySay(t *testing.T) {
	j := demoJob(t, false)
	j.Record = nil
	e := work(t, j)
	only, stays, plans := 0, 0, 0
	for k := range e.Trains() {
		for _, p := range append([]TrainPlan{e.Trains()[k]}, e.TrainChoices(k)...) {
			if p.Status != TrainPossible {
				continue
			}
			plans++
			touched := 0
			moved := map[string]bool{}
			flange := false
			for _, f := range p.Feet {
				flange = flange || Known(f.Slide)
				something := math.Abs(f.Shim) >= 0.005
				if f.HasStock {
					something = len(f.Change.Take)+len(f.Change.Put) > 0 || math.Abs(f.Change.Net) >= 0.005
				}
				if something {
					touched++
				}
				if math.Abs(f.Shim) > 1e-9 || math.Abs(f.Move) > 1e-9 {
					moved[f.Machine] = true
				}
			}
			if name, ok := strings.CutPrefix(p.Plan, "only "); ok {
				only++
				for m := range moved {
					if m != name {
						t.Errorf("%s, %s: %s is moved", p.Train, p.Plan, m)
					}
				}
			}
			for m := range moved {
				if p.Plan == m+" stays" || strings.HasPrefix(p.Plan, m+" ") && strings.HasSuffix(p.Plan, "stays") {
					stays++
					t.Errorf("%s, %s: it is moved", p.Train, p.Plan)
				}
			}
			// Counted by hand: feet under which something changes, or that are pushed by a step at least; a name for both sides is two feet.
			count := 0
			for _, f := range p.Feet {
				step := math.Round(f.Move/0.05) * 0.05 // the demo's Move step
				something := math.Abs(f.Shim) >= 0.005
				if f.HasStock {
					something = len(f.Change.Take)+len(f.Change.Put) > 0 || math.Abs(f.Change.Net) >= 0.005
				}
				if something || math.Abs(step) >= 0.005 {
					if count++; !strings.HasSuffix(f.Foot, " 9") && !strings.HasSuffix(f.Foot, " 3") {
						count++
					}
				}
			}
			if !flange && count != p.Touch {
				t.Errorf("%s, %s: %d feet are touched, it says %d: %+v", p.Train, p.Plan, count, p.Touch, p.Feet)
			}
			if touched > p.Touch || p.Touch > 0 && len(moved) == 0 {
				t.Errorf("%s, %s: %d are touched, it says %d", p.Train, p.Plan, touched, p.Touch)
			}
			worst := 0
			for _, c := range p.Couplings {
				_, judged := c.Judged()
				worst = max(worst, slices.Index([]calc.Verdict{calc.Inside, calc.TooClose, calc.Outside, calc.NotJudged}, judged.Verdict))
			}
			if got := slices.Index([]calc.Verdict{calc.Inside, calc.TooClose, calc.Outside, calc.NotJudged}, p.Verdict); got != worst {
				t.Errorf("%s, %s: %v, the gravest is %d", p.Train, p.Plan, p.Verdict, worst)
			}
		}
	}
	if only < 1 || plans < 6 {
		t.Errorf("%d plans, %d of one machine", plans, only)
	}
}

// Numbers with a comma anywhere make a point between three digits doubtful; without any it is a decimal point. That follows edits too.
func TestCommasAnywhere(t *testing.T) {
	j := list(t, "Machine;Speed;Coupling to front feet;Note\nA;1480;1.234;\nB;990;5;x\n")
	e := work(t, j)
	first := func() string {
		e.Row(0)
		return fmt.Sprint(len(e.Row(0).Problems), e.Row(0).Worst() == job.Error)
	}
	plain := first()
	for _, typed := range []string{"2,5", "5", "2,5", "5"} {
		j.Machines.Rows[1] = []string{"B", "990", typed, "x"}
		e.RowsChanged(1, 2)
		fresh := work(t, j)
		if a, b := fmt.Sprint(fresh.Row(0).Problems), fmt.Sprint(e.Row(0).Problems); a != b {
			t.Errorf("%s: %s after the edit, %s anew", typed, b, a)
		}
		if (first() == plain) != (typed == "5") {
			t.Errorf("%s: %s, before %s", typed, first(), plain)
		}
	}
	j.Machines.Rows = append(j.Machines.Rows, []string{"C", "2,5"})
	e.RowsChanged(2, 3)
	if first() == plain {
		t.Error("a row that came with a comma is not counted")
	}
	j.Machines.Rows = j.Machines.Rows[:2]
	e.RowsChanged(2, 2)
	if first() != plain {
		t.Error("a row that went is counted still")
	}
	f := NewFeed(&job.Job{Machines: &job.Table{}, Settings: &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Decimal sign", "comma"}}}})
	f.Begin(1)
	for k, v := range map[string]string{"Machine": "P", "Given offset V": "0,125", "Given offset H": "0", "Given slope V": "0", "Given slope H": "0"} {
		f.Set(k, v, false)
	}
	if b, _ := answer(f, nil); !strings.Contains(string(b), `"offset_v_mm":0.125,`) {
		t.Errorf("%s", b)
	}
}

// A row that holds nothing but the header's own words, two at least, is the header again.
func TestHeaderAgain(t *testing.T) {
	for row, want := range map[string]bool{"Machine,Speed,Note": true, "machine,SPEED,": true, "Machine,,": false, ",Speed,Note": true, "Machine,1480,": false} {
		j := list(t, "Machine,Speed,Note\nP,1480,\n")
		j.Machines.Rows = append(j.Machines.Rows, strings.Split(row, ","))
		if got := work(t, j).Row(1).Kind == HeaderRow; got != want {
			t.Errorf("%s is the header: %v", row, got)
		}
	}
}

// Every check in JSON is the one on the sheet, member by member, and every problem is told whole: severity, place, cause and hint.
func TestChecksAndProblemsInJSON(t *testing.T) {
	j := demoJob(t, false)
	for _, row := range j.Checks.Rows[:3] {
		for len(row) < 9 {
			row = append(row, "")
		}
	}
	j.Checks.Header = append(slices.Clone(j.Checks.Header), "Hold")
	for i, row := range j.Checks.Rows {
		full := append(slices.Clone(row), make([]string, len(j.Checks.Header)-1-len(row))...)
		j.Checks.Rows[i] = append(full, []string{"yes", ""}[i%2])
	}
	j.Machines.Rows[3][7] = "fast" // a speed that is none
	e := work(t, j)
	checks, holds, problems := 0, 0, 0
	str := func(x any) string {
		if x == nil {
			return ""
		}
		return fmt.Sprint(x)
	}
	for _, m := range machines(t, e) {
		r := e.Row(e.RowOf(m["machine"].(string)))
		list, _ := m["checks"].([]any)
		if len(list) != len(r.Checks) {
			t.Errorf("%s: %d checks of %d", r.Name, len(list), len(r.Checks))
			continue
		}
		for k, x := range list {
			c, got := &r.Checks[k], x.(map[string]any)
			checks++
			if c.Hold {
				holds++
			}
			if got["check"] != c.Name || got["hold"] != c.Hold || got["failed"] != (c.State == CheckFailed) || got["state"] != c.State.String() || got["source"] != c.Source.String() || got["by"] != c.By || got["when"] != c.When || got["row"] != float64(c.Row) || got["value_text"] != c.Text {
				t.Errorf("%s: %v, the check is %+v", r.Name, got, c)
			}
		}
		told, _ := m["problems"].([]any)
		if len(told) != len(r.Problems) {
			t.Errorf("%s: %d problems of %d", r.Name, len(told), len(r.Problems))
			continue
		}
		for k, x := range told {
			p, got := &r.Problems[k], x.(map[string]any)
			problems++
			row := ""
			if p.Row > 0 {
				row = fmt.Sprint(p.Row)
			}
			if str(got["severity"]) != p.Severity.String() || str(got["file"]) != p.File || str(got["sheet"]) != p.Sheet || str(got["row"]) != row || str(got["column"]) != p.Column || str(got["text"]) != p.Text.String() || str(got["hint"]) != p.Hint.String() {
				t.Errorf("%s: %v, the problem is %+v", r.Name, got, p)
			}
		}
	}
	if checks < 8 || holds < 3 || problems < 4 {
		t.Errorf("%d checks, %d hold, %d problems", checks, holds, problems)
	}
}

package evaluate

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// The line that the readings of the next test are laid out from: offsets in mm, slopes in mm/m.
const (
	lineDV, lineTV, lineDH, lineTH = 0.25, -0.80, -0.15, 0.60
)

// What each dial or gauge reads of that line, written out plane by plane from the geometry: V and H are the heights of the movable shaft over
// the extended stationary one. Plunger in is positive. This is the forward problem; nothing of package calc is used.
func heights(x float64) (v, h float64) { return lineDV + lineTV*x/1000, lineDH + lineTH*x/1000 }

func readings4(f func(sin, cos float64) float64) [4]float64 {
	return [4]float64{f(0, 1), f(1, 0), f(0, -1), f(-1, 0)}
}

func cellsOf(family string, r [4]float64) (out []string) {
	for i, p := range []string{"12", "3", "6", "9"} {
		out = append(out, fmt.Sprintf("%s %s=%.9f", family, p, r[i]))
	}
	return
}

func TestMethods(t *testing.T) {
	rim := func(x, sign float64) [4]float64 {
		v, h := heights(x)
		return readings4(func(s, c float64) float64 { return 1.5 + sign*(v*c+h*s) })
	}
	face := func(d, tv, th, sign float64) [4]float64 {
		return readings4(func(s, c float64) float64 { return 2 + sign*d/2*(tv*c+th*s)/1000 })
	}
	feet := []string{"Coupling to front feet=310", "Front to rear feet=640", "Speed=1480"}
	// Spool of 400 mm: its slope in each plane goes from the stationary axis at −200 to the movable one at +200.
	v2, h2 := heights(200)
	sv, sh := v2/0.4, h2/0.4
	sweepText := func(x, sign float64) string {
		v, h := heights(x)
		var b strings.Builder
		for _, deg := range []float64{-40, 10, 77.5, 140, 200} {
			s, c := math.Sincos(deg * math.Pi / 180)
			fmt.Fprintf(&b, "%g:%.9f ", deg, 3+sign*(v*c+h*s))
		}
		return b.String()
	}
	for _, c := range []struct {
		name   string
		cells  []string
		method job.Method
	}{
		{"reverse indicator", slices.Concat(cellsOf("Movable rim", rim(120, 1)), cellsOf("Stationary rim", rim(-90, -1)),
			[]string{"Coupling to movable plane=120", "Coupling to stationary plane=90"}), job.ReverseIndicator},
		{"rim and face", slices.Concat(cellsOf("Movable rim", rim(120, 1)), cellsOf("Face", face(180, lineTV, lineTH, 1)),
			[]string{"Coupling to movable plane=120", "Face diameter=180"}), job.RimAndFace},
		{"rim and face, all on the other hub, on its back", slices.Concat(cellsOf("Stationary rim", rim(-90, -1)), cellsOf("Stationary face", face(180, lineTV, lineTH, -1)),
			[]string{"Coupling to stationary plane=90", "Face diameter=180", "Face side=back"}), job.RimAndFace},
		{"two rims", slices.Concat(cellsOf("Movable rim", rim(80, 1)), cellsOf("Second rim", rim(330, 1)),
			[]string{"Coupling to movable plane=80", "Coupling to second plane=330"}), job.TwoRims},
		{"face and face", slices.Concat(cellsOf("Stationary face", face(220, sv, sh, 1)), cellsOf("Face", face(220, lineTV-sv, lineTH-sh, 1)),
			[]string{"Face diameter=220", "Spacer length=400"}), job.FaceAndFace},
		{"straightedge and gap", slices.Concat(cellsOf("Step", rim(20, 1)), cellsOf("Gap", face(150, lineTV, lineTH, -1)),
			[]string{"Coupling to movable plane=20", "Face diameter=150"}), job.StraightedgeAndGap},
		{"sweeps", []string{"Movable sweep=" + sweepText(120, 1), "Stationary sweep=" + sweepText(-90, -1), "Coupling to movable plane=120", "Coupling to stationary plane=90"}, job.Sweeps},
		{"line", []string{"Given offset V=0.25", "Given offset H=-0.15", "Given slope V=-0.8", "Given slope H=0.6"}, job.GivenLineMethod},
		// Rising away from the coupling opens it at the bottom, so the gap at 12 is the smaller one.
		{"line by gaps", []string{"Given offset V=0.25", "Given offset H=-0.15", "Given gap 12 minus 6=0.16", "Given gap 3 minus 9=-0.12", "Face diameter=200"}, job.GivenLineMethod},
	} {
		for _, said := range []bool{false, true} {
			cells := append(slices.Clone(c.cells), feet...)
			if said {
				cells = append(cells, "Method="+c.method.String())
			}
			_, r := one(t, cells...)
			what := fmt.Sprintf("%s (said %v): ", c.name, said)
			if r.Method != c.method || r.MethodInferred == said {
				t.Errorf("%smethod %v, inferred %v", what, r.Method, r.MethodInferred)
			}
			if r.Worst() > job.Note || !r.Why.Empty() {
				t.Errorf("%s%v", what, r.Problems)
			}
			near(t, what+"offset V", r.Offset.V, lineDV, 1e-8)
			near(t, what+"offset H", r.Offset.H, lineDH, 1e-8)
			near(t, what+"slope V", r.Slope.V, lineTV, 1e-7)
			near(t, what+"slope H", r.Slope.H, lineTH, 1e-7)
			if r.Front != 0 || r.Rear != 1 {
				t.Errorf("%sfeet %d %d", what, r.Front, r.Rear)
				continue
			}
			v, h := heights(310 + 640)
			near(t, what+"rear shim", r.Calc.Feet[1].Shim, -v, 1e-7)
			near(t, what+"rear move", r.Calc.Feet[1].Move, -h, 1e-7)
			if wantSpacer := c.method == job.FaceAndFace; (r.Coupling == tables.Spacer) != wantSpacer {
				t.Errorf("%scoupling %v", what, r.Coupling)
			}
			if r.Verdict != calc.Outside {
				t.Errorf("%sverdict %v", what, r.Verdict)
			}
		}
	}
}

// TestThreeReadings: three of the four positions are enough, and a repeated 12 joins in.
func TestThreeReadings(t *testing.T) {
	_, r := one(t, change(reverse, "Movable rim 6", "Stationary rim 12", "Stationary rim 12 again=0")...)
	if !r.Why.Empty() {
		t.Error(r.Problems)
	}
	near(t, "offset V", r.Offset.V, 0.10, 1e-12)
	near(t, "slope H", r.Slope.H, 0.2, 1e-12)
	_, r = one(t, change(reverse, "Movable rim 6", "Movable rim 9")...)
	says(t, r, job.Error, "Movable rim 6 is missing", "three positions")
	_, r = one(t, change(reverse, "Movable rim 6", "Movable rim 9", "Movable rim 12 again=0")...)
	says(t, r, job.Error, "Movable rim 6 is missing")
}

func TestUnitOfACell(t *testing.T) {
	// The cell's own unit beats the header's, and that the job's.
	for _, c := range []struct {
		units, header, cell string
		want                float64
	}{
		{"metric", "Front to rear feet", "500", 500},
		{"metric", "Front to rear feet [in]", "500", 12700},
		{"metric", "Front to rear feet [in]", "500 mm", 500},
		{"inch", "Front to rear feet", "20", 508},
		{"inch", "Front to rear feet (mm)", "20", 20},
		{"inch", "Front to rear feet (mm)", "10 1/8 in", 257.175},
	} {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows = []string{"Machine", c.header}, [][]string{{"p", c.cell}}
		with(t, j, job.SettingsSheet, "Units,"+c.units+"\n")
		e := work(t, j)
		e.readRow(0, e.Row(0))
		near(t, fmt.Sprint(c), e.sc.val[job.ColFrontToRear], c.want, 1e-9)
	}
	// A unit nobody knows rules out bare numbers, not those with a unit of their own.
	cells := change(reverse, "Coupling to front feet", "Coupling to front feet [furlong]=300")
	e, r := one(t, cells...)
	says(t, r, job.Error, "Coupling to front feet", "unit")
	if len(e.Problems()) != 1 || !strings.Contains(e.Problems()[0].Text.String(), "furlong") {
		t.Error(e.Problems())
	}
	if r.Verdict != calc.Outside || r.Front >= 0 {
		t.Error(r.Verdict, r.Front)
	}
	_, r = one(t, change(cells, "Coupling to front feet [furlong]=300 mm")...)
	if !r.Why.Empty() || r.Front != 0 {
		t.Error(r.Why)
	}
}

func TestDecimalSigns(t *testing.T) {
	comma := change(reverse)
	for i := range comma {
		comma[i] = strings.ReplaceAll(comma[i], ".", ",")
	}
	_, r := one(t, comma...)
	if !r.Why.Empty() {
		t.Error(r.Why)
	}
	near(t, "offset V", r.Offset.V, 0.10, 1e-12)
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows = []string{"Machine"}, [][]string{{"pump"}}
	add(j, reverse...)
	with(t, j, job.SettingsSheet, "Decimal sign;comma\n")
	says(t, work(t, j).Row(0), job.Error, "Movable rim 3", "comma")
}

func TestMissingDistances(t *testing.T) {
	for _, c := range []struct {
		gone, hint string
		line, feet bool
	}{
		{"Coupling to movable plane", "write 0 if", false, false},
		{"Coupling to stationary plane", "write 0 if", false, false},
		{"Coupling to front feet", "stand without it", true, false},
		{"Front to rear feet", "stand without it", true, false},
	} {
		_, r := one(t, change(reverse, c.gone)...)
		says(t, r, job.Error, c.gone+" is missing", c.hint)
		if r.HasLine() != c.line || (r.Front >= 0) != c.feet || !strings.Contains(r.Why.String(), c.gone+" is missing") {
			t.Errorf("without %s: line %v, feet %d, why %q", c.gone, r.HasLine(), r.Front, r.Why)
		}
		if want := map[bool]calc.Verdict{true: calc.Outside}[c.line]; r.Verdict != want {
			t.Errorf("without %s: %v", c.gone, r.Verdict)
		}
		if n := len(r.Problems); n != 1 {
			t.Errorf("without %s: %d problems %v", c.gone, n, r.Problems)
		}
	}
	// Zero is not missing.
	if _, r := one(t, change(reverse, "Coupling to stationary plane=0")...); !r.HasLine() {
		t.Error(r.Why)
	}
	if _, r := one(t, change(reverse, "Coupling to stationary plane=-100")...); r.HasLine() {
		t.Error("a distance with a sign was taken")
	}
	_, r := one(t, change(reverse, "Coupling to front feet", "Front to rear feet")...)
	says(t, r, job.Error, "Coupling to front feet and Front to rear feet are missing")
	// A face needs its diameter once, though two sweeps ask.
	_, r = one(t, append(cellsOf("Face", [4]float64{0, 1, 2, 1}), cellsOf("Stationary face", [4]float64{0, 1, 2, 1})...)...)
	says(t, r, job.Error, "Face diameter is missing")
	says(t, r, job.Error, "Spacer length is missing")
	if n := strings.Count(r.Why.String(), "Face diameter"); n != 1 {
		t.Error(r.Why)
	}
}

func TestChains(t *testing.T) {
	_, r := one(t, change(reverse, "Coupling to movable plane", "Stationary plane to movable plane=200", "Coupling to front feet", "Movable plane to front feet=200")...)
	if !r.Why.Empty() {
		t.Fatal(r.Why)
	}
	near(t, "slope V", r.Slope.V, 0.5, 1e-12)
	near(t, "front feet at", r.Calc.Feet[0].Station, 300, 0)
	_, r = one(t, change(reverse, "Stationary plane to movable plane=230")...)
	says(t, r, job.Error, "Stationary plane to movable plane", "230 mm", "200 mm")
	_, r = one(t, change(reverse, "Movable plane to front feet=230")...)
	says(t, r, job.Error, "Movable plane to front feet", "330 mm")
	if !r.HasLine() || r.Front >= 0 {
		t.Error("the feet are not known, the line is")
	}
	_, r = one(t, change(reverse, "Coupling to movable plane", "Stationary plane to movable plane=50")...)
	says(t, r, job.Error, "less than Coupling to stationary plane")
}

func TestFurtherFeet(t *testing.T) {
	for _, text := range []string{"1200; 500", "1200 500", "1200 mm 500 mm", "120 cm;50cm"} {
		_, r := one(t, append(change(reverse), "Further feet="+text)...)
		if len(r.Calc.Feet) != 4 || r.Front != 0 || r.Rear != 2 || !slices.Equal(r.Further, []int{3, 1}) {
			t.Fatalf("%s: %d feet, %d, %d, %v %s", text, len(r.Calc.Feet), r.Front, r.Rear, r.Further, r.Why)
		}
		near(t, text, r.Calc.Feet[r.Further[0]].Shim, -(0.10 + 0.5*1.2), 1e-12)
	}
	for _, bad := range []string{"800", "1200;x", "-5"} {
		_, r := one(t, append(change(reverse), "Further feet="+bad)...)
		says(t, r, job.Error, "Further feet")
		if r.Verdict != calc.Outside {
			t.Error(bad, r.Verdict)
		}
	}
}

func TestUncertainty(t *testing.T) {
	u := func(cells ...string) float64 {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows = []string{"Machine"}, [][]string{{"pump"}}
		add(j, change(reverse, cells...)...)
		return work(t, with(t, j, job.SettingsSheet, "Distance uncertainty,0\n")).Row(0).Offset.UV
	}
	// Half-differences of two readings of standard uncertainty s, the mean of two planes: s/2; expanded twice that.
	want := func(g, rep float64) float64 { return math.Sqrt(g*g/12 + rep*rep) }
	near(t, "assumed", u(), want(tables.DialMetric.Graduation, tables.DialMetric.Repeatability), 1e-12)
	near(t, "own", u("Graduation=0.02", "Repeatability=0.01"), want(0.02, 0.01), 1e-12)
	near(t, "own graduation", u("Graduation=2 mil"), want(0.0508, tables.DialMetric.Repeatability), 1e-12)
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows = []string{"Machine"}, [][]string{{"pump"}}
	add(j, reverse...)
	with(t, j, job.SettingsSheet, "Graduation,0.05\nRepeatability,0.002\nDistance uncertainty,0\n")
	near(t, "job", work(t, j).Row(0).Offset.UV, want(0.05, 0.002), 1e-12)
	gap := slices.Concat(cellsOf("Step", [4]float64{0, 0, 0, 0}), cellsOf("Gap", [4]float64{0, 0, 0, 0}), []string{"Coupling to movable plane=0", "Face diameter=150", "Speed=1480"})
	_, r := one(t, gap...)
	near(t, "feeler", r.Offset.UV, 2*want(tables.FeelerMetric.Graduation, tables.FeelerMetric.Repeatability)/math.Sqrt2, 1e-12)
	_, r = one(t, "Given offset V=0", "Given offset H=0", "Given slope V=0", "Given slope H=0", "Speed=1480", "Graduation=0.1")
	near(t, "given", r.Offset.UV, 2*want(0.1, tables.GivenLine.Repeatability), 1e-12)
	near(t, "given slope", r.Slope.UH, 2*tables.GivenSlope, 1e-12)
}

func TestLimits(t *testing.T) {
	_, r := one(t, reverse...)
	row, _ := tables.LimitSets()[0].At(tables.Flexible, 1480)
	if r.Limits.Offset != row.Offset || r.Limits.Slope != row.Slope || r.Limits.Set != tables.LimitSets()[0].Name || r.Limits.UpTo != 1800 {
		t.Errorf("%+v", r.Limits)
	}
	_, r = one(t, change(reverse, "Offset limit=0.05")...)
	if r.Limits.Offset != 0.05 || r.Limits.Slope != row.Slope || !r.Limits.OwnOffset || r.Limits.OwnSlope {
		t.Errorf("%+v", r.Limits)
	}
	_, r = one(t, change(reverse, "Offset limit=0.5", "Slope limit=2", "Speed")...)
	if r.Verdict != calc.Inside || r.Limits.Set != "" || !r.Why.Empty() {
		t.Errorf("%v %+v %s", r.Verdict, r.Limits, r.Why)
	}
	near(t, "share", r.Calc.Found.Share, math.Hypot(0.5, 0.2)/2, 1e-9)
	for _, c := range []struct {
		cells []string
		words []string
	}{
		{[]string{"Speed"}, []string{"Speed is missing"}},
		{[]string{"Speed=9000"}, []string{"9000", "3600", "published"}},
		{[]string{"Limits=by speed"}, []string{"by speed", "from memory", "published"}},
		{[]string{"Coupling=universal"}, []string{"published has no limits for a universal coupling"}},
		{[]string{"Speed=fast"}, []string{"Speed", "fast"}},
		{[]string{"Speed=0"}, []string{"Speed"}},
		{[]string{"Limits=house rules"}, []string{"house rules", "published"}},
		{[]string{"Offset limit=0"}, []string{"Offset limit"}},
	} {
		e, r := one(t, change(reverse, c.cells...)...)
		says(t, r, job.Error, c.words...)
		near(t, "offset V", r.Offset.V, 0.1, 1e-12) // the numbers stay
		if r.Verdict != calc.NotJudged || r.Front != 0 || r.Why.Empty() {
			t.Errorf("%v: %v, feet %d, why %q", c.cells, r.Verdict, r.Front, r.Why)
		}
		if m := machines(t, e)[0]; m["verdict"] != "not judged" || m["front_shim_mm"] == nil {
			t.Errorf("%v: %v", c.cells, m)
		}
	}
}

// TestStricterHolds: a coupling maker's maximum typed on the row, 0.5 mm at 1480 rpm, was believed and the machine called inside. Of the row's limit and the set's the
// stricter holds unless a reason stands beside it, and everything says which held and where it comes from.
//
// evidence: calc=limits by speed grade=published count=4 source=coupling makers' limits may be excessive for the machine: H. P. Bloch and F. K. Geitner, Machinery Component Maintenance and Repair, p. 176; US Army TM 10-4320-307-24 p. 3-13
func TestStricterHolds(t *testing.T) {
	set, _ := tables.LimitSets()[0].At(tables.Flexible, 1480)
	cells := []string{"Given offset V=0.3", "Given offset H=0", "Given slope V=0", "Given slope H=0", "Speed=1480", "Coupling to front feet=300", "Front to rear feet=500", "Offset limit=0.5"}
	e, r := one(t, cells...)
	says(t, r, job.Warning, "Offset limit 0.5 mm is looser than 0.102 mm of the limit set published", "Limit reason")
	if r.Limits.Offset != set.Offset || r.Limits.OwnOffset || !r.Limits.LooserRefused || r.Verdict != calc.Outside {
		t.Errorf("%+v %v", r.Limits, r.Verdict)
	}
	lim := machines(t, e)[0]["limits"].(map[string]any)
	if lim["looser_refused"] != true || lim["reason"] != "" || lim["offset_mm"] != set.Offset {
		t.Error(lim)
	}
	held := func(e *Evaluator) string { return string(AboveText(nil, e, e.Row(0), job.ResultLimitHeld)) }
	if s := held(e); !strings.Contains(s, "offset 0.102 mm") || !strings.Contains(s, "Nelik") || !strings.Contains(s, "looser, has no reason") {
		t.Error(s)
	}
	e, r = one(t, change(cells, "Limit reason=pump maker's manual, sheet 4")...)
	if r.Limits.Offset != 0.5 || !r.Limits.OwnOffset || r.Limits.LooserRefused || r.Verdict != calc.Inside {
		t.Errorf("%+v %v", r.Limits, r.Verdict)
	}
	if s := held(e); !strings.Contains(s, "pump maker's manual, sheet 4") || !strings.Contains(s, "looser") {
		t.Error(s)
	}
	if lim := machines(t, e)[0]["limits"].(map[string]any); lim["looser_used"] != true || lim["reason"] != "pump maker's manual, sheet 4" {
		t.Error(lim)
	}
	// A limit as strict as the set's or stricter needs no reason, also on the slope; one that no set can be held against says so.
	if _, r = one(t, change(cells, "Offset limit=4 mil", "Slope limit=0.2")...); !r.Limits.OwnOffset || !r.Limits.OwnSlope || r.Limits.Slope != 0.2 || r.Limits.LooserRefused {
		t.Errorf("%+v", r.Limits)
	}
	e, r = one(t, change(cells, "Slope limit=1", "Speed")...)
	if s := held(e); r.Limits.Alone == nil || !strings.Contains(s, "not compared with a limit set: Speed is missing") {
		t.Errorf("%+v %s", r.Limits, s)
	}
}

func TestGrowth(t *testing.T) {
	grow := change(reverse, "Growth movable front V=0.30", "Growth movable rear V=0.40", "Growth stationary near V=0.10", "Growth stationary far V=0.20",
		"Stationary near support=250", "Stationary far support=750", "Running offset H=0.05", "Running slope V=0.1")
	_, r := one(t, grow...)
	// By hand: movable growth 0.30 at 300 and 0.40 at 800: 0.24 + 0.2 x/1000. Stationary 0.10 at −250 and 0.20 at −750: 0.05 − 0.2 x/1000.
	near(t, "wanted offset V", r.Wanted.DV, -(0.24 - 0.05), 1e-12)
	near(t, "wanted slope V", r.Wanted.TV, -(0.2+0.2)+0.1, 1e-12)
	near(t, "wanted offset H", r.Wanted.DH, 0.05, 1e-12)
	near(t, "front shim", r.Calc.Feet[0].Shim, r.Wanted.DV+r.Wanted.TV*0.3-(0.10+0.5*0.3), 1e-12)
	near(t, "offset as found", r.Offset.V, 0.10, 1e-12)
	near(t, "offset against the wanted line", r.Calc.Found.Offset.V, 0.10+0.19, 1e-12)
	// Equal growths need no distances.
	_, r = one(t, change(reverse, "Coupling to front feet", "Front to rear feet", "Growth movable front V=0.3", "Growth movable rear V=0.3", "Growth stationary near V=0.1", "Growth stationary far V=0.1")...)
	near(t, "wanted offset V", r.Wanted.DV, -0.2, 1e-12)
	if r.Verdict != calc.Outside {
		t.Error(r.Verdict, r.Why)
	}
	for _, c := range []struct {
		cells []string
		words []string
	}{
		{[]string{"Growth movable rear V"}, []string{"Growth movable rear V is missing", "0 if"}},
		{[]string{"Growth stationary near V"}, []string{"Growth stationary near V is missing"}},
		{[]string{"Stationary near support"}, []string{"Stationary near support is missing"}},
		{[]string{"Stationary far support=250"}, []string{"Stationary far support", "250 mm"}},
		{[]string{"Growth movable rear V=hot"}, []string{"Growth movable rear V"}},
		{[]string{"Front to rear feet"}, []string{"Front to rear feet is missing"}},
	} {
		_, r := one(t, change(grow, c.cells...)...)
		says(t, r, job.Error, c.words...)
		near(t, "offset as found", r.Offset.V, 0.10, 1e-12)
		if r.Verdict != calc.NotJudged || r.Front >= 0 || !math.IsNaN(r.Calc.Found.Share) || !math.IsNaN(r.Wanted.DV) {
			t.Errorf("%v: %v, %d, %v", c.cells, r.Verdict, r.Front, r.Calc.Found.Share)
		}
	}
}

func TestNames(t *testing.T) {
	csv := "Machine,Speed,Given offset V,Given offset H,Given slope V,Given slope H,Order\n" +
		"P 1,1480,0.01,0,0,0,a\n\n\"p  1 \",1480,0.01,0,0,0,b\n,1480,0.01,0,0,0,c\n,,,,,,only unknown\nMachine,Speed,Given offset V,,,,\nP 2,1480,0.01,0,0,0,d\n"
	e := work(t, list(t, csv))
	for i, k := range []RowKind{MachineRow, BlankRow, MachineRow, MachineRow, LeftOutRow, HeaderRow, MachineRow} {
		if got := e.Row(i).Kind; got != k {
			t.Errorf("row %d is %v, want %v", i, got, k)
		}
	}
	says(t, e.Row(2), job.Error, "row 2")
	if e.Row(0).Verdict != calc.Inside || e.Row(2).Verdict != calc.NotJudged || e.Row(2).Offset.V != 0.01 {
		t.Error(e.Row(0).Why, e.Row(2).Verdict, e.Row(2).Offset.V)
	}
	if r := e.Row(3); r.Name != "row 5" || r.HasLine() || r.Verdict != calc.NotJudged { // it was computed and ordered for: it may be a total
		t.Error(r.Name, r.Verdict)
	}
	says(t, e.Row(3), job.Error, "no machine")
	says(t, e.Row(5), job.Warning, "header")
	if m, v := e.Count(); m != 4 || v != [4]int{2, 2, 0, 0} {
		t.Error(m, v)
	}
}

func TestColumnTwice(t *testing.T) {
	csv := "Machine,Speed,rpm,Given offset V,Given offset H,Given slope V,Given slope H,Front feet,Feet distance\nA,1500,25 Hz,0,0,0,0,300,500\nB,1480,1480,0,0,0,0,300,500\n" +
		"C,1480,980,0,0,0,0,300,500\nD,,980,0,0,0,0,300,500\n"
	e := work(t, list(t, csv))
	n := 0
	for _, p := range e.Problems() {
		if strings.Contains(p.Text.String(), "columns 2 and 3") && p.Severity == job.Warning {
			n++
		}
	}
	if n != 1 {
		t.Error(e.Problems())
	}
	if !e.Row(0).Why.Empty() || !e.Row(1).Why.Empty() || !e.Row(3).Why.Empty() || e.Row(3).Speed != 980 {
		t.Error(e.Row(0).Why, e.Row(1).Why, e.Row(3).Why)
	}
	says(t, e.Row(2), job.Error, "Speed", "1480", "980")
	if e.Row(2).HasLine() || e.Row(2).Verdict != calc.NotJudged {
		t.Error("a row with two values was computed")
	}
	if p := e.CellProblem(2, 2); p == nil || p.Column != "Speed" {
		t.Error(p)
	}
}

func TestBadCells(t *testing.T) {
	for _, c := range []struct {
		cell          string
		sev           job.Severity
		line, verdict bool
	}{
		{"Movable rim 3=abc", job.Error, false, false},
		{"Movable sag at 6=x", job.Error, false, false},
		{"Method=by eye", job.Error, false, false},
		{"Coupling to movable plane=12,5,0", job.Error, false, false},
		{"Coupling to front feet=x", job.Error, true, true},
		{"Gap 12=x", job.Error, false, false}, // gives another method
		{"Front room up=x", job.Warning, true, true},
		{"Bolts=x", job.Warning, true, true},
		{"Further feet=x", job.Error, true, true},
		{"Movable sag at 6=0.05", job.Error, true, false},
		{"Seen from=the road", job.Error, false, false},
		{"Cold offset V=x", job.Error, true, false},
		{"Graduation=fine", job.Error, true, false},
		{"Repeatability=-1", job.Error, true, false},
		{"Movable sweep=0:0 90:x", job.Error, false, false},
	} {
		cells := change(reverse, c.cell)
		e, r := one(t, cells...)
		if r.HasLine() != c.line || (r.Verdict != calc.NotJudged) != c.verdict {
			t.Errorf("%s: line %v, verdict %v, %v", c.cell, r.HasLine(), r.Verdict, r.Problems)
		}
		h, _, _ := strings.Cut(c.cell, "=")
		says(t, r, c.sev, h)
		for i, head := range e.Job().Machines.Header {
			if head == h {
				if p := e.CellProblem(0, i); p == nil || p.Severity != c.sev {
					t.Errorf("%s: cell problem %v", c.cell, p)
				}
			}
		}
	}
	// A reading that the said method does not use spoils nothing.
	_, r := one(t, change(reverse, "Method=reverse indicator", "Gap 12=x")...)
	if r.Verdict != calc.Outside || !r.Why.Empty() {
		t.Error(r.Verdict, r.Why)
	}
	says(t, r, job.Warning, "Gap 12")
	// No readings at all, and a family that is missing.
	_, r = one(t, "Speed=1480")
	says(t, r, job.Error, "no readings")
	_, r = one(t, change(reverse, "Method=two rims")...)
	says(t, r, job.Error, "Second rim readings are missing", "Second rim 12, 3, 6 and 9")
	_, r = one(t, change(reverse, "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9")...)
	says(t, r, job.Error, "one plane")
}

func TestChecksAreWorded(t *testing.T) {
	e, r := one(t, change(reverse, "Movable rim 9=0.13")...) // a sign turned
	says(t, r, job.Error, "Movable rim", "0.26 mm", "limit")
	if r.Verdict != calc.NotJudged || len(r.Calc.Feet) != 0 {
		t.Error(r.Verdict)
	}
	if !slices.ContainsFunc(r.Hints, func(h words.Phrase) bool {
		return strings.Contains(h.String(), "Movable rim at 9") && strings.Contains(h.String(), "sign")
	}) {
		t.Error(r.Hints)
	}
	m := machines(t, e)[0]
	near(t, "balance", math.Abs(m["sweep_checks"].([]any)[0].(map[string]any)["balance_mm"].(float64)), 0.26, 1e-12)
	_, r = one(t, change(reverse, "Stationary rim 12 again=0.08")...)
	says(t, r, job.Error, "Stationary rim", "0.08 mm", "0.02 mm")
}

func FuzzSweepText(f *testing.F) {
	for _, s := range []string{"0:0 45:-0.12", "0:0;3h:1 mil", ":", "1:2:3", "0:1 1/8 in 90:2", "°:"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		job.LoadColumns()
		a, r, text, _ := job.ParseSweep(s, job.QThickness.Unit(false), 0, nil, nil)
		if len(a) != len(r) {
			t.Fatalf("%q: %d angles, %d readings", s, len(a), len(r))
		}
		if text == "" && strings.Count(s, ":") != len(a) {
			t.Fatalf("%q: %d colons, %d readings", s, strings.Count(s, ":"), len(a))
		}
		for i := range a {
			if math.IsNaN(a[i]) || math.IsNaN(r[i]) || math.IsInf(r[i], 0) {
				t.Fatalf("%q: %v %v", s, a, r)
			}
		}
		job.ParseDistances(s, job.QDistance.Unit(true), 0, nil)
	})
}

func TestLongReadings(t *testing.T) {
	base := "Machine,Speed,Coupling to stationary plane,Coupling to movable plane,Movable rim 12,Movable rim 3\nP 1,1480,100,100,9,9\nP 2,1480,100,100,,\n"
	long := "Readings of the second visit\nMachine,Sweep,Angle,Reading [mm]\n" +
		"p 1,Movable rim,0,0\np 1,Movable rim,3 o'clock,-0.17\np 1,Movable rim,180,-0.30\nP 1,M rim,270°,-0.13\n" +
		"P 1,Stationary rim,12 o'clock,0\nP 1,Stationary rim,3h,0.11\nP 1,Stationary rim,180,0.10\n\nP 1,Stationary rim,270,-0.01\n"
	e := work(t, with(t, list(t, base), job.ReadingsSheet, long))
	r := e.Row(0)
	near(t, "offset V", r.Offset.V, 0.10, 1e-12)
	near(t, "slope H", r.Slope.H, 0.2, 1e-12)
	says(t, r, job.Warning, "Readings sheet")
	if r.Method != job.Sweeps || !r.MethodInferred || len(e.Problems()) > 0 {
		t.Error(r.Method, e.Problems())
	}
	says(t, e.Row(1), job.Error, "no readings")

	e = work(t, with(t, list(t, base), job.ReadingsSheet, long+"P 9,Movable rim,0,0\nP 1,Rim of nobody,0,0\nP 2,Face,0,x\n"))
	var all []string
	for _, p := range e.Problems() {
		all = append(all, p.String())
	}
	for _, w := range []string{`row 12, Machine: "P 9" is not on the Machines sheet`, "row 13, Sweep", "row 14, Reading"} {
		if !slices.ContainsFunc(all, func(s string) bool { return strings.HasPrefix(s, "Readings "+w) }) {
			t.Errorf("nothing says %q: %q", w, all)
		}
	}
	says(t, e.Row(0), job.Error, "row 13")
	says(t, e.Row(1), job.Error, "row 14")
	if e.Row(0).HasLine() {
		t.Error("a line from readings that are not all there")
	}
	// A new name on the Machines sheet settles the stray reading.
	e.Job().Machines.Rows = append(e.Job().Machines.Rows, []string{"P 9"})
	e.RowsChanged(2, 3)
	if slices.ContainsFunc(e.Problems(), func(p job.Problem) bool { return strings.Contains(p.Text.String(), "P 9") }) {
		t.Error(e.Problems())
	}
}

func TestSettings(t *testing.T) {
	j := list(t, "Machine\nP 1\n")
	with(t, j, job.SettingsSheet, "The spring job\nName,Spring\nSite,\"Marrow Ridge\"\nUnits,inch\nDecimal sign,point\nCold temperature,50\nPack pieces at most,12\nBalance share,0.1\nPack tolerance,-1\nColour,blue\nSite,elsewhere\nDefault limits,none\nDefault coupling,spacer\nGraduation [mm],0.02\n")
	e := work(t, j)
	near(t, "cold", e.set.cold, 10, 1e-9)
	near(t, "graduation", e.set.dial.Graduation, 0.02, 1e-12)
	if !e.Inch() || e.Setting("site") != "Marrow Ridge" || e.Setting("name") != "Spring" || e.set.coupling != tables.Spacer || e.set.pieces != tables.MaxPieces {
		t.Errorf("%+v", e.set)
	}
	var all []string
	for _, p := range e.Problems() {
		all = append(all, p.String())
	}
	for _, w := range []string{"row 7, Pack pieces at most", "row 8, Balance share", "row 9, Pack tolerance", "row 10", "row 11, Site", "row 12, Default limits"} {
		if !slices.ContainsFunc(all, func(s string) bool { return strings.HasPrefix(s, "Job "+w) }) {
			t.Errorf("nothing says %q: %q", w, all)
		}
	}
	j = list(t, "Machine,Given offset V,Given offset H,Given slope V,Given slope H\nP 1,0,0,0,0\n")
	e = work(t, with(t, j, job.SettingsSheet, "Units,metrical\n"))
	says(t, e.Row(0), job.Error, "Units")
	if e.Row(0).HasLine() {
		t.Error("numbers without knowing the units")
	}
}

func TestStock(t *testing.T) {
	shim := change(reverse, "Given offset V=-0.35") // offset 0 slope 0.5 … only to have shims of −0.25 and −0.50
	e, r := one(t, shim...)
	if m := machines(t, e)[0]; m["front_pack_mm"] != nil || m["front_remove_mm"] == nil {
		t.Error(m["front_pack_mm"], m["front_remove_mm"])
	}
	near(t, "front", r.Calc.Feet[0].Shim, -0.25, 1e-12)
	j := e.Job()
	with(t, j, job.StockSheet, "Thickness,Pieces on hand\n0.2,5\n0.05,\n1,0\n,7\nthick,1\n0.1,many\n")
	e.Refresh()
	if f := e.Row(0).Calc.Feet[0]; !slices.Equal(f.Pack.Pieces, []float64{0.2, 0.05}) {
		t.Error(f.Pack)
	}
	if n := len(e.Problems()); n != 3 {
		t.Error(e.Problems())
	}
	// What the stock cannot reach is said.
	with(t, j, job.StockSheet, "Thickness\n0.05\n")
	e.Refresh()
	says(t, e.Row(0), job.Warning, "both rear feet need 0.5 mm each", "0.20 mm")
	with(t, j, job.StockSheet, "Thickness\n0.05\n0.05\n0\n")
	e.Refresh()
	if len(e.Problems()) != 1 {
		t.Error(e.Problems())
	}
}

// TestEditsAgreeWithAFreshStart changes cells, names and the number of rows one after another; each time the evaluator that was told must give what
// a new one gives.
func TestEditsAgreeWithAFreshStart(t *testing.T) {
	tab, _, _ := job.ReadDelimited("Machines", bigList(60), 0)
	tab.SplitHeader(job.MachinesSheet)
	j := &job.Job{Machines: tab}
	e := work(t, j)
	same := func(what string) {
		t.Helper()
		fresh := work(t, j)
		if e.Len() != fresh.Len() {
			t.Fatalf("%s: %d rows, want %d", what, e.Len(), fresh.Len())
		}
		for i := range e.Len() {
			if a, b := string(e.AppendRowJSON(nil, i)), string(fresh.AppendRowJSON(nil, i)); a != b {
				t.Fatalf("%s, row %d:\n%s\n%s", what, i, a, b)
			}
		}
	}
	edit := func(i, col int, text string) {
		row := slices.Clone(tab.Rows[i])
		row[col] = text
		tab.Rows[i] = row
		e.RowsChanged(i, i+1)
	}
	edit(7, 9, "x")
	same("a bad reading")
	edit(7, 9, "0")
	same("mended")
	edit(20, 0, "P-3")
	same("a name that stands twice")
	edit(3, 0, "P-300")
	same("the first of the two renamed")
	edit(20, 0, "P-20")
	same("back")
	tab.Rows = slices.Insert(tab.Rows, 10, []string{"P-40", "", "1480"}, nil)
	e.RowsChanged(10, 12)
	same("two rows put in")
	tab.Rows = slices.Delete(tab.Rows, 0, 30)
	e.RowsChanged(0, 1)
	same("thirty rows taken out")
	tab.Rows = append(tab.Rows, slices.Clone(tab.Rows[5]))
	e.RowsChanged(len(tab.Rows)-1, len(tab.Rows))
	same("a row at the end")
	tab.Header[2] = "Order"
	e.Refresh()
	same("the header changed")
	tab.Rows = nil
	e.RowsChanged(0, 0)
	same("nothing left")
}

// TestRowsStandAlone: whatever stands in one row, the others give what they gave.
func TestRowsStandAlone(t *testing.T) {
	tab, _, _ := job.ReadDelimited("Machines", bigList(30), 0)
	tab.SplitHeader(job.MachinesSheet)
	clean := work(t, &job.Job{Machines: tab})
	spoilt := *tab
	spoilt.Rows = slices.Clone(tab.Rows)
	junk := []string{"x", "=1+1", "1e999", "0:0", "\x00", strings.Repeat("9", 300), "12,5,0", "spacer", "-", "—", "1/0", "NaN"}
	for i := 1; i < len(spoilt.Rows); i += 2 {
		row := slices.Clone(spoilt.Rows[i])
		for k := range row {
			if k > 0 {
				row[k] = junk[(i+k)%len(junk)]
			}
		}
		spoilt.Rows[i] = row[:len(row)-i%5]
	}
	e := work(t, &job.Job{Machines: &spoilt})
	for i := 0; i < len(tab.Rows); i += 2 {
		if a, b := string(clean.AppendRowJSON(nil, i)), string(e.AppendRowJSON(nil, i)); a != b {
			t.Errorf("row %d changed:\n%s\n%s", i, a, b)
		}
		if i > 0 && e.Row(i-1).Verdict != calc.NotJudged {
			t.Errorf("row %d of junk is %v", i-1, e.Row(i-1).Verdict)
		}
	}
}

func TestRunEndsWithItsContext(t *testing.T) {
	tab, _, _ := job.ReadDelimited("Machines", bigList(3000), 0)
	tab.SplitHeader(job.MachinesSheet)
	e := NewEvaluator(&job.Job{Machines: tab})
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	err := e.Run(ctx, func(done, total int) {
		calls++ // the first of the workers tells, whichever pieces it takes
		cancel()
		if total != 3000 || done >= total {
			t.Errorf("%d of %d in all", done, total)
		}
	})
	if !errors.Is(err, context.Canceled) || calls != 1 {
		t.Error(err, calls)
	}
	if err := e.Run(context.Background(), nil); err != nil {
		t.Error(err)
	}
	if m, _ := e.Count(); m != 3000 {
		t.Error(m)
	}
	if e.Row(3000) != nil || e.Row(-1) != nil {
		t.Error("rows that are not there")
	}
}

func TestNoHeader(t *testing.T) {
	for _, csv := range []string{"P 1,1480,0,0\n", "Order,Colour\n1,red\n"} {
		e := work(t, list(t, csv))
		if ps := e.Problems(); len(ps) != 1 || ps[0].Severity != job.Error || ps[0].Hint.Empty() {
			t.Errorf("%q: %v", csv, ps)
		}
		if m, _ := e.Count(); m != 0 {
			t.Errorf("%q: %d couplings", csv, m)
		}
	}
	e := work(t, job.NewJob())
	if len(e.Problems()) > 0 || e.Len() != 0 {
		t.Error(e.Problems())
	}
}

func TestSolveMemoryIsUsedAgain(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector allocates")
	}
	tab, _, _ := job.ReadDelimited("Machines", bigList(1), 0)
	tab.SplitHeader(job.MachinesSheet)
	e := work(t, &job.Job{Machines: tab})
	before := fmt.Sprintf("%+v", e.Row(0).Calc)
	if n := testing.AllocsPerRun(50, func() { e.evalRow(0) }); n > 0 {
		t.Errorf("%v allocations a row", n)
	}
	if after := fmt.Sprintf("%+v", e.Row(0).Calc); after != before || !reflect.DeepEqual(e.Row(0).Sweeps, []SweepInfo{{"Movable rim", 4, true, true, 0, 0}, {"Stationary rim", 4, true, true, 0, 0}}) {
		t.Error("worked out again it differs")
	}
}

// A reading hundreds of times its division was computed without a word where the limit was not known, or the row far out.
func TestUnitIsAsked(t *testing.T) {
	in := []string{"Movable rim 12=0", "Movable rim 3=-17", "Movable rim 6=-30", "Movable rim 9=-13", "Stationary rim 12=0", "Stationary rim 3=11", "Stationary rim 6=10", "Stationary rim 9=-1"}
	_, r := one(t, change(reverse, append(in, "Speed")...)...)
	if len(r.Findings) == 0 || r.Findings[0].Kind != calc.AllTooLarge {
		t.Error(r.Findings)
	}
	_, r = one(t, change(reverse, in...)...)
	says(t, r, job.Warning, "too large for their unit")
	_, r = one(t, reverse...)
	if len(r.Findings) > 0 {
		t.Error(r.Findings)
	}
	_, r = one(t, change(reverse, "Graduation=0")...)
	if r.Verdict == calc.NotJudged || !(r.Offset.UV > 0) {
		t.Error(r.Verdict, r.Why)
	}
	_, r = one(t, change(reverse, "Graduation=0", "Repeatability=0")...)
	says(t, r, job.Error, "both 0")
	_, a := one(t, "Given offset V=0.1", "Given offset H=0", "Given slope V=0.1", "Given slope H=0", "Speed=1480", "Given offset ±=0.03", "Slope ±=0.2")
	near(t, "± of a given offset", a.Offset.UV, 0.03, 1e-12)
	near(t, "± of a given slope", a.Slope.UV, 0.2, 1e-12)
}

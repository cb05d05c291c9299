package sheet

import (
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

// boxed makes a job of the row with a Stock sheet and a Strip class on the Job sheet, "" none.
func boxed(t *testing.T, class, stock string, cells ...string) (*Evaluator, *RowResult) {
	t.Helper()
	more := []string{"Stock", stock}
	if class != "" {
		more = append(more, "Job", "Setting,Value\nStrip class,"+class+"\n")
	}
	if len(cells) == 0 {
		cells = change(reverse, "Given offset V=-0.35") // shims of −0.25 and −0.50
	}
	return grown(t, cells, more...)
}

func lastOf(e *Evaluator) string {
	var s string
	for _, x := range e.Sentences(0) {
		if x.Kind == SentenceAfter {
			s += x.Text + "\n"
		}
	}
	return s
}

// TestStripClass: where the tolerance of a line comes from. Values of EN ISO 9445-1 and SAE AMS 6387 as the tables hold them.
func TestStripClass(t *testing.T) {
	for _, c := range []struct {
		class, stock string
		tol          []float64 // of each line; NaN not known
		problems     string    // a part of the one problem, "" none
	}{
		{"", "Thickness\n0.2\n0.3\n", []float64{0, 0}, ""},
		{"", "Thickness,Strip class\n0.2,fine\n0.3,\n", []float64{0.012, 0}, ""},
		{"normal", "Thickness,Strip class\n0.2,Fine\n0.3,\n0.5,\n0.025,\n0.05,\n3.5,\n", []float64{0.012, 0.020, 0.030, nan, 0.005, nan}, ""},
		{"precision", "Thickness,Tolerance class,Tolerance\n0.2,fine,0.003\n0.3,,0\n0.5,,0.01\n", []float64{0.003, 0, 0.01}, ""},
		{"", "Thickness [mil],± [mil]\n8,0.5\n10,\n", []float64{0.0127, 0}, ""},
		{"", "Thickness,Thickness tolerance\n0.2,0.5 mil\n0.3,± 0.01\n", []float64{0.0127, 0.01}, ""},
		{"", "Thickness,Tolerance\n0.2,+/-0.012\n0.3,+- 0.5 mil\n", []float64{0.012, 0.0127}, ""},
		{"fine", "Thickness,Kind,Lamination,Tolerance\n0.3,laminated,2 mil,\n0.3,laminated,3 mil,\n0.3,laminated,0.05,\n0.2,laminated,0.05,0.004\n", []float64{0.2 * 0.0254, 0.3 * 0.0254, nan, 0.004}, ""},
		{"", "Thickness,Kind,Lamination\n0.3,laminated,2 mil\n", []float64{0}, ""},
		{"", "Thickness,Strip class\n0.2,golden\n0.3,fine\n", []float64{nan, 0.015}, "golden"},
		{"", "Thickness,Strip class,Tolerance\n0.2,golden,0.01\n0.3,fine,\n", []float64{0.01, 0.015}, "golden"},
		{"", "Thickness,Tolerance\n0.2,some\n0.3,0.01\n", []float64{nan, 0.01}, "some"},
		{"", "Thickness,Tolerance\n0.2,-0.01\n0.3,0.01\n", []float64{nan, 0.01}, "-0.01"},
		{"", "Thickness,Tolerance\n0.2,0.2\n0.3,0.01\n", []float64{nan, 0.01}, "not less than the thickness"},
		{"", "Thickness,Kind,Lamination,Tolerance\n2,laminated,0.05,0.05\n", []float64{nan}, "not less than the thickness"},
		{"golden", "Thickness\n0.2\n", []float64{0}, "golden"},
	} {
		e, _ := boxed(t, c.class, c.stock)
		lines, assumed := e.Stock()
		if assumed || len(lines) != len(c.tol) {
			t.Errorf("%q: %d lines", c.stock, len(lines))
			continue
		}
		for i, want := range c.tol {
			if got := lines[i].Tolerance; math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 1e-12 {
				t.Errorf("class %q, %q: line %d is known to ± %g, want %g", c.class, c.stock, i+1, got, want)
			}
		}
		switch p := e.Problems(); {
		case c.problems == "" && len(p) > 0:
			t.Errorf("%q: %v", c.stock, p)
		case c.problems != "" && (len(p) != 1 || p[0].Severity != job.Error || p[0].Row != 2 || p[0].Column == "" || p[0].Hint.Empty() || !strings.Contains(p[0].Text.String(), c.problems)):
			t.Errorf("%q: %v", c.stock, p)
		}
	}
	// The stock that is assumed without one is of the job's class too.
	e, _ := grown(t, reverse, "Job", "Setting,Value\nStrip class,fine\n")
	lines, assumed := e.Stock()
	if !assumed {
		t.Fatal("a stock from nowhere")
	}
	for _, s := range lines {
		if want := tables.StripTolerance(s.MM, tables.StripFine); s.Tolerance != want && !math.IsNaN(want) {
			t.Errorf("%+v", s)
		}
	}
}

// TestStripInResults: the tolerance is in the verdict after, in the sentences and in the JSON, and nowhere where none is given.
//
// evidence: calc=thickness tolerance of shims in the line after grade=identity count=3 source=JCGM 100:2008, 5.2.2, eq. 16, by hand: expanded uncertainty of two packs, one with two pieces of one strip
func TestStripInResults(t *testing.T) {
	bare, plain := boxed(t, "", "Thickness\n0.25\n0.2\n0.05\n")
	m0 := machines(t, bare)[0]
	if m0["u_front_pack_mm"] != nil || m0["u_rear_pack_mm"] != nil || len(m0["tolerance_unknown_mm"].([]any)) != 0 || strings.Contains(lastOf(bare), "tolerance of their pieces") {
		t.Errorf("%v %v %s", m0["u_front_pack_mm"], m0["tolerance_unknown_mm"], lastOf(bare))
	}
	e, r := boxed(t, "", "Thickness,Strip class\n0.25,fine\n0.2,fine\n0.05,\n")
	if f := r.Calc.Feet; len(f[0].Pack.Pieces) != 1 || len(f[1].Pack.Pieces) != 2 || f[1].Pack.Pieces[0] != 0.25 || f[1].Pack.Pieces[1] != 0.25 {
		t.Fatal(f[0].Pack, f[1].Pack)
	}
	m := machines(t, e)[0]
	near(t, "front ±", m["u_front_pack_mm"].(float64), 2*0.012/math.Sqrt(3), 1e-12)
	near(t, "rear ±", m["u_rear_pack_mm"].(float64), 4*0.012/math.Sqrt(3), 1e-12)
	if s := lastOf(e); !strings.Contains(s, "From the tolerance of their pieces the packs are known to ± 0.028 mm at worst (EN ISO 9445-1, fine); the line after has that in its ±.") {
		t.Error(s)
	}
	// The line as found and its verdict are what they were; the line after stands where it did and is less sure.
	if r.Verdict != plain.Verdict || r.Calc.Found.Chance != plain.Calc.Found.Chance || r.Calc.After != plain.Calc.After || !(r.Calc.AfterJ.Slope.UV > plain.Calc.AfterJ.Slope.UV) || r.Calc.AfterJ.Slope.UH != plain.Calc.AfterJ.Slope.UH {
		t.Errorf("%+v\n%+v", r.Calc.AfterJ, plain.Calc.AfterJ)
	}
	// One strip off by d raises front d, rear 2 d: by the distance between the feet a slope of d.
	feet := r.Calc.Feet
	k := 2 * 0.012 / math.Sqrt(3) / (feet[1].Station - feet[0].Station) * 1000
	near(t, "slope after ±", r.Calc.AfterJ.Slope.UV, math.Hypot(plain.Calc.AfterJ.Slope.UV, k), 1e-12)

	if s, _ := boxed(t, "", "Thickness,Strip class,Tolerance\n0.25,fine,\n0.05,,0.002\n"); !strings.Contains(lastOf(s), "(EN ISO 9445-1, fine; Tolerance in ") {
		t.Error(lastOf(s))
	}

	// What is not known is named, once, and takes part in nothing.
	e, r = boxed(t, "normal", "Thickness,Kind,Lamination,Strip class\n0.5,laminated,0.5,\n0.25,,,fine\n")
	m = machines(t, e)[0]
	if list := m["tolerance_unknown_mm"].([]any); len(list) != 1 || list[0] != 0.5 || m["u_rear_pack_mm"] != nil || m["u_front_pack_mm"] == nil {
		t.Errorf("%v %v %v", list, m["u_front_pack_mm"], m["u_rear_pack_mm"])
	}
	if s := lastOf(e); !strings.Contains(s, "How far pieces of 0.50 mm may be off is not known here") || !strings.Contains(s, "± 0.014 mm at worst") {
		t.Error(s)
	}
	if r.Worst() > job.Warning {
		t.Error(r.Problems)
	}
}

// TestStripSingleFeet: what stays in place counts for nothing, what is put in and taken out does, and a bad word harms no line but its own.
func TestStripSingleFeet(t *testing.T) {
	feet := "Machine,Foot,Across,Pack in place\npump,front 9,-200,1+0.25\npump,front 3,200,1+0.25\npump,rear 9,-200,1\npump,rear 3,200,1\n"
	const stock = "Thickness,Strip class\n0.25,fine\n0.3,golden\n0.5,\n1,\n"
	cells := change(reverse, "Given offset V=-0.35")
	e, r := grown(t, cells, "Stock", stock, "Feet", feet)
	f := r.Feet.Feet
	if len(f[0].Change.Take) != 1 || f[0].Change.Take[0] != 0.25 || len(f[0].Change.Keep) != 1 {
		t.Fatalf("%+v", f[0].Change)
	}
	near(t, "front", e.FootPackU(&f[0], new([]float64)), 2*0.012/math.Sqrt(3), 1e-12)
	list := machines(t, e)[0]["feet"].([]any)
	near(t, "JSON", list[0].(map[string]any)["u_pack_mm"].(float64), 2*0.012/math.Sqrt(3), 1e-12)
	if p := e.Problems(); len(p) != 1 || p[0].Row != 3 {
		t.Error(p)
	}
	if lines, _ := e.Stock(); len(lines) != 4 {
		t.Error(lines)
	}
	// Without the class the same packs, and a line after that is surer.
	_, plain := grown(t, cells, "Stock", "Thickness\n0.25\n0.3\n0.5\n1\n", "Feet", feet)
	if plain.Calc.After != r.Calc.After || !(plain.Calc.AfterJ.Offset.UV < r.Calc.AfterJ.Offset.UV) {
		t.Errorf("%+v\n%+v", plain.Calc.AfterJ, r.Calc.AfterJ)
	}
	if r.AfterVerdict == calc.NotJudged {
		t.Error("not judged")
	}
}

// TestPacksOfAMachineThatStays: a machine inside its limit is given no packs, so nothing is said of them, but for those of its soft feet.
func TestPacksOfAMachineThatStays(t *testing.T) {
	const stock = "Thickness,Tolerance\n0.2,0.012\n0.03,\n"
	stays := change(reverse, "Running offset V=0.1", "Running offset H=-0.04", "Running slope V=0.45", "Running slope H=0.2")
	e, r := grown(t, stays, "Stock", stock)
	if r.Verdict != calc.Inside || !r.Calc.HasAfter || math.Abs(r.Calc.Feet[1].Pack.Error) < 0.005 {
		t.Fatal(r.Verdict, r.Calc.Feet)
	}
	if s := lastOf(e); s != "" || len(r.Problems) > 0 {
		t.Error(s, r.Problems)
	}
	const feet = "Machine,Foot,Across,Gap\npump,front 9,-200,0.8\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0\n"
	e, r = grown(t, stays, "Stock", stock, "Feet", feet)
	if s := lastOf(e); r.Verdict != calc.Inside || s != "From the tolerance of their pieces the packs are known to ± 0.028 mm (Tolerance in Stock).\n" {
		t.Error(s, r.Feet.Feet)
	}
}

package evaluate

import (
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

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

package tables

import (
	"math"
	"testing"
)

func fahrenheit(f float64) float64 { return (f - 32) / 1.8 }

// evidence: calc=growth grade=published count=2 source=ASME BPVC Section II Part D (2001) table TE-1; ASME B31.3 table C-1 (quoted)
func TestMeanBetween(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to float64 // °F
		per      float64 // in/in
		tol      float64
	}{
		// 20 in of carbon steel from 70 to 200 °F: 0.01742 in
		{"carbon steel", 70, 200, 0.01742 / 20, 5e-9},
		{"carbon steel", 200, 70, -0.01742 / 20, 5e-9},
		// 50 to 350 °F by interpolated means: 2087.33 µin/in, printed to six digits
		{"carbon steel, piping table", 50, 350, 2087.33e-6, 5e-9},
	} {
		m := FindMaterial(c.name)
		a, b := fahrenheit(c.from), fahrenheit(c.to)
		if got := m.MeanBetween(a, b) * 1e-6 * (b - a); math.Abs(got-c.per) > c.tol {
			t.Errorf("%s %v to %v °F: %v, not %v", c.name, c.from, c.to, got, c.per)
		}
	}
	if m := FindMaterial("carbon steel"); !math.IsNaN(m.MeanBetween(20, 900)) || !(m.MeanBetween(40, 40) > 0) {
		t.Error("past the table there is none; at one temperature there is one")
	}
	if m := FindMaterial("grey iron"); m.MeanBetween(20, 900) != 11.4 {
		t.Error("a constant holds everywhere")
	}
}

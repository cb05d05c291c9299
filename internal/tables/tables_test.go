package tables

import (
	"math"
	"testing"
)

// The short couplings, typed again from the source as thousandths of an inch and thousandths per ten inches.
//
// evidence: calc=limits by speed grade=practice count=5 source=a plant specification of 1993 reprinted by NASA, 2000 and 2008 (from memory, not checked against the document)
func TestShortLimits(t *testing.T) {
	set := LimitSets()[0]
	for _, w := range []struct{ speed, offsetInch, slopeInchPer10 float64 }{
		{1000, 0.005, 0.015}, {1200, 0.004, 0.010}, {1800, 0.003, 0.005}, {3600, 0.002, 0.003}, {7200, 0.001, 0.0025},
	} {
		row, ok := set.At(Short, w.speed)
		if !ok || math.Abs(row.Offset-25.4*w.offsetInch) > 1e-12 || math.Abs(row.Slope-1000*w.slopeInchPer10/10) > 1e-12 {
			t.Errorf("%g rpm: %+v %v", w.speed, row, ok)
		}
		if row.Source.Grade != Memory {
			t.Errorf("%g rpm is not labelled as from memory: %v", w.speed, row.Source)
		}
	}
}

// A speed on the edge of two rows takes the row that ends there, and past the table there is no limit.
func TestEdges(t *testing.T) {
	set := LimitSets()[0]
	at := func(c Coupling, v float64) float64 {
		row, ok := set.At(c, v)
		if !ok {
			return math.NaN()
		}
		return row.UpTo
	}
	for _, w := range []struct {
		c           Coupling
		speed, upTo float64
	}{
		{Short, 1, 1000}, {Short, 1000, 1000}, {Short, 1000 * (1 + 5e-10), 1000}, {Short, 1000.001, 1200}, {Short, 3600, 3600}, {Short, 7200, 7200},
		{Flange, 1480, 1800}, {Universal, 1480, 1800}, {Spacer, 1480, math.Inf(1)}, {Spacer, 20000, math.Inf(1)}, {Spacer, math.NaN(), math.Inf(1)},
	} {
		if got := at(w.c, w.speed); got != w.upTo {
			t.Errorf("%v at %g rpm: the row to %g, want %g", w.c, w.speed, got, w.upTo)
		}
	}
	for _, v := range []float64{0, -1, 7201, math.Inf(1), math.NaN()} {
		if got := at(Short, v); !math.IsNaN(got) {
			t.Errorf("short at %g rpm has a row to %g", v, got)
		}
	}
	if got := at(Spacer, 0); !math.IsNaN(got) {
		t.Error("a speed of zero has a limit")
	}
	if set.Top(Short) != 7200 || set.Top(Coupling(9)) != 0 {
		t.Error("Top", set.Top(Short), set.Top(Coupling(9)))
	}
}

// Half a thousandth of an inch per inch is 0.5 mm/m.
//
// evidence: calc=limits by speed grade=published count=1 source=C. Jackson, Alignment by Proximity Probes, symposium paper, p. 50 (author's name from memory)
func TestSpacerLimit(t *testing.T) {
	row, ok := LimitSets()[0].At(Spacer, 2980)
	if !ok || math.Abs(row.Slope-1000*0.0005) > 1e-15 || !math.IsNaN(row.Offset) {
		t.Errorf("%+v %v", row, ok)
	}
}

// Every row says where it comes from, sets are found by name, and rows rise.
func TestSources(t *testing.T) {
	for _, s := range LimitSets() {
		if FindLimitSet(" "+s.Name+" ") != s {
			t.Errorf("%q is not found", s.Name)
		}
		for c, rows := range s.Rows {
			for i, r := range rows {
				if r.Source.Text == "" && r.Source.Grade != Practice {
					t.Errorf("%s, %v, row %d has no source", s.Name, c, i)
				}
				if i > 0 && !(r.UpTo > rows[i-1].UpTo && r.Slope <= rows[i-1].Slope) {
					t.Errorf("%s, %v, row %d does not follow", s.Name, c, i)
				}
			}
		}
	}
	if FindLimitSet("of my own") != nil {
		t.Error("a set that is not there was found")
	}
	for _, c := range Cautions() {
		if c.Text == "" || c.Source.String() == "" {
			t.Errorf("%+v", c)
		}
	}
}

// The assumed stocks rise, are in millimetres and make every step of the thinnest piece that a first shim job needs.
func TestDefaultStock(t *testing.T) {
	for _, inch := range []bool{false, true} {
		stock := DefaultStock(inch)
		for i, s := range stock {
			if s.Count >= 0 || !(s.MM > 0) || i > 0 && s.MM <= stock[i-1].MM {
				t.Errorf("inch %v: %+v", inch, stock)
			}
		}
		if thin := stock[0].MM; math.Abs(thin/2-map[bool]float64{false: PackToleranceMM, true: PackToleranceInch}[inch]) > 1e-15 {
			t.Errorf("inch %v: the tolerance is not half of %g mm", inch, thin)
		}
	}
}

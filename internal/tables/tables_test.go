package tables

import (
	"math"
	"strings"
	"testing"
)

// The offsets of flexible couplings by speed, typed again from the source as thousandths of an inch.
//
// evidence: calc=limits by speed grade=published count=3 source=L. Nelik and others, Practical Pumping Handbook, p. 178
func TestFlexibleOffsets(t *testing.T) {
	set := LimitSets()[0]
	for _, w := range []struct{ speed, offsetMil float64 }{{1200, 5}, {1800, 4}, {3600, 2}} {
		row, ok := set.At(Flexible, w.speed)
		if !ok || math.Abs(row.Offset-25.4*w.offsetMil/1000) > 1e-12 || row.Source.Grade != Read {
			t.Errorf("%g rpm: %+v %v", w.speed, row, ok)
		}
	}
}

// The slope of flexible and of spacer couplings at every speed the set reaches.
//
// evidence: calc=limits by speed grade=published count=4 source=API RP 686, 2nd ed. 2009, 5.4.6.2: 0.5 mm/m at both flex planes (quoted)
func TestFlexSlope(t *testing.T) {
	set := LimitSets()[0]
	for c, speeds := range map[Coupling][]float64{Flexible: {1200, 1800, 3600}, Spacer: {12000}} {
		for _, v := range speeds {
			if row, ok := set.At(c, v); !ok || row.Slope != 0.5 || !strings.Contains(row.Source.String(), "quoted") {
				t.Errorf("%v at %g rpm: %+v %v", c, v, row, ok)
			}
		}
	}
}

// Gear and rigid couplings: parallel and angular difference in mm by the coupling's size. The difference over the largest diameter of its class is the slope; the
// set takes the stricter class.
//
// evidence: calc=limits by speed grade=published count=4 source=ABB, manual for low voltage motors 3BFP 000 050, p. 35, read
func TestGearAndRigid(t *testing.T) {
	type class struct{ parallel, angular, diameter float64 }
	for c, classes := range map[Coupling][2]class{Gear: {{0.05, 0.03, 250}, {0.05, 0.05, 500}}, Rigid: {{0.02, 0.01, 250}, {0.02, 0.02, 500}}} {
		offset, slope := math.Inf(1), math.Inf(1)
		for _, k := range classes {
			offset, slope = min(offset, k.parallel), min(slope, 1000*k.angular/k.diameter)
		}
		row, ok := LimitSets()[0].At(c, 2980)
		if !ok || row.Offset != offset || math.Abs(row.Slope-slope) > 1e-12 {
			t.Errorf("%v: %+v %v, want %g and %g", c, row, ok, offset, slope)
		}
	}
}

// What was from memory is no longer there, and nothing stands where no document was found: universal joints, and speeds past the table.
func TestNoLimit(t *testing.T) {
	if FindLimitSet(FormerLimitSet) != nil {
		t.Error("the former set is still built in")
	}
	set := LimitSets()[0]
	for c, speed := range map[Coupling]float64{Universal: 1480, Flexible: 3601, Gear: 3601, Rigid: 3601, Flange: 1480} {
		if row, ok := set.At(c, speed); ok {
			t.Errorf("%v at %g rpm: %+v", c, speed, row)
		}
	}
	for _, s := range LimitSets() {
		for c, rows := range s.Rows {
			for _, r := range rows {
				if r.Source.Grade == Memory || r.Source.Grade == Practice {
					t.Errorf("%s, %v: %v", s.Name, c, r.Source)
				}
			}
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
		{Flexible, 1, 1200}, {Flexible, 1200, 1200}, {Flexible, 1200 * (1 + 5e-10), 1200}, {Flexible, 1200.001, 1800}, {Flexible, 3600, 3600},
		{Gear, 1480, 3600}, {Rigid, 1480, 3600}, {Spacer, 1480, math.Inf(1)}, {Spacer, 20000, math.Inf(1)}, {Spacer, math.NaN(), math.Inf(1)},
	} {
		if got := at(w.c, w.speed); got != w.upTo {
			t.Errorf("%v at %g rpm: the row to %g, want %g", w.c, w.speed, got, w.upTo)
		}
	}
	for _, v := range []float64{0, -1, 3601, math.Inf(1), math.NaN()} {
		if got := at(Flexible, v); !math.IsNaN(got) {
			t.Errorf("flexible at %g rpm has a row to %g", v, got)
		}
	}
	if got := at(Spacer, 0); !math.IsNaN(got) {
		t.Error("a speed of zero has a limit")
	}
	if set.Top(Flexible) != 3600 || set.Top(Coupling(9)) != 0 {
		t.Error("Top", set.Top(Flexible), set.Top(Coupling(9)))
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

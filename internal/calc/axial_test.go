package calc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Two hub faces as planes in space: the movable one is normal to the movable shaft. The distance along the stationary axis from a point of the
// stationary face to the movable face must be the gap of the formula, up to the square of the angles.
func TestGapAfterPlanes(t *testing.T) {
	//evidence: calc=gap between the shaft ends grade=independent count=2000 source=two hub faces as planes in space, distances along the stationary axis
	rng := rand.New(rand.NewPCG(7, 11))
	for range 2000 {
		from, to := Line{TV: 4*rng.Float64() - 2, TH: 4*rng.Float64() - 2}, Line{TV: 4*rng.Float64() - 2, TH: 4*rng.Float64() - 2}
		d, middle, angle := 80+300*rng.Float64(), 2+5*rng.Float64(), 360*rng.Float64()
		at := func(l Line, angle float64) float64 {
			// A point of the movable face: centre (middle, DV, DH) on the axis, directions normal to the axis (1, TV, TH)/1000.
			s, c := math.Sincos(angle * math.Pi / 180)
			v, h := d/2*c, d/2*s
			// The face is the plane n·(p − centre) = 0, n = (1, TV/1000, TH/1000): x = middle − TV/1000·v − TH/1000·h.
			return middle - l.TV/1000*v - l.TH/1000*h
		}
		g := ShaftGap{Found: at(from, angle), Wanted: 3, Tolerance: 0.5, Angle: angle, Diameter: d, Float: nan, Mark: nan}
		f := g.After(from, to)
		least, most := math.Inf(1), math.Inf(-1)
		for a := 0.0; a < 360; a += 0.25 {
			x := at(to, a)
			least, most = math.Min(least, x), math.Max(most, x)
		}
		if math.Abs(f.After-at(to, angle)) > 1e-9 || math.Abs(f.Least-least) > 1e-5 || math.Abs(f.Most-most) > 1e-5 {
			t.Fatalf("%+v from %+v to %+v: %+v, planes %v, %v to %v", g, from, to, f, at(to, angle), least, most)
		}
		if math.Abs(f.Axial-(3-f.After)) > 1e-12 || (f.Verdict == Inside) != (math.Abs(f.Axial) <= 0.5) {
			t.Fatalf("%+v", f)
		}
	}
}

// Carrier, centrifugal chillers 17/19EX, start-up book pp. 213–214: hubs of 5 in whose faces read 0.012 in apart top to bottom close by that much on one
// side when the machine is brought in line; the mean round them stays.
func TestGapAfterCarrier(t *testing.T) {
	//evidence: calc=gap between the shaft ends grade=published count=1 source=Carrier 17/19EX start-up book pp. 213-214: face 0.012 in over 5 in; the gap changes with the angular move
	const inch = 25.4
	from := Line{TV: 0.012 / 5 * 1000} // opens at the bottom
	bottom := ShaftGap{Found: 0.150 * inch, Wanted: 0.144 * inch, Tolerance: 0.001 * inch, Angle: 180, Diameter: 5 * inch, Float: nan, Mark: nan}
	if f := bottom.After(from, Line{}); math.Abs(f.After-0.144*inch) > 1e-9 || f.Verdict != Inside {
		t.Errorf("at the bottom: %+v", f)
	}
	middle := bottom
	middle.Angle, middle.Found = nan, 0.144*inch
	if f := middle.After(from, Line{}); f.After != 0.144*inch || math.Abs(f.Least-0.144*inch) > 1e-12 {
		t.Errorf("in the middle: %+v", f)
	}
}

// What the rotor can float towards the coupling is taken off the narrowest place; a tie with the tolerance is inside.
func TestGapFloatAndTies(t *testing.T) {
	//evidence: calc=gap between the shaft ends grade=identity count=5 source=by hand
	g := ShaftGap{Found: 6, Wanted: 5, Tolerance: 1, Angle: nan, Diameter: 200, Float: 12, Mark: 5}
	f := g.After(Line{}, Line{TH: 2})
	if math.Abs(f.Least-5.8) > 1e-12 || math.Abs(f.Touch-0.8) > 1e-12 || f.Verdict != Inside || f.Axial != -1 {
		t.Errorf("%+v", f)
	}
	g.Mark = nan
	if f := g.After(Line{}, Line{}); f.Touch != -6 {
		t.Errorf("without a mark the whole float counts: %+v", f)
	}
	g.Tolerance = 0.999
	if f := g.After(Line{}, Line{}); f.Verdict != Outside {
		t.Errorf("%+v", f)
	}
	g.Wanted = nan
	if f := g.After(Line{}, Line{}); f.Verdict != NotJudged || !math.IsNaN(f.Axial) {
		t.Errorf("%+v", f)
	}
	g = ShaftGap{Found: nan, Wanted: 3, Tolerance: 1, Angle: nan, Diameter: nan, Float: nan, Mark: nan}
	if f := g.After(Line{}, Line{}); f.Verdict != NotJudged || !math.IsNaN(f.After) {
		t.Errorf("%+v", f)
	}
}

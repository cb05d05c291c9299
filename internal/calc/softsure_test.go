package calc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// gapFeet sets out feet with one gap each.
func gapFeet(rng *rand.Rand) []SoftFoot {
	f := randomFeet(rng)
	for i := range f {
		f[i].Gap = randomGap(rng)
	}
	return f
}

// TestSoftClearance lets each foot down by its clearance, and up, and looks at what the least shims then are.
func TestSoftClearance(t *testing.T) {
	//evidence: calc=soft foot: how sure grade=identity count=375 source=the foot let down by its clearance just carries: the least shims solved anew
	rng := rand.New(rand.NewPCG(7, 30))
	off, carry := 0, 0
	for range longCount(1500) {
		f := gapFeet(rng)
		var res, moved SoftResult
		Soft(&SoftInput{Feet: f, U: 0.01}, &res)
		if res.Status != SoftOK {
			t.Fatal(res.Status)
		}
		for i := range f {
			r := res.Feet[i]
			at := func(down float64) float64 {
				g := append([]SoftFoot(nil), f...)
				for k := range g {
					g[k].Gap += 10 // so that no gap is below zero
				}
				g[i].Gap -= down
				Soft(&SoftInput{Feet: g}, &moved)
				return moved.Feet[i].StandOff
			}
			switch c := r.Clearance; {
			case math.IsNaN(c):
				if s := at(-5); !(s <= 1e-9) {
					t.Fatalf("%v: foot %d is said to carry in any case, and let up it stands off by %g", f, i, s)
				}
			case c > 1e-6:
				off++
				if math.Abs(c-r.StandOff) > 1e-7 {
					t.Fatalf("%v: foot %d: clearance %g, stand-off %g", f, i, c, r.StandOff)
				}
				fallthrough
			default:
				if c < -1e-6 {
					carry++
				}
				const h = 1e-4
				if s := at(c - h); !(math.Abs(s-h) < 1e-6) {
					t.Fatalf("%v: foot %d, clearance %g: let down by %g less it stands off by %g", f, i, c, h, s)
				}
				if s := at(c + h); !(s <= 1e-6) {
					t.Fatalf("%v: foot %d, clearance %g: let down by %g more it stands off by %g", f, i, c, h, s)
				}
			}
		}
	}
	if off < longCount(1500)/3 || carry < longCount(1500)/5 {
		t.Errorf("%d feet stood off, %d carried with a clearance", off, carry)
	}
}

// TestSoftPropagation holds the uncertainty of each clearance to the scatter of the clearances of gaps that err at random.
func TestSoftPropagation(t *testing.T) {
	//evidence: calc=soft foot: how sure grade=independent count=12 source=Monte Carlo propagation (JCGM 101:2008): 1000 draws of errors of the gaps for each machine
	rng := rand.New(rand.NewPCG(7, 31))
	feet := 0
	for range longCount(50) {
		f := randomFeet(rng)
		for i := range f {
			f[i].Gap = 10 + rng.Float64() // no ties, and nothing below zero
		}
		const u, draws = 1e-7, 1000 // so small that what carries stays what carries
		var res, drawn SoftResult
		Soft(&SoftInput{Feet: f, U: u}, &res)
		sum, square := make([]float64, len(f)), make([]float64, len(f))
		g := append([]SoftFoot(nil), f...)
		for range draws {
			for i := range g {
				g[i].Gap = f[i].Gap + u*rng.NormFloat64()
			}
			Soft(&SoftInput{Feet: g}, &drawn)
			for i := range g {
				d := drawn.Feet[i].Clearance - res.Feet[i].Clearance
				sum[i] += d
				square[i] += d * d
			}
		}
		for i := range f {
			if math.IsNaN(res.Feet[i].Clearance) {
				continue
			}
			feet++
			m := sum[i] / draws
			s := math.Sqrt(square[i]/draws - m*m)
			// 1000 draws know a standard deviation to 2.2 %; 5 of these.
			if want := res.Feet[i].UClearance / 2; !(math.Abs(s-want) < 0.11*want) || !(math.Abs(m) < 5*want/math.Sqrt(draws)) {
				t.Errorf("%v: foot %d: u %g, scatter %g, mean %g", f, i, want, s, m)
			}
		}
	}
	if feet < 2*longCount(50) {
		t.Errorf("only %d feet", feet)
	}
}

// TestSoftSure measures machines again and again: where the first measurement is said to tell it for sure, the truth seldom is another one.
func TestSoftSure(t *testing.T) {
	//evidence: calc=soft foot: how sure grade=independent count=750 source=simulation: true gaps that lie about the measured ones as the uncertainty says, and which feet they put past the limit
	rng := rand.New(rand.NewPCG(7, 32))
	const u = 0.01
	sure, wrong, unsure, flips := 0, 0, 0, 0
	for range longCount(3000) {
		f := randomFeet(rng)
		for i := range f {
			f[i].Gap = 5 + 0.3*rng.Float64()*float64(rng.IntN(2))
		}
		var res, truth SoftResult
		Soft(&SoftInput{Feet: f, U: u}, &res)
		differs := false
		g := append([]SoftFoot(nil), f...)
		for i := range g {
			g[i].Gap += u * rng.NormFloat64()
		}
		Soft(&SoftInput{Feet: g}, &truth)
		for i := range g {
			differs = differs || within(res.Feet[i].StandOff, DefaultSoftLimit) != within(truth.Feet[i].StandOff, DefaultSoftLimit)
		}
		switch {
		case res.Sure && differs:
			wrong++
			fallthrough
		case res.Sure:
			sure++
		case differs:
			flips++
			fallthrough
		default:
			unsure++
		}
	}
	if sure < longCount(3000)/6 || unsure < longCount(3000)/6 || float64(wrong) > 0.05*float64(sure) || float64(flips) < 0.1*float64(unsure) {
		t.Errorf("sure %d, of them wrong %d; unsure %d, of them wrong %d", sure, wrong, unsure, flips)
	}
}

// TestSoftSureFour has four feet on a rectangle: the rock is the sum of one diagonal's gaps less the other's, which makes its uncertainty twice a gap's.
func TestSoftSureFour(t *testing.T) {
	//evidence: calc=soft foot: how sure grade=identity count=6 source=JCGM 100:2008, 5.1.2, of a sum and difference of four readings: u is twice that of one
	const u = 0.02466 // a feeler of 0.05 mm that comes again to 0.02 mm
	for _, c := range []struct {
		gaps    [4]float64
		pattern SoftPattern
		value   float64 // nearest to the limit
		sure    bool
	}{
		{[4]float64{0, 0, 0, 0.35}, SoftRocking, 0.35, true},
		{[4]float64{0, 0.35, 0, 0}, SoftRocking, 0.35, true},
		{[4]float64{0.10, 0.45, 0.10, 0.10}, SoftRocking, 0.35, true},
		{[4]float64{0, 0, 0, 0.15}, SoftRocking, 0.15, true},
		{[4]float64{0, 0, 0, 0.14}, SoftRocking, 0.14, false},
		{[4]float64{0, 0, 0, 0}, SoftNone, 0, false}, // such a feeler does not tell 0.05 mm
	} {
		var res SoftResult
		Soft(&SoftInput{Feet: withGaps(rectangle(), c.gaps[:]...), U: u}, &res)
		if res.Pattern != c.pattern || res.Sure != c.sure || math.Abs(res.Decided-c.value) > 1e-12 || math.Abs(res.UDecided-4*u) > 1e-12 {
			t.Errorf("%v: %v, %g ± %g of foot %d, sure %v", c.gaps, res.Pattern, res.Decided, res.UDecided, res.Decider, res.Sure)
		}
	}
	var res SoftResult
	Soft(&SoftInput{Feet: withGaps(rectangle()[:3], 0, 0.4, 0.1), U: u}, &res)
	if res.Decider != -1 || !res.Sure {
		t.Errorf("three feet: %g ± %g of foot %d, sure %v", res.Decided, res.UDecided, res.Decider, res.Sure)
	}
}

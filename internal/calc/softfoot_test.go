package calc

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/units"
	"shimsheet/internal/vec"
)

// foot is a foot with nothing measured.
func foot(along, across float64) SoftFoot {
	return SoftFoot{along, across, nan, [4]float64{nan, nan, nan, nan}, nan, nan, nan, nan}
}

// rectangle is four feet: coupling end towards 9, coupling end towards 3, free end towards 3, free end towards 9.
func rectangle() []SoftFoot {
	return []SoftFoot{foot(0, -250), foot(0, 250), foot(600, 250), foot(600, -250)}
}

func withGaps(f []SoftFoot, g ...float64) []SoftFoot {
	for i := range g {
		f[i].Gap = g[i]
	}
	return f
}

func withRises(f []SoftFoot, r ...float64) []SoftFoot {
	for i := range r {
		f[i].Rise = r[i]
	}
	return f
}

// randomFeet sets out 3 to 12 feet: pairs along the shaft (the usual machine, and the degenerate one), pairs with the corners knocked about,
// on a lattice, or anywhere. Gaps are to a hundredth now and then, so that they tie.
func randomFeet(rng *rand.Rand) []SoftFoot {
	for {
		n := 3 + rng.IntN(10)
		var f []SoftFoot
		x0, wide := between(rng, -2000, 2000), between(rng, 100, 800)
		kind := rng.IntN(4)
		for i := range n {
			switch kind {
			case 3: // a lattice, mirrored about its middle, which may hold a foot: the centroid lies on feet and on lines through several
				if i < n/2 {
					a, c := float64(rng.IntN(5)-2)*200, float64(rng.IntN(5)-2)*200
					f = append(f, foot(a, c), foot(-a, -c))
				} else if i == n-1 && n%2 == 1 {
					f = append(f, foot(0, 0))
				}
			case 0:
				f = append(f, foot(x0+float64(i/2)*400, wide*(float64(i%2)-0.5)))
			case 1:
				f = append(f, foot(x0+float64(i/2)*400+between(rng, -100, 100), wide*(float64(i%2)-0.5)+between(rng, -20, 20)))
			default:
				f = append(f, foot(between(rng, -1500, 1500), between(rng, -800, 800)))
			}
		}
		near := false
		for i := range f {
			for j := range i {
				near = near || math.Hypot(f[i].Along-f[j].Along, f[i].Across-f[j].Across) < 5
			}
		}
		if !near && !inLine(f) {
			return f
		}
	}
}

func randomGap(rng *rand.Rand) float64 {
	switch rng.IntN(4) {
	case 0:
		return 0
	case 1:
		return float64(rng.IntN(30)) / 100
	}
	return rng.Float64()
}

func randomGaps(rng *rand.Rand) []SoftFoot {
	f := randomFeet(rng)
	corners := rng.IntN(5) == 0
	for i := range f {
		if corners && rng.IntN(4) > 0 {
			f[i].Length, f[i].Width = 40+100*rng.Float64(), 40+30*rng.Float64()
			for k := range f[i].Corner {
				f[i].Corner[k] = randomGap(rng)
			}
			continue
		}
		f[i].Gap = randomGap(rng)
	}
	return f
}

// places are the points that the gaps of f hold at, with what each counts.
func places(f []SoftFoot) (pts []gapPoint, of []int) {
	for i := range f {
		if !f[i].corners() {
			pts, of = append(pts, gapPoint{f[i].Along, f[i].Across, f[i].Gap, 1, i}), append(of, i)
			continue
		}
		l, w := f[i].Length/2, f[i].Width/2
		at := map[int][2]float64{CouplingSide9: {-l, -w}, CouplingSide3: {-l, w}, FreeSide3: {l, w}, FreeSide9: {l, -w}}
		for k := range 4 {
			pts, of = append(pts, gapPoint{f[i].Along + at[k][0], f[i].Across + at[k][1], f[i].Corner[k], 0.25, i}), append(of, i)
		}
	}
	return pts, of
}

// TestSoftCertificate proves each answer the best by the two halves of linear programming: the shims close the gaps, the dual values are
// allowed, and both give one total. Then it looks about on planes of the same total for a smaller sum of squares or a larger stand-off.
func TestSoftCertificate(t *testing.T) {
	//evidence: calc=soft foot shims grade=identity count=750 source=duality of linear programming: shims that close the gaps and dual values with the same total
	rng := rand.New(rand.NewPCG(7, 1))
	free := 0
	for range longCount(3000) {
		f := randomGaps(rng)
		var res SoftResult
		Soft(&SoftInput{Feet: f}, &res)
		if res.Status != SoftOK || !res.FromGaps {
			t.Fatalf("%v: %v", f, res.Status)
		}
		pts, of := places(f)
		s := make([]float64, len(pts))
		total, bound, sum := 0.0, 0.0, 0.0
		var moment [2]float64
		least := make([]float64, len(f))
		for i := range least {
			least[i] = math.Inf(1)
		}
		for i, p := range pts {
			s[i] = p.g + res.Plane[0] + (res.Plane[1]*p.x+res.Plane[2]*p.y)/1000
			if s[i] < -1e-9 {
				t.Fatalf("%v: the base goes %g into point %d", f, -s[i], i)
			}
			total += p.w * s[i]
			least[of[i]] = min(least[of[i]], s[i])
		}
		for i := range f {
			if d := res.Feet[i].Shim - least[i]; math.Abs(d) > 1e-9 || res.Feet[i].Shim < 0 {
				t.Fatalf("%v: foot %d: shim %g, open %g", f, i, res.Feet[i].Shim, least[i])
			}
			if res.Feet[i].Dual < 0 {
				t.Fatalf("%v: dual %g", f, res.Feet[i].Dual)
			}
			sum += res.Feet[i].Dual
		}
		if math.Abs(sum-float64(len(f))) > 1e-8 || math.Abs(total-res.Total) > 1e-9 || math.Abs(res.Bound-res.Total) > 1e-8 {
			t.Fatalf("%v: duals add to %g for %d feet, total %.12g %.12g, bound %.12g", f, sum, len(f), total, res.Total, res.Bound)
		}
		fill, ok := leastFill(pts)
		if !ok {
			t.Fatal("refused")
		}
		bound = 0
		var cx, cy, w, sq float64
		for i, p := range pts {
			moment[0] += (p.w - fill.dual[i]) * p.x
			moment[1] += (p.w - fill.dual[i]) * p.y
			bound += (p.w - fill.dual[i]) * p.g
			cx, cy, w = cx+p.w*p.x, cy+p.w*p.y, w+p.w
			sq += p.w * s[i] * s[i]
		}
		if math.Abs(moment[0]) > 1e-5 || math.Abs(moment[1]) > 1e-5 || math.Abs(bound-total) > 1e-8 { // mm: 1e-9 of the feet's reach, times the feet
			t.Fatalf("%v: duals do not balance: %v, bound %g total %g", f, moment, bound, total)
		}
		cx, cy = cx/w, cy/w
		var turns []float64
		for k := range 72 {
			turns = append(turns, float64(k)*math.Pi/36)
		}
		for i, p := range pts { // about the line on which the body rests
			if a := math.Atan2(p.y-cy, p.x-cx) + math.Pi/2; fill.dual[i] > 0 {
				turns = append(turns, a, a+math.Pi)
			}
		}
		for k, a := range turns {
			sin, cos := math.Sincos(a)
			for _, e := range []float64{1e-6, 1e-4, 1e-3} {
				q, least := 0.0, math.Inf(1)
				for i, p := range pts {
					v := s[i] + e*((p.x-cx)*cos+(p.y-cy)*sin)/1000
					q += p.w * v * v
					least = min(least, v)
				}
				if least > -1e-10 {
					free++
					if q < sq-1e-12 {
						t.Fatalf("%v: tilted by %g at %d: sum of squares %.12g, was %.12g", f, e, k, q, sq)
					}
					for i, p := range pts {
						if v := s[i] + e*((p.x-cx)*cos+(p.y-cy)*sin)/1000; v > fill.most[i]+1e-8 {
							t.Fatalf("%v: point %d could take %g, most is %g", f, i, v, fill.most[i])
						}
					}
				}
			}
		}
	}
	if free < longCount(500) {
		t.Errorf("only %d tilts of the same total were met", free)
	}
}

// settle lowers a rigid body onto the base and lets it tip until it rests on feet that hold its centre of gravity: every three feet with
// the centre over their triangle are tried, and the plane through them counts that passes through no other foot.
func settle(x, y, height []float64, gx, gy float64) (gaps []float64, ok bool) {
	n := len(x)
	for i := range n {
		for j := range i {
			for k := range j {
				area := (x[j]-x[i])*(y[k]-y[i]) - (x[k]-x[i])*(y[j]-y[i])
				a := ((x[j]-gx)*(y[k]-gy) - (x[k]-gx)*(y[j]-gy)) / area
				b := ((x[k]-gx)*(y[i]-gy) - (x[i]-gx)*(y[k]-gy)) / area
				if !(math.Abs(area) > 10) || !(a >= 0 && b >= 0 && a+b <= 1) {
					continue
				}
				sx := ((height[j]-height[i])*(y[k]-y[i]) - (height[k]-height[i])*(y[j]-y[i])) / area
				sy := ((height[k]-height[i])*(x[j]-x[i]) - (height[j]-height[i])*(x[k]-x[i])) / area
				gaps = gaps[:0]
				clear := true
				for m := range n {
					g := height[i] + sx*(x[m]-x[i]) + sy*(y[m]-y[i]) - height[m]
					clear = clear && g > -1e-9
					gaps = append(gaps, max(0, g))
				}
				if clear {
					return gaps, true
				}
			}
		}
	}
	return nil, false
}

// TestSoftSettle puts machines on uneven bases, measures the gaps, shims, and lets them settle again: no gap may be left.
func TestSoftSettle(t *testing.T) {
	//evidence: calc=soft foot shims grade=independent count=2500 source=simulation of a rigid body that settles on uneven feet under gravity, before and after shimming
	rng := rand.New(rand.NewPCG(7, 2))
	done, open := 0, 0
	for done < simCount(2500) {
		f := randomFeet(rng)
		n := len(f)
		x, y, h := make([]float64, n), make([]float64, n), make([]float64, n)
		var gx, gy, sum float64
		for i := range f {
			x[i], y[i], h[i] = f[i].Along, f[i].Across, 0.4*rng.Float64() // base under the sole, over what the sole is short
			w := 0.1 + rng.Float64()
			gx, gy, sum = gx+w*x[i], gy+w*y[i], sum+w
		}
		gx, gy = gx/sum, gy/sum
		gaps, ok := settle(x, y, h, gx, gy)
		if !ok {
			t.Fatalf("%v %v: does not settle", f, h)
		}
		var res SoftResult
		Soft(&SoftInput{Feet: withGaps(f, gaps...)}, &res)
		if res.Status != SoftOK {
			t.Fatalf("%v: %v", f, res.Status)
		}
		for i := range h {
			h[i] += res.Feet[i].Shim
			if gaps[i] > 0.001 {
				open++
			}
		}
		after, ok := settle(x, y, h, gx, gy)
		if !ok {
			t.Fatalf("%v %v: does not settle on its shims", f, h)
		}
		if worst := slices.Max(after); worst > 1e-9 {
			t.Fatalf("%v: gaps %v shims %v: %g left", f, gaps, res.Feet, worst)
		}
		done++
	}
	if open < done {
		t.Errorf("only %d gaps in %d machines", open, done)
	}
}

// TestSoftOrder turns the list of feet about, the machine about, and the units: the shims must not care.
func TestSoftOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 3))
	for range 500 {
		f := randomGaps(rng)
		var a, b SoftResult
		Soft(&SoftInput{Feet: f}, &a)
		order := rng.Perm(len(f))
		g := make([]SoftFoot, len(f))
		for i, k := range order {
			g[i] = f[k]
			g[i].Along += 1234
			g[i].Across = -g[i].Across
			c := g[i].Corner
			g[i].Corner = [4]float64{c[CouplingSide3], c[CouplingSide9], c[FreeSide9], c[FreeSide3]}
		}
		Soft(&SoftInput{Feet: g}, &b)
		for i, k := range order {
			if d := b.Feet[i].Shim - a.Feet[k].Shim; !(math.Abs(d) < 1e-8) {
				t.Fatalf("%v: foot %d gets %g, in another order %g", f, k, a.Feet[k].Shim, b.Feet[i].Shim)
			}
		}
	}
}

// TestSoftPatterns walks through one machine of each kind. The cases follow from rigid geometry: of four feet the two on a diagonal rise
// alike, of a machine that only springs all do. No source for the words.
func TestSoftPatterns(t *testing.T) {
	six := func() []SoftFoot {
		return []SoftFoot{foot(0, -250), foot(0, 250), foot(500, -250), foot(500, 250), foot(1000, -250), foot(1000, 250)}
	}
	for _, c := range []struct {
		name     string
		feet     []SoftFoot
		u        float64
		pattern  SoftPattern
		off      []int
		carrying [2]int
		shims    []float64
		sure     bool
	}{
		{"rises within", withRises(rectangle(), 0.02, 0.05, 0, 0.01), 0, SoftNone, nil, [2]int{-1, -1}, []float64{0, 0, 0, 0}, true},
		{"rises near the limit", withRises(rectangle(), 0.02, 0.045, 0, 0.01), 0.003, SoftNone, nil, [2]int{-1, -1}, []float64{0, 0, 0, 0}, false},
		{"one foot rises", withRises(rectangle(), 0.01, 0.20, 0.01, 0.02), 0.003, SoftOneFoot, []int{1}, [2]int{-1, -1}, []float64{0, 0.19, 0, 0}, true},
		{"one of five that spring", withRises(six(), 0.38, 0.38, 0.38, 0.635, 0.38, 0.38), 0.003, SoftOneFoot, []int{3}, [2]int{-1, -1}, []float64{0, 0, 0, 0.255, 0, 0}, true},
		{"a diagonal rises", withRises(rectangle(), 0.21, 0.01, 0.19, 0.01), 0.003, SoftRocking, []int{0, 2}, [2]int{1, 3}, []float64{0.1, 0, 0.09, 0}, true},
		{"the other diagonal", withRises(rectangle(), 0, 0.2, 0, 0.2), 0.003, SoftRocking, []int{1, 3}, [2]int{0, 2}, []float64{0, 0.1, 0, 0.1}, true},
		{"a diagonal, unlike", withRises(rectangle(), 0.61, 0.01, 0.19, 0.01), 0.003, SoftSeveral, []int{0, 2}, [2]int{-1, -1}, []float64{0.6, 0, 0.18, 0}, true},
		{"one end rises", withRises(rectangle(), 0.2, 0.2, 0, 0), 0.003, SoftSeveral, []int{0, 1}, [2]int{-1, -1}, []float64{0.2, 0.2, 0, 0}, true},
		{"all rise alike", withRises(rectangle(), 0.21, 0.2, 0.19, 0.2), 0.003, SoftSpringing, []int{0, 1, 2, 3}, [2]int{-1, -1}, []float64{0, 0, 0, 0}, true},
		{"gap under one of four", withGaps(rectangle(), 0, 0, 0, 0.2), 0.003, SoftRocking, []int{1, 3}, [2]int{0, 2}, []float64{0, 0.1, 0, 0.1}, true},
		{"gap under the other diagonal", withGaps(rectangle(), 0.12, 0, 0, 0), 0.003, SoftRocking, []int{0, 2}, [2]int{1, 3}, []float64{0.06, 0, 0.06, 0}, true},
		{"four feet, small rock", withGaps(rectangle(), 0, 0, 0, 0.05), 0.003, SoftNone, nil, [2]int{-1, -1}, []float64{0, 0.025, 0, 0.025}, false},
		{"machine only tipped", withGaps(rectangle(), 0, 0, 0.3, 0.3), 0.003, SoftNone, nil, [2]int{-1, -1}, []float64{0, 0, 0, 0}, true},
		{"gap under one of six", withGaps(six(), 0, 0, 0, 0, 0, 0.2), 0.003, SoftOneFoot, []int{5}, [2]int{-1, -1}, []float64{0, 0, 0, 0, 0, 0.2}, true},
		{"hollow base", withGaps(six(), 0, 0, 0.2, 0.2, 0, 0), 0.003, SoftSeveral, []int{2, 3}, [2]int{-1, -1}, []float64{0, 0, 0.2, 0.2, 0, 0}, true},
		{"three feet always stand", withGaps(rectangle()[:3], 0.2, 0, 0.4), 0.003, SoftNone, nil, [2]int{-1, -1}, []float64{0, 0, 0}, true},
	} {
		var res SoftResult
		Soft(&SoftInput{Feet: c.feet, U: c.u, URise: c.u}, &res)
		if res.Status != SoftOK || res.Pattern != c.pattern || !slices.Equal(res.Off, c.off) || res.Carrying != c.carrying {
			t.Errorf("%s: %v, %v, off %v, carrying %v; want %v, off %v, carrying %v", c.name, res.Status, res.Pattern, res.Off, res.Carrying, c.pattern, c.off, c.carrying)
			continue
		}
		if res.Sure != c.sure {
			t.Errorf("%s: sure %v on %g ± %g", c.name, res.Sure, res.Decided, res.UDecided)
		}
		for i := range c.shims {
			if got := res.Feet[i].Shim; !(math.Abs(got-c.shims[i]) < 1e-9) {
				t.Errorf("%s: foot %d: %g, want %g", c.name, i, got, c.shims[i])
			}
		}
	}
}

// TestSoftFourFeet takes the rock of four feet anywhere from its own formula: resting on three, the fourth is off by the combination of the
// gaps that a plane leaves zero.
func TestSoftFourFeet(t *testing.T) {
	//evidence: calc=soft foot shims grade=identity count=500 source=the affine dependency of four points in a plane
	rng := rand.New(rand.NewPCG(7, 4))
	for range 500 {
		f := rectangle()
		for i := range f {
			f[i].Along += between(rng, -80, 80)
			f[i].Across += between(rng, -80, 80)
			f[i].Gap = rng.Float64()
		}
		tri := func(i, j, k int) float64 {
			return (f[j].Along-f[i].Along)*(f[k].Across-f[i].Across) - (f[k].Along-f[i].Along)*(f[j].Across-f[i].Across)
		}
		d := [4]float64{tri(1, 2, 3), -tri(0, 2, 3), tri(0, 1, 3), -tri(0, 1, 2)}
		rock := 0.0
		for i := range d {
			rock += d[i] * f[i].Gap
		}
		// Shims change the combination to zero: the least total is under the foot that counts most with the right sign.
		best := math.Inf(1)
		for i := range d {
			if s := rock / d[i]; s >= 0 {
				best = min(best, s)
			}
		}
		var res SoftResult
		Soft(&SoftInput{Feet: f}, &res)
		if !(math.Abs(res.Total-best) < 1e-9) {
			t.Fatalf("%v: total %g, want %g", f, res.Total, best)
		}
		if res.Pattern == SoftRocking {
			if r := res.Off; d[r[0]]*rock < 0 || d[r[1]]*rock < 0 || d[res.Carrying[0]]*rock > 0 {
				t.Fatalf("%v: off %v, carrying %v, dependency %v", f, res.Off, res.Carrying, d)
			}
		}
	}
}

// TestSoftSteps fills random tapers with the steps laid out and looks at the gap everywhere under the sole.
func TestSoftSteps(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 5))
	seen := map[FootSide]int{}
	machined := 0
	for range simCount(3000) {
		f := foot(0, 0)
		f.Length, f.Width = 60+100*rng.Float64(), 60+60*rng.Float64()
		a, c, w := between(rng, -0.3, 0.3), between(rng, -0.3, 0.3), 0.0
		switch rng.IntN(4) {
		case 0:
			c = 0
		case 1:
			a = 0
		case 2:
			w = between(rng, -0.03, 0.03)
		}
		open := [4]float64{-a/2 - c/2 + w, -a/2 + c/2 - w, a/2 + c/2 + w, a/2 - c/2 - w}
		low := min(open[0], open[1], open[2], open[3])
		for k := range open {
			open[k] -= low
		}
		in := SoftInput{}
		r := noSoftFoot
		in.taper(&f, open, &r)
		if math.Abs(r.TaperAlong-a) > 1e-12 || math.Abs(r.TaperAcross-c) > 1e-12 || math.Abs(r.Twist-math.Abs(w)) > 1e-12 ||
			math.Abs(r.SlopeAlong*f.Length/1000-a) > 1e-12 || math.Abs(r.SlopeAcross*f.Width/1000-c) > 1e-12 {
			t.Fatalf("%g %g %g: %+v", a, c, w, r)
		}
		// p along, q across, both 0 to 1. way is 0 at the open side, 1 at the one opposite.
		way := func(p, q float64) float64 {
			ea, ec := math.Abs(a)/(math.Abs(a)+math.Abs(c)), math.Abs(c)/(math.Abs(a)+math.Abs(c))
			switch r.Open {
			case FreeEdge:
				return 1 - p
			case CouplingEdge:
				return p
			case Edge3:
				return 1 - q
			case Edge9:
				return q
			case FreeCorner3:
				return ea*(1-p) + ec*(1-q)
			case FreeCorner9:
				return ea*(1-p) + ec*q
			case CouplingCorner3:
				return ea*p + ec*(1-q)
			case CouplingCorner9:
				return ea*p + ec*q
			}
			return 2
		}
		worst, proud := 0.0, 0.0
		const grid = 40
		for i := range grid + 1 {
			for j := range grid + 1 {
				p, q := float64(i)/grid, float64(j)/grid
				left := (1-p)*(1-q)*open[0] + (1-p)*q*open[1] + p*q*open[2] + p*(1-q)*open[3]
				for _, s := range r.Steps {
					if way(p, q) < s.Share-1e-12 {
						left -= s.Thickness
					}
				}
				worst, proud = max(worst, left), max(proud, -left)
			}
		}
		if worst > r.Residual+1e-9 || proud > 2*math.Abs(w)+1e-9 {
			t.Fatalf("a %g c %g twist %g: %v %v: %g left (said %g), %g proud", a, c, w, r.Open, r.Steps, worst, r.Residual, proud)
		}
		if r.Machine != (r.Residual > DefaultSoftLimit*(1+1e-9)) && r.Angled || len(r.Steps) > 4 {
			t.Fatalf("%+v", r)
		}
		if !r.Machine && w == 0 && worst < r.Residual-0.02 {
			t.Fatalf("a %g c %g: %g is said to be left, %g is", a, c, r.Residual, worst)
		}
		seen[r.Open]++
		if r.Machine {
			machined++
		}
	}
	for s := NoSide; s < numFootSides; s++ {
		if seen[s] == 0 {
			t.Errorf("no foot opened at %q", s)
		}
	}
	if machined == 0 || machined == simCount(3000) {
		t.Errorf("%d of 3000 to be machined", machined)
	}
}

// TestSoftCorners: a bent foot is told from a tipped machine.
func TestSoftCorners(t *testing.T) {
	f := rectangle()
	for i := range f {
		f[i].Length, f[i].Width = 100, 80
		f[i].Corner = [4]float64{}
	}
	f[2].Corner = [4]float64{0, 0, 0.12, 0.12}
	var res SoftResult
	Soft(&SoftInput{Feet: f, U: 0.003}, &res)
	r := &res.Feet[2]
	if res.Pattern != SoftAngled || !slices.Equal(res.Off, []int{2}) || !r.Angled || r.Open != FreeEdge || r.Machine || len(r.Steps) != 2 ||
		math.Abs(r.SlopeAlong-1.2) > 1e-12 || math.Abs(r.Steps[0].Share-2./3) > 1e-12 || math.Abs(r.Steps[1].Thickness-0.04) > 1e-12 || !res.Sure {
		t.Errorf("bent foot: %v %v %+v", res.Pattern, res.Off, *r)
	}
	// The whole machine tipped by 1 mm/m along and 0.5 across: each sole opens, none is bent.
	for i := range f {
		pts, _ := places(f[i : i+1])
		for k := range pts {
			f[i].Corner[k] = 1 + pts[k].x/1000 + 0.5*pts[k].y/1000
		}
	}
	Soft(&SoftInput{Feet: f}, &res)
	if res.Pattern != SoftNone || res.Total > 1e-9 || math.Abs(res.Plane[1]+1) > 1e-9 || math.Abs(res.Plane[2]+0.5) > 1e-9 {
		t.Errorf("tipped machine: %v, total %g, plane %v", res.Pattern, res.Total, res.Plane)
	}
	// Without the size of the sole nothing can be taken off; the taper is as measured.
	f = withGaps(rectangle(), 0, 0, 0, 0)
	f[1].Corner = [4]float64{0.2, 0.3, 0.3, 0.2}
	Soft(&SoftInput{Feet: f}, &res)
	if r := &res.Feet[1]; math.Abs(r.TaperAcross-0.1) > 1e-12 || !math.IsNaN(r.SlopeAcross) || r.Open != Edge3 || math.Abs(r.Shim-0.1) > 1e-12 || math.Abs(r.StandOff-0.2) > 1e-12 {
		t.Errorf("no size: %+v", *r)
	}
}

func TestSoftPull(t *testing.T) {
	for _, c := range []struct {
		freed, u   float64
		pull, sure bool
		change     float64
		shim       float64 // what the foot wants of itself is told with the flanges open
	}{
		{0.18, 0.003, false, true, 0.02, 0.17}, {0.02, 0.003, true, true, 0.18, 0}, {0.145, 0.003, true, false, 0.055, 0.135}, {0.30, 0.003, true, true, -0.10, 0.29},
	} {
		f := withRises(rectangle(), 0.01, 0.2, 0.01, 0.01)
		f[1].RiseFreed = c.freed
		var res SoftResult
		Soft(&SoftInput{Feet: f, U: c.u, URise: c.u}, &res)
		if res.Pull != c.pull || res.PullSure != c.sure || math.Abs(res.PullLargest-c.change) > 1e-12 || math.Abs(res.Feet[1].Freed-c.change) > 1e-12 || !math.IsNaN(res.Feet[0].Freed) {
			t.Errorf("freed %g: pull %v sure %v change %g", c.freed, res.Pull, res.PullSure, res.PullLargest)
		}
		if math.Abs(res.Feet[1].Shim-c.shim) > 1e-12 || res.PullFoot != 1 {
			t.Errorf("freed %g: shim %g, want %g; pull of foot %d", c.freed, res.Feet[1].Shim, c.shim, res.PullFoot)
		}
	}
}

func TestSoftRefused(t *testing.T) {
	line := []SoftFoot{foot(0, 0), foot(100, 0.01), foot(300, 0), foot(700, 0)}
	for _, c := range []struct {
		name   string
		in     SoftInput
		status SoftStatus
		foot   int
	}{
		{"two feet", SoftInput{Feet: withGaps(rectangle()[:2], 0, 0)}, SoftFeetCount, -1},
		{"thirteen feet", SoftInput{Feet: make([]SoftFoot, 13)}, SoftFeetCount, -1},
		{"in line", SoftInput{Feet: withGaps(line, 0, 0, 0, 0)}, SoftInLine, -1},
		{"in line, aslant", SoftInput{Feet: withGaps([]SoftFoot{foot(0, 0), foot(100, 100), foot(300, 300)}, 0, 0, 0)}, SoftInLine, -1},
		{"one place", SoftInput{Feet: withGaps([]SoftFoot{foot(0, 0), foot(100, 100), foot(300, 0), foot(100.5, 100)}, 0, 0, 0, 0)}, SoftSamePlace, 3},
		{"no number", SoftInput{Feet: withGaps([]SoftFoot{foot(0, 0), foot(nan, 100), foot(300, 0)}, 0, 0, 0)}, SoftBadNumber, 1},
		{"negative gap", SoftInput{Feet: withGaps(rectangle(), 0, 0, -0.1, 0)}, SoftBadNumber, 2},
		{"endless gap", SoftInput{Feet: withGaps(rectangle(), 0, 0, 0, math.Inf(1))}, SoftBadNumber, 3},
		{"negative limit", SoftInput{Feet: withGaps(rectangle(), 0, 0, 0, 0), Limit: -1}, SoftBadNumber, -1},
		{"no uncertainty", SoftInput{Feet: withGaps(rectangle(), 0, 0, 0, 0), U: nan}, SoftBadNumber, -1},
		{"not measured", SoftInput{Feet: withRises(withGaps(rectangle(), 0, 0), 0, 0, 0)}, SoftNotMeasured, 3},
	} {
		var res SoftResult
		Soft(&c.in, &res)
		if res.Status != c.status || res.Foot != c.foot || len(res.Feet) != 0 || res.Pattern != SoftNoPattern || !math.IsNaN(res.Total) {
			t.Errorf("%s: %v at %d, want %v at %d; %+v", c.name, res.Status, res.Foot, c.status, c.foot, res)
		}
	}
	for s := SoftOK; s < numSoftStatus; s++ {
		if s.String() == "" {
			t.Errorf("status %d has no words", s)
		}
	}
	for p := SoftNoPattern; p < numSoftPatterns; p++ {
		if p.String() == "" {
			t.Errorf("pattern %d has no words", p)
		}
	}
	three := []float64{0.2, nan, nan, nan}
	f := rectangle()
	copy(f[1].Corner[:], three)
	var res SoftResult
	if Soft(&SoftInput{Feet: f}, &res); res.Status != SoftBadNumber || res.Foot != 1 {
		t.Errorf("one corner of four: %v", res.Status)
	}
}

// TestSoftVectors: rises or corners in, shims or slopes out.
func TestSoftVectors(t *testing.T) {
	cases := vec.Read(t, "softfoot.vec")
	if len(cases) < 8 {
		t.Fatalf("only %d checks", len(cases))
	}
	for i := range cases {
		c := &cases[i]
		mm := func(text string) float64 {
			v, err := units.Parse(text, units.Length, units.Length.Base(), units.Point)
			if err != nil {
				t.Fatalf("%v: %q: %v", c, text, err)
			}
			return v.Base
		}
		list := func(name string) (out []float64) {
			s, _ := c.Input(name)
			for w := range strings.SplitSeq(s, ";") {
				if strings.TrimSpace(w) != "" {
					out = append(out, mm(strings.TrimSpace(w)))
				}
			}
			return out
		}
		rises, corner := list("rises"), list("corners of the first foot")
		n := max(len(rises), 4)
		in := SoftInput{}
		for k := range n {
			in.Feet = append(in.Feet, foot(float64(k/2)*600, 400*float64(k%2)))
		}
		if s, ok := c.Input("limit"); ok {
			in.Limit = mm(s)
		}
		withRises(in.Feet, rises...)
		if len(corner) == 4 {
			for k := range in.Feet {
				in.Feet[k].Gap = 0
			}
			f := &in.Feet[0]
			f.Corner = [4]float64(corner)
			f.Length, f.Width = list("sole")[0], list("sole")[1]
		}
		var res SoftResult
		Soft(&in, &res)
		for _, kv := range c.Want {
			var got, want float64
			switch kv.Name {
			case "pattern":
				if g := res.Pattern.String(); g != kv.Value {
					t.Errorf("%v: %s, want %s", c, g, kv.Value)
				}
				continue
			case "shim at the first":
				got, want = res.Feet[0].Shim, mm(kv.Value)
			case "total":
				got, want = res.Total, mm(kv.Value)
			case "taper along":
				got, want = res.Feet[0].TaperAlong, mm(kv.Value)
			case "half way":
				got, want = res.Feet[0].SlopeAlong/1000*in.Feet[0].Length/2, mm(kv.Value)
			default:
				t.Fatalf("%v: %s?", c, kv.Name)
			}
			u, ok := units.ParseUnit(c.TolUnit, units.Length)
			if !ok || !(math.Abs(got-want) <= u.ToBase(c.Tol)) {
				t.Errorf("%v: %s is %.12g mm, want %.12g within %g %s", c, kv.Name, got, want, c.Tol, c.TolUnit)
			}
		}
	}
}

// FuzzSoft feeds any numbers: no panic, and either a reason or an answer whose two totals agree.
func FuzzSoft(f *testing.F) {
	seed := func(v ...float64) {
		var b []byte
		for _, x := range v {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(x))
		}
		f.Add(b, byte(0))
		f.Add(b, byte(1))
		f.Add(b, byte(2))
	}
	seed(0, -250, 0, 0, 250, 0.1, 600, -250, 0, 600, 250, 0.2)
	seed(0, 0, 0, 100, 1e-7, 1, 300, 0, 0, 700, 2, 4)
	seed(0, 0, nan, 1e300, 0, 0, 5, 5, 5)
	f.Fuzz(func(t *testing.T, data []byte, kind byte) {
		var v []float64
		for len(data) >= 8 && len(v) < 3*14 {
			v, data = append(v, math.Float64frombits(binary.LittleEndian.Uint64(data))), data[8:]
		}
		in := SoftInput{U: 0.003, URise: 0.003}
		for ; len(v) >= 3; v = v[3:] {
			p := foot(v[0], v[1])
			switch kind % 3 {
			case 0:
				p.Gap = v[2]
			case 1:
				p.Rise, p.RiseFreed = v[2], v[0]
			default:
				p.Corner = [4]float64{v[2], v[2] / 2, 0, v[2] / 3}
				p.Length, p.Width = 100, 50
			}
			in.Feet = append(in.Feet, p)
		}
		var res SoftResult
		Soft(&in, &res)
		if res.Status != SoftOK {
			if res.Status >= numSoftStatus || len(res.Feet) != 0 {
				t.Errorf("%v", res)
			}
			return
		}
		top := 0.0
		for i := range in.Feet {
			if p := &in.Feet[i]; p.corners() {
				top = max(top, p.Corner[0])
			} else {
				top = max(top, p.Gap, 0)
			}
		}
		for i := range res.Feet {
			if r := &res.Feet[i]; !(r.Shim >= 0) || !finite(r.Shim) || res.FromGaps && !(r.Residual >= 0 && finite(r.Residual)) {
				t.Errorf("foot %d: %+v", i, *r)
			}
		}
		if res.FromGaps && !(math.Abs(res.Total-res.Bound) <= 1e-6*top*float64(len(in.Feet))) {
			t.Errorf("total %g, bound %g: %s", res.Total, res.Bound, fmt.Sprint(in.Feet))
		}
	})
}

// TestSoftAlone: gaps leave open which of two feet is short, and rises tell it: that one gets all of the rock, as it then is.
func TestSoftAlone(t *testing.T) {
	f := withRises(withGaps(rectangle(), 0.05, 0.25, 0, 0), 0.01, 0.15, 0.01, 0.02)
	var res SoftResult
	Soft(&SoftInput{Feet: f}, &res)
	if res.Pattern != SoftOneFoot || !slices.Equal(res.Off, []int{1}) {
		t.Fatalf("%v, off %v", res.Pattern, res.Off)
	}
	for i, want := range []float64{0, 0.2, 0, 0} {
		lifted := f[i].Gap + res.Plane[0] + (res.Plane[1]*f[i].Along+res.Plane[2]*f[i].Across)/1000
		if got := res.Feet[i].Shim; math.Abs(got-want) > 1e-12 || math.Abs(lifted-want) > 1e-12 {
			t.Errorf("foot %d: shim %g, to fill %g, want %g", i, got, lifted, want)
		}
	}
	if math.Abs(res.Total-0.2) > 1e-12 || math.Abs(res.Bound-0.2) > 1e-12 {
		t.Errorf("total %g, bound %g", res.Total, res.Bound)
	}
}

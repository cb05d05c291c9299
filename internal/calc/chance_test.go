package calc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// randomSpread returns a random covariance of two vectors of unit-like size; stretch makes it uneven.
func randomSpread(rng *rand.Rand, stretch float64) (c Cov) {
	var a [4][4]float64
	for i := range a {
		for j := range a {
			a[i][j] = rng.NormFloat64() * math.Exp(stretch*rng.NormFloat64())
		}
		a[i][i] += 1
	}
	for i := range c {
		for j := range c {
			for k := range a {
				c[i][j] += a[i][k] * a[j][k]
			}
		}
	}
	return
}

// The two ways of integrating a pair are independent of each other; where both apply they agree to the stated 1e-4 (what is left is the lattice's), and
// the lattice as it is used to 2e-3.
//
// evidence: calc=chance of being inside grade=independent count=10 source=a lattice of points in three dimensions against the trapezoidal rule over the chords
func TestPairTwoWays(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	fine, coarse := makeLattice(1<<19), 0.0
	done, worst, want := 0, 0.0, longCount(40)
	for tries := 0; done < want && tries < 20000; tries++ {
		c := randomSpread(rng, 0.3)
		big := math.Sqrt(max(c[0][0]+c[1][1], c[2][2]+c[3][3]))
		r1, r2 := big*(3+20*rng.Float64()), big*(3+20*rng.Float64())
		var m [4]float64
		for k, r := range [2]float64{r1, r2} {
			s, cs := math.Sincos(2 * math.Pi * rng.Float64())
			d := r + big*rng.NormFloat64()
			m[2*k], m[2*k+1] = d*cs, d*s
		}
		fast, ok := pairByChords(m, &c, r1, r2)
		if !ok {
			continue
		}
		worst = max(worst, math.Abs(fast-pairByLattice(m, &c, r1, r2, fine)))
		coarse = max(coarse, math.Abs(fast-pairByLattice(m, &c, r1, r2, lattice())))
		done++
	}
	if done < want {
		t.Fatalf("only %d cases", done)
	}
	t.Logf("largest difference %.2g, of the coarse lattice %.2g", worst, coarse)
	if worst > 1e-4 {
		t.Errorf("largest difference %.2g > 1e-4", worst)
	}
	if coarse > 2e-3 {
		t.Errorf("largest difference of the coarse lattice %.2g > 2e-3", coarse)
	}
}

// Φ2 against known values: Φ2(0, 0; ρ) = 1/4 + arcsin ρ/(2π).
//
// evidence: calc=chance of being inside grade=identity count=41 source=W. F. Sheppard's formula for the quadrant, 1899
func TestBivariateQuadrant(t *testing.T) {
	for i := -20; i <= 20; i++ {
		rho := 0.92 * float64(i) / 20
		var b bivariate
		if !b.set(rho) {
			t.Fatalf("ρ = %g refused", rho)
		}
		if got, want := b.below(0, 0, 0.5, 0.5), 0.25+math.Asin(rho)/(2*math.Pi); math.Abs(got-want) > 1e-7 {
			t.Errorf("ρ = %g: %g, want %g", rho, got, want)
		}
	}
	var b bivariate
	if b.set(0.95) || b.set(math.NaN()) {
		t.Error("a correlation past 0.92 was taken")
	}
}

// discByHand integrates over the disc in strips across the first axis as it lies, with no turn of the axes: x = r·sin θ, and over each strip what the normal number y, given x, has between its ends.
func discByHand(mx, my, sxx, sxy, syy, r float64) float64 {
	const n = 2000
	sx, beta := math.Sqrt(sxx), sxy/sxx
	rest := math.Sqrt(syy - sxy*beta)
	sum := 0.0
	for i := range n {
		th := math.Pi * ((float64(i)+0.5)/n - 0.5)
		sin, cos := math.Sincos(th)
		x, h := r*sin, r*cos
		z := (x - mx) / sx
		c := my + beta*(x-mx)
		sum += math.Exp(-0.5*z*z) / (math.Sqrt(2*math.Pi) * sx) * r * cos * 0.5 * (math.Erf((h-c)/(rest*math.Sqrt2)) - math.Erf((-h-c)/(rest*math.Sqrt2)))
	}
	return sum * math.Pi / n
}

// One vector whose spread is larger in one direction than in another, at any angle to its mean, in discs much larger than the spread and smaller: against strips laid without turning anything; and the chance stays
// when all is turned, or mirrored.
//
// evidence: calc=chance of being inside grade=independent count=200 source=the normal density integrated in strips over the disc, axes as they lie
func TestDiscAnyway(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 30))
	middling := 0
	for i := range 200 {
		a, b, th := 1.0, math.Exp(-3*rng.Float64()), math.Pi*rng.Float64()
		if i%4 == 0 {
			b = 1 - 0.2*rng.Float64()
		}
		s, c := math.Sincos(th)
		sxx, sxy, syy := a*a*c*c+b*b*s*s, (a*a-b*b)*s*c, a*a*s*s+b*b*c*c
		r := math.Exp(3*rng.Float64() - 0.5)
		m, dir := max(0, r+2*rng.NormFloat64()), 2*math.Pi*rng.Float64()
		if i%7 == 0 {
			m = 1e-4 * rng.Float64()
		}
		ds, dc := math.Sincos(dir)
		mx, my := m*dc, m*ds
		got, want := discChance(mx, my, sxx, sxy, syy, r), discByHand(mx, my, sxx, sxy, syy, r)
		if !(math.Abs(got-want) <= 2e-8) { // 1e-8 is what is stated, and as much for the strips
			t.Errorf("mean %g at %g, spread %g and %g at %g, disc %g: %.10f, in strips %.10f", m, dir, a, b, th, r, got, want)
		}
		if want > 0.02 && want < 0.98 {
			middling++
		}
		for what, turned := range map[string]float64{"turned by a quarter": discChance(-my, mx, syy, -sxy, sxx, r), "mirrored": discChance(mx, -my, sxx, -sxy, syy, r), "axes exchanged": discChance(my, mx, syy, sxy, sxx, r),
			"in other units": discChance(25.4*mx, 25.4*my, 25.4*25.4*sxx, 25.4*25.4*sxy, 25.4*25.4*syy, 25.4*r)} {
			if math.Abs(got-turned) > 2e-8 {
				t.Errorf("%s: %.10f, was %.10f", what, turned, got)
			}
		}
		// Squeezed to a line along (c, s): the part of the line that lies in the disc.
		along, off := mx*c+my*s, -mx*s+my*c
		want = 0
		if math.Abs(off) < r {
			h := math.Sqrt(r*r - off*off)
			want = 0.5 * (math.Erf((h-along)/math.Sqrt2) - math.Erf((-h-along)/math.Sqrt2))
		}
		if got = discChance(mx, my, c*c, s*c, s*s, r); math.Abs(got-want) > 1e-6 { // rounding leaves a spread of a hundred-millionth across
			t.Errorf("on a line at %g: %.9f, the chord has %.9f", th, got, want)
		}
	}
	if middling < 60 {
		t.Errorf("%d cases only were undecided", middling)
	}
}

// Without spread the chance is 1 up to the limit and 0 past it; nothing comes of numbers that are none, and nothing is in a disc without radius.
func TestDiscOfNothing(t *testing.T) {
	inf := math.Inf(1)
	for _, c := range []struct{ mx, my, sxx, sxy, syy, r, want float64 }{
		{0.3, 0.4, 0, 0, 0, 0.5, 1}, {0.3, 0.4, 0, 0, 0, 0.5 * (1 - 1e-10), 1}, {0.3, 0.4, 0, 0, 0, 0.5 * (1 - 1e-8), 0}, {0, 0, 0, 0, 0, 1e-3, 1}, {0.3, 0.4, 0, 0, 0, 0.4, 0},
		{0.3, 0.4, 1, 0, 1, 0, nan}, {0.3, 0.4, 1, 0, 1, -1, nan}, {0.3, 0.4, 1, 0, 1, nan, nan}, {nan, 0.4, 1, 0, 1, 1, nan}, {0.3, nan, 1, 0, 1, 1, nan}, {0.3, 0.4, nan, 0, 1, 1, nan}, {0.3, 0.4, 1, nan, 1, 1, nan},
		{0.3, 0.4, 1, 0, nan, 1, nan}, {10, 0, 1, 0, 1, 100, 1}, {100, 0, 1, 0, 1, 10, 0}, {inf, 0, 1, 0, 1, 10, 0}, {1e150, 0, 1, 0, 1, 10, 0},
	} {
		if got := discChance(c.mx, c.my, c.sxx, c.sxy, c.syy, c.r); got != c.want && !(math.IsNaN(got) && math.IsNaN(c.want)) {
			t.Errorf("%+v: %g", c, got)
		}
	}
}

// What of a line through the plane lies in the disc of radius one: from edge to edge, all or nothing of a point that does not move, nothing where the line passes by.
func TestInUnitDisc(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 31))
	met, passed := 0, 0
	for range 400 {
		x, y, a, b := 2*rng.NormFloat64(), 2*rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()
		lo, hi := inUnitDisc(x, y, a, b)
		// The distance of the line from the middle, by the area of the triangle over its base.
		if away := math.Abs(a*y-b*x) / math.Hypot(a, b); away > 1 {
			if passed++; lo <= hi {
				t.Errorf("a line %g away has from %g to %g inside", away, lo, hi)
			}
			continue
		}
		met++
		for _, z := range [2]float64{lo, hi} {
			if d := math.Hypot(x+a*z, y+b*z); math.Abs(d-1) > 1e-9 {
				t.Errorf("an end stands %g from the middle", d)
			}
		}
		if mid := (lo + hi) / 2; !(lo < hi) || math.Hypot(x+a*mid, y+b*mid) > 1 {
			t.Errorf("from %g to %g", lo, hi)
		}
	}
	if met < 50 || passed < 50 {
		t.Errorf("%d and %d", met, passed)
	}
	for _, c := range []struct {
		x, y float64
		in   bool
	}{{0, 0, true}, {0.6, 0.8, true}, {0.6, 0.8 + 1e-10, true}, {0.6, 0.81, false}, {-0.7, 0.72, false}, {0, -1.001, false}, {-0.5, -0.5, true}} {
		lo, hi := inUnitDisc(c.x, c.y, 0, 0)
		if c.in != (math.IsInf(lo, -1) && math.IsInf(hi, 1)) || !c.in && lo <= hi {
			t.Errorf("a point at %g, %g that does not move: from %g to %g", c.x, c.y, lo, hi)
		}
	}
}

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

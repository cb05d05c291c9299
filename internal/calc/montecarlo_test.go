package calc

import (
	"math"
	"math/rand/v2"
	"testing"

	"shimsheet/internal/tables"
)

// chanceOf asks Solve for the chance of a given line, exact itself, that strays from the truth with the covariance c.
func chanceOf(t *testing.T, coupling tables.Coupling, l Line, c Cov, length float64, lim Limits) Judgement {
	t.Helper()
	in := Input{Given: l, Coupling: coupling, Length: length, Limits: lim, WantedCov: c, FlangeStation: math.NaN()}
	var res Result
	Solve(&in, &res)
	if res.Status != OK {
		t.Fatalf("status %v", res.Status)
	}
	return res.Found
}

// randomCov returns L·Lᵀ of a random triangle: correlated, of standard deviations about d (mm) and s (mm/m); thin makes one
// direction much narrower than the others.
func randomCov(rng *rand.Rand, d, s float64, thin bool) (l, c Cov) {
	sd := [4]float64{d, s, d, s}
	for i := range l {
		for j := range i {
			l[i][j] = either(rng, 0, 0.7) * sd[i]
		}
		l[i][i] = sd[i] * between(rng, 0.3, 1)
	}
	if thin {
		l[2][2] *= 1e-3
		l[1][1] *= 0.02
	}
	for i := range c {
		for j := range c {
			for k := range 4 {
				c[i][j] += l[i][k] * l[j][k]
			}
		}
	}
	return l, c
}

// TestChanceMonteCarlo draws lines about the one found and counts those inside every limit; the judged vectors are formed anew for every
// draw from their definition. The bound is 4.5 standard deviations of the count: over these cases it is passed by chance once in
// some three thousand runs, and the seed is fixed.
func TestChanceMonteCarlo(t *testing.T) {
	//evidence: calc=chance of being inside grade=independent count=60 source=Monte Carlo, fixed seed, 100,000 draws a case: short, spacer and universal couplings, correlated and anisotropic
	rng := rand.New(rand.NewPCG(8, 8))
	draws := longCount(400_000)
	middling := 0
	for i := range 60 {
		coupling := []tables.Coupling{tables.Flexible, tables.Spacer, tables.Universal, tables.Flexible, tables.Spacer}[i%5]
		limO, limS, length := between(rng, 0.03, 0.15), between(rng, 0.2, 1), between(rng, 100, 1200)
		near := between(rng, 0, 1.3) // how far out the line stands, in limits
		if i%7 == 0 {
			near = 1e-4 // almost exactly in line: the chance is of the spread alone
		}
		wide := []float64{0.05, 0.2, 0.5, 1.5}[i%4]
		l, c := randomCov(rng, wide*limO, wide*limS, i%6 == 5)
		if coupling == tables.Spacer { // angles are offset·1000/L
			l, c = randomCov(rng, wide*limS*length/1000, wide*limS, i%6 == 5)
			limO = limS * length / 1000
		}
		w := [2]float64{between(rng, 0, 2*math.Pi), between(rng, 0, 2*math.Pi)}
		a, b := near*limO*0.7, near*limS*0.7
		line := Line{a * math.Cos(w[0]), b * math.Cos(w[1]), a * math.Sin(w[0]), b * math.Sin(w[1])}
		j := chanceOf(t, coupling, line, c, length, Limits{limO, limS})

		in := 0
		for range draws {
			var z, p [4]float64
			for k := range z {
				z[k] = rng.NormFloat64()
			}
			p = lineArray(line)
			for r := range p {
				for k := range r + 1 {
					p[r] += l[r][k] * z[k]
				}
			}
			var ok bool
			switch coupling {
			case tables.Flexible:
				ok = math.Hypot(p[0], p[2]) <= limO && math.Hypot(p[1], p[3]) <= limS
			case tables.Universal:
				ok = math.Hypot(p[1], p[3]) <= limS
			case tables.Spacer: // the spool between (−L/2 on the stationary axis) and V(L/2) on the movable one
				sv, sh := (p[0]+p[1]*length/2000)*1000/length, (p[2]+p[3]*length/2000)*1000/length
				ok = math.Hypot(sv, sh) <= limS && math.Hypot(p[1]-sv, p[3]-sh) <= limS
			}
			if ok {
				in++
			}
		}
		got, n := float64(in)/float64(draws), float64(draws)
		sd := math.Sqrt(math.Max(got*(1-got), 1/n) / n)
		if got > 0.02 && got < 0.98 {
			middling++
		}
		if !(math.Abs(j.Chance-got) <= 4.5*sd+1e-6) {
			t.Errorf("case %d, %v, %+v, limits %.3f %.3f, spread %.2f of them: chance %.6f, drawn %.6f ± %.6f", i, coupling, line, limO, limS, wide, j.Chance, got, sd)
		}
	}
	if middling < 20 {
		t.Errorf("only %d of the cases were undecided", middling)
	}
}

// TestChanceExact holds single vectors to closed forms and series.
func TestChanceExact(t *testing.T) {
	nan := math.NaN()
	slopeOnly := func(m, u, limit, dir float64) float64 {
		s, c := math.Sincos(dir)
		var cov Cov
		cov[1][1], cov[3][3] = u*u, u*u
		return chanceOf(t, tables.Universal, Line{0, m * c, 0, m * s}, cov, nan, Limits{nan, limit}).Chance
	}

	t.Run("Rayleigh", func(t *testing.T) {
		//evidence: calc=chance of being inside grade=identity count=30 source=Rayleigh distribution, 1 − exp(−L²/2u²) about zero
		for k := range 30 {
			u := 0.01 * math.Pow(1.35, float64(k))
			want := -math.Expm1(-0.5 * (0.5 / u) * (0.5 / u))
			if got := slopeOnly(0, u, 0.5, 0); !(math.Abs(got-want) <= 1e-8) {
				t.Errorf("u %g: %.12f, want %.12f", u, got, want)
			}
		}
	})

	t.Run("noncentral chi-square", func(t *testing.T) {
		//evidence: calc=chance of being inside grade=identity count=120 source=noncentral chi-square with two degrees of freedom (1 − Marcum Q1) by its Poisson series
		rng := rand.New(rand.NewPCG(9, 9))
		for range 120 {
			u, limit := between(rng, 0.02, 0.6), 0.5
			m := between(rng, 0, 1)
			got, want := slopeOnly(m, u, limit, between(rng, 0, 6)), oneMinusMarcumQ(m/u, limit/u)
			if !(math.Abs(got-want) <= 1e-8) { // stated accuracy of the integration for one vector
				t.Errorf("magnitude %g, u %g: %.12f, series %.12f", m, u, got, want)
			}
		}
	})

	t.Run("independent vectors multiply", func(t *testing.T) {
		//evidence: calc=chance of being inside grade=identity count=50 source=product rule for independent offset and slope
		rng := rand.New(rand.NewPCG(10, 10))
		for range 50 {
			u0, u1 := between(rng, 0.01, 0.1), between(rng, 0.05, 0.5)
			m0, m1 := between(rng, 0, 0.08), between(rng, 0, 0.6)
			var cov Cov
			cov[0][0], cov[2][2], cov[1][1], cov[3][3] = u0*u0, u0*u0, u1*u1, u1*u1
			got := chanceOf(t, tables.Flexible, Line{m0, 0, 0, m1}, cov, nan, Limits{0.05, 0.5}).Chance
			want := oneMinusMarcumQ(m0/u0, 0.05/u0) * oneMinusMarcumQ(m1/u1, 0.5/u1)
			if !(math.Abs(got-want) <= 1e-6) { // independent vectors are multiplied: what is left is the plane integral
				t.Errorf("offset %g ± %g, slope %g ± %g: %.9f, product %.9f", m0, u0, m1, u1, got, want)
			}
		}
	})

	t.Run("one vector twice", func(t *testing.T) {
		//evidence: calc=chance of being inside grade=identity count=20 source=a spacer whose line passes through the coupling centre exactly: both angles are half the slope, so the pair is one vector
		rng := rand.New(rand.NewPCG(11, 11))
		for range 20 {
			u, m := between(rng, 0.1, 0.6), between(rng, 0, 1.5)
			var cov Cov
			cov[1][1], cov[3][3] = u*u, u*u
			got := chanceOf(t, tables.Spacer, Line{0, m, 0, 0}, cov, 400, Limits{nan, 0.5}).Chance
			want := oneMinusMarcumQ(m/u, 1/u)
			if !(math.Abs(got-want) <= 2e-3) { // stated accuracy of a pair that is nearly one vector
				t.Errorf("slope %g ± %g: %.9f, one vector %.9f", m, u, got, want)
			}
		}
	})

	t.Run("half plane", func(t *testing.T) {
		//evidence: calc=chance of being inside grade=identity count=2 source=JCGM 106:2012 § 7.2.2 examples, Φ(1.4) = 0.919 and Φ(19.7/8.6) = 0.989 (from memory, recomputed), as the limit of a large disc
		for _, c := range []struct{ room, u, want float64 }{
			{5.47 - 5.40, 0.05, 0.919}, // upper limit −5.40, found −5.47: 0.07 of room
			{509.7 - 490, 8.6, 0.989},
		} {
			// One plane only, and a disc a hundred thousand times the spread: its edge is straight, the lower edge far away.
			r := 1e5 * c.u
			var cov Cov
			cov[1][1] = c.u * c.u
			got := chanceOf(t, tables.Universal, Line{0, r - c.room, 0, 0}, cov, nan, Limits{nan, r}).Chance
			if math.Abs(got-c.want) > 5e-4 { // three digits are printed
				t.Errorf("room %g, u %g: %.6f, published %.3f", c.room, c.u, got, c.want)
			}
			if exact := 0.5 * math.Erfc(-c.room/c.u/math.Sqrt2); math.Abs(got-exact) > 1e-8 {
				t.Errorf("room %g, u %g: %.9f, normal distribution %.9f", c.room, c.u, got, exact)
			}
			// With as much spread across, the edge curves away by u²/2r, 5e-6 of u.
			cov[3][3] = cov[1][1]
			if round := chanceOf(t, tables.Universal, Line{0, r - c.room, 0, 0}, cov, nan, Limits{nan, r}).Chance; math.Abs(got-round) > 1e-5 {
				t.Errorf("room %g, u %g: %.9f round, %.9f in one plane", c.room, c.u, round, got)
			}
		}
	})
}

// oneMinusMarcumQ is the chance that a plane vector of standard normal parts about a point at distance a lies within b of the centre:
// Σ Poisson(k; a²/2) · P(k + 1, b²/2), P the regularised incomplete gamma function of a whole number, itself a Poisson tail.
func oneMinusMarcumQ(a, b float64) float64 {
	la, lb := a*a/2, b*b/2
	n := int(lb + 12*math.Sqrt(lb+1) + 60)
	if m := int(la + 12*math.Sqrt(la+1) + 60); m > n {
		n = m
	}
	poisson := func(k int, l float64) float64 {
		if l == 0 {
			if k == 0 {
				return 1
			}
			return 0
		}
		lg, _ := math.Lgamma(float64(k + 1))
		return math.Exp(float64(k)*math.Log(l) - l - lg)
	}
	// P(k+1, lb) = Σ_{j>k} Poisson(j; lb), summed from the far end.
	tail := make([]float64, n+1)
	s := 0.0
	for j := 2 * n; j > n; j-- {
		s += poisson(j, lb)
	}
	for k := n; k >= 0; k-- {
		tail[k] = s
		s += poisson(k, lb)
	}
	p := 0.0
	for k := range n + 1 {
		p += poisson(k, la) * tail[k]
	}
	return p
}

// TestGuardBand holds the verdict to its promise: with the guard band w = U (k = 2) a coupling that is truly past a limit is called inside
// in at most 2.3 % of the measurements, and one truly inside is called outside as rarely.
func TestGuardBand(t *testing.T) {
	//evidence: calc=verdict grade=published count=48 source=ILAC-G8:09/2019 § 4.2.3: guard band w = U gives at most 2.3 % false accepts
	rng := rand.New(rand.NewPCG(12, 12))
	nan := math.NaN()
	n := longCount(4000)
	for i := range 48 {
		limit := 0.5
		u := limit * []float64{0.02, 0.05, 0.1, 0.2, 0.3, 0.45}[i%6]
		edge := 1 + 1e-6*float64(2*(i/6%2)-1) // the truth a hair outside or a hair inside
		dir := between(rng, 0, 2*math.Pi)
		var cov Cov
		cov[1][1], cov[3][3] = u*u, u*u
		if i%4 == 3 { // one plane known three times better
			cov[3][3] /= 9
		}
		wrong := 0
		var res Result
		for range n {
			tv := limit*edge*math.Cos(dir) + math.Sqrt(cov[1][1])*rng.NormFloat64()
			th := limit*edge*math.Sin(dir) + math.Sqrt(cov[3][3])*rng.NormFloat64()
			Solve(&Input{Given: Line{0, tv, 0, th}, WantedCov: cov, Coupling: tables.Universal, Length: nan, Limits: Limits{nan, limit}, FlangeStation: nan}, &res)
			if (edge > 1 && res.Found.Verdict == Inside) || (edge < 1 && res.Found.Verdict == Outside) {
				wrong++
			}
		}
		// The published figure is for one dimension. Measured magnitudes are biased outwards by u²/2L, so calling a coupling outside that
		// is inside is allowed that shift. And where the spread is nearly as wide as the limit itself, the band along the found
		// vector no longer covers the other direction: there the rule's floor, a chance of 95 %, is what is left of the promise.
		allowed := phi(-2)
		if edge < 1 {
			allowed = phi(-2 + u/limit)
		} else if u > 0.3*limit {
			allowed = 0.05
		}
		if got := float64(wrong) / float64(n); got > allowed+4.5*math.Sqrt(allowed/float64(n)) {
			t.Errorf("case %d, u %.3f of the limit, truth %+.0e past it: %.2f %% wrong, allowed %.2f %%", i, u/limit, edge-1, 100*got, 100*allowed)
		}
	}
	// The one-dimensional figures themselves.
	if p := 100 * phi(-2); math.Abs(p-2.3) > 0.05 {
		t.Errorf("Φ(−2) = %.3f %%, published 2.3 %%", p)
	}
	if p := 100 * phi(-2*0.822); math.Abs(p-5) > 0.05 {
		t.Errorf("Φ(−2·0.822) = %.3f %%, published 5 %%", p)
	}
}

// TestTies: equal to the limit within 1e-9 of it is inside, whatever the last bit says.
func TestTies(t *testing.T) {
	//evidence: calc=verdict grade=practice count=6 source=the rule of ties as documented: equal to a limit within 1e-9 is inside
	nan := math.NaN()
	for _, c := range []struct {
		line    Line
		want    Verdict
		limits  Limits
		couple  tables.Coupling
		chance1 float64
	}{
		{Line{0.05, 0, 0, 0}, Inside, Limits{0.05, 0.5}, tables.Flexible, 1},
		{Line{0.03, 0, 0.04, 0}, Inside, Limits{0.05, 0.5}, tables.Flexible, 1},
		{Line{0.05 * (1 + 5e-10), 0, 0, 0}, Inside, Limits{0.05, 0.5}, tables.Flexible, 1},
		{Line{0.05 * (1 + 2e-9), 0, 0, 0}, Outside, Limits{0.05, 0.5}, tables.Flexible, 0},
		{Line{0, 0.3, 0, 0.4}, Inside, Limits{nan, 0.5}, tables.Universal, 1},
		{Line{0, 0.3, 0, 0.4 + 1e-8}, Outside, Limits{nan, 0.5}, tables.Universal, 0},
	} {
		j := chanceOf(t, c.couple, c.line, Cov{}, nan, c.limits)
		if j.Verdict != c.want || j.Chance != c.chance1 {
			t.Errorf("%+v against %+v: %v with chance %g, want %v with %g", c.line, c.limits, j.Verdict, j.Chance, c.want, c.chance1)
		}
	}
}

// TestPartOfLine: what was not given stays empty, and so does everything that rests on it. A plane that is given whole is corrected.
func TestPartOfLine(t *testing.T) {
	//evidence: calc=verdict grade=practice count=5 source=common practice, no source: half a line is not judged
	nan := math.NaN()
	var res Result
	for i, l := range []Line{{nan, 1, 0.1, 1}, {0.1, nan, 0.1, 1}, {0.1, 1, nan, 1}, {0.1, 1, 0.1, nan}, {0.1, 1, nan, nan}} {
		Solve(&Input{Given: l, GivenU: Line{.01, .05, .01, .05}, Length: nan, Limits: Limits{0.05, 0.5}, Feet: []float64{300, 900}, FlangeStation: nan}, &res)
		if res.Status != PartOfLine || res.Found.Verdict != NotJudged || !math.IsNaN(res.Found.Chance) || !math.IsNaN(res.Found.Share) {
			t.Errorf("case %d: status %v, %v, chance %g, share %g", i, res.Status, res.Found.Verdict, res.Found.Chance, res.Found.Share)
		}
		got, want := lineArray(res.Line), lineArray(l)
		for k := range got {
			if math.IsNaN(got[k]) != math.IsNaN(want[k]) || !math.IsNaN(want[k]) && got[k] != want[k] {
				t.Errorf("case %d, %s: %g, given %g", i, lineNames[k], got[k], want[k])
			}
		}
		if len(res.Feet) != 2 {
			t.Fatalf("case %d: %d feet", i, len(res.Feet))
		}
		for _, f := range res.Feet {
			for _, p := range []struct{ d, t, got, u float64 }{{l.DV, l.TV, f.Shim, f.UShim}, {l.DH, l.TH, f.Move, f.UMove}} {
				want := -(p.d + p.t*f.Station/1000)
				u := 2 * math.Hypot(0.01, 0.05*f.Station/1000)
				if math.IsNaN(want) != math.IsNaN(p.got) || math.Abs(p.got-want) > 1e-12 || !math.IsNaN(want) && math.Abs(p.u-u) > 1e-12 {
					t.Errorf("case %d, foot at %g: %g ± %g, want %g ± %g", i, f.Station, p.got, p.u, want, u)
				}
			}
		}
	}
}

package calc

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// tapedInput is a row whose readings, brackets, distances and wanted line are all uncertain. With two sweeps of one kind on each shaft the line does not depend on their weights.
func tapedInput(rng *rand.Rand, i int) Input {
	line := Line{either(rng, 0.1, 0.6), either(rng, 0.3, 2), either(rng, 0.1, 0.6), either(rng, 0.3, 2)}
	var sweeps []Sweep
	switch i % 4 {
	case 0:
		sweeps = []Sweep{{Model: RimOnMovable, Station: between(rng, 60, 300)}, {Model: RimOnStationary, Station: -between(rng, 60, 300)}}
	case 1:
		sweeps = []Sweep{{Model: RimOnMovable, Station: between(rng, 10, 100)}, {Model: FaceFront, Diameter: between(rng, 100, 400)}}
	case 2:
		sweeps = []Sweep{{Model: StepAtRim, Station: between(rng, 10, 30)}, {Model: GapBetween, Diameter: between(rng, 100, 400)}}
	default:
		length := between(rng, 150, 900)
		sweeps = []Sweep{{Model: SpoolOnMovable, Length: length, Diameter: between(rng, 100, 400)}, {Model: SpoolOnStationaryBack, Length: length, Diameter: between(rng, 100, 400)}}
	}
	in := Input{Given: nanLine, Length: nan, FlangeStation: nan, Limits: Limits{between(rng, 0.3, 2), between(rng, 1, 5)}, UDistance: between(rng, 0.3, 1), Checks: loose}
	for k := range sweeps {
		s := &sweeps[k]
		s.Graduation, s.U = 0.01, between(rng, 0.003, 0.008)
		if s.Model != StepAtRim && s.Model != GapBetween {
			s.SagAt6, s.USag = -0.05*float64(k+1), between(rng, 0.003, 0.02)
		}
		s.Angle = []float64{0, 90, 180, 270}
		s.Reading, _ = Expected(s, &line, nil)
	}
	in.Sweeps = sweeps
	switch i % 3 {
	case 0:
		in.Coupling = tables.Flexible
		in.AddShares = i%2 == 0
	case 1:
		in.Coupling, in.Length = tables.Spacer, between(rng, 150, 900)
		if l := sweeps[0].Length; l > 0 {
			in.Length = l
		}
	default:
		in.Coupling, in.Length = tables.Universal, between(rng, 150, 900)
	}
	in.Wanted = Line{either(rng, 0, 0.05), either(rng, 0, 0.1), either(rng, 0, 0.05), either(rng, 0, 0.1)}
	_, in.WantedCov = randomCov(rng, 0.02, 0.05, false)
	return in
}

// alone is the variance of the judged magnitude with everything exact but one source: 0 and 1 the sweeps, 2 sag, 3 distances, 4 the wanted line; −1 none. Readings cannot be exact: all others are a hundred
// times better, which is taken off again.
func (in *Input) alone(t *testing.T, source int, pick func(*Judgement) *Vector) float64 {
	t.Helper()
	const better = 0.01
	e := clone(in)
	for k := range e.Sweeps {
		if s := &e.Sweeps[k]; k != source {
			s.U *= better
		}
		if source != 2 {
			e.Sweeps[k].USag = 0
		}
	}
	e.NoMisfit = true
	if source != 3 {
		e.UDistance = 0
	}
	if source != 4 {
		e.WantedCov = Cov{}
	}
	var r Result
	Solve(&e, &r)
	if r.Status != OK {
		t.Fatal(r.Status)
	}
	u := pick(&r.Found).UTotal
	switch source {
	case -1:
		return u * u
	case 0, 1:
		return (u*u - in.alone(t, -1, pick)) / (1 - better*better)
	}
	return u*u - in.alone(t, -1, pick)
}

// Parts names the shares of each source in the judged magnitude: what each does when all the others are exact, over what they do together. They add up to one, the largest first.
//
// evidence: calc=what the uncertainty is made of grade=identity count=120 source=each source alone, all others exact; independent variances add (JCGM 100:2008, 5.1.2)
func TestPartsAlone(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 1))
	kinds := [5]int{}
	flex := [2]int{}
	for i := range 120 {
		in := tapedInput(rng, i)
		var res Result
		Solve(&in, &res)
		if res.Status != OK {
			t.Fatal(i, res.Status)
		}
		// The vector that takes most of its limit, by the limits themselves.
		pick := func(j *Judgement) *Vector { return &j.Slope }
		switch f := &res.Found; in.Coupling {
		case tables.Spacer:
			if pick = func(j *Judgement) *Vector { return &j.FlexS }; f.FlexM.Total > f.FlexS.Total {
				pick = func(j *Judgement) *Vector { return &j.FlexM }
				flex[1]++
			} else {
				flex[0]++
			}
		case tables.Flexible:
			if f.Offset.Total/in.Limits.Offset > f.Slope.Total/in.Limits.Slope {
				pick = func(j *Judgement) *Vector { return &j.Offset }
			}
		}
		var want [5]float64
		sum := 0.0
		for k := range want {
			want[k] = in.alone(t, k, pick)
			sum += want[k]
		}
		u := pick(&res.Found).UTotal
		if math.Abs(sum/(u*u)-1) > 1e-6 {
			t.Fatalf("row %d: the sources together %g, the row %g", i, sum, u*u)
		}
		parts := in.Parts(&res)
		total, last := 0.0, math.Inf(1)
		var got [5]float64
		for _, p := range parts {
			at := map[PartKind]int{FromSag: 2, FromDistances: 3, FromWanted: 4}[p.Kind]
			if p.Kind == FromSweep {
				at = p.Sweep
			} else if p.Sweep != -1 {
				t.Errorf("row %d: %+v speaks of a sweep", i, p)
			}
			if got[at] != 0 || p.Share > last || !(p.Share > 0) {
				t.Errorf("row %d: %+v in %v", i, p, parts)
			}
			got[at], last = p.Share, p.Share
			total += p.Share
			kinds[at]++
		}
		for k := range want {
			if math.Abs(got[k]-want[k]/sum) > 2e-5 { // a source of no more than a millionth is not named; and the step of the difference
				t.Errorf("row %d: source %d has a share of %g, alone %g", i, k, got[k], want[k]/sum)
			}
		}
		if math.Abs(total-1) > 1e-5 {
			t.Errorf("row %d: the shares add up to %g", i, total)
		}
	}
	if slices.Min(kinds[:]) < 10 || flex[0] < 5 || flex[1] < 5 {
		t.Errorf("sources %v, flex planes %v: too few to tell", kinds, flex)
	}
}

// A hot line that was measured brings its own uncertainty into the wanted line: with exact readings and distances it is all there is. Without a verdict there is nothing to part.
func TestPartsMeasured(t *testing.T) {
	in := rowInput(reverseSweeps(Line{0.05, 0.1, 0.02, -0.1}, []float64{0, 90, 180, 270}))
	in.Measured = &ColdToHot{Cold: Line{0.1, 0.1, 0, 0}, Hot: Line{0.05, 0.1, 0.01, 0}}
	in.Measured.HotCov[0][0], in.Measured.HotCov[2][2] = 4e-4, 4e-4
	in.Measured.ColdCov[1][1], in.Measured.ColdCov[3][3] = 1e-4, 1e-4
	var res Result
	Solve(&in, &res)
	share := func() float64 {
		for _, p := range in.Parts(&res) {
			if p.Kind == FromWanted {
				return p.Share
			}
		}
		return 0
	}
	u := in.tightest(&res.Found).UTotal
	exact := in
	exact.Measured = &ColdToHot{Cold: in.Measured.Cold, Hot: in.Measured.Hot}
	var bare Result
	Solve(&exact, &bare)
	v := exact.tightest(&bare.Found).UTotal
	if want := 1 - v*v/(u*u); !(want > 0.2) || math.Abs(share()-want) > 1e-9 {
		t.Errorf("the measured change has a share of %g, not %g", share(), want)
	}
	if w := *in.Measured; w.HotCov[0][0] != 4e-4 || w.ColdCov[1][1] != 1e-4 {
		t.Error("Parts changed the row it was asked of")
	}
	in.Limits = Limits{nan, nan}
	if Solve(&in, &res); in.Parts(&res) != nil {
		t.Error("parts without a verdict")
	}
	given := Input{Given: Line{0.1, 0.1, 0.1, 0.1}, GivenU: Line{0.01, 0.01, 0.01, 0.01}, Length: nan, FlangeStation: nan, Limits: Limits{0.5, 0.5}}
	if Solve(&given, &res); res.Status != OK || given.Parts(&res) != nil {
		t.Error("parts of a line that was given")
	}
}

// Settles is held to the readings really taken so many times more: where it says which sweep and how often, that decides the verdict, and nothing cheaper does; where it says none, none does.
//
// evidence: calc=what would decide a verdict grade=independent count=400 source=the row worked out again with its readings repeated, every cheaper way tried
func TestSettlesByRepeating(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 2))
	seen := map[[2]int]int{}
	for range 2500 {
		in := tapedInput(rng, rng.IntN(4))
		in.Coupling, in.Length, in.AddShares = tables.Flexible, nan, false
		in.UDistance *= 0.1
		for k := range in.Sweeps {
			in.Sweeps[k].U *= math.Exp(rng.NormFloat64())
			in.Sweeps[k].USag *= 0.3
		}
		in.WantedCov = Cov{}
		var res Result
		Solve(&in, &res)
		// The limit near the magnitude, so that it is close.
		in.Limits = Limits{res.Found.Offset.Total * between(rng, 0.9, 1.2), 10}
		if Solve(&in, &res); res.Status != OK || res.Found.Verdict != TooClose {
			if s, n := in.Settles(&res); s != -1 || n != 0 {
				t.Fatalf("%v is to be decided by sweep %d, %d times", res.Found.Verdict, s, n)
			}
			continue
		}
		repeated := func(more int, which ...int) (float64, bool) {
			e := clone(&in)
			e.NoMisfit = true
			for _, k := range which {
				s := &e.Sweeps[k]
				a, r := s.Angle, s.Reading
				for range more {
					s.Angle, s.Reading = append(s.Angle, a...), append(s.Reading, r...)
				}
			}
			var r Result
			Solve(&e, &r)
			return r.Found.Offset.UTotal, r.Found.Verdict == Inside || r.Found.Verdict == Outside
		}
		want := [2]int{-1, 0}
	ways:
		for _, more := range [2]int{1, 3} {
			least := math.Inf(1)
			for k := range in.Sweeps {
				if u, ok := repeated(more, k); ok && u < least {
					want, least = [2]int{k, more}, u
				}
			}
			if want[1] > 0 {
				break ways
			}
			if _, ok := repeated(more, 0, 1); ok {
				want = [2]int{-1, more}
				break ways
			}
		}
		before := clone(&in)
		s, n := in.Settles(&res)
		if [2]int{s, n} != want {
			t.Errorf("sweep %d %d times more, by repeating them %v", s, n, want)
		}
		if in.Sweeps[0].U != before.Sweeps[0].U || in.Sweeps[1].U != before.Sweeps[1].U {
			t.Fatal("Settles changed the row it was asked of")
		}
		seen[want]++
	}
	for _, w := range [][2]int{{0, 1}, {1, 1}, {-1, 1}, {0, 3}, {1, 3}, {-1, 3}, {-1, 0}} {
		if seen[w] < 4 {
			t.Errorf("%v came %d times only: %v", w, seen[w], seen)
		}
	}
	given := Input{Given: Line{0.1, 0.1, 0.1, 0.1}, GivenU: Line{0.05, 0.01, 0.05, 0.01}, Length: nan, FlangeStation: nan, Limits: Limits{0.15, 0.5}}
	var res Result
	Solve(&given, &res)
	if s, n := given.Settles(&res); res.Found.Verdict != TooClose || s != -1 || n != 0 {
		t.Errorf("a line that was given, %v: sweep %d, %d times", res.Found.Verdict, s, n)
	}
}

// What the readings showed about their own uncertainty is in what Parts and Settles rest on: the row with that uncertainty typed and its own misfit left out.
func TestPartsOfMisfit(t *testing.T) {
	in := rowInput(reverseSweeps(Line{0.06, 0.3, -0.04, 0.2}, []float64{0, 90, 180, 270}))
	in.Sweeps[0].Reading[2] += 0.05
	in.Checks = loose
	in.Limits = Limits{0.5, 3}
	var res, typed Result
	Solve(&in, &res)
	k := res.Checks[0].Misfit
	if !(k > 2) {
		t.Fatalf("ratio %g", k)
	}
	plain := clone(&in)
	plain.NoMisfit = true
	plain.Sweeps[0].U *= k
	Solve(&plain, &typed)
	a, b := in.Parts(&res), plain.Parts(&typed)
	if len(a) != 2 || len(b) != 2 || a[0].Sweep != 0 {
		t.Fatalf("%v, typed %v", a, b)
	}
	for i := range a {
		if a[i].Kind != b[i].Kind || a[i].Sweep != b[i].Sweep || math.Abs(a[i].Share-b[i].Share) > 1e-9 {
			t.Errorf("%+v, typed %+v", a[i], b[i])
		}
	}
}

// TestJudgedByTape: the angle at a flex plane has the uncertainty that moving every distance by hand gives it, the length between the planes among them, which is one error for the dials carried by the
// spool and for the angle itself. For a measured hot line that length is another one.
//
// evidence: calc=uncertainty of sag and distances grade=independent count=120 source=finite differences of the judged vectors: each station, diameter and length moved by hand
func TestJudgedByTape(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 3))
	for i := range 120 {
		in := tapedInput(rng, i)
		in.WantedCov = Cov{}
		in.Coupling = []tables.Coupling{tables.Spacer, tables.Universal}[i%2]
		if in.Length = between(rng, 150, 900); in.Sweeps[0].Length > 0 {
			in.Length = in.Sweeps[0].Length
		}
		for k := range in.Sweeps {
			in.Sweeps[k].U *= 1e-6
			in.Sweeps[k].USag = 0
		}
		together := i%3 == 0 && in.Sweeps[0].Diameter > 0 // both faces at one diameter: one error
		if together {
			for k := range in.Sweeps {
				s := &in.Sweeps[k]
				s.Diameter = in.Sweeps[0].Diameter
				s.Reading, _ = Expected(s, &Line{0.3, 1.2, -0.2, 0.7}, nil)
			}
		}
		in.NoMisfit = true
		var res Result
		Solve(&in, &res)
		var vv, hh [2]float64
		moved := func(change func(e *Input, h float64)) {
			const h = 1e-3
			var r [2]Result
			for j, h := range [2]float64{h, -h} {
				e := clone(&in)
				change(&e, h)
				Solve(&e, &r[j])
			}
			for p, f := range [2][2]*Vector{{&r[0].Found.FlexS, &r[1].Found.FlexS}, {&r[0].Found.FlexM, &r[1].Found.FlexM}} {
				vv[p] += square((f[0].V - f[1].V) / (2 * h) * in.UDistance)
				hh[p] += square((f[0].H - f[1].H) / (2 * h) * in.UDistance)
			}
		}
		for k := range in.Sweeps {
			if s := &in.Sweeps[k]; together {
				if k == 0 {
					moved(func(e *Input, h float64) { e.Sweeps[0].Diameter += h; e.Sweeps[1].Diameter += h })
				}
			} else if s.Diameter > 0 {
				moved(func(e *Input, h float64) { e.Sweeps[k].Diameter += h })
			} else {
				moved(func(e *Input, h float64) { e.Sweeps[k].Station += h })
			}
		}
		moved(func(e *Input, h float64) {
			e.Length += h
			for k := range e.Sweeps {
				if e.Sweeps[k].Length > 0 {
					e.Sweeps[k].Length += h
				}
			}
		})
		for p, f := range [2]*Vector{&res.Found.FlexS, &res.Found.FlexM} {
			if v, h := 2*math.Sqrt(vv[p]), 2*math.Sqrt(hh[p]); math.Abs(f.UV-v) > 1e-4*v+1e-6 || math.Abs(f.UH-h) > 1e-4*h+1e-6 {
				t.Errorf("row %d, plane %d: ± %g and %g, moved by hand %g and %g", i, p, f.UV, f.UH, v, h)
			}
		}
	}
}

// TestFeetByTape: the correction at a foot has the uncertainty that moving its distance gives it: the first pair is one distance from the coupling, the others two. Where the wanted line
// leans more than the shaft, or the other way, the larger of the two slopes counts.
func TestFeetByTape(t *testing.T) {
	for _, c := range []struct{ found, wanted float64 }{{1.5, 0}, {-1.5, 0}, {0, 1.2}, {0.5, -1}, {1, 1}} {
		for across := range 2 {
			l, w := Line{0.1, c.found, 0.2, 0}, Line{TV: c.wanted}
			if across == 1 {
				l, w = Line{0.1, 0, 0.2, c.found}, Line{TH: c.wanted}
			}
			in := Input{Given: l, Wanted: w, Length: nan, FlangeStation: nan, Limits: Limits{0.1, 0.5}, Feet: []float64{300, 900, 1400}}
			in.GivenU = Line{0.003, 0.004, 0.003, 0.004}
			in.UDistance = 0.7
			var res Result
			Solve(&in, &res)
			for i, f := range res.Feet {
				u, other := f.UShim, f.UMove
				if across == 1 {
					u, other = f.UMove, f.UShim
				}
				tape := in.UDistance
				if i > 0 {
					tape *= math.Sqrt2
				}
				fit := math.Hypot(0.003, 0.004*f.Station/1000)
				lean := max(math.Abs(c.found), math.Abs(c.found-c.wanted))
				if want := 2 * math.Hypot(fit, tape*lean/1000); math.Abs(u-want) > 1e-12 || math.Abs(other-2*fit) > 1e-12 {
					t.Errorf("slopes %v, foot %d: ± %g and %g, by hand %g and %g", c, i, u, other, want, 2*fit)
				}
			}
		}
	}
}

// Shares that are added: the chance is no more than that of both vectors being inside their own limits, and no more than the normal one of the sum, whose uncertainty is that of the two magnitudes with all that they
// have in common: the gradient of the sum, by differences, through the covariance (JCGM 100:2008, 5.2.2). Inside and outside are told with twice that.
func TestAddedShares(t *testing.T) {
	//evidence: calc=shares added grade=independent count=200 source=law of propagation with the gradient of the sum of shares by finite differences (JCGM 100:2008, 5.2.2)
	rng := rand.New(rand.NewPCG(16, 14))
	seen := map[Verdict]int{}
	sum := 0
	for i := range 200 {
		in := Input{Given: Line{either(rng, 0.01, 0.1), either(rng, 0.05, 0.5), either(rng, 0.01, 0.1), either(rng, 0.05, 0.5)}, Length: nan, FlangeStation: nan, Coupling: tables.Flexible}
		_, in.WantedCov = randomCov(rng, 0.02, 0.08, false)
		l := in.Given
		share := func(l Line) float64 {
			return math.Hypot(l.DV, l.DH)/in.Limits.Offset + math.Hypot(l.TV, l.TH)/in.Limits.Slope
		}
		in.Limits = Limits{math.Hypot(l.DV, l.DH) / between(rng, 0.1, 0.8), math.Hypot(l.TV, l.TH) / between(rng, 0.1, 0.8)}
		var g [4]float64
		const h = 1e-6
		for k := range g {
			a, b := l, l
			*[4]*float64{&a.DV, &a.TV, &a.DH, &a.TH}[k] += h
			*[4]*float64{&b.DV, &b.TV, &b.DH, &b.TH}[k] -= h
			g[k] = (share(a) - share(b)) / (2 * h)
		}
		v := 0.0
		for a := range g {
			for b := range g {
				v += g[a] * g[b] * in.WantedCov[a][b]
			}
		}
		u := 2 * math.Sqrt(v)
		var plain, res Result
		Solve(&in, &plain)
		in.AddShares = true
		Solve(&in, &res)
		s := share(l)
		p := min(plain.Found.Chance, 0.5*math.Erfc(-(1-s)/(u/2)/math.Sqrt2))
		if p < plain.Found.Chance {
			sum++
		}
		want := TooClose
		switch {
		case s+u <= 1 && p >= 0.95:
			want = Inside
		case s-u > 1:
			want = Outside
		}
		seen[want]++
		if f := &res.Found; math.Abs(f.Share-s) > 1e-12 || math.Abs(f.Chance-p) > 1e-6 || f.Verdict != want {
			t.Errorf("row %d: %v at %g with a chance of %g, by hand %v at %g ± %g with %g", i, f.Verdict, f.Share, f.Chance, want, s, u, p)
		}
	}
	if sum < 100 || seen[Inside] < 5 || seen[Outside] < 5 || seen[TooClose] < 20 {
		t.Errorf("%v, the sum decided %d", seen, sum)
	}
	// Without any uncertainty: inside up to the limit, and a vector of no length.
	for _, c := range []struct {
		d, t   float64
		chance float64
		want   Verdict
	}{{0.06, 0.4, 1, Inside}, {0.06, 0.4001, 0, Outside}, {0, 1, 1, Inside}, {0, 1.001, 0, Outside}, {0.1, 0, 1, Inside}} {
		in := Input{Given: Line{c.d, 0, 0, c.t}, Length: nan, FlangeStation: nan, Coupling: tables.Flexible, Limits: Limits{0.1, 1}, AddShares: true}
		var res Result
		if Solve(&in, &res); res.Found.Chance != c.chance || res.Found.Verdict != c.want {
			t.Errorf("%+v: %v with %g at %g", c, res.Found.Verdict, res.Found.Chance, res.Found.Share)
		}
	}
}

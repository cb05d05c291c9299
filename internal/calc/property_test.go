package calc

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

// randomInput draws a whole row of any coupling and method, with noise, wanted line, limits, feet and packs.
func randomInput(rng *rand.Rand, packer *packs.Packer) Input {
	for {
		in := Input{
			Sweeps: randomDesign(rng), Given: nanLine, Coupling: tables.Coupling(rng.IntN(3)), Length: between(rng, 100, 1500),
			Limits: Limits{between(rng, 0.02, 1), between(rng, 0.1, 3)},
			Feet:   []float64{between(rng, 200, 500), between(rng, 600, 1500)}, FlangeStation: math.NaN(), Checks: CheckLimits{10, 1000, 1000},
			Packer: packer, MoveStep: 0.01,
		}
		if rng.IntN(2) == 0 {
			in.Wanted = Line{either(rng, 0, .3), either(rng, 0, 1), either(rng, 0, .3), either(rng, 0, 1)}
			_, in.WantedCov = randomCov(rng, 0.02, 0.05, false)
		}
		var res Result
		if Solve(&in, &res); res.Status == OK && growth(&res) < 1 {
			return in
		}
	}
}

// growth keeps the draws to lines that are known to some purpose.
func growth(r *Result) float64 { return r.Found.Offset.UTotal + r.Found.Slope.UTotal }

func clone(in *Input) Input {
	out := *in
	out.Sweeps = slices.Clone(in.Sweeps)
	for i := range out.Sweeps {
		s := &out.Sweeps[i]
		s.Angle, s.Reading = slices.Clone(s.Angle), slices.Clone(s.Reading)
	}
	out.Feet = slices.Clone(in.Feet)
	return out
}

// near says whether two numbers agree to 1e-8 of the scale: the answers pass through other sums in another order.
func near(a, b, scale float64) bool {
	return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-8*(scale+math.Abs(b))
}

func sameJudgement(t *testing.T, what string, a, b *Judgement) {
	t.Helper()
	for _, v := range []struct {
		name string
		a, b *Vector
	}{{"offset", &a.Offset, &b.Offset}, {"slope", &a.Slope, &b.Slope}, {"stationary flex plane", &a.FlexS, &b.FlexS}, {"movable flex plane", &a.FlexM, &b.FlexM}} {
		if !near(v.a.Total, v.b.Total, 1) || !near(v.a.UTotal, v.b.UTotal, 1) {
			t.Errorf("%s: %s %.12g ± %.12g became %.12g ± %.12g", what, v.name, v.b.Total, v.b.UTotal, v.a.Total, v.a.UTotal)
		}
	}
	// The chance is integrated along other axes: the stated accuracy of the worst pairs.
	if !near(a.Share, b.Share, 1) || !(math.Abs(a.Chance-b.Chance) <= 2e-3) || a.Verdict != b.Verdict {
		t.Errorf("%s: share %.9g, chance %.9g, %v became %.9g, %.9g, %v", what, b.Share, b.Chance, b.Verdict, a.Share, a.Chance, a.Verdict)
	}
}

func sameLine(t *testing.T, what string, got, want Line) {
	t.Helper()
	a, b := lineArray(got), lineArray(want)
	for i := range a {
		if !near(a[i], b[i], 1) {
			t.Errorf("%s: %s %.12g, want %.12g", what, lineNames[i], a[i], b[i])
		}
	}
}

// TestProperties turns, mirrors, swaps, rescales and reorders whole rows.
func TestProperties(t *testing.T) {
	//evidence: calc=symmetries of the answer grade=identity count=8000 source=turned by any angle, mirrored, machines swapped, units changed, sweeps shifted, reordered, readings repeated
	rng := rand.New(rand.NewPCG(13, 13))
	packer, err := packs.NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	if err != nil {
		t.Fatal(err)
	}
	for range simCount(1000) {
		in := randomInput(rng, packer)
		var base Result
		Solve(&in, &base)
		if base.Status != OK {
			t.Fatalf("status %v", base.Status)
		}
		run := func(what string, in *Input) *Result {
			t.Helper()
			var r Result
			Solve(in, &r)
			if r.Status != OK {
				t.Fatalf("%s: status %v", what, r.Status)
			}
			return &r
		}

		// Every angle 90° on, once the droop (which knows where down is) has been taken off: up becomes 3, 3 becomes down.
		level := clone(&in)
		for i := range level.Sweeps {
			s := &level.Sweeps[i]
			for k, a := range s.Angle {
				s.Reading[k] -= s.SagAt6 * (1 - math.Cos(a*math.Pi/180)) / 2
			}
			s.SagAt6 = 0
		}
		sameLine(t, "droop taken off by hand", run("droop taken off by hand", &level).Line, base.Line)
		turned := clone(&level)
		for i := range turned.Sweeps {
			for k := range turned.Sweeps[i].Angle {
				turned.Sweeps[i].Angle[k] += 90
			}
		}
		w := in.Wanted
		turned.Wanted = Line{-w.DH, -w.TH, w.DV, w.TV}
		turned.WantedCov = turnCov(in.WantedCov)
		r := run("turned by 90°", &turned)
		l := base.Line
		sameLine(t, "turned by 90°", r.Line, Line{-l.DH, -l.TH, l.DV, l.TV})
		sameJudgement(t, "turned by 90°", &r.Found, &base.Found)
		for f := range r.Feet {
			if !near(r.Feet[f].Move, base.Feet[f].Shim, 1) || !near(r.Feet[f].Shim, -base.Feet[f].Move, 1) || !near(r.Feet[f].UMove, base.Feet[f].UShim, 1) {
				t.Errorf("turned by 90°: foot %d %+v, was %+v", f, r.Feet[f], base.Feet[f])
			}
		}

		// Left and right.
		mirror := clone(&in)
		for i := range mirror.Sweeps {
			for k := range mirror.Sweeps[i].Angle {
				mirror.Sweeps[i].Angle[k] *= -1
			}
		}
		mirror.Wanted.DH, mirror.Wanted.TH = -w.DH, -w.TH
		for i := range 2 {
			for j := 2; j < 4; j++ {
				mirror.WantedCov[i][j] *= -1
				mirror.WantedCov[j][i] *= -1
			}
		}
		r = run("mirrored", &mirror)
		sameLine(t, "mirrored", r.Line, Line{l.DV, l.TV, -l.DH, -l.TH})
		sameJudgement(t, "mirrored", &r.Found, &base.Found)
		for f := range r.Feet {
			if !near(r.Feet[f].Shim, base.Feet[f].Shim, 1) || !near(r.Feet[f].Move, -base.Feet[f].Move, 1) {
				t.Errorf("mirrored: foot %d %+v, was %+v", f, r.Feet[f], base.Feet[f])
			}
			if base.Feet[f].Pack.Sum != r.Feet[f].Pack.Sum && !near(math.Abs(base.Feet[f].Pack.Error), math.Abs(r.Feet[f].Pack.Error), 1) {
				t.Errorf("mirrored: foot %d pack %v, was %v", f, r.Feet[f].Pack, base.Feet[f].Pack)
			}
		}

		// The other machine is the one that moves: look from its side. Its stations change sign, 3 and 9 change places, and the line
		// of the first seen from the second is d' = −d, slope in V turned, since it now rises towards the other observer;
		// sideways both the axis and the side turn.
		swap := clone(&in)
		for i := range swap.Sweeps {
			s := &swap.Sweeps[i]
			s.Model = swapped[s.Model]
			s.Station = -s.Station
			for k := range s.Angle {
				s.Angle[k] *= -1
			}
		}
		swap.Wanted = Line{-w.DV, w.TV, w.DH, -w.TH}
		sg := [4]float64{-1, 1, 1, -1}
		for i := range sg {
			for j := range sg {
				swap.WantedCov[i][j] *= sg[i] * sg[j]
			}
		}
		r = run("machines swapped", &swap)
		sameLine(t, "machines swapped", r.Line, Line{-l.DV, l.TV, l.DH, -l.TH})
		was := base.Found
		was.FlexS, was.FlexM = was.FlexM, was.FlexS
		sameJudgement(t, "machines swapped", &r.Found, &was)

		// Every length 25.4 times as large, slopes as they are.
		const k = 25.4
		big := clone(&in)
		for i := range big.Sweeps {
			s := &big.Sweeps[i]
			s.Station *= k
			s.Diameter *= k
			s.Length *= k
			s.SagAt6 *= k
			s.Graduation *= k
			s.U *= k
			for j := range s.Reading {
				s.Reading[j] *= k
			}
		}
		big.Length *= k
		big.Limits.Offset *= k
		big.Wanted.DV *= k
		big.Wanted.DH *= k
		for i := range 4 {
			for j := range 4 {
				big.WantedCov[i][j] *= math.Pow(k, float64(1-i%2+1-j%2))
			}
		}
		for i := range big.Feet {
			big.Feet[i] *= k
		}
		big.Packer = nil
		r = run("lengths × 25.4", &big)
		sameLine(t, "lengths × 25.4", Line{r.Line.DV / k, r.Line.TV, r.Line.DH / k, r.Line.TH}, l)
		if !near(r.Found.Share, base.Found.Share, 1) || !(math.Abs(r.Found.Chance-base.Found.Chance) <= 2e-6) || r.Found.Verdict != base.Found.Verdict {
			t.Errorf("lengths × 25.4: share %g chance %g, was %g %g", r.Found.Share, r.Found.Chance, base.Found.Share, base.Found.Chance)
		}
		for f := range r.Feet {
			if !near(r.Feet[f].Shim/k, base.Feet[f].Shim, 1) || !near(r.Feet[f].UShim/k, base.Feet[f].UShim, 1) {
				t.Errorf("lengths × 25.4: foot %d shim %g, was %g", f, r.Feet[f].Shim/k, base.Feet[f].Shim)
			}
		}

		// Another zero on every dial, readings and sweeps in another order, whole turns added.
		shuffled := clone(&in)
		for i := range shuffled.Sweeps {
			s := &shuffled.Sweeps[i]
			c := either(rng, 0, 5)
			for j := range s.Reading {
				s.Reading[j] += c
				s.Angle[j] += 360 * float64(rng.IntN(5)-2)
			}
			rng.Shuffle(len(s.Angle), func(a, b int) {
				s.Angle[a], s.Angle[b] = s.Angle[b], s.Angle[a]
				s.Reading[a], s.Reading[b] = s.Reading[b], s.Reading[a]
			})
		}
		rng.Shuffle(len(shuffled.Sweeps), func(a, b int) {
			shuffled.Sweeps[a], shuffled.Sweeps[b] = shuffled.Sweeps[b], shuffled.Sweeps[a]
		})
		r = run("shifted and reordered", &shuffled)
		sameLine(t, "shifted and reordered", r.Line, l)
		sameJudgement(t, "shifted and reordered", &r.Found, &base.Found)

		// Every reading taken n times: the same line, its variances an n-th. (What they show of themselves is another matter: repeats that agree speak for them.)
		many := clone(&in)
		many.NoMisfit = true
		r = run("readings as stated", &many)
		once, stated := r.Cov, r.Line
		n := 2 + rng.IntN(3)
		for i := range many.Sweeps {
			s := &many.Sweeps[i]
			s.Angle, s.Reading = slices.Repeat(s.Angle, n), slices.Repeat(s.Reading, n)
		}
		many.WantedCov = Cov{}
		r = run("readings repeated", &many)
		sameLine(t, "readings repeated", r.Line, stated)
		for i := range 4 {
			if !near(r.Cov[i][i]*float64(n), once[i][i], 0) {
				t.Errorf("readings repeated %d times: variance of %s %g, once %g", n, lineNames[i], r.Cov[i][i], once[i][i])
			}
		}

		// The same again, into a result that was used: not a bit may differ, nor may the input.
		again, before := base.Found, clone(&in)
		Solve(&in, r)
		var fresh Result
		Solve(&in, &fresh)
		if !sameBits(reflect.ValueOf(*r), reflect.ValueOf(fresh)) || !sameBits(reflect.ValueOf(again), reflect.ValueOf(fresh.Found)) {
			t.Errorf("the same row twice: %+v, %+v", *r, fresh)
		}
		if !sameBits(reflect.ValueOf(in), reflect.ValueOf(before)) {
			t.Error("the input was changed")
		}

		// After: the machine stands where its feet are put.
		if base.HasAfter {
			for _, f := range base.Feet {
				x := f.Station / 1000
				if !near(base.After.DV+base.After.TV*x, l.DV+l.TV*x+f.Rounded, 1) || !near(base.After.DH+base.After.TH*x, l.DH+l.TH*x+f.MoveRounded, 1) {
					t.Errorf("after: the foot at %g stands elsewhere than it was put", f.Station)
				}
				if math.Abs(f.MoveRounded-f.Move) > 0.005+1e-9 || f.Pack.OK && math.Abs(f.Rounded-f.Shim) > tables.PackToleranceMM+1e-9 {
					t.Errorf("foot at %g: %g made of %g, move %g of %g", f.Station, f.Rounded, f.Shim, f.MoveRounded, f.Move)
				}
			}
		}
		if t.Failed() {
			t.Fatalf("the row: %+v", in)
		}
	}
}

// swapped is what a sweep is when the two machines change names. A step is measured from the other rim, so it changes its sign too:
// as a rim reading it is then one on the stationary hub.
var swapped = map[Model]Model{
	RimOnMovable: RimOnStationary, RimOnStationary: RimOnMovable, FaceFront: FaceFront, FaceBack: FaceBack, GapBetween: GapBetween, StepAtRim: RimOnStationary,
	SpoolOnMovable: SpoolOnStationary, SpoolOnStationary: SpoolOnMovable, SpoolOnMovableBack: SpoolOnStationaryBack, SpoolOnStationaryBack: SpoolOnMovableBack,
}

func turnCov(c Cov) (out Cov) {
	from, sign := [4]int{2, 3, 0, 1}, [4]float64{-1, -1, 1, 1}
	for i := range c {
		for j := range c {
			out[i][j] = sign[i] * sign[j] * c[from[i]][from[j]]
		}
	}
	return out
}

// sameBits compares values where a NaN equals itself.
func sameBits(a, b reflect.Value) bool {
	switch a.Kind() {
	case reflect.Float64:
		return math.Float64bits(a.Float()) == math.Float64bits(b.Float()) || math.IsNaN(a.Float()) && math.IsNaN(b.Float())
	case reflect.Struct:
		for i := range a.NumField() {
			if !sameBits(a.Field(i), b.Field(i)) {
				return false
			}
		}
		return true
	case reflect.Array, reflect.Slice:
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !sameBits(a.Index(i), b.Index(i)) {
				return false
			}
		}
		return true
	case reflect.Pointer:
		return a.Pointer() == b.Pointer()
	}
	return a.Equal(b)
}

// TestExtremes feeds every number of a row with what no row should hold: nothing may panic, and no verdict may come of a NaN.
func TestExtremes(t *testing.T) {
	//evidence: calc=bad numbers grade=practice count=20000 source=common practice, no source: whatever is typed, an answer or a named status, never a panic
	rng := rand.New(rand.NewPCG(14, 14))
	packer, err := packs.NewPacker(tables.DefaultStock(true), 5, tables.PackToleranceInch)
	if err != nil {
		t.Fatal(err)
	}
	wild := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, math.Copysign(0, -1), 1e300, -1e300, 1e-300, math.MaxFloat64, math.SmallestNonzeroFloat64, -1, 1e17, 5e15}
	pick := func() float64 { return wild[rng.IntN(len(wild))] }
	var res Result
	var findings []Finding
	for range simCount(20000) {
		in := randomInput(rng, packer)
		if rng.IntN(4) == 0 {
			in.Coupling, in.Bolts, in.BoltCircleRadius = tables.Flange, rng.IntN(9)-1, pick()
			if rng.IntN(2) == 0 {
				in.BoltCircleRadius, in.FlangeStation = 200, pick()
			}
		}
		if rng.IntN(5) == 0 {
			in.Sweeps = nil
			in.Given, in.GivenU = Line{0.1, 1, 0, 0}, Line{0.01, 0.05, 0.01, 0.05}
		}
		spots := []*float64{&in.Length, &in.Limits.Offset, &in.Limits.Slope, &in.Wanted.DV, &in.Wanted.TV, &in.Wanted.DH, &in.Wanted.TH,
			&in.Feet[0], &in.Feet[1], &in.MoveStep, &in.FlangeStation, &in.BoltCircleRadius, &in.Checks.BalanceShare, &in.Checks.BalanceGraduation, &in.Checks.ClosureGraduation,
			&in.Given.DV, &in.Given.TV, &in.Given.DH, &in.Given.TH, &in.GivenU.DV, &in.GivenU.TV, &in.WantedCov[0][0], &in.WantedCov[1][2], &in.WantedCov[3][3]}
		for i := range in.Sweeps {
			s := &in.Sweeps[i]
			spots = append(spots, &s.Station, &s.Diameter, &s.Length, &s.SagAt6, &s.Graduation, &s.U, &s.Angle[rng.IntN(len(s.Angle))], &s.Reading[rng.IntN(len(s.Reading))])
			switch rng.IntN(40) {
			case 0:
				s.Model = Model(rng.IntN(256))
			case 1:
				s.Reading = s.Reading[:rng.IntN(len(s.Reading))]
			case 2:
				s.Angle = nil
			}
		}
		for range 1 + rng.IntN(3) {
			*spots[rng.IntN(len(spots))] = pick()
		}
		Solve(&in, &res)
		if res.Status >= numStatus {
			t.Fatalf("status %d of %+v", res.Status, in)
		}
		for _, j := range []*Judgement{&res.Found, &res.AfterJ} {
			if j.Verdict != NotJudged && (math.IsNaN(j.Share) || !(j.Chance >= 0 && j.Chance <= 1)) {
				t.Fatalf("%v with share %g and chance %g: %+v", j.Verdict, j.Share, j.Chance, in)
			}
			if j.Verdict == Inside && !(j.Share <= 1+1e-9) {
				t.Fatalf("inside with a share of %g: %+v", j.Share, in)
			}
		}
		if res.Status == OK && res.Found.Verdict == NotJudged {
			t.Fatalf("computed, but not judged and no reason: %+v", in)
		}
		findings = Diagnose(&in, &res, findings[:0])
		for _, f := range findings {
			if f.Sweep >= len(in.Sweeps) {
				t.Fatalf("a finding on sweep %d of %d", f.Sweep, len(in.Sweeps))
			}
		}
	}
	Solve(&Input{}, &res)
	if res.Status != NoReadings && res.Status != NoLimit && res.Status != OK {
		t.Errorf("the zero row: %v", res.Status)
	}
	for _, x := range wild {
		packer.Pack(x)
	}
}

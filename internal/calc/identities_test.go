package calc

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

// The reading that Diagnose names is off by what it differs from the fit of all the others, and its score is its residual over its own standard deviation, with the leverage from leaving it out:
// residual = (1 − h) · (reading − what the others say). Seen: with two sweeps at free angles the check of the scatter weighed the sweep with the mistake so little that the row passed. Angles over part of a turn, so that sine and cosine hang together, and a line far off, so that a wrong term shows.
//
// evidence: calc=which reading stands out grade=independent count=40 source=the row worked out again without the reading
func TestFindingIsTheReadingLeftOut(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 1))
	named := 0
	for range 40 {
		l := Line{2 * rng.NormFloat64(), 3 * rng.NormFloat64(), 2 * rng.NormFloat64(), 3 * rng.NormFloat64()}
		in := Input{Given: noLine, Length: nan, FlangeStation: nan, Limits: Limits{0.05, 0.5}}
		for k, station := range []float64{130, -110} {
			s := Sweep{Model: []Model{RimOnMovable, RimOnStationary}[k], Station: station, Graduation: 0.01, U: 0.01}
			v, h := l.DV+l.TV*station/1000, l.DH+l.TH*station/1000
			sign := 1 - 2*float64(k)
			for i := range 9 {
				a := 20*float64(i) + 12*rng.Float64() + 40*rng.Float64()*float64(k)
				sin, cos := math.Sincos(a * math.Pi / 180)
				s.Angle, s.Reading = append(s.Angle, a), append(s.Reading, sign*(v*cos+h*sin)+0.3+0.002*rng.NormFloat64())
			}
			in.Sweeps = append(in.Sweeps, s)
		}
		k, i, by := rng.IntN(2), 1+rng.IntN(7), math.Copysign(8+4*rng.Float64(), rng.NormFloat64())
		in.Sweeps[k].Reading[i] += by
		var res, without Result
		Solve(&in, &res)
		found := Diagnose(&in, &res, nil)
		if res.Status != ResidualFailed || len(found) == 0 || found[0].Kind != OddReading {
			t.Fatalf("%v: %v", res.Status, found)
		}
		f := found[0]
		if f.Sweep != k || f.Reading != i {
			continue // over part of a turn another reading can hide it
		}
		named++
		less := clone(&in)
		less.NoMisfit = true
		s := &less.Sweeps[k]
		s.Angle, s.Reading = slices.Delete(slices.Clone(s.Angle), i, i+1), slices.Delete(slices.Clone(s.Reading), i, i+1)
		Solve(&less, &without)
		a, b, _ := s.Curve(&without.Line)
		sin, cos := math.Sincos(in.Sweeps[k].Angle[i] * math.Pi / 180)
		want := in.Sweeps[k].Reading[i] - (s.Constant(a, b) + a*cos + b*sin)
		if math.Abs(f.By-want) > 1e-9 {
			t.Errorf("off by %.12f, without it %.12f", f.By, want)
		}
		full := clone(&in)
		full.NoMisfit = true
		Solve(&full, &without)
		a, b, _ = in.Sweeps[k].Curve(&without.Line)
		left := in.Sweeps[k].Reading[i] - (in.Sweeps[k].Constant(a, b) + a*cos + b*sin)
		if score := math.Abs(left) / (0.01 * math.Sqrt(left/want)); math.Abs(f.Score-score) > 1e-6*score {
			t.Errorf("score %g, by leaving it out %g", f.Score, score)
		}
	}
	if named < 35 {
		t.Errorf("only %d of 40 were named", named)
	}
}

// With a mean of nothing, and with discs little larger than the spread, where every corner of the box counts: by chords as by the lattice.
//
// evidence: calc=chance of being inside grade=independent count=15 source=a lattice of points in three dimensions; two discs about their own means
func TestPairAboutItsMean(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 2))
	fine := makeLattice(1 << 15)
	done := 0
	for tries := 0; done < 12 && tries < 4000; tries++ {
		c := randomSpread(rng, 0.1)
		r1, r2 := math.Sqrt(c[0][0]+c[1][1])*(1.9+rng.Float64()), math.Sqrt(c[2][2]+c[3][3])*(1.9+rng.Float64())
		var m [4]float64
		if done%2 == 1 {
			m[done/2%4] = 0.3 * r1
		}
		if fast, ok := pairByChords(m, &c, r1, r2); ok {
			done++
			if slow := pairByLattice(m, &c, r1, r2, fine); !(math.Abs(fast-slow) < 1e-3) || !(fast > 0 && fast < 1) {
				t.Errorf("mean %v: %.6f by chords, %.6f by the lattice", m, fast, slow)
			}
		}
	}
	if done < 12 {
		t.Fatalf("only %d cases", done)
	}
	// Two independent vectors with the same spread all round: the chance of each is 1 − exp(−r²/2) (Rayleigh).
	var c Cov
	for i := range c {
		c[i][i] = 1
	}
	c[0][2] = 1e-6 // hardly at all together, so that it is integrated
	c[2][0] = 1e-6
	for _, r := range []float64{2.2, 2.6, 3} {
		p1, p2 := 1-math.Exp(-r*r/2), 1-math.Exp(-(r+0.3)*(r+0.3)/2)
		if got := pairChance([4]float64{}, &c, r, r+0.3, p1, p2); math.Abs(got-p1*p2) > 2e-3 { // as README promises where a limit is hardly larger than the uncertainty
			t.Errorf("discs of %g and %g: %.6f, not %.6f", r, r+0.3, got, p1*p2)
		}
	}
}

// The prediction is judged by its distance from the wanted line alone: a shaft and its wanted line moved together get the same packs, the same judgement before and after, on feet and on a flange.
func TestJudgedFromTheWantedLine(t *testing.T) {
	packer, err := packs.NewPacker(tables.DefaultStock(false), 4, tables.PackToleranceMM)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(15, 3))
	for i := range 60 {
		draw := func() Line { return Line{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()} }
		off, by := draw(), draw()
		in := Input{Given: off, GivenU: Line{0.01, 0.05, 0.012, 0.04}, Length: nan, FlangeStation: nan, Limits: Limits{0.05, 0.5}, Coupling: tables.Flexible, Packer: packer, MoveStep: 0.01}
		switch i % 3 {
		case 0:
			in.Feet = []float64{300, 800}
		case 1:
			in.Feet, in.Coupling, in.Length = []float64{300, 800, 1100}, tables.Spacer, 250
		default:
			in.Bolts, in.BoltCircleRadius, in.FlangeStation = 8, 300, 150
		}
		moved := clone(&in)
		moved.Given = Line{off.DV + by.DV, off.TV + by.TV, off.DH + by.DH, off.TH + by.TH}
		moved.Wanted = by
		var a, b Result
		Solve(&in, &a)
		Solve(&moved, &b)
		if !a.HasAfter || !b.HasAfter {
			t.Fatalf("%v, %v: nothing is predicted", a.Status, b.Status)
		}
		for _, x := range [...]struct {
			what     string
			got, had *Judgement
		}{{"found", &b.Found, &a.Found}, {"after", &b.AfterJ, &a.AfterJ}} {
			for k, v := range [...][2]*Vector{{&x.got.Offset, &x.had.Offset}, {&x.got.Slope, &x.had.Slope}, {&x.got.FlexS, &x.had.FlexS}, {&x.got.FlexM, &x.had.FlexM}} {
				for _, d := range [...]float64{v[0].V - v[1].V, v[0].H - v[1].H, v[0].Total - v[1].Total} {
					if math.Abs(d) > 1e-9 {
						t.Errorf("case %d, %s, vector %d: %+v, about zero %+v", i, x.what, k, *v[0], *v[1])
					}
				}
			}
			if x.got.Verdict != x.had.Verdict || math.Abs(x.got.Share-x.had.Share) > 1e-9 {
				t.Errorf("case %d, %s: %v at %g, about zero %v at %g", i, x.what, x.got.Verdict, x.got.Share, x.had.Verdict, x.had.Share)
			}
		}
		for k := range a.Feet {
			if !slices.Equal(a.Feet[k].Pack.Pieces, b.Feet[k].Pack.Pieces) {
				t.Errorf("case %d: pack %v, about zero %v", i, b.Feet[k].Pack.Pieces, a.Feet[k].Pack.Pieces)
			}
		}
	}
}

// What is not there gives nothing, never half of something: feet of which one stands nowhere, a prediction through feet that stand at one place, a flange whose shaft is known in one plane only.
func TestNothingFromHalf(t *testing.T) {
	packer, err := packs.NewPacker(tables.DefaultStock(false), 4, tables.PackToleranceMM)
	if err != nil {
		t.Fatal(err)
	}
	in := Input{Given: Line{0.3, 0.4, -0.1, 0.2}, GivenU: Line{0.01, 0.05, 0.01, 0.05}, Length: nan, FlangeStation: nan, Limits: Limits{0.05, 0.5}, Coupling: tables.Flexible, Packer: packer}
	var res Result
	for _, feet := range [][]float64{{300, nan}, {nan, 800}, {300, 800, math.Inf(1)}} {
		in.Feet = feet
		if Solve(&in, &res); len(res.Feet) != 0 || res.HasAfter || res.Found.Verdict == NotJudged {
			t.Errorf("feet at %v: %d corrections, a prediction: %v, %v", feet, len(res.Feet), res.HasAfter, res.Found.Verdict)
		}
	}
	in.Feet = []float64{500, 500}
	if Solve(&in, &res); len(res.Feet) != 2 || res.HasAfter {
		t.Errorf("one point makes no line: %+v", res.After)
	}
	in.Feet, in.Bolts, in.BoltCircleRadius = nil, 8, 300
	for k, part := range []*float64{&in.Given.DV, &in.Given.DH, &in.Given.TV, &in.Given.TH} {
		was := *part
		*part = nan
		if Solve(&in, &res); len(res.BoltShims) != 0 || len(res.BoltPacks) != 0 || res.HasAfter {
			t.Errorf("part %d of the line is not known: bolts get %v", k, res.BoltShims)
		}
		*part = was
	}
	if Solve(&in, &res); len(res.BoltShims) != 8 || len(res.BoltPacks) != 8 || !res.HasAfter {
		t.Error("with all of its line the flange gets no shims")
	}
}

// A foot may be left as it is (Change.Leave) where the change is within the tolerance and the pieces there are listed and no more than a pack may have. Nobody has listed them: nothing is known.
func TestLeave(t *testing.T) {
	p, err := packs.NewPacker([]tables.Thickness{{MM: 1, Count: -1}, {MM: 0.5, Count: -1}, {MM: 0.2, Count: -1}, {MM: 0.1, Count: -1}, {MM: 0.05, Count: -1}}, 3, 0.025)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		change  float64
		inPlace []float64
		leave   bool
	}{
		{0.02, []float64{0.5}, true}, {-0.02, []float64{0.5}, true}, {0.04, []float64{0.5}, false}, {0.02, []float64{}, true},
		{0.02, nil, false}, {0.5, nil, false}, {-0.02, nil, false}, {0.3, []float64{0.5, 0.5}, false},
		{0.02, []float64{0.1, 0.1, 0.1, 0.1}, false}, {0.02, []float64{0.1, 0.1, 0.1}, true}, {0.3, []float64{0.1, 0.1, 0.1, 0.1}, false},
	} {
		if got, err := p.Change(c.change, c.inPlace); err != nil || got.Leave != c.leave {
			t.Errorf("%g under %v: leave is %v, %v", c.change, c.inPlace, got.Leave, err)
		}
	}
}

// Poles and speeds that cannot be have no answer; 120·f/p is the synchronous speed, from every handbook.
func TestPolesOfNothing(t *testing.T) {
	for _, c := range [][2]float64{{nan, 1480}, {50, nan}, {0, 1480}, {50, 0}, {-50, -1480}, {-50, 1480}, {50, math.Inf(1)}, {math.Inf(1), 1480}} {
		if got := Poles(c[0], c[1]); got != 0 {
			t.Errorf("%g Hz, %g r/min: %d poles", c[0], c[1], got)
		}
	}
	for poles := 2; poles <= 40; poles += 2 {
		n := 120 * 50.0 / float64(poles)
		for _, slip := range []float64{1, 0.97} {
			if got := Poles(50, slip*n); got != poles && slip*n > 120*50/float64(poles+2) {
				t.Errorf("%g r/min: %d poles, not %d", slip*n, got, poles)
			}
		}
	}
}

// A growth that is given needs an uncertainty that can be, of either plane.
func TestGivenGrowthUncertainty(t *testing.T) {
	for _, u := range []float64{-0.01, nan, math.Inf(1)} {
		for plane := range 2 {
			in := GrowthInput{}
			for _, x := range []float64{300, 800} {
				in.Supports = append(in.Supports, GrowthSupport{Movable: true, Station: x, GivenV: 0.1, GivenH: 0.02, UGivenV: 0.01, UGivenH: 0.01})
			}
			var res GrowthResult
			if Growth(&in, &res); res.Status != GrowthOK {
				t.Fatal(res.Status)
			}
			if plane == 0 {
				in.Supports[1].UGivenV = u
			} else {
				in.Supports[1].UGivenH = u
			}
			if Growth(&in, &res); res.Status != GrowthBadNumber || res.Support != 1 {
				t.Errorf("± %g in plane %d: %v at support %d", u, plane, res.Status, res.Support)
			}
		}
	}
}

// Shims at bolts for a slope that is not known are none, and not a list of nothing; for one that is, the least is nothing and they turn the shaft by just that slope.
func TestBoltShimsByTurn(t *testing.T) {
	for bolts := 3; bolts <= 12; bolts++ {
		for _, mirrored := range []bool{false, true} {
			in := Input{Bolts: bolts, BoltCircleRadius: 180, Mirrored: mirrored}
			list := in.BoltShims(nil, 0.4, -0.3)
			tv, th := in.BoltTurn(func(k int) float64 { return list[k] })
			if len(list) != bolts || slices.Min(list) != 0 || math.Abs(tv+0.4) > 1e-12 || math.Abs(th-0.3) > 1e-12 {
				t.Errorf("%d bolts, mirrored %v: %v turn by %g and %g", bolts, mirrored, list, tv, th)
			}
			for _, bad := range [][2]float64{{nan, 0.1}, {0.1, nan}, {math.Inf(1), 0}, {0, math.Inf(-1)}} {
				if list := in.BoltShims(nil, bad[0], bad[1]); len(list) != 0 {
					t.Errorf("a slope of %v: %v", bad, list)
				}
			}
		}
	}
	none := Input{BoltCircleRadius: 180}
	if list := none.BoltShims(nil, 0.4, -0.3); len(list) != 0 {
		t.Errorf("no bolts: %v", list)
	}
}

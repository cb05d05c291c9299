package calc

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strings"
	"testing"

	"shimsheet/internal/units"
	"shimsheet/internal/vec"
)

// noGrowth is a support with nothing known otherwise.
func noGrowth(movable bool, station float64, parts ...GrowthPart) GrowthSupport {
	return GrowthSupport{Movable: movable, Station: station, Parts: parts, GivenV: nan, GivenH: nan}
}

// pair is two supports of the movable machine on the same parts.
func pair(parts ...GrowthPart) *GrowthInput {
	return &GrowthInput{Supports: []GrowthSupport{noGrowth(true, 300, parts...), noGrowth(true, 900, parts...)}}
}

func TestGrowthVectors(t *testing.T) {
	cases := vec.Read(t, "growth.vec")
	if len(cases) < 15 {
		t.Fatalf("only %d checks", len(cases))
	}
	for i := range cases {
		c := &cases[i]
		read := func(text string, k units.Kind) float64 {
			v, err := units.Parse(text, k, k.Base(), units.Point)
			if err != nil {
				t.Fatalf("%v: %q: %v", c, text, err)
			}
			return v.Base
		}
		p := GrowthPart{Alpha: nan}
		for _, kv := range c.In {
			switch kv.Name {
			case "height":
				p.Height = read(kv.Value, units.Length)
			case "coefficient":
				p.Alpha = read(kv.Value, units.Expansion)
			case "cold":
				p.Cold = read(kv.Value, units.Temperature)
			case "running":
				p.Running = read(kv.Value, units.Temperature)
			case "means from 70 °F": // temperature : mean; …
				p.Table = &MeanTable{Reference: read("70 °F", units.Temperature)}
				for w := range strings.SplitSeq(kv.Value, ";") {
					at, mean, _ := strings.Cut(w, ":")
					p.Table.Temp = append(p.Table.Temp, read(strings.TrimSpace(at)+" °F", units.Temperature))
					p.Table.Mean = append(p.Table.Mean, read(strings.TrimSpace(mean)+" 1e-6/°F", units.Expansion))
				}
			default:
				t.Fatalf("%v: %s?", c, kv.Name)
			}
		}
		var res GrowthResult
		Growth(pair(p), &res)
		if c.WantErr != "" {
			if res.Status == GrowthOK || !strings.Contains(res.Status.String(), c.WantErr) {
				t.Errorf("%v: %v, want %q", c, res.Status, c.WantErr)
			}
			continue
		}
		for _, kv := range c.Want {
			if kv.Name != "growth" {
				t.Fatalf("%v: %s?", c, kv.Name)
			}
			u, ok := units.ParseUnit(c.TolUnit, units.Length)
			want := read(kv.Value, units.Length)
			if got := res.Supports[0].V; !ok || !(math.Abs(got-want) <= u.ToBase(c.Tol)) {
				t.Errorf("%v: %.12g mm, want %.12g within %g %s", c, got, want, c.Tol, c.TolUnit)
			}
		}
	}
}

func rat(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }

// ratStrain is the growth from the reference in exact fractions.
func ratStrain(tab *MeanTable, temp float64) *big.Rat {
	i := 1
	for i < len(tab.Temp)-1 && temp > tab.Temp[i] {
		i++
	}
	f := new(big.Rat).Sub(rat(temp), rat(tab.Temp[i-1]))
	f.Quo(f, new(big.Rat).Sub(rat(tab.Temp[i]), rat(tab.Temp[i-1])))
	mean := new(big.Rat).Sub(rat(tab.Mean[i]), rat(tab.Mean[i-1]))
	mean.Add(mean.Mul(mean, f), rat(tab.Mean[i-1]))
	return mean.Mul(mean, new(big.Rat).Sub(rat(temp), rat(tab.Reference)))
}

func randomTable(rng *rand.Rand) *MeanTable {
	tab := &MeanTable{Reference: 21}
	at, mean := -50+20*rng.Float64(), 8+10*rng.Float64()
	for range 2 + rng.IntN(8) {
		tab.Temp, tab.Mean = append(tab.Temp, at), append(tab.Mean, mean)
		at, mean = at+10+80*rng.Float64(), mean+0.5*rng.Float64()
	}
	return tab
}

func randomPart(rng *rand.Rand) GrowthPart {
	p := GrowthPart{Height: between(rng, -200, 1500), Across: rng.IntN(4) == 0, Alpha: between(rng, 8, 24),
		Cold: between(rng, -20, 40), Running: between(rng, -20, 300),
		UAlpha: 0.1 * rng.Float64(), UCold: 3 * rng.Float64(), URunning: 8 * rng.Float64(),
		AlphaGroup: rng.IntN(4), ColdGroup: rng.IntN(3), RunningGroup: rng.IntN(4)}
	if rng.IntN(2) == 0 {
		p.Table = randomTable(rng)
		lo, hi := p.Table.Temp[0], p.Table.Temp[len(p.Table.Temp)-1]
		p.Alpha, p.Cold, p.Running = nan, between(rng, lo, hi), between(rng, lo, hi)
		if rng.IntN(3) == 0 {
			p.Cold, p.Running = p.Table.Temp[rng.IntN(len(p.Table.Temp))], hi
		}
	}
	return p
}

func randomGrowth(rng *rand.Rand) *GrowthInput {
	in := &GrowthInput{}
	if rng.IntN(4) == 0 {
		in.Hot = Line{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
	}
	for side := range 2 {
		n := 2 + rng.IntN(2)
		if side == 0 && rng.IntN(4) == 0 {
			n = 0
		}
		for k := range n {
			x := 200 + 500*float64(k) + 100*rng.Float64()
			if side == 0 {
				x = -x
			}
			s := noGrowth(side == 1, x)
			for range rng.IntN(4) {
				s.Parts = append(s.Parts, randomPart(rng))
			}
			if rng.IntN(6) == 0 {
				s.GivenV, s.UGivenV = rng.NormFloat64(), rng.Float64()
			}
			if rng.IntN(3) == 0 {
				s.GivenH, s.UGivenH = rng.NormFloat64(), rng.Float64()
			}
			in.Supports = append(in.Supports, s)
		}
	}
	rng.Shuffle(len(in.Supports), func(i, j int) { in.Supports[i], in.Supports[j] = in.Supports[j], in.Supports[i] })
	return in
}

// TestGrowthExact does the sums of random stacks again in fractions.
func TestGrowthExact(t *testing.T) {
	//evidence: calc=thermal growth grade=independent count=3000 source=exact rational arithmetic (Go math/big)
	rng := rand.New(rand.NewPCG(8, 1))
	for range simCount(3000) {
		in := randomGrowth(rng)
		var res GrowthResult
		Growth(in, &res)
		if res.Status != GrowthOK {
			t.Fatalf("%+v: %v", in, res.Status)
		}
		for j := range in.Supports {
			s := &in.Supports[j]
			want := [2]*big.Rat{new(big.Rat), new(big.Rat)}
			size := [2]float64{1e-3, 1e-3}
			for k := range s.Parts {
				p := &s.Parts[k]
				d := 0
				if p.Across {
					d = 1
				}
				var g *big.Rat
				if math.IsNaN(p.Alpha) {
					g = new(big.Rat).Sub(ratStrain(p.Table, p.Running), ratStrain(p.Table, p.Cold))
				} else {
					g = new(big.Rat).Mul(rat(p.Alpha), new(big.Rat).Sub(rat(p.Running), rat(p.Cold)))
				}
				g.Mul(g, rat(p.Height))
				want[d].Add(want[d], g.Quo(g, big.NewRat(1e6, 1)))
				size[d] += math.Abs(p.Height) * 30 * 400 / 1e6
			}
			for d, given := range [2]float64{s.GivenV, s.GivenH} {
				w, _ := want[d].Float64()
				if !math.IsNaN(given) {
					w = given
				}
				got := [2]float64{res.Supports[j].V, res.Supports[j].H}[d]
				if !(math.Abs(got-w) <= 1e-14*size[d]) {
					t.Fatalf("support %d: %.17g, exactly %.17g", j, got, w)
				}
			}
		}
		// With two supports the line goes through both.
		for _, movable := range [2]bool{false, true} {
			l, n := res.Stationary, 0
			if movable {
				l = res.Movable
			}
			for j := range in.Supports {
				if in.Supports[j].Movable == movable {
					n++
				}
			}
			for j := range in.Supports {
				if s := &in.Supports[j]; n == 2 && s.Movable == movable {
					g := res.Supports[j]
					if v, h := l.at(s.Station, false), l.at(s.Station, true); math.Abs(v-g.V) > 1e-11 || math.Abs(h-g.H) > 1e-11 {
						t.Fatalf("line at %g: %g %g, support %g %g", s.Station, v, h, g.V, g.H)
					}
				}
			}
			if n == 0 && l != (Line{}) {
				t.Fatalf("a machine without supports grows: %v", l)
			}
		}
		// The shaft stands at Wanted, then both machines grow: it must be at Hot.
		for _, x := range []float64{-1000, 0, 250} {
			for _, across := range []bool{false, true} {
				hot := res.Wanted.at(x, across) + res.Movable.at(x, across) - res.Stationary.at(x, across)
				if math.Abs(hot-in.Hot.at(x, across)) > 1e-11 {
					t.Fatalf("hot at %g: %g, wanted %g", x, hot, in.Hot.at(x, across))
				}
			}
		}
	}
}

// TestGrowthCov pushes each error by its standard deviation, both ways, all parts of its group together, and adds up what the wanted line does:
// the covariance of first order. Temperatures at an entry of a table are left out, where the slope has two values.
func TestGrowthCov(t *testing.T) {
	//evidence: calc=thermal growth grade=independent count=1000 source=covariance by finite differences, each error moved by itself
	rng := rand.New(rand.NewPCG(8, 2))
	type key struct {
		kind         byte
		group        int
		support, own int
	}
	const step = 1e-4
	for range simCount(1000) {
		in := randomGrowth(rng)
		corner := false
		for j := range in.Supports {
			for k := range in.Supports[j].Parts {
				if p := &in.Supports[j].Parts[k]; p.Table != nil {
					for _, at := range p.Table.Temp {
						corner = corner || math.Abs(p.Cold-at) < 0.01 || math.Abs(p.Running-at) < 0.01
					}
				}
			}
		}
		if corner {
			continue
		}
		var res GrowthResult
		Growth(in, &res)
		errors := map[key]bool{}
		of := func(kind byte, group, j, k int) key {
			if group > 0 {
				return key{kind, group, 0, 0}
			}
			return key{kind, 0, j, k}
		}
		for j := range in.Supports {
			errors[key{'V', 0, j, 0}], errors[key{'H', 0, j, 0}] = true, true
			for k := range in.Supports[j].Parts {
				p := &in.Supports[j].Parts[k]
				errors[of('a', p.AlphaGroup, j, k)], errors[of('c', p.ColdGroup, j, k)], errors[of('r', p.RunningGroup, j, k)] = true, true, true
			}
		}
		moved := func(e key, by float64) (out GrowthResult) {
			c := GrowthInput{Hot: in.Hot}
			for j := range in.Supports {
				s := in.Supports[j]
				s.Parts = append([]GrowthPart(nil), s.Parts...)
				if e == (key{'V', 0, j, 0}) {
					s.GivenV += by * s.UGivenV
				}
				if e == (key{'H', 0, j, 0}) {
					s.GivenH += by * s.UGivenH
				}
				for k := range s.Parts {
					p := &s.Parts[k]
					if e == of('c', p.ColdGroup, j, k) {
						p.Cold += by * p.UCold
					}
					if e == of('r', p.RunningGroup, j, k) {
						p.Running += by * p.URunning
					}
					if e == of('a', p.AlphaGroup, j, k) {
						p.Alpha *= 1 + by*p.UAlpha
						if p.Table != nil {
							tab := *p.Table
							tab.Mean = append([]float64(nil), tab.Mean...)
							for i := range tab.Mean {
								tab.Mean[i] *= 1 + by*p.UAlpha
							}
							p.Table = &tab
						}
					}
				}
				c.Supports = append(c.Supports, s)
			}
			Growth(&c, &out)
			return out
		}
		var want Cov
		sup := make([]SupportGrowth, len(in.Supports)) // variances
		for e := range errors {
			a, b := moved(e, step), moved(e, -step)
			x, y := lineArray(a.Wanted), lineArray(b.Wanted)
			for i := range x {
				for j := range x {
					want[i][j] += (x[i] - y[i]) * (x[j] - y[j]) / (4 * step * step)
				}
			}
			for j := range sup {
				dv, dh := (a.Supports[j].V-b.Supports[j].V)/(2*step), (a.Supports[j].H-b.Supports[j].H)/(2*step)
				sup[j].V, sup[j].H = sup[j].V+dv*dv, sup[j].H+dh*dh
			}
		}
		for i := range want {
			for j := range want {
				tol := 1e-5*math.Sqrt(want[i][i]*want[j][j]) + 1e-12
				if d := res.Cov[i][j] - want[i][j]; !(math.Abs(d) <= tol) || res.Cov[i][j] != res.Cov[j][i] {
					t.Fatalf("%+v: covariance %d %d is %g, want %g", in, i, j, res.Cov[i][j], want[i][j])
				}
			}
		}
		for j := range sup {
			if g := res.Supports[j]; math.Abs(g.UV-math.Sqrt(sup[j].V)) > 1e-5*g.UV+1e-9 || math.Abs(g.UH-math.Sqrt(sup[j].H)) > 1e-5*g.UH+1e-9 {
				t.Fatalf("support %d: u %g %g, want %g %g", j, g.UV, g.UH, math.Sqrt(sup[j].V), math.Sqrt(sup[j].H))
			}
		}
	}
}

// TestGrowthShared: two machines alike on one cold temperature, one thermometer each when running. What is shared cancels.
func TestGrowthShared(t *testing.T) {
	p := GrowthPart{Height: 500, Alpha: 11, Cold: 10, Running: 60, UCold: 2, ColdGroup: 1, UAlpha: 0.05, AlphaGroup: 1}
	in := pair(p)
	in.Supports = append(in.Supports, noGrowth(false, -300, p), noGrowth(false, -900, p))
	var res GrowthResult
	Growth(in, &res)
	u := math.Hypot(0.5*11*2e-3, 0.5*11*50*0.05e-3) // m · µm/m/°C · °C, in mm
	if g := res.Supports[0]; math.Abs(g.V-0.275) > 1e-15 || math.Abs(g.UV-u) > 1e-15 {
		t.Errorf("support %+v, want 0.275 ± %g", g, u)
	}
	if c := res.Cov; math.Abs(c[0][0])+math.Abs(c[1][1]) > 1e-25 || math.Abs(res.Wanted.DV) > 1e-15 {
		t.Errorf("what both share is left: %v, covariance %v", res.Wanted, c)
	}
	for j := range in.Supports { // each part its own error
		in.Supports[j].Parts = []GrowthPart{p}
		in.Supports[j].Parts[0].ColdGroup, in.Supports[j].Parts[0].AlphaGroup = 0, 0
	}
	Growth(in, &res)
	// Offset at the centre from supports at 300 and 900: 1.5 g1 − 0.5 g2 on either machine.
	if want := 2 * (1.5*1.5 + 0.5*0.5) * u * u; math.Abs(res.Cov[0][0]-want) > 1e-15 {
		t.Errorf("variance of the offset %g, want %g", res.Cov[0][0], want)
	}
}

func TestGrowthRefused(t *testing.T) {
	steel := GrowthPart{Height: 500, Alpha: 11, Cold: 10, Running: 60}
	with := func(f func(p *GrowthPart)) *GrowthInput {
		p := steel
		f(&p)
		return &GrowthInput{Supports: []GrowthSupport{noGrowth(true, 300, steel), noGrowth(true, 900, steel, p)}}
	}
	one := &GrowthInput{Supports: []GrowthSupport{noGrowth(true, 300, steel), noGrowth(false, -300, steel), noGrowth(true, 900, steel)}}
	given := pair(steel)
	given.Supports[1].GivenH, given.Supports[1].UGivenH = 0.1, nan
	table := &MeanTable{21, []float64{50, 100}, []float64{11, 12}}
	for _, c := range []struct {
		name          string
		in            *GrowthInput
		status        GrowthStatus
		support, part int
	}{
		{"nothing", &GrowthInput{}, GrowthNone, -1, -1},
		{"one support", one, GrowthOneSupport, 1, -1},
		{"no coefficient", with(func(p *GrowthPart) { p.Alpha = nan }), GrowthNoMaterial, 1, 1},
		{"colder than the table", with(func(p *GrowthPart) { p.Alpha, p.Table = nan, table }), GrowthOutsideTable, 1, 1},
		{"hotter than the table", with(func(p *GrowthPart) { p.Alpha, p.Table, p.Cold, p.Running = nan, table, 60, 100.1 }), GrowthOutsideTable, 1, 1},
		{"table out of order", with(func(p *GrowthPart) { p.Alpha, p.Table = nan, &MeanTable{21, []float64{50, 50}, []float64{11, 12}} }), GrowthBadTable, 1, 1},
		{"table with a hole", with(func(p *GrowthPart) { p.Alpha, p.Table = nan, &MeanTable{21, []float64{50, 60}, []float64{11}} }), GrowthBadTable, 1, 1},
		{"no temperature", with(func(p *GrowthPart) { p.Running = nan }), GrowthBadNumber, 1, 1},
		{"below absolute zero", with(func(p *GrowthPart) { p.Cold = -300 }), GrowthBadNumber, 1, 1},
		{"no height", with(func(p *GrowthPart) { p.Height = nan }), GrowthBadNumber, 1, 1},
		{"negative uncertainty", with(func(p *GrowthPart) { p.UCold = -1 }), GrowthBadNumber, 1, 1},
		{"endless", with(func(p *GrowthPart) { p.Height, p.Alpha = 1e300, 1e300 }), GrowthBadNumber, 1, -1},
		{"no uncertainty of what is given", given, GrowthBadNumber, 1, -1},
	} {
		var res GrowthResult
		Growth(c.in, &res)
		if res.Status != c.status || res.Support != c.support || res.Part != c.part {
			t.Errorf("%s: %v at %d, %d; want %v at %d, %d", c.name, res.Status, res.Support, res.Part, c.status, c.support, c.part)
		}
		if !math.IsNaN(res.Wanted.DV + res.Cov[0][0] + res.Movable.TV) {
			t.Errorf("%s: numbers in spite of it: %+v", c.name, res)
		}
	}
	for s := GrowthOK; s < numGrowthStatus; s++ {
		if s.String() == "" {
			t.Errorf("status %d has no words", s)
		}
	}
	// The reference itself needs no entry: nothing has grown there. What is given needs no parts.
	p := GrowthPart{Height: 1000, Alpha: nan, Table: table, Cold: 21, Running: 100}
	var res GrowthResult
	if Growth(pair(p), &res); res.Status != GrowthOK || math.Abs(res.Supports[0].V-12*79e-3) > 1e-14 {
		t.Errorf("from the reference: %v %v", res.Status, res.Supports)
	}
	p.Alpha = 11
	if Growth(pair(p), &res); res.Status != GrowthOK || math.Abs(res.Supports[0].V-11*79e-3) > 1e-14 {
		t.Errorf("an own coefficient: %v %v", res.Status, res.Supports)
	}
}

// TestColdToHot: what was measured comes back out, and uncertainties of both add.
func TestColdToHot(t *testing.T) {
	m := ColdToHot{Cold: Line{0.1, 0.2, -0.3, 0.4}, Hot: Line{0.5, 0.1, 0.3, 0.2},
		ColdCov: Cov{{1, 2, 3, 4}, {2, 5, 6, 7}, {3, 6, 8, 9}, {4, 7, 9, 10}}, HotCov: Cov{{10}, {0, 20}, {0, 0, 30}, {0, 0, 0, 40}}}
	target, found, foundCov := Line{0.01, 0, nan, 0}, Line{1, 1, 1, 1}, Cov{{100}, {0, 100}}
	w, c := m.Wanted(&target, &found, &foundCov)
	if math.Abs(w.DV+0.39) > 1e-15 || math.Abs(w.TV-0.1) > 1e-15 || !math.IsNaN(w.DH) || math.Abs(w.TH-0.2) > 1e-15 {
		t.Errorf("%v", w)
	}
	if c[0][0] != 11 || c[1][2] != 6 || c[3][3] != 50 || m.ColdCov[0][0] != 1 {
		t.Errorf("%v", c)
	}
	m.FromFound = true
	if w, c = m.Wanted(&target, &found, &foundCov); math.Abs(w.DV-0.51) > 1e-15 || math.Abs(w.TH-0.8) > 1e-15 || c[0][0] != 110 || c[3][3] != 40 {
		t.Errorf("the line found as the cold set: %v, %v", w, c)
	}
	for i, bad := range []func(m *ColdToHot){func(m *ColdToHot) { m.Hot.TV = nan }, func(m *ColdToHot) { m.HotCov[2][1] = math.Inf(1) },
		func(m *ColdToHot) { m.FromFound, m.Cold.DV = false, nan }, func(m *ColdToHot) { m.FromFound, m.ColdCov[0][3] = false, nan }} {
		broken := m
		bad(&broken)
		in := Input{Given: found, GivenU: Line{1, 1, 1, 1}, Length: nan, Limits: Limits{nan, nan}, FlangeStation: nan, Measured: &broken}
		var res Result
		if Solve(&in, &res); res.Status != BadInput || !math.IsNaN(res.Wanted.DV) {
			t.Errorf("%d: %v, wanted %v", i, res.Status, res.Wanted)
		}
	}
}

// TestWantedCov: the uncertainty of the wanted line widens that of the deviation, and a certain one changes no bit.
func TestWantedCov(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 3))
	for range 200 {
		g := randomGrowth(rng)
		var gr GrowthResult
		Growth(g, &gr)
		in := Input{Given: Line{0.1, 0.2, -0.1, 0.3}, GivenU: Line{0.01, 0.02, 0.01, 0.03}, Length: nan, Limits: Limits{1, 1}, Wanted: gr.Wanted,
			Feet: []float64{300, 900}, FlangeStation: nan}
		var exact, wide Result
		Solve(&in, &exact)
		in.WantedCov = gr.Cov
		Solve(&in, &wide)
		want := 4 * (0.01*0.01 + gr.Cov[0][0])
		if d := wide.Found.Offset.UV*wide.Found.Offset.UV - want; math.Abs(d) > 1e-12*want || wide.Found.Offset.V != exact.Found.Offset.V || wide.Feet[0].Shim != exact.Feet[0].Shim {
			t.Fatalf("offset %v, want U² %g; shim %g, %g", wide.Found.Offset, want, wide.Feet[0].Shim, exact.Feet[0].Shim)
		}
		if f := wide.Feet[1]; math.Abs(f.UShim*f.UShim/4-(0.0001+0.81*0.0004+gr.Cov[0][0]+1.8*gr.Cov[0][1]+0.81*gr.Cov[1][1])) > 1e-12*(1+want) {
			t.Fatalf("shim uncertainty %g", f.UShim)
		}
		if wide.Status != OK || exact.Status != OK {
			t.Fatal(wide.Status, exact.Status)
		}
	}
}

// TestExpect reads what Expect says off the simulated rig, droop and all, and takes it back through Solve.
func TestExpect(t *testing.T) {
	//evidence: calc=wanted readings grade=independent count=400 source=simulation of two rigid shafts with brackets and plungers
	rng := rand.New(rand.NewPCG(8, 4))
	clock := []float64{0, 90, 180, 270, 30, -45, 359}
	for range 100 {
		r := randomRig(rng, 0.3)
		dials := []*dial{
			rimDial(rng, r, RimOnMovable, between(rng, 50, 150), clock), rimDial(rng, r, RimOnStationary, between(rng, -150, -50), clock),
			faceDial(rng, r, true, false, clock), faceDial(rng, r, false, true, clock),
		}
		for _, d := range dials {
			d.sweep.SagAt6 = r.sagAt6(d)
			list, ok := d.sweep.Expect(&r.line, nil, clock, nil)
			if !ok || len(list) != len(clock) {
				t.Fatalf("%v: refused", d.sweep.Model)
			}
			zero := r.read(d, 0)
			for i, e := range list {
				if got := r.read(d, clock[i]) - zero; !(math.Abs(got-e.Zeroed) <= 3*r.secondOrder(d)) { // two readings and the sag
					t.Fatalf("model %d at %g: %g is expected, the rig reads %g", d.sweep.Model, clock[i], e.Zeroed, got)
				}
			}
		}
	}
	for range 500 {
		l := Line{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		in := Input{Length: nan, Limits: Limits{nan, nan}, FlangeStation: nan, Checks: loose}
		sets := [][]Sweep{
			{{Model: RimOnMovable, Station: 120}, {Model: RimOnStationary, Station: -80}},
			{{Model: StepAtRim, Station: 20}, {Model: GapBetween, Diameter: 300}},
			{{Model: RimOnMovable, Station: 90}, {Model: FaceBack, Diameter: 250}},
			{{Model: SpoolOnMovable, Diameter: 300, Length: 900}, {Model: SpoolOnStationaryBack, Diameter: 280, Length: 900}},
		}
		for _, s := range sets[rng.IntN(len(sets))] {
			s.SagAt6, s.U, s.Graduation = -0.1*rng.Float64(), 0.003, 0.01
			list, ok := s.Expect(&l, nil, []float64{0, 90, 180, 270}, nil)
			if !ok {
				t.Fatal("refused")
			}
			mean := 0.0
			for _, e := range list {
				s.Angle, s.Reading = append(s.Angle, e.Angle), append(s.Reading, e.Zeroed)
				mean += e.Mean / 4
				if math.Abs(e.Mean-list[0].Mean-e.Zeroed) > 1e-14 {
					t.Fatalf("%v", list)
				}
			}
			if list[0].Zeroed != 0 || math.Abs(mean) > 1e-14 {
				t.Fatalf("%v: mean %g", list, mean)
			}
			in.Sweeps = append(in.Sweeps, s)
		}
		var res Result
		Solve(&in, &res)
		got := lineArray(res.Line)
		for i, w := range lineArray(l) {
			if !(math.Abs(got[i]-w) < 1e-12*(1+1e3)) {
				t.Fatalf("model %d: line %v comes back as %v", in.Sweeps[0].Model, l, res.Line)
			}
		}
	}
	// By hand: the shaft wanted 0.2 high at the dial, the bracket showing −0.05: at 6 o'clock −0.4 − 0.05. A step of 0.2 stands as 0.2.
	s := Sweep{Model: RimOnMovable, Station: 100, SagAt6: -0.05}
	cov := Cov{{0.0004}}
	list, ok := s.Expect(&Line{0.1, 1, 0, 0}, &cov, []float64{180}, nil)
	if !ok || math.Abs(list[0].Zeroed+0.45) > 1e-15 || math.Abs(list[0].U-0.04) > 1e-15 {
		t.Errorf("%v", list)
	}
	s.Model, s.SagAt6 = StepAtRim, 0
	if list, ok = s.Expect(&Line{0.1, 1, 0, 0}, nil, []float64{0}, nil); !ok || math.Abs(list[0].Mean-0.2) > 1e-15 {
		t.Errorf("%v", list)
	}
	if _, ok = s.Expect(&Line{nan, 1, 0, 0}, nil, []float64{0}, nil); ok {
		t.Error("half a line is taken")
	}
	s.Model = FaceFront
	if _, ok = s.Expect(&Line{}, nil, []float64{0}, nil); ok {
		t.Error("a face without diameter is taken")
	}
}

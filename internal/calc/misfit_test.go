package calc

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"shimsheet/internal/tables"
)

// reverseSweeps is a row by reverse indicator with dials of 0.01 mm, planes at ±100 mm, readings at the given angles off the line.
func reverseSweeps(l Line, angles []float64) []Sweep {
	sweeps := []Sweep{{Model: RimOnMovable, Station: 100}, {Model: RimOnStationary, Station: -100}}
	for i := range sweeps {
		s := &sweeps[i]
		s.Graduation, s.U = tables.DialMetric.Graduation, tables.DialMetric.U()
		s.Angle = angles
		a, b, _ := s.Curve(&l)
		for _, deg := range angles {
			c, sn := cosSin(deg)
			s.Reading = append(s.Reading, a*(c-1)+b*sn)
		}
	}
	return sweeps
}

func rowInput(sweeps []Sweep) Input {
	return Input{Sweeps: sweeps, Given: nanLine, Length: nan, FlangeStation: nan, Limits: Limits{0.1, 0.5}, Feet: []float64{300, 900}}
}

// TestMisfit: readings that agree keep their uncertainty to the last bit; where one of four is b off, the ± of what the sweep sees becomes 0.7·b, which holds the error of b/2.
func TestMisfit(t *testing.T) {
	//evidence: calc=misfit into the uncertainty grade=identity count=3 source=Birge ratio of one degree of freedom by hand: balance b over 2u; the amplitude moves by b/2, U = 2·(b/2)/√2 (R. T. Birge, Physical Review 40 (1932) 207, from memory)
	line := Line{0.6, 0.3, -0.4, 0.2}
	var plain, res Result
	in := rowInput(reverseSweeps(line, []float64{0, 90, 180, 270, 360}))
	in.NoMisfit = true
	Solve(&in, &plain)
	in.NoMisfit = false
	Solve(&in, &res)
	if res.Cov != plain.Cov || res.Checks[0].Misfit != 1 || res.Misfit != 1 {
		t.Errorf("readings without a fault: %v, ratio %g", res.Cov, res.Checks[0].Misfit)
	}
	for _, b := range []float64{0.03, 0.05, 0.08} {
		in = rowInput(reverseSweeps(line, []float64{0, 90, 180, 270}))
		in.Sweeps[0].Reading[2] += b
		in.Checks = loose
		Solve(&in, &res)
		u := in.Sweeps[0].U
		if k := res.Checks[0].Misfit; math.Abs(k-b/(2*u)) > 1e-9 || res.Checks[1].Misfit != 1 {
			t.Errorf("%g mm: ratio %g, want %g", b, k, b/(2*u))
		}
		// What the movable plane sees: V(100).
		uv, _ := res.Cov.At(100)
		v, _ := res.Line.At(100)
		want, _ := line.At(100)
		if math.Abs(2*uv-b/math.Sqrt2) > 1e-9 || math.Abs(math.Abs(v-want)-b/2) > 1e-12 {
			t.Errorf("%g mm: off by %g ± %g", b, v-want, 2*uv)
		}
	}
	for n, want := range map[int]float64{1: 3.8415, 2: 5.9915, 3: 7.8147, 5: 11.0705, 16: 26.2962, 60: 79.0819} { // tables of chi-square
		if got := chi95(n); math.Abs(got/want-1) > 0.006 {
			t.Errorf("chi-square, %d degrees: %g, want %g", n, got, want)
		}
	}
}

// blunderCase draws a machine that truly stands 2 to 30 % outside its limit, read with one fault, and tells whether its checks pass and whether it is called inside.
type blunderCase struct {
	rng   *rand.Rand
	slip  bool // a bracket that lets go between two readings instead of one wrong reading
	close bool // the first position is read again
	plain bool // without what the readings show
}

func (c *blunderCase) run(share float64) (passed, inside bool, inU float64) {
	rng := c.rng
	lim := Limits{0.1, 0.5}
	wanted := Line{between(rng, -1.2, 1.2), between(rng, -1, 1), between(rng, -1.2, 1.2), between(rng, -1, 1)}
	dir, over := between(rng, 0, 2*math.Pi), between(rng, 1.02, 1.3)
	truth := wanted
	in0, in1 := between(rng, 0, 0.4), between(rng, 0, 2*math.Pi)
	if rng.IntN(2) == 0 {
		truth.DV += over * lim.Offset * math.Cos(dir)
		truth.DH += over * lim.Offset * math.Sin(dir)
		truth.TV += in0 * lim.Slope * math.Cos(in1)
		truth.TH += in0 * lim.Slope * math.Sin(in1)
	} else {
		truth.TV += over * lim.Slope * math.Cos(dir)
		truth.TH += over * lim.Slope * math.Sin(dir)
		truth.DV += in0 * lim.Offset * math.Cos(in1)
		truth.DH += in0 * lim.Offset * math.Sin(in1)
	}
	angles := []float64{0, 90, 180, 270}
	switch {
	case c.close:
		angles = append(angles, 360)
	case rng.IntN(3) == 0:
		angles = []float64{0, 45, 90, 135, 180, 225, 270, 315}
	}
	in := rowInput(reverseSweeps(truth, angles))
	in.Wanted, in.Limits, in.NoMisfit = wanted, lim, c.plain
	k := rng.IntN(2)
	s := &in.Sweeps[k]
	largest := 0.0
	for _, r := range s.Reading {
		largest = max(largest, math.Abs(r))
	}
	b := math.Copysign(share*largest, rng.Float64()-0.5)
	at := 1 + rng.IntN(len(angles)-1)
	for i := range in.Sweeps {
		for j := range in.Sweeps[i].Reading {
			r := &in.Sweeps[i].Reading[j]
			if i == k && (j == at || c.slip && j > at) {
				*r += b
			}
			if j > 0 {
				*r += 0.003 * rng.NormFloat64()
			}
			*r = math.Round(*r/0.01) * 0.01
		}
	}
	var res Result
	Solve(&in, &res)
	if res.Status != OK {
		return false, false, 0
	}
	return true, res.Found.Verdict == Inside, math.Abs(b) / s.U
}

// TestBlunders: how often a machine that is truly 2 to 30 % outside is called inside although its readings pass every check, by the size of the one wrong reading, before and after
// the readings' own misfit went into their uncertainty.
func TestBlunders(t *testing.T) {
	//evidence: calc=misfit into the uncertainty grade=independent count=8 source=Monte Carlo, fixed seed: one wrong reading in a sweep of four, five or eight, of any size that passes the checks; and a bracket that lets go while the turn is closed at 12
	for _, slip := range []bool{false, true} {
		rows := ""
		total, wrong := [2]int{}, [2]int{}
		for _, band := range [][2]float64{{0, 0.01}, {0.01, 0.02}, {0.02, 0.035}, {0.035, 0.05}, {0.05, 0.1}, {0.1, 0.2}} {
			var n, bad [2]int
			for before := range 2 {
				c := blunderCase{rng: rand.New(rand.NewPCG(1932, uint64(band[1]*1000))), slip: slip, plain: before == 0}
				for i := range longCount(3000) {
					c.close = slip || i%3 == 0
					if passed, inside, _ := c.run(between(c.rng, band[0], band[1])); passed {
						n[before]++
						if inside {
							bad[before]++
						}
					}
				}
				total[before] += n[before]
				wrong[before] += bad[before]
			}
			pct := func(i int) float64 { return 100 * float64(bad[i]) / float64(max(n[i], 1)) }
			rows += fmt.Sprintf("\n%4.1f to %4.1f %%: %6d pass the checks, wrong inside %.2f %% before, %.2f %% after", 100*band[0], 100*band[1], n[1], pct(0), pct(1))
			if n[1] > longCount(300) && pct(1) > 1 {
				t.Errorf("slip %v, %g to %g of the largest reading: %.2f %% of %d called inside", slip, band[0], band[1], pct(1), n[1])
			}
		}
		t.Logf("slip %v%s\nall: %d, %.2f %% before, %.2f %% after", slip, rows, total[1], 100*float64(wrong[0])/float64(total[0]), 100*float64(wrong[1])/float64(total[1]))
	}
}

// TestCarried: what sag and each distance add to the covariance of the line is what moving them by hand does to it, for every method; errors with one cause go together.
func TestCarried(t *testing.T) {
	//evidence: calc=uncertainty of sag and distances grade=independent count=1200 source=finite differences: each sag, station, diameter and length moved by hand and the line fitted anew; readings off the simulation
	rng := rand.New(rand.NewPCG(41, 41))
	for _, m := range methods {
		for i := range simCount(200) {
			sweeps := randomRig(rng, 1)
			dials := m.draw(rng, sweeps)
			in := Input{Sweeps: sweeps.measure(dials), Limits: Limits{nan, nan}, Checks: loose, Given: nanLine, Length: nan, FlangeStation: nan, NoMisfit: true}
			var plain, res Result
			Solve(&in, &plain)
			in.UDistance = 0.5
			for k := range in.Sweeps {
				in.Sweeps[k].USag = 0.01 * float64(k+1) // each its own bracket
			}
			Solve(&in, &res)
			want := plain.Cov
			base := lineArray(plain.Line)
			moved := func(u float64, change func(s *Sweep, h float64)) {
				var at [2][4]float64
				for j, h := range [2]float64{u / 100, -u / 100} {
					e := in
					e.Sweeps = append([]Sweep(nil), in.Sweeps...)
					for k := range e.Sweeps {
						change(&e.Sweeps[k], h)
					}
					var r Result
					Solve(&e, &r)
					at[j] = lineArray(r.Line)
				}
				for a := range base {
					for b := range base {
						want[a][b] += 2500 * (at[0][a] - at[1][a]) * (at[0][b] - at[1][b])
					}
				}
			}
			seen := map[float64]bool{}
			for k := range in.Sweeps {
				s := in.Sweeps[k]
				one := func(t *Sweep) bool {
					return t.Model == s.Model && t.Station == s.Station && t.SagAt6 == s.SagAt6 && t.USag == s.USag
				}
				moved(s.USag, func(t *Sweep, h float64) {
					if one(t) {
						t.SagAt6 += h
					}
				})
				switch {
				case s.Diameter > 0 && !seen[s.Diameter]:
					seen[s.Diameter] = true
					moved(0.5, func(t *Sweep, h float64) {
						if t.Diameter == s.Diameter {
							t.Diameter += h
						}
					})
				case s.Diameter == 0:
					moved(0.5, func(t *Sweep, h float64) {
						if one(t) {
							t.Station += h
						}
					})
				}
			}
			if in.Sweeps[0].Length > 0 {
				moved(0.5, func(t *Sweep, h float64) { t.Length += h })
			}
			for a := range base {
				for b := range base {
					// What the readings do not fit exactly, and second order of half a millimetre.
					if tol := 0.03 * math.Sqrt(want[a][a]*want[b][b]); !(math.Abs(res.Cov[a][b]-want[a][b]) <= tol) {
						t.Fatalf("%s, rig %d: covariance %d, %d is %g, by hand %g (readings alone %g)", m.name, i, a, b, res.Cov[a][b], want[a][b], plain.Cov[a][b])
					}
				}
			}
		}
	}
}

// Three sweeps that each read well and disagree about the line: the ratio is told, and the covariance is that of the readings as stated, times its square: the root of the weighted squares that the sweeps
// together leave, over what they have to spare (two numbers a sweep less four), by a fit of the sweeps' own amplitudes. Sweeps that agree keep theirs.
func TestSweepsDisagree(t *testing.T) {
	//evidence: calc=misfit into the uncertainty grade=identity count=3 source=Birge ratio of the sweeps' own sines and cosines about the line, worked out from the curves
	line := Line{0.3, 0.5, -0.2, 0.4}
	for _, off := range []float64{0, 0.003, 0.2} {
		in := rowInput(reverseSweeps(line, []float64{0, 45, 90, 135, 180, 225, 270, 315}))
		third := Sweep{Model: RimOnMovable, Station: 300, Graduation: 0.01, U: in.Sweeps[0].U, Angle: in.Sweeps[0].Angle}
		bent := Line{line.DV + off, line.TV, line.DH - off, line.TH} // the third dial sees a shaft that lies elsewhere
		third.Reading, _ = Expected(&third, &bent, nil)
		in.Sweeps = append(in.Sweeps, third)
		in.Checks = loose
		var res, plain Result
		Solve(&in, &res)
		in.NoMisfit = true
		Solve(&in, &plain)
		sum := 0.0
		for k := range in.Sweeps {
			s := &in.Sweeps[k]
			a, b, _ := s.Curve(&res.Line)
			seen := line
			if k == 2 {
				seen = bent
			}
			oa, ob, _ := s.Curve(&seen)
			sum += 4 * ((a-oa)*(a-oa) + (b-ob)*(b-ob)) / (s.U * s.U) // eight readings: Σcos² = 4
		}
		want := 1.0
		if sum > chi95(2) {
			want = math.Sqrt(sum / 2)
		}
		if (off == 0.2) != (want > 1) {
			t.Fatalf("off by %g: %g", off, sum)
		}
		if math.Abs(res.Misfit-want) > 1e-9 {
			t.Errorf("off by %g: a ratio of %g, by hand %g", off, res.Misfit, want)
		}
		for i := range res.Cov {
			for j := range res.Cov {
				if w := plain.Cov[i][j] * want * want; math.Abs(res.Cov[i][j]-w) > 1e-9*math.Abs(w)+1e-18 {
					t.Errorf("off by %g: covariance %d, %d is %g, not %g", off, i, j, res.Cov[i][j], w)
				}
			}
		}
	}
}

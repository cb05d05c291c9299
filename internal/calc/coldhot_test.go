package calc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestColdToHotSimulation reads the same dials on a machine cold and again hot, when every support has grown, moves the cold machine as told, heats it
// once more, and reads the dials: the shafts must stand where they were wanted hot. Half of the machines have a cold set of
// an earlier year, from another place of the machine, and the readings found as a third set.
func TestColdToHotSimulation(t *testing.T) {
	//evidence: calc=measured cold-to-hot change grade=independent count=2000 source=forward three-dimensional simulation: dials read cold and hot, the machine moved as told, heated and read again
	rng := rand.New(rand.NewPCG(31, 1))
	solve := func(in *Input) *Result {
		in.Given, in.Length, in.FlangeStation, in.Limits, in.Checks = nanLine, nan, nan, Limits{nan, nan}, loose
		var res Result
		if Solve(in, &res); res.Status != NoLimit {
			t.Fatalf("status %v, want NoLimit", res.Status)
		}
		return &res
	}
	plus := func(a, b Line) Line { return Line{a.DV + b.DV, a.TV + b.TV, a.DH + b.DH, a.TH + b.TH} }
	worst := 0.0
	for i := range simCount(2000) {
		r := randomRig(rng, 0.2)
		clock := quarters(rng)
		dials := []*dial{rimDial(rng, r, RimOnMovable, between(rng, 60, 200), clock), rimDial(rng, r, RimOnStationary, between(rng, -200, -60), clock)}
		read := func(l Line) []Sweep {
			at := *r
			at.place(l)
			return at.measure(dials)
		}
		found := r.line
		grown := Line{either(rng, 0, 0.2), either(rng, 0, 0.4), either(rng, 0, 0.1), either(rng, 0, 0.2)}
		in := Input{Sweeps: read(found), Feet: []float64{between(rng, 200, 600), between(rng, 700, 2000)}, Measured: &ColdToHot{FromFound: true}}
		cold := found
		if i%2 == 0 {
			cold = Line{either(rng, 0, 0.2), either(rng, 0, 0.6), either(rng, 0, 0.2), either(rng, 0, 0.6)}
			c := solve(&Input{Sweeps: read(cold)})
			in.Measured = &ColdToHot{Cold: c.Line, ColdCov: c.Cov}
		}
		h := solve(&Input{Sweeps: read(plus(cold, grown))})
		in.Measured.Hot, in.Measured.HotCov = h.Line, h.Cov
		if i%3 == 0 {
			in.Wanted = Line{either(rng, 0, 0.1), either(rng, 0, 0.2), either(rng, 0, 0.1), either(rng, 0, 0.2)}
		}
		res := solve(&in)
		a, b := &res.Feet[0], &res.Feet[1]
		tv, th := 1000*(b.Shim-a.Shim)/(b.Station-a.Station), 1000*(b.Move-a.Move)/(b.Station-a.Station)
		moved := Line{a.Shim - tv*a.Station/1000, tv, a.Move - th*a.Station/1000, th}
		last := solve(&Input{Sweeps: read(plus(plus(found, moved), grown))})
		got, want := lineArray(last.Line), lineArray(in.Wanted)
		for k := range got {
			// Four fits of readings, each off by 1 µm or 1 µm/m and the second order of its readings.
			bound := 4 * 0.001
			g := gain(in.Sweeps)
			c := 0
			for s := range in.Sweeps {
				for range in.Sweeps[s].Angle {
					bound += 4 * math.Abs(g[k][c]) * dials[s].second
					c++
				}
			}
			worst = max(worst, math.Abs(got[k]-want[k])/bound)
			if !(math.Abs(got[k]-want[k]) <= bound) {
				t.Fatalf("machine %d, %s: runs at %.5f, wanted %.5f, bound %.5f", i, lineNames[k], got[k], want[k], bound)
			}
		}
	}
	t.Logf("worst error %.2f of its bound", worst)
}

// TestColdToHotScatter reads noisy dials ten thousand times and holds the scatter of the deviation, and of the wanted line, to the covariance told. With
// the readings found as the cold set their errors must cancel in the deviation; with a cold set of its own all three add.
func TestColdToHotScatter(t *testing.T) {
	//evidence: calc=uncertainty of a measured change grade=independent count=4 source=Monte Carlo of 10,000 noisy sets of readings each (propagation of distributions, as JCGM 101)
	const n, u = 10_000, 0.01
	rng := rand.New(rand.NewPCG(31, 2))
	clock := []float64{0, 90, 180, 270}
	sweeps := func(l Line) []Sweep {
		list := []Sweep{{Model: RimOnMovable, Station: 120}, {Model: RimOnStationary, Station: -90}}
		for k := range list {
			s := &list[k]
			s.U, s.Angle = u, clock
			for _, a := range clock {
				c, v := math.Cos(a*math.Pi/180), math.Sin(a*math.Pi/180)
				sign, x := 1.0, s.Station/1000
				if k == 1 {
					sign = -1
				}
				s.Reading = append(s.Reading, sign*((l.DV+l.TV*x)*c+(l.DH+l.TH*x)*v)+u*rng.NormFloat64())
			}
		}
		return list
	}
	cold, hot := Line{0.3, -0.5, 0.1, 0.2}, Line{0.1, -0.4, 0.15, 0.1}
	for _, fromFound := range []bool{true, false} {
		var dev, want [4]struct{ sum, sq float64 }
		var res Result
		var devU, wantU [4]float64
		for range n {
			fit := func(l Line) *Result {
				var r Result
				Solve(&Input{Sweeps: sweeps(l), Given: nanLine, Length: nan, Limits: Limits{nan, nan}, FlangeStation: nan, Checks: loose}, &r)
				return &r
			}
			h := fit(hot)
			m := &ColdToHot{FromFound: fromFound, Hot: h.Line, HotCov: h.Cov}
			if !fromFound {
				c := fit(cold)
				m.Cold, m.ColdCov = c.Line, c.Cov
			}
			in := Input{Sweeps: sweeps(cold), Given: nanLine, Length: nan, Limits: Limits{1, 1}, FlangeStation: nan, Checks: loose, Measured: m}
			Solve(&in, &res)
			if res.Status != OK {
				t.Fatal(res.Status)
			}
			w, c := m.Wanted(&in.Wanted, &res.Line, &res.Cov)
			if w != res.Wanted {
				t.Fatalf("wanted %v, the result has %v", w, res.Wanted)
			}
			f := &res.Found
			devU, wantU = [4]float64{f.Offset.UV, f.Slope.UV, f.Offset.UH, f.Slope.UH}, [4]float64{}
			for k, x := range [4]float64{f.Offset.V, f.Slope.V, f.Offset.H, f.Slope.H} {
				dev[k].sum += x
				dev[k].sq += x * x
				y := lineArray(w)[k]
				want[k].sum += y
				want[k].sq += y * y
				wantU[k] = 2 * math.Sqrt(c[k][k])
			}
		}
		for k := range dev {
			// The standard deviation of n draws is known to 1/√(2n) of itself, 0.7 %; five of those.
			sd := func(sum, sq float64) float64 { return 2 * math.Sqrt(sq/n-sum/n*sum/n) }
			if d := sd(dev[k].sum, dev[k].sq); math.Abs(d/devU[k]-1) > 5/math.Sqrt(2*n) {
				t.Errorf("from found %v, deviation %s: scatters by ± %.5f, told ± %.5f", fromFound, lineNames[k], d, devU[k])
			}
			if d := sd(want[k].sum, want[k].sq); math.Abs(d/wantU[k]-1) > 5/math.Sqrt(2*n) {
				t.Errorf("from found %v, wanted %s: scatters by ± %.5f, told ± %.5f", fromFound, lineNames[k], d, wantU[k])
			}
		}
	}
}

// A machine read hot some minutes after the stop has lost a share of its growth. The scatter of the wanted line, and of the deviation, when that share is
// drawn at random must be what is told.
func TestCooledScatter(t *testing.T) {
	//evidence: calc=uncertainty of a measured change grade=independent count=2 source=Monte Carlo of 20,000 lost shares (propagation of distributions, as JCGM 101)
	const n, share = 20_000, 0.06
	rng := rand.New(rand.NewPCG(4, 9))
	cold, hot := Line{0.1, 0.3, -0.05, 0.2}, Line{-0.2, 0.9, 0.15, -0.1}
	for _, fromFound := range []bool{true, false} {
		m := &ColdToHot{FromFound: fromFound, Cold: cold, Hot: hot, Cooled: share}
		_, cov := m.Wanted(&Line{}, &cold, &Cov{})
		in := Input{Given: cold, GivenU: Line{1e-9, 1e-9, 1e-9, 1e-9}, Measured: m}
		var res Result
		Solve(&in, &res)
		dev := res.Found.Offset
		var sum [4][4]float64
		for range n {
			lost := share * rng.NormFloat64()
			d := [4]float64{lost * (hot.DV - cold.DV), lost * (hot.TV - cold.TV), lost * (hot.DH - cold.DH), lost * (hot.TH - cold.TH)}
			for i := range sum {
				for j := range sum[i] {
					sum[i][j] += d[i] * d[j] / n
				}
			}
		}
		for i := range sum {
			for j := range sum[i] {
				if math.Abs(sum[i][j]-cov[i][j]) > 0.04*math.Sqrt(cov[i][i]*cov[j][j]) {
					t.Errorf("from found %v, %d %d: scatter %v, told %v", fromFound, i, j, sum[i][j], cov[i][j])
				}
			}
		}
		if want := 2 * math.Sqrt(sum[0][0]); math.Abs(dev.UV-want) > 0.03*want {
			t.Errorf("from found %v: deviation ± %v, scatter %v", fromFound, dev.UV, want)
		}
	}
}

package calc

import (
	"math"
	"math/rand/v2"

	"testing"
)

// Balance, closure, repeats and their limits by hand, from the readings as a crew would put them side by side: the first reading at each of the four positions, each later one at the same position against
// the first there, the largest of these with its sign, the reading farthest from the first at 12 (without one, from the first reading). The droop is taken off before, and shifts and order of sweeps do nothing.
//
// evidence: calc=checks on a sweep grade=identity count=400 source=(R12 + R6) − (R3 + R9), and repeated less first, put side by side by hand
func TestChecksByHand(t *testing.T) {
	rng := rand.New(rand.NewPCG(16, 40))
	seen := map[string]int{}
	for i := range 400 {
		var angles []float64
		for range 4 + rng.IntN(8) {
			angles = append(angles, []float64{0, 90, 180, 270, 360, -90, 450, 45, 405, 22.5}[rng.IntN(10)])
		}
		if i%2 == 0 {
			angles = append(angles, 0, 90, 180, 270)
		}
		s := Sweep{Model: RimOnMovable, Station: 100, Angle: angles, SagAt6: -0.1 * rng.Float64(), Graduation: 0.01, U: 0.005}
		for range angles {
			s.Reading = append(s.Reading, math.Round(100*(2+0.3*rng.NormFloat64()))/100)
		}
		lim := CheckLimits{}
		shareOf, balances, closures := 0.10, 2.0, 2.0
		if i%3 == 0 {
			shareOf, balances, closures = between(rng, 0.01, 0.3), between(rng, 0.5, 5), between(rng, 0.5, 5)
			lim = CheckLimits{shareOf, balances, closures}
		}
		var w row
		var chk SweepCheck
		st := w.load(&s, nil, &lim, &chk)
		first := map[int]float64{} // by whole eighths of a degree
		twelve, closure, squares, repeats := nan, 0.0, 0.0, 0
		var y []float64
		for k, a := range angles {
			r := s.Reading[k] - s.SagAt6*(1-math.Cos(a*math.Pi/180))/2
			y = append(y, r)
			at := int(math.Round(math.Mod(a+720, 360) * 8))
			f, again := first[at]
			if !again {
				if first[at] = r; at == 0 {
					twelve = r
				}
				continue
			}
			repeats++
			squares += (r - f) * (r - f)
			if repeats == 1 || math.Abs(r-f) > math.Abs(closure)+1e-12 {
				closure = r - f
			}
		}
		if st != OK {
			if len(first) >= 3 {
				t.Fatalf("%v: %v", angles, st)
			}
			continue
		}
		zero := y[0]
		if !math.IsNaN(twelve) {
			zero = twelve
		}
		largest := 0.0
		for _, r := range y {
			largest = max(largest, math.Abs(r-zero))
		}
		close := func(what string, got, want float64) {
			t.Helper()
			if math.IsNaN(want) {
				seen["no "+what]++
			} else {
				seen[what]++
			}
			if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 1e-9 {
				t.Errorf("%v read %v with %g: %s %g, by hand %g", angles, s.Reading, s.SagAt6, what, got, want)
			}
		}
		chk2 := SweepCheck{Balance: nan, BalanceLimit: nan, Closure: nan, ClosureLimit: nan}
		w.load(&s, nil, &lim, &chk2)
		balance := nan
		if r3, ok3 := first[90*8]; ok3 {
			if r6, ok6 := first[180*8]; ok6 {
				if r9, ok9 := first[270*8]; ok9 {
					balance = twelve + r6 - r3 - r9
				}
			}
		}
		close("balance", chk2.Balance, balance)
		close("limit of the balance", chk2.BalanceLimit, max(shareOf*largest, balances*s.Graduation))
		wantClosure, wantLimit := nan, nan
		if repeats > 0 {
			wantClosure, wantLimit = closure, closures*s.Graduation
		}
		if repeats > 0 && math.Abs(math.Abs(chk2.Closure)-math.Abs(closure)) < 1e-9 {
			wantClosure = math.Copysign(wantClosure, chk2.Closure) // two of one size and both signs: either
			if repeats == 1 {
				wantClosure = closure
			}
		}
		close("closure", chk2.Closure, wantClosure)
		close("limit of the closure", chk2.ClosureLimit, wantLimit)
		close("squares", chk2.RepeatSquares, squares)
		if chk2.Repeats != repeats || chk2.Sag != s.SagAt6 {
			t.Errorf("%v: %d repeats, by hand %d; sag %g", angles, chk2.Repeats, repeats, chk2.Sag)
		}
	}
	for _, what := range []string{"balance", "no balance", "closure", "no closure"} {
		if seen[what] < 8 {
			t.Errorf("%s came %d times", what, seen[what])
		}
	}
}

// A check fails past its limit and not at it, says which sweep, closure before balance before scatter; and a row that failed has its line and no corrections.
func TestChecksAtTheirLimit(t *testing.T) {
	line := Line{0.3, 0.5, -0.2, 0.4}
	run := func(angles []float64, change func(in *Input)) Result {
		in := rowInput(reverseSweeps(line, angles))
		change(&in)
		var res Result
		Solve(&in, &res)
		if bad := res.Status != OK; bad && (res.Found.Verdict != NotJudged || !math.IsNaN(res.Found.Share) || len(res.Feet) > 0 || math.IsNaN(res.Line.DV) || math.IsNaN(res.Found.Offset.Total)) {
			t.Errorf("%v, and %+v", res.Status, res)
		}
		return res
	}
	closed, plain := []float64{0, 90, 180, 270, 360}, []float64{0, 90, 180, 270}
	for k := range 2 {
		for _, sign := range []float64{1, -1} {
			for _, c := range []struct {
				by   float64
				want Status
			}{{0.0199, OK}, {0.02, OK}, {0.0201, ClosureFailed}} {
				res := run(closed, func(in *Input) { in.Sweeps[k].Reading[4] += sign * c.by })
				if res.Status != c.want || c.want == OK && res.Sweep != -1 || c.want != OK && res.Sweep != k || math.Abs(res.Checks[k].Closure-sign*c.by) > 1e-12 {
					t.Errorf("closed to %g in sweep %d: %v of sweep %d, %g", sign*c.by, k, res.Status, res.Sweep, res.Checks[k].Closure)
				}
			}
			const limit = 0.04
			for _, c := range []struct {
				by   float64
				want Status
			}{{0.999, OK}, {1, OK}, {1.001, BalanceFailed}} {
				res := run(plain, func(in *Input) {
					in.Checks = CheckLimits{BalanceShare: 1e-9, BalanceGraduation: 4}
					for j, q := range []float64{0, -0.5, 0, -0.5} {
						in.Sweeps[k].Reading[j] += sign * q * c.by * limit
					}
				})
				if res.Status != c.want || c.want != OK && res.Sweep != k {
					t.Errorf("balance of %g limits in sweep %d: %v of sweep %d, %g of %g", c.by, k, res.Status, res.Sweep, res.Checks[k].Balance, res.Checks[k].BalanceLimit)
				}
			}
		}
	}
	// Several at once.
	res := run(closed, func(in *Input) { in.Sweeps[0].Reading[2] += 0.5; in.Sweeps[1].Reading[4] += 0.5 })
	if res.Status != ClosureFailed || res.Sweep != 1 {
		t.Errorf("balance of one and closure of the other: %v of sweep %d", res.Status, res.Sweep)
	}
	res = run(closed, func(in *Input) { in.Sweeps[0].Reading[4] += 0.5; in.Sweeps[1].Reading[4] += 0.5 })
	if res.Status != ClosureFailed || res.Sweep != 0 {
		t.Errorf("closure of both: %v of sweep %d", res.Status, res.Sweep)
	}
	res = run(plain, func(in *Input) { in.Sweeps[0].Reading[2] += 0.5; in.Sweeps[1].Reading[2] += 0.5 })
	if res.Status != BalanceFailed || res.Sweep != 0 {
		t.Errorf("balance of both: %v of sweep %d", res.Status, res.Sweep)
	}
	// The scatter of readings at angles that neither balance nor closure sees: its standard deviation and its limit, half that of the largest balance.
	free := []float64{10, 55, 100, 145, 190, 235, 280, 325}
	bad := run(free, func(in *Input) { in.Sweeps[1].Reading[3] += 0.5 })
	if bad.Status != ResidualFailed || bad.Sweep != -1 || bad.DOF != 10 {
		t.Errorf("a reading off by 0.5: %v of sweep %d, %d to spare", bad.Status, bad.Sweep, bad.DOF)
	}
	rng := rand.New(rand.NewPCG(16, 41))
	for range 40 {
		in := rowInput(reverseSweeps(line, free))
		in.NoMisfit = true
		if rng.IntN(2) == 0 { // unlike weights: each counts by its own
			in.Sweeps[1].U *= 3
		}
		for k := range in.Sweeps {
			for j := range in.Sweeps[k].Reading {
				in.Sweeps[k].Reading[j] += 0.01 * rng.NormFloat64()
			}
		}
		var res Result
		Solve(&in, &res)
		sum, weights, n := 0.0, 0.0, 0
		limit := 0.0
		for k := range in.Sweeps {
			s := &in.Sweeps[k]
			a, b, _ := s.Curve(&res.Line)
			c := s.Constant(a, b)
			zero, largest := s.Reading[0], 0.0
			for j := range s.Reading {
				sin, cos := math.Sincos(s.Angle[j] * math.Pi / 180)
				r := s.Reading[j] - c - a*cos - b*sin
				sum += r * r / (s.U * s.U)
				weights += 1 / (s.U * s.U)
				n++
				largest = max(largest, math.Abs(s.Reading[j]-zero))
			}
			limit = max(limit, 0.05*largest)
		}
		want := math.Sqrt(sum / float64(n-6) / (weights / float64(n)))
		if math.Abs(res.ResidualSD-want) > 1e-9 || math.Abs(res.ResidualLimit-limit) > 1e-9 {
			t.Errorf("scatter %g held to %g, by hand %g to %g", res.ResidualSD, res.ResidualLimit, want, limit)
		}
	}
	exact := run([]float64{0, 120, 240}, func(in *Input) {})
	if exact.DOF != 0 || !math.IsNaN(exact.ResidualSD) || !math.IsNaN(exact.ResidualLimit) || exact.Status != OK {
		t.Errorf("nothing to spare: %d, %g, %g, %v", exact.DOF, exact.ResidualSD, exact.ResidualLimit, exact.Status)
	}
}

// Positions of a clock: directions a millionth apart are one, and it takes three that are not.
func TestPositions(t *testing.T) {
	at := func(degrees ...float64) (u, v []float64) {
		for _, d := range degrees {
			c, s := cosSin(d)
			u, v = append(u, c), append(v, s)
		}
		return u, v
	}
	for _, c := range []struct {
		degrees []float64
		want    int
	}{{nil, 0}, {[]float64{7}, 1}, {[]float64{7, 367, -353}, 1}, {[]float64{7, 8}, 2}, {[]float64{7, 8, 368, 7, 8}, 2}, {[]float64{7, 7, 8, 8, 9}, 3}, {[]float64{0, 90, 180, 270}, 3}, {[]float64{0, 1e-5, 2e-5}, 1}, {[]float64{0, 180, 360}, 2},
		{[]float64{90, -90, 270}, 2}, {[]float64{30, -30, 330}, 2}, {[]float64{30, 150, 30, -30}, 3}} {
		if u, v := at(c.degrees...); distinct(u, v) != c.want {
			t.Errorf("%v: %d positions", c.degrees, distinct(u, v))
		}
	}
	for deg := -720.0; deg <= 720; deg += 15 {
		want := -1
		if math.Mod(deg, 90) == 0 {
			want = int(math.Mod(deg+1440, 360)) / 90
		}
		c, s := cosSin(deg)
		if got := quarter(c, s); got != want {
			t.Errorf("%g°: quarter %d, not %d", deg, got, want)
		}
		if math.Abs(c-math.Cos(deg*math.Pi/180)) > 1e-14 || math.Abs(s-math.Sin(deg*math.Pi/180)) > 1e-14 || want >= 0 && (c*s != 0 || math.Abs(c+s) != 1) {
			t.Errorf("%g°: %g, %g", deg, c, s)
		}
	}
	if c, s := cosSin(-1e-20); c != 1 || s != 0 {
		t.Errorf("next to nothing before 12: %g, %g", c, s)
	}
}

package calc

import (
	"math"
	"math/rand/v2"
	"testing"

	"shimsheet/internal/tables"
)

func nearBy(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.12g, want %.12g within %g", what, got, want, tol)
	}
}

// The worked example: steel tube 25 × 20 mm, 300 mm long, 0.150 kg at the end.
//
// evidence: calc=calculator: droop grade=published count=3 source=Roark's Formulas for Stress and Strain, table 8.1, with its formulas worked out for a steel tube of 25 × 20 mm
func TestDroopExample(t *testing.T) {
	b := Bar{OD: 25, ID: 20, Length: 300, E: 200e3, Density: 7850, Tip: 0.150}
	d, ok := b.Droop()
	if !ok {
		t.Fatal("not ok")
	}
	const tol = 0.5e-6 // mm; three decimals of a micrometre are given
	nearBy(t, "own weight", d.Own, 6.083e-3, tol)
	nearBy(t, "tip", d.Tip, 5.847e-3, tol)
	nearBy(t, "dial at 6", d.DialAtSix, -23.86e-3, 5e-6)
}

// The closed form against the bending line: the curvature M/(E·I) is integrated twice along the bar by Runge–Kutta, the second moment of area over strips
// of the section.
//
// evidence: calc=calculator: droop grade=independent count=200 source=bending line integrated numerically from the bending moment, second moment of area summed over strips of the section
func TestDroopIntegrated(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		b := Bar{OD: 8 + 40*rng.Float64(), Length: 50 + 950*rng.Float64(), E: 5e4 + 2e5*rng.Float64(), Density: 1500 + 7000*rng.Float64(), Tip: rng.Float64()}
		b.ID = b.OD * 0.95 * rng.Float64()
		// ∫ y² · width dy over a disc, y = R sin a, by the trapezoidal rule, exact for a trigonometric polynomial.
		disc := func(r float64) (area, second float64) {
			const n = 64
			for i := range n {
				a := 2 * math.Pi * float64(i) / n
				width, dy, y := 2*r*math.Cos(a), r*math.Cos(a)*(2*math.Pi/n), r*math.Sin(a)
				area += width * dy / 2
				second += y * y * width * dy / 2
			}
			return
		}
		a1, i1 := disc(b.OD / 2)
		a0, i0 := disc(b.ID / 2)
		area, inertia := a1-a0, i1-i0
		w, p := b.Density*1e-9*area*9.80665, b.Tip*9.80665
		curvature := func(x float64) float64 { s := b.Length - x; return (p*s + w*s*s/2) / (b.E * inertia) }
		const steps = 200
		h := b.Length / steps
		y, slope := 0.0, 0.0
		for i := range steps {
			x := h * float64(i)
			k1, k2, k4 := curvature(x), curvature(x+h/2), curvature(x+h)
			y += h*slope + h*h/6*(k1+2*k2)
			slope += h / 6 * (k1 + 4*k2 + k4)
		}
		d, ok := b.Droop()
		if !ok {
			t.Fatal(b)
		}
		nearBy(t, "droop", d.Total, y, 1e-9*y)
		nearBy(t, "inertia", d.Inertia, inertia, 1e-9*inertia)
		nearBy(t, "mass", d.Mass, b.Density*1e-9*area*b.Length, 1e-12)
	}
	for _, b := range []Bar{{}, {OD: 10, ID: 10, Length: 1, E: 1}, {OD: 10, Length: 0, E: 1}, {OD: 10, Length: 1, E: 1, Tip: -1}, {OD: math.NaN(), Length: 1, E: 1}} {
		if d, ok := b.Droop(); ok || !math.IsNaN(d.Total) {
			t.Errorf("%+v gives %v", b, d)
		}
	}
}

// Torque and back, and the scatter: with K a share larger, the same torque gives the low preload.
//
// evidence: calc=calculator: bolt grade=identity count=100 source=torque to preload and back, and the ends of the scatter put back into T = K·d·F
func TestBoltScatter(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 100 {
		k, d, s, f := 0.1+0.2*rng.Float64(), 6+30*rng.Float64(), 0.5*rng.Float64(), 1e5*rng.Float64()
		tq := BoltTorque(f, k, d)
		g, lo, hi := BoltPreload(tq, k, d, s)
		nearBy(t, "preload", g, f, 1e-12*f)
		nearBy(t, "torque at the low end", BoltTorque(lo, k*(1+s), d), tq, 1e-12*tq)
		nearBy(t, "torque at the high end", BoltTorque(hi, k*(1-s), d), tq, 1e-12*tq)
	}
	if f, _, _ := BoltPreload(1, 0.2, 10, 1); !math.IsNaN(f) {
		t.Error("a scatter of 100 % has a preload")
	}
}

// evidence: calc=calculator: growth grade=published count=2 source=ASME BPVC II-D (2001), table TE-1, carbon steel 70 to 200 °F; ASME B31.3 table C-1, 50 to 350 °F by interpolated means (quoted)
func TestGrowth(t *testing.T) {
	// 20 in of steel, 6.7e-6/°F, 70 to 200 °F.
	g := StackGrowth([]Part{{Height: 20 * 25.4, Expansion: 6.7 * 1.8, Rise: 130 / 1.8}})
	nearBy(t, "growth", g/25.4, 0.01742, 1e-12)
	// Means from 70 °F: at 50 °F 6.2 + (6.4 − 6.2)·100/120, at 350 °F halfway between 6.9 and 7.1; the span is both parts from 70 °F.
	a50, a350 := 6.2+0.2*100/120, 7.0
	g = StackGrowth([]Part{{1e6, a350 * 1.8, 280 / 1.8}, {1e6, a50 * 1.8, 20 / 1.8}})
	nearBy(t, "growth", g, 2087.33, 0.005)
}

// evidence: calc=calculator: tir grade=published count=2 source=Karassik et al., Pump Handbook, fig. 19 A–D; Bloch & Geitner, vol. 3, p. 186 (sag of a face-mounted bracket)
func TestHalfDifferences(t *testing.T) {
	// True offset 8 mil, sag 3 mil; raw T 0, B +10, R +5, L +5. The dial shows twice the sag at the bottom.
	v, h, bal := HalfDifferences(0, 5, 10, 5, -6)
	nearBy(t, "V", v, -8, 1e-12)
	nearBy(t, "H", h, 0, 1e-12)
	nearBy(t, "balance", bal, 0, 1e-12)
	// Observed droop −0.004 in, bottom +0.160: corrected +0.168 in, twice the offset.
	v, _, _ = HalfDifferences(0, math.NaN(), 0.160, 0.08, -0.008)
	nearBy(t, "full", -2*v, 0.168, 1e-15)
}

// Any three of four readings give the same as all of them, where they balance.
//
// evidence: calc=calculator: tir grade=identity count=200 source=readings of a shaft off by V and H; any three of the four, and the same line by the least squares
func TestHalfDifferencesOfThree(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	for i := range 200 {
		v, h, c, sag := rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), -rng.Float64()
		r := [4]float64{c + v, c + h + sag/2, c - v + sag, c - h + sag/2}
		full := r
		r[i%4] = math.NaN()
		for _, q := range [][4]float64{r, full} {
			gv, gh, _ := HalfDifferences(q[0], q[1], q[2], q[3], sag)
			nearBy(t, "V", gv, v, 1e-12)
			nearBy(t, "H", gh, h, 1e-12)
		}
	}
}

// Readings expected on a line, given to Solve, lead back to the line.
//
// evidence: calc=calculator: wanted readings grade=identity count=100 source=expected readings of rim, second rim, face, gap and spool solved back to the line by the least squares
func TestExpectedSolvesBack(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for range 100 {
		l := Line{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		in := Input{Given: noLine, GivenU: noLine, Length: nan, Limits: Limits{nan, nan}}
		for _, s := range []Sweep{
			{Model: RimOnMovable, Station: 100 * rng.Float64(), SagAt6: -rng.Float64()},
			{Model: RimOnStationary, Station: -100 * rng.Float64(), SagAt6: -rng.Float64()},
			{Model: FaceFront, Diameter: 100 + 100*rng.Float64(), SagAt6: rng.Float64()},
			{Model: GapBetween, Diameter: 100 + 100*rng.Float64()},
			{Model: SpoolOnMovable, Diameter: 100, Length: 500},
		} {
			s.Angle = []float64{0, 90, 180, 270}
			s.U, s.Graduation = 0.01, 0.01
			var ok bool
			if s.Reading, ok = Expected(&s, &l, nil); !ok || s.Reading[0] != 0 {
				t.Fatal(s)
			}
			in.Sweeps = append(in.Sweeps, s)
		}
		var res Result
		Solve(&in, &res)
		if res.Status != NoLimit {
			t.Fatal(res.Status)
		}
		nearBy(t, "DV", res.Line.DV, l.DV, 1e-9)
		nearBy(t, "TV", res.Line.TV, l.TV, 1e-9)
		nearBy(t, "DH", res.Line.DH, l.DH, 1e-9)
		nearBy(t, "TH", res.Line.TH, l.TH, 1e-9)
	}
	if _, ok := Expected(&Sweep{Model: FaceFront}, &Line{}, nil); ok {
		t.Error("a face without a diameter")
	}
}

// The angles against Solve's, and the allowed offset against a search over its direction.
//
// evidence: calc=calculator: flex grade=independent count=100 source=largest offset found by trying 720 directions; the angles as the judgement of a spacer coupling has them
// evidence: calc=calculator: flex grade=published count=1 source=C. Jackson, Alignment by Proximity Probes, p. 50: half a thousandth of an inch per inch between flex planes
func TestFlex(t *testing.T) {
	nearBy(t, "allowed", FlexOffset(0, 20*25.4, 0.5), 10*0.0254, 1e-12) // 20 in: 10 mil
	rng := rand.New(rand.NewPCG(9, 10))
	for range 100 {
		l := Line{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		length := 100 + 900*rng.Float64()
		a := Flex(&l, length)
		var res Result
		Solve(&Input{Given: l, GivenU: Line{.01, .01, .01, .01}, Coupling: tables.Spacer, Length: length, Limits: Limits{nan, 1}}, &res)
		nearBy(t, "S", a.S, res.Found.FlexS.Total, 1e-9)
		nearBy(t, "M", a.M, res.Found.FlexM.Total, 1e-9)
		nearBy(t, "SV", a.SV, res.Found.FlexS.V, 1e-9)
		nearBy(t, "MH", a.MH, res.Found.FlexM.H, 1e-9)

		slope, allowed := math.Hypot(l.TV, l.TH), 0.1+2*rng.Float64()
		off := FlexOffset(slope, length, allowed)
		if slope/2 > allowed {
			if !math.IsNaN(off) {
				t.Errorf("slope %g allows %g", slope, off)
			}
			continue
		}
		worst := 0.0
		for i := range 720 {
			dir := math.Atan2(l.TH, l.TV) + float64(i)*math.Pi/360
			m := Line{off * math.Cos(dir), l.TV, off * math.Sin(dir), l.TH}
			x := Flex(&m, length)
			worst = max(worst, x.S, x.M)
		}
		nearBy(t, "worst", worst, allowed, 1e-9)
	}
	if a := Flex(&Line{}, 0); !math.IsNaN(a.S) {
		t.Error("a spacer without a length")
	}
}

// evidence: calc=calculator: uncertainty grade=independent count=1 source=variance of a number rounded to the nearest division, summed over 100,000 evenly spread values (JCGM 100:2008, 4.3.7)
func TestReadingU(t *testing.T) {
	const n, g = 100_000, 0.01
	sum := 0.0
	for i := range n {
		x := g * 10 * (float64(i) + 0.5) / n
		e := x - g*math.Round(x/g)
		sum += e * e
	}
	nearBy(t, "u", ReadingU(g, 0), math.Sqrt(sum/n), 1e-9)
	nearBy(t, "u", ReadingU(g, 0.003), math.Sqrt(sum/n+0.003*0.003), 1e-9)
}

// What a shim does is the line through two points.
//
// evidence: calc=calculator: tilt grade=identity count=100 source=straight line through the heights at front and rear feet
func TestShimTilt(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for i := range 100 {
		s, span, a := rng.NormFloat64(), 100+1000*rng.Float64(), 500*rng.Float64()
		rear := i%2 == 0
		front, back := s, 0.0
		if rear {
			front, back = 0, s
		}
		slope := (back - front) / span
		got := ShimTilt(s, span, a, rear)
		nearBy(t, "slope", got.Slope, 1000*slope, 1e-12)
		nearBy(t, "rise", got.Rise, front-slope*a, 1e-12)
		nearBy(t, "degrees", math.Tan(got.Degrees*math.Pi/180), slope, 1e-12)
	}
}

// The number of readings against trying one after the other.
//
// evidence: calc=calculator: repeats grade=independent count=1000 source=every number of readings tried one after the other
func TestRepeats(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	found := 0
	for i := range 1000 {
		limit, u, shared, k := 1.0, 0.2*rng.Float64(), 0.05*rng.Float64(), 1+2*rng.Float64()
		value := 0.7 + 0.35*rng.Float64()
		b := Bound(i % 2)
		if b == AtLeast {
			value, limit = -value, -limit
		}
		want := 0
		for n := 1; n <= 3000 && want == 0; n++ {
			r := k * math.Sqrt(shared*shared+u*u/float64(n))
			if b == AtMost && value+r <= limit || b == AtLeast && value-r >= limit {
				want = n
			}
		}
		n, ok := Repeats(value, limit, u, shared, k, b)
		switch {
		case want > 0:
			found++
			if n != want || !ok {
				t.Errorf("%g to %g, u %g, shared %g, k %g: %d %v, want %d", value, limit, u, shared, k, n, ok, want)
			}
		case ok && n <= 3000:
			t.Errorf("%g to %g, u %g, shared %g, k %g: %d, want none up to 3000", value, limit, u, shared, k, n)
		case (math.Abs(value) > math.Abs(limit) || k*shared > math.Abs(limit-value)) && ok:
			t.Errorf("%g to %g with shared %g can never be, got %d", value, limit, shared, n)
		}
	}
	if found < 300 {
		t.Errorf("only %d cases with an answer", found)
	}
	// Ties: a room of exactly 2u/√4 is enough for four readings; a value at the limit never is, unless nothing is uncertain.
	if n, ok := Repeats(0.9, 1, 0.1, 0, 2, AtMost); n != 4 || !ok {
		t.Error(n, ok)
	}
	if _, ok := Repeats(1, 1, 0.1, 0, 2, AtMost); ok {
		t.Error("at the limit")
	}
	if n, ok := Repeats(1, 1, 0, 0, 2, AtMost); n != 1 || !ok {
		t.Error(n, ok)
	}
	for _, bad := range [][5]float64{{nan, 1, 1, 1, 2}, {1, nan, 1, 0, 2}, {0, 1, -1, 0, 2}, {0, 1, 1, 0, 0}, {math.Inf(-1), 1, 1, 0, 2}} {
		if n, ok := Repeats(bad[0], bad[1], bad[2], bad[3], bad[4], AtMost); ok {
			t.Errorf("%v gives %d", bad, n)
		}
	}
}

// evidence: calc=calculator: chance grade=published count=2 source=JCGM 106:2012, 7.2.2, both examples (from memory, recomputed)
// evidence: calc=calculator: chance grade=published count=2 source=ILAC-G8:09/2019, 4.2.3: false accept 2.3 % with w = U, 5 % with w = 0.822 U
func TestChanceInside(t *testing.T) {
	nearBy(t, "chance", ChanceInside(-5.47, -5.40, 0.05, AtMost), 0.919, 0.0005)
	nearBy(t, "chance", ChanceInside(509.7, 490, 8.6, AtLeast), 0.989, 0.0005)
	nearBy(t, "false accept", 1-ChanceInside(1-2*0.1, 1, 0.1, AtMost), 0.023, 0.0005)
	nearBy(t, "false accept", 1-ChanceInside(1-0.822*2*0.1, 1, 0.1, AtMost), 0.05, 0.0005)
	if ChanceInside(1, 1, 0, AtMost) != 1 || ChanceInside(1.1, 1, 0, AtMost) != 0 || ChanceInside(1.1, 1, 0, AtLeast) != 1 || !math.IsNaN(ChanceInside(1, 1, -1, AtMost)) {
		t.Error("without uncertainty")
	}
	for _, c := range []struct {
		value, u float64
		want     Verdict
	}{{0.7, 0.2, Inside}, {0.8, 0.2, Inside}, {0.81, 0.2, TooClose}, {1, 0.2, TooClose}, {1.2, 0.1, Outside}, {1.1, 0.2, TooClose}, {1, 0, Inside}, {nan, 0, NotJudged}} {
		if v := Judge(c.value, 1, c.u, AtMost); v != c.want {
			t.Errorf("%g ± %g against 1 is %v, want %v", c.value, c.u, v, c.want)
		}
		if v := Judge(-c.value, -1, c.u, AtLeast); v != c.want {
			t.Errorf("−%g ± %g against −1 is %v, want %v", c.value, c.u, v, c.want)
		}
	}
}

// evidence: calc=calculator: speed grade=published count=8 source=synchronous speeds at 50 and 60 Hz by n = 120 f/p, as NEMA MG 1 and IEC 60034-1 list them (from memory)
func TestSpeeds(t *testing.T) {
	for _, c := range [][3]float64{{50, 2, 3000}, {50, 4, 1500}, {50, 6, 1000}, {50, 8, 750}, {60, 2, 3600}, {60, 4, 1800}, {60, 6, 1200}, {60, 8, 900}} {
		nearBy(t, "speed", Synchronous(c[0], int(c[1])), c[2], 1e-12)
		for _, slip := range []float64{0, 0.005, 0.05} {
			if p := Poles(c[0], c[2]*(1-slip)); p != int(c[1]) {
				t.Errorf("%g rpm at %g Hz has %d poles, want %g", c[2]*(1-slip), c[0], p, c[1])
			}
		}
	}
	if Poles(50, 3100) != 0 || Poles(50, 0) != 0 || Poles(nan, 1) != 0 || !math.IsNaN(Synchronous(50, 3)) || !math.IsNaN(Synchronous(0, 2)) {
		t.Error("speeds that cannot be")
	}
}

package moves

import (
	"fmt"
	"math"
	"testing"
)

var none = math.NaN()

func open() [planes][2]float64 { return [planes][2]float64{{none, none}, {none, none}} }

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.12g, want %.12g", what, got, want)
	}
}

// gearTrain is the worked train: motor (0), gear (1), pump (2), the gear between them. Row 2 is seen from the other end; its line is turned into the frame here.
func gearTrain() *Train {
	return &Train{
		Machines: []Machine{
			{May: true, Effort: 1, Pairs: []Pair{{300, open()}, {1500, open()}}},
			{Effort: 1, Pairs: []Pair{{-300, open()}, {-900, open()}}},
			{May: true, Effort: 1, Pairs: []Pair{{-1500, open()}, {-2100, open()}}},
		},
		Couplings: []Coupling{
			{A: 1, B: 0, X: 0, Off: [planes]Part{{0.30, 0.10}, {-0.10, 0.20}}, Judged: []Vector{{1, 0, 0.1}, {0, 1, 0.5}}},
			{A: 1, B: 2, X: -1300, Off: [planes]Part{{0.10, 0.50}, {-0.30, 0.10}}, Judged: []Vector{{1, 0, 0.1}, {0, 1, 0.5}}},
		},
	}
}

// noDown takes away what the motor could give up.
func noDown(t *Train) *Train {
	for k := range t.Machines[0].Pairs {
		t.Machines[0].Pairs[k].Room[V][0] = 0
	}
	return t
}

func expect(t *testing.T, p *Plan, plane int, want map[[2]int]float64) {
	t.Helper()
	if p.Status != Possible {
		t.Fatalf("%v %+v", p.Status, p.Short)
	}
	for k, w := range want {
		near(t, fmt.Sprintf("move of %v in plane %d", k, plane), p.Moves[k[0]][k[1]][plane], w, 1e-9)
	}
}

//evidence: calc=moves of a train grade=independent count=40 source=worked example with dials simulated in space

// The worked train: what stays, what is base-bound, what the gear takes over, and a share of the limits.
func TestGearTrain(t *testing.T) {
	sideways := map[[2]int]float64{{0, 0}: 0.04, {0, 1}: -0.20, {1, 0}: 0, {1, 1}: 0, {2, 0}: 0.32, {2, 1}: 0.38}
	p := Solve(gearTrain(), none)
	expect(t, &p, V, map[[2]int]float64{{0, 0}: -0.33, {0, 1}: -0.45, {1, 0}: 0, {1, 1}: 0, {2, 0}: 0, {2, 1}: 0.30})
	expect(t, &p, H, sideways)
	near(t, "largest", p.Largest, 0.45, 1e-9)
	near(t, "total", p.Total, 1.08+0.94, 1e-9)

	p = Solve(noDown(gearTrain()), none)
	if p.Status != Impossible || len(p.Short) != 2 || p.Moves != nil || !math.IsNaN(p.Largest) {
		t.Fatalf("%+v", p)
	}
	for k, want := range []float64{0.33, 0.45} {
		s := p.Short[k]
		if s.Machine != 0 || s.Pair != k || s.Plane != V || s.Plus || s.Fixed {
			t.Errorf("%+v", s)
		}
		near(t, "missing", s.Missing, want, 1e-9)
	}

	keyed := noDown(gearTrain())
	keyed.Machines[1].May = true
	for k := range 2 {
		keyed.Machines[1].Pairs[k].Room[H] = [2]float64{0, 0}
	}
	p = Solve(keyed, none)
	expect(t, &p, V, map[[2]int]float64{{0, 0}: 0, {0, 1}: 0.18, {1, 0}: 0.18, {1, 1}: 0.03, {2, 0}: -0.12, {2, 1}: 0.03})
	expect(t, &p, H, sideways)
	near(t, "largest", p.Largest, 0.38, 1e-9)
	near(t, "total", p.Total, 1.48, 1e-8)

	p = Solve(keyed, 0.6)
	expect(t, &p, H, map[[2]int]float64{{2, 0}: 0.20, {2, 1}: 0.08})
	near(t, "largest", p.Largest, 0.2, 1e-9)
	for _, k := range [...]int{0, 1} {
		pump := keyed.Machines[2].Line(p.Moves[2], V, -1300)
		gear := keyed.Machines[1].Line(p.Moves[1], V, -1300)
		off := Part{0.10 + pump.Offset - gear.Offset, 0.50 + pump.Slope - gear.Slope}
		near(t, "V of the second coupling", [2]float64{off.Offset, off.Slope}[k], 0, 1e-4) // at the end of the circle's H axis V may be √(2·1e-9)
	}
}

// Published: the book's machine to be moved comes to the line by itself.
//
// evidence: calc=moves of a train grade=published count=3 source=H. P. Bloch & F. K. Geitner, Machinery Component Maintenance and Repair (Gulf), ch. 5 p. 203, fig. 5-21
// evidence: calc=moves of a train grade=identity count=4 source=both feet would have to go down and nothing lies there: the other machine goes up instead (the case of T. B. Harlon, A Millwright's Guide to Motor/Pump Alignment, ch. 67, at distances of our own)
func TestTwoMachines(t *testing.T) {
	const inch = 25.4
	// Planes 14 in apart, the second 12 in before the near feet, 26 in to the far ones; 12 and 7 thousandths high there; sideways 1.5 and 18.5 to opposite sides.
	tr := Train{Machines: []Machine{{Effort: 1}, {May: true, Effort: 1, Pairs: []Pair{{26 * inch, open()}, {52 * inch, open()}}}}}
	line := func(s, a float64) Part { return Part{s * inch / 1000, (a - s) / 14} }
	tr.Couplings = []Coupling{{A: 0, B: 1, Off: [planes]Part{line(12, 7), line(1.5, -18.5)}}}
	p := Solve(&tr, none)
	near(t, "inboard", p.Moves[1][0][V]/inch*1000, -2.714285714, 1e-8)
	near(t, "outboard", p.Moves[1][1][V]/inch*1000, 6.571428571, 1e-8)
	near(t, "inboard sideways", p.Moves[1][0][H]/inch*1000, 35.642857143, 1e-8)

	// Base-bound: the feet ask for −15 and −35 thousandths and nothing lies there, so the machine cannot; with the other one moving it can, and it goes up.
	const x0, x1 = 10 * inch, 30 * inch
	base := Part{(15 - 10) * inch / 1000, 1.0} // 5 thousandths at the coupling and 1 more each inch
	tr = Train{Machines: []Machine{{Effort: 1, Pairs: []Pair{{-10 * inch, open()}, {-30 * inch, open()}}}, {May: true, Effort: 1, Pairs: []Pair{{x0, open()}, {x1, open()}}}},
		Couplings: []Coupling{{A: 0, B: 1, Off: [planes]Part{base, {}}}}}
	for k := range 2 {
		tr.Machines[1].Pairs[k].Room[V][0] = 0
	}
	p = Solve(&tr, none)
	if p.Status != Impossible || len(p.Short) != 2 {
		t.Fatalf("%+v", p)
	}
	near(t, "near", p.Short[0].Missing/inch*1000, 15, 1e-8)
	near(t, "far", p.Short[1].Missing/inch*1000, 35, 1e-8)
	tr.Machines[0].May = true
	if p = Solve(&tr, none); p.Status != Possible || p.Moves[1][0][V] < -1e-9 || p.Moves[1][1][V] < -1e-9 || p.Largest > 35*inch/1000 {
		t.Fatalf("%+v", p)
	}
}

// Two machines that stay and do not agree: no room helps, so one that stays is named, and moved by that much a plan is there.
func TestFixedNamed(t *testing.T) {
	tr := gearTrain()
	tr.Machines[2].May = false
	p := Solve(tr, none)
	if p.Status != Impossible || len(p.Short) == 0 {
		t.Fatalf("%+v", p)
	}
	for _, s := range p.Short {
		if !s.Fixed {
			t.Errorf("%+v", s)
		}
		tr.Machines[s.Machine].May = true
	}
	for i := range tr.Machines {
		for k := range tr.Machines[i].Pairs {
			if i > 0 && tr.Machines[i].May {
				tr.Machines[i].Pairs[k].Room = [planes][2]float64{}
			}
		}
	}
	for _, s := range p.Short {
		tr.Machines[s.Machine].Pairs[s.Pair].Room[s.Plane][map[bool]int{true: 1}[s.Plus]] = s.Missing
	}
	if q := Solve(tr, none); q.Status != Possible {
		t.Errorf("moved by what is missing: %v", q.Status)
	}
	// Nobody who stays has feet: nothing to name.
	tr = gearTrain()
	tr.Machines[0].May, tr.Machines[2].May = false, false
	for i := range tr.Machines {
		tr.Machines[i].Pairs = nil
	}
	if p = Solve(tr, none); p.Status != Impossible || len(p.Short) != 0 {
		t.Errorf("%+v", p)
	}
}

// Nothing to do, rooms of nothing, rooms without end, a machine that costs a thousand times as much: an answer each, and never a number that is none.
func TestEdges(t *testing.T) {
	still := gearTrain()
	for i := range still.Couplings {
		still.Couplings[i].Off = [planes]Part{}
	}
	for _, share := range []float64{none, 1} {
		if p := Solve(still, share); p.Status != Possible || p.Largest != 0 || p.Total != 0 {
			t.Errorf("%+v", p)
		}
	}
	for i := range still.Machines {
		for k := range still.Machines[i].Pairs {
			still.Machines[i].Pairs[k].Room = [planes][2]float64{}
		}
	}
	if p := Solve(still, none); p.Status != Possible || p.Largest != 0 {
		t.Errorf("%+v", p)
	}
	wide := gearTrain()
	for k := range 2 {
		wide.Machines[0].Pairs[k].Room = [planes][2]float64{{1e300, 1e9}, {math.Inf(1), 5e5}}
	}
	if p := Solve(wide, none); p.Status != Possible || math.Abs(p.Largest-0.45) > 1e-9 {
		t.Errorf("%+v", p)
	}
	dear := gearTrain()
	for i := range dear.Machines {
		dear.Machines[i].May = true
	}
	dear.Machines[0].Effort = 1000
	p := Solve(dear, none)
	if p.Status != Possible || math.Abs(p.Moves[0][0][V]) > 0.01 || math.Abs(p.Moves[0][1][V]) > 0.01 {
		t.Errorf("%+v", p)
	}
	tight := gearTrain() // exactly what it takes
	tight.Machines[0].Pairs[0].Room[V][0], tight.Machines[0].Pairs[1].Room[V][0] = 0.33, 0.45
	if p := Solve(tight, none); p.Status != Possible {
		t.Errorf("%+v", p)
	}
	tight.Machines[0].Pairs[1].Room[V][0] = 0.45 - 1e-6
	if p := Solve(tight, none); p.Status != Impossible || len(p.Short) != 1 || math.Abs(p.Short[0].Missing-1e-6) > 1e-9 {
		t.Errorf("%+v", p)
	}
	zero := gearTrain() // no share at all is the wanted line
	if p := Solve(zero, 0); p.Status != Possible || math.Abs(p.Largest-0.45) > 1e-6 {
		t.Errorf("%+v", p)
	}
}

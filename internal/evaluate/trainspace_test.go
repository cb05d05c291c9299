package evaluate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// A model of the workshop that knows no correction formula: shafts as lines in space, plungers as rays onto round hubs. World: x along the train, h to one side, v up; h × v = x.

type spaceVec [3]float64

func (a spaceVec) plus(b spaceVec, k float64) spaceVec {
	return spaceVec{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]}
}

func (a spaceVec) dot(b spaceVec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func (a spaceVec) unit() spaceVec { return spaceVec{}.plus(a, 1/math.Sqrt(a.dot(a))) }

func (a spaceVec) cross(b spaceVec) spaceVec {
	return spaceVec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// A spaceMachine is a shaft, which goes through a and b over its feet.
type spaceMachine struct {
	name string
	a, b spaceVec
	feet [2]float64 // their x
}

// axis is the shaft in a frame whose x begins at x0 and runs along the world's, or against it where s is −1: its point at x = 0, and its direction.
func (m *spaceMachine) axis(x0, s float64) (o, ex spaceVec) {
	turn := func(p spaceVec) spaceVec { return spaceVec{s * (p[0] - x0), s * p[1], p[2]} }
	a, b := turn(m.a), turn(m.b)
	ex = b.plus(a, -1).unit()
	if ex[0] < 0 {
		ex = spaceVec{}.plus(ex, -1)
	}
	return a.plus(ex, -a[0]/ex[0]), ex
}

// rim is what a dial on the carrier's shaft shows on a round hub of the other at a station, at 12, 3, 6 and 9, zeroed at 12.
func rim(carrier, target *spaceMachine, x0, s, station float64) (r [4]float64) {
	const radius, clear = 120, 20
	o, ex := carrier.axis(x0, s)
	c, along := target.axis(x0, s)
	up := spaceVec{0, 0, 1}
	ev := up.plus(ex, -up.dot(ex)).unit()
	eh := ev.cross(ex)
	for k := range r {
		sin, cos := math.Sincos(float64(k) * math.Pi / 2)
		out := spaceVec{}.plus(ev, cos).plus(eh, sin)
		from := o.plus(ex, station).plus(out, radius+clear)
		w, d := from.plus(c, -1), spaceVec{}.plus(out, -1)
		w, d = w.plus(along, -w.dot(along)), d.plus(along, -d.dot(along))
		p, q := w.dot(d), d.dot(d)
		r[k] = (p + math.Sqrt(p*p-q*(w.dot(w)-radius*radius))) / q // less the way to the hub
		if k > 0 {
			r[k] -= r[0]
		}
	}
	r[0] = 0
	return r
}

//evidence: calc=moves of a train grade=independent count=40 source=rigid shafts in space with dials as rays: read, planned, moved at their feet as planned, and read again

// Random trains are read in space, the plan is done to the shafts there, and every dial of every coupling stands still after it, whichever machine is Stationary and whichever row comes first.
func TestTrainInSpace(t *testing.T) {
	r := rand.New(rand.NewPCG(18, 18))
	most := 0.0
	for n := range 40 {
		count := 2 + r.IntN(4)
		pivot := r.IntN(count) // stands still, and is never under Machine
		type row struct {
			machine, stationary *spaceMachine
			x0, s, planes       float64
		}
		var machines []*spaceMachine
		var rows []row
		x := 0.0
		for i := range count {
			m := &spaceMachine{name: string(rune('A' + i))}
			x += 150 + 300*r.Float64()
			m.feet[0] = x
			x += 300 + 900*r.Float64()
			m.feet[1] = x
			at := func(x float64) spaceVec { return spaceVec{x, 0.25 * r.NormFloat64(), 0.25 * r.NormFloat64()} }
			m.a, m.b = at(m.feet[0]), at(m.feet[1])
			x += 150 + 300*r.Float64()
			machines = append(machines, m)
			switch planes := 60 + 60*r.Float64(); {
			case i == 0:
			case i <= pivot:
				rows = append(rows, row{machines[i-1], m, m.feet[0] - 140, -1, planes})
			default:
				rows = append(rows, row{m, machines[i-1], m.feet[0] - 140, 1, planes})
			}
		}
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		read := func(w *row) []float64 {
			mov, sta := rim(w.stationary, w.machine, w.x0, w.s, w.planes), rim(w.machine, w.stationary, w.x0, w.s, -w.planes)
			return append(mov[:], sta[:]...)
		}
		var text strings.Builder
		text.WriteString(trainHeader + "\n")
		for i := range rows {
			w := &rows[i]
			near := func(m *spaceMachine, s float64) (near, far float64) {
				a, b := s*(m.feet[0]-w.x0), s*(m.feet[1]-w.x0)
				return min(a, b), max(a, b)
			}
			front, rear := near(w.machine, w.s)
			first, last := near(w.stationary, -w.s)
			fmt.Fprintf(&text, "T,%s,%s,%.6f,%.6f,%.6f,%.6f,%.6f,%.6f,5,9", w.machine.name, w.stationary.name, w.planes, w.planes, front, rear-front, first, last)
			for _, v := range read(w) {
				fmt.Fprintf(&text, ",%.9f", v)
			}
			text.WriteString("\n")
		}
		theJob := list(t, text.String())
		if n%2 == 1 { // the one that stood still may move as well
			theJob = with(t, theJob, job.TrainsSheet, "Train,Machine,May move\nT,"+machines[pivot].name+",yes\n")
		}
		_, d := oneTrain(t, theJob)
		if d.Status != "possible" {
			t.Fatalf("train %d: %s %s\n%s", n, d.Status, d.Why, &text)
		}
		byName := map[string]*spaceMachine{}
		for _, m := range machines {
			byName[m.name] = m
		}
		for _, f := range d.Feet { // in the frame of the first row
			m, at := byName[f.Machine], rows[0].x0+rows[0].s*f.Station
			p := &m.a
			if math.Abs(at-m.feet[1]) < 1e-3 {
				p = &m.b
			} else if math.Abs(at-m.feet[0]) > 1e-3 {
				t.Fatalf("train %d: %s %s stands at %g", n, f.Machine, f.Foot, at)
			}
			*p = p.plus(spaceVec{0, rows[0].s * f.Move, f.Shim}, 1)
		}
		for i := range rows {
			for k, v := range read(&rows[i]) {
				most = max(most, math.Abs(v))
				if !(math.Abs(v) < 2e-4) { // what is square in the offsets falls out of a full turn
					t.Errorf("train %d of %d machines, %s on %s: after the moves dial %d still shows %.4f at %d\n%s", n, count, rows[i].machine.name, rows[i].stationary.name, k/4, v, k%4*3, &text)
				}
			}
		}
		if t.Failed() {
			return
		}
	}
	t.Logf("the most a dial still shows is %.4f mm", most)
}

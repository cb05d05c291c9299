package calc

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"runtime"
	"testing"

	"shimsheet/internal/tables"
)

// This file is a model of the workshop, not of the calculation: solids in space, a plunger that is a ray, and nothing that knows
// a correction formula. It is the oracle for every sign in the package.
//
// Coordinates are x along the stationary shaft towards the movable machine, h towards 3 o'clock and v up, in mm; h × v = x, so the
// frame is right-handed and turning from 12 towards 3 is a turn by −φ about x.

type vec3 [3]float64

func (a vec3) add(b vec3) vec3    { return vec3{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec3) sub(b vec3) vec3    { return vec3{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec3) mul(k float64) vec3 { return vec3{k * a[0], k * a[1], k * a[2]} }
func (a vec3) dot(b vec3) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec3) unit() vec3         { return a.mul(1 / math.Sqrt(a.dot(a))) }
func (a vec3) cross(b vec3) vec3 {
	return vec3{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func (a vec3) turn(ax vec3, w float64) vec3 { // Rodrigues, right-hand about the unit vector ax
	s, c := math.Sincos(w)
	return a.mul(c).add(ax.cross(a).mul(s)).add(ax.mul(ax.dot(a) * (1 - c)))
}

var up = vec3{0, 0, 1}

// A body turns about its own ex. eh and ev are its marks that stand at 3 and 12 o'clock when φ is 0.
type body struct{ o, ex, eh, ev vec3 }

func newBody(o, axis vec3) body {
	ex := axis.unit()
	ev := up.sub(ex.mul(up.dot(ex))).unit()
	return body{o, ex, ev.cross(ex), ev}
}

func (b body) turned(phi float64) body {
	return body{b.o, b.ex, b.eh.turn(b.ex, -phi), b.ev.turn(b.ex, -phi)}
}
func (b body) vec(p vec3) vec3   { return b.ex.mul(p[0]).add(b.eh.mul(p[1])).add(b.ev.mul(p[2])) }
func (b body) point(p vec3) vec3 { return b.o.add(b.vec(p)) }

// A hub is bored off centre and askew, and its faces are not square: all in the coordinates of its shaft, so it turns with it.
type hub struct {
	radius      float64
	centre      vec3 // a point of the cylinder's axis
	axis        vec3
	front, back plane
}
type plane struct{ p, n vec3 }

// rayPlane returns how far along the unit direction d from b the plane is.
func rayPlane(b, d, p, n vec3) float64 { return p.sub(b).dot(n) / d.dot(n) }

// rayCylinder returns how far along d from b the near side of a cylinder is.
func rayCylinder(b, d, c, axis vec3, r float64) float64 {
	axis = axis.unit()
	w := b.sub(c)
	w = w.sub(axis.mul(w.dot(axis)))
	e := d.sub(axis.mul(d.dot(axis)))
	a, h, k := e.dot(e), w.dot(e), w.dot(w)-r*r
	return (-h - math.Sqrt(h*h-a*k)) / a
}

// A dial is one indicator as it is set up.
type dial struct {
	sweep  Sweep
	onMov  bool    // faces only: the plunger rides on the movable hub
	zero   float64 // where its pointer happened to be set
	past   float64 // the plunger aims past the shaft's centre by this much
	droop  float64 // the bracket's end hangs lower by this, whatever the position
	tilt   float64 // faces: the bracket's end tilts by this in the vertical plane, about a bar at radius barAt
	barAt  float64
	second float64 // bound of what the linear model leaves out, mm; see secondOrder
}

// A rig is two machines at a coupling.
type rig struct {
	line     Line // truth
	sta, mov body
	hs, hm   hub
}

func (r *rig) place(l Line) {
	r.line = l
	r.sta = newBody(vec3{}, vec3{1, 0, 0})
	r.mov = newBody(vec3{0, l.DH, l.DV}, vec3{1, l.TH / 1000, l.TV / 1000})
}

// read turns both shafts together by phi degrees and reads the dial (or the gauge).
func (r *rig) read(d *dial, deg float64) float64 {
	phi := deg * math.Pi / 180
	s, m := r.sta.turned(phi), r.mov.turned(phi)
	rim := func(carrier, target body, h hub, station float64) float64 {
		const clear = 20
		b := carrier.point(vec3{station, d.past, h.radius + clear}).sub(up.mul(d.droop))
		return d.zero - rayCylinder(b, carrier.ev.mul(-1), target.point(h.centre), target.vec(h.axis), h.radius)
	}
	face := func(carrier, target body, pl plane, from, dir float64) float64 {
		b := carrier.point(vec3{from, 0, d.sweep.Diameter / 2})
		ray := carrier.ex.mul(dir)
		if d.tilt != 0 { // the bracket's end turns about a horizontal line across the bar
			bar := carrier.point(vec3{from, 0, d.barAt})
			across := vec3{0, 1, 0}
			b = bar.add(b.sub(bar).turn(across, d.tilt))
			ray = ray.turn(across, d.tilt)
		}
		return d.zero - rayPlane(b, ray, target.point(pl.p), target.vec(pl.n))
	}
	const off = 15 // dial body to face
	switch d.sweep.Model {
	case RimOnMovable:
		return rim(s, m, r.hm, d.sweep.Station)
	case RimOnStationary:
		return rim(m, s, r.hs, d.sweep.Station)
	case FaceFront:
		if d.onMov {
			return face(s, m, r.hm.front, r.hm.front.p[0]-off, 1)
		}
		return face(m, s, r.hs.front, r.hs.front.p[0]+off, -1)
	case FaceBack:
		if d.onMov {
			return face(s, m, r.hm.back, r.hm.back.p[0]+off, -1)
		}
		return face(m, s, r.hs.back, r.hs.back.p[0]-off, 1)
	case GapBetween: // between the two faces that look at each other, square to the stationary one
		n := s.vec(r.hs.front.n).unit()
		a := s.point(vec3{r.hs.front.p[0] - 1, 0, d.sweep.Diameter / 2})
		a = a.add(s.ex.mul(rayPlane(a, s.ex, s.point(r.hs.front.p), n)))
		return rayPlane(a, n, m.point(r.hm.front.p), m.vec(r.hm.front.n))
	case StepAtRim: // a straight line along the stationary rim, reaching over the movable one
		a := s.point(vec3{-3, 0, r.hs.radius + 20})
		axis := s.vec(r.hs.axis).unit()
		down := s.ev.mul(-1)
		a = a.add(down.mul(rayCylinder(a, down, s.point(r.hs.centre), axis, r.hs.radius)))
		a = a.add(axis.mul((d.sweep.Station + 3) / axis.dot(s.ex)))
		const above = 10
		return above - rayCylinder(a.sub(down.mul(above)), down, m.point(r.hm.centre), m.vec(r.hm.axis), r.hm.radius)
	}
	p := r.spool(d.sweep.Length).turned(phi)
	fromS, fromM := 0.0, d.sweep.Length // along the spool, from its end on the stationary shaft
	switch d.sweep.Model {
	case SpoolOnMovable:
		return face(p, m, r.hm.front, fromM-off, 1)
	case SpoolOnMovableBack:
		return face(p, m, r.hm.back, fromM+r.hm.back.p[0]-d.sweep.Length/2+off, -1)
	case SpoolOnStationary:
		return face(p, s, r.hs.front, fromS+off, -1)
	case SpoolOnStationaryBack:
		return face(p, s, r.hs.back, fromS+r.hs.back.p[0]+d.sweep.Length/2-off, 1)
	}
	panic("unknown model")
}

// spool is a spacer whose ends sit on the axes, at −L/2 on the stationary and L/2 on the movable shaft.
func (r *rig) spool(length float64) body {
	a, b := r.sta.point(vec3{-length / 2, 0, 0}), r.mov.point(vec3{length / 2, 0, 0})
	return newBody(a, b.sub(a))
}

// sagAt6 is what the dial shows at 6 on a straight stiff pipe when it was zeroed at 12: the sag test, simulated.
func (r *rig) sagAt6(d *dial) float64 {
	pipe := *r
	pipe.place(Line{})
	return pipe.read(d, 180) - pipe.read(d, 0)
}

// secondOrder bounds, in mm, how far a reading of the solids may stray from any linear model of the line.
//
// With O the distance between the axes at the plunger, T the slope between them, e and q the eccentricity of the hub and of the
// plunger, g the droop, t how far faces and bore are askew, r the rim's radius:
//
//	rim, step  (O + e + q + g)²/2r    the plunger meets the round rim beside its crown by O + e + q + g at most
//	         + r(T + t)²/2            a slanting cylinder is cut as an ellipse
//	face       (O + q)·t              a skew face is met off its centre
//	         + (off + D)·(ψ² + ψ(T+t)) a tilted bracket's end, ψ its tilt
//	gap        O·t + gap·(T + t)²     the gauge stands square to one face only
//
// Third order (length·(T + t)³, O·T²) is added with a factor of 3; it stays under 0.1 µm here.
func (r *rig) secondOrder(d *dial) float64 {
	h, x := &r.hm, d.sweep.Station
	l := r.line
	T := math.Hypot(l.TV, l.TH) / 1000
	askew := math.Hypot(r.hm.axis[1], r.hm.axis[2]) + math.Hypot(r.hs.axis[1], r.hs.axis[2])
	for _, p := range []plane{r.hm.front, r.hm.back, r.hs.front, r.hs.back} {
		askew = math.Max(askew, math.Hypot(p.n[1], p.n[2])*2)
	}
	e := math.Hypot(r.hm.centre[1], r.hm.centre[2]) + math.Hypot(r.hs.centre[1], r.hs.centre[2])
	at := func(x float64) float64 { return math.Hypot(l.DV+l.TV*x/1000, l.DH+l.TH*x/1000) }
	size := math.Abs(x) + d.sweep.Diameter + d.sweep.Length + 4*h.radius
	third := 3 * ((size)*math.Pow(T+askew, 3) + at(x)*(T+askew)*(T+askew))
	switch d.sweep.Model {
	case RimOnMovable, RimOnStationary, StepAtRim:
		if d.sweep.Model == RimOnStationary {
			h = &r.hs
		}
		lever := askew * (math.Abs(x-h.centre[0]) + 10) // a skew bore is off centre by this at the plunger
		beside := at(x) + e + lever + math.Abs(d.past) + math.Abs(d.droop)
		return 1.01*beside*beside/(2*h.radius) + 1.5*h.radius*(T+askew)*(T+askew)/2 + third
	case GapBetween:
		gap := math.Abs(r.hm.front.p[0] - r.hs.front.p[0])
		return at(r.hm.front.p[0])*askew + 2*gap*(T+askew)*(T+askew) + third
	}
	// Spool or bracket, a face is met off its centre by no more than the axes are apart anywhere on the hub.
	far := math.Max(at(r.hm.back.p[0]), at(r.hs.back.p[0]))
	psi := math.Abs(d.tilt)
	return far*askew + (15+d.sweep.Diameter)*(psi*psi+psi*(T+askew))*2 + third
}

// gain returns the rows of the weighted least-squares inverse for DV, TV, DH, TH, one column a reading: by how much an error of
// one reading moves each. Only the bound of the test uses it.
func gain(sweeps []Sweep) [4][]float64 {
	n := 4 + len(sweeps)
	var rows [][]float64
	var weight []float64
	for i := range sweeps {
		for _, a := range sweeps[i].Angle {
			row := make([]float64, n)
			designRow(row, &sweeps[i], a)
			row[4+i] = 1
			rows = append(rows, row)
			weight = append(weight, 1/(sweeps[i].U*sweeps[i].U))
		}
	}
	aug := make([][]float64, n) // normal matrix beside the weighted transpose
	for i := range aug {
		aug[i] = make([]float64, n+len(rows))
		for k, row := range rows {
			for j := range n {
				aug[i][j] += weight[k] * row[i] * row[j]
			}
			aug[i][n+k] = weight[k] * row[i]
		}
	}
	for c := range n {
		p := c
		for i := c; i < n; i++ {
			if math.Abs(aug[i][c]) > math.Abs(aug[p][c]) {
				p = i
			}
		}
		aug[c], aug[p] = aug[p], aug[c]
		piv := aug[c][c]
		for j := range aug[c] {
			aug[c][j] /= piv
		}
		for i := range n {
			if f := aug[i][c]; i != c && f != 0 {
				for j := range aug[i] {
					aug[i][j] -= f * aug[c][j]
				}
			}
		}
	}
	var g [4][]float64
	for j := range g {
		g[j] = aug[j][n:]
	}
	return g
}

// designRow writes what a reading at the angle sees of DV, TV, DH, TH (mm, mm/m), out of the doc comments of the models.
func designRow(row []float64, s *Sweep, deg float64) {
	sn, cs := math.Sincos(deg * math.Pi / 180)
	var d, t float64 // factors of offset and slope
	switch s.Model {
	case RimOnMovable, StepAtRim:
		d, t = 1, s.Station/1000
	case RimOnStationary:
		d, t = -1, -s.Station/1000
	case FaceFront:
		t = s.Diameter / 2000
	case FaceBack, GapBetween:
		t = -s.Diameter / 2000
	case SpoolOnMovable, SpoolOnMovableBack: // θ − σ, σ = d/L + θ/2
		d, t = -s.Diameter/2/s.Length, s.Diameter/2000*0.5
	case SpoolOnStationary, SpoolOnStationaryBack:
		d, t = s.Diameter/2/s.Length, s.Diameter/2000*0.5
	}
	if s.Model == SpoolOnMovableBack || s.Model == SpoolOnStationaryBack {
		d, t = -d, -t
	}
	row[0], row[1], row[2], row[3] = d*cs, t*cs, d*sn, t*sn
}

func between(rng *rand.Rand, a, b float64) float64 { return a + (b-a)*rng.Float64() }

// either is between a and b, with either sign.
func either(rng *rand.Rand, a, b float64) float64 {
	v := between(rng, a, b)
	if rng.IntN(2) == 0 {
		return -v
	}
	return v
}

// randomAngles gives quarters, even turns of 3 to 19 positions, scattered turns, or arcs of at least arc degrees.
func randomAngles(rng *rand.Rand, arc float64) []float64 {
	start, n := 0.0, 4
	span := 360.0
	switch rng.IntN(5) {
	case 0:
		if rng.IntN(2) == 0 {
			return []float64{0, 90, 180, 270, 360}
		}
		return []float64{0, 90, 180, 270}
	case 1:
		n, start = 3+rng.IntN(17), between(rng, -180, 360)
	case 2: // scattered over the turn
		n = 5 + rng.IntN(15)
		a := make([]float64, n)
		for i := range a {
			a[i] = 360*float64(i)/float64(n) + between(rng, -8, 8)
		}
		return a
	default:
		n, start, span = 3+rng.IntN(17), between(rng, -180, 360), between(rng, arc, 350)
		a := make([]float64, n)
		for i := range a {
			a[i] = start + span*float64(i)/float64(n-1)
		}
		return a
	}
	a := make([]float64, n)
	for i := range a {
		a[i] = start + span*float64(i)/float64(n)
	}
	return a
}

// A method draws the sweeps of one way of measuring on a rig.
type method struct {
	name string
	draw func(rng *rand.Rand, r *rig) []*dial
}

var methods = []method{
	{"reverse indicator", func(rng *rand.Rand, r *rig) []*dial {
		return []*dial{
			rimDial(rng, r, RimOnMovable, between(rng, 30, 400), quarters(rng)),
			rimDial(rng, r, RimOnStationary, -between(rng, 30, 400), quarters(rng)),
		}
	}},
	{"rim and face", func(rng *rand.Rand, r *rig) []*dial {
		onMov := rng.IntN(4) > 0
		rim := rimDial(rng, r, RimOnMovable, between(rng, -10, 150), quarters(rng))
		if !onMov {
			rim = rimDial(rng, r, RimOnStationary, -between(rng, -10, 150), quarters(rng))
		}
		return []*dial{rim, faceDial(rng, r, onMov, rng.IntN(2) == 0, quarters(rng))}
	}},
	{"two rims", func(rng *rand.Rand, r *rig) []*dial {
		a := between(rng, 10, 120)
		return []*dial{
			rimDial(rng, r, RimOnMovable, a, quarters(rng)),
			rimDial(rng, r, RimOnMovable, a+between(rng, 80, 400), quarters(rng)),
		}
	}},
	{"face and face", func(rng *rand.Rand, r *rig) []*dial {
		length := between(rng, 100, 800)
		r.hm.front.p[0], r.hs.front.p[0] = length/2, -length/2 // faces about the flex planes
		r.hm.back.p[0], r.hs.back.p[0] = length/2+60, -length/2-60
		a := faceDial(rng, r, true, false, quarters(rng))
		b := faceDial(rng, r, false, false, quarters(rng))
		a.sweep.Model = []Model{SpoolOnMovable, SpoolOnMovableBack}[rng.IntN(2)]
		b.sweep.Model = []Model{SpoolOnStationary, SpoolOnStationaryBack}[rng.IntN(2)]
		a.sweep.Length, b.sweep.Length = length, length
		a.sweep.Diameter, b.sweep.Diameter = between(rng, 120, 400), between(rng, 120, 400)
		return []*dial{a, b}
	}},
	{"straightedge and gap", func(rng *rand.Rand, r *rig) []*dial {
		step := &dial{sweep: Sweep{Model: StepAtRim, Station: between(rng, 2, 40), Angle: []float64{0, 90, 180, 270}}}
		gap := &dial{sweep: Sweep{Model: GapBetween, Diameter: 2 * r.hm.radius * between(rng, 0.7, 1), Angle: []float64{0, 90, 180, 270}}}
		return []*dial{step, gap}
	}},
	{"sweeps", func(rng *rand.Rand, r *rig) []*dial {
		a := randomAngles(rng, 70) // the two heads stand at the same angles, being on the same turn
		return []*dial{
			rimDial(rng, r, RimOnMovable, between(rng, 30, 500), a),
			rimDial(rng, r, RimOnStationary, -between(rng, 30, 500), a),
		}
	}},
}

func quarters(rng *rand.Rand) []float64 {
	switch rng.IntN(4) {
	case 0:
		return []float64{0, 90, 180, 270, 360}
	case 1:
		return randomAngles(rng, 120)
	}
	return []float64{0, 90, 180, 270}
}

func rimDial(rng *rand.Rand, r *rig, m Model, station float64, angles []float64) *dial {
	return &dial{
		sweep: Sweep{Model: m, Station: station, Angle: angles},
		zero:  between(rng, 15, 25), past: either(rng, 0, 0.1), droop: between(rng, 0, 0.15),
	}
}

func faceDial(rng *rand.Rand, r *rig, onMov, back bool, angles []float64) *dial {
	m := FaceFront
	if back {
		m = FaceBack
	}
	return &dial{
		sweep: Sweep{Model: m, Diameter: 2 * r.hm.radius * between(rng, 0.7, 1), Angle: angles},
		onMov: onMov, zero: between(rng, 10, 20), tilt: either(rng, 0, 2e-4), barAt: r.hm.radius * between(rng, 1.1, 1.6),
	}
}

// randomRig draws two hubs; scale sizes runout and misalignment together.
func randomRig(rng *rand.Rand, scale float64) *rig {
	skew := func() vec3 { return vec3{1, either(rng, 0, scale*2e-4), either(rng, 0, scale*2e-4)} }
	newHub := func(front, back float64) hub {
		return hub{
			radius: between(rng, 50, 180),
			centre: vec3{(front + back) / 2, either(rng, 0, scale*0.03), either(rng, 0, scale*0.03)}, axis: skew(),
			front: plane{vec3{front, 0, 0}, skew()}, back: plane{vec3{back, 0, 0}, skew()},
		}
	}
	gap := between(rng, 2, 10)
	r := &rig{hs: newHub(-gap/2, -gap/2-60), hm: newHub(gap/2, gap/2+60)}
	r.place(Line{scale * either(rng, 0, 1), scale * either(rng, 0, 3), scale * either(rng, 0, 1), scale * either(rng, 0, 3)})
	return r
}

// measure takes every reading of every dial.
func (r *rig) measure(dials []*dial) []Sweep {
	var sweeps []Sweep
	for _, d := range dials {
		s := d.sweep
		s.Reading = make([]float64, len(s.Angle))
		for i, a := range s.Angle {
			s.Reading[i] = r.read(d, a)
		}
		if s.Model != GapBetween && s.Model != StepAtRim {
			s.SagAt6 = r.sagAt6(d)
		}
		d.second = r.secondOrder(d)
		s.Graduation = 0.01
		s.U = math.Max(0.003, d.second) // so that what the linear model leaves out is not taken for a failed check
		sweeps = append(sweeps, s)
	}
	return sweeps
}

// loose lets second-order terms pass the checks: this test is about the line.
var loose = CheckLimits{BalanceShare: 0.5, BalanceGraduation: 1000, ClosureGraduation: 2}

func simCount(n int) int {
	if testing.Short() || runtime.GOARCH == "wasm" {
		return n / 10 // the same cases, fewer of them
	}
	return n
}

// longCount is simCount for tests that take seconds for what they find in the first of them: a quarter of n, and all of it with SHIMSHEET_LONG set. The evidence beside such a
// test counts the ordinary run.
func longCount(n int) int {
	if os.Getenv("SHIMSHEET_LONG") == "" {
		return min(n/4, simCount(n))
	}
	return simCount(n)
}

var lineNames = [4]string{"offset V", "slope V", "offset H", "slope H"}

func lineArray(l Line) [4]float64 { return [4]float64{l.DV, l.TV, l.DH, l.TH} }

// TestSimulation measures random machines in space and finds the shafts again within 1 µm (1 µm/m) plus what the second order
// of the readings (secondOrder) can do to the line through the least squares, worst case. Then it moves the machine as told at
// the feet, reads the same dials again, and they must stand still.
func TestSimulation(t *testing.T) {
	//evidence: calc=reverse indicator grade=independent count=4000 source=forward three-dimensional simulation of two shafts, hubs, bracket and plunger (in this repository, shares no formula with the calculation)
	//evidence: calc=rim and face grade=independent count=4000 source=forward three-dimensional simulation of two shafts, hubs, bracket and plunger
	//evidence: calc=two rims grade=independent count=4000 source=forward three-dimensional simulation of two shafts, hubs, bracket and plunger
	//evidence: calc=face and face across a spacer grade=independent count=4000 source=forward three-dimensional simulation of two shafts, a spool between the flex centres, and its dials
	//evidence: calc=straightedge and gap grade=independent count=4000 source=forward three-dimensional simulation of a straight line resting on one rim and of a gauge between two faces
	//evidence: calc=sweeps at any angles grade=independent count=4000 source=forward three-dimensional simulation of two measuring heads, 3 to 19 positions, partial arcs
	//evidence: calc=bracket droop grade=independent count=24000 source=forward three-dimensional simulation: the bracket hangs lower by a fixed amount in space; what it shows on a straight pipe is simulated too
	//evidence: calc=shims and moves at the feet grade=independent count=24000 source=forward three-dimensional simulation: the machine is moved as told and the dials stand still
	for k, m := range methods {
		t.Run(m.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(1, uint64(k)))
			var res Result
			n := simCount(4000)
			bad, worst := 0, 0.0
			for i := range n {
				r := randomRig(rng, 1)
				dials := m.draw(rng, r)
				sweeps := r.measure(dials)
				in := Input{Sweeps: sweeps, Limits: Limits{math.NaN(), math.NaN()}, Checks: loose,
					Given: nanLine, Length: math.NaN(), FlangeStation: math.NaN(),
					Feet: []float64{between(rng, 200, 600), between(rng, 700, 2000)}}
				if rng.IntN(2) == 0 {
					in.Wanted = Line{either(rng, 0, .5), either(rng, 0, 1), either(rng, 0, .5), either(rng, 0, 1)}
				}
				Solve(&in, &res)
				if res.Status != NoLimit {
					t.Fatalf("machine %d: status %v, want NoLimit", i, res.Status)
				}
				g := gain(sweeps)
				got, want := lineArray(res.Line), lineArray(r.line)
				var bound [4]float64
				for j := range got {
					bound[j] = 0.001
					c := 0
					for s := range sweeps {
						for range sweeps[s].Angle {
							bound[j] += math.Abs(g[j][c]) * dials[s].second
							c++
						}
					}
					worst = math.Max(worst, math.Abs(got[j]-want[j])/bound[j])
					if !(math.Abs(got[j]-want[j]) <= bound[j]) {
						t.Errorf("machine %d, %s: found %.6f, true %.6f, bound %.6f", i, lineNames[j], got[j], want[j], bound[j])
						bad++
					}
				}
				if bad > 5 {
					t.FailNow()
				}

				// Move the machine as told and look again.
				if len(res.Feet) != 2 {
					t.Fatalf("machine %d: %d feet", i, len(res.Feet))
				}
				a, b := res.Feet[0], res.Feet[1]
				v1, h1 := r.line.DV+r.line.TV*a.Station/1000+a.Shim, r.line.DH+r.line.TH*a.Station/1000+a.Move
				v2, h2 := r.line.DV+r.line.TV*b.Station/1000+b.Shim, r.line.DH+r.line.TH*b.Station/1000+b.Move
				dx := b.Station - a.Station
				moved := *r
				moved.place(Line{v1 - (v2-v1)/dx*a.Station, (v2 - v1) / dx * 1000, h1 - (h2-h1)/dx*a.Station, (h2 - h1) / dx * 1000})
				goal := *r
				goal.place(in.Wanted)
				for s, d := range dials {
					for _, ang := range d.sweep.Angle {
						// Against the same rig standing where it was wanted: the change of the reading over the turn.
						left := (moved.read(d, ang) - moved.read(d, 0)) - (goal.read(d, ang) - goal.read(d, 0))
						var row [4]float64
						designRow(row[:], &d.sweep, ang)
						// An error of the line within its bound moves the reading by so much; at 0 as well.
						var row0 [4]float64
						designRow(row0[:], &d.sweep, 0)
						lim := 1e-4 + 4*goal.secondOrder(d)*sign01(in.Wanted)
						for j := range row {
							lim += (math.Abs(row[j]) + math.Abs(row0[j])) * bound[j]
						}
						if !(math.Abs(left) <= lim) {
							t.Fatalf("machine %d: moved as told, sweep %d at %g° is still off by %.6f mm (bound %.6f)", i, s, ang, left, lim)
						}
					}
				}
			}
			t.Logf("%d machines, worst error %.2f of its bound", n, worst)
		})
	}
}

func sign01(l Line) float64 {
	if l == (Line{}) {
		return 0
	}
	return 1
}

var nanLine = Line{math.NaN(), math.NaN(), math.NaN(), math.NaN()}

// TestSimulationLinear is the same with everything ten thousand times smaller, where the second order is gone: the linear
// model must hold to 0.1 % of the misalignment, whatever the arc. A wrong factor or sign anywhere cannot hide here.
func TestSimulationLinear(t *testing.T) {
	//evidence: calc=linear model of a reading grade=independent count=12000 source=forward three-dimensional simulation, misalignments a ten-thousandth as large, so that the second order is gone
	const scale = 1e-4
	for k, m := range methods {
		t.Run(m.name, func(t *testing.T) {
			rng := rand.New(rand.NewPCG(2, uint64(k)))
			var res Result
			for i := range simCount(2000) {
				r := randomRig(rng, scale)
				dials := m.draw(rng, r)
				for _, d := range dials {
					d.droop *= scale
					d.past *= scale
					d.tilt *= scale
				}
				sweeps := r.measure(dials)
				for s := range sweeps {
					sweeps[s].U = 0.003
				}
				in := Input{Sweeps: sweeps, Limits: Limits{math.NaN(), math.NaN()}, Checks: loose, Given: nanLine, Length: math.NaN(), FlangeStation: math.NaN()}
				Solve(&in, &res)
				if res.Status != NoLimit {
					t.Fatalf("machine %d: status %v, want NoLimit", i, res.Status)
				}
				got, want := lineArray(res.Line), lineArray(r.line)
				for j := range got {
					tol := 1e-3 * scale * []float64{1, 3, 1, 3}[j]
					// A length of 20 mm is read to 4e-15 mm; short arcs and far stations multiply that, still far under tol.
					if !(math.Abs(got[j]-want[j]) <= tol) {
						t.Fatalf("machine %d, %s: found %.9g, true %.9g", i, lineNames[j], got[j], want[j])
					}
				}
			}
		})
	}
}

// TestSigns is the sign table in words. Each case first asks the solids what the dial shows, then the calculation what to do.
func TestSigns(t *testing.T) {
	//evidence: calc=signs grade=independent count=21 source=forward three-dimensional simulation, each case in words
	q := []float64{0, 90, 180, 270}
	rimM := dial{sweep: Sweep{Model: RimOnMovable, Station: 100, Angle: q}, zero: 20}
	rimS := dial{sweep: Sweep{Model: RimOnStationary, Station: -100, Angle: q}, zero: 20}
	face := dial{sweep: Sweep{Model: FaceFront, Diameter: 200, Angle: q}, onMov: true, zero: 15}
	faceS := dial{sweep: Sweep{Model: FaceFront, Diameter: 200, Angle: q}, zero: 15}
	back := dial{sweep: Sweep{Model: FaceBack, Diameter: 200, Angle: q}, onMov: true, zero: 15}
	gap := dial{sweep: Sweep{Model: GapBetween, Diameter: 200, Angle: q}}
	step := dial{sweep: Sweep{Model: StepAtRim, Station: 5, Angle: q}}
	spoolM := dial{sweep: Sweep{Model: SpoolOnMovable, Diameter: 200, Length: 400, Angle: q}, zero: 15}
	spoolS := dial{sweep: Sweep{Model: SpoolOnStationary, Diameter: 200, Length: 400, Angle: q}, zero: 15}
	for _, c := range []struct {
		words string
		line  Line
		d     dial
		at    float64 // clock angle
		ref   float64 // where the dial was zeroed
		want  float64 // mm
	}{
		{"movable high 0.2: the dial on the movable rim, zeroed at 12, has gone back by twice that at 6", Line{DV: 0.2}, rimM, 180, 0, -0.4},
		{"movable high 0.2: the dial on the stationary rim, zeroed at 12, is pushed in by twice that at 6", Line{DV: 0.2}, rimS, 180, 0, 0.4},
		{"movable towards 3 by 0.2: the dial on the movable rim reads more at 3 than at 9", Line{DH: 0.2}, rimM, 90, 270, 0.4},
		{"movable towards 3 by 0.2: the dial on the stationary rim reads less at 3 than at 9", Line{DH: 0.2}, rimS, 90, 270, -0.4},
		{"movable rises 1 mm/m going away: the dial on the movable rim at 100 mm sees 0.1 high", Line{TV: 1}, rimM, 180, 0, -0.2},
		{"movable rises 1 mm/m going away: at −100 mm its line is 0.1 low, and the dial on the stationary rim says so", Line{TV: 1}, rimS, 180, 0, -0.2},
		{"movable rises 1 mm/m: the coupling is open at the bottom, the gauge at 200 mm finds 0.2 more at 6", Line{TV: 1}, gap, 180, 0, 0.2},
		{"movable rises 1 mm/m: the face dial on the movable hub goes back towards 6", Line{TV: 1}, face, 180, 0, -0.2},
		{"movable rises 1 mm/m: so does the face dial on the stationary hub", Line{TV: 1}, faceS, 180, 0, -0.2},
		{"movable rises 1 mm/m: on the back of the hub it is the other way round", Line{TV: 1}, back, 180, 0, 0.2},
		{"movable leads towards 3 by 1 mm/m: open at 9", Line{TH: 1}, gap, 270, 90, 0.2},
		{"movable leads towards 3 by 1 mm/m: the face dial reads more at 3 than at 9", Line{TH: 1}, face, 90, 270, 0.2},
		{"movable rim proud by 0.3 at 12", Line{DV: 0.3}, step, 0, 90, 0.3},
		{"movable rim proud by 0.3 at 3", Line{DH: 0.3}, step, 90, 0, 0.3},
		{"movable parallel but 0.4 high over 400 mm: the spool rises 1 mm/m, the stationary face dial sees it", Line{DV: 0.4}, spoolS, 180, 0, -0.2},
		{"the movable face dial then sees the opposite", Line{DV: 0.4}, spoolM, 180, 0, 0.2},
	} {
		r := &rig{
			hs: hub{radius: 5000, axis: vec3{1, 0, 0}, front: plane{vec3{-200, 0, 0}, vec3{1, 0, 0}}, back: plane{vec3{-260, 0, 0}, vec3{1, 0, 0}}},
			hm: hub{radius: 5000, axis: vec3{1, 0, 0}, front: plane{vec3{200, 0, 0}, vec3{1, 0, 0}}, back: plane{vec3{260, 0, 0}, vec3{1, 0, 0}}},
		} // a very large rim, so that the figures come out round
		r.place(c.line)
		d := c.d
		if got := r.read(&d, c.at) - r.read(&d, c.ref); math.Abs(got-c.want) > 5e-3 {
			t.Errorf("%s: the solids say %+.4f, the words %+.2f", c.words, got, c.want)
		}
	}

	// The feet. Each line of the table in words: what stands wrong, what is to be done.
	nan := math.NaN()
	for _, c := range []struct {
		words                     string
		line                      Line
		front, rear, moveF, moveR float64
	}{
		{"0.2 high all along: take out 0.2 everywhere", Line{DV: 0.2}, -0.2, -0.2, 0, 0},
		{"0.2 low all along: add 0.2 everywhere", Line{DV: -0.2}, 0.2, 0.2, 0, 0},
		{"rises 1 mm/m away from the coupling: take out more at the rear", Line{TV: 1}, -0.3, -0.8, 0, 0},
		{"stands 0.2 towards 3: move towards 9", Line{DH: 0.2}, 0, 0, -0.2, -0.2},
		{"leads towards 9 going away: move towards 3, more at the rear", Line{TH: -1}, 0, 0, 0.3, 0.8},
	} {
		r := randomRig(rand.New(rand.NewPCG(3, 3)), 0)
		r.hm.radius, r.hs.radius = 5000, 5000
		r.place(c.line)
		a, b := rimM, rimS
		in := Input{Sweeps: r.measure([]*dial{&a, &b}), Limits: Limits{nan, nan}, Given: nanLine, Length: nan, FlangeStation: nan, Feet: []float64{300, 800}}
		var res Result
		Solve(&in, &res)
		if len(res.Feet) != 2 {
			t.Fatalf("%s: status %v, %d feet", c.words, res.Status, len(res.Feet))
		}
		got := fmt.Sprintf("%+.2f %+.2f %+.2f %+.2f", res.Feet[0].Shim+1e-6, res.Feet[1].Shim+1e-6, res.Feet[0].Move+1e-6, res.Feet[1].Move+1e-6)
		if want := fmt.Sprintf("%+.2f %+.2f %+.2f %+.2f", c.front, c.rear, c.moveF, c.moveR); got != want {
			t.Errorf("%s: shims and moves are %s, want %s", c.words, got, want)
		}
	}
}

// TestSimulationFlange shims and slides a vertical machine in space as told and looks where its shaft then is. The tops of the
// shims under the bolts are points of a plane; the flange lies on it, square to the shaft.
func TestSimulationFlange(t *testing.T) {
	//evidence: calc=flange-mounted machines grade=independent count=2000 source=forward three-dimensional simulation: the flange is shimmed and slid as told
	rng := rand.New(rand.NewPCG(4, 4))
	var res Result
	for i := range simCount(2000) {
		truth := Line{either(rng, 0, 1), either(rng, 0, 3), either(rng, 0, 1), either(rng, 0, 3)}
		in := Input{Given: truth, GivenU: Line{0.01, 0.05, 0.01, 0.05}, Coupling: tables.Flange, Limits: Limits{math.NaN(), math.NaN()}, Length: math.NaN(),
			BoltCircleRadius: between(rng, 100, 600), Bolts: 3 + rng.IntN(14), FlangeStation: between(rng, 50, 800)}
		if i%3 == 0 {
			in.FlangeStation = math.NaN()
		}
		if i%2 == 0 {
			in.Wanted = Line{either(rng, 0, .5), either(rng, 0, 1), either(rng, 0, .5), either(rng, 0, 1)}
		}
		Solve(&in, &res)
		if res.Status != NoLimit || len(res.BoltShims) != in.Bolts {
			t.Fatalf("machine %d: status %v, %d shims for %d bolts", i, res.Status, len(res.BoltShims), in.Bolts)
		}
		xf := in.FlangeStation
		if math.IsNaN(xf) {
			xf = 0
		}
		// The flange as found: a plane square to the shaft through its axis at xf. Under each bolt that plane rises by the shim,
		// along the stationary axis.
		r := &rig{}
		r.place(truth)
		centre := r.mov.point(vec3{xf, 0, 0})
		least := math.Inf(1)
		tops := make([]vec3, in.Bolts)
		for b, s := range res.BoltShims {
			psi := 2 * math.Pi * float64(b) / float64(in.Bolts)
			at := centre.add(r.mov.turned(psi).ev.mul(in.BoltCircleRadius))
			tops[b] = at.add(vec3{s, 0, 0})
			least = math.Min(least, s)
		}
		if math.Abs(least) > 1e-9 {
			t.Fatalf("machine %d: the least shim is %g mm, not 0", i, least)
		}
		// Normal of the plane through the tops: three of them far apart, and the others must lie in it.
		p, q, w := tops[0], tops[in.Bolts/3], tops[2*in.Bolts/3]
		n := q.sub(p).cross(w.sub(p)).unit()
		if n[0] < 0 {
			n = n.mul(-1)
		}
		for b := range tops {
			if off := tops[b].sub(p).dot(n); math.Abs(off) > 1e-6*in.BoltCircleRadius {
				t.Fatalf("machine %d: shim %d of the flange is %g mm out of plane", i, b, off)
			}
		}
		var mid vec3
		for _, v := range tops {
			mid = mid.add(v.mul(1 / float64(in.Bolts)))
		}
		mid = mid.add(vec3{0, res.SlideH, res.SlideV})
		// The shaft afterwards: through mid along n.
		after := Line{TV: 1000 * n[2] / n[0], TH: 1000 * n[1] / n[0]}
		after.DV, after.DH = mid[2]-after.TV/1000*mid[0], mid[1]-after.TH/1000*mid[0]
		got, want := lineArray(after), lineArray(in.Wanted)
		for j := range got {
			// Second order: slopes squared times the bolt circle or the station, 5e-3² × 800 mm = 20 µm; slopes themselves 1e-4 of 4 mm/m.
			tol := []float64{0.02, 1e-3, 0.02, 1e-3}[j]
			if !(math.Abs(got[j]-want[j]) <= tol) {
				t.Fatalf("machine %d (flange at %g): %s afterwards %.5f, wanted %.5f", i, in.FlangeStation, lineNames[j], got[j], want[j])
			}
		}
	}
}

// TestSimulationFlexAngles compares the angles at the flex planes with those between the spool's axis and the shafts in space.
func TestSimulationFlexAngles(t *testing.T) {
	//evidence: calc=angles at the flex planes grade=independent count=2000 source=forward three-dimensional simulation: angles between the spool's axis and the shafts
	rng := rand.New(rand.NewPCG(5, 5))
	var res Result
	for i := range simCount(2000) {
		l := Line{either(rng, 0, 1), either(rng, 0, 3), either(rng, 0, 1), either(rng, 0, 3)}
		in := Input{Given: l, GivenU: Line{0.01, 0.05, 0.01, 0.05}, Coupling: tables.Spacer, Length: between(rng, 100, 1500), Limits: Limits{math.NaN(), 0.5}, FlangeStation: math.NaN()}
		if i%2 == 0 {
			in.Coupling = tables.Universal
		}
		Solve(&in, &res)
		if res.Status != OK {
			t.Fatalf("machine %d: status %v", i, res.Status)
		}
		r := &rig{}
		r.place(l)
		p := r.spool(in.Length)
		slope := func(e vec3) (v, h float64) { return 1000 * e[2] / e[0], 1000 * e[1] / e[0] }
		sv, sh := slope(p.ex)
		mv, mh := slope(r.mov.ex)
		for _, c := range []struct {
			name      string
			got, want float64
		}{
			{"stationary V", res.Found.FlexS.V, sv}, {"stationary H", res.Found.FlexS.H, sh},
			{"movable V", res.Found.FlexM.V, mv - sv}, {"movable H", res.Found.FlexM.H, mh - sh},
			{"stationary total", res.Found.FlexS.Total, 1000 * math.Acos(math.Min(1, p.ex.dot(r.sta.ex)))},
			{"movable total", res.Found.FlexM.Total, 1000 * math.Acos(math.Min(1, p.ex.dot(r.mov.ex)))},
		} {
			// Second order: L/2 along the shaft is not L/2 along x, 1e-5 of 10 mm/m; tan against angle 1e-4 of it.
			if !(math.Abs(c.got-c.want) <= 2e-3) {
				t.Fatalf("machine %d, flex plane %s: %.6f, the solids say %.6f mm/m", i, c.name, c.got, c.want)
			}
		}
	}
}

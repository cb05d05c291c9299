package calc

import (
	"math"
	"slices"
	"sync"

	"shimsheet/internal/tables"
)

var nan = math.NaN()

// Solve computes one row. res is overwritten; its slices are used again, so that a loop over rows allocates nothing once they
// have grown. in is only read. Solve never panics on numbers: what cannot be computed ends in res.Status.
//
// The order is that of the work: readings to a line with covariance by one weighted least-squares fit; the checks on each sweep; the
// deviation from the wanted line, held to the limits with its chance; corrections at the feet; packs and rounded moves; the line
// predicted after them, judged again. Readings that fail a check give the line they imply, and no corrections and no verdict.
func Solve(in *Input, res *Result) {
	res.reset(in)
	if !fitLine(in, res) {
		return
	}
	if !in.wantedSound() {
		res.Status = BadInput
		return
	}
	dev, cov := deviation(in, res)
	g := newJudge(in, &cov, &res.byLength)
	g.of(&dev, res.Status != OK, &res.Found)
	if res.Status != OK && res.Status != PartOfLine {
		return
	}
	correct(in, res, dev, &cov)
	if res.HasAfter {
		g.after(res, &res.After, nil, res.Status != OK, &res.AfterJ)
	}
	if res.Status == OK && res.Found.Verdict == NotJudged {
		res.Status = NoLimit
		if in.Coupling == tables.Spacer && !in.hasLength() {
			res.Status = NoLength
		}
	}
}

var (
	noLine   = Line{nan, nan, nan, nan}
	noVector = Vector{nan, nan, nan, nan, nan, nan}
	noJudge  = Judgement{noVector, noVector, noVector, noVector, nan, nan, NotJudged}
	noCov    = Cov{{nan, nan, nan, nan}, {nan, nan, nan, nan}, {nan, nan, nan, nan}, {nan, nan, nan, nan}}
)

func (r *Result) reset(in *Input) {
	r.Status, r.Sweep = OK, -1
	r.Line, r.Cov, r.Wanted = noLine, noCov, noLine
	r.Misfit, r.byLength = 1, [4]float64{}
	r.ResidualSD, r.ResidualLimit, r.DOF = nan, nan, 0
	r.Checks = slices.Grow(r.Checks[:0], len(in.Sweeps))[:len(in.Sweeps)]
	for i := range r.Checks {
		r.Checks[i] = SweepCheck{nan, nan, nan, nan, 0, 1, 0, 0}
	}
	r.Found, r.AfterJ = noJudge, noJudge
	r.Feet, r.BoltShims, r.BoltPacks = r.Feet[:0], r.BoltShims[:0], r.BoltPacks[:0]
	r.SlideV, r.SlideH = nan, nan
	r.HasAfter, r.After = false, noLine
}

// gains returns what a sweep sees of each plane: its cosine part is g0·DV + g1·TV, its sine part g0·DH + g1·TH. ok is false for a station,
// diameter or length that cannot be.
func (s *Sweep) gains() (g0, g1 float64, ok bool) {
	d := s.Diameter / 2000
	switch s.Model {
	case RimOnMovable, StepAtRim:
		return 1, s.Station / 1000, finite(s.Station)
	case RimOnStationary:
		return -1, -s.Station / 1000, finite(s.Station)
	case FaceFront:
		return 0, d, d > 0 && finite(d)
	case FaceBack, GapBetween:
		return 0, -d, d > 0 && finite(d)
	case SpoolOnMovable, SpoolOnMovableBack, SpoolOnStationary, SpoolOnStationaryBack:
		// σ = V(L/2)/L = (DV + TV·L/2000)·1000/L in mm/m, the stationary face sees σ, the movable one TV − σ.
		a, b := d*1000/s.Length, d/2
		if s.Model == SpoolOnMovable || s.Model == SpoolOnMovableBack {
			a = -a
		}
		if s.Model == SpoolOnMovableBack || s.Model == SpoolOnStationaryBack {
			a, b = -a, -b
		}
		return a, b, d > 0 && s.Length > 0 && finite(a)
	}
	return 0, 0, false
}

// root is the square root of what rounding may have left a little below zero. (The builtin max is a call under WebAssembly.)
func root(x float64) float64 {
	if x < 0 {
		return 0
	}
	return math.Sqrt(x)
}

// absurd is more than any offset in mm, slope in mm/m or uncertainty of one; past it nothing is computed.
const absurd = 1e12

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// row is one sweep made ready: regressors and readings with the droop taken off.
type row struct {
	angle   []float64
	turned  bool // Sweep.Mirrored
	u, v, y []float64
	ub, vb  []float64 // memory for u and v
	g0, g1  float64
	m       moments
}

// scratch keeps the rows' memory from one call to the next.
var scratch = sync.Pool{New: func() any { return new([]row) }}

// rowsFor returns n rows of memory to be handed back to scratch.
func rowsFor(n int) *[]row {
	p := scratch.Get().(*[]row)
	for len(*p) < n {
		*p = append(*p, row{})
	}
	return p
}

// load fills w from a sweep and runs the checks that need no line. prev, if not nil, is the row before it: sweeps of one row are mostly
// taken at the same angles, and then its cosines and sines serve again. The status is OK, TooFewAngles or BadInput; a failed check
// of balance or closure is only written to chk, for the line is still worth showing.
func (w *row) load(s *Sweep, prev *row, lim *CheckLimits, chk *SweepCheck) Status {
	n := len(s.Reading)
	if n != len(s.Angle) || n == 0 || !(s.U > 0) || !finite(s.U) || !finite(s.SagAt6) {
		if n == 0 && len(s.Angle) == 0 {
			return TooFewAngles
		}
		return BadInput
	}
	var ok bool
	if w.g0, w.g1, ok = s.gains(); !ok {
		return BadInput
	}
	if cap(w.y) < n {
		w.ub, w.vb, w.y = make([]float64, n), make([]float64, n), make([]float64, n)
	}
	w.y = w.y[:n]
	w.angle, w.turned = s.Angle, s.Mirrored
	if prev != nil && len(prev.angle) == n && &prev.angle[0] == &s.Angle[0] && prev.turned == w.turned {
		w.u, w.v = prev.u, prev.v
	} else {
		w.u, w.v = w.ub[:n], w.vb[:n]
		for i, a := range s.Angle {
			if !finite(a) {
				return BadInput
			}
			if w.u[i], w.v[i] = cosSin(a); w.turned {
				w.v[i] = 0 - w.v[i]
			}
		}
		if distinct(w.u, w.v) < 3 {
			return TooFewAngles
		}
	}
	sum := 0.0
	for i, r := range s.Reading {
		w.y[i] = r - 0.5*s.SagAt6*(1-w.u[i])
		sum += w.y[i]
	}
	if !finite(sum) {
		return BadInput
	}
	chk.Sag = s.SagAt6
	check(w.u, w.v, w.y, s.Graduation, lim, chk)
	return OK
}

// same says whether two directions are one position of the clock: within 1e-6 of a radian.
func same(u1, v1, u2, v2 float64) bool { return math.Abs(u1-u2) < 1e-6 && math.Abs(v1-v2) < 1e-6 }

// quarter returns 0, 1, 2, 3 for a direction at 12, 3, 6, 9 o'clock and −1 for any other.
func quarter(u, v float64) int {
	switch {
	case math.Abs(v) < 1e-6:
		if u > 0 {
			return 0
		}
		return 2
	case math.Abs(u) < 1e-6:
		if v > 0 {
			return 1
		}
		return 3
	}
	return -1
}

// distinct counts different positions, up to three.
func distinct(u, v []float64) int {
	first, second := 0, -1
	for i := range u {
		switch {
		case same(u[i], v[i], u[first], v[first]):
		case second < 0:
			second = i
		case !same(u[i], v[i], u[second], v[second]):
			return 3
		}
	}
	if second >= 0 {
		return 2
	}
	return min(1, len(u))
}

// check fills in balance and closure of a sweep with their limits.
//
// Balance is (R12 + R6) − (R3 + R9), droop taken off, held to a share of the largest reading counted from the dial's zero (the first
// reading at 12), and never to less than so many graduations. Closure is a repeated position against its first reading, the largest
// such difference, held to so many graduations.
//
// Reference: top and bottom against left and right, H. P. Bloch and F. K. Geitner, Machinery Component Maintenance and Repair, ch. 5;
// the dial reads the same again after a full turn, US Army TM 10-4320-307-24 p. 3-15. The limits are common practice, no source.
func check(u, v, y []float64, grad float64, lim *CheckLimits, chk *SweepCheck) {
	at := [4]int{-1, -1, -1, -1} // first reading at 12, 3, 6, 9
	worst, repeated := 0.0, false
	for i := range y {
		first, k := -1, quarter(u[i], v[i])
		if k >= 0 {
			if first = at[k]; first < 0 {
				at[k] = i
			}
		} else {
			for j := 0; j < i && first < 0; j++ {
				if same(u[i], v[i], u[j], v[j]) {
					first = j
				}
			}
		}
		if first >= 0 {
			d := y[i] - y[first]
			if !repeated || math.Abs(d) > math.Abs(worst) {
				worst = d
			}
			chk.Repeats++
			chk.RepeatSquares += d * d
			repeated = true
		}
	}
	zero := y[0]
	if at[0] >= 0 {
		zero = y[at[0]]
	}
	largest := 0.0
	for i := range y {
		if d := math.Abs(y[i] - zero); d > largest {
			largest = d
		}
	}
	chk.BalanceLimit = max(share(lim.BalanceShare, 0.10)*largest, share(lim.BalanceGraduation, 2)*grad)
	if at[0] >= 0 && at[1] >= 0 && at[2] >= 0 && at[3] >= 0 {
		chk.Balance = (y[at[0]] + y[at[2]]) - (y[at[1]] + y[at[3]])
	}
	if repeated {
		chk.Closure, chk.ClosureLimit = worst, share(lim.ClosureGraduation, 2)*grad
	}
}

func share(x, def float64) float64 {
	if x > 0 {
		return x
	}
	return def
}

// leastLimit in mm or mm/m: a limit below it is no limit.
const leastLimit = 1e-9

// leastChance is how likely a coupling must be inside to be called so.
const leastChance = 0.95

// hasLength says whether the length between the flex planes is one: from a micrometre to a kilometre.
func (in *Input) hasLength() bool { return in.Length >= 1e-3 && in.Length <= 1e6 }

// within is the one rule for ties: equal to the limit within 1e-9 of it is inside.
func within(x, limit float64) bool { return x <= limit*(1+tieRel) }

// beyond says whether a check's number is past its limit. Differences of readings carry rounding of their own, a billionth of a
// millimetre at the most.
func beyond(x, limit float64) bool { return math.Abs(x) > limit*(1+tieRel)+1e-12 }

// fitLine fills res.Line, res.Cov, the residuals and the checks. It returns false when there is no line at all; when a check failed it
// returns true with res.Status set.
func fitLine(in *Input, res *Result) bool {
	if len(in.Sweeps) == 0 {
		return givenLine(in, res)
	}
	mem := rowsFor(len(in.Sweeps))
	defer scratch.Put(mem)
	rows := (*mem)[:len(in.Sweeps)]
	n := 0
	for i := range rows {
		w, s := &rows[i], &in.Sweeps[i]
		var prev *row
		if i > 0 {
			prev = &rows[i-1]
		}
		if st := w.load(s, prev, &in.Checks, &res.Checks[i]); st != OK {
			res.Status, res.Sweep = st, i
			return false
		}
		if wt := 1 / (s.U * s.U); prev != nil && &w.u[0] == &prev.u[0] {
			w.m = prev.m.again(w.u, w.v, w.y, wt)
		} else {
			w.m = newMoments(w.u, w.v, w.y, wt, true)
		}
		if k := w.misfit(s.U); k > 1 && !in.NoMisfit {
			res.Checks[i].Misfit = k
			w.m.widen(k)
		}
		n += len(w.y)
	}

	// Refer the offset to the weighted mean station: a = g0·(d + α·θ) + (g1 − α·g0)·θ.
	var s0, s01, s11 float64
	for i := range rows {
		w := &rows[i]
		m := 0.5 * (w.m.uu + w.m.vv)
		s0 += m * w.g0 * w.g0
		s01 += m * w.g0 * w.g1
		s11 += m * w.g1 * w.g1
	}
	if !(s0 > 0) {
		res.Status = PlanesCoincide
		return false
	}
	alpha := s01 / s0
	var q normal
	left := 0.0
	for i := range rows {
		w := &rows[i]
		h1 := w.g1 - alpha*w.g0
		left += 0.5 * (w.m.uu + w.m.vv) * h1 * h1
		q.add(&w.m, w.g0, h1)
	}
	if !(left > minBase*s11) {
		res.Status = PlanesCoincide
		return false
	}
	q.size = [4]float64{s0, left, s0, left}
	p, c, ok := q.solve(4)
	if !ok {
		res.Status = IllConditioned
		return false
	}
	// Back from the mean station to the coupling centre: d = q0 − α·θ.
	l := Line{p[0] - alpha*p[1], p[1], p[2] - alpha*p[3], p[3]}
	for i := 0; i < 4; i += 2 {
		for j := 0; j < 4; j++ {
			c[i][j] -= alpha * c[i+1][j]
		}
	}
	for i := 0; i < 4; i += 2 {
		for j := 0; j < 4; j++ {
			c[j][i] -= alpha * c[j][i+1]
		}
	}
	if !(math.Abs(l.DV)+math.Abs(l.TV)+math.Abs(l.DH)+math.Abs(l.TH) < absurd) || !(c[0][0]+c[1][1]+c[2][2]+c[3][3] < absurd*absurd) {
		res.Status = IllConditioned // readings of kilometres
		return false
	}
	res.Line, res.Cov = l, c
	in.widenTogether(rows, res)
	in.carry(rows, &c, res)

	res.DOF = n - len(rows) - 4
	sw, swr, limit := 0.0, 0.0, 0.0
	for i := range rows {
		w := &rows[i]
		a, b := w.g0*l.DV+w.g1*l.TV, w.g0*l.DH+w.g1*l.TH
		stated := w.m.w * square(res.Checks[i].Misfit) // a sweep that scatters must not weigh so little for it that nothing is seen
		for k := range w.y {
			r := (w.y[k] - w.m.my) - a*(w.u[k]-w.m.mu) - b*(w.v[k]-w.m.mv)
			swr += stated * r * r
		}
		sw += stated * float64(len(w.y))
		if l := res.Checks[i].BalanceLimit; l > limit {
			limit = l
		}
	}
	if res.DOF > 0 {
		// In mm, the weights scaled to a mean of one: for equal weights the plain residual standard deviation. For one sweep at
		// 12, 3, 6, 9 it is half the balance, hence half the limit.
		res.ResidualSD = math.Sqrt(swr / sw * float64(n) / float64(res.DOF))
		res.ResidualLimit = limit / 2
	}
	for i := range res.Checks {
		if c := &res.Checks[i]; beyond(c.Closure, c.ClosureLimit) {
			res.Status, res.Sweep = ClosureFailed, i
			return true
		}
	}
	for i := range res.Checks {
		if c := &res.Checks[i]; beyond(c.Balance, c.BalanceLimit) {
			res.Status, res.Sweep = BalanceFailed, i
			return true
		}
	}
	if beyond(res.ResidualSD, res.ResidualLimit) {
		res.Status = ResidualFailed
	}
	return true
}

// givenLine takes a line reduced elsewhere. Parts that are not given stay NaN, and the line is then not judged.
func givenLine(in *Input, res *Result) bool {
	g, u := in.Given, in.GivenU
	v := [4]float64{g.DV, g.TV, g.DH, g.TH}
	su := [4]float64{u.DV, u.TV, u.DH, u.TH}
	have := 0
	var c Cov
	for i := range v {
		if math.Abs(v[i]) > absurd || (!math.IsNaN(v[i]) && !(su[i] >= 0 && su[i] < absurd)) {
			res.Status = BadInput
			return false
		}
		if !math.IsNaN(v[i]) {
			have++
			c[i][i] = su[i] * su[i]
		} else {
			for j := range v {
				c[i][j], c[j][i] = nan, nan
			}
		}
	}
	if have == 0 {
		res.Status = NoReadings
		return false
	}
	res.Line, res.Cov = g, c
	if have < 4 {
		res.Status = PartOfLine
	}
	return true
}

// wantedSound says whether the wanted line and its covariance are numbers. An offset may be NaN, which leaves it free.
func (in *Input) wantedSound() bool {
	sum := in.Wanted.TV + in.Wanted.TH
	for _, d := range [2]float64{in.Wanted.DV, in.Wanted.DH} {
		if !math.IsNaN(d) {
			sum += d
		}
	}
	for i := range in.WantedCov {
		c := &in.WantedCov[i]
		sum += (c[0] + c[1]) + (c[2] + c[3])
	}
	return math.Abs(sum) < absurd*absurd && (in.Measured == nil || in.Measured.sound())
}

// add adds another covariance.
func (c *Cov) add(o *Cov) {
	for i := range c {
		for j := range c[i] {
			c[i][j] += o[i][j]
		}
	}
}

// deviation settles the wanted line and returns the line's deviation from it with its covariance. A free offset is wanted as it was found.
func deviation(in *Input, res *Result) (Line, Cov) {
	cov := res.Cov
	res.Wanted = in.Wanted
	if m := in.Measured; m != nil {
		var wide Cov
		if res.Wanted, wide = m.Wanted(&in.Wanted, &res.Line, &res.Cov); m.FromFound {
			cov = m.HotCov
			if m.Cooled != 0 {
				lost := m.cooling(&res.Line)
				cov.add(&lost)
			}
		} else {
			cov.add(&wide)
		}
	}
	cov.add(&in.WantedCov)
	free := func(want *float64, found float64, k int) {
		if math.IsNaN(*want) {
			*want = found
			for j := range cov {
				cov[k][j], cov[j][k] = 0, 0
			}
		}
	}
	free(&res.Wanted.DV, res.Line.DV, 0)
	free(&res.Wanted.DH, res.Line.DH, 2)
	l, w := &res.Line, &res.Wanted
	return Line{l.DV - w.DV, l.TV - w.TV, l.DH - w.DH, l.TH - w.TH}, cov
}

// view is one quantity that is read off the line, k0·offset + k1·slope in each plane, with the covariance of its two parts.
type view struct{ k0, k1, vv, vh, hh, uv, uh float64 }

func viewOf(c *Cov, k0, k1 float64) view {
	vv, vh, hh := cross(c, k0, k1, k0, k1)
	return view{k0, k1, vv, vh, hh, 2 * root(vv), 2 * root(hh)}
}

// of returns the quantity for a line, with its expanded uncertainties.
func (w *view) of(l *Line) (vec Vector) {
	vec.V, vec.H = w.k0*l.DV+w.k1*l.TV, w.k0*l.DH+w.k1*l.TH
	vec.UV, vec.UH = w.uv, w.uh
	if sq := vec.V*vec.V + vec.H*vec.H; sq > 1e-200 && sq < 1e200 {
		vec.Total = math.Sqrt(sq)
		s := (w.vv*vec.V*vec.V + 2*w.vh*vec.V*vec.H + w.hh*vec.H*vec.H) / sq
		vec.UTotal = 2 * root(s)
		return vec
	}
	vec.Total = math.Hypot(vec.V, vec.H)
	mid, dif := 0.5*(w.vv+w.hh), math.Hypot(0.5*(w.vv-w.hh), w.vh)
	vec.UTotal = 2 * root(mid+dif)
	return vec
}

// cross returns the covariances V–V, V–H and H–H of the two combinations a0·d + a1·θ and b0·d + b1·θ.
func cross(c *Cov, a0, a1, b0, b1 float64) (vv, vh, hh float64) {
	vv = a0*b0*c[0][0] + (a0*b1+a1*b0)*c[0][1] + a1*b1*c[1][1]
	vh = a0*b0*c[0][2] + a0*b1*c[0][3] + a1*b0*c[1][2] + a1*b1*c[1][3]
	hh = a0*b0*c[2][2] + (a0*b1+a1*b0)*c[2][3] + a1*b1*c[3][3]
	return
}

// A judge holds deviations to the limits of one coupling. What depends on the covariance alone is worked out once.
//
// What is judged: flexible, gear and rigid, the offset vector at the coupling centre against the offset limit and the slope vector against the
// slope limit; spacer of length L between the flex planes, the angles αS = V(L/2)/L and αM = −V(−L/2)/L, each as a vector with H,
// against the slope limit; universal, the slope vector alone.
//
// The verdict is Inside when for every vector magnitude + U ≤ limit and the joint chance is at least 95 %; Outside when for any
// vector magnitude − U > limit; else TooClose. U is expanded with k = 2 along the vector, the guard band of ILAC-G8:09/2019 §4.2.3.
// (Near the centre of the disc a band along the vector alone would promise too much, so the chance is asked for as well.)
// Equal to a limit within 1e-9 relative is inside. A missing limit leaves Share and Chance NaN and the verdict NotJudged.
type judge struct {
	in            *Input
	cov           *Cov
	offset, slope view
	flexS, flexM  view
	flex          bool
	byLength      [4]float64 // Result.byLength
	lengthless    Cov        // cov without it
	only          bool       // share, and whether the verdict is Inside, is all that is asked: no chance is worked out that does not decide it
}

func newJudge(in *Input, cov *Cov, byLength *[4]float64) judge {
	j := judge{in: in, cov: cov, offset: viewOf(cov, 1, 0), slope: viewOf(cov, 0, 1)}
	if in.UDistance > 0 && in.hasLength() {
		if j.lengthless = *cov; in.Measured == nil || !in.Measured.FromFound { // else it is the hot line that is judged, read with a length of its own
			j.byLength = *byLength
		}
		for i := range j.lengthless {
			for k := range j.lengthless {
				j.lengthless[i][k] -= j.byLength[i] * j.byLength[k]
			}
		}
	}
	if in.hasLength() && (in.Coupling == tables.Spacer || in.Coupling == tables.Universal) {
		k := 1000 / in.Length
		c := cov
		if in.UDistance > 0 {
			c = &j.lengthless
		}
		j.flex, j.flexS, j.flexM = true, viewOf(c, k, 0.5), viewOf(c, -k, 0.5)
	}
	return j
}

// of judges one deviation from the wanted line; numbers holds back share, chance and verdict.
func (g *judge) of(dev *Line, numbers bool, j *Judgement) {
	j.Offset, j.Slope = g.offset.of(dev), g.slope.of(dev)
	j.FlexS, j.FlexM = noVector, noVector
	if g.flex {
		if g.in.UDistance > 0 {
			g.flexS, g.flexM = g.lengthFor(dev, 1), g.lengthFor(dev, -1)
		}
		j.FlexS, j.FlexM = g.flexS.of(dev), g.flexM.of(dev)
	}
	j.Share, j.Chance, j.Verdict = nan, nan, NotJudged
	if numbers {
		return
	}
	var one, two *Vector
	var w1, w2 *view
	l1, l2 := g.in.Limits.Slope, g.in.Limits.Slope
	switch g.in.Coupling {
	case tables.Spacer:
		if !g.flex {
			return
		}
		one, two, w1, w2 = &j.FlexS, &j.FlexM, &g.flexS, &g.flexM
	case tables.Universal:
		one, w1 = &j.Slope, &g.slope
	default:
		one, two, w1, w2 = &j.Offset, &j.Slope, &g.offset, &g.slope
		l1 = g.in.Limits.Offset
	}
	if !(l1 > leastLimit) || (two != nil && !(l2 > leastLimit)) || math.IsNaN(one.Total) || (two != nil && math.IsNaN(two.Total)) {
		return
	}
	j.Share = one.Total / l1
	inside := within(one.Total+one.UTotal, l1)
	outside := !within(one.Total-one.UTotal, l1)
	if two != nil {
		j.Share = max(j.Share, two.Total/l2)
		inside = inside && within(two.Total+two.UTotal, l2)
		outside = outside || !within(two.Total-two.UTotal, l2)
	}
	if g.only && !inside && !g.in.AddShares {
		j.Verdict = TooClose
		return
	}
	p1 := discChance(one.V, one.H, w1.vv, w1.vh, w1.hh, l1)
	j.Chance = p1
	if two != nil {
		p2 := discChance(two.V, two.H, w2.vv, w2.vh, w2.hh, l2)
		if lo, hi := p1+p2-1, min(p1, p2); g.only && (lo >= leastChance || hi < leastChance) { // the bounds of pairChance decide
			j.Chance = lo
		} else {
			j.Chance = g.both(one, two, w1, w2, l1, l2, p1, p2)
		}
	}
	if g.in.AddShares && two != nil && g.in.Coupling.ByOffset() {
		inside, outside = g.added(j, one, two, w1, w2, l1, l2)
	}
	if math.IsNaN(j.Chance) || math.IsInf(j.Share, 0) { // numbers past all reason
		j.Share, j.Chance = nan, nan
		return
	}
	switch {
	case inside && j.Chance >= leastChance:
		j.Verdict = Inside
	case outside:
		j.Verdict = Outside
	default:
		j.Verdict = TooClose
	}
}

// added judges the sum of two shares, |one|/l1 + |two|/l2 against 1. Its uncertainty is to first order that of the two magnitudes with their covariance; for a
// vector of no length, which has no direction, the two are added, which is never too little. The chance is the normal one of the sum, and never more than that of both vectors
// being inside their own limits, which the sum asks for as well.
func (g *judge) added(j *Judgement, one, two *Vector, w1, w2 *view, l1, l2 float64) (inside, outside bool) {
	u1, u2 := one.UTotal/l1, two.UTotal/l2
	u := u1 + u2
	if one.Total > 0 && two.Total > 0 {
		vv, vh, hh := cross(g.cov, w1.k0, w1.k1, w2.k0, w2.k1)
		_, hv, _ := cross(g.cov, w2.k0, w2.k1, w1.k0, w1.k1)
		c := (one.V*(vv*two.V+vh*two.H) + one.H*(hv*two.V+hh*two.H)) / (one.Total * two.Total)
		u = root(u1*u1 + u2*u2 + 8*c/(l1*l2))
	}
	j.Share = one.Total/l1 + two.Total/l2
	p := 1.0
	if u > 0 {
		p = phi(2 * (1 - j.Share) / u)
	} else if !within(j.Share, 1) {
		p = 0
	}
	j.Chance = min(j.Chance, p)
	return within(j.Share+u, 1), !within(j.Share-u, 1)
}

// lengthFor is the view of a flex plane (side 1 the stationary one, −1 the movable one) with the uncertainty of the length between the planes, which changes the line read across a
// spool and turns an offset into another angle. Both come from one error and are added before they are squared.
func (g *judge) lengthFor(dev *Line, side float64) view {
	l := g.in.Length
	k := side * 1000 / l
	w := viewOf(&g.lengthless, k, 0.5)
	s := &g.byLength
	v := k*s[0] + 0.5*s[1] - k*dev.DV/l*g.in.UDistance
	h := k*s[2] + 0.5*s[3] - k*dev.DH/l*g.in.UDistance
	w.vv, w.vh, w.hh = w.vv+v*v, w.vh+v*h, w.hh+h*h
	w.uv, w.uh = 2*root(w.vv), 2*root(w.hh)
	return w
}

// both returns the joint chance of two vectors whose chances alone are p1 and p2.
func (g *judge) both(one, two *Vector, w1, w2 *view, l1, l2, p1, p2 float64) float64 {
	if p1 > 1-pairTol || p2 > 1-pairTol || p1 < pairTol || p2 < pairTol { // one bound or the other leaves no room
		return p1 * p2 // between the two, and right if they are independent
	}
	var c Cov
	c[0][0], c[0][1], c[1][1] = w1.vv, w1.vh, w1.hh
	c[2][2], c[2][3], c[3][3] = w2.vv, w2.vh, w2.hh
	c[0][2], c[0][3], c[1][3] = cross(g.cov, w1.k0, w1.k1, w2.k0, w2.k1)
	_, c[1][2], _ = cross(g.cov, w2.k0, w2.k1, w1.k0, w1.k1) // first H with second V
	c[1][0], c[3][2] = c[0][1], c[2][3]
	c[2][0], c[3][0], c[2][1], c[3][1] = c[0][2], c[0][3], c[1][2], c[1][3]
	return pairChance([4]float64{one.V, one.H, two.V, two.H}, &c, l1, l2, p1, p2)
}

// correct fills in the feet or the flange and the line after.
//
// At a foot pair x the shim is s(x) = T_V(x) − V(x), positive to add, and the move m(x) = T_H(x) − H(x), positive towards 3 o'clock,
// T the wanted line. Their uncertainty comes from the covariance of the deviation at x.
func correct(in *Input, res *Result, dev Line, cov *Cov) {
	if in.Bolts >= 3 && in.BoltCircleRadius > 0 {
		correctFlange(in, res, dev)
		return
	}
	for i, x := range in.Feet {
		if !finite(x) {
			res.Feet = res.Feet[:0]
			return
		}
		k := x / 1000
		vv, _, hh := cross(cov, 1, k, 1, k)
		f := Foot{Station: x,
			Shim: -(dev.DV + dev.TV*k), UShim: 2 * root(vv),
			Move: -(dev.DH + dev.TH*k), UMove: 2 * root(hh),
			Rounded: nan, MoveRounded: nan}
		if p := in.Planned; p != nil {
			f.Shim, f.Move = p.Own.At(x)
		}
		if in.UDistance > 0 { // the first pair by one distance, the others by two
			ux := in.UDistance / 1000
			if i > 0 {
				ux *= math.Sqrt2
			}
			f.UShim = 2 * root(vv+square(ux*max(math.Abs(res.Line.TV), math.Abs(dev.TV))))
			f.UMove = 2 * root(hh+square(ux*max(math.Abs(res.Line.TH), math.Abs(dev.TH))))
		}
		if in.Packer != nil {
			if f.Pack = in.Packer.Pack(math.Abs(f.Shim)); finite(f.Shim) {
				f.Rounded = math.Copysign(f.Pack.Sum, f.Shim)
			}
			f.MoveRounded = roundTo(f.Move, in.MoveStep)
		}
		res.Feet = append(res.Feet, f)
	}
	if in.Packer == nil || len(res.Feet) < 2 {
		return
	}
	if after, ok := through(res); ok {
		in.others(&after)
		res.After, res.HasAfter = after, true
	}
}

// others adds what other machines' moves do to a line after.
func (in *Input) others(l *Line) {
	if p := in.Planned; p != nil {
		l.DV, l.TV, l.DH, l.TH = l.DV+p.Others.DV, l.TV+p.Others.TV, l.DH+p.Others.DH, l.TH+p.Others.TH
	}
}

// through is the straight line through where the feet stand after the rounded changes; through more than two pairs the best one.
func through(res *Result) (Line, bool) {
	k := 1 / float64(len(res.Feet))
	var mx, mv, mh float64
	for i := range res.Feet {
		f := &res.Feet[i]
		mx += k * f.Station
		mv += k * (res.Line.at(f.Station, false) + f.Rounded)
		mh += k * (res.Line.at(f.Station, true) + f.MoveRounded)
	}
	var sxx, sxv, sxh float64
	for i := range res.Feet {
		f := &res.Feet[i]
		dx := f.Station - mx
		sxx += dx * dx
		sxv += dx * (res.Line.at(f.Station, false) + f.Rounded - mv)
		sxh += dx * (res.Line.at(f.Station, true) + f.MoveRounded - mh)
	}
	if !(sxx > 0) {
		return Line{}, false
	}
	return Line{mv - sxv/sxx*mx, 1000 * sxv / sxx, mh - sxh/sxx*mx, 1000 * sxh / sxx}, true
}

// at returns the line's height (or with horizontal its position sideways) at a station, mm.
func (l *Line) at(x float64, horizontal bool) float64 {
	if horizontal {
		return l.DH + l.TH*x/1000
	}
	return l.DV + l.TV*x/1000
}

// roundTo rounds to a step, a tie to the smaller magnitude; a step of zero leaves x as it is.
func roundTo(x, step float64) float64 {
	if !(step > 0) {
		return x
	}
	q := math.Abs(x) / step
	n := math.Floor(q)
	if q-n > 0.5+1e-9 {
		n++
	}
	return math.Copysign(n*step, x)
}

// bolt is the direction of bolt i, its cosine and sine.
func (in *Input) bolt(i int) (c, s float64) {
	if c, s = cosSin(360 * float64(i) / float64(in.Bolts)); in.Mirrored {
		s = -s
	}
	return c, s
}

// correctFlange works out a vertical machine that stands on its flange: shims at the bolts take out the slope, a slide the offset.
//
// With R the bolt circle's radius a shim of s(ψ) = k + R·(TV cos ψ + TH sin ψ)/1000 at the bolt at ψ, k the least that leaves none
// negative, turns the slope away: the shim lifts the side to which the shaft leans. Tilting turns the shaft about the flange, so the slide
// is taken at the flange's station, T − V there; with the flange taken at the coupling centre it is minus the offset.
func correctFlange(in *Input, res *Result, dev Line) {
	x := in.FlangeStation
	if !finite(x) {
		x = 0
	}
	if p := in.Planned; p != nil {
		dev = Line{-p.Own.DV, -p.Own.TV, -p.Own.DH, -p.Own.TH}
	}
	res.SlideV, res.SlideH = -(dev.DV + dev.TV*x/1000), -(dev.DH + dev.TH*x/1000)
	res.BoltShims = in.BoltShims(res.BoltShims, dev.TV, dev.TH)
	if len(res.BoltShims) == 0 || !finite(res.SlideV+res.SlideH) {
		res.BoltShims = res.BoltShims[:0] // part of a line
		return
	}
	for i := range res.BoltShims {
		if in.Packer != nil {
			res.BoltPacks = append(res.BoltPacks, in.Packer.Pack(res.BoltShims[i]))
		}
	}
	if in.Packer != nil {
		res.After, res.HasAfter = afterFlange(in, res), true
	}
}

// BoltShims appends the shims at the bolts of a flange that turn a slope of tv and th away, the least of them nothing; none for numbers that are none.
func (in *Input) BoltShims(list []float64, tv, th float64) []float64 {
	low := math.Inf(1)
	for i := range in.Bolts {
		c, s := in.bolt(i)
		h := in.BoltCircleRadius * (tv*c + th*s) / 1000
		low = min(low, h)
		list = append(list, h)
	}
	if !finite(low) {
		return list[:0]
	}
	for i := range list {
		list[i] = max(0, list[i]-low)
	}
	return list
}

// BoltTurn is how far shims at the bolts turn the shaft, mm/m: the slope of the plane that best fits them, taken away.
func (in *Input) BoltTurn(shim func(bolt int) float64) (tv, th float64) {
	var a, b float64
	for i := range in.Bolts {
		c, s := in.bolt(i)
		a += shim(i) * c
		b += shim(i) * s
	}
	f := 2000 / (float64(in.Bolts) * in.BoltCircleRadius)
	return -f * a, -f * b
}

// afterFlange is the line after the bolt packs and the slide of res: the plane that best fits the packs tells how far the slope turns.
func afterFlange(in *Input, res *Result) Line {
	x := in.FlangeStation
	if !finite(x) {
		x = 0
	}
	tv, th := in.BoltTurn(func(i int) float64 { return res.BoltPacks[i].Sum })
	after := Line{TV: res.Line.TV + tv, TH: res.Line.TH + th}
	v := res.Line.at(x, false) + roundTo(res.SlideV, in.MoveStep)
	h := res.Line.at(x, true) + roundTo(res.SlideH, in.MoveStep)
	after.DV, after.DH = v-after.TV*x/1000, h-after.TH*x/1000
	in.others(&after)
	return after
}

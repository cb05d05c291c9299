package calc

import "math"

// What the readings themselves show about their uncertainty, and what sag and distances add to it.

// z95 is what a normal number exceeds in magnitude in one case of twenty.
const z95 = 1.9599639845400545

// chi95 returns the 95 % point of chi-square with n degrees of freedom: exact for one and two, from there on E. B. Wilson and M. M. Hilferty's cube, to better than one per cent.
func chi95(n int) float64 {
	switch n {
	case 1:
		return z95 * z95
	case 2:
		return -2 * math.Log(0.05)
	}
	const z = 1.6448536269514722
	k := 2 / (9 * float64(n))
	c := 1 - k + z*math.Sqrt(k)
	return float64(n) * c * c * c
}

// misfit returns the Birge ratio of a sweep, by which its stated uncertainty u has to be multiplied for the readings to agree as well as they do: the largest of
//
//	|balance| / (2·u)    |closure| / (√2·u)    √(Σr²/(n − 3)) / u
//
// A position that was read several times goes into the balance with its mean, and into the closure with the range of its readings, so that their order does not matter;
// r are the residuals about the sweep's own sine and constant, of those that are larger than chance explains in one case of twenty; 1 if none is. With four readings one wrong one, b
// off, moves the sweep's height by b/2, and its expanded uncertainty becomes 0.7·b.
//
// Reference: R. T. Birge, The calculation of errors by the method of least squares, Physical Review 40 (1932) 207–227 (from memory, not checked against the document).
func (w *row) misfit(u float64) float64 {
	ratio := 1.0
	take := func(r, least float64) {
		if r > least && r > ratio {
			ratio = r
		}
	}
	balance, closure := w.disagreement()
	take(balance/u, z95)
	take(closure/(math.Sqrt2*u), z95)
	if n := len(w.y) - 3; n > 0 {
		if s, ok := w.own(); ok {
			take(math.Sqrt(s/float64(n))/u, math.Sqrt(chi95(n)/float64(n)))
		}
	}
	return ratio
}

// disagreement is the magnitude of the balance over its standard deviation for readings of one, and the largest range at one position. 0 where there is none.
func (w *row) disagreement() (balance, closure float64) {
	var sum, n [4]float64
	for i := range w.y {
		if k := quarter(w.u[i], w.v[i]); k >= 0 {
			sum[k] += w.y[i]
			n[k]++
		}
		for j := range i {
			if same(w.u[i], w.v[i], w.u[j], w.v[j]) {
				closure = max(closure, math.Abs(w.y[i]-w.y[j]))
			}
		}
	}
	if n[0]*n[1]*n[2]*n[3] > 0 {
		balance = math.Abs(sum[0]/n[0]+sum[2]/n[2]-sum[1]/n[1]-sum[3]/n[3]) / math.Sqrt(1/n[0]+1/n[1]+1/n[2]+1/n[3])
	}
	return balance, closure
}

// own is the sum of squares, mm², about the sweep's own sine and constant; ok is false where its positions do not settle one.
func (w *row) own() (sum float64, ok bool) {
	m := &w.m
	det := m.uu*m.vv - m.uv*m.uv
	if !(det > minPivot*m.uu*m.vv) {
		return 0, false
	}
	a, b := (m.uy*m.vv-m.vy*m.uv)/det, (m.vy*m.uu-m.uy*m.uv)/det
	for k := range w.y {
		r := (w.y[k] - m.my) - a*(w.u[k]-m.mu) - b*(w.v[k]-m.mv)
		sum += r * r
	}
	return sum, true
}

// widen multiplies the uncertainty behind the moments by k.
func (m *moments) widen(k float64) {
	q := 1 / (k * k)
	m.w *= q
	m.uu *= q
	m.uv *= q
	m.vv *= q
	m.uy *= q
	m.vy *= q
	m.syy *= q
}

// widenTogether does for all sweeps what misfit does for one: three or more sweeps can disagree about the line though each agrees with itself.
func (in *Input) widenTogether(rows []row, res *Result) {
	if len(rows) < 3 || in.NoMisfit {
		return
	}
	l, sum, n := &res.Line, 0.0, 2*len(rows)-4
	for i := range rows {
		w := &rows[i]
		own, ok := w.own()
		if !ok {
			return
		}
		a, b := w.g0*l.DV+w.g1*l.TV, w.g0*l.DH+w.g1*l.TH
		all := 0.0
		for k := range w.y {
			r := (w.y[k] - w.m.my) - a*(w.u[k]-w.m.mu) - b*(w.v[k]-w.m.mv)
			all += r * r
		}
		sum += w.m.w * (all - own)
	}
	if sum <= chi95(n) {
		return
	}
	q := sum / float64(n)
	res.Misfit = math.Sqrt(q)
	for i := range res.Cov {
		for j := range res.Cov {
			res.Cov[i][j] *= q
		}
	}
}

// carry adds to the covariance of the line what sag and distances contribute. c is that of the readings alone. An error that shifts what sweep i sees by (a, b), its cosine and its sine
// part, moves the line by
//
//	c·Gᵀ·M·(a, b)    G the gains of the sweep, M its moments
//
// Errors with one cause (a bracket, a diameter, the length of the spool) are added before they are squared.
func (in *Input) carry(rows []row, c *Cov, res *Result) {
	l := &res.Line
	shift := func(w *row, a, b float64) (d [4]float64) {
		r := [4]float64{w.g0 * (w.m.uu*a + w.m.uv*b), w.g1 * (w.m.uu*a + w.m.uv*b), w.g0 * (w.m.uv*a + w.m.vv*b), w.g1 * (w.m.uv*a + w.m.vv*b)}
		for i := range d {
			for j := range r {
				d[i] += c[i][j] * r[j]
			}
		}
		return d
	}
	spread := func(d *[4]float64) {
		for i := range d {
			for j := range d {
				res.Cov[i][j] += d[i] * d[j]
			}
		}
	}
	plus := func(d *[4]float64, e [4]float64) {
		for i := range d {
			d[i] += e[i]
		}
	}
	for i := range in.Sweeps {
		s := &in.Sweeps[i]
		one := func(t *Sweep) bool { return t.USag == s.USag && t.SagAt6 == s.SagAt6 }
		if !(s.USag > 0) || !finite(s.USag) || !first(in.Sweeps, i, one) {
			continue
		}
		var d [4]float64
		for k := i; k < len(rows); k++ {
			if one(&in.Sweeps[k]) {
				plus(&d, shift(&rows[k], 0.5*s.USag, 0))
			}
		}
		spread(&d)
	}
	u := in.UDistance
	if !(u > 0) || !finite(u) {
		return
	}
	for i := range in.Sweeps {
		s, w := &in.Sweeps[i], &rows[i]
		a, b := w.g0*l.DV+w.g1*l.TV, w.g0*l.DH+w.g1*l.TH
		if !(s.Diameter > 0) { // rims and steps
			if w.g0 != 0 {
				d := shift(w, -w.g0*l.TV/1000*u, -w.g0*l.TH/1000*u)
				spread(&d)
			}
			continue
		}
		if s.Length > 0 {
			plus(&res.byLength, shift(w, w.g0*l.DV/s.Length*u, w.g0*l.DH/s.Length*u))
		}
		one := func(t *Sweep) bool { return t.Diameter == s.Diameter }
		if !first(in.Sweeps, i, one) {
			continue
		}
		d := shift(w, -a/s.Diameter*u, -b/s.Diameter*u)
		for k := i + 1; k < len(rows); k++ {
			if w := &rows[k]; one(&in.Sweeps[k]) {
				a, b := w.g0*l.DV+w.g1*l.TV, w.g0*l.DH+w.g1*l.TH
				plus(&d, shift(w, -a/s.Diameter*u, -b/s.Diameter*u))
			}
		}
		spread(&d)
	}
	spread(&res.byLength)
}

// first says whether sweep i is the first of which one holds.
func first(sweeps []Sweep, i int, one func(*Sweep) bool) bool {
	for k := range i {
		if one(&sweeps[k]) {
			return false
		}
	}
	return true
}

func square(x float64) float64 { return x * x }

// A PartKind says where a part of an uncertainty comes from.
type PartKind uint8

// Where uncertainty comes from.
const (
	FromSweep     PartKind = iota // the readings of one sweep
	FromSag                       // the droop of the brackets
	FromDistances                 // distances by tape
	FromWanted                    // the wanted line: growth, or a measured change
)

// A UPart is a share of the variance of the magnitude that takes most of its limit.
type UPart struct {
	Kind  PartKind
	Sweep int // FromSweep: which, else −1
	Share float64
}

// effective is in with what the readings showed about their uncertainty in the stated one.
func (in *Input) effective(res *Result) Input {
	e := *in
	e.NoMisfit, e.Packer = true, nil
	e.Sweeps = append([]Sweep(nil), in.Sweeps...)
	for i := range e.Sweeps {
		e.Sweeps[i].U *= res.Checks[i].Misfit * res.Misfit
	}
	return e
}

// tightest is the judged vector that takes most of its limit, found first in the order offset, slope, flex planes.
func (in *Input) tightest(j *Judgement) *Vector {
	switch {
	case !math.IsNaN(j.FlexS.Total) && !in.Coupling.ByOffset() && j.FlexS.Total >= j.FlexM.Total && j.Share == j.FlexS.Total/in.Limits.Slope:
		return &j.FlexS
	case !math.IsNaN(j.FlexM.Total) && !in.Coupling.ByOffset() && j.Share == j.FlexM.Total/in.Limits.Slope:
		return &j.FlexM
	case in.Coupling.ByOffset() && j.Offset.Total/in.Limits.Offset >= j.Slope.Total/in.Limits.Slope:
		return &j.Offset
	}
	return &j.Slope
}

// Parts says what the uncertainty of the tightest magnitude of res, the result of in, is made of, the largest first. The shares add up to 1. Nil without a verdict.
//
// Sag, distances and the wanted line are left out one at a time. Of the readings, a sweep's share is how fast the variance falls with that of its readings: the variance is
// homogeneous of the first degree in them, so these add up (Euler).
func (in *Input) Parts(res *Result) []UPart {
	if math.IsNaN(res.Found.Share) || len(in.Sweeps) == 0 {
		return nil
	}
	base := in.effective(res)
	var r Result
	variance := func(e *Input) float64 {
		Solve(e, &r)
		u := in.tightest(&r.Found).UTotal
		return u * u
	}
	all := variance(&base)
	if !(all > 0) {
		return nil
	}
	var list []UPart
	add := func(kind PartKind, sweep int, v float64) {
		if share := v / all; share > 1e-6 {
			list = append(list, UPart{kind, sweep, share})
		}
	}
	const eps = 1e-3
	for i := range base.Sweeps {
		u := base.Sweeps[i].U
		base.Sweeps[i].U = u * math.Sqrt(1-eps)
		add(FromSweep, i, (all-variance(&base))/eps)
		base.Sweeps[i].U = u
	}
	e := base
	e.Sweeps = append([]Sweep(nil), base.Sweeps...)
	for i := range e.Sweeps {
		e.Sweeps[i].USag = 0
	}
	add(FromSag, -1, all-variance(&e))
	e = base
	e.UDistance = 0
	add(FromDistances, -1, all-variance(&e))
	e = base
	e.WantedCov = Cov{}
	if m := base.Measured; m != nil && !m.FromFound {
		sure := *m
		sure.ColdCov, sure.HotCov = Cov{}, Cov{}
		e.Measured = &sure
	}
	add(FromWanted, -1, all-variance(&e))
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && list[k].Share > list[k-1].Share; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
	return list
}

// Settles says what would decide a verdict that is too close to call, if the numbers stay as they are: reading sweep i so many times more (the same positions, so its u falls with the
// root of their number), the cheapest first; sweep −1 means all of them. times 0: no number of repeats does.
func (in *Input) Settles(res *Result) (sweep, times int) {
	if res.Found.Verdict != TooClose || len(in.Sweeps) == 0 {
		return -1, 0
	}
	base := in.effective(res)
	var r Result
	settled := func() bool {
		Solve(&base, &r)
		return r.Found.Verdict == Inside || r.Found.Verdict == Outside
	}
	for _, more := range [...]int{1, 3} {
		k := 1 / math.Sqrt(float64(1+more))
		best, least := -1, math.Inf(1)
		for i := range base.Sweeps {
			u := base.Sweeps[i].U
			if base.Sweeps[i].U = u * k; settled() && in.tightest(&r.Found).UTotal < least {
				best, least = i, in.tightest(&r.Found).UTotal
			}
			base.Sweeps[i].U = u
		}
		if best >= 0 {
			return best, more
		}
		for i := range base.Sweeps {
			base.Sweeps[i].U *= k
		}
		if settled() {
			return -1, more
		}
		for i := range base.Sweeps {
			base.Sweeps[i].U /= k
		}
	}
	return -1, 0
}

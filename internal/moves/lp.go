package moves

import (
	"math"
	"slices"
)

// An ending is how a linear programme ended.
type ending uint8

const (
	optimal    ending = iota
	infeasible        // no point meets all rows, and the certificate was checked
	undecided         // arithmetic did not come to an answer that bears checking
)

// A program is the linear programme
//
//	least c·x with a[i]·x ≤ b[i] for every i, x of either sign,
//
// whose value is bounded below wherever it can be met, as sums of magnitudes are. It is solved by the dual simplex method with an explicit inverse: a basis is n rows that
// hold with equality, the multipliers are never negative, and a row that is not met takes the place of one that is. Rows that come later (tangents of a circle) go on from the
// last basis, and a row that cannot be met gives Farkas' certificate at once. Tangents that stand side by side make a basis that is nearly singular, so what an inverse left
// over in rows and costs is taken off again and again. n is a few dozen at most, so the inverse is dense; a row has a few coefficients.
type program struct {
	n    int
	c    []float64
	a    []row
	b    []float64
	box  float64 // the first 2n rows are |x| ≤ box, which give the first basis
	used int     // pivots in all

	basis []int
	in    []bool      // of every row: it is in the basis
	inv   [][]float64 // of the rows of the basis; inv[j][i] belongs to variable j and row i of the basis
	x, y  []float64
	bland bool
	tol   float64 // how far a row may be past
	fresh bool    // inv, x and y come from the rows, not from a chain of updates
	since int     // pivots since inv came from the rows
	work  [][]float64
	tilt  bool // y belongs to c with a little added to each, by which no two ways cost the same: many costs are nothing, and the search would go round among equals
}

const (
	feasTol  = 1e-10 // how far a row may be past as it is scaled: mm, of a tangent radii
	looseTol = 6e-10 // the same where tangents lie so close to each other that rounding is more than that
	zeroTol  = 1e-11 // what counts as nothing in a row of the tableau
	square   = 1e-7  // a coefficient in the basis beyond which a row may come in without a second thought
	give     = 1e-9  // how far a multiplier may go below nothing
	ray      = 1e-11 // the least by which a certificate must say no
	chained  = 40    // pivots after which the inverse is made anew
)

// row is the coefficients of a row that are not nothing, and of which variables they are.
type row struct {
	of    []int
	value []float64
}

func (r *row) dot(x []float64) float64 {
	s := 0.0
	for k, j := range r.of {
		s += r.value[k] * x[j]
	}
	return s
}

// addTo adds z times the row to sum.
func (r *row) addTo(sum []float64, z float64) {
	for k, j := range r.of {
		sum[j] += z * r.value[k]
	}
}

func newProgram(n int) *program { return &program{n: n, c: make([]float64, n)} }

// add adds the row a·x ≤ b, scaled to a largest coefficient of 1. A row without coefficients is kept: it says no if b is negative.
func (p *program) add(a []float64, b float64) {
	big := 0.0
	for _, v := range a {
		big = max(big, math.Abs(v))
	}
	if big == 0 {
		big = 1
	}
	p.scaled(a, b, big)
}

// scaled adds the row a·x ≤ b divided by unit.
func (p *program) scaled(a []float64, b, unit float64) {
	some := 0
	for _, v := range a {
		if v != 0 {
			some++
		}
	}
	r := row{make([]int, 0, some), make([]float64, 0, some)}
	for j, v := range a {
		if v != 0 {
			r.of, r.value = append(r.of, j), append(r.value, v/unit)
		}
	}
	p.a, p.b, p.in = append(p.a, r), append(p.b, b/unit), append(p.in, false)
}

func dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		if v != 0 {
			s += v * b[i]
		}
	}
	return s
}

// solve finds the least value. The first way takes the row that is past the most; where its answer does not bear checking, the second takes the first such row (Bland's
// rule, which cannot go round in circles) and inverts afresh at every tenth step. second says that it was needed.
// more, if not nil, adds rows that the answer at hand does not meet, and says whether there were any.
func (p *program) solve(more func() bool) (end ending, second bool) {
	rows, bounds := p.a, p.b
	for _, bland := range []bool{false, true} {
		scale := 1.0
		for _, b := range bounds {
			scale = max(scale, math.Abs(b))
		}
		for box := 30 * scale; box < 1e7*scale; box *= 1e3 {
			p.start(rows, bounds, box, bland)
			end = p.grow(more)
			rows, bounds = p.a[2*p.n:], p.b[2*p.n:] // what was added holds for any other way as well
			if end != undecided {
				return end, bland
			}
		}
	}
	return undecided, true
}

// grow runs, with rows added until none is missing, and settles; what is missing then is added again.
func (p *program) grow(more func() bool) ending {
	for range 40 {
		for {
			if end := p.run(); end != optimal {
				return end
			}
			if len(p.a) > 4000 || more == nil || !more() {
				break
			}
		}
		if end := p.settle(); end != optimal || more == nil || !more() {
			return end
		}
	}
	return undecided
}

// start sets the first basis: every variable at the end of the box that the cost likes best.
func (p *program) start(rows []row, bounds []float64, box float64, bland bool) {
	n := p.n
	p.box, p.bland, p.fresh, p.tilt, p.tol = box, bland, true, !bland, feasTol
	p.a, p.b = make([]row, 0, len(rows)+2*n), make([]float64, 0, len(rows)+2*n)
	for j := range n {
		for _, s := range [2]float64{1, -1} {
			p.a, p.b = append(p.a, row{[]int{j}, []float64{s}}), append(p.b, box)
		}
	}
	p.a, p.b = append(p.a, rows...), append(p.b, bounds...)
	p.in = make([]bool, len(p.a))
	p.since = 0
	p.basis, p.x, p.y, p.inv = make([]int, n), make([]float64, n), make([]float64, n), make([][]float64, n)
	for j := range n {
		p.inv[j] = make([]float64, n)
		s := -1.0
		if p.basis[j] = 2*j + 1; p.c[j] < 0 {
			p.basis[j], s = 2*j, 1
		}
		p.inv[j][j], p.x[j], p.y[j] = s, s*box, math.Abs(p.cost(j))
		p.in[p.basis[j]] = true
	}
}

// cost is c, tilted while that is wanted: away from nothing, each by another amount.
func (p *program) cost(j int) float64 {
	if !p.tilt {
		return p.c[j]
	}
	const least, golden = 1e-6, 0.6180339887498949
	_, part := math.Modf(golden * float64(j+1))
	return p.c[j] + math.Copysign(least*(1+part), p.c[j])
}

// settle takes the tilt off the costs and goes on, from one corner that meets all rows to the next, until no multiplier is negative; then it proves the answer.
func (p *program) settle() ending {
	p.tilt = false
	d := make([]float64, p.n)
	for range 4 * (p.n + 10) {
		if !p.refresh() {
			return undecided
		}
		out := -1
		for i, y := range p.y {
			if y < -1e-9 && (out < 0 || y < p.y[out]) {
				out = i
			}
		}
		if out < 0 && p.violated() >= 0 {
			if end := p.run(); end != optimal {
				return end
			}
			continue
		}
		if out < 0 {
			return p.checked()
		}
		in := p.met(out)
		if in < 0 {
			return undecided
		}
		p.inBasis(in, d)
		p.pivot(in, out, d)
	}
	return undecided
}

// met is the row that is met first on the way off row out of the basis; of several that are met within what a row may be past, the one met most squarely. −1: none.
func (p *program) met(out int) int {
	rates, far := make([]float64, len(p.a)), math.Inf(1)
	for r := range p.a {
		if p.in[r] {
			continue
		}
		rate := 0.0
		for k, j := range p.a[r].of {
			rate -= p.a[r].value[k] * p.inv[j][out]
		}
		if rates[r] = rate; rate > 1e-9 {
			far = min(far, (max(p.b[r]-p.a[r].dot(p.x), 0)+feasTol)/rate)
		}
	}
	in := -1
	for r, rate := range rates {
		if rate > 1e-9 && (in < 0 || rate > rates[in]) && max(p.b[r]-p.a[r].dot(p.x), 0)/rate <= far {
			in = r
		}
	}
	return in
}

// run pivots until nothing is past its bound, or a row says no. After rows were added it goes on from where it was.
func (p *program) run() ending {
	d := make([]float64, p.n)
	for steps, limit := 0, 8*(p.n+10)+len(p.a); ; steps++ {
		if steps > limit {
			return undecided
		}
		if steps > limit/8 { // it may go round among corners that differ by rounding only
			p.tol = looseTol
		}
		if steps > limit/2 {
			p.bland = true
		}
		if (p.bland && !p.fresh && steps%10 == 0 || p.since >= chained) && !p.refresh() {
			return undecided
		}
		r := p.violated()
		if r < 0 {
			if p.fresh {
				return optimal // settle proves it
			}
			p.refine()
			p.refine()
			p.fresh = true
			continue
		}
		p.inBasis(r, d)
		out := p.leaving(d, square)
		if out < 0 {
			if p.since > 0 { // say no only on fresh numbers
				if !p.refresh() {
					return undecided
				}
				continue
			}
			if p.refused(r, d) {
				return infeasible
			}
			if out = p.leaving(d, zeroTol); out < 0 {
				return undecided
			}
		}
		p.pivot(r, out, d)
	}
}

// violated is the row past its bound by the most, by Bland's rule the first; −1 none.
func (p *program) violated() int {
	at, most := -1, p.tol
	for i := range p.a {
		if over := p.a[i].dot(p.x) - p.b[i]; over > most && !p.in[i] {
			if at, most = i, over; p.bland {
				return at
			}
		}
	}
	return at
}

// inBasis works out d, row r as a sum of the rows of the basis.
func (p *program) inBasis(r int, d []float64) {
	clear(d)
	for k, j := range p.a[r].of {
		v := p.a[r].value[k]
		for i, w := range p.inv[j] {
			d[i] += v * w
		}
	}
}

// leaving is the row of the basis that keeps all multipliers from going negative by more than nothing; of several the one with the largest coefficient, and none with one of
// least or less: the basis would be nearly singular. −1: none can.
func (p *program) leaving(d []float64, least float64) int {
	best := math.Inf(1)
	for i, v := range d {
		if v > least {
			best = min(best, (max(p.y[i], 0)+give)/v)
		}
	}
	out := -1
	for i, v := range d {
		if v <= least || max(p.y[i], 0)/v > best {
			continue
		}
		if out < 0 || !p.bland && v > d[out] || p.bland && p.basis[i] < p.basis[out] {
			out = i
		}
	}
	return out
}

// pivot puts row r in the place of row out of the basis.
func (p *program) pivot(r, out int, d []float64) {
	p.used++
	p.since++
	p.fresh = false
	over := p.a[r].dot(p.x) - p.b[r]
	for j := range p.inv {
		v := p.inv[j]
		v[out] /= d[out]
		if v[out] == 0 {
			continue
		}
		p.x[j] -= over * v[out]
		for i := range v {
			if i != out {
				v[i] -= d[i] * v[out]
			}
		}
	}
	step := max(p.y[out], 0) / d[out]
	for i := range p.y {
		p.y[i] -= step * d[i]
	}
	p.in[p.basis[out]], p.in[r] = false, true
	p.y[out], p.basis[out] = step, r
}

// refresh inverts the rows of the basis anew, and works x and y out from that.
func (p *program) refresh() bool {
	n := p.n
	m := p.work
	if len(m) != n {
		m = make([][]float64, n)
		for i := range m {
			m[i] = make([]float64, 2*n)
		}
		p.work = m
	}
	for i := range m {
		clear(m[i])
		p.a[p.basis[i]].addTo(m[i], 1)
		m[i][n+i] = 1
	}
	for k := range n {
		at := k
		for i := k + 1; i < n; i++ {
			if math.Abs(m[i][k]) > math.Abs(m[at][k]) {
				at = i
			}
		}
		if !(math.Abs(m[at][k]) > 1e-13) {
			return false
		}
		m[k], m[at] = m[at], m[k]
		from := m[k]
		f := 1 / from[k]
		for j := k; j < 2*n; j++ {
			from[j] *= f
		}
		for i := range n {
			if g := m[i][k]; i != k && g != 0 {
				to := m[i][:2*n]
				for j := k; j < 2*n; j++ {
					to[j] -= g * from[j]
				}
			}
		}
	}
	clear(p.x)
	clear(p.y)
	for j := range n {
		copy(p.inv[j], m[j][n:])
	}
	for range 3 { // the first works them out
		p.refine()
	}
	p.fresh, p.since = true, 0
	return true
}

// refine takes off x and y what they leave over in the rows of the basis and in the costs.
func (p *program) refine() {
	n := p.n
	rx, ry := make([]float64, n), make([]float64, n)
	for j := range n {
		ry[j] = -p.cost(j)
	}
	for i, r := range p.basis {
		rx[i] = p.b[r] - p.a[r].dot(p.x)
		p.a[r].addTo(ry, -p.y[i])
	}
	for j := range n {
		p.x[j] += dot(rx, p.inv[j])
		for i, v := range p.inv[j] {
			p.y[i] += ry[j] * v
		}
	}
}

// checked proves the answer by plain arithmetic: every row met, no multiplier negative, no part of it from the box, and both values alike.
func (p *program) checked() ending {
	rest := slices.Clone(p.c)
	dual := 0.0
	for i, r := range p.basis {
		if p.y[i] < -1e-8 || r < 2*p.n && p.y[i] > 1e-8 {
			return undecided
		}
		p.a[r].addTo(rest, p.y[i])
		dual -= p.y[i] * p.b[r]
	}
	reach := 0.0 // what the coefficients left over could make of an x as large as this one
	for j, v := range rest {
		reach += math.Abs(v) * (1 + 2*math.Abs(p.x[j]))
	}
	value := dot(p.c, p.x)
	if near := 1e-7 * (1 + math.Abs(value)); !(reach <= near && math.Abs(value-dual) <= near) || p.violated() >= 0 {
		return undecided
	}
	return optimal
}

// refused proves that row r cannot be met beside those of the basis: multipliers z ≥ 0 of the rows, not of the box, whose sum has no coefficients, z·a = 0, and a negative bound, z·b < 0.
func (p *program) refused(r int, d []float64) bool {
	sum, bound := make([]float64, p.n), p.b[r]
	p.a[r].addTo(sum, 1)
	for i, k := range p.basis {
		z := max(-d[i], 0)
		if k < 2*p.n {
			continue
		}
		p.a[k].addTo(sum, z)
		bound += z * p.b[k]
	}
	reach := 0.0 // what the coefficients left over could make of any x that is not absurd
	for _, v := range sum {
		reach += math.Abs(v) * p.box
	}
	return bound+reach < -ray
}

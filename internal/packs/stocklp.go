package packs

import (
	"math"
	"shimsheet/internal/sorting"
	"slices"
)

// A relaxation is the linear programme of a part: of each block (see [part]) a mixture of ways, weights 0 or more that add up to 1, such that the items on hand suffice
// for the mixture and the blocks met of a class are no fewer than demanded. A way is a candidate for each foot of the block, or none at all.
//
// It is solved by the simplex method with ways made when they are wanted: at prices on the rows a block's cheapest way is each foot's cheapest candidate. The
// blocks' own rows (weights add up to 1) are not in the basis matrix: each block has one basic way as its key, and what is left is a matrix of the size of the
// other rows, a dozen or so, however many blocks there are (generalised upper bounding: Dantzig and Van Slyke, Journal of Computer and System Sciences 1, 1967, from
// memory). Nothing rests on its rounding: what it hands on is prices, and the bound at these is worked out in whole numbers, see [relaxation.bound].
//
// Products are converted before they are added, so that no processor fuses the two: the same job has the same plan everywhere.
type relaxation struct {
	p      *part
	rows   int       // of items, then of demands
	rhs    []int64   // pieces on hand; blocks demanded, negative
	demand []int     // row of each class, −1 none
	gain   []float64 // of each class: what a block met counts, negative, beside its candidates' cost
	priced bool      // the candidates' cost counts
	scale  float64   // of the candidates' cost
	big    float64   // penalty of what the node rules out

	key   []way // of each block
	basic []way // of the rows; block −1: the slack of row
	inv   []float64
	x     []float64 // values of basic
	price []float64
	since int // pivots since inv was made anew

	d, v, share []float64
	touched     []int
	costs       []float64 // of the candidates
}

// A way is one way to meet a block, or a slack.
type way struct {
	block int // −1: the slack of row
	row   int
	picks []int32 // of each foot of the block; nil: not met
	cost  float64
	a     []float64 // in each row
}

const (
	lpEps     = 1e-9
	struckOut = 1 << 20 // rules against a candidate that is struck out
)

func newRelaxation(p *part, st *stage) *relaxation {
	l := &relaxation{p: p, rhs: slices.Clone(p.have), demand: make([]int, len(st.need)), gain: make([]float64, len(st.need)), priced: st.class < 0}
	for c, n := range st.need {
		l.demand[c] = -1
		if n > 0 && n < p.asked[c] {
			l.demand[c] = len(l.rhs)
			l.rhs = append(l.rhs, -int64(n))
		}
	}
	if st.class >= 0 {
		l.gain[st.class] = -1
	}
	l.rows = len(l.rhs)
	l.scale = 1
	if l.priced {
		for _, c := range p.cost {
			l.scale = max(l.scale, float64(c))
		}
	}
	l.costs = make([]float64, len(p.cost))
	if l.priced {
		for k, c := range p.cost {
			l.costs[k] = float64(c) / l.scale
		}
	}
	l.big = 100 * float64(len(p.feet)+10)
	l.inv = make([]float64, l.rows*l.rows)
	l.x, l.price, l.d, l.v = make([]float64, l.rows), make([]float64, l.rows), make([]float64, l.rows), make([]float64, l.rows)
	l.share = make([]float64, len(p.blocks))
	return l
}

// start makes the basis of a plan that is possible: its ways as keys, and every slack.
func (l *relaxation) start(picks []int) {
	l.key, l.basic = l.key[:0], l.basic[:0]
	for b := range l.p.blocks {
		var w []int32
		for _, f := range l.p.blocks[b].feet {
			if picks[f] >= 0 {
				w = append(w, int32(picks[f]))
			}
		}
		if len(w) < len(l.p.blocks[b].feet) {
			w = nil
		}
		l.key = append(l.key, l.way(b, w))
	}
	for r := range l.rows {
		l.basic = append(l.basic, way{block: -1, row: r})
	}
	l.refactor()
}

// way is a block's way with its cost and its rows.
func (l *relaxation) way(b int, picks []int32) way {
	w := way{block: b, picks: picks, cost: l.wayCost(b, picks), a: make([]float64, l.rows)}
	if picks == nil {
		return w
	}
	if r := l.demand[l.p.blocks[b].class]; r >= 0 {
		w.a[r] = -1
	}
	for _, k := range picks {
		for d := l.p.first[k]; d < l.p.first[k+1]; d++ {
			w.a[l.p.drawRow[d]] += l.p.drawN[d]
		}
	}
	return w
}

// wayCost is the cost of a block's way, with a penalty for each rule that it breaks.
func (l *relaxation) wayCost(b int, picks []int32) float64 {
	if picks == nil {
		if l.p.must[b] > 0 {
			return l.big
		}
		return 0
	}
	cost := l.gain[l.p.blocks[b].class]
	if l.p.out[b] > 0 {
		cost += l.big
	}
	for _, k := range picks {
		cost += l.costs[k]
		if l.p.ban[k] > 0 {
			cost += l.big
		}
	}
	return cost
}

// reprice takes up what a node rules out: only the costs of basic ways change, so the basis stays possible.
func (l *relaxation) reprice() {
	for b := range l.key {
		l.key[b].cost = l.wayCost(b, l.key[b].picks)
	}
	for i := range l.basic {
		if w := &l.basic[i]; w.block >= 0 {
			w.cost = l.wayCost(w.block, w.picks)
		}
	}
}

// refactor makes the inverse and the values anew.
func (l *relaxation) refactor() {
	n := l.rows
	m := make([]float64, n*n)
	clear(l.inv)
	for j := range l.basic {
		l.effective(&l.basic[j])
		for r := range n {
			m[r*n+j] = l.v[r]
		}
		l.inv[j*n+j] = 1
	}
	for c := range n {
		best := c
		for r := c + 1; r < n; r++ {
			if math.Abs(m[r*n+c]) > math.Abs(m[best*n+c]) {
				best = r
			}
		}
		if m[best*n+c] == 0 {
			continue // not reached: a basis has an inverse
		}
		for k := range n {
			m[c*n+k], m[best*n+k] = m[best*n+k], m[c*n+k]
			l.inv[c*n+k], l.inv[best*n+k] = l.inv[best*n+k], l.inv[c*n+k]
		}
		f := 1 / m[c*n+c]
		for k := range n {
			m[c*n+k] *= f
			l.inv[c*n+k] *= f
		}
		for r := range n {
			if g := m[r*n+c]; r != c && g != 0 {
				for k := range n {
					m[r*n+k] -= float64(g * m[c*n+k])
					l.inv[r*n+k] -= float64(g * l.inv[c*n+k])
				}
			}
		}
	}
	rest := make([]float64, n)
	for r := range rest {
		rest[r] = float64(l.rhs[r])
	}
	for b := range l.key {
		for r, a := range l.key[b].a {
			rest[r] -= a
		}
	}
	for i := range n {
		s := 0.0
		for r := range n {
			s += float64(l.inv[i*n+r] * rest[r])
		}
		l.x[i] = max(0, s)
	}
	l.since = 0
}

// effective puts into v what a way draws beyond its block's key, or a slack's row.
func (l *relaxation) effective(w *way) {
	clear(l.v)
	if w.block < 0 {
		l.v[w.row] = 1
		return
	}
	key := l.key[w.block].a
	for r, a := range w.a {
		l.v[r] = a - key[r]
	}
}

// prices works out the price of each row at the basis. One of an optimal basis is not negative.
func (l *relaxation) prices() {
	n := l.rows
	clear(l.price)
	for j := range l.basic {
		w := &l.basic[j]
		if w.block < 0 {
			continue
		}
		if c := w.cost - l.key[w.block].cost; c != 0 {
			for r := range n {
				l.price[r] -= float64(c * l.inv[j*n+r])
			}
		}
	}
}

// worth is the cost of a way at the prices.
func (l *relaxation) worth(w *way) float64 {
	s := w.cost
	for r, a := range w.a {
		s += float64(l.price[r] * a)
	}
	return s
}

// cheapest is a block's cheapest way that the node allows, at the prices; picks are appended to buf.
func (l *relaxation) cheapest(b int, buf []int32) (picks []int32, cost float64) {
	p := l.p
	bl := &p.blocks[b]
	cost = math.Inf(1)
	if p.must[b] == 0 {
		cost = 0
	}
	if p.out[b] > 0 {
		return nil, cost
	}
	sum := l.gain[bl.class]
	if r := l.demand[bl.class]; r >= 0 {
		sum -= l.price[r]
	}
	for _, f := range bl.feet {
		best, low := int32(-1), math.Inf(1)
		for _, k := range p.alive[f] {
			if p.ban[k] > 0 {
				continue
			}
			v := l.costs[k]
			for d := p.first[k]; d < p.first[k+1]; d++ {
				v += float64(l.price[p.drawRow[d]] * p.drawN[d])
			}
			if v < low {
				best, low = k, v
			}
		}
		if best < 0 {
			return nil, cost
		}
		sum += low
		buf = append(buf, best)
	}
	if sum < cost {
		return buf, sum
	}
	return nil, cost
}

// enter brings a way into the basis as far as it can go. It returns false where nothing holds it, which cannot be.
func (l *relaxation) enter(w way) bool {
	n := l.rows
	l.effective(&w)
	for i := range n {
		s := 0.0
		for r := range n {
			if l.v[r] != 0 {
				s += float64(l.inv[i*n+r] * l.v[r])
			}
		}
		l.d[i] = s
	}
	// How fast each block's key changes, and what it is now.
	l.touched = l.touched[:0]
	touch := func(b int) {
		if !slices.Contains(l.touched, b) {
			l.touched = append(l.touched, b)
			l.share[b] = 0
		}
	}
	if w.block >= 0 {
		touch(w.block)
		l.share[w.block] = -1
	}
	for i := range l.basic {
		if b := l.basic[i].block; b >= 0 {
			touch(b)
			l.share[b] += l.d[i]
		}
	}
	const tiny = 1e-10
	at, keyOf, step, pivot := -1, -1, math.Inf(1), 0.0
	for i := range n {
		if d := l.d[i]; d > tiny {
			if t := max(0, l.x[i]) / d; t < step-1e-12 || t <= step+1e-12 && d > pivot {
				at, step, pivot = i, min(t, step), d
			}
		}
	}
	for _, b := range l.touched {
		if d := -l.share[b]; d > tiny {
			if t := max(0, l.keyValue(b)) / d; t < step-1e-12 || t <= step+1e-12 && d > pivot {
				at, keyOf, step, pivot = -1, b, min(t, step), d
			}
		}
	}
	if at < 0 && keyOf < 0 {
		return false
	}
	if keyOf >= 0 {
		// Another way of the block becomes its key, and the old key leaves from there.
		old := l.keyValue(keyOf)
		for i := range l.basic {
			if l.basic[i].block == keyOf && (at < 0 || l.x[i] > l.x[at]) {
				at = i
			}
		}
		if at < 0 {
			for i := range n {
				l.x[i] = max(0, l.x[i]-float64(step*l.d[i]))
			}
			l.key[keyOf] = w
			return true
		}
		for r := range n {
			s := 0.0
			for i := range l.basic {
				if l.basic[i].block == keyOf {
					s += l.inv[i*n+r]
				}
			}
			l.v[r] = -s
		}
		copy(l.inv[at*n:at*n+n], l.v)
		l.d[at] = -l.share[keyOf]
		l.x[at] = old
		l.key[keyOf], l.basic[at] = l.basic[at], l.key[keyOf]
	}
	for i := range n {
		l.x[i] = max(0, l.x[i]-float64(step*l.d[i]))
	}
	l.x[at], l.basic[at] = step, w
	f := 1 / l.d[at]
	for r := range n {
		l.inv[at*n+r] *= f
	}
	for i := range n {
		if g := l.d[i]; i != at && g != 0 {
			for r := range n {
				l.inv[i*n+r] -= float64(g * l.inv[at*n+r])
			}
		}
	}
	if l.since++; l.since >= 60 {
		l.refactor()
	}
	return true
}

// keyValue is the weight of a block's key.
func (l *relaxation) keyValue(b int) float64 {
	v := 1.0
	for i := range l.basic {
		if l.basic[i].block == b {
			v -= l.x[i]
		}
	}
	return v
}

// solve goes on to the optimum of what the node allows, until a bound at prices on the way exceeds enough (in the programme's own scale), or to the end of the work.
// It returns false if the optimum was not reached.
func (l *relaxation) solve(enough float64) bool {
	p := l.p
	type offer struct {
		w way
		r float64
	}
	var offers []offer
	for range 400 {
		if p.spent() {
			return false
		}
		l.prices()
		offers = offers[:0]
		p.work += int64(l.rows * l.rows)
		nonneg := true
		for r := range l.rows {
			if l.price[r] < -lpEps {
				nonneg = false
				offers = append(offers, offer{way{block: -1, row: r}, l.price[r]})
			}
		}
		value := 0.0
		for b := range p.blocks {
			picks, cost := l.cheapest(b, nil)
			value += cost
			if was := l.worth(&l.key[b]); cost < was-lpEps {
				offers = append(offers, offer{l.way(b, picks), cost - was})
			}
		}
		p.work += p.effort
		if len(offers) == 0 {
			return true
		}
		if nonneg {
			for r := range l.rows {
				value -= float64(l.price[r] * float64(l.rhs[r]))
			}
			if value > enough {
				return true
			}
		}
		sorting.By(offers, func(a, b *offer) int {
			switch {
			case a.r < b.r:
				return -1
			case a.r > b.r:
				return 1
			}
			return a.w.block - b.w.block
		})
		for i := range offers {
			w := &offers[i].w
			if i > 0 {
				l.prices()
				p.work += int64(l.rows * l.rows)
			}
			var r float64
			if w.block < 0 {
				r = l.price[w.row]
			} else {
				r = l.worth(w) - l.worth(&l.key[w.block])
			}
			if r < -lpEps {
				if !l.enter(*w) {
					return false
				}
				p.work += int64(3 * l.rows * l.rows)
			}
		}
	}
	return false
}

// bound is what no plan that the node allows can cost less than, in whole numbers: the prices of the relaxation are rounded to whole multiples of 1/unit,
// and whatever prices are 0 or more, each block's cheapest way at these, less the price of all that is on hand, is such a bound (Lagrange). It is exact, and in units of
// cost / unit; ok is false where the node allows no plan at all. With strike, the candidates whose own bound reaches limit are struck out of the part.
func (l *relaxation) bound(limit int64, strike bool) (value int64, ok bool) {
	p := l.p
	unit := p.unit
	price := make([]int64, l.rows)
	scale := l.scale * float64(unit)
	for _, v := range l.price {
		scale = min(scale, p.priceCap/max(v, 1e-300))
	}
	for r := range price {
		if v := math.Round(float64(l.price[r] * scale)); v > 0 { // not for a NaN
			price[r] = int64(min(v, p.priceCap))
		}
		value -= price[r] * l.rhs[r]
	}
	low := make([]int64, len(p.feet))
	at := func(k int32) int64 {
		v := int64(0)
		if l.priced {
			v = p.cost[k] * unit
		}
		for d := p.first[k]; d < p.first[k+1]; d++ {
			v += price[p.drawRow[d]] * int64(p.drawN[d])
		}
		return v
	}
	type sum struct {
		met, least int64
		can        bool
	}
	sums := make([]sum, len(p.blocks))
	for b := range p.blocks {
		bl := &p.blocks[b]
		s := sum{can: p.out[b] == 0}
		s.met = int64(l.gain[bl.class]) * unit
		if r := l.demand[bl.class]; r >= 0 {
			s.met -= price[r]
		}
		for _, f := range bl.feet {
			low[f] = math.MaxInt64
			if p.phantom[f] >= 0 {
				if low[f] = 0; l.priced {
					low[f] = p.phantom[f] * unit
				}
			}
			for _, k := range p.alive[f] {
				if p.ban[k] == 0 {
					low[f] = min(low[f], at(k))
				}
			}
			if low[f] == math.MaxInt64 {
				s.can = false
				break
			}
			s.met += low[f]
		}
		switch {
		case !s.can && p.must[b] > 0:
			return 0, false
		case s.can && (p.must[b] > 0 || s.met < 0):
			s.least = s.met
		}
		sums[b] = s
		value += s.least
	}
	p.work += p.effort
	if !strike {
		return value, true
	}
	for b := range p.blocks {
		s := &sums[b]
		for _, f := range p.blocks[b].feet {
			p.alive[f] = slices.DeleteFunc(p.alive[f], func(k int32) bool {
				gone := !s.can || value-s.least+s.met-low[f]+at(k) >= limit
				if gone {
					p.ban[k] = struckOut
				}
				return gone
			})
		}
	}
	p.measure()
	return value, true
}

package packs

import (
	"cmp"
	"math"
	"math/bits"
	"shimsheet/internal/sorting"
	"slices"
)

// A stage is one question about a part: the most blocks of a class that can be met, or, class −1, the least cost; by plans that meet of each class what is needed.
type stage struct {
	class int
	need  []int // blocks of each class; of a class met whole every block
}

// A node is a part of the plans of a part: those that its rule and the rules of the nodes above allow.
type node struct {
	above  *node
	bound  int64 // cost·unit that no plan of the node goes below
	depth  int
	serial int

	block int // rule on a block
	met   bool
	foot  int   // or, ≥ 0, on a foot's draw from a row: at most, or more than, the limit
	row   int   // −1: on one candidate
	limit int64 // draw, or the candidate
	more  bool  // more than the limit; not that candidate
}

// rule puts a node's rule in force (by 1) or takes it back (by −1).
func (p *part) rule(n *node, by int32) {
	if n.foot < 0 {
		if n.met {
			p.must[n.block] += by
		} else {
			p.out[n.block] += by
		}
		return
	}
	list := p.alive[n.foot]
	p.work += int64(2 * len(list))
	if n.row < 0 {
		if !n.more {
			p.must[n.block] += by
		}
		for _, k := range list {
			if (int64(k) == n.limit) == n.more {
				p.ban[k] += by
			}
		}
		return
	}
	if n.more == (n.limit >= 0) { // not met draws nothing
		p.must[n.block] += by
	}
	for _, k := range list {
		if (p.drawOf(k, n.row) > n.limit) != n.more {
			p.ban[k] += by
		}
	}
}

// jump puts another node's rules in force.
func (p *part) jump(from, to *node) {
	var on []*node
	for from != to {
		if from.depth >= to.depth {
			p.rule(from, -1)
			from = from.above
		} else {
			on = append(on, to)
			to = to.above
		}
	}
	for i := len(on) - 1; i >= 0; i-- {
		p.rule(on[i], 1)
	}
}

// before is the order in which nodes go on: the least bound, then the deepest, then the newest.
func (n *node) before(o *node) bool {
	if n.bound != o.bound {
		return n.bound < o.bound
	}
	return n.depth > o.depth || n.depth == o.depth && n.serial > o.serial
}

// A nodeHeap has the node that goes on at its root.
type nodeHeap []*node

func (h *nodeHeap) push(n *node) {
	*h = append(*h, n)
	q := *h
	for i := len(q) - 1; i > 0 && q[i].before(q[(i-1)/2]); i = (i - 1) / 2 {
		q[i], q[(i-1)/2] = q[(i-1)/2], q[i]
	}
}

func (h *nodeHeap) pop() *node {
	q := *h
	top := q[0]
	q[0] = q[len(q)-1]
	q = q[:len(q)-1]
	for i := 0; ; {
		c := 2*i + 1
		if c >= len(q) {
			break
		}
		if c+1 < len(q) && q[c+1].before(q[c]) {
			c++
		}
		if !q[c].before(q[i]) {
			break
		}
		q[i], q[c] = q[c], q[i]
		i = c
	}
	*h = q
	return top
}

// drawOf is what a candidate draws of a row.
func (p *part) drawOf(k int32, row int) int64 {
	for d := p.first[k]; d < p.first[k+1]; d++ {
		if p.drawRow[d] == int32(row) {
			return int64(p.drawN[d])
		}
	}
	return 0
}

// measure says what one look at every candidate costs.
func (p *part) measure() {
	p.effort = int64(len(p.feet))
	for _, list := range p.alive {
		for _, k := range list {
			p.effort += 1 + int64(p.first[k+1]-p.first[k])
		}
	}
}

// spent says whether the part's work is done: the bound on it is a count, so that the same job ends at the same plan. It tells how far the work is, too.
func (p *part) spent() bool {
	if p.work >= p.tellAt {
		p.tellAt = p.work + 2_000_000
		p.j.tell(p.done)
	}
	return p.work > p.workCap || p.j.plan.Cancelled
}

// valueOf is what the stage makes least of a plan.
func (p *part) valueOf(st *stage, picks []int) int64 {
	if st.class >= 0 {
		return -int64(p.counts(picks)[st.class])
	}
	return p.costOf(picks)
}

// counts is how many blocks of each class a plan meets.
func (p *part) counts(picks []int) []int {
	n := make([]int, len(p.asked))
next:
	for b := range p.blocks {
		for _, f := range p.blocks[b].feet {
			if picks[f] < 0 {
				continue next
			}
		}
		n[p.blocks[b].class]++
	}
	return n
}

func (p *part) costOf(picks []int) (c int64) {
	for _, k := range picks {
		if k >= 0 {
			c += p.cost[k]
		}
	}
	return c
}

// accept takes a plan that is possible if it is better from the stage's class on, and says so.
func (p *part) accept(st *stage, picks []int) bool {
	now, was := p.counts(picks), p.counts(p.found)
	for c, n := range st.need {
		if now[c] < n {
			return false
		}
	}
	if st.class >= 0 {
		if c := slices.Compare(was[st.class:], now[st.class:]); c != 0 {
			if c < 0 {
				copy(p.found, picks)
			}
			return c < 0
		}
	}
	if p.costOf(picks) >= p.costOf(p.found) {
		return false
	}
	copy(p.found, picks)
	return true
}

// search answers a stage by branch and bound on its relaxation: found becomes the best plan that came up, and no plan allowed costs less than the bound that is
// returned. whole says that the search came to its end, and the bound is found's value.
func (p *part) search(st *stage) (bound int64, whole bool) {
	p.stageUnit(st)
	for b := range p.blocks {
		p.must[b], p.out[b] = 0, 0
		if c := p.blocks[b].class; st.need[c] == p.asked[c] {
			p.must[b] = 1
		}
	}
	for f := range p.all {
		p.alive[f] = append(p.alive[f][:0], p.all[f]...)
	}
	clear(p.ban)
	p.measure()
	l := newRelaxation(p, st)
	l.start(p.found)
	best := p.valueOf(st, p.found)
	limit := func() int64 { return (best-1)*p.unit + 1 }
	root := &node{bound: math.MinInt64, foot: -1, block: -1}
	var open nodeHeap
	worst := int64(math.MaxInt64) // bound of what had to be left
	serial := 0
	for cur := root; cur != nil; {
		p.work += int64(4000 + 100*len(p.blocks)) // what a node costs besides its looks
		l.reprice()
		l.solve(float64(limit()) / float64(p.unit) / l.scale)
		if p.spent() && cur != root {
			worst = min(worst, cur.bound)
			break
		}
		value, ok := l.bound(limit(), cur == root && !p.anyCut)
		var near, far *node
		if ok {
			cur.bound = max(cur.bound, value)
		}
		if ok && cur.bound < limit() {
			was := best
			p.round(st, l)
			best = min(best, p.valueOf(st, p.found))
			if cur == root && best < was && !p.anyCut {
				l.bound(limit(), true)
			}
			if cur.bound < limit() {
				if near, far = p.split(l, cur); near == nil {
					worst = min(worst, cur.bound)
				}
			}
		}
		if p.nodes--; p.nodes <= 0 || p.spent() {
			if near != nil {
				worst = min(worst, cur.bound)
			}
			break
		}
		if near != nil {
			serial++
			far.serial = serial
			open.push(far)
			p.rule(near, 1)
			cur = near
			continue
		}
		if len(open) == 0 || open[0].bound >= limit() {
			break
		}
		to := open.pop()
		p.jump(cur, to)
		cur = to
	}
	for _, n := range open {
		if n.bound < limit() {
			worst = min(worst, n.bound)
		}
	}
	if worst == math.MaxInt64 {
		return best, true
	}
	if worst == math.MinInt64 {
		worst = p.trivial(st) * p.unit
	}
	up := worst / p.unit // rounded up
	if worst > 0 && worst%p.unit != 0 {
		up++
	}
	return min(best, up), up >= best
}

// trivial is a bound without any work.
func (p *part) trivial(st *stage) int64 {
	if st.class >= 0 {
		return -int64(p.asked[st.class])
	}
	return 0
}

// stageUnit sets into how many parts a unit of cost is divided for the bound, so that no sum overflows.
func (p *part) stageUnit(st *stage) {
	most := float64(len(p.blocks) + 1)
	if st.class < 0 {
		for f := range p.all {
			high := int64(0)
			for _, k := range p.all[f] {
				high = max(high, p.cost[k])
			}
			most += float64(high)
		}
	}
	p.unit = 1 << min(30, max(0, 44-bits.Len64(uint64(most))))
	pieces := 1.0
	for _, n := range p.have {
		pieces += float64(max(n, -n))
	}
	for f := range p.all {
		high := 0.0
		for _, k := range p.all[f] {
			s := 1.0 // and a demand
			for d := p.first[k]; d < p.first[k+1]; d++ {
				s += math.Abs(p.drawN[d])
			}
			high = max(high, s)
		}
		pieces += high
	}
	p.priceCap = float64(int64(1)<<61) / (pieces + float64(len(p.blocks)))
}

// split makes two nodes out of one, the nearer to the relaxation's solution first; nil where the solution is a plan already.
func (p *part) split(l *relaxation, n *node) (near, far *node) {
	// A block met in part.
	notMet := make([]float64, len(p.blocks))
	mixed := make([][]int, len(p.blocks)) // basic ways of a block beside its key
	for i := range l.basic {
		if w := &l.basic[i]; w.block >= 0 && l.x[i] > 1e-7 {
			mixed[w.block] = append(mixed[w.block], i)
		}
	}
	at, by := -1, 0.0
	for b := range p.blocks {
		if len(mixed[b]) == 0 || p.must[b] > 0 || p.out[b] > 0 {
			continue
		}
		if l.key[b].picks == nil {
			notMet[b] = l.keyValue(b)
		}
		for _, i := range mixed[b] {
			if l.basic[i].picks == nil {
				notMet[b] += l.x[i]
			}
		}
		if d := min(notMet[b], 1-notMet[b]); d > 1e-6 && d > by {
			at, by = b, d
		}
	}
	if at >= 0 {
		in := node{above: n, bound: n.bound, depth: n.depth + 1, block: at, met: true, foot: -1}
		out := in
		out.met = false
		if notMet[at] > 0.5 {
			return &out, &in
		}
		return &in, &out
	}
	// A foot that draws a part of a piece.
	best := node{foot: -1}
	draws := make([]int64, len(l.basic)+1)
	var part float64
	by = 0
	for b := range p.blocks {
		if len(mixed[b]) == 0 {
			continue
		}
		ways := []*way{&l.key[b]}
		weights := []float64{l.keyValue(b)}
		for _, i := range mixed[b] {
			ways, weights = append(ways, &l.basic[i]), append(weights, l.x[i])
		}
		for i, f := range p.blocks[b].feet {
			for r := range p.have {
				draws := draws[:len(ways)]
				u := 0.0
				for k, w := range ways {
					if draws[k] = 0; w.picks != nil {
						draws[k] = p.drawOf(w.picks[i], r)
					}
					u += float64(weights[k] * float64(draws[k]))
				}
				t := int64(math.Ceil(u-1e-9)) - 1
				high := 0.0
				for k := range ways {
					if draws[k] > t {
						high += weights[k]
					}
				}
				if d := min(high, 1-high); d > by+1e-9 && d > 1e-6 {
					by, part = d, high
					best = node{block: b, foot: f, row: r, limit: t}
				}
			}
		}
	}
	if best.foot < 0 { // mixtures that draw whole pieces, or a way that is ruled out
		for b := range p.blocks {
			if len(mixed[b]) == 0 && l.key[b].picks == nil {
				continue
			}
			for i, f := range p.blocks[b].feet {
				free := 0
				for _, k := range p.alive[f] {
					if p.ban[k] == 0 {
						free++
					}
				}
				if k := l.key[b].picks; k != nil && free > 1 && (best.foot < 0 || len(mixed[b]) > 0) {
					best = node{block: b, foot: f, row: -1, limit: int64(k[i])}
					if len(mixed[b]) > 0 {
						break
					}
				}
			}
		}
		if best.foot < 0 {
			return nil, nil
		}
	}
	best.above, best.bound, best.depth = n, n.bound, n.depth+1
	other := best
	other.more = true
	if part > 0.5 {
		return &other, &best
	}
	return &best, &other
}

// round makes a plan of the relaxation's solution: each block's heaviest way, the heaviest first, as long as the box holds it, and then what is cheapest at the prices and still
// to be had.
func (p *part) round(st *stage, l *relaxation) {
	type turn struct {
		b      int
		w      *way
		weight float64
	}
	turns := make([]turn, len(p.blocks))
	for b := range p.blocks {
		turns[b] = turn{b, &l.key[b], l.keyValue(b)}
	}
	for i := range l.basic {
		if w := &l.basic[i]; w.block >= 0 && l.x[i] > turns[w.block].weight {
			turns[w.block].w, turns[w.block].weight = w, l.x[i]
		}
	}
	sorting.By(turns, func(a, b *turn) int { return cmp.Or(cmp.Compare(b.weight, a.weight), cmp.Compare(a.b, b.b)) })
	picks := make([]int, len(p.feet))
	left := slices.Clone(p.have)
	for i := range picks {
		picks[i] = -1
	}
	draw := func(k int32, by int64) (ok bool) {
		ok = true
		for d := p.first[k]; d < p.first[k+1]; d++ {
			r := p.drawRow[d]
			left[r] -= by * int64(p.drawN[d])
			ok = ok && left[r] >= 0
		}
		return ok
	}
	var later []int
	lay := func(t *turn, by int64) (ok bool) {
		ok = true
		for n, k := range t.w.picks {
			if picks[p.blocks[t.b].feet[n]] = int(k); by < 0 {
				picks[p.blocks[t.b].feet[n]] = -1
			}
			ok = draw(k, by) && ok
		}
		return ok
	}
	for i := range turns {
		t := &turns[i]
		if t.w.picks == nil || !lay(t, 1) && t.weight < 1-1e-6 { // what is whole may wait for what others give back
			if t.w.picks != nil {
				lay(t, -1)
			}
			later = append(later, t.b)
		}
	}
	for again := true; again; { // what waits in vain comes out, the lightest first
		again = false
		for i := len(turns) - 1; i >= 0; i-- {
			t := &turns[i]
			if t.w.picks == nil || picks[p.blocks[t.b].feet[0]] < 0 {
				continue
			}
			for _, k := range t.w.picks {
				for d := p.first[k]; d < p.first[k+1]; d++ {
					again = again || p.drawN[d] > 0 && left[p.drawRow[d]] < 0
				}
			}
			if again {
				lay(t, -1)
				later = append(later, t.b)
				break
			}
		}
	}
	if p.j.opt.ReturnRemoved {
		later = append(later, later...)
	}
	sorting.By(later, func(a, b *int) int { return cmp.Compare(p.blocks[*a].class, p.blocks[*b].class) })
	for _, b := range later {
		bl := &p.blocks[b]
		if picks[bl.feet[0]] >= 0 {
			continue
		}
		ok := true
		for _, f := range bl.feet {
			best, low := int32(-1), math.Inf(1)
			for _, k := range p.all[f] {
				v := float64(p.cost[k]) / l.scale * 1e-6
				if l.priced {
					v *= 1e6
				}
				fits := true
				for d := p.first[k]; d < p.first[k+1]; d++ {
					r := p.drawRow[d]
					v += float64(l.price[r] * p.drawN[d])
					fits = fits && left[r] >= int64(p.drawN[d])
				}
				if fits && v < low {
					best, low = k, v
				}
			}
			if best < 0 {
				ok = false
				break
			}
			picks[f] = int(best)
			draw(best, 1)
		}
		if !ok {
			for _, f := range bl.feet {
				if picks[f] >= 0 {
					draw(int32(picks[f]), -1)
					picks[f] = -1
				}
			}
		}
	}
	p.work += 2 * p.effort
	for _, n := range left {
		if n < 0 {
			return
		}
	}
	if p.accept(st, picks) {
		p.polish(st)
	}
}

// polish exchanges in the plan found.
func (p *part) polish(st *stage) {
	p.set(p.local(p.found))
	p.exchange()
	p.accept(st, p.flat(p.picks()))
}

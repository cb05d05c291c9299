package packs

import (
	"cmp"
	"math"
	"shimsheet/internal/sorting"
	"slices"
)

// fits says whether the box as it is left holds what a candidate draws.
func fits(left []int, c *cand) bool {
	for _, d := range c.draw {
		if int(d.n) > left[d.item] {
			return false
		}
	}
	return true
}

func take(left []int, c *cand, sign int) {
	for _, d := range c.draw {
		left[d.item] -= sign * int(d.n)
	}
}

// of is how many pieces of an item the candidate draws.
func (c *cand) of(item int32) int {
	for i := range c.draw {
		if c.draw[i].item == item {
			return int(c.draw[i].n)
		}
	}
	return 0
}

// share gives every foot its own pack if the box holds them together, and shares it out otherwise.
func (j *job) share() {
	left := slices.Clone(j.left)
	lone := false
	for i := range j.feet {
		f := &j.feet[i]
		for k := range f.cands {
			if c := &f.cands[k]; fits(j.left, c) && (f.own < 0 || byRule(c, &f.cands[f.own]) < 0) {
				f.own = k
			}
		}
		if f.own >= 0 {
			take(left, &f.cands[f.own], 1)
		} else if len(f.cands) > 0 {
			lone = true
		}
	}
	j.gather()
	short := slices.ContainsFunc(left, func(n int) bool { return n < 0 })
	if p := j.plan; !short && !(lone && j.opt.ReturnRemoved) {
		for b := range j.blocks {
			for _, i := range j.blocks[b].feet {
				if f := &j.feet[i]; !slices.ContainsFunc(j.blocks[b].feet, func(i int) bool { return j.feet[i].own < 0 }) {
					f.pick = f.own
					p.BoundFeet++
					p.ErrorBound += float64(f.cands[f.pick].err) / 1e9
				}
			}
		}
		p.Proved = true
		return
	}
	j.plan.Contended = true
	for i := range j.feet {
		f := &j.feet[i]
		for k := range f.cands {
			c := &f.cands[k]
			c.cost = (c.err+500)/1000*j.unit + int64(c.pieces)
		}
	}
	j.shareParts(j.split())
}

// gather makes the blocks: what is met together or not at all.
func (j *job) gather() {
	if !j.opt.ByMachines {
		for i := range j.feet {
			if len(j.feet[i].cands) > 0 {
				j.blocks = append(j.blocks, block{feet: []int{i}})
			}
		}
		j.shares = make([]ShareClass, 1)
		return
	}
	at := map[int]int{}
	helpless := map[int]bool{} // machines with a foot that no stock helps
	for i := range j.feet {
		m := j.in[i].Machine
		switch j.feet[i].status {
		case PickNoPack, PickBelow, PickNone:
			helpless[m] = true
		case PickShort:
			b, ok := at[m]
			if !ok {
				b = len(j.blocks)
				at[m] = b
				j.blocks = append(j.blocks, block{machine: m, priority: j.in[i].Priority})
			}
			j.blocks[b].feet = append(j.blocks[b].feet, i)
		}
	}
	var keys []ShareClass
	key := func(b *block) ShareClass { return ShareClass{Priority: b.priority, Helpless: helpless[b.machine]} }
	for b := range j.blocks {
		if k := key(&j.blocks[b]); !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	last := func(p int) int {
		if p == 0 {
			return math.MaxInt
		}
		return p
	}
	sorting.By(keys, func(a, b *ShareClass) int {
		if a.Helpless != b.Helpless {
			if b.Helpless {
				return -1
			}
			return 1
		}
		return cmp.Compare(last(a.Priority), last(b.Priority))
	})
	for b := range j.blocks {
		j.blocks[b].class = slices.Index(keys, key(&j.blocks[b]))
	}
	j.shares = keys
}

// shareParts shares the box out part by part.
func (j *job) shareParts(parts []*part) {
	whole, gap := true, 0
	var costs float64
	var least []int64
	done := 0
	nodes, work := j.opt.Nodes, int64(shareWork)
	if len(j.feet) > 500 {
		work /= 5 // hundreds of machines: the gap is small, and a page waits
	}
	sorting.By(parts, func(a, b **part) int { return cmp.Compare(len((*a).feet), len((*b).feet)) }) // what the small ones leave is for the large ones
	for k, p := range parts {
		if !j.tell(len(j.feet) + done) {
			whole = false
		}
		p.nodes, p.workCap = nodes, work
		if k < len(parts)-1 {
			p.nodes, p.workCap = nodes/2, work/2
		}
		had := p.nodes
		p.done = len(j.feet) + done
		p.solve()
		nodes -= had - p.nodes
		work -= min(p.work, work)
		j.plan.Nodes += had - p.nodes
		done += len(p.feet)
		whole = whole && p.proved
		for c, n := range p.bounds {
			j.shares[c].Bound += n
			gap += n - p.met[c]
		}
		costs += p.errBound
		for _, f := range p.feet {
			least = append(least, j.feet[f].leastErr)
		}
	}
	j.plan.Proved = whole
	j.plan.BoundFeet = j.plan.Asked
	if !j.opt.ByMachines {
		j.plan.BoundFeet = j.shares[0].Bound
	}
	// A plan that meets as many in all may meet fewer in one part and more in another, unless every part is at its bound.
	slices.Sort(least)
	met, trivial := 0, int64(0)
	for i := range j.feet {
		if j.feet[i].pick >= 0 {
			trivial += least[met]
			met++
		}
	}
	if j.plan.ErrorBound = float64(trivial) / 1e9; gap == 0 {
		j.plan.ErrorBound = max(j.plan.ErrorBound, costs/1e9)
	}
	if gap > 0 && j.opt.ByMachines { // as many machines may have fewer feet
		j.plan.ErrorBound = 0
	}
}

// split drops what cannot run short, then candidates that another is never worse than, and parts the job into blocks that share items.
func (j *job) split() []*part {
	scarce := slices.Clone(j.counted)
	most := make([]int, j.items)
	peak := make([]int32, j.items)
	for again := true; again; {
		again = false
		clear(most)
		for i := range j.feet {
			f := &j.feet[i]
			clear(peak)
			for k := range f.cands {
				for _, d := range f.cands[k].draw {
					peak[d.item] = max(peak[d.item], d.n)
				}
			}
			for item, n := range peak {
				most[item] += int(n)
			}
		}
		for item := range scarce {
			if scarce[item] && most[item] <= j.left[item] {
				scarce[item], again = false, true
			}
		}
		for i := range j.feet {
			j.prune(&j.feet[i], scarce)
		}
	}
	// Blocks and items hang together by what candidates draw.
	head := make([]int, j.items+len(j.blocks))
	for i := range head {
		head[i] = i
	}
	root := func(i int) int {
		for head[i] != i {
			head[i] = head[head[i]]
			i = head[i]
		}
		return i
	}
	for b := range j.blocks {
		for _, i := range j.blocks[b].feet {
			for k := range j.feet[i].cands {
				for _, d := range j.feet[i].cands[k].draw {
					head[root(int(d.item))] = root(j.items + b)
				}
			}
		}
	}
	var parts []*part
	at := make([]int, len(head))
	for b := range j.blocks {
		r := root(j.items + b)
		if at[r] == 0 {
			parts = append(parts, &part{j: j})
			at[r] = len(parts)
		}
		p := parts[at[r]-1]
		own := block{class: j.blocks[b].class, machine: j.blocks[b].machine}
		for _, i := range j.blocks[b].feet {
			own.feet = append(own.feet, len(p.feet))
			p.feet = append(p.feet, i)
		}
		p.blocks = append(p.blocks, own)
	}
	return parts
}

// prune drops draws of items that are not scarce, and then every candidate that draws no less than another that the objective prefers.
func (j *job) prune(f *jobFoot, scarce []bool) {
	if len(f.cands) == 0 {
		return
	}
	for k := range f.cands {
		c := &f.cands[k]
		n := 0
		for _, d := range c.draw {
			if scarce[d.item] {
				c.draw[n] = d
				n++
			}
		}
		c.draw = c.draw[:n]
	}
	sorting.By(f.cands, byObjective)
	f.leastErr = f.cands[0].err
	for k := range f.cands {
		f.leastErr = min(f.leastErr, f.cands[k].err)
	}
	kept := 0
next:
	for k := range f.cands {
		for i := range kept {
			if !drawsLess(f.cands[k].draw, f.cands[i].draw) {
				continue next
			}
		}
		if kept == j.candCap {
			f.cut = true
			break
		}
		f.cands[kept] = f.cands[k]
		kept++
	}
	f.cands = f.cands[:kept]
}

// drawsLess says whether a draws less than b of some item.
func drawsLess(a, b []drawn) bool {
	i, k := 0, 0
	for i < len(a) || k < len(b) {
		switch {
		case k == len(b) || i < len(a) && a[i].item < b[k].item:
			if a[i].n < 0 {
				return true
			}
			i++
		case i == len(a) || b[k].item < a[i].item:
			if b[k].n > 0 {
				return true
			}
			k++
		default:
			if a[i].n < b[k].n {
				return true
			}
			i++
			k++
		}
	}
	return false
}

// A score is what the objective looks at. cost is the error in pm times job.unit plus the pieces; all pieces of a job are fewer than a unit.
type score struct {
	met  int
	cost int64
}

func (a score) better(b score) bool { return a.met > b.met || a.met == b.met && a.cost < b.cost }

// A block is feet that are met together or not at all: a foot by itself or, by machines, all of a machine's that the stock can meet.
type block struct {
	feet     []int // of the job; in a part, of the part
	class    int   // the lower ones come first
	machine  int
	priority int
}

// A part is blocks that compete for the same items, with the plan for them.
type part struct {
	j        *job
	feet     []int // of the job
	blocks   []block
	asked    []int // blocks of each class
	met      []int
	bounds   []int   // of each class: no plan that meets as many of every class before meets more
	errBound float64 // pm, for plans that meet as many of each class
	proved   bool

	done  int // for Progress
	cur   score
	left  []int
	users [][]int32

	// What the search works on. Candidates are numbered through, those of foot f from base[f] on; rows are the items that may run short.
	base    []int32
	all     [][]int32 // of each foot
	alive   [][]int32 // those that may still be in a better plan
	cost    []int64
	first   []int32 // the draws of candidate k are those from first[k] to first[k+1]
	drawRow []int32
	drawN   []float64
	have    []int64 // of each row
	anyCut  bool    // not every candidate is listed
	phantom []int64 // of each foot: cost of what is not listed, −1 all is
	must    []int32 // of each block: rules in force that it be met, or not
	out     []int32
	ban     []int32 // of each candidate: rules against it
	found   []int   // the best plan

	unit          int64
	priceCap      float64
	effort        int64 // of one look at every candidate
	work, workCap int64
	tellAt        int64
	nodes         int
}

// solve fills in the picks of the part's feet.
func (p *part) solve() {
	j := p.j
	n := len(j.shares)
	p.asked, p.met, p.bounds = make([]int, n), make([]int, n), make([]int, n)
	for b := range p.blocks {
		p.asked[p.blocks[b].class]++
	}
	if f := &j.feet[p.feet[0]]; len(p.feet) == 1 && !f.cut {
		if f.pick = slices.IndexFunc(f.cands, func(c cand) bool { return fits(j.left, &c) }); f.pick >= 0 { // in the order of the objective
			p.met[p.blocks[0].class] = 1
			p.errBound = float64(f.cands[f.pick].err)
		}
		p.bounds, p.proved = p.met, true
		return
	}
	p.left = slices.Clone(j.left)
	p.number()
	p.greedy()
	p.exchange()
	p.found = p.flat(p.picks())
	p.proved = true
	st := stage{need: make([]int, n)}
	total := p.workCap
	for c := range n {
		if p.asked[c] == 0 {
			continue
		}
		st.class = c
		p.bounds[c] = p.asked[c]
		if p.counts(p.found)[c] < p.asked[c] {
			p.workCap = p.work + (total-p.work)*2/3
			bound, whole := p.search(&st)
			p.bounds[c] = int(-bound)
			p.proved = p.proved && whole
		}
		st.need[c] = p.counts(p.found)[c]
	}
	st.class, p.workCap = -1, total
	bound, whole := p.search(&st)
	p.proved = p.proved && whole && !j.plan.Cancelled
	p.met = p.counts(p.found)
	for c := range n {
		p.bounds[c] = max(p.bounds[c], p.met[c])
	}
	p.set(p.local(p.found))
	p.errBound = 1000 * max(0, float64(bound/j.unit)-float64(len(p.feet))/2) // errors count to the nanometre
	if p.proved {
		p.errBound = 0
		for _, f := range p.feet {
			if k := j.feet[f].pick; k >= 0 {
				p.errBound += float64(j.feet[f].cands[k].err)
			}
		}
	}
}

// number makes the tables of the search.
func (p *part) number() {
	j := p.j
	row := make([]int32, j.items)
	for i := range row {
		row[i] = -1
	}
	p.first = []int32{0}
	for _, i := range p.feet {
		f := &j.feet[i]
		p.base = append(p.base, int32(len(p.cost)))
		var list []int32
		for k := range f.cands {
			c := &f.cands[k]
			list = append(list, int32(len(p.cost)))
			p.cost = append(p.cost, c.cost)
			for _, d := range c.draw {
				if row[d.item] < 0 {
					row[d.item] = int32(len(p.have))
					p.have = append(p.have, int64(j.left[d.item]))
				}
				p.drawRow, p.drawN = append(p.drawRow, row[d.item]), append(p.drawN, float64(d.n))
			}
			p.first = append(p.first, int32(len(p.drawRow)))
		}
		p.all, p.alive = append(p.all, list), append(p.alive, nil)
		p.phantom = append(p.phantom, -1)
		if f.cut {
			p.anyCut = true
			p.phantom[len(p.phantom)-1] = (f.leastErr + 500) / 1000 * j.unit
		}
	}
	p.must, p.out, p.ban = make([]int32, len(p.blocks)), make([]int32, len(p.blocks)), make([]int32, len(p.cost))
}

// flat and local turn a plan of candidates of each foot into one of candidates of the part, and back.
func (p *part) flat(picks []int) []int {
	out := slices.Clone(picks)
	for f := range out {
		if out[f] >= 0 {
			out[f] += int(p.base[f])
		}
	}
	return out
}

func (p *part) local(picks []int) []int {
	out := slices.Clone(picks)
	for f := range out {
		if out[f] >= 0 {
			out[f] -= int(p.base[f])
		}
	}
	return out
}

// put changes the pick of foot i to k (−1: none) and says whether nothing of what it touched is overdrawn. It changes even then.
func (p *part) put(i, k int) bool {
	f := &p.j.feet[i]
	old := f.pick
	if old >= 0 {
		take(p.left, &f.cands[old], -1)
		p.cur.met--
		p.cur.cost -= f.cands[old].cost
	}
	if f.pick = k; k >= 0 {
		take(p.left, &f.cands[k], 1)
		p.cur.met++
		p.cur.cost += f.cands[k].cost
	}
	return (k < 0 || p.sound(f.cands[k].draw)) && (old < 0 || p.sound(f.cands[old].draw))
}

func (p *part) sound(draw []drawn) bool {
	for _, d := range draw {
		if p.left[d.item] < 0 {
			return false
		}
	}
	return true
}

// picks copies the picks of the part's feet.
func (p *part) picks() []int {
	out := make([]int, len(p.feet))
	for k, f := range p.feet {
		out[k] = p.j.feet[f].pick
	}
	return out
}

// set puts a whole plan in place.
func (p *part) set(picks []int) {
	for k, f := range p.feet {
		p.put(f, picks[k])
	}
}

// greedy makes a plan from nothing: block by block, of each class those first that draw least of what is scarce, each foot taking what is cheapest and still there.
func (p *part) greedy() {
	j := p.j
	at := func(c *cand) float64 {
		s := 0.0
		for _, d := range c.draw {
			if d.n > 0 {
				s += float64(d.n) / float64(1+j.left[d.item])
			}
		}
		return s
	}
	type turn struct {
		b  int
		by float64
	}
	turns := make([]turn, len(p.blocks))
	for b := range p.blocks {
		turns[b].b = b
		for _, f := range p.blocks[b].feet {
			cheapest := math.Inf(1)
			for c := range j.feet[p.feet[f]].cands {
				cheapest = min(cheapest, at(&j.feet[p.feet[f]].cands[c]))
			}
			turns[b].by += cheapest
		}
	}
	sorting.By(turns, func(a, b *turn) int {
		return cmp.Or(cmp.Compare(p.blocks[a.b].class, p.blocks[b.b].class), cmp.Compare(a.by, b.by))
	})
	for again := j.opt.ReturnRemoved; ; again = false { // a second round finds what others have given back
		for _, t := range turns {
			if feet := p.blocks[t.b].feet; j.feet[p.feet[feet[0]]].pick < 0 {
				p.fill(feet, at)
			}
		}
		if !again {
			break
		}
	}
}

// fill meets all of the feet with what is cheapest and still there, or none.
func (p *part) fill(feet []int, at func(c *cand) float64) {
	j := p.j
	for n, at1 := range feet {
		f := &j.feet[p.feet[at1]]
		best, by := -1, 0.0
		for k := range f.cands {
			if s := at(&f.cands[k]); fits(p.left, &f.cands[k]) && (best < 0 || s < by-1e-12) {
				best, by = k, s
			}
		}
		if best < 0 {
			for _, b := range feet[:n] {
				p.put(p.feet[b], -1)
			}
			return
		}
		p.put(p.feet[at1], best)
	}
}

// exchange improves the plan foot by foot: a better candidate for one foot, if need be with another candidate, or none, for one other foot
// that holds what is wanted, as long as the objective gains. It ends when a round gains nothing, or after a fixed amount of work.
func (p *part) exchange() {
	j := p.j
	p.users = make([][]int32, j.items)
	for gained := true; gained && j.work < exchanges; {
		gained = false
		for i := range p.users {
			p.users[i] = p.users[i][:0]
		}
		for _, f := range p.feet {
			p.uses(f)
		}
		for _, f := range p.feet {
			for p.improve(f) {
				gained = true
			}
			if j.work > exchanges {
				break
			}
		}
	}
}

// uses enters a foot's pick in the lists of users. An entry may be out of date, and then does no harm.
func (p *part) uses(f int) {
	if k := p.j.feet[f].pick; k >= 0 {
		for _, d := range p.j.feet[f].cands[k].draw {
			if d.n > 0 {
				p.users[d.item] = append(p.users[d.item], int32(f))
			}
		}
	}
}

func (p *part) improve(i int) bool {
	j := p.j
	f := &j.feet[i]
	start, old := p.cur, f.pick
	if old < 0 && j.opt.ByMachines {
		return false // one foot of a machine is no gain
	}
	for k := range f.cands { // in the order of the objective
		if k == old {
			break
		}
		if p.put(i, k) {
			if p.cur.better(start) {
				p.uses(i)
				return true
			}
		} else if p.cur.better(start) {
			short := int32(-1)
			for _, d := range f.cands[k].draw {
				if p.left[d.item] < 0 {
					short = d.item
					break
				}
			}
			if short >= 0 && p.makeRoom(i, short, start) {
				p.uses(i)
				return true
			}
		}
		p.put(i, old)
		if p.cur = start; j.work > exchanges {
			break
		}
	}
	return false
}

// makeRoom looks for one other foot that can give up enough of an item, with a gain over start.
func (p *part) makeRoom(i int, item int32, start score) bool {
	j := p.j
	for _, g := range p.users[item] {
		if int(g) == i {
			continue
		}
		o := &j.feet[g]
		was, between := o.pick, p.cur
		if was < 0 {
			continue
		}
		most := p.left[item] + o.cands[was].of(item) // what g may draw of the item for it not to be overdrawn
		if most < 0 && !j.opt.ReturnRemoved {
			j.work += len(o.cands) + 1
			continue
		}
		none := -1
		if j.opt.ByMachines {
			none = 0
		}
		for k := none; k < len(o.cands); k++ {
			if j.work++; k == was {
				continue
			}
			// What it would come to, before anything is moved.
			then := between
			then.cost -= o.cands[was].cost
			if then.met--; k >= 0 {
				then.met++
				then.cost += o.cands[k].cost
			}
			if !then.better(start) || k >= 0 && o.cands[k].of(item) > most || k < 0 && most < 0 {
				continue
			}
			if p.put(int(g), k); p.soundAll(i, int(g), was) {
				p.uses(int(g))
				return true
			}
			p.put(int(g), was)
			p.cur = between
		}
	}
	return false
}

// soundAll checks every item that a move of i and of g (which had was) may have touched; with returned pieces that is any.
func (p *part) soundAll(i, g, was int) bool {
	if p.j.opt.ReturnRemoved {
		return !slices.ContainsFunc(p.left, func(n int) bool { return n < 0 })
	}
	ok := p.sound(p.j.feet[i].cands[p.j.feet[i].pick].draw) && p.sound(p.j.feet[g].cands[was].draw)
	if k := p.j.feet[g].pick; k >= 0 {
		ok = ok && p.sound(p.j.feet[g].cands[k].draw)
	}
	return ok
}

// prices bounds the part by Lagrangian relaxation: scarce items may be overdrawn at a price a piece, and each foot then chooses for itself.

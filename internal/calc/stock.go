package calc

import (
	"cmp"
	"fmt"
	"math"
	"math/bits"
	"slices"

	"shimsheet/internal/tables"
)

// A StockFoot is one foot of the job.
type StockFoot struct {
	ID        string
	Change    float64   // mm, positive: to rise
	Tolerance float64   // mm; 0: that of the options
	InPlace   []float64 // mm; nil: not listed, empty: bare base
	Size      string    // size label; see StockItem.Fits
	MaxPieces int       // 1 to 8; 0: that of the options
}

// StockOptions are the settings of a whole job.
type StockOptions struct {
	Tolerance float64 // mm; 0: tables.PackToleranceMM
	MaxPieces int     // 1 to 8; 0: tables.MaxPieces

	ReturnRemoved bool // pieces taken out of the feet go back into the box and serve other feet

	// FewestThicknesses chooses what to carry: the fewest stock items with which every foot that can be met is met, then the fewest pieces,
	// then the least error. Counts are then no bound but only lessen what is ordered. Up to 14 items that any foot can use are searched in full.
	FewestThicknesses bool

	// Spare allowance on the order list: the greater of SparePercent of the pieces to order, rounded up, and SpareMin pieces, for every item
	// that is ordered at all.
	SparePercent float64
	SpareMin     int

	Nodes    int                        // nodes of the exact search in all; 0: 300,000. A count and not a clock: the same job gives the same plan
	Progress func(done, total int) bool // told now and then; false stops the work, and the plan is what there is by then. May be nil
}

// A PickStatus says how a foot of the job fares.
type PickStatus uint8

// The ways a foot fares.
const (
	PickMet      PickStatus = iota // has its pack
	PickShort                      // a pack within the tolerance could be made, but not with what is left in the box
	PickNoPack                     // no pack of the stock is within the tolerance, however many pieces there were; Pack is the nearest
	PickUnlisted                   // to be lowered, pieces not listed: Pack is what to take out
	PickBelow                      // to be lowered below the bare base
	PickNone                       // the change is not a number
	PickStopped                    // not reached before the work was stopped
)

var pickText = [...]string{"met", "short of stock", "no pack within the tolerance", "remove, pieces not listed", "below the bare base", "no change", "not reached"}

// String is the status in a few words.
func (s PickStatus) String() string { return pickText[s] }

// A Pick is what one foot gets. For PickShort Change is the pack to make when the order has come: it is in the order list and takes nothing
// from the box.
type Pick struct {
	Status PickStatus
	Change
	Items []int // index of the stock item of each piece of Put
}

// An OrderLine is one stock item of the job.
type OrderLine struct {
	Item    int  // index into the stock
	Used    int  // pieces put under feet that are met
	Back    int  // pieces from feet that went back to the item, with ReturnRemoved
	Missing int  // pieces wanted for feet that are short, beyond what is left
	Counted bool // pieces on hand are known
	Order   int  // pieces to order with the spare allowance: for Missing, and for Used − Back when pieces are not counted
}

// A StockPlan shares the box out over the feet of a job.
//
// A foot's own pack is the one by the rule of [Packer.Change] if it had the box for itself. Where the box holds enough for all of these
// together, each foot gets its own. Otherwise (Contended) the objective is, in this order: the most feet met; the least sum of |Error| over the
// feet that are met; the fewest pieces in their packs.
type StockPlan struct {
	Picks     []Pick // one a foot
	Asked     int    // feet that could be met if nothing were short
	Met       int
	Error     float64 // mm, sum of |Error| over the feet that are met
	Pieces    int     // in the packs of the feet that are met
	Contended bool    // the box does not hold every foot's own pack

	// Proved: no plan is better by the objective (of FewestThicknesses if that was asked). Otherwise BoundFeet is a number of feet that
	// no plan exceeds, GapFeet = BoundFeet − Met, and no plan that meets Met feet or more has a smaller error than ErrorBound (mm).
	Proved     bool
	BoundFeet  int
	GapFeet    int
	ErrorBound float64

	Carry      []int // FewestThicknesses: the stock items to carry, in the order of the stock
	CarryBound int   // fewer items than this cannot do; equal to len(Carry) when that is the least
	Order      []OrderLine
	Nodes      int  // of the exact search
	Cancelled  bool // Progress stopped the work
}

// AllocateStock shares a stock out over the feet of a whole job. Small jobs, and the small separate parts of large ones, are searched to a
// proved optimum; the rest is shared out by prices on scarce items, greedily and with exchanges, and the gap to a bound is stated.
//
// It returns an error for an empty stock, an item or a setting that is not possible, and names a foot (from 1, with its ID) whose pieces in
// place, tolerance or number of pieces are not possible. A foot whose change is not a number or too low is no error but a status.
func AllocateStock(stock []StockItem, feet []StockFoot, opt *StockOptions) (*StockPlan, error) {
	j, err := newJob(stock, feet, opt)
	if err != nil {
		return nil, err
	}
	for f := range j.feet {
		if f%32 == 0 && !j.tell(f) {
			break
		}
		j.prepare(f)
	}
	switch {
	case j.plan.Cancelled:
		j.plan.BoundFeet = len(feet)
	case j.opt.FewestThicknesses:
		j.carry()
	default:
		j.share()
	}
	j.finish()
	return j.plan, nil
}

// Inside, thicknesses of pieces are whole nanometres and errors whole picometres, so that sums and ties are exact.

// A class is what feet of one size and number of pieces can have: every pack of new pieces, thinnest first, counts left aside.
type class struct {
	size   string
	max    int
	kinds  []kind
	packs  []made
	pieces []uint8 // of each pack
	packer *Packer // for the nearest pack; made when wanted
}

// drawn is the pieces of one item that a candidate takes from the box, net of those it gives back.
type drawn struct{ item, n int32 }

// A cand is one pack that would meet a foot.
type cand struct {
	err    int64 // pm, magnitude
	sum    int64 // nm
	cost   int64 // error with the pieces, see score
	keep   uint32
	pack   int32 // of the class
	pieces uint8
	fresh  uint8
	draw   []drawn // of counted items that may run short
}

type jobFoot struct {
	class    *class
	place    []int64 // nm, thickest first
	back     []int32 // item that takes each piece in place back, or −1
	was      int64   // nm
	want     int64   // pm
	tol      int64   // pm, slack included
	status   PickStatus
	short    float64 // mm below the bare base
	cands    []cand
	cut      bool // not all candidates are listed
	pick     int  // candidate, or −1
	own      int
	leastErr int64
}

type job struct {
	in      []StockFoot
	stock   []StockItem
	opt     StockOptions
	items   int // with those that only returned pieces make
	nListed int // as the caller listed them
	left    []int
	counted []bool
	classes []*class
	feet    []jobFoot
	plan    *StockPlan
	tmp     []int32
	nodes   int
	work    int   // of exchanges
	unit    int64 // see score
}

const (
	candCap    = 96 // candidates of a foot in the shared search
	exactFeet  = 64 // feet of a part that is searched to the end
	exactItems = 14 // items among which the fewest to carry are searched in full
	exchanges  = 4_000_000
)

func newJob(stock []StockItem, feet []StockFoot, opt *StockOptions) (*job, error) {
	j := &job{in: feet, stock: slices.Clone(stock), nListed: len(stock), plan: &StockPlan{Picks: make([]Pick, len(feet))}, feet: make([]jobFoot, len(feet))}
	if opt != nil {
		j.opt = *opt
	}
	o := &j.opt
	if o.Tolerance == 0 {
		o.Tolerance = tables.PackToleranceMM
	}
	if o.MaxPieces == 0 {
		o.MaxPieces = tables.MaxPieces
	}
	if o.Nodes <= 0 {
		o.Nodes = 300_000
	}
	if err := packSettings(o.MaxPieces, o.Tolerance); err != nil {
		return nil, err
	}
	if !(o.SparePercent >= 0 && o.SparePercent <= 1e6) || o.SpareMin < 0 {
		return nil, fmt.Errorf("spare allowance: %g %% and %d pieces are not both 0 or more", o.SparePercent, o.SpareMin)
	}
	if len(stock) == 0 {
		return nil, fmt.Errorf("the stock is empty")
	}
	if len(feet) > 20_000 {
		return nil, fmt.Errorf("%d feet are more than the 20,000 that one job may have here", len(feet))
	}
	j.unit = 1 << bits.Len(uint(maxPackPieces*len(feet)))
	if len(stock) > 64 {
		return nil, fmt.Errorf("a stock of %d items: at most 64 are shared out", len(stock))
	}
	for i := range stock {
		if _, _, err := stock[i].nanometres(); err != nil {
			return nil, fmt.Errorf("stock item %d: %w", i+1, err)
		}
	}
	for f := range feet {
		if err := j.foot(f); err != nil {
			return nil, fmt.Errorf("foot %d (%s): %w", f+1, feet[f].ID, err)
		}
	}
	j.items = len(j.stock)
	j.left, j.counted, j.tmp = make([]int, j.items), make([]bool, j.items), make([]int32, j.items)
	for i := range j.stock {
		j.left[i], j.counted[i] = max(0, j.stock[i].Count), j.stock[i].Count >= 0
	}
	for _, c := range j.classes {
		if err := j.fill(c); err != nil {
			return nil, err
		}
	}
	return j, nil
}

// foot reads one foot. With ReturnRemoved a thickness in place that the box does not list becomes an item of its own with none on hand.
func (j *job) foot(f int) error {
	in, out := &j.in[f], &j.feet[f]
	out.pick, out.own, out.status = -1, -1, PickStopped
	tol, n := in.Tolerance, in.MaxPieces
	if tol == 0 {
		tol = j.opt.Tolerance
	}
	if n == 0 {
		n = j.opt.MaxPieces
	}
	if err := packSettings(n, tol); err != nil {
		return err
	}
	if tol > 1 {
		return fmt.Errorf("pack tolerance: %g mm is more than 1 mm", tol)
	}
	if len(in.InPlace) > MaxInPlace {
		return errInPlace
	}
	for _, mm := range in.InPlace {
		nm, ok := toNM(mm)
		if !ok {
			return errInPlace
		}
		out.place = append(out.place, nm)
		out.was += nm
	}
	slices.Sort(out.place)
	slices.Reverse(out.place)
	if j.opt.ReturnRemoved {
		for _, nm := range out.place {
			out.back = append(out.back, j.returnsTo(nm, in.Size))
		}
	}
	was := float64(out.was) / 1e6
	want := was + in.Change
	if in.InPlace == nil && in.Change < 0 {
		want = -in.Change
	}
	switch {
	case !finite(in.Change):
		out.status = PickNone
	case want < 0 && -want > tol+slack(was):
		out.status, out.short = PickBelow, -want
	}
	out.want = int64(math.Round(max(-1e6, min(want, 1e6)) * 1e9))
	out.tol = int64(math.Round(min(tol, 1e6)*1e9)) + int64(math.Round(slack(min(want, 1e6))*1e9))
	i := slices.IndexFunc(j.classes, func(c *class) bool { return c.size == in.Size && c.max == n })
	if i < 0 {
		i = len(j.classes)
		j.classes = append(j.classes, &class{size: in.Size, max: n})
	}
	out.class = j.classes[i]
	return nil
}

// returnsTo finds the item that a piece taken out joins: of the foot's size, else without a size.
func (j *job) returnsTo(nm int64, size string) int32 {
	best := -1
	for i := range j.stock {
		s := &j.stock[i]
		if v, _ := toNM(s.MM); v == nm && s.Lamination == 0 && s.Fits(size) && (best < 0 || s.Size == size && j.stock[best].Size != size) {
			best = i
		}
	}
	if best < 0 && !j.opt.FewestThicknesses && len(j.stock) < 120 {
		best = len(j.stock)
		j.stock = append(j.stock, StockItem{MM: float64(nm) / 1e6, Size: size})
	}
	return int32(best)
}

// fill lists a class's packs.
func (j *job) fill(c *class) error {
	var kinds []kind
	for _, labelled := range [2]bool{true, false} { // of two pieces alike the one that fits fewer feet first
		for i := range j.stock {
			s := &j.stock[i]
			if s.Fits(c.size) && (s.Size != "") == labelled {
				nm, layer, _ := s.nanometres()
				kinds = appendKinds(kinds, i, nm, layer, c.max)
			}
		}
	}
	if len(kinds) == 0 {
		c.packs, c.pieces = []made{{}}, []uint8{0}
		return nil
	}
	byPieces, err := everyPack(kinds, c.max)
	if err != nil {
		return err
	}
	c.kinds = kinds
	type numbered struct {
		made
		n uint8
	}
	var all []numbered
	for n, l := range byPieces {
		for _, m := range l {
			all = append(all, numbered{m, uint8(n)})
		}
	}
	sortBy(all, func(a, b *numbered) int {
		return cmp.Or(cmp.Compare(a.sum, b.sum), cmp.Compare(a.n, b.n), cmp.Compare(a.code, b.code))
	})
	for _, a := range all {
		c.packs, c.pieces = append(c.packs, a.made), append(c.pieces, a.n)
	}
	return nil
}

func (j *job) tell(done int) bool {
	if j.opt.Progress != nil && !j.plan.Cancelled && !j.opt.Progress(done, 2*len(j.feet)) {
		j.plan.Cancelled = true
	}
	return !j.plan.Cancelled
}

// each visits every pack within the tolerance of a foot; draw is left out.
func (j *job) each(f *jobFoot, visit func(c cand)) {
	c := f.class
	var try func(from, kept int, mask uint32, sum int64)
	try = func(from, kept int, mask uint32, sum int64) {
		low := f.want - f.tol - 1000*sum // pm
		i, _ := slices.BinarySearchFunc(c.packs, low, func(m made, t int64) int { return cmp.Compare(1000*m.sum, t) })
		for ; i < len(c.packs); i++ {
			e := 1000*(sum+c.packs[i].sum) - f.want
			if e > f.tol {
				break
			}
			if n := int(c.pieces[i]); n+kept <= c.max {
				visit(cand{err: max(e, -e), sum: sum + c.packs[i].sum, keep: mask, pack: int32(i), pieces: uint8(n + kept), fresh: uint8(n)})
			}
		}
		for i := from; i < len(f.place) && kept < c.max; i++ {
			if i > from && f.place[i] == f.place[i-1] {
				continue
			}
			try(i+1, kept+1, mask|1<<i, sum+f.place[i])
		}
	}
	try(0, 0, 0, 0)
}

// draws appends what a candidate takes from the items that keep says, and with ReturnRemoved gives back, in the order of the items.
func (j *job) draws(buf []drawn, f *jobFoot, c *cand, keep []bool) []drawn {
	m := f.class.packs[c.pack]
	low, high := int32(len(j.tmp)), int32(-1)
	add := func(i, n int32) {
		j.tmp[i] += n
		low, high = min(low, i), max(high, i)
	}
	for r := range int(c.fresh) {
		add(int32(f.class.kinds[m.kind(r)].item), 1)
	}
	for i, b := range f.back {
		if b >= 0 && c.keep>>i&1 == 0 {
			add(b, -1)
		}
	}
	for i := low; i <= high; i++ {
		if j.tmp[i] != 0 {
			if keep == nil || keep[i] {
				buf = append(buf, drawn{i, j.tmp[i]})
			}
			j.tmp[i] = 0
		}
	}
	return buf
}

// byRule orders candidates of one foot by the rule for a single foot, byObjective by that of the job.
func byRule(a, b *cand) int {
	return cmp.Or(cmp.Compare(a.pieces, b.pieces), cmp.Compare(a.err, b.err), cmp.Compare(a.fresh, b.fresh), cmp.Compare(a.sum, b.sum), cmp.Compare(a.pack, b.pack), cmp.Compare(a.keep, b.keep))
}

func byObjective(a, b *cand) int {
	return cmp.Or(cmp.Compare(a.err, b.err), cmp.Compare(a.pieces, b.pieces), byRule(a, b))
}

// prepare lists a foot's candidates.
func (j *job) prepare(i int) {
	f := &j.feet[i]
	if f.status != PickStopped {
		return
	}
	if j.in[i].InPlace == nil && j.in[i].Change < 0 {
		f.status = PickUnlisted
		return
	}
	j.each(f, func(c cand) { f.cands = append(f.cands, c) })
	if len(f.cands) == 0 {
		f.status = PickNoPack
		return
	}
	f.status = PickShort
	j.plan.Asked++
	var buf []drawn
	for k := range f.cands {
		from := len(buf)
		buf = j.draws(buf, f, &f.cands[k], j.counted)
		f.cands[k].draw = buf[from:len(buf):len(buf)]
	}
}

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
	short := slices.ContainsFunc(left, func(n int) bool { return n < 0 })
	if p := j.plan; !short && !(lone && j.opt.ReturnRemoved) {
		for i := range j.feet {
			f := &j.feet[i]
			if f.pick = f.own; f.pick >= 0 {
				p.BoundFeet++
				p.ErrorBound += float64(f.cands[f.pick].err) / 1e9
			}
		}
		p.Proved = true
		return
	}
	j.plan.Contended = true
	parts := j.split()
	whole, gap := true, 0
	var costs float64
	var least []int64
	done := 0
	budget := j.opt.Nodes
	for k, p := range parts {
		if !j.tell(len(j.feet) + done) {
			whole = false
		}
		j.nodes = budget / (len(parts) - k)
		before := j.nodes
		p.done = len(j.feet) + done
		p.solve()
		budget -= before - j.nodes
		j.plan.Nodes += before - j.nodes
		done += len(p.feet)
		whole = whole && p.proved
		j.plan.BoundFeet += p.bound
		gap += p.bound - p.best.met
		costs += p.errBound
		for _, f := range p.feet {
			least = append(least, j.feet[f].leastErr)
		}
	}
	j.plan.Proved = whole
	// A plan that meets as many feet in all may meet fewer in one part and more in another, unless every part is at its bound.
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
}

// split drops what cannot run short, then candidates that another is never worse than, and parts the job into feet that share items.
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
	// Feet of one part hang together by items: the least foot of each item's is its head.
	head := make([]int, j.items)
	for i := range head {
		head[i] = i
	}
	root := func(i int) int {
		for head[i] != i {
			i = head[i]
		}
		return i
	}
	for i := range j.feet {
		first := -1
		for k := range j.feet[i].cands {
			for _, d := range j.feet[i].cands[k].draw {
				if first < 0 {
					first = root(int(d.item))
				}
				head[root(int(d.item))] = first
			}
		}
	}
	var parts []*part
	at := make([]int, j.items)
	for i := range j.feet {
		f := &j.feet[i]
		if len(f.cands) == 0 {
			continue
		}
		item := -1
		for k := range f.cands {
			if len(f.cands[k].draw) > 0 {
				item = root(int(f.cands[k].draw[0].item))
				break
			}
		}
		if item < 0 || at[item] == 0 {
			parts = append(parts, &part{j: j})
			if item >= 0 {
				at[item] = len(parts)
			}
		}
		p := parts[len(parts)-1]
		if item >= 0 {
			p = parts[at[item]-1]
		}
		p.feet = append(p.feet, i)
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
	sortBy(f.cands, byObjective)
	f.leastErr = f.cands[0].err
	kept := 0
next:
	for k := range f.cands {
		for i := range kept {
			if !drawsLess(f.cands[k].draw, f.cands[i].draw) {
				continue next
			}
		}
		if kept == candCap {
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

// A part is feet that compete for the same items, with the plan for them.
type part struct {
	j        *job
	feet     []int
	best     score
	bound    int
	errBound float64 // pm, for plans that meet best.met feet
	proved   bool

	done  int // for Progress
	cur   score
	left  []int
	users [][]int32
}

// solve fills in the picks of the part's feet.
func (p *part) solve() {
	j := p.j
	for _, f := range p.feet {
		for k := range j.feet[f].cands {
			c := &j.feet[f].cands[k]
			c.cost = c.err*j.unit + int64(c.pieces)
		}
	}
	if f := &j.feet[p.feet[0]]; len(p.feet) == 1 && !f.cut {
		if f.pick = slices.IndexFunc(f.cands, func(c cand) bool { return fits(j.left, &c) }); f.pick >= 0 { // in the order of the objective
			p.best = score{1, f.cands[f.pick].cost}
		}
		p.bound, p.errBound, p.proved = p.best.met, float64(p.best.cost/j.unit), true
		return
	}
	p.left = slices.Clone(j.left)
	p.greedy(nil)
	count, countBound := p.prices(0)
	p.bound = min(len(p.feet), int(math.Floor(countBound+1e-6)))
	if !j.plan.Cancelled {
		p.retry(count)
		p.exchange()
	}
	p.bound = max(p.bound, p.best.met)
	cost, costBound := p.prices(p.best.met)
	if !j.plan.Cancelled {
		p.retry(cost[:len(cost)-1])
		p.exchange()
	}
	cut := slices.ContainsFunc(p.feet, func(f int) bool { return j.feet[f].cut })
	if len(p.feet) <= exactFeet && !cut && !j.plan.Cancelled {
		p.proved = p.search(count, cost)
	}
	p.errBound = max(0, min(costBound, float64(p.best.cost))/float64(j.unit)*(1-1e-9)-1) // the pieces' fraction, and rounding
	if p.proved {
		p.bound, p.errBound = p.best.met, float64(p.best.cost/j.unit)
	}
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

// greedy makes a plan from nothing: feet with the least to choose from, weighed by the prices of what they draw, first; each takes the
// candidate that is cheapest at these prices and that the box still holds.
func (p *part) greedy(price []float64) {
	j := p.j
	for _, f := range p.feet {
		p.put(f, -1)
	}
	type turn struct {
		foot int
		by   float64
	}
	turns := make([]turn, len(p.feet))
	at := func(c *cand) float64 {
		s := 0.0
		for _, d := range c.draw {
			if price != nil {
				s += price[d.item] * float64(d.n)
			} else if d.n > 0 {
				s += float64(d.n) / float64(1+j.left[d.item])
			}
		}
		return s
	}
	for k, f := range p.feet {
		cheapest := math.Inf(1)
		for c := range j.feet[f].cands {
			cheapest = min(cheapest, at(&j.feet[f].cands[c]))
		}
		turns[k] = turn{f, cheapest}
	}
	sortBy(turns, func(a, b *turn) int { return cmp.Compare(a.by, b.by) })
	for again := j.opt.ReturnRemoved; ; again = false { // a second round finds what others have given back
		for _, t := range turns {
			f := &j.feet[t.foot]
			if f.pick >= 0 {
				continue
			}
			best, by := -1, 0.0
			for k := range f.cands {
				if s := at(&f.cands[k]); fits(p.left, &f.cands[k]) && (best < 0 || s < by-1e-12) {
					best, by = k, s
				}
			}
			if best >= 0 {
				p.put(t.foot, best)
			}
		}
		if !again {
			break
		}
	}
	p.best = p.cur
}

// retry keeps the better of the plan as it is and the greedy one at the prices.
func (p *part) retry(price []float64) {
	was, picks := p.best, p.picks()
	if p.greedy(price); !p.best.better(was) {
		p.set(picks)
		p.best = was
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
	p.best = p.cur
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
		for k := -1; k < len(o.cands); k++ {
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
// With met = 0 the bound is on the number of feet met, from above. Otherwise it is on the cost of plans that meet met feet or more, from
// below, and the last of the prices is what a foot met is worth. Prices come by subgradient steps.
func (p *part) prices(met int) (price []float64, bound float64) {
	j := p.j
	n := j.items + 1
	now, best, grad := make([]float64, n), make([]float64, n), make([]float64, n)
	// Everything as a cost to be bounded from below: a foot met is worth one, or now[n-1] if its number is demanded.
	bound = -float64(len(p.feet))
	target := -float64(p.best.met)
	worth := 1.0
	if met > 0 {
		bound, target = 0, float64(p.best.cost)
		for _, f := range p.feet {
			for k := range j.feet[f].cands {
				worth = max(worth, float64(j.feet[f].cands[k].cost))
			}
		}
		now[n-1] = 2 * worth
		copy(best, now)
	}
	step, stale := 1.2, 0
	rounds := 120
	if len(p.feet) > exactFeet {
		rounds = 80
	}
	for r := range rounds {
		if r%16 == 0 && !j.tell(p.done) {
			break
		}
		w := 1.0
		if met > 0 {
			w = now[n-1]
		}
		value := 0.0
		for i := range grad {
			grad[i] = 0
		}
		for i := range j.items {
			value -= now[i] * float64(j.left[i])
			grad[i] = -float64(j.left[i])
		}
		if met > 0 {
			value += w * float64(met)
			grad[n-1] = float64(met)
		}
		for _, i := range p.feet {
			f := &j.feet[i]
			low, at := 0.0, -1
			if f.cut { // met for nothing: a bound all the same
				if low = -w; met > 0 {
					low = min(0, float64(f.leastErr*j.unit)-w)
				}
				if value += low; low < 0 {
					grad[n-1]--
				}
				continue
			}
			for k := range f.cands {
				c := &f.cands[k]
				v := -w
				if met > 0 {
					v += float64(c.cost)
				}
				for _, d := range c.draw {
					v += now[d.item] * float64(d.n)
				}
				if v < low {
					low, at = v, k
				}
			}
			if value += low; at >= 0 {
				grad[n-1]--
				for _, d := range f.cands[at].draw {
					grad[d.item] += float64(d.n)
				}
			}
		}
		if value > bound+1e-9*worth {
			bound, stale = value, 0
			copy(best, now)
		} else if stale++; stale >= 6 {
			step, stale = step/2, 0
			copy(now, best)
		}
		norm := 0.0
		for i, g := range grad {
			if i == n-1 && met == 0 || now[i] == 0 && g < 0 {
				grad[i] = 0
				continue
			}
			norm += g * g
		}
		if norm == 0 || step < 1e-4 {
			break
		}
		t := step * max(target-value, 1e-3*worth) / norm
		for i, g := range grad {
			now[i] = max(0, now[i]+t*g)
		}
	}
	if met == 0 {
		return best, -bound
	}
	return best, bound
}

// search looks through every plan of the part that the bounds leave, foot by foot, and says whether it came to the end. count and cost are
// the prices of the two bounds.
func (p *part) search(count, cost []float64) bool {
	j := p.j
	n := len(p.feet)
	worth := cost[j.items]
	type option struct {
		k       int
		reduced float64
	}
	type stage struct {
		foot    int
		options []option
		regret  float64
	}
	stages := make([]stage, n)
	for s, i := range p.feet {
		f := &j.feet[i]
		st := stage{foot: i, options: []option{{-1, 0}}}
		for k := range f.cands {
			v := float64(f.cands[k].cost) - worth
			for _, d := range f.cands[k].draw {
				v += cost[d.item] * float64(d.n)
			}
			st.options = append(st.options, option{k, v})
		}
		sortBy(st.options, func(a, b *option) int { return cmp.Compare(a.reduced, b.reduced) })
		if len(st.options) > 1 {
			st.regret = st.options[1].reduced - st.options[0].reduced
		}
		stages[s] = st
	}
	sortBy(stages, func(a, b *stage) int { return cmp.Compare(b.regret, a.regret) })
	// What the feet from a stage on can still bring, by either bound, and what of each item they can use or give back at the most.
	restMet, restCost := make([]float64, n+1), make([]float64, n+1)
	use, back := make([][]int, n+1), make([][]int, n+1)
	use[n], back[n] = make([]int, j.items), make([]int, j.items)
	for s := n - 1; s >= 0; s-- {
		f := &j.feet[stages[s].foot]
		use[s], back[s] = slices.Clone(use[s+1]), slices.Clone(back[s+1])
		up, down := make([]int, j.items), make([]int, j.items)
		gain := 0.0
		for k := range f.cands {
			v := 1.0
			for _, d := range f.cands[k].draw {
				v -= count[d.item] * float64(d.n)
				up[d.item], down[d.item] = max(up[d.item], int(d.n)), max(down[d.item], -int(d.n))
			}
			gain = max(gain, v)
		}
		for i := range up {
			use[s][i] += up[i]
			back[s][i] += down[i]
		}
		restMet[s] = restMet[s+1] + gain
		restCost[s] = restCost[s+1] + min(0, stages[s].options[0].reduced)
	}
	var scarce []int
	for i := range use[0] {
		if use[0][i] > 0 || back[0][i] > 0 {
			scarce = append(scarce, i)
		}
	}
	margin := 1e-12*(worth*float64(n)-restCost[0]) + 1e-6 // more than what rounding may do
	left := slices.Clone(j.left)
	picks, found := make([]int, n), p.picks()
	at := make(map[int]int, n)
	for k, f := range p.feet {
		at[f] = k
	}
	seen := map[string]score{}
	key := make([]byte, 0, 4*len(scarce)+2)
	whole := true
	var walk func(s int, now score)
	walk = func(s int, now score) {
		if j.nodes--; j.nodes < 0 || j.nodes%4096 == 0 && !j.tell(p.done) {
			whole = false
			return
		}
		if s == n {
			for _, i := range scarce {
				if left[i] < 0 {
					return
				}
			}
			if now.better(p.best) {
				p.best = now
				copy(found, picks)
			}
			return
		}
		most, least := float64(now.met)+restMet[s], float64(now.cost)+restCost[s]
		for _, i := range scarce {
			if left[i]+back[s][i] < 0 {
				return
			}
			most += count[i] * float64(left[i])
			least -= cost[i] * float64(left[i])
		}
		most = math.Floor(most + 1e-6)
		if most = min(most, float64(now.met+n-s)); most < float64(p.best.met) {
			return
		}
		if most == float64(p.best.met) {
			if least += worth * float64(p.best.met-now.met); least > float64(p.best.cost-1)+margin {
				return
			}
		}
		// The rest depends on what is left alone, and of that only on what the rest can use.
		if n-s > 2 {
			key = append(key[:0], byte(s))
			for _, i := range scarce {
				v := min(left[i], use[s][i])
				key = append(key, byte(v), byte(v>>8))
			}
			if b, ok := seen[string(key)]; ok && !now.better(b) {
				return
			} else if ok || len(seen) < 200_000 {
				seen[string(key)] = now
			}
		}
		for _, o := range stages[s].options {
			if !whole {
				return
			}
			f := &j.feet[stages[s].foot]
			if picks[at[stages[s].foot]] = o.k; o.k < 0 {
				walk(s+1, now)
				continue
			}
			c := &f.cands[o.k]
			take(left, c, 1)
			ok := true
			for _, d := range c.draw {
				ok = ok && left[d.item]+back[s+1][d.item] >= 0
			}
			if ok {
				walk(s+1, score{now.met + 1, now.cost + c.cost})
			}
			take(left, c, -1)
		}
	}
	walk(0, score{})
	p.set(found)
	p.best = p.cur
	return whole
}

// carry chooses the fewest items with which every foot can be met.
func (j *job) carry() {
	type way struct {
		items  uint64
		pieces uint8
	}
	ways := make([][]way, len(j.feet))
	all := uint64(0)
	var order []int
	for i := range j.feet {
		f := &j.feet[i]
		if len(f.cands) == 0 {
			continue
		}
		order = append(order, i)
		var list []way
		for k := range f.cands {
			list = append(list, way{j.itemsOf(f, &f.cands[k]), f.cands[k].pieces})
		}
		sortBy(list, func(a, b *way) int {
			return cmp.Or(cmp.Compare(a.pieces, b.pieces), cmp.Compare(bits.OnesCount64(a.items), bits.OnesCount64(b.items)), cmp.Compare(a.items, b.items))
		})
	next:
		for _, w := range list {
			for _, b := range ways[i] {
				if b.items&^w.items == 0 {
					continue next
				}
			}
			ways[i] = append(ways[i], w)
			all |= w.items
		}
	}
	// Feet that failed last are asked first.
	meets := func(set uint64) bool {
		for k, i := range order {
			if !slices.ContainsFunc(ways[i], func(w way) bool { return w.items&^set == 0 }) {
				copy(order[1:k+1], order[:k])
				order[0] = i
				return false
			}
		}
		return true
	}
	pieces := func(set uint64) (n int) {
		for _, i := range order {
			for _, w := range ways[i] { // fewest pieces first
				if w.items&^set == 0 {
					n += int(w.pieces)
					break
				}
			}
		}
		return n
	}
	errOf := func(set uint64) (e int64) {
		for _, i := range order {
			f := &j.feet[i]
			if k := j.within(f, set); k >= 0 {
				e += f.cands[k].err
			}
		}
		return e
	}
	best := all
	p := j.plan
	p.CarryBound = 0
	for _, i := range order {
		least := 64
		for _, w := range ways[i] {
			least = min(least, bits.OnesCount64(w.items))
		}
		p.CarryBound = max(p.CarryBound, least)
	}
	if n := bits.OnesCount64(all); n <= exactItems {
		var list []uint64
		for b := all; b != 0; b &= b - 1 {
			list = append(list, b&-b)
		}
		asked, found := 0, false
		bestPieces, bestErr := 0, int64(0)
		for size := p.CarryBound; size <= n && !found; size++ {
			var pick func(from, more int, set uint64)
			pick = func(from, more int, set uint64) {
				if more == 0 {
					if asked++; asked%512 == 0 && !j.tell(len(j.feet)) || !meets(set) {
						return
					}
					k := pieces(set)
					if found && k > bestPieces {
						return
					}
					if e := errOf(set); !found || k < bestPieces || e < bestErr {
						best, bestPieces, bestErr, found = set, k, e, true
					}
					return
				}
				for i := from; i+more <= len(list) && !p.Cancelled; i++ {
					pick(i+1, more-1, set|list[i])
				}
			}
			pick(0, size, 0)
		}
		if !p.Cancelled {
			p.CarryBound, p.Proved = bits.OnesCount64(best), true
		}
	} else {
		// One item after the other is left at home, each time the one that costs the fewest pieces.
		for !p.Cancelled {
			drop, least := uint64(0), 0
			for b := best; b != 0 && j.tell(len(j.feet)); b &= b - 1 {
				if set := best &^ (b & -b); meets(set) {
					if k := pieces(set); drop == 0 || k < least {
						drop, least = b&-b, k
					}
				}
			}
			if drop == 0 {
				break
			}
			best &^= drop
		}
	}
	for i := range j.feet {
		if f := &j.feet[i]; len(f.cands) > 0 {
			f.pick = j.within(f, best)
			p.BoundFeet++
			p.ErrorBound += float64(f.cands[f.pick].err) / 1e9
		}
	}
	if !p.Proved {
		p.ErrorBound = 0
	}
	for b := best; b != 0; b &= b - 1 {
		p.Carry = append(p.Carry, bits.TrailingZeros64(b))
	}
}

// itemsOf is the stock items of a candidate, a bit each.
func (j *job) itemsOf(f *jobFoot, c *cand) (set uint64) {
	m := f.class.packs[c.pack]
	for r := range int(c.fresh) {
		set |= 1 << f.class.kinds[m.kind(r)].item
	}
	return set
}

// within is the best candidate by the rule that needs no item beyond the set, or −1.
func (j *job) within(f *jobFoot, set uint64) int {
	best := -1
	for k := range f.cands {
		if c := &f.cands[k]; j.itemsOf(f, c)&^set == 0 && (best < 0 || byRule(c, &f.cands[best]) < 0) {
			best = k
		}
	}
	return best
}

// finish writes the picks, the totals and the order list.
func (j *job) finish() {
	p := j.plan
	p.Order = make([]OrderLine, j.items)
	left := slices.Clone(j.left)
	var short []int
	for i := range j.feet {
		f := &j.feet[i]
		switch {
		case f.pick >= 0:
			c := &f.cands[f.pick]
			f.status = PickMet
			p.Met++
			p.Pieces += int(c.pieces)
			j.write(i, c)
			p.Error += math.Abs(p.Picks[i].Error)
			for _, d := range j.draws(nil, f, &cand{pack: c.pack, fresh: c.fresh, keep: math.MaxUint32}, nil) {
				p.Order[d.item].Used += int(d.n)
				left[d.item] -= int(d.n)
			}
			for k, b := range f.back {
				if b >= 0 && c.keep>>k&1 == 0 {
					p.Order[b].Back++
					left[b]++
				}
			}
		case f.status == PickShort && !p.Cancelled:
			short = append(short, i)
		default:
			j.other(i)
		}
	}
	p.GapFeet = max(0, p.BoundFeet-p.Met)
	p.ErrorBound = min(p.ErrorBound, p.Error)
	if p.Cancelled {
		p.Proved = false
	}
	for _, i := range short {
		j.want(i, left)
	}
	for i := range p.Order {
		o := &p.Order[i]
		o.Item, o.Counted = i, j.counted[i]
		if o.Order = max(0, o.Used-o.Back); o.Counted {
			o.Missing = max(0, -left[i])
			o.Order = o.Missing
		}
		if o.Order > 0 {
			o.Order += max(j.opt.SpareMin, int(math.Ceil(float64(o.Order)*j.opt.SparePercent/100-1e-9)))
		}
	}
	p.Order = p.Order[:j.nListed]
}

// want puts the pack of a short foot on the order: the one that lacks the fewest pieces, then the best by the rule.
func (j *job) want(i int, left []int) {
	f := &j.feet[i]
	var best cand
	lack := -1
	var buf []drawn
	missing := func(c *cand) (n int) {
		buf = j.draws(buf[:0], f, &cand{pack: c.pack, fresh: c.fresh, keep: math.MaxUint32}, j.counted)
		for _, d := range buf {
			n += max(0, int(d.n)-max(0, left[d.item]))
			if int(d.item) >= j.nListed && int(d.n) > left[d.item] {
				n += 1000 // cannot be ordered: it is not in the list
			}
		}
		return n
	}
	j.each(f, func(c cand) {
		if n := missing(&c); lack < 0 || n < lack || n == lack && byRule(&c, &best) < 0 {
			best, lack = c, n
		}
	})
	j.write(i, &best)
	j.plan.Picks[i].Status = PickShort
	missing(&best)
	for _, d := range buf {
		left[d.item] -= int(d.n)
	}
}

// write fills in a pick from a candidate.
func (j *job) write(i int, c *cand) {
	f := &j.feet[i]
	m := f.class.packs[c.pack]
	out := &j.plan.Picks[i]
	out.Status = PickMet
	type piece struct {
		nm     int64
		layers uint8
	}
	var ranked []piece
	laminated := false
	for k, nm := range f.place {
		if mm := float64(nm) / 1e6; c.keep>>k&1 == 1 {
			out.Keep = append(out.Keep, mm)
			ranked = append(ranked, piece{nm, 0})
		} else {
			out.Take = append(out.Take, mm)
		}
	}
	for r := range int(c.fresh) {
		k := &f.class.kinds[m.kind(r)]
		out.Put = append(out.Put, float64(k.nm)/1e6)
		out.Items = append(out.Items, k.item)
		ranked = append(ranked, piece{k.nm, k.layers})
		laminated = laminated || k.layers > 0
	}
	sortBy(ranked, func(a, b *piece) int { return cmp.Compare(b.nm, a.nm) })
	for _, at := range under[len(ranked)] {
		out.Pieces = append(out.Pieces, float64(ranked[at].nm)/1e6)
		if laminated {
			out.Layers = append(out.Layers, ranked[at].layers)
		}
	}
	out.Sum = float64(c.sum) / 1e6
	was := float64(f.was) / 1e6
	out.Error, out.OK = out.Sum-(was+j.in[i].Change), true
	out.Net = out.Sum - was
	out.Leave = j.in[i].InPlace != nil && len(f.place) <= f.class.max && math.Abs(j.in[i].Change)*1e9 <= float64(f.tol)
}

// other fills in a pick that takes nothing from the box.
func (j *job) other(i int) {
	f, out := &j.feet[i], &j.plan.Picks[i]
	out.Status = f.status
	switch f.status {
	case PickBelow:
		out.Change.Status, out.Shortfall = ChangeBelow, f.short
		out.Net = -float64(f.was) / 1e6
		out.Error = f.short
		out.Take = millimetres(f.place)
	case PickUnlisted:
		var best cand
		some := false
		j.each(f, func(c cand) {
			if !some || byRule(&c, &best) < 0 {
				best, some = c, true
			}
		})
		if some {
			j.write(i, &best)
			out.Error = out.Sum + j.in[i].Change
		} else if q := j.nearest(f); q != nil {
			out.Pack = q.Pack(-j.in[i].Change)
		}
		out.Status, out.Items, out.Put = PickUnlisted, nil, nil
		out.Change.Status, out.Net, out.Leave = ChangeUnlisted, -out.Sum, false
	case PickNoPack:
		if q := j.nearest(f); q != nil {
			out.Change, _ = q.Change(j.in[i].Change, j.in[i].InPlace)
		}
		out.Change.Status, out.OK = ChangeNearest, false
	case PickNone:
		out.Change.Status = ChangeNone
	case PickShort:
		out.Status = PickStopped
	}
}

// nearest makes packs of a foot's class without regard to counts and to the tolerance; nil when nothing fits the foot.
func (j *job) nearest(f *jobFoot) *Packer {
	if f.class.packer == nil {
		list := slices.Clone(j.stock[:j.nListed])
		for i := range list {
			list[i].Count = -1
		}
		f.class.packer, _ = NewStockPacker(list, f.class.size, f.class.max, 1e-9)
	}
	return f.class.packer
}

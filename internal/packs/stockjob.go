package packs

import (
	"cmp"
	"errors"
	"math"
	"math/bits"
	"slices"
	"sync"

	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

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
	work    int // of exchanges
	candCap int // candidates of a foot in the shared search
	blocks  []block
	shares  []ShareClass
	unit    int64 // see score
}

const (
	exactItems = 14 // items among which the fewest to carry are searched in full
	exchanges  = 4_000_000
	shareWork  = 300_000_000 // looks at a draw, and the like, in the search of all parts together
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
		o.Nodes = 1_000_000
	}
	if err := packSettings(o.MaxPieces, o.Tolerance); err != nil {
		return nil, err
	}
	if !(o.SparePercent >= 0 && o.SparePercent <= 1e6) || o.SpareMin < 0 {
		return nil, errors.New(words.StockSpare.Say(o.SparePercent, o.SpareMin))
	}
	if len(stock) == 0 {
		return nil, words.Error(words.StockEmpty)
	}
	if len(feet) > 20_000 {
		return nil, errors.New(words.StockTooManyFeet.Say(len(feet)))
	}
	j.candCap = max(96, min(1500, 100_000/max(1, len(feet))))
	j.unit = 1 << bits.Len(uint(MaxPieces*len(feet)))
	if len(stock) > 64 {
		return nil, errors.New(words.StockTooManyItems.Say(len(stock)))
	}
	for i := range stock {
		if _, _, err := stock[i].nanometres(); err != nil {
			return nil, words.StockItem.Wrap(err, i+1)
		}
	}
	for f := range feet {
		if err := j.foot(f); err != nil {
			return nil, words.StockFoot.Wrap(err, f+1, feet[f].ID)
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
		return errors.New(words.StockToleranceLarge.Say(tol))
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
	case !number(in.Change):
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
	if l := packLists.find(kinds, c.max); l != nil {
		c.kinds, c.packs, c.pieces = l.kinds, l.packs, l.pieces
		return nil
	}
	l := packList{of: slices.Clone(kinds), max: c.max, kinds: kinds}
	if err := l.fill(); err != nil {
		return err
	}
	c.kinds, c.packs, c.pieces = l.kinds, l.packs, l.pieces
	packLists.add(l)
	return nil
}

// A packList is every pack of some kinds, thinnest first. Once made nothing changes it, so jobs share it.
type packList struct {
	of     []kind // as asked for
	max    int
	kinds  []kind // as the packs number them
	packs  []made
	pieces []uint8 // of each pack
}

// packLists are the last lists of any job: making one costs ten times what a row costs, and most jobs have the stock that is assumed without a Stock sheet.
var packLists madePackLists

type madePackLists struct {
	sync.RWMutex
	list []packList // the newest last
}

const (
	mostPackLists = 4
	mostListed    = 50_000 // packs of a list that is remembered
)

func (m *madePackLists) find(of []kind, most int) *packList {
	m.RLock()
	defer m.RUnlock()
	for i := range m.list {
		if l := m.list[i]; l.max == most && slices.Equal(l.of, of) {
			return &l
		}
	}
	return nil
}

func (m *madePackLists) add(l packList) {
	if len(l.packs) > mostListed {
		return
	}
	m.Lock()
	defer m.Unlock()
	if len(m.list) == mostPackLists {
		m.list = slices.Delete(m.list, 0, 1)
	}
	m.list = append(m.list, l)
}

// fill lists the packs.
func (l *packList) fill() error {
	byPieces, err := everyPack(l.kinds, l.max)
	if err != nil {
		return err
	}
	type numbered struct {
		made
		n uint8
	}
	var all []numbered
	for n, packs := range byPieces {
		for _, m := range packs {
			all = append(all, numbered{m, uint8(n)})
		}
	}
	sorting.By(all, func(a, b *numbered) int {
		return cmp.Or(cmp.Compare(a.sum, b.sum), cmp.Compare(a.n, b.n), cmp.Compare(a.code, b.code))
	})
	for _, a := range all {
		l.packs, l.pieces = append(l.packs, a.made), append(l.pieces, a.n)
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
	return cmp.Or(cmp.Compare(a.cost, b.cost), byRule(a, b))
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

// finish writes the picks, the totals and the order list.
func (j *job) finish() {
	p := j.plan
	p.Order = make([]OrderLine, j.items)
	left := slices.Clone(j.left)
	for b := range j.blocks {
		s := &j.shares[j.blocks[b].class]
		s.Asked++
		if j.feet[j.blocks[b].feet[0]].pick >= 0 {
			s.Met++
		}
	}
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
	if j.opt.ByMachines {
		p.Shares = j.shares
		for c := range p.Shares {
			if s := &p.Shares[c]; !p.Contended {
				s.Bound = s.Met
			} else if s.Bound = max(s.Bound, s.Met); p.Cancelled {
				s.Bound = s.Asked
			}
		}
		class := make([]int, len(j.feet))
		for b := range j.blocks {
			for _, i := range j.blocks[b].feet {
				class[i] = j.blocks[b].class
			}
		}
		sorting.By(short, func(a, b *int) int { return cmp.Compare(class[*a], class[*b]) })
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
	p.Returned = j.stock[j.nListed:]
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
				n += 1000 // what nobody stocks is ordered last
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
	missing(&best)
	for _, d := range buf {
		for range max(0, int(d.n)-max(0, left[d.item])) {
			j.plan.Picks[i].Lack = append(j.plan.Picks[i].Lack, int(d.item))
		}
		left[d.item] -= int(d.n)
	}
	out := &j.plan.Picks[i]
	if out.Status = PickShort; j.opt.ByMachines && len(out.Lack) == 0 {
		out.Status = PickWaits
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
	sorting.By(ranked, func(a, b *piece) int { return cmp.Compare(b.nm, a.nm) })
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

package evaluate

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A StockLine is one line of the box: a row of the Stock sheet, or a thickness assumed without one.
type StockLine struct {
	packs.StockItem
	Row   int               // of the source, 0 assumed
	Size  string            // as typed; Item.Size is what feet are matched by
	Class tables.StripClass // Tolerance is that of this class; NoStripClass: typed, or none
}

// readStock makes the packer from the Stock sheet, or from the stock assumed without one.
func (e *Evaluator) readStock() {
	e.stock, e.assumed = e.stock[:0], true
	file, name := "", e.SheetName(job.StockSheet)
	if l := e.lines(job.StockSheet, job.StockThickness, job.StockUnit, job.StockThickness); l != nil {
		file = l.t.File
		for l.next() {
			if l.blank(job.StockThickness) {
				if !l.blank(job.StockCount) {
					l.missing(job.StockThickness, words.Phrase{})
				}
				continue
			}
			s := StockLine{Row: l.src(), Size: l.text(job.StockSize)}
			s.MM = l.number(job.StockThickness, positive)
			if s.Count = -1; !l.blank(job.StockCount) {
				s.Count = int(math.Min(KnownOr(l.number(job.StockCount, anything), 0), 1e6))
			}
			kind, layer := l.choice(job.StockKind), l.number(job.StockLamination, positive)
			switch {
			case l.bad: // what cannot be counted is not there
				continue
			case kind == 1 && math.IsNaN(layer):
				l.missing(job.StockLamination, words.HintLamination.With())
				continue
			case kind == 0 && Known(layer):
				l.fail(job.StockLamination, words.ProblemPlainLamination.With(), words.HintLamination.With())
				continue
			case layer > s.MM:
				l.fail(job.StockLamination, words.ProblemLaminationThick.With(e.Thickness(layer), e.Thickness(s.MM)), words.HintLamination.With())
				continue
			}
			s.Lamination = KnownOr(layer, 0)
			e.stripOf(l, &s)
			e.stock, e.assumed = append(e.stock, s), false
		}
	}
	if e.assumed {
		for _, t := range tables.DefaultStock(e.set.inch) {
			s := StockLine{StockItem: packs.StockItem{MM: t.MM, Count: t.Count}, Class: e.set.strip}
			s.Tolerance = tables.StripTolerance(t.MM, s.Class)
			e.stock = append(e.stock, s)
		}
	}
	e.sizes()
	key := stockKey{e.set.pieces, e.set.packTol, e.size, e.set.strip}
	items := e.items()
	if e.packer != nil && key == e.packKey && sameItems(items, e.packItems) {
		return
	}
	e.packKey, e.packItems = key, items
	e.packers = map[string]*packs.Packer{}
	p, err := e.newPacker(e.size)
	if err != nil {
		if e.assumed {
			file, name = "", e.SheetName(job.SettingsSheet)
		}
		e.problems = append(e.problems, job.Problem{Severity: job.Error, File: file, Sheet: name, Text: words.ProblemNoPacks.With(err), Hint: words.HintNoPacks.With(), Col: -1})
		p = nil
	}
	e.packer, e.packers[e.size] = p, p
	e.thinnest, e.loose = math.Inf(1), e.set.strip != tables.NoStripClass
	for _, s := range items {
		e.loose = e.loose || s.Tolerance != 0
		t := s.MM
		if s.Lamination > 0 {
			t = s.Lamination
		}
		if s.Count != 0 && s.Fits(e.size) {
			e.thinnest = min(e.thinnest, t)
		}
	}
}

// stockKey is what a packer hangs on besides the stock.
type stockKey struct {
	pieces int
	tol    float64
	size   string
	strip  tables.StripClass
}

// sameItems is equality, two tolerances that are not known being equal.
func sameItems(a, b []packs.StockItem) bool {
	for i := range a {
		if i >= len(b) {
			return false
		}
		x, y := a[i], b[i]
		if math.IsNaN(x.Tolerance) && math.IsNaN(y.Tolerance) {
			x.Tolerance, y.Tolerance = 0, 0
		}
		if x != y {
			return false
		}
	}
	return len(a) == len(b)
}

// stripOf settles how well the thickness of a line's pieces is known: by its own tolerance, else by its class, else by the job's class. A cell that cannot
// be read leaves it not known, and the pieces are there all the same.
func (e *Evaluator) stripOf(l *lines, s *StockLine) {
	own := l.number(job.StockTolerance, notNegative)
	piece := s.MM
	if s.Lamination > 0 {
		piece = s.Lamination
	}
	if own >= piece {
		l.fail(job.StockTolerance, words.ProblemStripThick.With(job.Quote(l.cell(job.StockTolerance))), words.HintStripThick.With())
	}
	bad := l.bad
	class := l.choice(job.StockClass)
	switch {
	case bad:
		s.Tolerance = nan
		return
	case Known(own):
		s.Tolerance = own
		return
	case l.bad:
		s.Tolerance = nan
		return
	case class >= 0:
		s.Class = tables.StripNormal + tables.StripClass(class)
	default:
		s.Class = e.set.strip
	}
	if s.Tolerance = tables.StripTolerance(s.MM, s.Class); s.Lamination > 0 && s.Class != tables.NoStripClass {
		s.Tolerance = tables.LaminationTolerance(s.Lamination)
	}
}

// sizes settles by which label the stock and the feet are matched. Where no foot of the job says its size, the sizes of the stock are for people to
// read; else a foot that says none takes the job's size, or the first that the stock has.
func (e *Evaluator) sizes() {
	e.size = ""
	j := job.NormalForm(e.set.size)
	if !e.sized && j == "" {
		for i := range e.stock {
			e.stock[i].StockItem.Size = ""
		}
		return
	}
	e.size = j
	for i := range e.stock {
		s := &e.stock[i]
		if s.StockItem.Size = job.NormalForm(s.Size); e.size == "" {
			e.size = s.StockItem.Size
		}
	}
}

// sizeOf is the label of a foot with a size as typed.
func (e *Evaluator) sizeOf(typed string) string {
	if k := job.NormalForm(typed); k != "" {
		return k
	}
	return e.size
}

func (e *Evaluator) items() []packs.StockItem {
	list := make([]packs.StockItem, len(e.stock))
	for i := range e.stock {
		list[i] = e.stock[i].StockItem
	}
	return list
}

func (e *Evaluator) newPacker(size string) (*packs.Packer, error) {
	key := stockKey{e.set.pieces, e.set.packTol, size, e.set.strip}
	if p := packersMade.find(key, e.packItems); p != nil {
		return p, nil
	}
	p, err := packs.NewStockPacker(e.packItems, size, e.set.pieces, e.set.packTol)
	if err == nil {
		p.OtherStrip(e.set.strip)
		packersMade.add(madePacker{key, e.packItems, p})
	}
	return p, err
}

// packersMade are the last packers of any job. Making one costs more than working a row out, and most jobs have the stock that is assumed without a Stock sheet.
var packersMade madePackers

type madePackers struct {
	sync.RWMutex
	list []madePacker // the newest last
}

type madePacker struct {
	key    stockKey
	items  []packs.StockItem
	packer *packs.Packer
}

// mostPackers is how many are remembered.
const mostPackers = 8

func (m *madePackers) find(key stockKey, items []packs.StockItem) *packs.Packer {
	m.RLock()
	defer m.RUnlock()
	for i := range m.list {
		if x := &m.list[i]; x.key == key && sameItems(items, x.items) {
			return x.packer
		}
	}
	return nil
}

func (m *madePackers) add(p madePacker) {
	m.Lock()
	defer m.Unlock()
	if len(m.list) == mostPackers {
		m.list = slices.Delete(m.list, 0, 1)
	}
	m.list = append(m.list, p)
}

// packerFor is the packer for feet of a size as typed; nil if the stock has nothing for it.
func (e *Evaluator) packerFor(typed string) *packs.Packer {
	k := e.sizeOf(typed)
	p, ok := e.packers[k]
	if !ok {
		p, _ = e.newPacker(k)
		e.packers[k] = p
	}
	return p
}

// Stock returns the lines of the box, those of the Stock sheet or those assumed without one. Callers must not change them.
func (e *Evaluator) Stock() (lines []StockLine, assumed bool) { return e.stock, e.assumed }

// StockUnread says whether the box is assumed though something stands on the Stock sheet: no line of it could be read.
func (e *Evaluator) StockUnread() bool {
	t := e.job.Table(job.StockSheet)
	return e.assumed && t != nil && slices.ContainsFunc(t.Rows, func(row []string) bool { return !job.BlankRow(row) })
}

// An Order is one line of the order list.
type Order struct {
	Stock StockLine
	packs.OrderLine
	Pieces   int // that go under feet over the job, those of feet that are short too
	Machines int // couplings that take the piece
}

// An Allocation shares the stock out over the whole job.
type Allocation struct {
	Picks  []Picked // machine by machine, in the order of the sheet
	Orders []Order  // one a line of the stock, in its order, and then one a thickness that comes back and that the stock does not list
	Left   int      // couplings left out because they are inside their limits
	Plan   *packs.StockPlan

	ByMachines bool     // the stock was shared out by whole machines
	Machines   []Served // the machines of Picks
}

// A Served is how a machine fares.
type Served struct {
	Row      int // index in the Machines sheet
	Machine  string
	Priority int
	Asked    int // feet that could be met if nothing were short
	Met      int
	Helpless bool        // it has a foot that no stock helps
	Lacks    []StockLine // of each piece that the box lacks for it
}

// Whole says that every foot that the stock could meet has its pack.
func (s *Served) Whole() bool { return s.Met == s.Asked }

// Begun says that some feet have their packs.
func (s *Served) Begun() bool { return s.Met > 0 }

// serve fills in Machines. Machines that need nothing of the stock are left out.
func (a *Allocation) serve(e *Evaluator, box []StockLine) {
	for k := range a.Picks {
		p := &a.Picks[k]
		if n := len(a.Machines); n == 0 || a.Machines[n-1].Row != p.Row {
			a.Machines = append(a.Machines, Served{Row: p.Row, Machine: p.Machine, Priority: e.Row(p.Row).Priority})
		}
		s := &a.Machines[len(a.Machines)-1]
		switch st := p.Pick.Status; {
		case st == packs.PickMet || st.Short():
			s.Asked++
			if st == packs.PickMet {
				s.Met++
			}
		case st == packs.PickNoPack || st == packs.PickBelow || st == packs.PickNone:
			s.Helpless = true
		}
		for _, item := range p.Lack {
			s.Lacks = append(s.Lacks, box[item])
		}
	}
	a.Machines = slices.DeleteFunc(a.Machines, func(s Served) bool { return s.Asked == 0 })
}

// MachinesServed counts the machines that could be finished if nothing were short, and those of them whose every foot has its pack.
func (a *Allocation) MachinesServed() (asked, met int) {
	for i := range a.Machines {
		if s := &a.Machines[i]; !s.Helpless {
			if asked++; s.Whole() {
				met++
			}
		}
	}
	return
}

// Allocate shares the stock out over every coupling that is to be shimmed: those not inside their limits, and those inside with a soft foot,
// which get the soft foot's shims alone. From then on the rows have its packs ([Evaluator.Packs]); results taken before are no longer good. progress, if not nil, is
// told now and then how far it is, and stops the work by returning false: the allocation is then what there was by then, and says so. It is kept until the job
// changes.
func (e *Evaluator) Allocate(progress func(done, total int) bool) (*Allocation, error) {
	if e.alloc != nil {
		return e.alloc, nil
	}
	e.dropSharing()
	a := &Allocation{Picks: make([]Picked, 0, 4*len(e.dirty))} // four feet a machine
	feet := make([]packs.StockFoot, 0, 4*len(e.dirty))
	for i := range e.dirty {
		r := e.Row(i)
		first := len(a.Picks)
		a.Picks = e.boxPacks(a.Picks, r)
		own := a.Picks[first:]
		if len(own) == 0 && r.Kind == MachineRow && r.Stays() {
			a.Left++
		}
		for k := range own {
			p := &own[k]
			p.Row = i
			f := packs.StockFoot{ID: p.Machine + ", " + p.Foot, Machine: i, Priority: r.Priority, Change: p.Target, InPlace: p.InPlace, Size: e.sizeOf(p.Size)}
			if p.Together && p.Made && p.Change.Status != packs.ChangeBelow {
				f.Change, f.Tolerance = p.Net, sumTolerance
			}
			feet = append(feet, f)
		}
	}
	a.ByMachines = !e.set.byFeet && !e.set.fewest
	opt := packs.StockOptions{ByMachines: a.ByMachines, Tolerance: e.set.packTol, MaxPieces: e.set.pieces, ReturnRemoved: e.set.reuse, FewestThicknesses: e.set.fewest,
		SparePercent: 100 * e.set.spare, Progress: progress}
	plan, err := allocateParts(e.items(), feet, &opt)
	if err != nil {
		e.sharingFailed = err.Error()
		return nil, err
	}
	a.Plan = plan
	box := slices.Clone(e.stock)
	for _, it := range plan.Returned {
		box = append(box, StockLine{StockItem: it, Size: it.Size})
	}
	used, pieces := make([]map[int]bool, len(box)), make([]int, len(box))
	for k := range a.Picks {
		p := &a.Picks[k]
		p.Pick = plan.Picks[k]
		offWanted(&p.Change, feet[k].Change, p.Wanted)
		for _, item := range p.Items {
			if used[item] == nil {
				used[item] = map[int]bool{}
			}
			used[item][p.Row] = true
			pieces[item]++
		}
	}
	for _, o := range plan.Order {
		a.Orders = append(a.Orders, Order{Stock: box[o.Item], OrderLine: o, Pieces: pieces[o.Item], Machines: len(used[o.Item])})
	}
	a.serve(e, box)
	if !plan.Cancelled {
		e.share(a.Picks, e.stamp)
		e.alloc = a
	}
	return a, nil
}

// offWanted turns the error of a change made for one rise into that against another: what the line and the soft foot ask for.
func offWanted(c *packs.Change, made, wanted float64) {
	switch {
	case made == wanted || c.Status == packs.ChangeBelow || c.Status == packs.ChangeNone:
	case c.Status == packs.ChangeUnlisted:
		c.Error += wanted - made
	default:
		c.Error += made - wanted
	}
}

// feetAtOnce is how many feet are shared out in one go, the most that packs.Allocate takes. Tests lower it.
var feetAtOnce = 20_000

// allocateParts shares a stock out over any number of feet: more than feetAtOnce in parts one after another, each from what the one before
// left. Then nothing is proved where the stock runs short. A thickness that came back in one part is stock in the next.
func allocateParts(stock []packs.StockItem, feet []packs.StockFoot, opt *packs.StockOptions) (*packs.StockPlan, error) {
	if len(feet) <= feetAtOnce {
		return packs.Allocate(stock, feet, opt)
	}
	all := &packs.StockPlan{Proved: true, Order: make([]packs.OrderLine, len(stock))}
	for i := range all.Order {
		all.Order[i] = packs.OrderLine{Item: i, Counted: stock[i].Count >= 0}
	}
	left := slices.Clone(stock) // and then what came back
	part := *opt
	// By machines the least priority number is in the first part, and no machine in two.
	turn := make([]int, len(feet))
	for i := range turn {
		turn[i] = i
	}
	if opt.ByMachines {
		sorting.Stable(turn, func(a, b int) int {
			return cmp.Compare(uint(feet[a].Priority-1), uint(feet[b].Priority-1)) // none is last
		})
	}
	all.Picks = make([]packs.Pick, len(feet))
	for from, to := 0, 0; from < len(feet); from = to {
		to = min(from+feetAtOnce, len(feet))
		for opt.ByMachines && to < len(feet) && to > from+1 && feet[turn[to]].Machine == feet[turn[to-1]].Machine {
			to--
		}
		some := make([]packs.StockFoot, 0, to-from)
		for _, i := range turn[from:to] {
			some = append(some, feet[i])
		}
		if opt.Progress != nil {
			part.Progress = func(done, total int) bool {
				if total > 0 {
					done = from + done*(to-from)/total
				}
				return opt.Progress(done, len(feet))
			}
		}
		p, err := packs.Allocate(left, some, &part)
		if err != nil {
			return nil, err
		}
		at := make([]int, len(p.Order)) // where each item of the part stands over all
		for i := range at {
			if at[i] = i; i < len(left) {
				continue
			}
			it := p.Returned[i-len(left)]
			k := slices.IndexFunc(all.Returned, func(s packs.StockItem) bool { return s.MM == it.MM && s.Size == it.Size })
			if k < 0 {
				k = len(all.Returned)
				all.Returned = append(all.Returned, it)
				all.Order = append(all.Order, packs.OrderLine{Item: len(stock) + k, Counted: true})
			}
			at[i] = len(stock) + k
		}
		for k := range p.Picks {
			for i, item := range p.Picks[k].Items {
				p.Picks[k].Items[i] = at[item]
			}
			for i, item := range p.Picks[k].Lack {
				p.Picks[k].Lack[i] = at[item]
			}
		}
		for k, i := range turn[from:to] {
			all.Picks[i] = p.Picks[k]
		}
		for _, c := range p.Shares {
			k := slices.IndexFunc(all.Shares, func(o packs.ShareClass) bool { return o.Priority == c.Priority && o.Helpless == c.Helpless })
			if k < 0 {
				k = len(all.Shares)
				all.Shares = append(all.Shares, packs.ShareClass{Priority: c.Priority, Helpless: c.Helpless})
			}
			s := &all.Shares[k]
			s.Asked, s.Met = s.Asked+c.Asked, s.Met+c.Met
			s.Bound = s.Asked
		}
		all.Asked, all.Met, all.Error, all.Pieces, all.Nodes = all.Asked+p.Asked, all.Met+p.Met, all.Error+p.Error, all.Pieces+p.Pieces, all.Nodes+p.Nodes
		all.Contended, all.Cancelled = all.Contended || p.Contended, all.Cancelled || p.Cancelled
		for i, o := range p.Order {
			t := &all.Order[at[i]]
			t.Used, t.Back, t.Missing = t.Used+o.Used, t.Back+o.Back, t.Missing+o.Missing
		}
		left = append(left[:len(stock)], all.Returned[:min(len(all.Returned), 64-len(stock))]...)
		for i := range left {
			if had := slices.Concat(stock, all.Returned)[i].Count; had >= 0 {
				left[i].Count = max(had-all.Order[i].Used+all.Order[i].Back, 0)
			}
		}
	}
	all.BoundFeet, all.ErrorBound = all.Asked, 0
	all.GapFeet = all.BoundFeet - all.Met
	all.Proved = !all.Contended && !all.Cancelled
	for i := range all.Order {
		o := &all.Order[i]
		if o.Order = o.Missing; !o.Counted {
			o.Order = o.Used - o.Back
		}
		if o.Order > 0 {
			o.Order += max(int(math.Ceil(float64(o.Order)*opt.SparePercent/100-1e-9)), opt.SpareMin)
		}
	}
	return all, nil
}

// Allocation returns what Allocate made of the job as it is, nil if it was not called since the job changed.
func (e *Evaluator) Allocation() *Allocation { return e.alloc }

// Allocated is what [Evaluator.Allocate] came to, for as long as the job does not change; nil before.
func (e *Evaluator) Allocated() *Allocation { return e.alloc }

// ThickUnit is the unit shims are shown in.
func (e *Evaluator) ThickUnit() units.Unit { return job.QThickness.Unit(e.set.inch) }

package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"shimsheet/internal/calc"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// A StockLine is one line of the box: a row of the Stock sheet, or a thickness assumed without one.
type StockLine struct {
	calc.StockItem
	Row   int               // of the source, 0 assumed
	Size  string            // as typed; Item.Size is what feet are matched by
	Class tables.StripClass // Tolerance is that of this class; NoStripClass: typed, or none
}

// readStock makes the packer from the Stock sheet, or from the stock assumed without one.
func (e *Evaluator) readStock() {
	e.stock, e.assumed = e.stock[:0], true
	file, name := "", e.sheetName(StockSheet)
	if l := e.lines(StockSheet, kThickness, kUnit, kThickness); l != nil {
		file = l.t.File
		for l.next() {
			if l.blank(kThickness) {
				if !l.blank(kCount) {
					l.missing(kThickness, "")
				}
				continue
			}
			s := StockLine{Row: l.src(), Size: l.text(kSize)}
			s.MM = l.number(kThickness, positive)
			if s.Count = -1; !l.blank(kCount) {
				s.Count = int(math.Min(nanTo(l.number(kCount, anything), 0), 1e6))
			}
			kind, layer := l.choice(kKind), l.number(kLamination, positive)
			switch {
			case l.bad: // what cannot be counted is not there
				continue
			case kind == 1 && math.IsNaN(layer):
				l.missing(kLamination, hintLamination)
				continue
			case kind == 0 && known(layer):
				l.fail(kLamination, msgPlainLamination, hintLamination)
				continue
			case layer > s.MM:
				l.fail(kLamination, fmt.Sprintf(msgLaminationThick, e.thick(layer), e.thick(s.MM)), hintLamination)
				continue
			}
			s.Lamination = nanTo(layer, 0)
			e.stripOf(l, &s)
			e.stock, e.assumed = append(e.stock, s), false
		}
	}
	if e.assumed {
		for _, t := range tables.DefaultStock(e.set.inch) {
			s := StockLine{StockItem: calc.StockItem{MM: t.MM, Count: t.Count}, Class: e.set.strip}
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
	e.packers = map[string]*calc.Packer{}
	p, err := e.newPacker(e.size)
	if err != nil {
		if e.assumed {
			file, name = "", e.sheetName(SettingsSheet)
		}
		e.problems = append(e.problems, Problem{Error, file, name, 0, "", fmt.Sprintf(msgNoPacks, err), hintNoPacks, -1})
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
func sameItems(a, b []calc.StockItem) bool {
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
	own := l.number(kTolerance, notNegative)
	piece := s.MM
	if s.Lamination > 0 {
		piece = s.Lamination
	}
	if own >= piece {
		l.fail(kTolerance, fmt.Sprintf(msgStripThick, quote(l.cell(kTolerance))), hintStripThick)
	}
	bad := l.bad
	class := l.choice(kClass)
	switch {
	case bad:
		s.Tolerance = nan
		return
	case known(own):
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
	job := normal(e.set.size)
	if !e.sized && job == "" {
		for i := range e.stock {
			e.stock[i].StockItem.Size = ""
		}
		return
	}
	e.size = job
	for i := range e.stock {
		s := &e.stock[i]
		if s.StockItem.Size = normal(s.Size); e.size == "" {
			e.size = s.StockItem.Size
		}
	}
}

// sizeOf is the label of a foot with a size as typed.
func (e *Evaluator) sizeOf(typed string) string {
	if k := normal(typed); k != "" {
		return k
	}
	return e.size
}

func (e *Evaluator) items() []calc.StockItem {
	list := make([]calc.StockItem, len(e.stock))
	for i := range e.stock {
		list[i] = e.stock[i].StockItem
	}
	return list
}

func (e *Evaluator) newPacker(size string) (*calc.Packer, error) {
	p, err := calc.NewStockPacker(e.packItems, size, e.set.pieces, e.set.packTol)
	if err == nil {
		p.OtherStrip(e.set.strip)
	}
	return p, err
}

// packerFor is the packer for feet of a size as typed; nil if the stock has nothing for it.
func (e *Evaluator) packerFor(typed string) *calc.Packer {
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

// An Order is one line of the order list.
type Order struct {
	Stock StockLine
	calc.OrderLine
	Machines int // couplings that take the piece
}

// An Allocation shares the stock out over the whole job.
type Allocation struct {
	Picks  []Picked // machine by machine, in the order of the sheet
	Orders []Order  // one a line of the stock, in its order
	Left   int      // couplings left out because they are inside their limits
	Plan   *calc.StockPlan
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
	a := &Allocation{}
	var feet []calc.StockFoot
	for i := range e.dirty {
		r := e.Row(i)
		own := e.boxPacks(r)
		if len(own) == 0 && r.Kind == MachineRow && r.Stays() {
			a.Left++
		}
		for k := range own {
			p := &own[k]
			p.Row = i
			f := calc.StockFoot{ID: p.Machine + ", " + p.Foot, Change: p.Target, InPlace: p.InPlace, Size: e.sizeOf(p.Size)}
			if p.Together && p.Made && p.Change.Status != calc.ChangeBelow {
				f.Change, f.Tolerance = p.Net, sumTolerance
			}
			feet = append(feet, f)
		}
		a.Picks = append(a.Picks, own...)
	}
	opt := calc.StockOptions{Tolerance: e.set.packTol, MaxPieces: e.set.pieces, ReturnRemoved: e.set.reuse, FewestThicknesses: e.set.fewest,
		SparePercent: 100 * e.set.spare, Progress: progress}
	plan, err := allocateParts(e.items(), feet, &opt)
	if err != nil {
		e.sharingFailed = err.Error()
		return nil, err
	}
	a.Plan = plan
	used := make([]map[int]bool, len(e.stock))
	for k := range a.Picks {
		p := &a.Picks[k]
		p.Pick = plan.Picks[k]
		offWanted(&p.Change, feet[k].Change, p.Wanted)
		for _, item := range p.Items {
			if used[item] == nil {
				used[item] = map[int]bool{}
			}
			used[item][p.Row] = true
		}
	}
	for _, o := range plan.Order {
		a.Orders = append(a.Orders, Order{Stock: e.stock[o.Item], OrderLine: o, Machines: len(used[o.Item])})
	}
	if !plan.Cancelled {
		e.share(a.Picks, e.stamp)
		e.alloc = a
	}
	return a, nil
}

// offWanted turns the error of a change made for one rise into that against another: what the line and the soft foot ask for.
func offWanted(c *calc.Change, made, wanted float64) {
	switch {
	case made == wanted || c.Status == calc.ChangeBelow || c.Status == calc.ChangeNone:
	case c.Status == calc.ChangeUnlisted:
		c.Error += wanted - made
	default:
		c.Error += made - wanted
	}
}

// feetAtOnce is how many feet are shared out in one go.
const feetAtOnce = 20_000

// allocateParts shares a stock out over any number of feet: more than feetAtOnce in parts one after another, each from what the one before
// left. Then nothing is proved where the stock runs short.
func allocateParts(stock []calc.StockItem, feet []calc.StockFoot, opt *calc.StockOptions) (*calc.StockPlan, error) {
	if len(feet) <= feetAtOnce {
		return calc.AllocateStock(stock, feet, opt)
	}
	all := &calc.StockPlan{Proved: true, Order: make([]calc.OrderLine, len(stock))}
	for i := range all.Order {
		all.Order[i] = calc.OrderLine{Item: i, Counted: stock[i].Count >= 0}
	}
	left := slices.Clone(stock)
	part := *opt
	for from := 0; from < len(feet); from += feetAtOnce {
		if opt.Progress != nil {
			part.Progress = func(done, total int) bool {
				if total > 0 {
					done = from + done*min(feetAtOnce, len(feet)-from)/total
				}
				return opt.Progress(done, len(feet))
			}
		}
		p, err := calc.AllocateStock(left, feet[from:min(from+feetAtOnce, len(feet))], &part)
		if err != nil {
			return nil, err
		}
		all.Picks = append(all.Picks, p.Picks...)
		all.Asked, all.Met, all.Error, all.Pieces, all.Nodes = all.Asked+p.Asked, all.Met+p.Met, all.Error+p.Error, all.Pieces+p.Pieces, all.Nodes+p.Nodes
		all.Contended, all.Cancelled = all.Contended || p.Contended, all.Cancelled || p.Cancelled
		for _, o := range p.Order {
			t := &all.Order[o.Item]
			t.Used, t.Back, t.Missing = t.Used+o.Used, t.Back+o.Back, t.Missing+o.Missing
			if left[o.Item].Count >= 0 {
				left[o.Item].Count = max(left[o.Item].Count-o.Used+o.Back, 0)
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

// pairName names a pair of feet in one word: front, rear, further 1.
func (e *Evaluator) pairName(r *RowResult, k int) string {
	switch k {
	case r.Front:
		return senFront
	case r.Rear:
		return senRear
	}
	return wordFurther + strconv.Itoa(slices.Index(r.Further, k)+1)
}

// Proof words how good the allocation is, and which feet no stock helps.
func (a *Allocation) Proof() string {
	var below, none int
	for i := range a.Picks {
		switch a.Picks[i].Pick.Status {
		case calc.PickBelow:
			below++
		case calc.PickNoPack:
			none++
		}
	}
	s := a.proof(below, none)
	if below > 0 {
		s += fmt.Sprintf(txtBelow, below)
	}
	if none > 0 {
		s += fmt.Sprintf(txtNoPack, none)
	}
	return s
}

func (a *Allocation) proof(below, none int) string {
	p := a.Plan
	switch {
	case p.Cancelled:
		return txtStopped
	case p.Asked == 0 && none == 0:
		return txtNoNeed
	case !p.Contended && p.Met == p.Asked && below+none > 0:
		return fmt.Sprintf(txtHave, p.Met)
	case !p.Contended && p.Met == p.Asked:
		return fmt.Sprintf(txtEnough, p.Met)
	case p.Proved:
		return fmt.Sprintf(txtProved, p.Met, p.Asked)
	case p.GapFeet == 0:
		return fmt.Sprintf(txtProvedFeet, p.Met, p.Asked)
	}
	return fmt.Sprintf(txtGap, p.Met, p.Asked, p.BoundFeet)
}

// thickUnit is the unit shims are shown in.
func (e *Evaluator) thickUnit() units.Unit { return QThickness.Unit(e.set.inch) }

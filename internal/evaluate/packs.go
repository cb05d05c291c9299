package evaluate

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/packs"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// What goes under a foot has one source: [Evaluator.Packs]. Sheet, sentences, drawings, lists, workbook and JSON show what it gives, and
// PackSource says for all of them where it comes from.
//
// Before the stock of the job is shared out each foot has the pack it would get from a full box, as if no other foot wanted the same pieces. Then the rows whose
// feet get other pieces are worked out again with them, line after and verdict included (takeShared). A change of the job takes all that back.

// A Picked is what is done under one foot.
type Picked struct {
	Row      int    // index in the Machines sheet
	Machine  string // as typed
	Foot     string // "front 9", or as the Feet sheet names it; "bolt 1"
	Pair     int    // index in Calc.Feet, −1 a bolt or a foot of no pair
	Single   int    // index in Feet.Feet, −1: not of the Feet sheet
	Bolt     int    // index in Calc.BoltPacks, −1 none
	Size     string // of its shims, as typed
	Wanted   float64
	Target   float64 // mm: what the pack is made for, which is not Wanted where front and rear were chosen together
	InPlace  []float64
	Listed   bool    // what lies there now was typed
	Move     float64 // mm, towards the row's 3 o'clock: of a foot of the row's Stationary, which the chosen plan of the train moves too; its Pair, Single and Bolt are −1
	Together bool    // chosen with the other pair, for the line after to be inside
	Made     bool    // there is a stock to make it from
	packs.Pick
}

// sumTolerance is how near a pack chosen together has to come, mm: the line asks for this thickness and no other.
const sumTolerance = 1e-6

// A PackSource says which stock the packs of a job come from.
type PackSource uint8

// The sources of packs.
const (
	NotCounted PackSource = iota // no pieces are counted, so that every foot has what it would have from a full box
	FullBox                      // pieces are counted, and not shared out over the job yet
	SharedOut                    // they are shared out over the job
)

// Word is the source in a few words, as columns and JSON have it.
func (s PackSource) Word() words.Key {
	return [...]words.Key{words.PackNotCounted, words.PackFullBox, words.PackShared}[s]
}

// A sharing is what the rows take from a sharing-out.
type sharing struct {
	picks map[int][]Picked // by row: those whose packs are not those of a full box
	when  string           // told with the source, "" nothing
}

// PackSource says where the packs shown come from: when they were shared out, "" where nothing was said of that, or why they could not be.
func (e *Evaluator) PackSource() (s PackSource, when, failed string) {
	switch {
	case !e.Shares():
		return NotCounted, "", ""
	case e.shared != nil:
		return SharedOut, e.shared.when, ""
	}
	return FullBox, "", e.sharingFailed
}

// StampSharing sets what is said of the time of the next sharing-out, behind "over the whole job": "" the job's revision.
func (e *Evaluator) StampSharing(when string) { e.stamp = when }

// FailSharing notes why the stock could not be shared out elsewhere.
func (e *Evaluator) FailSharing(why string) {
	e.dropSharing()
	e.sharingFailed = why
}

// WantsSharing says whether the packs are still those of a full box and a sharing-out may give others.
func (e *Evaluator) WantsSharing() bool {
	return e.shared == nil && e.sharingFailed == "" && e.Shares()
}

// HasPacks says whether the stock makes packs for feet that say no size.
func (e *Evaluator) HasPacks() bool { return e.packer != nil }

// Shares says whether a sharing-out can give other packs than a full box does.
func (e *Evaluator) Shares() bool {
	return e.packer != nil && (e.set.fewest || slices.ContainsFunc(e.stock, func(s StockLine) bool { return s.Count >= 0 }))
}

// Packs lists what is done under the feet of row i, in the order of the sheet; none for a machine that stays where it is, but for its soft feet. The pieces
// belong to the evaluator.
func (e *Evaluator) Packs(i int) []Picked {
	r := e.Row(i)
	if r == nil {
		return nil
	}
	list := slices.Clone(e.PacksOf(r))
	for k := range list {
		list[k].Row = i
	}
	return list
}

// PacksOf is Packs of a row, without its index. Callers must not change them.
func (e *Evaluator) PacksOf(r *RowResult) []Picked {
	if r.picks != nil {
		return r.picks
	}
	return e.boxPacks(nil, r)
}

// Stays says that the machine is inside its limit and is left where it stands, but for its soft feet. Where a plan of its train is chosen, that says what moves.
func (r *RowResult) Stays() bool { return r.Verdict == calc.Inside && r.Plan == nil }

// HoldPacks keeps what [Evaluator.PacksOf] gives of r, for it may be asked for many times, in memory that is given back; nil: r has it anyhow. ReleasePacks lets go.
func (e *Evaluator) HoldPacks(memory []Picked, r *RowResult) []Picked {
	if r.picks != nil {
		return nil
	}
	r.picks = e.boxPacks(append(memory[:0], Picked{})[:0], r)
	return r.picks
}

// ReleasePacks ends HoldPacks.
func (e *Evaluator) ReleasePacks(r *RowResult) { r.picks = nil }

// boxPacks appends to list what Packs gives from a full box.
func (e *Evaluator) boxPacks(list []Picked, r *RowResult) []Picked {
	if r.Kind != MachineRow {
		return list
	}
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			if math.IsNaN(f.Wanted) || r.Stays() && f.Soft == 0 {
				continue
			}
			p := Picked{Machine: r.Name, Foot: f.Name, Pair: f.pair, Single: k, Bolt: -1, Size: f.Size, Wanted: f.Wanted, Target: f.Wanted, InPlace: f.InPlace, Listed: f.Listed,
				Together: r.Together && f.pair >= 0, Made: f.HasStock, Pick: packs.Pick{Change: f.Change}}
			if f.HasStock {
				p.Target, p.Status = f.Target, pickStatus(&f.Change)
			}
			list = append(list, p)
		}
	}
	if r.Stays() {
		return list
	}
	c := &r.Calc
	for k := range c.Feet {
		f := &c.Feet[k]
		if math.IsNaN(f.Shim) || r.Feet != nil && r.Feet.Covers(k) {
			continue
		}
		p := Picked{Machine: r.Name, Pair: k, Single: -1, Bolt: -1, Wanted: f.Shim, Target: f.Shim, Together: r.Together, Made: Known(f.Rounded)}
		if r.Together {
			p.Target = f.Rounded
		}
		if p.Made {
			p.Change = PackChange(&f.Pack, f.Shim < 0, r.Together)
			p.Status = pickStatus(&p.Change)
		}
		for _, side := range [...]string{" 9", " 3"} {
			p.Foot = r.PairNamed(k) + side
			list = append(list, p)
		}
	}
	for k, s := range c.BoltShims {
		p := Picked{Machine: r.Name, Foot: boltName(k), Pair: -1, Single: -1, Bolt: k, Wanted: s, Target: s, Made: k < len(c.BoltPacks)}
		if p.Made {
			p.Change = PackChange(&c.BoltPacks[k], false, false)
			p.Status = pickStatus(&p.Change)
		}
		list = append(list, p)
	}
	if r.Plan != nil {
		list = append(list, r.Plan.Stationary...)
	}
	return list
}

// PackChange is a pack of a foot under which nobody has listed what lies.
func PackChange(p *packs.Pack, lower, chosen bool) packs.Change {
	c := packs.Change{Pack: *p}
	switch {
	case lower:
		c.Status, c.Net = packs.ChangeUnlisted, -p.Sum
		return c
	case !p.OK && !chosen:
		c.Status = packs.ChangeNearest
	}
	c.Net, c.Put = p.Sum, thickestFirst(p.Pieces)
	return c
}

func thickestFirst(list []float64) []float64 {
	list = slices.Clone(list)
	sorting.Stable(list, func(a, b float64) int {
		switch {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	return list
}

// pickStatus is how a foot fares that has the box for itself.
func pickStatus(c *packs.Change) packs.PickStatus {
	switch c.Status {
	case packs.ChangeNearest:
		return packs.PickNoPack
	case packs.ChangeUnlisted:
		return packs.PickUnlisted
	case packs.ChangeBelow:
		return packs.PickBelow
	case packs.ChangeNone:
		return packs.PickNone
	}
	return packs.PickMet
}

// sameChange says whether two changes move the same pieces.
func sameChange(a, b *packs.Change) bool {
	return a.Status == b.Status && slices.Equal(a.Take, b.Take) && slices.Equal(a.Put, b.Put) && slices.Equal(a.Keep, b.Keep) && slices.Equal(a.Pieces, b.Pieces)
}

// share has the rows take the packs of an allocation: those whose feet get other pieces than from a full box wait to be worked out with them.
func (e *Evaluator) share(picks []Picked, when string) {
	e.dropSharing()
	s := &sharing{picks: map[int][]Picked{}, when: when}
	for from := 0; from < len(picks); {
		to, row := from+1, picks[from].Row
		for to < len(picks) && picks[to].Row == row {
			to++
		}
		own := e.boxPacks(nil, e.Row(row))
		same := len(own) == to-from
		for k := from; same && k < to; k++ {
			same = !picks[k].Status.Short() && sameChange(&own[k-from].Change, &picks[k].Change)
		}
		if !same {
			s.picks[row] = picks[from:to:to]
		}
		from = to
	}
	e.shared, e.sharingFailed = s, ""
	for row := range s.picks {
		e.mark(row, row+1)
	}
}

// dropSharing takes the packs of a full box again, because the job has changed.
func (e *Evaluator) dropSharing() {
	e.alloc, e.sharingFailed = nil, ""
	if e.shared == nil {
		return
	}
	for row := range e.shared.picks {
		if row < len(e.dirty) {
			e.mark(row, row+1)
		}
	}
	e.shared = nil
}

// takeShared puts the packs of the sharing-out in the place of the row's own, with the line after them. The row is that in the scratch.
func (e *Evaluator) takeShared(i int, r *RowResult) {
	if e.shared == nil || e.shared.picks[i] == nil {
		return
	}
	r.picks = e.shared.picks[i]
	c := &r.Calc
	for k := range r.picks {
		switch p := &r.picks[k]; {
		case p.Single >= 0 && p.Single < len(r.Feet.Feet):
			f := &r.Feet.Feet[p.Single]
			f.Change, f.HasStock, f.Status = p.Change, p.Made, p.Status
		case p.Bolt >= 0 && p.Bolt < len(c.BoltPacks):
			c.BoltPacks[p.Bolt] = p.Pack
		}
	}
	switch {
	case len(c.BoltPacks) > 0:
		calc.AfterBolts(&e.sc.in, c)
	case r.Feet == nil || !r.Feet.Leave:
		if rise := e.pairRise(r); rise != nil {
			calc.AfterFeet(&e.sc.in, c, rise, e.moved(r))
		}
	}
}

// pairPacks are the packs of the feet of pair k of the row.
func (e *Evaluator) pairPacks(r *RowResult, k int) (list []*Picked) {
	packs := e.PacksOf(r)
	for n := range packs {
		if packs[n].Pair == k {
			if list == nil {
				list = make([]*Picked, 0, 2) // a pair has two feet
			}
			list = append(list, &packs[n])
		}
	}
	return list
}

// PairPacks are the packs of the feet of pair k of the row, and whether the same is done under all of them.
func (e *Evaluator) PairPacks(r *RowResult, k int) (list []*Picked, alike bool) {
	list = e.pairPacks(r, k)
	alike = len(list) > 0
	for _, p := range list {
		alike = alike && p.Status == list[0].Status && sameChange(&p.Change, &list[0].Change)
	}
	return list, alike
}

// The sharing-out of a large job takes seconds, so the page has it worked out in a worker by the same program, and takes here what came of it.

// AppendSharing appends what the rows take from the sharing-out of [Evaluator.Allocate], for TakeSharing of an evaluator of the same job.
func (e *Evaluator) AppendSharing(b []byte) []byte {
	if e.shared == nil {
		return b
	}
	nums := func(list []float64) {
		for k, v := range list {
			if k > 0 {
				b = append(b, ' ')
			}
			b = strconv.AppendFloat(b, v, 'g', -1, 64)
		}
		b = append(b, '\t')
	}
	rows := make([]int, 0, len(e.shared.picks))
	for row := range e.shared.picks {
		rows = append(rows, row)
	}
	slices.Sort(rows)
	for _, row := range rows {
		for k := range e.shared.picks[row] {
			p := &e.shared.picks[row][k]
			leave, ok := 0, 0
			if p.Leave {
				leave = 1
			}
			if p.OK {
				ok = 1
			}
			for _, n := range [...]int{row, k, int(p.Pick.Status), int(p.Change.Status), leave, ok} {
				b = append(strconv.AppendInt(b, int64(n), 10), '\t')
			}
			nums([]float64{p.Sum, p.Error, p.Net, p.Shortfall})
			nums(p.Pieces)
			nums(p.Keep)
			nums(p.Take)
			nums(p.Put)
			for _, l := range p.Layers {
				b = append(strconv.AppendInt(b, int64(l), 10), ' ')
			}
			b = append(b, '\n')
		}
	}
	return b
}

var errSharing = words.Error(words.ProblemOtherSharing)

// TakeSharing has the rows take a sharing-out written by AppendSharing. when says when it was made, for those who read the papers. On an error nothing is taken.
func (e *Evaluator) TakeSharing(text, when string) error {
	var picks []Picked
	own := []Picked(nil)
	row := -1
	for line := range strings.Lines(text) {
		var n [6]int
		cells := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(cells) != len(n)+6 {
			return errSharing
		}
		for k := range n {
			var err error
			if n[k], err = strconv.Atoi(cells[k]); err != nil || n[k] < 0 || n[k] > math.MaxInt32 {
				return errSharing
			}
		}
		var lists [6][]float64
		for k := range lists {
			for _, w := range strings.Fields(cells[len(n)+k]) {
				v, err := strconv.ParseFloat(w, 64)
				if err != nil {
					return errSharing
				}
				lists[k] = append(lists[k], v)
			}
		}
		if n[0] != row {
			if row = n[0]; row >= len(e.dirty) {
				return errSharing
			}
			own = e.boxPacks(nil, e.Row(row))
		}
		if n[1] >= len(own) || len(lists[0]) != 4 || n[2] > int(packs.PickStopped) || n[3] > int(packs.ChangeNone) {
			return errSharing
		}
		p := own[n[1]]
		p.Row = row
		p.Pick = packs.Pick{Status: packs.PickStatus(n[2]), Change: packs.Change{Status: packs.ChangeStatus(n[3]), Leave: n[4] == 1, Keep: lists[2], Take: lists[3], Put: lists[4],
			Net: lists[0][2], Shortfall: lists[0][3], Pack: packs.Pack{Pieces: lists[1], Sum: lists[0][0], Error: lists[0][1], OK: n[5] == 1}}}
		for _, l := range lists[5] {
			p.Layers = append(p.Layers, uint8(l))
		}
		picks = append(picks, p)
	}
	e.share(picks, when)
	return nil
}

// Try has do see a row of the Machines sheet as it would be with other cells. Nothing is left of that afterwards, not even a sharing-out lost.
func (e *Evaluator) Try(i int, cells []string, do func()) {
	if i < 0 || i >= len(e.dirty) {
		return
	}
	rows := e.job.Machines.Rows
	old, alloc, shared := rows[i], e.alloc, e.shared
	rows[i], e.alloc, e.shared = cells, nil, nil
	e.mark(i, i+1)
	e.indexNames(i, i+1)
	do()
	rows[i], e.alloc, e.shared = old, alloc, shared
	e.mark(i, i+1)
	e.indexNames(i, i+1)
}

package packs

import (
	"cmp"
	"math"
	"slices"

	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// A StockItem is one kind of shim in the box: solid of one thickness, or laminated and peeled to the thickness that is wanted.
type StockItem struct {
	MM         float64 // thickness, of a laminated shim before anything is peeled off; held to the nanometre
	Count      int     // pieces on hand; negative: not counted
	Size       string  // size label of the shim (for which foot and bolt); "": fits every foot
	Lamination float64 // mm, thickness of one layer; 0: solid. A laminated piece can be k × Lamination, k ≥ 1, up to MM, and is one piece
	Tolerance  float64 // ± mm, half-width of the thickness of a piece, of a laminated one of one layer; 0: taken as exact, NaN: not known
}

// Fits says whether the item goes under a foot with this size label: the labels are equal or the item has none. A foot without a label
// takes items without a label only, for a shim of an unknown size may not go round the bolt.
func (s *StockItem) Fits(size string) bool { return s.Size == "" || s.Size == size }

// A ChangeStatus says what can be done at a foot.
type ChangeStatus uint8

// The ways a change at a foot ends.
const (
	ChangeMet      ChangeStatus = iota // the new pack is within the tolerance
	ChangeNearest                      // the new pack is the nearest that stock and number of pieces allow
	ChangeUnlisted                     // to be lowered, and what is there is not listed: Pack is the pieces to take out, to be found on site
	ChangeBelow                        // to be lowered below the bare base; Shortfall says by how much
	ChangeNone                         // the change is not a number
)

var changeText = [...]words.Key{words.PackStatusMet, words.PackStatusNearest, words.PackStatusUnlisted, words.PackStatusBelow, words.PackStatusNoChange}

// String is the status in a few words.
func (s ChangeStatus) String() string { return changeText[s].String() }

// Code is the status as other programs read it, in every language the same.
func (s ChangeStatus) Code() string { return changeText[s].Code() }

// A Change is what is done under one foot. Keep, Take and Put are in mm, thickest first.
type Change struct {
	Status ChangeStatus
	Pack             // what stands under the foot afterwards (ChangeUnlisted: what is taken out); Error is Sum minus the thickness wanted
	Keep   []float64 // pieces in place that stay
	Take   []float64 // pieces in place that come out
	Put    []float64 // pieces from the stock that go in
	Net    float64   // mm, signed: how much the foot rises
	// Shortfall is how far the foot would have to go below its bare base, mm; 0 unless ChangeBelow. The new pack is then empty, and what is
	// left must come from moving the other machine, from the base or from the foot.
	Shortfall float64
	// Leave says that the pieces in place would do as they are: the change is within the tolerance and they are not too many. The new
	// pack may still be better by the rule; whoever counts the work more than the number of pieces leaves them.
	Leave bool
}

// MaxInPlace is the largest number of pieces in place that Change takes.
const MaxInPlace = 16

var errInPlace = words.Error(words.StockInPlace)

// Change makes the pack for a foot that is to rise by change mm (negative: to be lowered) and under which the pieces of inPlace (mm) lie.
// nil means that nobody has listed them; an empty slice that the foot stands on its bare base. The pieces in place are
// available once each whether the stock has their thickness or not.
//
// The new pack has the fewest pieces within the tolerance, then the least error, then the fewest pieces that are not in place already, then
// the least thickness. When none is within the tolerance: the least error, then the fewest pieces, the fewest new ones, the least thickness.
// Without pieces in place that is the rule of [Packer.Pack], and for change ≥ 0 its result.
//
// Pieces not listed: for change < 0 the pack of −change is what to take out, as far as it is there (ChangeUnlisted).
// A foot that would end below its bare base by no more than the tolerance gets no pieces and is met.
// It returns an error for more than MaxInPlace pieces and for a thickness in place that is not positive.
func (p *Packer) Change(change float64, inPlace []float64) (Change, error) {
	var c Change
	place := make([]int64, len(inPlace))
	total := int64(0)
	for i, mm := range inPlace {
		nm, ok := toNM(mm)
		if !ok || len(inPlace) > MaxInPlace {
			return c, errInPlace
		}
		place[i] = nm
		total += nm
	}
	if !number(change) {
		c.Status = ChangeNone
		return c, nil
	}
	slices.Sort(place)
	slices.Reverse(place)
	if inPlace == nil && change < 0 {
		c.Status, c.Pack = ChangeUnlisted, p.Pack(-change)
		c.Net = -c.Sum
		return c, nil
	}
	was := float64(total) / 1e6
	want := was + change
	if want < 0 && -want > p.tol+slack(was) {
		c.Status, c.Shortfall, c.Net = ChangeBelow, -want, -was
		c.Pack = Pack{Error: -want}
		c.Take = millimetres(place)
		return c, nil
	}
	c.Leave = inPlace != nil && len(place) <= p.max && math.Abs(change) <= p.tol+slack(want)
	if len(place) == 0 || want < 0 {
		if c.Pack = p.Pack(max(0, want)); want < 0 {
			c.Error = c.Sum - want
		}
		c.Put = thickestFirst(c.Pieces)
		c.Take = millimetres(place)
	} else {
		c.Pack, c.Keep, c.Take, c.Put = p.reuse(want, place)
	}
	if c.Net = c.Sum - was; !c.OK {
		c.Status = ChangeNearest
	}
	return c, nil
}

// A reuse is one way to make a pack: pieces that stay and a pack of new ones.
type reuse struct {
	keep  uint32 // a bit a piece in place
	level int    // new pieces
	at    int    // index in the level
	size  int    // pieces in all
	sum   int64  // nm
	err   float64
	in    bool // within the tolerance
}

// before says whether a is better than b for a thickness.
func (a *reuse) before(b *reuse, want float64) bool {
	less := func(x, y float64) int {
		switch {
		case thicker(x, y, want):
			return -1
		case thicker(y, x, want):
			return 1
		}
		return 0
	}
	if a.in != b.in {
		return a.in
	}
	order := cmp.Or(cmp.Compare(a.size, b.size), less(a.err, b.err))
	if !a.in {
		order = cmp.Or(less(a.err, b.err), cmp.Compare(a.size, b.size))
	}
	return cmp.Or(order, cmp.Compare(a.level, b.level), cmp.Compare(a.sum, b.sum)) < 0
}

// reuse makes the best pack of a thickness ≥ 0 from the stock and the pieces in place (nm, thickest first).
//
// Whatever stays, the rest of a pack of so many pieces is best made by the nearest sum of that many new ones, so trying every choice of pieces
// that stay tries enough.
func (p *Packer) reuse(want float64, place []int64) (pack Pack, keep, take, put []float64) {
	best := reuse{level: -1}
	var try func(from, kept int, mask uint32, sum int64)
	try = func(from, kept int, mask uint32, sum int64) {
		rest := want - float64(sum)/1e6
		for k := 0; k+kept <= p.max && k < len(p.levels); k++ {
			lv := &p.levels[k]
			i := lv.near(rest)
			r := reuse{keep: mask, level: k, at: i, size: kept + k, sum: sum + int64(math.Round(lv.sum[i]*1e6))}
			r.err = math.Abs(float64(r.sum)/1e6 - want)
			r.in = r.err <= p.tol+slack(want)
			if best.level < 0 || r.before(&best, want) {
				best = r
			}
		}
		for i := from; i < len(place) && kept < p.max; i++ {
			if i > from && place[i] == place[i-1] { // the same pieces again
				continue
			}
			try(i+1, kept+1, mask|1<<i, sum+place[i])
		}
	}
	try(0, 0, 0, 0)

	lv := &p.levels[best.level]
	for i, nm := range place {
		if mm := float64(nm) / 1e6; best.keep>>i&1 == 1 {
			keep = append(keep, mm)
		} else {
			take = append(take, mm)
		}
	}
	type piece struct {
		mm     float64
		layers uint8
	}
	var ranked []piece
	for _, mm := range keep {
		ranked = append(ranked, piece{mm: mm})
	}
	for i, mm := range lv.pieces[best.at] {
		n := piece{mm: mm}
		if lv.layers != nil {
			n.layers = lv.layers[best.at][i]
		}
		ranked = append(ranked, n)
	}
	sorting.By(ranked, func(a, b *piece) int { return cmp.Compare(b.mm, a.mm) })
	for _, at := range under[len(ranked)] {
		pack.Pieces = append(pack.Pieces, ranked[at].mm)
		if lv.layers != nil {
			pack.Layers = append(pack.Layers, ranked[at].layers)
		}
	}
	pack.Sum = float64(best.sum) / 1e6
	pack.Error, pack.OK = pack.Sum-want, best.in
	return pack, keep, take, thickestFirst(lv.pieces[best.at])
}

func thickestFirst(mm []float64) []float64 {
	out := slices.Clone(mm)
	slices.Sort(out)
	slices.Reverse(out)
	return out
}

func millimetres(nm []int64) []float64 {
	var out []float64
	for _, v := range nm {
		out = append(out, float64(v)/1e6)
	}
	return out
}

// Candidates appends to dst the packs whose thickness is within reach mm of thickness: the n nearest of every number of pieces, each
// thickness once, with the fewest pieces that make it. Fewest pieces first, then nearest, then thinner. A thickness that is negative or not a
// number gives none.
func (p *Packer) Candidates(dst []Pack, thickness, reach float64, n int) []Pack {
	if !(thickness >= 0) || math.IsInf(thickness, 1) {
		return dst
	}
	for k := range p.levels {
		lv := &p.levels[k]
		hi := lv.near(thickness)
		lo := hi - 1
		for found := 0; found < n; {
			i := hi
			up, down := math.Inf(1), math.Inf(1)
			if hi < len(lv.sum) {
				up = math.Abs(lv.sum[hi] - thickness)
			}
			if lo >= 0 {
				down = math.Abs(thickness - lv.sum[lo])
			}
			if thicker(up, down, thickness) {
				hi++
			} else {
				i, up = lo, down
				lo--
			}
			if !(up <= reach+slack(thickness)) {
				break
			}
			if !p.fewer(k, lv.sum[i]) {
				dst = append(dst, lv.pack(i, thickness, up <= p.tol+slack(thickness)))
				found++
			}
		}
	}
	return dst
}

// fewer says whether fewer than k pieces make the sum.
func (p *Packer) fewer(k int, sum float64) bool {
	for j := range k {
		if lv := &p.levels[j]; lv.sum[lv.near(sum)] == sum {
			return true
		}
	}
	return false
}

// A JointFoot is one of the two foot pairs of a joint choice.
type JointFoot struct {
	Packer *Packer
	Shim   float64 // mm wanted, negative: to be taken out
	N      int     // candidates tried of every number of pieces; 0: 4
	Reach  float64 // mm a candidate may be off; 0: four times the packer's tolerance
}

// A Joint is the result of JointPacks.
type Joint struct {
	Packs   [2]Pack    // OK and Error as of Packer.Pack: OK is false for a pack outside the tolerance that the line allows
	Rounded [2]float64 // mm, signed
	Share   float64    // as the judge gave it for Rounded
	Inside  bool
	Changed bool // other packs than each foot's own best
}

// JointPacks chooses the packs of the front and the rear feet together. judge tells for two packs and the signed changes they make (mm, front and
// rear) the largest share of a limit and whether the line is inside. If it is inside with each foot's own best pack, those are taken. If not, of all
// pairs of candidates that keep the line inside the one with the fewest pieces, then the least share, then the least error; and if there is
// none the feet's own best packs stay.
func JointPacks(feet [2]JointFoot, judge func(packs [2]*Pack, rounded [2]float64) (share float64, inside bool)) Joint {
	var cands [2][]Pack
	var j Joint
	for i := range feet {
		f := &feet[i]
		n, reach := f.N, f.Reach
		if n <= 0 {
			n = 4
		}
		if !(reach > 0) {
			reach = 4 * f.Packer.tol
		}
		j.Packs[i] = f.Packer.Pack(math.Abs(f.Shim))
		j.Rounded[i] = math.Copysign(j.Packs[i].Sum, f.Shim)
		cands[i] = f.Packer.Candidates(nil, math.Abs(f.Shim), reach, n)
	}
	j.Share, j.Inside = judge([2]*Pack{&j.Packs[0], &j.Packs[1]}, j.Rounded)
	most := feet[0].Packer.max + feet[1].Packer.max
	for pieces, err := 0, 0.0; pieces <= most && !j.Inside; pieces++ {
		for a := range cands[0] {
			for b := range cands[1] {
				pa, pb := &cands[0][a], &cands[1][b]
				if len(pa.Pieces)+len(pb.Pieces) != pieces {
					continue
				}
				rounded := [2]float64{math.Copysign(pa.Sum, feet[0].Shim), math.Copysign(pb.Sum, feet[1].Shim)}
				share, inside := judge([2]*Pack{pa, pb}, rounded)
				if !inside {
					continue
				}
				e := math.Abs(pa.Error) + math.Abs(pb.Error)
				if d := share - j.Share; !j.Inside || d < -tie || d <= tie && e < err {
					j = Joint{[2]Pack{*pa, *pb}, rounded, share, true, true}
					err = e
				}
			}
		}
	}
	return j
}

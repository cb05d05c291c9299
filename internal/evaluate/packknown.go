package evaluate

import (
	"math"
	"slices"

	"shimsheet/internal/packs"
)

// changeU is how well a change of height is known from the tolerance of what goes in and comes out: expanded, k = 2, mm. NaN: the tolerance of a piece
// is not known, and its thickness is appended to unknown; or every thickness of the stock is taken as exact.
func changeU(p *packs.Packer, c *packs.Change, unknown *[]float64) float64 {
	if p == nil || !p.Loose() {
		return nan
	}
	u, list := p.Uncertainty(*unknown, c)
	*unknown = list
	return 2 * u
}

// BoltPackU is changeU of the pack under a bolt.
func (e *Evaluator) BoltPackU(p *packs.Pack, unknown *[]float64) float64 {
	return changeU(e.packer, &packs.Change{Pack: *p}, unknown)
}

// pickU is changeU of what is done under a foot, NaN without a pack.
func (e *Evaluator) pickU(p *Picked, unknown *[]float64) float64 {
	if !p.Made || p.Change.Status == packs.ChangeNone {
		return nan
	}
	return changeU(e.packerFor(p.Size), &p.Change, unknown)
}

// PairPackU is the greatest changeU of the feet of a pair, NaN without packs.
func (e *Evaluator) PairPackU(r *RowResult, k int, unknown *[]float64) float64 {
	f := r.Foot(k)
	if f == nil || math.IsNaN(f.Rounded) {
		return nan
	}
	if r.Feet == nil && r.Stays() {
		return changeU(e.packer, &packs.Change{Pack: f.Pack}, unknown)
	}
	most := nan
	for n, p := range e.pairPacks(r, k) {
		if u := e.pickU(p, unknown); n == 0 || u > most || math.IsNaN(u) {
			most = u
		}
	}
	return most
}

// FootPackU is changeU of a single foot, NaN without a pack.
func (e *Evaluator) FootPackU(f *Foot, unknown *[]float64) float64 {
	if math.IsNaN(f.rise()) {
		return nan
	}
	return changeU(e.packerFor(f.Size), &f.Change, unknown)
}

// PacksKnown is how well the packs of a row are known, the least and the most of those that are (NaN: none), and the thicknesses, thinnest first,
// whose tolerance is not known. all tells of those of a machine that stays, too, which are only for information.
func (e *Evaluator) PacksKnown(r *RowResult, all bool) (least, most float64, unknown []float64) {
	least, most = nan, nan
	add := func(u float64) {
		if !(least <= u) && Known(u) {
			least = u
		}
		if !(most >= u) && Known(u) {
			most = u
		}
	}
	chosen := e.PacksOf(r)
	for k := range chosen {
		add(e.pickU(&chosen[k], &unknown))
	}
	if all && r.Stays() && r.Feet == nil {
		for k := range r.Calc.Feet {
			add(e.PairPackU(r, k, &unknown))
		}
		for k := range r.Calc.BoltPacks {
			add(changeU(e.packer, &packs.Change{Pack: r.Calc.BoltPacks[k]}, &unknown))
		}
	}
	slices.Sort(unknown)
	return least, most, slices.Compact(unknown)
}

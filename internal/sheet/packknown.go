package sheet

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
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

// sayPacks says how well the packs are known.
func (e *Evaluator) sayPacks(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	least, most, unknown := e.PacksKnown(r, false)
	if most > 0 {
		worst, after := "", ""
		if least < most*(1-1e-9) || len(unknown) > 0 {
			worst = words.SentencePacksWorst.String()
		}
		if r.Calc.HasAfter && r.Verdict != calc.Inside {
			after = words.SentencePacksAfter.String()
		}
		say(SentenceAfter, words.SentencePacks, e.thick(most), worst, e.stripSource(), after)
	}
	if len(unknown) > 0 {
		var said []byte
		for k, mm := range unknown {
			if k > 0 {
				said = append(said, ", "...)
			}
			said = appendThickness(said, mm, e.ThickUnit(), e.set.mark)
		}
		say(SentenceAfter, words.SentencePacksUnknown, said, e.ThickUnit())
	}
}

// stripSource names what the tolerances of the stock rest on, of all its lines.
func (e *Evaluator) stripSource() string {
	var list []string
	for i := range e.stock {
		s := &e.stock[i]
		w := ""
		switch {
		case !(s.Tolerance > 0):
			continue
		case s.Class == tables.NoStripClass:
			w = words.SentenceStripOwn.Say(e.SheetName(job.StockSheet))
		case s.Lamination > 0:
			w = tables.LaminationSource
		default:
			w = words.SentenceStripClass.Say(s.Class)
		}
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return strings.Join(list, "; ")
}

package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/tables"
)

// changeU is how well a change of height is known from the tolerance of what goes in and comes out: expanded, k = 2, mm. NaN: the tolerance of a piece
// is not known, and its thickness is appended to unknown; or every thickness of the stock is taken as exact.
func changeU(p *calc.Packer, c *calc.Change, unknown *[]float64) float64 {
	if p == nil || !p.Loose() {
		return nan
	}
	u, list := p.Uncertainty(*unknown, c)
	*unknown = list
	return 2 * u
}

// pairPackU is changeU of the pack of a pair, NaN without one.
func (e *Evaluator) pairPackU(f *calc.Foot, unknown *[]float64) float64 {
	if math.IsNaN(f.Rounded) {
		return nan
	}
	return changeU(e.packer, &calc.Change{Pack: f.Pack}, unknown)
}

// footPackU is changeU of a single foot, NaN without a pack.
func (e *Evaluator) footPackU(f *Foot, unknown *[]float64) float64 {
	if math.IsNaN(f.rise()) {
		return nan
	}
	return changeU(e.packerFor(f.Size), &f.Change, unknown)
}

// packsKnown is how well the packs of a row are known, the least and the most of those that are (NaN: none), and the thicknesses, thinnest first,
// whose tolerance is not known. Without all, only of the packs that are to be made: a machine inside its limit gets none but those of its soft feet.
func (e *Evaluator) packsKnown(r *RowResult, all bool) (least, most float64, unknown []float64) {
	least, most = nan, nan
	add := func(u float64) {
		if !(least <= u) && known(u) {
			least = u
		}
		if !(most >= u) && known(u) {
			most = u
		}
	}
	all = all || r.Verdict != calc.Inside
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			if f := &r.Feet.Feet[k]; all || f.Soft > 0 {
				add(e.footPackU(f, &unknown))
			}
		}
	}
	for k := range r.Calc.Feet {
		if all && (r.Feet == nil || !r.Feet.covers(k)) {
			add(e.pairPackU(&r.Calc.Feet[k], &unknown))
		}
	}
	for k := range r.Calc.BoltPacks {
		if !all {
			break
		}
		add(changeU(e.packer, &calc.Change{Pack: r.Calc.BoltPacks[k]}, &unknown))
	}
	slices.Sort(unknown)
	return least, most, slices.Compact(unknown)
}

// sayPacks says how well the packs are known.
func (e *Evaluator) sayPacks(r *RowResult, say func(SentenceKind, string, ...any)) {
	least, most, unknown := e.packsKnown(r, false)
	if most > 0 {
		worst, after := "", ""
		if least < most*(1-1e-9) || len(unknown) > 0 {
			worst = senPacksWorst
		}
		if r.Calc.HasAfter && r.Verdict != calc.Inside {
			after = senPacksAfter
		}
		say(SentenceAfter, senPacks, e.thick(most), worst, e.stripSource(), after)
	}
	if len(unknown) > 0 {
		var words []byte
		for k, mm := range unknown {
			if k > 0 {
				words = append(words, ", "...)
			}
			words = appendThickness(words, mm, e.thickUnit(), e.set.mark)
		}
		say(SentenceAfter, senPacksUnknown, words, e.thickUnit())
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
			w = fmt.Sprintf(senStripOwn, e.sheetName(StockSheet))
		case s.Lamination > 0:
			w = tables.LaminationSource
		default:
			w = fmt.Sprintf(senStripClass, s.Class)
		}
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return strings.Join(list, "; ")
}

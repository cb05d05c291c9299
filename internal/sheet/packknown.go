package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/tables"
)

// PairPackU is how well the pack of a pair is known from the tolerance of its pieces: expanded, k = 2, mm. NaN: there is no pack, the tolerance
// of a piece is not known, or every thickness of the stock is taken as exact.
func (e *Evaluator) PairPackU(f *calc.Foot) float64 {
	u, _ := e.pairPackU(nil, f)
	return u
}

func (e *Evaluator) pairPackU(unknown []float64, f *calc.Foot) (u float64, all []float64) {
	if f == nil || math.IsNaN(f.Rounded) {
		return nan, unknown
	}
	return e.packU(unknown, &f.Pack)
}

func (e *Evaluator) packU(unknown []float64, k *calc.Pack) (u float64, all []float64) {
	if e.packer == nil || !e.packer.Loose() {
		return nan, unknown
	}
	u, unknown = e.packer.PackUncertainty(unknown, k)
	return 2 * u, unknown
}

// FootPackU is PairPackU of what goes in and comes out under a single foot.
func (e *Evaluator) FootPackU(f *Foot) float64 {
	u, _ := e.footPackU(nil, f)
	return u
}

func (e *Evaluator) footPackU(unknown []float64, f *Foot) (u float64, all []float64) {
	p := e.packerFor(f.Size)
	if p == nil || !p.Loose() || math.IsNaN(f.rise()) {
		return nan, unknown
	}
	u, unknown = p.Uncertainty(unknown, &f.Change)
	return 2 * u, unknown
}

// packsKnown is how well the packs of a row are known: one number a pack that is known, and the thicknesses, thinnest first, whose tolerance is not.
func (e *Evaluator) packsKnown(r *RowResult) (list, unknown []float64) {
	var u float64
	add := func() {
		if known(u) {
			list = append(list, u)
		}
	}
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			u, unknown = e.footPackU(unknown, &r.Feet.Feet[k])
			add()
		}
	}
	for k := range r.Calc.Feet {
		if r.Feet == nil || !r.Feet.covers(k) {
			u, unknown = e.pairPackU(unknown, &r.Calc.Feet[k])
			add()
		}
	}
	for k := range r.Calc.BoltPacks {
		u, unknown = e.packU(unknown, &r.Calc.BoltPacks[k])
		add()
	}
	slices.Sort(unknown)
	return list, unknown
}

// sayPacks says how well the packs are known.
func (e *Evaluator) sayPacks(r *RowResult, say func(SentenceKind, string, ...any)) {
	list, unknown := e.packsKnown(r)
	if len(list) > 0 {
		if most := slices.Max(list); most > 0 {
			worst, after := "", ""
			if slices.Min(list) < most*(1-1e-9) || len(unknown) > 0 {
				worst = senPacksWorst
			}
			if r.Calc.HasAfter {
				after = senPacksAfter
			}
			say(SentenceAfter, senPacks, e.thick(most), worst, e.stripSource(), after)
		}
	}
	if len(unknown) > 0 {
		var words []string
		for _, mm := range unknown {
			words = append(words, string(appendThickness(nil, mm, e.thickUnit(), e.set.mark)))
		}
		say(SentenceAfter, senPacksUnknown, strings.Join(words, ", ")+" "+e.thickUnit().String())
	}
}

// stripSource names what the tolerances of the stock rest on.
func (e *Evaluator) stripSource() string {
	var list []string
	for i := range e.stock {
		s := &e.stock[i]
		w := ""
		switch {
		case !(s.Tolerance > 0):
			continue
		case s.Class == tables.NoStripClass:
			w = e.sheetName(StockSheet)
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

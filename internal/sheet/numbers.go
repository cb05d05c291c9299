package sheet

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Foot is a pair of feet of the row, nil if it has none there.
func (r *RowResult) Foot(i int) *calc.Foot {
	if i < 0 || i >= len(r.Calc.Feet) {
		return nil
	}
	return &r.Calc.Feet[i]
}

// Decimals is how many digits a unit is shown with. Shims and moves are shown with one fewer in mm.
func Decimals(u units.Unit, coarse bool) int {
	switch u {
	case units.MM:
		if coarse {
			return 2
		}
		return 3
	case units.Inch:
		return 3
	case units.Mil:
		return 1
	case units.MMPerM, units.MilPerInch:
		return 2
	case units.Percent:
		return 0
	}
	return 2
}

// AppendNumber appends v, in base units, in unit u with so many decimals; negative: as few as read back the same. Nothing for NaN.
func AppendNumber(b []byte, v float64, u units.Unit, dec int, mark units.Decimal) []byte {
	v = u.FromBase(v)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b
	}
	start := len(b)
	form := byte('f')
	if dec < 0 {
		form = 'g'
	}
	b = strconv.AppendFloat(b, v+0, form, dec, 64)
	if b[start] == '-' {
		zero := true
		for _, c := range b[start+1:] {
			if c != '0' && c != '.' {
				zero = false
				break
			}
		}
		if zero {
			b = append(b[:start], b[start+1:]...)
		}
	}
	if mark == units.Comma {
		for i := start; i < len(b); i++ {
			if b[i] == '.' {
				b[i] = ','
			}
		}
	}
	return b
}

// text of a number with its unit for messages, zeros at the end left out.
func (e *Evaluator) number(v float64, u units.Unit, dec int) string {
	var buf [40]byte
	b := AppendNumber(buf[:0], v, u, dec, e.set.mark)
	if i := strings.IndexAny(string(b), ".,"); i >= 0 {
		for b[len(b)-1] == '0' {
			b = b[:len(b)-1]
		}
		if len(b) == i+1 {
			b = b[:i]
		}
	}
	if s := u.String(); s != "" {
		b = append(append(b, ' '), s...)
	}
	return string(b)
}

// amount words a thickness that is to be made up of shims, with two digits at least in mm, as their thicknesses have.
func (e *Evaluator) amount(v float64) string {
	return string(e.AppendAmount(nil, v)) + " " + job.QThickness.Unit(e.ShowsInch()).String()
}

// thick words a reading or an offset. Like the functions below it is called in many places and not inlined, for the size of the page.
//
//go:noinline
func (e *Evaluator) thick(v float64) string {
	u := job.QThickness.Unit(e.ShowsInch())
	return e.number(v, u, Decimals(u, false))
}

// shim words a thickness as shims are shown: 0.35 mm, 14.0 mil.
//
//go:noinline
func (e *Evaluator) shim(v float64) string {
	u := job.QThickness.Unit(e.ShowsInch())
	return string(append(AppendNumber(nil, v, u, Decimals(u, true), e.set.mark), " "+u.String()...))
}

//go:noinline
func (e *Evaluator) dist(v float64) string {
	u := job.QDistance.Unit(e.ShowsInch())
	return e.number(v, u, 3)
}

//go:noinline
func (e *Evaluator) slope(v float64) string {
	u := job.QSlope.Unit(e.ShowsInch())
	return e.number(v, u, 3)
}

func (e *Evaluator) percent(v float64) string {
	return string(append(AppendNumber(nil, v, units.Percent, 0, e.set.mark), " %"...))
}

// packUnitNamed is the unit of pieces, to stand behind them while the units shown are not the job's.
func (e *Evaluator) packUnitNamed() string {
	if e.ShowsInch() == e.set.inch {
		return ""
	}
	return " " + e.ThickUnit().String()
}

func appendPieces(b []byte, pieces []float64, u units.Unit, mark units.Decimal) []byte {
	for k, p := range pieces {
		if k > 0 {
			b = append(b, " + "...)
		}
		b = appendThickness(b, p, u, mark)
	}
	return b
}

// appendThickness appends the thickness of a piece or a pack in full: 0.10 and 0.325 mm, 25 and 2.5 mil.
func appendThickness(b []byte, v float64, u units.Unit, mark units.Decimal) []byte {
	return appendRounded(b, v, u, 4, mark)
}

// appendRounded appends a thickness with so many digits behind the decimal sign at most, and in mm with two at least.
func appendRounded(b []byte, v float64, u units.Unit, most int, mark units.Decimal) []byte {
	start := len(b)
	b = AppendNumber(b, v, u, most, mark)
	least := 0 // digits to keep behind the decimal sign
	if u == units.MM {
		least = 2
	}
	point := start + strings.IndexAny(string(b[start:]), ".,")
	for len(b)-1-point > least && b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	if len(b)-1 == point {
		b = b[:point]
	}
	return b
}

// side names the side a sideways number points to. short is for cells.
func (e *Evaluator) side(r *RowResult, v float64, short bool) string {
	switch {
	case v > 0 && r.Side3 != "":
		return r.Side3
	case v < 0 && r.Side9 != "":
		return r.Side9
	case r.FromStationary: // as the row's own readings are named: 3 and 9 change places
		return [...]string{words.SideStationary3.String(), words.SideStationary9.String(), words.SideDefaultStationary3.String(), words.SideDefaultStationary9.String()}[2*AsInt(!short)+AsInt(v > 0)]
	case v > 0 && short:
		return words.Side3.String()
	case v > 0:
		return words.SideDefault3.String()
	case short:
		return words.Side9.String()
	}
	return words.SideDefault9.String()
}

func AsInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// AppendWhy appends the reason of a verdict: what is missing or wrong, else which magnitude is over its limit or too close to it.
func (e *Evaluator) AppendWhy(b []byte, r *RowResult) []byte {
	b = append(b, r.Why.String()...)
	if r.Verdict != calc.Outside && r.Verdict != calc.TooClose {
		return b
	}
	word, vec, limit, isSlope := r.worst()
	if vec == nil {
		return b
	}
	if !r.Why.Empty() {
		b = append(b, "; "...)
	}
	if w := r.Calc.Wanted; w.TV != 0 || w.TH != 0 || (r.Coupling != tables.Universal && (w.DV != 0 || w.DH != 0)) {
		word += words.ProblemFromWanted.String()
	}
	show := func(x float64) string {
		if isSlope {
			return e.slope(x)
		}
		return e.thick(x)
	}
	if r.Verdict == calc.Outside {
		return append(b, words.ProblemOver.Say(word, show(vec.Total), show(limit))...)
	}
	return append(b, words.ProblemClose.Say(word, show(vec.Total), show(vec.UTotal), show(limit), e.percent(r.Calc.Found.Chance))...)
}

// worst is the judged magnitude that takes the largest share of its limit.
func (r *RowResult) worst() (word string, vec *calc.Vector, limit float64, isSlope bool) {
	j := &r.Calc.Found
	best := 0.0
	try := func(w string, v *calc.Vector, l float64, s bool) {
		if sh := v.Total / l; vec == nil && sh >= 0 || sh > best {
			word, vec, limit, isSlope, best = w, v, l, s, sh
		}
	}
	switch r.Coupling {
	case tables.Spacer:
		try(words.ProblemFlexSWord.String(), &j.FlexS, r.Limits.Slope, true)
		try(words.ProblemFlexMWord.String(), &j.FlexM, r.Limits.Slope, true)
	case tables.Universal:
		try(words.ProblemSlopeWord.String(), &j.Slope, r.Limits.Slope, true)
	default:
		try(words.ProblemOffsetWord.String(), &j.Offset, r.Limits.Offset, false)
		try(words.ProblemSlopeWord.String(), &j.Slope, r.Limits.Slope, true)
	}
	return
}

// Bare is a thickness as shims are shown, without its unit.
func (e *Evaluator) Bare(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return string(AppendNumber(nil, v, e.ThickUnit(), Decimals(e.ThickUnit(), false), e.set.mark))
}

package evaluate

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

// Number is a number with its unit as values of phrases have it, zeros at the end left out.
func (e *Evaluator) Number(v float64, u units.Unit, dec int) string {
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

// Amount is a thickness that is to be made up of shims, with two digits at least in mm, as their thicknesses have.
func (e *Evaluator) Amount(v float64) string {
	return string(e.AppendAmount(nil, v)) + " " + job.QThickness.Unit(e.ShowsInch()).String()
}

// Thickness is a reading or an offset with its unit. Like the functions below it is called in many places and not inlined, for the size of the page.
//
//go:noinline
func (e *Evaluator) Thickness(v float64) string {
	u := job.QThickness.Unit(e.ShowsInch())
	return e.Number(v, u, Decimals(u, false))
}

// Shim is a thickness as shims are shown: 0.35 mm, 14.0 mil.
//
//go:noinline
func (e *Evaluator) Shim(v float64) string {
	u := job.QThickness.Unit(e.ShowsInch())
	return string(append(AppendNumber(nil, v, u, Decimals(u, true), e.set.mark), " "+u.String()...))
}

// Distance is a length along the machines with its unit.
//
//go:noinline
func (e *Evaluator) Distance(v float64) string {
	u := job.QDistance.Unit(e.ShowsInch())
	return e.Number(v, u, 3)
}

// Slope is a slope with its unit.
//
//go:noinline
func (e *Evaluator) Slope(v float64) string {
	u := job.QSlope.Unit(e.ShowsInch())
	return e.Number(v, u, 3)
}

// Percent is a share or a chance in per cent, without digits behind the decimal sign.
func (e *Evaluator) Percent(v float64) string {
	return string(append(AppendNumber(nil, v, units.Percent, 0, e.set.mark), " %"...))
}

// PackUnit is the unit of pieces, to stand behind them while the units shown are not the job's.
func (e *Evaluator) PackUnit() string {
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

// Side is the side a sideways number points to. short is for cells.
func (r *RowResult) Side(v float64, short bool) words.Phrase {
	switch {
	case v > 0 && r.Side3 != "":
		return words.Plain(r.Side3)
	case v < 0 && r.Side9 != "":
		return words.Plain(r.Side9)
	case r.FromStationary: // as the row's own readings are named: 3 and 9 change places
		return [...]words.Key{words.SideStationary3, words.SideStationary9, words.SideDefaultStationary3, words.SideDefaultStationary9}[2*AsInt(!short)+AsInt(v > 0)].With()
	case v > 0 && short:
		return words.Side3.With()
	case v > 0:
		return words.SideDefault3.With()
	case short:
		return words.Side9.With()
	}
	return words.SideDefault9.With()
}

// TheSide is a side with its article, unless somebody named it with one.
func (r *RowResult) TheSide(v float64, short bool) words.Phrase {
	s := r.Side(v, short)
	if name := [2]string{r.Side9, r.Side3}[AsInt(v > 0)]; v != 0 && len(name) >= 4 && strings.EqualFold(name[:4], "the ") {
		return s
	}
	return words.SideThe.With(s)
}

// PairWord is the word for pair of feet k: front, rear, further.
func (e *Evaluator) PairWord(r *RowResult, k int) words.Phrase {
	switch k {
	case r.Front:
		return words.SentenceFront.With()
	case r.Rear:
		return words.SentenceRear.With()
	}
	if len(r.Further) == 1 {
		return words.SentenceFurtherOne.With()
	}
	return words.SentenceFurther.With(e.Distance(r.Calc.Feet[k].Station))
}

// PairName is a pair of feet with the word for it: "both front feet".
func (e *Evaluator) PairName(r *RowResult, k int) words.Phrase {
	return words.SentenceBoth.With(e.PairWord(r, k))
}

// AsInt is 1 for true and 0 for false, to choose from lists of two.
func AsInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// Why is the reason of a verdict: what is missing or wrong, and which magnitude is over its limit or too close to it.
func (e *Evaluator) Why(r *RowResult) words.Phrase {
	if form, values := e.Decided(r); values != nil {
		return words.Together(r.Why, form.With(values...))
	}
	return r.Why
}

// Decided is what decides the verdict of a row: a text and its values, none where nothing is over its limit or too close to it.
func (e *Evaluator) Decided(r *RowResult) (form words.Key, values []any) {
	if r.Verdict != calc.Outside && r.Verdict != calc.TooClose {
		return 0, nil
	}
	which, vec, limit := r.worst()
	if vec == nil {
		return 0, nil
	}
	word := &magnitudes[which]
	if w := r.Calc.Wanted; w.TV != 0 || w.TH != 0 || (r.Coupling != tables.Universal && (w.DV != 0 || w.DH != 0)) {
		word = &fromWanted[which]
	}
	show := func(x float64) string {
		if which == offsetMagnitude {
			return e.Thickness(x)
		}
		return e.Slope(x)
	}
	if r.Verdict == calc.Outside {
		return words.ProblemOver, []any{word, show(vec.Total), show(limit)}
	}
	return words.ProblemClose, []any{word, show(vec.Total), show(vec.UTotal), show(limit), e.Percent(r.Calc.Found.Chance)}
}

// A magnitude is one that couplings are judged by.
type magnitude uint8

const (
	offsetMagnitude magnitude = iota
	slopeMagnitude
	flexSMagnitude
	flexMMagnitude
)

// magnitudes are their names, and fromWanted those where they are measured from a wanted line. They are made once, for they are said of many rows.
var (
	magnitudes = [...]words.Phrase{words.ProblemOffsetWord.With(), words.ProblemSlopeWord.With(), words.ProblemFlexSWord.With(), words.ProblemFlexMWord.With()}
	fromWanted = func() (list [len(magnitudes)]words.Phrase) {
		for k := range list {
			list[k] = words.Joined(magnitudes[k], words.ProblemFromWanted.With())
		}
		return list
	}()
)

// worst is the judged magnitude that takes the largest share of its limit.
func (r *RowResult) worst() (which magnitude, vec *calc.Vector, limit float64) {
	j := &r.Calc.Found
	best := 0.0
	try := func(m magnitude, v *calc.Vector, l float64) {
		if sh := v.Total / l; vec == nil && sh >= 0 || sh > best {
			which, vec, limit, best = m, v, l, sh
		}
	}
	switch r.Coupling {
	case tables.Spacer:
		try(flexSMagnitude, &j.FlexS, r.Limits.Slope)
		try(flexMMagnitude, &j.FlexM, r.Limits.Slope)
	case tables.Universal:
		try(slopeMagnitude, &j.Slope, r.Limits.Slope)
	default:
		try(offsetMagnitude, &j.Offset, r.Limits.Offset)
		try(slopeMagnitude, &j.Slope, r.Limits.Slope)
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

// Exact shows a value in a unit with up to six digits behind the decimal sign.
func (e *Evaluator) Exact(v float64, u units.Unit) string { return e.Number(v, u, 6) }

// ShowsZero says whether a number would be shown as zero.
func (e *Evaluator) ShowsZero(v float64, show func(float64) string) bool {
	s := show(math.Abs(v))
	return !strings.ContainsAny(s[:strings.IndexByte(s, ' ')], "123456789")
}

// Sum is a thickness in full with its unit.
func (e *Evaluator) Sum(v float64) string {
	if v == 0 {
		return "0 " + e.ThickUnit().String()
	}
	return string(appendThickness(nil, v, e.ThickUnit(), e.set.mark)) + " " + e.ThickUnit().String()
}

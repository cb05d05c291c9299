package results

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
	"sync"
)

// Number is the number of a result column in base units with its uncertainty. NaN: there is none. ok is false for a text.
func Number(r *evaluate.RowResult, c job.ColumnID) (v, u float64, ok bool) {
	u = nan
	foot := func(i int, move bool) (float64, float64) {
		f := r.Foot(i)
		switch {
		case f == nil:
			return nan, nan
		case move:
			return f.Move, f.UMove
		}
		return f.Shim, f.UShim
	}
	switch c {
	case job.ResultOffsetV:
		v, u = r.Offset.V, r.Offset.UV
	case job.ResultOffsetH:
		v, u = r.Offset.H, r.Offset.UH
	case job.ResultOffset:
		v, u = r.Offset.Total, r.Offset.UTotal
	case job.ResultSlopeV:
		v, u = r.Slope.V, r.Slope.UV
	case job.ResultSlopeH:
		v, u = r.Slope.H, r.Slope.UH
	case job.ResultSlope:
		v, u = r.Slope.Total, r.Slope.UTotal
	case job.ResultShare:
		v = r.Calc.Found.Share
	case job.ResultChance:
		v = r.Calc.Found.Chance
	case job.ResultFrontShim:
		v, u = foot(r.Front, false)
	case job.ResultRearShim:
		v, u = foot(r.Rear, false)
	case job.ResultFrontMove:
		v, u = foot(r.Front, true)
	case job.ResultRearMove:
		v, u = foot(r.Rear, true)
	case job.ResultAfterOffsetV:
		v = r.Calc.After.DV
	case job.ResultAfterOffsetH:
		v = r.Calc.After.DH
	case job.ResultAfterSlopeV:
		v = r.Calc.After.TV
	case job.ResultAfterSlopeH:
		v = r.Calc.After.TH
	case job.ResultAfterShare:
		v = r.Calc.AfterJ.Share
	case job.ResultFlexStationary:
		v, u = r.Calc.Found.FlexS.Total, r.Calc.Found.FlexS.UTotal
	case job.ResultFlexMovable:
		v, u = r.Calc.Found.FlexM.Total, r.Calc.Found.FlexM.UTotal
	case job.ResultWantedOffsetV:
		v = r.Wanted.DV
	case job.ResultWantedOffsetH:
		v = r.Wanted.DH
	case job.ResultWantedSlopeV:
		v = r.Wanted.TV
	case job.ResultWantedSlopeH:
		v = r.Wanted.TH
	case job.ResultSlideV:
		v = r.Calc.SlideV
	case job.ResultSlideH:
		v = r.Calc.SlideH
	case job.ResultGapAfter:
		if v = nan; r.Axial != nil {
			v = r.Axial.Forecast.After
		}
	default:
		return nan, nan, false
	}
	return v, u, true
}

// byKey are the columns of results by their keys.
var byKey = sync.OnceValue(func() map[string]job.ColumnID {
	m := map[string]job.ColumnID{}
	for k, c := range job.ResultColumns() {
		m[c.Key] = job.ResultVerdict + job.ColumnID(k)
	}
	return m
})

// NumberOf is [Number] by the key of a column. ok is false for a key there is none of, too.
func NumberOf(r *evaluate.RowResult, key string) (v, u float64, ok bool) {
	c, ok := byKey()[key]
	if !ok {
		return nan, nan, false
	}
	return Number(r, c)
}

// AppendText appends the text of a result cell as people read it: rounded, in the job's unit, with ± where there is one. col is an index
// of ResultColumns. Nothing is appended for a number that does not exist.
func AppendText(dst []byte, e *sentences.Teller, row, col int) []byte {
	r := e.Row(row)
	if r == nil || col < 0 || col >= int(job.EndResults-job.ResultVerdict) || r.Kind != evaluate.MachineRow {
		return dst
	}
	return AppendCell(dst, e, r, job.ResultVerdict+job.ColumnID(col))
}

// Text is a result of row i as papers tell it, by the key of its column; "" for a key there is none of.
func Text(e *sentences.Teller, i int, key string) string {
	for k, c := range job.ResultColumns() {
		if c.Key == key {
			return string(AppendTold(nil, e, i, k))
		}
	}
	return ""
}

// AppendTold is [AppendText] as papers tell it to those who do the work: a machine inside its limit stays, with no shims and moves but
// the packs of its soft feet, and a move smaller than its own ± is left.
func AppendTold(dst []byte, e *sentences.Teller, row, col int) []byte {
	r := e.Row(row)
	if r == nil || col < 0 || col >= int(job.EndResults-job.ResultVerdict) || r.Kind != evaluate.MachineRow {
		return dst
	}
	return appendTold(dst, e, r, job.ResultVerdict+job.ColumnID(col))
}

func appendTold(dst []byte, e *sentences.Teller, r *evaluate.RowResult, c job.ColumnID) []byte {
	pair := map[job.ColumnID]int{job.ResultFrontShim: r.Front, job.ResultFrontMove: r.Front, job.ResultFrontPack: r.Front, job.ResultRearShim: r.Rear, job.ResultRearMove: r.Rear, job.ResultRearPack: r.Rear}
	k, ofPair := pair[c]
	f := r.Foot(k)
	move := c == job.ResultFrontMove || c == job.ResultRearMove
	switch {
	case r.Stays() && (c == job.ResultFrontPack || c == job.ResultRearPack || c == job.ResultFurtherPacks):
		if r.Feet == nil || !r.Mends() {
			return dst
		}
	case r.Stays() && (c == job.ResultFurtherShims || c == job.ResultFurtherMoves || c >= job.ResultAfterOffsetV && c <= job.ResultAfterVerdict || c == job.ResultSlideV || c == job.ResultSlideH || c == job.ResultBoltShims):
		return dst
	case r.Stays() && ofPair && f != nil && (evaluate.Known(f.Move) || !move):
		return append(dst, words.WordStays.String()...)
	case ofPair && move && f != nil && evaluate.Known(f.Move) && !evaluate.Pushes(f):
		return append(dst, words.WordLeave.String()...)
	}
	return appendResult(dst, e, r, c, false)
}

// AppendCell is [AppendText] of a row's result by its column.
func AppendCell(dst []byte, e *sentences.Teller, r *evaluate.RowResult, c job.ColumnID) []byte {
	return appendResult(dst, e, r, c, false)
}

// appendResult appends a result; exact gives every digit and leaves ± to a column of its own.
func appendResult(b []byte, e *sentences.Teller, r *evaluate.RowResult, c job.ColumnID, exact bool) []byte {
	u := c.Info().Unit(e.ShowsInch())
	coarse := c >= job.ResultFrontShim && c <= job.ResultFurtherPacks || c == job.ResultBoltShims || c == job.ResultSlideV || c == job.ResultSlideH
	dec := evaluate.Decimals(u, coarse)
	if v, pm, ok := Number(r, c); ok {
		if exact {
			dec = -1
		}
		if math.IsNaN(v) {
			return b
		}
		move := c == job.ResultFrontMove || c == job.ResultRearMove
		if !exact && move {
			b = evaluate.AppendNumber(b, math.Abs(v), u, dec, e.Decimal())
		} else {
			if !exact && (c == job.ResultFrontShim || c == job.ResultRearShim) && v > 0 {
				b = append(b, '+')
			}
			b = evaluate.AppendNumber(b, v, u, dec, e.Decimal())
		}
		if !exact && job.PlusMinus(c) && !math.IsNaN(pm) {
			b = append(b, " ± "...)
			b = evaluate.AppendNumber(b, pm, u, dec, e.Decimal())
		}
		if !exact && move && v != 0 {
			b = append(append(b, ' '), e.SideName(r, v)...)
		}
		return b
	}
	switch c {
	case job.ResultVerdict:
		return append(b, r.Verdict.String()...)
	case job.ResultWhy:
		return e.AppendWhy(b, r)
	case job.ResultLimitHeld:
		return append(b, e.LimitText(r)...)
	case job.ResultAfterVerdict:
		if r.Calc.HasAfter {
			return append(b, r.AfterVerdict.String()...)
		}
	case job.ResultFurtherShims, job.ResultFurtherMoves, job.ResultFurtherPacks:
		for k, i := range r.Further {
			f := r.Foot(i)
			if f == nil {
				continue
			}
			if k > 0 {
				b = append(b, "; "...)
			}
			switch c {
			case job.ResultFurtherShims:
				b = evaluate.AppendNumber(b, f.Shim, u, dec, e.Decimal())
			case job.ResultFurtherMoves:
				b = evaluate.AppendNumber(b, f.Move, u, dec, e.Decimal())
			default:
				b = e.AppendPairPack(b, r, i)
			}
		}
	case job.ResultFrontPack:
		return e.AppendPairPack(b, r, r.Front)
	case job.ResultRearPack:
		return e.AppendPairPack(b, r, r.Rear)
	case job.ResultPacksFrom:
		return append(b, e.PacksFromWord(r)...)
	case job.ResultBalance, job.ResultClosure:
		n := 0
		for k := range r.Calc.Checks {
			v, lim := r.Calc.Checks[k].Balance, r.Calc.Checks[k].BalanceLimit
			if c == job.ResultClosure {
				v, lim = r.Calc.Checks[k].Closure, r.Calc.Checks[k].ClosureLimit
			}
			if math.IsNaN(v) || k >= len(r.Sweeps) {
				continue
			}
			if n++; n > 1 {
				b = append(b, "; "...)
			}
			b = append(append(b, r.Sweeps[k].Name...), ' ')
			b = evaluate.AppendNumber(b, v, u, dec, e.Decimal())
			b = append(b, words.WordOf.String()...)
			b = evaluate.AppendNumber(b, lim, u, dec, e.Decimal())
		}
	case job.ResultWantedReadings:
		if r.MovedWanted() {
			b = e.AppendWantedReadings(b, r)
		}
	case job.ResultFeetPacks:
		b = e.AppendFeetPacks(b, r)
	case job.ResultGapVerdict:
		if r.Axial != nil && r.Axial.Forecast.Verdict != calc.NotJudged {
			return append(b, r.Axial.Forecast.Verdict.String()...)
		}
	case job.ResultChecks:
		return e.AppendChecks(b, r)
	case job.ResultState:
		return append(b, r.StateWord().String()...)
	case job.ResultSoftFoot:
		if r.Feet != nil && r.Feet.HasSoft {
			b = e.AppendSoft(b, r)
		}
	case job.ResultBoltShims:
		for k, s := range r.Calc.BoltShims {
			if k > 0 {
				b = append(b, "; "...)
			}
			b = evaluate.AppendNumber(b, s, u, dec, e.Decimal())
		}
	}
	return b
}

// ShownNumber is the number of a result column of a row, in the column's unit as shown; ok is false where the row has none or the column holds
// words. col is an index in ResultColumns.
func ShownNumber(e *sentences.Teller, row, col int) (v float64, ok bool) {
	r := e.Row(row)
	if r == nil || r.Kind != evaluate.MachineRow || col < 0 || col >= len(job.ResultColumns()) {
		return math.NaN(), false
	}
	c := job.NumInputs + job.ColumnID(col)
	v, _, ok = Number(r, c)
	if !ok || math.IsNaN(v) {
		return math.NaN(), false
	}
	return evaluate.FromBase(c.Info().Unit(e.ShowsInch()), v), true
}

// Header is the header of a result column with its unit, by its key.
func Header(e *sentences.Teller, key string) string {
	for _, k := range job.ResultColumns() {
		if k.Key == key {
			name := k.Name
			if u := k.Quantity.Unit(e.ShowsInch()); u != units.None {
				name += " [" + u.String() + "]"
			}
			return name
		}
	}
	return ""
}

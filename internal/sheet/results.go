package sheet

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// foot is a pair of feet of the row, nil if it has none there.
func (r *RowResult) foot(i int) *calc.Foot {
	if i < 0 || i >= len(r.Calc.Feet) {
		return nil
	}
	return &r.Calc.Feet[i]
}

// number is the number of a result column in base units with its uncertainty. NaN: there is none. ok is false for a text.
func (r *RowResult) number(c job.ColumnID) (v, u float64, ok bool) {
	u = nan
	foot := func(i int, move bool) (float64, float64) {
		f := r.foot(i)
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

// decimals is how many digits a unit is shown with. Shims and moves are shown with one fewer in mm.
func decimals(u units.Unit, coarse bool) int {
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

// appendNumber appends v, in base units, in unit u with so many decimals; negative: as few as read back the same. Nothing for NaN.
func appendNumber(b []byte, v float64, u units.Unit, dec int, mark units.Decimal) []byte {
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
	b := appendNumber(buf[:0], v, u, dec, e.set.mark)
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
	return e.number(v, u, decimals(u, false))
}

// shim words a thickness as shims are shown: 0.35 mm, 14.0 mil.
//
//go:noinline
func (e *Evaluator) shim(v float64) string {
	u := job.QThickness.Unit(e.ShowsInch())
	return string(append(appendNumber(nil, v, u, decimals(u, true), e.set.mark), " "+u.String()...))
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
	return string(append(appendNumber(nil, v, units.Percent, 0, e.set.mark), " %"...))
}

// AppendResultText appends the text of a result cell as people read it: rounded, in the job's unit, with ± where there is one. col is an index
// of ResultColumns. Nothing is appended for a number that does not exist.
func (e *Evaluator) AppendResultText(dst []byte, row, col int) []byte {
	r := e.Row(row)
	if r == nil || col < 0 || col >= int(job.EndResults-job.ResultVerdict) || r.Kind != MachineRow {
		return dst
	}
	return e.appendResult(dst, r, job.ResultVerdict+job.ColumnID(col), false)
}

// ResultText is a result of row i as papers tell it, by the key of its column; "" for a key there is none of.
func (e *Evaluator) ResultText(i int, key string) string {
	for k, c := range job.ResultColumns() {
		if c.Key == key {
			return string(e.AppendTold(nil, i, k))
		}
	}
	return ""
}

// AppendTold is [Evaluator.AppendResultText] as papers tell it to those who do the work: a machine inside its limit stays, with no shims and moves but
// the packs of its soft feet, and a move smaller than its own ± is left.
func (e *Evaluator) AppendTold(dst []byte, row, col int) []byte {
	r := e.Row(row)
	if r == nil || col < 0 || col >= int(job.EndResults-job.ResultVerdict) || r.Kind != MachineRow {
		return dst
	}
	return e.appendTold(dst, r, job.ResultVerdict+job.ColumnID(col))
}

func (e *Evaluator) appendTold(dst []byte, r *RowResult, c job.ColumnID) []byte {
	pair := map[job.ColumnID]int{job.ResultFrontShim: r.Front, job.ResultFrontMove: r.Front, job.ResultFrontPack: r.Front, job.ResultRearShim: r.Rear, job.ResultRearMove: r.Rear, job.ResultRearPack: r.Rear}
	k, ofPair := pair[c]
	f := r.foot(k)
	move := c == job.ResultFrontMove || c == job.ResultRearMove
	switch {
	case r.Stays() && (c == job.ResultFrontPack || c == job.ResultRearPack || c == job.ResultFurtherPacks):
		if r.Feet == nil || !r.Mends() {
			return dst
		}
	case r.Stays() && (c == job.ResultFurtherShims || c == job.ResultFurtherMoves || c >= job.ResultAfterOffsetV && c <= job.ResultAfterVerdict || c == job.ResultSlideV || c == job.ResultSlideH || c == job.ResultBoltShims):
		return dst
	case r.Stays() && ofPair && f != nil && (known(f.Move) || !move):
		return append(dst, wordStays...)
	case ofPair && move && f != nil && known(f.Move) && !Pushes(f):
		return append(dst, wordLeave...)
	}
	return e.appendResult(dst, r, c, false)
}

// appendResult appends a result; exact gives every digit and leaves ± to a column of its own.
func (e *Evaluator) appendResult(b []byte, r *RowResult, c job.ColumnID, exact bool) []byte {
	u := c.Info().Unit(e.ShowsInch())
	coarse := c >= job.ResultFrontShim && c <= job.ResultFurtherPacks || c == job.ResultBoltShims || c == job.ResultSlideV || c == job.ResultSlideH
	dec := decimals(u, coarse)
	if v, pm, ok := r.number(c); ok {
		if exact {
			dec = -1
		}
		if math.IsNaN(v) {
			return b
		}
		move := c == job.ResultFrontMove || c == job.ResultRearMove
		if !exact && move {
			b = appendNumber(b, math.Abs(v), u, dec, e.set.mark)
		} else {
			if !exact && (c == job.ResultFrontShim || c == job.ResultRearShim) && v > 0 {
				b = append(b, '+')
			}
			b = appendNumber(b, v, u, dec, e.set.mark)
		}
		if !exact && job.PlusMinus(c) && !math.IsNaN(pm) {
			b = append(b, " ± "...)
			b = appendNumber(b, pm, u, dec, e.set.mark)
		}
		if !exact && move && v != 0 {
			b = append(append(b, ' '), e.side(r, v, true)...)
		}
		return b
	}
	switch c {
	case job.ResultVerdict:
		return append(b, r.Verdict.String()...)
	case job.ResultWhy:
		return e.AppendWhy(b, r)
	case job.ResultLimitHeld:
		return append(b, e.limitText(r)...)
	case job.ResultAfterVerdict:
		if r.Calc.HasAfter {
			return append(b, r.AfterVerdict.String()...)
		}
	case job.ResultFurtherShims, job.ResultFurtherMoves, job.ResultFurtherPacks:
		for k, i := range r.Further {
			f := r.foot(i)
			if f == nil {
				continue
			}
			if k > 0 {
				b = append(b, "; "...)
			}
			switch c {
			case job.ResultFurtherShims:
				b = appendNumber(b, f.Shim, u, dec, e.set.mark)
			case job.ResultFurtherMoves:
				b = appendNumber(b, f.Move, u, dec, e.set.mark)
			default:
				b = e.appendPairPack(b, r, i)
			}
		}
	case job.ResultFrontPack:
		return e.appendPairPack(b, r, r.Front)
	case job.ResultRearPack:
		return e.appendPairPack(b, r, r.Rear)
	case job.ResultPacksFrom:
		return append(b, e.packsFromWord(r)...)
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
			b = appendNumber(b, v, u, dec, e.set.mark)
			b = append(b, wordOf...)
			b = appendNumber(b, lim, u, dec, e.set.mark)
		}
	case job.ResultWantedReadings:
		if r.movedWanted() {
			b = e.appendWantedReadings(b, r)
		}
	case job.ResultFeetPacks:
		b = e.appendFeetPacks(b, r)
	case job.ResultGapVerdict:
		if r.Axial != nil && r.Axial.Forecast.Verdict != calc.NotJudged {
			return append(b, r.Axial.Forecast.Verdict.String()...)
		}
	case job.ResultChecks:
		return e.appendChecks(b, r)
	case job.ResultState:
		return append(b, r.StateWord()...)
	case job.ResultSoftFoot:
		if r.Feet != nil && r.Feet.HasSoft {
			b = e.appendSoft(b, r)
		}
	case job.ResultBoltShims:
		for k, s := range r.Calc.BoltShims {
			if k > 0 {
				b = append(b, "; "...)
			}
			b = appendNumber(b, s, u, dec, e.set.mark)
		}
	}
	return b
}

// packUnitNamed is the unit of pieces, to stand behind them while the units shown are not the job's.
func (e *Evaluator) packUnitNamed() string {
	if e.ShowsInch() == e.set.inch {
		return ""
	}
	return " " + e.thickUnit().String()
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
	b = appendNumber(b, v, u, most, mark)
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
		return [...]string{sideStationary3, sideStationary9, sideDefaultStationary3, sideDefaultStationary9}[2*asInt(!short)+asInt(v > 0)]
	case v > 0 && short:
		return side3
	case v > 0:
		return sideDefault3
	case short:
		return side9
	}
	return sideDefault9
}

func asInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// AppendWhy appends the reason of a verdict: what is missing or wrong, else which magnitude is over its limit or too close to it.
func (e *Evaluator) AppendWhy(b []byte, r *RowResult) []byte {
	b = append(b, r.Why...)
	if r.Verdict != calc.Outside && r.Verdict != calc.TooClose {
		return b
	}
	word, vec, limit, isSlope := r.worst()
	if vec == nil {
		return b
	}
	if len(r.Why) > 0 {
		b = append(b, "; "...)
	}
	if w := r.Calc.Wanted; w.TV != 0 || w.TH != 0 || (r.Coupling != tables.Universal && (w.DV != 0 || w.DH != 0)) {
		word += msgFromWanted
	}
	show := func(x float64) string {
		if isSlope {
			return e.slope(x)
		}
		return e.thick(x)
	}
	if r.Verdict == calc.Outside {
		return fmt.Appendf(b, msgOver, word, show(vec.Total), show(limit))
	}
	return fmt.Appendf(b, msgClose, word, show(vec.Total), show(vec.UTotal), show(limit), e.percent(r.Calc.Found.Chance))
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
		try(msgFlexSWord, &j.FlexS, r.Limits.Slope, true)
		try(msgFlexMWord, &j.FlexM, r.Limits.Slope, true)
	case tables.Universal:
		try(msgSlopeWord, &j.Slope, r.Limits.Slope, true)
	default:
		try(msgOffsetWord, &j.Offset, r.Limits.Offset, false)
		try(msgSlopeWord, &j.Slope, r.Limits.Slope, true)
	}
	return
}

// ResultsCSV writes the Machines sheet with its results behind it, as UTF-8: the title lines, the header, every row as typed in its
// place, and numbers with every digit in the job's unit, each ± in a column of its own. Columns of results that were typed are left out, as the new ones take their place. With the
// decimal comma cells are parted by semicolons. See [AppendCSVRow] for cells that begin like a formula.
func (e *Evaluator) ResultsCSV(w io.Writer) error {
	defer e.asJob()()
	t := e.job.Machines
	sep := byte(',')
	if e.set.mark == units.Comma {
		sep = ';'
	}
	var b []byte
	for _, row := range t.Title {
		b = job.AppendCSVRow(b, row, sep)
	}
	keep := make([]int, 0, len(e.bind))
	for col := range t.Width() {
		if col >= len(e.bind) || e.bind[col].id < job.NumInputs {
			keep = append(keep, col)
		}
	}
	cells := make([]string, 0, len(keep)+64)
	for _, col := range keep {
		h := ""
		if col < len(t.Header) {
			h = t.Header[col]
		}
		cells = append(cells, h)
	}
	for c := job.ResultVerdict; c < job.EndResults; c++ {
		name := c.Info().Name
		if u := c.Info().Unit(e.set.inch); u != units.None {
			name += " [" + u.String() + "]"
		}
		cells = append(cells, name)
		if job.PlusMinus(c) {
			cells = append(cells, "± "+name)
		}
	}
	b = job.AppendCSVRow(b, cells, sep)
	var line []byte
	var ends []int
	for i, row := range t.Rows {
		cells = cells[:0]
		for _, col := range keep {
			if col < len(row) {
				cells = append(cells, row[col])
			} else {
				cells = append(cells, "")
			}
		}
		if r := e.Row(i); r.Kind == MachineRow {
			line, ends = line[:0], ends[:0]
			for c := job.ResultVerdict; c < job.EndResults; c++ {
				line = e.appendResult(line, r, c, true)
				ends = append(ends, len(line))
				if job.PlusMinus(c) {
					if _, u, _ := r.number(c); !math.IsNaN(u) {
						line = appendNumber(line, u, c.Info().Unit(e.set.inch), -1, e.set.mark)
					}
					ends = append(ends, len(line))
				}
			}
			all, from := string(line), 0
			for _, to := range ends {
				cells = append(cells, all[from:to])
				from = to
			}
		} else {
			for range len(ends) {
				cells = append(cells, "")
			}
		}
		b = job.AppendCSVRow(b, cells, sep)
		if len(b) > 1<<16 {
			if _, err := w.Write(b); err != nil {
				return err
			}
			b = b[:0]
		}
	}
	_, err := w.Write(b)
	return err
}

// ResultsText writes an aligned table for a terminal, rounded, and a line that counts the verdicts.
func (e *Evaluator) ResultsText(w io.Writer) error {
	defer e.asJob()()
	cols := []job.ColumnID{job.ResultVerdict, job.ResultOffset, job.ResultSlope, job.ResultShare, job.ResultChance, job.ResultFrontShim, job.ResultRearShim, job.ResultFrontMove, job.ResultRearMove, job.ResultFrontPack, job.ResultRearPack, job.ResultAfterVerdict, job.ResultWhy}
	header := []string{job.ColMachine.Info().Name}
	for _, c := range cols {
		name := c.Info().Name
		if u := c.Info().Unit(e.set.inch); u != units.None {
			name += " [" + u.String() + "]"
		}
		header = append(header, name)
	}
	rows := [][]string{header}
	for i := range e.dirty {
		r := e.Row(i)
		if r.Kind != MachineRow {
			continue
		}
		line := []string{r.Name}
		for _, c := range cols {
			line = append(line, string(e.appendTold(nil, r, c)))
		}
		rows = append(rows, line)
	}
	if len(rows) == 1 {
		_, err := io.WriteString(w, txtNothing)
		return err
	}
	b := AppendTable(nil, rows, 2, 7)
	m, v := e.Count()
	b = append(b, '\n')
	b = fmt.Appendf(b, txtCount, m, v[calc.Inside], v[calc.Outside], v[calc.TooClose], v[calc.NotJudged])
	b = fmt.Appendf(b, txtUnits, job.QThickness.Unit(e.set.inch), job.QSlope.Unit(e.set.inch))
	for _, n := range e.PackNotes() {
		b = append(append(b, n...), '\n')
	}
	for _, c := range tables.Cautions() {
		b = append(append(b, c.Text...), '\n')
	}
	_, err := w.Write(b)
	return err
}

// AppendTable aligns rows of cells, the first their header; the columns from … to are numbers and stand to the right.
func AppendTable(b []byte, rows [][]string, from, to int) []byte {
	width := make([]int, len(rows[0]))
	for _, line := range rows {
		for k, c := range line {
			line[k] = Visible(c)
			width[k] = max(width[k], utf8.RuneCountInString(line[k]))
		}
	}
	for n, line := range rows {
		start := len(b)
		for k, c := range line {
			if k > 0 {
				b = append(b, "  "...)
			}
			pad := width[k] - utf8.RuneCountInString(c)
			right := k >= from && k <= to && n > 0
			if right {
				b = append(b, spaces(pad)...)
			}
			b = append(b, c...)
			if !right && k < len(line)-1 {
				b = append(b, spaces(pad)...)
			}
		}
		for len(b) > start && b[len(b)-1] == ' ' {
			b = b[:len(b)-1]
		}
		b = append(b, '\n')
	}
	return b
}

func spaces(n int) string { return strings.Repeat(" ", max(n, 0)) }

package evaluate

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// lines reads one of the sheets that hold a row a part, a foot, a limit and the like.
type lines struct {
	e     *Evaluator
	kind  job.SheetKind
	t     *job.Table
	base  job.ColumnID
	at    []boundColumn
	rows  [][]string
	first int // source row of rows[0]
	i     int // of the row at hand
	bad   bool

	header  []string
	numeric []bool // columns that hold numbers or words of a list
	doubts  []int  // columns whose header could be two
	ruled   int    // source row of a header with other columns that the rows at hand stand under, 0 none
	noted   map[job.ColumnID]int
	odd     map[job.ColumnID]oddCells
}

// oddCells are the numbers of a column outside what is usual: the problem that tells it, of how many.
type oddCells struct {
	at, more int
	x        float64
	typed    string
}

// lines opens a sheet whose columns are from … to. nil: the job has none, or it has no header, or not the columns it needs, which is reported.
func (e *Evaluator) lines(kind job.SheetKind, from, to job.ColumnID, needed ...job.ColumnID) *lines {
	t := e.job.Table(kind)
	if t == nil {
		return nil
	}
	cols := make([]job.ColumnID, 0, to-from+1)
	for c := from; c <= to; c++ {
		cols = append(cols, c)
	}
	at, rows, first, ok := e.bindSimple(kind, cols)
	if !ok {
		return nil
	}
	header := t.Header
	if header == nil {
		plain := *t
		plain.SplitHeader(kind)
		header = plain.Header
	}
	l := &lines{e: e, kind: kind, t: t, base: from, at: at, rows: rows, first: first, i: -1, header: header, noted: map[job.ColumnID]int{}, odd: map[job.ColumnID]oddCells{}}
	for c, h := range header {
		if x, y, two := strings.Cut(h, job.WordOr); two && job.FindColumn(kind, x) != nil && job.FindColumn(kind, y) != nil {
			l.doubts = append(l.doubts, c)
			e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(kind), Row: first - 1,
				Text: words.ProblemHeaderDoubt.With(job.Quote(x), job.Quote(y)), Hint: words.HintHeaderDoubt.With(), Col: c})
		}
	}
	l.numeric = make([]bool, max(t.Width(), len(header)))
	for k, b := range at {
		if q := (from + job.ColumnID(k)).Info().Quantity; b.col >= 0 && q != job.QText {
			l.numeric[b.col] = true
		}
	}
	for _, c := range needed {
		if at[c-from].col < 0 {
			if len(rows) > 0 {
				e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(kind), Row: first - 1, Column: c.Info().Name,
					Text: words.ProblemMissing.With(c.Info().Name), Hint: headerHint(kind, header), Col: -1})
			}
			ok = false
		}
	}
	if !ok {
		return nil
	}
	e.tellTitles(kind, t)
	return l
}

// next goes to the next row that holds something; a header that stands there again is passed over.
func (l *lines) next() bool {
	for l.i++; l.i < len(l.rows); l.i++ {
		row := l.rows[l.i]
		if job.BlankRow(row) {
			continue
		}
		if l.passedOver(row) {
			continue
		}
		l.bad = false
		for _, c := range l.doubts {
			if c < len(row) && !job.Blank(row[c]) && !job.NotGiven(row[c]) {
				l.fail(l.base, words.ProblemDoubtCell.With(job.Quote(row[c]), job.Quote(l.header[c])), words.HintHeaderDoubt.With())
			}
		}
		if l.ruled > 0 {
			l.fail(l.base, words.ProblemOtherHeader.With(l.ruled), words.HintOtherHeader.With())
		}
		return true
	}
	return false
}

// passedOver says whether a row is a header, a total or a note, which is told where it is no plain repeat of the header.
func (l *lines) passedOver(row []string) bool {
	header, filled := 0, 0
	for k, b := range l.at {
		if b.col < 0 || b.col >= len(row) || job.Blank(row[b.col]) {
			continue
		}
		filled++
		if c, _, _ := job.MatchHeader(l.kind, row[b.col]); c == l.base+job.ColumnID(k) {
			header++
		}
	}
	if names, ok := job.SectionNames(l.rows, l.i, l.header, l.kind); ok && job.Wordy(row) {
		l.ruled = 0
		for c, name := range names {
			if !job.Blank(name) && (c >= len(l.header) || !l.e.sameColumn(name, l.header[c], l.kind)) {
				l.ruled = l.src()
				l.tell(job.Warning, l.base, words.ProblemHeaderOther.With(), words.HintOtherHeader.With())
				break
			}
		}
		return true
	}
	if header >= 2 && header == filled {
		l.ruled = 0
		return true
	}
	name := ""
	if l.base.Info().Quantity == job.QText {
		name = l.cell(l.base)
	}
	if l.kind == job.TrainsSheet && job.Blank(name) { // merged cells leave the train blank: what is said of a machine is no note
		name = cmp.Or(l.cell(job.TrainsMachine), l.cell(job.TrainsMayMove), l.cell(job.TrainsPlan))
	}
	if why, _ := leftOut(row, name, l.t.Title, l.numeric); !why.Empty() {
		l.tell(job.Warning, l.base, why, words.HintLeftOut.With())
		return true
	}
	return false
}

// src is the source row of the row at hand.
func (l *lines) src() int { return l.first + l.i }

func (l *lines) col(c job.ColumnID) int { return l.at[c-l.base].col }

// cell is what stands in a column of the row at hand, as typed.
func (l *lines) cell(c job.ColumnID) string {
	k := l.col(c)
	if k < 0 || k >= len(l.rows[l.i]) {
		return ""
	}
	s := l.rows[l.i][k]
	if absentIn(c, s) {
		if l.noted[c] == 0 {
			l.noted[c] = l.src()
			l.tell(job.Note, c, words.ProblemNotGiven.With(job.Quote(s)), words.Phrase{})
		}
		return ""
	}
	return s
}

// absentIn says whether a text in a column says that nothing is given. "none" of a pack is the bare base.
func absentIn(c job.ColumnID, s string) bool {
	if s == "" {
		return false
	}
	switch c.Info().Quantity {
	case job.QText:
		return c.Info().Key != "note" && c.Info().Sheet != job.ChecksSheet && job.NoWord(strings.TrimSpace(s)) && !job.Blank(s)
	case job.QPieces:
		return job.NoWord(strings.TrimSpace(s)) && !job.Blank(s)
	}
	return job.NotGiven(s)
}

func (l *lines) text(c job.ColumnID) string { return strings.TrimSpace(l.cell(c)) }
func (l *lines) blank(c job.ColumnID) bool  { return job.Blank(l.cell(c)) }
func (l *lines) missing(c job.ColumnID, hint words.Phrase) {
	l.fail(c, words.ProblemMissing.With(c.Info().Name), hint)
}

// tell records a problem of the row at hand.
func (l *lines) tell(sev job.Severity, c job.ColumnID, text, hint words.Phrase) {
	l.e.problems = append(l.e.problems, job.Problem{Severity: sev, File: l.t.File, Sheet: l.e.SheetName(l.kind), Row: l.src(), Column: c.Info().Name,
		Text: text, Hint: hint, Col: l.col(c)})
}

// fail records an error: the row at hand cannot be used.
func (l *lines) fail(c job.ColumnID, text, hint words.Phrase) {
	l.bad = true
	l.tell(job.Error, c, text, hint)
}

// The least a number may be.
const (
	anything = iota
	notNegative
	positive
)

// number reads a cell in base units. NaN: blank, or not a number, which is reported.
func (l *lines) number(c job.ColumnID, least int) float64 {
	s := l.cell(c)
	if job.Blank(s) {
		return nan
	}
	typed, unit := s, l.unit(c)
	if said := l.said(); said != "" {
		if u, why := job.RowUnit(said, c.Info().Quantity, unit, l.at[c-l.base].own); why != "" && !job.BearsUnit(s, c.Info().Quantity, u, l.e.set.mark) {
			l.fail(c, words.Plain(why), words.HintUnitColumn.With())
			return nan
		}
	}
	if c == job.StockTolerance {
		typed = strings.TrimSpace(s)
		for _, sign := range [...]string{"±", "+/-", "+-"} {
			typed = strings.TrimPrefix(typed, sign)
		}
	}
	x, text, hint := job.ParseQuantity(typed, c.Info().Quantity, unit, l.e.set.mark)
	switch {
	case text != "":
	case least == positive && !(x > 0):
		l.fail(c, words.ProblemTooSmall.With(job.Quote(s)), words.HintPositive.With())
		return nan
	case least == notNegative && !(x >= 0):
		l.fail(c, words.ProblemTooSmall.With(job.Quote(s)), words.HintNotNegative.With())
		return nan
	}
	if text != "" {
		l.fail(c, words.Plain(text), numberHint(c, s, hint))
		return nan
	}
	l.ask(c, x, s)
	return x
}

// numberHint is what to write in the place of what is no number, where the column tells what was meant: ≤ 1500 or 1500-3000 of a speed, 0.05 x 20 of a thickness, 20 pcs.
func numberHint(c job.ColumnID, typed, usual string) words.Phrase {
	switch {
	case c == job.LimitsUpTo && strings.ContainsAny(typed, "≤<-–"):
		return words.HintUpToAlone.With()
	case c == job.StockThickness && strings.ContainsAny(typed, "x×*"):
		return words.HintTimesPieces.With()
	case c == job.StockCount && strings.ContainsAny(typed, "0123456789"):
		return words.HintPiecesAlone.With()
	}
	return words.Plain(usual)
}

// ask questions a number outside what is usual for its column, once a column.
func (l *lines) ask(c job.ColumnID, x float64, typed string) {
	if !l.e.odd(c, x) {
		return
	}
	o, has := l.odd[c]
	if !has {
		o = oddCells{len(l.e.problems), 0, x, typed}
		l.tell(job.Warning, c, l.e.oddText(c, x, typed, 0), words.HintOdd.With())
	} else {
		o.more++
		l.e.problems[o.at].Text = l.e.oddText(c, o.x, o.typed, o.more)
	}
	l.odd[c] = o
}

// askPieces questions the first piece of a pack that is as no shim is.
func (l *lines) askPieces(c job.ColumnID, pieces []float64, typed string) {
	for _, x := range pieces {
		if l.e.odd(c, x) {
			l.ask(c, x, typed)
			return
		}
	}
}

// says says whether the unit of a number in a column of the row at hand is said: by the cell, the header, the title or the row's Unit.
func (l *lines) says(c job.ColumnID) bool {
	q := c.Info().Quantity
	if l.at[c-l.base].own || job.BearsUnit(l.cell(c), q, l.unit(c), l.e.set.mark) {
		return true
	}
	_, fits := units.ParseHeaderUnit(strings.Trim(l.said(), "[]() "), q.Kind())
	return fits
}

// coefficientDoubt refuses a coefficient of expansion without a unit beside a temperature in the other scale than the job's: it could be of either. What is false need not be asked.
func (l *lines) coefficientDoubt(c job.ColumnID, temperatures ...job.ColumnID) bool {
	if l.bad || l.blank(c) || l.says(c) {
		return false
	}
	here, there, scale := units.PerKelvin, units.PerFahrenheit, units.Fahrenheit
	if l.e.set.inch {
		here, there, scale = there, here, units.Celsius
	}
	for _, t := range temperatures {
		if !l.blank(t) && l.says(t) && l.typed(t) == scale {
			l.fail(c, words.ProblemCoefficientDoubt.With(job.Quote(l.cell(c)), scale, t.Info().Name, here, there), words.HintCheckUnit.With())
			return true
		}
	}
	return false
}

// said is what the column Unit says in the row at hand, "" nothing.
func (l *lines) said() string {
	c := job.UnitColumn(l.kind)
	if c == job.NoColumn || job.NoWord(l.text(c)) {
		return ""
	}
	return l.text(c)
}

// unit is that of a bare number in a column of the row at hand.
func (l *lines) unit(c job.ColumnID) units.Unit {
	b := l.at[c-l.base]
	if said := l.said(); said != "" {
		u, _ := job.RowUnit(said, c.Info().Quantity, b.unit, b.own)
		return u
	}
	return b.unit
}

// typed is the unit that the number in a cell was typed in; None where there is none.
func (l *lines) typed(c job.ColumnID) units.Unit {
	v, err := units.Parse(l.cell(c), c.Info().Quantity.Kind(), l.unit(c), l.e.set.mark)
	if err != nil {
		return units.None
	}
	return v.Unit
}

// choice reads a word of the list of a column; −1: blank, or not one of them, which is reported.
func (l *lines) choice(c job.ColumnID) int {
	s := l.cell(c)
	if job.Blank(s) {
		return -1
	}
	k, ok := job.ChoiceIndex(c, s)
	if !ok {
		l.fail(c, words.ProblemNotAWord.With(job.Quote(s)), words.Plain(job.HintChoices(c)))
		return -1
	}
	return k
}

// A claim is what another sheet says of a machine of the Machines sheet.
type claim struct {
	sheet    job.SheetKind
	name     string // as typed the first time
	row, col int    // source row and column where it stands first
	bad      int    // source row of the first line that cannot be used, 0 none
}

// owner is the machine of the row at hand: its key, "" where none is named, which is reported.
func (l *lines) owner(c job.ColumnID) (key string, cl claim) {
	if l.blank(c) {
		l.missing(c, words.HintLongBlank.With())
		return "", claim{}
	}
	name := l.text(c)
	return nameKey(name), claim{sheet: l.kind, name: name, row: l.src(), col: l.col(c)}
}

// Known says whether a number is there.
func Known(x float64) bool { return !math.IsNaN(x) }

// knownLine says whether all four parts of a line are known.
func knownLine(l calc.Line) bool {
	return !slices.ContainsFunc([]float64{l.DV, l.TV, l.DH, l.TH}, math.IsNaN)
}

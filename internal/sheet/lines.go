package sheet

import (
	"fmt"
	"math"
	"strings"

	"shimsheet/internal/units"
)

// lines reads one of the sheets that hold a row a part, a foot, a limit and the like.
type lines struct {
	e     *Evaluator
	kind  SheetKind
	t     *Table
	base  colID
	at    []boundColumn
	rows  [][]string
	first int // source row of rows[0]
	i     int // of the row at hand
	bad   bool

	header  []string
	numeric []bool // columns that hold numbers or words of a list
	doubts  []int  // columns whose header could be two
	ruled   int    // source row of a header with other columns that the rows at hand stand under, 0 none
	noted   map[colID]int
	odd     map[colID]oddCells
}

// oddCells are the numbers of a column outside what is usual: the problem that tells it, of how many.
type oddCells struct {
	at, more int
	x        float64
	typed    string
}

// lines opens a sheet whose columns are from … to. nil: the job has none, or it has no header, or not the columns it needs, which is reported.
func (e *Evaluator) lines(kind SheetKind, from, to colID, needed ...colID) *lines {
	t := e.job.Table(kind)
	if t == nil {
		return nil
	}
	cols := make([]colID, 0, to-from+1)
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
	l := &lines{e: e, kind: kind, t: t, base: from, at: at, rows: rows, first: first, i: -1, header: header, noted: map[colID]int{}, odd: map[colID]oddCells{}}
	for c, h := range header {
		if x, y, two := strings.Cut(h, wordOr); two && FindColumn(kind, x) != nil && FindColumn(kind, y) != nil {
			l.doubts = append(l.doubts, c)
			e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(kind), Row: first - 1,
				Text: fmt.Sprintf(msgHeaderDoubt, quote(x), quote(y)), Hint: hintHeaderDoubt, Col: c})
		}
	}
	l.numeric = make([]bool, max(t.Width(), len(header)))
	for k, b := range at {
		if q := (from + colID(k)).info().Quantity; b.col >= 0 && q != QText {
			l.numeric[b.col] = true
		}
	}
	for _, c := range needed {
		if at[c-from].col < 0 {
			if len(rows) > 0 {
				e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(kind), Row: first - 1, Column: c.info().Name,
					Text: fmt.Sprintf(msgMissing, c.info().Name), Hint: hintHeaderOf(kind), Col: -1})
			}
			ok = false
		}
	}
	if !ok {
		return nil
	}
	return l
}

// next goes to the next row that holds something; a header that stands there again is passed over.
func (l *lines) next() bool {
	for l.i++; l.i < len(l.rows); l.i++ {
		row := l.rows[l.i]
		if blankRow(row) {
			continue
		}
		if l.passedOver(row) {
			continue
		}
		l.bad = false
		for _, c := range l.doubts {
			if c < len(row) && !blank(row[c]) && !notGiven(row[c]) {
				l.fail(l.base, fmt.Sprintf(msgDoubtCell, quote(row[c]), quote(l.header[c])), hintHeaderDoubt)
			}
		}
		if l.ruled > 0 {
			l.fail(l.base, fmt.Sprintf(msgOtherHeader, l.ruled), hintOtherHeader)
		}
		return true
	}
	return false
}

// passedOver says whether a row is a header, a total or a note, which is told where it is no plain repeat of the header.
func (l *lines) passedOver(row []string) bool {
	header, filled := 0, 0
	for k, b := range l.at {
		if b.col < 0 || b.col >= len(row) || blank(row[b.col]) {
			continue
		}
		filled++
		if c, _, _ := matchHeader(l.kind, row[b.col]); c == l.base+colID(k) {
			header++
		}
	}
	if names, ok := sectionNames(l.rows, l.i, l.header, l.kind); ok && wordy(row) {
		l.ruled = 0
		for c, name := range names {
			if !blank(name) && (c >= len(l.header) || !l.e.sameColumn(name, l.header[c], l.kind)) {
				l.ruled = l.src()
				l.tell(Warning, l.base, msgHeaderOther, hintOtherHeader)
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
	if l.base.info().Quantity == QText {
		name = l.cell(l.base)
	}
	if why, _ := leftOut(row, name, l.t.Title, l.numeric); why != "" {
		l.tell(Warning, l.base, why, hintLeftOut)
		return true
	}
	return false
}

// src is the source row of the row at hand.
func (l *lines) src() int { return l.first + l.i }

func (l *lines) col(c colID) int { return l.at[c-l.base].col }

// cell is what stands in a column of the row at hand, as typed.
func (l *lines) cell(c colID) string {
	k := l.col(c)
	if k < 0 || k >= len(l.rows[l.i]) {
		return ""
	}
	s := l.rows[l.i][k]
	if absentIn(c, s) {
		if l.noted[c] == 0 {
			l.noted[c] = l.src()
			l.tell(Note, c, fmt.Sprintf(msgNotGiven, quote(s)), "")
		}
		return ""
	}
	return s
}

// absentIn says whether a text in a column says that nothing is given. "none" of a pack is the bare base.
func absentIn(c colID, s string) bool {
	if s == "" {
		return false
	}
	switch c.info().Quantity {
	case QText:
		return c.info().Key != "note" && c.info().Sheet != ChecksSheet && noWord(strings.TrimSpace(s)) && !blank(s)
	case QPieces:
		return noWord(strings.TrimSpace(s)) && !blank(s)
	}
	return notGiven(s)
}

func (l *lines) text(c colID) string { return strings.TrimSpace(l.cell(c)) }
func (l *lines) blank(c colID) bool  { return blank(l.cell(c)) }
func (l *lines) missing(c colID, hint string) {
	l.fail(c, fmt.Sprintf(msgMissing, c.info().Name), hint)
}

// tell records a problem of the row at hand.
func (l *lines) tell(sev Severity, c colID, text, hint string) {
	l.e.problems = append(l.e.problems, Problem{Severity: sev, File: l.t.File, Sheet: l.e.sheetName(l.kind), Row: l.src(), Column: c.info().Name,
		Text: text, Hint: hint, Col: l.col(c)})
}

// fail records an error: the row at hand cannot be used.
func (l *lines) fail(c colID, text, hint string) {
	l.bad = true
	l.tell(Error, c, text, hint)
}

// The least a number may be.
const (
	anything = iota
	notNegative
	positive
)

// number reads a cell in base units. NaN: blank, or not a number, which is reported.
func (l *lines) number(c colID, least int) float64 {
	s := l.cell(c)
	if blank(s) {
		return nan
	}
	typed, unit := s, l.unit(c)
	if said := l.said(); said != "" {
		if u, why := rowUnit(said, c.info().Quantity, unit, l.at[c-l.base].own); why != "" && !bearsUnit(s, c.info().Quantity, u, l.e.set.mark) {
			l.fail(c, why, hintUnitColumn)
			return nan
		}
	}
	if c == kTolerance {
		typed = strings.TrimSpace(s)
		for _, sign := range [...]string{"±", "+/-", "+-"} {
			typed = strings.TrimPrefix(typed, sign)
		}
	}
	x, text, hint := parseQuantity(typed, c.info().Quantity, unit, l.e.set.mark)
	switch {
	case text != "":
	case least == positive && !(x > 0):
		text, hint = fmt.Sprintf(msgTooSmall, quote(s)), hintPositive
	case least == notNegative && !(x >= 0):
		text, hint = fmt.Sprintf(msgTooSmall, quote(s)), hintNotNegative
	}
	if text != "" {
		l.fail(c, text, hint)
		return nan
	}
	if l.e.odd(c, x) {
		o, has := l.odd[c]
		if !has {
			o = oddCells{len(l.e.problems), 0, x, s}
			l.tell(Warning, c, l.e.oddText(c, x, s, 0), hintOdd)
		} else {
			o.more++
			l.e.problems[o.at].Text = l.e.oddText(c, o.x, o.typed, o.more)
		}
		l.odd[c] = o
	}
	return x
}

// said is what the column Unit says in the row at hand, "" nothing.
func (l *lines) said() string {
	c := unitColumn(l.kind)
	if c == none || noWord(l.text(c)) {
		return ""
	}
	return l.text(c)
}

// unit is that of a bare number in a column of the row at hand.
func (l *lines) unit(c colID) units.Unit {
	b := l.at[c-l.base]
	if said := l.said(); said != "" {
		u, _ := rowUnit(said, c.info().Quantity, b.unit, b.own)
		return u
	}
	return b.unit
}

// typed is the unit that the number in a cell was typed in; None where there is none.
func (l *lines) typed(c colID) units.Unit {
	v, err := units.Parse(l.cell(c), c.info().Quantity.Kind(), l.unit(c), l.e.set.mark)
	if err != nil {
		return units.None
	}
	return v.Unit
}

// choice reads a word of the list of a column; −1: blank, or not one of them, which is reported.
func (l *lines) choice(c colID) int {
	s := l.cell(c)
	if blank(s) {
		return -1
	}
	k, ok := choiceIndex(c, s)
	if !ok {
		l.fail(c, fmt.Sprintf(msgNotAWord, quote(s)), hintChoices(c))
		return -1
	}
	return k
}

// A claim is what another sheet says of a machine of the Machines sheet.
type claim struct {
	sheet    SheetKind
	name     string // as typed the first time
	row, col int    // source row and column where it stands first
	bad      int    // source row of the first line that cannot be used, 0 none
}

// owner is the machine of the row at hand: its key, "" where none is named, which is reported.
func (l *lines) owner(c colID) (key string, cl claim) {
	if l.blank(c) {
		l.missing(c, hintLongBlank)
		return "", claim{}
	}
	name := l.text(c)
	return nameKey(name), claim{sheet: l.kind, name: name, row: l.src(), col: l.col(c)}
}

// known says whether a number is there.
func known(x float64) bool { return !math.IsNaN(x) }

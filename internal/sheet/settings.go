package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// settings is what the Job sheet says.
type settings struct {
	text      [numCols - sName]string
	inch      bool
	unitsBad  bool // Units holds a word nobody knows: no bare number can be read
	mark      units.Decimal
	cold      float64
	coupling  tables.Coupling
	onFlange  bool // Default coupling holds a word that says how the machines are mounted
	addShares bool
	limits    string
	dial      tables.Trust
	feeler    tables.Trust
	pieces    int
	packTol   float64
	moveStep  float64
	checks    calc.CheckLimits

	limitsRow int      // source row of Default limits
	tempU     float64  // K
	coefU     float64  // share
	cooling   float64  // share a minute
	numbered  [][2]int // end and side of the feet 1, 2, …
	softLimit float64  // mm
	spare     float64  // share
	size      string   // of shims, as typed
	fewest    bool
	reuse     bool
	strip     tables.StripClass // of shims whose line names none
}

// readSettings reads the Job sheet: whichever rows begin with a known name. Rows of one cell are titles.
func (e *Evaluator) readSettings() {
	e.set = settings{cold: math.NaN()}
	s := &e.set
	t := e.job.Settings
	var where [numCols - sName]int
	report := func(sev Severity, row int, c colID, text, hint string) {
		name := ""
		if c != none {
			name = columnInfos[c].Name
		}
		e.problems = append(e.problems, Problem{sev, t.File, e.sheetName(SettingsSheet), row, name, text, hint, 1})
	}
	if t != nil {
		first := t.SourceRow(0)
		read := func(row []string, src int) {
			if len(row) < 2 || blank(row[0]) || blank(row[1]) || settingsHeader(row) {
				return
			}
			c, unit, has := matchHeader(SettingsSheet, row[0])
			if o, ok := ParseOwnHeader(row[0], row[1]); c == none && ok {
				if m := FindColumn(o.Kind, o.Means); m == nil || m.Result {
					report(Warning, src, none, fmt.Sprintf(msgHeaderMeans, o.Means, o.Kind), hintHeaderMeans)
				}
				return
			}
			if c == none {
				report(Warning, src, none, fmt.Sprintf(msgUnknownSetting, strings.TrimSpace(row[0])), hintUnknownSetting)
				return
			}
			k := c - sName
			v := row[1]
			if has && columnInfos[c].Quantity.Kind() != units.Number {
				if u, ok := units.ParseUnit(unit, columnInfos[c].Quantity.Kind()); !ok {
					report(Error, src, c, fmt.Sprintf(msgHeaderUnit, unit, columnInfos[c].Quantity.Kind()), hintUnits(columnInfos[c].Quantity.Kind()))
					return
				} else if w, err := units.Parse(v, u.Kind(), units.None, units.Either); err != nil || !w.Own {
					v += " " + u.String()
				}
			}
			if where[k] != 0 {
				if strings.TrimSpace(v) != strings.TrimSpace(s.text[k]) {
					report(Error, src, c, fmt.Sprintf(msgSettingTwice, where[k], strings.TrimSpace(s.text[k]), strings.TrimSpace(v)), hintSettingTwice)
				}
				return
			}
			where[k], s.text[k] = src, v
		}
		above := len(t.Title)
		if t.Header != nil {
			above++
		}
		for i, row := range t.Title {
			read(row, first-above+i)
		}
		if t.Header != nil {
			read(t.Header, first-1)
		}
		for i, row := range t.Rows {
			read(row, first+i)
		}
	}
	word := func(c colID) (int, bool) {
		v := s.text[c-sName]
		if blank(v) {
			return 0, false
		}
		if i, ok := choiceWords[c][normal(v)]; ok {
			return i, true
		}
		report(Error, where[c-sName], c, fmt.Sprintf(msgNotAWord, quote(v)), hintChoices(c))
		if c == sUnits {
			s.unitsBad = true
		}
		return 0, false
	}
	if i, ok := word(sUnits); ok {
		s.inch = i == 1
	}
	if i, ok := word(sDecimal); ok {
		s.mark = [...]units.Decimal{units.Either, units.Point, units.Comma}[i]
	}
	if i, ok := word(sCoupling); ok {
		s.coupling = couplingKinds[i]
		s.onFlange = isFlangeWord(s.text[sCoupling-sName])
	}
	if i, ok := word(sAddShares); ok {
		s.addShares = i == 1
	}
	number := func(c colID, least float64, strictly bool) (float64, bool) {
		v := s.text[c-sName]
		if blank(v) {
			return 0, false
		}
		x, text, hint := parseQuantity(v, columnInfos[c].Quantity, columnInfos[c].Unit(s.inch), s.mark)
		if text == "" && (x < least || strictly && x == least) {
			text, hint = fmt.Sprintf(msgTooSmall, quote(v)), hintNotNegative
			if strictly {
				hint = hintPositive
			}
		}
		if text != "" {
			report(Error, where[c-sName], c, text, hint)
			return 0, false
		}
		return x, true
	}
	if x, ok := number(sCold, -300, false); ok {
		s.cold = x
	}
	s.limitsRow = where[sLimits-sName]
	if i, ok := word(sFewest); ok {
		s.fewest = i == 1
	}
	if i, ok := word(sReuse); ok {
		s.reuse = i == 1
	}
	if i, ok := word(sStripClass); ok {
		s.strip = tables.StripNormal + tables.StripClass(i)
	}
	s.size = strings.TrimSpace(s.text[sSize-sName])
	if v := s.text[sNumbered-sName]; !blank(v) {
		var ok bool
		if s.numbered, ok = numberedFeet(v); !ok {
			report(Error, where[sNumbered-sName], sNumbered, fmt.Sprintf(msgFeetNumbered, quote(v)), hintFeetNumbered)
		}
	}
	s.tempU, s.coefU, s.softLimit, s.cooling = defaultTempU, defaultCoefU, calc.DefaultSoftLimit, defaultCooling
	s.dial, s.feeler, s.packTol = tables.DialMetric, tables.FeelerMetric, tables.PackToleranceMM
	if s.inch {
		s.dial, s.feeler, s.packTol = tables.DialInch, tables.FeelerInch, tables.PackToleranceInch
	}
	take := func(dst *float64, c colID, strictly bool) {
		if x, ok := number(c, 0, strictly); ok {
			*dst = x
		}
	}
	take(&s.dial.Graduation, sGraduation, true)
	take(&s.dial.Repeatability, sRepeatability, false)
	take(&s.feeler.Graduation, sFeelerGraduation, true)
	take(&s.feeler.Repeatability, sFeelerRepeatability, false)
	take(&s.packTol, sPackTolerance, true)
	take(&s.moveStep, sMoveStep, false)
	take(&s.checks.BalanceShare, sBalanceShare, true)
	take(&s.checks.BalanceGraduation, sBalanceGraduations, true)
	take(&s.checks.ClosureGraduation, sClosureGraduations, true)
	take(&s.softLimit, sSoftFoot, true)
	take(&s.tempU, sTempU, false)
	take(&s.coefU, sCoefU, false)
	take(&s.cooling, sCooling, false)
	take(&s.spare, sSpare, false)
	s.pieces = tables.MaxPieces
	if x, ok := number(sMaxPieces, 0, true); ok {
		if x > 8 {
			report(Error, where[sMaxPieces-sName], sMaxPieces, fmt.Sprintf(msgTooManyPieces, x), hintTooManyPieces)
		} else {
			s.pieces = int(x)
		}
	}
}

// defaultLimits settles the limit set of rows that name none.
func (e *Evaluator) defaultLimits() {
	s := &e.set
	s.limits = tables.LimitSets()[0].Name
	v := s.text[sLimits-sName]
	if blank(v) {
		return
	}
	switch set := e.findSet(v); {
	case set != nil:
		s.limits = set.Name
	case e.badSets[nameKey(v)] > 0:
		s.limits = strings.TrimSpace(v) // each row says so
	default:
		text, hint := e.noSuchSet(v)
		e.problems = append(e.problems, Problem{Error, e.job.Settings.File, e.sheetName(SettingsSheet), s.limitsRow, columnInfos[sLimits].Name, text, hint, 1})
		s.limits = ""
	}
}

// bindHeader understands the header of the Machines sheet.
func (e *Evaluator) bindHeader() {
	e.bind, e.known = e.bind[:0], 0
	t := e.job.Machines
	if t == nil {
		return
	}
	where := func(sev Severity, col int, c colID, text, hint string) {
		name := ""
		if c != none {
			name = columnInfos[c].Name
		}
		e.problems = append(e.problems, Problem{sev, t.File, e.sheetName(MachinesSheet), max(t.SourceRow(0)-1, 0), name, text, hint, col})
	}
	var seen [numInputs]int // 1 + column
	for col, h := range t.Header {
		b := binding{id: none}
		c, unit, has := none, "", false
		if !blank(h) {
			c, unit, has = matchHeader(MachinesSheet, h)
		}
		if c != none {
			info := &columnInfos[c]
			b.id, b.unit = c, info.Unit(e.set.inch)
			if kind := info.Quantity.Kind(); has && kind != units.Number && !info.Result {
				if u, ok := units.ParseUnit(unit, kind); ok {
					b.unit = u
				} else {
					b.unit = units.None
					where(Error, col, c, fmt.Sprintf(msgHeaderUnit, unit, kind), hintUnits(kind))
				}
			}
			if c < numInputs {
				e.known++
				if seen[c] > 0 {
					where(Warning, col, c, fmt.Sprintf(msgColumnTwice, seen[c], col+1), hintColumnTwice)
				} else {
					seen[c] = col + 1
				}
			}
		}
		e.bind = append(e.bind, b)
	}
	if e.known == 0 && slices.ContainsFunc(t.Rows, func(r []string) bool { return !blankRow(r) }) {
		e.problems = append(e.problems, Problem{Error, t.File, e.sheetName(MachinesSheet), 0, "", msgNoHeader, hintNoHeader, -1})
	}
}

func blankRow(row []string) bool {
	for _, c := range row {
		if !blank(c) {
			return false
		}
	}
	return true
}

// A boundColumn is where a column of a sheet other than Machines stands, −1 nowhere, and the unit of a bare number there.
type boundColumn struct {
	col  int
	unit units.Unit
}

// bindSimple finds the wanted columns of a sheet, which may not have had its header parted off. It returns the rows below the header with
// the source row of the first.
func (e *Evaluator) bindSimple(kind SheetKind, cols []colID) (at []boundColumn, rows [][]string, first int, ok bool) {
	t := e.job.Table(kind)
	header, rows, first := t.Header, t.Rows, t.SourceRow(0)
	if header == nil {
		h := FindHeader(rows, kind)
		if h < 0 {
			if slices.ContainsFunc(rows, func(r []string) bool { return !blankRow(r) }) {
				e.problems = append(e.problems, Problem{Error, t.File, e.sheetName(kind), 0, "", msgNoHeader, hintHeaderOf(kind), -1})
			}
			return nil, nil, 0, false
		}
		header, rows, first = rows[h], rows[h+1:], first+h+1
	}
	at = make([]boundColumn, len(cols))
	for i, c := range cols {
		at[i].col = -1
		for col, h := range header {
			if blank(h) {
				continue
			}
			got, unit, has := matchHeader(kind, h)
			if got != c {
				continue
			}
			if at[i].col >= 0 {
				e.problems = append(e.problems, Problem{Error, t.File, e.sheetName(kind), first - 1, columnInfos[c].Name, fmt.Sprintf(msgColumnTwice, at[i].col+1, col+1), hintColumnTwice, col})
				continue
			}
			at[i] = boundColumn{col, columnInfos[c].Unit(e.set.inch)}
			if k := columnInfos[c].Quantity.Kind(); has && k != units.Number {
				u, known := units.ParseUnit(unit, k)
				if !known {
					e.problems = append(e.problems, Problem{Error, t.File, e.sheetName(kind), first - 1, columnInfos[c].Name, fmt.Sprintf(msgHeaderUnit, unit, k), hintUnits(k), col})
					u = units.None
				}
				at[i].unit = u
			}
		}
	}
	return at, rows, first, true
}

// The sets of readings of one machine, in the order of the words of the column Set.
const (
	foundSet = iota
	coldSet
	hotSet
	numSets
)

// longReadings is what the Readings sheet holds for one machine.
type longReadings struct {
	name     string // as typed the first time
	row, col int    // source row and column of its first reading
	sets     [numSets]readingSet
}

// A readingSet is one set of readings of a machine.
type readingSet struct {
	sweeps [numFamilies]struct{ angle, reading []float64 }
	rows   int // that named it, also those that cannot be used
	bad    int // source row of the first reading that cannot be used, 0 none
}

// families are the sweeps that the set has.
func (s *readingSet) families() (have families) {
	for f := range s.sweeps {
		if len(s.sweeps[f].angle) > 0 {
			have |= 1 << f
		}
	}
	return have
}

// set returns a set of readings, nil: the machine has none such. l may be nil.
func (l *longReadings) set(k int) *readingSet {
	if l == nil || l.sets[k].rows == 0 {
		return nil
	}
	return &l.sets[k]
}

// readLong reads the Readings sheet.
func (e *Evaluator) readLong() {
	clear(e.long)
	e.longOrder = e.longOrder[:0]
	t := e.job.Readings
	if t == nil {
		return
	}
	cols := []colID{lMachine, lSweep, lAngle, lReading, lSet}
	at, rows, first, ok := e.bindSimple(ReadingsSheet, cols)
	if !ok {
		return
	}
	report := func(row, i int, text, hint string) {
		e.problems = append(e.problems, Problem{Error, t.File, e.sheetName(ReadingsSheet), row, columnInfos[cols[i]].Name, text, hint, at[i].col})
	}
	for i, b := range at {
		if b.col < 0 && cols[i] != lSet {
			report(first-1, i, fmt.Sprintf(msgMissing, columnInfos[cols[i]].Name), hintHeaderOf(ReadingsSheet))
			ok = false
		}
	}
	if !ok {
		return
	}
	if e.long == nil {
		e.long = map[string]*longReadings{}
	}
	last, lastSet := "", foundSet
	for i, row := range rows {
		if blankRow(row) {
			continue
		}
		cell := func(k int) string {
			if at[k].col < 0 || at[k].col >= len(row) {
				return ""
			}
			return row[at[k].col]
		}
		if matchesHeader(row, at, ReadingsSheet, cols) {
			continue
		}
		src := first + i
		name, sweep := cell(0), cell(1)
		if blank(name) {
			report(src, 0, fmt.Sprintf(msgMissing, columnInfos[lMachine].Name), hintLongBlank)
			if last != "" {
				e.long[last].sets[lastSet].bad = src // it may well have belonged there
			}
			continue
		}
		key := nameKey(name)
		l := e.long[key]
		if l == nil {
			l = &longReadings{name: strings.TrimSpace(name), row: src, col: at[0].col}
			e.long[key] = l
			e.longOrder = append(e.longOrder, key)
		}
		last, lastSet = key, foundSet
		which, known := foundSet, true
		if w := cell(4); !blank(w) {
			if which, known = choiceWords[lSet][normal(w)]; !known {
				report(src, 4, fmt.Sprintf(msgNotAWord, quote(w)), hintChoices(lSet))
				f := &l.sets[foundSet] // nobody knows which one lacks it, and without this one there is no line
				if f.rows++; f.bad == 0 {
					f.bad = src
				}
				continue
			}
		}
		lastSet = which
		set := &l.sets[which]
		set.rows++
		fail := func(k int, text, hint string) {
			report(src, k, text, hint)
			if set.bad == 0 {
				set.bad = src
			}
		}
		f, known := choiceWords[lSweep][normal(sweep)]
		if !known {
			if blank(sweep) {
				fail(1, fmt.Sprintf(msgMissing, columnInfos[lSweep].Name), hintChoices(lSweep))
			} else {
				fail(1, fmt.Sprintf(msgNotAWord, quote(sweep)), hintChoices(lSweep))
			}
			continue
		}
		if blank(cell(2)) || blank(cell(3)) {
			k := 2
			if !blank(cell(2)) {
				k = 3
			}
			fail(k, fmt.Sprintf(msgMissing, columnInfos[cols[k]].Name), hintLongCell)
			continue
		}
		a, text, hint := parseAngle(cell(2), at[2].unit, e.set.mark)
		if text != "" {
			fail(2, text, hint)
			continue
		}
		x, text, hint := parseQuantity(cell(3), QThickness, at[3].unit, e.set.mark)
		if text != "" {
			fail(3, text, hint)
			continue
		}
		s := &set.sweeps[f]
		s.angle, s.reading = append(s.angle, a), append(s.reading, x)
	}
}

// matchesHeader says whether a row repeats the header.
func matchesHeader(row []string, at []boundColumn, kind SheetKind, cols []colID) bool {
	for i, b := range at {
		if b.col < 0 {
			continue
		}
		if b.col >= len(row) || blank(row[b.col]) {
			return false
		}
		if c, _, _ := matchHeader(kind, row[b.col]); c != cols[i] {
			return false
		}
	}
	return true
}

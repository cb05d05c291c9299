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
	text        [numCols - sName]string
	inch        bool
	seenBad     bool // Seen from holds a word nobody knows: no side can be told
	unitsBad    bool // Units holds a word nobody knows: no bare number can be read
	mark        units.Decimal
	cold        float64
	coupling    tables.Coupling
	seenFrom    int     // 1: from behind the stationary machine
	positiveSag int     // 0 not said, 1 dial reading, 2 amount
	noSag       bool    // a blank sag on a long bracket is none
	sagShare    float64 // expanded
	distanceU   float64 // mm
	wantedFrom  int     // 0 not said, 1 cold setting, 2 growth
	onFlange    bool    // Default coupling holds a word that says how the machines are mounted
	addShares   bool
	limits      string
	dial        tables.Trust
	feeler      tables.Trust
	pieces      int
	packTol     float64
	moveStep    float64
	checks      calc.CheckLimits

	limitsRow int      // source row of Default limits
	tempU     float64  // K
	coefU     float64  // share
	cooling   float64  // share a minute
	numbered  [][2]int // end and side of the feet 1, 2, …
	softLimit float64  // mm
	spare     float64  // share
	size      string   // of shims, as typed
	fewest    bool
	byFeet    bool // the stock is shared out by feet and not by whole machines
	reuse     bool
	strip     tables.StripClass // of shims whose line names none
	aim       float64           // of the moves of trains, as a share; NaN the wanted line
	aimText   string
	aimBad    bool

	plausibleOff bool   // no number is questioned
	spans        []span // what is usual here, before the table's
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
			name = c.info().Name
		}
		e.problems = append(e.problems, Problem{Severity: sev, File: t.File, Sheet: e.sheetName(SettingsSheet), Row: row, Column: name, Text: text, Hint: hint, Col: 1})
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
			if has && c.info().Quantity.Kind() != units.Number {
				if u, ok := units.ParseHeaderUnit(unit, c.info().Quantity.Kind()); !ok {
					report(Error, src, c, fmt.Sprintf(msgHeaderUnit, unit, c.info().Quantity.Kind()), hintUnits(c.info().Quantity.Kind()))
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
			if c.info().Quantity != QText && notGiven(v) {
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
		if i, ok := choiceIndex(c, v); ok {
			return i, true
		}
		report(Error, where[c-sName], c, fmt.Sprintf(msgNotAWord, quote(v)), hintChoices(c))
		switch c {
		case sUnits:
			s.unitsBad = true
		case sSeenFrom:
			s.seenBad = true
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
	if i, ok := word(sSeenFrom); ok {
		s.seenFrom = i
	}
	if i, ok := word(sPositiveSag); ok {
		s.positiveSag = i + 1
	}
	if i, ok := word(sNoSag); ok {
		s.noSag = i == 1
	}
	if i, ok := word(sWantedFrom); ok {
		s.wantedFrom = i + 1
	}
	if i, ok := word(sAddShares); ok {
		s.addShares = i == 1
	}
	number := func(c colID, least float64, strictly bool) (float64, bool) {
		v := s.text[c-sName]
		if blank(v) {
			return 0, false
		}
		x, text, hint := parseQuantity(v, c.info().Quantity, c.info().Unit(s.inch), s.mark)
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
	if i, ok := word(sShareBy); ok {
		s.byFeet = i == 1
	}
	if i, ok := word(sReuse); ok {
		s.reuse = i == 1
	}
	if i, ok := word(sStripClass); ok {
		s.strip = tables.StripNormal + tables.StripClass(i)
	}
	s.size = strings.TrimSpace(s.text[sSize-sName])
	var ok bool
	if s.aim, s.aimText, ok = movesAim(s.text[sMovesAim-sName], s.mark); !ok {
		s.aimBad = true
		report(Error, where[sMovesAim-sName], sMovesAim, fmt.Sprintf(msgMovesAim, quote(s.text[sMovesAim-sName])), hintMovesAim)
	}
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
	s.sagShare, s.distanceU = defaultSagShare, defaultDistanceU
	take(&s.sagShare, sSagShare, false)
	take(&s.distanceU, sDistanceU, false)
	take(&s.softLimit, sSoftFoot, true)
	take(&s.tempU, sTempU, false)
	take(&s.coefU, sCoefU, false)
	take(&s.cooling, sCooling, false)
	take(&s.spare, sSpare, false)
	e.readPlausible(s.text[sPlausible-sName], func(text, hint string) { report(Error, where[sPlausible-sName], sPlausible, text, hint) })
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
		e.problems = append(e.problems, Problem{Severity: Error, File: e.job.Settings.File, Sheet: e.sheetName(SettingsSheet), Row: s.limitsRow, Column: sLimits.info().Name,
			Text: text, Hint: hint, Col: 1})
		s.limits = ""
	}
}

// bindHeader understands the header of the Machines sheet.
func (e *Evaluator) bindHeader() {
	e.bind, e.known, e.unitColumn = e.bind[:0], 0, -1
	t := e.job.Machines
	if t == nil {
		return
	}
	where := func(sev Severity, col int, c colID, text, hint string) {
		name := ""
		if c != none {
			name = c.info().Name
		}
		e.problems = append(e.problems, Problem{Severity: sev, File: t.File, Sheet: e.sheetName(MachinesSheet), Row: max(t.SourceRow(0)-1, 0), Column: name,
			Text: text, Hint: hint, Col: col})
	}
	var seen [numInputs]int // 1 + column
	for col, h := range t.Header {
		b := binding{id: none}
		c, unit, has := none, "", false
		if !blank(h) {
			c, unit, has = matchHeader(MachinesSheet, h)
		}
		if c != none {
			info := c.info()
			b.id, b.unit = c, info.Unit(e.set.inch)
			if kind := info.Quantity.Kind(); has && kind != units.Number && !info.Result {
				if u, ok := units.ParseHeaderUnit(unit, kind); ok {
					b.unit, b.own = u, true
				} else {
					b.unit = units.None
					where(Error, col, c, fmt.Sprintf(msgHeaderUnit, unit, kind), hintUnits(kind))
				}
			}
			if c < numInputs {
				e.known++
				if first := seen[c] - 1; first >= 0 {
					switch was, is := exactName(t.Header[first], c), exactName(h, c); {
					case info.Quantity != QText:
						where(Warning, col, c, fmt.Sprintf(msgColumnTwice, seen[c], col+1), hintColumnTwice)
					case was && !is:
						b.other = true
						where(Warning, col, c, fmt.Sprintf(msgColumnOther, first+1, col+1, info.Name, quote(t.Header[first]), quote(h)), hintColumnOther)
					case is && !was:
						for k := range e.bind {
							e.bind[k].other = e.bind[k].other || e.bind[k].id == c
						}
						seen[c] = col + 1
						where(Warning, first, c, fmt.Sprintf(msgColumnOther, first+1, col+1, info.Name, quote(h), quote(t.Header[first])), hintColumnOther)
					default:
						where(Warning, col, c, fmt.Sprintf(msgColumnTwice, seen[c], col+1), hintColumnTwice)
					}
				} else {
					seen[c] = col + 1
				}
			}
		} else if x, y, ok := strings.Cut(h, wordOr); ok && FindColumn(MachinesSheet, x) != nil && FindColumn(MachinesSheet, y) != nil {
			b.doubt = strings.TrimSpace(h)
			where(Error, col, none, fmt.Sprintf(msgHeaderDoubt, quote(x), quote(y)), hintHeaderDoubt)
		}
		e.bind = append(e.bind, b)
	}
	e.askColumns()
	e.numeric, e.unitColumn = e.numeric[:0], e.column(cUnit)
	for _, b := range e.bind {
		e.numeric = append(e.numeric, b.id != none && (b.id >= numInputs || b.id.info().Quantity != QText))
	}
	if n := firstColumnNames(t); n >= 3 && e.known < 3 {
		e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(MachinesSheet), Text: msgTransposed, Hint: hintTransposed, Col: -1})
		e.bind, e.known = e.bind[:0], 0
		return
	}
	if e.known == 0 && slices.ContainsFunc(t.Rows, func(r []string) bool { return !blankRow(r) }) {
		e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(MachinesSheet), Text: msgNoHeader, Hint: hintNoHeader, Col: -1})
	}
}

// askWords are what a planner calls where a shaft should stand or run.
var askWords = [...]string{"cold", "target", "desired", "wanted", "running"}

// askColumns finds the columns of the Machines sheet that are not read though their names hold one of askWords, and that the Job sheet does not leave aside. A column that bears the
// name of a wanted line that is worked out here is one of them, unless the sheet is a list of results.
func (e *Evaluator) askColumns() {
	e.asked = e.asked[:0]
	header := e.job.Machines.Header
	results := slices.ContainsFunc(e.bind, func(b binding) bool { return b.id == rVerdict })
	aside := strings.FieldsFunc(e.set.text[sLeftAside-sName], func(r rune) bool { return r == ';' || r == '\n' })
	for col, h := range header {
		b := e.bind[col]
		isWanted := b.id >= rWantedOffsetV && b.id <= rWantedReadings && !results
		if b.id != none && !isWanted || blank(h) {
			continue
		}
		n := normal(h)
		if slices.ContainsFunc(askWords[:], func(w string) bool { return strings.Contains(n, w) }) &&
			!slices.ContainsFunc(aside, func(a string) bool { return sameNormal(a, h) }) {
			e.asked = append(e.asked, col)
		}
	}
}

// ask holds the verdict of a row that has something in a column that is asked about.
func (e *Evaluator) ask(i int, r *RowResult, w *want) {
	for _, col := range e.asked {
		if blank(e.job.Machines.Cell(i, col)) {
			continue
		}
		e.problem(r, Error, none, fmt.Sprintf(msgAskColumn, quote(strings.TrimSpace(e.job.Machines.Header[col]))), hintAskColumn)
		p := &r.Problems[len(r.Problems)-1]
		p.Col, p.Column = col, strings.TrimSpace(e.job.Machines.Header[col])
		w.noVerdict = true
	}
}

// firstColumnNames counts the names of columns in the first column of a table: there they stand in a list that is turned on its side.
func firstColumnNames(t *Table) int {
	n := 0
	for i := range t.Rows[:min(len(t.Rows), 60)] {
		if c, _, _ := matchHeader(MachinesSheet, t.Cell(i, 0)); c != none && c < numInputs {
			n++
		}
	}
	return n
}

// A boundColumn is where a column of a sheet other than Machines stands, −1 nowhere, and the unit of a bare number there.
type boundColumn struct {
	col  int
	unit units.Unit
	own  bool // the unit stands in the header
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
				e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(kind), Text: msgNoHeader, Hint: hintHeaderOf(kind), Col: -1})
			}
			return nil, nil, 0, false
		}
		plain := *t
		plain.SplitHeader(kind)
		header, rows, first = plain.Header, plain.Rows, plain.SourceRow(0)
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
			if at[i].col >= 0 && c.info().Quantity == QText && exactName(h, c) != exactName(header[at[i].col], c) {
				x, y := at[i].col, col // read, kept
				if exactName(h, c) {
					x, y = col, at[i].col
				}
				e.problems = append(e.problems, Problem{Severity: Warning, File: t.File, Sheet: e.sheetName(kind), Row: first - 1, Column: c.info().Name,
					Text: fmt.Sprintf(msgColumnOther, at[i].col+1, col+1, c.info().Name, quote(header[x]), quote(header[y])), Hint: hintColumnOther, Col: y})
				at[i].col = x
				continue
			}
			if at[i].col >= 0 {
				e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(kind), Row: first - 1, Column: c.info().Name,
					Text: fmt.Sprintf(msgColumnTwice, at[i].col+1, col+1), Hint: hintColumnTwice, Col: col})
				continue
			}
			at[i] = boundColumn{col: col, unit: c.info().Unit(e.set.inch)}
			if k := c.info().Quantity.Kind(); has && k != units.Number {
				u, known := units.ParseHeaderUnit(unit, k)
				if !known {
					e.problems = append(e.problems, Problem{Severity: Error, File: t.File, Sheet: e.sheetName(kind), Row: first - 1, Column: c.info().Name,
						Text: fmt.Sprintf(msgHeaderUnit, unit, k), Hint: hintUnits(k), Col: col})
					u = units.None
				}
				at[i].unit, at[i].own = u, true
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
	wantedSet
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
	sweeps [numFamilies]struct {
		angle, reading []float64
		bare, last     int // angles without a unit of their own; source row of the last reading
	}
	rows int // that named it, also those that cannot be used
	bad  int // source row of the first reading that cannot be used, 0 none
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
	l := e.lines(ReadingsSheet, lMachine, lUnit, lMachine, lSweep, lAngle, lReading)
	if l == nil {
		return
	}
	if e.long == nil {
		e.long = map[string]*longReadings{}
	}
	hours := clockHeader(l)
	last, lastSet := "", foundSet
	for l.next() {
		if l.blank(lMachine) {
			l.missing(lMachine, hintLongBlank)
			if last != "" {
				e.long[last].sets[lastSet].bad = l.src() // it may well have belonged there
			}
			continue
		}
		key := nameKey(l.text(lMachine))
		m := e.long[key]
		if m == nil {
			m = &longReadings{name: l.text(lMachine), row: l.src(), col: l.col(lMachine)}
			e.long[key] = m
			e.longOrder = append(e.longOrder, key)
		}
		last, lastSet = key, foundSet
		which := foundSet
		if !l.blank(lSet) {
			if which = l.choice(lSet); which < 0 {
				f := &m.sets[foundSet] // nobody knows which one lacks it, and without this one there is no line
				if f.rows++; f.bad == 0 {
					f.bad = l.src()
				}
				continue
			}
		}
		lastSet = which
		set := &m.sets[which]
		set.rows++
		if e.longReading(l, set, hours); l.bad && set.bad == 0 {
			set.bad = l.src()
		}
	}
	for _, k := range e.longOrder {
		for i := range e.long[k].sets {
			e.anglesFit(l, &e.long[k].sets[i])
		}
	}
}

// longReading reads the sweep, the angle and the reading of the row at hand into a set.
func (e *Evaluator) longReading(l *lines, set *readingSet, hours bool) {
	f := l.choice(lSweep)
	switch {
	case l.bad:
		return
	case f < 0:
		l.missing(lSweep, hintChoices(lSweep))
		return
	case l.blank(lAngle):
		l.missing(lAngle, hintLongCell)
		return
	case l.blank(lReading):
		l.missing(lReading, hintLongCell)
		return
	}
	unit := l.at[lAngle-l.base].unit
	if hours {
		unit = units.ClockHour
	}
	a, own, text, hint := parseAngle(l.cell(lAngle), unit, e.set.mark)
	if text == "" && hours && !own && (a > 360 || a < 0 || math.Mod(a, 15) != 0) {
		text, hint = fmt.Sprintf(msgNoHour, quote(l.cell(lAngle)), quote(l.header[l.col(lAngle)])), hintAngles
	}
	if text != "" {
		l.fail(lAngle, text, hint)
		return
	}
	x := l.number(lReading, anything)
	if l.bad {
		return
	}
	s := &set.sweeps[f]
	s.angle, s.reading = append(s.angle, a), append(s.reading, x)
	if s.last = l.src(); !own && unit == units.Degree {
		s.bare++
	}
}

// clockHeader says whether the angles stand under a name that means hours: Clock position, Position, Clock.
func clockHeader(l *lines) bool {
	name, _, has := headerParts(ReadingsSheet, l.header[l.col(lAngle)])
	switch normal(name) {
	case "position", "clockposition", "clock", "oclock", "hour", "hours", "clockhour":
		return !has
	}
	return false
}

// anglesFit refuses a set whose angles, meant as degrees, are all on the face of a clock: 0, 3, 6, 9.
func (e *Evaluator) anglesFit(l *lines, set *readingSet) {
	for f := range set.sweeps {
		s := &set.sweeps[f]
		if set.bad == 0 && s.bare > 0 && s.bare == len(s.angle) && looksLikeHours(s.angle) {
			set.bad = s.last
			e.problems = append(e.problems, Problem{Severity: Error, File: l.t.File, Sheet: e.sheetName(ReadingsSheet), Row: s.last, Column: lAngle.info().Name,
				Text: msgHoursOrDegrees, Hint: hintAngles, Col: l.col(lAngle)})
		}
	}
}

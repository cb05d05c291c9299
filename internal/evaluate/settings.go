package evaluate

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// settings is what the Job sheet says.
type settings struct {
	text        [job.NumColumns - job.SettingName]string
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

// defaultLimits settles the limit set of rows that name none.
func (e *Evaluator) defaultLimits() {
	s := &e.set
	s.limits = tables.LimitSets()[0].Name
	v := s.text[job.SettingLimits-job.SettingName]
	if job.Blank(v) {
		return
	}
	switch set := e.findSet(v); {
	case set != nil:
		s.limits = set.Name
	case e.badSets[nameKey(v)] > 0:
		s.limits = strings.TrimSpace(v) // each row says so
	default:
		text, hint := e.noSuchSet(v)
		e.problems = append(e.problems, job.Problem{Severity: job.Error, File: e.job.Settings.File, Sheet: e.SheetName(job.SettingsSheet), Row: s.limitsRow, Column: job.SettingLimits.Info().Name,
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
	where := func(sev job.Severity, col int, c job.ColumnID, text, hint words.Phrase) {
		name := ""
		if c != job.NoColumn {
			name = c.Info().Name
		}
		e.problems = append(e.problems, job.Problem{Severity: sev, File: t.File, Sheet: e.SheetName(job.MachinesSheet), Row: max(t.SourceRow(0)-1, 0), Column: name,
			Text: text, Hint: hint, Col: col})
	}
	var seen [job.NumInputs]int // 1 + column
	for col, h := range t.Header {
		b := binding{id: job.NoColumn}
		c, unit, has := job.NoColumn, "", false
		if !job.Blank(h) {
			c, unit, has = job.MatchHeader(job.MachinesSheet, h)
		}
		if c != job.NoColumn {
			info := c.Info()
			b.id, b.unit = c, info.Unit(e.set.inch)
			if kind := info.Quantity.Kind(); has && kind != units.Number && !info.Result {
				if u, ok := units.ParseHeaderUnit(unit, kind); ok {
					b.unit, b.own = u, true
				} else {
					b.unit = units.None
					where(job.Error, col, c, words.ProblemHeaderUnit.With(unit, kind), words.Plain(job.HintUnits(kind)))
				}
			}
			if c < job.NumInputs {
				e.known++
				if first := seen[c] - 1; first >= 0 {
					switch was, is := job.ExactName(t.Header[first], c), job.ExactName(h, c); {
					case info.Quantity != job.QText:
						where(job.Warning, col, c, words.ProblemColumnTwice.With(seen[c], col+1), words.HintColumnTwice.With())
					case was && !is:
						b.other = true
						where(job.Warning, col, c, words.ProblemColumnOther.With(first+1, col+1, info.Name, job.Quote(t.Header[first]), job.Quote(h)), words.HintColumnOther.With())
					case is && !was:
						for k := range e.bind {
							e.bind[k].other = e.bind[k].other || e.bind[k].id == c
						}
						seen[c] = col + 1
						where(job.Warning, first, c, words.ProblemColumnOther.With(first+1, col+1, info.Name, job.Quote(h), job.Quote(t.Header[first])), words.HintColumnOther.With())
					default:
						where(job.Warning, col, c, words.ProblemColumnTwice.With(seen[c], col+1), words.HintColumnTwice.With())
					}
				} else {
					seen[c] = col + 1
				}
			}
		} else if x, y, ok := strings.Cut(h, job.WordOr); ok && job.FindColumn(job.MachinesSheet, x) != nil && job.FindColumn(job.MachinesSheet, y) != nil {
			b.doubt = strings.TrimSpace(h)
			b.could[0], _, _ = job.MatchHeader(job.MachinesSheet, x)
			b.could[1], _, _ = job.MatchHeader(job.MachinesSheet, y)
			where(job.Error, col, job.NoColumn, words.ProblemHeaderDoubt.With(job.Quote(x), job.Quote(y)), words.HintHeaderDoubt.With())
		}
		e.bind = append(e.bind, b)
	}
	if e.Column(job.ColUnit) < 0 { // each row says its unit
		dialUnits(e.bind, where)
	}
	e.tellTitles(job.MachinesSheet, t)
	e.askColumns()
	e.numeric, e.unitColumn = e.numeric[:0], e.Column(job.ColUnit)
	for _, b := range e.bind {
		e.numeric = append(e.numeric, b.id != job.NoColumn && (b.id >= job.NumInputs || b.id.Info().Quantity != job.QText))
	}
	if n := firstColumnNames(t); n >= 3 && e.known < 3 {
		e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(job.MachinesSheet), Text: words.ProblemTransposed.With(), Hint: words.HintTransposed.With(), Col: -1})
		e.bind, e.known = e.bind[:0], 0
		return
	}
	if e.known == 0 && slices.ContainsFunc(t.Rows, func(r []string) bool { return !job.BlankRow(r) }) {
		what, hint := words.ProblemNoHeader, words.HintNoHeader
		switch {
		case job.Spaced(t):
			what, hint = words.ProblemSpaced, words.HintSpaced
		case t.Header != nil:
			what = words.ProblemNoneKnown
		}
		e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(job.MachinesSheet), Text: what.With(), Hint: hint.With(), Col: -1})
	}
}

// askWords are what a planner calls where a shaft should stand or run; in German, French and Spanish too, as in the lists below, since many lists come so.
var askWords = [...]string{"cold", "target", "desired", "wanted", "running", "growth", "wachstum", "ausdehnung", "sollwert", "dilatation", "dilatación"}

// limitWords and limitedWords, one of each, are in what a planner calls a limit; sagWords are what a bracket's sag is called.
var (
	limitWords = [...]string{"limit", "tolerance", "allowed", "allowable", "permissible", "toleranz", "grenzwert", "zulässig", "tolérance", "admissible", "tolerancia"}

	limitedWords = [...]string{"offset", "parallel", "radial", "rim", "slope", "angle", "angular", "axial", "face", "misalignment", "versatz", "winkel", "neigung", "décalage", "angulaire", "pente", "desalineación"}
	sagWords     = [...]string{"sag", "durchhang", "durchbiegung", "flèche", "flecha"}
)

// soundsLikeLimit says whether a name sounds like a limit or a sag: numbers that would change a verdict.
func soundsLikeLimit(name, normal string) bool {
	has := func(list []string) bool {
		return slices.ContainsFunc(list, func(w string) bool { return strings.Contains(normal, w) })
	}
	return has(limitWords[:]) && has(limitedWords[:]) || soundsLikeSag(name)
}

// soundsLikeSag says whether a name has a word of what a bracket's sag is called.
func soundsLikeSag(name string) bool {
	return slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return !unicode.IsLetter(r) }), func(w string) bool { return slices.Contains(sagWords[:], w) })
}

// askColumns finds the columns of the Machines sheet that are not read though their names hold one of askWords, or sound like a limit or a sag, and that the Job sheet does not leave
// aside. A column that bears the name of a wanted line that is worked out here is one of them, unless the sheet is a list of results.
func (e *Evaluator) askColumns() {
	e.asked, e.askedNumbers = e.asked[:0], e.askedNumbers[:0]
	header := e.job.Machines.Header
	results := slices.ContainsFunc(e.bind, func(b binding) bool { return b.id == job.ResultVerdict })
	aside := strings.FieldsFunc(e.set.text[job.SettingLeftAside-job.SettingName], func(r rune) bool { return r == ';' || r == '\n' })
	for col, h := range header {
		b := e.bind[col]
		isWanted := b.id >= job.ResultWantedOffsetV && b.id <= job.ResultWantedReadings && !results
		if b.id != job.NoColumn && !isWanted || job.Blank(h) {
			continue
		}
		if slices.ContainsFunc(aside, func(a string) bool { return job.SameSpelling(a, h) }) {
			continue
		}
		switch n := job.NormalForm(h); {
		case slices.ContainsFunc(askWords[:], func(w string) bool { return strings.Contains(n, w) }):
			e.asked = append(e.asked, col)
		case soundsLikeLimit(h, n):
			e.askedNumbers = append(e.askedNumbers, col)
		}
	}
}

// ask holds the verdict of a row that has something in a column that is asked about; in one that sounds like a limit or a sag, a number other than 0. Without what a column may say of where
// the shafts should stand, or of a sag, nothing is moved either: pieces worked out without it would be the wrong ones. A limit changes no move.
func (e *Evaluator) ask(i int, r *RowResult, w *want) {
	hold := func(col int, text, hint words.Key) {
		name := strings.TrimSpace(e.job.Machines.Header[col])
		e.problem(r, job.Error, job.NoColumn, text.With(job.Quote(name)), hint.With())
		p := &r.Problems[len(r.Problems)-1]
		p.Col, p.Column = col, name
		w.noVerdict = true
	}
	for _, col := range e.asked {
		if s := e.job.Machines.Cell(i, col); !job.Blank(s) && !saysDone(e.job.Machines.Header[col], s) {
			hold(col, words.ProblemAskColumn, words.HintAskColumn)
			w.noWanted = true
		}
	}
	for _, col := range e.askedNumbers {
		if s := e.job.Machines.Cell(i, col); job.IsNumber(s) && strings.ContainsAny(s, "123456789") {
			hold(col, words.ProblemAskNumber, words.HintAskNumber)
			w.noFeet = w.noFeet || soundsLikeSag(e.job.Machines.Header[col])
		}
	}
}

// firstColumnNames counts the names of columns in the first column of a table: there they stand in a list that is turned on its side.
func firstColumnNames(t *job.Table) int {
	n := 0
	for i := range t.Rows[:min(len(t.Rows), 60)] {
		if c, _, _ := job.MatchHeader(job.MachinesSheet, t.Cell(i, 0)); c != job.NoColumn && c < job.NumInputs {
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
func (e *Evaluator) bindSimple(kind job.SheetKind, cols []job.ColumnID) (at []boundColumn, rows [][]string, first int, ok bool) {
	t := e.job.Table(kind)
	header, rows, first := t.Header, t.Rows, t.SourceRow(0)
	if header == nil {
		h := job.FindHeader(rows, kind)
		if h < 0 {
			if slices.ContainsFunc(rows, func(r []string) bool { return !job.BlankRow(r) }) {
				e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(kind), Text: words.ProblemNoHeader.With(), Hint: headerHint(kind, rows[:min(len(rows), job.MaxTitle)]...), Col: -1})
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
			got, unit, has := job.MatchHeader(kind, h)
			if got != c {
				continue
			}
			if at[i].col >= 0 && c.Info().Quantity == job.QText && job.ExactName(h, c) != job.ExactName(header[at[i].col], c) {
				x, y := at[i].col, col // read, kept
				if job.ExactName(h, c) {
					x, y = col, at[i].col
				}
				e.problems = append(e.problems, job.Problem{Severity: job.Warning, File: t.File, Sheet: e.SheetName(kind), Row: first - 1, Column: c.Info().Name,
					Text: words.ProblemColumnOther.With(at[i].col+1, col+1, c.Info().Name, job.Quote(header[x]), job.Quote(header[y])), Hint: words.HintColumnOther.With(), Col: y})
				at[i].col = x
				continue
			}
			if at[i].col >= 0 {
				e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(kind), Row: first - 1, Column: c.Info().Name,
					Text: words.ProblemColumnTwice.With(at[i].col+1, col+1), Hint: words.HintColumnTwice.With(), Col: col})
				continue
			}
			at[i] = boundColumn{col: col, unit: c.Info().Unit(e.set.inch)}
			if k := c.Info().Quantity.Kind(); has && k != units.Number {
				u, known := units.ParseHeaderUnit(unit, k)
				if !known {
					e.problems = append(e.problems, job.Problem{Severity: job.Error, File: t.File, Sheet: e.SheetName(kind), Row: first - 1, Column: c.Info().Name,
						Text: words.ProblemHeaderUnit.With(unit, k), Hint: words.Plain(job.HintUnits(k)), Col: col})
					u = units.None
				}
				at[i].unit, at[i].own = u, true
			}
		}
	}
	return at, rows, first, true
}

// headerHint is what to write over a sheet that lacks columns, rows of which hold what stands there: checks side by side are named.
func headerHint(kind job.SheetKind, rows ...[]string) words.Phrase {
	for _, row := range rows {
		named := 0
		for _, s := range row {
			if kind == job.ChecksSheet && FindCheck(s) != nil {
				named++
			}
		}
		if named >= 2 {
			return words.HintChecksBeside.With()
		}
	}
	return words.Plain(job.HintHeaderOf(kind))
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
	sweeps [job.NumFamilies]struct {
		angle, reading []float64
		bare, last     int // angles without a unit of their own; source row of the last reading
	}
	rows int // that named it, also those that cannot be used
	bad  int // source row of the first reading that cannot be used, 0 none
}

// families are the sweeps that the set has.
func (s *readingSet) families() (have job.FamilySet) {
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
	l := e.lines(job.ReadingsSheet, job.ReadingsMachine, job.ReadingsUnit, job.ReadingsMachine, job.ReadingsSweep, job.ReadingsAngle, job.ReadingsReading)
	if l == nil {
		return
	}
	if e.long == nil {
		e.long = map[string]*longReadings{}
	}
	if b := &l.at[job.ReadingsReading-l.base]; !b.own && l.col(job.ReadingsUnit) < 0 {
		e.unitElsewhere(l, job.ReadingsReading, b, func(c job.ColumnID) bool { return dialOf(c) >= 0 })
	}
	hours := clockHeader(l)
	last, lastSet := "", foundSet
	for l.next() {
		if l.blank(job.ReadingsMachine) {
			l.missing(job.ReadingsMachine, words.HintLongBlank.With())
			if last != "" {
				e.long[last].sets[lastSet].bad = l.src() // it may well have belonged there
			}
			continue
		}
		key := nameKey(l.text(job.ReadingsMachine))
		m := e.long[key]
		if m == nil {
			m = &longReadings{name: l.text(job.ReadingsMachine), row: l.src(), col: l.col(job.ReadingsMachine)}
			e.long[key] = m
			e.longOrder = append(e.longOrder, key)
		}
		last, lastSet = key, foundSet
		which := foundSet
		if !l.blank(job.ReadingsSet) {
			if which = l.choice(job.ReadingsSet); which < 0 {
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
	f := l.choice(job.ReadingsSweep)
	switch {
	case l.bad:
		return
	case f < 0:
		l.missing(job.ReadingsSweep, words.Plain(job.HintChoices(job.ReadingsSweep)))
		return
	case l.blank(job.ReadingsAngle):
		l.missing(job.ReadingsAngle, words.HintLongCell.With())
		return
	case l.blank(job.ReadingsReading):
		l.missing(job.ReadingsReading, words.HintLongCell.With())
		return
	}
	unit := l.at[job.ReadingsAngle-l.base].unit
	if hours {
		unit = units.ClockHour
	}
	a, own, text, hint := job.ParseAngle(l.cell(job.ReadingsAngle), unit, e.set.mark)
	if text == "" && hours && !own && (a > 360 || a < 0 || math.Mod(a, 15) != 0) {
		l.fail(job.ReadingsAngle, words.ProblemNoHour.With(job.Quote(l.cell(job.ReadingsAngle)), job.Quote(l.header[l.col(job.ReadingsAngle)])), words.HintAngles.With())
		return
	}
	if text != "" {
		l.fail(job.ReadingsAngle, words.Plain(text), words.Plain(hint))
		return
	}
	x := l.number(job.ReadingsReading, anything)
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
	name, _, has := job.SplitUnit(job.ReadingsSheet, l.header[l.col(job.ReadingsAngle)])
	switch job.NormalForm(name) {
	case "position", "clockposition", "clock", "oclock", "hour", "hours", "clockhour":
		return !has
	}
	return false
}

// anglesFit refuses a set whose angles, meant as degrees, are all on the face of a clock: 0, 3, 6, 9.
func (e *Evaluator) anglesFit(l *lines, set *readingSet) {
	for f := range set.sweeps {
		s := &set.sweeps[f]
		if set.bad == 0 && s.bare > 0 && s.bare == len(s.angle) && job.LooksLikeHours(s.angle) {
			set.bad = s.last
			e.problems = append(e.problems, job.Problem{Severity: job.Error, File: l.t.File, Sheet: e.SheetName(job.ReadingsSheet), Row: s.last, Column: job.ReadingsAngle.Info().Name,
				Text: words.ProblemHoursOrDegrees.With(), Hint: words.HintAngles.With(), Col: l.col(job.ReadingsAngle)})
		}
	}
}

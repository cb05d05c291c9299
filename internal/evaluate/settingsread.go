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

// A settingsReader reads the Job sheet into the settings, and tells what is wrong there with its row.
type settingsReader struct {
	e     *Evaluator
	s     *settings
	t     *job.Table
	where [job.NumColumns - job.SettingName]int // the source row of each setting, 0 none
	read  []settingRead
}

// A settingRead is the number of a setting, in base units.
type settingRead struct {
	c job.ColumnID
	x float64
}

// readSettings reads the Job sheet: whichever rows begin with a known name. Rows of one cell are titles.
func (e *Evaluator) readSettings() {
	e.set = settings{cold: math.NaN()}
	r := settingsReader{e: e, s: &e.set, t: e.job.Settings}
	if r.t != nil {
		r.gather()
	}
	r.manners()
	r.stock()
	r.trains()
	r.feetNumbers()
	r.amounts()
	e.readPlausible(r.typed(job.SettingPlausible), func(text, hint words.Phrase) { r.wrong(job.SettingPlausible, text, hint) })
	r.pieces()
	for _, o := range r.read {
		if e.odd(o.c, o.x) {
			r.tell(job.Warning, r.where[o.c-job.SettingName], o.c, e.oddText(o.c, o.x, r.typed(o.c), 0), words.HintOdd.With())
		}
	}
}

// tell notes a problem with a row; c is what it sets, NoColumn nothing.
func (r *settingsReader) tell(sev job.Severity, row int, c job.ColumnID, text, hint words.Phrase) {
	name := ""
	if c != job.NoColumn {
		name = c.Info().Name
	}
	r.e.problems = append(r.e.problems, job.Problem{Severity: sev, File: r.t.File, Sheet: r.e.SheetName(job.SettingsSheet), Row: row, Column: name, Text: text, Hint: hint, Col: 1})
}

// wrong notes that a setting cannot be used as it stands.
func (r *settingsReader) wrong(c job.ColumnID, text, hint words.Phrase) {
	r.tell(job.Error, r.where[c-job.SettingName], c, text, hint)
}

// typed is what stands behind the name of a setting, "" nothing.
func (r *settingsReader) typed(c job.ColumnID) string { return r.s.text[c-job.SettingName] }

// gather takes the text of each setting from wherever it stands: above the header, in it, or below.
func (r *settingsReader) gather() {
	t := r.t
	first := t.SourceRow(0)
	above := len(t.Title)
	if t.Header != nil {
		above++
	}
	for i, row := range t.Title {
		r.row(row, first-above+i)
	}
	if t.Header != nil {
		r.row(t.Header, first-1)
	}
	for i, row := range t.Rows {
		r.row(row, first+i)
	}
}

// row takes a setting from the source row src. A unit beside its name is put behind a bare number.
func (r *settingsReader) row(row []string, src int) {
	if r.notOne(row, src) {
		return
	}
	if job.SettingsHeader(row) {
		return
	}
	r.behind(row, src)
	if len(row) < 2 || job.Blank(row[0]) || job.Blank(row[1]) {
		return
	}
	c, unit, has := job.MatchHeader(job.SettingsSheet, row[0])
	if o, ok := ParseOwnHeader(row[0], row[1]); c == job.NoColumn && ok {
		if m := job.FindColumn(o.Kind, o.Means); m == nil || m.Result {
			r.tell(job.Warning, src, job.NoColumn, words.ProblemHeaderMeans.With(strconv.Quote(o.Means), o.Kind), words.HintHeaderMeans.With())
		}
		return
	}
	if c == job.NoColumn {
		r.tell(job.Warning, src, job.NoColumn, words.ProblemUnknownSetting.With(strconv.Quote(strings.TrimSpace(row[0]))), words.HintUnknownSetting.With())
		return
	}
	k := c - job.SettingName
	v, kind := row[1], c.Info().Quantity.Kind()
	if has && kind != units.Number {
		if u, ok := units.ParseHeaderUnit(unit, kind); !ok {
			r.tell(job.Error, src, c, words.ProblemHeaderUnit.With(unit, kind), words.Plain(job.HintUnits(kind)))
			return
		} else if w, err := units.Parse(v, u.Kind(), units.None, units.Either); err != nil || !w.Own {
			v += " " + u.String()
		}
	} else if kind != units.Number && len(row) > 2 && isUnit(strings.Trim(row[2], "[]() ")) { // Graduation | 0.5 | mil
		w := strings.Trim(row[2], "[]() ")
		if u, ok := units.ParseHeaderUnit(w, kind); !ok {
			r.tell(job.Error, src, c, words.ProblemHeaderUnit.With(w, kind), words.Plain(job.HintUnits(kind)))
			return
		} else if x, err := units.Parse(v, u.Kind(), units.None, units.Either); err != nil || !x.Own {
			v += " " + u.String()
		}
	}
	if r.where[k] != 0 {
		if old := r.s.text[k]; strings.TrimSpace(v) != strings.TrimSpace(old) {
			r.tell(job.Error, src, c, words.ProblemSettingTwice.With(r.where[k], strconv.Quote(strings.TrimSpace(old)), strconv.Quote(strings.TrimSpace(v))), words.HintSettingTwice.With())
		}
		return
	}
	if c.Info().Quantity != job.QText && job.NotGiven(v) {
		return
	}
	r.where[k], r.s.text[k] = src, v
}

// behind tells of settings that stand in the same row behind the first, or behind blank cells: they are not read.
func (r *settingsReader) behind(row []string, src int) {
	for k := 1; k+1 < len(row); k++ {
		if k == 1 && !job.Blank(row[0]) || job.Blank(row[k+1]) {
			continue
		}
		if c, _, _ := job.MatchHeader(job.SettingsSheet, row[k]); c != job.NoColumn {
			sev := job.Error
			if c.Info().Quantity == job.QText {
				sev = job.Warning
			}
			r.tell(sev, src, c, words.ProblemSettingBehind.With(job.Quote(strings.TrimSpace(row[k]))), words.HintSettingRow.With())
			k++
		}
	}
}

// notOne tells of a row that says a setting in one cell, "Units: inch", or names several settings side by side: neither is read.
func (r *settingsReader) notOne(row []string, src int) bool {
	filled, names, lone := 0, 0, ""
	for _, cell := range row {
		if job.Blank(cell) {
			continue
		}
		filled, lone = filled+1, cell
		if c, _, _ := job.MatchHeader(job.SettingsSheet, cell); c != job.NoColumn {
			names++
		}
	}
	if filled > 2 && names == filled {
		r.tell(job.Error, src, job.NoColumn, words.ProblemSettingsAcross.With(), words.HintSettingRow.With())
		return true
	}
	at := strings.IndexAny(lone, ":=")
	if filled != 1 || at < 0 || job.Blank(lone[at+1:]) {
		return false
	}
	c, _, _ := job.MatchHeader(job.SettingsSheet, lone[:at])
	if c == job.NoColumn {
		return false
	}
	sev := job.Error
	if c.Info().Quantity == job.QText {
		sev = job.Warning
	}
	r.tell(sev, src, c, words.ProblemSettingOneCell.With(job.Quote(strings.TrimSpace(lone))), words.HintSettingRow.With())
	return true
}

// word is which of its words a setting holds; ok is false where it holds none of them.
func (r *settingsReader) word(c job.ColumnID) (choice int, ok bool) {
	v := r.typed(c)
	if job.Blank(v) {
		return 0, false
	}
	if i, ok := job.ChoiceIndex(c, v); ok {
		return i, true
	}
	r.wrong(c, words.ProblemNotAWord.With(job.Quote(v)), words.Plain(job.HintChoices(c)))
	switch c {
	case job.SettingUnits:
		r.s.unitsBad = true
	case job.SettingSeenFrom:
		r.s.seenBad = true
	}
	return 0, false
}

// yes sets dst where a setting holds its second word.
func (r *settingsReader) yes(dst *bool, c job.ColumnID) {
	if i, ok := r.word(c); ok {
		*dst = i == 1
	}
}

// number is the number of a setting, at least or, strictly, more than a bound; ok is false where there is none or it cannot be.
func (r *settingsReader) number(c job.ColumnID, least float64, strictly bool) (x float64, ok bool) {
	v := r.typed(c)
	if job.Blank(v) {
		return 0, false
	}
	x, text, hint := job.ParseQuantity(v, c.Info().Quantity, c.Info().Unit(r.s.inch), r.s.mark)
	if text == "" && (x < least || strictly && x == least) {
		right := words.HintNotNegative
		if strictly {
			right = words.HintPositive
		}
		r.wrong(c, words.ProblemTooSmall.With(job.Quote(v)), right.With())
		return 0, false
	}
	if text != "" {
		r.wrong(c, words.Plain(text), words.Plain(hint))
		return 0, false
	}
	r.read = append(r.read, settingRead{c, x})
	return x, true
}

// amount sets dst to the number of a setting that is not negative, or, strictly, positive.
func (r *settingsReader) amount(dst *float64, c job.ColumnID, strictly bool) {
	if x, ok := r.number(c, 0, strictly); ok {
		*dst = x
	}
}

// manners reads how numbers, sides and machines are to be understood.
func (r *settingsReader) manners() {
	s := r.s
	r.yes(&s.inch, job.SettingUnits)
	if i, ok := r.word(job.SettingDecimal); ok {
		s.mark = [...]units.Decimal{units.Either, units.Point, units.Comma}[i]
	}
	if i, ok := r.word(job.SettingCoupling); ok {
		s.coupling = job.CouplingKinds[i]
		s.onFlange = job.IsFlangeWord(r.typed(job.SettingCoupling))
	}
	if i, ok := r.word(job.SettingSeenFrom); ok {
		s.seenFrom = i
	}
	if i, ok := r.word(job.SettingPositiveSag); ok {
		s.positiveSag = i + 1
	}
	r.yes(&s.noSag, job.SettingNoSag)
	if i, ok := r.word(job.SettingWantedFrom); ok {
		s.wantedFrom = i + 1
	}
	r.yes(&s.addShares, job.SettingAddShares)
	if x, ok := r.number(job.SettingCold, -300, false); ok {
		s.cold = x
	}
	s.limitsRow = r.where[job.SettingLimits-job.SettingName]
}

// stock reads how the stock is shared out.
func (r *settingsReader) stock() {
	r.yes(&r.s.fewest, job.SettingFewest)
	r.yes(&r.s.byFeet, job.SettingShareBy)
	r.yes(&r.s.reuse, job.SettingReuse)
	if i, ok := r.word(job.SettingStripClass); ok {
		r.s.strip = tables.StripNormal + tables.StripClass(i)
	}
	r.s.size = strings.TrimSpace(r.typed(job.SettingSize))
}

// trains reads what the moves of trains aim at.
func (r *settingsReader) trains() {
	v, ok := r.typed(job.SettingMovesAim), false
	if r.s.aim, r.s.aimText, ok = movesAim(v, r.s.mark); !ok {
		r.s.aimBad = true
		r.wrong(job.SettingMovesAim, words.ProblemMovesAim.With(job.Quote(v)), words.HintMovesAim.With())
	}
}

// feetNumbers reads how feet are numbered.
func (r *settingsReader) feetNumbers() {
	v, ok := r.typed(job.SettingNumbered), false
	if r.s.numbered, ok = numberedFeet(v); !ok {
		r.wrong(job.SettingNumbered, words.ProblemFeetNumbered.With(job.Quote(v)), words.HintFeetNumbered.With())
	}
}

// amounts reads the numbers that have a usual value, of which some hang on the units.
func (r *settingsReader) amounts() {
	s := r.s
	s.dial, s.feeler, s.packTol = tables.DialMetric, tables.FeelerMetric, tables.PackToleranceMM
	if s.inch {
		s.dial, s.feeler, s.packTol = tables.DialInch, tables.FeelerInch, tables.PackToleranceInch
	}
	s.tempU, s.coefU, s.softLimit, s.cooling = defaultTempU, defaultCoefU, calc.DefaultSoftLimit, defaultCooling
	s.sagShare, s.distanceU = defaultSagShare, defaultDistanceU
	for _, a := range []struct {
		dst      *float64
		c        job.ColumnID
		strictly bool
	}{
		{&s.dial.Graduation, job.SettingGraduation, true},
		{&s.dial.Repeatability, job.SettingRepeatability, false},
		{&s.feeler.Graduation, job.SettingFeelerGraduation, true},
		{&s.feeler.Repeatability, job.SettingFeelerRepeatability, false},
		{&s.packTol, job.SettingPackTolerance, true},
		{&s.moveStep, job.SettingMoveStep, false},
		{&s.checks.BalanceShare, job.SettingBalanceShare, true},
		{&s.checks.BalanceGraduation, job.SettingBalanceGraduations, true},
		{&s.checks.ClosureGraduation, job.SettingClosureGraduations, true},
		{&s.sagShare, job.SettingSagShare, false},
		{&s.distanceU, job.SettingDistanceU, false},
		{&s.softLimit, job.SettingSoftFoot, true},
		{&s.tempU, job.SettingTemperatureU, false},
		{&s.coefU, job.SettingCoefficientU, false},
		{&s.cooling, job.SettingCooling, false},
		{&s.spare, job.SettingSpare, false},
	} {
		r.amount(a.dst, a.c, a.strictly)
	}
}

// mostPieces is how many pieces a pack may be allowed.
const mostPieces = 8

// pieces reads of how many pieces a pack may be.
func (r *settingsReader) pieces() {
	r.s.pieces = tables.MaxPieces
	x, ok := r.number(job.SettingMaxPieces, 0, true)
	switch {
	case !ok:
	case x > mostPieces:
		r.wrong(job.SettingMaxPieces, words.ProblemTooManyPieces.With(x), words.HintTooManyPieces.With())
	default:
		r.s.pieces = int(x)
	}
}

package evaluate

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A CheckState says how a check stands.
type CheckState uint8

// The states of a check.
const (
	CheckOpen   CheckState = iota // nothing was entered yet
	CheckDone                     // within its limit, or done where there is no number
	CheckFailed                   // past its limit, or Done says no
	CheckUnheld                   // a value without a limit to hold it to
)

// String is the state as a word.
func (s CheckState) String() string { return [...]string{"open", "done", "failed", "no limit"}[s] }

// A Check is one row of the Checks sheet: something looked at on a machine before it is moved or after.
type Check struct {
	Row    int    // source row
	Name   string // as typed, or the usual name of what was meant
	Value  float64
	Limit  float64
	Kind   units.Kind   // Length (mm), Torque (N·m); Number: it has no number, or one without a unit
	Text   string       // the value as typed, trimmed
	Source words.Phrase // of the limit; empty where there is none
	By     string
	When   string
	State  CheckState
	Hold   bool       // nothing further is done at the machine until it is done
	Usual  *CheckKind // nil: a check of one's own
}

// Before says whether the check belongs before the machine is moved. A check of one's own does unless it says otherwise, which it cannot: it is named with both.
func (c *Check) Before() bool { return c.Usual != nil && c.Usual.Before }

// A CheckKind is a check that the program knows.
type CheckKind struct {
	Name   string
	Also   string // other spellings, | between
	Before bool   // the machine is moved
	Kind   units.Kind
	Least  bool      // the limit is the least the value may be, not the most
	Limit  float64   // usual limit, NaN none; mm
	Source words.Key // of that
	Mend   words.Key // what to do when it failed
}

const (
	inchMM           = 25.4
	checkIsolation   = "isolation"
	checkRunoutMov   = "hub runout movable"
	checkRunoutStat  = "hub runout stationary"
	checkFlanges     = "flange parallelism"
	checkFlangeOff   = "flange offset"
	checkPiping      = "piping movement"
	CheckFinalTorque = "final torque"
	checkCoupled     = "coupling bolts"
	checkGuard       = "guard"
	checkHot         = "hot check"
)

// CheckKinds are the checks that the program knows by name. Limits: hub runout 0.001 in, common practice, no source; movement of the shaft while the piping is
// bolted up, and flanges out of parallel, API RP 686 as quoted elsewhere.
var CheckKinds = []CheckKind{
	{checkIsolation, "isolated|isolated and tried|isolation tried|locked out|lockout|locked and tagged|zero energy", true, units.Number, false, nan, words.SentenceNone, words.SentenceMendIsolation},
	{checkRunoutMov, "runout movable|movable hub runout|movable runout|runout of the movable hub|runout movable hub|coupling runout movable|hub runout m", true, units.Length, false, 0.001 * inchMM, words.SentencePractice, words.SentenceMendRunout},
	{checkRunoutStat, "runout stationary|stationary hub runout|stationary runout|runout of the stationary hub|runout stationary hub|coupling runout stationary|hub runout s", true, units.Length, false, 0.001 * inchMM, words.SentencePractice, words.SentenceMendRunout},
	{"bearing lift", "lift check|bearing clearance|lift|shaft lift", true, units.Length, false, nan, words.SentenceNone, words.SentenceMendBearing},
	{checkFlanges, "flanges parallel|pipe flange parallelism|flange angle|parallelism of flanges", true, units.Length, false, 0.25, words.SentenceApiFlange, words.SentenceMendPiping},
	{checkFlangeOff, "pipe flange offset|flange alignment|flanges offset|offset of flanges", true, units.Length, false, nan, words.SentenceNone, words.SentenceMendPiping},
	{checkPiping, "shaft movement|shaft movement when piping is bolted|movement by piping|pipe strain|piping strain|shaft movement piping", true, units.Length, false, 0.002 * inchMM, words.SentenceApiPiping, words.SentenceMendPiping},
	{CheckFinalTorque, "torque|hold down torque|foot bolt torque|holding down bolts|tightening torque|final torque of the feet", false, units.Torque, true, nan, words.SentenceNone, words.SentenceMendTorque},
	{checkCoupled, "coupling bolt torque|coupling bolting", false, units.Torque, true, nan, words.SentenceNone, words.SentenceMendTorque},
	{"jackscrews backed off", "jackscrews|jackscrew|jacking bolts backed off|jacking screws backed off", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendJack},
	{checkGuard, "guard on|guard back|coupling guard", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendGuard},
	{checkHot, "hot check due|hot alignment check|hot readings", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendHot},
	{"dowels", "dowelled|dowel pins|doweled|pinned", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendDowel},
}

// FindCheck finds a check by any spelling; nil: one that the program does not know.
func FindCheck(name string) *CheckKind {
	key := job.NormalForm(name)
	for k := range CheckKinds {
		c := &CheckKinds[k]
		if job.NormalForm(c.Name) == key {
			return c
		}
		for _, s := range strings.Split(c.Also, "|") {
			if job.NormalForm(s) == key {
				return c
			}
		}
	}
	return nil
}

// CheckNames lists the checks that the program knows, in the order in which they are done.
func CheckNames() []string {
	names := make([]string, len(CheckKinds))
	for k := range CheckKinds {
		names[k] = CheckKinds[k].Name
	}
	return names
}

// machineChecks are the checks of one machine.
type machineChecks struct {
	claim claim
	list  []Check
}

// readChecks reads the Checks sheet. A row that cannot be used is a problem of its own: its check counts as open.
func (e *Evaluator) readChecks() {
	e.checks = nil
	l := e.lines(job.ChecksSheet, job.ChecksMachine, job.ChecksUnit, job.ChecksMachine, job.ChecksCheck)
	if l == nil {
		return
	}
	e.checks = map[string]*machineChecks{}
	for l.next() {
		key, cl := l.owner(job.ChecksMachine)
		if key == "" {
			continue
		}
		m := e.checks[key]
		if m == nil {
			m = &machineChecks{claim: cl}
			e.checks[key] = m
			e.claims = append(e.claims, &m.claim)
		}
		c := e.checkRow(l)
		if c.Name != "" {
			m.list = append(m.list, c)
		}
	}
}

// checkRow reads the row at hand.
func (e *Evaluator) checkRow(l *lines) Check {
	c := Check{Row: l.src(), Name: l.text(job.ChecksCheck), Value: nan, Limit: nan, Text: l.text(job.ChecksValue), Source: words.Plain(l.text(job.ChecksSource)), By: l.text(job.ChecksBy), When: l.text(job.ChecksWhen)}
	if c.Name == "" {
		l.missing(job.ChecksCheck, words.HintCheckName.With())
		return c
	}
	kind := units.Number
	if c.Usual = FindCheck(c.Name); c.Usual != nil {
		c.Name, kind = c.Usual.Name, c.Usual.Kind
	}
	done := l.choice(job.ChecksDone)
	c.Hold = l.choice(job.ChecksHold) == 1
	value, limit := e.checkNumber(l, job.ChecksValue, kind, c.Usual != nil), e.checkNumber(l, job.ChecksLimit, kind, c.Usual != nil)
	c.Value, c.Kind, c.Limit = value.x, value.kind, limit.x
	limitKind := limit.kind
	if l.bad {
		return c
	}
	if Known(c.Value) && Known(c.Limit) && c.Kind == limitKind && value.unit != limit.unit && value.said != limit.said {
		id, said, bare := job.ChecksLimit, value.unit, limit.unit
		if limit.said {
			id, said, bare = job.ChecksValue, limit.unit, value.unit
		}
		l.fail(id, words.ProblemCheckBare.With(job.Quote(l.text(id)), said, bare), words.HintCheckUnit.With())
		c.Value, c.Limit = nan, nan
		return c
	}
	if Known(c.Value) && Known(c.Limit) && c.Kind != limitKind {
		l.fail(job.ChecksLimit, words.ProblemCheckKinds.With(job.Quote(l.cell(job.ChecksValue)), job.Quote(l.cell(job.ChecksLimit))), words.HintCheckKinds.With())
		return c
	}
	if math.IsNaN(c.Limit) && c.Usual != nil && Known(c.Usual.Limit) {
		c.Limit, c.Source = c.Usual.Limit, c.Usual.Source.With()
	} else if math.IsNaN(c.Limit) {
		c.Source = words.Phrase{}
	} else if c.Source.Empty() {
		c.Source = words.ProblemOwnRow.With(e.SheetName(job.ChecksSheet), c.Row)
	}
	c.State = c.state(done)
	return c
}

// state settles how the check stands. done is the index of the word under Done, −1 blank.
func (c *Check) state(done int) CheckState {
	const yes, no = 0, 1
	if done == no {
		return CheckFailed
	}
	if math.IsNaN(c.Value) {
		if done == yes {
			return CheckDone
		}
		return CheckOpen
	}
	if math.IsNaN(c.Limit) {
		if done == yes {
			return CheckDone
		}
		return CheckUnheld
	}
	value := c.Value
	if c.Kind == units.Length { // a shaft that moves 0.08 mm down moves as far as one that moves up
		value = math.Abs(value)
	}
	past := value > c.Limit+math.Abs(c.Limit)*1e-9
	if c.Usual != nil && c.Usual.Least {
		past = c.Value < c.Limit-math.Abs(c.Limit)*1e-9
	}
	if past {
		return CheckFailed
	}
	return CheckDone
}

// What is usual of runouts, of lifts, of the movement of a shaft and of flanges, and of the limits they are held to, mm: common practice, no source. It is there to find thousandths of an
// inch or inches among millimetres.
const (
	usualCheck      = 1
	leastCheckLimit = 0.005
)

// A checkNumber is a value or a limit of a check, in base units: NaN where there is none, or none that can be read, which is reported.
type checkNumber struct {
	x    float64
	kind units.Kind
	unit units.Unit
	said bool // the unit is typed, or that of the row, the header or the title
}

// checkNumber reads a value or a limit. A bare number of a known check is in the unit of its header or of the row, else in the job's for it; of one's own without any it stays a plain number.
func (e *Evaluator) checkNumber(l *lines, id job.ColumnID, kind units.Kind, knownCheck bool) checkNumber {
	none := checkNumber{x: nan, kind: kind}
	s := l.cell(id)
	if job.Blank(s) {
		return none
	}
	unit := units.None
	switch kind {
	case units.Length:
		unit = job.QThickness.Unit(e.set.inch)
	case units.Torque:
		if unit = units.NewtonMetre; e.set.inch {
			unit = units.PoundFoot
		}
	}
	w, said := l.checkUnit(id, kind, knownCheck)
	if w != units.None {
		kind, unit = w.Kind(), w
	} else if said != "" && !bearsAny(s, e.set.mark) {
		l.fail(id, words.ProblemCheckUnit.With(l.saysUnit(id), said, job.Quote(l.text(job.ChecksCheck))), words.HintCheckUnit.With())
		return none
	}
	v, err := units.Parse(s, kind, unit, e.set.mark)
	if err != nil && (kind == units.Number || !knownCheck) {
		for _, k := range [...]units.Kind{units.Length, units.Torque} {
			if w, other := units.Parse(s, k, units.None, e.set.mark); other == nil && w.Own {
				return checkNumber{w.Base, k, w.Unit, true}
			}
		}
	}
	if err != nil {
		hint := words.Plain(err.Hint)
		if w := job.NormalForm(s); id == job.ChecksValue && (w == "pass" || w == "fail" || job.ChecksDone.Info().TakesWord(s)) {
			hint = words.HintCheckDone.With()
		}
		l.fail(id, words.Plain(err.Msg), hint)
		return none
	}
	if usual := (span{high: usualCheck}); knownCheck && kind == units.Length && !e.set.plausibleOff {
		if id == job.ChecksLimit {
			usual.low = leastCheckLimit
		}
		if x := math.Abs(v.Base); x > usual.high || x < usual.low && x > 0 {
			l.tell(job.Warning, id, e.outsideText(usual, job.QThickness.Unit(e.set.inch), v.Base, s), words.HintOdd.With())
		}
	}
	return checkNumber{v.Base, v.Unit.Kind(), v.Unit, v.Own || w != units.None}
}

// headerUnit is the unit that the header of a text column bears, as typed; "" none.
func (l *lines) headerUnit(c job.ColumnID) string {
	if k := l.col(c); k >= 0 && k < len(l.header) {
		if _, unit, has := job.MatchHeader(l.kind, l.header[k]); has {
			return strings.TrimSpace(unit)
		}
	}
	return ""
}

// checkUnit is the unit of a bare number of a check of a kind: that of the row's Unit, of the header, or of the title. None with what was said: it is no unit of that kind, or header and row say
// two. None and "": nothing is said, or what a title says is not of this kind.
func (l *lines) checkUnit(id job.ColumnID, kind units.Kind, knownCheck bool) (u units.Unit, said string) {
	header, row := l.headerUnit(id), strings.Trim(l.said(), "[]() ")
	title := header != "" && slices.Contains(l.t.Stated(), l.col(id))
	if title && row != "" {
		header = ""
	}
	for _, w := range [...]string{row, header} {
		if w == "" {
			continue
		}
		x := units.None
		for _, k := range [...]units.Kind{units.Length, units.Torque} {
			if p, ok := units.ParseHeaderUnit(w, k); ok && (k == kind || kind == units.Number && !knownCheck) {
				x = p
			}
		}
		switch {
		case x == units.None && kind == units.Number, x == units.None && title && w == header:
			continue // a check without a number, or a title that speaks of others
		case x == units.None && !strings.ContainsAny(w, "0123456789") && !isUnit(w):
			continue // Limit (max)
		case x == units.None:
			return units.None, w
		case u != units.None && x != u:
			return units.None, row + job.WordOr + header
		}
		u = x
	}
	return u, ""
}

// saysUnit is the place that says the unit of a check's number.
func (l *lines) saysUnit(id job.ColumnID) string {
	if l.said() != "" {
		return job.ChecksUnit.Info().Name
	}
	return id.Info().Name
}

// isUnit says whether a text is a unit of anything.
func isUnit(w string) bool {
	return slices.ContainsFunc(units.Kinds(), func(k units.Kind) bool {
		_, ok := units.ParseHeaderUnit(w, k)
		return ok
	})
}

// bearsAny says whether a text is a length or a torque with its unit.
func bearsAny(s string, mark units.Decimal) bool {
	for _, k := range [...]units.Kind{units.Length, units.Torque} {
		if v, err := units.Parse(s, k, units.None, mark); err == nil && v.Own {
			return true
		}
	}
	return false
}

// CheckNumber is a number of a check in the job's unit.
func (e *Evaluator) CheckNumber(x float64, k units.Kind) string {
	switch k {
	case units.Length:
		return e.Thickness(x)
	case units.Torque:
		if e.ShowsInch() {
			return e.Number(x, units.PoundFoot, 0)
		}
		return e.Number(x, units.NewtonMetre, 0)
	}
	return e.Number(x, units.None, 6)
}

// Holds says whether the check is a hold point that is not passed yet.
func (c *Check) Holds() bool { return c.Hold && c.State != CheckDone }

// rigidRunout asks for the runout of both hubs of a rigid coupling, whose faces are bolted to each other: what runs out there bends the shafts at every turn.
func (e *Evaluator) rigidRunout(r *RowResult) bool {
	if r.Coupling != tables.Rigid {
		return false
	}
	seen := 0
	for k := range r.Checks {
		if c := &r.Checks[k]; (c.Name == checkRunoutMov || c.Name == checkRunoutStat) && c.State != CheckOpen {
			seen++
		}
	}
	return seen < 2
}

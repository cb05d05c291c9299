package evaluate

import (
	"math"
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
	l := e.lines(job.ChecksSheet, job.ChecksMachine, job.ChecksNote, job.ChecksMachine, job.ChecksCheck)
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
	c.Value, c.Kind = e.checkNumber(l, job.ChecksValue, kind, c.Usual != nil)
	limitKind := units.Number
	c.Limit, limitKind = e.checkNumber(l, job.ChecksLimit, kind, c.Usual != nil)
	if l.bad {
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
	past := c.Value > c.Limit+math.Abs(c.Limit)*1e-9
	if c.Usual != nil && c.Usual.Least {
		past = c.Value < c.Limit-math.Abs(c.Limit)*1e-9
	}
	if past {
		return CheckFailed
	}
	return CheckDone
}

// checkNumber reads a value or a limit. A bare number of a known check is in the job's unit for it; of one's own it stays a plain number.
func (e *Evaluator) checkNumber(l *lines, id job.ColumnID, kind units.Kind, knownCheck bool) (float64, units.Kind) {
	s := l.cell(id)
	if job.Blank(s) {
		return nan, kind
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
	v, err := units.Parse(s, kind, unit, e.set.mark)
	if err != nil && (kind == units.Number || !knownCheck) {
		for _, k := range [...]units.Kind{units.Length, units.Torque} {
			if w, other := units.Parse(s, k, units.None, e.set.mark); other == nil && w.Own {
				return w.Base, k
			}
		}
	}
	if err != nil {
		l.fail(id, words.Plain(err.Msg), words.Plain(err.Hint))
		return nan, kind
	}
	return v.Base, kind
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

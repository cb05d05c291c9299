package sheet

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
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
	kind   *checkKind // nil: a check of one's own
}

// Before says whether the check belongs before the machine is moved. A check of one's own does unless it says otherwise, which it cannot: it is named with both.
func (c *Check) Before() bool { return c.kind != nil && c.kind.before }

// A checkKind is a check that the program knows.
type checkKind struct {
	name   string
	also   string // other spellings, | between
	before bool   // the machine is moved
	kind   units.Kind
	least  bool      // the limit is the least the value may be, not the most
	limit  float64   // usual limit, NaN none; mm
	source words.Key // of that
	mend   words.Key // what to do when it failed
}

const (
	inchMM           = 25.4
	checkIsolation   = "isolation"
	checkRunoutMov   = "hub runout movable"
	checkRunoutStat  = "hub runout stationary"
	checkFlanges     = "flange parallelism"
	checkFlangeOff   = "flange offset"
	checkPiping      = "piping movement"
	checkFinalTorque = "final torque"
	checkCoupled     = "coupling bolts"
	checkGuard       = "guard"
	checkHot         = "hot check"
)

// checkKinds are the checks that the program knows by name. Limits: hub runout 0.001 in, common practice, no source; movement of the shaft while the piping is
// bolted up, and flanges out of parallel, API RP 686 as quoted elsewhere.
var checkKinds = []checkKind{
	{checkIsolation, "isolated|isolated and tried|isolation tried|locked out|lockout|locked and tagged|zero energy", true, units.Number, false, nan, words.SentenceNone, words.SentenceMendIsolation},
	{checkRunoutMov, "runout movable|movable hub runout|movable runout|runout of the movable hub|runout movable hub|coupling runout movable|hub runout m", true, units.Length, false, 0.001 * inchMM, words.SentencePractice, words.SentenceMendRunout},
	{checkRunoutStat, "runout stationary|stationary hub runout|stationary runout|runout of the stationary hub|runout stationary hub|coupling runout stationary|hub runout s", true, units.Length, false, 0.001 * inchMM, words.SentencePractice, words.SentenceMendRunout},
	{"bearing lift", "lift check|bearing clearance|lift|shaft lift", true, units.Length, false, nan, words.SentenceNone, words.SentenceMendBearing},
	{checkFlanges, "flanges parallel|pipe flange parallelism|flange angle|parallelism of flanges", true, units.Length, false, 0.25, words.SentenceApiFlange, words.SentenceMendPiping},
	{checkFlangeOff, "pipe flange offset|flange alignment|flanges offset|offset of flanges", true, units.Length, false, nan, words.SentenceNone, words.SentenceMendPiping},
	{checkPiping, "shaft movement|shaft movement when piping is bolted|movement by piping|pipe strain|piping strain|shaft movement piping", true, units.Length, false, 0.002 * inchMM, words.SentenceApiPiping, words.SentenceMendPiping},
	{checkFinalTorque, "torque|hold down torque|foot bolt torque|holding down bolts|tightening torque|final torque of the feet", false, units.Torque, true, nan, words.SentenceNone, words.SentenceMendTorque},
	{checkCoupled, "coupling bolt torque|coupling bolting", false, units.Torque, true, nan, words.SentenceNone, words.SentenceMendTorque},
	{"jackscrews backed off", "jackscrews|jackscrew|jacking bolts backed off|jacking screws backed off", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendJack},
	{checkGuard, "guard on|guard back|coupling guard", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendGuard},
	{checkHot, "hot check due|hot alignment check|hot readings", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendHot},
	{"dowels", "dowelled|dowel pins|doweled|pinned", false, units.Number, false, nan, words.SentenceNone, words.SentenceMendDowel},
}

// findCheck finds a check by any spelling; nil: one that the program does not know.
func findCheck(name string) *checkKind {
	key := job.NormalForm(name)
	for k := range checkKinds {
		c := &checkKinds[k]
		if job.NormalForm(c.name) == key {
			return c
		}
		for _, s := range strings.Split(c.also, "|") {
			if job.NormalForm(s) == key {
				return c
			}
		}
	}
	return nil
}

// CheckNames lists the checks that the program knows, in the order in which they are done.
func CheckNames() []string {
	names := make([]string, len(checkKinds))
	for k := range checkKinds {
		names[k] = checkKinds[k].name
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
	if c.kind = findCheck(c.Name); c.kind != nil {
		c.Name, kind = c.kind.name, c.kind.kind
	}
	done := l.choice(job.ChecksDone)
	c.Hold = l.choice(job.ChecksHold) == 1
	c.Value, c.Kind = e.checkNumber(l, job.ChecksValue, kind, c.kind != nil)
	limitKind := units.Number
	c.Limit, limitKind = e.checkNumber(l, job.ChecksLimit, kind, c.kind != nil)
	if l.bad {
		return c
	}
	if Known(c.Value) && Known(c.Limit) && c.Kind != limitKind {
		l.fail(job.ChecksLimit, words.ProblemCheckKinds.With(job.Quote(l.cell(job.ChecksValue)), job.Quote(l.cell(job.ChecksLimit))), words.HintCheckKinds.With())
		return c
	}
	if math.IsNaN(c.Limit) && c.kind != nil && Known(c.kind.limit) {
		c.Limit, c.Source = c.kind.limit, c.kind.source.With()
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
	if c.kind != nil && c.kind.least {
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

// checkValue words a number of a check in the job's unit.
func (e *Evaluator) checkValue(x float64, k units.Kind) string {
	switch k {
	case units.Length:
		return e.thick(x)
	case units.Torque:
		if e.ShowsInch() {
			return e.number(x, units.PoundFoot, 0)
		}
		return e.number(x, units.NewtonMetre, 0)
	}
	return e.number(x, units.None, 6)
}

// sayFailedChecks says what failed, before anything else that is to be done.
func (e *Evaluator) sayFailedChecks(r *RowResult, say func(SentenceKind, words.Key, ...any)) {
	for k := range r.Checks {
		c := &r.Checks[k]
		if c.State != CheckFailed {
			continue
		}
		mend := words.SentenceMendOwn.String()
		if c.kind != nil {
			mend = c.kind.mend.String()
		}
		switch {
		case Known(c.Value) && Known(c.Limit):
			form := words.SentenceCheckOver
			if c.kind != nil && c.kind.least {
				form = words.SentenceCheckUnder
			}
			say(SentenceDo, form, c.Name, e.checkValue(c.Value, c.Kind), e.checkValue(c.Limit, c.Kind), c.Source, mend)
		default:
			say(SentenceDo, words.SentenceCheckNot, c.Name, mend)
		}
	}
	for k := range r.Checks {
		if c := &r.Checks[k]; c.Holds() {
			say(SentenceDo, words.SentenceHold, c.Name)
		}
	}
	e.sayOpenChecks(r, say, true)
}

// Holds says whether the check is a hold point that is not passed yet.
func (c *Check) Holds() bool { return c.Hold && c.State != CheckDone }

// sayOpenChecks lists the checks that are still open, those before the machine is moved or those after.
func (e *Evaluator) sayOpenChecks(r *RowResult, say func(SentenceKind, words.Key, ...any), before bool) {
	var names []string
	for k := range r.Checks {
		if c := &r.Checks[k]; c.State == CheckOpen && c.Before() == before {
			name := c.Name
			if c.When != "" {
				name += " (" + c.When + ")"
			}
			names = append(names, name)
		}
	}
	if len(names) == 0 {
		return
	}
	form := words.SentenceChecksAfter
	if before {
		form = words.SentenceChecksBefore
	}
	say(SentenceDo, form, strings.Join(names, ", "))
}

// AppendChecks words the checks for a cell: "failed: hub runout movable 0.08 mm of 0.025; 3 done; 2 open".
func (e *Evaluator) AppendChecks(b []byte, r *RowResult) []byte {
	var count [4]int
	var failed []string
	for k := range r.Checks {
		c := &r.Checks[k]
		count[c.State]++
		if c.State == CheckFailed {
			s := c.Name
			if Known(c.Value) {
				s += " " + e.checkValue(c.Value, c.Kind)
			}
			failed = append(failed, s)
		}
	}
	var parts []string
	if len(failed) > 0 {
		parts = append(parts, CheckFailed.String()+": "+strings.Join(failed, ", "))
	}
	for _, s := range [...]CheckState{CheckDone, CheckUnheld, CheckOpen} {
		if count[s] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", count[s], s))
		}
	}
	return append(b, strings.Join(parts, "; ")...)
}

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

// footTorque names the torque of the holding-down bolts: that of the check final torque, where it has a limit.
func (e *Evaluator) footTorque(r *RowResult) string {
	for k := range r.Checks {
		if c := &r.Checks[k]; c.kind != nil && c.kind.kind == units.Torque && c.Name == checkFinalTorque && Known(c.Limit) {
			return words.SentenceTorqueKnown.Say(e.checkValue(c.Limit, c.Kind), c.Source)
		}
	}
	return words.SentenceTorqueAsked.String()
}

// tightenOrder names the feet in the order in which their bolts are tightened: crosswise, beginning at the coupling. Of feet that are not four it is the order in
// which they were listed.
func (e *Evaluator) tightenOrder(r *RowResult) string {
	if r.OnFlange {
		return words.SentenceOrderFlange.String()
	}
	if r.Feet == nil || len(r.Feet.Feet) == 0 {
		return words.SentenceOrderFour.String()
	}
	f := r.Feet.Feet
	order := make([]int, len(f))
	for k := range order {
		order[k] = k
	}
	sorting.Stable(order, func(a, b int) int {
		if c := cmp.Compare(f[a].Station, f[b].Station); c != 0 {
			return c
		}
		return cmp.Compare(f[a].Across, f[b].Across)
	})
	if len(order) == 4 { // front 9, front 3, rear 9, rear 3 by now
		order = []int{order[0], order[3], order[1], order[2]}
	}
	names := make([]string, len(order))
	for k, i := range order {
		names[k] = f[i].Name
	}
	return strings.Join(names, ", ")
}

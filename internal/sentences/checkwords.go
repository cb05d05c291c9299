package sentences

import (
	"cmp"
	"fmt"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/sorting"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
	"strings"
)

// sayFailedChecks says what failed, before anything else that is to be done.
func (e *Teller) sayFailedChecks(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any)) {
	for k := range r.Checks {
		c := &r.Checks[k]
		if c.State != evaluate.CheckFailed {
			continue
		}
		mend := words.SentenceMendOwn.String()
		if c.Usual != nil {
			mend = c.Usual.Mend.String()
		}
		switch {
		case evaluate.Known(c.Value) && evaluate.Known(c.Limit):
			form := words.SentenceCheckOver
			if c.Usual != nil && c.Usual.Least {
				form = words.SentenceCheckUnder
			}
			say(SentenceDo, form, c.Name, e.CheckNumber(c.Value, c.Kind), e.CheckNumber(c.Limit, c.Kind), c.Source, mend)
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

// sayOpenChecks lists the checks that are still open, those before the machine is moved or those after.
func (e *Teller) sayOpenChecks(r *evaluate.RowResult, say func(SentenceKind, words.Key, ...any), before bool) {
	var names []string
	for k := range r.Checks {
		if c := &r.Checks[k]; c.State == evaluate.CheckOpen && c.Before() == before {
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
func (e *Teller) AppendChecks(b []byte, r *evaluate.RowResult) []byte {
	var count [4]int
	var failed []string
	for k := range r.Checks {
		c := &r.Checks[k]
		count[c.State]++
		if c.State == evaluate.CheckFailed {
			s := c.Name
			if evaluate.Known(c.Value) {
				s += " " + e.CheckNumber(c.Value, c.Kind)
			}
			failed = append(failed, s)
		}
	}
	var parts []string
	if len(failed) > 0 {
		parts = append(parts, evaluate.CheckFailed.String()+": "+strings.Join(failed, ", "))
	}
	for _, s := range [...]evaluate.CheckState{evaluate.CheckDone, evaluate.CheckUnheld, evaluate.CheckOpen} {
		if count[s] > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", count[s], s))
		}
	}
	return append(b, strings.Join(parts, "; ")...)
}

// footTorque names the torque of the holding-down bolts: that of the check final torque, where it has a limit.
func (e *Teller) footTorque(r *evaluate.RowResult) string {
	for k := range r.Checks {
		if c := &r.Checks[k]; c.Usual != nil && c.Usual.Kind == units.Torque && c.Name == evaluate.CheckFinalTorque && evaluate.Known(c.Limit) {
			return words.SentenceTorqueKnown.Say(e.CheckNumber(c.Limit, c.Kind), c.Source)
		}
	}
	return words.SentenceTorqueAsked.String()
}

// tightenOrder names the feet in the order in which their bolts are tightened: crosswise, beginning at the coupling. Of feet that are not four it is the order in
// which they were listed.
func (e *Teller) tightenOrder(r *evaluate.RowResult) string {
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

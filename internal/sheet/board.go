package sheet

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// A Stage is how far the work at a machine is, as a board shows it.
type Stage uint8

// The stages, in the order in which work goes through them; the last two ask for somebody.
const (
	StageWaiting   Stage = iota // nothing was read that counts
	StageIsolated               // isolated and tried
	StageSoftFoot               // a foot is soft; that comes first
	StagePiping                 // a check of the piping failed
	StageMeasured               // read as found, not inside
	StageMoving                 // moved and read again, not inside yet
	StageInside                 // inside its limit
	StageCoupled                // inside, and the coupling is bolted
	StageGuard                  // the guard is on
	StageHot                    // a hot check is due
	StageSigned                 // somebody signed
	StageNotJudged              // read, and cannot be judged
	StageChanged                // changed since somebody signed
	numStages
)

var stageWords = [numStages]words.Key{words.StageWaiting, words.StageIsolated, words.StageSoftFoot, words.StagePiping, words.StageMeasured, words.StageMoving, words.StageInside, words.StageCoupled, words.StageGuard,
	words.StageHot, words.WordSigned, words.StageNotJudged, words.WordChanged}

// String is the stage as people see it.
func (s Stage) String() string { return stageWords[s].String() }

// Stages are all stages in their order.
func Stages() []Stage {
	list := make([]Stage, numStages)
	for k := range list {
		list[k] = Stage(k)
	}
	return list
}

// A BoardRow is a machine on the board.
type BoardRow struct {
	At                                   int // index in the Machines sheet
	Machine, Area, Crew, Date, WorkOrder string
	Priority                             int // 1 first; 0 none
	Stage                                Stage
	Round                                string   // which round of readings counts
	Holds                                []string // hold points that are not passed
	Short                                []string // feet that the stock is short of
	Settle                               string   // what would settle a verdict that is too close to call; "" it is not
	Why                                  string   // what keeps it from being judged, or what changed since somebody signed
}

// checkIs says whether the machine has a check of a name in a state.
func (r *RowResult) checkIs(name string, s CheckState) bool {
	return slices.ContainsFunc(r.Checks, func(c Check) bool { return c.Name == name && c.State == s })
}

// StageOf says how far the work at a machine is. Who signed goes before what was read, a verdict before the checks after it: a guard on a machine that is not inside is no progress.
func StageOf(r *RowResult) Stage {
	switch r.Signed {
	case SignHolds:
		return StageSigned
	case SignFailed:
		return StageChanged
	}
	soft := r.Feet != nil && slices.ContainsFunc(r.Feet.Feet, func(f Foot) bool { return f.Soft != 0 && Known(f.Soft) })
	piping := slices.ContainsFunc(r.Checks, func(c Check) bool {
		return c.State == CheckFailed && (c.Name == checkFlanges || c.Name == checkFlangeOff || c.Name == checkPiping)
	})
	round := r.roundWord()
	switch {
	case round == stateWaiting && piping:
		return StagePiping
	case round == stateWaiting && soft:
		return StageSoftFoot
	case round == stateWaiting && r.checkIs(checkIsolation, CheckDone):
		return StageIsolated
	case round == stateWaiting:
		return StageWaiting
	case r.Verdict == calc.NotJudged:
		return StageNotJudged
	case piping:
		return StagePiping
	case r.Verdict != calc.Inside && soft && round == foundRound:
		return StageSoftFoot
	case r.Verdict != calc.Inside && round == foundRound:
		return StageMeasured
	case r.Verdict != calc.Inside:
		return StageMoving
	case r.checkIs(checkGuard, CheckDone) && (r.checkIs(checkHot, CheckOpen) || r.checkIs(checkHot, CheckFailed)):
		return StageHot
	case r.checkIs(checkGuard, CheckDone):
		return StageGuard
	case r.checkIs(checkCoupled, CheckDone):
		return StageCoupled
	}
	return StageInside
}

// typed is what stands in a column of row i of the Machines sheet.
func (e *Evaluator) typed(i int, c job.ColumnID) string {
	return strings.TrimSpace(e.job.Machines.Cell(i, e.column(c)))
}

// Typed is what stands in row i of the Machines sheet in the column with that key: area, crew, base.
func (e *Evaluator) Typed(i int, key string) string {
	if c, _, _ := job.MatchHeader(job.MachinesSheet, key); c != job.NoColumn {
		return e.typed(i, c)
	}
	return ""
}

// Board is every machine with how far it is, in the order of the sheet. What is short is known once the stock was shared out.
func (e *Evaluator) Board() (list []BoardRow) {
	for i := range e.dirty {
		r := e.Row(i)
		if r.Kind != MachineRow {
			continue
		}
		b := BoardRow{At: i, Machine: r.Name, Area: e.typed(i, job.ColArea), Crew: e.typed(i, job.ColCrew), Date: e.typed(i, job.ColDate), WorkOrder: e.typed(i, job.ColWorkOrder), Priority: r.Priority,
			Stage: StageOf(r), Round: r.roundWord()}
		for k := range r.Checks {
			if c := &r.Checks[k]; c.Holds() {
				b.Holds = append(b.Holds, c.Name)
			}
		}
		for _, p := range e.PacksOf(r) {
			if p.Status.Short() {
				b.Short = append(b.Short, p.Foot)
			}
		}
		if r.Verdict == calc.TooClose {
			b.Settle = e.settles(i, r)
		}
		switch b.Stage {
		case StageNotJudged:
			b.Why = string(e.AppendWhy(nil, r))
		case StageChanged:
			for k := range r.Record {
				if s := &r.Record[k]; s.State == SignFailed {
					b.Why = s.Why.String()
				}
			}
		}
		list = append(list, b)
	}
	return list
}

// settles is the sentence that says which reading would settle a verdict.
func (e *Evaluator) settles(i int, r *RowResult) (said string) {
	e.saySure(i, r, func(_ SentenceKind, form words.Key, args ...any) {
		switch form {
		case words.SentenceSettle, words.SentenceSettleAll, words.SentenceSettleOdd, words.SentenceSettleNot:
			said = strings.TrimSpace(said + " " + form.Say(args...))
		}
	})
	return said
}

// BoardBy are the columns that a board can be parted by.
var BoardBy = []string{"stage", "area", "crew", "date", "priority"}

// By is what a row of the board has under one of [BoardBy].
func (b *BoardRow) By(by string) string {
	switch by {
	case "area":
		return b.Area
	case "crew":
		return b.Crew
	case "date":
		return b.Date
	case "priority":
		if b.Priority == 0 {
			return ""
		}
		return fmt.Sprint(b.Priority)
	}
	return b.Stage.String()
}

// A BoardGroup is the machines that have the same under one of [BoardBy].
type BoardGroup struct {
	Name  string // "" those that say nothing
	Rows  []BoardRow
	Count [numStages]int
}

// Words says how many machines are how far: 3 measured, 2 inside.
func (g *BoardGroup) Words() string {
	var parts []string
	for s, n := range g.Count {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, Stage(s)))
		}
	}
	return strings.Join(parts, ", ")
}

// GroupBoard parts a board, the groups in the order of the stages, of the priorities, or of their names; those that say nothing come last.
func GroupBoard(list []BoardRow, by string) (groups []BoardGroup) {
	at := map[string]int{}
	for _, b := range list {
		key := b.By(by)
		k, ok := at[key]
		if !ok {
			k = len(groups)
			at[key] = k
			groups = append(groups, BoardGroup{Name: key})
		}
		groups[k].Rows = append(groups[k].Rows, b)
		groups[k].Count[b.Stage]++
	}
	sorting.Stable(groups, func(a, b BoardGroup) int {
		if (a.Name == "") != (b.Name == "") {
			if a.Name == "" {
				return 1
			}
			return -1
		}
		switch by {
		case "stage":
			return cmp.Compare(a.Rows[0].Stage, b.Rows[0].Stage)
		case "priority":
			return cmp.Compare(a.Rows[0].Priority, b.Rows[0].Priority)
		}
		return cmp.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	return groups
}

// Waits says what a machine waits for: hold points, what is short, what would settle its verdict, why it is not judged. "" nothing that the job knows of.
func (b *BoardRow) Waits() string {
	var parts []string
	if len(b.Holds) > 0 {
		parts = append(parts, words.ListHoldPoints.Say(strings.Join(b.Holds, ", ")))
	}
	if len(b.Short) > 0 {
		parts = append(parts, words.ListShortFeet.Say(strings.Join(b.Short, ", ")))
	}
	for _, s := range [...]string{b.Settle, b.Why} {
		if s != "" {
			parts = append(parts, s)
		}
	}
	return strings.Join(parts, "; ")
}

package evaluate

import (
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
	"slices"
	"strings"
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
	NumStages
)

var stageWords = [NumStages]words.Key{words.StageWaiting, words.StageIsolated, words.StageSoftFoot, words.StagePiping, words.StageMeasured, words.StageMoving, words.StageInside, words.StageCoupled, words.StageGuard,
	words.StageHot, words.WordSigned, words.StageNotJudged, words.WordChanged}

// Word is the stage as people see it.
func (s Stage) Word() words.Key { return stageWords[s] }

// Stages are all stages in their order.
func Stages() []Stage {
	list := make([]Stage, NumStages)
	for k := range list {
		list[k] = Stage(k)
	}
	return list
}

// checkIs says whether the machine has a check of a name in a state.
func (r *RowResult) checkIs(name string, s CheckState) bool {
	return slices.ContainsFunc(r.Checks, func(c Check) bool { return c.Name == name && c.State == s })
}

// Refused says that readings stand there, though none that counts: none could be read, or something that the line needs is missing.
func (r *RowResult) Refused() bool { return r.refused && r.RoundWord() == StateWaiting }

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
	round := r.RoundWord()
	switch {
	case r.Refused():
		return StageNotJudged
	case round == StateWaiting && piping:
		return StagePiping
	case round == StateWaiting && soft:
		return StageSoftFoot
	case round == StateWaiting && r.checkIs(checkIsolation, CheckDone):
		return StageIsolated
	case round == StateWaiting:
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

// TypedIn is what stands in a column of row i of the Machines sheet.
func (e *Evaluator) TypedIn(i int, c job.ColumnID) string {
	return strings.TrimSpace(e.job.Machines.Cell(i, e.Column(c)))
}

// Typed is what stands in row i of the Machines sheet in the column with that key: area, crew, base.
func (e *Evaluator) Typed(i int, key string) string {
	if c, _, _ := job.MatchHeader(job.MachinesSheet, key); c != job.NoColumn {
		return e.TypedIn(i, c)
	}
	return ""
}

package evaluate

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
	"slices"
)

// status records how the calculation ended.
func (e *Evaluator) status(r *RowResult, w *want) {
	c := &r.Calc
	name := ""
	if c.Sweep >= 0 && c.Sweep < len(r.Sweeps) {
		name = r.Sweeps[c.Sweep].Name
	}
	column := func(text, hint words.Phrase) {
		e.problem(r, job.Error, job.NoColumn, text, hint)
		r.Problems[len(r.Problems)-1].Column = name
		if c.Sweep >= 0 && c.Sweep < len(e.sc.fam) {
			p := &r.Problems[len(r.Problems)-1]
			if id := job.ReadingColumn(e.sc.fam[c.Sweep], job.At12); e.sc.textual[c.Sweep] {
				p.Col = e.Column(job.ColMovableSweep + job.ColumnID(e.sc.fam[c.Sweep]))
				if e.sc.fam[c.Sweep] > job.StationaryRim {
					p.Col = -1
				}
			} else {
				p.Col = e.Column(id)
			}
		}
	}
	var text, hint words.Phrase
	if c.Status != calc.OK {
		text, hint = e.readingsFailed(c)
	}
	switch c.Status {
	case calc.OK, calc.PartOfLine:
	case calc.NoLimit:
		if !w.noVerdict {
			e.problem(r, job.Error, job.NoColumn, words.ProblemNoLimit.With(), words.HintOwnLimits.With())
		}
	case calc.NoLength:
		if !w.noVerdict {
			e.missing(r, job.ColSpacerLength, words.HintSpacer.With())
		}
	case calc.NoReadings:
		if r.Worst() < job.Error { // else the missing parts are named
			e.problem(r, job.Error, job.NoColumn, text, hint)
		}
	case calc.PlanesCoincide, calc.IllConditioned, calc.BadInput:
		e.problem(r, job.Error, job.NoColumn, text, hint)
	default:
		column(text, hint)
	}
}

// resultTyped is the name of the first column of the line found in which row i holds something, though it is worked out: a list from elsewhere, perhaps.
func (e *Evaluator) resultTyped(i int) string {
	for col, b := range e.bind {
		if b.id >= job.ResultOffsetV && b.id <= job.ResultSlope && !job.Blank(e.job.Machines.Cell(i, col)) {
			return b.id.Info().Name
		}
	}
	return ""
}

// readingsFailed is why readings came to no line, or to one that is not to be trusted.
func (e *Evaluator) readingsFailed(c *calc.Result) (text, hint words.Phrase) {
	switch c.Status {
	case calc.NoReadings:
		return words.ProblemNoReadings.With(), words.HintNoReadings.With()
	case calc.TooFewAngles:
		return words.ProblemTooFewAngles.With(), words.HintTooFewAngles.With()
	case calc.PlanesCoincide:
		return words.ProblemOnePlane.With(), words.HintOnePlane.With()
	case calc.IllConditioned:
		return words.ProblemUndetermined.With(), words.HintUndetermined.With()
	case calc.BalanceFailed:
		k := &c.Checks[c.Sweep]
		return words.ProblemBalance.With(e.Thickness(math.Abs(k.Balance)), e.Thickness(k.BalanceLimit)), words.HintBalance.With()
	case calc.ClosureFailed:
		k := &c.Checks[c.Sweep]
		return words.ProblemClosure.With(e.Thickness(math.Abs(k.Closure)), e.Thickness(k.ClosureLimit)), words.HintClosure.With()
	case calc.ResidualFailed:
		return words.ProblemResidual.With(e.Thickness(c.ResidualSD), e.Thickness(c.ResidualLimit)), words.HintResidual.With()
	}
	return words.ProblemBadNumber.With(), words.HintBadNumber.With()
}

// explain puts what would explain a failed check in front of that problem's hint, so that whoever reads only the list of problems has it.
func (e *Evaluator) explain(r *RowResult) {
	switch r.Calc.Status {
	case calc.BalanceFailed, calc.ClosureFailed, calc.ResidualFailed:
	default:
		return
	}
	for k := len(r.Problems) - 1; k >= 0 && len(r.Hints) > 0; k-- {
		if p := &r.Problems[k]; p.Severity == job.Error {
			p.Hint = words.Together(append(slices.Clip(r.Hints), p.Hint)...)
			return
		}
	}
}

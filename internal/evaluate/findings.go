package evaluate

import (
	"math"
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
	"strconv"
)

// findingText is what a finding comes to for the reader. It is called while the row's sweeps are in the scratch.
func (e *Evaluator) findingText(f *calc.Finding, sweeps []calc.Sweep, infos []SweepInfo, textual []bool) words.Phrase {
	name, at, other := "", "", ""
	if f.Sweep >= 0 && f.Sweep < len(infos) {
		name = infos[f.Sweep].Name
		place := func(k int) string {
			if k < 0 || k >= len(sweeps[f.Sweep].Angle) {
				return ""
			}
			a := sweeps[f.Sweep].Angle[k]
			if !textual[f.Sweep] {
				for p := range job.NumPositions {
					if job.PositionAngle[p] == a {
						return job.PositionName(p)
					}
				}
			}
			return e.Number(a, units.Degree, 1)
		}
		at, other = place(f.Reading), place(f.Other)
	}
	factor := func() string { return strconv.FormatFloat(f.By, 'g', 4, 64) }
	switch f.Kind {
	case calc.OddReading:
		return words.ProblemOddReading.With(name, at, e.Thickness(math.Abs(f.By)))
	case calc.AnyOfFour:
		return words.ProblemAnyOfFour.With(name, e.Thickness(math.Abs(f.By)))
	case calc.SignTurned:
		return words.ProblemSignTurned.With(name, at)
	case calc.Swapped:
		return words.ProblemSwapped.With(name, at, other)
	case calc.WrongUnit:
		what := words.ProblemUnitOther
		switch {
		case math.Abs(f.By-0.0254) < 1e-6:
			what = words.ProblemUnitMil
		case math.Abs(f.By*0.0254-1) < 1e-6:
			what = words.ProblemUnitMM
		}
		return words.ProblemWrongUnit.With(name, at, what, factor())
	case calc.DecimalPoint:
		return words.ProblemDecimalPoint.With(name, at, factor())
	case calc.AllTooLarge:
		return words.ProblemAllTooLarge.With()
	case calc.AllTooSmall:
		return words.ProblemAllTooSmall.With()
	}
	return words.Phrase{}
}

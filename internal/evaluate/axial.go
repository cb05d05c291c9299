package evaluate

import (
	"math"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// An Axial is what a row says of the gap between the shaft ends and what is predicted of it. Lengths in mm, NaN where there is none.
type Axial struct {
	Gap      calc.ShaftGap
	Forecast calc.GapForecast // of the gap after what is to be done; of the gap as found where the machine stays
	Stays    bool             // nothing tilts the shaft: the forecast is what was found
}

// gapAngles are the clock positions of the choices of Gap read at.
var gapAngles = [...]float64{nan, 0, 90, 180, 270}

// axial reads what the row says of the axial direction; nil: nothing. It is called when the line and what is to be done are known.
func (e *Evaluator) axial(r *RowResult, leave bool) *Axial {
	said, bad := false, false
	for id := job.ColShaftGap; id <= job.ColRunningMark; id++ {
		said = said || e.sc.state[id] == fine
		bad = bad || e.sc.state[id] == unreadable
	}
	if !said || bad {
		return nil
	}
	return e.gap(r, leave)
}

// gap works the gap out of what the row says.
func (e *Evaluator) gap(r *RowResult, leave bool) *Axial {
	x := Axial{Gap: calc.ShaftGap{Angle: nan, Diameter: nan}}
	g := &x.Gap
	take := func(id job.ColumnID) float64 {
		v, _ := e.num(id)
		return v
	}
	g.Found, g.Wanted, g.Tolerance, g.Float, g.Mark = take(job.ColShaftGap), take(job.ColGapWanted), take(job.ColGapTolerance), take(job.ColEndFloat), take(job.ColRunningMark)
	if at, st := e.num(job.ColGapAt); st == fine {
		g.Angle = gapAngles[int(at)]
	}
	if d, st := e.num(job.ColFaceDiameter); st == fine {
		g.Diameter = d
	}
	if Known(g.Angle) && math.IsNaN(g.Diameter) && Known(g.Found) {
		e.problem(r, job.Warning, job.ColFaceDiameter, words.ProblemGapNoCircle.With(), words.HintGapNoCircle.With())
		g.Found = nan
	}
	if g.Mark > g.Float {
		e.problem(r, job.Warning, job.ColRunningMark, words.ProblemMarkPast.With(e.Thickness(g.Mark), e.Thickness(g.Float)), words.HintMarkPast.With())
		g.Mark = nan
	}
	from, to := r.Calc.Line, r.Wanted
	if r.Calc.HasAfter {
		to = r.Calc.After
	}
	if x.Stays = leave || math.IsNaN(to.TV); x.Stays {
		to = from
	}
	x.Forecast = g.After(from, to)
	return &x
}

// ReadsFaces says whether a dial on a face had a part in the line: its readings hold only if neither shaft moved lengthwise while they were taken.
func (r *RowResult) ReadsFaces() bool {
	for k := range r.models {
		switch r.models[k].Model {
		case calc.FaceFront, calc.FaceBack, calc.SpoolOnMovable, calc.SpoolOnMovableBack, calc.SpoolOnStationary, calc.SpoolOnStationaryBack:
			return true
		}
	}
	return false
}

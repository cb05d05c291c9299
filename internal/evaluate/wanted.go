package evaluate

import (
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// wanted settles where the movable shaft should stand cold:
//
//	T(x) = −(growth of the movable machine at x − growth of the stationary machine at x) + running offset + running slope·x
//
// in each plane, the growth of a machine being a straight line through its two supports.
//
// A measured change wins over growth, one by two sets of readings over one in the row's columns, and the Growth sheet over the row's growth columns.
func (e *Evaluator) wanted(i int, r *RowResult, w *want) {
	sc := &e.sc
	in := &sc.in
	var g *growthRows
	if k := e.keys[i]; k != "" && len(e.growths) > 0 {
		g = e.growths[k]
	}
	if sc.hot {
		e.wantedHot(r, w)
		return
	}
	if e.coldSetting(r, g, w) {
		return
	}
	if e.measuredSets(r, w) || e.measuredChange(r, w) {
		if g != nil || e.growthInColumns() {
			e.problem(r, job.Warning, job.NoColumn, words.ProblemChangeInstead.With(), words.Phrase{})
		}
		return
	}
	if g != nil {
		e.wantedFromSheet(r, g, w)
		return
	}
	var dv, tv [2]float64
	for p := range 2 {
		c := job.ColGrowth + job.ColumnID(p)
		m0, m1, ok1 := e.growth(r, c, c+2, false)
		s0, s1, ok2 := e.growth(r, c+4, c+6, true)
		if !ok1 || !ok2 {
			w.noWanted = true
			continue
		}
		d, t := -(m0 - s0), -(m1 - s1)
		off, so := e.num(job.ColRunningOffsetV + job.ColumnID(p))
		slope, st := e.num(job.ColRunningSlopeV + job.ColumnID(p))
		if so == unreadable || st == unreadable {
			w.noWanted = true
			continue
		}
		if so == fine {
			d += off
		} else if r.Coupling == tables.Universal {
			d = nan // the offset of a cross-and-yoke shaft is wanted as it is
		}
		if st == fine {
			t += slope
		}
		dv[p], tv[p] = d+0, t+0
	}
	in.Wanted = calc.Line{DV: dv[0], TV: tv[0], DH: dv[1], TH: tv[1]}
}

// growth is the growth of one machine in one plane as a line: at the coupling centre in mm, and its slope in mm/m.
func (e *Evaluator) growth(r *RowResult, near, far job.ColumnID, stationary bool) (at0, slope float64, ok bool) {
	a, sa := e.num(near)
	b, sb := e.num(far)
	switch {
	case sa == absent && sb == absent:
		return 0, 0, true
	case sa == unreadable || sb == unreadable:
		return 0, 0, false
	case sa == absent:
		e.missing(r, near, words.HintGrowthPair.With(far.Info().Name))
		return 0, 0, false
	case sb == absent:
		e.missing(r, far, words.HintGrowthPair.With(near.Info().Name))
		return 0, 0, false
	case a == b:
		return a, 0, true
	}
	need := func(id job.ColumnID) (float64, uint8) {
		if x, st := e.num(id); st == fine {
			return x, st // without the words of a hint
		}
		return e.need(r, id, words.HintGrowthDistance.With(near.Info().Name, far.Info().Name))
	}
	var xa, xb float64
	if stationary {
		n, sn := need(job.ColStationaryNear)
		f, sf := need(job.ColStationaryFar)
		if sn != fine || sf != fine {
			return 0, 0, false
		}
		if !(f > n) {
			if !r.told(job.ColStationaryFar) {
				e.problem(r, job.Error, job.ColStationaryFar, words.ProblemFarNear.With(e.Distance(f), e.Distance(n)), words.HintFarNear.With())
			}
			return 0, 0, false
		}
		xa, xb = -n, -f
	} else {
		x, sx := need(job.ColToFront)
		d, sd := need(job.ColFrontToRear)
		if sx != fine || sd != fine {
			return 0, 0, false
		}
		xa, xb = x, x+d
	}
	k := (b - a) / (xb - xa)
	return a - k*xa, k * 1000, true
}

package evaluate

import (
	"math"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// How far a foot on the Feet sheet may stand from where the columns of its machine put it before the two contradict each other: this share of the machine's length between its feet, and no
// less than so many mm. What is usual of a machine's feet across, as a share of that length. Common practice, no source.
const (
	placeShare, placeLeast = 0.1, 20.0
	narrowShare, wideShare = 0.08, 8.0
)

// footPlaces holds where the Feet sheet puts the feet of a machine against where its own columns do, and across against along: numbers in inches that are read in millimetres, or a tape that began
// at the front feet, would give other shims than the foot needs. A foot that contradicts the columns leaves the machine without
// shims; one without a word for its end that stands outside of them is asked about, for a machine may have more feet than its columns name.
func (e *Evaluator) footPlaces(r *RowResult, w *want) {
	g, in := e.sc.footing, &e.sc.in
	if g == nil || len(in.Feet) < 2 || r.OnFlange {
		return
	}
	first, last := in.Feet[0], in.Feet[len(in.Feet)-1]
	slack := max(placeShare*(last-first), placeLeast)
	if e.sc.state[job.ColToFront] == absent && e.sc.state[job.ColFrontToRear] == absent && e.odd(job.ColFrontToRear, last-first) { // they stand where Along says
		e.feetProblem(r, job.Warning, job.FeetAlong, g.row, e.oddText(job.ColFrontToRear, last-first, e.Distance(last-first), 0), words.HintOdd.With())
	}
	least, most := math.Inf(1), math.Inf(-1)
	for k := range g.feet {
		f := &g.feet[k]
		if Known(f.Across) {
			least, most = min(least, f.Across), max(most, f.Across)
		}
		x := f.Station
		if math.IsNaN(x) {
			continue
		}
		at, text, hard := nan, words.Phrase{}, f.end >= 0
		if hard {
			if at = in.Feet[[2]int{r.Front, r.Rear}[f.end]]; math.Abs(x-at) > slack {
				text = words.ProblemFootPlace.With(job.Quote(f.along), f.Name, e.Distance(x), e.Distance(at))
			}
		} else if x < first-slack || x > last+slack {
			at = first
			if math.Abs(x-last) < math.Abs(x-first) {
				at = last
			}
			text = words.ProblemFootOutside.With(job.Quote(f.along), f.Name, e.Distance(x), e.Distance(first), e.Distance(last))
		}
		if text.Empty() {
			continue
		}
		if u := f.meantIn(at, slack/2); u != units.None {
			text, hard = words.Joined(text, words.ProblemFootPlaceIn.With(u, e.Distance(f.alongUnit.FromBase(x)*u.ToBase(1)))), true
		}
		if !hard { // a foot more than the columns have
			e.feetProblem(r, job.Warning, job.FeetAlong, f.Row, text, words.HintFootPlace.With())
			continue
		}
		e.feetProblem(r, job.Error, job.FeetAlong, f.Row, text, words.HintFootPlace.With())
		w.noVerdict, w.noFeet = true, true
	}
	if apart := most - least; apart > 0 && (apart < narrowShare*(last-first) || apart > wideShare*(last-first)) && !e.set.plausibleOff {
		e.feetProblem(r, job.Warning, job.FeetAcross, g.row, words.ProblemFootNarrow.With(e.Distance(apart), e.Distance(last-first)), words.HintFootNarrow.With())
	}
}

// meantIn is the unit in which the number under Along, typed without one, would put the foot where the columns of its machine do; None where there is none.
func (f *footRow) meantIn(at, slack float64) units.Unit {
	if f.alongUnit == units.None {
		return units.None
	}
	for _, u := range [...]units.Unit{units.Inch, units.MM, units.CM, units.M, units.Foot} {
		if u != f.alongUnit && math.Abs(f.alongUnit.FromBase(f.Station)*u.ToBase(1)-at) <= slack {
			return u
		}
	}
	return units.None
}

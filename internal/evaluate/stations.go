package evaluate

import (
	"math"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
	"slices"
)

// stations settles where the feet stand, or the flange.
func (e *Evaluator) stations(r *RowResult, w *want) {
	sc := &e.sc
	in := &sc.in
	if a, st := e.num(job.ColStationaryToMovable); st == fine {
		s, s1 := e.num(job.ColToStationary)
		m, s2 := e.num(job.ColToMovable)
		if s1 == fine && s2 == fine && math.Abs(a-s-m) > tape {
			e.problem(r, job.Error, job.ColStationaryToMovable, words.ProblemChainDiffers.With(e.Distance(a), e.Distance(s+m)), words.HintChain.With())
			w.noLine = true
		}
	}
	if r.OnFlange {
		d, sd := e.num(job.ColBoltCircle)
		n, sn := e.num(job.ColBolts)
		can := n >= 3 && n <= 200
		if sd == fine && sn == fine && can {
			in.BoltCircleRadius, in.Bolts = d/2, int(n)
			switch x, st := e.num(job.ColToFlange); st {
			case fine:
				in.FlangeStation = x
			case unreadable:
				w.noFeet = true
			}
			return
		}
		if sn == fine && !can {
			e.problem(r, job.Error, job.ColBolts, words.ProblemBolts.With(n), words.HintBolts.With())
		}
		feet := sc.state[job.ColToFront] != absent || sc.state[job.ColFrontToRear] != absent
		if !feet || sd != absent || sn != absent {
			if sd == absent {
				e.missing(r, job.ColBoltCircle, words.HintFlange.With())
			}
			if sn == absent {
				e.missing(r, job.ColBolts, words.HintFlange.With())
			}
			w.noFeet = true
			return
		}
	}
	x, sx := e.num(job.ColToFront)
	if sx == absent {
		x, sx = e.chained(r, job.ColToFront)
	} else if c, sc := e.chained(r, job.ColToFront); sx == fine && sc == fine && math.Abs(c-x) > tape {
		e.problem(r, job.Error, job.ColMovableToFront, words.ProblemFrontDiffers.With(e.Distance(x), e.Distance(c)), words.HintChain.With())
		w.noFeet = true
		return
	}
	d, sd := e.num(job.ColFrontToRear)
	if sx != fine || sd != fine {
		if list := e.stationsFromFeet(); sx == absent && sd == absent && list != nil {
			sc.feet = append(sc.feet[:0], list...)
			for k := 1; k < len(list)-1; k++ {
				r.Further = append(r.Further, k)
			}
			r.Front, r.Rear, in.Feet = 0, len(list)-1, sc.feet
			return
		}
		if sx == absent && sd == absent {
			e.problem(r, job.Error, job.ColToFront, words.ProblemBothMissing.With(job.ColToFront.Info().Name, job.ColFrontToRear.Info().Name), words.HintFeet.With())
			r.names(job.ColFrontToRear)
		} else if sx == absent {
			e.missing(r, job.ColToFront, words.HintFeet.With())
		} else if sd == absent {
			e.missing(r, job.ColFrontToRear, words.HintFeet.With())
		}
		w.noFeet = true
		return
	}
	sc.feet = append(sc.feet[:0], x, x+d)
	if sc.state[job.ColFurther] != absent {
		var text, hint string
		if sc.further, text, hint = job.ParseDistances(sc.text[job.ColFurther], sc.unit[job.ColFurther], e.set.mark, sc.further[:0]); text != "" {
			sc.state[job.ColFurther] = unreadable
			e.problem(r, job.Error, job.ColFurther, words.Plain(text), words.Plain(hint))
			w.noFeet = true
			return
		}
		sc.feet = append(sc.feet, sc.further...)
		slices.Sort(sc.feet)
		for k := 1; k < len(sc.feet); k++ {
			if sc.feet[k] == sc.feet[k-1] {
				e.problem(r, job.Error, job.ColFurther, words.ProblemFeetSame.With(e.Distance(sc.feet[k])), words.HintFeetSame.With())
				w.noFeet = true
				return
			}
		}
		for _, f := range sc.further {
			r.Further = append(r.Further, slices.Index(sc.feet, f))
		}
	}
	r.Front, r.Rear = slices.Index(sc.feet, x), slices.Index(sc.feet, x+d)
	in.Feet = sc.feet
}

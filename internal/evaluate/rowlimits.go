package evaluate

import (
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
	"strconv"
	"strings"
)

// limits settles what the row is held to: of the row's own limits and those of its set for the speed the stricter each, unless the row says why a looser one of its
// own may hold. Where no set reaches the row its own limits hold alone, which is told.
func (e *Evaluator) limits(r *RowResult, w *want) {
	sc := &e.sc
	u := &r.Limits
	own, so := e.num(job.ColOffsetLimit)
	ownSlope, ss := e.num(job.ColSlopeLimit)
	if so == unreadable || ss == unreadable {
		w.noVerdict = true
	}
	u.Reason = strings.TrimSpace(sc.text[job.ColLimitReason])
	if so == fine {
		u.Offset, u.OwnOffset = own, true
	}
	if ss == fine {
		u.Slope, u.OwnSlope = ownSlope, true
	}
	sc.in.AddShares = e.set.addShares
	defer func() { sc.in.Limits = calc.Limits{Offset: u.Offset, Slope: u.Slope} }()
	row, set, text, id, hint := e.setRow(r)
	if !text.Empty() {
		if complete := ss == fine && (so == fine || !r.Coupling.ByOffset()); complete && id != job.ColLimits {
			alone := text // text itself would be kept for every row
			u.Alone = &alone
			return
		}
		if id != job.NoColumn { // none: the cell itself has said so
			e.problem(r, job.Error, id, text, hint)
		}
		w.noVerdict = true
		return
	}
	u.Set, u.UpTo, u.Source = set.Name, row.UpTo, row.Source
	u.Own = len(e.ownSets) > 0 && e.ownSet(set.Name) == set
	if r.Coupling.ByOffset() {
		u.Offset, u.OwnOffset = e.stricter(r, job.ColOffsetLimit, own, so == fine, row.Offset, e.Thickness)
	}
	u.Slope, u.OwnSlope = e.stricter(r, job.ColSlopeLimit, ownSlope, ss == fine, row.Slope, e.Slope)
}

// setRow is the row of the limit set that the machine is to be held to. A text says why there is none, and the column it is about.
func (e *Evaluator) setRow(r *RowResult) (row tables.LimitRow, set *tables.LimitSet, text words.Phrase, id job.ColumnID, hint words.Phrase) {
	sc := &e.sc
	speed, st := e.num(job.ColSpeed)
	if st == fine {
		r.Speed = speed
	}
	name := e.set.limits
	if sc.state[job.ColLimits] != absent {
		name = sc.text[job.ColLimits]
		if set = e.findSet(name); set == nil && e.badSets[nameKey(name)] == 0 {
			text, hint = e.noSuchSet(name)
			return row, nil, text, job.ColLimits, hint
		}
	} else if name != "" {
		set = e.findSet(name)
	}
	if st == unreadable {
		return row, nil, words.ProblemSpeedBad.With(), job.NoColumn, words.Phrase{}
	}
	if src := e.badSets[nameKey(name)]; src > 0 {
		return row, nil, words.ProblemBadSet.With(e.SheetName(job.LimitsSheet), strings.TrimSpace(name), src), job.ColLimits, words.HintLongBad.With()
	}
	if set == nil {
		return row, nil, words.ProblemNoDefaultSet.With(), job.ColLimits, e.hintSets()
	}
	kind := r.Coupling
	if r.OnFlange && len(set.Rows[tables.Flange]) > 0 {
		kind = tables.Flange
	}
	if st == absent {
		speed = nan
	}
	row, ok := set.At(kind, speed)
	switch {
	case ok:
		return row, set, words.Phrase{}, job.NoColumn, words.Phrase{}
	case len(set.Rows[kind]) == 0:
		return row, set, words.ProblemSetLacks.With(set.Name, kind), job.ColCoupling, words.HintOwnLimits.With()
	case st == absent:
		return row, set, words.ProblemNoSpeed.With(), job.ColSpeed, words.HintNoSpeed.With()
	}
	return row, set, words.ProblemSpeedPast.With(strconv.FormatFloat(set.Top(kind), 'g', -1, 64), set.Name, kind, strconv.FormatFloat(speed, 'g', -1, 64)), job.ColSpeed, words.HintOwnLimits.With()
}

// stricter chooses between a limit of the row's own and the set's.
func (e *Evaluator) stricter(r *RowResult, id job.ColumnID, own float64, typed bool, set float64, show func(float64) string) (limit float64, isOwn bool) {
	u := &r.Limits
	switch {
	case !typed:
		return set, false
	case !(own > set*(1+1e-9)):
		return own, true
	case u.Reason != "":
		u.LooserUsed = true
		return own, true
	}
	u.LooserRefused = true
	e.problem(r, job.Warning, id, words.ProblemLooserRefused.With(id.Info().Name, show(own), show(set), u.Set), words.HintLooserRefused.With())
	return set, false
}

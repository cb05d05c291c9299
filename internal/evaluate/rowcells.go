package evaluate

import (
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// readRow reads every known cell. It returns false if there is nothing to compute in the row.
func (e *Evaluator) readRow(i int, r *RowResult) bool {
	sc := &e.sc
	for _, id := range sc.ids {
		sc.state[id], sc.text[id], sc.val[id] = absent, "", nan
	}
	sc.ids, sc.clash = sc.ids[:0], false
	row := e.job.Machines.Rows[i]
	filled, said := false, ""
	if e.unitColumn >= 0 && e.unitColumn < len(row) && !job.NoWord(strings.TrimSpace(row[e.unitColumn])) {
		said = row[e.unitColumn]
	}
	for col, b := range e.bind {
		if col >= len(row) {
			break
		}
		if b.id == job.NoColumn && b.doubt == "" || b.id >= job.NumInputs || sc.round != nil && b.id != job.NoColumn && job.IsReading(b.id) {
			continue
		}
		s := row[col]
		if s == "" || job.Blank(s) {
			continue
		}
		if b.id == job.NoColumn {
			if !job.NotGiven(s) {
				e.problem(r, job.Error, job.NoColumn, words.ProblemDoubtCell.With(job.Quote(s), job.Quote(b.doubt)), words.HintHeaderDoubt.With())
				r.names(b.could[0], b.could[1])
				r.Problems[len(r.Problems)-1].Col = col
				sc.clash = true
			}
			continue
		}
		if b.other {
			continue
		}
		if q := b.id.Info().Quantity; q != job.QText && job.NotGiven(s) || q == job.QText && b.id != job.ColNote && job.NoWord(s) {
			r.dashes.set(b.id)
			continue
		}
		filled = filled || b.id != job.ColNote
		id := b.id
		if sc.state[id] != absent {
			e.second(r, id, col, s, b.unit)
			continue
		}
		unit := b.unit
		if said != "" {
			var why string
			if unit, why = job.RowUnit(said, id.Info().Quantity, b.unit, b.own); why != "" && !job.BearsUnit(s, id.Info().Quantity, unit, e.set.mark) {
				sc.ids = append(sc.ids, id)
				sc.text[id], sc.col[id], sc.unit[id], sc.state[id], sc.val[id] = s, int16(col), unit, unreadable, nan
				e.problem(r, job.Error, id, words.Plain(why), words.HintUnitColumn.With())
				continue
			}
		}
		sc.ids = append(sc.ids, id)
		sc.text[id], sc.col[id], sc.unit[id] = s, int16(col), unit
		sc.state[id] = fine
		e.readCell(r, id, s, unit)
	}
	if sc.round != nil {
		for _, c := range sc.round.cells {
			sc.ids = append(sc.ids, c.id)
			sc.text[c.id], sc.col[c.id], sc.unit[c.id] = c.text, int16(c.col), c.unit
			sc.state[c.id] = fine
			e.readCell(r, c.id, c.text, c.unit)
		}
	}
	return filled
}

// readCell reads one cell into the scratch.
func (e *Evaluator) readCell(r *RowResult, id job.ColumnID, s string, unit units.Unit) {
	sc := &e.sc
	q := id.Info().Quantity
	var text, hint words.Phrase
	if id != job.ColNote && job.Ditto(s) {
		sc.state[id], sc.val[id] = unreadable, nan
		e.problem(r, job.Error, id, words.ProblemDitto.With(job.Quote(s)), words.HintDitto.With())
		return
	}
	switch q {
	case job.QText, job.QSweep, job.QDistances:
		return
	case job.QChoice:
		k, ok := job.ChoiceIndex(id, s)
		if ok {
			sc.val[id] = float64(k)
			return
		}
		text, hint = words.ProblemNotAWord.With(job.Quote(s)), words.Plain(job.HintChoices(id))
	default:
		x, wrong, right := job.ParseQuantity(s, q, unit, e.set.mark)
		if wrong != "" {
			text, hint = words.Plain(wrong), words.Plain(right)
		} else {
			if least, strictly := job.LeastValue(id); x < least || strictly && x == least {
				text, hint = words.ProblemTooSmall.With(job.Quote(s)), words.HintNotNegative.With()
				if strictly {
					hint = words.HintPositive.With()
				}
			} else {
				if id == job.ColSpeed && x >= 24 && x <= 60 && unit == units.RPM && job.IsBareNumber(s) && !e.namesSpeedUnit(int(sc.col[id])) {
					e.problem(r, job.Warning, id, words.ProblemSpeedHz.With(job.Quote(s)), words.HintSpeedHz.With())
				}
				if q == job.QDistance && unit == units.MM && !e.bind[sc.col[id]].own && e.unitColumn < 0 && inchFraction(s) {
					e.problem(r, job.Warning, id, words.ProblemFraction.With(job.Quote(s)), words.HintFraction.With())
				}
				if e.odd(id, x) && sc.round != nil && job.IsReading(id) {
					e.problem(r, job.Warning, id, e.oddText(id, x, s, 0), words.HintOdd.With())
				} else if e.odd(id, x) {
					r.odd.set(id)
				}
				sc.val[id] = x
				return
			}
		}
	}
	sc.state[id], sc.val[id] = unreadable, nan
	e.problem(r, job.Error, id, text, hint)
}

// namesSpeedUnit says whether the header of a column says what speeds are in: its unit, or a name such as rpm.
func (e *Evaluator) namesSpeedUnit(col int) bool {
	h := strings.ToLower(e.job.Machines.Header[col])
	return e.bind[col].own || e.unitColumn >= 0 || strings.Contains(h, "rpm") || strings.Contains(h, "min")
}

// inchFraction says whether a bare number ends in halves, quarters … as a tape in inches is read.
func inchFraction(s string) bool {
	front, below, ok := strings.Cut(strings.TrimSpace(s), "/")
	if !ok || front == "" || strings.Trim(front, "0123456789 -") != "" {
		return false
	}
	switch below {
	case "2", "4", "8", "16", "32", "64":
		return true
	}
	return false
}

// second meets a column that was filled before in the same row.
func (e *Evaluator) second(r *RowResult, id job.ColumnID, col int, s string, unit units.Unit) {
	sc := &e.sc
	if sameText := strings.TrimSpace(s) == strings.TrimSpace(sc.text[id]); sameText && unit == sc.unit[id] {
		return
	}
	switch q := id.Info().Quantity; q {
	case job.QText, job.QSweep, job.QDistances:
	case job.QChoice:
		if k, ok := job.ChoiceIndex(id, s); ok && sc.val[id] == float64(k) {
			return
		}
	default:
		if x, text, _ := job.ParseQuantity(s, q, unit, e.set.mark); text == "" && x == sc.val[id] {
			return
		}
	}
	e.problem(r, job.Error, id, words.ProblemTwoValues.With(int(sc.col[id]+1), col+1, job.Quote(sc.text[id]), job.Quote(s)), words.HintTwoValues.With())
	r.Problems[len(r.Problems)-1].Col = col
	sc.clash = true
}

// num is a cell's number with its state.
func (e *Evaluator) num(id job.ColumnID) (float64, uint8) { return e.sc.val[id], e.sc.state[id] }

// problem records one problem of the row. id none: of the row as a whole.
func (e *Evaluator) problem(r *RowResult, sev job.Severity, id job.ColumnID, text, hint words.Phrase) {
	p := job.Problem{Severity: sev, File: e.job.Machines.File, Sheet: e.SheetName(job.MachinesSheet), Row: r.Row, Text: text, Hint: hint, Col: -1}
	if id != job.NoColumn {
		p.Column, p.Col = id.Info().Name, e.Column(id)
		if id < job.NumInputs && e.sc.state[id] != absent {
			p.Col = int(e.sc.col[id])
		}
	}
	if e.sc.round != nil && id != job.NoColumn && job.IsReading(id) && e.sc.round.Row > 0 {
		p.File, p.Sheet, p.Row = e.job.Table(job.RoundsSheet).File, e.SheetName(job.RoundsSheet), e.sc.round.Row
		if id >= job.NumInputs || e.sc.state[id] == absent {
			p.Col = -1
		}
	}
	r.Problems = append(r.Problems, p)
	if sev == job.Error {
		r.names(id)
	}
}

// names notes that an error of the row is of columns or names them.
func (r *RowResult) names(list ...job.ColumnID) {
	for _, id := range list {
		if id != job.NoColumn && id < job.NumInputs {
			r.asked.set(id)
		}
	}
}

// missing records that a column the row needs is not filled.
func (e *Evaluator) missing(r *RowResult, id job.ColumnID, hint words.Phrase) {
	e.problem(r, job.Error, id, words.ProblemMissing.With(id.Info().Name), hint)
}

// told says whether an error of the row is of a column or names it, so that what several parts of the row need is asked for once.
func (r *RowResult) told(id job.ColumnID) bool { return r.asked.has(id) }

// need is a distance the row cannot do without: typed, or worked out by tape. NaN: it is not to be had, and the row says so once.
func (e *Evaluator) need(r *RowResult, id job.ColumnID, hint words.Phrase) (float64, uint8) {
	v, st := e.num(id)
	if st == absent {
		v, st = e.chained(r, id)
	}
	if st == absent {
		if !r.told(id) {
			e.missing(r, id, hint)
		}
		for k := range r.Problems { // more than shims hangs on it
			if p := &r.Problems[k]; p.Hint.Is(words.HintFeet) && p.Text.Names(id.Info().Name) {
				p.Hint = hint
			}
		}
	}
	if st != fine {
		v = nan
	}
	return v, st
}

// chained works a distance out from distances by tape.
func (e *Evaluator) chained(r *RowResult, id job.ColumnID) (float64, uint8) {
	other := job.NoColumn
	switch id {
	case job.ColToStationary:
		other = job.ColToMovable
	case job.ColToMovable:
		other = job.ColToStationary
	case job.ColToFront:
		a, sa := e.num(job.ColMovableToFront)
		if sa != fine {
			return nan, sa
		}
		b, sb := e.num(job.ColToMovable)
		if sb == absent {
			b, sb = e.chained(r, job.ColToMovable)
		}
		return a + b, sb
	default:
		return nan, absent
	}
	a, sa := e.num(job.ColStationaryToMovable)
	b, sb := e.num(other)
	if sa == unreadable || sb == unreadable {
		return nan, unreadable
	}
	if sa == absent || sb == absent {
		return nan, absent
	}
	if a < b {
		e.problem(r, job.Error, job.ColStationaryToMovable, words.ProblemChainShort.With(e.Distance(a), other.Info().Name, e.Distance(b)), words.HintChain.With())
		r.names(other)
		e.sc.state[job.ColStationaryToMovable] = unreadable
		return nan, unreadable
	}
	return a - b, fine
}

// trust returns graduation and standard uncertainty of one reading: the row's own, else those given.
func (e *Evaluator) trust(t tables.Trust) (graduation, u float64) {
	if v, st := e.num(job.ColGraduation); st == fine {
		t.Graduation = v
	}
	if v, st := e.num(job.ColRepeatability); st == fine {
		t.Repeatability = v
	}
	return t.Graduation, t.U()
}

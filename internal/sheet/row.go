package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

var nan = math.NaN()

// The states of a cell of the row being read.
const (
	absent uint8 = iota
	fine
	unreadable // a problem was recorded
)

// scratch is the row being read. It is used again for every row.
type scratch struct {
	ids   []job.ColumnID // what is set
	clash bool           // a column stands twice with different values
	val   [job.NumInputs]float64
	text  [job.NumInputs]string
	state [job.NumInputs]uint8
	col   [job.NumInputs]int16
	unit  [job.NumInputs]units.Unit

	in      calc.Input
	sweeps  []calc.Sweep
	fam     []job.Family // of each sweep
	textual []bool       // of each sweep: read at free angles
	numbers []float64
	further []float64
	feet    []float64
	footing *feetRows     // what the Feet sheet says of the row's machine, nil nothing
	long    *longReadings // what the Readings sheet says of it, nil nothing
	round   *roundRow     // whose readings are taken, nil the row's own
	found   *RowResult    // of the round found, while later ones are worked out
	packs   []footPack    // what the last round says lies under the feet, nil nothing
	hot     bool          // the readings are those of a round hot
	cooling *RowResult    // of the last cold round before it, nil none
	cold    bool          // its cold set is what was found
	plan    *RowPlan      // what the chosen plan of its train asks of it, nil nothing
	set     calc.Result   // of a set of readings that serves the wanted line
}

// want says which parts of a row could be worked out.
type want struct {
	noLine, noWanted, noFeet, noVerdict bool
}

// judged says whether nothing stands in the way of a verdict.
func (w *want) judged() bool { return !w.noLine && !w.noVerdict && !w.noWanted }

// evalRound works row i out with the readings of one round; nil: with those of its own row. The row's other cells count in every round.
func (e *Evaluator) evalRound(i int, r *RowResult, round *roundRow) {
	e.sc.round = nil
	if round != nil && round.Row > 0 || round != nil && round.Name == stateWaiting {
		e.sc.round = round
	}
	t := e.job.Machines
	*r = RowResult{
		Row: t.SourceRow(i), Front: -1, Rear: -1,
		Limits: Used{Offset: nan, Slope: nan, UpTo: nan},
		Speed:  nan,
		Offset: noVector, Slope: noVector,
		Wanted: calc.Line{DV: nan, TV: nan, DH: nan, TH: nan},
		// Memory used again.
		Calc: r.Calc, Sweeps: r.Sweeps[:0], models: r.models[:0], Further: r.Further[:0], Problems: r.Problems[:0], Findings: r.Findings[:0], Hints: r.Hints[:0],
	}
	var w want
	if !e.understand(i, r, &w) {
		e.nothing(r)
		return
	}
	e.softFoot(r)
	in := &e.sc.in
	if w.noLine {
		r.stopped = true
		if r.Growth != nil && r.Growth.Measured {
			r.Growth = nil // told of with the line
		}
		e.nothing(r)
		e.finish(r, &w)
		return
	}
	if w.noFeet {
		in.Feet, in.Bolts = nil, 0
	}
	calc.Solve(in, &r.Calc)
	r.Wanted = r.Calc.Wanted
	e.settleChange(r, &w)
	e.asFound(r)
	if w.noWanted {
		withdraw(&r.Calc)
		r.Wanted = calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}
	}
	e.status(r, &w)
	if len(r.Calc.Feet) == 0 {
		r.Front, r.Rear, r.Further = -1, -1, r.Further[:0]
	}
	if len(in.Sweeps) > 0 {
		r.Findings = calc.Diagnose(in, &r.Calc, r.Findings)
		for k := range r.Findings {
			if h := e.findingText(&r.Findings[k], in.Sweeps, r.Sweeps, e.sc.textual); h != "" {
				r.Hints = append(r.Hints, h)
				if r.Findings[k].Kind == calc.AllTooLarge && r.Calc.Status == calc.OK {
					e.problem(r, job.Warning, job.NoColumn, h, words.HintUnitAsked.String())
				}
			}
		}
		e.explain(r)
	}
	leave := r.Calc.Found.Verdict == calc.Inside && w.judged() && r.Plan == nil // the machine stays where it stands
	switch {
	case r.Feet != nil:
		r.Feet.Leave = leave
		e.footPacks(r)
	case r.Calc.HasAfter && len(r.Calc.Feet) == 2 && r.Plan == nil && r.packsDecide():
		r.Together = calc.ChooseTogether(in, &r.Calc, 0, 0)
	}
	e.takeShared(i, r)
	e.roomProblems(r)
	for k := range r.Calc.Feet {
		f := &r.Calc.Feet[k]
		if in.Packer == nil || f.Pack.OK || math.IsNaN(f.Shim) || r.Feet != nil || r.Together || leave {
			continue
		}
		sev := job.Note // between two packs of the stock; the line after tells whether it is good enough
		if math.Abs(f.Pack.Error) > e.set.packTol+e.thinnest/2 {
			sev = job.Warning
		}
		e.problem(r, sev, job.NoColumn, words.ProblemPackOff.Say(e.footName(r, k), e.thick(math.Abs(f.Shim)), e.sumWords(f.Pack.Sum)), words.HintPackOff.String())
	}
	if !leave {
		e.pairRooms(r)
	}
	r.Axial = e.axial(r, leave)
	e.finish(r, &w)
}

// understand reads row i into the scratch and makes it the calculation's input. It returns false if the row holds no coupling.
func (e *Evaluator) understand(i int, r *RowResult, w *want) bool {
	if e.known == 0 {
		return false
	}
	r.odd, r.dashes = columnSet{}, columnSet{}
	filled := e.readRow(i, r)
	if !filled && job.BlankRow(e.job.Machines.Rows[i]) {
		return false
	}
	if e.isHeader(i) {
		r.Kind = HeaderRow
		r.Problems = r.Problems[:0]
		e.problem(r, job.Warning, job.NoColumn, job.MsgHeaderAgain, "")
		return false
	}
	out, doubt := e.noMachine(i, r)
	if out || !filled {
		return false
	}
	r.Kind = MachineRow
	if h := e.ruledBy(i); h == i {
		r.Kind = HeaderRow
		r.Problems = r.Problems[:0]
		e.problem(r, job.Warning, job.NoColumn, words.ProblemHeaderOther.String(), words.HintOtherHeader.String())
		return false
	} else if h >= 0 {
		e.problem(r, job.Error, job.NoColumn, words.ProblemOtherHeader.Say(e.job.Machines.SourceRow(h)), words.HintOtherHeader.String())
		w.noLine = true
	}
	sc := &e.sc
	e.seenFrom(r, w)
	if e.set.unitsBad {
		e.problem(r, job.Error, job.NoColumn, words.ProblemUnitsBad.String(), words.HintUnitsBad.String())
		w.noLine = true
	}
	if r.Name = strings.TrimSpace(sc.text[job.ColMachine]); r.Name == "" {
		r.Name = words.ProblemRowName.String() + strconv.Itoa(r.Row)
		if e.names {
			e.problem(r, job.Error, job.ColMachine, words.ProblemNoNameInList.String(), words.HintNoNameInList.String())
			w.noLine = true
		} else {
			e.problem(r, job.Warning, job.ColMachine, words.ProblemNoName.String(), words.HintNoName.String())
		}
	} else if doubt {
		e.problem(r, job.Error, job.ColMachine, words.ProblemTotalOrMachine.Say(job.Quote(r.Name)), words.HintTotalOrMachine.String())
		w.noLine = true
	} else if d := e.dups[i]; d >= 0 {
		e.problem(r, job.Error, job.ColMachine, words.ProblemNameTaken.Say(r.Name, e.job.Machines.SourceRow(int(d))), words.HintNameTaken.String())
		w.noVerdict = true
	}
	w.noLine = w.noLine || sc.clash
	e.ask(i, r, w)

	in := &sc.in
	*in = calc.Input{
		Given:         calc.Line{DV: nan, TV: nan, DH: nan, TH: nan},
		Length:        nan,
		Limits:        calc.Limits{Offset: nan, Slope: nan},
		Packer:        e.packer,
		MoveStep:      e.set.moveStep,
		Checks:        e.set.checks,
		FlangeStation: nan,
		Mirrored:      r.FromStationary,
	}
	if r.Plan = sc.plan; r.Plan != nil {
		in.Planned = &r.Plan.Planned
	}
	e.takeFeet(i, r, w)
	if m := e.checks[e.keys[i]]; m != nil {
		r.Checks = m.list
	}
	e.coupling(r, w)
	if v, st := e.num(job.ColPriority); st == fine {
		r.Priority = int(v)
	}
	if !e.readings(i, r) {
		w.noLine = true
	}
	if v, st := e.num(job.ColSpacerLength); st == fine {
		in.Length = v
	} else if r.Coupling == tables.Spacer && !w.noLine {
		if st == absent && r.Method != job.FaceAndFace { // which has said so already
			e.missing(r, job.ColSpacerLength, words.HintSpacer.String())
		}
		w.noVerdict = true
	}
	in.Coupling, in.UDistance = r.Coupling, e.set.distanceU
	if sc.state[job.ColGraduation] == unreadable || sc.state[job.ColRepeatability] == unreadable {
		w.noVerdict = true
	}
	w.noVerdict = w.noVerdict || r.sagHeld
	e.stations(r, w)
	e.limits(r, w)
	e.wanted(i, r, w)
	return true
}

// sideName is the name of a side as typed. A number there is no name but a reading or a move that slipped a column: it is asked about, and the side goes by its
// clock position.
func (e *Evaluator) sideName(r *RowResult, id job.ColumnID) string {
	name := strings.TrimSpace(e.sc.text[id])
	if !strings.ContainsAny(name, "0123456789") {
		return name
	}
	if _, err := units.Parse(name, units.Length, units.MM, e.Decimal()); err != nil {
		return name
	}
	e.problem(r, job.Warning, id, words.ProblemSideNumber.Say(job.Quote(name)), words.HintSideNumber.String())
	return ""
}

// seenFrom settles where the person stood who named clock positions and sides, and with it the names of the sides. Seen from behind the stationary machine 3 and 9 o'clock change
// places: every H turns over, on the row and on the other sheets, and so do left and right and the names of the sides. Up stays up, and which hub a plunger rides on does not depend
// on who looks.
//
// Reference: documents that look from the pump to the motor, US Bureau of Reclamation FIST 2-1, and FIST 4-1A pp. 22 and 24.
func (e *Evaluator) seenFrom(r *RowResult, w *want) {
	sc := &e.sc
	r.FromStationary = e.set.seenFrom == 1
	switch v, st := e.num(job.ColSeenFrom); {
	case st == fine:
		r.FromStationary = v == 1
	case st == unreadable || e.set.seenBad:
		w.noLine = true
		if st == absent {
			e.problem(r, job.Error, job.NoColumn, words.ProblemSeenBad.String(), job.HintChoices(job.SettingSeenFrom))
		}
	}
	r.Side3, r.Side9 = e.sideName(r, job.ColSide3), e.sideName(r, job.ColSide9)
	if !r.FromStationary {
		return
	}
	r.Side3, r.Side9 = r.Side9, r.Side3
	turn := func(id job.ColumnID) {
		if sc.state[id] == fine {
			sc.val[id] = 0 - sc.val[id]
		}
	}
	for _, id := range [...]job.ColumnID{job.ColGivenOffsetH, job.ColGivenSlopeH, job.ColGivenGapH, job.ColRunningOffsetH, job.ColRunningSlopeH, job.ColChangeOffsetH, job.ColChangeSlopeH, job.ColColdOffsetH, job.ColColdSlopeH} {
		turn(id)
	}
	for s := range numSupports {
		turn(job.ColGrowth + job.ColumnID(2*s) + 1)
	}
	for _, id := range [...]job.ColumnID{job.ColRoom + 2, job.ColRoom + 6} { // left and right
		sc.val[id], sc.val[id+1] = sc.val[id+1], sc.val[id]
		sc.state[id], sc.state[id+1] = sc.state[id+1], sc.state[id]
	}
}

// packsDecide says whether the line after is not inside and other packs could bring it there: what no shim changes, the readings' uncertainty and what is left
// sideways, fits into every limit. It is asked for every row, and spares most of them the search.
func (r *RowResult) packsDecide() bool {
	a, found := &r.Calc.AfterJ, &r.Calc.Found
	if a.Verdict != calc.Outside && a.Verdict != calc.TooClose {
		return false
	}
	fits := func(v, u *calc.Vector, limit float64) bool {
		return math.Abs(v.H)+min(u.UV, u.UH) <= limit || math.IsNaN(v.H) || math.IsNaN(limit)
	}
	l := &r.Limits
	if r.Coupling == tables.Spacer {
		return fits(&a.FlexS, &found.FlexS, l.Slope) && fits(&a.FlexM, &found.FlexM, l.Slope)
	}
	return fits(&a.Slope, &found.Slope, l.Slope) && (r.Coupling == tables.Universal || fits(&a.Offset, &found.Offset, l.Offset))
}

// nothing fills the numbers of a row that has none.
func (e *Evaluator) nothing(r *RowResult) {
	in := calc.Input{Given: calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}, Length: nan, Limits: calc.Limits{Offset: nan, Slope: nan}}
	calc.Solve(&in, &r.Calc)
	r.Sweeps = r.Sweeps[:0]
	r.Front, r.Rear, r.Further = -1, -1, r.Further[:0]
}

// finish settles the verdict and the reasons.
func (e *Evaluator) finish(r *RowResult, w *want) {
	r.train = e.inTrain(w)
	r.Verdict, r.AfterVerdict = r.Calc.Found.Verdict, r.Calc.AfterJ.Verdict
	if !w.judged() {
		r.Verdict, r.AfterVerdict = calc.NotJudged, calc.NotJudged
	}
	// A cell nobody needed spoils nothing.
	for k := range r.Problems {
		p := &r.Problems[k]
		if p.Severity != job.Error || p.Col < 0 || p.Col >= len(e.bind) {
			continue
		}
		if id := e.bind[p.Col].id; id >= 0 && id < job.NumInputs && e.sc.state[id] == unreadable && !e.needed(id, r) {
			p.Severity = job.Warning
		}
	}
	n := 0
	for k := range r.Problems {
		if r.Problems[k].Severity == job.Error {
			if n++; n == 1 {
				r.Why = r.Problems[k].Text
			} else {
				r.Why += "; " + r.Problems[k].Text
			}
			if p := &r.Problems[k]; p.Column != "" && !strings.Contains(p.Text, p.Column) {
				r.Why = strings.TrimSuffix(r.Why, p.Text) + p.Column + ": " + p.Text
			}
		}
	}
}

// needed says whether the row had a use for a column that could not be read.
func (e *Evaluator) needed(id job.ColumnID, r *RowResult) bool {
	switch {
	case job.SweepsUse(id, r.setSweeps):
		return true
	case id == job.ColMovableSweep, id == job.ColStationarySweep:
		return r.Method == job.MethodBlank || r.Method.Reads().Has(job.Family(id-job.ColMovableSweep))
	case id >= job.ColReading && id < job.ColMovableSag || id >= job.ColMovableSag && id <= job.ColGivenSlopeU || id == job.ColToStationary || id == job.ColToMovable || id == job.ColToSecond || id == job.ColStationaryToMovable || id == job.ColFaceDiameter || id == job.ColFaceSide:
		return r.Method == job.MethodBlank || job.UsedBy(id, r.Method)
	case id == job.ColBoltCircle, id == job.ColBolts, id == job.ColToFlange:
		return r.OnFlange
	case id == job.ColSpacerLength:
		return r.Coupling == tables.Spacer || r.Coupling == tables.Universal || r.Method == job.FaceAndFace
	case id >= job.ColShaftGap:
		return false
	}
	return true
}

var noVector = calc.Vector{V: nan, H: nan, Total: nan, UV: nan, UH: nan, UTotal: nan}

// withdraw takes back what hangs on a wanted line that is not known.
func withdraw(c *calc.Result) {
	j := calc.Judgement{Offset: noVector, Slope: noVector, FlexS: noVector, FlexM: noVector, Share: nan, Chance: nan}
	c.Found, c.AfterJ = j, j
	c.Feet, c.BoltShims, c.BoltPacks = c.Feet[:0], c.BoltShims[:0], c.BoltPacks[:0]
	c.SlideV, c.SlideH, c.HasAfter = nan, nan, false
	c.After = calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}
}

// asFound fills in the line as found with its uncertainty.
func (e *Evaluator) asFound(r *RowResult) {
	l, c := &r.Calc.Line, &r.Calc.Cov
	r.Offset = vector(l.DV, l.DH, c[0][0], c[0][2], c[2][2])
	r.Slope = vector(l.TV, l.TH, c[1][1], c[1][3], c[3][3])
}

// vector joins two planes: the magnitude, and uncertainties expanded with k = 2, that of the magnitude along the vector.
func vector(v, h, vv, vh, hh float64) calc.Vector {
	x := calc.Vector{V: v, H: h, Total: math.Hypot(v, h), UV: 2 * math.Sqrt(max(vv, 0)), UH: 2 * math.Sqrt(max(hh, 0))}
	if x.Total > 0 {
		a, b := v/x.Total, h/x.Total
		x.UTotal = 2 * math.Sqrt(max(vv*a*a+2*vh*a*b+hh*b*b, 0))
	} else {
		x.UTotal = 2 * math.Sqrt(max(0.5*(vv+hh)+math.Hypot(0.5*(vv-hh), vh), 0))
	}
	return x
}

// problem records one problem of the row. id none: of the row as a whole.
func (e *Evaluator) problem(r *RowResult, sev job.Severity, id job.ColumnID, text, hint string) {
	p := job.Problem{Severity: sev, File: e.job.Machines.File, Sheet: e.SheetName(job.MachinesSheet), Row: r.Row, Text: text, Hint: hint, Col: -1}
	if id != job.NoColumn {
		p.Column, p.Col = id.Info().Name, e.column(id)
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
func (e *Evaluator) missing(r *RowResult, id job.ColumnID, hint string) {
	e.problem(r, job.Error, id, fmt.Sprintf(job.MsgMissing, id.Info().Name), hint)
}

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
				e.problem(r, job.Error, job.NoColumn, words.ProblemDoubtCell.Say(job.Quote(s), job.Quote(b.doubt)), words.HintHeaderDoubt.String())
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
				e.problem(r, job.Error, id, why, words.HintUnitColumn.String())
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
	var text, hint string
	switch q {
	case job.QText, job.QSweep, job.QDistances:
		return
	case job.QChoice:
		k, ok := job.ChoiceIndex(id, s)
		if ok {
			sc.val[id] = float64(k)
			return
		}
		text, hint = words.ProblemNotAWord.Say(job.Quote(s)), job.HintChoices(id)
	default:
		var x float64
		if x, text, hint = job.ParseQuantity(s, q, unit, e.set.mark); text == "" {
			if least, strictly := job.LeastValue(id); x < least || strictly && x == least {
				text, hint = fmt.Sprintf(job.MsgTooSmall, job.Quote(s)), job.HintNotNegative
				if strictly {
					hint = job.HintPositive
				}
			} else {
				if e.odd(id, x) && sc.round != nil && job.IsReading(id) {
					e.problem(r, job.Warning, id, e.oddText(id, x, s, 0), words.HintOdd.String())
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
	e.problem(r, job.Error, id, words.ProblemTwoValues.Say(int(sc.col[id]+1), col+1, job.Quote(sc.text[id]), job.Quote(s)), job.HintTwoValues)
	r.Problems[len(r.Problems)-1].Col = col
	sc.clash = true
}

// num is a cell's number with its state.
func (e *Evaluator) num(id job.ColumnID) (float64, uint8) { return e.sc.val[id], e.sc.state[id] }

// coupling settles the kind of coupling, and how the machine is mounted.
func (e *Evaluator) coupling(r *RowResult, w *want) {
	sc := &e.sc
	r.Coupling, r.OnFlange = e.set.coupling, e.set.onFlange
	named := false // the Coupling cell says that the machine is on a flange
	switch v, st := e.num(job.ColCoupling); {
	case st == fine:
		r.Coupling = job.CouplingKinds[int(v)]
		named = job.IsFlangeWord(sc.text[job.ColCoupling])
		r.OnFlange = named
	case st == unreadable:
		w.noVerdict = true
	case sc.state[job.ColMethod] == fine && methodOf(sc.val[job.ColMethod]) == job.FaceAndFace:
		r.Coupling = tables.Spacer
	case sc.state[job.ColSpacerLength] != absent && r.Coupling == tables.Flexible:
		r.Coupling, r.SpacerInferred = tables.Spacer, true
	}
	switch v, st := e.num(job.ColMounting); {
	case st == unreadable:
		w.noVerdict, w.noFeet = true, true
	case st == fine && v == 0 && named:
		e.problem(r, job.Error, job.ColMounting, words.ProblemMountedBoth.Say(job.Quote(sc.text[job.ColCoupling])), words.HintMountedBoth.String())
		w.noVerdict, w.noFeet = true, true
	case st == fine:
		r.OnFlange = v == 1
	}
	if e.rigidRunout(r) {
		e.problem(r, job.Note, job.ColCoupling, words.ProblemRigidRunout.String(), words.HintRigidRunout.String())
	}
}

// methodOf is the method of a choice of the Method column.
func methodOf(choice float64) job.Method { return job.Method(int(choice)) + 1 }

// readings settles the method and makes the sweeps, or the given line. It returns false, with the reasons recorded, if there can be no line.
func (e *Evaluator) readings(i int, r *RowResult) bool {
	sc := &e.sc
	sc.sweeps, sc.fam, sc.textual, sc.numbers = sc.sweeps[:0], sc.fam[:0], sc.textual[:0], sc.numbers[:0]
	sc.long, sc.cold = nil, false
	if k := e.keys[i]; k != "" {
		sc.long = e.long[k]
	}
	long := sc.long.set(foundSet)
	if sc.round != nil {
		long = nil // those are of the round found
	}

	var have, texts job.FamilySet
	given := false
	for _, id := range sc.ids {
		switch {
		case id >= job.ColReading && id < job.ColMovableSag:
			have |= 1 << ((id - job.ColReading) / job.NumPositions)
		case id == job.ColMovableSweep:
			texts |= 1 << job.MovableRim
		case id == job.ColStationarySweep:
			texts |= 1 << job.StationaryRim
		case id >= job.ColGivenOffsetV && id <= job.ColGivenGapH:
			given = true
		}
	}
	free := texts != 0
	if given = given && (sc.state[job.ColMethod] != fine || methodOf(sc.val[job.ColMethod]) == job.GivenLineMethod); sc.round == nil && long == nil && have|texts == 0 && !given {
		long = sc.long.set(coldSet) // found cold, and nothing else was
		sc.cold = long != nil
	}
	if long != nil {
		if have|texts != 0 {
			e.problem(r, job.Warning, job.NoColumn, words.ProblemLongInstead.String(), "")
		}
		have, texts, free = long.families(), 0, true
		if long.bad > 0 {
			e.problem(r, job.Error, job.NoColumn, words.ProblemLongBad.Say(long.bad), words.HintLongBad.String())
			return false
		}
	}
	all := have | texts

	switch v, st := e.num(job.ColMethod); {
	case st == fine:
		r.Method = methodOf(v)
	case st == unreadable:
		return false
	default:
		r.MethodInferred = true
		r.Method = infer(all, free, given)
		if r.Method == job.MethodBlank {
			if sc.long.set(hotSet) != nil {
				e.problem(r, job.Error, job.NoColumn, words.ProblemHotAlone.String(), words.HintHotAlone.String())
			} else if sc.round != nil && sc.round.Struck != "" {
				e.problem(r, job.Error, job.NoColumn, words.ProblemAllStruck.String(), words.HintAllStruck.String())
			} else if name := e.resultTyped(i); name != "" {
				e.problem(r, job.Error, job.NoColumn, words.ProblemNoReadings.String(), words.HintResultTyped.Say(name))
			} else {
				e.problem(r, job.Error, job.NoColumn, words.ProblemNoReadings.String(), words.HintNoReadings.String())
			}
			return false
		}
		if r.Method == job.FaceAndFace && sc.state[job.ColCoupling] == absent {
			r.Coupling, r.SpacerInferred = tables.Spacer, false
		}
	}
	if r.Method == job.GivenLineMethod {
		if all != 0 {
			e.problem(r, job.Warning, job.NoColumn, words.ProblemUnusedReadings.Say(job.FamilyNames(all), r.Method), "")
		}
		return e.given(r)
	}
	if given {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemUnusedGiven.Say(r.Method), words.HintUnusedGiven.String())
	}
	use := all & r.Method.Reads()
	if extra := all &^ r.Method.Reads(); extra != 0 {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemUnusedReadings.Say(job.FamilyNames(extra), r.Method), words.HintUnusedReadings.String())
	}

	ok := true
	absentFamily := func(f job.Family) {
		e.problem(r, job.Error, job.ReadingColumn(f, job.At12), words.ProblemNoFamily.Say(f.String()), words.HintNoFamily.Say(f.String()))
		r.Problems[len(r.Problems)-1].Column = f.String()
		ok = false
	}
	switch r.Method {
	case job.RimAndFace:
		if use&job.Rims == 0 {
			absentFamily(job.MovableRim)
		}
		if use&job.Faces == 0 {
			absentFamily(job.Face)
		}
	case job.Sweeps:
		if use == 0 {
			e.problem(r, job.Error, job.NoColumn, words.ProblemNoReadings.String(), words.HintNoReadings.String())
			return false
		}
	default:
		for _, f := range r.Method.Families() {
			if !use.Has(f) {
				absentFamily(f)
			}
		}
	}
	for f := range job.NumFamilies {
		if !use.Has(f) {
			continue
		}
		start := len(sc.numbers)
		if long != nil {
			ok = e.sweep(r, f, long.sweeps[f].angle, long.sweeps[f].reading, true, f.String()) && ok
			continue
		}
		if have.Has(f) {
			var angle [job.NumPositions]float64
			n, distinct, bad := 0, 0, false
			lack := job.NoColumn
			for p := range job.NumPositions {
				id := job.ReadingColumn(f, p)
				switch sc.state[id] {
				case unreadable:
					bad = true
				case fine:
					angle[n] = job.PositionAngle[p]
					sc.numbers = append(sc.numbers, sc.val[id])
					n++
					if p < job.Again12 || sc.state[job.ReadingColumn(f, job.At12)] == absent {
						distinct++
					}
				case absent:
					if p < job.Again12 && lack == job.NoColumn {
						lack = id
					}
				}
			}
			switch {
			case bad:
				ok = false
			case distinct < 3:
				e.problem(r, job.Error, lack, fmt.Sprintf(job.MsgMissing, lack.Info().Name), words.HintThree.Say(f.String()))
				ok = false
			default:
				values := sc.numbers[start : start+n : start+n]
				sc.numbers = append(sc.numbers, angle[:n]...)
				ok = e.sweep(r, f, sc.numbers[start+n:start+2*n:start+2*n], values, false, f.String()) && ok
			}
		}
		if texts.Has(f) {
			id := job.ColMovableSweep + job.ColumnID(f)
			a, v, text, hint := job.ParseSweep(sc.text[id], sc.unit[id], e.set.mark, nil, nil)
			if text != "" {
				sc.state[id] = unreadable
				e.problem(r, job.Error, id, text, hint)
				ok = false
				continue
			}
			ok = e.sweep(r, f, a, v, true, id.Info().Name) && ok
		}
	}
	sc.in.Sweeps = sc.sweeps
	return ok
}

// infer takes the method from the families that are filled. free says that readings were taken at free angles.
func infer(have job.FamilySet, free, given bool) job.Method {
	switch {
	case have == 0 && given:
		return job.GivenLineMethod
	case have == 0:
		return job.MethodBlank
	case have == job.Faces:
		return job.FaceAndFace
	case free:
		return job.Sweeps
	case have == job.Rims:
		return job.ReverseIndicator
	case have == 1<<job.MovableRim|1<<job.SecondRim:
		return job.TwoRims
	case have == 1<<job.Gap|1<<job.Step:
		return job.StraightedgeAndGap
	case have&^(job.Rims|job.Faces) == 0 && (have&job.Rims == 1<<job.MovableRim || have&job.Rims == 1<<job.StationaryRim) && have&job.Faces != 0:
		return job.RimAndFace
	}
	return job.Sweeps
}

// sweep adds one sweep. It returns false, with the reasons recorded, if a distance it needs is not to be had.
func (e *Evaluator) sweep(r *RowResult, f job.Family, angle, value []float64, textual bool, name string) bool {
	sc := &e.sc
	s := calc.Sweep{Angle: angle, Reading: value, Station: nan, Diameter: nan, Length: nan, Mirrored: r.FromStationary}
	info := SweepInfo{Name: name, Readings: len(value), Dial: f != job.Gap && f != job.Step}
	ok := true
	need := func(id job.ColumnID, hint string) float64 {
		v, st := e.need(r, id, hint)
		ok = ok && st == fine
		return v
	}
	back := sc.state[job.ColFaceSide] == fine && sc.val[job.ColFaceSide] == 1
	face := func() {
		s.Diameter = need(job.ColFaceDiameter, words.HintDiameter.String())
		s.Model = calc.FaceFront
		if back {
			s.Model = calc.FaceBack
		}
		ok = ok && sc.state[job.ColFaceSide] != unreadable
	}
	sag := job.NoColumn
	switch f {
	case job.MovableRim:
		s.Model, s.Station, sag = calc.RimOnMovable, need(job.ColToMovable, words.HintZeroPlane.String()), job.ColMovableSag
	case job.StationaryRim:
		s.Model, s.Station, sag = calc.RimOnStationary, -need(job.ColToStationary, words.HintZeroPlane.String()), job.ColStationarySag
	case job.SecondRim:
		s.Model, s.Station, sag = calc.RimOnMovable, need(job.ColToSecond, words.HintZeroPlane.String()), job.ColSecondSag
	case job.Face, job.StationaryFace:
		face()
		sag = job.ColFaceSag
		if f == job.StationaryFace {
			sag = job.ColStationaryFaceSag
		}
		if r.Method == job.FaceAndFace {
			s.Length = need(job.ColSpacerLength, words.HintSpacer.String())
			switch {
			case f == job.Face && back:
				s.Model = calc.SpoolOnMovableBack
			case f == job.Face:
				s.Model = calc.SpoolOnMovable
			case back:
				s.Model = calc.SpoolOnStationaryBack
			default:
				s.Model = calc.SpoolOnStationary
			}
		}
	case job.Gap:
		s.Model, s.Diameter = calc.GapBetween, need(job.ColFaceDiameter, words.HintDiameter.String())
	case job.Step:
		s.Model, s.Station = calc.StepAtRim, need(job.ColToMovable, words.HintZeroPlane.String())
	}
	if sag != job.NoColumn {
		switch v, st := e.num(sag); st {
		case fine:
			s.SagAt6, info.SagGiven = e.sag(r, sag, v), true
			s.USag = e.set.sagShare * math.Abs(s.SagAt6) / 2
			if x, st := e.num(job.ColSagU); st == fine {
				s.USag = x / 2
			} else if st == unreadable {
				r.sagHeld = true
			}
		case absent:
			s.USag = e.longBracket(r, f, &info)
		case unreadable:
			ok = false
		}
	}
	trust := e.set.dial
	if !info.Dial {
		trust = e.set.feeler
	}
	if s.Graduation, s.U = e.trust(trust); !(s.U > 0) {
		if !r.told(job.ColRepeatability) {
			e.problem(r, job.Error, job.ColRepeatability, words.ProblemNoTrust.String(), words.HintNoTrust.String())
		}
		ok = false
	}
	model := s
	model.Angle, model.Reading = nil, nil
	r.models = append(r.models, model)
	sc.sweeps, sc.fam, sc.textual = append(sc.sweeps, s), append(sc.fam, f), append(sc.textual, textual)
	r.Sweeps = append(r.Sweeps, info)
	return ok
}

// longBracket is the standard uncertainty of the sag of a bracket whose sag nobody typed: nothing for a short one, for a machine on a vertical flange, whose brackets hang along its shaft
// whichever way they turn, and where the job says that blank is none; else what a usual bracket sags over the length, as a rough idea of what may be missing.
func (e *Evaluator) longBracket(r *RowResult, f job.Family, info *SweepInfo) float64 {
	if e.set.noSag || r.OnFlange || !job.Rims.Has(f) && f != job.SecondRim {
		return 0
	}
	reach := func(id job.ColumnID) float64 {
		v, st := e.num(id)
		if st == absent {
			v, st = e.chained(r, id)
		}
		if st != fine {
			return 0
		}
		return v
	}
	far := job.ColToMovable
	if f == job.SecondRim {
		far = job.ColToSecond
	}
	length := reach(far) + reach(job.ColToStationary)
	if !(length > longestBare) {
		return 0
	}
	d, ok := (&calc.Bar{OD: 25, ID: 20, Length: length, E: 200_000, Density: 7850, Tip: 0.15}).Droop()
	if !ok || !(math.Abs(d.DialAtSix) < 100) {
		return 0
	}
	info.Bracket, info.MaySag = length, -d.DialAtSix
	return -d.DialAtSix
}

// sag is what a dial shows at 6 o'clock. A positive number for a rim dial can mean that it really showed more there, or the amount it sags, as US Bureau of Reclamation FIST 4-1A p. 17 writes
// it: until somebody says which, the row has no verdict and the number is taken as the dial's. The face part of a bracket may have either sign (H. P. Bloch and F. K. Geitner,
// Machinery Component Maintenance and Repair, p. 188).
func (e *Evaluator) sag(r *RowResult, id job.ColumnID, v float64) float64 {
	if !(v > 0) || id == job.ColFaceSag || id == job.ColStationaryFaceSag {
		return v
	}
	means := e.set.positiveSag
	switch x, st := e.num(job.ColPositiveSag); st {
	case fine:
		means = int(x) + 1
	case unreadable:
		means = 0
	}
	switch means {
	case 1:
		return v
	case 2:
		return -v
	}
	if !slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Text == job.MsgSagPositive && p.Column == id.Info().Name }) {
		e.problem(r, job.Error, id, job.MsgSagPositive, words.HintSagPositive.String())
	}
	r.sagHeld = true
	return v
}

// need is a distance the row cannot do without: typed, or worked out by tape. NaN: it is not to be had, and the row says so once.
func (e *Evaluator) need(r *RowResult, id job.ColumnID, hint string) (float64, uint8) {
	v, st := e.num(id)
	if st == absent {
		v, st = e.chained(r, id)
	}
	if st == absent && !r.told(id) {
		e.missing(r, id, hint)
	}
	if st != fine {
		v = nan
	}
	return v, st
}

// told says whether an error of the row is of a column or names it, so that what several parts of the row need is asked for once.
func (r *RowResult) told(id job.ColumnID) bool { return r.asked.has(id) }

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
		e.problem(r, job.Error, job.ColStationaryToMovable, words.ProblemChainShort.Say(e.dist(a), other.Info().Name, e.dist(b)), words.HintChain.String())
		r.names(other)
		e.sc.state[job.ColStationaryToMovable] = unreadable
		return nan, unreadable
	}
	return a - b, fine
}

// tape is how far a chain may differ from the distances it is made of, mm: what a tape shows.
const tape = 1.0

// given takes a line reduced elsewhere.
func (e *Evaluator) given(r *RowResult) bool {
	sc := &e.sc
	in := &sc.in
	ok := true
	part := func(dst *float64, id job.ColumnID) {
		switch v, st := e.num(id); st {
		case fine:
			*dst = v
		case absent:
			e.missing(r, id, words.HintGiven.String())
		default:
			ok = false
		}
	}
	slope := func(dst *float64, id, gap job.ColumnID) {
		g, st := e.num(gap)
		if st == absent {
			part(dst, id)
			return
		}
		if sc.state[id] != absent {
			e.problem(r, job.Error, gap, words.ProblemSlopeAndGap.Say(id.Info().Name, gap.Info().Name), words.HintSlopeAndGap.String())
			r.names(id)
			ok = false
			return
		}
		d, sd := e.num(job.ColFaceDiameter)
		if sd == absent && !r.told(job.ColFaceDiameter) {
			e.missing(r, job.ColFaceDiameter, words.HintGapDiameter.String())
		}
		if ok = ok && st == fine && sd != unreadable; ok && sd == fine {
			*dst = -g / d * 1000
		}
	}
	part(&in.Given.DV, job.ColGivenOffsetV)
	slope(&in.Given.TV, job.ColGivenSlopeV, job.ColGivenGapV)
	part(&in.Given.DH, job.ColGivenOffsetH)
	slope(&in.Given.TH, job.ColGivenSlopeH, job.ColGivenGapH)
	_, u := e.trust(tables.GivenLine)
	uSlope := tables.GivenSlope
	for _, own := range [...]struct {
		id  job.ColumnID
		dst *float64
	}{{job.ColGivenOffsetU, &u}, {job.ColGivenSlopeU, &uSlope}} {
		switch v, st := e.num(own.id); {
		case st == fine && v > 0:
			*own.dst = v / 2 // as typed it is expanded
		case st != absent:
			ok = false
		}
	}
	in.GivenU = calc.Line{DV: u, DH: u, TV: uSlope, TH: uSlope}
	if d, sd := e.num(job.ColFaceDiameter); sd == fine { // slopes by gap difference have the diameter's uncertainty
		for id, t := range map[job.ColumnID]*float64{job.ColGivenGapV: &in.GivenU.TV, job.ColGivenGapH: &in.GivenU.TH} {
			if g, st := e.num(id); st == fine {
				*t = math.Hypot(*t, g/d*1000*e.set.distanceU/d)
			}
		}
	}
	return ok
}

// stations settles where the feet stand, or the flange.
func (e *Evaluator) stations(r *RowResult, w *want) {
	sc := &e.sc
	in := &sc.in
	if a, st := e.num(job.ColStationaryToMovable); st == fine {
		s, s1 := e.num(job.ColToStationary)
		m, s2 := e.num(job.ColToMovable)
		if s1 == fine && s2 == fine && math.Abs(a-s-m) > tape {
			e.problem(r, job.Error, job.ColStationaryToMovable, words.ProblemChainDiffers.Say(e.dist(a), e.dist(s+m)), words.HintChain.String())
			w.noLine = true
		}
	}
	if r.OnFlange {
		d, sd := e.num(job.ColBoltCircle)
		n, sn := e.num(job.ColBolts)
		if sd == fine && sn == fine && n >= 3 && n <= 200 {
			in.BoltCircleRadius, in.Bolts = d/2, int(n)
			switch x, st := e.num(job.ColToFlange); st {
			case fine:
				in.FlangeStation = x
			case unreadable:
				w.noFeet = true
			}
			return
		}
		if sn == fine {
			e.problem(r, job.Error, job.ColBolts, words.ProblemBolts.Say(n), words.HintBolts.String())
		}
		feet := sc.state[job.ColToFront] != absent || sc.state[job.ColFrontToRear] != absent
		if !feet || sd != absent || sn != absent {
			if sd == absent {
				e.missing(r, job.ColBoltCircle, words.HintFlange.String())
			}
			if sn == absent {
				e.missing(r, job.ColBolts, words.HintFlange.String())
			}
			w.noFeet = true
			return
		}
	}
	x, sx := e.num(job.ColToFront)
	if sx == absent {
		x, sx = e.chained(r, job.ColToFront)
	} else if c, sc := e.chained(r, job.ColToFront); sx == fine && sc == fine && math.Abs(c-x) > tape {
		e.problem(r, job.Error, job.ColMovableToFront, words.ProblemFrontDiffers.Say(e.dist(x), e.dist(c)), words.HintChain.String())
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
			e.problem(r, job.Error, job.ColToFront, words.ProblemBothMissing.Say(job.ColToFront.Info().Name, job.ColFrontToRear.Info().Name), words.HintFeet.String())
			r.names(job.ColFrontToRear)
		} else if sx == absent {
			e.missing(r, job.ColToFront, words.HintFeet.String())
		} else if sd == absent {
			e.missing(r, job.ColFrontToRear, words.HintFeet.String())
		}
		w.noFeet = true
		return
	}
	sc.feet = append(sc.feet[:0], x, x+d)
	if sc.state[job.ColFurther] != absent {
		var text, hint string
		if sc.further, text, hint = job.ParseDistances(sc.text[job.ColFurther], sc.unit[job.ColFurther], e.set.mark, sc.further[:0]); text != "" {
			sc.state[job.ColFurther] = unreadable
			e.problem(r, job.Error, job.ColFurther, text, hint)
			w.noFeet = true
			return
		}
		sc.feet = append(sc.feet, sc.further...)
		slices.Sort(sc.feet)
		for k := 1; k < len(sc.feet); k++ {
			if sc.feet[k] == sc.feet[k-1] {
				e.problem(r, job.Error, job.ColFurther, words.ProblemFeetSame.Say(e.dist(sc.feet[k])), words.HintFeetSame.String())
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
	if text != "" {
		if complete := ss == fine && (so == fine || !r.Coupling.ByOffset()); complete && id != job.ColLimits {
			u.Alone = text
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
		u.Offset, u.OwnOffset = e.stricter(r, job.ColOffsetLimit, own, so == fine, row.Offset, e.thick)
	}
	u.Slope, u.OwnSlope = e.stricter(r, job.ColSlopeLimit, ownSlope, ss == fine, row.Slope, e.slope)
}

// setRow is the row of the limit set that the machine is to be held to. A text says why there is none, and the column it is about.
func (e *Evaluator) setRow(r *RowResult) (row tables.LimitRow, set *tables.LimitSet, text string, id job.ColumnID, hint string) {
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
		return row, nil, words.ProblemSpeedBad.String(), job.NoColumn, ""
	}
	if src := e.badSets[nameKey(name)]; src > 0 {
		return row, nil, words.ProblemBadSet.Say(e.SheetName(job.LimitsSheet), strings.TrimSpace(name), src), job.ColLimits, words.HintLongBad.String()
	}
	if set == nil {
		return row, nil, words.ProblemNoDefaultSet.String(), job.ColLimits, e.hintSets()
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
		return row, set, "", job.NoColumn, ""
	case len(set.Rows[kind]) == 0:
		return row, set, words.ProblemSetLacks.Say(set.Name, kind), job.ColCoupling, words.HintOwnLimits.String()
	case st == absent:
		return row, set, words.ProblemNoSpeed.String(), job.ColSpeed, words.HintNoSpeed.String()
	}
	return row, set, words.ProblemSpeedPast.Say(strconv.FormatFloat(set.Top(kind), 'g', -1, 64), set.Name, kind, strconv.FormatFloat(speed, 'g', -1, 64)), job.ColSpeed, words.HintOwnLimits.String()
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
	e.problem(r, job.Warning, id, words.ProblemLooserRefused.Say(id.Info().Name, show(own), show(set), u.Set), words.HintLooserRefused.String())
	return set, false
}

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
			e.problem(r, job.Warning, job.NoColumn, words.ProblemChangeInstead.String(), "")
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
	if w.noWanted {
		return
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
		e.missing(r, near, words.HintGrowthPair.Say(far.Info().Name))
		return 0, 0, false
	case sb == absent:
		e.missing(r, far, words.HintGrowthPair.Say(near.Info().Name))
		return 0, 0, false
	case a == b:
		return a, 0, true
	}
	need := func(id job.ColumnID) (float64, uint8) {
		if x, st := e.num(id); st == fine {
			return x, st // without the words of a hint
		}
		return e.need(r, id, words.HintGrowthDistance.Say(near.Info().Name, far.Info().Name))
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
				e.problem(r, job.Error, job.ColStationaryFar, words.ProblemFarNear.Say(e.dist(f), e.dist(n)), words.HintFarNear.String())
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

// status words how the calculation ended.
func (e *Evaluator) status(r *RowResult, w *want) {
	c := &r.Calc
	name := ""
	if c.Sweep >= 0 && c.Sweep < len(r.Sweeps) {
		name = r.Sweeps[c.Sweep].Name
	}
	column := func(text, hint string) {
		e.problem(r, job.Error, job.NoColumn, text, hint)
		r.Problems[len(r.Problems)-1].Column = name
		if c.Sweep >= 0 && c.Sweep < len(e.sc.fam) {
			p := &r.Problems[len(r.Problems)-1]
			if id := job.ReadingColumn(e.sc.fam[c.Sweep], job.At12); e.sc.textual[c.Sweep] {
				p.Col = e.column(job.ColMovableSweep + job.ColumnID(e.sc.fam[c.Sweep]))
				if e.sc.fam[c.Sweep] > job.StationaryRim {
					p.Col = -1
				}
			} else {
				p.Col = e.column(id)
			}
		}
	}
	text, hint := "", ""
	if c.Status != calc.OK {
		text, hint = e.readingsFailed(c)
	}
	switch c.Status {
	case calc.OK, calc.PartOfLine:
	case calc.NoLimit:
		if !w.noVerdict {
			e.problem(r, job.Error, job.NoColumn, words.ProblemNoLimit.String(), words.HintOwnLimits.String())
		}
	case calc.NoLength:
		if !w.noVerdict {
			e.missing(r, job.ColSpacerLength, words.HintSpacer.String())
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

// readingsFailed words why readings came to no line, or to one that is not to be trusted.
func (e *Evaluator) readingsFailed(c *calc.Result) (text, hint string) {
	switch c.Status {
	case calc.NoReadings:
		return words.ProblemNoReadings.String(), words.HintNoReadings.String()
	case calc.TooFewAngles:
		return words.ProblemTooFewAngles.String(), words.HintTooFewAngles.String()
	case calc.PlanesCoincide:
		return words.ProblemOnePlane.String(), words.HintOnePlane.String()
	case calc.IllConditioned:
		return words.ProblemUndetermined.String(), words.HintUndetermined.String()
	case calc.BalanceFailed:
		k := &c.Checks[c.Sweep]
		return words.ProblemBalance.Say(e.thick(math.Abs(k.Balance)), e.thick(k.BalanceLimit)), words.HintBalance.String()
	case calc.ClosureFailed:
		k := &c.Checks[c.Sweep]
		return words.ProblemClosure.Say(e.thick(math.Abs(k.Closure)), e.thick(k.ClosureLimit)), words.HintClosure.String()
	case calc.ResidualFailed:
		return words.ProblemResidual.Say(e.thick(c.ResidualSD), e.thick(c.ResidualLimit)), words.HintResidual.String()
	}
	return words.ProblemBadNumber.String(), words.HintBadNumber.String()
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
			p.Hint = strings.Join(r.Hints, "; ") + "; " + p.Hint
			return
		}
	}
}

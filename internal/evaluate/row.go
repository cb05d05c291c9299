package evaluate

import (
	"math"
	"slices"
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

	in        calc.Input
	sweeps    []calc.Sweep
	fam       []job.Family // of each sweep
	textual   []bool       // of each sweep: read at free angles
	numbers   []float64
	further   []float64
	feet      []float64
	footing   *feetRows     // what the Feet sheet says of the row's machine, nil nothing
	long      *longReadings // what the Readings sheet says of it, nil nothing
	round     *roundRow     // whose readings are taken, nil the row's own
	found     *RowResult    // of the round found, while later ones are worked out
	packs     []footPack    // what the last round says lies under the feet, nil nothing
	hot       bool          // the readings are those of a round hot
	unsettled bool          // the rounds do not say which readings count, or cannot be read
	cooling   *RowResult    // of the last cold round before it, nil none
	cold      bool          // its cold set is what was found
	plan      *RowPlan      // what the chosen plan of its train asks of it, nil nothing
	set       calc.Result   // of a set of readings that serves the wanted line
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
	if round != nil && round.Row > 0 || round != nil && round.Name == StateWaiting {
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
		r.stopped, r.refused = true, e.readingTyped()
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
			if h := e.findingText(&r.Findings[k], in.Sweeps, r.Sweeps, e.sc.textual); !h.Empty() {
				r.Hints = append(r.Hints, h)
				if r.Findings[k].Kind == calc.AllTooLarge && r.Calc.Status == calc.OK {
					e.problem(r, job.Warning, job.NoColumn, h, words.HintUnitAsked.With())
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
		e.problem(r, sev, job.NoColumn, words.ProblemPackOff.With(e.PairName(r, k), e.Thickness(math.Abs(f.Shim)), e.Sum(f.Pack.Sum)), words.HintPackOff.With())
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
		e.problem(r, job.Warning, job.NoColumn, words.ProblemHeaderAgain.With(), words.Phrase{})
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
		e.problem(r, job.Warning, job.NoColumn, words.ProblemHeaderOther.With(), words.HintOtherHeader.With())
		return false
	} else if h >= 0 {
		e.problem(r, job.Error, job.NoColumn, words.ProblemOtherHeader.With(e.job.Machines.SourceRow(h)), words.HintOtherHeader.With())
		w.noLine = true
	}
	sc := &e.sc
	e.seenFrom(r, w)
	if e.set.unitsBad {
		e.problem(r, job.Error, job.NoColumn, words.ProblemUnitsBad.With(), words.HintUnitsBad.With())
		w.noLine = true
	}
	if r.Name = strings.TrimSpace(sc.text[job.ColMachine]); r.Name == "" {
		r.Name = rowName(r.Row)
		if e.names {
			e.problem(r, job.Error, job.ColMachine, words.ProblemNoNameInList.With(), words.HintNoNameInList.With())
			w.noLine = true
		} else {
			e.problem(r, job.Warning, job.ColMachine, words.ProblemNoName.With(), words.HintNoName.With())
		}
	} else if doubt {
		e.problem(r, job.Error, job.ColMachine, words.ProblemTotalOrMachine.With(job.Quote(r.Name)), words.HintTotalOrMachine.With())
		w.noLine = true
	} else if d := e.dups[i]; d >= 0 {
		e.problem(r, job.Error, job.ColMachine, words.ProblemNameTaken.With(r.Name, e.job.Machines.SourceRow(int(d))), words.HintNameTaken.With())
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
			e.missing(r, job.ColSpacerLength, words.HintSpacer.With())
		}
		w.noVerdict = true
	}
	in.Coupling, in.UDistance = r.Coupling, e.set.distanceU
	if sc.state[job.ColGraduation] == unreadable || sc.state[job.ColRepeatability] == unreadable {
		w.noVerdict = true
	}
	w.noVerdict = w.noVerdict || r.sagHeld || r.sagUBad || sc.unsettled
	w.noFeet = w.noFeet || r.sagHeld || sc.unsettled // the moves hang on them
	e.stations(r, w)
	e.footPlaces(r, w)
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
	e.problem(r, job.Warning, id, words.ProblemSideNumber.With(job.Quote(name)), words.HintSideNumber.With())
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
			e.problem(r, job.Error, job.NoColumn, words.ProblemSeenBad.With(), words.Plain(job.HintChoices(job.SettingSeenFrom)))
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

// readingTyped says whether the row in the scratch holds readings, be they good or not.
func (e *Evaluator) readingTyped() bool {
	sc := &e.sc
	return sc.long.set(foundSet) != nil || slices.ContainsFunc(sc.ids, func(id job.ColumnID) bool { return job.IsReading(id) && sc.state[id] != absent })
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
	for k := range r.Problems {
		if p := &r.Problems[k]; p.Severity == job.Error {
			r.Why = words.Together(r.Why, p.Reason())
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

// tape is how far a chain may differ from the distances it is made of, mm: what a tape shows.
const tape = 1.0

// InputOf is the calculation's input of row i, good until another row is read.
func (e *Evaluator) InputOf(i int) *calc.Input {
	var again RowResult
	var w want
	known := e.Row(i)
	e.sc.round, e.sc.found = nil, known.foundRound
	if known.FromRounds() {
		e.sc.round = known.counting
	}
	e.understand(i, &again, &w)
	e.sc.round, e.sc.found = nil, nil
	return &e.sc.in
}

package evaluate

import (
	"math"
	"slices"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// What uncertainty is taken where nothing is said; common practice, no source.
const (
	defaultSagShare  = 0.2   // of a sag, expanded
	defaultDistanceU = 1.0   // mm, standard, of a distance by tape
	longestBare      = 200.0 // mm: a usual bracket no longer than this shows 6 µm at 6 o'clock or less (calc.Bar), which the reading's own uncertainty Covers
)

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
		w.noVerdict, w.noFeet = true, true // it may be a flange, or a shaft whose offset is wanted as it is
	case sc.state[job.ColMethod] == fine && methodOf(sc.val[job.ColMethod]) == job.FaceAndFace:
		r.Coupling = tables.Spacer
	case sc.state[job.ColSpacerLength] != absent && r.Coupling == tables.Flexible:
		r.Coupling, r.SpacerInferred = tables.Spacer, true
	}
	switch v, st := e.num(job.ColMounting); {
	case st == unreadable:
		w.noVerdict, w.noFeet = true, true
	case st == fine && v == 0 && named:
		e.problem(r, job.Error, job.ColMounting, words.ProblemMountedBoth.With(job.Quote(sc.text[job.ColCoupling])), words.HintMountedBoth.With())
		w.noVerdict, w.noFeet = true, true
	case st == fine:
		r.OnFlange = v == 1
	}
	if e.rigidRunout(r) {
		e.problem(r, job.Note, job.ColCoupling, words.ProblemRigidRunout.With(), words.HintRigidRunout.With())
	}
}

// methodOf is the method of a choice of the Method column.
func methodOf(choice float64) job.Method { return job.Method(int(choice)) + 1 }

// readings settles the method and makes the sweeps, or the given line. It returns false, with the reasons recorded, if there can be no line.
func (e *Evaluator) readings(i int, r *RowResult) bool {
	sc := &e.sc
	sc.sweeps, sc.fam, sc.textual, sc.numbers = sc.sweeps[:0], sc.fam[:0], sc.textual[:0], sc.numbers[:0]
	typed, ok := e.readingsTyped(i, r)
	if !ok || !e.chooseMethod(i, r, &typed) {
		return false
	}
	all := typed.all()
	if r.Method == job.GivenLineMethod {
		if all != 0 {
			e.problem(r, job.Warning, job.NoColumn, words.ProblemUnusedReadings.With(job.FamilyNames(all), r.Method), words.Phrase{})
		}
		return e.given(r)
	}
	if typed.given {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemUnusedGiven.With(r.Method), words.HintUnusedGiven.With())
	}
	use := all & r.Method.Reads()
	if extra := all &^ r.Method.Reads(); extra != 0 {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemUnusedReadings.With(job.FamilyNames(extra), r.Method), words.HintUnusedReadings.With())
	}
	if use == 0 && r.Method == job.Sweeps {
		e.problem(r, job.Error, job.NoColumn, words.ProblemNoReadings.With(), words.HintNoReadings.With())
		return false
	}
	ok = e.familiesThere(r, use)
	for f := range job.NumFamilies {
		if !use.Has(f) {
			continue
		}
		if typed.long != nil {
			ok = e.sweep(r, f, typed.long.sweeps[f].angle, typed.long.sweeps[f].reading, true, f.String()) && ok
			continue
		}
		if typed.have.Has(f) {
			ok = e.positions(r, f) && ok
		}
		if typed.texts.Has(f) {
			ok = e.sweepCell(r, f) && ok
		}
	}
	sc.in.Sweeps = sc.sweeps
	return ok
}

// typedReadings is where the readings of a row stand.
type typedReadings struct {
	have  job.FamilySet // at the four positions
	texts job.FamilySet // in one cell, at angles of their own
	long  *readingSet   // on the Readings sheet, which then holds alone; nil none
	free  bool          // some are at angles of their own
	given bool          // a line reduced elsewhere is typed, and may be meant
}

// all are the families with readings, wherever they stand.
func (t *typedReadings) all() job.FamilySet { return t.have | t.texts }

// readingsTyped looks where the readings of row i stand. ok is false where those of the Readings sheet cannot be used, which the row then says.
func (e *Evaluator) readingsTyped(i int, r *RowResult) (t typedReadings, ok bool) {
	sc := &e.sc
	sc.long, sc.cold = nil, false
	if k := e.keys[i]; k != "" {
		sc.long = e.long[k]
	}
	t.long = sc.long.set(foundSet)
	if sc.round != nil {
		t.long = nil // those are of the round found
	}
	for _, id := range sc.ids {
		switch {
		case id >= job.ColReading && id < job.ColMovableSag:
			t.have |= 1 << ((id - job.ColReading) / job.NumPositions)
		case id == job.ColMovableSweep:
			t.texts |= 1 << job.MovableRim
		case id == job.ColStationarySweep:
			t.texts |= 1 << job.StationaryRim
		case id >= job.ColGivenOffsetV && id <= job.ColGivenGapH:
			t.given = true
		}
	}
	t.free = t.texts != 0
	t.given = t.given && (sc.state[job.ColMethod] != fine || methodOf(sc.val[job.ColMethod]) == job.GivenLineMethod)
	if sc.round == nil && t.long == nil && t.all() == 0 && !t.given {
		t.long = sc.long.set(coldSet) // found cold, and nothing else was
		sc.cold = t.long != nil
	}
	if t.long == nil {
		return t, true
	}
	if t.all() != 0 {
		e.problem(r, job.Warning, job.NoColumn, words.ProblemLongInstead.With(), words.Phrase{})
	}
	t.have, t.texts, t.free = t.long.families(), 0, true
	if t.long.bad > 0 {
		e.problem(r, job.Error, job.NoColumn, words.ProblemLongBad.With(t.long.bad), words.HintLongBad.With())
		return t, false
	}
	return t, true
}

// chooseMethod settles the method: as typed, else by the columns that are filled. It is false where there is none, which the row then says.
func (e *Evaluator) chooseMethod(i int, r *RowResult, t *typedReadings) bool {
	sc := &e.sc
	switch v, st := e.num(job.ColMethod); st {
	case fine:
		r.Method = methodOf(v)
		return true
	case unreadable:
		return false
	}
	r.MethodInferred = true
	r.Method = infer(t.all(), t.free, t.given)
	if r.Method == job.MethodBlank {
		if sc.long.set(hotSet) != nil {
			e.problem(r, job.Error, job.NoColumn, words.ProblemHotAlone.With(), words.HintHotAlone.With())
		} else if sc.round != nil && sc.round.Struck != "" {
			e.problem(r, job.Error, job.NoColumn, words.ProblemAllStruck.With(), words.HintAllStruck.With())
		} else if name := e.resultTyped(i); name != "" {
			e.problem(r, job.Error, job.NoColumn, words.ProblemNoReadings.With(), words.HintResultTyped.With(name))
		} else {
			e.problem(r, job.Error, job.NoColumn, words.ProblemNoReadings.With(), words.HintNoReadings.With())
		}
		return false
	}
	if r.Method == job.FaceAndFace && sc.state[job.ColCoupling] == absent {
		r.Coupling, r.SpacerInferred = tables.Spacer, false
	}
	return true
}

// familiesThere says whether the method has the families of readings it needs; the row says which it lacks.
func (e *Evaluator) familiesThere(r *RowResult, use job.FamilySet) bool {
	ok := true
	lacks := func(f job.Family) {
		e.problem(r, job.Error, job.ReadingColumn(f, job.At12), words.ProblemNoFamily.With(f.String()), words.HintNoFamily.With(f.String()))
		r.Problems[len(r.Problems)-1].Column = f.String()
		ok = false
	}
	switch r.Method {
	case job.RimAndFace:
		if use&job.Rims == 0 {
			lacks(job.MovableRim)
		}
		if use&job.Faces == 0 {
			lacks(job.Face)
		}
	case job.Sweeps:
	default:
		for _, f := range r.Method.Families() {
			if !use.Has(f) {
				lacks(f)
			}
		}
	}
	return ok
}

// positions takes the readings of a family at 12, 3, 6, 9 and 12 again.
func (e *Evaluator) positions(r *RowResult, f job.Family) bool {
	sc := &e.sc
	start := len(sc.numbers)
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
		return false
	case distinct < 3:
		e.problem(r, job.Error, lack, words.ProblemMissing.With(lack.Info().Name), words.HintThree.With(f.String()))
		return false
	}
	values := sc.numbers[start : start+n : start+n]
	sc.numbers = append(sc.numbers, angle[:n]...)
	return e.sweep(r, f, sc.numbers[start+n:start+2*n:start+2*n], values, false, f.String())
}

// sweepCell takes the readings of a family at angles of their own, which stand in one cell.
func (e *Evaluator) sweepCell(r *RowResult, f job.Family) bool {
	sc := &e.sc
	id := job.ColMovableSweep + job.ColumnID(f)
	a, v, text, hint := job.ParseSweep(sc.text[id], sc.unit[id], e.set.mark, nil, nil)
	if text != "" {
		e.problem(r, job.Error, id, words.Plain(text), words.Plain(hint))
		return false
	}
	return e.sweep(r, f, a, v, true, id.Info().Name)
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
	need := func(id job.ColumnID, hint words.Phrase) float64 {
		v, st := e.need(r, id, hint)
		ok = ok && st == fine
		return v
	}
	back := sc.state[job.ColFaceSide] == fine && sc.val[job.ColFaceSide] == 1
	face := func() {
		s.Diameter = need(job.ColFaceDiameter, words.HintDiameter.With())
		s.Model = calc.FaceFront
		if back {
			s.Model = calc.FaceBack
		}
		ok = ok && sc.state[job.ColFaceSide] != unreadable
	}
	sag := job.NoColumn
	switch f {
	case job.MovableRim:
		s.Model, s.Station, sag = calc.RimOnMovable, need(job.ColToMovable, words.HintZeroPlane.With()), job.ColMovableSag
	case job.StationaryRim:
		s.Model, s.Station, sag = calc.RimOnStationary, -need(job.ColToStationary, words.HintZeroPlane.With()), job.ColStationarySag
	case job.SecondRim:
		s.Model, s.Station, sag = calc.RimOnMovable, need(job.ColToSecond, words.HintZeroPlane.With()), job.ColSecondSag
	case job.Face, job.StationaryFace:
		face()
		sag = job.ColFaceSag
		if f == job.StationaryFace {
			sag = job.ColStationaryFaceSag
		}
		if r.Method == job.FaceAndFace {
			s.Length = need(job.ColSpacerLength, words.HintSpacer.With())
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
		s.Model, s.Diameter = calc.GapBetween, need(job.ColFaceDiameter, words.HintDiameter.With())
	case job.Step:
		s.Model, s.Station = calc.StepAtRim, need(job.ColToMovable, words.HintZeroPlane.With())
	}
	if sag != job.NoColumn {
		switch v, st := e.num(sag); st {
		case fine:
			s.SagAt6, info.SagGiven = e.sag(r, sag, v), true
			s.USag = e.set.sagShare * math.Abs(s.SagAt6) / 2
			if x, st := e.num(job.ColSagU); st == fine {
				s.USag = x / 2
			} else if st == unreadable {
				r.sagUBad = true
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
			e.problem(r, job.Error, job.ColRepeatability, words.ProblemNoTrust.With(), words.HintNoTrust.With())
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
// it: until somebody says which, the row has no verdict and no moves, and the number is taken as the dial's. The face part of a bracket may have either sign (H. P. Bloch and F. K. Geitner,
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
	if !slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Text.Is(words.ProblemSagPositive) && p.Column == id.Info().Name }) {
		e.problem(r, job.Error, id, words.ProblemSagPositive.With(), words.HintSagPositive.With())
	}
	r.sagHeld = true
	return v
}

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
			e.missing(r, id, words.HintGiven.With())
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
			e.problem(r, job.Error, gap, words.ProblemSlopeAndGap.With(id.Info().Name, gap.Info().Name), words.HintSlopeAndGap.With())
			r.names(id)
			ok = false
			return
		}
		d, sd := e.num(job.ColFaceDiameter)
		if sd == absent && !r.told(job.ColFaceDiameter) {
			e.missing(r, job.ColFaceDiameter, words.HintGapDiameter.With())
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

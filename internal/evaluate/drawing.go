package evaluate

import (
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// A Measured is what a drawing of one row needs besides its RowResult: what the row was worked out from. Its memory is its own and is used
// again by the next call of [Evaluator.Measured].
type Measured struct {
	Stationary           string     // name of the stationary machine, trimmed
	Input                calc.Input // sweeps, flex length, feet and bolts as understood
	ToStat, ToMov        float64    // mm from the coupling centre to the planes of the readings, both positive; NaN: not given
	ToSecond             float64    // mm to the second plane on the movable side; NaN
	ToFront, FrontToRear float64    // mm; NaN
	StatNear, StatFar    float64    // mm to the supports of the stationary machine; NaN
	SweepOf              []string   // names of the sweeps, as in RowResult.Sweeps
	result               RowResult  // of the second reading
	numbers              []float64
	feet                 []float64
	sweeps               []calc.Sweep
}

// Measured fills m with what row i was worked out from, by reading the row again; its result is not touched. It returns false, with
// an empty m, for a row without a coupling.
func (e *Evaluator) Measured(i int, m *Measured) bool {
	*m = Measured{ToStat: nan, ToMov: nan, ToSecond: nan, ToFront: nan, FrontToRear: nan, StatNear: nan, StatFar: nan,
		result: m.result, numbers: m.numbers[:0], feet: m.feet[:0], sweeps: m.sweeps[:0], SweepOf: m.SweepOf[:0]}
	if i < 0 || i >= len(e.dirty) {
		return false
	}
	// The row is read again into a result of its own, and not worked out again.
	m.result = RowResult{Row: e.job.Machines.SourceRow(i), Front: -1, Rear: -1, Limits: Used{Offset: nan, Slope: nan, UpTo: nan}, Speed: nan,
		Sweeps: m.result.Sweeps[:0], Problems: m.result.Problems[:0]}
	r := &m.result
	var w want
	known := e.Row(i)
	e.sc.round, e.sc.found = nil, known.foundRound
	if known.FromRounds() {
		e.sc.round = known.counting
	}
	ok := e.understand(i, r, &w)
	e.sc.round, e.sc.found = nil, nil
	if !ok {
		return false
	}
	sc := &e.sc
	m.Stationary = strings.TrimSpace(sc.text[job.ColStationary])
	take := func(id job.ColumnID) float64 {
		v, st := e.num(id)
		if st != fine || math.IsInf(v, 0) {
			return nan
		}
		return v
	}
	m.ToStat, m.ToMov, m.ToSecond = take(job.ColToStationary), take(job.ColToMovable), take(job.ColToSecond)
	m.ToFront, m.FrontToRear = take(job.ColToFront), take(job.ColFrontToRear)
	m.StatNear, m.StatFar = take(job.ColStationaryNear), take(job.ColStationaryFar)
	if math.IsNaN(m.ToMov) {
		m.ToMov, _ = e.chained(r, job.ColToMovable)
	}
	if math.IsNaN(m.ToStat) {
		m.ToStat, _ = e.chained(r, job.ColToStationary)
	}
	if math.IsNaN(m.ToFront) {
		m.ToFront, _ = e.chained(r, job.ColToFront)
	}
	m.Input = sc.in
	m.feet = append(m.feet, sc.in.Feet...)
	m.Input.Feet = m.feet
	m.sweeps = append(m.sweeps, sc.in.Sweeps...)
	if w.noLine {
		m.sweeps = m.sweeps[:0]
	}
	total := 0
	for k := range m.sweeps {
		total += len(m.sweeps[k].Angle) + len(m.sweeps[k].Reading)
	}
	m.numbers = slices.Grow(m.numbers, total) // so that the parts below stay where they are
	own := func(list []float64) []float64 {
		from := len(m.numbers)
		m.numbers = append(m.numbers, list...)
		return m.numbers[from:len(m.numbers):len(m.numbers)]
	}
	for k := range m.sweeps {
		s := &m.sweeps[k]
		s.Angle, s.Reading = own(s.Angle), own(s.Reading)
	}
	m.Input.Sweeps = m.sweeps
	for k := range r.Sweeps {
		m.SweepOf = append(m.SweepOf, r.Sweeps[k].Name)
	}
	return true
}

// AppendThickness appends a reading, offset or uncertainty (mm) in the unit shown, as the sentences show it, the unit left out.
func (e *Evaluator) AppendThickness(b []byte, v float64) []byte {
	u := job.QThickness.Unit(e.ShowsInch())
	return AppendNumber(b, v, u, Decimals(u, false), e.set.mark)
}

// AppendShim appends a shim or move (mm) in the unit shown, as cells show it, the unit left out.
func (e *Evaluator) AppendShim(b []byte, v float64) []byte {
	u := job.QThickness.Unit(e.ShowsInch())
	return AppendNumber(b, v, u, Decimals(u, true), e.set.mark)
}

// AppendAmount appends a thickness that is to be made up of shims (mm) in the unit shown, as the sentences show it, the unit left out.
func (e *Evaluator) AppendAmount(b []byte, v float64) []byte {
	u := job.QThickness.Unit(e.ShowsInch())
	return appendRounded(b, v, u, Decimals(u, false), e.set.mark)
}

// AppendPack appends the thickness of a pack or a piece (mm) in full, in the job's unit, the unit left out.
func (e *Evaluator) AppendPack(b []byte, v float64) []byte {
	return appendThickness(b, v, job.QThickness.Unit(e.set.inch), e.set.mark)
}

// AppendPieces appends the pieces of a pack (mm) joined by plus signs, in the job's unit, the unit left out.
func (e *Evaluator) AppendPieces(b []byte, pieces []float64) []byte {
	return appendPieces(b, pieces, job.QThickness.Unit(e.set.inch), e.set.mark)
}

// AppendDistance appends a distance along the machines (mm) in the unit shown, the unit left out.
func (e *Evaluator) AppendDistance(b []byte, v float64) []byte {
	u := job.QDistance.Unit(e.ShowsInch())
	return AppendNumber(b, v, u, 2, e.set.mark)
}

// AppendSlope appends a slope (mm/m) in the unit shown, the unit left out.
func (e *Evaluator) AppendSlope(b []byte, v float64) []byte {
	u := job.QSlope.Unit(e.ShowsInch())
	return AppendNumber(b, v, u, Decimals(u, false), e.set.mark)
}

// AppendUnit appends v in unit u, with so many decimals and the job's decimal sign, the unit left out.
func (e *Evaluator) AppendUnit(b []byte, v float64, u units.Unit, dec int) []byte {
	return AppendNumber(b, v, u, dec, e.set.mark)
}

// ShownZero says whether a shim or move would be shown as zero.
func (e *Evaluator) ShownZero(v float64) bool { return e.ShowsZero(v, e.Shim) }

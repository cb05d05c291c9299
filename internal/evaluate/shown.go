package evaluate

import (
	"math"
	"slices"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// shownUnits says in which units a job is shown.
type shownUnits uint8

const (
	shownAsJob shownUnits = iota
	shownMetric
	shownInch
)

// ShowAs sets the units that results, sentences and meanings are shown in: "metric", "inch", or "" as the job says. What is typed, how it
// is read, and what goes into a file keep the job's units.
func (e *Evaluator) ShowAs(system string) {
	e.shown = shownUnits(max(slices.Index([]string{"", "metric", "inch"}, system), 0))
}

// ShowsInch says whether results are shown in inch and mil.
func (e *Evaluator) ShowsInch() bool {
	if e.shown == shownAsJob {
		return e.set.inch
	}
	return e.shown == shownInch
}

// AsJob puts the job's own units in force and returns what brings back the ones before.
func (e *Evaluator) AsJob() func() {
	old := e.shown
	e.shown = shownAsJob
	return func() { e.shown = old }
}

// BoundUnit is the unit of a bare number in a column of a sheet by its header; None where the header's unit is unknown or there is none.
func (e *Evaluator) BoundUnit(kind job.SheetKind, header string) (id job.ColumnID, unit units.Unit) {
	return job.HeaderUnit(kind, header, e.set.inch)
}

// AppendShown appends a cell of the Machines table as it is shown in units other than the job's: its number converted, with as many digits as
// its kind of quantity has in results. ok is false where the typed text itself is to be shown.
func (e *Evaluator) AppendShown(dst []byte, row, col int) (out []byte, ok bool) {
	if e.shown == shownAsJob {
		return dst, false
	}
	info := e.ColumnOf(col)
	if info == nil || info.Result || !converts(info.Quantity) {
		return dst, false
	}
	s := e.job.Machines.Cell(row, col)
	if job.Blank(s) {
		return dst, false
	}
	x, text, _ := job.ParseQuantity(s, info.Quantity, e.bind[col].unit, e.set.mark)
	if text != "" {
		return dst, false
	}
	u := info.Unit(e.ShowsInch())
	return AppendNumber(dst, x, u, Decimals(u, false), e.set.mark), true
}

// converts says whether the cells of a quantity have a unit that differs between the systems.
func converts(q job.Quantity) bool {
	return q.Unit(false) != q.Unit(true) && q != job.QDistances && q != job.QSweep
}

// ShownUnit is the unit a column of the Machines table is shown in while the units shown are not the job's; None where the typed text is shown.
func (e *Evaluator) ShownUnit(col int) units.Unit {
	info := e.ColumnOf(col)
	if e.shown == shownAsJob || info == nil || info.Result || !converts(info.Quantity) {
		return units.None
	}
	return info.Unit(e.ShowsInch())
}

// Uses says whether the method of row i, or a set of readings for its wanted line, has a use for a column of the Machines table; true for columns that
// every row may use.
func (e *Evaluator) Uses(i, col int) bool {
	r := e.Row(i)
	if r == nil || e.ColumnOf(col) == nil {
		return false
	}
	id := e.bind[col].id
	return job.UsedBy(id, r.Method) || job.SweepsUse(id, r.setSweeps)
}

// NumberIn is what a text under a header of any sheet comes to, in the column's unit as shown; ok is false for what is no number.
func (e *Evaluator) NumberIn(kind job.SheetKind, header, text string) (v float64, ok bool) {
	if job.Blank(text) {
		return math.NaN(), false
	}
	id, unit := e.BoundUnit(kind, header)
	q, shown := job.QNumber, units.None
	if id != job.NoColumn {
		info := id.Info()
		if q, shown = info.Quantity, info.Unit(e.ShowsInch()); q == job.QText || info.Result {
			q, unit, shown = job.QNumber, units.None, units.None
		}
		if q == job.QChoice || q == job.QSweep || q == job.QDistances {
			return math.NaN(), false
		}
	}
	x, bad, _ := job.ParseQuantity(text, q, unit, e.set.mark)
	if bad != "" {
		return math.NaN(), false
	}
	return FromBase(shown, x), true
}

// FromBase is a number in a unit; one without a unit stays as it is.
func FromBase(u units.Unit, v float64) float64 {
	if u == units.None {
		return v
	}
	return u.FromBase(v)
}

// IsReading says whether a column of the Machines table holds what is read at the machine: readings, sweeps, sags, a given line.
func (e *Evaluator) IsReading(col int) bool {
	return e.ColumnOf(col) != nil && e.bind[col].id >= job.ColReading && e.bind[col].id < job.ColGraduation
}

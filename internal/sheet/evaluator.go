package sheet

import (
	"context"
	"fmt"
	"math"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// A RowKind says what a row of the Machines sheet is.
type RowKind uint8

// The kinds of row.
const (
	BlankRow   RowKind = iota // nothing to compute; it stays in place
	HeaderRow                 // the header repeated further down, left out with a warning
	MachineRow                // a coupling
)

// A Used holds the limits a row was held to.
type Used struct {
	Offset, Slope float64 // mm, mm/m; NaN: none
	Set           string  // name of the limit set used, "" none
	UpTo          float64 // rpm: end of the set's row; +Inf any speed; NaN no row
	Source        tables.Source
	OwnOffset     bool // the offset limit is the row's own
	OwnSlope      bool // the slope limit is the row's own
}

// A SweepInfo names a sweep of Calc.Checks, in the same order.
type SweepInfo struct {
	Name     string // of the family or the sweep column
	Readings int
	SagGiven bool
	Dial     bool // a dial on a bracket, which can sag
}

// A RowResult is what one row of the Machines sheet gives. Numbers that do not exist are NaN. It belongs to the Evaluator and is
// good until the next Refresh, RowsChanged or Run.
type RowResult struct {
	Kind RowKind
	Row  int    // 1-based row of the source
	Name string // of the machine as typed, trimmed; "row 12" without one

	Verdict calc.Verdict
	Why     string // what is missing or wrong; "" if nothing is. Evaluator.AppendWhy adds what decided a verdict.

	Method         Method
	MethodInferred bool // taken from the columns that are filled
	Coupling       tables.Coupling
	SpacerInferred bool // spacer because a spacer length is given
	Speed          float64
	Limits         Used
	Wanted         calc.Line
	Side3, Side9   string // as typed, trimmed

	Offset, Slope calc.Vector // the line as found, not against the wanted one
	Front, Rear   int         // indices in Calc.Feet; −1: no feet
	Further       []int       // indices in Calc.Feet of the further feet in the order typed
	Sweeps        []SweepInfo
	AfterVerdict  calc.Verdict
	Calc          calc.Result

	Problems []Problem
	Findings []calc.Finding
	Hints    []string // Findings in words

	stopped bool // something the line needs is missing or wrong; nothing was computed
	dirty   bool
}

// HasLine says whether the row came to a line.
func (r *RowResult) HasLine() bool { return r.Kind == MachineRow && !math.IsNaN(r.Offset.Total) }

// Worst is the gravest severity among the row's problems; Note when there are none.
func (r *RowResult) Worst() Severity {
	w := Note
	for i := range r.Problems {
		w = max(w, r.Problems[i].Severity)
	}
	return w
}

// binding is what a column of the Machines table was understood as.
type binding struct {
	id   colID
	unit units.Unit // of a bare number; None: it must bear its own (an unknown unit in the header), or is no quantity
}

// An Evaluator works a job out. It holds the job's tables, which the caller may change, telling by Refresh or RowsChanged.
// It is not safe for use by several goroutines.
type Evaluator struct {
	job      *Job
	set      settings
	bind     []binding // by column of the Machines table
	known    int       // columns with a binding
	problems []Problem // of whole sheets, and of the Readings, Stock and Job sheets

	packer    *calc.Packer
	packStock []tables.Thickness // what packer was made from, with …
	packMax   int
	packTol   float64
	thinnest  float64                  // mm, of the stock
	long      map[string]*longReadings // by machine key
	longOrder []string                 // its keys in the order they came

	keys  []string // name key of each row, "" none
	first map[string]int
	rows  []RowResult
	dups  []int32 // index of the row whose name this one bears again, −1 none

	sc scratch
}

// NewEvaluator understands the job's settings, headers, stock and readings. The rows wait for Run or Row.
func NewEvaluator(j *Job) *Evaluator {
	load()
	e := &Evaluator{job: j}
	e.Refresh()
	return e
}

// Job returns the job being evaluated.
func (e *Evaluator) Job() *Job { return e.job }

// Inch says whether the job's units are inch and mil.
func (e *Evaluator) Inch() bool { return e.set.inch }

// Decimal is the job's decimal sign.
func (e *Evaluator) Decimal() units.Decimal { return e.set.mark }

// Setting returns the text of a setting by its key, such as "site", trimmed.
func (e *Evaluator) Setting(key string) string {
	for c := sName; c < numCols; c++ {
		if columnInfos[c].Key == key {
			return strings.TrimSpace(e.set.text[c-sName])
		}
	}
	return ""
}

// Len is the number of rows of the Machines sheet.
func (e *Evaluator) Len() int {
	if e.job.Machines == nil {
		return 0
	}
	return len(e.job.Machines.Rows)
}

// Refresh understands the settings, headers, stock and readings afresh and marks every row to be worked out again.
func (e *Evaluator) Refresh() {
	e.problems = e.problems[:0]
	e.readSettings()
	e.bindHeader()
	e.readStock()
	e.readLong()
	e.resize()
	for i := range e.rows {
		e.rows[i].dirty = true
	}
	e.indexNames(0, len(e.rows))
}

// resize makes room for the rows of the table.
func (e *Evaluator) resize() {
	n := e.Len()
	if n <= len(e.rows) {
		e.rows, e.keys, e.dups = e.rows[:n], e.keys[:n], e.dups[:n]
		return
	}
	old := len(e.rows)
	if cap(e.rows) < n {
		grow := func(have int) int { return max(n, have+have/4) }
		rows := make([]RowResult, n, grow(cap(e.rows)))
		copy(rows, e.rows)
		e.rows = rows
		e.keys = append(make([]string, 0, cap(rows)), e.keys...)
		e.dups = append(make([]int32, 0, cap(rows)), e.dups...)
	} else {
		e.rows = e.rows[:n]
	}
	// Room for two feet and two sweeps a row in one piece; rows with more get their own.
	m := n - old
	feet, checks, sweeps := make([]calc.Foot, 2*m), make([]calc.SweepCheck, 2*m), make([]SweepInfo, 2*m)
	for i := range m {
		r := &e.rows[old+i]
		*r = RowResult{dirty: true}
		r.Calc.Feet = feet[2*i : 2*i : 2*i+2]
		r.Calc.Checks = checks[2*i : 2*i : 2*i+2]
		r.Sweeps = sweeps[2*i : 2*i : 2*i+2]
	}
	for len(e.keys) < n {
		e.keys, e.dups = append(e.keys, ""), append(e.dups, -1)
	}
}

// RowsChanged marks the rows from … to-1 to be worked out again after an edit, and those whose standing as a repeated name
// changed with it. When the number of rows changed, every row from the first one touched to the end has changed.
func (e *Evaluator) RowsChanged(from, to int) {
	if e.Len() != len(e.rows) {
		e.resize()
		to = len(e.rows)
	}
	from, to = max(from, 0), min(to, len(e.rows))
	for i := from; i < to; i++ {
		e.rows[i].dirty = true
	}
	e.indexNames(from, to)
}

// Run works out every row that waits, in order. progress, if not nil, is told now and then how far it is. It returns ctx's error
// if ctx ended first; the rows done so far stay done.
func (e *Evaluator) Run(ctx context.Context, progress func(done, total int)) error {
	n := len(e.rows)
	for i := range n {
		if i%256 == 0 {
			if err := ctx.Err(); err != nil {
				return err
			}
			if progress != nil {
				progress(i, n)
			}
		}
		if e.rows[i].dirty {
			e.evalRow(i)
		}
	}
	if progress != nil {
		progress(n, n)
	}
	return nil
}

// Row returns what row i of the Machines sheet gives, working it out if it waits; nil past the end.
func (e *Evaluator) Row(i int) *RowResult {
	if i < 0 || i >= len(e.rows) {
		return nil
	}
	if e.rows[i].dirty {
		e.evalRow(i)
	}
	return &e.rows[i]
}

// Problems returns the problems of whole sheets and of the Readings, Stock and Job sheets. Those of machine rows are in their results.
func (e *Evaluator) Problems() []Problem {
	list := e.problems[:len(e.problems):len(e.problems)]
	for _, k := range e.longOrder {
		if _, ok := e.first[k]; !ok {
			l := e.long[k]
			list = append(list, Problem{Error, e.job.Readings.File, e.sheetName(ReadingsSheet), l.row, columnInfos[lMachine].Name,
				fmt.Sprintf(msgNoSuchMachine, l.name), hintNoSuchMachine, l.col})
		}
	}
	return list
}

// sheetName is the name of a sheet for messages.
func (e *Evaluator) sheetName(k SheetKind) string {
	if t := e.job.Table(k); t != nil && t.Name != "" {
		return t.Name
	}
	return k.String()
}

// Count says how many rows hold a coupling, and how many of each verdict.
func (e *Evaluator) Count() (machines int, verdicts [4]int) {
	for i := range e.rows {
		if r := e.Row(i); r.Kind == MachineRow {
			machines++
			verdicts[r.Verdict]++
		}
	}
	return
}

// CellProblem returns the gravest problem of a cell, or nil.
func (e *Evaluator) CellProblem(row, col int) *Problem {
	r := e.Row(row)
	if r == nil {
		return nil
	}
	var worst *Problem
	for i := range r.Problems {
		if p := &r.Problems[i]; p.Col == col && (worst == nil || p.Severity > worst.Severity) {
			worst = p
		}
	}
	return worst
}

// ColumnOf returns what column col of the Machines table is understood as; nil for one nobody knows.
func (e *Evaluator) ColumnOf(col int) *ColumnInfo {
	if col < 0 || col >= len(e.bind) || e.bind[col].id == none {
		return nil
	}
	return &columnInfos[e.bind[col].id]
}

// nameKey is a machine's name without what does not matter: case and doubled blanks.
func nameKey(s string) string {
	s = strings.TrimSpace(s)
	blanks, upper := false, false
	for i := 0; i < len(s); i++ {
		c := s[i]
		upper = upper || c >= 0x80 || c >= 'A' && c <= 'Z'
		blanks = blanks || c >= 0x80 || c < ' ' || c == ' ' && s[i-1] == ' '
	}
	if blanks {
		s = strings.Join(strings.Fields(s), " ")
	}
	if upper {
		s = strings.ToLower(s)
	}
	return s
}

// indexNames brings the name keys of the rows from … to-1 up to date and, if one changed, who bears a name again.
func (e *Evaluator) indexNames(from, to int) {
	changed := e.first == nil || from == 0 && to == len(e.rows)
	col := e.column(cMachine)
	for i := from; i < to; i++ {
		k := ""
		if col >= 0 {
			if k = nameKey(e.job.Machines.Cell(i, col)); k != "" && e.isHeader(i) {
				k = ""
			}
		}
		if k != e.keys[i] {
			e.keys[i] = k
			changed = true
		}
	}
	if !changed {
		return
	}
	if e.first == nil {
		e.first = make(map[string]int, len(e.rows))
	}
	clear(e.first)
	for i, k := range e.keys {
		d := int32(-1)
		if k != "" {
			if j, ok := e.first[k]; ok {
				d = int32(j)
			} else {
				e.first[k] = i
			}
		}
		if d != e.dups[i] {
			e.dups[i] = d
			e.rows[i].dirty = true
		}
	}
}

// column is the first column of the Machines table understood as c, −1 if none.
func (e *Evaluator) column(c colID) int {
	for i, b := range e.bind {
		if b.id == c {
			return i
		}
	}
	return -1
}

// isHeader says whether row i repeats the header: all it holds is the header's own words, two at least.
func (e *Evaluator) isHeader(i int) bool {
	t := e.job.Machines
	same := 0
	for c, cell := range t.Rows[i] {
		if cell == "" {
			continue
		}
		if c >= len(t.Header) {
			return false
		}
		if sameNormal(cell, t.Header[c]) {
			if !blank(cell) {
				same++
			}
			continue
		}
		return false
	}
	return same >= 2
}

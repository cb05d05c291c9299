package evaluate

import (
	"context"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/abreast"
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A RowKind says what a row of the Machines sheet is.
type RowKind uint8

// The kinds of row.
const (
	BlankRow   RowKind = iota // nothing to compute; it stays in place
	HeaderRow                 // the header repeated further down, left out with a warning
	MachineRow                // a coupling
	LeftOutRow                // a total, a note or a line of dashes, left out with a warning
)

// A Used holds the limits a row was held to.
type Used struct {
	Offset, Slope float64 // mm, mm/m; NaN: none
	Set           string  // name of the limit set used, "" none
	UpTo          float64 // rpm: end of the set's row; +Inf any speed; NaN no row
	Source        tables.Source
	Own           bool          // the set is of the job's Limits sheet
	OwnOffset     bool          // the offset limit is the row's own
	OwnSlope      bool          // the slope limit is the row's own
	Reason        string        // Limit reason of the row, trimmed
	LooserUsed    bool          // a limit of the row's own that is looser than the set's held, for Reason
	LooserRefused bool          // a limit of the row's own is looser than the set's and has no Reason, so the set's held
	Alone         *words.Phrase // why the row's own limits could not be held against a set's; nil: they were, or there are none
}

// A SweepInfo names a sweep of Calc.Checks, in the same order.
type SweepInfo struct {
	Name     string // of the family or the sweep column
	Readings int
	SagGiven bool
	Dial     bool    // a dial on a bracket, which can sag
	Bracket  float64 // mm, about how long the bracket is where it is long and no sag was typed; 0 else
	MaySag   float64 // mm, what such a bracket may show at 6 o'clock, downwards positive; its ± has that in it
}

// A RowResult is what one row of the Machines sheet gives. Numbers that do not exist are NaN. It belongs to the Evaluator and is
// good until the next Refresh, RowsChanged or Run.
type RowResult struct {
	Kind RowKind
	Row  int    // 1-based row of the source
	Name string // of the machine as typed, trimmed; "row 12" without one

	Verdict calc.Verdict
	Why     words.Phrase // what is missing or wrong; empty if nothing is. Evaluator.AppendWhy adds what decided a verdict.

	Method         job.Method
	MethodInferred bool // taken from the columns that are filled
	Coupling       tables.Coupling
	OnFlange       bool // mounted on a vertical flange
	SpacerInferred bool // spacer because a spacer length is given
	Speed          float64
	Priority       int // 1 first; 0: none given
	Limits         Used
	Wanted         calc.Line
	Growth         *Growth // nil: the wanted line is the row's own columns' or none
	Feet           *Feet   // of the Feet sheet; nil: it does not have this machine
	Together       bool    // the packs of front and rear were chosen together, for the line after to be inside
	Side3, Side9   string  // names of the sides, trimmed, 3 o'clock as seen from behind the movable machine
	FromStationary bool    // the row's clock positions and sides were named by somebody behind the stationary machine
	ColdSetting    bool    // the wanted line is the maker's cold setting

	Offset, Slope calc.Vector // the line as found, not against the wanted one
	Front, Rear   int         // indices in Calc.Feet; −1: no feet
	Further       []int       // indices in Calc.Feet of the further feet in the order typed
	Sweeps        []SweepInfo
	AfterVerdict  calc.Verdict
	Calc          calc.Result
	Axial         *Axial      // nil: the row says nothing of the axial direction
	Checks        []Check     // of the Checks sheet, in its order
	Record        []RecordRow // of the Record sheet, in its order
	Signed        SignState   // what all signatures come to
	Rounds        []Round     // all of them in their order, where the Rounds sheet has the machine
	State         string      // which round counts; see StateWord
	counting      *roundRow
	withheld      bool       // the rounds do not say which of them counts
	open          *roundRow  // the last that is not struck, which may be the round hot; nil none
	foundRound    *RowResult // what the round found gave, where a later one counts

	Problems []job.Problem
	Findings []calc.Finding
	Hints    []words.Phrase // what the Findings say

	picks     []Picked      // of the sharing-out, where they are not those of a full box; nil
	models    []calc.Sweep  // of Sweeps, without their readings
	setSweeps job.FamilySet // of the sets of readings for the wanted line
	coldCov   calc.Cov      // of a cold setting by readings
	sagHeld   bool          // a positive number for sag waits for somebody to say what it means
	sagUBad   bool          // how sure a sag is cannot be read
	train     *trainRow     // what the trains need of the row; nil: it belongs to none
	Plan      *RowPlan      // what the chosen plan of its train asks of it; nil: nothing is chosen, or the plan is impossible
	stopped   bool          // something the line needs is missing or wrong; nothing was computed
	refused   bool          // so it is, though readings stand there
	odd       columnSet     // columns whose number is outside what is usual
	dashes    columnSet     // columns with a dash or the like, taken as not given
	asked     columnSet     // columns that an error of the row is of or names
}

// Stopped says that something the line needs is missing or wrong, and nothing was computed.
func (r *RowResult) Stopped() bool { return r.stopped }

// HasLine says whether the row came to a line.
func (r *RowResult) HasLine() bool { return r.Kind == MachineRow && !math.IsNaN(r.Offset.Total) }

// Worst is the gravest severity among the row's problems; Note when there are none.
func (r *RowResult) Worst() job.Severity {
	w := job.Note
	for i := range r.Problems {
		w = max(w, r.Problems[i].Severity)
	}
	return w
}

// binding is what a column of the Machines table was understood as.
type binding struct {
	id    job.ColumnID
	unit  units.Unit      // of a bare number; None: it must bear its own (an unknown unit in the header), or is no quantity
	own   bool            // the unit stands in the header
	other bool            // another column bears the name exactly: this one is kept, and not read
	doubt string          // the header could be two columns: these; what is filled there refuses its row
	could [2]job.ColumnID // they
}

// An Evaluator works a job out. It holds the job's tables, which the caller may change, telling by Refresh or RowsChanged.
// It is not safe for use by several goroutines; see Beside.
type Evaluator struct {
	job          *job.Job
	set          settings
	bind         []binding     // by column of the Machines table
	known        int           // columns with a binding
	asked        []int         // columns that are not read and whose names sound like where a shaft should stand
	askedNumbers []int         // those that sound like a limit or a sag
	problems     []job.Problem // of whole sheets, and of the sheets other than Machines
	asRead       []job.Problem // of reading the job, see Tell

	stock         []StockLine
	assumed       bool          // stock is what is assumed without a Stock sheet
	size          string        // label of feet that say no size
	sized         bool          // a foot of the job says its size
	packer        *packs.Packer // for feet that say no size; nil: none can be made
	packers       map[string]*packs.Packer
	packItems     []packs.StockItem // what the packers were made from, with …
	packKey       stockKey
	thinnest      float64     // mm, of the stock
	loose         bool        // some thickness of the stock is not taken as exact
	alloc         *Allocation // kept until something changes
	shared        *sharing    // what the rows have of it, or of one worked out elsewhere; nil: they have the packs of a full box
	sharingFailed string      // why the stock could not be shared out, "" it was not tried or it could
	stamp         string      // said of the time of a sharing-out, "" its revision

	ownSets      []*tables.LimitSet
	badSets      map[string]int // source row of what cannot be used, by name key
	ownMaterials []tables.Material
	badMaterials map[string]int
	checks       map[string]*machineChecks // by machine key
	rounds       map[string]*machineRounds
	record       *records // nil: there is no Record sheet
	older        []Older  // jobs of earlier years beside this one
	today        string
	trainLines   map[string][]trainLine // of the Trains sheet, by the train's key
	trainsBad    bool                   // the Trains sheet cannot be read
	trains       *trainPlans            // kept until something changes
	planChosen   bool                   // a person chose a plan for a train
	planning     bool                   // the trains are being planned
	rowPlans     map[int]*RowPlan       // of rows whose train has a chosen plan that is possible

	growths  map[string]*growthRows // by machine key
	footings map[string]*feetRows
	claims   []*claim // machines that the Growth and Feet sheets name, in order

	shown shownUnits

	long      map[string]*longReadings // by machine key
	longOrder []string                 // its keys in the order they came

	keys       []string // name key of each row, "" none
	first      map[string]int
	final      bool          // no row comes or goes any more
	blocks     [][]RowResult // blockRows results each; nil: none of them was asked for yet
	dirty      []bool        // rows that wait, one for each row
	marked     [2]int        // rows marked since Marked was called: from, to
	dups       []int32       // index of the row whose name this one bears again, −1 none
	named      int           // rows that first and dups speak of
	lower      []lowerHeader // headers further down
	unitColumn int           // of the Machines table, −1 none
	numeric    []bool        // columns of the Machines table that hold numbers or words of a list, or results
	comma      []bool        // rows with a decimal comma
	commas     int           // how many, with those of the other sheets
	names      bool          // most rows of the Machines sheet have a name

	sc scratch
}

// NewEvaluator understands the job's settings, headers, stock and readings. The rows wait for Run or Row.
func NewEvaluator(j *job.Job) *Evaluator { return NewEvaluatorOn(j, "") }

// NewEvaluatorOn is NewEvaluator on a day, as [Evaluator.SetToday] takes it; "" none.
func NewEvaluatorOn(j *job.Job, day string) *Evaluator {
	job.LoadColumns()
	e := &Evaluator{job: j, today: day, sc: emptyScratch()}
	e.Refresh()
	return e
}

// Final says that no row comes or goes any more: room for results is then made for the rows there are.
func (e *Evaluator) Final() { e.final = true }

// Tell adds problems that came up while the job was read, so that they are told with those of its sheets.
func (e *Evaluator) Tell(problems []job.Problem) { e.asRead = append(e.asRead, problems...) }

// Job returns the job being evaluated.
func (e *Evaluator) Job() *job.Job { return e.job }

// Inch says whether the job's units are inch and mil.
func (e *Evaluator) Inch() bool { return e.set.inch }

// Defaults are the temperature at which the machines stand cold (°C), the coupling and the limit set of rows that say nothing.
func (e *Evaluator) Defaults() (cold float64, coupling tables.Coupling, limits string) {
	return e.set.cold, e.set.coupling, e.set.limits
}

// AddsShares says whether the shares that offset and slope take of their limits are added for a row.
func (e *Evaluator) AddsShares(r *RowResult) bool { return e.set.addShares && r.Coupling.ByOffset() }

// Decimal is the job's decimal sign.
func (e *Evaluator) Decimal() units.Decimal {
	if e.set.mark == units.Commas { // nothing was said
		return units.Either
	}
	return e.set.mark
}

// Setting returns the text of a setting by its key, such as "site", trimmed.
func (e *Evaluator) Setting(key string) string {
	for c := job.SettingName; c < job.NumColumns; c++ {
		if c.Info().Key == key {
			return strings.TrimSpace(e.set.text[c-job.SettingName])
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
	e.problems, e.claims, e.sized = e.problems[:0], e.claims[:0], false
	e.alloc, e.shared, e.sharingFailed = nil, nil, ""
	e.readSettings()
	e.bindHeader()
	e.findMisspelt()
	e.countCommas()
	e.readLimits()
	e.defaultLimits()
	e.readMaterials()
	e.readGrowth()
	e.readFeet()
	e.readChecks()
	e.readRounds()
	e.readTrains()
	e.readRecord()
	e.readStock()
	e.readLong()
	e.resize()
	e.mark(0, len(e.dirty))
	e.findLower(0, len(e.dirty))
	e.indexNames(0, len(e.dirty))
}

// Reserve makes room for n rows in all. A table that grows to them piece by piece, told by RowsChanged, is then taken piece by piece: what is there
// is neither copied nor gone through again.
func (e *Evaluator) Reserve(n int) {
	e.dirty = slices.Grow(e.dirty, max(n-len(e.dirty), 0))
	e.keys = slices.Grow(e.keys, max(n-len(e.keys), 0))
	e.dups = slices.Grow(e.dups, max(n-len(e.dups), 0))
}

// resize brings what is kept for each row to the number of rows of the table.
func (e *Evaluator) resize() {
	n := e.Len()
	if n <= len(e.dirty) {
		e.dirty, e.keys, e.dups = e.dirty[:n], e.keys[:n], e.dups[:n]
	} else {
		old := len(e.dirty)
		e.Reserve(n)
		e.dirty, e.keys, e.dups = e.dirty[:n], e.keys[:n], e.dups[:n]
		for i := old; i < n; i++ {
			e.dirty[i], e.keys[i], e.dups[i] = true, "", -1
		}
		e.note(old, n)
	}
	m := (n + blockRows - 1) / blockRows
	if m <= len(e.blocks) {
		clear(e.blocks[m:])
	}
	e.blocks = slices.Grow(e.blocks, max(m-len(e.blocks), 0))[:m]
}

// blockRows is for how many rows room for results is made at a time. A result is large and most are not looked at when a job opens.
const blockRows = 32

// at is where the result of row i is kept.
func (e *Evaluator) at(i int) *RowResult {
	b := e.blocks[i/blockRows]
	if b == nil {
		// Room for two feet and two sweeps a row in one piece; rows with more get their own.
		rows := blockRows
		if e.final {
			rows = min(rows, e.Len()-i/blockRows*blockRows)
		}
		m := 2 * rows
		b = make([]RowResult, rows)
		feet, checks, sweeps, models := make([]calc.Foot, m), make([]calc.SweepCheck, m), make([]SweepInfo, m), make([]calc.Sweep, m)
		for k := range b {
			r := &b[k]
			r.Calc.Feet = feet[2*k : 2*k : 2*k+2]
			r.Calc.Checks = checks[2*k : 2*k : 2*k+2]
			r.Sweeps = sweeps[2*k : 2*k : 2*k+2]
			r.models = models[2*k : 2*k : 2*k+2]
		}
		e.blocks[i/blockRows] = b
	}
	return &b[i%blockRows]
}

// mark has the rows from … to-1 wait.
func (e *Evaluator) mark(from, to int) {
	for i := from; i < to; i++ {
		e.dirty[i] = true
	}
	e.note(from, to)
}

// note has the rows from … to-1 be told by Marked, and the trains planned anew.
func (e *Evaluator) note(from, to int) {
	e.trains = nil
	e.widen(from, to)
}

// widen widens what Marked tells.
func (e *Evaluator) widen(from, to int) {
	switch {
	case from >= to:
	case e.marked[0] >= e.marked[1]:
		e.marked = [2]int{from, to}
	default:
		e.marked = [2]int{min(e.marked[0], from), max(e.marked[1], to)}
	}
}

// Marked returns the shortest run of rows, from … to-1, that holds all that were marked to be worked out again since it was last called.
func (e *Evaluator) Marked() (from, to int) {
	from, to = e.marked[0], min(e.marked[1], len(e.dirty))
	e.marked = [2]int{}
	return min(from, to), to
}

// RowsChanged marks the rows from … to-1 to be worked out again after an edit, and those whose standing as a repeated name
// changed with it. When the number of rows changed, every row from the first one touched to the end has changed.
func (e *Evaluator) RowsChanged(from, to int) {
	e.dropSharing()
	if e.Len() != len(e.dirty) {
		e.resize()
		to = len(e.dirty)
	}
	from, to = max(from, 0), min(to, len(e.dirty))
	if e.commasChanged(from, to) {
		e.Refresh() // numbers read otherwise, on every sheet
		return
	}
	e.mark(from, to)
	e.findLower(from, to)
	e.indexNames(from, to)
}

// Run works out every row that waits, on all cores. progress, if not nil, is told now and then how far it is. It returns ctx's error
// if ctx ended first; the rows done so far stay done.
func (e *Evaluator) Run(ctx context.Context, progress func(done, total int)) error {
	n := len(e.dirty)
	if e.planChosen {
		e.planTrains()
	}
	abreast.Pieces(n, 8*blockRows, func(worker int) func(from, to int) {
		w := e
		if worker > 0 {
			w = e.Beside()
		}
		return func(from, to int) {
			if ctx.Err() != nil {
				return
			}
			if progress != nil && worker == 0 {
				progress(from, n)
			}
			for i := from; i < to; i++ {
				if w.dirty[i] {
					w.evalRow(i)
				}
			}
		}
	})
	if err := ctx.Err(); err != nil {
		return err
	}
	if progress != nil {
		progress(n, n)
	}
	return nil
}

// Beside returns an evaluator of the same job and the same results that another goroutine may use at the same time: rows that wait may be worked out by one of them each, and rows that
// were worked out may be read by all. It has memory of its own for the row at work, and is good until the job or anything of e changes.
func (e *Evaluator) Beside() *Evaluator {
	if e.record != nil && e.record.lines == nil { // gathered when it is first asked for, and shared
		e.linesOf()
	}
	o := *e
	o.sc = emptyScratch()
	o.packers = maps.Clone(e.packers)
	return &o
}

// emptyScratch has no row in it: a cell that is not there is no number, and never 0.
func emptyScratch() (sc scratch) {
	for id := range sc.val {
		sc.val[id] = nan
	}
	return sc
}

// Row returns what row i of the Machines sheet gives, working it out if it waits; nil past the end.
func (e *Evaluator) Row(i int) *RowResult {
	if i < 0 || i >= len(e.dirty) {
		return nil
	}
	if e.planChosen && !e.planning {
		e.planTrains() // rows take what a chosen plan asks of them
	}
	if e.dirty[i] {
		e.evalRow(i)
	}
	return e.at(i)
}

// Problems returns the problems of whole sheets and of the sheets other than Machines. Those of machine rows are in their results.
func (e *Evaluator) Problems() []job.Problem {
	trains := e.planTrains()
	list := append(e.asRead[:len(e.asRead):len(e.asRead)], e.problems...)
	list = append(list, trains.problems...)
	return e.unnamed(list, trains.stays)
}

// unnamed appends a problem for each machine that another sheet names and the Machines sheet does not, and between them what is told once a column. stays are the keys of those that stand under Stationary in a train.
func (e *Evaluator) unnamed(list []job.Problem, stays map[string]bool) []job.Problem {
	list = e.columnNotes(e.unnamedReadings(list))
	if p, ok := e.askSag(); ok {
		list = append(list, p)
	}
	return e.unnamedClaims(list, stays)
}

// unnamedReadings is unnamed for the Readings sheet.
func (e *Evaluator) unnamedReadings(list []job.Problem) []job.Problem {
	for _, k := range e.longOrder {
		if _, ok := e.first[k]; !ok {
			l := e.long[k]
			list = append(list, job.Problem{Severity: job.Error, File: e.job.Readings.File, Sheet: e.SheetName(job.ReadingsSheet), Row: l.row, Column: job.ReadingsMachine.Info().Name,
				Text: words.ProblemNoSuchMachine.With(strconv.Quote(l.name)), Hint: words.HintNoSuchMachine.With(), Col: l.col})
		}
	}
	return list
}

// unnamedClaims is unnamed for the other sheets.
func (e *Evaluator) unnamedClaims(list []job.Problem, stays map[string]bool) []job.Problem {
	for _, c := range e.claims {
		if _, ok := e.first[nameKey(c.name)]; !ok && !(c.sheet == job.FeetSheet && stays[nameKey(c.name)]) {
			list = append(list, job.Problem{Severity: job.Error, File: e.job.Table(c.sheet).File, Sheet: e.SheetName(c.sheet), Row: c.row, Column: job.ReadingsMachine.Info().Name,
				Text: words.ProblemNoSuchMachine.With(strconv.Quote(c.name)), Hint: words.HintNoSuchMachine.With(), Col: c.col})
		}
	}
	return list
}

// askSag asks once a job for the sag of long brackets that nobody typed, of the rows worked out so far.
func (e *Evaluator) askSag() (p job.Problem, ask bool) {
	n, long, name := 0, 0.0, ""
	for i := range e.dirty {
		if e.dirty[i] {
			continue
		}
		r := e.at(i)
		for k := range r.Sweeps {
			if b := r.Sweeps[k].Bracket; b > 0 {
				if n++; b > long {
					long, name = b, r.Name
				}
				break
			}
		}
	}
	if n == 0 {
		return p, false
	}
	t := e.job.Machines
	return job.Problem{Severity: job.Warning, File: t.File, Sheet: e.SheetName(job.MachinesSheet), Column: job.ColMovableSag.Info().Name,
		Text: words.ProblemAskSag.With(n, e.Distance(longestBare), e.Distance(long), name), Hint: words.HintAskSag.With(), Col: -1}, true
}

// SheetName is the name of a sheet for messages.
func (e *Evaluator) SheetName(k job.SheetKind) string {
	if t := e.job.Table(k); t != nil && t.Name != "" {
		return t.Name
	}
	return k.String()
}

// Count says how many rows hold a coupling, and how many of each verdict.
func (e *Evaluator) Count() (machines int, verdicts [4]int) {
	for i := range e.dirty {
		if r := e.Row(i); r.Kind == MachineRow {
			machines++
			verdicts[r.Verdict]++
		}
	}
	return
}

// CellProblem returns the gravest problem of a cell, or nil.
func (e *Evaluator) CellProblem(row, col int) *job.Problem {
	r := e.Row(row)
	if r == nil {
		return nil
	}
	var worst *job.Problem
	for i := range r.Problems {
		if p := &r.Problems[i]; p.Col == col && (worst == nil || p.Severity > worst.Severity) {
			worst = p
		}
	}
	return worst
}

// ColumnOf returns what column col of the Machines table is understood as; nil for one nobody knows.
func (e *Evaluator) ColumnOf(col int) *job.ColumnInfo {
	if col < 0 || col >= len(e.bind) || e.bind[col].id == job.NoColumn {
		return nil
	}
	return e.bind[col].id.Info()
}

// Bound is what column col of the Machines table is understood as, and the unit of a bare number there.
func (e *Evaluator) Bound(col int) (id job.ColumnID, unit units.Unit) {
	return e.bind[col].id, e.bind[col].unit
}

// Mark is the decimal sign that numbers are read and shown with.
func (e *Evaluator) Mark() units.Decimal { return e.set.mark }

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
	behind := e.first != nil && from == e.named && to == len(e.dirty) // rows that came behind the others
	changed := e.first == nil || from == 0 && to == len(e.dirty) || e.named != len(e.dirty)
	defer e.settleNames()
	col := e.Column(job.ColMachine)
	for i := from; i < to; i++ {
		k := ""
		if col >= 0 {
			if k = nameKey(e.job.Machines.Cell(i, col)); k != "" && (e.isHeader(i) || job.NoWord(k)) {
				k = ""
			}
		}
		if k != e.keys[i] {
			e.keys[i] = k
			changed = true
		}
		if behind {
			e.dups[i] = e.bear(k, i)
		}
	}
	if behind || !changed {
		e.named = len(e.dirty)
		return
	}
	if e.first == nil {
		e.first = make(map[string]int, len(e.dirty))
	}
	clear(e.first)
	for i, k := range e.keys {
		if d := e.bear(k, i); d != e.dups[i] {
			e.dups[i] = d
			e.mark(i, i+1)
		}
	}
	e.named = len(e.dirty)
}

// settleNames notes whether the rows of the list bear names; a row without one is then no machine of it.
func (e *Evaluator) settleNames() {
	n := 0
	for _, k := range e.keys {
		if k != "" {
			n++
		}
	}
	if has := n > 0; has != e.names {
		e.names = has
		e.mark(0, len(e.dirty))
	}
}

// bear notes that row i bears a name, and returns the row that bears it first, −1 if that is i.
func (e *Evaluator) bear(key string, i int) int32 {
	if key == "" {
		return -1
	}
	if j, ok := e.first[key]; ok {
		return int32(j)
	}
	e.first[key] = i
	return -1
}

// Column is the first column of the Machines table understood as c, −1 if none.
func (e *Evaluator) Column(c job.ColumnID) int {
	for i, b := range e.bind {
		if b.id == c && !b.other {
			return i
		}
	}
	return -1
}

// MachineColumn is the column of the Machines table that the names of the machines stand in, −1 none.
func (e *Evaluator) MachineColumn() int { return e.Column(job.ColMachine) }

// isHeader says whether row i repeats the header: all it holds is the header's own words, or others for the same columns and units, two at least.
func (e *Evaluator) isHeader(i int) bool {
	t := e.job.Machines
	same, others := 0, false
	for c, cell := range t.Rows[i] {
		switch {
		case cell == "":
		case c >= len(t.Header):
			return false
		case !job.SameSpelling(cell, t.Header[c]):
			if job.OnlyNumbers(cell) { // so are most cells
				return false
			}
			others = true
		case !job.Blank(cell):
			same++
		}
	}
	if !others {
		return same >= 2
	}
	same = 0
	for c, cell := range t.Rows[i] {
		switch {
		case cell == "":
		case !job.SameSpelling(cell, t.Header[c]) && !e.sameColumn(cell, t.Header[c], job.MachinesSheet):
			return false
		case !job.Blank(cell):
			same++
		}
	}
	return same >= 2
}

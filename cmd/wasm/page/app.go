//go:build js && wasm

package main

import (
	"fmt"
	"strings"
	"time"

	"shimsheet/internal/calc"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/journal"
	"shimsheet/internal/screens"
	"shimsheet/internal/sheet"
	"shimsheet/internal/units"
)

// kinds is every sheet in the order of the tabs.
var kinds = [...]job.SheetKind{job.MachinesSheet, job.SettingsSheet, job.ReadingsSheet, job.StockSheet,
	job.GrowthSheet, job.FeetSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet, job.RoundsSheet, job.TrainsSheet, job.RecordSheet}

// An app is everything the page holds.
type app struct {
	desk
	past, future []step        // whole jobs, to go back to and on to
	coming       *arrival      // being taken, piece by piece
	older        []sheet.Older // jobs of earlier years beside the one at hand
	listed       *job.Job      // in a worker: whose stock is to be shared out
	desks        int           // opened so far
	snapshot     *job.Job      // as it was when its whole copy was begun
	freezes      int           // counts them
	copied       *job.Job      // brought back from a copy, not shown yet
	screens      map[string]screens.Screen
	byScreen     grid.Change // what a screen changed since the page was told
}

// A desk is an open job and all that belongs to it.
type desk struct {
	number       int // which opening of a job this is
	job          *job.Job
	ev           *sheet.Evaluator
	grids        map[job.SheetKind]*grid.Model
	kind         job.SheetKind // the sheet shown
	next         int           // the rows from here …
	end          int           // … to before this are to be worked out
	changes      int           // since the job was opened
	machine      int           // column of the machine's name, −1 none
	machRow      int           // the row the panel speaks of while another sheet is shown
	results      []job.ResultColumn
	views        []grid.View       // by sheet kind
	sorts        [][]grid.SavedKey // what the rows were shown sorted by before their order was made the job's, the last at the end
	undone       [][]grid.SavedKey // the same for what was undone of that
	shown        string            // the units shown, as sheet.Evaluator.ShowAs takes them
	all          bool              // every column is shown, whether in use or not
	resultsFirst bool              // all results stand before the inputs
	looked       bool              // for columns in use, since a change
	filled       []bool            // result columns that some row has a value in
	summing      *grid.Summing
	planned      *grid.Plan
	learnt       []sheet.OwnHeader      // what the plan's columns were matched with, to be kept when it is carried out
	wide         map[placed]job.Problem // the gravest problem of each cell of the other sheets, nil: not listed yet
	notices      []job.Problem          // what was pointed out when the job was read from a file
	source       string                 // the text the job was opened from, "" none
	told         *journal.Journal       // what the safety copy knows
}

type placed struct {
	kind     job.SheetKind
	row, col int
}

// open shows a job from its beginning, without anything to undo.
func (a *app) open(j *job.Job) { a.openWith(j, nil) }

// openWith opens a job that has an evaluator already; nil: it gets one.
func (a *app) openWith(j *job.Job, ev *sheet.Evaluator) {
	a.past, a.future = nil, nil
	a.desks++
	a.desk = desk{told: journal.New(j), number: a.desks, job: j, kind: job.MachinesSheet, grids: map[job.SheetKind]*grid.Model{}}
	for _, k := range kinds {
		t := j.Table(k)
		if t != nil && t.Header == nil {
			t.SplitHeader(k)
		}
		switch {
		case t != nil && (t.Header != nil || len(t.Rows) > 0):
			if t.Header == nil && k != job.MachinesSheet {
				t.Header = defaultHeader(k)
			} else if t.Header == nil {
				t.Header = plainHeader(t.Width())
			}
			a.grids[k] = grid.New(t.Title, t.Header, squeeze(t.Rows))
			if k == job.SettingsSheet {
				a.addSettings()
			}
		case k == job.MachinesSheet:
			a.grids[k] = grid.New(nil, nil, nil)
		default:
			var rows [][]string
			if k == job.SettingsSheet {
				rows = settingRows()
			}
			a.grids[k] = grid.New(nil, defaultHeader(k), rows)
		}
	}
	a.results = job.ResultColumns()
	a.readViews()
	a.filled = make([]bool, len(a.results))
	if a.ev = ev; ev == nil {
		a.ev = sheet.NewEvaluator(j)
	}
	a.ev.SetToday(today())
	a.ev.SetHistory(a.older)
	a.wait()
	for i := range min(a.ev.Len(), inSight) { // what is in sight first decides which columns are in use
		a.noteFilled(i)
	}
	for _, k := range kinds {
		a.setOrder(k)
		a.arrange(k)
	}
	a.grids[job.SettingsSheet].Go(grid.Pos{Col: 1}, false) // the first value
}

// inSight is how many rows are worked out before anything is shown.
const inSight = 40

// squeeze gives rows slices of their own length, so that no row's growth writes into another.
func squeeze(rows [][]string) [][]string {
	out := make([][]string, len(rows))
	for i, r := range rows {
		out[i] = r[:len(r):len(r)]
	}
	return out
}

// defaultHeader is what a sheet other than Machines begins with.
func defaultHeader(k job.SheetKind) []string {
	if k == job.SettingsSheet {
		return []string{"Name", "Value"}
	}
	var h []string
	for _, c := range job.Columns() {
		if c.Sheet == k {
			h = append(h, c.Name)
		}
	}
	return h
}

// plainHeader names columns that came without a header.
func plainHeader(n int) []string {
	h := make([]string, n)
	for i := range h {
		h[i] = fmt.Sprintf("Column %d", i+1)
	}
	return h
}

// settingRows is one row a setting, without values.
func settingRows() [][]string {
	var rows [][]string
	for _, c := range job.Columns() {
		if c.Sheet == job.SettingsSheet {
			rows = append(rows, []string{c.Name, ""})
		}
	}
	return rows
}

// addSettings appends the settings that the Job sheet does not name yet, so that all of them can be found.
func (a *app) addSettings() {
	g := a.grids[job.SettingsSheet]
	have := map[string]bool{}
	rows := g.Rows()
	for _, r := range rows {
		if len(r) > 0 {
			if c := job.FindColumn(job.SettingsSheet, r[0]); c != nil {
				have[c.Key] = true
			}
		}
	}
	for _, r := range settingRows() {
		if c := job.FindColumn(job.SettingsSheet, r[0]); c != nil && !have[c.Key] {
			rows = append(rows, r)
		}
	}
	a.grids[job.SettingsSheet] = grid.New(g.Title(), g.Header(), rows)
}

func (a *app) grid() *grid.Model { return a.grids[a.kind] }

// first is how many result columns stand directly behind the machine's name: the verdict and why.
const first = 2

// setOrder sets in which order the columns of a sheet are shown.
func (a *app) setOrder(k job.SheetKind) {
	g := a.grids[k]
	var order []int
	switch k {
	case job.MachinesSheet:
		a.machine = -1
		if len(g.Header()) == 0 {
			break
		}
		for c, h := range g.Header() {
			if info := job.FindColumn(k, h); info != nil && info.Key == "machine" && (a.machine < 0 || strings.EqualFold(strings.TrimSpace(h), info.Name)) {
				a.machine = c // the exact name, where two columns mean the machine
			}
		}
		if a.machine >= 0 {
			order = append(order, a.machine)
		}
		lead := first
		if a.resultsFirst {
			lead = len(a.results)
		}
		for r := range a.results[:lead] {
			order = append(order, ^r)
		}
		for c := range g.Header() {
			if c != a.machine {
				order = append(order, c)
			}
		}
		for r := lead; r < len(a.results); r++ {
			order = append(order, ^r)
		}
	case job.SettingsSheet:
		for c := range g.Header() {
			order = append(order, c)
		}
		order = append(order, ^0) // what a setting means
	}
	g.SetOrder(order)
	a.hide(k)
}

// changed brings the job and what is worked out from it up to a change of sheet k.
func (a *app) changed(k job.SheetKind, ch grid.Change) {
	if !ch.Any {
		return
	}
	a.changes++
	g := a.grids[k]
	t := a.job.Table(k)
	if t == nil {
		t = &job.Table{Name: k.String()}
		a.job.SetTable(k, t)
	}
	if ch.Header || t.FirstRow == 0 {
		t.FirstRow = len(g.Title()) + 2 // as a spreadsheet counts: title lines and header stand above
	}
	t.Title, t.Header, t.Rows = g.Title(), g.Header(), g.Rows()
	if len(t.Header) == 0 {
		t.Header = nil
	}
	if ch.Header {
		a.setOrder(k)
		defer a.arrange(k) // by what will have been worked out
	}
	a.looked = false
	defer a.wait()
	if k == job.MachinesSheet && !ch.Header {
		to := ch.To
		if ch.Moved {
			to = len(t.Rows)
		}
		a.ev.RowsChanged(ch.From, to)
		return
	}
	a.ev.Refresh()
	a.wide = nil
}

// listProblems notes where the problems of the other sheets stand. Not before one of them is looked at: finding them, moves of trains among them, took a quarter of opening a job.
func (a *app) listProblems() {
	a.wide = map[placed]job.Problem{}
	for _, p := range a.ev.Problems() {
		k, row, ok := a.place(p)
		if !ok {
			continue
		}
		at := placed{k, row, p.Col}
		if old, ok := a.wide[at]; !ok || p.Severity > old.Severity {
			a.wide[at] = p
		}
	}
}

// place says which sheet a problem belongs to and in which of its rows it stands, −1 for none.
func (a *app) place(p job.Problem) (k job.SheetKind, row int, ok bool) {
	for _, k := range kinds {
		t := a.job.Table(k)
		if t != nil && (t.Name == p.Sheet || k.String() == p.Sheet) {
			if p.Row == 0 {
				return k, -1, true
			}
			return k, p.Row - t.SourceRow(0), true
		}
	}
	return 0, -1, false
}

// wait adds the rows that a change left to be worked out to those that work has to do.
func (a *app) wait() {
	from, to := a.ev.Marked()
	switch {
	case from >= to:
	case a.next >= a.end:
		a.next, a.end = from, to
	default:
		a.next, a.end = min(a.next, from), max(a.end, to)
	}
}

// work does rows that wait, for about the given time, and says how far it is and where it ends.
func (a *app) work(limit time.Duration) (done, total int) {
	a.end = min(a.end, a.ev.Len())
	for end, i := time.Now().Add(limit), 0; a.next < a.end; i++ {
		a.ev.Row(a.next)
		a.noteFilled(a.next)
		a.next++
		if i%16 == 15 && time.Now().After(end) {
			break
		}
	}
	return min(a.next, a.end), a.end
}

// AppendResult and Mark make the app the grid's source.

// AppendResult appends what a read-only column shows.
func (a *app) AppendResult(dst []byte, row, k int) []byte {
	if a.kind == job.SettingsSheet {
		if o, ok := sheet.ParseOwnHeader(a.grid().Cell(row, 0), ""); ok {
			dst = append(append(append(dst, "In lists for the sheet "...), o.Kind.String()...), " this header is read as the column that stands beside it."...)
		} else if c := job.FindColumn(a.kind, a.grid().Cell(row, 0)); c != nil {
			dst = append(dst, c.Help...)
			if len(c.Choices) > 0 {
				dst = append(append(append(dst, " One of: "...), strings.Join(c.Choices, ", ")...), '.')
			}
		}
		return dst
	}
	return a.ev.AppendResultText(dst, row, k)
}

// AppendShown appends an input cell in the units shown, when they are not the job's.
func (a *app) AppendShown(dst []byte, row, c int) ([]byte, bool) {
	if a.kind != job.MachinesSheet {
		return dst, false
	}
	return a.ev.AppendShown(dst, row, c)
}

func (a *app) result(row, k int) string { return string(a.AppendResult(nil, row, k)) }

// Mark says how a cell is to be shown: - plain, e error, w warning, n note, r result, and for the verdict 0 not judged, 1 inside,
// 2 outside, 3 too close to call; b for a result of a row that has none.
func (a *app) Mark(row, c int) byte {
	if c < 0 {
		if a.kind != job.MachinesSheet {
			return 'r'
		}
		r := a.ev.Row(row)
		if r == nil || r.Kind != sheet.MachineRow {
			return 'b'
		}
		switch a.results[^c].Key {
		case "verdict":
			return verdictMark(r.Verdict)
		case "after_verdict":
			if r.Calc.HasAfter {
				return verdictMark(r.AfterVerdict)
			}
		}
		return 'r'
	}
	if p := a.cellProblem(row, c); p != nil {
		return severityMark(p.Severity)
	}
	return '-'
}

func verdictMark(v calc.Verdict) byte { return '0' + byte(v) }

func severityMark(s job.Severity) byte { return "nwe"[s] }

// cellProblem returns the gravest problem of a cell of the sheet shown.
func (a *app) cellProblem(row, c int) *job.Problem {
	if a.kind == job.MachinesSheet {
		return a.ev.CellProblem(row, c)
	}
	if a.wide == nil {
		a.listProblems()
	}
	if p, ok := a.wide[placed{a.kind, row, c}]; ok {
		return &p
	}
	return nil
}

// meaning is how the grid is told about headers.
func (a *app) meaning() grid.Meaning {
	k := a.kind
	return grid.Meaning{
		Arrange: func(rows [][]string) (title [][]string, header []string, body [][]string, ok bool) {
			t := &job.Table{Rows: rows}
			ok = t.SplitHeader(k)
			return t.Title, t.Header, t.Rows, ok
		},
		Match: func(header []string, name string) int { return job.MatchColumn(k, header, name, a.ev.Inch()) },
	}
}

// paste takes a clipboard text, or the text of a list in a file.
func (a *app) paste(text string) grid.Change {
	return a.grid().ApplyPlan(a.plan(text))
}

// demo opens the demo job from its lists.
func (a *app) demo(lists map[job.SheetKind]string) error {
	j := job.NewJob()
	for k, text := range lists {
		if text == "" {
			continue
		}
		t, _, err := job.ReadDelimited(k.String(), []byte(text), 0)
		if err != nil {
			return err
		}
		t.SplitHeader(k)
		j.SetTable(k, t)
	}
	a.open(j)
	a.changes++
	return nil
}

// saved returns the job as it is to be written into a file at the given time, its revision one up.
func (a *app) saved(at string) ([]byte, error) {
	a.writeViews()
	j := *a.job
	j.Saved(at)
	b, err := j.Seal()
	if err == nil {
		a.job.Revision, a.job.SavedAt, a.job.SavedBefore = j.Revision, j.SavedAt, j.SavedBefore
	}
	return b, err
}

// name is the job's name for titles and file names.
func (a *app) name() string { return a.ev.Setting("name") }

// unitOf is the unit shown under a column's name: as typed in brackets, else the job's for that kind of column.
func (a *app) unitOf(k job.SheetKind, header string) (name, unit string) {
	info := job.FindColumn(k, header)
	if name, unit = job.HeaderParts(k, header); unit != "" {
		return name, unit
	}
	if info != nil && k != job.SettingsSheet {
		if u := info.Unit(a.ev.Inch()); u != units.None {
			unit = u.String()
		}
	}
	return name, unit
}

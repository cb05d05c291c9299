package desk

import (
	"strconv"
	"strings"
	"time"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/journal"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// kinds is every sheet in the order of the tabs.
var kinds = [...]job.SheetKind{job.MachinesSheet, job.SettingsSheet, job.ReadingsSheet, job.StockSheet,
	job.GrowthSheet, job.FeetSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet, job.RoundsSheet, job.TrainsSheet, job.RecordSheet}

// A Desk is everything the page holds: the job that lies open, those that undo leads back to, and what comes and goes between page, workers and files.
type Desk struct {
	version  string             // of the program
	progress func(part float64) // is told how far a sharing-out is, 0 to 1
	now      func() time.Time
	opening
	begun        opening          // of a new job, laid out before anything was opened
	past, future []step           // whole jobs, to go back to and on to
	coming       *arrival         // being taken, piece by piece
	older        []evaluate.Older // jobs of earlier years beside the one at hand
	listed       *job.Job         // in a worker: whose stock is to be shared out
	openings     int              // so far
	snapshot     *job.Job         // as it was when its whole copy was begun
	freezes      int              // counts them
	copied       *job.Job         // brought back from a copy, not shown yet
	screens      map[string]screens.Screen
	screenWidth  int         // of the screen in Go that is shown, in pixels
	byScreen     grid.Change // what a screen changed since the page was told
	shownOther   bool        // and that the sheet shows other rows or columns, or the same in another order
}

// An opening is an open job and all that belongs to it: a job that is opened again, or undone to, is another.
type opening struct {
	number       int // which opening of a job this is
	job          *job.Job
	ev           *sentences.Teller
	grids        map[job.SheetKind]*grid.Model
	kind         job.SheetKind // the sheet shown
	next         int           // the rows from here …
	end          int           // … to before this are to be worked out
	changes      int           // since the job was opened
	unsaved      *saving       // what the job knew before the last saving
	machine      int           // column of the machine's name, −1 none
	machRow      int           // the row the panel speaks of while another sheet is shown
	nobody       string        // the machine that the row on such a sheet names, where there is none of that name
	results      []job.ResultColumn
	views        []grid.View       // by sheet kind
	sorts        [][]grid.SavedKey // what the rows were shown sorted by before their order was made the job's, the last at the end
	undone       [][]grid.SavedKey // the same for what was undone of that
	shown        string            // the units shown, as evaluate.Evaluator.ShowAs takes them
	all          bool              // every column is shown, whether in use or not
	resultsFirst bool              // all results stand before the inputs
	looked       bool              // for columns in use, since a change
	filled       []bool            // result columns that some row has a value in
	summing      *grid.Summing
	planned      *grid.Plan
	learnt       []evaluate.OwnHeader   // what the plan's columns were matched with, to be kept when it is carried out
	wide         map[placed]job.Problem // the gravest problem of each cell of the other sheets, nil: not listed yet
	notices      []job.Problem          // what was pointed out when the job was read from a file
	source       string                 // the text the job was opened from, "" none
	told         *journal.Journal       // what the safety copy knows
}

type placed struct {
	kind     job.SheetKind
	row, col int
}

// New is a desk with nothing on it: no operation but those that open a job or begin one may come first. progress may be nil.
func New(version string, progress func(part float64)) *Desk {
	if progress == nil {
		progress = func(float64) {}
	}
	return &Desk{version: version, progress: progress, now: time.Now}
}

// open shows a job from its beginning, without anything to undo.
func (d *Desk) open(j *job.Job) { d.openWith(j, nil) }

// openWith opens a job that has an evaluator already; nil: it gets one.
func (d *Desk) openWith(j *job.Job, ev *sentences.Teller) {
	d.layOut(j, ev, d.local().String())
	d.date()
	d.arrangeAll()
}

// Begin lays a new job out ahead of time, on a desk with nothing on it, for the first "new". Neither the clock nor chance has a part in what it does: the page's program does it while the page is built.
func (d *Desk) Begin() {
	d.layOut(job.NewJob(), nil, "")
	d.arrangeAll()
	d.begun, d.opening = d.opening, opening{}
}

// openNew opens a new job: the one that was laid out ahead of time, if there is one.
func (d *Desk) openNew() {
	if d.begun.job == nil {
		d.open(job.NewJob())
		return
	}
	d.opening, d.begun = d.begun, opening{}
	d.job.ID = job.NewID()
	d.date()
}

// layOut puts a job's sheets onto the desk. day is the day that certificates are held against, "" if none has come yet.
func (d *Desk) layOut(j *job.Job, ev *sentences.Teller, day string) {
	d.opening = opening{job: j, kind: job.MachinesSheet, grids: map[job.SheetKind]*grid.Model{}}
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
			d.grids[k] = grid.New(t.Title, t.Header, squeeze(t.Rows))
			if k == job.SettingsSheet {
				d.addSettings()
			}
		case k == job.MachinesSheet:
			d.grids[k] = grid.New(nil, nil, nil)
		default:
			var rows [][]string
			if k == job.SettingsSheet {
				rows = settingRows()
			}
			d.grids[k] = grid.New(nil, defaultHeader(k), rows)
		}
	}
	d.results = job.ResultColumns()
	d.readViews()
	d.filled = make([]bool, len(d.results))
	if d.ev = ev; ev == nil {
		d.ev = sentences.On(j, day)
	}
}

// date begins the opening of a job that was laid out: from now on it can change.
func (d *Desk) date() {
	d.past, d.future = nil, nil
	d.openings++
	d.number, d.told = d.openings, journal.New(d.job)
	d.ev.SetToday(d.local().String())
	d.ev.SetHistory(d.older)
}

// arrangeAll works out what is in sight first of a job that was laid out, and orders its sheets.
func (d *Desk) arrangeAll() {
	d.wait()
	for i := range min(d.ev.Len(), inSight) { // what is in sight first decides which columns are in use
		d.noteFilled(i)
	}
	for _, k := range kinds {
		d.setOrder(k)
		d.arrange(k)
	}
	d.grids[job.SettingsSheet].Go(grid.Pos{Col: 1}, false) // the first value
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
		h[i] = words.Text("desk.column", strconv.Itoa(i+1))
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
func (d *Desk) addSettings() {
	g := d.grids[job.SettingsSheet]
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
	d.grids[job.SettingsSheet] = grid.New(g.Title(), g.Header(), rows)
}

func (d *Desk) grid() *grid.Model { return d.grids[d.kind] }

// first is how many result columns stand directly behind the machine's name: the verdict and why.
const first = 2

// setOrder sets in which order the columns of a sheet are shown.
func (d *Desk) setOrder(k job.SheetKind) {
	g := d.grids[k]
	var order []int
	switch k {
	case job.MachinesSheet:
		d.machine = -1
		if len(g.Header()) == 0 {
			break
		}
		for c, h := range g.Header() {
			if info := job.FindColumn(k, h); info != nil && info.Key == "machine" && (d.machine < 0 || strings.EqualFold(strings.TrimSpace(h), info.Name)) {
				d.machine = c // the exact name, where two columns mean the machine
			}
		}
		if d.machine >= 0 {
			order = append(order, d.machine)
		}
		lead := first
		if d.resultsFirst {
			lead = len(d.results)
		}
		for r := range d.results[:lead] {
			order = append(order, ^r)
		}
		for c := range g.Header() {
			if c != d.machine {
				order = append(order, c)
			}
		}
		for r := lead; r < len(d.results); r++ {
			order = append(order, ^r)
		}
	case job.SettingsSheet:
		for c := range g.Header() {
			order = append(order, c)
		}
		order = append(order, ^0) // what a setting means
	}
	g.SetOrder(order)
	d.hide(k)
}

// changed brings the job and what is worked out from it up to a change of sheet k.
func (d *Desk) changed(k job.SheetKind, ch grid.Change) {
	if !ch.Any {
		return
	}
	d.changes++
	g := d.grids[k]
	t := d.job.Table(k)
	if t == nil {
		t = &job.Table{Name: k.String()}
		d.job.SetTable(k, t)
	}
	if ch.Header || t.FirstRow == 0 {
		t.FirstRow = len(g.Title()) + 2 // as a spreadsheet counts: title lines and header stand above
	}
	t.Title, t.Header, t.Rows = g.Title(), g.Header(), g.Rows()
	if len(t.Header) == 0 {
		t.Header = nil
	}
	if ch.Header {
		d.setOrder(k)
		defer d.arrange(k) // by what will have been worked out
	}
	d.looked = false
	defer d.wait()
	if k == job.MachinesSheet && !ch.Header {
		to := ch.To
		if ch.Moved {
			to = len(t.Rows)
		}
		d.ev.RowsChanged(ch.From, to)
		return
	}
	d.ev.Refresh()
	d.wide = nil
}

// listProblems notes where the problems of the other sheets stand. Not before one of them is looked at: finding them, moves of trains among them, took a quarter of opening a job.
func (d *Desk) listProblems() {
	d.wide = map[placed]job.Problem{}
	for _, p := range d.ev.Problems() {
		k, row, ok := d.place(p)
		if !ok {
			continue
		}
		at := placed{k, row, p.Col}
		if old, ok := d.wide[at]; !ok || p.Severity > old.Severity {
			d.wide[at] = p
		}
	}
}

// place says which sheet a problem belongs to and in which of its rows it stands, −1 for none.
func (d *Desk) place(p job.Problem) (k job.SheetKind, row int, ok bool) {
	for _, k := range kinds {
		t := d.job.Table(k)
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
func (d *Desk) wait() {
	from, to := d.ev.Marked()
	switch {
	case from >= to:
	case d.next >= d.end:
		d.next, d.end = from, to
	default:
		d.next, d.end = min(d.next, from), max(d.end, to)
	}
}

// work does rows that wait, for about the given time, and says how far it is and where it ends.
func (d *Desk) work(limit time.Duration) (done, total int) {
	d.end = min(d.end, d.ev.Len())
	for end, i := time.Now().Add(limit), 0; d.next < d.end; i++ {
		d.ev.Row(d.next)
		d.noteFilled(d.next)
		d.next++
		if i%16 == 15 && time.Now().After(end) {
			break
		}
	}
	return min(d.next, d.end), d.end
}

// AppendResult and Mark make the desk the grid's source.

// AppendResult appends what a read-only column shows.
func (d *Desk) AppendResult(dst []byte, row, k int) []byte {
	if d.kind == job.SettingsSheet {
		if o, ok := evaluate.ParseOwnHeader(d.grid().Cell(row, 0), ""); ok {
			dst = append(dst, words.Text("desk.headerMeans", o.Kind.String())...)
		} else if c := job.FindColumn(d.kind, d.grid().Cell(row, 0)); c != nil {
			dst = append(dst, c.Help()...)
			if len(c.Choices) > 0 {
				dst = append(dst, words.Text("desk.oneOf", strings.Join(c.Choices, ", "))...)
			}
		}
		return dst
	}
	return results.AppendText(dst, d.ev, row, k)
}

// AppendShown appends an input cell in the units shown, when they are not the job's.
func (d *Desk) AppendShown(dst []byte, row, c int) ([]byte, bool) {
	if d.kind != job.MachinesSheet {
		return dst, false
	}
	return d.ev.AppendShown(dst, row, c)
}

func (d *Desk) result(row, k int) string { return string(d.AppendResult(nil, row, k)) }

// Mark says how a cell is to be shown: - plain, e error, w warning, n note, r result, and for the verdict 0 not judged, 1 inside,
// 2 outside, 3 too close to call; b for a result of a row that has none.
func (d *Desk) Mark(row, c int) byte {
	if c < 0 {
		if d.kind != job.MachinesSheet {
			return 'r'
		}
		r := d.ev.Row(row)
		if r == nil || r.Kind != evaluate.MachineRow {
			return 'b'
		}
		switch d.results[^c].Key {
		case "verdict":
			return verdictMark(r.Verdict)
		case "after_verdict":
			if r.Calc.HasAfter {
				return verdictMark(r.AfterVerdict)
			}
		}
		return 'r'
	}
	if p := d.cellProblem(row, c); p != nil {
		return severityMark(p.Severity)
	}
	return '-'
}

func verdictMark(v calc.Verdict) byte { return '0' + byte(v) }

func severityMark(s job.Severity) byte { return "nwe"[s] }

// cellProblem returns the gravest problem of a cell of the sheet shown.
func (d *Desk) cellProblem(row, c int) *job.Problem {
	if d.kind == job.MachinesSheet {
		return d.ev.CellProblem(row, c)
	}
	if d.wide == nil {
		d.listProblems()
	}
	if p, ok := d.wide[placed{d.kind, row, c}]; ok {
		return &p
	}
	return nil
}

// meaning is how the grid is told about headers.
func (d *Desk) meaning() grid.Meaning {
	k := d.kind
	return grid.Meaning{
		Arrange: func(rows [][]string) (title [][]string, header []string, body [][]string, ok bool) {
			t := &job.Table{Rows: rows}
			ok = t.SplitHeader(k)
			return t.Title, t.Header, t.Rows, ok
		},
		Match: func(header []string, name string) int { return job.MatchColumn(k, header, name, d.ev.Inch()) },
	}
}

// demo opens the demo job from its lists.
func (d *Desk) demo(lists map[job.SheetKind]string) error {
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
	d.open(j)
	d.changes++
	return nil
}

// A saving is what a job knows of the files it was saved into.
type saving struct {
	revision int
	at       string
	before   []string
}

// saved returns the job as it is to be written into a file at the given time, its revision one up.
func (d *Desk) saved(at string) ([]byte, error) {
	d.writeViews()
	j := *d.job
	j.Saved(at)
	b, err := j.Seal()
	if err == nil {
		d.unsaved = &saving{d.job.Revision, d.job.SavedAt, d.job.SavedBefore}
		d.job.Revision, d.job.SavedAt, d.job.SavedBefore = j.Revision, j.SavedAt, j.SavedBefore
	}
	return b, err
}

// opNotSaved takes the last saving back: no file has come of it.
func opNotSaved(d *Desk, _ *arguments) raw {
	if was := d.unsaved; was != nil {
		d.job.Revision, d.job.SavedAt, d.job.SavedBefore = was.revision, was.at, was.before
		d.unsaved = nil
	}
	return d.answerState()
}

// name is the job's name for titles and file names.
func (d *Desk) name() string { return d.ev.Setting("name") }

// unitOf is the unit shown under a column's name: as typed in brackets, else the job's for that kind of column.
func (d *Desk) unitOf(k job.SheetKind, header string) (name, unit string) {
	info := job.FindColumn(k, header)
	if name, unit = job.HeaderParts(k, header); unit != "" {
		return name, unit
	}
	if info != nil && k != job.SettingsSheet {
		if u := info.Unit(d.ev.Inch()); u != units.None {
			unit = u.String()
		}
	}
	return name, unit
}

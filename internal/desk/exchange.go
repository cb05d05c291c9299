package desk

import (
	"slices"
	"strconv"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A job goes to the worker that reads and writes workbook files, and comes from it, in pieces: a head, which is the job as JSON without
// rows, and then some rows at a time, so that the page never waits for a whole one.

// wire lists the sheets in the order in which both sides number them.
var wire = [...]job.SheetKind{job.MachinesSheet, job.ReadingsSheet, job.StockSheet, job.SettingsSheet,
	job.GrowthSheet, job.FeetSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet, job.RoundsSheet, job.TrainsSheet, job.RecordSheet}

// head is the job without rows.
func (d *Desk) head() ([]byte, error) {
	d.writeViews()
	j := *d.job
	for _, k := range wire {
		if t := j.Table(k); t != nil {
			c := *t
			c.Rows = nil
			j.SetTable(k, &c)
		}
	}
	return j.MarshalJSON()
}

// opRows is some rows of a sheet, packed: up to a number of cells, but at least one row; and the row behind them.
func opRows(d *Desk, in *arguments) raw {
	return rowsOf(d.job, in.int(), in.int(), in.int())
}

func rowsOf(j *job.Job, k, from, cells int) raw {
	if k < 0 || k >= len(wire) || from < 0 {
		return failure("there is no such sheet")
	}
	o := new(object)
	t := j.Table(wire[k])
	if t == nil || from >= len(t.Rows) {
		return o.int("next", -1).text("rows", "").end()
	}
	to := from
	for n := 0; to < len(t.Rows) && (to == from || n < cells); to++ {
		n += len(t.Rows[to]) + 1
	}
	return o.int("next", to).text("rows", string(job.AppendPacked(nil, t.Rows[from:to]))).end()
}

// An arrival is a job that is being taken. Its evaluator grows with its rows: made at the end, for all of them, it would hold the page up.
type arrival struct {
	job    *job.Job
	ev     *sentences.Teller // nil before the machines come
	number int               // of the desk it was made for
	screens.Taking
}

// opComing begins to take the job of the file that is open in the dialog, of which only the head is there. Machines come last.
func opComing(d *Desk, in *arguments) raw {
	t, ok := d.fileScreen().Taking()
	if !ok {
		return failure("no file was read")
	}
	j := new(job.Job)
	if err := j.UnmarshalJSON([]byte(in.text())); err != nil {
		return failure(err.Error())
	}
	d.coming = &arrival{job: j, Taking: t, number: d.number}
	return new(object).end()
}

// fileScreen is the dialog of a file from elsewhere.
func (d *Desk) fileScreen() *screens.OpenFile { return d.screen("open").(*screens.OpenFile) }

// opComingRows appends rows to a sheet of the coming job.
func opComingRows(d *Desk, in *arguments) raw {
	k, text := in.int(), in.text()
	c := d.coming
	if c == nil || k < 0 || k >= len(wire) || c.job.Table(wire[k]) == nil {
		return failure("there is no such sheet")
	}
	t := c.job.Table(wire[k])
	if wire[k] != job.MachinesSheet || t.Header == nil {
		t.Rows = job.AppendUnpacked(t.Rows, text)
		return new(object).end()
	}
	if c.ev == nil {
		d.complete(c)
		room := min(c.Rows, 1<<20)
		t.Rows = make([][]string, 0, max(room, 0)) // at once: growing costs more
		c.ev = sentences.New(c.job)
		c.ev.Reserve(room)
	}
	from := len(t.Rows)
	if t.Rows = job.AppendUnpacked(t.Rows, text); len(t.Rows) > c.Rows {
		return failure("more rows have come than were said")
	}
	c.ev.RowsChanged(from, len(t.Rows))
	return new(object).end()
}

// complete puts the sheets of the job at hand into the coming one that belong there.
func (d *Desk) complete(c *arrival) {
	for _, k := range wire[1:] {
		if c.job.Table(k) == nil && (c.Only || d.grids[job.MachinesSheet].Blank()) { // what was set up beforehand stays
			c.job.SetTable(k, clone(d.job.Table(k)))
		}
	}
}

// opTake puts the coming job in the place of the one at hand, as one step that can be undone, with what was pointed out when it was read and what its headers were matched with.
// said tells of it; remember is what the next job on this computer is to know of headers.
func opTake(d *Desk, _ *arguments) raw {
	c := d.coming
	d.coming = nil
	if c == nil || c.number != d.number || c.ev != nil && c.Rows != len(c.job.Machines.Rows) {
		return failure("no job has come for the one at hand")
	}
	show := job.MachinesSheet
	if c.ev == nil {
		if c.Only {
			for _, k := range wire[1:] {
				if c.job.Table(k) != nil {
					show = k
				}
			}
			c.job.ID, c.job.Revision, c.job.SavedAt, c.job.SavedBefore, c.job.Machines = d.job.ID, d.job.Revision, d.job.SavedAt, d.job.SavedBefore, clone(d.job.Machines)
		}
		d.complete(c)
	}
	past := append(d.past, step{d.opening, words.Text("desk.opening", c.Name)})
	d.openWith(c.job, c.ev)
	d.past = past
	d.notices = append(d.notices, c.Notices...)
	d.kind = show
	packed := string(job.AppendPacked(nil, c.Learnt))
	d.learn(elsewhere(packed))
	d.changes++
	return d.state(grid.Change{}).text("said", d.fileScreen().Taken(d.grids[show].ShownRows(), d.undoName() != "")).text("remember", packed).end()
}

// noticed is what was pointed out when the job was read, for the list of problems. The rows are those of the file.
func (d *Desk) noticed() []screens.Problem {
	list := []screens.Problem{}
	for _, p := range d.notices {
		out := screens.Problem{Place: screens.Place{Row: -1, Col: -1}, Severity: p.Severity, Where: words.Text("desk.asRead", p.Sheet), Text: p.Text.String(), Hint: p.Hint.String()}
		if k, row, ok := d.place(p); ok {
			out.Sheet = slices.Index(kinds[:], k)
			if row < len(d.job.Table(k).Rows) {
				out.Row, out.Col = row, d.grids[k].Shown(p.Col)
			}
		}
		if p.Row > 0 {
			out.Where += words.Text("desk.atRow", strconv.Itoa(p.Row))
		}
		if p.Column != "" {
			out.Where += ", " + p.Column
		}
		list = append(list, out)
	}
	return list
}

// clone copies a sheet, so that an edit on one desk does not show on another. nil stays nil.
func clone(t *job.Table) *job.Table {
	if t == nil {
		return nil
	}
	c := *t
	c.Header = slices.Clone(t.Header)
	c.Rows = make([][]string, len(t.Rows))
	for i, r := range t.Rows {
		c.Rows[i] = slices.Clone(r)
	}
	return &c
}

// A step is a desk to go back to, or on to, and what is undone by that.
type step struct {
	opening
	name string
}

// undo takes back the last step of the sheet shown, and past those the exchange of the whole job.
func (d *Desk) undo() grid.Change {
	return d.turn((*grid.Model).Undo, d.grid().UndoName(), &d.past, &d.future)
}

// redo does again what undo took back.
func (d *Desk) redo() grid.Change {
	return d.turn((*grid.Model).Redo, d.grid().RedoName(), &d.future, &d.past)
}

func (d *Desk) turn(within func(*grid.Model) grid.Change, name string, from, to *[]step) grid.Change {
	if name != "" || len(*from) == 0 {
		ch := within(d.grid())
		d.turnSort(ch, from == &d.past)
		d.changed(d.kind, ch)
		return ch
	}
	s := (*from)[len(*from)-1]
	*from = (*from)[:len(*from)-1]
	*to = append(*to, step{d.opening, s.name})
	d.opening = s.opening
	d.ev.SetHistory(d.older) // which may have been chosen since
	return grid.Change{Any: true, Header: true, Note: s.name}
}

func (d *Desk) undoName() string { return stepName(d.grid().UndoName(), d.past) }
func (d *Desk) redoName() string { return stepName(d.grid().RedoName(), d.future) }

func stepName(name string, list []step) string {
	if name == "" && len(list) > 0 {
		return list[len(list)-1].name
	}
	return name
}

// FileKeys is what a column of a sheet of a file can be read as: screens.OpenFileHost.
func (d *Desk) FileKeys(sheet string) []screens.MatchKey {
	k, ok := screens.FileSheet(sheet)
	if !ok {
		return nil
	}
	return d.keysOf(k)
}

// JobAtHand is the job that a file would take the place of.
func (d *Desk) JobAtHand() (name string, blank bool) {
	return d.name(), d.changes == 0 && d.grid().Columns() == 0
}

// unitNames are the units of a kind; none of a bare number.
func unitNames(k units.Kind) []string {
	if k == units.Number {
		return nil
	}
	var out []string
	for _, e := range units.Table(k) {
		out = append(out, e.Unit.String())
	}
	return out
}

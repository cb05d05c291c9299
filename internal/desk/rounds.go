package desk

import (
	"slices"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// What One by one asks of the desk: the couplings as the list shows them, and readings and rounds put into the job.

// ShownMachines are the rows of couplings as the list shows them.
func (d *Desk) ShownMachines() (list []int) {
	g := d.grids[job.MachinesSheet]
	for y := range g.ShownRows() {
		if i := g.Stored(y); i < d.ev.Len() && d.ev.Row(i).Kind == evaluate.MachineRow {
			list = append(list, i)
		}
	}
	return list
}

// NextMachine is the place of a row in [Desk.ShownMachines]; of a row without a coupling that of the next that is shown below it, else 0.
func (d *Desk) NextMachine(row int) int {
	g, list := d.grids[job.MachinesSheet], d.ShownMachines()
	k := slices.Index(list, row)
	for y := max(g.ShownRow(row), 0); y < g.ShownRows() && k < 0; y++ {
		k = slices.Index(list, g.Stored(y))
	}
	return max(k, 0)
}

// CursorRow is the stored row where the sheet Machines stands.
func (d *Desk) CursorRow() int {
	g := d.grids[job.MachinesSheet]
	return g.Stored(g.Cursor().Row)
}

// LookAt lets the panel and the paper of one machine speak of a coupling that is shown, and the sheet stand there afterwards. It says whether they were elsewhere.
func (d *Desk) LookAt(row int) bool {
	was := d.machRow == row && d.CursorRow() == row
	d.machRow = row
	if g := d.grids[job.MachinesSheet]; d.CursorRow() != row {
		g.Go(grid.Pos{Row: g.ShownRow(row), Col: g.Cursor().Col}, false)
	}
	return !was
}

// HeaderUnit is the name of a column and the unit shown under it.
func (d *Desk) HeaderUnit(k job.SheetKind, header string) (name, unit string) {
	return d.unitOf(k, header)
}

// RoundRow is the row of the Rounds sheet that a round stands in, −1: it has none.
func (d *Desk) RoundRow(r *evaluate.Round) int {
	if t := d.job.Table(job.RoundsSheet); r.Row > 0 && t != nil {
		return r.Row - t.SourceRow(0)
	}
	return -1
}

// UndoName names what Undo takes back on a sheet.
func (d *Desk) UndoName(k job.SheetKind) string { return d.grids[k].UndoName() }

// LastUndo names what Undo takes back on the sheet shown, or of the whole job.
func (d *Desk) LastUndo() string { return d.undoName() }

// Undo takes back the last step of a sheet.
func (d *Desk) Undo(k job.SheetKind) {
	if k == d.kind {
		d.UndoLast()
		return
	}
	d.change(k, func(g *grid.Model) grid.Change { return noted(words.Text("desk.undone"), g.Undo()) })
}

// UndoLast takes back the last step of the sheet shown, or of the whole job.
func (d *Desk) UndoLast() { d.took(noted(words.Text("desk.undone"), d.undo())) }

// PutCell types a text into a cell of a sheet.
func (d *Desk) PutCell(k job.SheetKind, row, col int, text string) bool {
	return d.change(k, func(g *grid.Model) grid.Change { return g.SetCell(row, col, text) }).Any
}

// Empty takes out what stands in the column of that name.
func (d *Desk) Empty(k job.SheetKind, row int, name string) bool {
	col := job.MatchColumn(k, d.grids[k].Header(), name, d.ev.Inch())
	return col >= 0 && d.PutCell(k, row, col, "")
}

// PutRow puts texts into the columns of these names, as one step: into a row, below 0 into one more. A column that the sheet lacks is added, and an empty text leaves a cell as it is.
func (d *Desk) PutRow(step string, k job.SheetKind, row int, names, texts []string) bool {
	mean := grid.Meaning{Match: func(header []string, name string) int { return job.MatchColumn(k, header, name, d.ev.Inch()) }}
	return d.change(k, func(g *grid.Model) grid.Change {
		ch, _, _ := g.Put(step, row, names, [][]string{texts}, mean)
		return ch
	}).Any
}

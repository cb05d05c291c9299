package desk

import (
	"errors"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// What the screen of the tables asks of the desk.

// TableRow is the row of the Machines sheet that a table is used for: the cursor's there, else the one that the panel speaks of.
func (d *Desk) TableRow() int {
	if d.kind == job.MachinesSheet {
		return d.grid().Stored(d.grid().Cursor().Row)
	}
	return d.machRow
}

// PutInto writes texts into a sheet, −1 for new rows, as one step to undo, and shows it with the cursor at what was written. note says what was done.
func (d *Desk) PutInto(k job.SheetKind, name string, row int, names []string, lines [][]string, note string) error {
	d.grid().Cancel()
	was := d.kind
	d.kind = k
	g := d.grid()
	ch, r, c := g.Put(name, row, names, lines, d.meaning())
	if c < 0 {
		d.kind = was
		return errors.New(words.Text("desk.notWritten", ch.Note))
	}
	if ch.Any {
		ch.Note = note
	} else {
		ch.Note = words.Text("desk.thereAlready")
	}
	d.changed(k, ch)
	d.setOrder(k) // a column that was not in use is now
	ch.Header = true
	if g.ShownRow(r) < 0 {
		d.views[k].Filter = nil
		d.arrange(d.kind)
	}
	g.Go(grid.Pos{Row: max(g.ShownRow(r), 0), Col: max(g.Shown(c), 0)}, false)
	d.byScreen = ch
	return nil
}

// sign puts the job's decimal sign into the text of a number.
func (d *Desk) sign(s string) string {
	if d.ev.Decimal() == units.Comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}

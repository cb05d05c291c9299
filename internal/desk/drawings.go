package desk

import (
	"shimsheet/internal/job"
)

// What the overview asks of the desk.

// FilteredRows are the rows of the Machines sheet that its filter leaves, in the order shown; nil: it has none.
func (d *Desk) FilteredRows() []int {
	g := d.grids[job.MachinesSheet]
	if _, filtered := g.Arranged(); !filtered {
		return nil
	}
	rows := []int{}
	for y := range g.ShownRows() {
		rows = append(rows, g.Stored(y))
	}
	return rows
}

// ShownAs says what is shown of the Machines sheet.
func (d *Desk) ShownAs() string { return d.arrangedIn(d.grids[job.MachinesSheet]) }

// JobRevision is how often the job was saved.
func (d *Desk) JobRevision() int { return d.job.Revision }

// ScreenWidth is how wide the screen shown is, in pixels.
func (d *Desk) ScreenWidth() int { return d.screenWidth }

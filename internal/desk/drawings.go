package desk

import (
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/report"
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

// opFigure is a drawing of the help: "clock", or the word of a method.
func opFigure(d *Desk, in *arguments) raw {
	what, width := in.text(), in.int()
	opt := report.Options{Width: float64(width), Prefix: "h" + strconv.Itoa(len(what))}
	if what == "clock" {
		return new(object).text("svg", string(report.ClockFigure(nil, "", "", opt))).end()
	}
	return new(object).text("svg", string(report.MethodFigure(nil, methodWords[what], opt))).end()
}

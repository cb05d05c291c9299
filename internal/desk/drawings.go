package desk

import (
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/report"
)

// opPicture draws the list: "overview" or "histogram", of the rows shown in the Machines sheet.
func opPicture(d *Desk, in *arguments) raw {
	what, width := in.text(), in.int()
	g := d.grids[job.MachinesSheet]
	var rows []int
	if _, filtered := g.Arranged(); filtered {
		rows = []int{}
		for y := range g.ShownRows() {
			rows = append(rows, g.Stored(y))
		}
	}
	opt := report.Options{Width: float64(width), Prefix: what + strconv.Itoa(width)} // on paper as well as in the panel
	var b []byte
	if what == "histogram" {
		b = report.Histogram(nil, d.ev, rows, opt)
	} else {
		b = report.Overview(nil, d.ev, rows, opt)
	}
	return new(object).text("svg", string(b)).end()
}

// opFigure is a drawing of the help: "clock", or the word of a method.
func opFigure(d *Desk, in *arguments) raw {
	what, width := in.text(), in.int()
	opt := report.Options{Width: float64(width), Prefix: "h" + strconv.Itoa(len(what))}
	if what == "clock" {
		return new(object).text("svg", string(report.ClockFigure(nil, "", "", opt))).end()
	}
	return new(object).text("svg", string(report.MethodFigure(nil, methodWords[what], opt))).end()
}

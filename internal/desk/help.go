package desk

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/report"
	"shimsheet/internal/screens"
)

// methodWords name the choices of usual columns.
var methodWords = map[string]job.Method{"reverse indicator": job.ReverseIndicator, "rim and face": job.RimAndFace, "two rims": job.TwoRims,
	"face and face": job.FaceAndFace, "straightedge and gap": job.StraightedgeAndGap, "sweeps": job.Sweeps, "line": job.GivenLineMethod, "": job.MethodBlank}

// usualLeftOut are columns a list rarely needs; they can be added one by one.
var usualLeftOut = []string{"Train", "Further feet", "Bolt circle", "Bolts", "Coupling to flange", "Stationary near support", "Stationary far support",
	"Stationary plane to movable plane", "Movable plane to front feet", "Graduation", "Repeatability", "Limits", "Offset limit", "Slope limit"}

// usualColumns is a header for one method, without the columns of growth, room and trust.
func usualColumns(method string) []string {
	m, ok := methodWords[method]
	head := strings.Split(job.HeaderBlock(job.MachinesSheet, m, false), "\t")
	var out []string
	for _, h := range head {
		name, _, _ := strings.Cut(h, " [")
		info := job.FindColumn(job.MachinesSheet, name)
		if ok && m != job.MethodBlank {
			if info == nil || info.Group == "growth" || info.Group == "room" || slices.Contains(usualLeftOut, name) ||
				strings.HasPrefix(name, "Stationary face") && m == job.RimAndFace || strings.HasPrefix(name, "Stationary rim") && m == job.RimAndFace ||
				(name == "Coupling to stationary plane" || name == "Stationary sag at 6" || name == "Stationary face sag at 6") && m == job.RimAndFace {
				continue
			}
			if name == "Note" {
				continue
			}
		}
		out = append(out, name)
	}
	if ok && m != job.MethodBlank {
		out = append(out, "Note")
	}
	return out
}

// HeaderRow is the header of a way of measuring to copy, tabs between; "" that of all columns.
func (d *Desk) HeaderRow(way string) string {
	if way == "" {
		return job.HeaderBlock(job.MachinesSheet, job.MethodBlank, d.ev.Inch())
	}
	return strings.Join(usualColumns(way), "\t")
}

// Version is the program's.
func (d *Desk) Version() string { return d.version }

// Figure is a drawing of the help: "clock", or the sketch of a way of measuring.
func (d *Desk) Figure(what string, width int) screens.HTML {
	opt := report.Options{Width: float64(width), Prefix: "h" + strconv.Itoa(len(what))}
	if what == "clock" {
		return screens.Drawing(report.ClockFigure(nil, "", "", opt))
	}
	return screens.Drawing(report.MethodFigure(nil, methodWords[what], opt))
}

// opPrint is what goes onto paper, as HTML: the list of the machines shown, or with true the one machine that the cursor's row speaks of. It takes the time, and when the job
// was saved, in words.
func opPrint(d *Desk, in *arguments) raw {
	printed, saved, one := in.text(), in.text(), in.yes()
	html := screens.ListPaper(d.ev, d.ShownMachines(), d.name(), printed)
	if one {
		d.lookAt(d.grid().Stored(d.grid().Cursor().Row))
	}
	if r := d.ev.Row(d.machRow); one && r != nil && r.Kind == evaluate.MachineRow {
		html = screens.MachinePaper(d.ev, d.machRow, d.job.Revision, printed, saved)
	}
	return new(object).text("html", html.String()).end()
}

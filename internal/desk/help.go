package desk

import (
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/sheet"
	"shimsheet/internal/tables"
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

// opHelp is the table of columns and the header blocks to copy.
func opHelp(d *Desk, _ *arguments) raw {
	var list []*object
	for _, c := range job.Columns() {
		unit := ""
		if m, in := c.Unit(false), c.Unit(true); m != 0 {
			if unit = m.String(); in != m {
				unit += ", " + in.String()
			}
		}
		list = append(list, new(object).text("sheet", c.Sheet.String()).text("group", c.Group).text("name", c.Name).text("unit", unit).text("help", c.Help).
			texts("choices", c.Choices).texts("also", c.Spellings[1:]).yes("result", c.Result))
	}
	blocks := new(object)
	for w, m := range methodWords {
		if w == "" {
			blocks.text(w, job.HeaderBlock(job.MachinesSheet, m, d.ev.Inch()))
		} else {
			blocks.text(w, strings.Join(usualColumns(w), "\t"))
		}
	}
	return new(object).objects("columns", list).objects("blocks", []*object{blocks}).texts("cautions", cautions()).text("version", d.version).end()
}

func cautions() []string {
	var out []string
	for _, c := range tables.Cautions() {
		s := c.Text
		if c.Source.Text != "" {
			s += " (" + c.Source.Text + ")"
		}
		out = append(out, s)
	}
	return out
}

// opPrint is what goes onto paper, as HTML: the list of the machines shown, or with true the one machine that the cursor's row speaks of. It takes the time, and when the job
// was saved, in words.
func opPrint(d *Desk, in *arguments) raw {
	printed, saved, one := in.text(), in.text(), in.yes()
	html := screens.ListPaper(d.ev, d.ShownMachines(), d.name(), printed)
	if one {
		d.lookAt(d.grid().Stored(d.grid().Cursor().Row))
	}
	if r := d.ev.Row(d.machRow); one && r != nil && r.Kind == sheet.MachineRow {
		html = screens.MachinePaper(d.ev, d.machRow, d.job.Revision, printed, saved)
	}
	return new(object).text("html", html.String()).end()
}

package desk

import (
	"math"
	"strconv"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// opCopy copies the selection: with the names of the columns or not, and results as they are shown or as plain numbers in the job's own decimal sign.
func opCopy(d *Desk, in *arguments) raw {
	heads, plain := in.yes(), in.yes()
	g := d.grid()
	var names func(x int) string
	if heads {
		names = d.headOf
	}
	shown := d.result
	if plain && d.kind == job.MachinesSheet {
		shown = d.plainResult
	}
	text, html := g.CopyTable(shown, names)
	ch := grid.Change{}
	if text == "" && len(g.Ranges()) > 0 {
		ch.Note = words.Text("desk.rangesNotCopied")
	}
	return d.state(ch).text("text", text).text("html", html).end()
}

// headOf is the name of a shown column with its unit, as it can be pasted as a header.
func (d *Desk) headOf(x int) string {
	g := d.grid()
	c := g.Column(x)
	if c >= 0 {
		return g.Header()[c]
	}
	if d.kind == job.SettingsSheet {
		return words.Text("desk.meaning")
	}
	name := d.results[^c].Name
	if u := d.resultUnit(c); u != "" {
		name += " [" + u + "]"
	}
	return name
}

// plainResult is a result as a bare number with the job's decimal sign; what is no number is as it is shown.
func (d *Desk) plainResult(row, k int) string {
	v, text := d.cellKey(row, ^k)
	if math.IsNaN(v) {
		if text == "" {
			return d.result(row, k)
		}
		return text
	}
	return d.sign(strconv.FormatFloat(v, 'g', 12, 64))
}

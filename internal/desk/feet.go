package desk

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// footNames are the feet a row is made for; growthSupports the supports.
var footNames = []string{"front 9", "front 3", "rear 9", "rear 3"}

// ownSheet says whether the sheet shown has its rows by machine and a panel of its own: Feet and Growth.
func (d *Desk) ownSheet() bool { return d.kind == job.FeetSheet || d.kind == job.GrowthSheet }

// column is where the sheet shown has the column with a key, −1 nowhere.
func (d *Desk) column(key string) int {
	return slices.IndexFunc(d.grid().Header(), func(h string) bool {
		info := job.FindColumn(d.kind, h)
		return info != nil && info.Key == key
	})
}

// follow lets the panel speak of the machine that the row of the Feet, Growth, Readings, Rounds or Checks sheet names. It returns the name if no machine bears it.
func (d *Desk) follow(row int) string {
	if !d.ownSheet() && d.kind != job.ReadingsSheet && d.kind != job.RoundsSheet && d.kind != job.ChecksSheet {
		return ""
	}
	name := strings.TrimSpace(d.grid().Cell(row, d.column("machine")))
	if name == "" {
		return ""
	}
	if d.machRow = d.ev.RowOf(name); d.machRow < 0 {
		return name
	}
	return ""
}

// ownProblems are the problems of the rows that the machine of the panel has on the sheet shown, Feet or Growth.
func (d *Desk) ownProblems() []screens.Problem {
	r := d.ev.Row(d.machRow)
	if r == nil || r.Kind != evaluate.MachineRow {
		return nil
	}
	var out []screens.Problem
	add := func(p job.Problem) {
		k, row, ok := d.place(p)
		if !ok || k != d.kind {
			return
		}
		if c := d.column(keyOf(k, p.Column)); p.Col < 0 && c >= 0 {
			p.Col = c
		}
		out = append(out, d.onSheet(&p, k, row))
	}
	for _, p := range r.Problems {
		add(p)
	}
	c := d.column("machine")
	for _, p := range d.ev.Problems() {
		if k, row, ok := d.place(p); ok && k == d.kind && row >= 0 && d.ev.RowOf(d.grid().Cell(row, c)) == d.machRow {
			add(p)
		}
	}
	return out
}

// keyOf is the key of a column of a sheet by its name.
func keyOf(k job.SheetKind, name string) string {
	if info := job.FindColumn(k, name); info != nil && name != "" {
		return info.Key
	}
	return "?"
}

// onSheet is a problem with its place, on a sheet that is not that of the machines.
func (d *Desk) onSheet(p *job.Problem, k job.SheetKind, row int) screens.Problem {
	out := screens.Problem{Place: screens.Place{Sheet: slices.Index(kinds[:], k), Row: row, Col: d.grids[k].Shown(p.Col)}, Severity: p.Severity, Where: p.Sheet, Text: p.Text.String(), Hint: p.Hint.String()}
	if p.Row > 0 {
		out.Where += words.Text("desk.atRow", strconv.Itoa(p.Row))
	}
	if p.Column != "" {
		out.Where += ", " + p.Column
	}
	return out
}

// chosen names the machines of the rows selected on the Machines sheet.
func (d *Desk) chosen() []string {
	g := d.grids[job.MachinesSheet]
	sel := g.Selection()
	var out []string
	for y := sel.R0; y <= sel.R1 && y < g.ShownRows(); y++ {
		if s := strings.TrimSpace(g.Cell(g.Stored(y), d.machine)); s != "" && d.machine >= 0 {
			out = append(out, s)
		}
	}
	return out
}

// without leaves out the names that the sheet shown has rows of, and those that are no machine's.
func (d *Desk) without(names []string) []string {
	have := map[int]bool{-1: true}
	c := d.column("machine")
	for row := range d.grid().Rows() {
		have[d.ev.RowOf(d.grid().Cell(row, c))] = true
	}
	var out []string
	for _, s := range names {
		if i := d.ev.RowOf(s); !have[i] {
			have[i] = true
			out = append(out, s)
		}
	}
	return out
}

// MakeRows appends rows to the Feet or Growth sheet for machines that have none there: "all" of the list, else those chosen on the Machines sheet. Four feet a
// machine, or its four supports.
func (d *Desk) MakeRows(which string) {
	if d.ownSheet() {
		d.change(d.kind, func(g *grid.Model) grid.Change { return d.makeRows(g, which) })
	}
}

func (d *Desk) makeRows(g *grid.Model, which string) grid.Change {
	names := d.chosen()
	if which == "all" {
		names = d.machineNames(5000)
	}
	names = d.without(names)
	key, each := "foot", footNames
	if d.kind == job.GrowthSheet {
		key = "support"
		if info := job.FindColumn(d.kind, key); info != nil {
			each = info.Choices
		}
	}
	m, c := d.column("machine"), d.column(key)
	if m < 0 || c < 0 {
		return grid.Change{Note: words.Text("desk.noColumnForRows", key)}
	}
	if len(names) == 0 {
		return grid.Change{Note: words.Text("desk.rowsAreThere")}
	}
	var rows [][]string
	for _, name := range names {
		for _, w := range each {
			row := make([]string, len(g.Header()))
			row[m], row[c] = name, w
			rows = append(rows, row)
		}
	}
	ch := g.AppendRows(words.Text("desk.makingRows"), rows)
	if ch.Any {
		ch.Note = words.Text("desk.rowsMade", plural(len(rows), words.Text("desk.rows.one"), words.Text("desk.rows.many")),
			plural(len(names), words.Text("desk.machines.one"), words.Text("desk.machines.many")))
	}
	return ch
}

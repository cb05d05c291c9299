//go:build js && wasm

package main

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/sheet"
)

// footNames are the feet a row is made for; growthSupports the supports.
var footNames = []string{"front 9", "front 3", "rear 9", "rear 3"}

// ownSheet says whether the sheet shown has its rows by machine and a panel of its own: Feet and Growth.
func (a *app) ownSheet() bool { return a.kind == job.FeetSheet || a.kind == job.GrowthSheet }

// column is where the sheet shown has the column with a key, −1 nowhere.
func (a *app) column(key string) int {
	return slices.IndexFunc(a.grid().Header(), func(h string) bool {
		info := job.FindColumn(a.kind, h)
		return info != nil && info.Key == key
	})
}

// follow lets the panel speak of the machine that the row of the Feet, Growth, Readings, Rounds or Checks sheet names. It returns the name if no machine bears it.
func (a *app) follow(row int) string {
	if !a.ownSheet() && a.kind != job.ReadingsSheet && a.kind != job.RoundsSheet && a.kind != job.ChecksSheet {
		return ""
	}
	name := strings.TrimSpace(a.grid().Cell(row, a.column("machine")))
	if name == "" {
		return ""
	}
	if a.machRow = a.ev.RowOf(name); a.machRow < 0 {
		return name
	}
	return ""
}

// opFeet is what the panel says of the feet and the growth of the machine it speaks of: the pattern and why, what to do about the soft foot, the
// growth, what each dial should read cold, and the problems of its rows on the sheet shown. Rows of wanted are the sweep and its readings at 12, 3, 6, 9.
func opFeet(a *app, _ *arguments) raw {
	o := new(object)
	r := a.ev.Row(a.machRow)
	if r == nil || r.Kind != sheet.MachineRow {
		return o.end()
	}
	o.text("machine", r.Name)
	if head, why := a.ev.SoftReasons(a.machRow); head != "" {
		o.text("head", head).texts("why", why).texts("soft", a.ev.SaySoft(a.machRow))
	}
	o.texts("growth", a.ev.SayGrowth(a.machRow))
	var wanted [][]string
	for _, w := range a.ev.WantedReadings(r) {
		line := []string{w.Sweep}
		for _, x := range w.Readings {
			line = append(line, string(a.ev.AppendShim(nil, x.Zeroed)))
		}
		wanted = append(wanted, line)
	}
	o.rows("wanted", wanted).text("unit", job.QThickness.Unit(a.ev.Inch()).String())
	var problems []*object
	add := func(p job.Problem) {
		k, row, ok := a.place(p)
		if !ok || k != a.kind {
			return
		}
		if c := a.column(keyOf(k, p.Column)); p.Col < 0 && c >= 0 {
			p.Col = c
		}
		problems = append(problems, a.onSheet(&p, k, row).object())
	}
	if a.ownSheet() {
		for _, p := range r.Problems {
			add(p)
		}
		c := a.column("machine")
		for _, p := range a.ev.Problems() {
			if k, row, ok := a.place(p); ok && k == a.kind && row >= 0 && a.ev.RowOf(a.grid().Cell(row, c)) == a.machRow {
				add(p)
			}
		}
		var chosen []string
		if names := a.without(a.chosen()); len(names) > 0 {
			chosen = names[:min(len(names), 3)]
			o.int("more", len(names)-len(chosen))
		}
		o.texts("chosen", chosen).int("all", len(a.without(a.machineNames(5000))))
	}
	return o.objects("problems", problems).end()
}

// keyOf is the key of a column of a sheet by its name.
func keyOf(k job.SheetKind, name string) string {
	if info := job.FindColumn(k, name); info != nil && name != "" {
		return info.Key
	}
	return "?"
}

// onSheet is a problem with its place, on a sheet that is not that of the machines.
func (a *app) onSheet(p *job.Problem, k job.SheetKind, row int) problemPlace {
	out := problemPlace{Sheet: slices.Index(kinds[:], k), Row: row, Col: a.grids[k].Shown(p.Col), Severity: p.Severity, Where: p.Sheet, Text: p.Text, Hint: p.Hint}
	if p.Row > 0 {
		out.Where += " row " + strconv.Itoa(p.Row)
	}
	if p.Column != "" {
		out.Where += ", " + p.Column
	}
	return out
}

// chosen names the machines of the rows selected on the Machines sheet.
func (a *app) chosen() []string {
	g := a.grids[job.MachinesSheet]
	sel := g.Selection()
	var out []string
	for y := sel.R0; y <= sel.R1 && y < g.ShownRows(); y++ {
		if s := strings.TrimSpace(g.Cell(g.Stored(y), a.machine)); s != "" && a.machine >= 0 {
			out = append(out, s)
		}
	}
	return out
}

// without leaves out the names that the sheet shown has rows of, and those that are no machine's.
func (a *app) without(names []string) []string {
	have := map[int]bool{-1: true}
	c := a.column("machine")
	for row := range a.grid().Rows() {
		have[a.ev.RowOf(a.grid().Cell(row, c))] = true
	}
	var out []string
	for _, s := range names {
		if i := a.ev.RowOf(s); !have[i] {
			have[i] = true
			out = append(out, s)
		}
	}
	return out
}

// makeRows appends rows to the Feet or Growth sheet for machines that have none there: "all" of the list, else those chosen on the Machines sheet. Four feet a
// machine, or its four supports.
func makeRows(a *app, g *grid.Model, in *arguments) grid.Change {
	which := in.text()
	if !a.ownSheet() {
		return grid.Change{}
	}
	names := a.chosen()
	if which == "all" {
		names = a.machineNames(5000)
	}
	names = a.without(names)
	key, words := "foot", footNames
	if a.kind == job.GrowthSheet {
		key = "support"
		if info := job.FindColumn(a.kind, key); info != nil {
			words = info.Choices
		}
	}
	m, c := a.column("machine"), a.column(key)
	if m < 0 || c < 0 {
		return grid.Change{Note: "This sheet has no column Machine, or none for the " + key + "."}
	}
	if len(names) == 0 {
		return grid.Change{Note: "Every machine of the list has rows here already."}
	}
	var rows [][]string
	for _, name := range names {
		for _, w := range words {
			row := make([]string, len(g.Header()))
			row[m], row[c] = name, w
			rows = append(rows, row)
		}
	}
	ch := g.AppendRows("making rows", rows)
	if ch.Any {
		ch.Note = plural(len(rows), "row", "rows") + " made for " + plural(len(names), "machine", "machines") + "."
	}
	return ch
}

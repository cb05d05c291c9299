package desk

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// opHideColumns hides the columns of the selection, but the machine's name; they come back with the columns in use or with all.
func opHideColumns(d *Desk, _ *arguments) raw {
	g := d.grid()
	if d.kind != job.MachinesSheet {
		return d.state(grid.Change{Note: words.Text("desk.hidesOnMachines")}).end()
	}
	v := &d.views[d.kind]
	sel := g.Selection()
	var names []string
	for x := sel.C0; x <= sel.C1 && len(names) < g.Columns()-1; x++ {
		if c := g.Column(x); c != d.machine || c < 0 {
			v.Hidden = append(v.Hidden, hiddenColumn+d.columnName(c))
			names = append(names, d.headOf(x))
		}
	}
	if len(names) == 0 {
		return d.state(grid.Change{Note: words.Text("desk.nameStays")}).end()
	}
	d.setOrder(d.kind)
	g.Go(grid.Pos{Row: g.Cursor().Row, Col: min(sel.C0, g.Columns()-1)}, false)
	hidden := plural(len(names), words.Text("desk.hidden.one"), words.Text("desk.hidden.many"))
	return d.state(grid.Change{Note: words.Text("desk.hiddenAre", hidden, strings.Join(names[:min(len(names), 4)], ", "))}).yes("arranged", true).end()
}

// columnName names a shown column for storing: the header, or = and the key of a result.
func (d *Desk) columnName(c int) string {
	if c < 0 {
		if d.kind != job.MachinesSheet {
			return "=meaning"
		}
		return "=" + d.results[^c].Key
	}
	return d.grid().Header()[c]
}

// columnNamed is the reverse of columnName, in the order of Model.Column; ok is false for a column that is not there any more.
func (d *Desk) columnNamed(name string) (c int, ok bool) {
	if key, is := strings.CutPrefix(name, "="); is {
		k := slices.IndexFunc(d.results, func(r job.ResultColumn) bool { return r.Key == key })
		return ^k, k >= 0 && d.kind == job.MachinesSheet
	}
	c = slices.Index(d.grid().Header(), name)
	return c, c >= 0
}

// shownColumn is where column c, as Model.Column gives it, is shown; −1 if it is hidden.
func shownColumn(g *grid.Model, c int) int {
	if c >= 0 {
		return g.Shown(c)
	}
	for x := range g.Columns() {
		if g.Column(x) == c {
			return x
		}
	}
	return -1
}

// group is what a column belongs to when whole groups are hidden: the columns of results by what they tell.
func (d *Desk) group(c int) string {
	if c < 0 {
		return "Results"
	}
	info := job.FindColumn(d.kind, d.grid().Header()[c])
	if info == nil || info.Result {
		return "Own"
	}
	if info.Group == "" {
		return ""
	}
	return strings.ToUpper(info.Group[:1]) + info.Group[1:]
}

// hide hides the columns of a sheet that are not in use, and the groups that the person does not want to see. A column with text in it, or one
// that the method of some row reads, is in use, and so is every column of a sheet without rows; a result that some row has.
func (d *Desk) hide(k job.SheetKind) {
	g := d.grids[k]
	if k != job.MachinesSheet {
		return
	}
	g.SetHidden(d.notShown(k))
}

// unhide shows columns of the Machines sheet that have come into use, and says whether there were any. None goes while somebody works.
func (d *Desk) unhide() bool {
	g := d.grids[job.MachinesSheet]
	wish := d.notShown(job.MachinesSheet)
	var hidden []int
	for _, c := range g.Hidden() {
		if slices.Contains(wish, c) {
			hidden = append(hidden, c)
		}
	}
	if len(hidden) == len(g.Hidden()) {
		return false
	}
	at := g.Column(g.Cursor().Col)
	g.SetHidden(hidden)
	d.keepColumn(g, at)
	return true
}

// keepColumn puts the cursor back at a column after others have come or gone.
func (d *Desk) keepColumn(g *grid.Model, c int) {
	if x := shownColumn(g, c); x >= 0 && x != g.Cursor().Col {
		g.Go(grid.Pos{Row: g.Cursor().Row, Col: x}, false)
	}
}

// notShown lists the columns that hide hides.
func (d *Desk) notShown(k job.SheetKind) []int {
	g := d.grids[k]
	was := d.kind
	d.kind = k
	defer func() { d.kind = was }()
	var hidden []int
	groups := d.views[k].Hidden
	rows := g.Rows()
	for c := range g.Header() {
		if c == d.machine {
			continue
		}
		if slices.Contains(groups, d.group(c)) || slices.Contains(groups, hiddenColumn+d.columnName(c)) || !d.all && !d.inUse(c, rows) {
			hidden = append(hidden, c)
		}
	}
	for r := range d.results[:first] {
		if slices.Contains(groups, hiddenColumn+d.columnName(^r)) {
			hidden = append(hidden, ^r)
		}
	}
	for r := first; r < len(d.results); r++ {
		if slices.Contains(groups, "Results") || slices.Contains(groups, hiddenColumn+d.columnName(^r)) || !d.all && len(rows) > 0 && d.ev.Len() > 0 && !d.filled[r] {
			hidden = append(hidden, ^r)
		}
	}
	return hidden
}

func (d *Desk) inUse(c int, rows [][]string) bool {
	info := d.ev.ColumnOf(c)
	optional := info != nil && (info.Group == "growth" || info.Group == "room")
	if info == nil || !d.ev.IsReading(c) && info.Group != "distances" && !optional {
		return true
	}
	machines, look := false, 200
	if d.next < d.end {
		look = inSight // the others when they are worked out
	}
	for i, row := range rows {
		if c < len(row) && row[c] != "" {
			return true
		}
		if i < look {
			if r := d.ev.Row(i); r != nil && r.Kind == evaluate.MachineRow {
				machines = true
				if !optional && d.ev.Uses(i, c) {
					return true
				}
			}
		}
	}
	return !machines
}

// noteFilled notes which result columns have a value in a row.
func (d *Desk) noteFilled(row int) {
	for k, filled := range d.filled {
		if filled {
			continue
		}
		if _, ok := results.ShownNumber(d.ev, row, k); ok || len(results.AppendText(nil, d.ev, row, k)) > 0 {
			d.filled[k] = true
		}
	}
}

// opShowAll shows every column, or only those of the groups that are not hidden.
func opShowAll(d *Desk, in *arguments) raw {
	hidden := slices.DeleteFunc(slices.Clone(d.views[d.kind].Hidden), func(h string) bool { return strings.HasPrefix(h, hiddenColumn) })
	d.ShowColumns(in.yes(), hidden)
	return opTook(d, in)
}

// ShowColumns shows every column, or all but those of the groups that are hidden.
func (d *Desk) ShowColumns(all bool, hidden []string) {
	d.all, d.views[d.kind].Hidden = all, hidden
	g := d.grid()
	g.Cancel()
	at := g.Column(g.Cursor().Col)
	d.setOrder(d.kind)
	d.keepColumn(g, at)
	note := plural(g.Columns(), words.Text("desk.shown.one"), words.Text("desk.shown.many"))
	if n := len(g.Hidden()); n > 0 {
		note += words.Text("desk.shownNot", strconv.Itoa(n))
	}
	d.shownAnew(note + ".")
}

// ColumnGroups are the groups of columns, and single columns that were hidden; all says that every column is shown.
func (d *Desk) ColumnGroups() (out []screens.ColumnGroup, all bool) {
	g := d.grid()
	var names []string
	counts := map[string]int{}
	add := func(c int) {
		n := d.group(c)
		if n == "" || c == d.machine && c >= 0 {
			return
		}
		if counts[n] == 0 {
			names = append(names, n)
		}
		counts[n]++
	}
	for c := range g.Header() {
		add(c)
	}
	if d.kind == job.MachinesSheet {
		for r := first; r < len(d.results); r++ {
			add(^r)
		}
	}
	for _, n := range names {
		out = append(out, screens.ColumnGroup{Name: n, Title: n, Count: counts[n], Hidden: slices.Contains(d.views[d.kind].Hidden, n)})
	}
	for _, h := range d.views[d.kind].Hidden { // single columns that were hidden
		name, single := strings.CutPrefix(h, hiddenColumn)
		if c, ok := d.columnNamed(name); single && ok {
			if c < 0 {
				name = d.results[^c].Name
			}
			out = append(out, screens.ColumnGroup{Name: h, Title: name, Count: 1, Hidden: true})
		}
	}
	return out, d.all
}

// opWidth remembers the width of a shown column, in pixels at the usual text size.
func opWidth(d *Desk, in *arguments) raw {
	x, px := in.int(), in.int()
	g := d.grid()
	if x < 0 || x >= g.Columns() {
		return d.answerState()
	}
	v := &d.views[d.kind]
	name := d.columnName(g.Column(x))
	v.Widths = slices.DeleteFunc(v.Widths, func(w grid.Width) bool { return w.Col == name })
	v.Widths = append(v.Widths, grid.Width{Col: name, Px: min(max(px, 30), 900)})
	return d.answerState()
}

// shownUnit is the unit of the numbers of a column as shown, "" for none.
func (d *Desk) shownUnit(c int) string {
	if c < 0 {
		if d.kind != job.MachinesSheet {
			return ""
		}
		return d.resultUnit(c)
	}
	info := job.FindColumn(d.kind, d.grid().Header()[c])
	if info == nil {
		return ""
	}
	if u := info.Unit(d.ev.ShowsInch()); u != units.None {
		return u.String()
	}
	return ""
}

// resultUnit is the unit of a result as shown, c as Model.Column gives it; "" for none. Packs keep the job's: pieces are real things.
func (d *Desk) resultUnit(c int) string {
	r := &d.results[^c]
	inch := d.ev.ShowsInch()
	if strings.Contains(r.Key, "pack") {
		inch = d.ev.Inch()
	}
	if u := r.Unit(inch); u != units.None {
		return u.String()
	}
	return ""
}

// CursorColumn is the input column that the cursor stands in, as stored and by its name with its unit; below 0: none.
func (d *Desk) CursorColumn() (at int, name string) {
	g := d.grid()
	if g.Columns() == 0 || g.Column(g.Cursor().Col) < 0 {
		return -1, ""
	}
	c := d.columns()[g.Cursor().Col]
	if c.Unit != "" {
		c.Name += " [" + c.Unit + "]"
	}
	return c.Column, c.Name
}

// KnownColumns are the input columns that the sheet shown may have, by name.
func (d *Desk) KnownColumns() (names []string) {
	for _, c := range job.Columns() {
		if c.Sheet == d.kind && !c.Result {
			names = append(names, c.Name)
		}
	}
	return names
}

// AddColumn adds a column before another, below 0 behind the others.
func (d *Desk) AddColumn(at int, name string) {
	d.change(d.kind, func(g *grid.Model) grid.Change { return g.AddColumn(at, name) })
}

// RenameColumn gives a column another name.
func (d *Desk) RenameColumn(at int, name string) {
	d.change(d.kind, func(g *grid.Model) grid.Change { return g.Rename(at, name) })
}

// DeleteColumn takes a column out.
func (d *Desk) DeleteColumn(at int) {
	d.change(d.kind, func(g *grid.Model) grid.Change { return g.DeleteColumn(at) })
}

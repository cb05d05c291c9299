//go:build js && wasm

package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/report"
	"shimsheet/internal/sheet"
	"shimsheet/internal/units"
)

// columnName names a shown column for storing: the header, or = and the key of a result.
func (a *app) columnName(c int) string {
	if c < 0 {
		if a.kind != job.MachinesSheet {
			return "=meaning"
		}
		return "=" + a.results[^c].Key
	}
	return a.grid().Header()[c]
}

// columnNamed is the reverse of columnName, in the order of Model.Column; ok is false for a column that is not there any more.
func (a *app) columnNamed(name string) (c int, ok bool) {
	if key, is := strings.CutPrefix(name, "="); is {
		k := slices.IndexFunc(a.results, func(r job.ResultColumn) bool { return r.Key == key })
		return ^k, k >= 0 && a.kind == job.MachinesSheet
	}
	c = slices.Index(a.grid().Header(), name)
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

// cellKey is how a cell sorts and filters.
func (a *app) cellKey(row, c int) (float64, string) {
	if c < 0 {
		if a.kind != job.MachinesSheet {
			return math.NaN(), ""
		}
		if v, ok := a.ev.ResultNumber(row, ^c); ok {
			return v, ""
		}
		return math.NaN(), a.result(row, ^c)
	}
	text := a.grid().Cell(row, c)
	if v, ok := a.ev.NumberIn(a.kind, a.grid().Header()[c], text); ok {
		return v, text
	}
	return math.NaN(), text
}

// arrange shows the rows of a sheet as its view says. Whatever units are shown, rows are sorted and filtered by the job's.
func (a *app) arrange(k job.SheetKind) {
	was := a.kind
	a.kind = k
	defer func() { a.kind = was }()
	g := a.grid()
	v := &a.views[k]
	if sorted, filtered := g.Arranged(); len(v.Sort) == 0 && len(v.Filter) == 0 && !sorted && !filtered {
		return
	}
	key := func(row, c int) (float64, string) {
		now := a.kind
		a.kind = k
		a.ev.ShowAs("")
		num, text := a.cellKey(row, c)
		a.ev.ShowAs(a.shown)
		a.kind = now
		return num, text
	}
	var keys []grid.SortKey
	for _, s := range v.Sort {
		if c, ok := a.columnNamed(s.Col); ok {
			if x := shownColumn(g, c); x >= 0 {
				keys = append(keys, grid.SortKey{Col: x, Desc: s.Desc})
			}
		}
	}
	type test struct {
		c  int
		ok func(num float64, text string) bool
	}
	var tests []test
	for _, f := range v.Filter {
		if c, ok := a.columnNamed(f.Col); ok {
			tests = append(tests, test{c, f.Test()})
		}
	}
	var keep func(row int) bool
	if len(tests) > 0 {
		keep = func(row int) bool {
			for _, t := range tests {
				if !t.ok(key(row, t.c)) {
					return false
				}
			}
			return true
		}
	}
	g.Arrange(keys, func(row, x int) (float64, string) { return key(row, g.Column(x)) }, keep)
}

// opArrange takes lines of the form `column TAB desc` to sort by, and `column TAB operator TAB value TAB value …` to filter by; columns by their
// stored names.
func opArrange(a *app, in *arguments) raw {
	sortBy, filter := in.text(), in.text()
	v := &a.views[a.kind]
	v.Sort, v.Filter = nil, nil
	for line := range strings.Lines(sortBy) {
		name, dir, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
		if name != "" {
			v.Sort = append(v.Sort, grid.SavedKey{Col: name, Desc: dir == "desc"})
		}
	}
	for line := range strings.Lines(filter) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) >= 2 && f[0] != "" && len(f[1]) == 1 {
			c := grid.Condition{Col: f[0], Op: grid.Op(f[1][0])}
			for _, s := range f[2:] {
				c.Values = append(c.Values, a.inUnits(f[0], s, false))
			}
			v.Filter = append(v.Filter, c)
		}
	}
	a.grid().Cancel()
	a.arrange(a.kind)
	note := "All rows are shown, in the job's order."
	if w := a.arrangedWords(); w != "" {
		note = strings.ToUpper(w[:1]) + w[1:] + "."
	}
	return a.state(grid.Change{Note: note}).yes("arranged", true).end()
}

// arrangedWords says what is shown: "12 of 40 rows, sorted".
func (a *app) arrangedWords() string { return a.arrangedIn(a.grid()) }

func (a *app) arrangedIn(g *grid.Model) string {
	sorted, filtered := g.Arranged()
	switch {
	case filtered && sorted:
		return fmt.Sprintf("%d of %d rows shown, sorted", g.ShownRows(), len(g.Rows()))
	case filtered:
		return fmt.Sprintf("%d of %d rows shown", g.ShownRows(), len(g.Rows()))
	case sorted:
		return "rows shown sorted"
	}
	return ""
}

// opViewOf describes how the sheet is shown, for the dialog: the columns that can be sorted and filtered by, with the few different values that
// some of them have, and what holds now.
func opViewOf(a *app, _ *arguments) raw {
	g := a.grid()
	v := &a.views[a.kind]
	var cols, keys, filters []*object
	for x := range g.Columns() {
		c := g.Column(x)
		o := new(object).text("id", a.columnName(c))
		var few []string
		if c < 0 {
			if a.kind != job.MachinesSheet {
				continue
			}
			o.text("name", a.results[^c].Name).text("unit", a.resultUnit(c)).yes("result", true)
			if k := a.results[^c].Key; k == "verdict" || k == "after_verdict" {
				few = a.fewValues(c)
			}
		} else {
			name, _ := a.unitOf(a.kind, g.Header()[c])
			o.text("name", name).text("unit", a.shownUnit(c)).yes("result", false)
			few = a.fewValues(c)
		}
		cols = append(cols, o.texts("few", few))
	}
	for _, s := range v.Sort {
		keys = append(keys, new(object).text("col", s.Col).yes("desc", s.Desc))
	}
	for _, f := range v.Filter {
		var values []string
		for _, s := range f.Values {
			values = append(values, a.inUnits(f.Col, s, true))
		}
		filters = append(filters, new(object).text("col", f.Col).text("op", string(rune(f.Op))).texts("values", values))
	}
	return new(object).objects("columns", cols).objects("sort", keys).objects("filter", filters).end()
}

// fewValues are the different texts of a column if they are at most twelve and none stands for numbers that differ row by row.
func (a *app) fewValues(c int) []string {
	g := a.grid()
	var out []string
	for row := range g.Rows() {
		var s string
		if c < 0 {
			s = a.result(row, ^c)
		} else {
			s = strings.TrimSpace(g.Cell(row, c))
		}
		if s == "" || slices.Contains(out, s) {
			continue
		}
		if out = append(out, s); len(out) > 12 {
			return nil
		}
	}
	if len(out) > 2 && len(out)*2 > len(g.Rows()) {
		return nil
	}
	slices.Sort(out)
	return out
}

// opRowNumbers are the numbers of the rows shown from y0 to y1−1, as a spreadsheet counts, when they are not simply in order.
func opRowNumbers(a *app, in *arguments) raw {
	y0, y1 := in.int(), in.int()
	g := a.grid()
	out := []float64{}
	for y := max(y0, 0); y < min(y1, g.Height()); y++ {
		out = append(out, float64(a.firstRow()+g.Stored(y)))
	}
	return new(object).numbers("rows", out).end()
}

// opFind searches: text, options as letters (c same case, w whole cell, s in the selection, b upwards, h the cursor's cell first).
func opFind(a *app, in *arguments) raw {
	query, opts := in.text(), in.text()
	f := a.grid().Find(query, findOptions(opts), a.result)
	return a.found(grid.Change{}, f)
}

func findOptions(s string) grid.FindOptions {
	has := func(c string) bool { return strings.Contains(s, c) }
	return grid.FindOptions{MatchCase: has("c"), WholeCell: has("w"), InSelection: has("s"), Back: has("b"), Here: has("h")}
}

func (a *app) found(ch grid.Change, f grid.Found) raw {
	return a.state(ch).yes("found", f.OK).int("index", f.Index).int("count", f.Count).int("fixed", f.Fixed).yes("wrapped", f.Wrapped).end()
}

func opReplace(a *app, in *arguments) raw {
	query, by, opts := in.text(), in.text(), in.text()
	ch, f := a.grid().Replace(query, by, findOptions(opts), a.result)
	a.changed(a.kind, ch)
	return a.found(ch, f)
}

// opSums is the summary of the selection in words for the status line; done is false when it was too much for one call, and it goes on with the next.
func opSums(a *app, _ *arguments) raw {
	g := a.grid()
	sel := g.Selection()
	if sel.R0 == sel.R1 && sel.C0 == sel.C1 {
		a.summing = nil
		return new(object).text("text", "").yes("done", true).end()
	}
	if a.summing == nil {
		a.summing = g.Summarise(func(row, x int) (float64, bool) {
			c := g.Column(x)
			v, _ := a.cellKey(row, c)
			return v, !math.IsNaN(v)
		})
	}
	if !a.summing.Next(4000) {
		return new(object).text("text", "…").yes("done", false).end()
	}
	s, ok := a.summing.Result()
	a.summing = nil
	if !ok {
		return new(object).text("text", "").yes("done", true).end()
	}
	unit := a.shownUnit(g.Column(sel.C0))
	for x := sel.C0 + 1; x <= sel.C1; x++ {
		if a.shownUnit(g.Column(x)) != unit {
			unit = "?"
			break
		}
	}
	text := plural(s.Filled, "filled cell", "filled cells")
	if s.Numbers > 0 && unit != "?" {
		num := func(v float64) string {
			t := strconv.FormatFloat(v, 'g', 7, 64)
			if a.ev.Decimal() == units.Comma {
				t = strings.Replace(t, ".", ",", 1)
			}
			if unit != "" {
				t += " " + unit
			}
			return t
		}
		text = plural(s.Numbers, "number", "numbers") + " · sum " + num(s.Sum) + " · smallest " + num(s.Min) + " · largest " + num(s.Max)
	}
	return new(object).text("text", text).yes("done", true).end()
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

// shownUnit is the unit of the numbers of a column as shown, "" for none.
func (a *app) shownUnit(c int) string {
	if c < 0 {
		if a.kind != job.MachinesSheet {
			return ""
		}
		return a.resultUnit(c)
	}
	info := job.FindColumn(a.kind, a.grid().Header()[c])
	if info == nil {
		return ""
	}
	if u := info.Unit(a.ev.ShowsInch()); u != units.None {
		return u.String()
	}
	return ""
}

// opPlan says what pasting a text would do, if it has a header row and so may go elsewhere than where the cursor stands, or would write over
// other texts. The paste waits in the app until it is taken or dropped.
func opPlan(a *app, in *arguments) raw {
	text := in.text()
	a.planned, a.learnt = a.plan(text), nil
	return a.planObject(a.planned)
}

// planObject is a plan for the page.
func (a *app) planObject(p *grid.Plan) raw {
	if p == nil || !p.OK {
		note := ""
		if p != nil {
			note = p.Note
		}
		return new(object).yes("ok", false).text("note", note).end()
	}
	g := a.grid()
	o := new(object).yes("ok", true).text("note", p.Note).text("name", p.Name).yes("table", p.Table).yes("fresh", p.Fresh).int("titles", p.TitleLines).
		int("over", p.Over).int("new", p.New).int("cells", p.Cells).int("replaced", p.Replaced)
	var cols, samples []*object
	for _, c := range p.Columns {
		known := job.FindColumn(a.kind, c.Name)
		k := ""
		if known != nil {
			k = known.Name
		}
		cols = append(cols, new(object).text("pasted", c.Pasted).text("name", c.Name).yes("new", c.New).yes("left", c.Column < 0).text("known", k))
	}
	for _, s := range p.Samples {
		name := ""
		if s.Column < len(g.Header()) {
			name = g.Header()[s.Column]
		}
		samples = append(samples, new(object).int("row", a.firstRow()+s.Row).text("column", name).text("old", s.Old).text("new", s.New))
	}
	return o.objects("columns", cols).objects("samples", samples).end()
}

// resultUnit is the unit of a result as shown, c as Model.Column gives it; "" for none. Packs keep the job's: pieces are real things.
func (a *app) resultUnit(c int) string {
	r := &a.results[^c]
	inch := a.ev.ShowsInch()
	if strings.Contains(r.Key, "pack") {
		inch = a.ev.Inch()
	}
	if u := r.Unit(inch); u != units.None {
		return u.String()
	}
	return ""
}

// plan reads a clipboard text as a.paste does.
func (a *app) plan(text string) *grid.Plan {
	g := a.grid()
	if !strings.Contains(text, "\t") && strings.Contains(text, "\n") {
		// The text of a CSV file, copied from an editor: known by its header.
		if t, _, err := job.ReadDelimited("clipboard", []byte(text), 0); err == nil && t.Width() > 1 && job.FindHeader(t.Rows, a.kind) >= 0 {
			return g.PlanPaste(t.Rows, a.meaning())
		}
	}
	return g.PlanPasteText(text, a.meaning())
}

// opDrawing draws the chosen coupling: what ("machine", "todo", "rounds", "sweeps", "feet" or "growth") and the width in pixels. Where nothing is to be done "todo" is empty.
func opDrawing(a *app, in *arguments) raw {
	what, width := in.text(), in.int()
	opt := report.Options{Width: float64(width), Prefix: what + strconv.Itoa(width)} // on paper as well as in the panel
	var b []byte
	switch what {
	case "todo":
		if a.ev.Todo(a.machRow).Missing == "" {
			b = report.WhatToDo(nil, a.ev, a.machRow, opt)
		}
	case "rounds":
		b = report.Rounds(nil, a.ev, a.machRow, opt)
	case "sweeps":
		b = report.Sweeps(nil, a.ev, a.machRow, opt)
	case "feet":
		b = report.FeetPlan(nil, a.ev, a.machRow, opt)
	case "growth":
		b = report.GrowthFigure(nil, a.ev, a.machRow, opt)
	default:
		b = report.Machine(nil, a.ev, a.machRow, opt)
	}
	return new(object).text("svg", string(b)).end()
}

// opPicture draws the list: "overview" or "histogram", of the rows shown in the Machines sheet.
func opPicture(a *app, in *arguments) raw {
	what, width := in.text(), in.int()
	g := a.grids[job.MachinesSheet]
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
		b = report.Histogram(nil, a.ev, rows, opt)
	} else {
		b = report.Overview(nil, a.ev, rows, opt)
	}
	return new(object).text("svg", string(b)).end()
}

// opFigure is a drawing of the help: "clock", or the word of a method.
func opFigure(a *app, in *arguments) raw {
	what, width := in.text(), in.int()
	opt := report.Options{Width: float64(width), Prefix: "h" + strconv.Itoa(len(what))}
	if what == "clock" {
		return new(object).text("svg", string(report.ClockFigure(nil, "", "", opt))).end()
	}
	return new(object).text("svg", string(report.MethodFigure(nil, methodWords[what], opt))).end()
}

// series fills the selection as a series: its filled first rows are what the rest follows.
func series(g *grid.Model) grid.Change {
	sel := g.Selection()
	seeds := 0
	for y := sel.R0; y < sel.R1 && (seeds == 0 || g.At(grid.Pos{Row: y, Col: sel.C0}) != ""); y++ {
		seeds++
	}
	g.Select(grid.Rect{R0: sel.R0, C0: sel.C0, R1: sel.R0 + max(seeds, 1) - 1, C1: sel.C1})
	return g.FillTo(sel, true)
}

// opWidth remembers the width of a shown column, in pixels at the usual text size.
func opWidth(a *app, in *arguments) raw {
	x, px := in.int(), in.int()
	g := a.grid()
	if x < 0 || x >= g.Columns() {
		return a.answerState()
	}
	v := &a.views[a.kind]
	name := a.columnName(g.Column(x))
	v.Widths = slices.DeleteFunc(v.Widths, func(w grid.Width) bool { return w.Col == name })
	v.Widths = append(v.Widths, grid.Width{Col: name, Px: min(max(px, 30), 900)})
	return a.answerState()
}

// noteFilled notes which result columns have a value in a row.
func (a *app) noteFilled(row int) {
	for k, filled := range a.filled {
		if filled {
			continue
		}
		if _, ok := a.ev.ResultNumber(row, k); ok || len(a.ev.AppendResultText(nil, row, k)) > 0 {
			a.filled[k] = true
		}
	}
}

// group is what a column belongs to when whole groups are hidden: the columns of results by what they tell.
func (a *app) group(c int) string {
	if c < 0 {
		return "Results"
	}
	info := job.FindColumn(a.kind, a.grid().Header()[c])
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
func (a *app) hide(k job.SheetKind) {
	g := a.grids[k]
	if k != job.MachinesSheet {
		return
	}
	g.SetHidden(a.notShown(k))
}

// unhide shows columns of the Machines sheet that have come into use, and says whether there were any. None goes while somebody works.
func (a *app) unhide() bool {
	g := a.grids[job.MachinesSheet]
	wish := a.notShown(job.MachinesSheet)
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
	a.keepColumn(g, at)
	return true
}

// keepColumn puts the cursor back at a column after others have come or gone.
func (a *app) keepColumn(g *grid.Model, c int) {
	if x := shownColumn(g, c); x >= 0 && x != g.Cursor().Col {
		g.Go(grid.Pos{Row: g.Cursor().Row, Col: x}, false)
	}
}

// notShown lists the columns that hide hides.
func (a *app) notShown(k job.SheetKind) []int {
	g := a.grids[k]
	was := a.kind
	a.kind = k
	defer func() { a.kind = was }()
	var hidden []int
	groups := a.views[k].Hidden
	rows := g.Rows()
	for c := range g.Header() {
		if c == a.machine {
			continue
		}
		if slices.Contains(groups, a.group(c)) || slices.Contains(groups, hiddenColumn+a.columnName(c)) || !a.all && !a.inUse(c, rows) {
			hidden = append(hidden, c)
		}
	}
	for r := range a.results[:first] {
		if slices.Contains(groups, hiddenColumn+a.columnName(^r)) {
			hidden = append(hidden, ^r)
		}
	}
	for r := first; r < len(a.results); r++ {
		if slices.Contains(groups, "Results") || slices.Contains(groups, hiddenColumn+a.columnName(^r)) || !a.all && len(rows) > 0 && a.ev.Len() > 0 && !a.filled[r] {
			hidden = append(hidden, ^r)
		}
	}
	return hidden
}

func (a *app) inUse(c int, rows [][]string) bool {
	info := a.ev.ColumnOf(c)
	optional := info != nil && (info.Group == "growth" || info.Group == "room")
	if info == nil || !a.ev.IsReading(c) && info.Group != "distances" && !optional {
		return true
	}
	machines, look := false, 200
	if a.next < a.end {
		look = inSight // the others when they are worked out
	}
	for i, row := range rows {
		if c < len(row) && row[c] != "" {
			return true
		}
		if i < look {
			if r := a.ev.Row(i); r != nil && r.Kind == sheet.MachineRow {
				machines = true
				if !optional && a.ev.Uses(i, c) {
					return true
				}
			}
		}
	}
	return !machines
}

// opShowColumns takes whether every column is to be shown, and the groups that are hidden, tabs between.
func opShowColumns(a *app, in *arguments) raw {
	a.all = in.yes()
	v := &a.views[a.kind]
	v.Hidden = nil
	for _, g := range strings.Split(in.text(), "\t") {
		if g != "" {
			v.Hidden = append(v.Hidden, g)
		}
	}
	g := a.grid()
	g.Cancel()
	at := g.Column(g.Cursor().Col)
	a.setOrder(a.kind)
	a.keepColumn(g, at)
	note := plural(g.Columns(), "column is shown", "columns are shown")
	if n := len(g.Hidden()); n > 0 {
		note += ", " + strconv.Itoa(n) + " not"
	}
	return a.state(grid.Change{Note: note + "."}).yes("arranged", true).end()
}

// opColumnGroups lists the groups of columns, how many columns each has and whether it is hidden.
func opColumnGroups(a *app, _ *arguments) raw {
	g := a.grid()
	var names []string
	counts := map[string]int{}
	add := func(c int) {
		n := a.group(c)
		if n == "" || c == a.machine && c >= 0 {
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
	if a.kind == job.MachinesSheet {
		for r := first; r < len(a.results); r++ {
			add(^r)
		}
	}
	var out []*object
	for _, n := range names {
		out = append(out, new(object).text("name", n).text("title", n).int("count", counts[n]).yes("hidden", slices.Contains(a.views[a.kind].Hidden, n)))
	}
	for _, h := range a.views[a.kind].Hidden { // single columns that were hidden
		name, single := strings.CutPrefix(h, hiddenColumn)
		if c, ok := a.columnNamed(name); single && ok {
			if c < 0 {
				name = a.results[^c].Name
			}
			out = append(out, new(object).text("name", h).text("title", name).int("count", 1).yes("hidden", true))
		}
	}
	return new(object).objects("groups", out).yes("all", a.all).end()
}

package desk

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// cellKey is how a cell sorts and filters.
func (d *Desk) cellKey(row, c int) (float64, string) {
	if c < 0 {
		if d.kind != job.MachinesSheet {
			return math.NaN(), ""
		}
		if v, ok := results.ShownNumber(d.ev, row, ^c); ok {
			return v, ""
		}
		return math.NaN(), d.result(row, ^c)
	}
	text := d.grid().Cell(row, c)
	if v, ok := d.ev.NumberIn(d.kind, d.grid().Header()[c], text); ok {
		return v, text
	}
	return math.NaN(), text
}

// arrange shows the rows of a sheet as its view says. Whatever units are shown, rows are sorted and filtered by the job's.
func (d *Desk) arrange(k job.SheetKind) {
	was := d.kind
	d.kind = k
	defer func() { d.kind = was }()
	g := d.grid()
	v := &d.views[k]
	if sorted, filtered := g.Arranged(); len(v.Sort) == 0 && len(v.Filter) == 0 && !sorted && !filtered {
		return
	}
	key := func(row, c int) (float64, string) {
		now := d.kind
		d.kind = k
		d.ev.ShowAs("")
		num, text := d.cellKey(row, c)
		d.ev.ShowAs(d.shown)
		d.kind = now
		return num, text
	}
	var keys []grid.SortKey
	for _, s := range v.Sort {
		if c, ok := d.columnNamed(s.Col); ok {
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
		if c, ok := d.columnNamed(f.Col); ok {
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
func opArrange(d *Desk, in *arguments) raw {
	var sorts []screens.SortKey
	for line := range strings.Lines(in.text()) {
		name, dir, _ := strings.Cut(strings.TrimRight(line, "\n"), "\t")
		if name != "" {
			sorts = append(sorts, screens.SortKey{Column: name, Desc: dir == "desc"})
		}
	}
	var filters []screens.FilterLine
	for line := range strings.Lines(in.text()) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if len(f) >= 2 && f[0] != "" && len(f[1]) == 1 {
			filters = append(filters, screens.FilterLine{Column: f[0], Op: f[1], Values: f[2:]})
		}
	}
	d.Arrange(sorts, filters)
	return opTook(d, in)
}

// Arrange sorts and filters the sheet shown.
func (d *Desk) Arrange(sorts []screens.SortKey, filters []screens.FilterLine) {
	v := &d.views[d.kind]
	v.Sort, v.Filter = nil, nil
	for _, k := range sorts {
		v.Sort = append(v.Sort, grid.SavedKey{Col: k.Column, Desc: k.Desc})
	}
	for _, f := range filters {
		c := grid.Condition{Col: f.Column, Op: grid.Op(f.Op[0])}
		for _, s := range f.Values {
			c.Values = append(c.Values, d.inUnits(f.Column, s, false))
		}
		v.Filter = append(v.Filter, c)
	}
	d.grid().Cancel()
	d.arrange(d.kind)
	note := words.Text("desk.allRowsShown")
	if w := d.arrangedWords(); w != "" {
		_, n := utf8.DecodeRuneInString(w)
		note = strings.ToUpper(w[:n]) + w[n:] + "."
	}
	d.shownAnew(note)
}

// Arranged says whether the sheet shown is sorted or filtered.
func (d *Desk) Arranged() bool { return d.arrangedWords() != "" }

// SortStored makes the order shown the job's.
func (d *Desk) SortStored() {
	v := &d.views[d.kind]
	keys := v.Sort
	d.change(d.kind, func(g *grid.Model) grid.Change {
		ch := g.SortStored()
		if sorted, _ := g.Arranged(); !sorted {
			v.Sort = nil
		}
		if ch.Any {
			d.sorts, d.undone = append(d.sorts, keys), nil
		}
		return ch
	})
}

// arrangedWords says what is shown: "12 of 40 rows, sorted".
func (d *Desk) arrangedWords() string { return d.arrangedIn(d.grid()) }

func (d *Desk) arrangedIn(g *grid.Model) string {
	sorted, filtered := g.Arranged()
	switch {
	case filtered && sorted:
		return words.Text("desk.rowsShownSorted", strconv.Itoa(g.ShownRows()), strconv.Itoa(len(g.Rows())))
	case filtered:
		return words.Text("desk.rowsShown", strconv.Itoa(g.ShownRows()), strconv.Itoa(len(g.Rows())))
	case sorted:
		return words.Text("desk.sorted")
	}
	return ""
}

// ViewOf is how the sheet is shown: the columns that can be sorted and filtered by, with the few different values that some of them have, and what holds now.
func (d *Desk) ViewOf() (columns []screens.ArrangeColumn, sorts []screens.SortKey, filters []screens.FilterLine) {
	g := d.grid()
	v := &d.views[d.kind]
	for x := range g.Columns() {
		c := g.Column(x)
		o := screens.ArrangeColumn{ID: d.columnName(c)}
		if c >= 0 {
			o.Name, _ = d.unitOf(d.kind, g.Header()[c])
			o.Unit, o.Few = d.shownUnit(c), d.fewValues(c)
		} else if d.kind != job.MachinesSheet {
			continue
		} else {
			o.Name, o.Unit, o.Result = d.results[^c].Name, d.resultUnit(c), true
			if k := d.results[^c].Key; k == "verdict" || k == "after_verdict" {
				o.Few = d.fewValues(c)
			}
		}
		columns = append(columns, o)
	}
	for _, k := range v.Sort {
		sorts = append(sorts, screens.SortKey{Column: k.Col, Desc: k.Desc})
	}
	for _, f := range v.Filter {
		line := screens.FilterLine{Column: f.Col, Op: string(rune(f.Op))}
		for _, s := range f.Values {
			line.Values = append(line.Values, d.inUnits(f.Col, s, true))
		}
		filters = append(filters, line)
	}
	return columns, sorts, filters
}

// fewValues are the different texts of a column if they are at most twelve and none stands for numbers that differ row by row.
func (d *Desk) fewValues(c int) []string {
	g := d.grid()
	var out []string
	for row := range g.Rows() {
		var s string
		if c < 0 {
			s = d.result(row, ^c)
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
func opRowNumbers(d *Desk, in *arguments) raw {
	y0, y1 := in.int(), in.int()
	g := d.grid()
	out := []float64{}
	for y := max(y0, 0); y < min(y1, g.Height()); y++ {
		out = append(out, float64(d.firstRow()+g.Stored(y)))
	}
	return new(object).numbers("rows", out).end()
}

// plural is one of two texts, by a count that stands in the second.
func plural(n int, one, many string) string {
	if n == 1 {
		return one
	}
	return words.Fill(many, strconv.Itoa(n))
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

package desk

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A columnInfo is what the page knows of a shown column.
type columnInfo struct {
	screens.ListColumn
	Help   string
	Column int    // in the table; −1 for a result
	ID     string // as columnName gives it
}

// layout describes the shown columns.
func (d *Desk) layout() raw {
	var out []*object
	for _, c := range d.columns() {
		o := new(object).text("name", c.Name).text("line1", c.Line1).text("line2", c.Line2).text("group", c.Group).text("unit", c.Unit)
		out = append(out, o.yes("result", c.Result).yes("number", c.Number).int("width", c.Width).text("help", c.Help).text("key", c.Key).int("column", c.Column).text("id", c.ID))
	}
	return new(object).objects("columns", out).int("firstRow", d.firstRow()).int("frozen", d.frozen()).end()
}

// opFirst is the list as a saved page shows it before its program is up, of the job whose digest is the argument: the first rows of the Machines sheet as it is shown.
func opFirst(d *Desk, in *arguments) raw {
	digest, was := in.text(), d.kind
	d.kind = job.MachinesSheet
	defer func() { d.kind = was }()
	g := d.grid()
	if d.frozen() == 0 {
		return new(object).text("html", "").end()
	}
	var columns []screens.ListColumn
	for _, c := range d.columns() {
		columns = append(columns, c.ListColumn)
	}
	rows := make([]screens.ListRow, min(g.ShownRows(), screens.FirstRows))
	cells := strings.Split(string(g.AppendViewport(nil, 0, 0, len(columns), len(rows), d)), string(rune(grid.RowEnd)))
	for y := range rows {
		rows[y].Number = d.firstRow() + g.Stored(y)
		for _, c := range strings.Split(strings.TrimSuffix(cells[y], string(rune(grid.CellEnd))), string(rune(grid.CellEnd))) {
			rows[y].Cells = append(rows[y].Cells, screens.ListCell{Mark: c[0], Text: c[1:]})
		}
	}
	return new(object).text("html", screens.FirstList(columns, rows, digest, d.arrangedWords()).String()).end()
}

// columns are the shown columns.
func (d *Desk) columns() []columnInfo {
	g := d.grid()
	list := make([]columnInfo, g.Columns())
	for x := range list {
		c := &list[x]
		k := g.Column(x)
		c.Column = k
		if k < 0 {
			c.Column = -1
			c.Result = true
			if d.kind == job.SettingsSheet {
				c.Name, c.Line2, c.Width, c.ID = words.Text("desk.meaning"), words.Text("desk.meaning"), 900, d.columnName(k)
				continue
			}
			r := &d.results[^k]
			c.Name, c.Key, c.Help, c.Group = r.Name, r.Key, r.Help.String(), "Results"
			c.Unit = d.resultUnit(k)
			c.Number = r.Quantity != job.QText && !strings.Contains(r.Key, "pack") && r.Key != "balance" && r.Key != "closure" && r.Key != "bolt_shims"
		} else {
			head := g.Header()[k]
			c.Name, c.Unit = d.unitOf(d.kind, head)
			if d.kind == job.MachinesSheet {
				if u := d.ev.ShownUnit(k); u != units.None {
					c.Unit = u.String()
				}
			}
			if info := job.FindColumn(d.kind, head); info != nil {
				c.Key, c.Help, c.Group = info.Key, info.Help(), strings.ToUpper(info.Group[:1])+info.Group[1:]
				c.Number = info.Quantity != job.QText && info.Quantity != job.QChoice && info.Quantity != job.QSweep && info.Quantity != job.QDistances
				if info.Result {
					c.Group, c.Help = "Own", words.Text("desk.resultTyped")
				}
			} else if d.kind == job.MachinesSheet {
				c.Group, c.Help = "Own", words.Text("desk.unknownColumn")
			}
			if d.kind == job.SettingsSheet {
				c.Number, c.Unit, c.Help, c.Group = false, "", "", ""
			}
		}
		if c.Name == "" {
			c.Name = words.Text("desk.columnNumber", strconv.Itoa(k+1))
		}
		c.Line1, c.Line2 = screens.TwoLines(c.Name)
		c.Width = d.width(x, c)
		c.ID = d.columnName(k)
	}
	// A first line shared by neighbours needs room over all of them; alone it needs its own.
	for i := 0; i < len(list); {
		j := i + 1
		for j < len(list) && list[j].Line1 == list[i].Line1 && list[j].Group == list[i].Group && list[i].Line1 != "" {
			j++
		}
		sum := 0
		for _, c := range list[i:j] {
			sum += c.Width
		}
		if need := 9*utf8.RuneCountInString(list[i].Line1) + 18; need > sum {
			for m := i; m < j; m++ {
				list[m].Width += (need - sum + j - i - 1) / (j - i)
			}
		}
		i = j
	}
	for _, w := range d.views[d.kind].Widths {
		if i := slices.IndexFunc(list, func(c columnInfo) bool { return c.ID == w.Col }); i >= 0 {
			list[i].Width = w.Px
		}
	}
	return list
}

// firstRow is the number of the sheet's first row, as messages count.
func (d *Desk) firstRow() int {
	if t := d.job.Table(d.kind); t != nil && t.Header != nil && t.FirstRow > 0 {
		return t.FirstRow
	}
	return len(d.grid().Title()) + 2
}

// frozen is how many of the first shown columns stay in sight: the machine's name.
func (d *Desk) frozen() int {
	if d.kind == job.MachinesSheet && d.machine >= 0 || d.kind == job.SettingsSheet && d.grid().Columns() > 0 {
		return 1
	}
	return 0
}

// width is how wide a column is shown, in CSS pixels at 15 px text, by its name and what stands in its first rows.
func (d *Desk) width(x int, c *columnInfo) int {
	longest := 0
	g := d.grid()
	k := g.Column(x)
	if k >= 0 {
		for r := range min(len(g.Rows()), 300) {
			if t := g.Cell(r, k); len(t) > longest {
				longest = max(longest, utf8.RuneCountInString(t))
			}
		}
	} else if c.Number && (strings.Contains(c.Key, "move") || strings.Contains(c.Key, "offset") || strings.Contains(c.Key, "slope")) {
		for r := range min(len(g.Rows()), 40) {
			longest = max(longest, utf8.RuneCountInString(d.result(r, ^k)))
		}
	}
	return screens.ColumnWidth(&c.ListColumn, longest)
}

package desk

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/sheet"
	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

// The screen Tables: the look-up, the reference tables, and what a row of theirs can put into a sheet.

// A shownTable is a reference table as the screen shows it: the job's own rows first, then the built-in ones. A row's place in rows names it.
type shownTable struct {
	*tables.Table
	rows []shownRow
}

type shownRow struct {
	*tables.Row
	own   *tables.Table // of a row of the job's own sheet
	gives bool          // a built-in row that gives way to one of the job's own
}

// ownTables are the job's own sheets Limits and Materials, in the form that tables.Search takes; none that has no rows.
func (d *Desk) ownTables() []*tables.Table {
	var out []*tables.Table
	built := tables.LimitSets()
	var sets []*tables.LimitSet
	for _, s := range d.ev.LimitSets() {
		if !slices.Contains(built, s) {
			sets = append(sets, s)
		}
	}
	if sets != nil {
		out = append(out, tables.OwnLimits(sets, "your sheet Limits"))
	}
	if list := d.ev.Materials(); len(list) > 0 {
		out = append(out, tables.OwnMaterials(list, "your sheet Materials"))
	}
	return out
}

// shown is the table of a key, or nil.
func (d *Desk) tableShown(key string) *shownTable {
	t := &shownTable{Table: tables.Find(key)}
	if t.Table == nil {
		return nil
	}
	gone := map[string]bool{}
	for _, o := range d.ownTables() {
		for i := range o.Rows {
			name := o.Rows[i].Cells[0]
			if o.Key == "expansion" {
				if m := tables.FindMaterial(name); m != nil && (key == o.Key || key == "expansion_mean") {
					gone[m.Name] = true
				}
			} else if s := tables.FindLimitSet(name); s != nil && key == o.Key {
				gone[s.Name] = true
			}
			if o.Key == key {
				t.rows = append(t.rows, shownRow{Row: &o.Rows[i], own: o})
			}
		}
	}
	for i := range t.Rows {
		r := &t.Rows[i]
		t.rows = append(t.rows, shownRow{Row: r, gives: gone[r.Cells[0]]})
	}
	return t
}

// systems are the units that a column can be shown in: metric, inch.
var systems = map[units.Kind][2]units.Unit{
	units.Length: {units.MM, units.Inch}, units.Slope: {units.MMPerM, units.MilPerInch}, units.Force: {units.KiloNewton, units.PoundForce},
	units.Pressure: {units.MegaPascal, units.PSI}, units.Expansion: {units.PerKelvin, units.PerFahrenheit}, units.Temperature: {units.Celsius, units.Fahrenheit},
}

// unitIn is the unit of a column in a system of units ("", metric or inch); converted is false where the source's own text is shown.
func unitIn(c *tables.Column, system string) (u units.Unit, converted bool) {
	pair, ok := systems[c.Kind]
	switch {
	case !c.Numeric || !ok || c.Kind == units.Number || system == "":
		return c.In, false
	case system == "inch":
		return pair[1], true
	}
	return pair[0], true
}

// cell is the text of a cell as shown.
func (t *shownTable) cell(d *Desk, r *shownRow, i int, system string) string {
	c := &t.Columns[i]
	u, converted := unitIn(c, system)
	if base := r.Base[i]; !math.IsInf(base, 0) && !math.IsNaN(base) && converted && u != units.None {
		return d.digits(base, u, 6)
	}
	// The job's own is shown as it was typed, whatever the built-in rows of the column are printed in.
	if r.own != nil && r.Cells[i] != "" && r.own.Columns[i].In != u {
		return d.sign(r.own.Columns[i].Show(r.Cells[i]))
	}
	return d.local(c, r.Cells[i])
}

// digits prints a value in a unit with at most so many significant digits and no zeros behind them.
func (d *Desk) digits(base float64, u units.Unit, n int) string {
	v := u.FromBase(base)
	digits := n - 1
	if v != 0 {
		digits -= int(math.Floor(math.Log10(math.Abs(v))))
	}
	s := units.Format(base, u, max(0, min(digits, 9)), units.Point)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return d.sign(s)
}

// sign puts the job's decimal sign into the text of a number.
func (d *Desk) sign(s string) string {
	if d.ev.Decimal() == units.Comma {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}

func (d *Desk) local(c *tables.Column, s string) string {
	if c.Numeric {
		return d.sign(s)
	}
	return s
}

// heading is a column's title with its unit.
func heading(c *tables.Column, system string) string {
	unit := c.Unit
	if u, ok := unitIn(c, system); ok {
		unit = u.String()
	}
	if unit == "" {
		return c.Title
	}
	return c.Title + " [" + unit + "]"
}

// sourceWords are a source and its grade in words.
func sourceWords(s tables.Source, own bool) string {
	if own {
		s.Grade = tables.Stated
	}
	return screens.SourceWords(s)
}

// opTables lists the tables, and the machines that a row can be used for.
func opTables(d *Desk, _ *arguments) raw {
	own := map[string]int{}
	for _, t := range d.ownTables() {
		own[t.Key] = len(t.Rows)
	}
	var list []*object
	for _, t := range tables.All() {
		list = append(list, new(object).text("key", t.Key).text("title", t.Title).int("rows", len(t.Rows)+own[t.Key]).int("own", own[t.Key]))
	}
	chosen := d.machRow
	if d.kind == job.MachinesSheet {
		chosen = d.grid().Stored(d.grid().Cursor().Row)
	}
	var machines [][]string
	here := -1
	add := func(i int) {
		r := d.ev.Row(i)
		if r == nil || r.Kind != sheet.MachineRow {
			return
		}
		if i == chosen || here < 0 {
			here = i
		}
		machines = append(machines, []string{strconv.Itoa(i), r.Name})
	}
	last := 0
	for ; last < d.ev.Len() && len(machines) < 500; last++ { // a long list is not worked out for this
		add(last)
	}
	if chosen >= last {
		add(chosen)
	}
	return new(object).objects("tables", list).rows("machines", machines).int("chosen", here).end()
}

// A tableView says which rows of a table are wanted, in which order and units.
type tableView struct {
	t      *shownTable
	system string
	rows   []int
}

// tableView takes the key, the system of units, the filter, the column to sort by (−1 none, past the last the source) and whether downwards.
func (d *Desk) tableView(in *arguments) (v tableView) {
	key, system, filter, by, down := in.text(), in.text(), in.text(), in.int(), in.yes()
	t := d.tableShown(key)
	if t == nil {
		return v
	}
	v = tableView{t: t, system: system, rows: []int{}}
	words := strings.Fields(strings.ToLower(filter))
	for i := range t.rows {
		r := &t.rows[i]
		text := strings.ToLower(r.Name + "\n" + sourceWords(r.Source, r.own != nil))
		for c := range t.Columns {
			text += "\n" + strings.ToLower(t.cell(d, r, c, system))
		}
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			v.rows = append(v.rows, i)
		}
	}
	if by < 0 || by > len(t.Columns) {
		return v
	}
	turn := 1
	if down {
		turn = -1
	}
	sorting.Stable(v.rows, func(x, y int) int {
		p, q := &t.rows[x], &t.rows[y]
		if by == len(t.Columns) {
			return turn * strings.Compare(sourceWords(p.Source, p.own != nil), sourceWords(q.Source, q.own != nil))
		}
		if t.Columns[by].Numeric {
			m, n := p.Base[by], q.Base[by]
			if math.IsNaN(m) || math.IsNaN(n) { // what is not given comes last, both ways
				return boolInt(math.IsNaN(m)) - boolInt(math.IsNaN(n))
			}
			return turn * cmp.Compare(m, n)
		}
		return turn * strings.Compare(strings.ToLower(p.Cells[by]), strings.ToLower(q.Cells[by]))
	})
	return v
}

// opTable is a table as shown.
func opTable(d *Desk, in *arguments) raw {
	v := d.tableView(in)
	if v.t == nil {
		return failure("There is no such table.")
	}
	var cols, rows []*object
	for i := range v.t.Columns {
		c := &v.t.Columns[i]
		cols = append(cols, new(object).text("title", heading(c, v.system)).yes("number", c.Numeric))
	}
	for _, i := range v.rows {
		r := &v.t.rows[i]
		cells := make([]string, len(v.t.Columns))
		for c := range cells {
			cells[c] = v.t.cell(d, r, c, v.system)
		}
		rows = append(rows, d.rowObject(v.t, i).texts("cells", cells).text("source", sourceWords(r.Source, r.own != nil)))
	}
	return new(object).text("key", v.t.Key).text("title", v.t.Title).text("about", v.t.About).text("grades", tables.GradeMeanings).int("all", len(v.t.rows)).objects("columns", cols).objects("rows", rows).end()
}

// frameOf is the frame of a row: 56 is one in both tables.
func frameOf(t *shownTable, r *shownRow) (tables.Frame, bool) {
	return tables.FrameByName(strings.ToUpper(strings.TrimPrefix(t.Key, "frames_")) + " " + r.Name)
}

// rowObject is what can be done with row i of a table.
func (d *Desk) rowObject(t *shownTable, i int) *object {
	r := &t.rows[i]
	o := new(object).text("key", t.Key).int("row", i).text("name", r.Name).yes("own", r.own != nil).yes("gives", r.gives)
	var list []*object
	add := func(do, label, ask string, machine bool) {
		list = append(list, new(object).text("do", do).text("label", label).text("ask", ask).yes("machine", machine))
	}
	switch t.Key {
	case "frames_iec", "frames_nema":
		if f, ok := frameOf(t, r); ok {
			b := t.Column("b")
			add("frame", "Use for %: front to rear feet "+t.Columns[b].Show(d.sign(r.Cells[b])), "", true)
			if end := f.ShaftEnd(); !math.IsNaN(end) {
				u := t.Columns[b].In
				add("frame", "Use for %, with the coupling to the front feet too",
					"Shaft end to front feet is "+d.digits(end, u, 6)+" "+u.String()+". From the coupling centre to the shaft end", true)
			}
		}
	case "limits":
		add("limits", "Use the set “"+r.Cells[0]+"” for %", "", true)
		if r.own != nil {
			add("sheet6", "Edit in the sheet Limits", "", false)
		}
	case "expansion", "expansion_mean":
		add("growth", "Add a part of it to the sheet Growth, for %", "", true)
		if r.own != nil {
			add("sheet7", "Edit in the sheet Materials", "", false)
		} else {
			add("materials", "Add to the sheet Materials, to change it", "", false)
		}
	case "shims", "shim_stock":
		add("stock", "Add to the sheet Stock", "", false)
	}
	return o.objects("actions", list)
}

// opLookup answers the look-up box.
func opLookup(d *Desk, in *arguments) raw {
	query := in.text()
	var list []*object
	kept := map[string]*shownTable{}
	found := tables.Search(query, d.ownTables()...)
	for _, h := range found.Hits {
		o := new(object)
		if h.Row != nil {
			t := kept[h.Table.Key]
			if t == nil {
				t = d.tableShown(h.Table.Key)
				kept[h.Table.Key] = t
			}
			// Own tables are made anew for each question: their rows are known by name.
			i := slices.IndexFunc(t.rows, func(r shownRow) bool {
				return r.Row == h.Row || h.Own && r.own != nil && r.Name == h.Row.Name && slices.Equal(r.Cells, h.Row.Cells)
			})
			if i >= 0 {
				o = d.rowObject(t, i).text("table", t.Title)
			}
			o.text("source", sourceWords(h.Row.Source, h.Own))
			if len(h.Facts) == 0 {
				var cells [][]string
				for c := range t.Columns {
					if s := t.cell(d, &t.rows[max(i, 0)], c, ""); i >= 0 && s != "" {
						cells = append(cells, []string{t.Columns[c].Title, t.Columns[c].Show(s)})
					}
				}
				o.rows("cells", cells)
			}
		}
		var facts [][]string
		for _, f := range h.Facts {
			value := f.Value
			if !math.IsNaN(f.Base) {
				value = d.sign(value)
			}
			if f.Unit != "" {
				value += " " + f.Unit
			}
			facts = append(facts, []string{f.Label, value, sourceWords(f.Source, h.Own && h.Row != nil && f.Source == h.Row.Source)})
		}
		list = append(list, o.text("title", h.Title).text("why", h.Why).text("note", h.Note).rows("facts", facts))
	}
	var said [][]string
	for _, x := range found.Said {
		said = append(said, []string{[...]string{"refused", "asked", "unread"}[x.Kind], x.Text})
	}
	return new(object).objects("hits", list).rows("said", said).end()
}

// opTableDo does what a row offers: key, row, the action, the machine's row and a text. It shows the sheet that it wrote into, with the cursor
// at the cell written, as one step that can be undone.
func opTableDo(d *Desk, in *arguments) raw {
	key, at, do, machine, text := in.text(), in.int(), in.text(), in.int(), in.text()
	t := d.tableShown(key)
	if t == nil || at < 0 || at >= len(t.rows) {
		return failure("This row is not there any more.")
	}
	r := &t.rows[at]
	name := ""
	if do != "stock" && do != "materials" {
		if m := d.ev.Row(machine); m != nil && m.Kind == sheet.MachineRow {
			name = m.Name
		} else {
			return failure("There is no machine to use it for. Type or paste a list in the sheet Machines first.")
		}
	}
	switch do {
	case "frame":
		f, _ := frameOf(t, r)
		b := t.Column("b")
		names, texts := []string{"Front to rear feet"}, []string{t.Columns[b].Show(d.sign(r.Cells[b]))}
		if text != "" {
			u := units.MM
			if d.ev.Inch() {
				u = units.Inch
			}
			v, err := units.Parse(text, units.Length, u, d.ev.Decimal())
			if err != nil {
				return failure("From the coupling centre to the shaft end: " + err.Msg + "; " + err.Hint)
			}
			names, texts = append([]string{"Coupling to front feet"}, names...), append([]string{d.digits(v.Base+f.ShaftEnd(), u, 7) + " " + u.String()}, texts...)
		}
		return d.put(job.MachinesSheet, "frame "+r.Name, machine, names, [][]string{texts}, name+": "+strings.Join(names, " and ")+" filled from frame "+r.Name+". Measure the machine.")
	case "limits":
		return d.put(job.MachinesSheet, "limit set", machine, []string{"Limits"}, [][]string{{r.Cells[0]}}, name+" is judged by the limits “"+r.Cells[0]+"”.")
	case "growth":
		return d.put(job.GrowthSheet, "part of "+r.Cells[0], -1, []string{"Machine", "Material"}, [][]string{{name, r.Cells[0]}}, "A part of "+r.Cells[0]+" for "+name+": type its support, height and temperatures.")
	case "materials":
		m := tables.FindMaterial(r.Cells[0])
		if m == nil {
			return failure("This material is not there any more.")
		}
		num := func(x float64, u units.Unit) string {
			if math.IsNaN(x) {
				return ""
			}
			return d.digits(x, u, 9) + " " + u.String()
		}
		names := []string{"Material", "Coefficient", "From", "At temperature", "Uncertainty", "Source"}
		lines := [][]string{{m.Name, num(m.Alpha, units.PerKelvin), "", "", num(m.RelU, units.Percent), m.Source.String()}}
		for i := range m.Temps {
			if i > 0 {
				lines = append(lines, []string{m.Name, "", "", "", "", ""})
			}
			l := lines[i]
			l[1], l[2], l[3] = num(m.Means[i], units.PerKelvin), num(m.T0, units.Celsius), num(m.Temps[i], units.Celsius)
		}
		return d.put(job.MaterialsSheet, "material "+m.Name, -1, names, lines, m.Name+" stands in the sheet Materials now and takes the place of the built-in one.")
	case "stock":
		c := t.Column("thickness")
		return d.put(job.StockSheet, "shim", -1, []string{"Thickness"}, [][]string{{t.Columns[c].Show(d.sign(r.Cells[c]))}}, "In the stock now: type the pieces on hand. Only what the sheet lists is used.")
	}
	return failure("This cannot be done.")
}

// put writes texts into a sheet, −1 for new rows, and shows it with the cursor at what was written.
func (d *Desk) put(k job.SheetKind, name string, row int, names []string, lines [][]string, note string) raw {
	d.grid().Cancel()
	was := d.kind
	d.kind = k
	g := d.grid()
	ch, r, c := g.Put(name, row, names, lines, d.meaning())
	if c < 0 {
		d.kind = was
		return failure("Nothing was written. " + ch.Note)
	}
	if ch.Any {
		ch.Note = note
	} else {
		ch.Note = "It stands there already."
	}
	d.changed(k, ch)
	d.setOrder(k) // a column that was not in use is now
	ch.Header = true
	if g.ShownRow(r) < 0 {
		d.views[k].Filter = nil
		d.arrange(d.kind)
	}
	g.Go(grid.Pos{Row: max(g.ShownRow(r), 0), Col: max(g.Shown(c), 0)}, false)
	return d.state(ch).end()
}

// opTableText is a table, or the rows of it that are named, one after the other with blanks between, for the clipboard and as a CSV file.
func opTableText(d *Desk, in *arguments) raw {
	v := d.tableView(in)
	only := strings.Fields(in.text())
	if v.t == nil {
		return failure("There is no such table.")
	}
	var head []string
	for i := range v.t.Columns {
		head = append(head, heading(&v.t.Columns[i], v.system))
	}
	head = append(head, "Source")
	var rows [][]string
	for _, i := range v.rows {
		if len(only) > 0 && !slices.Contains(only, strconv.Itoa(i)) {
			continue
		}
		r := &v.t.rows[i]
		var cells []string
		for c := range v.t.Columns {
			cells = append(cells, v.t.cell(d, r, c, v.system))
		}
		rows = append(rows, append(cells, sourceWords(r.Source, r.own != nil)))
	}
	return d.given(head, rows)
}

// given is a table to be taken elsewhere: text and HTML for the clipboard, CSV for a file. What a spreadsheet would run as a formula is guarded.
func (d *Desk) given(head []string, rows [][]string) raw {
	clip, csv := screens.Table(head, rows, d.ev.Decimal() == units.Comma)
	return new(object).int("rows", len(rows)).text("text", clip.Text).text("html", clip.HTML).text("csv", csv).end()
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

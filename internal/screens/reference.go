package screens

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

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
func (s *Tables) ownTables() []*tables.Table {
	var out []*tables.Table
	built := tables.LimitSets()
	var sets []*tables.LimitSet
	for _, s := range s.host.Evaluator().LimitSets() {
		if !slices.Contains(built, s) {
			sets = append(sets, s)
		}
	}
	if sets != nil {
		out = append(out, tables.OwnLimits(sets, words.Text("tables.ownLimits")))
	}
	if list := s.host.Evaluator().Materials(); len(list) > 0 {
		out = append(out, tables.OwnMaterials(list, words.Text("tables.ownMaterials")))
	}
	return out
}

// shown is the table of a key, or nil.
func (s *Tables) tableShown(key string) *shownTable {
	t := &shownTable{Table: tables.Find(key)}
	if t.Table == nil {
		return nil
	}
	gone := map[string]bool{}
	for _, o := range s.ownTables() {
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
func (t *shownTable) cell(s *Tables, r *shownRow, i int, system string) string {
	c := &t.Columns[i]
	u, converted := unitIn(c, system)
	if base := r.Base[i]; !math.IsInf(base, 0) && !math.IsNaN(base) && converted && u != units.None {
		return s.digits(base, u, 6)
	}
	// The job's own is shown as it was typed, whatever the built-in rows of the column are printed in.
	if r.own != nil && r.Cells[i] != "" && r.own.Columns[i].In != u {
		return s.sign(r.own.Columns[i].Show(r.Cells[i]))
	}
	return s.local(c, r.Cells[i])
}

// digits prints a value in a unit with at most so many significant digits and no zeros behind them.
func (s *Tables) digits(base float64, u units.Unit, n int) string {
	v := u.FromBase(base)
	digits := n - 1
	if v != 0 {
		digits -= int(math.Floor(math.Log10(math.Abs(v))))
	}
	text := units.Format(base, u, max(0, min(digits, 9)), units.Point)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return s.sign(text)
}

// sign puts the job's decimal sign into the text of a number.
func (s *Tables) sign(text string) string {
	if s.host.Evaluator().Decimal() == units.Comma {
		return strings.Replace(text, ".", ",", 1)
	}
	return text
}

func (s *Tables) local(c *tables.Column, text string) string {
	if c.Numeric {
		return s.sign(text)
	}
	return text
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
	return SourceWords(s)
}

// A tableView is how a table is looked at: filtered, sorted by a column (−1 none, past the last the source), which rows are chosen and of which the actions are shown.
type tableView struct {
	filter string
	by     int
	down   bool
	chosen map[int]bool
	acts   map[int]bool
}

// rows are the rows of a table that the view shows, in its order.
func (v *tableView) rows(s *Tables, t *shownTable) []int {
	rows := []int{}
	words := strings.Fields(strings.ToLower(v.filter))
	for i := range t.rows {
		r := &t.rows[i]
		text := strings.ToLower(r.Name + "\n" + sourceWords(r.Source, r.own != nil))
		for c := range t.Columns {
			text += "\n" + strings.ToLower(t.cell(s, r, c, s.system))
		}
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(text, w) }) {
			rows = append(rows, i)
		}
	}
	if v.by < 0 || v.by > len(t.Columns) {
		return rows
	}
	turn := 1
	if v.down {
		turn = -1
	}
	sorting.Stable(rows, func(x, y int) int {
		p, q := &t.rows[x], &t.rows[y]
		if v.by == len(t.Columns) {
			return turn * strings.Compare(sourceWords(p.Source, p.own != nil), sourceWords(q.Source, q.own != nil))
		}
		if t.Columns[v.by].Numeric {
			m, n := p.Base[v.by], q.Base[v.by]
			switch { // what is not given comes last, both ways
			case math.IsNaN(m) && math.IsNaN(n):
				return 0
			case math.IsNaN(m):
				return 1
			case math.IsNaN(n):
				return -1
			}
			return turn * cmp.Compare(m, n)
		}
		return turn * strings.Compare(strings.ToLower(p.Cells[v.by]), strings.ToLower(q.Cells[v.by]))
	})
	return rows
}

// frameOf is the frame of a row: 56 is one in both tables.
func frameOf(t *shownTable, r *shownRow) (tables.Frame, bool) {
	return tables.FrameByName(strings.ToUpper(strings.TrimPrefix(t.Key, "frames_")) + " " + r.Name)
}

// An action is what a row can be used for: do says what, ask what has to be typed for it.
type action struct {
	do, label, ask string
	machine        bool // it is done for the machine chosen
}

// actions are what can be done with a row; label has the machine's name in it.
func (s *Tables) actions(t *shownTable, r *shownRow) (list []action) {
	name := s.machineName()
	if name == "" {
		name = words.Text("tables.noMachine")
	}
	switch t.Key {
	case "frames_iec", "frames_nema":
		if f, ok := frameOf(t, r); ok {
			b := t.Column("b")
			list = append(list, action{"frame", words.Text("tables.useFrame", name, t.Columns[b].Show(s.sign(r.Cells[b]))), "", true})
			if end := f.ShaftEnd(); !math.IsNaN(end) {
				u := t.Columns[b].In
				list = append(list, action{"frame", words.Text("tables.useFrameToo", name), words.Text("tables.askEnd", s.digits(end, u, 6)+" "+u.String()), true})
			}
		}
	case "limits":
		list = append(list, action{"limits", words.Text("tables.useSet", r.Cells[0], name), "", true})
		if r.own != nil {
			list = append(list, action{"sheet6", words.Text("tables.editLimits"), "", false})
		}
	case "expansion", "expansion_mean":
		list = append(list, action{"growth", words.Text("tables.addPart", name), "", true})
		if r.own != nil {
			list = append(list, action{"sheet7", words.Text("tables.editMaterials"), "", false})
		} else {
			list = append(list, action{"materials", words.Text("tables.addMaterial"), "", false})
		}
	case "shims", "shim_stock":
		list = append(list, action{"stock", words.Text("tables.addStock"), "", false})
	}
	return list
}

// use does what a row offers, as one step that can be undone. text is what was asked for, "" nothing. The answer is why it was not done.
func (s *Tables) use(t *shownTable, r *shownRow, do, text string) error {
	ev := s.host.Evaluator()
	name := ""
	if do != "stock" && do != "materials" {
		m := ev.Row(s.machine)
		if m == nil || m.Kind != evaluate.MachineRow {
			return errors.New(words.Text("tables.machineFirst"))
		}
		name = m.Name
	}
	put := s.host.PutInto
	switch do {
	case "frame":
		f, ok := frameOf(t, r)
		if !ok {
			break
		}
		b := t.Column("b")
		names, texts := []string{"Front to rear feet"}, []string{t.Columns[b].Show(s.sign(r.Cells[b]))}
		if text != "" {
			u := units.MM
			if ev.Inch() {
				u = units.Inch
			}
			v, err := units.Parse(text, units.Length, u, ev.Decimal())
			if err != nil {
				return errors.New(words.Text("tables.endWrong", err.Msg, err.Hint))
			}
			names, texts = append([]string{"Coupling to front feet"}, names...), append([]string{s.digits(v.Base+f.ShaftEnd(), u, 7) + " " + u.String()}, texts...)
		}
		return put(job.MachinesSheet, words.Text("tables.stepFrame", r.Name), s.machine, names, [][]string{texts}, words.Text("tables.frameUsed", name,
			strings.Join(names, words.Text("tables.and")), r.Name))
	case "limits":
		return put(job.MachinesSheet, words.Text("tables.stepSet"), s.machine, []string{"Limits"}, [][]string{{r.Cells[0]}}, words.Text("tables.setUsed", name, r.Cells[0]))
	case "growth":
		return put(job.GrowthSheet, words.Text("tables.stepPart", r.Cells[0]), -1, []string{"Machine", "Material"}, [][]string{{name, r.Cells[0]}},
			words.Text("tables.partAdded", r.Cells[0], name))
	case "materials":
		if m := tables.FindMaterial(r.Cells[0]); m != nil {
			names, lines := s.material(m)
			return put(job.MaterialsSheet, words.Text("tables.stepMaterial", m.Name), -1, names, lines, words.Text("tables.materialAdded", m.Name))
		}
	case "stock":
		c := t.Column("thickness")
		return put(job.StockSheet, words.Text("tables.stepShim"), -1, []string{"Thickness"}, [][]string{{t.Columns[c].Show(s.sign(r.Cells[c]))}}, words.Text("tables.stockAdded"))
	}
	return errors.New(words.Text("tables.notDone"))
}

// material is a built-in material as rows of the sheet Materials.
func (s *Tables) material(m *tables.Material) (names []string, lines [][]string) {
	num := func(x float64, u units.Unit) string {
		if math.IsNaN(x) {
			return ""
		}
		return s.digits(x, u, 9) + " " + u.String()
	}
	names = []string{"Material", "Coefficient", "From", "At temperature", "Uncertainty", "Source"}
	lines = [][]string{{m.Name, num(m.Alpha, units.PerKelvin), "", "", num(m.RelU, units.Percent), m.Source.String()}}
	for i := range m.Temps {
		if i > 0 {
			lines = append(lines, []string{m.Name, "", "", "", "", ""})
		}
		l := lines[i]
		l[1], l[2], l[3] = num(m.Means[i], units.PerKelvin), num(m.T0, units.Celsius), num(m.Temps[i], units.Celsius)
	}
	return names, lines
}

package tables

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

//go:generate go run ./gen

// A Column says what stands in one column of a [Table].
type Column struct {
	Key     string     // lower case, no blanks: "stress_area"
	Title   string     // as shown
	Numeric bool       // false: words
	Unit    string     // as printed beside the title, "" for words and plain numbers; "mm²" and the like, which package units does not know, too
	Kind    units.Kind // of a numeric column; Number where package units does not know the unit
	In      units.Unit // the unit of the texts; None where package units does not know it
}

// A Row is one row of a [Table], with where it comes from. A cell that is not given has the text "" and the number NaN.
type Row struct {
	Name   string    // what the row is called: "M16", "213T", "carbon steel"
	Cells  []string  // a text a column as the source prints it, in the column's unit unless it bears its own
	Base   []float64 // a number a column in the base unit of its kind (in the column's own unit where Kind is Number); NaN for words; +Inf for "any"
	Source Source
}

// A Table is one reference table. Callers must not change it.
type Table struct {
	Key     string // "limits", "expansion", "bolts_metric", …
	Title   string
	About   string // what it is for and how it is read, one or two sentences
	Columns []Column
	Rows    []Row

	materials []Material  // of "expansion": one a row
	own       bool        // the person's own
	replaces  []bool      // of the person's own: a row a built-in one gives way to
	replaced  []string    // of the person's own: the first cells of those built-in rows
	index     *tableIndex // for Search
}

// order is how the tables are shown. Those made from other packages' or this one's values stand among those read from text.
var order = [...]string{
	"limits", "expansion", "expansion_mean", "shim_stock", "shims", "strip", "shim_material", "bolts_metric", "bolts_fine", "bolts_unc", "bolts_unf", "bolt_strength", "nut_factor",
	"wrench",
	"frames_iec", "frames_nema", "synchronous", "readings", "dials", "checks", "cautions", "units",
}

// made are the tables, each made at the first call that wants it, so that a program that starts pays for none.
var made [len(order)]struct {
	once  sync.Once
	table *Table
}

func get(i int) *Table {
	m := &made[i]
	m.once.Do(func() {
		switch key := order[i]; key {
		case "readings":
			m.table = readingsTable()
		case "units":
			m.table = unitsTable()
		default:
			for _, text := range texts {
				if strings.HasPrefix(text, "key: "+key+"\n") {
					var err error
					if m.table, err = readTable(key, text); err != nil {
						panic("tables: " + err.Error())
					}
				}
			}
			if key == "expansion" {
				m.table.materials = readMaterials(m.table, Find("expansion_mean"))
			}
		}
		m.table.index = indexOf(m.table)
	})
	return m.table
}

// All returns every reference table in the order they are shown. They are made from their text at the first call.
func All() []*Table {
	list := make([]*Table, len(order))
	for i := range order {
		list[i] = get(i)
	}
	return list
}

// Find returns the table of that key, or nil.
func Find(key string) *Table {
	if i := slices.Index(order[:], key); i >= 0 {
		return get(i)
	}
	return nil
}

// Column returns the index of a column by its key, -1 if there is none.
//
//go:noinline
func (t *Table) Column(key string) int {
	for i := range t.Columns {
		if t.Columns[i].Key == key {
			return i
		}
	}
	return -1
}

// text and base are a cell by the key of its column, which must be there. Kept out of line: they are called in many places, and the page's
// program should stay small.
//
//go:noinline
func (t *Table) text(r *Row, key string) string { return r.Cells[t.Column(key)] }

//go:noinline
func (t *Table) base(r *Row, key string) float64 { return r.Base[t.Column(key)] }

var kindWords = map[string]units.Kind{"number": units.Number, "length": units.Length, "slope": units.Slope, "speed": units.Speed, "force": units.Force,
	"pressure": units.Pressure, "expansion": units.Expansion, "temperature": units.Temperature}

var gradeWords = map[string]Grade{"exact": Exact, "read": Read, "quoted": Quoted, "published": Published, "memory": Memory, "practice": Practice}

// readTable reads the format that testdata/tables/FORMAT.txt tells of. The error begins with file:line.
func readTable(file, text string) (*Table, error) {
	t := &Table{}
	sources := map[string]string{}
	name := ""
	heading := false
	line := 0
	fail := func(msg string) (*Table, error) { return nil, errors.New(file + ":" + strconv.Itoa(line) + ": " + msg) }
	const (
		head = iota
		keys
		rows
	)
	state := head
	for s := range strings.SplitSeq(text, "\n") {
		line++
		if strings.HasPrefix(s, "#") {
			continue
		}
		switch {
		case state == head && s == "":
			if t.Key == "" || t.Title == "" || len(t.Columns) == 0 {
				return fail("the head lacks a key, a title or a column")
			}
			if name == "" {
				name = "{" + t.Columns[0].Key + "}"
			}
			state = keys
		case state == head:
			what, value, ok := strings.Cut(s, ":")
			value = strings.TrimSpace(value)
			word, label, _ := strings.Cut(what, " ")
			switch {
			case !ok:
				return fail("no colon")
			case what == "key":
				t.Key = value
			case what == "title":
				t.Title = value
			case what == "about":
				t.About = value
			case what == "name":
				name = value
			case word == "source" && label != "":
				sources[label] = value
			case word == "column" && label != "":
				c, ok := readColumn(label, value)
				if !ok || t.Column(label) >= 0 {
					return fail("not a column, or there twice: " + s)
				}
				t.Columns = append(t.Columns, c)
			default:
				return fail("unknown line: " + s)
			}
		case s == "":
		case state == keys:
			want := ""
			for _, c := range t.Columns {
				want += c.Key + "\t"
			}
			if s != want+"grade\tsource\twhere" {
				return fail("the first row must name the columns, then grade, source and where")
			}
			heading = true
			state = rows
		default:
			cells := strings.Split(s, "\t")
			n := len(t.Columns)
			if len(cells) != n+3 {
				return fail(strconv.Itoa(len(cells)) + " cells, " + strconv.Itoa(n+3) + " are wanted")
			}
			grade, ok := gradeWords[cells[n]]
			doc, known := sources[cells[n+1]]
			if !ok || !known {
				return fail("no such grade or source: " + cells[n] + ", " + cells[n+1])
			}
			r := Row{Cells: cells[:n:n], Source: Source{Grade: grade, Text: doc}}
			if where := cells[n+2]; doc == "" {
				r.Source.Text = where
			} else if where != "" {
				r.Source.Text += ", " + where
			}
			if r.Source.Text == "" && grade != Practice {
				return fail("no source")
			}
			var err error
			if r.Base, err = readNumbers(t.Columns, r.Cells); err != nil {
				return fail(err.Error())
			}
			r.Name = name
			for i, c := range t.Columns {
				if strings.Contains(r.Name, "{") {
					r.Name = strings.ReplaceAll(r.Name, "{"+c.Key+"}", c.Show(r.Cells[i]))
				}
			}
			if strings.Contains(r.Name, "{") {
				return fail("the name " + name + " speaks of a column that is not there")
			}
			t.Rows = append(t.Rows, r)
		}
	}
	if !heading || len(t.Rows) == 0 {
		return fail("no rows")
	}
	return t, nil
}

func readColumn(key, s string) (Column, bool) {
	title, what, ok := strings.Cut(s, " | ")
	c := Column{Key: key, Title: title}
	if !ok || title == "" || what == "words" {
		return c, ok && title != ""
	}
	kind, unit, _ := strings.Cut(what, " ")
	c.Numeric = true
	c.Unit = unit
	if c.Kind, ok = kindWords[kind]; !ok {
		return c, false
	}
	if unit != "" {
		if c.In, ok = units.ParseUnit(unit, c.Kind); !ok && c.Kind != units.Number {
			return c, false
		}
	}
	return c, c.In != units.None || c.Kind == units.Number
}

// Show is a text of the column with the unit behind it: "0.5 mm", "any speed".
func (c *Column) Show(text string) string {
	switch {
	case text == "any" && c.Kind == units.Speed:
		return "any speed"
	case !c.Numeric || c.Unit == "" || text == "" || isShare(text) || text == "any" || strings.ContainsFunc(text, func(r rune) bool { return 'a' <= r && r <= 'z' }):
		return text
	}
	return text + " " + c.Unit
}

func readNumbers(columns []Column, cells []string) ([]float64, error) {
	list := make([]float64, len(columns))
	for i, c := range columns {
		list[i] = math.NaN()
		switch {
		case !c.Numeric || cells[i] == "":
		case cells[i] == "any":
			list[i] = math.Inf(1)
		case c.Kind == units.Length && isShare(cells[i]): // of the row's thickness, see StripTolerance
		default:
			v, err := units.Parse(cells[i], c.Kind, c.In, units.Point)
			if err != nil {
				return nil, errors.New(c.Key + ": " + err.Msg)
			}
			list[i] = v.Base
		}
	}
	return list, nil
}

// isShare says whether a text is a share such as "10 %".
func isShare(text string) bool { return strings.HasSuffix(text, " %") }

func unitsTable() *Table {
	t := &Table{Key: "units", Title: "Units",
		About: words.LookUnitsAbout.String(),
		Columns: []Column{
			{Key: "unit", Title: "Unit"},
			{Key: "kind", Title: "Measures"},
			{Key: "factor", Title: words.LookOneIs.String()},
			{Key: "spellings", Title: words.LookAlsoWritten.String()},
		}}
	for _, k := range units.Kinds() {
		for _, e := range units.Table(k) {
			_, kind, _ := strings.Cut(k.String(), " ")
			t.Rows = append(t.Rows, Row{
				Name:   e.Unit.String(),
				Cells:  []string{e.Unit.String(), kind, e.Factor, strings.Join(e.Spellings[1:], ", ")},
				Base:   []float64{math.NaN(), math.NaN(), math.NaN(), math.NaN()},
				Source: unitSource(e.Unit),
			})
		}
	}
	return t
}

func readingsTable() *Table {
	t := &Table{Key: "readings", Title: words.LookReadingsTitle.String(),
		About: words.LookReadingsAbout.String(),
		Columns: []Column{
			{Key: "reading", Title: "Reading"},
			{Key: "graduation", Title: "Graduation", Numeric: true, Unit: "mm", Kind: units.Length, In: units.MM},
			{Key: "repeatability", Title: words.LookRepeatability.String(), Numeric: true, Unit: "mm", Kind: units.Length, In: units.MM},
		}}
	for _, w := range [...]struct {
		name  string
		trust Trust
	}{
		{"dial, 0.01 mm", DialMetric}, {"dial, 0.001 in", DialInch}, {"feeler or taper gauge, 0.05 mm", FeelerMetric}, {"feeler or taper gauge, 0.002 in", FeelerInch},
		{"line reduced elsewhere: offset", GivenLine},
	} {
		t.Rows = append(t.Rows, Row{
			Name:   w.name,
			Cells:  []string{w.name, units.Format(w.trust.Graduation, units.MM, -1, units.Point), units.Format(w.trust.Repeatability, units.MM, -1, units.Point)},
			Base:   []float64{math.NaN(), w.trust.Graduation, w.trust.Repeatability},
			Source: w.trust.Source,
		})
	}
	return t
}

// columnsOf are the columns of a built-in table with other units for the texts, by key.
func columnsOf(key string, in map[string]units.Unit) []Column {
	list := slices.Clone(Find(key).Columns)
	for i := range list {
		if u, ok := in[list[i].Key]; ok {
			list[i].In, list[i].Unit = u, u.String()
		}
	}
	return list
}

// OwnLimits makes the person's own limit sets a table that [Search] takes. source is what is shown as their source,
// such as "your sheet Limits"; a row that has one of its own keeps it.
func OwnLimits(sets []*LimitSet, source string) *Table {
	t := &Table{Key: "limits", Title: words.LookYourLimits.String(), About: words.LookYoursFirst.String(),
		Columns: columnsOf("limits", map[string]units.Unit{"offset": units.MM, "slope": units.MMPerM})}
	for _, s := range sets {
		for c := range numCouplings {
			for _, l := range s.Rows[c] {
				speed := "any"
				if !math.IsInf(l.UpTo, 1) {
					speed = units.Format(l.UpTo, units.RPM, -1, units.Point)
				}
				r := Row{
					Cells:  []string{s.Name, c.String(), speed, typed(l.Offset, l.OffsetIn, units.MM), typed(l.Slope, l.SlopeIn, units.MMPerM)},
					Base:   []float64{math.NaN(), math.NaN(), l.UpTo, l.Offset, l.Slope},
					Source: ownSource(l.Source, source),
				}
				r.Name = s.Name + ", " + c.String() + ", up to " + t.Columns[2].Show(speed)
				t.Rows = append(t.Rows, r)
			}
		}
	}
	t.finish(sameWords)
	return t
}

// typed prints a number of the person's in the unit it was typed in, which it bears unless it is the column's.
func typed(base float64, in, column units.Unit) string {
	if in == units.None || in == column || math.IsNaN(base) {
		return units.Format(base, column, -1, units.Point)
	}
	// Twelve digits are what was typed, and not how it is held.
	return strconv.FormatFloat(in.FromBase(base), 'g', 12, 64) + " " + in.String()
}

// finish readies the person's own table for Search: its words, and the built-in rows of the same name, as same compares them.
func (t *Table) finish(same func(builtIn, own string) bool) {
	t.own = true
	t.index = indexOf(t)
	t.replaces = make([]bool, len(t.Rows))
	for _, b := range Find(t.Key).Rows {
		for i := range t.Rows {
			if same(b.Cells[0], t.Rows[i].Cells[0]) {
				t.replaces[i] = true
				if !slices.Contains(t.replaced, b.Cells[0]) {
					t.replaced = append(t.replaced, b.Cells[0])
				}
			}
		}
	}
}

func ownSource(s Source, text string) Source {
	if s.Text == "" {
		return Source{Stated, text}
	}
	return s
}

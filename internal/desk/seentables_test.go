package desk

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"shimsheet/internal/screens"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
)

const asPrinted = "As the source prints them"

// sets puts a setting into the Job sheet, as the record does with the logo.
func (p page) sets(setting, text string) {
	p.Helper()
	p.did(func(d *Desk) { d.Put(setting, text) })
	p.ask("work", 60_000)
}

// Each reference table is shown as the library has it: every row, each cell under its column, numbers in the unit over them, in both decimal signs. A number shown, read back in the unit over it by package
// units, is the library's number to the six digits that are printed; units themselves are held to published factors in their own tests.
func TestTablesAreTheLibrary(t *testing.T) {
	for _, comma := range []bool{false, true} {
		p := small(t)
		sign := units.Point
		if comma {
			p.sets("Decimal sign", "comma")
			sign = units.Comma
		}
		s := p.looksAt("tables")
		s.quiet = true
		for _, lib := range tables.All() {
			s.presses(lib.Title)
			s.says(lib.About, tables.GradeMeanings.String(), lib.Title)
			for _, system := range []string{asPrinted, "Metric", "Inch"} {
				s.chooses("Units", system)
				shown := s.rows(lib.Title + " " + counted(len(lib.Rows)))
				if len(shown) < 2 || len(shown)-1 != len(lib.Rows) {
					t.Fatalf("%s: %d rows", lib.Title, len(shown))
				}
				head := shown[0]
				for i, r := range lib.Rows {
					cells := shown[i+1]
					for c := range lib.Columns {
						col, got, title := &lib.Columns[c], cells[c+1], head[c+1]
						name, unit, _ := strings.Cut(strings.TrimSuffix(title, "]"), " [")
						if name != col.Title {
							t.Fatalf("%s: %q stands over %q", lib.Title, title, col.Title)
						}
						as := r.Cells[c]
						if comma && col.Numeric {
							as = strings.Replace(as, ".", ",", 1)
						}
						u, _ := units.ParseUnit(unit, col.Kind)
						turned := u != units.None && u != col.In && col.Numeric && !math.IsNaN(r.Base[c]) && !math.IsInf(r.Base[c], 0)
						if system == asPrinted || !col.Numeric || col.Kind == units.Number {
							turned = false
							if unit != col.Unit {
								t.Errorf("%s, %s: unit %q, printed %q", lib.Title, col.Title, unit, col.Unit)
							}
						}
						if !turned {
							if got != strings.Join(strings.Fields(as), " ") && (system == asPrinted || u == units.None) {
								t.Errorf("%s, %s, %s: %q, the library has %q", lib.Title, r.Name, title, got, as)
							}
							if u != col.In || !col.Numeric || math.IsNaN(r.Base[c]) || math.IsInf(r.Base[c], 0) {
								continue
							}
						}
						v, err := units.Parse(got, col.Kind, u, sign)
						if err != nil || math.Abs(v.Base-r.Base[c]) > 1e-5*math.Abs(r.Base[c]) {
							t.Errorf("%s, %s, %s: %q is %v, the library has %v (%v)", lib.Title, r.Name, title, got, v.Base, r.Base[c], err)
						}
						if strings.Contains(got, ".") && comma || strings.Contains(got, ",") && !comma {
							t.Errorf("%s, %s, %s: the other decimal sign in %q", lib.Title, r.Name, title, got)
						}
						if system != asPrinted && len(got) > 13 {
							t.Errorf("%s, %s, %s: more digits than anybody wants: %q", lib.Title, r.Name, title, got)
						}
					}
					if src := cells[len(lib.Columns)+1]; src != screens.SourceWords(r.Source) {
						t.Errorf("%s, %s: source %q", lib.Title, r.Name, src)
					}
				}
				for c := range lib.Columns {
					for _, cell := range s.column(c + 1) {
						if num := strings.Contains(" "+attr(cell, "class")+" ", " num "); num != lib.Columns[c].Numeric {
							t.Fatalf("%s, %s: numbers under each other: %v", lib.Title, lib.Columns[c].Title, num)
						}
					}
				}
			}
			s.chooses("Units", asPrinted)
		}
	}
}

// column are the cells of a column of the table shown, its head among them.
func (s *person) column(at int) (out []*html.Node) {
	for _, r := range all(s.find("look-table"), "tr") {
		var cells []*html.Node
		for c := r.FirstChild; c != nil; c = c.NextSibling {
			cells = append(cells, c)
		}
		if at < len(cells) {
			out = append(out, cells[at])
		}
	}
	return out
}

// A table is sorted by each of its columns, up, down and then as it was; what is not given stands last both ways. A filter leaves the rows that hold its words.
func TestTablesSorted(t *testing.T) {
	p := small(t)
	s := p.looksAt("tables")
	s.quiet = true
	for _, lib := range tables.All() {
		s.presses(lib.Title)
		first := s.names(1)
		for c := 0; c <= len(lib.Columns); c++ {
			at := strconv.Itoa(c)
			title := s.called(s.find("look-sort-" + at))
			value := func(name string, cells []string) float64 { // NaN: not given
				if c == len(lib.Columns) || !lib.Columns[c].Numeric {
					return 0
				}
				for i := range lib.Rows {
					if strings.Join(strings.Fields(lib.Rows[i].Cells[0]), " ") == name && strings.Join(strings.Fields(lib.Rows[i].Cells[c]), " ") == cells[c+1] {
						return lib.Rows[i].Base[c]
					}
				}
				return math.NaN()
			}
			for turn, mark := range []string{" ▴", " ▾", ""} {
				s.press(s.find("look-sort-" + at))
				if s.last.Focus != "look-sort-"+at {
					t.Errorf("the focus is gone to %q", s.last.Focus)
				}
				if got := s.called(s.find("look-sort-" + at)); got != title+mark {
					t.Errorf("%s: the head says %q, not %q", lib.Title, got, title+mark)
				}
				order := map[string]string{" ▴": "ascending", " ▾": "descending"}[mark]
				if got := attr(s.find("look-sort-"+at).Parent, "aria-sort"); got != order {
					t.Errorf("%s, %s: a screen reader says %q, not %q", lib.Title, title, got, order)
				}
				shown := s.rows(lib.Title + " " + counted(len(lib.Rows)))[1:]
				if turn == 2 {
					if !slices.Equal(s.names(1), first) {
						t.Errorf("%s, %s: not as it was", lib.Title, title)
					}
					continue
				}
				for k := 1; k < len(shown); k++ {
					a, b := shown[k-1], shown[k]
					if turn == 1 {
						a, b = b, a
					}
					m, n := value(a[1], a), value(b[1], b)
					switch {
					case c == len(lib.Columns) || !lib.Columns[c].Numeric:
						if strings.ToLower(a[c+1]) > strings.ToLower(b[c+1]) && c < len(lib.Columns) || c == len(lib.Columns) && a[c+1] > b[c+1] {
							t.Errorf("%s, %s: %q before %q", lib.Title, title, a[c+1], b[c+1])
						}
					case m > n, math.IsNaN(value(shown[k-1][1], shown[k-1])) && !math.IsNaN(value(shown[k][1], shown[k])):
						t.Errorf("%s, %s, %v: %q then %q", lib.Title, title, turn, shown[k-1][c+1], shown[k][c+1])
					}
				}
			}
		}
		name := strings.Join(strings.Fields(lib.Rows[len(lib.Rows)-1].Cells[0]), " ")
		s.types("Filter", strings.ToUpper(name))
		for _, n := range s.names(1) {
			if row := strings.ToLower(n); !strings.Contains(row, strings.ToLower(strings.Fields(name)[0])) && len(s.names(1)) == len(first) && len(first) > 1 {
				t.Errorf("%s: %q is left for %q", lib.Title, n, name)
			}
		}
		if !slices.Contains(s.names(1), name) {
			t.Errorf("%s: %q is filtered out by its own name", lib.Title, name)
		}
		s.types("Filter", "nothing has this in it")
		if n := len(s.names(1)); n != 0 {
			t.Errorf("%d rows", n)
		}
		s.types("Filter", "")
	}
}

// counted is how many rows a table says that it has.
func counted(n int) string {
	if n == 1 {
		return "1 row"
	}
	return strconv.Itoa(n) + " rows"
}

// names are the texts of a column of the table shown, without its head.
func (s *person) names(at int) (out []string) {
	for _, c := range s.column(at)[1:] {
		out = append(out, text(c))
	}
	return out
}

// The job's own limits and materials stand before the built-in ones, marked, as they were typed; a built-in one of the same name says that it gives way. What is looked up says whose it is, shows its numbers
// with unit and source, and is copied so.
func TestTablesOwnRows(t *testing.T) {
	p := demo(t)
	s := p.looksAt("tables")
	for _, lib := range tables.All() {
		if lib.Key != "limits" && lib.Key != "expansion" {
			continue
		}
		s.presses(lib.Title + " (with yours)")
		if lib.Key == "limits" {
			shown := s.rows(lib.Title + " " + counted(len(lib.Rows)+4))
			for k, want := range [][]string{{"1000", "0.1", "0.8"}, {"1800", "0.07", "0.5"}, {"3600", "0.04", "0.3"}, {"1800", "", "0.8"}} {
				row := strings.Join(shown[k+1], "|")
				for _, w := range append(want, "waterworks", "works rules, sheet") {
					if !strings.Contains(row, w) {
						t.Errorf("%q is not in %s", w, row)
					}
				}
			}
			if n := strings.Count(s.reads("look-table"), "yours"); n != 4 {
				t.Errorf("%d rows are marked", n)
			}
		}
		s.chooses("Units", "Inch")
		s.chooses("Units", "Metric")
		s.chooses("Units", asPrinted)
		if n := strings.Count(s.reads("look-table"), "yours"); n != map[string]int{"limits": 4, "expansion": 1}[lib.Key] {
			t.Errorf("%s: %d rows are marked", lib.Title, n)
		}
	}
	s.types("Look up", "pump casing")
	s.says("pump casing", "yours", "10.4", "Source: maker's letter on the casing iron (invented)")
	u := s.press(s.find("hit-0"))
	if u.Focus != "hit-0-0" || attr(s.find("hit-0"), "aria-expanded") != "true" || !visible(s.find("hit-0-0")) {
		t.Errorf("%+v", u.Focus)
	}
	s.presses("Edit in the sheet Materials")
	p.want(s.last.Place, "&{7 -1 -1}")
	u = s.presses("Copy")
	if u.Copy == nil || !strings.Contains(u.Copy.Text, "pump casing\r\n") || !strings.Contains(u.Copy.Text, "\t10.4") {
		t.Errorf("%+v", u.Copy)
	}
	s.keysIn("hit-0", "Escape")
	p.want(s.last.Focus, "look-box")
	// what is closed is closed
	u = s.press(s.find("hit-0"))
	if visible(s.find("hit-0-0")) || attr(s.find("hit-0"), "aria-expanded") != "false" {
		t.Error("the actions are shown still")
	}
}

// What is looked up: how many are found is said, ten are shown and then all, each opens and closes by itself; a number that cannot be is refused and nothing is counted beside it.
func TestTablesLookedUp(t *testing.T) {
	p := small(t)
	s := p.looksAt("tables")
	p.want(s.last.Focus, "look-box")
	s.types("Look up", "steel")
	hits := len(all(s.find("look-main"), "li"))
	n, _, _ := strings.Cut(s.reads("look-said"), " found")
	found, err := strconv.Atoi(n)
	if err != nil || hits != 10 || found <= 10 {
		t.Fatalf("%q, %d shown", s.reads("look-said"), hits)
	}
	u := s.presses("Show all " + n)
	if got := len(all(s.find("look-main"), "li")); got != found || u.Focus != "hit-10" {
		t.Errorf("%d of %d, then %q", got, found, u.Focus)
	}
	s.types("Look up", "no such thing at all")
	if got := s.reads("look-said"); strings.Contains(got, "0 found") {
		t.Error(got)
	}
	if len(all(s.find("look-main"), "li")) != 0 {
		t.Error("something is found")
	}
	s.types("Look up", "132M frame")
	lines := s.rows("132M")
	if len(lines) < 4 {
		t.Errorf("%v", lines)
	}
	// Escape empties the box and shows the table that was there; a second one leads to the sheet
	s.keysIn("look-box", "Escape")
	if s.holds(s.find("look-box")) != "" || s.find("look-table") == nil {
		t.Error("Escape")
	}
	u = s.keysIn("look-box", "ArrowDown")
	if !strings.HasPrefix(u.Focus, "look-nav-") {
		t.Errorf("%q", u.Focus)
	}
	s.types("Look up", "132M frame")
	p.want(s.keysIn("look-box", "ArrowDown").Focus, "hit-0")
	s.keysIn("look-box", "Enter")
	p.want(s.last.Focus, "hit-0-0")
	row := s.presses("Show it in its table")
	if !strings.HasPrefix(row.Focus, "look-tick-") || !has(s.find(row.Focus), "checked") || s.holds(s.find("look-box")) != "" {
		t.Errorf("%+v", row.Focus)
	}
	if got := s.presses("Copy for a workbook"); strings.Count(got.Copy.Text, "\n") != 1 || !strings.Contains(got.Copy.Text, "132M") {
		t.Errorf("%q", got.Copy.Text)
	}
}

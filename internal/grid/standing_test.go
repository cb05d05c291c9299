package grid

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// doings are the operations that change a sheet or how it is arranged, each with something to do on square().
var doings = map[string]func(m *Model) Change{
	"delete":       (*Model).Delete,
	"cut":          func(m *Model) Change { _, _, ch := m.Cut(nil); return ch },
	"insert rows":  (*Model).InsertRows,
	"delete rows":  (*Model).DeleteRows,
	"duplicate":    (*Model).DuplicateRows,
	"move up":      func(m *Model) Change { return m.MoveRows(-1) },
	"move down":    func(m *Model) Change { return m.MoveRows(1) },
	"fill down":    (*Model).FillDown,
	"fill up":      (*Model).FillUp,
	"fill right":   (*Model).FillRight,
	"fill left":    (*Model).FillLeft,
	"fill to":      func(m *Model) Change { return m.FillTo(Rect{1, 0, 4, 1}, false) },
	"fill along":   func(m *Model) Change { return m.FillAlong(false) },
	"paste":        func(m *Model) Change { return m.PasteText("x\ty", Meaning{}) },
	"paste a list": func(m *Model) Change { return m.PasteText("Machine\tNew\nx\ty", known) },
	"replace all":  func(m *Model) Change { return m.ReplaceAll("b", "x", FindOptions{}) },
	"put": func(m *Model) Change {
		ch, _, _ := m.Put("put", 1, []string{"B"}, [][]string{{"x"}}, Meaning{})
		return ch
	},
	"put rows":      func(m *Model) Change { return m.PutRows("put", [][]string{{"b1", "x"}, {"new"}}) },
	"append rows":   func(m *Model) Change { return m.AppendRows("append", [][]string{{"x"}}) },
	"set a cell":    func(m *Model) Change { return m.SetCell(2, 1, "x") },
	"rename":        func(m *Model) Change { return m.Rename(1, "x") },
	"rename all":    func(m *Model) Change { return m.RenameAll([]string{"x", "y", "z"}) },
	"add a column":  func(m *Model) Change { return m.AddColumn(0, "x") },
	"add at end":    func(m *Model) Change { return m.AddColumn(-1, "x") },
	"take one out":  func(m *Model) Change { return m.DeleteColumn(0) },
	"undo":          (*Model).Undo,
	"redo":          (*Model).Redo,
	"store sorting": (*Model).SortStored,
}

// square is a sheet of 5 rows with the rows 1 and 2 selected, one change done and one undone.
func square(arranged string) *Model {
	m := sheet("A|B|C", "a1|a2|a3", "b1|b2|b3", "c1|c2|", "d1||d3", "e1|e2|e3")
	m.SetCell(4, 2, "f3")
	m.SetCell(0, 0, "a0")
	m.Undo()
	switch arranged {
	case "sorted":
		m.Arrange([]SortKey{{Col: 0, Desc: true}}, nil, nil)
	case "filtered":
		m.Arrange(nil, nil, func(r int) bool { return r != 3 })
	}
	m.Select(Rect{1, 0, 2, 1})
	return m
}

// While a cell is open every operation but those that close it is refused: the sheet, the cursor and what is shown stay, and what is typed stands in the cell that was opened.
// Seen: rows put in or taken out above an open cell, and what was typed went into another row.
func TestNothingChangesUnderAnOpenCell(t *testing.T) {
	for _, arranged := range []string{"", "sorted", "filtered"} {
		for name, do := range doings {
			m := square(arranged)
			if ch := do(m); !ch.Any && !(strings.HasPrefix(name, "move") || name == "store sorting") {
				t.Errorf("%s, %s: there is nothing to do, so that this tells nothing", arranged, name)
			}
			m = square(arranged)
			state := func() string {
				return fmt.Sprintf("%s %s %v %v %v %q %q %d", snap(m), visible(m), m.cur, m.anchor, m.order, m.UndoName(), m.RedoName(), m.version)
			}
			m.Begin()
			before, row, view := state(), m.Stored(1), m.view
			one := square(arranged)
			one.Go(Pos{1, 0}, false)
			old := one.At(one.cur)
			one.Begin()
			if ch, f := one.Replace(old, "x", FindOptions{}, nil); ch.Any || f != (Found{}) || one.At(one.cur) != old {
				t.Errorf("replaced %+v, %+v", ch, f)
			}
			if ch := do(m); ch != (Change{}) {
				t.Errorf("%s, %s with an open cell: %+v", arranged, name, ch)
			}
			if m.Arrange(nil, nil, nil) || m.Refresh() {
				t.Error("arranged under an open cell")
			}
			if f := m.Find("c", FindOptions{}, nil); f != (Found{}) {
				t.Errorf("found %+v", f)
			}
			if ch, f := m.Replace("b", "x", FindOptions{}, nil); ch.Any || f != (Found{}) {
				t.Errorf("replaced %+v, %+v", ch, f)
			}
			for _, p := range []*Plan{m.PlanPaste([][]string{{"x"}}, Meaning{}), m.PlanPasteText("Machine\n1", known)} {
				if p.OK || p.Note != "" {
					t.Errorf("planned %+v", p)
				}
			}
			if got := state(); got != before || m.view != view {
				t.Errorf("%s, %s with an open cell gives\n%s, was\n%s", arranged, name, got, before)
			}
			if p, open := m.Editing(); !open || p != (Pos{1, 0}) {
				t.Errorf("%s closes the cell", name)
			}
			if m.Commit("typed", 0, 0); m.Cell(row, 0) != "typed" {
				t.Errorf("%s, %s: what was typed is in another cell: %s", arranged, name, snap(m))
			}
		}
	}
}

// Columns are not chosen anew under an open cell either.
func TestColumnsStayUnderAnOpenCell(t *testing.T) {
	m := sheet("A|B")
	m.Begin()
	if ch := m.SetHeader([]string{"X"}); ch != (Change{}) || text(m) != "A|B" {
		t.Errorf("%+v, %s", ch, text(m))
	}
	m.Cancel()
	if ch := m.SetHeader([]string{"X"}); !ch.Any || text(m) != "X" {
		t.Errorf("%+v, %s", ch, text(m))
	}
}

// A plan that was made before a cell was opened waits, and what Copy gave out is no plan meanwhile.
func TestPlansWaitForAnOpenCell(t *testing.T) {
	m := square("")
	m.Select(Rect{0, 0, 0, 1})
	text, _ := m.Copy(nil)
	m.Go(Pos{3, 0}, false)
	p := m.PlanPasteText(text, Meaning{})
	m.Begin()
	if q := m.PlanPasteText(text, Meaning{}); q.OK || q.Note != "" {
		t.Errorf("%+v", q)
	}
	if ch := m.ApplyPlan(p); ch.Any || m.Cell(3, 0) != "d1" {
		t.Errorf("%+v", ch)
	}
	m.Cancel()
	if ch := m.ApplyPlan(p); !ch.Any || m.Cell(3, 0) != "a1" || m.Cell(3, 1) != "a2" {
		t.Errorf("%+v, %s", ch, snap(m))
	}
}

// Enter goes back to where a run of Tabs began only while nothing else moved the cursor in between: after an operation that puts it somewhere it goes straight down.
func TestEnterAfterTabsAndAnOperation(t *testing.T) {
	tabs := func(m *Model) {
		m.Go(Pos{1, 0}, false)
		m.Step(0, 1)
		m.Step(0, 1)
	}
	m := square("")
	if tabs(m); m.cur != (Pos{1, 2}) {
		t.Fatal(m.cur)
	}
	if m.Step(1, 0); m.cur != (Pos{2, 0}) {
		t.Fatalf("Enter after Tabs goes to %v", m.cur)
	}
	moving := map[string]func(m *Model) Change{
		"go":         func(m *Model) Change { m.Go(Pos{2, 2}, false); return Change{} },
		"select":     func(m *Model) Change { m.Select(Rect{1, 2, 2, 2}); return Change{} },
		"select all": func(m *Model) Change { m.SelectAll(); return Change{} },
		"jump":       func(m *Model) Change { m.Jump(1, 0, false, nil); return Change{} },
		"row start":  func(m *Model) Change { m.RowStart(false, false); return Change{} },
		"row end":    func(m *Model) Change { m.RowEnd(false, false); return Change{} },
		"find":       func(m *Model) Change { m.Find("c", FindOptions{}, nil); return Change{} },
		"arrange":    func(m *Model) Change { m.Arrange(nil, nil, nil); return Change{} },
		"refresh":    func(m *Model) Change { m.Refresh(); return Change{} },
		"also":       func(m *Model) Change { m.Also(Pos{0, 2}); return Change{} },
		"choose columns": func(m *Model) Change {
			m.SelectAll()
			m.DeleteRows()
			tabs(m)
			return m.SetHeader([]string{"P", "Q"})
		},
		"fill to": func(m *Model) Change { return m.FillTo(Rect{1, 2, 3, 2}, false) },
	}
	for _, name := range []string{"delete rows", "duplicate", "move up", "move down", "fill along", "paste", "paste a list", "append rows", "undo", "redo"} {
		moving[name] = doings[name]
	}
	for name, do := range moving {
		m := square("")
		tabs(m)
		do(m)
		at := m.cur
		if m.Step(1, 0); m.cur != (Pos{at.Row + 1, at.Col}) || m.anchor != m.cur {
			t.Errorf("%s: Enter goes from %v to %v", name, at, m.cur)
		}
	}
}

// Where the cursor stands, and what is selected, after rows were deleted, put in, copied and moved, in a part of the sheet and at its ends, the cursor at either end of the selection.
func TestCursorAfterRows(t *testing.T) {
	for _, c := range []struct {
		do          string
		cur, anchor Pos
		want, end   Pos
		undo        string
	}{
		{"delete rows", Pos{1, 1}, Pos{2, 2}, Pos{1, 1}, Pos{1, 1}, "deleting 2 rows"},
		{"delete rows", Pos{2, 2}, Pos{1, 1}, Pos{1, 2}, Pos{1, 2}, "deleting 2 rows"},
		{"delete rows", Pos{4, 2}, Pos{4, 0}, Pos{4, 2}, Pos{4, 2}, "deleting 1 row"},
		{"delete rows", Pos{9, 2}, Pos{3, 0}, Pos{3, 2}, Pos{3, 2}, "deleting 2 rows"},
		{"delete rows", Pos{5, 2}, Pos{5, 0}, Pos{5, 2}, Pos{5, 0}, ""},
		{"delete rows", Pos{0, 1}, Pos{4, 0}, Pos{0, 1}, Pos{0, 1}, "deleting 5 rows"},
		{"insert rows", Pos{2, 2}, Pos{1, 1}, Pos{2, 2}, Pos{1, 1}, "inserting 2 rows"},
		{"insert rows", Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, "inserting 1 row"},
		{"insert rows", Pos{6, 0}, Pos{6, 0}, Pos{6, 0}, Pos{6, 0}, ""},
		{"duplicate", Pos{2, 2}, Pos{1, 1}, Pos{4, 2}, Pos{3, 1}, "duplicating 2 rows"},
		{"duplicate", Pos{4, 0}, Pos{4, 0}, Pos{5, 0}, Pos{5, 0}, "duplicating 1 row"},
		{"duplicate", Pos{3, 0}, Pos{9, 2}, Pos{5, 0}, Pos{6, 2}, "duplicating 2 rows"},
		{"duplicate", Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, ""},
		{"move up", Pos{2, 2}, Pos{1, 1}, Pos{1, 2}, Pos{0, 1}, "moving 2 rows"},
		{"move up", Pos{0, 2}, Pos{1, 1}, Pos{0, 2}, Pos{1, 1}, ""},
		{"move down", Pos{3, 2}, Pos{3, 1}, Pos{4, 2}, Pos{4, 1}, "moving 1 row"},
		{"move down", Pos{4, 2}, Pos{3, 1}, Pos{4, 2}, Pos{3, 1}, ""},
		{"move down", Pos{0, 0}, Pos{3, 1}, Pos{1, 0}, Pos{4, 1}, "moving 4 rows"},
		{"move down", Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, ""},
		{"move up", Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, Pos{5, 0}, ""},
	} {
		m := sheet("A|B|C", "a1|a2|a3", "b1|b2|b3", "c1|c2|", "d1||d3", "e1|e2|e3")
		m.Go(c.anchor, false)
		m.Go(c.cur, true)
		before := snap(m)
		ch := doings[c.do](m)
		if m.cur != c.want || m.anchor != c.end || m.UndoName() != c.undo || ch.Any != (c.undo != "") || (snap(m) != before) != ch.Any {
			t.Errorf("%s from %v to %v: at %v from %v, %q, %+v", c.do, c.anchor, c.cur, m.cur, m.anchor, m.UndoName(), ch)
		}
		if m.Undo(); snap(m) != before || ch.Any && (m.cur != c.cur || m.anchor != c.anchor) {
			t.Errorf("%s undone: at %v from %v", c.do, m.cur, m.anchor)
		}
		if m.Redo(); ch.Any && (m.cur != c.want || m.anchor != c.end) {
			t.Errorf("%s done again: at %v from %v", c.do, m.cur, m.anchor)
		}
	}
	if m := square(""); m.MoveRows(0).Any || m.UndoName() != "typing" {
		t.Error("moved by no row")
	}
}

// Rows that were put in, taken out and undone while the sheet was shown in one way come back in another: each before the next row stored behind it that is shown, and at the end where there
// is none.
func TestRowsComeBackInAnotherView(t *testing.T) {
	shown := func(m *Model) string {
		var out []string
		for r := range m.ShownRows() {
			out = append(out, m.At(Pos{r, 0}))
		}
		return strings.Join(out, "")
	}
	fresh := func() *Model { return sheet("A|B", "a|3", "b|1", "c|2", "d|5", "e|4") }
	for _, c := range []struct {
		first  func(m *Model) // an operation in a view, or as stored
		view   func(m *Model)
		want   string // undone in the other view
		redone string
	}{
		{
			// deleted: a and d of the stored order. By size b c a e d
			first: func(m *Model) {
				m.Arrange(nil, nil, func(r int) bool { return r%3 == 0 })
				m.SelectAll()
				m.DeleteRows()
			},
			view:   func(m *Model) { m.Arrange([]SortKey{{1, false}}, nil, nil) },
			want:   "abcde", // bce; a before b, d before e
			redone: "bce",
		},
		{
			first: func(m *Model) {
				m.Arrange(nil, nil, func(r int) bool { return r%3 == 0 })
				m.SelectAll()
				m.DeleteRows()
			},
			view:   func(m *Model) { m.Arrange([]SortKey{{1, true}}, nil, nil) },
			want:   "decab", // ecb; d before e, a before b
			redone: "ecb",
		},
		{
			first:  func(m *Model) { m.Select(Rect{4, 0, 4, 0}); m.DeleteRows() },
			view:   func(m *Model) { m.Arrange([]SortKey{{1, false}}, nil, nil) },
			want:   "bcade", // none behind it
			redone: "bcad",
		},
		{
			first:  func(m *Model) { m.Select(Rect{1, 0, 1, 0}); m.DeleteRows() },
			view:   func(m *Model) { m.Arrange(nil, nil, func(r int) bool { return r == 0 || r == 2 }) },
			want:   "abd", // c, right behind it, is not shown
			redone: "ad",
		},
		{
			first:  func(m *Model) { m.Select(Rect{1, 0, 1, 0}); m.DeleteRows() },
			view:   func(m *Model) { m.Arrange(nil, nil, func(r int) bool { return r == 0 }) },
			want:   "ab", // none of those behind it is shown
			redone: "a",
		},
	} {
		m := fresh()
		c.first(m)
		c.view(m)
		before := shown(m)
		if before != c.redone {
			t.Fatalf("shown are %s", before)
		}
		if m.Undo(); shown(m) != c.want {
			t.Errorf("undone %s is shown as %s, want %s", before, shown(m), c.want)
		}
		checkView(t, m)
		if m.Redo(); shown(m) != c.redone {
			t.Errorf("done again %s is shown, want %s", shown(m), c.redone)
		}
		checkView(t, m)
	}
	// Put in at a place of a sorted view, and done again in another one.
	for _, c := range []struct {
		at   int // shown row of b c a e d
		view []SortKey
		want string
	}{
		{0, []SortKey{{0, false}}, "axbcde"}, {2, []SortKey{{0, false}}, "xabcde"}, {4, []SortKey{{0, true}}, "exdcba"}, {3, []SortKey{{0, true}}, "xedcba"}, {2, []SortKey{{0, true}}, "edcbxa"}, {5, []SortKey{{0, true}}, "edcbax"},
	} {
		m := fresh()
		m.Arrange([]SortKey{{1, false}}, nil, nil)
		m.Go(Pos{c.at, 0}, false)
		m.InsertRows()
		m.Begin()
		m.Commit("x", 0, 0)
		if want := "bcaed"[:c.at] + "x" + "bcaed"[c.at:]; shown(m) != want {
			t.Errorf("put in at %d: %s, want %s", c.at, shown(m), want)
		}
		m.Undo()
		m.Undo()
		m.Arrange(c.view, nil, nil)
		m.Redo()
		if m.Redo(); shown(m) != c.want {
			t.Errorf("put in at %d, done again by another order: %s, want %s", c.at, shown(m), c.want)
		}
		if m.cur.Row != strings.Index(c.want, "x") {
			t.Errorf("put in at %d, done again: the cursor is at %v of %s", c.at, m.cur, c.want)
		}
		checkView(t, m)
	}
}

// The order shown is stored once; the cursor goes back to where it stood when that is undone and done again, and a sheet that stands in that order already has no step.
func TestStoringAnOrder(t *testing.T) {
	m := sheet("A|B", "c|1", "b|2", "a|3")
	m.Arrange([]SortKey{{0, false}}, nil, nil)
	m.Go(Pos{1, 1}, false)
	if sorted, filtered := m.Arranged(); !sorted || filtered {
		t.Error(sorted, filtered)
	}
	ch := m.SortStored()
	if sorted, filtered := m.Arranged(); sorted || filtered || !ch.Any || m.cur != (Pos{1, 1}) {
		t.Error(sorted, filtered, ch)
	}
	if ch := m.SortStored(); ch.Any {
		t.Errorf("stored twice: %+v", ch)
	}
	if ch := m.Undo(); !ch.Sorted || ch.Note != "sorting 3 rows" || m.cur != (Pos{0, 1}) {
		t.Errorf("undone: %+v, at %v", ch, m.cur) // as stored the rows stand otherwise: at the first that changed
	}
	m.Go(Pos{2, 0}, false)
	if ch := m.Redo(); !ch.Sorted || m.cur != (Pos{1, 1}) || text(m) != "A|B/a|3/b|2/c|1" {
		t.Errorf("done again: %+v, at %v, %s", ch, m.cur, text(m))
	}
	// in order already: no step, and the step before keeps its cursor
	m.Go(Pos{2, 1}, false)
	m.Begin()
	m.Commit("9", 0, 0)
	m.Arrange([]SortKey{{0, false}}, nil, nil)
	if ch := m.SortStored(); ch.Any || m.UndoName() != "typing" {
		t.Errorf("nothing to store: %+v, %q", ch, m.UndoName())
	}
	if sorted, _ := m.Arranged(); sorted {
		t.Error("still sorted")
	}
	m.Undo()
	if ch := m.Redo(); ch.Sorted || m.cur != (Pos{2, 1}) {
		t.Errorf("%+v %v", ch, m.cur)
	}
	if ch := sheet("A").SortStored(); ch.Any {
		t.Errorf("an empty sheet: %+v", ch)
	}
	m = sheet("A|B", "c|1", "b|2", "a|3")
	m.Arrange(nil, nil, func(r int) bool { return r > 0 })
	if ch := m.SortStored(); ch.Any || m.ShownRows() != 2 {
		t.Errorf("filtered and not sorted: %+v", ch)
	}
	if sorted, filtered := m.Arranged(); sorted || !filtered {
		t.Error(sorted, filtered)
	}
	m.Arrange([]SortKey{{0, false}}, nil, func(r int) bool { return r > 0 })
	if ch := m.SortStored(); !ch.Any || m.ShownRows() != 2 || visible(m) != "/a|3/b|2" || text(m) != "A|B/c|1/a|3/b|2" {
		t.Errorf("%+v %s", ch, text(m))
	}
	if sorted, filtered := m.Arranged(); sorted || !filtered {
		t.Error("the filter stays", sorted, filtered)
	}
}

// What is typed after the sheet was sorted comes back undone and done again where the cursor stood, as long as it is shown so; a step that was done in a view does not take the cursor to
// that place in another.
func TestCursorOfStepsInViews(t *testing.T) {
	m := sheet("A|B", "c|1", "b|2", "a|3")
	m.Arrange([]SortKey{{0, false}}, nil, nil)
	m.Go(Pos{0, 1}, false)
	m.Begin()
	m.Commit("9", 1, 0)
	m.Go(Pos{2, 0}, false)
	if m.Undo(); m.cur != (Pos{0, 1}) {
		t.Errorf("undone: %v", m.cur)
	}
	if m.Redo(); m.cur != (Pos{0, 1}) { // at the cell, not where Enter went
		t.Errorf("done again: %v", m.cur)
	}
	m.Arrange(nil, nil, nil)
	if m.Undo(); m.cur != (Pos{2, 1}) { // the row that changed stands last
		t.Errorf("undone as stored: %v", m.cur)
	}
	m.Arrange(nil, nil, func(r int) bool { return r < 2 })
	m.Go(Pos{1, 0}, false)
	if m.Redo(); m.cur != (Pos{0, 1}) { // what changed is not shown
		t.Errorf("done again out of sight: %v", m.cur)
	}
}

// Sorting asks for columns that are there; those that are hidden later are passed over when it is done again, and what is empty of blanks stands last in either direction.
func TestKeysOfSorting(t *testing.T) {
	first := func(m *Model) string {
		var out []string
		for r := range m.ShownRows() {
			out = append(out, m.Cell(m.Stored(r), 0))
		}
		return strings.Join(out, "")
	}
	m := sheet("A|B", "b|1", "c|3", "a|2")
	for _, c := range []struct {
		keys []SortKey
		want string
	}{
		{[]SortKey{{2, false}}, "bca"}, {[]SortKey{{-1, false}}, "bca"}, {[]SortKey{{2, false}, {1, true}}, "cab"}, {[]SortKey{{0, false}}, "abc"}, {[]SortKey{{1, false}, {0, false}}, "bac"},
	} {
		m.Arrange(c.keys, nil, nil)
		if got := first(m); got != c.want {
			t.Errorf("%v: %s, want %s", c.keys, got, c.want)
		}
	}
	m.Arrange([]SortKey{{1, true}, {0, false}}, nil, nil)
	if first(m) != "cab" {
		t.Error(first(m))
	}
	m.SetHidden([]int{1})
	if m.Refresh(); first(m) != "abc" {
		t.Errorf("with the first key hidden: %s", first(m))
	}
	m.SetHidden([]int{0, 1})
	if m.Refresh(); first(m) != "bca" {
		t.Errorf("with both hidden: %s", first(m))
	}
	m = sheet("A|B", "x| ", "y|", "z|2", "u|1", "v| \t")
	for desc, want := range map[bool]string{false: "uzxyv", true: "zuxyv"} {
		if m.Arrange([]SortKey{{1, desc}}, nil, nil); first(m) != want {
			t.Errorf("%v: %s, want %s", desc, first(m), want)
		}
	}
}

// A list that comes into a sheet without rows is shown as it comes, whatever was sorted and filtered before; so are columns chosen for one.
func TestFreshListIsShownWhole(t *testing.T) {
	for _, columns := range []bool{false, true} {
		m := sheet("Machine|Speed", "", "")
		m.Arrange([]SortKey{{1, true}}, nil, func(r int) bool { return r == 7 })
		m.Go(Pos{3, 1}, false)
		if columns {
			m.SetHeader([]string{"Machine", "Speed"})
			if m.cur != (Pos{}) || m.anchor != (Pos{}) || m.UndoName() != "choosing columns" || len(m.Rows()) != 0 {
				t.Errorf("%v %q %q", m.cur, m.UndoName(), m.Rows())
			}
		} else {
			m.PasteText("Machine\tSpeed\nA\t1\nB\t2\n", known)
			if m.ShownRows() != 2 || m.At(Pos{0, 0}) != "A" || m.cur != (Pos{}) || m.anchor != (Pos{}) {
				t.Errorf("%d rows shown, at %v", m.ShownRows(), m.cur)
			}
		}
		if sorted, filtered := m.Arranged(); sorted || filtered || m.view != nil {
			t.Errorf("columns %v: still sorted %v, filtered %v", columns, sorted, filtered)
		}
	}
}

// Rows put in are rows without cells, each for itself: what is typed into one is in no other.
func TestRowsPutInAreApart(t *testing.T) {
	m := sheet("A|B", "1|2")
	m.Select(Rect{0, 0, 2, 0})
	m.InsertRows()
	m.Go(Pos{1, 1}, false)
	m.Begin()
	m.Commit("x", 0, 0)
	want(t, m, "A|B//|x//1|2")
	if slices.ContainsFunc(m.Rows(), func(r []string) bool { return r == nil }) {
		t.Errorf("%#v", m.Rows())
	}
}

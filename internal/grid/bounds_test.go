package grid

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// columns is a sheet of n columns and one row.
func columns(n int) *Model {
	header := make([]string, n)
	for i := range header {
		header[i] = fmt.Sprint("C", i)
	}
	return New(nil, header, [][]string{{"x"}})
}

// A sheet has as many columns as MaxColumns and not one more, however they come; a block as many columns and cells.
func TestMostColumns(t *testing.T) {
	for _, more := range []int{1, 2} { // to a sheet with room for one
		names, cells := []string{"P", "Q"}[:more], []string{"x", "y", "z"}
		for what, do := range map[string]func(m *Model) Change{
			"put": func(m *Model) Change {
				ch, r, c := m.Put("put", -1, names, [][]string{cells[:more]}, Meaning{})
				if more == 2 && (r != -1 || c != -1) || more == 1 && (r != 1 || c != MaxColumns-1) {
					t.Errorf("put at %d, %d", r, c)
				}
				return ch
			},
			"a list": func(m *Model) Change {
				return m.PasteText("Machine\t"+strings.Join(names, "\t")+"\n"+strings.Join(cells[:more+1], "\t"), known)
			},
			"a block": func(m *Model) Change {
				m.Go(Pos{0, m.Columns() - 1}, false)
				return m.Paste([][]string{cells[:more+1]}, Meaning{})
			},
		} {
			m := columns(MaxColumns - 1)
			m.header[3] = "Machine"
			ch := do(m)
			if fits := more == 1; ch.Any != fits || (ch.Note == "") != fits {
				t.Errorf("%s, %d more: %+v", what, more, ch)
			}
			if got := len(m.Header()); more == 1 && got != MaxColumns || more == 2 && got != MaxColumns-1 {
				t.Errorf("%s, %d more: %d columns", what, more, got)
			}
		}
	}
	m := New(nil, nil, nil)
	for _, c := range []struct {
		rows, cols int
		note       string
	}{
		{1, MaxColumns, "The sheet has no columns"}, {1, MaxColumns + 1, "The block is too large"},
		{MaxCells / MaxColumns, MaxColumns, "The sheet has no columns"}, {MaxCells/MaxColumns + 1, MaxColumns, "The block is too large"},
		{1, 0, "The sheet has no columns"},
	} {
		block := slices.Repeat([][]string{make([]string, c.cols)}, c.rows)
		if p := m.PlanPaste(block, Meaning{}); p.OK || !strings.HasPrefix(p.Note, c.note) {
			t.Errorf("%d × %d: %q, want %q", c.rows, c.cols, p.Note, c.note)
		}
	}
	if p := m.PlanPaste(nil, known); p.OK || p.Note != "" {
		t.Errorf("nothing: %+v", p)
	}
	if p := sheet("A|B", "1|2").PlanPaste([][]string{{}, {}}, Meaning{}); p.OK || p.Note != "" {
		t.Errorf("rows without cells: %+v", p)
	}
}

// The cursor cannot leave the sheet and its spare rows, wherever it is sent; without columns it stands at the first place.
func TestCursorStaysInside(t *testing.T) {
	for _, rows := range []int{0, 1, 3} {
		m := New(nil, []string{"A", "B", "C"}, slices.Repeat([][]string{{"x"}}, rows))
		last := Pos{rows + Spare - 1, 2}
		if m.Height() != rows+Spare || m.Columns() != 3 {
			t.Errorf("%d × %d", m.Height(), m.Columns())
		}
		for _, c := range []struct{ to, want Pos }{
			{Pos{-1, -1}, Pos{0, 0}}, {Pos{-1 << 40, 1}, Pos{0, 1}}, {Pos{1 << 40, 1 << 40}, last}, {last, last}, {Pos{last.Row + 1, 3}, last}, {Pos{last.Row - 1, 1}, Pos{last.Row - 1, 1}}, {Pos{0, 3}, Pos{0, 2}},
		} {
			if m.Go(c.to, false); m.Cursor() != c.want || m.anchor != c.want {
				t.Errorf("to %v: %v", c.to, m.Cursor())
			}
			m.Go(Pos{}, false)
			if m.Go(c.to, true); m.cur != c.want || m.anchor != (Pos{}) {
				t.Errorf("extended to %v: %v from %v", c.to, m.cur, m.anchor)
			}
			if m.Select(Rect{0, 0, c.to.Row, c.to.Col}); m.cur != (Pos{}) || m.anchor != c.want {
				t.Errorf("selected to %v: %v from %v", c.to, m.cur, m.anchor)
			}
			m.Go(Pos{2, 1}, false)
			if m.Move(c.to.Row-2, c.to.Col-1, false); m.cur != c.want {
				t.Errorf("moved to %v: %v", c.to, m.cur)
			}
		}
		m.Go(last, false)
		m.SetHidden([]int{1, 2})
		if m.cur != (Pos{last.Row, 0}) || m.anchor != m.cur {
			t.Errorf("with one column left: %v", m.cur)
		}
		m.SetHidden([]int{0, 1, 2})
		if m.cur != (Pos{}) || m.Height() != 0 || m.Columns() != 0 {
			t.Errorf("without columns: %v, %d", m.cur, m.Height())
		}
		if _, ok := m.Begin(); ok {
			t.Error("a cell of no column was opened")
		}
		if ch := m.Commit("x", 0, 0); ch.Any {
			t.Errorf("%+v", ch)
		}
		if ch := m.InsertRows(); ch.Any {
			t.Errorf("%+v", ch)
		}
		if s := m.Summarise(func(int, int) (float64, bool) { return 1, true }); !s.Next(100) || s.sum != (Summary{}) {
			t.Errorf("%+v", s.sum)
		}
		m.Arrange(nil, nil, func(int) bool { return false })
		if m.Arrange(nil, nil, nil); m.cur != (Pos{}) || m.anchor != (Pos{}) {
			t.Errorf("without columns, all rows again: %v", m.cur)
		}
		fixed := func(row, k int) string { t.Errorf("asked for result %d", k); return "x" }
		for _, o := range []FindOptions{{}, {InColumn: true}, {InSelection: true}, {Here: true}} {
			if ch, f := m.Replace("x", "y", o, fixed); ch != (Change{}) || f != (Found{}) {
				t.Errorf("%+v %+v", ch, f)
			}
		}
		if text, html := m.Copy(fixed); text != "" || html != "" {
			t.Errorf("copied %q", text)
		}
	}
	// rows that are fewer than before: the cursor comes up with the end of the sheet
	m := New(nil, []string{"A"}, slices.Repeat([][]string{{" "}}, 100))
	m.Go(Pos{150, 0}, false)
	m.Put("put", -1, []string{"A"}, [][]string{{"x"}}, Meaning{})
	if len(m.Rows()) != 1 || m.cur != (Pos{Spare, 0}) || m.anchor != m.cur {
		t.Errorf("%d rows, at %v", len(m.Rows()), m.cur)
	}
	if m.Undo(); m.cur != (Pos{150, 0}) {
		t.Errorf("undone: %v", m.cur)
	}
}

// Outside there is no column, no cell, no row.
func TestOutside(t *testing.T) {
	m := sheet("A|B|C", "1|2|3", "4")
	m.SetOrder([]int{2, ^0, 0})
	m.SetHidden([]int{1})
	for x, want := range map[int]int{-1: -1 << 30, 0: 2, 1: ^0, 2: 0, 3: -1 << 30} {
		if got := m.Column(x); got != want {
			t.Errorf("column %d: %d", x, got)
		}
	}
	for c, want := range map[int]int{^0: -1, -5: -1, 0: 2, 1: -1, 2: 0, 3: -1, 99: -1} {
		if got := m.Shown(c); got != want {
			t.Errorf("shown %d: %d", c, got)
		}
	}
	for _, c := range []struct {
		r, c int
		want string
	}{{0, 0, "1"}, {0, 2, "3"}, {0, 3, ""}, {0, -1, ""}, {-1, 0, ""}, {1, 0, "4"}, {1, 1, ""}, {2, 0, ""}} {
		if got := m.Cell(c.r, c.c); got != c.want {
			t.Errorf("%d, %d: %q", c.r, c.c, got)
		}
	}
	for _, r := range []int{-1, 2, 99} {
		if m.ShownRow(r) != -1 {
			t.Errorf("row %d is shown at %d", r, m.ShownRow(r))
		}
	}
	if m.Stored(-1) != -1 || m.Stored(5) != 5 {
		t.Error(m.Stored(-1), m.Stored(5))
	}
	m.Arrange(nil, nil, func(r int) bool { return r == 1 })
	if m.Stored(-1) != -1 || m.Stored(0) != 1 || m.Stored(1) != 2 || m.Stored(3) != 4 || m.ShownRow(0) != -1 || m.ShownRow(1) != 0 || m.ShownRow(2) != -1 {
		t.Error("with a filter")
	}
	// a new sheet: Enter goes straight down
	m = New(nil, []string{"A", "B", "C"}, nil)
	m.cur.Col, m.anchor.Col = 2, 2
	if m.Step(1, 0); m.cur != (Pos{1, 2}) {
		t.Errorf("Enter in a new sheet: %v", m.cur)
	}
	// all rows again: Ctrl+End is the last row with text, as in any sheet that is not filtered
	m = sheet("A|B", "1|2", "3|4", "|", "|")
	m.Arrange(nil, nil, func(r int) bool { return true })
	if m.RowEnd(true, false); m.cur != (Pos{3, 1}) {
		t.Errorf("with a filter that keeps all: %v", m.cur)
	}
	m.Arrange(nil, nil, nil)
	if m.RowEnd(true, false); m.cur != (Pos{1, 1}) {
		t.Errorf("as stored: %v", m.cur)
	}
}

// What the undo list says it keeps alive is what its steps say, and no less than what they hold and nothing else does: every old and new row, the strings in them, every view. Nor is it
// many times that.
func TestUndoCountsWhatItKeeps(t *testing.T) {
	check := func(m *Model, what string, least, most int) {
		t.Helper()
		sum := 0
		for _, s := range m.undo {
			sum += s.cells
		}
		if m.kept != sum {
			t.Errorf("%s: %d kept, the steps say %d", what, m.kept, sum)
		}
		if n := len(m.undo); n > 0 {
			if got := m.undo[n-1].cells; got < least || got > most {
				t.Errorf("%s: the step keeps %d cells, want %d … %d", what, got, least, most)
			}
		}
	}
	wide := func(rows, cols int) *Model {
		list := make([][]string, rows)
		for i := range list {
			list[i] = make([]string, cols)
			list[i][0] = fmt.Sprint(i % 10)
		}
		return New(nil, make([]string, max(cols, 1)), list)
	}
	m := wide(3, 1000)
	m.SetCell(1, 5, "x")
	check(m, "a cell of a long row", 2000, 2100) // the row before and the row after
	m.SetCell(1, 6, "x")
	check(m, "another", 2000, 2100)
	m.Undo()
	check(m, "undone", 2000, 2100)
	m.Undo()
	check(m, "both undone", 0, 0)
	m.Redo()
	check(m, "done again", 2000, 2100)
	m = wide(1000, 1)
	m.SelectAll()
	m.DeleteRows()
	check(m, "rows taken out", 1000, 5000)
	m.AppendRows("put", make([][]string, 1000))
	check(m, "rows without cells put in", 1000, 5000)
	m.AppendRows("put", slices.Repeat([][]string{make([]string, 100)}, 10))
	check(m, "rows with cells put in", 1000, 1100)
	m = wide(1000, 1)
	m.Arrange(nil, nil, func(r int) bool { return r%2 == 0 })
	m.SelectAll()
	m.DeleteRows()
	check(m, "every second row", 500, 5000)
	m = wide(1000, 1)
	m.Arrange([]SortKey{{0, true}}, nil, nil)
	m.Go(Pos{3, 0}, false)
	m.InsertRows()
	check(m, "a row put into a sorted sheet", 250, 1000) // a view is four bytes a row, a cell sixteen
	m.SortStored()
	check(m, "an order of a thousand rows", 1000, 8000)
	m = wide(1000, 1)
	m.Select(Rect{0, 0, 998, 0})
	m.MoveRows(1)
	check(m, "rows moved", 1000, 8000)

	// The oldest steps go when more than undoCells are kept, the last one never; what was undone cannot be done again after another change.
	m = sheet("A", "1")
	for i, c := range []struct{ cells, steps int }{{undoCells / 2, 1}, {undoCells / 2, 2}, {1, 2}, {undoCells - 1, 2}, {undoCells + 1, 1}, {1, 1}, {undoCells - 1, 2}} {
		m.push(step{name: fmt.Sprint(i), cells: c.cells, header1: m.header})
		if len(m.undo) != c.steps || m.UndoName() != fmt.Sprint(i) {
			t.Errorf("step %d of %d: %d are kept", i, c.cells, len(m.undo))
		}
		check(m, "bounded", c.cells, c.cells)
	}
	m = sheet("A", "1")
	m.SetCell(0, 0, "2")
	m.Undo()
	if m.RedoName() != "typing" || m.UndoName() != "" {
		t.Error(m.RedoName())
	}
	m.Rename(0, "B")
	if m.RedoName() != "" || m.Redo().Any || m.UndoName() != "renaming a column" {
		t.Error("something is to be done again after another change")
	}
	m.Undo()
	if ch := m.Redo(); ch.Note != "renaming a column" || !ch.Header || m.Undo().Note != "renaming a column" {
		t.Errorf("%+v", ch)
	}
}

// Rows beside each other that change together are one run of the step.
func TestRunsOfRows(t *testing.T) {
	m := sheet("A|B", "1|a", "2|b", "3|c", "4|d", "5|e")
	m.Select(Rect{1, 0, 3, 0})
	m.PasteText("x", Meaning{})
	if h := m.undo[0].hunks; len(h) != 1 || h[0].at != 1 || len(h[0].old) != 3 || len(h[0].new) != 3 {
		t.Errorf("%+v", h)
	}
	m.Arrange([]SortKey{{1, true}}, nil, func(r int) bool { return r != 2 })
	m.SelectAll()
	m.PasteText("y\tz", Meaning{})
	if h := m.undo[1].hunks; len(h) != 2 || h[0].at != 0 || len(h[0].old) != 2 || h[1].at != 3 || len(h[1].new) != 2 {
		t.Errorf("%+v", h)
	}
	if text(m) != "A|B/y|z/y|z/x|c/y|z/y|z" {
		t.Error(text(m))
	}
}

// Of columns of the same name as many stay hidden as were, whatever column is put in or taken out beside them.
func TestHiddenColumnsOfOneName(t *testing.T) {
	m := sheet("A|A|B|A", "1|2|3|4")
	m.SetHidden([]int{0, 1, ^3, 9})
	m.AddColumn(-1, "C")
	if got := m.Hidden(); !slices.Equal(got, []int{0, 1, ^3}) || m.Columns() != 3 {
		t.Errorf("hidden %v", got)
	}
	m.DeleteColumn(2)
	if got := m.Hidden(); !slices.Equal(got, []int{0, 1, ^3}) || m.Columns() != 2 {
		t.Errorf("hidden %v", got)
	}
	m.Rename(1, "X")
	if got := m.Hidden(); !slices.Equal(got, []int{0, 2, ^3}) { // the other A, as far as names tell
		t.Errorf("hidden %v", got)
	}
}

// Rows that are put where blank ones stood are shown, though a filter left the blank ones out, and gone from sight when that is undone.
func TestPutOverBlankRowsInAFilter(t *testing.T) {
	m := sheet("A|B", "1|2", "3|4", "|")
	m.Arrange(nil, nil, func(r int) bool { return r == 1 })
	ch, r, c := m.Put("put", -1, []string{"B", "A"}, [][]string{{"x", "y"}}, Meaning{})
	if !ch.Any || ch.Header || ch.Moved || r != 2 || c != 1 || visible(m) != "/3|4/y|x" {
		t.Errorf("%+v, %d, %d, %s", ch, r, c, visible(m))
	}
	checkView(t, m)
	if m.Undo(); visible(m) != "/3|4" {
		t.Errorf("undone: %s", visible(m))
	}
	if m.Redo(); visible(m) != "/3|4/y|x" {
		t.Errorf("done again: %s", visible(m))
	}
	for _, c := range []struct {
		row   int
		names []string
		lines [][]string
	}{{-1, nil, [][]string{{"x"}}}, {-1, []string{"A"}, nil}, {3, []string{"A"}, [][]string{{"x"}}}, {0, []string{"A"}, [][]string{{"x"}, {"y"}}}} {
		if ch, r, k := m.Put("put", c.row, c.names, c.lines, Meaning{}); ch != (Change{}) || r != -1 || k != -1 {
			t.Errorf("%+v: %+v at %d, %d", c, ch, r, k)
		}
	}
	if ch, r, k := m.Put("put", 1, []string{"B", "A"}, [][]string{{"4", ""}}, Meaning{}); ch != (Change{}) || r != 1 || k != 1 {
		t.Errorf("the same: %+v at %d, %d", ch, r, k)
	}
	if ch, r, k := m.Put("put", 0, []string{"B", "A"}, [][]string{{"", "9"}}, Meaning{}); !ch.Any || ch.Header || r != 0 || k != 1 || m.Cell(0, 0) != "9" || m.Cell(0, 1) != "2" {
		t.Errorf("%+v at %d, %d", ch, r, k)
	}
}

package grid

import (
	"strings"
	"testing"
)

func abc() *Model {
	return New(nil, []string{"a", "b", "c"}, [][]string{{"1", "x", "p"}, {"2", "y", "q"}, {"3", "z", "r"}, {"4", "", "s"}, {"5", "v", ""}})
}

// Two ranges with the same rows, or the same columns, are copied as the table they make, in the order of the sheet whichever was taken first; others are not copied at all.
func TestCopyRanges(t *testing.T) {
	for _, c := range []struct {
		first, second Rect
		want          string
	}{
		{Rect{0, 2, 1, 2}, Rect{0, 0, 1, 0}, "1\tp\r\n2\tq"},
		{Rect{3, 0, 3, 1}, Rect{0, 0, 1, 1}, "1\tx\r\n2\ty\r\n4\t"},
		{Rect{0, 0, 1, 1}, Rect{1, 0, 2, 1}, "1\tx\r\n2\ty\r\n3\tz"},
		{Rect{0, 0, 0, 0}, Rect{1, 1, 1, 1}, ""},
	} {
		m := abc()
		m.Select(c.first)
		m.Also(Pos{c.second.R0, c.second.C0})
		m.Go(Pos{c.second.R1, c.second.C1}, true)
		if got, _ := m.Copy(nil); got != c.want {
			t.Errorf("%v and %v: %q, want %q", c.first, c.second, got, c.want)
		}
		m.Move(1, 0, false)
		if len(m.Ranges()) != 0 {
			t.Error("the other ranges outlive a step of the cursor")
		}
	}
}

// What is typed into one cell of a selection and ended with Ctrl+Enter stands in every input cell of it, and one undo takes all of it back.
func TestCommitAll(t *testing.T) {
	m := abc()
	m.SetOrder([]int{0, ^0, 1, 2})
	m.Select(Rect{1, 0, 5, 2}) // the read-only column stays, and one row is new
	if _, ok := m.Begin(); !ok {
		t.Fatal("no cell to open")
	}
	ch := m.CommitAll("7")
	if !ch.Any || m.UndoName() != "typing into 10 cells" {
		t.Errorf("%+v %s", ch, m.UndoName())
	}
	for r := 1; r <= 5; r++ {
		if m.Cell(r, 0) != "7" || m.Cell(r, 1) != "7" {
			t.Errorf("row %d: %q %q", r, m.Cell(r, 0), m.Cell(r, 1))
		}
	}
	if m.Cell(0, 0) != "1" || m.Cell(1, 2) != "q" || len(m.Rows()) != 6 {
		t.Error("more than the selection was written")
	}
	m.Undo()
	if m.Cell(1, 0) != "2" || m.Cell(3, 1) != "" || len(m.Rows()) != 5 {
		t.Error("one undo does not take it back")
	}
	if m.CommitAll("8").Any {
		t.Error("no cell was open")
	}
}

// A double-click on the square at the corner fills as far down as the column at the left is filled, else the one at the right.
func TestFillAlong(t *testing.T) {
	m := New(nil, []string{"a", "b", "c"}, [][]string{{"1", "10", ""}, {"2", "", "x"}, {"3", "", "x"}, {"", "", "x"}, {"5", "", "x"}})
	m.Select(Rect{0, 1, 0, 1})
	if ch := m.FillAlong(false); !ch.Any || m.Cell(2, 1) != "10" || m.Cell(3, 1) != "" {
		t.Errorf("%+v %v", ch, m.Rows())
	}
	m.Undo()
	m.Select(Rect{2, 1, 2, 1}) // the left ends here, the right goes on
	m.set(Pos{2, 1}, "9")
	m.Select(Rect{2, 1, 2, 1})
	if m.FillAlong(false); m.Cell(4, 1) != "9" {
		t.Error(m.Rows())
	}
	m.Select(Rect{4, 0, 4, 0})
	if ch := m.FillAlong(false); ch.Any || ch.Note == "" {
		t.Errorf("nothing to go by: %+v", ch)
	}
}

// Delete and Cut empty what Copy takes: all ranges, each cell once, in one step. Seen: they emptied the last range only, and the others stayed although they were on the clipboard.
func TestRangesEmptiedTogether(t *testing.T) {
	for name, do := range map[string]func(m *Model) Change{
		"delete": (*Model).Delete,
		"cut":    func(m *Model) Change { _, _, ch := m.Cut(nil); return ch },
	} {
		m := abc()
		m.Select(Rect{0, 0, 0, 1})
		m.Also(Pos{2, 0})
		m.Go(Pos{2, 1}, true)
		cells := "4 cells"
		if name == "delete" { // what is cut has to be a table; a cell in two ranges is emptied once
			m.Also(Pos{2, 1})
			m.Go(Pos{3, 2}, true)
			cells = "6 cells"
		}
		do(m)
		want := map[string]string{"delete": "||p,2|y|q,||,4||,5|v|", "cut": "||p,2|y|q,||r,4||s,5|v|"}[name]
		if got := joined(m); got != want || !strings.Contains(m.UndoName(), cells) {
			t.Errorf("%s: %s, want %s; %q", name, got, want, m.UndoName())
		}
		m.Undo()
		if got := joined(m); got != joined(abc()) {
			t.Errorf("%s undone: %s", name, got)
		}
	}
}

func joined(m *Model) string {
	var rows []string
	for _, r := range m.Rows() {
		rows = append(rows, strings.Join(r, "|"))
	}
	return strings.Join(rows, ",")
}

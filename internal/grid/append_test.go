package grid

import (
	"slices"
	"testing"
)

// TestAppendRows: the rows stand behind the others, and undoing and redoing take them away and bring them back.
func TestAppendRows(t *testing.T) {
	m := New(nil, []string{"a", "b"}, [][]string{{"1"}})
	ch := m.AppendRows("making rows", [][]string{{"2", "x"}, {"3"}})
	if !ch.Any || len(m.Rows()) != 3 || m.Cell(1, 1) != "x" || m.Cell(2, 0) != "3" || m.Cursor() != (Pos{1, 0}) || m.UndoName() != "making rows" {
		t.Fatalf("%+v %q %+v", ch, m.Rows(), m.Cursor())
	}
	if m.Undo(); len(m.Rows()) != 1 || !slices.Equal(m.Rows()[0], []string{"1"}) {
		t.Fatalf("undone: %q", m.Rows())
	}
	if m.Redo(); len(m.Rows()) != 3 || m.Cell(1, 0) != "2" {
		t.Fatalf("done again: %q", m.Rows())
	}
	if m.AppendRows("nothing", nil).Any {
		t.Error("nothing appended is a change")
	}
}

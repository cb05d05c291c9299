package grid

import "testing"

func TestSetCellIsUndoable(t *testing.T) {
	m := New(nil, []string{"A", "B"}, [][]string{{"1", "2"}, {"3"}})
	m.Arrange(nil, nil, func(row int) bool { return row == 0 })
	if ch := m.SetCell(1, 1, "9"); !ch.Any || ch.From != 1 || ch.To != 2 {
		t.Fatalf("%+v", ch)
	}
	if m.Cell(1, 1) != "9" {
		t.Fatal("a row that the filter leaves out was not set")
	}
	if ch := m.Undo(); !ch.Any || m.Cell(1, 1) != "" {
		t.Fatalf("%+v %q", ch, m.Cell(1, 1))
	}
	m.Begin()
	if m.SetCell(0, 0, "x").Any || m.Cell(0, 0) != "1" {
		t.Fatal("set while a cell was open")
	}
	m.Cancel()
	for _, at := range [][2]int{{-1, 0}, {2, 0}, {0, -1}, {0, 2}} {
		if m.SetCell(at[0], at[1], "x").Any {
			t.Fatal(at)
		}
	}
}

type doubled struct{}

func (doubled) AppendResult(dst []byte, _, _ int) []byte { return dst }
func (doubled) Mark(_, _ int) byte                       { return '-' }
func (doubled) AppendShown(dst []byte, row, c int) ([]byte, bool) {
	if c == 1 {
		return append(dst, "shown"...), true
	}
	return dst, false
}

func TestViewportShowsAnotherForm(t *testing.T) {
	m := New(nil, []string{"A", "B"}, [][]string{{"1", "2"}})
	got := string(m.AppendViewport(nil, 0, 0, 2, 1, doubled{}))
	if want := "-1\x1f-shown\x1f\x1e"; got != want {
		t.Fatalf("%q, not %q", got, want)
	}
}

package grid

import (
	"slices"
	"strings"
	"testing"
)

func TestPutIsOneStep(t *testing.T) {
	m := New(nil, []string{"A", "B"}, [][]string{{"1", "2"}, {"3"}})
	m.Arrange(nil, nil, func(row int) bool { return row == 0 })
	ch, r, c := m.Put("frame", 1, []string{"B", "C", "A"}, [][]string{{"x", "y", ""}}, Meaning{})
	if !ch.Any || !ch.Header || r != 1 || c != 1 || m.UndoName() != "frame" {
		t.Fatalf("%+v %d %d %q", ch, r, c, m.UndoName())
	}
	if got := m.Rows()[1]; !slices.Equal(got, []string{"3", "x", "y"}) || !slices.Equal(m.Header(), []string{"A", "B", "C"}) {
		t.Fatalf("%q %q", got, m.Header())
	}
	if m.Undo(); len(m.Header()) != 2 || m.Cell(1, 1) != "" || m.UndoName() != "" {
		t.Fatal("not one step")
	}
	if ch, _, c := m.Put("same", 0, []string{"A"}, [][]string{{"1"}}, Meaning{}); ch.Any || c != 0 {
		t.Fatalf("%+v %d: nothing changes, and the cell is still told", ch, c)
	}
}

func TestPutAddsRowsInSight(t *testing.T) {
	m := New(nil, []string{"A", "B"}, [][]string{{"1", "2"}, {"3"}, {}, {" "}})
	m.Arrange(nil, nil, func(row int) bool { return row == 0 })
	m.Arrange(nil, nil, nil)
	ch, r, c := m.Put("rows", -1, []string{"B"}, [][]string{{"x"}, {"y"}}, Meaning{Match: func(h []string, n string) int { return slices.Index(h, strings.ToUpper(n)) }})
	if !ch.Any || r != 2 || c != 1 || m.Cell(2, 1) != "x" || m.Cell(3, 1) != "y" || m.ShownRow(3) < 0 {
		t.Fatalf("%+v %d %d %q", ch, r, c, m.Rows())
	}
	for _, at := range []int{4, 99} {
		if ch, _, c := m.Put("x", at, []string{"A"}, [][]string{{"x"}}, Meaning{}); ch.Any || c != -1 {
			t.Fatal("wrote past the last row")
		}
	}
	if ch, _, _ := m.Put("x", 0, []string{"A"}, [][]string{{"x"}, {"y"}}, Meaning{}); ch.Any {
		t.Fatal("two lines in one row")
	}
	m.Begin()
	if ch, _, _ := m.Put("x", 0, []string{"A"}, [][]string{{"x"}}, Meaning{}); ch.Any {
		t.Fatal("put while a cell was open")
	}
	if text, html := FormatTable([]string{"A", "B"}, [][]string{{"1", "<"}}); text != "A\tB\r\n1\t<" || !strings.Contains(html, "<tr><th>A</th><th>B</th></tr><tr><td>1</td><td>&lt;</td></tr>") {
		t.Fatal(text, html)
	}
}

func TestPutRows(t *testing.T) {
	m := New(nil, []string{"Name", "Value"}, [][]string{{"a", "1"}, {"b", "2"}, {"c"}})
	m.SetOrder([]int{0, 1})
	ch := m.PutRows("keeping", [][]string{{"b", "3"}, {"d", "4"}, {"a", "1"}, {"e", "5"}})
	if got := m.Rows(); !ch.Any || len(got) != 5 || got[1][1] != "3" || got[3][0] != "d" || got[4][1] != "5" || m.UndoName() != "keeping" {
		t.Errorf("%v %q %q", ch, got, m.UndoName())
	}
	if m.Undo(); len(m.Rows()) != 3 || m.Rows()[1][1] != "2" {
		t.Errorf("undone: %q", m.Rows())
	}
	if ch := m.PutRows("keeping", [][]string{{"a", "1"}}); ch.Any {
		t.Error("nothing changes")
	}
	if ch := m.RenameAll([]string{"x", "y"}); !ch.Any || m.Header()[1] != "y" || m.RenameAll([]string{"x"}).Any {
		t.Errorf("%v %q", ch, m.Header())
	}
	if m.Undo(); m.Header()[0] != "Name" {
		t.Errorf("%q", m.Header())
	}
}

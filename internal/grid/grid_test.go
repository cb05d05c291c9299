package grid

import (
	"fmt"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// The wanted outcomes below are what spreadsheet programs at large do (common practice, no source), written out by hand.

func sheet(header string, rows ...string) *Model {
	var rr [][]string
	for _, r := range rows {
		rr = append(rr, strings.Split(r, "|"))
	}
	var h []string
	if header != "" {
		h = strings.Split(header, "|")
	}
	return New(nil, h, rr)
}

func text(m *Model) string {
	var b strings.Builder
	b.WriteString(strings.Join(m.Header(), "|"))
	for _, r := range m.Rows() {
		b.WriteString("/" + strings.TrimRight(strings.Join(r, "|"), "|"))
	}
	return b.String()
}

// known finds a header row that begins with "Machine" and matches names by their lower case.
var known = Meaning{
	Arrange: func(rows [][]string) (title [][]string, header []string, body [][]string, ok bool) {
		for i, r := range rows {
			if len(r) > 0 && strings.EqualFold(r[0], "machine") {
				return rows[:i], r, rows[i+1:], true
			}
		}
		return nil, nil, nil, false
	},
	Match: func(header []string, name string) int {
		return slices.IndexFunc(header, func(h string) bool { return name != "" && strings.EqualFold(h, name) })
	},
}

func want(t *testing.T, m *Model, s string) {
	t.Helper()
	if got := text(m); got != s {
		t.Errorf("sheet is\n %s, want\n %s", got, s)
	}
}

func TestTyping(t *testing.T) {
	m := sheet("Machine|Speed|Note", "P1|1480|a")
	m.Go(Pos{0, 1}, false)
	if s, ok := m.Begin(); !ok || s != "1480" {
		t.Fatalf("Begin = %q, %v", s, ok)
	}
	m.Cancel()
	want(t, m, "Machine|Speed|Note/P1|1480|a")
	m.Begin()
	ch := m.Commit("2960", 1, 0)
	if !ch.Any || ch.From != 0 || ch.To != 1 || ch.Header || ch.Moved {
		t.Errorf("change %+v", ch)
	}
	if m.Cursor() != (Pos{1, 1}) {
		t.Errorf("cursor %v after Enter", m.Cursor())
	}
	// three cells by Tab in the row below, then Enter goes back to the first of them
	m.Go(Pos{1, 0}, false)
	m.Begin()
	m.Commit("P2", 0, 1)
	m.Begin()
	m.Commit("990", 0, 1)
	m.Begin()
	m.Commit("b", 1, 0)
	if m.Cursor() != (Pos{2, 0}) {
		t.Errorf("cursor %v after Tab, Tab, Enter, want row 2 column 0", m.Cursor())
	}
	want(t, m, "Machine|Speed|Note/P1|2960|a/P2|990|b")
	// far below: the rows between exist and are empty
	m.Go(Pos{4, 0}, false)
	m.Begin()
	m.Commit("P5", 0, 0)
	want(t, m, "Machine|Speed|Note/P1|2960|a/P2|990|b///P5")
	for m.Undo().Any {
	}
	want(t, m, "Machine|Speed|Note/P1|1480|a")
}

func TestReadOnlyColumns(t *testing.T) {
	m := sheet("Machine|Speed|Note", "P1|1480|a")
	m.SetOrder([]int{0, ^0, ^1, 1, 2})
	m.Go(Pos{0, 1}, false)
	if _, ok := m.Begin(); ok {
		t.Error("a read-only cell was opened")
	}
	m.Go(Pos{0, 0}, false)
	m.Step(0, 1)
	if m.Cursor() != (Pos{0, 3}) {
		t.Errorf("Tab went to %v, want the next input column 3", m.Cursor())
	}
	if ch := m.paste1(Pos{0, 1}, "x"); ch.Any || ch.Note == "" {
		t.Errorf("paste over a result: %+v", ch)
	}
	// a block goes over the input columns only
	m.Go(Pos{0, 0}, false)
	m.PasteText("P9\t2960\tnew\r\nP10\t990\tnew", known)
	want(t, m, "Machine|Speed|Note/P9|2960|new/P10|990|new")
	// and what was copied with its results comes back without them
	m.Select(Rect{0, 0, 0, 4})
	txt, html := m.Copy(func(r, k int) string { return fmt.Sprintf("R%d<%d", r, k) })
	if txt != "P9\tR0<0\tR0<1\t2960\tnew" {
		t.Errorf("copied %q", txt)
	}
	if !strings.Contains(html, "<td>R0&lt;0</td>") {
		t.Errorf("copied %q", html)
	}
	m.Go(Pos{2, 0}, false)
	m.PasteText(txt, known)
	want(t, m, "Machine|Speed|Note/P9|2960|new/P10|990|new/P9|2960|new")
	m.Select(Rect{0, 0, 2, 4})
	if ch := m.Delete(); !ch.Any || m.UndoName() != "clearing 9 cells" {
		t.Errorf("%+v %q", ch, m.UndoName())
	}
}

func (m *Model) paste1(p Pos, s string) Change {
	m.Go(p, false)
	return m.PasteText(s, known)
}

func TestPaste(t *testing.T) {
	for _, c := range []struct {
		name, header string
		rows         []string
		sel          Rect
		paste, want  string
		undo         string
	}{
		{"header into an empty sheet", "", nil, Rect{}, "List of spring\nMachine\tSpeed\nP1\t1480\nP2\t2960\n", "Machine|Speed/P1|1480/P2|2960", "paste of 2 rows"},
		{"header into an empty sheet with other columns", "Machine|Note", nil, Rect{}, "machine\tSpeed\nP1\t1480", "machine|Speed/P1|1480", "paste of 1 row"},
		{"header into a filled sheet: by meaning, unknown added", "Machine|Speed|Note", []string{"P1|1480|a", "", ""}, Rect{}, "MACHINE\tTag\tspeed\nP2\tT2\t990", "Machine|Speed|Note|Tag/P1|1480|a/P2|990||T2", "paste of 1 row"},
		{"block at the cursor, rows and columns grow", "A|B", []string{"1|2"}, Rect{0, 1, 0, 1}, "x\ty\nz\tw", "A|B|Column 3/1|x|y/|z|w", "paste of 2 rows"},
		{"empty cells overwrite", "A|B", []string{"1|2", "3|4"}, Rect{}, "\t9", "A|B/|9/3|4", "paste of 2 cells"},
		{"one cell fills the selection", "A|B", []string{"1|2", "3|4"}, Rect{0, 0, 1, 1}, "7", "A|B/7|7/7|7", "paste of 2 rows"},
		{"a row fills the rows selected", "A|B", []string{"1|2"}, Rect{0, 0, 2, 1}, "7\t8", "A|B/7|8/7|8/7|8", "paste of 3 rows"},
		{"a block that does not fit goes to the corner", "A|B|C", []string{"1|2|3"}, Rect{0, 0, 2, 2}, "7\t8\n9\t0", "A|B|C/7|8|3/9|0", "paste of 2 rows"},
		{"below the end", "A", []string{"1"}, Rect{2, 0, 2, 0}, "x", "A/1//x", "paste of a cell"},
		{"quoted cells", "A|B", nil, Rect{}, "\"a\tb\"\t\"c \"\"d\"\"\ne\"\n3/8\"\t\"5\" high", "A|B/a\tb|c \"d\"\ne/3/8\"|\"5\" high", "paste of 2 rows"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := sheet(c.header, c.rows...)
			before := text(m)
			m.Select(c.sel)
			ch := m.PasteText(c.paste, known)
			want(t, m, c.want)
			if m.UndoName() != c.undo {
				t.Errorf("undo is %q, want %q", m.UndoName(), c.undo)
			}
			if !ch.Any {
				t.Errorf("change %+v", ch)
			}
			m.Undo()
			want(t, m, before)
			m.Redo()
			want(t, m, c.want)
		})
	}
	m := sheet("")
	if ch := m.PasteText("1\t2\n3\t4", known); ch.Any || ch.Note == "" {
		t.Errorf("a block without a header into a sheet without columns: %+v", ch)
	}
}

func TestTitleKept(t *testing.T) {
	m := sheet("")
	m.PasteText("Spring list\nMachine\nP1", known)
	if !reflect.DeepEqual(m.Title(), [][]string{{"Spring list"}}) {
		t.Errorf("title %q", m.Title())
	}
	m.Undo()
	if len(m.Title()) != 0 || len(m.Header()) != 0 {
		t.Errorf("after undo: %q %q", m.Title(), m.Header())
	}
}

func TestRowsAndColumns(t *testing.T) {
	m := sheet("A|B", "1|2", "3|4", "5")
	m.Select(Rect{1, 0, 2, 0})
	m.InsertRows()
	want(t, m, "A|B/1|2///3|4/5")
	m.Select(Rect{1, 0, 2, 1})
	m.DeleteRows()
	want(t, m, "A|B/1|2/3|4/5")
	m.AddColumn(1, "N")
	want(t, m, "A|N|B/1||2/3||4/5")
	m.Rename(1, "M")
	m.Select(Rect{0, 0, 2, 0})
	m.FillDown()
	want(t, m, "A|M|B/1||2/1||4/1")
	m.DeleteColumn(0)
	want(t, m, "M|B/|2/|4/")
	m.AddColumn(-1, "Z")
	want(t, m, "M|B|Z/|2/|4/")
	if ch := m.SetHeader([]string{"X"}); ch.Any {
		t.Error("columns replaced under rows")
	}
	for m.Undo().Any {
	}
	want(t, m, "A|B/1|2/3|4/5")
}

func TestJump(t *testing.T) {
	m := sheet("A|B|C|D", "1|2||4", "1", "", "1")
	m.Go(Pos{0, 0}, false)
	for _, c := range []struct {
		dr, dc int
		want   Pos
	}{{0, 1, Pos{0, 1}}, {0, 1, Pos{0, 3}}, {0, 1, Pos{0, 3}}, {0, -1, Pos{0, 1}}, {0, -1, Pos{0, 0}}, {1, 0, Pos{1, 0}}, {1, 0, Pos{3, 0}}, {1, 0, Pos{3, 0}}, {-1, 0, Pos{1, 0}}, {-1, 0, Pos{0, 0}}, {-1, 0, Pos{0, 0}}} {
		m.Jump(c.dr, c.dc, false, nil)
		if m.Cursor() != c.want {
			t.Fatalf("jump %d,%d: %v, want %v", c.dr, c.dc, m.Cursor(), c.want)
		}
	}
	m.Go(Pos{20, 0}, false)
	m.Jump(-1, 0, true, nil)
	if m.Cursor() != (Pos{3, 0}) || m.Selection() != (Rect{3, 0, 20, 0}) {
		t.Errorf("from below: %v %v", m.Cursor(), m.Selection())
	}
	m.RowEnd(true, false)
	if m.Cursor() != (Pos{3, 3}) {
		t.Errorf("Ctrl+End at %v", m.Cursor())
	}
}

type marks struct{}

func (marks) AppendResult(dst []byte, row, k int) []byte { return fmt.Appendf(dst, "r%d.%d", row, k) }
func (marks) Mark(row, c int) byte {
	if c < 0 {
		return 'r'
	}
	return '-'
}

func TestViewport(t *testing.T) {
	m := sheet("A|B", "1|x\x1fy", "3")
	m.SetOrder([]int{0, ^4, 1})
	got := string(m.AppendViewport(nil, 0, 0, 9, 3, marks{}))
	if want := "-1\x1frr0.4\x1f-x y\x1f\x1e-3\x1frr1.4\x1f-\x1f\x1e-\x1fr\x1f-\x1f\x1e"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Undo must not keep the memory of ever more large changes.
func TestUndoBounded(t *testing.T) {
	if runtime.GOARCH == "wasm" {
		t.Skip("the count is the same natively, in a twentieth of the time")
	}
	rows := make([][]string, 10_000)
	for i := range rows {
		rows[i] = make([]string, 60)
		rows[i][0] = "x"
	}
	m := New(nil, make([]string, 60), rows)
	for i := range 12 { // a step keeps more than a million
		m.Select(Rect{0, 0, 9999, 0})
		m.PasteText(fmt.Sprint(i), Meaning{})
	}
	if m.kept > undoCells || len(m.undo) < 3 {
		t.Errorf("undo keeps %d cells in %d steps", m.kept, len(m.undo))
	}
}

// FuzzPaste: what is copied comes back the same, and a paste of any text can be undone.
func FuzzPaste(f *testing.F) {
	for _, s := range []string{"", "a\tb\r\nc", "\"a\tb\"\t\"\n\"", "\"", "\"\"", "Machine\tx\n1\t2", "3/8\"\t\"", "\ufeffMachine\r\rP", "\t\t\n\n", "\"a\"b\tc\"\n\"", "\ufeff\ufeffP", "\"\ufeff\"\tx"} { // two marks: the second once went at the second reading
		f.Add(s, uint8(0), uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, r, c uint8) {
		block := ParseBlock(s)
		again := ParseBlock(FormatBlock(block))
		if len(block) > 0 && !reflect.DeepEqual(block, again) {
			t.Fatalf("%q parsed to %q, written and parsed to %q", s, block, again)
		}
		for _, m := range []*Model{sheet(""), sheet("Machine|B|C", "1|2", "3")} {
			m.SetOrder([]int{^1, 0, ^0, 1})
			before := snap(m)
			m.Select(Rect{int(r % 8), int(c % 6), int(r / 16), int(c / 32)})
			ch := m.PasteText(s, known)
			after := snap(m)
			if ch.Any {
				m.Undo()
			}
			if got := snap(m); got != before {
				t.Fatalf("undo gave %s, want %s", got, before)
			}
			if ch.Any {
				m.Redo()
			}
			if got := snap(m); got != after {
				t.Fatalf("redo gave %s, want %s", got, after)
			}
		}
	})
}

func snap(m *Model) string { return fmt.Sprintf("%q %q %q", m.title, m.header, m.rows) }

// FuzzUndo: random operations, all undone, give the start again; all done again give the end. Read-only columns stay out of it, the
// cursor stays inside, and the viewport has the promised shape.
func FuzzUndo(f *testing.F) {
	f.Add([]byte{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20})
	f.Add([]byte{9, 9, 9, 1, 0, 7, 3, 12, 80, 2, 5, 14, 6, 4, 3, 13, 255, 200, 11, 10})
	f.Fuzz(func(t *testing.T, ops []byte) {
		if len(ops) > 400 {
			return
		}
		m := sheet("Machine|B|C", "P1|2|3", "P2|5")
		m.SetOrder([]int{0, ^0, 1, 2, ^1})
		start := snap(m)
		next := func() int {
			if len(ops) == 0 {
				return 0
			}
			b := ops[0]
			ops = ops[1:]
			return int(b)
		}
		for len(ops) > 0 && len(m.rows) < 500 {
			was := m.Rows()
			held := snap(m)
			var ch Change
			switch next() % 20 {
			case 0:
				m.Go(Pos{next() % 12, next() % 8}, next()&1 == 1)
			case 1:
				if _, ok := m.Begin(); ok {
					ch = m.Commit(string(rune('a'+next()%26)), next()%3-1, next()%3-1)
				}
			case 2:
				m.Begin()
				m.Cancel()
			case 3:
				ch = m.PasteText("x\ty\nz", known)
			case 4:
				ch = m.PasteText("Machine\tNew "+string(rune('a'+next()%3))+"\nP\t1", known)
			case 5:
				ch = m.Delete()
			case 6:
				ch = m.InsertRows()
			case 7:
				ch = m.DeleteRows()
			case 8:
				ch = m.FillDown()
			case 9:
				s, _, c := m.Cut(nil)
				ch = c
				if !ch.Any {
					ch = m.PasteText(s, known)
				}
			case 10:
				ch = m.AddColumn(next()%6-1, "N")
			case 11:
				ch = m.DeleteColumn(next() % 6)
			case 12:
				m.SelectAll()
				ch = m.DeleteRows()
			case 13:
				ch = m.Rename(next()%4, "R")
			case 14:
				m.SelectAll()
			case 15:
				m.Jump(next()%3-1, 0, next()&1 == 1, nil)
			case 16:
				ch = m.SetHeader([]string{"Machine", "Q"})
			case 17:
				if ch = m.Undo(); ch.Any {
					m.Redo()
					ch = Change{}
				}
			case 18:
				s, _ := m.Copy(func(int, int) string { return "res" })
				ch = m.PasteText(s, known)
			case 19:
				m.Step(next()%3-1, next()%3-1)
			}
			if !ch.Any && snap(m) != held {
				t.Fatal("changed without saying so")
			}
			_ = was
			sel := m.Selection()
			if len(m.order) > 0 && (sel.R1 >= m.Height() || sel.C1 >= m.Columns() || sel.R0 < 0 || sel.C0 < 0) {
				t.Fatalf("selection %v outside %d × %d", sel, m.Height(), m.Columns())
			}
			if ch.Any && !ch.Header && !ch.Moved && (ch.From < 0 || ch.To > len(m.Rows())) {
				t.Fatalf("change %+v with %d rows", ch, len(m.Rows()))
			}
			v := string(m.AppendViewport(nil, 0, 0, 5, 5, marks{}))
			if want := min(5, m.Height()); strings.Count(v, string(RowEnd)) != want || strings.Count(v, string(CellEnd)) != want*min(5, m.Columns()) {
				t.Fatalf("viewport %q", v)
			}
		}
		end := snap(m)
		n := 0
		for m.Undo().Any {
			n++
		}
		if got := snap(m); got != start {
			t.Fatalf("all undone gives %s, want %s", got, start)
		}
		for m.Redo().Any {
			n--
		}
		if got := snap(m); got != end || n != 0 {
			t.Fatalf("all done again gives %s, want %s", got, end)
		}
	})
}

func BenchmarkEdit10000x60(b *testing.B) {
	rows := make([][]string, 10_000)
	for i := range rows {
		rows[i] = make([]string, 60)
	}
	m := New(nil, make([]string, 60), rows)
	for b.Loop() {
		m.Go(Pos{5000, 30}, false)
		m.Begin()
		m.Commit(fmt.Sprint(b.N), 0, 0)
		m.Undo()
	}
}

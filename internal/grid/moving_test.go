package grid

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

// A jump leads, of the cells from the cursor on in its direction, to the last of a filled run it stands in and can go on in, else to the next filled one, else to the last there is; below the
// last row all is empty, there is nothing to the right of it or below, and to the left the first column. Worked out from a list of the cells, for every cell and direction; with Shift the other end stays.
func TestJumpsByTheList(t *testing.T) {
	rnd := rand.New(rand.NewPCG(9, 31))
	for range 60 {
		rows := make([]string, 1+rnd.IntN(6))
		for i := range rows {
			var cells []string
			for range 4 {
				cells = append(cells, []string{"", "x"}[rnd.IntN(2)])
			}
			rows[i] = strings.Join(cells, "|")
		}
		m := sheet("A|B|C|D", rows...)
		if rnd.IntN(3) == 0 {
			m.Arrange(nil, nil, func(r int) bool { return r%2 == 0 })
		}
		n := m.ShownRows()
		filled := func(p Pos) bool { return p.Row < n && m.At(p) == "x" }
		for r := range n + 3 {
			for c := range 4 {
				for _, d := range []Pos{{0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
					var list []Pos
					for p := (Pos{r, c}); p.Row >= 0 && p.Col >= 0 && p.Col < 4 && (p.Row < n || p.Row == r || d.Row < 0); p = (Pos{p.Row + d.Row, p.Col + d.Col}) {
						list = append(list, p)
					}
					switch {
					case r >= n && d.Row > 0 || d.Col > 0 && r >= n:
						list = list[:1]
					case d.Row > 0:
						list = list[:max(n-r, 1)]
					}
					want := list[len(list)-1]
					if len(list) > 1 && filled(list[0]) && filled(list[1]) {
						for _, p := range list {
							if !filled(p) {
								break
							}
							want = p
						}
					} else {
						for _, p := range list[1:] {
							if filled(p) {
								want = p
								break
							}
						}
					}
					for _, extend := range []bool{false, true} {
						m.Go(Pos{0, 3}, false)
						m.Go(Pos{r, c}, true)
						m.Jump(d.Row, d.Col, extend, nil)
						end := want
						if extend {
							end = Pos{0, 3}
						}
						if m.cur != want || m.anchor != end {
							t.Fatalf("from %d, %d by %v in %s: %v from %v, want %v from %v", r, c, d, visible(m), m.cur, m.anchor, want, end)
						}
					}
				}
			}
		}
		m.Go(Pos{0, 1}, false)
		if m.Jump(0, 0, false, nil); m.cur != (Pos{0, 1}) {
			t.Error("a jump nowhere")
		}
	}
	// what is filled is what the owner says: results too. It is asked of cells that are there
	m := sheet("A|B", "x|", "|", "|")
	m.SetOrder([]int{^0, 0, 1})
	m.Jump(1, 0, false, func(p Pos) bool { return p.Row == 1 })
	if m.cur != (Pos{1, 0}) {
		t.Errorf("%v", m.cur)
	}
	for _, d := range []Pos{{0, 1}, {0, -1}, {1, 0}, {-1, 0}} {
		for _, full := range []bool{false, true} {
			m.Go(Pos{1, 1}, false)
			m.Jump(d.Row, d.Col, false, func(p Pos) bool {
				if p.Row < 0 || p.Row > 2 || p.Col < 0 || p.Col > 2 {
					t.Errorf("by %v: asked of %v", d, p)
				}
				return full
			})
			if want := (Pos{1 + d.Row, 1 + d.Col}); m.cur != want {
				t.Errorf("by %v: %v", d, m.cur)
			}
		}
	}
}

// Home and End, alone and with Ctrl, and the whole sheet; with Shift the other end stays.
func TestEnds(t *testing.T) {
	for _, c := range []struct {
		rows     []string
		keep     func(int) bool
		from     Pos
		end, all Pos // Ctrl+End, and the last cell of all that is shown
	}{
		{[]string{"1|2|3", "4", "|", "|"}, nil, Pos{1, 1}, Pos{1, 2}, Pos{3, 2}},
		{[]string{"1|2|3", "4", "|", "|"}, func(r int) bool { return r != 1 }, Pos{1, 1}, Pos{2, 2}, Pos{2, 2}},
		{[]string{"1|2|3", "4", "|", "|"}, func(r int) bool { return false }, Pos{5, 1}, Pos{0, 2}, Pos{0, 2}},
		{nil, nil, Pos{5, 1}, Pos{0, 2}, Pos{0, 2}},
		{[]string{"|", "|"}, nil, Pos{5, 1}, Pos{0, 2}, Pos{1, 2}},
		{[]string{"1"}, nil, Pos{9, 1}, Pos{0, 2}, Pos{0, 2}},
	} {
		m := sheet("A|B|C", c.rows...)
		m.Arrange(nil, nil, c.keep)
		for _, extend := range []bool{false, true} {
			for _, k := range []struct {
				name string
				do   func()
				want Pos
			}{
				{"Home", func() { m.RowStart(false, extend) }, Pos{c.from.Row, 0}}, {"Ctrl+Home", func() { m.RowStart(true, extend) }, Pos{0, 0}},
				{"End", func() { m.RowEnd(false, extend) }, Pos{c.from.Row, 2}}, {"Ctrl+End", func() { m.RowEnd(true, extend) }, c.end},
			} {
				m.Go(c.from, false)
				k.do()
				anchor := k.want
				if extend {
					anchor = c.from
				}
				if m.cur != k.want || m.anchor != anchor {
					t.Errorf("%s from %v in %q: %v from %v, want %v from %v", k.name, c.from, c.rows, m.cur, m.anchor, k.want, anchor)
				}
			}
		}
		if m.SelectAll(); m.cur != (Pos{}) || m.anchor != c.all {
			t.Errorf("all of %q: %v to %v", c.rows, m.cur, m.anchor)
		}
	}
}

// Tab in a sheet of one column goes to the next row, backwards to the one before, from wherever; past results only.
func TestTabsInNarrowSheets(t *testing.T) {
	for _, c := range []struct {
		order    []int
		from     Pos
		dc       int
		want     Pos
		enterRow int
	}{
		{[]int{0}, Pos{0, 0}, 1, Pos{1, 0}, 2}, {[]int{0}, Pos{3, 0}, -1, Pos{2, 0}, 3}, {[]int{0}, Pos{0, 0}, -1, Pos{0, 0}, 1}, {[]int{^0, 0}, Pos{3, 1}, -1, Pos{2, 1}, 3}, {[]int{^0, 0}, Pos{0, 1}, -1, Pos{0, 1}, 1},
		{[]int{0, ^0}, Pos{3, 0}, 1, Pos{4, 0}, 5}, {[]int{0, ^0}, Pos{3, 0}, -1, Pos{2, 0}, 3}, {[]int{^0, 0, ^1}, Pos{3, 0}, 1, Pos{3, 1}, 4}, {[]int{^0, 0, ^1}, Pos{3, 2}, -1, Pos{3, 1}, 4},
	} {
		m := sheet("A", "1", "2", "3", "4", "5")
		m.SetOrder(c.order)
		m.Go(c.from, false)
		if m.Step(0, c.dc); m.cur != c.want || m.anchor != c.want {
			t.Errorf("%v from %v by %d: %v, want %v", c.order, c.from, c.dc, m.cur, c.want)
		}
		if m.Step(1, 0); m.cur != (Pos{c.enterRow, c.from.Col}) {
			t.Errorf("%v from %v by %d, and Enter: %v", c.order, c.from, c.dc, m.cur)
		}
	}
	// Shift+Enter goes up, and nothing goes nowhere
	m := sheet("A|B", "1|2", "3|4")
	m.Go(Pos{1, 1}, false)
	if m.Step(-1, 0); m.cur != (Pos{0, 1}) {
		t.Error(m.cur)
	}
	m.Select(Rect{0, 0, 1, 1})
	if m.Step(0, 0); m.Selection() != (Rect{0, 0, 1, 1}) {
		t.Error(m.Selection())
	}
}

// What is typed stands in the cell that was opened, wherever the cursor went since, and the cursor goes on from there. Nothing typed below the last row makes no row, blanks are a clearing.
func TestTypedWhereItWasOpened(t *testing.T) {
	m := sheet("A|B|C", "1|2|3", "4|5|6", "7|8|9")
	m.Go(Pos{0, 1}, false)
	m.Begin()
	m.Select(Rect{2, 2, 1, 0})
	if ch := m.Commit("x", 1, 0); !ch.Any || m.Cell(0, 1) != "x" || m.cur != (Pos{1, 1}) || m.anchor != m.cur || m.UndoName() != "typing" {
		t.Errorf("%+v, at %v, %s", ch, m.cur, text(m))
	}
	m.Go(Pos{5, 0}, false)
	m.Begin()
	if ch := m.Commit("", 1, 0); ch.Any || len(m.Rows()) != 3 || m.cur != (Pos{6, 0}) {
		t.Errorf("%+v, %d rows", ch, len(m.Rows()))
	}
	m.Go(Pos{1, 1}, false)
	m.Begin()
	if ch := m.Commit("5", 0, 1); ch.Any || m.cur != (Pos{1, 2}) {
		t.Errorf("the same text: %+v", ch)
	}
	m.Begin()
	if ch := m.Commit(" ", 0, 0); !ch.Any || m.UndoName() != "clearing a cell" || m.Cell(1, 2) != " " {
		t.Errorf("%+v %q", ch, m.UndoName())
	}
	// without an open cell Commit only steps, and writes nothing; the Tab began in the column before
	if ch := m.Commit("y", 1, 0); ch.Any || m.cur != (Pos{2, 1}) || m.Cell(1, 2) != " " {
		t.Errorf("%+v, at %v", ch, m.cur)
	}
	m.Begin()
	m.Cancel()
	if _, open := m.Editing(); open {
		t.Error("open after Cancel")
	}
	if ch := m.Commit("y", 0, 0); ch.Any {
		t.Errorf("%+v", ch)
	}
	// a row that is too short grows just so far
	m = sheet("A|B|C", "1", "4|5|6")
	m.Go(Pos{0, 1}, false)
	m.Begin()
	if m.Commit("x", 0, 0); len(m.Rows()[0]) != 2 {
		t.Errorf("%q", m.Rows()[0])
	}
}

// A sum is worked out in whole rows, as many as hold the cells asked for; rows that are too short hold nothing there, an input without text is not asked for its number, and blanks of every
// kind are no text.
func TestSumsInPieces(t *testing.T) {
	m := sheet("A|B|C|D", "1|2|3|4", "5", "\u00a0| \t|\u2003|ä", "|-1|x|", "9|9|9|9")
	m.SetOrder([]int{0, ^0, 1, 2, 3})
	m.Select(Rect{0, 0, 4, 2}) // A, the result, B
	always := func(row, x int) (float64, bool) { return 1, true }
	s := m.Summarise(always)
	for i, want := range []int{3, 6, 12, 15} { // of 3 cells a row: 1, 3, 4 and 99 asked for
		done := s.Next([]int{1, 3, 4, 99}[i])
		if s.sum.Cells != want || done != (want == 15) {
			t.Errorf("piece %d: %d cells, want %d; done %v", i, s.sum.Cells, want, done)
		}
	}
	// A: 1, 5, 9; the result everywhere; B: 2, −1, 9
	if got, ok := s.Result(); !ok || got != (Summary{Cells: 15, Filled: 11, Numbers: 11, Sum: 11, Min: 1, Max: 1}) {
		t.Errorf("%+v", got)
	}
	never := func(row, x int) (float64, bool) { return math.NaN(), x != 1 }
	s = m.Summarise(never)
	s.Next(99)
	if got, _ := s.Result(); got != (Summary{Cells: 15, Filled: 6}) {
		t.Errorf("%+v", got)
	}
	if !s.Next(0) || s.sum.Cells != 15 {
		t.Error("not done")
	}
	s = m.Summarise(always)
	if s.Next(0) || s.sum.Cells != 0 {
		t.Error("nothing asked for and something counted")
	}
	m.Arrange(nil, nil, func(int) bool { return true })
	if _, ok := s.Result(); ok || !s.Next(1) || s.sum.Cells != 0 {
		t.Error("what is shown has changed since")
	}
	m.Select(Rect{0, 1, 4, 2})
	s = m.Summarise(always)
	if s.Next(3) || s.sum.Cells != 4 {
		t.Errorf("two rows of two cells: %d", s.sum.Cells)
	}
	// only rows that are there, and a sum without end stays one
	m.Select(Rect{4, 1, 30, 4})
	s = m.Summarise(func(row, x int) (float64, bool) { return math.Inf(1), x > 0 })
	if !s.Next(1) {
		t.Error("not done")
	}
	if got, _ := s.Result(); got != (Summary{4, 4, 4, math.Inf(1), math.Inf(1), math.Inf(1)}) {
		t.Errorf("%+v", got)
	}
	m.Select(Rect{5, 0, 9, 2})
	s = m.Summarise(always)
	if got, ok := s.Result(); !s.Next(1) || !ok || got != (Summary{}) {
		t.Errorf("%+v", got)
	}
}

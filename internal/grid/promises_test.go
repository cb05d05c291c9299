package grid

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// Capitals are alike in every alphabet that has them, the final sigma too: what is found is what strings.EqualFold finds at some place, which the Unicode consortium's
// simple folding rules.
func TestFindCapitals(t *testing.T) {
	words := []string{"Насос", "НАСОС 3", "насос", "ΑΝΤΛΙΑΣ", "αντλιας", "Αντλιασ", "Größe", "GRÖßE", "grösse", "Čerpadlo", "ČERPADLO", "pump Ä", "PUMP ä", "Աղբյուր", "ԱՂԲՅՈՒՐ", "ポンプ", "P-7 ÉTÉ", "p-7 été", "ǅ", "ǆ", "ſ", ""}
	rnd := rand.New(rand.NewPCG(3, 3))
	cell := func() string { return words[rnd.IntN(len(words))] }
	hits := 0
	for range 300 {
		rows := make([][]string, 1+rnd.IntN(4))
		for i := range rows {
			rows[i] = []string{cell() + " " + cell(), cell()}
		}
		m := New(nil, []string{"A", "B"}, rows)
		m.SetOrder([]int{0, 1})
		q := []rune(cell())
		if len(q) == 0 {
			continue
		}
		from := rnd.IntN(len(q))
		query := string(q[from : from+1+rnd.IntN(len(q)-from)])
		ascii := !strings.ContainsFunc(query, func(r rune) bool { return r >= 0x80 })
		for _, whole := range []bool{false, true} {
			want := 0
			for _, row := range rows {
				for _, s := range row {
					r := []rune(s)
					hit := false
					for i := 0; i+len([]rune(query)) <= len(r); i++ {
						part := string(r[i : i+len([]rune(query))])
						if ascii && strings.ContainsFunc(part, func(r rune) bool { return r >= 0x80 }) {
							continue // the long s and the sign of the kelvin are no s and k to whoever types those
						}
						if strings.EqualFold(part, query) && (!whole || len(part) == len(s)) {
							hit = true
						}
					}
					if hit {
						want++
					}
				}
			}
			f := m.Find(query, FindOptions{WholeCell: whole}, nil)
			if f.Count != want || f.OK != (want > 0) {
				t.Errorf("%q, whole %v, in %q: %d cells, want %d", query, whole, rows, f.Count, want)
			}
			hits += want
		}
	}
	if hits < 200 {
		t.Errorf("only %d hits", hits)
	}
}

// The summary of a selection is that of the cells that are seen in it: after sorting, filtering, hiding, after an edit, undone and done again. Counted a second way, cell by cell
// through what is shown.
func TestSumsOfWhatIsShown(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 5))
	value := func(m *Model) func(row, x int) (float64, bool) {
		return func(row, x int) (float64, bool) {
			c := m.Column(x)
			if c < 0 { // a result: the number of the stored row
				return float64(100 + row), row%3 > 0
			}
			v, err := strconv.ParseFloat(m.Cell(row, c), 64)
			return v, err == nil
		}
	}
	for range 200 {
		rows := make([][]string, 3+rnd.IntN(8))
		for i := range rows {
			for range 3 {
				rows[i] = append(rows[i], []string{"", " ", "x", strconv.Itoa(rnd.IntN(50) - 20), "2.5"}[rnd.IntN(5)])
			}
		}
		m := New(nil, []string{"A", "B", "C"}, rows)
		m.SetOrder([]int{0, ^0, 1, 2})
		check := func(what string) {
			t.Helper()
			s := m.Selection()
			var want Summary
			want.Min, want.Max = math.Inf(1), math.Inf(-1)
			for r := s.R0; r <= s.R1 && r < m.ShownRows(); r++ {
				for x := s.C0; x <= s.C1; x++ {
					want.Cells++
					v, ok := value(m)(m.Stored(r), x)
					if ok {
						want.Numbers++
						want.Sum += v
						want.Min, want.Max = min(want.Min, v), max(want.Max, v)
					}
					if ok || m.Column(x) >= 0 && strings.TrimSpace(m.At(Pos{r, x})) != "" {
						want.Filled++
					}
				}
			}
			if want.Numbers == 0 {
				want.Min, want.Max = 0, 0
			}
			sum := m.Summarise(value(m))
			for i := 0; !sum.Next(1 + rnd.IntN(5)); i++ {
				if i > 100 {
					t.Fatal("it does not end")
				}
			}
			got, ok := sum.Result()
			if !ok || got.Cells != want.Cells || got.Filled != want.Filled || got.Numbers != want.Numbers || got.Min != want.Min || got.Max != want.Max || math.Abs(got.Sum-want.Sum) > 1e-9 {
				t.Fatalf("%s: %+v, want %+v over %v of %s", what, got, want, s, visible(m))
			}
		}
		choose := func() {
			m.Select(Rect{rnd.IntN(len(rows)), rnd.IntN(m.Columns()), rnd.IntN(len(rows) + 2), rnd.IntN(m.Columns())})
		}
		choose()
		check("as stored")
		m.Arrange([]SortKey{{Col: rnd.IntN(4), Desc: rnd.IntN(2) == 0}}, nil, nil)
		check("sorted")
		keep := rnd.IntN(3)
		m.Arrange([]SortKey{{Col: 0}}, nil, func(r int) bool { return r%3 != keep })
		choose()
		check("sorted and filtered")
		m.SetHidden([]int{[]int{0, 1, 2, ^0}[rnd.IntN(4)]})
		choose()
		check("with a column hidden")
		begun := m.Summarise(value(m))
		m.SetCell(m.Stored(0), 0, strconv.Itoa(1000+rnd.IntN(9))) // another text than before
		if _, ok := begun.Result(); ok || !begun.Next(1) {
			t.Fatal("a sum that was begun before a change is taken for one of the sheet as it is")
		}
		check("after an edit")
		m.Undo()
		check("undone")
		m.Redo()
		check("done again")
	}
}

// Undone, the selection is where it was before the operation; done again, where the operation left it, both corners.
func TestSelectionThroughUndoAndRedo(t *testing.T) {
	rnd := rand.New(rand.NewPCG(2, 9))
	type at struct {
		cur, anchor Pos
		text        string
	}
	for range 300 {
		m := New(nil, []string{"A", "B", "C"}, [][]string{{"1", "a"}, {"2", "b", "x"}, {"3"}, {"4", "d", "y"}})
		m.SetOrder([]int{0, ^0, 1, 2})
		now := func() at { return at{m.cur, m.anchor, text(m)} }
		var before, after []at
		for range 1 + rnd.IntN(6) {
			m.Go(Pos{rnd.IntN(5), rnd.IntN(4)}, false)
			if rnd.IntN(2) == 0 {
				m.Go(Pos{rnd.IntN(5), rnd.IntN(4)}, true)
			}
			b := now()
			var ch Change
			switch rnd.IntN(8) {
			case 0:
				ch = m.FillDown()
			case 1:
				ch = m.FillTo(Rect{m.Selection().R0, m.Selection().C0, m.Selection().R1 + 2, m.Selection().C1}, true)
			case 2:
				ch = m.InsertRows()
			case 3:
				ch = m.DeleteRows()
			case 4:
				ch = m.DuplicateRows()
			case 5:
				ch = m.MoveRows(1)
			case 6:
				ch = m.Delete()
			case 7:
				ch = m.Rename(rnd.IntN(3), fmt.Sprint("N ", rnd.IntN(1000)))
				m.SetOrder([]int{0, ^0, 1, 2})
			}
			if ch.Any {
				before, after = append(before, b), append(after, now())
			}
		}
		for i := len(before) - 1; i >= 0; i-- {
			m.Undo()
			if got := now(); got != before[i] {
				t.Fatalf("step %d undone: %+v, before it %+v", i, got, before[i])
			}
		}
		for i := range after {
			m.Redo()
			if got := now(); got != after[i] {
				t.Fatalf("step %d done again: %+v, after it %+v", i, got, after[i])
			}
		}
	}
}

// A column renamed keeps its cells and its place; so do the others, hidden ones too. Undone it has its name again.
func TestRenameKeepsCells(t *testing.T) {
	m := New(nil, []string{"A", "B", "C"}, [][]string{{"1", "a", "x"}, {"2", "b", "y"}})
	m.SetOrder([]int{2, ^0, 0, 1})
	m.SetHidden([]int{1})
	cells := func() string { return fmt.Sprint(m.Rows(), m.Header()) }
	was := cells()
	if ch := m.Rename(1, "Speed"); !ch.Any || !ch.Header {
		t.Fatalf("%+v", ch)
	}
	if got := cells(); got != "[[1 a x] [2 b y]] [A Speed C]" {
		t.Error(got)
	}
	for _, c := range []struct {
		c    int
		name string
	}{{1, "Speed"}, {-1, "x"}, {3, "x"}} {
		if ch := m.Rename(c.c, c.name); ch.Any || m.UndoName() != "renaming a column" {
			t.Errorf("renaming %d to %q: %+v", c.c, c.name, ch)
		}
	}
	if got := m.Undo(); got.Note != "renaming a column" || cells() != was {
		t.Errorf("%+v %s", got, cells())
	}
	if m.Redo(); m.Header()[1] != "Speed" {
		t.Error(m.Header())
	}
	if ch := m.RenameAll([]string{"X", "Y"}); ch.Any {
		t.Error("two names for three columns")
	}
	if ch := m.RenameAll([]string{"A", "Speed", "C"}); ch.Any {
		t.Error("the same names are no change")
	}
	if ch := m.RenameAll([]string{"X", "Y", "Z"}); !ch.Any || !slices.Equal(m.Header(), []string{"X", "Y", "Z"}) || fmt.Sprint(m.Rows()) != "[[1 a x] [2 b y]]" {
		t.Error(m.Header(), m.Rows())
	}
	if m.Undo(); m.Header()[0] != "A" {
		t.Error(m.Header())
	}
	for c := range 3 {
		want := slices.Clone(m.Header())
		want[c] = "N"
		if m.Rename(c, "N"); !slices.Equal(m.Header(), want) {
			t.Errorf("column %d: %q", c, m.Header())
		}
		m.Undo()
	}
}

// A series of equal steps goes on in all four directions as arithmetic has it, through what is shown: hidden columns, results and rows that are filtered away stay as they are.
func TestFillSeriesByArithmetic(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 400 {
		n, w := 9, 6
		rows := make([][]string, n)
		for i := range rows {
			rows[i] = make([]string, w)
			for c := range rows[i] {
				rows[i][c] = "old"
			}
		}
		header := []string{"A", "B", "C", "D", "E", "F"}
		m := New(nil, header, rows)
		m.SetOrder([]int{0, 1, ^0, 2, 3, 4, 5})
		m.SetHidden([]int{1 + rnd.IntN(2)})
		gone := rnd.IntN(n)
		m.Arrange(nil, nil, func(r int) bool { return r != gone })
		var inputs []int
		for x := range m.Columns() {
			if m.Column(x) >= 0 {
				inputs = append(inputs, x)
			}
		}
		start, step := rnd.IntN(40)-20, 1+rnd.IntN(7)
		term := func(k int) string { return strconv.Itoa(start + k*step) } // k may be negative
		seeds, more := 2+rnd.IntN(2), 1+rnd.IntN(3)
		back, across := rnd.IntN(2) == 0, rnd.IntN(2) == 0
		first := 0
		if back {
			first = more
		}
		lane := rnd.IntN(3) // row or column where it happens
		place := func(k int) Pos {
			if across {
				return Pos{lane, inputs[first+k]}
			}
			return Pos{first + k, inputs[lane]}
		}
		if across && first+seeds+more > len(inputs) {
			continue
		}
		for k := range seeds {
			p := place(k)
			m.SetCell(m.Stored(p.Row), m.Column(p.Col), term(k))
		}
		was := make([][]string, n)
		for i := range was {
			was[i] = slices.Clone(m.Rows()[i])
		}
		a, b := place(0), place(seeds-1)
		m.Select(Rect{a.Row, a.Col, b.Row, b.Col})
		end := place(seeds - 1 + more)
		target := Rect{a.Row, a.Col, end.Row, end.Col}
		if back {
			end = place(-more)
			target = Rect{end.Row, end.Col, b.Row, b.Col}
		}
		// Numbers that are positions of the clock a quarter apart go round instead; TestExtrapolate has them.
		if step == 3 {
			continue
		}
		m.FillTo(target, true)
		for k := 1; k <= more; k++ {
			i := seeds - 1 + k
			if back {
				i = -k
			}
			p := place(i)
			r, c := m.Stored(p.Row), m.Column(p.Col)
			if got := m.Cell(r, c); got != term(i) {
				t.Fatalf("back %v across %v: cell %v holds %q, term %d is %s", back, across, p, got, i, term(i))
			}
			was[r][c] = term(i)
		}
		for r := range was {
			for c := range was[r] {
				if m.Cell(r, c) != was[r][c] {
					t.Fatalf("back %v across %v: row %d column %d is %q, was %q", back, across, r, c, m.Cell(r, c), was[r][c])
				}
			}
		}
		if got := m.Selection(); got != target {
			t.Fatalf("%v is selected, filled was %v", got, target)
		}
	}
}

// A number written with an exponent is none that a series goes on from, as Extrapolate says; letters that only begin like one are text around a number.
func TestExponentsAreNoSeries(t *testing.T) {
	for _, c := range []struct{ seeds, want []string }{
		{[]string{"1e3", "2e3"}, []string{"1e3", "2e3"}},
		{[]string{"1E3", "2E3"}, []string{"1E3", "2E3"}},
		{[]string{"1e3 mm", "2e3 mm"}, []string{"1e3 mm", "2e3 mm"}},
		{[]string{"1e.5", "2e.5"}, []string{"1e.5", "2e.5"}},
		{[]string{"1em", "2em"}, []string{"3em", "4em"}},
		{[]string{"1 e", "2 e"}, []string{"3 e", "4 e"}},
		{[]string{"1 east", "2 east"}, []string{"3 east", "4 east"}},
		{[]string{"east 1", "east 2"}, []string{"east 3", "east 4"}},
		{[]string{"1/8", "2/8"}, []string{"1/8", "2/8"}},
		{[]string{"008", "009"}, []string{"010", "011"}},
		{[]string{".5", "1"}, []string{"1.5", "2"}},
		{[]string{"P 9", "P 10"}, []string{"P 11", "P 12"}},
	} {
		if got := Extrapolate(c.seeds, 2, false); !slices.Equal(got, c.want) {
			t.Errorf("%q goes on %q, not %q", c.seeds, got, c.want)
		}
	}
}

// Rows are put nowhere while a cell is being typed in, and not into a sheet without columns.
func TestPutRowsWaits(t *testing.T) {
	m := New(nil, []string{"Name", "Value"}, [][]string{{"a", "1"}})
	m.SetOrder([]int{0, 1})
	if _, ok := m.Begin(); !ok {
		t.Fatal("no typing")
	}
	if ch := m.PutRows("x", [][]string{{"a", "2"}}); ch.Any || m.Cell(0, 1) != "1" {
		t.Error("put while typing")
	}
	m.Cancel()
	if ch := m.PutRows("x", [][]string{{"a", "2"}}); !ch.Any || m.Cell(0, 1) != "2" {
		t.Error("not put after it")
	}
	if ch := New(nil, nil, nil).PutRows("x", [][]string{{"a", "2"}}); ch.Any {
		t.Error("put into a sheet without columns")
	}
}

// Shown and Column are each other's reverse, whatever the order and whatever is hidden.
func TestShownAgainstColumn(t *testing.T) {
	rnd := rand.New(rand.NewPCG(15, 8))
	for range 200 {
		n := 1 + rnd.IntN(5)
		m := New(nil, strings.Split("ABCDE"[:n], ""), nil)
		var wish, hidden []int
		for _, c := range rnd.Perm(n + 2)[:rnd.IntN(n+2)] {
			if wish = append(wish, c-1); c == 0 {
				wish[len(wish)-1] = ^0
			}
		}
		for c := range n {
			if rnd.IntN(4) == 0 {
				hidden = append(hidden, c)
			}
		}
		m.SetOrder(wish)
		m.SetHidden(hidden)
		places := map[int]int{}
		for x := range m.Columns() {
			places[m.Column(x)] = x
		}
		for c := range n {
			want, ok := places[c]
			if ok == slices.Contains(hidden, c) {
				t.Fatalf("order %v, hidden %v: column %d shown %v", wish, hidden, c, ok)
			}
			if got := m.Shown(c); ok && got != want || !ok && got != -1 {
				t.Fatalf("order %v, hidden %v: column %d is shown at %d, want %d, %v", wish, hidden, c, got, want, ok)
			}
		}
	}
}

// Whoever pastes a list under its own headers into a sheet that is sorted and filtered stands on the first row that came, where it is shown.
func TestPastedListIsFound(t *testing.T) {
	for keep := range 5 {
		m := sheet("Machine|Speed", "P1|1480", "P2|2960", "P3|990", "P4|740")
		m.Arrange([]SortKey{{Col: 1, Desc: true}}, nil, func(r int) bool { return r < keep })
		m.Go(Pos{0, 1}, false)
		if ch := m.PasteText("Machine\tSpeed\nA\t1\nB\t9000\n", known); !ch.Any {
			t.Fatal("not pasted")
		}
		if at := m.Stored(m.cur.Row); at != 4 || m.cur.Col != 0 || m.At(m.cur) != "A" || m.cur != m.anchor {
			t.Errorf("%d rows kept: the cursor is at %v, stored row %d of %s", keep, m.cur, at, visible(m))
		}
	}
}

// Of the directions in which a block reaches equally far the first of down, right, up and left is filled, and only one.
func TestFillGoesOneWay(t *testing.T) {
	for _, c := range []struct{ target, want Rect }{
		{Rect{0, 0, 4, 4}, Rect{2, 2, 4, 2}}, {Rect{0, 0, 2, 4}, Rect{2, 2, 2, 4}}, {Rect{0, 0, 2, 2}, Rect{0, 2, 2, 2}}, {Rect{2, 0, 2, 2}, Rect{2, 0, 2, 2}},
		{Rect{2, 1, 4, 4}, Rect{2, 2, 4, 2}}, {Rect{1, 2, 2, 4}, Rect{2, 2, 2, 4}}, {Rect{0, 1, 2, 3}, Rect{0, 2, 2, 2}},
	} {
		m := sheet("A|B|C|D|E", "a|b|c|d|e", "f|g|h|i|j", "k|l|m|n|o", "p|q|r|s|t", "u|v|w|x|y")
		m.Select(Rect{2, 2, 2, 2})
		m.FillTo(c.target, false)
		if got := m.Selection(); got != c.want {
			t.Errorf("%v: %v, want %v", c.target, got, c.want)
		}
	}
}

// Clearing cells that are empty is no step.
func TestNothingClearedIsNoStep(t *testing.T) {
	m := sheet("A|B", "a|", "b|")
	m.Select(Rect{0, 1, 1, 1})
	if ch := m.Delete(); ch.Any || m.UndoName() != "" {
		t.Errorf("%+v, %q", ch, m.UndoName())
	}
}

// Clock positions are a series where they go round by quarters in one direction, and 12 to 3 is among the steps; else they are numbers.
func TestQuarters(t *testing.T) {
	for _, c := range []struct {
		v    []int64
		want bool
	}{
		{[]int64{12, 3}, true}, {[]int64{3, 12}, true}, {[]int64{12, 3, 6, 9, 12}, true}, {[]int64{3, 12, 9, 6}, true}, {[]int64{9, 12, 3}, true},
		{[]int64{12, 3, 12}, false}, {[]int64{12, 3, 3}, false}, {[]int64{12, 3, 9}, false}, {[]int64{3, 6}, false}, {[]int64{6, 9}, false}, {[]int64{12}, false}, {[]int64{12, 6}, false}, {nil, false},
		{[]int64{12, 3, 4}, false}, {[]int64{9, 12}, false},
		{[]int64{7, 12, 3}, false}, {[]int64{0, 12, 3}, false}, {[]int64{12, 3, 6, 7}, false}, {[]int64{12, 3, 6, 15}, false}, {[]int64{3, 12, 9, 6, 0}, false}, // one that is no quarter at either end
	} {
		if got := quarters(c.v); got != c.want {
			t.Errorf("%v: %v", c.v, got)
		}
	}
}

// A pasted column goes to the one of the same text before one of the same meaning, and of two of the same text both are kept.
func TestPastedColumnsAreKeptApart(t *testing.T) {
	m := sheet("Machine|Speed", "P1|1480")
	m.PasteText("Machine\tSPEED\tSpeed\nP2\t1\t2\n", known)
	if len(m.header) != 3 || m.header[2] != "SPEED" || m.Cell(1, 1) != "2" || m.Cell(1, 2) != "1" {
		t.Errorf("%q, %q", m.header, m.rows)
	}
	m = sheet("Machine|Speed", "P1|1480")
	m.PasteText("Machine\tSpeed\tSpeed\nP2\t1\t2\n", known)
	if len(m.header) != 3 || m.Cell(1, 1) != "1" || m.Cell(1, 2) != "2" {
		t.Errorf("%q, %q", m.header, m.rows)
	}
}

// Rows are put over those with the same first cell; a row without any cell is none of them.
func TestPutRowsPastEmptyRows(t *testing.T) {
	m := New(nil, []string{"A", "B"}, [][]string{{}, {"a", "1"}, nil})
	m.PutRows("test", [][]string{{"a", "2"}, {"b", "3"}})
	if m.Cell(1, 1) != "2" || m.Cell(3, 0) != "b" || len(m.Rows()) != 4 {
		t.Errorf("%q", m.Rows())
	}
}

// Sorting and filtering again leaves the cursor on its row and in its column, wherever the row goes, and as far below the last row as it was.
func TestCursorStaysOnItsRow(t *testing.T) {
	for row := range 3 {
		for col := range 5 {
			m := sheet("A|B|C|D|E", "2|a|b|c|d", "3|e|f|g|h", "1|i|j|k|l")
			m.Go(Pos{row, col}, false)
			m.Arrange([]SortKey{{Col: 0}}, nil, nil)
			if m.Stored(m.cur.Row) != row || m.cur.Col != col || m.anchor != m.cur {
				t.Errorf("from %d, %d: at %v, stored row %d", row, col, m.cur, m.Stored(m.cur.Row))
			}
			m.Go(Pos{m.ShownRows() + row, col}, false)
			m.Arrange([]SortKey{{Col: 0}}, nil, func(r int) bool { return r > 0 })
			if m.cur != (Pos{2 + row, col}) {
				t.Errorf("%d below the last row: at %v of %d rows", row, m.cur, m.ShownRows())
			}
		}
	}
}

// From below the last row a jump upwards leads to the next filled cell, as from any empty cell, and one to the left stays in its row. Seen: Ctrl+Up from there ran past the filled cells to
// the first row, and Ctrl+Left went up into the last row.
func TestJumpFromBelow(t *testing.T) {
	for _, col := range []int{0, 1, 2} {
		m := sheet("A|B|C", "a|b|", "c|d|", "e|f|", "g||", "h||x", "i||")
		m.Go(Pos{20, col}, false)
		m.Jump(-1, 0, false, nil)
		if want := [3]int{5, 2, 4}[col]; m.cur != (Pos{want, col}) {
			t.Errorf("column %d: %v, want row %d", col, m.cur, want)
		}
		m.Go(Pos{20, col}, false)
		m.Jump(0, -1, false, nil)
		if m.cur != (Pos{20, 0}) {
			t.Errorf("to the left: %v", m.cur)
		}
	}
}

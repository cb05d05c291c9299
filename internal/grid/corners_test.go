package grid

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Series end where the calendar ends, and nothing is filled in a sheet without columns.
func TestEndsOfSeries(t *testing.T) {
	for _, c := range []struct{ seeds, want string }{{"9999-12-30", "9999-12-31"}, {"9999-12-31", "9999-12-32"}, {"0000-01-02", "0000-01-03"}} {
		if got := Extrapolate([]string{c.seeds}, 1, false); got[0] != c.want && c.seeds != "9999-12-31" || len(got[0]) != 10 {
			t.Errorf("%s goes on with %q", c.seeds, got)
		}
	}
	if got := Extrapolate([]string{"0000-01-01"}, 1, true); got[0] == "-001-12-31" || strings.HasPrefix(got[0], "-") {
		t.Errorf("%q", got)
	}
	m := New(nil, nil, nil)
	if ch := m.FillTo(Rect{0, 0, 5, 5}, true); ch.Any {
		t.Error("a sheet without columns is filled")
	}
}

// Every match is found, whatever letters it begins with, capitals or not, and a replacement goes on behind what it put there.
func TestMatchesInTexts(t *testing.T) {
	for _, c := range []struct {
		text, query, with, want string
		match, whole            bool
	}{
		{"aXbxc", "x", "-", "a-b-c", false, false}, {"aXbxc", "x", "-", "aXb-c", true, false}, {"xxx", "xx", "y", "yx", false, false}, {"äÄ", "ä", "o", "oo", false, false}, {"aäa", "äa", "!", "a!", false, false}, {"pump", "pum", "PUM", "PUMp", false, false}, {"pump", "pump", "motor", "motor", false, true}, {"pump 1", "pump", "motor", "pump 1", false, true},
		{"aab", "ab", "c", "ac", false, false}, {"Straße", "STRASSE", "x", "Straße", false, false}, {"ǅ", "ǆ", "x", "x", false, false}, {"", "x", "y", "", false, false}, {"xx", "x", "xx", "xxxx", false, false},
	} {
		m := New(nil, []string{"A"}, [][]string{{c.text}})
		m.ReplaceAll(c.query, c.with, FindOptions{MatchCase: c.match, WholeCell: c.whole})
		if got := m.Cell(0, 0); got != c.want {
			t.Errorf("%q, %q by %q: %q, want %q", c.text, c.query, c.with, got, c.want)
		}
	}
}

// A column put in among ragged rows moves what stands behind it, and no more; taken out again all is as before.
func TestColumnsAmongRaggedRows(t *testing.T) {
	for at := range 4 {
		rows := [][]string{{"a", "b", "c"}, {"a", "b"}, {"a"}, nil, {"", "", "c"}}
		m := New(nil, []string{"A", "B", "C"}, slices.Clone(rows))
		before := fmt.Sprintf("%q %q", m.Header(), m.Rows())
		m.AddColumn(at, "new")
		for r := range rows {
			for c := range 3 {
				to := c
				if c >= at {
					to++
				}
				want := ""
				if c < len(rows[r]) {
					want = rows[r][c]
				}
				if got := m.Cell(r, to); got != want {
					t.Errorf("a column at %d: %q stands in row %d, column %d, want %q", at, got, r, to, want)
				}
			}
			if m.Cell(r, at) != "" || len(m.Rows()[r]) > len(rows[r])+1 || len(rows[r]) <= at && len(m.Rows()[r]) != len(rows[r]) {
				t.Errorf("a column at %d: row %d is %q", at, r, m.Rows()[r])
			}
		}
		m.DeleteColumn(at)
		if got := fmt.Sprintf("%q %q", m.Header(), m.Rows()); got != before {
			t.Errorf("put in and taken out at %d: %s, was %s", at, got, before)
		}
	}
}

// After a filter the cursor stays on its row, or goes to the last that is shown; past the rows it stays as far past them; one column of a row stays the selection.
func TestCursorThroughFilters(t *testing.T) {
	rows := [][]string{{"a", "1"}, {"b", "2"}, {"c", "3"}, {"d", "4"}}
	for cur := range 7 {
		m := New(nil, []string{"A", "B"}, slices.Clone(rows))
		m.Go(Pos{cur, 1}, false)
		keep := func(row int) bool { return row < 2 }
		m.Arrange(nil, nil, keep)
		want := map[int]int{0: 0, 1: 1, 2: 1, 3: 1, 4: 2, 5: 3, 6: 4}[cur]
		if got := m.Cursor(); got != (Pos{want, 1}) || m.Selection() != (Rect{want, 1, want, 1}) {
			t.Errorf("from row %d to %v, selected %v", cur, got, m.Selection())
		}
	}
}

// Ranges are copied together where they have the same columns, or the same rows; ranges that only begin alike are none.
func TestRangesCopiedTogether(t *testing.T) {
	for _, c := range []struct {
		a, b Rect
		ok   bool
	}{{Rect{0, 0, 0, 1}, Rect{2, 0, 2, 1}, true}, {Rect{0, 0, 0, 1}, Rect{2, 0, 2, 2}, false}, {Rect{0, 0, 0, 1}, Rect{2, 1, 2, 1}, false}, {Rect{0, 0, 1, 0}, Rect{0, 2, 1, 2}, true}, {Rect{0, 0, 1, 0}, Rect{0, 2, 2, 2}, false}, {Rect{0, 0, 1, 0}, Rect{1, 2, 1, 2}, false}} {
		m := New(nil, []string{"A", "B", "C"}, [][]string{{"1", "2", "3"}, {"4", "5", "6"}, {"7", "8", "9"}})
		m.Select(c.a)
		m.Also(Pos{c.b.R0, c.b.C0})
		m.Go(Pos{c.b.R1, c.b.C1}, true)
		m.more = []Rect{c.a}
		if _, _, ok := m.copied(); ok != c.ok {
			t.Errorf("%v and %v: %v", c.a, c.b, ok)
		}
	}
}

// Tab goes over the cells of a row, passes over read-only ones, and on to the next row; backwards the same way, and from the first cell nowhere. Enter then goes down from where the run of Tabs began.
func TestStepsThroughCells(t *testing.T) {
	for _, c := range []struct {
		order []int
		from  Pos
		dc    int
		want  string
	}{
		{[]int{0, 1, 2}, Pos{0, 0}, 1, "0,1 0,2 1,0 1,1"}, {[]int{0, 1, 2}, Pos{1, 1}, -1, "1,0 0,2 0,1 0,0 0,0"}, {[]int{0, ^0, 1, 2}, Pos{0, 0}, 1, "0,2 0,3 1,0"}, {[]int{^0, 0, 1, 2}, Pos{1, 1}, -1, "0,3 0,2 0,1 0,1"}, {[]int{0, 1, 2, ^0}, Pos{0, 2}, 1, "1,0 1,1"}, {[]int{0, 1, 2, ^0}, Pos{1, 0}, -1, "0,2 0,1"},
	} {
		m := New(nil, []string{"A", "B", "C"}, [][]string{{"1", "2", "3"}, {"4", "5", "6"}, {"7", "8", "9"}})
		m.SetOrder(c.order)
		m.Go(c.from, false)
		var got []string
		for range strings.Fields(c.want) {
			m.Step(0, c.dc)
			got = append(got, fmt.Sprintf("%d,%d", m.Cursor().Row, m.Cursor().Col))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%v from %v by %d: %s, want %s", c.order, c.from, c.dc, s, c.want)
		}
		if m.Step(1, 0); c.dc > 0 && m.Cursor().Col != c.from.Col {
			t.Errorf("%v: Enter goes to column %d, the Tabs began in %d", c.order, m.Cursor().Col, c.from.Col)
		}
	}
}

// A sum keeps what is small beside what cancels: 1 + 1e100 + 1 − 1e100 is 2.
func TestSumsKeepWhatIsSmall(t *testing.T) {
	for _, list := range [][]float64{{1, 1e100, 1, -1e100}, {1e100, 1, -1e100, 1}, {1, -1e100, 1, 1e100}} {
		var s Summing
		for _, v := range list {
			s.add(v)
		}
		if got := s.sum.Sum + s.lost; got != 2 || s.sum.Numbers != 4 || s.sum.Min != -1e100 || s.sum.Max != 1e100 {
			t.Errorf("%v: %g, %+v", list, got, s.sum)
		}
	}
}

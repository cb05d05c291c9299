package grid

import (
	"slices"
	"strconv"
	"strings"
	"testing"
)

// What goes on and what is repeated, on both sides of each bound: digits, signs, exponents, the ends of the calendar. By the rules of Extrapolate.
func TestBoundsOfSeries(t *testing.T) {
	for _, c := range []struct{ seeds, want string }{
		{"0000-01-31", "0000-02-01"}, {"9999-01-31", "9999-02-01"},
		{"100000000000001|100000000000002", "100000000000003"},    // 15 digits
		{"1000000000000001|1000000000000002", "1000000000000001"}, // 16
		{"0000000000000001|0000000000000002", "0000000000000003"}, // zeros before are none
		{"10.0.0.1|10.0.0.2", "10.0.0.1|10.0.0.2"}, {"10,0,0|10,0,1", "10,0,0|10,0,1"},
		{"1e-3|1e-4", "1e-3|1e-4"}, {"1e-3|2e-3", "1e-3|2e-3"}, {"1E+3|1E+4", "1E+3|1E+4"}, {"1e+3|2e+3", "1e+3|2e+3"}, {"1E-3|2E-3", "1E-3|2E-3"}, // no number with an exponent is one of a series
		{"1e-x|2e-x", "3e-x"}, {"1e-|2e-", "3e-"}, {"1e|2e", "3e"}, {"1E|2E", "3E"}, {"x1e|x2e", "x3e"},
		{"e5", "e6"}, {"E7", "E8"}, {"e-5|e-6", "e-7"}, {"we-5|we-6", "we-7"}, {"we5|we6", "we7"},
		{"A/1|A/2", "A/1|A/2"}, {"1/A|2/A", "1/A|2/A"},
		{".5A-2|.7A-2", ".9A-2|1.1A-2"}, {"1.A7|2.A7", "3.A7"}, {"1.,A7|3.,A7", "5.,A7"}, {"A.5x-2|A.7x-2", "A.9x-2|A1.1x-2"},
		{"+2|+1", "0|-1"}, {"+1|+2", "+3"}, {"-2|-1", "0|1"}, {"−2|−1", "0|1"},
		{"0|1", "2"}, {"00|01", "02"}, {"09|10", "11"}, {"8|09", "10"}, {"099|100", "101"}, {"0.08|0.09", "0.10|0.11"}, {"007.5|008", "008.5"},
		{"P 0|P 5", "P 10"}, {"5", "5"}, {" 5", " 5"}, {"5 mm", "5 mm"}, {"A-5", "A-6"}, {"-5", "-5"}, {"P 1.5", "P 1.5"}, {"P", "P"},
		{"12|3|6", "9|12"}, {"12|3|6|10", "12|3"}, {"6|9|12", "15"}, {"9|6", "3|0|-3"}, {"9|6|3|12", "9|6"}, {"12.0|3.0", "-6.0"},
	} {
		want := strings.Split(c.want, "|")
		if got := Extrapolate(strings.Split(c.seeds, "|"), len(want), false); !slices.Equal(got, want) {
			t.Errorf("%q goes on %q, want %q", c.seeds, got, want)
		}
	}
	if got := Extrapolate([]string{"x"}, 0, false); len(got) != 0 {
		t.Errorf("nothing asked for: %q", got)
	}
}

// A series ends before its numbers leave what whole numbers of 64 bits hold: as far as 10^18 either way it is exact, past that the seeds are repeated.
func TestSeriesOfLargeSteps(t *testing.T) {
	const step = 800_000_000_000_000
	for _, sign := range []string{"", "-"} {
		other := map[string]string{"": "-", "-": ""}[sign]
		seeds := []string{other + strconv.Itoa(step), "0"}
		got := Extrapolate(seeds, 1250, false)
		if last := got[1249]; last != sign+"1000000000000000000" {
			t.Errorf("%q ends with %s", seeds, last)
		}
		for i, s := range got {
			if want := strconv.Itoa(step * (i + 1)); s != sign+want {
				t.Fatalf("%q: term %d is %s, want %s", seeds, i, s, sign+want)
			}
		}
		if got := Extrapolate(seeds, 1251, false); got[0] != seeds[0] || got[1250] != seeds[0] {
			t.Errorf("%q goes on %q … %q", seeds, got[0], got[1250])
		}
	}
	// the one to go on from counts too
	if got := Extrapolate([]string{"-100000000000000", "900000000000000"}, 999, false); got[998] != "999900000000000000" {
		t.Errorf("%q", got[998])
	}
	if got := Extrapolate([]string{"-100000000000000", "900000000000000"}, 1000, false); got[0] != "-100000000000000" {
		t.Errorf("%q", got[0])
	}
}

// Filled to the right and to the left is what stands in the first and the last input column of the selection, into the other input columns of it; results between, before and behind are
// passed over and not counted. Seen: with a result between two inputs one column that was filled was told as two.
func TestFillAcrossResults(t *testing.T) {
	for _, c := range []struct {
		order       []int
		sel         Rect
		right, left string
		undoRight   string
	}{
		{[]int{0, 1, 2, 3}, Rect{0, 1, 0, 3}, "a|b|b|b", "a|d|d|d", "2 columns"},
		{[]int{0, ^0, 1, ^1, 2, 3}, Rect{0, 0, 0, 2}, "a|a|c|d", "b|b|c|d", "1 column"},
		{[]int{0, ^0, 1, ^1, 2, 3}, Rect{0, 1, 0, 4}, "a|b|b|d", "a|c|c|d", "1 column"},
		{[]int{0, ^0, 1, ^1, 2, 3}, Rect{0, 1, 0, 3}, "", "", ""},
		{[]int{0, ^0, ^1, 1, 2, 3}, Rect{0, 1, 0, 2}, "", "", ""},
		{[]int{0, ^0, ^1, 1, 2, 3}, Rect{0, 2, 0, 5}, "a|b|b|b", "a|d|d|d", "2 columns"},
		{[]int{0, 1, ^0, ^1, 2, 3}, Rect{0, 0, 0, 3}, "a|a|c|d", "b|b|c|d", "1 column"},
		{[]int{3, ^0, 0, 1, 2}, Rect{0, 0, 0, 2}, "d|b|c|d", "a|b|c|a", "1 column"},
		{[]int{0, 1, 2, 3}, Rect{0, 1, 0, 1}, "", "", ""},
	} {
		for _, left := range []bool{false, true} {
			m := sheet("A|B|C|D", "a|b|c|d", "e|f|g|h")
			m.SetOrder(c.order)
			m.Select(c.sel)
			at := m.cur
			ch, want, name := Change{}, c.right, " to the right"
			if left {
				ch, want, name = m.FillLeft(), c.left, " to the left"
			} else {
				ch = m.FillRight()
			}
			if want == "" {
				if ch.Any || m.UndoName() != "" {
					t.Errorf("%v, %v, left %v: %+v, %q", c.order, c.sel, left, ch, m.UndoName())
				}
				continue
			}
			if got := text(m); got != "A|B|C|D/"+want+"/e|f|g|h" || m.UndoName() != "filling "+c.undoRight+name {
				t.Errorf("%v, %v, left %v: %s, %q", c.order, c.sel, left, got, m.UndoName())
			}
			if m.cur != at || m.Selection() != c.sel {
				t.Errorf("%v selected", m.Selection())
			}
		}
	}
}

// What is filled reaches to the end of the sheet and of the spare rows, no further; a block that reaches out of the sheet is cut to it before the direction is chosen.
func TestFillToTheEnds(t *testing.T) {
	m := sheet("A|B|C", "1|x|y", "2|x|y")
	m.Select(Rect{0, 0, 1, 0})
	m.FillTo(Rect{0, 0, 1 << 20, 0}, true)
	if n := len(m.Rows()); n != 2+Spare || m.Cell(n-1, 0) != strconv.Itoa(2+Spare) || m.Selection() != (Rect{0, 0, 1 + Spare, 0}) {
		t.Errorf("%d rows, selected %v", n, m.Selection())
	}
	m.Undo()
	m.Select(Rect{0, 0, 1, 0})
	m.FillTo(Rect{0, 0, 4, 99}, true) // two columns to the right, three rows down
	want(t, m, "A|B|C/1|x|y/2|x|y/3/4/5")
	m.Undo()
	m.Select(Rect{1, 2, 1, 2})
	m.FillTo(Rect{-99, -99, 1, 2}, false) // one row up, two columns to the left
	want(t, m, "A|B|C/1|x|y/y|y|y")
	m.Undo()
	// from a result there is nothing to fill with
	m.SetOrder([]int{0, ^0, 1, 2})
	m.Select(Rect{0, 1, 1, 1})
	if ch := m.FillTo(Rect{0, 1, 1, 3}, false); ch.Any || m.Selection() != (Rect{0, 1, 1, 3}) {
		t.Errorf("%+v, selected %v", ch, m.Selection())
	}
	// nor in a sheet whose columns are all hidden
	m.SetHidden([]int{0, 1, 2, ^0})
	for name, do := range doings {
		if strings.HasPrefix(name, "fill") {
			if ch := do(m); ch.Any {
				t.Errorf("%s without columns: %+v", name, ch)
			}
		}
	}
}

// A series that is filled ends where the block ends: how far it would go below 0 behind that is no matter. Cells that are filled with nothing make no rows, and cells that hold what they are
// filled with are not counted.
func TestFillSeriesDownFromTheMiddle(t *testing.T) {
	m := sheet("A|B", "|k", "|k", "|k", "P 5|k", "P 4|k", "|", "|")
	m.Select(Rect{3, 0, 4, 0})
	m.FillTo(Rect{3, 0, 6, 0}, true)
	want(t, m, "A|B/|k/|k/|k/P 5|k/P 4|k/P 3/P 2")
	m.Undo()
	m.Select(Rect{3, 0, 4, 0})
	m.FillTo(Rect{0, 0, 4, 0}, true)
	want(t, m, "A|B/P 8|k/P 7|k/P 6|k/P 5|k/P 4|k//")
	if m.UndoName() != "filling a series into 3 cells" {
		t.Error(m.UndoName())
	}
	m = sheet("A|B", "1|", "1|", "2|")
	m.Select(Rect{0, 0, 0, 1})
	m.FillTo(Rect{0, 0, 9, 1}, false)
	if m.UndoName() != "filling 8 cells" || len(m.Rows()) != 10 {
		t.Errorf("%q, %d rows", m.UndoName(), len(m.Rows()))
	}
	m = sheet("A|B", "|x")
	m.Select(Rect{0, 0, 0, 0})
	if ch := m.FillTo(Rect{0, 0, 9, 0}, true); ch.Any || len(m.Rows()) != 1 {
		t.Errorf("%+v, %d rows", ch, len(m.Rows()))
	}
	// a row that is shorter than the column grows, and what stands in it stays
	m = sheet("A|B|C", "1|2|3", "4", "", "5|6")
	m.Select(Rect{0, 2, 0, 2})
	m.FillTo(Rect{0, 2, 3, 2}, false)
	want(t, m, "A|B|C/1|2|3/4||3/||3/5|6|3")
}

// How far a double-click fills: along the column at the left, past results and hidden columns, as far as it is filled without a gap; else along the one at the right.
func TestFillAlongWhichColumn(t *testing.T) {
	rows := []string{"1|a|x|p", "2||x|q", "3|| |", "|||r", "5|||s"}
	for _, c := range []struct {
		order []int
		hide  []int
		keep  func(int) bool
		sel   Rect
		end   int // last row filled, the selection's own for none
	}{
		{[]int{0, 1, 2, 3}, nil, nil, Rect{0, 1, 0, 1}, 2},
		{[]int{0, ^0, 1, 2, 3}, nil, nil, Rect{0, 2, 0, 2}, 2},
		{[]int{1, ^0, 2, 0, 3}, nil, nil, Rect{0, 0, 0, 0}, 1},                            // nothing at the left: along C, past the result
		{[]int{1, 2, 3}, []int{0}, nil, Rect{0, 0, 0, 0}, 1},                              // A is hidden
		{[]int{0, 1, 2, 3}, nil, nil, Rect{2, 3, 2, 3}, 2},                                // C is a blank below, nothing at the right
		{[]int{0, 1, 2, 3}, nil, nil, Rect{3, 1, 3, 1}, 4},                                // A goes on in row 4
		{[]int{0, 1, 2, 3}, nil, nil, Rect{0, 1, 1, 2}, 2},                                // several columns, several rows
		{[]int{0, 1, 2, 3}, nil, nil, Rect{4, 1, 4, 1}, 4},                                // the last row
		{[]int{0, 1, 2, 3}, nil, func(r int) bool { return r != 3 }, Rect{0, 1, 0, 1}, 3}, // without the gap
		{[]int{3, 2, 1, 0}, nil, nil, Rect{2, 2, 2, 2}, 2},                                // C is a blank, A holds nothing below 3
		{[]int{2, 1, 3, 0}, nil, nil, Rect{2, 1, 2, 1}, 4},                                // C ends here, D goes on
		{[]int{2, 1, 3, 0}, nil, nil, Rect{3, 1, 3, 1}, 4},                                // C ends, D goes on
	} {
		m := sheet("A|B|C|D", rows...)
		m.SetOrder(c.order)
		m.SetHidden(c.hide)
		m.Arrange(nil, nil, c.keep)
		m.Select(c.sel)
		for y := c.sel.R0; y <= c.sel.R1; y++ {
			for x := c.sel.C0; x <= c.sel.C1; x++ {
				m.SetCell(m.Stored(y), m.Column(x), "F")
			}
		}
		ch := m.FillAlong(false)
		last := c.sel.R1
		for last+1 < m.ShownRows() && m.At(Pos{last + 1, c.sel.C0}) == "F" {
			last++
		}
		if last != c.end || ch.Any != (c.end > c.sel.R1) || (ch.Note == "") != ch.Any {
			t.Errorf("%v, %v: to row %d, want %d; %+v", c.order, c.sel, last, c.end, ch)
		}
		if got := m.Selection(); got != (Rect{c.sel.R0, c.sel.C0, c.end, c.sel.C1}) {
			t.Errorf("%v, %v: %v is selected", c.order, c.sel, got)
		}
	}
}

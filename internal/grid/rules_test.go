package grid

import (
	"fmt"
	"html"
	"math"
	"math/big"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The wanted outcomes below are what the doc comments promise and spreadsheet programs at large do (common practice, no source),
// written out by hand. Sums are checked against math/big.

func TestExtrapolate(t *testing.T) {
	for _, c := range []struct{ seeds, want, back string }{
		{"7", "7|7|7", "7|7|7"},
		{"12.5 mil", "12.5 mil|12.5 mil", "12.5 mil"},
		{"-3", "-3", "-3"},
		{"Pump 7", "Pump 8|Pump 9|Pump 10", "Pump 6|Pump 5"},
		{"Pump 1", "Pump 2", "Pump 0"},
		{"Pump 1", "Pump 2", "Pump 1|Pump 1"}, // would go below 0: repeated
		{"P-009", "P-010|P-011", "P-008"},
		{"P-9A", "P-9A", "P-9A"},
		{"Pump 1.2", "Pump 1.2", "Pump 1.2"},
		{"3/8", "3/8", "3/8"},
		{"1e3", "1e3", "1e3"},
		{"10.0.0.1", "10.0.0.1", "10.0.0.1"},
		{"1|2", "3|4|5", "0|-1|-2"},
		{"10|8", "6|4|2|0|-2", "12|14"},
		{"0.1|0.2", "0.3|0.4|0.5|0.6|0.7|0.8|0.9|1.0", "0.0|-0.1"},
		{"0,5|1", "1,5|2|2,5", "0|-0,5"},
		{"1.0|1.5", "2.0|2.5", "0.5"},
		{"1|1,25", "1,5|1,75|2", "0,75"},
		{".5|.75", "1.0|1.25", ".25|.0"},
		{"12.50 mil|12.75 mil", "13.00 mil|13.25 mil", "12.25 mil"},
		{"Pump 7|Pump 9", "Pump 11|Pump 13", "Pump 5|Pump 3|Pump 1"},
		{"1A-2|2A-2", "3A-2|4A-2", "0A-2"},
		{"A1-10|A1-20", "A1-30", "A1-0"},
		{"+1|+3", "+5", "-1"},
		{"−1|−2", "−3", "0|1"},
		{"008|010", "012", "006"},
		{"1|2|4", "1|2|4|1", "4|2|1|4"},
		{"1,5|2.5", "1,5|2.5|1,5", "2.5"},
		{"a|b", "a|b|a", "b|a|b"},
		{"|", "||", "||"},
		{"x|", "x||x", "|x"},
		{"12|3", "6|9|12|3", "9|6|3|12"},
		{"9|12|3", "6|9", "6|3"},
		{"3|12", "9|6|3|12|9", "6|9|12"},
		{"12|3|6|9", "12|3|6|9|12", "9|6"},
		{"3|6", "9|12|15", "0"},
		{"12 o'clock|3 o'clock", "6 o'clock|9 o'clock|12 o'clock", "9 o'clock"},
		{"0|45|90", "135|180|225|270|315|360", "-45"},
		{"2026-03-31", "2026-04-01|2026-04-02", "2026-03-30"},
		{"2028-02-28", "2028-02-29|2028-03-01", "2028-02-27"},
		{"2026-01-05|2026-01-12", "2026-01-19|2026-01-26", "2025-12-29"},
		{"2026-02-30", "2026-02-31", "2026-02-29"}, // no date: a text that ends in a number
		{"99999999999999999999|99999999999999999998", "99999999999999999999|99999999999999999998", "99999999999999999998"},
	} {
		seeds := strings.Split(c.seeds, "|")
		for back, w := range map[bool]string{false: c.want, true: c.back} {
			want := strings.Split(w, "|")
			if got := Extrapolate(seeds, len(want), back); !slices.Equal(got, want) {
				t.Errorf("%q back %v: %q, want %q", seeds, back, got, want)
			}
		}
	}
	if Extrapolate(nil, 3, false) != nil {
		t.Error("something out of nothing")
	}
}

func TestFill(t *testing.T) {
	for _, c := range []struct {
		name, header string
		rows         []string
		sel          Rect
		do           func(m *Model) Change
		want, undo   string
	}{
		{"right", "A|B|C", []string{"1|2|3", "4"}, Rect{0, 0, 1, 2}, (*Model).FillRight, "A|B|C/1|1|1/4|4|4", "filling 2 columns to the right"},
		{"left", "A|B|C", []string{"1|2|3", "4||6"}, Rect{0, 0, 1, 2}, (*Model).FillLeft, "A|B|C/3|3|3/6|6|6", "filling 2 columns to the left"},
		{"up", "A|B", []string{"1|2", "3", "5|6"}, Rect{0, 0, 2, 1}, (*Model).FillUp, "A|B/5|6/5|6/5|6", "filling 2 rows up"},
		{"down past the end", "A|B", []string{"1|2"}, Rect{0, 0, 2, 0}, (*Model).FillDown, "A|B/1|2/1/1", "filling 2 rows down"},
		{"down, repeated", "A|B", []string{"1|2", "3|4"}, Rect{0, 0, 1, 1}, to(Rect{0, 0, 4, 1}, false), "A|B/1|2/3|4/1|2/3|4/1|2", "filling 6 cells"},
		{"down, a series by column", "A|B", []string{"P 1|10", "P 2|20"}, Rect{0, 0, 1, 1}, to(Rect{0, 0, 3, 1}, true), "A|B/P 1|10/P 2|20/P 3|30/P 4|40", "filling a series into 4 cells"},
		{"up, a series", "A", []string{"", "", "5", "6"}, Rect{2, 0, 3, 0}, to(Rect{0, 0, 3, 0}, true), "A/3/4/5/6", "filling a series into 2 cells"},
		{"right, a series by row", "A|B|C|D", []string{"1|2", "12|3"}, Rect{0, 0, 1, 1}, to(Rect{0, 0, 1, 3}, true), "A|B|C|D/1|2|3|4/12|3|6|9", "filling a series into 4 cells"},
		{"left, a series", "A|B|C|D", []string{"||5|6"}, Rect{0, 2, 0, 3}, to(Rect{0, 0, 0, 3}, true), "A|B|C|D/3|4|5|6", "filling a series into 2 cells"},
		{"the longer way only", "A|B", []string{"1|9"}, Rect{0, 0, 0, 0}, to(Rect{0, 0, 2, 1}, false), "A|B/1|9/1/1", "filling 2 cells"},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := sheet(c.header, c.rows...)
			before := text(m)
			m.Select(c.sel)
			if ch := c.do(m); !ch.Any || m.UndoName() != c.undo {
				t.Errorf("%+v %q, want %q", ch, m.UndoName(), c.undo)
			}
			want(t, m, c.want)
			m.Undo()
			want(t, m, before)
		})
	}
	m := sheet("A|B", "1|2")
	m.SetOrder([]int{0, ^0, 1})
	m.Select(Rect{0, 0, 0, 0})
	m.FillTo(Rect{0, 0, 0, 2}, true)
	want(t, m, "A|B/1|1") // over the read-only column
	if m.Selection() != (Rect{0, 0, 0, 2}) {
		t.Errorf("selected %v", m.Selection())
	}
	for _, r := range []Rect{{0, 0, 0, 2}, {0, 1, 0, 1}, {-5, -5, -1, -1}} {
		if ch := m.FillTo(r, true); ch.Any {
			t.Errorf("filling to %v changed something", r)
		}
	}
}

func to(r Rect, series bool) func(m *Model) Change {
	return func(m *Model) Change { return m.FillTo(r, series) }
}

func numKey(m *Model) KeyFunc {
	return func(row, x int) (float64, string) {
		s := m.Cell(row, m.Column(x))
		if v, err := strconv.ParseFloat(s, 64); err == nil {
			return v, s
		}
		return math.NaN(), s
	}
}

func TestSortAndFilter(t *testing.T) {
	m := sheet("Name|Size", "P 10|3", "p 2|20", "P 1|", "Q|open", "P 2|3", "")
	show := func(s string) {
		t.Helper()
		var got []string
		for r := range m.ShownRows() {
			got = append(got, m.At(Pos{r, 0}))
		}
		if g := strings.Join(got, ","); g != s {
			t.Errorf("shown are %s, want %s", g, s)
		}
	}
	m.Go(Pos{1, 1}, false)
	m.Arrange([]SortKey{{1, false}}, numKey(m), nil)
	show("P 10,P 2,p 2,Q,P 1,")
	if m.Cursor() != (Pos{2, 1}) {
		t.Errorf("cursor at %v, its row is now the third", m.Cursor())
	}
	m.Arrange([]SortKey{{1, true}}, numKey(m), nil)
	show("p 2,P 10,P 2,Q,P 1,")
	m.Arrange([]SortKey{{0, false}}, numKey(m), nil)
	show("P 1,p 2,P 2,P 10,Q,")
	m.Arrange([]SortKey{{1, false}, {0, false}}, numKey(m), nil)
	show("P 2,P 10,p 2,Q,P 1,")
	if ch := m.MoveRows(1); ch.Any || ch.Note == "" {
		t.Errorf("moved in a sorted view: %+v", ch)
	}
	// a row that changes stays in its place until asked
	m.Go(Pos{0, 1}, false)
	m.Begin()
	if m.Arrange(nil, nil, nil) || m.Refresh() {
		t.Error("arranged under an open cell")
	}
	if ch := m.Commit("99", 0, 0); ch.From != 4 || ch.To != 5 {
		t.Errorf("%+v, want the stored row 4", ch)
	}
	show("P 2,P 10,p 2,Q,P 1,")
	m.Refresh()
	show("P 10,p 2,P 2,Q,P 1,")
	if m.Cursor() != (Pos{2, 1}) {
		t.Errorf("cursor at %v, its row is now the third", m.Cursor())
	}
	// a row put in stands where it was put, stored before the row below it
	m.Go(Pos{3, 0}, false)
	m.InsertRows()
	show("P 10,p 2,P 2,,Q,P 1,")
	want(t, m, "Name|Size/P 10|3/p 2|20/P 1//Q|open/P 2|99/")
	m.Undo()
	show("P 10,p 2,P 2,Q,P 1,")
	m.SortStored()
	want(t, m, "Name|Size/P 10|3/p 2|20/P 2|99/Q|open/P 1/")
	if s, f := m.Arranged(); s || f || m.UndoName() != "sorting 6 rows" {
		t.Errorf("sorted %v, filtered %v, %q", s, f, m.UndoName())
	}
	m.Undo()
	want(t, m, "Name|Size/P 10|3/p 2|20/P 1/Q|open/P 2|99/")

	// filtered: paste, delete, move and typing below the end
	odd := func(r int) bool { return r%2 == 0 }
	m = sheet("A|B", "a|1", "b|2", "c|3", "d|4", "e|5")
	m.Arrange(nil, nil, odd)
	show("a,c,e")
	m.Go(Pos{1, 0}, false)
	m.PasteText("x\ny\nz", Meaning{})
	want(t, m, "A|B/a|1/b|2/x|3/d|4/y|5/z")
	show("a,x,y,z")
	m.Select(Rect{0, 0, 1, 0})
	if ch := m.MoveRows(1); !ch.Any || m.UndoName() != "moving 2 rows" {
		t.Errorf("%+v %q", ch, m.UndoName())
	}
	want(t, m, "A|B/y|5/b|2/a|1/d|4/x|3/z")
	if m.Selection() != (Rect{1, 0, 2, 0}) {
		t.Errorf("selected %v", m.Selection())
	}
	ch := m.DeleteRows()
	if m.UndoName() != "deleting 2 rows" || ch.From != 2 || !ch.Moved {
		t.Errorf("%+v %q", ch, m.UndoName())
	}
	want(t, m, "A|B/y|5/b|2/d|4/z")
	m.Undo()
	show("y,a,x,z")
	m.Select(Rect{1, 0, 2, 0})
	m.DuplicateRows()
	if m.UndoName() != "duplicating 2 rows" {
		t.Error(m.UndoName())
	}
	show("y,a,x,a,x,z")
	want(t, m, "A|B/y|5/b|2/a|1/d|4/x|3/a|1/x|3/z")
	for m.Undo().Any {
	}
	show("a,c,e")
	// a view made after the change that is undone
	m.Select(Rect{0, 0, 0, 0})
	m.DeleteRows()
	m.Arrange([]SortKey{{0, true}}, nil, nil)
	show("e,d,c,b")
	m.Undo()
	show("e,d,c,a,b") // before the row stored behind it
	m.Redo()
	show("e,d,c,b")
	// nothing is kept
	m.Arrange(nil, nil, func(int) bool { return false })
	if m.ShownRows() != 0 || m.Height() != Spare || m.Stored(2) != 6 {
		t.Errorf("%d rows shown, height %d, first spare %d", m.ShownRows(), m.Height(), m.Stored(0))
	}
	m.Go(Pos{0, 0}, false)
	m.Begin()
	m.Commit("new", 0, 0)
	show("new")
	m.Rename(0, "N")
	if m.Refresh() {
		t.Error("filtered again though the columns changed")
	}
}

func TestNaturally(t *testing.T) {
	list := []string{"", "1", "2", "02", "10", "a", "a 2", "a 10", "a1b2", "a1b10", "b", "p-9", "p-010", "p-11"}
	for i, a := range list {
		for j, b := range list {
			if got := naturally(a, b); got < 0 != (i < j) && !(a == "2" && b == "02" || a == "02" && b == "2") || (got == 0) != (i == j) || got != -naturally(b, a) {
				t.Errorf("%q and %q: %d", a, b, got)
			}
		}
	}
}

func TestFind(t *testing.T) {
	res := func(row, k int) string { return fmt.Sprintf("res %d", row) }
	m := sheet("A|B", "Pump 1|a", "pump 2|Pump", "fan|ÄB äb")
	m.SetOrder([]int{0, ^0, 1})
	type at struct {
		p    Pos
		i, n int
		wrap bool
	}
	check := func(q string, o FindOptions, shown func(int, int) string, want at) {
		t.Helper()
		f := m.Find(q, o, shown)
		if !f.OK && want.n == 0 && f.Count == 0 {
			return
		}
		if f.At != want.p || f.Index != want.i || f.Count != want.n || f.Wrapped != want.wrap || m.Cursor() != want.p {
			t.Errorf("%q %+v: %+v, want %+v", q, o, f, want)
		}
	}
	check("pump", FindOptions{}, nil, at{Pos{1, 0}, 2, 3, false})
	check("pump", FindOptions{}, nil, at{Pos{1, 2}, 3, 3, false})
	check("pump", FindOptions{Here: true}, nil, at{Pos{1, 2}, 3, 3, false})
	check("pump", FindOptions{}, nil, at{Pos{0, 0}, 1, 3, true})
	check("pump", FindOptions{Back: true}, nil, at{Pos{1, 2}, 3, 3, true})
	check("pump", FindOptions{MatchCase: true}, nil, at{Pos{1, 0}, 1, 1, true})
	check("PUMP", FindOptions{WholeCell: true}, nil, at{Pos{1, 2}, 1, 1, false})
	check("äB", FindOptions{}, nil, at{Pos{2, 2}, 1, 1, false})
	check("res", FindOptions{}, res, at{Pos{0, 1}, 1, 3, true})
	check("res", FindOptions{}, nil, at{})
	check("", FindOptions{}, res, at{})
	m.Go(Pos{0, 0}, false)
	check("pump", FindOptions{InColumn: true}, nil, at{Pos{1, 0}, 2, 2, false})
	check("pump", FindOptions{InColumn: true}, nil, at{Pos{0, 0}, 1, 2, true})
	m.Select(Rect{1, 0, 2, 2})
	check("p", FindOptions{InSelection: true}, nil, at{Pos{1, 2}, 2, 2, false})
	check("p", FindOptions{InSelection: true}, nil, at{Pos{1, 0}, 1, 2, true})
	m.Go(Pos{2, 0}, false) // left the selection: the whole sheet again
	check("p", FindOptions{InSelection: true}, nil, at{Pos{0, 0}, 1, 3, true})
	if f := m.Find("res", FindOptions{}, res); f.Fixed != 3 {
		t.Errorf("%+v", f)
	}
	if ch, f := m.Replace("res", "x", FindOptions{}, res); ch.Any || ch.Note == "" || !f.OK {
		t.Errorf("a result replaced: %+v", ch)
	}

	m.Find("pump", FindOptions{}, nil)
	first := m.Cursor()
	ch, f := m.Replace("pump", "P", FindOptions{}, nil)
	if !ch.Any || m.UndoName() != "replacing a cell" || f.Count != 2 || m.At(first) == "pump" {
		t.Errorf("%+v %+v", ch, f)
	}
	m.Undo()
	if ch := m.ReplaceAll("pump", "$P", FindOptions{}); !ch.Any || m.UndoName() != "replacing 3 cells" {
		t.Errorf("%+v %q", ch, m.UndoName())
	}
	want(t, m, "A|B/$P 1|a/$P 2|$P/fan|ÄB äb")
	m.ReplaceAll("äb", "x", FindOptions{})
	want(t, m, "A|B/$P 1|a/$P 2|$P/fan|x x")
	if ch := m.ReplaceAll("nowhere", "x", FindOptions{}); ch.Any {
		t.Errorf("%+v", ch)
	}
	m.Undo()
	m.Undo()
	// under a filter only what is shown
	m.Arrange(nil, nil, func(r int) bool { return r > 0 })
	m.ReplaceAll("pump", "x", FindOptions{})
	want(t, m, "A|B/Pump 1|a/x 2|x/fan|ÄB äb")
}

func TestHidden(t *testing.T) {
	m := sheet("A|B|C", "1|2|3")
	m.SetOrder([]int{2, ^0, 0, 1})
	m.SetHidden([]int{0, ^0})
	if m.Columns() != 2 || m.Shown(0) != -1 || m.Column(0) != 2 || m.Column(1) != 1 {
		t.Errorf("shown %v", m.order)
	}
	m.Go(Pos{0, 0}, false)
	m.PasteText("8\t9", Meaning{}) // over the hidden one
	want(t, m, "A|B|C/1|9|8")
	m.SetOrder([]int{0, 1, 2})
	if m.Columns() != 2 || m.Column(0) != 1 {
		t.Errorf("shown %v", m.order)
	}
	m.AddColumn(0, "N")
	if !reflect.DeepEqual(m.Hidden(), []int{1, ^0}) {
		t.Errorf("hidden %v, want A where it is now", m.Hidden())
	}
	m.Undo()
	m.DeleteColumn(0)
	if !reflect.DeepEqual(m.Hidden(), []int{^0}) {
		t.Errorf("hidden %v", m.Hidden())
	}
	m.SetHidden(nil)
	if m.Columns() != 2 {
		t.Errorf("shown %v", m.order)
	}
}

func TestPlan(t *testing.T) {
	m := sheet("Machine|Speed", "P1|1480", "P2|2960")
	m.Go(Pos{1, 0}, false)
	p := m.PlanPasteText("P2\t990\tx\nP3\t\ty", known)
	if !p.OK || p.Table || p.Over != 1 || p.New != 1 || p.Cells != 6 || p.Replaced != 1 || p.Name != "paste of 2 rows" ||
		!reflect.DeepEqual(p.Samples, []PlanSample{{1, 1, "2960", "990"}}) ||
		!reflect.DeepEqual(p.Columns, []PlanColumn{{"", 0, "Machine", false}, {"", 1, "Speed", false}, {"", 2, "Column 3", true}}) {
		t.Errorf("%+v", p)
	}
	want(t, m, "Machine|Speed/P1|1480/P2|2960")
	q := m.PlanPasteText("Spring\nmachine\tTag\tSPEED\t\nP3\tT\t1\t", known)
	if !q.OK || !q.Table || q.Fresh || q.New != 1 || q.Over != 0 || q.Replaced != 0 || q.TitleLines != 1 || q.Note == "" ||
		!reflect.DeepEqual(q.Columns, []PlanColumn{{"machine", 0, "Machine", false}, {"Tag", 2, "Tag", true}, {"SPEED", 1, "Speed", false}, {"", -1, "", false}}) {
		t.Errorf("%+v", q)
	}
	if ch := m.ApplyPlan(q); !ch.Any || ch.Note == "" {
		t.Errorf("%+v", ch)
	}
	want(t, m, "Machine|Speed|Tag/P1|1480/P2|2960/P3|1|T")
	if ch := m.ApplyPlan(p); ch.Any || ch.Note == "" {
		t.Errorf("a plan for another sheet: %+v", ch)
	}
	if p := sheet("").PlanPasteText("1\t2", known); p.OK || p.Note == "" {
		t.Errorf("%+v", p)
	}
	if p := sheet("").PlanPasteText("Spring\nMachine\nP1\n", known); !p.OK || !p.Fresh || p.New != 1 || p.TitleLines != 1 {
		t.Errorf("%+v", p)
	}
}

func TestSummarise(t *testing.T) {
	vals := []float64{1e16, 1, -1e16, 0.1, 0.2, 0.3, 3, math.NaN()}
	m := sheet("A|B")
	exact := new(big.Float).SetPrec(2000)
	for i, v := range vals {
		m.rows = append(m.rows, []string{fmt.Sprint(v), ""})
		if !math.IsNaN(v) {
			exact.Add(exact, big.NewFloat(v))
		}
		if i == 2 {
			m.rows = append(m.rows, []string{"text", " "})
		}
	}
	m.Select(Rect{0, 0, 40, 1})
	s := m.Summarise(func(row, x int) (float64, bool) {
		v, err := strconv.ParseFloat(m.Cell(row, m.Column(x)), 64)
		return v, err == nil
	})
	steps := 1
	for !s.Next(4) {
		steps++
	}
	got, ok := s.Result()
	w, _ := exact.Float64()
	if !ok || got != (Summary{Cells: 18, Filled: 9, Numbers: 7, Sum: w, Min: -1e16, Max: 1e16}) || steps < 4 {
		t.Errorf("%+v in %d steps, want the sum %v", got, steps, w)
	}
	m.Go(Pos{0, 0}, false)
	m.Begin()
	m.Commit("2", 0, 0)
	if _, ok := s.Result(); ok || !s.Next(1) {
		t.Error("a summary of another sheet")
	}
}

func TestCopyHTML(t *testing.T) {
	cells := []string{`<b>&"x"</b>`, "3/8\"", "two\nlines", "ä °C", "&amp;", ""}
	m := New(nil, []string{"A<1>", "B"}, [][]string{cells[:2:2], cells[2:4:4], cells[4:6:6]})
	m.Select(Rect{0, 0, 2, 1})
	_, out := m.CopyTable(nil, func(x int) string { return m.header[m.Column(x)] })
	// taken apart by the standard library's unescaping alone
	var got []string
	for _, tag := range []string{"th", "td"} {
		for _, p := range strings.Split(out, "<"+tag+">")[1:] {
			p, _, _ = strings.Cut(p, "</"+tag+">")
			if strings.ContainsAny(strings.ReplaceAll(p, "<br>", ""), "<>\"") {
				t.Errorf("not escaped: %q", p)
			}
			got = append(got, html.UnescapeString(strings.ReplaceAll(p, "<br>", "\n")))
		}
	}
	if !slices.Equal(got, append([]string{"A<1>", "B"}, cells...)) || strings.Count(out, "<tr>") != 4 {
		t.Errorf("%q", got)
	}
	txt, _ := m.CopyTable(nil, func(x int) string { return "H" + strconv.Itoa(x) })
	if !strings.HasPrefix(txt, "H0\tH1\r\n") {
		t.Errorf("%q", txt)
	}
	want(t, m, "A<1>|B/<b>&\"x\"</b>|3/8\"/two\nlines|ä °C/&amp;")
	// what was cut can be pasted and undone
	m.Select(Rect{0, 0, 0, 1})
	txt, _, ch := m.Cut(nil)
	if !ch.Any || m.UndoName() != "cutting 2 cells" {
		t.Errorf("%+v %q", ch, m.UndoName())
	}
	m.PasteText(txt, known)
	if m.At(Pos{0, 0}) != cells[0] || m.At(Pos{0, 1}) != cells[1] {
		t.Errorf("%q", m.rows[0])
	}
}

func TestConditions(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		op     Op
		values string
		num    float64
		text   string
		want   bool
	}{
		{Contains, "pump", nan, "Feed PUMP 1", true}, {Contains, "x|fan", nan, "a fan", true}, {Contains, "x", nan, "a fan", false},
		{NotContains, "x|fan", nan, "a fan", false}, {NotContains, "x", nan, "a fan", true},
		{Equals, "inside", nan, " Inside ", true}, {Equals, "0,5", 0.5, "0.50", true}, {Equals, "a|0.4", 0.5, "0.50", false},
		{NotEquals, "inside|outside", nan, "outside", false}, {NotEquals, "inside", nan, "", true},
		{Below, "2", 1.9, "1.9", true}, {Below, "2", 2, "2", false}, {AtMost, "2", 2, "2", true}, {Above, "−1", 0, "0", true},
		{AtLeast, "2,5", 2.5, "", true}, {AtLeast, "2,5", nan, "text", false}, {Above, "word", 5, "5", false},
		{Empty, "", nan, " ", true}, {Empty, "", 1, "1", false}, {Filled, "", nan, "x", true}, {Filled, "", nan, "", false},
		{'?', "", nan, "", true}, {Below, "inf", 1, "1", false}, {Below, "0x10", 1, "1", false},
	} {
		if got := (Condition{Op: c.op, Values: strings.Split(c.values, "|")}).Test()(c.num, c.text); got != c.want {
			t.Errorf("%c %q of %v %q: %v", c.op, c.values, c.num, c.text, got)
		}
	}
	for _, op := range []byte(knownOps) {
		Condition{Op: Op(op)}.Test()(1, "x") // without values
	}
}

func TestViewText(t *testing.T) {
	v := View{Hidden: []string{"front_shim", "a;b,c%", ""}, Widths: []Width{{"ä", 120}}, Sort: []SavedKey{{"x", true}, {"y", false}},
		Filter: []Condition{{"verdict", Equals, []string{"inside", ""}}, {"n", Empty, nil}}, Frozen: 2}
	b, err := v.MarshalText()
	var w View
	if err != nil || w.UnmarshalText(b) != nil || !reflect.DeepEqual(v, w) {
		t.Errorf("%s gives %+v, want %+v", b, w, v)
	}
	for in, want := range map[string]View{
		"":                       {},
		"view1;":                 {},
		"view1;F99999999999;Fx;": {},
		"view1;W-1,x;W5;W7,y,z;Sup,x;Q?,x;Qc;Z9;;H%4;H%zz;": {Hidden: []string{"%4", "%zz"}},
	} {
		var got View
		if err := got.UnmarshalText([]byte(in)); err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %+v %v, want %+v", in, got, err, want)
		}
	}
	if err := w.UnmarshalText([]byte("{}")); err == nil || !reflect.DeepEqual(v, w) {
		t.Errorf("junk was read: %v %+v", err, w)
	}
}

// FuzzView: any text is read without harm, and what is written is read the same.
func FuzzView(f *testing.F) {
	f.Add("view1;F2;Ha;W120,x;Sd,y;Qc,z,a,b;")
	f.Add("view1;%;H%;Q%63,;")
	f.Fuzz(func(t *testing.T, s string) {
		var v, w View
		if v.UnmarshalText([]byte(s)) != nil {
			return
		}
		b, _ := v.MarshalText()
		if err := w.UnmarshalText(b); err != nil || !reflect.DeepEqual(v, w) {
			t.Fatalf("%q gives %+v, then %q gives %+v", s, v, b, w)
		}
	})
}

// FuzzFill: a series of numbers is exact, goes back to where it came from, and what is in the way is never lost by an undo.
func FuzzFill(f *testing.F) {
	for _, s := range []string{"1\n2", "Pump 7", "0,5\n1", "12\n3\n6", "2026-03-31", "-1\n-2", "a\n\nb", "12.50 mil\n12.75 mil", ".5\n,5", "9e9\n9e8", "+1\n+2", "−0.1\n0.1"} {
		f.Add(s, uint8(5))
	}
	f.Fuzz(func(t *testing.T, s string, n uint8) {
		seeds := strings.Split(s, "\n")
		k := int(n%40) + 1
		on := Extrapolate(seeds, k, false)
		if len(on) != k || len(Extrapolate(seeds, k, true)) != k {
			t.Fatalf("%q: %d of %d", seeds, len(on), k)
		}
		// plain decimal numbers: against rational arithmetic
		var r []*big.Rat
		for _, x := range append(slices.Clone(seeds), on...) {
			if strings.Trim(x, "0123456789.-") != "" || len(x) > 14 || strings.Count(x, ".") > 1 || strings.HasSuffix(x, ".") || strings.LastIndex(x, "-") > 0 {
				r = nil
				break
			}
			v, ok := new(big.Rat).SetString(x)
			if !ok {
				r = nil
				break
			}
			r = append(r, v)
		}
		if len(seeds) > 1 && len(r) > 0 {
			step := new(big.Rat).Sub(r[1], r[0])
			steady := true
			for i := 1; i < len(seeds); i++ {
				steady = steady && new(big.Rat).Sub(r[i], r[i-1]).Cmp(step) == 0
			}
			ints := make([]int64, len(seeds))
			for i := range ints {
				ints[i], _ = strconv.ParseInt(seeds[i], 10, 64)
			}
			if steady && !quarters(ints) {
				for i := len(seeds); i < len(r); i++ {
					if new(big.Rat).Sub(r[i], r[i-1]).Cmp(step) != 0 {
						t.Fatalf("%q goes on as %q", seeds, on)
					}
				}
			}
		}
		m := New(nil, []string{"A", "B"}, nil)
		for _, s := range seeds {
			m.rows = append(m.rows, []string{s, "x"})
		}
		before := snap(m)
		m.Select(Rect{0, 0, len(seeds) - 1, 1})
		ch := m.FillTo(Rect{0, 0, len(seeds) - 1 + min(k, Spare), 1}, n&64 > 0)
		if got := m.Rows(); ch.Any && (len(got) < len(seeds) || got[len(got)-1][1] != "x") {
			t.Fatalf("filled %q", got)
		}
		if ch.Any {
			m.Undo()
		}
		if snap(m) != before {
			t.Fatalf("undo gives %s, want %s", snap(m), before)
		}
	})
}

// FuzzFind: the matches are those of a plain search, going on visits each once, and replacing leaves none behind that was not put there.
func FuzzFind(f *testing.F) {
	f.Add("a\tb\nA\tab", "a", "x", uint8(0))
	f.Add("Ä\tä\nÄä\tK", "ä", "", uint8(1))
	f.Add("aaa\taa\naaaa\t", "aa", "a", uint8(6))
	f.Fuzz(func(t *testing.T, sheet, q, with string, o uint8) {
		m := New(nil, []string{"A", "B", "C"}, ParseBlock(sheet))
		opt := FindOptions{MatchCase: o&1 > 0, WholeCell: o&2 > 0, Back: o&4 > 0}
		hit := func(s string) bool {
			switch {
			case q == "":
				return false
			case opt.WholeCell && opt.MatchCase:
				return s == q
			case opt.MatchCase:
				return strings.Contains(s, q)
			}
			// capitals rune by rune, written in another way than in the package
			a, b := []rune(strings.ToLower(s)), []rune(strings.ToLower(q))
			if len(a) != len([]rune(s)) || len(b) != len([]rune(q)) {
				return false
			}
			if opt.WholeCell {
				return slices.Equal(a, b)
			}
			for i := 0; i+len(b) <= len(a); i++ {
				if slices.Equal(a[i:i+len(b)], b) {
					return true
				}
			}
			return false
		}
		ascii := strings.Trim(strings.Map(func(r rune) rune {
			if r < 128 {
				return -1
			}
			return r
		}, sheet+q), "") == ""
		total := 0
		for r := range m.rows {
			for c := range 3 {
				if hit(m.Cell(r, c)) {
					total++
				}
			}
		}
		first := m.Find(q, opt, nil)
		if ascii && first.Count != total || first.OK != (first.Count > 0) {
			t.Fatalf("%q in %q: %+v, want %d", q, m.rows, first, total)
		}
		seen := map[Pos]bool{}
		for range first.Count {
			f := m.Find(q, opt, nil)
			if seen[f.At] || f.Count != first.Count || ascii && !hit(m.At(f.At)) {
				t.Fatalf("%q in %q: %+v again", q, m.rows, f)
			}
			seen[f.At] = true
		}
		before := snap(m)
		ch := m.ReplaceAll(q, with, opt)
		if ascii && opt.MatchCase && !opt.WholeCell && q != "" {
			old := New(nil, m.header, ParseBlock(sheet))
			for r := range m.rows {
				for c := range 3 {
					if w := strings.ReplaceAll(old.Cell(r, c), q, with); m.Cell(r, c) != w {
						t.Fatalf("%q for %q in %q gives %q", with, q, old.Cell(r, c), m.Cell(r, c))
					}
				}
			}
		}
		if ch.Any {
			m.Undo()
		}
		if snap(m) != before {
			t.Fatalf("undo gives %s, want %s", snap(m), before)
		}
	})
}

func big10000x60() *Model {
	rows := make([][]string, 10_000)
	for i := range rows {
		rows[i] = make([]string, 60)
		for c := range rows[i] {
			rows[i][c] = strconv.Itoa((i*7919 + c*31) % 10007)
		}
		rows[i][0] = "Pump " + strconv.Itoa((i*7919)%10000)
	}
	return New(nil, strings.Split(strings.Repeat("h,", 59)+"h", ","), rows)
}

func pasteBlock2000x20() [][]string {
	block := make([][]string, 2000)
	for i := range block {
		for j := range 20 {
			block[i] = append(block[i], strconv.Itoa(i*j))
		}
	}
	return block
}

func BenchmarkPaste2000x20(b *testing.B) {
	m, block := big10000x60(), pasteBlock2000x20()
	for b.Loop() {
		m.Go(Pos{100, 10}, false)
		m.Paste(block, Meaning{})
	}
}

func BenchmarkPaste2000x20Filtered(b *testing.B) {
	m, block := big10000x60(), pasteBlock2000x20()
	m.Arrange([]SortKey{{1, true}}, nil, func(r int) bool { return r%3 > 0 })
	for b.Loop() {
		m.Go(Pos{100, 10}, false)
		m.Paste(block, Meaning{})
	}
}

func BenchmarkUndoRedo2000x20(b *testing.B) {
	m := big10000x60()
	m.Go(Pos{100, 10}, false)
	m.Paste(pasteBlock2000x20(), Meaning{})
	for b.Loop() {
		m.Undo()
		m.Redo()
	}
}

func BenchmarkTypeSorted10000x60(b *testing.B) {
	m := big10000x60()
	m.Arrange([]SortKey{{0, false}}, nil, nil)
	for i := 0; b.Loop(); i++ {
		m.Go(Pos{5000, 30}, false)
		m.Begin()
		m.Commit(strconv.Itoa(i), 0, 0)
		m.Undo()
	}
}

func BenchmarkSort10000(b *testing.B) {
	m := big10000x60()
	key := numKey(m)
	for b.Loop() {
		m.Arrange([]SortKey{{1, true}, {0, false}}, key, nil)
	}
}

func BenchmarkSortTexts10000(b *testing.B) {
	m := big10000x60()
	for b.Loop() {
		m.Arrange([]SortKey{{0, false}}, nil, nil)
	}
}

func BenchmarkSortStored10000(b *testing.B) {
	m := big10000x60()
	for b.Loop() {
		m.Arrange([]SortKey{{0, false}}, nil, nil)
		m.SortStored()
		m.Undo()
	}
}

func BenchmarkFind600000(b *testing.B) {
	m := big10000x60()
	for b.Loop() {
		m.Find("nowhere", FindOptions{}, nil)
	}
}

func BenchmarkSummarise600000(b *testing.B) {
	m := big10000x60()
	m.SelectAll()
	for b.Loop() {
		s := m.Summarise(func(row, x int) (float64, bool) { return float64(row), true })
		for !s.Next(20_000) {
		}
	}
}

func BenchmarkFillSeries10000(b *testing.B) {
	m := big10000x60()
	for b.Loop() {
		m.Select(Rect{0, 1, 1, 1})
		m.FillTo(Rect{0, 1, 9999, 1}, true)
	}
}

func BenchmarkDeleteScattered5000(b *testing.B) {
	m := big10000x60()
	m.Arrange([]SortKey{{0, false}}, nil, func(r int) bool { return r%2 == 0 })
	for b.Loop() {
		m.Select(Rect{0, 0, 4999, 0})
		m.DeleteRows()
		m.Undo()
	}
}

func BenchmarkViewport60x20Sorted(b *testing.B) {
	m := big10000x60()
	m.Arrange([]SortKey{{0, false}}, nil, nil)
	var buf []byte
	for b.Loop() {
		buf = m.AppendViewport(buf[:0], 0, 5000, 20, 5060, marks{})
	}
}

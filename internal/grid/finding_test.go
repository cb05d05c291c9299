package grid

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// Found is what stands there, letter by letter: the last letter of the alphabet in capitals, a sign of the kelvin that is no k, half a letter that is none.
func TestWhatIsFound(t *testing.T) {
	for _, c := range []struct {
		cell, query string
		o           FindOptions
		want        bool
	}{
		{"Z", "z", FindOptions{}, true}, {"A", "a", FindOptions{}, true}, {"[", "{", FindOptions{}, false}, {"@", "`", FindOptions{}, false}, {"Zz", "zZ", FindOptions{}, true}, {"Zz", "zZ", FindOptions{MatchCase: true}, false},
		{"pump\u212a", "pumpk", FindOptions{}, false}, {"pumpſ", "pumps", FindOptions{}, false}, {"\u212a", "k", FindOptions{}, false},
		{"é", "\ufffd", FindOptions{}, false}, {"\ufffd", "\ufffd", FindOptions{}, true}, {"aé", "É", FindOptions{}, true}, {"aé", "É", FindOptions{MatchCase: true}, false}, {"é", "éé", FindOptions{}, false},
		{"aab", "ab", FindOptions{}, true}, {"aab", "ab", FindOptions{WholeCell: true}, false}, {"ab", "AB", FindOptions{WholeCell: true}, true}, {"ab ", "AB", FindOptions{WholeCell: true}, false},
		{"ab", "AB", FindOptions{WholeCell: true, MatchCase: true}, false}, {"ab", "ab", FindOptions{WholeCell: true, MatchCase: true}, true}, {"bab", "ab", FindOptions{WholeCell: true, MatchCase: true}, false}, {"aba", "ab", FindOptions{WholeCell: true, MatchCase: true}, false},
		{"", "", FindOptions{}, false}, {"x", "", FindOptions{}, false}, {"", "", FindOptions{WholeCell: true}, false}, {"", "", FindOptions{WholeCell: true, MatchCase: true}, false}, {"x", "", FindOptions{MatchCase: true}, false}, {"ä", "", FindOptions{}, false},
	} {
		m := New(nil, []string{"A", "B"}, [][]string{{"0", c.cell}})
		if f := m.Find(c.query, c.o, nil); f.OK != c.want || f.Count > 1 {
			t.Errorf("%q in %q, %+v: %+v", c.query, c.cell, c.o, f)
		}
		if ch := m.ReplaceAll(c.query, "new", c.o); ch.Any != c.want {
			t.Errorf("%q in %q, %+v is replaced: %v", c.query, c.cell, c.o, ch.Any)
		}
	}
	for _, c := range []struct {
		cell, query, with, want string
		o                       FindOptions
	}{
		{"xaxbx", "x", "-", "-a-b-", FindOptions{MatchCase: true}}, {"xaXbx", "X", "--", "--a--b--", FindOptions{}}, {"axxb", "x", "", "ab", FindOptions{MatchCase: true}}, {"ÄaÄ", "ä", "oe", "oeaoe", FindOptions{}}, {"abab", "ab", "abab", "abababab", FindOptions{MatchCase: true}},
	} {
		m := New(nil, []string{"A"}, [][]string{{c.cell}})
		if m.ReplaceAll(c.query, c.with, c.o); m.Cell(0, 0) != c.want {
			t.Errorf("%q by %q in %q: %q, want %q", c.query, c.with, c.cell, m.Cell(0, 0), c.want)
		}
	}
	// A text that is replaced by itself is no change.
	m := sheet("A|B", "pump|Pump")
	if ch := m.ReplaceAll("pump", "pump", FindOptions{MatchCase: true}); ch.Any || m.UndoName() != "" {
		t.Errorf("%+v, %q", ch, m.UndoName())
	}
	if ch := m.ReplaceAll("pump", "pump", FindOptions{}); !ch.Any || m.UndoName() != "replacing 1 cell" || m.Cell(0, 1) != "pump" {
		t.Errorf("%+v, %q", ch, m.UndoName())
	}
	m.Undo()
	m.Go(Pos{0, 0}, false)
	if ch, f := m.Replace("pump", "pump", FindOptions{MatchCase: true}, nil); ch.Any || m.UndoName() != "" || !f.OK {
		t.Errorf("%+v, %+v", ch, f)
	}
}

// A search in a selection stays in it while its matches are gone through, in the column too, and is forgotten once the cursor goes elsewhere, or the whole sheet is searched.
func TestSearchInASelection(t *testing.T) {
	fresh := func() *Model {
		return sheet("A|B|C|D", "x|x|x|x", "x|x|x|x", "x|x|x|x", "x|x|x|x", "x|x|x|x")
	}
	in := FindOptions{InSelection: true}
	m := fresh()
	m.Select(Rect{1, 1, 3, 2})
	for i, want := range []Pos{{1, 2}, {2, 1}, {2, 2}, {3, 1}, {3, 2}, {1, 1}, {1, 2}} {
		if f := m.Find("x", in, nil); f.At != want || f.Count != 6 || f.Wrapped != (i == 5) {
			t.Fatalf("step %d: %+v, want %v", i, f, want)
		}
	}
	if f := m.Find("x", FindOptions{InSelection: true, InColumn: true}, nil); f.At != (Pos{2, 2}) || f.Count != 3 {
		t.Errorf("in its column: %+v", f)
	}
	if f := m.Find("x", FindOptions{InSelection: true, InColumn: true, Back: true}, nil); f.At != (Pos{1, 2}) || f.Count != 3 || f.Index != 1 {
		t.Errorf("back in its column: %+v", f)
	}
	if f := m.Find("x", FindOptions{InColumn: true}, nil); f.Count != 5 {
		t.Errorf("in the column of the sheet: %+v", f)
	}
	if f := m.Find("x", in, nil); f.Count != 20 { // the selection was given up by the search before
		t.Errorf("the selection comes back: %+v", f)
	}
	m.Select(Rect{3, 2, 1, 1})
	m.Find("x", in, nil)
	m.Move(0, 1, false)
	if f := m.Find("x", in, nil); f.Count != 20 {
		t.Errorf("the cursor went elsewhere: %+v", f)
	}
	// rows and columns of it that are gone are not searched
	m = fresh()
	m.Select(Rect{1, 1, 4, 3})
	if f := m.Find("x", in, nil); f.Count != 12 || f.At != (Pos{1, 2}) {
		t.Fatalf("%+v", f)
	}
	m.Arrange(nil, nil, func(r int) bool { return r < 3 })
	m.SetHidden([]int{3})
	if f := m.Find("x", in, nil); f.Count != 4 {
		t.Errorf("with rows and a column hidden: %+v", f)
	}
	// all of it is replaced, and nothing beside it
	m = fresh()
	m.Select(Rect{1, 1, 2, 2})
	m.ReplaceAll("x", "y", in)
	want(t, m, "A|B|C|D/x|x|x|x/x|y|y|x/x|y|y|x/x|x|x|x/x|x|x|x")
	m.Go(Pos{4, 3}, false)
	m.ReplaceAll("x", "z", FindOptions{InColumn: true})
	want(t, m, "A|B|C|D/x|x|x|z/x|y|y|z/x|y|y|z/x|x|x|z/x|x|x|z")
}

// Replacing one cell after the other: it is the cursor's cell that is replaced, if it matches and nothing else is selected, and the next match is gone to; done to the end every cell is what
// it is when all are replaced at once. In every column, first and last; with results among them, which stay.
func TestReplacingOneByOne(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 77))
	words := []string{"x", "ax", "Xa", "b", "", "xx"}
	for range 300 {
		rows := make([][]string, 1+rnd.IntN(4))
		for i := range rows {
			for range rnd.IntN(4) {
				rows[i] = append(rows[i], words[rnd.IntN(len(words))])
			}
		}
		order := [][]int{{0, 1, 2}, {^0, 0, 1, 2}, {2, 0, ^0, 1}, {1, 2, 0, ^0}}[rnd.IntN(4)]
		result := func(row, k int) string {
			if row < 0 || row >= len(rows) || k != 0 {
				t.Fatalf("asked for result %d of row %d", k, row)
			}
			return words[row%len(words)]
		}
		one, all := New(nil, []string{"A", "B", "C"}, slices.Clone(rows)), New(nil, []string{"A", "B", "C"}, slices.Clone(rows))
		for _, m := range []*Model{one, all} {
			m.SetOrder(order)
			m.Arrange([]SortKey{{rnd.IntN(3), false}}, nil, nil)
		}
		all.Arrange(nil, nil, nil)
		o := FindOptions{MatchCase: rnd.IntN(2) == 0, Here: rnd.IntN(2) == 0, Back: rnd.IntN(2) == 0}
		all.ReplaceAll("x", "yy", o)
		one.Go(Pos{rnd.IntN(6), rnd.IntN(len(order))}, false)
		for range 60 {
			at, row := one.cur, one.Stored(one.cur.Row)
			before := slices.Clone(one.rows)
			c := one.Column(at.Col)
			old := one.At(at)
			fixed := c < 0 && at.Row < one.ShownRows() && strings.Contains(result(row, 0), "x")
			hit := strings.Contains(old, "x") || !o.MatchCase && strings.Contains(old, "X")
			ch, f := one.Replace("x", "yy", o, result)
			if ch.Any != (c >= 0 && hit) || (ch.Note != "") != (fixed || c < 0 && at.Row < len(rows) && !o.MatchCase && strings.Contains(result(row, 0), "X")) {
				t.Fatalf("replacing %q in column %d: %+v", old, c, ch)
			}
			if ch.Any {
				now := strings.ReplaceAll(old, "x", "yy")
				if !o.MatchCase {
					now = strings.ReplaceAll(now, "X", "yy")
				}
				if one.Cell(row, c) != now || one.UndoName() != "replacing a cell" || ch.From != row || ch.To != row+1 {
					t.Fatalf("%q becomes %q, want %q; %+v", old, one.Cell(row, c), now, ch)
				}
				before[row] = with(before[row], c, now)
			}
			for i := range before {
				if !slices.Equal(before[i], one.rows[i]) {
					t.Fatalf("row %d changed besides: %q, was %q", i, one.rows[i], before[i])
				}
			}
			if f.OK && (f.At != one.cur || f.At == at && f.Count > 1) {
				t.Fatalf("from %v to %+v", at, f)
			}
			if f.Count == f.Fixed {
				break
			}
		}
		for r := range all.rows {
			for c := range 3 {
				if one.Cell(r, c) != all.Cell(r, c) {
					t.Fatalf("one by one: %q, at once: %q", one.rows, all.rows)
				}
			}
		}
	}
	// With a block selected nothing is replaced yet: the first match is gone to. What is replaced by something that matches again is left behind all the same.
	m := sheet("A|B", "x|x", "x|x")
	m.Select(Rect{0, 0, 1, 0})
	if ch, f := m.Replace("x", "xx", FindOptions{}, nil); ch.Any || f.At != (Pos{0, 1}) {
		t.Errorf("%+v %+v", ch, f)
	}
	m.Go(Pos{0, 0}, false)
	if ch, f := m.Replace("x", "xx", FindOptions{Here: true}, nil); !ch.Any || f.At != (Pos{0, 1}) || m.Cell(0, 0) != "xx" || m.Cell(0, 1) != "x" {
		t.Errorf("%+v %+v", ch, f)
	}
	m.Go(Pos{2, 0}, false) // below the last row
	if ch, f := m.Replace("x", "y", FindOptions{}, func(row, k int) string { t.Error("asked"); return "x" }); ch.Any || !f.OK || !f.Wrapped {
		t.Errorf("%+v %+v", ch, f)
	}
	m.SetOrder([]int{^0, 0, 1})
	m.Go(Pos{2, 0}, false)
	if ch, _ := m.Replace("x", "y", FindOptions{}, func(row, k int) string { return map[bool]string{true: "x"}[row > 1] }); ch.Any || ch.Note != "" {
		t.Errorf("below the last row: %+v", ch)
	}
}

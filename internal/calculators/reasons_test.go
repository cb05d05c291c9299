package calculators

import (
	"math"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// empty says that a calculator gave nothing.
func empty(r *Result) bool {
	for _, s := range r.Texts {
		if s != "" {
			return false
		}
	}
	return true
}

func hasError(r *Result) bool {
	for i := range r.Problems {
		if r.Problems[i].Severity == job.Error {
			return true
		}
	}
	return false
}

// A calculator that gives nothing says why, whichever of its inputs are blank; a cell that cannot be read is named, and what stands in it is never passed over.
func TestNothingWithoutAReason(t *testing.T) {
	tried, refused := 0, 0
	for _, c := range All() {
		for _, inch := range []bool{false, true} {
			set := Settings{Inch: inch}
			example := c.ExampleCells(units.Point)
			n := len(example)
			if whole := c.Row(example, set); empty(&whole) || hasError(&whole) {
				t.Errorf("%s: its example gives %q, %v", c.Key, whole.Texts, whole.Problems)
				continue
			}
			for a := range n {
				for b := a; b < n; b++ {
					cells := append([]string{}, example...)
					cells[a], cells[b] = "", ""
					r := c.Row(cells, set)
					tried++
					if blank := strings.Join(cells, "") == ""; empty(&r) && !r.Blank && !hasError(&r) && !blank {
						t.Errorf("%s without %s and %s: nothing, and no reason", c.Key, c.Inputs[a].Title, c.Inputs[b].Title)
					}
					if hasError(&r) {
						refused++
					}
				}
				if c.Inputs[a].Measure == MText {
					continue
				}
				cells := append([]string{}, example...)
				cells[a] = "x?y"
				r := c.Row(cells, set)
				named := false
				for i := range r.Problems {
					p := &r.Problems[i]
					named = named || p.Severity == job.Error && (p.Column == c.Inputs[a].Title || strings.Contains(p.Text.String(), "x?y"))
				}
				if !named {
					t.Errorf("%s: x?y in %s is passed over: %v, %v", c.Key, c.Inputs[a].Title, r.Texts, r.Problems)
				}
			}
		}
	}
	if tried < 500 || refused < 200 {
		t.Errorf("%d tried, %d refused", tried, refused)
	}
}

// A word of a list is taken in capitals, with blanks, with hyphens or none between its parts, and with a decimal comma; nothing else is.
func TestWordsOfLists(t *testing.T) {
	for _, c := range []struct {
		typed, word string
		same        bool
	}{
		{" Half Dog ", "half dog", true}, {"half-dog", "half dog", true}, {"half_dog", "halfdog", true}, {"8,8", "8.8", true}, {"88", "8.8", false}, {"--5", "5", false}, {"-5", "5", false}, {"5-", "5", false}, {"5-", "5-", true}, {"a--b", "ab", false}, {"8,", "8", false}, {",8", ".8", false}, {"8,x", "8.x", false}, {"x,8", "x.8", false},
		{"größe-1", "Größe 1", true}, {"0-9", "09", true}, {"a-z", "az", true}, {"9,0", "9.0", true}, {"é-é", "éé", true}, {"/-1", "/1", false}, {":-1", ":1", false}, {"a-`", "a`", false}, {"{-a", "{a", false}, {strings.Repeat("a", job.MaxHeader-2) + " b", strings.Repeat("a", job.MaxHeader-2) + "b", true},
		{strings.Repeat("a", job.MaxHeader) + " b", strings.Repeat("a", job.MaxHeader) + "b", false},
	} {
		if got := sameChoice(c.typed, c.word); got != c.same {
			t.Errorf("%.40q and %.40q: %v", c.typed, c.word, got)
		}
	}
}

// A value at the end of what a measure takes is taken, one past it is refused and the ends are named; a distance is never negative.
func TestEndsOfMeasures(t *testing.T) {
	for m, within := range measureRange {
		c := Column{Measure: Measure(m)}
		if within == ([2]float64{}) || math.IsInf(within[0], 0) || math.IsInf(within[1], 0) {
			continue
		}
		slack := 1e-9 * math.Max(math.Abs(within[0]), math.Abs(within[1]))
		for _, x := range []float64{within[0] - 3*slack, within[0], within[1], within[1] + 3*slack} {
			cause, hint := c.odd("typed", x, Settings{})
			want := x < within[0] || x > within[1] || c.Measure == MDistance && x < 0
			if (cause != "") != want || want && (hint == "" || !strings.Contains(cause, "typed")) {
				t.Errorf("%s: %g of %v: %q", measureWords[m], x, within, cause)
			}
		}
	}
	if cause, _ := (&Column{Measure: MExpansion}).odd("t", math.NaN(), Settings{}); cause != "" {
		t.Error(cause)
	}
	for _, x := range []float64{leastExpansion * 0.99, -leastExpansion * 0.99} {
		if cause, _ := (&Column{Measure: MExpansion}).odd("t", x, Settings{}); cause == "" {
			t.Errorf("a coefficient of %g is taken", x)
		}
	}
	if cause, _ := (&Column{Measure: MExpansion}).odd("t", leastExpansion, Settings{}); cause != "" {
		t.Error(cause)
	}
}

// Rows in a batch are told by the row of the file they stand in, the header and titles above them counted.
func TestBatchRowsOfTheFile(t *testing.T) {
	c := Find("tir")
	for _, title := range [][][]string{nil, {{"a title"}}, {{"a"}, {"b"}, {}}} {
		tab := &job.Table{FirstRow: len(title) + 2, Title: title, Header: strings.Split(c.HeaderBlock(false), "\t"), Rows: [][]string{c.ExampleCells(units.Point), c.ExampleCells(units.Point)}}
		tab.Rows[1][0] = "x?y"
		b := c.Batch(tab, Settings{})
		if len(b.Rows) != 2 {
			t.Fatalf("%d rows under %q", len(b.Rows), title)
		}
		for i := range b.Rows {
			r := &b.Rows[i]
			if r.Row != len(title)+2+i || r.OK() != (i == 0) {
				t.Errorf("row %d under %d lines of title is told as %d, %v", i, len(title), r.Row, r.Problems)
			}
		}
	}
}

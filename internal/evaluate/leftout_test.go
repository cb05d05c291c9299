package evaluate

import (
	"fmt"
	"strings"
	"testing"
)

// Rows that are no machines are left out by what they say: a line of signs, a name of totals, a note that stands alone or is the title again, words without a number. A name that may be either is asked about where the row holds more
// than it, and a word in a column of numbers names nothing.
func TestRowsThatAreNoMachines(t *testing.T) {
	numeric := []bool{false, true, true}
	title := [][]string{{"Spring shutdown", ""}, {"", "all lengths in mm"}}
	for _, c := range []struct {
		row   []string
		why   string
		doubt bool
	}{
		{[]string{"P 1", "1480", "2"}, "", false}, {[]string{"", "", ""}, "", false}, {nil, "", false}, {[]string{"-", "n/a", "3"}, "", false},
		{[]string{"----", "====", ""}, "line", false}, {[]string{"", "…", "***"}, "", false}, {[]string{"____", "", "12"}, "", false},
		{[]string{"Total", "2960", "4"}, "Total", false}, {[]string{"TOTAL:", "", "4"}, "TOTAL:", false}, {[]string{"Mean (4)", "2960", ""}, "Mean (4)", false}, {[]string{"Σ", "3", ""}, "Σ", false}, {[]string{"12 machines", "3", ""}, "12 machines", false}, {[]string{"Total: 12 pumps", "3", ""}, "Total: 12 pumps", false},
		{[]string{"number of couplings", "3", ""}, "number of couplings", false}, {[]string{"12 machinists", "3", ""}, "", false}, {[]string{"Total pump", "1480", "2"}, "", true}, {[]string{"Total pump", "", ""}, "Total pump", false}, {[]string{"Grand total west", "1", ""}, "", true}, {[]string{"Sum of all", "1", ""}, "", true},
		{[]string{"West total", "1", ""}, "", true}, {[]string{"Summit pump", "1", ""}, "", false}, {[]string{"Meander pump", "1", ""}, "", false},
		{[]string{"", "Total", "3"}, "", false}, {[]string{"", "3", "", "Total"}, "Total", false}, {[]string{"", "3", "4"}, "", false},
		{[]string{"* as found", "", ""}, "* as found", false}, {[]string{"# 3", "", ""}, "# 3", false}, {[]string{"† seen", "", ""}, "† seen", false}, {[]string{"Note: turn by hand", "", ""}, "Note: turn by hand", false}, {[]string{"Page 2", "", ""}, "Page 2", false}, {[]string{"one two three four five six seven", "", ""}, "one two", false},
		{[]string{"Spring shutdown", "", ""}, "Spring shutdown", false}, {[]string{"", "", "all lengths in mm"}, "all lengths in mm", false}, {[]string{"Spring shutdown", "1480", ""}, "", false}, {[]string{"Page 2", "1480", ""}, "", false},
		{[]string{"", "", "", "checked by crew"}, "checked by crew", false}, {[]string{"", "loose", "", "left over"}, "left over", false}, {[]string{"", "loose", ""}, "loose", false}, {[]string{"Pump house", "", ""}, "", false}, {[]string{"Note", "", ""}, "", false}, {[]string{"one two three four five six", "", ""}, "", false},
	} {
		name := ""
		if len(c.row) > 0 {
			name = c.row[0]
		}
		why, doubt := leftOut(c.row, name, title, numeric)
		if (!why.Empty()) != (c.why != "") || !strings.Contains(why.String(), c.why) || doubt != c.doubt {
			t.Errorf("%q: %q, doubt %v; want %q, %v", c.row, why, doubt, c.why, c.doubt)
		}
	}
	// In a list: which columns hold numbers is known by their names.
	j := list(t, "Machine,Speed,Note,Coupling\nP 1,1480,,\n,Total,,3\n,12,Total,\nTotal,12,,\n")
	e := work(t, j)
	for i, want := range []RowKind{MachineRow, MachineRow, LeftOutRow, LeftOutRow} {
		if got := e.Row(i).Kind; got != want {
			t.Errorf("row %d is of kind %v, want %v: %v", i, got, want, e.Row(i).Problems)
		}
	}
}

// Numbers a foot's pieces are listed by: thickest first, whatever the order, and the list that was given stays.
func TestThickestFirst(t *testing.T) {
	in := []float64{0.1, 0.5, 0.05, 0.5, 2, 0.1}
	if got := fmt.Sprint(thickestFirst(in)); got != "[2 0.5 0.5 0.1 0.1 0.05]" || in[0] != 0.1 || in[4] != 2 {
		t.Error(got, in)
	}
}

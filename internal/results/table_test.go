package results

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// A table on the terminal: every column begins, or for numbers ends, at one place, cells are two blanks apart at least, no line ends in blanks, and a line may be empty.
func TestTableLinesUp(t *testing.T) {
	rows := [][]string{{"Name", "Number", "Words"}, {"pump", "1.25", "a few"}, {"a longer name ä", "-12.5", ""}, {"", "", ""}, {"x", "", "ends"}}
	lines := strings.Split(string(AppendTable([]byte("before\n"), rows, 1, 1)), "\n")
	if lines[0] != "before" || len(lines) != len(rows)+2 || lines[len(lines)-1] != "" || lines[4] != "" {
		t.Fatalf("%q", lines)
	}
	column := func(line, word string, end bool) int {
		i := strings.Index(line, word)
		if end {
			i += len(word)
		}
		return utf8.RuneCountInString(line[:i])
	}
	if a, b := column(lines[2], "1.25", true), column(lines[3], "-12.5", true); a != b || a < column(lines[1], "Number", true) {
		t.Errorf("numbers end at %d and %d:\n%s", a, b, strings.Join(lines, "\n"))
	}
	if a, b, c := column(lines[1], "Words", false), column(lines[2], "a few", false), column(lines[5], "ends", false); a != b || b != c {
		t.Errorf("words begin at %d, %d, %d:\n%s", a, b, c, strings.Join(lines, "\n"))
	}
	for _, l := range lines {
		if strings.HasSuffix(l, " ") {
			t.Errorf("%q ends in blanks", l)
		}
	}
	if !strings.Contains(lines[3], "ä  -12.5") && !strings.Contains(lines[3], "ä   -12.5") {
		t.Errorf("%q", lines[3])
	}
}

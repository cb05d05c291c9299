package job

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf16"
)

// Lists as other programs hand them out. Seen: cells between bars were no list, as was UTF-16 without a mark (here; package workbook read it); of texts written as formulas every row was told to be a header with
// other columns.
func TestListsOfOtherPrograms(t *testing.T) {
	wide := func(s string, little bool) []byte {
		var b []byte
		for _, u := range utf16.Encode([]rune(s)) {
			if little {
				b = append(b, byte(u), byte(u>>8))
			} else {
				b = append(b, byte(u>>8), byte(u))
			}
		}
		return b
	}
	const plain = "Machine,Speed,Note\nP 1,1480,5 1/2\"\n"
	for name, data := range map[string][]byte{
		"bars":                []byte("Machine|Speed|Note\nP 1|1480|5 1/2\"\n"),
		"UTF-16, little":      wide(plain, true),
		"UTF-16, big":         wide(plain, false),
		"texts as formulas":   []byte("Machine,Speed,Note\n=\"P 1\",=\"1480\",5 1/2\"\n"),
		"and in quotes":       []byte("Machine,Speed,Note\n\"=\"\"P 1\"\"\",\"=\"\"1480\"\"\",5 1/2\"\n"),
		"bars within a comma": []byte("Machine,Speed,Note\nP 1,1480,5 1/2\"\n"),
	} {
		tab, problems, err := ReadDelimited("list", data, 0)
		if err != nil || len(problems) > 0 {
			t.Errorf("%s: %v %v", name, err, problems)
			continue
		}
		if got := fmt.Sprintf("%q", tab.Rows); got != `[["Machine" "Speed" "Note"] ["P 1" "1480" "5 1/2\""]]` {
			t.Errorf("%s: %s", name, got)
		}
	}
	// A formula that is none of a text stays.
	tab, _, err := ReadDelimited("list", []byte("Machine,Speed\nP 1,=410/2\nP 2,=\"a\"&\"b\"\nP 3,=\"\n"), 0)
	if err != nil || tab.Rows[1][1] != "=410/2" || tab.Rows[2][1] != `="a"&"b"` || tab.Rows[3][1] != `="` {
		t.Errorf("%v %q", err, tab.Rows)
	}
}

// A ditto mark is one of the signs and words that stand for the cell above, and nothing else is.
func TestDitto(t *testing.T) {
	for _, s := range strings.Split(`"|''|″|”|„|〃|-"-|--"--| – " – |do.|dto.|Ditto|idem|as above|WIE OBEN`, "|") {
		if !Ditto(s) {
			t.Errorf("%q is none", s)
		}
	}
	for _, s := range strings.Split(`|-|--|5"|1/2"|do|id|P-1|Pump do.|"P"|0`, "|") {
		if Ditto(s) {
			t.Errorf("%q is one", s)
		}
	}
}

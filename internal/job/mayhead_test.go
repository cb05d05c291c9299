package job

import (
	"math/rand/v2"
	"strings"
	"testing"

	"shimsheet/internal/units"
)

// TestNoUnitIsANumber holds what isUnitsRow takes for granted: a text of digits, signs, points, commas and blanks that begins like a number is no unit of any kind.
func TestNoUnitIsANumber(t *testing.T) {
	LoadColumns()
	var try func(s string)
	try = func(s string) {
		if BeginsNumber(s) && OnlyNumbers(s) {
			for _, k := range units.Kinds() {
				if _, ok := units.ParseHeaderUnit(s, k); ok && k != units.Number {
					t.Errorf("%q is a unit of %v", s, k)
				}
			}
		}
		if len(s) < 4 {
			for _, c := range "0129.,-+ " {
				try(s + string(c))
			}
		}
	}
	try("")
}

// TestMayHead holds the short way to the long one: wherever it says that no header can stand, none is found. Rows are drawn from names, halves of names, units, numbers and blanks.
func TestMayHead(t *testing.T) {
	LoadColumns()
	rng := rand.New(rand.NewPCG(11, 12))
	cells := []string{"", "", "Machine", "Movable rim", "Stationary", "rim", "12", "3", "6", "9", "Speed", "Speed [rpm]", "rpm", "mm", "110", "0,17", "-0.5", "P-101", "Movable rim 6", "Coupling", "to front feet", "river side", "-"}
	row := func() []string {
		r := make([]string, 1+rng.IntN(8))
		numbers := rng.IntN(4) == 0
		for c := range r {
			if r[c] = cells[rng.IntN(len(cells))]; numbers && rng.IntN(3) > 0 {
				r[c] = "1.5"
			}
		}
		return r
	}
	skipped, heads := 0, 0
	for range 60_000 {
		rows := [][]string{row(), row()}[:1+rng.IntN(2)]
		h, filled := HeadingAt(rows, 0, MachinesSheet)
		is := h.Known >= 2 && 2*h.Known >= filled
		if is {
			heads++
		}
		if !MayHead(rows, 0, MachinesSheet) {
			if skipped++; is {
				t.Fatalf("%q is a header", rows)
			}
		}
	}
	if skipped < 1000 || heads < 1000 {
		t.Errorf("%d were passed over, %d were headers", skipped, heads)
	}
}

// TestNamesBegin holds the short way of telling texts that are no names to the long one: no spelling of any sheet is missed, however it is written and whatever stands behind or before
// it, and most texts of a list are told. Seen: a list of 10,000 rows with 25 columns of words took five seconds to paste, four of them in looking for headers among its rows.
func TestNamesBegin(t *testing.T) {
	LoadColumns()
	rng := rand.New(rand.NewPCG(5, 6))
	around := []string{"%s", " %s", "%s ", "%s [mm]", "%s (mil)", "[mm] %s", "(in) %s", "%s mm", "%s, rpm", "- %s", "%s:", "“%s”", "%s\nin mm", "%s/min", "%s12", "x%s", "*%s*", "[%s]"}
	same := func(kind SheetKind, text string) bool {
		a, u, has := MatchHeader(kind, text)
		if len(text) > MaxHeader || OnlyNumbers(text) {
			return a == NoColumn
		}
		b, v, had := matchName(kind, text)
		return a == b && u == v && has == had
	}
	for _, c := range Columns() {
		for _, s := range c.Spellings() {
			for _, form := range around {
				text := strings.Replace(form, "%s", s, 1)
				switch rng.IntN(5) {
				case 0:
					text = strings.ToUpper(text)
				case 1:
					text = strings.ReplaceAll(text, " ", "_")
				case 2:
					text = strings.ReplaceAll(text, " ", "")
				case 3:
					text = strings.Join(strings.Split(text, ""), " ")
				}
				if !same(c.Sheet, text) {
					t.Fatalf("%q on the sheet %v", text, c.Sheet)
				}
			}
		}
	}
	const letters = "abcdefghijklmnoprstuvwxyz  -[](&±éÄ129."
	all := []rune(letters)
	told := 0
	for range 40_000 {
		text := make([]rune, 1+rng.IntN(12))
		for i := range text {
			text[i] = all[rng.IntN(len(all))]
		}
		if !same(MachinesSheet, string(text)) {
			t.Fatalf("%q", string(text))
		}
		if !mayBegin(MachinesSheet, string(text)) {
			told++
		}
	}
	if told < 12_000 {
		t.Errorf("%d of 40,000 texts were told", told)
	}
}

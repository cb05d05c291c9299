package job

import (
	"math/rand/v2"
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
		if !MayHead(rows, 0) {
			if skipped++; is {
				t.Fatalf("%q is a header", rows)
			}
		}
	}
	if skipped < 1000 || heads < 1000 {
		t.Errorf("%d were passed over, %d were headers", skipped, heads)
	}
}

package calculators

import (
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/units"
)

// 12.5 mil = 0.3175 mm and 1 in = 25.4 mm, exactly (NIST SP 811, 2008, app. B.8).
func TestCalcMeaning(t *testing.T) {
	find := func(calc, key string) *Column {
		for i, in := range Find(calc).Inputs {
			if in.Key == key {
				return &Find(calc).Inputs[i]
			}
		}
		t.Fatal(calc, key)
		return nil
	}
	for _, c := range []struct {
		calc, key, text string
		inch            bool
		mark            units.Decimal
		want            string
	}{
		{"gap", "gap", "12.5 mil", false, units.Point, "0.31750 mm = 12.500 mil"},
		{"gap", "gap", "0,3175", false, units.Comma, "0,31750 mm = 12,500 mil"},
		{"gap", "diameter", "1", true, units.Point, "1.0000 in = 25.400 mm"},
		{"growth", "height", "250; 1 in", false, units.Point, "250.00 mm = 9.8425 in; 25.400 mm = 1.0000 in"},
		{"gap", "gap", "1; 2", false, units.Point, ""},
		{"gap", "gap", "12,5,0", false, units.Point, ""},
		{"gap", "gap", " ", false, units.Point, ""},
		{"bolt", "k", "0.2", false, units.Point, ""},
		{"speed", "rpm", "1750", false, units.Point, "1750.0 rpm"},
	} {
		if got := find(c.calc, c.key).Meaning(c.text, c.inch, c.mark); got != c.want {
			t.Errorf("%s %s %q: %q, not %q", c.calc, c.key, c.text, got, c.want)
		}
	}
}

func TestExampleCellsReadWithEitherSign(t *testing.T) {
	for _, c := range All() {
		point := c.Row(c.ExampleCells(units.Point), Settings{Decimal: units.Point, Material: nil})
		comma := c.Row(c.ExampleCells(units.Comma), Settings{Decimal: units.Comma, Material: nil})
		if !point.OK() || !comma.OK() || len(c.Example) > len(c.Inputs) {
			t.Errorf("%s: %v %v", c.Key, point.Problems, comma.Problems)
		}
		if !slices.EqualFunc(point.Texts, comma.Texts, func(p, q string) bool {
			return p == q || strings.ReplaceAll(p, ".", ",") == strings.ReplaceAll(q, ".", ",")
		}) {
			t.Errorf("%s: %q %q", c.Key, point.Texts, comma.Texts)
		}
	}
}

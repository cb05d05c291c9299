package calculators

import (
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// Meaning says how a text would be understood in the column: the value in the unit of the job, and in the other system's where that is another,
// "0.3175 mm = 12.5 mil". It is "" for a blank text, words and plain numbers, and for what cannot be read.
func (c *Column) Meaning(text string, inch bool, mark units.Decimal) string {
	if job.Blank(text) || c.Measure.texts() || c.Measure == MNumber || c.Measure == MCount {
		return ""
	}
	out := ""
	for part := range strings.SplitSeq(text, ";") {
		if !c.List && part != text {
			return ""
		}
		x, cause, _ := c.Measure.parse(strings.TrimSpace(part), c.Measure.unit(inch), mark)
		if cause != "" || !finite(x) {
			return ""
		}
		if out != "" {
			out += "; "
		}
		here, there := c.Unit(inch), c.Unit(!inch)
		out += strings.TrimSpace(c.text(x, inch, mark) + " " + here)
		if here != there {
			out += " = " + c.text(x, !inch, mark) + " " + there
		}
	}
	return out
}

// ExampleCells are the cells of the worked example as they would be typed with the decimal sign of the job.
func (c *Calculator) ExampleCells(mark units.Decimal) []string {
	out := make([]string, len(c.Inputs))
	copy(out, c.Example)
	for i := range c.Inputs {
		if m := c.Inputs[i].Measure; mark == units.Comma && m != MText && m != MChoice {
			out[i] = strings.ReplaceAll(out[i], ".", ",")
		}
	}
	return out
}

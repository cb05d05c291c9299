package job

import (
	"strings"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// HintUnits lists the units of a kind by their printed names.
func HintUnits(k units.Kind) string {
	var b strings.Builder
	for i, e := range units.Table(k) {
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(e.Unit.String())
	}
	return words.HintWrite.Say(b.String())
}

// HintChoices lists the words of a column.
func HintChoices(c ColumnID) string { return words.HintWrite.Say(strings.Join(c.Info().Choices, ", ")) }

// HintHeaderOf lists the columns of a small sheet.
func HintHeaderOf(k SheetKind) string {
	var names []string
	for i := range NumColumns {
		if i.Info().Sheet == k {
			names = append(names, i.Info().Name)
		}
	}
	return words.HintColumnsAre.Say(strings.Join(names, ", "))
}

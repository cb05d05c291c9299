package sheet_test

import (
	"shimsheet/internal/results"
	"shimsheet/internal/sheet"
)

func init() {
	sheet.AboveTold, sheet.AboveNumber, sheet.AboveKey, sheet.AboveRefusal = results.AppendTold, results.Number, results.Text, results.AppendRefusal
}

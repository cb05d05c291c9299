package sheet_test

import (
	"shimsheet/internal/results"
	"shimsheet/internal/sheet"
)

func init() {
	sheet.AboveJSON, sheet.AboveCSV, sheet.AboveTable, sheet.AboveLists = results.WriteJSON, results.WriteCSV, results.WriteTable, results.WriteList
	sheet.AboveList = func(e *sheet.Evaluator, list string) (*sheet.List, error) {
		l, err := results.NewList(e, list, nil)
		return (*sheet.List)(l), err
	}
	sheet.AboveRow = func(dst []byte, e *sheet.Evaluator, row int) []byte { return results.NewRows(e).Append(dst, row) }
	sheet.AboveFeed = func(dst []byte, f *sheet.Feed) ([]byte, sheet.Done) { return results.AnswersOf(f).Append(dst) }
	sheet.AboveText, sheet.AboveTextAt = results.AppendCell, results.AppendText
	sheet.AboveCell = results.ShownNumber
	sheet.AboveTold, sheet.AboveNumber, sheet.AboveKey, sheet.AboveRefusal = results.AppendTold, results.Number, results.Text, results.AppendRefusal
}

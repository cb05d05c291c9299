package sentences_test

import (
	"shimsheet/internal/evaluate"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

func init() {
	sentences.AboveJSON, sentences.AboveCSV, sentences.AboveTable, sentences.AboveLists = results.WriteJSON, results.WriteCSV, results.WriteTable, results.WriteList
	sentences.AboveList = func(e *sentences.Teller, list string) (*sentences.List, error) {
		l, err := results.NewList(e, list, nil)
		return (*sentences.List)(l), err
	}
	sentences.AboveRow = func(dst []byte, e *sentences.Teller, row int) []byte { return results.NewRows(e).Append(dst, row) }
	sentences.AboveFeed = func(dst []byte, f *evaluate.Feed) ([]byte, evaluate.Done) { return results.AnswersOf(f).Append(dst) }
	sentences.AboveText, sentences.AboveTextAt = results.AppendCell, results.AppendText
	sentences.AboveCell = results.ShownNumber
	sentences.AboveTold, sentences.AboveNumber, sentences.AboveKey, sentences.AboveRefusal = results.AppendTold, results.Number, results.Text, results.AppendRefusal
}

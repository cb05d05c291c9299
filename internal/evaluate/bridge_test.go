package evaluate_test

import (
	"io"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

// What the rooms above write of a job is handed in: this package cannot import them.
func init() {
	evaluate.AboveJSON = func(w io.Writer, e *evaluate.Evaluator) error { return results.WriteJSON(w, sentences.Of(e)) }
	evaluate.AboveCSV = func(w io.Writer, e *evaluate.Evaluator) error { return results.WriteCSV(w, sentences.Of(e)) }
	evaluate.AboveTable = func(w io.Writer, e *evaluate.Evaluator) error { return results.WriteTable(w, sentences.Of(e)) }
	evaluate.AboveLists = func(w io.Writer, e *evaluate.Evaluator, list string) error {
		return results.WriteList(w, sentences.Of(e), list)
	}
	evaluate.AboveList = func(e *evaluate.Evaluator, list string) (*evaluate.List, error) {
		l, err := results.NewList(sentences.Of(e), list, nil)
		return (*evaluate.List)(l), err
	}
	evaluate.AboveRow = func(dst []byte, e *evaluate.Evaluator, row int) []byte {
		return results.NewRows(sentences.Of(e)).Append(dst, row)
	}
	evaluate.AboveFeed = func(dst []byte, f *evaluate.Feed) ([]byte, evaluate.Done) { return results.AnswersOf(f).Append(dst) }
	evaluate.AboveText = func(dst []byte, e *evaluate.Evaluator, r *evaluate.RowResult, c job.ColumnID) []byte {
		return results.AppendCell(dst, sentences.Of(e), r, c)
	}
	evaluate.AboveTextAt = func(dst []byte, e *evaluate.Evaluator, row, col int) []byte {
		return results.AppendText(dst, sentences.Of(e), row, col)
	}
	evaluate.AboveCell = func(e *evaluate.Evaluator, row, col int) (float64, bool) {
		return results.ShownNumber(sentences.Of(e), row, col)
	}
	evaluate.AboveTold = func(dst []byte, e *evaluate.Evaluator, row, col int) []byte {
		return results.AppendTold(dst, sentences.Of(e), row, col)
	}
	evaluate.AboveKey = func(e *evaluate.Evaluator, i int, key string) string { return results.Text(sentences.Of(e), i, key) }
	evaluate.AboveNumber, evaluate.AboveRefusal = results.Number, results.AppendRefusal
}

package sheet

import "shimsheet/internal/job"

// More of what the room above writes: toldbridge_test.go hands it in.
var (
	AboveTold    func(dst []byte, e *Evaluator, row, col int) []byte
	AboveNumber  func(r *RowResult, c job.ColumnID) (v, u float64, ok bool)
	AboveKey     func(e *Evaluator, i int, key string) string
	AboveRefusal func(dst []byte, line int, r *Refusal) []byte
)

func (e *Evaluator) AppendTold(dst []byte, row, col int) []byte {
	return AboveTold(dst, e, row, col)
}
func (e *Evaluator) ResultText(i int, key string) string           { return AboveKey(e, i, key) }
func (r *RowResult) number(c job.ColumnID) (v, u float64, ok bool) { return AboveNumber(r, c) }
func AppendRefusal(dst []byte, line int, r *Refusal) []byte        { return AboveRefusal(dst, line, r) }

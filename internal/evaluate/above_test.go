package evaluate

import (
	"io"

	"shimsheet/internal/job"
)

// What the room above writes of a job is looked at in tests here, too. bridge_test.go hands it in, for this package cannot import that one.
var (
	AboveJSON    func(w io.Writer, e *Evaluator) error
	AboveCSV     func(w io.Writer, e *Evaluator) error
	AboveTable   func(w io.Writer, e *Evaluator) error
	AboveLists   func(w io.Writer, e *Evaluator, list string) error
	AboveList    func(e *Evaluator, list string) (*List, error)
	AboveRow     func(dst []byte, e *Evaluator, row int) []byte
	AboveFeed    func(dst []byte, f *Feed) ([]byte, Done)
	AboveText    func(dst []byte, e *Evaluator, r *RowResult, c job.ColumnID) []byte
	AboveTextAt  func(dst []byte, e *Evaluator, row, col int) []byte
	AboveCell    func(e *Evaluator, row, col int) (float64, bool)
	AboveTold    func(dst []byte, e *Evaluator, row, col int) []byte
	AboveNumber  func(r *RowResult, c job.ColumnID) (v, u float64, ok bool)
	AboveKey     func(e *Evaluator, i int, key string) string
	AboveRefusal func(dst []byte, line int, r *Refusal) []byte
)

// List is a list of the room above.
type List = struct {
	Header []string
	Words  int
	Number int
	Rows   [][]string
	Short  []bool
	At     []int
	Notes  []string
}

var Lists = []string{"pick", "order", "feet", "moves", "board", "history"}

func (e *Evaluator) ResultsJSON(w io.Writer) error { return AboveJSON(w, e) }

func (e *Evaluator) ResultsCSV(w io.Writer) error { return AboveCSV(w, e) }

func (e *Evaluator) ResultsText(w io.Writer) error { return AboveTable(w, e) }

func (e *Evaluator) ListText(w io.Writer, list string) error { return AboveLists(w, e, list) }

func (e *Evaluator) List(list string, _ func(int, int) bool) (*List, error) {
	return AboveList(e, list)
}

func (e *Evaluator) AppendRowJSON(dst []byte, i int) []byte { return AboveRow(dst, e, i) }

func (e *Evaluator) ResultNumber(row, col int) (float64, bool) { return AboveCell(e, row, col) }

func answer(f *Feed, dst []byte) ([]byte, Done) { return AboveFeed(dst, f) }

func (e *Evaluator) AppendResultText(dst []byte, row, col int) []byte {
	return AboveTextAt(dst, e, row, col)
}

func (e *Evaluator) AppendTold(dst []byte, row, col int) []byte {
	return AboveTold(dst, e, row, col)
}

func (e *Evaluator) ResultText(i int, key string) string { return AboveKey(e, i, key) }

func AppendRefusal(dst []byte, line int, r *Refusal) []byte { return AboveRefusal(dst, line, r) }

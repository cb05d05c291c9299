package sentences

import (
	"io"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// What the room above writes of a job is looked at in tests here, too. bridge_test.go hands it in, for this package cannot import that one.
var (
	AboveJSON    func(w io.Writer, e *Teller) error
	AboveCSV     func(w io.Writer, e *Teller) error
	AboveTable   func(w io.Writer, e *Teller) error
	AboveLists   func(w io.Writer, e *Teller, list string) error
	AboveList    func(e *Teller, list string) (*List, error)
	AboveRow     func(dst []byte, e *Teller, row int) []byte
	AboveFeed    func(dst []byte, f *evaluate.Feed) ([]byte, evaluate.Done)
	AboveText    func(dst []byte, e *Teller, r *evaluate.RowResult, c job.ColumnID) []byte
	AboveTextAt  func(dst []byte, e *Teller, row, col int) []byte
	AboveCell    func(e *Teller, row, col int) (float64, bool)
	AboveTold    func(dst []byte, e *Teller, row, col int) []byte
	AboveNumber  func(r *evaluate.RowResult, c job.ColumnID) (v, u float64, ok bool)
	AboveKey     func(e *Teller, i int, key string) string
	AboveRefusal func(dst []byte, line int, r *evaluate.Refusal) []byte
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

func (e *Teller) ResultsJSON(w io.Writer) error { return AboveJSON(w, e) }

func (e *Teller) ResultsCSV(w io.Writer) error { return AboveCSV(w, e) }

func (e *Teller) ResultsText(w io.Writer) error { return AboveTable(w, e) }

func (e *Teller) ListText(w io.Writer, list string) error { return AboveLists(w, e, list) }

func (e *Teller) List(list string, _ func(int, int) bool) (*List, error) {
	return AboveList(e, list)
}

func (e *Teller) AppendRowJSON(dst []byte, i int) []byte { return AboveRow(dst, e, i) }

func (e *Teller) ResultNumber(row, col int) (float64, bool) { return AboveCell(e, row, col) }

func (e *Teller) AppendResultText(dst []byte, row, col int) []byte {
	return AboveTextAt(dst, e, row, col)
}

func (e *Teller) AppendTold(dst []byte, row, col int) []byte {
	return AboveTold(dst, e, row, col)
}

func (e *Teller) ResultText(i int, key string) string { return AboveKey(e, i, key) }

func numberOf(r *evaluate.RowResult, c job.ColumnID) (v, u float64, ok bool) {
	return AboveNumber(r, c)
}

func AppendRefusal(dst []byte, line int, r *evaluate.Refusal) []byte {
	return AboveRefusal(dst, line, r)
}

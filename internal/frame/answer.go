package frame

import (
	"strconv"

	"shimsheet/internal/jsonread"
)

// An answer is what an operation of the desk answered: its members by name.
type answer map[string]any

// parse reads an answer. The desk writes them itself: one that cannot be read is none.
func parse(text string) answer {
	a := answer{}
	r := jsonread.New(text)
	if err := r.Object(func(key string) (err error) {
		a[key], err = value(&r)
		return err
	}); err != nil {
		return answer{}
	}
	return a
}

// value reads any value.
func value(r *jsonread.Reader) (any, error) {
	switch r.Kind() {
	case jsonread.Text:
		return r.Text()
	case jsonread.Number:
		s, err := r.Number()
		f, _ := strconv.ParseFloat(s, 64)
		return f, err
	case jsonread.Truth:
		return r.Truth()
	case jsonread.List:
		list := []any{}
		err := r.List(func() error {
			v, err := value(r)
			list = append(list, v)
			return err
		})
		return list, err
	case jsonread.Object:
		a := answer{}
		err := r.Object(func(key string) (err error) {
			a[key], err = value(r)
			return err
		})
		return a, err
	}
	return nil, r.Skip()
}

func (a answer) text(key string) string { s, _ := a[key].(string); return s }
func (a answer) int(key string) int     { f, _ := a[key].(float64); return int(f) }
func (a answer) yes(key string) bool    { b, _ := a[key].(bool); return b }
func (a answer) has(key string) bool    { _, ok := a[key]; return ok }

func (a answer) texts(key string) []string {
	list, _ := a[key].([]any)
	out := make([]string, len(list))
	for i, v := range list {
		out[i], _ = v.(string)
	}
	return out
}

// rows is a list of lists of texts.
func (a answer) rows(key string) [][]string {
	list, _ := a[key].([]any)
	out := make([][]string, len(list))
	for i, v := range list {
		row, _ := v.([]any)
		for _, c := range row {
			s, _ := c.(string)
			out[i] = append(out[i], s)
		}
	}
	return out
}

// A State is what the desk says of the sheet at hand and of the job with every operation that may have changed one.
type State struct {
	Sheet, Row, Col, Rows, Height, Columns, Machines int
	Desk, Changes, Revision                          int
	Sel                                              [4]int // first row, first column, last row, last column
	Shown, View, Undo, Redo, Note, Makers            string
	ID, Name, SavedAt                                string
	All, ResultsFirst                                bool
	Changed, Header, Arranged                        bool // what the operation did
}

func stateOf(a answer) State {
	s := State{
		Sheet: a.int("sheet"), Row: a.int("row"), Col: a.int("col"), Rows: a.int("rows"), Height: a.int("height"), Columns: a.int("columns"), Machines: a.int("machines"),
		Desk: a.int("desk"), Changes: a.int("changes"), Revision: a.int("revision"),
		Shown: a.text("shown"), View: a.text("view"), Undo: a.text("undo"), Redo: a.text("redo"), Note: a.text("note"), Makers: a.text("makers"),
		ID: a.text("id"), Name: a.text("name"), SavedAt: a.text("savedAt"),
		All: a.yes("all"), ResultsFirst: a.yes("resultsFirst"), Changed: a.yes("changed"), Header: a.yes("header"), Arranged: a.yes("arranged"),
	}
	list, _ := a["sel"].([]any)
	for i := range min(len(list), 4) {
		f, _ := list[i].(float64)
		s.Sel[i] = int(f)
	}
	return s
}

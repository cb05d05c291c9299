package screens

import (
	"strconv"

	"shimsheet/internal/jsonread"
)

// A filePreview is what a file from elsewhere holds and how it would be read, as the program for workbook files says it (package workbook, Report).
type filePreview struct {
	Format, Encoding string // xlsx, xlsm, csv, tsv; the encoding of delimited text
	Own              bool   // written by this program
	Sheets           []*sheetPreview
	Notices          []fileNotice
	Learnt           [][]string // sheet, header, meaning
	Refused          string     // why it gives no job; "" it does
	Rows             []int      // of each sheet of the job, in the order of the pieces it comes in
}

// A sheetPreview is one sheet of the file. Kind is the key of the sheet it is read as, "" kept unread.
type sheetPreview struct {
	Name, Kind, Why, Dimension               string
	Results                                  bool // written by this program, and worked out anew
	HeaderRow, Titles, Rows, LastRow, Merged int
	HiddenRows                               []int
	Columns                                  []*columnPreview
}

// A columnPreview is a column below the header. Key is what it is understood as, "" kept unread; Guess what it likely means then; Asked the meanings that are as likely.
type columnPreview struct {
	Letter, Header, Key, Name, Unit, UnitFrom, Guess, GuessUnit, Because, Place string
	Result                                                                      bool
	Col, Filled, TextNumbers, Series                                            int
	Sample, Asked                                                               []string
}

// A fileNotice is something that was pointed out. Row is as people count, 0 the whole sheet; Col from 0, −1 none.
type fileNotice struct {
	Severity, Sheet, Column, Text, Hint string
	Row, Col                            int
}

// A previewReader reads a preview out of JSON.
type previewReader struct{ jsonread.Reader }

// members reads an object: each member to where into points (*string, *int, *bool, *[]string, *[]int, or a function that reads it), and passes over the others.
func (r *previewReader) members(into map[string]any) error {
	return r.Object(func(key string) (err error) {
		switch to := into[key].(type) {
		case *string:
			*to, err = r.Text()
		case *bool:
			*to, err = r.Truth()
		case *int:
			*to, err = r.whole()
		case *[]string:
			err = r.List(func() error {
				text, err := r.Text()
				*to = append(*to, text)
				return err
			})
		case *[]int:
			err = r.List(func() error {
				n, err := r.whole()
				*to = append(*to, n)
				return err
			})
		case func() error:
			err = to()
		default:
			err = r.Skip()
		}
		return err
	})
}

func (r *previewReader) whole() (int, error) {
	text, err := r.Number()
	if err != nil || text == "" {
		return 0, err
	}
	return strconv.Atoi(text)
}

// readPreview reads what the program for workbook files says of a file.
func readPreview(text string) (*filePreview, error) {
	r := &previewReader{jsonread.New(text)}
	p := new(filePreview)
	preview := map[string]any{"format": &p.Format, "encoding": &p.Encoding, "own": &p.Own,
		"sheets":  func() error { return r.List(func() error { return r.sheet(p) }) },
		"notices": func() error { return r.List(func() error { return r.notice(p) }) },
		"learnt": func() error {
			return r.List(func() error {
				l := make([]string, 3)
				err := r.members(map[string]any{"sheet": &l[0], "header": &l[1], "means": &l[2]})
				p.Learnt = append(p.Learnt, l)
				return err
			})
		}}
	err := r.members(map[string]any{"preview": func() error { return r.members(preview) }, "refused": &p.Refused, "rows": &p.Rows})
	if err == nil {
		err = r.End()
	}
	return p, err
}

func (r *previewReader) sheet(p *filePreview) error {
	s := new(sheetPreview)
	p.Sheets = append(p.Sheets, s)
	return r.members(map[string]any{"name": &s.Name, "kind": &s.Kind, "why": &s.Why, "results": &s.Results, "dimension": &s.Dimension, "header_row": &s.HeaderRow, "titles": &s.Titles,
		"rows": &s.Rows, "last_row": &s.LastRow, "merged": &s.Merged, "hidden_rows": &s.HiddenRows,
		"columns": func() error {
			return r.List(func() error {
				c := new(columnPreview)
				s.Columns = append(s.Columns, c)
				return r.members(map[string]any{"col": &c.Col, "letter": &c.Letter, "header": &c.Header, "key": &c.Key, "name": &c.Name, "result": &c.Result, "unit": &c.Unit,
					"unit_from": &c.UnitFrom, "filled": &c.Filled, "text_numbers": &c.TextNumbers, "sample": &c.Sample, "guess": &c.Guess, "guess_unit": &c.GuessUnit, "asked": &c.Asked,
					"because": &c.Because, "series": &c.Series, "place": &c.Place})
			})
		}})
}

func (r *previewReader) notice(p *filePreview) error {
	n := fileNotice{}
	err := r.members(map[string]any{"severity": &n.Severity, "sheet": &n.Sheet, "row": &n.Row, "column": &n.Column, "text": &n.Text, "hint": &n.Hint, "col": &n.Col})
	p.Notices = append(p.Notices, n)
	return err
}

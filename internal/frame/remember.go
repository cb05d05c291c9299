package frame

import (
	"strings"

	"shimsheet/internal/desk"
	"shimsheet/internal/job"
	"shimsheet/internal/jsonread"
)

// What was matched in the jobs on this computer is kept for the next one: rows of sheet, header, meaning, the last first.

const (
	headersKey  = "shimsheet-headers"
	mostHeaders = 400
)

// headers are those that were matched before. What cannot be read is left out.
func (f *Frame) headers() [][]string {
	var all [][]string
	r := jsonread.New(f.b.Kept(headersKey))
	err := r.List(func() error {
		v, err := value(&r)
		if row, ok := v.([]any); ok && len(row) == 3 {
			cells := make([]string, 0, 3)
			for _, c := range row {
				if s, ok := c.(string); ok {
					cells = append(cells, s)
				}
			}
			if len(cells) == 3 {
				all = append(all, cells)
			}
		}
		return err
	})
	if err != nil {
		return nil
	}
	return all
}

// remembered are those headers as the screens take them: packed rows.
func (f *Frame) remembered() string { return string(job.AppendPacked(nil, f.headers())) }

// remember keeps for the next job what this one knows.
func (f *Frame) remember(packed string) {
	rows := job.AppendUnpacked(nil, packed)
	known := len(rows)
	for _, h := range f.headers() {
		same := false
		for _, r := range rows[:known] {
			same = same || r[0] == h[0] && strings.EqualFold(r[1], h[1])
		}
		if !same {
			rows = append(rows, h)
		}
	}
	f.b.Keep(headersKey, string(jsonRows(nil, rows[:min(len(rows), mostHeaders)])))
}

// Choices are what a person chose of a file ("" nothing yet) and what was matched in other jobs, as the program for workbook files takes them.
func (f *Frame) Choices(sheets string) string {
	if sheets == "" {
		sheets = "[]"
	}
	b := append([]byte(`{"sheets":`), sheets...)
	b = append(b, `,"before":[`...)
	for i, h := range f.headers() {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, `{"sheet":`...)
		b = desk.AppendText(b, h[0])
		b = desk.AppendText(append(b, `,"header":`...), h[1])
		b = desk.AppendText(append(b, `,"means":`...), h[2])
		b = append(b, '}')
	}
	return string(append(b, "]}"...))
}

// jsonRows writes rows as a list of lists of texts.
func jsonRows(b []byte, rows [][]string) []byte {
	b = append(b, '[')
	for i, r := range rows {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, '[')
		for k, c := range r {
			if k > 0 {
				b = append(b, ',')
			}
			b = desk.AppendText(b, c)
		}
		b = append(b, ']')
	}
	return append(b, ']')
}

package httpapi

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// kept returns a document that is made when it is first asked for.
func (s *server) kept(name, media string, text func() []byte) *document {
	s.docsLock.Lock()
	defer s.docsLock.Unlock()
	d := s.docs[name]
	if d == nil {
		d = newDocument(media, text())
		s.docs[name] = d
	}
	return d
}

// asJSON is a value as JSON, indented to be read.
func asJSON(v any) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(v); err != nil {
		panic("httpapi: " + err.Error())
	}
	return b.Bytes()
}

func (s *server) getPage(w *answer, r *http.Request) *problem {
	if s.page == nil {
		return failure(kindNotFound, words.HttpNoPage.String(), words.HttpJobsAt.String())
	}
	return s.page.serve(w, r)
}

// A columnEntry is a column as /v1/columns tells it.
type columnEntry struct {
	Sheet     string   `json:"sheet"`
	Key       string   `json:"key"`
	Name      string   `json:"name"`
	Group     string   `json:"group"`
	Holds     string   `json:"holds"`
	Metric    string   `json:"unit_metric,omitempty"`
	Inch      string   `json:"unit_inch,omitempty"`
	Help      string   `json:"help"`
	Choices   []string `json:"choices,omitempty"`
	Spellings []string `json:"spellings"`
	Result    bool     `json:"result"`
}

func (s *server) getColumns(w *answer, r *http.Request) *problem {
	return s.kept("columns", mediaJSON, func() []byte {
		var list []columnEntry
		for _, c := range job.Columns() {
			e := columnEntry{Sheet: c.Sheet.String(), Key: c.Key, Name: c.Name, Group: c.Group, Holds: c.Quantity.String(), Help: c.Help(), Choices: c.Choices, Spellings: c.Spellings(), Result: c.Result}
			if u := c.Unit(false); u != units.None {
				e.Metric = u.String()
			}
			if u := c.Unit(true); u != units.None {
				e.Inch = u.String()
			}
			list = append(list, e)
		}
		return asJSON(map[string]any{"columns": list})
	}).serve(w, r)
}

// A unitEntry is a unit as /v1/units tells it.
type unitEntry struct {
	Unit      string   `json:"unit"`
	Of        string   `json:"of"`
	Base      string   `json:"base"`
	Factor    string   `json:"factor"`
	Spellings []string `json:"spellings"`
}

func (s *server) getUnits(w *answer, r *http.Request) *problem {
	return s.kept("units", mediaJSON, func() []byte {
		list := []unitEntry{}
		for _, k := range units.Kinds() {
			for _, e := range units.Table(k) {
				list = append(list, unitEntry{e.Unit.String(), k.String(), k.Base().String(), e.Factor, e.Spellings})
			}
		}
		return asJSON(map[string]any{"units": list})
	}).serve(w, r)
}

// A tableEntry is a reference table as /v1/tables tells it. Cells are as the source prints them.
type tableEntry struct {
	Key     string        `json:"key"`
	Title   string        `json:"title"`
	About   string        `json:"about"`
	Columns []tableColumn `json:"columns"`
	Rows    []tableRow    `json:"rows"`
}

type tableColumn struct {
	Key   string `json:"key"`
	Title string `json:"title"`
	Unit  string `json:"unit,omitempty"`
}

type tableRow struct {
	Name   string   `json:"name"`
	Cells  []string `json:"cells"`
	Source string   `json:"source"`
}

func (s *server) getTables(w *answer, r *http.Request) *problem {
	return s.kept("tables", mediaJSON, func() []byte {
		var list []tableEntry
		for _, t := range tables.All() {
			e := tableEntry{Key: t.Key, Title: t.Title, About: t.About}
			for _, c := range t.Columns {
				e.Columns = append(e.Columns, tableColumn{c.Key, c.Title, c.Unit})
			}
			for _, row := range t.Rows {
				e.Rows = append(e.Rows, tableRow{row.Name, row.Cells, row.Source.String()})
			}
			list = append(list, e)
		}
		return asJSON(map[string]any{"tables": list})
	}).serve(w, r)
}

// getTable gives one table as a list: its columns with their units, and the source behind them.
func (s *server) getTable(w *answer, r *http.Request) *problem {
	key, csv := strings.CutSuffix(strings.TrimPrefix(r.URL.Path, tablesPrefix), ".csv")
	t := tables.Find(key)
	if !csv || t == nil {
		return failure(kindNotFound, words.HttpNoTable.Say(shorten(key)), words.HttpTablesAt.String())
	}
	return s.kept("table "+key, mediaCSV+"; charset=utf-8", func() []byte {
		var head []string
		for _, c := range t.Columns {
			name := c.Title
			if c.Unit != "" {
				name += " [" + c.Unit + "]"
			}
			head = append(head, name)
		}
		b := job.AppendCSVRow(nil, append(head, "Source"), ',')
		for _, row := range t.Rows {
			b = job.AppendCSVRow(b, append(row.Cells[:len(row.Cells):len(row.Cells)], row.Source.String()), ',')
		}
		return b
	}).serve(w, r)
}

func (s *server) getHealth(w *answer, _ *http.Request) *problem {
	s.small(w, mediaJSON, asJSON(map[string]any{"status": "ok", "version": s.Version, "workbooks": s.Books != nil}))
	return nil
}

// A kindEntry is a kind of problem as it is listed.
type kindEntry struct {
	Type   string `json:"type"`
	Status int    `json:"status"`
	Title  string `json:"title"`
}

func (s *server) getProblems(w *answer, r *http.Request) *problem {
	return s.kept("problems", mediaJSON, func() []byte {
		var list []kindEntry
		for _, k := range kinds {
			list = append(list, kindEntry{problemsPath + "#" + k.key, k.status, k.title.String()})
		}
		return asJSON(map[string]any{"problems": list})
	}).serve(w, r)
}

func (s *server) getDescription(w *answer, r *http.Request) *problem {
	return s.kept("openapi", mediaJSON, func() []byte { return asJSON(s.describe()) }).serve(w, r)
}

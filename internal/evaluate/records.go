package evaluate

import (
	"slices"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Records make a job of rows that come as names and values, such as objects of JSON, in the place of a header and cells:
//
//	r := NewRecords(nil)
//	r.Begin(MachinesSheet)
//	r.Set("Machine", "P-101", false)
//	r.Set("Speed [rpm]", "1480", true)
//	job := r.Job()
//
// A name is read as a header is, in any of its spellings and with a unit in brackets. Unlike a header that nobody knows, a name that leads to no column is refused:
// whoever writes names beside values meant something by each. Names of results are passed over, as those columns of a list are.
type Records struct {
	job  *job.Job
	own  []OwnHeader
	kind job.SheetKind
	// Of each sheet: which column a name stands for, and the cells that hold numbers with a point.
	columns [job.NumSheets]map[string]int
	means   [job.NumSheets][]job.ColumnID
	points  []recordCell
	set     []int // columns filled in this row
	commas  bool  // a text with a comma came
}

// A recordCell is a number with a point, wherever it stands.
type recordCell struct {
	kind     job.SheetKind
	row, col int
}

// MaxRecordColumns is how many columns the rows of a sheet may make together.
const MaxRecordColumns = 1000

// NewRecords begins a job that has this Job sheet, nil: none.
func NewRecords(settings *job.Table) *Records {
	job.LoadColumns()
	r := &Records{job: job.NewJob(), own: OwnHeaders(settings)}
	r.job.Settings, r.commas = settings, settings != nil
	return r
}

// fewColumns is how many columns room is made for before any came. A row of readings has about as many.
const fewColumns = 24

// Begin starts a row of a sheet, which is not the Job sheet. Rows are numbered from 1 in each sheet.
func (r *Records) Begin(kind job.SheetKind) {
	t := r.job.Table(kind)
	if t == nil || t.Header == nil {
		t = &job.Table{Name: kind.String(), FirstRow: 1, Header: make([]string, 0, fewColumns)}
		r.job.SetTable(kind, t)
		r.columns[kind] = make(map[string]int, fewColumns)
	}
	t.Rows = append(t.Rows, make([]string, 0, max(len(t.Header), fewColumns)))
	r.kind, r.set = kind, r.set[:0]
}

// Set fills a cell of the row. number says that the text is a number with a point for the decimal sign, whatever the job's is.
func (r *Records) Set(key, text string, number bool) *Refusal {
	t := r.job.Table(r.kind)
	col, known := r.columns[r.kind][key]
	if !known {
		c, unit, has := job.MatchHeader(r.kind, key)
		for i := 0; c == job.NoColumn && i < len(r.own); i++ {
			if o := &r.own[i]; o.Kind == r.kind && sameHeader(o.Header, key) {
				c, unit, has = job.MatchHeader(r.kind, o.Means)
				key = o.Means
			}
		}
		if c == job.NoColumn {
			hint := words.HintKeyUnknown.With()
			if near := nearColumn(r.kind, key); near != job.NoColumn {
				hint = words.HintKeyNear.With(near.Info().Name)
			}
			return &Refusal{words.ProblemKeyUnknownOf.With(job.Quote(key), r.kind), hint}
		}
		info := c.Info()
		if info.Result {
			return nil
		}
		if kind := info.Quantity.Kind(); has && kind != units.Number {
			if _, ok := units.ParseHeaderUnit(unit, kind); !ok {
				return &Refusal{words.ProblemKeyUnit.With(job.Quote(key), unit, kind), words.Plain(job.HintUnits(kind))}
			}
		}
		if col, known = r.columns[r.kind][key]; !known {
			if col = len(t.Header); col == MaxRecordColumns {
				return &Refusal{words.ProblemKeysMany.With(MaxRecordColumns), words.HintKeysMany.With()}
			}
			r.columns[r.kind][key] = col
			r.means[r.kind] = append(r.means[r.kind], c)
			t.Header = append(t.Header, key)
		}
	}
	means := r.means[r.kind]
	for _, o := range r.set {
		if o == col {
			return &Refusal{words.ProblemKeyTwice.With(job.Quote(key)), words.HintKeyTwice.With()}
		} else if means[o] == means[col] {
			return &Refusal{words.ProblemKeysAlike.With(job.Quote(t.Header[o]), job.Quote(key), means[o].Info().Name), words.HintKeyTwice.With()}
		}
	}
	r.set = append(r.set, col)
	row := &t.Rows[len(t.Rows)-1]
	for len(*row) <= col {
		*row = append(*row, "")
	}
	(*row)[col] = text
	switch {
	case !number:
		r.commas = r.commas || strings.IndexByte(text, ',') >= 0
	case strings.IndexByte(text, '.') >= 0 && (means[col].Info().Quantity != job.QText || means[col] == job.ChecksValue || means[col] == job.ChecksLimit):
		r.points = append(r.points, recordCell{r.kind, len(t.Rows) - 1, col})
	}
	return nil
}

// Job is the job of the rows so far. Its numbers are written so that they are read as themselves under the decimal sign of the job.
func (r *Records) Job() *job.Job {
	if r.commas && len(r.points) > 0 {
		mark := NewEvaluator(r.job).set.mark
		for _, p := range r.points {
			cell := &r.job.Table(p.kind).Rows[p.row][p.col]
			*cell = pointed(*cell, mark)
		}
		r.points = r.points[:0]
	}
	return r.job
}

// SettingsTable makes a Job sheet of names and values, in order. A name that is no setting is refused; number is as in [Records.Set].
func SettingsTable(names, values []string, number []bool) (*job.Table, *Refusal) {
	job.LoadColumns()
	t := &job.Table{Name: job.SettingsSheet.String(), FirstRow: 1}
	var seen []job.ColumnID
	for i, name := range names {
		c, unit, has := job.MatchHeader(job.SettingsSheet, name)
		if _, own := ParseOwnHeader(name, values[i]); c == job.NoColumn && !own {
			hint := words.HintUnknownSetting.With()
			if near := nearColumn(job.SettingsSheet, name); near != job.NoColumn {
				hint = words.HintKeyNear.With(near.Info().Name)
			}
			return nil, &Refusal{words.ProblemKeyUnknownOf.With(job.Quote(name), job.SettingsSheet), hint}
		}
		if c != job.NoColumn {
			if kind := c.Info().Quantity.Kind(); has && kind != units.Number {
				if _, ok := units.ParseHeaderUnit(unit, kind); !ok {
					return nil, &Refusal{words.ProblemKeyUnit.With(job.Quote(name), unit, kind), words.Plain(job.HintUnits(kind))}
				}
			}
			if slices.Contains(seen, c) {
				return nil, &Refusal{words.ProblemKeyTwice.With(job.Quote(c.Info().Name)), words.HintKeyTwice.With()}
			}
			seen = append(seen, c)
		}
		t.Rows = append(t.Rows, []string{name, values[i]})
	}
	e := NewEvaluator(&job.Job{Machines: &job.Table{}, Settings: t})
	for i, n := range number {
		if n {
			t.Rows[i][1] = pointed(values[i], e.set.mark)
		}
	}
	return t, nil
}

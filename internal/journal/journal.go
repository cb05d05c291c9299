// Package journal tells what changed in a job since it was told last, as a short text, and puts such texts back over a whole copy of the job: so each
// change can be on the disk at once, and the whole only now and then. It also compares two states of a job row by row. Start with [New].
//
// A Journal looks at the job, not at what was done to it: whatever changed it, typing, undoing or an exchange of all sheets, is told the same way. Rows
// that are the same slice as before count as unchanged without a look at their cells, so a change of one cell among 10,000 rows is found in a
// moment; that rests on package grid's promise that rows are replaced and never changed in place.
package journal

import (
	"errors"
	"maps"
	"slices"
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// A Journal holds a job as it was told last.
type Journal struct{ last job.Job }

// New begins a journal with a job as it is now.
func New(j *job.Job) *Journal { return &Journal{Freeze(j)} }

// Freeze is the job as it is now: what is done to j afterwards does not show in it.
func Freeze(j *job.Job) job.Job {
	out := *j
	out.Views = maps.Clone(j.Views)
	out.SavedBefore = slices.Clone(j.SavedBefore)
	for _, k := range job.SheetKinds() {
		if t := j.Table(k); t != nil {
			c := *t
			c.Rows = slices.Clone(t.Rows)
			out.SetTable(k, &c)
		}
	}
	return out
}

// The words that begin the lines of a record. A record is lines of cells, packed as rows go between programs (see [evaluate.AppendPacked]).
const (
	wordChange = "change" // the version of this form
	wordSaved  = "saved"  // revision, time, times before
	wordView   = "view"   // key, text; "" none
	wordGone   = "gone"   // key of a sheet that is no more
	wordTable  = "table"  // key, name, file, first row, lines of title that follow or -1, lines of header that follow: 0 or 1
	wordCut    = "cut"    // key, row, rows that go, rows that come and follow
	wordEnd    = "end"    // lines before this one
	formOne    = "1"
)

// Next is what changed since the last call, "" for nothing.
func (o *Journal) Next(j *job.Job) string {
	w := writer{}
	w.line(wordChange, formOne)
	last := &o.last
	if j.Revision != last.Revision || j.SavedAt != last.SavedAt || !slices.Equal(j.SavedBefore, last.SavedBefore) {
		w.line(append([]string{wordSaved, strconv.Itoa(j.Revision), j.SavedAt}, j.SavedBefore...)...)
		last.Revision, last.SavedAt, last.SavedBefore = j.Revision, j.SavedAt, slices.Clone(j.SavedBefore)
	}
	if !maps.Equal(j.Views, last.Views) {
		for _, k := range slices.Sorted(maps.Keys(last.Views)) {
			if _, ok := j.Views[k]; !ok {
				w.line(wordView, k, "")
			}
		}
		for _, k := range slices.Sorted(maps.Keys(j.Views)) {
			if v, ok := last.Views[k]; !ok || v != j.Views[k] {
				w.line(wordView, k, j.Views[k])
			}
		}
		last.Views = maps.Clone(j.Views)
	}
	for _, k := range job.SheetKinds() {
		was, is := last.Table(k), j.Table(k)
		switch {
		case is != nil:
			if was == nil {
				was = &job.Table{}
				last.SetTable(k, was)
				w.head(k, is)
			}
			w.table(k, was, is)
		case was != nil:
			w.line(wordGone, k.Key())
			last.SetTable(k, nil)
		}
	}
	if w.lines == 1 {
		return ""
	}
	w.line(wordEnd, strconv.Itoa(w.lines))
	return string(w.b)
}

// A writer puts a record together.
type writer struct {
	b     []byte
	lines int
}

func (w *writer) line(cells ...string) { w.rows([][]string{cells}) }

func (w *writer) rows(rows [][]string) {
	w.b = job.AppendPacked(w.b, rows)
	w.lines += len(rows)
}

// head tells all of a table but its rows.
func (w *writer) head(k job.SheetKind, t *job.Table) {
	titles, headers := -1, "0"
	if t.Title != nil {
		titles = len(t.Title)
	}
	if t.Header != nil {
		headers = "1"
	}
	w.line(wordTable, k.Key(), t.Name, t.File, strconv.Itoa(t.FirstRow), strconv.Itoa(titles), headers)
	w.rows(t.Title)
	if t.Header != nil {
		w.rows([][]string{t.Header})
	}
}

// table tells how is differs from was, and makes was the same.
func (w *writer) table(k job.SheetKind, was, is *job.Table) {
	sameTitle := (was.Title == nil) == (is.Title == nil) && slices.EqualFunc(was.Title, is.Title, sameRow)
	sameHeader := (was.Header == nil) == (is.Header == nil) && sameRow(was.Header, is.Header)
	if was.Name != is.Name || was.File != is.File || was.FirstRow != is.FirstRow || !sameTitle || !sameHeader {
		w.head(k, is)
		was.Name, was.File, was.FirstRow, was.Title, was.Header = is.Name, is.File, is.FirstRow, is.Title, is.Header
	}
	old, now := was.Rows, is.Rows
	if len(old) == len(now) {
		for i := 0; i < len(now); i++ {
			from := i
			for i < len(now) && !sameRow(old[i], now[i]) {
				i++
			}
			if i > from {
				w.cut(k, from, i-from, now[from:i])
			}
		}
		copy(old, now)
		return
	}
	head := 0
	for head < min(len(old), len(now)) && sameRow(old[head], now[head]) {
		head++
	}
	tail := 0
	for tail < min(len(old), len(now))-head && sameRow(old[len(old)-1-tail], now[len(now)-1-tail]) {
		tail++
	}
	w.cut(k, head, len(old)-tail-head, now[head:len(now)-tail])
	was.Rows = slices.Clone(now)
}

func (w *writer) cut(k job.SheetKind, at, old int, now [][]string) {
	w.line(wordCut, k.Key(), strconv.Itoa(at), strconv.Itoa(old), strconv.Itoa(len(now)))
	w.rows(now)
}

func sameRow(a, b []string) bool {
	return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0] || slices.Equal(a, b))
}

// errRecord says what [Apply] finds wrong.
func errRecord() error { return errors.New(words.JournalMisfit.String()) }

// Apply puts a record over the job it was told of. On error the job may hold a part of it and is not to be used.
func Apply(j *job.Job, record string) error {
	r := reader{lines: job.AppendUnpacked(nil, record)}
	n := len(r.lines)
	if n < 2 || !slices.Equal(r.lines[n-1], []string{wordEnd, strconv.Itoa(n - 1)}) || !slices.Equal(r.lines[0], []string{wordChange, formOne}) {
		return errRecord()
	}
	r.lines = r.lines[1 : n-1]
	for len(r.lines) > 0 && !r.bad {
		l := r.next()
		switch {
		case len(l) >= 3 && l[0] == wordSaved:
			j.Revision, j.SavedAt, j.SavedBefore = r.number(l[1]), l[2], nil
			if len(l) > 3 {
				j.SavedBefore = l[3:]
			}
		case len(l) == 3 && l[0] == wordView:
			j.Views = maps.Clone(j.Views)
			if delete(j.Views, l[1]); l[2] != "" {
				if j.Views == nil {
					j.Views = map[string]string{}
				}
				j.Views[l[1]] = l[2]
			}
			if len(j.Views) == 0 {
				j.Views = nil
			}
		case len(l) == 2 && l[0] == wordGone:
			j.SetTable(r.kind(l[1]), nil)
		case len(l) == 7 && l[0] == wordTable:
			r.head(j, l)
		case len(l) == 5 && l[0] == wordCut:
			r.cut(j, l)
		default:
			return errRecord()
		}
	}
	if r.bad {
		return errRecord()
	}
	return nil
}

// A reader takes the lines of a record. After something wrong it is bad.
type reader struct {
	lines [][]string
	bad   bool
}

func (r *reader) next() []string { return r.take(1)[0] }

// take takes n lines; if there are fewer it gives empty ones.
func (r *reader) take(n int) [][]string {
	if n > len(r.lines) || n < 0 {
		r.bad = true
		return make([][]string, max(min(n, 1), 0))
	}
	out := r.lines[:n:n]
	r.lines = r.lines[n:]
	return out
}

func (r *reader) number(s string) int {
	n, err := strconv.Atoi(s)
	r.bad = r.bad || err != nil
	return n
}

func (r *reader) kind(key string) job.SheetKind {
	for _, k := range job.SheetKinds() {
		if k.Key() == key {
			return k
		}
	}
	r.bad = true
	return job.MachinesSheet
}

func (r *reader) head(j *job.Job, l []string) {
	k := r.kind(l[1])
	t := j.Table(k)
	if t == nil {
		t = &job.Table{}
		j.SetTable(k, t)
	}
	t.Name, t.File, t.FirstRow = l[2], l[3], r.number(l[4])
	t.Title, t.Header = nil, nil
	if n := r.number(l[5]); n >= 0 {
		t.Title = append([][]string{}, r.take(n)...)
	}
	if l[6] == "1" {
		t.Header = append([]string{}, r.take(1)[0]...)
	}
}

func (r *reader) cut(j *job.Job, l []string) {
	t := j.Table(r.kind(l[1]))
	at, old, n := r.number(l[2]), r.number(l[3]), r.number(l[4])
	rows := r.take(n)
	if r.bad || t == nil || at < 0 || old < 0 || at+old > len(t.Rows) {
		r.bad = true
		return
	}
	if old == n {
		copy(t.Rows[at:], rows)
		return
	}
	t.Rows = slices.Replace(t.Rows, at, at+old, rows...)
}

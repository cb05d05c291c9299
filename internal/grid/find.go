package grid

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// FindOptions say how [Model.Find] looks. Without any: the whole sheet, downwards row by row, capitals alike, anywhere in a cell.
type FindOptions struct {
	MatchCase   bool
	WholeCell   bool
	InSelection bool // only in the selection if it is more than a cell; when a match has become the cursor, still in that selection
	InColumn    bool // only in the cursor's column
	Back        bool // upwards
	Here        bool // the cursor's own cell comes first, as when the query is still being typed
}

// A Found is the outcome of a search.
type Found struct {
	OK      bool
	At      Pos
	Index   int  // which of all matches this is, from 1, in reading order
	Count   int  // all matching cells
	Fixed   int  // how many of them stand in read-only columns
	Wrapped bool // the search went past the end
}

// A query is what is looked for.
type query struct {
	text  string
	fold  bool
	whole bool
	ascii bool
}

func newQuery(text string, o FindOptions) query {
	q := query{text: text, fold: !o.MatchCase, whole: o.WholeCell, ascii: true}
	for i := range len(text) {
		q.ascii = q.ascii && text[i] < utf8.RuneSelf
	}
	if q.fold && q.ascii {
		q.text = strings.ToLower(text)
	}
	return q
}

func lower(c byte) byte {
	if c >= 'A' && c <= 'Z' {
		c += 'a' - 'A'
	}
	return c
}

// begins says whether the query stands at the beginning of s, and how long it is there. Capitals are known rune by rune.
func (q *query) begins(s string) (n int, ok bool) {
	if q.ascii {
		if len(s) < len(q.text) {
			return 0, false
		}
		for i := range len(q.text) {
			if lower(s[i]) != q.text[i] {
				return 0, false
			}
		}
		return len(q.text), true
	}
	for _, want := range q.text {
		r, size := utf8.DecodeRuneInString(s[n:])
		if size == 0 || !alike(r, want) {
			return 0, false
		}
		n += size
	}
	return n, true
}

// alike says whether two letters are one but for being a capital, as Unicode folds them: Σ, σ and ς are one.
func alike(a, b rune) bool {
	if a == b {
		return true
	}
	for r := unicode.SimpleFold(a); r != a; r = unicode.SimpleFold(r) {
		if r == b {
			return true
		}
	}
	return false
}

// index returns where the query first stands in s from i on.
func (q *query) index(s string, i int) (from, to int, ok bool) {
	switch {
	case q.text == "":
	case !q.fold:
		var before string
		before, _, ok = strings.Cut(s[i:], q.text)
		from, to = i+len(before), i+len(before)+len(q.text)
	default:
		for ; i < len(s) && !ok; i++ {
			if q.ascii && lower(s[i]) != q.text[0] || !q.ascii && !utf8.RuneStart(s[i]) {
				continue
			}
			var n int
			n, ok = q.begins(s[i:])
			from, to = i, i+n
		}
	}
	if q.whole && (from > 0 || to < len(s)) {
		ok = false
	}
	return from, to, ok
}

func (q *query) in(s string) bool {
	_, _, ok := q.index(s, 0)
	return ok
}

// replace puts text in place of every match in s.
func (q *query) replace(s, text string) string {
	var b strings.Builder
	at := 0
	for {
		from, to, ok := q.index(s, at)
		if !ok {
			b.WriteString(s[at:])
			return b.String()
		}
		b.WriteString(s[at:from])
		b.WriteString(text)
		at = to
	}
}

// scope is the block that is searched.
func (m *Model) scope(o FindOptions) Rect {
	all := Rect{0, 0, m.ShownRows() - 1, len(m.order) - 1}
	if o.InSelection {
		if m.cur != m.anchor {
			m.area, m.areas = m.Selection(), true
		} else if m.areas && m.cur != m.found {
			m.areas = false
		}
		if m.areas {
			a := m.area
			all = Rect{a.R0, a.C0, min(a.R1, all.R1), min(a.C1, all.C1)}
		}
	} else {
		m.areas = false
	}
	if o.InColumn { // without any columns that is none
		all.C0, all.C1 = m.cur.Col, min(m.cur.Col, all.C1)
	}
	return all
}

// Find looks for query from the cursor on, going round at the end, and puts the cursor at the match. Only shown rows and columns are
// searched. shown gives the text of read-only cells, row as stored; nil leaves them out.
func (m *Model) Find(query string, o FindOptions, shown func(row, k int) string) Found {
	if m.editing {
		return Found{}
	}
	q := newQuery(query, o)
	in := m.scope(o)
	after := func(p, q Pos) bool { return p.Row > q.Row || p.Row == q.Row && p.Col > q.Col }
	var f Found
	var first, last, next, prev Pos
	nextAt, prevAt, here := 0, 0, 0
	for r := in.R0; r <= in.R1; r++ {
		at := m.Stored(r)
		row := m.rows[at]
		for x := in.C0; x <= in.C1; x++ {
			c := m.order[x]
			switch {
			case c >= 0 && (c >= len(row) || !q.in(row[c])):
				continue
			case c < 0 && (shown == nil || !q.in(shown(at, ^c))):
				continue
			case c < 0:
				f.Fixed++
			}
			p := Pos{r, x}
			if f.Count++; f.Count == 1 {
				first = p
			}
			last = p
			switch {
			case after(p, m.cur):
				if nextAt == 0 {
					next, nextAt = p, f.Count
				}
			case p == m.cur:
				here = f.Count
			default:
				prev, prevAt = p, f.Count
			}
		}
	}
	if f.Count == 0 {
		return f
	}
	f.OK = true
	switch {
	case o.Here && here > 0:
		f.At, f.Index = m.cur, here
	case o.Back && prevAt > 0:
		f.At, f.Index = prev, prevAt
	case o.Back:
		f.At, f.Index, f.Wrapped = last, f.Count, true
	case nextAt > 0:
		f.At, f.Index = next, nextAt
	default:
		f.At, f.Index, f.Wrapped = first, 1, true
	}
	m.Go(f.At, false)
	m.found = f.At
	return f
}

// Replace puts text in place of query in the cursor's cell, if it matches and is no read-only one, and goes to the next match. Note
// says so when the cell could not be changed.
func (m *Model) Replace(query, text string, o FindOptions, shown func(row, k int) string) (Change, Found) {
	if m.editing {
		return Change{}, Found{}
	}
	var ch Change
	q := newQuery(query, o)
	c := m.Column(m.cur.Col)
	switch {
	case m.cur != m.anchor || m.cur.Row >= m.ShownRows() || len(m.order) == 0: // nothing has been found yet
	case c >= 0:
		if old := m.At(m.cur); q.in(old) {
			if s := q.replace(old, text); s != old {
				b := batch{m: m}
				b.put(m.cur.Row, with(m.row(m.cur.Row), c, s))
				ch = m.done(m.apply(words.GridReplaceCell.String(), nil, nil, b.hunks()...))
			}
		}
	case shown != nil && q.in(shown(m.Stored(m.cur.Row), ^c)):
		ch.Note = words.GridWorkedOut.String()
	}
	o.Here = false
	return ch, m.Find(query, o, shown)
}

// ReplaceAll puts text in place of query in every matching input cell, as one undo step "replacing 12 cells".
func (m *Model) ReplaceAll(query, text string, o FindOptions) Change {
	if m.editing {
		return Change{}
	}
	q := newQuery(query, o)
	in := m.scope(o)
	b := batch{m: m}
	cells := 0
	for r := in.R0; r <= in.R1; r++ {
		row := m.row(r)
		fresh := false
		for x := in.C0; x <= in.C1; x++ {
			c := m.order[x]
			if c < 0 || c >= len(row) || !q.in(row[c]) {
				continue
			}
			s := q.replace(row[c], text)
			if s == row[c] {
				continue
			}
			if !fresh {
				row, fresh = slices.Clone(row), true
			}
			row[c] = s
			cells++
		}
		if fresh {
			b.put(r, row)
		}
	}
	if cells == 0 {
		return Change{}
	}
	return m.done(m.apply(words.GridReplace.Say(count(cells, cellsOf)), nil, nil, b.hunks()...))
}

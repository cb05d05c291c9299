// Package grid holds the editing rules of one sheet of text cells: cursor and selection, typing, paste, fill, rows and columns,
// and undo. It knows neither a screen nor what a cell means; start with [New].
//
// Rows are never changed in place: every change replaces rows by new ones, so that a step of the undo list is two short lists of
// rows and undoing gives back exactly what stood there.
//
// While a cell is open nothing but [Model.Commit] and [Model.CommitAll] changes the sheet or how it is arranged: every other operation is
// refused, so that what is being typed comes to stand in the cell that was opened.
//
// Left out on purpose: drawing, the clipboard itself, column meaning (handed in as functions) and all arithmetic.
package grid

import (
	"slices"
	"strings"

	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// Spare is the number of empty rows that can be reached below the last one, as in any spreadsheet.
const Spare = 60

// undoCells bounds what the undo list may keep alive, in cells: 4e6 strings are 64 MB under wasm.
const undoCells = 4_000_000

// A Pos is a place in the sheet as shown: row from 0 (rows past the last are empty), column in the order of [Model.SetOrder].
type Pos struct{ Row, Col int }

// A Rect is a block of places, both corners included.
type Rect struct{ R0, C0, R1, C1 int }

// A Change says what an operation touched, in stored rows as they are afterwards.
type Change struct {
	Any      bool // something changed
	Header   bool // header or columns changed: everything is to be looked at again
	From, To int  // all that changed lies in the stored rows From … To−1
	Moved    bool // the number of rows changed: what stands below To is at another place now
	Note     string
	Sorted   bool // undone or done again was that the shown order was made the rows' own
}

// A Model is one sheet: header, rows and what the user is doing with them. Not safe for use by several goroutines.
type Model struct {
	title  [][]string
	header []string
	rows   [][]string

	wish   []int // the order asked for, hidden columns in it
	hidden []int
	order  []int // shown column → column ≥ 0, or ^k for the read-only column k
	place  []int // column → shown column, −1 if hidden

	view *rowView // nil: rows as stored
	arrangement

	cur, anchor Pos
	tabCol      int // where Enter goes back to after a run of Tabs; −1: none

	editing bool
	editAt  Pos

	undo, redo []step
	kept       int // cells kept alive by undo
	version    int // counts changes

	more []Rect // ranges besides the selection, for copying

	clipText   string     // what Copy gave out last
	clipInputs [][]string // the same without the read-only columns

	found Pos  // where Find left the cursor
	area  Rect // the selection it searched
	areas bool // area is set
}

// A hunk is a run of stored rows that is replaced.
type hunk struct {
	at       int // its first row before the change
	old, new [][]string
	place    int // where the new rows are shown, before the change; asBefore: each where the old one stands
}

const asBefore = -1

// A step is one change: everything before and after.
type step struct {
	name             string
	title0, title1   [][]string
	header0, header1 []string
	headerSet        bool
	hunks            []hunk // by at, not overlapping
	view0, view1     *rowView
	cur0, anchor0    Pos
	cur1, anchor1    Pos
	cells            int // what it keeps alive
	sorts            bool
}

// New returns a sheet with the given header and rows. The slices are taken over; rows may be ragged.
func New(title [][]string, header []string, rows [][]string) *Model {
	m := &Model{title: title, header: header, rows: rows, tabCol: -1}
	m.SetOrder(nil)
	return m
}

// Title returns the lines above the header. Only to be read.
func (m *Model) Title() [][]string { return m.title }

// Header returns the column names as typed. Only to be read.
func (m *Model) Header() []string { return m.header }

// Rows returns the rows as typed, ragged. Only to be read; each change leaves earlier rows untouched.
func (m *Model) Rows() [][]string { return m.rows }

// SetOrder sets which columns are shown in which order: column numbers ≥ 0, and ^k for the read-only column k. Columns that order
// leaves out, or all of them for nil, follow at the end; numbers of columns that do not exist are dropped. What [Model.SetHidden] hid
// stays hidden.
func (m *Model) SetOrder(order []int) {
	m.wish = slices.Clone(order)
	m.layOut()
}

func (m *Model) layOut() {
	m.order = m.order[:0]
	m.place = make([]int, len(m.header))
	seen := make([]bool, len(m.header))
	for i := range m.place {
		m.place[i] = -1
	}
	show := func(c int) {
		if c >= 0 {
			if c >= len(m.header) || seen[c] {
				return
			}
			seen[c] = true
		}
		if slices.Contains(m.hidden, c) {
			return
		}
		if c >= 0 {
			m.place[c] = len(m.order)
		}
		m.order = append(m.order, c)
	}
	for _, c := range m.wish {
		show(c)
	}
	for c := range m.header {
		show(c)
	}
	m.clamp()
}

// Columns returns the number of shown columns.
func (m *Model) Columns() int { return len(m.order) }

// Column returns what is shown in the shown column x: a column number ≥ 0, or ^k for the read-only column k.
func (m *Model) Column(x int) int {
	if x < 0 || x >= len(m.order) {
		return -1 << 30
	}
	return m.order[x]
}

// Shown returns where column c is shown, −1 for none.
func (m *Model) Shown(c int) int {
	if c < 0 || c >= len(m.place) {
		return -1
	}
	return m.place[c]
}

// Height returns the number of rows that can be reached: those that are shown and Spare more.
func (m *Model) Height() int {
	if len(m.order) == 0 {
		return 0
	}
	return m.ShownRows() + Spare
}

// Cell returns the text of column c in the stored row r, empty outside.
func (m *Model) Cell(r, c int) string {
	if r < 0 || r >= len(m.rows) || c < 0 || c >= len(m.rows[r]) {
		return ""
	}
	return m.rows[r][c]
}

// At returns the text of a shown cell; read-only cells are empty here.
func (m *Model) At(p Pos) string { return m.Cell(m.Stored(p.Row), m.Column(p.Col)) }

// Blank says that no row holds any text.
func (m *Model) Blank() bool { return m.used() == 0 }

// used returns the number of rows up to the last one with text.
func (m *Model) used() int {
	for r := len(m.rows) - 1; r >= 0; r-- {
		if !blankRow(m.rows[r]) {
			return r + 1
		}
	}
	return 0
}

func blankRow(row []string) bool {
	for _, s := range row {
		if strings.TrimSpace(s) != "" {
			return false
		}
	}
	return true
}

// apply does one change, forwards, and puts it on the undo list; header and title are replaced if not nil.
func (m *Model) apply(name string, title [][]string, header []string, hunks ...hunk) Change {
	s := step{name: name, hunks: hunks, header0: m.header, title0: m.title, header1: m.header, title1: m.title}
	if header != nil {
		s.header1, s.headerSet = header, true
	}
	if title != nil {
		s.title1 = title
	}
	for _, h := range hunks {
		for i, r := range h.old {
			if i < len(h.new) && sameRow(r, h.new[i]) {
				continue
			}
			s.cells += len(r)
		}
		for _, r := range h.new {
			s.cells += len(r)
		}
		s.cells += 2 * (len(h.old) + len(h.new) + 2)
	}
	return m.push(s)
}

func sameRow(a, b []string) bool { return len(a) == len(b) && (len(a) == 0 || &a[0] == &b[0]) }

// push does a step the first time.
func (m *Model) push(s step) Change {
	s.cur0, s.anchor0, s.view0, s.view1 = m.cur, m.anchor, m.view, m.view
	if m.view != nil && reshapes(s.hunks) {
		s.view1 = m.view.through(s.hunks, false, len(m.rows), true)
		s.cells += len(s.view1.shown) / 2
	}
	m.undo = append(m.undo, s)
	m.redo = nil
	m.kept += s.cells
	for m.kept > undoCells && len(m.undo) > 1 {
		m.kept -= m.undo[0].cells
		m.undo = slices.Delete(m.undo, 0, 1) // what it kept alive goes with it
	}
	return m.replace(&s, false)
}

// reshapes says whether rows come, go or are shown elsewhere.
func reshapes(hunks []hunk) bool {
	return slices.ContainsFunc(hunks, func(h hunk) bool { return h.place != asBefore || len(h.old) != len(h.new) })
}

// replace makes the rows, header and title of one side of a step the present ones.
func (m *Model) replace(s *step, back bool) Change {
	m.version++
	header, title, seen, view := s.header1, s.title1, s.view0, s.view1
	if back {
		header, title, seen, view = s.header0, s.title0, s.view1, s.view0
	}
	if m.view != nil && reshapes(s.hunks) {
		if m.view != seen {
			view = m.view.through(s.hunks, back, len(m.rows), false)
		}
		m.view = view
	}
	ch := Change{Any: true, Header: s.headerSet}
	same, shift := true, 0
	for i := range s.hunks {
		from, to, at := s.hunks[i].side(back, &shift)
		if i == 0 {
			ch.From = at
		}
		if ch.To = s.hunks[i].at + len(to); !back {
			ch.To = s.hunks[i].at + len(from) + shift
		}
		same = same && len(from) == len(to)
	}
	ch.Moved = !same
	shift = 0
	switch {
	case same:
		for i := range s.hunks {
			_, to, at := s.hunks[i].side(back, &shift)
			copy(m.rows[at:], to)
		}
	case len(s.hunks) == 1:
		from, to, at := s.hunks[0].side(back, &shift)
		m.rows = slices.Replace(m.rows, at, at+len(from), to...)
	default:
		var out [][]string
		next := 0
		for i := range s.hunks {
			from, to, at := s.hunks[i].side(back, &shift)
			out = append(append(out, m.rows[next:at]...), to...)
			next = at + len(from)
		}
		m.rows = append(out, m.rows[next:]...)
	}
	m.header, m.title = header, title
	if s.headerSet {
		old := s.header0
		if back {
			old = s.header1
		}
		m.renamed(old)
	}
	return ch
}

// side returns the rows that go and those that come, and where in the present rows they stand. shift is what earlier hunks of the
// same step have added to the number of rows, forwards.
func (h *hunk) side(back bool, shift *int) (from, to [][]string, at int) {
	from, to, at = h.old, h.new, h.at
	if back {
		from, to, at = h.new, h.old, h.at+*shift
	}
	*shift += len(h.new) - len(h.old)
	return from, to, at
}

// renamed keeps the model usable after a change of the columns until its owner sets an order of its own.
func (m *Model) renamed(old []string) {
	var hidden []int
	taken := map[int]bool{}
	for _, c := range m.hidden {
		if c < 0 {
			hidden = append(hidden, c)
			continue
		}
		if c >= len(old) {
			continue
		}
		for now, name := range m.header {
			if name == old[c] && !taken[now] {
				taken[now] = true
				hidden = append(hidden, now)
				break
			}
		}
	}
	m.hidden = hidden
	m.stale = true
	m.layOut()
}

// done notes where the cursor stands after a change.
func (m *Model) done(ch Change) Change {
	m.clamp()
	if ch.Any {
		s := &m.undo[len(m.undo)-1]
		s.cur1, s.anchor1 = m.cur, m.anchor
	}
	return ch
}

// Undo takes the last change back. The name of it is in Note.
func (m *Model) Undo() Change {
	k := len(m.undo)
	if k == 0 || m.editing {
		return Change{}
	}
	s := m.undo[k-1]
	m.undo = m.undo[:k-1]
	m.kept -= s.cells
	m.redo = append(m.redo, s)
	ch := m.replace(&s, true)
	m.back(s.cur0, s.anchor0, s.view0, ch)
	ch.Note, ch.Sorted = s.name, s.sorts
	return ch
}

// Redo does a change again that Undo took back.
func (m *Model) Redo() Change {
	k := len(m.redo)
	if k == 0 || m.editing {
		return Change{}
	}
	s := m.redo[k-1]
	m.redo = m.redo[:k-1]
	m.undo = append(m.undo, s)
	m.kept += s.cells
	ch := m.replace(&s, false)
	m.back(s.cur1, s.anchor1, s.view1, ch)
	ch.Note, ch.Sorted = s.name, s.sorts
	return ch
}

// back puts the cursor where it stood when the rows were shown as in view; else it shows the first row that changed.
func (m *Model) back(cur, anchor Pos, view *rowView, ch Change) {
	if m.view != view {
		row := max(m.ShownRow(ch.From), 0)
		cur.Row, anchor.Row = row, row
	}
	m.cur, m.anchor, m.tabCol = cur, anchor, -1
	m.clamp()
}

// UndoName names the change that [Model.Undo] would take back; empty: none.
func (m *Model) UndoName() string { return lastName(m.undo) }

// RedoName names the change that [Model.Redo] would do again.
func (m *Model) RedoName() string { return lastName(m.redo) }

func lastName(s []step) string {
	if len(s) == 0 {
		return ""
	}
	return s[len(s)-1].name
}

// with returns a copy of a row with one cell replaced.
func with(row []string, c int, text string) []string {
	out := make([]string, max(len(row), c+1))
	copy(out, row)
	out[c] = text
	return out
}

// A batch gathers new rows for shown ones and makes hunks of them.
type batch struct {
	m    *Model
	at   []int32 // stored rows
	rows [][]string
	tail [][]string // below the last stored row
}

// row returns the shown row r as stored, nil below the last.
func (m *Model) row(r int) []string {
	if r = m.Stored(r); r >= 0 && r < len(m.rows) {
		return m.rows[r]
	}
	return nil
}

// put notes what the shown row r becomes.
func (b *batch) put(r int, row []string) {
	s := b.m.Stored(r)
	if s < len(b.m.rows) {
		b.at, b.rows = append(b.at, int32(s)), append(b.rows, row)
		return
	}
	for len(b.tail) < s-len(b.m.rows) {
		b.tail = append(b.tail, []string{})
	}
	b.tail = append(b.tail, row)
}

func (b *batch) hunks() []hunk {
	if !slices.IsSorted(b.at) {
		by := make([]int, len(b.at))
		for i := range by {
			by[i] = i
		}
		sorting.Stable(by, func(i, j int) int { return int(b.at[i] - b.at[j]) })
		at, rows := make([]int32, len(by)), make([][]string, len(by))
		for i, j := range by {
			at[i], rows[i] = b.at[j], b.rows[j]
		}
		b.at, b.rows = at, rows
	}
	var out []hunk
	for i := 0; i < len(b.at); {
		j := i + 1
		for j < len(b.at) && b.at[j] == b.at[j-1]+1 {
			j++
		}
		at := int(b.at[i])
		out = append(out, hunk{at, slices.Clone(b.m.rows[at : at+j-i]), b.rows[i:j:j], asBefore})
		i = j
	}
	if len(b.tail) > 0 {
		out = append(out, hunk{at: len(b.m.rows), new: b.tail, place: b.m.ShownRows()})
	}
	return out
}

// A noun is what is counted.
type noun struct{ one, many words.Key }

var (
	rowsOf    = noun{words.GridRow, words.GridRows}
	columnsOf = noun{words.GridColumn, words.GridColumns}
	cellsOf   = noun{words.GridCell, words.GridCells}
	linesOf   = noun{words.GridLine, words.GridLines}
)

// count is a number of them.
func count(n int, of noun) string {
	if n == 1 {
		return of.one.String()
	}
	return of.many.Say(n)
}

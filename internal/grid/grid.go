// Package grid holds the editing rules of one sheet of text cells: cursor and selection, typing, paste, fill, rows and columns,
// and undo. It knows neither a screen nor what a cell means; start with [New].
//
// Rows are never changed in place: every change replaces rows by new ones, so that a step of the undo list is two short lists of
// rows and undoing gives back exactly what stood there.
//
// Left out on purpose: drawing, the clipboard itself, column meaning (handed in as functions) and all arithmetic.
package grid

import (
	"slices"
	"strconv"
	"strings"
)

// Spare is the number of empty rows that can be reached below the last one, as in any spreadsheet.
const Spare = 60

// undoCells bounds what the undo list may keep alive, in cells: 4e6 strings are 64 MB under wasm.
const undoCells = 4_000_000

// A Pos is a place in the sheet as shown: row from 0 (rows past the last are empty), column in the order of [Model.SetOrder].
type Pos struct{ Row, Col int }

// A Rect is a block of places, both corners included.
type Rect struct{ R0, C0, R1, C1 int }

// A Change says what an operation touched, in rows as they are afterwards.
type Change struct {
	Any      bool // something changed
	Header   bool // header or columns changed: everything is to be looked at again
	From, To int  // rows From … To−1 changed
	Moved    bool // the number of rows changed
	Note     string
}

// A Model is one sheet: header, rows and what the user is doing with them. Not safe for use by several goroutines.
type Model struct {
	title  [][]string
	header []string
	rows   [][]string

	order []int // shown column → column ≥ 0, or ^k for the read-only column k
	place []int // column → shown column

	cur, anchor Pos
	tabCol      int // where Enter goes back to after a run of Tabs; −1: none

	editing bool
	editAt  Pos

	undo, redo []step
	kept       int // cells kept alive by undo

	clipText   string     // what Copy gave out last
	clipInputs [][]string // the same without the read-only columns
}

// A step is one change: everything before and after.
type step struct {
	name                string
	title0, title1      [][]string
	header0, header1    []string
	at                  int
	rows0, rows1        [][]string
	cur0, anchor0       Pos
	cur1, anchor1       Pos
	cells               int
	headerSet, titleSet bool
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
// leaves out, or all of them for nil, follow at the end; numbers of columns that do not exist are dropped.
func (m *Model) SetOrder(order []int) {
	m.order = m.order[:0]
	m.place = make([]int, len(m.header))
	for i := range m.place {
		m.place[i] = -1
	}
	for _, c := range order {
		if c >= 0 {
			if c >= len(m.header) || m.place[c] >= 0 {
				continue
			}
			m.place[c] = len(m.order)
		}
		m.order = append(m.order, c)
	}
	for c := range m.header {
		if m.place[c] < 0 {
			m.place[c] = len(m.order)
			m.order = append(m.order, c)
		}
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

// Height returns the number of rows that can be reached: those that exist and Spare more.
func (m *Model) Height() int {
	if len(m.order) == 0 {
		return 0
	}
	return len(m.rows) + Spare
}

// Cell returns the text of column c in row r, empty outside.
func (m *Model) Cell(r, c int) string {
	if r < 0 || r >= len(m.rows) || c < 0 || c >= len(m.rows[r]) {
		return ""
	}
	return m.rows[r][c]
}

// At returns the text of a shown cell; read-only cells are empty here.
func (m *Model) At(p Pos) string { return m.Cell(p.Row, m.Column(p.Col)) }

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

// apply does one change, forwards, and puts it on the undo list: rows[at:at+n] become ins; header and title are replaced if not nil.
func (m *Model) apply(name string, title [][]string, header []string, at, n int, ins [][]string) Change {
	s := step{name: name, at: at, rows0: slices.Clone(m.rows[at : at+n]), rows1: ins, cur0: m.cur, anchor0: m.anchor,
		header0: m.header, title0: m.title, header1: m.header, title1: m.title}
	if header != nil {
		s.header1, s.headerSet = header, true
	}
	if title != nil {
		s.title1, s.titleSet = title, true
	}
	for _, r := range s.rows0 {
		s.cells += len(r) + 2
	}
	for _, r := range ins {
		s.cells += len(r) + 2
	}
	m.undo = append(m.undo, s)
	m.redo = nil
	m.kept += s.cells
	for m.kept > undoCells && len(m.undo) > 1 {
		m.kept -= m.undo[0].cells
		m.undo[0] = step{}
		m.undo = m.undo[1:]
	}
	return m.replace(&s, false)
}

// replace makes the rows, header and title of one side of a step the present ones.
func (m *Model) replace(s *step, back bool) Change {
	from, to := s.rows0, s.rows1
	header, title := s.header1, s.title1
	if back {
		from, to = s.rows1, s.rows0
		header, title = s.header0, s.title0
	}
	ch := Change{Any: true, From: s.at, To: s.at + len(to), Moved: len(from) != len(to), Header: s.headerSet}
	if len(from) == len(to) {
		copy(m.rows[s.at:], to)
	} else {
		m.rows = slices.Replace(m.rows, s.at, s.at+len(from), to...)
	}
	m.header, m.title = header, title
	if s.headerSet {
		m.SetOrder(m.order2(len(header)))
	}
	return ch
}

// order2 is the present order fit for n columns, so that the model stays usable until the owner sets an order of its own.
func (m *Model) order2(n int) []int {
	var out []int
	for _, c := range m.order {
		if c < n {
			out = append(out, c)
		}
	}
	return out
}

// done notes where the cursor stands after a change.
func (m *Model) done(ch Change) Change {
	m.clamp()
	if k := len(m.undo); k > 0 && ch.Any {
		m.undo[k-1].cur1, m.undo[k-1].anchor1 = m.cur, m.anchor
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
	m.cur, m.anchor, m.tabCol = s.cur0, s.anchor0, -1
	m.clamp()
	ch.Note = s.name
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
	m.cur, m.anchor, m.tabCol = s.cur1, s.anchor1, -1
	m.clamp()
	ch.Note = s.name
	return ch
}

// UndoName and RedoName name the change that would be taken back or done again; empty: none.
func (m *Model) UndoName() string { return lastName(m.undo) }

// RedoName names the change that [Model.Redo] would do again.
func (m *Model) RedoName() string { return lastName(m.redo) }

func lastName(s []step) string {
	if len(s) == 0 {
		return ""
	}
	return s[len(s)-1].name
}

// with returns a copy of row r with the given cells replaced; trailing emptiness is not added.
func with(row []string, c int, text string) []string {
	n := max(len(row), c+1)
	out := make([]string, n)
	copy(out, row)
	out[c] = text
	return out
}

func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}

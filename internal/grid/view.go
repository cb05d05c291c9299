package grid

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/sorting"
	"shimsheet/internal/words"
)

// A view is which stored rows are shown, and in which order. Everything the user does is in shown rows: Pos, Rect, Selection, Find.
// Everything the owner works out is in stored rows: Rows, Cell, Change.From and To, Source, and every function handed in that takes a
// row. [Model.Stored] and [Model.ShownRow] translate. Without a view both are the same.

// A SortKey is one column to sort by: a shown column, and the direction.
type SortKey struct {
	Col  int
	Desc bool
}

// A KeyFunc says how a cell sorts and filters: num for a number, else NaN, and its text. row is a stored row, x a shown column.
type KeyFunc func(row, x int) (num float64, text string)

// An arrangement is what Refresh does again. The columns of keys are as Model.Column gives them, so that they outlast another order.
type arrangement struct {
	keys  []SortKey
	key   KeyFunc
	keep  func(row int) bool
	stale bool // columns have changed since
}

// A rowView is never changed once made: the undo list knows a view again by its address.
type rowView struct {
	shown []int32 // shown row → stored row
	rows  int     // number of stored rows it was made for
	back  []int32 // stored row → shown row, −1; made when first asked for
}

// where returns where one of the stored rows is shown, −1 if it is not.
func (v *rowView) where(stored int) int {
	if v.back == nil {
		v.back = make([]int32, v.rows)
		for i := range v.back {
			v.back[i] = -1
		}
		for i, r := range v.shown {
			v.back[r] = int32(i)
		}
	}
	return int(v.back[stored])
}

// through returns the view of the rows after a step's hunks, of n rows before. Rows that come are shown at their place if placed is
// set, else before the next stored row that is shown.
func (v *rowView) through(hunks []hunk, back bool, n int, placed bool) *rowView {
	to := make([]int32, n)
	out := &rowView{}
	type coming struct{ place, at, n int }
	var come []coming
	shift, next := 0, 0
	moved := 0 // as shift, but in the direction asked for
	for i := range hunks {
		h := &hunks[i]
		old, new, at := h.side(back, &shift)
		for ; next < at; next++ {
			to[next] = int32(next + moved)
		}
		if h.place == asBefore && len(old) == len(new) {
			continue
		}
		for ; next < at+len(old); next++ {
			to[next] = -1
		}
		if len(new) > 0 {
			place := h.place
			if !placed || place < 0 {
				place = len(v.shown)
				for r := next; r < n; r++ {
					if w := v.where(r); w >= 0 {
						place = w
						break
					}
				}
			}
			come = append(come, coming{place, at + moved, len(new)})
		}
		moved += len(new) - len(old)
	}
	for ; next < n; next++ {
		to[next] = int32(next + moved)
	}
	out.rows = n + moved
	sorting.Stable(come, func(a, b coming) int { return cmp.Compare(a.place, b.place) })
	out.shown = make([]int32, 0, len(v.shown)+max(moved, 0))
	for i := 0; i <= len(v.shown); i++ {
		for len(come) > 0 && (come[0].place <= i || i == len(v.shown)) {
			for j := range come[0].n {
				out.shown = append(out.shown, int32(come[0].at+j))
			}
			come = come[1:]
		}
		if i < len(v.shown) && to[v.shown[i]] >= 0 {
			out.shown = append(out.shown, to[v.shown[i]])
		}
	}
	return out
}

// Arrange shows the rows sorted by keys, first key first, and only those that keep accepts; keep gets stored rows, nil keeps all.
// Stored rows stay as they are. Numbers come first, then texts ("P 2" before "P 10", capitals alike), then what is empty, in either
// direction; equal rows stay in stored order. Rows that change later stay in their place until [Model.Refresh]; rows added appear
// where they were put. The cursor stays on its row if that is shown. No keys and no keep: rows as stored. It does nothing and returns
// false while a cell is open.
//
// After a Change with Header the owner calls Arrange anew, as columns may mean others; until then Refresh does nothing.
func (m *Model) Arrange(keys []SortKey, key KeyFunc, keep func(row int) bool) bool {
	if m.editing {
		return false
	}
	a := arrangement{key: key, keep: keep}
	for _, k := range keys {
		if k.Col >= 0 && k.Col < len(m.order) {
			a.keys = append(a.keys, SortKey{m.order[k.Col], k.Desc})
		}
	}
	m.arrangement = a
	return m.Refresh()
}

// unarrange shows rows as stored, for good.
func (m *Model) unarrange() { m.arrangement, m.view = arrangement{}, nil }

// Refresh sorts and filters again as [Model.Arrange] was told last.
func (m *Model) Refresh() bool {
	if m.editing || m.stale {
		return false
	}
	spare := m.cur.Row - m.ShownRows()
	at := m.Stored(m.cur.Row)
	one := m.cur.Row == m.anchor.Row
	m.view = nil
	if len(m.keys) > 0 || m.keep != nil {
		m.view = &rowView{shown: m.sorted(m.passing()), rows: len(m.rows)}
	}
	if spare >= 0 {
		m.cur.Row = m.ShownRows() + spare
	} else if r := m.ShownRow(at); r >= 0 {
		m.cur.Row = r
	} else {
		m.cur.Row = min(m.cur.Row, max(m.ShownRows()-1, 0))
	}
	m.anchor.Row = m.cur.Row
	if !one { // the rows selected may be anywhere now
		m.anchor = m.cur
	}
	m.tabCol = -1
	m.clamp()
	return true
}

// passing lists the rows the filter keeps, in stored order.
func (m *Model) passing() []int32 {
	out := make([]int32, 0, len(m.rows))
	for r := range m.rows {
		if m.keep == nil || m.keep(r) {
			out = append(out, int32(r))
		}
	}
	return out
}

// A sortCell is one cell as it sorts: rank 0 number, 1 text, 2 empty.
type sortCell struct {
	num  float64
	text string
	rank int8
}

func (m *Model) sorted(rows []int32) []int32 {
	var desc []bool
	var cells [][]sortCell
	for _, k := range m.keys {
		x := slices.Index(m.order, k.Col)
		if x < 0 {
			continue // hidden since
		}
		col := make([]sortCell, len(rows))
		for i, r := range rows {
			num, text := math.NaN(), ""
			if m.key != nil {
				num, text = m.key(int(r), x)
			} else {
				text = m.Cell(int(r), k.Col)
			}
			switch {
			case !math.IsNaN(num):
				col[i] = sortCell{num: num}
			case strings.TrimSpace(text) == "":
				col[i] = sortCell{rank: 2}
			default:
				col[i] = sortCell{text: strings.ToLower(strings.TrimSpace(text)), rank: 1}
			}
		}
		cells, desc = append(cells, col), append(desc, k.Desc)
	}
	by := make([]int32, len(rows))
	for i := range by {
		by[i] = int32(i)
	}
	slices.SortFunc(by, func(i, j int32) int {
		for k, col := range cells {
			a, b := &col[i], &col[j]
			c := cmp.Compare(a.rank, b.rank)
			if c != 0 {
				return c
			}
			switch a.rank {
			case 0:
				c = cmp.Compare(a.num, b.num)
			case 1:
				c = naturally(a.text, b.text)
			}
			if c != 0 {
				if desc[k] {
					return -c
				}
				return c
			}
		}
		return cmp.Compare(i, j)
	})
	for i, j := range by {
		by[i] = rows[j]
	}
	return by
}

// naturally compares texts with the runs of digits in them as numbers, so that P 2 stands before P 10.
func naturally(a, b string) int {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		if !digit(a[i]) || !digit(b[j]) {
			if a[i] != b[j] {
				return cmp.Compare(a[i], b[j])
			}
			i, j = i+1, j+1
			continue
		}
		var m, n string
		m, i = digits(a, i)
		n, j = digits(b, j)
		if c := cmp.Or(cmp.Compare(len(m), len(n)), cmp.Compare(m, n)); c != 0 {
			return c
		}
	}
	return cmp.Or(cmp.Compare(len(a)-i, len(b)-j), cmp.Compare(a, b)) // P 02 and P 2: as text
}

// digits cuts the run of digits at i, without leading zeros, and says where it ends.
func digits(s string, i int) (string, int) {
	for i < len(s) && s[i] == '0' {
		i++
	}
	j := i
	for j < len(s) && digit(s[j]) {
		j++
	}
	return s[i:j], j
}

// Arranged says whether rows are shown sorted, and whether some may be left out.
func (m *Model) Arranged() (sorted, filtered bool) {
	return len(m.keys) > 0, m.keep != nil
}

// ShownRows returns the number of rows shown, without the spare ones.
func (m *Model) ShownRows() int {
	if m.view != nil {
		return len(m.view.shown)
	}
	return len(m.rows)
}

// Stored returns the stored row of a shown one. A spare row below the last gives the row it will be once something is typed there,
// so that the result is ≥ len(Rows()) for these.
func (m *Model) Stored(shown int) int {
	v := m.view
	switch {
	case v == nil || shown < 0:
		return shown
	case shown < len(v.shown):
		return int(v.shown[shown])
	}
	return len(m.rows) + shown - len(v.shown)
}

// ShownRow returns where a stored row is shown, −1 if it is left out or does not exist.
func (m *Model) ShownRow(stored int) int {
	if stored < 0 || stored >= len(m.rows) {
		return -1
	}
	if m.view != nil {
		return m.view.where(stored)
	}
	return stored
}

// SortStored makes the order shown the stored one, as an undoable change. Under a filter the rows shown change places among
// themselves and those left out stay where they are. The filter stays, the sorting of the view ends.
func (m *Model) SortStored() Change {
	if m.editing || len(m.keys) == 0 {
		return Change{}
	}
	shown := m.view.shown
	to := slices.Clone(shown)
	slices.Sort(to)
	var ch Change
	if !slices.Equal(to, shown) {
		b := batch{m: m, at: to}
		for _, r := range shown {
			b.rows = append(b.rows, m.rows[r])
		}
		ch = m.push(step{name: words.GridSort.Say(count(len(to), rowsOf)), hunks: b.hunks(), header0: m.header, header1: m.header,
			title0: m.title, title1: m.title, cells: 4 * len(to), sorts: true})
	}
	m.keys, m.view = nil, nil
	if m.keep != nil {
		m.view = &rowView{shown: to, rows: len(m.rows)}
	}
	if ch.Any {
		m.undo[len(m.undo)-1].view1 = m.view
	}
	return m.done(ch)
}

// SetHidden hides columns, given as [Model.Column] gives them; others are shown in the order of [Model.SetOrder], which keeps what is
// hidden. Hidden columns are passed over by everything that works on cells, and kept by everything that works on rows. When columns
// change, what is hidden stays hidden by its name.
func (m *Model) SetHidden(cols []int) {
	m.hidden = slices.Clone(cols)
	m.layOut()
}

// Hidden returns what is hidden, as given to SetHidden. Only to be read.
func (m *Model) Hidden() []int { return m.hidden }

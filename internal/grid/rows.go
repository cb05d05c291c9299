package grid

import (
	"slices"

	"shimsheet/internal/words"
)

// selected is the number of selected rows that exist.
func (m *Model) selected() int {
	sel := m.Selection()
	return max(min(sel.R1+1, m.ShownRows())-sel.R0, 0)
}

// InsertRows puts as many empty rows as are selected above the selection. In a view they are stored above the row that stands there.
func (m *Model) InsertRows() Change {
	sel := m.Selection()
	if sel.R0 > m.ShownRows() || len(m.order) == 0 || m.editing {
		return Change{}
	}
	ins := slices.Repeat([][]string{{}}, sel.R1-sel.R0+1)
	return m.done(m.apply(words.GridInsert.Say(count(len(ins), rowsOf)), nil, nil, hunk{at: m.Stored(sel.R0), new: ins, place: sel.R0}))
}

// DeleteRows takes the selected rows out.
func (m *Model) DeleteRows() Change {
	sel, n := m.Selection(), m.selected()
	if n == 0 || m.editing {
		return Change{}
	}
	b := batch{m: m}
	for r := range n {
		b.put(sel.R0+r, nil)
	}
	hunks := b.hunks()
	for i := range hunks {
		hunks[i].new = nil
	}
	ch := m.apply(words.GridDelete.Say(count(n, rowsOf)), nil, nil, hunks...)
	m.Go(Pos{sel.R0, m.cur.Col}, false)
	return m.done(ch)
}

// DuplicateRows puts a copy of the selected rows below them and selects it. In a view it is stored below the last of them.
func (m *Model) DuplicateRows() Change {
	sel, n := m.Selection(), m.selected()
	if n == 0 || m.editing {
		return Change{}
	}
	ins := make([][]string, n)
	for i := range ins {
		ins[i] = m.row(sel.R0 + i)
	}
	end := sel.R0 + n
	ch := m.apply(words.GridDuplicate.Say(count(n, rowsOf)), nil, nil, hunk{at: m.Stored(end-1) + 1, new: ins, place: end})
	m.shift(sel, n, n)
	return m.done(ch)
}

// shift moves the selection, cut to n rows, down by d rows.
func (m *Model) shift(sel Rect, n, d int) {
	clip := func(p Pos) Pos { return Pos{min(p.Row, sel.R0+n-1) + d, p.Col} }
	m.cur, m.anchor, m.tabCol = clip(m.cur), clip(m.anchor), -1
}

// MoveRows moves the selected rows up (−1) or down (1) past the next row shown, and the selection with them. Sorted rows cannot be
// moved: Note says why.
func (m *Model) MoveRows(d int) Change {
	sel, n := m.Selection(), m.selected()
	if n == 0 || m.editing {
		return Change{}
	}
	if sorted, _ := m.Arranged(); sorted {
		return Change{Note: words.GridSorted.String()}
	}
	from, to := sel.R0, sel.R0+n // these rows change places among themselves
	switch {
	case d < 0:
		from, d = from-1, -1
	case d > 0:
		to, d = to+1, 1
	default:
		return Change{}
	}
	if from < 0 || to > m.ShownRows() {
		return Change{}
	}
	var rows [][]string
	for r := from; r < to; r++ {
		rows = append(rows, m.row(r))
	}
	if k := len(rows) - 1; from < sel.R0 {
		rows = append(slices.Clone(rows[1:]), rows[0])
	} else {
		rows = slices.Insert(rows[:k:k], 0, rows[k])
	}
	b := batch{m: m}
	for i, row := range rows {
		b.put(from+i, row)
	}
	ch := m.push(step{name: words.GridMove.Say(count(n, rowsOf)), hunks: b.hunks(), header0: m.header, header1: m.header,
		title0: m.title, title1: m.title, cells: 4 * len(rows)})
	m.shift(sel, n, d)
	return m.done(ch)
}

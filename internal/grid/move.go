package grid

import (
	"strings"

	"shimsheet/internal/words"
)

// Cursor returns the place of the cursor.
func (m *Model) Cursor() Pos { return m.cur }

// Selection returns the selected block; it always holds the cursor.
func (m *Model) Selection() Rect {
	return Rect{min(m.cur.Row, m.anchor.Row), min(m.cur.Col, m.anchor.Col), max(m.cur.Row, m.anchor.Row), max(m.cur.Col, m.anchor.Col)}
}

func (m *Model) clamp() {
	h, w := max(m.Height()-1, 0), max(len(m.order)-1, 0)
	for _, p := range []*Pos{&m.cur, &m.anchor} {
		p.Row = min(max(p.Row, 0), h)
		p.Col = min(max(p.Col, 0), w)
	}
}

// Go puts the cursor at p, or the nearest place; extend keeps the other end of the selection.
func (m *Model) Go(p Pos, extend bool) {
	m.cur = p
	if !extend {
		m.anchor, m.more = p, nil
	}
	m.tabCol = -1
	m.clamp()
}

// Select selects a block with the cursor at its first corner.
func (m *Model) Select(r Rect) {
	m.cur, m.anchor, m.tabCol, m.more = Pos{r.R0, r.C0}, Pos{r.R1, r.C1}, -1, nil
	m.clamp()
}

// Move moves the cursor by rows and columns.
func (m *Model) Move(dr, dc int, extend bool) { m.Go(Pos{m.cur.Row + dr, m.cur.Col + dc}, extend) }

// Jump moves the cursor to the edge of the filled cells in a direction, as Ctrl and an arrow do: to the last cell of a filled run,
// or over emptiness to the next filled one, or to the end.
func (m *Model) Jump(dr, dc int, extend bool, filled func(Pos) bool) {
	if dr == 0 && dc == 0 {
		return
	}
	if filled == nil {
		filled = func(p Pos) bool { return m.At(p) != "" }
	}
	last := Pos{max(m.ShownRows()-1, 0), max(len(m.order)-1, 0)}
	in := func(p Pos) bool { return p.Row >= 0 && p.Col >= 0 && p.Row <= last.Row && p.Col <= last.Col }
	p := m.cur
	if p.Row > last.Row { // nothing is filled down there
		if dr >= 0 {
			if dc < 0 {
				p.Col = 0
			}
			m.Go(p, extend)
			return
		}
		p.Row = last.Row + 1
	}
	next := Pos{p.Row + dr, p.Col + dc}
	if in(next) && filled(p) && filled(next) {
		for in(next) && filled(next) {
			p = next
			next = Pos{p.Row + dr, p.Col + dc}
		}
	} else {
		for in(next) {
			p = next
			if filled(p) {
				break
			}
			next = Pos{p.Row + dr, p.Col + dc}
		}
	}
	m.Go(p, extend)
}

// Home and the like.

// RowStart goes to the first column of the row, or of the sheet.
func (m *Model) RowStart(sheet, extend bool) {
	p := Pos{m.cur.Row, 0}
	if sheet {
		p.Row = 0
	}
	m.Go(p, extend)
}

// RowEnd goes to the last column of the row, or of the last row.
func (m *Model) RowEnd(sheet, extend bool) {
	p := Pos{m.cur.Row, len(m.order)} // Go knows which is the last
	if sheet {
		if p.Row = max(m.used()-1, 0); m.view != nil {
			p.Row = max(m.ShownRows()-1, 0)
		}
	}
	m.Go(p, extend)
}

// SelectAll selects every row shown, the cursor at the first cell.
func (m *Model) SelectAll() {
	m.Select(Rect{0, 0, max(m.ShownRows()-1, 0), len(m.order)})
}

// Editing says whether a cell is open, and where.
func (m *Model) Editing() (Pos, bool) { return m.editAt, m.editing }

// Begin opens the cell under the cursor and returns its text. ok is false on a read-only cell, or without columns.
func (m *Model) Begin() (text string, ok bool) {
	if m.Column(m.cur.Col) < 0 {
		return "", false
	}
	m.editing, m.editAt = true, m.cur
	return m.At(m.cur), true
}

// Cancel closes the open cell and leaves it as it was.
func (m *Model) Cancel() { m.editing = false }

// Commit closes the open cell, writes text into it and moves the cursor: (1, 0) for Enter, (0, 1) for Tab and so on. After a run of
// Tabs Enter goes back to the column where the run began.
func (m *Model) Commit(text string, dr, dc int) Change {
	var ch Change
	if m.editing {
		m.editing = false
		m.cur, m.anchor = m.editAt, m.editAt
		if text != m.At(m.cur) {
			ch = m.set(m.cur, text)
		}
	}
	m.Step(dr, dc)
	return ch
}

// Step moves the cursor as Enter (dr ≠ 0) and Tab (dc ≠ 0) do. Tab passes over read-only columns and wraps at the ends of a row.
func (m *Model) Step(dr, dc int) {
	switch {
	case dc != 0:
		start := m.tabCol
		if start < 0 {
			start = m.cur.Col
		}
		p := m.cur
		for range m.order {
			p.Col += dc
			if p.Col >= len(m.order) {
				p = Pos{p.Row + 1, 0}
			} else if p.Col < 0 {
				if p.Row == 0 {
					p = m.cur
					break
				}
				p = Pos{p.Row - 1, len(m.order) - 1}
			}
			if m.Column(p.Col) >= 0 {
				break
			}
		}
		m.Go(p, false)
		m.tabCol = start
	case dr != 0:
		p := Pos{m.cur.Row + dr, m.cur.Col}
		if m.tabCol >= 0 {
			p.Col = m.tabCol
		}
		m.Go(p, false)
	}
}

func (m *Model) set(p Pos, text string) Change {
	c := m.Column(p.Col)
	name := words.GridTyping.String()
	if strings.TrimSpace(text) == "" {
		name = words.GridClearCell.String()
	}
	b := batch{m: m}
	b.put(p.Row, with(m.row(p.Row), c, text))
	return m.done(m.apply(name, nil, nil, b.hunks()...))
}

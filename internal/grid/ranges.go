package grid

import (
	"slices"
	"strings"

	"shimsheet/internal/words"
)

// Also begins another range at a cell, beside those that are selected: for copying. Whatever moves the cursor otherwise forgets all but the last range.
func (m *Model) Also(p Pos) {
	more := append(slices.Clip(m.more), m.Selection())
	m.Go(p, false)
	m.more = more
}

// Ranges are the ranges besides the selection itself.
func (m *Model) Ranges() []Rect { return m.more }

// copied lists the shown rows and columns of all ranges. Several ranges make a table when they have the same columns, or the same rows; ok is
// false where they do not.
func (m *Model) copied() (rows, cols []int, ok bool) {
	all := append(slices.Clone(m.more), m.Selection())
	sameCols, sameRows := true, true
	last := max(m.ShownRows()-1, 0)
	for i := range all {
		all[i].R1 = max(min(all[i].R1, last), all[i].R0)
		sameCols = sameCols && all[i].C0 == all[0].C0 && all[i].C1 == all[0].C1
		sameRows = sameRows && all[i].R0 == all[0].R0 && all[i].R1 == all[0].R1
	}
	if !sameCols && !sameRows {
		return nil, nil, false
	}
	for _, r := range all {
		for y := r.R0; y <= r.R1; y++ {
			rows = append(rows, y)
		}
		for x := r.C0; x <= r.C1; x++ {
			cols = append(cols, x)
		}
	}
	slices.Sort(rows)
	slices.Sort(cols)
	return slices.Compact(rows), slices.Compact(cols), true
}

// CommitAll closes the open cell and writes text into every input cell of the selection it stands in, as one change. The cursor stays.
func (m *Model) CommitAll(text string) Change {
	if !m.editing {
		return Change{}
	}
	sel := m.Selection()
	m.editing = false
	if at := m.editAt; at.Row < sel.R0 || at.Row > sel.R1 || at.Col < sel.C0 || at.Col > sel.C1 {
		sel = Rect{at.Row, at.Col, at.Row, at.Col}
	}
	b := batch{m: m}
	cells := 0
	for y := sel.R0; y <= sel.R1; y++ {
		row := m.row(y)
		was := row
		for x := sel.C0; x <= sel.C1; x++ {
			if c := m.Column(x); c >= 0 && m.At(Pos{y, x}) != text {
				row = with(row, c, text)
				cells++
			}
		}
		if !sameRow(row, was) {
			b.put(y, row)
		}
	}
	if cells == 0 {
		return Change{}
	}
	return m.done(m.apply(words.GridTypeInto.Say(count(cells, cellsOf)), nil, nil, b.hunks()...))
}

// FillAlong fills the selection down as far as the column beside it is filled without a gap: the one to the left, else the one to the right.
func (m *Model) FillAlong(series bool) Change {
	s := m.Selection()
	var beside []int // the next input column to the left, and to the right
	if in := m.inputs(Rect{C0: 0, C1: s.C0 - 1}); len(in) > 0 {
		beside = append(beside, in[len(in)-1])
	}
	if in := m.inputs(Rect{C0: s.C1 + 1, C1: len(m.order)}); len(in) > 0 {
		beside = append(beside, in[0])
	}
	to := s
	for _, x := range beside {
		end := s.R1
		for strings.TrimSpace(m.At(Pos{end + 1, x})) != "" {
			end++
		}
		if to.R1 = end; end > s.R1 {
			break
		}
	}
	if to == s {
		return Change{Note: words.GridHowFar.String()}
	}
	return m.FillTo(to, series)
}

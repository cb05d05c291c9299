package grid

import (
	"slices"
	"strconv"

	"shimsheet/internal/words"
)

// Delete empties the input cells of the selection, and of the ranges beside it.
func (m *Model) Delete() Change { return m.clearCells(words.GridClear) }

func (m *Model) clearCells(verb words.Key) Change {
	if m.editing {
		return Change{}
	}
	ranges := append(slices.Clone(m.more), m.Selection())
	from, to := ranges[0].R0, ranges[0].R1
	for _, r := range ranges {
		from, to = min(from, r.R0), max(to, r.R1)
	}
	b := batch{m: m}
	cells := 0
	for r := from; r <= min(to, m.ShownRows()-1); r++ {
		row := m.row(r)
		fresh := false
		for _, rect := range ranges {
			if r < rect.R0 || r > rect.R1 {
				continue
			}
			for x := rect.C0; x <= rect.C1; x++ {
				if c := m.Column(x); c >= 0 && c < len(row) && row[c] != "" {
					if !fresh {
						row, fresh = slices.Clone(row), true
					}
					row[c] = ""
					cells++
				}
			}
		}
		if fresh {
			b.put(r, row)
		}
	}
	if cells == 0 {
		return Change{}
	}
	return m.done(m.apply(verb.Say(count(cells, cellsOf)), nil, nil, b.hunks()...))
}

// SetHeader gives an empty sheet its columns. It is refused while there are rows with text.
func (m *Model) SetHeader(names []string) Change {
	if m.editing {
		return Change{}
	}
	if !m.Blank() {
		return Change{Note: words.GridHasRows.String()}
	}
	m.unarrange()
	ch := m.apply(words.GridChooseColumns.String(), nil, append([]string{}, names...), hunk{0, slices.Clone(m.rows), nil, asBefore})
	m.Go(Pos{}, false)
	return m.done(ch)
}

// Rename gives column c another name.
func (m *Model) Rename(c int, name string) Change {
	if c < 0 || c >= len(m.header) || m.header[c] == name || m.editing {
		return Change{}
	}
	h := slices.Clone(m.header)
	h[c] = name
	return m.done(m.apply(words.GridRenameColumn.String(), nil, h))
}

// RenameAll gives every column its name anew, as one change. It is refused unless there is a name for each.
func (m *Model) RenameAll(names []string) Change {
	if len(names) != len(m.header) || slices.Equal(names, m.header) || m.editing {
		return Change{}
	}
	return m.done(m.apply(words.GridMatchColumns.String(), nil, slices.Clone(names)))
}

// AddColumn puts a column with the given name before column at, or last for at = −1.
func (m *Model) AddColumn(at int, name string) Change {
	if m.editing {
		return Change{}
	}
	if at < 0 || at >= len(m.header) {
		return m.done(m.apply(words.GridAddColumn.String(), nil, append(slices.Clip(slices.Clone(m.header)), name)))
	}
	ins := make([][]string, len(m.rows))
	for i, row := range m.rows {
		if len(row) > at {
			row = slices.Insert(slices.Clone(row), at, "")
		}
		ins[i] = row
	}
	return m.done(m.apply(words.GridAddColumn.String(), nil, slices.Insert(slices.Clone(m.header), at, name), hunk{0, slices.Clone(m.rows), ins, asBefore}))
}

// DeleteColumn takes column c out, with everything in it.
func (m *Model) DeleteColumn(c int) Change {
	if c < 0 || c >= len(m.header) || m.editing {
		return Change{}
	}
	ins := make([][]string, len(m.rows))
	for i, row := range m.rows {
		if len(row) > c {
			row = slices.Delete(slices.Clone(row), c, c+1)
		}
		ins[i] = row
	}
	return m.done(m.apply(words.GridTakeOutColumn.String(), nil, slices.Delete(slices.Clone(m.header), c, c+1), hunk{0, slices.Clone(m.rows), ins, asBefore}))
}

// freeName is a header for a column that came without one.
func (m *Model) freeName(header []string, n int) string {
	for ; ; n++ {
		name := "Column " + strconv.Itoa(n)
		if !slices.Contains(header, name) {
			return name
		}
	}
}

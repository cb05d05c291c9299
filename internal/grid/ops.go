package grid

import (
	"slices"
	"strconv"
)

// Delete empties the input cells of the selection.
func (m *Model) Delete() Change { return m.clearCells("clearing ") }

func (m *Model) clearCells(verb string) Change {
	sel := m.Selection()
	r1 := min(sel.R1, len(m.rows)-1)
	var ins [][]string
	cells := 0
	for r := sel.R0; r <= r1; r++ {
		row := m.rows[r]
		fresh := false
		for x := sel.C0; x <= sel.C1; x++ {
			if c := m.Column(x); c >= 0 && c < len(row) && row[c] != "" {
				if !fresh {
					row, fresh = slices.Clone(row), true
				}
				row[c] = ""
				cells++
			}
		}
		ins = append(ins, row)
	}
	if cells == 0 {
		return Change{}
	}
	return m.done(m.apply(verb+count(cells, "cell", "cells"), nil, nil, sel.R0, len(ins), ins))
}

// FillDown copies the input cells of the selection's first row into the rows below it.
func (m *Model) FillDown() Change {
	sel := m.Selection()
	if sel.R0 >= sel.R1 || sel.R0 >= len(m.rows) {
		return Change{}
	}
	ins := make([][]string, 0, sel.R1-sel.R0)
	for r := sel.R0 + 1; r <= sel.R1; r++ {
		var row []string
		if r < len(m.rows) {
			row = m.rows[r]
		}
		row = slices.Clone(row)
		for x := sel.C0; x <= sel.C1; x++ {
			if c := m.Column(x); c >= 0 {
				for len(row) <= c {
					row = append(row, "")
				}
				row[c] = m.Cell(sel.R0, c)
			}
		}
		ins = append(ins, row)
	}
	n := min(len(m.rows)-sel.R0-1, len(ins))
	return m.done(m.apply("filling "+count(len(ins), "row", "rows")+" down", nil, nil, sel.R0+1, n, ins))
}

// InsertRows puts as many empty rows as are selected above the selection.
func (m *Model) InsertRows() Change {
	sel := m.Selection()
	if sel.R0 > len(m.rows) || len(m.order) == 0 {
		return Change{}
	}
	ins := make([][]string, sel.R1-sel.R0+1)
	for i := range ins {
		ins[i] = []string{}
	}
	return m.done(m.apply("inserting "+count(len(ins), "row", "rows"), nil, nil, sel.R0, 0, ins))
}

// DeleteRows takes the selected rows out.
func (m *Model) DeleteRows() Change {
	sel := m.Selection()
	n := min(sel.R1+1, len(m.rows)) - sel.R0
	if n <= 0 {
		return Change{}
	}
	ch := m.apply("deleting "+count(n, "row", "rows"), nil, nil, sel.R0, n, nil)
	m.Go(Pos{sel.R0, m.cur.Col}, false)
	return m.done(ch)
}

// Clear takes out everything: header, title lines and rows.
func (m *Model) Clear() Change {
	if len(m.header) == 0 && len(m.rows) == 0 {
		return Change{}
	}
	ch := m.apply("clearing the sheet", [][]string{}, []string{}, 0, len(m.rows), nil)
	m.Go(Pos{}, false)
	return m.done(ch)
}

// SetHeader gives an empty sheet its columns. It is refused while there are rows with text.
func (m *Model) SetHeader(names []string) Change {
	if !m.Blank() {
		return Change{Note: "The sheet has rows; its columns can be added, renamed or taken out one by one."}
	}
	ch := m.apply("choosing columns", nil, append([]string{}, names...), 0, len(m.rows), nil)
	m.Go(Pos{}, false)
	return m.done(ch)
}

// Rename gives column c another name.
func (m *Model) Rename(c int, name string) Change {
	if c < 0 || c >= len(m.header) || m.header[c] == name {
		return Change{}
	}
	h := slices.Clone(m.header)
	h[c] = name
	return m.done(m.apply("renaming a column", nil, h, 0, 0, nil))
}

// AddColumn puts a column with the given name before column at, or last for at = −1.
func (m *Model) AddColumn(at int, name string) Change {
	if at < 0 || at >= len(m.header) {
		return m.done(m.apply("adding a column", nil, append(slices.Clip(slices.Clone(m.header)), name), 0, 0, nil))
	}
	ins := make([][]string, len(m.rows))
	for i, row := range m.rows {
		if len(row) > at {
			row = slices.Insert(slices.Clone(row), at, "")
		}
		ins[i] = row
	}
	return m.done(m.apply("adding a column", nil, slices.Insert(slices.Clone(m.header), at, name), 0, len(m.rows), ins))
}

// DeleteColumn takes column c out, with everything in it.
func (m *Model) DeleteColumn(c int) Change {
	if c < 0 || c >= len(m.header) {
		return Change{}
	}
	ins := make([][]string, len(m.rows))
	for i, row := range m.rows {
		if len(row) > c {
			row = slices.Delete(slices.Clone(row), c, c+1)
		}
		ins[i] = row
	}
	return m.done(m.apply("taking out a column", nil, slices.Delete(slices.Clone(m.header), c, c+1), 0, len(m.rows), ins))
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

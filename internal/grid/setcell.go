package grid

// SetCell puts a text into a stored cell, wherever the cursor stands and whether the row is shown or not. It is refused while a cell is open and
// for a row or column that does not exist.
func (m *Model) SetCell(row, c int, text string) Change {
	if row < 0 || row >= len(m.rows) || c < 0 || c >= len(m.header) || m.editing || m.Cell(row, c) == text {
		return Change{}
	}
	return m.done(m.apply("typing", nil, nil, hunk{row, [][]string{m.rows[row]}, [][]string{with(m.rows[row], c, text)}, asBefore}))
}

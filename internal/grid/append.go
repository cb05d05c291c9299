package grid

// AppendRows puts rows behind the last stored one, as one change with the given name, and the cursor on the first of them. The rows become the
// model's.
func (m *Model) AppendRows(name string, rows [][]string) Change {
	if len(rows) == 0 || m.editing || len(m.order) == 0 {
		return Change{}
	}
	at, shown := len(m.rows), m.ShownRows()
	ch := m.apply(name, nil, nil, hunk{at: at, new: rows, place: shown})
	m.Go(Pos{shown, 0}, false)
	return m.done(ch)
}

package grid

import (
	"slices"

	"shimsheet/internal/words"
)

// Put puts texts into the columns of the names given, in one change called name: into stored row row, or, if that is negative, into new rows
// behind the last that has text. A column the header lacks is added behind the others. An empty text leaves a cell as it is. lines holds
// one text a name; more than one line needs new rows. at is the first stored row written and its first column in names; c is −1 where
// nothing was done: a cell is open, the row does not exist, or nothing would change.
func (m *Model) Put(name string, row int, names []string, lines [][]string, mean Meaning) (ch Change, r, c int) {
	if m.editing || len(lines) == 0 || len(names) == 0 || row >= len(m.rows) || row >= 0 && len(lines) != 1 {
		return Change{}, -1, -1
	}
	header := slices.Clone(m.header)
	to := make([]int, len(names))
	for i, n := range names {
		if to[i] = match(mean, header, n); to[i] < 0 {
			to[i] = len(header)
			header = append(header, n)
		}
	}
	if len(header) > MaxColumns {
		return Change{Note: words.GridNoRoom.String()}, -1, -1
	}
	if len(header) == len(m.header) {
		header = nil
	}
	fill := func(old, texts []string) []string {
		for i, s := range texts {
			if s != "" {
				old = with(old, to[i], s)
			}
		}
		return old
	}
	if row >= 0 {
		old := m.rows[row]
		now := fill(old, lines[0])
		if slices.Equal(old, now) {
			return Change{}, row, to[0]
		}
		return m.done(m.apply(name, nil, header, hunk{row, [][]string{m.rows[row]}, [][]string{now}, asBefore})), row, to[0]
	}
	at := m.used()
	rows := make([][]string, len(lines))
	for i, texts := range lines {
		rows[i] = fill(nil, texts)
	}
	return m.done(m.apply(name, nil, header, hunk{at, slices.Clone(m.rows[at:]), rows, m.ShownRows()})), at, to[0]
}

// FormatTable is a table as plain text and as an HTML table for the clipboard.
func FormatTable(head []string, rows [][]string) (text, html string) {
	return FormatBlock(append([][]string{head}, rows...)), formatHTML(head, rows)
}

// PutRows puts rows into the sheet in one change called name: each over the stored row with the same first cell, else behind the last.
func (m *Model) PutRows(name string, rows [][]string) Change {
	if m.editing || len(m.header) == 0 {
		return Change{}
	}
	now := map[int][]string{}
	var more [][]string
	for _, r := range rows {
		at := slices.IndexFunc(m.rows, func(old []string) bool { return len(old) > 0 && old[0] == r[0] })
		switch {
		case at < 0:
			more = append(more, slices.Clone(r))
		case !slices.Equal(m.rows[at], r):
			now[at] = slices.Clone(r)
		}
	}
	var hunks []hunk
	for at := range m.rows {
		if r, ok := now[at]; ok {
			hunks = append(hunks, hunk{at, [][]string{m.rows[at]}, [][]string{r}, asBefore})
		}
	}
	if len(more) > 0 {
		hunks = append(hunks, hunk{len(m.rows), nil, more, m.ShownRows()})
	}
	if len(hunks) == 0 {
		return Change{}
	}
	return m.done(m.apply(name, nil, nil, hunks...))
}

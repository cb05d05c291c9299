package grid

import (
	"slices"
	"strings"

	"shimsheet/internal/words"
)

// MaxCells and MaxColumns bound what a paste may make of a sheet, so that a slip does not freeze the page.
const (
	MaxCells   = 6_000_000
	MaxColumns = 2000
)

// ParseBlock reads what a spreadsheet puts on the clipboard as plain text: cells by tab, rows by line end. A cell that begins with a
// quotation mark and ends with one before a tab or line end may hold tabs, line ends and doubled quotation marks; a lone mark (as in
// 3/8") is text. The last line end makes no row.
func ParseBlock(text string) [][]string {
	if text == "" {
		return nil
	}
	text = strings.TrimLeft(text, "\ufeff") // a byte-order mark, or several of texts put together
	var rows [][]string
	row := []string{}
	for {
		cell, rest, end := nextCell(text)
		row = append(row, cell)
		text = rest
		switch end {
		case '\t':
			continue
		case '\n':
			rows = append(rows, row)
			row = []string{}
			if text == "" {
				return rows
			}
		default:
			return append(rows, row)
		}
	}
}

// nextCell cuts one cell off; end is the tab or line end behind it, 0 at the end of the text.
func nextCell(s string) (cell, rest string, end byte) {
	if strings.HasPrefix(s, `"`) {
		if c, r, e, ok := quoted(s); ok {
			return c, r, e
		}
	}
	i := strings.IndexAny(s, "\t\r\n")
	if i < 0 {
		return s, "", 0
	}
	return cutEnd(s[:i], s[i:])
}

func cutEnd(cell, s string) (string, string, byte) {
	switch {
	case s == "":
		return cell, "", 0
	case s[0] == '\t':
		return cell, s[1:], '\t'
	case strings.HasPrefix(s, "\r\n"):
		return cell, s[2:], '\n'
	}
	return cell, s[1:], '\n'
}

func quoted(s string) (cell, rest string, end byte, ok bool) {
	var b strings.Builder
	t := s[1:]
	for {
		i := strings.IndexByte(t, '"')
		if i < 0 {
			return "", "", 0, false
		}
		b.WriteString(t[:i])
		t = t[i+1:]
		switch {
		case strings.HasPrefix(t, `"`):
			b.WriteByte('"')
			t = t[1:]
		case t == "" || t[0] == '\t' || t[0] == '\n' || t[0] == '\r':
			c, r, e := cutEnd(b.String(), t)
			return c, r, e, true
		default:
			return "", "", 0, false
		}
	}
}

// FormatBlock writes rows the way [ParseBlock] reads them.
func FormatBlock(rows [][]string) string {
	var b strings.Builder
	for i, row := range rows {
		if i > 0 {
			b.WriteString("\r\n")
		}
		for j, s := range row {
			if j > 0 {
				b.WriteByte('\t')
			}
			// a lone empty cell at the end would read back as no row at all
			// and a mark at the beginning would be taken for the text's
			if strings.ContainsAny(s, "\t\r\n\"") || s == "" && len(row) == 1 && i == len(rows)-1 || i+j == 0 && strings.HasPrefix(s, "\ufeff") {
				b.WriteByte('"')
				b.WriteString(strings.ReplaceAll(s, `"`, `""`))
				b.WriteByte('"')
			} else {
				b.WriteString(s)
			}
		}
	}
	return b.String()
}

// Meaning is what Paste asks its owner about header rows.
type Meaning struct {
	// Arrange parts a block at its header row and brings the rows below into that header's columns; ok is false for a block without a known header.
	Arrange func(rows [][]string) (title [][]string, header []string, body [][]string, ok bool)
	Match   func(header []string, name string) int // column of header that means the same as name, −1 for none
}

// Paste puts a block into the sheet. A block with a header row gives an empty sheet its header and rows, and is appended to a filled
// one, column by meaning, unknown columns added at the end. Any other block goes to the selection: one cell fills it, a block fills
// it when it fits a whole number of times, else the block goes to its first corner, over the input columns in the order shown, with
// rows and columns added as needed. In a view it goes into the rows shown, in their order; further rows are added behind them.
func (m *Model) Paste(block [][]string, mean Meaning) Change {
	return m.ApplyPlan(m.PlanPaste(block, mean))
}

// PasteText is [Model.Paste] of a clipboard text. What Copy gave out last comes back without the read-only columns it bore.
func (m *Model) PasteText(text string, mean Meaning) Change {
	return m.ApplyPlan(m.PlanPasteText(text, mean))
}

func widest(block [][]string) int {
	w := 0
	for _, r := range block {
		w = max(w, len(r))
	}
	return w
}

func trimRows(rows [][]string) [][]string {
	for len(rows) > 0 && blankRow(rows[len(rows)-1]) {
		rows = rows[:len(rows)-1]
	}
	return rows
}

func match(mean Meaning, header []string, name string) int {
	if mean.Match != nil {
		return mean.Match(header, name)
	}
	return slices.Index(header, name)
}

func columnUsed(rows [][]string, c int) bool {
	for _, r := range rows {
		if c < len(r) && r[c] != "" {
			return true
		}
	}
	return false
}

// Copy returns the selection as plain text and as an HTML table. shown gives the text of read-only cells, row as stored; nil leaves
// them empty. Rows past the last are left out. Several ranges (see Also) make one table; where they have neither their rows nor their
// columns in common, nothing is copied.
func (m *Model) Copy(shown func(row, k int) string) (text, html string) {
	return m.CopyTable(shown, nil)
}

// CopyTable is Copy with a header row: names gives the name of a shown column, nil for no such row.
func (m *Model) CopyTable(shown func(row, k int) string, names func(x int) string) (text, html string) {
	rows, cols, ok := m.copied()
	if len(m.order) == 0 || !ok {
		return "", ""
	}
	var all, inputs [][]string
	var head []string
	if names != nil {
		for _, x := range cols {
			head = append(head, names(x))
		}
	}
	for _, r := range rows {
		at := m.Stored(r)
		a, in := make([]string, 0, len(cols)), []string(nil)
		for _, x := range cols {
			c := m.order[x]
			s := m.Cell(at, c)
			if c < 0 && shown != nil && at < len(m.rows) {
				s = shown(at, ^c)
			}
			a = append(a, s)
			if c >= 0 {
				in = append(in, s)
			}
		}
		all = append(all, a)
		if in != nil {
			inputs = append(inputs, in)
		}
	}
	html = formatHTML(head, all)
	if head != nil {
		all, inputs = append([][]string{head}, all...), nil // what has its header is a table when pasted
	}
	text = FormatBlock(all)
	m.clipText, m.clipInputs = strings.ReplaceAll(text, "\r\n", "\n"), inputs
	return text, html
}

// Cut is Copy, and then empties the input cells at once, as an undoable change: what was cut is on the clipboard and in the undo
// list, never only in the model.
func (m *Model) Cut(shown func(row, k int) string) (text, html string, ch Change) {
	text, html = m.Copy(shown)
	return text, html, m.clearCells(words.GridCut)
}

var escapeHTML = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\r\n", "<br>", "\n", "<br>", "\r", "<br>", "\x00", "\ufffd")

// formatHTML names the encoding, as programs that read such a table from the clipboard otherwise guess it.
func formatHTML(head []string, rows [][]string) string {
	var b strings.Builder
	b.WriteString(`<meta charset="utf-8"><table>`)
	line := func(open, end string, row []string) {
		b.WriteString("<tr>")
		for _, s := range row {
			b.WriteString(open)
			escapeHTML.WriteString(&b, s) // a Builder does not fail
			b.WriteString(end)
		}
		b.WriteString("</tr>")
	}
	if head != nil {
		line("<th>", "</th>", head)
	}
	for _, row := range rows {
		line("<td>", "</td>", row)
	}
	b.WriteString("</table>")
	return b.String()
}

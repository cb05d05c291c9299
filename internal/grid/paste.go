package grid

import (
	"slices"
	"strings"
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
	text = strings.TrimPrefix(text, "\ufeff")
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
			if strings.ContainsAny(s, "\t\r\n\"") || s == "" && len(row) == 1 && i == len(rows)-1 {
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
	FindHeader func(rows [][]string) int              // index of the header row in a block, −1 for none
	Match      func(header []string, name string) int // column of header that means the same as name, −1 for none
}

// Paste puts a block into the sheet. A block with a header row gives an empty sheet its header and rows, and is appended to a filled
// one, column by meaning, unknown columns added at the end. Any other block goes to the selection: one cell fills it, a block fills
// it when it fits a whole number of times, else the block goes to its first corner, over the input columns in the order shown, with
// rows and columns added as needed.
func (m *Model) Paste(block [][]string, mean Meaning) Change {
	if m.editing || len(block) == 0 {
		return Change{}
	}
	if w := widest(block); w > MaxColumns || len(block)*w > MaxCells {
		return Change{Note: "The block is too large: at most " + count(MaxColumns, "column", "columns") + " and " + count(MaxCells, "cell", "cells") + "."}
	}
	if mean.FindHeader != nil {
		if h := mean.FindHeader(block); h >= 0 && h < len(block) {
			return m.pasteTable(block[:h], block[h], block[h+1:], mean)
		}
	}
	return m.pasteBlock(block)
}

// PasteText is [Model.Paste] of a clipboard text. What Copy gave out last comes back without the read-only columns it bore.
func (m *Model) PasteText(text string, mean Meaning) Change {
	if m.clipInputs != nil && strings.ReplaceAll(text, "\r\n", "\n") == m.clipText {
		if m.editing {
			return Change{}
		}
		return m.pasteBlock(m.clipInputs)
	}
	return m.Paste(ParseBlock(text), mean)
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

func (m *Model) pasteTable(title [][]string, header []string, rows [][]string, mean Meaning) Change {
	rows = trimRows(rows)
	name := "paste of " + count(len(rows), "row", "rows")
	for len(header) > 0 && strings.TrimSpace(header[len(header)-1]) == "" && widest(rows) < len(header) {
		header = header[:len(header)-1]
	}
	if m.Blank() {
		ch := m.apply(name, append([][]string{}, title...), append([]string{}, header...), 0, len(m.rows), slices.Clone(rows))
		m.Select(Rect{0, 0, max(len(rows)-1, 0), 0})
		m.anchor = m.cur
		return m.done(ch)
	}
	// to[i] is where column i of the block goes
	full := slices.Clone(m.header)
	to := make([]int, max(len(header), widest(rows)))
	taken := map[int]bool{}
	for i := range to {
		to[i] = -1
		n := ""
		if i < len(header) {
			n = header[i]
		}
		if c := match(mean, m.header, n); c >= 0 && c < len(m.header) && !taken[c] {
			to[i] = c
			taken[c] = true
			continue
		}
		if strings.TrimSpace(n) == "" && !columnUsed(rows, i) {
			continue
		}
		if n == "" {
			n = m.freeName(full, len(full)+1)
		}
		to[i] = len(full)
		full = append(full, n)
	}
	ins := make([][]string, len(rows))
	for r, row := range rows {
		out := []string{}
		for i, s := range row {
			if to[i] < 0 || s == "" {
				continue
			}
			for len(out) <= to[i] {
				out = append(out, "")
			}
			out[to[i]] = s
		}
		ins[r] = out
	}
	at := m.used()
	if len(full) == len(m.header) {
		full = nil
	}
	ch := m.apply(name, nil, full, at, len(m.rows)-at, ins)
	if len(title) > 0 {
		ch.Note = count(len(title), "line", "lines") + " above the header left out."
	}
	m.Go(Pos{at, 0}, false)
	return m.done(ch)
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

func (m *Model) pasteBlock(block [][]string) Change {
	if len(m.header) == 0 {
		return Change{Note: "The sheet has no columns yet, and the block has no header row that is known. Choose columns first, or copy the block with its header row."}
	}
	sel := m.Selection()
	h, w := len(block), widest(block)
	if w == 0 {
		return Change{}
	}
	// input columns of the sheet from the cursor on, in the order shown
	var cols []int
	for x := sel.C0; x < len(m.order); x++ {
		if c := m.order[x]; c >= 0 {
			cols = append(cols, c)
		}
	}
	if m.Column(sel.C0) < 0 && (sel.C0 == sel.C1 || len(cols) == 0) {
		return Change{Note: "This column is worked out and cannot be pasted into. Choose an input column, or paste a block with its header row."}
	}
	selCols := 0
	for x := sel.C0; x <= sel.C1; x++ {
		if m.Column(x) >= 0 {
			selCols++
		}
	}
	tallH, tallW := h, w
	if sh := sel.R1 - sel.R0 + 1; sh > h && sh%h == 0 && selCols%w == 0 {
		tallH = sh
	}
	if selCols > w && selCols%w == 0 && (tallH == h && (sel.R1-sel.R0+1)%h == 0 || tallH > h) {
		tallW = selCols
	}
	full := m.header
	if tallW > len(cols) {
		full = slices.Clone(m.header)
		for len(cols) < tallW {
			cols = append(cols, len(full))
			full = append(full, m.freeName(full, len(full)+1))
		}
		if len(full) > MaxColumns {
			return Change{Note: "The block would make more than " + count(MaxColumns, "column", "columns") + "."}
		}
	}
	at := min(sel.R0, len(m.rows))
	ins := make([][]string, 0, tallH+sel.R0-at)
	for r := at; r < sel.R0; r++ {
		ins = append(ins, []string{})
	}
	top := 0
	for _, c := range cols[:tallW] {
		top = max(top, c+1)
	}
	for i := range tallH {
		var row []string
		if sel.R0+i < len(m.rows) {
			row = m.rows[sel.R0+i]
		}
		src := block[i%h]
		need := len(row)
		for j := range tallW {
			if jj := j % w; jj < len(src) && src[jj] != "" {
				need = max(need, cols[j]+1)
			}
		}
		out := make([]string, need)
		copy(out, row)
		for j := range tallW {
			s := ""
			if jj := j % w; jj < len(src) {
				s = src[jj]
			}
			if cols[j] < need {
				out[cols[j]] = s
			}
		}
		ins = append(ins, out)
	}
	n := max(0, min(len(m.rows), sel.R0+tallH)-at)
	if len(full) == len(m.header) {
		full = nil
	}
	name := "paste of " + count(tallH, "row", "rows")
	if tallH == 1 && tallW == 1 {
		name = "paste of a cell"
	} else if tallH == 1 {
		name = "paste of " + count(tallW, "cell", "cells")
	}
	ch := m.apply(name, nil, full, at, n, ins)
	// select what was pasted; new columns stand last, so the block may not be one rectangle
	last := m.Shown(cols[tallW-1])
	m.Select(Rect{sel.R0, sel.C0, sel.R0 + tallH - 1, max(last, sel.C0)})
	return m.done(ch)
}

// Copy returns the selection as plain text and as an HTML table. shown gives the text of read-only cells; nil leaves them empty.
// Rows past the last are left out.
func (m *Model) Copy(shown func(row, k int) string) (text, html string) {
	sel := m.Selection()
	if len(m.order) == 0 {
		return "", ""
	}
	r1 := min(sel.R1, len(m.rows)-1)
	var all, inputs [][]string
	for r := sel.R0; r <= max(r1, sel.R0); r++ {
		var a, in []string
		for x := sel.C0; x <= sel.C1; x++ {
			c := m.order[x]
			s := m.Cell(r, c)
			if c < 0 && shown != nil && r < len(m.rows) {
				s = shown(r, ^c)
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
	text = FormatBlock(all)
	m.clipText, m.clipInputs = strings.ReplaceAll(text, "\r\n", "\n"), inputs
	return text, formatHTML(all)
}

// Cut is Copy, and then empties the input cells.
func (m *Model) Cut(shown func(row, k int) string) (text, html string, ch Change) {
	text, html = m.Copy(shown)
	return text, html, m.clearCells("cutting ")
}

var escapeHTML = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "\n", "<br>")

func formatHTML(rows [][]string) string {
	var b strings.Builder
	b.WriteString("<table>")
	for _, row := range rows {
		b.WriteString("<tr>")
		for _, s := range row {
			b.WriteString("<td>")
			b.WriteString(escapeHTML.Replace(s))
			b.WriteString("</td>")
		}
		b.WriteString("</tr>")
	}
	b.WriteString("</table>")
	return b.String()
}

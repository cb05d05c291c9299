package job

import (
	"bytes"
	"errors"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// maxBytes is the longest text taken as a sheet.
const maxBytes = 256 << 20

// MaxRows is the last row of a sheet that may hold something. Rows are counted while they are read.
const MaxRows = 100_000

// ReadDelimited reads a CSV or TSV file or a block from the clipboard. name names the table in messages. sep parts the cells; 0 has it
// recognised among tab, semicolon, comma and bar: the one that makes most known column names, else the one most rows agree on.
//
// Nothing is trimmed and no row left out, but for a first line "sep=;", which is obeyed, and ="0.05", which is how a text is written for a spreadsheet, and is 0.05. All rows are in Rows; [Table.SplitHeader] parts
// the header off. Cells in quotes may hold separators, line ends and doubled quotes; a quote inside a cell that did not begin with one
// is a plain sign, as in 5 1/2". A quote that opens a cell and is closed rows further down, so that the rows between would be text of that cell, is
// an error with its row. Text is UTF-8 with or without a mark, or UTF-16; text that is neither is
// read as Windows-1252, with a warning. A quote that is never closed is a warning and taken as a plain sign.
//
// The error is for what is no text at all, such as a workbook, is larger than 256 MB, or has more than MaxRows rows.
func ReadDelimited(name string, data []byte, sep rune) (*Table, []Problem, error) {
	if len(data) > maxBytes {
		return nil, nil, errors.New(words.ProblemTooLarge.Say(len(data)>>20, maxBytes>>20))
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")) {
		return nil, nil, words.Error(words.ProblemWorkbook)
	}
	if sep != 0 && (sep >= utf8.RuneSelf || sep == '"' || sep == '\n' || sep == '\r') {
		return nil, nil, errors.New(words.ProblemSeparator.Say(strconv.QuoteRune(sep)))
	}
	t := &Table{Name: name, FirstRow: 1}
	var problems []Problem
	warn := func(row int, text, hint string) {
		problems = append(problems, Problem{Severity: Warning, Sheet: name, Row: row, Text: words.Plain(text), Hint: words.Plain(hint), Col: -1})
	}
	text, guessed, err := decodeText(data)
	if err != nil {
		return nil, nil, err
	}
	if guessed {
		warn(0, words.ProblemWindows1252.String(), words.HintWindows1252.String())
	}
	end := strings.IndexAny(text, "\r\n")
	if end < 0 {
		end = len(text)
	}
	if end == 5 && strings.EqualFold(text[:4], "sep=") {
		if sep == 0 && text[4] != '"' {
			sep = rune(text[4]) // one byte of a line of five, so not a part of a longer sign
		}
		t.FirstRow = 2
		text = strings.TrimPrefix(strings.TrimPrefix(text[end:], "\r"), "\n")
	}
	if sep == 0 {
		sep = recognise(text)
	}
	s := splitter{text: text, sep: byte(sep)}
	t.Rows = s.rows(-1)
	if len(t.Rows) > MaxRows {
		return nil, nil, errors.New(words.ProblemTooManyRows.Say(MaxRows))
	}
	if row, last := s.swallowed(t.Rows); row >= 0 {
		return nil, nil, errors.New(words.ProblemSwallowed.Say(t.FirstRow+row, last))
	}
	if strings.Contains(text, `="`) {
		for _, row := range t.Rows {
			for c, cell := range row {
				if inner, ok := strings.CutPrefix(cell, `="`); ok && strings.IndexByte(inner, '"') == len(inner)-1 && inner != "" {
					row[c] = inner[:len(inner)-1]
				}
			}
		}
	}
	for _, row := range s.open {
		warn(t.FirstRow+row, words.ProblemQuoteOpen.String(), words.HintQuoteOpen.String())
	}
	return t, problems, nil
}

// decodeText makes UTF-8 of the bytes. guessed says that they were none and were read as Windows-1252.
func decodeText(data []byte) (text string, guessed bool, err error) {
	if marked := len(data) > 1 && (data[0] == 0xff && data[1] == 0xfe || data[0] == 0xfe && data[1] == 0xff); !marked {
		switch UTF16NoMark(data) {
		case 'L':
			data = append([]byte("\xff\xfe"), data...)
		case 'B':
			data = append([]byte("\xfe\xff"), data...)
		}
	}
	if b, ok := bytes.CutPrefix(data, []byte("\xef\xbb\xbf")); ok {
		data = b
	} else if len(data) >= 2 && (data[0] == 0xff && data[1] == 0xfe || data[0] == 0xfe && data[1] == 0xff) {
		little := data[0] == 0xff
		u := make([]uint16, 0, len(data)/2)
		for i := 2; i+1 < len(data); i += 2 {
			a, b := uint16(data[i]), uint16(data[i+1])
			if little {
				a, b = b, a
			}
			u = append(u, a<<8|b)
		}
		return string(utf16.Decode(u)), false, nil
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		return "", false, errors.New(words.ProblemNotText.Say(i+1, 1+bytes.Count(data[:i], []byte("\n"))))
	}
	if utf8.Valid(data) {
		return string(data), false, nil
	}
	var b strings.Builder
	b.Grow(len(data) + len(data)/8)
	for _, c := range data {
		switch {
		case c < 0x80 || c >= 0xa0:
			b.WriteRune(rune(c))
		default:
			b.WriteRune(windows1252[c-0x80])
		}
	}
	return b.String(), true, nil
}

// UTF16NoMark says whether bytes without a mark look like UTF-16: 'L' little, 'B' big endian, 0 no.
func UTF16NoMark(data []byte) byte {
	n := min(len(data), 4096) &^ 1
	if n < 8 {
		return 0
	}
	var zero [2]int
	for i := 0; i < n; i++ {
		if data[i] == 0 {
			zero[i&1]++
		}
	}
	// A few control words of either order would be no text at all.
	switch half := n / 2; {
	case zero[1] > half*6/10 && zero[0] == 0 && (data[0] != 0 || data[1] != 0):
		return 'L'
	case zero[0] > half*6/10 && zero[1] == 0 && (data[0] != 0 || data[1] != 0):
		return 'B'
	}
	return 0
}

// windows1252 holds the signs from 0x80 to 0x9f.
var windows1252 = [32]rune{'€', 0x81, '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', 0x8d, 'Ž', 0x8f,
	0x90, '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', 0x9d, 'ž', 'Ÿ'}

// recognise finds the separator of a text.
func recognise(text string) rune {
	LoadColumns()
	best, bestKnown, bestAgree := ',', 0, 0
	for _, sep := range []rune{'\t', ';', ',', '|'} {
		s := splitter{text: text, sep: byte(sep)}
		rows := s.rows(60)
		known := 0
		counts := map[int]int{}
		for _, row := range rows {
			if len(row) > 1 {
				counts[len(row)]++
			}
			for k := range NumSheets {
				n := 0
				for _, cell := range row {
					if c, _, _ := MatchHeader(k, cell); c != NoColumn {
						n++
					}
				}
				known = max(known, n)
			}
		}
		agree := 0
		for _, n := range counts {
			agree = max(agree, n)
		}
		if known < 2 {
			known = 0 // a lone word in a title says nothing
			if sep == '|' {
				continue // bars stand in texts too
			}
		}
		if known > bestKnown || known == bestKnown && agree > bestAgree {
			best, bestKnown, bestAgree = sep, known, agree
		}
	}
	return best
}

// A splitter parts a text into rows and cells. Cells are slices of the text, but for those with doubled quotes.
type splitter struct {
	text string
	sep  byte
	open []int // rows with a quote that is never closed
	long []longRow
}

// A longRow is a row with a cell in quotes that goes over line ends, as it stands in the text.
type longRow struct {
	row, from, to int
	tail          bool // something stands behind the closing quote of such a cell
}

// rows parts the whole text, or its first limit rows. Past MaxRows rows it stops at the first that holds something.
func (s *splitter) rows(limit int) [][]string {
	text, sep := s.text, s.sep
	n := min(strings.Count(text, "\n"), MaxRows)
	if limit >= 0 {
		n = min(n, limit)
	}
	rows := make([][]string, 0, n+1)
	var slab []string
	width := 8
	for i := 0; i < len(text) && (limit < 0 || len(rows) < limit); {
		if len(slab)+width > cap(slab) {
			slab = make([]string, 0, max(4096, 4*width))
		}
		start, from := len(slab), i
		long, tail := false, false
		for {
			var cell string
			if i < len(text) && text[i] == '"' {
				if end, c, ok := s.quoted(i); ok {
					if strings.ContainsAny(c, "\r\n") {
						long, tail = true, tail || text[end-1] != '"'
					}
					cell, i = c, end
				} else {
					s.open = append(s.open, len(rows))
					cell, i = s.plain(i)
				}
			} else {
				j := i
				for j < len(text) {
					if c := text[j]; c == sep || c == '\n' || c == '\r' {
						break
					}
					j++
				}
				cell, i = text[i:j], j
			}
			if len(slab) == cap(slab) { // wider than the rows before: move the row to a larger slab
				next := make([]string, len(slab)-start, max(4096, 4*(len(slab)-start)))
				copy(next, slab[start:])
				slab, start = next, 0
			}
			slab = append(slab, cell)
			if i < len(text) && text[i] == sep {
				i++
				continue
			}
			break
		}
		row := slab[start:len(slab):len(slab)]
		if len(row) == 1 && row[0] == "" {
			row = nil
			slab = slab[:start]
		}
		width = max(width, len(row))
		switch past := len(rows) >= MaxRows; {
		case !past:
			rows = append(rows, row)
		case !BlankRow(row):
			return append(rows, row)
		}
		if long {
			s.long = append(s.long, longRow{len(rows) - 1, from, i, tail})
		}
		if i < len(text) && text[i] == '\r' {
			i++
		} else if i < len(text) && text[i] == '\n' {
			i++
			continue
		}
		if i < len(text) && text[i] == '\n' {
			i++
		}
	}
	return rows
}

// swallowed looks for a quote that took rows in: its cell goes over line ends, and the lines it goes over are rows by themselves, each with as many
// cells as the rows of the list have. It returns the row (0-based) and the line (1-based) the quote is closed in; -1 if there is none.
func (s *splitter) swallowed(rows [][]string) (row, line int) {
	if len(s.long) == 0 {
		return -1, 0
	}
	usual := s.usualWidth(rows)
	for _, l := range s.long {
		lines := strings.FieldsFunc(s.text[l.from:l.to], func(r rune) bool { return r == '\r' || r == '\n' })
		same, most := true, 0
		for k, text := range lines {
			one := splitter{text: text, sep: s.sep}
			cells := one.rows(1)
			n := 0
			if len(cells) > 0 {
				n = len(cells[0])
			}
			same = same && n == usual
			if k > 0 {
				most = max(most, n)
			}
		}
		if usual >= 2 && (same || most >= 2 && (l.tail || len(rows[l.row]) != usual && 2*most > usual)) {
			return l.row, 1 + strings.Count(s.text[:l.to], "\n")
		}
	}
	return -1, 0
}

// usualWidth is how many cells most rows have, of those that are one line of the text; if all are longer, the first line has.
func (s *splitter) usualWidth(rows [][]string) int {
	counts := map[int]int{}
	k, best := 0, 0
	for i, row := range rows {
		for k < len(s.long) && s.long[k].row < i {
			k++
		}
		if k < len(s.long) && s.long[k].row == i || len(row) < 2 {
			continue
		}
		if counts[len(row)]++; counts[len(row)] > counts[best] {
			best = len(row)
		}
	}
	if best == 0 {
		line, _, _ := strings.Cut(s.text, "\n")
		one := splitter{text: strings.TrimRight(line, "\r"), sep: s.sep}
		if first := one.rows(1); len(first) > 0 {
			best = len(first[0])
		}
	}
	return best
}

// plain takes a cell up to the next separator or line end.
func (s *splitter) plain(i int) (string, int) {
	j := i
	for j < len(s.text) && s.text[j] != s.sep && s.text[j] != '\n' && s.text[j] != '\r' {
		j++
	}
	return s.text[i:j], j
}

// quoted takes the cell whose quote opens at i. ok is false if it is never closed.
func (s *splitter) quoted(i int) (end int, cell string, ok bool) {
	text := s.text
	doubled := false
	j := i + 1
	for {
		k := strings.IndexByte(text[j:], '"')
		if k < 0 {
			return 0, "", false
		}
		j += k + 1
		if j < len(text) && text[j] == '"' {
			doubled = true
			j++
			continue
		}
		break
	}
	cell = text[i+1 : j-1]
	if doubled {
		cell = strings.ReplaceAll(cell, `""`, `"`)
	}
	if tail, e := s.plain(j); tail != "" {
		return e, cell + tail, true // what stands behind the closing quote is kept
	}
	return j, cell, true
}

// AppendCSVRow appends one row in CSV: cells that need it in quotes, a line feed at the end.
//
// A cell that a spreadsheet would run as a formula, because it begins with = + - @ or a tab and is no quantity, gets an
// apostrophe in front; -0.35, -7.5e-17 and +12 mil stay as they are. A program set to another separator does not see the quotes of a cell within its own
// columns and would part a;=1+1; into three, so what would begin such a part gets the apostrophe too, and so does a line within a cell.
func AppendCSVRow(b []byte, cells []string, sep byte) []byte {
	for i, c := range cells {
		if i > 0 {
			b = append(b, sep)
		}
		b = appendCSVCell(b, c, sep)
	}
	return append(b, '\n')
}

func appendCSVCell(b []byte, c string, sep byte) []byte {
	if RunsAsFormula(c) {
		c = "'" + c
	}
	quote := strings.IndexByte(c, sep) >= 0 || strings.ContainsAny(c, "\"\r\n")
	if strings.ContainsAny(c, separators) {
		var safe []byte
		for from := 0; from < len(c); {
			part := c[from:]
			if end := strings.IndexAny(part, separators); end >= 0 {
				part = part[:end]
			}
			if from > 0 && RunsAsFormula(part) {
				safe, quote = append(safe, '\''), true
			}
			next := min(from+len(part)+1, len(c)) // with the separator
			safe = append(safe, c[from:next]...)
			from = next
		}
		c = string(safe)
	}
	if !quote {
		return append(b, c...)
	}
	b = append(b, '"')
	for i := 0; i < len(c); i++ {
		if c[i] == '"' {
			b = append(b, '"')
		}
		b = append(b, c[i])
	}
	return append(b, '"')
}

// separators are what some program or other parts cells and rows at.
const separators = ",;\t|\r\n"

// RunsAsFormula says whether a spreadsheet might take a cell for a formula.
func RunsAsFormula(c string) bool {
	t := strings.TrimLeft(c, " ")
	if t == "" {
		return false
	}
	switch t[0] {
	case '=', '@', '\t', '\r':
		return true
	case '+', '-':
	default:
		return false
	}
	t = t[1:]
	if t == "" || !(t[0] >= '0' && t[0] <= '9' || t[0] == '.' || t[0] == ',') {
		return t != ""
	}
	// A sign and a number, a fraction perhaps, and a unit: digits and number signs, then letters and unit signs, no more.
	i := 0
	for i < len(t) && (t[i] >= '0' && t[i] <= '9' || strings.IndexByte("., /", t[i]) >= 0) {
		i++
	}
	if i+2 < len(t) && t[i]|0x20 == 'e' && (t[i+1] == '-' || t[i+1] == '+') && t[i+2] >= '0' && t[i+2] <= '9' { // an exponent
		for i += 3; i < len(t) && t[i] >= '0' && t[i] <= '9'; {
			i++
		}
	}
	for ; i < len(t); i++ {
		c := t[i]
		letter := c|0x20 >= 'a' && c|0x20 <= 'z' || c >= utf8.RuneSelf
		if !letter && !(c >= '0' && c <= '9') && strings.IndexByte(`/"' %.`, c) < 0 {
			return true
		}
	}
	return false
}

// BlankRow says whether no cell of a row holds anything to see.
func BlankRow(row []string) bool {
	for _, c := range row {
		if !Blank(c) {
			return false
		}
	}
	return true
}

package workbook

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A scanner walks one XML part strictly: it stops at the first thing that is not well formed. Document types, and so entities of one's
// own, are refused.
type scanner struct {
	part  string
	b     []byte
	i     int
	stack [][]byte
	err   error

	// The token at hand.
	kind  byte // '<' start, '/' end, 't' text, 0 the end or an error
	name  []byte
	attrs []byte
	text  []byte // as it stands, entities included
	cdata bool
	shut  bool // the start tag closes itself; an end token follows
	root  bool
}

const maxDepth = 64

func newScanner(part string, data []byte) *scanner {
	s := &scanner{part: part, b: bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))}
	if len(s.b) >= 2 && (s.b[0] == 0xff && s.b[1] == 0xfe || s.b[0] == 0xfe && s.b[1] == 0xff) {
		s.fail(words.PartUtf16.String())
	} else if !utf8.Valid(s.b) {
		s.fail(words.PartNotUTF8.String())
	} else if set := declaredEncoding(s.b); set != "" {
		s.fail(words.PartEncoding.Say(strconv.Quote(set)))
	}
	return s
}

// declaredEncoding is the character set a part names at its head, "" where that is UTF-8, a subset of it, or nothing.
func declaredEncoding(b []byte) string {
	head, _, _ := bytes.Cut(b, []byte("?>"))
	if !bytes.HasPrefix(head, []byte("<?xml")) {
		return ""
	}
	m := encodingRE.FindSubmatch(head)
	if m == nil {
		return ""
	}
	switch set := string(m[1]); strings.ToLower(set) {
	case "utf-8", "us-ascii", "ascii":
		return ""
	default:
		return set
	}
}

var encodingRE = regexp.MustCompile(`\sencoding\s*=\s*["']([^"']*)["']`)

func (s *scanner) fail(what string) bool {
	if s.err == nil {
		s.err = errors.New(words.FilePartAtByte.Say(s.part, s.i, what))
	}
	s.kind = 0
	return false
}

// local is the name without its prefix.
func local(name []byte) []byte {
	for i, c := range name {
		if c == ':' {
			return name[i+1:]
		}
	}
	return name
}

// next goes to the next token. It returns false at the end or at an error.
func (s *scanner) next() bool {
	if s.err != nil {
		return false
	}
	if s.shut {
		s.shut = false
		s.kind = '/'
		s.stack = s.stack[:len(s.stack)-1]
		return true
	}
	for {
		if s.i >= len(s.b) {
			s.kind = 0
			if len(s.stack) > 0 || !s.root {
				return s.fail(words.PartEndsEarly.String())
			}
			return false
		}
		if s.b[s.i] != '<' {
			j := bytes.IndexByte(s.b[s.i:], '<')
			if j < 0 {
				j = len(s.b) - s.i
			}
			s.text, s.cdata = s.b[s.i:s.i+j], false
			if len(s.stack) == 0 {
				if len(bytes.TrimSpace(s.text)) > 0 {
					return s.fail(words.PartTextOutside.String())
				}
				s.i += j
				continue
			}
			s.i += j
			s.kind = 't'
			return true
		}
		rest := s.b[s.i:]
		if len(rest) > 1 && rest[1] == '/' {
			j := bytes.IndexByte(rest, '>')
			if j < 0 {
				return s.fail(words.PartTagOpen.String())
			}
			end := j
			for end > 2 && blank(rest[end-1]) {
				end--
			}
			name := rest[2:end]
			if len(s.stack) == 0 || !bytes.Equal(s.stack[len(s.stack)-1], name) {
				return s.fail(words.PartClosesNothing.Say(fmt.Sprintf("%.40s", name)))
			}
			s.stack = s.stack[:len(s.stack)-1]
			s.i += j + 1
			s.kind, s.name = '/', local(name)
			return true
		}
		if len(rest) > 1 && (rest[1] == '!' || rest[1] == '?') {
			end, from := "", 2
			switch {
			case rest[1] == '?':
				end = "?>"
			case bytes.HasPrefix(rest, []byte("<!--")):
				end, from = "-->", 4
			case bytes.HasPrefix(rest, []byte("<![CDATA[")) && len(s.stack) > 0:
				end, from = "]]>", 9
			default:
				return s.fail(words.PartDocumentType.String())
			}
			j := bytes.Index(rest[from:], []byte(end))
			if j < 0 {
				return s.fail(words.PartEndsEarly.String())
			}
			s.i += from + j + len(end)
			if from == 9 {
				s.kind, s.text, s.cdata = 't', rest[9:9+j], true
				return true
			}
			continue
		}
		return s.open(rest)
	}
}

// open takes a start tag.
func (s *scanner) open(rest []byte) bool {
	j := 1
	for j < len(rest) && rest[j] != '>' && rest[j] != '/' && rest[j] > ' ' && rest[j] != '<' && rest[j] != '=' && rest[j] != '"' {
		j++
	}
	if j == 1 || j >= len(rest) || rest[j] == '<' || rest[j] == '=' || rest[j] == '"' {
		return s.fail(words.PartTagWithoutName.String())
	}
	name := rest[1:j]
	k := j
	for k < len(rest) && rest[k] != '>' {
		switch rest[k] {
		case '"', '\'':
			q := k + 1
			for q < len(rest) && rest[q] != rest[k] {
				q++
			}
			if q >= len(rest) {
				return s.fail(words.PartQuoteOpen.String())
			}
			k = q + 1
			continue
		case '<':
			return s.fail(words.PartTagOpen.String())
		}
		k++
	}
	if k >= len(rest) {
		return s.fail(words.PartTagOpen.String())
	}
	if len(s.stack) == 0 && s.root {
		return s.fail(words.PartSecondDocument.String())
	}
	s.root = true
	attrs := rest[j:k]
	if n := len(attrs); n > 0 && attrs[n-1] == '/' {
		s.shut = true
		attrs = attrs[:n-1]
	}
	if len(s.stack) >= maxDepth {
		return s.fail(words.PartDeep.Say(maxDepth))
	}
	s.stack = append(s.stack, name)
	s.i += k + 1
	s.kind, s.name, s.attrs = '<', local(name), attrs
	return true
}

// attr is the value of an attribute of the start tag at hand, as it stands.
func (s *scanner) attr(name string) []byte {
	a := s.attrs
	for i := 0; ; {
		for i < len(a) && blank(a[i]) {
			i++
		}
		if i >= len(a) {
			return nil
		}
		from := i
		for i < len(a) && a[i] != '=' {
			i++
		}
		if i >= len(a) {
			s.fail(words.PartNoValue.String())
			return nil
		}
		to := i
		for to > from && blank(a[to-1]) {
			to--
		}
		for i++; i < len(a) && blank(a[i]); i++ {
		}
		if i >= len(a) || a[i] != '"' && a[i] != '\'' {
			s.fail(words.PartNoQuotes.String())
			return nil
		}
		quote := a[i]
		i++
		start := i
		for i < len(a) && a[i] != quote {
			i++
		}
		if i >= len(a) {
			s.fail(words.PartQuoteOpen.String())
			return nil
		}
		if to-from == len(name) && string(a[from:to]) == name {
			return a[start:i]
		}
		i++
	}
}

func blank(c byte) bool { return c == ' ' || c == '\t' || c == '\r' || c == '\n' }

// skip goes past the element whose start is at hand.
func (s *scanner) skip() bool {
	depth := len(s.stack)
	for len(s.stack) >= depth {
		if !s.next() {
			return false
		}
	}
	return true
}

// appendText appends the text token at hand, entities replaced and line ends made one sign, as XML has it.
func (s *scanner) appendText(dst []byte) []byte {
	t := s.text
	for _, c := range t {
		if c == '&' && !s.cdata || c < ' ' {
			goto slow
		}
	}
	return append(dst, t...)
slow:
	for i := 0; i < len(t); i++ {
		c := t[i]
		switch {
		case c == '\r':
			if i+1 < len(t) && t[i+1] == '\n' {
				continue
			}
			dst = append(dst, '\n')
		case c < ' ' && c != '\t' && c != '\n':
			s.fail(words.PartControl.Say(int(c)))
			return dst
		case c == '&' && !s.cdata:
			end := bytes.IndexByte(t[i:min(len(t), i+12)], ';')
			if end < 0 {
				s.fail(words.PartAmpersand.String())
				return dst
			}
			r, ok := entity(string(t[i+1 : i+end]))
			if !ok {
				s.fail(words.PartEntity.Say(fmt.Sprintf("%.10s", t[i+1:i+end])))
				return dst
			}
			dst = utf8.AppendRune(dst, r)
			i += end
		default:
			dst = append(dst, c)
		}
	}
	return dst
}

func entity(w string) (rune, bool) {
	switch w {
	case "amp":
		return '&', true
	case "lt":
		return '<', true
	case "gt":
		return '>', true
	case "quot":
		return '"', true
	case "apos":
		return '\'', true
	}
	num, ok := strings.CutPrefix(w, "#")
	if !ok {
		return 0, false
	}
	base := 10
	if h, hex := strings.CutPrefix(num, "x"); hex {
		num, base = h, 16
	}
	n, err := strconv.ParseUint(num, base, 32)
	r := rune(n)
	if err != nil || n > utf8.MaxRune || r < ' ' && r != '\t' && r != '\n' && r != '\r' || r >= 0xd800 && r < 0xe000 || r == 0xfffe || r == 0xffff {
		return 0, false
	}
	return r, true
}

// unescape replaces _x000D_ and its like, the way the format writes signs that XML cannot.
func unescape(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		if s[i] == '_' && i+7 <= len(s) && s[i+1] == 'x' && s[i+6] == '_' {
			if n, err := strconv.ParseUint(s[i+2:i+6], 16, 16); err == nil && (n < 0xd800 || n > 0xdfff) {
				b.WriteRune(rune(n))
				i += 7
				continue
			}
		}
		b.WriteByte(s[i])
		i++
	}
	return b.String()
}

// The classes of number formats.
const (
	fmtGeneral uint8 = iota // also what is none of the others: the plain number is taken
	fmtDate
	fmtPercent
	fmtDecimals // 0, 0.0, …: fmtDecimals + the digits behind the point, up to maxDecimals
)

const maxDecimals = 12

// formatClass understands a number format.
func formatClass(id int, code string) uint8 {
	switch {
	case id == 1:
		return fmtDecimals
	case id == 2:
		return fmtDecimals + 2
	case id == 9 || id == 10:
		return fmtPercent
	case id >= 14 && id <= 22 || id >= 45 && id <= 47 || id >= 27 && id <= 36 || id >= 50 && id <= 58:
		return fmtDate
	}
	if code == "" || strings.EqualFold(code, "general") {
		return fmtGeneral
	}
	if code[0] == '0' {
		if t := code[1:]; t == "" {
			return fmtDecimals
		} else if t[0] == '.' && len(t) > 1 && len(t) <= maxDecimals+1 && strings.Trim(t[1:], "0") == "" {
			return fmtDecimals + uint8(len(t)-1)
		}
	}
	percent := false
	for i := 0; i < len(code); i++ { // the first section; quoted, escaped and bracketed parts aside
		switch c := code[i] | 0x20; {
		case code[i] == '"':
			j := strings.IndexByte(code[i+1:], '"')
			if j < 0 {
				return fmtGeneral
			}
			i += j + 1
		case code[i] == '\\' || code[i] == '_' || code[i] == '*':
			i++
		case code[i] == '[':
			j := strings.IndexByte(code[i:], ']')
			if j < 0 {
				return fmtGeneral
			}
			if w := strings.ToLower(code[i+1 : i+j]); w == "h" || w == "hh" || w == "m" || w == "mm" || w == "s" || w == "ss" {
				return fmtDate
			}
			i += j
		case code[i] == ';':
			i = len(code)
		case code[i] == '%':
			percent = true
		case strings.HasPrefix(strings.ToLower(code[i:]), "general"):
			i += 6
		case c == 'y' || c == 'd' || c == 'm' || c == 'h' || c == 's':
			return fmtDate
		}
	}
	if percent {
		return fmtPercent
	}
	return fmtGeneral
}

// A cellFormat is what of a number format matters for reading.
type cellFormat struct {
	class    uint8
	shown    string // the words beside the digits, as of 0.00" mil"; "" none
	struck   bool   // the cell's font is struck through
	fraction bool   // the number is shown as halves, eighths, …

	scale int // by how many thousands the number is shown smaller than it is stored, as 1 of 0.0,
}

// formatOf understands a number format.
func formatOf(id int, code string) cellFormat {
	f := cellFormat{class: formatClass(id, code)}
	if f.class == fmtDate || f.class == fmtPercent {
		return f
	}
	core, shown, scale := formatWords(code)
	f.scale, f.fraction = scale, id == 12 || id == 13 || strings.Contains(core, "/")
	if f.shown = shown; shown != "" && f.class == fmtGeneral {
		f.class = formatClass(0, core)
	}
	return f
}

// formatWords parts a number format into what shapes the digits, of its first section, and the words it shows beside them: in quotes, behind a
// backslash, in brackets with a currency sign, or bare. Signs, brackets round a negative number and blanks are no words. Where the
// sections for negative numbers or zero show other words, or the digits are shown in thousands beside words or in some sections only, the words say so and are no unit. scale is how many thousands
// smaller the digits are shown: of two commas behind them two.
func formatWords(code string) (core, shown string, scale int) {
	var digits, signs strings.Builder
	section, scaled := 0, false
	take := func() { // at the end of a section
		d, w := digits.String(), strings.TrimFunc(signs.String(), func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("+-−±~≈()", r) })
		digits.Reset()
		signs.Reset()
		if !strings.ContainsAny(d, "0#?") && !strings.EqualFold(d, "general") {
			return // a text, a dash for zero
		}
		whole, _, _ := strings.Cut(d, ".")
		n := len(whole) - len(strings.TrimRight(whole, ",")) + len(d) - len(strings.TrimRight(d, ","))
		if !strings.Contains(d, ".") {
			n /= 2
		}
		scaled = scaled || n != 0 && w != "" || section > 0 && n != scale
		if section == 0 {
			core, shown, scale = d, w, n
		} else if w != shown {
			shown = strings.TrimSpace(words.NoticeOr.Say(shown, w))
		}
		section++
	}
	for i := 0; i < len(code); {
		r, n := utf8.DecodeRuneInString(code[i:])
		switch {
		case r == '"':
			j := strings.IndexByte(code[i+1:], '"')
			switch {
			case j < 0 && i+1 == len(code), j == 0 && strings.HasPrefix(code[i+2:], `"`): // a mark for inches, however it was put in
				signs.WriteByte('"')
				for n < len(code)-i && code[i+n] == '"' {
					n++
				}
			case j < 0:
				signs.WriteString(code[i+1:])
				n = len(code) - i
			default:
				signs.WriteString(code[i+1 : i+1+j])
				n = j + 2
			}
		case r == '\\':
			_, k := utf8.DecodeRuneInString(code[i+n:])
			signs.WriteString(code[i+n : i+n+k])
			n += k
		case r == '_' || r == '*': // as wide as the next sign, or filled with it
			_, k := utf8.DecodeRuneInString(code[i+n:])
			n += k
		case r == '[':
			j := strings.IndexByte(code[i:], ']')
			if j < 0 {
				j = len(code) - i - 1
			}
			if w, ok := strings.CutPrefix(code[i+1:i+j], "$"); ok {
				w, _, _ = strings.Cut(w, "-")
				signs.WriteString(w)
			}
			n = j + 1
		case r == ';':
			take()
		case strings.ContainsRune("0123456789#?.,/@%", r):
			digits.WriteRune(r)
		case (r == 'E' || r == 'e') && i+1 < len(code) && (code[i+1] == '+' || code[i+1] == '-'):
			digits.WriteString(code[i : i+2])
			n = 2
		case len(code)-i >= 7 && strings.EqualFold(code[i:i+7], "general"):
			digits.WriteString("General")
			n = 7
		default:
			signs.WriteRune(r)
		}
		i += n
	}
	take()
	if scaled || scale > 0 && shown != "" {
		shown, scale = shown+words.NoticeThousands.String(), 0
	}
	return core, shown, scale
}

// formats reads the number format of every cell style.
func (a *archive) formats(w *workbookPart) ([]cellFormat, error) {
	name, err := a.related(w, "styles")
	if err != nil || name == "" {
		return nil, err
	}
	data, err := a.part(name)
	if err != nil {
		return nil, err
	}
	if data == nil {
		return nil, errors.New(words.FileFormatsMissing.Say(name))
	}
	if len(data) > 24<<20 {
		return nil, errors.New(words.FileStylesLarge.Say(name, len(data)>>20))
	}
	codes, struck := map[int]string{}, map[int]bool{}
	var out []cellFormat
	s := newScanner(name, data)
	in, font, fonts := false, -1, false
	for s.next() {
		switch {
		case s.kind == '<' && string(s.name) == "numFmt":
			id, _ := strconv.Atoi(string(s.attr("numFmtId")))
			code := s.attr("formatCode")
			s.text, s.cdata = code, false
			codes[id] = string(s.appendText(nil))
		case string(s.name) == "fonts" && s.kind != 't':
			fonts = s.kind == '<'
		case s.kind == '<' && fonts && string(s.name) == "font":
			font++
		case s.kind == '<' && fonts && string(s.name) == "strike":
			off := string(s.attr("val"))
			struck[font] = off != "0" && off != "false"
		case s.kind == '<' && string(s.name) == "cellXfs":
			in = true
		case s.kind == '/' && string(s.name) == "cellXfs":
			in = false
		case s.kind == '<' && in && string(s.name) == "xf":
			id, _ := strconv.Atoi(string(s.attr("numFmtId")))
			f := formatOf(id, codes[id])
			if k, err := strconv.Atoi(string(s.attr("fontId"))); err == nil {
				f.struck = struck[k]
			}
			out = append(out, f)
		}
	}
	return out, s.err
}

// sharedStrings reads the table of texts.
func (a *archive) sharedStrings(w *workbookPart) ([]string, error) {
	name, err := a.related(w, "sharedStrings")
	if err != nil || name == "" {
		return nil, err
	}
	data, err := a.part(name)
	if err != nil || data == nil {
		return nil, err
	}
	var out []string
	var buf []byte
	s := newScanner(name, data)
	for s.next() {
		if s.kind != '<' || string(s.name) != "si" {
			continue
		}
		if len(out) >= MaxCells {
			return nil, errors.New(words.FileManyTexts.Say(MaxCells))
		}
		buf = s.richText(buf[:0])
		out = append(out, unescape(string(buf)))
	}
	return out, s.err
}

// richText joins the texts of the si or is element at hand; readings aids (rPh) aside.
func (s *scanner) richText(dst []byte) []byte {
	depth := len(s.stack)
	inText := false
	for len(s.stack) >= depth && s.next() {
		switch {
		case s.kind == '<' && string(s.name) == "rPh":
			s.skip()
		case s.kind == '<' && string(s.name) == "t":
			inText = true
		case s.kind == '/':
			inText = false
		case s.kind == 't' && inText:
			dst = s.appendText(dst)
			if len(dst) > 8*MaxCell {
				s.fail(words.PartLongText.Say(MaxCell))
			}
		}
	}
	return dst
}

// A spot is a cell of note.
type spot struct{ row, col int } // 0-based

// A grid is one sheet as read: texts only, with what was special about some of them.
type grid struct {
	rows   [][]string
	filled int // rows that hold something
	dim    string
	hidden []int // 1-based
	merged int

	asText   []spot // texts that are plain numbers
	noValue  []spot // formulas without a stored value
	errors   []spot
	dates    []spot
	percents []spot
	struck   []spot // cells whose font is struck through
	fraction []spot // numbers that are shown as halves, eighths, …, and are not whole
	scaled   []spot // numbers that their format shows in thousands
	control  []spot
	shown    []shownSpot
}

// A shownSpot is a number whose format shows a word beside it.
type shownSpot struct{ row, col, format int32 } // 0-based; the cell format's number

// A sheetReader knows what cells of one workbook need.
type sheetReader struct {
	shared  []string
	formats []cellFormat
	d1904   bool
	mark    units.Decimal
	by      *Reader // nil: none
	told    int     // bytes of the part that by knows of
}

// read takes the cells of one worksheet part.
func (sr *sheetReader) read(part, name string, data []byte) (*grid, error) {
	p := &partScan{sheetReader: sr, scanner: newScanner(part, data), name: name, g: &grid{}}
	sr.told = 0
	for p.next() {
		if p.kind != '<' {
			continue
		}
		switch string(p.scanner.name) {
		case "dimension":
			p.g.dim = string(p.attr("ref"))
			if p.g.dim != "" && !soundRange(p.g.dim) {
				return nil, p.refuse(words.FileNoRange.Say(fmt.Sprintf("%.40q", p.g.dim)))
			}
		case "mergeCell":
			p.g.merged++
		case "row":
			if n := len(p.stack); n < 2 || string(local(p.stack[n-2])) != "sheetData" {
				continue
			}
			if err := p.rowOfCells(); err != nil {
				return nil, err
			}
		}
	}
	if p.err != nil {
		return nil, p.err
	}
	return p.g, nil
}

// A partScan is a worksheet part while it is read.
type partScan struct {
	*sheetReader
	*scanner
	name  string // of the sheet
	g     *grid
	cells int // in all rows so far

	row    int    // the row at hand, from 1
	buf    []byte // texts of its cells, one behind the other; to where each reaches, and in which column it stands
	ends   []int
	cols   []int
	filled bool // one of them is not empty

	val, formula []byte // of the cell at hand
}

func (p *partScan) refuse(why string) error {
	return errors.New(words.FileSheet.Say(strconv.Quote(p.name), why))
}

// rowOfCells reads a row from its start tag on.
func (p *partScan) rowOfCells() error {
	row := p.row + 1
	if r := p.attr("r"); r != nil {
		var err error
		if row, err = strconv.Atoi(string(r)); err != nil || row < 1 {
			return p.refuse(words.FileRowNumber.Say(fmt.Sprintf("%.20q", r)))
		}
		if row <= p.row {
			return p.refuse(words.FileRowOrder.Say(row, p.row))
		}
	}
	p.row = row
	if p.i-p.told > 1<<18 && p.by != nil {
		p.by.worked(scanCost * float64(p.i-p.told))
		p.told = p.i
	}
	if h := p.attr("hidden"); len(h) > 0 && (h[0] == '1' || h[0] == 't') {
		p.g.hidden = append(p.g.hidden, row)
	}
	p.buf, p.ends, p.cols, p.filled = p.buf[:0], p.ends[:0], p.cols[:0], false
	col := -1
	for depth := len(p.stack); len(p.stack) >= depth && p.next(); {
		if p.kind != '<' || string(p.scanner.name) != "c" {
			continue
		}
		col++
		if ref := p.attr("r"); ref != nil {
			c, r, ok := parseRef(ref)
			if !ok || r != row || c < col {
				return p.refuse(words.FileCellPlace.Say(row, fmt.Sprintf("%.20q", ref)))
			}
			col = c
		}
		if err := p.cell(col); err != nil {
			return err
		}
	}
	if p.err != nil {
		return p.err
	}
	return p.keepRow()
}

// keepRow puts the cells of the row at hand into the grid, their texts in one piece of memory.
func (p *partScan) keepRow() error {
	if len(p.cols) == 0 {
		return nil
	}
	for len(p.g.rows) < p.row {
		p.g.rows = append(p.g.rows, nil)
	}
	width := p.cols[len(p.cols)-1] + 1
	if p.cells += width; p.cells > MaxCells { // the room they take, empty ones before them included
		return p.refuse(words.FileManyCells.Say(MaxCells))
	}
	all, from := string(p.buf), 0
	line := make([]string, width)
	for k, c := range p.cols {
		line[c] = all[from:p.ends[k]]
		from = p.ends[k]
	}
	p.g.rows[p.row-1] = line
	if p.filled {
		p.g.filled++
	}
	return nil
}

// typeOf is the type of a cell by its word in the file; a number has none. known is false for any other word.
func typeOf(word []byte) (t cellType, known bool) {
	switch string(word) {
	case "", "n":
		return cellNumber, true
	case "s":
		return cellShared, true
	case "str":
		return cellString, true
	case "inlineStr":
		return cellInline, true
	case "b":
		return cellBool, true
	case "e":
		return cellError, true
	case "d":
		return cellISODate, true
	}
	return 0, false
}

// cell reads a cell from its start tag on, and keeps it where it holds something.
func (p *partScan) cell(col int) error {
	var style int
	if st := p.attr("s"); st != nil {
		style, _ = strconv.Atoi(string(st))
	}
	t := p.attr("t")
	typ, known := typeOf(t)
	if !known {
		return p.refuse(words.FileCellType.Say(cellName(col, p.row), fmt.Sprintf("%.20q", t)))
	}
	start := len(p.buf)
	hasV, hasF, inline := false, false, false
	for inner := len(p.stack); len(p.stack) >= inner && p.next(); {
		if p.kind != '<' {
			continue
		}
		switch string(p.scanner.name) {
		case "v":
			hasV, p.val = true, p.plainText(p.val[:0])
		case "f":
			hasF, p.formula = true, p.plainText(p.formula[:0])
		case "is":
			inline, p.buf = true, p.richText(p.buf)
		}
	}
	if p.err != nil {
		return p.err
	}
	at := spot{p.row - 1, col}
	switch {
	case hasF && (hasV && len(p.val) == 0 && typ == cellNumber || !hasV && !inline):
		p.noStoredValue(at)
	case hasV:
		if there, err := p.value(at, typ, style); err != nil {
			return err
		} else if !there && !inline {
			return nil
		}
	case !inline:
		return nil
	case typ == cellInline:
		if x := p.buf[start:]; bytes.Contains(x, []byte("_x")) {
			p.buf = append(p.buf[:start], unescape(string(x))...)
		}
	}
	if style > 0 && style < len(p.formats) && p.formats[style].struck && len(p.buf) > start {
		p.g.struck = append(p.g.struck, at)
	}
	return p.keepCell(at, typ, start)
}

// noStoredValue takes a formula as its text, for want of its value.
func (p *partScan) noStoredValue(at spot) {
	p.g.noValue = append(p.g.noValue, at)
	from := len(p.buf)
	p.buf = append(append(p.buf, '='), p.formula...)
	if p.mark == units.Comma { // a file's formulas have the point always
		for i, c := range p.buf[from:] {
			if c == '.' {
				p.buf[from+i] = ','
			}
		}
	}
}

// value appends the value of a cell as text; there is false where it holds nothing.
func (p *partScan) value(at spot, typ cellType, style int) (there bool, err error) {
	switch typ {
	case cellNumber:
		return p.number(at, style)
	case cellShared:
		k, err := strconv.Atoi(strings.TrimSpace(string(p.val)))
		if err != nil || k < 0 || k >= len(p.shared) {
			return false, p.refuse(words.FileCellText.Say(cellName(at.col, p.row), fmt.Sprintf("%.20q", p.val)))
		}
		p.buf = append(p.buf, p.shared[k]...)
	case cellBool:
		if string(p.val) == "1" || string(p.val) == "true" {
			p.buf = append(p.buf, "TRUE"...)
		} else {
			p.buf = append(p.buf, "FALSE"...)
		}
	case cellError:
		p.g.errors = append(p.g.errors, at)
		p.buf = append(p.buf, p.val...)
	default:
		p.buf = append(p.buf, unescape(string(p.val))...)
	}
	return true, nil
}

// number appends a number as its format shows it.
func (p *partScan) number(at spot, style int) (there bool, err error) {
	v := strings.TrimSpace(string(p.val))
	if v == "" {
		return false, nil
	}
	styled := style >= 0 && style < len(p.formats)
	class := fmtGeneral
	if styled {
		class = p.formats[style].class
		if p.formats[style].fraction && strings.Contains(v, ".") {
			p.g.fraction = append(p.g.fraction, at)
		}
		if n := p.formats[style].scale; n > 0 {
			if x, ok := parseNumber(v); ok {
				v = inThousands(x, n)
				p.g.scaled = append(p.g.scaled, at)
			}
		}
	}
	var ok bool
	if p.buf, ok = p.appendNumber(p.buf, v, class); !ok {
		return false, p.refuse(words.FileCellNumber.Say(cellName(at.col, p.row), fmt.Sprintf("%.40q", v)))
	}
	switch {
	case class == fmtDate:
		p.g.dates = append(p.g.dates, at)
	case class == fmtPercent:
		p.g.percents = append(p.g.percents, at)
	case styled && p.formats[style].shown != "":
		p.g.shown = append(p.g.shown, shownSpot{int32(at.row), int32(at.col), int32(style)})
	}
	return true, nil
}

// inThousands is a number divided by a thousand n times: its digits stay, so that nothing is rounded.
func inThousands(x float64, n int) string {
	digits, power, _ := strings.Cut(strconv.FormatFloat(x, 'e', -1, 64), "e")
	e, _ := strconv.Atoi(power)
	return digits + "e" + strconv.Itoa(e-3*n)
}

// keepCell keeps the cell whose text begins at start, within what a sheet may hold.
func (p *partScan) keepCell(at spot, typ cellType, start int) error {
	x := p.buf[start:]
	switch {
	case len(x) > MaxCell && utf16Len(x) > MaxCell:
		return p.refuse(words.FileCellLong.Say(cellName(at.col, p.row), utf16Len(x), MaxCell))
	case len(x) == 0 && (at.col >= MaxColumns || p.row > MaxRows):
		return nil
	case at.col >= MaxColumns:
		return p.refuse(words.FileColumnFar.Say(cellName(at.col, p.row), columnName(MaxColumns-1)))
	case p.row > MaxRows:
		return p.refuse(words.FileRowFar.Say(p.row, MaxRows))
	}
	if len(x) > 0 {
		p.filled = true
		if typ == cellShared || typ == cellInline || typ == cellString {
			if plainNumberText(x) {
				p.g.asText = append(p.g.asText, at)
			} else if hasControl(x) {
				p.g.control = append(p.g.control, at)
			}
		}
	}
	p.ends, p.cols = append(p.ends, len(p.buf)), append(p.cols, at.col)
	return nil
}

// A cellType says what the value of a cell in the file is.
type cellType uint8

const (
	cellNumber cellType = iota
	cellShared
	cellString
	cellInline
	cellBool
	cellError
	cellISODate
)

// plainText joins the text of the element at hand.
func (s *scanner) plainText(dst []byte) []byte {
	depth := len(s.stack)
	for len(s.stack) >= depth && s.next() {
		if s.kind == 't' {
			if dst = s.appendText(dst); len(dst) > 8*MaxCell {
				s.fail(words.PartLongText.Say(MaxCell))
			}
		}
	}
	return dst
}

func utf16Len(b []byte) int {
	n := 0
	for _, r := range string(b) {
		if n++; r > 0xffff {
			n++
		}
	}
	return n
}

func hasControl(b []byte) bool {
	for _, c := range b {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' || c == 0x7f {
			return true
		}
	}
	return false
}

// plainNumberText says whether a text is a number as people write one: digits, a decimal sign, a sign in front, blanks around.
func plainNumberText(b []byte) bool {
	b = bytes.TrimSpace(b)
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		b = b[1:]
	}
	digits, points := 0, 0
	for _, c := range b {
		switch {
		case c >= '0' && c <= '9':
			digits++
		case c == '.' || c == ',':
			points++
		default:
			return false
		}
	}
	return digits > 0 && points <= 1 && digits <= 20
}

// parseRef reads a cell's name into a 0-based column and a 1-based row.
func parseRef(b []byte) (col, row int, ok bool) {
	i := 0
	for ; i < len(b) && i < 4; i++ {
		c := b[i] &^ 0x20
		if c < 'A' || c > 'Z' {
			break
		}
		col = col*26 + int(c-'A') + 1
	}
	if i == 0 || i == len(b) || len(b)-i > 7 {
		return 0, 0, false
	}
	for _, c := range b[i:] {
		if c < '0' || c > '9' {
			return 0, 0, false
		}
		row = row*10 + int(c-'0')
	}
	return col - 1, row, col <= 16384 && row >= 1 && row <= 1048576
}

// soundRange says whether a text is a cell or a range of two corners in order.
func soundRange(s string) bool {
	a, b, two := strings.Cut(s, ":")
	c0, r0, ok := parseRef([]byte(a))
	if !ok || !two {
		return ok
	}
	c1, r1, ok := parseRef([]byte(b))
	return ok && c0 <= c1 && r0 <= r1
}

// appendNumber appends a number cell as text: the shortest that is the same number, with the digits the cell shows where they make no difference.
func (sr *sheetReader) appendNumber(dst []byte, v string, class uint8) ([]byte, bool) {
	x, ok := parseNumber(v)
	if !ok {
		return dst, false
	}
	switch {
	case class == fmtDate:
		return append(dst, dateText(x, sr.d1904)...), true
	case class == fmtPercent:
		start := len(dst)
		dst = append(shiftPoint(dst, numberText(x, -1, units.Point)), " %"...)
		if sr.mark == units.Comma {
			if i := bytes.IndexByte(dst[start:], '.'); i >= 0 {
				dst[start+i] = ','
			}
		}
		return dst, true
	case class > fmtDecimals:
		return append(dst, numberText(x, int(class-fmtDecimals), sr.mark)...), true
	}
	return append(dst, numberText(x, -1, sr.mark)...), true
}

// parseNumber reads the number of a cell; words such as Inf are none.
func parseNumber(v string) (float64, bool) {
	for i := 0; i < len(v); i++ {
		if c := v[i]; !(c >= '0' && c <= '9' || c == '.' || c == '-' || c == '+' || c == 'e' || c == 'E') {
			return 0, false
		}
	}
	x, err := strconv.ParseFloat(v, 64)
	return x, err == nil && !math.IsInf(x, 0)
}

// numberText is a number as a cell's text: with that many decimals if they are the number exactly, else as short as gives the same number.
// It is the one rule that import and export share: what it gives for a number goes out as a number, and comes back as that text.
func numberText(x float64, decimals int, mark units.Decimal) string {
	var tmp [64]byte
	var b []byte
	if x == 0 {
		x = 0 // no minus zero
	}
	big := math.Abs(x) >= 1e15 || x != 0 && math.Abs(x) < 1e-9
	switch {
	case big:
		b = strconv.AppendFloat(tmp[:0], x, 'g', -1, 64)
	case decimals >= 0:
		b = strconv.AppendFloat(tmp[:0], x, 'f', decimals, 64)
		if y, err := strconv.ParseFloat(string(b), 64); err == nil && y == x {
			break
		}
		b = strconv.AppendFloat(tmp[:0], x, 'f', -1, 64)
	default:
		b = strconv.AppendFloat(tmp[:0], x, 'f', -1, 64)
	}
	if mark == units.Comma {
		if i := bytes.IndexByte(b, '.'); i >= 0 {
			b[i] = ','
		}
	}
	return string(b)
}

// shiftPoint appends a decimal number times a hundred, digit for digit.
func shiftPoint(dst []byte, s string) []byte {
	if digits, exp, ok := strings.Cut(s, "e"); ok {
		n, _ := strconv.Atoi(exp)
		return fmt.Appendf(dst, "%se%+03d", digits, n+2)
	}
	if s[0] == '-' {
		dst, s = append(dst, '-'), s[1:]
	}
	whole, frac, _ := strings.Cut(s, ".")
	for len(frac) < 2 {
		frac += "0"
	}
	whole, frac = strings.TrimLeft(whole+frac[:2], "0"), strings.TrimRight(frac[2:], "0")
	if whole == "" {
		whole = "0"
	}
	dst = append(dst, whole...)
	if frac != "" {
		dst = append(append(dst, '.'), frac...)
	}
	return dst
}

// dateText is the date and time of a serial number. The system of 1900 counts a 29 February 1900 that never was.
func dateText(x float64, d1904 bool) string {
	days := math.Floor(x)
	sec := int(math.Round((x - days) * 86400))
	if sec == 86400 {
		days, sec = days+1, 0
	}
	last := 2958465.0 // 9999-12-31
	if d1904 {
		last -= 1462
	}
	if !(x >= 0) || days > last {
		return numberText(x, -1, units.Point)
	}
	clock := fmt.Sprintf("%02d:%02d", sec/3600, sec/60%60)
	if sec%60 != 0 {
		clock += fmt.Sprintf(":%02d", sec%60)
	}
	n := int(days)
	switch {
	case d1904:
		n += 1462
	case n == 0:
		return clock
	case n == 60:
		return strings.TrimSuffix("1900-02-29 "+clock, " 00:00")
	case n < 60:
		n++
	}
	day := time.Unix(int64(n-25569)*86400, 0).UTC().Format(time.DateOnly) // 1970-01-01 is day 25569 of the system of 1900
	if sec == 0 {
		return day
	}
	return day + " " + clock
}

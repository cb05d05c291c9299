package workbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/words"

	"github.com/xuri/excelize/v2"
)

// A style is a look of cells that is asked for by value; equal ones become one.
type style struct {
	format  string // number format, "" general
	bold    bool
	italic  bool
	wrap    bool
	right   bool
	indent  bool
	turn    bool // text turned upright, for the heads of narrow columns
	head    bool
	frame   bool
	size    float64
	pattern int // fill pattern as excelize numbers them
	fill    string
	font    string // colour
}

// The colour-blind-safe pair, blue and orange, and greys. Every fill that means something is a pattern and stands behind a word.
const (
	blue      = "9DB8D9"
	orange    = "E8A33D"
	grey      = "B8B8B8"
	pale      = "E9EDF2"
	lineTint  = "8A8F98"
	quietText = "4A4F57"
)

// Fill patterns as excelize numbers them.
const (
	patternSolid   = 1
	patternGrey    = 4  // light grey dots
	patternUp      = 14 // thin diagonal lines, rising
	patternTrellis = 16
)

// A book is a workbook being written. Excelize holds everything but the cells.
type book struct {
	f      *excelize.File
	styles map[style]int
	pages  []*page
	err    error

	deflate  func(pieces ...[]byte) (packed []byte, sum uint32, err error) // nil: compress/flate
	progress func(done float64)                                            // told while the parts are packed, from 0.75 on; nil: nobody
}

// A page is one sheet's cells as XML.
type page struct {
	b    *book
	name string
	full [][]byte // rows that are written
	buf  []byte   // those behind them, and the open one
	row  int      // 1-based, of the open or last row

	number10     string   // row in digits
	opens, shown []string // the beginnings of a cell by column and by style

	rowAt  int  // where the open row's attributes end in buf
	fixed  bool // the open row has its height
	grow   int  // rows grow with what is wrapped in so many columns; programs do not agree on doing so themselves
	lines  int
	maxCol int // columns
	widths []float64
}

func newBook(f *excelize.File) *book { return &book{f: f, styles: map[style]int{}} }

func (b *book) fail(err error) {
	if b.err == nil && err != nil {
		b.err = err
	}
}

// pieceSize is about how many bytes of a sheet are kept in one piece: a sheet of 10,000 rows has tens of millions, which would be moved each time they outgrow their place.
const pieceSize = 1 << 18

// size is how many bytes the cells take.
func (p *page) size() int {
	n := len(p.buf)
	for _, b := range p.full {
		n += len(b)
	}
	return n
}

// page adds a sheet.
func (b *book) page(name string) *page {
	_, err := b.f.NewSheet(name)
	b.fail(err)
	p := &page{b: b, name: name}
	b.pages = append(b.pages, p)
	return p
}

// style returns the number of a style in the workbook.
func (b *book) style(s style) int {
	if id, ok := b.styles[s]; ok {
		return id
	}
	x := &excelize.Style{Font: &excelize.Font{Family: "Calibri", Size: 10, Bold: s.bold, Italic: s.italic, Color: s.font}, Alignment: &excelize.Alignment{Vertical: "top", WrapText: s.wrap}}
	if s.size > 0 {
		x.Font.Size = s.size
	}
	if s.format != "" {
		x.CustomNumFmt = &s.format
	}
	switch {
	case s.right:
		x.Alignment.Horizontal = "right"
	case s.indent:
		x.Alignment.Horizontal, x.Alignment.Indent = "left", 1
	}
	if s.turn {
		x.Alignment.TextRotation = 90
		x.Alignment.Vertical = "bottom"
	}
	if s.head {
		x.Border = append(x.Border, excelize.Border{Type: "bottom", Color: "000000", Style: 2}, excelize.Border{Type: "left", Color: lineTint, Style: 1}, excelize.Border{Type: "right", Color: lineTint, Style: 1})
		if !s.turn {
			x.Alignment.Vertical = "bottom"
		}
	}
	if s.frame {
		for _, side := range []string{"left", "right", "top", "bottom"} {
			x.Border = append(x.Border, excelize.Border{Type: side, Color: "C9CDD3", Style: 1})
		}
	}
	if s.pattern > 0 {
		x.Fill = excelize.Fill{Type: "pattern", Pattern: s.pattern, Color: []string{s.fill}}
	}
	id, err := b.f.NewStyle(x)
	b.fail(err)
	b.styles[s] = id
	return id
}

// start opens row n; n of zero is the next. height 0 leaves it to the program that shows it.
func (p *page) start(n int, height float64) {
	if n == 0 {
		n = p.row + 1
	}
	p.row, p.number10 = n, strconv.Itoa(n)
	p.buf = append(append(append(p.buf, `<row r="`...), p.number10...), '"')
	p.rowAt, p.lines, p.fixed = len(p.buf), 1, height > 0
	if height > 0 {
		p.buf = append(append(append(p.buf, ` ht="`...), strconv.FormatFloat(height, 'f', -1, 64)...), `" customHeight="1"`...)
	}
	p.buf = append(p.buf, '>')
}

func (p *page) end() {
	if !p.fixed && p.lines > 1 {
		ht := ` ht="` + strconv.Itoa(13*min(p.lines, 30)+2) + `" customHeight="1"`
		p.buf = append(p.buf, ht...)
		copy(p.buf[p.rowAt+len(ht):], p.buf[p.rowAt:])
		copy(p.buf[p.rowAt:], ht)
	}
	p.buf = append(p.buf, `</row>`...)
	if len(p.buf) >= pieceSize {
		p.full = append(p.full, p.buf)
		p.buf = make([]byte, 0, pieceSize+pieceSize/8)
	}
}

// cell opens a cell's tag up to its style.
func (p *page) cell(col, style int) {
	p.maxCol = max(p.maxCol, col+1)
	for len(p.opens) <= col {
		p.opens = append(p.opens, `<c r="`+columnName(len(p.opens)))
	}
	for len(p.shown) <= style {
		p.shown = append(p.shown, `" s="`+strconv.Itoa(len(p.shown))+`"`)
	}
	b := put(p.buf, p.opens[col])
	b = put(b, p.number10)
	if style != 0 {
		b = put(b, p.shown[style])
	} else {
		b = append(b, '"')
	}
	p.buf = b
}

// put appends a short text. Compiled for the page, append moves memory by a call whose price is that of some twenty bytes.
func put(b []byte, s string) []byte {
	n := len(b)
	if cap(b)-n < len(s) {
		return append(b, s...)
	}
	b = b[:n+len(s)]
	to := b[n:]
	for i := 0; i < len(s) && i < len(to); i++ {
		to[i] = s[i]
	}
	return b
}

// blank is an empty cell that has a look.
func (p *page) blank(col, style int) {
	p.cell(col, style)
	p.buf = put(p.buf, `/>`)
}

// text is a text cell: never a formula, whatever it begins with. Without a text the cell stays empty, so that nobody counts it as filled.
func (p *page) text(col, style int, s string) {
	if s == "" {
		p.blank(col, style)
		return
	}
	if col < p.grow && col < len(p.widths) && !strings.HasPrefix(s, "data:") { // a photo's letters are for no eye
		if per := max(int(p.widths[col]-0.8), 3); len(s) > per || strings.IndexByte(s, '\n') >= 0 {
			lines := 0
			for part := range strings.SplitSeq(s, "\n") {
				lines += max(1, (utf8.RuneCountInString(part)+per-1)/per)
			}
			p.lines = max(p.lines, lines)
		}
	}
	p.cell(col, style)
	p.buf = put(p.buf, ` t="inlineStr"><is><t`)
	if s[0] <= ' ' || s[len(s)-1] <= ' ' || strings.IndexByte(s, '\n') >= 0 {
		p.buf = append(p.buf, ` xml:space="preserve"`...)
	}
	p.buf = append(p.buf, '>')
	var ok bool
	if p.buf, ok = appendXMLText(p.buf, s); !ok {
		p.b.fail(errors.New(words.BookNotUTF8.Say(p.name, cellName(col, p.row), fmt.Sprintf("%.40q", s))))
	}
	if len(s) > MaxCell && utf16Len([]byte(s)) > MaxCell {
		p.b.fail(errors.New(words.BookLongText.Say(p.name, cellName(col, p.row), utf16Len([]byte(s)), MaxCell)))
	}
	p.buf = put(p.buf, `</t></is></c>`)
}

// emptyText is a cell with a text of no signs, which counts as filled.
func (p *page) emptyText(col, style int) {
	p.cell(col, style)
	p.buf = put(p.buf, ` t="inlineStr"><is><t></t></is></c>`)
}

// plain is a number that stands in digits already.
func (p *page) plain(col, style int, digits string) {
	p.cell(col, style)
	p.buf = put(put(put(p.buf, `><v>`), digits), `</v></c>`)
}

// number is a number to its last bit. What is none leaves the cell empty.
func (p *page) number(col, style int, x float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		p.blank(col, style)
		return
	}
	p.cell(col, style)
	p.buf = put(appendExact(put(p.buf, `><v>`), x), `</v></c>`)
}

// formula is a formula with its value.
func (p *page) formula(col, style int, f string, x float64) {
	p.cell(col, style)
	p.buf, _ = appendXMLText(append(p.buf, `><f>`...), f)
	p.buf = append(p.buf, `</f>`...)
	if !math.IsNaN(x) && !math.IsInf(x, 0) {
		p.buf = append(appendExact(append(p.buf, `<v>`...), x), `</v>`...)
	}
	p.buf = append(p.buf, `</c>`...)
}

// formulaText is a formula that gives a text.
func (p *page) formulaText(col, style int, f, s string) {
	p.cell(col, style)
	p.buf, _ = appendXMLText(append(p.buf, ` t="str"><f>`...), f)
	p.buf, _ = appendXMLText(append(p.buf, `</f><v>`...), s)
	p.buf = append(p.buf, `</v></c>`...)
}

// appendExact is the one way a number is written: the shortest decimal that reads back to the same float64.
func appendExact(b []byte, x float64) []byte {
	if x == 0 {
		return append(b, '0')
	}
	start := len(b)
	b = strconv.AppendFloat(b, x, 'g', -1, 64)
	for i := start; i < len(b); i++ {
		if b[i] == 'e' {
			b[i] = 'E'
		}
	}
	return b
}

// appendXMLText escapes a text for a cell: what XML cannot hold is written _x000B_, as the file format has it.
func appendXMLText(b []byte, s string) ([]byte, bool) {
	from := 0
	for i := 0; i < len(s); {
		c := s[i]
		n := 1
		esc := ""
		switch {
		case c == '&':
			esc = "&amp;"
		case c == '<':
			esc = "&lt;"
		case c == '>':
			esc = "&gt;"
		case c < ' ' && c != '\t' && c != '\n':
			esc = fmt.Sprintf("_x%04X_", c)
		case c == '_' && i+7 <= len(s) && s[i+1] == 'x' && s[i+6] == '_' && isHex(s[i+2:i+6]):
			esc = "_x005F_"
		case c >= utf8.RuneSelf:
			r, size := utf8.DecodeRuneInString(s[i:])
			if r == utf8.RuneError && size == 1 {
				return b, false
			}
			if n = size; r == 0xfffe || r == 0xffff {
				esc = fmt.Sprintf("_x%04X_", r)
			}
		}
		if esc != "" {
			b = append(append(b, s[from:i]...), esc...)
			from = i + n
		}
		i += n
	}
	if len(s)-from < 64 {
		return put(b, s[from:]), true
	}
	return append(b, s[from:]...), true
}

func isHex(s string) bool {
	for i := 0; i < len(s); i++ {
		c := s[i]
		if !(c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'f') {
			return false
		}
	}
	return true
}

// wide notes that a column shows a text of so many signs.
func (p *page) wide(col, signs int, most float64) {
	for len(p.widths) <= col {
		p.widths = append(p.widths, 0)
	}
	p.widths[col] = max(p.widths[col], min(float64(signs)+1.6, most))
}

// layout is how a page is frozen and printed.
type layout struct {
	freezeCols, freezeRows int    // left and above
	repeat                 [2]int // rows printed again on each page, 1-based; 0 none
	repeatCols             int    // first columns printed again on each page; the width is then spread over as many pages as keep it legible
	printCols              int    // columns printed; 0 all
	portrait               bool
	a3                     bool
	title                  string // left in the foot
}

// legible is how many signs of the standard type stand side by side on A4 across, its margins taken off, when it is printed at four fifths of its size.
const legible = 190

// pagesAcross is over how many pages the columns are spread.
func (l *layout) pagesAcross(widths []float64) int {
	if l.repeatCols == 0 || l.repeatCols >= len(widths) {
		return 1
	}
	again, rest := 0.0, 0.0
	for c, w := range widths {
		if c < l.repeatCols {
			again += max(w, 4)
		} else {
			rest += max(w, 4)
		}
	}
	return max(1, int(math.Ceil(rest/max(legible-again, legible/4))))
}

// finish sets widths, panes and the page.
func (p *page) finish(l layout) {
	b, f := p.b, p.b.f
	// Runs of equal widths in one go.
	for c := 0; c < len(p.widths); {
		w := max(p.widths[c], 4)
		e := c
		for e+1 < len(p.widths) && max(p.widths[e+1], 4) == w {
			e++
		}
		b.fail(f.SetColWidth(p.name, columnName(c), columnName(e), w))
		c = e + 1
	}
	if l.freezeRows > 0 || l.freezeCols > 0 {
		pane := "bottomRight"
		switch {
		case l.freezeCols == 0:
			pane = "bottomLeft"
		case l.freezeRows == 0:
			pane = "topRight"
		}
		b.fail(f.SetPanes(p.name, &excelize.Panes{Freeze: true, XSplit: l.freezeCols, YSplit: l.freezeRows, TopLeftCell: cellName(l.freezeCols, l.freezeRows+1), ActivePane: pane}))
	}
	orient, paper, across, any := "landscape", 9, l.pagesAcross(p.widths), 0
	if l.portrait {
		orient = "portrait"
	}
	if l.a3 {
		paper = 8
	}
	b.fail(f.SetPageLayout(p.name, &excelize.PageLayoutOptions{Size: &paper, Orientation: &orient, FitToWidth: &across, FitToHeight: &any}))
	yes := true
	b.fail(f.SetSheetProps(p.name, &excelize.SheetPropsOptions{FitToPage: &yes}))
	side, top := 0.3, 0.45
	b.fail(f.SetPageMargins(p.name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &top}))
	b.fail(f.SetHeaderFooter(p.name, &excelize.HeaderFooterOptions{OddFooter: words.BookFooter.Say(strings.ReplaceAll(clip(l.title, 60), "&", "&&"))}))
	last := cellName(max(p.maxCol-1, 0), max(p.row, 1))
	b.fail(f.SetSheetDimension(p.name, "A1:"+last))
	q := quoteSheet(p.name)
	if l.repeat[0] > 0 {
		titles := fmt.Sprintf("%s!$%d:$%d", q, l.repeat[0], l.repeat[1])
		if l.repeatCols > 0 {
			titles = fmt.Sprintf("%s!$A:$%s,%s", q, columnName(l.repeatCols-1), titles)
		}
		b.fail(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: titles, Scope: p.name}))
	}
	if l.printCols > 0 {
		b.fail(f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Area", RefersTo: fmt.Sprintf("%s!$A$1:$%s$%d", q, columnName(l.printCols-1), max(p.row, 1)), Scope: p.name}))
	}
}

func quoteSheet(name string) string { return "'" + strings.ReplaceAll(name, "'", "''") + "'" }

// name defines a name for a range of the page.
func (p *page) define(name string, c0, r0, c1, r1 int) {
	p.b.fail(p.b.f.SetDefinedName(&excelize.DefinedName{Name: name, RefersTo: fmt.Sprintf("%s!$%s$%d:$%s$%d", quoteSheet(p.name), columnName(c0), r0, columnName(c1), r1)}))
}

// list adds a validation list to cells of a column. Other spellings are taken too, so it only advises.
func (p *page) list(col, from, to int, choices []string, what string) {
	if to < from || len(choices) == 0 {
		return
	}
	dv := excelize.NewDataValidation(true)
	dv.SetSqref(fmt.Sprintf("%s%d:%s%d", columnName(col), from, columnName(col), to))
	if err := dv.SetDropList(choices); err != nil {
		return // more words than a list holds
	}
	dv.SetError(excelize.DataValidationErrorStyleInformation, what, words.BookNotOfList.String())
	p.b.fail(p.b.f.AddDataValidation(p.name, dv))
}

// A collector takes the parts excelize writes.
type collector struct {
	parts map[string]*bytes.Buffer
}

func (c *collector) Create(name string) (io.Writer, error) {
	b := new(bytes.Buffer)
	c.parts[name] = b
	return b, nil
}
func (c *collector) AddFS(fs.FS) error { return errors.New("workbook: not used") }
func (c *collector) Close() error      { return nil }

// bytes puts the parts together with the cells of the pages. The same book gives the same bytes. unchanged, if not nil, are parts to be kept to
// the byte, by name.
func (b *book) bytes(unchanged func(part string) []byte) ([]byte, error) {
	if b.err != nil {
		return nil, b.err
	}
	c := &collector{parts: map[string]*bytes.Buffer{}}
	b.f.SetZipWriter(func(io.Writer) excelize.ZipWriter { return c })
	if err := b.f.Write(io.Discard); err != nil {
		return nil, err
	}
	cells := map[string]*page{}
	paths, err := sheetParts(c.parts)
	if err != nil {
		return nil, err
	}
	for _, p := range b.pages {
		path := paths[p.name]
		if path == "" || c.parts[path] == nil {
			return nil, fmt.Errorf("workbook: sheet %q has no part", p.name)
		}
		cells[path] = p
	}
	var names []string
	for n := range c.parts {
		names = append(names, n)
	}
	sort.Slice(names, func(i, k int) bool {
		if a, b := names[i] == "[Content_Types].xml", names[k] == "[Content_Types].xml"; a != b {
			return a
		}
		return names[i] < names[k]
	})
	total := 0
	for n, b := range c.parts {
		size := b.Len()
		if p := cells[n]; p != nil {
			size += p.size()
		}
		if total += size; size > MaxPart || total > MaxUnzipped {
			return nil, errors.New(words.BookTooLarge.Say(MaxUnzipped>>20, MaxPart>>20))
		}
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	z.RegisterCompressor(zip.Deflate, func(w io.Writer) (io.WriteCloser, error) { return flate.NewWriter(w, flate.BestSpeed) })
	packed := 0
	for _, n := range names {
		if b.progress != nil {
			b.progress(0.75 + 0.25*float64(packed)/float64(max(total, 1)))
		}
		if packed += c.parts[n].Len(); cells[n] != nil {
			packed += cells[n].size()
		}
		data := c.parts[n].Bytes()
		if unchanged != nil && cells[n] == nil {
			if old := unchanged(n); old != nil {
				data = old
			}
		}
		if p := cells[n]; p != nil {
			empty := []byte("<sheetData></sheetData>")
			i := bytes.Index(data, empty)
			if i < 0 {
				empty = []byte("<sheetData/>")
				i = bytes.Index(data, empty)
			}
			if i < 0 {
				return nil, fmt.Errorf("workbook: no place for the cells of %q", p.name)
			}
			parts := slices.Concat([][]byte{data[:i], []byte("<sheetData>")}, p.full, [][]byte{p.buf, []byte("</sheetData>"), data[i+len(empty):]})
			if err := b.pack(z, n, parts...); err != nil {
				return nil, err
			}
			p.full, p.buf = nil, nil
			continue
		}
		if err := b.pack(z, n, data); err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// pack puts a part into the archive.
func (b *book) pack(z *zip.Writer, name string, pieces ...[]byte) error {
	size := 0
	for _, p := range pieces {
		size += len(p)
	}
	if b.deflate != nil && size >= 1<<16 {
		if packed, sum, err := b.deflate(pieces...); err == nil {
			w, err := z.CreateRaw(&zip.FileHeader{Name: name, Method: zip.Deflate, CRC32: sum, CompressedSize64: uint64(len(packed)), UncompressedSize64: uint64(size)})
			if err == nil {
				_, err = w.Write(packed)
			}
			return err
		}
	}
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate})
	if err != nil {
		return err
	}
	for _, p := range pieces {
		if _, err := w.Write(p); err != nil {
			return err
		}
	}
	return nil
}

// sheetParts finds the part of each sheet in the parts of a workbook being written.
func sheetParts(parts map[string]*bytes.Buffer) (map[string]string, error) {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, n := range []string{"[Content_Types].xml", "_rels/.rels"} {
		if parts[n] == nil {
			return nil, fmt.Errorf("workbook: part %s is missing", n)
		}
	}
	// A small archive of the plumbing, so that one reader serves both ways.
	real := map[string]string{}
	for n, b := range parts {
		real[partName(n)] = n
		w, err := z.CreateHeader(&zip.FileHeader{Name: n, Method: zip.Store})
		if err != nil {
			return nil, err
		}
		if strings.HasSuffix(n, ".rels") || !strings.Contains(n, "/worksheets/") && !strings.Contains(n, "/media/") && b.Len() < 4<<20 {
			if _, err := w.Write(b.Bytes()); err != nil {
				return nil, err
			}
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	a, err := new(Reader).openArchive(buf.Bytes())
	if err != nil {
		return nil, err
	}
	w, err := a.workbook()
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	for _, s := range w.sheets {
		out[s.name] = real[partName(s.part)]
	}
	return out, nil
}

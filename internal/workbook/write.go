package workbook

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"

	"github.com/xuri/excelize/v2"
)

// Write gives a fresh workbook of the job and its results: Job, Machines, Results, Readings, Stock, Pick list, Order list, Moves (where there are trains),
// Limits used, Method. ev must hold job and have run.
//
// Inputs stand as typed: a text that is a plain number in its column is a number, with a format that shows the digits typed, everything
// else is text. [Read] gives the same tables back, text for text, and with the same job and options the bytes are the same.
// An error names the cell that no workbook can hold.
func Write(job *job.Job, ev *sentences.Teller, opts Options) (out []byte, err error) {
	defer guard(&err)
	return fresh(job, ev, opts, true)
}

// WriteInputs gives a workbook of the job's tables alone, with units and lists to choose from, to be filled in. It is read like that of [Write].
func WriteInputs(job *job.Job, ev *sentences.Teller) (out []byte, err error) {
	defer guard(&err)
	return fresh(job, ev, Options{}, false)
}

func fresh(j *job.Job, ev *sentences.Teller, opts Options, results bool) (out []byte, err error) {
	f := excelize.NewFile()
	defer f.Close()
	w := &writer{book: newBook(f), job: j, ev: ev, opts: &opts}
	w.progress, w.deflate = opts.progress, opts.Deflate
	id := j.ID + " " + strconv.Itoa(j.Revision)
	if j.SavedAt != "" {
		id += " " + j.SavedAt
	}
	saved := "2000-01-01T00:00:00Z" // a job never saved has no time, and the clock would make two exports differ
	if t, err := time.Parse(time.RFC3339, j.SavedAt); err == nil {
		saved = t.UTC().Format(time.RFC3339)
	}
	w.fail(f.SetDocProps(&excelize.DocProperties{Title: w.title(), Creator: "Shimsheet", LastModifiedBy: "Shimsheet", Created: saved, Modified: saved,
		Identifier: ownMark + " " + id, Description: words.BookDescription.String()}))
	w.fail(f.SetAppProps(&excelize.AppProperties{Application: "Shimsheet"}))
	w.fail(f.SetDefaultFont("Calibri"))
	if j.Settings != nil {
		w.table(job.SettingsSheet, job.SettingsSheet.String())
	}
	w.table(job.MachinesSheet, job.MachinesSheet.String())
	opts.progress(0.3)
	if results {
		w.results("Results")
	}
	opts.progress(0.6)
	w.otherTables()
	if results {
		w.outputs("")
	}
	w.fail(f.DeleteSheet("Sheet1"))
	if i, err := f.GetSheetIndex("Results"); err == nil && i >= 0 {
		f.SetActiveSheet(i)
	}
	out, err = w.bytes(nil)
	opts.progress(1)
	return out, err
}

// writer is a workbook of one job being written.
type writer struct {
	*book
	job  *job.Job
	ev   *sentences.Teller
	opts *Options

	prefix   string      // of the names that are defined
	machines *inputSheet // where the inputs stand, for formulas
}

func (w *writer) title() string {
	var parts []string
	for _, k := range []string{"name", "site", "date"} {
		if v := w.ev.Setting(k); v != "" {
			parts = append(parts, v)
		}
	}
	if len(parts) == 0 {
		return words.BookUntitled.String()
	}
	return strings.Join(parts, ", ")
}

// outputs adds the lists and explanations; suffix is put behind their names.
func (w *writer) outputs(suffix string) {
	w.pickList("Pick list" + suffix)
	w.orderList("Order list" + suffix)
	w.movesList("Moves" + suffix)
	w.limitsUsed("Limits used" + suffix)
	w.method("Method" + suffix)
}

// out adds a sheet that is worked out anew whenever the job is, and so is not read back.
func (w *writer) out(name string) *page {
	p := w.page(name)
	n := 1
	for _, q := range w.pages {
		if q != p {
			n++
		}
	}
	p.define(nameOut+w.prefix+strconv.Itoa(n), 0, 1, 0, 1)
	return p
}

// An inputSheet is a table of the job as it stands in the workbook.
type inputSheet struct {
	p     *page
	t     *job.Table
	cols  []inputColumn
	first int           // 1-based row of Rows[0]
	texts map[spot]bool // cells (0-based row of the sheet) that hold no number although they read like one; nil: none
	units map[spot]bool // numbers whose unit is shown by their format, and is in the job's text
	odd   map[spot]bool // dates and per cent, whose cells hold another number than the job's text says
}

type inputColumn struct {
	info   *job.ColumnInfo
	unit   units.Unit // of a bare number
	named  bool       // the header names a unit
	number bool       // plain numbers go out as numbers
}

func numeric(q job.Quantity) bool {
	switch q {
	case job.QText, job.QChoice, job.QSweep, job.QDistances:
		return false
	}
	return true
}

// asNumber says whether a text goes out as a number, and with how many decimals shown; −1 general. Only what comes back as the same text does.
func asNumber(s string, mark units.Decimal) (x float64, decimals int, ok bool) {
	if len(s) == 0 || len(s) > 24 {
		return 0, 0, false
	}
	point := byte('.')
	if mark == units.Comma {
		point = ','
	}
	digits, at := 0, -1
	for i := 0; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			digits++
		case c == point && at < 0:
			at = i
		case c == '-' && i == 0:
		default:
			return 0, 0, false
		}
	}
	if digits == 0 || digits > 17 {
		return 0, 0, false
	}
	plain := s
	if at >= 0 && point == ',' {
		plain = s[:at] + "." + s[at+1:]
	}
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil {
		return 0, 0, false
	}
	decimals = 0
	if at >= 0 {
		if decimals = len(s) - at - 1; decimals > maxDecimals {
			decimals = -1
		}
	}
	return x, decimals, numberText(x, decimals, mark) == s
}

// plainDigits is the short way for most numbers that people type: digits as every program reads them, few enough to be exact, without zeros that
// say nothing at the end. asNumber takes them the same; the tests hold the two together.
func plainDigits(s string, mark units.Decimal) (digits string, decimals int, ok bool) {
	if len(s) == 0 || len(s) > 15 || mark == units.Comma {
		return "", 0, false
	}
	i := 0
	if s[0] == '-' {
		i = 1
	}
	first, at, other := i, -1, false
	for ; i < len(s); i++ {
		switch c := s[i]; {
		case c >= '0' && c <= '9':
			other = other || c != '0'
		case c == '.' && at < 0:
			at = i
		default:
			return "", 0, false
		}
	}
	whole := len(s) - first
	if at >= 0 {
		whole, decimals = at-first, len(s)-at-1
		if decimals == 0 || decimals > 8 {
			return "", 0, false
		}
	}
	if whole == 0 || whole > 1 && s[first] == '0' || !other && first == 1 {
		return "", 0, false
	}
	if at >= 0 {
		for s[len(s)-1] == '0' {
			s = s[:len(s)-1]
		}
		if s[len(s)-1] == '.' {
			s = s[:len(s)-1]
		}
	}
	return s, decimals, true
}

// decimalFormats are the formats of numbers as typed, by decimals.
func decimalFormat(n int) string {
	switch {
	case n < 0:
		return ""
	case n == 0:
		return "0"
	}
	return "0." + strings.Repeat("0", n)
}

// columns understands the columns of a table.
func (w *writer) columns(t *job.Table, kind job.SheetKind) []inputColumn {
	width := t.Width()
	for _, r := range t.Title {
		width = max(width, len(r))
	}
	cols := make([]inputColumn, width)
	for c := range cols {
		ic := &cols[c]
		if kind == job.SettingsSheet {
			ic.number = c == 1
			continue
		}
		if ic.info = columnAt(t, kind, c); ic.info == nil {
			continue
		}
		ic.number = numeric(ic.info.Quantity) && !ic.info.Result
		ic.unit = ic.info.Unit(w.ev.Inch())
		if k := ic.info.Quantity.Kind(); k != units.Number {
			u, word, known := headerUnit(kind, t.Header[c], k)
			if known {
				ic.unit = u
			}
			ic.named = word != ""
		}
	}
	return cols
}

// table writes a table of the job as typed, on a sheet of that name. Under its own name it is read back.
func (w *writer) table(kind job.SheetKind, name string) {
	t := w.job.Table(kind)
	own := name == kind.String()
	var p *page
	if own {
		p = w.page(name)
	} else {
		p = w.out(name)
	}
	in := &inputSheet{p: p, t: t, cols: w.columns(t, kind)}
	width := len(in.cols)
	if n := len(t.Title) + 1 + len(t.Rows); n > MaxRows || width > MaxColumns {
		w.fail(errors.New(words.BookSheetLarge.Say(name, n, width, MaxRows, MaxColumns)))
		return
	}
	mark := w.ev.Decimal()
	many := kind == job.MachinesSheet && width > 14
	plainText := w.style(style{frame: true, wrap: true, indent: true})
	titleStyle := w.style(style{bold: true, size: 12})
	var byDecimals [maxDecimals + 2]int
	for d := range byDecimals {
		byDecimals[d] = w.style(style{frame: true, right: true, format: decimalFormat(d - 1)})
	}
	rightText := w.style(style{frame: true, right: true})
	calm := w.style(style{frame: true})
	dry := true // the first round only finds the widths, on which the heights of rows hang
	cells := func(row []string, header bool, isTitle bool) {
		for c, s := range row {
			if dry && s == "" {
				continue
			}
			if s == "" {
				if c == len(row)-1 {
					p.emptyText(c, calm) // keeps the row as wide as it was
				} else if !isTitle {
					p.blank(c, calm)
				}
				continue
			}
			ic := &in.cols[c]
			switch {
			case isTitle:
				p.text(c, titleStyle, s)
			case header:
				hs := style{head: true, bold: true, wrap: true, turn: many && c > 0, pattern: patternSolid, fill: pale}
				if ic.info != nil && ic.unit != units.None && !ic.named && !strings.ContainsAny(s, "[(") {
					// The unit is shown by the format; the text of the header stays as it was typed.
					hs.format = `@" [` + strings.ReplaceAll(ic.unit.String(), `"`, "in") + `]"`
				}
				p.text(c, w.style(hs), s)
				if !many {
					p.wide(c, min(utf8.RuneCountInString(s)+2, 18), 20)
				}
			default:
				number := ic.number
				if kind == job.SettingsSheet && number {
					info := job.FindColumn(kind, row[0])
					number = info != nil && numeric(info.Quantity)
				}
				if dry {
					size := utf8.RuneCountInString(s) + 3
					switch {
					case many && c > 0 && number:
						p.wide(c, size, 10)
					case many && c > 0:
						p.wide(c, size, 17)
					case kind == job.SettingsSheet || width == 1:
						p.wide(c, size, 60)
					default:
						p.wide(c, size, 34)
					}
					continue
				}
				if number {
					if digits, d, ok := plainDigits(s, mark); ok {
						p.plain(c, byDecimals[d+1], digits)
						continue
					}
					if x, d, ok := asNumber(s, mark); ok {
						p.number(c, byDecimals[d+1], x)
						continue
					}
					p.text(c, rightText, s)
					continue
				}
				p.text(c, plainText, s)
			}
		}
	}
	n := 0
	if many {
		p.wide(0, 22, 40)
		for c := 1; c < width; c++ {
			p.wide(c, 3, 8)
		}
	}
	for _, r := range t.Rows {
		cells(r, false, false)
	}
	dry = false
	for _, r := range t.Title {
		n++
		p.start(n, 0)
		cells(r, false, true)
		p.end()
	}
	headRow := 0
	if t.Header != nil {
		n++
		headRow = n
		h := 0.0
		if many {
			h = 132
		}
		p.start(n, h)
		cells(t.Header, true, false)
		p.end()
	}
	in.first = n + 1
	p.grow = MaxColumns
	for _, r := range t.Rows {
		n++
		if len(r) == 0 {
			continue
		}
		p.start(n, 0)
		cells(r, false, false)
		p.end()
	}
	p.row = max(n, 1)
	last := max(width-1, 0)
	if headRow > 0 && own {
		p.define(nameHeader+kind.String(), 0, headRow, last, headRow)
	}
	if len(t.Rows) > 0 && own {
		p.define(nameRows+kind.String(), 0, in.first, last, n)
	}
	w.lists(in, kind, n)
	l := layout{freezeRows: headRow, title: w.title(), a3: many, portrait: !many && kind != job.MachinesSheet}
	if headRow > 0 {
		l.repeat = [2]int{headRow, headRow}
	}
	if kind == job.MachinesSheet {
		l.freezeCols, l.repeatCols, l.a3 = 1, 1, false
		w.machines = in
		if own {
			w.stationNames(in, n)
		}
	}
	p.finish(l)
}

// lists adds the validation lists of a table's columns.
func (w *writer) lists(in *inputSheet, kind job.SheetKind, last int) {
	var sets []string
	for _, s := range w.ev.LimitSets() {
		sets = append(sets, s.Name)
	}
	words := func(info *job.ColumnInfo) []string {
		switch {
		case info == nil:
			return nil
		case info.Key == "limits" || info.Key == "default_limits":
			return sets
		}
		return info.Choices
	}
	if kind == job.SettingsSheet {
		for i := range in.t.Rows {
			if info := job.FindColumn(kind, in.t.Cell(i, 0)); info != nil {
				in.p.list(1, in.first+i, in.first+i, words(info), info.Name)
			}
		}
		return
	}
	for c := range in.cols {
		if info := in.cols[c].info; info != nil {
			in.p.list(c, in.first, max(last, in.first)+200, words(info), info.Name) // room for rows to come
		}
	}
}

// stationNames names the columns that hold where things stand, and limits typed on the sheet.
func (w *writer) stationNames(in *inputSheet, last int) {
	if last < in.first {
		return
	}
	seen := map[string]bool{}
	for c := range in.cols {
		info := in.cols[c].info
		if info == nil || seen[info.Key] || !(info.Quantity == job.QDistance || info.Key == "offset_limit" || info.Key == "slope_limit") {
			continue
		}
		seen[info.Key] = true
		in.p.define("Machines_"+info.Key, c, in.first, c, last)
	}
}

// numberFormat shows a unit with the digits that mean something.
func numberFormat(u units.Unit, coarse bool) string {
	switch u {
	case units.MM:
		if coarse {
			return "0.00"
		}
		return "0.000"
	case units.Inch:
		return "0.000"
	case units.Mil:
		return "0.0"
	case units.Percent:
		return "0"
	}
	return "0.00"
}

// verdictStyle marks a verdict by a pattern behind its word.
func (w *writer) verdictStyle(v calc.Verdict, bold bool) int {
	s := style{frame: true, bold: bold, wrap: true, indent: true}
	switch v {
	case calc.Inside:
		s.pattern, s.fill = patternUp, blue
	case calc.Outside:
		s.pattern, s.fill = patternTrellis, orange
	case calc.TooClose:
		s.pattern, s.fill = patternGrey, grey
	}
	return w.style(s)
}

// A resultColumn is a column of the Results sheet.
type resultColumn struct {
	head     string
	key      string // of the result column; for a formula too
	index    int    // in results.Columns, −1 another
	unit     units.Unit
	pm       bool // the ± of key
	coarse   bool
	width    int
	text     bool
	working  bool // a step of the live formulas
	position int
}

// results writes the Results sheet: what is printed first, the rest to the right of it.
func (w *writer) results(name string) *page {
	_, _ = w.allocation() // the packs are those of the stock shared out; the pick list says what kept it from that
	t := &resultSheet{w: w, p: w.out(name)}
	t.columns()
	if w.opts.Live {
		t.live = newLive(w, &t.cols)
	}
	for i := range t.cols {
		t.cols[i].position = i + 1
	}
	headRow := t.head()
	t.styles()
	t.p.grow = t.printed
	last := t.rows(headRow + 1)
	if last > headRow {
		for _, c := range t.cols {
			if name := stationNames[c.key]; name != "" {
				t.p.define(w.prefix+name, c.position, headRow+1, c.position, last)
			}
		}
	}
	t.p.finish(layout{freezeCols: 1, freezeRows: headRow, repeat: [2]int{headRow, headRow}, printCols: t.printed, title: w.title()})
	return t.p
}

// stationNames are the names that formulas call columns of the results by.
var stationNames = map[string]string{"limit_offset": "Limit_offset_mm", "limit_slope": "Limit_slope_mm_per_m", "x1": "Station_first_mm", "x2": "Station_second_mm",
	"xf": "Station_front_feet_mm", "xr": "Station_rear_feet_mm", "flex": "Spacer_length_mm"}

// A resultSheet is the sheet of results while it is written.
type resultSheet struct {
	w       *writer
	p       *page
	cols    []resultColumn
	printed int   // columns that go onto paper, the name among them
	live    *live // nil: without formulas

	name, text, line int   // styles of the name, of a text on paper, of one beside it
	number           []int // styles of numbers, by column
}

// columns lays the columns out: those that are printed, then every other result, then what formulas go on from.
func (t *resultSheet) columns() {
	inch := t.w.ev.Inch()
	all := job.ResultColumns()
	byKey := map[string]int{}
	for i := range all {
		byKey[all[i].Key] = i
	}
	coarse := map[string]bool{"front_shim": true, "rear_shim": true, "front_move": true, "rear_move": true, "slide_v": true, "slide_h": true}
	used := map[string]bool{}
	add := func(pm bool, width int, keys ...string) {
		for _, key := range keys {
			i := byKey[key]
			rc := &all[i]
			c := resultColumn{head: rc.Name, key: key, index: i, unit: rc.Unit(inch), pm: pm, coarse: coarse[key], width: width}
			_, _, number := results.NumberOf(&evaluate.RowResult{Front: -1, Rear: -1}, key)
			c.text = !number
			if c.unit != units.None {
				c.head += " [" + c.unit.String() + "]"
			}
			if !pm {
				used[key] = true
			} else if c.head = "± " + c.head; key == "offset" || key == "slope" { // stands right behind its number
				c.head = "± [" + c.unit.String() + "]"
			}
			t.cols = append(t.cols, c)
		}
	}
	add(false, 12, "verdict")
	add(false, 33, "why")
	add(false, 6, "offset_v", "offset_h", "offset")
	add(true, 5, "offset")
	add(false, 6, "slope_v", "slope_h", "slope")
	add(true, 5, "slope")
	add(false, 6, "share_of_limit", "chance_inside", "front_shim", "rear_shim", "front_move", "rear_move")
	t.cols = append(t.cols, resultColumn{head: "Move towards", key: "side", index: -1, text: true, width: 13})
	add(false, 16, "front_pack", "rear_pack")
	add(false, 6, "after_share_of_limit")
	add(false, 11, "after_verdict")
	t.printed = len(t.cols) + 1
	add(true, 8, "offset_v", "offset_h", "slope_v", "slope_h", "front_shim", "rear_shim", "front_move", "rear_move")
	for i := range all {
		key := all[i].Key
		switch key {
		case "wanted_offset_v", "wanted_offset_h", "wanted_slope_v", "wanted_slope_h": // stand below, in columns that formulas may fill
			continue
		}
		if used[key] {
			continue
		}
		add(false, 10, key)
		if all[i].PlusMinus {
			add(true, 10, key)
		}
	}
	for _, x := range []struct {
		head, key string
		u         units.Unit
	}{{"Wanted offset V [mm]", "wanted_dv", units.MM}, {"Wanted offset H [mm]", "wanted_dh", units.MM}, {"Wanted slope V [mm/m]", "wanted_tv", units.MMPerM}, {"Wanted slope H [mm/m]", "wanted_th", units.MMPerM},
		{"Offset limit [mm]", "limit_offset", units.MM}, {"Slope limit [mm/m]", "limit_slope", units.MMPerM}} {
		t.cols = append(t.cols, resultColumn{head: x.head, key: x.key, index: -1, unit: x.u, width: 9})
	}
}

// head writes what stands above the rows and returns the row of the header.
func (t *resultSheet) head() (row int) {
	w, p := t.w, t.p
	say := func(style int, text string, height float64) {
		row++
		p.start(row, height)
		p.text(0, style, text)
		p.end()
	}
	title, quiet := w.style(style{bold: true, size: 14}), w.style(style{italic: true, font: quietText})
	say(title, w.title(), 20)
	say(w.style(style{bold: true}), results.Count(w.ev), 0)
	say(quiet, words.BookFrame.String(), 0)
	say(quiet, tables.Cautions()[0].Text, 0)
	if notes := w.ev.PackNotes(); len(notes) > 0 {
		say(quiet, strings.Join(notes, " "), 0)
	}
	if t.live != nil {
		row++
		p.start(row, 0)
		p.text(0, quiet, words.BookLive.String())
		t.live.sharedRef = t.live.putShared(p, row, t.cols[len(t.cols)-1].position, w.style(style{frame: true, indent: true}))
		p.end()
	}
	row++
	p.start(row, 66)
	headStyle := w.style(style{head: true, bold: true, wrap: true, pattern: patternSolid, fill: pale})
	p.text(0, headStyle, "Machine")
	p.wide(0, 26, 40)
	for _, c := range t.cols {
		p.text(c.position, headStyle, c.head)
		p.wide(c.position, c.width, 40)
	}
	p.end()
	return row
}

// styles makes the styles of the rows.
func (t *resultSheet) styles() {
	w := t.w
	t.name = w.style(style{frame: true, bold: true, wrap: true})
	t.text, t.line = w.style(style{frame: true, wrap: true, indent: true}), w.style(style{frame: true, indent: true})
	t.number = make([]int, len(t.cols))
	for i, c := range t.cols {
		t.number[i] = w.style(style{frame: true, right: true, format: numberFormat(c.unit, c.coarse)})
	}
}

// rows writes a row for each coupling, the first into row n, and returns the last that was written, n-1 if none was.
func (t *resultSheet) rows(n int) (last int) {
	ev := t.w.ev
	var buf []byte
	for i := range ev.Len() {
		r := ev.Row(i)
		if i%512 == 0 {
			t.w.opts.progress(0.4 + 0.2*float64(i)/float64(ev.Len()))
		}
		if r.Kind != evaluate.MachineRow {
			continue
		}
		t.p.start(n, 0)
		t.p.text(0, t.name, r.Name)
		var fs map[string]expr
		if t.live != nil {
			fs = t.live.row(i, r, n, t.cols)
		}
		for k := range t.cols {
			if c := &t.cols[k]; c.text || c.key == "verdict" || c.key == "after_verdict" || c.key == formulasState {
				buf = t.word(buf[:0], i, r, c, fs)
			} else {
				t.value(r, k, fs)
			}
		}
		t.p.end()
		n++
	}
	return n - 1
}

// word writes a cell that holds words. buf is memory to write in, which is returned.
func (t *resultSheet) word(buf []byte, i int, r *evaluate.RowResult, c *resultColumn, fs map[string]expr) []byte {
	style := t.text
	if c.position >= t.printed {
		style = t.line
	}
	switch c.key {
	case "verdict":
		t.p.text(c.position, t.w.verdictStyle(r.Verdict, true), r.Verdict.String())
	case "after_verdict":
		if r.Calc.HasAfter {
			t.p.text(c.position, t.w.verdictStyle(r.AfterVerdict, false), r.AfterVerdict.String())
		} else {
			t.p.blank(c.position, style)
		}
	case "side":
		t.p.text(c.position, style, sideWords(r))
	case formulasState:
		if f, ok := fs[formulasState]; ok && f.s != "" {
			t.p.formulaText(c.position, style, f.s, f.text)
		} else {
			t.p.text(c.position, style, fs[formulasState].text)
		}
	default:
		buf = results.AppendText(buf, t.w.ev, i, c.index)
		t.p.text(c.position, style, string(buf))
	}
	return buf
}

// value writes a cell that holds a number, as a formula where one works it out.
func (t *resultSheet) value(r *evaluate.RowResult, k int, fs map[string]expr) {
	c := &t.cols[k]
	var value float64
	switch c.key {
	case "wanted_dv":
		value = r.Wanted.DV
	case "wanted_dh":
		value = r.Wanted.DH
	case "wanted_tv":
		value = r.Wanted.TV
	case "wanted_th":
		value = r.Wanted.TH
	case "limit_offset":
		value = r.Limits.Offset
	case "limit_slope":
		value = r.Limits.Slope
	default:
		var u float64
		if value, u, _ = results.NumberOf(r, c.key); c.pm {
			value = u
		}
	}
	value = c.unit.FromBase(value)
	f := fs[c.key]
	if f.s == "" || c.pm {
		t.p.number(c.position, t.number[k], value)
		return
	}
	if c.working {
		value = f.v
	}
	if t.w.opts.spoil {
		value = -12345
	}
	t.p.formula(c.position, t.number[k], f.s, value)
}

// sideWords names where the moves go, in the site's own words.
func sideWords(r *evaluate.RowResult) string {
	word := func(i int) string {
		if i < 0 || i >= len(r.Calc.Feet) {
			return ""
		}
		return side(r, r.Calc.Feet[i].Move)
	}
	a, b := word(r.Front), word(r.Rear)
	switch {
	case a == b || b == "":
		return a
	case a == "":
		return b
	}
	return words.BookSidesDiffer.Say(a, b)
}

func side(r *evaluate.RowResult, v float64) string {
	switch {
	case v > 0 && r.Side3 != "":
		return r.Side3
	case v < 0 && r.Side9 != "":
		return r.Side9
	case v > 0:
		return words.BookSide3.String()
	case v < 0:
		return words.BookSide9.String()
	}
	return ""
}

// thickness words a shim as it is marked, as everything else does.
func (w *writer) thickness(mm float64) string { return string(w.ev.AppendPack(nil, mm)) }

// heading writes the title and a line below it, and the head of a plain list.
func (w *writer) heading(p *page, title, line string, heads []string, widths []int) int {
	p.start(1, 20)
	p.text(0, w.style(style{bold: true, size: 14}), title)
	p.end()
	p.start(2, 0)
	p.text(0, w.style(style{italic: true, font: quietText}), line)
	p.end()
	p.start(4, 34)
	h := w.style(style{head: true, bold: true, wrap: true, pattern: patternSolid, fill: pale})
	for c, s := range heads {
		p.text(c, h, s)
		p.wide(c, widths[c], 60)
	}
	p.end()
	p.grow = MaxColumns
	return 4
}

func (w *writer) limitsUsed(name string) {
	p := w.out(name)
	type key struct {
		set, coupling string
		upTo          float64
		offset, slope float64
		own           string
		source        string
	}
	count := map[key]int{}
	var order []key
	for i := range w.ev.Len() {
		r := w.ev.Row(i)
		if r.Kind != evaluate.MachineRow || math.IsNaN(r.Limits.Offset) && math.IsNaN(r.Limits.Slope) {
			continue
		}
		k := key{set: r.Limits.Set, coupling: r.Coupling.String(), upTo: r.Limits.UpTo, offset: r.Limits.Offset, slope: r.Limits.Slope}
		for _, f := range []*float64{&k.upTo, &k.offset, &k.slope} { // NaN is no key
			if math.IsNaN(*f) {
				*f = -1
			}
		}
		switch {
		case r.Limits.OwnOffset && r.Limits.OwnSlope:
			k.own = words.BookOwnBoth.String()
		case r.Limits.OwnOffset:
			k.own = words.BookOwnOffset.String()
		case r.Limits.OwnSlope:
			k.own = words.BookOwnSlope.String()
		}
		if k.set != "" {
			k.source = r.Limits.Source.String()
		}
		if count[k] == 0 {
			order = append(order, k)
		}
		count[k]++
	}
	sort.SliceStable(order, func(i, j int) bool {
		a, b := &order[i], &order[j]
		if a.coupling != b.coupling {
			return a.coupling < b.coupling
		}
		if a.set != b.set {
			return a.set < b.set
		}
		return a.upTo < b.upTo
	})
	n := w.heading(p, words.BookLimitsTitle.Say(w.title()), words.BookLimitsLine.String(),
		[]string{words.BookColCoupling.String(), words.BookColLimitSet.String(), words.BookColUpTo.String(), words.BookColOffset.String(), words.BookColSlope.String(),
			words.ListColCouplings.String(), words.BookColOwnLimits.String(), words.BookColSource.String()}, []int{12, 16, 10, 10, 10, 10, 20, 60})
	text := w.style(style{frame: true, wrap: true, indent: true})
	whole := w.style(style{frame: true, right: true, format: "0"})
	three := w.style(style{frame: true, right: true, format: "0.000"})
	known := func(x float64) float64 {
		if x < 0 {
			return math.NaN()
		}
		return x
	}
	for _, k := range order {
		n++
		p.start(n, 0)
		p.text(0, text, k.coupling)
		p.text(1, text, k.set)
		if math.IsInf(k.upTo, 1) {
			p.text(2, text, words.BookAnySpeed.String())
		} else {
			p.number(2, whole, known(k.upTo))
		}
		p.number(3, three, known(k.offset))
		p.number(4, three, known(k.slope))
		p.number(5, whole, float64(count[k]))
		p.text(6, text, k.own)
		p.text(7, text, k.source)
		p.end()
	}
	p.finish(layout{freezeRows: 4, repeat: [2]int{4, 4}, title: w.title()})
}

func (w *writer) method(name string) {
	p := w.out(name)
	head, text := w.style(style{bold: true, size: 12}), w.style(style{wrap: true})
	src := w.style(style{wrap: true, italic: true, font: quietText})
	p.wide(0, 96, 100)
	p.wide(1, 58, 60)
	p.grow = MaxColumns
	n := 0
	line := func(st int, a string, st2 int, b string) {
		n++
		height := 0.0
		if n == 1 {
			height = 20
		}
		p.start(n, height)
		p.text(0, st, a)
		p.text(1, st2, b)
		p.end()
	}
	line(w.style(style{bold: true, size: 14}), words.BookMethodTitle.String(), 0, "")
	line(head, words.BookCautions.String(), 0, "")
	for _, c := range tables.Cautions() {
		line(text, c.Text, src, c.Source.String())
	}
	n++
	line(head, words.BookWordsMean.String(), 0, "")
	for _, s := range methodLines {
		line(text, s.String(), 0, "")
	}
	n++
	line(head, words.BookTrust.String(), 0, "")
	for _, x := range []struct {
		what string
		t    tables.Trust
	}{{words.BookDialMetric.String(), tables.DialMetric}, {words.BookDialInch.String(), tables.DialInch}, {words.BookFeelerMetric.String(), tables.FeelerMetric},
		{words.BookFeelerInch.String(), tables.FeelerInch}, {words.BookGivenLine.String(), tables.GivenLine}} {
		line(text, words.BookTrustOf.Say(x.what, short(x.t.Graduation), short(x.t.Repeatability)), src, x.t.Source.String())
	}
	n++
	line(head, words.BookLimitSets.String(), 0, "")
	for _, s := range tables.LimitSets() {
		for c := range tables.Coupling(tables.CouplingKinds) {
			for _, r := range s.Rows[c] {
				upTo := words.BookWhateverSpeed.String()
				if !math.IsInf(r.UpTo, 1) {
					upTo = words.BookUpTo.Say(strconv.FormatFloat(r.UpTo, 'f', -1, 64))
				}
				what := []string{}
				if !math.IsNaN(r.Offset) {
					what = append(what, words.BookOffsetOf.Say(short(r.Offset)))
				}
				if !math.IsNaN(r.Slope) {
					what = append(what, words.BookSlopeOf.Say(short(r.Slope)))
				}
				line(text, fmt.Sprintf("%s, %s, %s: %s", s.Name, c, upTo, strings.Join(what, ", ")), src, r.Source.String())
			}
		}
	}
	var problems []job.Problem
	problems = append(problems, w.ev.Problems()...)
	for i := range w.ev.Len() {
		problems = append(problems, w.ev.Row(i).Problems...)
	}
	said := 0
	for i := range problems {
		pr := problems[i]
		if pr.Severity == job.Note {
			continue
		}
		if said == 0 {
			n++
			line(head, words.BookProblems.String(), 0, "")
		}
		if said++; said > 2000 {
			continue
		}
		pr.File = ""
		hint := pr.Hint
		pr.Hint = words.Phrase{}
		line(text, pr.Severity.String()+": "+clip(pr.String(), 2000), src, clip(hint.String(), 2000))
	}
	if said > 2000 {
		line(text, words.BookAndMore.Say(said-2000), 0, "")
	}
	p.finish(layout{title: w.title()})
}

// short is a number in base units with four digits behind the point at the most.
func short(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(strconv.FormatFloat(x, 'f', 4, 64), "0"), ".")
}

// methodLines say how the numbers came about, for somebody who has only the workbook.
var methodLines = []words.Key{
	words.BookAxis,
	words.BookFit,
	words.BookSag,
	words.BookChecks,
	words.BookWanted,
	words.BookMoves,
	words.BookJudged,
	words.BookPacks,
}

package workbook

import (
	"bytes"
	"errors"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Inspect says what a file holds and how [Read] would take it, without the choices of a person. name is the file's name, which is shown
// and whose ending tells delimited text from workbooks. The error is a sentence for the person: what the file is and what to do.
func Inspect(data []byte, name string) (p *Preview, err error) {
	return new(Reader).Inspect(data, name)
}

// Inspect is [Inspect] with what the reader has.
func (by *Reader) Inspect(data []byte, name string) (p *Preview, err error) {
	defer guard(&err)
	l, err := by.open(data, name, nil)
	if err != nil {
		return nil, err
	}
	return &l.preview, nil
}

// Read makes a job of a file. Choices may be nil. Every text is kept as it stands in the file, numbers as the shortest text that is the same
// number, in the job's decimal sign; with as many decimals as the cell shows where that is the same number. Sheets that are not
// understood are named in the report and not read. On error there is no job; a file that could be understood but gives no job, since no sheet of
// it is read as a list of machines, still has a report.
func Read(data []byte, name string, c *Choices) (j *job.Job, r *Report, err error) {
	return new(Reader).Read(data, name, c)
}

// Read is [Read] with what the reader has.
func (by *Reader) Read(data []byte, name string, c *Choices) (j *job.Job, r *Report, err error) {
	defer guard(&err)
	l, err := by.open(data, name, c)
	if err != nil {
		return nil, nil, err
	}
	r = &Report{Preview: l.preview, Learnt: l.learnt}
	for i := range l.preview.Notices {
		r.Problems = append(r.Problems, l.preview.Notices[i].Problem(name))
	}
	if l.job.Machines == nil {
		var names []string
		for _, s := range l.preview.Sheets {
			names = append(names, strconv.Quote(s.Name))
		}
		if len(names) > 12 {
			names = append(names[:12], "…")
		}
		return nil, r, errors.New(words.FileNoList.Say(strings.Join(names, ", ")))
	}
	return l.job, r, nil
}

// loaded is a file that was opened.
type loaded struct {
	preview Preview
	job     *job.Job
	sheets  []loadedSheet
	mark    units.Decimal
	names   map[string]string
	delim   bool
	offered []evaluate.OwnHeader // what was matched in other jobs
	learnt  []Learnt
	inch    bool
	formats []cellFormat
}

type loadedSheet struct {
	ref   sheetRef
	g     *grid
	kind  int // job.SheetKind, −1 unread
	own   bool
	t     *job.Table
	found bool // the header
	score int
	units []spot // cells with a unit of their format

	titled []int // columns whose unit the list's title says

	comments []comment
}

func (l *loaded) note(sev, sheetName string, row int, column string, col int, text, hint string) {
	l.preview.Notices = append(l.preview.Notices, Notice{Severity: sev, Sheet: sheetName, Row: row, Column: column, Text: text, Hint: hint, Col: col})
}

// Names that our own workbooks carry: a range per table, and one per sheet that is worked out anew.
const (
	nameRows   = "Shimsheet_rows_"
	nameHeader = "Shimsheet_header_"
	nameOut    = "Shimsheet_out_"
	ownMark    = "shimsheet"
)

func (by *Reader) open(data []byte, name string, c *Choices) (*loaded, error) {
	name = strings.ToValidUTF8(name, "\ufffd") // it becomes a text of the job, which must be one
	l := &loaded{preview: Preview{File: name, Notices: []Notice{}, Sheets: []SheetPreview{}}, job: job.NewJob()}
	l.job.Machines = nil
	ext := strings.ToLower(filepath.Ext(name))
	text := ext == ".csv" || ext == ".tsv" || ext == ".txt"
	if text && !bytes.HasPrefix(data, []byte("PK\x03\x04")) && !bytes.HasPrefix(data, []byte("\xd0\xcf\x11\xe0")) {
		if err := l.openText(data, name, ext); err != nil {
			return nil, err
		}
	} else if err := l.openWorkbook(by, data, ext); err != nil {
		return nil, err
	}
	if c != nil {
		for i := range c.Before {
			if o, ok := c.Before[i].own(); ok {
				l.offered = append(l.offered, o)
			}
		}
	}
	l.classify(c)
	l.tables(c)
	l.describe()
	if by.Progress != nil {
		by.Progress(1)
	}
	return l, nil
}

func (l *loaded) openText(data []byte, name, ext string) error {
	if len(data) > MaxFile {
		return tooLarge(len(data))
	}
	l.delim = true
	l.preview.Format = "csv"
	sep := rune(0)
	if ext == ".tsv" {
		l.preview.Format, sep = "tsv", '\t'
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		l.preview.Encoding = words.FileUtf8Mark.String()
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		l.preview.Encoding = words.FileUtf16Little.String()
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		l.preview.Encoding = words.FileUtf16Big.String()
	default:
		l.preview.Encoding = "UTF-8"
		switch job.UTF16NoMark(data) {
		case 'L':
			l.preview.Encoding = words.FileUtf16LittleBare.String()
			data = append([]byte("\xff\xfe"), data...)
		case 'B':
			l.preview.Encoding = words.FileUtf16BigBare.String()
			data = append([]byte("\xfe\xff"), data...)
		}
	}
	base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
	t, problems, err := job.ReadDelimited(base, data, sep)
	if err != nil {
		return err
	}
	for _, p := range problems {
		if p.Text.String() == words.ProblemWindows1252.String() {
			l.preview.Encoding = "Windows-1252"
		}
		l.note(p.Severity.String(), base, p.Row, p.Column, p.Col, p.Text.String(), p.Hint.String())
	}
	g := &grid{rows: t.Rows}
	for i, row := range t.Rows {
		if len(row) > MaxColumns {
			return errors.New(words.FileRowCells.Say(t.SourceRow(i), len(row), MaxColumns))
		}
		for c, cell := range row {
			if len(cell) > MaxCell {
				return errors.New(words.FileCellBytes.Say(t.SourceRow(i), c+1, len(cell), MaxCell))
			}
			if cell != "" && hasControl([]byte(cell)) {
				g.control = append(g.control, spot{i, c})
			}
		}
		if !blankRow(row) {
			g.filled++
		}
	}
	if t.FirstRow == 2 { // behind a line "sep=;"
		g.rows = append([][]string{nil}, g.rows...)
	}
	l.sheets = []loadedSheet{{ref: sheetRef{name: base, part: "-"}, g: g, kind: -1}}
	return nil
}

func (l *loaded) openWorkbook(by *Reader, data []byte, ext string) error {
	a, err := by.openArchive(data)
	if err != nil {
		return err
	}
	w, err := a.workbook()
	if err != nil {
		return err
	}
	l.preview.Format = "xlsx"
	if ext == ".xlsm" || w.macros {
		l.preview.Format = "xlsm"
		l.note("note", "", 0, "", -1, words.NoticeMacros.String(), "")
	}
	l.names = w.names
	if id, ok := strings.CutPrefix(a.identifier(), ownMark+" "); ok {
		l.ownIdentity(id)
	}
	sr := &sheetReader{d1904: w.d1904, by: by}
	if sr.shared, err = a.sharedStrings(w); err != nil {
		return err
	}
	if sr.formats, err = a.formats(w); err != nil {
		return err
	}
	l.formats = sr.formats
	for _, ref := range w.sheets {
		l.sheets = append(l.sheets, loadedSheet{ref: ref, kind: -1})
	}
	for i := range l.sheets {
		s := &l.sheets[i]
		for n, to := range w.names {
			if strings.HasPrefix(n, nameOut) && refersTo(to, s.ref.name) {
				s.own = true
			}
		}
	}
	only := map[string]bool{}
	for i := range l.sheets {
		if s := &l.sheets[i]; s.own {
			only[partName(s.ref.part)] = true
		}
	}
	for i := range l.sheets { // damaged files could name one part twice
		if s := &l.sheets[i]; !s.own {
			delete(only, partName(s.ref.part))
		}
	}
	if err := a.check(only); err != nil {
		return err
	}
	read := func(s *loadedSheet) error {
		if s.own { // what it held is worked out anew
			if f := a.files[partName(s.ref.part)]; f != nil {
				by.worked(scanCost * float64(f.UncompressedSize64))
			}
			return nil
		}
		data, err := a.part(s.ref.part)
		if err != nil {
			return err
		}
		if s.g, err = sr.read(s.ref.part, s.ref.name, data); err == nil {
			by.worked(scanCost * float64(len(data)-sr.told))
		}
		return err
	}
	// The Job sheet first: its decimal sign rules how numbers are written.
	jobAt := -1
	for i := range l.sheets {
		if s := &l.sheets[i]; s.ref.part != "" && !s.own && strings.EqualFold(strings.TrimSpace(s.ref.name), job.SettingsSheet.String()) {
			if err := read(s); err != nil {
				return err
			}
			if sr.mark = decimalOf(s.g.rows); sr.mark == units.Comma {
				if err := read(s); err != nil {
					return err
				}
			}
			jobAt = i
			break
		}
	}
	l.mark = sr.mark
	for i := range l.sheets {
		if s := &l.sheets[i]; s.ref.part != "" && i != jobAt {
			if err := read(s); err != nil {
				return err
			}
			s.comments = a.comments(s.ref.part)
			a.kept = drop(a.kept, s.ref.part)
		}
	}
	if l.mark == units.Either && jobAt < 0 { // a Job sheet under another name
		for i := range l.sheets {
			s := &l.sheets[i]
			if s.g == nil || s.own || !looksLikeJob(s.g.rows) {
				continue
			}
			if l.mark = decimalOf(s.g.rows); l.mark == units.Comma {
				sr.mark = l.mark
				for k := range l.sheets {
					if s := &l.sheets[k]; s.ref.part != "" && !s.own {
						if err := read(s); err != nil {
							return err
						}
					}
				}
			}
			break
		}
	}
	return nil
}

func drop(m map[string][]byte, part string) map[string][]byte {
	delete(m, partName(part))
	return m
}

// ownIdentity takes the job's identity from our own export: id, revision and time of saving.
func (l *loaded) ownIdentity(id string) {
	w := strings.Split(id, " ")
	if len(w) < 2 || w[0] == "" {
		return
	}
	rev, err := strconv.Atoi(w[1])
	if err != nil {
		return
	}
	l.preview.Own = true
	l.job.ID, l.job.Revision = w[0], rev
	if len(w) > 2 {
		l.job.SavedAt = strings.Join(w[2:], " ")
	}
}

// decimalOf is the decimal sign a Job sheet asks for.
func decimalOf(rows [][]string) units.Decimal {
	j := &job.Job{Machines: &job.Table{}, Settings: &job.Table{Rows: rows}}
	return sentences.New(j).Decimal()
}

// refersTo says whether a defined name's text points to a sheet.
func refersTo(text, name string) bool {
	s, _, ok := splitRange(text)
	return ok && s == name
}

// splitRange parts 'Sheet name'!$A$1:$B$2.
func splitRange(text string) (name, ref string, ok bool) {
	text = strings.TrimPrefix(strings.TrimSpace(text), "=")
	i := strings.LastIndexByte(text, '!')
	if i < 0 {
		return "", "", false
	}
	name, ref = text[:i], strings.ReplaceAll(text[i+1:], "$", "")
	if n := len(name); n >= 2 && name[0] == '\'' && name[n-1] == '\'' {
		name = strings.ReplaceAll(name[1:n-1], "''", "'")
	}
	return name, ref, true
}

// rowsOf is the rows (1-based) of a defined name of ours on a sheet, and its columns.
func (l *loaded) rowsOf(name, sheetName string) (from, to int, ok bool) {
	s, ref, ok := splitRange(l.names[name])
	if !ok || s != sheetName || !soundRange(ref) {
		return 0, 0, false
	}
	a, b, two := strings.Cut(ref, ":")
	if !two {
		b = a
	}
	_, from, _ = parseRef([]byte(a))
	_, to, _ = parseRef([]byte(b))
	return from, to, true
}

// classify settles what each sheet is.
func (l *loaded) classify(c *Choices) {
	chosen := map[string]*SheetChoice{}
	if c != nil {
		for i := range c.Sheets {
			chosen[c.Sheets[i].Sheet] = &c.Sheets[i]
		}
	}
	why := make([]string, len(l.sheets))
	forced := make([]bool, len(l.sheets))
	for i := range l.sheets {
		s := &l.sheets[i]
		if s.g == nil {
			why[i] = words.KindNoCells.String()
			if s.own {
				why[i] = words.KindOwnResults.String()
			}
			continue
		}
		if ch := chosen[s.ref.name]; ch != nil && ch.Kind != nil {
			forced[i] = true
			if k, ok := kindOf(*ch.Kind); ok {
				s.kind, s.score, why[i] = int(k), 1<<30, words.KindChosen.String()
			} else {
				why[i] = words.KindKeptUnread.String()
			}
			continue
		}
		if l.delim { // one text is the list itself, whatever the file is called
			if k, score := looksLike(s.g.rows); score > 0 {
				s.kind, s.score, why[i] = int(k), score, words.KindByHeaders.String()
			} else {
				s.kind, s.score, why[i] = int(job.MachinesSheet), 1, words.KindOnlyList.String()
			}
			continue
		}
		if k, ok := sheetKindByName(s.ref.name); ok && l.meant(k, s) {
			s.kind, s.score, why[i] = int(k), 1<<20+s.g.filled, words.KindByName.String()
			continue
		}
		if k, score := looksLike(s.g.rows); score > 0 {
			s.kind, s.score, why[i] = int(k), score, words.KindByHeaders.String()
			continue
		}
		switch {
		case s.g.filled == 0:
			why[i] = words.KindEmpty.String()
		default:
			why[i] = words.KindNoHeader.String()
		}
	}
	l.byGuess(why, c)
	for k := range kindNames {
		l.takeOne(k, why, forced)
	}
	var unknown []string
	for i := range l.sheets {
		if s := &l.sheets[i]; why[i] == words.KindNoHeader.String() {
			unknown = append(unknown, strconv.Quote(clip(s.ref.name, 40)))
		}
	}
	if n := len(unknown); n > 0 && slices.ContainsFunc(l.sheets, func(s loadedSheet) bool { return s.kind >= 0 }) {
		if n > 12 {
			unknown = append(unknown[:12], words.NoticeAndMore.Say(n-12))
		}
		l.note("warning", "", 0, "", -1, words.NoticeSheetsUnread.Say(strings.Join(unknown, ", ")), words.HintSheetsUnread.String())
	}
	for i := range l.sheets {
		s := &l.sheets[i]
		p := SheetPreview{Name: s.ref.name, Hidden: s.ref.hidden, Results: s.g == nil && s.own, Why: why[i], HiddenRows: []int{}, Columns: []ColumnPreview{}}
		if s.kind >= 0 {
			p.Kind = kindNames[s.kind]
		}
		if s.g != nil {
			p.Dimension, p.Merged, p.LastRow = s.g.dim, s.g.merged, lastFilled(s.g.rows)
			p.HiddenRows = append(p.HiddenRows, s.g.hidden...)
			p.Rows = s.g.filled
		}
		l.preview.Sheets = append(l.preview.Sheets, p)
	}
}

// takeOne leaves one sheet of a kind, and says which others are left: the one chosen, else the strongest of those that can be seen, else of the hidden ones.
func (l *loaded) takeOne(k int, why []string, forced []bool) {
	best := -1
	weaker := func(a, b int) bool {
		x, y := &l.sheets[a], &l.sheets[b]
		if forced[a] == forced[b] && x.ref.hidden != y.ref.hidden {
			return x.ref.hidden
		}
		return x.score < y.score
	}
	for i := range l.sheets {
		if l.sheets[i].kind == k && (best < 0 || weaker(best, i)) {
			best = i
		}
	}
	for i := range l.sheets {
		s := &l.sheets[i]
		if s.kind != k || i == best {
			continue
		}
		s.kind = -1
		why[i] = words.KindOther.Say(kindNames[k], strconv.Quote(l.sheets[best].ref.name))
		if s.g.filled == 0 {
			continue
		}
		sev := "error" // what somebody may have meant is not worked out
		if forced[best] {
			sev = "warning"
		}
		text := words.NoticeNotOfItRead.Say(why[i])
		if s.ref.hidden {
			text = words.NoticeHiddenToo.Say(text)
		}
		l.note(sev, s.ref.name, 0, "", -1, text, words.HintWhichSheet.String())
	}
}

func sheetKindByName(name string) (job.SheetKind, bool) {
	for k := range kindNames {
		if kind := job.SheetKind(k); strings.EqualFold(strings.TrimSpace(name), kind.String()) {
			return kind, true
		}
	}
	return 0, false
}

func lastFilled(rows [][]string) int {
	for i := len(rows); i > 0; i-- {
		if !blankRow(rows[i-1]) {
			return i
		}
	}
	return 0
}

func blankRow(row []string) bool {
	for _, c := range row {
		if strings.TrimSpace(c) != "" {
			return false
		}
	}
	return true
}

// looksLike says which sheet the rows look like by their header, and how strongly; 0 not at all. Of two that are as likely it is the one of which more names stand there as we print them: Foot and
// Rise are other spellings of Support and Growth V, too.
func looksLike(rows [][]string) (job.SheetKind, int) {
	best, score, most := job.MachinesSheet, 0, 0
	for _, k := range lookOrder {
		names := job.HeaderNames(rows, k)
		if names == nil {
			continue
		}
		seen, printed := map[string]bool{}, 0
		for _, cell := range names {
			if c := job.FindColumn(k, cell); c != nil && !c.Result {
				if seen[c.Key] = true; strings.EqualFold(strings.TrimSpace(cell), c.Name) {
					printed++
				}
			}
		}
		n := len(seen)
		switch k {
		case job.ReadingsSheet:
			if !seen["sweep"] || !seen["reading"] || !seen["angle"] {
				continue
			}
			n += 2 // all it has, against a few of many
		case job.StockSheet:
			if !seen["thickness"] {
				continue
			}
		case job.MachinesSheet:
			if n < 2 {
				continue
			}
		default:
			extra, ok := marksOf(k, seen)
			if !ok {
				continue
			}
			n += extra
		}
		if n > score || n == score && printed > most {
			best, score, most = k, n, printed
		}
	}
	if looksLikeJob(rows) && score < 4 {
		return job.SettingsSheet, 4
	}
	return best, score
}

// looksLikeJob says whether rows begin with names of settings, values behind.
func looksLikeJob(rows [][]string) bool {
	if len(rows) > 200 {
		rows = rows[:200]
	}
	n := 0
	for _, row := range rows {
		if len(row) >= 2 && strings.TrimSpace(row[1]) != "" && len(row) <= 4 && job.FindColumn(job.SettingsSheet, row[0]) != nil {
			n++
		}
	}
	return n >= 3 || n >= 1 && job.FindHeader(rows, job.SettingsSheet) >= 0
}

// tables makes the job's tables of the sheets that are read.
func (l *loaded) tables(c *Choices) {
	for i := range l.sheets {
		s := &l.sheets[i]
		if s.kind < 0 {
			continue
		}
		kind := job.SheetKind(s.kind)
		var ch *SheetChoice
		if c != nil {
			for k := range c.Sheets {
				if c.Sheets[k].Sheet == s.ref.name {
					ch = &c.Sheets[k]
				}
			}
		}
		t := &job.Table{Name: s.ref.name, File: l.preview.File, FirstRow: 1, Rows: s.g.rows}
		if l.preview.Own && s.ref.name == kind.String() {
			t.Name = kind.String()
		}
		from, to, ownRows := l.rowsOf(nameRows+kind.String(), s.ref.name)
		head, _, ownHead := l.rowsOf(nameHeader+kind.String(), s.ref.name)
		last := lastPresent(s.g.rows)
		switch {
		case ch != nil && ch.HeaderRow > 0:
			t.SplitHeaderAt(kind, ch.HeaderRow-1)
			s.found = true
		case ownHead:
			t.Rows = fit(t.Rows, max(last, to, head))
			part(t, head-1)
			s.found = true
		case ownRows:
			title := from - 1
			for len(t.Rows) < title {
				t.Rows = append(t.Rows, nil)
			}
			if title > 0 {
				t.Title = t.Rows[:title:title]
			}
			t.Rows, t.FirstRow = fit(t.Rows[title:], max(last, to)-title), from
		default:
			t.Rows = fit(t.Rows, last)
			s.found = t.SplitHeader(kind) || l.splitOwn(t, kind)
		}
		if len(t.Title) == 0 {
			t.Title = nil
		}
		s.t = t
		l.readOwn(s, kind)
		s.titled = t.Stated()
		if ch != nil {
			l.correct(s, kind, ch)
		}
		l.takeShownUnits(s, kind)
		l.job.SetTable(kind, t)
	}
	if l.delim && l.job.Machines == nil && l.sheets[0].kind >= 0 {
		// A text that is only Readings, Stock or Job: somebody reads it for that sheet.
		l.job.Machines = &job.Table{Name: job.MachinesSheet.String(), FirstRow: 1}
	}
	if l.job.Settings != nil {
		l.mark = decimalOf(l.job.Settings.Rows)
	}
}

// takeShownUnits makes the unit that a cell's number format shows, as 0.00" mil" does, the cell's own: what people read in their spreadsheet is what is
// read here. A word that is no unit of the column stays beside its number, so that the cell cannot be read; and where the header says another
// unit than the cells show the cell names both, for the person to choose.
func (l *loaded) takeShownUnits(s *loadedSheet, kind job.SheetKind) {
	type group struct {
		col    int
		format int32
	}
	count, first := map[group]int{}, map[group]int{}
	var order []group
	for _, at := range s.g.shown {
		row := int(at.row) + 1 - s.t.SourceRow(0)
		col := s.t.Placed(row, int(at.col))
		if row < 0 || row >= len(s.t.Rows) || col >= len(s.t.Rows[row]) {
			continue
		}
		if text := l.shownUnit(s, kind, row, col, at.format); text != s.t.Rows[row][col] {
			s.t.Rows[row][col] = text
			s.units = append(s.units, spot{int(at.row), col})
			g := group{col, at.format}
			if count[g]++; count[g] == 1 {
				order, first[g] = append(order, g), row
			}
		}
	}
	for _, g := range order {
		text := s.t.Rows[first[g]][g.col]
		n := Notice{Severity: "note", Sheet: s.ref.name, Row: s.t.SourceRow(first[g]), Column: columnName(g.col), Col: g.col,
			Text: words.NoticeFormatShows.Say(strconv.Quote(l.formats[g.format].shown), text)}
		info := columnAt(s.t, kind, g.col)
		if kind == job.SettingsSheet {
			info = job.FindColumn(kind, s.t.Cell(first[g], 0))
		}
		if info != nil {
			n.Column = info.Name
			switch _, known := units.ParseUnit(l.formats[g.format].shown, info.Quantity.Kind()); {
			case strings.HasSuffix(text, "?"):
				n.Severity, n.Text = "error", words.NoticeFormatOther.Say(strconv.Quote(l.formats[g.format].shown))
				n.Hint = words.HintFormatOther.String()
			case !known && info != checkColumns[0] && info != checkColumns[1]:
				n.Severity, n.Text = "error", words.NoticeFormatNoUnit.Say(strconv.Quote(l.formats[g.format].shown))
				n.Hint = words.HintFormatNoUnit.String()
			}
		}
		if n.Count = count[g]; n.Count > 1 {
			n.Text += words.NoticeFirstOf.Say(n.Count)
		} else {
			n.Count = 0
		}
		l.preview.Notices = append(l.preview.Notices, n)
	}
}

// shownUnit is the text of a cell whose number format shows a word.
func (l *loaded) shownUnit(s *loadedSheet, kind job.SheetKind, row, col int, format int32) string {
	text, shown := s.t.Rows[row][col], l.formats[format].shown
	info, header := columnAt(s.t, kind, col), ""
	if kind == job.SettingsSheet && col == 1 {
		info = job.FindColumn(kind, s.t.Cell(row, 0))
	} else if col < len(s.t.Header) {
		header = s.t.Header[col]
	}
	if info == nil || info.Result || strings.TrimSpace(text) == "" {
		return text
	}
	k := info.Quantity.Kind()
	if info == checkColumns[0] || info == checkColumns[1] {
		return l.checkShown(text, header, shown)
	}
	if k == units.Number && info.Quantity != job.QShare { // pieces, machines: what they are called is no matter
		return text
	}
	u, known := units.ParseUnit(shown, k)
	if !known {
		return text + " " + shown
	}
	if of, _, has := headerUnit(kind, header, k); has {
		if of != u {
			return text + " " + u.String() + " or " + of.String() + "?"
		}
		return text
	}
	return text + " " + u.String()
}

// checkColumns are the columns of checks that hold a length, a torque, a plain number or a word.
var checkColumns = [2]*job.ColumnInfo{job.ChecksValue.Info(), job.ChecksLimit.Info()}

// checkShown is the number of a check with the unit that its number format shows, where that is one of a length or a torque.
func (l *loaded) checkShown(text, header, shown string) string {
	for _, k := range [...]units.Kind{units.Length, units.Torque} {
		u, known := units.ParseUnit(shown, k)
		if !known {
			continue
		}
		if of, word, has := headerUnit(job.ChecksSheet, header, k); !job.Blank(word) && (!has || of != u) {
			return text + " " + u.String() + " or " + word + "?"
		}
		return text + " " + u.String()
	}
	return text
}

// part splits a table of our own at row h: it was brought into its plain form when it first came in.
func part(t *job.Table, h int) {
	t.Title, t.Header, t.Rows, t.FirstRow = t.Rows[:h:h], t.Rows[h], t.Rows[h+1:], h+2
	if t.Header == nil {
		t.Header = []string{}
	}
}

// fit makes a table so many rows long.
func fit(rows [][]string, n int) [][]string {
	n = max(n, 0)
	for len(rows) < n {
		rows = append(rows, nil)
	}
	return rows[:n:n]
}

// lastPresent is the last row with a cell, be it an empty text.
func lastPresent(rows [][]string) int {
	for i := len(rows); i > 0; i-- {
		if len(rows[i-1]) > 0 {
			return i
		}
	}
	return 0
}

// correct honours the choices for the columns of a sheet.
func (l *loaded) correct(s *loadedSheet, kind job.SheetKind, ch *SheetChoice) {
	var choices []headers.Choice
	for _, cc := range ch.Columns {
		if cc.Col >= 0 && cc.Col < MaxColumns {
			choices = append(choices, headers.Choice{Col: cc.Col, Key: cc.Key, Unit: strings.TrimSpace(cc.Unit)})
		}
	}
	if len(choices) > 0 {
		anew, learnt := headers.Apply(kind, s.t.Header, choices)
		s.t.Rename(kind, anew)
		s.titled = slices.DeleteFunc(slices.Clone(s.titled), func(col int) bool { // those that somebody chose anew have what was chosen, or what the title says of them now
			return slices.ContainsFunc(choices, func(ch headers.Choice) bool { return ch.Col == col })
		})
		s.titled = append(s.titled, s.t.Stated()...)
		for _, o := range learnt {
			l.learnt = append(l.learnt, Learnt{o.Kind.String(), o.Header, o.Means})
		}
	}
	if ch.TextToNumbers {
		written := 0
		for _, at := range s.g.asText {
			r := at.row + 1 - s.t.SourceRow(0)
			if at.col = s.t.Placed(r, at.col); r < 0 || r >= len(s.t.Rows) || at.col >= len(s.t.Rows[r]) {
				continue
			}
			info := columnAt(s.t, kind, at.col)
			if info == nil || info.Quantity.Kind() == units.Number && info.Quantity != job.QNumber && info.Quantity != job.QCount && info.Quantity != job.QShare {
				continue
			}
			cell := &s.t.Rows[r][at.col]
			v := strings.TrimPrefix(strings.TrimSpace(*cell), "+")
			if strings.Contains(v, ",") && l.mark != units.Comma || strings.Contains(v, ".") && l.mark == units.Comma {
				continue // what the sign means is for the job's decimal sign to say
			}
			if x, ok := parseNumber(strings.Replace(v, ",", ".", 1)); ok {
				if n := numberText(x, -1, l.mark); n != *cell {
					*cell = n
					written++
				}
			}
		}
		if written > 0 {
			l.note("note", s.ref.name, 0, "", -1, words.NoticeNumbersWritten.Say(written), "")
		}
		s.g.asText = nil
	}
}

// columnAt is what the header of a column is understood as.
func columnAt(t *job.Table, kind job.SheetKind, col int) *job.ColumnInfo {
	if t == nil || col >= len(t.Header) || strings.TrimSpace(t.Header[col]) == "" {
		return nil
	}
	return job.FindColumn(kind, t.Header[col])
}

// headerUnit is the unit that a header bears, in brackets or behind its name, as package job reads it; known false: a word that is no unit of that kind, or none.
func headerUnit(sheet job.SheetKind, header string, kind units.Kind) (u units.Unit, word string, known bool) {
	_, word = job.HeaderParts(sheet, header)
	u, known = units.ParseHeaderUnit(word, kind)
	return u, word, known
}

// describe fills the preview's columns and its notices.
func (l *loaded) describe() {
	if l.job.Settings != nil {
		l.inch = sentences.New(&job.Job{Machines: &job.Table{}, Settings: l.job.Settings}).Inch()
	}
	for i := range l.sheets {
		s, p := &l.sheets[i], &l.preview.Sheets[i]
		if s.kind < 0 || s.t == nil {
			continue
		}
		kind := job.SheetKind(s.kind)
		p.Titles = len(s.t.Title)
		if s.t.Header != nil {
			p.HeaderRow = s.t.SourceRow(0) - 1
		}
		p.Rows = 0
		for _, row := range s.t.Rows {
			if !blankRow(row) {
				p.Rows++
			}
		}
		shape, straight := headers.ByRows, [][]string(nil)
		if kind == job.MachinesSheet {
			shape, straight = headers.ShapeOf(headers.WholeRows(s.t), append(l.ownHeaders(), l.offered...))
		}
		switch {
		case shape != headers.ByRows:
			l.note("error", s.ref.name, 0, "", -1, shape.Sentence(), headers.HintShape(straight))
		case s.t.Header == nil && kind != job.SettingsSheet:
			l.note("error", s.ref.name, 0, "", -1, words.NoticeNoHeader.String(), words.HintNamesOnTop.String())
		}
		l.columns(s, p, kind)
		l.guess(s, p, kind)
		var unread []string
		for _, c := range p.Columns {
			if c.Key == "" && c.Filled > 0 {
				name := strconv.Quote(clip(c.Header, 40))
				if c.Header == "" {
					name = c.Letter
				}
				unread = append(unread, name)
			}
		}
		if n := len(unread); n > 0 {
			if n > 12 {
				unread = append(unread[:12], words.NoticeAndMore.Say(n-12))
			}
			what := words.NoticeUnreadMany
			if n == 1 {
				what = words.NoticeUnreadOne
			}
			l.note("note", s.ref.name, 0, "", -1, what.Say(n, strings.Join(unread, ", ")), "")
		}
		l.cellNotices(s, p, kind)
		if n := len(p.HiddenRows); n > 0 {
			text := words.NoticeHiddenRows.Say(n, rowList(p.HiddenRows))
			l.note("warning", s.ref.name, p.HiddenRows[0], "", -1, text, words.HintHiddenRows.String())
		}
		if rows := rowsOfSpots(s.g.struck, s.t.SourceRow(0)); len(rows) > 0 {
			l.note("warning", s.ref.name, rows[0], "", -1, words.NoticeStruckRows.Say(len(rows), rowList(rows)), words.HintStruckRows.String())
		}
		l.comments(s)
		if p.Hidden {
			l.note("warning", s.ref.name, 0, "", -1, words.NoticeHiddenSheet.String(), "")
		}
		l.note("note", s.ref.name, 0, "", -1, words.NoticeRowsRead.Say(p.Rows, max(p.LastRow, s.t.SourceRow(0)-1)), "")
		if _, ref, two := strings.Cut(p.Dimension, ":"); two {
			if _, r, ok := parseRef([]byte(ref)); ok && r != lastPresentOrFilled(s) {
				sev, hint := "note", words.HintFormatsOnly.String()
				if r < p.LastRow {
					sev, hint = "warning", words.HintLostCount.String()
				} else if r > p.LastRow+50 {
					sev = "warning"
				}
				l.note(sev, s.ref.name, 0, "", -1, words.NoticeReaches.Say(r, p.LastRow), hint)
			}
		}
	}
}

// rowsOfSpots are the rows, 1-based and from a first one on, that cells stand in.
func rowsOfSpots(list []spot, first int) (rows []int) {
	for _, at := range list {
		if n := len(rows); at.row+1 >= first && (n == 0 || rows[n-1] != at.row+1) {
			rows = append(rows, at.row+1)
		}
	}
	return rows
}

// inMetres are the cells of a list whose columns are read in mm or another unit of the metre.
func (l *loaded) inMetres(s *loadedSheet, p *SheetPreview, list []spot) (out []spot) {
	for _, at := range list {
		for _, c := range p.Columns {
			if u, ok := units.ParseUnit(c.Unit, units.Length); c.Col == at.col && ok && u != units.Inch && u != units.Foot && u != units.Mil {
				out = append(out, at)
			}
		}
	}
	return out
}

// comments tells that the comments of a sheet are not read, where one of them says what numbers are in.
func (l *loaded) comments(s *loadedSheet) {
	for _, c := range s.comments {
		if job.SaysUnits([]string{c.text}) {
			l.note("warning", s.ref.name, c.row, "", -1, words.NoticeComment.Say(c.cell, strconv.Quote(clip(c.text, 60))), words.HintComment.String())
		}
	}
}

func lastPresentOrFilled(s *loadedSheet) int { return lastPresent(s.g.rows) }

// rowList words rows: 3, 4, 9 and 12 more.
func rowList(rows []int) string {
	var b strings.Builder
	for i, r := range rows {
		if i == 8 {
			b.WriteString(words.NoticeMoreRows.Say(len(rows) - i))
			break
		}
		if i > 0 {
			b.WriteString(", ")
		}
		b.WriteString(strconv.Itoa(r))
	}
	return b.String()
}

func (l *loaded) columns(s *loadedSheet, p *SheetPreview, kind job.SheetKind) {
	if kind == job.SettingsSheet {
		return
	}
	texts := map[int]int{}
	for _, at := range s.g.asText {
		if at.row+1 >= s.t.SourceRow(0) {
			texts[at.col]++
		}
	}
	for col := range s.t.Width() {
		c := ColumnPreview{Col: col, Letter: columnName(col), Sample: []string{}}
		if col < len(s.t.Header) {
			c.Header = s.t.Header[col]
		}
		for r := range s.t.Rows {
			if v := s.t.Cell(r, col); strings.TrimSpace(v) != "" {
				c.Filled++
				if len(c.Sample) < 3 {
					c.Sample = append(c.Sample, clip(v, 60))
				}
			}
		}
		if c.Header == "" && c.Filled == 0 {
			continue
		}
		if info := columnAt(s.t, kind, col); info != nil {
			c.Key, c.Name, c.Result = info.Key, info.Name, info.Result
			c.TextNumber = texts[col]
			if k := info.Quantity.Kind(); k != units.Number || info.Quantity == job.QShare {
				c.Unit, c.UnitFrom = info.Unit(l.inch).String(), "job"
				if u, word, known := headerUnit(kind, c.Header, k); k != units.Number && !job.Blank(word) {
					c.Unit, c.UnitFrom = word, "header" // a word that is no unit of the column is told at each of its rows
					if known {
						c.Unit = u.String()
					}
					if slices.Contains(s.titled, col) {
						c.UnitFrom = "title"
					}
				}
			}
		}
		p.Columns = append(p.Columns, c)
	}
}

func clip(s string, most int) string {
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}

// cellNotices words what is special about cells: single ones by place, many by their number.
func (l *loaded) cellNotices(s *loadedSheet, p *SheetPreview, kind job.SheetKind) {
	first := s.t.SourceRow(0)
	say := func(list []spot, sev string, wanted func(*job.ColumnInfo) bool, text func(cell string) string, hint string) {
		counts := map[int]int{}
		firsts := map[int]spot{}
		var order []int
		for _, at := range list {
			if kind != job.SettingsSheet && at.row+1 < first {
				continue // a title
			}
			if kind != job.SettingsSheet {
				if info := columnAt(s.t, kind, at.col); info == nil || info.Result || wanted != nil && !wanted(info) {
					continue
				}
			} else if wanted != nil && at.col != 1 {
				continue
			}
			if counts[at.col] == 0 {
				order = append(order, at.col)
				firsts[at.col] = at
			}
			counts[at.col]++
		}
		for _, col := range order {
			at := firsts[col]
			name := columnName(col)
			if info := columnAt(s.t, kind, col); info != nil {
				name = info.Name
			}
			cell := ""
			if at.row < len(s.g.rows) && col < len(s.g.rows[at.row]) {
				cell = s.g.rows[at.row][col]
			}
			n := Notice{Severity: sev, Sheet: s.ref.name, Row: at.row + 1, Column: name, Text: text(clip(cell, 40)), Hint: hint, Col: col}
			if counts[col] > 1 {
				n.Count = counts[col]
				n.Text += words.NoticeFirstOf.Say(counts[col])
			}
			l.preview.Notices = append(l.preview.Notices, n)
		}
	}
	quantity := func(c *job.ColumnInfo) bool {
		return c.Quantity != job.QText && c.Quantity != job.QChoice && c.Quantity != job.QSweep && c.Quantity != job.QDistances
	}
	if !l.delim && !l.preview.Own {
		say(s.g.asText, "warning", quantity, func(c string) string {
			return words.NoticeStoredAsText.Say(strconv.Quote(c))
		},
			words.HintStoredAsText.String())
	}
	isSum := func(at spot) bool { // as a number cell takes it: internal/units/formula.go
		_, err := units.Parse(s.g.rows[at.row][at.col], units.Number, units.None, l.mark)
		return err == nil
	}
	var sums, formulas []spot
	for _, at := range s.g.noValue {
		if isSum(at) {
			sums = append(sums, at)
		} else {
			formulas = append(formulas, at)
		}
	}
	say(sums, "note", quantity, func(c string) string {
		return words.NoticeSumNoValue.Say(strconv.Quote(c))
	}, "")
	say(formulas, "error", nil, func(c string) string {
		return words.NoticeFormulaNoValue.Say(strconv.Quote(c))
	}, words.HintFormulaNoValue.String())
	say(s.g.errors, "error", nil, func(c string) string { return words.NoticeCellError.Say(c) }, words.HintCellError.String())
	say(s.g.dates, "warning", quantity, func(c string) string { return words.NoticeCellDate.Say(c) },
		words.HintCellDate.String())
	say(s.g.percents, "note", quantity, func(c string) string { return words.NoticePerCent.Say(c) }, "")
	say(l.inMetres(s, p, s.g.fraction), "warning", func(c *job.ColumnInfo) bool { return c.Quantity.Kind() == units.Length }, func(c string) string { return words.NoticeFraction.Say(c) }, words.HintFraction.String())
	say(s.g.scaled, "warning", quantity, func(c string) string { return words.NoticeInThousands.Say(c) }, words.HintInThousands.String())
	say(s.g.control, "warning", nil, func(string) string { return words.NoticeControl.String() }, "")
}

package screens

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// OpenFileHost is what the dialog of a file from elsewhere asks of the desk.
type OpenFileHost interface {
	FileKeys(sheet string) []MatchKey     // what a column of a sheet of this key ("machines") can be read as
	JobAtHand() (name string, blank bool) // the job that the file would take the place of; blank: nothing is in it
}

// A FileChoices is how a person has a file read otherwise than it was found.
type FileChoices struct{ Sheets []*SheetChoice }

// A SheetChoice is that for one sheet of the file. Kind is the key of the sheet it is read as, "" none, where Chosen; HeaderRow as people count, 0 as found.
type SheetChoice struct {
	Sheet, Kind   string
	Chosen        bool
	HeaderRow     int
	TextToNumbers bool
	Columns       []ColumnChoice
}

// A ColumnChoice says what one column is: Col from 0, Key "" kept unread.
type ColumnChoice struct {
	Col       int
	Key, Unit string
}

// OpenFile is the dialog of a file from elsewhere: what it holds and how it would be read, before anything is replaced.
type OpenFile struct {
	host    OpenFileHost
	name    string
	unsaved bool // the job on the page has changes that no file has
	preview *filePreview
	choices FileChoices
	keys    map[string][]MatchKey // what a column can be read as, by kind of sheet
	headers map[string]string     // by sheet and column: as in the file, since a choice writes them anew
}

// NewOpenFile is the dialog before a file was chosen.
func NewOpenFile(host OpenFileHost) *OpenFile {
	s := &OpenFile{host: host}
	s.begin("")
	return s
}

// Show opens the dialog without a file.
func (s *OpenFile) Show() Update { return s.begin("") }

// JobChanged says nothing: the dialog is what is worked in.
func (s *OpenFile) JobChanged() Update { return Update{} }

// Event answers what comes of reading the file, and what is chosen in the dialog. "begin": a file (Key its name) is being read. "read": what it holds, as the program for workbook
// files says it; Arg says whether the job on the page is unsaved. "failed": Value is why it cannot be read. "closed": the dialog was left.
func (s *OpenFile) Event(e Event) Update {
	switch e.Name {
	case "begin":
		return s.begin(e.Key)
	case "read":
		return s.read(e)
	case "failed":
		s.preview = nil
		return Update{Regions: []Region{{"open-what", Text(words.Text("openFile.nothingIsChanged"))},
			{"open-body", El("p", Attrs(Class("refused"), Role("alert")), Text(words.Text("openFile.cannotBeRead", s.name, Sentence(e.Value))))}},
			Attributes: []Attribute{{ID: "open-take", Name: "disabled"}}, Focus: "open-cancel"}
	case "closed":
		u := Update{Regions: []Region{{"open-body", HTML{}}}}
		if s.name != "" {
			u.Say = words.Text("openFile.wasNotOpenedNothingIs", s.name)
		}
		s.name, s.preview = "", nil
		return u
	}
	if s.preview == nil {
		return Update{}
	}
	sheet, col := s.at(e.Arg)
	if sheet == nil {
		return Update{}
	}
	c := s.choice(sheet.Name)
	switch e.Name {
	case "kind":
		c.Kind, c.Chosen = e.Value, true
		s.anew(c)
	case "header":
		n, err := strconv.Atoi(e.Value)
		if err != nil || n < 1 || n > 100_000 {
			return Update{}
		}
		c.HeaderRow = n
		s.anew(c)
	case "numbers":
		c.TextToNumbers = e.Value == "true"
	case "guesses":
		for _, x := range sheet.inputs() {
			if x.Guess != "" {
				c.put(x.Col, x.Guess, x.GuessUnit)
			}
		}
	default:
		if col == nil || !s.column(e, sheet, col, c) {
			return s.list(e, sheet, col)
		}
	}
	return Update{Reread: &s.choices, Attributes: []Attribute{{ID: "open-take", Name: "disabled"}}}
}

// column takes what was chosen for one column; false: nothing was.
func (s *OpenFile) column(e Event, sheet *sheetPreview, col *columnPreview, c *SheetChoice) bool {
	switch e.Name {
	case "what":
		unit := ""
		if is := s.known(sheet.Kind, e.Value); is != nil && len(is.Units) > 0 {
			switch {
			case col.Key == "":
				unit = col.GuessUnit
			case col.UnitFrom == "header" && slices.Contains(is.Units, col.Unit):
				unit = col.Unit
			}
		}
		c.put(col.Col, e.Value, unit)
	case "unit":
		c.put(col.Col, col.Key, e.Value)
	case "guess":
		c.put(col.Col, col.Guess, col.GuessUnit)
	case "answer": // one answer settles a series
		_, key, _ := strings.Cut(e.Arg, " ")
		family, of := strings.CutSuffix(key, "_"+col.Place)
		for _, x := range sheet.inputs() {
			if x == col {
				c.put(x.Col, key, x.GuessUnit)
			} else if col.Place != "" && of && x.Series == col.Series && x.Asked != nil {
				c.put(x.Col, family+"_"+x.Place, x.GuessUnit)
			}
		}
	default:
		return false
	}
	return true
}

// begin is the dialog while a file is being read for the first time.
func (s *OpenFile) begin(name string) Update {
	*s = OpenFile{host: s.host, name: name, keys: map[string][]MatchKey{}, headers: map[string]string{}}
	return Update{Regions: []Region{{"open-title", Text(words.Text("openFile.open", name))}, {"open-body", HTML{}}, {"open-what", HTML{}}},
		Attributes: []Attribute{{ID: "open-take", Name: "disabled"}}, Dialog: "dlg-open"}
}

// read shows what the file holds.
func (s *OpenFile) read(e Event) Update {
	p, err := readPreview(e.Value)
	if err != nil {
		return s.Event(Event{Name: "failed", Value: err.Error()})
	}
	first := s.preview == nil
	s.preview, s.unsaved = p, e.Arg == "unsaved"
	for _, sh := range p.Sheets {
		for _, c := range sh.Columns {
			if key := sh.Name + "\n" + c.Letter; s.headers[key] == "" {
				s.headers[key] = c.Header
			}
		}
	}
	u := Update{Regions: []Region{{"open-body", s.body()}, {"open-what", Text(s.what())}}, Attributes: []Attribute{{ID: "open-take", Name: "disabled", Off: p.Refused == ""}}}
	if first {
		u.Focus = "open-take"
		switch {
		case p.Refused != "":
			u.Focus = "open-cancel"
		case slices.ContainsFunc(p.Sheets, func(sh *sheetPreview) bool { return len(sh.guesses()) > 1 }):
			u.Focus = "open-guesses"
		}
	}
	return u
}

// A Taking is the file as it is taken.
type Taking struct {
	Name    string
	Only    bool // a list of another sheet than Machines, which goes into the job at hand
	Rows    int  // of machines
	Notices []job.Problem
	Learnt  [][]string // what its headers were matched with: sheet, header, meaning
}

// Taking is what is taken now; ok is false where nothing was read.
func (s *OpenFile) Taking() (t Taking, ok bool) {
	p := s.preview
	if p == nil || p.Refused != "" || len(p.Rows) == 0 {
		return Taking{}, false
	}
	t = Taking{Name: s.name, Only: s.only(), Rows: p.Rows[0], Learnt: p.Learnt}
	for _, n := range p.Notices {
		x := job.Problem{Sheet: n.Sheet, Row: n.Row, Column: n.Column, Col: n.Col, Text: words.Plain(n.Text), Hint: words.Plain(n.Hint), Severity: job.Note}
		for v := job.Note; v <= job.Error; v++ {
			if v.String() == n.Severity {
				x.Severity = v
			}
		}
		t.Notices = append(t.Notices, x)
	}
	return t, true
}

// Taken is what is said after it: rows are those of the Machines sheet now; whole: a job took the place of another, which Ctrl+Z brings back. The dialog closes without a word more.
func (s *OpenFile) Taken(rows int, undo bool) string {
	graver, back := "", ""
	if n := len(s.graver()); n > 0 {
		graver = words.Text("openFile.pointedOutWhenItWas", words.Count("openFile.thingsWere", n))
	}
	if undo {
		back = words.Text("openFile.ctrlZBringsBackThe")
	}
	said := words.Text("openFile.isOpen", s.name, words.Count("openFile.rows", rows), graver, back)
	s.name = ""
	return said
}

// Sentence makes a sentence of what a program says went wrong: what follows its first line is for whoever mends it.
func Sentence(text string) string {
	text, _, _ = strings.Cut(text, "\n")
	if text = upper(strings.TrimSpace(text)); text != "" && !strings.ContainsAny(text[len(text)-1:], ".!?") {
		text += "."
	}
	return text
}

func upper(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	if n == 0 {
		return ""
	}
	return string(unicode.ToUpper(r)) + text[n:]
}

// only says whether the file is a list of another sheet than Machines.
func (s *OpenFile) only() bool {
	return s.preview.Refused == "" && !slices.ContainsFunc(s.preview.Sheets, func(sh *sheetPreview) bool { return sh.Kind == fileKey(job.MachinesSheet) })
}

// graver are the notices that are more than notes, errors first.
func (s *OpenFile) graver() []fileNotice {
	var out []fileNotice
	for _, v := range []string{job.Error.String(), job.Warning.String()} {
		for _, n := range s.preview.Notices {
			if n.Severity == v {
				out = append(out, n)
			}
		}
	}
	return out
}

// inputs are the columns that are no results.
func (sh *sheetPreview) inputs() []*columnPreview {
	return slices.DeleteFunc(slices.Clone(sh.Columns), func(c *columnPreview) bool { return c.Result })
}

func (sh *sheetPreview) guesses() []*columnPreview {
	return slices.DeleteFunc(sh.inputs(), func(c *columnPreview) bool { return c.Guess == "" })
}

// at is the sheet that an argument names by its place, and the column behind it.
func (s *OpenFile) at(arg string) (*sheetPreview, *columnPreview) {
	arg, _, _ = strings.Cut(arg, " ")
	of, col, _ := strings.Cut(arg, "-")
	n, err := strconv.Atoi(of)
	if err != nil || n < 0 || n >= len(s.preview.Sheets) {
		return nil, nil
	}
	sh := s.preview.Sheets[n]
	k, err := strconv.Atoi(col)
	if i := slices.IndexFunc(sh.Columns, func(c *columnPreview) bool { return c.Col == k }); err == nil && i >= 0 {
		return sh, sh.Columns[i]
	}
	return sh, nil
}

// choice is what was chosen for a sheet.
func (s *OpenFile) choice(sheet string) *SheetChoice {
	for _, c := range s.choices.Sheets {
		if c.Sheet == sheet {
			return c
		}
	}
	c := &SheetChoice{Sheet: sheet}
	s.choices.Sheets = append(s.choices.Sheets, c)
	return c
}

// put chooses what a column is.
func (c *SheetChoice) put(col int, key, unit string) {
	c.Columns = slices.DeleteFunc(c.Columns, func(x ColumnChoice) bool { return x.Col == col })
	c.Columns = append(c.Columns, ColumnChoice{col, key, unit})
}

// unitOf says whether the unit of a column was chosen.
func (c *SheetChoice) unitOf(col int) bool {
	return slices.ContainsFunc(c.Columns, func(x ColumnChoice) bool { return x.Col == col && x.Unit != "" })
}

// anew forgets, after another header or another kind, what was chosen for the columns: it speaks of other columns.
func (s *OpenFile) anew(c *SheetChoice) {
	c.Columns = nil
	for key := range s.headers {
		if strings.HasPrefix(key, c.Sheet+"\n") {
			delete(s.headers, key)
		}
	}
}

// keysOf is what a column of a sheet of that kind can be read as.
func (s *OpenFile) keysOf(kind string) []MatchKey {
	list, ok := s.keys[kind]
	if !ok {
		list = s.host.FileKeys(kind)
		s.keys[kind] = list
	}
	return list
}

// known is a meaning by its key; nil: a sheet of that kind has none.
func (s *OpenFile) known(kind, key string) *MatchKey {
	keys := s.keysOf(kind)
	if at := slices.IndexFunc(keys, func(k MatchKey) bool { return k.Key == key }); at >= 0 {
		return &keys[at]
	}
	return nil
}

// keyName is a meaning as it is printed.
func (s *OpenFile) keyName(kind, key string) string {
	if is := s.known(kind, key); is != nil {
		return is.Name
	}
	return key
}

// fileKinds is what a sheet of a file can be read as.
var fileKinds = []job.SheetKind{job.MachinesSheet, job.SettingsSheet, job.ReadingsSheet, job.StockSheet, job.GrowthSheet, job.FeetSheet, job.LimitsSheet, job.MaterialsSheet, job.ChecksSheet,
	job.RoundsSheet, job.TrainsSheet, job.RecordSheet}

// fileKey is what the program for workbook files calls a sheet.
func fileKey(k job.SheetKind) string {
	if k == job.SettingsSheet {
		return "job"
	}
	return k.Key()
}

// FileSheet is the sheet of a key; ok is false for none.
func FileSheet(key string) (k job.SheetKind, ok bool) {
	at := slices.IndexFunc(fileKinds, func(k job.SheetKind) bool { return fileKey(k) == key })
	if at < 0 {
		return 0, false
	}
	return fileKinds[at], true
}

// kindName is the sheet of a key.
func kindName(key string) string {
	if k, ok := FileSheet(key); ok {
		return k.String()
	}
	return words.Text("openFile.keptUnread")
}

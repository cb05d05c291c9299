// Package merge puts together what several crews bring back of one job: saved pages, workbooks and job files, read into jobs before. Start with [New].
//
// It goes machine by machine and row by row. What only one file has, or only one changed, is taken; what two changed differently is asked, and nothing else is. A round of
// readings, a check, a foot is one thing and never put together out of two files. Rows that a file lacks stay: a crew may bring back its own machines only. What somebody
// signed for, and which still is what was signed, is taken as a whole from that file.
//
// With an earlier state among the files that the others came from (the same job, a saving that they remember) that state says who changed what; without one, a cell that is
// blank in one file and filled in another counts as filled in.
//
// The result does not depend on the order of the files. What it leaves out on purpose: guessing. Files whose bare numbers mean different things are refused.
package merge

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/sorting"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A File is a job as somebody brought it back.
type File struct {
	Name   string
	Job    *job.Job
	Sealed bool // nothing was changed since it was saved: its checksum says so. Only such a file can be the earlier state
}

// A What says what became of a machine, a round or another row.
type What uint8

// What became of it.
const (
	Fresh   What = iota // only one file has it, or several have the same
	Changed             // one file changed it, or filled it in
	Both                // two files changed it differently: it is asked
	Signed              // somebody signed for the machine; it is taken as it was signed
	Lacking             // a file lacks it that the earlier state had; it stays
)

// String is what became of it, in words.
func (w What) String() string {
	return [...]words.Key{words.MergingFresh, words.MergingChanged, words.MergingBoth, words.MergingSigned, words.MergingLacking}[w].String()
}

// An Item is a row of which the files do not all have the same.
type Item struct {
	Sheet   job.SheetKind
	Machine string // or what the row is called
	Row     string // which row of the machine: round 2, front 9; "" the machine's own
	What    What
	File    string // where it comes from; of a question "" until it is answered
}

// A Question is about one row that two files changed differently, about the readings of a machine's row, or about a whole machine that somebody signed for.
type Question struct {
	Sheet   job.SheetKind
	Machine string
	Row     string // which row of the machine, or what of it
	Choices []Choice
	Answer  int // index in Choices; −1 not answered
}

// A Choice is what one of the files has.
type Choice struct {
	Files []string
	Text  string // the cells that differ, with their headers
}

// A Plan is what merging comes to. It belongs to no goroutine in particular, but to one at a time.
type Plan struct {
	Base      string // name of the earlier state, "" there is none
	Items     []Item
	Questions []Question
	Notes     []string // what is odd about the files, in sentences

	files    []File // sorted; without the base
	base     *job.Job
	sheets   []*table
	locked   map[string]*lock
	ofSigned int               // questions about signed machines, which come first
	signed   []map[string]bool // of each file, the machines whose signatures hold
}

// A lock is a machine that somebody signed for.
type lock struct {
	file     int // whose rows count
	question int // that has another say, −1 none
}

// A table is one sheet of all files.
type table struct {
	kind    job.SheetKind
	title   [][]string
	columns []string
	ids     []string // key of the known column, "" none
	base    map[string][]string
	files   []map[string][]string // rows by key, in the columns of all
	has     []bool                // the file has the sheet
	order   [][]string            // keys of each file in its order; that of the base comes last
	names   map[string][2]string  // machine and row of a key
	inner   []string              // headers of the rows that one of these stands for: the readings of a sweep, the parts of a support; nil: a row is a row
}

// What parts the rows that one row of a table stands for, and their cells.
const (
	rowSign  = "\x1d"
	cellSign = "\x1f"
)

// New compares the files and says what merging them comes to. Files are refused with a sentence whose numbers mean different things, or fewer than two.
func New(files []File) (*Plan, error) {
	p := &Plan{files: slices.Clone(files), locked: map[string]*lock{}}
	if len(files) < 2 {
		return nil, errors.New(words.MergingTooFew.Say(len(files)))
	}
	sorting.Stable(p.files, compareFiles)
	for k := 1; k < len(p.files); k++ {
		if f := &p.files[k]; f.Name == p.files[k-1].Name {
			f.Name += " (" + strconv.Itoa(k+1) + ")"
		}
		if p.files[k].Job.ID != p.files[0].Job.ID {
			p.Notes = append(p.Notes, words.MergingOtherJob.Say(p.files[0].Name, p.files[k].Name))
		}
	}
	if err := p.sameMeaning(); err != nil {
		return nil, err
	}
	p.findBase()
	p.findSigned()
	for _, k := range job.SheetKinds() {
		t, err := p.table(k)
		if err != nil {
			return nil, err
		}
		if t != nil {
			p.sheets = append(p.sheets, t)
		}
	}
	p.lockSigned()
	for _, t := range p.sheets {
		p.compare(t)
	}
	return p, nil
}

// compareFiles puts files into an order that their contents give, whoever names them first.
func compareFiles(a, b File) int {
	if c := cmp.Or(cmp.Compare(a.Job.SavedAt, b.Job.SavedAt), cmp.Compare(a.Name, b.Name)); c != 0 {
		return c
	}
	x, _ := a.Job.MarshalJSON()
	y, _ := b.Job.MarshalJSON()
	return cmp.Compare(string(x), string(y))
}

// sameMeaning refuses files in which the same cell means something else: other units, another decimal sign, seen from the other end.
func (p *Plan) sameMeaning() error {
	for _, key := range [...]string{"units", "decimal_sign", "seen_from", "positive_sag"} {
		said, by := "", ""
		for _, f := range p.files {
			v := setting(f.Job.Settings, key)
			switch {
			case v == "":
			case said == "":
				said, by = v, f.Name
			case !strings.EqualFold(v, said):
				name := job.FindColumn(job.SettingsSheet, key).Name
				return errors.New(words.MergingOtherMeaning.Say(by, name, said, f.Name, v))
			}
		}
		if said == "" {
			continue
		}
		for _, f := range p.files {
			if v := setting(f.Job.Settings, key); v == "" && f.Job.Settings != nil && p.filled(f.Job) {
				name := job.FindColumn(job.SettingsSheet, key).Name
				if strings.EqualFold(said, "metric") || strings.EqualFold(said, "either") || strings.EqualFold(said, "movable") {
					continue // what is taken where nothing is said
				}
				return errors.New(words.MergingNoMeaning.Say(by, name, said, f.Name))
			}
		}
	}
	return nil
}

func (p *Plan) filled(j *job.Job) bool { return j.Machines != nil && len(j.Machines.Rows) > 0 }

// setting is what the Job sheet says under a key, "" nothing.
func setting(t *job.Table, key string) string {
	if t == nil {
		return ""
	}
	for _, row := range t.Rows {
		if len(row) > 1 {
			if c := job.FindColumn(job.SettingsSheet, row[0]); c != nil && c.Key == key {
				return strings.TrimSpace(row[1])
			}
		}
	}
	return ""
}

// findBase takes the latest file out that all others were saved after.
func (p *Plan) findBase() {
	for k := len(p.files) - 1; k >= 0; k-- {
		b := p.files[k]
		if b.Job.SavedAt == "" || !b.Sealed {
			continue
		}
		all := true
		for i, f := range p.files {
			all = all && (i == k || f.Sealed && f.Job.ID == b.Job.ID && slices.Contains(f.Job.SavedBefore, b.Job.SavedAt))
		}
		if all {
			p.base, p.Base = b.Job, b.Name
			p.files = slices.Delete(p.files, k, k+1)
			return
		}
	}
}

// rowKeys are the columns that tell the rows of a machine apart, by sheet.
var rowKeys = map[job.SheetKind][]string{
	job.MachinesSheet: {"machine"}, job.ReadingsSheet: {"machine", "sweep", "set"}, job.RoundsSheet: {"machine", "round"}, job.GrowthSheet: {"machine", "support"},
	job.FeetSheet: {"machine", "foot"}, job.TrainsSheet: {"train", "machine"}, job.ChecksSheet: {"machine", "check"}, job.StockSheet: {"thickness", "size", "kind"},
	job.LimitsSheet: {"set", "coupling", "up_to_speed"}, job.MaterialsSheet: {"material", "from"}, job.SettingsSheet: nil, job.RecordSheet: nil,
}

// table reads one sheet of all files; nil: none has it.
func (p *Plan) table(kind job.SheetKind) (*table, error) {
	t := &table{kind: kind, names: map[string][2]string{}}
	all := slices.Clone(p.files)
	if p.base != nil {
		all = append(all, File{Name: p.Base, Job: p.base})
	}
	first := make([]int, len(all)) // whose headers stand: a signed file's, since they are signed too; then the earlier state's
	for k := range first {
		first[k] = k
	}
	sorting.Stable(first, func(a, b int) int {
		rank := func(k int) int {
			switch {
			case k < len(p.files) && len(p.signed[k]) > 0:
				return 0
			case k == len(p.files):
				return 1
			}
			return 2
		}
		return cmp.Compare(rank(a), rank(b))
	})
	var sides []*job.Table
	found := false
	for _, f := range all {
		var own *job.Table
		if s := f.Job.Table(kind); s != nil {
			c := *s
			if c.Header == nil && kind != job.SettingsSheet {
				c.SplitHeader(kind)
			}
			own, found = &c, true
		}
		sides = append(sides, own)
		t.has = append(t.has, own != nil)
	}
	if !found {
		return nil, nil
	}
	maps := make([][]int, len(sides))
	recast := make([][]string, len(sides)) // unit that bare numbers of a column get, "" none
	for _, k := range first {
		s := sides[k]
		if s == nil {
			continue
		}
		if t.title == nil {
			t.title = s.Title
		}
		at, unit, err := t.place(s, all[k].Name, k < len(p.files) && len(p.signed[k]) > 0)
		if err != nil {
			return nil, err
		}
		maps[k], recast[k] = at, unit
	}
	// A sweep read by two crews is not put together out of both, nor a support out of two lists of its parts: they are one thing each.
	bundled := kind == job.ReadingsSheet || kind == job.GrowthSheet
	for k, s := range sides {
		rows, order := map[string][]string{}, []string(nil)
		if s != nil {
			for _, row := range s.Rows {
				cells := make([]string, len(t.columns))
				filled := false
				for c, text := range row {
					if strings.TrimSpace(text) == "" || c >= len(maps[k]) {
						continue
					}
					filled = true
					cells[maps[k][c]] = recastCell(text, recast[k][c])
				}
				if !filled {
					continue
				}
				if bundled {
					key := t.key(cells, nil)
					if text := strings.Join(cells, cellSign); rows[key] != nil {
						rows[key][0] += rowSign + text
					} else {
						rows[key] = []string{text}
						order = append(order, key)
					}
					continue
				}
				key := t.key(cells, rows)
				rows[key] = cells
				order = append(order, key)
			}
		}
		if k == len(p.files) {
			t.base = rows
		} else {
			t.files = append(t.files, rows)
		}
		t.order = append(t.order, order)
	}
	if bundled {
		t.inner, t.columns, t.ids = t.columns, []string{""}, []string{""}
	}
	return t, nil
}

// place finds the column of all for each of a file's own, and the unit that its bare numbers have to bear there.
func (t *table) place(s *job.Table, name string, signed bool) (at []int, unit []string, err error) {
	width := s.Width()
	at, unit = make([]int, width), make([]string, width)
	taken := map[int]bool{}
	for c := range at {
		h := ""
		if c < len(s.Header) {
			h = strings.TrimSpace(s.Header[c])
		}
		id := ""
		info := job.FindColumn(t.kind, h)
		if info != nil && t.kind != job.SettingsSheet && h != "" {
			id = info.Key
		}
		at[c] = -1
		for x, have := range t.columns {
			if taken[x] {
				continue
			}
			if have == h || id != "" && t.ids[x] == id {
				at[c] = x
				break
			}
		}
		if at[c] < 0 {
			at[c] = len(t.columns)
			t.columns, t.ids = append(t.columns, h), append(t.ids, id)
		} else if have := t.columns[at[c]]; have != h && signed && t.ids[at[c]] != "digest" && columnFilled(s, c) {
			return nil, nil, errors.New(words.MergingSignedHeaders.Say(name, t.kind, strconv.Quote(h), strconv.Quote(have)))
		} else if have != h && info != nil && info.Quantity.Kind() != units.Number {
			a, b := headerUnit(have), headerUnit(h)
			if a != b {
				if b == "" || info.Quantity == job.QSweep || info.Quantity == job.QPieces || info.Quantity == job.QDistances {
					return nil, nil, errors.New(words.MergingOtherUnits.Say(name, t.kind, strconv.Quote(h), strconv.Quote(have)))
				}
				unit[c] = b
			}
		}
		taken[at[c]] = true
	}
	return at, unit, nil
}

// headerUnit is what stands in brackets behind a header.
func headerUnit(h string) string {
	open := strings.LastIndexAny(h, "[(")
	if open < 0 {
		return ""
	}
	u, _, _ := strings.Cut(h[open+1:], "]")
	u, _, _ = strings.Cut(u, ")")
	return strings.TrimSpace(u)
}

// recastCell gives a bare number the unit that its own header had.
func recastCell(text, unit string) string {
	if unit == "" || strings.ContainsFunc(text, func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == 'µ' || r == '°' || r == '"'
	}) {
		return text
	}
	return strings.TrimSpace(text) + " " + unit
}

// key names a row by what tells it apart; a second row of that name has its number behind it.
func (t *table) key(cells []string, taken map[string][]string) string {
	var parts []string
	machine, row := "", ""
	cols := rowKeys[t.kind]
	for x, s := range cells {
		if id := t.ids[x]; id == "machine" || machine == "" && t.kind == job.SettingsSheet {
			machine = strings.TrimSpace(s)
		}
	}
	switch t.kind {
	case job.SettingsSheet:
		for _, s := range cells {
			if s = strings.TrimSpace(s); s != "" {
				machine = s
				break
			}
		}
		name := machine
		if c := job.FindColumn(t.kind, name); c != nil {
			name = c.Key
		}
		parts = []string{fold(name)}
	case job.RecordSheet:
		for x, s := range cells {
			if s = strings.TrimSpace(s); s != "" {
				parts = append(parts, t.columns[x]+"="+s)
			}
			if t.ids[x] == "signed_by" || t.ids[x] == "instrument" {
				row = strings.TrimSpace(row + " " + s)
			}
		}
		slices.Sort(parts)
	default:
		for _, want := range cols {
			for x, id := range t.ids {
				if id != want {
					continue
				}
				s := fold(cells[x])
				if want == "round" {
					s = strings.TrimPrefix(strings.TrimPrefix(s, "round "), "as ")
				}
				if parts = append(parts, s); want != "machine" && s != "" {
					row = strings.TrimSpace(row + " " + strings.TrimSpace(cells[x]))
				}
			}
		}
		if machine == "" {
			machine, row = row, ""
		}
	}
	if len(parts) == 0 || strings.Join(parts, "") == "" { // nothing tells it apart: the whole row does
		parts = slices.Clone(cells)
	}
	key := strings.Join(parts, "\x1f")
	for n := 2; taken[key] != nil; n++ {
		key = strings.Join(parts, "\x1f") + "\x1e" + strconv.Itoa(n)
	}
	t.names[key] = [2]string{machine, row}
	return key
}

// fold is a name as it is compared.
func fold(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// machineOf is the machine a row belongs to, folded; "" none.
func (t *table) machineOf(key string) string {
	if slices.Contains(rowKeys[t.kind], "machine") || t.kind == job.RecordSheet {
		return fold(t.names[key][0])
	}
	return ""
}

// columnFilled says whether a column holds anything.
func columnFilled(s *job.Table, c int) bool {
	return slices.ContainsFunc(s.Rows, func(row []string) bool { return c < len(row) && strings.TrimSpace(row[c]) != "" })
}

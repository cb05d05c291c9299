package job

import (
	"errors"
	"fmt"
	"io"
	"maps"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// A SheetKind says which columns a table has.
type SheetKind uint8

// The sheets.
const (
	MachinesSheet  SheetKind = iota // one row a coupling
	ReadingsSheet                   // long form, one row a reading
	StockSheet                      // one row a shim thickness
	SettingsSheet                   // name and value
	GrowthSheet                     // one row a stacked part of a support
	FeetSheet                       // one row a foot
	LimitsSheet                     // one row a line of the user's own limit sets
	MaterialsSheet                  // one row a coefficient of the user's own
	ChecksSheet                     // one row a check of a machine, before or after the alignment
	RoundsSheet                     // one row a round of readings of one coupling
	TrainsSheet                     // one row a machine of a train: may it move, what does it cost
	RecordSheet                     // one row a signature, or an entry that signatures cover
	NumSheets
)

// SheetOrder is the order in which people see the sheets.
var SheetOrder = [NumSheets]SheetKind{MachinesSheet, ReadingsSheet, RoundsSheet, GrowthSheet, FeetSheet, TrainsSheet, ChecksSheet, RecordSheet, StockSheet, LimitsSheet, MaterialsSheet, SettingsSheet}

// SheetKinds returns every sheet a job can have, in the order people see them. Callers must not change it.
func SheetKinds() []SheetKind { return SheetOrder[:] }

// String is the name of the sheet as people see it.
func (k SheetKind) String() string {
	return [...]string{"Machines", "Readings", "Stock", "Job", "Growth", "Feet", "Limits", "Materials", "Checks", "Rounds", "Trains", "Record"}[k]
}

// A Table is one sheet as typed: nothing is trimmed, rows may be of different widths, blank rows stay where they are.
type Table struct {
	Name     string     // of the sheet, for messages; "" takes the name of its kind
	File     string     // where it was read from, for messages; "" nowhere
	Title    [][]string // rows above the header
	Header   []string   // nil: none found or not looked for
	Rows     [][]string
	FirstRow int // the 1-based row of the source that Rows[0] stands in, as a spreadsheet counts; 0 counts as 1

	placed []placing // rows whose cells were put under the columns of the header
	stated []int     // columns whose unit is what a title or a note says
}

// A placing says where the cells of the rows from … on went; nil: they stand where they stood.
type placing struct {
	from int
	to   []int
}

// Placed is the column that a cell of the source stands in now: rows under a header of their own further down were put under the table's.
func (t *Table) Placed(row, col int) int {
	for i := len(t.placed) - 1; i >= 0; i-- {
		if p := &t.placed[i]; row >= p.from {
			if col < len(p.to) {
				return p.to[col]
			}
			break
		}
	}
	return col
}

// SourceRow is the 1-based row number of Rows[i] in the file it came from.
func (t *Table) SourceRow(i int) int { return max(t.FirstRow, 1) + i }

// Cell is the text of a cell of Rows, "" where the row is too short or does not exist.
func (t *Table) Cell(row, col int) string {
	if t == nil || row < 0 || row >= len(t.Rows) || col < 0 || col >= len(t.Rows[row]) {
		return ""
	}
	return t.Rows[row][col]
}

// Width is the number of columns of the widest row, the header included.
func (t *Table) Width() int {
	n := len(t.Header)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	return n
}

// A Job is all sheets of one shutdown as typed.
type Job struct {
	ID       string // 16 random bytes in hexadecimal; never changes
	Revision int    // counts savings
	SavedAt  string // RFC 3339; "" never saved

	// SavedBefore are the times of the savings this state came from, oldest first: a file of any of them is an earlier state of this one and not another
	// branch. At most [MostSavedBefore] are kept.
	SavedBefore []string

	Settings *Table // the Job sheet: name and value; nil: none, as with every sheet but Machines
	Machines *Table
	Readings *Table

	Growth    *Table // what the supports are made of and how warm it gets
	Feet      *Table // the feet one by one
	Stock     *Table
	Limits    *Table // the user's own limit sets
	Materials *Table // the user's own coefficients
	Checks    *Table // what is checked at the machines before and after
	Rounds    *Table // readings in the course of the work
	Trains    *Table // which machines of the trains may move
	Record    *Table // who signed for which machine, and what belongs to that

	Views map[string]string // how each sheet is shown, by the key of its table in the JSON, as its owner writes it; not looked into here
}

// MostSavedBefore is how many savings a job remembers.
const MostSavedBefore = 40

// Saved notes that the job was saved at a time.
func (j *Job) Saved(at string) {
	if j.Revision++; j.SavedAt != "" {
		j.SavedBefore = append(j.SavedBefore[max(0, len(j.SavedBefore)+1-MostSavedBefore):len(j.SavedBefore):len(j.SavedBefore)], j.SavedAt)
	}
	j.SavedAt = at
}

func (j *Job) tables() [NumSheets]**Table {
	return [NumSheets]**Table{&j.Machines, &j.Readings, &j.Stock, &j.Settings, &j.Growth, &j.Feet, &j.Limits, &j.Materials, &j.Checks, &j.Rounds, &j.Trains, &j.Record}
}

// Random gives 64 random bits for the name of a job: the run-time's, which the system seeds. That is enough for a name, and a third of a megabyte less in the page than a generator for secrets.
// A program whose run-time was seeded before it was in the page has another in its place.
var Random = rand.Uint64

// NewJob returns an empty job with a new random ID.
func NewJob() *Job {
	return &Job{ID: NewID(), Machines: &Table{Name: MachinesSheet.String(), FirstRow: 1}}
}

// NewID is a random name for a job, 32 digits to base 16.
func NewID() string { return fmt.Sprintf("%016x%016x", Random(), Random()) }

// Table returns the sheet of a kind, nil if the job has none.
func (j *Job) Table(k SheetKind) *Table {
	return *j.tables()[k]
}

// SetTable replaces the sheet of a kind.
func (j *Job) SetTable(k SheetKind, t *Table) {
	*j.tables()[k] = t
}

// The name and the version of the JSON form.
const (
	jobFormat  = "shimsheet job"
	jobVersion = 6 // 2: the sheets Growth, Feet, Limits and Materials; 3: Checks; 4: Rounds; 5: Trains; 6: Record
)

// version is the oldest form that holds all of the job: an older program would open a newer one with sheets missing, and lose them.
func (j *Job) version() int {
	switch {
	case j.Record != nil:
		return 6
	case j.Trains != nil:
		return 5
	case j.Rounds != nil:
		return 4
	case j.Checks != nil:
		return 3
	}
	for k := GrowthSheet; k <= MaterialsSheet; k++ {
		if j.Table(k) != nil {
			return 2
		}
	}
	return 1
}

// MarshalJSON writes the job with every typed text as it is. Texts are UTF-8; `<` is written as \u003c, so that the result can stand
// inside a page. An invalid byte is an error: it could not come back.
func (j *Job) MarshalJSON() ([]byte, error) {
	b := make([]byte, 0, 1<<12)
	b = append(b, `{"format":"`+jobFormat+`","version":`...)
	b = strconv.AppendInt(b, int64(j.version()), 10)
	b = append(b, `,"id":`...)
	b = AppendJSONString(b, j.ID)
	b = append(b, `,"revision":`...)
	b = strconv.AppendInt(b, int64(j.Revision), 10)
	b = append(b, `,"saved_at":`...)
	b = AppendJSONString(b, j.SavedAt)
	for i, s := range j.SavedBefore {
		if i == 0 {
			b = append(b, `,"saved_before":[`...)
		} else {
			b = append(b, ',')
		}
		b = AppendJSONString(b, s)
	}
	if len(j.SavedBefore) > 0 {
		b = append(b, ']')
	}
	var err error
	for k := range NumSheets {
		t := j.Table(k)
		if t == nil {
			continue
		}
		b = append(b, ',', '"')
		b = append(b, tableKeys[k]...)
		b = append(b, `":{"name":`...)
		b = AppendJSONString(b, t.Name)
		if t.File != "" {
			b = append(b, `,"file":`...)
			b = AppendJSONString(b, t.File)
		}
		b = append(b, `,"first_row":`...)
		b = strconv.AppendInt(b, int64(t.FirstRow), 10)
		if t.Title != nil {
			b = append(b, `,"title":`...)
			b, err = appendJSONRows(b, t.Title, t, err)
		}
		if t.Header != nil {
			b = append(b, `,"header":`...)
			b, err = appendJSONRow(b, t.Header, t, err)
		}
		b = append(b, `,"rows":`...)
		b, err = appendJSONRows(b, t.Rows, t, err)
		b = append(b, '}')
	}
	if err != nil {
		return nil, err
	}
	if len(j.Views) > 0 {
		b = append(b, `,"views":{`...)
		for i, k := range slices.Sorted(maps.Keys(j.Views)) {
			if i > 0 {
				b = append(b, ',')
			}
			b = append(AppendJSONString(b, k), ':')
			b = AppendJSONString(b, j.Views[k])
		}
		b = append(b, '}')
	}
	return append(b, '}'), nil
}

// Key names a sheet in the JSON form of a job.
func (k SheetKind) Key() string { return tableKeys[k] }

var tableKeys = [NumSheets]string{"machines", "readings", "stock", "settings", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"}

func appendJSONRows(b []byte, rows [][]string, t *Table, err error) ([]byte, error) {
	b = append(b, '[')
	for i, r := range rows {
		if i > 0 {
			b = append(b, ',', '\n')
		}
		b, err = appendJSONRow(b, r, t, err)
	}
	return append(b, ']'), err
}

func appendJSONRow(b []byte, row []string, t *Table, err error) ([]byte, error) {
	b = append(b, '[')
	for i, c := range row {
		if i > 0 {
			b = append(b, ',')
		}
		if err == nil && !utf8.ValidString(c) {
			err = errors.New(words.ProblemNotUTF8.Say(t.Name, strconv.Quote(c)))
		}
		b = AppendJSONString(b, c)
	}
	return append(b, ']'), err
}

// ReadJob opens a saved job from r, as [Job.OpenChecked].
func ReadJob(r io.Reader) (*Job, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	j := new(Job)
	if _, err := j.OpenChecked(string(data)); err != nil {
		return nil, err
	}
	return j, nil
}

const hexDigits = "0123456789abcdef"

// plainInJSON are the bytes that stand in a text of JSON as they are, apart from those of longer signs.
var plainInJSON = func() (plain [256]bool) {
	for c := ' '; c < 0x7f; c++ {
		plain[c] = !strings.ContainsRune("\"\\<>&", c)
	}
	return plain
}()

// AppendJSONString quotes s. What could end a script element or a line in one is escaped.
func AppendJSONString(b []byte, s string) []byte {
	b = append(b, '"')
	start := 0
	for i := 0; i < len(s); {
		c := s[i]
		if plainInJSON[c] {
			i++
			continue
		}
		if c < utf8.RuneSelf {
			b = append(b, s[start:i]...)
			switch c {
			case '"', '\\':
				b = append(b, '\\', c)
			case '\n':
				b = append(b, '\\', 'n')
			case '\r':
				b = append(b, '\\', 'r')
			case '\t':
				b = append(b, '\\', 't')
			default:
				b = append(b, '\\', 'u', '0', '0', hexDigits[c>>4], hexDigits[c&15])
			}
			i++
			start = i
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && n == 1 {
			b = append(append(b, s[start:i]...), "\ufffd"...)
			i++
			start = i
			continue
		}
		if r == '\u2028' || r == '\u2029' {
			b = append(append(b, s[start:i]...), `\u202`...)
			b = append(b, hexDigits[r&15])
			i += n
			start = i
			continue
		}
		i += n
	}
	return append(append(b, s[start:]...), '"')
}

// Package workbook reads and writes workbook files, and delimited text through the same door.
//
// Start with [Inspect], which says what each sheet of a file is and how its columns are understood, then [Read], which makes a
// [job.Job] of it with the person's corrections. [Write] gives a fresh workbook, [AddTo] puts the results into somebody's own.
//
// The package is the only user of excelize. Styles, names, validation lists, page set-up and the plumbing of the file are excelize's. Cells
// are not: reading by excelize answers a damaged part with fewer rows and no error, and keeps neither a number apart from a text nor a formula without
// a value from an empty cell; writing by it cuts numbers to 15 digits. So every part is inflated and checked first, the cells are read
// strictly from what was checked, and written to the last bit. The tests hold both against excelize's own reading.
//
// Left out on purpose: working formulas out (only their stored values are read), pictures, charts, macros, passwords, .xls and .ods.
package workbook

import (
	"errors"
	"fmt"
	"runtime/debug"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// The limits on a file that is read. Each is met with a sentence that names it.
const (
	MaxFile     = 48 << 20  // bytes of the file
	MaxUnzipped = 160 << 20 // bytes of all parts together
	MaxPart     = 96 << 20  // bytes of one part
	MaxParts    = 2000      // parts
	MaxSheets   = 256
	MaxRows     = job.MaxRows // the last row of a sheet that holds something
	MaxColumns  = 1_000       // the last column of a sheet that holds something
	MaxCells    = 4_000_000
	MaxCell     = 32_767 // UTF-16 units of one cell, as the file format has it
)

// A Notice is one thing worth knowing about a file, as plain data.
type Notice struct {
	Severity string `json:"severity"` // note, warning, error
	Sheet    string `json:"sheet,omitempty"`
	Row      int    `json:"row,omitempty"`    // 1-based, 0 the whole sheet
	Column   string `json:"column,omitempty"` // header of the column, else its letters
	Text     string `json:"text"`
	Hint     string `json:"hint,omitempty"`
	Count    int    `json:"count,omitempty"` // how many cells it stands for, when more than one
	Col      int    `json:"col"`             // 0-based, −1 none
}

// Problem is the notice as package evaluate tells problems.
func (n *Notice) Problem(file string) job.Problem {
	sev := job.Note
	switch n.Severity {
	case "warning":
		sev = job.Warning
	case "error":
		sev = job.Error
	}
	return job.Problem{Severity: sev, File: file, Sheet: n.Sheet, Row: n.Row, Column: n.Column, Text: words.Plain(n.Text), Hint: words.Plain(n.Hint), Col: n.Col}
}

// A Preview says what a file holds and how it would be read, before anything is replaced.
type Preview struct {
	File     string         `json:"file"`
	Format   string         `json:"format"`             // xlsx, xlsm, csv, tsv
	Own      bool           `json:"own"`                // written by this program: it comes back as it was
	Encoding string         `json:"encoding,omitempty"` // of delimited text
	Sheets   []SheetPreview `json:"sheets"`
	Notices  []Notice       `json:"notices"`
}

// A SheetPreview is one sheet of the file.
type SheetPreview struct {
	Name       string          `json:"name"`
	Kind       string          `json:"kind"`              // machines, job, readings, stock; "" kept unread
	Why        string          `json:"why"`               // how the kind was recognised, or why it is not read
	Results    bool            `json:"results,omitempty"` // results of this program, which are worked out anew
	Hidden     bool            `json:"hidden"`            // the sheet is hidden in the workbook
	HeaderRow  int             `json:"header_row"`        // 1-based; 0 none
	Titles     int             `json:"titles"`            // rows above the header
	Rows       int             `json:"rows"`              // rows below the header that hold something
	LastRow    int             `json:"last_row"`          // last row that holds something
	Dimension  string          `json:"dimension"`         // the range the sheet gives for itself, "" none
	HiddenRows []int           `json:"hidden_rows"`
	Merged     int             `json:"merged"` // merged ranges
	Columns    []ColumnPreview `json:"columns"`
}

// A ColumnPreview is one column under the header.
type ColumnPreview struct {
	Col        int      `json:"col"` // 0-based
	Letter     string   `json:"letter"`
	Header     string   `json:"header"`
	Key        string   `json:"key"`       // of the column it is understood as, "" kept unread
	Name       string   `json:"name"`      // of that column as printed
	Result     bool     `json:"result"`    // a column of results, which are worked out anew
	Unit       string   `json:"unit"`      // of a bare number; "" none
	UnitFrom   string   `json:"unit_from"` // header, title, job
	Filled     int      `json:"filled"`
	TextNumber int      `json:"text_numbers"` // cells whose number is stored as text
	Sample     []string `json:"sample"`

	Guess     string   `json:"guess,omitempty"`      // a column kept unread: the key of what it likely means, to be shown as a guess
	GuessUnit string   `json:"guess_unit,omitempty"` // of a column kept unread: the unit that its header bears, whatever it means
	Asked     []string `json:"asked,omitempty"`      // keys of the meanings that are as likely
	Why       string   `json:"because,omitempty"`
	Series    int      `json:"series,omitempty"` // readings of one sweep share a number
	Place     string   `json:"place,omitempty"`  // which of them
}

// Choices are a person's corrections of a Preview. A sheet that is not named is read as the Preview says.
type Choices struct {
	Sheets []SheetChoice `json:"sheets"`
	Before []Learnt      `json:"before"` // what was matched in other jobs: offered, as guesses are
}

// A SheetChoice corrects how one sheet is read.
type SheetChoice struct {
	Sheet     string         `json:"sheet"`
	Kind      *string        `json:"kind"`       // machines, job, readings, stock, or "" to keep it unread; nil as found
	HeaderRow int            `json:"header_row"` // 1-based; 0 as found
	Columns   []ColumnChoice `json:"columns"`
	// TextToNumbers writes numbers that are stored as text the way a number is written: blanks around them are dropped, 007 becomes 7.
	TextToNumbers bool `json:"text_to_numbers"`
}

// A ColumnChoice corrects what one column is. It is honoured by writing the header anew, so that the job says the same when it is saved.
type ColumnChoice struct {
	Col  int    `json:"col"` // 0-based
	Key  string `json:"key"` // "" keeps the column unread
	Unit string `json:"unit"`
}

// A Report is what reading found, with the preview as it stands after the choices.
type Report struct {
	Preview
	Problems []job.Problem `json:"-"` // the notices, for a list of problems
	Learnt   []Learnt      `json:"learnt"`
}

// A Reader reads files with what its caller has for it. The zero Reader does with what is here.
type Reader struct {
	// Inflate, if not nil, unpacks a part into dst, or only checks it if dst is nil. It must fail unless the part has that size, which is dst's, and
	// that checksum (CRC-32). It is for callers that have a faster one at hand than this package; what it refuses is looked at here.
	Inflate func(packed []byte, size int, sum uint32, dst []byte) error
	// Progress, if not nil, is told now and then how far reading is, from 0 to 1.
	Progress func(done float64)

	total, done float64 // work, in bytes unpacked
}

// scanCost is what understanding a byte costs, unpacking one is 1.
const scanCost = 4

// worked notes that so much of the work is done.
func (by *Reader) worked(n float64) {
	by.done += n
	if by.Progress != nil && by.total > 0 {
		by.Progress(min(by.done/by.total, 1))
	}
}

// Options for [Write] and [AddTo].
type Options struct {
	Live bool `json:"live"` // formulas over the Machines sheet beside the values
	// Progress, if not nil, is told now and then how far the work is, from 0 to 1.
	Progress func(done float64) `json:"-"`
	// Deflate, if not nil, packs a part and gives the packed bytes (RFC 1951) with the checksum (CRC-32) of what was packed.
	Deflate func(pieces ...[]byte) (packed []byte, sum uint32, err error) `json:"-"`
	// Inflate is that of [Reader], for [AddTo].
	Inflate func(packed []byte, size int, sum uint32, dst []byte) error `json:"-"`

	spoil bool // tests: store wrong values beside the formulas, so that only a program that works them out gives ours
}

func (o *Options) reader() *Reader { return &Reader{Inflate: o.Inflate} }

func (o *Options) progress(x float64) {
	if o.Progress != nil {
		o.Progress(x)
	}
}

// The kinds of sheet as the preview names them.
var kindNames = [...]string{job.MachinesSheet: "machines", job.ReadingsSheet: "readings", job.StockSheet: "stock", job.SettingsSheet: "job",
	job.GrowthSheet: "growth", job.FeetSheet: "feet", job.LimitsSheet: "limits", job.MaterialsSheet: "materials", job.ChecksSheet: "checks", job.RoundsSheet: "rounds", job.TrainsSheet: "trains", job.RecordSheet: "record"}

func kindOf(name string) (job.SheetKind, bool) {
	for k, n := range kindNames {
		if strings.EqualFold(strings.TrimSpace(name), n) {
			return job.SheetKind(k), true
		}
	}
	return 0, false
}

// guard turns a panic, which a malformed file could draw from code not ours, into an error.
func guard(err *error) {
	if p := recover(); p != nil {
		*err = errors.New(words.FileFault.Say(fmt.Sprintf("%v", p), firstLines(string(debug.Stack()), 24)))
	}
}

func firstLines(s string, n int) string {
	for i := range s {
		if s[i] == '\n' {
			if n--; n == 0 {
				return s[:i]
			}
		}
	}
	return s
}

// columnName is the letters of a 0-based column.
func columnName(col int) string { return job.ColumnLetters(col) }

// cellName is the A1 name of a 0-based column and a 1-based row.
func cellName(col, row int) string { return fmt.Sprintf("%s%d", columnName(col), row) }

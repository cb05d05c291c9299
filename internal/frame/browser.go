package frame

import "shimsheet/internal/screens"

// A Browser is what the frame sees and does of a page. Elements go by their ids; one that is not there is passed over. What says that it waits is called in [Browser.Go] only.
type Browser interface {
	// Elements.
	SetText(id, text string)
	SetHTML(id, html string)
	SetAttribute(id, name, value string)
	RemoveAttribute(id, name string)
	SetValue(id, text string)               // of a field; "true" or "false" of a box to tick
	Fill(region screens.Region, ifNew bool) // focus, scrolled lists and chosen files stay; ifNew: only where the content is another than what was put there last
	Remove(id string)
	Focus(id string, still bool) // still: nothing is scrolled
	HasFocus(id string) bool     // it, or something in it
	Select(id string)
	Reveal(screen, id string, centre bool)
	Read(screen, id string)
	ScrollTop(id string)
	WindowTop(id string, lowOnly bool) // the window is scrolled to it
	Mark(name, value string)           // data-name of the whole page, for style and tests
	Title(text string)
	Press(id string) // a button, as a person does
	Ways() []string  // of measuring, as the page has them to choose from: what the desk calls each, and how people do
	TextOf(id string) string
	Shown(id string) bool // the element is not hidden
	Show(id string)       // it is scrolled into sight, no farther than needed
	Width(id string) int  // inside, in pixels
	Fine() bool           // a pointer that points exactly, no finger

	// Tabs, menus, panel.
	ChooseTab(id string)
	ShowScreen(id string)          // of the screens' elements only that one; "" none
	Check(attribute, value string) // of a group of menu items that one holds
	Panel(about, html string)      // of the chosen row; its place is kept while it speaks of the same

	// Dialogs.
	OpenDialog(id string)
	CloseDialog()                     // the one that is open
	DialogOpen() string               // its id, "" none
	NextArea(back bool, areas []Area) // the keyboard goes on to the next of these
	Confirm(text string) bool
	Print()

	// The sheet.
	View

	// Time. Each calls f once, later.
	NextFrame(f func()) // before the browser paints
	Painted(f func())   // when it has painted what stands there now; a page that is not looked at comes to it all the same
	NextTurn(f func())  // when the browser has done what waits
	Later(ms int, f func()) (stop func())
	Go(f func())               // begins at once, and may wait in it
	Await(f func(done func())) // waits until done is called
	Now() string               // ISO 8601
	Clock(iso string) string   // as people write a date with its time, here
	Day(iso string) string
	HourMinute(iso string) string // here
	Today() string                // as workbooks read a date everywhere: year, month, day

	// Files, clipboard, what this browser keeps.
	Copy(text, html string) bool
	Clipboard(f func(text string, waiting bool)) // what is on it; waiting: the browser asks first, or gives nothing
	HandOver(name, kind string, parts ...string)
	HandOverPage(name, job, title, first string)
	CanPick() bool
	PickFile(suggested, what string) (target Target, aborted bool) // waits
	WritePage(target Target, job, title, first string) error       // waits
	FileName(job string, revision int, ending string) string
	Damage() []string  // waits; what of this page's file is not as it was built
	CutShort() bool    // waits until all there is of this page's file has been read; its end is missing
	JobInPage() []byte // "null" none; copied once, for it is long
	DigestOf(job string) string
	Unpacked(part string) string // the text of a packed part of the page, "" where it is damaged; waits
	Licences() []string          // waits
	PageName() string
	Kept(key string) string
	Keep(key, value string)
	KeptByTab(key string) string
	KeepByTab(key, value string)
	Address() string

	// Safety copies.
	Lines() []About                       // waits; those with a change in them, the one changed last first
	CopyOf(line string) *Copy             // waits; nil: there is none
	Forget(line string)                   // waits
	Note(line, aside string, handed bool) // waits; aside: when it was set aside
	Sweep()
	NewLine(job string, h LineHooks) Line
	Resume(c *Copy, h LineHooks) Line // waits; nil: another tab has it
	Watch(l Line, f func(others bool)) (stop func())

	// Workers.
	Lists(when string, far func(share float64)) (lists, sharing string, err error) // waits; the stock shared out; ErrStopped
	StopLists()
	PrepareWorkbook(live bool) // the job goes to a worker, which makes a workbook of it ahead; WriteWorkbook takes it from there
	StopWorker()
	ReadFile(file File, choices string, far func(share float64)) (answer string, err error) // waits; nil: the last one once more; ErrStopped
	TakeRows(each func(head string, table int, rows string) bool) error                     // waits; the job of that file: its head, then its rows, until each says no
	WriteWorkbook(original File, live bool, far func(share float64)) (Content, error)       // waits; nil: a fresh one; ErrStopped
	HandOverContent(name, kind string, c Content)
	Ticked(id string) bool
}

// A View is the sheet on the screen.
type View interface {
	ViewState(answer string)
	HasColumns() bool
	ColumnName(col int) string
	PageRows() int                                    // of one page, for PageUp and PageDown
	OpenEditor(text string, row, col int, typed bool) // over a cell; typed: a key is about to bring its letter, else the caret stands behind the text
	EditorText() string
	InsertInEditor(text string) // at the caret
	PlaceEditor()               // over its cell, as long as its text
	CloseEditor()
	Relayout()
	Restyle()
	Draw(done func())
	RevealCell(row, col int)
	FocusSheet()
	SheetTop()
	SheetLeft()
}

// An Area is a part of the page that F6 goes to, and what of it gets the focus: an id, or "" for what can have it first.
type Area struct{ ID, Focus string }

// A Target is a file that the person picked to save into.
type Target interface{ Name() string }

// A File is one that was chosen or dropped.
type File interface {
	Name() string
	Begins() string // waits; its first letters
	Bytes() []byte  // waits
	Size() float64  // in bytes
}

// Content is that of a file that a worker made, which is the browser's.
type Content any

// A Line is one line of work: what this tab does to one opened job (web/keep.js).
type Line interface {
	ID() string
	Begun() bool
	Begin()
	Change(record func() string)
	Know()
	Leave()
	Safe() (at string, changes int, ok bool) // what is on the disk
}

// LineHooks are what a line of work asks and tells.
type LineHooks struct {
	Facts  func() About
	OnPage func() bool                  // its job is the one on the page
	Told   func(why string, gone About) // of a failure to keep: "full", "none", "room" with what had to go; "" of success
}

// An About is what is known of a line of work. Times are ISO 8601, "" none.
type About struct {
	Line, Job, Name                           string
	From, Opened                              string // the file it came from, and when that was saved
	SavedAt, Began, Changed, Aside, KeptUntil string
	Follows                                   string // the line whose work it goes on with
	Page                                      string
	Typing                                    string // what is typed and in no cell yet, and where
	Revision, Changes, Rows                   int
	Handed                                    bool // a file has all of it
	Open                                      bool // another tab works on it
}

// A Copy is a safety copy: a whole copy and the records since.
type Copy struct {
	About   About
	Broken  bool // a record in between is missing, and those behind it are left out
	Head    []byte
	Rows    []PackedRows
	Records []string
	Handle  any // the browser's own
}

// PackedRows are rows of a sheet, as the desk numbers and packs them.
type PackedRows struct {
	Table int
	Text  string
}

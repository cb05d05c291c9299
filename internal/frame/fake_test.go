package frame

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/desk"
	"shimsheet/internal/screens"
)

// A fake is a browser of which every element is there, that paints at once when it is asked to (turn), and whose clock stands.
type fake struct {
	t                        *testing.T
	text, html               map[string]string
	attributes               map[string]string // "id name"
	values                   map[string]string
	marks                    map[string]string
	title, tab               string
	idleThen                 string // the mark when a part was unpacked
	screen                   string
	dialog                   string
	focus                    string
	checked                  map[string]string
	status                   []string
	later                    []func()
	kept, tabs               map[string]string
	job                      string // in the page
	damage                   []string
	answer                   bool // to every question
	asked                    []string
	handed                   []string // name, kind, content
	picks                    bool
	picked                   Target
	aborted                  bool
	writeFails               error
	lines                    []About
	copies                   map[string]*Copy
	noted                    []string
	forgotten                []string
	made                     []*fakeLine
	held                     bool // another tab has the lines
	lists                    func() (string, string, error)
	open                     bool // a cell is open
	columns                  int
	drawn                    int
	printed                  []string
	clip                     string
	noClip                   bool
	previewed                []string
	read                     []string // the choices it was read with
	preview                  string   // what the worker says of a file
	readFails                error
	parts                    []part
	stopped                  int
	frame                    *Frame
	did                      []string // what a person sees moving, beside what stands there: where it is scrolled to, what is laid out or drawn anew, which worker is ended
	while                    func()   // what the person does while the page waits for the browser, once
	watched                  []func(bool)
	finger                   bool
	reading, taking, writing func() // what is looked at while the worker reads a file, hands its rows over, writes one
	nameless                 bool   // the columns have no names
	suggested                string // for a file that is picked
	when                     string // what waits last waits for
	width                    int    // of every element
	filled                   map[string]string
	asks                     bool     // the browser asks before it gives what is on the clipboard
	halfway                  []string // how far the reading of a file was said to be, in the middle of each
	waits                    []int    // milliseconds of what was put off
	unpacked                 int
	clock                    string
	view                     State // what the sheet was told last
}

// waiting is where the page waits: the person does something meanwhile.
func (b *fake) waiting() {
	if f := b.while; f != nil {
		b.while = nil
		f()
	}
}

// moves is what is seen to move while f is done.
func (b *fake) moves(f func()) string {
	b.did = nil
	f()
	return strings.Join(b.did, ", ")
}

func (b *fake) note(what ...any) {
	b.did = append(b.did, strings.TrimSuffix(fmt.Sprintln(what...), "\n"))
}

// A part is one that the job of a file comes in.
type part struct {
	head  string
	table int
	rows  string
}

type fakeLine struct {
	id      string
	records []string
	hooks   LineHooks
	begun   bool
	left    bool
	known   int
}

func (l *fakeLine) ID() string  { return l.id }
func (l *fakeLine) Begun() bool { return l.begun }
func (l *fakeLine) Begin()      { l.begun = true }
func (l *fakeLine) Change(record func() string) {
	l.begun = true
	if r := record(); r != "" {
		l.records = append(l.records, r)
	}
}
func (l *fakeLine) Know()  { l.known++ }
func (l *fakeLine) Leave() { l.left = true }
func (l *fakeLine) Safe() (string, int, bool) {
	return "2026-11-30T08:00:00.000Z", len(l.records), len(l.records) > 0
}

func newFake(t *testing.T) (*Frame, *fake) {
	b := &fake{t: t, text: map[string]string{}, html: map[string]string{}, attributes: map[string]string{"panel-problems hidden": "", "banner hidden": "", "welcome hidden": ""}, values: map[string]string{}, marks: map[string]string{}, checked: map[string]string{},
		kept: map[string]string{}, tabs: map[string]string{}, copies: map[string]*Copy{}, job: "null", answer: true, width: 1000, clock: "2026-11-30T09:15:00.000Z",
		lists: func() (string, string, error) { return "", "", ErrStopped }}
	b.frame = New(desk.New("test", nil), b)
	return b.frame, b
}

// turn lets everything run that waits for its time, until nothing does.
func (b *fake) turn() {
	for range 1000 {
		if len(b.later) == 0 {
			return
		}
		all := b.later
		b.later = nil
		for _, f := range all {
			f()
		}
	}
	b.t.Fatal("something waits for ever")
}

func (b *fake) SetText(id, s string) {
	b.text[id] = s
	if id == "status" && s != "" {
		b.status = append(b.status, s)
	}
}
func (b *fake) SetHTML(id, html string)             { b.html[id] = html }
func (b *fake) SetAttribute(id, name, value string) { b.attributes[id+" "+name] = value }
func (b *fake) RemoveAttribute(id, name string) {
	delete(b.attributes, id+" "+name)
	if name == "value" {
		delete(b.values, id)
	}
}
func (b *fake) SetValue(id, text string) { b.values[id] = text }
func (b *fake) Fill(r screens.Region, ifNew bool) {
	b.html[r.ID] = r.Content.String()
	if b.filled == nil {
		b.filled = map[string]string{}
	}
	b.filled[r.ID] = map[bool]string{true: "if new", false: "whole"}[ifNew]
}
func (b *fake) Remove(id string) { b.note("remove", id) }
func (b *fake) Focus(id string, still bool) {
	b.focus = id
	b.note("focus", id, still)
}
func (b *fake) HasFocus(id string) bool               { return b.focus == id }
func (b *fake) Select(id string)                      { b.note("select", id) }
func (b *fake) Reveal(screen, id string, centre bool) { b.note("reveal", screen, id, centre) }
func (b *fake) Read(screen, id string)                { b.note("read", screen, id) }
func (b *fake) ScrollTop(id string)                   { b.note("top of", id) }
func (b *fake) WindowTop(id string, lowOnly bool)     { b.note("window to", id, lowOnly) }
func (b *fake) Mark(name, value string)               { b.marks[name] = value }
func (b *fake) Title(text string)                     { b.title = text }
func (b *fake) Press(id string)                       { b.focus = "pressed " + id }
func (b *fake) Ways() []string                        { return []string{"rim and face", "Rim and face"} }
func (b *fake) TextOf(id string) string               { return b.text[id] }
func (b *fake) Shown(id string) bool                  { _, hidden := b.attributes[id+" hidden"]; return !hidden }
func (b *fake) Width(string) int                      { return b.width }
func (b *fake) Fine() bool                            { return !b.finger }
func (b *fake) ChooseTab(id string)                   { b.tab = id }
func (b *fake) ShowScreen(id string)                  { b.screen = id }
func (b *fake) Check(attribute, value string)         { b.checked[attribute] = value }
func (b *fake) Panel(_, html string)                  { b.html["panel-row"] = html }
func (b *fake) OpenDialog(id string)                  { b.dialog = id }
func (b *fake) CloseDialog() {
	if id := b.dialog; id != "" {
		b.dialog = ""
		b.later = append(b.later, func() { b.frame.DialogClosed(id) })
	}
}
func (b *fake) DialogOpen() string               { return b.dialog }
func (b *fake) NextArea(back bool, areas []Area) { b.focus = fmt.Sprint("area ", back, areas) }
func (b *fake) Confirm(text string) bool         { b.asked = append(b.asked, text); return b.answer }
func (b *fake) Print()                           { b.printed = append(b.printed, b.html["paper"]) }
func (b *fake) ViewState(answer string) {
	b.columns = parse(answer).int("columns")
	b.view = stateOf(parse(answer))
}
func (b *fake) HasColumns() bool { return b.columns > 0 }
func (b *fake) Relayout()        { b.note("layout") }
func (b *fake) Restyle()         { b.note("restyle") }
func (b *fake) Draw(done func()) {
	b.drawn++
	b.note("draw")
	b.later = append(b.later, done)
}
func (b *fake) RevealCell(row, col int)      { b.note("cell", row, col) }
func (b *fake) FocusSheet()                  { b.focus = "sheet" }
func (b *fake) SheetTop()                    { b.note("sheet top") }
func (b *fake) SheetLeft()                   { b.note("sheet left") }
func (b *fake) NextFrame(f func())           { b.when, b.later = "frame", append(b.later, f) }
func (b *fake) Painted(f func())             { b.when, b.later = "painted", append(b.later, f) }
func (b *fake) NextTurn(f func())            { b.later = append(b.later, f) }
func (b *fake) Go(f func())                  { f() }
func (b *fake) Now() string                  { return b.clock }
func (b *fake) Clock(iso string) string      { return "<" + iso + ">" }
func (b *fake) Day(iso string) string        { return "<day " + iso + ">" }
func (b *fake) HourMinute(iso string) string { return iso[11:16] }
func (b *fake) Copy(text, _ string) bool     { b.clip = text; return !b.noClip }
func (b *fake) Clipboard(f func(string, bool)) {
	if b.asks {
		f("", true)
		return
	}
	f(b.clip, false)
}
func (b *fake) CanPick() bool { return b.picks }
func (b *fake) PickFile(suggested, what string) (Target, bool) {
	b.suggested = suggested + "|" + what
	return b.picked, b.aborted
}
func (b *fake) Damage() []string {
	b.waiting()
	return b.damage
}
func (b *fake) JobInPage() []byte      { return []byte(b.job) }
func (b *fake) DigestOf(string) string { return "digest" }
func (b *fake) Licences() []string {
	b.unpacked++
	b.waiting()
	return []string{"licence"}
}
func (b *fake) PageName() string            { return "spring.html" }
func (b *fake) Kept(key string) string      { return b.kept[key] }
func (b *fake) Keep(key, value string)      { b.kept[key] = value }
func (b *fake) KeptByTab(key string) string { return b.tabs[key] }
func (b *fake) KeepByTab(key, value string) { b.tabs[key] = value }
func (b *fake) Address() string             { return "file:///spring.html" }
func (b *fake) Lines() []About {
	b.waiting()
	return slices.Clone(b.lines)
}
func (b *fake) CopyOf(line string) *Copy {
	b.waiting()
	return b.copies[line]
}
func (b *fake) Forget(line string) {
	b.forgotten = append(b.forgotten, line)
	b.lines = slices.DeleteFunc(b.lines, func(a About) bool { return a.Line == line })
}
func (b *fake) Note(line, _ string, handed bool) {
	b.noted = append(b.noted, fmt.Sprint(line, " ", handed))
}
func (b *fake) Sweep()     { b.note("sweep") }
func (b *fake) StopLists() { b.note("stop lists") }

// Watch tells of another tab only when there is one, as the browser does, and says nothing when it is stopped.
func (b *fake) Watch(_ Line, f func(bool)) func() {
	k := len(b.watched)
	b.watched = append(b.watched, f)
	return func() { b.watched[k] = nil }
}

// other is another tab that opens or leaves the job of this one.
func (b *fake) other(there bool) {
	for _, f := range b.watched {
		if f != nil {
			f(there)
		}
	}
}
func (b *fake) Later(ms int, f func()) func() {
	b.waits = append(b.waits, ms)
	stopped := false
	b.later = append(b.later, func() {
		if !stopped {
			f()
		}
	})
	return func() { stopped = true }
}
func (b *fake) Await(f func(done func())) {
	done := false
	f(func() { done = true })
	for range 1000 {
		if done {
			return
		}
		b.turn()
	}
	b.t.Fatal("nothing that is waited for comes")
}
func (b *fake) HandOver(name, kind string, parts ...string) {
	b.handed = []string{name, kind, strings.Join(parts, "")}
}
func (b *fake) HandOverPage(name, job, title, first string) {
	b.handed = []string{name, title, job, first}
}
func (b *fake) WritePage(to Target, job, title, first string) error {
	if b.writeFails == nil {
		b.handed = []string{"in " + to.Name(), title, job, first}
	}
	return b.writeFails
}
func (b *fake) FileName(job string, revision int, ending string) string {
	return fmt.Sprintf("%s-rev%d.%s", job, revision, ending)
}
func (b *fake) Unpacked(name string) string {
	b.idleThen = b.marks["idle"]
	if name != "demo" {
		b.t.Fatal("part " + name)
	}
	out := []string{}
	for _, k := range []string{"machines", "job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"} {
		list, err := os.ReadFile("../../testdata/demo/" + k + ".csv")
		if err != nil {
			b.t.Fatal(err)
		}
		out = append(out, `"`+k+`":`+string(desk.AppendText(nil, string(list))))
	}
	return "{" + strings.Join(out, ",") + "}"
}
func (b *fake) NewLine(_ string, h LineHooks) Line {
	l := &fakeLine{id: fmt.Sprint("line ", len(b.made)+1), hooks: h}
	b.made = append(b.made, l)
	return l
}
func (b *fake) Resume(c *Copy, h LineHooks) Line {
	if b.held {
		return nil
	}
	l := &fakeLine{id: c.About.Line, hooks: h, begun: true}
	b.made = append(b.made, l)
	return l
}
func (b *fake) Lists(_ string, far func(float64)) (string, string, error) {
	lists, sharing, err := b.lists()
	far(0.25)
	return lists, sharing, err
}

type fakeFile struct{ name, text string }

func (f fakeFile) Name() string   { return f.name }
func (f fakeFile) Begins() string { return f.text }
func (f fakeFile) Bytes() []byte  { return []byte(f.text) }
func (f fakeFile) Size() float64  { return float64(len(f.text)) }

type fakeTarget string

func (t fakeTarget) Name() string { return string(t) }

var errDisk = errors.New("the disk is full")

func (b *fake) ColumnName(col int) string {
	if b.nameless {
		return ""
	}
	layout := parse(b.frame.desk.Answer("layout"))
	list := layout["columns"].([]any)
	return list[col].(answer).text("name")
}
func (b *fake) PageRows() int { return 10 }
func (b *fake) OpenEditor(text string, row, col int, typed bool) {
	b.values["editor"], b.open = text, true
	b.focus = "editor"
	b.note("editor", row, col, typed)
}
func (b *fake) EditorText() string         { return b.values["editor"] }
func (b *fake) InsertInEditor(text string) { b.values["editor"] += text }
func (b *fake) PlaceEditor()               { b.note("place") }
func (b *fake) CloseEditor() {
	b.open, b.values["editor"], b.attributes["under-editor hidden"] = false, "", ""
}
func (b *fake) Show(id string)            { b.note("show", id) }
func (b *fake) Today() string             { return "2026-11-30" }
func (b *fake) PrepareWorkbook(live bool) { b.note("prepare", fmt.Sprint(live)) }
func (b *fake) StopWorker() {
	b.stopped++
	b.note("stop worker")
}
func (b *fake) Ticked(id string) bool { return b.values[id] == "true" }
func (b *fake) ReadFile(f File, choices string, far func(float64)) (string, error) {
	if f != nil {
		b.previewed = append(b.previewed, f.Name())
	}
	if b.reading != nil {
		b.reading()
	}
	far(0.25)
	b.halfway = append(b.halfway, b.values["open-busy-far"])
	b.read = append(b.read, choices)
	return b.preview, b.readFails
}
func (b *fake) TakeRows(each func(string, int, string) bool) error {
	for _, p := range b.parts {
		if b.taking != nil {
			b.taking()
		}
		if !each(p.head, p.table, p.rows) {
			return nil
		}
	}
	return b.readFails
}
func (b *fake) WriteWorkbook(original File, live bool, far func(float64)) (Content, error) {
	if b.writing != nil {
		b.writing()
	}
	far(0.25)
	return fmt.Sprint("workbook ", original != nil, " ", live), b.writeFails
}
func (b *fake) HandOverContent(name, kind string, c Content) {
	b.handed = []string{name, kind, c.(string)}
}
func (b *fake) CutShort() bool { return len(b.damage) > 0 && b.damage[0] == "end" }

package frame

import (
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// What a person types or does while the page is busy with something else is neither lost nor put elsewhere.

// A slowFile is one that takes time to be read.
type slowFile struct {
	fakeFile
	while func()
}

func (f slowFile) Bytes() []byte {
	f.while()
	return f.fakeFile.Bytes()
}

// textAt is the text of a cell of the sheet at hand, by its stored row and the key of its column.
func (f *Frame) textAt(t *testing.T, row int, key string) string {
	t.Helper()
	f.at(t, row, key)
	return parse(f.desk.Answer("info", 0)).text("text")
}

// columnOf is where the column of a key stands.
func (f *Frame) columnOf(t *testing.T, key string) int {
	t.Helper()
	for i, c := range parse(f.desk.Answer("layout"))["columns"].([]any) {
		if c.(answer).text("key") == key {
			return i
		}
	}
	t.Fatal("no column " + key)
	return -1
}

// Columns come into use while the next cell is typed into: what is typed stays in the column it was typed in.
func TestTypedWhileColumnsCome(t *testing.T) {
	f, b := started(t)
	f.Columns("")
	for row, text := range []string{"Pump 1", "Pump 2"} {
		f.at(t, row, "machine")
		f.typeIn(b, text)
		f.at(t, row, "method")
		f.typeIn(b, "reverse indicator")
		f.done()
	}
	f.Do("json")
	f.Open(fakeFile{"pumps.json", b.handed[2]}) // what a page that is opened has no use for is not shown
	b.turn()
	before := f.columnOf(t, "movable_rim_3")
	f.at(t, 0, "method")
	f.typeIn(b, "rim and face")
	f.CellKey(Key{Name: "Enter"}) // its columns are in use now
	f.at(t, 1, "movable_rim_3")
	f.typeIn(b, "-12.5")
	b.turn() // all rows are worked out
	f.LeftCell()
	if did := b.moves(b.turn); !strings.Contains(did, "layout, draw") || f.state != b.view || f.state.Columns != len(parse(f.desk.Answer("layout"))["columns"].([]any)) {
		t.Errorf("the columns are not laid out: %s", did)
	}
	if after := f.columnOf(t, "movable_rim_3"); after == before {
		t.Errorf("no column came: %d", after)
	}
	b.want(t, "the reading", f.textAt(t, 1, "movable_rim_3"), "-12.5")
	b.want(t, "its neighbour", f.textAt(t, 1, "movable_rim_12"), "")
	// they come too where nothing was typed in the end
	for _, leave := range []func(){f.LeftCell, func() { f.CellKey(Key{Name: "Escape"}) }} {
		f.at(t, 0, "method")
		f.typeIn(b, "reverse indicator")
		f.done()
		f.Do("json")
		f.Open(fakeFile{"pumps.json", b.handed[2]})
		b.turn()
		before := f.columnOf(t, "movable_rim_3")
		f.at(t, 0, "method")
		f.typeIn(b, "rim and face")
		f.CellKey(Key{Name: "Enter"})
		f.at(t, 1, "note")
		f.SheetKey(Key{Name: "F2"})
		b.turn()
		if f.columnOf(t, "movable_rim_3") != before || !b.open {
			t.Error("columns came under a cell that is typed into")
		}
		leave()
		b.turn()
		if f.columnOf(t, "movable_rim_3") == before {
			t.Error("no column came afterwards")
		}
	}
}

// A file is opened that takes time to be read. What is typed meanwhile is in the job before, and asked about.
func TestTypedWhileAFileIsRead(t *testing.T) {
	f, b := withList(t)
	f.Do("json")
	file := b.handed[2]
	b.turn()
	b.answer = false
	f.at(t, 1, "note")
	f.Open(slowFile{fakeFile{"other.json", file}, func() { f.typeIn(b, "looked at") }})
	b.turn()
	if len(b.asked) != 1 || !strings.HasPrefix(b.asked[0], "This job has changes that no file has.") {
		t.Errorf("asked: %q", b.asked)
	}
	b.want(t, "the note", f.textAt(t, 1, "note"), "looked at")
}

// A safety copy is opened while somebody types: the text is in the job that it was typed in, and in its safety copy.
func TestTypedWhileACopyIsFetched(t *testing.T) {
	f, b := withList(t)
	about, c := copyOf(t, f, "other", false)
	b.lines, b.copies["other"] = []About{about}, c
	mine := b.made[len(b.made)-1]
	f.Do("copies")
	f.at(t, 1, "note")
	before := len(mine.records)
	b.while = func() { f.typeIn(b, "looked at") }
	f.Send("copies", event("take", "0"))
	b.turn()
	if b.open {
		t.Error("the cell of the job before is open still")
	}
	if len(mine.records) != before+1 || !strings.Contains(mine.records[before], "looked at") {
		t.Errorf("the safety copy of the job before: %q", mine.records[before:])
	}
	if f.textAt(t, 1, "note") != "" {
		t.Error("the text stands in the other job")
	}
}

// Where the browser refuses the clipboard, cells that are to be cut stay as they are; where they are cut they are on it, several ranges that are no table neither.
func TestCutNeedsTheClipboard(t *testing.T) {
	f, b := withList(t)
	f.Act("go", 0, 0, false)
	b.noClip = true
	f.Do("cutCells")
	b.want(t, "told", b.text["status"], "The browser did not let the page use the clipboard.")
	b.want(t, "the cell", f.textAt(t, 0, "machine"), "Pump 1")
	b.noClip = false
	f.Do("cutCells")
	b.want(t, "told", b.text["status"], "1 row × 1 column on the clipboard.")
	b.want(t, "the clipboard", b.clip, "Pump 1")
	b.want(t, "the cell", f.textAt(t, 0, "machine"), "")
	b.want(t, "focus", b.focus, "sheet")
	f.Do("undo")
	f.Act("go", 0, f.columnOf(t, "machine"), false)
	f.Act("also", 1, f.columnOf(t, "speed"))
	f.Do("cutCells")
	if _, _, ok := f.Copied("cut"); ok || b.clip != "Pump 1" {
		t.Errorf("copied %v, clipboard %q", ok, b.clip)
	}
	if said := b.text["status"]; !strings.HasPrefix(said, "Ranges are copied together when they have the same rows or the same columns.") {
		t.Errorf("told: %q", said)
	}
	b.want(t, "the first", f.textAt(t, 0, "machine"), "Pump 1")
	b.want(t, "the second", f.textAt(t, 1, "speed"), "2960")
}

// The browser keeps no safety copy: another job takes the place of the one on the page only when the person says so.
func TestCopyOpenedWithoutSafetyCopy(t *testing.T) {
	f, b := withList(t)
	about, c := copyOf(t, f, "other", false)
	b.lines, b.copies["other"] = []About{about}, c
	b.made[0].hooks.Told("full", About{})
	b.answer = false
	f.Do("copies")
	f.Send("copies", event("take", "0"))
	if len(b.asked) != 1 || !strings.HasPrefix(b.asked[0], "This job has changes that no file has. The browser's storage is full.") || !strings.HasSuffix(b.asked[0], "\n\nOpen Job without a name, 2 rows of machines all the same?") {
		t.Errorf("asked: %q", b.asked)
	}
	b.want(t, "the machine", f.textAt(t, 1, "machine"), "Pump 2")
	if resumed := b.made[len(b.made)-1]; resumed.id != "other" || !resumed.left {
		t.Error("the copy's line is still held")
	}
	b.answer = true
	f.Send("copies", event("take", "0"))
	b.turn()
	b.want(t, "the machine", f.textAt(t, 1, "machine"), "Pump 3")
	// where the storage works nobody is asked: the job on the page stays among the copies
	b.made[len(b.made)-1].hooks.Told("", About{})
	b.asked = nil
	f.Do("copies")
	f.Send("copies", event("take", "0"))
	if len(b.asked) > 0 {
		t.Errorf("asked: %q", b.asked)
	}
}

// The mark of another tab is that of the job which is open there.
func TestOtherTabGoesWithItsJob(t *testing.T) {
	f, b := withList(t)
	b.other(true)
	b.want(t, "told", b.text["status"], "This job is open in another tab or window as well. Neither knows what the other changes: go on in one of them only.")
	b.want(t, "mark", b.text["savemark"], "not saved, open in another tab too")
	f.Do("save")
	b.want(t, "mark of what is saved", b.text["savemark"], "handed to the browser at 09:15, open in another tab too")
	f.Do("new")
	b.turn()
	for i, w := range b.watched {
		if (w != nil) != (i == len(b.watched)-1) {
			t.Errorf("tabs of job %d of %d are looked out for: %v", i+1, len(b.watched), w != nil)
		}
	}
	b.want(t, "mark of the new job", b.text["savemark"], "")
	f.Pasted("Machine\nPump 9\n")
	b.turn()
	b.want(t, "mark of its change", b.text["savemark"], "not saved")
	b.other(true)
	b.other(false)
	b.want(t, "the other tab has gone", b.text["savemark"], "not saved")
}

// A copy is forgotten only where the person says so and no other tab has opened it meanwhile; the list that is left has the focus.
func TestForget(t *testing.T) {
	f, b := withList(t)
	one, _ := copyOf(t, f, "one", false)
	two, _ := copyOf(t, f, "two", true)
	three, _ := copyOf(t, f, "three", false)
	one.Name, two.Name, three.Name, three.Revision = "One", "Two", "Three", 3
	b.lines = []About{one, two, three}
	f.Do("copies")
	b.answer = false
	f.Send("copies", event("forget", "0"))
	b.want(t, "asked", strings.Join(b.asked, "|"), "Forget One, 2 rows of machines? No file has all of it, and it cannot be brought back.")
	if len(b.forgotten) > 0 {
		t.Fatal("forgotten though nobody said so")
	}
	b.asked = nil
	f.Send("copies", event("forget", "1"))
	if len(b.asked) > 0 || strings.Join(b.forgotten, " ") != "two" {
		t.Errorf("asked %q, forgotten %q", b.asked, b.forgotten)
	}
	b.want(t, "dialog, focus", b.dialog+" "+b.focus, "dlg-copies copies-body")
	if body := b.html["copies-body"]; strings.Contains(body, "Two") || !strings.Contains(body, "Three, revision 3") {
		t.Error(body)
	}
	b.answer = true
	b.lines[1].Open = true // since it was listed
	f.Send("copies", event("forget", "1"))
	b.want(t, "told", b.text["status"], "Three, revision 3, 2 rows of machines is open in another tab by now, and stays.")
	if strings.Join(b.forgotten, " ") != "two" || !strings.Contains(b.html["copies-body"], "in another tab, which is open now") {
		t.Error(b.forgotten, b.html["copies-body"])
	}
	// where there is no job yet the same stands under the beginning of a job
	g, d := newFake(t)
	d.lines = []About{one, two}
	g.Start(0)
	d.turn()
	g.Send("copies", event("forget", "1001"))
	b.want(t, "forgotten", strings.Join(d.forgotten, " "), "two")
	if d.focus != "copies" || d.dialog != "" || !strings.Contains(d.html["copies"], "One") || strings.Contains(d.html["copies"], "Two") {
		t.Errorf("focus %q, dialog %q, %s", d.focus, d.dialog, d.html["copies"])
	}
	g.Send("copies", event("forget", "1000"))
	b.want(t, "none is left", d.html["copies"], "")
}

// What is typed while a printing waits for the packs is on the paper.
func TestTypedWhilePrintingWaits(t *testing.T) {
	f, b := withList(t)
	f.at(t, 0, "machine")
	f.Do("demo")
	b.lists = func() (string, string, error) {
		f.at(t, 0, "machine")
		f.typeIn(b, "Renamed pump")
		return "", "", ErrStopped
	}
	b.later = nil // it is about to be shared out
	f.share.soon()
	f.Do("print")
	if len(b.printed) != 1 || !strings.Contains(b.printed[0], "Renamed pump") {
		t.Error("it is not on the paper")
	}
}

// A copy of a job that came from a file of another program says which.
func TestCopyKnowsTheFileTaken(t *testing.T) {
	f, b := withList(t)
	b.preview = preview
	b.parts = parts()
	f.Open(fakeFile{"list.xlsx", "PK"})
	f.Do("takeFile")
	b.turn()
	b.want(t, "told", b.text["status"], "list.xlsx is open: 1 row. Ctrl+Z brings back the job before.")
	b.want(t, "from", b.made[len(b.made)-1].hooks.Facts().From, "list.xlsx")
}

// A reading that is typed One by one, and not done with, is in what is saved, printed, written and asked about on leaving, as one in a cell of the sheet is.
func TestTypedOneByOne(t *testing.T) {
	typed := func(f *Frame, text string) {
		f.OpenScreen("crew")
		f.Send("crew", screens.Event{Name: "focus", Arg: "0", Kind: "focus"})
		f.Send("crew", screens.Event{Name: "typed", Arg: "0", Kind: "input", Value: text})
	}
	f, b := withDemo(t)
	f.Do("json")
	typed(f, "-98.75")
	if !f.Unsaved() {
		t.Error("a page that is closed would not ask")
	}
	if l := b.made[len(b.made)-1]; !strings.Contains(strings.Join(l.records, ""), "-98.75") {
		t.Error("the safety copy does not have it")
	}
	typed(f, "-97.25")
	f.Pressed(Key{Name: "s", Ctrl: true, Typing: true})
	if !strings.Contains(b.handed[2], "-97.25") || f.Unsaved() {
		t.Error("the page that is saved lacks it")
	}
	typed(f, "-96.5")
	f.BeforePrint()
	if text := parse(f.desk.Answer("job")).text("text"); !strings.Contains(text, "-96.5") {
		t.Error("the paper lacks it")
	}
	typed(f, "-95.5")
	f.Do("workbook")
	if text := parse(f.desk.Answer("job")).text("text"); !strings.Contains(text, "-95.5") {
		t.Error("it would not be in the workbook")
	}
	b.dialog = ""
	typed(f, "-94.5")
	f.OpenScreen("board")
	if text := parse(f.desk.Answer("job")).text("text"); !strings.Contains(text, "-94.5") {
		t.Error("it went with the screen")
	}
	typed(f, "-93.5")
	f.ShowSheet(0)
	if text := parse(f.desk.Answer("job")).text("text"); !strings.Contains(text, "-93.5") {
		t.Error("it went with the screen")
	}
	// of a job that was not changed otherwise nothing is said
	f.Do("json")
	f.OpenScreen("crew")
	if f.Unsaved() {
		t.Error("looking is a change")
	}
}

// A browser is ended by force while somebody types: what is in no cell yet is on the disk beside the copy, and is told when the page is opened again. Seen: it was gone without a word.
func TestTypingIsKept(t *testing.T) {
	f, b := withList(t)
	b.text["tab-0"], b.text["tab-crew"] = "Machines", "One by one"
	l := b.made[len(b.made)-1]
	typing := func() string { return l.hooks.Facts().Typing }
	f.at(t, 0, "machine")
	b.turn()
	f.EditCell(false, "")
	b.turn()
	if typing() != "" || l.known != 0 {
		t.Errorf("an open cell with nothing typed: %q, told %d times", typing(), l.known)
	}
	b.values["editor"] = "Pump 17"
	f.CellTyped()
	b.values["editor"] = "Pump 177"
	f.CellTyped()
	b.turn()
	want := "Machines, " + b.text["cell-where"] + ": “Pump 177”"
	if typing() != want || l.known != 1 || !l.begun || l.hooks.Facts().Handed {
		t.Errorf("%q, told %d times, begun %v; want %q", typing(), l.known, l.begun, want)
	}
	f.CellKey(Key{Name: "Escape"})
	b.turn()
	if typing() != "" || l.known != 2 {
		t.Errorf("after Escape: %q, told %d times", typing(), l.known)
	}
	f.typeIn(b, "Pump 18")
	records := len(l.records)
	f.CellKey(Key{Name: "Enter"})
	b.turn()
	if typing() != "" || l.known != 2 || len(l.records) != records+1 {
		t.Errorf("after Enter: %q, told %d times, %d records", typing(), l.known, len(l.records)-records)
	}
	f.Do("demo")
	b.turn()
	f.Tab("tab-crew")
	b.turn()
	l = b.made[len(b.made)-1]
	f.Send("crew", screens.Event{Name: "typed", Arg: "0", Kind: "input", Value: "0.77"})
	b.turn()
	if !strings.HasSuffix(typing(), "Movable rim 12: “0.77”") || !strings.HasPrefix(typing(), "Intake") || l.known == 0 || !l.begun {
		t.Errorf("one by one: %q, told %d times", typing(), l.known)
	}
	f.Send("crew", screens.Event{Name: "key", Arg: "down", Kind: "click"})
	if typing() != "" {
		t.Errorf("entered: %q", typing())
	}

	// what is found again: in the copy that is gone on with, and with a file that has all else
	f, _ = withList(t)
	g, b := left(t, f, About{Line: "one"})
	b.lines[0].Typing, b.copies["one"].About.Typing = "Machines, Row 3: “17”", "Machines, Row 3: “17”"
	g.Start(0)
	b.turn()
	b.want(t, "told", b.text["status"], "Restored from the safety copy of <2026-11-29T17:00:00.000Z>. No file has these changes yet: save the page.")
	told := "Typed when the page ended, and in no cell: Machines, Row 3: “17”. Type it again where it belongs."
	b.want(t, "above everything", b.text["banner-text"]+b.shown("banner"), told+"banner")
	f, b = withList(t)
	file := parse(f.desk.Answer("job")).text("text")
	about, c := copyOf(t, f, "one", false)
	c.Head = []byte(parse(f.desk.Answer("wholeCopy", false)).text("head"))
	about.Typing = "Machines, Row 3: “17”"
	b.lines, b.copies["one"] = []About{about}, c
	f.Open(fakeFile{"spring.json", file})
	b.turn()
	b.want(t, "with the file", b.text["status"]+" "+b.text["banner-text"], "spring.json is open. "+told)
}

package frame

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// started is a page that shows its first job.
func started(t *testing.T) (*Frame, *fake) {
	f, b := newFake(t)
	f.Start(0)
	b.turn()
	return f, b
}

// withList is a page with a list of machines in it.
func withList(t *testing.T) (*Frame, *fake) {
	f, b := started(t)
	f.Pasted("Machine\tSpeed [1/min]\tNote\nPump 1\t1480\t\nPump 2\t2960\t\n")
	b.turn()
	if f.state.Rows != 2 {
		t.Fatalf("%d rows; %q", f.state.Rows, b.status)
	}
	return f, b
}

func (b *fake) want(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s: %q, want %q", what, got, want)
	}
}

// What the buttons, menus and tabs of the page say has somebody who does it, and everything that can be done is said by one.
func TestCommandsOfThePage(t *testing.T) {
	html, err := os.ReadFile("../../web/index.html")
	if err != nil {
		t.Fatal(err)
	}
	elsewhere := map[string]bool{"printCards": true} // a screen's button
	said := map[string]bool{}
	for _, m := range regexp.MustCompile(`data-do="(\w+)"`).FindAllStringSubmatch(string(html), -1) {
		said[m[1]] = true
		if commands[m[1]] == nil {
			t.Errorf("nobody does %s", m[1])
		}
	}
	for name := range commands {
		if !said[name] && !elsewhere[name] {
			t.Errorf("nothing on the page says %s", name)
		}
	}
	for _, m := range regexp.MustCompile(`data-screen="(\w+)"`).FindAllStringSubmatch(string(html), -1) {
		if !screenNames[m[1]] {
			t.Errorf("no screen %s", m[1])
		}
	}
}

func TestStart(t *testing.T) {
	f, b := started(t)
	if b.marks["ready"] != "1" || b.marks["empty"] != "1" || b.marks["idle"] != "1" {
		t.Error(b.marks)
	}
	b.want(t, "job", b.text["jobname"], "Job without a name")
	b.want(t, "mark", b.text["savemark"], "")
	b.want(t, "title", b.title, "Shimsheet")
	b.want(t, "tab", b.tab, "tab-0")
	if f.Unsaved() {
		t.Error("an empty job is said to be unsaved")
	}
	for _, id := range []string{"viewoff", "makerows"} {
		if _, hidden := b.attributes[id+" hidden"]; !hidden {
			t.Errorf("%s is to be seen", id)
		}
	}
	if _, hidden := b.attributes["welcome hidden"]; hidden {
		t.Error("the welcome is not to be seen")
	}
	f.Pasted("")
	b.want(t, "nothing pasted", b.text["status"], "There is no text on the clipboard.")
	if _, hidden := b.attributes["status-do hidden"]; !hidden {
		t.Error("a button stands there that offers nothing")
	}
}

// A list that is pasted is worked out, counted, not saved, and in the safety copy.
func TestPastedList(t *testing.T) {
	_, b := withList(t)
	b.want(t, "counts", b.text["counts"], "2 couplings: 2 not judged")
	b.want(t, "mark", b.text["savemark"], "not saved")
	b.want(t, "title", b.title, "• Shimsheet")
	b.want(t, "button", b.attributes["save class"], "main")
	if l := b.made[0]; len(l.records) == 0 || l.hooks.Facts().Handed || l.hooks.Facts().Rows != 2 {
		t.Errorf("the safety copy has %d records; %+v", len(l.records), l.hooks.Facts())
	}
	if b.marks["up"] == "0" {
		t.Error("the browser's own saved page would be taken for whole")
	}
	if !strings.HasPrefix(b.text["side-problems"], "Problems (") {
		t.Error(b.text["side-problems"])
	}
}

// A cell that is typed into is done with before anything else happens, and what came of it is told.
func TestActs(t *testing.T) {
	f, b := withList(t)
	b.want(t, "undo", b.text["undo"], "Undo paste of 2 rows")
	speed := -1
	layout, _ := f.ask("layout")
	for i, c := range layout["columns"].([]any) {
		if c.(answer).text("key") == "speed" {
			speed = i
		}
	}
	f.Act("go", 0, speed, false)
	f.typeIn(b, "1.480.5")
	f.CellKey(Key{Name: "Enter"})
	b.turn()
	if s := b.status[len(b.status)-1]; !strings.Contains(s, "1.480.5") {
		t.Errorf("told: %q", s)
	}
	if b.text["cell-wrong"] != "" {
		t.Errorf("the cursor is in the next row, where nothing is wrong: %q", b.text["cell-wrong"])
	}
	f.Act("move", -1, 0, false)
	b.turn()
	if !strings.HasPrefix(b.text["cell-help"], "Problem: ") || b.attributes["cell-help class"] != "error" {
		t.Error(b.text["cell-help"])
	}
	f.typeIn(b, "990")
	f.Do("undo")
	if b.open {
		t.Error("a cell stayed open")
	}
	b.want(t, "redo", b.text["redo"], "Redo typing")
	if _, ok := f.Act("no such operation"); ok || !strings.Contains(b.text["banner-text"], "Something went wrong") {
		t.Error(b.text["banner-text"])
	}
}

// Saving as a download: the browser cannot tell that it arrived, and the page says so.
func TestSave(t *testing.T) {
	f, b := withList(t)
	f.Do("save")
	b.want(t, "file", b.handed[0], "-rev1.html")
	if !strings.Contains(b.handed[2], "Pump 2") || !strings.Contains(b.handed[3], "Pump 2") {
		t.Error("the page lacks its job or its first list")
	}
	b.want(t, "mark", b.text["savemark"], "handed to the browser at 09:15")
	b.want(t, "title", b.title, "rev 1 <2026-11-30T09:15:00.000Z> – Shimsheet")
	if f.Unsaved() || b.made[0].known == 0 {
		t.Error("it is said to be unsaved, or the safety copy does not know")
	}
	f.Act("delete")
	b.want(t, "mark after a change", b.text["savemark"], "not saved")
	f.Do("json")
	b.want(t, "file", b.handed[0]+" "+b.handed[1], "-rev2.json application/json")
}

// Where a file can be picked it is written, again into the same one; a failure leaves the job unsaved.
func TestSaveIntoAFile(t *testing.T) {
	f, b := withList(t)
	b.picks, b.aborted = true, true
	f.Do("save")
	b.want(t, "told", b.text["status"], "Not saved: no file was chosen.")
	if !f.Unsaved() || len(b.handed) > 0 {
		t.Error("saved without a file")
	}
	b.aborted, b.picked = false, fakeTarget("spring.html")
	f.Do("save")
	b.want(t, "mark", b.text["savemark"], "saved in spring.html at 09:15")
	b.picked = fakeTarget("other.html")
	f.Do("save")
	b.want(t, "again", b.handed[0], "in spring.html")
	f.Do("saveAs")
	b.want(t, "elsewhere", b.handed[0], "in other.html")
	f.Act("delete")
	b.writeFails = errDisk
	f.Do("save")
	b.want(t, "failure", b.text["status"], "other.html could not be written (the disk is full). The job is still not saved: save it again.")
	b.want(t, "mark", b.text["savemark"], "not saved")
	// a page that is damaged writes no other
	b.damage, b.handed = []string{"wasm"}, nil
	f.Do("save")
	if len(b.handed) > 0 || !strings.Contains(b.text["banner-text"], "damaged (wasm)") {
		t.Error(b.handed, b.text["banner-text"])
	}
}

// Another job takes the place of this one only when the person says so, and the way back keeps what was not saved.
func TestLeave(t *testing.T) {
	f, b := withList(t)
	b.answer = false
	f.Do("new")
	if f.state.Rows != 2 || !strings.HasPrefix(b.asked[0], "This job has changes that no file has. A safety copy stays in this browser.\n\nBegin a new job all the same?") {
		t.Errorf("%q", b.asked)
	}
	b.answer = true
	f.Do("demo")
	b.turn()
	if f.state.Machines < 20 || !b.made[0].left {
		t.Errorf("%d machines, the job before left %v", f.state.Machines, b.made[0].left)
	}
	b.want(t, "idle while the demo is unpacked", b.idleThen, "0") // a browser test went on then and saw no column
	b.want(t, "job", b.text["jobname"], "Spring shutdown: couplings")
}

// The storage of the browser fails: that is told once, and stands at the mark until it works again.
func TestStorageFails(t *testing.T) {
	f, b := withList(t)
	b.made[0].hooks.Told("full", About{})
	if s := b.text["status"]; !strings.HasPrefix(s, "The browser's storage is full. On the disk is the state of <2026-11-30T08:00:00.000Z>") {
		t.Error(s)
	}
	b.want(t, "mark", b.text["savemark"], "not saved, no safety copy")
	b.made[0].hooks.Told("", About{})
	b.want(t, "mark", b.text["savemark"], "not saved")
	b.made[0].hooks.Told("room", About{Name: "Autumn", Changed: "2026-10-01T00:00:00.000Z"})
	if !strings.Contains(b.text["status"], "the earlier copy of Autumn") {
		t.Error(b.text["status"])
	}
	_ = f
}

// copyOf makes a safety copy of the job at hand with one machine more.
func copyOf(t *testing.T, f *Frame, line string, handed bool) (About, *Copy) {
	t.Helper()
	c := &Copy{Head: []byte(strings.Replace(f.desk.Answer("wholeCopy", false), "Pump 2", "Pump 3", 1))}
	head := parse(string(c.Head)).text("head")
	c.Head = []byte(head)
	c.About = About{Line: line, Job: f.state.ID, Changes: 5, Rows: 2, Changed: "2026-11-29T17:00:00.000Z", Began: "2026-11-29T07:00:00.000Z", Handed: handed}
	return c.About, c
}

// A tab that is opened again goes on with the only work that no file has; its own line, where it can be had.
func TestRestore(t *testing.T) {
	for _, held := range []bool{false, true} {
		f, b := withList(t)
		about, c := copyOf(t, f, "left", false)
		g, d := newFake(t)
		d.lines, d.copies["left"], d.held = []About{about}, c, held
		g.Start(0)
		d.turn()
		if g.state.Rows != 2 || !strings.HasPrefix(d.text["status"], "Restored from the safety copy of <2026-11-29T17:00:00.000Z>. No file has these changes yet") {
			t.Errorf("%d rows, %q", g.state.Rows, d.text["status"])
		}
		d.want(t, "offer", d.text["status-do"], "Begin a new job")
		if own := d.made[len(d.made)-1].id == "left"; own == held {
			t.Errorf("goes on with %s", d.made[len(d.made)-1].id)
		}
		g.Do("offered")
		if g.state.Rows != 0 {
			t.Error("no new job was begun")
		}
		_ = b
	}
	// two of them: the person chooses
	f, _ := withList(t)
	one, c1 := copyOf(t, f, "one", false)
	two, c2 := copyOf(t, f, "two", false)
	g, d := newFake(t)
	d.lines, d.copies = []About{one, two}, map[string]*Copy{"one": c1, "two": c2}
	g.Start(0)
	d.turn()
	if g.state.Rows != 0 || !strings.Contains(d.html["copies"], `data-on="take" data-arg="1001"`) {
		t.Errorf("%q", d.html["copies"])
	}
	g.Send("copies", event("take", "1001"))
	if g.state.Rows != 2 || d.made[len(d.made)-1].id != "two" {
		t.Error("the second was not opened")
	}
}

// A file is opened of which this browser holds another state: the person chooses, nothing else closes the question, and what was not chosen is set aside.
func TestChoose(t *testing.T) {
	f, b := withList(t)
	file := parse(f.desk.Answer("job")).text("text")
	about, c := copyOf(t, f, "mine", false)
	b.lines, b.copies["mine"] = []About{about}, c
	f.Open(fakeFile{"spring.json", file})
	b.turn()
	b.want(t, "dialog", b.dialog, "dlg-copies")
	if body := b.html["copies-body"]; !strings.Contains(body, "1 row differs (1 text)") || !strings.Contains(body, "<td>Pump 2</td><td>Pump 3</td>") {
		t.Error(body)
	}
	if _, waits := b.attributes["dlg-copies data-waits"]; !waits || b.focus != "copies-body" {
		t.Error("the dialog can be closed without an answer, or a button has the focus")
	}
	f.Send("copies", event("go", "-1"))
	if b.dialog != "" || !slices.Equal(b.noted, []string{"mine false"}) {
		t.Error(b.dialog, b.noted)
	}
	if _, waits := b.attributes["dlg-copies data-waits"]; waits {
		t.Error("the dialog would open again when it is closed")
	}
	b.want(t, "told", b.text["status"], "Going on with spring.json. What was not chosen stays under File, Earlier copies…")
	// the copy that a file has is asked for no more, and one that is chosen is gone on with
	f.Open(fakeFile{"spring.json", file})
	b.turn()
	f.Send("copies", event("go", "0"))
	if b.made[len(b.made)-1].id != "mine" {
		t.Error("the copy was not opened")
	}
	f.Do("copies")
	f.Send("copies", event("compare", "0"))
	if len(b.html["copies-body"]) == 0 {
		t.Error("no copies are listed")
	}
}

func event(name, arg string) screens.Event { return screens.Event{Name: name, Arg: arg, Kind: "click"} }

// Files that are no job of ours go to the program for workbook files.
func TestOpen(t *testing.T) {
	f, b := started(t)
	for _, c := range []struct {
		file fakeFile
		ours bool
	}{
		{fakeFile{"list.xlsx", "PK"}, false}, {fakeFile{"list.csv", "{"}, false}, {fakeFile{"list.ods", "<"}, false}, {fakeFile{"list.xls", "\xd0"}, false}, {fakeFile{"list", "Machine"}, false},
		{fakeFile{"list.xls", "<html>"}, false}, {fakeFile{"list.xlsx", "{"}, false}, {fakeFile{"list.XLSB", "{"}, false}, {fakeFile{".csv", "{"}, false}, {fakeFile{"job.xlsxcopy", "{"}, true}, {fakeFile{"job.2026", "\r\n{"}, true},
		{fakeFile{"saved", "\ufeff <html>"}, true}, {fakeFile{"a.JSON", ""}, true}, {fakeFile{"a.htm", ""}, true}, {fakeFile{"a.txt", "{}"}, true},
	} {
		b.previewed, b.dialog = nil, ""
		f.Open(c.file)
		if ours := len(b.previewed) == 0; ours != c.ours {
			t.Errorf("%s: a job of ours %v, want %v", c.file.name, ours, c.ours)
		}
	}
	// Seen: a file that was dropped while a dialog was open was passed over without a word.
	b.dialog, b.previewed, b.asked = "dlg-open", nil, nil
	for _, b.answer = range []bool{false, true} {
		f.Open(fakeFile{"list.csv", ""})
		b.turn()
		if last := b.asked[len(b.asked)-1]; !strings.Contains(last, "open list.csv?") || len(b.previewed) > 0 != b.answer {
			t.Errorf("%q, answered %v: %v opened", last, b.answer, b.previewed)
		}
	}
	b.dialog, b.previewed, f.copies.states = "dlg-copies", nil, make([]state, 2)
	f.Open(fakeFile{"list.csv", ""})
	b.turn()
	if last := b.asked[len(b.asked)-1]; !strings.Contains(last, "list.csv is not opened") || len(b.previewed) > 0 || b.dialog != "dlg-copies" {
		t.Errorf("%q, %v, %s", last, b.previewed, b.dialog)
	}
}

func TestKeys(t *testing.T) {
	f, b := withList(t)
	f.Do("demo")
	b.turn()
	for _, c := range []struct {
		key  Key
		want func() bool
	}{
		{Key{Name: "k", Ctrl: true}, func() bool { return b.screen == "tables" && b.tab == "tab-tables" }},
		{Key{Name: "Escape"}, func() bool { return b.screen == "" && b.focus == "sheet" }},
		{Key{Name: "F6"}, func() bool { return strings.HasPrefix(b.focus, "area false [{work grid} {side panel-row}") }},
		{Key{Name: "P", Ctrl: true}, func() bool { return len(b.printed) == 1 && strings.Contains(b.printed[0], "Marrow Ridge") }},
		{Key{Name: "f", Ctrl: true}, func() bool { return b.focus == "find-text" }},
		{Key{Name: "F1"}, func() bool { return b.dialog == "dlg-help" }},
	} {
		if !f.Pressed(c.key) || !c.want() {
			t.Errorf("%+v: focus %q, screen %q, dialog %q, printed %d", c.key, b.focus, b.screen, b.dialog, len(b.printed))
		}
		b.turn()
	}
	if f.Pressed(Key{Name: "f", Ctrl: true}) {
		t.Error("a key was taken from a dialog")
	}
	// Seen: Ctrl+Z on the screen where records are signed took back a paste into Machines, which is not in sight there, and said "Undone: paste of 3 rows."
	b.dialog = ""
	f.at(t, 0, "machine")
	f.typeIn(b, "Pump 9")
	f.done()
	b.text["tab-0"] = "Machines"
	f.Tab("tab-record")
	b.turn()
	f.Pressed(Key{Name: "z", Ctrl: true})
	b.want(t, "told", b.text["status"], "On the sheet Machines: Undone: typing.")
	f.Tab("tab-0")
	b.turn()
	b.dialog = "dlg-help"
	// Seen: Ctrl+S in a dialog was the browser's own saving, whose file lacks what was typed.
	if rev := f.state.Revision; !f.Pressed(Key{Name: "s", Ctrl: true}) || f.state.Revision != rev+1 {
		t.Error("Ctrl+S in a dialog does not save")
	}
	b.dialog = ""
	for _, k := range []Key{{Name: "a"}, {Name: "z", Ctrl: true, Typing: true}, {Name: "Escape", Taken: true, Beside: true}, {Name: "Escape"}} {
		if f.Pressed(k) {
			t.Errorf("%+v was taken", k)
		}
	}
}

// Each screen is shown, asked when the job changes, and says so where it has something to print.
func TestScreens(t *testing.T) {
	f, b := withList(t)
	f.Do("demo")
	b.turn()
	for name := range screenNames {
		f.Tab("tab-" + name)
		b.turn()
		if b.screen != name || b.tab != "tab-"+name || b.html["screen-"+name] == "" {
			t.Errorf("%s is not shown", name)
		}
		b.html["paper"] = ""
		f.BeforePrint()
		if b.html["paper"] == "" && !onPaper[name] {
			t.Errorf("%s leaves the paper empty", name)
		}
	}
	f.Tab("tab-8")
	b.turn()
	if f.Screen() != "" || f.state.Sheet != 8 {
		t.Error("the sheet Checks is not shown")
	}
	f.Jump(0, 3, 1)
	if f.state.Sheet != 0 || f.state.Row != 3 {
		t.Errorf("%+v", f.state)
	}
}

// The stock is shared out once for a state of the job, of itself a moment after a change; a failure is told where the packs stand.
func TestSharing(t *testing.T) {
	f, b := started(t)
	n := 0
	b.lists = func() (string, string, error) { n++; return "", "", errDisk }
	f.Do("demo")
	b.turn()
	if n != 1 || b.marks["sharing"] != "0" {
		t.Errorf("%d sharings, mark %q", n, b.marks["sharing"])
	}
	f.Act("go", 1, 0, false)
	b.turn()
	if n != 1 {
		t.Error("the cursor's way had the stock shared out")
	}
}

// What was matched is kept for the next job, each header of a sheet once, the last first.
func TestRemember(t *testing.T) {
	f, b := newFake(t)
	f.remember("Machines\x1fTag\x1fmachine\x1f\x1e")
	f.remember("Machines\x1frpm\x1fspeed\x1f\x1eMachines\x1fTAG\x1fmachine\x1f\x1e")
	b.want(t, "kept", b.kept[headersKey], `[["Machines","rpm","speed"],["Machines","TAG","machine"]]`)
	b.want(t, "for the worker", f.Choices(""), `{"sheets":[],"before":[{"sheet":"Machines","header":"rpm","means":"speed"},{"sheet":"Machines","header":"TAG","means":"machine"}]}`)
	b.kept[headersKey] = `[["a","b"],[1,2,3],["x","y","z"]]`
	if h := f.headers(); len(h) != 1 || h[0][0] != "x" {
		t.Error(h)
	}
	b.kept[headersKey] = `[["a"`
	if h := f.headers(); h != nil {
		t.Error(h)
	}
}

// typeIn types into the cell under the cursor as a person does: a key opens it, the letters come.
func (f *Frame) typeIn(b *fake, text string) {
	f.SheetKey(Key{Name: "1"})
	b.values["editor"] = text
	f.CellTyped()
}

// at goes to a cell by the key of its column.
func (f *Frame) at(t *testing.T, row int, key string) {
	t.Helper()
	layout, _ := f.ask("layout")
	for i, c := range layout["columns"].([]any) {
		if c.(answer).text("key") == key {
			f.Act("go", row, i, false)
			return
		}
	}
	t.Fatal("no column " + key)
}

// Keys in an open cell: what is typed is told, taken by Enter, Tab or leaving, thrown away by Escape; arrows take it where a key began it and stay in it after F2.
func TestCellKeys(t *testing.T) {
	f, b := withList(t)
	f.at(t, 0, "speed")
	cell := func() string { f.at(t, 0, "speed"); return f.desk.Answer("info", 0) }
	f.typeIn(b, "2980")
	if b.text["editor-meaning"] == "" {
		t.Error("nothing is told of what is typed")
	}
	if taken, on := f.CellKey(Key{Name: "ArrowDown"}); !taken || on || b.open || f.state.Row != 1 {
		t.Error("an arrow did not take what a key began", taken, on, b.open, f.state.Row)
	}
	if !strings.Contains(cell(), `"text":"2980"`) {
		t.Error(cell())
	}
	f.SheetKey(Key{Name: "F2"})
	b.want(t, "to be edited", b.values["editor"], "2980")
	if taken, _ := f.CellKey(Key{Name: "ArrowLeft"}); taken || !b.open {
		t.Error("an arrow left a cell that is edited")
	}
	f.CellKey(Key{Name: "Enter", Alt: true})
	b.want(t, "a line more", b.values["editor"], "2980\n")
	f.CellKey(Key{Name: "Escape"})
	if !strings.Contains(cell(), `"text":"2980"`) || b.open {
		t.Error("Escape kept what was typed")
	}
	f.typeIn(b, "1490")
	f.LeftCell()
	if !strings.Contains(cell(), `"text":"1490"`) {
		t.Error("what was typed went with the focus")
	}
	if taken, on := f.CellKey(Key{Name: "s", Ctrl: true}); taken || !on {
		t.Error("Ctrl+S does not reach the page")
	}
	if taken, on := f.CellKey(Key{Name: "a", Ctrl: true}); taken || on {
		t.Error("Ctrl+A in a cell reaches the page")
	}
	if f.SheetKey(Key{Name: "Dead", Composing: true}); !b.open {
		t.Error("a letter of several strokes opens no cell")
	}
	f.CellKey(Key{Name: "Escape"})
	f.SheetKey(Key{Name: ";", Ctrl: true})
	b.want(t, "today", b.values["editor"], "2026-11-30")
	f.CellKey(Key{Name: "Escape"})
}

// Words that a column takes are offered, those that begin with what is typed first; Enter takes the only one that it can be the beginning of.
func TestWordsOffered(t *testing.T) {
	f, b := withList(t)
	f.Do("demo")
	b.turn()
	f.at(t, 0, "coupling")
	f.typeIn(b, "fl")
	if list := b.html["editor-choices"]; strings.Count(list, "<li") != 1 || !strings.Contains(list, "flexible") {
		t.Error(list)
	}
	if !strings.Contains(b.text["editor-meaning"], "flexible") {
		t.Errorf("%q", b.text["editor-meaning"])
	}
	f.CellKey(Key{Name: "Tab"})
	f.at(t, 0, "coupling")
	if a := f.desk.Answer("info", 0); !strings.Contains(a, `"text":"flexible"`) {
		t.Error(a)
	}
	f.SheetKey(Key{Name: "F2"})
	f.CellKey(Key{Name: "ArrowUp"})
	last := b.values["editor"]
	f.CellKey(Key{Name: "ArrowDown"})
	if b.values["editor"] == last || b.values["editor"] == "" {
		t.Errorf("the list does not go round: %q, %q", last, b.values["editor"])
	}
	f.TakeWord(0)
	if b.open || f.state.Row != 1 {
		t.Error("a word that was pressed was not taken")
	}
}

// Keys on the sheet.
func TestSheetKeys(t *testing.T) {
	f, b := withList(t)
	f.Act("go", 0, 0, false)
	for _, c := range []struct {
		key  Key
		want string
	}{
		{Key{Name: "ArrowDown"}, "[1 0 1 0]"}, {Key{Name: "ArrowUp", Shift: true}, "[0 0 1 0]"}, {Key{Name: "Home"}, "[0 0 0 0]"},
		{Key{Name: "PageDown"}, "[10 0 10 0]"}, {Key{Name: "PageUp"}, "[0 0 0 0]"}, {Key{Name: "Tab"}, "[0 3 0 3]"}, {Key{Name: "Tab", Shift: true}, "[0 0 0 0]"},
		{Key{Name: " ", Ctrl: true}, "[0 0 1 0]"},
	} {
		if !f.SheetKey(c.key) {
			t.Errorf("%+v is left to the browser", c.key)
		}
		b.want(t, c.key.Name, fmt.Sprint(f.state.Sel), c.want)
	}
	if f.SheetKey(Key{Name: "q", Ctrl: true}) || f.SheetKey(Key{Name: "ArrowDown", Alt: true, Shift: true}) || f.SheetKey(Key{Name: "F9"}) {
		t.Error("a key of the browser's was taken")
	}
	f.Act("go", 0, 0, false)
	f.SheetKey(Key{Name: "ArrowDown", Alt: true})
	f.Act("go", 0, 0, false)
	b.turn()
	b.want(t, "the row moved", b.text["cell-text"], "Pump 2")
	f.SheetKey(Key{Name: "Delete"})
	b.turn()
	b.want(t, "emptied", b.text["cell-text"], "")
}

// What the menus View and Rows and cells do; results that are copied are told.
func TestMenus(t *testing.T) {
	f, b := withList(t)
	f.View("theme-set", "sun", "")
	f.View("panel-set", "hidden", "")
	if b.marks["theme"] != "sun" || b.kept["shimsheet:colours"] != "sun" || b.checked["theme-set"] != "sun" || b.marks["panel"] != "hidden" {
		t.Error(b.marks, b.kept)
	}
	f.View("units", "inch", "Inch")
	b.want(t, "units", b.checked["units"]+" "+b.text["status"], "inch Shown: Inch. What is typed stays as it is.")
	f.View("results-first", "true", "")
	f.View("all", "true", "")
	if b.checked["results-first"] != "true" || b.checked["all"] != "true" {
		t.Error(b.checked)
	}
	f.Act("go", 0, 0, false)
	f.Act("go", 1, 0, true)
	f.Do("copyCells")
	b.want(t, "copied", b.clip+b.text["status"], "Pump 1\r\nPump 22 rows × 1 column on the clipboard.")
	b.noClip = true
	f.Do("copyHeads")
	b.want(t, "refused", b.text["status"], "The browser did not let the page use the clipboard.")
	if plain, _, ok := f.Copied("cut"); !ok || plain != "Pump 1\r\nPump 2" {
		t.Errorf("%q", plain)
	}
	f.Do("csv")
	if b.handed[1] != "text/csv" || !strings.HasPrefix(b.handed[2], "\ufeff") {
		t.Error(b.handed)
	}
}

// A page that is opened anew with its job shows it; one that is damaged is refused, and opened as far as it goes only when asked.
func TestJobInPage(t *testing.T) {
	f, _ := withList(t)
	job := parse(f.desk.Answer("save", "2026-11-30T07:00:00.000Z")).text("text")
	g, b := newFake(t)
	b.job = job
	g.Start(3)
	b.turn()
	b.want(t, "mark", b.text["savemark"], "saved <2026-11-30T07:00:00.000Z>")
	if g.state.Rows != 2 || !strings.Contains(b.text["banner-text"], "lacks 3 changes") {
		t.Error(g.state.Rows, b.text["banner-text"])
	}
	g, b = newFake(t)
	b.job = strings.Replace(job, "Pump 2", "Pump 9", 1)
	g.Start(0)
	b.turn()
	if g.state.Rows != 0 || !strings.Contains(b.text["banner-text"], "cannot be opened") {
		t.Error(g.state.Rows, b.text["banner-text"])
	}
	g.Do("offered")
	if g.state.Rows != 2 || !strings.Contains(b.text["banner-text"], "was damaged on the way") {
		t.Error(g.state.Rows, b.text["banner-text"])
	}
}

// A workbook: what stands in the dialog while it is written, what it is called, and what is said where it could not be.
func TestWriteWorkbook(t *testing.T) {
	f, b := started(t)
	f.Do("workbook")
	f.Do("writeWorkbook")
	b.want(t, "an empty job", b.text["workbook-said"], "There is no machine yet.")
	f, b = withList(t)
	f.Do("workbook")
	b.want(t, "dialog", b.dialog+" "+b.focus, "dlg-workbook workbook-save")
	b.values["workbook-live"] = "true"
	f.Do("writeWorkbook")
	b.want(t, "fresh", strings.Join(b.handed, "|"), "-rev0.xlsx|application/vnd.openxmlformats-officedocument.spreadsheetml.sheet|workbook false true")
	b.want(t, "dialog", b.dialog, "")
	f.Do("workbook")
	f.WriteWorkbook(fakeFile{"my.list.XLSM", ""})
	b.want(t, "added", b.handed[0]+" "+b.handed[1], "my.list with results.xlsm application/vnd.ms-excel.sheet.macroEnabled.12")
	if !strings.Contains(b.text["status"], "Your own file is as it was.") {
		t.Error(b.text["status"])
	}
	b.writeFails = errDisk
	f.Do("workbook")
	f.WriteWorkbook(fakeFile{"my.xlsx", ""})
	b.want(t, "refused", b.text["workbook-said"], "my.xlsx: nothing was added. The disk is full.")
	if _, off := b.attributes["workbook-save disabled"]; off || b.dialog == "" {
		t.Error("it cannot be tried again")
	}
}

// A file from elsewhere is read, again with what was chosen, and taken; what fails is said in the dialog.
func TestTakeFile(t *testing.T) {
	f, b := withList(t)
	b.readFails = errDisk
	f.Open(fakeFile{"list.xlsx", "PK"})
	if !strings.Contains(b.html["open-body"], "The disk is full.") {
		t.Error(b.html["open-body"])
	}
	b.dialog = ""
	f.DialogClosed("dlg-open")
	if f.file != nil || b.stopped == 0 {
		t.Error("the worker goes on after the dialog was closed")
	}
	b.readFails = nil
	f.Open(fakeFile{"list.xlsx", "PK"})
	f.reread("[]")
	if len(b.read) != 3 || b.attributes["open-body aria-busy"] != "" {
		t.Error(b.read, b.attributes["open-body aria-busy"])
	}
	f.Do("takeFile") // nothing was read that can be taken
	if !strings.Contains(b.html["open-body"], "did not take the job") {
		t.Error(b.html["open-body"])
	}
}

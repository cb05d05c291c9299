package frame

import (
	"fmt"
	"strings"
	"testing"
)

// How far a job is saved: what the mark beside its name says, what the window is called, what is asked before something is lost, and what the safety copy knows.

// Marks, titles and buttons at each stage of a job's saving.
func TestMarks(t *testing.T) {
	f, b := withList(t)
	marks := func() string {
		return strings.Join([]string{b.text["savemark"], b.has("savemark", "class"), b.has("save", "class"), b.title}, "|")
	}
	b.want(t, "not saved", marks(), "not saved|unsaved|main|• Shimsheet")
	f.Do("save")
	b.want(t, "saved", marks(), "handed to the browser at 09:15|||rev 1 <2026-11-30T09:15:00.000Z> – Shimsheet")
	b.want(t, "its name", b.text["jobname"], "Job without a name, revision 1")
	f.ShowSheet(1)
	for row := range 40 {
		if f.Act("go", row, 0, false); parse(f.desk.Answer("info", 0)).text("text") == "Job" || strings.HasPrefix(parse(f.desk.Answer("info", 0)).text("text"), "Name") {
			break
		}
	}
	f.Act("go", f.state.Row, 1, false)
	f.typeIn(b, "Autumn")
	f.done()
	b.turn()
	b.want(t, "named", b.text["jobname"], "Autumn, revision 1")
	b.want(t, "changed", marks(), "not saved|unsaved|main|• Autumn rev 1 <2026-11-30T09:15:00.000Z> – Shimsheet")
	f.Do("json")
	b.want(t, "saved again", marks(), "handed to the browser at 09:15|||Autumn rev 2 <2026-11-30T09:15:00.000Z> – Shimsheet")
	b.want(t, "file", b.handed[0]+" "+b.handed[1], "Autumn-rev2.json application/json")
	b.want(t, "told", b.text["status"], "Autumn-rev2.json was handed to the browser at 09:15. Look in your downloads that it arrived; the page cannot know.")
	// a file that is opened is as it was opened, until it is changed
	f.Open(fakeFile{"autumn.json", b.handed[2]})
	b.turn()
	b.want(t, "as opened", marks(), "as opened|||Autumn rev 2 <2026-11-30T09:15:00.000Z> – Shimsheet")
	b.want(t, "told", b.text["status"], "autumn.json is open.")
	f.ShowSheet(0)
	f.at(t, 0, "machine")
	f.Act("delete")
	b.want(t, "changed", marks(), "not saved|unsaved|main|• Autumn rev 2 <2026-11-30T09:15:00.000Z> – Shimsheet")
	f.Do("undo") // a change too
	b.want(t, "undone", b.text["savemark"], "not saved")
}

// A saving that is under way is not begun again, and one that ends lets the next begin; the cell that is typed into is in it.
func TestSavingUnderWay(t *testing.T) {
	f, b := withList(t)
	b.while = func() { // while the page's own file is looked at
		f.Do("save")
		b.want(t, "told", b.text["status"], "The last saving is still under way.")
		f.at(t, 0, "note")
		f.typeIn(b, "typed late")
	}
	f.Do("save")
	if !strings.Contains(b.handed[2], "typed late") || f.state.Revision != 1 || f.Unsaved() {
		t.Errorf("revision %d, unsaved %v", f.state.Revision, f.Unsaved())
	}
	f.Do("save")
	b.want(t, "again", b.handed[0], "-rev2.html")
	f.at(t, 0, "note")
	f.typeIn(b, "on leaving")
	if !f.Unsaved() || b.open {
		t.Error("a cell that is typed into is no change")
	}
}

// A picked file: the page names it and what it holds; where the browser forbids picking it is a download.
func TestPickedFile(t *testing.T) {
	f, b := withList(t)
	b.picks = true
	f.Do("save") // no file and nobody aborted: picking is forbidden here
	b.want(t, "a download", b.handed[0], "-rev1.html")
	b.want(t, "mark", b.text["savemark"], "handed to the browser at 09:15")
	b.picked = fakeTarget("spring.html")
	f.Do("save")
	b.want(t, "told", b.text["status"]+"|"+b.suggested, "Saved in spring.html.|-rev2.html|Page with the job inside")
	b.want(t, "title in the file", b.handed[1], "rev 2 <2026-11-30T09:15:00.000Z> – Shimsheet")
	if b.handed[3] == "" {
		t.Error("no first list in it")
	}
	f.Do("json")
	b.want(t, "JSON is a download", b.handed[0], "-rev3.json")
	// another job is saved into another file
	f.Do("new")
	b.picked = fakeTarget("new.html")
	f.Do("save")
	b.want(t, "another job", b.handed[0], "in new.html")
	// after a failure a file is picked anew
	f.Columns("")
	b.writeFails = errDisk
	f.Do("save")
	// Seen: title and papers then named a revision, and a time of saving, of which there was no file.
	if !f.Unsaved() || !strings.HasPrefix(b.title, "• rev 1 ") {
		t.Errorf("a failure is taken for saved: %q", b.title)
	}
	b.writeFails, b.picked = nil, fakeTarget("elsewhere.html")
	f.Do("save")
	b.want(t, "picked anew", b.handed[0]+" "+b.suggested, "in elsewhere.html -rev2.html|Page with the job inside")
	if f.Unsaved() {
		t.Error("unsaved")
	}
}

// The results as a list: a file that says it holds no job; nothing where there is no machine.
func TestResultsHanded(t *testing.T) {
	f, b := started(t)
	if f.Do("csv"); b.handed != nil || b.text["status"] == "" {
		t.Errorf("%q, told %q", b.handed, b.text["status"])
	}
	f, b = withDemo(t)
	f.Do("csv")
	b.want(t, "file", b.handed[0]+" "+b.handed[1], "Spring shutdown: couplings-rev0.csv text/csv")
	b.want(t, "told", b.text["status"], "Spring shutdown: couplings-rev0.csv was handed to the browser. It holds the results, not the job: save the page as well.")
	if !strings.Contains(b.handed[2], "raw water pump 1") || !f.Unsaved() {
		t.Error("no results, or they are taken for the job")
	}
	b.want(t, "name", f.SaveName("xlsx"), "Spring shutdown: couplings-rev0.xlsx")
}

// What the safety copy is told of the job: nothing that was not changed, each change once, what is known of it, and where it began.
func TestSafetyCopyKnows(t *testing.T) {
	f, b := withList(t)
	l := b.made[len(b.made)-1]
	n := len(l.records)
	b.want(t, "facts", facts(l), "- rev0 changes1 rows2 handed:false from: follows: spring.html 2026-11-30T09:15:00.000Z")
	f.Act("move", 1, 0, false)
	f.Do("find")
	b.dialog = ""
	if len(l.records) != n {
		t.Error("nothing changed, and it was kept")
	}
	f.at(t, 0, "machine")
	f.Act("delete")
	f.Act("resultsFirst", true) // how the sheet is looked at is kept too
	if len(l.records) != n+2 && len(l.records) != n+1 {
		t.Errorf("%d records more", len(l.records)-n)
	}
	if !l.hooks.OnPage() {
		t.Error("it is not the one on the page")
	}
	n = len(l.records)
	f.Do("save")
	if len(l.records) != n+1 {
		t.Error("the safety copy does not know of the revision")
	}
	b.want(t, "saved", facts(l), "- rev1 changes2 rows2 handed:true from: follows: spring.html 2026-11-30T09:15:00.000Z")
	if l.known != 1 {
		t.Errorf("told %d times", l.known)
	}
	// the first letter of a job that was opened has its whole copy begun, ahead of the change
	f.Do("json")
	f.Open(fakeFile{"a.json", b.handed[2]})
	b.turn()
	l2 := b.made[len(b.made)-1]
	if l2 == l || l2.begun || l.hooks.OnPage() || !l.left {
		t.Errorf("a line for each job: %v, begun %v, still on the page %v, left %v", l2 != l, l2.begun, l.hooks.OnPage(), l.left)
	}
	f.Act("go", 0, 0, false)
	f.Act("resultsFirst", false)
	if l2.begun {
		t.Error("begun by looking")
	}
	f.Do("save") // what was not changed needs no copy
	if l2.begun || l2.known > 0 {
		t.Error("begun by saving")
	}
	f.at(t, 0, "verdict")
	if f.SheetKey(Key{Name: "1"}); l2.begun {
		t.Error("begun by a cell that cannot be typed into")
	}
	f.at(t, 0, "machine")
	if f.SheetKey(Key{Name: "F2"}); !l2.begun || len(l2.records) > 0 {
		t.Error("not begun by opening a cell")
	}
	b.want(t, "opened", facts(l2), "- rev3 changes0 rows2 handed:true from:a.json follows: spring.html 2026-11-30T09:15:00.000Z")
	f.CellKey(Key{Name: "Escape"})
	f.Act("go", 1, 0, false)
	f.Act("resultsFirst", true)
	if len(l2.records) != 1 {
		t.Errorf("%d records of how it is looked at", len(l2.records))
	}
}

func facts(l *fakeLine) string {
	a := l.hooks.Facts()
	name := a.Name
	if name == "" {
		name = "-"
	}
	return fmt.Sprintf("%s rev%d changes%d rows%d handed:%v from:%s follows:%s %s %s", name, a.Revision, a.Changes, a.Rows, a.Handed, a.From, a.Follows, a.Page, a.Began)
}

// The storage fails: what is on the disk and what is on this page alone is told once; the mark keeps saying so.
func TestKeepingFails(t *testing.T) {
	f, b := withList(t)
	l := b.made[0]
	l.records = nil
	l.hooks.Told("none", About{})
	const none = "The browser keeps no storage for this page. Nothing of this job is on the disk: what is typed is on this page alone. Save the page now, and often."
	b.want(t, "told", b.text["status"], none)
	b.want(t, "mark", b.text["savemark"]+"|"+b.has("savemark", "title"), "not saved, no safety copy|"+none)
	b.text["status"] = ""
	l.records = []string{"one"}
	f.Act("go", 0, 0, false)
	f.Act("delete")
	b.text["status"] = ""
	l.hooks.Told("none", About{})
	b.want(t, "told once", b.text["status"], "")
	b.want(t, "but kept", b.has("savemark", "title"), "The browser keeps no storage for this page. On the disk is the state of <2026-11-30T08:00:00.000Z>; 0 changes since then are on this page alone. Save the page now, and often.")
	f.Act("go", 1, 0, false)
	f.Act("delete")
	l.records = l.records[:1]
	l.hooks.Told("full", About{})
	if s := b.has("savemark", "title"); !strings.Contains(s, "; 2 changes since then are on this page alone.") {
		t.Error(s)
	}
	l.hooks.Told("", About{})
	b.want(t, "mended", b.text["savemark"]+"|"+b.has("savemark", "title"), "not saved|")
	l.hooks.Told("room", About{Changed: "2026-10-01T00:00:00.000Z"})
	b.want(t, "room", b.text["status"], "The browser's storage was full: the earlier copy of Job without a name, changed <2026-10-01T00:00:00.000Z>, had to go to make room.")
	b.want(t, "still kept", b.text["savemark"], "not saved")
}

// What is asked before a job is left: of this job, or of one that Ctrl+Z leads back to; nothing where nothing is lost.
func TestAskedBeforeLeaving(t *testing.T) {
	f, b := withList(t)
	b.preview, b.parts = preview, parts()
	taken := func() {
		t.Helper()
		f.Open(fakeFile{"list.xlsx", "PK"})
		f.Do("takeFile")
		b.turn()
	}
	taken()
	b.want(t, "mark", b.text["savemark"], "not saved")
	f.Do("save")
	if !f.Unsaved() || b.text["savemark"] != "handed to the browser at 09:15" {
		t.Error("the job that undoing leads back to is forgotten", b.text["savemark"])
	}
	b.answer = false
	f.Do("new")
	if len(b.asked) != 1 || !strings.HasPrefix(b.asked[0], "A job that Ctrl+Z leads back to has changes that no file has. A safety copy stays in this browser.") {
		t.Errorf("asked: %q", b.asked)
	}
	f.Do("undo")
	b.turn()
	b.want(t, "back", f.textAt(t, 1, "machine"), "Pump 2")
	b.want(t, "mark", b.text["savemark"], "not saved")
	if len(b.made) != 2 || b.made[0].left {
		t.Errorf("%d lines", len(b.made))
	}
	f.Do("save")
	if f.Unsaved() {
		t.Error("both are saved")
	}
	f.Do("redo")
	b.turn()
	b.want(t, "and on", f.textAt(t, 0, "machine")+", "+b.text["savemark"], "Fan 7, handed to the browser at 09:15")
	b.asked = nil
	f.Do("new")
	if len(b.asked) > 0 || f.state.Rows != 0 {
		t.Errorf("asked %q of what is saved", b.asked)
	}
	// a job that is begun for good leads back to none
	f, b = withList(t)
	b.preview, b.parts = preview, parts()
	taken()
	f.Do("new")
	if len(b.asked) != 1 || f.Unsaved() || !b.made[0].left || !b.made[1].left {
		t.Errorf("asked %q, unsaved %v", b.asked, f.Unsaved())
	}
	// answered no, the demo and a file leave all as it is
	f, b = withList(t)
	b.answer = false
	f.Do("demo")
	f.Open(fakeFile{"a.json", "{}"})
	if f.state.Rows != 2 || len(b.asked) != 2 || !strings.HasSuffix(b.asked[0], "\n\nOpen the demo all the same?") || !strings.HasSuffix(b.asked[1], "\n\nOpen a.json all the same?") {
		t.Errorf("%q", b.asked)
	}
	// the storage's failure is said in the question
	b.made[0].hooks.Told("full", About{})
	f.Do("new")
	if s := b.asked[2]; !strings.HasPrefix(s, "This job has changes that no file has. The browser's storage is full.") {
		t.Error(s)
	}
	b.answer = true
	f.Open(fakeFile{"a.json", "{"})
	if f.state.Rows != 2 || b.text["status"] == "" {
		t.Error("a file that cannot be read took the place of the job")
	}
}

// A job from a file of another program follows the line of the one that has the same number; one that is another job does not.
func TestFollows(t *testing.T) {
	f, b := withList(t)
	b.preview, b.parts = preview, parts()
	f.Open(fakeFile{"list.xlsx", "PK"})
	f.Do("takeFile")
	b.turn()
	b.want(t, "another job", b.made[1].hooks.Facts().Follows, "")
	head := strings.Split(b.parts[0].head, `"id":"`)
	if len(head) != 2 {
		t.Fatalf("%.200s", b.parts[0].head)
	}
	_, rest, _ := strings.Cut(head[1], `"`)
	b.parts[0].head = head[0] + `"id":"` + f.state.ID + `"` + rest
	f.Open(fakeFile{"list.xlsx", "PK"})
	f.Do("takeFile")
	b.turn()
	b.want(t, "the same job", b.made[2].hooks.Facts().Follows, b.made[1].id)
	f.Do("undo")
	f.Do("redo")
	b.want(t, "for good", b.made[2].hooks.Facts().Follows, b.made[1].id)
	if len(b.made) != 3 {
		t.Errorf("%d lines", len(b.made))
	}
}

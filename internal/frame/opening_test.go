package frame

import (
	"strings"
	"testing"
)

// Files that are opened: saved pages and jobs, what is said of those that are damaged, cut short or of an earlier version, and which one a page begins with.

// A saved page and a job file are opened for good: their name, what is known of them, the cursor, nothing to undo.
func TestOpenJob(t *testing.T) {
	f, b := withDemo(t)
	f.Do("json")
	demo := b.handed[2]
	g, d := withList(t)
	d.asked = nil
	if did := d.moves(func() { g.Open(fakeFile{"spring.json", demo}) }); !strings.Contains(did, "layout, draw, sheet top") {
		t.Error(did)
	}
	if g.state != d.view {
		t.Errorf("the sheet shows %+v", d.view)
	}
	d.text["cell-where"] = ""
	d.turn()
	d.want(t, "told", d.text["status"]+"|"+d.focus+"|"+d.text["undo"]+"|"+d.has("undo", "disabled"), "spring.json is open.|sheet|Undo|")
	d.want(t, "the job", d.text["jobname"], "Spring shutdown: couplings, revision 1")
	if d.text["cell-where"] == "" || !strings.HasPrefix(d.text["counts"], "26 couplings") && !strings.Contains(d.text["counts"], " couplings: ") {
		t.Errorf("cell %q, counts %q", d.text["cell-where"], d.text["counts"])
	}
	if len(d.asked) != 1 || !strings.HasPrefix(d.asked[0], "This job has changes") {
		t.Errorf("asked %q", d.asked)
	}
	l := d.made[len(d.made)-1]
	if a := l.hooks.Facts(); a.From != "spring.json" || a.Opened != "2026-11-30T09:15:00.000Z" || l.begun || len(l.records) > 0 {
		t.Errorf("%+v, begun %v", a, l.begun)
	}
	// without a checksum, in a page that is cut short
	const page = "<!doctype html><html><script type=\"application/json\" id=\"job\">"
	for _, c := range []struct{ name, text, said string }{
		{"old.json", unsealed(t, demo), "old.json is open. It was saved by an earlier version, without a checksum: whether it is whole, nobody can tell."},
		{"whole.html", page + demo + "</script></html>", "whole.html is open."},
		{"cut.html", page + demo + "</script><p>", "cut.html is open. The page is cut short behind the job; the job in it is whole."},
	} {
		g.Open(fakeFile{c.name, c.text})
		d.turn()
		d.want(t, c.name, d.text["status"], c.said)
	}
	// a damaged one: nothing of it is shown
	before := g.second(t)
	g.Open(fakeFile{"damaged.json", strings.Replace(demo, "raw water pump 1", "raw water pump 9", 1)})
	d.turn()
	if s := d.text["status"]; !strings.HasPrefix(s, "damaged.json: ") || g.second(t) != before {
		t.Errorf("told %q", s)
	}
	// no file is opened by dropping one onto a dialog; a cell that is typed into is done with before
	d.dialog = "dlg-help"
	g.Open(fakeFile{"spring.json", demo})
	d.dialog = ""
	g.at(t, 1, "note")
	g.typeIn(d, "typed before")
	g.Open(fakeFile{"list.xlsx", "PK"})
	if d.open || g.textAt(t, 1, "note") != "typed before" {
		t.Error("the cell is open under the dialog")
	}
}

// unsealed is a job as an earlier version wrote it, without a checksum.
func unsealed(t *testing.T, text string) string {
	t.Helper()
	at := strings.LastIndex(text, `,"length":`)
	if at < 0 {
		t.Fatalf("no checksum at the end: …%s", text[max(0, len(text)-200):])
	}
	return text[:at] + "}"
}

// An empty job and the demo are opened for good; what is not changed leaves no safety copy, the demo is in one.
func TestNewAndDemo(t *testing.T) {
	f, b := withList(t)
	f.Do("demo")
	b.turn()
	b.want(t, "told", b.text["status"]+"|"+b.text["undo"]+"|"+b.focus, "The demo: an invented waterworks. Click a row to read what to do; change a cell and watch its row.|Undo|sheet")
	l := b.made[len(b.made)-1]
	if a := l.hooks.Facts(); a.From != "" || !l.begun {
		t.Errorf("the demo: %+v, begun %v", a, l.begun)
	}
	b.focus = ""
	f.Do("new")
	b.turn()
	b.want(t, "told", b.text["status"]+"|"+b.focus+"|"+b.marks["empty"], "A new job. The one before stays in this browser's safety copies.||1")
	if l := b.made[len(b.made)-1]; l.begun || len(l.records) > 0 {
		t.Error("an empty job is in a safety copy")
	}
	if f.Unsaved() {
		t.Error("an empty job is unsaved")
	}
}

// The job in the page: opened with a word where it has no checksum, none where it was never saved; not opened where it is damaged.
func TestJobInPageIsToldOf(t *testing.T) {
	f, b := withList(t)
	never := parse(f.desk.Answer("wholeCopy", false)).text("head")
	f.Do("json")
	job := b.handed[2]
	for _, c := range []struct{ what, job, said, mark string }{
		{"whole", job, "", "saved <2026-11-30T09:15:00.000Z>"},
		{"no checksum", unsealed(t, job), "This page was saved by an earlier version, without a checksum: whether the job is whole, nobody can tell.", "saved <2026-11-30T09:15:00.000Z>"},
		{"never saved", never, "", ""},
	} {
		g, d := newFake(t)
		d.job = c.job
		g.Start(0)
		d.turn()
		d.want(t, c.what, d.text["status"]+"|"+d.text["savemark"]+"|"+d.text["banner-text"], c.said+"|"+c.mark+"|")
		if g.second(t) != "Pump 2" {
			t.Errorf("%s: not opened: %q", c.what, d.text["status"])
		}
	}
	// other states of it are looked for
	g, d := left(t, f, About{Line: "one"}, About{Line: "two"})
	d.job = job
	g.Start(0)
	d.turn()
	if d.dialog != "dlg-copies" || !strings.Contains(d.html["copies-body"], "The file spring.html") {
		t.Errorf("%q %s", d.dialog, d.html["copies-body"])
	}
	// damaged: an empty job in its place, and the copies; opened all the same only when the person says so
	g, d = newFake(t)
	d.job = strings.Replace(job, "Pump 2", "Pump 9", 1)
	g.Start(0)
	d.turn()
	d.want(t, "empty", d.marks["empty"]+"|"+d.text["status"]+"|"+d.text["status-do"]+"|"+d.marks["ready"], "1||Open it all the same|1")
	g.Do("offered")
	d.turn()
	d.want(t, "opened", g.second(t)+"|"+d.text["savemark"], "Pump 9|saved <2026-11-30T09:15:00.000Z>")
}

// What is said of a saved page that lacks what was made after it was opened.
func TestSavedByTheBrowser(t *testing.T) {
	f, b := newFake(t)
	f.Start(1)
	b.turn()
	if s := b.text["banner-text"]; !strings.Contains(s, "lacks 1 change made after that") {
		t.Error(s)
	}
}

// When the stock was shared out is said with the revision that it was of.
func TestStamp(t *testing.T) {
	f, b := withList(t)
	b.want(t, "never saved", f.stamp(), "on <2026-11-30T09:15:00.000Z>")
	f.Do("json")
	b.want(t, "saved", f.stamp(), "on <2026-11-30T09:15:00.000Z> (revision 1)")
	f.Act("go", 0, 0, false)
	f.Act("delete")
	b.want(t, "changed", f.stamp(), "on <2026-11-30T09:15:00.000Z> (revision 1 with later changes)")
}

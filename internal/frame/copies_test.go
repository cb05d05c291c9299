package frame

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// Safety copies: which one a page begins with, the choice between several states of a job, the lists of earlier copies, and what is opened of them.

// left is a browser in which some lines of work on the job of f were left, the second machine of each renamed to its line's name.
func left(t *testing.T, f *Frame, lines ...About) (*Frame, *fake) {
	t.Helper()
	g, b := newFake(t)
	for _, a := range lines {
		about, c := copyOf(t, f, a.Line, a.Handed)
		c.Head = []byte(strings.Replace(string(c.Head), "Pump 3", a.Line, 1))
		about.Aside, about.Open, about.Follows, about.Name, about.From, about.Opened, about.Revision = a.Aside, a.Open, a.Follows, a.Name, a.From, a.Opened, a.Revision
		if a.Job != "" {
			about.Job = a.Job
		}
		c.About = about
		b.lines, b.copies[a.Line] = append(b.lines, about), c
	}
	return g, b
}

func (f *Frame) second(t *testing.T) string {
	t.Helper()
	if f.state.Rows < 2 {
		return ""
	}
	return f.textAt(t, 1, "machine")
}

// A page without a job begins with the only work that nobody has: not with what a file has, what was set aside, what another tab works on or what another line goes on with.
func TestBeginsWithTheOnlyOneLeft(t *testing.T) {
	f, _ := withList(t)
	for what, c := range map[string]struct {
		lines []About
		want  string
	}{
		"none":                         {nil, ""},
		"one":                          {[]About{{Line: "one"}}, "one"},
		"a file has it":                {[]About{{Line: "one", Handed: true}}, ""},
		"set aside":                    {[]About{{Line: "one", Aside: "2026-11-29T00:00:00.000Z"}}, ""},
		"another tab has it":           {[]About{{Line: "one", Open: true}}, ""},
		"others are no work left":      {[]About{{Line: "one", Open: true}, {Line: "two", Handed: true}, {Line: "three", Aside: "x"}, {Line: "four"}}, "four"},
		"two":                          {[]About{{Line: "one"}, {Line: "two"}}, ""},
		"another goes on with it":      {[]About{{Line: "one"}, {Line: "two", Follows: "one"}}, "two"},
		"the last of three in a chain": {[]About{{Line: "one"}, {Line: "two", Follows: "one"}, {Line: "three", Follows: "two"}}, "three"},
	} {
		g, b := left(t, f, c.lines...)
		g.Start(0)
		b.turn()
		if got := g.second(t); got != c.want {
			t.Errorf("%s: begins with %q, want %q", what, got, c.want)
		}
		if c.want == "" && g.Unsaved() {
			t.Errorf("%s: an empty job is unsaved", what)
		}
		if c.want != "" && (!g.Unsaved() || b.text["savemark"] != "not saved" || b.has("status", "aria-label") != b.text["status"]+" Offered: Begin a new job." || b.shown("status-do") != "status-do" || b.focus != "sheet") {
			t.Errorf("%s: mark %q, status %q, focus %q", what, b.text["savemark"], b.has("status", "aria-label"), b.focus)
		}
	}
}

// A tab that is loaded again goes on with its own line, another page's line is not its own; what is in the page's file gives way only to work that began with it.
func TestLoadedAgain(t *testing.T) {
	f, fb := withList(t)
	f.Do("json")
	inFile := fb.handed[2]
	saved := f.state.SavedAt
	for _, c := range []struct {
		what, tab string
		lines     []About
		inPage    bool
		want      string
	}{
		{"its own, a file has it", "one\nfile:///spring.html", []About{{Line: "one", Handed: true}, {Line: "two"}, {Line: "three"}}, false, "one"},
		{"on another page", "one\nfile:///other.html", []About{{Line: "one", Handed: true}, {Line: "two"}, {Line: "three"}}, false, ""},
		{"gone", "four\nfile:///spring.html", []About{{Line: "one"}, {Line: "two"}}, false, ""},
		{"begun with the file", "one\nfile:///spring.html", []About{{Line: "one", Opened: saved}}, true, "one"},
		{"begun with an older state of the file", "one\nfile:///spring.html", []About{{Line: "one", Opened: "2026-01-01T00:00:00.000Z"}}, true, "Pump 2"},
		{"of another job that this tab opened", "one\nfile:///spring.html", []About{{Line: "one", Job: "another", Opened: "2026-01-01T00:00:00.000Z"}}, true, "one"},
		{"another tab's", "", []About{{Line: "one", Opened: saved, Open: true}}, true, "Pump 2"},
	} {
		g, b := left(t, f, c.lines...)
		b.tabs["shimsheet:line"] = c.tab
		if c.inPage {
			b.job = inFile
		}
		g.Start(0)
		b.turn()
		if got := g.second(t); got != c.want {
			t.Errorf("%s: %q, want %q", c.what, got, c.want)
		}
		if c.inPage && c.want == "one" {
			b.want(t, "offered", b.text["status-do"], "Back to what is in the file")
			g.Do("offered")
			b.turn()
			if got := g.second(t); got != "Pump 2" || b.text["status"] != "As in the file." || b.text["savemark"] != "saved <"+saved+">" || b.shown("status-do") != "" {
				t.Errorf("%s: back to %q, told %q, mark %q", c.what, got, b.text["status"], b.text["savemark"])
			}
			b.want(t, "from", g.now.line.(*fakeLine).hooks.Facts().From, "spring.html")
		}
	}
}

// What is taken up again knows where it began, what it follows, and how many changes it has; the line goes on where it can be had.
func TestTakenUp(t *testing.T) {
	f, _ := withList(t)
	g, b := left(t, f, About{Line: "one", From: "list.xlsx", Opened: "2026-11-01T00:00:00.000Z", Follows: "zero"})
	g.Start(0)
	b.turn()
	l := g.now.line.(*fakeLine)
	b.want(t, "line", l.id, "one")
	a := l.hooks.Facts()
	if a.From != "list.xlsx" || a.Opened != "2026-11-01T00:00:00.000Z" || a.Follows != "zero" || a.Began != "2026-11-29T07:00:00.000Z" || a.Changes != 5 || a.Handed {
		t.Errorf("%+v", a)
	}
	b.want(t, "lacking in the browser's own saved page", b.marks["up"], "5")
	g.Act("go", 0, 0, false)
	g.Act("delete")
	b.want(t, "one more", b.marks["up"]+" "+strconv.Itoa(l.hooks.Facts().Changes), "6 6")
	if len(l.records) != 1 || l.known != 0 {
		t.Errorf("%d records, told %d times", len(l.records), l.known)
	}
	// another tab has it: a line of its own, which does not follow
	g, b = left(t, f, About{Line: "one", From: "list.xlsx"})
	b.held = true
	g.Start(0)
	b.turn()
	a = g.now.line.(*fakeLine).hooks.Facts()
	if g.now.line.ID() == "one" || a.Follows != "" || a.From != "list.xlsx" || a.Changes != 5 || g.now.line.Begun() {
		t.Errorf("%s: %+v", g.now.line.ID(), a)
	}
	// one that was set aside is no longer, once it is opened by its own line
	g, b = left(t, f, About{Line: "one", Aside: "2026-11-29T00:00:00.000Z"})
	b.tabs["shimsheet:line"] = "one\nfile:///spring.html"
	g.Start(0)
	b.turn()
	if l := g.now.line.(*fakeLine); l.id != "one" || l.known != 1 {
		t.Errorf("%s told %d times", l.id, l.known)
	}
	// with rows in pieces, and records over them
	g, b = left(t, f, About{Line: "one"})
	c := b.copies["one"]
	j := new(job.Job)
	if err := j.Open(string(c.Head)); err != nil {
		t.Fatal(err)
	}
	rows := j.Machines.Rows
	j.Machines.Rows = nil
	head, _ := j.MarshalJSON()
	c.Head, c.Rows = head, []PackedRows{{0, string(job.AppendPacked(nil, rows[:1]))}, {0, string(job.AppendPacked(nil, rows[1:]))}}
	c.Records = nil
	h, hb := left(t, f, About{Line: "one"})
	h.Start(0)
	hb.turn()
	h.Act("go", 0, 0, false)
	h.Act("delete")
	c.Records = h.now.line.(*fakeLine).records
	c.Broken = true
	g.Start(0)
	b.turn()
	b.want(t, "rows and record", g.second(t)+"|"+g.textAt(t, 0, "machine"), "one|")
	b.want(t, "told", b.text["status"], "Restored from the safety copy of <2026-11-29T17:00:00.000Z>. Its last changes could not be written then and are missing: look the rows over.")
	// what a file has is not said to be in none
	g, b = left(t, f, About{Line: "one", Handed: true})
	b.tabs["shimsheet:line"] = "one\nfile:///spring.html"
	g.Start(0)
	b.turn()
	b.want(t, "told", b.text["status"]+"|"+b.text["savemark"], "Restored from the safety copy of <2026-11-29T17:00:00.000Z>.|")
}

// A copy that cannot be read is said to be so; the page begins with an empty job, the copy's line is let go, and the copy stays.
func TestCopyUnreadable(t *testing.T) {
	f, _ := withList(t)
	for what, spoil := range map[string]func(b *fake){
		"its head":  func(b *fake) { b.copies["one"].Head = []byte("{") },
		"its rows":  func(b *fake) { b.copies["one"].Rows = []PackedRows{{99, ""}} },
		"a record":  func(b *fake) { b.copies["one"].Records = []string{"rubbish"} },
		"it is not": func(b *fake) { delete(b.copies, "one") },
	} {
		g, b := left(t, f, About{Line: "one"})
		spoil(b)
		g.Start(0)
		b.turn()
		if g.state.Rows != 0 || b.text["status"] != "The safety copy cannot be read." || g.Unsaved() {
			t.Errorf("%s: %d rows, told %q", what, g.state.Rows, b.text["status"])
		}
		for _, l := range b.made {
			if l.id == "one" && !l.left {
				t.Errorf("%s: the line is still held", what)
			}
		}
		if !strings.Contains(b.html["copies"], `data-on="take" data-arg="1000"`) || len(b.forgotten) > 0 {
			t.Errorf("%s: the copy is not offered", what)
		}
	}
}

// The list of earlier copies: those of the job on the page first, each with who made it and whether a file has it; not this tab's own.
func TestListOfCopies(t *testing.T) {
	f, b := withList(t)
	for _, a := range []About{
		{Line: "other", Job: "another", Name: "Other job", Handed: true, From: "other.html"}, {Line: "mine", Name: "Mine", Opened: "2026-11-02T00:00:00.000Z", From: "spring.html"},
		{Line: "tab", Name: "Next tab", Open: true}, {Line: "aside", Name: "Aside", Aside: "2026-11-29T00:00:00.000Z", KeptUntil: "2026-12-29T00:00:00.000Z"}, {Line: f.now.line.ID(), Name: "This tab's own"},
	} {
		about, c := copyOf(t, f, a.Line, a.Handed)
		about.Name, about.Open, about.Aside, about.KeptUntil, about.From, about.Opened = a.Name, a.Open, a.Aside, a.KeptUntil, a.From, a.Opened
		if a.Job != "" {
			about.Job = a.Job
		}
		b.lines, b.copies[a.Line] = append(b.lines, about), c
	}
	b.attributes["copies-foot hidden"] = "" // as a choice leaves it
	f.Do("copies")
	b.want(t, "dialog", b.dialog+"|"+b.text["copies-title"]+"|"+b.shown("copies-foot"), "dlg-copies|Earlier copies|copies-foot")
	body := b.html["copies-body"]
	at := -1
	for _, s := range []string{"Of the job on the page", "Mine", "It began with the file spring.html, saved &lt;2026-11-02T00:00:00.000Z&gt;. No file has all of it.", "Next tab", "in another tab, which is open now", "Aside", "kept until &lt;day 2026-12-29T00:00:00.000Z&gt;",
		"Of other jobs", "Other job", "As it stands it was handed"} {
		k := strings.Index(body, s)
		if k <= at {
			t.Fatalf("%q at %d after %d in %s", s, k, at, body)
		}
		at = k
	}
	if strings.Contains(body, "&lt;&gt;") || strings.Contains(body, "This tab") || strings.Contains(body, "in this tab") || strings.Count(body, `data-on="forget"`) != 3 {
		t.Error(body)
	}
	// what sets one apart from the job on the page
	f.Send("copies", event("compare", "0"))
	if s := b.html["copy-0"]; !strings.Contains(s, "1 row differs (1 text)") || !strings.Contains(s, "<td>Pump 2</td><td>Pump 3</td>") {
		t.Error(s)
	}
	delete(b.copies, "tab")
	f.Send("copies", event("compare", "1"))
	if s := b.html["copy-1"]; !strings.Contains(s, "This copy cannot be read.") {
		t.Error(s)
	}
	b.copies["aside"].Head = []byte("{")
	f.Send("copies", event("compare", "2"))
	if s := b.html["copy-2"]; !strings.Contains(s, "This copy cannot be read.") {
		t.Error(s)
	}
	b.copies["tab"], b.copies["aside"] = b.copies["mine"], b.copies["mine"]
	// numbers of copies that there are not
	for _, arg := range []string{"-1", "4", "1000", "x", ""} {
		for _, name := range []string{"take", "compare", "forget"} {
			f.Send("copies", event(name, arg))
		}
		f.Send("copies", event("go", "7"))
	}
	if b.dialog != "dlg-copies" || len(b.forgotten) > 0 || f.second(t) != "Pump 2" {
		t.Error("something was done with a copy that is not there", b.dialog, b.forgotten)
	}
	// opening: the line of one that was left goes on; what a file has, what was set aside and what another tab has stay as they are
	for n, want := range []string{"mine", "beside", "copy", "copy of another"} {
		b.dialog = ""
		f.Do("copies")
		k := slices.IndexFunc(f.copies.listed, func(a About) bool { return a.Line == []string{"mine", "tab", "aside", "other"}[n] })
		f.Send("copies", event("take", strconv.Itoa(k)))
		b.turn()
		b.want(t, "focus", b.focus, "sheet")
		b.focus = ""
		l := b.made[len(b.made)-1]
		follows := l.hooks.Facts().Follows
		if b.dialog != "" || f.second(t) != "Pump 3" || (l.id == "mine") != (want == "mine") {
			t.Errorf("%s: dialog %q, line %q", want, b.dialog, l.id)
		}
		b.want(t, want, follows, []string{"", "", "aside", "other"}[n])
		b.copies["other"].About.Handed = true
	}
	// none
	g, d := started(t)
	g.Do("copies")
	if !strings.Contains(d.html["copies-body"], "There are no copies in this browser but that of the job on the page.") {
		t.Error(d.html["copies-body"])
	}
	d.want(t, "offered", d.html["copies"], "")
}

// Where there is no job yet no more than eight are offered, numbered apart from those of the dialog.
func TestOfferedCopies(t *testing.T) {
	f, _ := withList(t)
	var lines []About
	for i := range 9 {
		lines = append(lines, About{Line: "line" + strconv.Itoa(i), Handed: true})
	}
	g, b := left(t, f, lines...)
	g.Start(0)
	b.turn()
	if s := b.html["copies"]; !strings.Contains(s, "Safety copies in this browser") || !strings.Contains(s, `data-arg="1007"`) || strings.Contains(s, `data-arg="1008"`) {
		t.Error(s)
	}
	g.Send("copies", event("take", "0")) // the dialog lists none
	if g.state.Rows != 0 {
		t.Error("a copy of the dialog was opened that was not listed")
	}
	g.Send("copies", event("take", "1000"))
	b.turn()
	b.want(t, "the first", g.second(t), "line0")
}

// A file is opened, and this browser holds other states of its job: which are asked about, and which a file has already.
func TestWhichStatesAreAskedAbout(t *testing.T) {
	f, fb := withList(t)
	f.Do("json")
	first := fb.handed[2]
	f.Act("go", 0, 0, false)
	f.Act("delete")
	f.Do("undo")
	fb.clock = "2026-11-30T10:15:00.000Z"
	f.Do("json")
	file := fb.handed[2]
	state := func(b *fake, line, text string, handed bool) {
		about, c := copyOf(t, f, line, handed)
		c.Head = []byte(text)
		b.lines, b.copies[line] = append(b.lines, about), c
	}
	more := func(b *fake, change func(j *job.Job)) {
		j := new(job.Job)
		if err := j.Open(file); err != nil {
			t.Fatal(err)
		}
		change(j)
		text, _ := j.MarshalJSON()
		state(b, "one", string(text), false)
	}
	for _, c := range []struct {
		what  string
		make  func(b *fake)
		asked int
		noted string
	}{
		{"the same", func(b *fake) { state(b, "one", file, false) }, 0, "one true"},
		{"the same, in another tab", func(b *fake) { state(b, "one", file, false); b.lines[0].Open = true }, 0, ""},
		{"another text", func(b *fake) { about, c := copyOf(t, f, "one", false); b.lines, b.copies["one"] = []About{about}, c }, 1, ""},
		{"another text, handed from this state", func(b *fake) { about, c := copyOf(t, f, "one", true); b.lines, b.copies["one"] = []About{about}, c }, 1, ""},
		{"a row more", func(b *fake) {
			more(b, func(j *job.Job) { j.Machines.Rows = append(j.Machines.Rows, []string{"Pump 7"}) })
		}, 1, ""},
		{"a row more and another text", func(b *fake) {
			more(b, func(j *job.Job) {
				j.Machines.Rows[0][1] = "990"
				j.Machines.Rows = append(j.Machines.Rows, []string{"Pump 7"})
			})
		}, 1, ""},
		{"a row less", func(b *fake) { more(b, func(j *job.Job) { j.Machines.Rows = j.Machines.Rows[:1] }) }, 1, ""},
		{"a row less and another text", func(b *fake) {
			more(b, func(j *job.Job) { j.Machines.Rows = j.Machines.Rows[:1]; j.Machines.Rows[0][1] = "990" })
		}, 1, ""},
		{"of another job", func(b *fake) {
			about, c := copyOf(t, f, "one", false)
			about.Job = "another"
			b.lines, b.copies["one"] = []About{about}, c
		}, 0, ""},
		{"set aside before", func(b *fake) {
			about, c := copyOf(t, f, "one", false)
			about.Aside = "2026-11-29T00:00:00.000Z"
			b.lines, b.copies["one"] = []About{about}, c
		}, 0, ""},
		{"another goes on with it", func(b *fake) {
			about, c := copyOf(t, f, "one", false)
			two := about
			two.Line, two.Follows = "two", "one"
			b.lines, b.copies["one"], b.copies["two"] = []About{about, two}, c, c
		}, 1, ""},
		{"unreadable", func(b *fake) { state(b, "one", "{", false) }, 0, ""},
		{"gone", func(b *fake) { state(b, "one", file, false); delete(b.copies, "one") }, 0, ""},
	} {
		g, b := started(t)
		c.make(b)
		g.Open(fakeFile{"spring.json", file})
		b.turn()
		n := 0
		if b.dialog == "dlg-copies" {
			n = strings.Count(b.html["copies-body"], `data-on="go"`) - 1
		}
		if n != c.asked || strings.Join(b.noted, ",") != c.noted {
			t.Errorf("%s: %d states, want %d; noted %q, want %q", c.what, n, c.asked, b.noted, c.noted)
		}
	}
	// a file that is older than the copy's: a file has the copy, but it is no earlier state of this one
	g, b := started(t)
	state(b, "one", strings.Replace(first, "Pump 2", "Pump 5", 1), true)
	g.Open(fakeFile{"spring.json", file})
	b.turn()
	if b.dialog != "" || strings.Join(b.noted, ",") != "one true" {
		t.Errorf("an earlier state that a file has: %q, noted %q", b.dialog, b.noted)
	}
	g, b = started(t)
	state(b, "one", strings.Replace(first, "Pump 2", "Pump 5", 1), false)
	g.Open(fakeFile{"spring.json", file})
	b.turn()
	b.want(t, "an earlier state with changes that no file has", b.dialog, "dlg-copies")
}

// The choice between three states: what each is called; the chosen one goes on, the others are set aside but what another tab works on.
func TestChoiceOfThree(t *testing.T) {
	f, fb := withList(t)
	f.Do("json")
	file := fb.handed[2]
	begin := func() (*Frame, *fake) {
		g, b := left(t, f, About{Line: "one", Name: "Spring"}, About{Line: "two", Open: true}, About{Line: "three"})
		b.copies["three"].Broken = true
		b.lines = b.lines[:0:0]
		g.Start(0)
		b.turn()
		for _, l := range []string{"one", "two", "three"} {
			b.lines = append(b.lines, b.copies[l].About)
		}
		g.Open(fakeFile{"spring.json", file})
		b.turn()
		return g, b
	}
	g, b := begin()
	b.want(t, "dialog", b.dialog+"|"+b.text["copies-title"]+"|"+b.shown("copies-foot"), "dlg-copies|Which state of this job do you go on with?|")
	body := b.html["copies-body"]
	for _, s := range []string{"This browser holds 3 other states", "The file spring.json", "Revision 1, saved &lt;2026-11-30T09:15:00.000Z&gt;, 2 rows of machines.", "The copy in this browser, &lt;2026-11-29T17:00:00.000Z&gt;", "The other tab, as of", "Its last changes could not be written and are missing."} {
		if !strings.Contains(body, s) {
			t.Errorf("%q is not said: %s", s, body)
		}
	}
	g.Send("copies", event("go", "3"))
	b.want(t, "there is no fourth", b.dialog, "dlg-copies")
	g.Send("copies", event("go", "0"))
	b.turn()
	b.want(t, "the first", g.second(t)+"|"+g.now.line.ID()+"|"+strings.Join(b.noted, ",")+"|"+b.focus, "one|one|three false|sheet")
	n := len(b.noted)
	if g.Send("copies", event("go", "1")); len(b.noted) != n || g.second(t) != "one" {
		t.Error("answered twice")
	}
	g, b = begin()
	g.Send("copies", event("go", "1"))
	b.turn()
	if g.second(t) != "two" || g.now.line.ID() == "two" {
		t.Error("what another tab works on was not opened beside it", g.now.line.ID())
	}
	b.want(t, "set aside", strings.Join(b.noted, ","), "one false,three false")
	g, b = begin()
	b.focus = ""
	g.Send("copies", event("go", "-1"))
	b.want(t, "the file", g.second(t)+"|"+strings.Join(b.noted, ",")+"|"+b.focus, "Pump 2|one false,three false|sheet")
	// something else is opened while the states are looked at: nobody is asked about a job that is not there
	g, b = begin()
	b.dialog = ""
	b.while = func() { b.while = func() { g.Do("new"); b.lines = nil } }
	g.lookForOthers("spring.json")
	b.want(t, "of a job that has gone", b.dialog, "")
}

// A copy of a job without a machine: the beginning of a job is shown, and nothing that is not to be seen gets the keyboard.
func TestCopyWithoutMachines(t *testing.T) {
	f, b := started(t)
	f.ShowSheet(1)
	f.Act("go", 0, 1, false)
	f.typeIn(b, "Autumn")
	f.done()
	about, c := copyOf(t, f, "one", false)
	f.Do("json")
	file := b.handed[2]
	g, d := newFake(t)
	d.lines, d.copies["one"] = []About{about}, c
	g.Start(0)
	d.turn()
	d.want(t, "begun", d.marks["empty"]+"|"+d.focus+"|"+d.now(g), "1||one")
	g, d = newFake(t)
	d.job = file
	g.Start(0)
	d.turn()
	d.want(t, "opened", d.focus, "")
	g.Open(fakeFile{"autumn.json", file})
	d.want(t, "opened", d.focus+"|"+d.text["status"], "|autumn.json is open.")
	g.copies.states = []state{}
	g.Send("copies", event("go", "-1"))
	d.want(t, "chosen", d.focus, "")
}

// now is the line of work of the job on the page.
func (b *fake) now(f *Frame) string { return f.now.line.ID() }

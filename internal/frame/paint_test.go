package frame

import (
	"fmt"
	"strings"
	"testing"
)

// What is brought up, laid out and drawn after something was done, and when; what is told of the job, the cell and the selection meanwhile.

// What moves on the page at each kind of act: what changes is drawn anew, what only moves is not, and the cursor is brought into sight.
func TestWhatIsDrawn(t *testing.T) {
	f, b := withDemo(t)
	order := f.columnOf(t, "speed")
	f.Act("go", 2, order, false)
	b.turn()
	for _, c := range []struct {
		what string
		do   func()
		want string
	}{
		{"the cursor goes down", func() { f.Act("move", 1, 0, false) }, fmt.Sprint("restyle, cell 3 ", order)},
		{"and to the side", func() { f.Act("move", 0, 1, false) }, fmt.Sprint("restyle, cell 3 ", order+1)},
		{"and back", func() { f.Act("move", 0, -1, false) }, fmt.Sprint("restyle, cell 3 ", order)},
		{"it stays", func() { f.Act("move", 0, 0, false) }, "restyle"},
		{"a cell is emptied", func() { f.Act("delete") }, fmt.Sprint("draw, cell 3 ", order)},
		{"another sheet", func() { f.Act("sheet", 3) }, "layout, draw, cell 0 0"},
		{"back to the first", func() { f.Act("sheet", 0) }, fmt.Sprint("layout, draw, cell 3 ", order)},
		{"sorted", func() { f.Act("arrange", "", "") }, "layout, draw, cell"},
		{"a row goes", func() { f.Act("deleteRows") }, "draw, cell 3"},
		{"undone", func() { f.Act("undo") }, "draw, cell 3"},
	} {
		b.text["sums"], b.text["cell-where"], b.text["status"] = "old", "old", "old"
		if did := b.moves(c.do); did != c.want && !strings.HasPrefix(did, c.want+" ") {
			t.Errorf("%s: %s, want %s", c.what, did, c.want)
		}
		if f.state != b.view && c.what != "sorted" {
			t.Errorf("%s: the sheet was told %+v", c.what, b.view)
		}
		if b.marks["idle"] != "0" {
			t.Errorf("%s: nothing waits", c.what)
		}
		if moved, sorted := strings.HasPrefix(c.want, "restyle"), c.what == "sorted"; (moved || sorted) != (b.when == "frame") || (moved || strings.HasPrefix(c.want, "layout")) && !sorted != (b.text["status"] == "old") {
			t.Errorf("%s: the panel comes in the %s, told %q", c.what, b.when, b.text["status"])
		}
		b.turn()
		if b.text["sums"] == "old" || (b.text["cell-where"] == "old") != (c.what == "it stays") {
			t.Errorf("%s: sums %q, cell %q", c.what, b.text["sums"], b.text["cell-where"])
		}
		if b.marks["idle"] != "1" {
			t.Errorf("%s: something waits for ever", c.what)
		}
	}
	// beside a screen the sheet is not scrolled
	f.OpenScreen("board")
	b.turn()
	if did := b.moves(func() { f.Act("move", 1, 0, false) }); did != "restyle" {
		t.Error(did)
	}
}

// A start without a job draws nothing; what stood there in its place is taken off, and the page says when it is ready.
func TestStartDraws(t *testing.T) {
	f, b := newFake(t)
	if did := b.moves(func() { f.Start(0); b.turn() }); b.drawn != 0 || !strings.Contains(did, "remove first") || !strings.Contains(did, "sweep") {
		t.Error(b.drawn, did)
	}
	b.want(t, "focus", b.focus, "")
	b.want(t, "sharing", b.marks["sharing"], "0")
	g, _ := withList(t)
	job := parse(g.desk.Answer("save", "2026-11-30T07:00:00.000Z")).text("text")
	f, b = newFake(t)
	b.job = job
	f.Start(0)
	if b.marks["ready"] != "" {
		t.Error("ready before it was drawn")
	}
	if did := b.moves(b.turn); !strings.Contains(did, "remove first") || strings.Contains(did, "sheet top") {
		t.Error(did)
	}
	b.want(t, "ready, focus", b.marks["ready"]+" "+b.focus, "1 sheet")
	b.want(t, "line of this tab", b.tabs["shimsheet:line"], f.now.line.ID()+"\nfile:///spring.html")
	if did := b.moves(func() { f.Do("new") }); !strings.Contains(did, "draw") || !strings.Contains(did, "sheet top") || !strings.Contains(did, "layout") {
		t.Error(did)
	}
}

// A page of which the end is missing says so, and offers no saving of it.
func TestCutShort(t *testing.T) {
	f, b := newFake(t)
	b.damage = []string{"end"}
	f.Start(0)
	b.turn()
	if said := b.text["banner-text"]; !strings.HasPrefix(said, "This page's file is cut short: its end is missing.") || b.shown("banner", "banner-save") != "banner" {
		t.Errorf("%q, to be seen: %s", said, b.shown("banner", "banner-save"))
	}
	f, b = started(t)
	b.want(t, "a page that is whole", b.text["banner-text"], "")
	f.broken(nil)
	b.want(t, "nothing is broken", b.text["banner-text"], "")
}

// A failure inside the program: what to do, with what is for whoever mends it; the page goes on.
func TestPanicked(t *testing.T) {
	f, b := withList(t)
	b.attributes["banner hidden"] = ""
	f.Panicked("slipped", "at line 7")
	b.want(t, "told", b.text["banner-text"], "Something went wrong inside the page (slipped). What you typed is still here: save the page now, then open the saved file.")
	b.want(t, "for whoever mends it", b.has("banner-text", "title")+" "+b.shown("banner"), "at line 7 banner")
	if _, ok := f.Act("goStored"); ok {
		t.Error("an operation without its arguments was done")
	}
}

// Rows that wait are worked out a little at a time, which is told; then how many are inside, outside and too close.
func TestCounted(t *testing.T) {
	f, b := started(t)
	var list strings.Builder
	list.WriteString("Machine\tSpeed [1/min]\n")
	for i := range 12000 {
		fmt.Fprintf(&list, "Pump %d\t1480\n", i)
	}
	f.Pasted(list.String())
	said := ""
	for range 1000 {
		if len(b.later) == 0 {
			break
		}
		all := b.later
		b.later = nil
		for _, g := range all {
			g()
			if strings.HasPrefix(b.text["counts"], "Working out ") {
				said = b.text["counts"]
				if b.marks["idle"] != "0" {
					t.Fatal("idle while rows are worked out")
				}
			}
		}
	}
	b.want(t, "counts", b.text["counts"], "12,000 couplings: 12,000 not judged")
	if !strings.HasSuffix(said, " of 12,000 …") {
		t.Error(said)
	}
	// so many problems are worded when they are looked at
	if b.text["side-problems"] == "Problems" || b.html["panel-problems"] != "" {
		t.Errorf("%q %.80s", b.text["side-problems"], b.html["panel-problems"])
	}
	f.Side("side-problems")
	if b.html["panel-problems"] == "" || b.shown("panel-row", "panel-problems") != "panel-problems" {
		t.Error("the problems are not shown")
	}
	for id, want := range map[string]string{"side-row": "false -1", "side-problems": "true 0"} {
		b.want(t, id, b.has(id, "aria-selected")+" "+b.has(id, "tabindex"), want)
	}
	b.html["panel-problems"] = "as they were"
	f.Side("side-problems")
	b.want(t, "worded once", b.html["panel-problems"], "as they were")
	f.Act("go", 0, f.columnOf(t, "speed"), false)
	f.typeIn(b, "x")
	f.done()
	b.turn()
	if !strings.Contains(b.html["panel-problems"], "Pump 0") && !strings.Contains(b.html["panel-problems"], "Speed") {
		t.Errorf("the problems that are looked at are not those of now: %.200s", b.html["panel-problems"])
	}
	f.Side("side-row")
	b.want(t, "the row", b.shown("panel-row", "panel-problems"), "panel-row")
	f.Act("delete")
	b.turn()
	b.want(t, "not looked at", b.html["panel-problems"], "")
	f.Act("selectAll")
	f.Act("deleteRows")
	b.turn()
	b.want(t, "no coupling", b.text["counts"], "")
	b.want(t, "no problem", b.text["side-problems"], "Problems")
}

// The demo's verdicts are counted in words, each kind there is.
func TestVerdictsCounted(t *testing.T) {
	f, b := withDemo(t)
	c, _ := f.ask("count")
	want := fmt.Sprintf("%d couplings: %d inside, %d outside, %d too close to call, %d not judged", c.int("couplings"), c.int("inside"), c.int("outside"), c.int("tooClose"), c.int("notJudged"))
	b.want(t, "counts", b.text["counts"], want)
	if c.int("inside")+c.int("outside")+c.int("tooClose")+c.int("notJudged") != c.int("couplings") || c.int("inside") == 0 || c.int("outside") == 0 {
		t.Error(want)
	}
	b.want(t, "problems", b.text["side-problems"], fmt.Sprintf("Problems (%d)", c.int("problems")))
	if b.html["panel-problems"] == "" {
		t.Error("the problems of a short list are not worded")
	}
}

// What is told of the cell under the cursor: where it is, what it means, its help, or what is wrong with it and what to do.
func TestToldOfTheCursor(t *testing.T) {
	f, b := withDemo(t)
	at := func(row int, key string) {
		f.at(t, row, key)
		b.turn()
	}
	at(0, "coupling")
	b.want(t, "where", b.text["cell-where"], "Row 4, Coupling")
	b.want(t, "text", b.text["cell-text"], "flexible")
	if s := b.text["cell-help"]; !strings.HasSuffix(s, " One of: flexible, rigid.") && !strings.Contains(s, " One of: ") {
		t.Errorf("help: %q", s)
	}
	b.want(t, "class, title, wrong", b.has("cell-help", "class")+"|"+b.has("cell-help", "title")+"|"+b.text["cell-wrong"], "|"+b.text["cell-help"]+"|")
	at(0, "speed")
	if s := b.text["cell-help"]; s == "" || strings.Contains(s, "One of") {
		t.Errorf("help: %q", s)
	}
	if m := b.text["cell-meaning"]; !strings.Contains(m, "990") && m != "" {
		t.Errorf("meaning: %q", m)
	}
	f.typeIn(b, "fast")
	f.done()
	b.turn()
	i := parse(f.desk.Answer("info", 970))
	b.want(t, "an error", b.text["cell-help"], "Problem: "+i.text("problem")+map[bool]string{true: "; " + i.text("hint"), false: ""}[i.text("hint") != ""])
	b.want(t, "class, title, wrong", b.has("cell-help", "class")+"|"+b.has("cell-help", "title")+"|"+b.text["cell-wrong"], "error|"+b.text["cell-help"]+"|"+b.text["cell-help"])
	b.want(t, "panel", b.html["panel-row"], i.text("panel"))
	at(1, "speed")
	b.want(t, "nothing wrong", b.has("cell-help", "class")+b.text["cell-wrong"], "")
	// a warning
	layout, _ := f.ask("layout")
	seen := false
	for row := 12; row < 15; row++ {
		for col := range layout["columns"].([]any) {
			f.desk.Answer("go", row, col, false)
			if i := parse(f.desk.Answer("info", 0)); i.text("severity") == "warning" {
				seen = true
				f.info()
				if s := b.text["cell-help"]; !strings.HasPrefix(s, "Look: "+i.text("problem")) || !strings.HasSuffix(s, i.text("hint")) || b.has("cell-help", "class") != "warning" {
					t.Errorf("%q, class %q", s, b.has("cell-help", "class"))
				}
			}
		}
	}
	if !seen {
		t.Error("nothing of the demo is pointed out")
	}
	// a drawing as wide as the panel, none where the panel is not to be seen
	at(0, "machine")
	if !strings.Contains(b.html["panel-row"], `width="970"`) {
		t.Error("no drawing of the panel's width")
	}
	b.attributes["side hidden"] = ""
	f.info()
	if strings.Contains(b.html["panel-row"], `width="970"`) {
		t.Error("a drawing for a panel that is hidden")
	}
}

// What the selection comes to, a piece at a time where it is large; nothing of it beside a screen.
func TestSums(t *testing.T) {
	f, b := withList(t)
	f.at(t, 0, "speed")
	f.Act("go", 1, f.state.Col, true)
	b.turn()
	if s := b.text["sums"]; !strings.Contains(s, "4") || !strings.Contains(s, "2") {
		t.Errorf("%q", s)
	}
	f.OpenScreen("board")
	b.turn()
	b.want(t, "beside a screen", b.text["sums"], "")
	f.soon("sums", false)
	b.turn()
	b.want(t, "still", b.text["sums"], "")
	f.Tab("tab-0")
	b.turn()
	if b.text["sums"] == "" {
		t.Error("the sums are not there again")
	}
	var list strings.Builder
	list.WriteString("Machine\tSpeed [1/min]\n")
	for range 5000 {
		list.WriteString("P\t1\n")
	}
	f, b = started(t)
	f.Pasted(list.String())
	b.turn()
	f.Act("selectAll")
	b.turn()
	b.want(t, "of many rows", b.text["sums"], "10000 filled cells")
}

// The drawing that is on its way ends; what waited for it is done once, also where another one was begun meanwhile.
func TestDrawings(t *testing.T) {
	f, b := withList(t)
	n := 0
	f.redraw()
	f.whenDrawn(func() { n++ })
	f.redraw()
	f.whenDrawn(func() { n += 10 })
	first, second := b.later[0], b.later[1]
	b.later = nil
	first()
	if n != 1 || b.marks["idle"] != "0" {
		t.Errorf("%d after the first, idle %s", n, b.marks["idle"])
	}
	f.whenDrawn(func() { n += 100 })
	if n != 1 {
		t.Error("it did not wait for the second")
	}
	second()
	if n != 111 || b.marks["idle"] != "1" {
		t.Errorf("%d after the second, idle %s", n, b.marks["idle"])
	}
	f.whenDrawn(func() { n += 1000 })
	second()
	if n != 1111 || len(f.onDrawn) != 0 {
		t.Errorf("%d at the end, %d wait", n, len(f.onDrawn))
	}
}

// What waits is brought up in one go, and rows are worked out in one go too.
func TestOneGo(t *testing.T) {
	f, b := withList(t)
	f.soon("info", false)
	f.soon("sums", true)
	if len(b.later) != 1 {
		t.Errorf("%d frames", len(b.later))
	}
	b.turn()
	f.pump()
	b.want(t, "idle", b.marks["idle"], "0")
	f.pump()
	if f.idle(); len(b.later) != 1 || b.marks["idle"] != "0" {
		t.Errorf("%d frames, idle %s", len(b.later), b.marks["idle"])
	}
	b.turn()
	b.want(t, "idle", b.marks["idle"], "1")
	f.OpenScreen("board")
	b.turn()
	b.html = map[string]string{}
	f.pump()
	if b.turn(); len(b.html) == 0 || b.html["board"]+b.html["screen-board"] == "" && len(b.html) < 2 {
		t.Error("the screen did not hear that all rows are worked out")
	}
}

// Problems of up to 500 rows are worded at once.
func TestProblemsWorded(t *testing.T) {
	for rows, worded := range map[int]bool{500: true, 501: false} {
		f, b := started(t)
		f.Pasted("Machine\tSpeed [1/min]\n" + strings.Repeat("Pump\tx\n", rows))
		b.turn()
		if got := b.html["panel-problems"] != ""; got != worded || f.state.Rows != rows {
			t.Errorf("%d rows: worded %v", f.state.Rows, got)
		}
	}
}

package frame

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// Screens: what is shown in whose place, and what each thing that a screen answers does to the page.

// What a screen answers goes onto the page: contents, attributes, fields, what is said, offered, copied, saved, printed.
func TestAnswers(t *testing.T) {
	f, b := withList(t)
	apply := func(u screens.Update) { f.Apply("board", &u) }
	apply(screens.Update{Regions: []screens.Region{{ID: "a", Content: screens.Text("one < two")}}, Attributes: []screens.Attribute{{ID: "a", Name: "class", Value: "main"}, {ID: "b", Name: "hidden"}},
		Values: []screens.Value{{ID: "field", Text: "7"}}, Say: "Said."})
	b.want(t, "content", b.html["a"]+"|"+b.has("a", "class")+"|"+b.values["field"]+"|"+b.text["status"]+"|"+b.shown("b"), "one &lt; two|main|7|Said.|")
	apply(screens.Update{Attributes: []screens.Attribute{{ID: "b", Name: "hidden", Off: true}}})
	b.want(t, "taken off, and what was said stays", b.shown("b")+"|"+b.text["status"], "b|Said.")
	apply(screens.Update{Copy: &screens.Clip{Text: "text"}, Say: "On the clipboard."})
	b.want(t, "copied", b.clip+"|"+b.text["status"], "text|On the clipboard.")
	b.noClip = true
	apply(screens.Update{Copy: &screens.Clip{Text: "text"}, Say: "On the clipboard."})
	b.want(t, "not copied", b.text["status"], "The browser did not let the page use the clipboard.")
	apply(screens.Update{File: &screens.File{Name: "list.txt", Type: "text/plain", Text: "a list"}})
	b.want(t, "a file", strings.Join(b.handed, "|")+"|"+b.text["status"], "list.txt|text/plain|a list|The browser did not let the page use the clipboard.")
	f.Do("json")
	apply(screens.Update{File: &screens.File{Name: "picks", Type: "text/csv", Text: "a list", Ending: "csv"}})
	b.want(t, "a file named by the page", strings.Join(b.handed, "|")+"|"+b.text["status"], "picks-rev1.csv|text/csv|a list|picks-rev1.csv was handed to the browser.")
	apply(screens.Update{Print: true})
	if len(b.printed) != 1 {
		t.Error("nothing is printed")
	}
	apply(screens.Update{Open: "tab-shims"})
	b.want(t, "another tab", b.focus, "pressed tab-shims")
	if did := b.moves(func() { apply(screens.Update{Unshare: true}) }); did != "stop lists" {
		t.Error(did)
	}
	apply(screens.Update{Remember: "Machines\x1fTag\x1fmachine\x1f\x1e"})
	b.want(t, "remembered", b.kept[headersKey], `[["Machines","Tag","machine"]]`)
	apply(screens.Update{Dialog: "dlg-one"})
	b.want(t, "dialog", b.dialog, "dlg-one")
	apply(screens.Update{Say: "Nothing of it."})
	b.want(t, "it stays", b.dialog, "dlg-one")
	apply(screens.Update{Dialog: "dlg-two"})
	b.want(t, "another", b.dialog, "dlg-two")
	if len(b.later) == 0 {
		t.Error("the first was not closed")
	}
	b.later = nil
	apply(screens.Update{Dialog: "dlg-two"})
	if len(b.later) > 0 {
		t.Error("it was closed and opened again")
	}
	apply(screens.Update{Dialog: "-"})
	b.want(t, "closed", b.dialog, "")
}

// Something is offered behind what is said: pressed, the screen hears of it; the next that is said takes it away.
func TestOffered(t *testing.T) {
	f, b := withList(t)
	f.Apply("match", &screens.Update{Say: "Names are not known.", Offer: &screens.Offer{Label: "Match", Event: "again"}})
	b.want(t, "offered", b.text["status-do"]+"|"+b.has("status", "aria-label")+"|"+b.shown("status-do"), "Match|Names are not known. Offered: Match.|status-do")
	b.other(true)
	b.want(t, "another tab leaves it there", b.text["status-do"]+"|"+b.text["status"], "Match|Names are not known. This job is open in another tab or window as well. Neither knows what the other changes: go on in one of them only.")
	f.Do("offered")
	b.want(t, "the screen has opened its dialog", b.dialog, "dlg-match")
	f.Say("Done.")
	b.want(t, "gone", b.text["status-do"]+"|"+b.has("status", "aria-label")+"|"+b.shown("status-do"), "|off|")
	b.dialog = ""
	f.Do("offered")
	b.want(t, "nothing is done", b.dialog, "")
}

// Where the focus goes and what comes into sight: by keyboard and pointer, and under a finger, which is not to bring a keyboard up.
func TestLook(t *testing.T) {
	f, b := withList(t)
	for _, c := range []struct {
		u             screens.Update
		mouse, finger string
	}{
		{screens.Update{}, "", ""},
		{screens.Update{Focus: "x"}, "focus x false", "focus x false"},
		{screens.Update{Focus: "x", Select: true}, "focus x false, select x", "focus x false"},
		{screens.Update{Focus: "x", Finger: "y"}, "focus x false", "focus y false"},
		{screens.Update{Focus: "x", Select: true, Finger: "y"}, "focus x false, select x", "focus y false"},
		{screens.Update{Focus: "x", Reveal: "r"}, "focus x true, reveal screen-board r false", "focus x true, reveal screen-board r false"},
		{screens.Update{Focus: "x", Reveal: "r", Centre: true}, "focus x true, reveal screen-board r true", "focus x true, reveal screen-board r true"},
		{screens.Update{Focus: "x", Finger: "y", Reveal: "r", Centre: true}, "focus x true, reveal screen-board r true", "reveal screen-board r false, focus y false"},
		{screens.Update{Focus: "x", Finger: "-", Reveal: "r"}, "focus x true, reveal screen-board r false", "focus - false"},
		{screens.Update{Reveal: "r"}, "reveal screen-board r false", "reveal screen-board r false"},
		{screens.Update{Read: "z", Top: true}, "read screen-board z, top of screen-board", "read screen-board z, top of screen-board"},
		{screens.Update{Window: "always"}, "window to screen-board false", "window to screen-board false"},
		{screens.Update{Window: "low"}, "window to screen-board true", "window to screen-board true"},
	} {
		b.finger = false
		if did := b.moves(func() { f.Apply("board", &c.u) }); did != c.mouse {
			t.Errorf("%+v: %s, want %s", c.u, did, c.mouse)
		}
		b.finger = true
		touched := c.finger
		if c.u.Select && c.u.Finger == "" {
			touched = c.mouse // no other place for a finger
		}
		if did := b.moves(func() { f.Apply("board", &c.u) }); did != touched {
			t.Errorf("%+v under a finger: %s, want %s", c.u, did, touched)
		}
	}
}

// A screen sends its reader to the sheet, or to a cell of it.
func TestToTheSheet(t *testing.T) {
	f, b := withDemo(t)
	f.Tab("tab-board")
	b.turn()
	b.focus = ""
	f.Apply("board", &screens.Update{Place: &screens.Place{Sheet: 0, Row: 3, Col: 2}})
	b.want(t, "a cell", fmt.Sprint(f.Screen(), f.state.Sheet, f.state.Row, b.focus), "0 3sheet")
	f.Tab("tab-board")
	b.focus = ""
	f.Apply("board", &screens.Update{Place: &screens.Place{Sheet: 3, Row: -1}})
	b.want(t, "a sheet", fmt.Sprint(f.Screen(), f.state.Sheet, b.focus), "3sheet")
	f.Apply("board", &screens.Update{Place: &screens.Place{Sheet: 3, Row: 1, Col: 2}})
	b.want(t, "a cell of it", fmt.Sprint(f.state.Row, f.state.Col), "1 2")
	f.Jump(3, 0, 1)
	b.want(t, "its first row", fmt.Sprint(f.state.Row, f.state.Col), "0 1")
	f.Tab("tab-moves")
	b.focus = ""
	if did := b.moves(func() { f.Apply("moves", &screens.Update{Sheet: true}) }); strings.Contains(did, "sheet top") || f.Screen() != "" || b.focus != "sheet" {
		t.Error(did, f.Screen(), b.focus)
	}
	if did := b.moves(func() { f.Apply("moves", &screens.Update{Sheet: true, SheetTop: true}) }); did != "sheet top" {
		t.Error(did)
	}
}

// The clipboard is asked for a screen: what is on it, or that the browser asks first or gives nothing.
func TestPasteFromTheClipboard(t *testing.T) {
	f, b := started(t)
	b.clip = "Machine\nPump 1\n"
	f.Apply("match", &screens.Update{Paste: "pasted"})
	b.turn()
	b.want(t, "pasted", f.textAt(t, 0, "machine"), "Pump 1")
	f.OpenScreen("crew")
	b.asks = true
	f.Send("crew", event("paste", ""))
	b.want(t, "a field to paste into", b.focus, "crew-text")
}

// A screen takes the place of the sheet: panel and sums go with it, and come back with the sheet, which shows what was done meanwhile.
func TestScreenInPlaceOfTheSheet(t *testing.T) {
	f, b := withDemo(t)
	f.Act("go", 2, 3, false)
	f.Act("go", 4, 3, true)
	b.turn()
	f.typeIn(b, "typed")
	f.Tab("tab-tables")
	if b.open {
		t.Error("a cell is open under a screen")
	}
	b.want(t, "nothing went wrong", b.text["banner-text"], "")
	b.want(t, "shown", b.screen+"|"+b.tab+"|"+b.shown("work", "side")+"|"+b.text["sums"], "tables|tab-tables||")
	f.Act("go", 5, 3, false)
	f.Act("go", 6, 3, true)
	b.turn()
	b.text["cell-where"] = ""
	if did := b.moves(func() { f.Tab("tab-0") }); did != "draw, cell 6 3" && did != "draw, cell 5 3" {
		t.Error(did)
	}
	b.turn()
	b.want(t, "the sheet", b.screen+"|"+b.tab+"|"+b.shown("work", "side"), "|tab-0|work side")
	if b.text["sums"] == "" || b.text["cell-where"] == "" {
		t.Errorf("sums %q, cell %q", b.text["sums"], b.text["cell-where"])
	}
	f.OpenScreen("no such screen")
	b.want(t, "no such screen", b.screen+b.shown("work"), "work")
	// list, crew and cards are of the machines
	for _, name := range []string{"list", "crew", "cards"} {
		f.ShowSheet(3)
		f.OpenScreen(name)
		if f.state.Sheet != 0 {
			t.Errorf("%s is shown beside sheet %d", name, f.state.Sheet)
		}
		if did := b.moves(func() { f.OpenScreen(name) }); strings.Contains(did, "layout") {
			t.Error(did)
		}
	}
	f.ShowSheet(3)
	if f.OpenScreen("tables"); f.state.Sheet != 3 {
		t.Error("the reference tables led away from the sheet")
	}
	// each is drawn as wide as it is; shown it is put there whole, changed only where it is another
	b.width, b.filled = 700, nil
	f.OpenScreen("list")
	if !strings.Contains(b.html["screen-list"], `width="664"`) {
		t.Error("the list is not drawn as wide as its screen")
	}
	f.Send("list", screens.Event{Name: "draw"})
	b.width = 500
	f.Send("list", screens.Event{Name: "draw"})
	if !strings.Contains(b.html["screen-list"], `width="664"`) {
		t.Error("an event asked for the width, which costs a layout")
	}
	f.Resized()
	f.Send("list", screens.Event{Name: "draw"})
	if !strings.Contains(b.html["screen-list"], `width="464"`) {
		t.Error("the list does not know of the window's size")
	}
	f.OpenScreen("board")
	b.want(t, "whole", b.filled["screen-board"], "whole")
	f.update(true, false, false)
	b.want(t, "where it is another", b.filled["screen-board"], "if new")
	// an empty sheet draws nothing
	g, d := started(t)
	g.OpenScreen("tables")
	if did := d.moves(func() { g.OpenScreen("") }); did != "" {
		t.Error(did)
	}
}

// What waits of a screen is sent before another takes its place, once; the same sent again waits anew.
func TestLater(t *testing.T) {
	f, b := withList(t)
	f.OpenScreen("calc")
	n := 0
	f.Later("rows", "calc", 100, func() { n++ })
	f.Later("rows", "calc", 100, func() { n += 10 })
	f.Later("other", "find", 100, func() { n += 1000 })
	f.OpenScreen("tables")
	if n != 10 {
		t.Errorf("%d on leaving", n)
	}
	b.turn()
	if n != 1010 {
		t.Errorf("%d after the time", n)
	}
	f.OpenScreen("calc")
	if f.OpenScreen("tables"); n != 1010 {
		t.Errorf("%d on leaving once more", n)
	}
	f.Later("rows", "calc", 100, func() { n += 10000 })
	b.turn()
	b.turn()
	if n != 11010 || len(f.waiting) > 0 {
		t.Errorf("%d, %d wait", n, len(f.waiting))
	}
	// an event that a screen sends itself
	f.OpenScreen("list")
	b.html["screen-list"] = ""
	f.Apply("list", &screens.Update{Soon: "draw", SoonIn: 10})
	b.want(t, "not yet", b.html["screen-list"], "")
	if b.turn(); b.html["screen-list"] == "" {
		t.Error("it did not come")
	}
}

// The screen that is shown hears of what changes, but not under a stroke of a pen: then at its end, and only where it is still there.
func TestScreenHearsOfChanges(t *testing.T) {
	f, b := withDemo(t)
	f.OpenScreen("board")
	b.turn()
	name := f.textAt(t, 0, "machine")
	change := func(to string) {
		f.at(t, 0, "machine")
		f.Act("begin")
		f.Act("commit", to, 0, 0)
	}
	hears := func() bool { return strings.Contains(b.html["screen-board"]+b.html["board"], "Renamed") }
	b.html = map[string]string{}
	change("Renamed 1")
	if b.html["screen-board"] == "" {
		t.Error("the board does not hear of it at once")
	}
	b.turn()
	all := ""
	for id, html := range b.html {
		if strings.Contains(html, "Renamed 1") {
			all += id + " "
		}
	}
	if !hears() && all == "" {
		t.Errorf("the board does not know of it (%s)", name)
	}
	f.Drawing = true
	change("Renamed 2")
	b.turn()
	for id, html := range b.html {
		if id != "panel-row" && id != "panel-problems" && strings.Contains(html, "Renamed 2") {
			t.Errorf("%s was made anew under a pen", id)
		}
	}
	f.Drawn()
	found := false
	for id, html := range b.html {
		found = found || id != "panel-row" && id != "panel-problems" && strings.Contains(html, "Renamed 2")
	}
	if !found || f.Drawing {
		t.Error("not made anew at the end of the stroke")
	}
	b.html = map[string]string{}
	f.Drawn()
	if len(b.html) > 0 {
		t.Error("made anew twice")
	}
	f.Drawing = true
	change("Renamed 3")
	f.OpenScreen("tables")
	b.html = map[string]string{}
	if f.Drawn(); len(b.html) > 0 {
		t.Error("a screen that is not shown any more was made anew")
	}
}

// What fails inside a screen is told with what is for whoever mends it, and the job stays.
func TestScreenFails(t *testing.T) {
	f, b := withList(t)
	f.Send("no such screen", screens.Event{Name: "x"})
	if s := b.text["banner-text"]; !strings.HasPrefix(s, "Something went wrong inside the page (desk: no screen no such screen).") || !strings.Contains(b.has("banner-text", "title"), "goroutine") {
		t.Errorf("%q", s)
	}
	b.want(t, "the job", f.second(t), "Pump 2")
}

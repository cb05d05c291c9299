package frame

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// Commands of the menus and buttons, and the keys that mean them everywhere on the page.

// What each command of the menus does, and that the keyboard is on the sheet after it.
func TestCommandsDo(t *testing.T) {
	f, b := withDemo(t)
	order := f.columnOf(t, "work_order")
	rows := f.state.Rows
	at := func(row int) { f.Act("go", row, order, false); b.focus = "" }
	text := func(row int) string {
		f.Act("go", row, order, false)
		return parse(f.desk.Answer("info", 0)).text("text")
	}
	do := func(name, what, want string, got func() string) {
		t.Helper()
		b.focus = ""
		f.Do(name)
		if b.focus != "sheet" {
			t.Errorf("%s: focus %q", name, b.focus)
		}
		b.turn()
		b.want(t, name+": "+what, got(), want)
	}
	count := func() string { return fmt.Sprint(f.state.Rows - rows) }
	at(2)
	do("insertRows", "rows more", "1", count)
	b.want(t, "told", b.text["status"], "Done: "+f.state.Undo+".")
	do("undo", "rows more", "0", count)
	if s := b.text["status"]; !strings.HasPrefix(s, "Undone: ") {
		t.Errorf("told %q", s)
	}
	b.want(t, "undo, redo", b.has("redo", "disabled")+"|"+b.has("redo", "title"), "off|"+b.text["redo"]+" (Ctrl+Y)")
	do("redo", "rows more", "1", count)
	b.want(t, "redo", b.text["redo"]+"|"+b.has("redo", "disabled")+"|"+b.has("undo", "disabled")+"|"+b.has("undo", "title"), "Redo||off|"+b.text["undo"]+" (Ctrl+Z)")
	do("undo", "rows more", "0", count)
	at(2)
	do("duplicateRows", "rows more", "1", count)
	at(2)
	do("deleteRows", "rows more", "0", count)
	second, third := text(1), text(2)
	at(1)
	do("moveDown", "the row below", third, func() string { return text(1) })
	at(2)
	do("moveUp", "the row above", second, func() string { return text(1) })
	at(1)
	do("clearCells", "emptied", "", func() string { return text(1) })
	f.Do("undo")
	at(1)
	f.Act("go", 2, order, true)
	do("fill", "filled", second, func() string { return text(2) })
	f.Do("undo")
	at(1)
	f.typeIn(b, "A 1")
	f.done()
	f.Act("go", 2, order, false)
	f.Act("delete")
	f.Act("go", 1, order, false)
	f.Act("go", 2, order, true)
	do("series", "a series", "A 2", func() string { return text(2) })
	rim := f.columnOf(t, "movable_rim_3")
	f.Act("go", 1, rim, false)
	f.typeIn(b, "0.5")
	f.done()
	f.Act("go", 1, rim, false)
	f.Act("go", 1, rim+1, true)
	do("fillRight", "filled", "0.5", func() string { f.Act("go", 1, rim+1, false); return parse(f.desk.Answer("info", 0)).text("text") })
	columns := f.state.Columns
	at(1)
	do("hideColumns", "columns less", "1", func() string { return fmt.Sprint(columns - f.state.Columns) })
	b.focus = ""
	do("jobSheet", "sheet", "1", func() string { return fmt.Sprint(f.state.Sheet) })
	b.want(t, "the tab", b.tab+"|"+b.has("work", "aria-labelledby"), "tab-1|tab-1")
	f.ShowSheet(0)
	f.Act("arrange", "Machine\tdesc\n", "")
	first := func() string { f.Act("go", 0, 0, false); return parse(f.desk.Answer("info", 0)).text("text") }
	was := first()
	if b.text["viewsaid"] == "" || b.shown("viewoff") == "" {
		t.Error("it is not said that the rows are sorted")
	}
	do("showAll", "what is said of it", "|", func() string { return b.text["viewsaid"] + "|" + b.shown("viewoff") })
	if first() == was {
		t.Error("the rows are still sorted")
	}
	// undoing beside a screen leaves the focus there
	f.OpenScreen("board")
	b.focus = "somewhere"
	f.Do("undo")
	f.Do("redo")
	f.Do("showAll")
	b.want(t, "beside a screen", b.focus, "somewhere")
	f.OpenScreen("")
	for name, press := range map[string]string{"open": "file", "addToWorkbook": "workbook-file"} {
		f.Do(name)
		b.want(t, name, b.focus, "pressed "+press)
	}
	defer func() {
		if recover() == nil {
			t.Error("a command that there is not was done")
		}
	}()
	f.Do("no such command")
}

// Each dialog of the menus opens after the cell that is typed into is done with, and knows what it has to ask.
func TestDialogs(t *testing.T) {
	f, b := withDemo(t)
	for name, dialog := range map[string]string{"headers": "dlg-headers", "sort": "dlg-arrange", "groups": "dlg-groups", "columns": "dlg-columns", "matchColumns": "dlg-match", "help": "dlg-help", "workbook": "dlg-workbook", "copies": "dlg-copies"} {
		b.dialog = ""
		f.at(t, 0, "note")
		f.typeIn(b, "typed before "+name)
		f.Do(name)
		b.want(t, name, b.dialog, dialog)
		if name != "copies" {
			if b.open {
				t.Errorf("%s: a cell is open under a dialog", name)
			}
			b.want(t, name+": the cell", f.textAt(t, 0, "note"), "typed before "+name)
		}
		f.done()
	}
	if s := b.html["headers-method"]; !strings.Contains(s, "Rim and face") {
		t.Errorf("the ways of measuring are not to be chosen: %.200s", s)
	}
	// the help: its texts are unpacked once, and the page is idle after it
	f, b = withDemo(t)
	idle := ""
	b.while = func() { // its texts are unpacked
		idle = b.marks["idle"]
		f.idle()
		idle += " " + b.marks["idle"]
	}
	f.Do("help")
	opened := ""
	for i := range 30 {
		f.Send("help", screens.Event{Name: "fold", Arg: strconv.Itoa(i), Value: "true"})
		opened += b.html["help-in-"+strconv.Itoa(i)]
	}
	if !strings.Contains(opened, ">licence<") || !strings.Contains(opened, "Rim and face") {
		t.Errorf("%.300s", opened)
	}
	if b.unpacked != 1 || idle != "0 0" {
		t.Errorf("unpacked %d times; idle meanwhile: %s", b.unpacked, idle)
	}
	f.Do("help")
	b.want(t, "idle", b.marks["idle"], "1")
	if b.unpacked != 1 {
		t.Errorf("unpacked %d times", b.unpacked)
	}
}

// Keys of the whole page where a screen is shown, a field has the focus, a dialog is open.
func TestKeysOfThePage(t *testing.T) {
	f, b := withDemo(t)
	at := func() string { return f.textAt(t, 0, "machine") }
	was := at()
	f.at(t, 0, "machine")
	f.Act("delete")
	for _, c := range []struct {
		key  Key
		want string
	}{
		{Key{Name: "z", Ctrl: true}, was}, {Key{Name: "y", Ctrl: true}, ""}, {Key{Name: "Z", Ctrl: true}, was}, {Key{Name: "Z", Ctrl: true, Shift: true}, ""}, {Key{Name: "z", Ctrl: true}, was},
	} {
		if !f.Pressed(c.key) {
			t.Errorf("%+v was left to the browser", c.key)
		}
		b.want(t, fmt.Sprint(c.key), at(), c.want)
	}
	for _, k := range []Key{{Name: "y", Ctrl: true, Typing: true}, {Name: "z", Ctrl: true, Typing: true}, {Name: "Z", Ctrl: true, Shift: true, Typing: true}, {Name: "p", Ctrl: true, Typing: true}, {Name: "F", Ctrl: true, Shift: true}, {Name: "u", Ctrl: true},
		{Name: "y"}, {Name: "z"}, {Name: "p"}, {Name: "s"}, {Name: "Escape", Taken: true, Beside: true}} {
		b.printed = nil
		if f.Pressed(k) || len(b.printed) > 0 || at() != was {
			t.Errorf("%+v was taken", k)
		}
	}
	b.focus = ""
	if !f.Pressed(Key{Name: "Escape", Beside: true}) || b.focus != "sheet" {
		t.Error("Escape beside the sheet does not lead to it")
	}
	b.handed = nil
	if !f.Pressed(Key{Name: "S", Ctrl: true}) || b.handed == nil {
		t.Error("Ctrl+S does not save")
	}
	// beside a screen: its own paper where it has one, and find is the browser's
	f.OpenScreen("shims")
	b.turn()
	b.html["paper"] = ""
	if !f.Pressed(Key{Name: "p", Ctrl: true}) || len(b.printed) != 1 || b.printed[0] != "" {
		t.Error("the list's paper was put in the place of the screen's")
	}
	if f.Pressed(Key{Name: "f", Ctrl: true}) {
		t.Error("find was taken from the browser beside a screen")
	}
	f.OpenScreen("calc")
	f.Pressed(Key{Name: "p", Ctrl: true})
	if len(b.printed) != 2 || !strings.Contains(b.printed[1], "Marrow Ridge") {
		t.Error("a screen with nothing to print prints not the list")
	}
	// going round: a cell is done with, the parts that there are
	f.OpenScreen("board")
	f.Pressed(Key{Name: "F6", Shift: true})
	b.want(t, "round", b.focus, "area true [{screen-board } {side panel-row} {under tab-board} {head file-open}]")
	f.ShowSheet(0)
	f.Side("side-problems")
	f.at(t, 0, "note")
	f.typeIn(b, "before F6")
	f.Pressed(Key{Name: "F6"})
	if b.open {
		t.Error("a cell is open behind the focus")
	}
	b.want(t, "round", b.focus, "area false [{work grid} {side panel-problems} {under tab-0} {head file-open}]")
	b.want(t, "the cell", f.textAt(t, 0, "note"), "before F6")
}

// The menu View: what is set is marked in the menu, remembered for this browser, and everything that shows it is drawn anew.
func TestView(t *testing.T) {
	f, b := withDemo(t)
	f.Act("go", 2, 3, false)
	b.turn()
	if did := b.moves(func() { f.View("theme-set", "sun", "") }); did != "layout, draw, cell 2 3" {
		t.Error(did)
	}
	f.OpenScreen("board")
	b.turn()
	if did := b.moves(func() { f.View("theme-set", "night", "") }); did != "layout, draw" || b.kept["shimsheet:colours"] != "night" {
		t.Error(did, b.kept)
	}
	b.html = map[string]string{}
	if f.View("theme-set", "sun", ""); b.html["screen-board"] == "" {
		t.Error("the screen does not hear of other colours")
	}
	b.html = map[string]string{}
	if f.View("units", "inch", "Inch"); b.html["screen-board"] == "" {
		t.Error("the screen does not hear of other units")
	}
	f.View("units", "", "")
	f.OpenScreen("")
	b.turn()
	f.View("panel-set", "hidden", "")
	b.want(t, "hidden", b.text["status"]+"|"+b.kept["shimsheet:panel"], "The panel is hidden: View, Panel at the side brings it back.|hidden")
	b.turn()
	b.text["cell-where"], b.text["status"] = "", ""
	f.View("panel-set", "shown", "")
	b.turn()
	if b.text["status"] != "" || b.text["cell-where"] == "" {
		t.Errorf("told %q, panel of %q", b.text["status"], b.text["cell-where"])
	}
	b.text["cell-where"] = ""
	if did := b.moves(func() { f.View("units", "inch", "Inch") }); !strings.HasSuffix(did, "layout, draw") {
		t.Error(did)
	}
	b.turn()
	if b.text["cell-where"] == "" || b.checked["units"] != "inch" {
		t.Error("the panel is in other units than the sheet")
	}
	if did := b.moves(func() { f.View("results-first", "true", "") }); !strings.HasSuffix(did, "sheet left") {
		t.Error(did)
	}
	f.View("results-first", "false", "")
	f.View("all", "true", "")
	f.View("all", "false", "")
	b.want(t, "marked", b.checked["results-first"]+b.checked["all"], "falsefalse")
	g, d := started(t)
	if did := d.moves(func() { g.View("theme-set", "sun", "") }); strings.Contains(did, "cell") {
		t.Error(did)
	}
}

// What goes onto the clipboard: from the menus with headers or as numbers, by the browser's own copy and cut, told as rows and columns.
func TestClipboard(t *testing.T) {
	f, b := withDemo(t)
	f.at(t, 0, "machine")
	before := f.textAt(t, 2, "machine")
	f.Act("go", 2, 0, false)
	f.Act("go", 3, f.state.Columns-1, true)
	f.Do("copyHeads")
	heads := b.clip
	f.Do("copyPlain")
	if !strings.HasPrefix(b.clip, "Machine\t") || b.clip == heads {
		t.Error("results as numbers are as they are shown")
	}
	f.Act("go", 2, 1, false)
	f.Act("go", 3, 2, true)
	b.focus = ""
	f.Do("copyCells")
	cells := b.clip
	b.want(t, "told", b.text["status"]+"|"+b.focus, "2 rows × 2 columns on the clipboard.|sheet")
	f.Do("copyHeads")
	if !strings.HasPrefix(b.clip, "Verdict\t") || !strings.HasSuffix(b.clip, cells) {
		t.Errorf("%q", b.clip)
	}
	b.text["status"] = ""
	plain, html, ok := f.Copied("copy")
	if !ok || plain != cells || !strings.Contains(html, "<table>") || b.text["status"] != "2 rows × 2 columns on the clipboard." {
		t.Errorf("%q %v, told %q", plain, ok, b.text["status"])
	}
	f.Act("go", 2, 0, false)
	f.Copied("copy")
	b.want(t, "copying leaves it", f.textAt(t, 2, "machine"), before)
	f.Copied("cut")
	b.want(t, "cutting does not", f.textAt(t, 2, "machine"), "")
	if !f.OnSheet() {
		t.Error("the sheet is what is looked at")
	}
	f.OpenScreen("board")
	if f.OnSheet() {
		t.Error("a screen is taken for the sheet")
	}
	if g, _ := started(t); g.OnSheet() {
		t.Error("an empty job is taken for a sheet with columns")
	}
	// pasted while a cell is open: the cell is done with first
	f.OpenScreen("")
	f.at(t, 0, "note")
	f.typeIn(b, "typed before")
	f.Pasted("pasted")
	b.turn()
	if b.open {
		t.Error("the cell is open still")
	}
	b.want(t, "pasted over it", f.textAt(t, 0, "note"), "pasted")
	f.Do("undo")
	b.want(t, "before that", f.textAt(t, 0, "note"), "typed before")
}

// A way of measuring gives the sheet its columns.
func TestColumnsOfAWay(t *testing.T) {
	f, b := started(t)
	b.want(t, "empty", b.marks["empty"]+"|"+b.shown("welcome"), "1|welcome")
	f.Columns("rim and face")
	b.turn()
	b.want(t, "not empty", b.marks["empty"]+"|"+b.shown("welcome")+"|"+b.focus, "0||sheet")
	f.columnOf(t, "face_12")
	b.text["tab-3"] = "Stock"
	f.Tab("tab-3")
	b.want(t, "sheet", b.marks["empty"]+"|"+b.has("grid", "aria-label")+"|"+b.has("work", "aria-labelledby"), "0|Stock|tab-3")
}

// Rows that a sheet lacks are offered where they can be made; when they have been made the keyboard is on the sheet.
func TestRowsCanBeMade(t *testing.T) {
	f, b := withList(t)
	f.Tab("tab-5")
	b.turn()
	if b.shown("makerows") == "" || b.html["makerows"] == "" {
		t.Fatal("no rows are offered")
	}
	b.focus = "makerows"
	offered := b.html["makerows"]
	b.html["makerows"] = "as it was"
	f.around()
	b.want(t, "what stands there stays", b.html["makerows"]+"|"+b.focus, "as it was|makerows")
	f.Act("go", 0, 0, false)
	f.Act("begin")
	f.Act("commit", "Pump 1", 0, 0)
	b.turn()
	if b.shown("makerows") != "" || b.focus != "sheet" || b.html["makerows"] == offered {
		t.Errorf("shown %q, focus %q", b.shown("makerows"), b.focus)
	}
}

// What goes on paper: by a command, or by the browser's own printing; what waits in a cell is on it.
func TestPaper(t *testing.T) {
	f, b := withDemo(t)
	f.Do("print")
	list := b.printed[0]
	b.html["paper"] = "as the command put it"
	f.BeforePrint()
	b.want(t, "the command's paper", b.html["paper"], "as the command put it")
	f.Act("go", 1, 0, false)
	f.Do("printMachine")
	machine := b.printed[1]
	f.BeforePrint()
	if name := f.textAt(t, 1, "machine"); machine == list || strings.HasPrefix(machine, "as the") || !strings.Contains(machine, name) {
		t.Error("one machine is the list, or another's")
	}
	b.html["paper"] = "as the command put it"
	f.Do("printMachine")
	b.html["paper"] = "as the command put it"
	f.BeforePrint()
	b.want(t, "the command's paper", b.html["paper"], "as the command put it")
	b.printed = b.printed[:2]
	f.Act("go", 1, 0, false)
	f.BeforePrint() // of the browser's own menu now
	b.want(t, "the list", b.html["paper"], list)
	f.Do("printCards")
	b.want(t, "a screen's own", b.printed[2], list)
	for _, c := range []struct {
		sheet int
		want  bool // one machine
	}{{4, true}, {5, true}, {3, false}, {0, false}} {
		f.ShowSheet(c.sheet)
		f.BeforePrint()
		if got := b.html["paper"] != list; got != c.want {
			t.Errorf("sheet %d: one machine %v", c.sheet, got)
		}
	}
	f.OpenScreen("crew")
	b.turn()
	if f.BeforePrint(); b.html["paper"] == list {
		t.Error("one by one prints the list")
	}
	f.OpenScreen("calc")
	if f.BeforePrint(); b.html["paper"] != list {
		t.Error("a screen with nothing to print does not print the list")
	}
	for name := range onPaper {
		f.OpenScreen(name)
		b.turn()
		b.html["paper"] = "old"
		f.BeforePrint()
		if p := b.html["paper"]; name != "shims" && p == "old" || p == list {
			t.Errorf("%s: not its own paper", name)
		}
	}
	f.ShowSheet(0)
	f.at(t, 0, "note")
	f.typeIn(b, "typed before printing")
	if f.BeforePrint(); b.open {
		t.Error("what is typed is not on the paper")
	}
	f.Do("save")
	b.clock = "2026-11-30T11:45:00.000Z"
	if f.Do("printMachine"); !strings.Contains(b.html["paper"], "&lt;2026-11-30T09:15:00.000Z&gt;") || !strings.Contains(b.html["paper"], "&lt;2026-11-30T11:45:00.000Z&gt;") {
		t.Error("the paper does not say when it was saved and printed")
	}
}

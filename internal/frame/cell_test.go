package frame

import (
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A cell that is typed into: what is offered, told, read out, and where what was typed goes.

// withDemo is a page with the demo job, worked out.
func withDemo(t *testing.T) (*Frame, *fake) {
	f, b := started(t)
	f.Do("demo")
	b.turn()
	return f, b
}

// has says of an attribute what it holds, "off" where it is not there.
func (b *fake) has(id, name string) string {
	if v, ok := b.attributes[id+" "+name]; ok {
		return v
	}
	return "off"
}

// shown says which of some elements are to be seen.
func (b *fake) shown(ids ...string) string {
	return strings.Join(slices.DeleteFunc(ids, func(id string) bool { return !b.Shown(id) }), " ")
}

// How a cell opens: over its place, brought into sight, with its name for a screen reader, which hears of a list of words where there is one.
func TestCellOpens(t *testing.T) {
	f, b := withDemo(t)
	f.at(t, 3, "speed")
	col := f.state.Col
	if did := b.moves(func() { f.SheetKey(Key{Name: "F2"}) }); !strings.HasSuffix(did, "cell 3 "+strconv.Itoa(col)+", editor 3 "+strconv.Itoa(col)+" false, place") {
		t.Error(did)
	}
	b.want(t, "read out", b.has("editor", "aria-label"), "Text of Speed")
	b.want(t, "no list", b.has("editor", "role")+" "+b.has("editor", "aria-controls")+" "+b.has("editor", "aria-autocomplete")+" "+b.has("editor", "aria-expanded"), "textbox off off off")
	b.want(t, "its list", b.shown("editor-choices"), "")
	f.CellKey(Key{Name: "Escape"})
	b.want(t, "focus after Escape", b.focus, "sheet")
	f.at(t, 3, "coupling")
	f.EditCell(false, "")
	b.want(t, "a list", b.has("editor", "role")+" "+b.has("editor", "aria-controls")+" "+b.has("editor", "aria-autocomplete")+" "+b.has("editor", "aria-expanded"), "combobox editor-choices list true")
	b.want(t, "its list", b.shown("editor-choices", "under-editor"), "editor-choices under-editor")
	if n := strings.Count(b.html["editor-choices"], "<li"); n < 2 {
		t.Errorf("%d words, whatever stands there", n)
	}
	f.CellKey(Key{Name: "Escape"})
	f.at(t, 3, "speed")
	f.EditCell(false, "")
	b.want(t, "no list again", b.has("editor", "role")+" "+b.has("editor", "aria-controls")+" "+b.has("editor", "aria-autocomplete")+" "+b.has("editor", "aria-expanded"), "textbox off off off")
	f.CellKey(Key{Name: "Escape"})
	// a result is worked out: no cell opens
	f.at(t, 3, "verdict")
	b.open = false
	f.SheetKey(Key{Name: "1"})
	if b.open || !strings.Contains(b.text["status"], "worked out") {
		t.Errorf("open %v, told %q", b.open, b.text["status"])
	}
	if f.TakeWord(0); f.state.Row != 3 {
		t.Error("a word was taken where no cell is open")
	}
	b.nameless = true
	f.at(t, 3, "speed")
	f.EditCell(false, "")
	b.want(t, "a column without a name", b.has("editor", "aria-label"), "Text of the cell")
	f.CellKey(Key{Name: "Escape"})
	b.nameless = false
	f.at(t, 3, "speed")
	if f.SheetKey(Key{Name: "Q", Shift: true}); !b.open {
		t.Error("a capital letter opens no cell")
	}
	f.CellKey(Key{Name: "Escape"})
	// the way of the first letter
	f.at(t, 3, "note")
	f.SheetKey(Key{Name: "ü"})
	b.want(t, "what stands in it", b.values["editor"], "")
	if taken, on := f.CellKey(Key{Name: "Enter", Composing: true}); taken || !on || !b.open {
		t.Error("a key of a letter that is being made closed the cell")
	}
}

// Going through the words that a cell takes: the list follows, a screen reader hears which one is meant, and the picture shows what it would lead to.
func TestWordsGoneThrough(t *testing.T) {
	f, b := withDemo(t)
	f.at(t, 0, "coupling")
	f.EditCell(false, "")
	all := f.cell.offered
	first, last := "choice-0", "choice-"+strconv.Itoa(len(all)-1)
	if did := b.moves(func() { f.CellKey(Key{Name: "ArrowDown"}) }); did != "show "+first+", place" {
		t.Error(did)
	}
	b.want(t, "the first", b.has(first, "aria-selected")+" "+b.has("editor", "aria-activedescendant")+" "+b.values["editor"], "true "+first+" "+all[0])
	f.CellKey(Key{Name: "ArrowUp"})
	b.want(t, "round to the last", b.has(first, "aria-selected")+" "+b.has(last, "aria-selected")+" "+b.has("editor", "aria-activedescendant")+" "+b.values["editor"], "false true "+last+" "+all[len(all)-1])
	f.CellKey(Key{Name: "ArrowDown"})
	b.want(t, "round to the first", b.values["editor"], all[0])
	f.CellKey(Key{Name: "ArrowDown"})
	b.want(t, "the second", b.values["editor"]+" "+b.has(first, "aria-selected"), all[1]+" false")
	f.CellKey(Key{Name: "Escape"})
	f.at(t, 0, "coupling")
	f.EditCell(false, "")
	f.CellKey(Key{Name: "ArrowUp"})
	b.want(t, "up at first", b.values["editor"], all[len(all)-1])
	// typing lists anew and means none of them
	b.values["editor"] = all[1][1:3]
	f.CellTyped()
	b.want(t, "none", b.has("editor", "aria-activedescendant"), "off")
	if len(f.cell.offered) == 0 || !slices.Contains(f.cell.offered, all[1]) {
		t.Errorf("what holds %q is not offered: %q", b.values["editor"], f.cell.offered)
	}
	f.CellKey(Key{Name: "ArrowUp"})
	b.want(t, "up from none", b.values["editor"], f.cell.offered[len(f.cell.offered)-1])
	b.values["editor"] = "zzz"
	f.CellTyped()
	b.want(t, "nothing fits", b.shown("editor-choices")+" "+b.has("editor", "aria-expanded"), " false")
	if did := b.moves(func() { f.CellKey(Key{Name: "ArrowDown"}) }); did != "" || b.values["editor"] != "zzz" {
		t.Error(did, b.values["editor"])
	}
	if f.TakeWord(0); !b.open {
		t.Error("a word that is not offered was taken")
	}
	// Seen: in a cell that is typed over, the arrow did nothing either where the word fits none on offer, and in every other cell it goes on.
	f.CellKey(Key{Name: "Escape"})
	f.typeIn(b, "zzz")
	row := f.state.Row
	if f.CellKey(Key{Name: "ArrowDown"}); b.open || f.state.Row != row+1 || f.textAt(t, row, "coupling") != "zzz" {
		t.Error("open", b.open, "row", f.state.Row, f.textAt(t, row, "coupling"))
	}
	f.Do("undo")
	f.at(t, row, "coupling")
	f.EditCell(false, "")
	f.CellKey(Key{Name: "Escape"})
	f.EditCell(false, "")
	want := f.cell.offered[1]
	f.TakeWord(len(f.cell.offered))
	f.TakeWord(-1)
	if !b.open {
		t.Error("a word that is not there was taken")
	}
	f.TakeWord(1)
	b.want(t, "taken", f.textAt(t, 0, "coupling"), want)
	// what begins with the letters comes before what only holds them
	f.at(t, 0, "coupling")
	f.typeIn(b, "")
	if len(f.cell.offered) != len(all) {
		t.Error("nothing typed lists not all")
	}
	for _, w := range all {
		for i := range w[:len(w)-1] {
			b.values["editor"] = strings.ToUpper(w[i : i+2])
			f.CellTyped()
			begins := true
			for _, o := range f.cell.offered {
				at := strings.Index(strings.ToLower(o), strings.ToLower(b.values["editor"]))
				if at < 0 || at == 0 && !begins {
					t.Errorf("%q: %q", b.values["editor"], f.cell.offered)
				}
				begins = at == 0
			}
			if !slices.Contains(f.cell.offered, w) {
				t.Errorf("%q lacks %q", b.values["editor"], w)
			}
		}
	}
}

// What is told while somebody types: what the text means, the word that Enter would take; the picture of the row is as it would be.
func TestToldWhileTyping(t *testing.T) {
	f, b := withDemo(t)
	f.at(t, 0, "coupling")
	f.typeIn(b, "fle")
	b.want(t, "told", b.text["editor-meaning"]+" "+b.shown("under-editor"), "Enter takes: flexible under-editor")
	b.values["editor"] = "flexible"
	f.CellTyped()
	if strings.HasPrefix(b.text["editor-meaning"], "Enter takes") {
		t.Error(b.text["editor-meaning"])
	}
	f.CellKey(Key{Name: "Escape"})
	f.at(t, 0, "movable_rim_3")
	f.info()
	f.typeIn(b, "0.1 in")
	if m := b.text["editor-meaning"]; !strings.Contains(m, "2.54") {
		t.Errorf("told: %q", m)
	}
	if d := b.html["drawing"]; !strings.HasPrefix(d, "<svg") || !strings.Contains(d, `width="970"`) {
		t.Errorf("no drawing of the panel's width: %.200s", d)
	}
	b.want(t, "to be seen", b.shown("under-editor"), "under-editor")
	for _, row := range []int{2, 5} {
		f.at(t, row, "movable_rim_3")
		f.typeIn(b, "0.1 in")
		if m := parse(f.desk.Answer("tryText", row, f.state.Col, "0.1 in", 970)); m.text("svg") != b.html["drawing"] || m.text("meaning") != b.text["editor-meaning"] || m.text("svg") == "" {
			t.Errorf("row %d: the drawing is another row's", row)
		}
		f.CellKey(Key{Name: "Escape"})
	}
	f.at(t, 0, "movable_rim_3")
	f.typeIn(b, "0.1 in")
	f.CellKey(Key{Name: "Tab"})
	f.Act("move", 0, -1, false)
	b.turn()
	if m := b.text["cell-meaning"]; !strings.Contains(m, "2.54") {
		t.Errorf("meaning of the cell: %q", m)
	}
	f.at(t, 0, "movable_rim_3")
	f.typeIn(b, "0.1 in")
	for _, hidden := range []string{"drawing", "panel-row", "side"} {
		b.attributes[hidden+" hidden"] = ""
		b.html["drawing"] = ""
		if f.CellTyped(); b.html["drawing"] != "" {
			t.Errorf("a drawing is made though %s is not to be seen", hidden)
		}
		delete(b.attributes, hidden+" hidden")
	}
	f.CellKey(Key{Name: "Escape"})
	f.at(t, 0, "note")
	f.typeIn(b, "x")
	b.want(t, "nothing to be told", b.text["editor-meaning"]+b.shown("under-editor"), "")
}

// A word is completed only where the column takes no other and it can be no other.
func TestOnlyWord(t *testing.T) {
	f, b := withList(t)
	_ = b
	for _, c := range []struct {
		words  string
		closed bool
		typed  string
		want   string
	}{
		{"yes no", true, "y", "yes"}, {"yes no", true, " N ", "no"}, {"yes no", false, "y", ""}, {"yes no", true, "", ""}, {"yes no", true, "yes", ""}, {"yes no", true, "x", ""},
		{"rim rims", true, "rim", ""}, {"rim rims", true, "ri", ""}, {"rim rims", true, "rims", ""}, {"Rigid flexible", true, "rig", "Rigid"}, {"RIGID x", true, "rigid", ""},
	} {
		f.cell = cell{open: "typed", choices: strings.Fields(c.words), closed: c.closed}
		b.values["editor"] = c.typed
		b.want(t, c.words+" "+c.typed, f.only(), c.want)
	}
	f.cell = cell{}
}

// Where the cursor and the text go by each key of an open cell.
func TestCellKeysGo(t *testing.T) {
	f, b := withDemo(t)
	f.at(t, 2, "coupling")
	col := f.state.Col
	for _, c := range []struct {
		key        Key
		down, side int
		text       string
	}{
		{Key{Name: "Enter"}, 1, 0, "flexible"}, {Key{Name: "Enter", Shift: true}, -1, 0, "flexible"}, {Key{Name: "Tab"}, 0, 1, "flexible"}, {Key{Name: "Tab", Shift: true}, 0, -1, "flexible"},
	} {
		f.Act("go", 2, col, false)
		f.typeIn(b, "flex")
		if taken, on := f.CellKey(c.key); !taken || on {
			t.Errorf("%+v: taken %v, on %v", c.key, taken, on)
		}
		if f.state.Row != 2+c.down || f.state.Col != col+c.side || b.focus != "sheet" {
			t.Errorf("%+v: in %d %d, focus %q", c.key, f.state.Row-2, f.state.Col-col, b.focus)
		}
		b.want(t, c.key.Name, f.textAt(t, 2, "coupling"), c.text)
	}
	note := f.columnOf(t, "note")
	for name, step := range map[string][2]int{"ArrowDown": {1, 0}, "ArrowUp": {-1, 0}, "ArrowLeft": {0, -1}, "ArrowRight": {0, 1}} {
		f.Act("go", 2, note, false)
		f.typeIn(b, "by "+name)
		f.CellKey(Key{Name: name})
		if f.state.Row != 2+step[0] || f.state.Col != note+step[1] {
			t.Errorf("%s leads to %d %d", name, f.state.Row-2, f.state.Col-note)
		}
		b.want(t, name, f.textAt(t, 2, "note"), "by "+name)
		f.Act("go", 2, note, false)
		f.typeIn(b, "stays")
		if taken, _ := f.CellKey(Key{Name: name, Ctrl: true}); taken || !b.open {
			t.Errorf("Ctrl+%s left the cell", name)
		}
		f.CellKey(Key{Name: "F2"}) // from now on it is edited
		if taken, _ := f.CellKey(Key{Name: name}); taken || !b.open {
			t.Errorf("%s left a cell that is edited", name)
		}
		f.CellKey(Key{Name: "Escape"})
	}
	f.Act("go", 2, note, false)
	f.typeIn(b, "with ")
	f.CellKey(Key{Name: "ArrowDown", Shift: true})
	b.want(t, "Shift selects on", sel(f), "2 "+strconv.Itoa(note)+" 3 "+strconv.Itoa(note))
	// Ctrl+Enter: every cell of the selection, the cursor stays
	f.Act("go", 2, col, false)
	f.Act("go", 4, col, true)
	f.typeIn(b, "rig")
	f.CellKey(Key{Name: "Enter", Ctrl: true})
	b.want(t, "selection, focus", sel(f)+" "+b.focus, "2 "+strconv.Itoa(col)+" 4 "+strconv.Itoa(col)+" sheet")
	for row := 2; row <= 4; row++ {
		if got := f.textAt(t, row, "coupling"); got != "rigid" {
			t.Errorf("row %d: %q", row, got)
		}
	}
	if b.open || f.cell.open != "" {
		t.Error("the cell is open still")
	}
	// the date at the caret, a line more, each with its place
	f.at(t, 2, "note")
	f.typeIn(b, "seen ")
	if did := b.moves(func() { f.CellKey(Key{Name: ";", Ctrl: true}) }); did != "place" || b.values["editor"] != "seen 2026-11-30" {
		t.Error(did, b.values["editor"])
	}
	if did := b.moves(func() { f.CellKey(Key{Name: "Enter", Alt: true}) }); did != "place" || b.values["editor"] != "seen 2026-11-30\n" {
		t.Error(did, b.values["editor"])
	}
	for _, c := range []struct {
		key Key
		on  bool
	}{{Key{Name: "F1"}, true}, {Key{Name: "F6"}, true}, {Key{Name: "F", Ctrl: true}, true}, {Key{Name: "p", Ctrl: true}, true}, {Key{Name: "s"}, false}, {Key{Name: ";"}, false}, {Key{Name: "F3"}, false}} {
		if taken, on := f.CellKey(c.key); taken || on != c.on {
			t.Errorf("%+v: taken %v, the page's %v", c.key, taken, on)
		}
	}
	// Escape: the cell is as it was, the program forgets that it was typed into, and the cursor can go
	f.CellKey(Key{Name: "Escape"})
	b.turn()
	f.Act("go", 2, col, false)
	f.Act("delete")
	b.want(t, "deleted after Escape", f.textAt(t, 2, "coupling"), "")
	// leaving an open cell by pressing elsewhere, and where none is open
	f.at(t, 2, "note")
	f.typeIn(b, "left")
	f.LeftCell()
	if b.open {
		t.Error("the cell is open still")
	}
	b.want(t, "left", f.textAt(t, 2, "note"), "left")
	f.at(t, 2, "note")
	f.typeIn(b, "left")
	b.focus = "where it was pressed"
	f.LeftCell()
	b.want(t, "focus", b.focus, "where it was pressed")
	b.values["editor"] = "nobody typed this"
	f.LeftCell()
	b.want(t, "left once more", f.textAt(t, 2, "note"), "left")
}

func sel(f *Frame) string {
	var out []string
	for _, n := range f.state.Sel {
		out = append(out, strconv.Itoa(n))
	}
	return strings.Join(out, " ")
}

// What a cell comes to is told when its row has been drawn: the sentence of its machine, or what is wrong with it; the panel is brought up with it.
func TestToldOfACell(t *testing.T) {
	f, b := withDemo(t)
	f.at(t, 0, "movable_rim_3")
	text := f.textAt(t, 0, "movable_rim_3")
	f.at(t, 0, "movable_rim_3")
	f.typeIn(b, "0.4x")
	f.CellKey(Key{Name: "Tab"})
	b.turn()
	told := func(col int) string { return parse(f.desk.Answer("told", 0, col)).text("text") }
	if want := told(f.state.Col - 1); b.text["status"] != want || want == told(0) || !strings.Contains(want, "0.4x") {
		t.Errorf("told: %q, want %q", b.text["status"], want)
	}
	f.at(t, 0, "movable_rim_3")
	f.typeIn(b, text)
	f.CellKey(Key{Name: "Enter"})
	b.text["cell-where"] = ""
	n := len(b.later)
	b.turn()
	if s := b.text["status"]; n == 0 || !strings.HasPrefix(s, "Intake, raw water pump 1 motor: ") {
		t.Errorf("told: %q", s)
	}
	if b.text["cell-where"] != "Row 5, Movable rim 3" || b.html["panel-row"] == "" {
		t.Errorf("the cursor's cell: %q", b.text["cell-where"])
	}
	// a column of its own
	f.at(t, 1, "note")
	b.html["panel-row"] = ""
	f.typeIn(b, "looked at")
	f.CellKey(Key{Name: "Escape"})
	b.turn()
	if b.html["panel-row"] == "" {
		t.Error("the panel is not brought back to what is so")
	}
	b.html["panel-row"] = ""
	f.typeIn(b, f.textAt(t, 1, "note"))
	f.LeftCell()
	b.turn()
	if b.html["panel-row"] == "" {
		t.Error("the panel is not brought back where the text stayed")
	}
}

// Keys on the sheet, and what each does.
func TestSheetKeysDo(t *testing.T) {
	f, b := withDemo(t)
	rows, cols := f.state.Rows, f.state.Columns
	note := f.columnOf(t, "note")
	at := func(row, col int) { f.Act("go", row, col, false) }
	for _, c := range []struct {
		key  Key
		want string
	}{
		{Key{Name: "End"}, "2 " + strconv.Itoa(cols-1)}, {Key{Name: "End", Ctrl: true}, strconv.Itoa(rows-1) + " " + strconv.Itoa(cols-1)}, {Key{Name: "Home", Ctrl: true}, "0 0"},
		{Key{Name: "Enter", Shift: true}, "1 " + strconv.Itoa(note)}, {Key{Name: "ArrowLeft"}, "2 " + strconv.Itoa(note-1)}, {Key{Name: "ArrowRight"}, "2 " + strconv.Itoa(note+1)},
		{Key{Name: "PageDown"}, "12 " + strconv.Itoa(note)},
	} {
		at(2, note)
		if !f.SheetKey(c.key) {
			t.Errorf("%+v is left to the browser", c.key)
		}
		b.want(t, c.key.Name, strconv.Itoa(f.state.Row)+" "+strconv.Itoa(f.state.Col), c.want)
	}
	at(2, note)
	f.SheetKey(Key{Name: "ArrowDown", Ctrl: true})
	if f.state.Row <= 3 && f.state.Row != rows-1 {
		t.Errorf("Ctrl+ArrowDown leads to row %d", f.state.Row)
	}
	for _, c := range []struct {
		key  Key
		want string
	}{
		{Key{Name: "ArrowRight", Shift: true}, "2 " + strconv.Itoa(note) + " 2 " + strconv.Itoa(note+1)}, {Key{Name: "End", Shift: true}, "2 " + strconv.Itoa(note) + " 2 " + strconv.Itoa(cols-1)}, {Key{Name: "Home", Shift: true}, "2 0 2 " + strconv.Itoa(note)},
		{Key{Name: "PageDown", Shift: true}, "2 " + strconv.Itoa(note) + " 12 " + strconv.Itoa(note)}, {Key{Name: " ", Shift: true}, "2 0 2 " + strconv.Itoa(cols-1)}, {Key{Name: " ", Ctrl: true}, "0 " + strconv.Itoa(note) + " " + strconv.Itoa(rows-1) + " " + strconv.Itoa(note)},
		{Key{Name: "a", Ctrl: true}, "0 0 " + strconv.Itoa(rows-1) + " " + strconv.Itoa(cols-1)},
	} {
		at(2, note)
		f.SheetKey(c.key)
		b.want(t, c.key.Name, sel(f), c.want)
	}
	if did := b.moves(func() { f.SheetKey(Key{Name: "Home"}) }); !strings.HasSuffix(did, "sheet left") {
		t.Error(did)
	}
	// keys that write
	at(2, note)
	f.typeIn(b, "first")
	f.done()
	at(2, note)
	f.Act("go", 4, note, true)
	f.SheetKey(Key{Name: "d", Ctrl: true})
	b.want(t, "filled down", f.textAt(t, 4, "note"), "first")
	at(3, f.columnOf(t, "work_order"))
	f.Act("go", 4, f.state.Col, true)
	f.Act("delete")
	at(2, f.columnOf(t, "work_order"))
	f.typeIn(b, "S-1")
	f.done()
	at(2, f.columnOf(t, "work_order"))
	f.Act("go", 4, f.state.Col, true)
	f.SheetKey(Key{Name: "D", Ctrl: true, Shift: true})
	b.want(t, "a series", f.textAt(t, 4, "work_order"), "S-3")
	first := f.columnOf(t, "movable_rim_3")
	at(2, first)
	f.typeIn(b, "7")
	f.done()
	at(2, first)
	f.Act("go", 2, first+1, true)
	f.SheetKey(Key{Name: "r", Ctrl: true})
	f.Act("go", 2, first+1, false)
	b.want(t, "filled to the right", parse(f.desk.Answer("info", 0)).text("text"), "7")
	f.SheetKey(Key{Name: "Backspace"})
	b.want(t, "emptied", parse(f.desk.Answer("info", 0)).text("text"), "")
	// keys that are the browser's
	for _, k := range []Key{{Name: "c", Ctrl: true}, {Name: "v", Ctrl: true}, {Name: "Escape"}, {Name: "Shift"}, {Name: "F5"}, {Name: "ArrowLeft", Alt: true}, {Name: "x", Ctrl: true, Alt: true}} {
		if b.open = false; f.SheetKey(k) || b.open {
			t.Errorf("%+v was taken", k)
		}
	}
	at(2, note)
	if f.SheetKey(Key{Name: "@", Ctrl: true, Alt: true, AltGraph: true}); !b.open {
		t.Error("a letter with AltGr opens no cell")
	}
	f.CellKey(Key{Name: "Escape"})
	if f.SheetKey(Key{Name: "Enter"}); !b.open || f.cell.open != "edit" || b.values["editor"] != "first" {
		t.Errorf("Enter: %v %q %q", b.open, f.cell.open, b.values["editor"])
	}
}

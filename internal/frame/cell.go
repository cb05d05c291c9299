package frame

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// cell is the one that is typed into.
type cell struct {
	open     string // how it was opened: "typed", a key began it and replaces the text, or "edit"; "" none is
	row, col int
	was      string   // what stood in it
	choices  []string // the words it takes
	closed   bool     // and no other
	offered  []string // of them, in the list under it
	picked   int      // in that list; below 0 none
}

// done ends typing in a cell, where one is open, before something else is done.
func (f *Frame) done() { f.commit(0, 0) }

// settle is done, and takes what is half typed on the screen that is shown: before the job is saved, printed, written or left.
func (f *Frame) settle() {
	f.done()
	if f.screen == "crew" { // readings are typed there
		f.Send("crew", screens.Event{Name: "settle"})
	}
}

// commit takes what was typed into the cell that is open, and moves the cursor on.
func (f *Frame) commit(down, right int) {
	if f.cell.open == "" {
		return
	}
	typed := f.b.EditorText()
	f.shut()
	f.Act("commit", typed, down, right)
	f.b.FocusSheet()
}

// LeftCell takes what was typed into a cell that lost the focus.
func (f *Frame) LeftCell() {
	if f.cell.open != "" {
		typed := f.b.EditorText()
		f.shut()
		f.Act("commit", typed, 0, 0)
	}
}

func (f *Frame) shut() {
	f.cell.open = ""
	f.b.CloseEditor()
	f.keepTyping()
}

// typing is what is typed and in no cell yet, and where; "" nothing.
func (f *Frame) typing() string {
	switch {
	case f.cell.open != "" && f.b.EditorText() != f.cell.was:
		return words.Text("frame.typedIn", f.b.TextOf(f.tab()), f.b.TextOf("cell-where"), f.b.EditorText())
	case f.cell.open == "" && f.screen == "crew":
		return f.draft
	}
	return ""
}

// keepTyping soon puts what is being typed beside the safety copy, so that it can be told should the browser end before it is in a cell.
func (f *Frame) keepTyping() {
	if f.keeping || f.typing() == f.kept {
		return
	}
	f.keeping = true
	mine := f.now
	f.b.Later(300, func() {
		f.keeping = false
		if now := f.typing(); f.now == mine && now != f.kept {
			if f.kept = now; now != "" {
				mine.line.Begin()
			}
			mine.line.Know()
		}
	})
}

// EditCell opens the cell under the cursor. typed: a key began it and replaces the text, and brings the first letter itself; instead stands there where it is not "".
func (f *Frame) EditCell(typed bool, instead string) {
	s, ok := f.Act("begin")
	if !ok || !s.yes("ok") {
		return
	}
	c := cell{open: "edit", row: f.state.Row, col: f.state.Col, choices: s.texts("choices"), closed: s.yes("closed")}
	text := s.text("text")
	c.was = text
	if typed {
		c.open, text = "typed", instead
	}
	f.cell = c
	f.b.RevealCell(c.row, c.col)
	name := f.b.ColumnName(c.col)
	if name == "" {
		name = words.Text("frame.theCell")
	}
	f.b.SetAttribute("editor", "aria-label", words.Text("frame.textOf", name))
	if len(c.choices) > 0 {
		f.b.SetAttribute("editor", "role", "combobox")
		f.b.SetAttribute("editor", "aria-controls", "editor-choices")
		f.b.SetAttribute("editor", "aria-autocomplete", "list")
	} else {
		f.b.SetAttribute("editor", "role", "textbox")
		f.b.RemoveAttribute("editor", "aria-controls")
		f.b.RemoveAttribute("editor", "aria-autocomplete")
	}
	f.b.OpenEditor(text, c.row, c.col, typed)
	f.offerWords(!typed)
	f.typed()
}

// CellTyped looks at what stands in the cell that is open.
func (f *Frame) CellTyped() {
	if len(f.cell.choices) > 0 {
		f.offerWords(false)
	}
	f.typed()
}

// offerWords lists the words the cell takes, those that begin with what is typed before those that hold it; all: whatever stands there.
func (f *Frame) offerWords(all bool) {
	c := &f.cell
	typed := strings.ToLower(strings.TrimSpace(f.b.EditorText()))
	c.offered, c.picked = c.choices, -1
	if !all && typed != "" {
		var begin, hold []string
		for _, w := range c.choices {
			switch at := strings.Index(strings.ToLower(w), typed); {
			case at == 0:
				begin = append(begin, w)
			case at > 0:
				hold = append(hold, w)
			}
		}
		c.offered = append(begin, hold...)
	}
	f.b.SetHTML("editor-choices", screens.Each(c.offered, func(i int, w string) screens.HTML {
		return screens.El("li", screens.Attrs(screens.ID("choice-"+strconv.Itoa(i)), screens.Role("option"), screens.A("aria-selected", "false"), screens.A("data-choice", strconv.Itoa(i))), screens.Text(w))
	}).String())
	f.hide("editor-choices", len(c.offered) == 0)
	if len(c.choices) > 0 {
		f.b.SetAttribute("editor", "aria-expanded", strconv.FormatBool(len(c.offered) > 0))
	} else {
		f.b.RemoveAttribute("editor", "aria-expanded")
	}
	f.b.RemoveAttribute("editor", "aria-activedescendant")
}

// TakeWord takes a word of the list that was pressed.
func (f *Frame) TakeWord(i int) {
	if f.cell.open != "" && i >= 0 && i < len(f.cell.offered) {
		f.b.SetValue("editor", f.cell.offered[i])
		f.commit(1, 0)
	}
}

// pick walks in the list of words.
func (f *Frame) pick(step int) {
	c := &f.cell
	n := len(c.offered)
	if n == 0 {
		return
	}
	if c.picked >= 0 {
		f.b.SetAttribute("choice-"+strconv.Itoa(c.picked), "aria-selected", "false")
	}
	if c.picked < 0 && step < 0 {
		c.picked = 0
	}
	c.picked = (c.picked + step + n) % n
	id := "choice-" + strconv.Itoa(c.picked)
	f.b.SetAttribute(id, "aria-selected", "true")
	f.b.Show(id)
	f.b.SetAttribute("editor", "aria-activedescendant", id)
	f.b.SetValue("editor", c.offered[c.picked])
	f.typed()
}

// typed shows what the text as typed so far means, and what it would lead to.
func (f *Frame) typed() {
	c := &f.cell
	width := 0
	if f.b.Shown("drawing") && f.b.Shown("panel-row") && f.b.Shown("side") {
		width = f.b.Width("panel-row") - 30
	}
	m, _ := f.ask("tryText", c.row, c.col, f.b.EditorText(), width)
	means := m.text("meaning")
	if word := f.only(); means == "" && word != "" {
		means = words.Text("frame.enterTakes", word)
	}
	f.b.SetText("editor-meaning", means)
	f.hide("under-editor", means == "" && len(c.offered) == 0)
	f.b.PlaceEditor()
	if svg := m.text("svg"); svg != "" {
		f.b.SetHTML("drawing", svg)
	}
	f.keepTyping()
}

// only is the one word that what is typed can only be the beginning of, where the column takes no other; else "".
func (f *Frame) only() string {
	typed := strings.ToLower(strings.TrimSpace(f.b.EditorText()))
	if !f.cell.closed || typed == "" {
		return ""
	}
	word := ""
	for _, w := range f.cell.choices {
		switch w := strings.ToLower(w); {
		case w == typed, word != "" && strings.HasPrefix(w, typed):
			return ""
		}
		if strings.HasPrefix(strings.ToLower(w), typed) {
			word = w
		}
	}
	return word
}

// arrows are the steps of the arrow keys: down, right.
var arrows = map[string][2]int{"ArrowDown": {1, 0}, "ArrowUp": {-1, 0}, "ArrowLeft": {0, -1}, "ArrowRight": {0, 1}}

// CellKey is a key in the cell that is open. taken: the browser leaves it alone; on: it is a key of the whole page, which the page does then.
func (f *Frame) CellKey(k Key) (taken, on bool) {
	if k.Composing {
		return false, true
	}
	c := &f.cell
	arrow, isArrow := arrows[k.Name]
	back := 1
	if k.Shift {
		back = -1
	}
	taken = true
	switch {
	case len(c.offered) > 0 && isArrow && arrow[0] != 0:
		f.pick(arrow[0])
	case k.Name == "Enter" && k.Ctrl:
		f.wholeWord()
		typed := f.b.EditorText()
		f.shut()
		f.Act("commitAll", typed)
		f.b.FocusSheet()
	case k.Name == ";" && k.Ctrl:
		f.b.InsertInEditor(f.b.Today())
		f.typed()
	case k.Name == "Enter" && !k.Alt:
		f.wholeWord()
		f.commit(back, 0)
	case k.Name == "Enter":
		f.b.InsertInEditor("\n")
		f.b.PlaceEditor()
	case k.Name == "Tab":
		f.wholeWord()
		f.commit(0, back)
	case k.Name == "Escape":
		f.shut()
		f.Act("cancel")
		f.b.FocusSheet()
	case isArrow && c.open == "typed" && !k.Ctrl:
		f.Act("move", arrow[0], arrow[1], k.Shift)
	case k.Name == "F2":
		c.open = "edit"
	default:
		taken = false
	}
	// saving, finding, printing, help and going round are the page's, in an open cell too
	return taken, k.Name == "F1" || k.Name == "F6" || k.Ctrl && slices.Contains([]string{"s", "f", "p"}, strings.ToLower(k.Name))
}

// wholeWord completes what is typed to the one word it can only be the beginning of.
func (f *Frame) wholeWord() {
	if w := f.only(); w != "" {
		f.b.SetValue("editor", w)
	}
}

// SheetKey is a key on the sheet, where no cell is open. taken: the browser leaves it alone.
func (f *Frame) SheetKey(k Key) (taken bool) {
	if k.Composing {
		f.EditCell(true, "")
		return false
	}
	arrow, isArrow := arrows[k.Name]
	sel := &f.state.Sel
	back := 1
	if k.Shift {
		back = -1
	}
	switch {
	case k.Alt && !k.Ctrl && isArrow && arrow[0] != 0:
		if k.Shift {
			return false
		}
		f.Act("moveRows", arrow[0])
	case isArrow && !k.Alt && k.Ctrl:
		f.Act("jump", arrow[0], arrow[1], k.Shift)
	case isArrow && !k.Alt:
		f.Act("move", arrow[0], arrow[1], k.Shift)
	case k.Name == "Home":
		f.Act("rowStart", k.Ctrl, k.Shift)
		f.b.SheetLeft() // the first column stands still at the edge, the verdict behind it does not
	case k.Name == "End":
		f.Act("rowEnd", k.Ctrl, k.Shift)
	case k.Name == "PageDown":
		f.Act("move", f.b.PageRows(), 0, k.Shift)
	case k.Name == "PageUp":
		f.Act("move", -f.b.PageRows(), 0, k.Shift)
	case k.Name == "Tab":
		f.Act("step", 0, back)
	case k.Name == "Delete", k.Name == "Backspace":
		f.Act("delete")
	case k.Name == "F2", k.Name == "Enter" && !k.Shift:
		f.EditCell(false, "")
	case k.Name == "Enter":
		f.Act("step", -1, 0)
	case k.Ctrl && !k.Alt:
		return f.sheetShortcut(k)
	case k.Shift && k.Name == " ":
		f.Act("select", sel[0], 0, sel[2], f.state.Columns-1)
	case len([]rune(k.Name)) == 1 && (!k.Ctrl || k.AltGraph): // AltGr writes letters too
		f.EditCell(true, "")
		return false
	default:
		return false
	}
	return true
}

// sheetShortcut is a key with Ctrl on the sheet.
func (f *Frame) sheetShortcut(k Key) (taken bool) {
	switch strings.ToLower(k.Name) {
	case ";":
		f.EditCell(true, f.b.Today())
	case "a":
		f.Act("selectAll")
	case "d":
		if k.Shift {
			f.Act("series")
		} else {
			f.Act("fill")
		}
	case "r":
		f.Act("fillRight")
	case " ":
		f.Act("select", 0, f.state.Sel[1], max(f.state.Rows-1, 0), f.state.Sel[3])
	default:
		return false
	}
	return true
}

package frame

import (
	"strconv"
	"strings"

	"shimsheet/internal/desk"
	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// Do does what a button or a menu of the page says by its name. A name that there is not panics: it stands in the page itself.
func (f *Frame) Do(name string) {
	do := commands[name]
	if do == nil {
		panic("frame: no command " + name)
	}
	do(f)
}

var commands map[string]func(*Frame)

func init() {
	commands = map[string]func(*Frame){
		"new":           (*Frame).newJob,
		"copies":        (*Frame).showCopies,
		"demo":          (*Frame).demo,
		"open":          func(f *Frame) { f.b.Press("file") },
		"save":          func(f *Frame) { f.Save("html", false) },
		"saveAs":        func(f *Frame) { f.Save("html", true) },
		"json":          func(f *Frame) { f.Save("json", false) },
		"csv":           (*Frame).csv,
		"workbook":      (*Frame).workbook,
		"takeFile":      (*Frame).takeFile,
		"writeWorkbook": func(f *Frame) { f.WriteWorkbook(nil) },
		"addToWorkbook": func(f *Frame) { f.b.Press("workbook-file") },
		"help":          (*Frame).help,
		"find":          func(f *Frame) { f.dialog("find") },
		"headers":       func(f *Frame) { f.tellWays("headers"); f.dialog("headers") },
		"sort":          func(f *Frame) { f.dialog("arrange") },
		"groups":        func(f *Frame) { f.dialog("groups") },
		"columns":       func(f *Frame) { f.dialog("columns") },
		"matchColumns": func(f *Frame) {
			f.done()
			f.Send("match", screens.Event{Name: "open", Key: f.remembered()})
		},
		"showAll": func(f *Frame) { f.Act("arrange", "", ""); f.backToSheet() },
		"undo":    func(f *Frame) { f.Act("undo"); f.backToSheet() },
		"redo":    func(f *Frame) { f.Act("redo"); f.backToSheet() },

		"insertRows":    onSheet("insertRows"),
		"duplicateRows": onSheet("duplicateRows"),
		"deleteRows":    onSheet("deleteRows"),
		"moveUp":        onSheet("moveRows", -1),
		"moveDown":      onSheet("moveRows", 1),
		"fill":          onSheet("fill"),
		"series":        onSheet("series"),
		"fillRight":     onSheet("fillRight"),
		"clearCells":    onSheet("delete"),
		"hideColumns":   onSheet("hideColumns"),
		"copyCells":     func(f *Frame) { f.copyCells(false, false, false) },
		"copyHeads":     func(f *Frame) { f.copyCells(true, false, false) },
		"copyPlain":     func(f *Frame) { f.copyCells(true, true, false) },
		"cutCells":      func(f *Frame) { f.copyCells(false, false, true) },

		"print":        printing(func(f *Frame) { f.paper(false); f.onPaper = true }),
		"printMachine": printing(func(f *Frame) { f.paper(true); f.onPaper = true }),
		"printCards":   printing(func(*Frame) {}),

		"jobSheet": func(f *Frame) { f.ShowSheet(1); f.b.FocusSheet() },
		"offered":  func(f *Frame) { f.takeOffer() },
	}
}

// onSheet is a command that changes the sheet at hand.
func onSheet(op string, args ...desk.Value) func(*Frame) {
	return func(f *Frame) { f.Act(op, args...); f.b.FocusSheet() }
}

// printing is a command that prints, once the packs are settled.
func printing(put func(*Frame)) func(*Frame) {
	return func(f *Frame) {
		f.b.Go(func() {
			f.share.settled()
			f.settle() // what was typed meanwhile belongs on the paper
			put(f)
			f.b.Print()
		})
	}
}

// dialog opens a dialog that is a screen.
func (f *Frame) dialog(name string) {
	f.done()
	f.show(name, "show")
}

// backToSheet gives the sheet the focus where it is what is looked at.
func (f *Frame) backToSheet() {
	if f.screen == "" {
		f.b.FocusSheet()
	}
}

func (f *Frame) takeOffer() {
	if f.offer != nil {
		f.offer()
	}
}

// tellWays tells a dialog the ways of measuring: as the sheet says them and as people call them.
func (f *Frame) tellWays(name string) {
	f.Send(name, screens.Event{Name: "ways", Value: strings.Join(f.b.Ways(), "\x1f")})
}

func (f *Frame) help() {
	f.b.Go(func() {
		if !f.helped {
			f.pending["help"] = true // unpacked when it is first wanted
			f.b.Mark("idle", "0")
			licences := f.b.Licences()
			delete(f.pending, "help")
			f.tellWays("help")
			f.Send("help", screens.Event{Name: "texts", Value: strings.Join(licences, "\x1e")})
		}
		f.helped = true
		f.dialog("help")
		f.idle()
	})
}

// Columns gives the sheet the columns of a way of measuring, "" all.
func (f *Frame) Columns(way string) {
	if _, ok := f.Act("columns", way); ok {
		f.b.FocusSheet()
	}
}

// copyCells copies the selection from a menu. cut: it is emptied, once the browser has taken what stood there.
func (f *Frame) copyCells(heads, plain, cut bool) {
	if c, ok := f.Act("copy", heads, plain); ok && c.text("text") != "" {
		if f.b.Copy(c.text("text"), c.text("html")) {
			if cut {
				f.Act("cut")
			}
			f.say(f.copied())
		} else {
			f.say(words.Text("frame.notCopied"))
		}
	}
	f.b.FocusSheet()
}

// copied tells how much of the sheet is on the clipboard.
func (f *Frame) copied() string {
	s := &f.state.Sel
	return words.Text("frame.onTheClipboard", words.Count("frame.rows", s[2]-s[0]+1), words.Count("frame.columns", s[3]-s[1]+1))
}

// Copied is what "copy" or "cut" of the browser puts on the clipboard, where the sheet is what is looked at; ok is false where that is nothing.
func (f *Frame) Copied(op string) (plain, html string, ok bool) {
	c, ok := f.Act("copy", false, false)
	if !ok || c.text("text") == "" {
		return "", "", false
	}
	if op == "cut" {
		f.Act("cut")
	}
	f.say(f.copied())
	return c.text("text"), c.text("html"), true
}

// OnSheet says whether there is a sheet with columns to be seen.
func (f *Frame) OnSheet() bool { return f.screen == "" && f.state.Columns > 0 }

// Screen is the screen that is shown, "" the sheet.
func (f *Frame) Screen() string { return f.screen }

// Pasted takes what was pasted onto the sheet.
func (f *Frame) Pasted(pasted string) {
	if pasted == "" {
		f.say(words.Text("frame.noTextOnClipboard"))
		return
	}
	f.done()
	f.Send("match", screens.Event{Name: "pasted", Value: pasted, Key: f.remembered()})
}

// toPaper puts on paper what the screen that is shown has to print.
func (f *Frame) toPaper() { f.Send(f.screen, screens.Event{Name: "paper", Kind: "print"}) }

// View sets how the page looks or what of the sheet is shown: an item of the menu View, by its group.
func (f *Frame) View(group, value, label string) {
	switch group {
	case "theme-set":
		f.keepLook("shimsheet:colours", "theme", group, value)
		f.b.Relayout()
		f.redraw()
		if f.screen == "" && f.state.Columns > 0 {
			f.b.RevealCell(f.state.Row, f.state.Col)
		}
		f.update(false, false, true)
	case "panel-set":
		f.keepLook("shimsheet:panel", "panel", group, value)
		if value == "hidden" {
			f.say(words.Text("frame.panelHidden"))
		} else {
			f.soon("info", true)
		}
	case "units":
		f.Act("showAs", value)
		f.around()
		f.b.Relayout()
		f.redraw()
		f.soon("info", false)
		f.update(true, false, false)
		f.say(words.Text("frame.shown", label))
	case "results-first":
		f.Act("resultsFirst", value == "true")
		f.b.SheetLeft()
	case "all":
		f.Act("showAll", value == "true")
	}
}

// keepLook sets how the page looks, remembered for this browser and not for the job.
func (f *Frame) keepLook(key, mark, group, value string) {
	f.b.Mark(mark, value)
	f.b.Keep(key, value)
	f.b.Check(group, value)
}

// A Key is one that was pressed where nothing else took it.
type Key struct {
	Name             string // as the browser calls it
	Ctrl, Shift, Alt bool
	AltGraph         bool
	Composing        bool // of several strokes for one letter
	Taken            bool // somebody took it before
	Typing           bool // a field has the focus
	Beside           bool // what has the focus stands beside the sheet: panel, tabs, header
}

// Pressed does what a key does everywhere on the page. taken: the browser is to leave it alone.
func (f *Frame) Pressed(k Key) (taken bool) {
	if f.b.DialogOpen() != "" {
		if save := k.Ctrl && strings.EqualFold(k.Name, "s"); save { // else the browser would save the page as it was opened
			f.Save("html", false)
			return true
		}
		return false
	}
	switch key := strings.ToLower(k.Name); {
	case k.Name == "F1":
		f.Do("help")
	case k.Name == "F6":
		f.done()
		f.goRound(k.Shift)
	case k.Name == "Escape" && !k.Taken && (f.screen != "" || k.Beside):
		if f.screen != "" {
			f.ShowSheet(f.state.Sheet)
		}
		f.b.FocusSheet()
	case !k.Ctrl:
		return false
	case key == "s":
		f.Save("html", false)
	case key == "f" && !k.Shift && f.screen == "":
		f.Do("find")
	case key == "k":
		f.OpenScreen("tables")
	case key == "p" && !k.Typing:
		if f.screen != "" && onPaper[f.screen] {
			f.b.Print()
		} else {
			f.Do("print")
		}
	case key == "z" && !k.Typing:
		if k.Shift {
			f.turnBack("redo")
		} else {
			f.turnBack("undo")
		}
	case key == "y" && !k.Typing:
		f.turnBack("redo")
	default:
		return false
	}
	return true
}

// turnBack undoes or does again; on a screen it says on which sheet, since that is not in sight.
func (f *Frame) turnBack(op string) {
	if _, ok := f.Act(op); ok && f.screen != "" && f.state.Note != "" {
		f.say(words.Text("frame.onSheet", f.b.TextOf("tab-"+strconv.Itoa(f.state.Sheet)), f.state.Note))
	}
}

// goRound leads the keyboard to the next part of the page: sheet or screen, panel, tabs, header.
func (f *Frame) goRound(back bool) {
	here := Area{ID: "work", Focus: "grid"}
	if f.screen != "" {
		here = Area{ID: "screen-" + f.screen}
	}
	panel := "panel-row"
	if f.b.Shown("panel-problems") {
		panel = "panel-problems"
	}
	f.b.NextArea(back, []Area{here, {"side", panel}, {"under", f.tab()}, {"head", "file-open"}})
}

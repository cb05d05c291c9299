package frame

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"shimsheet/internal/desk"
	"shimsheet/internal/words"
)

// ErrStopped is a sharing-out that was given up, as it is when another one is wanted.
var ErrStopped = errors.New("stopped")

// A Frame is the page around the sheet.
type Frame struct {
	desk    *desk.Desk
	b       Browser
	state   State
	known   bool // there is a state
	started bool // the first job is shown

	saves
	paints
	events
	share  sharing
	copies copies
	cell   cell
	file   *fileOpen // in the dialog, nil none

	prepared preparedBook

	screen  string // the screen that is shown, "" the sheet
	makers  string // what stands where rows can be made
	offer   func() // what the button in the line at the foot does
	onPaper bool   // what is to be printed stands there already
	draft   string // what is half typed on the screen One by one, and where
	kept    string // what the safety copy says of that, or of the open cell
	keeping bool   // it is about to be told
	helped  bool   // the help has been told what it cannot know
	listed  bool   // the problems are worded as they are
}

// New is the frame of a page that shows nothing yet; see [Frame.Start].
func New(d *desk.Desk, b Browser) *Frame {
	f := &Frame{desk: d, b: b}
	f.savings = map[int]*saving{}
	f.pending = map[string]bool{}
	f.onDrawn = map[int][]func(){}
	f.waiting = map[string]*wait{}
	f.share.f = f
	return f
}

// ask asks the desk. A failure inside it becomes a banner, a refusal is told; ok is false then.
func (f *Frame) ask(op string, args ...desk.Value) (answer, bool) {
	a, _, ok := f.asked(op, args...)
	return a, ok
}

func (f *Frame) asked(op string, args ...desk.Value) (a answer, whole string, ok bool) {
	whole = f.desk.Answer(op, args...)
	a = parse(whole)
	if a.has("panic") {
		f.Panicked(a.text("panic"), a.text("stack"))
		return nil, "", false
	}
	if a.has("error") {
		f.say(a.text("error"))
		return nil, "", false
	}
	return a, whole, true
}

// Panicked tells of a failure inside the program.
func (f *Frame) Panicked(why, stack string) { f.banner(words.Text("frame.wentWrong", why), stack) }

// Act does an operation of the desk on the sheet at hand and brings the page up to it. ok is false where it was refused, which has been told.
func (f *Frame) Act(op string, args ...desk.Value) (answer, bool) {
	if op != "begin" {
		f.done()
	}
	row, col := f.cell.row, f.cell.col
	s, whole, ok := f.asked(op, args...)
	if !ok {
		return nil, false
	}
	was, first := f.state, !f.known
	f.know(stateOf(s))
	f.b.ViewState(whole)
	now := &f.state
	sheetChanged := first || now.Sheet != was.Sheet
	moved := first || now.Row != was.Row || now.Col != was.Col
	did := *now
	switch {
	case did.Note != "":
		f.say(did.Note)
	case did.Changed && op != "commit" && did.Undo != "":
		f.say(words.Text("frame.done", did.Undo))
	case did.Changed && op != "commit":
		f.say("")
	}
	if did.Header || sheetChanged || did.Arranged {
		f.b.Relayout()
	}
	if did.Changed || did.Header || sheetChanged || did.Arranged {
		f.around()
		f.redraw()
	} else {
		f.b.Restyle()
	}
	if moved || sheetChanged || did.Changed || did.Arranged {
		if f.screen == "" && f.b.HasColumns() {
			f.b.RevealCell(did.Row, did.Col)
		}
		if op != "commit" || !did.Changed {
			f.soon("info", did.Changed || sheetChanged)
		}
	}
	if op == "cancel" || op == "commit" && !did.Changed {
		f.soon("info", false) // the panel drew what was tried
		if f.held {
			f.pump()
		}
	}
	f.soon("sums", false)
	f.update(did.Changed, false, did.Arranged)
	switch {
	case did.Changed:
		if op == "commit" { // one row: its cells and its panel come in the same frame
			f.whenDrawn(func() {
				f.info()
				if did.Note == "" {
					told, _ := f.ask("told", row, col)
					f.say(told.text("text"))
				}
			})
		}
		f.pump()
		f.keep()
	case op == "begin" && s.yes("ok"):
		f.now.line.Begin()
	case did.Arranged && f.now.line.Begun():
		f.keep()
	}
	return s, true
}

// know takes what the desk says of the job at hand. Another job than before gets a saving of its own.
func (f *Frame) know(s State) {
	other := !f.known || s.Desk != f.state.Desk
	if other && f.now != nil {
		f.now.lost = f.unsaved()
	}
	before := f.state
	f.state, f.known = s, true
	if !other {
		f.now.state = s
		return
	}
	if f.savings[s.Desk] == nil {
		mine := f.coming
		if f.coming = nil; mine == nil {
			mine = f.newSaving("")
		}
		if !mine.followsKnown && f.now != nil && before.ID == s.ID {
			mine.follows = f.now.line.ID()
		}
		mine.opened = s.SavedAt
		mine.state = s
		if mine.line == nil {
			mine.line = f.b.NewLine(s.ID, f.hooks(mine))
		}
		f.savings[s.Desk] = mine
	}
	f.now = f.savings[s.Desk]
	f.now.lost = false
	f.b.KeepByTab("shimsheet:line", f.now.line.ID()+"\n"+f.b.Address())
	if f.unwatch != nil {
		f.unwatch()
	}
	f.elsewhere = false // that was the job before
	f.unwatch = f.b.Watch(f.now.line, func(others bool) {
		f.elsewhere = others
		if said := words.Text("frame.openInAnotherTab"); others && f.offer == nil {
			f.say(said)
		} else if others {
			f.b.SetText("status", f.b.TextOf("status")+" "+said) // what is offered stays
		}
		f.around()
	})
}

// fresh shows a job for good: nothing leads back to the ones before.
func (f *Frame) fresh(s answer, whole string) {
	for _, x := range f.savings {
		x.line.Leave()
	}
	clear(f.savings)
	f.now = nil
	f.know(stateOf(s))
	f.b.ViewState(whole)
	f.b.Relayout()
	f.around()
	f.redraw()
	if f.started { // asking for it costs a layout
		f.b.SheetTop()
	}
	f.soon("info", true)
	f.pump()
}

// taken shows a job that took the place of the one before, which undoing brings back.
func (f *Frame) taken(s answer, whole, said string) {
	f.know(stateOf(s))
	f.b.ViewState(whole)
	f.b.Relayout()
	f.around()
	f.redraw()
	f.b.SheetTop()
	f.soon("info", true)
	f.pump()
	f.say(said)
	f.keep()
	f.b.FocusSheet()
}

// say tells something in the line at the foot.
func (f *Frame) say(said string) { f.sayOffering(said, "", nil) }

// sayOffering is say with a button for what there is to be done about it.
func (f *Frame) sayOffering(said, label string, does func()) {
	f.b.SetText("status", said)
	f.b.SetText("status-do", label)
	f.hide("status-do", label == "")
	if f.offer = does; label != "" {
		f.b.SetAttribute("status", "aria-label", words.Text("frame.offered", said, label)) // what is offered is read out with it
	} else {
		f.b.RemoveAttribute("status", "aria-label")
	}
}

// banner shows what must not be missed. detail is for whoever mends the program.
func (f *Frame) banner(said, detail string) {
	f.b.SetText("banner-text", said)
	f.b.SetAttribute("banner-text", "title", detail)
	f.hide("banner", false)
}

func (f *Frame) hide(id string, yes bool) {
	if yes {
		f.b.SetAttribute(id, "hidden", "")
	} else {
		f.b.RemoveAttribute(id, "hidden")
	}
}

// jobName is the job's name and revision.
func (f *Frame) jobName() string {
	name := f.state.Name
	if name == "" {
		name = words.Text("frame.jobWithoutAName")
	}
	if f.state.Revision > 0 {
		name += words.Text("frame.revision", strconv.Itoa(f.state.Revision))
	}
	return name
}

// title is what the window is called: job, revision, when it was saved.
func (f *Frame) title() string {
	s := &f.state
	var parts []string
	if s.Name != "" {
		parts = append(parts, s.Name)
	}
	if s.Revision > 0 {
		parts = append(parts, words.Text("frame.rev", strconv.Itoa(s.Revision)))
		if s.SavedAt != "" {
			parts = append(parts, f.b.Clock(s.SavedAt))
		}
	}
	if len(parts) == 0 {
		return "Shimsheet"
	}
	return strings.Join(parts, " ") + " – Shimsheet"
}

// around is what stands around the sheet: names, marks, buttons.
func (f *Frame) around() {
	s := &f.state
	welcome := s.Sheet == 0 && s.Columns == 0
	f.hide("welcome", !welcome)
	empty := "0"
	if welcome {
		empty = "1"
	}
	f.b.Mark("empty", empty)
	f.b.ChooseTab(f.tab())
	tab := "tab-" + strconv.Itoa(s.Sheet)
	f.b.SetAttribute("work", "aria-labelledby", tab)
	f.b.SetAttribute("grid", "aria-label", f.b.TextOf(tab))
	f.b.Check("units", s.Shown)
	f.b.Check("all", strconv.FormatBool(s.All))
	f.b.Check("results-first", strconv.FormatBool(s.ResultsFirst))
	f.b.SetText("viewsaid", s.View)
	f.hide("viewoff", s.View == "")
	for _, b := range [...]struct{ id, word, name, key string }{{"undo", words.Text("frame.undo"), s.Undo, "Ctrl+Z"}, {"redo", words.Text("frame.redo"), s.Redo, "Ctrl+Y"}} {
		said := b.word
		if b.name != "" {
			said += " " + b.name
			f.b.RemoveAttribute(b.id, "disabled")
		} else {
			f.b.SetAttribute(b.id, "disabled", "")
		}
		f.b.SetText(b.id, said)
		f.b.SetAttribute(b.id, "title", fmt.Sprintf("%s (%s)", said, b.key))
	}
	f.b.SetText("jobname", f.jobName())
	f.mark()
	f.b.Mark("up", strconv.Itoa(f.now.before+s.Changes)) // what the browser's own "Save page as" would lack
	if welcome {
		f.b.Go(f.offerCopies)
	}
	f.hide("makerows", s.Makers == "")
	if s.Makers != f.makers {
		f.makers = s.Makers
		had := f.b.HasFocus("makerows")
		f.b.SetHTML("makerows", s.Makers)
		if had {
			f.b.FocusSheet()
		}
	}
}

// mark says how far the job is saved, beside its name and in the window's title.
func (f *Frame) mark() {
	open := f.unsaved()
	class, said := "", f.now.handedAt
	switch {
	case open:
		copies, others := "", ""
		if f.storageNote != "" {
			copies = words.Text("frame.noSafetyCopy")
		}
		if f.elsewhere {
			others = words.Text("frame.openElsewhere")
		}
		class, said = "unsaved", words.Text("frame.notSaved", copies, others)
	case said == "" && f.state.Changes == 0 && f.state.Revision > 0:
		said = words.Text("frame.asOpened")
	}
	if f.elsewhere && !open {
		said += words.Text("frame.openElsewhere")
	}
	f.b.SetText("savemark", said)
	f.b.SetAttribute("savemark", "class", class)
	f.b.SetAttribute("savemark", "title", f.storageNote)
	main := ""
	title := f.title()
	if open {
		main, title = "main", "• "+title
	}
	f.b.SetAttribute("save", "class", main)
	f.b.Title(title)
}

// tab is the id of the tab that is chosen.
func (f *Frame) tab() string {
	if f.screen != "" {
		return "tab-" + f.screen
	}
	return "tab-" + strconv.Itoa(f.state.Sheet)
}

// Jump goes to a cell of a sheet, row and column as stored; row below 0: only to the sheet.
func (f *Frame) Jump(sheet, row, col int) {
	f.ShowSheet(sheet)
	if row >= 0 {
		f.Act("goStored", row, col)
	}
	f.b.FocusSheet()
}

// ShowSheet shows a sheet of the job.
func (f *Frame) ShowSheet(sheet int) {
	f.done()
	if f.screen != "" {
		f.OpenScreen("")
	}
	if f.state.Sheet != sheet {
		f.Act("sheet", sheet)
	}
}

// Tab goes to the sheet or the screen of a tab.
func (f *Frame) Tab(id string) {
	name := strings.TrimPrefix(id, "tab-")
	if n, err := strconv.Atoi(name); err == nil {
		f.ShowSheet(n)
	} else {
		f.OpenScreen(name)
	}
}

// Say tells something in the line at the foot.
func (f *Frame) Say(said string) { f.say(said) }

// Machines is how many couplings the job has.
func (f *Frame) Machines() int {
	c, _ := f.ask("count")
	return c.int("couplings")
}

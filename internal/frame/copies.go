package frame

import (
	"shimsheet/internal/words"
	"slices"
	"strconv"

	"shimsheet/internal/screens"
)

// mostDifferences is how many differences between two states of a job are listed.
const mostDifferences = 400

// copies is the choice between several states of one job, and the lists of earlier copies. What is not chosen stays.
type copies struct {
	file    string  // whose states there is a choice between
	states  []state // those, while the dialog waits for an answer
	listed  []About // in the dialog
	offered []About // where there is no job yet: numbered from offeredFrom
}

// offeredFrom is the number of the first copy that is offered where there is no job yet.
const offeredFrom = 1000

// A state is one that the browser holds of a job which was opened from a file.
type state struct {
	about       About
	differences answer
	broken      bool
}

func (f *Frame) factsOf(c *About) screens.CopyFacts {
	return screens.CopyFacts{
		Name: c.Name, Changed: f.b.Clock(c.Changed), Began: f.b.Clock(c.Began), From: c.From, Opened: f.clockOf(c.Opened), KeptUntil: f.b.Day(c.KeptUntil), Typing: c.Typing,
		Revision: c.Revision, Changes: c.Changes, Rows: c.Rows,
		Elsewhere: c.Open, Here: c.Line == f.now.line.ID(), OfThisJob: c.Job == f.state.ID, Handed: c.Handed, Aside: c.Aside != "",
	}
}

func (f *Frame) clockOf(iso string) string {
	if iso == "" {
		return ""
	}
	return f.b.Clock(iso)
}

func differencesOf(a answer) screens.CopyDifferences {
	return screens.CopyDifferences{Changed: a.int("changed"), Cells: a.int("cells"), OnlyA: a.int("onlyA"), OnlyB: a.int("onlyB"), List: a.rows("list")}
}

// choose asks which of several states to go on with. The one of the file is on the page; nothing closes the dialog before there is an answer.
func (f *Frame) choose(file string, s State, others []state) {
	f.copies.file, f.copies.states = file, others
	var list []screens.CopyChoice
	for i := range others {
		c := screens.CopyChoice{CopyFacts: f.factsOf(&others[i].about), CopyDifferences: differencesOf(others[i].differences)}
		c.Broken = others[i].broken
		list = append(list, c)
	}
	title, body := screens.ChooseCopy(file, screens.CopyFacts{Name: s.Name, Revision: s.Revision, Rows: s.Machines}, f.clockOf(s.SavedAt), list)
	f.b.SetAttribute("dlg-copies", "data-waits", "")
	f.hide("copies-foot", true)
	f.copiesDialog(title, body)
	f.b.Focus("copies-body", false) // no button: a key that was meant for the sheet chooses nothing
}

func (f *Frame) copiesDialog(title string, body screens.HTML) {
	f.b.SetText("copies-title", title)
	f.b.SetHTML("copies-body", body.String())
	f.b.OpenDialog("dlg-copies")
}

// showCopies shows the copies that there are, those of the job on the page first.
func (f *Frame) showCopies() { f.b.Go(f.listCopies) }

func (f *Frame) listCopies() {
	list := f.otherLines()
	slices.SortStableFunc(list, func(a, b About) int { return rank(a.Job == f.state.ID) - rank(b.Job == f.state.ID) })
	f.copies.listed = list
	var facts []screens.CopyFacts
	for i := range list {
		facts = append(facts, f.factsOf(&list[i]))
	}
	f.hide("copies-foot", false)
	f.copiesDialog(words.Text("copies.earlierCopies"), screens.AllCopies(facts))
}

func rank(first bool) int {
	if first {
		return 0
	}
	return 1
}

// otherLines are the lines of work but this tab's own.
func (f *Frame) otherLines() []About {
	return slices.DeleteFunc(f.b.Lines(), func(c About) bool { return c.Line == f.now.line.ID() })
}

// offerCopies shows what safety copies there are where there is no job yet. It waits.
func (f *Frame) offerCopies() {
	list := f.otherLines()
	list = list[:min(len(list), 8)]
	if f.copies.offered = list; len(list) == 0 {
		f.b.SetHTML("copies", "")
		return
	}
	var facts []screens.CopyFacts
	for i := range list {
		facts = append(facts, f.factsOf(&list[i]))
	}
	head := screens.El("h3", screens.Attr{}, screens.Text(words.Text("frame.copiesInThisBrowser")))
	f.b.SetHTML("copies", screens.Join(head, screens.ListCopies(facts, offeredFrom)).String())
}

// copyEvent answers a button of the dialog or of the list where there is no job yet.
func (f *Frame) copyEvent(e screens.Event) {
	n, err := strconv.Atoi(e.Arg)
	if err != nil {
		return
	}
	if e.Name == "go" {
		f.goOnWith(n)
		return
	}
	list := f.copies.listed
	if n >= offeredFrom {
		list, n = f.copies.offered, n-offeredFrom
	}
	if n < 0 || n >= len(list) {
		return
	}
	c := list[n]
	f.b.Go(func() {
		switch e.Name {
		case "take":
			f.closeCopies()
			apart := ""
			switch {
			case c.Open:
				apart = "beside"
			case c.Aside != "" || c.Handed:
				apart = "copy"
			}
			f.restore(c.Line, apart)
		case "compare":
			f.b.SetHTML("copy-"+e.Arg, f.compared(c.Line).String())
		case "forget":
			f.forget(&c)
		}
	})
}

// forget forgets a copy, and lists those that are left: the button that was pressed is gone, and the list has the focus. One that another tab has opened since it was listed stays.
func (f *Frame) forget(c *About) {
	facts := f.factsOf(c)
	if !c.Handed && !f.b.Confirm(words.Text("copies.reallyForget", facts.Label())) {
		return
	}
	if slices.ContainsFunc(f.b.Lines(), func(x About) bool { return x.Line == c.Line && x.Open }) {
		f.say(words.Text("copies.openedMeanwhile", facts.Label()))
	} else {
		f.b.Forget(c.Line)
	}
	inDialog := f.b.DialogOpen() == "dlg-copies"
	if f.b.Shown("welcome") {
		f.offerCopies()
		f.b.Focus("copies", true)
	}
	if inDialog {
		f.listCopies()
		f.b.Focus("copies-body", true)
	}
}

func (f *Frame) compared(line string) screens.HTML {
	c := f.b.CopyOf(line)
	if c == nil || !f.bring(c) {
		return screens.Compared(nil)
	}
	a, ok := f.ask("copyCompare", mostDifferences)
	if !ok {
		return screens.HTML{}
	}
	d := differencesOf(a)
	return screens.Compared(&d)
}

func (f *Frame) closeCopies() {
	f.b.RemoveAttribute("dlg-copies", "data-waits")
	if f.b.DialogOpen() == "dlg-copies" {
		f.b.CloseDialog()
	}
}

// goOnWith takes the state that was chosen, below 0 that of the file. The others are set aside.
func (f *Frame) goOnWith(n int) {
	others, file := f.copies.states, f.copies.file
	if n >= len(others) {
		return
	}
	f.copies.states = nil
	f.closeCopies()
	f.b.Go(func() {
		for i := range others {
			if i != n && !others[i].about.Open {
				f.b.Note(others[i].about.Line, f.b.Now(), false)
			}
		}
		if n < 0 {
			f.say(words.Text("copies.goingOnWithTheFile", file))
		} else if about := &others[n].about; about.Open {
			f.restore(about.Line, "beside")
		} else {
			f.restore(about.Line, "")
		}
		if f.state.Columns > 0 {
			f.b.FocusSheet()
		}
	})
}

package frame

import (
	"strings"

	"shimsheet/internal/words"
)

// What waits is done in one go before the next frame; the mark "idle" of the page says when nothing does.
type paints struct {
	pending map[string]bool
	queued  bool
	turn    int              // counts the drawings of the sheet
	drawing int              // the one that is on its way, 0 none
	drawn   bool             // there was one
	onDrawn map[int][]func() // what waits for the end of each
	pumping bool
	held    bool   // all rows were worked out while a cell was typed into: columns that came into use are not shown yet
	unwatch func() // ends the look-out for other tabs
}

// soon has the panel ("info") or the sums of the selection ("sums") brought up; later: when the cells have been painted.
func (f *Frame) soon(what string, later bool) {
	f.pending[what] = true
	f.b.Mark("idle", "0")
	if f.queued {
		return
	}
	f.queued = true
	run := func() {
		f.queued = false
		info, sums := f.pending["info"], f.pending["sums"]
		delete(f.pending, "info")
		delete(f.pending, "sums")
		if info {
			f.info()
		}
		if sums {
			f.sums()
		}
		f.idle()
	}
	if later {
		f.b.Painted(run)
	} else {
		f.b.NextFrame(run)
	}
}

// sums tells what the selection comes to; of a large one a piece at a time.
func (f *Frame) sums() {
	if f.screen != "" {
		return
	}
	s, ok := f.ask("sums")
	if !ok {
		return
	}
	f.b.SetText("sums", s.text("text"))
	if !s.yes("done") {
		f.b.Later(0, func() { f.soon("sums", false) })
	}
}

// redraw has the cells in sight drawn anew.
func (f *Frame) redraw() {
	if f.state.Columns == 0 && !f.drawn {
		return // nothing to show, and drawing costs a layout of the whole page
	}
	f.drawn = true
	f.b.Mark("idle", "0")
	f.turn++
	mine := f.turn
	f.drawing = mine
	f.b.Draw(func() {
		if f.drawing == mine {
			f.drawing = 0
		}
		waits := f.onDrawn[mine]
		delete(f.onDrawn, mine)
		for _, g := range waits {
			g()
		}
		f.idle()
	})
}

// whenDrawn calls g when the drawing that is on its way has ended.
func (f *Frame) whenDrawn(g func()) {
	if f.drawing == 0 {
		f.b.Go(g)
		return
	}
	f.onDrawn[f.drawing] = append(f.onDrawn[f.drawing], g)
}

func (f *Frame) idle() {
	if f.drawing == 0 && !f.pumping && len(f.pending) == 0 && !f.queued {
		f.b.Mark("idle", "1")
	}
}

// pump has the rows worked out that wait. Those in sight are when they are drawn; the others here, a little at a time, so that the page stays at hand.
func (f *Frame) pump() {
	if f.pumping {
		return
	}
	f.pumping = true
	f.b.Mark("idle", "0")
	f.whenDrawn(func() { f.b.Painted(f.step) }) // what is in sight comes first
}

func (f *Frame) step() {
	p, ok := f.ask("work", 8)
	if ok && p.int("done") < p.int("total") {
		f.b.SetText("counts", words.Text("frame.workingOut", words.Number(p.int("done")), words.Number(p.int("total"))))
		f.b.NextTurn(f.step)
		return
	}
	f.pumping = false
	f.held = f.cell.open != ""
	if p.yes("columns") { // columns that no row had a use for before
		f.anew()
		f.b.Relayout()
		f.redraw()
	}
	f.counts()
	f.update(true, false, false)
	f.share.soon()
	f.idle()
}

// anew takes the state as it is, without a change.
func (f *Frame) anew() {
	s, whole, ok := f.asked("state")
	if !ok {
		return
	}
	f.know(stateOf(s))
	f.b.ViewState(whole)
}

// counts tells of all couplings in the line at the foot, and how many problems there are.
func (f *Frame) counts() {
	c, ok := f.ask("count")
	if !ok {
		return
	}
	var verdicts []string
	for _, v := range [...]struct {
		n    int
		word string
	}{{c.int("inside"), words.Text("frame.inside")}, {c.int("outside"), words.Text("frame.outside")}, {c.int("tooClose"), words.Text("frame.tooClose")}, {c.int("notJudged"), words.Text("frame.notJudged")}} {
		if v.n > 0 {
			verdicts = append(verdicts, words.Number(v.n)+" "+v.word)
		}
	}
	said := ""
	if n := c.int("couplings"); n > 0 {
		said = words.Count("frame.couplings", n) + ": " + strings.Join(verdicts, ", ")
	}
	f.b.SetText("counts", said)
	tab := words.Text("frame.problems")
	if n := c.int("problems"); n > 0 {
		tab = words.Text("frame.problemsCounted", words.Number(n))
	}
	f.b.SetText("side-problems", tab)
	f.b.SetHTML("panel-problems", "")
	f.listed = false
	if f.b.Shown("panel-problems") || f.state.Rows <= 500 { // wording many takes long: not before they are looked at
		f.listProblems()
	}
}

// listProblems words the problems, where that was not done since they changed.
func (f *Frame) listProblems() {
	if f.listed {
		return
	}
	f.listed = true
	p, _ := f.ask("problems")
	f.b.SetHTML("panel-problems", p.text("html"))
}

// Side shows the chosen row or the problems in the panel at the side.
func (f *Frame) Side(id string) {
	for _, side := range [...]struct{ tab, panel string }{{"side-row", "panel-row"}, {"side-problems", "panel-problems"}} {
		chosen := side.tab == id
		f.b.SetAttribute(side.tab, "aria-selected", map[bool]string{true: "true", false: "false"}[chosen])
		f.b.SetAttribute(side.tab, "tabindex", map[bool]string{true: "0", false: "-1"}[chosen])
		f.hide(side.panel, !chosen)
	}
	if id == "side-problems" {
		f.listProblems()
	}
}

// info tells of the cell under the cursor, and the panel of its row.
func (f *Frame) info() {
	width := 0
	if f.b.Shown("side") {
		width = f.b.Width("panel-row") - 30
	}
	i, ok := f.ask("info", width)
	if !ok {
		return
	}
	f.b.SetText("cell-where", i.text("where"))
	f.b.SetText("cell-text", i.text("text"))
	f.b.SetText("cell-meaning", i.text("meaning"))
	class, said, wrong := "", "", ""
	severity, problem := i.text("severity"), i.text("problem")
	if severity == "error" || severity == "warning" {
		class = severity
	}
	if problem == "" {
		said = i.text("help")
		if list := i.texts("choices"); len(list) > 0 {
			said += words.Text("frame.oneOf", strings.Join(list, ", "))
		}
	} else {
		switch severity {
		case "note":
		case "error":
			said = words.Text("frame.problem")
		default:
			said = words.Text("frame.look")
		}
		said += problem
		if hint := i.text("hint"); hint != "" {
			said += "; " + hint
		}
		wrong = said
	}
	f.b.SetAttribute("cell-help", "class", class)
	f.b.SetText("cell-help", said)
	f.b.SetAttribute("cell-help", "title", said)
	f.b.SetText("cell-wrong", wrong)
	f.b.Panel(i.text("about"), i.text("panel"))
}

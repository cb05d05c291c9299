package frame

import (
	"shimsheet/internal/words"
	"strconv"

	"shimsheet/internal/desk"
	"shimsheet/internal/screens"
)

// onPaper are the screens that have something of their own to print.
var onPaper = map[string]bool{"shims": true, "tables": true, "list": true, "moves": true, "cards": true, "board": true, "record": true}

// screenNames are the screens beside the sheet.
var screenNames = map[string]bool{"crew": true, "shims": true, "tables": true, "list": true, "calc": true, "moves": true, "cards": true, "board": true, "record": true, "merge": true, "history": true}

// events is what is under way between the screens and the program.
type events struct {
	waiting map[string]*wait // by element or screen
	lists   string           // the screen that waits for the stock shared out, "" none
	wide    bool             // the window has another size since a screen was asked last
	Drawing bool             // a stroke is under way: its field must not be made anew under it
	late    func()           // what waits for its end
}

// A wait is an event that is sent a little later.
type wait struct {
	screen string
	stop   func()
	run    func()
}

// OpenScreen shows a screen; "" the sheet.
func (f *Frame) OpenScreen(name string) {
	f.done()
	if (name == "list" || name == "crew" || name == "cards") && f.state.Sheet != 0 { // these tell of the machines, and so do the buttons on them
		f.Act("sheet", 0)
	}
	if was := f.screen; was != name && was != "" {
		f.flush(was)
		f.show(was, "hide")
		if f.lists == was {
			f.b.StopLists()
		}
	}
	if !screenNames[name] {
		name = ""
	}
	f.screen = name
	f.hide("work", name != "")
	f.b.ShowScreen(name)
	f.hide("side", name != "")
	f.b.SetText("sums", "")
	f.b.ChooseTab(f.tab())
	if name != "" {
		f.show(name, "show")
		return
	}
	if f.state.Columns > 0 {
		f.redraw()
		f.b.RevealCell(f.state.Row, f.state.Col)
		f.soon("info", false)
		f.soon("sums", false)
	}
}

// show tells a screen that it is shown, hidden, or that the job changed, and puts its answer on the page.
func (f *Frame) show(name, what string) {
	u, ok := f.screenAsked(name, what, screens.Event{})
	if ok {
		f.apply(name, &u, what == "changed")
	}
}

func (f *Frame) screenAsked(name, what string, e screens.Event) (u screens.Update, ok bool) {
	width := 0
	if what != "event" && screenNames[name] {
		width = f.b.Width("screen-" + name)
	}
	u, err := f.desk.Screen(name, what, width, e)
	if p, panicked := err.(*desk.Panic); panicked {
		f.Panicked(p.Why, p.Stack)
		return u, false
	}
	return u, true
}

// update tells the screen shown that the job, the packs or the rows in sight are others.
func (f *Frame) update(changed, shared, arranged bool) {
	name := f.screen
	if name == "" || !changed && !shared && !arranged {
		return
	}
	now := func() {
		if f.screen == name {
			f.show(name, "changed")
		}
	}
	if f.Drawing {
		f.late = now
	} else {
		now()
	}
}

// Drawn ends a stroke of a pen.
func (f *Frame) Drawn() {
	f.Drawing = false
	if g := f.late; g != nil {
		f.late = nil
		g()
	}
}

// Resized notes that the window has another size.
func (f *Frame) Resized() { f.wide = true }

// Send tells a screen what a person did, and puts its answer on the page.
func (f *Frame) Send(name string, e screens.Event) {
	if u, ok := f.Told(name, e); ok {
		f.apply(name, &u, false)
	}
}

// Told is what a screen answers to an event, which is not on the page yet; see [Frame.Apply]. The copies are the frame's own.
func (f *Frame) Told(name string, e screens.Event) (screens.Update, bool) {
	if name == "copies" {
		f.copyEvent(e)
		return screens.Update{}, true
	}
	if f.wide && screenNames[name] {
		f.wide = false
		f.screenAsked(name, "wide", screens.Event{})
	}
	return f.screenAsked(name, "event", e)
}

// Apply puts what a screen answered on the page.
func (f *Frame) Apply(name string, u *screens.Update) { f.apply(name, u, false) }

// Later sends an event after some milliseconds in which the same element sent no other.
func (f *Frame) Later(key, name string, ms int, run func()) {
	if w := f.waiting[key]; w != nil {
		w.stop()
	}
	w := &wait{screen: name, run: run}
	f.waiting[key] = w
	w.stop = f.b.Later(ms, func() {
		if f.waiting[key] == w {
			delete(f.waiting, key)
			run()
		}
	})
}

// flush sends what waits of a screen at once.
func (f *Frame) flush(name string) {
	for key, w := range f.waiting {
		if w.screen == name {
			w.stop()
			delete(f.waiting, key)
			w.run()
		}
	}
}

// apply puts what a screen answered on the page. ifNew: what is as it was stays, so that nothing goes from under a finger.
func (f *Frame) apply(name string, u *screens.Update, ifNew bool) {
	b := f.b
	if name == "crew" {
		f.draft = u.Typing
		defer f.keepTyping()
	}
	for _, r := range u.Regions {
		b.Fill(r, ifNew)
	}
	for _, a := range u.Attributes {
		if a.Off {
			b.RemoveAttribute(a.ID, a.Name)
		} else {
			b.SetAttribute(a.ID, a.Name, a.Value)
		}
	}
	for _, v := range u.Values {
		b.SetValue(v.ID, v.Text)
	}
	if at := b.DialogOpen(); u.Dialog != "" && at != "" && at != u.Dialog {
		b.CloseDialog()
	}
	if u.Changed {
		f.Act("took")
	}
	if u.Remember != "" {
		f.remember(u.Remember)
	}
	if u.Say != "" && u.Copy == nil {
		if u.Offer != nil {
			event := u.Offer.Event
			f.sayOffering(u.Say, u.Offer.Label, func() { f.Send(name, screens.Event{Name: event}) })
		} else {
			f.say(u.Say)
		}
	}
	if u.Dialog != "" && u.Dialog != "-" {
		b.OpenDialog(u.Dialog)
	}
	f.look(name, u)
	if u.Copy != nil {
		said := u.Say
		if !b.Copy(u.Copy.Text, u.Copy.HTML) {
			said = words.Text("frame.notCopied")
		}
		f.say(said)
	}
	if u.Paste != "" {
		event := u.Paste
		b.Clipboard(func(pasted string, waiting bool) {
			kind := "pasted"
			if waiting {
				kind = "none"
			}
			f.Send(name, screens.Event{Name: event, Kind: kind, Value: pasted})
		})
	}
	if u.File != nil {
		f.handOver(u.File)
	}
	f.goOn(name, u)
}

// look moves the focus and what is in sight as an update says.
func (f *Frame) look(name string, u *screens.Update) {
	b, root := f.b, "screen-"+name
	if u.Window != "" {
		b.WindowTop(root, u.Window != "always")
	}
	touch := u.Finger != "" && !b.Fine()
	to := u.Focus
	if touch {
		to = u.Finger
	}
	shown := u.Reveal != "" && to != "-"
	if shown && touch {
		b.Reveal(root, u.Reveal, false)
	}
	if to != "" {
		b.Focus(to, shown && !touch)
	}
	if u.Select && !touch {
		b.Select(u.Focus)
	}
	if shown && !touch {
		b.Reveal(root, u.Reveal, u.Centre)
	}
	if u.Read != "" {
		b.Read(root, u.Read)
	}
	if u.Top {
		b.ScrollTop(root)
	}
}

// handOver gives the browser a file to save.
func (f *Frame) handOver(file *screens.File) {
	name := file.Name
	if file.Ending != "" {
		name = f.b.FileName(file.Name, f.state.Revision, file.Ending)
	}
	f.b.HandOver(name, file.Type, file.Text)
	if file.Ending != "" {
		f.say(words.Text("frame.handedOver", name))
	}
}

// goOn does what an update says is to come next.
func (f *Frame) goOn(name string, u *screens.Update) {
	b := f.b
	if u.Soon != "" {
		event := u.Soon
		f.Later("screen "+name, name, u.SoonIn, func() { f.Send(name, screens.Event{Name: event, Kind: "soon"}) })
	}
	if u.Reread != nil {
		f.reread(desk.ChoicesJSON(u.Reread))
	}
	if u.Print {
		b.Print()
	}
	if u.Share != "" {
		f.shareOut(name, u.Share)
	}
	if u.Unshare {
		b.StopLists()
	}
	if u.Open != "" {
		b.Press(u.Open)
	}
	if u.Place != nil {
		f.Jump(u.Place.Sheet, u.Place.Row, u.Place.Col)
	}
	if u.Sheet {
		if f.screen != "" {
			f.ShowSheet(f.state.Sheet)
		}
		if u.SheetTop {
			b.SheetTop()
		}
		b.FocusSheet()
	}
}

// shareOut has the stock shared out for a screen, and tells it what came of that.
func (f *Frame) shareOut(name, job string) {
	f.b.Go(func() {
		f.lists = name
		mine := f.share.ordered + 1
		f.share.ordered = mine
		got, err := f.share.lists(func(share float64) { f.b.SetValue("share-bar", strconv.FormatFloat(share, 'g', -1, 64)) })
		kind, value := "shared", got.lists
		switch {
		case err == ErrStopped:
			kind = "stopped"
		case err != nil:
			kind, value = "refused", screens.Sentence(err.Error())
		}
		if f.share.ordered == mine {
			f.lists = ""
		}
		f.Send(name, screens.Event{Name: "lists", Arg: job, Kind: kind, Value: value})
	})
}

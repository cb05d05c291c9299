package desk

import (
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"strconv"
)

// newScreens are the screens in Go by their name, which is the end of their element's id: screen-NAME.
var newScreens = map[string]func(*Desk) screens.Screen{
	"calc":    func(d *Desk) screens.Screen { return screens.NewCalculators(d) },
	"moves":   func(d *Desk) screens.Screen { return screens.NewMoves(d) },
	"cards":   func(d *Desk) screens.Screen { return screens.NewCards(d) },
	"board":   func(d *Desk) screens.Screen { return screens.NewBoard(d) },
	"record":  func(d *Desk) screens.Screen { return screens.NewRecord(d) },
	"merge":   func(d *Desk) screens.Screen { return screens.NewMerge(d) },
	"list":    func(d *Desk) screens.Screen { return screens.NewOverview(d) },
	"tables":  func(d *Desk) screens.Screen { return screens.NewTables(d) },
	"shims":   func(d *Desk) screens.Screen { return screens.NewShims(d) },
	"panel":   func(d *Desk) screens.Screen { return screens.NewPanel(d) },
	"crew":    func(d *Desk) screens.Screen { return screens.NewCrew(d) },
	"help":    func(d *Desk) screens.Screen { return screens.NewHelp(d) },
	"headers": func(d *Desk) screens.Screen { return screens.NewHeaders(d) },
	"columns": func(d *Desk) screens.Screen { return screens.NewColumns(d) },
	"groups":  func(d *Desk) screens.Screen { return screens.NewGroups(d) },
	"match":   func(d *Desk) screens.Screen { return screens.NewMatch(d) },
	"open":    func(d *Desk) screens.Screen { return screens.NewOpenFile(d) },
	"find":    func(d *Desk) screens.Screen { return screens.NewFind(d) },
	"arrange": func(d *Desk) screens.Screen { return screens.NewArrange(d) },
	"history": func(d *Desk) screens.Screen { return screens.NewHistory(d) },
}

// screen is the screen of a name, made when it is first asked for; nil: there is none.
func (d *Desk) screen(name string) screens.Screen {
	if s := d.screens[name]; s != nil {
		return s
	}
	begin := newScreens[name]
	if begin == nil {
		return nil
	}
	if d.screens == nil {
		d.screens = map[string]screens.Screen{}
	}
	d.screens[name] = begin(d)
	return d.screens[name]
}

// opScreen asks a screen: its name and what happened. "show", "changed" and "wide", which is its width and no more, are the page's own, with the width of the screen in pixels behind
// them; "hide" says that another is shown now; "event" is followed by name, argument, kind, value, key.
func opScreen(d *Desk, in *arguments) raw {
	s := d.screen(in.text())
	if s == nil {
		return failure("There is no such screen.")
	}
	var u screens.Update
	what := in.text()
	if what != "event" && in.more() {
		d.screenWidth, _ = strconv.Atoi(in.text())
	}
	switch what {
	case "show":
		u = s.Show()
	case "changed":
		u = s.JobChanged()
	case "hide":
		if s, ok := s.(screens.Hider); ok {
			u = s.Hide()
		}
	case "event":
		if len(in.in) < 7 {
			return failure("An event has a name, an argument, a kind, a value and a key.")
		}
		u = s.Event(screens.Event{Name: in.text(), Arg: in.text(), Kind: in.text(), Value: in.text(), Key: in.text()})
	}
	return updateObject(&u).end()
}

// change lets a screen's host change a sheet of the job, with its own step to undo on that sheet. The screen answers Update{Changed: true}, and the
// page then asks for opTook.
func (d *Desk) change(k job.SheetKind, f func(*grid.Model) grid.Change) grid.Change {
	ch := f(d.grids[k])
	d.changed(k, ch)
	d.took(ch)
	return ch
}

// took adds to what opTook tells.
func (d *Desk) took(ch grid.Change) {
	d.byScreen.Any, d.byScreen.Header = d.byScreen.Any || ch.Any, d.byScreen.Header || ch.Header
	if ch.Note != "" {
		d.byScreen.Note = ch.Note
	}
}

// opTook is the state after a screen changed the job.
func opTook(d *Desk, _ *arguments) raw {
	ch := d.byScreen
	d.byScreen = grid.Change{}
	o := d.state(ch)
	if d.shownOther {
		d.shownOther = false
		o.yes("arranged", true)
	}
	return o.end()
}

// shownAnew notes that the sheet shown has other rows or columns in sight, or the same in another order, and what is said of that.
func (d *Desk) shownAnew(note string) {
	d.shownOther = true
	d.took(grid.Change{Note: note})
}

// updateObject leaves out what an update does not hold.
func updateObject(u *screens.Update) *object {
	o := new(object)
	var regions, attributes, values [][]string
	for _, r := range u.Regions {
		regions = append(regions, []string{r.ID, r.Content.String()})
	}
	for _, t := range u.Attributes {
		if t.Off {
			attributes = append(attributes, []string{t.ID, t.Name})
		} else {
			attributes = append(attributes, []string{t.ID, t.Name, t.Value})
		}
	}
	for _, v := range u.Values {
		values = append(values, []string{v.ID, v.Text})
	}
	o.rows("regions", regions).rows("attributes", attributes).rows("values", values)
	for _, t := range [...][2]string{{"focus", u.Focus}, {"say", u.Say}, {"open", u.Open}, {"dialog", u.Dialog}, {"soon", u.Soon}, {"share", u.Share},
		{"reveal", u.Reveal}, {"read", u.Read}, {"finger", u.Finger}, {"paste", u.Paste}, {"window", u.Window}, {"remember", u.Remember}} {
		if t[1] != "" {
			o.text(t[0], t[1])
		}
	}
	for _, t := range [...]struct {
		key string
		yes bool
	}{{"top", u.Top}, {"sheetTop", u.SheetTop}, {"pass", u.Pass}, {"centre", u.Centre}, {"select", u.Select}, {"sheet", u.Sheet}, {"unshare", u.Unshare}, {"changed", u.Changed}, {"print", u.Print}} {
		if t.yes {
			o.yes(t.key, true)
		}
	}
	if u.Soon != "" {
		o.int("soonIn", u.SoonIn)
	}
	if u.Reread != nil {
		var sheets []*object
		for _, c := range u.Reread.Sheets {
			var columns []*object
			for _, x := range c.Columns {
				columns = append(columns, new(object).int("col", x.Col).text("key", x.Key).text("unit", x.Unit))
			}
			s := new(object).text("sheet", c.Sheet).int("header_row", c.HeaderRow).yes("text_to_numbers", c.TextToNumbers).objects("columns", columns)
			if c.Chosen {
				s.text("kind", c.Kind)
			}
			sheets = append(sheets, s)
		}
		o.objects("reread", sheets)
	}
	if u.Offer != nil {
		o.texts("offer", []string{u.Offer.Label, u.Offer.Event})
	}
	if u.Place != nil {
		o.ints("place", []int{u.Place.Sheet, u.Place.Row, u.Place.Col})
	}
	if u.Copy != nil {
		o.texts("copy", []string{u.Copy.Text, u.Copy.HTML})
	}
	if u.File != nil {
		o.texts("file", []string{u.File.Name, u.File.Type, u.File.Text, u.File.Ending})
	}
	return o
}

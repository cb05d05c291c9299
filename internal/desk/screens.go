package desk

import (
	"fmt"
	"runtime/debug"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
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

// A Panic is a failure inside the program, which would have ended it.
type Panic struct{ Why, Stack string }

func (p *Panic) Error() string { return p.Why }

// Screen asks a screen by its name. what is "show", "changed" or "wide", which is its width in pixels and no more, below 1: it is not known; "hide": another is shown now; or "event", which is
// e. The error is a *Panic: what a person does wrong is in the update.
func (d *Desk) Screen(name, what string, width int, e screens.Event) (u screens.Update, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = &Panic{fmt.Sprint(r), string(debug.Stack())}
		}
	}()
	s := d.screen(name)
	if s == nil {
		panic("desk: no screen " + name)
	}
	if width > 0 {
		d.screenWidth = width
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
		u = s.Event(e)
	}
	return u, nil
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

// ChoicesJSON is what a person chose of a file, as the program for workbook files takes it.
func ChoicesJSON(c *screens.FileChoices) string {
	var sheets []*object
	for _, c := range c.Sheets {
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
	return string(appendList(nil, sheets, func(b []byte, s *object) []byte { return append(b, s.end()...) }))
}

package screens

// An Event is what a person did in a screen.
type Event struct {
	Name  string // as On, OnLater or OnKey said
	Arg   string // the same
	Kind  string // "click", "input", "change", "submit", "keydown", "focus", "pen", "file", or "refused": a file that could not be read, Value says why
	Value string // what the element holds: a field's text, a list's choice, "true" or "false" of a box to tick; several fields of a form: name U+001F value U+001E …
	Key   string // of a keydown; "paste" of an input that was pasted; the name of a file
}

// choice is the key that was chosen: by a button of its own, or from a list.
func (e Event) choice() string {
	if e.Kind == "change" {
		return e.Value
	}
	return e.Arg
}

// An Update is what the page is to do.
type Update struct {
	Regions    []Region
	Attributes []Attribute
	Values     []Value
	Focus      string // id of the element to go to, "" none
	Select     bool   // what stands in it is selected
	Finger     string // the element to go to instead where a finger points; "-" none
	Reveal     string // id of an element that is brought into sight, between what lies over the edges of the screen (data-over); going to Focus moves nothing then
	Centre     bool   // it is brought into the middle
	Read       string // id of what is to be read now: it is gone to from its beginning, and brought up where it lies low or under something
	Window     string // the screen is brought to the top of the window: "always", or "low" where the window is low
	Paste      string // this event is sent with the text of the clipboard, kind "pasted"; kind "none" before that, or instead, where the browser hands nothing over or asks first
	Typing     string // what is typed on the screen and not in the job yet, and where; "" nothing
	Pass       bool   // a key is left to the page and the browser
	Soon       string // this event is sent again by itself, with nothing in it, after SoonIn milliseconds, unless the screen is asked something before
	SoonIn     int
	Top        bool   // the screen is shown from its top
	Say        string // for the line of messages and for a screen reader
	Copy       *Clip
	File       *File
	Changed    bool         // the job was changed: the page reads its state anew and keeps it
	Print      bool         // what stands in the region "paper" is printed
	Open       string       // another screen or sheet: the id of its tab
	Share      string       // the stock is shared out by a worker; the event "lists" tells what came of it, with this as its argument: kind "shared", "refused" or "stopped"
	Unshare    bool         // that is stopped
	Place      *Place       // a cell to go to, on its sheet
	SheetTop   bool         // the sheet is shown from its top
	Sheet      bool         // the sheet is what has the focus then
	Dialog     string       // id of a dialog to open, in the place of one that is open; "-" closes that
	Reread     *FileChoices // the program for workbook files reads the file once more, with these
	Offer      *Offer       // a button behind Say
	Remember   string       // headers that were matched, for the next job on this computer: packed rows of sheet, header, meaning
}

// An Offer is something that can be done about what was said. When it is pressed, the screen gets the event.
type Offer struct{ Label, Event string }

// A Region is the new content of an element.
type Region struct {
	ID      string
	Content HTML
}

// An Attribute is set, or taken off where Off.
type Attribute struct {
	ID, Name, Value string
	Off             bool
}

// A Value is what a field is to hold.
type Value struct{ ID, Text string }

// A Clip goes onto the clipboard: as text, and as HTML where that is not empty.
type Clip struct{ Text, HTML string }

// A File is handed to the browser to be saved. With an Ending the page makes its name, of Name, the job's revision and the time, and tells it.
type File struct{ Name, Type, Text, Ending string }

// A Screen is one of the page's screens.
type Screen interface {
	// Show is the screen from its beginning: usually one region, the screen's own.
	Show() Update
	// Event answers what a person did.
	Event(Event) Update
	// JobChanged is asked after the job changed elsewhere while this screen is shown, and when packs, limits or other results became others.
	JobChanged() Update
}

// A Hider is told that another screen, or the sheet, takes its place.
type Hider interface{ Hide() Update }

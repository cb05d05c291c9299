package screens

import (
	"strings"

	"shimsheet/internal/grid"
	"shimsheet/internal/words"
)

// FindHost is what the bar for finding and replacing asks of the desk.
type FindHost interface {
	Find(text string, o grid.FindOptions) grid.Found        // goes to what is found
	Replace(text, by string, o grid.FindOptions) grid.Found // in the cell at hand, and goes on
	ReplaceAll(text, by string, o grid.FindOptions) Pasted
	RowsSelected() bool // more than one
	SheetRows() int
}

// Find is the bar above the sheet that finds and replaces.
type Find struct{ host FindHost }

// NewFind is the bar before it was opened.
func NewFind(host FindHost) *Find { return &Find{host: host} }

// waitsFrom is from how many rows on the search waits until nobody has typed for a moment: it looks at every cell and every result.
const waitsFrom = 2000

// Show opens the bar: with several rows selected it looks in these.
func (s *Find) Show() Update {
	within := "false"
	if s.host.RowsSelected() {
		within = "true"
	}
	return Update{Regions: []Region{{"find-said", HTML{}}}, Values: []Value{{"find-sel", within}}, Focus: "find-text", Select: true,
		Attributes: []Attribute{{ID: "findbar", Name: "hidden", Off: true}, {ID: "find-text", Name: "data-wait", Value: "300", Off: s.host.SheetRows() < waitsFrom}}}
}

// JobChanged says nothing: the bar stands beside what changes.
func (s *Find) JobChanged() Update { return Update{} }

// Event answers what is typed and pressed; each comes with all fields of the bar.
func (s *Find) Event(e Event) Update {
	f := fields(e.Value)
	o := grid.FindOptions{MatchCase: f["case"] == "true", WholeCell: f["whole"] == "true", InSelection: f["sel"] == "true"}
	text := f["text"]
	switch {
	case e.Name == "close" || e.Name == "key" && e.Key == "Escape":
		return Update{Attributes: []Attribute{{ID: "findbar", Name: "hidden"}}, Sheet: true}
	case e.Name == "all" && text != "":
		p := s.host.ReplaceAll(text, f["by"], o)
		if !p.Changed {
			return Update{Regions: []Region{{"find-said", Text(words.Text("find.nothingToReplace"))}}}
		}
		return Update{Changed: true, Regions: []Region{{"find-said", HTML{}}}, Say: words.Text("find.doneCtrlZTakesIt", p.Undo)}
	case text == "" || e.Name == "typed" && o.InSelection:
		return Update{Regions: []Region{{"find-said", HTML{}}}}
	case e.Name == "typed":
		o.Here = true
	case e.Name == "replace":
		return s.found(s.host.Replace(text, f["by"], o))
	case e.Name == "back" || e.Name == "key": // Shift and Enter
		o.Back = true
	case e.Name != "next":
		return Update{}
	}
	return s.found(s.host.Find(text, o))
}

// found says where in all that was found the cursor is.
func (s *Find) found(f grid.Found) Update {
	said := words.Text("find.notFound")
	if f.Count > 0 {
		fixed, wrapped := "", ""
		if f.Fixed > 0 {
			fixed = words.Text("find.ofThemWorkedOut", words.Number(f.Fixed))
		}
		if f.Wrapped {
			wrapped = words.Text("find.fromTheOtherEnd")
		}
		said = words.Text("find.of", words.Number(f.Index), words.Number(f.Count), fixed, wrapped)
	}
	return Update{Changed: true, Regions: []Region{{"find-said", Text(said)}}}
}

// formFields are the fields of a form that was sent, in its order: name and what it holds.
func formFields(value string) (out [][2]string) {
	for _, f := range strings.Split(value, "\x1e") {
		name, v, _ := strings.Cut(f, "\x1f")
		out = append(out, [2]string{name, v})
	}
	return out
}

// fields are the fields of a form, by name.
func fields(value string) map[string]string {
	out := map[string]string{}
	for _, f := range formFields(value) {
		out[f[0]] = f[1]
	}
	return out
}

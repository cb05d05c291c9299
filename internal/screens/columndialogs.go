package screens

import (
	"slices"
	"strings"

	"shimsheet/internal/words"
)

// ColumnsHost is what the dialogs about columns ask of the desk, and have done to the sheet shown.
type ColumnsHost interface {
	HeaderRow(way string) string         // to be copied, tabs between; "" all columns
	KnownColumns() []string              // of the sheet shown, by name
	CursorColumn() (at int, name string) // an input column as stored, with its unit; below 0: none
	AddColumn(at int, name string)       // before that one; below 0: behind the others
	RenameColumn(at int, name string)
	DeleteColumn(at int)
	ColumnGroups() (groups []ColumnGroup, all bool) // all: they are shown whatever is hidden
	ShowColumns(all bool, hidden []string)
}

// A ColumnGroup is a group of columns, or a single one that was hidden.
type ColumnGroup struct {
	Name, Title string
	Count       int
	Hidden      bool
}

// Headers is the dialog with a header row to copy into a workbook.
type Headers struct {
	host ColumnsHost
	ways [][2]string
	way  string
}

// NewHeaders is the dialog before it was opened.
func NewHeaders(host ColumnsHost) *Headers { return &Headers{host: host} }

// Show opens it at the way of measuring that was chosen last.
func (s *Headers) Show() Update {
	if len(s.ways) > 0 && !slices.ContainsFunc(s.ways, func(w [2]string) bool { return w[0] == s.way }) {
		s.way = s.ways[0][0]
	}
	list := Each(s.ways, func(_ int, w [2]string) HTML { return Choice(w[0], w[1], w[0] == s.way) })
	return Update{Regions: []Region{{"headers-method", list}}, Values: []Value{{"headers-text", s.host.HeaderRow(s.way)}}, Dialog: "dlg-headers"}
}

// JobChanged says nothing: the dialog is what is worked in.
func (s *Headers) JobChanged() Update { return Update{} }

// Event answers the choice of a way of measuring and the button that copies.
func (s *Headers) Event(e Event) Update {
	switch e.Name {
	case "ways":
		s.ways = pairs(e.Value)
		if s.way == "" && len(s.ways) > 0 {
			s.way = s.ways[0][0]
		}
	case "way":
		s.way = e.Value
		return Update{Values: []Value{{"headers-text", s.host.HeaderRow(s.way)}}}
	case "copy":
		return Update{Focus: "headers-text", Select: true, Copy: &Clip{Text: s.host.HeaderRow(s.way)}, Say: words.Text("columns.theHeaderRowIsOn")}
	}
	return Update{}
}

// pairs are texts two by two, apart by U+001F.
func pairs(text string) (out [][2]string) {
	list := strings.Split(text, "\x1f")
	for k := 0; k+1 < len(list); k += 2 {
		out = append(out, [2]string{list[k], list[k+1]})
	}
	return out
}

// Columns is the dialog that adds, renames and takes out columns.
type Columns struct {
	host      ColumnsHost
	add, name string // as typed
}

// NewColumns is the dialog before it was opened.
func NewColumns(host ColumnsHost) *Columns { return &Columns{host: host} }

// Show opens it with the name of the cursor's column.
func (s *Columns) Show() Update {
	at, name := s.host.CursorColumn()
	s.add, s.name = "", name
	u := Update{Values: []Value{{"col-name", name}, {"col-add", ""}}, Dialog: "dlg-columns",
		Regions: []Region{{"col-known", Each(s.host.KnownColumns(), func(_ int, n string) HTML { return El("option", A("value", n)) })}}}
	for _, id := range []string{"col-name", "col-rename", "col-delete", "col-add-before"} {
		u.Attributes = append(u.Attributes, Attribute{ID: id, Name: "disabled", Off: at >= 0})
	}
	return u
}

// JobChanged says nothing: the dialog is what is worked in.
func (s *Columns) JobChanged() Update { return Update{} }

// Event answers the fields and the buttons.
func (s *Columns) Event(e Event) Update {
	at, _ := s.host.CursorColumn()
	name := strings.TrimSpace(s.add)
	switch e.Name {
	case "add":
		s.add = e.Value
		return Update{}
	case "name":
		s.name = e.Value
		return Update{}
	case "rename":
		name = strings.TrimSpace(s.name)
	case "before", "last", "delete":
	default:
		return Update{}
	}
	switch {
	case name == "" && e.Name != "delete":
		return Update{Say: words.Text("columns.writeANameFirst")}
	case e.Name == "before":
		s.host.AddColumn(at, name)
	case e.Name == "last":
		s.host.AddColumn(-1, name)
	case e.Name == "rename":
		s.host.RenameColumn(at, name)
	case e.Name == "delete":
		s.host.DeleteColumn(at)
	}
	return Update{Dialog: "-", Changed: true, Sheet: true}
}

// Groups is the dialog that shows and hides groups of columns.
type Groups struct {
	host   ColumnsHost
	groups []ColumnGroup
	all    bool
}

// NewGroups is the dialog before it was opened.
func NewGroups(host ColumnsHost) *Groups { return &Groups{host: host} }

// Show opens it with what is shown.
func (s *Groups) Show() Update {
	s.groups, s.all = s.host.ColumnGroups()
	body := Each(s.groups, func(_ int, g ColumnGroup) HTML {
		return El("p", Attr{}, El("label", Attr{}, El("input", Attrs(A("type", "checkbox"), A("value", g.Name), Flag("checked", !g.Hidden), On("tick", g.Name))),
			Text(" "+g.Title+" ("+words.Count("columns.columns", g.Count)+")")))
	})
	if len(s.groups) == 0 {
		body = P("quiet", words.Text("columns.thisSheetSColumnsBelong"))
	}
	return Update{Regions: []Region{{"groups-body", body}}, Dialog: "dlg-groups"}
}

// JobChanged says nothing: the dialog is what is worked in.
func (s *Groups) JobChanged() Update { return Update{} }

// Event answers the boxes and the button.
func (s *Groups) Event(e Event) Update {
	for k := range s.groups {
		if e.Name == "tick" && s.groups[k].Name == e.Arg {
			s.groups[k].Hidden = e.Value != "true"
		}
	}
	if e.Name != "take" {
		return Update{}
	}
	var hidden []string
	for _, g := range s.groups {
		if g.Hidden {
			hidden = append(hidden, g.Name)
		}
	}
	s.host.ShowColumns(s.all, hidden)
	return Update{Dialog: "-", Changed: true, Sheet: true}
}

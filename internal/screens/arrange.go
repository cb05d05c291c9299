package screens

import (
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/words"
)

// ArrangeHost is what sorting and filtering ask of the desk.
type ArrangeHost interface {
	ViewOf() (columns []ArrangeColumn, sorts []SortKey, filters []FilterLine) // of the sheet shown
	Arranged() bool                                                           // something is sorted or filtered
	Arrange(sorts []SortKey, filters []FilterLine)
	SortStored()
}

// An ArrangeColumn is a column that can be sorted and filtered by. Few are its different texts, where they are few.
type ArrangeColumn struct {
	ID, Name, Unit string
	Result         bool
	Few            []string
}

// A SortKey is a column to sort by.
type SortKey struct {
	Column string
	Desc   bool
}

// A FilterLine is a condition on a column: an operator, a letter, and values.
type FilterLine struct {
	Column, Op string
	Values     []string
}

// Arrange is the dialog that says by what the sheet is sorted and which of its rows are shown; never what is stored.
type Arrange struct {
	host    ArrangeHost
	columns []ArrangeColumn
	sorts   []SortKey
	filters []conditionLine
}

// A conditionLine is a condition as it stands in the dialog.
type conditionLine struct {
	column, op string
	text       string   // in the field
	ticked     []string // of the column's few texts
	given      bool     // it held when the dialog was opened
}

// NewArrange is the dialog before it was opened.
func NewArrange(host ArrangeHost) *Arrange { return &Arrange{host: host} }

// Show opens the dialog with what holds now, and a line for more where nothing does.
func (s *Arrange) Show() Update {
	var held []FilterLine
	s.columns, s.sorts, held = s.host.ViewOf()
	s.filters = nil
	for _, f := range held {
		c := conditionLine{column: f.Column, op: f.Op, ticked: f.Values, given: true}
		if len(f.Values) > 0 {
			c.text = f.Values[0]
		}
		s.filters = append(s.filters, c)
	}
	if len(s.sorts) == 0 {
		s.sorts = []SortKey{{}}
	}
	if len(s.filters) == 0 {
		s.filters = []conditionLine{{op: "c"}}
	}
	more := func(what, text string) HTML {
		return El("p", Attr{}, Button(Attrs(ID("arrange-more-"+what), On("more", what)), text))
	}
	stored := HTML{}
	if s.host.Arranged() {
		stored = El("p", Attr{}, Button(On("stored", ""), words.Text("arrange.makeTheShownOrderThe")))
	}
	head := func(text string) HTML { return El("h3", Attr{}, Text(text)) }
	body := Join(head(words.Text("arrange.sortBy")), El("div", ID("arrange-sorts"), s.sortLines()), more("sort", words.Text("arrange.andThenBy")),
		head(words.Text("arrange.showOnlyRowsWhere")), El("div", ID("arrange-filters"), s.filterLines()), more("filter", words.Text("arrange.and")),
		P("quiet", words.Text("arrange.thisChangesWhatIsShown")), stored)
	return Update{Regions: []Region{{"arrange-body", body}}, Dialog: "dlg-arrange", Focus: "arrange-sort-0"}
}

// JobChanged says nothing: the dialog is what is worked in.
func (s *Arrange) JobChanged() Update { return Update{} }

// Event answers the lines of the dialog and its buttons.
func (s *Arrange) Event(e Event) Update {
	what, n, _ := strings.Cut(e.Arg, "-")
	n, box, _ := strings.Cut(n, "-")
	i, _ := strconv.Atoi(n)
	switch e.Name {
	case "more":
		if what == "sort" {
			s.sorts = append(s.sorts, SortKey{})
			return Update{Regions: []Region{{"arrange-sorts", s.sortLines()}}, Focus: "arrange-sort-" + strconv.Itoa(len(s.sorts)-1)}
		}
		s.filters = append(s.filters, conditionLine{op: "c"})
		return Update{Regions: []Region{{"arrange-filters", s.filterLines()}}, Focus: "arrange-filter-" + strconv.Itoa(len(s.filters)-1)}
	case "drop":
		u := Update{Focus: "arrange-more-" + what}
		if what == "sort" && i < len(s.sorts) {
			s.sorts = slices.Delete(s.sorts, i, i+1)
			u.Regions = []Region{{"arrange-sorts", s.sortLines()}}
		} else if what == "filter" && i < len(s.filters) {
			s.filters = slices.Delete(s.filters, i, i+1)
			u.Regions = []Region{{"arrange-filters", s.filterLines()}}
		}
		return u
	case "column", "direction":
		if what == "sort" && i < len(s.sorts) {
			if e.Name == "column" {
				s.sorts[i].Column = e.Value
			} else {
				s.sorts[i].Desc = e.Value == "desc"
			}
		} else if what == "filter" && i < len(s.filters) {
			return s.chosen(i, e.Value)
		}
	case "op", "value", "few":
		if i < len(s.filters) {
			return s.condition(i, box, e)
		}
	case "take":
		return s.take()
	case "stored":
		s.host.SortStored()
		return Update{Dialog: "-", Changed: true, Sheet: true}
	}
	return Update{}
}

// chosen answers another column of a condition: a new one on a column of few texts is which of them.
func (s *Arrange) chosen(i int, id string) Update {
	f := &s.filters[i]
	f.column = id
	if !f.given && len(s.few(f)) > 0 {
		f.op = "e"
	}
	u := s.shown(i)
	u.Values = []Value{{"arrange-op-" + strconv.Itoa(i), f.op}}
	return u
}

// condition answers the operator and the values of a condition.
func (s *Arrange) condition(i int, box string, e Event) Update {
	f := &s.filters[i]
	switch e.Name {
	case "op":
		f.op = e.Value
		return s.shown(i)
	case "value":
		f.text = e.Value
	case "few":
		if at, err := strconv.Atoi(box); err == nil && at >= 0 && at < len(s.few(f)) {
			text := s.few(f)[at]
			f.ticked = slices.DeleteFunc(slices.Clone(f.ticked), func(v string) bool { return v == text })
			if e.Value == "true" {
				f.ticked = append(f.ticked, text)
			}
		}
	}
	return Update{}
}

// few are the texts that a condition's column has, where they are few.
func (s *Arrange) few(f *conditionLine) []string {
	for k := range s.columns {
		if s.columns[k].ID == f.column {
			return s.columns[k].Few
		}
	}
	return nil
}

// ticks says whether a condition is made by ticking texts; blank whether it takes no value at all.
func (s *Arrange) ticks(f *conditionLine) bool {
	return len(s.few(f)) > 0 && (f.op == "e" || f.op == "d")
}
func (f *conditionLine) blank() bool { return f.op == "z" || f.op == "f" }

// shown brings what takes the values of a condition up to its column and operator.
func (s *Arrange) shown(i int) Update {
	f, n := &s.filters[i], strconv.Itoa(i)
	return Update{Regions: []Region{{"arrange-few-" + n, s.boxes(i)}}, Attributes: []Attribute{
		{ID: "arrange-few-" + n, Name: "hidden", Off: s.ticks(f)}, {ID: "arrange-value-" + n, Name: "hidden", Off: !s.ticks(f) && !f.blank()}}}
}

// take shows the sheet so. A condition without a value is none.
func (s *Arrange) take() Update {
	var sorts []SortKey
	for _, k := range s.sorts {
		if k.Column != "" {
			sorts = append(sorts, k)
		}
	}
	var filters []FilterLine
	for k := range s.filters {
		f := &s.filters[k]
		values := []string{strings.TrimSpace(f.text)}
		if f.blank() {
			values[0] = ""
		} else if s.ticks(f) {
			values = nil
			for _, text := range s.few(f) {
				if slices.Contains(f.ticked, text) {
					values = append(values, text)
				}
			}
		}
		if f.column != "" && (f.blank() || slices.ContainsFunc(values, func(v string) bool { return v != "" })) {
			filters = append(filters, FilterLine{f.column, f.op, values})
		}
	}
	s.host.Arrange(sorts, filters)
	return Update{Dialog: "-", Changed: true, Sheet: true, SheetTop: len(sorts) > 0} // whoever sorts wants to see what came first
}

// picker is the list of columns.
func (s *Arrange) picker(id, arg, chosen string) HTML {
	return El("select", Attrs(ID(id), A("aria-label", words.Text("arrange.column")), On("column", arg)), Choice("", words.Text("arrange.chooseAColumn"), false),
		Each(s.columns, func(_ int, c ArrangeColumn) HTML {
			name := c.Name
			if c.Unit != "" {
				name += " [" + c.Unit + "]"
			}
			if c.Result {
				name += words.Text("arrange.workedOut")
			}
			return Choice(c.ID, name, c.ID == chosen)
		}))
}

func (s *Arrange) drop(arg string) HTML {
	return Button(On("drop", arg), words.Text("arrange.takeOut"))
}

func (s *Arrange) sortLines() HTML {
	return Each(s.sorts, func(i int, k SortKey) HTML {
		n := strconv.Itoa(i)
		return El("p", Class("line sort"), s.picker("arrange-sort-"+n, "sort-"+n, k.Column), Text(" "),
			El("select", Attrs(ID("arrange-direction-"+n), A("aria-label", words.Text("arrange.direction")), On("direction", "sort-"+n)),
				Choice("", words.Text("arrange.smallestFirst"), false), Choice("desc", words.Text("arrange.largestFirst"), k.Desc)), Text(" "), s.drop("sort-"+n))
	})
}

func (s *Arrange) filterLines() HTML {
	operators := [...][2]string{{"c", words.Text("arrange.holds")}, {"n", words.Text("arrange.doesNotHold")}, {"e", words.Text("arrange.is")}, {"d", words.Text("arrange.isNot")},
		{"l", words.Text("arrange.isLessThan")}, {"m", words.Text("arrange.isAtMost")}, {"g", words.Text("arrange.isMoreThan")}, {"h", words.Text("arrange.isAtLeast")},
		{"z", words.Text("arrange.isEmpty")}, {"f", words.Text("arrange.isFilled")}}
	return Each(s.filters, func(i int, f conditionLine) HTML {
		n := strconv.Itoa(i)
		return El("p", Class("line filter"), s.picker("arrange-filter-"+n, "filter-"+n, f.column), Text(" "),
			El("select", Attrs(ID("arrange-op-"+n), A("aria-label", words.Text("arrange.condition")), On("op", "filter-"+n)),
				Each(operators[:], func(_ int, o [2]string) HTML { return Choice(o[0], o[1], o[0] == f.op) })), Text(" "),
			El("input", Attrs(ID("arrange-value-"+n), A("aria-label", words.Text("arrange.value")), A("value", f.text), A("autocomplete", "off"), Flag("hidden", s.ticks(&f) || f.blank()),
				On("value", "filter-"+n), OnKey("take", "Enter"))),
			El("span", Attrs(Class("few"), ID("arrange-few-"+n), Flag("hidden", !s.ticks(&f))), s.boxes(i)), Text(" "), s.drop("filter-"+n))
	})
}

// boxes are the few texts of a condition's column, to be ticked.
func (s *Arrange) boxes(i int) HTML {
	f := &s.filters[i]
	return Each(s.few(f), func(k int, text string) HTML {
		arg := "filter-" + strconv.Itoa(i) + "-" + strconv.Itoa(k)
		box := Attrs(ID("arrange-"+arg), A("type", "checkbox"), A("value", text), Flag("checked", slices.Contains(f.ticked, text)), On("few", arg), OnKey("take", "Enter"))
		return El("label", Attr{}, El("input", box), Text(" "+text))
	})
}

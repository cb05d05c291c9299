package screens

import (
	"strconv"

	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// OverviewHost is what the overview asks of the desk.
type OverviewHost interface {
	Evaluator() *sentences.Teller
	FilteredRows() []int // of the Machines sheet, nil: nothing is filtered
	ShownAs() string     // what is shown of the list, in words: "12 of 40 rows shown"; "" all of it
	JobRevision() int
	ScreenWidth() int // in pixels
}

// Overview is the list as a picture: every coupling's share of its limits, worst first, and how large the corrections are.
type Overview struct{ host OverviewHost }

// NewOverview is the screen of the overview.
func NewOverview(host OverviewHost) *Overview { return &Overview{host} }

// Show is the pictures as wide as the screen.
func (s *Overview) Show() Update { return Update{Regions: []Region{{"screen-list", s.page()}}} }

// JobChanged draws them anew a moment later.
func (s *Overview) JobChanged() Update { return Update{Soon: "draw", SoonIn: 60} }

// Event answers a coupling that is gone to, and paper.
func (s *Overview) Event(e Event) Update {
	switch e.Name {
	case "draw":
		return s.Show()
	case "row":
		if row, err := strconv.Atoi(e.Arg); err == nil {
			return Update{Place: &Place{0, row, -1}}
		}
	case "print":
		return Update{Print: true}
	case "paper":
		return Update{Regions: []Region{{"paper", s.paper()}}}
	}
	return Update{}
}

// drawn is one of the pictures in a width, which names its parts too.
func (s *Overview) drawn(what string, width int, f func([]byte, *sentences.Teller, []int, report.Options) []byte) HTML {
	return Drawing(f(nil, s.host.Evaluator(), s.host.FilteredRows(), report.Options{Width: float64(width), Prefix: what + strconv.Itoa(width)}))
}

func (s *Overview) page() HTML {
	width := max(s.host.ScreenWidth()-36, 280)
	does := func(what, text string) HTML {
		return El("button", Attrs(A("type", "button"), A("data-do", what)), Text(text))
	}
	bar := []HTML{does("sort", words.Text("overview.sort"))}
	if view := s.host.ShownAs(); view != "" {
		bar = append(bar, El("span", Class("viewed"), Text(view)), does("showAll", words.Text("overview.showAll")))
	}
	return Join(El("div", Attrs(Class("bar"), Role("toolbar"), A("aria-label", words.Text("overview.title"))), append(bar, Button(On("print", ""), words.Text("overview.print")))...),
		El("div", Attrs(Class("drawing overview"), Role("region"), A("aria-label", words.Text("overview.says")), A("data-rows", "row")), s.drawn("overview", width, report.Overview)),
		El("div", Class("drawing"), s.drawn("histogram", min(width, 900), report.Histogram)))
}

// paper is the pictures on paper.
func (s *Overview) paper() HTML {
	name, state := s.host.Evaluator().Setting("name"), words.Text("overview.notSaved")
	if name == "" {
		name = words.Text("listPaper.noName")
	}
	if n := s.host.JobRevision(); n > 0 {
		state = words.Text("overview.revision", strconv.Itoa(n))
	}
	return El("section", Class("one picture"), El("h1", Attr{}, Text(name)),
		El("div", Class("meta"), El("b", Attr{}, Text(words.Text("overview.title"))), El("span", Attr{}, Text(state)), El("span", Attr{}, Text(s.host.ShownAs()))),
		El("div", Class("drawing"), s.drawn("overview", 1000, report.Overview)), El("div", Class("drawing"), s.drawn("histogram", 700, report.Histogram)))
}

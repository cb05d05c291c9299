package screens

import (
	"strconv"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/merge"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// HistoryHost is what the history asks of the page.
type HistoryHost interface {
	Evaluator() *sentences.Teller
	ReadJob(name, text string) (merge.File, error) // a saved page, a job file, or what a workbook holds
	SetHistory([]evaluate.Older)                   // sets older jobs beside the one at hand
}

// History sets older job files beside the job at hand and shows of every machine whether it moved since.
type History struct {
	host  HistoryHost
	older []evaluate.Older
	said  string
}

// NewHistory is the screen without older jobs.
func NewHistory(host HistoryHost) *History { return &History{host: host} }

// Show is what the older jobs say.
func (s *History) Show() Update { return Update{Regions: []Region{{"screen-history", s.page()}}} }

// JobChanged shows it anew.
func (s *History) JobChanged() Update { return s.Show() }

// Event answers the choice of files and the buttons.
func (s *History) Event(e Event) Update {
	s.said = ""
	switch e.Name {
	case "file":
		if e.Kind == "refused" {
			s.said = e.Key + ": " + e.Value
			break
		}
		f, err := s.host.ReadJob(e.Key, e.Value)
		if err != nil {
			s.said = e.Key + ": " + err.Error()
			break
		}
		for k := range s.older {
			if s.older[k].Name == f.Name {
				s.older = append(s.older[:k], s.older[k+1:]...)
				break
			}
		}
		s.older = append(s.older, evaluate.Older{Name: f.Name, Job: f.Job})
		s.host.SetHistory(s.older)
	case "forget":
		s.older = nil
		s.host.SetHistory(nil)
	case "csv":
		if l, err := results.NewList(s.host.Evaluator(), "history", nil); err == nil {
			_, csv := Table(l.Header, l.Rows, s.host.Evaluator().Decimal() == units.Comma)
			return csvFile(words.Text("history.file"), csv)
		}
	}
	u := s.Show()
	u.Say = s.said
	return u
}

func (s *History) page() HTML {
	pick := El("label", Attr{}, Text(words.Text("history.pick")+" "), El("input", Attrs(A("type", "file"), ID("history-file"), A("multiple", ""), A("accept", ".html,.htm,.json,.xlsx,.xlsm"), A("data-read", "text"), On("file", ""))))
	out := Join(El("h2", Attr{}, Text(words.Text("history.title"))), P("about", words.Text("history.about")), El("p", Attr{}, pick))
	if s.said != "" {
		out = Join(out, El("p", Attrs(Class("hint"), Role("alert")), Text(s.said)))
	}
	if len(s.older) == 0 {
		return out
	}
	out = Join(out, El("ul", Attr{}, Each(s.older, func(_ int, o evaluate.Older) HTML { return El("li", Attr{}, Text(o.Name)) })),
		El("p", Class("bar"), Button(On("csv", ""), words.Text("history.csv")), Text(" "), Button(On("forget", ""), words.Text("history.forget"))))
	l, err := results.NewList(s.host.Evaluator(), "history", nil)
	if err != nil {
		return Join(out, P("hint", err.Error()))
	}
	if len(l.Rows) == 0 {
		return Join(out, P("notice", words.Text("history.none")))
	}
	head := Each(l.Header, func(_ int, h string) HTML { return El("th", A("scope", "col"), Text(h)) })
	rows := Each(l.Rows, func(_ int, r []string) HTML {
		return El("tr", Attr{}, Each(r, func(k int, c string) HTML {
			if k == 0 {
				return El("th", A("scope", "row"), Text(c))
			}
			class := ""
			if k >= l.Words && k < l.Number {
				class = "num"
			}
			return El("td", Class(class), Text(c))
		}))
	})
	return Join(out, El("div", Attrs(Class("wide"), A("tabindex", "0"), Role("region"), A("aria-label", words.Text("history.table", strconv.Itoa(len(l.Rows))))), El("table", Class("plain"), El("thead", Attr{}, El("tr", Attr{}, head)), El("tbody", Attr{}, rows))),
		Each(l.Notes, func(_ int, n string) HTML { return P("", n) }))
}

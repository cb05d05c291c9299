package screens

import (
	"fmt"
	"strconv"
	"strings"

	"shimsheet/internal/merge"
	"shimsheet/internal/words"
)

// MergeHost is what merging asks of the page.
type MergeHost interface {
	Mine() merge.File                              // the job at hand
	ReadJob(name, text string) (merge.File, error) // a saved page or a job file
	TakeMerged(p *merge.Plan, name string) error   // puts the merged job in the place of the one at hand, as one step that can be undone
}

// Merge puts what crews bring back together with the job at hand: it shows what is new and what changed, and asks what two changed differently.
type Merge struct {
	host  MergeHost
	files []merge.File // brought, beside the job at hand
	plan  *merge.Plan
	said  string
	bad   bool
}

// NewMerge is the screen without files.
func NewMerge(host MergeHost) *Merge { return &Merge{host: host} }

// Show is the files taken so far and what they come to.
func (s *Merge) Show() Update { return s.again() }

// JobChanged plans anew: the job at hand is one of the files.
func (s *Merge) JobChanged() Update {
	s.think(s.plan)
	return s.again()
}

func (s *Merge) again() Update {
	return Update{Regions: []Region{{"screen-merge", s.page()}}, Say: s.said}
}

// think plans anew and keeps the answers of questions that are still asked.
func (s *Merge) think(was *merge.Plan) {
	s.plan = nil
	if len(s.files) == 0 {
		return
	}
	p, err := merge.New(append([]merge.File{s.host.Mine()}, s.files...))
	if err != nil {
		s.said, s.bad = err.Error(), true
		return
	}
	if s.plan = p; was == nil {
		return
	}
	for k := range p.Questions {
		for _, q := range was.Questions {
			if x := &p.Questions[k]; q.Answer >= 0 && q.Sheet == x.Sheet && q.Machine == x.Machine && q.Row == x.Row && fmt.Sprint(q.Choices) == fmt.Sprint(x.Choices) {
				x.Answer = q.Answer
			}
		}
	}
}

// Event answers the choice of files, the answers and the buttons.
func (s *Merge) Event(e Event) Update {
	s.said, s.bad = "", false
	switch e.Name {
	case "file":
		if e.Kind == "refused" {
			s.said, s.bad = e.Key+": "+e.Value, true
			return s.again()
		}
		f, err := s.host.ReadJob(e.Key, e.Value)
		if err != nil {
			s.said, s.bad = e.Key+": "+err.Error(), true
			return s.again()
		}
		for k := range s.files {
			if s.files[k].Name == f.Name {
				s.files = append(s.files[:k], s.files[k+1:]...)
				break
			}
		}
		s.files = append(s.files, f)
		s.think(s.plan)
	case "forget":
		s.files, s.plan = nil, nil
	case "answer":
		n, a, _ := strings.Cut(e.Arg, " ")
		k, err := strconv.Atoi(n)
		c, err2 := strconv.Atoi(a)
		if s.plan != nil && err == nil && err2 == nil && k >= 0 && k < len(s.plan.Questions) && c >= 0 && c < len(s.plan.Questions[k].Choices) {
			s.plan.Questions[k].Answer = c
		}
	case "merge":
		if s.plan == nil {
			return s.again()
		}
		var names []string
		for _, f := range s.files {
			names = append(names, f.Name)
		}
		if err := s.host.TakeMerged(s.plan, strings.Join(names, ", ")); err != nil {
			s.said, s.bad = err.Error(), true
			return s.again()
		}
		s.said = words.Text("merge.done", words.Count("merge.files", len(s.files)+1))
		s.files, s.plan = nil, nil
		u := s.again()
		u.Changed = true
		return u
	}
	return s.again()
}

// mergeShown is how many lines of what was found the screen shows; all of it is merged.
const mergeShown = 200

func (s *Merge) page() HTML {
	pick := El("label", Attr{}, Text(words.Text("merge.pick")+" "), El("input", Attrs(A("type", "file"), ID("merge-file"), A("multiple", ""), A("accept", ".html,.htm,.json,.xlsx,.xlsm"), A("data-read", "text"), On("file", ""))))
	files := Each(s.files, func(_ int, f merge.File) HTML {
		at := f.Job.SavedAt
		if at == "" {
			at = words.Text("merge.neverSaved")
		}
		return El("li", Attr{}, Text(f.Name+", "+at), If(!f.Sealed, Text(", "+words.Text("merge.unsealed"))))
	})
	out := Join(El("h2", Attr{}, Text(words.Text("merge.title"))), P("about", words.Text("merge.about")), El("p", Attr{}, pick), If(len(s.files) > 0, El("ul", Attr{}, files)))
	if s.said != "" && s.bad {
		out = Join(out, El("p", Attrs(Class("hint"), Role("alert")), Text(s.said)))
	} else if s.said != "" {
		out = Join(out, P("notice", s.said))
	}
	if s.plan == nil {
		return out
	}
	p := s.plan
	notes := Each(p.Notes, func(_ int, n string) HTML { return P("notice", n) })
	base := words.Text("merge.noBase")
	if p.Base != "" {
		base = words.Text("merge.base", p.Base)
	}
	questions := Each(p.Questions, func(k int, q merge.Question) HTML {
		choices := Each(q.Choices, func(c int, x merge.Choice) HTML {
			id := fmt.Sprintf("merge-%d-%d", k, c)
			return El("label", A("for", id), El("input", Attrs(A("type", "radio"), ID(id), A("name", "merge-"+strconv.Itoa(k)), Flag("checked", q.Answer == c), On("answer", fmt.Sprintf("%d %d", k, c)))),
				Text(" "), El("b", Attr{}, Text(strings.Join(x.Files, ", "))), Text(": "+x.Text))
		})
		what := strings.Trim(q.Sheet.String()+", "+q.Machine+", "+q.Row, ", ")
		return El("fieldset", Class("asked"), El("legend", Attr{}, Text(what)), choices)
	})
	open := p.Open()
	tell := words.Text("merge.nothingOpen")
	if open > 0 {
		tell = words.Count("merge.open", open)
	}
	items := Each(p.Items[:min(len(p.Items), mergeShown)], func(_ int, i merge.Item) HTML {
		return El("tr", Attr{}, El("td", Attr{}, Text(i.Sheet.String())), El("td", Attr{}, Text(i.Machine)), El("td", Attr{}, Text(i.Row)), El("td", Attr{}, Text(i.What.String())), El("td", Attr{}, Text(i.File)))
	})
	head := Each([]string{words.Text("merge.sheet"), words.Text("merge.machine"), words.Text("merge.row"), words.Text("merge.what"), words.Text("merge.from")},
		func(_ int, h string) HTML { return El("th", A("scope", "col"), Text(h)) })
	found := P("quiet", words.Text("merge.same"))
	if len(p.Items) > 0 {
		found = El("table", Class("plain"), El("thead", Attr{}, El("tr", Attr{}, head)), El("tbody", Attr{}, items))
	}
	return Join(out, notes, P("quiet", base), If(len(p.Questions) > 0, El("h3", Attr{}, Text(words.Text("merge.asked")))), questions,
		El("p", Attrs(Class("bar"), A("aria-live", "polite")), El("button", Attrs(A("type", "button"), Class("main"), ID("merge-do"), Flag("disabled", open > 0), On("merge", "")), Text(words.Text("merge.button"))), Text(" "),
			Button(On("forget", ""), words.Text("merge.forget")), Text(" "+tell)),
		El("h3", Attr{}, Text(words.Text("merge.found"))), found, If(len(p.Items) > mergeShown, P("quiet", words.Text("merge.more", strconv.Itoa(len(p.Items)-mergeShown)))))
}

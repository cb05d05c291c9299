package screens

import (
	"context"
	"errors"
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/merge"
	"shimsheet/internal/pictures"
	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tally"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// BoardHost is what the board asks of the job.
type BoardHost interface {
	Evaluator() *sentences.Teller
	Now() string                                   // the time, as people read it
	ReadJob(name, text string) (merge.File, error) // a saved page or a job file: an earlier shutdown
}

// Board shows every machine by how far the work is: for a wall, for the planner's desk and on paper; and the numbers of the shutdown, with earlier ones beside it.
type Board struct {
	host    BoardHost
	by      string // one of sentences.BoardBy
	wall    bool
	numbers bool         // they are shown in the place of the machines
	earlier []*tally.Job // brought for the numbers
	said    string       // why a file was not taken
}

// NewBoard is the board, parted by stage.
func NewBoard(host BoardHost) *Board { return &Board{host: host, by: "stage"} }

// Show is the board as it is now.
func (s *Board) Show() Update {
	class := "screen board"
	if s.wall {
		class += " wall"
	}
	return Update{Regions: []Region{{"screen-board", s.page(true)}}, Attributes: []Attribute{{ID: "screen-board", Name: "class", Value: class}}}
}

// JobChanged shows it anew.
func (s *Board) JobChanged() Update { return s.Show() }

// Event answers the choice of what it is parted by, the wall and paper.
func (s *Board) Event(e Event) Update {
	switch e.Name {
	case "by":
		s.by = e.Value
		return s.Show()
	case "wall":
		s.wall = !s.wall
		return s.Show()
	case "numbers":
		s.numbers = !s.numbers
		return s.Show()
	case "earlier":
		s.said = ""
		if err := s.bring(e); err != nil {
			s.said = e.Key + ": " + err.Error()
		}
		return s.Show()
	case "forget":
		s.earlier = nil
		return s.Show()
	case "csv":
		ev := s.host.Evaluator()
		sep := byte(',')
		if ev.Decimal() == units.Comma {
			sep = ';'
		}
		return csvFile("numbers.csv", string(tally.AppendCSV(nil, tally.Tables(ev, s.jobs(ev)), sep)))
	case "print":
		return Update{Print: true}
	case "paper":
		return Update{Regions: []Region{{"paper", El("section", Class("board"), s.page(false))}}}
	}
	return Update{}
}

// bring takes an earlier shutdown.
func (s *Board) bring(e Event) error {
	if e.Kind == "refused" {
		return errors.New(e.Value)
	}
	f, err := s.host.ReadJob(e.Key, e.Value)
	if err != nil {
		return err
	}
	ev := sentences.New(f.Job)
	if err := ev.Run(context.Background(), nil); err != nil {
		return err
	}
	s.earlier = append(s.earlier, tally.Of(ev, f.Name))
	return nil
}

// jobs are the numbers of the job at hand and of those beside it.
func (s *Board) jobs(e *sentences.Teller) []*tally.Job {
	return append([]*tally.Job{tally.Of(e, words.Text("board.thisJob"))}, s.earlier...)
}

// numbersOf are the numbers in tables and plots.
func (s *Board) numbersOf(e *sentences.Teller, asked bool) HTML {
	jobs := s.jobs(e)
	controls, prefix := HTML{}, "numberspaper"
	if asked {
		prefix = "numbers"
		controls = El("p", Class("bar"), El("label", Attr{}, Text(words.Text("board.earlier")+" "), El("input", Attrs(A("type", "file"), ID("board-earlier"), A("multiple", ""),
			A("accept", ".html,.htm,.json,.xlsx,.xlsm"), A("data-read", "text"), On("earlier", "")))), Text(" "),
			If(len(s.earlier) > 0, Join(Button(On("forget", ""), words.Text("board.forget")), Text(" "))), Button(Attrs(ID("board-csv"), On("csv", "")), words.Text("calculators.csv")))
	}
	return Join(controls, If(s.said != "", El("p", Attrs(Class("hint"), Role("alert")), Text(s.said))),
		wide(words.Text("board.numbersTitle"), Drawing(report.Numbers(nil, e, jobs, report.Options{Prefix: prefix}))),
		Each(tally.Tables(e, jobs), func(_ int, t tally.Table) HTML {
			return Join(wide(t.Title, small(t.Title, t.Header, t.Rows)), P("quiet", t.About))
		}))
}

// wide is what may be wider than the screen and is then moved sideways, also by keys.
func wide(label string, h HTML) HTML {
	return El("div", Attrs(Class("numbers"), A("tabindex", "0"), Role("region"), A("aria-label", label)), h)
}

// page is the board; asked says whether its controls are there, as on the screen.
func (s *Board) page(asked bool) HTML {
	e := s.host.Evaluator()
	list := e.Board()
	if len(list) == 0 {
		return Join(El("h2", Attr{}, Text(words.Text("board.title"))), P("quiet", words.Text("board.none")))
	}
	var count = map[evaluate.Stage]int{}
	for _, b := range list {
		count[b.Stage]++
	}
	strip := Each(evaluate.Stages(), func(_ int, g evaluate.Stage) HTML {
		class := "stage stage-" + stageMark(g)
		if count[g] == 0 {
			class += " nobody"
		}
		return El("li", Class(class), El("b", Attr{}, Text(strconv.Itoa(count[g]))), Text(" "+g.Word().String()))
	})
	controls := HTML{}
	if asked {
		controls = El("p", Class("bar"),
			El("label", Attr{}, Text(words.Text("board.by")+" "), El("select", Attrs(ID("board-by"), On("by", "")),
				Each(sentences.BoardBy, func(_ int, by string) HTML { return Choice(by, by, by == s.by) }))), Text(" "),
			El("button", Attrs(A("type", "button"), ID("board-wall"), A("aria-pressed", strconv.FormatBool(s.wall)), On("wall", "")), Text(words.Text("board.wall"))), Text(" "),
			El("button", Attrs(A("type", "button"), ID("board-numbers"), A("aria-pressed", strconv.FormatBool(s.numbers)), On("numbers", "")), Text(words.Text("board.numbers"))), Text(" "),
			Button(Attrs(ID("board-print"), On("print", "")), words.Text("board.print")))
	}
	if s.numbers {
		return Join(letterhead(e, words.Text("board.numbersTitle"), s.host.Now()), controls, s.numbersOf(e, asked))
	}
	groups := Each(sentences.GroupBoard(list, s.by), func(_ int, g sentences.BoardGroup) HTML {
		name := g.Name
		if name == "" {
			name = words.Text("board.notSaid", s.by)
		}
		title := El("h3", Attr{}, Text(name), Text(" "), El("small", Attr{}, Text(g.Words())))
		if s.by == "stage" {
			title = El("h3", Attr{}, Text(name), Text(" "), El("small", Attr{}, Text(strconv.Itoa(len(g.Rows)))))
		}
		return El("section", Class("board-group"), title, s.table(g.Rows))
	})
	return Join(letterhead(e, words.Text("board.title"), s.host.Now()), controls, El("ol", Attrs(Class("stages"), A("aria-label", words.Text("board.stages"))), strip), groups)
}

// stageMark tells the stages apart that ask for somebody, for their edge on the board.
func stageMark(g evaluate.Stage) string {
	switch g {
	case evaluate.StageNotJudged, evaluate.StageChanged, evaluate.StagePiping, evaluate.StageSoftFoot:
		return "asks"
	case evaluate.StageSigned, evaluate.StageInside, evaluate.StageCoupled, evaluate.StageGuard, evaluate.StageHot:
		return "in"
	}
	return "on"
}

// table is the machines of a group. Columns in which nobody has anything are left out.
func (s *Board) table(rows []sentences.BoardRow) HTML {
	type column struct {
		name string
		cell func(*sentences.BoardRow) string
	}
	all := []column{{words.Text("board.machine"), func(b *sentences.BoardRow) string { return b.Machine }}, {words.Text("board.stage"), func(b *sentences.BoardRow) string { return b.Stage.Word().String() }},
		{words.Text("board.area"), func(b *sentences.BoardRow) string { return b.Area }}, {words.Text("board.crew"), func(b *sentences.BoardRow) string { return b.Crew }},
		{words.Text("board.date"), func(b *sentences.BoardRow) string { return b.Date }}, {words.Text("board.priority"), func(b *sentences.BoardRow) string { return b.By("priority") }},
		{words.Text("board.order"), func(b *sentences.BoardRow) string { return b.WorkOrder }}, {words.Text("board.waits"), func(b *sentences.BoardRow) string { return b.Waits() }}}
	var cols []column
	for _, c := range all {
		for k := range rows {
			if c.cell(&rows[k]) != "" {
				cols = append(cols, c)
				break
			}
		}
	}
	head := Each(cols, func(_ int, c column) HTML { return El("th", A("scope", "col"), Text(c.name)) })
	body := Each(rows, func(_ int, b sentences.BoardRow) HTML {
		return El("tr", Class("edge-"+stageMark(b.Stage)), Each(cols, func(n int, c column) HTML {
			if n == 0 {
				return El("th", A("scope", "row"), Text(c.cell(&b)))
			}
			return El("td", Attr{}, Text(c.cell(&b)))
		}))
	})
	return El("table", Class("plain"), El("thead", Attr{}, El("tr", Attr{}, head)), El("tbody", Attr{}, body))
}

// letterhead is the top of a paper: the logo and the heading of whoever's paper it is, what it is, of which job and when.
func letterhead(e *sentences.Teller, title, now string) HTML {
	logo := HTML{}
	if text := strings.TrimSpace(e.Setting("logo")); text != "" {
		if _, err := pictures.Look(text); err == nil {
			logo = El("img", Attrs(Class("logo"), A("src", text), A("alt", words.Text("record.logo"))))
		}
	}
	name := strings.TrimSpace(e.Setting("name"))
	if site := strings.TrimSpace(e.Setting("site")); site != "" {
		name = strings.TrimPrefix(name+", "+site, ", ")
	}
	heading := strings.TrimSpace(e.Setting("heading"))
	return El("div", Class("letterhead"), logo, If(heading != "", P("heading", heading)), El("h2", Attr{}, Text(title)), P("quiet", strings.TrimPrefix(name+", "+now, ", ")))
}

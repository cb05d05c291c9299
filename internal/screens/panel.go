package screens

import (
	"strconv"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// PanelHost is what the panel asks of the desk.
type PanelHost interface {
	Evaluator() *sentences.Teller
	ChosenRow() int       // of the Machines sheet
	Numbers() [][2]string // the results of that row: name with unit, text
	PanelSheet() PanelSheet
	MakeRows(which string) // "all" or "chosen"
}

// A PanelSheet is what the panel needs to know of the sheet shown.
type PanelSheet struct {
	Kind     job.SheetKind
	Rows     int       // in sight
	Blank    bool      // it has no columns
	Nobody   string    // the machine that the row names, where the list has none of that name
	Problems []Problem // on Feet and Growth: of the rows of the machine
	Chosen   []string  // on Feet and Growth: machines chosen on the sheet Machines that have no rows here
	Lacking  int       // the same: how many machines of the list have none
}

// A Place is a cell of a sheet: the sheet in the order of the tabs, row and column as stored; −1: none.
type Place struct{ Sheet, Row, Col int }

// A Problem is something that is wrong or worth a look, and where.
type Problem struct {
	Place
	Severity          job.Severity
	Where, Text, Hint string
}

// words is what is wrong and what helps.
func (p *Problem) words() string {
	if p.Hint == "" {
		return p.Text
	}
	return p.Text + "; " + p.Hint
}

func (p *Problem) jump() Attr {
	return On("jump", strconv.Itoa(p.Sheet)+" "+strconv.Itoa(p.Row)+" "+strconv.Itoa(p.Col))
}

// Panel is the panel at the side: of the chosen row's machine the verdict, why, what to do in order, what that leaves, numbers, hints and cautions; on the sheets Feet
// and Growth what these rows come to. Its drawings are as wide as it is.
type Panel struct {
	host      PanelHost
	width     int             // of drawings, 0: the panel is not seen
	saidWidth int             // of those on One by one
	open      map[string]bool // which folded drawings are
}

// NewPanel is the panel with its drawings folded.
func NewPanel(host PanelHost) *Panel { return &Panel{host: host, open: map[string]bool{}} }

// Show is the panel as it was last wide.
func (s *Panel) Show() Update {
	html, _ := s.Row(s.width)
	return Update{Regions: []Region{{"panel-row", html}}}
}

// JobChanged shows it anew.
func (s *Panel) JobChanged() Update { return s.Show() }

// Event answers a drawing unfolded, rows to be made, a problem to go to.
func (s *Panel) Event(e Event) Update {
	switch e.Name {
	case "fold":
		where, what, _ := strings.Cut(e.Arg, "-")
		open, width := e.Value == "true", s.width
		if where == "crew" {
			width = s.saidWidth
		}
		if was := s.open[what]; was == open {
			return Update{}
		}
		if s.open[what] = open; !open {
			return Update{}
		}
		return Update{Regions: []Region{{"fold-" + e.Arg, s.folded(what, width)}}}
	case "make":
		s.host.MakeRows(e.Arg)
		return Update{Changed: true, Sheet: true}
	case "jump":
		var at [3]int
		for k, w := range strings.Fields(e.Arg) {
			n, err := strconv.Atoi(w)
			if err != nil || k >= len(at) {
				return Update{}
			}
			at[k] = n
		}
		return Update{Place: &Place{at[0], at[1], at[2]}}
	}
	return Update{}
}

// Row is the panel of the chosen row, with drawings of a width in pixels, 0 for none; about names what it speaks of: the place in a panel is kept while that is the same.
func (s *Panel) Row(width int) (html HTML, about string) {
	s.width = width
	p := s.host.PanelSheet()
	ev := s.host.Evaluator()
	r := ev.Row(s.host.ChosenRow())
	machine := r != nil && r.Kind == evaluate.MachineRow
	switch {
	case p.Nobody != "":
		return P("", words.Text("panel.nobody", p.Nobody)), "own"
	case p.Kind == job.FeetSheet || p.Kind == job.GrowthSheet:
		if !machine {
			return P("quiet", words.Text("panel.nameOne")), "own"
		}
		return s.own(&p, r), "own " + r.Name
	case !machine && p.Kind == job.MachinesSheet && !p.Blank:
		return P("quiet", words.Text("panel.chooseOne")), ""
	case !machine:
		return P("quiet", words.Text("panel.nothing")), ""
	}
	return s.machine(r), r.Name
}

func (s *Panel) pictured(width int) pictured {
	return pictured{s.host.Evaluator(), s.host.ChosenRow(), width}
}

// machine is the panel of a machine.
func (s *Panel) machine(r *evaluate.RowResult) HTML {
	t := told(s.host.Evaluator().Sentences(s.host.ChosenRow()))
	pic := s.pictured(s.width)
	out := []HTML{El("h2", Attr{}, Text(r.Name)), P("verdict v"+verdictMark(r.Verdict), t.verdict())}
	if todo := t.steps(); !todo.Empty() {
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.todo"))), pic.todo(), todo)
	}
	out = append(out, paragraphs("packs", t.of(sentences.SentencePacks)))
	if s.width > 0 {
		box := El("div", Attrs(Class("drawing"), ID("drawing")), pic.draw("machine", report.Machine))
		out = append(out, El("div", Attr{}, box, s.folds("panel", s.width, r, true), s.fold("panel", s.width, "sweeps", words.Text("panel.curve"))))
	}
	out = append(out, section(words.Text("panel.line"), "", t.of(sentences.SentenceLine)), section(words.Text("panel.after"), "", t.of(sentences.SentenceAfter)))
	if hints := t.of(sentences.SentenceHint); len(hints) > 0 {
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.problems"))))
		for _, h := range t {
			if h.Kind == sentences.SentenceHint {
				class := "notice" // how something was understood
				if h.Wrong {
					class = "hint"
				}
				out = append(out, P(class, h.Text))
			}
		}
	}
	if numbers := s.host.Numbers(); len(numbers) > 0 {
		rows := Each(numbers, func(_ int, n [2]string) HTML {
			return El("tr", Attr{}, El("th", A("scope", "row"), Text(n[0])), El("td", Attr{}, Text(n[1])))
		})
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.numbers"))), El("table", A("aria-label", words.Text("panel.numbersOf")), El("tbody", Attr{}, rows)), P("quiet", words.Text("panel.expanded")))
	}
	return Join(append(out, section(words.Text("panel.cautions"), "caution", t.of(sentences.SentenceCaution)))...)
}

// folds are the further drawings of a machine that has them, in the panel or on One by one.
func (s *Panel) folds(where string, width int, r *evaluate.RowResult, rounds bool) HTML {
	var out []HTML
	for _, f := range [...]struct {
		has         bool
		what, title string
	}{{rounds && len(r.Rounds) > 1, "rounds", words.Text("panel.rounds")}, {r.Feet != nil, "feet", words.Text("panel.feet")}, {r.Growth != nil, "growth", words.Text("panel.growth")}} {
		if f.has {
			out = append(out, s.fold(where, width, f.what, f.title))
		}
	}
	return Join(out...)
}

// fold is a drawing that is made when it is unfolded.
func (s *Panel) fold(where string, width int, what, title string) HTML {
	open := s.open[what]
	content := HTML{}
	if open {
		content = s.folded(what, width)
	}
	key := where + "-" + what
	return El("details", Attrs(Class("plots"), A("data-what", what), On("fold", key), Flag("open", open)), El("summary", Attr{}, Text(title)), El("div", ID("fold-"+key), content))
}

func (s *Panel) folded(what string, width int) HTML {
	pic := s.pictured(width)
	r := pic.ev.Row(pic.row)
	if r == nil || r.Kind != evaluate.MachineRow {
		return HTML{}
	}
	switch what {
	case "sweeps":
		return pic.in(what, report.Sweeps)
	case "rounds":
		return pic.in(what, report.Rounds)
	case "feet":
		return pic.in(what, report.FeetPlan)
	case "growth":
		return Join(pic.in(what, report.GrowthFigure), wantedReadings(pic.ev, r))
	}
	return HTML{}
}

// A RoundLine is a round as One by one lists it. Row is its row of the Rounds sheet, below 0: the readings found, which stand in the machine's own row.
type RoundLine struct {
	Name, Who, Verdict, Struck string
	Row                        int
}

// Said is what One by one says of a row's machine beside its readings: verdict, what to do, drawings as wide as width, the rounds.
func (s *Panel) Said(row, width int, rounds []RoundLine) HTML {
	s.saidWidth = width
	ev := s.host.Evaluator()
	r := ev.Row(row)
	t := told(ev.Sentences(row))
	pic := pictured{ev, row, width}
	out := []HTML{P("crew-again verdict v"+verdictMark(r.Verdict), t.verdict())} // where the one at the top is out of sight
	out = append(out, Each(ev.HotWords(row), func(i int, h string) HTML {
		if i == 0 {
			return El("p", Attrs(Class("notice"), ID("crew-hot")), Text(h))
		}
		return P("", h)
	}))
	if todo := pic.does(t); !todo.Empty() {
		out = append(out, todo, paragraphs("packs", t.of(sentences.SentencePacks)))
	}
	out = append(out, pic.in("machine", report.Machine), s.folds("crew", width, r, false))
	if len(rounds) > 0 {
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.rounds"))), El("ul", Class("crew-rounds"), Each(rounds, func(_ int, x RoundLine) HTML {
			how, strike := x.Verdict, HTML{}
			if x.Struck != "" {
				how = words.Text("panel.struck", x.Struck)
			} else {
				strike = Button(On("strike", strconv.Itoa(x.Row)+" "+x.Name), words.Text("panel.strike"))
			}
			if x.Who != "" {
				how = x.Who + ", " + how
			}
			return El("li", Attr{}, El("b", Attr{}, Text(x.Name)), Text(" "+how+" "), strike)
		})))
	}
	if len(r.Rounds) > 1 {
		out = append(out, pic.in("rounds", report.Rounds))
	}
	return Join(append(out, section(words.Text("panel.after"), "", t.of(sentences.SentenceAfter)), section(words.Text("panel.line"), "", t.of(sentences.SentenceLine)),
		section(words.Text("panel.problems"), "", t.of(sentences.SentenceHint)), section(words.Text("panel.cautions"), "", t.of(sentences.SentenceCaution)))...)
}

// own is the panel on the sheets Feet and Growth.
func (s *Panel) own(p *PanelSheet, r *evaluate.RowResult) HTML {
	ev, row := s.host.Evaluator(), s.host.ChosenRow()
	t := told(ev.Sentences(row))
	pic := s.pictured(max(s.width, 280))
	does := func() HTML {
		if todo := pic.does(t); !todo.Empty() {
			return Join(todo, paragraphs("packs", t.of(sentences.SentencePacks)))
		}
		return HTML{}
	}
	out := []HTML{El("h2", Attr{}, Text(r.Name))}
	verdict := P("verdict v"+verdictMark(r.Verdict), t.verdict())
	if p.Kind == job.FeetSheet {
		head, why := ev.SoftReasons(row)
		if head == "" {
			out = append(out, P("said", words.Text("panel.noFeet")))
		} else {
			first := ""
			if len(why) > 0 {
				first = why[0]
			}
			out = append(out, El("p", Class("said"), El("b", Attr{}, Text(words.Text("panel.feetAre", head)+" ")), Text(first)), pic.in("feet", report.FeetPlan), does())
		}
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.coupling"))), verdict)
	} else {
		out = append(out, verdict)
		if r.Growth != nil {
			out = append(out, pic.in("growth", report.GrowthFigure))
		} else {
			out = append(out, P("said", words.Text("panel.noGrowth")))
		}
		out = append(out, wantedReadings(ev, r))
		if list := ev.SayGrowth(row); len(list) > 0 {
			out = append(out, El("h3", Attr{}, Text(words.Text("panel.fromCold"))), El("ul", Attr{}, Each(list, func(_ int, t string) HTML { return El("li", Attr{}, Text(t)) })))
		}
		out = append(out, does())
	}
	if len(p.Problems) > 0 {
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.rowProblems"))), Each(p.Problems, func(_ int, x Problem) HTML {
			class := "hint"
			if x.Severity == job.Note {
				class = "notice"
			}
			return El("p", Class(class), El("button", Attrs(A("type", "button"), Class("where"), x.jump()), Text(x.Where)), Text(" "+x.words()))
		}))
	}
	if p.Rows > 0 && p.Lacking > 0 {
		out = append(out, El("h3", Attr{}, Text(words.Text("panel.further"))), El("p", Attr{}, Makers(p)))
	}
	return Join(append(out, section(words.Text("panel.cautions"), "caution", t.of(sentences.SentenceCaution)))...)
}

// Makers are buttons that make rows on Feet or Growth for the machines chosen on the sheet Machines, and for all that have none.
func Makers(p *PanelSheet) HTML {
	say := words.Text("panel.fourSupports")
	if p.Kind == job.FeetSheet {
		say = words.Text("panel.fourFeet")
	}
	out := []HTML{El("span", Class("quiet"), Text(say+" "))}
	button := func(id, which, text string) HTML {
		return El("button", Attrs(A("type", "button"), Class("makes"), ID(id), On("make", which)), Text(text))
	}
	if n := len(p.Chosen); n > 0 {
		whom := strings.Join(p.Chosen[:min(n, 3)], "; ")
		if n > 3 {
			whom = words.Text("panel.andMore", whom, strconv.Itoa(n-3))
		}
		out = append(out, button("makerows-chosen", "chosen", words.Text("panel.makeFor", whom)), Text(" "))
	}
	return Join(append(out, button("makerows-all", "all", words.Text("panel.makeAll", words.Count("panel.machines", p.Lacking))))...)
}

// Problems is the list of problems: those worded of all there are.
func Problems(list []Problem, total int) HTML {
	if total == 0 {
		return P("quiet", words.Text("panel.noProblems"))
	}
	items := Each(list, func(_ int, p Problem) HTML {
		say := ""
		switch p.Severity {
		case job.Warning:
			say = words.Text("panel.look") + " "
		case job.Note:
			say = words.Text("panel.note") + " "
		}
		return El("li", Attr{}, El("button", Attrs(A("type", "button"), Class(p.Severity.String()), p.jump()),
			El("span", Class("where"), Text(p.Where)), El("span", Class("sev"), Text(say)), Text(p.words())))
	})
	return Join(El("ul", Attr{}, items), If(total > len(list), P("quiet", words.Text("panel.firstOf", words.Number(len(list)), words.Number(total)))))
}

// MachinePaper is one machine on paper: what to do, its drawing and the plot of its readings. printed and saved are times in words.
func MachinePaper(ev *sentences.Teller, row, revision int, printed, saved string) HTML {
	r := ev.Row(row)
	t := told(ev.Sentences(row))
	pic := pictured{ev, row, 900}
	list := func(title string, items []string) HTML {
		if len(items) == 0 {
			return HTML{}
		}
		return Join(El("h2", Attr{}, Text(title)), El("ul", Attr{}, Each(items, func(_ int, t string) HTML { return El("li", Attr{}, Text(t)) })))
	}
	name := ev.Setting("name")
	if name == "" {
		name = words.Text("listPaper.noName")
	}
	state := words.Text("panel.notSaved")
	if revision > 0 {
		state = words.Text("panel.revision", strconv.Itoa(revision), saved)
	}
	cautions := t.of(sentences.SentenceCaution)
	out := []HTML{El("h1", Attr{}, Text(r.Name)),
		El("div", Class("meta"), El("b", Attr{}, Text(name)), El("span", Attr{}, Text(state)), El("span", Attr{}, Text(words.Text("panel.printed", printed)))),
		P("said v"+verdictMark(r.Verdict), t.verdict()), P("first", strings.Join(cautions[:min(len(cautions), 2)], " "))}
	if todo := t.steps(); !todo.Empty() {
		out = append(out, El("h2", Attr{}, Text(words.Text("panel.todo"))), pictured{ev, row, 640}.todo(), todo)
	}
	out = append(out, paragraphs("packs", t.of(sentences.SentencePacks)), pic.in("machine", report.Machine), list(words.Text("panel.after"), t.of(sentences.SentenceAfter)),
		list(words.Text("panel.line"), t.of(sentences.SentenceLine)), list(words.Text("panel.problems"), t.of(sentences.SentenceHint)))
	if r.Feet != nil {
		out = append(out, pic.in("feet", report.FeetPlan))
	}
	if r.Growth != nil {
		out = append(out, pic.in("growth", report.GrowthFigure), wantedReadings(ev, r))
	}
	signs := Each([]string{words.Text("listPaper.aligned"), words.Text("listPaper.again"), words.Text("listPaper.accepted")}, func(_ int, s string) HTML { return El("div", Attr{}, Text(s)) })
	out = append(out, pic.in("sweeps", report.Sweeps), El("div", Class("tail"), list(words.Text("panel.cautions"), cautions), El("div", Class("sign"), signs)))
	return El("section", Class("one"), out...)
}

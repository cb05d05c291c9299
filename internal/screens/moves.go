package screens

import (
	"math"
	"strconv"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// MovesHost is what the screen of the trains asks of the job.
type MovesHost interface {
	Evaluator() *sentences.Teller
	ChosenRow() int                          // of the Machines sheet, −1 none
	ChoosePlan(train, plan string) (ok bool) // writes it under Plan on the sheet Trains; "" takes the choice back
}

// Moves shows one train of the job: what its plan comes to, the plans that can be chosen side by side, the picture with a table of the feet, and the order of the work.
type Moves struct {
	host  MovesHost
	train string // shown, "" that of the chosen row or the first
	plan  string // looked at, "" the one that is followed
	row   int    // of the Machines sheet that was chosen when the screen was shown
}

// NewMoves is the screen with the train of the chosen row.
func NewMoves(host MovesHost) *Moves { return &Moves{host: host, row: -1} }

// Show is the train of the chosen row, or the one that was looked at last.
func (s *Moves) Show() Update {
	if row := s.host.ChosenRow(); row != s.row {
		if s.row = row; s.host.Evaluator().TrainOf(row) >= 0 {
			s.train, s.plan = "", ""
		}
	}
	return Update{Regions: []Region{{"screen-moves", s.page()}}}
}

// JobChanged shows it anew.
func (s *Moves) JobChanged() Update { return Update{Regions: []Region{{"screen-moves", s.page()}}} }

// Event answers a train or a plan being looked at, a plan being chosen, and printing.
func (s *Moves) Event(e Event) Update {
	switch e.Name {
	case "train":
		key := e.choice()
		k, err := strconv.Atoi(key)
		if list := s.host.Evaluator().Trains(); err == nil && k >= 0 && k < len(list) {
			s.train, s.plan = list[k].Train, ""
			return Update{Regions: []Region{{"screen-moves", s.page()}}, Focus: "moves-train-" + key, Top: true}
		}
	case "look":
		if p := s.choice(e.Arg); p != nil {
			s.plan = p.Plan
			return Update{Regions: []Region{{"screen-moves", s.page()}}, Focus: "moves-look-" + e.Arg}
		}
	case "choose":
		if p := s.choice(e.Arg); p != nil && s.host.ChoosePlan(p.Train, p.Plan) {
			s.plan = ""
			return Update{Regions: []Region{{"screen-moves", s.page()}}, Focus: "moves-look-" + e.Arg, Changed: true, Say: words.Text("moves.chosen", p.Train, p.Plan)}
		}
		return Update{Say: words.Text("moves.notChosen")}
	case "back":
		list := s.host.Evaluator().Trains()
		if k := s.shown(); k >= 0 && s.host.ChoosePlan(list[k].Train, "") {
			s.plan = ""
			return Update{Regions: []Region{{"screen-moves", s.page()}}, Changed: true, Say: words.Text("moves.takenBack", list[k].Train)}
		}
		return Update{Say: words.Text("moves.notChosen")}
	case "sheet":
		return Update{Open: "tab-10"}
	case "print":
		return Update{Print: true}
	case "paper":
		return Update{Regions: []Region{{"paper", s.paper()}}}
	}
	return Update{}
}

// shown is the index of the train shown, −1 none.
func (s *Moves) shown() int {
	ev := s.host.Evaluator()
	list := ev.Trains()
	for k := range list {
		if s.train != "" && list[k].Train == s.train {
			return k
		}
	}
	if k := ev.TrainOf(s.host.ChosenRow()); k >= 0 {
		return k
	}
	return min(0, len(list)-1)
}

// choice is one of the plans of the train shown by its number; nil none.
func (s *Moves) choice(arg string) *evaluate.TrainPlan {
	list := s.host.Evaluator().TrainChoices(s.shown())
	if n, err := strconv.Atoi(arg); err == nil && n >= 0 && n < len(list) {
		return &list[n]
	}
	return nil
}

// looked is the plan shown and its number among the choices, −1 where it is none of them.
func (s *Moves) looked(k int) (*evaluate.TrainPlan, int) {
	ev := s.host.Evaluator()
	followed := &ev.Trains()[k]
	name := s.plan
	if name == "" {
		name = followed.Plan
	}
	list := ev.TrainChoices(k)
	for n := range list {
		if list[n].Plan == name {
			return &list[n], n
		}
	}
	return followed, -1
}

// page is the whole screen.
func (s *Moves) page() HTML {
	ev := s.host.Evaluator()
	list := ev.Trains()
	k := s.shown()
	if k < 0 {
		return El("div", Class("moves"), El("h2", Attr{}, Text(words.Text("moves.title"))), P("", words.Text("moves.none")), P("", words.Text("moves.how")))
	}
	var names [][2]string
	for n := range list {
		names = append(names, [2]string{strconv.Itoa(n), list[n].Train + ": " + string(list[n].Status)})
	}
	p, n := s.looked(k)
	main := Join(El("h2", Attr{}, Text(list[k].Train)), P("about", ev.TrainWords(&list[k])))
	if len(p.Machines) > 0 {
		main = Join(main, s.choices(k, n), s.picture(k, n, p, "moves"), s.after(p), s.order(p),
			El("p", Class("choices"), Button(On("print", ""), words.Text("moves.print")), Text(" "), Button(On("sheet", ""), words.Text("moves.sheet"))), P("quiet", words.Text("moves.frame")))
	} else {
		main = Join(main, P("", words.Text("moves.how")))
	}
	return El("div", Class("look-two moves"),
		El("div", Class("look-side"), chooser("train", "moves-train-", words.Text("moves.trains"), names, strconv.Itoa(k))),
		El("div", Class("look-main"), main))
}

func th(text string) HTML { return El("th", A("scope", "col"), Text(text)) }

// choices is the table of the plans that can be chosen.
func (s *Moves) choices(k, looked int) HTML {
	ev := s.host.Evaluator()
	list := ev.TrainChoices(k)
	followed := &ev.Trains()[k]
	row := func(n int, p evaluate.TrainPlan) HTML {
		name := p.Plan
		if p.Also != "" {
			name += " (" + p.Also + ")"
		}
		is := followed.Chosen && p.Plan == followed.Plan
		buttons := Button(Attrs(ID("moves-look-"+strconv.Itoa(n)), On("look", strconv.Itoa(n)), A("aria-pressed", strconv.FormatBool(n == looked))), words.Text("moves.look"))
		label := words.Text("moves.choosePlan", p.Plan)
		switch {
		case is:
			buttons = Join(buttons, Text(" "), Button(On("back", ""), words.Text("moves.back")))
		case p.Status == evaluate.TrainPossible:
			buttons = Join(buttons, Text(" "), Button(Attrs(On("choose", strconv.Itoa(n)), A("aria-label", label)), words.Text("moves.choose")))
		}
		mark := Attr{}
		if is {
			mark = Class("chosen")
			name += ", " + words.Text("moves.isChosen")
		}
		aim := El("td", A("data-label", words.Text("moves.aim")), Text(p.Aim))
		if p.Status != evaluate.TrainPossible {
			return El("tr", mark, El("th", A("scope", "row"), Text(name)), aim, El("td", A("colspan", "4"), Text(ev.TrainFares(&p))), El("td", Attr{}, buttons))
		}
		chance := ""
		if !math.IsNaN(p.Chance) {
			chance = ", " + ev.Percent(p.Chance)
		}
		cell := func(label, text string) HTML {
			return El("td", Attrs(Class("num"), A("data-label", label)), Text(text))
		}
		return El("tr", mark, El("th", A("scope", "row"), Text(name)), aim, cell(words.Text("moves.largest"), ev.Thickness(p.Largest)), cell(words.Text("moves.total"), ev.Thickness(p.Total)),
			cell(words.Text("moves.touch"), strconv.Itoa(p.Touch)), El("td", A("data-label", words.Text("moves.after")), Text(p.Verdict.String()+chance)), El("td", Attr{}, buttons))
	}
	return El("table", Attrs(ID("moves-plans"), Class("plans")), El("caption", Attr{}, Text(words.Text("moves.plans"))),
		El("thead", Attr{}, El("tr", Attr{}, th(words.Text("moves.plan")), th(words.Text("moves.aim")), th(words.Text("moves.largest")), th(words.Text("moves.total")), th(words.Text("moves.touch")),
			th(words.Text("moves.after")), th(words.Text("moves.pick")))),
		El("tbody", Attr{}, Each(list, row)))
}

// picture is the drawing with the table of the feet beside it. On a narrow page a narrow drawing takes its place.
func (s *Moves) picture(k, n int, p *evaluate.TrainPlan, prefix string) HTML {
	ev := s.host.Evaluator()
	draw := func(class string, w float64) HTML {
		return El("div", Class("drawing d-auto "+class), Drawing(report.Train(nil, ev, k, n, report.Options{Width: w, Prefix: prefix + "-" + class})))
	}
	return El("div", Class("moves-two"), draw("for-wide", 760), draw("for-narrow", 340), s.feet(p))
}

// feet is the table of the feet.
func (s *Moves) feet(p *evaluate.TrainPlan) HTML {
	ev := s.host.Evaluator()
	row := func(_ int, r report.TrainFootRow) HTML {
		mark, room := Attr{}, r.Room
		if r.Stops {
			mark, room = Class("stops"), room+"; "+words.Text("moves.stops")
		}
		cell := func(label, text string) HTML { return El("td", A("data-label", label), Text(text)) }
		return El("tr", mark, El("th", A("scope", "row"), Text(r.Number)), El("td", Attr{}, Text(r.Machine+", "+r.Feet)), cell(words.Text("moves.height"), r.Shim), cell(words.Text("moves.sideways"), r.Move),
			cell(words.Text("moves.room"), room), cell(words.Text("moves.do"), r.Do))
	}
	return El("table", Class("feet"), El("caption", Attr{}, Text(words.Text("moves.feet"))),
		El("thead", Attr{}, El("tr", Attr{}, th(words.Text("moves.number")), th(words.Text("moves.foot")), th(words.Text("moves.height")), th(words.Text("moves.sideways")), th(words.Text("moves.room")), th(words.Text("moves.do")))),
		El("tbody", Attr{}, Each(report.TrainFeet(ev, p), row)))
}

// after are the couplings as the plan leaves them.
func (s *Moves) after(p *evaluate.TrainPlan) HTML {
	if len(p.Couplings) == 0 {
		return HTML{}
	}
	return Join(El("h3", Attr{}, Text(words.Text("moves.couplings"))), El("ul", Attr{}, Each(s.host.Evaluator().TrainAfter(p), func(_ int, t string) HTML { return El("li", Attr{}, Text(t)) })))
}

// order is in which order the work is done.
func (s *Moves) order(p *evaluate.TrainPlan) HTML {
	list := s.host.Evaluator().TrainOrder(p)
	if len(list) == 0 {
		return HTML{}
	}
	return Join(El("h3", Attr{}, Text(words.Text("moves.order"))), P("quiet", list[0]), El("ul", Class("plain"), Each(list[1:], func(_ int, t string) HTML { return El("li", Attr{}, Text(t)) })))
}

// paper is the train on paper.
func (s *Moves) paper() HTML {
	ev := s.host.Evaluator()
	k := s.shown()
	if k < 0 {
		return El("h1", Attr{}, Text(words.Text("moves.title")))
	}
	p, n := s.looked(k)
	head := Join(El("h1", Attr{}, Text(words.Text("moves.title")+": "+p.Train)), El("div", Class("meta"), El("b", Attr{}, Text(ev.Setting("name"))), El("span", Attr{}, Text(ev.Setting("site")+" "+ev.Setting("date")))), P("", ev.TrainWords(p)))
	if len(p.Machines) == 0 {
		return head
	}
	cautions := Each(ev.Cautions(), func(_ int, t string) HTML { return El("li", Attr{}, Text(t)) })
	return Join(head, El("div", Class("drawing"), Drawing(report.Train(nil, ev, k, n, report.Options{Width: 900, Prefix: "movespaper"}))), El("div", Class("list"), s.feet(p)), s.after(p), s.order(p),
		El("div", Class("tail"), El("ul", Attr{}, cautions)))
}

package screens

import (
	"strconv"

	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// CardsHost is what the cards ask of the job.
type CardsHost interface {
	Evaluator() *sentences.Teller
	ShownMachines() []int // rows of couplings as the list shows them, sorted and filtered
	ChosenRow() int       // row of the Machines sheet that the panel speaks of
}

// Cards prints a card for each of some machines: one, a choice, all; one after the other, or grouped by area or crew.
type Cards struct {
	host   CardsHost
	left   map[string]bool // machines that are not printed, by name
	by     string          // "", "area", "crew"
	letter bool
}

// NewCards is the screen with every machine that is not inside its limit chosen, ungrouped, on A4.
func NewCards(host CardsHost) *Cards { return &Cards{host: host, left: map[string]bool{}} }

// Show is the list of machines with the first card before it is printed.
func (s *Cards) Show() Update {
	u := s.JobChanged()
	if len(s.host.ShownMachines()) > 0 {
		u.Focus = "cards-print"
	}
	return u
}

// JobChanged shows it anew.
func (s *Cards) JobChanged() Update { return Update{Regions: []Region{{"screen-cards", s.page()}}} }

// Event answers the boxes beside the machines, the choices and the button that prints.
func (s *Cards) Event(e Event) Update {
	ev := s.host.Evaluator()
	switch e.Name {
	case "machine":
		if i, err := strconv.Atoi(e.Arg); err == nil && i >= 0 && i < ev.Len() {
			s.left[ev.Row(i).Name] = e.Value != "true"
		}
	case "all", "none", "open":
		s.left = map[string]bool{}
		for _, i := range s.host.ShownMachines() {
			if e.Name == "none" || e.Name == "open" && ev.Row(i).Stays() {
				s.left[ev.Row(i).Name] = true
			}
		}
	case "one":
		at := s.host.ChosenRow()
		for _, i := range s.host.ShownMachines() {
			s.left[ev.Row(i).Name] = i != at
		}
	case "by":
		s.by = e.Value
	case "size":
		s.letter = e.Value == "letter"
	case "paper": // the page is about to print
		return Update{Regions: []Region{{"paper", s.onPaper()}}}
	default:
		return Update{}
	}
	return s.JobChanged()
}

// chosen are the rows whose cards are printed, in order.
func (s *Cards) chosen() (rows []int) {
	ev := s.host.Evaluator()
	for _, i := range s.host.ShownMachines() {
		if !s.left[ev.Row(i).Name] {
			rows = append(rows, i)
		}
	}
	_, groups := ev.CardGroups(rows, s.by)
	rows = rows[:0]
	for _, g := range groups {
		rows = append(rows, g...)
	}
	return rows
}

func (s *Cards) paper() string {
	if s.letter {
		return "letter"
	}
	return "a4"
}

func (s *Cards) onPaper() HTML { return CardPages(s.host.Evaluator(), s.chosen(), s.paper()) }

// CardPages are the cards of rows, a page each.
func CardPages(ev *sentences.Teller, rows []int, paper string) HTML {
	return El("div", Class("cards"), Each(rows, func(n, i int) HTML { return Card(ev, i, paper, n) }))
}

// page is the whole screen.
func (s *Cards) page() HTML {
	ev := s.host.Evaluator()
	shown := s.host.ShownMachines()
	if len(shown) == 0 {
		return El("div", Class("empty"), P("", words.Text("cards.noMachine")))
	}
	names, groups := ev.CardGroups(shown, s.by)
	list := Each(groups, func(k int, rows []int) HTML {
		head := names[k]
		if head == "" {
			head = map[string]string{"": words.Text("cards.all"), "area": words.Text("cards.without.area"), "crew": words.Text("cards.without.crew")}[s.by]
		}
		return El("fieldset", Attr{}, If(s.by != "", El("legend", Attr{}, Text(head))), Each(rows, func(_, i int) HTML {
			r := ev.Row(i)
			id := "cards-" + strconv.Itoa(i)
			return El("label", Class("cards-machine"),
				El("input", Attrs(A("type", "checkbox"), ID(id), Flag("checked", !s.left[r.Name]), On("machine", strconv.Itoa(i)))),
				El("span", Attr{}, Text(r.Name)), El("span", Class("quiet"), Text(words.Text("cards.next", r.StateWord().String(), ev.NextRound(i)))))
		}))
	})
	rows := s.chosen()
	preview := P("quiet", words.Text("cards.noneChosen"))
	if len(rows) > 0 {
		preview = Join(P("quiet", words.Text("cards.first", strconv.Itoa(len(rows)))), El("div", Class("cards cards-preview"), Card(ev, rows[0], s.paper(), -1)))
	}
	choice := func(event, label string, list [][2]string, now string) HTML {
		return El("label", Class("cards-choice"), Text(label+" "), El("select", Attrs(ID("cards-"+event), On(event, "")), Each(list, func(_ int, c [2]string) HTML { return Choice(c[0], c[1], c[0] == now) })))
	}
	return El("div", Class("cards-screen"),
		El("div", Class("cards-bar"),
			El("button", Attrs(A("type", "button"), Class("main"), ID("cards-print"), A("data-do", "printCards"), Flag("disabled", len(rows) == 0)), Text(words.Count("cards.print", len(rows)))),
			choice("by", words.Text("cards.group"), [][2]string{{"", words.Text("cards.asListed")}, {"area", words.Text("cards.area")}, {"crew", words.Text("cards.crew")}}, s.by),
			choice("size", words.Text("cards.paper"), [][2]string{{"a4", "A4"}, {"letter", "Letter"}}, s.paper()),
			Button(On("all", ""), words.Text("cards.all")), Button(On("open", ""), words.Text("cards.open")), Button(On("one", ""), words.Text("cards.one")), Button(On("none", ""), words.Text("cards.none"))),
		P("quiet", words.Text("cards.about")),
		El("div", Class("cards-two"), El("div", Class("cards-list"), list), El("div", Attrs(Class("cards-look"), A("tabindex", "0"), Role("region"), A("aria-label", words.Text("cards.look"))), preview)))
}

package screens

import (
	"strconv"
	"strings"

	"shimsheet/internal/report"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// Card is the paper card of row i, one upright page of A4 or Letter: what a crew needs to take one machine through one round, with empty boxes in the order in which they are filled. It is
// legible in black and white. paper is "letter", else A4. number keeps the ids of drawings apart. For a row without a coupling it is empty.
func Card(ev *sentences.Teller, i int, paper string, number int) HTML {
	c, ok := ev.Card(i)
	if !ok {
		return HTML{}
	}
	class := "card a4"
	if paper == "letter" {
		class = "card letter"
	}
	prefix := "c" + strconv.Itoa(number) + "-"
	return El("section", Attrs(Class(class), A("aria-label", words.Text("card.of", c.Machine))),
		cardHead(&c, prefix),
		El("p", Class("card-lock"), El("b", Attr{}, Text(words.Text("card.lock"))), Text(" "), blank(words.Text("card.lockNumber"), cardNumber(&c, "Isolation")), blank(words.Text("card.by"), ""), blank(words.Text("card.tried"), "")),
		El("div", Class("card-two"),
			El("div", Attr{}, El("p", Class("card-stand"), Text(c.Stand)), Drawing(report.CardSketch(nil, ev, i, report.Options{Width: 340, Prefix: prefix + "s"}))),
			El("div", Attr{}, cardSoft(&c), cardGap(&c))),
		cardChecks(&c),
		cardReadings(&c),
		El("div", Class("card-two card-do"),
			El("div", Attr{}, cardTodo(&c, ev, i, prefix)),
			El("div", Attr{}, cardTake(&c), cardTighten(&c), cardCautions())),
		cardSign())
}

// blank is a word with a line to write on, or with what is known.
func blank(word, known string) HTML {
	if known != "" {
		return El("span", Class("card-known"), Text(word+" "), El("b", Attr{}, Text(known)))
	}
	return El("span", Class("card-line"), Text(word), El("i", Attr{}))
}

func cardNumber(c *sentences.Card, name string) string {
	for _, n := range c.Numbers {
		if n[0] == name {
			return n[1]
		}
	}
	return ""
}

// cardHead is who, for which order, and the code.
func cardHead(c *sentences.Card, prefix string) HTML {
	var job []string
	for _, j := range c.Job {
		if j[0] == "Revision" {
			job = append(job, j[1])
		} else {
			job = append(job, j[0]+": "+j[1])
		}
	}
	if len(job) == 0 || c.Job[len(c.Job)-1][0] != "Revision" {
		job = append(job, words.Text("card.neverSaved"))
	}
	code := HTML{}
	if svg, err := report.Code(nil, c.Code, words.Text("card.codeOf", c.Machine, c.Round), report.Options{Width: 280, Prefix: prefix + "q"}); err == nil {
		code = Drawing(svg)
	}
	who := c.Machine
	if c.Stationary != "" {
		who = words.Text("card.to", c.Machine, c.Stationary)
	}
	state := words.Text("card.state", c.State)
	if c.Verdict != "" {
		state += " " + c.Verdict
	}
	return El("div", Class("card-head"),
		El("div", Attr{},
			El("h2", Attr{}, Text(who)),
			P("card-job", strings.Join(job, " · ")),
			El("p", Class("card-numbers"), Each(c.Numbers, func(_ int, n [2]string) HTML { return If(n[0] != "Isolation", blank(n[0], n[1])) })),
			El("p", Class("card-round"), El("b", Attr{}, Text(words.Text("card.round", c.Round))), Text(" "+state)),
			El("p", Class("card-numbers"), blank(words.Text("card.when"), ""), blank(words.Text("card.by"), ""), blank(words.Text("card.temperature"), ""), blank(words.Text("card.instrument"), ""))),
		El("div", Class("card-code"), code, P("", words.Text("card.scan"))))
}

// cardChecks are the checks with their numbers, and boxes for those that are open.
func cardChecks(c *sentences.Card) HTML {
	head := words.Text("card.checks")
	if c.Usual {
		head = words.Text("card.checksUsual")
	}
	return El("div", Attr{}, El("h3", Attr{}, Text("2 "+head)), El("div", Class("card-checks"), Each(c.Checks, func(_ int, x sentences.CardCheck) HTML {
		return El("div", Attr{}, El("span", Attr{}, Text(x.Name)), El("b", Attr{}, Text(x.Value)), El("span", Attr{}, Text(x.Limit)))
	})))
}

// cardSoft are the boxes for soft feet.
func cardSoft(c *sentences.Card) HTML {
	if len(c.SoftFeet) == 0 {
		return HTML{}
	}
	cells := func(first string, boxes bool, text func(f *sentences.CardFoot) string) HTML {
		return El("tr", Attr{}, El("th", A("scope", "row"), Text(first)), Each(c.SoftFeet, func(_ int, f sentences.CardFoot) HTML {
			class := ""
			if boxes {
				class = "card-box"
			}
			return El("td", Class(class), Text(text(&f)))
		}))
	}
	none := func(*sentences.CardFoot) string { return "" }
	return Join(El("h3", Attr{}, Text("1 "+words.Text("card.soft", c.Unit))),
		El("table", Class("card-t"), El("thead", Attr{}, El("tr", Attr{}, El("td", Attr{}), Each(c.SoftFeet, func(_ int, f sentences.CardFoot) HTML { return El("th", A("scope", "col"), Text(f.Name)) }))),
			El("tbody", Attr{}, cells(words.Text("card.inPlace"), true, func(f *sentences.CardFoot) string { return f.InPlace }), cells(words.Text("card.gap"), true, none), cells(words.Text("card.rise"), true, none))))
}

func cardGap(c *sentences.Card) HTML {
	known := ""
	if c.Gap != "" {
		known = " (" + c.Gap + ")"
	}
	return El("p", Class("card-numbers"), blank(words.Text("card.shaftGap")+known, ""))
}

// cardReadings are the boxes for dials and gauges in the order in which they are read.
func cardReadings(c *sentences.Card) HTML {
	at := []string{"12", "3", "6", "9", "12 again"}
	sag := false
	for k := range c.Sweeps {
		sag = sag || c.Sweeps[k].HasSag
	}
	sweeps := c.Sweeps
	if len(sweeps) == 0 && len(c.Lines) == 0 {
		sweeps = []sentences.CardSweep{{At: at}, {At: at}, {At: at}} // the method is not known: names are written by hand
	}
	table := HTML{}
	if len(sweeps) > 0 {
		class := "card-t card-read"
		if len(sweeps) > 3 || c.Wanted {
			class += " card-many"
		}
		table = El("table", Class(class),
			El("thead", Attr{}, El("tr", Attr{}, El("td", Attr{}), Each(at, func(_ int, s string) HTML { return El("th", A("scope", "col"), Text(s)) }), If(sag, El("th", A("scope", "col"), Text(words.Text("card.sag")))))),
			El("tbody", Attr{}, Each(sweeps, func(_ int, s sentences.CardSweep) HTML {
				boxes := El("tr", Attr{}, El("th", A("scope", "row"), Text(s.Name)),
					Each(at, func(k int, _ string) HTML {
						return El("td", Class(map[bool]string{true: "card-box", false: "card-none"}[k < len(s.At)]))
					}),
					If(sag, El("td", Class(map[bool]string{true: "card-box", false: "card-none"}[s.HasSag]), Text(s.Sag))))
				if len(s.Wanted) == 0 {
					return boxes
				}
				return Join(boxes, El("tr", Class("card-wanted"), El("th", A("scope", "row"), Text(words.Text("card.wanted"))), Each(at, func(k int, _ string) HTML {
					if k >= len(s.Wanted) {
						return El("td", Attr{})
					}
					return El("td", Attr{}, Text(s.Wanted[k]))
				}), If(sag, El("td", Attr{}))))
			})))
	}
	return Join(El("h3", Attr{}, Text("3 "+words.Text("card.readings", c.Unit))), table, Each(c.Lines, func(_ int, s string) HTML { return El("p", Class("card-numbers"), blank(s, "")) }))
}

// cardTodo is the picture of what to do, or boxes for what comes out of the readings of this round.
func cardTodo(c *sentences.Card, ev *sentences.Teller, i int, prefix string) HTML {
	head := El("h3", Attr{}, Text("4 "+words.Text("card.do")))
	if c.Todo.Missing == "" {
		svg := report.WhatToDo(nil, ev, i, report.Options{Width: 460, Prefix: prefix + "d", Bare: true})
		return Join(head, El("div", Class("card-picture"), Drawing(svg)), Each(c.From, func(_ int, s string) HTML { return P("card-small", s) }))
	}
	feet := c.SoftFeet
	said := HTML{}
	if c.Todo.Stays {
		said = P("", c.Todo.Missing)
	}
	return Join(head, said, P("card-small", words.Text("card.later")),
		El("table", Class("card-t"), El("thead", Attr{}, El("tr", Attr{}, El("td", Attr{}), El("th", A("scope", "col"), Text(words.Text("card.takeOut"))), El("th", A("scope", "col"), Text(words.Text("card.putIn"))))),
			El("tbody", Attr{}, Each(feet, func(_ int, f sentences.CardFoot) HTML {
				return El("tr", Attr{}, El("th", A("scope", "row"), Text(f.Name)), El("td", Class("card-box")), El("td", Class("card-box")))
			}))),
		El("p", Class("card-numbers"), blank(words.Text("card.pushFront"), ""), blank(words.Text("card.towards"), "")),
		El("p", Class("card-numbers"), blank(words.Text("card.pushRear"), ""), blank(words.Text("card.towards"), "")))
}

// cardTake is what is fetched before going there, and how far the feet can go.
func cardTake(c *sentences.Card) HTML {
	take := HTML{}
	if len(c.Take) > 0 {
		take = Join(El("h3", Attr{}, Text(words.Text("card.take", c.TakeIn))), El("p", Class("card-take"), Each(c.Take, func(_ int, s string) HTML { return El("span", Attr{}, Text(s)) })))
	}
	if len(c.Rooms) > 0 {
		take = Join(take, El("h3", Attr{}, Text(words.Text("card.room"))), Each(c.Rooms, func(_ int, s string) HTML { return P("", s) }))
	}
	return take
}

func cardTighten(c *sentences.Card) HTML {
	return Join(El("h3", Attr{}, Text("5 "+words.Text("card.tighten"))), P("", words.Text("card.tightenTo", c.Order, c.Torque)))
}

// cardCautions are the usual cautions; local rules come first.
func cardCautions() HTML {
	var said []string
	for _, w := range tables.Cautions() {
		said = append(said, w.Text)
	}
	return Join(El("h3", Attr{}, Text(words.Text("card.cautions"))), P("card-small", strings.Join(said, " ")))
}

func cardSign() HTML {
	return El("div", Class("card-sign"), Each([]string{words.Text("card.aligner"), words.Text("card.witness"), words.Text("card.accepter")}, func(_ int, s string) HTML { return El("div", Attr{}, Text(s)) }))
}

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

// What is told of one machine: its sentences by what they are about, its drawings. The panel, One by one and the paper of a machine are made of these.

// told are the sentences about a machine.
type told []sentences.Sentence

// of are the texts of one kind.
func (t told) of(kind sentences.SentenceKind) []string {
	var out []string
	for _, s := range t {
		if s.Kind == kind {
			out = append(out, s.Text)
		}
	}
	return out
}

// verdict is the verdict in a sentence.
func (t told) verdict() string { return strings.Join(t.of(sentences.SentenceVerdict), " ") }

// steps are what is to be done: one numbered list, or one for each way of doing it under a head of its own.
func (t told) steps() HTML {
	var out []HTML
	var items []HTML
	end := func() {
		if items != nil {
			out = append(out, El("ol", Attr{}, items...))
			items = nil
		}
	}
	for _, s := range t {
		switch s.Kind {
		case sentences.SentenceWay:
			end()
			out = append(out, P("way", s.Text))
		case sentences.SentenceDo:
			items = append(items, El("li", Attr{}, Text(s.Text)))
		}
	}
	end()
	return Join(out...)
}

// section is a head with paragraphs below it; nothing where there are none.
func section(title, class string, list []string) HTML {
	if len(list) == 0 {
		return HTML{}
	}
	return Join(El("h3", Attr{}, Text(title)), paragraphs(class, list))
}

func paragraphs(class string, list []string) HTML {
	return Each(list, func(_ int, t string) HTML { return P(class, t) })
}

// A pictured machine draws one row in a width, which names the parts of its drawings too: on paper they stand beside those of the panel.
type pictured struct {
	ev    *sentences.Teller
	row   int
	width int
}

type drawer func(dst []byte, ev *sentences.Teller, row int, opt report.Options) []byte

func (p pictured) draw(what string, f drawer) HTML {
	return Drawing(f(nil, p.ev, p.row, report.Options{Width: float64(p.width), Prefix: what + strconv.Itoa(p.width)}))
}

// in is a drawing in its box.
func (p pictured) in(what string, f drawer) HTML {
	return El("div", Class("drawing"), p.draw(what, f))
}

// todo is the picture of what to do, before it is read; nothing where nothing is to be done.
func (p pictured) todo() HTML {
	if p.width <= 0 || p.ev.Todo(p.row).Missing != "" {
		return HTML{}
	}
	p.width = min(p.width, 640)
	if d := p.draw("todo", report.WhatToDo); !d.Empty() {
		return El("div", Class("drawing todo"), d)
	}
	return HTML{}
}

// does is what to do: the picture, the steps, where the packs come from.
func (p pictured) does(t told) HTML {
	todo := t.steps()
	if todo.Empty() {
		return HTML{}
	}
	return Join(El("h3", Attr{}, Text(words.Text("panel.todo"))), p.todo(), todo)
}

// wantedReadings is what each dial should read cold, as a table.
func wantedReadings(ev *sentences.Teller, r *evaluate.RowResult) HTML {
	list := ev.WantedReadings(r)
	if len(list) == 0 {
		return HTML{}
	}
	head := Each([]string{words.Text("panel.dial"), "12", "3", "6", "9"}, func(_ int, t string) HTML { return th(t) })
	rows := Each(list, func(_ int, w evaluate.WantedReading) HTML {
		cells := El("th", A("scope", "row"), Text(w.Sweep))
		for _, x := range w.Readings {
			cells = Join(cells, El("td", Attr{}, Text(string(ev.AppendShim(nil, x.Zeroed)))))
		}
		return El("tr", Attr{}, cells)
	})
	return Join(El("h3", Attr{}, Text(words.Text("panel.wantedIn", job.QThickness.Unit(ev.Inch()).String()))),
		El("table", Attrs(Class("wanted"), A("aria-label", words.Text("panel.wanted"))), El("thead", Attr{}, El("tr", Attr{}, head)), El("tbody", Attr{}, rows)),
		P("quiet", words.Text("panel.wantedMeans")))
}

package desk

import (
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/screens"
	"shimsheet/internal/sentences"
)

// The panel says of a machine what the program's sentences say, each under its head and in order, and its numbers are the results; hints that say something is wrong are marked otherwise than what
// says how something was understood. So does a machine's paper.
func TestPanelAsSeen(t *testing.T) {
	p := demo(t)
	s := p.looksAt("panel")
	ev := p.d.ev
	for i := range ev.Len() {
		name := ev.Row(i).Name
		p.did(func(d *Desk) { d.LookAt(i) })
		s.changed()
		paper := screens.MachinePaper(ev, i, 0, "today", "").String()
		on := func(kind sentences.SentenceKind) (out []string) {
			for _, x := range ev.Sentences(i) {
				if x.Kind == kind {
					out = append(out, x.Text)
				}
			}
			return out
		}
		order := append([]string{name}, on(sentences.SentenceVerdict)...)
		steps := 0
		for _, x := range ev.Sentences(i) {
			if x.Kind == sentences.SentenceWay || x.Kind == sentences.SentenceDo {
				if steps == 0 {
					order = append(order, "What to do, in this order")
				}
				steps++
				order = append(order, x.Text)
			}
		}
		order = append(order, on(sentences.SentencePacks)...)
		parts := func(head string, list []string) {
			if n := strings.Count(" "+s.reads("panel-row")+" ", " "+head+" "); (len(list) > 0) != (n > 0) {
				t.Errorf("%s: the head %q stands %d times over %d", name, head, n, len(list))
			}
			if len(list) > 0 {
				order = append(append(order, head), list...)
			}
		}
		parts("Where the shaft stands", on(sentences.SentenceLine))
		parts("What that is predicted to leave", on(sentences.SentenceAfter))
		if list := on(sentences.SentenceHint); len(list) > 0 {
			order = append(order, list...)
		}
		order = append(order, on(sentences.SentenceCaution)...)
		for k := range order {
			order[k] = strings.Join(strings.Fields(order[k]), " ")
		}
		s.says(order...)
		if n := len(all(s.find("panel-row"), "li")); n != len(on(sentences.SentenceDo)) {
			t.Errorf("%s: %d steps are numbered, %d are to be done", name, n, len(on(sentences.SentenceDo)))
		}
		for _, x := range ev.Sentences(i) {
			if x.Kind != sentences.SentenceHint {
				continue
			}
			for _, e := range all(s.find("panel-row"), "p") {
				if text(e) == strings.Join(strings.Fields(x.Text), " ") {
					p.want(attr(e, "class"), map[bool]string{true: "hint", false: "notice"}[x.Wrong])
				}
			}
		}
		numbers := p.d.Numbers()
		if len(numbers) > 0 {
			rows := s.rows("Numbers of the row")
			p.want(len(rows), len(numbers))
			for k, n := range numbers {
				p.want(rows[k], []string{n[0], strings.Join(strings.Fields(n[1]), " ")})
			}
		}
		for _, x := range ev.Sentences(i) {
			if want := screens.Text(x.Text).String(); !strings.Contains(paper, want) {
				t.Errorf("the paper of %s lacks %q", name, x.Text)
			}
		}
		p.want(strings.Count(paper, ">What to do, in this order<"), min(steps, 1))
		r := ev.Row(i)
		if got := strings.Contains(paper, "Wanted readings cold") || strings.Contains(paper, `class="wanted"`); got != (r.Growth != nil && len(ev.WantedReadings(r)) > 0) {
			t.Errorf("the paper of %s has wanted readings: %v", name, got)
		}
	}
}

// On the sheets Feet and Growth the panel speaks of the machine that the row names: its feet or its growth, its verdict, and what is wrong in its rows.
func TestPanelOfFeetAndGrowth(t *testing.T) {
	p := demo(t)
	s := p.looksAt("panel")
	for _, sheet := range []int{5, 4} {
		p.ask("sheet", sheet)
		rows := p.d.grid().Rows()
		for k := range rows {
			p.ask("go", k, 0, false)
			s.changed()
			i := p.d.ChosenRow()
			r := p.d.ev.Row(i)
			if r == nil || rows[k][0] == "" || rows[k][0] != r.Name {
				continue
			}
			verdict := ""
			for _, x := range p.d.ev.Sentences(i) {
				if x.Kind == sentences.SentenceVerdict {
					verdict = x.Text
				}
			}
			s.says(r.Name, verdict)
			if sheet == 5 {
				head, why := p.d.ev.SoftReasons(i)
				s.says(r.Name, head, why[0])
			} else {
				for _, g := range p.d.ev.SayGrowth(i) {
					s.says("From cold", g)
				}
				p.want(strings.Contains(s.reads(), "No growth is worked out"), r.Growth == nil)
			}
			caution := 0
			for _, e := range all(s.find("panel-row"), "p") {
				if attr(e, "class") == "caution" {
					caution++
				}
			}
			if caution == 0 {
				t.Errorf("%s: no caution", r.Name)
			}
		}
	}
}

// The trains: each plan with its own numbers, each foot with its own; a plan that is chosen says so and can be taken back.
func TestMovesAsSeen(t *testing.T) {
	p := demo(t)
	s := p.looksAt("moves")
	ev := p.d.ev
	for k := range ev.Trains() {
		s.presses(ev.Trains()[k].Train + ": " + string(ev.Trains()[k].Status))
		p.want(s.last.Focus, "moves-train-"+strconv.Itoa(k))
		if len(ev.Trains()[k].Machines) == 0 {
			continue
		}
		rows := s.rows("Plans to choose from")
		p.want(rows[0], "[Plan Aims at Largest move In all To touch After the packs Choose]")
		list := ev.TrainChoices(k)
		p.want(len(rows)-1, len(list))
		for n, c := range list {
			row := rows[n+1]
			if !strings.HasPrefix(row[0], c.Plan) || !strings.Contains(row[0], c.Also) {
				t.Errorf("%q of plan %q", row[0], c.Plan)
			}
			p.want(row[1], c.Aim)
			if string(c.Status) != "possible" {
				p.want(row[2], strings.Join(strings.Fields(ev.TrainFares(&c)), " "))
				continue
			}
			p.want(row[2:5], []string{ev.Thickness(c.Largest), ev.Thickness(c.Total), strconv.Itoa(c.Touch)})
			p.want(strings.HasPrefix(row[5], c.Verdict.String()), true)
			if c.Chance == c.Chance && !strings.HasSuffix(row[5], ", "+ev.Percent(c.Chance)) {
				t.Errorf("%q", row[5])
			}
			s.press(s.find("moves-look-" + strconv.Itoa(n)))
			p.want(s.last.Focus, "moves-look-"+strconv.Itoa(n))
			pressed := []string{}
			for m := range list {
				if attr(s.find("moves-look-"+strconv.Itoa(m)), "aria-pressed") == "true" {
					pressed = append(pressed, strconv.Itoa(m))
				}
			}
			p.want(pressed, []string{strconv.Itoa(n)})
			for _, after := range ev.TrainAfter(&list[n]) {
				s.says("The couplings afterwards", after)
			}
			for _, step := range ev.TrainOrder(&list[n]) {
				s.says("Order of the work", step)
			}
		}
	}
	s.presses(ev.Trains()[0].Train + ": " + string(ev.Trains()[0].Status))
	before := p.job()
	for _, nowhere := range []string{"-1", "99", "x", ""} {
		s.sends(screens.Event{Name: "look", Arg: nowhere})
		s.sends(screens.Event{Name: "train", Arg: nowhere})
		s.sends(screens.Event{Name: "choose", Arg: nowhere})
	}
	p.want(p.job() == before, true)
	s.presses("Choose the plan shared out")
	p.want(s.said, "Thickener follows the plan shared out: sheet, packs and lists speak of it.")
	s.says("shared out, chosen")
	s.presses("Take the choice back")
	p.want(s.said, "Thickener follows no chosen plan; each row speaks of its own machine.")
	p.want(len(s.controls("Take the choice back", "button")), 0)
	p.want(s.presses("To the sheet Trains").Open, "tab-10")
	s.sends(screens.Event{Name: "paper"})
	if got := s.reads("paper"); !strings.Contains(got, "Moves of a train: Thickener") || strings.Contains(got, "Plans to choose from") {
		t.Errorf("%.300s", got)
	}
}

// The cards: a box for each machine, of those that are printed; by area and by crew under their names; how many are printed stands on the button, and the first is shown.
func TestCardsAsSeen(t *testing.T) {
	p := demo(t)
	s := p.looksAt("cards")
	boxes := func() (on, all26 int) {
		for _, e := range all(s.find("screen-cards"), "input") {
			all26++
			if has(e, "checked") {
				on++
			}
		}
		return on, all26
	}
	printed := func(n int) {
		t.Helper()
		on, of := boxes()
		p.want([]int{on, of}, []int{n, 26})
		want := "Print " + strconv.Itoa(n) + " cards"
		if n == 1 {
			want = "Print 1 card"
		}
		p.want(text(s.find("cards-print")), want)
		p.want(has(s.find("cards-print"), "disabled"), n == 0)
		s.sends(screens.Event{Name: "paper"})
		p.want(len(all(s.find("paper"), "section")), n)
		if n == 0 {
			s.says("No machine is chosen.")
		} else {
			s.says("The first of " + strconv.Itoa(n) + " on paper:")
			first := all(s.find("screen-cards"), "section")
			p.want(len(first), 1)
			p.want(attr(first[0], "aria-label"), attr(all(s.find("paper"), "section")[0], "aria-label"))
		}
	}
	stays := 0
	for i := range p.d.ev.Len() {
		if p.d.ev.Row(i).Stays() {
			stays++
		}
	}
	printed(26)
	s.presses("Those to be moved")
	printed(26 - stays)
	s.presses("None")
	printed(0)
	s.presses("The chosen one")
	printed(1)
	s.presses("All")
	printed(26)
	box := s.find("cards-3")
	if !strings.HasPrefix(s.called(box), p.d.ev.Row(3).Name) {
		t.Errorf("%q", s.called(box))
	}
	s.tick(box, false)
	printed(25)
	p.want(has(s.find("cards-3"), "checked"), false)
	s.sends(screens.Event{Name: "machine", Arg: "999", Value: "false"})
	s.sends(screens.Event{Name: "machine", Arg: "-1", Value: "false"})
	printed(25)
	s.tick(s.find("cards-3"), true)
	for _, by := range [][2]string{{"by crew", "No crew"}, {"by area", "No area"}} {
		s.chooses("In order", by[0])
		p.want(s.chosen("In order"), by[0])
		if !strings.Contains(s.reads(), by[1]) {
			t.Errorf("%s: %.400s", by[0], s.reads())
		}
		printed(26)
	}
	s.chooses("In order", "as the list has them")
	p.want(len(all(s.find("screen-cards"), "legend")), 0)
	s.chooses("Paper", "Letter")
	p.want(s.chosen("Paper"), "Letter")
	p.want(attr(all(s.find("screen-cards"), "section")[0], "class"), "card letter")
	s.chooses("Paper", "A4")
	p.want(attr(all(s.find("screen-cards"), "section")[0], "class"), "card a4")
	small(t).looksAt("cards").says("Print 3 cards")
}

// A card has of its machine what the program says of it, in its boxes: numbers of the order, what lies under each foot, wanted readings, pieces to fetch, rooms, the gap.
func TestCardSaysTheMachine(t *testing.T) {
	p := demo(t)
	s := p.looksAt("cards")
	for i := range p.d.ev.Len() {
		c, ok := p.d.ev.Card(i)
		if !ok {
			continue
		}
		s.presses("None")
		s.tick(s.find("cards-"+strconv.Itoa(i)), true)
		card := all(s.find("screen-cards"), "section")[0]
		read := text(card)
		want := []string{c.Machine, c.State, c.Verdict, c.Stand, "Card of round " + c.Round, c.Order, c.Torque, c.Gap, c.Unit}
		want[4] = c.Round
		for _, n := range c.Numbers {
			want = append(want, n[1])
		}
		for _, j := range c.Job {
			want = append(want, j[1])
		}
		for _, x := range c.Checks {
			want = append(want, x.Name+" "+x.Value)
		}
		for _, f := range c.SoftFeet {
			want = append(want, f.Name, f.InPlace)
		}
		for _, w := range c.Sweeps {
			want = append(want, w.Name, w.Sag, strings.Join(w.Wanted, " "))
		}
		want = append(append(append(append(want, c.Take...), c.Rooms...), c.Lines...), c.TakeIn)
		if c.Todo.Missing == "" {
			want = append(want, c.From...)
		}
		for _, w := range want {
			if w = strings.Join(strings.Fields(w), " "); !strings.Contains(read, w) {
				t.Errorf("the card of %s lacks %q: %s", c.Machine, w, read)
			}
		}
		boxes := 0
		for _, e := range all(card, "td") {
			if attr(e, "class") == "card-box" {
				boxes++
			}
		}
		n := 3 * len(c.SoftFeet)
		for _, w := range c.Sweeps {
			n += len(w.At)
			if w.HasSag {
				n++
			}
		}
		if c.Todo.Missing != "" {
			n += 2 * len(c.SoftFeet)
		}
		if len(c.Sweeps) == 0 && len(c.Lines) == 0 {
			n += 15
		}
		p.want(boxes, n)
	}
}

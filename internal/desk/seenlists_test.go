package desk

import (
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"shimsheet/internal/calculators"
	"shimsheet/internal/results"
	"shimsheet/internal/screens"
	"shimsheet/internal/units"
)

// lists are the lists of the stock shared out, as the worker makes them of the same job.
func (p page) lists() (pick, order results.List, packed string) {
	p.Helper()
	ev := p.d.ev
	if _, err := ev.Allocate(nil); err != nil {
		p.Fatal(err)
	}
	a, err := results.NewList(ev, "pick", nil)
	if err != nil {
		p.Fatal(err)
	}
	b, err := results.NewList(ev, "order", nil)
	if err != nil {
		p.Fatal(err)
	}
	l := screens.Lists{Pick: *a, Order: *b}
	return *a, *b, l.Pack()
}

// The lists of the stock come to the page as they were made, in pieces where they are long: each foot once, under its machine, each number in its column; what is copied and saved is all of it, in the
// job's decimal sign.
func TestShimsAsSeen(t *testing.T) {
	p := demo(t)
	s := p.looksAt("shims")
	s.says("Sharing the stock out over the job", "Stop")
	if bar := all(s.find("screen-shims"), "progress"); len(bar) != 1 || attr(bar[0], "aria-label") == "" {
		t.Error("nobody hears how far it is")
	}
	run := s.last.Share
	p.want(s.sends(screens.Event{Name: "copy"}).Copy == nil, true) // there is nothing yet
	p.want(s.presses("Stop").Unshare, true)
	s.sends(screens.Event{Name: "lists", Arg: run, Kind: "refused", Value: "no piece fits."})
	s.says("The lists could not be made. no piece fits.", "Work it out")
	s.changed()
	s.says("could not be made") // it is not tried again by itself
	s.presses("Work it out")
	run = s.last.Share
	s.sends(screens.Event{Name: "lists", Arg: run, Kind: "shared", Value: "nonsense"})
	s.says("The lists could not be made.")
	s.presses("Work it out")
	pick, order, packed := p.lists()
	s.sends(screens.Event{Name: "lists", Arg: s.last.Share, Kind: "shared", Value: packed})
	for s.last.Soon != "" {
		s.sends(screens.Event{Name: s.last.Soon})
	}
	if len(pick.Notes) > 0 {
		p.want(s.said, pick.Notes[0])
	}
	s.says(pick.Notes...)
	shown := func(l *results.List, title string, machine bool) {
		t.Helper()
		rows := s.rows(title)
		p.want(len(rows)-1, len(l.Rows))
		for k, h := range l.Header {
			p.want(rows[0][k], h)
		}
		for i, r := range l.Rows {
			for k, c := range r {
				p.want(rows[i+1][k], strings.Join(strings.Fields(c), " "))
			}
		}
		p.want(attr(s.find("shims-table"), "aria-busy"), "")
		table := all(s.find("shims-table"), "tr")
		for i, tr := range table[1:] {
			p.want(attr(tr, "class") == "short", l.Short[i])
			for k, c := range all(tr, "td", "th") {
				// a number of millimetres or a count stands under the others, words begin at the left
				want := k >= l.Words && k <= l.Number
				if machine {
					want = k == 3
				}
				p.want(strings.Contains(attr(c, "class"), "num"), want)
				if again := machine && k == 0 && i > 0 && l.At[i] == l.At[i-1]; (attr(c, "class") == "again") != again {
					t.Errorf("row %d: %q is %q", i, text(c), attr(c, "class"))
				}
			}
		}
	}
	withHeads := s.quiet
	shown(&pick, "Pick list", true)
	s.quiet = true // the order list has no machines
	p.want(attr(s.find("shims-pick"), "aria-pressed")+attr(s.find("shims-order"), "aria-pressed"), "truefalse")
	for _, e := range all(s.find("shims-table"), "button") {
		at, _ := strconv.Atoi(attr(e, "data-arg"))
		p.want(text(e), p.d.ev.Row(at).Name)
		p.want(s.press(e).Place, "&{0 "+strconv.Itoa(at)+" -1}")
	}
	u := s.presses("Copy")
	p.want(strings.Count(strings.TrimSpace(u.Copy.Text), "\n"), len(pick.Rows))
	p.want(u.Say, strconv.Itoa(len(pick.Rows))+" lines on the clipboard.")
	u = s.presses("Save as CSV")
	p.want(u.File.Name, "Spring shutdown: couplings pick list")
	p.want(u.File.Ending+u.Say, "csv")
	p.want(strings.Contains(u.File.Text, ";"+pick.Header[1]), false)
	s.sends(screens.Event{Name: "paper"})
	if paper := s.reads("paper"); !strings.HasPrefix(paper, "Pick list Spring shutdown: couplings Printed 14 April 2026, 09:30") {
		t.Errorf("%.300s", paper)
	}
	p.want(len(all(s.find("paper"), "button")), 0)
	s.presses("Order list: the whole job")
	p.want(s.last.Focus, "shims-order")
	p.want(attr(s.find("shims-pick"), "aria-pressed")+attr(s.find("shims-order"), "aria-pressed"), "falsetrue")
	shown(&order, "Order list", false)
	u = s.presses("Save as CSV")
	p.want(u.File.Name, "Spring shutdown: couplings order list")
	s.sends(screens.Event{Name: "paper"})
	p.want(strings.HasPrefix(s.reads("paper"), "Order list"), true)
	s.presses("Pick list: foot by foot")
	p.want(s.rows("Pick list")[1][0], pick.Rows[0][0])
	s.quiet = withHeads
	p.want(len(s.controls("List what is in the box", "button")), 0)
	p.sets("Name", "")
	p.want(s.presses("Save as CSV").File.Name, "job pick list")
	p.sets("Decimal sign", "comma")
	u = s.presses("Save as CSV")
	if !strings.Contains(u.File.Text, pick.Header[0]+";"+pick.Header[1]) {
		t.Errorf("%.200s", u.File.Text)
	}
	p.want(s.presses("Copy").Copy.Text != "", true)
}

// A long list comes in pieces, every row of it once and in order.
func TestLongListInPieces(t *testing.T) {
	p := small(t)
	for _, n := range []int{1, 99, 100, 101, 500, 501, 1300} {
		l := screens.Lists{Assumed: true}
		l.Pick.Header = []string{"Machine", "Foot", "Put in", "Pieces"}
		for i := range n {
			l.Pick.Rows = append(l.Pick.Rows, []string{"M" + strconv.Itoa(i/4), "front", strconv.Itoa(i), "2"})
			l.Pick.At, l.Pick.Short = append(l.Pick.At, i/4), append(l.Pick.Short, i%7 == 0)
		}
		l.Order.Header = []string{"Thickness"}
		p.typed(0, "Speed", strconv.Itoa(1000+n))
		s := p.looksAt("shims")
		s.sends(screens.Event{Name: "lists", Arg: s.last.Share, Kind: "shared", Value: l.Pack()})
		for range 20 {
			p.want(attr(s.find("shims-table"), "aria-busy"), map[bool]string{true: "true"}[s.last.Soon != ""])
			if s.last.Soon == "" {
				break
			}
			s.sends(screens.Event{Name: s.last.Soon})
		}
		rows := s.rows("Pick list")
		p.want(len(rows), n+1)
		for i, r := range rows[1:] {
			p.want(r[2], strconv.Itoa(i))
		}
		p.want(s.sends(screens.Event{Name: "more"}).Regions == nil, true)
		p.want(s.presses("List what is in the box").Place, "&{3 -1 -1}")
	}
}

// Texts of a column that are ticked are the condition; one that is taken back is none; each box is its own, and a box that is not there does nothing.
func TestBoxesOfAFilter(t *testing.T) {
	p := demo(t)
	s := p.looksAt("arrange")
	s.chooseFrom(s.find("arrange-filter-0"), s.optionOf("arrange-filter-0", "Verdict"))
	p.want(s.holds(s.find("arrange-op-0")), "e")
	boxes := func() []*html.Node { return all(s.find("arrange-few-0"), "input") }
	if len(boxes()) < 3 {
		t.Fatal(s.reads("arrange-few-0"))
	}
	for k, e := range boxes() {
		p.want(s.called(e), attr(e, "value"))
		p.want(attr(e, "id"), "arrange-filter-0-"+strconv.Itoa(k))
		s.tick(e, true)
	}
	for _, e := range boxes()[1:] {
		s.tick(e, false)
	}
	for _, box := range []string{"filter-0-99", "filter-0--1", "filter-0-x", "filter-9-0", "filter-0"} {
		s.sends(screens.Event{Name: "few", Arg: box, Kind: "change", Value: "true"})
	}
	want := attr(boxes()[0], "value")
	s.presses("Show")
	for _, v := range p.shown("Verdict") {
		p.want(v, want)
	}
	n := len(p.shown("Verdict"))
	s.show()
	p.want(ticked(s), "arrange-filter-0-0")
	s.chooses("Condition", "is not")
	p.want(ticked(s), "arrange-filter-0-0")
	s.presses("Show")
	p.want(len(p.shown("Verdict")), 26-n)
	for _, v := range p.shown("Verdict") {
		p.want(v != want, true)
	}
	s.show()
	s.chooses("Condition", "holds")
	p.want(visible(s.find("arrange-value-0")), true)
	p.want(visible(s.find("arrange-few-0")), false)
	s.chooses("Condition", "is empty")
	p.want(visible(s.find("arrange-value-0")), false)
	s.chooses("Condition", "is filled")
	s.presses("Show")
	p.want(len(p.shown("Verdict")), 26)
}

// optionOf is the text of the choice that begins so.
func (s *person) optionOf(id, begin string) string {
	s.Helper()
	for _, o := range all(s.find(id), "option") {
		if strings.HasPrefix(text(o), begin) && !strings.HasPrefix(text(o), begin+" reason") {
			return text(o)
		}
	}
	s.Fatalf("no %s", begin)
	return ""
}

// Each calculator, in both decimal signs: each field has its name, unit and help, what is missing is needed; its example gives the results that the program gives, each under its name; what is
// blank stands there in the job's decimal sign.
func TestCalculatorsAsSeen(t *testing.T) {
	for _, comma := range []bool{false, true} {
		p := small(t)
		sign := units.Point
		if comma {
			p.sets("Decimal sign", "comma")
			sign = units.Comma
		}
		s := p.looksAt("calc")
		set := p.d.CalcSettings()
		for _, c := range calculators.All() {
			s.presses(c.Title.String())
			for i, k := range c.Inputs {
				e := s.find("calc-" + strconv.Itoa(i))
				about := k.Unit(set.Inch)
				if k.Required {
					about = strings.TrimPrefix(about+", needed", ", ")
				}
				p.want(s.called(e), strings.TrimSpace(k.Title+" "+about))
				p.want(s.reads("calc-"+strconv.Itoa(i)+"-help"), strings.Join(strings.Fields(k.Help.String()), " "))
				blank := attr(e, "placeholder")
				if e.Data == "select" {
					blank = text(all(e, "option")[0])
				}
				if k.Default != "" && !strings.Contains(blank, map[bool]string{true: strings.Replace(k.Default, ".", ",", 1), false: k.Default}[comma && k.Measure != calculators.MChoice]) {
					t.Errorf("%s, %s: a blank field says %q, its default is %q", c.Key, k.Title, blank, k.Default)
				}
				if k.Default == "" && e.Data == "input" && blank != "" {
					t.Errorf("%s, %s: a blank field says %q", c.Key, k.Title, blank)
				}
			}
			s.presses("Fill in the example")
			cells := c.ExampleCells(sign)
			for i := range c.Inputs {
				p.want(s.holds(s.find("calc-"+strconv.Itoa(i))), cells[i])
				p.want(has(s.find("calc-"+strconv.Itoa(i)), "aria-invalid"), false)
			}
			r := c.Row(cells, set)
			if c.Key != "convert" {
				shown := map[string]string{}
				for _, row := range all(s.find("calc-out"), "tr") {
					x := all(row, "th", "td")
					shown[text(x[0])] = text(x[1])
				}
				for i, o := range c.Outputs {
					p.want(shown[o.Title], strings.Join(strings.Fields(r.Texts[i]), " "))
				}
			}
			s.changed() // what was typed is there still
			for i, k := range c.Inputs {
				e := s.find("calc-" + strconv.Itoa(i))
				if e.Data == "select" && k.ChoiceWords() == nil {
					continue
				}
				p.want(s.holds(e), cells[i])
			}
			s.presses("Clear the fields")
			for i := range c.Inputs {
				p.want(s.holds(s.find("calc-"+strconv.Itoa(i))), "")
			}
		}
	}
}

// What the JSON of a problem's severity means to the file that is taken.
func TestNoticesOfATakenFile(t *testing.T) {
	p := begin(t)
	s := p.looksAt("open")
	s.sends(screens.Event{Name: "begin", Key: "list.csv"})
	s.sends(screens.Event{Name: "read", Value: `{"preview":{"format":"csv","encoding":"UTF-8","sheets":[{"name":"list","kind":"machines","why":"by its headers","header_row":1,"rows":2,"last_row":3,"columns":[` +
		`{"col":0,"letter":"A","header":"Machine","key":"machine","name":"Machine","filled":2,"sample":["P-1"]}]}],` +
		`"notices":[{"severity":"note","text":"small"},{"severity":"warning","sheet":"list","row":2,"column":"Machine","col":0,"text":"odd","hint":"look"},{"severity":"error","text":"bad","row":3}]},"rows":[2,0,0]}`})
	s.says("Open list.csv", "A list as text", "UTF-8", "2 rows of machines", "bad", "odd", "Machine", "P-1", "1 note", "small")
	taking, ok := p.d.screen("open").(*screens.OpenFile).Taking()
	p.want(ok, true)
	p.want(taking.Name, "list.csv")
	p.want(taking.Rows, 2)
	for k, want := range []string{"note small", "warning odd", "error bad"} {
		n := taking.Notices[k]
		p.want(n.Severity.String()+" "+n.Text.String(), want)
	}
	s.sends(screens.Event{Name: "closed"})
	p.want(s.said, "list.csv was not opened; nothing is changed.")
	s.sends(screens.Event{Name: "closed"})
	p.want(s.last.Say, "")
	_, ok = p.d.screen("open").(*screens.OpenFile).Taking()
	p.want(ok, false)
}

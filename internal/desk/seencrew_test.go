package desk

import (
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// At the machine: each field has its name and unit, each key of the pad writes what stands on it, in the job's decimal sign; what is typed stands in large digits under the name of its field, and only
// that field is marked as open.
func TestPadWritesWhatItSays(t *testing.T) {
	for _, sign := range []string{".", ","} {
		p := twoPumps(t)
		if sign == "," {
			p.sets("Decimal sign", "comma")
		}
		s := p.looksAt("crew")
		s.says("Previous", "Pump 1", "1 of 2, waiting", "Undo", "Next")
		for at, name := range []string{"Movable rim 12", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9"} {
			in := s.one(name+", mm", "input")
			p.want(attr(in, "id"), "crew-input-"+strconv.Itoa(at))
			p.want(text(s.find("crew-field-" + strconv.Itoa(at)))[:len(name)+3], name+" mm")
			s.sends(screens.Event{Name: attr(in, "data-focused"), Arg: attr(in, "data-arg"), Kind: "focus"})
			p.want(s.reads("crew-asked"), name+", mm")
			p.want(s.last.Select, true)
			open := []string{}
			for k := range 8 {
				if attr(s.find("crew-field-"+strconv.Itoa(k)), "aria-current") == "true" {
					open = append(open, strconv.Itoa(k))
				}
			}
			p.want(open, []string{strconv.Itoa(at)})
		}
		s.sends(screens.Event{Name: "focus", Arg: "0", Kind: "focus"})
		want := ""
		for _, k := range []string{"7", "8", "9", "4", "5", "6", "1", "2", "3", "0", sign, ":"} {
			e := s.one(k, "button")
			p.want(has(e, "data-press"), true)
			s.press(e)
			want += k
			p.want(s.reads("crew-digits"), want)
			p.want(s.holds(s.find("crew-input-0")), want)
			p.want(s.last.Reveal, "crew-field-0")
		}
		for range 3 {
			s.presses("Erase")
			want = want[:len(want)-1]
			p.want(s.reads("crew-digits"), want)
		}
		s.presses("+ / −")
		p.want(s.reads("crew-digits"), "-"+want)
		s.presses("+ / −")
		p.want(s.reads("crew-digits"), want)
		for range len(want) + 1 {
			s.presses("Erase")
		}
		p.want(s.reads("crew-digits"), "–")
		s.typeInto(s.find("crew-input-0"), "+3")
		s.presses("+ / −")
		p.want(s.reads("crew-digits"), "-3")
		s.presses("Enter")
		p.want(p.cell(0, 7), "-3")
		p.want(s.reads("crew-asked"), "Movable rim 3, mm")
		s.presses("Up")
		p.want(s.reads("crew-asked"), "Movable rim 12, mm")
		s.presses("Erase") // the first key begins anew: what stands there goes as a whole
		p.want(s.reads("crew-digits"), "–")
	}
}

// cell is a cell of the Machines sheet, by column as pasted.
func (p page) cell(row, column int) string {
	if r := p.d.job.Machines.Rows[row]; column < len(r) {
		return r[column]
	}
	return ""
}

// The way to the next and back: buttons at the ends are off, the place is told, what is undone is in the first place the draft.
func TestCrewWays(t *testing.T) {
	p := twoPumps(t)
	s := p.looksAt("crew")
	off := func(id string) bool { return has(s.find(id), "disabled") }
	p.want([]bool{off("crew-previous"), off("crew-next")}, "[true false]")
	s.presses("Next")
	p.want(s.said, "Pump 2, 2 of 2.")
	p.want(s.last.Finger, "crew-next")
	p.want([]bool{off("crew-previous"), off("crew-next")}, "[false true]")
	s.presses("Previous")
	p.want(s.said, "Pump 1, 1 of 2.")
	p.want(s.last.Finger, "crew-previous")
	s.typeInto(s.find("crew-input-0"), "4")
	p.want(off("crew-undo"), false)
	s.presses("Undo")
	p.want(s.holds(s.find("crew-input-0")), "")
	s.typeInto(s.find("crew-input-0"), "0.5")
	s.presses("Enter")
	p.want(p.cell(0, 7), "0.5")
	s.presses("Undo")
	p.want(p.cell(0, 7), "")
	p.want(s.holds(s.find("crew-input-0")), "")
	// a key in a field, and one that is the page's
	s.typeInto(s.find("crew-input-0"), "1")
	s.keysIn("crew-input-0", "ArrowDown")
	p.want(p.cell(0, 7), "1")
	s.typeInto(s.find("crew-input-1"), "2")
	s.keysIn("crew-input-1", "Escape")
	p.want(s.holds(s.find("crew-input-1")), "")
	p.want(p.cell(0, 8), "")
	p.want(s.keysIn("crew-input-1", "Escape").Pass, true)
	// typing into another field takes the one before
	s.typeInto(s.find("crew-input-1"), "2")
	s.typeInto(s.find("crew-input-3"), "3")
	p.want(p.cell(0, 8), "2")
	p.want(s.reads("crew-asked"), "Movable rim 9, mm")
	p.want(s.reads("crew-digits"), "3")
	s.sends(screens.Event{Name: "left", Arg: "0"}) // of another field: nothing
	p.want(p.cell(0, 10), "")
	s.sends(screens.Event{Name: "left", Arg: "3"})
	p.want(p.cell(0, 10), "3")
	s.typeInto(s.find("crew-input-4"), "7")
	s.sends(screens.Event{Name: "settle"})
	p.want(p.cell(0, 11), "7")
	// what stands above is what is said of the machine, and marked so
	s.says("Not judged: Stationary rim 3 is missing.")
	p.want(strings.HasPrefix(attr(s.find("crew-verdict"), "class"), "crew-verdict v"), true)
	// among the rows shown
	p.ask("arrange", "", "Machine\te\tPump 2\n")
	s.changed()
	s.says("1 of 1 (")
	p.want([]bool{off("crew-previous"), off("crew-next")}, "[true true]")
}

// The chooser: machines with how they stand, each leads to its own; Escape closes it, a second press too.
func TestCrewChooser(t *testing.T) {
	p := demo(t)
	s := p.looksAt("crew")
	pick := func() { s.press(s.find("crew-pick")) }
	p.want(attr(s.find("crew-pick"), "aria-label"), "Intake, raw water pump 1 motor: choose another machine")
	pick()
	p.want(s.last.Focus, "crew-search")
	list := all(s.find("crew-list"), "button")
	p.want(len(list), 26)
	for k, e := range list {
		r := p.d.ev.Row(k)
		p.want(text(e), r.Name+" "+r.StateWord().String()+", "+r.Verdict.String())
	}
	s.typeInto(s.find("crew-search"), "PUMP lift 3")
	p.want(len(all(s.find("crew-list"), "button")), 1)
	s.press(all(s.find("crew-list"), "button")[0])
	s.says("High lift, pump 3 motor", "11 of 26, found")
	p.want(s.last.Window, "always")
	p.want(s.reads("crew-chooser"), "")
	pick()
	pick()
	p.want(s.reads("crew-chooser"), "")
	pick()
	s.keysIn("crew-search", "Escape")
	p.want(s.reads("crew-chooser"), "")
	pick()
	s.typeInto(s.find("crew-search"), "nothing like it")
	s.keysIn("crew-search", "Enter")
	s.says("High lift, pump 3 motor")
	s.typeInto(s.find("crew-search"), "booster 2")
	s.keysIn("crew-search", "Enter")
	s.says("Reservoir, booster 2 motor")
	// the card of this job and round is right, others are said
	code := func(text string) string {
		pick()
		s.sends(screens.Event{Name: "find", Kind: "input", Value: text, Key: "paste"})
		return s.said
	}
	p.want(code("shimsheet-card:Spring shutdown: couplings/Reservoir, booster 2 motor/found"), "Card of Reservoir, booster 2 motor, round found.")
	p.want(code("shimsheet-card:Spring shutdown: couplings/Filter hall, scour blower A motor/1"), "Card of Filter hall, scour blower A motor, round 1.")
	// the rounds of a machine, each with how it was and what can be done with it
	s.says("Rounds", "1", "day 1, 16:10, crew B, struck: the bracket touched the guard")
	// a machine whose rounds are all struck says so
	strikes := 0
	for _, e := range s.controls("Strike…", "button") {
		_ = e
		strikes++
	}
	r := p.d.ev.Row(p.d.ev.RowOf("Filter hall, scour blower A motor"))
	counts := 0
	for _, x := range r.Rounds {
		if x.Struck == "" {
			counts++
		}
	}
	p.want(strikes, counts)
	for range strikes {
		s.press(s.controls("Strike…", "button")[0])
		p.want(s.last.Focus, "crew-why")
		s.typeInto(s.find("crew-why"), "the base was cold")
		s.presses("Strike it")
		s.says("struck: the base was cold")
	}
	p.want(len(s.controls("Strike…", "button")), 0)
}

// Who read the round, how warm it was, with what: the form shows what stands there, takes what is changed, and leaves what is not.
func TestCrewAbout(t *testing.T) {
	p := demo(t)
	s := p.looksAt("crew")
	s.sends(screens.Event{Name: "go", Arg: strconv.Itoa(p.d.ev.RowOf("Filter hall, scour blower A motor"))})
	s.presses("About this round…")
	p.want(s.last.Focus, "crew-about-0")
	names, texts, _ := p.d.ev.RoundAbout(p.d.ev.RowOf("Filter hall, scour blower A motor"))
	for k, name := range names {
		e := s.one(name, "input")
		p.want(attr(e, "id"), "crew-about-"+strconv.Itoa(k))
		p.want(s.holds(e), texts[k])
		p.want(attr(e, "title") != "", k == len(names)-1)
	}
	before := p.job()
	s.presses("Take them")
	p.want(p.job() == before, true)
	s.presses("About this round…")
	s.types(names[0], "Lee")
	s.presses("Take them")
	_, now, _ := p.d.ev.RoundAbout(p.d.ev.RowOf("Filter hall, scour blower A motor"))
	p.want(now[0], "Lee")
	p.want(now[1:], texts[1:])
	s.presses("About this round…")
	s.types(names[0], "Kim")
	s.presses("Not now")
	p.want(s.reads("crew-form"), "")
	_, now, _ = p.d.ev.RoundAbout(p.d.ev.RowOf("Filter hall, scour blower A motor"))
	p.want(now[0], "Lee")
	// pasted where the browser asks first
	s.presses("Paste")
	s.sends(screens.Event{Name: "pasted", Kind: "none"})
	p.want(s.last.Focus, "crew-text")
	s.presses("Not now")
	p.want(s.reads("crew-form"), "")
	if !strings.HasPrefix(s.last.Focus, "crew-input-") {
		t.Errorf("%q", s.last.Focus)
	}
}

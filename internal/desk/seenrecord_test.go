package desk

import (
	"strings"
	"testing"

	"shimsheet/internal/screens"
)

// The record of a machine: what was found, each number under its head and each check with its own; what belongs to it is added and comes back, a signature holds and says so when it holds no more.
func TestRecordAsSeen(t *testing.T) {
	p := demo(t)
	s := p.looksAt("record")
	s.chooses("Machine", "Filter hall, scour blower A motor: round 1")
	p.want(s.chosen("Machine"), "Filter hall, scour blower A motor: round 1")
	s.says("Record of a machine", "Machine Filter hall, scour blower A motor", "State round 1", "Verdict", "Limits offset", "Work order S-4203", "Results, with ± where there is one", "Rounds", "Readings that count", "Checks", "Sign")
	r := p.d.ev.Row(p.d.ev.RowOf("Filter hall, scour blower A motor"))
	rounds := s.rows("Round")
	p.want(len(rounds)-1, len(r.Rounds))
	p.want(rounds[0][:5], "[Round When By Done Verdict]")
	for k, x := range r.Rounds {
		row := rounds[k+1]
		name := x.Name
		if x.Struck != "" {
			name += ", struck: " + x.Struck
		}
		p.want(row[:5], []string{name, x.When, x.By, x.Done, x.Verdict.String()})
		for n, v := range []float64{x.Offset.V, x.Offset.H, x.Slope.V, x.Slope.H} {
			want := ""
			switch {
			case v != v: // NaN
			case n < 2:
				want = string(p.d.ev.AppendThickness(nil, v))
			default:
				want = string(p.d.ev.AppendSlope(nil, v))
			}
			p.want(row[5+n], want)
		}
	}
	if !strings.Contains(strings.Join(rounds[2], "|")+strings.Join(rounds[1], "|"), "struck: the bracket touched the guard") {
		t.Errorf("%v", rounds)
	}
	// the numbers are those of the panel
	numbers := map[string]string{}
	p.did(func(d *Desk) { d.LookAt(d.ev.RowOf(r.Name)) })
	for _, n := range p.d.Numbers() {
		numbers[n[0]] = n[1]
	}
	results := 0
	for _, table := range all(s.find("screen-record"), "table") {
		for _, row := range all(table, "tr") {
			cells := all(row, "th", "td")
			if want, ok := numbers[text(cells[0])]; ok && len(cells) == 2 {
				results++
				p.want(text(cells[1]), want)
			}
		}
	}
	if results < 7 {
		t.Errorf("%d numbers", results)
	}
	s.chooses("Machine", "Intake, raw water pump 1 motor: found")
	checks := s.rows("Check")
	if len(checks) != 7 {
		t.Errorf("%v", checks)
	}
	p.want(checks[1], "[hub runout movable 0.015 0.025 mm common practice, no source crew A day 1 done]")
	p.want(checks[4], "[final torque  145 N·m works' sheet of bolts   open]")
	s.says("Shims under each foot now", "front 9 0.50 + 0.20", "rear 3 0.50 + 0.10")
	s.says("What is signed here is: outside.")

	// what is typed is kept while other things are done
	before := p.job()
	s.press(s.find("record-add-instrument"))
	p.want(s.said, "There is nothing in the first field.")
	s.says(s.said)
	p.want(p.job() == before, true)
	s.typeInto(s.find("record-instrument"), " dial <7> ")
	s.typeInto(s.find("record-certificate"), "MR-7")
	s.typeInto(s.find("record-due"), "2027-01-31")
	s.typeInto(s.find("record-deviation"), "left so until the foot is milled")
	s.typeInto(s.find("record-allowed_by"), "Kim")
	s.changed()
	p.want(s.holds(s.find("record-certificate")), "MR-7")
	s.press(s.find("record-add-instrument"))
	p.want(s.rows("Instrument"), "[[Instrument Certificate Due (2026-11-30)] [dial <7> MR-7 2027-01-31]]")
	p.want(s.holds(s.find("record-instrument"))+s.holds(s.find("record-certificate"))+s.holds(s.find("record-due")), "")
	p.want(s.holds(s.find("record-allowed_by")), "Kim")
	s.press(s.find("record-add-deviation"))
	p.want(s.rows("Deviation"), "[[Deviation Allowed by] [left so until the foot is milled Kim]]")

	// the signature: drawn, wiped, typed
	pen := func(strokes string) { s.sends(screens.Event{Name: "pen", Kind: "pen", Value: strokes}) }
	lines := func() (out []string) {
		for _, e := range all(s.find("record-pen"), "polyline") {
			out = append(out, attr(e, "points"))
		}
		return out
	}
	pen("pen:10,20 30,40 50,60;7,9")
	s.changed()
	p.want(lines(), "[10,20 30,40 50,60 7,9 8,9]") // a point is drawn as a short line
	s.presses("Wipe the field")
	p.want(lines(), "[]")
	pen("pen:10,20 30,40")
	s.chooses("As", "witness")
	before = p.job()
	s.presses("Sign this record")
	if p.job() != before || s.said == "" || s.alert() == nil {
		t.Errorf("signed without a name: %q", s.said)
	}
	p.want(s.chosen("As"), "witness")
	s.typeInto(s.find("record-signed_by"), "Kim")
	s.presses("Sign this record")
	p.want(s.said, "Intake, raw water pump 1 motor is signed.")
	if s.alert() != nil {
		t.Error(text(s.alert()))
	}
	p.want(lines(), "[]")
	s.says("Kim, witness, 2026-04-14 09:30: signed", "outside; found; offset V 0.3110", "SHA-256")
	if svg := all(s.find("screen-record"), "svg"); attr(svg[0], "aria-label") != "Signature of Kim" || len(all(svg[0], "polyline")) != 1 {
		t.Error("the strokes are not drawn")
	}
	u := s.presses("Save the text that was signed")
	if u.File == nil || !strings.HasPrefix(u.File.Name, "record-row-") || !strings.Contains(u.File.Text, "Intake, raw water pump 1 motor") || !strings.Contains(u.Say, u.File.Name) {
		t.Errorf("%+v", u)
	}
	mark := func(name string) (out []string) {
		for _, e := range all(s.find("screen-record"), "div") {
			if strings.HasPrefix(attr(e, "class"), name) {
				out = append(out, attr(e, "class"))
			}
		}
		return out
	}
	p.want(mark("signature"), "[signature holds]")
	p.typed(0, "Speed", "1234")
	s.changed()
	p.want(mark("signature"), "[signature not]")
	s.says("Kim, witness, 2026-04-14 09:30: changed since signed")
	p.ask("undo")

	// pictures
	s.typeInto(s.find("record-caption"), " the foot ")
	s.brings("photo", "notes.txt", "nothing")
	if s.alert() == nil {
		t.Error("a text is no picture")
	}
	s.brings("photo", "foot.png", dot)
	if s.alert() != nil || !strings.Contains(s.said, "foot.png") {
		t.Errorf("%q", s.said)
	}
	img := all(s.find("screen-record"), "img")
	if len(img) != 1 || attr(img[0], "src") != dot || attr(img[0], "alt") != "Photo of Intake, raw water pump 1 motor" {
		t.Errorf("%v", img)
	}
	s.says("the foot · ")
	p.want(s.holds(s.find("record-caption")), "")
	s.brings("photo", "bare.png", dot)
	if caps := all(s.find("screen-record"), "figcaption"); len(caps) != 2 || strings.HasPrefix(text(caps[1]), "·") {
		t.Errorf("%v", len(caps))
	}
	s.brings("logo", "logo.png", dot)
	if img = all(s.find("screen-record"), "img"); len(img) != 3 || attr(img[0], "alt") != "Logo" {
		t.Errorf("%d pictures", len(img))
	}

	// the paper has the record and no form
	s.sends(screens.Event{Name: "paper"})
	if paper := s.reads("paper"); !strings.Contains(paper, "Record of a machine") || strings.Contains(paper, "Sign this record") || !strings.Contains(paper, "Kim, witness") {
		t.Errorf("%.500s", paper)
	}

	// the whole job
	s.chooses("Machine", "whole job")
	s.says("Record of the job", "Machines")
	whole := s.rows("Machine")
	p.want(whole[0], "[Machine State Verdict Signed by]")
	seen := 0
	for i := range p.d.ev.Len() {
		r := p.d.ev.Row(i)
		for _, row := range whole[1:] {
			if row[0] == r.Name {
				seen++
				p.want(row[1:3], []string{r.StateWord().String(), r.Verdict.String()})
				if (row[3] != "") != (r.Name == "Intake, raw water pump 1 motor" || strings.Contains(row[1], "signed")) {
					t.Errorf("%v", row)
				}
			}
		}
	}
	p.want(seen, 26)
	for _, row := range whole[1:] {
		if row[0] == "Intake, raw water pump 1 motor" {
			p.want(row[3], "Kim 2026-04-14 09:30")
		}
	}
	if strings.Contains(s.reads(), "What is signed here is") {
		t.Error("no machine is signed here")
	}
	s.show() // the whole job stays chosen
	p.want(s.chosen("Machine"), "whole job")

	// a machine that is gone says so
	s.chooses("Machine", "Reservoir, booster 2 motor: found")
	p.typed(p.d.ev.RowOf("Reservoir, booster 2 motor"), "Machine", "Reservoir, booster 9 motor")
	s.changed()
	s.says("Reservoir, booster 2 motor is no longer on the sheet Machines.")
	// one inside its limits is signed without a word of warning
	s.chooses("Machine", "Reservoir, standby diesel drive: found")
	if strings.Contains(s.reads(), "What is signed here is") {
		t.Error("it is inside")
	}
}

package desk

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
)

// twoPumps is a page with two machines that are read with dials; all of their readings are blank.
func twoPumps(t testing.TB) page {
	p := begin(t)
	const head = "Machine\tSpeed\tCoupling\tCoupling to stationary plane\tCoupling to movable plane\tCoupling to front feet\tFront to rear feet\t" +
		"Movable rim 12\tMovable rim 3\tMovable rim 6\tMovable rim 9\tStationary rim 12\tStationary rim 3\tStationary rim 6\tStationary rim 9\n"
	const row = "\t1480\tshort\t100\t100\t300\t500\t\t\t\t\t\t\t\t\n"
	p.paste(head + "Pump 1" + row + "Pump 2" + row)
	p.ask("work", 60_000)
	return p
}

// open is the field of One by one that is open.
func (s *shownScreen) open() int {
	s.Helper()
	at := -1
	for i := range 12 {
		if s.attribute("crew-field-"+strconv.Itoa(i), "aria-current") != "" {
			if at >= 0 {
				s.Fatalf("fields %d and %d are open", at, i)
			}
			at = i
		}
	}
	return at
}

// keys presses keys of the pad.
func (s *shownScreen) keys(list ...string) {
	s.Helper()
	for _, k := range list {
		s.does("key", k)
	}
}

// reading is a cell of the job's Machines sheet, by column as pasted.
func (s *shownScreen) reading(row, column int) string {
	if r := s.d.job.Machines.Rows[row]; column < len(r) {
		return r[column]
	}
	return ""
}

// The pad: digits, sign, erase; the first key begins anew; Enter goes to the next empty field, and after the last to what it comes to.
func TestCrewPad(t *testing.T) {
	s := twoPumps(t).show("crew")
	s.has("screen-crew", "1 of 2, waiting")
	s.want(s.open(), 0)
	s.want(s.last["focus"], "crew-input-0")
	s.want(s.last["finger"], "-") // no keyboard comes up on a phone
	s.keys("1", ".", "2", "3", "back", "5", "sign")
	s.want(s.values["crew-input-0"], "-1.25")
	s.want(s.regions["crew-digits"], "-1.25")
	s.want(s.reading(0, 7), "") // a draft until the field is left
	s.keys("sign")
	s.want(s.values["crew-input-0"], "1.25")
	s.keys("down")
	s.want(s.reading(0, 7), "1.25")
	s.want(s.open(), 1)
	s.want(s.regions["crew-digits"], "–")
	s.has("crew-clock", "<svg")
	s.does("focus", "4", "focus")
	s.keys("7", "up")
	s.want(s.reading(0, 11), "7")
	s.want(s.open(), 3)
	s.keys("down")
	s.want(s.open(), 5) // empty; what is filled between is passed over
	s.does("focus", "0", "focus")
	s.want(s.attribute("crew-input-0", "data-fresh"), "=")
	s.keys("3")
	s.want(s.attribute("crew-input-0", "data-fresh"), "")
	s.want(s.values["crew-input-0"], "3")
	s.keys("back", "back", "sign")
	s.want(s.values["crew-input-0"], "-")
	s.does("keyed", "0", "keydown", "", "Escape")
	s.want(s.values["crew-input-0"], "1.25")
	s.does("keyed", "0", "keydown", "", "Escape")
	s.want(s.last["pass"], true) // nothing to leave: the key is the page's
	for i, v := range []string{"0", "0.1", "0.2", "0.1", "0", "-0.1", "-0.2", "-0.1"} {
		s.does("focus", strconv.Itoa(i), "focus")
		s.does("typed", strconv.Itoa(i), "input", v)
		s.does("keyed", strconv.Itoa(i), "keydown", v, "Enter")
		s.want(s.reading(0, 7+i), v)
	}
	s.want(s.last["read"], "crew-says")
	s.has("crew-says", "What to do")
	// what was left out is gone to before that
	s.does("focus", "2", "focus")
	s.does("typed", "2", "input", "")
	s.does("keyed", "2", "keydown", "", "ArrowUp")
	s.want(s.reading(0, 9), "")
	s.does("focus", "7", "focus")
	s.keys("down")
	s.want(s.open(), 2)
}

// What is typed is taken by the way to another machine, by leaving the field and by leaving the screen; Undo takes first the draft and then the last step.
func TestCrewTakes(t *testing.T) {
	s := twoPumps(t).show("crew")
	s.want(s.attribute("crew-undo", "disabled") == "", false == (s.d.LastUndo() == ""))
	s.keys("4")
	s.does("step", "1")
	s.want(s.reading(0, 7), "4")
	s.want(s.said, "Pump 2, 2 of 2.")
	s.want(s.last["finger"], "crew-next")
	s.has("screen-crew", "Pump 2")
	s.want(s.ask("state")["stored"], 1.0) // the sheet stands there afterwards
	s.does("typed", "0", "input", "6")
	s.does("left", "0", "change", "6")
	s.want(s.reading(1, 7), "6")
	s.keys("8")
	s.does("undo", "")
	s.want(s.values["crew-input-0"], "6")
	s.want(s.reading(1, 7), "6")
	s.does("keyed", "0", "keydown", "6", "Control+z")
	s.want(s.reading(1, 7), "")
	if !strings.HasPrefix(s.said, "Undone: ") {
		t.Errorf("said %q", s.said)
	}
	s.keys("9")
	s.apply(s.ask("screen", "crew", "hide"))
	s.want(s.reading(1, 7), "9")
	s.want(fmt.Sprint(s.ask("screen", "crew", "changed", "1366")["regions"]), "[]") // nobody looks at it
}

// A reading that cannot be read is said with its field, and marked; a draft stays when the job changes beside it, as does where its next key goes.
func TestCrewWrong(t *testing.T) {
	s := twoPumps(t).show("crew")
	s.does("typed", "0", "input", "12,5,0")
	s.does("keyed", "0", "keydown", "12,5,0", "Enter")
	if !strings.HasPrefix(s.said, "Movable rim 12: ") {
		t.Errorf("said %q", s.said)
	}
	s.want(s.attribute("crew-input-0", "aria-invalid"), "=true")
	s.has("crew-hint-0", "12,5,0")
	s.keys("1", "2")
	s.d.PutCell(0, 0, 1, "1000")
	s.apply(s.ask("screen", "crew", "changed", "1366"))
	s.want(s.values["crew-input-1"], "12")
	s.keys("5")
	s.want(s.values["crew-input-1"], "125")
	s.keys("back", "back", "back") // as it is in the job: the next key adds to it all the same
	s.apply(s.ask("screen", "crew", "changed", "1366"))
	s.keys("3", "4")
	s.apply(s.ask("screen", "crew", "changed", "1366"))
	s.keys("5")
	s.want(s.values["crew-input-1"], "345")
}

// Rounds: begun, pasted into, described, struck with a reason; what was found stays as it is.
func TestCrewRounds(t *testing.T) {
	s := twoPumps(t).show("crew")
	s.does("paste", "")
	s.want(s.last["paste"], "pasted")
	s.does("pasted", "", "none") // the browser asks first
	s.has("crew-form", "<textarea")
	s.want(s.last["focus"], "crew-text")
	s.does("pasted", "", "submit", "text\x1f0\t0.10\t0.2\t0.1\n0 -0.1;-0.2 -0.1 9")
	s.want(s.said, "Not pasted: 9 values for 8 fields from here on.")
	s.want(s.regions["crew-form"], "")
	s.does("pasted", "", "pasted", " \n")
	s.want(s.said, "There was nothing to paste.")
	s.does("pasted", "", "pasted", "0\t0.10\t0.2\t0.1\n0 -0.1;-0.2 -0.1")
	s.want(s.said, "8 readings pasted, from Movable rim 12 on.")
	s.want(s.reading(0, 14), "-0.1")
	s.has("screen-crew", "New round 1")
	s.does("new", "0")
	s.want(s.said, "Round 1 of Pump 1 begins.")
	s.has("screen-crew", "1 of 2, round 1")
	s.want(s.values["crew-input-1"], "")
	s.keys("5", "down")
	s.want(s.reading(0, 7), "0") // found is not written over
	s.does("about", "")
	s.has("crew-form", "By")
	s.does("about", "")
	s.want(s.regions["crew-form"], "")
	s.does("about", "")
	s.does("described", "", "submit", "0\x1fKim\x1e1\x1f\x1e2\x1fdial 0417\x1e3\x1f\x1e4\x1f")
	job := s.job()
	for _, want := range []string{"Kim", "dial 0417", "2026-04-14 09:30"} {
		if !strings.Contains(job, want) {
			t.Errorf("the job lacks %q", want)
		}
	}
	s.has("crew-says", "Kim")
	s.does("about", "")
	s.does("described", "", "submit", "0\x1f\x1e1\x1f\x1e2\x1fdial 0417\x1e3\x1f\x1e4\x1f")
	if strings.Contains(s.job(), "Kim") || !strings.Contains(s.job(), "dial 0417") { // Seen: a field emptied under About this round kept its text
		t.Error("who read it was taken out, and stays in the job")
	}
	s.does("strike", "0 1")
	s.has("crew-form", "Round 1 does not count, because")
	s.want(s.last["centre"], true)
	s.does("struck", "", "submit", "0 1\x1f  ")
	s.want(s.said, "A round is struck with a reason: write why it does not count.")
	s.has("crew-form", "because")
	s.does("struck", "", "submit", "0 1\x1fthe bracket slipped")
	s.has("crew-says", "struck: the bracket slipped")
	s.want(s.regions["crew-form"], "")
	s.does("new", "2")
	s.has("screen-crew", ", hot")
	s.does("strike", "-1 found")
	s.does("notNow", "struck")
	s.want(s.regions["crew-form"], "")
}

// A machine is found by words of its name and by the code of its card, which also says where the card is of another job or round.
func TestCrewFinds(t *testing.T) {
	s := twoPumps(t).show("crew")
	s.does("choose", "")
	s.has("crew-chooser", "Pump 1")
	s.does("find", "", "input", "2 pu")
	s.has("crew-list", "Pump 2")
	if strings.Contains(s.regions["crew-list"], "Pump 1") {
		t.Error("Pump 1 has no 2")
	}
	s.does("find", "", "input", "pump 3")
	s.has("crew-list", "No machine of the list fits.")
	s.does("find", "", "keydown", "pump 3", "Enter")
	s.has("screen-crew", "Pump 1")
	s.does("find", "", "keydown", "pump 2", "Enter")
	s.has("screen-crew", "Pump 2")
	s.want(s.last["window"], "always")
	s.does("choose", "")
	s.does("find", "", "input", "shimsheet-card:/Pump 1/found", "paste")
	s.has("screen-crew", "Pump 1")
	s.want(s.said, "Card of Pump 1, round found; what is open here is waiting. A new round is begun by its button.")
	s.does("choose", "")
	s.does("find", "", "keydown", "shimsheet-card:spring/Pump 2/waiting", "Enter")
	s.has("screen-crew", "Pump 2")
	s.want(s.said, "This card was printed from the job spring; this job is without a name. Look before you type. Card of Pump 2, round waiting.")
	s.does("choose", "")
	s.does("find", "", "keydown", "shimsheet-card:/Pump 9/1", "Enter")
	s.want(s.said, "This card is of Pump 9, job without a name: this job has no such machine.")
	s.does("find", "", "keydown", "", "Escape")
	s.want(s.last["focus"], "crew-pick")
	s.want(s.regions["crew-chooser"], "")
}

// Where nothing is to be read it is said why, and what helps.
func TestCrewEmpty(t *testing.T) {
	p := begin(t)
	s := p.show("crew")
	s.has("screen-crew", "There is no coupling yet.")
	s.keys("1")
	p.paste("Machine\tSpeed\nPump 1\t1480\n")
	s = p.show("crew")
	s.has("screen-crew", "This row has no columns for readings.")
	s.does("sheet", "")
	p.want(s.last["place"], "[0 0 -1]")
	p.ask("arrange", "", "Machine\te\tnone such\n")
	s.apply(s.ask("screen", "crew", "changed", "1366"))
	s.has("screen-crew", `data-do="showAll"`)
}

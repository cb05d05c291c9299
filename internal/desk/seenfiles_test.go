package desk

import (
	"strconv"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"shimsheet/internal/screens"
)

// brings hands a file to the screen, as the browser read it.
func (s *person) brings(event, file, text string) screens.Update {
	s.Helper()
	return s.sends(screens.Event{Name: event, Kind: "file", Key: file, Value: text})
}

// cannotRead hands over a file that the browser could not read.
func (s *person) cannotRead(event, file, why string) {
	s.Helper()
	s.sends(screens.Event{Name: event, Kind: "refused", Key: file, Value: why})
}

// What crews bring back: each file is listed with its answers, a question has every text with the files that have it, an answer stays when another file comes or the job changes, what is merged is the answers, and
// Forget leaves the job as it was.
func TestMergeAsSeen(t *testing.T) {
	p := small(t)
	base := p.job()
	p.typed(0, "Given offset V", "0.05")
	p.typed(1, "Speed", "2980")
	theirs := p.job()
	p = small(t)
	p.typed(0, "Given offset V", "0.03")
	mine := p.job()
	s := p.looksAt("merge")
	if s.find("merge-do") != nil {
		t.Error("nothing is there to be merged")
	}
	s.sends(screens.Event{Name: "merge"}) // nothing was brought: nothing happens
	s.cannotRead("file", "wide.bin", "too large")
	s.says("wide.bin: too large")
	p.want(s.said, "wide.bin: too large")
	s.brings("file", "cut.json", "{")
	if !strings.HasPrefix(s.said, "cut.json: ") || strings.Contains(s.reads(), "too large") || attr(s.alert(), "role") != "alert" {
		t.Errorf("%q, %s", s.said, s.reads())
	}
	s.brings("file", "east.json", theirs)
	if s.alert() != nil || s.said == "" {
		t.Error("what was said of another file stands there still")
	}
	s.says("east.json, never saved, without a checksum", "No earlier state", "Changed in more than one", "Machines, Pump 1, readings", "east.json: Given offset V [mm] 0.05", "the job at hand: Given offset V [mm] 0.03",
		"Machines, Pump 2, Speed [rpm]", "east.json: Speed [rpm] 2980", "the job at hand: Speed [rpm] 1480", "2 questions are open.")
	p.want(s.rows("Sheet")[1:], "[[Machines Pump 1 readings changed in more than one ] [Machines Pump 2 Speed [rpm] changed in more than one ]]")
	if !has(s.find("merge-do"), "disabled") {
		t.Error("merged with a question open")
	}
	answer := func(id string) {
		s.sends(screens.Event{Name: attr(s.find(id), "data-on"), Arg: attr(s.find(id), "data-arg"), Kind: "change", Value: "true"})
		if !has(s.find(id), "checked") {
			t.Errorf("%s is not chosen", id)
		}
	}
	answer("merge-1-0")
	s.says("1 question is open.")
	for _, nowhere := range []string{"", "0", "0 9", "9 0", "-1 0", "0 -1", "x y"} {
		s.sends(screens.Event{Name: "answer", Arg: nowhere})
	}
	if got := ticked(s); got != "merge-1-0" {
		t.Errorf("answered: %s", got)
	}
	s.brings("file", "east.json", theirs) // the same file again is the same file
	if strings.Count(s.reads(), "east.json, never") != 1 || ticked(s) != "merge-1-0" {
		t.Errorf("%s: %s", ticked(s), s.reads())
	}
	p.typed(2, "Speed", "1490") // the job changes meanwhile; the question is the same still
	s.changed()
	if got := ticked(s); got != "merge-1-0" {
		t.Errorf("after the job changed: %s", got)
	}
	s.brings("file", "base.json", base) // Pump 2 is another question now
	if got := ticked(s); got != "" {
		t.Errorf("an answer to another question: %s", got)
	}
	s.presses("Forget the files")
	if strings.Contains(s.reads(), "json,") || s.find("merge-do") != nil {
		t.Error(s.reads())
	}
	p.ask("undo")
	p.want(p.job() == mine, true)
	s.brings("file", "east.json", theirs)
	answer("merge-0-0")
	answer("merge-1-0")
	s.says("Nothing is open.")
	s.presses("Merge")
	p.want(s.said, "2 files merged. Ctrl+Z on the sheet brings back what was there before.")
	s.says(s.said)
	if s.find("merge-do") != nil || strings.Contains(s.reads(), "east.json") || s.alert() != nil {
		t.Error("merged, and asked still")
	}
	p.want(p.d.job.Machines.Rows[0][2], "0.05")
	p.want(p.d.job.Machines.Rows[1][8], "2980")
}

// alert is what is said at once.
func (s *person) alert() (e *html.Node) {
	for _, root := range s.own() {
		each(root, func(x *html.Node) bool {
			if attr(x, "role") == "alert" && text(x) != "" {
				e = x
			}
			return true
		})
	}
	return e
}

// ticked are the ids of what is ticked or chosen.
func ticked(s *person) string {
	var out []string
	for _, root := range s.own() {
		for _, e := range all(root, "input") {
			if has(e, "checked") {
				out = append(out, attr(e, "id"))
			}
		}
	}
	return strings.Join(out, " ")
}

// numbersUnderEachOther wants the class of numbers for the columns of a table whose heads bear a unit or a ±, and for no other with words in it.
func (s *person) numbersUnderEachOther(table *html.Node) {
	s.Helper()
	var heads []string
	for _, r := range all(table, "tr") {
		if heads == nil {
			for _, h := range all(r, "th") {
				heads = append(heads, text(h))
			}
			continue
		}
		at := 0
		for c := r.FirstChild; c != nil; c = c.NextSibling {
			if num, want := attr(c, "class") == "num", strings.Contains(heads[at], "[") || heads[at] == "±"; num != want {
				s.Errorf("%s: under %q stands %q as a number: %v", s.name, heads[at], text(c), num)
			}
			at++
		}
	}
}

// The same machines in older jobs: each file stands once, what cannot be read says so, every line is what the command's list says, and Forget leaves nothing.
func TestHistoryAsSeen(t *testing.T) {
	p := small(t)
	p.typed(0, "Given offset V", "0.05")
	older := p.job()
	p = small(t)
	s := p.looksAt("history")
	if len(s.controls("Forget the files", "button")) != 0 {
		t.Error("there is nothing to forget")
	}
	s.cannotRead("file", "wide.bin", "too large")
	s.says("wide.bin: too large")
	p.want(s.last.Say, "wide.bin: too large")
	s.brings("file", "cut.json", "{")
	if s.alert() == nil || !strings.HasPrefix(s.last.Say, "cut.json: ") || strings.Contains(s.reads(), "too large") {
		t.Error(s.reads())
	}
	s.brings("file", "before.json", older)
	if s.alert() != nil || s.last.Say != "" {
		t.Error("what was said of another file stands there still")
	}
	s.brings("file", "before.json", older)
	if strings.Count(s.reads(), "before.json") != 1+3 { // in the list, and at three machines
		t.Error(s.reads())
	}
	rows := s.rows("Machine")
	p.want(rows[1][0]+" "+rows[1][2], "Pump 1 before.json")
	p.want(rows[1][5], "-0.04") // 0.01 found now, 0.05 then: worked out by hand
	p.want(rows[2][5], "0")
	s.numbersUnderEachOther(all(s.find("screen-history"), "table")[0])
	if s.alert() != nil || !strings.Contains(s.reads(), "Compared is what was found now") {
		t.Error(s.reads())
	}
	if region := s.regionCalled("History, 3 rows"); region == nil {
		t.Error("the table is not named with its rows")
	}
	u := s.presses("Save as CSV")
	if u.File == nil || u.File.Name != "history.csv" || !strings.Contains(u.File.Text, "Pump 1,") || strings.Count(u.File.Text, "\n") < 4 {
		t.Errorf("%+v", u.File)
	}
	p.sets("Decimal sign", "comma")
	if u = s.presses("Save as CSV"); !strings.Contains(u.File.Text, "Pump 1;") {
		t.Errorf("%+v", u.File)
	}
	s.presses("Forget the files")
	if strings.Contains(s.reads(), "before.json") {
		t.Error(s.reads())
	}
	q := begin(t)
	q.paste("Machine\tSpeed\nOther\t1480\n")
	s = q.looksAt("history")
	s.brings("file", "before.json", older)
	s.says("No machine of this job is in them by its name.")
}

// regionCalled is the part of a screen that a screen reader knows by a name.
func (s *person) regionCalled(name string) (found *html.Node) {
	for _, root := range s.own() {
		each(root, func(e *html.Node) bool {
			if attr(e, "role") == "region" && attr(e, "aria-label") == name {
				found = e
			}
			return true
		})
	}
	return found
}

// The board: how many machines are at each stage, in the strip and in the groups; parted as it was chosen; large for a wall and back; the numbers with an earlier shutdown beside them and without.
func TestBoardAsSeen(t *testing.T) {
	p := demo(t)
	s := p.looksAt("board")
	list := p.d.ev.Board()
	count := map[string]int{}
	for _, b := range list {
		count[b.Stage.Word().String()]++
	}
	for _, li := range all(s.find("screen-board"), "li") {
		n, stage, _ := strings.Cut(text(li), " ")
		if want := count[stage]; n != strconv.Itoa(want) || strings.Contains(attr(li, "class"), "nobody") != (want == 0) {
			t.Errorf("%s: %s machines, %d of the list; %s", stage, n, want, attr(li, "class"))
		}
		marks := map[string]string{"not judged": "asks", "changed since signed": "asks", "piping": "asks", "soft foot": "asks", "signed": "in", "inside": "in", "coupled": "in", "guard on": "in", "hot check due": "in",
			"waiting": "on", "isolated": "on", "measured": "on", "moving": "on"}
		if !strings.Contains(attr(li, "class")+" ", "stage-"+marks[stage]+" ") {
			t.Errorf("%s: %s", stage, attr(li, "class"))
		}
	}
	seen := 0
	for _, table := range all(s.find("screen-board"), "table") {
		heads := all(all(table, "tr")[0], "th")
		for _, r := range all(table, "tr")[1:] {
			seen++
			cells := all(r, "th", "td")
			for _, b := range list {
				if b.Machine != text(cells[0]) {
					continue
				}
				facts := map[string]string{"Machine": b.Machine, "Stage": b.Stage.Word().String(), "Area": b.Area, "Crew": b.Crew, "Date": b.Date, "Priority": b.By("priority"), "Work order": b.WorkOrder, "Waits for": b.Waits()}
				for k, c := range cells {
					if facts[text(heads[k])] != text(c) {
						t.Errorf("%s, %s: %q", b.Machine, text(heads[k]), text(c))
					}
					delete(facts, text(heads[k]))
				}
				for what, left := range facts {
					if left != "" {
						t.Errorf("%s: nobody reads %s, %s", b.Machine, what, left)
					}
				}
			}
		}
	}
	p.want(seen, len(list))
	for _, by := range []string{"crew", "area", "date", "priority", "stage"} {
		s.chooses("parted by", by)
		p.want(s.chosen("parted by"), by)
		if by == "stage" {
			s.says("measured 18")
		} else if got := s.reads(); !strings.Contains(got, by+" not said") {
			t.Errorf("parted by %s: %.300s", by, got)
		}
	}
	class := func() string { return attr(s.find("screen-board"), "class") }
	p.want(class(), "screen board")
	for _, want := range []string{"screen board wall", "screen board"} {
		s.presses("Large, for a wall")
		p.want(class(), want)
		p.want(attr(s.one("Large, for a wall", "button"), "aria-pressed"), strings.HasSuffix(want, "wall"))
	}
	u := s.sends(screens.Event{Name: "paper"})
	if paper := s.reads("paper"); strings.Contains(paper, "parted by") || !strings.Contains(paper, "measured 18") || len(u.Regions) != 1 {
		t.Errorf("%.300s", paper)
	}
	s.presses("Numbers")
	p.want(attr(s.one("Numbers", "button"), "aria-pressed"), "true")
	s.sends(screens.Event{Name: "paper"})
	p.want(len(all(s.find("paper"), "input")), 0)
	if len(s.controls("Only this one", "button")) != 0 || strings.Contains(s.reads(), "measured 18") {
		t.Error("there is one shutdown only, and its numbers")
	}
	s.cannotRead("earlier", "wide.bin", "too large")
	s.says("wide.bin: too large")
	s.brings("earlier", "cut.json", "{")
	s.says("cut.json: ")
	s.brings("earlier", "last spring.json", small(t).job())
	if s.alert() != nil {
		t.Error(text(s.alert()))
	}
	whole := s.rows("Job")
	p.want(len(whole), 3)
	p.want(whole[2][0]+" "+whole[2][1], "last spring.json 3")
	file := s.presses("Save as CSV").File
	if file.Name != "numbers.csv" || !strings.Contains(file.Text, ",") || !strings.Contains(file.Text, "last spring.json") {
		t.Errorf("%.200s", file.Text)
	}
	p.sets("Decimal sign", "comma")
	if file = s.presses("Save as CSV").File; !strings.Contains(file.Text, "Machines;Inside") {
		t.Errorf("%.200s", file.Text)
	}
	p.sets("Decimal sign", "either")
	s.presses("Only this one")
	p.want(len(s.rows("Job")), 2)
	s.presses("Numbers")
	s.says("measured 18")
	// the top of a paper
	p.sets("Heading", "Marrow Ridge works")
	p.sets("Logo", dot)
	s.changed()
	s.says("Marrow Ridge works", "Board", "Spring shutdown: couplings, Marrow Ridge waterworks, 14 April 2026, 09:30")
	if img := all(s.find("screen-board"), "img"); len(img) != 1 || attr(img[0], "src") != dot {
		t.Error("the logo is not there")
	}
	q := small(t)
	q.looksAt("board").says("Board 14 April 2026, 09:30") // a job without a name
	q.sets("Site", "Marrow Ridge")
	q.looksAt("board").says("Board Marrow Ridge, 14 April 2026, 09:30")
}

// dot is the smallest picture.
const dot = "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg=="

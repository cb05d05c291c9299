package desk

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"
	"testing"
)

// The dialog of sorting and filtering: a condition on a column of few texts is which of them, what has no value is none, what is taken holds and is shown again.
func TestArrangeDialog(t *testing.T) {
	p := small(t)
	s := p.show("arrange")
	s.want(s.last["dialog"], "dlg-arrange")
	s.want(s.last["focus"], "arrange-sort-0")
	s.does("column", "sort-0", "change", "Given offset V [mm]")
	s.does("direction", "sort-0", "change", "desc")
	s.does("more", "sort")
	s.want(s.last["focus"], "arrange-sort-1") // left without a column
	s.does("column", "filter-0", "change", "=verdict")
	s.want(s.values["arrange-op-0"], "e")
	s.has("arrange-few-0", "outside")
	s.want(s.attribute("arrange-value-0", "hidden"), "=")
	s.does("more", "filter")
	s.does("column", "filter-1", "change", "Machine")
	s.does("op", "filter-1", "change", "c")
	s.want(s.attribute("arrange-value-1", "hidden"), "")
	s.does("value", "filter-1", "input", " ")
	s.does("take", "")
	s.want(p.ask("state")["view"], "rows shown sorted") // nothing was ticked or written: no condition
	s.want(s.last["sheetTop"], true)
	s.want(s.last["dialog"], "-")
	s.want(p.shown("Machine"), "[Pump 2 Pump 1 Pump 3]")

	s = p.show("arrange")
	s.does("column", "filter-0", "change", "=verdict")
	for k, text := range s.d.fewValues(s.d.grid().Column(1)) { // the verdict stands behind the name
		if text == "outside" {
			s.does("few", "filter-0-"+string(rune('0'+k)), "change", "true")
		}
	}
	s.does("take", "", "keydown", "", "Enter")
	s.want(s.said, "1 of 3 rows shown, sorted.")
	s.want(p.shown("Machine"), "[Pump 3]")
	s = p.show("arrange")
	s.has("arrange-body", `value="outside" checked=""`)
	s.has("arrange-body", `value="desc" selected=""`)
	s.does("drop", "filter-0")
	s.want(s.regions["arrange-filters"], "")
	s.want(s.last["focus"], "arrange-more-filter")
	s.does("drop", "sort-0")
	s.does("more", "filter")
	s.does("column", "filter-0", "change", "Given offset V [mm]")
	s.does("op", "filter-0", "change", "l")
	s.does("value", "filter-0", "input", "0.015")
	s.does("take", "")
	s.want(p.shown("Machine"), "[Pump 1 Pump 3]")
	s = p.show("arrange")
	s.does("op", "filter-0", "change", "z")
	s.want(s.attribute("arrange-value-0", "hidden"), "=")
	s.does("take", "")
	s.want(p.ask("state")["view"], "0 of 3 rows shown")
	p.ask("arrange", "Given offset V [mm]\t\n", "")
	s = p.show("arrange")
	s.has("arrange-body", "Make the shown order the job")
	s.does("stored", "")
	s.want(p.d.job.Machines.Rows[0][0], "Pump 3")
}

// Columns are added, renamed and taken out, groups shown and hidden, header rows copied.
func TestColumnDialogs(t *testing.T) {
	p := small(t)
	p.ask("go", 0, p.column("Speed"), false)
	s := p.show("columns")
	s.want(s.values["col-name"], "Speed [rpm]")
	s.has("col-known", `value="Movable rim 6"`)
	s.does("last", "")
	s.want(s.said, "Write a name first.")
	s.does("add", "", "input", " Foreman ")
	s.does("before", "")
	s.want(s.last["dialog"], "-")
	p.want(p.column("Foreman")+1, p.column("Speed"))
	p.ask("go", 0, p.column("Foreman"), false)
	s = p.show("columns")
	s.does("name", "", "input", "Painter")
	s.does("rename", "")
	p.column("Painter")
	p.ask("go", 0, p.column("Painter"), false)
	s = p.show("columns")
	s.does("delete", "")
	p.want(strings.Contains(p.job(), "Painter"), false)
	p.ask("go", 0, p.column("Verdict"), false)
	s = p.show("columns")
	s.want(s.attribute("col-delete", "disabled"), "=") // worked out

	p.ask("showAll", true)
	s = p.show("groups")
	s.has("groups-body", "Results (")
	s.does("tick", "Results", "change", "false")
	s.does("take", "")
	s.has("groups-body", "Results (")
	if !strings.HasSuffix(s.said, " not.") {
		t.Errorf("said %q", s.said)
	}
	s = p.show("groups")
	s.has("groups-body", `value="Results" data-on`)

	s = p.show("headers")
	s.does("ways", "", "", "rim and face\x1fRim and face\x1f\x1fAll columns")
	s.apply(p.ask("screen", "headers", "show"))
	s.has("headers-method", "All columns")
	if head := s.values["headers-text"]; !strings.Contains(head, "Face 6") || strings.Contains(head, "Gap 6") {
		t.Errorf("%q", head)
	}
	s.does("way", "", "change", "")
	if head := s.values["headers-text"]; !strings.Contains(head, "Gap 6 [") {
		t.Errorf("%q", head)
	}
	s.does("copy", "")
	p.want(s.last["copy"].([]any)[0], s.values["headers-text"])
}

// The help: sections that are filled when they are opened, with every sheet's columns, sketches, the table of evidence.
func TestHelp(t *testing.T) {
	s := begin(t).show("help")
	s.does("ways", "", "", "rim and face\x1fRim and face\x1f\x1fAll columns")
	s.does("texts", "", "", "notices\x1elicence <MIT>\x1e# Head\n\n| a | `b` |\n|---|---|\n| 1 | **2** |\n\nend")
	s.has("help-body", "Where to stand")
	all := ""
	for _, k := range strings.Fields("0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21") {
		s.does("fold", k, "toggle", "true")
		if s.regions["help-in-"+k] == "" {
			t.Errorf("section %s is empty", k)
		}
		all += s.regions["help-in-"+k]
	}
	for _, want := range []string{"<kbd>Ctrl+C</kbd>, <kbd>Ctrl+X</kbd>", "<h4>Rim and face</h4>", "<td>Movable rim 6</td>", "<p>Head</p>", "<td>2</td>", "licence &lt;MIT&gt;", "Shimsheet test.", "One of: ", "(worked out)"} {
		if !strings.Contains(all, want) {
			t.Errorf("the help lacks %q", want)
		}
	}
	if strings.Contains(all, "All columns") || strings.Count(all, "<svg") != 2 {
		t.Errorf("%d figures", strings.Count(all, "<svg"))
	}
	s.apply(s.ask("screen", "help", "show"))
	s.want(len(s.last["regions"].([]any)), 0) // as it was left
	s.want(s.last["dialog"], "dlg-help")
}

// A file from elsewhere, as the program for workbook files says what it holds: what is shown of it, and what each choice has read again.
func TestOpenFile(t *testing.T) {
	p := small(t)
	u := answer(nil)
	does := func(name, arg, value, key string) {
		t.Helper()
		u = p.ask("screen", "open", "event", name, arg, "", value, key)
	}
	shown := func(id string) string {
		t.Helper()
		for _, r := range u["regions"].([]any) {
			if r := r.([]any); r[0] == id {
				return r[1].(string)
			}
		}
		return ""
	}
	has := func(id string, texts ...string) {
		t.Helper()
		for _, text := range texts {
			if !strings.Contains(shown(id), text) {
				t.Errorf("%s lacks %q: %s", id, text, shown(id))
			}
		}
	}
	does("begin", "", "", "list.xlsx")
	p.want(u["dialog"], "dlg-open")
	has("open-title", "Open list.xlsx")
	does("kind", "0", "machines", "") // nothing was read yet
	p.want(u["reread"], nil)
	const file = `{"preview":{"format":"xlsx","own":false,"sheets":[` +
		`{"name":"West","kind":"machines","why":"by its headers","header_row":3,"titles":2,"rows":1200,"last_row":1203,"dimension":"A1:D1203","merged":1,"hidden_rows":[7,9],"columns":[` +
		`{"col":0,"letter":"A","header":"Machine","key":"machine","name":"Machine","unit":"","filled":1200,"text_numbers":0,"sample":["P-1","P-2"]},` +
		`{"col":1,"letter":"B","header":"Speed [rpm]","key":"speed","name":"Speed","unit":"rpm","unit_from":"header","filled":1100,"text_numbers":2,"sample":["1480"]},` +
		`{"col":2,"letter":"C","header":"F1","key":"","filled":3,"sample":[],"guess":"front_to_rear_feet","guess_unit":"mm","because":"“F1” is often this"},` +
		`{"col":3,"letter":"D","header":"","key":"","filled":1,"guess":"crew","because":"b"},` +
		`{"col":4,"letter":"E","header":"T","key":"","asked":["movable_rim_12","face_12"],"because":"two","series":1,"place":"12"},` +
		`{"col":5,"letter":"F","header":"R","key":"","asked":["movable_rim_3","face_3"],"because":"two","series":1,"place":"3"},` +
		`{"col":6,"letter":"G","header":"Verdict","key":"verdict","name":"Verdict","result":true}]},` +
		`{"name":"Old","kind":"","why":"another list is taken","columns":[]},{"name":"Chart","kind":"","why":"it is no sheet of cells","columns":[]}],` +
		`"notices":[{"severity":"note","text":"small"},{"severity":"warning","sheet":"West","row":1004,"column":"Speed","text":"odd <b>","hint":"look"},{"severity":"error","text":"bad"}],` +
		`"learnt":[{"sheet":"Machines","header":"F0","means":"Crew"}]},"rows":[1200,0,0,0,0,0,0,0,0,0,0,0]}`
	does("read", "unsaved", file, "")
	p.want(u["focus"], "open-guesses")
	has("open-body", "A workbook with 3 sheets. 1,200 rows of machines.", "Read as Machines, by its headers.", "Header in row 3, under 2 title lines.",
		"1,200 rows read, the last in row 1,203; the sheet says of itself A1:D1203.", "1 merged range: the first cell counts.", "2 hidden rows are read too.",
		"2 columns are understood, 4 kept unread (F1, column D, T, R); 1 column of results is worked out anew.", "Write the 2 numbers that are stored as text the way numbers are written",
		"Take the 2 guesses", "Front to rear feet: “F1” is often this", "P-1 · P-2", "as the header says", "with the first of its series", ">Movable rim 12<", ">Face 12<", "another list is taken",
		"<b>Problem: </b>bad.", "<b>Look: </b>West, row 1,004, Speed: odd &lt;b&gt;. Look.", "1 note", "(no name)")
	if b := shown("open-body"); strings.Index(b, "bad.") > strings.Index(b, "odd ") || strings.Count(b, ">Face 12<") != 1 {
		t.Error("errors come first, and a series is asked once")
	}
	has("open-what", "It takes the place of the job without a name on the page, which no file has as it stands.")
	does("what-list", "0-2", "", "")
	has("open-what-0-2", "Speed (another column is this)", `<option value="" selected="">kept unread</option>`)
	does("unit-list", "0-1", "rpm", "")
	has("open-unit-0-1", `<option value="rpm" selected="">rpm</option>`)
	reread := func(want string) {
		t.Helper()
		got, _ := json.Marshal(u["reread"])
		p.want(string(got), want)
	}
	west := func(more string) string { // members as encoding/json sorts them
		return `[{"columns":[` + more + `],"header_row":0,"sheet":"West","text_to_numbers":false}]`
	}
	does("guesses", "0", "", "")
	reread(west(`{"col":2,"key":"front_to_rear_feet","unit":"mm"},{"col":3,"key":"crew","unit":""}`))
	does("what", "0-3", "", "")
	reread(west(`{"col":2,"key":"front_to_rear_feet","unit":"mm"},{"col":3,"key":"","unit":""}`))
	does("what", "0-2", "coupling_to_front_feet", "") // the unit that its header bears stays with it, whatever it means
	reread(west(`{"col":3,"key":"","unit":""},{"col":2,"key":"coupling_to_front_feet","unit":"mm"}`))
	does("what", "0-2", "crew", "")
	reread(west(`{"col":3,"key":"","unit":""},{"col":2,"key":"crew","unit":""}`))
	does("header", "0", "4", "") // other columns: what was said of these is no more
	reread(`[{"columns":[],"header_row":4,"sheet":"West","text_to_numbers":false}]`)
	does("header", "0", "0", "")
	p.want(u["reread"], nil)
	does("header", "0", "3", "")
	does("answer", "0-4 face_12", "", "")
	reread(`[{"columns":[{"col":4,"key":"face_12","unit":""},{"col":5,"key":"face_3","unit":""}],"header_row":3,"sheet":"West","text_to_numbers":false}]`)
	does("numbers", "0", "true", "")
	does("unit", "0-1", "Hz", "")
	does("kind", "1", "stock", "")
	reread(`[{"columns":[{"col":4,"key":"face_12","unit":""},{"col":5,"key":"face_3","unit":""},{"col":1,"key":"speed","unit":"Hz"}],"header_row":3,"sheet":"West","text_to_numbers":true},` +
		`{"columns":[],"header_row":0,"kind":"stock","sheet":"Old","text_to_numbers":false}]`)
	does("read", "", strings.Replace(file, `"rows":[1200`, `"refused":"no sheet looks like a list\nand more","rows":[1200`, 1), "")
	has("open-body", `<p class="refused" role="alert">No sheet looks like a list.</p>`)
	has("open-what", "Nothing is changed.")
	p.refused("coming", "{}")
	does("read", "", strings.Replace(file, `"unit":"rpm","unit_from":"header"`, `"unit":"Hz","unit_from":"title"`, 1), "") // Seen: "as the header says", or "as chosen", of what the title says
	has("open-body", "as the title says")
	does("begin", "", "", "list.xlsx")
	does("read", "", strings.Replace(file, `"unit":"rpm"`, `"unit":"Hz"`, 1), "") // another spelling of it than the header's: nobody chose it
	has("open-body", "as the header says")
	does("read", "", `{"preview":`, "")
	has("open-body", "list.xlsx cannot be read. It ends where")
	for _, e := range [][2]string{{"what", "9-0"}, {"unit", "0-77"}, {"answer", "x"}, {"nothing", "0-1"}} {
		does(e[0], e[1], "machine", "")
	}
	does("closed", "", "", "")
	p.want(u["say"], "list.xlsx was not opened; nothing is changed.")
}

// Columns that are named after the list was pasted are read in the unit that its title says, as those that are named before.
func TestNamedLaterInTheTitlesUnit(t *testing.T) {
	p := begin(t)
	p.paste("All readings in 1/100 mm\nMachine\tSpeed\tX1\tX2\tX3\nP-1\t1480\t0\t5\t12\n")
	p.want(p.d.grid().Header()[2], "X1")
	does := func(name, arg, value string) answer {
		return p.ask("screen", "match", "event", name, arg, "", value, "")
	}
	does("again", "", "")
	for k, key := range []string{"movable_rim_12", "movable_rim_3", "movable_rim_6"} {
		// Seen: the dialog said "mm, the job's" of numbers that were then read in the title's unit.
		if said := fmt.Sprint(does("what", strconv.Itoa(2+k), key)["regions"]); !strings.Contains(said, "0.01 mm, as the title says") || strings.Contains(said, "mm, the job") {
			t.Error(said)
		}
	}
	p.want(does("take", "", "")["say"], "3 columns are matched. The job keeps it, and the next list with these headers is read the same.")
	p.want(p.d.grid().Header()[2:5], "[Movable rim 12 [0.01 mm] Movable rim 3 [0.01 mm] Movable rim 6 [0.01 mm]]")
}

// A list with a unit in its title that is pasted into a sheet with columns of its own keeps its unit: its readings go into columns of that unit.
func TestPastedBelowInTheTitlesUnit(t *testing.T) {
	p := begin(t)
	p.paste("Machine\tSpeed\tMovable rim 12\tMovable rim 3\tMovable rim 6\nP-1\t1480\t0\t-0.05\t-0.12\n")
	p.paste("All readings in 1/100 mm\nMachine\tSpeed\tMovable rim 12\tMovable rim 3\tMovable rim 6\nP-2\t1480\t0\t-5\t-12\n")
	p.want(p.d.grid().Header()[5:], "[Movable rim 12 [0.01 mm] Movable rim 3 [0.01 mm] Movable rim 6 [0.01 mm]]")
	p.want(p.d.grid().Rows()[1], "[P-2 1480    0 -5 -12]")
}

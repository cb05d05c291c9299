package desk

import (
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

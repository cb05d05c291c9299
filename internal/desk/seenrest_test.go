package desk

import (
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
	"shimsheet/internal/tables"
)

// What a row of a table can be used for is shown below it, hides again, and goes where it says; the system chosen is the one over the columns; paper has the rows and no buttons.
func TestTableRowsAreUsed(t *testing.T) {
	p := small(t)
	s := p.looksAt("tables")
	frames := tables.Find("frames_iec")
	s.presses(frames.Title)
	use := s.find("look-use-3")
	name := frames.Rows[3].Name
	p.want(s.called(use), "Use "+name)
	p.want(s.press(use).Focus, "row-3-0")
	p.want(attr(s.find("look-use-3"), "aria-expanded"), "true")
	if got := s.called(s.find("row-3-0")); !strings.HasPrefix(got, "Use for Pump 1: front to rear feet ") {
		t.Error(got)
	}
	p.want(s.press(s.find("look-use-3")).Focus, "look-use-3")
	p.want(s.find("row-3-0") == nil, true)
	s.press(s.find("look-use-3"))
	s.sends(screens.Event{Name: "closeActs", Arg: "3", Kind: "keydown", Key: "Escape"})
	p.want(s.last.Focus, "look-use-3")
	p.want(s.find("row-3-0") == nil, true)
	s.chooses("Use for", "Pump 3")
	s.press(s.find("look-use-3"))
	s.press(s.find("row-3-0"))
	p.want(strings.HasPrefix(s.said, "Pump 3: Front to rear feet filled from frame "+name), true)
	// each system by its units
	for system, units := range map[string]string{"Metric": " mm mm/m kN MPa 1/K °C ", "Inch": " in mil/in lbf psi 1/°F °F "} {
		s.chooses("Units", system)
		for _, c := range frames.Columns {
			if head := s.reads("look-table"); c.Kind != 0 && c.Unit == "mm" && !strings.Contains(head, c.Title+" ["+strings.Fields(units)[0]+"]") {
				t.Errorf("%s: no %s [%s]", system, c.Title, strings.Fields(units)[0])
			}
		}
	}
	s.chooses("Units", asPrinted)
	s.sends(screens.Event{Name: "paper"})
	p.want(len(all(s.find("paper"), "button", "input")), 0)
	paper := s.reads("paper")
	for _, r := range frames.Rows {
		if !strings.Contains(paper, r.Name) {
			t.Errorf("the paper lacks %s", r.Name)
		}
	}
	p.want(strings.HasPrefix(paper, frames.Title+" "+strings.Join(strings.Fields(frames.About), " ")), true)
	// one that is looked up
	s.types("Look up", "steel")
	s.sends(screens.Event{Name: "paper"})
	p.want(strings.HasPrefix(s.reads("paper"), "Looked up: steel"), true)
	p.want(len(all(s.find("paper"), "h2")), 10)
	p.want(len(all(s.find("paper"), "tr")) >= 10, true)
	// many values: the first hit shows more of them than the others, all when it is opened
	s.types("Look up", "M16 8.8")
	hidden := func(hit int) (n, of int) {
		for _, r := range all(all(s.find("look-main"), "li")[hit], "tr") {
			if of++; has(r, "hidden") {
				n++
			}
		}
		return n, of
	}
	n, of := hidden(0)
	p.want(n, max(of-18, 0))
	if n > 0 {
		s.says(strconv.Itoa(n) + " more value")
	}
	s.press(s.find("hit-0"))
	n, _ = hidden(0)
	p.want(n, 0)
	s.press(s.find("hit-0"))
	s.sends(screens.Event{Name: "open", Arg: "0"})
	s.sends(screens.Event{Name: "close", Arg: "0"})
	p.want(visible(s.find("hit-0-0")), false)
	s.sends(screens.Event{Name: "open", Arg: "99"})
	// without a machine
	q := begin(t)
	s = q.looksAt("tables")
	s.types("Look up", "132M frame")
	s.press(s.find("hit-0"))
	if got := s.called(s.find("hit-0-0")); !strings.HasPrefix(got, "Use for a machine (the job has none yet): ") || !has(s.find("hit-0-0"), "disabled") {
		t.Error(got)
	}
	p.want(s.last.Focus, "hit-0-2") // the first that can be pressed
}

// A built-in row gives way to one of the job's own of the same name, in its own table only, and says so.
func TestBuiltInGivesWay(t *testing.T) {
	p := small(t)
	steel := tables.Find("expansion").Rows[0].Cells[0]
	p.ask("sheet", 7)
	p.paste("Material\tCoefficient [1e-6/K]\tSource\n" + steel + "\t11.9\tmill sheet\n")
	p.ask("sheet", 0)
	p.ask("work", 60_000)
	s := p.looksAt("tables")
	for _, lib := range tables.All() {
		title, gives := lib.Title, 0
		if lib.Key == "expansion" {
			title += " (with yours)"
		}
		s.presses(title)
		for _, r := range all(s.find("look-table"), "tr") {
			if attr(r, "class") == "gives" {
				gives++
				p.want(strings.Contains(text(r), "yours takes its place"), true)
			}
		}
		of := 0
		if lib.Key == "expansion" || lib.Key == "expansion_mean" {
			for _, r := range lib.Rows {
				if r.Cells[0] == steel {
					of++
				}
			}
		}
		p.want(gives, of)
	}
}

// openFile is a file as the program for workbook files tells of it, with columns and more of its first sheet.
func openFile(columns, more string) string {
	return `{"preview":{"format":"csv","encoding":"UTF-8","sheets":[{"name":"West","kind":"machines","why":"by its headers","header_row":1,"rows":2,"last_row":3,"columns":[` + columns + `]}` + more + `]},"rows":[2]}`
}

// A choice for a column stays with its own header, unit and place; what was chosen is told as chosen.
func TestFileChoicesAsSeen(t *testing.T) {
	p := begin(t)
	s := p.looksAt("open")
	s.sends(screens.Event{Name: "begin", Key: "west.csv"})
	p.want(s.last.Dialog, "dlg-open")
	const speed = `{"col":0,"letter":"A","header":"n [Hz]","key":"speed","name":"Speed","unit":"Hz","unit_from":"header","filled":2,"sample":["25"],"unknown":{"a":[1]}},`
	const guess = `{"col":1,"letter":"B","header":"F1","key":"","guess":"front_to_rear_feet","guess_unit":"mm","because":"it is often this","filled":2}`
	s.sends(screens.Event{Name: "read", Value: openFile(speed+guess, "")})
	p.want(s.last.Focus, "open-take")
	s.says("as the header says", "Take it")
	s.press(s.find("open-guess-0-1"))
	p.want(s.last.Reread.Sheets[0].Columns, "[{1 front_to_rear_feet mm}]")
	p.want(has(s.find("open-take"), "disabled"), true)
	// read again, the choice has rewritten the header; shown is the file's
	s.sends(screens.Event{Name: "read", Value: openFile(speed+`{"col":1,"letter":"B","header":"Front to rear feet [mm]","key":"front_to_rear_feet","name":"Front to rear feet","unit":"mm","unit_from":"job","filled":2}`, "")})
	p.want(has(s.find("open-take"), "disabled"), false)
	rows := s.rows("Columns of West")
	p.want(rows[2][1], "F1")
	s.says("as the job says")
	s.chooses("Unit of column A, n [Hz]", "rpm")
	p.want(s.last.Reread.Sheets[0].Columns, "[{1 front_to_rear_feet mm} {0 speed rpm}]")
	s.sends(screens.Event{Name: "read", Value: openFile(strings.Replace(speed, `"unit":"Hz"`, `"unit":"rpm"`, 1)+guess, "")})
	s.says("as chosen")
	s.chooses("Read sheet West as", "Stock")
	p.want(s.last.Reread.Sheets[0].Kind, "stock")
	p.want(len(s.last.Reread.Sheets[0].Columns), 0)
	seven := ""
	for k := 1; k < 8; k++ {
		seven += strings.Replace(guess, `"col":1,"letter":"B"`, `"col":`+strconv.Itoa(k)+`,"letter":"`+string(rune('A'+k))+`"`, 1) + ","
	}
	s.sends(screens.Event{Name: "read", Value: strings.Replace(openFile(seven+speed[:len(speed)-1], ""), `"kind":"machines"`, `"kind":"stock"`, 1)})
	s.says("Read as Stock, as chosen.", "7 kept unread (F1, F1, F1, F1, F1, F1, …)")
	// a file that is none
	s.sends(screens.Event{Name: "begin", Key: "west.csv"})
	s.sends(screens.Event{Name: "read", Value: strings.Replace(openFile(speed+guess, ""), `"rows":[2]`, `"refused":"it is empty","rows":[]`, 1)})
	p.want(s.last.Focus, "open-cancel")
	p.want(has(s.find("open-take"), "disabled"), true)
	for format, say := range map[string]string{"xlsx": "A workbook", "xlsm": "A workbook with macros, which are left alone", "tsv": "A list as text, tabs between, UTF-8", "ods": "A file"} {
		s.sends(screens.Event{Name: "read", Value: strings.Replace(openFile(speed+guess, ""), `"format":"csv"`, `"format":"`+format+`"`, 1)})
		s.says(say + ". 2 rows of machines.")
	}
	s.sends(screens.Event{Name: "read", Value: strings.Replace(openFile(speed+guess, `,{"name":"Line","kind":"","results":true,"columns":[]},{"name":"Old","kind":"","why":"x","columns":[]}`), `"format":"csv"`, `"own":true,"format":"xlsx"`, 1)})
	s.says("A workbook with 3 sheets, written by this program; it comes back as it was.", "Sheets kept unread", "Old", "The results on Line are worked out anew.")
}

// What sets two states of a job apart is counted in words, one and many, and stands row by row: which sheet, row, machine and column, and what stands in each.
func TestCopiesAsSeen(t *testing.T) {
	read := func(h screens.HTML) string {
		p := begin(t)
		s := p.looksAt("help")
		s.quiet = true
		s.apply(screens.Update{Regions: []screens.Region{{ID: "copies-body", Content: h}}})
		return s.reads("copies-body")
	}
	list := [][]string{{"Machines", "3", "4", "Pump 1", "Speed", "1480", "2980"}, {"Feet", "7", "", "Pump 2", "", "front 9", ""}, {"Growth", "", "8", "Pump 3", "Part", "", ""}}
	got := read(screens.Compared(&screens.CopyDifferences{Changed: 1, Cells: 1, OnlyA: 1, OnlyB: 1, List: list}))
	for _, want := range []string{"1 row differs (1 text); 1 row is only on the page; 1 row is only in the copy.", "Sheet Row Name Column On the page In the copy", "Machines 3 Pump 1 Speed 1480 2980",
		"Feet 7 Pump 2 the whole row front 9 (not there)", "Growth 8 Pump 3 Part (not there) (blank)"} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %s", want, got)
		}
	}
	if strings.Contains(got, "differences are shown") {
		t.Error("all of them are there")
	}
	got = read(screens.Compared(&screens.CopyDifferences{Changed: 2, Cells: 3, OnlyA: 4, OnlyB: 5, List: list}))
	for _, want := range []string{"2 rows differ (3 texts); 4 rows are only on the page; 5 rows are only in the copy.", "The first 3 differences are shown; all are counted above."} {
		if !strings.Contains(got, want) {
			t.Errorf("%q is not in %s", want, got)
		}
	}
	if got = read(screens.Compared(&screens.CopyDifferences{})); got != "Every row is the same." {
		t.Error(got)
	}
	fact := screens.CopyFacts{Name: "Spring", Changed: "09:30", Began: "08:00", From: "a.html", Opened: "07:00", KeptUntil: "1 May", Revision: 3, Changes: 2, Rows: 7, Handed: true}
	for _, c := range []struct {
		with func(*screens.CopyFacts)
		want string
	}{{func(*screens.CopyFacts) {}, "Last changed 09:30: 2 changes in an earlier sitting, begun 08:00. It began with the file a.html, saved 07:00. As it stands it was handed"},
		{func(f *screens.CopyFacts) { f.Here, f.Opened = true, "" }, "2 changes in this tab, begun 08:00. It began with the file a.html. As"},
		{func(f *screens.CopyFacts) { f.Elsewhere = true }, "in another tab, which is open now, begun"},
		{func(f *screens.CopyFacts) { f.From, f.Handed = "", false }, "It began without a file. No file has all of it."},
		{func(f *screens.CopyFacts) { f.Aside = true }, "Set aside; kept until 1 May"}} {
		f := fact
		c.with(&f)
		if got := read(screens.AllCopies([]screens.CopyFacts{f})); !strings.Contains(got, c.want) || !strings.Contains(got, f.Label()) {
			t.Errorf("%q is not in %s", c.want, got)
		}
	}
	title, body := screens.ChooseCopy("a.html", screens.CopyFacts{Name: "Spring", Revision: 3, Rows: 7}, "yesterday", []screens.CopyChoice{{CopyFacts: fact}})
	if got := read(body); !strings.Contains(title, "Spring") || !strings.Contains(got, "a.html") || !strings.Contains(got, "yesterday") || !strings.Contains(got, "09:30") {
		t.Errorf("%s: %s", title, got)
	}
}

// Header rows and columns: a way that is gone gives way to the first, a column is added behind the others or before the cursor's.
func TestColumnsAsSeen(t *testing.T) {
	p := small(t)
	s := p.looksAt("headers")
	s.sends(screens.Event{Name: "ways", Value: "rim and face\x1fRim and face\x1fline\x1fA line"})
	s.show()
	p.want(s.chosen("Way of measuring"), "Rim and face")
	s.chooses("Way of measuring", "A line")
	p.want(strings.Contains(s.holds(s.find("headers-text")), "Given offset V"), true)
	s.sends(screens.Event{Name: "ways", Value: "two rims\x1fTwo rims\x1frim and face\x1fRim and face"})
	s.show()
	p.want(s.chosen("Way of measuring"), "Two rims")
	p.want(strings.Contains(s.holds(s.find("headers-text")), "Second rim"), true)

	s = p.looksAt("columns")
	s.typeInto(s.find("col-add"), " Foreman ")
	s.press(s.find("col-add-last"))
	p.want(p.d.grid().Header()[9], "Foreman")
	p.ask("go", 0, p.column("Speed"), false)
	s.show()
	s.typeInto(s.find("col-add"), "Painter")
	s.press(s.find("col-add-before"))
	p.want(p.d.grid().Header()[8], "Painter")
}

// Merging many rows counts those that are not shown; files that do not fit say why, and nothing is left to be merged.
func TestMergeOfMany(t *testing.T) {
	p := small(t)
	many := begin(t)
	rows := ""
	for i := range 230 {
		rows += "M" + strconv.Itoa(i) + "\t1480\n"
	}
	many.paste("Machine\tSpeed [rpm]\n" + rows)
	s := p.looksAt("merge")
	s.brings("file", "many.json", many.job())
	found := len(s.rows("Sheet")) - 1
	p.want(found, 200)
	n := 0
	for _, w := range strings.Fields(s.reads()[strings.LastIndex(s.reads(), " and ")+1:]) {
		if k, err := strconv.Atoi(w); err == nil {
			n = k
		}
	}
	if n < 30 || n > 40 { // 230 machines, and what the three of the job at hand come to
		t.Errorf("and %d more", n)
	}
}

// A file of cards names the job, or says that it has none; the panel and the overview on paper too.
func TestNamesAndUnits(t *testing.T) {
	p := small(t)
	file := screens.CardsFile(p.d.ev, []int{0, 1}, "a4")
	over := p.looksAt("list")
	over.sends(screens.Event{Name: "paper"})
	for _, text := range []string{file, over.reads("paper"), screens.MachinePaper(p.d.ev, 0, 0, "", "").String()} {
		if !strings.Contains(text, "Job without a name") {
			t.Errorf("%.300s", text)
		}
	}
	p.sets("Name", "Spring <1>")
	if file = screens.CardsFile(p.d.ev, []int{0, 1}, "letter"); !strings.Contains(file, "<title>Spring &lt;1&gt;</title>") || strings.Count(file, `class="card letter"`) != 2 {
		t.Errorf("%.300s", file)
	}
	// columns as the help has them: what can be chosen is said where there is something, and what is worked out
	h := p.looksAt("help")
	for k := range 40 {
		if e := h.find("help-" + strconv.Itoa(k)); e != nil && strings.HasSuffix(text(all(e, "summary")[0]), job.MachinesSheet.String()) {
			h.sends(screens.Event{Name: "fold", Arg: strconv.Itoa(k), Value: "true"})
			rows := all(h.find("help-in-"+strconv.Itoa(k)), "tr")[1:]
			n := 0
			for _, c := range job.Columns() {
				if c.Sheet != job.MachinesSheet {
					continue
				}
				cells := all(rows[n], "td")
				n++
				p.want(text(cells[0]), c.Name)
				p.want(strings.Contains(text(cells[2]), "One of: "), len(c.Choices) > 0)
				p.want(strings.HasSuffix(text(cells[2]), "(worked out)"), c.Result)
			}
			p.want(len(rows), n)
		}
	}
	h.sends(screens.Event{Name: "texts", Value: "a\x1eb\x1e| A | B |\n|---|---|\n| 1 | 2 |\nbetween\n| C | D |\n|---|---|\n| 3 | 4 |\n"})
	for k := range 40 {
		if e := h.find("help-" + strconv.Itoa(k)); e != nil && strings.HasPrefix(text(all(e, "summary")[0]), "What this was checked against") {
			h.sends(screens.Event{Name: "fold", Arg: strconv.Itoa(k), Value: "true"})
			p.want(h.reads("help-in-"+strconv.Itoa(k)), "A B 1 2 between C D 3 4")
		}
	}
}

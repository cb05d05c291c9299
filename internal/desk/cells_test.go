package desk

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/headers"
	"shimsheet/internal/job"
	"shimsheet/internal/screens"
)

// What is offered, said and done at a cell, on every sheet.

// at goes to a cell in sight.
func (p page) at(row int, column string) { p.Helper(); p.ask("go", row, p.column(column), false) }

// offered are the words for a cell, and whether it takes others.
func (p page) offered(row int, column string) ([]string, bool) {
	p.Helper()
	p.at(row, column)
	s := p.ask("begin")
	p.ask("cancel")
	var out []string
	for _, w := range s["choices"].([]any) {
		out = append(out, w.(string))
	}
	return out, s["closed"].(bool)
}

// Words are offered where a column has them: its own, sets of limits, feet, materials, machines, the names of sides that are there.
func TestWordsAreOffered(t *testing.T) {
	p := begin(t)
	p.paste("Machine\tMethod\tLimits\tSide at 3\tSide at 9\tSpeed\n" + "Pump 1\tline\t\tNorth\tSouth\t1480\n Pump 2 \tline\t\t North \tRiver\t1480\nPump 1\tline\t\t\t\t1480\n")
	offers := func(row int, column, want string, closed bool) {
		t.Helper()
		list, only := p.offered(row, column)
		if got := strings.Join(list, ","); got != want && !(strings.HasSuffix(want, "…") && strings.HasPrefix(got, strings.TrimSuffix(want, "…"))) || only != closed {
			t.Errorf("%s: %s %v, want %s %v", column, got, only, want, closed)
		}
	}
	offers(0, "Method", strings.Join(job.FindColumn(job.MachinesSheet, "Method").Choices, ","), true)
	offers(0, "Limits", p.d.ev.LimitSets()[0].Name+"…", false)
	offers(1, "Side at 9", "North,South,River", false)
	offers(0, "Machine", "", false)
	offers(0, "Speed", "", false)
	p.ask("sheet", 5)
	offers(0, "Machine", "Pump 1,Pump 2", false)
	offers(0, "Foot", "front 9,front 3,rear 9,rear 3", false)
	p.ask("sheet", 4)
	offers(0, "Material", p.d.ev.MaterialNames()[0]+"…", false)
	p.ask("sheet", 1)
	for row := range p.d.grid().Rows() {
		name := p.d.grid().Cell(row, 0)
		offers(row, "Name", "", false)
		if c := job.FindColumn(job.SettingsSheet, name); len(c.Choices) > 0 {
			offers(row, "Value", strings.Join(c.Choices, ","), true)
		}
	}
	p.at(0, "Meaning")
	if s := p.ask("begin"); s["ok"] != false || s["note"] != "This column is worked out and cannot be typed." || s["choices"] != nil {
		t.Errorf("%v", s)
	}
	// of very many a part
	q := begin(t)
	var list strings.Builder
	list.WriteString("Machine\tSide at 3\n")
	for i := range 600 {
		fmt.Fprintf(&list, "Pump %d\tside %d\n", i, i)
	}
	q.paste(list.String())
	sides, _ := q.offered(0, "Side at 3")
	q.want(len(sides), 40)
	q.ask("sheet", 5)
	names, _ := q.offered(0, "Machine")
	q.want(len(names), 500)
	q.want(names[499], "Pump 499")
}

// The bar above the cells: where one is, what it means, what is wrong with it.
func TestBarAboveTheCells(t *testing.T) {
	p := small(t)
	p.at(1, "Given offset V")
	i := p.ask("info", 0)
	p.want([]any{i["where"], i["text"], i["about"]}, "[Row 3, Given offset V [mm] 0.02 Pump 2]")
	if i["problem"] != nil || !strings.Contains(i["meaning"].(string), "0.02 mm") || i["help"] == "" {
		t.Errorf("%v", i)
	}
	p.at(2, "Verdict")
	i = p.ask("info", 0)
	p.want([]any{i["where"], i["text"], i["meaning"]}, "[Row 4, Verdict outside <nil>]")
	p.want(i["help"] != "", true)
	p.at(1, "Method")
	p.want(len(p.ask("info", 0)["choices"].([]any)) > 5, true)
	p.ask("sheet", 1)
	p.at(0, "Meaning")
	i = p.ask("info", 0)
	p.want(i["where"], "Row 2, Meaning")
	p.want(strings.HasPrefix(i["text"].(string), job.FindColumn(job.SettingsSheet, "Name").Help()), true)
	row := slices.IndexFunc(p.d.grid().Rows(), func(r []string) bool {
		c := job.FindColumn(job.SettingsSheet, r[0])
		return len(c.Choices) > 0
	})
	p.at(row, "Value")
	i = p.ask("info", 0)
	c := job.FindColumn(job.SettingsSheet, p.d.grid().Cell(row, 0))
	p.want(i["help"], c.Help())
	p.want(len(i["choices"].([]any)), len(c.Choices))
	p.want(strings.HasSuffix(p.d.result(row, 0), " One of: "+strings.Join(c.Choices, ", ")+"."), true)
	p.at(row, "Name")
	p.want(p.ask("info", 0)["help"] == c.Help(), false)
	p.d.PutCell(job.SettingsSheet, row, 0, "Header of Stock: Dicke")
	p.want(strings.Contains(p.d.result(row, 0), "for the sheet Stock"), true)
	p.d.PutCell(job.SettingsSheet, row, 0, "what is this")
	p.want(p.d.result(row, 0), "")
	// a sheet without columns says nothing of a cell
	q := begin(t)
	i = q.ask("info", 0)
	q.want(i["where"], nil)
	q.want(i["panel"] != "", true)
}

// The panel follows the machine that a row of another sheet names; where there is none of that name it says so.
func TestPanelFollowsOtherSheets(t *testing.T) {
	p := small(t)
	p.at(0, "Machine")
	p.ask("info", 0)
	for sheet, list := range map[int]string{
		2: "Machine\tSweep\tAngle\tReading\nPump 3\trim\t0\t0\n Pump 2 \trim\t0\t0\nPump 9\trim\t0\t0\n\trim\t0\t0\n", 4: "Machine\tSupport\tPart\nPump 3\tmovable front\tfoot\nPump 2\tmovable front\tfoot\nPump 9\tmovable front\tfoot\n\tmovable front\tfoot\n",
		5: "Machine\tFoot\tGap\nPump 3\tfront 9\t0\nPump 2\tfront 9\t0\nPump 9\tfront 9\t0\n\tfront 9\t0\n", 8: "Machine\tCheck\tValue\nPump 3\tx\t0\nPump 2\tx\t0\nPump 9\tx\t0\n\tx\t0\n", 9: "Machine\tRound\tBy\nPump 3\t1\tKim\nPump 2\t1\tKim\nPump 9\t1\tKim\n\t1\tKim\n",
	} {
		p.ask("sheet", sheet)
		p.paste(list)
		p.at(0, "Machine")
		own := ""
		if sheet == 4 || sheet == 5 {
			own = "own "
		}
		p.want(p.ask("info", 0)["about"], own+"Pump 3")
		p.want(p.d.ChosenRow(), 2)
		p.want(p.d.TableRow(), 2)
		p.at(1, "Machine")
		p.want(p.ask("info", 0)["about"], own+"Pump 2")
		p.at(2, "Machine")
		i := p.ask("info", 0)
		p.want(strings.Contains(i["panel"].(string), "Pump 9"), true)
		p.at(0, "Machine")
		p.want(strings.Contains(p.ask("info", 0)["panel"].(string), "Pump 9"), false)
		p.at(3, "Machine") // a row that names none leaves the panel where it was
		p.ask("info", 0)
		p.want(p.d.ChosenRow(), 2)
	}
	// the stock names no machine
	p.ask("sheet", 3)
	p.ask("go", 0, 0, false)
	p.want(p.ask("info", 0)["about"], "Pump 3")
	p.ask("sheet", 0)
	p.at(1, "Machine")
	p.ask("info", 0)
	p.want(p.d.TableRow(), 1)
	p.ask("go", 0, 0, false)
	p.want(p.d.TableRow(), 0)
	// problems of the rows of a machine stand in its panel, with their cells, and not in another's
	q := small(t)
	q.ask("sheet", 5)
	q.paste("Machine\tFoot\tGap\nPump 3\tfront 9\twide\nPump 2\tfront 9\t0\nPump 3\trear 3\t0\n")
	q.at(0, "Gap")
	q.ask("info", 0)
	var got []string
	for _, x := range q.d.PanelSheet().Problems {
		got = append(got, fmt.Sprint(x.Sheet, x.Row, x.Col, x.Where))
	}
	q.want(slices.Contains(got, fmt.Sprint(5, 0, q.column("Gap"), "Feet row 2, Gap")), true)
	q.at(1, "Gap")
	q.ask("info", 0)
	for _, x := range q.d.PanelSheet().Problems {
		if x.Row != 1 || x.Where != "Feet row 3" {
			t.Errorf("of Pump 2: %+v", x)
		}
	}
}

// What is said aloud after a cell was typed, and what a text would mean before that.
func TestSaidAndTried(t *testing.T) {
	p := small(t)
	p.want(strings.HasPrefix(p.ask("told", 2, p.column("Speed"))["text"].(string), "Pump 3: "), true)
	p.typed(2, "Speed", "fast")
	if s := p.ask("told", 2, p.column("Speed"))["text"].(string); !strings.Contains(s, "fast") {
		t.Errorf("%q", s)
	}
	if s := p.ask("told", 2, p.column("Machine"))["text"].(string); strings.Contains(s, "fast”") && !strings.HasPrefix(s, "Pump 3: ") {
		t.Errorf("%q", s)
	}
	p.typed(2, "Speed", "1480")
	before := p.job()
	x := p.column("Given offset V")
	p.want(p.ask("tryText", 2, x, "0.01", 400)["verdict"], "1")
	p.want(p.ask("tryText", 0, x, "0.9", 400)["verdict"], "2")
	p.want(p.ask("tryText", 0, x, "0.9", 0)["verdict"], nil)
	p.want(p.ask("tryText", 0, p.column("Machine"), "Pump 4", 400)["svg"], nil)
	p.want(p.ask("tryText", 0, p.column("Method"), "line", 400)["meaning"], nil)
	p.want(p.ask("tryText", 0, p.column("Verdict"), "x", 400)["verdict"], nil)
	p.want(p.ask("tryText", 9, x, "1", 400)["verdict"], nil)
	p.want(p.job() == before, true)
	p.want(p.shown("Verdict"), "[inside inside outside]")
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.5 mm\t1\n")
	m := p.ask("tryText", 0, 0, "0.02 in", 400)
	p.want(strings.Contains(m["meaning"].(string), "0.508"), true)
	p.want(m["verdict"], nil)
	p.want(p.ask("told", 0, 0)["text"], "")
	p.typed(0, "Thickness", "0.5 kg")
	p.want(strings.Contains(p.ask("told", 0, 0)["text"].(string), "0.5 kg"), true)
	p.want(p.cells()[0][0][:1], "e")
	p.ask("sheet", 1)
	row := slices.IndexFunc(p.d.grid().Rows(), func(r []string) bool {
		c := job.FindColumn(job.SettingsSheet, r[0])
		return c != nil && c.Quantity == job.FindColumn(job.MachinesSheet, "Speed").Quantity || c != nil && strings.Contains(strings.ToLower(c.Name), "temperature")
	})
	if row < 0 {
		t.Fatal("no setting with a unit")
	}
	want := p.d.ev.MeaningIn(job.SettingsSheet, p.d.grid().Cell(row, 0), "20")
	p.want(p.ask("tryText", row, 1, "20", 400)["meaning"], want)
	p.want(want != "", true)
}

// Rows made for machines: for all, or for those chosen, four each, and none twice.
func TestRowsMadeForMachines(t *testing.T) {
	p := small(t)
	p.ask("select", 1, 0, 2, 0)
	for _, c := range []struct {
		sheet int
		each  string
		four  []string
	}{{5, "Foot", footNames}, {4, "Support", job.FindColumn(job.GrowthSheet, "support").Choices}} {
		p.ask("sheet", c.sheet)
		s := p.d.PanelSheet()
		p.want([]any{s.Chosen, s.Lacking}, "[[Pump 2 Pump 3] 3]")
		a := p.did(func(d *Desk) { d.MakeRows("chosen") })
		p.want(a["note"], fmt.Sprintf("%d rows made for 2 machines.", 2*len(c.four)))
		p.want(a["undo"], "making rows")
		p.want(a["makers"], nil)
		p.want(p.shown("Machine"), fmt.Sprint(slices.Concat(slices.Repeat([]string{"Pump 2"}, len(c.four)), slices.Repeat([]string{"Pump 3"}, len(c.four)))))
		p.want(p.shown(c.each), fmt.Sprint(slices.Concat(c.four, c.four)))
		s = p.d.PanelSheet()
		p.want([]any{s.Chosen, s.Lacking}, "[[] 1]")
		p.want(p.did(func(d *Desk) { d.MakeRows("all") })["note"], fmt.Sprintf("%d rows made for 1 machine.", len(c.four)))
		p.want(p.did(func(d *Desk) { d.MakeRows("all") })["note"], "Every machine of the list has rows here already.")
	}
	p.ask("sheet", 3)
	p.want(p.did(func(d *Desk) { d.MakeRows("all") })["changed"], false)
	p.want(p.d.PanelSheet().Lacking, 0)
	q := small(t)
	q.ask("sheet", 5)
	for len(q.d.grid().Header()) > 1 {
		q.did(func(d *Desk) { d.DeleteColumn(1) })
	}
	q.want(q.did(func(d *Desk) { d.MakeRows("all") })["note"], "This sheet has no column Machine, or none for the foot.")
}

// What a table or a screen puts into a sheet: where it goes, what is said, and nothing where it cannot go.
func TestPutIntoASheet(t *testing.T) {
	p := small(t)
	p.ask("arrange", "", "Machine\te\tPump 1\n")
	put := func(row int, names []string, texts ...string) error {
		return p.d.PutInto(job.MachinesSheet, "filling", row, names, [][]string{texts}, "Filled.")
	}
	p.ask("sheet", 3)
	if err := put(1, []string{"Speed", "Foreman"}, "990", "Kim"); err != nil {
		t.Fatal(err)
	}
	s := p.ask("took")
	p.want([]any{s["sheet"], s["stored"], s["note"], s["undo"], s["header"], s["changed"]}, "[0 1 Filled. filling true true]")
	p.want(s["view"], "") // what was filled is in sight
	p.want(s["col"], p.column("Speed"))
	p.want(p.shown("Speed"), "[1480 990 1480]")
	p.want(p.shown("Foreman"), "[ Kim ]")
	if err := put(1, []string{"Speed"}, "990"); err != nil {
		t.Fatal(err)
	}
	s = p.ask("took")
	p.want([]any{s["note"], s["changed"]}, "[It stands there already. false]")
	before := p.job()
	p.ask("sheet", 3)
	if err := put(99, []string{"Speed"}, "1"); err == nil || !strings.HasPrefix(err.Error(), "Nothing was written.") {
		t.Error(err)
	}
	p.want(p.ask("state")["sheet"], 3)
	p.want(p.job() == before, true)
	// a cell that is open is left first, on both sheets
	p.ask("sheet", 0)
	p.at(0, "Speed")
	p.ask("begin")
	if err := put(0, []string{"Speed"}, "500"); err != nil {
		t.Error(err)
	}
	p.want(p.shown("Speed")[0], "500")
	// rounds and their like: into a row, into one more, and taken out by the name of a column
	q := small(t)
	q.want(q.d.PutRow("a round", job.RoundsSheet, -1, []string{"Machine", "Round", "By"}, []string{"Pump 1", "1", "Kim"}), true)
	q.want(q.d.PutRow("a round", job.RoundsSheet, 0, []string{"Round", "By", "Dial no"}, []string{"", "Ola", "7"}), true)
	g := q.d.grids[job.RoundsSheet]
	cell := func(name string) string { return g.Cell(0, slices.Index(g.Header(), name)) }
	q.want([]any{cell("Machine"), cell("Round"), cell("By"), cell("Dial no")}, "[Pump 1 1 Ola 7]")
	q.want(q.d.Empty(job.RoundsSheet, 0, "By"), true)
	q.want(cell("By"), "")
	q.want(q.d.Empty(job.RoundsSheet, 0, "No such"), false)
	q.want(q.d.PutCell(job.RoundsSheet, 0, 0, cell(g.Header()[0])), false)
}

// A plan for a train goes where it can: into a new row and a new column where there is none.
func TestPlanWhereThereIsNone(t *testing.T) {
	p := small(t)
	p.ask("sheet", 10)
	p.paste("Train\tMachine\nA\tPump 1\n a \tPump 2\n")
	for c := len(p.d.grid().Header()) - 1; c >= 0; c-- {
		if p.d.grid().Header()[c] == "Plan" {
			p.did(func(d *Desk) { d.DeleteColumn(c) })
		}
	}
	g := p.d.grids[job.TrainsSheet]
	plans := func() (out []string) {
		c, n := slices.Index(g.Header(), "Plan"), slices.Index(g.Header(), "Train")
		for row := range g.Rows() {
			out = append(out, strings.TrimSpace(g.Cell(row, n))+"="+g.Cell(row, c))
		}
		return out
	}
	p.want(p.d.ChoosePlan("A", "least"), true)
	p.want(plans(), "[A=least a=]")
	p.want(p.d.ChoosePlan("B", ""), true)
	p.want(plans(), "[A=least a=]")
	p.want(p.d.ChoosePlan("B", "share"), true)
	p.want(plans(), "[A=least a= B=share]")
	p.want(g.UndoName(), "choosing a plan")
	p.want(p.d.ChoosePlan("B", "share"), false)
	p.want(p.d.ChoosePlan("A", ""), true)
	p.want(plans(), "[A= a= B=share]")
	p.did(func(d *Desk) { d.DeleteColumn(slices.Index(g.Header(), "Train")) })
	p.want(p.d.ChoosePlan("A", "least"), false)
}

// Lists in other forms than a spreadsheet's: a CSV file's text, a list with a title or lines of units, one without a header.
func TestPastedInOtherForms(t *testing.T) {
	p := begin(t)
	p.paste("Machine;Speed;Own\n\"Pump; 1\";1480;a\nPump 2;990;b\n")
	p.want(p.shown("Machine"), "[Pump; 1 Pump 2]")
	p.want(p.shown("Speed"), "[1480 990]")
	// commas in cells of one column are no file
	p.ask("go", 0, p.column("Own"), false)
	p.paste("x, y\nz, w\n")
	p.want(p.shown("Own"), "[x, y z, w]")
	p.want(p.shown("Machine"), "[Pump; 1 Pump 2]")
	m := p.d.LookAtList("Machine;Speed\nPump 3;1480\nPump 4;1480\n\n;\n", -1, "")
	p.want([]any{m.Head, m.Rows, len(m.Columns)}, "[1 2 2]")
	p.want(len(p.d.LookAtList("x, y\nz, w\n", -1, "").Columns), 1)
	m = p.d.LookAtList("A title\nMachine\tSpeed\nPump 3\t1480\n\t\n", -1, "")
	p.want([]any{m.Head, m.Rows, m.Sheet, m.Need, m.Shape}, []any{2, 1, "Machines", "", ""})
	m = p.d.LookAtList("Machine\tSpeed\nPump 3\t1480\n", 9, "") // there is no such line
	p.want([]any{m.Head, m.Rows}, "[0 2]")
	m = p.d.LookAtList("Machine\tSpeed\nPump 3\t1480\n", 3, "")
	p.want([]any{m.Head, m.Rows}, "[0 2]")
	m = p.d.LookAtList("Machine\tSpeed\nPump 3\t1480\n", 2, "")
	p.want([]any{m.Head, m.Rows}, "[2 0]")
	// what was copied here needs nobody
	p.ask("select", 0, 0, 1, 0)
	text := p.ask("copy", false, false)["text"].(string)
	m = p.d.LookAtList(text, -1, "")
	p.want([]any{m.Head, m.Rows, len(m.Columns)}, "[0 0 0]")
	// without a header, into an empty sheet: somebody is asked, and each column has a name and every row is there
	q := begin(t)
	q.want(q.d.LookAtList("Pump 1\t1480\nPump 2\t990\n", -1, "").Need, "ask")
	q.d.PlanMatched("Pump 1\t1480\nPump 2\t990\n", 0, []headers.Choice{{Col: 0, Key: "machine"}, {Col: 1}})
	done := q.d.TakePlan()
	q.want(done.Changed, true)
	q.ask("took")
	q.want(q.d.grid().Header(), "[Machine Column 2]")
	q.want(q.d.job.Machines.Rows, "[[Pump 1 1480] [Pump 2 990]]")
	q.want(done.Own, "[Column 2]")
	q.want(q.d.TakePlan().Changed, false)
	// where the list stands on its side somebody is asked
	q = begin(t)
	if m := q.d.LookAtList("Machine\tPump 1\tPump 2\tPump 3\nSpeed\t1480\t990\t2960\nMethod\tline\tline\tline\nGiven offset V\t0.1\t0.2\t0.3\n", -1, ""); m.Need != "ask" || m.Straight == "" || m.Shape == "" {
		t.Errorf("%v", m)
	}
	// the plan says what would be written over, and does it only then
	q = small(t)
	q.at(0, "Speed")
	plan := q.d.PlanPaste("990\n1480\n")
	q.want([]any{plan.OK, plan.Table, plan.Over, plan.Replaced, plan.New}, "[true false 2 1 0]")
	q.want(fmt.Sprint(plan.Samples), "[{2 Speed [rpm] 1480 990}]")
	q.want(q.shown("Speed"), "[1480 1480 1480]")
	done = q.d.TakePlan()
	q.want([]any{done.Changed, done.Undo != ""}, "[true true]")
	q.want(q.shown("Speed"), "[990 1480 1480]")
	q.at(0, "Verdict")
	plan = q.d.PlanPaste("x\ty\n")
	q.want(plan.OK, false)
	q.want(plan.Note != "", true)
	q.want(q.d.TakePlan().Changed, false)
	plan = q.d.PlanPaste("Machine\tForeman\tSpeed\nPump 4\tKim\t1\n")
	var columns []string
	for _, c := range plan.Columns {
		columns = append(columns, fmt.Sprint(c.Pasted, ">", c.Name, ">", c.Known, " ", c.New, c.Left))
	}
	q.want(strings.Join(columns, "|"), "Machine>Machine>Machine false false|Foreman>Foreman> true false|Speed>Speed [rpm]>Speed false false")
}

// The columns of a way of measuring: what it reads, what each list needs, and nothing of other ways.
func TestUsualColumns(t *testing.T) {
	for way := range methodWords {
		head := usualColumns(way)
		seen := map[string]bool{}
		for _, name := range head {
			if seen[name] || job.FindColumn(job.MachinesSheet, name) == nil {
				t.Errorf("%s: %q", way, name)
			}
			seen[name] = true
		}
		if !seen["Machine"] || !seen["Note"] || !seen["Front to rear feet"] {
			t.Errorf("%s: %v", way, head)
		}
		if way == "" {
			p := begin(t)
			p.want(len(strings.Split(p.d.HeaderRow(""), "\t")), len(head))
			continue
		}
		if head[len(head)-1] != "Note" || slices.ContainsFunc(head, func(n string) bool { return slices.Contains(usualLeftOut, n) }) {
			t.Errorf("%s: %v", way, head)
		}
		for _, name := range head {
			if g := job.FindColumn(job.MachinesSheet, name).Group; g == "growth" || g == "room" {
				t.Errorf("%s: %s is of %s", way, name, g)
			}
		}
	}
	rim := usualColumns("rim and face")
	for name, want := range map[string]bool{"Movable rim 12": true, "Face 6": true, "Stationary rim 12": false, "Stationary face 12": false, "Stationary sag at 6": false, "Coupling to stationary plane": false} {
		if slices.Contains(rim, name) != want {
			t.Errorf("rim and face, %s: %v", name, rim)
		}
	}
	if !slices.Contains(usualColumns("reverse indicator"), "Stationary rim 12") || !slices.Contains(usualColumns("reverse indicator"), "Coupling to stationary plane") {
		t.Error(usualColumns("reverse indicator"))
	}
}

// A value at the edge of what an operation takes, and one that is no number of its.
func TestArgumentsAtTheEdge(t *testing.T) {
	for in, want := range map[any]string{1e9: "", -1e9: "", 1.0000001e9: "is out of range", -1.0000001e9: "is out of range", 7: "", "7": "is no number", true: "is no number"} {
		if got := unlike('n', in); got != want {
			t.Errorf("%v: %q", in, got)
		}
	}
	for _, c := range []struct {
		kind byte
		v    Value
		want string
	}{{'t', "", ""}, {'t', 1.0, "is no text"}, {'y', false, ""}, {'y', "true", "is no yes or no"}, {'b', []byte("x"), ""}, {'b', "x", ""}, {'b', 1.0, "is no text or bytes"}, {'t', []byte("x"), "is no text"},
		{'b', TooLarge(300 << 20), "is a file of 300 MB; the page takes 200 MB"}} {
		if got := unlike(c.kind, c.v); got != c.want {
			t.Errorf("%c %v: %q", c.kind, c.v, got)
		}
	}
	p := small(t)
	p.ask("go", 1.0, 2.0, false)
	p.want([]any{p.ask("state")["row"], p.ask("state")["col"]}, "[1 2]")
	p.want(p.answered("openJob", p.job(), "yes")["error"], "operation openJob: argument 2 is no yes or no")
	p.want(p.answered("go", 1.0)["error"], "operation go: argument 2 is missing")
	if _, err := p.d.Screen("none", "show", 0, screens.Event{}); err == nil || err.Error() != "desk: no screen none" {
		t.Error(err)
	}
}

// A column of few different texts is filtered by ticking them.
func TestFewValues(t *testing.T) {
	p := begin(t)
	var list strings.Builder
	list.WriteString("Machine\tSpeed\tCrew\tShift\tHall\n")
	for i := range 24 {
		fmt.Fprintf(&list, "Pump %d\t%d\t%s\t%s\th%02d\n", i, 990+i%13, string("CAB "[i%4]), []string{"late", ""}[i%2], i%12)
	}
	p.paste(list.String())
	p.ask("work", 60_000)
	few := map[string][]string{}
	columns, _, _ := p.d.ViewOf()
	results := 0
	for _, c := range columns {
		few[c.Name] = c.Few
		if c.Result {
			results++
		}
		if c.Result && c.Few != nil && c.ID != "=verdict" && c.ID != "=after_verdict" {
			t.Errorf("%s: %v", c.Name, c.Few)
		}
	}
	p.want(few["Crew"], "[A B C]")
	p.want(few["Shift"], "[late]")
	p.want(len(few["Hall"]), 12) // of 24 rows
	p.want(len(few["Speed"]), 0)
	p.want(len(few["Machine"]), 0)
	p.want(few["Verdict"], fmt.Sprint(p.shown("Verdict")[:1]))
	p.want(results > 1, true)
	p.ask("sheet", 1)
	columns, _, _ = p.d.ViewOf()
	p.want(len(columns), 2) // what settings mean is not sorted by
}

// The calculators know the job's own materials before those of the tables.
func TestCalculatorsKnowTheJobsMaterials(t *testing.T) {
	p := small(t)
	steel, ok := p.d.CalcSettings().Material("grey iron")
	if !ok || steel.Expansion <= 0 {
		t.Fatal(steel, ok)
	}
	p.ask("sheet", 7)
	p.paste("Material\tExpansion\nGrey iron\t99\nHouse bronze\t18.5\n")
	mine, ok := p.d.CalcSettings().Material(" grey IRON ")
	if !ok || mine.Expansion == steel.Expansion {
		t.Error(mine, ok)
	}
	own, ok := p.d.CalcSettings().Material("house bronze")
	if !ok || own.Expansion <= 0 || own.Expansion == mine.Expansion {
		t.Error(own, ok)
	}
	if _, ok := p.d.CalcSettings().Material("cheese"); ok {
		t.Error("cheese")
	}
	p.want(p.d.CalcSettings().Inch, false)
	p.d.Put("Units", "inch")
	p.want(p.d.CalcSettings().Inch, true)
}

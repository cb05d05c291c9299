package desk

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
)

// How a job is shown: what is kept of it, what is gone to, in which units it is filtered, summed and copied.

// layoutOf is what the page knows of a shown column.
func (p page) layoutOf(name string) map[string]any {
	p.Helper()
	return p.ask("layout")["columns"].([]any)[p.column(name)].(map[string]any)
}

// heads are the names of the shown columns.
func (p page) heads() []string {
	var out []string
	for _, c := range p.ask("layout")["columns"].([]any) {
		out = append(out, c.(map[string]any)["name"].(string))
	}
	return out
}

func (p page) has(name string) bool {
	return strings.Contains("|"+strings.Join(p.heads(), "|")+"|", "|"+name+"|")
}

// again is a page with the job as it is saved and opened anew.
func (p page) again() page {
	q := begin(p.TB)
	q.ask("openJob", p.ask("job")["text"].(string))
	q.ask("work", 60_000)
	return q
}

// A job that is opened again is shown as it was left: sorted, filtered, with its widths and hidden columns, on every sheet; and what is taken off is off again.
func TestShownAgainAsItWasLeft(t *testing.T) {
	p := small(t)
	p.ask("arrange", "Given offset V [mm]\tdesc\n", "=verdict\te\tinside\n")
	p.ask("width", p.column("Speed"), 222)
	p.ask("width", p.column("Speed"), 333)
	p.ask("width", p.column("Verdict"), 5)
	p.ask("width", p.column("Machine"), 5000)
	p.ask("width", 0, 900)
	p.ask("width", -1, 100)
	p.ask("width", 9999, 100)
	x := p.column("Given slope H")
	p.ask("select", 0, x, 0, x)
	p.ask("hideColumns")
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.5 mm\t1\n0.1 mm\t2\n0.2 mm\t3\n")
	p.ask("arrange", "Thickness\t\n", "")
	p.ask("sheet", 0)
	q := p.again()
	q.want(q.ask("state")["view"], "2 of 3 rows shown, sorted")
	q.want(q.shown("Machine"), "[Pump 2 Pump 1]")
	q.want(q.layoutOf("Speed")["width"], 333)
	q.want(q.layoutOf("Verdict")["width"], 30)
	q.want(q.layoutOf("Machine")["width"], 900)
	q.want(q.has("Given slope H"), false)
	q.want(len(q.d.views[job.MachinesSheet].Widths), 3)
	q.ask("sheet", 3)
	q.want(q.shown("Thickness"), "[0.1 mm 0.2 mm 0.5 mm]")
	q.want(q.ask("state")["all"], false)
	q.ask("sheet", 0)
	q.ask("showAll", true)
	q.ask("resultsFirst", true)
	q.ask("arrange", "", "")
	r := q.again()
	s := r.ask("state")
	r.want(s["all"], true)
	r.want(s["resultsFirst"], true)
	r.want(s["view"], "")
	r.want(r.has("Given slope H"), true)
	groups, all := r.d.ColumnGroups()
	r.want(all, true)
	for _, g := range groups { // what is kept beside the groups is none of them
		if g.Hidden {
			t.Errorf("%v", g)
		}
	}
	r.ask("showAll", false)
	r.ask("resultsFirst", false)
	s = r.again().ask("state")
	r.want(s["all"], false)
	r.want(s["resultsFirst"], false)
}

// A view that cannot be read takes nothing with it, and one of a sheet that the program does not know comes back.
func TestViewsThatAreNotKnown(t *testing.T) {
	p := small(t)
	p.d.job.Views = map[string]string{"machines": "no view", "later_sheet": "anything"}
	text := p.job()
	p.ask("openJob", text)
	p.want(len(p.cells()), 3)
	p.want(p.ask("state")["view"], "")
	p.ask("job")
	p.want(p.d.job.Views, "map[later_sheet:anything]")
	q := small(t)
	q.ask("job")
	q.want(q.d.job.Views == nil, true)
}

// A problem that is gone to comes into sight: its column was hidden, alone or with its group, or was not in use.
func TestGoToWhatIsHidden(t *testing.T) {
	const back = "Columns that were hidden are shown again."
	p := small(t)
	c := p.d.columns()[p.column("Speed")].Column
	p.ask("go", 2, 0, false)
	s := p.ask("goStored", 1, c)
	p.want(s["note"], "")
	p.want(s["arranged"], false)
	p.want([]any{s["row"], s["col"]}, []any{1, p.column("Speed")})
	other := p.column("Given slope H")
	p.ask("select", 0, other, 0, other)
	p.ask("hideColumns")
	x := p.column("Speed")
	p.ask("select", 0, x, 0, x)
	p.ask("hideColumns")
	s = p.ask("goStored", 2, c)
	p.want(s["note"], back)
	p.want(s["arranged"], true)
	p.want(s["all"], false)
	p.want([]any{s["row"], s["col"]}, []any{2, p.column("Speed")})
	p.want(p.has("Given slope H"), false) // one that nobody asked for stays hidden
	group := p.layoutOf("Speed")["group"].(string)
	p.did(func(d *Desk) { d.ShowColumns(false, []string{group, "Results"}) })
	p.want(p.has("Speed"), false)
	s = p.ask("goStored", 0, c)
	p.want(s["note"], back)
	p.want(s["col"], p.column("Speed"))
	p.want(p.d.views[0].Hidden, "[Results]")
	// one that is not in use
	q := small(t)
	q.did(func(d *Desk) { d.AddColumn(-1, "Movable rim 6") })
	q.did(func(d *Desk) { d.ShowColumns(false, nil) })
	q.want(q.has("Movable rim 6"), false)
	s = q.ask("goStored", 0, len(q.d.grid().Header())-1)
	q.want(s["all"], true)
	q.want(s["note"], back)
	q.want(s["col"], q.column("Movable rim 6"))
	// a row that the filter hides, with the column as it is; and rows that there are not
	p.ask("arrange", "", "Machine\te\tPump 2\n")
	s = p.ask("goStored", 2, -1)
	p.want(s["note"], "The filter was taken off to show this row.")
	p.want(s["stored"], 2)
	p.want(s["col"], p.column("Speed"))
	p.ask("arrange", "", "Machine\te\tPump 2\n")
	p.want(p.ask("goStored", 3, -1)["note"], "")
	p.want(p.ask("goStored", 1, -1)["note"], "")
	p.want(p.ask("goStored", -1, -1)["note"], "")
	p.want(p.ask("state")["view"], "1 of 3 rows shown")
}

// A number to filter by is meant in the units shown, and kept in the job's: 10 mil are 0.254 mm.
func TestFilterInTheUnitsShown(t *testing.T) {
	p := small(t)
	p.ask("showAs", "inch")
	p.ask("arrange", "", "Given offset V [mm]\tl\t-10\nSpeed [rpm]\tg\t1000\n=offset_v\tl\t-1,5\nMachine\tc\tPump 3\n")
	p.want(p.shown("Machine"), "[Pump 3]")
	_, _, filters := p.d.ViewOf()
	p.want(fmt.Sprint(filters[0].Values, filters[1].Values, filters[2].Values, filters[3].Values), "[-10] [1000] [-1.5] [Pump 3]")
	p.ask("showAs", "")
	_, _, filters = p.d.ViewOf()
	p.want(fmt.Sprint(filters[0].Values, filters[1].Values, filters[2].Values, filters[3].Values), "[-0.254] [1000] [-0.0381] [Pump 3]") // 25.4 mm an inch, exactly (ISO 80000-3)
	p.ask("showAs", "inch")
	p.ask("arrange", "", "Given offset V [mm]\tg\tmany\n")
	_, _, filters = p.d.ViewOf()
	p.want(filters[0].Values, "[many]")
	p.ask("arrange", "", "Given offset V [mm]\tg\tNaN\n")
	_, _, filters = p.d.ViewOf()
	p.want(filters[0].Values, "[NaN]")
	p.ask("arrange", "", "Given offset V [mm]\tg\tInf\n")
	_, _, filters = p.d.ViewOf()
	p.want(filters[0].Values, "[Inf]")
	// a sheet of other things has no other units
	p.ask("sheet", 3)
	p.paste("Thickness [mm]\tPieces\n0.5\t1\n0.1\t2\n")
	p.ask("arrange", "", "Thickness [mm]\tg\t0.2\n")
	p.want(p.shown("Thickness"), "[0.5]")
}

// Sorting is by numbers in the job's units, whatever a cell is written in, and by what results say.
func TestSortedByWhatCellsMean(t *testing.T) {
	p := small(t)
	p.typed(0, "Given offset V", "1 in")
	p.typed(1, "Given offset V", "3 mm")
	p.typed(2, "Given offset V", "2 mil")
	for _, shown := range []string{"", "inch"} {
		p.ask("showAs", shown)
		p.ask("arrange", "Given offset V [mm]\t\n", "")
		p.want(p.shown("Machine"), "[Pump 3 Pump 2 Pump 1]")
		p.ask("arrange", "=offset_v\tdesc\n", "")
		p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	}
	p.want(p.ask("took")["note"], "")
	p.ask("arrange", "=front_shim_v\t\n", "")
	p.want(len(p.cells()), 3)
	// the overview and the paper have the rows of the sheet Machines, whichever sheet is shown
	p.want(p.d.FilteredRows() == nil, true)
	p.ask("arrange", "Machine\tdesc\n", "Machine\tc\tPump\nSpeed [rpm]\te\t1480\n")
	p.want(p.d.FilteredRows(), "[2 1 0]")
	p.ask("sheet", 1)
	p.want(p.d.ShownAs(), "3 of 3 rows shown, sorted")
	p.want(p.d.ShownMachines(), "[2 1 0]")
	p.want(p.d.Arranged(), false)
	p.ask("sheet", 0)
	p.want(p.d.Arranged(), true)
	p.want(p.d.NextMachine(1), 1)
	p.ask("arrange", "", "Machine\te\tPump 2\n")
	p.want(p.d.FilteredRows(), "[1]")
}

// What is said of an arranging.
func TestArrangedIsSaid(t *testing.T) {
	p := small(t)
	p.want(p.ask("arrange", "Machine\tdesc\n", "")["note"], "Rows shown sorted.")
	p.want(p.ask("arrange", "", "Machine\te\tPump 2\n")["note"], "1 of 3 rows shown.")
	s := p.ask("arrange", "", "")
	p.want(s["note"], "All rows are shown, in the job's order.")
	p.want(s["arranged"], true)
	p.want(p.ask("state")["arranged"], nil)
	p.want(p.ask("took")["arranged"], nil)
	// a row without a coupling stands for the next that is shown
	q := begin(t)
	q.paste("Machine\tSpeed\nPump 1\t1480\n\t\n\t\nPump 2\t1480\nPump 3\t990\n")
	q.want(q.d.NextMachine(1), 1)
	q.want(q.d.NextMachine(4), 2)
	q.want(q.d.NextMachine(0), 0)
	q.want(q.d.NextMachine(99), 0)
	q.want(q.d.LookAt(3), true)
	q.want(q.d.CursorRow(), 3)
	q.want(q.d.LookAt(3), false)
	q.want(q.d.ChosenRow(), 3)
}

// The summary of a selection: in the unit of its columns, with the job's decimal sign, and nothing of numbers of two kinds.
func TestSums(t *testing.T) {
	p := small(t)
	x := p.column("Given offset V")
	p.ask("go", 0, x, false)
	p.want(p.ask("sums"), "map[done:true text:]")
	p.ask("select", 0, x, 1, x)
	p.want(p.ask("sums")["text"], "2 numbers · sum 0.03 mm · smallest 0.01 mm · largest 0.02 mm")
	y := p.column("Speed")
	p.ask("select", 0, 0, 2, y)
	p.want(strings.HasSuffix(p.ask("sums")["text"].(string), " filled cells"), true)
	p.ask("select", 0, 0, 2, 0)
	p.want(p.ask("sums")["text"], "3 filled cells")
	z := p.column("Given offset H")
	p.ask("select", 0, x, 2, z)
	if x+2 != z {
		t.Fatal("offset, slope, offset do not stand beside each other")
	}
	p.want(p.ask("sums")["text"], "9 filled cells") // mm and mm/m
	p.d.Put("Decimal sign", "comma")
	p.typed(0, "Given offset V", "0,01")
	p.typed(1, "Given offset V", "0,02")
	p.ask("select", 0, x, 1, x)
	p.want(p.ask("sums")["text"], "2 numbers · sum 0,03 mm · smallest 0,01 mm · largest 0,02 mm")
	// a large one is told in parts
	q := begin(t)
	var list strings.Builder
	list.WriteString("Machine\tOwn\n")
	for i := range 5000 {
		fmt.Fprintf(&list, "Pump %d\t1\n", i)
	}
	q.paste(list.String())
	q.ask("selectAll")
	a := q.ask("sums")
	q.want(a["done"], false)
	q.want(a["text"], "…")
	n := 0
	for a["done"] == false && n < 100 {
		a = q.ask("sums")
		n++
	}
	q.want(n > 1, true)
	q.want(strings.HasPrefix(a["text"].(string), "5000 numbers · sum 5000 · "), true)
	// a result on a sheet that has none
	q.ask("sheet", 1)
	q.ask("selectAll")
	q.want(strings.Contains(q.ask("sums")["text"].(string), "filled cells"), true)
}

// What is copied: as shown, or the results as bare numbers in the job's decimal sign, under the names of the columns with their units.
func TestCopies(t *testing.T) {
	p := small(t)
	p.d.Put("Decimal sign", "comma")
	for _, name := range []string{"Given offset V", "Given slope V", "Given offset H", "Given slope H"} {
		p.typed(2, name, "0")
	}
	p.typed(2, "Given offset V", "-0,62")
	p.ask("work", 60_000)
	v, x := p.column("Verdict"), p.column("Offset V")
	p.ask("select", 2, x, 2, x)
	p.want(p.ask("copy", true, true)["text"], "Offset V [mm]\r\n-0,62")
	p.ask("select", 2, v, 2, v)
	p.want(p.ask("copy", false, true)["text"], p.shown("Verdict")[2])
	p.want(p.ask("copy", false, false)["text"], p.shown("Verdict")[2])
	p.ask("showAs", "inch")
	p.ask("select", 2, x, 2, x)
	head := strings.Split(p.ask("copy", true, false)["text"].(string), "\r\n")
	p.want(head[0], "Offset V [mil]")
	if !strings.HasPrefix(head[1], "-24") {
		t.Errorf("%q", head)
	}
	p.ask("showAs", "")
	p.ask("go", 0, 0, false)
	p.ask("also", 2, 3)
	if s := p.ask("copy", false, false); s["text"] != "" || s["note"] != "Ranges are copied together when they have the same rows or the same columns. Nothing was copied." {
		t.Errorf("%v", s)
	}
	p.ask("go", 0, 0, false)
	p.want(p.ask("copy", false, false)["note"], "")
	p.ask("sheet", 1)
	p.ask("select", 0, 0, 0, 2)
	lines := strings.Split(p.ask("copy", true, true)["text"].(string), "\r\n")
	p.want(lines[0], "Name\tValue\tMeaning")
	if len(strings.Split(lines[1], "\t")) != 3 || len(lines[1]) < 20 {
		t.Errorf("%q", lines)
	}
	p.want(p.ask("sums")["done"], true)
}

// What an own program writes, an open parser reads: texts of any letters between program and scripts (RFC 8259).
func TestAnswersAreJSON(t *testing.T) {
	for _, text := range []string{"", "plain", "a\"b\\c/d", "line\nline\r\ttab", "\x00\x01\x1f\x7f", "ü – 12″ 😀", "<script>&amp;", "\\u0041", "ends\\", "\n"} {
		var got string
		if err := json.Unmarshal(AppendText(nil, text), &got); err != nil || got != text {
			t.Errorf("%q came back as %q: %v", text, got, err)
		}
		o := new(object).text("a", text).int("b", -12).yes("c", true).texts("d", []string{text, text}).numbers("e", []float64{0.5, -1e21}).ints("f", []int{1, -2}).
			rows("g", [][]string{{text}, {}, {"x", text}}).objects("h", []*object{new(object).text("i", text), new(object)})
		want, _ := json.Marshal(map[string]any{"a": text, "b": -12, "c": true, "d": []string{text, text}, "e": []float64{0.5, -1e21}, "f": []int{1, -2},
			"g": [][]string{{text}, {}, {"x", text}}, "h": []any{map[string]any{"i": text}, map[string]any{}}})
		var a, b any
		if err := json.Unmarshal([]byte(o.end()), &a); err != nil {
			t.Fatalf("%s: %v", o.end(), err)
		}
		json.Unmarshal(want, &b)
		if fmt.Sprint(a) != fmt.Sprint(b) {
			t.Errorf("%v, want %v", a, b)
		}
	}
}

// The first rows, as a saved page shows them before its program is up: those in sight, with their numbers, cell for cell.
func TestFirstRows(t *testing.T) {
	p := begin(t)
	p.paste("Spring list\n\nMachine\tSpeed\nPump 1\t1480\nPump 2\tfast\nPump 3\t990\n")
	p.ask("arrange", "Machine\tdesc\n", "")
	p.ask("sheet", 1)
	html := p.ask("first", "digest")["html"].(string)
	p.want(p.ask("state")["sheet"], 1)
	p.ask("sheet", 0)
	first := p.ask("layout")["firstRow"].(float64)
	at := -1
	for _, want := range []string{"rows shown sorted", fmt.Sprint(first + 2), "Pump 3", "990", fmt.Sprint(first + 1), "Pump 2", "fast", fmt.Sprint(first), "Pump 1", "1480"} {
		i := strings.Index(html[at+1:], want)
		if i < 0 && want != "rows shown sorted" {
			t.Errorf("%q does not follow: %s", want, html)
		} else if want != "rows shown sorted" {
			at += 1 + i
		}
	}
	p.want(strings.Contains(html, "rows shown sorted"), true)
	p.want(begin(t).ask("first", "digest")["html"], "")
	// not all of a long list
	long := begin(t)
	long.paste("Machine\tSpeed\n" + strings.Repeat("Pump\t1480\n", 500))
	if n := strings.Count(long.ask("first", "d")["html"].(string), "<tr"); n > 100 || n < 20 {
		t.Errorf("%d rows", n)
	}
}

// A column is named, numbered and grouped as what it is.
func TestLayout(t *testing.T) {
	p := begin(t)
	p.paste("Title of it\nMachine\tMethod\tSpeed\tMovable rim 12\tForeman\tVerdict\t\nPump 1\tline\t1480\t0\tKim\tfine\tx\n")
	l := p.ask("layout")
	p.want(l["frozen"], 1)
	p.want(l["firstRow"], 3) // under a title and the header
	var own []string
	for _, c := range l["columns"].([]any) {
		c := c.(map[string]any)
		if c["group"] == "Own" {
			own = append(own, c["name"].(string)+": "+c["help"].(string))
		}
	}
	p.want(strings.Join(own, "|"), "Foreman: A column the program does not know. It is kept as it is.|Verdict: A column of results that was typed or pasted. It is kept, and not read.|(column 7): A column the program does not know. It is kept as it is.")
	for name, want := range map[string]string{"Machine": "false  false", "Method": "false  false", "Speed": "true rpm false", "Movable rim 12": "true mm false", "Foreman": "false  false"} {
		c := p.layoutOf(name)
		p.want(fmt.Sprint(c["number"], " ", c["unit"], " ", c["result"]), want)
	}
	p.ask("showAs", "inch")
	p.want(p.layoutOf("Movable rim 12")["unit"], "mil")
	p.want(p.layoutOf("Speed")["unit"], "rpm")
	p.ask("showAll", true)
	p.want(p.layoutOf("Front shim")["unit"], "mil")
	p.want(p.layoutOf("Front pack")["unit"], "mm") // pieces are real things
	p.want(p.layoutOf("Front pack")["number"], false)
	p.want(p.layoutOf("Front shim")["number"], true)
	p.ask("sheet", 1)
	l = p.ask("layout")
	p.want(l["frozen"], 1)
	p.want(p.heads(), "[Name Value Meaning]")
	for _, c := range l["columns"].([]any) {
		c := c.(map[string]any)
		p.want(fmt.Sprint(c["number"], c["unit"], c["help"], c["group"]), "false")
	}
	p.want(p.layoutOf("Meaning")["width"], 900)
	p.ask("width", 2, 300)
	p.want(p.layoutOf("Meaning")["width"], 300) // Seen: it was as wide as before again
	p.want(p.again().d.views[job.SettingsSheet].Widths, "[{=meaning 300}]")
	p.ask("sheet", 3)
	p.want(p.ask("layout")["frozen"], 0)
	p.want(p.ask("layout")["firstRow"], 2)
	// neighbours that share a first line have the room for it, and what stands in a column counts
	wide := begin(t)
	wide.paste("Machine\tOwn\n" + strings.Repeat("W", 20) + "\t" + strings.Repeat("m", 30) + "\nPump 2\tx\n")
	thin := begin(t)
	thin.paste("Machine\tOwn\nPump 1\tx\n")
	for _, name := range []string{"Machine", "Own"} {
		if w, n := wide.layoutOf(name)["width"].(float64), thin.layoutOf(name)["width"].(float64); w <= n {
			t.Errorf("%s: %v with long texts, %v with short ones", name, w, n)
		}
	}
	d := demo(t)
	d.ask("sheet", 0)
	list := d.d.columns()
	for i := 0; i < len(list); {
		j, sum := i, 0
		for ; j < len(list) && list[j].Line1 == list[i].Line1 && list[j].Group == list[i].Group && (j == i || list[i].Line1 != ""); j++ {
			sum += list[j].Width
		}
		if need := 9*len([]rune(list[i].Line1)) + 18; list[i].Line1 != "" && sum < need {
			t.Errorf("%q over %d columns has %d of %d pixels", list[i].Line1, j-i, sum, need)
		}
		i = j
	}
}

// Columns come and go: what is not in use is not shown, what comes into use is, and the cursor stays at its column.
func TestColumnsInUse(t *testing.T) {
	p := small(t)
	p.did(func(d *Desk) { d.AddColumn(0, "Movable rim 6") })
	p.ask("work", 60_000)
	p.did(func(d *Desk) { d.ShowColumns(false, nil) })
	p.want(p.has("Movable rim 6"), false)
	p.ask("go", 1, p.column("Speed"), false)
	p.d.PutCell(job.MachinesSheet, 0, 0, "0.1")
	p.want(p.ask("work", 60_000)["columns"], true)
	p.want(p.has("Movable rim 6"), true)
	p.want(p.ask("state")["col"], p.column("Speed"))
	p.want(p.ask("work", 60_000)["columns"], false)
	// nothing moves under somebody who types
	q := small(t)
	q.did(func(d *Desk) { d.AddColumn(0, "Movable rim 6") })
	q.did(func(d *Desk) { d.ShowColumns(false, nil) })
	q.ask("work", 60_000)
	q.d.PutCell(job.MachinesSheet, 0, 0, "0.1")
	q.ask("go", 1, q.column("Speed"), false)
	q.ask("begin")
	q.want(q.ask("work", 60_000)["columns"], false)
	q.want(q.has("Movable rim 6"), false)
	q.ask("cancel")
	q.want(q.ask("work", 60_000)["columns"], true)
	// columns hidden by hand: what is said of it
	p = small(t)
	p.ask("select", 0, 0, 0, 0)
	p.want(p.ask("hideColumns")["note"], "The machine's name stays.")
	v := p.column("Verdict")
	p.ask("select", 0, v, 0, v+1)
	s := p.ask("hideColumns")
	p.want(s["note"], "2 columns are hidden: Verdict, Why. View, Columns shown brings them back.")
	p.want(s["arranged"], true)
	p.want(p.has("Verdict") || p.has("Why"), false)
	p.want(s["col"], v)
	groups, _ := p.d.ColumnGroups()
	last := groups[len(groups)-1]
	p.want(fmt.Sprint(last.Name, last.Title, last.Count, last.Hidden), "-=whyWhy1 true")
	p.want(p.again().has("Why"), false)
	x := p.column("Speed")
	p.ask("select", 0, x, 0, x)
	p.want(p.ask("hideColumns")["note"], "1 column is hidden: Speed [rpm]. View, Columns shown brings them back.")
	s = p.ask("showAll", false)
	p.want(p.has("Verdict") && p.has("Speed"), true)
	if note := s["note"].(string); !strings.Contains(note, " columns are shown, ") || !strings.HasSuffix(note, " not.") {
		t.Errorf("%q", note)
	}
	p.ask("selectAll")
	if note := p.ask("hideColumns")["note"].(string); strings.Count(note, ",") != 4 {
		t.Errorf("%q", note) // four of them are named
	}
	p.want(p.heads()[0], "Machine")
	p.ask("sheet", 3)
	p.want(p.ask("hideColumns")["note"], "Columns are hidden on the sheet Machines.")
}

// Groups of columns are counted, without those that belong to none, and one that is hidden is.
func TestGroups(t *testing.T) {
	p := small(t)
	p.did(func(d *Desk) { d.AddColumn(-1, "Foreman") })
	groups, all := p.d.ColumnGroups()
	p.want(all, false)
	count := map[string]int{}
	for _, g := range groups {
		count[g.Name] = g.Count
	}
	p.want(count["Results"], len(p.d.results)-first)
	p.want(count["Own"], 1)
	p.did(func(d *Desk) { d.ShowColumns(true, []string{"Own", "Results"}) })
	p.want(p.has("Foreman") || p.has("Front shim"), false)
	p.want(p.has("Verdict"), true)
	groups, all = p.d.ColumnGroups()
	p.want(all, true)
	for _, g := range groups {
		p.want(g.Hidden, g.Name == "Own" || g.Name == "Results")
	}
	p.ask("sheet", 3)
	groups, _ = p.d.ColumnGroups()
	for _, g := range groups {
		if g.Name == "Results" {
			t.Error("the stock has no results")
		}
	}
}

// An order that was made the job's and is undone and done again, with another sorting between: the rows lie as they lay, shown sorted by what they were sorted by then.
func TestSortedUndoneAndRedone(t *testing.T) {
	p := small(t)
	start := p.job()
	p.ask("arrange", "Given offset V [mm]\t\n", "")
	p.did((*Desk).SortStored)
	p.want(p.d.Arranged(), false)
	p.ask("arrange", "Machine\t\n", "")
	p.did((*Desk).SortStored)
	p.want(p.d.job.Machines.Rows[0][0], "Pump 1")
	p.ask("go", 2, 0, false)
	p.ask("undo")
	p.want(p.d.views[0].Sort, []grid.SavedKey{{Col: "Machine"}})
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	p.want(p.d.job.Machines.Rows[0][0], "Pump 3")
	p.ask("undo")
	p.want(p.d.views[0].Sort, []grid.SavedKey{{Col: "Given offset V [mm]"}})
	p.want(p.shown("Machine"), "[Pump 3 Pump 1 Pump 2]")
	p.want(p.d.job.Machines.Rows[0][0], "Pump 1")
	p.ask("redo")
	p.want(p.d.Arranged(), false)
	p.want(p.d.job.Machines.Rows[0][0], "Pump 3")
	p.ask("redo")
	p.want(p.d.job.Machines.Rows[0][0], "Pump 1")
	p.ask("undo")
	p.want(p.d.views[0].Sort, []grid.SavedKey{{Col: "Machine"}})
	p.ask("undo")
	p.d.job.Views = nil
	p.want(p.job() == start, true)
	// with nothing to sort nothing is a step
	p.ask("arrange", "", "")
	p.did((*Desk).SortStored)
	p.want(len(p.d.sorts), 0)
}

package desk

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"shimsheet/internal/grid"
	"shimsheet/internal/job"
)

// A page presses operations as the scripts do, and reads the answers as they do.
type page struct {
	testing.TB
	d *Desk
}

// pressed are the operations that tests pressed with success, for TestMain.
var pressed = map[string]bool{}

func TestMain(m *testing.M) {
	flag.Parse()
	code := m.Run()
	if only := flag.Lookup("test.run"); code == 0 && only.Value.String() == "" && flag.Lookup("test.list").Value.String() == "" {
		for _, name := range Operations() {
			if !pressed[name] {
				fmt.Fprintf(os.Stderr, "no test presses the operation %s\n", name)
				code = 1
			}
		}
	}
	os.Exit(code)
}

// begin is a page with a new job.
func begin(t testing.TB) page {
	d := New("test", nil)
	d.now = func() time.Time { return time.Date(2026, 4, 14, 9, 30, 0, 0, time.UTC) }
	p := page{t, d}
	p.ask("new")
	return p
}

// demo is a page with the demo job, every row worked out.
func demo(t testing.TB) page {
	p := begin(t)
	var in []Value
	for _, name := range []string{"machines", "job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"} {
		b, err := os.ReadFile(filepath.Join("../../testdata/demo", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		in = append(in, string(b))
	}
	p.ask("demo", in...)
	p.ask("work", 60_000)
	return p
}

// small is a page with three couplings, of which the last is outside its limits.
func small(t testing.TB) page {
	p := begin(t)
	p.paste("Machine\tMethod\tGiven offset V [mm]\tGiven slope V [mm/m]\tGiven offset H [mm]\tGiven slope H [mm/m]\tCoupling to front feet [mm]\tFront to rear feet [mm]\tSpeed [rpm]\n" +
		"Pump 1\tline\t0.01\t0\t0\t0\t400\t600\t1480\nPump 2\tline\t0.02\t0\t0\t0\t400\t600\t1480\nPump 3\tline\t-0.62\t0\t0\t0\t400\t600\t1480\n")
	p.ask("work", 60_000)
	return p
}

type answer map[string]any

// raw presses an operation; a panic inside it fails the test.
func (p page) raw(name string, in ...Value) string {
	p.Helper()
	text := p.d.Answer(name, in...)
	if strings.HasPrefix(text, `{"panic":`) {
		p.Fatalf("%s %v: %s", name, in, text)
	}
	return text
}

// ask presses an operation that must do what it is asked.
func (p page) ask(name string, in ...Value) answer {
	p.Helper()
	a := p.answered(name, in...)
	if a["error"] != nil {
		p.Fatalf("%s %v: %s", name, in, a["error"])
	}
	pressed[name] = true
	return a
}

// did has a screen's host do something, and asks as the page does what became of it.
func (p page) did(f func(*Desk)) answer {
	p.Helper()
	f(p.d)
	return p.ask("took")
}

// refused presses an operation that must refuse with a sentence, and leave the job as it was.
func (p page) refused(name string, in ...Value) string {
	p.Helper()
	before := p.job()
	a := p.answered(name, in...)
	why, _ := a["error"].(string)
	if why == "" {
		p.Fatalf("%s %v: no refusal: %v", name, in, a)
	}
	if after := p.job(); after != before {
		p.Errorf("%s %v was refused (%s) and changed the job", name, in, why)
	}
	return why
}

func (p page) answered(name string, in ...Value) answer {
	p.Helper()
	var a answer
	text := p.raw(name, in...)
	if err := json.Unmarshal([]byte(text), &a); err != nil {
		p.Fatalf("%s %v: %v: %.200s", name, in, err, text)
	}
	return a
}

// job is the job as it would be saved, without the digest of its state.
func (p page) job() string {
	p.Helper()
	text, err := p.d.job.MarshalJSON()
	if err != nil {
		p.Fatal(err)
	}
	return string(text)
}

// cells are the cells in sight, row by row, each with its mark before it.
func (p page) cells() [][]string {
	s := p.ask("state")
	text := p.raw("viewport", 0, 0, int(s["columns"].(float64)), int(s["rows"].(float64)))
	pressed["viewport"] = true
	var rows [][]string
	for _, r := range strings.Split(strings.TrimSuffix(text, "\x1e"), "\x1e") {
		rows = append(rows, strings.Split(strings.TrimSuffix(r, "\x1f"), "\x1f"))
	}
	return rows
}

// column is where a column is shown, by the name over it.
func (p page) column(name string) int {
	p.Helper()
	for x, c := range p.ask("layout")["columns"].([]any) {
		if c.(map[string]any)["name"] == name {
			return x
		}
	}
	p.Fatalf("no column %s is shown", name)
	return -1
}

// shown are the texts of a column in sight.
func (p page) shown(name string) []string {
	p.Helper()
	x := p.column(name)
	var out []string
	for _, r := range p.cells() {
		out = append(out, r[x][1:])
	}
	return out
}

func (p page) want(got any, want any) {
	p.Helper()
	if g, w := fmt.Sprint(got), fmt.Sprint(want); g != w {
		p.Errorf("got %s, want %s", g, w)
	}
}

// typed types a text into a cell in sight.
func (p page) typed(row int, column, text string) answer {
	p.Helper()
	p.ask("go", row, p.column(column), false)
	p.ask("begin")
	return p.ask("commit", text, 1, 0)
}

// paste puts a clipboard text in, without what is guessed of its columns, and takes what the dialog shows where there is one.
func (p page) paste(text string) answer {
	p.Helper()
	u := p.ask("screen", "match", "event", "pasted", "", "", text, "")
	if u["dialog"] == "dlg-match" {
		u = p.ask("screen", "match", "event", "less", "", "click", "", "")
	}
	if u["dialog"] == "dlg-paste" {
		p.ask("screen", "match", "event", "paste", "", "click", "", "")
	}
	return p.ask("took")
}

func TestTypeAndUndo(t *testing.T) {
	p := small(t)
	p.want(p.shown("Verdict"), "[inside inside outside]")
	first := p.job()
	s := p.typed(2, "Given offset V", "0.005")
	p.want(s["undo"], "typing")
	p.want(p.shown("Verdict")[2], "inside")
	told := p.ask("told", 2, p.column("Given offset V"))
	if text := told["text"].(string); !strings.HasPrefix(text, "Pump 3: ") {
		t.Errorf("told %q", text)
	}
	after := p.job()
	p.want(p.ask("undo")["note"], "Undone: typing.")
	p.want(p.shown("Verdict")[2], "outside")
	p.want(p.job() == first, true)
	p.ask("redo")
	p.want(p.job() == after, true)
	// what cannot be read is kept as it is typed, with a mark and a sentence
	p.typed(2, "Given offset V", "0.4 bananas")
	p.want(p.shown("Given offset V")[2], "0.4 bananas")
	p.want(p.cells()[2][p.column("Given offset V")][:1], "e")
	p.ask("go", 2, p.column("Given offset V"), false)
	if i := p.ask("info", 400); i["severity"] != "error" || !strings.Contains(i["problem"].(string), "bananas") {
		t.Errorf("%v", i)
	}
	if c := p.ask("count"); c["couplings"] != 3.0 || c["inside"] != 2.0 || c["notJudged"] != 1.0 || c["problems"].(float64) < 1 {
		t.Errorf("%v", c)
	}
	if html := p.ask("problems")["html"].(string); !strings.Contains(html, "bananas") {
		t.Errorf("%.300s", html)
	}
	if list, total := p.d.problems(); total < 1 || list[0].Severity != job.Error || list[0].Row != 2 {
		t.Errorf("%v", list)
	}
	// a result cannot be typed over
	p.ask("go", 0, p.column("Verdict"), false)
	if s := p.ask("begin"); s["ok"] != false {
		t.Error("a result was opened for typing")
	}
	p.ask("cancel")
}

func TestPasteSortFilter(t *testing.T) {
	p := small(t)
	// a block with headers of its own goes to the columns that they name
	u := p.ask("screen", "match", "event", "pasted", "", "", "Speed\tMachine\n2960\tPump 4\n", "")
	if html := u["regions"].([]any)[0].([]any)[1].(string); u["dialog"] != "dlg-paste" || !strings.Contains(html, "1 row is put in below those that are there.") || strings.Count(html, "<tr>") != 3 {
		t.Errorf("%v", u)
	}
	if len(p.shown("Machine")) != 3 {
		t.Error("taken before anybody has seen what it would do")
	}
	u = p.ask("screen", "match", "event", "paste", "", "click", "", "")
	p.want(u["say"], "Done: paste of 1 row. Ctrl+Z takes it back.")
	p.want(p.ask("took")["changed"], true)
	p.want(p.shown("Machine")[3], "Pump 4")
	p.want(p.shown("Speed")[3], "2960")
	p.ask("screen", "match", "event", "paste", "", "click", "", "")
	if s := p.ask("took"); s["changed"] != false {
		t.Error("one plan was carried out twice")
	}
	p.ask("undo")

	s := p.ask("arrange", "Given offset V [mm]\tdesc\n", "")
	p.want(s["view"], "rows shown sorted")
	p.want(p.shown("Machine"), "[Pump 2 Pump 1 Pump 3]")
	p.want(p.ask("rowNumbers", 0, 3)["rows"], "[3 2 4]")
	// typing goes to the row in sight
	p.typed(0, "Speed", "1000")
	p.want(p.d.job.Machines.Rows[1][8], "1000")
	p.ask("undo")
	s = p.ask("arrange", "", "=verdict\te\toutside\n")
	p.want(s["view"], "1 of 3 rows shown")
	p.want(p.shown("Machine"), "[Pump 3]")
	// what is asked for comes before what was hidden
	p.want(p.ask("goStored", 0, -1)["note"], "The filter was taken off to show this row.")
	p.want(len(p.cells()), 3)
	// the order shown becomes the job's, and back, with the sorting
	p.ask("arrange", "Given offset V [mm]\t\n", "")
	p.want(p.shown("Machine"), "[Pump 3 Pump 1 Pump 2]")
	p.did((*Desk).SortStored)
	p.want(p.d.job.Machines.Rows[0][0], "Pump 3")
	p.want(p.ask("state")["view"], "")
	p.ask("undo")
	p.want(p.d.job.Machines.Rows[0][0], "Pump 1")
	p.want(p.ask("state")["view"], "rows shown sorted")
	p.ask("arrange", "", "")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	// Seen: a step was taken for the sorting by its title, and undoing it sorted the rows
	p.d.changed(job.MachinesSheet, p.d.grid().AppendRows("sorting things out", [][]string{{"Pump 0"}}))
	p.d.sorts = append(p.d.sorts, []grid.SavedKey{{Col: "Machine"}})
	p.ask("undo")
	p.want(p.ask("state")["view"], "")
	// nonsense in a view is left out, and the rows stay
	p.ask("arrange", "no such column\tdesc\n\t\n", "also none\t=\tx\nshort\n")
	p.want(len(p.cells()), 3)
}

// What a person presses on the sheet, each with what it comes to.
func TestSheet(t *testing.T) {
	p := small(t)
	x := p.column("Speed")
	p.ask("go", 0, x, false)
	p.ask("go", 1, x, true)
	p.want(p.ask("state")["sel"], fmt.Sprint([]int{0, x, 1, x}))
	p.ask("go", 0, 0, false)
	p.ask("move", 1, 0, false)
	p.want(p.ask("state")["row"], 1)
	p.ask("step", 1, 0)
	p.want(p.ask("state")["row"], 2)
	p.ask("rowEnd", false, false)
	if p.ask("state")["col"] == 0.0 {
		t.Error("the end of a row is its beginning")
	}
	p.ask("rowStart", false, false)
	p.want(p.ask("state")["col"], 0)
	p.ask("jump", -1, 0, false)
	p.want(p.ask("state")["row"], 0)
	p.ask("selectAll")
	p.want(p.ask("state")["sel"].([]any)[0], 0)
	p.ask("select", 0, x, 2, x)
	p.want(p.ask("sums")["text"], "3 numbers · sum 4440 rpm · smallest 1480 rpm · largest 1480 rpm")
	p.ask("also", 0, 0)
	if more := p.ask("state")["more"]; more == nil {
		t.Error("a second range is not told")
	}

	p.ask("go", 0, x, false)
	p.ask("begin")
	p.ask("commitAll", "1000")
	p.ask("select", 0, x, 2, x)
	p.ask("fill")
	p.want(p.shown("Speed"), "[1000 1000 1000]")
	p.ask("undo")
	p.want(p.shown("Speed"), "[1000 1480 1480]")
	p.typed(1, "Speed", "1500")
	p.ask("select", 0, x, 2, x)
	p.typed(2, "Speed", "")
	p.ask("select", 0, x, 2, x)
	p.ask("series")
	p.want(p.shown("Speed"), "[1000 1500 2000]")
	p.ask("select", 0, x, 0, x)
	p.ask("fillTo", 0, x, 2, x, false)
	p.want(p.shown("Speed"), "[1000 1000 1000]")
	y := p.column("Given offset V")
	p.ask("select", 0, y, 0, y+1)
	p.ask("fillRight")
	p.want(p.shown("Given slope V")[0], "0.01")
	p.ask("undo")
	p.ask("go", 0, y, false)
	p.ask("fillAlong", false)
	p.want(p.shown("Given offset V"), "[0.01 0.01 0.01]")
	p.ask("undo")
	p.ask("select", 1, 0, 1, 0)
	p.ask("duplicateRows")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 2 Pump 3]")
	p.ask("deleteRows")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	p.ask("select", 0, 0, 0, 0)
	p.ask("moveRows", 1)
	p.want(p.shown("Machine"), "[Pump 2 Pump 1 Pump 3]")
	p.ask("insertRows")
	p.want(p.ask("state")["rows"], 4)
	p.ask("undo")
	p.ask("undo")
	p.ask("go", 0, 0, false)
	p.ask("delete")
	p.want(p.shown("Machine")[0], "")
	p.ask("undo")

	find := p.show("find")
	find.want(find.last["focus"], "find-text")
	find.want(find.values["find-sel"], "false")
	said := func(want, event string, fields ...string) {
		t.Helper()
		find.does(event, "", "", strings.Join(fields, "\x1e"))
		p.want(find.regions["find-said"], want)
	}
	said("1 of 1", "typed", "text\x1fpump 3", "case\x1ffalse")
	p.want(p.ask("took")["row"], 2)
	said("Not found", "next", "text\x1fpump 3", "case\x1ftrue")
	said("Not found", "next", "text\x1fump 3", "whole\x1ftrue")
	said("", "typed", "text\x1fpump", "sel\x1ftrue") // what is typed moves nobody out of the selection
	said("", "typed", "text\x1f")
	said("6 of 6, 3 of them worked out", "next", "text\x1fpump") // each machine is named in a result too
	said("1 of 6, 3 of them worked out, from the other end", "next", "text\x1fpump")
	said("6 of 6, 3 of them worked out, from the other end", "back", "text\x1fpump")
	find.does("key", "", "keydown", "text\x1fpump", "Shift+Enter")
	find.has("find-said", "5 of 6")
	p.ask("took")
	p.ask("go", 2, p.column("Machine"), false)
	said("Not found", "replace", "text\x1fPump 3", "by\x1fFan 3", "case\x1ftrue")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Fan 3]")
	said("", "all", "text\x1fPump", "by\x1fFan", "case\x1ftrue")
	p.want(find.last["say"], "Done: replacing 2 cells. Ctrl+Z takes it back.")
	p.ask("took")
	p.want(p.shown("Machine"), "[Fan 1 Fan 2 Fan 3]")
	said("Nothing to replace", "all", "text\x1fPump", "by\x1fFan", "case\x1ftrue")
	p.want(find.last["changed"], nil)
	find.does("key", "", "keydown", "text\x1fpump", "Escape")
	p.want(find.attribute("findbar", "hidden"), "=")
	p.want(find.last["sheet"], true)
	p.ask("select", 0, 0, 2, 1)
	p.want(p.show("find").values["find-sel"], "true")
	p.ask("go", 0, 0, false)

	c := p.did(func(d *Desk) { d.AddColumn(-1, "Colour") })
	p.want(c["changed"], true)
	n := len(p.d.job.Machines.Header) - 1
	p.did(func(d *Desk) { d.RenameColumn(n, "Paint") })
	p.want(p.d.job.Machines.Header[n], "Paint")
	p.did(func(d *Desk) { d.DeleteColumn(n) })
	p.want(len(p.d.job.Machines.Header), n)

	p.ask("select", 0, 0, 1, 0)
	p.want(p.ask("copy", true, false)["text"], "Machine\r\nFan 1\r\nFan 2")
	cut := p.ask("cut")
	p.want(cut["text"], "Fan 1\r\nFan 2")
	p.want(p.shown("Machine"), "[  Fan 3]")
	p.ask("undo")
	// a text in a cell while it is typed: what it would mean, and the picture of the row as it would be
	m := p.ask("tryText", 2, p.column("Given offset V"), "0.1 in", 400)
	if !strings.Contains(m["meaning"].(string), "2.54") || !strings.HasPrefix(m["svg"].(string), "<svg") {
		t.Errorf("%v", m)
	}
	p.want(p.shown("Given offset V")[2], "-0.62")
}

func TestColumns(t *testing.T) {
	p := begin(t)
	p.ask("columns", "rim and face")
	if !slices.Contains(p.d.grid().Header(), "Movable rim 6") {
		t.Errorf("%v", p.d.grid().Header())
	}
	p = small(t)
	x := p.column("Speed")
	p.ask("width", x, 222)
	p.want(p.ask("layout")["columns"].([]any)[x].(map[string]any)["width"], 222)
	p.ask("select", 0, x, 0, x)
	p.ask("hideColumns")
	groups, _ := p.d.ColumnGroups()
	if g := groups[len(groups)-1]; g.Title != "Speed [rpm]" || !g.Hidden {
		t.Errorf("%v", g)
	}
	p.did(func(d *Desk) { d.ShowColumns(false, []string{"Results"}) })
	p.column("Speed")
	if s := p.ask("showAll", true); s["all"] != true || s["arranged"] != true || !slices.Equal(p.d.views[0].Hidden, []string{"Results"}) {
		t.Error("not all, or a group that was hidden is not any more")
	}
	p.did(func(d *Desk) { d.ShowColumns(true, nil) })
	p.column("Front shim")
	p.did(func(d *Desk) { d.ShowColumns(false, nil) })
	p.ask("resultsFirst", true)
	if p.column("Front shim") > p.column("Speed") {
		t.Error("results stand behind")
	}
	// in other units, without a change of what was typed
	p.ask("showAs", "inch")
	if s := p.shown("Given offset V")[2]; !strings.HasPrefix(s, "-24.4") {
		t.Errorf("shown %s", s)
	}
	p.want(p.d.job.Machines.Rows[2][2], "-0.62")
	// how it is shown is kept with the job
	text := p.ask("job")["text"].(string)
	p.ask("openJob", text)
	if s := p.ask("state"); s["resultsFirst"] != true {
		t.Error("the order of columns is lost")
	}
}

func TestSaveAndOpen(t *testing.T) {
	p := demo(t)
	p.ask("sheet", 0)
	count := fmt.Sprint(p.ask("count"))
	saved := p.ask("save", "2026-04-14T09:30:00Z")["text"].(string)
	p.want(p.ask("state")["revision"], 1)
	whole := p.job()
	// of a saving that no file came of nothing is left; twice in a row neither
	p.ask("save", "2026-04-14T10:00:00Z")
	p.want(p.ask("state")["revision"], 2)
	p.ask("notSaved")
	s := p.ask("notSaved")
	p.want(s["revision"], 1)
	p.want(s["savedAt"], "2026-04-14T09:30:00Z")
	p.want(p.job() == whole, true)
	q := begin(t)
	s = q.ask("openJob", []byte(saved))
	p.want(s["sealed"], true)
	p.want(s["changes"], 0)
	q.ask("work", 60_000)
	p.want(q.job() == whole, true)
	p.want(fmt.Sprint(q.ask("count")), count)
	// in a page, as a browser saves it
	q.ask("openFile", "x.html", "<!doctype html><script type=\"application/json\" id=\"job\">"+strings.ReplaceAll(saved, "<", "\\u003c")+"</script></html>\n<script>")
	p.want(q.job() == whole, true)
	// a damaged one is refused, and opened as far as it can be read when that is asked for
	bad := strings.Replace(saved, "Condenser", "Kondenser", 1)
	if bad == saved {
		bad = strings.Replace(saved, "pump", "pomp", 1)
	}
	if why := q.refused("openJob", bad); why == "" {
		t.Error("no sentence")
	}
	q.ask("openJob", bad, true)
	for _, text := range []string{"", "{", "null", "[]", `{"format":"shimsheet job","version":99}`, "<html>no job</html>", strings.Repeat("[", 20_000)} {
		q.refused("openJob", text, false)
		q.refused("openFile", "x", text, false)
	}
	p.want(strings.Count(p.ask("csv")["text"].(string), "\n") > 20, true)
	begin(t).refused("csv")
	if html := p.ask("first", "digest")["html"].(string); !strings.Contains(html, "digest") {
		t.Errorf("%.200s", html)
	}
	if html := p.ask("print", "14 April 2026", "", false)["html"].(string); !strings.Contains(html, "14 April 2026") {
		t.Errorf("%.200s", html)
	}
}

// pieces hands a job over as the page does to a worker: its head, and its rows packed.
func (p page) pieces(head func(string), rows func(k int, text string)) {
	head(p.ask("head")["text"].(string))
	for k := range wire {
		if wire[k] != job.MachinesSheet {
			p.rowsOf(k, rows)
		}
	}
	p.rowsOf(0, rows) // machines come last
}

func (p page) rowsOf(k int, rows func(k int, text string)) {
	for from := 0; from >= 0; {
		a := p.ask("rows", k, from, 200)
		if from = int(a["next"].(float64)); from >= 0 {
			rows(k, a["rows"].(string))
		}
	}
}

// A job that comes out of a file in pieces takes the place of the one at hand, as one step.
func TestTakeAndTwoJobs(t *testing.T) {
	from, p := demo(t), small(t)
	mine := p.job()
	var machines int
	p.refused("coming", "{}") // no file was read
	open := func(name, arg, value, key string) { p.ask("screen", "open", "event", name, arg, "", value, key) }
	open("begin", "", "", "demo.xlsx")
	open("read", "", `{"preview":{"format":"xlsx","sheets":[{"name":"Machines","kind":"machines"}],"notices":[{"severity":"warning","sheet":"Machines","row":5,"column":"Speed","col":1,`+
		`"text":"A row was odd","hint":"look at it"}]},"rows":[`+strconv.Itoa(len(from.d.job.Machines.Rows))+`,0]}`, "")
	from.pieces(func(head string) {
		machines = len(from.d.job.Machines.Rows)
		p.ask("coming", head)
	}, func(k int, text string) { p.ask("comingRows", k, text) })
	p.want(p.job() == mine, true)
	s := p.ask("take")
	p.want(s["undo"], "opening of demo.xlsx")
	p.want(s["said"], "demo.xlsx is open: 26 rows. 1 thing was pointed out when it was read. Ctrl+Z brings back the job before.")
	p.want(s["machines"], machines)
	p.ask("work", 60_000)
	p.want(p.d.job.Machines.Rows[0], from.d.job.Machines.Rows[0])
	p.want(strings.Contains(p.ask("problems")["html"].(string), "A row was odd; look at it"), true)
	// back and forth between the two, each with its own steps
	p.ask("undo")
	p.want(p.job() == mine, true)
	p.typed(0, "Machine", "Pump 9")
	p.ask("undo")
	p.ask("redo")
	p.want(p.shown("Machine")[0], "Pump 9")
	p.ask("undo")
	p.ask("redo") // the step within comes first
	p.ask("undo")
	p.want(p.job() == mine, true)
	// nothing comes twice, and nothing that was not begun
	p.refused("take")
	p.refused("comingRows", 0, "")
	p.refused("coming", "{")
	p.want(p.refused("rows", 99, 0, 10) != "", true)
}

// The safety copy: a whole copy, records, and what they come to.
func TestKept(t *testing.T) {
	p := small(t)
	q := begin(t)
	q.ask("copyBegin", p.ask("wholeCopy", false)["head"].(string))
	keep := func() {
		text := p.raw("record")
		pressed["record"] = true
		if text != "" {
			q.ask("copyRecord", text)
		}
	}
	p.want(p.raw("record"), "")
	p.typed(0, "Speed", "990")
	keep()
	p.paste("x")
	p.ask("undo")
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.05 mm\t12\n")
	keep()
	p.ask("sheet", 0)
	p.did(func(d *Desk) { d.AddColumn(0, "Own") })
	p.ask("deleteRows")
	keep()
	p.want(q.ask("copyText")["text"] != nil, true)
	c := q.ask("copyCompare", 10)
	if c["onlyB"].(float64) != 2+1 && c["onlyB"].(float64) == 0 {
		t.Errorf("%v", c)
	}
	q.ask("copyOpen")
	p.want(q.job(), p.job())
	q.refused("copyOpen")
	q.refused("copyText")
	q.refused("copyCompare", 3)
	q.refused("copyRecord", "x")
	q.refused("copyRows", 0, "")
	q.refused("copyBegin", "{")
	q.ask("copyBegin", p.ask("job")["text"].(string))
	q.refused("copyRecord", "no record")

	// a large one is written in pieces, as it was when it was begun
	rows := make([][]string, 4000)
	for i := range rows {
		rows[i] = []string{fmt.Sprint("Fan ", i), "1480", "a", "b", "c", "d", "e", "f"}
	}
	big := begin(t)
	var text strings.Builder
	text.WriteString("Machine\tSpeed\tOwn 1\tOwn 2\tOwn 3\tOwn 4\tOwn 5\tOwn 6\n")
	for _, r := range rows {
		text.WriteString(strings.Join(r, "\t") + "\n")
	}
	big.paste(text.String())
	whole := big.ask("wholeCopy", false)
	turn := int(whole["turn"].(float64))
	q.ask("copyBegin", whole["head"].(string))
	before := big.job()
	for k := range int(whole["tables"].(float64)) {
		for from := 0; from >= 0; {
			a := big.ask("wholeRows", turn, k, from, 20_000)
			if k == 0 && from == 0 {
				big.typed(3999, "Speed", "1") // meanwhile
			}
			if from = int(a["next"].(float64)); from >= 0 {
				q.ask("copyRows", k, a["rows"].(string))
			}
		}
	}
	q.ask("copyOpen")
	p.want(q.job() == before, true)
	p.want(big.ask("wholeRows", turn, 0, 0, 10)["gone"], true)
	if as := big.ask("wholeCopy", true); as["head"] == nil {
		t.Error("no head")
	}
}

// The stock shared out by a second desk, as a worker does it.
func TestLists(t *testing.T) {
	p := small(t)
	p.typed(1, "Given offset V", "-0.4") // two machines that want shims
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.5 mm\t1\n0.1 mm\t2\n0.05 mm\t3\n")
	p.ask("sheet", 0)
	p.want(p.ask("sharing")["wanted"], true)
	parts := 0
	worker := page{t, New("test", func(float64) { parts++ })}
	worker.refused0("lists", "now")
	p.pieces(func(head string) { worker.ask("listsHead", head) }, func(k int, text string) { worker.ask("listsRows", k, text) })
	shown := func(u answer) string { return u["regions"].([]any)[0].([]any)[1].(string) }
	u := p.ask("screen", "shims", "show")
	run := u["share"].(string)
	p.want(strings.Contains(shown(u), "<progress"), true)
	l := worker.ask("lists", "now")
	if parts == 0 {
		t.Error("nobody was told how far it is")
	}
	u = p.ask("screen", "shims", "event", "lists", "of another state", "shared", l["lists"].(string), "")
	p.want(len(u["regions"].([]any)), 0)
	u = p.ask("screen", "shims", "event", "lists", run, "shared", l["lists"].(string), "")
	if html := shown(u); strings.Count(html, "Pump 3") < 4 || !strings.Contains(html, `class="short"`) || u["say"] == "" {
		t.Errorf("%s", html)
	}
	// On paper the rows of a machine are one body, which no page break parts. Seen: the last foot of a machine at the top of a page, without a name.
	bodies := strings.Split(shown(p.ask("screen", "shims", "event", "paper", "", "print", "", "")), "<tbody")[1:]
	for _, body := range bodies {
		p.want(strings.HasPrefix(body, ` class="machine"><tr`), true)
		p.want(strings.Count(body, `<th scope="row">`), 1)
	}
	p.want(len(bodies), 2)
	u = p.ask("screen", "shims", "event", "show", "order", "click", "", "")
	if html := shown(u); !strings.Contains(html, ">Thickness") || strings.Contains(html, "Pump 3") {
		t.Errorf("%s", html)
	}
	file := p.ask("screen", "shims", "event", "csv", "", "click", "", "")["file"].([]any)
	p.want(file[3], "csv")
	p.want(strings.HasPrefix(file[2].(string), "\ufeffThickness"), true)
	p.want(strings.HasPrefix(shown(p.ask("screen", "shims", "event", "paper", "", "print", "", "")), "<h1>Order list</h1>"), true)
	p.want(p.ask("screen", "shims", "event", "row", "2", "click", "", "")["place"], "[0 2 -1]")
	p.want(p.ask("screen", "shims", "event", "stop", "", "click", "", "")["unshare"], true)
	p.ask("shared", l["sharing"].(string), "now")
	p.want(p.ask("sharing")["wanted"], false)
	p.refused("shared", "no sharing", "now")
	p.typed(0, "Given offset V", "0.3")
	p.ask("notShared", "the worker ended")
	u = p.ask("screen", "shims", "changed")
	p.want(u["soon"], "work")
	u = p.ask("screen", "shims", "event", "work", "", "soon", "", "")
	if u["share"] == nil || u["share"] == run {
		t.Errorf("the lists are not made of the job as it is now: %v", u)
	}
	u = p.ask("screen", "shims", "event", "lists", u["share"].(string), "stopped", "", "")
	p.want(strings.Contains(shown(u), "Stopped."), true)
	worker.refused0("listsHead", "{")
	worker.refused0("listsRows", 0, "")
}

// refused0 is refused for a desk without a job.
func (p page) refused0(name string, in ...Value) {
	p.Helper()
	if a := p.answered(name, in...); a["error"] == nil {
		p.Errorf("%s %v: no refusal", name, in)
	}
}

// The overview draws what is shown of the list, and leads to its rows.
func TestOverview(t *testing.T) {
	p := demo(t)
	over := func() string {
		return p.ask("screen", "list", "event", "draw", "", "soon", "", "")["regions"].([]any)[0].([]any)[1].(string)
	}
	p.ask("screen", "list", "show", "900")
	html := over()
	p.want(strings.Count(html, "<svg"), 2)
	p.want(strings.Contains(html, `width="864"`), true)
	all := strings.Count(html, "data-row=")
	p.ask("sheet", 0)
	p.ask("arrange", "", "=verdict\te\toutside\n")
	if n := strings.Count(over(), "data-row="); n == 0 || n >= all || !strings.Contains(over(), "rows shown") {
		t.Errorf("%d of %d couplings are drawn after a filter", n, all)
	}
	p.ask("arrange", "", "")
	p.want(p.ask("screen", "list", "event", "row", "3", "click", "", "")["place"], "[0 3 -1]")
	p.want(p.ask("screen", "list", "changed", "900")["soon"], "draw")
}

// The panel: a machine's, with drawings unfolded, that of Feet and Growth, rows made, a problem gone to.
func TestPanel(t *testing.T) {
	p := demo(t)
	p.ask("go", 0, 0, false)
	i := p.ask("info", 400)
	html := i["panel"].(string)
	name := p.shown("Machine")[0]
	if i["about"] != name || strings.Count(html, "<svg") < 2 || !strings.Contains(html, "What to do, in this order") {
		t.Errorf("%.300s", html)
	}
	if bare := p.ask("info", 0)["panel"].(string); strings.Contains(bare, "<svg") || !strings.Contains(bare, "What to do, in this order") {
		t.Error("a panel that nobody sees draws")
	}
	p.ask("info", 400)
	u := p.ask("screen", "panel", "event", "fold", "panel-sweeps", "toggle", "true", "")
	if r := u["regions"].([]any)[0].([]any); r[0] != "fold-panel-sweeps" || !strings.HasPrefix(r[1].(string), `<div class="drawing"><svg`) {
		t.Errorf("%v", r)
	}
	if u = p.ask("screen", "panel", "event", "fold", "panel-sweeps", "toggle", "true", ""); len(u["regions"].([]any)) > 0 {
		t.Error("what is open is drawn again")
	}
	if html := p.ask("info", 400)["panel"].(string); !strings.Contains(html, `data-arg="panel-sweeps" open=""`) {
		t.Error("what was unfolded does not stay so")
	}
	p.ask("sheet", 5)
	if html := p.ask("info", 400)["panel"].(string); !strings.Contains(html, "Make rows for all") {
		t.Errorf("%.300s", html)
	}
	rows := len(p.d.grid().Rows())
	p.ask("screen", "panel", "event", "make", "all", "click", "", "")
	s := p.ask("took")
	if s["changed"] != true || !strings.Contains(s["note"].(string), " rows made for ") || len(p.d.grid().Rows()) <= rows {
		t.Errorf("%v", s)
	}
	p.ask("screen", "panel", "event", "make", "all", "click", "", "")
	p.want(p.ask("took")["note"], "Every machine of the list has rows here already.")
	u = p.ask("screen", "panel", "event", "jump", "4 2 -1", "click", "", "")
	p.want(u["place"], "[4 2 -1]")
	// an empty sheet offers them above it
	q := small(t)
	q.ask("sheet", 4)
	p.want(strings.Contains(q.ask("state")["makers"].(string), "Make rows for all 3 machines"), true)
	for _, one := range []bool{true, false} {
		html := p.ask("print", "14 April 2026", "1 April 2026", one)["html"].(string)
		p.want(strings.Contains(html, `class="one"`), one)
	}
}

// Lists with headers of their own: what they may mean, what a person chose, what is kept of it.
func TestMatch(t *testing.T) {
	p := begin(t)
	const list = "Anlage\tRPM\tOffs. vert.\nP-1\t1480\t0.1\nP-2\t1480\t0.2\n"
	does := func(name, arg, value, key string) answer {
		t.Helper()
		return p.ask("screen", "match", "event", name, arg, "", value, key)
	}
	region := func(u answer, id string) string {
		t.Helper()
		for _, r := range u["regions"].([]any) {
			if r := r.([]any); r[0] == id {
				return r[1].(string)
			}
		}
		return ""
	}
	u := does("pasted", "", list, "")
	p.want(u["dialog"], "dlg-match")
	u = does("head", "", "1", "") // its header is none that anybody would know: the person says where it stands
	if body := region(u, "match-body"); !strings.Contains(body, "As its columns are named it cannot be worked out") || strings.Count(body, `id="match-row-`) != 3 {
		t.Fatalf("nobody is asked about headers that are not known: %v", u)
	}
	// a list has what it can choose from when somebody comes to it, and says what another column is
	if list := region(does("what-list", "0", "", ""), "match-what-0"); strings.Count(list, "<option") < 80 || !strings.Contains(list, "Speed (as “RPM” is)") {
		t.Errorf("%.300s", list)
	}
	// only the rows that became others are drawn anew: somebody may be pressing a button in the others
	u = does("what", "0", "machine", "")
	p.want(region(u, "match-row-0") != "", true)
	p.want(region(u, "match-row-1"), "")
	does("what", "2", "given_offset_v", "")
	if list := region(does("unit-list", "2", "", ""), "match-unit-2"); !strings.Contains(list, `<option value="mm">mm</option>`) {
		t.Errorf("%s", list)
	}
	does("unit", "2", "mil", "")
	u = does("take", "", "", "")
	p.want(u["dialog"], "-")
	p.want(u["say"], "2 columns are matched. The job keeps it, and the next list with these headers is read the same.")
	if rows := u["remember"].(string); !strings.Contains(rows, "Anlage") || !strings.Contains(rows, "Given offset V [mil]") {
		t.Errorf("remembered %q", rows)
	}
	p.ask("took")
	p.want(p.shown("Machine"), "[P-1 P-2]")
	// the next one like it needs nobody
	p.want(does("pasted", "", list, "")["dialog"], "dlg-paste")
	u = does("paste", "", "", "")
	p.want(strings.Contains(u["say"].(string), "2 columns are read as matched before in this job."), true)
	p.ask("took")
	p.want(p.shown("Machine"), "[P-1 P-2 P-1 P-2]")
	// a column can be named anew, and what it was named in the list is said
	u = does("again", "", "", "")
	p.want(strings.Contains(region(u, "match-body"), "(was “Anlage”)"), true)
	does("what", "1", "", "")
	does("take", "", "", "")
	p.ask("took")
	p.want(p.d.grid().Header()[1], "Kept unread: RPM")
	// what leads nowhere changes nothing
	for _, e := range [][2]string{{"what", "99"}, {"unit", "-1"}, {"answer", "x machine"}, {"what-list", "7"}, {"unit-list", "x"}, {"nothing", ""}} {
		does(e[0], e[1], "machine", "")
	}
}

func TestTables(t *testing.T) {
	p := small(t)
	tables := func(name, arg, kind, value, key string) answer {
		t.Helper()
		return p.ask("screen", "tables", "event", name, arg, kind, value, key)
	}
	region := func(u answer, id string) string {
		t.Helper()
		for _, r := range u["regions"].([]any) {
			if r := r.([]any); r[0] == id {
				return r[1].(string)
			}
		}
		t.Errorf("no region %s", id)
		return ""
	}
	page := region(p.ask("screen", "tables", "show"), "screen-tables")
	keys := regexp.MustCompile(`data-key="(\w+)"`).FindAllStringSubmatch(page, -1)
	if len(keys) < 8 || strings.Count(page, "<option value=") < 3+len(keys) {
		t.Fatalf("%.400s", page)
	}
	for _, k := range keys {
		all := region(tables("choose", k[1], "click", "", ""), "look-main")
		rows := strings.Count(all, "data-row=")
		if n := strings.Count(region(tables("units", "", "change", "inch", ""), "look-table"), "data-row="); n != rows || rows == 0 {
			t.Errorf("%s: %d rows, %d in inches", k[1], rows, n)
		}
		tables("units", "", "change", "", "")
		tables("tick", "0", "change", "true", "")
		text := tables("copy", "", "click", "", "")["copy"].([]any)[0].(string)
		p.want(strings.Count(text, "\n"), 1) // the heading and the row chosen
		tables("tick", "0", "change", "false", "")
		file := tables("csv", "", "click", "", "")["file"].([]any)
		p.want(file[0], "shimsheet-"+strings.ReplaceAll(k[1], "_", "-")+".csv")
		if n := strings.Count(file[2].(string), "\n"); n < rows+1 {
			t.Errorf("%s: %d lines of %d rows", k[1], n, rows)
		}
	}
	// order and filter
	tables("choose", "frames_nema", "click", "", "")
	tables("sort", "3", "click", "", "")
	first := regexp.MustCompile(`<th scope="row"[^>]*>([^<]*)`)
	p.want(first.FindStringSubmatch(region(tables("sort", "3", "click", "", ""), "look-table"))[1], "449T") // NEMA MG 1, from memory: 2F 25 in, the longest here
	filtered := region(tables("filter", "", "input", "21", ""), "look-table")
	p.want(strings.Count(filtered, "data-row="), 2)
	p.want(strings.Contains(filtered, "2 of 33 rows"), true)

	tables("look", "", "input", "132M frame", "")
	u := tables("box", "", "keydown", "132M frame", "Enter")
	p.want(u["focus"], "hit-0-0")
	place := regexp.MustCompile(`data-on="use" data-arg="(frames_iec \d+ 0 hit-0-0)"`).FindStringSubmatch(region(u, "look-main"))
	if place == nil {
		t.Fatalf("%.900s", region(u, "look-main"))
	}
	tables("machine", "", "change", "1", "")
	u = tables("use", place[1], "click", "", "")
	p.want(u["changed"], true)
	p.want(p.ask("took")["note"], "Pump 2: Front to rear feet filled from frame 132M. Measure the machine.")
	p.want(p.d.job.Machines.Rows[1][7] != "600", true)
	p.ask("undo")
	p.want(p.d.job.Machines.Rows[1][7], "600")
	// what is asked for with it, wrong and missing
	before := p.job()
	asks := strings.Replace(strings.Replace(place[1], " 0 hit", " 1 hit", 1), "hit-0-0", "hit-0-1", 1)
	p.want(strings.Contains(region(tables("use", asks, "submit", "x\x1f12 bananas", ""), "hit-0-1-said"), "is not a length"), true)
	p.want(strings.HasPrefix(region(tables("use", asks, "submit", "x\x1f ", ""), "hit-0-1-said"), "Type the distance first"), true)
	for _, nonsense := range []string{"", "none 0 0 x", "frames_iec 99999 0 x", "frames_iec 0 99 x"} {
		tables("use", nonsense, "click", "", "")
	}
	p.want(p.job() == before, true)
	tables("use", asks, "submit", "x\x1f12 mm", "")
	p.want(p.d.job.Machines.Rows[1][6] != "400", true)
	p.ask("undo")
	tables("use", "expansion 0 0 x", "click", "", "")
	p.want(p.ask("state")["sheet"], 4)
	tables("use", "expansion 0 1 x", "click", "", "")
	p.want(p.ask("state")["sheet"], 7)
	tables("use", "shims 0 0 x", "click", "", "")
	p.want(p.ask("state")["sheet"], 3)
	p.want(tables("box", "", "keydown", "132M frame", "Escape")["values"], "[[look-box ]]")
	p.want(tables("box", "", "keydown", "", "Escape")["sheet"], true)
	// without a machine nothing is used for one
	p.ask("new")
	p.want(tables("use", place[1], "click", "", "")["say"], "There is no machine to use it for. Type or paste a list in the sheet Machines first.")
}

// Every screen in Go comes up, on an empty job and on the demo, and says so where there is none.
func TestScreens(t *testing.T) {
	for _, p := range []page{begin(t), demo(t)} {
		for name := range newScreens {
			u := p.ask("screen", name, "show")
			if r := u["regions"].([]any); name == "match" && p.d.ev.Len() == 0 {
				p.want(u["say"], "There are no columns to match yet. Paste a list first.")
			} else if name == "find" {
				p.want(u["focus"], "find-text") // a bar that is there already
			} else if len(r) == 0 || r[0].([]any)[0] != "screen-"+name && name != "panel" && u["dialog"] != "dlg-"+name {
				t.Errorf("%s: %v", name, r)
			}
			p.ask("screen", name, "changed")
			p.ask("screen", name, "event", "nonsense", "", "click", "", "")
			p.refused("screen", name, "event")
		}
		p.refused("screen", "none", "show")
	}
	p := demo(t)
	p.ask("screen", "moves", "show")
	before := p.job()
	p.ask("screen", "moves", "event", "choose", "0", "click", "", "")
	if s := p.ask("took"); (p.job() != before) != s["changed"].(bool) {
		t.Error("what a screen changed is not told")
	}
	p.refused("photo", "data:image/png;base64,AAAA")
	p.want(p.ask("photo", "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==")["format"], "png")
}

// An operation with a wrong argument is refused before it begins. Seen: setting a cell without its text emptied the cell before it was refused.
func TestWrongArguments(t *testing.T) {
	p := small(t)
	right := map[byte]Value{'n': 0, 't': "0", 'y': true, 'b': "0"}
	for _, name := range Operations() {
		required, _, _ := strings.Cut(operations[name].takes, "?")
		for i := range required {
			for _, wrong := range []Value{nil, Unfit("is undefined"), TooLarge(300 << 20), 1e12, math.NaN(), math.Inf(1), struct{}{}} {
				in := make([]Value, len(required))
				for k := range required {
					in[k] = right[required[k]]
				}
				in[i] = wrong
				why := p.refused(name, in...)
				if !strings.Contains(why, fmt.Sprintf("argument %d ", i+1)) {
					t.Errorf("%s: %s", name, why)
				}
			}
			if why := p.refused(name, make([]Value, i)...); !strings.Contains(why, "argument") {
				t.Errorf("%s: %s", name, why)
			}
		}
	}
	if text := p.d.Answer("no such"); !strings.HasPrefix(text, `{"panic":`) {
		t.Error(text)
	}
}

// Numbers far outside of a sheet, on every operation: whatever is answered, nothing panics.
func TestFarNumbers(t *testing.T) {
	for _, far := range []int{-1_000_000_000, -7, 3, 1_000_000_000} {
		p := small(t)
		for _, name := range Operations() {
			if name == "work" || name == "viewport" || name == "rowNumbers" { // the last two answer as much as they are asked for
				continue
			}
			takes := strings.Replace(operations[name].takes, "?", "", 1)
			in := make([]Value, len(takes))
			for i := range takes {
				in[i] = map[byte]Value{'n': far, 't': "Speed\tx\n" + fmt.Sprint(far), 'y': far < 0, 'b': "x"}[takes[i]]
			}
			p.raw(name, in...)
			p.ask("state")
		}
	}
}

// Work at random on the sheets: the records of the safety copy bring every state back, and undoing all of it leads to the beginning.
func TestRandomWork(t *testing.T) {
	for seed := range uint64(12) {
		r := rand.New(rand.NewPCG(seed, 7))
		p, q := begin(t), begin(t)
		first := small(t).job()
		p.ask("openJob", first)
		q.ask("copyBegin", p.ask("wholeCopy", false)["head"].(string))
		col := func() int { return r.IntN(10) }
		does := []func(){
			func() { p.ask("go", r.IntN(5), col(), r.IntN(3) == 0) },
			func() {
				p.ask("go", r.IntN(5), col(), false)
				p.ask("begin")
				p.ask("commit", fmt.Sprint(r.IntN(100)), 1, 0)
			},
			func() { p.paste("1\t2\n3\t4\n") },
			func() { p.paste("Machine\tSpeed\nPump 8\t2960\n") },
			func() { p.ask("delete") }, func() { p.ask("cut") }, func() { p.ask("fill") }, func() { p.ask("insertRows") }, func() { p.ask("deleteRows") },
			func() { p.ask("duplicateRows") }, func() { p.ask("moveRows", r.IntN(3)-1) }, func() { p.ask("series") },
			func() { p.did(func(d *Desk) { d.AddColumn(r.IntN(4)-1, fmt.Sprint("Own ", r.IntN(9))) }) },
			func() { p.did(func(d *Desk) { d.RenameColumn(r.IntN(4), fmt.Sprint("Name ", r.IntN(9))) }) }, func() { p.did(func(d *Desk) { d.DeleteColumn(r.IntN(12)) }) },
			func() { p.ask("screen", "find", "event", "all", "", "click", "text\x1f1\x1eby\x1f7", "") },
			func() { p.ask("arrange", "Speed [rpm]\tdesc\n", "") }, func() { p.ask("arrange", "", "Machine\tc\tPump\n") }, func() { p.did((*Desk).SortStored) },
			func() { p.ask("undo") }, func() { p.ask("redo") }, func() { p.ask("work", 1) },
			func() { p.ask("sheet", []int{0, 0, 0, 3, 5}[r.IntN(5)]) },
		}
		for n := range 60 {
			does[r.IntN(len(does))]()
			if text := p.raw("record"); text != "" {
				q.ask("copyRecord", text)
			}
			p.d.writeViews()
			if p.d.copied = q.d.copied; n%6 == 0 {
				if c := p.ask("copyCompare", 9); c["changed"] != 0.0 || c["onlyA"] != 0.0 || c["onlyB"] != 0.0 {
					t.Fatalf("seed %d, step %d: the copy differs: %v", seed, n, c)
				}
			}
		}
		for k := range kinds {
			p.ask("sheet", k)
			for p.ask("undo")["changed"] == true {
			}
		}
		p.ask("sheet", 0)
		p.ask("arrange", "", "")
		p.d.writeViews()
		for _, k := range kinds { // a sheet that was written into and emptied again stays, without rows
			if g := p.d.grids[k]; k != job.MachinesSheet && len(g.Rows()) > 0 && k != job.SettingsSheet {
				t.Errorf("seed %d: sheet %s keeps %v", seed, k, g.Rows())
			}
		}
		want := small(t)
		p.want(p.d.job.Machines.Header, want.d.job.Machines.Header)
		p.want(p.d.job.Machines.Rows, want.d.job.Machines.Rows)
		if t.Failed() {
			t.Fatalf("seed %d: not as it began: %s", seed, first)
		}
	}
}

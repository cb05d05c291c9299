package desk

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/merge"
)

// Jobs that come and go whole: out of files, out of copies, merged, older ones beside the one at hand.

// comes takes a job as the page takes it of a file: only says that the file is a list of another sheet.
func (p page) comes(from page, only bool, learnt string) answer {
	p.Helper()
	sheet, rows := "machines", len(from.d.job.Machines.Rows)
	if only {
		sheet, rows = "stock", 0
	}
	p.ask("screen", "open", "event", "begin", "", "", "", "list.xlsx")
	p.ask("screen", "open", "event", "read", "", "", fmt.Sprintf(`{"preview":{"format":"xlsx","sheets":[{"name":"L","kind":%q}],"learnt":[%s]},"rows":[%d,0]}`, sheet, learnt, rows), "")
	from.pieces(func(head string) { p.ask("coming", head) }, func(k int, text string) { p.ask("comingRows", k, text) })
	return p.ask("take")
}

// A list of machines that comes into a page on which only settings and stock were set up keeps those; into a job with machines it comes alone.
func TestWhatWasSetUpBeforehandStays(t *testing.T) {
	setUp := func(p page) {
		p.d.Put("Job", "Spring")
		p.ask("sheet", 3)
		p.paste("Thickness\tPieces\n0.5 mm\t1\n")
		p.ask("sheet", 0)
	}
	list := small(t)
	list.d.job.Settings, list.d.job.Stock = nil, nil
	p := begin(t)
	setUp(p)
	s := p.comes(list, false, "")
	p.want(s["name"], "Spring")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	p.want(p.d.grids[job.StockSheet].Rows(), "[[0.5 mm 1]]")
	// what is changed now is not changed in the job that undo leads back to
	p.d.PutCell(job.StockSheet, 0, 1, "7")
	p.ask("undo")
	p.want(len(p.d.grid().Rows()), 0)
	p.want(p.d.grids[job.StockSheet].Rows(), "[[0.5 mm 1]]")
	p.want(p.d.job.Stock.Rows, "[[0.5 mm 1]]")
	p.ask("redo")
	p.want(p.d.job.Stock.Rows, "[[0.5 mm 7]]")

	q := small(t)
	setUp(q)
	s = q.comes(list, false, "")
	q.want(s["name"], "")
	q.want(len(q.d.grids[job.StockSheet].Rows()), 0)
	q.want(s["undo"], "opening of list.xlsx")
	q.want(q.ask("undo")["note"], "Undone: opening of list.xlsx.")
	q.want(q.ask("state")["name"], "Spring")
	q.want(q.ask("state")["redo"], "opening of list.xlsx")
}

// A list of another sheet goes into the job at hand, which keeps its machines, its number and how often it was saved.
func TestOnlyAStock(t *testing.T) {
	stock := begin(t)
	stock.ask("sheet", 3)
	stock.paste("Thickness\tPieces\n0.5 mm\t1\n0.1 mm\t2\n")
	stock.d.job.Settings = nil
	p := small(t)
	p.d.Put("Job", "Spring")
	p.ask("save", "2026-04-14T09:30:00Z")
	p.ask("save", "2026-04-14T10:30:00Z")
	was := p.ask("state")
	s := p.comes(stock, true, "")
	p.want(s["sheet"], 3)
	p.want(p.shown("Thickness"), "[0.5 mm 0.1 mm]")
	p.want(strings.HasPrefix(s["said"].(string), "list.xlsx is open: 2 rows."), true)
	for _, k := range []string{"id", "name", "revision", "savedAt"} {
		p.want(s[k], was[k])
	}
	p.want(p.d.job.SavedBefore, "[2026-04-14T09:30:00Z]")
	p.ask("sheet", 0)
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	p.typed(0, "Machine", "Pump 9")
	p.ask("undo")
	p.ask("undo")
	p.want(p.shown("Machine"), "[Pump 1 Pump 2 Pump 3]")
	p.want(len(p.d.grids[job.StockSheet].Rows()), 0)
}

// What comes in pieces and does not come whole, or for another job, does not take the place of the one at hand.
func TestNotWhole(t *testing.T) {
	from := small(t)
	p := small(t)
	begun := func(rows int) {
		p.ask("screen", "open", "event", "begin", "", "", "", "list.xlsx")
		p.ask("screen", "open", "event", "read", "", "", fmt.Sprintf(`{"preview":{"format":"xlsx","sheets":[{"name":"L","kind":"machines"}]},"rows":[%d,0]}`, rows), "")
		p.ask("coming", from.ask("head")["text"].(string))
	}
	rows := from.ask("rows", 0, 0, 1000)["rows"].(string)
	one := from.ask("rows", 0, 0, 1)
	p.want(one["next"], 1)
	begun(4) // three come
	p.ask("comingRows", 0, rows)
	p.refused("take")
	begun(2)
	p.want(p.refused("comingRows", 0, rows), "more rows have come than were said")
	begun(3)
	p.ask("comingRows", 0, one["rows"].(string))
	p.ask("comingRows", 0, from.ask("rows", 0, 1, 1)["rows"].(string))
	p.refused("take")
	begun(3)
	p.ask("comingRows", 0, rows)
	p.refused("comingRows", -1, rows)
	p.refused("comingRows", len(wire), rows)
	p.refused("comingRows", 9, rows) // a sheet that the job has not
	text := p.ask("job")["text"].(string)
	p.ask("openJob", text) // meanwhile another one was opened
	p.refused("take")
	begun(3)
	p.ask("comingRows", 0, one["rows"].(string))
	p.ask("comingRows", 0, from.ask("rows", 0, 1, 1000)["rows"].(string))
	p.want(p.ask("take")["rows"], 3)
	p.want(p.refused("rows", -1, 0, 10), "there is no such sheet")
	p.want(p.refused("rows", len(wire), 0, 10), "there is no such sheet")
	p.want(p.refused("rows", 0, -1, 10), "there is no such sheet")
	p.want(p.ask("rows", 0, 3, 10)["next"], -1)
	p.want(p.ask("rows", len(wire)-1, 0, 10)["next"], -1)
	// as many rows as have the cells, and at least one
	n := len(p.d.job.Machines.Rows[0]) + 1
	p.want(p.ask("rows", 0, 0, n)["next"], 1)
	p.want(p.ask("rows", 0, 0, n+1)["next"], 2)
	p.want(p.ask("rows", 0, 0, 2*n)["next"], 2)
	p.want(p.ask("rows", 0, 1, 2*n+1)["next"], 3)
}

// What was pointed out when a file was read stands in the list with its place, for as long as that place is there, and is counted.
func TestPointedOut(t *testing.T) {
	p := begin(t)
	from := small(t)
	before := from.ask("count")["problems"].(float64)
	p.ask("screen", "open", "event", "begin", "", "", "", "list.xlsx")
	p.ask("screen", "open", "event", "read", "", "", `{"preview":{"format":"xlsx","sheets":[{"name":"Machines","kind":"machines"}],"notices":[`+
		`{"severity":"warning","sheet":"Machines","row":3,"column":"Speed","col":8,"text":"odd","hint":"look"},{"severity":"note","sheet":"Elsewhere","text":"far"},`+
		`{"severity":"note","sheet":"Machines","row":99,"text":"gone"},{"severity":"note","sheet":"Machines","text":"whole"}]},"rows":[3,0]}`, "")
	from.pieces(func(head string) { p.ask("coming", head) }, func(k int, text string) { p.ask("comingRows", k, text) })
	p.ask("take")
	p.ask("work", 60_000)
	var got []string
	for _, x := range p.d.noticed() {
		got = append(got, fmt.Sprintf("%d %d %v %s: %s; %s", x.Sheet, x.Row, x.Col == p.column("Speed"), x.Where, x.Text, x.Hint))
	}
	p.want(strings.Join(got, "|"), "0 1 true As read: Machines row 3, Speed: odd; look|0 -1 false As read: Elsewhere: far; |0 -1 false As read: Machines row 99: gone; |0 -1 false As read: Machines: whole; ")
	p.want(p.ask("count")["problems"], before+4)
	list, total := p.d.problems()
	p.want(total, before+4)
	p.want(len(list), total)
	// the list counts what all sheets have, with the gravest first
	p.typed(0, "Speed", "fast")
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.05 kg\t12\n")
	p.ask("work", 60_000)
	list, total = p.d.problems()
	p.want(float64(total), p.ask("count")["problems"])
	for i := range list {
		if i > 0 && list[i].Severity > list[i-1].Severity {
			t.Errorf("%v behind %v", list[i], list[i-1])
		}
	}
	on := map[string]bool{}
	for _, x := range list {
		on[x.Where] = true
	}
	p.want(on["Stock row 2, Thickness"] && on["Pump 1 (row 2), Speed"], true)
	// of very many the list has the gravest and says how many there are
	q := begin(t)
	q.paste("Machine\tSpeed\n" + strings.Repeat("\t1480\n", 100) + strings.Repeat("Pump\tfast\n", 700))
	q.ask("work", 60_000)
	list, total = q.d.problems()
	q.want(len(list), mostProblems)
	q.want(total > 700, true)
	q.want(list[mostProblems-1].Severity, job.Error)
}

// Headers that a file was matched with are kept in the job, and handed over for the next.
func TestTakenHeadersAreKept(t *testing.T) {
	p := begin(t)
	s := p.comes(small(t), false, `{"sheet":"Machines","header":"Anlage","means":"Machine"}`)
	if !strings.Contains(s["remember"].(string), "Anlage") || !strings.Contains(p.d.Learnt(), "Anlage") {
		t.Errorf("%q, %q", s["remember"], p.d.Learnt())
	}
	// a list with that header is read so on this page, and on another by what it is told
	const list = "Anlage\tSpeed\nFan 1\t990\n"
	p.ask("screen", "match", "event", "pasted", "", "", list, "")
	q := begin(t)
	m := q.d.LookAtList(list, -1, "")
	q.want(m.Columns[0].Key, "")
	m = q.d.LookAtList(list, -1, string(job.AppendPacked(nil, [][]string{{"Machines", "Anlage", "Machine"}, {"short"}, {"No sheet", "a", "b"}})))
	q.want(m.Columns[0].Key, "machine")
	q.want(m.Columns[0].InJob, false)
	m = p.d.LookAtList(list, -1, "")
	p.want(m.Columns[0].InJob, true)
	p.want(m.Applied, 1)
}

// Copies of a job: what is said of one before it is opened.
func TestCopyIsToldFromTheJob(t *testing.T) {
	p := small(t)
	p.d.Put("Job", "Spring")
	p.ask("save", "2026-04-14T09:30:00Z")
	older := p.ask("job")["text"].(string)
	p.ask("save", "2026-04-14T10:30:00Z")
	p.typed(1, "Speed", "990")
	p.did(func(d *Desk) { d.change(job.MachinesSheet, fourth) })
	p.ask("copyBegin", older)
	c := p.ask("copyCompare", 10)
	p.want([]any{c["before"], c["name"], c["revision"], c["changed"], c["cells"], c["onlyA"], c["onlyB"]}, "[true Spring 1 1 1 1 0]") // Seen: no name, where a row Name without a value stands above it
	var list []string
	for _, x := range c["list"].([]any) {
		list = append(list, fmt.Sprint(x))
	}
	p.want(strings.Join(list, "|"), "[Machines 3 3 Pump 2 Speed [rpm] 990 1480]|[Machines 5  Pump 4  Pump 4 ]")
	p.want(len(p.ask("copyCompare", 1)["list"].([]any)), 1)
	p.ask("copyBegin", p.ask("job")["text"].(string))
	c = p.ask("copyCompare", 10)
	p.want(fmt.Sprint(c["before"], c["changed"], c["onlyA"], c["onlyB"]), "false 0 0 0")
	q := begin(t)
	q.ask("copyBegin", begin(t).ask("job")["text"].(string))
	q.want(q.ask("copyCompare", 3)["name"], "")
	q.refused("copyRows", -1, "")
	q.refused("copyRows", len(wire), "")
	q.ask("copyOpen")
	q.refused("copyRows", 0, "")
	q.refused("copyBegin", "{")
	q.refused("copyOpen") // what could not be read is no copy
}

// fourth appends a row for Pump 4.
func fourth(g *grid.Model) grid.Change {
	return g.AppendRows("a row", [][]string{{"Pump 4"}})
}

// A job as it was opened is kept as the text it was opened from, until something was told of it.
func TestKeptAsItWasOpened(t *testing.T) {
	p := begin(t)
	text := small(t).ask("job")["text"].(string)
	p.ask("openJob", text)
	p.want(p.ask("wholeCopy", true)["head"] == text, true)
	p.want(p.ask("wholeCopy", false)["head"] == text, false)
	p.want(p.raw("record"), "")
	p.want(p.ask("wholeCopy", true)["head"] == text, true)
	p.typed(0, "Speed", "990")
	if p.raw("record") == "" {
		t.Error("nothing is told")
	}
	p.want(p.ask("wholeCopy", true)["head"] == text, false)
	p.want(strings.Contains(p.ask("wholeCopy", true)["head"].(string), "990"), true)
	p.want(p.raw("record"), "") // it is in the copy
	// a view is told too: widths, sorting
	p.ask("width", 0, 200)
	if p.raw("record") == "" {
		t.Error("a width is not kept")
	}
	// begun again while it is written: the one before says so
	big := begin(t)
	big.paste("Machine\tSpeed\tOwn 2\tOwn 3\n" + strings.Repeat("Fan\t1480\tb\tc\n", 7000))
	first := big.ask("wholeCopy", false)
	second := big.ask("wholeCopy", false)
	turn := int(second["turn"].(float64))
	big.want(first["turn"], turn-1)
	big.want(second["tables"], len(wire))
	big.want(strings.Contains(second["head"].(string), "Fan"), false)
	big.want(big.ask("wholeRows", turn-1, 0, 0, 10)["gone"], true)
	big.want(big.ask("wholeRows", turn, 0, 0, 10)["gone"], nil)
	big.want(big.ask("wholeRows", turn, 0, 7000, 10)["next"], -1)
	big.want(big.ask("wholeRows", turn, 0, 0, 10)["gone"], nil) // the last sheet is not through yet
	big.want(big.ask("wholeRows", turn, len(wire)-1, 0, 10)["next"], -1)
	big.want(big.ask("wholeRows", turn, 0, 0, 10)["gone"], true)
}

// A file that is opened: what is said of it, and under which name it is refused.
func TestFilesAreOpened(t *testing.T) {
	p := small(t)
	saved := p.ask("save", "2026-04-14T09:30:00Z")["text"].(string)
	inPage := "<script type=\"application/json\" id=\"job\">" + strings.ReplaceAll(saved, "<", "\\u003c") + "</script>"
	q := begin(t)
	s := q.ask("openFile", "a.json", "\ufeff"+saved)
	q.want([]any{s["sealed"], s["whole"]}, "[true true]")
	s = q.ask("openFile", "a.html", []byte("\ufeff\r\n\t <!doctype html>"+inPage+"</html>"))
	q.want([]any{s["sealed"], s["whole"]}, "[true true]")
	q.want(q.job() == p.job(), true)
	s = q.ask("openFile", "a.html", "<!doctype html>"+inPage)
	q.want(s["whole"], false)
	plain := p.job() // without a digest of its state
	q.want(q.ask("openJob", plain)["sealed"], false)
	bad := strings.Replace(saved, "Pump 1", "Pump 7", 1)
	a := q.answered("openFile", "b.json", bad, false)
	q.want(a["damaged"], true)
	q.want(strings.HasPrefix(a["error"].(string), "b.json: "), true)
	s = q.ask("openFile", "b.json", bad, true)
	q.want(s["sealed"], false)
	q.want(q.shown("Machine")[0], "Pump 7")
	for name, text := range map[string]string{"c.html": "<html>", "d.json": "{"} {
		q.want(strings.HasPrefix(q.refused("openFile", name, text, true), name+": "), true)
	}
	if why := q.refused("openJob", "{", true); strings.HasPrefix(why, ":") {
		t.Error(why)
	}
	// columns that came without a header have one, and other sheets that of their kind
	q.ask("openJob", `{"format":"shimsheet job","version":1,"machines":{"rows":[["a","b"],["c"]]},"stock":{"rows":[["1","2"]]}}`)
	q.want(q.d.grid().Header(), "[Column 1 Column 2]")
	q.want(q.d.grid().Cell(1, 0), "c")
	q.want(q.d.grids[job.StockSheet].Header(), fmt.Sprint(defaultHeader(job.StockSheet)))
	q.want(q.d.grids[job.StockSheet].Cell(0, 1), "2")
}

// Files that are merged: the job at hand is one of them, they come out as one step that is undone, and what cannot be read is refused.
func TestMergedIsOneStep(t *testing.T) {
	p := small(t)
	saved := p.ask("save", "2026-04-14T09:30:00Z")["text"].(string)
	p.ask("openJob", saved)
	p.want([]any{p.d.Mine().Name, p.d.Mine().Sealed}, "[the job at hand true]")
	q := begin(t)
	q.ask("openJob", saved)
	q.typed(1, "Speed", "990")
	theirs := q.ask("save", "2026-04-14T11:30:00Z")["text"].(string)
	p.typed(0, "Speed", "2960")
	p.want(p.d.Mine().Sealed, false)
	mine := p.job()
	f, err := p.d.ReadJob("theirs.json", "\ufeff"+theirs)
	if err != nil || f.Name != "theirs.json" || !f.Sealed {
		t.Fatal(f, err)
	}
	base, err := p.d.ReadJob("base.HTML", "<script type=\"application/json\" id=\"job\">"+strings.ReplaceAll(saved, "<", "\\u003c")+"</script></html>")
	if err != nil || !base.Sealed {
		t.Fatal(err)
	}
	plan, err := merge.New([]merge.File{p.d.Mine(), f})
	if err != nil {
		t.Fatal(err)
	}
	if err := p.d.TakeMerged(plan, "theirs.json"); err == nil || p.job() != mine {
		t.Error("taken with open questions")
	}
	for k, q := range plan.Questions { // of each machine what was changed
		for c := range q.Choices {
			if strings.Contains(q.Choices[c].Text, "2960") || strings.Contains(q.Choices[c].Text, "990") {
				plan.Questions[k].Answer = c
			}
		}
	}
	s := p.did(func(d *Desk) {
		if err := d.TakeMerged(plan, "theirs.json"); err != nil {
			t.Error(err)
		}
	})
	p.want([]any{s["changed"], s["header"], s["changes"], s["undo"]}, "[true true 1 merging with theirs.json]")
	p.want(p.shown("Speed"), "[2960 990 1480]")
	p.ask("undo")
	p.want(p.job() == mine, true)
	p.ask("undo")
	p.want(p.shown("Speed"), "[1480 1480 1480]")
	for name, text := range map[string]string{"x.htm": "<html>", "y.html": "<script type=\"application/json\" id=\"job\">" + strings.ReplaceAll(saved, "<", "\\u003c") + "</script>", "z.json": "{"} {
		if _, err := p.d.ReadJob(name, text); err == nil {
			t.Errorf("%s was read", name)
		}
	}
	if _, err := p.d.ReadJob("a.json", "<html>"); err == nil {
		t.Error("a page by the name of a job was read")
	}
	if n := p.d.JobRevision(); n != 1 {
		t.Error(n)
	}
}

// Older jobs stay beside the one at hand when another takes its place, and when undo leads back.
func TestOlderJobsStay(t *testing.T) {
	p := small(t)
	f, err := p.d.ReadJob("old.json", p.ask("job")["text"].(string))
	if err != nil {
		t.Fatal(err)
	}
	from := small(t)
	p.comes(from, false, "")
	p.d.SetHistory([]evaluate.Older{{Name: f.Name, Job: f.Job}})
	p.want(p.d.ev.HasHistory(), true)
	p.ask("undo")
	p.want(p.d.ev.HasHistory(), true) // Seen: the screen listed it, and nothing was held against it
	p.d.SetHistory(nil)
	p.ask("redo")
	p.want(p.d.ev.HasHistory(), false)
	p.d.SetHistory([]evaluate.Older{{Name: f.Name, Job: f.Job}})
	p.ask("openJob", from.ask("job")["text"].(string))
	p.want(p.d.ev.HasHistory(), true)
}

// Signatures and settings written by a screen stand on their sheets, once, in columns of their own, and open no cell.
func TestRecordAndSettings(t *testing.T) {
	p := small(t)
	p.want(p.d.Now() != "" && strings.Contains(p.d.SignTime(), "09:30"), true)
	p.d.Put("Job", "Spring")
	p.d.Put("Job", "Autumn")
	p.want(p.d.name(), "Autumn")
	n := 0
	for _, r := range p.d.job.Settings.Rows {
		if r[0] == "Job" {
			n++
		}
	}
	p.want(n, 1)
	// while somebody types into the sheet that is written into, what a screen does is done
	p.ask("sheet", 11)
	p.ask("go", 0, 0, false)
	p.ask("begin")
	p.want(p.d.AddRecord("signing", []string{"machine", "signed_by", "signed_at", "colour"}, []string{"Pump 1", "Kim", "2026-04-14 09:30", "blue"}), true)
	p.want(p.d.AddRecord("signing", []string{"machine", "signed_by"}, []string{"Pump 2", "Ola"}), true)
	g := p.d.grids[job.RecordSheet]
	row := func(k int) (out []string) {
		for _, name := range []string{"Machine", "Signed by", "Signed at", "colour"} {
			c := -1
			for i, h := range g.Header() {
				if h == name {
					c = i
				}
			}
			out = append(out, g.Cell(k, c))
		}
		return out
	}
	p.want(row(0), "[Pump 1 Kim 2026-04-14 09:30 blue]")
	p.want(row(1), "[Pump 2 Ola  ]")
	p.want(g.UndoName(), "signing")
	p.ask("sheet", 0)
	p.d.Undo(job.RecordSheet)
	s := p.ask("took")
	p.want(s["note"], "Undone: signing.")
	p.want(s["changed"], true)
	p.want(len(p.d.job.Record.Rows), 1)
	p.want(p.d.UndoName(job.RecordSheet), "signing")
	p.typed(0, "Speed", "990")
	p.d.Undo(job.MachinesSheet)
	p.want(p.ask("took")["note"], "Undone: typing.")
	p.want(p.shown("Speed")[0], "1480")
	p.d.Undo(job.StockSheet)
	p.want(p.ask("took")["note"], "")
}

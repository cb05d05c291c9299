package desk

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/screens"
)

// A cell that is open is closed, as it was, by the way to another sheet or to another order of the rows.
func TestOpenCellIsLeft(t *testing.T) {
	p := small(t)
	for _, leave := range []func(){
		func() { p.ask("sheet", 3) },
		func() { p.ask("arrange", "Machine\tdesc\n", "") },
		func() { p.ask("showAll", true) },
		func() { p.d.PutInto(job.StockSheet, "x", -1, []string{"Thickness"}, [][]string{{"0.5 mm"}}, "x") },
	} {
		p.ask("sheet", 0)
		p.at(1, "Speed")
		p.ask("begin")
		leave()
		if _, open := p.d.grids[job.MachinesSheet].Editing(); open {
			t.Error("the cell is still open")
		}
		p.ask("sheet", 0)
		p.want(p.ask("commit", "12", 1, 0)["changed"], false)
	}
}

// What is gone to is that row and that column, sorted or not, the first ones too.
func TestGoneToTheRightCell(t *testing.T) {
	p := small(t)
	p.at(2, "Speed")
	s := p.ask("goStored", 1, 0)
	p.want([]any{s["stored"], s["col"]}, []any{1, p.column("Machine")})
	p.ask("arrange", "Given offset V [mm]\tdesc\n", "Machine\te\tPump 3\n")
	s = p.ask("goStored", 0, -1) // the second in this order, once the filter is off
	p.want([]any{s["stored"], s["row"]}, "[0 1]")
	p.ask("arrange", "Given offset V [mm]\tdesc\n", "Machine\te\tPump 3\n")
	p.ask("goStored", 0, p.d.columns()[p.column("Speed")].Column)
	p.want(p.ask("state")["stored"], 0)
	p.want(p.d.views[0].Sort, "[{Given offset V [mm] true}]")
}

// Each cell has the mark of what it is, and a column that is worked out stands in no column of the list.
func TestMarks(t *testing.T) {
	p := begin(t)
	p.paste("Machine\tMethod\tGiven offset V [mm]\tGiven slope V [mm/m]\tGiven offset H [mm]\tGiven slope H [mm/m]\tCoupling to front feet [mm]\tFront to rear feet [mm]\tSpeed [rpm]\n" +
		"Pump 1\tline\t0.01\t0\t0\t0\t400\t600\t1480\n\t\t\t\t\t\t\t\t\nPump 3\tline\t-0.62\t0\t0\t0\t400\t600\t1480\nPump 4\tline\tx\t0\t0\t0\t400\t600\t1480\n")
	p.ask("work", 60_000)
	rows := p.cells()
	marks := func(name string) (out string) {
		x := p.column(name)
		for _, r := range rows {
			out += r[x][:1]
		}
		return out
	}
	p.want(marks("Verdict"), "1b20")
	p.want(marks("Why"), "rbrr")
	p.want(marks("Given offset V"), "---e")
	p.want(marks("Machine"), "----")
	for _, c := range p.ask("layout")["columns"].([]any) {
		c := c.(map[string]any)
		if c["result"] == true {
			p.want(c["column"], -1)
		} else {
			p.want(p.d.grid().Header()[int(c["column"].(float64))], c["id"])
		}
	}
	p.ask("sheet", 1)
	p.want(p.cells()[0][2][:1], "r")
	// the first line of a header gets the room that it wants and no more
	d := demo(t)
	d.ask("sheet", 0)
	list := d.d.columns()
	for i := 0; i < len(list); {
		j, sum, natural := i, 0, 0
		for ; j < len(list) && list[j].Line1 == list[i].Line1 && list[j].Group == list[i].Group && (j == i || list[i].Line1 != ""); j++ {
			sum += list[j].Width
			natural += d.d.width(j, &list[j])
		}
		if need := 9*len([]rune(list[i].Line1)) + 18; sum != natural && sum > need+j-i {
			t.Errorf("%q over %d columns has %d pixels of %d", list[i].Line1, j-i, sum, need)
		}
		i = j
	}
}

// The panel of a sheet has what is wrong there; what is wrong in the machine's row stands in the list of problems with its place.
func TestProblemsOfTheSheetAlone(t *testing.T) {
	p := small(t)
	p.typed(2, "Speed", "fast")
	p.ask("sheet", 5)
	p.paste("Machine\tFoot\tGap\nPump 3\tfront 9\twide\n")
	p.at(0, "Gap")
	p.ask("info", 0)
	for _, x := range p.d.PanelSheet().Problems {
		if x.Sheet != 5 || strings.Contains(x.Where, "Speed") {
			t.Errorf("%+v", x)
		}
	}
	p.ask("sheet", 3)
	p.paste("Thickness\tPieces\n0.5 mm\t1\n0.05 kg\t12\n")
	list, _ := p.d.problems()
	var stock, speed *screens.Problem
	for i := range list {
		switch {
		case strings.HasPrefix(list[i].Where, "Stock"):
			stock = &list[i]
		case strings.HasSuffix(list[i].Where, "Speed"):
			speed = &list[i]
		}
	}
	if stock == nil || speed == nil {
		t.Fatal(list)
	}
	p.want(fmt.Sprint(stock.Place, " ", stock.Where), "{3 1 0} Stock row 3, Thickness")
	p.want(fmt.Sprint(speed.Place.Sheet, speed.Place.Row, " ", speed.Where), "0 2 Pump 3 (row 4), Speed")
	// what a setting means is said beside its value and not beside its name
	p.ask("sheet", 1)
	row := 0
	for k := range p.d.grid().Rows() {
		if p.d.ev.MeaningIn(job.SettingsSheet, p.d.grid().Cell(k, 0), "20") != "" {
			row = k
		}
	}
	p.d.PutCell(job.SettingsSheet, row, 1, "20")
	p.at(row, "Value")
	p.want(p.ask("info", 0)["meaning"], p.d.ev.MeaningIn(job.SettingsSheet, p.d.grid().Cell(row, 0), "20"))
	p.at(row, "Name")
	p.want(p.ask("info", 0)["meaning"], nil)
}

// What is refused says why: each reason its own.
func TestRefusedForItsReason(t *testing.T) {
	p := small(t)
	saved := p.ask("job")["text"].(string)
	_, none := p.d.ReadJob("a.html", "<html>")
	_, short := p.d.ReadJob("a.html", "<script type=\"application/json\" id=\"job\">"+strings.ReplaceAll(saved, "<", "\\u003c")+"</script>")
	if none == nil || short == nil || none.Error() == short.Error() || short.Error() != "the page is cut short behind the job" {
		t.Error(none, short)
	}
	p.raw("record")
	p.typed(0, "Speed", "990")
	record := p.raw("record")
	p.want(p.refused("copyRecord", record), errNoCopy.Error())
	p.want(p.refused("copyCompare", 3), errNoCopy.Error())
	p.want(p.refused("copyText"), errNoCopy.Error())
	p.want(begin(t).d.LookAtList("Pump 1\nPump 2\n", -1, "").Need, "") // names alone
}

// Lists made elsewhere say whether anybody has said what is in the box.
func TestListsSayWhatTheyRestOn(t *testing.T) {
	for _, stock := range []string{"", "Thickness\tPieces\n0.5 mm\t100\n0.1 mm\t100\n0.05 mm\t100\n"} {
		p := small(t)
		if stock != "" {
			p.ask("sheet", 3)
			p.paste(stock)
			p.ask("sheet", 0)
		}
		w := page{t, New("test", nil)}
		p.pieces(func(head string) { w.ask("listsHead", head) }, func(k int, text string) { w.ask("listsRows", k, text) })
		l := w.ask("lists", "now")
		p.want(strings.HasPrefix(l["lists"].(string), "true") || strings.Contains(l["lists"].(string)[:12], "true"), stock == "")
		w.refused0("lists", "now") // they are made once of a job
		w.refused0("listsRows", -1, "")
	}
}

// A job that was undone to is undone to once, and done again once.
func TestWholeJobIsUndoneOnce(t *testing.T) {
	p := small(t)
	mine := p.job()
	p.comes(small(t), false, "")
	theirs := p.job()
	p.ask("undo")
	p.want(p.ask("state")["redo"], "opening of list.xlsx")
	p.d.undo()
	p.ask("redo")
	for p.ask("state")["redo"] != "" {
		p.ask("redo")
	}
	p.want(p.job() == theirs, true)
	p.ask("redo")
	p.want(p.job() == theirs, true)
	p.ask("undo")
	p.want(p.job() == mine, true)
}

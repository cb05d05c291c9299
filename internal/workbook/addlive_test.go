package workbook

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
)

// Formulas added to somebody's workbook point to their sheet only where it holds the list as it is worked out, cell for cell; else to a sheet of ours with the list as it was understood. Either way another program that works
// them out gets what is stored beside them, and the State says so. Asked for lists of several shapes, and for jobs that somebody changed since the file was read.
func TestAddedFormulasPointToTheList(t *testing.T) {
	if !worksFormulasOut(t) {
		t.Skip("this copy of the library is cut down for the page and works no formula out; the stock library's run asks this")
	}
	const head = "Machine|Speed|Coupling to stationary plane|Coupling to movable plane|Coupling to front feet|Front to rear feet|Movable rim 12|Movable rim 3|Movable rim 6|Movable rim 9|Stationary rim 12|Stationary rim 3|Stationary rim 6|Stationary rim 9\n"
	const one, two = "P-101|1480|100|100|300|500|0|-0.17|-0.30|-0.13|0|0.11|0.10|-0.01\n", "P-102|2970|120|90|350|620|0|0.08|0.12|0.04|0|-0.03|-0.14|-0.11\n"
	for what, c := range map[string]struct {
		list   string
		edit   func(j *job.Job)
		theirs bool
	}{
		"as it is":             {head + one + two, nil, true},
		"under a title":        {"Spring shutdown\n\n" + head + one + two, nil, true},
		"an empty row between": {head + one + "\n" + two, nil, true},
		"header in two lines":  {strings.NewReplacer("Movable rim 12", "Movable rim", "Movable rim 3", "", "Movable rim 6", "", "Movable rim 9", "").Replace(head) + "||||||12|3|6|9||||\n" + one + two, nil, false},
		"second header":        {head + one + strings.NewReplacer("rim 3", "rim 9", "rim 9", "rim 3").Replace(head) + "P-102|2970|120|90|350|620|0|0.04|0.12|0.08|0|-0.11|-0.14|-0.03\n", nil, false},
		"a row of units":       {head + "|rpm|mm|mm|mm|mm|mil|mil|mil|mil|mil|mil|mil|mil\n" + strings.ReplaceAll(one, "0.", "") + strings.ReplaceAll(two, "0.", ""), nil, false},
		"a cell changed":       {head + one + two, func(j *job.Job) { j.Machines.Rows[1][7] = "0.09" }, false},
		"a name changed":       {head + one + two, func(j *job.Job) { j.Machines.Rows[0][0] = "P-109" }, false},
		"a row more": {head + one + two, func(j *job.Job) {
			j.Machines.Rows = append(j.Machines.Rows, strings.Split("P-3"+one[5:len(one)-1], "|"))
		}, false},
		"a row less": {head + one + two, func(j *job.Job) { j.Machines.Rows = j.Machines.Rows[:1] }, false},
		"another header": {head + one + two, func(j *job.Job) {
			for k := 6; k < 10; k++ { // the whole dial: a unit over one column of it is refused
				j.Machines.Header[k] += " [mil]"
			}
		}, false},
		"a cell more":        {head + one + two, func(j *job.Job) { j.Machines.Rows[1] = append(j.Machines.Rows[1], "seen") }, false},
		"an empty cell more": {head + one + two, func(j *job.Job) { j.Machines.Rows[1] = append(j.Machines.Rows[1], "") }, true},
		"another decimal sign": {head + strings.ReplaceAll(one+two, ".", ","), func(j *job.Job) {
			j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Decimal sign", "comma"}}}
		}, false},
		"settings of the job": {head + one + two, func(j *job.Job) {
			j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Units", "metric"}}}
		}, true},
		"names that are quoted": {head + strings.Replace(one, "P-101", "it's 1", 1), nil, true},
	} {
		f := excelize.NewFile()
		_ = f.SetSheetName("Sheet1", "The pumps")
		r := 0
		for line := range strings.Lines(c.list) {
			r++
			for k, s := range strings.Split(strings.TrimSuffix(line, "\n"), "|") {
				if x, err := strconv.ParseFloat(s, 64); err == nil && r > 1 {
					_ = f.SetCellValue("The pumps", cellName(k, r), x)
				} else if s != "" {
					_ = f.SetCellStr("The pumps", cellName(k, r), s)
				}
			}
		}
		var b bytes.Buffer
		if err := f.Write(&b); err != nil {
			t.Fatal(err)
		}
		f.Close()
		j, _ := mustRead(t, b.Bytes(), "x.xlsx", nil)
		if c.edit != nil {
			c.edit(j)
		}
		ev := work(t, j)
		out, err := AddTo(b.Bytes(), j, ev, Options{Live: true})
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		g := unnamed(t, out)
		defer g.Close()
		i, _ := g.GetSheetIndex("Machines (Shimsheet)")
		if (i < 0) != c.theirs {
			t.Errorf("%s: the sheet of ours stands at %d", what, i)
		}
		rows, err := g.GetRows("Results (Shimsheet)", excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		var top []string
		numbers, ours, theirs := 0, 0, 0
		for n, row := range rows {
			if len(row) > 0 && row[0] == "Machine" {
				top = row
			}
			for k := range row {
				if top == nil || len(row) == 0 || row[0] == "Machine" {
					break
				}
				at := cellName(k, n+1)
				s, _ := g.GetCellFormula("Results (Shimsheet)", at)
				if s == "" {
					continue
				}
				ours, theirs = ours+strings.Count(s, "'Machines (Shimsheet)'!"), theirs+strings.Count(s, "'The pumps'!")
				if top[k] == "State of the formulas" {
					if err := g.SetCellFormula("Results (Shimsheet)", at, andInParts(s)); err != nil {
						t.Fatal(err)
					}
				}
				if c.edit != nil && what != "another decimal sign" || what == "an empty row between" {
					numbers++
					continue // where it points to is asked; the formulas are those of the others
				}
				got, err := g.CalcCellValue("Results (Shimsheet)", at, excelize.Options{RawCellValue: true})
				if err != nil {
					t.Errorf("%s, %s of %s: %v", what, top[k], row[0], err)
					continue
				}
				x, err1 := strconv.ParseFloat(got, 64)
				y, err2 := strconv.ParseFloat(row[k], 64)
				if top[k] == "State of the formulas" {
					if got != row[k] || !strings.HasPrefix(got, "formulas") {
						t.Errorf("%s: the State of %s is %q, stored is %q", what, row[0], got, row[k])
					}
					continue
				}
				if numbers++; err1 != nil || err2 != nil || math.Abs(x-y) > 1e-9*max(1, math.Abs(y)) {
					t.Errorf("%s, %s of %s: the formula gives %s, stored is %s", what, top[k], row[0], got, row[k])
				}
			}
		}
		if numbers < 15 || (theirs > 0) != c.theirs || (ours > 0) == c.theirs {
			t.Errorf("%s: %d numbers, %d cells of theirs and %d of ours", what, numbers, theirs, ours)
		}
	}
}

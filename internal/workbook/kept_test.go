package workbook

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
)

const keptMachines = "Machine,Method,Speed,Coupling to stationary plane,Coupling to movable plane\nP-101,line,1480,100,100\nP-102,line,1480,100,100"

// keptBook is a workbook of a list of machines and one more sheet as somebody keeps it, dressed by whoever asks, as it is read.
func keptBook(t *testing.T, name, text string, dress func(f *excelize.File)) (*job.Job, *Report) {
	t.Helper()
	f := excelize.NewFile()
	for _, s := range [][2]string{{"Machines", keptMachines}, {name, text}} {
		if _, err := f.NewSheet(s[0]); err != nil {
			t.Fatal(err)
		}
		for r, line := range strings.Split(s[1], "\n") {
			for c, cell := range strings.Split(line, ",") {
				var v any = cell
				if x, err := strconv.ParseFloat(cell, 64); err == nil {
					v = x
				}
				if cell != "" {
					if err := f.SetCellValue(s[0], cellName(c, r+1), v); err != nil {
						t.Fatal(err)
					}
				}
			}
		}
	}
	if err := f.DeleteSheet("Sheet1"); err != nil {
		t.Fatal(err)
	}
	dress(f)
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	j, r, err := Read(b.Bytes(), "kept.xlsx", nil)
	if err != nil {
		t.Fatal(err)
	}
	return j, r
}

// noticesOf are the errors and warnings of a report, a line each.
func noticesOf(r *Report) string {
	var b strings.Builder
	for _, n := range r.Preview.Notices {
		if n.Severity != "note" {
			fmt.Fprintf(&b, "%s %s %d %s: %s\n", n.Severity, n.Sheet, n.Row, n.Column, n.Text)
		}
	}
	return b.String()
}

// What a person sees in a workbook and the cells' values do not say is told. Seen: rows struck through were read like the others, a comment "in mil" was passed over, 1/32 and 1/16 shown as fractions were read in mm, and a sheet
// Soft foot with a header of its own was left, all without a word.
func TestWorkbooksAsKept(t *testing.T) {
	stock := "Thickness,Pieces on hand\n0.03125,20\n0.0625,20\n0.5,10"
	dressed := func(s excelize.Style, from, to string) func(f *excelize.File) {
		return func(f *excelize.File) {
			id, err := f.NewStyle(&s)
			if err == nil {
				err = f.SetCellStyle("Stock", from, to, id)
			}
			if err != nil {
				t.Fatal(err)
			}
		}
	}
	fraction, bare := "# ?/??", func(*excelize.File) {}
	comment := func(text string) func(f *excelize.File) {
		return func(f *excelize.File) {
			if err := f.AddComment("Stock", excelize.Comment{Cell: "A1", Author: "JD", Text: text}); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, c := range []struct {
		name, text string
		dress      func(f *excelize.File)
		told       string
	}{
		{"Stock", stock, bare, ""},
		{"Stock", stock, dressed(excelize.Style{Font: &excelize.Font{Strike: true}}, "A3", "B3"), "warning Stock 3 : 1 rows hold cells that are struck through, and are read like the others: 3\n"},
		{"Stock", stock, dressed(excelize.Style{Font: &excelize.Font{Bold: true}}, "A3", "B3"), ""},
		{"Stock", stock, dressed(excelize.Style{CustomNumFmt: &fraction}, "A2", "A4"), "warning Stock 2 Thickness: the cell shows a fraction, as inches are written, and is read in the column's unit, not in inches: 0.03125 (the first of 3 such cells of the column)\n"},
		{"Stock", strings.Replace(stock, "Thickness", "Thickness [in]", 1), dressed(excelize.Style{CustomNumFmt: &fraction}, "A2", "A4"), ""},
		{"Stock", stock, comment("in mil"), "warning Stock 1 : the comment at A1 sounds like the unit of numbers and is not read: \"in mil\"\n"},
		{"Stock", stock, comment("counted by JD"), ""},
		{"Soft foot", ",LF,RF,LR,RR\nP-101,0.05,0,0,0.1", bare, "warning  0 : no sheet of a job is recognised in \"Soft foot\": nothing of it is read\n"},
	} {
		if _, r := keptBook(t, c.name, c.text, c.dress); noticesOf(r) != c.told {
			t.Errorf("%s %.30q: told %q, want %q", c.name, c.text, noticesOf(r), c.told)
		}
	}
}

// The unit that a number format shows is that of a check's number too. Seen: 100 shown as 100 ft-lb was read as 100 N·m, and 1.5 mil as 1.5 mm.
func TestChecksShownUnits(t *testing.T) {
	for code, want := range map[string]string{`0" ft-lb"`: "100 lbf·ft", `0.0" mil"`: "100.0 mil", `0" °C"`: "100", "0": "100"} {
		j, r := keptBook(t, "Checks", "Machine,Check,Value\nP-101,my own,100", func(f *excelize.File) {
			id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
			if err == nil {
				err = f.SetCellStyle("Checks", "C2", "C2", id)
			}
			if err != nil {
				t.Fatal(err)
			}
		})
		if got := j.Table(job.ChecksSheet).Cell(0, 2); got != want || noticesOf(r) != "" {
			t.Errorf("%s: %q, want %q; %s", code, got, want, noticesOf(r))
		}
	}
}

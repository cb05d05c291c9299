package workbook

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
)

// Numbers stored as text are written as numbers are, where that is chosen: in columns of numbers, where the decimal sign leaves no doubt; how many is told. What a person chose of columns that there are not is passed over.
func TestTextsMadeNumbers(t *testing.T) {
	type cell struct{ head, text, point, comma string } // as it becomes in a job with a decimal point and with a comma
	list := []cell{{"Speed", " 01480 ", "1480", "1480"}, {"Offset limit", "+0.050", "0.05", "+0.050"}, {"Slope limit", "0,50", "0,50", "0,5"}, {"Note", "007", "007", "007"}, {"Front to rear feet", "500", "500", "500"}, {"Bolts", "08", "8", "8"},
		{"Face diameter [in]", "-5", "-5", "-5"}, {"Spacer length", "0500.0", "500", "0500.0"}, {"Owner", "012", "012", "012"}, {"Verdict", "01", "01", "01"}, {"Priority", "03", "3", "3"}}
	for _, mark := range []string{"point", "comma"} {
		head, row := "Machine", "P 1"
		written := 0
		for _, c := range list {
			head, row = head+"|"+c.head, row+"|"+c.text
			if want := map[string]string{"point": c.point, "comma": c.comma}[mark]; want != c.text {
				written++
			}
		}
		data := bookOfSheets([2]string{"Machines", "Pumps of 2026|08\n" + head + "\n" + row + "\n"}, [2]string{"Job", "Decimal sign|" + mark + "\n"})
		for _, chosen := range []bool{false, true} {
			c := &Choices{Sheets: []SheetChoice{{Sheet: "Machines", TextToNumbers: chosen, Columns: []ColumnChoice{{Col: -1, Key: "note"}, {Col: MaxColumns, Key: "note"}}}}}
			j, r := mustRead(t, data, "x.xlsx", c)
			for i, c := range list {
				want := c.text
				if chosen {
					want = map[string]string{"point": c.point, "comma": c.comma}[mark]
				}
				if got := j.Machines.Cell(0, i+1); got != want {
					t.Errorf("%s, chosen %v, %s: %q becomes %q, want %q", mark, chosen, c.head, c.text, got, want)
				}
			}
			n, as := notice(&r.Preview, "Machines", 0, "", "written the way numbers are, as chosen"), notice(&r.Preview, "Machines", 3, "", "is stored as text")
			if (n != nil) != chosen || (as != nil) == chosen || n != nil && !strings.HasSuffix(n.Text, fmt.Sprintf(": %d", written)) || len(j.Machines.Header) != len(list)+1 || j.Machines.Title[0][1] != "08" {
				t.Errorf("%s, chosen %v: %+v %+v", mark, chosen, n, as)
			}
		}
	}
	if _, r := mustRead(t, bookOfSheets([2]string{"Machines", "Machine|Speed\nP 1|1480\n"}), "x.xlsx", &Choices{Sheets: []SheetChoice{{Sheet: "Machines", TextToNumbers: true}}}); notice(&r.Preview, "Machines", 0, "", "as chosen") != nil {
		t.Errorf("nothing was to be written otherwise: %+v", r.Notices)
	}
}

// The decimal sign that a Job sheet asks for rules how numbers of the file are written, wherever that sheet stands and whatever it is called; another sheet with such words behind it does not.
func TestDecimalSignOfTheFile(t *testing.T) {
	list := [2]string{"Pumps", "Machine|Speed|Offset limit\nP 1|1480|x\n"}
	for _, c := range []struct {
		jobs  [][2]string
		first bool
		want  string
	}{{nil, false, "0.05"}, {[][2]string{{"Job", "Decimal sign|comma\n"}}, false, "0,05"}, {[][2]string{{" JOB ", "Decimal sign|comma\n"}}, true, "0,05"}, {[][2]string{{"Job", "Decimal sign|point\n"}}, true, "0.05"}, {[][2]string{{"Set up", "Decimal sign|comma\nUnits|metric\nSite|here\n"}}, false, "0,05"},
		{[][2]string{{"Set up", "Decimal sign|comma\nUnits|metric\nSite|here\n"}}, true, "0,05"}, {[][2]string{{"Job", "Units|metric\n"}, {"Set up", "Decimal sign|comma\nUnits|metric\nSite|here\n"}}, true, "0.05"}} {
		sheets := append([][2]string{list}, c.jobs...)
		if c.first {
			sheets = append(c.jobs[:len(c.jobs):len(c.jobs)], list)
		}
		data := bookOfSheets(sheets...)
		at := 1
		for i, s := range sheets {
			if s == list {
				at = i
			}
		}
		data = withPart(t, data, fmt.Sprintf("xl/worksheets/s%d.xml", at), `<c t="inlineStr"><is><t>x</t></is></c>`, `<c><v>0.05</v></c>`)
		j, _ := mustRead(t, data, "x.xlsx", nil)
		if got := j.Machines.Cell(0, 2); got != c.want {
			t.Errorf("%v: %q, want %q", sheets, got, c.want)
		}
	}
}

// A workbook of ours that somebody went on with in another program is read with what was added: rows below, cells to the right, and none of the sheets of results; names that were deleted are done without.
func TestOwnWorkbookGoneOnWith(t *testing.T) {
	j, ev := cellsJob(t, "metric")
	j.Machines.Title = [][]string{{"Spring"}}
	j.Stock = &job.Table{Name: "Stock", FirstRow: 2, Header: []string{"Thickness", "Pieces on hand"}, Rows: [][]string{{"0.1", "5"}}}
	out, err := Write(j, ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, names := range []string{"", "Shimsheet_rows_"} {
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		_ = f.SetCellStr("Machines", "A10", "added")
		_ = f.SetCellValue("Machines", "E10", 1500)
		_ = f.SetCellStr("Machines", "A12", "later")
		_ = f.SetCellStr("Machines", "AZ3", "far")
		_ = f.SetCellStr("Results", "A40", "typed")
		if names != "" {
			for _, n := range f.GetDefinedName() {
				if strings.HasPrefix(n.Name, names) {
					_ = f.DeleteDefinedName(&n)
				}
			}
		}
		var b bytes.Buffer
		if err := f.Write(&b); err != nil {
			t.Fatal(err)
		}
		f.Close()
		back, r := mustRead(t, b.Bytes(), "x.xlsx", nil)
		m := back.Machines
		if len(m.Rows) != 10 || m.Cell(7, 0) != "added" || m.Cell(7, 4) != "1500" || m.Cell(9, 0) != "later" || m.Cell(0, 51) != "far" || m.Cell(0, 0) != "short" || m.FirstRow != 3 || len(m.Title) != 1 || back.Stock.Cell(0, 1) != "5" || !r.Own {
			t.Errorf("without %q: %d rows from %d under %q, %q", names, len(m.Rows), m.FirstRow, m.Title, m.Rows)
		}
		for _, s := range r.Sheets {
			if s.Name == "Results" && (s.Kind != "" || s.Why != "results of this program, which are worked out anew" || s.Rows != 0) {
				t.Errorf("%+v", s)
			}
		}
	}
	// Of two sheets that were chosen for one kind the first is taken, and the other is told of, no more loudly than a choice deserves; an empty one is not worth a word.
	machines := "machines"
	c := &Choices{Sheets: []SheetChoice{{Sheet: "A", Kind: &machines}, {Sheet: "B", Kind: &machines}, {Sheet: "C", Kind: &machines}}}
	two, r := mustRead(t, bookOfSheets([2]string{"A", "Machine|Speed\nP 1|1\n"}, [2]string{"B", "Machine|Speed\nP 2|2\nP 3|3\n"}, [2]string{"C", ""}), "x.xlsx", c)
	if n := notice(&r.Preview, "B", 0, "", `it looks like machines too, but "A" is taken for that; nothing of it is read`); two.Machines.Cell(0, 0) != "P 1" || n == nil || n.Severity != "warning" || notice(&r.Preview, "C", 0, "", "nothing of it") != nil || !strings.Contains(r.Sheets[2].Why, `"A" is taken`) {
		t.Errorf("%+v", r.Notices)
	}
	l := &loaded{names: map[string]string{"n": "'A b'!$B$3:$D$9", "one": "'A b'!$B$4", "bad": "'A b'!$B$9:$B$3"}}
	for name, want := range map[string][3]int{"n": {3, 9, 1}, "one": {4, 4, 1}, "bad": {}, "none": {}} {
		from, to, ok := l.rowsOf(name, "A b")
		if from != want[0] || to != want[1] || ok != (want[2] == 1) {
			t.Errorf("%s: %d %d %v", name, from, to, ok)
		}
		if _, _, ok := l.rowsOf(name, "A"); ok {
			t.Errorf("%s is of another sheet", name)
		}
	}
}

package workbook

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// Rows of a sheet stand in their order, each once (ECMA-376 Part 1, 18.3.1.73): two of one number, or one behind a later one, would put a machine's readings on another's row. Rows left out are empty.
func TestRowsStandInOrder(t *testing.T) {
	row := func(r, name string) string {
		if r != "" {
			r = ` r="` + r + `"`
		}
		return `<row` + r + `><c t="inlineStr"><is><t>` + name + `</t></is></c></row>`
	}
	for _, c := range []struct{ rows, refused, names string }{
		{row("2", "a") + row("3", "b"), "", "a,b"}, {row("2", "a") + row("5", "b"), "", "a,,,b"}, {row("", "a") + row("", "b"), "", "a,b"}, {row("4", "a") + row("", "b"), "", ",,a,b"},
		{row("2", "a") + row("2", "b"), "row 2 stands behind row 2", ""}, {row("3", "a") + row("2", "b"), "row 2 stands behind row 3", ""}, {row("1", "a"), "row 1 stands behind row 1", ""},
		{row("0", "a"), `a row numbered "0"`, ""}, {row("-2", "a"), `a row numbered "-2"`, ""}, {row("x", "a"), `a row numbered "x"`, ""},
		{`<row r="2"/>` + row("3", "b"), "", ",b"}, {`<row r="2"></row><row r="3"><c r="B3" t="inlineStr"><is><t>x</t></is></c></row>` + row("4", "c"), "", ",,c"},
	} {
		j, _, err := Read(bookOf(sheetOf(c.rows)), "x.xlsx", nil)
		if c.refused != "" {
			if err == nil || !strings.Contains(err.Error(), c.refused) {
				t.Errorf("%s: %v, want %q", c.rows, err, c.refused)
			}
			continue
		}
		if err != nil {
			t.Errorf("%s: %v", c.rows, err)
			continue
		}
		var names []string
		for i := range j.Machines.Rows {
			names = append(names, j.Machines.Cell(i, 0))
		}
		if got := strings.Join(names, ","); got != c.names {
			t.Errorf("%s: machines %q, want %q", c.rows, got, c.names)
		}
	}
}

// A workbook that names a part for its formats, its texts or a sheet and has not got it, or has it damaged, is refused: a number without its format could be a date or per cent.
func TestNamedPartsAreThere(t *testing.T) {
	rel := func(id, kind, target string) string {
		return strings.Replace(bookRels, "</Relationships>", `<Relationship Id="`+id+`" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/`+kind+`" Target="`+target+`"/></Relationships>`, 1)
	}
	for _, c := range []struct{ kind, target, part, refused string }{
		{"styles", "styles.xml", "", "for its formats, is missing"}, {"sharedStrings", "sharedStrings.xml", "", ""},
		{"styles", "styles.xml", "<styleSheet><cellXfs><xf", "styles.xml"}, {"sharedStrings", "sharedStrings.xml", "<sst><si><t>a</t>", "sharedStrings.xml"},
	} {
		parts := []zipPart{{name: "[Content_Types].xml", data: []byte(contentTypes)}, {name: "_rels/.rels", data: []byte(topRels)}, {name: "xl/workbook.xml", data: []byte(bookXML)},
			{name: "xl/_rels/workbook.xml.rels", data: []byte(rel("rId9", c.kind, c.target))}, {name: "xl/worksheets/sheet1.xml", data: []byte(sheetOf(plainRows(2) + `<row r="4"><c r="A4" t="s"><v>0</v></c></row>`))}}
		if c.part != "" {
			parts = append(parts, zipPart{name: "xl/" + c.target, data: []byte(c.part)})
		}
		if _, _, err := Read(zipOf(parts...), "x.xlsx", nil); err == nil || !strings.Contains(err.Error(), c.refused) {
			t.Errorf("%s %q: %v, want %q", c.kind, c.part, err, c.refused)
		}
	}
}

// Reading tells how far it is: never less than before, within 0 and 1, and at the end more than nine tenths.
func TestProgressRises(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", "job.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	m := demoBook(t, "")
	results, err := Write(m.j, m.ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	var told []float64
	by := Reader{Progress: func(done float64) { told = append(told, done) }}
	if _, _, err := by.Read(results, "job.xlsx", nil); err != nil || len(told) < 3 || told[len(told)-2] < 0.8 { // sheets that are not read count as done
		t.Errorf("%v", told)
	}
	told = nil
	if _, _, err := by.Read(data, "job.xlsx", nil); err != nil {
		t.Fatal(err)
	}
	last, between := 0.0, map[float64]bool{}
	for _, d := range told {
		if d < last || d > 1 {
			t.Fatalf("%v", told)
		}
		if last = d; d > 0.1 && d < 0.9 {
			between[d] = true
		}
	}
	if len(told) < 3 || last != 1 || told[0] > 0.9 || len(between) < 3 || told[len(told)-2] < 0.8 {
		t.Errorf("%v", told)
	}
}

// The sheet Method names what was missing, wrong or worth a look: every problem of the job and of each row that is more than a note, with its text, and no note.
func TestMethodNamesProblems(t *testing.T) {
	m := demoBook(t, "")
	f, ev := m.f, m.ev
	rows, err := f.GetRows("Method")
	if err != nil {
		t.Fatal(err)
	}
	below, said, lines := false, "", map[[2]string]bool{}
	for _, r := range rows {
		line := strings.Join(r, " ")
		if below {
			said += line + "\n"
			r = append(r, "", "")
			lines[[2]string{r[0], r[1]}] = true
		}
		below = below || strings.Contains(line, "What was missing, wrong or worth a look")
	}
	problems := ev.Problems()
	for i := range ev.Len() {
		problems = append(problems, ev.Row(i).Problems...)
	}
	told, notes := 0, 0
	for _, p := range problems {
		switch has := strings.Contains(said, p.Text.String()); {
		case p.Severity > job.Note && !has:
			t.Errorf("%q is not named", p.Text)
		case p.Severity > job.Note:
			told++
			short := p // the hint stands beside it, the file is this one
			short.File, short.Hint = "", words.Phrase{}
			if !lines[[2]string{p.Severity.String() + ": " + short.String(), p.Hint.String()}] {
				t.Errorf("%q is named otherwise, or without its hint %q:\n%s", short.String(), p.Hint, said)
			}
		case has:
			t.Errorf("a note is named: %q", p.Text)
		default:
			notes++
		}
	}
	if told < 2 {
		t.Errorf("%d problems and %d notes in the demo:\n%s", told, notes, said)
	}
}

// A sheet as wide as workbooks are read is written and read again; one column more is refused.
func TestWidestSheet(t *testing.T) {
	for _, wide := range []int{MaxColumns, MaxColumns + 1} {
		j := job.NewJob()
		table, _, err := job.ReadDelimited("Machines", []byte("Machine\tSpeed"+strings.Repeat("\tx", wide-2)+"\nP 1\t1480"+strings.Repeat("\ty", wide-2)+"\n"), '\t')
		if err != nil {
			t.Fatal(err)
		}
		j.SetTable(job.MachinesSheet, table)
		out, err := Write(j, sentences.New(j), Options{})
		if (err == nil) != (wide == MaxColumns) {
			t.Fatalf("%d columns: %v", wide, err)
		}
		if err != nil {
			continue
		}
		back, _, err := Read(out, "x.xlsx", nil)
		if n := len(back.Machines.Rows); err != nil || n == 0 || back.Machines.Cell(n-1, wide-1) != "y" {
			t.Errorf("%d columns come back as %d rows, %v", wide, n, err)
		}
	}
}

// A sheet as long as workbooks are read is written, one row more is refused; so it is with a title above.
func TestLongestSheet(t *testing.T) {
	for _, c := range []struct {
		title, rows int
		fine        bool
	}{{0, MaxRows - 1, true}, {0, MaxRows, false}, {1, MaxRows - 2, true}, {1, MaxRows - 1, false}} {
		j := job.NewJob()
		j.Machines.Header = []string{"Machine", "Speed"}
		j.Machines.Title = make([][]string, c.title)
		j.Machines.Rows = make([][]string, c.rows)
		j.Machines.Rows[c.rows-1] = []string{"P 1", "1480"}
		w := &writer{book: newBook(excelize.NewFile()), job: j, ev: sentences.New(j), opts: &Options{}}
		if w.table(job.MachinesSheet, "Machines"); (w.err == nil) != c.fine || w.err != nil && !strings.Contains(w.err.Error(), fmt.Sprintf("sheet Machines has %d rows and 2 columns", MaxRows+1)) {
			t.Errorf("%+v: %v", c, w.err)
		}
	}
}

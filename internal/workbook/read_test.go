package workbook

import (
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

func foreign(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(hostileDir, name))
	if err != nil {
		t.Fatal(err)
	}
	return data
}

func notice(p *Preview, sheetName string, row int, column, part string) *Notice {
	for i := range p.Notices {
		n := &p.Notices[i]
		if n.Sheet == sheetName && (row == 0 || n.Row == row) && (column == "" || n.Column == column) && strings.Contains(n.Text, part) {
			return n
		}
	}
	return nil
}

// A workbook openpyxl wrote: titles, header row, kinds by headers, hidden rows, and what is special about cells.
func TestForeignPreview(t *testing.T) {
	p, err := Inspect(foreign(t, "openpyxl.xlsx"), "openpyxl.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	//evidence: calc=workbook import grade=independent count=3 source=workbooks made by openpyxl and by LibreOffice Calc (testdata/hostile/foreign.py): titles, hidden rows, formulas, errors, text numbers, per cent, fractions, both date systems
	if len(p.Sheets) != 3 || p.Sheets[0].Kind != "machines" || p.Sheets[1].Kind != "" || p.Sheets[2].Kind != "stock" {
		t.Fatalf("sheets %+v", p.Sheets)
	}
	m := &p.Sheets[0]
	if m.HeaderRow != 4 || m.Titles != 3 || m.Rows != 6 || m.Merged != 2 || len(m.HiddenRows) != 1 || m.HiddenRows[0] != 10 || m.LastRow != 10 {
		t.Errorf("machines: %+v", m)
	}
	byHeader := map[string]ColumnPreview{}
	for _, c := range m.Columns {
		byHeader[c.Header] = c
	}
	for h, want := range map[string][3]string{"Tag": {"machine", "", ""}, "rpm": {"speed", "rpm", "job"}, "Coupling to front feet [in]": {"coupling_to_front_feet", "in", "header"},
		"Front to rear feet": {"front_to_rear_feet", "mm", "job"}, "Work order": {"work_order", "", ""}, "Comment": {"note", "", ""}} {
		if c := byHeader[h]; c.Key != want[0] || c.Unit != want[1] || c.UnitFrom != want[2] {
			t.Errorf("%s: %+v", h, c)
		}
	}
	for _, w := range []struct {
		row                    int
		column, part, severity string
	}{{6, "Speed", "stored as text", "warning"}, {7, "Coupling to front feet", "worked out as if it had been typed", "note"}, {8, "Front to rear feet", "no stored value", "error"},
		{9, "Given offset V", "is a date, 2026-01-08", "warning"}, {5, "Given slope V", "per cent", "note"}, {10, "", "hidden rows", "warning"}} {
		if n := notice(p, "Pumps west", w.row, w.column, w.part); n == nil || n.Severity != w.severity {
			t.Errorf("row %d, %s: no %s with %q in %+v", w.row, w.column, w.severity, w.part, p.Notices)
		}
	}
	if _, err := json.Marshal(p); err != nil {
		t.Error(err)
	}
	j, r := mustRead(t, foreign(t, "openpyxl.xlsx"), "openpyxl.xlsx", nil)
	cell := func(row int, head string) string {
		for c, h := range j.Machines.Header {
			if h == head {
				return j.Machines.Cell(row, c)
			}
		}
		t.Fatalf("no %s", head)
		return ""
	}
	for _, w := range []struct {
		row        int
		head, want string
	}{{0, "Coupling to front feet [in]", "14.5"}, {1, "rpm", "1480"}, {1, "Coupling to front feet [in]", "14.125"}, {2, "Coupling to front feet [in]", "=14+0.25"},
		{4, "Given offset V", "2026-01-08"}, {5, "Coupling to front feet [in]", "14.125"}, {5, "Given offset V", "0.1250"}, {0, "Given slope V", "20 %"}, {1, "Work order", "4711"}} {
		if got := cell(w.row, w.head); got != w.want {
			t.Errorf("row %d, %s: %q, want %q", w.row, w.head, got, w.want)
		}
	}
	if j.Machines.SourceRow(0) != 5 || len(r.Problems) != len(r.Notices) {
		t.Errorf("first row %d, %d problems", j.Machines.SourceRow(0), len(r.Problems))
	}
	// The cells that hold no number spoil their rows and no other. A formula without a stored value is told, and when it is a plain sum it is worked out as if it had been typed.
	e := work(t, j)
	for i, fine := range []bool{true, true, true, false, false, true} {
		bad := e.Row(i).Worst() == job.Error
		if i == 0 { // 20 % is a slope of 200 mm/m, which the person sees at once
			continue
		}
		if bad == fine {
			t.Errorf("row %d: %v", i, e.Row(i).Problems)
		}
	}
}

// LibreOffice stores what formulas give; an error stays an error.
func TestForeignValues(t *testing.T) {
	j, r := mustRead(t, foreign(t, "libreoffice.xlsx"), "libreoffice.xlsx", nil)
	if got := j.Machines.Cell(2, 2); got != "14.25" {
		t.Errorf("a formula's stored value: %q", got)
	}
	if got := j.Machines.Cell(3, 3); got != "#DIV/0!" {
		t.Errorf("an error cell: %q", got)
	}
	if n := notice(&r.Preview, "Pumps west", 8, "Front to rear feet", "error #DIV/0!"); n == nil || n.Severity != "error" {
		t.Errorf("no word of the error cell: %+v", r.Notices)
	}
	j, _ = mustRead(t, foreign(t, "date1904.xlsx"), "date1904.xlsx", nil)
	if got := j.Machines.Cell(4, 4); got != "2026-01-08" {
		t.Errorf("a date of the system of 1904: %q", got)
	}
}

// Days of both systems. 1900 has its 29 February; serial 1462 lies between them.
func TestDates(t *testing.T) {
	for _, c := range []struct {
		x     float64
		d1904 bool
		want  string
	}{{1, false, "1900-01-01"}, {59, false, "1900-02-28"}, {60, false, "1900-02-29"}, {61, false, "1900-03-01"}, {25569, false, "1970-01-01"}, {46114, false, "2026-04-02"},
		{0, true, "1904-01-01"}, {44652, true, "2026-04-02"}, {0.5, false, "12:00"}, {46114.25, false, "2026-04-02 06:00"}, {46113.9999999999, false, "2026-04-02"}, {2958465, false, "9999-12-31"}} {
		//evidence: calc=workbook import grade=practice count=1 source=the two date systems of the file format as spreadsheets show them (from memory)
		if got := dateText(c.x, c.d1904); got != c.want {
			t.Errorf("%v (%v): %s, want %s", c.x, c.d1904, got, c.want)
		}
	}
}

func TestFormatClass(t *testing.T) {
	for code, want := range map[string]uint8{"General": fmtGeneral, "0": fmtDecimals, "0.00": fmtDecimals + 2, "#,##0.00": fmtGeneral, "# ?/?": fmtGeneral, "0.0%": fmtPercent, "yyyy-mm-dd": fmtDate,
		"d.m.yy": fmtDate, "[h]:mm": fmtDate, `0.0" mm"`: fmtGeneral, `0.0\ "days"`: fmtGeneral, "[Red]0.0": fmtGeneral, "0.00E+00": fmtGeneral, `@" [mm]"`: fmtGeneral, "_-* #,##0.00_-": fmtGeneral} {
		if got := formatClass(164, code); got != want {
			t.Errorf("%q: %d, want %d", code, got, want)
		}
	}
}

func TestPercentExact(t *testing.T) {
	sr := &sheetReader{}
	for in, want := range map[string]string{"0.1": "10 %", "0.07": "7 %", "0.005": "0.5 %", "1": "100 %", "-0.123": "-12.3 %", "12.34567": "1234.567 %", "0": "0 %", "0.57": "57 %"} {
		if got, ok := sr.appendNumber(nil, in, fmtPercent); !ok || string(got) != want {
			t.Errorf("%s: %q, want %q", in, got, want)
		}
	}
}

// Corrections are honoured, and a sheet or a column can be kept unread.
func TestChoices(t *testing.T) {
	data := foreign(t, "openpyxl.xlsx")
	none, machines := "", "machines"
	c := &Choices{Sheets: []SheetChoice{
		{Sheet: "Store", Kind: &none},
		{Sheet: "Pumps west", Kind: &machines, TextToNumbers: true, Columns: []ColumnChoice{{Col: 3, Key: "front_to_rear_feet", Unit: "in"}, {Col: 9, Key: ""}, {Col: 8, Key: "train"}}},
	}}
	j, r := mustRead(t, data, "x.xlsx", c)
	if j.Stock != nil {
		t.Error("the sheet Store was read")
	}
	if h := j.Machines.Header; h[3] != "Front to rear feet [in]" || h[9] != "Kept unread: Comment" || h[8] != "Train" {
		t.Errorf("header %q", h)
	}
	if job.FindColumn(job.MachinesSheet, j.Machines.Header[9]) != nil {
		t.Error("a column that is kept unread is still known")
	}
	if n := notice(&r.Preview, "Pumps west", 0, "", "stored as text"); n != nil {
		t.Errorf("converted, and still: %v", n)
	}
	col := r.Sheets[0].Columns[3]
	if col.Unit != "in" || col.UnitFrom != "header" {
		t.Errorf("%+v", col)
	}
	_, _, err := Read(data, "x.xlsx", &Choices{Sheets: []SheetChoice{{Sheet: "Pumps west", Kind: &none}}})
	if err == nil || !strings.Contains(err.Error(), "no sheet looks like a list of machines") {
		t.Errorf("no machines: %v", err)
	}
	j, _ = mustRead(t, data, "x.xlsx", &Choices{Sheets: []SheetChoice{{Sheet: "Pumps west", HeaderRow: 5}}})
	if len(j.Machines.Header) == 0 || j.Machines.Header[0] != "P-1" || len(j.Machines.Rows) != 5 {
		t.Errorf("header row chosen: %q", j.Machines.Header)
	}
}

// Numbers stored as text become numbers only when that is asked for, and only where it is a number.
func TestTextToNumbers(t *testing.T) {
	data := bookOf(sheetOf(`<row r="2"><c r="A2" t="inlineStr"><is><t>007</t></is></c><c r="B2" t="inlineStr"><is><t xml:space="preserve"> 01480 </t></is></c></row>`))
	j, r := mustRead(t, data, "x.xlsx", nil)
	if j.Machines.Cell(0, 1) != " 01480 " || notice(&r.Preview, "Machines", 2, "Speed", "stored as text") == nil {
		t.Errorf("%q %+v", j.Machines.Rows, r.Notices)
	}
	if notice(&r.Preview, "Machines", 2, "Machine", "stored as text") != nil {
		t.Error("a machine's name may be a number")
	}
	j, _ = mustRead(t, data, "x.xlsx", &Choices{Sheets: []SheetChoice{{Sheet: "Machines", TextToNumbers: true}}})
	if j.Machines.Cell(0, 1) != "1480" || j.Machines.Cell(0, 0) != "007" {
		t.Errorf("%q", j.Machines.Rows)
	}
}

// A list in every encoding gives the same job.
func TestEncodings(t *testing.T) {
	const list = "Machine;Speed [rpm];Note\r\nKühlwasserpumpe 1;1480;süd\r\nKühlwasserpumpe 2;2970;\r\n"
	wide := func(big, mark bool) []byte {
		var out []byte
		u := utf16.Encode([]rune(list))
		if mark {
			u = append([]uint16{0xfeff}, u...)
		}
		for _, c := range u {
			if big {
				out = append(out, byte(c>>8), byte(c))
			} else {
				out = append(out, byte(c), byte(c>>8))
			}
		}
		return out
	}
	for name, data := range map[string][]byte{
		"UTF-8": []byte(list), "UTF-8 with a mark": []byte("\xef\xbb\xbf" + list), "Windows-1252": []byte(strings.ReplaceAll(list, "ü", "\xfc")),
		"UTF-16, little endian": wide(false, true), "UTF-16, big endian": wide(true, true), "UTF-16, little endian, without a mark": wide(false, false), "UTF-16, big endian, without a mark": wide(true, false),
	} {
		j, r, err := Read(data, "pumps.csv", nil)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if r.Encoding != name || j.Machines.Cell(0, 0) != "Kühlwasserpumpe 1" || j.Machines.Cell(1, 1) != "2970" || len(j.Machines.Rows) != 2 {
			t.Errorf("%s: read as %s, %q", name, r.Encoding, j.Machines.Rows)
		}
	}
	if _, _, err := Read([]byte("Machine,Note\nP,\x00\x01\x02\n"), "x.csv", nil); err == nil {
		t.Error("bytes that are no text were read")
	}
	if _, r, err := Read([]byte("sep=;\nMachine;Speed\nP1;1480\n"), "x.csv", nil); err != nil || r.Sheets[0].HeaderRow != 2 {
		t.Errorf("%v %+v", err, r)
	}
}

// With the decimal comma numbers of the workbook become texts with a comma, as the job reads them.
func TestDecimalComma(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header = []string{"Machine", "Movable sag at 6", "Speed"}
	j.Machines.Rows = [][]string{{"P1", "-0,040", "1480"}}
	j.Settings = &job.Table{Name: "Job", Rows: [][]string{{"Decimal sign", "comma"}, {"Move step", "0,05"}}, FirstRow: 1}
	out := write(t, j, Options{})
	rows := rawSheet(t, out, "Machines")
	if rows[1][1] != "-0.04" { // a number, not a text with a comma
		t.Errorf("the cell holds %q", rows[1][1])
	}
	back, _ := mustRead(t, out, "x.xlsx", nil)
	sameJob(t, back, j)
	if work(t, back).Decimal() != units.Comma {
		t.Error("the comma is lost")
	}
}

// Seen: a sum without a stored value, 1.250*2 in the file, became 2500 in a job with a decimal comma, because the point of a file's formulas was taken for the sign
// between thousands; and the preview said that it is not worked out.
func TestSumWithoutValue(t *testing.T) {
	for _, mark := range []string{"comma", "point"} {
		f := excelize.NewFile()
		defer f.Close()
		if err := errors.Join(f.SetSheetName("Sheet1", "Machines"), f.SetSheetRow("Machines", "A1", &[]string{"Machine", "Speed", "Front to rear feet [mm]"}),
			f.SetSheetRow("Machines", "A2", &[]any{"P1", 1480}), f.SetCellFormula("Machines", "C2", "310.250*2")); err != nil {
			t.Fatal(err)
		}
		if _, err := f.NewSheet("Job"); err != nil {
			t.Fatal(err)
		}
		if err := f.SetSheetRow("Job", "A1", &[]string{"Decimal sign", mark}); err != nil {
			t.Fatal(err)
		}
		file, err := f.WriteToBuffer()
		if err != nil {
			t.Fatal(err)
		}
		j, r := mustRead(t, file.Bytes(), "x.xlsx", nil)
		if n := notice(&r.Preview, "Machines", 2, "Front to rear feet", "worked out as if it had been typed"); n == nil || n.Severity != "note" {
			t.Errorf("%s: %+v", mark, r.Notices)
		}
		v, perr := units.Parse(j.Machines.Cell(0, 2), units.Length, units.MM, work(t, j).Decimal())
		if perr != nil || v.Base != 620.5 {
			t.Errorf("%s: %q is %v, %v", mark, j.Machines.Cell(0, 2), v.Base, perr)
		}
	}
}

// Two sheets of one kind: one is read, and the other is said to be left.
func TestTwoLists(t *testing.T) {
	book := strings.Replace(bookXML, "</sheets>", `<sheet name="More pumps" sheetId="2" r:id="rId2"/></sheets>`, 1)
	rels := strings.Replace(bookRels, "</Relationships>", `<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="/xl/worksheets/other.xml"/></Relationships>`, 1)
	data := zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}, zipPart{name: "xl/workbook.xml", data: []byte(book)},
		zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(rels)}, zipPart{name: "xl/worksheets/sheet1.xml", data: []byte(sheetOf(plainRows(2)))}, zipPart{name: "xl/worksheets/other.xml", data: []byte(sheetOf(plainRows(9)))})
	j, r := mustRead(t, data, "x.xlsx", nil)
	if len(j.Machines.Rows) != 2 {
		t.Errorf("%d rows", len(j.Machines.Rows))
	}
	if n := notice(&r.Preview, "More pumps", 0, "", "looks like machines too"); n == nil || n.Severity != "error" { // once a warning, and the command ended with status 0
		t.Errorf("%+v", r.Notices)
	}
	// Once a hidden sheet named Machines won over the list that can be seen.
	hidden := zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)},
		zipPart{name: "xl/workbook.xml", data: []byte(strings.Replace(book, `name="Machines"`, `name="Machines" state="hidden"`, 1))},
		zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(rels)}, zipPart{name: "xl/worksheets/sheet1.xml", data: []byte(sheetOf(plainRows(2)))}, zipPart{name: "xl/worksheets/other.xml", data: []byte(sheetOf(plainRows(9)))})
	if j, r = mustRead(t, hidden, "x.xlsx", nil); len(j.Machines.Rows) != 9 {
		t.Errorf("%d rows: the hidden sheet is read", len(j.Machines.Rows))
	}
	if n := notice(&r.Preview, "Machines", 0, "", "the sheet is hidden; it looks like machines too"); n == nil || n.Severity != "error" {
		t.Errorf("%+v", r.Notices)
	}
	other, none := "machines", ""
	j, _ = mustRead(t, data, "x.xlsx", &Choices{Sheets: []SheetChoice{{Sheet: "Machines", Kind: &none}, {Sheet: "More pumps", Kind: &other}}})
	if len(j.Machines.Rows) != 9 {
		t.Errorf("%d rows of the other", len(j.Machines.Rows))
	}
}

// Other prefixes and comments are XML too.
func TestPrefixes(t *testing.T) {
	xml := xmlHead + `<!-- made by hand --><x:worksheet xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><x:sheetData><x:row><x:c t="inlineStr"><x:is><x:r><x:t>Mach</x:t></x:r><x:r><x:t>ine</x:t></x:r><x:rPh sb="0" eb="1"><x:t>aid</x:t></x:rPh></x:is></x:c><x:c t="str"><x:v>Speed</x:v></x:c></x:row><x:row><x:c t="inlineStr"><x:is><x:t><![CDATA[A & B]]></x:t></x:is></x:c><x:c><x:v>1.48E3</x:v></x:c></x:row></x:sheetData></x:worksheet>`
	j, _ := mustRead(t, bookOf(xml), "x.xlsx", nil)
	if j.Machines.Header[0] != "Machine" || j.Machines.Cell(0, 0) != "A & B" || j.Machines.Cell(0, 1) != "1480" {
		t.Errorf("%q %q", j.Machines.Header, j.Machines.Rows)
	}
}

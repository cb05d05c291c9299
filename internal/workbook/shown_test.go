package workbook

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/calc"
)

func TestFormatWords(t *testing.T) {
	for code, want := range map[string][2]string{
		"0.00":                       {"0.00", ""},
		"General":                    {"General", ""},
		`0.0000"`:                    {"0.0000", `"`},
		`0.0000\"`:                   {"0.0000", `"`},
		`0.0000""""`:                 {"0.0000", `"`},
		`0.00" mil"`:                 {"0.00", "mil"},
		`0.00\ \m\m`:                 {"0.00", "mm"},
		`0.00\ "mm"`:                 {"0.00", "mm"},
		`0.00 [$mil]`:                {"0.00", "mil"},
		`0.00[$″-409]`:               {"0.00", "″"},
		`[Red]0.00" mm"`:             {"0.00", "mm"},
		`[>=1]0.0" mm";0.0" mm"`:     {"0.0", "mm"},
		`+0.00;-0.00;0.00`:           {"0.00", ""},
		`0.00" mil";-0.00" mil";"-"`: {"0.00", "mil"},
		`0.00" mil";-0.00" mm"`:      {"0.00", "mil or mm"},
		`0.00" mil";-0.00`:           {"0.00", "mil or"},
		`_(* #,##0.00_);_(* (#,##0.00);_(* "-"??_);_(@_)`: {"#,##0.00", ""},
		`# ?/?\"`:                {"#?/?", `"`},
		`0.0,"m"`:                {"0.0,", "m, shown in thousands"},
		`0.00E+00" in"`:          {"0.00E+00", "in"},
		`"P-"000`:                {"000", "P"},
		`General" mm"`:           {"General", "mm"},
		`@`:                      {"", ""},
		`0.00"open`:              {"0.00", "open"},
		`0.00\`:                  {"0.00", ""},
		`[0.00`:                  {"", ""},
		`0E`:                     {"0", "E"},
		`0e`:                     {"0", "e"},
		`0.0E-0`:                 {"0.0E-0", ""},
		`0.0Ex`:                  {"0.0", "Ex"},
		`0,.0" m"`:               {"0,.0", "m, shown in thousands"},
		`0.0" m";0.0,`:           {"0.0", "m or, shown in thousands"},
		`0,`:                     {"0,", ""},
		`#,##0,`:                 {"#,##0,", ""},
		`0.0,,`:                  {"0.0,,", ""},
		`0,.00;-0,.00`:           {"0,.00", ""},
		`0,;-0`:                  {"0,", ", shown in thousands"},
		`#,##0.0`:                {"#,##0.0", ""},
		`≈0.0" mm"±`:             {"0.0", "mm"},
		`0" mm";;`:               {"0", "mm"},
		`0" mm";0" mm";0" in"`:   {"0", "mm or in"},
		`"a"@;0" mm"`:            {"0", "mm"},
		`0" mm";-0" in";0" mil"`: {"0", "mm or in or mil"},
		`[$]0`:                   {"0", ""},
		`[$mil-409]0`:            {"0", "mil"},
		`GENERAL`:                {"General", ""},
		`Genera`:                 {"", ""},
		`xGeneral`:               {"General", "x"},
		`0_`:                     {"0", ""},
		`0*`:                     {"0", ""},
		`""0`:                    {"0", ""},
		`0"m""m"`:                {"0", "mm"},
	} {
		core, shown, scale := formatWords(code)
		if core != want[0] || shown != want[1] || scale != map[string]int{"0,": 1, "#,##0,": 1, "0.0,,": 2, "0,.00;-0,.00": 1}[code] {
			t.Errorf("%s: %q %q %d, want %q", code, core, shown, scale, want)
		}
	}
}

// withFormats is a workbook of one sheet whose cell formats 1, 2, … have these codes.
func withFormats(sheetXML string, codes ...string) []byte {
	var nums, xfs strings.Builder
	for i, c := range codes {
		b, _ := appendXMLText(nil, c)
		fmt.Fprintf(&nums, `<numFmt numFmtId="%d" formatCode="%s"/>`, 164+i, strings.ReplaceAll(string(b), `"`, "&quot;"))
		fmt.Fprintf(&xfs, `<xf numFmtId="%d"/>`, 164+i)
	}
	rels := strings.Replace(bookRels, "</Relationships>", `<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/></Relationships>`, 1)
	return zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}, zipPart{name: "xl/workbook.xml", data: []byte(bookXML)},
		zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(rels)}, zipPart{name: "xl/worksheets/sheet1.xml", data: []byte(sheetXML)},
		zipPart{name: "xl/styles.xml", data: []byte(`<styleSheet><numFmts>` + nums.String() + `</numFmts><cellXfs><xf numFmtId="0"/>` + xfs.String() + `</cellXfs></styleSheet>`)})
}

// listOf is a sheet of a header and one row, numbers with the format of that number.
func listOf(header []string, cells []string, format int) string {
	row := func(n int, texts []string) string {
		var b strings.Builder
		fmt.Fprintf(&b, `<row r="%d">`, n)
		for c, s := range texts {
			if _, ok := parseNumber(s); ok && s != "" {
				f := 0
				if c >= 6 {
					f = format
				}
				fmt.Fprintf(&b, `<c r="%s" s="%d"><v>%s</v></c>`, cellName(c, n), f, s)
			} else {
				x, _ := appendXMLText(nil, s)
				fmt.Fprintf(&b, `<c r="%s" t="inlineStr"><is><t>%s</t></is></c>`, cellName(c, n), x)
			}
		}
		return b.String() + `</row>`
	}
	return sheetOpen + `<sheetData>` + row(1, header) + row(2, cells) + `</sheetData></worksheet>`
}

// A list of readings in inches, shown with their mark by the cells' format, was once read in millimetres and judged inside: its offset is 0.1 in.
func TestUnitsShownByFormats(t *testing.T) {
	header := func(unit string) []string {
		h := strings.Split("Machine,Speed,Coupling to movable plane [mm],Coupling to stationary plane [mm],Coupling to front feet [mm],Front to rear feet [mm]", ",")
		for _, f := range []string{"Movable rim ", "Stationary rim "} {
			for _, p := range []string{"12", "3", "6", "9"} {
				h = append(h, f+p+unit)
			}
		}
		return h
	}
	cells := strings.Split("P 1,1480,100,100,300,500,0,-0.017,-0.03,-0.013,0,0.011,0.01,-0.001", ",")
	type want struct {
		unit, format, cell string
		verdict            calc.Verdict
		mm                 float64 // the offset, by hand (0.015 + 0.005)/2 of the unit
		notice             string
	}
	for _, c := range []want{
		{"", "0.0000", "-0.0300", calc.Inside, 0.01, ""},
		{"", `0.0000"`, "-0.0300 in", calc.Outside, 0.254, "note"},
		{"", `0.000\ [$in]`, "-0.030 in", calc.Outside, 0.254, "note"},
		{"", `0.000" mm"`, "-0.030 mm", calc.Inside, 0.01, "note"},
		{" [in]", `0.000\"`, "-0.030", calc.Outside, 0.254, ""},
		{" [mm]", `0.000\"`, "-0.030 in or mm?", calc.NotJudged, 0, "error"},
		{" [mm]", `0.000" furlongs"`, "-0.030 furlongs", calc.NotJudged, 0, "error"},
		{"", `0.000" mm";-0.000\"`, `-0.030 mm or "`, calc.NotJudged, 0, "error"},
	} {
		j, r, err := Read(withFormats(listOf(header(c.unit), cells, 1), c.format), "x.xlsx", nil)
		if err != nil {
			t.Fatal(err)
		}
		if got := j.Machines.Cell(0, 8); got != c.cell {
			t.Errorf("%s%s: the cell is %q, want %q", c.format, c.unit, got, c.cell)
		}
		res := work(t, j).Row(0)
		if res.Verdict != c.verdict {
			t.Errorf("%s%s: %v, want %v", c.format, c.unit, res.Verdict, c.verdict)
		}
		if v := res.Calc.Line.DV; c.mm != 0 && !(v > c.mm-1e-12 && v < c.mm+1e-12) {
			t.Errorf("%s%s: offset %v mm, want %v", c.format, c.unit, v, c.mm)
		}
		n := notice(&r.Preview, "Machines", 2, "Movable rim 6", "number format shows")
		if (n == nil) != (c.notice == "") || n != nil && n.Severity != c.notice {
			t.Errorf("%s%s: notice %+v", c.format, c.unit, n)
		}
	}
}

// A number whose format shows it in thousands is read as it is shown, and told. Seen: 300000 shown as 300 by "0," was read as 300,000 mm, and 1480000 as that many rpm.
func TestFormatsInThousands(t *testing.T) {
	header := strings.Split("Machine,Method,a,b,c,d,Speed,Coupling to front feet,Front to rear feet", ",")
	for format, want := range map[string][3]string{"0,": {"1480", "300.4", "500"}, "#,##0.0,": {"1480", "300.4", "500"}, "0.0,,": {"1.48", "0.3004", "0.5"}, "#,##0": {"1480000", "300400", "500000"}} {
		j, r, err := Read(withFormats(listOf(header, strings.Split("P 1,line,,,,,1480000,300400,500000", ","), 1), format), "x.xlsx", nil)
		if err != nil {
			t.Fatal(err)
		}
		for k, w := range want {
			if got := j.Machines.Cell(0, 6+k); got != w {
				t.Errorf("%s: %q, want %q", format, got, w)
			}
		}
		if n := notice(&r.Preview, "Machines", 2, "Speed", "in thousands"); (n != nil) != strings.HasSuffix(format, ",") || n != nil && n.Severity != "warning" {
			t.Errorf("%s: %+v", format, n)
		}
	}
}

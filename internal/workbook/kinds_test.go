package workbook

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
)

// Every type of cell that ECMA-376 Part 1, 18.18.11 names, with and without a formula, a value and a format, gives the text that a spreadsheet shows, and is counted among what a person is told of.
func TestTypesOfCells(t *testing.T) {
	formats := []cellFormat{{}, {class: fmtDate}, {class: fmtPercent}, {class: fmtDecimals + 3}, {class: fmtGeneral, shown: "mil"}}
	sr := &sheetReader{shared: []string{"first", " 12,5 ", "a\x01b"}, formats: formats}
	for _, c := range []struct {
		cell, want, told string // told: which list of the grid names it
	}{
		{`<c r="B2"><v>1.50</v></c>`, "1.5", ""}, {`<c r="B2" t="n"><v> 1e3 </v></c>`, "1000", ""}, {`<c r="B2"><v></v></c>`, "none", ""}, {`<c r="B2"/>`, "none", ""}, {`<c r="B2"><v> </v></c>`, "none", ""},
		{`<c r="B2" s="1"><v>46114</v></c>`, "2026-04-02", "date"}, {`<c r="B2" s="2"><v>0.1</v></c>`, "10 %", "percent"}, {`<c r="B2" s="3"><v>1.5</v></c>`, "1.500", ""}, {`<c r="B2" s="3"><v>1.23456</v></c>`, "1.23456", ""}, {`<c r="B2" s="4"><v>5</v></c>`, "5", "shown"},
		{`<c r="B2" s="5"><v>5</v></c>`, "5", ""}, {`<c r="B2" s="-1"><v>5</v></c>`, "5", ""}, {`<c r="B2" s="x"><v>5</v></c>`, "5", ""},
		{`<c r="B2" t="s"><v>0</v></c>`, "first", ""}, {`<c r="B2" t="s"><v> 1 </v></c>`, " 12,5 ", "text"}, {`<c r="B2" t="s"><v>2</v></c>`, "a\x01b", "control"}, {`<c r="B2" t="s" s="1"><v>1</v></c>`, " 12,5 ", "text"},
		{`<c r="B2" t="str"><v>x_x0041_y</v></c>`, "xAy", ""}, {`<c r="B2" t="str"><f>A1</f><v>7</v></c>`, "7", "text"}, {`<c r="B2" t="str"><f>A1</f><v></v></c>`, "", ""},
		{`<c r="B2" t="inlineStr"><is><t>x_x0041_y</t></is></c>`, "xAy", ""}, {`<c r="B2" t="inlineStr"><is><t>-1.5</t></is></c>`, "-1.5", "text"}, {`<c r="B2" t="inlineStr"><is></is></c>`, "", ""}, {`<c r="B2" t="inlineStr"></c>`, "none", ""},
		{`<c r="B2" t="b"><v>1</v></c>`, "TRUE", ""}, {`<c r="B2" t="b"><v>0</v></c>`, "FALSE", ""}, {`<c r="B2" t="b"><v>true</v></c>`, "TRUE", ""}, {`<c r="B2" t="b"><f>A1=1</f><v>1</v></c>`, "TRUE", ""},
		{`<c r="B2" t="e"><v>#DIV/0!</v></c>`, "#DIV/0!", "error"}, {`<c r="B2" t="e"><f>1/0</f><v>#N/A</v></c>`, "#N/A", "error"}, {`<c r="B2" t="d"><v>2026-04-02</v></c>`, "2026-04-02", ""},
		{`<c r="B2"><f>A1*2</f><v>3</v></c>`, "3", ""}, {`<c r="B2"><f>A1*2.5</f></c>`, "=A1*2.5", "formula"}, {`<c r="B2"><f>A1*2.5</f><v></v></c>`, "=A1*2.5", "formula"}, {`<c r="B2" t="b"><f>A1</f></c>`, "=A1", "formula"}, {`<c r="B2"><f></f><v>4</v></c>`, "4", ""},
	} {
		g, err := sr.read("p", "S", []byte(sheetOf(`<row r="2"><c r="A2" t="inlineStr"><is><t>P</t></is></c>`+c.cell+`<c r="C2" t="inlineStr"><is><t>end</t></is></c></row>`)))
		if err != nil {
			t.Errorf("%s: %v", c.cell, err)
			continue
		}
		row := g.rows[1]
		got := row[1]
		if c.want == "none" && got != "" || c.want != "none" && got != c.want || row[0] != "P" || row[2] != "end" {
			t.Errorf("%s: %q, want %q", c.cell, row, c.want)
		}
		told := ""
		for name, list := range map[string][]spot{"text": g.asText, "formula": g.noValue, "error": g.errors, "date": g.dates, "percent": g.percents, "control": g.control} {
			for _, at := range list {
				told += name
				if at != (spot{1, 1}) {
					t.Errorf("%s: %s at %v", c.cell, name, at)
				}
			}
		}
		for _, at := range g.shown {
			if told += "shown"; at != (shownSpot{1, 1, 4}) {
				t.Errorf("%s: shown at %v", c.cell, at)
			}
		}
		if told != c.told {
			t.Errorf("%s: told as %q, want %q", c.cell, told, c.told)
		}
	}
	comma := &sheetReader{formats: formats, mark: units.Comma, d1904: true}
	for cell, want := range map[string]string{`<c r="A1"><v>1.5</v></c>`: "1,5", `<c r="A1" s="2"><v>0.0015</v></c>`: "0,15 %", `<c r="A1" s="3"><v>1.5</v></c>`: "1,500", `<c r="A1"><f>1.5*2.5</f></c>`: "=1,5*2,5", `<c r="A1" s="1"><v>0</v></c>`: "1904-01-01", `<c r="A1"><v>1e300</v></c>`: "1e+300"} {
		if g, err := comma.read("p", "S", []byte(sheetOpen+`<sheetData><row>`+cell+`</row></sheetData></worksheet>`)); err != nil || g.rows[0][0] != want {
			t.Errorf("%s: %v %v, want %q", cell, g, err, want)
		}
	}
}

// What is known of a sheet besides its cells: the range it gives, merged ranges, hidden rows, and rows that hold something. Cells outside sheetData are none, and cells beyond those that are read are an error only where they hold something.
func TestSheetsAround(t *testing.T) {
	sr := &sheetReader{}
	x := sheetOpen + `<dimension ref="A1:C9"/><row r="1"><c r="A1"><v>9</v></c></row><sheetData>` + headerRow + `<row r="3" hidden="1"><c r="A3"/></row><row r="4" hidden="true"><c r="B4"><v>1</v></c></row><row r="6" hidden="0"><c r="A6" t="inlineStr"><is><t></t></is></c></row>` +
		`<row r="9"><c r="ALM9"/><c r="XFD9"/></row><row r="200001"><c r="A200001" t="str"><v></v></c></row></sheetData><mergeCells><mergeCell ref="A1:B1"/><mergeCell ref="A2:B2"/></mergeCells></worksheet>`
	g, err := sr.read("p", "S", []byte(x))
	if err != nil {
		t.Fatal(err)
	}
	if g.dim != "A1:C9" || g.merged != 2 || fmt.Sprint(g.hidden) != "[3 4]" || g.filled != 2 || len(g.rows) != 6 || g.rows[1] != nil || g.rows[2] != nil || len(g.rows[3]) != 2 || g.rows[3][0] != "" || g.rows[3][1] != "1" || len(g.rows[5]) != 1 || g.rows[0][0] != "Machine" {
		t.Errorf("%+v", g)
	}
	for rows, want := range map[string]string{
		`<row r="2"><c r="A2"><v>1</v><is><t>` + strings.Repeat("x", MaxCell) + `</t></is></c></row>`: "holds 32768 signs", `<row r="2"><c r="B2" t="zz"/></row>`: "cell B2 is of an unknown type", `<row r="2"><c t="str"><v>` + strings.Repeat("é", MaxCell) + `</v></c></row>`: "",
		`<row r="2"><c t="str"><v>` + strings.Repeat("é", MaxCell+1) + `</v></c></row>`: "holds 32768 signs", `<row r="2"><c t="str"><v>` + strings.Repeat("😀", MaxCell/2+1) + `</v></c></row>`: "holds 32768 signs", `<row r="2"><c t="str"><v>` + strings.Repeat("😀", MaxCell/2) + `</v></c></row>`: "",
		`<row r="2"><c r="B2"/><c r="B2"><v>1</v></c></row>`: "as its place", `<row r="2"><c r="B3"><v>1</v></c></row>`: "as its place", `<row r="2"><c r="2B"><v>1</v></c></row>`: "as its place", `<row r="2"><c r="A2" t="s"><v>0</v></c></row>`: "refers to text", `<row r="2"><c r="A2" t="s"><v>-1</v></c></row>`: "refers to text",
		`<row r="2"><c r="A2"><v>1,5</v></c></row>`: "which is no number", `<row r="2"><c r="A2"><v>1e999</v></c></row>`: "which is no number", `<row r="2"><c r="A2"><v>--1</v></c></row>`: "which is no number", `<row r="2"><c r="A2" s="1"><v>0x10</v></c></row>`: "which is no number",
		fmt.Sprintf(`<row r="2"><c r="%s2"><v>1</v></c></row>`, columnName(MaxColumns-1)): "", fmt.Sprintf(`<row r="2"><c r="%s2"><v>1</v></c></row>`, columnName(MaxColumns)): "is filled; columns up to " + columnName(MaxColumns-1),
		fmt.Sprintf(`<row r="%d"><c><v>1</v></c></row>`, MaxRows): "", fmt.Sprintf(`<row r="%d"><c><v>1</v></c></row>`, MaxRows+1): fmt.Sprintf("row %d is filled", MaxRows+1),
	} {
		if _, err := sr.read("p", "S", []byte(sheetOf(rows))); (err == nil) != (want == "") || err != nil && !(strings.Contains(err.Error(), want) && strings.Contains(err.Error(), `sheet "S"`)) {
			t.Errorf("%.120s: %v, want %q", rows, err, want)
		}
	}
}

// XML that is well formed (the W3C recommendation, 1.0) is walked; what is not, or what a workbook needs none of, is refused by what is wrong.
func TestWellFormed(t *testing.T) {
	walk := func(x string) (out string, err error) {
		s := newScanner("p", []byte(x))
		for s.next() {
			switch s.kind {
			case '<':
				out += "<" + string(s.name)
				if a := s.attr("a"); a != nil {
					out += "=" + string(a)
				}
				out += ">"
			case '/':
				out += "/"
			case 't':
				out += string(s.appendText(nil))
			}
		}
		return out, s.err
	}
	for _, c := range []struct{ x, want, refused string }{
		{"<x/>", "<x>/", ""}, {"\xef\xbb\xbf<x></x>", "<x>/", ""}, {"<?xml version='1.0'?><!-- < --> <x>a<!-- - -->b</x>\n<!-- c -->", "<x>ab/", ""}, {"<n:x n:a='1' a = \"2\" ></n:x >", "<x=2>/", ""}, {"<x a='\"' b='>'/>", "<x=\">/", ""}, {"<x b='/' a='/'/>", "<x=/>/", ""}, {"<x a=''>t</x>", "<x=>t/", ""},
		{"<x>&lt;&gt;&amp;&quot;&apos;&#65;&#x42;&#x1F600;</x>", "<x><>&\"'AB😀/", ""}, {"<x>a\r\nb\rc\td</x>", "<x>a\nb\nc\td/", ""}, {"<x><![CDATA[&lt;<y>]]></x>", "<x>&lt;<y>/", ""}, {"<x><y/><y></y></x>", "<x><y>/<y>//", ""}, {"<x>&#9;&#10;&#13;</x>", "<x>\t\n\r/", ""},
		{"<x aa='1' ba='2'/>", "<x>/", ""},
		{"", "", "ends too early"}, {"<x>", "", "ends too early"}, {"<x", "", "without an end"}, {"<x a", "", "not closed"}, {"<x a='1", "", "a quote is not closed"}, {"<x a='1'", "", "a tag is not closed"}, {"<x><y </x>", "", "a tag is not closed"}, {"<x><y a<b></y></x>", "", "a tag is not closed"}, {"</x>", "", "closes what was not opened"}, {"<x></y>", "", "closes what was not opened"}, {"<x></x", "", "a tag is not closed"},
		{"<x/><y/>", "", "second document"}, {"<x/>t", "", "text outside"}, {"t<x/>", "", "text outside"}, {"<x>&nbsp;</x>", "", "&nbsp; is not known"}, {"<x>& </x>", "", "begins nothing"}, {"<x>&abcdefghijklm;</x>", "", "begins nothing"}, {"<x>&#;</x>", "", "is not known"}, {"<x>&#x110000;</x>", "", "is not known"}, {"<x>&#xD800;</x>", "", "is not known"}, {"<x>&#xDFFF;</x>", "", "is not known"},
		{"<x>&#xFFFE;</x>", "", "is not known"}, {"<x>&#xffff;</x>", "", "is not known"}, {"<x>&#xE000;&#xD7FF;&#x10FFFF;</x>", "<x>\ue000\ud7ff\U0010ffff/", ""}, {"<x>&#8;</x>", "", "is not known"}, {"<x>&#32;</x>", "<x> /", ""}, {"<x>&#0;</x>", "", "is not known"}, {"<x>&#-5;</x>", "", "is not known"}, {"<x>&#xg;</x>", "", "is not known"},
		{"<x>\x01</x>", "", "control character, number 1"}, {"<x>\x1f</x>", "", "control character, number 31"}, {"<x a=1/>", "", "without quotes"}, {"<x b/>", "", "without a value"}, {"<x a='1' b=\"2/>", "", "a quote is not closed"}, {"<x a=/>", "", "without quotes"}, {"<!DOCTYPE x><x/>", "", "document type"}, {"<![CDATA[x]]><x/>", "", "document type"}, {"<x><!ELEMENT y></x>", "", "document type"},
		{"<x><!-- </x>", "", "ends too early"}, {"<?xml ", "", "ends too early"}, {"<x><![CDATA[ </x>", "", "ends too early"}, {"< x/>", "", "without a name"}, {"<=/>", "", "without a name"}, {"<x\"/>", "", "without"}, {"<x='1'/>", "", "without"}, {"<x<y/>", "", "without"},
		{"<?xml version=\"1.0\" encoding=\"US-ASCII\"?><x/>", "<x>/", ""}, {"<?xml version=\"1.0\" encoding='utf-8'?><x/>", "<x>/", ""}, {"<?xml encoding=\"ISO-8859-1\"?><x/>", "", `written in "ISO-8859-1"`}, {"<x b=' encoding=\"Shift_JIS\"'/>", "<x>/", ""}, {"\xfe\xff\x00<", "", "UTF-16"}, {"\xfe<", "", "not UTF-8"}, {"\xff<", "", "not UTF-8"}, {"<\xff", "", "not UTF-8"}, {"<\xfe", "", "not UTF-8"}, {"\xff\xff", "", "not UTF-8"}, {"\xfe\xfe", "", "not UTF-8"}, {"\xfe", "", "not UTF-8"}, {"\xff\xfe<\x00", "", "UTF-16"}, {"<x>\xff</x>", "", "not UTF-8"},
		{strings.Repeat("<x>", 64) + strings.Repeat("</x>", 64), strings.Repeat("<x>", 64) + strings.Repeat("/", 64), ""}, {strings.Repeat("<x>", 65), "", "more than 64 deep"},
	} {
		got, err := walk(c.x)
		if c.refused != "" {
			if err == nil || !strings.Contains(err.Error(), c.refused) || !strings.Contains(err.Error(), "part p of the workbook") {
				t.Errorf("%.60q: %q, %v, want %q", c.x, got, err, c.refused)
			}
			continue
		}
		if err != nil || got != c.want {
			t.Errorf("%.60q: %q, %v, want %q", c.x, got, err, c.want)
		}
	}
	s := newScanner("p", []byte("<a><b><c>x</c></b><d/>y</a>"))
	s.next()
	if s.next(); !s.skip() || string(s.name) != "b" || !s.next() || string(s.name) != "d" || !s.skip() || !s.next() || string(s.text) != "y" {
		t.Errorf("skipped to %c %s", s.kind, s.name)
	}
	s = newScanner("p", []byte("<a><b>"))
	s.next()
	if s.next(); s.skip() {
		t.Error("skipped past the end")
	}
	if s = newScanner("p", []byte("<a>x<b>y</b><rPh>z</rPh>&amp;</a>")); !s.next() || string(s.plainText(nil)) != "xyz&" {
		t.Error("plain text")
	}
}

// Names of cells, columns and ranges, as A1 counts: letters in base 26 without a zero, up to XFD and 1048576 (ECMA-376). The names are excelize's.
func TestNamesOfCells(t *testing.T) {
	for _, col := range []int{0, 1, 24, 25, 26, 27, 51, 52, 700, 701, 702, 703, 16382, 16383} {
		want, err := excelize.ColumnNumberToName(col + 1)
		if err != nil || columnName(col) != want || cellName(col, 7) != want+"7" {
			t.Errorf("%d: %s, want %s, %v", col, columnName(col), want, err)
		}
		for _, row := range []int{1, 9, 10, 1048576} {
			for _, name := range []string{want, strings.ToLower(want)} {
				if c, r, ok := parseRef([]byte(fmt.Sprintf("%s%d", name, row))); c != col || r != row || !ok {
					t.Errorf("%s%d: %d %d %v", name, row, c, r, ok)
				}
			}
		}
	}
	for _, bad := range []string{"", "A", "1", "A0", "XFE1", "A1048577", "AAAA1", "A1B", "A 1", "@1", "[1", "A12345678", "`1", "{1", "A-1", "A1 ", "$A$1", "A/", "A:"} {
		if c, r, ok := parseRef([]byte(bad)); ok {
			t.Errorf("%q is %d %d", bad, c, r)
		}
	}
	for s, want := range map[string]bool{"A1": true, "A1:A1": true, "A1:B2": true, "B1:A2": false, "A2:B1": false, "A1:": false, ":A1": false, "A1:B2:C3": false, "": false, "A1:XFD1048576": true} {
		if soundRange(s) != want {
			t.Errorf("%q", s)
		}
	}
	for s, want := range map[string][2]string{"'A b'!$A$1:$B$2": {"A b", "A1:B2"}, "=x!A1": {"x", "A1"}, " 'it''s'!$A$1 ": {"it's", "A1"}, "!A1": {"", "A1"}, "'!A1": {"'", "A1"}, "'a!b'!A1": {"a!b", "A1"}, "''!A1": {"", "A1"}, "A1": {"-", ""}} {
		name, ref, ok := splitRange(s)
		if !ok {
			name, ref = "-", ""
		}
		if name != want[0] || ref != want[1] {
			t.Errorf("%q: %q, %q", s, name, ref)
		}
		if want[0] != "-" && (!refersTo(s, want[0]) || refersTo(s, want[0]+"x")) {
			t.Errorf("%q refers elsewhere", s)
		}
	}
}

// Numbers as text, times a hundred, and what of a text is a plain number: digit for digit, by another way of writing them.
func TestDigitsOfNumbers(t *testing.T) {
	for s, want := range map[string]bool{"1": true, "-1.5": true, "+1,5": true, " 12 ": true, "1.2.3": false, "1,2,3": false, "": false, "-": false, ".": false, "1e5": false, "12345678901234567890": true, "123456789012345678901": false, "1 2": false, "--1": false, ".5": true, "5.": true, "x": false, "1,234.5": false, "/": false, ":": false} {
		if plainNumberText([]byte(s)) != want {
			t.Errorf("%q", s)
		}
	}
	for _, x := range []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 1.0 / 3, 1e14, 123456789012345, 1e15, -1e15, 1e-8, 1e-9, 9e-10, 1e300, -2.5, 1480, 0.0025, 1e21, 0.30000000000000004} {
		for _, d := range []int{-1, 0, 1, 3, 12} {
			for _, mark := range []units.Decimal{units.Point, units.Comma} {
				s := numberText(x, d, mark)
				if mark == units.Comma && strings.Contains(s, ".") || mark == units.Point && strings.Contains(s, ",") {
					t.Errorf("%g: %s", x, s)
				}
				var back float64
				if _, err := fmt.Sscan(strings.Replace(s, ",", ".", 1), &back); err != nil || back != x {
					t.Errorf("%g with %d decimals is %s", x, d, s)
				}
				if big := math.Abs(x) >= 1e15 || x != 0 && math.Abs(x) < 1e-9; strings.Contains(s, "e") != big || strings.HasPrefix(s, "-0") && x == 0 {
					t.Errorf("%g is written %s", x, s)
				}
				if _, frac, _ := strings.Cut(strings.ReplaceAll(s, ",", "."), "."); d > 0 && !strings.Contains(s, "e") && len(frac) < d {
					t.Errorf("%g with %d decimals is %s", x, d, s)
				}
			}
		}
	}
	for _, s := range []string{"0", "1", "-1", "0.5", "-0.005", "12.34", "0.1", "100", "0.000012", "123456.789", "-0.1", "10.01", "0.25"} {
		var x, y float64
		got := string(shiftPoint(nil, s))
		fmt.Sscan(s, &x)
		fmt.Sscan(got, &y)
		if math.Abs(y-100*x) > 1e-12*math.Abs(y) || strings.HasSuffix(got, ".") || strings.Contains(got, ".") && strings.HasSuffix(got, "0") || strings.HasPrefix(strings.TrimPrefix(got, "-"), "0") && math.Abs(y) >= 1 || strings.HasPrefix(got, ".") {
			t.Errorf("%s times a hundred is %s", s, got)
		}
	}
	for s, want := range map[string]string{"1e-20": "x1e-18", "-1.5e-09": "x-1.5e-07", "1e+15": "x1e+17", "2e-10": "x2e-08"} { // Seen: 1e-20 became 9.999999999999999e-19 %
		if got := string(shiftPoint([]byte("x"), s)); got != want {
			t.Errorf("%s: %s", s, got)
		}
	}
	for _, c := range []struct {
		x     float64
		d1904 bool
		want  string
	}{{-1, false, "-1"}, {2958466, false, "2958466"}, {2959928, false, "2959928"}, {2957003, true, "9999-12-31"}, {2957004, true, "2957004"}, {1e7, true, "10000000"}, {46114.5 + 30.0/86400, false, "2026-04-02 12:00:30"}, {60.5, false, "1900-02-29 12:00"}, {0, false, "00:00"}, {0.99999999, false, "1900-01-01"}, {44652.75, true, "2026-04-02 18:00"}, {59.5, false, "1900-02-28 12:00"}, {0.25 + 61.0/86400, false, "06:01:01"}} {
		if got := dateText(c.x, c.d1904); got != c.want {
			t.Errorf("%v (%v): %s, want %s", c.x, c.d1904, got, c.want)
		}
	}
	for x := 61.0; x < 80000; x += 97 { // excelize counts the days in its own way
		at, err := excelize.ExcelDateToTime(x, false)
		if got := dateText(x, false); err != nil || got != at.Format("2006-01-02") {
			t.Errorf("%v: %s, excelize has %v", x, got, at)
		}
	}
}

// The built-in formats (ECMA-376 Part 1, 18.8.30) and codes of one's own.
func TestFormatNumbers(t *testing.T) {
	for id := range 60 {
		want := fmtGeneral
		switch {
		case id == 1:
			want = fmtDecimals
		case id == 2:
			want = fmtDecimals + 2
		case id == 9 || id == 10:
			want = fmtPercent
		case id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58:
			want = fmtDate
		}
		if got := formatClass(id, ""); got != want {
			t.Errorf("format %d: %d, want %d", id, got, want)
		}
	}
	for code, want := range map[string]uint8{"0.": fmtGeneral, "0.0": fmtDecimals + 1, "0." + strings.Repeat("0", 12): fmtDecimals + 12, "0." + strings.Repeat("0", 13): fmtGeneral, "0.0#": fmtGeneral, "00": fmtGeneral, "GENERAL": fmtGeneral, `0"d"`: fmtGeneral, `0"d`: fmtGeneral, `0\d`: fmtGeneral, "0_d": fmtGeneral, "0*d0": fmtGeneral,
		"[Red]d": fmtDate, "[Red": fmtGeneral, "[mm]": fmtDate, "[ss]": fmtDate, "[H]": fmtDate, "[s]": fmtDate, "[m]": fmtDate, "[hh]": fmtDate, "0;d": fmtGeneral, "0;0%": fmtGeneral, "#%": fmtPercent, `"%"0`: fmtGeneral, "General d": fmtDate, "general": fmtGeneral, "0%;d": fmtPercent, "Y": fmtDate, "s": fmtDate, "h:m": fmtDate, `"x"0%`: fmtPercent, `\%0`: fmtGeneral, "General\"mil\"": fmtGeneral} {
		if got := formatClass(164, code); got != want {
			t.Errorf("%q: %d, want %d", code, got, want)
		}
	}
}

// What a file is, by its first bytes, and what is said of it.
func TestKindsOfFiles(t *testing.T) {
	for text, want := range map[string]string{"PK\x05\x06": "empty or split archive", "<!DOCTYPE HTML>": "web page", " \n<HTML>": "web page", "\xef\xbb\xbf<html>": "web page", "x<TABLE>": "web page", "<?xml version": "XML text", "%PDF-1.7": "PDF", "PK": "empty or split", "Machine;Speed": "begins with PK", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1": "old .xls"} {
		if _, _, err := Read([]byte(text), "x.xlsx", nil); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
	for n, want := range map[int]string{MaxFile + 1: fmt.Sprintf("%d bytes, 1 more than", MaxFile+1), MaxFile + 1<<20: "MB; files up to", MaxFile + 10: "10 more"} {
		if err := tooLarge(n); !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), fmt.Sprintf("up to %d MB", MaxFile>>20)) {
			t.Errorf("%d: %v", n, err)
		}
	}
	for _, name := range []string{"a.csv", "a.TSV", "a.txt"} {
		j, r, err := Read([]byte("Machine\tSpeed\nP 1\t1480\n"), name, nil)
		if err != nil || j.Machines.Cell(0, 0) != "P 1" || j.Machines.Cell(0, 1) != "1480" || j.Machines.Name != "a" || j.Machines.File != name {
			t.Errorf("%s: %v %v", name, j, err)
			continue
		}
		want := map[string]string{"a.csv": "csv", "a.TSV": "tsv", "a.txt": "csv"}[name]
		if r.Format != want || r.File != name || r.Encoding != "UTF-8" || r.Own || r.Sheets[0].Kind != "machines" || r.Sheets[0].Rows != 1 || r.Sheets[0].HeaderRow != 1 || r.Sheets[0].LastRow != 2 {
			t.Errorf("%s: %+v", name, r.Preview)
		}
	}
	if j, r, err := Read([]byte("x,y\n1,2\n"), "a.csv", nil); err != nil || r.Sheets[0].Why != "the only list of the file" || j.Machines.Header != nil || notice(&r.Preview, "a", 0, "", "no header row was found") == nil {
		t.Errorf("%v %v", err, r)
	}
	if j, r, err := Read([]byte("Thickness;Pieces on hand\n0,1;5\n"), "a.csv", nil); err != nil || r.Sheets[0].Kind != "stock" || r.Sheets[0].Why != "by its headers" || j.Machines == nil || j.Stock.Cell(0, 1) != "5" {
		t.Errorf("%v %v", err, r)
	}
	if _, _, err := Read([]byte("Machine,Note\nP,"+strings.Repeat("x", MaxCell+1)), "a.csv", nil); err == nil || !strings.Contains(err.Error(), "row 2, cell 2 holds 32768 bytes") {
		t.Error(err)
	}
	if _, _, err := Read([]byte("Machine"+strings.Repeat(",", MaxColumns)), "a.csv", nil); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("row 1 has %d cells", MaxColumns+1)) {
		t.Error(err)
	}
	if _, _, err := Read([]byte("PK\x03\x04rest"), "a.csv", nil); err == nil || !strings.Contains(err.Error(), "cut short") {
		t.Error(err)
	}
	_, r, err := Read([]byte("Machine,Note\nP 1,a\x07b\nP 2,\"c\n"), "a.csv", nil)
	if err != nil || notice(&r.Preview, "a", 2, "Note", "control characters") == nil || notice(&r.Preview, "a", 3, "", "never closed") == nil {
		t.Errorf("%v %+v", err, r)
	}
	if n := job.UTF16NoMark([]byte("a\x00b\x00c")); n != 0 {
		t.Error(n)
	}
	for zeros := range 11 { // of ten words more than six have a byte of zero, always the same one
		low, high := bytes.Repeat([]byte("ab"), 10), bytes.Repeat([]byte("ab"), 10)
		for k := range zeros {
			low[2*k+1], high[2*k] = 0, 0
		}
		if l, h := job.UTF16NoMark(low), job.UTF16NoMark(high); (l == 'L') != (zeros > 6) || (h == 'B') != (zeros > 6) {
			t.Errorf("%d of ten: %q %q", zeros, l, h)
		}
	}
	for s, want := range map[string]byte{"a\x00b\x00c\x00d\x00": 'L', "\x00a\x00b\x00c\x00d": 'B', "abcdefgh": 0, "\x00\x00\x00\x00\x00\x00\x00\x00": 0, "a\x00b\x00c\x00\x00d": 0, "\x00\x00b\x00c\x00d\x00": 0} {
		if got := job.UTF16NoMark([]byte(s)); got != want {
			t.Errorf("%q: %c", s, got)
		}
	}
}

// A workbook with the sheets of this table, each as written, is read so: what each is taken for and why, and what a person is told of those that are left.
func TestWhichSheetIsWhat(t *testing.T) {
	type part struct{ name, state, rows, kind, why string }
	list := `<row r="1"><c t="inlineStr"><is><t>Machine</t></is></c><c t="inlineStr"><is><t>Speed</t></is></c><c t="inlineStr"><is><t>Note</t></is></c></row><row r="2"><c t="inlineStr"><is><t>P 1</t></is></c><c><v>1480</v></c></row>`
	cells := func(words ...string) string {
		var b strings.Builder
		for i := 0; i < len(words); i += 2 {
			fmt.Fprintf(&b, `<row><c t="inlineStr"><is><t>%s</t></is></c><c t="inlineStr"><is><t>%s</t></is></c></row>`, words[i], words[i+1])
		}
		return b.String()
	}
	for _, book := range [][]part{
		{{"Pumps", "", list, "machines", "by its headers"}, {"Notes", "", cells("a", "b"), "", "no header row with known names"}, {"Empty", "", "", "", "it is empty"}, {"Box", "", cells("Thickness", "Pieces on hand", "0.1", "5"), "stock", "by its headers"}},
		{{"Machines", "", list, "machines", "by its name"}, {"MACHINES 2", "", list, "", "taken for that"}, {" job ", "", cells("Units", "inch", "x", "y"), "job", "by its name"}},
		{{"Set", "", cells("Units", "inch", "Site", "here", "Cold temperature", "10"), "job", "by its headers"}, {"Pumps", "hidden", list, "machines", "by its headers"}},
		{{"Old", "veryHidden", list + strings.ReplaceAll(strings.ReplaceAll(list[strings.Index(list, `<row r="2"`):], `r="2"`, `r="3"`), "P 1", "P 2"), "", "taken for that"}, {"New", "", list, "machines", "by its headers"}},
		{{"Readings", "", cells("Machine", "Sweep"), "readings", "by its name"}, {"Pumps", "", list, "machines", "by its headers"}},
	} {
		names, rels := "", ""
		parts := []zipPart{{name: "[Content_Types].xml", data: []byte(contentTypes)}, {name: "_rels/.rels", data: []byte(topRels)}}
		for i, p := range book {
			state := ""
			if p.state != "" {
				state = ` state="` + p.state + `"`
			}
			names += fmt.Sprintf(`<sheet name="%s" sheetId="%d"%s r:id="r%d"/>`, p.name, i+1, state, i)
			rels += fmt.Sprintf(`<Relationship Id="r%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/s%d.xml"/>`, i, i)
			parts = append(parts, zipPart{name: fmt.Sprintf("xl/worksheets/s%d.xml", i), data: []byte(sheetOpen + "<sheetData>" + p.rows + "</sheetData></worksheet>")})
		}
		at := strings.Index(bookXML, "<sheets>")
		parts = append(parts, zipPart{name: "xl/workbook.xml", data: []byte(bookXML[:at] + "<sheets>" + names + "</sheets></workbook>")})
		at = strings.Index(bookRels, "<Relationship Id")
		parts = append(parts, zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels[:at] + rels + "</Relationships>")})
		p, err := Inspect(zipOf(parts...), "x.xlsx")
		if err != nil {
			t.Errorf("%v: %v", book, err)
			continue
		}
		for i, w := range book {
			got := p.Sheets[i]
			if got.Name != w.name || got.Kind != w.kind || !strings.Contains(got.Why, w.why) || got.Hidden != (w.state != "") {
				t.Errorf("%s: %q, %q, hidden %v; want %q, %q", w.name, got.Kind, got.Why, got.Hidden, w.kind, w.why)
			}
			if hidden := notice(p, w.name, 0, "", "the sheet is hidden in the workbook; it is read"); (hidden != nil) != (w.state != "" && w.kind != "") {
				t.Errorf("%s: %v", w.name, hidden)
			}
			if n := notice(p, w.name, 0, "", "nothing of it is read"); (n != nil) != (w.why == "taken for that") || n != nil && (n.Severity != "error" || n.Hint == "" || n.Col != -1) {
				t.Errorf("%s: %+v", w.name, n)
			}
		}
	}
	for name, want := range map[string]job.SheetKind{" machines ": job.MachinesSheet, "JOB": job.SettingsSheet, "Record": job.RecordSheet} {
		if k, ok := kindOf(name); !ok || k != want {
			t.Errorf("%s: %v %v", name, k, ok)
		}
	}
	if _, ok := kindOf("settings"); ok {
		t.Error("settings")
	}
}

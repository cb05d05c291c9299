package workbook

import (
	"archive/zip"
	"bytes"
	"fmt"
	"strings"
	"testing"
)

// The limits of a file, each on both sides: what is at the limit is looked into (and found to be damaged, where its size is a lie), what is beyond is refused by its size, with the number.
func TestFilesAtTheLimits(t *testing.T) {
	list := sheetOf(plainRows(2))
	if err := refuseByContent(append([]byte("PK\x03\x04"), make([]byte, MaxFile-4)...)); err != nil {
		t.Error(err)
	}
	if err := refuseByContent(append([]byte("PK\x03\x04"), make([]byte, MaxFile-3)...)); err == nil || !strings.Contains(err.Error(), "1 more than 48 MB") {
		t.Error(err)
	}
	if _, _, err := Read(append([]byte("Machine,Speed\nP 1,1480\n"), bytes.Repeat([]byte(" "), MaxFile)...), "x.csv", nil); err == nil || !strings.Contains(err.Error(), "files up to 48 MB") {
		t.Error(err)
	}
	const base = 5 // parts that bookOf makes
	extra := func(n int) (list []zipPart) {
		for i := range n {
			list = append(list, zipPart{name: fmt.Sprintf("xl/media/%d.bin", i), store: true})
		}
		return list
	}
	lie := func(size uint64) func(*zip.FileHeader) {
		return func(h *zip.FileHeader) { h.UncompressedSize64 = size }
	}
	others := uint64(len(contentTypes) + len(topRels) + len(bookXML) + len(bookRels) + len(list))
	for _, c := range []struct {
		what    string
		parts   []zipPart
		refused string
	}{
		{"plain", nil, ""},
		{"a directory", []zipPart{{name: "xl/media/", store: true}}, ""},
		{"as many parts as are read", extra(MaxParts - base), ""},
		{"one part more", extra(MaxParts - base + 1), fmt.Sprintf("the file has %d parts; up to %d are read", MaxParts+1, MaxParts)},
		{"a name as long as may be", []zipPart{{name: strings.Repeat("x", 255), store: true}}, ""},
		{"a longer name", []zipPart{{name: strings.Repeat("x", 256), store: true}}, "improper name"},
		{"a name upwards", []zipPart{{name: "xl/../x", store: true}}, "improper name"},
		{"a name of no text", []zipPart{{name: "xl/media/\xff", store: true}}, ""},
		{"a name again", []zipPart{{name: "XL\\Workbook.xml", store: true}}, "twice"},
		{"a part as large as is read", []zipPart{{name: "x.bin", data: []byte("x"), lie: lie(MaxPart)}}, "part x.bin of the workbook is damaged"},
		{"a larger part", []zipPart{{name: "x.bin", data: []byte("x"), lie: lie(MaxPart + 1)}}, "part x.bin unpacks to 96 MB; up to 96 MB are read"},
		{"as much as is read", []zipPart{{name: "a.bin", data: []byte("x"), lie: lie(MaxPart)}, {name: "b.bin", data: []byte("x"), lie: lie(MaxUnzipped - MaxPart - others)}}, "a.bin of the workbook is damaged"},
		{"a byte more", []zipPart{{name: "a.bin", data: []byte("x"), lie: lie(MaxPart)}, {name: "b.bin", data: []byte("x"), lie: lie(MaxUnzipped - MaxPart - others + 1)}}, "the file unpacks to more than 160 MB"},
		{"a part that is longer", []zipPart{{name: "x.bin", data: []byte("xy"), lie: lie(1)}}, "damaged"},
		{"a checksum of nothing", []zipPart{{name: "x.bin", data: []byte("xy"), lie: func(h *zip.FileHeader) { h.CRC32 = 0 }}}, "x.bin of the workbook is damaged (its checksum is wrong)"},
		{"an empty part", []zipPart{{name: "x.bin"}}, ""},
		{"packed otherwise", []zipPart{{name: "x.bin", data: []byte("xy"), lie: func(h *zip.FileHeader) { h.Method = 12 }}}, "part x.bin is packed in a way that is not read"},
		{"locked", []zipPart{{name: "x.bin", data: []byte("xy"), lie: func(h *zip.FileHeader) { h.Flags |= 1 }}}, "part x.bin is encrypted"},
	} {
		j, _, err := Read(bookOf(list, c.parts...), "x.xlsx", nil)
		if c.refused == "" && (err != nil || len(j.Machines.Rows) != 2) || c.refused != "" && (err == nil || !strings.Contains(err.Error(), c.refused)) {
			t.Errorf("%s: %v, want %q", c.what, err, c.refused)
		}
	}
	for data, want := range map[string]string{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("x", 1000): "old .xls", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + strings.Repeat("x", 60_000) + "E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00": "protected by a password",
		strings.Repeat("\t", 100) + "<html>": "web page", "\xef\xbb\xbf\n<?XML": "XML text", "%pdf": "PDF", "": "the file is empty"} {
		if err := refuseByContent([]byte(data)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.20q: %v, want %q", data, err, want)
		}
	}
}

// What the workbook part lists: worksheets are read, sheets of charts, dialogs and macros are named and not read, whatever their targets look like; a sheet that is hidden is said to be; dates count from 1904 where it says so; of the
// names that are defined those of the whole workbook count.
func TestWhatAWorkbookLists(t *testing.T) {
	const kinds = "http://schemas.openxmlformats.org/officeDocument/2006/relationships/"
	make := func(pr, sheets, rels, names string) []byte {
		return zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(strings.Replace(topRels, "xl/workbook.xml", "/book/main.xml", 1))},
			zipPart{name: "book/main.xml", data: []byte(bookXML[:strings.Index(bookXML, "<sheets>")] + pr + "<sheets>" + sheets + "</sheets>" + names + "</workbook>")},
			zipPart{name: "book/_rels/main.xml.rels", data: []byte(bookRels[:strings.Index(bookRels, "<Relationship Id")] + rels + "</Relationships>")},
			zipPart{name: "book/sheets/a.xml", data: []byte(sheetOf(plainRows(2)))}, zipPart{name: "c.xml", data: []byte("<chartsheet/>")})
	}
	rel := func(id, kind, target string) string {
		return `<Relationship Id="` + id + `" Type="` + kinds + kind + `" Target="` + target + `"/>`
	}
	open := func(data []byte) (*workbookPart, error) {
		a, err := new(Reader).openArchive(data)
		if err != nil {
			return nil, err
		}
		return a.workbook()
	}
	for _, kind := range []string{"chartsheet", "dialogsheet", "xlMacrosheet"} {
		w, err := open(make("", `<sheet name="One" sheetId="1" r:id="a"/><sheet name="Two" sheetId="2" r:id="b"/>`, rel("a", "worksheet", "sheets/a.xml")+rel("b", kind, "/c.xml"), ""))
		if err != nil || len(w.sheets) != 2 || w.sheets[0].part != "book/sheets/a.xml" || w.sheets[1].part != "" || w.path != "book/main.xml" || w.macros {
			t.Errorf("%s: %+v %v", kind, w, err)
		}
	}
	for _, c := range []struct{ rels, refused string }{{"", `sheet "One" is missing`}, {rel("a", "worksheet", "sheets/b.xml"), `sheet "One" is missing`}, {rel("a", "worksheet", "/book/sheets/A.xml"), ""}, {rel("a", "pivot", "sheets/a.xml"), `sheet "One" is missing`}, {rel("b", "worksheet", "sheets/a.xml"), `sheet "One" is missing`}} {
		if _, err := open(make("", `<sheet name="One" sheetId="1" r:id="a"/>`, c.rels, "")); (err == nil) != (c.refused == "") || err != nil && !strings.Contains(err.Error(), c.refused) {
			t.Errorf("%s: %v, want %q", c.rels, err, c.refused)
		}
	}
	for state, hidden := range map[string]bool{"": false, ` state="visible"`: false, ` state="hidden"`: true, ` state="veryHidden"`: true} {
		w, err := open(make("", `<sheet name="One" sheetId="1"`+state+` r:id="a"/>`, rel("a", "worksheet", "sheets/a.xml")+rel("m", "vbaProject", "vba.bin"), ""))
		if err != nil || w.sheets[0].hidden != hidden || !w.macros {
			t.Errorf("%s: %+v %v", state, w, err)
		}
	}
	for pr, want := range map[string]bool{"": false, `<workbookPr date1904="1"/>`: true, `<workbookPr date1904="true"/>`: true, `<workbookPr date1904="0"/>`: false, `<workbookPr date1904="false"/>`: false} {
		w, err := open(make(pr, `<sheet name="One" sheetId="1" r:id="a"/>`, rel("a", "worksheet", "sheets/a.xml"), `<definedNames><definedName name="all"> One!$A$1 </definedName><definedName name="own" localSheetId="0">One!$A$2</definedName></definedNames>`))
		if err != nil || w.d1904 != want || len(w.names) != 1 || w.names["all"] != "One!$A$1" {
			t.Errorf("%s: %+v %v", pr, w, err)
		}
	}
	if _, err := open(make("", "", "", "")); err == nil || !strings.Contains(err.Error(), "no sheets") {
		t.Error(err)
	}
	other := bytes.ReplaceAll([]byte(bookXML), []byte("workbook"), []byte("notebook"))
	data := zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}, zipPart{name: "xl/workbook.xml", data: other}, zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels)})
	if _, err := open(data); err == nil || !strings.Contains(err.Error(), `xl/workbook.xml holds a "notebook"`) {
		t.Error(err)
	}
}

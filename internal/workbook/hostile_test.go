package workbook

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"flag"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"
)

var writeHostile = flag.Bool("write-hostile", false, "write testdata/hostile anew")

const hostileDir = "../../testdata/hostile"

// A zipPart is a part of a hostile archive. declared, if not nil, lies about size and checksum.
type zipPart struct {
	name  string
	data  []byte
	lie   func(*zip.FileHeader)
	store bool
}

// zipOf writes the parts; the same parts give the same bytes.
func zipOf(parts ...zipPart) []byte {
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, p := range parts {
		var packed bytes.Buffer
		h := &zip.FileHeader{Name: p.name, Method: zip.Deflate, CRC32: crc32.ChecksumIEEE(p.data), UncompressedSize64: uint64(len(p.data))}
		if p.store {
			h.Method = zip.Store
			packed.Write(p.data)
		} else {
			w, _ := flate.NewWriter(&packed, 6)
			w.Write(p.data)
			w.Close()
		}
		h.CompressedSize64 = uint64(packed.Len())
		if p.lie != nil {
			p.lie(h)
		}
		w, err := z.CreateRaw(h)
		if err != nil {
			panic(err)
		}
		w.Write(packed.Bytes())
	}
	z.Close()
	return buf.Bytes()
}

const (
	xmlHead      = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>` + "\n"
	contentTypes = xmlHead + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/></Types>`
	topRels      = xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	bookXML      = xmlHead + `<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Machines" sheetId="1" r:id="rId1"/></sheets></workbook>`
	bookRels     = xmlHead + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`
	sheetOpen    = xmlHead + `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main">`
	headerRow    = `<row r="1"><c r="A1" t="inlineStr"><is><t>Machine</t></is></c><c r="B1" t="inlineStr"><is><t>Speed</t></is></c><c r="C1" t="inlineStr"><is><t>Note</t></is></c></row>`
)

// book is a workbook of one sheet with that XML.
func bookOf(sheetXML string, more ...zipPart) []byte {
	return zipOf(append([]zipPart{{name: "[Content_Types].xml", data: []byte(contentTypes)}, {name: "_rels/.rels", data: []byte(topRels)}, {name: "xl/workbook.xml", data: []byte(bookXML)},
		{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels)}, {name: "xl/worksheets/sheet1.xml", data: []byte(sheetXML)}}, more...)...)
}

func sheetOf(rows string) string {
	return sheetOpen + `<sheetData>` + headerRow + rows + `</sheetData></worksheet>`
}

func plainRows(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, `<row r="%d"><c r="A%d" t="inlineStr"><is><t>pump %d</t></is></c><c r="B%d"><v>%d</v></c></row>`, i+2, i+2, i+1, i+2, 900+i)
	}
	return b.String()
}

// A hostileCase is a file and what becomes of it: want is a part of the refusal; "" means that it is read.
type hostileCase struct {
	name string
	data []byte
	want string
}

// renamed gives a part another name of that length: in the directory alone, or in its own header, too.
func renamed(data []byte, from, to string, directoryAlone bool) []byte {
	if !directoryAlone {
		return bytes.ReplaceAll(data, []byte(from), []byte(to))
	}
	out := bytes.Clone(data)
	copy(out[bytes.LastIndex(out, []byte(from)):], to)
	return out
}

// hostile are the small files, which are kept in testdata/hostile.
func hostile() []hostileCase {
	good := bookOf(sheetOf(plainRows(200)))
	flip := func(data []byte, part string) []byte { // one byte in the middle of a part's packed bytes
		out := bytes.Clone(data)
		z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			panic(err)
		}
		for _, f := range z.File {
			if f.Name == part {
				at, _ := f.DataOffset()
				out[at+int64(f.CompressedSize64/2)] ^= 0x10
			}
		}
		return out
	}
	ole := append([]byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"), make([]byte, 1016)...)
	protected := bytes.Clone(ole)
	for i, c := range []byte("EncryptedPackage") {
		protected[600+2*i] = c
	}
	encrypted := func(h *zip.FileHeader) { h.Flags |= 1 }
	row := func(cells string) string { return sheetOf(`<row r="2">` + cells + `</row>`) }
	lie := func(size uint64) func(*zip.FileHeader) {
		return func(h *zip.FileHeader) { h.UncompressedSize64 = size }
	}
	withSheet := func(p zipPart) []byte {
		p.name = "xl/worksheets/sheet1.xml"
		return zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}, zipPart{name: "xl/workbook.xml", data: []byte(bookXML)},
			zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels)}, p)
	}
	text := []byte(sheetOf(plainRows(200)))
	return []hostileCase{
		{"whole.xlsx", good, ""},
		{"empty.xlsx", []byte{}, "empty"},
		{"truncated.xlsx", good[:len(good)*3/5], "cut short"},
		{"prose.xlsx", []byte("a list that somebody renamed\n"), "no workbook"},
		{"webpage.xlsx", []byte("<html><body><table><tr><td>Machine</td></tr></table></body></html>"), "web page"},
		{"old.xls", ole, "old .xls"},
		{"protected.xlsx", protected, "password"},
		{"document.ods", zipOf(zipPart{name: "mimetype", data: []byte("application/vnd.oasis.opendocument.spreadsheet"), store: true}, zipPart{name: "content.xml", data: []byte("<x/>")}), "OpenDocument"},
		{"archive.xlsx", zipOf(zipPart{name: "photo.txt", data: []byte("no workbook")}), "[Content_Types].xml"},
		{"flipped-byte.xlsx", flip(good, "xl/worksheets/sheet1.xml"), "sheet1.xml of the workbook is damaged"},
		{"wrong-checksum.xlsx", withSheet(zipPart{data: text, lie: func(h *zip.FileHeader) { h.CRC32 ^= 1 }}), "checksum"},
		{"no-checksum.xlsx", withSheet(zipPart{data: text, lie: func(h *zip.FileHeader) { h.CRC32 = 0 }}), "damaged"},
		{"says-shorter.xlsx", withSheet(zipPart{data: text, lie: lie(1000)}), "damaged"},
		{"says-longer.xlsx", withSheet(zipPart{data: text, lie: lie(uint64(len(text)) + 1000)}), "damaged"},
		{"says-huge.xlsx", withSheet(zipPart{data: text, lie: lie(1 << 40)}), "unpacks to"},
		{"locked-part.xlsx", withSheet(zipPart{data: text, lie: encrypted}), "encrypted"},
		{"unknown-packing.xlsx", withSheet(zipPart{data: text, lie: func(h *zip.FileHeader) { h.Method = 12 }}), "packed in a way"},
		{"part-twice.xlsx", bookOf(sheetOf(plainRows(2)), zipPart{name: "xl/worksheets/Sheet1.xml", data: []byte(sheetOf(""))}), "twice"},
		{"escaping-name.xlsx", bookOf(sheetOf(plainRows(2)), zipPart{name: "../../etc/x", data: []byte("x")}), "improper name"},
		{"sheet-missing.xlsx", zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}, zipPart{name: "xl/workbook.xml", data: []byte(bookXML)}, zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels)}), "missing"},
		{"workbook-missing.xlsx", zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}), "no xl/workbook.xml"},
		{"xml-cut.xlsx", bookOf(sheetOf(plainRows(200))[:9000]), "ends too early"},
		{"tags-crossed.xlsx", bookOf(sheetOf(`<row r="2"><c r="A2"><v>1</c></v></row>`)), "closes what was not opened"},
		{"two-documents.xlsx", bookOf(sheetOf(plainRows(2)) + "<worksheet/>"), "second document"},
		{"entities.xlsx", bookOf(xmlHead + `<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;">]><worksheet><sheetData><row><c><v>&b;</v></c></row></sheetData></worksheet>`), "document type"},
		{"unknown-entity.xlsx", bookOf(row(`<c r="A2" t="inlineStr"><is><t>&boom;</t></is></c>`)), "is not known"},
		{"deep.xlsx", bookOf(sheetOpen + strings.Repeat("<x>", 5000) + strings.Repeat("</x>", 5000) + "</worksheet>"), "deep"},
		{"control-character.xlsx", bookOf(row("<c r=\"A2\" t=\"inlineStr\"><is><t>pump\x01</t></is></c>")), "control character"},
		{"control-reference.xlsx", bookOf(row(`<c r="A2" t="inlineStr"><is><t>pump&#1;</t></is></c>`)), "is not known"},
		{"not-utf8.xlsx", bookOf(row("<c r=\"A2\" t=\"inlineStr\"><is><t>pump\xff</t></is></c>")), "not UTF-8"},
		{"utf16-part.xlsx", bookOf("\xff\xfe<\x00"), "UTF-16"},
		{"other-encoding.xlsx", bookOf(strings.Replace(sheetOf(plainRows(2)), `encoding="UTF-8"`, `encoding="Shift_JIS"`, 1)), `it says that it is written in "Shift_JIS"`},
		{"long-cell.xlsx", bookOf(row(`<c r="A2" t="inlineStr"><is><t>` + strings.Repeat("x", 40_000) + `</t></is></c>`)), "A2 holds 40000 signs"},
		{"far-column.xlsx", bookOf(row(`<c r="XFD2"><v>1</v></c>`)), "cell XFD2 is filled"},
		{"far-row.xlsx", bookOf(sheetOf(`<row r="1048576"><c r="A1048576"><v>1</v></c></row>`)), "row 1048576 is filled"},
		{"past-the-last-column.xlsx", bookOf(row(`<c r="XFE2"><v>1</v></c>`)), "as its place"},
		{"range-backwards.xlsx", bookOf(sheetOpen + `<dimension ref="Z99:A1"/><sheetData>` + headerRow + `</sheetData></worksheet>`), "which is no range"},
		{"range-absurd.xlsx", bookOf(sheetOpen + `<dimension ref="A1:ZZZZ99999999"/><sheetData>` + headerRow + `</sheetData></worksheet>`), "which is no range"},
		{"range-whole-sheet.xlsx", bookOf(sheetOpen + `<dimension ref="A1:XFD1048576"/><sheetData>` + headerRow + plainRows(3) + `</sheetData></worksheet>`), ""},
		{"rows-backwards.xlsx", bookOf(sheetOf(`<row r="5"><c r="A5"><v>1</v></c></row><row r="4"><c r="A4"><v>1</v></c></row>`)), "stands behind row 5"},
		{"cell-of-another-row.xlsx", bookOf(row(`<c r="A7"><v>1</v></c>`)), "as its place"},
		{"cells-backwards.xlsx", bookOf(row(`<c r="B2"><v>1</v></c><c r="A2"><v>2</v></c>`)), "as its place"},
		{"no-such-text.xlsx", bookOf(row(`<c r="A2" t="s"><v>7</v></c>`)), "refers to text"},
		{"word-as-number.xlsx", bookOf(row(`<c r="B2"><v>Infinity</v></c>`)), "no number"},
		{"unknown-type.xlsx", bookOf(row(`<c r="B2" t="zz"><v>1</v></c>`)), "unknown type"},
		{"formula-cycle.xlsx", bookOf(row(`<c r="A2" t="inlineStr"><is><t>pump</t></is></c><c r="B2"><f>B2</f></c>`)), ""},
		{"name-flipped.xlsx", renamed(good, "xl/worksheets/sheet1.xml", "xl/worksheets/sheeu1.xml", true), "another name"},
		{"styles-renamed.xlsx", renamed(withFormats(sheetOf(plainRows(2)), "0.00"), "xl/styles.xml", "xl/stylet.xml", true), "another name"},
		{"styles-missing.xlsx", renamed(withFormats(sheetOf(plainRows(2)), "0.00"), "xl/styles.xml", "xl/stylet.xml", false), "the part xl/styles.xml, which the workbook names for its formats, is missing"},
		{"no-list.xlsx", bookOf(strings.ReplaceAll(sheetOf(""), "Machine", "Colour")), ""},
	}
}

// grown are the large ones, made when wanted.
func grown() []hostileCase {
	// A stream of one byte again and again packs a thousand to one.
	bomb := func(n int, lie func(*zip.FileHeader)) zipPart {
		return zipPart{name: "xl/media/x.xml", data: bytes.Repeat([]byte(" "), n), lie: lie}
	}
	fits := sheetOf(plainRows(3))
	spaces := sheetOpen + `<sheetData>` + headerRow + strings.Repeat(" ", 40<<20) + plainRows(3) + `</sheetData></worksheet>`
	var parts []zipPart
	for i := range 3000 {
		parts = append(parts, zipPart{name: fmt.Sprintf("xl/media/%d.bin", i), data: []byte("x")})
	}
	var wide, many strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&wide, `<row r="%d"><c r="ALL%d"><v>1</v></c></row>`, i+2, i+2)
	}
	for i := range MaxRows + 5 {
		fmt.Fprintf(&many, `<row r="%d"><c r="A%d"><v>1</v></c></row>`, i+2, i+2)
	}
	var strs strings.Builder
	strs.WriteString(`<sst>`)
	strs.WriteString("<si><t>" + strings.Repeat("long ", 8<<20) + "</t></si></sst>")
	nested := zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "xl/media/inner.zip", data: bookOf(fits, bomb(90<<20, nil))})
	return []hostileCase{
		{"bomb-150MB.xlsx", bookOf(fits, bomb(150<<20, nil)), "unpacks to"},
		{"bomb-that-lies.xlsx", bookOf(fits, bomb(120<<20, func(h *zip.FileHeader) { h.UncompressedSize64 = 1000 })), "damaged"},
		{"bombs-in-many-parts.xlsx", bookOf(fits, func() (p []zipPart) {
			for i := range 3 {
				b := bomb(80<<20, nil)
				b.name = fmt.Sprintf("xl/media/%d.bin", i)
				p = append(p, b)
			}
			return
		}()...), "unpacks to more than"},
		{"bomb-in-an-archive.xlsx", nested, "no xl/workbook.xml"},
		{"spaces-40MB.xlsx", bookOf(spaces), ""},
		{"parts-3000.xlsx", bookOf(fits, parts...), "parts"},
		{"wide-rows.xlsx", bookOf(sheetOf(wide.String())), "more than"},
		{"rows-past-the-limit.xlsx", bookOf(sheetOf(many.String())), "is filled"},
		{"file-60MB.xlsx", append([]byte("PK\x03\x04"), make([]byte, 60<<20)...), "MB; files up to"},
		{"text-of-40MB.xlsx", zipOf(zipPart{name: "[Content_Types].xml", data: []byte(contentTypes)}, zipPart{name: "_rels/.rels", data: []byte(topRels)}, zipPart{name: "xl/workbook.xml", data: []byte(bookXML)},
			zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(strings.Replace(bookRels, "</Relationships>", `<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`, 1))},
			zipPart{name: "xl/worksheets/sheet1.xml", data: []byte(fits)}, zipPart{name: "xl/sharedStrings.xml", data: []byte(strs.String())}), "a text of more than"},
	}
}

// peak runs f and returns the largest heap above that at the start.
func peak(f func()) uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	base, most := m.HeapAlloc, m.HeapAlloc
	stop, done := make(chan bool), make(chan bool)
	go func() {
		defer close(done)
		for {
			select {
			case <-stop:
				return
			case <-time.After(2 * time.Millisecond):
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.HeapAlloc)
			}
		}
	}()
	f()
	close(stop)
	<-done
	runtime.ReadMemStats(&m)
	return max(most, m.HeapAlloc) - base
}

// Every hostile file is refused with a sentence that says what it is, or read in full; none takes the program down, and none much memory.
// The log is the table of names, time, memory and message.
func TestHostile(t *testing.T) {
	small := hostile()
	keep := map[string]bool{"foreign.py": true, "openpyxl.xlsx": true, "libreoffice.xlsx": true, "date1904.xlsx": true}
	for _, c := range small {
		keep[c.name] = true
		path := filepath.Join(hostileDir, c.name)
		if *writeHostile {
			if err := os.WriteFile(path, c.data, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if got, err := os.ReadFile(path); err != nil || !bytes.Equal(got, c.data) {
			t.Errorf("%s is not what the test makes (run with -write-hostile): %v", path, err)
		}
	}
	there, err := os.ReadDir(hostileDir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range there {
		if !keep[e.Name()] {
			t.Errorf("%s: nothing makes it", e.Name())
		}
	}
	cases := append(small, grown()...)
	for i := range cases {
		c := &cases[i]
		var err error
		var p *Preview
		begin := time.Now()
		used := peak(func() { p, err = Inspect(c.data, c.name) })
		took := time.Since(begin)
		msg := "read"
		if err != nil {
			msg = err.Error()
		}
		t.Logf("| %s | %d kB | %d ms | %d MB | %s |", c.name, len(c.data)>>10, took.Milliseconds(), used>>20, clip(msg, 150))
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		if err != nil && (p != nil || strings.Contains(msg, "fault of the program") || strings.Contains(msg, "panic")) {
			t.Errorf("%s: not a refusal: %s", c.name, msg)
		}
		if used > 200<<20 {
			t.Errorf("%s took %d MB", c.name, used>>20)
		}
		c.data = nil
	}
}

// Of every byte of a workbook flipped, none is met with a list that is shorter than it was.
func TestFlippedBytes(t *testing.T) {
	data := bookOf(sheetOf(plainRows(60)))
	whole, _, err := Read(data, "x.xlsx", nil)
	if err != nil {
		t.Fatal(err)
	}
	refused := 0
	for i := range data {
		bad := bytes.Clone(data)
		bad[i] ^= 0x20
		j, _, err := Read(bad, "x.xlsx", nil)
		if err != nil {
			refused++
			continue
		}
		if len(j.Machines.Rows) != len(whole.Machines.Rows) || !slices.EqualFunc(j.Machines.Rows, whole.Machines.Rows, slices.Equal[[]string]) {
			t.Fatalf("byte %d flipped: %d rows for %d, and no word of it", i, len(j.Machines.Rows), len(whole.Machines.Rows))
		}
	}
	if refused < len(data)/2 {
		t.Errorf("%d of %d flips refused", refused, len(data))
	}
}

func FuzzRead(f *testing.F) {
	for _, c := range hostile() {
		if len(c.data) < 50_000 {
			f.Add(c.data, c.name)
		}
	}
	for _, n := range []string{"openpyxl.xlsx", "libreoffice.xlsx", "date1904.xlsx"} {
		data, err := os.ReadFile(filepath.Join(hostileDir, n))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data, n)
	}
	f.Add([]byte("Machine,Speed\nP1,1480\n"), "x.csv")
	f.Add([]byte("Machine,Speed\nP1,1480\n"), "\xff.csv") // a name that is no UTF-8: once it made a job that could not be written
	f.Add([]byte(sheetOf(plainRows(3))), "sheet")
	f.Fuzz(func(t *testing.T, data []byte, name string) {
		if name == "sheet" { // the XML alone: mutations of packed bytes seldom get so far
			data, name = bookOf(string(data)), "x.xlsx"
		}
		j, r, err := Read(data, name, nil)
		if err != nil {
			if strings.Contains(err.Error(), "fault of the program") {
				t.Fatal(err)
			}
			return
		}
		if j == nil || r == nil || j.Machines == nil {
			t.Fatal("neither job nor error")
		}
		if len(j.Machines.Rows) > 300 {
			return
		}
		// What was read can be worked on, and comes back the same.
		out, err := Write(j, work(t, j), Options{Live: true})
		if err != nil {
			if _, merr := j.MarshalJSON(); merr == nil && !strings.Contains(err.Error(), "signs") {
				t.Fatal(err)
			}
			return
		}
		back, _, err := Read(out, "x.xlsx", nil)
		if err != nil {
			t.Fatal(err)
		}
		sameJob(t, back, j)
	})
}

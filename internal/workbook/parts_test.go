package workbook

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// bookOfSheets is a workbook whose sheets have these names and rows, each row its texts parted by |.
func bookOfSheets(sheets ...[2]string) []byte {
	names, rels := "", ""
	parts := []zipPart{{name: "[Content_Types].xml", data: []byte(contentTypes)}, {name: "_rels/.rels", data: []byte(topRels)}}
	for i, s := range sheets {
		names += fmt.Sprintf(`<sheet name="%s" sheetId="%d" r:id="r%d"/>`, s[0], i+1, i)
		rels += fmt.Sprintf(`<Relationship Id="r%d" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/s%d.xml"/>`, i, i)
		rows := ""
		for line := range strings.Lines(s[1]) {
			rows += "<row>"
			for cell := range strings.SplitSeq(strings.TrimSuffix(line, "\n"), "|") {
				rows += `<c t="inlineStr"><is><t>` + cell + `</t></is></c>`
			}
			rows += "</row>"
		}
		parts = append(parts, zipPart{name: fmt.Sprintf("xl/worksheets/s%d.xml", i), data: []byte(sheetOpen + "<sheetData>" + rows + "</sheetData></worksheet>")})
	}
	parts = append(parts, zipPart{name: "xl/workbook.xml", data: []byte(bookXML[:strings.Index(bookXML, "<sheets>")] + "<sheets>" + names + "</sheets></workbook>")})
	return zipOf(append(parts, zipPart{name: "xl/_rels/workbook.xml.rels", data: []byte(bookRels[:strings.Index(bookRels, "<Relationship Id")] + rels + "</Relationships>")})...)
}

// In somebody's workbook a sheet with the name of one of ours is taken for it when it has its columns, or all of them but one with three known ones in all; by any name when it has them all and one more that marks it. Each column
// of docs/workbooks.md that tells one sheet from another is asked, alone.
func TestSheetsByTheirColumns(t *testing.T) {
	head := func(k job.SheetKind, keys ...string) string {
		var names []string
		for _, c := range job.Columns() {
			if (c.Sheet == k || k == job.RoundsSheet && c.Sheet == job.MachinesSheet && c.Key != "machine") && slices.Contains(keys, c.Key) {
				names = append(names, c.Name)
			}
		}
		if len(names) != len(keys) {
			t.Fatalf("%v has not all of %q", k, keys)
		}
		return strings.Join(names, "|") + "\n" + strings.Repeat("x|", len(names)-1) + "x\n"
	}
	asked := 0
	is := func(k job.SheetKind, name, rows, kind, why string) {
		t.Helper()
		p, err := Inspect(bookOfSheets([2]string{"Pumps", "Machine|Speed|Method\nP 1|1480|line\n"}, [2]string{name, rows}), "x.xlsx")
		if err != nil {
			t.Fatal(err)
		}
		if asked++; p.Sheets[1].Kind != kind || !strings.Contains(p.Sheets[1].Why, why) {
			t.Errorf("%q with %q: %q, %s; want %q, %s", name, rows, p.Sheets[1].Kind, p.Sheets[1].Why, kind, why)
		}
	}
	for k, m := range marks {
		kind := kindNames[k]
		is(k, k.String(), head(k, m.all...), kind, "by its name")
		is(k, " "+strings.ToUpper(k.String()), head(k, m.all...), kind, "by its name")
		for _, one := range m.any {
			if all := append(slices.Clone(m.all), one); !slices.Contains(m.all, one) {
				asked++
				if got, score := looksLike([][]string{strings.Split(strings.Split(head(k, all...), "\n")[0], "|"), {"x", "y", "z"}}); got != k || score < len(all)+3 {
					t.Errorf("%q: %v, %d", head(k, all...), got, score)
				}
			}
		}
		for i := range m.all { // without one of them
			rest := slices.Delete(slices.Clone(m.all), i, i+1)
			if _, ok := marksOf(k, map[string]bool{}); ok {
				t.Errorf("%v: nothing makes it", k)
			}
			seen := map[string]bool{}
			for _, key := range append(rest, m.any...) {
				seen[key] = true
			}
			if extra, ok := marksOf(k, seen); ok || extra != 0 {
				t.Errorf("%v without %s: %d", k, m.all[i], extra)
			}
			if len(rest) == 0 {
				continue
			}
			if few := append(slices.Clone(rest), m.any[:3-len(rest)]...); len(few) == 3 {
				is(k, k.String(), head(k, few...), kind, "by its name")
			}
		}
	}
	for _, c := range []struct{ name, rows, kind, why string }{
		{"Other", "Machine|Foot|Rise\nP 1|front 9|0.02\n", "feet", "by its headers"}, // Seen: it was read as growth
		{"Other", "Machine|Support|Growth V\nP 1|movable front|0.2\n", "growth", "by its headers"}, {"Other", "Coupling|Cold|Hot\nx|y|z\n", "", "no header row"},
		{"Limits", "Coupling|Notes on it|Who\nx|y|z\n", "", "no header row"}, {"Materials", "Material|Supplier|Order\nx|y|z\n", "", "no header row"}, {"Growth", "a|b\nc|d\n", "", "no header row"},
		{"Feet", "Machine|Owner\nx|y\n", "", ""}, {"Stock", "a|b\nc|d\n", "stock", "by its name"}, {"Readings", "a|b\nc|d\n", "readings", "by its name"}, {"Rounds", "Machine|Owner|Since\nx|y|z\n", "", ""},
	} {
		is(0, c.name, c.rows, c.kind, c.why)
	}
	if asked < 70 {
		t.Errorf("%d sheets were asked", asked)
	}
}

// A part that ends too early, wherever, is named in the refusal; of the plumbing each part that is read counts. Nothing is read of the file then. What the document says of itself is no plumbing: without it the file is somebody's.
func TestPartsCutShort(t *testing.T) {
	mine, ev := cellsJob(t, "metric")
	mine.ID, mine.Revision = "00112233445566778899aabbccddeeff", 3
	own, err := WriteInputs(mine, ev)
	if err != nil {
		t.Fatal(err)
	}
	texts := foreign(t, "libreoffice.xlsx")
	for _, c := range []struct {
		data []byte
		part string
	}{{own, "_rels/.rels"}, {own, "xl/workbook.xml"}, {own, "xl/_rels/workbook.xml.rels"}, {own, "xl/styles.xml"}, {own, "xl/worksheets/sheet2.xml"}, {own, "docProps/core.xml"}, {texts, "xl/sharedStrings.xml"}, {texts, "xl/worksheets/sheet1.xml"}} {
		whole := partsOf(t, c.data)
		for _, share := range []int{3, 9} {
			z, err := zip.NewReader(bytes.NewReader(c.data), int64(len(c.data)))
			if err != nil {
				t.Fatal(err)
			}
			var parts []zipPart
			found := false
			for _, f := range z.File {
				text := []byte(whole[f.Name])
				if f.Name == c.part {
					text, found = text[:len(text)*share/10], true
				}
				parts = append(parts, zipPart{name: f.Name, data: text})
			}
			if !found {
				t.Fatalf("no %s", c.part)
			}
			j, r, err := Read(zipOf(parts...), "x.xlsx", nil)
			if c.part == "docProps/core.xml" {
				if err != nil || r.Own || j.ID == mine.ID || len(j.Machines.Rows) == 0 {
					t.Errorf("%s cut at %d0 %%: %v, own %v", c.part, share, err, r != nil && r.Own)
				}
				continue
			}
			if err == nil || j != nil || !strings.Contains(err.Error(), c.part) || strings.Contains(err.Error(), "fault of the program") {
				t.Errorf("%s cut at %d0 %%: %v", c.part, share, err)
			}
		}
	}
}

// What goes wrong in code not ours is told as a fault of the program, with where it was; it is no panic, and no file without a word.
func TestFaultsAreTold(t *testing.T) {
	boom := func(float64) { panic("out of order") }
	data := bookOf(sheetOf(plainRows(3)))
	j, ev := cellsJob(t, "metric")
	told := map[string]error{}
	_, told["inspect"] = (&Reader{Progress: boom}).Inspect(data, "x.xlsx")
	_, _, told["read"] = (&Reader{Progress: boom}).Read(data, "x.xlsx", nil)
	_, told["write"] = Write(j, ev, Options{Progress: boom})
	own, err := Write(j, ev, Options{})
	if err != nil {
		t.Fatal(err)
	}
	back, _ := mustRead(t, own, "x.xlsx", nil)
	_, told["add"] = AddTo(own, back, work(t, back), Options{Progress: boom})
	for what, err := range told {
		if err == nil || !strings.Contains(err.Error(), "fault of the program, please report it with the file: out of order\n") || !strings.Contains(err.Error(), ".go:") {
			t.Errorf("%s: %v", what, err)
		} else if n := strings.Count(err.Error(), "\n"); n < 8 || n > 24 {
			t.Errorf("%s: %d lines", what, n)
		}
	}
	for n, want := range map[int]string{1: "a", 2: "a\nb", 3: "a\nb\nc", 4: "a\nb\nc"} {
		if got := firstLines("a\nb\nc", n); got != want {
			t.Errorf("%d lines: %q", n, got)
		}
	}
}

// Of a sheet with more than 2500 cells the State watches how many are filled and what the numbers add up to, over its rows and twenty more; of a smaller one each cell, and that nothing comes below. Counted here by hand.
func TestLargeTablesAreWatched(t *testing.T) {
	for _, rows := range []int{833, 834} { // of three columns
		j, _ := cellsJob(t, "metric")
		tab := &job.Table{Name: "Readings", FirstRow: 2, Header: []string{"Machine", "Angle", "Reading"}}
		filled, sum := 0, 0.0
		for i := range rows {
			row := []string{fmt.Sprintf("M %d", i), strconv.Itoa(i % 360), strconv.FormatFloat(float64(i%7)-2.5, 'f', -1, 64)}
			if i%5 == 0 {
				row = row[:2]
			}
			for _, s := range row {
				if s != "" {
					filled++
				}
			}
			sum += float64(i % 360)
			if i%5 != 0 {
				sum += float64(i%7) - 2.5
			}
			tab.Rows = append(tab.Rows, row)
		}
		j.Readings = tab
		ev := sentences.New(j)
		if err := ev.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		w := &writer{job: j, ev: ev, opts: &Options{}}
		l := &live{w: w}
		in := &inputSheet{p: &page{name: "Readings"}, t: tab, cols: w.columns(tab, job.ReadingsSheet), first: 2}
		got := l.watchTable(in, job.ReadingsSheet)
		if rows*3 <= 2500 {
			if want := fmt.Sprintf("SUMPRODUCT(LEN(Readings!A%d:C%d))=0", 2+rows, 2+rows+20); len(got) != filled+1 || got[filled] != want {
				t.Errorf("%d conditions for %d cells, the last %s, want %s", len(got), filled, got[len(got)-1], want)
			}
			continue
		}
		area := fmt.Sprintf("Readings!A2:C%d", 2+rows+20)
		if len(got) != 2 || got[0] != fmt.Sprintf("SUMPRODUCT(--(LEN(%s)>0))=%d", area, filled) {
			t.Fatalf("%q, want %d cells of %s", got, filled, area)
		}
		about, ok := strings.CutPrefix(got[1], "ABS(SUM("+area+")-")
		number, within, two := strings.Cut(about, ")<=")
		at, err1 := strconv.ParseFloat(strings.Trim(number, "()"), 64)
		tol, err2 := strconv.ParseFloat(strings.Trim(within, "()"), 64)
		if !ok || !two || err1 != nil || err2 != nil || math.Abs(at-sum) > 1e-9*sum || !(tol > 0 && tol < 0.001) {
			t.Errorf("%s; the numbers add up to %g", got[1], sum)
		}
	}
	one := &inputSheet{p: &page{name: "Limits"}, t: &job.Table{Rows: [][]string{{"a"}}}, cols: []inputColumn{{}}, first: 1} // of a sheet of one column the next is watched too
	j, ev := cellsJob(t, "metric")
	l := &live{w: &writer{job: j, ev: ev, opts: &Options{}}}
	if got := l.watchTable(one, job.LimitsSheet); len(got) != 2 || got[1] != "SUMPRODUCT(LEN(Limits!A2:B22))=0" {
		t.Errorf("%q", got)
	}
}

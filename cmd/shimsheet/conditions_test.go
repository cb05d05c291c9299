package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// What merge takes for the earlier state is a file that says of itself, under its checksum, that it is one: saved before the others, whole, a job or a page. The same files without a checksum, or as a
// page that is cut short, or as workbooks, are several states of which none is earlier.
func TestEarlierStateIsSealed(t *testing.T) {
	second := strings.Replace(good, "P 1,", "P 2,", 1)
	dir := in(t, map[string]string{"m.csv": header + good + second})
	at := func(name string) string { return filepath.Join(dir, name) }
	put := func(name, text string) {
		if err := os.WriteFile(at(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, s := range [][3]string{{"m.csv", "P 1", "a.json"}, {"a.json", "P 2", "b.json"}} {
		if status, _, errs := say("sign", at(s[0]), "-machine", s[1], "-by", "crew", "-o", at(s[2])); status != 0 {
			t.Fatal(errs)
		}
	}
	data, err := os.ReadFile(at("a.json"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	put("unsealed.json", text[:strings.LastIndex(text, `,"length":`)]+"}")
	put("page.html", "<!doctype html>"+jobOpen+text+jobClose+`<p id="part-end"></p></html>`)
	put("page.HTM", "<!doctype html>"+jobOpen+text+jobClose+`<p id="part-end"></p></html>`)
	put("cut.html", `<!doctype html><script id="part-manifest">{}</script>`+jobOpen+text+jobClose+"<p>")
	if status, _, errs := say("calc", at("a.json"), "-o", at("a.xlsx")); status != 0 {
		t.Fatal(errs)
	}
	for _, c := range []struct {
		file    string
		earlier bool
	}{{"a.json", true}, {"page.html", true}, {"page.HTM", true}, {"unsealed.json", false}, {"a.xlsx", false}, {"m.csv", false}} {
		status, out, errs := say("merge", at(c.file), at("b.json"), "-o", at("out.json"))
		if has := strings.Contains(out, "the earlier state is "+at(c.file)); has != c.earlier || status == 2 {
			t.Errorf("%s: %d, %q\n%s", c.file, status, errs, out)
		}
		if told := strings.Contains(errs, "it has no checksum"); told != (c.file == "unsealed.json") {
			t.Errorf("%s: %q", c.file, errs)
		}
	}
	if _, out, errs := say("merge", at("cut.html"), at("b.json"), "-o", at("out.json")); !strings.Contains(errs, "cut short") || strings.Contains(out, "the earlier state is") {
		t.Errorf("a page cut short: %q\n%s", errs, out)
	}
	// Of two files the second is not the earlier one, whatever the order they are named in.
	if _, out, _ := say("merge", at("b.json"), at("a.json"), "-o", at("out.json")); !strings.Contains(out, "the earlier state is "+at("a.json")) {
		t.Errorf("in another order:\n%s", out)
	}
}

// A workbook in which a number shows another unit than its header cannot be read whole: calc says which cell and gives the rest, merge refuses it.
func TestMergeRefusesWhatIsNotRead(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good})
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, c := range []struct {
		file, format string
		whole        bool
	}{{"plain.xlsx", `0.00`, true}, {"mixed.xlsx", `0.00" mil"`, false}} {
		f := excelize.NewFile()
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &c.format})
		if err != nil {
			t.Fatal(err)
		}
		for k, name := range []string{"Machine", "Method", "Given offset V [mm]", "Given offset H [mm]", "Given slope V", "Given slope H", "Speed"} {
			cell, _ := excelize.CoordinatesToCellName(k+1, 1)
			f.SetCellValue("Sheet1", cell, name)
			cell, _ = excelize.CoordinatesToCellName(k+1, 2)
			f.SetCellValue("Sheet1", cell, []any{"P 7", "line", 0.1, 0, 0, 0, 1480}[k])
		}
		f.SetCellStyle("Sheet1", "C2", "C2", style)
		if err := f.SaveAs(at(c.file)); err != nil {
			t.Fatal(err)
		}
		status, out, errs := say("merge", at("m.csv"), at(c.file), "-o", at("both.json"))
		refused := status == 2 && strings.Contains(errs, c.file+": not all of it could be read; it is not merged") && out == ""
		if refused == c.whole {
			t.Errorf("%s: %d, %q\n%s", c.file, status, errs, out)
		}
		if _, err := os.Stat(at("both.json")); (err == nil) != c.whole {
			t.Errorf("%s: written %v", c.file, err)
		}
		os.Remove(at("both.json"))
		if status, _, errs := say("calc", at(c.file)); (status == 0) != c.whole && status != 1 || strings.Contains(errs, "number format shows") == c.whole {
			t.Errorf("calc %s: %d, %q", c.file, status, errs)
		}
	}
}

// Every command with arguments that cannot be, beside the same with arguments that can: the status, what standard error says, and nothing on standard output.
func TestArgumentsOfEachCommand(t *testing.T) {
	const row = `{"Machine":"P 1","Method":"line","Speed":1480,"Given offset V":0.1,"Given offset H":0,"Given slope V":0,"Given slope H":0,"Coupling to front feet":300,"Front to rear feet":500}` + "\n"
	dir := in(t, map[string]string{"m.csv": header + good, "list.TXT": header + good, "list.TSV": strings.ReplaceAll(header+good, ",", "\t"), "in.ndjson": row, "IN.JSONL": row, "old.xls": "no workbook", "old.ods": "no workbook", "semi.csv": strings.ReplaceAll(header+good, ",", ";"),
		"trailing.csv": header + good + "\n\n", "empty.csv": "", "only.csv": header, "notes.csv": header + good + bad})
	at := func(name string) string { return filepath.Join(dir, name) }
	if status, _, errs := say("sign", at("m.csv"), "-machine", "p 1", "-by", "crew 1", "-role", "aligner", "-note", "in order", "-at", "2026-04-12 16:40", "-o", at("s.json")); status != 0 {
		t.Fatal(errs)
	}
	for _, c := range []struct {
		args   string
		status int
		errs   string
		out    string
	}{
		{"calc list.TXT", 0, "", "P 1"}, {"calc list.TSV", 0, "", "P 1"}, {"calc semi.csv", 0, "", "P 1"}, {"calc trailing.csv", 0, "", "P 1"},
		{"calc old.xls", 2, "old.xls", ""}, {"calc old.ods", 2, "old.ods", ""}, {"calc m.csv -job absent.csv", 2, "absent.csv: there is no such file", ""},
		{"calc m.csv -list history", 2, "-list history wants the older jobs: -history FILE", ""}, {"calc m.csv -history absent.csv", 2, "absent.csv: there is no such file", ""},
		{"calc m.csv -history m.csv -list history", 0, "", "P 1"}, {"calc m.csv -history m.pdf", 2, "m.pdf: read are", ""},
		{"calc m.csv -live", 2, "-live and -addto are for workbooks", ""}, {"calc m.csv -o x.json -live", 2, "formulas (-live) stand in workbooks only", ""}, {"calc m.csv -o x.XLSX", 0, "", ""},
		{"calc m.csv -o x.xlsx -addto", 2, "-addto wants two workbooks", ""}, {"calc x.XLSX -o y.xlsx -addto", 0, "", ""}, {"calc x.XLSX -o y.xlsm -addto", 2, "-addto wants two workbooks of one kind", ""}, {"calc x.XLSX -o y.csv -addto", 2, "-addto wants two workbooks", ""},
		{"calc in.ndjson -readings absent.csv", 2, "absent.csv: there is no such file", ""}, {"calc in.ndjson -history m.csv", 2, "-history wants the whole job", ""}, {"calc IN.JSONL", 0, "", `"machine":"P 1"`},
		{"calc in.ndjson -o x.JSONL", 0, "", ""}, {"calc m.csv -from ndjson", 1, "lines that were not read: 2 of 2", "the line is no JSON"},
		{"calc m.csv m.csv", 2, "calc takes one file to read", ""}, {"calc only.csv", 2, "it holds no coupling", ""}, {"calc notes.csv", 1, "Coupling to movable plane: missing", "not judged"},
		{"verify", 2, "verify takes one file to read", ""}, {"verify s.json s.json", 2, "verify takes one file", ""}, {"verify absent.json", 2, "there is no such file", ""}, {"verify m.csv", 1, "", "m.csv: nobody has signed for anything"}, {"verify s.json", 0, "", "all 1 signatures hold"},
		{"verify s.json -nosuch", 2, "flag provided but not defined", ""},
		{"record", 2, "record takes one file, and -row N", ""}, {"record s.json", 2, "record takes one file, and -row N", ""}, {"record s.json -row 0", 2, "record takes one file, and -row N", ""}, {"record s.json -row -1", 2, "record takes one file, and -row N", ""},
		{"record s.json s.json -row 1", 2, "record takes one file", ""}, {"record absent.json -row 1", 2, "there is no such file", ""}, {"record s.json -row 1", 2, "nobody signs in row 1 of the Record sheet", ""}, {"record s.json -row 2", 0, "", "crew 1"},
		{"record s.json -row 3", 2, "nobody signs in row 3", ""}, {"record s.json -row two", 2, "invalid value", ""},
		{"sign", 2, "sign takes one file, -machine NAME", ""}, {"sign m.csv -by x -o y.json", 2, "sign takes one file, -machine NAME", ""}, {"sign m.csv -machine P -o y.json", 2, "sign takes one file", ""}, {"sign m.csv -machine P -by x", 2, "sign takes one file", ""},
		{"sign m.csv m.csv -machine P -by x -o y.json", 2, "sign takes one file", ""}, {"sign m.csv -machine nobody -by x -o y.json", 2, "m.csv: ", ""}, {"sign absent.csv -machine P -by x -o y.json", 2, "there is no such file", ""},
		{"merge m.csv -o y.json", 2, "merge takes two files or more", ""}, {"merge m.csv list.TXT", 2, "merge takes two files or more, and -o", ""}, {"merge m.csv list.TXT -prefer semi.csv -o y.json", 2, "it is not one of the files that are merged", ""}, {"merge m.csv only.csv -o y.json", 0, "", ""},
		{"merge m.csv absent.csv -o y.json", 2, "there is no such file", ""},
		{"stats", 2, "stats takes a job, and earlier ones behind it", ""}, {"stats m.csv -o x.pdf", 2, "written are .csv, .json and .svg", ""}, {"stats absent.csv", 2, "there is no such file", ""}, {"stats m.csv absent.csv", 2, "there is no such file", ""},
		{"stats m.csv", 0, "", "m.csv"}, {"stats m.csv -o n.SVG", 0, "", ""}, {"stats m.csv semi.csv -o n.json", 0, "", ""}, {"stats m.csv -o n.csv", 0, "", ""},
		{"cards", 2, "cards takes one file", ""}, {"cards m.csv", 2, "cards are written as .html", ""}, {"cards m.csv semi.csv -o c.html", 2, "cards takes one file", ""}, {"cards m.csv -o c.pdf", 2, "cards are written as .html", ""}, {"cards m.csv -o c.HTM", 0, "", ""},
		{"cards m.csv -o c.html -paper a3", 2, "-paper a3: the papers are a4 and letter", ""}, {"cards m.csv -o c.html -paper letter", 0, "", ""}, {"cards m.csv -o c.html -by machine", 2, "-by machine: cards are in order by area or by crew", ""}, {"cards m.csv -o c.html -by area", 0, "", ""}, {"cards m.csv -o c.html -by crew", 0, "", ""},
		{"cards m.csv -o c.html -machine nobody", 2, "m.csv: no machine to make a card of", ""}, {"cards absent.csv -o c.html", 2, "there is no such file", ""}, {"cards only.csv -o c.html", 2, "no machine to make a card of", ""},
		{"page m.csv", 2, "page takes no ", ""}, {"page -o c.TXT", 2, "the page is written as .html", ""}, {"page -o p.HTM", 0, "", ""}, {"page -job absent.csv -o p.html", 2, "there is no such file", ""}, {"page -nosuch", 2, "flag provided but not defined", ""},
		{"serve m.csv", 2, "serve takes no ", ""}, {"serve -nosuch", 2, "flag provided but not defined", ""}, {"calc", 2, "calc takes one file", ""}, {"nothing", 2, `there is no command "nothing"`, ""},
	} {
		args := strings.Fields(c.args)
		for i, a := range args {
			if i > 0 && strings.Contains(a, ".") && a[0] != '-' {
				args[i] = at(a)
			}
		}
		status, out, errs := say(args...)
		if status != c.status || !strings.Contains(errs, c.errs) || c.errs == "" && errs != "" || !strings.Contains(out, c.out) || status == 2 && (out != "" || strings.Count(errs, "\n") > 2) {
			t.Errorf("%s: %d, want %d, %q\n%.400s", c.args, status, c.status, errs, out)
		}
	}
	// What was written is what was asked.
	for name, begins := range map[string]string{"x.XLSX": "PK", "y.xlsx": "PK", "x.JSONL": `{`, "n.SVG": "<?xml", "n.json": "{", "c.HTM": "<!doctype html>", "c.html": "<!doctype html>", "p.HTM": "<!doctype html>"} {
		if data, err := os.ReadFile(at(name)); err != nil || !strings.HasPrefix(strings.ToLower(string(data)), strings.ToLower(begins)) {
			t.Errorf("%s: %v %.40q", name, err, data)
		}
	}
	var n struct {
		Jobs []struct {
			Job      string `json:"job"`
			Machines int    `json:"machines"`
		} `json:"jobs"`
	}
	if data, _ := os.ReadFile(at("n.json")); json.Unmarshal(data, &n) != nil || len(n.Jobs) != 2 || n.Jobs[0].Job != "m.csv" || n.Jobs[1].Job != "semi.csv" || n.Jobs[0].Machines != 1 {
		t.Errorf("%+v", n)
	}
	// What sign was told stands in the record.
	if data, _ := os.ReadFile(at("s.json")); !strings.Contains(string(data), `"aligner"`) || !strings.Contains(string(data), `"in order"`) || !strings.Contains(string(data), `"2026-04-12 16:40"`) || !strings.Contains(string(data), `"crew 1"`) {
		t.Errorf("%s", data)
	}
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"testing/fstest"

	"shimsheet/internal/job"
)

// Every edge of the command in one table: what is asked, the status, and what standard error says. Nothing is written where the status is 2, and no input is touched.
func TestEdges(t *testing.T) {
	page := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html>"+jobMarker+"<p>page</html>")}}
	const line = `{"Machine":"P 1","Method":"line","Speed":1480,"Given offset V":0.1,"Given offset H":0,"Given slope V":0,"Given slope H":0,"Coupling to front feet":300,"Front to rear feet":500}` + "\n"
	files := map[string]string{"good.csv": header + good, "some.csv": header + good + bad, "-dash.csv": header + good, "UPPER.CSV": header + good, "in.ndjson": line, "in.jsonl": line, "in.lines": line, "empty.ndjson": "",
		"readings.ndjson": "Machine,Sweep,Angle,Reading\n", "stock.csv": "Thickness\n0.25\n", "notutf.csv": header + strings.Replace(good, "P 1", "P \xff", 1)}
	for _, c := range []struct {
		args   []string
		status int
		errs   string // one line holds it; "" nothing is said
		out    string // part of standard output
	}{
		{[]string{"calc", "--", "-dash.csv"}, 0, "", "P 1"},
		{[]string{"calc", "-dash.csv"}, 2, "flag provided but not defined", ""},
		{[]string{"calc", "UPPER.CSV"}, 0, "", "P 1"},
		{[]string{"calc", "good.csv", "-stock", "stock.csv", "-list", "pick"}, 0, "", "front"},
		{[]string{"calc", "good.csv", "-stock", "stock.csv", "-list", "order"}, 0, "", "0.25"},
		{[]string{"calc", "good.csv", "-list", "feet"}, 0, "", ""},
		{[]string{"calc", "good.csv", "-list", "moves"}, 0, "", ""},
		{[]string{"calc", "good.csv", "-list", "picks"}, 2, `there is no list "picks"`, ""},
		{[]string{"calc", "good.csv", "-list", "pick", "-o", "out.csv"}, 2, "-list is for the terminal", ""},
		{[]string{"calc", "good.csv", "-addto"}, 2, "-live and -addto are for workbooks", ""},
		{[]string{"calc", "dir.csv"}, 2, "dir.csv: it could not be read", ""},
		{[]string{"calc", "good.csv", "-stock", "dir.csv"}, 2, "dir.csv: it could not be read", ""},
		{[]string{"calc", "good.csv", "-o", "dir.csv"}, 2, "it is no ordinary file", ""},
		{[]string{"calc", "good.csv", "-o", ""}, 0, "", "P 1"},
		{[]string{"calc", "good.csv", "-o"}, 2, "flag needs an argument", ""},
		{[]string{"calc", "good.csv", "-o", "out.ndjson"}, 2, "streams only", ""},
		{[]string{"calc", "in.ndjson"}, 0, "", `"machine":"P 1"`},
		{[]string{"calc", "in.jsonl", "-o", "-"}, 0, "", `"machine":"P 1"`},
		{[]string{"calc", "in.lines", "-from", "ndjson"}, 0, "", `"machine":"P 1"`},
		{[]string{"calc", "in.lines"}, 2, "in.lines: read are", ""},
		{[]string{"calc", "in.ndjson", "-from", "csv"}, 2, "-from csv", ""},
		{[]string{"calc", "-"}, 2, "say what comes on standard input", ""},
		{[]string{"calc", "in.ndjson", "-o", "out.csv"}, 2, "a stream is written as .ndjson", ""},
		{[]string{"calc", "in.ndjson", "-o", "in.ndjson"}, 2, "it is read here too", ""},
		{[]string{"calc", "in.ndjson", "-o", "soft.ndjson"}, 2, "it is read here too", ""},
		{[]string{"calc", "in.ndjson", "-readings", "readings.ndjson", "-o", "readings.ndjson"}, 2, "it is read here too", ""},
		{[]string{"calc", "in.ndjson", "-list", "pick"}, 2, "want the whole job", ""},
		{[]string{"calc", "in.ndjson", "-live"}, 2, "want the whole job", ""},
		{[]string{"calc", "in.ndjson", "-addto"}, 2, "want the whole job", ""},
		{[]string{"calc", "empty.ndjson"}, 2, "it holds no line", ""},
		{[]string{"calc", "absent.ndjson"}, 2, "there is no such file", ""},
		{[]string{"page", "-job", "dir.csv"}, 2, "it could not be read", ""},
		{[]string{"page", "-job", "good.csv"}, 0, "", jobOpen},
		{[]string{"page", "-o", "page.txt"}, 2, "the page is written as .html", ""},
		{[]string{"page", "-o", "nowhere/page.html"}, 2, "it could not be written", ""},
		{[]string{"page", "-job", "absent.csv", "-o", "page.html"}, 2, "there is no such file", ""},
		{[]string{"version", "-h"}, 0, "", "shimsheet "},
	} {
		dir := in(t, files)
		if err := os.Mkdir(filepath.Join(dir, "dir.csv"), 0o755); err != nil {
			t.Fatal(err)
		}
		if runtime.GOOS != "windows" && runtime.GOOS != "js" {
			if err := os.Symlink("in.ndjson", filepath.Join(dir, "soft.ndjson")); err != nil {
				t.Fatal(err)
			}
		} else if strings.Contains(strings.Join(c.args, " "), "soft.") {
			continue
		}
		args := append([]string{}, c.args...)
		for i, a := range args {
			if i > 0 && strings.Contains(a, ".") {
				args[i] = filepath.Join(dir, a)
			}
		}
		if c.args[len(c.args)-1] == "-dash.csv" { // the name itself begins with the dash
			t.Chdir(dir)
			args = c.args
		}
		var out, errs bytes.Buffer
		status := run(args, &out, &errs, page)
		if status != c.status || !strings.Contains(errs.String(), c.errs) || c.errs == "" && status == 0 && errs.Len() > 0 || !strings.Contains(out.String(), c.out) {
			t.Errorf("%q: status %d, want %d\nstandard error %q, want %q\nstandard output %.300q, want %q", c.args, status, c.status, errs.String(), c.errs, out.String(), c.out)
		}
		if status == 2 && out.Len() > 0 {
			t.Errorf("%q: %q on standard output", c.args, out.String())
		}
		left, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range left {
			want, ours := files[f.Name()]
			switch {
			case f.Name() == "dir.csv" || f.Name() == "soft.ndjson":
			case !ours:
				t.Errorf("%q: %s was left behind", c.args, f.Name())
			default:
				if got, _ := os.ReadFile(filepath.Join(dir, f.Name())); string(got) != want {
					t.Errorf("%q: %s was changed", c.args, f.Name())
				}
			}
		}
	}
}

// No command writes over a file it reads, by whichever of its flags it is read and by whatever name or link it goes: it says so, with status 2, and every file is as it was. Each
// command is asked with another output too, so that the refusal is what stopped it. The names of the flags are those of usage, not those of the code.
func TestNoOutputOverAnInput(t *testing.T) {
	lists := map[string]string{"job": "Setting,Value\nUnits,metric\n", "readings": "Machine,Sweep,Angle,Reading\n", "stock": "Thickness\n0.25\n", "growth": "Machine,Support,Height,Material,Running\n",
		"feet": "Machine,Foot,Gap\n", "limits": "Set,Coupling,Up to speed,Offset,Slope\n", "materials": "Material,Coefficient\n", "rounds": "Machine,Round\n", "checks": "Machine,Check,Value\n",
		"trains": "Train,Machine,May move\n", "record": "Machine,Role,Signed by\n"}
	page := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html>"+jobMarker+"<p>page</html>")}}
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	put := func(name, text string) string {
		if err := os.WriteFile(at(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return at(name)
	}
	call := func(args ...string) (int, string) {
		var out, errs bytes.Buffer
		status := run(args, &out, &errs, page)
		return status, errs.String()
	}
	m := put("m.csv", header+good)
	job := at("saved.json")
	if status, errs := call("sign", m, "-machine", "P 1", "-by", "crew 1", "-o", job); status != 0 {
		t.Fatal(errs)
	}
	sealed, err := os.ReadFile(job)
	if err != nil {
		t.Fatal(err)
	}
	other := put("other.json", string(sealed))
	for ext, written := range map[string]string{".xlsx": "out.xlsx", ".html": "out.html"} { // a workbook and a page to read
		args := []string{"calc", job, "-o", at(written)}
		if ext == ".html" {
			args = []string{"page", "-job", job, "-o", at(written)}
		}
		if status, errs := call(args...); status != 0 {
			t.Fatal(errs)
		}
		if err := os.Rename(at(written), at("in"+ext)); err != nil {
			t.Fatal(err)
		}
	}
	type ask struct {
		args []string // without -o
		in   string   // the file that -o names
	}
	var asks []ask
	for flag, text := range lists { // a file that is both a list and, by its ending, something to be written
		for _, c := range []struct{ cmd, ext string }{{"calc", ".csv"}, {"stats", ".csv"}, {"sign", ".json"}} {
			name := put(flag+c.ext, text)
			args := []string{c.cmd, m, "-" + flag, name}
			if c.cmd == "sign" {
				args = append(args, "-machine", "P 1", "-by", "crew 1")
			}
			asks = append(asks, ask{args, name})
		}
	}
	sign := []string{"-machine", "P 1", "-by", "crew 2"}
	asks = append(asks,
		ask{[]string{"calc", m}, m}, ask{[]string{"calc", job}, job}, ask{[]string{"calc", at("in.xlsx")}, at("in.xlsx")}, ask{[]string{"calc", at("in.xlsx"), "-addto"}, at("in.xlsx")},
		ask{[]string{"calc", m, "-history", job}, job}, ask{[]string{"calc", m, "-history", other, "-history", job}, job}, ask{[]string{"calc", m, "-history", other, "-history", job}, other},
		ask{[]string{"page", "-job", at("in.html")}, at("in.html")},
		ask{append([]string{"sign", job}, sign...), job}, ask{append([]string{"sign", at("in.xlsx")}, sign...), at("in.xlsx")},
		ask{[]string{"merge", job, other}, job}, ask{[]string{"merge", job, other}, other}, ask{[]string{"merge", job, at("in.xlsx")}, at("in.xlsx")},
		ask{[]string{"stats", m}, m}, ask{[]string{"stats", job, other}, job}, ask{[]string{"stats", job, other}, other},
		ask{[]string{"cards", at("in.html")}, at("in.html")})
	before := map[string]string{}
	look := func(what []string) {
		t.Helper()
		list, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range list {
			data, err := os.ReadFile(at(f.Name()))
			if err != nil {
				t.Fatal(err)
			}
			if old, ok := before[f.Name()]; what != nil && (!ok || old != string(data)) {
				t.Errorf("%q: %s was written", what, f.Name())
			}
			before[f.Name()] = string(data)
		}
	}
	links := map[string]func(from, to string) error{"link.": os.Symlink, "second.": os.Link}
	if runtime.GOOS == "windows" || runtime.GOOS == "js" {
		links = nil
	}
	for _, a := range asks {
		names := []string{a.in, dir + string(filepath.Separator) + "." + string(filepath.Separator) + filepath.Base(a.in)}
		for prefix, link := range links {
			name := at(prefix + filepath.Base(a.in))
			if _, err := os.Lstat(name); err != nil {
				if err := link(a.in, name); err != nil {
					t.Fatal(err)
				}
			}
			names = append(names, name)
		}
		look(nil)
		for _, name := range names {
			args := append(append([]string{}, a.args...), "-o", name)
			if status, errs := call(args...); status != 2 || !strings.Contains(errs, "it is read here too") {
				t.Errorf("%q: status %d, %q", args, status, errs)
			}
			look(args)
		}
		out := at("new" + filepath.Ext(a.in))
		args := append(append([]string{}, a.args...), "-o", out)
		if status, errs := call(args...); status == 2 && !(strings.Contains(strings.Join(a.args, " "), "record.") || strings.Contains(errs, "read are")) {
			t.Errorf("%q: status 2, %q", args, errs)
		}
		os.Remove(out)
	}
}

// Names that end a title, a script, a comment or an attribute go into a page and come out of it as they were, and none of them can be seen by whoever reads the page as HTML.
func TestPageNames(t *testing.T) {
	files := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html><title>Shimsheet</title>"+jobMarker+`<script id="part-manifest">{}</script><p>program<script id="part-end">"end"</script></html>`)}}
	names := []string{`</title><b>`, `"quoted" 'name'`, `</script><script>alert(1)</script>`, `<!-- x`, `-->`, `&lt;/script&gt;`, `a\u003cb`, "\u2028 and \u2029", `\`, `{"id":"job"}`, `</SCRIPT >`, jobClose, jobOpen}
	list := header
	for _, n := range names {
		list += strings.Replace(good, "P 1", `"`+strings.ReplaceAll(n, `"`, `""`)+`"`, 1)
	}
	dir := in(t, map[string]string{"list.csv": list, "job.csv": "Name,\"Spring </title> \"\"no. 2\"\"\"\n"})
	at := func(name string) string { return filepath.Join(dir, name) }
	call := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		status := run(args, &out, &errs, files)
		return status, out.String(), errs.String()
	}
	if status, _, errs := call("page", "-job", at("list.csv"), "-o", at("page.html")); status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	page, err := os.ReadFile(at("page.html"))
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(page), jobOpen)
	whole, rest, _ := strings.Cut(rest, jobClose)
	if strings.ContainsAny(whole, "<>") && strings.Contains(whole, "<") || strings.Count(strings.ToLower(string(page)), "</script") != 3 || !strings.HasPrefix(rest, `<script id="part-manifest">`) {
		t.Errorf("the job speaks HTML: %s", whole)
	}
	var j job.Job
	if ok, err := j.OpenChecked(whole); err != nil || !ok {
		t.Fatal(ok, err)
	}
	for i, n := range names {
		if got := j.Machines.Cell(i, 0); got != n {
			t.Errorf("%q comes back as %q", n, got)
		}
	}
	_, want, _ := call("calc", at("list.csv"))
	if status, out, errs := call("calc", at("page.html")); status != 0 || errs != "" || out != want {
		t.Errorf("%d %q\n%s\nwanted\n%s", status, errs, out, want)
	}
}

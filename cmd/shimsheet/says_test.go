package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// onePage is a page with a place for a job, packed.
func onePage() []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	io.WriteString(z, "<!doctype html>"+jobMarker)
	z.Close()
	return b.Bytes()
}

// say runs the command in this process.
func say(args ...string) (status int, out, errs string) {
	var o, e bytes.Buffer
	status = run(args, &o, &e, fstest.MapFS{pageFile: {Data: onePage()}})
	return status, o.String(), e.String()
}

// Whatever command reads a file, what is wrong with the file is told on standard error, with the file's name: the list itself and every file beside it, by the flags of usage.
func TestEveryReaderTells(t *testing.T) {
	broken := "\xff\n" // a byte that is no letter: read, and told
	dir := in(t, map[string]string{"m.csv": header + good, "broken.csv": header + good + broken, "beside.csv": "Machine\n" + broken, "m.tsv": strings.ReplaceAll(header+good, ",", "\t"), "some.csv": header + good + bad})
	at := func(name string) string { return filepath.Join(dir, name) }
	if status, _, errs := say("sign", at("m.csv"), "-machine", "P 1", "-by", "crew 1", "-o", at("signed.json")); status != 0 {
		t.Fatal(errs)
	}
	for _, c := range [][]string{{"calc"}, {"verify"}, {"stats"}, {"page", "-job"}, {"cards", "-o", at("cards.html")}, {"sign", "-machine", "P 1", "-by", "x", "-o", at("s.json")}} {
		args := append(append([]string{}, c...), at("broken.csv"))
		if c[0] == "page" {
			args = append(args, "-o", at("p.html"))
		}
		if _, _, errs := say(args...); !strings.Contains(errs, "broken.csv") {
			t.Errorf("%q says %q", args, errs)
		}
	}
	for _, flag := range []string{"job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"} {
		for _, c := range [][]string{{"calc", at("m.csv")}, {"verify", at("m.csv")}, {"stats", at("m.csv")}, {"record", at("signed.json"), "-row", "1"}, {"sign", at("m.csv"), "-machine", "P 1", "-by", "x", "-o", at("s.json")}} {
			args := append(append([]string{}, c...), "-"+flag, at("beside.csv"))
			if _, _, errs := say(args...); !strings.Contains(errs, "beside.csv") || strings.Contains(errs, "not defined") {
				t.Errorf("%q says %q", args, errs)
			}
			if args[len(args)-1] = at("absent.csv"); c[0] != "calc" {
				continue
			}
			if status, _, errs := say(args...); status != 2 || !strings.Contains(errs, "absent.csv: there is no such file") {
				t.Errorf("%q: %d, %q", args, status, errs)
			}
		}
	}
	for _, ext := range []string{".csv", ".tsv", ".json", ".html", ".xlsx", ".xlsm"} {
		if status, _, errs := say("calc", at("absent"+ext)); status != 2 || !strings.Contains(errs, "absent"+ext+": there is no such file") {
			t.Errorf("%s: %d, %q", ext, status, errs)
		}
	}
	// What cannot be judged is told by those who only look at the job, too.
	if _, _, errs := say("calc", at("some.csv")); !strings.Contains(errs, "some.csv") || !strings.Contains(errs, "row 3") {
		t.Errorf("calc says %q", errs)
	}
	_, plain, _ := say("calc", at("m.csv"))
	if status, out, errs := say("calc", at("m.tsv")); status != 0 || out != plain || errs != "" {
		t.Errorf("with tabs: %d, %q\n%s\nwith commas\n%s", status, errs, out, plain)
	}
	// A workbook that holds what is not read says so.
	if status, _, errs := say("calc", at("m.csv"), "-o", at("m.xlsx")); status != 0 || errs != "" {
		t.Fatal(errs)
	}
	if status, _, errs := say("calc", at("m.xlsx")); status != 0 || errs != "" {
		t.Errorf("a workbook of ours: %d, %q", status, errs)
	}
}

// What older jobs say stands behind the results and nowhere else: without them nothing is said of them, a list that is asked for is that list, and a file is that file.
func TestHistoryWhereItIsAsked(t *testing.T) {
	dir := in(t, map[string]string{"then.csv": header + good, "now.csv": header + strings.Replace(good, "1480", "1490", 1)})
	at := func(name string) string { return filepath.Join(dir, name) }
	_, plain, _ := say("calc", at("now.csv"))
	_, with, _ := say("calc", at("now.csv"), "-history", at("then.csv"))
	_, list, _ := say("calc", at("now.csv"), "-history", at("then.csv"), "-list", "history")
	if plain == "" || list == "" || with != plain+list {
		t.Errorf("results\n%s\nand history\n%s\nare together\n%s", plain, list, with)
	}
	for _, name := range []string{"pick", "order", "board"} {
		_, alone, _ := say("calc", at("now.csv"), "-list", name)
		if _, got, _ := say("calc", at("now.csv"), "-list", name, "-history", at("then.csv")); got != alone && name != "board" || strings.Contains(got, plain) {
			t.Errorf("the list %s with history\n%s\nalone\n%s", name, got, alone)
		}
	}
	for _, ext := range []string{".csv", ".json"} {
		if status, out, errs := say("calc", at("now.csv"), "-history", at("then.csv"), "-o", at("out"+ext)); status != 0 || out != "" || errs != "" {
			t.Errorf("%s: %d, %q, %q", ext, status, out, errs)
		}
		if data, err := os.ReadFile(at("out" + ext)); err != nil || strings.HasPrefix(string(data), plain[:20]) {
			t.Errorf("%s: %v %.80s", ext, err, data)
		}
	}
}

// Verify tells why a signature does not hold, in a line behind it, and says nothing behind one that holds.
func TestVerifySaysWhy(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good})
	at := func(name string) string { return filepath.Join(dir, name) }
	say("sign", at("m.csv"), "-machine", "P 1", "-by", "crew 1", "-at", "2026-04-12 16:40", "-o", at("a.json"))
	status, out, errs := say("verify", at("a.json"))
	if lines := strings.Split(strings.TrimSpace(out), "\n"); status != 0 || errs != "" || len(lines) != 2 || !strings.Contains(lines[0], "crew 1") || strings.HasPrefix(lines[1], " ") {
		t.Errorf("%d, %q\n%s", status, errs, out)
	}
	data, err := os.ReadFile(at("a.json"))
	if err != nil {
		t.Fatal(err)
	}
	i := strings.LastIndex(string(data), `,"length":`)
	changed := strings.Replace(string(data[:i])+"}", "1480", "1490", 1)
	if err := os.WriteFile(at("b.json"), []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, _ = say("verify", at("b.json"))
	if lines := strings.Split(strings.TrimSpace(out), "\n"); status != 1 || len(lines) != 3 || !strings.HasPrefix(lines[1], "    ") || strings.TrimSpace(lines[1]) == "" {
		t.Errorf("%d\n%s", status, out)
	}
}

// Usage and version: where they go, and that a version set by the build is the one told.
func TestUsageAndVersion(t *testing.T) {
	if status, out, errs := say(); status != 2 || out != "" || errs != usage() {
		t.Errorf("no command: %d, %.40q, %.40q", status, out, errs)
	}
	for _, args := range [][]string{{"help"}, {"-h"}, {"-help"}, {"--help"}, {"calc", "-h"}, {"merge", "-help"}} {
		if status, out, errs := say(args...); status != 0 || out != usage() || errs != "" {
			t.Errorf("%q: %d, %.40q, %.40q", args, status, out, errs)
		}
	}
	was := version
	defer func() { version = was }()
	for _, v := range []string{"", "v9.8.7"} {
		version = v
		for _, word := range []string{"version", "-version", "--version"} {
			status, out, errs := say(word)
			if f := strings.Fields(out); status != 0 || errs != "" || len(f) != 4 || f[0] != "shimsheet" || v != "" && f[1] != v+"," || f[1] == "," || strings.Contains(f[1], "9.8.7") != (v != "") {
				t.Errorf("%s of %q: %d, %q, %q", word, v, status, out, errs)
			}
		}
	}
	if status, out, errs := say("columns"); status != 0 || errs != "" || !strings.Contains(out, "Coupling to front feet") || strings.Contains(out, "| ---") {
		t.Errorf("columns: %d, %q, %.200s", status, errs, out)
	}
	if status, out, _ := say("columns", "-markdown"); status != 0 || !strings.Contains(out, "|") {
		t.Errorf("columns in markdown: %.200s", out)
	}
	if status, out, errs := say("columns", "x"); status != 2 || out != "" || !strings.Contains(errs, "columns takes no x") {
		t.Errorf("columns x: %d, %q, %q", status, out, errs)
	}
}

// The page is no text: a terminal gets a sentence in its place. The null device is a device of characters as a terminal is.
func TestPageToATerminal(t *testing.T) {
	page := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html>"+jobMarker)}}
	null, err := os.OpenFile(os.DevNull, os.O_WRONLY, 0)
	if err != nil {
		t.Skip(err)
	}
	defer null.Close()
	file, err := os.Create(filepath.Join(t.TempDir(), "out"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var errs bytes.Buffer
	if status := run([]string{"page"}, null, &errs, page); status != 2 || !strings.Contains(errs.String(), "no text for a terminal") {
		t.Errorf("%d, %q", status, errs.String())
	}
	if status := run([]string{"page"}, file, &errs, page); status != 0 {
		t.Error(status)
	}
	if st, err := file.Stat(); err != nil || st.Size() == 0 {
		t.Errorf("a file gets nothing: %v", err)
	}
}

// A stream tells how many lines were not read and how many rows were not judged, each only where there are such.
func TestStreamTellsWhatThereIs(t *testing.T) {
	row := func(more string) string {
		return `{"Machine":"P 1","Method":"line","Speed":1480,"Given offset V":0.1,"Given offset H":0,"Given slope V":0,"Given slope H":0,"Coupling to front feet":300,"Front to rear feet":500` + more + "}\n"
	}
	half := `{"Machine":"P 2","Method":"line","Speed":1480,"Given offset V":0.1}` + "\n"
	for _, c := range []struct {
		text            string
		refused, judged string // what is said, "" nothing
		status          int
	}{{row(""), "", "", 0}, {row("") + half, "", "rows not judged: 1 of 2", 1}, {row("") + "no json\n", "lines that were not read: 1 of 2", "", 1}, {"x\n" + half + "y\n", "lines that were not read: 2 of 3", "rows not judged: 1 of 1", 1}} {
		dir := in(t, map[string]string{"in.ndjson": c.text})
		status, _, errs := say("calc", filepath.Join(dir, "in.ndjson"))
		if status != c.status || strings.Contains(errs, "lines that were not read") != (c.refused != "") || !strings.Contains(errs, c.refused) || strings.Contains(errs, "rows not judged") != (c.judged != "") || !strings.Contains(errs, c.judged) {
			t.Errorf("%q: %d, %q", c.text, status, errs)
		}
	}
}

// A server for some milliseconds: it says where it is, warns when other machines can reach it and only then, logs as JSON when asked, and refuses limits below nothing.
func TestServeForAMoment(t *testing.T) {
	for _, c := range []struct {
		args []string
		warn bool
	}{{[]string{"-listen", "127.0.0.1:0"}, false}, {[]string{"-listen", "0.0.0.0:0"}, true}, {[]string{"-listen", ""}, true}, {[]string{"-listen", "127.0.0.1:0", "-logjson"}, false}} {
		status, out, errs := say(append([]string{"serve", "-for", "30ms"}, c.args...)...)
		if status != 0 || !strings.HasPrefix(out, "http://") || strings.Contains(errs, "other machines can reach") != c.warn || !strings.Contains(errs, "serving") || !strings.Contains(errs, "what is under way comes to its end") || !strings.Contains(errs, "ended") || strings.Contains(errs, "before everything was answered") {
			t.Errorf("%q: %d, %q, %q", c.args, status, out, errs)
		}
		for _, line := range strings.Split(strings.TrimSpace(errs), "\n") {
			var v map[string]any
			if isJSON := json.Unmarshal([]byte(line), &v) == nil; isJSON != (len(c.args) == 3) && !strings.HasPrefix(line, "shimsheet:") {
				t.Errorf("%q: %s", c.args, line)
			}
		}
	}
	for flag, unit := range map[string]string{"-jobs": "", "-streams": "", "-maxbody": "", "-maxrows": "", "-compute": "s", "-idle": "s"} {
		if status, out, errs := say("serve", "-for", "30ms", "-listen", "127.0.0.1:0", flag, "-1"+unit); status != 2 || out != "" || !strings.Contains(errs, flag+": a limit is above 0") {
			t.Errorf("%s -1%s: %d, %q, %q", flag, unit, status, out, errs)
		}
		if status, out, errs := say("serve", "-for", "1ms", "-listen", "127.0.0.1:0", flag, "7"+unit); status != 0 || !strings.HasPrefix(out, "http://") {
			t.Errorf("%s 7%s: %d, %q, %q", flag, unit, status, out, errs)
		}
	}
	if status, out, errs := say("serve", "-for", "30ms", "-listen", "no such place:x"); status != 2 || out != "" || !strings.Contains(errs, "-listen no such place:x") {
		t.Errorf("%d, %q, %q", status, out, errs)
	}
}

// The status that is counted is the first that was sent, by the writing of a body too; what comes later changes nothing (RFC 9110, 15: one final status a request).
func TestFirstStatusCounts(t *testing.T) {
	for _, c := range []struct {
		write func(rw http.ResponseWriter)
		want  int
	}{
		{func(rw http.ResponseWriter) {}, 200}, {func(rw http.ResponseWriter) { io.WriteString(rw, "x"); rw.WriteHeader(500) }, 200}, {func(rw http.ResponseWriter) { rw.WriteHeader(404); rw.WriteHeader(500) }, 404}, {func(rw http.ResponseWriter) { rw.WriteHeader(200); rw.WriteHeader(500) }, 200},
		{func(rw http.ResponseWriter) { rw.WriteHeader(103); rw.WriteHeader(503) }, 503}, {func(rw http.ResponseWriter) { rw.WriteHeader(201); io.WriteString(rw, "x") }, 201},
	} {
		w := newWatch(slog.New(slog.DiscardHandler), false)
		w.around(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) { c.write(rw) })).ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/x", nil))
		rec := httptest.NewRecorder()
		w.metrics().ServeHTTP(rec, httptest.NewRequest("GET", "/metrics", nil))
		if want := fmt.Sprintf(`shimsheet_http_requests_total{method="GET",route="other",status="%d"} 1`, c.want); !strings.Contains(rec.Body.String(), want+"\n") || strings.Count(rec.Body.String(), "shimsheet_http_requests_total{") != 1 {
			t.Errorf("not %s", want)
		}
	}
}

var errDisk = errors.New("no room on the disk")

// A file that cannot be written to its end is not there, and the old one of that name is as it was.
func TestHalfAFileIsNone(t *testing.T) {
	dir := in(t, map[string]string{"old.csv": "old"})
	for _, name := range []string{"old.csv", "new.csv"} {
		err := writeFile(filepath.Join(dir, name), func(w io.Writer) error {
			io.WriteString(w, "half of it")
			return errDisk
		})
		if !errors.Is(err, errDisk) || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
	list, err := os.ReadDir(dir)
	if data, err2 := os.ReadFile(filepath.Join(dir, "old.csv")); err != nil || err2 != nil || len(list) != 1 || string(data) != "old" {
		t.Errorf("%v, %q", list, data)
	}
}

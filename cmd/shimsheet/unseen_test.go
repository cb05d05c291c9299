//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
)

// turned is a list of machines turned on its side, a cell a comma.
const turned = "Parameter,P 7,P 8\nSpeed [rpm],1480,2960\nMovable rim 12 [mm],0,0\nMovable rim 3,0.1,0.2\nMovable rim 6,0.2,0.2\nMovable rim 9,0.1,0\nCoupling to front feet [mm],410,300\nFront to rear feet [mm],620,500\n"

// sheetOf writes a workbook of one sheet.
func sheetOf(t *testing.T, file, csv string) {
	t.Helper()
	f := excelize.NewFile()
	for r, line := range strings.Split(strings.TrimSpace(csv), "\n") {
		for c, text := range strings.Split(line, ",") {
			cell, err := excelize.CoordinatesToCellName(c+1, r+1)
			if err != nil {
				t.Fatal(err)
			}
			f.SetCellValue("Sheet1", cell, text)
		}
	}
	if err := f.SetSheetName("Sheet1", "Machines"); err != nil {
		t.Fatal(err)
	}
	if err := f.SaveAs(file); err != nil {
		t.Fatal(err)
	}
}

// A job goes into .json and .xlsx; another ending is refused before anything is read, told or written. Seen: merge said what it would put together, and then that it cannot be written.
func TestEndingIsRefusedFirst(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good + "\xff\n", "n.csv": header + strings.Replace(good, "P 1", "P 9", 1)})
	for _, name := range []string{"out.txt", "out.csv", "out", "out.json.bak"} {
		out := filepath.Join(dir, name)
		for _, args := range [][]string{{"merge", filepath.Join(dir, "m.csv"), filepath.Join(dir, "n.csv"), "-o", out}, {"sign", filepath.Join(dir, "m.csv"), "-machine", "P 1", "-by", "x", "-o", out}} {
			status, said, errs := say(args...)
			if status != 2 || said != "" || errs != "shimsheet: "+out+": a job is written as .json or .xlsx\n" {
				t.Errorf("%s -o %s: %d, %q, %q", args[0], name, status, said, errs)
			}
		}
	}
	for _, name := range []string{"out.JSON", "out.XLSX"} {
		if status, said, errs := say("merge", filepath.Join(dir, "m.csv"), filepath.Join(dir, "n.csv"), "-o", filepath.Join(dir, name)); status != 0 || said == "" || !strings.Contains(errs, "m.csv") {
			t.Errorf("%s: %d, %q, %q", name, status, said, errs)
		}
		if _, err := os.Stat(filepath.Join(dir, name)); err != nil {
			t.Error(err)
		}
	}
}

// A counted stock that cannot be shared out over the job is told with the packs, which are then those of a full box: cards come all the same. Seen: no card came for a stock of more thicknesses than are shared out.
func TestCardsOfAStockThatIsNotShared(t *testing.T) {
	var stock strings.Builder
	stock.WriteString("Thickness,Pieces on hand\n")
	for i := range 70 {
		fmt.Fprintf(&stock, "%d,2\n", i+1)
	}
	dir := in(t, map[string]string{"m.csv": header + good, "stock.csv": stock.String(), "job.csv": "Setting,Value\nPack pieces at most,1\n"})
	at := func(name string) string { return filepath.Join(dir, name) }
	if status, _, errs := say("sign", at("m.csv"), "-stock", at("stock.csv"), "-job", at("job.csv"), "-machine", "P 1", "-by", "crew 1", "-o", at("a.json")); status != 0 {
		t.Fatal(errs)
	}
	_, table, _ := say("calc", at("a.json"))
	if !strings.Contains(table, "the stock could not be shared out over the job") {
		t.Fatalf("the stock is shared out:\n%s", table)
	}
	status, _, errs := say("cards", at("a.json"), "-o", at("cards.html"))
	data, err := os.ReadFile(at("cards.html"))
	if status != 0 || errs != "" || err != nil || !strings.Contains(string(data), "Card of P 1") {
		t.Errorf("%d, %q, %v", status, errs, err)
	}
}

// What is odd about a file is told in the same lines by each command that reads it. Seen: page and cards left out that it is a warning.
func TestSameLinesFromEachReader(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": strings.Replace(header, "\n", ",Moveable rim clock 12,Remark\n", 1) + strings.Replace(good, "\n", ",1,\xff\n", 1)})
	at := func(name string) string { return filepath.Join(dir, name) }
	_, _, want := say("calc", at("m.csv"))
	if strings.Count(want, "\n") < 2 || strings.Count(want, ": warning: ") != strings.Count(want, "\n") {
		t.Fatalf("%q", want)
	}
	for _, args := range [][]string{{"page", "-job", at("m.csv"), "-o", at("p.html")}, {"cards", at("m.csv"), "-o", at("c.html")}, {"stats", at("m.csv")}, {"sign", at("m.csv"), "-machine", "P 1", "-by", "x", "-o", at("s.json")}} {
		if _, _, errs := say(args...); errs != want {
			t.Errorf("%s says\n%s\ncalc\n%s", args[0], errs, want)
		}
	}
}

// The ending .tsv says that tabs part the cells, whatever the text looks like: here a remark above the list names more columns, with commas between them, than the list has.
func TestEndingSaysTabs(t *testing.T) {
	tabs := strings.TrimSpace(header) + ",Area,Note\n" + strings.ReplaceAll(header+good, ",", "\t")
	dir := in(t, map[string]string{"m.tsv": tabs, "M.TSV": tabs, "m.csv": header + good, "guess.txt": tabs})
	_, want, _ := say("calc", filepath.Join(dir, "m.csv"))
	for _, name := range []string{"m.tsv", "M.TSV"} {
		if status, out, errs := say("calc", filepath.Join(dir, name)); status != 0 || out != want || errs != "" {
			t.Errorf("%s: %d, %q\n%s", name, status, errs, out)
		}
	}
	if status, _, _ := say("calc", filepath.Join(dir, "guess.txt")); status == 0 {
		t.Error("the remark is not taken for the header without the ending: this test shows nothing")
	}
}

// What a sheet of a workbook is not is told once, though it is seen by who reads the workbook and by who looks at its headers; nothing else that is wrong with it is left out for that.
func TestToldOnce(t *testing.T) {
	dir := in(t, map[string]string{"turned.csv": turned, "broken.csv": turned + "Remark,\xff,\n"})
	sheetOf(t, filepath.Join(dir, "turned.xlsx"), turned)
	for _, name := range []string{"turned.csv", "turned.xlsx", "broken.csv"} {
		_, _, errs := say("calc", filepath.Join(dir, name))
		if strings.Count(errs, "turned on its side") != 1 || strings.Contains(errs, "Windows-1252") != (name == "broken.csv") {
			t.Errorf("%s: %q", name, errs)
		}
	}
}

// Merged, a job no longer says where its parts were read from: names of somebody's directories are not passed on. What was typed is all there.
// The directory looked for is the one with the test's name: the 001 within it stood by chance in the job's id or its checksum, about one run in forty.
func TestMergedJobNamesNoFiles(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "n.csv": header + strings.Replace(good, "P 1", "P 9", 1)})
	out := filepath.Join(dir, "both.json")
	if status, _, errs := say("merge", filepath.Join(dir, "m.csv"), filepath.Join(dir, "n.csv"), "-o", out); status != 0 {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(out)
	if err != nil || bytes.Contains(data, []byte(`"file"`)) || bytes.Contains(data, []byte(filepath.Base(filepath.Dir(dir)))) || !bytes.Contains(data, []byte(`"P 1"`)) || !bytes.Contains(data, []byte(`"P 9"`)) {
		t.Errorf("%v\n%s", err, data)
	}
}

// A list without a coupling is not merged, and what is wrong with it is told as calc tells it.
func TestMergeSaysWhyNoCoupling(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "none.csv": "one,two\n1,2\n"})
	none := filepath.Join(dir, "none.csv")
	_, _, calc := say("calc", none)
	why, _, _ := strings.Cut(calc, "\n")
	status, out, errs := say("merge", filepath.Join(dir, "m.csv"), none, "-o", filepath.Join(dir, "x.json"))
	if status != 2 || out != "" || !strings.Contains(why, "no row with column names") || errs != why+"\nshimsheet: "+none+": it holds no coupling; it is not merged\n" {
		t.Errorf("%d, %q, %q; calc says %q", status, out, errs, why)
	}
}

// The results go behind the sheets of the workbook that was read; gone in the meantime, that is said.
func TestAddToWhatIsGone(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good})
	book := filepath.Join(dir, "m.xlsx")
	if status, _, errs := say("calc", filepath.Join(dir, "m.csv"), "-o", book); status != 0 {
		t.Fatal(errs)
	}
	c := calcCommand{src: sources{in: book}, out: filepath.Join(dir, "x.xlsx"), add: true}
	write, err := c.writer()
	if err != nil {
		t.Fatal(err)
	}
	e, _, err := c.evaluate()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(book); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := write(e, &b); err == nil || !strings.HasSuffix(err.Error(), "m.xlsx: there is no such file") || b.Len() > 0 {
		t.Errorf("%v, %d bytes", err, b.Len())
	}
}

// A job that cannot be written down goes into no page.
func TestPageOfNoJob(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows = []string{"Machine"}, [][]string{{"P\xff"}}
	if page, err := withJob([]byte("<!doctype html>"+jobMarker), j); err == nil || page != nil {
		t.Errorf("%v, %s", err, page)
	}
}

// Why a file could not be written is the system's reason, in its words, and the one that was met first.
func TestWhyItWasNotWritten(t *testing.T) {
	dir := in(t, map[string]string{"file": ""})
	for name, want := range map[string]error{filepath.Join(dir, "none", "x.json"): fs.ErrNotExist, filepath.Join(dir, "file", "x.json"): syscall.ENOTDIR} {
		called := false
		err := writeFile(name, func(io.Writer) error { called = true; return nil })
		if !errors.Is(err, want) || called {
			t.Errorf("%s: %v; written to: %v", name, err, called)
		}
	}
	// Whether it was written or not, nothing is under way after it: a signal then says no more that nothing was written.
	for _, err := range []error{nil, errors.New("no room")} {
		if got := writeFile(filepath.Join(dir, "x.json"), func(io.Writer) error { return err }); !errors.Is(got, err) || unfinished.f != nil {
			t.Errorf("%v: %v is under way", got, unfinished.f)
		}
	}
}

// What is counted of a kind of request is looked up once (three names of labels and a lock each otherwise), and each kind has its own.
func TestMetersAreLookedUpOnce(t *testing.T) {
	w := newWatch(slog.New(slog.DiscardHandler), false)
	a, b := labels{"/v1/jobs", "POST", 200}, labels{"/v1/jobs", "POST", 400}
	first, again, other := w.meters(a), w.meters(a), w.meters(b)
	if first != again || first == other || len(w.known) != 2 {
		t.Errorf("%d kinds", len(w.known))
	}
}

// A page, a limit of rows and one of bytes, and no metrics, of a server that was started with them.
func TestServeAsAsked(t *testing.T) {
	out, stdout := io.Pipe()
	done := make(chan int)
	var log bytes.Buffer
	text := "<!doctype html>" + strings.Repeat("the page, ", 500)
	go func() {
		done <- run([]string{"serve", "-listen", "127.0.0.1:0", "-for", "1m", "-maxrows", "1", "-maxbody", "500", "-nometrics", "-verbose", "-pprof"}, stdout, &log, fstest.MapFS{pageFile: {Data: gz(t, text)}})
		stdout.Close()
	}()
	var url string
	if _, err := fmt.Fscanln(out, &url); err != nil {
		t.Fatal(err)
	}
	url = strings.TrimSuffix(url, "/")
	post := func(body string) int {
		status, _ := fetch(t, "POST", url+"/v1/jobs", "application/json", body)
		return status
	}
	row := func(name string) map[string]string { return map[string]string{"Machine": name} }
	list := func(rows ...map[string]string) string {
		b, err := json.Marshal(rows)
		if err != nil {
			t.Fatal(err)
		}
		return string(b)
	}
	if one, two, long := post(list(row("P 1"))), post(list(row("P 1"), row("P 2"))), post(list(row(strings.Repeat("P", 500)))); one != 200 || two != http.StatusRequestEntityTooLarge || long != http.StatusRequestEntityTooLarge {
		t.Errorf("a row %d, two rows %d, a long row %d", one, two, long)
	}
	if status, _ := fetch(t, "GET", url+"/metrics", "", ""); status != 404 {
		t.Errorf("metrics: %d", status)
	}
	if status, _ := fetch(t, "GET", url+"/debug/pprof/cmdline", "", ""); status != 200 {
		t.Errorf("profiles: %d", status)
	}
	coding := ""
	for end := time.Now().Add(20 * time.Second); coding != "br" && time.Now().Before(end); time.Sleep(time.Millisecond) { // packed while the server is up already
		r, err := http.NewRequest("GET", url+"/", nil)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Accept-Encoding", "br, gzip")
		res, err := http.DefaultTransport.RoundTrip(r)
		if err != nil {
			t.Fatal(err)
		}
		res.Body.Close()
		coding = res.Header.Get("Content-Encoding")
	}
	if coding != "br" {
		t.Errorf("the page comes as %q", coding)
	}
	self, err := os.FindProcess(os.Getpid())
	if err != nil {
		t.Fatal(err)
	}
	if err := self.Signal(syscall.SIGTERM); err != nil { // which serve waits for
		t.Fatal(err)
	}
	if status := <-done; status != 0 || !strings.Contains(log.String(), "path=/ status=200") || strings.Contains(log.String(), "without the page") {
		t.Errorf("%d\n%s", status, &log)
	}
}

// Which certificates have run out today stands on the sheet of problems of every workbook. Seen: not in one that sign or merge wrote, where calc writes it.
func TestCertificatesInWrittenWorkbooks(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good + strings.Replace(good, "P 1", "P 9", 1), "r.csv": "Machine,Instrument,Certificate,Due\nP 9,dial 4,MR-1,2001-02-03\n", "n.csv": header + strings.Replace(good, "P 1", "P 5", 1)})
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, args := range [][]string{{"sign", at("m.csv"), "-record", at("r.csv"), "-machine", "P 1", "-by", "crew 1", "-o", at("a.json")}, {"sign", at("a.json"), "-machine", "P 1", "-by", "crew 2", "-o", at("sign.xlsx")},
		{"merge", at("a.json"), at("n.csv"), "-o", at("merge.xlsx")}, {"calc", at("a.json"), "-o", at("calc.xlsx")}} {
		if status, _, errs := say(args...); status != 0 {
			t.Fatal(errs)
		}
	}
	for _, name := range []string{"calc.xlsx", "sign.xlsx", "merge.xlsx"} {
		f, err := excelize.OpenFile(at(name))
		if err != nil {
			t.Fatal(err)
		}
		told := 0
		for _, s := range f.GetSheetList() {
			rows, err := f.GetRows(s)
			if err != nil {
				t.Fatal(err)
			}
			if s != "Record" && strings.Contains(fmt.Sprint(rows), "2001-02-03") {
				told++
			}
		}
		if f.Close(); told != 1 {
			t.Errorf("%s tells it on %d sheets", name, told)
		}
	}
}

// Numbers of one job are mm and of the other inch: merged they would stand among each other. That is refused, and what is refused is not told of nor written; in one system of units the same files are one job.
func TestMergeRefusesTwoMeanings(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "n.csv": header + strings.Replace(good, "P 1", "P 9", 1), "metric.csv": "Units,metric\n", "inch.csv": "Units,inch\n"})
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, c := range []struct {
		units  string
		status int
	}{{"metric", 0}, {"inch", 2}} {
		for list, units := range map[string]string{"m": "metric", "n": c.units} {
			if status, _, errs := say("sign", at(list+".csv"), "-job", at(units+".csv"), "-machine", "whole job", "-by", "x", "-o", at(list+".json")); status != 0 {
				t.Fatal(errs)
			}
		}
		status, out, errs := say("merge", at("m.json"), at("n.json"), "-prefer", at("m.json"), "-o", at("both.json"))
		if status != c.status || (out == "") != (status == 2) || strings.Contains(errs, "nits") != (status == 2) {
			t.Errorf("%s: %d, %q, %q", c.units, status, out, errs)
		}
		if _, err := os.Stat(at("both.json")); (err == nil) != (status == 0) {
			t.Errorf("%s: written: %v", c.units, err == nil)
		}
		os.Remove(at("both.json"))
	}
}

// Whoever merges lists that were not saved from one job is told that rows are matched by their names alone; jobs that were, are told nothing of it.
func TestMergeTellsHowRowsAreMatched(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "n.csv": header + good})
	at := func(name string) string { return filepath.Join(dir, name) }
	for _, name := range []string{"a.json", "b.json"} {
		from := map[string]string{"a.json": "m.csv", "b.json": "a.json"}[name]
		if status, _, errs := say("sign", at(from), "-machine", "whole job", "-by", name, "-o", at(name)); status != 0 {
			t.Fatal(errs)
		}
	}
	for _, c := range []struct {
		a, b string
		told int
	}{{"m.csv", "n.csv", 1}, {"a.json", "b.json", 0}, {"a.json", "n.csv", 1}} {
		status, out, errs := say("merge", at(c.a), at(c.b), "-o", at("out.json"))
		if status != 0 || strings.Count(out, "not saved from one job: rows are matched by their names alone.\n") != c.told {
			t.Errorf("%s and %s: %d, %q\n%s", c.a, c.b, status, errs, out)
		}
	}
}

// Verify holds every signature: of machines, of the whole job, and of a machine that is no longer in the list; rows of the Record sheet in which nobody signs are none.
func TestVerifyHoldsEverySignature(t *testing.T) {
	both := header + good + strings.Replace(good, "P 1", "P 9", 1)
	dir := in(t, map[string]string{"m.csv": both, "one.csv": header + good, "r.csv": "Machine,Instrument,Certificate,Due\nP 1,dial 4,MR-1,2099-11-30\n"})
	at := func(name string) string { return filepath.Join(dir, name) }
	from := []string{at("m.csv"), "-record", at("r.csv")}
	for k, machine := range []string{"P 1", "P 9", "whole job"} {
		to := at(fmt.Sprint(k, ".json"))
		if status, _, errs := say(append(append([]string{"sign"}, from...), "-machine", machine, "-by", "crew "+machine, "-o", to)...); status != 0 {
			t.Fatal(errs)
		}
		status, out, errs := say("verify", to)
		if lines := strings.Count(out, "\n"); status != 0 || lines != k+2 || !strings.HasSuffix(out, fmt.Sprintf("all %d signatures hold\n", k+1)) || !strings.Contains(out, machine+": signed: crew "+machine) {
			t.Errorf("%s: %d, %q\n%s", machine, status, errs, out)
		}
		from = []string{to}
	}
	j, _, err := (&sources{in: at("2.json")}).load()
	if err != nil {
		t.Fatal(err)
	}
	j.Machines.Rows = j.Machines.Rows[:1] // P 9 goes
	data, err := j.Seal()
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(at("less.json"), data, 0o600); err != nil {
		t.Fatal(err)
	}
	status, out, _ := say("verify", at("less.json"))
	if status != 1 || !strings.Contains(out, "crew P 9") || !strings.Contains(out, "P 1: signed: crew P 1") || !strings.Contains(out, "2 of 3 signatures do not hold, or cannot be checked\n") {
		t.Errorf("%d\n%s", status, out)
	}
}

// What is said of a saved job names the file that was read, not the list it was made of once, which may be gone. One that is too large is refused before it is read.
func TestSavedJobIsNamed(t *testing.T) {
	dir := in(t, map[string]string{"some.csv": header + good + bad, "feet.csv": "Machine,Foot,Gap\nnobody,front 9,0.1\n", "large.json": ""})
	at := func(name string) string { return filepath.Join(dir, name) }
	say("sign", at("some.csv"), "-feet", at("feet.csv"), "-machine", "whole job", "-by", "crew 1", "-o", at("saved.json"))
	status, _, errs := say("calc", at("saved.json"))
	lines := strings.Split(strings.TrimSpace(errs), "\n")
	for _, line := range lines {
		if !strings.HasPrefix(line, at("saved.json")+": ") {
			t.Errorf("%q", line)
		}
	}
	if status != 1 || len(lines) < 2 || !strings.Contains(errs, "Machines row 3") || !strings.Contains(errs, "Feet row 2") {
		t.Errorf("%d, %q", status, errs)
	}
	if err := os.Truncate(at("large.json"), maxSaved+1); err != nil { // a hole, which takes no room
		t.Skip(err)
	}
	if status, _, errs := say("calc", at("large.json")); status != 2 || !strings.Contains(errs, "large.json: it has 256 MB; saved jobs up to 256 MB are read") {
		t.Errorf("%d, %q", status, errs)
	}
}

// A workbook that sign writes has the packs of the stock shared out over the job, as one that calc writes: two machines want the one piece there is.
func TestWrittenWorkbookIsShared(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good + strings.Replace(good, "P 1", "P 2", 1), "stock.csv": "Thickness,Pieces on hand\n0.25,1\n", "feet.csv": "Machine,Foot,Pack in place\nP 1,front 9,0.5\nP 1,front 3,0.5\nP 1,rear 9,0.5\nP 1,rear 3,0.5\nP 2,front 9,0.5\nP 2,front 3,0.5\nP 2,rear 9,0.5\nP 2,rear 3,0.5\n"})
	at := func(name string) string { return filepath.Join(dir, name) }
	from := []string{at("m.csv"), "-stock", at("stock.csv"), "-feet", at("feet.csv")}
	for _, args := range [][]string{{"sign", "-machine", "P 1", "-by", "crew 1", "-o", at("sign.xlsx")}, {"calc", "-o", at("calc.xlsx")}} {
		if status, _, errs := say(append(args, from...)...); status == 2 {
			t.Fatal(errs)
		}
	}
	texts := map[string]string{}
	for _, name := range []string{"sign.xlsx", "calc.xlsx"} {
		f, err := excelize.OpenFile(at(name))
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range f.GetSheetList() {
			if strings.Contains(s, "ick") || strings.Contains(s, "esult") || strings.Contains(s, "rder") {
				rows, err := f.GetRows(s)
				if err != nil {
					t.Fatal(err)
				}
				texts[name] += s + fmt.Sprint(rows)
			}
		}
		f.Close()
	}
	for _, words := range []string{"the stock shared out over the whole job", "shared-out stock", "short of stock", "waits for its machine"} {
		if n := strings.Count(texts["calc.xlsx"], words); n == 0 || strings.Count(texts["sign.xlsx"], words) != n {
			t.Errorf("%q stands %d times in what calc writes, not as often in\n%s", words, n, texts["sign.xlsx"])
		}
	}
}

// What is odd about a file beside the list is told with the name of that file and its sheet.
func TestEachFileByItsName(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "stock.csv": "Thickness,Note\n0.25,\xff\n"})
	stock := filepath.Join(dir, "stock.csv")
	if _, _, errs := say("calc", filepath.Join(dir, "m.csv"), "-stock", stock); !strings.HasPrefix(errs, stock+": Stock: warning: the text is not UTF-8") {
		t.Errorf("%q", errs)
	}
}

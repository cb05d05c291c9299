//go:build !js

package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"log/slog"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"shimsheet/internal/httpapi"
	"shimsheet/internal/httpapi/exchange"
)

// A server is the built command, serving.
type server struct {
	url string
	cmd *exec.Cmd
	log *strings.Builder
}

// startServer starts the command on a free port of loopback; it ends with the test, and by itself after a minute.
func startServer(t *testing.T, args ...string) *server {
	t.Helper()
	s := &server{log: new(strings.Builder)}
	s.cmd = exec.Command(built, append([]string{"serve", "-listen", "127.0.0.1:0", "-for", "1m"}, args...)...)
	s.cmd.Stderr = s.log
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := s.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		s.cmd.Process.Kill()
		s.cmd.Wait()
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		s.cmd.Wait()
		t.Fatal(err, s.log)
	}
	s.url = strings.TrimSuffix(strings.TrimSpace(line), "/")
	return s
}

func fetch(t *testing.T, method, url, media, body string) (int, string) {
	t.Helper()
	r, err := http.NewRequest(method, url, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if media != "" {
		r.Header.Set("Content-Type", media)
	}
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatal(err)
	}
	return res.StatusCode, string(b)
}

// TestServe asks the built command, and ends it in the middle of a stream: what is under way comes to its end.
func TestServe(t *testing.T) {
	s := startServer(t, "-verbose")
	if status, body := fetch(t, "POST", s.url+"/v1/jobs", "application/json", "[{"+exchange.Row+"}]"); status != 200 || !strings.Contains(body, `"machine":"P-101"`) {
		t.Error(status, body)
	}
	if status, body := fetch(t, "GET", s.url+"/v1/row?"+exchange.Query+"&give=verdict", "", ""); status != 200 || body != "outside" {
		t.Error(status, body)
	}
	if status, _ := fetch(t, "GET", s.url+"//v1/health", "", ""); status != 404 {
		t.Error("two slashes", status)
	}
	if status, body := fetch(t, "GET", s.url+"/metrics", "", ""); status != 200 || !strings.Contains(body, `shimsheet_http_requests_total{method="POST",route="/v1/jobs",status="200"} 1`) ||
		!strings.Contains(body, `shimsheet_http_requests_total{method="GET",route="other",status="404"} 1`) || !strings.Contains(body, "go_goroutines") {
		t.Error(status, body)
	}
	if status, _ := fetch(t, "GET", s.url+"/debug/pprof/", "", ""); status != 404 {
		t.Error("profiles without the flag:", status)
	}
	in, out := io.Pipe()
	r, _ := http.NewRequest("POST", s.url+"/v1/jobs", in)
	r.Header.Set("Content-Type", "application/x-ndjson")
	go fmt.Fprintf(out, "{%s}\n", exchange.Row)
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(res.Body)
	if line, err := lines.ReadString('\n'); err != nil || !strings.Contains(line, `"line":1`) {
		t.Fatal(line, err)
	}
	s.cmd.Process.Signal(syscall.SIGTERM)
	for {
		c, err := net.DialTimeout("tcp", strings.TrimPrefix(s.url, "http://"), time.Second)
		if err != nil {
			break // nobody new is let in
		}
		c.Close()
		time.Sleep(10 * time.Millisecond)
	}
	fmt.Fprintf(out, "{%s}\n", exchange.Row)
	out.Close()
	if rest, err := io.ReadAll(lines); err != nil || !strings.Contains(string(rest), `"line":2`) {
		t.Error(err, string(rest))
	}
	if err := s.cmd.Wait(); err != nil {
		t.Error(err)
	}
	if log := s.log.String(); !strings.Contains(log, "msg=serving") || !strings.Contains(log, "msg=ended") || !strings.Contains(log, "path=/v1/row status=200") || strings.Contains(log, "P-101") {
		t.Error(log)
	}
}

// TestServeRefuses holds what it does not start with.
func TestServeRefuses(t *testing.T) {
	for _, args := range [][]string{{"serve", "x"}, {"serve", "-jobs", "-1"}, {"serve", "-listen", "nonsense"}, {"serve", "-nosuch"}} {
		if status, _, errs := pipe(t, t.TempDir(), "", args...); status != exitNothing || errs == "" {
			t.Error(args, status, errs)
		}
	}
}

// A request whose answer breaks off is logged as one.
func TestWatchSeesCuts(t *testing.T) {
	var log strings.Builder
	w := newWatch(slog.New(slog.NewTextHandler(&log, nil)), false)
	s := httptest.NewServer(w.around(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		rw.Write([]byte("half"))
		http.NewResponseController(rw).Flush()
		panic(http.ErrAbortHandler)
	})))
	res, err := http.Get(s.URL)
	if err == nil {
		_, err = io.ReadAll(res.Body)
	}
	s.Close()
	if err == nil || !strings.Contains(log.String(), "cut=true") {
		t.Error(err, log.String())
	}
}

// Profiles and metrics are there when they were asked for.
func TestProfilesBehindAFlag(t *testing.T) {
	log := slog.New(slog.NewTextHandler(io.Discard, nil))
	for _, on := range []bool{false, true} {
		s := httptest.NewServer(serving(httpapi.Config{}, log, false, false, on))
		status, _ := fetch(t, "GET", s.URL+"/debug/pprof/cmdline", "", "")
		if want := map[bool]int{false: 404, true: 200}[on]; status != want {
			t.Error(on, status)
		}
		if status, _ := fetch(t, "GET", s.URL+"/metrics", "", ""); status != 404 {
			t.Error("metrics without being asked for:", status)
		}
		s.Close()
	}
}

// example runs a program and returns what it printed.
func example(t *testing.T, name string, args ...string) string {
	t.Helper()
	ctx, cancel := context.WithTimeout(context.Background(), 2*time.Minute)
	defer cancel()
	cmd := exec.CommandContext(ctx, name, args...)
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %v: %v\n%s", name, args, err, &errs)
	}
	return string(out)
}

// TestClients runs the examples of docs/examples as they stand: curl, and Python's standard library.
func TestClients(t *testing.T) {
	s := startServer(t)
	dir := in(t, map[string]string{"list.csv": header + good + strings.Replace(good, "P 1", "P 2", 1), "rows.ndjson": ndjson(t, good, strings.Replace(good, "P 1", "P 2", 1)), "bad.csv": "\n"})
	examples := "../../docs/examples/"
	got := example(t, "sh", examples+"client.sh", s.url, filepath.Join(dir, "list.csv"), filepath.Join(dir, "rows.ndjson"))
	if !strings.Contains(got, "P 2") || !strings.Contains(got, `"line":2}`) || !strings.Contains(got, "Verdict") {
		t.Error("curl:", got)
	}
	list := example(t, "/usr/bin/python3", examples+"client.py", s.url, filepath.Join(dir, "list.csv"))
	lines := example(t, "/usr/bin/python3", examples+"client.py", s.url, filepath.Join(dir, "rows.ndjson"))
	a, b := strings.Split(strings.TrimSpace(list), "\n"), strings.Split(strings.TrimSpace(lines), "\n")
	if len(a) != 2 || len(b) != 2 || !strings.HasPrefix(a[1], "P 2 ") || strings.TrimPrefix(a[1], "P 2 ") != strings.TrimPrefix(b[1], "2 ") {
		t.Errorf("Python: %q %q", a, b)
	}
	if out, err := exec.Command("/usr/bin/python3", examples+"client.py", s.url, filepath.Join(dir, "bad.csv")).CombinedOutput(); err == nil || !strings.Contains(string(out), "holds no coupling") {
		t.Errorf("Python, an empty list: %v %s", err, out)
	}
}

// TestEngines sends rows through other engines: DuckDB before and behind the stream, and a bundle at a time by two processes as Beam and Spark hand them out.
func TestEngines(t *testing.T) {
	var rows []string
	for i := range 250 {
		rows = append(rows, strings.Replace(good, "P 1", fmt.Sprintf("P %d", i), 1))
	}
	dir := in(t, map[string]string{"list.csv": header + strings.Join(rows, ""), "rows.ndjson": ndjson(t, rows...)})
	status, want, errs := pipe(t, dir, "", "calc", "rows.ndjson", "-o", "-")
	if status > 1 {
		t.Fatal(status, errs)
	}
	path, err := filepath.Abs(built)
	if err != nil {
		t.Fatal(err)
	}
	got := example(t, "/usr/bin/python3", "../../docs/examples/beam.py", path, filepath.Join(dir, "rows.ndjson"))
	cut := func(s string) (list []string) { // without the numbers of lines, which begin anew in each bundle
		for line := range strings.SplitSeq(strings.TrimSpace(s), "\n") {
			line, _, _ = strings.Cut(line, `,"line":`)
			before, rest, _ := strings.Cut(line, `"row":`)
			_, rest, _ = strings.Cut(rest, ",")
			list = append(list, before+rest)
		}
		return list
	}
	a, b := cut(want), cut(got)
	if len(a) != 250 || len(b) != 250 {
		t.Fatal(len(a), len(b))
	}
	for i := range a {
		if a[i] != b[i] {
			t.Fatalf("bundles: line %d: %.200s\n%.200s", i+1, a[i], b[i])
		}
	}
	if os.Getenv("SHIMSHEET_WORKER") == "" {
		t.Skip("DuckDB needs the packages of test/worker: make worker")
	}
	script, err := os.ReadFile("../../docs/examples/duckdb.mjs")
	if err != nil {
		t.Fatal(err)
	}
	here := "../../test/worker/duckdb-example.tmp.mjs" // beside the packages it needs
	if err := os.WriteFile(here, script, 0o644); err != nil {
		t.Fatal(err)
	}
	defer os.Remove(here)
	table := strings.Split(strings.TrimSpace(example(t, "node", here, filepath.Join(dir, "list.csv"), path)), "\n")
	if len(table) != 250 {
		t.Fatalf("DuckDB: %d rows", len(table))
	}
	for i, line := range table {
		if f := strings.Split(line, "\t"); len(f) != 4 || f[0] != fmt.Sprintf("P %d", i) || !strings.Contains(a[i], `"verdict":"`+f[1]+`"`) {
			t.Fatalf("DuckDB: row %d: %s", i, line)
		}
	}
}

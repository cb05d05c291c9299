//go:build !js

package main

import (
	"archive/zip"
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"shimsheet/internal/httpapi"
	"shimsheet/internal/httpapi/exchange"
	"shimsheet/internal/workbook"
)

const (
	dist = "../../dist/worker"
	page = "../shimsheet/embedded/page.html.gz"
)

// start runs the built worker under workerd on loopback and returns its address. It ends with the test.
func start(t *testing.T, change ...string) string {
	t.Helper()
	if os.Getenv("SHIMSHEET_WORKER") == "" {
		t.Skip("needs dist/worker and workerd: make worker builds, installs and runs")
	}
	config, err := os.ReadFile(filepath.Join(dist, "config.capnp"))
	if err != nil {
		t.Fatal(err)
	}
	text := strings.NewReplacer(change...).Replace(string(config))
	if len(change) > 0 && text == string(config) {
		t.Fatal("the configuration does not hold what is to be changed")
	}
	file := filepath.Join(dist, fmt.Sprintf("config-%s.capnp", strings.ToLower(t.Name())))
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	binary, err := exec.Command("node", "-p", `require("../../test/worker/node_modules/workerd").default`).Output()
	if err != nil {
		t.Fatal(err)
	}
	// It tells what it listens on by a file of JSON lines, as port 0 is whatever is free.
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(strings.TrimSpace(string(binary)), "serve", filepath.Base(file), "--control-fd=3")
	cmd.Dir, cmd.ExtraFiles, cmd.Stderr = dist, []*os.File{w}, os.Stderr
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	t.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
		os.Remove(file)
	})
	for lines := bufio.NewScanner(r); lines.Scan(); {
		var said struct {
			Event, Socket string
			Port          int
		}
		if json.Unmarshal(lines.Bytes(), &said) == nil && said.Event == "listen" {
			go io.Copy(io.Discard, r)
			return fmt.Sprintf("http://127.0.0.1:%d", said.Port)
		}
	}
	t.Fatal("workerd does not listen")
	return ""
}

// native is the handler as the command serves it.
func native(t *testing.T) string {
	t.Helper()
	packed, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	s := httptest.NewServer(httpapi.New(httpapi.Config{Version: "(devel)", Page: packed, Books: workbook.Books{}}))
	t.Cleanup(s.Close)
	return s.URL
}

var client = http.Client{Transport: &http.Transport{DisableCompression: true}, Timeout: 2 * time.Minute,
	CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

// send sends a case and reads its answer.
func send(t *testing.T, url string, c *exchange.Case) (*http.Response, []byte) {
	t.Helper()
	r, err := http.NewRequest(c.Method, url+c.Path, strings.NewReader(c.Body))
	if err != nil {
		t.Fatal(err)
	}
	if c.Body == "" {
		r.Body, r.ContentLength = nil, 0
	}
	for _, h := range c.Header {
		r.Header.Add(h[0], h[1])
	}
	res, err := client.Do(r)
	if err != nil {
		t.Fatalf("%s: %v", c.Name, err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatalf("%s: %v", c.Name, err)
	}
	return res, body
}

// chances are the members whose last digits a processor's own routine for e to a power may round otherwise; see TestBuildsAgree of package calc.
var chances = regexp.MustCompile(`("(?:after_)?chance_inside_pct":)(-?[0-9.e+-]+)`)

// sameBut compares two answers byte for byte; only the chances may differ, by 1e-11 per cent.
func sameBut(a, b []byte) string {
	na, nb := chances.FindAllSubmatch(a, -1), chances.FindAllSubmatch(b, -1)
	if x, y := chances.ReplaceAll(a, []byte("$1")), chances.ReplaceAll(b, []byte("$1")); !bytes.Equal(x, y) {
		i := 0
		for i < min(len(x), len(y)) && x[i] == y[i] {
			i++
		}
		from := max(0, i-80)
		return fmt.Sprintf("they part at byte %d:\n%s\n%s", i, x[from:min(len(x), i+120)], y[from:min(len(y), i+120)])
	}
	if len(na) != len(nb) {
		return "another number of chances"
	}
	for i := range na {
		var x, y float64
		json.Unmarshal(na[i][2], &x)
		json.Unmarshal(nb[i][2], &y)
		if math.Abs(x-y) > 1e-11 {
			return fmt.Sprintf("a chance of %v and one of %v", x, y)
		}
	}
	return ""
}

// TestSameAsNative asks the worker what the native handler is asked, and compares status, headers and body.
//
// evidence: calc=answers over HTTP grade=identity count=50 source=the native handler and the WebAssembly one under workerd give the same bytes, chances apart, which agree to 1e-11 per cent
func TestSameAsNative(t *testing.T) {
	at, here := start(t), native(t)
	cases, err := exchange.Cases("../../testdata/demo")
	if err != nil {
		t.Fatal(err)
	}
	for _, method := range []string{"GET", "HEAD"} {
		for _, enc := range []string{"identity", "gzip"} {
			cases = append(cases, exchange.Case{Name: "the page by " + method + " as " + enc, Method: method, Path: "/", Status: 200, Header: [][2]string{{"Accept-Encoding", enc}, {"X-Request-Id", "page"}}})
		}
	}
	for i := range cases {
		c := &cases[i]
		want, wantBody := send(t, here, c)
		got, gotBody := send(t, at, c)
		if got.StatusCode != want.StatusCode || got.StatusCode != c.Status {
			t.Errorf("%s: status %d, native %d, want %d: %.300s", c.Name, got.StatusCode, want.StatusCode, c.Status, gotBody)
		}
		if strings.Contains(c.Name, "workbook") && bytes.HasPrefix(wantBody, []byte("PK")) {
			if diff := sameBooks(t, gotBody, wantBody); diff != "" {
				t.Errorf("%s: %s", c.Name, diff)
			}
		} else if strings.HasPrefix(want.Header.Get("Content-Type"), "text/csv") {
			if diff := sameLists(gotBody, wantBody); diff != "" {
				t.Errorf("%s: %s", c.Name, diff)
			}
		} else if c.Path == "/v1/health" && c.Status == 200 {
			wantBody = bytes.Replace(wantBody, []byte(`"workbooks": true`), []byte(`"workbooks": false`), 1) // the program for JSON says what it has itself
			if diff := sameBut(gotBody, wantBody); diff != "" {
				t.Errorf("%s: %s", c.Name, diff)
			}
		} else if diff := sameBut(gotBody, wantBody); diff != "" && c.Path != "/v1/openapi.json" && c.Status != 406 && c.Status != 415 { // which tell of workbooks too
			t.Errorf("%s: %s", c.Name, diff)
		}
		for name := range want.Header {
			switch name {
			case "Date", "Connection", "Content-Length", "Transfer-Encoding", "Etag":
				continue // the connection's own; and the description's tag, whose bytes differ
			}
			if a, b := strings.Join(got.Header.Values(name), ", "), strings.Join(want.Header.Values(name), ", "); a != b {
				t.Errorf("%s: %s is %q, native %q", c.Name, name, a, b)
			}
		}
		if c.Path == "/" && got.Header.Get("ETag") != want.Header.Get("ETag") {
			t.Errorf("%s: tag %s, native %s", c.Name, got.Header.Get("ETag"), want.Header.Get("ETag"))
		}
	}
	t.Logf("%d exchanges", len(cases))
}

// near says whether two texts are the same number but for its last digits.
func near(a, b string) bool {
	var x, y float64
	return a == b || json.Unmarshal([]byte(a), &x) == nil && json.Unmarshal([]byte(b), &y) == nil && math.Abs(x-y) <= 1e-11
}

// sameLists compares two lists cell by cell; only columns of chances may differ in their last digits.
func sameLists(a, b []byte) string {
	if bytes.Equal(a, b) {
		return ""
	}
	var lists [2][][]string
	for i, text := range [][]byte{a, b} {
		r := csv.NewReader(bytes.NewReader(text))
		r.FieldsPerRecord, r.LazyQuotes = -1, true
		var err error
		if lists[i], err = r.ReadAll(); err != nil {
			return err.Error()
		}
	}
	if len(lists[0]) != len(lists[1]) {
		return "another number of rows"
	}
	chance := map[int]bool{}
	for i, row := range lists[0] {
		if len(row) != len(lists[1][i]) {
			return fmt.Sprintf("row %d has another number of cells", i+1)
		}
		for k, cell := range row {
			if strings.Contains(cell, "hance inside [%]") {
				chance[k] = true
			}
			if other := lists[1][i][k]; cell != other && !(chance[k] && near(cell, other)) {
				return fmt.Sprintf("row %d, cell %d: %q and %q", i+1, k+1, cell, other)
			}
		}
	}
	return ""
}

// number is the value of a cell of a workbook.
var number = regexp.MustCompile(`<v>(-?[0-9.eE+-]+)</v>`)

// sameBooks compares two workbooks part by part; numbers may differ in their last digits, as some of them are chances.
func sameBooks(t *testing.T, a, b []byte) string {
	t.Helper()
	var books [2]map[string][]byte
	for i, book := range [][]byte{a, b} {
		z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
		if err != nil {
			return err.Error()
		}
		books[i] = map[string][]byte{}
		for _, f := range z.File {
			r, err := f.Open()
			if err != nil {
				return err.Error()
			}
			if books[i][f.Name], err = io.ReadAll(r); err != nil {
				return err.Error()
			}
		}
	}
	if len(books[0]) != len(books[1]) {
		return "another number of parts"
	}
	differ := 0
	for name, x := range books[0] {
		y := books[1][name]
		if !bytes.Equal(number.ReplaceAll(x, nil), number.ReplaceAll(y, nil)) {
			return name + " differs in more than numbers"
		}
		nx, ny := number.FindAllSubmatch(x, -1), number.FindAllSubmatch(y, -1)
		if len(nx) != len(ny) {
			return name + " has another number of numbers"
		}
		for i := range nx {
			if p, q := string(nx[i][1]), string(ny[i][1]); p != q {
				if differ++; !near(p, q) {
					return fmt.Sprintf("%s: %s and %s", name, p, q)
				}
			}
		}
	}
	t.Logf("workbook of %d parts: %d numbers differ in their last digits", len(books[0]), differ)
	return ""
}

// TestProgramSize holds the program for JSON to what a worker may weigh.
func TestProgramSize(t *testing.T) {
	if os.Getenv("SHIMSHEET_WORKER") == "" {
		t.Skip("needs dist/worker: make worker")
	}
	program, err := os.ReadFile(filepath.Join(dist, "json.wasm"))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	z, _ := gzip.NewWriterLevel(&b, gzip.BestCompression)
	z.Write(program)
	z.Close()
	if b.Len() > 3_000_000 {
		t.Errorf("%d bytes packed", b.Len())
	}
	t.Logf("%d bytes, %d packed", len(program), b.Len())
}

// TestReplaced: with hardly any memory allowed each request has a new program, and none notices.
func TestReplaced(t *testing.T) {
	at := start(t, `bindings = [`, `bindings = [(name = "MOST_MEMORY", json = "1"), `)
	c := &exchange.Case{Name: "a row", Method: "GET", Path: "/v1/row?" + exchange.Query, Header: [][2]string{{"X-Request-Id", "x"}}}
	_, first := send(t, at, c)
	for range 5 {
		if res, body := send(t, at, c); res.StatusCode != 200 || !bytes.Equal(body, first) {
			t.Errorf("%d %s", res.StatusCode, body)
		}
	}
}

// TestStream: lines are answered while they come, and at once.
func TestStream(t *testing.T) {
	at := start(t)
	in, out := io.Pipe()
	r, _ := http.NewRequest("POST", at+"/v1/jobs", in)
	r.Header.Set("Content-Type", "application/x-ndjson")
	go fmt.Fprintf(out, "{%s}\n", exchange.Row)
	res, err := client.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	lines := bufio.NewReader(res.Body)
	for i := 1; i <= 10; i++ {
		line, err := lines.ReadString('\n')
		if err != nil || !strings.HasSuffix(line, fmt.Sprintf(`"line":%d}`+"\n", i)) {
			t.Fatal(i, err, line)
		}
		go fmt.Fprintf(out, "{%s}\n", exchange.Row)
	}
	out.Close()
}

package httpapi

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/andybalholm/brotli"
	validator "github.com/pb33f/libopenapi-validator"

	"github.com/pb33f/libopenapi"

	"shimsheet/internal/httpapi/exchange"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/workbook"
)

const demo = "../../testdata/demo"

// books are the workbooks as the command serves them.
type books struct{}

func (books) Read(data []byte) (*job.Job, []job.Problem, error) {
	j, report, err := workbook.Read(data, "job.xlsx", nil)
	if report == nil {
		return j, nil, err
	}
	return j, report.Problems, err
}

func (books) Write(e *sentences.Teller) ([]byte, error) {
	return workbook.Write(e.Job(), e, workbook.Options{})
}

// serve serves a handler on loopback for the time of a test.
func serve(t *testing.T, c Config) *httptest.Server {
	t.Helper()
	s := httptest.NewUnstartedServer(New(c))
	s.Config.ErrorLog = log.New(io.Discard, "", 0)
	s.Start()
	t.Cleanup(s.Close)
	return s
}

// packed is a page, packed.
func packed(text string) []byte {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	io.WriteString(z, text)
	z.Close()
	return b.Bytes()
}

// send sends a case and returns its answer with the body read. The client changes nothing: it neither asks for packing nor follows.
func send(t *testing.T, url string, c *exchange.Case) (*http.Request, *http.Response, []byte) {
	t.Helper()
	r, err := http.NewRequest(c.Method, url+c.Path, strings.NewReader(c.Body))
	if err != nil {
		t.Fatal(err)
	}
	if c.Method == http.MethodGet {
		r.Body, r.ContentLength = nil, 0
	}
	for _, h := range c.Header {
		r.Header.Add(h[0], h[1])
	}
	client := http.Client{Transport: &http.Transport{DisableCompression: true, DisableKeepAlives: true}, Timeout: time.Minute}
	res, err := client.Do(r)
	if err != nil {
		t.Fatalf("%s: %v", c.Name, err)
	}
	defer res.Body.Close()
	body, err := io.ReadAll(res.Body)
	if err != nil {
		t.Fatalf("%s: %v", c.Name, err)
	}
	return r, res, body
}

// TestExchanges holds each answer to its case, and each to what every answer has.
func TestExchanges(t *testing.T) {
	s := serve(t, Config{Version: "test", Books: books{}})
	cases, err := exchange.Cases(demo)
	if err != nil {
		t.Fatal(err)
	}
	for i := range cases {
		c := &cases[i]
		_, res, body := send(t, s.URL, c)
		if res.StatusCode != c.Status || !strings.HasPrefix(res.Header.Get("Content-Type"), c.Type) || !bytes.Contains(body, []byte(c.Holds)) {
			t.Errorf("%s: %d %s %.400s\nwant %d %s with %q", c.Name, res.StatusCode, res.Header.Get("Content-Type"), body, c.Status, c.Type, c.Holds)
		}
		for _, h := range always {
			if !slices.Equal(res.Header[h.name], h.value) {
				t.Errorf("%s: %s is %q", c.Name, h.name, res.Header[h.name])
			}
		}
		if id := c.Header[len(c.Header)-1][1]; res.Header.Get(headerID) != id || !strings.Contains(res.Header.Get("Content-Security-Policy"), "frame-ancestors 'none'") {
			t.Errorf("%s: id %q, policy %q", c.Name, res.Header.Get(headerID), res.Header.Get("Content-Security-Policy"))
		}
		if c.Status >= 400 {
			var p problem
			d := json.NewDecoder(bytes.NewReader(body))
			d.DisallowUnknownFields()
			if err := d.Decode(&p); err != nil || p.Status != c.Status || p.Title == "" || p.Detail == "" || !strings.HasPrefix(p.Type, problemsPath+"#") || p.ID == "" {
				t.Errorf("%s: %v %s", c.Name, err, body)
			}
		}
	}
	t.Logf("%d exchanges", len(cases))
}

// TestDescription holds the description to OpenAPI 3.1, and every answer that is JSON to what the description says of it.
//
// evidence: calc=answers over HTTP grade=independent count=40 source=libopenapi-validator, a general validator: the description is OpenAPI 3.1, and live requests and answers are what it says
func TestDescription(t *testing.T) {
	s := serve(t, Config{Version: "test", Books: books{}, Page: packed("<!doctype html>")})
	_, _, text := send(t, s.URL, &exchange.Case{Method: "GET", Path: "/v1/openapi.json"})
	doc, err := libopenapi.NewDocument(text)
	if err != nil {
		t.Fatal(err)
	}
	v, errs := validator.NewValidator(doc)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	if ok, errs := v.ValidateDocument(); !ok {
		for _, e := range errs {
			t.Error(e.Message, e.Reason, e.SchemaValidationErrors)
		}
	}
	cases, err := exchange.Cases(demo)
	if err != nil {
		t.Fatal(err)
	}
	held := 0
	for i := range cases {
		c := &cases[i]
		r, res, body := send(t, s.URL, c)
		if !strings.Contains(res.Header.Get("Content-Type"), "json") || strings.Contains(res.Header.Get("Content-Type"), "ndjson") || c.Status == 404 || c.Status == 405 {
			continue // what has no route has no description
		}
		res.Body = io.NopCloser(bytes.NewReader(body))
		if ok, errs := v.ValidateHttpResponse(r, res); !ok {
			for _, e := range errs {
				t.Errorf("%s: %s: %s %v", c.Name, e.Message, e.Reason, e.SchemaValidationErrors)
			}
		}
		if held++; c.Status == 200 && strings.Contains(r.Header.Get("Content-Type"), "application/json") {
			r.Body = io.NopCloser(strings.NewReader(c.Body))
			if ok, errs := v.ValidateHttpRequest(r); !ok {
				for _, e := range errs {
					t.Errorf("%s: the request: %s: %s %v", c.Name, e.Message, e.Reason, e.SchemaValidationErrors)
				}
			}
		}
	}
	if held < 30 {
		t.Errorf("only %d answers held", held)
	}
	// A test of the test: an answer with a member of another type is refused.
	r, _ := http.NewRequest("POST", s.URL+"/v1/jobs", strings.NewReader("[]"))
	r.Header.Set("Content-Type", mediaJSON)
	bad := &http.Response{StatusCode: 200, Header: http.Header{"Content-Type": {mediaJSON}}, Body: io.NopCloser(strings.NewReader(`{"machines":3}`)), Request: r}
	if ok, _ := v.ValidateHttpResponse(r, bad); ok {
		t.Error("a wrong answer passes")
	}
}

// The same body has the same answer, whatever was asked before, to the last byte; only the request's own name differs.
func TestStateless(t *testing.T) {
	s := serve(t, Config{Books: books{}})
	cases, err := exchange.Cases(demo)
	if err != nil {
		t.Fatal(err)
	}
	var first [][]byte
	for i := range cases {
		_, _, body := send(t, s.URL, &cases[i])
		first = append(first, body)
	}
	for i := len(cases) - 1; i >= 0; i-- {
		if _, _, body := send(t, s.URL, &cases[i]); !bytes.Equal(body, first[i]) {
			t.Errorf("%s: another answer the second time", cases[i].Name)
		}
	}
}

// The JSON of a list over HTTP is that of the command, apart from the name of the job.
func TestSameAsEvaluator(t *testing.T) {
	s := serve(t, Config{})
	cases, err := exchange.Cases(demo)
	if err != nil {
		t.Fatal(err)
	}
	for i := range cases {
		if cases[i].Name != "demo list" {
			continue
		}
		_, _, got := send(t, s.URL, &cases[i])
		table, _, err := job.ReadDelimited("Machines", []byte(cases[i].Body), 0)
		if err != nil {
			t.Fatal(err)
		}
		table.SplitHeader(job.MachinesSheet)
		j := job.NewJob()
		j.Machines = table
		e := sentences.New(j)
		e.Run(t.Context(), nil)
		e.Allocate(nil)
		var want bytes.Buffer
		results.WriteJSON(&want, e)
		cut := func(b []byte) string { _, rest, _ := strings.Cut(string(b), `"revision"`); return rest }
		if cut(got) != cut(want.Bytes()) {
			t.Error("another answer over HTTP")
		}
		return
	}
	t.Error("no demo list among the cases")
}

// A number of JSON is read as itself under any decimal sign of the job, and of texts with a comma beside it.
func TestNumbersWithAPoint(t *testing.T) {
	s := serve(t, Config{})
	for _, body := range []string{
		`{"machines":[{"Machine":"A","Movable rim 12":1.234}]}`,
		`{"settings":{"Decimal":"comma"},"machines":[{"Machine":"A","Movable rim 12":1.234}]}`,
		`{"machines":[{"Machine":"A","Movable rim 12":1.234},{"Machine":"B","Movable rim 12":"0,5"}]}`,
	} {
		_, res, got := send(t, s.URL, &exchange.Case{Method: "POST", Path: "/v1/jobs", Header: [][2]string{{"Content-Type", mediaJSON}, {"Accept", mediaCSV}}, Body: body})
		if res.StatusCode != 200 || !strings.Contains(string(got), "1.234") && !strings.Contains(string(got), "1,234") || strings.Contains(string(got), "1234") {
			t.Errorf("%s: %d %.300s", body, res.StatusCode, got)
		}
	}
}

func TestAccepted(t *testing.T) {
	for _, c := range []struct{ accept, want string }{
		{"", mediaJSON}, {"*/*", mediaJSON}, {"application/*", mediaJSON}, {"text/*", mediaCSV}, {"text/csv, application/json;q=0.5", mediaCSV},
		{"application/jsonl", mediaNDJSON}, {"application/json;q=0, */*", mediaNDJSON}, {"text/html, */*;q=0.1", mediaJSON}, {"image/png", ""}, {"application/json;q=0", ""},
		{"application/json;q=2", ""}, {"TEXT/CSV", mediaCSV}, {" , ", ""},
	} {
		r := httptest.NewRequest("GET", "/", nil)
		if c.accept != "" {
			r.Header.Set("Accept", c.accept)
		}
		if got, _ := accepted(r, jobWrites); got != c.want {
			t.Errorf("%q: %q, want %q", c.accept, got, c.want)
		}
	}
}

// TestPage asks for the page, packed and not, anew and again.
func TestPage(t *testing.T) {
	const text = "<!doctype html><title>the page</title>"
	s := serve(t, Config{Page: packed(text)})
	get := func(method string, header ...[2]string) (*http.Response, []byte) {
		_, res, body := send(t, s.URL, &exchange.Case{Method: method, Path: "/", Header: header})
		return res, body
	}
	res, body := get("GET")
	tag := res.Header.Get("ETag")
	if res.StatusCode != 200 || string(body) != text || tag == "" || res.Header.Get("Content-Encoding") != "" || res.Header.Get("Vary") != "Accept-Encoding" {
		t.Error(res, string(body))
	}
	if p := res.Header.Get("Content-Security-Policy"); p != pagePolicy {
		t.Error(p)
	}
	gz := [2]string{"Accept-Encoding", "br, gzip"}
	res, body = get("GET", gz)
	z, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	if plain, _ := io.ReadAll(z); string(plain) != text || res.Header.Get("Content-Encoding") != "gzip" || res.Header.Get("ETag") == tag {
		t.Error(res.Header, string(plain))
	}
	if res, body = get("GET", [2]string{"Accept-Encoding", "gzip;q=0"}); string(body) != text || res.Header.Get("Content-Encoding") != "" {
		t.Error(res.Header)
	}
	if res, body = get("GET", gz, [2]string{"If-None-Match", `"x", W/` + strings.TrimSuffix(tag, `"`) + `-gzip"`}); res.StatusCode != 304 || len(body) != 0 {
		t.Error(res.StatusCode)
	}
	if res, _ = get("GET", gz, [2]string{"If-None-Match", tag}); res.StatusCode != 200 {
		t.Error("the tag of the other form is taken for this one's")
	}
	t.Run("brotli", func(t *testing.T) { brotliPage(t, tag) })
	if res, body = get("HEAD"); res.StatusCode != 200 || len(body) != 0 || res.Header.Get("ETag") != tag || res.ContentLength != int64(len(text)) {
		t.Error(res)
	}
	if _, res, _ = send(t, serve(t, Config{}).URL, &exchange.Case{Method: "GET", Path: "/"}); res.StatusCode != 404 {
		t.Error("a page from nowhere")
	}
}

// brotliPage asks for the page packed by brotli, before and after it is. plain is the tag of the page as it is.
func brotliPage(t *testing.T, plain string) {
	const text = "<!doctype html><title>the page</title>"
	var br atomic.Pointer[[]byte]
	s := serve(t, Config{Page: packed(text), Brotli: func() []byte {
		if b := br.Load(); b != nil {
			return *b
		}
		return nil
	}})
	get := func(accept string, more ...[2]string) (*http.Response, []byte) {
		_, res, body := send(t, s.URL, &exchange.Case{Method: "GET", Path: "/", Header: append(more, [2]string{"Accept-Encoding", accept})})
		return res, body
	}
	if res, _ := get("br, gzip"); res.Header.Get("Content-Encoding") != "gzip" {
		t.Error("not there yet:", res.Header)
	}
	var b bytes.Buffer
	w := brotli.NewWriter(&b)
	io.WriteString(w, text)
	w.Close()
	small := b.Bytes()
	br.Store(&small)
	res, body := get("gzip, deflate, br, zstd")
	tag := res.Header.Get("ETag")
	if got, err := io.ReadAll(brotli.NewReader(bytes.NewReader(body))); err != nil || string(got) != text || res.Header.Get("Content-Encoding") != "br" || tag != strings.TrimSuffix(plain, `"`)+`-br"` ||
		res.ContentLength != int64(len(small)) || res.Header.Get("Vary") != "Accept-Encoding" {
		t.Error(err, res.Header, string(got))
	}
	for accept, want := range map[string]string{"br": "br", "*": "br", "br;q=0.5, gzip": "gzip", "br;q=0, gzip": "gzip", "br;q=0": "", "gzip": "gzip", "": "", "gzip;q=0.5, *": "br", "identity": ""} {
		if res, _ := get(accept); res.Header.Get("Content-Encoding") != want {
			t.Errorf("%q is answered as %q", accept, res.Header.Get("Content-Encoding"))
		}
	}
	if res, body := get("br", [2]string{"If-None-Match", tag}); res.StatusCode != 304 || len(body) != 0 || res.Header.Get("ETag") != tag {
		t.Error(res.Status, res.Header)
	}
	if res, _ := get("gzip", [2]string{"If-None-Match", tag}); res.StatusCode != 200 {
		t.Error("the tag of brotli's bytes is taken for that of gzip's")
	}
}

// The page's policy in the header is the one the page brings.
func TestPagePolicy(t *testing.T) {
	text := readFile(t, "../../web/skeleton.html")
	_, rest, _ := strings.Cut(text, `http-equiv="Content-Security-Policy" content="`)
	own, _, ok := strings.Cut(rest, `"`)
	if !ok || own+"; frame-ancestors 'none'" != pagePolicy {
		t.Errorf("the page says\n%s\nthe header\n%s", own, pagePolicy)
	}
}

package httpapi

import (
	"archive/zip"
	"bufio"
	"bytes"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"runtime"
	"strings"
	"testing"
	"time"

	"shimsheet/internal/httpapi/exchange"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

func readFile(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// raw sends bytes as they are and returns the status of the first answer, 0 if the connection was shut without one. A pause of 0 sends all at once.
func raw(t *testing.T, addr string, pieces []string, pause time.Duration) int {
	t.Helper()
	c, err := net.Dial("tcp", addr)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	c.SetDeadline(time.Now().Add(time.Minute))
	go func() {
		for _, p := range pieces {
			if _, err := io.WriteString(c, p); err != nil {
				return
			}
			time.Sleep(pause)
		}
		if pause == 0 {
			c.(*net.TCPConn).CloseWrite()
		}
	}()
	res, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		return 0
	}
	io.Copy(io.Discard, res.Body)
	return res.StatusCode
}

// bomb is a workbook of n megabytes of zeroes in a part of few bytes.
func bomb(n int) string {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, _ := z.Create("xl/worksheets/sheet1.xml")
	zeroes := make([]byte, 1<<20)
	for range n {
		w.Write(zeroes)
	}
	z.Close()
	return b.String()
}

// TestHostile sends what nobody should: each is answered or cut off, in time, in little memory, and the next request is answered as if nothing had been.
func TestHostile(t *testing.T) {
	limits := Config{Books: books{}, MaxBody: 4 << 20, MaxRows: 2000, MaxCells: 200_000}
	patient := serve(t, limits).Listener.Addr().String()
	limits.Idle = 300 * time.Millisecond
	hasty := serve(t, limits).Listener.Addr().String()
	head := func(media string, more ...string) string {
		return "POST /v1/jobs HTTP/1.1\r\nHost: x\r\nConnection: close\r\nContent-Type: " + media + "\r\n" + strings.Join(more, "") + "\r\n"
	}
	length := func(n int) string { return fmt.Sprintf("Content-Length: %d\r\n", n) }
	whole := func(media, body string) []string { return []string{head(media, length(len(body))), body} }
	row := "{" + exchange.Row + "}"
	many := strings.Repeat(row+",", 3000)
	for _, c := range []struct {
		name   string
		pieces []string
		pause  time.Duration
		want   []int // any of them; 0: the connection is shut without an answer
	}{
		{"cut JSON", []string{head(mediaJSON, length(500)), row[:200]}, 0, []int{400}},
		{"cut list of chunks", []string{head(mediaCSV, "Transfer-Encoding: chunked\r\n"), "20\r\nMachine,Sp"}, 0, []int{400}},
		{"cut lines", []string{head(mediaNDJSON, length(500)), row[:100]}, 0, []int{200, 400}},
		{"slow body", []string{head(mediaJSON, length(500)), "[", "{", `"`}, 250 * time.Millisecond, []int{408}},
		{"slow lines", []string{head(mediaNDJSON, length(500)), "{"}, time.Second, []int{408}},
		{"slow head", []string{"GET /v1/health HT"}, 0, []int{0, 400}},
		{"100 MB announced", []string{head(mediaJSON, length(100<<20)), "["}, 0, []int{413}},
		{"100 MB in chunks", append([]string{head(mediaCSV, "Transfer-Encoding: chunked\r\n")}, chunks(100)...), 0, []int{413, 0}},
		{"100 MB on one line", append([]string{head(mediaNDJSON, "Transfer-Encoding: chunked\r\n")}, chunks(100)...), 0, []int{200}},
		{"deep JSON", whole(mediaJSON, strings.Repeat("[", 1<<20)), 0, []int{422}},
		{"deep value", whole(mediaJSON, `{"machines":[{"Machine":`+strings.Repeat("[", 9000)+strings.Repeat("]", 9000)+`}]}`), 0, []int{422}},
		{"too many rows", whole(mediaJSON, "["+many[:len(many)-1]+"]"), 0, []int{413}},
		{"a million empty rows", whole(mediaJSON, "["+strings.Repeat("{},", 1<<20)+"{}]"), 0, []int{413}},
		{"a million commas", whole(mediaCSV, strings.Repeat(",", 1<<20)), 0, []int{413}},
		{"a million names", whole(mediaJSON, `[{"`+strings.Repeat("x", 1<<20)+`":1}]`), 0, []int{422}},
		{"NUL bytes", whole(mediaCSV, strings.Repeat("\x00", 1<<20)), 0, []int{422}},
		{"no UTF-8", whole(mediaJSON, "[\"\xff\xfe\"]"), 0, []int{422}},
		{"zip bomb", whole(mediaXLSX, bomb(400)), 0, []int{422}},
		{"no workbook", whole(mediaXLSX, strings.Repeat("PK\x03\x04", 1000)), 0, []int{422}},
		{"wrong type", whole("application/xml", "<!DOCTYPE x [<!ENTITY a 'b'>]>"), 0, []int{415}},
		{"form", whole("multipart/form-data; boundary=x", "--x--"), 0, []int{415}},
		{"a head of 2 MB", []string{"GET /v1/health HTTP/1.1\r\nHost: x\r\nA: " + strings.Repeat("a", 2<<20) + "\r\n\r\n"}, 0, []int{431, 0}},
		{"two lengths", []string{"POST /v1/jobs HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 2\r\nContent-Length: 30\r\n\r\n[]"}, 0, []int{400}},
		{"length and chunks", []string{"POST /v1/jobs HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 3\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /smuggled HTTP/1.1\r\nHost: x\r\n\r\n"}, 0, []int{400, 422}},
		{"odd chunks", []string{head(mediaJSON, "Transfer-Encoding: xchunked\r\n"), "0\r\n\r\n"}, 0, []int{400, 501}},
		{"a blank before the colon", []string{"POST /v1/jobs HTTP/1.1\r\nHost: x\r\nContent-Length : 2\r\n\r\n[]"}, 0, []int{400}},
		{"a line end in a value", []string{"GET /v1/health HTTP/1.1\r\nHost: x\r\nX-Request-Id: a\rb: c\r\n\r\n"}, 0, []int{400}},
		{"up the path", []string{"GET /../../etc/passwd HTTP/1.0\r\n\r\n"}, 0, []int{404}},
		{"up the path, encoded", []string{"GET /v1/tables/..%2f..%2fgo.mod HTTP/1.0\r\n\r\n"}, 0, []int{404}},
		{"two slashes", []string{"GET //v1/health HTTP/1.0\r\n\r\n"}, 0, []int{404}},
		{"a NUL in the path", []string{"GET /v1/health%00 HTTP/1.0\r\n\r\n"}, 0, []int{404}},
		{"somebody else's address", []string{"GET http://example.org/v1/health HTTP/1.1\r\nHost: example.org\r\nConnection: close\r\n\r\n"}, 0, []int{200}},
		{"CONNECT", []string{"CONNECT example.org:443 HTTP/1.1\r\nHost: example.org\r\n\r\n"}, 0, []int{404, 405}},
	} {
		addr := patient
		if c.pause > 0 {
			addr = hasty
		}
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		began := time.Now()
		got := raw(t, addr, c.pieces, c.pause)
		took := time.Since(began)
		runtime.ReadMemStats(&after)
		ok := false
		for _, w := range c.want {
			ok = ok || got == w
		}
		if !ok {
			t.Errorf("%s: status %d, want one of %v", c.name, got, c.want)
		}
		if next := raw(t, addr, []string{"GET /v1/health HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"}, 0); next != 200 {
			t.Errorf("%s: the next request has status %d", c.name, next)
		}
		t.Logf("%-26s %3d  %6.0f ms  %6.1f MB taken in all, %5.1f MB of heap more", c.name, got, 1000*took.Seconds(), float64(after.TotalAlloc-before.TotalAlloc)/(1<<20),
			(float64(after.HeapSys)-float64(before.HeapSys))/(1<<20))
	}
}

// chunks is n megabytes in chunks, without an end.
func chunks(n int) (list []string) {
	mb := "100000\r\n" + strings.Repeat("a", 1<<20) + "\r\n"
	for range n {
		list = append(list, mb)
	}
	return append(list, "0\r\n\r\n")
}

// faulty are workbooks that fail or wait.
type faulty struct {
	wait    chan struct{}
	entered chan struct{}
}

func (f faulty) Read([]byte) (*job.Job, []job.Problem, error) {
	if f.wait != nil {
		f.entered <- struct{}{}
		<-f.wait
	}
	panic("the fault")
}

func (f faulty) Write(*sentences.Teller) ([]byte, error) { panic("the fault") }

var bookCase = &exchange.Case{Method: "POST", Path: "/v1/jobs", Header: [][2]string{{"Content-Type", mediaXLSX}}, Body: "x"}
var rowCase = &exchange.Case{Method: "POST", Path: "/v1/jobs", Header: [][2]string{{"Content-Type", mediaJSON}}, Body: "[{" + exchange.Row + "}]"}

// TestPanic: a panic answers 500, and the next request works.
func TestPanic(t *testing.T) {
	for _, limit := range []time.Duration{0, -1} { // in a goroutine of its own, and not
		s := serve(t, Config{Books: faulty{}, Compute: limit, Jobs: 1})
		for range 3 {
			if _, res, body := send(t, s.URL, bookCase); res.StatusCode != 500 || !strings.Contains(string(body), "the fault") {
				t.Errorf("%d %s", res.StatusCode, body)
			}
			if _, res, body := send(t, s.URL, rowCase); res.StatusCode != 200 {
				t.Errorf("next: %d %s", res.StatusCode, body)
			}
		}
	}
}

// TestBusy: with all places taken a job waits as long as it is told to, and is then sent away with what to do.
func TestBusy(t *testing.T) {
	f := faulty{make(chan struct{}), make(chan struct{})}
	s := serve(t, Config{Books: f, Jobs: 1, Wait: 20 * time.Millisecond})
	ended := make(chan int)
	go func() {
		_, res, _ := send(t, s.URL, bookCase)
		ended <- res.StatusCode
	}()
	<-f.entered
	_, res, body := send(t, s.URL, rowCase)
	if res.StatusCode != 503 || res.Header.Get("Retry-After") == "" || !strings.Contains(string(body), "#busy") {
		t.Errorf("%d %s", res.StatusCode, body)
	}
	if _, res, _ := send(t, s.URL, &exchange.Case{Method: "GET", Path: "/v1/health"}); res.StatusCode != 200 {
		t.Error("health waits too")
	}
	close(f.wait)
	if status := <-ended; status != 500 {
		t.Error(status)
	}
	if _, res, _ := send(t, s.URL, rowCase); res.StatusCode != 200 {
		t.Error("the place was not given back")
	}
}

// TestTooLong: a job past its time is answered with what to do, and the place is given back.
func TestTooLong(t *testing.T) {
	s := serve(t, Config{Compute: time.Nanosecond, Jobs: 1})
	for range 2 {
		if _, res, body := send(t, s.URL, rowCase); res.StatusCode != 503 || !strings.Contains(string(body), "#too-long") || !strings.Contains(string(body), "JSON lines") {
			t.Errorf("%d %s", res.StatusCode, body)
		}
	}
}

// TestStreamAnswersAtOnce: a line is answered before the next one is sent, and a million bytes more than any buffer do not have to wait for the end.
func TestStreamAnswersAtOnce(t *testing.T) {
	s := serve(t, Config{})
	in, out := io.Pipe()
	r, _ := http.NewRequest("POST", s.URL+"/v1/jobs", in)
	r.Header.Set("Content-Type", mediaNDJSON)
	go fmt.Fprintf(out, "{%s}\n", exchange.Row)
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	lines := bufio.NewReader(res.Body)
	for i := 1; i <= 20; i++ {
		line, err := lines.ReadString('\n')
		if err != nil || !strings.HasSuffix(line, fmt.Sprintf(`"line":%d}`+"\n", i)) {
			t.Fatal(i, err, line)
		}
		fmt.Fprintf(out, "{%s}\n", exchange.Row)
	}
	out.Close()
	if rest, err := io.ReadAll(lines); err != nil || strings.Count(string(rest), "\n") != 1 {
		t.Error(err, string(rest))
	}
}

// TestStreamCut: a stream that breaks off is not taken for a whole one: the last line says so, and the connection is cut.
func TestStreamCut(t *testing.T) {
	s := serve(t, Config{Idle: 300 * time.Millisecond})
	in, out := io.Pipe()
	r, _ := http.NewRequest("POST", s.URL+"/v1/jobs", in)
	r.Header.Set("Content-Type", mediaNDJSON)
	go fmt.Fprintf(out, "{%s}\n", exchange.Row)
	res, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer res.Body.Close()
	defer out.Close()
	got, err := io.ReadAll(res.Body) // nothing more is sent
	if err == nil || !strings.Contains(string(got), `"line":2,"error":"the stream ended here before its end`) {
		t.Errorf("%v %s", err, got)
	}
}

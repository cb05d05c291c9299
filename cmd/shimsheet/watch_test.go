package main

import (
	"bytes"
	"fmt"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
)

// What is logged of requests: what went well only with -verbose, a client's mistake (4xx, RFC 9110, 15.5) as information, a fault of ours (5xx) and an answer that broke off as an error. Every request is
// counted once, under its route, method and status, with the bytes of its answer; methods that nobody serves are one, so that nobody can make counters without end.
func TestRequestsAreLoggedAndCounted(t *testing.T) {
	for _, c := range []struct {
		status int
		every  bool
		level  string // "" not logged
	}{{200, false, ""}, {200, true, "INFO"}, {204, false, ""}, {302, false, ""}, {399, false, ""}, {400, false, "INFO"}, {404, true, "INFO"}, {499, false, "INFO"}, {500, false, "ERROR"}, {503, true, "ERROR"}} {
		var log bytes.Buffer
		w := newWatch(slog.New(slog.NewTextHandler(&log, nil)), c.every)
		h := w.around(http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
			rw.WriteHeader(c.status)
			if c.status >= 200 && c.status != 204 && c.status != 304 {
				fmt.Fprint(rw, "seven b")
			}
		}))
		for _, m := range []string{"GET", "BREW"} {
			r := httptest.NewRequest(m, "/v1/\u202ejobs", strings.NewReader("body"))
			h.ServeHTTP(httptest.NewRecorder(), r)
		}
		lines := strings.Split(strings.TrimSpace(log.String()), "\n")
		switch said := log.String(); {
		case c.level == "" && said != "":
			t.Errorf("%d: %s", c.status, said)
		case c.level != "" && (len(lines) != 2 || strings.Count(said, "level="+c.level) != 2 || strings.Count(said, fmt.Sprintf("status=%d", c.status)) != 2 || strings.Contains(said, "\u202e")):
			t.Errorf("%d: %s", c.status, said)
		}
		rec := httptest.NewRecorder()
		w.metrics().ServeHTTP(rec, httptest.NewRequest("GET", "/metrics", nil))
		text := rec.Body.String()
		for _, want := range []string{
			fmt.Sprintf(`shimsheet_http_requests_total{method="GET",route="other",status="%d"} 1`, c.status), fmt.Sprintf(`shimsheet_http_requests_total{method="other",route="other",status="%d"} 1`, c.status),
			"shimsheet_http_running 0", `shimsheet_http_request_seconds_count{route="other"} 2`, `shimsheet_http_in_bytes_total{route="other"} 8`,
			fmt.Sprintf(`shimsheet_http_out_bytes_total{route="other"} %d`, map[bool]int{true: 0, false: 14}[c.status == 204]),
		} {
			if !strings.Contains(text, want+"\n") {
				t.Errorf("%d: no %s in the metrics", c.status, want)
			}
		}
	}
	// An answer that breaks off is an error, and the request is no longer running.
	var log bytes.Buffer
	w := newWatch(slog.New(slog.NewTextHandler(&log, nil)), false)
	func() {
		defer func() { recover() }()
		w.around(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic(http.ErrAbortHandler) })).ServeHTTP(httptest.NewRecorder(), httptest.NewRequest("GET", "/", nil))
	}()
	if !strings.Contains(log.String(), "level=ERROR") || !strings.Contains(log.String(), "cut=true") {
		t.Error(log.String())
	}
}

package httpapi

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"runtime"
	"testing"
)

// TestAllocations holds what a request of one row throws away, which is most of what it costs: no clock has a say here. 84 kB in 346 pieces, and a goroutine with a stack of its own, it was
// before a job of few rows was worked out where it came; 58 kB in 250 pieces with the request itself, which is made here, since.
func TestAllocations(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector keeps no pools")
	}
	h := New(Config{Version: "test"})
	body := []byte(oneRow)
	ask := func() {
		r := httptest.NewRequest("POST", "/v1/jobs", io.NopCloser(bytes.NewReader(body)))
		r.ContentLength = int64(len(body))
		r.Header.Set("Content-Type", mediaJSON)
		w := &nowhere{h: http.Header{}}
		if h.ServeHTTP(w, r); w.status != 0 && w.status != http.StatusOK {
			t.Fatal(w.status)
		}
	}
	ask()
	const times = 100
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for range times {
		ask()
	}
	runtime.ReadMemStats(&after)
	pieces, size := (after.Mallocs-before.Mallocs)/times, (after.TotalAlloc-before.TotalAlloc)/times
	if pieces > 275 || size > 64_000 {
		t.Errorf("a request of one row throws %d bytes away in %d pieces", size, pieces)
	}
}

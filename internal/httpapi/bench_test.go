package httpapi

import (
	"bytes"
	"io"
	"net/http"
	"net/http/httptest"
	"strconv"
	"strings"
	"testing"
)

// oneRow is a coupling read by reverse indicator, invented.
const oneRow = `{"machines":[{"Machine":"P-101","Method":"reverse indicator","Speed [rpm]":1480,"Side at 3":"river side","Coupling to stationary plane":110,` +
	`"Coupling to movable plane":110,"Coupling to front feet":420,"Front to rear feet":610,"Movable rim 12":0,"Movable rim 3":0.11,"Movable rim 6":-0.22,"Movable rim 9":-0.33,` +
	`"Stationary rim 12":0,"Stationary rim 3":0.17,"Stationary rim 6":0.4,"Stationary rim 9":0.23,"Movable sag at 6":-0.04,"Stationary sag at 6":-0.05,` +
	`"Growth movable front V":0.1,"Growth movable rear V":0.12}]}`

// nowhere takes an answer and forgets it.
type nowhere struct {
	h      http.Header
	status int
}

func (n *nowhere) Header() http.Header         { return n.h }
func (n *nowhere) Write(b []byte) (int, error) { return len(b), nil }
func (n *nowhere) WriteHeader(s int)           { n.status = s }

// BenchmarkJob is a request from the handler to the answer, without a network, of one row and of a hundred.
func BenchmarkJob(b *testing.B) {
	for _, rows := range []int{1, 100} {
		b.Run(strconv.Itoa(rows), func(b *testing.B) {
			h := New(Config{Version: "test"})
			first, rest, _ := strings.Cut(oneRow, "P-101")
			start, list := `{"machines":[`, []string{}
			for i := range rows {
				list = append(list, strings.TrimPrefix(first, start)+"P-"+strconv.Itoa(i)+strings.TrimSuffix(rest, "]}"))
			}
			body := []byte(start + strings.Join(list, ",") + "]}")
			b.ReportAllocs()
			for b.Loop() {
				r := httptest.NewRequest("POST", "/v1/jobs", io.NopCloser(bytes.NewReader(body)))
				r.ContentLength = int64(len(body))
				r.Header.Set("Content-Type", mediaJSON)
				w := &nowhere{h: http.Header{}}
				if h.ServeHTTP(w, r); w.status != 0 && w.status != http.StatusOK {
					b.Fatal(w.status)
				}
			}
		})
	}
}

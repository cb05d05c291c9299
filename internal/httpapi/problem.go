package httpapi

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strconv"

	"shimsheet/internal/job"
)

// A kind is one thing that can be wrong with a request, a row of the table kinds.
type kind struct {
	key    string
	status int
	title  string
}

// The kinds of problem.
var (
	kindParameter  = &kind{"parameter", http.StatusBadRequest, "A parameter of the address cannot be read"}
	kindCut        = &kind{"cut", http.StatusBadRequest, "The body ended early"}
	kindCross      = &kind{"cross-site", http.StatusForbidden, "Pages of other sites are not answered"}
	kindNotFound   = &kind{"not-found", http.StatusNotFound, "There is nothing at this address"}
	kindMethod     = &kind{"method", http.StatusMethodNotAllowed, "The address takes another method"}
	kindAccept     = &kind{"not-acceptable", http.StatusNotAcceptable, "None of the forms asked for can be given"}
	kindSlow       = &kind{"slow", http.StatusRequestTimeout, "The body took too long to come"}
	kindTooLarge   = &kind{"too-large", http.StatusRequestEntityTooLarge, "The job is too large for one request"}
	kindMediaType  = &kind{"media-type", http.StatusUnsupportedMediaType, "Bodies of this type are not read"}
	kindUnreadable = &kind{"unreadable", http.StatusUnprocessableEntity, "The job cannot be read"}
	kindFailed     = &kind{"failed", http.StatusInternalServerError, "The program failed"}
	kindBusy       = &kind{"busy", http.StatusServiceUnavailable, "Too much to do just now"}
	kindTooLong    = &kind{"too-long", http.StatusServiceUnavailable, "The job took too long"}
)

var kinds = []*kind{kindParameter, kindCut, kindCross, kindNotFound, kindMethod, kindAccept, kindSlow, kindTooLarge, kindMediaType, kindUnreadable, kindFailed, kindBusy, kindTooLong}

// A problem is an answer that something is wrong: problem details as RFC 9457 has them, with the place in the job.
type problem struct {
	Type   string `json:"type"`
	Title  string `json:"title"`
	Status int    `json:"status"`
	Detail string `json:"detail"`
	Hint   string `json:"hint,omitempty"`
	Sheet  string `json:"sheet,omitempty"`
	Row    int    `json:"row,omitempty"`
	Column string `json:"column,omitempty"`

	Problems []placed `json:"problems,omitempty"` // everything that was found, where it is more than one
	ID       string   `json:"request_id"`
}

// A placed is a [job.Problem] as it stands in JSON.
type placed struct {
	Severity string `json:"severity"`
	Sheet    string `json:"sheet,omitempty"`
	Row      int    `json:"row,omitempty"`
	Column   string `json:"column,omitempty"`
	Text     string `json:"text"`
	Hint     string `json:"hint,omitempty"`
}

// problemsPath is where the kinds are listed, and what a type is relative to.
const problemsPath = "/v1/problems"

// failure is a problem of a kind.
func failure(k *kind, detail, hint string) *problem {
	return &problem{Type: problemsPath + "#" + k.key, Title: k.title, Status: k.status, Detail: detail, Hint: hint}
}

// at adds the place.
func (p *problem) at(sheet string, row int, column string) *problem {
	p.Sheet, p.Row, p.Column = sheet, row, column
	return p
}

// unreadable is the problem that a job was not read, with what was found besides.
func unreadable(detail, hint string, found []job.Problem) *problem {
	p := failure(kindUnreadable, detail, hint)
	for i := range found {
		f := &found[i]
		if p.Problems = append(p.Problems, placed{f.Severity.String(), f.Sheet, f.Row, f.Column, f.Text.String(), f.Hint.String()}); len(p.Problems) == 20 {
			break
		}
	}
	return p
}

// fail answers with a problem.
func (s *server) fail(w *answer, r *http.Request, p *problem) {
	h := w.Header()
	p.ID = h.Get(headerID)
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(p); err != nil {
		panic("httpapi: " + err.Error())
	}
	h.Set("Content-Type", mediaProblem)
	h.Set("Content-Length", strconv.Itoa(b.Len()))
	h.Set("Cache-Control", "no-store")
	h.Del("ETag")
	h.Del("Content-Encoding")
	h.Del("Content-Disposition")
	if p.Status == http.StatusServiceUnavailable {
		h.Set("Retry-After", "5")
	}
	w.WriteHeader(p.Status)
	if r.Method != http.MethodHead {
		w.Write(b.Bytes())
	}
}

package httpapi

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strconv"

	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// A kind is one thing that can be wrong with a request, a row of the table kinds.
type kind struct {
	key    string
	status int
	title  words.Key
}

// The kinds of problem.
var (
	kindParameter  = &kind{"parameter", http.StatusBadRequest, words.HttpKindParameter}
	kindCut        = &kind{"cut", http.StatusBadRequest, words.HttpKindCut}
	kindCross      = &kind{"cross-site", http.StatusForbidden, words.HttpKindCross}
	kindNotFound   = &kind{"not-found", http.StatusNotFound, words.HttpKindNotFound}
	kindMethod     = &kind{"method", http.StatusMethodNotAllowed, words.HttpKindMethod}
	kindAccept     = &kind{"not-acceptable", http.StatusNotAcceptable, words.HttpKindAccept}
	kindSlow       = &kind{"slow", http.StatusRequestTimeout, words.HttpKindSlow}
	kindTooLarge   = &kind{"too-large", http.StatusRequestEntityTooLarge, words.HttpKindTooLarge}
	kindMediaType  = &kind{"media-type", http.StatusUnsupportedMediaType, words.HttpKindMediaType}
	kindUnreadable = &kind{"unreadable", http.StatusUnprocessableEntity, words.HttpKindUnreadable}
	kindFailed     = &kind{"failed", http.StatusInternalServerError, words.HttpKindFailed}
	kindBusy       = &kind{"busy", http.StatusServiceUnavailable, words.HttpKindBusy}
	kindTooLong    = &kind{"too-long", http.StatusServiceUnavailable, words.HttpKindTooLong}
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
	return &problem{Type: problemsPath + "#" + k.key, Title: k.title.String(), Status: k.status, Detail: detail, Hint: hint}
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

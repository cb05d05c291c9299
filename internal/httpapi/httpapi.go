// Package httpapi is the calculation over HTTP: one [http.Handler] for a machine of one's own, for the edge, and for tests.
//
// Start with [New]. The handler keeps nothing between requests: a request holds a job and is answered with its results, no body is stored and none is logged. What it
// answers where stands in one table, routes; the description for programs, /v1/openapi.json, is made of that table and of the sheets' own columns. What cannot be answered
// is told as problem details (RFC 9457), with the place in the job and a hint where there is one.
//
// Left out on purpose: listening, TLS, names and passwords, metrics and logs, which belong to whoever mounts the handler. It knows neither the workbook library nor a
// clock: workbooks are read and written by what [Config] hands in, and limits of time bind only where the machine has timers.
package httpapi

import (
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"math/rand/v2"
	"net/http"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// Config is what a handler is given. Of the limits 0 means the default, which stands behind each.
type Config struct {
	Version string        // of the program, told by health and in the description
	Page    []byte        // the offline page, gzip; nil: there is none at /
	Brotli  func() []byte // the page as brotli packs it, nil while it does not yet; nil: never
	PageTag string        // without Page: the digest of one that whoever mounts the handler puts into the answer, see [HeaderAsset]
	Books   Books         // nil: workbooks are neither read nor written

	MaxBody  int64         // bytes of a body, streams excepted: 16 MiB
	MaxRows  int           // rows of a sheet of a job: 20,000
	MaxCells int           // cells of a job: 2,000,000
	Jobs     int           // jobs worked out at a time: one for each processor
	Streams  int           // streams at a time: 8
	Wait     time.Duration // how long a job waits for its turn: 5 s
	Compute  time.Duration // how long a job may take: 30 s; negative: as long as it takes, for where nothing can be timed
	Idle     time.Duration // how long a body may take to come, and a stream may stand still: 60 s
}

// Books reads and writes workbook files.
type Books interface {
	Read(data []byte) (*job.Job, []job.Problem, error)
	Write(e *sentences.Teller) ([]byte, error)
}

// withDefaults is c with its limits filled in.
func (c Config) withDefaults() Config {
	def := func(v *int, to int) {
		if *v == 0 {
			*v = to
		}
	}
	wait := func(v *time.Duration, to time.Duration) {
		if *v == 0 {
			*v = to
		}
	}
	if c.MaxBody == 0 {
		c.MaxBody = 16 << 20
	}
	def(&c.MaxRows, 20_000)
	def(&c.MaxCells, 2_000_000)
	def(&c.Jobs, runtime.GOMAXPROCS(0))
	def(&c.Streams, 8)
	wait(&c.Wait, 5*time.Second)
	wait(&c.Compute, 30*time.Second)
	wait(&c.Idle, 60*time.Second)
	return c
}

// A server is the handler.
type server struct {
	Config
	jobs, streams chan struct{} // a place for each that is worked on
	routes        []route
	paths         map[string][]*route
	page          *document
	cross         *http.CrossOriginProtection

	docsLock sync.Mutex
	docs     map[string]*document // made when they are first asked for
}

// New returns the handler.
func New(c Config) http.Handler {
	s := &server{Config: c.withDefaults(), paths: map[string][]*route{}, cross: http.NewCrossOriginProtection()}
	s.jobs, s.streams = make(chan struct{}, s.Jobs), make(chan struct{}, s.Streams)
	s.page = newPage(c.Page, c.Brotli, c.PageTag)
	s.routes, s.docs = routes(), map[string]*document{}
	for i := range s.routes {
		s.paths[s.routes[i].path] = append(s.paths[s.routes[i].path], &s.routes[i])
	}
	return s
}

// The headers of every answer. The page brings a policy of its own, which is the same but for what it runs.
var always = [...]struct {
	name  string
	value []string
}{
	{"X-Content-Type-Options", []string{"nosniff"}},
	{"Referrer-Policy", []string{"no-referrer"}},
	{"X-Frame-Options", []string{"DENY"}},
	{"Cross-Origin-Opener-Policy", []string{"same-origin"}},
	{"Cross-Origin-Resource-Policy", []string{"same-origin"}},
}

// policyOfAll is that of every answer but the page.
var policyOfAll = []string{apiPolicy}

const (
	apiPolicy = "default-src 'none'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'"

	// headerID names a request in the answer and in whatever log there is. One that comes in is kept.
	headerID = "X-Request-Id"
)

// ServeHTTP answers a request. A panic answers 500; where part of an answer is out already the connection is cut, so that nobody takes the part for the whole.
func (s *server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for i := range always {
		h[always[i].name] = always[i].value
	}
	h["Content-Security-Policy"] = policyOfAll
	id := r.Header.Get(headerID)
	if !plainID(id) {
		id = newID()
	}
	h[headerID] = []string{id}
	out := &answer{ResponseWriter: w}
	defer func() {
		p := recover()
		if p == nil {
			return
		}
		if p == http.ErrAbortHandler || out.begun {
			panic(http.ErrAbortHandler)
		}
		s.fail(out, r, failure(kindFailed, fmt.Sprint(p), ""))
	}()
	if bad := s.serve(out, r); bad != nil {
		s.fail(out, r, bad)
	}
}

// serve finds the route and takes it.
func (s *server) serve(w *answer, r *http.Request) *problem {
	list := s.paths[r.URL.Path]
	if strings.HasPrefix(r.URL.Path, tablesPrefix) {
		list = s.paths[tablesPrefix+"{file}"]
	}
	if len(list) == 0 {
		return failure(kindNotFound, words.HttpNothingAt.Say(shorten(r.URL.Path)), words.HttpSeeDescription.String())
	}
	method := r.Method
	if method == http.MethodHead {
		method = http.MethodGet
	}
	i := slices.IndexFunc(list, func(x *route) bool { return x.method == method })
	if i < 0 {
		var allow []string
		for _, x := range list {
			if allow = append(allow, x.method); x.method == http.MethodGet {
				allow = append(allow, http.MethodHead)
			}
		}
		w.Header().Set("Allow", strings.Join(append(allow, http.MethodOptions), ", "))
		if method == http.MethodOptions {
			w.WriteHeader(http.StatusNoContent)
			return nil
		}
		return failure(kindMethod, words.HttpTakesNo.Say(r.URL.Path, shorten(r.Method)), words.HttpTakes.Say(strings.Join(allow, words.HttpAnd.String())))
	}
	if err := s.cross.Check(r); err != nil {
		return failure(kindCross, words.HttpFromOtherSite.String(), words.HttpSendFromProgram.String())
	}
	r.Pattern = list[i].path // for whoever counts
	return list[i].serve(s, w, r)
}

// An answer is a response on its way.
type answer struct {
	http.ResponseWriter
	begun bool
}

// Write begins the answer.
func (a *answer) Write(b []byte) (int, error) {
	a.begun = true
	return a.ResponseWriter.Write(b)
}

// WriteHeader begins the answer.
func (a *answer) WriteHeader(status int) {
	a.begun = true
	a.ResponseWriter.WriteHeader(status)
}

// Unwrap is for [http.ResponseController].
func (a *answer) Unwrap() http.ResponseWriter { return a.ResponseWriter }

// newID is sixteen hexadecimal digits drawn at random.
func newID() string {
	var word [8]byte
	binary.BigEndian.PutUint64(word[:], rand.Uint64())
	return hex.EncodeToString(word[:])
}

// plainID says whether a name for a request can stand in headers and logs as it is.
func plainID(id string) bool {
	if id == "" || len(id) > 64 {
		return false
	}
	return strings.Trim(id, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") == ""
}

// shorten cuts a text of somebody else's for a message.
func shorten(s string) string {
	s = sentences.Visible(s)
	n := 0
	for i := range s {
		if n++; n > 60 {
			return s[:i] + "…"
		}
	}
	return s
}

// turn waits for a place among those that are worked on at a time. The place is given back by calling done.
func (s *server) turn(places chan struct{}) (done func(), bad *problem) {
	select {
	case places <- struct{}{}:
	default:
		t := time.NewTimer(s.Wait)
		defer t.Stop()
		select {
		case places <- struct{}{}:
		case <-t.C:
			return nil, failure(kindBusy, words.HttpBusy.Say(cap(places), s.Wait), words.HttpSendLater.String())
		}
	}
	return func() { <-places }, nil
}

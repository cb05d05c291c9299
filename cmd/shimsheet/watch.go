package main

import (
	"log/slog"
	"net/http"
	"strconv"
	"sync"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"

	"shimsheet/internal/sentences"
)

// A watch counts requests and logs them. Neither a body nor what stands behind the question mark of an address is looked at: both hold somebody's readings.
type watch struct {
	log      *slog.Logger
	every    bool // log requests that went well too
	registry *prometheus.Registry
	running  prometheus.Gauge
	requests *prometheus.CounterVec
	seconds  *prometheus.HistogramVec
	in, out  *prometheus.CounterVec

	lock  sync.RWMutex
	known map[labels]*meters
}

// labels tell kinds of requests apart. A route is a path of the handler's table, so that their number is bounded.
type labels struct {
	route, method string
	status        int
}

// meters are those of one kind of request, looked up once.
type meters struct {
	requests, in, out prometheus.Counter
	seconds           prometheus.Observer
}

func newWatch(log *slog.Logger, every bool) *watch {
	w := &watch{log: log, every: every, registry: prometheus.NewRegistry(), known: map[labels]*meters{},
		running:  prometheus.NewGauge(prometheus.GaugeOpts{Name: "shimsheet_http_running", Help: "Requests being answered."}),
		requests: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "shimsheet_http_requests_total", Help: "Requests answered."}, []string{"route", "method", "status"}),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{Name: "shimsheet_http_request_seconds", Help: "Time from the head of a request to the end of its answer.",
			Buckets: []float64{.0001, .00025, .0005, .001, .0025, .005, .01, .025, .05, .1, .25, .5, 1, 2.5, 5, 10, 30}}, []string{"route"}),
		in:  prometheus.NewCounterVec(prometheus.CounterOpts{Name: "shimsheet_http_in_bytes_total", Help: "Bytes of bodies as their heads announce them."}, []string{"route"}),
		out: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "shimsheet_http_out_bytes_total", Help: "Bytes of answers."}, []string{"route"})}
	w.registry.MustRegister(w.running, w.requests, w.seconds, w.in, w.out, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return w
}

// metrics is where they are read.
func (w *watch) metrics() http.Handler {
	return promhttp.HandlerFor(w.registry, promhttp.HandlerOpts{MaxRequestsInFlight: 4, Timeout: 10 * time.Second})
}

// meters finds those of a kind of request.
func (w *watch) meters(l labels) *meters {
	w.lock.RLock()
	m := w.known[l]
	w.lock.RUnlock()
	if m == nil {
		m = &meters{w.requests.WithLabelValues(l.route, l.method, strconv.Itoa(l.status)), w.in.WithLabelValues(l.route), w.out.WithLabelValues(l.route), w.seconds.WithLabelValues(l.route)}
		w.lock.Lock()
		w.known[l] = m
		w.lock.Unlock()
	}
	return m
}

// around watches a handler.
func (w *watch) around(h http.Handler) http.Handler {
	return http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		began := time.Now()
		w.running.Inc()
		seen := &seenWriter{ResponseWriter: rw, status: http.StatusOK}
		cut := true
		defer func() {
			w.running.Dec()
			w.note(r, seen, time.Since(began), cut)
		}()
		h.ServeHTTP(seen, r)
		cut = false
	})
}

// note counts and logs a request that was answered, or was cut off in its middle.
func (w *watch) note(r *http.Request, seen *seenWriter, took time.Duration, cut bool) {
	l := labels{route: r.Pattern, method: r.Method, status: seen.status}
	if l.route == "" {
		l.route = "other"
	}
	switch l.method {
	case http.MethodGet, http.MethodHead, http.MethodPost:
	default:
		l.method = "other"
	}
	m := w.meters(l)
	m.requests.Inc()
	m.seconds.Observe(took.Seconds())
	m.out.Add(float64(seen.bytes))
	if r.ContentLength > 0 {
		m.in.Add(float64(r.ContentLength))
	}
	level := slog.LevelInfo
	if seen.status >= 500 || cut {
		level = slog.LevelError
	} else if seen.status < 400 && !w.every {
		return
	}
	w.log.Log(r.Context(), level, "request", "id", seen.Header().Get("X-Request-Id"), "method", sentences.Visible(r.Method), "path", sentences.Visible(r.URL.Path), "status", seen.status,
		"bytes", seen.bytes, "took", took, "cut", cut)
}

// A seenWriter remembers what became of an answer.
type seenWriter struct {
	http.ResponseWriter
	status int
	bytes  int64
	begun  bool
}

func (s *seenWriter) WriteHeader(status int) {
	if !s.begun && status >= 200 {
		s.status, s.begun = status, true
	}
	s.ResponseWriter.WriteHeader(status)
}

func (s *seenWriter) Write(b []byte) (int, error) {
	s.begun = true
	n, err := s.ResponseWriter.Write(b)
	s.bytes += int64(n)
	return n, err
}

// Unwrap is for [http.ResponseController].
func (s *seenWriter) Unwrap() http.ResponseWriter { return s.ResponseWriter }

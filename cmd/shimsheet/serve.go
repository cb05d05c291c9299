package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net"
	"net/http"
	"net/http/pprof"
	"os/signal"
	"runtime"
	"sync/atomic"
	"time"

	"shimsheet/internal/httpapi"
	"shimsheet/internal/words"
	"shimsheet/internal/workbook"

	"github.com/andybalholm/brotli"
	"golang.org/x/net/netutil"
)

// The limits of connections. Those of jobs are the handler's.
const (
	maxConnections = 512
	maxHeader      = 32 << 10
	headerTime     = 10 * time.Second // for the head of a request to come
	keepTime       = 2 * time.Minute  // for a connection to stand idle
	graceTime      = 10 * time.Second // for what is under way when the server is told to end
)

// slack is memory that is never written to, and so takes no room of the machine: the collector counts it and comes by when as much as that was thrown away, and not at each few
// megabytes. A request of one row throws some ten thousand bytes away, and little else is kept.
const slack = 24 << 20

// runServe serves the page and the calculation until it is told to end.
func runServe(args []string, stdout, stderr io.Writer, files fs.FS) error {
	fl := newFlags("serve")
	var c httpapi.Config
	listen := fl.String("listen", "127.0.0.1:8080", "")
	profiles := fl.Bool("pprof", false, "")
	noMetrics := fl.Bool("nometrics", false, "")
	every := fl.Bool("verbose", false, "")
	asJSON := fl.Bool("logjson", false, "")
	life := fl.Duration("for", 0, "")
	fl.Int64Var(&c.MaxBody, "maxbody", 0, "")
	fl.IntVar(&c.MaxRows, "maxrows", 0, "")
	fl.IntVar(&c.Jobs, "jobs", 0, "")
	fl.IntVar(&c.Streams, "streams", 0, "")
	fl.DurationVar(&c.Compute, "compute", 0, "")
	fl.DurationVar(&c.Idle, "idle", 0, "")
	given, err := parse(fl, args)
	if err != nil {
		return err
	}
	if len(given) > 0 {
		return errors.New(words.CommandServeTakesNo.Say(given[0]))
	}
	if bad := negative(fl); bad != "" {
		return errors.New(words.CommandLimitAbove0.Say(bad))
	}
	rest := make([]byte, slack)
	defer runtime.KeepAlive(rest)
	c.Version, c.Books = versionText(), workbook.Books{}
	if c.Page, err = fs.ReadFile(files, pageFile); err != nil {
		fmt.Fprintln(stderr, "shimsheet: "+words.CommandOnlyCalculation.String())
	} else {
		c.Brotli = inBrotli(c.Page)
	}
	opts := &slog.HandlerOptions{Level: slog.LevelInfo}
	log := slog.New(slog.NewTextHandler(stderr, opts))
	if *asJSON {
		log = slog.New(slog.NewJSONHandler(stderr, opts))
	}
	ctx, stop := signal.NotifyContext(context.Background(), endings...)
	defer stop()
	if *life > 0 {
		var cancel func()
		ctx, cancel = context.WithTimeout(ctx, *life)
		defer cancel()
	}
	l, err := net.Listen("tcp", *listen)
	if err != nil {
		return words.CommandListen.Wrap(err, *listen)
	}
	if a, ok := l.Addr().(*net.TCPAddr); ok && !a.IP.IsLoopback() {
		log.Warn(words.CommandOtherMachines.String(), "address", l.Addr().String())
	}
	fmt.Fprintf(stdout, "http://%s/\n", l.Addr())
	return serve(ctx, netutil.LimitListener(l, maxConnections), serving(c, log, *every, !*noMetrics, *profiles), log, graceTime)
}

// brotliLevel packs the page, most of which is packed already, in a second or two, to half a per cent less than gzip; the levels above take ten times that for a tenth of it.
const brotliLevel = 5

// inBrotli packs the page, which comes in gzip, while the server is up already, once. Until then there is none.
func inBrotli(page []byte) func() []byte {
	var made atomic.Pointer[[]byte]
	go func() {
		var b bytes.Buffer
		z, err := gzip.NewReader(bytes.NewReader(page))
		if err == nil {
			w := brotli.NewWriterLevel(&b, brotliLevel)
			if _, err = io.Copy(w, z); err == nil {
				err = w.Close()
			}
		}
		if packed := b.Bytes(); err == nil {
			made.Store(&packed)
		}
	}()
	return func() []byte {
		if b := made.Load(); b != nil {
			return *b
		}
		return nil
	}
}

// negative is the name of the first flag that holds less than 0.
func negative(fl *flag.FlagSet) (bad string) {
	fl.Visit(func(f *flag.Flag) {
		if v := f.Value.String(); bad == "" && len(v) > 0 && v[0] == '-' {
			bad = f.Name
		}
	})
	return bad
}

// serving is what the server answers with: the handler, watched, and beside it the metrics and the profiles.
func serving(c httpapi.Config, log *slog.Logger, every, metrics, profiles bool) http.Handler {
	mux := http.NewServeMux()
	w := newWatch(log, every)
	handler := w.around(httpapi.New(c))
	if metrics {
		mux.Handle("GET /metrics", w.metrics())
	}
	if profiles {
		mux.HandleFunc("/debug/pprof/", pprof.Index)
		mux.HandleFunc("/debug/pprof/cmdline", pprof.Cmdline)
		mux.HandleFunc("/debug/pprof/profile", pprof.Profile)
		mux.HandleFunc("/debug/pprof/symbol", pprof.Symbol)
		mux.HandleFunc("/debug/pprof/trace", pprof.Trace)
	}
	return http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		if _, pattern := mux.Handler(r); pattern != "" {
			mux.ServeHTTP(rw, r)
			return
		}
		handler.ServeHTTP(rw, r) // not through the mux, which would answer odd paths with a redirection
	})
}

// serve answers until ctx ends, and then lets what is under way come to its end, for as long as grace.
func serve(ctx context.Context, l net.Listener, h http.Handler, log *slog.Logger, grace time.Duration) error {
	srv := &http.Server{Handler: h, ReadHeaderTimeout: headerTime, IdleTimeout: keepTime, MaxHeaderBytes: maxHeader, ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelWarn)}
	ended := make(chan error, 1)
	go func() { ended <- srv.Serve(l) }()
	log.Info("serving", "address", l.Addr().String())
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
	}
	log.Info("ending: what is under way comes to its end", "at most", grace)
	late, cancel := context.WithTimeout(context.Background(), grace)
	defer cancel()
	err := srv.Shutdown(late)
	if errors.Is(err, context.DeadlineExceeded) {
		log.Warn("ended before everything was answered")
		err = srv.Close()
	}
	log.Info("ended")
	return err
}

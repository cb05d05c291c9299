// Command load measures a server of ours on this machine: a few connections send one request over and over, and what came back is counted and timed.
//
//	go run ./test/load -url http://127.0.0.1:8080/v1/jobs -type application/json -body row.json [-rate 1000] [-connections 16] [-for 5s]
//
// It asks loopback only and for ten seconds at most. Without -rate each connection sends as soon as it was answered; with it requests are due at fixed times, and the time of
// one counts from when it was due, so that a server that stands still cannot hide it.
package main

import (
	"bufio"
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"slices"
	"sync"
	"sync/atomic"
	"time"
)

const longest = 10 * time.Second

func main() {
	var l load
	flag.StringVar(&l.url, "url", "", "an address on 127.0.0.1")
	flag.StringVar(&l.media, "type", "", "Content-Type of the body")
	flag.StringVar(&l.accept, "accept", "", "Accept")
	body := flag.String("body", "", "file of the body; none: GET")
	flag.IntVar(&l.connections, "connections", 16, "connections")
	flag.Float64Var(&l.rate, "rate", 0, "requests a second in all; 0: as many as there are answers")
	flag.DurationVar(&l.time, "for", 5*time.Second, "how long")
	flag.Parse()
	err := l.prepare(*body)
	if err == nil {
		err = l.run(os.Stdout)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "load:", err)
		os.Exit(1)
	}
}

// A load is what is sent, and how.
type load struct {
	url, media, accept string
	connections        int
	rate               float64
	time               time.Duration

	addr    string
	request []byte
}

// prepare makes the bytes of the request.
func (l *load) prepare(file string) error {
	u, err := url.Parse(l.url)
	if err != nil {
		return err
	}
	if ip := net.ParseIP(u.Hostname()); ip == nil || !ip.IsLoopback() {
		return errors.New("only loopback is asked, by its number")
	}
	if l.time > longest || l.time <= 0 || l.connections < 1 {
		return fmt.Errorf("up to %v, with a connection at least", longest)
	}
	l.addr = u.Host
	method, body := "GET", []byte(nil)
	if file != "" {
		method = "POST"
		if body, err = os.ReadFile(file); err != nil {
			return err
		}
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s %s HTTP/1.1\r\nHost: %s\r\n", method, u.RequestURI(), u.Host)
	if l.accept != "" {
		fmt.Fprintf(&b, "Accept: %s\r\n", l.accept)
	}
	if file != "" {
		fmt.Fprintf(&b, "Content-Type: %s\r\nContent-Length: %d\r\n", l.media, len(body))
	}
	b.WriteString("\r\n")
	l.request = append(b.Bytes(), body...)
	return nil
}

// run sends, and tells what came back.
func (l *load) run(out io.Writer) error {
	var lock sync.Mutex
	var took []time.Duration
	var failed, next, read atomic.Int64
	var first error
	began := time.Now()
	var all sync.WaitGroup
	for range l.connections {
		all.Go(func() {
			mine, err := l.connection(began, &next, &failed, &read)
			lock.Lock()
			defer lock.Unlock()
			if took = append(took, mine...); err != nil && first == nil {
				first = err
			}
		})
	}
	all.Wait()
	spent := time.Since(began).Seconds()
	if len(took) == 0 {
		return fmt.Errorf("nothing was answered: %v", first)
	}
	slices.Sort(took)
	at := func(q float64) time.Duration { return took[int(q*float64(len(took)-1))].Round(10 * time.Microsecond) }
	fmt.Fprintf(out, "%d connections, %.1f s: %.0f answers/s, %.1f MB/s, p50 %v, p90 %v, p99 %v, most %v; not 200: %d", l.connections, spent, float64(len(took))/spent,
		float64(read.Load())/spent/1e6, at(.5), at(.9), at(.99), at(1), failed.Load())
	if first != nil {
		fmt.Fprintf(out, "; first error: %v", first)
	}
	fmt.Fprintln(out)
	return nil
}

// connection sends over one connection until the time is up.
func (l *load) connection(began time.Time, next, failed, read *atomic.Int64) (took []time.Duration, err error) {
	c, err := net.Dial("tcp", l.addr)
	if err != nil {
		return nil, err
	}
	defer c.Close()
	c.SetDeadline(began.Add(l.time + 30*time.Second))
	in := bufio.NewReaderSize(c, 64<<10)
	for {
		due := time.Now()
		if l.rate > 0 {
			due = began.Add(time.Duration(float64(next.Add(1)-1) / l.rate * float64(time.Second)))
			time.Sleep(time.Until(due))
		}
		if time.Since(began) > l.time {
			return took, nil
		}
		if _, err = c.Write(l.request); err != nil {
			return took, err
		}
		res, err := http.ReadResponse(in, nil)
		if err != nil {
			return took, err
		}
		n, err := io.Copy(io.Discard, res.Body)
		res.Body.Close()
		if err != nil {
			return took, err
		}
		read.Add(n)
		if res.StatusCode != http.StatusOK {
			failed.Add(1)
		}
		took = append(took, time.Since(due))
	}
}

//go:build !js

package main

import (
	"bytes"
	"context"
	"log/slog"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// Told to end, the server waits for what is under way; what takes longer than it waits is cut off, and that is said.
func TestServeWaitsSoLong(t *testing.T) {
	for _, c := range []struct {
		work, grace time.Duration
		late        bool
	}{{0, time.Minute, false}, {20 * time.Millisecond, time.Minute, false}, {time.Minute, 20 * time.Millisecond, true}} {
		l, err := net.Listen("tcp", "127.0.0.1:0")
		if err != nil {
			t.Fatal(err)
		}
		ctx, end := context.WithCancel(t.Context())
		begun := make(chan struct{})
		h := http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
			close(begun)
			select {
			case <-time.After(c.work):
			case <-r.Context().Done():
			}
		})
		var log bytes.Buffer
		served := make(chan error, 1)
		go func() {
			served <- serve(ctx, l, h, slog.New(slog.NewTextHandler(&log, nil)), c.grace)
		}()
		answer := make(chan error, 1)
		go func() {
			res, err := http.Get("http://" + l.Addr().String())
			if err == nil {
				res.Body.Close()
			}
			answer <- err
		}()
		<-begun
		end()
		select {
		case err = <-served:
		case <-time.After(30 * time.Second):
			t.Fatal("it does not end")
		}
		if err != nil {
			t.Errorf("%+v: %v", c, err)
		}
		if cut := (<-answer) != nil; cut != c.late {
			t.Errorf("%+v: cut off %v", c, cut)
		}
		if said := strings.Contains(log.String(), "ended before everything was answered"); said != c.late || !strings.Contains(log.String(), "msg=ended") {
			t.Errorf("%+v: %s", c, &log)
		}
	}
	// a listener that is closed under it is no ending
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	l.Close()
	if err := serve(t.Context(), l, nil, slog.New(slog.DiscardHandler), time.Second); err == nil {
		t.Error("served on a closed listener")
	}
}

// Started without a word the command says how it is used.
func TestStartedAlone(t *testing.T) {
	status, out, errs := start(t, t.TempDir())
	if status != exitNothing || out != "" || errs != usage() {
		t.Errorf("%d, %q, %q", status, out, errs)
	}
}

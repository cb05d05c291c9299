//go:build js && wasm

package edge

import (
	"errors"
	"net/http"
	"syscall/js"

	"github.com/syumai/workers"
)

// Serve answers requests with h for as long as the program stands.
func Serve(h http.Handler) {
	workers.ServeNonBlock(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		out := &reply{host: w.(host)}
		defer out.end()
		h.ServeHTTP(out, r)
	}))
	workers.Ready()
	select {}
}

// A host is what the library hands a handler to write to.
type host interface {
	http.ResponseWriter
	WriteRawJSBody(body js.Value) // takes the body as the runtime knows it
	Ready()                       // lets the answer go
}

// wholeBody is how long a body may grow before it goes out as a stream.
const wholeBody = 256 << 10

// A reply is an answer on its way.
type reply struct {
	host
	held   []byte
	status int
	writer js.Value // of the stream, undefined until there is one
}

// WriteHeader keeps the status until the body is known.
func (r *reply) WriteHeader(status int) {
	if r.status == 0 {
		r.status = status
		r.host.WriteHeader(status)
	}
}

// Write holds what is short, and waits for the reader of what is long.
func (r *reply) Write(b []byte) (int, error) {
	r.WriteHeader(http.StatusOK)
	if r.writer.IsUndefined() && len(r.held)+len(b) <= wholeBody {
		r.held = append(r.held, b...)
		return len(b), nil
	}
	if err := r.open(); err != nil {
		return 0, err
	}
	return len(b), r.send(b)
}

// Flush lets go what was written so far.
func (r *reply) Flush() { _ = r.open() }

// open lets the answer go, its body a stream.
func (r *reply) open() error {
	if !r.writer.IsUndefined() {
		return nil
	}
	r.WriteHeader(http.StatusOK)
	pair := js.Global().Get("TransformStream").New()
	r.writer = pair.Get("writable").Call("getWriter")
	r.host.WriteRawJSBody(pair.Get("readable"))
	r.host.Ready()
	held := r.held
	r.held = nil
	if len(held) == 0 {
		return nil
	}
	return r.send(held)
}

// send writes to the stream and waits until it is taken.
func (r *reply) send(b []byte) error { return wait(r.writer.Call("write", bytesOf(b))) }

// end lets a short answer go whole, or closes the stream. A handler that gave up leaves a stream that breaks off, not one that ends.
func (r *reply) end() {
	p := recover()
	if r.writer.IsUndefined() {
		if p != nil {
			r.Header().Del("Content-Length")
			r.held, r.status = nil, 0
			r.WriteHeader(http.StatusInternalServerError)
		}
		r.host.WriteRawJSBody(bytesOf(r.held))
		return
	}
	if p != nil {
		_ = wait(r.writer.Call("abort", "the answer is not whole"))
		return
	}
	_ = wait(r.writer.Call("close"))
}

func bytesOf(b []byte) js.Value {
	a := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(a, b)
	return a
}

// wait waits for a promise.
func wait(promise js.Value) error {
	done := make(chan error, 1)
	kept := js.FuncOf(func(js.Value, []js.Value) any { done <- nil; return nil })
	broken := js.FuncOf(func(_ js.Value, args []js.Value) any {
		done <- errors.New("the reader has gone: " + args[0].Call("toString").String())
		return nil
	})
	defer kept.Release()
	defer broken.Release()
	promise.Call("then", kept, broken)
	return <-done
}

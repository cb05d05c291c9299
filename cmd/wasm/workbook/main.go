//go:build js && wasm

// Command workbook is the Go program for workbook files, run by the page in a Web Worker of its own, which is started when a workbook is first
// wanted and ended afterwards: that gives its memory back, and ending it is how work is cancelled.
//
// # Messages
//
// When it listens the worker posts {ready: true, version: text}. Then each message to it is a request,
//
//	{id: number, op: "inspect", name: text, data: Uint8Array}
//	{id: number, op: "read",    name: text, data: Uint8Array, choices?: JSON text}
//	{id: number, op: "write",   job: JSON text, options?: JSON text}
//	{id: number, op: "addTo",   job: JSON text, options?: JSON text, data: Uint8Array}
//
// to which it posts, in order and on the same id, any number of {id, progress: 0 … 1} and one end:
//
//	{id, ok: true, json: text}         inspect: a workbook.Preview; read: {"job": a saved job, "report": a workbook.Report}
//	{id, ok: true, file: Uint8Array}   write, addTo: the workbook, its buffer transferred
//	{id, ok: false, error: text}       a sentence for the person
//
// choices is a workbook.Choices, options a workbook.Options. Requests are done one after another. To cancel, terminate the worker; the page's
// job is not touched before it takes the answer. Text that is no workbook (.csv, .tsv) is read through the same door.
package main

import (
	"syscall/js"

	"shimsheet/internal/workbook"
)

// version is set by the linker.
var version = "development"

func main() {
	self := js.Global()
	self.Set("onmessage", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) > 0 {
			handle(self, args[0].Get("data"))
		}
		return nil
	}))
	self.Call("postMessage", map[string]any{"ready": true, "version": version})
	select {} // a program that has ended cannot be called
}

// handle does one message and always posts one end.
func handle(self, m js.Value) {
	id := js.Undefined()
	defer func() { // what answer does not catch: a message that is no request
		if p := recover(); p != nil {
			self.Call("postMessage", map[string]any{"id": id, "ok": false, "error": "workbook: this message is no request"})
		}
	}()
	id = m.Get("id")
	text := func(name string) string {
		if v := m.Get(name); v.Type() == js.TypeString {
			return v.String()
		}
		return ""
	}
	r := &request{op: text("op"), name: text("name"), choices: text("choices"), job: text("job"), options: text("options")}
	if d := m.Get("data"); d.Type() == js.TypeObject && d.InstanceOf(self.Get("Uint8Array")) {
		n := min(d.Get("length").Int(), workbook.MaxFile+1) // one past the limit is refused with a sentence
		r.data = make([]byte, n)
		js.CopyBytesToGo(r.data, d.Call("subarray", 0, n))
	}
	last := -1.0
	out, err := answer(r, func(x float64) {
		if x-last >= 0.01 || x >= 1 {
			last = x
			self.Call("postMessage", map[string]any{"id": id, "progress": x})
		}
	})
	switch {
	case err != nil:
		self.Call("postMessage", map[string]any{"id": id, "ok": false, "error": err.Error()})
	case out.file != nil:
		a := self.Get("Uint8Array").New(len(out.file))
		js.CopyBytesToJS(a, out.file)
		self.Call("postMessage", map[string]any{"id": id, "ok": true, "file": a}, []any{a.Get("buffer")})
	default:
		self.Call("postMessage", map[string]any{"id": id, "ok": true, "json": string(out.json)})
	}
}

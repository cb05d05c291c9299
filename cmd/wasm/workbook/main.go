//go:build js && wasm

// Command workbook is the Go program for workbook files, run by the page in a Web Worker of its own, which is started when a workbook is first
// wanted and ended afterwards: that gives its memory back, and ending it is how work is cancelled.
//
// # Messages
//
// When it listens the worker posts {ready: true, version: text}. Then each message to it is a request,
//
//	{op: "read",  name: text, data: Uint8Array, choices?: JSON text}   opens a file
//	{op: "read",  choices?: JSON text}                                 reads it again with other choices
//	{op: "take"}                                                       hands over the job that was read
//	{op: "text",  name: text, data: Uint8Array}                        reads a file as the text of a job
//	{op: "head",  head: JSON text}                                     begins a job for writing: a saved job without rows
//	{op: "rows",  table: number, rows: packed text}                    appends rows to a sheet of it, see job.AppendPacked
//	{op: "work"}                                                       works that job out ahead
//	{op: "make",  options?: JSON text}                                 makes a workbook of it ahead, for a write with the same options
//	{op: "write", options?: JSON text, data?: Uint8Array}              writes a workbook of it, or adds to the one given
//	{op: "warm"}                                                       works on something small, see program.warm
//
// to which it posts, in order, any number of {progress: 0 … 1}; on take the pieces, {head: JSON text} and {table, rows, progress}; and one end:
//
//	{ok: true, json?: text}          read: {"preview": a workbook.Report, "refused": why it gives no job, "rows": their number by table}
//	{ok: true, json: text}           text: {"text": a job as a job file has it}
//	{ok: true, file: Uint8Array}     write: the workbook
//	{ok: false, error: text}         a sentence for the person
//
// choices is a workbook.Choices, options a workbook.Options. Requests are done one after another: the next may come after the end of the one before.
// To cancel, terminate the worker; the page's job is not touched before it takes the answer. Text that is no workbook (.csv, .tsv) is read through
// the same door.
//
// Where the host has globalThis.packing, its two functions are used. inflate(packed: Uint8Array, size, sum, sink) gives the plain bytes piece by
// piece to sink, which answers whether it wants more, and rejects unless they have that size and CRC-32. deflate(window: Uint8Array, fill) packs
// what fill puts into the window, as many bytes as it answers, 0 the end, and resolves to a gzip file.
package main

import (
	"encoding/binary"
	"errors"
	"hash/crc32"
	"slices"
	"syscall/js"

	"shimsheet/internal/workbook"
)

// version is set by the linker.
var version = "development"

// memory is when garbage is collected.
var memory collector

func main() {
	self := js.Global()
	p := new(program)
	memory.late()
	if host := self.Get("packing"); host.Type() == js.TypeObject {
		// The plain bytes go over piece by piece, straight to where they belong: a large array on either side would only be copied again.
		p.inflate = func(packed []byte, size int, sum uint32, dst []byte) error {
			n := 0
			sink := js.FuncOf(func(_ js.Value, args []js.Value) any {
				if k := args[0].Get("length").Int(); dst != nil && n+k <= size {
					js.CopyBytesToGo(dst[n:], args[0])
				}
				n += args[0].Get("length").Int()
				return n <= size
			})
			defer sink.Release()
			if _, err := await(host.Call("inflate", uint8Array(packed), size, sum, sink)); err != nil {
				return err
			}
			if n != size {
				return errors.New("another size")
			}
			return nil
		}
		window := self.Get("Uint8Array").New(256 << 10)
		p.deflate = func(pieces ...[]byte) ([]byte, uint32, error) {
			// Checked against what was handed over: a checksum of something else would make a workbook that looks whole.
			rest := slices.Clone(pieces) // after a failure they are packed here
			size, sum := 0, crc32.NewIEEE()
			fill := js.FuncOf(func(js.Value, []js.Value) any {
				for len(rest) > 0 && len(rest[0]) == 0 {
					rest = rest[1:]
				}
				if len(rest) == 0 {
					return 0
				}
				n := js.CopyBytesToJS(window, rest[0])
				sum.Write(rest[0][:n])
				size += n
				rest[0] = rest[0][n:]
				return n
			})
			defer fill.Release()
			v, err := await(host.Call("deflate", window, fill))
			if err != nil {
				return nil, 0, err
			}
			out := make([]byte, v.Get("length").Int())
			js.CopyBytesToGo(out, v)
			const head, tail = 10, 8 // RFC 1952, without the fields that may follow the head
			if len(out) < head+tail || out[0] != 0x1f || out[1] != 0x8b || out[3] != 0 {
				return nil, 0, errors.New("no gzip")
			}
			end := out[len(out)-tail:]
			if binary.LittleEndian.Uint32(end) != sum.Sum32() || binary.LittleEndian.Uint32(end[4:]) != uint32(size) {
				return nil, 0, errors.New("something else was packed")
			}
			return out[head : len(out)-tail], sum.Sum32(), nil
		}
	}
	requests := make(chan js.Value, 16)
	self.Set("onmessage", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if len(args) > 0 {
			requests <- args[0].Get("data")
		}
		return nil
	}))
	self.Call("postMessage", map[string]any{"ready": true, "version": version})
	for m := range requests { // a program that has ended cannot be called
		p.handle(self, m)
	}
}

// await waits for a promise.
func await(promise js.Value) (js.Value, error) {
	type end struct {
		v  js.Value
		ok bool
	}
	done := make(chan end, 1)
	settle := func(ok bool) js.Func {
		return js.FuncOf(func(_ js.Value, args []js.Value) any {
			done <- end{args[0], ok}
			return nil
		})
	}
	yes, no := settle(true), settle(false)
	defer yes.Release()
	defer no.Release()
	promise.Call("then", yes, no)
	if e := <-done; e.ok {
		return e.v, nil
	}
	return js.Value{}, errors.New("the host refused")
}

func uint8Array(b []byte) js.Value {
	a := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(a, b)
	return a
}

// handle does one message and always posts one end.
func (p *program) handle(self, m js.Value) {
	defer func() { // what answer does not catch: a message that is no request
		if x := recover(); x != nil {
			self.Call("postMessage", map[string]any{"ok": false, "error": "workbook: this message is no request"})
		}
	}()
	text := func(name string) string {
		if v := m.Get(name); v.Type() == js.TypeString {
			return v.String()
		}
		return ""
	}
	r := &request{op: text("op"), name: text("name"), choices: text("choices"), head: text("head"), rows: text("rows"), options: text("options")}
	if v := m.Get("table"); v.Type() == js.TypeNumber {
		r.table = v.Int()
	}
	if d := m.Get("data"); d.Type() == js.TypeObject && d.InstanceOf(self.Get("Uint8Array")) {
		n := min(d.Get("length").Int(), workbook.MaxFile+1) // one past the limit is refused with a sentence
		r.data = make([]byte, n)
		js.CopyBytesToGo(r.data, d.Call("subarray", 0, n))
	}
	last := -1.0
	out, err := p.answer(r, func(x float64) {
		if x-last >= 0.01 || x >= 1 && last < 1 {
			last = x
			memory.look()
			self.Call("postMessage", map[string]any{"progress": x})
		}
	}, func(x piece) {
		if x.head != "" {
			self.Call("postMessage", map[string]any{"head": x.head})
			return
		}
		self.Call("postMessage", map[string]any{"table": x.table, "rows": x.rows, "progress": x.progress})
	})
	switch {
	case err != nil:
		self.Call("postMessage", map[string]any{"ok": false, "error": err.Error()})
	case out.file != nil:
		self.Call("postMessage", map[string]any{"ok": true, "file": uint8Array(out.file)})
	case out.json != nil:
		self.Call("postMessage", map[string]any{"ok": true, "json": string(out.json)})
	default:
		self.Call("postMessage", map[string]any{"ok": true})
	}
}

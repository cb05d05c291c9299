//go:build js && wasm

// Command page is the Go program of the offline page. It answers the page's scripts through one function, shimsheet.call(operation, arguments …), with text.
//
// It is only the bridge: what the scripts can ask, and what is done then, is package desk.
package main

import (
	"syscall/js"

	"shimsheet/internal/desk"
)

// version is set by the linker.
var version = "development"

func main() {
	d := desk.New(version, progress) // the page opens a job first
	object := js.Global().Get("Object").New()
	object.Set("call", js.FuncOf(func(_ js.Value, in []js.Value) any { return call(d, in) }))
	js.Global().Set("shimsheet", object)
	js.Global().Call("dispatchEvent", js.Global().Get("Event").New("shimsheet-program"))
	select {} // a program that has ended cannot be called
}

// call hands an operation and its arguments over.
func call(d *desk.Desk, in []js.Value) string {
	values := make([]desk.Value, len(in))
	for i, v := range in {
		values[i] = value(v)
	}
	name := ""
	if len(in) > 0 {
		name, _ = values[0].(string)
		values = values[1:]
	}
	return d.Answer(name, values...)
}

// value is what the desk takes of a script's value.
func value(v js.Value) desk.Value {
	switch v.Type() {
	case js.TypeString:
		return v.String()
	case js.TypeNumber:
		return v.Float()
	case js.TypeBoolean:
		return v.Bool()
	case js.TypeObject:
		if !v.InstanceOf(js.Global().Get("Uint8Array")) {
			return desk.Unfit("is no Uint8Array")
		}
		n := v.Get("length").Int()
		if n > desk.MaxFile {
			return desk.TooLarge(n)
		}
		b := make([]byte, n)
		js.CopyBytesToGo(b, v)
		return b
	}
	return desk.Unfit("is " + v.Type().String())
}

// progress tells the worker that shares the stock out how far it is, 0 to 1. The page itself has no such function.
func progress(part float64) {
	if told := js.Global().Get("shimsheetProgress"); told.Type() == js.TypeFunction {
		told.Invoke(part)
	}
}

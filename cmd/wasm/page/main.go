//go:build js && wasm

// Command page is the Go program of the offline page. It keeps the job, its sheets and what is worked out from them, and answers the
// page's scripts through one function, shimsheet.call(operation, arguments …), with text: see operations in this package.
//
// It draws nothing and computes nothing itself: package grid has the rules of editing, package sheet the meaning and the numbers.
package main

import (
	"fmt"
	"runtime/debug"
	"syscall/js"
	"unsafe"
)

// version is set by the linker.
var version = "development"

func main() {
	a := new(app) // the page opens a job first
	object := js.Global().Get("Object").New()
	object.Set("call", js.FuncOf(func(_ js.Value, in []js.Value) any { return a.answer(in) }))
	js.Global().Set("shimsheet", object)
	js.Global().Call("dispatchEvent", js.Global().Get("Event").New("shimsheet-program"))
	select {} // a program that has ended cannot be called
}

// answer runs one operation. It never panics: a panic would end the program and take the typed texts with it, so it becomes an answer
// {"panic": …} that the page shows as a banner.
func (a *app) answer(in []js.Value) (out string) {
	defer func() {
		if r := recover(); r != nil {
			out = string(new(object).text("panic", fmt.Sprint(r)).text("stack", string(debug.Stack())).end())
		}
	}()
	if len(in) == 0 || in[0].Type() != js.TypeString {
		panic("page: the first argument names the operation")
	}
	name := in[0].String()
	op, ok := operations[name]
	if !ok {
		panic("page: no operation " + name)
	}
	args := arguments{in: in[1:]}
	res := op(a, &args)
	if args.bad != "" {
		res = failure("operation " + name + ": " + args.bad)
	}
	return string(res)
}

// raw is an answer: JSON, but for the viewport.
type raw string

// arguments checks what the scripts hand over. After a wrong one the operation's answer is thrown away.
type arguments struct {
	in  []js.Value
	n   int
	bad string
}

func (a *arguments) next(t js.Type) (js.Value, bool) {
	a.n++
	if a.n > len(a.in) {
		a.note(fmt.Sprintf("argument %d is missing", a.n))
		return js.Value{}, false
	}
	if v := a.in[a.n-1]; v.Type() == t {
		return v, true
	}
	a.note(fmt.Sprintf("argument %d is %s, not %s", a.n, a.in[a.n-1].Type(), t))
	return js.Value{}, false
}

func (a *arguments) note(s string) {
	if a.bad == "" {
		a.bad = s
	}
}

func (a *arguments) int() int {
	if v, ok := a.next(js.TypeNumber); ok {
		f := v.Float()
		if f >= -1e9 && f <= 1e9 {
			return int(f)
		}
		a.note(fmt.Sprintf("argument %d is out of range", a.n))
	}
	return 0
}

func (a *arguments) text() string {
	if v, ok := a.next(js.TypeString); ok {
		return v.String()
	}
	return ""
}

func (a *arguments) yes() bool {
	if v, ok := a.next(js.TypeBoolean); ok {
		return v.Bool()
	}
	return false
}

// more says that there is another argument.
func (a *arguments) more() bool { return a.n < len(a.in) }

// maxFile is the largest file the page takes.
const maxFile = 200 << 20

// utf8 is a text, or one handed over as its bytes: for a long one that is one copy and not three.
func (a *arguments) utf8() string {
	if a.n < len(a.in) && a.in[a.n].Type() == js.TypeString {
		return a.text()
	}
	b := a.bytes()
	return unsafe.String(unsafe.SliceData(b), len(b)) // nobody else has b
}

func (a *arguments) bytes() []byte {
	v, ok := a.next(js.TypeObject)
	if !ok {
		return nil
	}
	if !v.InstanceOf(js.Global().Get("Uint8Array")) {
		a.note(fmt.Sprintf("argument %d is no Uint8Array", a.n))
		return nil
	}
	n := v.Get("length").Int()
	if n > maxFile {
		a.note(fmt.Sprintf("the file has %d MB; the page takes %d MB", n>>20, maxFile>>20))
		return nil
	}
	b := make([]byte, n)
	js.CopyBytesToGo(b, v)
	return b
}

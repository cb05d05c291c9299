//go:build js && wasm

// Command page is the Go program of the offline page. It answers the page's scripts through one object, shimsheet, and takes the events of the browser to package frame, which knows what is to
// be done then; what the job is, is package desk's. Nothing else in Go knows the browser.
package main

import (
	"fmt"
	"runtime/debug"
	"syscall/js"

	"shimsheet/internal/desk"
	"shimsheet/internal/frame"
)

// version is set by the linker.
var version = "development"

// A page is the page in this browser.
type page struct {
	desk    *desk.Desk
	frame   *frame.Frame
	browser *browser
	menu    menus
	picking picking
	touched float64 // when a finger last left a key
}

func main() {
	p := &page{desk: desk.New(version, progress)} // the page opens a job first
	begin(p.desk)
	findDocument()
	if !document.Truthy() {
		debug.SetGCPercent(besidePage)
	}
	p.browser = &browser{p: p, shown: map[string]filled{}}
	p.frame = frame.New(p.desk, p.browser)
	p.menu.p = p
	object := global.Get("Object").New()
	for name, f := range map[string]func(in []js.Value) any{
		"call": func(in []js.Value) any { return call(p.desk, in) },
		"start": func(in []js.Value) any {
			web = in[0]
			lacks := number(in[1])
			go p.guarded(func() { p.frame.Start(lacks) })
			return nil
		},
		"event": func(in []js.Value) any {
			p.guarded(func() { listeners[in[0].String()](p, event{in[1]}) })
			return nil
		},
		"act":  func(in []js.Value) any { return p.act(in) },
		"tell": func(in []js.Value) any { p.tell(in); return nil },
	} {
		object.Set(name, js.FuncOf(func(_ js.Value, in []js.Value) any { return f(in) }))
	}
	global.Set("shimsheet", object)
	global.Call("dispatchEvent", global.Get("Event").New("shimsheet-program"))
	select {} // a program that has ended cannot be called
}

// guarded keeps a failure of f from ending the program, which would take the typed texts with it: it is told.
func (p *page) guarded(f func()) {
	defer func() {
		if r := recover(); r != nil {
			p.frame.Panicked(fmt.Sprint(r), string(debug.Stack()))
		}
	}()
	f()
}

// values are what the desk takes of a script's values.
func values(in []js.Value) []desk.Value {
	out := make([]desk.Value, len(in))
	for i, v := range in {
		out[i] = value(v)
	}
	return out
}

// call hands an operation and its arguments over.
func call(d *desk.Desk, in []js.Value) string {
	if len(in) == 0 {
		return d.Answer("")
	}
	name, _ := value(in[0]).(string)
	return d.Answer(name, values(in[1:])...)
}

// act does an operation on the sheet at hand and brings the page up to it. It says whether that was done; the sheet has the state then.
func (p *page) act(in []js.Value) (done bool) {
	p.guarded(func() { _, done = p.frame.Act(in[0].String(), values(in[1:])...) })
	return done
}

// tell hears what the scripts of the page have to say.
func (p *page) tell(in []js.Value) {
	p.guarded(func() {
		rest := in[1:]
		switch what := in[0].String(); what {
		case "say":
			p.frame.Say(rest[0].String())
		case "menu": // of a cell
			p.menu.at(byID("cellmenu"), rest[0].Float(), rest[1].Float(), byID("grid"))
		case "edit": // the cell under the cursor
			p.frame.EditCell(false, "")
		case "panicked":
			p.frame.Panicked(rest[0].String(), rest[1].String())
		default:
			panic("page: told " + what)
		}
	})
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
		if !v.InstanceOf(global.Get("Uint8Array")) {
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
	if told := global.Get("shimsheetProgress"); told.Type() == js.TypeFunction {
		told.Invoke(part)
	}
}

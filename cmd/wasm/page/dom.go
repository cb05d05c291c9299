//go:build js && wasm

package main

import "syscall/js"

// An element is one of the page's, or none. Markup goes onto the page as text, whole regions at a time (package screens); a library that wraps every element cost 68 kB of the page and
// four times as long for a list of 300 rows (BENCHMARKS.md), so that the few calls there are stand here.
type element struct{ js.Value }

var (
	global   = js.Global()
	document js.Value // none in a worker
	root     element  // of the document
	web      js.Value // what of the page is still a script: web/page.js
)

// findDocument looks where the program is. It comes after begin, for what began is nowhere yet.
func findDocument() {
	if document = global.Get("document"); document.Truthy() {
		root = element{document.Get("documentElement")}
	}
}

func byID(id string) element { return element{document.Call("getElementById", id)} }

func (e element) none() bool { return e.IsNull() || e.IsUndefined() }

func (e element) is(other element) bool { return !e.none() && e.Equal(other.Value) }

func (e element) find(selector string) element { return element{e.Call("querySelector", selector)} }

func (e element) all(selector string) []element { return list(e.Call("querySelectorAll", selector)) }

// list are the elements of a list of the browser's.
func list(v js.Value) []element {
	out := make([]element, v.Length())
	for i := range out {
		out[i] = element{v.Index(i)}
	}
	return out
}

// closest is the element itself or the nearest around it that a selector fits. What is no element, as the document itself, has none.
func (e element) closest(selector string) element {
	if e.none() || e.Get("closest").Type() != js.TypeFunction {
		return element{}
	}
	return element{e.Call("closest", selector)}
}

func (e element) contains(other element) bool {
	return !e.none() && !other.none() && e.Call("contains", other.Value).Bool()
}

// attribute is "" where the element has none of the name.
func (e element) attribute(name string) string {
	if v := e.Call("getAttribute", name); v.Type() == js.TypeString {
		return v.String()
	}
	return ""
}

func (e element) has(attribute string) bool { return e.Call("hasAttribute", attribute).Bool() }

func (e element) set(attribute, value string) { e.Call("setAttribute", attribute, value) }

func (e element) tag() string { return e.Get("tagName").String() }

// isField says whether text is typed into it, or something chosen.
func (e element) isField(names ...string) bool {
	if e.none() {
		return false
	}
	tag := e.tag()
	for _, n := range names {
		if tag == n {
			return true
		}
	}
	return false
}

func (e element) text() string {
	if e.none() {
		return ""
	}
	return e.Get("textContent").String()
}

func (e element) shown() bool { return !e.none() && !e.Get("hidden").Bool() }

func (e element) focus(still bool) {
	if e.none() || e.Get("focus").Type() != js.TypeFunction {
		return
	}
	e.Call("focus", map[string]any{"preventScroll": still})
}

// active is what has the focus.
func active() element { return element{document.Get("activeElement")} }

// once is a function that the browser calls once.
func once(f func(js.Value)) js.Func {
	var fn js.Func
	fn = js.FuncOf(func(_ js.Value, in []js.Value) any {
		fn.Release()
		v := js.Undefined()
		if len(in) > 0 {
			v = in[0]
		}
		f(v)
		return nil
	})
	return fn
}

// A rejection is why a promise was rejected.
type rejection struct{ js.Value }

func (r rejection) Error() string {
	if r.Type() == js.TypeObject && r.Get("message").Type() == js.TypeString {
		return r.Get("message").String()
	}
	return r.Value.String()
}

// await waits for a promise, or for a value that is none. It must not be called where the browser waits for the answer.
func await(v js.Value) (js.Value, error) {
	if v.Type() != js.TypeObject || v.Get("then").Type() != js.TypeFunction {
		return v, nil
	}
	type end struct {
		v   js.Value
		err error
	}
	ends := make(chan end, 1)
	var yes, no js.Func
	yes = js.FuncOf(func(_ js.Value, in []js.Value) any { ends <- end{v: in[0]}; return nil })
	no = js.FuncOf(func(_ js.Value, in []js.Value) any { ends <- end{err: rejection{in[0]}}; return nil })
	defer yes.Release()
	defer no.Release()
	v.Call("then", yes, no)
	e := <-ends
	return e.v, e.err
}

// texts are those of a list of the browser's.
func texts(v js.Value) []string {
	if v.Type() != js.TypeObject {
		return nil
	}
	out := make([]string, v.Length())
	for i := range out {
		out[i] = v.Index(i).String()
	}
	return out
}

// text is a text of the browser's, "" for anything else.
func text(v js.Value) string {
	if v.Type() != js.TypeString {
		return ""
	}
	return v.String()
}

func number(v js.Value) int {
	if v.Type() != js.TypeNumber {
		return 0
	}
	return int(v.Float())
}

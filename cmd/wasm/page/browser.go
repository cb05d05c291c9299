//go:build js && wasm

package main

import (
	"strconv"
	"strings"
	"syscall/js"
	"time"

	"shimsheet/internal/frame"
)

// browser is the page in a browser, as package frame sees it.
type browser struct {
	p       *page
	filling bool // something is put on the page: what that makes the browser tell is no act of the person's
	shown   map[string]filled
	files   hearing // of the worker that reads and writes files
	stock   hearing // of the one that shares the stock out
}

// filled is what was put into a region last.
type filled struct {
	el   element
	html string
}

func (b *browser) SetText(id, s string) {
	if e := byID(id); !e.none() {
		e.Set("textContent", s)
	}
}

func (b *browser) SetHTML(id, html string) {
	if e := byID(id); !e.none() {
		e.Set("innerHTML", html)
	}
}

func (b *browser) SetAttribute(id, name, value string) {
	if e := byID(id); !e.none() {
		e.set(name, value)
	}
}

func (b *browser) RemoveAttribute(id, name string) {
	if e := byID(id); !e.none() {
		e.Call("removeAttribute", name)
	}
}

func (b *browser) SetValue(id, value string) {
	switch e := byID(id); {
	case e.none():
	case text(e.Get("type")) == "checkbox":
		e.Set("checked", value == "true")
	case e.tag() == "PROGRESS" || e.Get("value").String() != value:
		e.Set("value", value)
	}
}

func (b *browser) Remove(id string) {
	if e := byID(id); !e.none() {
		e.Call("remove")
	}
}

func (b *browser) Focus(id string, still bool) { byID(id).focus(still) }

func (b *browser) HasFocus(id string) bool { return byID(id).contains(active()) }

func (b *browser) Select(id string) {
	if e := byID(id); !e.none() {
		e.Call("select")
	}
}

func (b *browser) ScrollTop(id string) {
	if e := byID(id); !e.none() {
		e.Call("scrollTo", 0, 0)
	}
}

func (b *browser) WindowTop(id string, lowOnly bool) {
	if lowOnly && !global.Call("matchMedia", "(max-height: 560px) and (min-width: 640px)").Get("matches").Bool() {
		return
	}
	if e := byID(id); !e.none() {
		e.Call("scrollIntoView", map[string]any{"block": "start", "behavior": "instant"})
	}
}

func (b *browser) Mark(name, value string) {
	if value == "" {
		root.Call("removeAttribute", "data-"+name)
	} else {
		root.set("data-"+name, value)
	}
	if name == "ready" {
		global.Get("performance").Call("mark", "shimsheet-ready")
		web.Call("ready")
		b.Later(0, collectLate)
	}
}

func (b *browser) Title(s string) { document.Set("title", s) }

func (b *browser) Press(id string) {
	if e := byID(id); !e.none() {
		e.Call("click")
	}
}

func (b *browser) Ways() []string {
	var out []string
	for _, e := range (element{document}).all("[data-columns]") {
		out = append(out, e.attribute("data-columns"), e.text())
	}
	return out
}

func (b *browser) TextOf(id string) string { return byID(id).text() }

func (b *browser) Shown(id string) bool { return byID(id).shown() }

func (b *browser) Show(id string) {
	if e := byID(id); !e.none() {
		e.Call("scrollIntoView", map[string]any{"block": "nearest"})
	}
}

func (b *browser) Width(id string) int {
	if e := byID(id); !e.none() {
		return e.Get("clientWidth").Int()
	}
	return 0
}

func (b *browser) Fine() bool {
	return global.Call("matchMedia", "(pointer: fine)").Get("matches").Bool()
}

// ChooseTab shows which tab of the page is chosen.
func (b *browser) ChooseTab(id string) {
	for _, t := range byID("tabs").all("[role=tab]") {
		on := t.Get("id").String() == id
		t.set("aria-selected", strconv.FormatBool(on))
		if on {
			t.Set("tabIndex", 0)
			t.Call("scrollIntoView", map[string]any{"block": "nearest", "inline": "nearest"})
		} else {
			t.Set("tabIndex", -1)
		}
	}
}

func (b *browser) ShowScreen(name string) {
	for _, e := range (element{document}).all(".screen") {
		e.Set("hidden", e.Get("id").String() != "screen-"+name)
	}
	document.Get("body").Get("dataset").Set("screen", name)
}

// Check marks which of a group of radio items of a menu holds.
func (b *browser) Check(attribute, value string) {
	for _, e := range (element{document}).all("[role=menuitemradio][data-" + attribute + "]") {
		e.set("aria-checked", strconv.FormatBool(e.attribute("data-"+attribute) == value))
	}
}

func (b *browser) Panel(about, html string) {
	box, keep := byID("panel-row"), 0.0
	was := box.attribute("data-about")
	if was == about {
		keep = box.Get("scrollTop").Float()
	}
	box.set("data-about", about)
	box.Set("innerHTML", html)
	if was != "" { // it costs a layout of the whole page
		box.Set("scrollTop", keep)
	}
}

func openDialog() element { return element{document}.find("dialog[open]") }

func (b *browser) OpenDialog(id string) {
	e := byID(id)
	if !e.Get("open").Bool() {
		e.Call("showModal")
	}
	e.find(".dlg-body").Set("scrollTop", 0)
}

func (b *browser) CloseDialog() {
	if e := openDialog(); !e.none() {
		e.Call("close")
	}
}

func (b *browser) DialogOpen() string {
	if e := openDialog(); !e.none() {
		return e.Get("id").String()
	}
	return ""
}

// NextArea leads the keyboard to the next area that is shown, behind the one it is in.
func (b *browser) NextArea(back bool, areas []frame.Area) {
	var shown []frame.Area
	at, here := -1, active()
	for _, a := range areas {
		e := byID(a.ID)
		if !e.shown() {
			continue
		}
		if at < 0 && e.contains(here) {
			at = len(shown)
		}
		shown = append(shown, a)
	}
	n := len(shown)
	switch {
	case at < 0 && !back:
		at = 0
	case at < 0:
		at = n - 1
	case back:
		at = (at + n - 1) % n
	default:
		at = (at + 1) % n
	}
	e := byID(shown[at].Focus)
	if shown[at].Focus == "" {
		e = byID(shown[at].ID)
		if first := e.find("input, [tabindex='0'], button"); !first.none() {
			e = first
		}
	}
	e.focus(false)
}

func (b *browser) Confirm(s string) bool { return global.Call("confirm", s).Bool() }

func (b *browser) Print() { global.Call("print") }

// The sheet.

func (b *browser) view() js.Value { return web.Get("view") }

func (b *browser) ViewState(answer string) { web.Call("viewState", answer) }

func (b *browser) ColumnName(col int) string {
	if c := b.view().Get("columns").Index(col); c.Type() == js.TypeObject {
		return text(c.Get("name"))
	}
	return ""
}

func (b *browser) PageRows() int { return b.view().Call("page").Int() }

func (b *browser) OpenEditor(s string, row, col int, typed bool) {
	b.view().Call("openEditor", s, row, col, typed)
}

func (b *browser) EditorText() string { return byID("editor").Get("value").String() }

func (b *browser) InsertInEditor(s string) {
	e := byID("editor")
	e.Call("setRangeText", s, e.Get("selectionStart"), e.Get("selectionEnd"), "end")
}

func (b *browser) PlaceEditor() { b.view().Call("place") }

func (b *browser) CloseEditor() { b.view().Call("closeEditor") }

func (b *browser) HasColumns() bool { return b.view().Get("columns").Length() > 0 }

func (b *browser) Relayout() { b.view().Call("relayout") }

func (b *browser) Restyle() { b.view().Call("restyle") }

func (b *browser) Draw(done func()) {
	promise := b.view().Call("draw")
	promise.Call("then", once(func(js.Value) { b.p.guarded(done) }))
}

func (b *browser) RevealCell(row, col int) { b.view().Call("reveal", row, col) }

func (b *browser) FocusSheet() { b.view().Call("focus") }

func (b *browser) SheetTop() { b.view().Get("el").Set("scrollTop", 0) }

func (b *browser) SheetLeft() { b.view().Get("el").Set("scrollLeft", 0) }

// Time.

func (b *browser) NextFrame(f func()) {
	global.Call("requestAnimationFrame", once(func(js.Value) { b.p.guarded(f) }))
}

func (b *browser) Painted(f func()) {
	done := false
	run := func() {
		if !done {
			done = true
			b.p.guarded(f)
		}
	}
	global.Call("requestAnimationFrame", once(func(js.Value) { b.Later(0, run) }))
	b.Later(300, run)
}

func (b *browser) NextTurn(f func()) {
	web.Call("breathe").Call("then", once(func(js.Value) { b.p.guarded(f) }))
}

func (b *browser) Later(ms int, f func()) (stop func()) {
	var fn js.Func
	fn = js.FuncOf(func(js.Value, []js.Value) any {
		fn.Release()
		b.p.guarded(f)
		return nil
	})
	timer := global.Call("setTimeout", fn, ms)
	return func() {
		global.Call("clearTimeout", timer)
		fn.Release()
	}
}

func (b *browser) Go(f func()) { go b.p.guarded(f) }

func (b *browser) Await(f func(done func())) {
	ended := make(chan struct{}, 8)
	f(func() {
		select {
		case ended <- struct{}{}:
		default:
		}
	})
	<-ended
}

func (b *browser) Now() string { return time.Now().UTC().Format("2006-01-02T15:04:05.000Z") }

func (b *browser) Clock(iso string) string { return web.Call("clock", iso).String() }

func (b *browser) Day(iso string) string {
	if iso == "" {
		return ""
	}
	return web.Call("day", iso).String()
}

func (b *browser) Today() string { return time.Now().Format("2006-01-02") }

func (b *browser) HourMinute(iso string) string { return web.Call("hourMinute", iso).String() }

// Files, the clipboard, what the browser keeps.

func (b *browser) Copy(s, html string) bool { return web.Call("toClipboard", s, html).Bool() }

func (b *browser) Clipboard(f func(text string, waiting bool)) {
	told := false
	none := func() {
		if !told {
			told = true
			f("", true)
		}
	}
	b.Later(500, none)
	web.Call("clipboardText").Call("then", once(func(v js.Value) {
		b.p.guarded(func() {
			if s := text(v); s != "" {
				told = true
				f(s, false)
			} else {
				none()
			}
		})
	}))
}

func (b *browser) HandOver(name, kind string, parts ...string) {
	var list []any
	for _, s := range parts {
		if rest, marked := strings.CutPrefix(s, "\ufeff"); marked { // texts that go to the browser lose the mark at their beginning
			list = append(list, global.Get("String").Call("fromCharCode", 0xfeff))
			s = rest
		}
		list = append(list, s)
	}
	web.Call("handOver", name, kind, list)
}

func (b *browser) HandOverPage(name, job, title, first string) {
	web.Call("handOverPage", name, job, title, first)
}

func (b *browser) CanPick() bool { return global.Get("showSaveFilePicker").Type() == js.TypeFunction }

// A target is a file that was picked.
type target struct{ js.Value }

func (t target) Name() string { return t.Get("name").String() }

func (b *browser) PickFile(suggested, what string) (frame.Target, bool) {
	v, err := await(web.Call("pickFile", suggested, what))
	if err != nil {
		r, is := err.(rejection)
		return nil, is && r.Type() == js.TypeObject && text(r.Get("name")) == "AbortError"
	}
	return target{v}, false
}

func (b *browser) WritePage(to frame.Target, job, title, first string) error {
	_, err := await(web.Call("writePage", to.(target).Value, job, title, first))
	return err
}

func (b *browser) FileName(job string, revision int, ending string) string {
	return web.Call("fileName", job, revision, ending).String()
}

func (b *browser) Damage() []string {
	v, err := await(web.Call("damage"))
	if err != nil {
		return nil
	}
	return texts(v)
}

func (b *browser) CutShort() bool {
	v, err := await(web.Call("cutShort"))
	return err == nil && v.Bool()
}

func (b *browser) JobInPage() []byte { return bytesOf(web.Call("utf8", web.Call("jobInPage"))) }

func (b *browser) DigestOf(job string) string {
	// Only the end is looked at, and a whole job is long.
	return text(web.Call("digestOf", job[max(0, len(job)-200):]))
}

func (b *browser) Unpacked(name string) string {
	v, err := await(web.Call("unpacked", name))
	if err != nil {
		return ""
	}
	return text(v)
}

func (b *browser) Licences() []string {
	v, err := await(web.Call("licences"))
	if err != nil {
		return nil
	}
	return texts(v)
}

func (b *browser) PageName() string { return web.Get("pageName").String() }

func (b *browser) Kept(key string) string      { return text(web.Call("kept", "localStorage", key)) }
func (b *browser) Keep(key, value string)      { web.Call("keep", "localStorage", key, value) }
func (b *browser) KeptByTab(key string) string { return text(web.Call("kept", "sessionStorage", key)) }
func (b *browser) KeepByTab(key, value string) { web.Call("keep", "sessionStorage", key, value) }
func (b *browser) Address() string             { return global.Get("location").Get("href").String() }

// Safety copies.

func aboutOf(v js.Value) frame.About {
	s := func(name string) string { return text(v.Get(name)) }
	a := frame.About{
		Line: s("line"), Job: s("job"), Name: s("name"), From: s("from"), Opened: s("opened"), SavedAt: s("savedAt"), Began: s("began"), Changed: s("changed"),
		Aside: s("aside"), Follows: s("follows"), Page: s("page"), Typing: s("typing"),
		Revision: number(v.Get("revision")), Changes: number(v.Get("changes")), Rows: number(v.Get("rows")),
		Handed: v.Get("handed").Truthy(), Open: v.Get("open").Truthy(),
	}
	if a.Aside != "" {
		a.KeptUntil = text(web.Call("keptUntil", v))
	}
	return a
}

func (b *browser) Lines() []frame.About {
	v, err := await(web.Call("lines"))
	if err != nil {
		return nil
	}
	out := make([]frame.About, v.Length())
	for i := range out {
		out[i] = aboutOf(v.Index(i))
	}
	return out
}

func (b *browser) CopyOf(line string) *frame.Copy {
	v, err := await(web.Call("copyOf", line))
	if err != nil || v.Type() != js.TypeObject {
		return nil
	}
	c := &frame.Copy{About: aboutOf(v.Get("about")), Broken: v.Get("broken").Truthy(), Records: texts(v.Get("records")), Handle: v}
	c.Head = bytesOf(web.Call("utf8", v.Get("whole").Get("head")))
	rows := v.Get("whole").Get("rows")
	for i := range rows.Length() {
		c.Rows = append(c.Rows, frame.PackedRows{Table: rows.Index(i).Index(0).Int(), Text: rows.Index(i).Index(1).String()})
	}
	return c
}

func (b *browser) Forget(line string) { _, _ = await(web.Call("forget", line)) }

func (b *browser) Note(line, aside string, handed bool) {
	change := map[string]any{"aside": aside}
	if handed {
		change["handed"], change["typing"] = true, "" // what was being typed has been told
	}
	_, _ = await(web.Call("note", line, change))
}

func (b *browser) Sweep() { web.Call("sweep") }

// A line is one line of work, of web/keep.js.
type line struct {
	js.Value
	p *page
}

func (l line) ID() string  { return l.Get("line").String() }
func (l line) Begun() bool { return l.Get("begun").Bool() }
func (l line) Begin()      { l.Call("begin") }
func (l line) Know()       { l.Call("know") }
func (l line) Leave()      { l.Call("leave") }

func (l line) Change(record func() string) {
	f := js.FuncOf(func(js.Value, []js.Value) any { return record() })
	defer f.Release() // it is called at once
	l.Call("change", f)
}

func (l line) Safe() (at string, changes int, ok bool) {
	v := l.Get("safe")
	if v.Type() != js.TypeObject {
		return "", 0, false
	}
	return text(v.Get("at")), number(v.Get("changes")), true
}

// hooks are what a line of work asks, for as long as the page is there.
func (b *browser) hooks(h frame.LineHooks) js.Value {
	o := global.Get("Object").New()
	o.Set("facts", js.FuncOf(func(js.Value, []js.Value) any {
		a := h.Facts()
		return map[string]any{"name": a.Name, "revision": a.Revision, "savedAt": a.SavedAt, "from": a.From, "began": a.Began, "opened": a.Opened, "changes": a.Changes, "rows": a.Rows,
			"handed": a.Handed, "follows": a.Follows, "page": a.Page, "typing": a.Typing}
	}))
	o.Set("onPage", js.FuncOf(func(js.Value, []js.Value) any { return h.OnPage() }))
	o.Set("told", js.FuncOf(func(_ js.Value, in []js.Value) any {
		var gone frame.About
		if len(in) > 1 && in[1].Type() == js.TypeObject {
			gone = aboutOf(in[1])
		}
		b.p.guarded(func() { h.Told(in[0].String(), gone) })
		return nil
	}))
	return o
}

func (b *browser) NewLine(job string, h frame.LineHooks) frame.Line {
	return line{web.Call("newLine", job, b.hooks(h)), b.p}
}

func (b *browser) Resume(c *frame.Copy, h frame.LineHooks) frame.Line {
	v, err := await(web.Call("resume", c.Handle.(js.Value), b.hooks(h)))
	if err != nil || v.Type() != js.TypeObject {
		return nil
	}
	return line{v, b.p}
}

func (b *browser) Watch(l frame.Line, f func(others bool)) (stop func()) {
	fn := js.FuncOf(func(_ js.Value, in []js.Value) any {
		others := in[0].Bool()
		b.p.guarded(func() { f(others) })
		return nil
	})
	end := web.Call("watch", l.(line).Value, fn)
	return func() {
		end.Invoke()
		fn.Release()
	}
}

// Workers.

func (b *browser) Lists(when string, far func(share float64)) (lists, sharing string, err error) {
	told := b.stock.hear(b.p, far)
	v, err := fromWorker(web.Call("lists", when, told))
	if err != nil {
		return "", "", err
	}
	return text(v.Get("lists")), text(v.Get("sharing")), nil
}

func (b *browser) StopLists()                { web.Call("stopLists") }
func (b *browser) PrepareWorkbook(live bool) { web.Call("prepareWorkbook", live) }
func (b *browser) StopWorker()               { web.Call("stopWorker") }

// A hearing hears how far a worker is, as long as somebody wants to know; what comes later is nobody's.
type hearing struct {
	js.Func
	f func(share float64)
}

// hear lets f hear from now on.
func (h *hearing) hear(p *page, f func(share float64)) js.Func {
	if h.f = f; h.Func.IsUndefined() {
		h.Func = js.FuncOf(func(_ js.Value, in []js.Value) any {
			share := in[0].Float()
			p.guarded(func() { h.f(share) })
			return nil
		})
	}
	return h.Func
}

// fromWorker waits for what a worker was asked.
func fromWorker(promise js.Value) (js.Value, error) {
	v, err := await(promise)
	if r, is := err.(rejection); is && (r.IsNull() || r.Type() == js.TypeObject && r.Get("stopped").Truthy()) {
		return v, frame.ErrStopped
	}
	return v, err
}

func (b *browser) ReadFile(f frame.File, choices string, far func(share float64)) (string, error) {
	told, of := b.files.hear(b.p, far), js.Null()
	if f != nil {
		of = f.(file).Value
	}
	v, err := fromWorker(web.Call("readFile", of, choices, told))
	return text(v), err
}

func (b *browser) TakeRows(each func(head string, table int, rows string) bool) error {
	part := js.FuncOf(func(_ js.Value, in []js.Value) any {
		ok := false
		b.p.guarded(func() { ok = each(text(in[0].Get("head")), number(in[0].Get("table")), text(in[0].Get("rows"))) })
		return ok
	})
	defer part.Release()
	_, err := fromWorker(web.Call("takeRows", part))
	return err
}

func (b *browser) WriteWorkbook(original frame.File, live bool, far func(share float64)) (frame.Content, error) {
	told, of := b.files.hear(b.p, far), js.Null()
	if original != nil {
		of = original.(file).Value
	}
	return fromWorker(web.Call("writeWorkbook", of, live, told))
}

func (b *browser) HandOverContent(name, kind string, c frame.Content) {
	web.Call("handOver", name, kind, []any{c.(js.Value)})
}

func (b *browser) Ticked(id string) bool { return byID(id).Get("checked").Bool() }

// A file is one of the browser's.
type file struct{ js.Value }

func (f file) Name() string { return f.Get("name").String() }

func (f file) Size() float64 { return f.Get("size").Float() }

func (f file) Begins() string {
	v, _ := await(f.Call("slice", 0, 200).Call("text"))
	return text(v)
}

func (f file) Bytes() []byte {
	v, err := await(f.Call("arrayBuffer"))
	if err != nil {
		return nil
	}
	return bytesOf(global.Get("Uint8Array").New(v))
}

// bytesOf copies a Uint8Array.
func bytesOf(v js.Value) []byte {
	out := make([]byte, v.Length())
	js.CopyBytesToGo(out, v)
	return out
}

//go:build js && wasm

package main

import (
	"math"
	"strconv"
	"strings"
	"syscall/js"

	"shimsheet/internal/frame"
	"shimsheet/internal/screens"
)

// An event of the browser's.
type event struct{ js.Value }

func (e event) target() element { return element{e.Get("target")} }
func (e event) key() string     { return text(e.Get("key")) }
func (e event) prevent()        { e.Call("preventDefault") }
func (e event) stop()           { e.Call("stopPropagation") }
func (e event) ctrl() bool      { return e.Get("ctrlKey").Bool() || e.Get("metaKey").Bool() }
func (e event) shift() bool     { return e.Get("shiftKey").Bool() }
func (e event) alt() bool       { return e.Get("altKey").Bool() }

// listeners is what is done at each kind of event, by the names under which web/page.js listens: "first:" before anybody else, "last:" after everybody.
var listeners = map[string]func(*page, event){
	"first:pointerdown": func(p *page, e event) { p.menu.noteFocus(e); p.comeToList(e.target(), false) },
	"first:click":       func(p *page, e event) { p.menu.click(e) },
	"first:keydown":     func(p *page, e event) { p.menu.key(e) },
	"first:focusin":     func(p *page, e event) { p.comeToList(e.target(), true) },
	"first:cancel":      func(p *page, e event) { stayOpen(e) },
	"first:close":       (*page).closed,
	"first:toggle":      func(p *page, e event) { p.take(e, "toggle", "") },

	"pointerdown": (*page).pointerDown,
	"pointerup":   (*page).keyLifted,
	"contextmenu": func(_ *page, e event) { holdKey(e) },
	"mousedown":   (*page).mouseDown,
	"click":       (*page).click,
	"input":       (*page).input,
	"change":      (*page).change,
	"submit":      func(p *page, e event) { p.take(e, "submit", "") },
	"focusin":     (*page).focusIn,
	"focusout":    (*page).focusOut,
	"keydown":     (*page).keyDown,
	"copy":        func(p *page, e event) { p.copy(e, "copy") },
	"cut":         func(p *page, e event) { p.copy(e, "cut") },
	"paste":       (*page).paste,
	"dragover":    func(_ *page, e event) { e.prevent() },
	"drop":        (*page).drop,

	"last:keydown": (*page).keyLast,
	"resize":       func(p *page, _ event) { p.menu.close(false); p.frame.Resized() },
	"beforeprint":  func(p *page, _ event) { p.frame.BeforePrint() },
	"beforeunload": func(p *page, e event) {
		if p.frame.Unsaved() {
			e.prevent()
		}
	},
}

// screenOf is the screen in which an element stands, and its name.
func screenOf(e element) (element, string) {
	root := e.closest("[data-screen-in-go]")
	if root.none() {
		return root, ""
	}
	return root, root.attribute("data-screen-in-go")
}

// holds is what a field holds.
func holds(e element) string {
	switch {
	case text(e.Get("type")) == "checkbox" || text(e.Get("type")) == "radio":
		return strconv.FormatBool(e.Get("checked").Bool())
	case e.tag() == "DETAILS":
		return strconv.FormatBool(e.Get("open").Bool())
	}
	return text(e.Get("value"))
}

// held is what an element holds: a form all its fields; with data-form all those of its form.
func held(e element) string {
	form := e
	if e.has("data-form") {
		form = element{e.Get("form")}
	}
	if form.tag() != "FORM" {
		return holds(form)
	}
	var all []string
	for _, x := range list(form.Get("elements")) {
		if name := text(x.Get("name")); name != "" {
			all = append(all, name+"\x1f"+holds(x))
		}
	}
	return strings.Join(all, "\x1e")
}

// take hands an event to the screen it happened in. as: "focused" or "left", which some fields ask for beside their own.
func (p *page) take(e event, kind, as string) {
	attribute := "data-on"
	switch {
	case as != "":
		attribute = "data-" + as
	case kind == "keydown":
		attribute = "data-keyed"
	}
	el := e.target().closest("[" + attribute + "]")
	if el.none() || p.browser.filling {
		return
	}
	_, name := screenOf(el)
	if name == "" {
		return
	}
	arg := el.attribute("data-arg")
	if as != "" {
		p.frame.Send(name, screens.Event{Name: el.attribute(attribute), Arg: arg, Kind: kind, Value: held(el)})
		return
	}
	if kind == "keydown" {
		p.takeKey(e, el, name, arg)
		return
	}
	// A click that comes of the touch which a key was pressed with is left out, whichever key it meets: the keys may be new ones by then.
	if text(e.Get("type")) == "click" && el.has("data-press") && e.Get("timeStamp").Float()-p.touched <= 1000 {
		return
	}
	if kind == "submit" {
		e.prevent()
	}
	if text(el.Get("type")) == "file" {
		if kind == "change" {
			p.files(name, el)
		}
		return
	}
	if kind != wants(el) || el.has("data-choices") {
		return
	}
	run := func() {
		key := ""
		if text(e.Get("inputType")) == "insertFromPaste" {
			key = "paste"
		}
		p.frame.Send(name, screens.Event{Name: el.attribute("data-on"), Arg: arg, Kind: kind, Value: held(el), Key: key})
	}
	if wait := el.attribute("data-wait"); wait != "" {
		ms, _ := strconv.Atoi(wait)
		p.frame.Later(name+"\x1f"+text(el.Get("id"))+"\x1f"+el.attribute("data-on")+"\x1f"+arg, name, ms, run)
	} else {
		run()
	}
}

// wants is the kind of event that an element sends.
func wants(el element) string {
	kind := text(el.Get("type"))
	switch tag := el.tag(); {
	case tag == "FORM":
		return "submit"
	case tag == "DETAILS":
		return "toggle"
	case tag == "SELECT", tag == "INPUT" && (kind == "checkbox" || kind == "radio"):
		return "change"
	case tag == "INPUT", tag == "TEXTAREA":
		return "input"
	}
	return "click"
}

// takeKey hands a key to a screen that asked for it.
func (p *page) takeKey(e event, el element, name, arg string) {
	plain := e.key()
	switch {
	case e.ctrl():
		plain = "Control+" + strings.ToLower(plain)
	case e.alt():
		plain = ""
	}
	asked := map[string]bool{}
	for k := range strings.SplitSeq(el.attribute("data-keys"), " ") {
		asked[k] = true
	}
	key := plain
	if e.shift() && asked["Shift+"+plain] {
		key = "Shift+" + plain
	}
	if !asked[key] {
		return
	}
	u, ok := p.frame.Told(name, screens.Event{Name: el.attribute("data-keyed"), Arg: arg, Kind: "keydown", Value: held(el), Key: key})
	if !ok || !u.Pass {
		e.prevent()
	}
	if ok {
		p.frame.Apply(name, &u)
	}
}

func (p *page) click(e event) {
	p.take(e, "click", "")
	p.wholeField(e)
	p.goToRow(e.target())
	if b := e.target().closest("button"); !b.none() {
		switch {
		case b.has("data-do"):
			p.frame.Do(b.attribute("data-do"))
		case b.has("data-columns"):
			p.frame.Columns(b.attribute("data-columns"))
		case b.has("data-close"):
			b.closest("dialog").Call("close")
		}
	}
	if t := e.target().closest("[role=tab]"); !t.none() {
		if id := t.Get("id").String(); t.has("data-side") {
			p.frame.Side(id)
		} else {
			p.frame.Tab(id)
			if p.frame.OnSheet() {
				p.browser.FocusSheet()
			}
		}
	}
	if item := e.target().closest("[role=menuitemradio]"); !item.none() {
		for _, group := range [...]string{"theme-set", "units", "panel-set", "results-first", "all"} {
			if item.has("data-" + group) {
				p.frame.View(group, item.attribute("data-"+group), item.text())
			}
		}
	}
}

func (p *page) change(e event) {
	p.take(e, "change", "")
	p.take(e, "change", "left")
	if p.picking.el.is(e.target()) && !p.picking.keys {
		p.picking.tell(p)
	}
	if el := e.target(); text(el.Get("id")) == "file" || text(el.Get("id")) == "workbook-file" {
		chosen := el.Get("files").Index(0)
		own := text(el.Get("id")) == "file"
		el.Set("value", "")
		switch {
		case chosen.IsUndefined():
		case own:
			p.frame.Open(file{chosen})
		default:
			p.frame.WriteWorkbook(file{chosen})
		}
	}
}

func (p *page) drop(e event) {
	e.prevent()
	if files := e.Get("dataTransfer").Get("files"); files.Length() > 0 {
		p.frame.Open(file{files.Index(0)})
	}
}

func (p *page) focusIn(e event) {
	p.take(e, "focus", "focused")
	if g := rowPart(e.target()); !g.none() {
		for _, x := range g.closest("[data-rows]").all("[data-row]") {
			if x.is(g) {
				x.set("tabindex", "0")
			} else {
				x.set("tabindex", "-1")
			}
		}
	}
}

func (p *page) input(e event) {
	if e.target().is(byID("editor")) {
		p.frame.CellTyped()
		return
	}
	p.take(e, "input", "")
}

func (p *page) focusOut(e event) {
	if e.target().is(byID("editor")) {
		p.frame.LeftCell()
	}
	if p.picking.el.is(e.target()) {
		p.picking.typed = ""
		p.picking.tell(p)
		p.picking.el = element{}
	}
}

func (p *page) keyDown(e event) {
	switch target := e.target(); {
	case target.is(byID("editor")):
		taken, on := p.frame.CellKey(p.keyOf(e))
		if taken {
			e.prevent()
		}
		if !on {
			e.stop()
		}
		return
	case target.is(byID("grid")):
		if e.key() == "ContextMenu" || e.key() == "F10" && e.shift() {
			break // the menu of the cell
		}
		if p.frame.SheetKey(p.keyOf(e)) {
			e.prevent()
		}
	}
	p.take(e, "keydown", "")
	p.walkList(e)
	p.walkRows(e)
	p.walkTabs(e)
	if p.picking.el.is(e.target()) {
		p.picking.key(p, e)
	}
}

// stayOpen keeps a dialog open that waits for an answer.
func stayOpen(e event) {
	if e.target().has("data-waits") {
		e.prevent()
	}
}

// closed: where nothing had the focus before a dialog, the sheet has it after.
func (p *page) closed(e event) {
	d := e.target()
	if d.tag() != "DIALOG" {
		return
	}
	if d.has("data-waits") { // some browsers close it at the second Escape
		d.Call("showModal")
		return
	}
	p.frame.DialogClosed(d.Get("id").String())
	at := active()
	if p.frame.Screen() == "" && openDialog().none() && (at.none() || at.is(element{document.Get("body")}) || d.contains(at)) {
		p.browser.FocusSheet()
	}
}

// arrow is the step of an arrow up or down, 0 for another key.
func arrow(e event) int {
	switch e.key() {
	case "ArrowDown":
		return 1
	case "ArrowUp":
		return -1
	}
	return 0
}

func indexOf(all []element, e element) int {
	for i, x := range all {
		if x.is(e) {
			return i
		}
	}
	return -1
}

// walkList goes up and down along the buttons of a list at the side; where data-arrows names an element, along all that can be pressed in a list, and up from the first to that element.
func (p *page) walkList(e event) {
	step := arrow(e)
	if step == 0 {
		return
	}
	box := e.target().closest("[data-screen-in-go] [data-arrows]")
	if box.none() {
		return
	}
	e.prevent()
	up := box.attribute("data-arrows")
	var all []element
	if up == "" {
		all = list(box.Get("children"))
	} else {
		for _, x := range box.all("button, input") {
			if !x.Get("disabled").Bool() && x.Get("offsetParent").Truthy() {
				all = append(all, x)
			}
		}
	}
	at := indexOf(all, active()) + step
	if at < 0 && up != "" {
		byID(up).focus(false)
		return
	}
	if len(all) > 0 {
		all[max(0, min(len(all)-1, at))].focus(false)
	}
}

// rowPart is the part of a drawing that leads to a row.
func rowPart(e element) element { return e.closest("[data-rows] [data-row]") }

func (p *page) goToRow(target element) {
	g := rowPart(target)
	if g.none() {
		return
	}
	_, name := screenOf(g)
	p.frame.Send(name, screens.Event{Name: g.closest("[data-rows]").attribute("data-rows"), Arg: g.attribute("data-row"), Kind: "click"})
}

// walkRows: a drawing whose parts lead to rows is one stop for the keys, arrows walk along its parts, Enter goes to the row.
func (p *page) walkRows(e event) {
	g, step := rowPart(e.target()), arrow(e)
	if g.none() || step == 0 && e.key() != "Enter" {
		return
	}
	e.prevent()
	if step == 0 {
		p.goToRow(g)
		return
	}
	all := g.closest("[data-rows]").all("[data-row]")
	all[max(0, min(len(all)-1, indexOf(all, g)+step))].focus(false)
}

// walkTabs goes along tabs with the arrows.
func (p *page) walkTabs(e event) {
	box := e.target().closest("#tabs, #sidetabs")
	if box.none() || e.ctrl() || e.alt() {
		return
	}
	all := box.all("[role=tab]")
	at := indexOf(all, active())
	if at < 0 {
		return
	}
	to := at
	switch e.key() {
	case "ArrowRight":
		to++
	case "ArrowLeft":
		to--
	case "Home":
		to = 0
	case "End":
		to = len(all) - 1
	default:
		return
	}
	e.prevent()
	t := all[(to+len(all))%len(all)]
	if t.has("data-side") {
		p.frame.Side(t.Get("id").String())
	} else {
		p.frame.Tab(t.Get("id").String())
	}
	t.focus(false)
}

// keyLast is a key that nobody took before.
func (p *page) keyLast(e event) {
	if p.frame.Pressed(p.keyOf(e)) {
		e.prevent()
	}
}

// keyOf is a key that was pressed, and where the focus is.
func (p *page) keyOf(e event) frame.Key {
	at, name := active(), e.key()
	return frame.Key{
		Name: name, Ctrl: e.ctrl(), Shift: e.shift(), Alt: e.alt(), Taken: e.Get("defaultPrevented").Bool(), AltGraph: e.Call("getModifierState", "AltGraph").Bool(),
		Composing: e.Get("isComposing").Bool() || name == "Process" || name == "Dead",
		Typing:    at.isField("INPUT", "TEXTAREA"), Beside: !at.closest("#side, header, #under, #editbar").none(),
	}
}

// Keys under a finger: some browsers make no click of a slow press, as of a glove.

func pressed(e event) element { return e.target().closest("[data-press]") }

func holdKey(e event) {
	if !pressed(e).none() {
		e.prevent()
	}
}

func (p *page) pointerDown(e event) {
	holdKey(e)
	if word := e.target().closest("#editor-choices [data-choice]"); !word.none() {
		e.prevent() // the cell keeps the focus
		i, _ := strconv.Atoi(word.attribute("data-choice"))
		p.frame.TakeWord(i)
	}
	p.pen(e)
}

func (p *page) keyLifted(e event) {
	if pressed(e).none() || text(e.Get("pointerType")) == "mouse" {
		return
	}
	p.touched = e.Get("timeStamp").Float()
	p.take(e, "click", "")
}

// All of a field that was just gone to stays selected when it is pressed; a second press places the caret.

func freshField(el element) bool {
	return !el.none() && el.is(active()) && el.Get("hasAttribute").Type() == js.TypeFunction && el.has("data-fresh")
}

func (p *page) mouseDown(e event) {
	if number(e.Get("detail")) == 1 && freshField(e.target()) {
		e.prevent()
	}
}

func (p *page) wholeField(e event) {
	el := e.target()
	if !freshField(el) {
		return
	}
	p.browser.Later(0, func() {
		if freshField(el) && el.Get("selectionStart").Equal(el.Get("selectionEnd")) {
			el.Call("select")
		}
	})
}

// pen draws a stroke of a pen, finger or mouse into a field to sign in, as points in the units of the drawing.
func (p *page) pen(e event) {
	pen := e.target().closest("svg[data-pen]")
	_, name := screenOf(pen)
	if name == "" || number(e.Get("button")) != 0 {
		return
	}
	e.prevent()
	box := pen.Get("viewBox").Get("baseVal")
	width, height := box.Get("width").Float(), box.Get("height").Float()
	stroke := element{document.Call("createElementNS", "http://www.w3.org/2000/svg", "polyline")}
	pen.Call("appendChild", stroke.Value)
	var points []string
	put := func(e event) {
		at := pen.Call("getBoundingClientRect")
		x := math.Round((e.Get("clientX").Float() - at.Get("left").Float()) * width / at.Get("width").Float())
		y := math.Round((e.Get("clientY").Float() - at.Get("top").Float()) * height / at.Get("height").Float())
		point := strconv.Itoa(int(x)) + "," + strconv.Itoa(int(y))
		if x < 0 || y < 0 || x > width || y > height || len(points) > 0 && points[len(points)-1] == point {
			return
		}
		points = append(points, point)
		drawn := strings.Join(points, " ")
		if len(points) == 1 {
			drawn += " " + strconv.Itoa(int(x)+1) + "," + strconv.Itoa(int(y))
		}
		stroke.set("points", drawn)
	}
	put(e)
	p.frame.Drawing = true
	var move, end js.Func
	move = js.FuncOf(func(_ js.Value, in []js.Value) any {
		p.guarded(func() { put(event{in[0]}) })
		return nil
	})
	end = js.FuncOf(func(js.Value, []js.Value) any {
		pen.Call("removeEventListener", "pointermove", move)
		pen.Call("removeEventListener", "pointerup", end)
		pen.Call("removeEventListener", "pointercancel", end)
		move.Release()
		end.Release()
		p.guarded(func() {
			var lines []string
			for _, l := range pen.all("polyline") {
				lines = append(lines, " "+l.attribute("points"))
			}
			p.frame.Drawing = false
			p.frame.Send(name, screens.Event{Name: pen.attribute("data-pen"), Kind: "pen", Value: "pen:" + strings.Join(lines, ";")})
			p.frame.Drawn()
		})
		return nil
	})
	pen.Call("setPointerCapture", e.Get("pointerId"))
	pen.Call("addEventListener", "pointermove", move)
	pen.Call("addEventListener", "pointerup", end)
	pen.Call("addEventListener", "pointercancel", end)
}

// files hands the files chosen to the screen, one by one: the job or the photo in each, and its name; of a file that cannot be read, why.
func (p *page) files(name string, el element) {
	on, arg, asText := el.attribute("data-on"), el.attribute("data-arg"), el.attribute("data-read") == "text"
	chosen := list(el.Get("files"))
	p.browser.Go(func() {
		for _, f := range chosen {
			what, called := "photo", f.Get("name").String()
			if asText {
				what = "jobText"
			} else {
				called += ", " + strconv.Itoa(int(math.Ceil(f.Get("size").Float()/1000))) + " kB"
			}
			v, err := await(web.Call(what, f.Value))
			switch {
			case err != nil && asText:
				p.frame.Send(name, screens.Event{Name: on, Arg: arg, Kind: "refused", Value: err.Error(), Key: called})
			case err == nil && (asText || text(v) != ""):
				p.frame.Send(name, screens.Event{Name: on, Arg: arg, Kind: "file", Value: text(v), Key: called})
			}
		}
	})
}

// The clipboard. Fields and dialogs keep their own; everything else is the sheet's.

func (p *page) sheets() bool {
	if p.frame.Screen() != "" {
		return false
	}
	at := active()
	if !at.closest("dialog:not([open])").none() { // a closed dialog has the focus still until the next frame
		return true
	}
	selected := func() bool { return global.Call("getSelection").Call("toString").String() != "" }
	return at.none() || !(at.isField("INPUT", "TEXTAREA", "SELECT") || !at.closest("dialog").none() || at.Get("isContentEditable").Truthy()) &&
		(at.closest("#side").none() || !selected())
}

func (p *page) copy(e event, op string) {
	if p.copyScreen(e, op) || !p.sheets() || !p.frame.OnSheet() {
		return
	}
	e.prevent()
	if plain, html, ok := p.frame.Copied(op); ok {
		setClipboard(e, plain, html)
	}
}

func setClipboard(e event, plain, html string) {
	data := e.Get("clipboardData")
	data.Call("setData", "text/plain", plain)
	data.Call("setData", "text/html", html)
}

// copyScreen: Ctrl+C in a screen with something to copy takes that, where no text is selected or typed into.
func (p *page) copyScreen(e event, op string) bool {
	if op != "copy" {
		return false
	}
	at := active()
	root, name := screenOf(at)
	if name == "" || root.find("[data-copies]").none() || at.isField("INPUT", "TEXTAREA") && text(at.Get("type")) != "checkbox" ||
		global.Call("getSelection").Call("toString").String() != "" {
		return false
	}
	u, ok := p.frame.Told(name, screens.Event{Name: "copy", Kind: "copied"})
	if !ok || u.Copy == nil {
		return true
	}
	e.prevent()
	setClipboard(e, u.Copy.Text, u.Copy.HTML)
	p.frame.Apply(name, &screens.Update{Say: u.Say})
	return true
}

func (p *page) paste(e event) {
	if !p.sheets() {
		return
	}
	e.prevent()
	p.frame.Pasted(e.Get("clipboardData").Call("getData", "text/plain").String())
}

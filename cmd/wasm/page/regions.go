//go:build js && wasm

package main

import (
	"strconv"
	"syscall/js"

	"shimsheet/internal/screens"
)

// Fill puts a region onto the page. What had the focus and the place in its text gets them back, by its id; lists stay scrolled where they were, and a file that was chosen and not yet
// read stays chosen. ifNew: what is as it was put there last stays, so that what somebody is about to press does not go from under the finger.
func (b *browser) Fill(r screens.Region, ifNew bool) {
	el, html := byID(r.ID), r.Content.String()
	if el.none() {
		panic("page: no element " + r.ID)
	}
	if last, ok := b.shown[r.ID]; ifNew && ok && last.html == html && last.el.is(el) {
		return
	}
	b.shown[r.ID] = filled{el, html}
	had := active()
	if had.none() || had.is(el) || !el.contains(had) {
		had = element{}
	}
	from, to := js.Null(), js.Null()
	if !had.none() {
		if from = had.Get("selectionStart"); from.Type() == js.TypeNumber {
			to = had.Get("selectionEnd")
		}
	}
	type place struct {
		id        string
		left, top js.Value
	}
	var places []place
	for _, x := range el.all("[data-scroll][id]") {
		places = append(places, place{x.Get("id").String(), x.Get("scrollLeft"), x.Get("scrollTop")})
	}
	var chosen []element
	for _, x := range el.all("input[type=file][id]") {
		if x.Get("files").Length() > 0 {
			chosen = append(chosen, x)
		}
	}
	b.filling = true
	el.Set("innerHTML", html)
	for _, box := range el.all("[data-rows]") {
		if svg := box.find("svg"); !svg.none() {
			svg.set("role", "group") // not an image: there are links in it
		}
		for i, g := range box.all("[data-row]") {
			g.set("tabindex", strconv.Itoa(-min(i, 1)))
			g.set("role", "link")
			g.Call("removeAttribute", "aria-label") // the name is what stands in it, the title first
		}
	}
	for _, x := range chosen {
		if now := byID(x.Get("id").String()); !now.none() {
			now.Call("replaceWith", x.Value)
		}
	}
	for _, x := range places {
		if now := byID(x.id); !now.none() {
			now.Call("scrollTo", x.left, x.top)
		}
	}
	if !had.none() {
		if id := had.Get("id").String(); id != "" {
			now := byID(id)
			now.focus(true)
			if to.Type() == js.TypeNumber && !now.none() && now.Get("setSelectionRange").Type() == js.TypeFunction {
				now.Call("setSelectionRange", from, to)
			}
		}
	}
	b.filling = false
}

func sticks(e element) bool {
	return global.Call("getComputedStyle", e.Value).Get("position").String() == "sticky"
}

// Reveal brings an element into sight: between what lies over the edges of its screen, whose heights the style knows by their names.
func (b *browser) Reveal(screen, id string, centre bool) {
	root := byID(screen)
	for _, e := range root.all("[data-over]") {
		height := 0
		if sticks(e) {
			height = e.Get("offsetHeight").Int()
		}
		root.Get("style").Call("setProperty", "--"+e.attribute("data-over"), strconv.Itoa(height)+"px")
	}
	if e := byID(id); !e.none() {
		block := "nearest"
		if centre {
			block = "center"
		}
		e.Call("scrollIntoView", map[string]any{"block": block, "behavior": "instant"})
	}
}

// Read leads to what is to be read now, from its beginning; where it lies low, or under something, it is brought up.
func (b *browser) Read(screen, id string) {
	e := byID(id)
	if e.none() {
		return
	}
	e.Set("scrollTop", 0)
	e.focus(true)
	over := byID(screen).all("[data-over]")
	low := e.Call("getBoundingClientRect").Get("top").Float() > global.Get("innerHeight").Float()/2
	if !low && (len(over) == 0 || !sticks(over[len(over)-1])) {
		return
	}
	if first := (element{e.Get("firstElementChild")}); !first.none() {
		e = first
	}
	e.Call("scrollIntoView", map[string]any{"block": "start", "behavior": "instant"})
}

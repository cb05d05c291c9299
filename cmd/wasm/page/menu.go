//go:build js && wasm

package main

import (
	"math"
	"strconv"
	"strings"
)

// menus are those of the page: a button with data-menu opens the element of that id under it; arrows walk, Escape closes, a choice closes.
type menus struct {
	p            *page
	open, opener element
	before       element // what had the focus when the mouse went to the opener
	was          element // the same, until the click
}

func items(menu element) []element {
	var out []element
	for _, e := range menu.all("[role^=menuitem]:not(:disabled)") {
		if !e.Get("hidden").Bool() {
			out = append(out, e)
		}
	}
	return out
}

// close closes the menu that is open; back leads the keyboard to where it was.
func (m *menus) close(back bool) {
	if m.open.none() {
		return
	}
	m.open.Set("hidden", true)
	m.opener.set("aria-expanded", "false")
	if back {
		to := m.opener
		if b := m.before; !b.none() && b.Get("isConnected").Bool() && b.Call("checkVisibility").Bool() {
			to = b
		}
		to.focus(true)
	}
	m.open, m.opener, m.before = element{}, element{}, element{}
}

// at opens a button's menu at a place in the window, as a right click does; back is what has the focus afterwards.
func (m *menus) at(button element, x, y float64, back element) {
	m.show(button, x, y)
	m.before = back
}

// show opens a button's menu, under it where x is not a number.
func (m *menus) show(button element, x, y float64) {
	m.close(false)
	m.open, m.opener = byID(button.attribute("data-menu")), button
	m.open.Set("hidden", false)
	button.set("aria-expanded", "true")
	if math.IsNaN(x) {
		b := button.Call("getBoundingClientRect")
		x, y = b.Get("left").Float(), b.Get("bottom").Float()+2
	}
	style := m.open.Get("style")
	width, height := m.open.Get("offsetWidth").Float(), m.open.Get("offsetHeight").Float()
	style.Set("left", pixels(max(4, min(x, global.Get("innerWidth").Float()-width-4))))
	style.Set("top", pixels(min(y, max(4, global.Get("innerHeight").Float()-height-4))))
	if chosen := m.open.find("[aria-checked=true]"); !chosen.none() {
		chosen.focus(false)
	} else if all := items(m.open); len(all) > 0 {
		all[0].focus(false)
	}
}

func pixels(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) + "px" }

// noteFocus notes what has the focus before the mouse takes it to the button of a menu.
func (m *menus) noteFocus(e event) {
	m.was = element{}
	at := active()
	if e.target().closest("[data-menu]").none() || at.none() || at.is(element{document.Get("body")}) || !m.open.none() {
		return
	}
	if m.was = at; !at.closest("#sheet").none() {
		m.was = byID("grid")
	}
}

func (m *menus) click(e event) {
	if button := e.target().closest("[data-menu]"); !button.none() {
		if m.opener.is(button) {
			m.close(true)
			return
		}
		m.show(button, math.NaN(), 0)
		m.before, m.was = m.was, element{}
		return
	}
	if m.open.none() {
		return
	}
	if item := e.target().closest("[role^=menuitem]"); m.open.contains(item) {
		m.close(true)
	} else if !m.open.contains(e.target()) {
		m.close(false)
	}
}

func (m *menus) key(e event) {
	key := e.key()
	if m.open.none() {
		if button := e.target().closest("[data-menu]"); !button.none() && (key == "ArrowDown" || key == "ArrowUp") {
			e.prevent()
			m.show(button, math.NaN(), 0)
		}
		return
	}
	all := items(m.open)
	at, n := indexOf(all, active()), len(all)
	to := -1
	switch key {
	case "ArrowDown":
		to = (at + 1) % n
	case "ArrowUp":
		to = (max(at, 0) + n - 1) % n
	case "Home":
		to = 0
	case "End":
		to = n - 1
	case "Escape", "Tab":
		if key == "Escape" {
			e.prevent()
		}
		e.stop()
		m.close(true)
		return
	default:
		if len([]rune(key)) != 1 || e.ctrl() || key == " " {
			return
		}
		e.prevent()
		for i := range n {
			if x := all[(at+1+i+n)%n]; strings.HasPrefix(strings.ToLower(strings.TrimSpace(x.text())), strings.ToLower(key)) {
				x.focus(false)
				break
			}
		}
		return
	}
	e.prevent()
	e.stop()
	all[to].focus(false)
}

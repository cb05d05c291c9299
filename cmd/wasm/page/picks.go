//go:build js && wasm

package main

import (
	"strings"
	"time"
	"unicode"

	"shimsheet/internal/screens"
)

// A picking is a list of choices that somebody has come to. Such a list has only its present choice until then: a wide list has thousands otherwise. A choice is told by the mouse at once, by
// the keys when Enter is pressed or the list is left. What is typed is looked for as a whole, however slowly it comes; until it is told nothing else changes, as whoever draws the list
// anew meanwhile would take the typed letters from under it.
type picking struct {
	el          element // none: nobody is at such a list
	typed, told string
	when        time.Time
	keys        bool // the choice came of the keys
}

// comeToList has the list filled that somebody comes to.
func (p *page) comeToList(el element, focused bool) {
	if el.none() || !el.isField("SELECT") || !el.has("data-choices") {
		return
	}
	if p.picking.el.is(el) {
		if !focused {
			p.picking.keys, p.picking.typed = false, ""
		}
		return
	}
	_, name := screenOf(el)
	if name == "" {
		return
	}
	p.picking = picking{el: el, told: text(el.Get("value"))}
	p.frame.Send(name, screens.Event{Name: el.attribute("data-choices"), Arg: el.attribute("data-arg"), Kind: "choices", Value: p.picking.told})
}

// tell tells the screen of another choice.
func (k *picking) tell(p *page) {
	k.keys = false
	now := text(k.el.Get("value"))
	if now == k.told {
		return
	}
	k.told = now
	_, name := screenOf(k.el)
	p.frame.Send(name, screens.Event{Name: k.el.attribute("data-on"), Arg: k.el.attribute("data-arg"), Kind: "change", Value: now})
}

// key takes a key that is pressed in the list.
func (k *picking) key(p *page, e event) {
	if e.ctrl() || e.alt() {
		return
	}
	switch key := e.key(); {
	case key == "Enter":
		e.prevent() // it opens the list in some browsers
		k.tell(p)
		return
	case key == "Backspace" && k.typed != "":
		e.prevent()
		r := []rune(k.typed)
		k.typed = string(r[:len(r)-1])
	case len([]rune(key)) == 1 && (key != " " || k.typed != ""):
		e.prevent() // the browser's own search forgets what was typed a second ago
		if time.Since(k.when) > 5*time.Second {
			k.typed = ""
		}
		k.typed += key
	default:
		k.typed = ""
		for _, begins := range [...]string{"Arrow", "Page", "Home", "End"} {
			k.keys = k.keys || strings.HasPrefix(key, begins)
		}
		return
	}
	k.when, k.keys = time.Now(), true
	want := lettersOnly(k.typed)
	if want == "" {
		return
	}
	best, found := 3, element{}
	for _, o := range list(k.el.Get("options")) {
		said, rank := lettersOnly(text(o.Get("text"))), 3
		switch {
		case said == want:
			rank = 0
		case strings.HasPrefix(said, want):
			rank = 1
		case strings.Contains(said, want):
			rank = 2
		}
		if rank < best {
			best, found = rank, o
		}
	}
	if best < 3 {
		k.el.Set("value", found.Get("value"))
	}
}

// lettersOnly is a text in small letters and digits, with one blank for whatever else stands between them.
func lettersOnly(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsNumber(r) }), " ")
}

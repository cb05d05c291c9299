package screens

import (
	"strconv"
	"strings"
)

// HTML is markup in which every text was escaped when it was put in.
type HTML struct{ s string }

// String is the markup as it goes to the browser.
func (h HTML) String() string { return h.s }

// Empty says whether nothing is in it.
func (h HTML) Empty() bool { return h.s == "" }

var (
	textEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", "\x00", "�")
	attrEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;", "\x00", "�")
)

// Text is a text as it is, whatever stands in it.
func Text(s string) HTML { return HTML{textEscapes.Replace(s)} }

// Drawing takes in a drawing of package report, which escapes what it puts into one. Anything that is no svg element panics.
func Drawing(svg []byte) HTML {
	if len(svg) > 0 && !strings.HasPrefix(string(svg), "<svg") {
		panic("screens: not a drawing")
	}
	return HTML{string(svg)}
}

// Join puts pieces behind one another.
func Join(parts ...HTML) HTML {
	var b strings.Builder
	for _, p := range parts {
		b.WriteString(p.s)
	}
	return HTML{b.String()}
}

// If is h where yes holds, else nothing.
func If(yes bool, h HTML) HTML {
	if yes {
		return h
	}
	return HTML{}
}

// Each makes a piece of every element and joins them.
func Each[T any](list []T, piece func(i int, v T) HTML) HTML {
	var b strings.Builder
	for i, v := range list {
		b.WriteString(piece(i, v).s)
	}
	return HTML{b.String()}
}

// Attr is a list of attributes, written out. The zero value is none.
type Attr struct{ s string }

// A is one attribute. The name is a constant of the caller's; a name that would run a script, or bring style or another document in, panics.
func A(name, value string) Attr {
	if !plainName(name) || strings.HasPrefix(name, "on") || name == "style" || name == "srcdoc" || name == "formaction" {
		panic("screens: attribute " + strconv.Quote(name))
	}
	if (name == "href" || name == "src") && !strings.HasPrefix(value, "#") && !strings.HasPrefix(value, "data:image/png;base64,") && !strings.HasPrefix(value, "data:image/jpeg;base64,") {
		panic("screens: " + name + " leads out of the page")
	}
	return Attr{" " + name + `="` + attrEscapes.Replace(value) + `"`}
}

// Flag is an attribute without a value, where yes holds.
func Flag(name string, yes bool) Attr {
	if !yes {
		return Attr{}
	}
	return A(name, "")
}

// Class is what style and tests know an element by.
func Class(s string) Attr { return A("class", s) }

// ID is the element's own name on the page.
func ID(s string) Attr { return A("id", s) }

// Role is what the element is to a screen reader.
func Role(s string) Attr { return A("role", s) }

// On makes an element send an event: its name, and an argument that says which of several it was. Buttons send it when pressed, fields when
// they are typed into, lists when something is chosen, forms when they are sent.
func On(name, arg string) Attr {
	a := A("data-on", name)
	if arg != "" {
		a.s += A("data-arg", arg).s
	}
	return a
}

// OnLater is On for a field that is asked about only when nobody has typed for some milliseconds.
func OnLater(name, arg string, wait int) Attr {
	return Attr{On(name, arg).s + A("data-wait", strconv.Itoa(wait)).s}
}

// OnPress is On for a key under a finger: it does its work when the finger leaves it, however long it lay there, and leaves the focus where it is.
func OnPress(name, arg string) Attr { return Attr{On(name, arg).s + A("data-press", "").s} }

// OnFocus makes a field send an event when it is gone to; OnLeave when what was typed into it is done. Both have the argument of the field's On.
func OnFocus(name string) Attr { return A("data-focused", name) }

// OnLeave is said at OnFocus.
func OnLeave(name string) Attr { return A("data-left", name) }

// OnKey makes an element send an event when one of these keys is pressed in it ("Enter", "Escape", "ArrowUp", "Control+z" …, apart by blanks); the key is the event's
// Key, and what the browser would do with it is left undone, unless the update says Pass.
func OnKey(name, keys string) Attr {
	return Attr{A("data-keyed", name).s + A("data-keys", keys).s}
}

// Choices is for a select that has only its present choice: when somebody comes to it, the screen gets this event with the select's argument and what it holds, and answers with the
// options, as the region that has the select's id. So a wide list of wide lists is quick. What is typed into it is looked for as a whole, and told when it is settled.
func Choices(event string) Attr { return A("data-choices", event) }

// Attrs joins attributes.
func Attrs(list ...Attr) Attr {
	var b strings.Builder
	for _, a := range list {
		b.WriteString(a.s)
	}
	return Attr{b.String()}
}

// void elements have no end.
var void = map[string]bool{"br": true, "hr": true, "img": true, "input": true, "col": true, "wbr": true}

// never are the elements that a screen must not make.
var never = map[string]bool{"script": true, "style": true, "iframe": true, "object": true, "embed": true, "link": true, "meta": true, "base": true, "template": true}

// El is an element with attributes and children. The name is a constant of the caller's.
func El(name string, a Attr, children ...HTML) HTML {
	if !plainName(name) || never[name] {
		panic("screens: element " + strconv.Quote(name))
	}
	n := 2*len(name) + len(a.s) + 5
	for _, c := range children {
		n += len(c.s)
	}
	b := make([]byte, 0, n)
	b = append(append(append(b, '<'), name...), a.s...)
	b = append(b, '>')
	if void[name] {
		if len(children) > 0 {
			panic("screens: " + name + " takes no children")
		}
		return HTML{string(b)}
	}
	for _, c := range children {
		b = append(b, c.s...)
	}
	return HTML{string(append(append(append(b, "</"...), name...), '>'))}
}

// P, Button and Option are the elements made most.
func P(class, text string) HTML {
	if class == "" {
		return El("p", Attr{}, Text(text))
	}
	return El("p", Class(class), Text(text))
}

// Button is a button with a text that sends an event.
func Button(on Attr, text string) HTML {
	return El("button", Attrs(A("type", "button"), on), Text(text))
}

// MainButton is the one button of a place that a person is most likely to want.
func MainButton(on Attr, text string) HTML {
	return El("button", Attrs(A("type", "button"), Class("main"), on), Text(text))
}

// Choice is an option of a list, with a value and a text.
func Choice(value, text string, chosen bool) HTML {
	return El("option", Attrs(A("value", value), Flag("selected", chosen)), Text(text))
}

// plainName says whether s is made of small letters, digits and hyphens and begins with a letter.
func plainName(s string) bool {
	for i := range len(s) {
		c := s[i]
		if !(c >= 'a' && c <= 'z' || i > 0 && (c == '-' || c >= '0' && c <= '9')) {
			return false
		}
	}
	return s != ""
}

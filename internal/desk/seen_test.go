package desk

import (
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"golang.org/x/net/html"
	"golang.org/x/net/html/atom"

	"shimsheet/internal/screens"
	"shimsheet/internal/words"
)

// A person sees a screen as a browser shows it: the page's own HTML, read by golang.org/x/net/html, with every answer of the screen put into it. What a person reads is the text, what one
// presses is known by the name that a screen reader says. After each answer the laws of keepsLaws hold.
type person struct {
	page
	name    string
	root    *html.Node
	last    screens.Update
	said    string
	dialog  string
	given   map[string]string // what fields hold that nobody reads off the HTML: texts put there by the screen
	quiet   bool              // do not look at the laws
	errored int
}

// skeleton is the HTML of the page with its words, without a screen.
var skeleton = sync.OnceValue(func() string {
	b, err := os.ReadFile("../../web/index.html")
	if err != nil {
		panic(err)
	}
	return regexp.MustCompile(`\{\{([\w.]+)\}\}`).ReplaceAllStringFunc(string(b), func(s string) string { return words.Text("html." + s[2:len(s)-2]) })
})

// looksAt is a person in front of a screen.
func (p page) looksAt(name string) *person {
	p.Helper()
	root, err := html.Parse(strings.NewReader(skeleton()))
	if err != nil {
		p.Fatal(err)
	}
	s := &person{page: p, name: name, root: root, given: map[string]string{}}
	if e := s.find("screen-" + name); e != nil {
		drop(e, "hidden")
	}
	s.show()
	return s
}

func (s *person) show() {
	s.Helper()
	u, err := s.d.Screen(s.name, "show", 1366, screens.Event{})
	if err != nil {
		s.Fatal(err)
	}
	s.apply(u)
}

// changed tells the screen that the job was changed elsewhere.
func (s *person) changed() {
	s.Helper()
	u, err := s.d.Screen(s.name, "changed", 1366, screens.Event{})
	if err != nil {
		s.Fatal(err)
	}
	s.apply(u)
}

// sends hands the screen an event.
func (s *person) sends(e screens.Event) screens.Update {
	s.Helper()
	u, err := s.d.Screen(s.name, "event", 1366, e)
	if err != nil {
		s.Fatalf("%s %+v: %v", s.name, e, err)
	}
	s.apply(u)
	return u
}

// apply does on the page what a screen answers. What it speaks of must be there.
func (s *person) apply(u screens.Update) {
	s.Helper()
	s.last = u
	there := func(what, id string) *html.Node {
		e := s.find(id)
		if e == nil {
			s.Errorf("%s: %s speaks of %q, which is nowhere on the page", s.name, what, id)
		}
		return e
	}
	for _, r := range u.Regions {
		e := there("a region", r.ID)
		if e == nil {
			continue
		}
		for e.FirstChild != nil {
			e.RemoveChild(e.FirstChild)
		}
		list, err := html.ParseFragment(strings.NewReader(r.Content.String()), e)
		if err != nil {
			s.Fatal(err)
		}
		for _, c := range list {
			e.AppendChild(c)
		}
		for id := range s.given {
			if x := s.find(id); x == nil || inside(x, e) {
				delete(s.given, id)
			}
		}
	}
	for _, a := range u.Attributes {
		if e := there("an attribute", a.ID); e != nil {
			drop(e, a.Name)
			if !a.Off {
				e.Attr = append(e.Attr, html.Attribute{Key: a.Name, Val: a.Value})
			}
		}
	}
	for _, v := range u.Values {
		if there("a value", v.ID) != nil {
			s.given[v.ID] = v.Text
		}
	}
	switch {
	case u.Dialog == "-":
		s.dialog = ""
	case u.Dialog != "":
		there("a dialog", u.Dialog)
		s.dialog = u.Dialog
	}
	if u.Changed {
		took := s.ask("took")
		if s.said, _ = took["note"].(string); took["changed"] == true {
			if c, err := s.d.Screen(s.name, "changed", 1366, screens.Event{}); err != nil {
				s.Fatal(err)
			} else if c.Changed = false; len(c.Regions)+len(c.Attributes)+len(c.Values) > 0 {
				last := s.last
				s.apply(c)
				s.last = last
			}
		}
	}
	if u.Say != "" {
		s.said = u.Say
	}
	for what, id := range map[string]string{"focus": u.Focus, "what is brought into sight": u.Reveal, "what is read": u.Read, "a finger": strings.TrimPrefix(u.Finger, "-")} {
		if id == "" {
			continue
		}
		if e := there(what, id); e != nil && what == "focus" && (has(e, "disabled") || !visible(e)) {
			s.Errorf("%s: the focus goes to %q, which nobody can see or use", s.name, id)
		}
	}
	if !s.quiet {
		s.keepsLaws()
	}
}

// own are the elements of the page that this screen answers in: its own place, or the dialog of it that is open.
func (s *person) own() (out []*html.Node) {
	each(s.root, func(e *html.Node) bool {
		if attr(e, "data-screen-in-go") != s.name {
			return true
		}
		if e.Data != "dialog" || attr(e, "id") == s.dialog {
			out = append(out, e)
		}
		return false
	})
	return out
}

// keepsLaws looks at what is on the page now: no id stands twice; everything that can be pressed, typed into or chosen has a name, and so have tables, regions and pictures; what names another element by its
// id names one that there is; the cells of a table stand under heads; a list has one choice.
func (s *person) keepsLaws() {
	s.Helper()
	if s.errored > 5 {
		return
	}
	wrong := func(e *html.Node, why string) {
		s.errored++
		var b strings.Builder
		html.Render(&b, e)
		s.Errorf("%s: %s: %.300s", s.name, why, b.String())
	}
	ids := map[string]bool{}
	each(s.root, func(e *html.Node) bool {
		if id := attr(e, "id"); id != "" {
			if ids[id] {
				wrong(e, "its id stands twice")
			}
			ids[id] = true
		}
		return true
	})
	for _, root := range s.own() {
		each(root, func(e *html.Node) bool {
			for _, a := range []string{"for", "aria-describedby", "aria-labelledby", "aria-controls", "list"} {
				for id := range strings.FieldsSeq(attr(e, a)) {
					if !ids[id] {
						wrong(e, a+" names nothing")
					}
				}
			}
			switch {
			case usable(e) && s.called(e) == "":
				wrong(e, "it has no name")
			case attr(e, "role") == "region" && attr(e, "aria-label") == "" && attr(e, "aria-labelledby") == "":
				wrong(e, "a region has no name")
			case attr(e, "tabindex") == "0" && attr(e, "role") == "" && e.Data != "a" && !strings.HasPrefix(attr(e, "class"), "dlg-body") && inside(e, root) && root.Data == "section":
				wrong(e, "what can be gone to says not what it is")
			case e.Data == "th" && attr(e, "scope") == "":
				wrong(e, "a head of nothing")
			case e.Data == "img" && attr(e, "alt") == "":
				wrong(e, "a picture says nothing")
			case has(e, "data-arg") && !has(e, "data-on") && !has(e, "data-left") && !has(e, "data-keyed"):
				wrong(e, "an argument of nothing")
			case e.Data == "table":
				s.table(e, wrong)
			case e.Data == "select":
				n, values := 0, map[string]bool{}
				for _, o := range all(e, "option") {
					if has(o, "selected") {
						n++
					}
					if v := attr(o, "value"); values[v] {
						wrong(e, "a choice stands twice: "+v)
					} else {
						values[v] = true
					}
					if text(o) == "" && attr(o, "value") != "" {
						wrong(e, "a choice says nothing")
					}
				}
				if n > 1 {
					wrong(e, "two are chosen")
				}
			}
			return e.Data != "svg"
		})
	}
}

// withHeads are the screens whose tables have a head in each row: what a number belongs to is said with it.
var withHeads = []string{"record", "history", "shims", "moves", "board", "panel", "tables"}

// table looks whether each row of a table has as many cells as its head, and a head of its own where it is one of many.
func (s *person) table(e *html.Node, wrong func(*html.Node, string)) {
	for _, r := range all(e, "tr") {
		if r.Parent.Data == "tbody" && slices.Contains(withHeads, s.name) && attr(r, "class") != "acts" &&
			!slices.ContainsFunc(all(r, "th"), func(h *html.Node) bool { return attr(h, "scope") == "row" }) {
			wrong(r, "a row has no head")
			return
		}
	}
	wide := -1
	below := 0 // rows that a cell above reaches into
	for _, r := range all(e, "tr") {
		n := below
		if below > 0 {
			below--
		}
		reach := 0
		for c := r.FirstChild; c != nil; c = c.NextSibling {
			if c.Data == "td" || c.Data == "th" {
				k, err := strconv.Atoi(attr(c, "colspan"))
				if err != nil {
					k = 1
				}
				n += k
				if d, err := strconv.Atoi(attr(c, "rowspan")); err == nil && d > 1 {
					reach = d - 1
				}
			}
		}
		if reach > 0 {
			below = -reach // counted from the next row on
		}
		if wide < 0 {
			wide = n
		}
		if below < 0 || hasRowspan(e) {
			return
		}
		if n != wide {
			wrong(e, "a row has "+strconv.Itoa(n)+" cells, the first "+strconv.Itoa(wide))
			return
		}
	}
}

func hasRowspan(e *html.Node) bool {
	return slices.ContainsFunc(all(e, "td"), func(c *html.Node) bool { return has(c, "rowspan") })
}

// rows are the texts of the table of a name: of its label, its caption or the head of its first column. The first row is its head.
func (s *person) rows(name string) [][]string {
	s.Helper()
	for _, root := range s.own() {
		for _, t := range all(root, "table") {
			first := ""
			if h := all(t, "th"); len(h) > 0 {
				first = text(h[0])
			}
			caption := ""
			if c := all(t, "caption"); len(c) > 0 {
				caption = text(c[0])
			}
			if attr(t, "aria-label") != name && caption != name && first != name {
				continue
			}
			var out [][]string
			for _, r := range all(t, "tr") {
				var row []string
				for c := r.FirstChild; c != nil; c = c.NextSibling {
					if c.Data == "td" || c.Data == "th" {
						row = append(row, text(c))
					}
				}
				out = append(out, row)
			}
			return out
		}
	}
	s.Fatalf("%s: no table %q", s.name, name)
	return nil
}

// usable is whether somebody can press an element, type into it or choose from it.
func usable(e *html.Node) bool {
	switch e.Data {
	case "button", "input", "select", "textarea", "summary":
		return e.Type == html.ElementNode
	}
	return false
}

// called is the name of an element as a screen reader says it.
func (s *person) called(e *html.Node) string {
	if l := attr(e, "aria-label"); l != "" {
		return l
	}
	if e.Data == "button" || e.Data == "summary" {
		return text(e)
	}
	if id := attr(e, "id"); id != "" {
		name := ""
		each(s.root, func(l *html.Node) bool {
			if l.Data == "label" && attr(l, "for") == id {
				name = textBut(l, e)
			}
			return name == ""
		})
		if name != "" {
			return name
		}
	}
	for l := e.Parent; l != nil; l = l.Parent {
		if l.Data == "label" {
			return textBut(l, e)
		}
	}
	return ""
}

// controls are those of a name that can be seen and used.
func (s *person) controls(name string, kinds ...string) (out []*html.Node) {
	for _, root := range s.own() {
		each(root, func(e *html.Node) bool {
			if slices.Contains(kinds, e.Data) && e.Type == html.ElementNode && s.called(e) == name && visible(e) {
				out = append(out, e)
			}
			return true
		})
	}
	return out
}

// one is the only control of a name.
func (s *person) one(name string, kinds ...string) *html.Node {
	s.Helper()
	list := s.controls(name, kinds...)
	if len(list) != 1 {
		s.Fatalf("%s: %d of %q", s.name, len(list), name)
	}
	return list[0]
}

// presses is a button pressed, known by its name.
func (s *person) presses(name string) screens.Update {
	s.Helper()
	return s.press(s.one(name, "button"))
}

func (s *person) press(e *html.Node) screens.Update {
	s.Helper()
	if has(e, "disabled") {
		s.Errorf("%s: %q cannot be pressed", s.name, s.called(e))
	}
	kind, value := "click", attr(e, "value")
	if attr(e, "type") == "submit" {
		kind, value = "submit", ""
		for e != nil && e.Data != "form" {
			e = e.Parent
		}
		for i, f := range all(e, "input", "textarea") {
			if i > 0 {
				value += "\x1e"
			}
			value += attr(f, "name") + "\x1f" + s.holds(f)
		}
	}
	return s.sends(screens.Event{Name: attr(e, "data-on"), Arg: attr(e, "data-arg"), Kind: kind, Value: value})
}

// types is a text typed into the field of a name.
func (s *person) types(name, what string) screens.Update {
	s.Helper()
	return s.typeInto(s.one(name, "input", "textarea"), what)
}

func (s *person) typeInto(e *html.Node, what string) screens.Update {
	s.Helper()
	if id := attr(e, "id"); id != "" {
		s.given[id] = what
	} else {
		drop(e, "value")
		e.Attr = append(e.Attr, html.Attribute{Key: "value", Val: what})
	}
	name := attr(e, "data-on")
	if name == "" {
		name = attr(e, "data-left")
	}
	if name == "" {
		return screens.Update{} // of a form
	}
	return s.sends(screens.Event{Name: name, Arg: attr(e, "data-arg"), Kind: "input", Value: what})
}

// chooses takes the choice of a text from the list of a name; where the list is filled when somebody comes to it, it is filled.
func (s *person) chooses(name, what string) screens.Update {
	s.Helper()
	return s.chooseFrom(s.one(name, "select"), what)
}

func (s *person) chooseFrom(e *html.Node, what string) screens.Update {
	s.Helper()
	if event := attr(e, "data-choices"); event != "" {
		s.sends(screens.Event{Name: event, Arg: attr(e, "data-arg"), Kind: "choices", Value: s.holds(e)})
	}
	for _, o := range all(e, "option") {
		if text(o) == what {
			for _, x := range all(e, "option") {
				drop(x, "selected")
			}
			o.Attr = append(o.Attr, html.Attribute{Key: "selected"})
			return s.sends(screens.Event{Name: attr(e, "data-on"), Arg: attr(e, "data-arg"), Kind: "change", Value: attr(o, "value")})
		}
	}
	s.Fatalf("%s: %q is none of %q", s.name, what, s.called(e))
	return screens.Update{}
}

// tick sets a box.
func (s *person) tick(e *html.Node, on bool) screens.Update {
	s.Helper()
	drop(e, "checked")
	if on {
		e.Attr = append(e.Attr, html.Attribute{Key: "checked"})
	}
	return s.sends(screens.Event{Name: attr(e, "data-on"), Arg: attr(e, "data-arg"), Kind: "change", Value: strconv.FormatBool(on)})
}

// keys presses a key in an element that asked for it.
func (s *person) keysIn(id, key string) screens.Update {
	s.Helper()
	e := s.find(id)
	if e == nil || !slices.Contains(strings.Fields(attr(e, "data-keys")), key) {
		s.Fatalf("%s: %q does not ask for %s", s.name, id, key)
	}
	return s.sends(screens.Event{Name: attr(e, "data-keyed"), Arg: attr(e, "data-arg"), Kind: "keydown", Value: s.holds(e), Key: key})
}

// holds is what a field holds.
func (s *person) holds(e *html.Node) string {
	if t := attr(e, "type"); t == "checkbox" || t == "radio" {
		return strconv.FormatBool(has(e, "checked"))
	}
	if v, ok := s.given[attr(e, "id")]; ok && attr(e, "id") != "" {
		return v
	}
	switch e.Data {
	case "textarea":
		return text(e)
	case "select":
		for _, o := range all(e, "option") {
			if has(o, "selected") {
				return attr(o, "value")
			}
		}
		if o := all(e, "option"); len(o) > 0 {
			return attr(o[0], "value")
		}
	}
	return attr(e, "value")
}

// chosen is the text of what is chosen in the list of a name.
func (s *person) chosen(name string) string {
	s.Helper()
	e := s.one(name, "select")
	for _, o := range all(e, "option") {
		if attr(o, "value") == s.holds(e) {
			return text(o)
		}
	}
	return ""
}

// reads is all that a person reads in this screen, or in one element of it.
func (s *person) reads(id ...string) string {
	if len(id) > 0 {
		e := s.find(id[0])
		if e == nil {
			s.Fatalf("%s: no element %s", s.name, id[0])
		}
		return text(e)
	}
	var out []string
	for _, root := range s.own() {
		out = append(out, text(root))
	}
	return strings.Join(out, " ")
}

// says wants texts to be read, in this order.
func (s *person) says(texts ...string) {
	s.Helper()
	rest := s.reads()
	for _, t := range texts {
		_, after, ok := strings.Cut(rest, t)
		if !ok {
			s.Errorf("%s: nobody reads %q behind the others in %.1500s", s.name, t, s.reads())
			return
		}
		rest = after
	}
}

func (s *person) find(id string) (found *html.Node) {
	each(s.root, func(e *html.Node) bool {
		if found == nil && attr(e, "id") == id {
			found = e
		}
		return found == nil
	})
	return found
}

func each(e *html.Node, f func(*html.Node) bool) {
	if e.Type == html.ElementNode && !f(e) {
		return
	}
	for c := e.FirstChild; c != nil; c = c.NextSibling {
		each(c, f)
	}
}

// all are the elements of some kinds below another.
func all(e *html.Node, kinds ...string) (out []*html.Node) {
	each(e, func(x *html.Node) bool {
		if x != e && slices.Contains(kinds, x.Data) {
			out = append(out, x)
		}
		return true
	})
	return out
}

func has(e *html.Node, name string) bool {
	return slices.ContainsFunc(e.Attr, func(a html.Attribute) bool { return a.Key == name })
}

func attr(e *html.Node, name string) string {
	for _, a := range e.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

func drop(e *html.Node, name string) {
	e.Attr = slices.DeleteFunc(e.Attr, func(a html.Attribute) bool { return a.Key == name })
}

// visible is whether nothing hides an element: itself, something it stands in, a dialog apart.
func visible(e *html.Node) bool {
	for ; e != nil; e = e.Parent {
		if e.Data != "dialog" && has(e, "hidden") {
			return false
		}
	}
	return true
}

func inside(e, root *html.Node) bool {
	for ; e != nil; e = e.Parent {
		if e == root {
			return true
		}
	}
	return false
}

// text is what is read in an element, pieces of different elements apart by a blank, without drawings.
func text(e *html.Node) string { return textBut(e, nil) }

func textBut(e, but *html.Node) string {
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(x *html.Node) {
		switch {
		case x == but || x.DataAtom == atom.Svg || x.Data == "svg":
			return
		case x.Type == html.TextNode:
			b.WriteString(x.Data)
		case x.Type == html.ElementNode:
			b.WriteByte(' ')
		}
		for c := x.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
		if x.Type == html.ElementNode && x.Data != "b" && x.Data != "span" && x.Data != "kbd" && x.Data != "small" {
			b.WriteByte(' ')
		}
	}
	walk(e)
	return strings.Join(strings.Fields(b.String()), " ")
}

var _ testing.TB = (*person)(nil)

package desk

import (
	"regexp"
	"strings"
	"testing"
)

// A shownScreen is one of the screens in Go as a page shows it: what its regions, attributes and fields hold after every update, kept as the scripts do it.
type shownScreen struct {
	page
	name       string
	regions    map[string]string
	values     map[string]string
	attributes map[string]string // by id and name; "" and absent are not told apart
	last       answer
	said       string
}

// show opens a screen.
func (p page) show(name string) *shownScreen {
	s := &shownScreen{page: p, name: name, regions: map[string]string{}, values: map[string]string{}, attributes: map[string]string{}}
	s.apply(p.ask("screen", name, "show", "1366"))
	return s
}

func (s *shownScreen) apply(u answer) {
	s.Helper()
	s.last = u
	for _, r := range u["regions"].([]any) {
		r := r.([]any)
		s.regions[r[0].(string)] = r[1].(string)
		for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(r[1].(string), -1) {
			delete(s.regions, m[1]) // an element anew
		}
		for _, m := range regexp.MustCompile(`<input[^>]* id="([^"]+)"[^>]*? value="([^"]*)"`).FindAllStringSubmatch(r[1].(string), -1) {
			s.values[m[1]] = m[2]
		}
	}
	for _, v := range u["values"].([]any) {
		v := v.([]any)
		s.values[v[0].(string)] = v[1].(string)
	}
	for _, a := range u["attributes"].([]any) {
		key := a.([]any)[0].(string) + " " + a.([]any)[1].(string)
		if delete(s.attributes, key); len(a.([]any)) > 2 {
			s.attributes[key] = "=" + a.([]any)[2].(string)
		}
	}
	if u["changed"] == true {
		took := s.ask("took")
		if s.said, _ = took["note"].(string); took["changed"] == true {
			s.apply2(s.ask("screen", s.name, "changed", "1366"))
		}
	}
	if say, ok := u["say"].(string); ok {
		s.said = say
	}
}

// apply2 applies what a screen says to a change that is its own: the answer to look at stays the first.
func (s *shownScreen) apply2(u answer) {
	first := s.last
	s.apply(u)
	s.last = first
}

// does sends an event: name, argument, and up to three of kind, value, key.
func (s *shownScreen) does(name, arg string, more ...string) {
	s.Helper()
	in := []Value{s.name, "event", name, arg, "click", "", ""}
	for k, m := range more {
		in[4+k] = m
	}
	s.apply(s.ask("screen", in...))
}

// has wants a text in a region.
func (s *shownScreen) has(region, text string) {
	s.Helper()
	if !strings.Contains(s.regions[region], text) {
		s.Fatalf("%s lacks %q: %s", region, text, s.regions[region])
	}
}

// attribute is the value of an attribute behind "=", "" where the element has none.
func (s *shownScreen) attribute(id, name string) string { return s.attributes[id+" "+name] }

var _ testing.TB = (*shownScreen)(nil)

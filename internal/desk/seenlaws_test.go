package desk

import (
	"reflect"
	"testing"

	"golang.org/x/net/html"

	"shimsheet/internal/screens"
)

// Every screen of an empty job, a small one and the demo keeps the laws of what is seen, whatever button is pressed, and every button does something.
func TestEveryButtonAnswers(t *testing.T) {
	for what, begins := range map[string]func(testing.TB) page{"nothing": begin, "small": small, "demo": demo} {
		for name := range newScreens {
			t.Run(what+"/"+name, func(t *testing.T) {
				p := begins(t)
				s := p.looksAt(name)
				pressed := map[string]bool{}
				for range 60 {
					var next *html.Node
					for _, root := range s.own() {
						for _, e := range all(root, "button") {
							if key := attr(e, "data-on") + " " + s.called(e); next == nil && attr(e, "data-on") != "" && visible(e) && !has(e, "disabled") && !pressed[key] {
								pressed[key], next = true, e
							}
						}
					}
					if next == nil {
						break
					}
					called := s.called(next)
					if u := s.press(next); reflect.DeepEqual(u, screens.Update{}) {
						t.Errorf("%q does nothing", called)
					}
					if s.dialog == "" && s.find("screen-"+name) == nil {
						s.show() // it closed its dialog
					}
				}
				s.changed()
			})
		}
	}
}

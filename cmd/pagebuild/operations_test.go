package main

import (
	"strings"
	"testing"

	"shimsheet/internal/desk"
)

// What the scripts call is there, and what is there is called; the build of the page asks the same.
func TestOperations(t *testing.T) {
	_, scripts, err := sources(root)
	if err != nil {
		t.Fatal(err)
	}
	if scripts, err = callers(root, scripts); err != nil {
		t.Fatal(err)
	}
	if err := checkOperations(scripts, desk.Operations()); err != nil {
		t.Error(err)
	}
	const script = `act(e.shiftKey ? "redo" : "undo"); const x = ask("one", "two")?.y; f.Act("cut"); { rows: (m) => ["all", m.rows] }`
	if err := checkOperations(script, []string{"redo", "undo", "one", "cut", "all"}); err != nil {
		t.Error(err)
	}
	for _, c := range []struct {
		there []string
		want  string
	}{{[]string{"redo", "undo", "one", "cut"}, "calls all"}, {[]string{"redo", "undo", "one", "cut", "all", "two"}, "operation two"}} {
		if err := checkOperations(script, c.there); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: %v", c.there, err)
		}
	}
}

package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"shimsheet/internal/words"
)

// The page's programs are built with what they need of the catalogue; a language without a catalogue is told.
func TestCatalogue(t *testing.T) {
	flags, err := catalogue(root, "en")
	if err != nil || len(flags) != 1 || !strings.HasPrefix(flags[0], "-overlay=") {
		t.Error(flags, err)
	}
	if _, err := catalogue(root, "xx"); err == nil {
		t.Error("a language without a catalogue was taken")
	}
}

// Shortened, a catalogue has the texts that are asked for by key as they were, and those with names in their places, but for those that the page does not say.
func TestShorten(t *testing.T) {
	short := shorten("# said\n\na.b = x = y\nc.d = \" z\"\n\n" + words.Named + "\n\n# more\nproblem.e = {0} f\nhttp.g = h\nhint.i = \"j\\n\"\n")
	if want := "a.b = x = y\nc.d = \" z\"\n" + words.Named + "\n. = {0} f\n. = \"\"\n. = \"j\\n\"\n"; short != want {
		t.Errorf("%q, want %q", short, want)
	}
	screens, named, ok := words.Cut("\n" + shorten(words.Catalogue))
	all, _, _ := words.Cut(words.Catalogue)
	was, err := words.Parse(all)
	if is, err2 := words.Parse(screens); err != nil || err2 != nil || !ok || len(is) != len(was) || strings.Count(named, "\n. = ")+1 < 1000 {
		t.Error("the catalogue is not whole", err, err2)
	}
}

// What is left out of the page's catalogue no package of the page's programs says: it would be said as nothing.
func TestPageSaysNothingThatIsLeftOut(t *testing.T) {
	cmd := exec.Command("go", "list", "-deps", "-f", `{{if not .Standard}}{{$d := .Dir}}{{range .GoFiles}}{{$d}}/{{.}}{{"\n"}}{{end}}{{end}}`, "./cmd/wasm/page", "./cmd/wasm/workbook")
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var groups []string
	for _, g := range notInPage {
		groups = append(groups, words.Name(g))
	}
	left, seen := regexp.MustCompile(`\bwords\.(`+strings.Join(groups, "|")+`)[A-Z]\w*`), 0
	for _, name := range strings.Fields(string(out)) {
		text, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(text), "words.Problem") {
			seen++
		}
		if m := left.Find(text); m != nil {
			t.Errorf("%s says %s, which the page's catalogue has not", name, m)
		}
	}
	if seen < 10 {
		t.Errorf("only %d files that say a problem were looked at", seen)
	}
}

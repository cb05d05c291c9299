package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/words"
)

var pagePrograms = []string{"./cmd/wasm/page", "./cmd/wasm/workbook"}

// The page's programs are built with what they say of the catalogue; a language without a catalogue is told.
func TestCatalogue(t *testing.T) {
	flags, err := catalogue(root, "en", pagePrograms...)
	if err != nil || len(flags) != 1 || !strings.HasPrefix(flags[0], "-overlay=") {
		t.Error(flags, err)
	}
	if _, err := catalogue(root, "xx", pagePrograms...); err == nil {
		t.Error("a language without a catalogue was taken")
	}
}

// Shortened, a catalogue has the texts that are asked for by key as they were, and those with names in their places, but for those that are not said.
func TestShorten(t *testing.T) {
	says := map[string]bool{"a.b": true, "c.d": true, "ProblemE": true, "HintI": true}
	short := shorten("# said\n\na.b = x = y\nc.d = \" z\"\nc.e = z\n\n"+words.Named+"\n\n# more\nproblem.e = {0} f\nhttp.g = h\nhint.i = \"j\\n\"\n", says)
	if want := "a.b = x = y\nc.d = \" z\"\n\n" + words.Named + "\n. = {0} f\n. = \"\"\n. = \"j\\n\"\n"; short != want {
		t.Errorf("%q, want %q", short, want)
	}
}

// What the page's programs say is in their catalogue: every key and every name that the packages they are linked from hold, as Go's own parser finds them. The command's texts are not.
func TestPageHasWhatItSays(t *testing.T) {
	says, err := saidBy(root, pagePrograms)
	if err != nil {
		t.Fatal(err)
	}
	screens, _, ok := words.Cut(shorten(words.Catalogue, says))
	all, err := words.Parse(screens)
	if err != nil || !ok {
		t.Fatal(ok, err)
	}
	seen := 0
	for _, dir := range []string{"desk", "screens", "sheet", "workbook", "report", "job", "grid", "headers"} {
		files, err := filepath.Glob(filepath.Join(root, "internal", dir, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range files {
			if strings.HasSuffix(name, "_test.go") {
				continue
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(file, func(n ast.Node) bool {
				s, ok := n.(*ast.SelectorExpr)
				if x, is := n.(*ast.CallExpr); is && len(x.Args) > 0 {
					if f, is := x.Fun.(*ast.SelectorExpr); is && f.Sel.Name == "Text" {
						if of, is := f.X.(*ast.Ident); is && of.Name == "words" {
							key, err := strconv.Unquote(x.Args[0].(*ast.BasicLit).Value)
							if seen++; err != nil || all[key] == "" {
								t.Errorf("%s is not in the page's catalogue", key)
							}
						}
					}
				}
				if ok {
					if x, is := s.X.(*ast.Ident); is && x.Name == "words" && !says[s.Sel.Name] {
						t.Errorf("%s is not in the page's catalogue", s.Sel.Name)
					}
				}
				return true
			})
		}
	}
	if seen < 500 || says["UsageHead"] || says["HttpNothingAt"] || !says["ProblemNoName"] {
		t.Errorf("%d texts asked for by key were looked at", seen)
	}
}

package words

import (
	"errors"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strconv"
	"strings"
	"testing"
)

// keys.go is what the catalogue makes of it: else names would lead to the texts of others.
func TestNamesAreThoseOfTheCatalogue(t *testing.T) {
	want, err := Names(Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("keys.go")
	if err != nil || string(got) != string(want) {
		t.Fatal("keys.go is not that of catalogue.txt: go generate ./internal/words", err)
	}
	if _, err := Names("a.b = c"); err == nil {
		t.Error("a catalogue without its second part was taken")
	}
}

// places is how many values a text has room for: {0} to {n-1}, each at least once.
func places(t *testing.T, text string) (n int) {
	for n < 10 && strings.Contains(text, "{"+strconv.Itoa(n)+"}") {
		n++
	}
	if strings.Count(text, "{") != strings.Count(text, "}") || n == 0 && strings.Contains(text, "{") {
		t.Errorf("the places of %q are not {0}, {1} …", text)
	}
	return n
}

// Every text with a name is said somewhere, and where values stand beside it they are as many as it has places: one more would be lost, one fewer would show a brace.
func TestNamedTextsGetTheirValues(t *testing.T) {
	_, named, _ := Cut(Catalogue)
	room, used := map[string]int{}, map[string]int{}
	if err := lines(named, func(_ int, key, say string) error {
		group, rest, _ := strings.Cut(key, ".")
		if _, twice := room[Name(group)+Name(rest)]; twice {
			t.Errorf("%s stands twice", key)
		}
		room[Name(group)+Name(rest)] = places(t, say)
		return nil
	}); err != nil {
		t.Fatal(err)
	}
	counted := 0
	eachSource(t, func(name string, text []byte) {
		if !strings.Contains(string(text), `"shimsheet/internal/words"`) {
			return
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, text, 0)
		if err != nil {
			t.Fatal(err)
		}
		key := func(e ast.Expr) string {
			if s, ok := e.(*ast.SelectorExpr); ok {
				if x, ok := s.X.(*ast.Ident); ok && x.Name == "words" {
					if _, is := room[s.Sel.Name]; is {
						return s.Sel.Name
					}
				}
			}
			return ""
		}
		ast.Inspect(file, func(n ast.Node) bool {
			if e, ok := n.(ast.Expr); ok && key(e) != "" {
				used[key(e)]++
			}
			call, ok := n.(*ast.CallExpr)
			if !ok || call.Ellipsis.IsValid() {
				return true
			}
			given, k := -1, ""
			switch f := call.Fun.(type) {
			case *ast.SelectorExpr:
				switch f.Sel.Name {
				case "Say", "With", "Wrap":
					given, k = len(call.Args), key(f.X)
				case "String":
					given, k = 0, key(f.X)
				case "fail": // of a train: at which row and column, and what
					if len(call.Args) > 2 {
						given, k = len(call.Args)-3, key(call.Args[2])
					}
				}
			case *ast.Ident:
				if f.Name == "say" {
					for i, a := range call.Args {
						if key(a) != "" && i < 2 {
							given, k = len(call.Args)-1-i, key(a)
						}
					}
				}
			}
			if k == "" {
				return true
			}
			if counted++; given != room[k] {
				t.Errorf("%s: %s is given %d values and has room for %d", name, k, given, room[k])
			}
			return true
		})
	})
	if counted < 500 {
		t.Errorf("only %d places were looked at", counted)
	}
	for k := range room {
		if used[k] == 0 {
			t.Errorf("nobody says %s", k)
		}
	}
}

// A catalogue put into the order of the English one says what it said, whatever order its lines were in.
func TestOrdered(t *testing.T) {
	all, err := Parse(Catalogue)
	if err != nil {
		t.Fatal(err)
	}
	if got := string(Ordered(Catalogue, all)); got != Catalogue {
		t.Error("the English catalogue in its own order differs")
	}
	if got := string(Ordered("# x\n\na.b = c\nd.e = \" f\"", map[string]string{"d.e": " g", "a.b": "h"})); got != "# x\n\na.b = h\nd.e = \" g\"" {
		t.Errorf("%q", got)
	}
}

type word string

func (w word) String() string { return "the " + string(w) }

// Each kind of value as fmt would write it.
func TestSay(t *testing.T) {
	one := SentenceAsItIs
	for want, v := range map[string]any{"a {1} b": "a {1} b", "-12": -12, "0.25": 0.25, "2": 2.0, "bytes": []byte("bytes"), "the end": word("end"), "no": errors.New("no")} {
		if got := one.Say(v); got != want {
			t.Errorf("%v: %q, want %q", v, got, want)
		}
	}
	if one.String() != "{0}" || one.Say() != "{0}" || SentenceNone.Say("x") != "" {
		t.Error("a text without its values")
	}
	defer func() {
		if recover() == nil {
			t.Error("a value nobody can write was written")
		}
	}()
	one.Say(struct{}{})
}

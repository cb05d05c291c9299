package deptest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// What package evaluate finds out is a code with its values, and the sentence is made when somebody asks: its code calls nothing that makes one. The names that it gives to things which
// nobody has named stand in names.go; those are data from then on.
func TestEvaluateMakesNoSentence(t *testing.T) {
	key := regexp.MustCompile("^(Problem|Hint|Sentence|Reason|List|Word|Side|Pack|Past|Stage|Todo|Paper|Round|Meaning)[A-Z0-9]")
	dir := filepath.Join("..", "evaluate")
	files, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	seen, named := 0, 0
	for _, f := range files {
		name := f.Name()
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			continue
		}
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, filepath.Join(dir, name), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			s, ok := n.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			seen++
			ofWords, ofKey := false, false
			switch x := s.X.(type) {
			case *ast.Ident:
				ofWords = x.Name == "words"
			case *ast.SelectorExpr:
				w, ok := x.X.(*ast.Ident)
				ofKey = ok && w.Name == "words" && key.MatchString(x.Sel.Name)
				ofKey = ofKey || x.Sel.Name == "Text" || x.Sel.Name == "Hint" || x.Sel.Name == "Why" // phrases of problems and results
			}
			says := ofWords && (s.Sel.Name == "Text" || s.Sel.Name == "Count" || s.Sel.Name == "Fill") || ofKey && (s.Sel.Name == "String" || s.Sel.Name == "Append") || s.Sel.Name == "Say"
			switch {
			case says && name == "names.go":
				named++
			case says:
				t.Errorf("%s makes a sentence: %s", set.Position(s.Pos()), s.Sel.Name)
			}
			return true
		})
	}
	if seen < 5000 || named == 0 {
		t.Errorf("%d selectors and %d names were looked at", seen, named)
	}
}

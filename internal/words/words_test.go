package words

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// eachSource hands over every Go file of the project that is no test.
func eachSource(t *testing.T, f func(name string, text []byte)) {
	t.Helper()
	err := filepath.WalkDir("../..", func(name string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "dist" || d.Name() == "node_modules" || d.Name() == ".git") {
			return filepath.SkipDir
		}
		if !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
			return nil
		}
		text, err := os.ReadFile(name)
		if err == nil {
			f(name, text)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Every key that the source names is in the catalogue, and every text of the catalogue is named somewhere: a text that nobody shows is dead, and
// one that is missing would be seen first by a person.
func TestCatalogue(t *testing.T) {
	screens, _, _ := Cut(Catalogue)
	all, err := Parse(screens)
	if err != nil {
		t.Fatal(err)
	}
	named := regexp.MustCompile(`words\.(Text|Count)\("([^"]+)"`)
	used := map[string]bool{}
	eachSource(t, func(name string, text []byte) {
		for _, m := range named.FindAllStringSubmatch(string(text), -1) {
			keys := []string{m[2]}
			if m[1] == "Count" {
				keys = []string{m[2] + ".one", m[2] + ".many"}
			}
			for _, k := range keys {
				used[k] = true
				if _, ok := all[k]; !ok {
					t.Errorf("%s names %s, which the catalogue lacks", name, k)
				}
			}
		}
	})
	if len(used) == 0 {
		t.Fatal("no source was found")
	}
	web := ""
	for _, pattern := range []string{"*.html", "*.js"} {
		files, _ := filepath.Glob(filepath.Join("..", "..", "web", pattern))
		for _, f := range files {
			b, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			web += string(b)
		}
	}
	for k := range all {
		of, path, _ := strings.Cut(k, ".") // of the page's HTML and scripts; cmd/pagebuild asks the other way round
		shown := used[k] || of == "html" && strings.Contains(web, "{{"+path+"}}") || of == "script" && strings.Contains(web, "T."+path)
		if !shown {
			t.Errorf("nobody shows %s", k)
		}
	}
}

func TestFill(t *testing.T) {
	for _, c := range []struct {
		text   string
		values []string
		want   string
	}{
		{"{0} of {1}", []string{"3", "4"}, "3 of 4"},
		{"{1}{0}", []string{"a", "b"}, "ba"},
		{"{0}", []string{"{1}", "no"}, "{1}"}, // what a value holds is not looked at again
		{"{2} and {x} and }", []string{"a"}, "{2} and {x} and }"},
		{"plain", []string{"a"}, "plain"},
	} {
		if got := Fill(c.text, c.values...); got != c.want {
			t.Errorf("%q with %q: %q, want %q", c.text, c.values, got, c.want)
		}
	}
}

func TestNumber(t *testing.T) {
	for n, want := range map[int]string{0: "0", 999: "999", 1000: "1,000", 1234567: "1,234,567", -1234: "-1,234", -123: "-123"} {
		if got := Number(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

func TestParse(t *testing.T) {
	for _, bad := range []string{"key text", "a = 1\na = 2", "a="} {
		if _, err := Parse(bad); err == nil {
			t.Errorf("%q was taken", bad)
		}
	}
	m, err := Parse("# said\n\na.b = x = y\n")
	if err != nil || m["a.b"] != "x = y" || len(m) != 1 {
		t.Error(m, err)
	}
}

package evidence

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

const root = "../.."

// The documents carry what the checks say. The files are opened here, so `go test` does not answer from its cache when they change.
func TestDocuments(t *testing.T) {
	checks, err := Collect(root)
	if err != nil {
		t.Fatal(err)
	}
	if len(checks) == 0 {
		t.Fatal("no check found")
	}
	for _, d := range Documents {
		doc, err := os.ReadFile(filepath.Join(root, d.Name))
		if err != nil {
			t.Fatal(err)
		}
		want, err := d.Splice(string(doc), checks)
		if err != nil {
			t.Fatal(err)
		}
		if want != string(doc) {
			t.Errorf("%s is not what the checks say: make evidence", d.Name)
		}
	}
}

// A file of checks that no test reads would be counted and never run.
func TestEveryFileIsRead(t *testing.T) {
	read := regexp.MustCompile(`vec\.(?:Read|Load)\([^"\n]*"([^"]+)"`)
	var patterns []string
	err := filepath.WalkDir(filepath.Join(root, "internal"), func(path string, d os.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "_test.go") {
			return err
		}
		text, err := os.ReadFile(path)
		for _, m := range read.FindAllStringSubmatch(string(text), -1) {
			patterns = append(patterns, filepath.Base(m[1]))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(root, "testdata", "vec", "*"))
	if err != nil || len(files) == 0 {
		t.Fatal("testdata/vec is empty", err)
	}
	for _, f := range files {
		name, found := filepath.Base(f), false
		for _, p := range patterns {
			ok, err := filepath.Match(p, name)
			if err != nil {
				t.Error(p, err)
			}
			found = found || ok
		}
		if !found {
			t.Errorf("testdata/vec/%s is read by no test", name)
		}
	}
}

func TestFromGo(t *testing.T) {
	got, err := FromGo("x_test.go", []byte(`package x

// TestLine checks.
//evidence: calc=line from readings grade=independent count=40 source=gonum mat.QR, v0.17.0; 40 layouts
func TestLine(t *testing.T) {
	// evidence: calc=packs grade=identity count=2 source=brute force
}
`))
	if err != nil {
		t.Fatal(err)
	}
	want := []Check{
		{"line from readings", "independent", "gonum mat.QR, v0.17.0; 40 layouts", 40, "x_test.go:4:1"},
		{"packs", "identity", "brute force", 2, "x_test.go:6:2"},
	}
	if len(got) != 2 || got[0] != want[0] || got[1] != want[1] {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
}

func TestFromGoRefuses(t *testing.T) {
	inside := func(s string) string { return "package x\nfunc TestX() {\n\t" + s + "\n}\n" }
	for _, tt := range []struct{ name, text, want string }{
		{"no test", "package x\n\nfunc help() {\n\t//evidence: calc=a grade=identity count=1 source=s\n}\n", "without a test function"},
		{"grade", inside("//evidence: calc=a grade=sure count=1 source=s"), "grade=sure is none of"},
		{"count", inside("//evidence: calc=a grade=identity count=0 source=s"), "count=0 is not a count"},
		{"count word", inside("//evidence: calc=a grade=identity count=many source=s"), "count=many is not a count"},
		{"no source", inside("//evidence: calc=a grade=identity count=1"), "no source="},
		{"empty source", inside("//evidence: calc=a grade=identity count=1 source="), "source= is empty"},
		{"order", inside("//evidence: grade=identity calc=a count=1 source=s"), "where calc=… should stand"},
		{"not Go", "package", "expected"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got, err := FromGo("x_test.go", []byte(tt.text))
			if err == nil || !strings.Contains(err.Error(), tt.want) {
				t.Errorf("got %v, %v; want an error with %q", got, err, tt.want)
			}
		})
	}
}

func TestMarkdown(t *testing.T) {
	got := Markdown([]Check{
		{Calc: "packs", Grade: "regression", Source: "a seen fault", Count: 1},
		{Calc: "line", Grade: "identity", Source: "rotation", Count: 10},
		{Calc: "line", Grade: "published", Source: "B", Count: 1},
		{Calc: "line", Grade: "published", Source: "A", Count: 2},
		{Calc: "line", Grade: "published", Source: "B", Count: 1},
	})
	want := `| calculation | published | independent | identity | practice | regression |
|---|--:|--:|--:|--:|--:|
| line | 4 | | 10 | | |
| packs (unverified) | | | | | 1 |
| all | 4 | | 10 | | 1 |

Sources:

- line
  - published, 2: A
  - published, 2: B
  - identity, 10: rotation
- packs
  - regression, 1: a seen fault
`
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestSummary(t *testing.T) {
	got := Summary([]Check{{Calc: "line", Grade: "published", Source: "A", Count: 2}, {Calc: "line", Grade: "published", Source: "B", Count: 3}, {Calc: "packs", Grade: "published", Source: "A", Count: 1}})
	if want := "| checks | calculations | cases |\n|---|--:|--:|\n| published | 2 | 6 |\n| independent | 0 | 0 |\n"; !strings.HasPrefix(got, want) {
		t.Errorf("got\n%s", got)
	}
}

func TestSplice(t *testing.T) {
	const begin, end = "<!-- mark: made by `make evidence`, do not edit -->\n", "<!-- /mark -->"
	d := Document{"X.md", "mark", func([]Check) string { return "T\n" }}
	doc := "a\n" + begin + "old\n" + end + "z\n"
	got, err := d.Splice(doc, nil)
	if want := "a\n" + begin + "\nT\n\n" + end + "z\n"; err != nil || got != want {
		t.Errorf("got %q, %v; want %q", got, err, want)
	}
	if again, err := d.Splice(got, nil); err != nil || again != got {
		t.Errorf("a second time: got %q, %v", again, err)
	}
	if _, err := d.Splice("a\n"+begin, nil); err == nil {
		t.Error("a document without the last marker was taken")
	}
}

// The checks on disk, read as the documents read them: a fixture beside the real ones.
func TestCollect(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		name = filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	block := "calc: convert\ngrade: published\nsource: S\nin: text = 1 in\nwant: value = 25.4 mm\ntol: 0 mm (exact)\n\n"
	write("testdata/vec/a.vec", block+block)
	write("internal/x/x_test.go", "package x\n\nfunc TestX() {\n\t//evidence: calc=line grade=identity count=3 source=R\n}\n")
	write("internal/x/x.go", "package x\n\n// evidence: not a test file, not read\n")
	got, err := Collect(dir)
	if err != nil {
		t.Fatal(err)
	}
	table := Markdown(got)
	if !strings.Contains(table, "| convert | 2 | | | | |\n") || !strings.Contains(table, "| line | | | 3 | | |\n") {
		t.Errorf("got\n%s", table)
	}
	write("testdata/vec/b.vec", "calc: convert\n\n")
	if _, err := Collect(dir); err == nil {
		t.Error("a broken file of checks was taken")
	}
}

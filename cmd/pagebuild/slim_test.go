package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// An edit that matches nowhere, or more than once, stops the build: the library has changed under it.
func TestApplyOnce(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"one two", ""},
		{"two two", "2 times"},
		{"three", "0 times"},
	} {
		dir := t.TempDir()
		name := filepath.Join(dir, "a.go")
		if err := os.WriteFile(name, []byte(c.text), 0o600); err != nil {
			t.Fatal(err)
		}
		err := apply(dir, []edit{{"a.go", "two", "2"}})
		got, _ := os.ReadFile(name)
		if c.want == "" && (err != nil || string(got) != "one 2") || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want) || string(got) != c.text) {
			t.Errorf("%q: %v and %q, want an error with %q", c.text, err, got, c.want)
		}
	}
}

// The edits fit the version of the library in go.mod, and what they are made against is gone: no look-up of methods by name, no web client, no
// tables of character sets. (The linker's own list of reflected methods is the proof; it is held through the size in budgets.txt.)
func TestSlim(t *testing.T) {
	modfile, err := slim(root)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(filepath.Dir(modfile), "excelize", "*.go"))
	if err != nil || len(files) < 50 {
		t.Fatal(len(files), err)
	}
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		for _, gone := range []string{"MethodByName(", `"net/http"`, "go-deepcopy", "html/charset"} {
			if strings.Contains(string(b), gone) {
				t.Errorf("%s still holds %s", filepath.Base(name), gone)
			}
		}
	}
}

// On a machine that has nothing of the library yet, the first `make run` ended with "not downloaded". The modules come from the downloads that this
// machine keeps, into an empty cache, so no network is asked.
func TestSlimFetches(t *testing.T) {
	out, err := exec.Command("go", "env", "GOMODCACHE").Output()
	if err != nil {
		t.Fatal(err)
	}
	t.Setenv("GOMODCACHE", t.TempDir())
	t.Setenv("GOPROXY", "file://"+filepath.Join(strings.TrimSpace(string(out)), "cache", "download"))
	t.Setenv("GOFLAGS", "-modcacherw")
	t.Setenv("GONOSUMDB", "*")
	if _, err := slim(root); err != nil {
		t.Fatal(err)
	}
}

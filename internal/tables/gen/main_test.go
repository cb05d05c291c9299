package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The generated file is the texts as they are.
func TestCurrent(t *testing.T) {
	want, err := generate("../../../testdata/tables")
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile("../data.go")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("internal/tables/data.go is not what testdata/tables says: run go generate ./internal/tables")
	}
}

// What a Go string cannot hold, and a table under another name, is refused with the file's name.
func TestRefused(t *testing.T) {
	for text, want := range map[string]string{
		"key: a\ntitle: `\n":   "back quote",
		"key: a\r\ntitle: x\n": "carriage return",
		"key: b\n":             `key: a`,
	} {
		dir := t.TempDir()
		if err := os.WriteFile(filepath.Join(dir, "a.tsv"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, err := generate(dir); err == nil || !strings.Contains(err.Error(), want) || !strings.Contains(err.Error(), "a.tsv") {
			t.Errorf("%q: %v", text, err)
		}
	}
	if _, err := generate(t.TempDir()); err == nil {
		t.Error("an empty directory makes no error")
	}
}

// Comments stay behind.
func TestComments(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.tsv"), []byte("# why\nkey: a\n\nx\n# and why\ny\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	got, err := generate(dir)
	if err != nil || !strings.Contains(string(got), "\t`key: a\n\nx\ny\n`,\n") {
		t.Errorf("%v\n%s", err, got)
	}
}

package main

import (
	"bytes"
	"compress/gzip"
	"io"
	"strings"
	"testing"
)

// A compressed program that lacked its last block opened as a broken stream in the browser: the bytes had been taken before the
// writer was closed.
func TestCompressWhole(t *testing.T) {
	want := bytes.Repeat([]byte("shim "), 100_000)
	packed, err := compress(want, false)
	if err != nil {
		t.Fatal(err)
	}
	r, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		t.Fatal(err)
	}
	if got, err := io.ReadAll(r); err != nil || !bytes.Equal(got, want) {
		t.Fatalf("%d bytes came back, %v; want %d", len(got), err, len(want))
	}
}

func TestFill(t *testing.T) {
	page, err := fill("<b>@@A@@</b>@@B@@", map[string]string{"A": "1 @@B@@", "B": "2"})
	if err != nil || page != "<b>1 @@B@@</b>2" {
		t.Errorf("%q, %v: what looks like a placeholder inside a part must stay", page, err)
	}
	if _, err := fill("@@C@@", nil); err == nil || !strings.Contains(err.Error(), "C") {
		t.Errorf("a missing part: %v", err)
	}
	if _, err := fill("@@A@@", map[string]string{"A": "x</SCRIPT>"}); err == nil {
		t.Error("a part that ends its element was taken")
	}
}

func TestPieces(t *testing.T) {
	s := strings.Repeat("abc", 50)
	p := pieces(s, 60)
	if strings.Join(p, "") != s || len(p) != 3 {
		t.Errorf("%q", p)
	}
}

// A piece of base64 that ends within a group of four is not text of its own.
func TestWorkbookPieces(t *testing.T) {
	if workbookPieceLength%4 != 0 {
		t.Errorf("pieces of %d signs cut a group of four", workbookPieceLength)
	}
}

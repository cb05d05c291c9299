package main

import (
	"bytes"
	"compress/gzip"
	"encoding/ascii85"
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

// Each piece stands by itself, has no letter that means something in a page or a script, and comes back by the standard library's decoder.
func TestBase85(t *testing.T) {
	back := strings.NewReplacer("v", "<", "w", "&", "x", "@", "y", "$", "{", `\`, "|", `"`, "}", "'", "~", "`")
	b := make([]byte, 10_001)
	for i := range b {
		b[i] = byte(i * i >> 3)
	}
	copy(b[400:], make([]byte, 64)) // zeros have a letter of their own
	pieces := base85(b, 3000)
	var got []byte
	for _, p := range pieces {
		if strings.ContainsAny(p, "<&@$\\\"'` \n") {
			t.Fatalf("%.80q", p)
		}
		out := make([]byte, len(p)*4)
		n, _, err := ascii85.Decode(out, []byte(back.Replace(p)), true)
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, out[:n]...)
	}
	if len(pieces) != 4 || !bytes.Equal(got, b) {
		t.Errorf("%d pieces, %d bytes of %d", len(pieces), len(got), len(b))
	}
}

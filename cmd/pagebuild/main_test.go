package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"testing"
)

// A compressed program that lacked its last block opened as a broken stream in the browser: the bytes had been taken before the
// writer was closed.
func TestCompressWhole(t *testing.T) {
	want := bytes.Repeat([]byte("shim "), 100_000)
	packed, err := compress(want)
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

// Each piece stands by itself, has no letter that means something in a page or a script, and holds its bytes as digits of base 91.
func TestBase91(t *testing.T) {
	if len(letters) != 91 || strings.ContainsAny(letters, "<&\\ \n\x7f") {
		t.Fatalf("%d letters: %s", len(letters), letters)
	}
	for _, size := range []int{10_001, 3000, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14} {
		b := make([]byte, size)
		for i := range b {
			b[i] = byte(i*i>>3) | 0x80
		}
		pieces := base91(b, 3000)
		var got []byte
		for k, p := range pieces {
			bits8 := 8 * min(3000, size-3000*k)
			if letters := bits8/13*2 + []int{0, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2}[bits8%13]; len(p) != letters {
				t.Errorf("%d bytes, piece %d: %d letters, not %d", size, k, len(p), letters)
			}
			// As text of zeros and ones.
			var bits strings.Builder
			for len(p) > 1 {
				fmt.Fprintf(&bits, "%013b", strings.IndexByte(letters, p[0])*91+strings.IndexByte(letters, p[1]))
				p = p[2:]
			}
			if len(p) == 1 {
				fmt.Fprintf(&bits, "%06b", strings.IndexByte(letters, p[0]))
			}
			all := bits.String()
			for len(all) >= 8 {
				x, err := strconv.ParseUint(all[:8], 2, 8)
				if err != nil {
					t.Fatal(err)
				}
				got, all = append(got, byte(x)), all[8:]
			}
			if strings.Contains(all, "1") {
				t.Errorf("%d bytes: %q is left over", size, all)
			}
		}
		if len(pieces) != (size+2999)/3000 || !bytes.Equal(got, b) {
			t.Errorf("%d bytes: %d pieces, %d bytes come back", size, len(pieces), len(got))
		}
	}
}

// What stands in a script element ends it nowhere and comes out as it went in; tags that mean nothing there keep their letters.
func TestInScript(t *testing.T) {
	for text, want := range map[string]string{
		`<p class="a">b &amp; c</p>`:      `"<p class=\"a\">b &amp; c</p>"`,
		`</script><SCRIPT><!-- </Style >`: `"\u003c/script>\u003cSCRIPT>\u003c!-- \u003c/Style >"`,
		"<\u2028/script> x < y <scripted": `"<\u2028/script> x < y \u003cscripted"`,
		`\u003c/script> \\<!-- as text`:   `"\\u003c/script> \\\\\u003c!-- as text"`,
	} {
		got, back := inScript(text), ""
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
		if err := json.Unmarshal([]byte(got), &back); err != nil || back != text {
			t.Errorf("%q comes back as %q, %v", text, back, err)
		}
	}
}

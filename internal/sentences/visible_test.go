package sentences

import (
	"bytes"
	"testing"
)

// Names from files once steered the terminal: escape sequences, texts turned around, names that look alike.
func TestVisible(t *testing.T) {
	for in, want := range map[string]string{
		"":                                 "",
		"P-101 ±0,05 mm µ ≤":               "P-101 ±0,05 mm µ ≤",
		"Kühlwasser 泵 насос":               "Kühlwasser 泵 насос",
		"a\x1b[31mb\x00\x7f":               `a\x1b[31mb\x00\x7f`,
		"a\tb\nc\rd":                       `a\tb\nc\rd`,
		"\u009b2J\u0085":                   `\u009b2J\u0085`,
		"\xff\x9b x":                       `\xff\x9b x`,
		"\u202eab\u2069":                   `\u202eab\u2069`,
		"a\u200bb\u200d\ufeff\u2060\u00ad": `a\u200bb\u200d\ufeff\u2060\u00ad`,
		"a\u2028b\u2029":                   `a\u2028b\u2029`,
		"\U000e0041\ufe0f\u3164\ue000":     `\U000e0041\ufe0f\u3164\ue000`,
		"5 1/2\u00a0in \ufffd":             "5 1/2\u00a0in \ufffd",
	} {
		if got := Visible(in); got != want {
			t.Errorf("%q: %q, want %q", in, got, want)
		}
		var b bytes.Buffer
		if n, err := (VisibleWriter{&b}).Write([]byte(in + "\n")); err != nil || n != len(in)+1 {
			t.Error(n, err)
		}
	}
	var b bytes.Buffer
	VisibleWriter{&b}.Write([]byte("one\ntwo\x1b\n"))
	if b.String() != "one\ntwo\\x1b\n" {
		t.Errorf("%q", b.String())
	}
}

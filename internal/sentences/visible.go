package sentences

import (
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Visible is a text with every sign that a terminal would obey or hide written out: \x1b, \n, \u202e, \ufeff. These are control and
// escape signs, those that turn the direction of writing, those without width, those no standard has given a look, and bytes that are no UTF-8.
// What remains is what a person sees, so a name from a file can neither steer a terminal nor pass for another one. A text without such
// signs is returned as it is.
func Visible(s string) string {
	if n := seen(s); n < len(s) {
		return string(appendVisible([]byte(s[:n]), s[n:], false))
	}
	return s
}

// seen is how many bytes of a text stand before the first sign to be written out.
func seen(s string) int {
	for i := 0; i < len(s); {
		if c := s[i]; c < utf8.RuneSelf {
			if c < ' ' || c == 0x7f {
				return i
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		if r == utf8.RuneError && n == 1 || unseen(r) {
			return i
		}
		i += n
	}
	return len(s)
}

// appendVisible appends a text so; lines keeps line feeds.
func appendVisible(b []byte, s string, lines bool) []byte {
	for len(s) > 0 {
		n := seen(s)
		b, s = append(b, s[:n]...), s[n:]
		if s == "" {
			break
		}
		r, size := utf8.DecodeRuneInString(s)
		switch {
		case r == '\n' && lines:
			b = append(b, '\n')
		case r == '\n':
			b = append(b, `\n`...)
		case r == '\t':
			b = append(b, `\t`...)
		case r == '\r':
			b = append(b, `\r`...)
		case size == 1: // a control sign, or a byte that is no UTF-8
			b = append(append(b, `\x`...), hexOf(rune(s[0]), 2)...)
		case r > 0xffff:
			b = append(append(b, `\U`...), hexOf(r, 8)...)
		default:
			b = append(append(b, `\u`...), hexOf(r, 4)...)
		}
		s = s[size:]
	}
	return b
}

// hexOf is a number in so many hexadecimal digits.
func hexOf(n rune, width int) string {
	s := strconv.FormatInt(int64(n), 16)
	return strings.Repeat("0", max(width-len(s), 0)) + s
}

// unseen says whether a sign has no look of its own: what Unicode calls control, format, private, unassigned, line or paragraph separator, and the
// few letters and marks that are drawn as nothing.
func unseen(r rune) bool {
	switch {
	case r < utf8.RuneSelf:
		return r < ' ' || r == 0x7f
	case r == 0x034f, r == 0x115f, r == 0x1160, r == 0x3164, r == 0xffa0, r == 0x17b4, r == 0x17b5, r >= 0x180b && r <= 0x180f, r >= 0xfe00 && r <= 0xfe0f, r >= 0xe0100 && r <= 0xe01ef:
		return true
	}
	return !unicode.IsGraphic(r)
}

// A VisibleWriter hands text on to W the way [Visible] writes it, line feeds kept as they are. What is written to a terminal or a log goes
// through one. A sign must come in one piece.
type VisibleWriter struct{ W io.Writer }

// Write writes all of p or gives W's error. It returns len(p) when everything was written.
func (v VisibleWriter) Write(p []byte) (int, error) {
	if _, err := v.W.Write(appendVisible(make([]byte, 0, len(p)+16), string(p), true)); err != nil {
		return 0, err
	}
	return len(p), nil
}

package job

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// A lifter takes the rows of the sheets out of the JSON form of a job, which is all but a little of it. What is left goes through encoding/json,
// which is right about everything and twenty times slower. It understands less than JSON allows: anything unusual makes it give up, and then all of the
// text goes the slow way.
type lifter struct {
	s     string
	i     int
	cells []string // room for the cells of rows
	rows  []string // of the row at hand
}

// liftRows returns text with the rows of each sheet emptied, and the rows by the sheet's key. Cells are parts of text where nothing in them is
// escaped. ok is false for a text that is to go the slow way.
func liftRows(text string) (rest string, rows map[string][][]string, ok bool) {
	l := lifter{s: text}
	rows = map[string][][]string{}
	var b strings.Builder
	from := 0
	if !l.open('{') {
		return "", nil, false
	}
	for first := true; !l.shut('}'); first = false {
		key, ok := l.key(first)
		if !ok {
			return "", nil, false
		}
		for _, k := range tableKeys {
			if key != k && strings.EqualFold(key, k) { // for encoding/json it is the same
				return "", nil, false
			}
		}
		if l.at() != '{' || key == "views" {
			if !l.skip(0) {
				return "", nil, false
			}
			continue
		}
		l.i++
		for first := true; !l.shut('}'); first = false {
			inner, ok := l.key(first)
			if !ok {
				return "", nil, false
			}
			if inner != "rows" {
				if strings.EqualFold(inner, "rows") || !l.skip(0) {
					return "", nil, false
				}
				continue
			}
			start := l.i
			r, ok := l.table()
			if _, twice := rows[key]; twice || !ok {
				return "", nil, false
			}
			rows[key] = r
			b.WriteString(text[from:start])
			b.WriteString("[]")
			from = l.i
		}
	}
	if l.at() != 0 || l.i != len(l.s) {
		return "", nil, false
	}
	b.WriteString(text[from:])
	return b.String(), rows, true
}

// at is the next byte that is no blank, 0 at the end.
func (l *lifter) at() byte {
	for l.i < len(l.s) {
		switch c := l.s[l.i]; c {
		case ' ', '\t', '\r', '\n':
			l.i++
		default:
			return c
		}
	}
	return 0
}

func (l *lifter) open(c byte) bool { return l.shut(c) }

// shut passes over c if it comes next.
func (l *lifter) shut(c byte) bool {
	if l.at() != c {
		return false
	}
	l.i++
	return true
}

// key reads a key and its colon, after a comma unless it is the first.
func (l *lifter) key(first bool) (string, bool) {
	if !first && !l.shut(',') {
		return "", false
	}
	k, ok := l.text()
	if !ok || !l.shut(':') {
		return "", false
	}
	l.at()
	return k, true
}

// text reads a string.
func (l *lifter) text() (string, bool) {
	if l.at() != '"' {
		return "", false
	}
	l.i++
	start := l.i
	wide := false
	for l.i < len(l.s) {
		c := l.s[l.i]
		switch {
		case c == '"':
			t := l.s[start:l.i]
			l.i++
			return t, !wide || utf8.ValidString(t)
		case c == '\\':
			return l.escaped(start)
		case c < ' ':
			return "", false
		case c >= utf8.RuneSelf:
			wide = true
		}
		l.i++
	}
	return "", false
}

// escaped reads the rest of a string that began at start and has an escape at hand.
func (l *lifter) escaped(start int) (string, bool) {
	b := []byte(l.s[start:l.i])
	for l.i < len(l.s) {
		c := l.s[l.i]
		switch {
		case c == '"':
			l.i++
			return string(b), utf8.Valid(b)
		case c < ' ':
			return "", false
		case c != '\\':
			b = append(b, c)
			l.i++
			continue
		}
		if l.i+1 >= len(l.s) {
			return "", false
		}
		l.i += 2
		switch c = l.s[l.i-1]; c {
		case '"', '\\', '/':
			b = append(b, c)
		case 'b':
			b = append(b, '\b')
		case 'f':
			b = append(b, '\f')
		case 'n':
			b = append(b, '\n')
		case 'r':
			b = append(b, '\r')
		case 't':
			b = append(b, '\t')
		case 'u':
			r, ok := l.hex()
			if !ok {
				return "", false
			}
			if utf16.IsSurrogate(r) { // a pair, or the slow way
				if !strings.HasPrefix(l.s[l.i:], `\u`) {
					return "", false
				}
				l.i += 2
				low, ok := l.hex()
				if r = utf16.DecodeRune(r, low); !ok || r == utf8.RuneError {
					return "", false
				}
			}
			b = utf8.AppendRune(b, r)
		default:
			return "", false
		}
	}
	return "", false
}

// hex reads four hexadecimal digits.
func (l *lifter) hex() (r rune, ok bool) {
	if l.i+4 > len(l.s) {
		return 0, false
	}
	for _, c := range []byte(l.s[l.i : l.i+4]) {
		switch {
		case c >= '0' && c <= '9':
			r = r<<4 | rune(c-'0')
		case c >= 'a' && c <= 'f':
			r = r<<4 | rune(c-'a'+10)
		case c >= 'A' && c <= 'F':
			r = r<<4 | rune(c-'A'+10)
		default:
			return 0, false
		}
	}
	l.i += 4
	return r, true
}

// table reads rows of strings.
func (l *lifter) table() ([][]string, bool) {
	if !l.shut('[') {
		return nil, false
	}
	out := [][]string{}
	for first := true; !l.shut(']'); first = false {
		if !first && !l.shut(',') || !l.shut('[') {
			return nil, false
		}
		l.rows = l.rows[:0]
		for first := true; !l.shut(']'); first = false {
			if !first && !l.shut(',') {
				return nil, false
			}
			t, ok := l.text()
			if !ok {
				return nil, false
			}
			l.rows = append(l.rows, t)
		}
		n := len(l.rows)
		if cap(l.cells)-len(l.cells) < n {
			l.cells = make([]string, 0, max(n, 4096))
		}
		k := len(l.cells)
		l.cells = append(l.cells, l.rows...)
		out = append(out, l.cells[k:len(l.cells):len(l.cells)])
	}
	return out, true
}

// skip passes over a value. What it is, encoding/json looks at afterwards.
func (l *lifter) skip(depth int) bool {
	if depth > 100 {
		return false
	}
	switch c := l.at(); c {
	case '"':
		_, ok := l.text()
		return ok
	case '{', '[':
		l.i++
		end := c + 2 // ] and } stand two behind [ and {
		for first := true; !l.shut(end); first = false {
			if c == '{' {
				if _, ok := l.key(first); !ok {
					return false
				}
			} else if !first && !l.shut(',') {
				return false
			}
			if !l.skip(depth + 1) {
				return false
			}
		}
		return true
	case 0:
		return false
	}
	start := l.i
	for l.i < len(l.s) && !strings.ContainsRune(",]} \t\r\n", rune(l.s[l.i])) {
		l.i++
	}
	return l.i > start
}

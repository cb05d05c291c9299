// Package jsonread takes a JSON text (RFC 8259) apart, value by value, in its order. The page and the program for workbooks read with it what encoding/json would read
// elsewhere: that and the reflection it needs are a twentieth of the page's program, and it takes twenty times as long for the rows of a job. A text is a
// part of the whole wherever nothing in it is escaped.
//
// What it takes, encoding/json (of the Go project) understands in the same way, and what that refuses it refuses too (FuzzOpenJob of package job).
package jsonread

import (
	"fmt"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// A Reader stands somewhere in a text. null is nothing for it: an empty text, "" for a number, no item, no member.
type Reader struct {
	s string
	i int // where it stands
}

// New returns a reader that stands at the beginning of text.
func New(text string) Reader { return Reader{s: text} }

// An Error is what is wrong with a text.
type Error struct {
	At   int    // how many bytes stand before it
	What string // one sentence without a stop
}

func (e *Error) Error() string { return e.What }

// Wrong is an error at the place where the reader stands.
func (r *Reader) Wrong(what string, args ...any) error {
	return &Error{r.i, fmt.Sprintf(what, args...)}
}

func (r *Reader) wrong(what words.Key, values ...any) error { return &Error{r.i, what.Say(values...)} }

// A Kind is what kind of value comes next.
type Kind int

const (
	None Kind = iota // the end, or nothing that begins a value
	Null
	Truth // true, false
	Number
	Text
	List
	Object
)

func (k Kind) String() string {
	return [...]words.Key{words.JsonNothing, words.JsonNull, words.JsonTruth, words.JsonNumber, words.JsonText, words.JsonList, words.JsonObject}[k].String()
}

// next passes over blanks and returns the next byte, 0 at the end.
func (r *Reader) next() byte {
	for r.i < len(r.s) {
		switch c := r.s[r.i]; c {
		case ' ', '\t', '\r', '\n':
			r.i++
		default:
			return c
		}
	}
	return 0
}

// Kind looks what kind of value comes next, and passes over the blanks before it.
func (r *Reader) Kind() Kind {
	switch c := r.next(); {
	case c == '{':
		return Object
	case c == '[':
		return List
	case c == '"':
		return Text
	case c == '-' || c >= '0' && c <= '9':
		return Number
	case c == 't' || c == 'f':
		return Truth
	case c == 'n':
		return Null
	}
	return None
}

// pass passes over c if it comes next.
func (r *Reader) pass(c byte) bool {
	if r.next() != c || r.i >= len(r.s) {
		return false
	}
	r.i++
	return true
}

// null passes over null. It is false, without an error, where a value of the kind wanted comes.
func (r *Reader) null(want Kind) (bool, error) {
	switch k := r.Kind(); k {
	case want:
		return false, nil
	case Null:
		return true, r.word("null")
	case None:
		return false, r.unexpected(want.String())
	default:
		return false, r.wrong(words.ProblemJsonKind, k, want)
	}
}

// unexpected says what stands where something else belongs.
func (r *Reader) unexpected(want string) error {
	if r.i >= len(r.s) {
		return r.wrong(words.ProblemJsonEnds, want)
	}
	c, _ := utf8.DecodeRuneInString(r.s[r.i:])
	return r.wrong(words.ProblemJsonSign, string(c), want)
}

func (r *Reader) word(w string) error {
	if !strings.HasPrefix(r.s[r.i:], w) {
		return r.unexpected(w)
	}
	r.i += len(w)
	return nil
}

// Object calls member for each member of an object, in its order, to read its value.
func (r *Reader) Object(member func(key string) error) error {
	if null, err := r.null(Object); null || err != nil {
		return err
	}
	r.i++
	for first := true; !r.pass('}'); first = false {
		if !first && !r.pass(',') {
			return r.unexpected(words.JsonCommaOr.Say("}"))
		}
		if r.next() != '"' {
			return r.unexpected(Text.String())
		}
		key, err := r.quoted()
		if err != nil {
			return err
		}
		if !r.pass(':') {
			return r.unexpected("`:`")
		}
		if err := member(key); err != nil {
			return err
		}
	}
	return nil
}

// List calls item for each item of a list, in its order, to read it.
func (r *Reader) List(item func() error) error {
	if null, err := r.null(List); null || err != nil {
		return err
	}
	r.i++
	for first := true; !r.pass(']'); first = false {
		if !first && !r.pass(',') {
			return r.unexpected(words.JsonCommaOr.Say("]"))
		}
		if err := item(); err != nil {
			return err
		}
	}
	return nil
}

// Text reads a text.
func (r *Reader) Text() (string, error) {
	if null, err := r.null(Text); null || err != nil {
		return "", err
	}
	return r.quoted()
}

// quoted reads the text whose opening quotation mark is at hand. A byte that is not UTF-8 becomes U+FFFD.
func (r *Reader) quoted() (string, error) {
	start := r.i + 1
	wide := false
	for i, c := range []byte(r.s[start:]) {
		switch {
		case c == '"':
			t := r.s[start : start+i]
			if wide && !utf8.ValidString(t) {
				return r.escaped(start)
			}
			r.i = start + i + 1
			return t, nil
		case c == '\\':
			return r.escaped(start)
		case c < ' ':
			r.i = start + i
			return "", r.wrong(words.ProblemJsonControl, fmt.Sprintf("%#02x", c))
		case c >= utf8.RuneSelf:
			wide = true
		}
	}
	r.i = len(r.s)
	return "", r.unexpected("`\"`")
}

// escaped reads a text that began at start and has something in it that does not stand for itself.
func (r *Reader) escaped(start int) (string, error) {
	r.i = start
	var b []byte
	for r.i < len(r.s) {
		c := r.s[r.i]
		switch {
		case c == '"':
			r.i++
			return string(b), nil
		case c < ' ':
			return "", r.wrong(words.ProblemJsonControl, fmt.Sprintf("%#02x", c))
		case c == '\\':
			sign, err := r.escape()
			if err != nil {
				return "", err
			}
			b = utf8.AppendRune(b, sign)
		case c < utf8.RuneSelf:
			b = append(b, c)
			r.i++
		default:
			sign, n := utf8.DecodeRuneInString(r.s[r.i:])
			b = utf8.AppendRune(b, sign)
			r.i += n
		}
	}
	return "", r.unexpected("`\"`")
}

// shortEscapes are the signs behind a backslash, and behind them what each stands for.
const shortEscapes = "\"\"\\\\//b\bf\fn\nr\rt\t"

// escape reads an escape. Half of a surrogate pair becomes U+FFFD.
func (r *Reader) escape() (rune, error) {
	if r.i+1 < len(r.s) {
		if c := r.s[r.i+1]; c != 'u' {
			for k := 0; k < len(shortEscapes); k += 2 {
				if shortEscapes[k] == c {
					r.i += 2
					return rune(shortEscapes[k+1]), nil
				}
			}
		} else if high, ok := r.hex(r.i); ok {
			r.i += 6
			if utf16.IsSurrogate(high) {
				if low, ok := r.hex(r.i); ok {
					if pair := utf16.DecodeRune(high, low); pair != utf8.RuneError {
						r.i += 6
						return pair, nil
					}
				}
				return utf8.RuneError, nil
			}
			return high, nil
		}
	}
	return 0, r.wrong(words.ProblemJsonEscape)
}

// hex reads \u and four hexadecimal digits at i.
func (r *Reader) hex(i int) (x rune, ok bool) {
	if i+6 > len(r.s) || r.s[i] != '\\' || r.s[i+1] != 'u' {
		return 0, false
	}
	for _, c := range []byte(r.s[i+2 : i+6]) {
		switch {
		case c >= '0' && c <= '9':
			x = x<<4 | rune(c-'0')
		case c >= 'a' && c <= 'f':
			x = x<<4 | rune(c-'a'+10)
		case c >= 'A' && c <= 'F':
			x = x<<4 | rune(c-'A'+10)
		default:
			return 0, false
		}
	}
	return x, true
}

// Truth reads true or false; false for null.
func (r *Reader) Truth() (bool, error) {
	if null, err := r.null(Truth); null || err != nil {
		return false, err
	}
	if r.s[r.i] == 't' {
		return true, r.word("true")
	}
	return false, r.word("false")
}

// Number reads a number, as it is written; "" for null.
func (r *Reader) Number() (string, error) {
	if null, err := r.null(Number); null || err != nil {
		return "", err
	}
	start := r.i
	if r.s[r.i] == '-' {
		r.i++
	}
	digits := func() bool {
		from := r.i
		for r.i < len(r.s) && r.s[r.i] >= '0' && r.s[r.i] <= '9' {
			r.i++
		}
		return r.i > from
	}
	has := func(signs string) bool { return r.i < len(r.s) && strings.IndexByte(signs, r.s[r.i]) >= 0 }
	if has("0") {
		r.i++
	} else if !digits() {
		return "", r.unexpected(words.JsonDigit.String())
	}
	if has(".") {
		if r.i++; !digits() {
			return "", r.unexpected(words.JsonDigit.String())
		}
	}
	if has("eE") {
		if r.i++; has("+-") {
			r.i++
		}
		if !digits() {
			return "", r.unexpected(words.JsonDigit.String())
		}
	}
	return r.s[start:r.i], nil
}

// deepest is how many lists and objects within each other are passed over.
const deepest = 1000

// Skip passes over a value, whatever it is.
func (r *Reader) Skip() error { return r.skipAt(0) }

func (r *Reader) skipAt(depth int) error {
	if depth > deepest {
		return r.wrong(words.ProblemJsonDeep, deepest)
	}
	var err error
	switch r.Kind() {
	case Object:
		return r.Object(func(string) error { return r.skipAt(depth + 1) })
	case List:
		return r.List(func() error { return r.skipAt(depth + 1) })
	case Text:
		_, err = r.quoted()
	case Number:
		_, err = r.Number()
	case Truth:
		_, err = r.Truth()
	case Null:
		return r.word("null")
	default:
		return r.unexpected(words.JsonValue.String())
	}
	return err
}

// End is an error if anything but blanks follows.
func (r *Reader) End() error {
	if r.next(); r.i < len(r.s) {
		return r.unexpected(words.JsonEnd.String())
	}
	return nil
}

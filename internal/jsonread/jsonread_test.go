package jsonread

import (
	"encoding/json"
	"io"
	"reflect"
	"strings"
	"testing"
)

// tree reads a value whole, as encoding/json makes one with numbers as they are written.
func tree(r *Reader) (v any, err error) {
	switch r.Kind() {
	case Object:
		m := map[string]any{}
		err = r.Object(func(key string) (err error) {
			m[key], err = tree(r)
			return err
		})
		return m, err
	case List:
		list := []any{}
		err = r.List(func() error {
			x, err := tree(r)
			list = append(list, x)
			return err
		})
		return list, err
	case Text:
		return r.Text()
	case Number:
		s, err := r.Number()
		return json.Number(s), err
	case Truth:
		return r.Truth()
	}
	return nil, r.Skip()
}

// Any text is taken or refused, and understood, as encoding/json (of the Go project) does.
func TestAsStdlib(t *testing.T) {
	for _, text := range []string{
		`null`, ` true `, "\tfalse\r\n", `0`, `-0`, `12.50e+3`, `1E-2`, `"a"`, `""`, `[]`, `{}`, `[1, "b", null, {"c": [true]}]`, `{"a":{"b":[]},"":1}`, `"\"\\\/\b\f\n\r\t\u00e9\ud83d\ude00"`, `"é€😀"`, `"\ud800x\udc00"`, "\"\xff\xe2\"", "\"\x7f\u2028\"",
		``, ` `, `nul`, `nullx`, `tru`, `falsy`, `01`, `+1`, `1.`, `.5`, `1e`, `1e+`, `-`, `--1`, `0x1`, `NaN`, `"a`, `"\`, `"\x"`, `"\u12"`, `"\u12g4"`, "\"\n\"", `[`, `[1`, `[1,`, `[1,]`, `[,1]`, `[1 2]`, `]`, `{`, `{"a"`, `{"a":`, `{"a":1`, `{"a":1,}`, `{,}`, `{a:1}`, `{1:2}`, `{"a" 1}`,
		`{"a":1 "b":2}`, `[}`, `{]`, `[1}`, `{"a":1]`, `1 2`, `{} {}`, `'a'`, "\ufeff1", `1//`, "1\x00", "[\x00", `{"\x":1}`, `9`, `[9,-9]`, `"\u00aa\u00AF\u0099\u00f0"`, `"a\n`, "\"\\n\x80\x7f\"", `"\u00:0"`, `"\u00G0"`, `:`, "\x00",
	} {
		d := json.NewDecoder(strings.NewReader(text))
		d.UseNumber()
		var want any
		errTheirs := d.Decode(&want)
		if errTheirs == nil {
			if _, err := d.Token(); err != io.EOF {
				errTheirs = io.ErrUnexpectedEOF
			}
		}
		r := New(text)
		got, err := tree(&r)
		if err == nil {
			err = r.End()
		}
		if (err == nil) != (errTheirs == nil) || err == nil && !reflect.DeepEqual(got, want) {
			t.Errorf("%q: %#v, %v; encoding/json: %#v, %v", text, got, err, want, errTheirs)
		}
		s := New(text)
		errSkip := s.Skip()
		if errSkip == nil {
			errSkip = s.End()
		}
		if (errSkip == nil) != (err == nil) {
			t.Errorf("%q: passed over: %v, read: %v", text, errSkip, err)
		}
	}
}

// A fault stands where it is, and the sentence says what would be right there; null is nothing, for every kind.
func TestFaultsAndNull(t *testing.T) {
	for _, c := range []struct {
		text string
		at   int
		says string
	}{
		{`[1, x]`, 4, "`x` stands where a value belongs"}, {`[1 2]`, 3, "`2` stands where `,` or `]` belongs"}, {`{"a" 1}`, 5, "`1` stands where `:` belongs"}, {`{1}`, 1, "a text in quotation marks belongs"}, {`["a`, 3, "it ends where"}, {"[\"a\x01\"]", 3, "control character 0x01"},
		{`["\q"]`, 2, "a backslash"}, {`[1.x]`, 3, "`x` stands where a digit belongs"}, {strings.Repeat("[", deepest+5), deepest + 1, "more than 1000"},
	} {
		r := New(c.text)
		err := r.Skip()
		e, ok := err.(*Error)
		if !ok || e.At != c.at || !strings.Contains(e.What, c.says) {
			t.Errorf("%.40q: %#v, want %s at %d", c.text, err, c.says, c.at)
		}
	}
	r := New(`[null, null, null, null, null]`)
	n := 0
	err := r.List(func() (err error) {
		switch n++; n {
		case 1:
			var s string
			if s, err = r.Text(); s != "" {
				t.Error(s)
			}
		case 2:
			var s string
			if s, err = r.Number(); s != "" {
				t.Error(s)
			}
		case 3:
			var is bool
			if is, err = r.Truth(); is {
				t.Error(is)
			}
		case 4:
			err = r.List(func() error { t.Error("an item of null"); return nil })
		case 5:
			err = r.Object(func(string) error { t.Error("a member of null"); return nil })
		}
		return err
	})
	if err != nil || n != 5 {
		t.Error(n, err)
	}
	for _, text := range []string{`1`, `"a"`, `true`, `[]`, `{}`} {
		for k, read := range []func(r *Reader) error{
			func(r *Reader) error { _, err := r.Number(); return err }, func(r *Reader) error { _, err := r.Text(); return err }, func(r *Reader) error { _, err := r.Truth(); return err },
			func(r *Reader) error { return r.List(func() error { return nil }) }, func(r *Reader) error { return r.Object(func(string) error { return nil }) },
		} {
			r := New(text)
			err := read(&r)
			if own := []string{`1`, `"a"`, `true`, `[]`, `{}`}[k] == text; (err == nil) != own || err != nil && !strings.Contains(err.Error(), " stands where ") {
				t.Errorf("%s read as kind %d: %v", text, k, err)
			}
		}
	}
}

// Package words is the catalogue of what the page's screens say: one file a language, a line a text, and one way of putting values into it.
//
// The catalogue in the program is English. cmd/pagebuild puts another file in its place for another language. What results say (verdicts, reasons,
// names of columns) is not here yet: it stands in internal/sheet.
package words

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
	"sync"
)

// Catalogue is the text of the file: lines `key = text`, empty lines and lines that begin with # left out.
//
//go:embed catalogue.txt
var Catalogue string

var load = sync.OnceValues(func() (map[string]string, error) { return Parse(Catalogue) })

// Parse reads a catalogue. A line that is no `key = text`, and a key that stands twice, is an error with its line.
func Parse(text string) (map[string]string, error) {
	all := map[string]string{}
	for i, line := range strings.Split(text, "\n") {
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		key, say, ok := strings.Cut(line, " = ")
		if !ok {
			return nil, fmt.Errorf("words: line %d is not `key = text`: %q", i+1, line)
		}
		if _, twice := all[key]; twice {
			return nil, fmt.Errorf("words: line %d: %s stands twice", i+1, key)
		}
		all[key] = say
	}
	return all, nil
}

// Text is the text of a key with {0}, {1} … replaced by the values. A key that the catalogue lacks panics: a test holds every key of the source
// against the catalogue.
func Text(key string, values ...string) string {
	all, err := load()
	if err != nil {
		panic(err)
	}
	s, ok := all[key]
	if !ok {
		panic("words: no text " + key)
	}
	return Fill(s, values...)
}

// Count is the one of key.one and key.many that fits n, with n for {0}.
func Count(key string, n int) string {
	if n == 1 {
		return Text(key+".one", "1")
	}
	return Text(key+".many", Number(n))
}

// Number writes a count with the thousands apart, as English has it.
func Number(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// Fill replaces {0}, {1} … by the values, in one pass: what a value holds is not looked at again. A place without a value stays as it is.
func Fill(text string, values ...string) string {
	if len(values) == 0 || !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for {
		i := strings.IndexByte(text, '{')
		j := strings.IndexByte(text, '}')
		if i < 0 || j < i {
			b.WriteString(text)
			return b.String()
		}
		b.WriteString(text[:i])
		if n, err := strconv.Atoi(text[i+1 : j]); err == nil && n >= 0 && n < len(values) {
			b.WriteString(values[n])
		} else {
			b.WriteString(text[i : j+1])
		}
		text = text[j+1:]
	}
}

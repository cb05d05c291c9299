// Package words is the catalogue of what the program says: one file a language, a line a text, and one way of putting values into it.
//
// Screens ask for a text by its key ([Text]). What is said of results stands below a line of its own in the file; each of those texts has a name in keys.go, which is
// made from the file (go generate), so that a misspelt one does not build, a code can be compared, and finding a text is the look at a list. Whoever finds something out keeps it as a [Phrase], a key with its values. The catalogue in
// the program is English; cmd/pagebuild puts another file in its place for another language, and the command takes one at its start ([Use]). Left out: the names of columns, sheets
// and units, which files are read by.
package words

//go:generate go run ./gen

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

// load reads the catalogue for those who ask by key.
var load = sync.OnceValues(func() (map[string]string, error) {
	screens, _, _ := Cut(Catalogue)
	return Parse(screens)
})

// Parse reads a catalogue. A line that is no `key = text`, and a key that stands twice, is an error with its line.
func Parse(text string) (map[string]string, error) {
	all := map[string]string{}
	err := lines(text, func(line int, key, say string) error {
		if _, twice := all[key]; twice {
			return fmt.Errorf("words: line %d: %s stands twice", line, key)
		}
		all[key] = say
		return nil
	})
	if err != nil {
		return nil, err
	}
	return all, nil
}

// lines gives each text of a catalogue. One that begins or ends with a blank, or has more than one line, stands between quotation marks.
func lines(text string, give func(line int, key, say string) error) error {
	n := 0
	for line := range strings.SplitSeq(text, "\n") {
		n++
		if line = strings.TrimSpace(line); line == "" || line[0] == '#' {
			continue
		}
		key, say, ok := strings.Cut(line, " = ")
		if !ok {
			return fmt.Errorf("words: line %d is not `key = text`: %q", n, line)
		}
		if say[0] == '"' {
			quoted, err := strconv.Unquote(say)
			if err != nil {
				return fmt.Errorf("words: line %d: %w: %s", n, err, say)
			}
			say = quoted
		}
		if err := give(n, key, say); err != nil {
			return err
		}
	}
	return nil
}

// Named is the line of the catalogue below which each text has a name in keys.go.
const Named = "# What is said of results. Each text has a name in keys.go."

// Cut parts a catalogue at the line [Named]. ok is false where there is none.
func Cut(catalogue string) (screens, named string, ok bool) {
	return strings.Cut(catalogue, "\n"+Named+"\n")
}

// texts are the texts that have names, in the order of the catalogue.
var texts = sync.OnceValue(func() []string { return named(nil) })

// named lists the texts that have names, in the order of the catalogue: as they stand there, or as another one has them.
func named(other map[string]string) []string {
	_, half, _ := Cut(Catalogue)
	list := make([]string, 0, 2048)
	err := lines(half, func(_ int, key, say string) error {
		if other != nil {
			say = other[key]
		}
		list = append(list, say)
		return nil
	})
	if err != nil {
		panic(err)
	}
	return list
}

// A Key is a text that has a name, to be asked for and compared.
type Key uint16

// String is the text as it stands in the catalogue.
func (k Key) String() string { return texts()[k] }

// codes are the texts that have names as the program's own catalogue has them.
var codes = sync.OnceValue(func() []string { return named(nil) })

// Code is the text in the program's own language whatever catalogue is in use: for what other programs read.
func (k Key) Code() string { return codes()[k] }

// Say is the text with {0}, {1} … replaced by the values: texts, whole numbers, numbers with as few digits as tell them, errors, and what has a String.
func (k Key) Say(values ...any) string {
	return string(k.append(make([]byte, 0, len(texts()[k])+16*len(values)), values))
}

// append appends it.
func (k Key) append(b []byte, values []any) []byte {
	text := texts()[k]
	for {
		i := strings.IndexByte(text, '{')
		if i < 0 || i+2 >= len(text) || text[i+2] != '}' || int(text[i+1]-'0') >= len(values) {
			return append(b, text...)
		}
		b = appendValue(append(b, text[:i]...), values[text[i+1]-'0'])
		text = text[i+3:]
	}
}

// An Error is an error that says a text without values.
type Error Key

// Error is the text.
func (e Error) Error() string { return Key(e).String() }

// A wrapped is an error said in a text of the catalogue.
type wrapped struct {
	text string
	err  error
}

func (w *wrapped) Error() string { return w.text }
func (w *wrapped) Unwrap() error { return w.err }

// Wrap is an error that says the text with err for {0} and the values for {1} …, and leads to err.
func (k Key) Wrap(err error, values ...any) error {
	return &wrapped{k.Say(append([]any{err}, values...)...), err}
}

// appendValue appends a value as texts have it.
func appendValue(b []byte, v any) []byte {
	switch v := v.(type) {
	case string:
		return append(b, v...)
	case int:
		return strconv.AppendInt(b, int64(v), 10)
	case float64:
		return strconv.AppendFloat(b, v, 'g', -1, 64)
	case []byte:
		return append(b, v...)
	case Phrase:
		return v.Append(b)
	case *Phrase:
		return v.Append(b)
	case fmt.Stringer:
		return append(b, v.String()...)
	case error:
		return append(b, v.Error()...)
	}
	panic(fmt.Sprintf("words: no way to write a %T", v))
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

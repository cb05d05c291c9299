package words

import (
	"slices"
	"strings"
)

// A Phrase is something to be said, as a code with the values that go into it: a text of the catalogue and what stands at its places, or a text that was there already. The sentence is made
// when somebody asks for it, so that whoever finds something out needs no words for it, and can tell one finding from another by its key. The zero Phrase says nothing.
//
// Values are what [Key.Say] takes, phrases among them. They are kept, so that nobody may change them afterwards.
type Phrase struct {
	text   string // as it is
	values []any
	key    Key
	form   phraseForm
}

// phraseForm says what a Phrase is made of.
type phraseForm uint8

const (
	saysNothing phraseForm = iota
	ofKey                  // the text of key, with the values at its places
	asItIs                 // text
	oneByOne               // the values, with a semicolon between
	closeUp                // the values, one straight after the other
)

// With is the text as a Phrase, with the values that go into it.
func (k Key) With(values ...any) Phrase { return Phrase{values: values, key: k, form: ofKey} }

// Plain is a text that does not stand in the catalogue: one that somebody typed, or that another package made. An empty one says nothing.
func Plain(text string) Phrase {
	if text == "" {
		return Phrase{}
	}
	return Phrase{text: text, form: asItIs}
}

// Together says phrases one after the other, with a semicolon between; those that say nothing are left out.
func Together(list ...Phrase) Phrase { return joined(oneByOne, list) }

// Joined says phrases one straight after the other.
func Joined(list ...Phrase) Phrase { return joined(closeUp, list) }

func joined(form phraseForm, list []Phrase) Phrase {
	n, last := 0, Phrase{}
	for _, p := range list {
		if !p.Empty() {
			n, last = n+1, p
		}
	}
	if n < 2 {
		return last
	}
	all := Phrase{form: form, values: make([]any, 0, n)}
	for _, p := range list {
		if !p.Empty() {
			all.values = append(all.values, p)
		}
	}
	return all
}

// Empty says whether nothing is said.
func (p Phrase) Empty() bool { return p.form == saysNothing }

// Is says whether the phrase is the text of a key, whatever its values.
func (p Phrase) Is(k Key) bool { return p.form == ofKey && p.key == k }

// Names says whether one of the texts among the values has a name in it.
func (p Phrase) Names(name string) bool {
	return strings.Contains(p.text, name) && p.form == asItIs || slices.ContainsFunc(p.values, func(v any) bool {
		s, ok := v.(string)
		return ok && strings.Contains(s, name)
	})
}

// Same says whether two phrases come to the same sentence.
func (p Phrase) Same(q Phrase) bool {
	return p.form == q.form && p.key == q.key && len(p.values) == len(q.values) && p.String() == q.String()
}

// String is the sentence.
func (p Phrase) String() string {
	switch {
	case p.form == saysNothing:
		return ""
	case p.form == asItIs:
		return p.text
	case p.form == ofKey && len(p.values) == 0:
		return p.key.String()
	}
	return string(p.Append(nil))
}

// Append appends the sentence.
func (p Phrase) Append(b []byte) []byte {
	switch p.form {
	case ofKey:
		return p.key.append(b, p.values)
	case asItIs:
		return append(b, p.text...)
	}
	for i, v := range p.values {
		if i > 0 && p.form == oneByOne {
			b = append(b, "; "...)
		}
		b = v.(Phrase).Append(b)
	}
	return b
}

// Err is the phrase as an error.
func (p Phrase) Err() error { return phraseError{p} }

type phraseError struct{ Phrase }

// Error is the sentence.
func (e phraseError) Error() string { return e.String() }

// Code is the text of a phrase without values in the program's own language, whatever catalogue is in use: for what other programs read. Another phrase is its text.
func (p Phrase) Code() string {
	if p.form == ofKey && len(p.values) == 0 {
		return p.key.Code()
	}
	return p.String()
}

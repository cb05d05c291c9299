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
	values []any
	key    Key
	form   phraseForm
}

// phraseForm says what a Phrase is made of.
type phraseForm uint8

const (
	saysNothing phraseForm = iota
	ofKey                  // the text of key, with the values at its places
	asItIs                 // the one value, a text
	oneByOne               // the values, with a semicolon between
	closeUp                // the values, one straight after the other
)

// With is the text as a Phrase, with the values that go into it.
func (k Key) With(values ...any) Phrase { return Phrase{values, k, ofKey} }

// Plain is a text that does not stand in the catalogue: one that somebody typed, or that another package made. An empty one says nothing.
func Plain(text string) Phrase {
	if text == "" {
		return Phrase{}
	}
	return Phrase{values: []any{text}, form: asItIs}
}

// Together says phrases one after the other, with a semicolon between; those that say nothing are left out.
func Together(list ...Phrase) Phrase { return joined(oneByOne, list) }

// Joined says phrases one straight after the other.
func Joined(list ...Phrase) Phrase { return joined(closeUp, list) }

func joined(form phraseForm, list []Phrase) Phrase {
	all := Phrase{form: form}
	for _, p := range list {
		if !p.Empty() {
			all.values = append(all.values, p)
		}
	}
	switch len(all.values) {
	case 0:
		return Phrase{}
	case 1:
		return all.values[0].(Phrase)
	}
	return all
}

// Empty says whether nothing is said.
func (p Phrase) Empty() bool { return p.form == saysNothing }

// Is says whether the phrase is the text of a key, whatever its values.
func (p Phrase) Is(k Key) bool { return p.form == ofKey && p.key == k }

// Names says whether one of the texts among the values has a name in it.
func (p Phrase) Names(name string) bool {
	return slices.ContainsFunc(p.values, func(v any) bool {
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
	switch p.form {
	case ofKey:
		return p.key.Say(p.values...)
	case asItIs:
		return p.values[0].(string)
	case oneByOne, closeUp:
		var b strings.Builder
		for i, v := range p.values {
			if i > 0 && p.form == oneByOne {
				b.WriteString("; ")
			}
			b.WriteString(v.(Phrase).String())
		}
		return b.String()
	}
	return ""
}

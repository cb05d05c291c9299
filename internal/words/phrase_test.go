package words

import (
	"errors"
	"testing"
)

// TestPhrase holds what a phrase says to what the texts of its keys say, asked for at once.
func TestPhrase(t *testing.T) {
	var nothing Phrase
	for _, p := range []Phrase{nothing, Plain(""), Together(), Together(nothing, Plain(""))} {
		if !p.Empty() || p.String() != "" {
			t.Errorf("%+v says %q", p, p.String())
		}
	}
	inner := ProblemTwoValues.With(3, 4, `"1"`, `"2"`)
	for _, c := range []struct {
		p    Phrase
		want string
	}{
		{Plain("as typed {0}"), "as typed {0}"},
		{ProblemNoReadings.With(), ProblemNoReadings.String()},
		{inner, ProblemTwoValues.Say(3, 4, `"1"`, `"2"`)},
		{SentenceAsItIs.With(inner), inner.String()},
		{SentenceAsItIs.With(errors.New("an error")), "an error"},
		{Together(nothing, inner), inner.String()},
		{Together(inner, nothing, Plain("b"), ProblemNoReadings.With()), inner.String() + "; b; " + ProblemNoReadings.String()},
		{Joined(inner, nothing, Plain("b")), inner.String() + "b"},
	} {
		if c.p.Empty() || c.p.String() != c.want {
			t.Errorf("%q, want %q", c.p, c.want)
		}
	}
	if !inner.Is(ProblemTwoValues) || inner.Is(ProblemNoReadings) || nothing.Is(0) || Plain("x").Is(0) {
		t.Error("a phrase is taken for the text of another key")
	}
	if !inner.Names("2") || inner.Names("3") || nothing.Names("") || !Plain("a rim dial").Names("rim") {
		t.Error("Names")
	}
	if !inner.Same(ProblemTwoValues.With(3, 4, `"1"`, `"2"`)) || inner.Same(ProblemTwoValues.With(3, 5, `"1"`, `"2"`)) || inner.Same(nothing) {
		t.Error("Same")
	}
}

package main

import (
	"strings"
	"testing"
)

// A catalogue of another language has the same keys with the same values; English needs no overlay; a language without a catalogue is told.
func TestCatalogue(t *testing.T) {
	english := map[string]string{"a": "{0} of {1}", "b": "x"}
	for _, c := range []struct {
		other map[string]string
		want  string
	}{
		{map[string]string{"a": "{1} von {0}", "b": "y"}, ""},
		{map[string]string{"a": "{1} von {0}"}, "b is missing"},
		{map[string]string{"a": "{0}", "b": "y"}, "a has other values"},
		{map[string]string{"a": "{1} von {0}", "b": "y", "c": "z"}, "nobody shows c"},
	} {
		err := sameTexts(english, c.other)
		if c.want == "" && err != nil || c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%v: %v, want %q", c.other, err, c.want)
		}
	}
	if flags, err := catalogue(root, "en"); err != nil || flags != nil {
		t.Error(flags, err)
	}
	if _, err := catalogue(root, "xx"); err == nil {
		t.Error("a language without a catalogue was taken")
	}
}

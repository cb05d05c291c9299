package main

import "testing"

// English needs no overlay; a language without a catalogue is told.
func TestCatalogue(t *testing.T) {
	if flags, err := catalogue(root, "en"); err != nil || flags != nil {
		t.Error(flags, err)
	}
	if _, err := catalogue(root, "xx"); err == nil {
		t.Error("a language without a catalogue was taken")
	}
}

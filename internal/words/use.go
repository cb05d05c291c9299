package words

import (
	"fmt"
	"strings"
	"sync"
)

// Use lets everything be said in the texts of another catalogue, which has the keys of the one in the program, each with the same values. It is for the beginning, before anything was said.
func Use(text string) error {
	all, err := Compare(Catalogue, text)
	if err != nil {
		return err
	}
	load = func() (map[string]string, error) { return all, nil }
	texts = sync.OnceValue(func() []string { return named(all) })
	return nil
}

// Compare reads a catalogue and holds it to another: a text that is missing, one that nobody shows, and one with other values are errors, with the line where there is one.
func Compare(english, other string) (map[string]string, error) {
	want, err := Parse(english)
	if err != nil {
		return nil, err
	}
	all, err := Parse(other)
	if err != nil {
		return nil, err
	}
	err = lines(other, func(line int, key, say string) error {
		text, ok := want[key]
		if !ok {
			return fmt.Errorf("words: line %d: nobody shows %s", line, key)
		}
		for i := range 10 {
			if v := fmt.Sprintf("{%d}", i); strings.Contains(text, v) != strings.Contains(say, v) {
				return fmt.Errorf("words: line %d: %s has other values than %q: %q", line, key, text, say)
			}
		}
		return nil
	})
	if err == nil {
		err = lines(english, func(line int, key, say string) error {
			if _, ok := all[key]; !ok {
				return fmt.Errorf("words: %s is missing, line %d of the English catalogue: %q", key, line, say)
			}
			return nil
		})
	}
	return all, err
}

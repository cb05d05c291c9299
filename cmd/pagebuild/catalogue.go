package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"shimsheet/internal/words"
)

// notInPage are the groups of texts that no program of the page says: the command's and the handler's.
var notInPage = []string{"usage", "command", "http", "api"}

// catalogue is what `go build` is told so that the programs of the page speak a language: an overlay with what the page needs of internal/words/catalogue.txt, or of
// catalogue.xx.txt beside it. A text that is missing there, is not needed, or has other values than the English one, is an error.
func catalogue(root, language string) (flags []string, err error) {
	dir := filepath.Join(root, "internal", "words")
	text := words.Catalogue
	if language != "en" {
		name := filepath.Join(dir, "catalogue."+language+".txt")
		b, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		other, err := words.Compare(words.Catalogue, string(b))
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		// The texts that have names are found by their place, so the file is built with its lines in the order of the English one.
		text = string(words.Ordered(words.Catalogue, other))
	}
	short, file := filepath.Join(root, "dist", "catalogue."+language+".txt"), filepath.Join(root, "dist", "catalogue.json")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(dir, "catalogue.txt"): short}})
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return nil, err
	}
	if err := os.WriteFile(short, []byte(shorten(text)), 0o644); err != nil {
		return nil, err
	}
	return []string{"-overlay=" + file}, os.WriteFile(file, overlay, 0o644)
}

// shorten leaves of a catalogue what the page needs: no comments, nothing said for what only others say, and no keys where texts are found by their place. The keys of
// texts with names are a fifth of the catalogue.
func shorten(text string) string {
	screens, named, _ := words.Cut(text)
	var b strings.Builder
	each := func(half string, put func(key, say string)) {
		for line := range strings.SplitSeq(half, "\n") {
			if key, say, ok := strings.Cut(line, " = "); ok && line[0] != '#' {
				put(key, say)
			}
		}
	}
	each(screens, func(key, say string) { fmt.Fprintf(&b, "%s = %s\n", key, say) })
	b.WriteString(words.Named + "\n")
	each(named, func(key, say string) {
		if group, _, _ := strings.Cut(key, "."); slices.Contains(notInPage, group) {
			say = `""`
		}
		fmt.Fprintf(&b, ". = %s\n", say)
	})
	return b.String()
}

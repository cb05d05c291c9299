package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"

	"shimsheet/internal/words"
)

// catalogue is what `go build` is told so that the screens in Go speak a language: nothing for English, which is in the source, else an overlay that puts
// internal/words/catalogue.xx.txt in its place. A text that is missing there, is not needed, or has other values than the English one, is an error.
func catalogue(root, language string) (flags []string, err error) {
	if language == "en" {
		return nil, nil
	}
	dir := filepath.Join(root, "internal", "words")
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
	ordered, file := filepath.Join(root, "dist", "catalogue."+language+".txt"), filepath.Join(root, "dist", "catalogue.json")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(dir, "catalogue.txt"): ordered}})
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return nil, err
	}
	if err := os.WriteFile(ordered, words.Ordered(words.Catalogue, other), 0o644); err != nil {
		return nil, err
	}
	return []string{"-overlay=" + file}, os.WriteFile(file, overlay, 0o644)
}

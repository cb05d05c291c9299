package main

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"

	"shimsheet/internal/words"
)

// catalogue is what `go build` is told so that programs for WebAssembly speak a language: an overlay with what they say of internal/words/catalogue.txt, or of catalogue.xx.txt
// beside it. A text that is missing there, is not needed, or has other values than the English one, is an error.
func catalogue(root, language string, programs ...string) (flags []string, err error) {
	dir := filepath.Join(root, "internal", "words")
	text, err := inLanguage(root, language)
	if err != nil {
		return nil, err
	}
	says, err := saidBy(root, programs)
	if err != nil {
		return nil, err
	}
	of := filepath.Base(programs[0]) + "." + language
	short, file := filepath.Join(root, "dist", "catalogue."+of+".txt"), filepath.Join(root, "dist", "catalogue."+of+".json")
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(dir, "catalogue.txt"): short}})
	if err != nil {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		return nil, err
	}
	if err := os.WriteFile(short, []byte(shorten(text, says)), 0o644); err != nil {
		return nil, err
	}
	return []string{"-overlay=" + file}, os.WriteFile(file, overlay, 0o644)
}

// inLanguage is the catalogue in a language, its lines in the order of the English one: the texts that have names are found by their place.
func inLanguage(root, language string) (string, error) {
	if language == "en" {
		return words.Catalogue, nil
	}
	name := filepath.Join(root, "internal", "words", "catalogue."+language+".txt")
	b, err := os.ReadFile(name)
	if err != nil {
		return "", err
	}
	other, err := words.Compare(words.Catalogue, string(b))
	if err != nil {
		return "", fmt.Errorf("%s: %w", name, err)
	}
	return string(words.Ordered(words.Catalogue, other)), nil
}

var (
	textAsked = regexp.MustCompile(`\bwords\.(Text|Count)\("([^"]+)"`)
	keyNamed  = regexp.MustCompile(`\bwords\.([A-Z]\w*)`)
)

// saidBy is what the packages that programs for WebAssembly are linked from name of the catalogue: keys, and names of texts. Both stand literally in the source; a test of words holds them so.
func saidBy(root string, programs []string) (map[string]bool, error) {
	cmd := exec.Command("go", append([]string{"list", "-deps", "-f", `{{if not .Standard}}{{$d := .Dir}}{{range .GoFiles}}{{$d}}/{{.}}{{"\n"}}{{end}}{{end}}`}, programs...)...)
	cmd.Dir = root
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		return nil, err
	}
	says := map[string]bool{}
	for name := range strings.Lines(string(out)) {
		text, err := os.ReadFile(filepath.FromSlash(strings.TrimSpace(name)))
		if err != nil {
			return nil, err
		}
		for _, m := range textAsked.FindAllSubmatch(text, -1) {
			if key := string(m[2]); string(m[1]) == "Count" {
				says[key+".one"], says[key+".many"] = true, true
			} else {
				says[key] = true
			}
		}
		for _, m := range keyNamed.FindAllSubmatch(text, -1) {
			says[string(m[1])] = true
		}
	}
	return says, nil
}

// shorten leaves of a catalogue what is said: no comments, and no keys where texts are found by their place, which a text that is not said keeps with nothing in it.
func shorten(text string, says map[string]bool) string {
	screens, named, _ := words.Cut(text)
	var b strings.Builder
	each := func(half string, put func(key, say string)) {
		for line := range strings.SplitSeq(half, "\n") {
			if key, say, ok := strings.Cut(line, " = "); ok && line[0] != '#' {
				put(key, say)
			}
		}
	}
	each(screens, func(key, say string) {
		if says[key] {
			fmt.Fprintf(&b, "%s = %s\n", key, say)
		}
	})
	b.WriteString("\n" + words.Named + "\n")
	each(named, func(key, say string) {
		if group, rest, _ := strings.Cut(key, "."); !says[words.Name(group)+words.Name(rest)] {
			say = `""`
		}
		fmt.Fprintf(&b, ". = %s\n", say)
	})
	return b.String()
}

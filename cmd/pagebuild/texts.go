package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"

	"shimsheet/internal/words"
)

// texts are the words of the page's HTML and scripts by their path: html.body.x.y of the catalogue is {{body.x.y}} in the HTML, script.x.y is T.x.y in a script.
type texts map[string]string

// pageTexts are the words of the page in a catalogue, held against where they are used in web.
func pageTexts(root, catalogue string) (texts, error) {
	screens, _, _ := words.Cut(catalogue)
	all, err := words.Parse(screens)
	if err != nil {
		return nil, err
	}
	t := texts{}
	for key, say := range all {
		for _, of := range [...]string{"html.", "script."} {
			if path, ok := strings.CutPrefix(key, of); ok {
				t[path] = say
			}
		}
	}
	html, scripts, err := sources(root)
	if err != nil {
		return nil, err
	}
	return t, t.check(html, scripts)
}

// module writes what the scripts import as "texts": the texts of the scripts as JSON, a group within a group.
func (t texts) module(file string) error {
	top := map[string]any{}
	for path, say := range t {
		at, names := top, strings.Split(path, ".")
		if names[0] == "body" || names[0] == "skeleton" {
			continue
		}
		for _, name := range names[:len(names)-1] {
			if at[name] == nil {
				at[name] = map[string]any{}
			}
			at = at[name].(map[string]any)
		}
		at[names[len(names)-1]] = say
	}
	b, err := json.Marshal(top)
	if err != nil {
		return err
	}
	return os.WriteFile(file, b, 0o644)
}

// sources are the HTML and the scripts of the page in which texts may be used.
func sources(root string) (html, scripts string, err error) {
	files, err := filepath.Glob(filepath.Join(root, "web", "*.*"))
	for _, f := range files {
		b, e := os.ReadFile(f)
		err = errors.Join(err, e)
		switch filepath.Ext(f) {
		case ".html":
			html += string(b)
		case ".js":
			scripts += string(b)
		}
	}
	return html, scripts, err
}

var (
	textInHTML   = regexp.MustCompile(`\{\{([\w.]+)\}\}`)
	textInScript = regexp.MustCompile(`\bT\.([\w.]*\w)`)
	escaped      = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
)

// put fills the texts into a piece of HTML, where {{path}} stands between tags or in a quoted attribute.
func (t texts) put(html string) (string, error) {
	var errs []error
	out := textInHTML.ReplaceAllStringFunc(html, func(m string) string {
		path := strings.Trim(m, "{}")
		say, ok := t[path]
		if !ok {
			errs = append(errs, fmt.Errorf("there is no text %s", path))
			return m
		}
		return escaped.Replace(say)
	})
	return out, errors.Join(errs...)
}

// check compares the texts with where they are used: a text that is missing and one that nothing uses are errors.
func (t texts) check(html, scripts string) error {
	var errs []error
	used := map[string]bool{}
	for _, where := range []struct {
		pattern *regexp.Regexp
		in      string
	}{{textInHTML, html}, {textInScript, scripts}} {
		for _, m := range where.pattern.FindAllStringSubmatch(where.in, -1) {
			if path := m[1]; !used[path] {
				used[path] = true
				if _, ok := t[path]; !ok {
					errs = append(errs, fmt.Errorf("there is no text %s", path))
				}
			}
		}
	}
	for path := range t {
		if !used[path] {
			errs = append(errs, fmt.Errorf("nothing uses the text %s", path))
		}
	}
	return errors.Join(errs...)
}

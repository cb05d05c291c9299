package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// texts are the words of the page in one language, by their path ("crew.next") in web/texts.en.json. One string is a text; two are a pair, what is
// said of one and of several. What stands under a name that begins with _ is for the translator and is left out.
type texts map[string][]string

func parseTexts(b []byte) (texts, error) {
	var top map[string]any
	if err := json.Unmarshal(b, &top); err != nil {
		return nil, err
	}
	t := texts{}
	return t, t.add("", top)
}

// loadTexts reads the words of one language and checks them against the English ones, and those against where they are used in web.
func loadTexts(root, file string) (texts, error) {
	english := filepath.Join(root, "web", "texts.en.json")
	read := func(name string) (texts, error) {
		b, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		t, err := parseTexts(b)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", filepath.Base(name), err)
		}
		return t, nil
	}
	of, err := read(english)
	if err != nil {
		return nil, err
	}
	html, scripts, err := sources(root)
	if err != nil {
		return nil, err
	}
	if err := of.check(html, scripts); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(english), err)
	}
	if file == english {
		return of, nil
	}
	t, err := read(file)
	if err != nil {
		return nil, err
	}
	if err := t.like(of); err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Base(file), err)
	}
	return t, nil
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

func (t texts) add(path string, v any) error {
	switch v := v.(type) {
	case string:
		t[path] = []string{v}
		return nil
	case []any:
		var pair []string
		for _, x := range v {
			if s, ok := x.(string); ok {
				pair = append(pair, s)
			}
		}
		if len(v) != 2 || len(pair) != 2 {
			return fmt.Errorf("text %s is neither a string nor a pair of strings", path)
		}
		t[path] = pair
		return nil
	case map[string]any:
		var errs []error
		for name, x := range v {
			if strings.HasPrefix(name, "_") {
				continue
			}
			if path != "" {
				name = path + "." + name
			}
			errs = append(errs, t.add(name, x))
		}
		return errors.Join(errs...)
	}
	return fmt.Errorf("text %s is neither a string nor a pair of strings", path)
}

var (
	textInHTML   = regexp.MustCompile(`\{\{([\w.]+)\}\}`)
	textInScript = regexp.MustCompile(`\bT\.([\w.]*\w)`)
	textValue    = regexp.MustCompile(`\{\d+\}`)
	escaped      = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
)

// put fills the texts into a piece of HTML, where {{path}} stands between tags or in a quoted attribute.
func (t texts) put(html string) (string, error) {
	var errs []error
	out := textInHTML.ReplaceAllStringFunc(html, func(m string) string {
		path := strings.Trim(m, "{}")
		if len(t[path]) != 1 {
			errs = append(errs, fmt.Errorf("there is no text %s (or it is a pair)", path))
			return m
		}
		return escaped.Replace(t[path][0])
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
				if t[path] == nil {
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

// like compares a translation with what it was made from: the same paths, pairs where there are pairs, the same values in each text. The first of a
// pair may say the number or not.
func (t texts) like(of texts) error {
	var errs []error
	for path, from := range of {
		to := t[path]
		if len(to) != len(from) {
			errs = append(errs, fmt.Errorf("text %s is missing, or a pair in one language and not in the other", path))
			continue
		}
		if last := len(from) - 1; !slices.Equal(values(from[last]), values(to[last])) {
			errs = append(errs, fmt.Errorf("text %s has other values than {…} of the English one", path))
		}
	}
	for path := range t {
		if of[path] == nil {
			errs = append(errs, fmt.Errorf("text %s is none of the English ones", path))
		}
	}
	return errors.Join(errs...)
}

func values(s string) []string {
	v := textValue.FindAllString(s, -1)
	slices.Sort(v)
	return slices.Compact(v)
}

package main

import (
	"archive/zip"
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/words"
)

// inWords makes the file of a catalogue in which some texts are others.
func inWords(t *testing.T, others ...string) string {
	t.Helper()
	t.Cleanup(func() {
		if err := words.Use(words.Catalogue); err != nil {
			t.Error(err)
		}
	})
	text := words.Catalogue
	for k := 0; k < len(others); k += 2 {
		if strings.Count(text, others[k]) != 1 {
			t.Fatalf("%q stands %d times", others[k], strings.Count(text, others[k]))
		}
		text = strings.Replace(text, others[k], others[k+1], 1)
	}
	file := filepath.Join(t.TempDir(), "catalogue.xx.txt")
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// wholeText is every part of a workbook, one behind the other.
func wholeText(t *testing.T, data []byte) string {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for _, f := range z.File {
		r, err := f.Open()
		if err == nil {
			_, err = io.Copy(&all, r)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	return all.String()
}

// With the file of a catalogue everything is said in its texts: help, refusals, what a job comes to, on the terminal and in a workbook; what files are read by stays.
func TestLanguage(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good})
	m := filepath.Join(dir, "m.csv")
	_, plain, _ := say("calc", m)
	xx := inWords(t, "command.noSuchFile = {0}: there is no such file", "command.noSuchFile = {0}: keine solche Datei", `usage.head = "Usage:\n"`, `usage.head = "So geht es:\n"`,
		"list.countOne = {0} coupling: {1} inside, {2} outside, {3} too close to call, {4} not judged", "list.countOne = {4} ohne Urteil, {3} zu knapp, {2} draußen, {1} drinnen, {0} Kupplung",
		"book.methodTitle = Method: what was computed, and from what", "book.methodTitle = Verfahren")
	if status, _, errs := say("-language", xx, "calc", filepath.Join(dir, "no.csv")); status != exitNothing || !strings.Contains(errs, "no.csv: keine solche Datei") {
		t.Error(status, errs)
	}
	if status, out, _ := say("--language="+xx, "help"); status != exitOK || !strings.HasPrefix(out, "So geht es:\n") {
		t.Error(status, out)
	}
	_, out, errs := say("-language", xx, "calc", m)
	if !strings.Contains(out, "1 Kupplung") || !strings.Contains(out, "0 ohne Urteil, 0 zu knapp") || strings.Contains(plain, "Kupplung") || !strings.Contains(out, "P 1") {
		t.Error(out, errs)
	}
	book := filepath.Join(dir, "out.xlsx")
	if _, _, errs := say("-language", xx, "calc", m, "-o", book); errs != "" {
		t.Fatal(errs)
	}
	if data, err := os.ReadFile(book); err != nil || !strings.Contains(wholeText(t, data), "Verfahren") || strings.Contains(wholeText(t, data), "what was computed, and from what") {
		t.Error("the workbook is not in the other texts", err)
	}
	if status, out, errs := say("calc", book); status != exitOK || !strings.Contains(out, "P 1") {
		t.Error("the workbook does not come back", status, out, errs)
	}
}

// marked is the catalogue with every text between marks, so that what is said and what is not can be told apart.
func marked(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	for line := range strings.SplitSeq(words.Catalogue, "\n") {
		key, text, ok := strings.Cut(line, " = ")
		if ok && line[0] != '#' {
			if text[0] == '"' {
				var err error
				if text, err = strconv.Unquote(text); err != nil {
					t.Fatal(err)
				}
			}
			if text != "" {
				text = "«" + text + "»"
			}
			line = key + " = " + strconv.Quote(text)
		}
		b.WriteString(line + "\n")
	}
	file := filepath.Join(t.TempDir(), "marked.txt")
	if err := os.WriteFile(file, []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
	return file
}

// sameButWords tells where two values of JSON differ in more than the marks around what is said, and counts the texts that are marked.
func sameButWords(t *testing.T, at string, a, b any) (said int) {
	switch a := a.(type) {
	case map[string]any:
		other, _ := b.(map[string]any)
		if len(a) != len(other) {
			t.Errorf("%s has %d members, and %d", at, len(a), len(other))
		}
		for k := range a {
			if k != "id" {
				said += sameButWords(t, at+"."+k, a[k], other[k])
			}
		}
	case []any:
		other, _ := b.([]any)
		if len(a) != len(other) {
			t.Errorf("%s has %d items, and %d", at, len(a), len(other))
			return said
		}
		for k := range a {
			said += sameButWords(t, at, a[k], other[k])
		}
	case string:
		other, _ := b.(string)
		if a != strings.NewReplacer("«", "", "»", "").Replace(other) {
			t.Errorf("%s: %q, and %q", at, a, other)
		}
		if a != other {
			said++
		}
	default:
		if a != b {
			t.Errorf("%s: %v, and %v", at, a, b)
		}
	}
	return said
}

// In other words nothing else is another: every number, verdict and digest of the demo is what it was, in JSON and by way of a workbook written in those words.
func TestOtherWordsChangeNothingElse(t *testing.T) {
	t.Cleanup(func() {
		if err := words.Use(words.Catalogue); err != nil {
			t.Error(err)
		}
	})
	dir, demo := t.TempDir(), filepath.Join("..", "..", "testdata", "demo")
	ask := []string{"calc", filepath.Join(demo, "machines.csv")}
	for _, k := range []string{"job", "readings", "stock", "growth", "feet", "limits", "materials", "checks", "rounds", "trains", "record"} {
		ask = append(ask, "-"+k, filepath.Join(demo, k+".csv"))
	}
	read := func(name string) (v any) {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err == nil {
			err = json.Unmarshal(data, &v)
		}
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	made := func(args ...string) {
		if status, _, errs := say(args...); status != exitSome {
			t.Fatal(status, errs)
		}
	}
	at := func(name string) string { return filepath.Join(dir, name) }
	made(append(ask, "-o", at("plain.json"))...)
	xx := marked(t)
	other := append([]string{"-language", xx}, ask...)
	made(append(other, "-o", at("other.json"))...)
	made(append(other, "-live", "-o", at("job.xlsx"))...)
	formulas := func(name string) int {
		data, err := os.ReadFile(at(name))
		if err != nil {
			t.Fatal(err)
		}
		return strings.Count(wholeText(t, data), "<f>")
	}
	if said := sameButWords(t, "", read("plain.json"), read("other.json")); said < 200 {
		t.Errorf("only %d texts are in the other words", said)
	}
	// Seen: state and stage, which other programs read, were in the other words.
	codes := map[string]int{"state": 0, "stage": 0, "verdict": 0, "after_verdict": 0, "status": 0}
	var walk func(v any)
	walk = func(v any) {
		switch v := v.(type) {
		case []any:
			for _, x := range v {
				walk(x)
			}
		case map[string]any:
			for name, x := range v {
				if text, is := x.(string); is {
					if _, code := codes[name]; code {
						codes[name]++
						if strings.ContainsAny(text, "«»") {
							t.Errorf("%s is %s", name, text)
						}
					}
				}
				walk(x)
			}
		}
	}
	walk(read("other.json"))
	for name, n := range codes {
		if n == 0 {
			t.Errorf("no %s", name)
		}
	}
	made("-language", xx, "calc", at("job.xlsx"), "-o", at("again.json"))
	if err := words.Use(words.Catalogue); err != nil {
		t.Fatal(err)
	}
	made("calc", at("job.xlsx"), "-o", at("back.json"))
	made(append(ask, "-live", "-o", at("plain.xlsx"))...)
	if n, want := formulas("job.xlsx"), formulas("plain.xlsx"); n != want || n < 300 {
		t.Errorf("%d formulas, and %d", n, want)
	}
	sameButWords(t, "by way of a workbook", read("back.json"), read("again.json"))
	if back, err := os.ReadFile(at("back.json")); err != nil || bytes.ContainsAny(back, "«»") {
		t.Error("words of the workbook are taken for what was typed", err)
	}
}

// A catalogue that is not whole is refused with its line, and nothing else is done.
func TestLanguageRefused(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good})
	m := filepath.Join(dir, "m.csv")
	for _, c := range []struct{ was, is, want string }{
		{"\nstage.waiting = waiting\n", "\n", "stage.waiting is missing"},
		{"\nstage.waiting = waiting\n", "\nstage.waiting = wartet\nstage.thinking = denkt\n", "nobody shows stage.thinking"},
		{"card.to = {0} to {1}\n", "card.to = von {0}\n", "card.to has other values"},
		{"card.to = {0} to {1}\n", "card.to\n", "is not `key = text`"},
	} {
		xx := inWords(t, c.was, c.is)
		status, out, errs := say("-language", xx, "calc", m)
		if status != exitNothing || out != "" || !strings.Contains(errs, xx) || !strings.Contains(errs, c.want) || strings.Count(errs, "\n") != 1 || !strings.Contains(errs, "line ") {
			t.Errorf("%q: %d %s %s", c.want, status, out, errs)
		}
	}
	for _, args := range [][]string{{"-language"}, {"-language="}, {"-language", ""}} {
		if status, out, errs := say(args...); status != exitNothing || out != "" || !strings.Contains(errs, "-language wants the file") {
			t.Errorf("%q: %d %s %s", args, status, out, errs)
		}
	}
	if status, _, errs := say("-language", filepath.Join(dir, "no.txt"), "help"); status != exitNothing || !strings.Contains(errs, "there is no such file") {
		t.Error(status, errs)
	}
	if _, rest, asked := cutLanguage([]string{"-language=x", "serve"}); !asked || len(rest) != 1 || rest[0] != "serve" {
		t.Error("what follows the language is not the command", rest)
	}
}

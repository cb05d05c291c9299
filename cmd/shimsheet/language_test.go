package main

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"path/filepath"
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

package evaluate

import (
	"slices"
	"strings"
	"unicode"

	"shimsheet/internal/job"
)

// Words of a cell that says whether something was done; answers are such words only under a header that asks for a check, since "Growth: yes" may say that there is some.
var (
	doneWords   = []string{"ok", "done", "pass", "passed", "checked", "complete", "completed", "fail", "failed", "nok", "open", "pending", "due", "by", "on", "erledigt", "offen", "fait", "hecho"}
	doneAnswers = []string{"yes", "no", "y", "n", "x", "not"}
	checkWords  = []string{"check", "done", "test", "inspect", "verified", "geprüft", "prüfung"}
)

// saysDone says whether a cell under a header says no more than that something was done or not, by whom and when: it holds no number of where a shaft should stand.
func saysDone(header, cell string) bool {
	header = strings.ToLower(header)
	asks := slices.ContainsFunc(checkWords, func(w string) bool { return strings.Contains(header, w) })
	said := false
	for _, w := range strings.FieldsFunc(strings.ToLower(cell), func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' || r == ':' }) {
		switch w = strings.Trim(w, ".()!"); {
		case w == "", isDay(w):
			said = said || w != ""
		case slices.Contains(doneWords, w), asks && slices.Contains(doneAnswers, w):
			said = true
		case !said || len(w) > 3 || strings.ContainsFunc(w, func(r rune) bool { return !unicode.IsLetter(r) && r != '.' }) || w == "mm" || w == "mil" || w == "low":
			return false // initials go
		}
	}
	return said && !job.Blank(cell)
}

// isDay says whether a word is a day with its year: 2026-04-12, 12.04.2026, 4/12/2026.
func isDay(w string) bool {
	parts := strings.FieldsFunc(w, func(r rune) bool { return r == '-' || r == '.' || r == '/' })
	if len(parts) != 3 {
		return false
	}
	year := 0
	for _, p := range parts {
		if strings.Trim(p, "0123456789") != "" || len(p) != 4 && len(p) > 2 {
			return false
		}
		if len(p) == 4 {
			year++
		}
	}
	return year == 1 && len(parts[1]) <= 2
}

package headers

import (
	"slices"
	"strings"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// mostNamed is how many columns that are not read are named in one line.
const mostNamed = 30

// LookAlikes tells of the columns of a table that are not read: which known ones they look like, as warnings on its header row, and the names of the others that hold
// something, in one line.
func LookAlikes(kind job.SheetKind, t *job.Table) []job.Problem {
	if t == nil || t.Header == nil {
		return nil
	}
	var above []string
	if n := len(t.Title); n > 0 {
		above = t.Title[n-1]
	}
	name := t.Name
	if name == "" {
		name = kind.String()
	}
	slips := evaluate.Misspelt(kind, t) // which the sheet tells of itself
	var out []job.Problem
	var own []string
	for _, c := range Look(List{Kind: kind, Header: t.Header, Above: above, Rows: t.Rows}) {
		switch {
		case strings.HasPrefix(c.Header, "Kept unread: ") || slices.ContainsFunc(slips, func(s evaluate.Slip) bool { return s.Col == c.Col }):
			continue
		case c.State == Unread && c.Filled > 0 && c.Header != "":
			own = append(own, c.Header)
			continue
		case c.Filled > 0 && c.Header == "":
			own = append(own, words.HeaderOwnNoName.Say(job.ColumnLetters(c.Col)))
			continue
		case c.State != Guessed && c.State != Asked:
			continue
		}
		var names []string
		means := Means(kind, c.Key, c.Unit)
		if c.State == Guessed {
			names = []string{info(kind, c.Key).Name}
		}
		for _, k := range c.Keys {
			names = append(names, info(kind, k).Name)
		}
		if means == "" {
			means = Means(kind, c.Keys[0], c.Unit)
		}
		o := evaluate.OwnHeader{Kind: kind, Header: numbered(t.Header)[c.Col], Means: means}.Row()
		out = append(out, job.Problem{Severity: job.Warning, File: t.File, Sheet: name, Row: max(t.SourceRow(0)-1, 0), Column: c.Header, Col: c.Col,
			Text: words.HeaderOwnLooksLike.With(either(names), c.Why),
			Hint: words.HeaderOwnHintLooksLike.With(o[0], o[1])})
	}
	if len(own) > 0 {
		text := words.HeaderOwnKept.Say(strings.Join(own[:min(len(own), mostNamed)], ", "))
		if n := len(own) - mostNamed; n > 0 {
			text += words.HeaderOwnMore.Say(n)
		}
		out = append(out, job.Problem{Severity: job.Warning, File: t.File, Sheet: name, Row: max(t.SourceRow(0)-1, 0), Col: -1, Text: words.Plain(text),
			Hint: words.HeaderOwnHintKept.With()})
	}
	return out
}

// either says names with "or" between them.
func either(names []string) string {
	text := names[0]
	for _, n := range names[1:] {
		text = words.WordOr.Say(text, n)
	}
	return text
}

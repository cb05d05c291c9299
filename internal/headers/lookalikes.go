package headers

import (
	"fmt"
	"strings"

	"shimsheet/internal/sheet"
)

// LookAlikes tells of the columns of a table that are not read which known ones they look like, as warnings on its header row.
func LookAlikes(kind sheet.SheetKind, t *sheet.Table) []sheet.Problem {
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
	var out []sheet.Problem
	for _, c := range Look(List{Kind: kind, Header: t.Header, Above: above, Rows: t.Rows}) {
		if c.State != Guessed && c.State != Asked || strings.HasPrefix(c.Header, "Kept unread: ") {
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
		o := sheet.OwnHeader{Kind: kind, Header: numbered(t.Header)[c.Col], Means: means}.Row()
		out = append(out, sheet.Problem{Severity: sheet.Warning, File: t.File, Sheet: name, Row: max(t.SourceRow(0)-1, 0), Column: c.Header, Col: c.Col,
			Text: fmt.Sprintf("the column is kept and not read; it looks like %s (%s)", strings.Join(names, " or "), c.Why),
			Hint: fmt.Sprintf("if it is that, name it so, or write a row `%s` with the value `%s` on the Job sheet", o[0], o[1])})
	}
	return out
}

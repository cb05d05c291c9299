package report

import (
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// listOf makes the text of a list from rows written as "Column: value; Column: value", so that a case is a line.
func listOf(rows ...string) string {
	var names []string
	cells := make([]map[string]string, len(rows))
	for i, r := range rows {
		cells[i] = map[string]string{}
		for _, part := range strings.Split(r, ";") {
			name, v, ok := strings.Cut(strings.TrimSpace(part), ":")
			if !ok {
				continue
			}
			if !slices.Contains(names, name) {
				names = append(names, name)
			}
			cells[i][name] = strings.TrimSpace(v)
		}
	}
	text := strings.Join(names, ",") + "\n"
	for _, c := range cells {
		line := make([]string, len(names))
		for k, n := range names {
			line[k] = quoted(c[n])
		}
		text += strings.Join(line, ",") + "\n"
	}
	return text
}

// sheets are lists of a job as rows of [listOf].
type sheets map[job.SheetKind][]string

// rowsJob makes a job of such lists, with every row worked out. A column that no list has, or a cell that cannot be read, fails the test: the case would look at another job than it says.
func rowsJob(t *testing.T, lists sheets) *sentences.Teller {
	t.Helper()
	texts := map[job.SheetKind]string{}
	for kind, rows := range lists {
		texts[kind] = listOf(rows...)
	}
	ev := jobWith(t, texts)
	ev.Count()
	for _, p := range ev.Problems() {
		if strings.Contains(p.Text.String(), "unknown") || strings.Contains(p.Text.String(), "no column") {
			t.Fatalf("%v", p)
		}
	}
	return ev
}

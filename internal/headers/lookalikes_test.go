package headers

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// Seen: of a planner's columns "HP", "Horiz offset (mil)" with a number in brackets and "Cplg to F foot (in)" with a slip of the quotes the command said nothing at all, since
// their cells do not read as what their names sound like: they were dropped in silence.
func TestEveryColumnLeftIsNamed(t *testing.T) {
	table := &job.Table{Header: []string{"Machine", "HP", "RPM", "Vert offset (mil)", "Horiz offset (mil)", "Kept unread: Remarks", "Empty", ""},
		Rows: [][]string{{"P1", "200", "3570", "4.5", "(2)", "x", "", "y"}}, FirstRow: 2}
	told := map[string]bool{}
	for _, p := range LookAlikes(job.MachinesSheet, table) {
		if p.Column != "" {
			told[p.Column] = true
		} else if p.Severity != job.Warning || !strings.HasPrefix(p.Text.String(), "these columns are kept and not read: ") {
			t.Errorf("%+v", p)
		} else {
			for _, n := range strings.Split(strings.ReplaceAll(strings.TrimPrefix(p.Text.String(), "these columns are kept and not read: "), ", which", "; which"), ", ") {
				told[strings.ReplaceAll(n, "; which", ", which")] = true
			}
		}
	}
	for _, h := range []string{"HP", "Vert offset (mil)", "Horiz offset (mil)", "column H, which has no name"} { // Seen: nothing of readings in columns without a name, under a header in two lines
		if !told[h] {
			t.Errorf("not a word of %q: %v", h, told)
		}
	}
	if len(told) != 4 {
		t.Errorf("told of %v", told)
	}
}

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

// What is yes and no under a header is no sign of which column of yes and no it is, and a header that says no to a column is not taken for it. Seen: Fixed with yes and no was said to look like May move, its opposite; so were
// Locked and Not movable, and Failed and Not done like Done.
func TestOppositesAreNoGuess(t *testing.T) {
	for _, c := range []struct {
		kind          job.SheetKind
		header, texts string
		looks         bool
	}{
		{job.TrainsSheet, "Fixed", "yes no", false}, {job.TrainsSheet, "Locked", "y n", false}, {job.TrainsSheet, "Not movable", "yes no", false}, {job.TrainsSheet, "Cannot move", "1 0", false}, {job.TrainsSheet, "Movable now", "yes no", true},
		{job.ChecksSheet, "Failed", "yes no", false}, {job.ChecksSheet, "Not done", "yes no", false}, {job.ChecksSheet, "No hold", "yes no", false}, {job.ChecksSheet, "Outcome", "ok failed", true}, {job.ChecksSheet, "Done by now", "yes no", true},
	} {
		texts := strings.Fields(c.texts)
		head := map[job.SheetKind][]string{job.TrainsSheet: {"Train", "Machine"}, job.ChecksSheet: {"Machine", "Check"}}[c.kind]
		table := &job.Table{Header: append(head, c.header), Rows: [][]string{{"A", "B", texts[0]}, {"A", "C", texts[1]}}, FirstRow: 2}
		looks := false
		for _, p := range LookAlikes(c.kind, table) {
			looks = looks || p.Column == c.header && strings.Contains(p.Text.String(), "looks like") && !strings.Contains(p.Text.String(), "Note")
		}
		if looks != c.looks {
			t.Errorf("%v %s: %v %v", c.kind, c.header, looks, LookAlikes(c.kind, table))
		}
	}
	for _, p := range LookAlikes(job.ChecksSheet, &job.Table{Header: []string{"Machine", "Guard", "Dowels"}, Rows: [][]string{{"A", "ok", "no"}}, FirstRow: 2}) {
		if p.Column != "" {
			t.Errorf("%s: %s", p.Column, p.Text)
		}
	}
}

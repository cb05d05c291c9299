package tables

import (
	"os"
	"strings"
	"testing"
)

// TestQuestions puts the questions of testdata/lookup to the look-up.
//
// evidence: calc=look-up: questions grade=published count=81 source=testdata/lookup/questions.tsv: ISO 898-1, SAE J429, NEMA MG 1, ASME II-D, Callister, NIST SP 811 and others, as named beside each (read or quoted)
// evidence: calc=look-up: questions grade=practice count=157 source=testdata/lookup/questions.tsv: as named beside each (from memory, or the table itself), with what must be refused or asked about
func TestQuestions(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/lookup/questions.tsv")
	if err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	read := 0
	for line := range strings.Lines(string(raw)) {
		f := strings.Split(strings.TrimRight(line, "\n"), "\t")
		if strings.HasPrefix(line, "#") || f[0] == "question" {
			continue
		}
		if len(f) != 6 {
			t.Fatalf("%d cells: %q", len(f), line)
		}
		query, kind, table, row, says, source := f[0], f[1], f[2], f[3], f[4], f[5]
		count[kind]++
		if documented(source) {
			read++
		}
		answer := Search(query)
		got := "row"
		said := ""
		for i, x := range answer.Said {
			if i == 0 {
				got = [...]string{"refused", "asked", "unread"}[x.Kind]
			}
			said += x.Text + "\n"
		}
		if got != kind {
			t.Errorf("%q is %s (%s), want %s", query, got, said, kind)
			continue
		}
		for i := 0; i < len(answer.Hits) && kind == "refused"; i++ {
			for _, fact := range answer.Hits[i].Facts {
				if strings.HasPrefix(fact.Label, "torque") || (strings.HasPrefix(fact.Label, "proof") || strings.HasPrefix(fact.Label, "load")) && fact.Unit != "" || strings.HasPrefix(fact.Label, "growth") {
					t.Errorf("%q is refused, and yet %s has %s = %s", query, answer.Hits[i].Title, fact.Label, fact.Value)
				}
			}
		}
		if table+row != "" {
			if len(answer.Hits) == 0 {
				t.Errorf("%q finds nothing", query)
				continue
			}
			h := answer.Hits[0]
			key, name := "", h.Title
			if h.Table != nil {
				key, name = h.Table.Key, h.Row.Name
			}
			if key != table || name != row {
				t.Errorf("%q: first %s %q (%s), want %s %q", query, key, name, h.Why, table, row)
			}
		}
		if label, value, fact := strings.Cut(says, " = "); fact {
			ok, all := false, ""
			for _, x := range answer.Hits[0].Facts {
				v := strings.TrimSpace(x.Value + " " + x.Unit)
				all += x.Label + " = " + v + "; "
				ok = ok || x.Label == label && v == value
			}
			if !ok {
				t.Errorf("%q: no %q, but %s", query, says, all)
			}
		} else if !strings.Contains(said, says) {
			t.Errorf("%q says %q, not %q", query, said, says)
		}
	}
	n := 0
	for _, c := range count {
		n += c
	}
	if n < 200 || read != 81 || n-read != 157 {
		t.Errorf("%d questions, %d from a document", n, read)
	}
	t.Logf("%d questions: %d answered by a row, %d refused, %d asked about, %d with words that are not understood", n, count["row"], count["refused"], count["asked"], count["unread"])
}

// documented says whether a source is a document that was read, itself or in a reproduction.
func documented(source string) bool {
	return (strings.Contains(source, "(quoted)") || strings.Contains(source, "(read)") || strings.Contains(source, "NIST")) && !strings.Contains(source, "from memory")
}

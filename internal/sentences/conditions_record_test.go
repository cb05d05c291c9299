package sentences

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// How a machine stands with several signatures: changed since signed where one that counts no longer holds, signed where one does and none is broken; the sentences of the panel, whole.
func TestSignaturesTogether(t *testing.T) {
	base := []string{"Machines: Machine=P-1 | Speed=1480 | Method=line | Given offset V=0.01 | Given offset H=0 | Given slope V=0 | Given slope H=0"}
	// right is the digest that a row has to have.
	sign := func(rows ...string) (*Teller, *evaluate.RowResult) {
		j := jobText(t, plus(base, rows...)...)
		e := work(t, j)
		col := slices.Index(j.Record.Header, "Digest")
		for k := range j.Record.Rows {
			if row := j.Record.Rows[k]; col >= 0 && row[col] == "right" {
				row[col] = strings.Repeat("0", 64)
				e.Refresh()
				text, ok := e.CanonicalText(j.Record.SourceRow(k))
				if !ok {
					t.Fatal(row)
				}
				row[col] = strings.ToUpper(evaluate.Digest(text))
			}
		}
		e.Refresh()
		return e, e.Row(0)
	}
	right, wrong, bare := "Record: Machine=P-1 | Role=aligner | Signed by=a | Signed at=2026-04-12 | Digest=right", "Record: Machine=P-1 | Role=witness | Signed by=b | Signed at=2026-04-13 | Digest="+strings.Repeat("0", 64), "Record: Machine=P-1 | Role=accepter | Signed by=c | Signed at=2026-04-14"
	for _, c := range []struct {
		rows  []string
		state evaluate.SignState
		word  string
		rowsS []evaluate.SignState
	}{
		{[]string{right}, evaluate.SignHolds, "signed", []evaluate.SignState{evaluate.SignHolds}},
		{[]string{wrong}, evaluate.SignFailed, "changed since signed", []evaluate.SignState{evaluate.SignFailed}},
		{[]string{bare}, evaluate.SignBare, "found", []evaluate.SignState{evaluate.SignBare}},
		{[]string{right, wrong}, evaluate.SignFailed, "changed since signed", []evaluate.SignState{evaluate.SignHolds, evaluate.SignFailed}},
		{[]string{wrong, right}, evaluate.SignFailed, "changed since signed", []evaluate.SignState{evaluate.SignFailed, evaluate.SignHolds}},
		{[]string{bare, right}, evaluate.SignHolds, "signed", []evaluate.SignState{evaluate.SignBare, evaluate.SignHolds}},
		{[]string{right, bare}, evaluate.SignHolds, "signed", []evaluate.SignState{evaluate.SignHolds, evaluate.SignBare}},
		{[]string{bare, wrong}, evaluate.SignFailed, "changed since signed", []evaluate.SignState{evaluate.SignBare, evaluate.SignFailed}},
		{[]string{wrong, bare}, evaluate.SignFailed, "changed since signed", []evaluate.SignState{evaluate.SignFailed, evaluate.SignBare}},
		{[]string{"Record: Machine=P-1 | Instrument=dial"}, evaluate.NotSigned, "found", []evaluate.SignState{evaluate.NotSigned}},
		{[]string{"Record: Machine=P-1 | Instrument=dial", right}, evaluate.SignHolds, "signed", []evaluate.SignState{evaluate.NotSigned, evaluate.SignHolds}},
		{[]string{strings.Replace(wrong, "witness", "aligner", 1), strings.Replace(right, "2026-04-12", "2026-05-12", 1)}, evaluate.SignHolds, "signed", []evaluate.SignState{evaluate.SignLater, evaluate.SignHolds}},
		{[]string{right + " | Result=outside"}, evaluate.SignFailed, "changed since signed", []evaluate.SignState{evaluate.SignFailed}},
		{[]string{right + " | Due=2020-01-01 | Role=boss"}, evaluate.SignBare, "found", []evaluate.SignState{evaluate.SignBare}},
		{[]string{"Record: Machine=whole job | Signed by=d | Digest=" + strings.Repeat("0", 64)}, evaluate.NotSigned, "found", nil},
	} {
		e, r := sign(c.rows...)
		var states []evaluate.SignState
		for _, s := range r.Record {
			states = append(states, s.State)
		}
		if r.Signed != c.state || r.StateWord().String() != c.word || !slices.Equal(states, c.rowsS) {
			t.Errorf("%v: %v, %s, %v", c.rows, r.Signed, r.StateWord().String(), states)
		}
		var want, got string
		for _, s := range r.Record {
			role := ""
			if s.Role != "" {
				role = ", " + s.Role
			}
			why := "the rows of the record are not those that were signed"
			if s.Result != "" {
				why = "signed was: outside. It is now: " + e.SignedResult(r)
			}
			switch s.State {
			case evaluate.SignHolds:
				want += fmt.Sprintf("line Signed by %s%s on %s; digest %s.\n", s.By, role, s.At, s.Digest)
			case evaluate.SignFailed:
				want += fmt.Sprintf("do Changed since signed: %s%s signed on %s; %s.\n", s.By, role, s.At, why)
				says(t, r, job.Warning, "changed since signed: "+s.By+" signed on "+s.At+"; "+why)
			case evaluate.SignBare:
				want += fmt.Sprintf("hint %s%s stands under Signed by without a digest; nothing can be checked.\n", s.By, role)
			}
			if (s.State == evaluate.SignFailed) != (s.Why.String() == why) || s.State != evaluate.SignFailed && !s.Why.Empty() {
				t.Errorf("%v: %q", c.rows, s.Why)
			}
		}
		for _, s := range e.Sentences(0) {
			if strings.Contains(s.Text, "igned") && !strings.HasPrefix(s.Text, "changed since") {
				got += s.Kind.String() + " " + s.Text + "\n"
			}
		}
		if got != want {
			t.Errorf("%v:\n%swant\n%s", c.rows, got, want)
		}
	}
}

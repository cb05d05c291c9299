package jobtest

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// Near checks a number; one that is wanted not to exist is NaN.
func Near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && !(math.IsNaN(got) && math.IsNaN(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// SameLine checks a line, each of its four parts.
func SameLine(t testing.TB, what string, got, want calc.Line, tol float64) {
	t.Helper()
	for k, d := range [4]float64{got.DV - want.DV, got.TV - want.TV, got.DH - want.DH, got.TH - want.TH} {
		if !(math.Abs(d) <= tol) {
			t.Errorf("%s, part %d: %+v, want %+v", what, k, got, want)
			return
		}
	}
}

// SameValue holds a JSON value against what a case says of it.
func SameValue(got any, want string) bool {
	switch x := got.(type) {
	case nil:
		return want == "null"
	case float64:
		w, err := strconv.ParseFloat(want, 64)
		return want == "~" || err == nil && math.Abs(x-w) <= 1e-6*max(math.Abs(w), 1e-3)
	case string:
		return Wild(x, want)
	case bool:
		return fmt.Sprint(x) == want
	}
	list, ok := got.([]any)
	var w []any
	if !ok || json.Unmarshal([]byte(want), &w) != nil || len(w) != len(list) {
		return false
	}
	for k := range w {
		if !SameValue(list[k], fmt.Sprint(w[k])) {
			return false
		}
	}
	return true
}

// Wild says whether s is pattern, in which … stands for any text.
func Wild(s, pattern string) bool {
	parts := strings.Split(pattern, "…")
	if len(parts) == 1 {
		return s == pattern
	}
	if !strings.HasPrefix(s, parts[0]) {
		return false
	}
	s = s[len(parts[0]):]
	for _, p := range parts[1 : len(parts)-1] {
		k := strings.Index(s, p)
		if k < 0 {
			return false
		}
		s = s[k+len(p):]
	}
	return strings.HasSuffix(s, parts[len(parts)-1])
}

// Told are problems as a person reads them, one a line: where, what, what to do.
func Told(list []job.Problem) string {
	var b strings.Builder
	for _, p := range list {
		fmt.Fprintf(&b, "%v %s %d %s: %s", p.Severity, p.Sheet, p.Row, p.Column, p.Text)
		if !p.Hint.Empty() {
			fmt.Fprintf(&b, " (%s)", p.Hint)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// Says checks that among the problems is one of that severity whose text on one line holds all the words.
func Says(t testing.TB, problems []job.Problem, sev job.Severity, words ...string) {
	t.Helper()
	for i := range problems {
		p := &problems[i]
		all := p.Severity == sev
		for _, w := range words {
			all = all && (strings.Contains(p.String(), w) || strings.Contains(p.Text.String(), w))
		}
		if all {
			return
		}
	}
	t.Errorf("no %v with %q among %v", sev, words, problems)
}

// Machines decodes the machines of a result in JSON, which write writes.
func Machines(t testing.TB, write func(io.Writer) error) []map[string]any {
	t.Helper()
	var doc struct {
		Machines []map[string]any `json:"machines"`
	}
	decode(t, write, &doc)
	return doc.Machines
}

func decode(t testing.TB, write func(io.Writer) error, doc any) {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b.Bytes(), doc); err != nil {
		t.Fatalf("%v in %s", err, &b)
	}
}

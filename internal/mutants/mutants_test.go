package mutants

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// measureToy measures the package in testdata/toy.
func measureToy(t *testing.T, opts Options) *Report {
	t.Helper()
	r, err := Measure("testdata/toy", t.TempDir(), opts)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Of a package whose tests are known, what dies, what lives and what is not reached is known too.
func TestMeasure(t *testing.T) {
	r := measureToy(t, Options{})
	want := map[string]Outcome{
		"toy.go | height | sibling | p.V | 1":                         Killed,
		"toy.go | inside | negation | x < limit | 1":                  Killed,
		"toy.go | inside | boundary | x < limit | 1":                  Lived,
		"toy.go | both | logical | a && b | 1":                        Lived,
		"toy.go | count | negation | i < len(list) | 1":               Killed,
		"toy.go | count | boundary | i < len(list) | 1":               Killed,
		"toy.go | count | inc-dec | i++ | 1":                          Killed,
		"toy.go | count | guard | skip != nil && skip(list[i]) | 1":   Killed,
		"toy.go | count | logical | skip != nil && skip(list[i]) | 1": Killed,
		"toy.go | count | negation | skip != nil | 1":                 Killed,
		"toy.go | count | dropped | n += list[i]*2*1 - -1 | 1":        Killed,
		"toy.go | count | arithmetic | list[i]*2*1 - -1 | 1":          Killed,
		"toy.go | count | arithmetic | list[i]*2*1 | 1":               Lived, // times one and divided by one are the same
		"toy.go | count | arithmetic | list[i]*2 | 1":                 Killed,
		"toy.go | count | sign | -1 | 1":                              Killed,
		"toy.go | Doubled | arithmetic | x * 2 | 1":                   NotCovered, // but by the package above
		"toy.go | Doubled | negation | x > 1e6 | 1":                   NotCovered,
		"toy.go | Doubled | boundary | x > 1e6 | 1":                   NotCovered,
		"toy.go | Doubled | guard | x > 1e6 | 1":                      NotCovered,
		"toy.go | unseen | arithmetic | -x * math.Cos(x) | 1":         NotCovered,
		"toy.go | unseen | sign | -x | 1":                             NotCovered,
		"toy.go | unseen | sibling | math.Cos | 1":                    NotCovered,
	}
	for i, m := range r.Mutants {
		if o, ok := want[m.Key()]; !ok || o != r.Outcome[i] {
			t.Errorf("%s: %s, want %q", m.Key(), r.Outcome[i], o)
		}
		delete(want, m.Key())
	}
	for k := range want {
		t.Errorf("%s: not planted", k)
	}
	if l := r.Line(); !strings.Contains(l, "killed   12, lived    3, efficacy 80.0 %") || !strings.Contains(l, "no test reaches 7, 31.8 %") {
		t.Error(l)
	}
}

// What only the tests of a package above notice is noticed when these are run too, and what only they reach is reached. A companion that has nothing to do with the package is refused.
func TestMeasureAlso(t *testing.T) {
	of := func(r *Report, key string) Outcome {
		for i, m := range r.Mutants {
			if m.Key() == key {
				return r.Outcome[i]
			}
		}
		return "not planted"
	}
	alone, both := measureToy(t, Options{}), measureToy(t, Options{Also: []string{"testdata/toyabove"}})
	for key, want := range map[string][2]Outcome{
		"toy.go | inside | boundary | x < limit | 1":          {Lived, Killed},
		"toy.go | Doubled | arithmetic | x * 2 | 1":           {NotCovered, Killed},
		"toy.go | Doubled | boundary | x > 1e6 | 1":           {NotCovered, Lived},
		"toy.go | both | logical | a && b | 1":                {Lived, Lived},
		"toy.go | height | sibling | p.V | 1":                 {Killed, Killed},
		"toy.go | unseen | arithmetic | -x * math.Cos(x) | 1": {NotCovered, NotCovered},
	} {
		if got := [2]Outcome{of(alone, key), of(both, key)}; got != want {
			t.Errorf("%s: %q, want %q", key, got, want)
		}
	}
	for _, dir := range []string{"testdata/stranger", "testdata/toyuntested"} {
		if _, err := Measure("testdata/toy", t.TempDir(), Options{Also: []string{dir}}); err == nil || !strings.Contains(err.Error(), dir) {
			t.Errorf("%s: %v", dir, err)
		}
	}
}

// A sample is the same each time, and as large as asked for.
func TestSample(t *testing.T) {
	tried := func() (out []string) {
		r := measureToy(t, Options{Sample: 4, Classic: true})
		for i, m := range r.Mutants {
			if o := r.Outcome[i]; o == Killed || o == Lived {
				out = append(out, m.Key())
				if !m.Kind.Classic() {
					t.Errorf("%s is none that gremlins plants", m.Key())
				}
			}
		}
		return out
	}
	one, two := tried(), tried()
	if len(one) != 4 || !slices.Equal(one, two) {
		t.Errorf("%q and %q", one, two)
	}
}

func TestReadEquivalent(t *testing.T) {
	file := filepath.Join(t.TempDir(), "list.txt")
	write := func(text string) {
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("# a note\n\ninternal/a | f.go | g | boundary | x => y | 1 => the same at the edge\ninternal/b | f.go | g | sign | -x | 1 => zero\n")
	got, err := ReadEquivalent(file, "internal/a")
	if err != nil || len(got) != 1 || got["f.go | g | boundary | x => y | 1"] != "the same at the edge" {
		t.Error(got, err)
	}
	write("internal/a | f.go | g | boundary | x | 1 =>\n")
	if _, err := ReadEquivalent(file, "internal/a"); err == nil {
		t.Error("no reason, no error")
	}
}

// The list of faults planted by hand still says what stands in the code: each can be planted again.
func TestKnownStandThere(t *testing.T) {
	text, err := os.ReadFile("../../testdata/mutants/planted.txt")
	if err != nil {
		t.Fatal(err)
	}
	list, err := ReadKnown(string(text))
	if err != nil || len(list) < 20 {
		t.Fatal(len(list), err)
	}
	for i := range list {
		if _, err := list[i].text("../.."); err != nil {
			t.Error(err)
		}
	}
	if _, err := ReadKnown("what: x\nfile: y.go\nfrom: a\nto: b"); err == nil {
		t.Error("a fault without a test is taken")
	}
}

package sentences

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/jobtest"
)

// A jobCase is a small job and what must come of it, two or three lines long. The job is that of the test with some of its cells and sheets changed, as jobtest.Case does it.
type jobCase struct {
	cells  string // "Speed=1480; Offset limit=" changes cells of the base or adds them, "Speed" alone takes one out
	sheets string // "Growth: Machine,Support,…" and then its rows, a line each; a sheet named without anything behind it is taken out; "Job:" has a setting a line, "Name=value"

	// What must come of it, a line each:
	//
	//	error Growth row 3, Cold: missing …    a problem, of the row or of the job, as a person reads it (… stands for any text); there are no others, but for severities that are never named
	//	front_shim_mm=-0.3  feet.1.soft_mm=0.1    values of the machine in JSON, numbers to 1e-6 of them; "~" (any number) and "null" too
	//	says …    stands in the sentences of the row (white space as it is)
	//	not …     does not stand there
	want string
}

// cases runs the cases. loud is the least grave severity whose problems have to be named: those of lesser ones may be there.
func cases(t *testing.T, loud job.Severity, base []string, sheets string, list []jobCase) {
	t.Helper()
	for i, c := range list {
		e, r := caseJob(t, base, sheets, &c)
		name := fmt.Sprintf("case %d (%s%s)", i, c.cells, strings.ReplaceAll(" "+c.sheets, "\n", " / "))
		var left []string
		for _, p := range slices.Concat(e.Problems(), r.Problems) {
			if p.Severity >= loud {
				left = append(left, p.Severity.String()+" "+p.String())
			}
		}
		said := caseSays(e)
		var doc map[string]any
		for _, w := range strings.Split(c.want, "\n") {
			w = strings.TrimSpace(w)
			kind, rest, _ := strings.Cut(w, " ")
			switch {
			case w == "":
			case kind == "error" || kind == "warning" || kind == "note":
				k := slices.IndexFunc(left, func(s string) bool { return wild(s, w) })
				if k < 0 {
					t.Errorf("%s: nobody says %q", name, w)
					continue
				}
				left = slices.Delete(left, k, k+1)
			case kind == "says":
				if !strings.Contains(said, rest) {
					t.Errorf("%s: %q is not said:\n%s", name, rest, linesLike(said, rest))
				}
			case kind == "not":
				if strings.Contains(said, rest) {
					t.Errorf("%s: %q is said", name, rest)
				}
			default:
				if doc == nil {
					doc = machines(t, e)[0]
				}
				for _, f := range caseValues(w) {
					path, want, ok := strings.Cut(f, "=")
					if !ok {
						t.Fatalf("%s: %q", name, w)
					}
					if got := jsonAt(doc, path); !sameValue(got, want) {
						t.Errorf("%s: %s is %v, want %s", name, path, got, want)
					}
				}
			}
		}
		if len(left) > 0 {
			t.Errorf("%s: nobody expects\n%s", name, strings.Join(left, "\n"))
		}
	}
}

// caseSays is everything that is said of the row, a sentence a line.
func caseSays(e *Teller) string {
	var b strings.Builder
	for _, s := range e.Sentences(0) {
		fmt.Fprintln(&b, s.Text)
	}
	return b.String()
}

// linesLike are the lines of said that begin as s does, else all of them.
func linesLike(said, s string) string {
	head := strings.Join(strings.Fields(s)[:min(2, len(strings.Fields(s)))], " ")
	var list []string
	for _, line := range strings.Split(said, "\n") {
		if strings.Contains(line, head) {
			list = append(list, line)
		}
	}
	if list == nil {
		return said
	}
	return strings.Join(list, "\n")
}

// caseValues parts "a=1 b=two words c=3".
func caseValues(line string) (list []string) {
	for _, w := range strings.Fields(line) {
		if strings.Contains(w, "=") || len(list) == 0 {
			list = append(list, w)
		} else {
			list[len(list)-1] += " " + w
		}
	}
	return list
}

// jsonAt is the member of a JSON value at a path such as feet.1.soft_mm; "list.#" is how many there are.
func jsonAt(v any, path string) any {
	for _, p := range strings.Split(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			m, ok := x[p]
			if !ok {
				return "no " + p
			}
			v = m
		case []any:
			if p == "#" {
				return float64(len(x))
			}
			k, err := strconv.Atoi(p)
			if err != nil || k >= len(x) {
				return "no " + p
			}
			v = x[k]
		default:
			return "no " + p
		}
	}
	return v
}

// caseJob is the job of a case, worked out.
func caseJob(t testing.TB, base []string, sheets string, c *jobCase) (*Teller, *evaluate.RowResult) {
	t.Helper()
	return pump(t, jobtest.Case(t, base, sheets, c.cells, c.sheets))
}

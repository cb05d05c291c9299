package sentences

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// A jobCase is a small job and what must come of it, two or three lines long. The job is that of the test (cells of the one machine, called pump, and further sheets) with some of its cells changed, added or
// taken out and some of its sheets taken in place.
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

// caseJob is the job of a case, worked out.
func caseJob(t *testing.T, base []string, sheets string, c *jobCase) (*Teller, *evaluate.RowResult) {
	t.Helper()
	var by []string
	for _, s := range strings.Split(c.cells, "; ") {
		if s = strings.TrimSpace(s); s != "" {
			by = append(by, s)
		}
	}
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, change(base, by...)...)
	of := caseSheets(t, sheets)
	for k, s := range caseSheets(t, c.sheets) {
		of[k] = s
	}
	for k, s := range of {
		switch {
		case strings.TrimSpace(s) == "":
		case k == job.SettingsSheet:
			j.Settings = &job.Table{Name: "Job", FirstRow: 1}
			for _, line := range strings.Split(strings.TrimSpace(s), "\n") {
				name, v, _ := strings.Cut(strings.TrimSpace(line), "=")
				j.Settings.Rows = append(j.Settings.Rows, []string{name, v})
			}
		default:
			with(t, j, k, s)
		}
	}
	e := work(t, j)
	return e, e.Row(0)
}

// caseSheets parts the sheets of a case.
func caseSheets(t *testing.T, text string) map[job.SheetKind]string {
	t.Helper()
	of := map[job.SheetKind]string{}
	at := job.MachinesSheet
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		for _, k := range job.SheetKinds() {
			if rest, ok := strings.CutPrefix(line, k.String()+":"); ok {
				at, line = k, strings.TrimSpace(rest)
				of[k] = ""
			}
		}
		if line == "" {
			continue
		}
		if at == job.MachinesSheet {
			t.Fatalf("%q belongs to no sheet", line)
		}
		of[at] += line + "\n"
	}
	return of
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

// sameValue holds a JSON value against what a case says of it.
func sameValue(got any, want string) bool {
	switch x := got.(type) {
	case nil:
		return want == "null"
	case float64:
		w, err := strconv.ParseFloat(want, 64)
		return want == "~" || err == nil && math.Abs(x-w) <= 1e-6*max(math.Abs(w), 1e-3)
	case string:
		return wild(x, want)
	case bool:
		return fmt.Sprint(x) == want
	}
	list, ok := got.([]any)
	var w []any
	if !ok || json.Unmarshal([]byte(want), &w) != nil || len(w) != len(list) {
		return false
	}
	for k := range w {
		if !sameValue(list[k], fmt.Sprint(w[k])) {
			return false
		}
	}
	return true
}

// wild says whether s is pattern, in which … stands for any text.
func wild(s, pattern string) bool {
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

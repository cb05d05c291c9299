package sentences

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// list makes a job of a Machines sheet in CSV.
func list(t testing.TB, csv string) *job.Job {
	t.Helper()
	tab, problems, err := job.ReadDelimited("Machines", []byte(csv), 0)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	tab.SplitHeader(job.MachinesSheet)
	j := job.NewJob()
	j.Machines = tab
	return j
}

func with(t testing.TB, j *job.Job, k job.SheetKind, csv string) *job.Job {
	t.Helper()
	tab, _, err := job.ReadDelimited(k.String(), []byte(csv), 0)
	if err != nil {
		t.Fatal(err)
	}
	tab.SplitHeader(k)
	j.SetTable(k, tab)
	return j
}

func work(t testing.TB, j *job.Job) *Teller {
	t.Helper()
	e := New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return e
}

// one evaluates a row given as header=value pairs.
func one(t testing.TB, cells ...string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	j := job.NewJob()
	j.Machines.Header = []string{"Machine"}
	j.Machines.Rows = [][]string{{"pump"}}
	j.Machines.FirstRow = 2
	add(j, cells...)
	e := work(t, j)
	return e, e.Row(0)
}

func add(j *job.Job, cells ...string) {
	for _, c := range cells {
		h, v, _ := strings.Cut(c, "=")
		j.Machines.Header = append(j.Machines.Header, h)
		j.Machines.Rows[0] = append(j.Machines.Rows[0], v)
	}
}

// reverse is a sound row by reverse indicator: offset 0.10 and −0.04 mm, slope 0.5 and 0.2 mm/m, planes at ±100 mm.
var reverse = []string{"Speed=1480", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500",
	"Movable rim 12=0", "Movable rim 3=-0.17", "Movable rim 6=-0.30", "Movable rim 9=-0.13",
	"Stationary rim 12=0", "Stationary rim 3=0.11", "Stationary rim 6=0.10", "Stationary rim 9=-0.01"}

// change returns the cells with some replaced (header=value) or taken out (header alone) or added.
func change(cells []string, by ...string) []string {
	out := append([]string{}, cells...)
	for _, b := range by {
		h, _, has := strings.Cut(b, "=")
		found := false
		for i := 0; i < len(out); i++ {
			if o, _, _ := strings.Cut(out[i], "="); o == h {
				found = true
				if has {
					out[i] = b
				} else {
					out = append(out[:i], out[i+1:]...)
				}
				break
			}
		}
		if !found && has {
			out = append(out, b)
		}
	}
	return out
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && !(math.IsNaN(got) && math.IsNaN(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// says checks that the row has a problem of that severity whose text on one line holds all the words.
func says(t testing.TB, r *evaluate.RowResult, sev job.Severity, words ...string) {
	t.Helper()
	for i := range r.Problems {
		p := &r.Problems[i]
		all := p.Severity == sev
		for _, w := range words {
			all = all && (strings.Contains(p.String(), w) || strings.Contains(p.Text.String(), w))
		}
		if all {
			return
		}
	}
	t.Errorf("no %v with %q among %v", sev, words, r.Problems)
}

// machines decodes the JSON result.
func machines(t testing.TB, e *Teller) []map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := e.ResultsJSON(&b); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Machines []map[string]any `json:"machines"`
	}
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatalf("%v in %s", err, &b)
	}
	return doc.Machines
}

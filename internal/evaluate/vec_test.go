package evaluate

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/vec"
)

// rowOf makes a job of one machine from the in lines of a check, whose names are headers of the Machines sheet. Names after "Job: "
// are settings.
func rowOf(c *vec.Case) *job.Job {
	j := job.NewJob()
	t := j.Machines
	t.Header, t.Rows = []string{"Machine"}, [][]string{{"pump"}}
	t.FirstRow = 2
	j.Settings = &job.Table{Header: []string{"Name", "Value"}, FirstRow: 2, Rows: [][]string{{"Sag not given", "no sag"}}} // the books say nothing of sag
	for _, kv := range c.In {
		if k, ok := strings.CutPrefix(kv.Name, "Job: "); ok {
			j.Settings.Rows = append(j.Settings.Rows, []string{k, kv.Value})
			continue
		}
		t.Header, t.Rows[0] = append(t.Header, kv.Name), append(t.Rows[0], kv.Value)
	}
	return j
}

// kindOfResult is what a name of the JSON result holds, by the unit in its name.
func kindOfResult(name string) units.Kind {
	switch {
	case strings.HasSuffix(name, "_mm"):
		return units.Length
	case strings.Contains(name, "slope") || strings.Contains(name, "flex"):
		return units.Slope
	}
	return units.Number
}

// TestVectors runs every check of readings.vec and decision.vec the whole way: text of cells to JSON of the result.
func TestVectors(t *testing.T) {
	cases := append(vec.Read(t, "readings.vec"), vec.Read(t, "decision.vec")...)
	if len(cases) < 30 {
		t.Fatalf("only %d checks", len(cases))
	}
	for i := range cases {
		c := &cases[i]
		e := NewEvaluator(rowOf(c))
		if err := e.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		for _, p := range e.Problems() {
			t.Errorf("%v: %v", c, &p)
		}
		for k, kv := range c.In {
			if _, set := strings.CutPrefix(kv.Name, "Job: "); !set && e.ColumnOf(k+1) == nil {
				t.Errorf("%v: no column %q", c, kv.Name)
			}
		}
		r := e.Row(0)
		if c.WantErr != "" {
			said := false
			for k := range r.Problems {
				p := &r.Problems[k]
				said = said || p.Severity == job.Error && strings.Contains(p.String(), c.WantErr)
			}
			if !said {
				t.Errorf("%v: want an error with %q, got %v", c, c.WantErr, r.Problems)
			}
			continue
		}
		for k := range r.Problems {
			if v, _ := c.Wanted("verdict"); r.Problems[k].Severity == job.Error && v != "not judged" {
				t.Errorf("%v: %v", c, &r.Problems[k])
			}
		}
		var out bytes.Buffer
		if err := e.ResultsJSON(&out); err != nil {
			t.Fatal(err)
		}
		var doc struct{ Machines []map[string]any }
		if err := json.Unmarshal(out.Bytes(), &doc); err != nil || len(doc.Machines) != 1 {
			t.Fatalf("%v: %d machines, %v", c, len(doc.Machines), err)
		}
		m := doc.Machines[0]
		checks, _ := m["sweep_checks"].([]any) // "checks 1 balance_mm" is the first sweep's
		for k, one := range checks {
			for name, v := range one.(map[string]any) {
				m[fmt.Sprintf("checks %d %s", k+1, name)] = v
			}
		}
		for _, kv := range c.Want {
			got, ok := m[kv.Name]
			if !ok {
				t.Errorf("%v: no result %q", c, kv.Name)
				continue
			}
			compare(t, c, kv, got)
		}
	}
}

func compare(t *testing.T, c *vec.Case, kv vec.KV, got any) {
	t.Helper()
	kind := kindOfResult(kv.Name)
	switch g := got.(type) {
	case nil:
		if kv.Value != "null" {
			t.Errorf("%v: %s does not exist, want %s", c, kv.Name, kv.Value)
		}
	case string:
		if g != kv.Value {
			t.Errorf("%v: %s is %q, want %q", c, kv.Name, g, kv.Value)
		}
	case float64:
		number(t, c, kv.Name, kv.Value, kind, g)
	case []any:
		want := strings.Fields(kv.Value)
		if len(want) != len(g) {
			t.Errorf("%v: %s is %v, want %s", c, kv.Name, g, kv.Value)
			return
		}
		for i := range g {
			number(t, c, kv.Name, want[i], kind, g[i].(float64))
		}
	default:
		t.Errorf("%v: %s is %v", c, kv.Name, got)
	}
}

func number(t *testing.T, c *vec.Case, name, want string, kind units.Kind, got float64) {
	t.Helper()
	unit := kind.Base()
	w, err := units.Parse(want, kind, unit, units.Point)
	if err != nil {
		t.Errorf("%v: %s = %q: %v", c, name, want, err)
		return
	}
	tol := c.Tol
	if kind != units.Number {
		u, ok := units.ParseUnit(c.TolUnit, kind)
		if !ok {
			t.Errorf("%v: the tolerance is in %q, but %s is a %v", c, c.TolUnit, name, kind)
			return
		}
		tol = u.ToBase(tol)
	} else if c.TolUnit != "%" {
		t.Errorf("%v: the tolerance of %s is in %q", c, name, c.TolUnit)
	}
	if !(math.Abs(got-w.Base) <= tol) {
		t.Errorf("%v: %s is %.15g, want %.15g (%s) within %g", c, name, got, w.Base, want, tol)
	}
}

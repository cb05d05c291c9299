package evaluate

import (
	"fmt"
	"shimsheet/internal/job"
	"testing"
)

// What waits after a change is told to the caller as one run of rows, and no result from before the change is handed out again.
func TestMarked(t *testing.T) {
	rows := func(n int) [][]string {
		out := make([][]string, n)
		for i := range out {
			out[i] = []string{fmt.Sprintf("P-%d", i), "1480"}
		}
		return out
	}
	j := job.NewJob()
	j.Machines = &job.Table{Name: "Machines", Header: []string{"Machine", "Speed"}, Rows: rows(3*blockRows + 5), FirstRow: 2}
	e := NewEvaluator(j)
	want := func(from, to int) {
		t.Helper()
		if a, b := e.Marked(); a != from || b != to {
			t.Errorf("rows %d to %d are marked, not %d to %d", a, b, from, to)
		}
	}
	n := e.Len()
	want(0, n)
	want(0, 0)
	for i := range n {
		e.Row(i)
	}
	want(0, 0)

	j.Machines.Rows[40] = []string{"P-40", "fast"}
	e.RowsChanged(40, 41)
	j.Machines.Rows[7] = []string{"P-90", "1480"}
	e.RowsChanged(7, 8)
	want(7, 91) // row 90 bears the name again now
	if len(e.Row(40).Problems) == 0 || len(e.Row(90).Problems) == 0 || e.Row(7).Name != "P-90" {
		t.Error("a change does not show")
	}
	e.Refresh()
	want(0, n)

	// rows that went and came again begin anew
	j.Machines.Rows = rows(n)[:10]
	e.RowsChanged(10, 10)
	e.Marked()
	if e.Row(10) != nil {
		t.Error("a row past the end")
	}
	j.Machines.Rows = rows(n)
	e.RowsChanged(10, n)
	want(10, n)
	r := e.Row(40)
	if r.Name != "P-40" || r.Row != 42 {
		t.Errorf("row 40 is %q of row %d", r.Name, r.Row)
	}
	for _, p := range r.Problems {
		if p.Column == "Speed" {
			t.Error("a problem of before:", p)
		}
	}
}

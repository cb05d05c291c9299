package results

import (
	"context"
	"fmt"
	"io"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// manyRows is a list of n rows read by reverse indicator, no two alike in their readings. Made up.
func manyRows(n int) *job.Job {
	j := job.NewJob()
	t := &job.Table{Header: []string{"Machine", "Method", "Speed", "Coupling to stationary plane", "Coupling to movable plane", "Coupling to front feet", "Front to rear feet", "Movable rim 12", "Movable rim 3", "Movable rim 6",
		"Movable rim 9", "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9", "Movable sag", "Stationary sag"}, FirstRow: 2}
	x := uint32(1)
	reading := func(most int) float64 {
		x = x*1664525 + 1013904223
		return float64(int(x>>16)%(2*most+1)-most) / 100
	}
	for i := range n {
		v, h, a, b := reading(15), reading(15), reading(15), reading(15)
		row := []string{fmt.Sprintf("P-%d", i), "reverse indicator", "1480", "110", "110", "420", "610", "0"}
		for _, r := range []float64{v + h, 2 * v, v - h} {
			row = append(row, fmt.Sprintf("%.2f", r))
		}
		row = append(row, "0")
		for _, r := range []float64{a + b, 2 * a, a - b} {
			row = append(row, fmt.Sprintf("%.2f", r))
		}
		t.Rows = append(t.Rows, append(row, "-0.05", "-0.05"))
	}
	j.Machines = t
	return j
}

// BenchmarkJSON10k writes the results of 10,000 rows that were worked out.
func BenchmarkJSON10k(b *testing.B) {
	e := sentences.New(manyRows(10_000))
	if err := e.Run(context.Background(), nil); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := WriteJSON(io.Discard, e); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkRun10k works 10,000 rows out, the evaluator used again.
func BenchmarkRun10k(b *testing.B) {
	e := sentences.New(manyRows(10_000))
	for b.Loop() {
		e.Refresh()
		if err := e.Run(context.Background(), nil); err != nil {
			b.Fatal(err)
		}
	}
}

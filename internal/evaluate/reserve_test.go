package evaluate

import (
	"context"
	"fmt"
	"reflect"
	"shimsheet/internal/job"
	"testing"
)

// A table taken piece by piece must come to what it comes to at once: results, problems, names borne twice.
func TestRowsThatComePieceByPiece(t *testing.T) {
	head := []string{"Machine", "Speed [rpm]", "Coupling to front feet [mm]", "Front to rear feet [mm]", "Offset V", "Slope V"}
	var rows [][]string
	for i := range 300 {
		rows = append(rows, []string{fmt.Sprintf("P-%d", i%211), "1480", "200", "400", fmt.Sprintf("0.%02d", i%60), "x"[:i%7/6]})
	}
	job := func(rows [][]string) *job.Job {
		j := job.NewJob()
		j.Machines = &job.Table{Name: "Machines", Header: head, Rows: rows, FirstRow: 2}
		return j
	}
	whole := NewEvaluator(job(rows))
	for _, reserve := range []int{0, 150, 300, 1000} {
		e := NewEvaluator(job(nil))
		e.Reserve(reserve)
		for from := 0; from < len(rows); from += 37 {
			e.Job().Machines.Rows = rows[:min(from+37, len(rows))]
			e.RowsChanged(from, e.Len())
		}
		for range 2 { // the second time with the last row, which bears a name again, taken away and put back
			for _, x := range []*Evaluator{whole, e} {
				if err := x.Run(context.Background(), nil); err != nil {
					t.Fatal(err)
				}
			}
			if !reflect.DeepEqual(e.dups, whole.dups) || !reflect.DeepEqual(e.first, whole.first) {
				t.Errorf("reserve %d: names differ", reserve)
			}
			for i := range rows {
				a, b := whole.Row(i), e.Row(i)
				if fmt.Sprint(a.Problems, a.Why, a.Offset, a.Front, a.Calc.Feet, a.Sweeps) != fmt.Sprint(b.Problems, b.Why, b.Offset, b.Front, b.Calc.Feet, b.Sweeps) {
					t.Fatalf("reserve %d, row %d: %v and %v", reserve, i, a, b)
				}
			}
			e.Job().Machines.Rows = rows[:len(rows)-100]
			e.RowsChanged(e.Len(), e.Len())
			if _, ok := e.first["p-205"]; ok || len(e.first) != 200 {
				t.Errorf("%d names of 200 rows", len(e.first))
			}
			e.Job().Machines.Rows = rows
			e.RowsChanged(len(rows)-100, len(rows))
		}
	}
}

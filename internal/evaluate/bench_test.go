package evaluate

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// bigList is a CSV list of n couplings read by reverse indicator, 22 columns, invented: a line drawn at random, its readings rounded to
// the division of the dial.
func bigList(n int) []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b strings.Builder
	b.WriteString("Machine,Method,Speed [rpm],Side at 3,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Further feet," +
		"Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9," +
		"Movable sag at 6,Stationary sag at 6,Growth movable front V,Growth movable rear V,Note\n")
	round := func(x float64) float64 { return math.Round(x*100) / 100 }
	for i := range n {
		dv, dh := rng.NormFloat64()*0.2, rng.NormFloat64()*0.2
		tv, th := rng.NormFloat64()*0.5, rng.NormFloat64()*0.5
		at := func(x float64) (float64, float64) { return dv + tv*x/1000, dh + th*x/1000 }
		mv, mh := at(110)
		sv, sh := at(-110)
		fmt.Fprintf(&b, "P-%d,reverse indicator,1480,river side,110,110,420,610,,0,%.2f,%.2f,%.2f,0,%.2f,%.2f,%.2f,-0.04,-0.05,0.10,0.12,\n", i,
			round(mh-mv-0.02), round(-2*mv-0.04), round(-mh-mv-0.02), round(-sh+sv-0.025), round(2*sv-0.05), round(sh+sv-0.025))
	}
	return []byte(b.String())
}

// BenchmarkParse10k reads 10,000 rows from bytes to cells with their meaning.
func BenchmarkParse10k(b *testing.B) {
	const n = 10_000
	data := bigList(n)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	before := allocated()
	for b.Loop() {
		t, _, err := job.ReadDelimited("Machines", data, 0)
		if err != nil || !t.SplitHeader(job.MachinesSheet) || len(t.Rows) != n {
			b.Fatal("not read", err)
		}
		e := &Evaluator{job: &job.Job{Machines: t}}
		e.readSettings()
		e.bindHeader()
		var r RowResult
		for i := range t.Rows {
			if !e.readRow(i, &r) || len(r.Problems) > 0 {
				b.Fatal("row", i, r.Problems)
			}
		}
	}
	perRow(b, n, before)
}

// BenchmarkEvaluate10k works 10,000 rows out, the cells read but not the file. The evaluator is used again, as on the page.
func BenchmarkEvaluate10k(b *testing.B) {
	const n = 10_000
	t, _, _ := job.ReadDelimited("Machines", bigList(n), 0)
	t.SplitHeader(job.MachinesSheet)
	e := NewEvaluator(&job.Job{Machines: t})
	b.ReportAllocs()
	before := allocated()
	for b.Loop() {
		e.RowsChanged(0, n)
		if err := e.Run(context.Background(), nil); err != nil {
			b.Fatal(err)
		}
	}
	perRow(b, n, before)
	if m, v := e.Count(); m != n || v[0] > 0 {
		b.Fatal(m, v, e.Row(0).Why)
	}
}

// BenchmarkFirst10k is the first time: a new evaluator and every row.
func BenchmarkFirst10k(b *testing.B) {
	const n = 10_000
	t, _, _ := job.ReadDelimited("Machines", bigList(n), 0)
	t.SplitHeader(job.MachinesSheet)
	b.ReportAllocs()
	before := allocated()
	for b.Loop() {
		e := NewEvaluator(&job.Job{Machines: t})
		if err := e.Run(context.Background(), nil); err != nil {
			b.Fatal(err)
		}
	}
	perRow(b, n, before)
}

// allocated is the number of bytes allocated so far.
func allocated() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.TotalAlloc
}

func perRow(b *testing.B, n int, before uint64) {
	rows := float64(n) * float64(b.N)
	b.ReportMetric(rows/b.Elapsed().Seconds(), "rows/s")
	b.ReportMetric(float64(allocated()-before)/rows, "B/row")
}

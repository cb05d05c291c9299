package streams

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"shimsheet/internal/job"
)

// rows is n couplings read by reverse indicator, 20 keys each, invented: a line drawn at random, its readings rounded to the division of the dial.
func rows(n int) []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	round := func(x float64) float64 { return math.Round(x*100) / 100 }
	for i := range n {
		dv, dh := rng.NormFloat64()*0.2, rng.NormFloat64()*0.2
		tv, th := rng.NormFloat64()*0.5, rng.NormFloat64()*0.5
		at := func(x float64) (float64, float64) { return dv + tv*x/1000, dh + th*x/1000 }
		mv, mh := at(110)
		sv, sh := at(-110)
		fmt.Fprintf(&b, `{"Machine":"P-%d","Method":"reverse indicator","Speed [rpm]":1480,"Side at 3":"river side","Coupling to stationary plane":110,`+
			`"Coupling to movable plane":110,"Coupling to front feet":420,"Front to rear feet":610,"Movable rim 12":0,"Movable rim 3":%v,"Movable rim 6":%v,`+
			`"Movable rim 9":%v,"Stationary rim 12":0,"Stationary rim 3":%v,"Stationary rim 6":%v,"Stationary rim 9":%v,"Movable sag at 6":-0.04,`+
			`"Stationary sag at 6":-0.05,"Growth movable front V":0.1,"Growth movable rear V":0.12}`+"\n", i,
			round(mh-mv-0.02), round(-2*mv-0.04), round(-mh-mv-0.02), round(-sh+sv-0.025), round(2*sv-0.05), round(sh+sv-0.025))
	}
	return b.Bytes()
}

// BenchmarkRun works rows out from bytes to bytes, on one core and on all.
func BenchmarkRun(b *testing.B) {
	const n = 20_000
	data := rows(n)
	for _, workers := range []int{1, runtime.NumCPU()} {
		b.Run(fmt.Sprintf("workers=%d", workers), func(b *testing.B) {
			b.ReportAllocs()
			job := job.NewJob()
			for b.Loop() {
				if r, err := Run(context.Background(), bytes.NewReader(data), io.Discard, job, workers); err != nil || r.Machines != n || !r.Whole() {
					b.Fatal(r, err)
				}
			}
			b.ReportMetric(n*float64(b.N)/b.Elapsed().Seconds(), "rows/s")
		})
	}
}

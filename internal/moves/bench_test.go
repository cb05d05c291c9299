package moves

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// five makes trains of five machines that all may move, with room enough.
func five(n int) []*simulated {
	r := rand.New(rand.NewPCG(5, 5))
	var list []*simulated
	for len(list) < n {
		if s := random(r, 5, false); len(s.Machines) == 5 {
			list = append(list, s)
		}
	}
	return list
}

func benchmark(b *testing.B, n int, share float64) {
	list := five(n)
	for b.Loop() {
		for _, s := range list {
			Solve(&s.Train, share)
		}
	}
}

func BenchmarkFive(b *testing.B) { benchmark(b, 1, none) }

// BenchmarkFiveShare tells the median and the most of forty trains, of a clock that others share: the least of what each took.
func BenchmarkFiveShare(b *testing.B) {
	list := five(40)
	took := make([]float64, len(list))
	for i := range took {
		took[i] = math.Inf(1)
	}
	for b.Loop() {
		for i, s := range list {
			start := time.Now()
			Solve(&s.Train, 0.6)
			took[i] = min(took[i], time.Since(start).Seconds()*1e3)
		}
	}
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "ms/median")
	b.ReportMetric(took[len(took)-1], "ms/most")
}

func BenchmarkFiveHundred(b *testing.B) { benchmark(b, 500, none) }

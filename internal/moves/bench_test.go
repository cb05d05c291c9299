package moves

import (
	"math/rand/v2"
	"testing"
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

func BenchmarkFive(b *testing.B)        { benchmark(b, 1, none) }
func BenchmarkFiveShare(b *testing.B)   { benchmark(b, 1, 0.6) }
func BenchmarkFiveHundred(b *testing.B) { benchmark(b, 500, none) }

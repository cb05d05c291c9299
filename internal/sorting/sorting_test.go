package sorting

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestBy: lists with many ties come out as the library's stable sort leaves them.
func TestBy(t *testing.T) {
	type thing struct{ by, came int }
	rng := rand.New(rand.NewPCG(5, 9))
	for n := range 300 {
		got := make([]thing, n)
		for i := range got {
			got[i] = thing{rng.IntN(1 + n/4), i}
		}
		want := slices.Clone(got)
		slices.SortStableFunc(want, func(a, b thing) int { return cmp.Compare(a.by, b.by) })
		By(got, func(a, b *thing) int { return cmp.Compare(a.by, b.by) })
		if !slices.Equal(got, want) {
			t.Fatalf("%d things: %v, want %v", n, got, want)
		}
	}
}

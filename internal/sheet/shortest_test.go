package sheet

import (
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// TestShortest holds the writing of numbers to the standard library's, byte for byte: numbers of any bits in the range that has a way of its own and around its ends, the two beside
// each power of two and of ten, and decimals as people type them, with a step up or down. SHIMSHEET_LONG tries fifty times as many.
//
// evidence: calc=numbers written to their last bit grade=independent count=1 source=Go's standard library, strconv
func TestShortest(t *testing.T) {
	n := 50_000
	if os.Getenv("SHIMSHEET_LONG") != "" {
		n *= 50
	}
	rng := rand.New(rand.NewPCG(3, 4))
	check := func(x float64) {
		for _, v := range [...]float64{x, -x, math.Nextafter(x, 0), math.Nextafter(x, math.Inf(1))} {
			if got, want := string(appendShortest(nil, v)), strconv.FormatFloat(v, 'g', -1, 64); got != want {
				t.Fatalf("%b: %s, want %s", v, got, want)
			}
		}
	}
	for e := -60; e <= 60; e++ {
		check(math.Ldexp(1, e))
		check(math.Ldexp(3, e))
	}
	for e := -12; e <= 12; e++ {
		check(math.Pow10(e))
	}
	low, high := math.Float64bits(1e-5), math.Float64bits(1e7)
	for range n {
		check(math.Float64frombits(low + rng.Uint64N(high-low)))
		check(float64(rng.IntN(1e7)) / math.Pow10(rng.IntN(8)))
		check(rng.NormFloat64())
	}
}

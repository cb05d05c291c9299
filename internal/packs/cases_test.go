package packs

import (
	"math/rand/v2"
	"os"
	"runtime"
	"testing"
)

// cases is how many of n random cases a run makes: a tenth with -short and as WebAssembly.
func cases(n int) int {
	if testing.Short() || runtime.GOARCH == "wasm" {
		return n / 10
	}
	return n
}

// longCases is cases for tests that take seconds for what they find in the first of them: a quarter of n, and all of it with SHIMSHEET_LONG set. The evidence beside
// such a test counts the ordinary run.
func longCases(n int) int {
	if os.Getenv("SHIMSHEET_LONG") == "" {
		return min(n/4, cases(n))
	}
	return cases(n)
}

// uniform is a random number between a and b.
func uniform(rng *rand.Rand, a, b float64) float64 { return a + (b-a)*rng.Float64() }

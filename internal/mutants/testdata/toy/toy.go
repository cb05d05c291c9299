// Package toy is what the tests of mutants plant faults in.
package toy

import "math"

type point struct{ V, H float64 }

// height is tested to the last mutant.
func height(p point) float64 { return p.V }

// inside is tested away from its edge only, so its boundary lives.
func inside(x, limit float64) bool { return x < limit }

// both is called by its test, which looks at nothing.
func both(a, b bool) bool {
	return a &&
		b
}

// count has everything a switch can stand in.
func count(list []int, skip func(int) bool) (n int) {
	for i := 0; i < len(list); i++ {
		if skip != nil && skip(list[i]) {
			continue
		}
		n += list[i]*2*1 - -1
	}
	return n
}

// unseen is reached by no test.
func unseen(x float64) float64 { return -x * math.Cos(x) }

// Inside is what the package above asks, at the edge.
func Inside(x, limit float64) bool { return inside(x, limit) }

// Doubled is reached by the tests of the package above only.
func Doubled(x float64) float64 {
	if x > 1e6 {
		return 0
	}
	return x * 2
}

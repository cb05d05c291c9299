package packs

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// plantJob draws the stock of a shutdown: 10 to 30 machines of four feet, in places six, with the corrections of coupled machines, eight to twelve thicknesses of which
// too few pieces are there, a laminated one in places, two sizes, pieces in place under half of the machines, own tolerances and numbers of pieces in places. Everything
// is in whole micrometres, so that a solver's sums are exact, too.
func plantJob(rng *rand.Rand) stockJob {
	um := func(v int) float64 { return float64(v) / 1000 }
	from := []int{25, 50, 75, 100, 150, 200, 250, 300, 400, 500, 700, 1000, 2000}
	var s stockJob
	s.opt = StockOptions{Tolerance: um([]int{12, 25, 25, 50}[rng.IntN(4)]), MaxPieces: 3 + rng.IntN(3), ReturnRemoved: rng.IntN(4) == 0}
	machines := 10 + rng.IntN(21)
	sizes := []string{""}
	if rng.IntN(3) == 0 {
		sizes = []string{"A", "B"}
	}
	kinds := rng.Perm(len(from))[:8+rng.IntN(5)]
	slices.Sort(kinds)
	share := 0.25 + 0.6*rng.Float64()
	for n, i := range kinds {
		for _, size := range sizes {
			it := StockItem{MM: um(from[i]), Size: size, Count: int(share * float64(machines) * 12 / float64(len(kinds)*len(sizes)) * (0.5 + rng.Float64()))}
			switch {
			case rng.IntN(12) == 0:
				it.Count = 0
			case rng.IntN(16) == 0:
				it.Count = -1
			case n > 4 && rng.IntN(12) == 0:
				it.MM, it.Lamination = um(50*(2+rng.IntN(15))), um(50)
			}
			s.stock = append(s.stock, it)
		}
	}
	if len(sizes) > 1 {
		s.stock = append(s.stock, StockItem{MM: um(50), Count: machines})
	}
	for m := range machines {
		size := sizes[rng.IntN(len(sizes))]
		pairs := 2
		if rng.IntN(10) == 0 {
			pairs = 3
		}
		pieces, tol := 0, 0.0
		if rng.IntN(8) == 0 {
			pieces = 2 + rng.IntN(4)
		}
		if rng.IntN(8) == 0 {
			tol = um(10 + rng.IntN(40))
		}
		listed := rng.IntN(2) == 0
		priority := m % 4 // 0: none
		base, slope := 900*rng.NormFloat64(), 700*rng.NormFloat64()
		for p := range pairs {
			want := int(base + slope*float64(p))
			for side := range 2 {
				f := StockFoot{ID: fmt.Sprint("machine ", m, " foot ", 2*p+side), Machine: m + 1, Priority: priority, Change: um(want), Size: size, MaxPieces: pieces, Tolerance: tol}
				if rng.IntN(5) == 0 {
					f.Change = um(want + rng.IntN(150)) // a soft foot
				}
				if listed {
					f.InPlace = []float64{}
					for range rng.IntN(4) {
						f.InPlace = append(f.InPlace, um(append(from, 30, 120)[rng.IntN(len(from)+2)]))
					}
				} else if f.Change < 0 && rng.IntN(3) > 0 {
					f.Change = -f.Change
				}
				s.feet = append(s.feet, f)
			}
		}
	}
	return s
}

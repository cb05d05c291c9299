package calc

import (
	"cmp"
	"fmt"
	"math"
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

// A packWay is one way to meet a foot: what it draws from each item, net of what it gives back, its error (µm) and its pieces.
type packWay struct {
	draw        []int
	err, pieces int
}

// waysOf lists, by brute force, every way to meet each foot of a job in whole micrometres, of those with the same draws the one that the objective prefers; nil for a foot
// that asks for nothing from the box. left is what the box holds, items that only returned pieces make included; uncounted: −1.
func waysOf(s *stockJob) (ways [][]packWay, left []int) {
	um := func(mm float64) int { return int(math.Round(mm * 1000)) }
	stock := slices.Clone(s.stock)
	backs := make([][]int, len(s.feet))
	for i, f := range s.feet {
		if !s.opt.ReturnRemoved {
			break
		}
		place := slices.Clone(f.InPlace)
		slices.Sort(place)
		slices.Reverse(place)
		for _, mm := range place {
			at := -1
			for k, it := range stock {
				if it.Lamination == 0 && um(it.MM) == um(mm) && (it.Size == "" || it.Size == f.Size) && (at < 0 || it.Size == f.Size && stock[at].Size != f.Size) {
					at = k
				}
			}
			if at < 0 {
				at = len(stock)
				stock = append(stock, StockItem{MM: mm, Size: f.Size})
			}
			backs[i] = append(backs[i], at)
		}
	}
	for _, it := range stock {
		left = append(left, it.Count)
	}
	ways = make([][]packWay, len(s.feet))
	for i, f := range s.feet {
		if f.InPlace == nil && f.Change < 0 {
			continue
		}
		tolMM, most := s.settings(&f)
		tol, want := um(tolMM), um(f.Change)
		place := slices.Clone(f.InPlace)
		slices.Sort(place)
		slices.Reverse(place)
		for _, mm := range place {
			want += um(mm)
		}
		seen := map[string]packWay{}
		draw := make([]int, len(stock))
		enter := func(sum, pieces int) {
			if e := max(sum-want, want-sum); e <= tol {
				key := fmt.Sprint(draw)
				if o, ok := seen[key]; !ok || cmp.Or(cmp.Compare(e, o.err), cmp.Compare(pieces, o.pieces)) < 0 {
					seen[key] = packWay{slices.Clone(draw), e, pieces}
				}
			}
		}
		var fresh func(item, sum, pieces int)
		fresh = func(item, sum, pieces int) {
			if sum > want+tol {
				return
			}
			if item == len(stock) {
				enter(sum, pieces)
				return
			}
			it := &stock[item]
			fresh(item+1, sum, pieces)
			if it.Size != "" && it.Size != f.Size {
				return
			}
			for n := 1; n+pieces <= most; n++ {
				draw[item] += n
				if it.Lamination == 0 {
					fresh(item+1, sum+n*um(it.MM), pieces+n)
				} else {
					for layers := n; layers <= n*(um(it.MM)/um(it.Lamination)); layers++ {
						fresh(item+1, sum+layers*um(it.Lamination), pieces+n)
					}
				}
				draw[item] -= n
			}
		}
		for keep := range 1 << len(place) {
			sum, pieces := 0, 0
			for k, mm := range place {
				if keep>>k&1 == 1 {
					sum += um(mm)
					pieces++
				} else if backs[i] != nil {
					draw[backs[i][k]]--
				}
			}
			if pieces <= most {
				fresh(0, sum, pieces)
			}
			clear(draw)
		}
		for _, w := range seen {
			ways[i] = append(ways[i], w)
		}
		slices.SortFunc(ways[i], func(a, b packWay) int {
			return cmp.Or(cmp.Compare(a.err, b.err), cmp.Compare(a.pieces, b.pieces), slices.Compare(a.draw, b.draw))
		})
	}
	return ways, left
}

//go:build !js

package packs

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

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

package packs

import (
	"cmp"
	"shimsheet/internal/sorting"

	"math/bits"
	"slices"
)

// carry chooses the fewest items with which every foot can be met.
func (j *job) carry() {
	type way struct {
		items  uint64
		pieces uint8
	}
	ways := make([][]way, len(j.feet))
	all := uint64(0)
	var order []int
	for i := range j.feet {
		f := &j.feet[i]
		if len(f.cands) == 0 {
			continue
		}
		order = append(order, i)
		var list []way
		for k := range f.cands {
			list = append(list, way{j.itemsOf(f, &f.cands[k]), f.cands[k].pieces})
		}
		sorting.By(list, func(a, b *way) int {
			return cmp.Or(cmp.Compare(a.pieces, b.pieces), cmp.Compare(bits.OnesCount64(a.items), bits.OnesCount64(b.items)), cmp.Compare(a.items, b.items))
		})
	next:
		for _, w := range list {
			for _, b := range ways[i] {
				if b.items&^w.items == 0 {
					continue next
				}
			}
			ways[i] = append(ways[i], w)
			all |= w.items
		}
	}
	// Feet that failed last are asked first.
	meets := func(set uint64) bool {
		for k, i := range order {
			if !slices.ContainsFunc(ways[i], func(w way) bool { return w.items&^set == 0 }) {
				copy(order[1:k+1], order[:k])
				order[0] = i
				return false
			}
		}
		return true
	}
	pieces := func(set uint64) (n int) {
		for _, i := range order {
			for _, w := range ways[i] { // fewest pieces first
				if w.items&^set == 0 {
					n += int(w.pieces)
					break
				}
			}
		}
		return n
	}
	errOf := func(set uint64) (e int64) {
		for _, i := range order {
			f := &j.feet[i]
			if k := j.within(f, set); k >= 0 {
				e += f.cands[k].err
			}
		}
		return e
	}
	best := all
	p := j.plan
	p.CarryBound = 0
	for _, i := range order {
		least := 64
		for _, w := range ways[i] {
			least = min(least, bits.OnesCount64(w.items))
		}
		p.CarryBound = max(p.CarryBound, least)
	}
	if n := bits.OnesCount64(all); n <= exactItems {
		var list []uint64
		for b := all; b != 0; b &= b - 1 {
			list = append(list, b&-b)
		}
		asked, found := 0, false
		bestPieces, bestErr := 0, int64(0)
		for size := p.CarryBound; size <= n && !found; size++ {
			var pick func(from, more int, set uint64)
			pick = func(from, more int, set uint64) {
				if more == 0 {
					if asked++; asked%512 == 0 && !j.tell(len(j.feet)) || !meets(set) {
						return
					}
					k := pieces(set)
					if found && k > bestPieces {
						return
					}
					if e := errOf(set); !found || k < bestPieces || e < bestErr {
						best, bestPieces, bestErr, found = set, k, e, true
					}
					return
				}
				for i := from; i+more <= len(list) && !p.Cancelled; i++ {
					pick(i+1, more-1, set|list[i])
				}
			}
			pick(0, size, 0)
		}
		if !p.Cancelled {
			p.CarryBound, p.Proved = bits.OnesCount64(best), true
		}
	} else {
		// One item after the other is left at home, each time the one that costs the fewest pieces.
		for !p.Cancelled {
			drop, least := uint64(0), 0
			for b := best; b != 0 && j.tell(len(j.feet)); b &= b - 1 {
				if set := best &^ (b & -b); meets(set) {
					if k := pieces(set); drop == 0 || k < least {
						drop, least = b&-b, k
					}
				}
			}
			if drop == 0 {
				break
			}
			best &^= drop
		}
	}
	for i := range j.feet {
		if f := &j.feet[i]; len(f.cands) > 0 {
			f.pick = j.within(f, best)
			p.BoundFeet++
			p.ErrorBound += float64(f.cands[f.pick].err) / 1e9
		}
	}
	if !p.Proved {
		p.ErrorBound = 0
	}
	for b := best; b != 0; b &= b - 1 {
		p.Carry = append(p.Carry, bits.TrailingZeros64(b))
	}
}

// itemsOf is the stock items of a candidate, a bit each.
func (j *job) itemsOf(f *jobFoot, c *cand) (set uint64) {
	m := f.class.packs[c.pack]
	for r := range int(c.fresh) {
		set |= 1 << f.class.kinds[m.kind(r)].item
	}
	return set
}

// within is the best candidate by the rule that needs no item beyond the set, or −1.
func (j *job) within(f *jobFoot, set uint64) int {
	best := -1
	for k := range f.cands {
		if c := &f.cands[k]; j.itemsOf(f, c)&^set == 0 && (best < 0 || byRule(c, &f.cands[best]) < 0) {
			best = k
		}
	}
	return best
}

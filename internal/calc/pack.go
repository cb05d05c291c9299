package calc

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"shimsheet/internal/tables"
)

// A Pack is the set of pieces under one foot, thick ones outside and thin ones between. Pieces belongs to the Packer: read only.
type Pack struct {
	Pieces []float64 // mm
	Sum    float64   // mm
	Error  float64   // mm: Sum minus the thickness asked for
	OK     bool      // within the tolerance; otherwise the nearest that the stock and the number of pieces allow
}

// A Packer makes packs from one stock. It holds every sum that the stock can make, by number of pieces, so that a pack is a look-up.
// It is safe for use by several goroutines.
type Packer struct {
	tol    float64
	levels []level // by number of pieces
}

// level is every sum of exactly k pieces, thinnest first.
type level struct {
	sum    []float64
	pieces [][]float64
	first  []int32 // first[b]: index of the first sum ≥ b·bucket
}

const bucket = 0.01 // mm

// maxCombos bounds the work of NewPacker.
const maxCombos = 400_000

// NewPacker prepares every pack of at most maxPieces pieces from the stock. Thicknesses are in mm and held to the nanometre; a
// negative count means that pieces are not counted, a count of zero that the thickness is out. tolerance is in mm.
// It returns an error for an empty stock, a thickness that is not positive, fewer than one or more than eight pieces, a
// tolerance that is not positive, and when the stock and the number of pieces together allow too many packs to hold.
func NewPacker(stock []tables.Thickness, maxPieces int, tolerance float64) (*Packer, error) {
	if maxPieces < 1 || maxPieces > 8 {
		return nil, fmt.Errorf("pieces in a pack: %d is not between 1 and 8", maxPieces)
	}
	if !(tolerance > 0) || math.IsInf(tolerance, 0) {
		return nil, fmt.Errorf("pack tolerance: %g mm is not more than zero", tolerance)
	}
	type kind struct {
		nm    int64
		count int
	}
	var kinds []kind
	for _, s := range stock {
		nm := int64(math.Round(s.MM * 1e6))
		if !(s.MM > 0) || nm <= 0 || s.MM > 1e4 {
			return nil, fmt.Errorf("shim thickness: %g mm is not possible", s.MM)
		}
		n := s.Count
		if n < 0 || n > maxPieces {
			n = maxPieces
		}
		if n == 0 {
			continue
		}
		if i := slices.IndexFunc(kinds, func(k kind) bool { return k.nm == nm }); i >= 0 {
			kinds[i].count = min(maxPieces, kinds[i].count+n)
			continue
		}
		kinds = append(kinds, kind{nm, n})
	}
	if len(kinds) == 0 {
		return nil, fmt.Errorf("the stock is empty")
	}
	slices.SortFunc(kinds, func(a, b kind) int { return cmp.Compare(b.nm, a.nm) }) // thickest first

	// made[k] maps a sum of k pieces to its pieces, thickest first. Among packs of the same sum and number the one whose
	// thinnest piece is thickest stays: thin pieces are springy and tear.
	made := make([]map[int64][]int64, maxPieces+1)
	for k := range made {
		made[k] = map[int64][]int64{}
	}
	made[0][0] = nil
	total := 1
	for _, kd := range kinds {
		for k := maxPieces - 1; k >= 0; k-- { // downwards: a level is read before this kind reaches it
			for sum, pcs := range made[k] {
				for j := 1; j <= kd.count && k+j <= maxPieces; j++ {
					s := sum + int64(j)*kd.nm
					next := append(slices.Clone(pcs), slices.Repeat([]int64{kd.nm}, j)...)
					old, had := made[k+j][s]
					if had && !better(next, old) {
						continue
					}
					if !had {
						if total++; total > maxCombos {
							return nil, fmt.Errorf("%d thicknesses in packs of %d pieces make more than %d packs; allow fewer pieces or list fewer thicknesses", len(kinds), maxPieces, maxCombos)
						}
					}
					made[k+j][s] = next
				}
			}
		}
	}
	p := &Packer{tol: tolerance, levels: make([]level, 0, maxPieces+1)}
	for k := range made {
		if len(made[k]) == 0 {
			break
		}
		sums := make([]int64, 0, len(made[k]))
		for s := range made[k] {
			sums = append(sums, s)
		}
		slices.Sort(sums)
		lv := level{sum: make([]float64, len(sums)), pieces: make([][]float64, len(sums))}
		for i, s := range sums {
			lv.sum[i] = float64(s) / 1e6
			lv.pieces[i] = sandwich(made[k][s])
		}
		nb := min(int(lv.sum[len(sums)-1]/bucket)+2, 1<<16)
		lv.first = make([]int32, nb)
		i := 0
		for b := range lv.first {
			for i < len(sums) && lv.sum[i] < float64(b)*bucket {
				i++
			}
			lv.first[b] = int32(i)
		}
		p.levels = append(p.levels, lv)
	}
	return p, nil
}

// better says whether pack a, thickest first, has thicker thin pieces than b of the same sum and number.
func better(a, b []int64) bool {
	for i := len(a) - 1; i >= 0; i-- {
		if a[i] != b[i] {
			return a[i] > b[i]
		}
	}
	return false
}

// sandwich lays the pieces, thickest first, as they go under the foot: the two thickest outside, and between them thin and thick in turn.
func sandwich(nm []int64) []float64 {
	out := make([]float64, 0, len(nm))
	mm := func(v int64) float64 { return float64(v) / 1e6 }
	if len(nm) == 0 {
		return out
	}
	out = append(out, mm(nm[0]))
	if len(nm) > 1 {
		thick, thin := 2, len(nm)-1
		for takeThin := true; thick <= thin; takeThin = !takeThin {
			if takeThin {
				out = append(out, mm(nm[thin]))
				thin--
			} else {
				out = append(out, mm(nm[thick]))
				thick++
			}
		}
		out = append(out, mm(nm[1]))
	}
	return out
}

// near returns the index of the sum nearest to t, the thinner of two equally near.
func (l *level) near(t float64) int {
	i := len(l.sum)
	if b := int(t / bucket); b >= 0 && b < len(l.first) {
		i = int(l.first[b])
	} else if t < 0 {
		i = 0
	} else if b >= len(l.first) && len(l.first) == 1<<16 {
		i = int(l.first[len(l.first)-1])
	}
	for i < len(l.sum) && l.sum[i] < t {
		i++
	}
	if i == len(l.sum) {
		return i - 1
	}
	if i > 0 && !thicker(l.sum[i]-t, t-l.sum[i-1], t) {
		return i - 1
	}
	return i
}

// thicker says whether the error a is truly less than b for a thickness t: a tie within 1e-9 is no.
func thicker(a, b, t float64) bool { return a < b-tieRel*max(math.Abs(t), 1e-3) }

// Pack returns the pack for a thickness ≥ 0 in mm: the fewest pieces within the tolerance, then the least error, then the thinner.
// When no pack of the stock is within the tolerance it is the one with the least error, then the fewest pieces, then the thinner, and
// OK is false. A thickness that is negative or NaN gives the zero Pack.
func (p *Packer) Pack(thickness float64) Pack {
	if !(thickness >= 0) || math.IsInf(thickness, 1) {
		return Pack{}
	}
	bestK, bestI, best := -1, -1, math.Inf(1)
	for k := range p.levels {
		lv := &p.levels[k]
		i := lv.near(thickness)
		e := math.Abs(lv.sum[i] - thickness)
		if e <= p.tol+tieRel*max(thickness, 1e-3) {
			return Pack{lv.pieces[i], lv.sum[i], lv.sum[i] - thickness, true}
		}
		if bestK < 0 || thicker(e, best, thickness) {
			bestK, bestI, best = k, i, e
		}
	}
	lv := &p.levels[bestK]
	return Pack{lv.pieces[bestI], lv.sum[bestI], lv.sum[bestI] - thickness, false}
}

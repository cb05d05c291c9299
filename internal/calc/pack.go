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
const maxCombos = 1_500_000

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

	if len(kinds) > 255 {
		return nil, fmt.Errorf("%d thicknesses are more than a stock may have here", len(kinds))
	}
	// Every pack by number of pieces. code holds the kinds of its pieces, a byte each, the thinnest in the highest: among packs of the same sum
	// the least code is the one whose thinnest piece is thickest. That one stays: thin pieces are springy and tear.
	type made struct {
		sum  int64
		code uint64
	}
	packs := make([][]made, maxPieces+1)
	total, tooMany := 0, false
	var add func(from, k int, m made)
	add = func(from, k int, m made) {
		if total++; total > maxCombos {
			tooMany = true
		}
		packs[k] = append(packs[k], m)
		for i := from; i < len(kinds) && !tooMany; i++ {
			next := m
			for j := 1; j <= kinds[i].count && k+j <= maxPieces; j++ {
				next.sum += kinds[i].nm
				next.code |= uint64(i) << (8 * (k + j - 1))
				add(i+1, k+j, next)
			}
		}
	}
	add(0, 0, made{})
	if tooMany {
		return nil, fmt.Errorf("%d thicknesses in packs of %d pieces make more than %d packs; allow fewer pieces or list fewer thicknesses", len(kinds), maxPieces, maxCombos)
	}
	p := &Packer{tol: tolerance, levels: make([]level, 0, maxPieces+1)}
	pieces := make([]int64, 0, maxPieces)
	for k, all := range packs {
		if len(all) == 0 {
			break
		}
		slices.SortFunc(all, func(a, b made) int { return cmp.Or(cmp.Compare(a.sum, b.sum), cmp.Compare(a.code, b.code)) })
		all = slices.CompactFunc(all, func(a, b made) bool { return a.sum == b.sum }) // keeps the first
		lv := level{sum: make([]float64, len(all)), pieces: make([][]float64, len(all))}
		backing := make([]float64, 0, k*len(all))
		for i, m := range all {
			pieces = pieces[:0]
			for j := range k {
				pieces = append(pieces, kinds[m.code>>(8*j)&255].nm)
			}
			lv.sum[i] = float64(m.sum) / 1e6
			n := len(backing)
			backing = sandwich(backing, pieces)
			lv.pieces[i] = backing[n:len(backing):len(backing)]
		}
		nb := min(int(lv.sum[len(all)-1]/bucket)+2, 1<<16)
		lv.first = make([]int32, nb)
		i := 0
		for b := range lv.first {
			for i < len(all) && lv.sum[i] < float64(b)*bucket {
				i++
			}
			lv.first[b] = int32(i)
		}
		p.levels = append(p.levels, lv)
	}
	return p, nil
}

// sandwich appends the pieces, thickest first, as they go under the foot: the two thickest outside, and between them thin and thick in turn.
func sandwich(out []float64, nm []int64) []float64 {
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
func thicker(a, b, t float64) bool { return a < b-slack(t) }

// slack is what two thicknesses of about t may differ by and still be a tie, mm.
func slack(t float64) float64 {
	if t < 1e-3 {
		t = 1e-3
	}
	return tieRel * t
}

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
		if e <= p.tol+slack(thickness) {
			return Pack{lv.pieces[i], lv.sum[i], lv.sum[i] - thickness, true}
		}
		if bestK < 0 || thicker(e, best, thickness) {
			bestK, bestI, best = k, i, e
		}
	}
	lv := &p.levels[bestK]
	return Pack{lv.pieces[bestI], lv.sum[bestI], lv.sum[bestI] - thickness, false}
}

package packs

import (
	"cmp"
	"errors"
	"math"
	"slices"
	"strconv"

	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// A Pack is the set of pieces under one foot, thick ones outside and thin ones between. Pieces belongs to the Packer: read only.
type Pack struct {
	Pieces []float64 // mm
	Layers []uint8   // of each piece: layers left on a laminated one, 0 for a solid one; nil: all are solid
	Sum    float64   // mm
	Error  float64   // mm: Sum minus the thickness asked for
	OK     bool      // within the tolerance; otherwise the nearest that the stock and the number of pieces allow
}

// A Packer makes packs from one stock. It holds every sum that the stock can make, by number of pieces, so that a pack is a look-up.
// It is safe for use by several goroutines.
type Packer struct {
	tol    float64
	max    int     // pieces
	levels []level // by number of pieces

	strips []strip // of the stock
	loose  bool    // some thickness is not taken as exact
	other  tables.StripClass
}

// level is every sum of exactly k pieces, thinnest first.
type level struct {
	sum    []float64
	pieces [][]float64
	layers [][]uint8 // nil: nothing is laminated
	first  []int32   // first[b]: index of the first sum ≥ b·bucket
}

const bucket = 0.01 // mm

// maxCombos bounds the work of NewPacker.
const maxCombos = 1_500_000

// MaxPieces is the most pieces a pack may have, by any setting.
const MaxPieces = 8

// A kind is one thickness that a stock item can give.
type kind struct {
	nm     int64
	count  int   // pieces in a pack at most; of a laminated item, of all its kinds together
	item   int   // index of the stock item; kinds of one laminated item share it
	layers uint8 // 0: solid
}

// made is one pack: kinds of its pieces, a byte each, the thinnest in the highest.
type made struct {
	sum  int64 // nm
	code uint64
}

// kind is the index of the piece of a rank, the thickest being 0.
func (m made) kind(rank int) int { return int(m.code >> (8 * rank) & 255) }

// room is how many pieces of the laminated kind i may join a pack of k pieces.
func (m made) room(kinds []kind, k, i int) int {
	n := kinds[i].count
	for r := range k {
		if o := &kinds[m.kind(r)]; o.layers > 0 && o.item == kinds[i].item {
			if n--; o.layers-kinds[i].layers > 1 {
				return 0
			}
		}
	}
	return n
}

func packSettings(maxPieces int, tolerance float64) error {
	if maxPieces < 1 || maxPieces > MaxPieces {
		return errors.New(words.StockPieces.Say(maxPieces))
	}
	if !(tolerance > 0) || math.IsInf(tolerance, 0) {
		return errors.New(words.StockToleranceNone.Say(tolerance))
	}
	return nil
}

// toNM turns a thickness into whole nanometres; ok is false for one that is not possible.
func toNM(mm float64) (nm int64, ok bool) {
	if !(mm > 0) || mm > 1e4 {
		return 0, false
	}
	nm = int64(math.Round(mm * 1e6))
	return nm, nm > 0
}

// nanometres returns thickness and layer in whole nanometres, a layer of 0 for a solid shim.
func (s *StockItem) nanometres() (nm, layer int64, err error) {
	nm, ok := toNM(s.MM)
	if !ok {
		return 0, 0, errors.New(words.StockThickness.Say(s.MM))
	}
	if s.Tolerance < 0 || math.IsInf(s.Tolerance, 0) {
		return 0, 0, errors.New(words.StockTolerance.Say(s.Tolerance))
	}
	if s.Lamination == 0 {
		return nm, 0, nil
	}
	if layer, ok = toNM(s.Lamination); !ok || layer > nm {
		return 0, 0, errors.New(words.StockLayer.Say(s.Lamination, s.MM))
	}
	if nm/layer > 255 {
		return 0, 0, errors.New(words.StockLayers.Say(s.Lamination, s.MM))
	}
	return nm, layer, nil
}

// appendKinds appends what one stock item gives.
func appendKinds(kinds []kind, item int, nm, layer int64, count int) []kind {
	if layer == 0 {
		return append(kinds, kind{nm: nm, count: count, item: item})
	}
	for l := nm / layer; l > 0; l-- {
		kinds = append(kinds, kind{l * layer, count, item, uint8(l)})
	}
	return kinds
}

// everyPack sorts the kinds, thickest first, and lists every pack of them by number of pieces, in no order, packs of the same thickness included.
// Pieces of one laminated item differ by one layer at most: that makes all their sums and leaves the thinnest as thick as can be.
func everyPack(kinds []kind, maxPieces int) ([][]made, error) {
	if len(kinds) == 0 {
		return nil, words.Error(words.StockEmpty)
	}
	sorting.By(kinds, func(a, b *kind) int {
		return cmp.Or(cmp.Compare(b.nm, a.nm), cmp.Compare(min(a.layers, 1), min(b.layers, 1)))
	})
	if len(kinds) > 255 {
		return nil, errors.New(words.StockThicknesses.Say(len(kinds)))
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
			n := min(kinds[i].count, maxPieces-k)
			if kinds[i].layers > 0 {
				n = min(n, m.room(kinds, k, i))
			}
			next := m
			for j := 1; j <= n; j++ {
				next.sum += kinds[i].nm
				next.code |= uint64(i) << (8 * (k + j - 1))
				add(i+1, k+j, next)
			}
		}
	}
	add(0, 0, made{})
	if tooMany {
		return nil, errors.New(words.StockTooManyPacks.Say(len(kinds), maxPieces, maxCombos))
	}
	return packs, nil
}

// NewPacker prepares every pack of at most maxPieces pieces from the stock. Thicknesses are in mm and held to the nanometre; a
// negative count means that pieces are not counted, a count of zero that the thickness is out. tolerance is in mm.
// It returns an error for an empty stock, a thickness that is not positive, fewer than one or more than eight pieces, a
// tolerance that is not positive, and when the stock and the number of pieces together allow too many packs to hold.
func NewPacker(stock []tables.Thickness, maxPieces int, tolerance float64) (*Packer, error) {
	items := make([]StockItem, len(stock))
	for i, s := range stock {
		items[i] = StockItem{MM: s.MM, Count: s.Count}
	}
	return NewStockPacker(items, "", maxPieces, tolerance)
}

// NewStockPacker is NewPacker for a stock with laminated items and sizes: only the items that fit the foot's size label are taken.
// A laminated item gives one piece a count, each of whatever thickness; within a pack its pieces differ by one layer at most, which
// makes every thickness that they can make. It returns an error for a layer and for a tolerance that are not possible, too. Items of one
// thickness are of one strip, with the greatest of their tolerances; one that is not known leaves it unknown.
func NewStockPacker(stock []StockItem, size string, maxPieces int, tolerance float64) (*Packer, error) {
	if err := packSettings(maxPieces, tolerance); err != nil {
		return nil, err
	}
	p := &Packer{tol: tolerance, max: maxPieces}
	var kinds []kind
	for i := range stock {
		s := &stock[i]
		nm, layer, err := s.nanometres()
		if err != nil {
			return nil, err
		}
		if !s.Fits(size) {
			continue
		}
		p.addStrip(nm, layer, s.Tolerance)
		if s.Count == 0 {
			continue
		}
		n := maxPieces
		if s.Count > 0 {
			n = min(n, s.Count)
		}
		if j := slices.IndexFunc(kinds, func(k kind) bool { return k.nm == nm && k.layers == 0 }); layer == 0 && j >= 0 {
			kinds[j].count = min(maxPieces, kinds[j].count+n)
			continue
		}
		kinds = appendKinds(kinds, i, nm, layer, n)
	}
	if len(kinds) == 0 && size != "" {
		return nil, errors.New(words.StockNoSize.Say(strconv.Quote(size)))
	}
	packs, err := everyPack(kinds, maxPieces)
	if err != nil {
		return nil, err
	}
	laminated := slices.ContainsFunc(kinds, func(k kind) bool { return k.layers > 0 })
	p.levels = make([]level, 0, maxPieces+1)
	for k, all := range packs {
		if len(all) == 0 {
			break
		}
		// Among packs of the same sum the least code is the one whose thinnest piece is thickest. That one stays: thin pieces are springy and tear.
		sorting.Stable(all, func(a, b made) int { return cmp.Or(cmp.Compare(a.sum, b.sum), cmp.Compare(a.code, b.code)) })
		all = slices.CompactFunc(all, func(a, b made) bool { return a.sum == b.sum }) // keeps the first
		lv := level{sum: make([]float64, len(all)), pieces: make([][]float64, len(all))}
		backing, layers := make([]float64, k*len(all)), []uint8(nil)
		if laminated {
			layers, lv.layers = make([]uint8, k*len(all)), make([][]uint8, len(all))
		}
		for i, m := range all {
			lv.sum[i] = float64(m.sum) / 1e6
			lv.pieces[i] = backing[i*k : (i+1)*k : (i+1)*k]
			for j, at := range under[k] {
				lv.pieces[i][j] = float64(kinds[m.kind(at)].nm) / 1e6
			}
			if laminated {
				lv.layers[i] = layers[i*k : (i+1)*k : (i+1)*k]
				for j, at := range under[k] {
					lv.layers[i][j] = kinds[m.kind(at)].layers
				}
			}
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

// under is how the pieces of a pack, ranked thickest first, go under the foot: the two thickest outside, and between them thin and thick in turn.
var under = func() (u [MaxPieces + 1][]int) {
	for n := 1; n < len(u); n++ {
		u[n] = append(u[n], 0)
		thick, thin := 2, n-1
		for takeThin := true; thick <= thin; takeThin = !takeThin {
			if takeThin {
				u[n] = append(u[n], thin)
				thin--
			} else {
				u[n] = append(u[n], thick)
				thick++
			}
		}
		if n > 1 {
			u[n] = append(u[n], 1)
		}
	}
	return u
}()

// pack is the pack at index i for a thickness.
func (l *level) pack(i int, thickness float64, ok bool) Pack {
	p := Pack{Pieces: l.pieces[i], Sum: l.sum[i], Error: l.sum[i] - thickness, OK: ok}
	if l.layers != nil {
		p.Layers = l.layers[i]
	}
	return p
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

// tie is the share of each other within which two numbers are taken as equal.
const tie = 1e-9

// number says whether x is one.
func number(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// slack is what two thicknesses of about t may differ by and still be a tie, mm.
func slack(t float64) float64 {
	if t < 1e-3 {
		t = 1e-3
	}
	return tie * t
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
			return lv.pack(i, thickness, true)
		}
		if bestK < 0 || thicker(e, best, thickness) {
			bestK, bestI, best = k, i, e
		}
	}
	return p.levels[bestK].pack(bestI, thickness, false)
}

package packs

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// The uncertainty of what a change raises a foot by, strip by strip by hand: pieces of one strip share one deviation and add up, a laminated one counts its layers, what goes in and what comes out are of two
// strips, and what stays counts for nothing; a deviation evenly within ± its tolerance has the standard deviation tolerance/√3 (JCGM 100:2008, 4.3.7). Two feet together have the covariance of the same sums.
//
// evidence: calc=tolerance of the pieces grade=identity count=400 source=sums by strip over two lists of pieces, put side by side
func TestUncertaintyByStrips(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 1))
	type key struct {
		um    int64
		layer bool
		old   bool
	}
	sizes := []float64{0.05, 0.1, 0.2, 0.5, 1}
	unlisted, unknowns, kept := 0, 0, 0
	for range 400 {
		tol := map[float64]float64{}
		var stock []StockItem
		for _, mm := range sizes[:4] {
			tol[mm] = []float64{0, 0.004, 0.01, math.NaN()}[min(3, rng.IntN(9))]
			if rng.IntN(3) > 0 {
				tol[mm] = 0.002 + 0.02*rng.Float64()
			}
			stock = append(stock, StockItem{MM: mm, Count: -1, Tolerance: tol[mm]})
		}
		roll := 0.001 + 0.005*rng.Float64()
		stock = append(stock, StockItem{MM: 0.4, Count: -1, Lamination: 0.04, Tolerance: roll / 2}, StockItem{MM: 0.8, Count: -1, Lamination: 0.04, Tolerance: roll}) // the larger holds for the roll
		p, err := NewStockPacker(stock, "", 1, 0.02)                                                                                                                  // one piece: the sums are not what is looked at
		if err != nil {
			t.Fatal(err)
		}
		class := tables.NoStripClass
		if tol[1] = 0; rng.IntN(2) == 0 { // 1 mm is not in the stock: of the class of what lies there
			class = tables.StripNormal
			tol[1] = tables.StripTolerance(1, class)
		}
		p.OtherStrip(class)
		if !p.Loose() {
			t.Error("a stock with a tolerance is taken as exact")
		}
		draw := func() (c Change) {
			for range 1 + rng.IntN(4) {
				if rng.IntN(4) == 0 {
					n := 1 + rng.IntN(10)
					c.Pieces, c.Layers = append(c.Pieces, 0.04*float64(n)), append(c.Layers, uint8(n))
				} else {
					c.Pieces, c.Layers = append(c.Pieces, sizes[rng.IntN(5)]), append(c.Layers, 0)
				}
			}
			if !slices.ContainsFunc(c.Layers, func(n uint8) bool { return n > 0 }) && rng.IntN(2) == 0 {
				c.Layers = nil // all solid
			}
			switch rng.IntN(4) {
			case 0:
				c.Status = ChangeUnlisted
			default:
				for i, mm := range c.Pieces {
					if c.layers(i) == 0 && rng.IntN(3) == 0 {
						c.Keep = append(c.Keep, mm)
						kept++
					}
				}
				for range rng.IntN(3) {
					c.Take = append(c.Take, sizes[rng.IntN(5)])
				}
			}
			return c
		}
		// What moves, by hand.
		byHand := func(c *Change) (sums map[key]float64, unknown []float64) {
			sums = map[key]float64{}
			one := func(mm float64, layers int, old bool) {
				at, what := tol[mm], key{int64(math.Round(1000 * mm)), false, old}
				if layers > 0 {
					at, what = roll*float64(layers), key{40, true, old}
				}
				if math.IsNaN(at) {
					unknown = append(unknown, mm)
					return
				}
				sums[what] += at
			}
			keep := slices.Clone(c.Keep)
			for i, mm := range c.Pieces {
				layers := 0
				if c.Layers != nil {
					layers = int(c.Layers[i])
				}
				if c.Status == ChangeUnlisted {
					one(mm, layers, true)
					continue
				}
				if k := slices.Index(keep, mm); k >= 0 && layers == 0 {
					keep = slices.Delete(keep, k, k+1)
					continue
				}
				one(mm, layers, false)
			}
			for _, mm := range c.Take {
				one(mm, 0, true)
			}
			return sums, unknown
		}
		a, b := draw(), draw()
		if a.Status == ChangeUnlisted {
			unlisted++
		}
		sa, missing := byHand(&a)
		sb, _ := byHand(&b)
		v := 0.0
		for _, s := range sa {
			v += s * s / 3
		}
		u, list := p.Uncertainty([]float64{7}, &a)
		slices.Sort(missing)
		got := slices.Clone(list[1:])
		slices.Sort(got)
		if list[0] != 7 || !slices.EqualFunc(got, missing, func(x, y float64) bool { return math.Abs(x-y) < 1e-9 }) || math.IsNaN(u) != (len(missing) > 0) || len(missing) == 0 && math.Abs(u-math.Sqrt(v)) > 1e-12 {
			t.Errorf("%+v: ± %g, not known %v; by hand %g, %v", a, u, got, math.Sqrt(v), missing)
		}
		if len(missing) > 0 {
			unknowns++
		}
		ga, gb := [4]float64{1, -0.5, 0.2, 3}, [4]float64{-0.3, 2, 0.7, 0}
		var cov [4][4]float64
		Effects(nil).Count(p, &a, &ga).Count(p, &b, &gb).AddTo(&cov)
		for i := range cov {
			for j := range cov {
				want := 0.0
				for k := range sa {
					want += (sa[k]*ga[i] + sb[k]*gb[i]) * (sa[k]*ga[j] + sb[k]*gb[j]) / 3
				}
				for k := range sb {
					if _, both := sa[k]; !both {
						want += sb[k] * gb[i] * sb[k] * gb[j] / 3
					}
				}
				if math.Abs(cov[i][j]-want) > 1e-12 {
					t.Errorf("%+v and %+v: covariance %d, %d is %g, by hand %g", a, b, i, j, cov[i][j], want)
				}
			}
		}
	}
	if unlisted < 50 || unknowns < 50 || kept < 50 {
		t.Errorf("%d unlisted, %d not known, %d kept", unlisted, unknowns, kept)
	}
	exact, err := NewStockPacker([]StockItem{{MM: 1, Count: -1}, {MM: 0.5, Count: -1}}, "", 3, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	c := Change{Pack: Pack{Pieces: []float64{1, 0.5}}}
	if u, list := exact.Uncertainty(nil, &c); exact.Loose() || u != 0 || len(list) != 0 {
		t.Errorf("pieces taken as exact: %v, ± %g, %v", exact.Loose(), u, list)
	}
}

// Every ending has words of its own, and short is what is not to be had now.
func TestStatusWords(t *testing.T) {
	seen := map[string]bool{}
	for s := ChangeMet; s <= ChangeNone; s++ {
		if w := s.String(); w == "" || seen[w] {
			t.Errorf("ending %d: %q", s, w)
		}
		seen[s.String()] = true
	}
	clear(seen)
	for s := PickMet; s <= PickStopped; s++ {
		if w := s.String(); w == "" || seen[w] {
			t.Errorf("pick %d: %q", s, w)
		}
		if seen[s.String()] = true; s.Short() != (s == PickShort || s == PickWaits) {
			t.Errorf("%v is short: %v", s, s.Short())
		}
	}
}

package packs

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"shimsheet/internal/tables"
)

// What a stock cannot be, on both sides of each bound, each with what is wrong with it.
func TestStockRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	many := func(n int) (list []StockItem) {
		for i := range n {
			list = append(list, StockItem{MM: 1 + float64(i)/1000, Count: 1})
		}
		return list
	}
	ok := []StockItem{{MM: 1, Count: -1}, {MM: 0.5, Count: 2}}
	for _, c := range []struct {
		what   string
		stock  []StockItem
		pieces int
		tol    float64
		want   string // "": it is taken
	}{
		{"sound", ok, 4, 0.02, ""}, {"one piece", ok, 1, 0.02, ""}, {"eight pieces", ok, 8, 0.02, ""}, {"no pieces", ok, 0, 0.02, "not between 1 and 8"}, {"nine pieces", ok, 9, 0.02, "not between 1 and 8"},
		{"no tolerance", ok, 4, 0, "not more than zero"}, {"a tolerance below", ok, 4, -0.1, "not more than zero"}, {"a tolerance that is none", ok, 4, nan, "not more than zero"}, {"an endless tolerance", ok, 4, inf, "not more than zero"},
		{"nothing", nil, 4, 0.02, "no shim of the stock fits"}, {"nothing left", []StockItem{{MM: 1, Count: 0}}, 4, 0.02, "no shim of the stock fits"}, {"nothing of that size", []StockItem{{MM: 1, Count: -1, Size: "B"}}, 4, 0.02, "no shim of the stock fits"},
		{"no thickness", []StockItem{{MM: 0, Count: 1}}, 4, 0.02, "0 mm is not possible"}, {"a thickness below", []StockItem{{MM: -1, Count: 1}}, 4, 0.02, "-1 mm is not possible"}, {"a thickness that is none", []StockItem{{MM: nan, Count: 1}}, 4, 0.02, "not possible"},
		{"ten metres", []StockItem{{MM: 1e4, Count: 1}}, 4, 0.02, ""}, {"more than ten metres", []StockItem{{MM: 1.0001e4, Count: 1}}, 4, 0.02, "not possible"}, {"a nanometre", []StockItem{{MM: 1e-6, Count: 1}}, 4, 0.02, ""},
		{"less than half a nanometre", []StockItem{{MM: 4e-7, Count: 1}}, 4, 0.02, "not possible"},
		{"a tolerance of a piece below", []StockItem{{MM: 1, Count: 1, Tolerance: -0.01}}, 4, 0.02, "a tolerance of -0.01 mm"}, {"an endless tolerance of a piece", []StockItem{{MM: 1, Count: 1, Tolerance: inf}}, 4, 0.02, "a tolerance of"},
		{"a tolerance that is not known", []StockItem{{MM: 1, Count: 1, Tolerance: nan}}, 4, 0.02, ""},
		{"a layer", []StockItem{{MM: 1, Count: 1, Lamination: 0.1}}, 4, 0.02, ""}, {"a layer as thick as the piece", []StockItem{{MM: 1, Count: 1, Lamination: 1}}, 4, 0.02, ""}, {"a layer thicker than the piece", []StockItem{{MM: 1, Count: 1, Lamination: 1.1}}, 4, 0.02, "layer of a laminated shim"},
		{"a layer below", []StockItem{{MM: 1, Count: 1, Lamination: -0.1}}, 4, 0.02, "layer of a laminated shim"}, {"a layer that is none", []StockItem{{MM: 1, Count: 1, Lamination: nan}}, 4, 0.02, "layer of a laminated shim"},
		{"255 layers", []StockItem{{MM: 2.55, Count: 1, Lamination: 0.01}}, 1, 0.02, ""}, {"256 layers", []StockItem{{MM: 2.56, Count: 1, Lamination: 0.01}}, 1, 0.02, "more than 255 layers"},
		{"255 thicknesses", many(255), 1, 0.02, ""}, {"256 thicknesses", many(256), 1, 0.02, "256 thicknesses"}, {"too many packs", many(60), 8, 0.02, "allow fewer pieces"},
	} {
		p, err := NewStockPacker(c.stock, "A", c.pieces, c.tol)
		if c.want == "" && (err != nil || p == nil) || c.want != "" && (err == nil || p != nil || !strings.Contains(err.Error(), c.want)) {
			t.Errorf("%s: %v", c.what, err)
		}
	}
}

// Packs of any thickness, past where the table of sums ends too, against every set of pieces: the fewest within the tolerance, then the nearest, then the thinner; and nothing for a thickness that is none.
func TestPacksWide(t *testing.T) {
	stock := []tables.Thickness{{MM: 0.5, Count: 3}, {MM: 2, Count: -1}, {MM: 37.5, Count: 2}, {MM: 300, Count: -1}, {MM: 410.004, Count: 1}, {MM: 655.36, Count: 1}}
	const most, tol = 3, 0.3
	p, err := NewPacker(stock, most, tol)
	if err != nil {
		t.Fatal(err)
	}
	type set struct {
		n   int
		sum float64
	}
	var all []set
	var add func(i, n int, sum float64)
	add = func(i, n int, sum float64) {
		if i == len(stock) {
			all = append(all, set{n, sum})
			return
		}
		for k := 0; n+k <= most && (stock[i].Count < 0 || k <= stock[i].Count); k++ {
			add(i+1, n+k, sum+float64(k)*stock[i].MM)
		}
	}
	add(0, 0, 0)
	rng := rand.New(rand.NewPCG(17, 2))
	met := 0
	for range 4000 {
		want := 2200 * rng.Float64() * rng.Float64()
		if rng.IntN(2) == 0 { // near a sum, and half way between two
			want = math.Abs(all[rng.IntN(len(all))].sum + 0.5*rng.NormFloat64())
		}
		best := set{}
		better := func(a, b set) bool { // a before b
			ea, eb := math.Abs(a.sum-want), math.Abs(b.sum-want)
			if ina, inb := ea <= tol, eb <= tol; ina != inb {
				return ina
			} else if ina && a.n != b.n {
				return a.n < b.n
			}
			if math.Abs(ea-eb) > 1e-6 {
				return ea < eb
			}
			if a.n != b.n {
				return a.n < b.n
			}
			return a.sum < b.sum
		}
		for k, s := range all {
			if k == 0 || better(s, best) {
				best = s
			}
		}
		got := p.Pack(want)
		if math.Abs(got.Sum-best.sum) > 1e-6 || len(got.Pieces) != best.n || got.OK != (math.Abs(best.sum-want) <= tol) || math.Abs(got.Error-(best.sum-want)) > 1e-6 {
			t.Fatalf("%g mm: %v, by every set %d pieces of %g", want, got, best.n, best.sum)
		}
		if got.OK {
			met++
		}
	}
	if met < 1000 {
		t.Errorf("%d met", met)
	}
	for _, bad := range []float64{math.NaN(), -0.001, math.Inf(1), math.Inf(-1)} {
		if got := p.Pack(bad); got.OK || got.Pieces != nil || got.Sum != 0 || len(p.Candidates(nil, bad, 1, 3)) != 0 {
			t.Errorf("%g mm: %v", bad, got)
		}
	}
	if got := p.Pack(0); !got.OK || len(got.Pieces) != 0 {
		t.Errorf("nothing: %v", got)
	}
}

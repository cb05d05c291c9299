package packs

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// bruteNew lists every number and sum (nm) of pieces that the stock gives a foot of a size: solid ones in any number up to the count,
// laminated ones of any number of layers, none of them held to differ little.
func bruteNew(stock []StockItem, size string, maxPieces int) map[[2]int64]bool {
	all := map[[2]int64]bool{{0, 0}: true}
	for _, it := range stock {
		if it.Size != "" && it.Size != size {
			continue
		}
		nm := int64(math.Round(it.MM * 1e6))
		give := []int64{nm}
		if it.Lamination > 0 {
			give = nil
			layer := int64(math.Round(it.Lamination * 1e6))
			for k := int64(1); k*layer <= nm; k++ {
				give = append(give, k*layer)
			}
		}
		// One piece of the item at a time, to each of what was made without the item and with fewer of it.
		now := all
		for n := 0; n < maxPieces && (it.Count < 0 || n < it.Count); n++ {
			more := map[[2]int64]bool{}
			for m := range now {
				if m[0] < int64(maxPieces) {
					for _, g := range give {
						more[[2]int64{m[0] + 1, m[1] + g}] = true
					}
				}
			}
			merged := map[[2]int64]bool{}
			for m := range all {
				merged[m] = true
			}
			for m := range more {
				merged[m] = true
			}
			all, now = merged, more
		}
	}
	return all
}

// bruteChange is the rule as written, over every choice of pieces that stay and everything bruteNew lists; in whole nanometres.
func bruteChange(fresh [][2]int64, place []int64, maxPieces int, want, tol int64) (pieces, added, sum int64, in bool) {
	first := true
	var be int64
	for mask := range 1 << len(place) {
		var n, s int64
		for i, v := range place {
			if mask>>i&1 == 1 {
				n++
				s += v
			}
		}
		for _, f := range fresh {
			cn, cs := n+f[0], s+f[1]
			if cn > int64(maxPieces) {
				continue
			}
			e := max(cs-want, want-cs)
			ok := e <= tol
			a, b := [4]int64{cn, e, f[0], cs}, [4]int64{pieces, be, added, sum}
			if !ok {
				a, b = [4]int64{e, cn, f[0], cs}, [4]int64{be, pieces, added, sum}
			}
			if first || ok && !in || ok == in && slices.Compare(a[:], b[:]) < 0 {
				first, pieces, be, added, sum, in = false, cn, e, f[0], cs, ok
			}
		}
	}
	return
}

// randomBox draws a stock with sizes, counts and now and then a laminated item, and a few pieces that may lie under a foot.
func randomBox(rng *rand.Rand) (stock []StockItem, place []float64) {
	const mil = 0.0254
	from := []float64{0.025, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.7, 1, 1.5, 2}
	if rng.IntN(3) == 0 {
		from = []float64{mil, 2 * mil, 3 * mil, 5 * mil, 10 * mil, 20 * mil, 25 * mil, 50 * mil}
	}
	for range 1 + rng.IntN(6) {
		it := StockItem{MM: from[rng.IntN(len(from))], Count: -1}
		if rng.IntN(2) == 0 {
			it.Count = rng.IntN(4)
		}
		if rng.IntN(3) == 0 {
			it.Size = []string{"A", "B"}[rng.IntN(2)]
		}
		if rng.IntN(5) == 0 {
			it.Lamination = []float64{2 * mil, 3 * mil}[rng.IntN(2)]
			it.MM = it.Lamination * float64(1+rng.IntN(6))
		}
		stock = append(stock, it)
	}
	for range rng.IntN(6) {
		place = append(place, append(from, 0.4, 0.012)[rng.IntN(len(from)+2)])
	}
	return stock, place
}

// TestChangeBruteForce compares packs with pieces in place, laminated stock and sizes with brute force.
func TestChangeBruteForce(t *testing.T) {
	//evidence: calc=packs with pieces in place grade=independent count=80000 source=brute force over every choice of pieces that stay and every multiset of new ones, laminated and sized stock included, in whole nanometres
	rng := rand.New(rand.NewPCG(7, 7))
	boxes, each := cases(4000), 20
	kept, laminated, below, unlisted, nearest := 0, 0, 0, 0, 0
	for range boxes {
		stock, mm := randomBox(rng)
		size := []string{"", "A", "B"}[rng.IntN(3)]
		pieces := 1 + rng.IntN(4)
		tol := []int64{25_000, 12_500, 12_700, 5_000}[rng.IntN(4)]
		all := bruteNew(stock, size, pieces)
		p, err := NewStockPacker(stock, size, pieces, float64(tol)/1e6)
		if err != nil {
			if len(all) > 1 {
				t.Fatalf("stock %v, size %q: %v", stock, size, err)
			}
			continue
		}
		var fresh [][2]int64
		for m := range all {
			fresh = append(fresh, m)
		}
		for range each {
			in := mm
			switch {
			case rng.IntN(10) == 0:
				in = nil
			case len(mm) == 0 && rng.IntN(2) == 0:
				in = []float64{}
			}
			place := make([]int64, len(in))
			was := int64(0)
			for i, v := range in {
				place[i] = int64(math.Round(v * 1e6))
				was += place[i]
			}
			change := rng.Int64N(2_000_000) - was - 200_000
			switch rng.IntN(4) {
			case 0: // exactly a pack, or at the tolerance of one
				change = fresh[rng.IntN(len(fresh))][1] - was + tol*int64(rng.IntN(3)-1)
			case 1: // half way
				change = (fresh[rng.IntN(len(fresh))][1]+fresh[rng.IntN(len(fresh))][1])/2 - was/2
			}
			got, err := p.Change(float64(change)/1e6, in)
			if err != nil {
				t.Fatal(err)
			}
			want := was + change
			switch {
			case in == nil && change < 0:
				if unlisted++; got.Status != ChangeUnlisted || got.Put != nil || got.Sum != p.Pack(float64(-change)/1e6).Sum || got.Net != -got.Sum {
					t.Fatalf("change %d with nothing listed: %+v", change, got)
				}
				continue
			case want < -tol:
				if below++; got.Status != ChangeBelow || math.Abs(got.Shortfall*1e6+float64(want)) > 1e-3 || len(got.Take) != len(in) || got.Net != -float64(was)/1e6 {
					t.Fatalf("change %d with %v in place: %+v", change, in, got)
				}
				continue
			}
			n, added, sum, ok := bruteChange(fresh, place, pieces, want, tol)
			nm := int64(math.Round(got.Sum * 1e6))
			if int64(len(got.Pieces)) != n || int64(len(got.Put)) != added || nm != sum || got.OK != ok || (got.Status == ChangeMet) != ok {
				t.Fatalf("stock %+v, size %q, at most %d, tolerance %d nm, %v in place, change %d nm:\ngot %+v\nbrute force %d pieces, %d new, %d nm, within %v",
					stock, size, pieces, tol, in, change, got, n, added, sum, ok)
			}
			if len(got.Keep) > 0 && len(got.Put) > 0 {
				kept++
			}
			if slices.ContainsFunc(got.Layers, func(l uint8) bool { return l > 0 }) {
				laminated++
			}
			if !ok {
				nearest++
			}
			checkChange(t, &got, stock, size, in, float64(want)/1e6)
		}
	}
	t.Logf("%d packs with old and new pieces, %d with laminated ones, %d below the base, %d not listed, %d out of reach", kept, laminated, below, unlisted, nearest)
	if kept < boxes || laminated < boxes || below < boxes/4 || unlisted < boxes/8 {
		t.Error("the draw has become too easy")
	}
}

// checkChange holds what is said beside the numbers: keep + take = in place, keep + put = pack, put is in the stock and fits, thick outside.
func checkChange(t *testing.T, c *Change, stock []StockItem, size string, place []float64, want float64) {
	t.Helper()
	sorted := func(a ...[]float64) []int64 {
		var out []int64
		for _, v := range slices.Concat(a...) {
			out = append(out, int64(math.Round(v*1e6)))
		}
		slices.Sort(out)
		return out
	}
	if !slices.Equal(sorted(c.Keep, c.Take), sorted(place)) || !slices.Equal(sorted(c.Keep, c.Put), sorted(c.Pieces)) {
		t.Fatalf("%v in place: keep %v, take %v, put %v, pack %v", place, c.Keep, c.Take, c.Put, c.Pieces)
	}
	s, was := 0.0, 0.0
	for _, v := range c.Pieces {
		s += v
	}
	for _, v := range place {
		was += v
	}
	if math.Abs(s-c.Sum) > 1e-9 || math.Abs(c.Sum-want-c.Error) > 1e-9 || math.Abs(c.Net-(c.Sum-was)) > 1e-9 {
		t.Fatalf("pack %v: sum %g, error %g, rise %g, wanted %g", c.Pieces, c.Sum, c.Error, c.Net, want)
	}
	for i := 1; i < len(c.Pieces)-1; i++ {
		if c.Pieces[i] > min(c.Pieces[0], c.Pieces[len(c.Pieces)-1])+1e-12 {
			t.Fatalf("pack %v: a thick piece lies inside", c.Pieces)
		}
	}
	if c.Layers != nil && len(c.Layers) != len(c.Pieces) {
		t.Fatalf("pack %v: layers %v", c.Pieces, c.Layers)
	}
	// Put each new piece on an item: the counts are small, so that trying is enough.
	left := make([]int, len(stock))
	for i := range stock {
		if left[i] = stock[i].Count; left[i] < 0 {
			left[i] = 1 << 20
		}
	}
	var fits func(i int) bool
	fits = func(i int) bool {
		if i == len(c.Put) {
			return true
		}
		nm := int64(math.Round(c.Put[i] * 1e6))
		for k := range stock {
			it := &stock[k]
			is := int64(math.Round(it.MM*1e6)) == nm
			if it.Lamination > 0 {
				layer := int64(math.Round(it.Lamination * 1e6))
				is = nm%layer == 0 && nm <= int64(math.Round(it.MM*1e6))
			}
			if !is || left[k] == 0 || it.Size != "" && it.Size != size {
				continue
			}
			left[k]--
			ok := fits(i + 1)
			left[k]++
			if ok {
				return true
			}
		}
		return false
	}
	if !fits(0) {
		t.Fatalf("put %v is not in the stock %+v for size %q", c.Put, stock, size)
	}
}

// Without pieces in place the change is the pack itself, to the last bit.
func TestChangeIsPack(t *testing.T) {
	p, _ := NewPacker(tables.DefaultStock(true), tables.MaxPieces, tables.PackToleranceInch)
	q, _ := NewStockPacker([]StockItem{{MM: 1, Count: -1}, {MM: 0.5, Count: 3, Size: "B"}}, "", 4, 0.01)
	for x := 0.0; x < 20; x += 0.0137 {
		for _, p := range []*Packer{p, q} {
			want := p.Pack(x)
			for _, in := range [][]float64{nil, {}} {
				got, err := p.Change(x, in)
				if err != nil || got.Sum != want.Sum || got.Error != want.Error || got.OK != want.OK || !slices.Equal(got.Pieces, want.Pieces) {
					t.Fatalf("%g: %+v, want %+v, %v", x, got, want, err)
				}
			}
		}
	}
}

func TestChangeSaysWhatIsWrong(t *testing.T) {
	p, _ := NewPacker(tables.DefaultStock(false), 4, 0.0125)
	for _, in := range [][]float64{{0}, {-1}, {math.NaN()}, {math.Inf(1)}, make([]float64, 17)} {
		if _, err := p.Change(0.1, in); err == nil {
			t.Errorf("%v in place: no error", in)
		}
	}
	if c, err := p.Change(math.NaN(), nil); err != nil || c.Status != ChangeNone {
		t.Errorf("not a number: %+v, %v", c, err)
	}
	for _, it := range []StockItem{{MM: 1, Count: -1, Lamination: -1}, {MM: 1, Count: -1, Lamination: 2}, {MM: 1, Count: -1, Lamination: math.NaN()}, {MM: 1, Count: -1, Lamination: 0.001}, {MM: 1, Count: -1, Size: "A"}} {
		if _, err := NewStockPacker([]StockItem{it}, "", 4, 0.01); err == nil {
			t.Errorf("%+v: no error", it)
		}
	}
	// Within the tolerance of the bare base nothing is short.
	if c, _ := p.Change(-1.01, []float64{1}); c.Status != ChangeMet || len(c.Pieces) != 0 || math.Abs(c.Error-0.01) > 1e-12 {
		t.Errorf("just below the bare base: %+v", c)
	}
	if c, _ := p.Change(0.01, []float64{0.5, 0.5}); !c.Leave {
		t.Errorf("a change within the tolerance: %+v", c)
	}
}

// TestCandidatesBruteForce compares the candidates with a plain listing of every pack.
func TestCandidatesBruteForce(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	for range cases(3000) {
		stock, _ := randomBox(rng)
		pieces, n := 1+rng.IntN(4), 1+rng.IntN(5)
		p, err := NewStockPacker(stock, "A", pieces, 0.0125)
		if err != nil {
			continue
		}
		fewest := map[int64]int64{}
		for m := range bruteNew(stock, "A", pieces) {
			if f, ok := fewest[m[1]]; !ok || m[0] < f {
				fewest[m[1]] = m[0]
			}
		}
		want, reach := rng.Int64N(2_000_000), 1000+rng.Int64N(300_000)
		var all [][3]int64 // pieces, error, sum
		for s, k := range fewest {
			if e := max(s-want, want-s); e <= reach {
				all = append(all, [3]int64{k, e, s})
			}
		}
		slices.SortFunc(all, func(a, b [3]int64) int { return slices.Compare(a[:], b[:]) })
		var list []int64
		of := map[int64]int{}
		for _, c := range all {
			if of[c[0]]++; of[c[0]] <= n {
				list = append(list, c[2])
			}
		}
		var got []int64
		for _, c := range p.Candidates(nil, float64(want)/1e6, float64(reach)/1e6, n) {
			got = append(got, int64(math.Round(c.Sum*1e6)))
			if c.OK != (math.Abs(c.Error) <= 0.0125+1e-9) {
				t.Fatalf("%+v", c)
			}
		}
		if !slices.Equal(got, list) {
			t.Fatalf("stock %+v, %d nm ± %d, %d each: %v, want %v", stock, want, reach, n, got, list)
		}
	}
}

// TestJointPacksBruteForce compares the joint choice with trying every pair of packs, and through ChooseTogether with Solve on a line.
func TestJointPacksBruteForce(t *testing.T) {
	//evidence: calc=packs, front and rear together grade=independent count=4000 source=brute force over every pair of candidate packs with the line through the two changes worked out in the test
	rng := rand.New(rand.NewPCG(9, 9))
	changed, none := 0, 0
	for range cases(4000) {
		stock := []tables.Thickness{{MM: 0.05, Count: -1}, {MM: 0.1, Count: -1}, {MM: 0.25, Count: 2}, {MM: 0.4, Count: -1}, {MM: 1, Count: -1}}[rng.IntN(3):]
		p, _ := NewPacker(stock, 1+rng.IntN(4), 0.02)
		feet := [2]JointFoot{{p, uniform(rng, -1, 1), 3, 0.15}, {p, uniform(rng, -1, 1), 3, 0.15}}
		front, rear := uniform(rng, 200, 500), uniform(rng, 600, 1500)
		lim := struct{ Offset, Slope float64 }{uniform(rng, 0.005, 0.05), uniform(rng, 0.02, 0.2)}
		judge := func(_ [2]*Pack, x [2]float64) (float64, bool) {
			a, b := x[0], x[1]
			// What is left at the feet, and the line through it at the coupling centre.
			ea, eb := a-feet[0].Shim, b-feet[1].Shim
			slope := (eb - ea) / (rear - front)
			share := max(math.Abs(ea-slope*front)/lim.Offset, math.Abs(slope*1000)/lim.Slope)
			return share, share <= 1
		}
		got := JointPacks(feet, judge)
		own := [2]float64{math.Copysign(p.Pack(math.Abs(feet[0].Shim)).Sum, feet[0].Shim), math.Copysign(p.Pack(math.Abs(feet[1].Shim)).Sum, feet[1].Shim)}
		share, inside := judge([2]*Pack{}, own)
		best, pieces := own, -1
		if !inside {
			for _, a := range p.Candidates(nil, math.Abs(feet[0].Shim), 0.15, 3) {
				for _, b := range p.Candidates(nil, math.Abs(feet[1].Shim), 0.15, 3) {
					x := [2]float64{math.Copysign(a.Sum, feet[0].Shim), math.Copysign(b.Sum, feet[1].Shim)}
					s, in := judge([2]*Pack{}, x)
					if n := len(a.Pieces) + len(b.Pieces); in && (pieces < 0 || n < pieces || n == pieces && s < share-1e-9) {
						best, pieces, share = x, n, s
					}
				}
			}
			if pieces >= 0 {
				changed++
			} else {
				none++
			}
		}
		if got.Rounded != best || got.Share != share || got.Inside != (inside || pieces >= 0) || got.Changed != (pieces >= 0) {
			t.Fatalf("feet %+v: %+v, want %v, share %g", feet, got, best, share)
		}
	}
	if t.Logf("%d changed, %d without a way", changed, none); changed < cases(4000)/40 || none < cases(4000)/40 {
		t.Error("the draw has become too easy")
	}
}

func FuzzChange(f *testing.F) {
	f.Add(0.3, 0.1, 0.5, 0.05, 3, 2)
	f.Add(-0.7, 0.5, 0.3, 0.0508, -1, 0)
	f.Fuzz(func(t *testing.T, change, a, b, lam float64, count, n int) {
		stock := []StockItem{{MM: a, Count: count}, {MM: b, Count: -1, Lamination: lam}, {MM: 0.2, Count: 2, Size: "A"}}
		p, err := NewStockPacker(stock, "A", 3, 0.02)
		if err != nil {
			return
		}
		var place []float64
		for i := range max(0, min(n, 6)) {
			place = append(place, []float64{a, b, 0.4}[i%3])
		}
		c, err := p.Change(change, place)
		if err != nil {
			return
		}
		if c.Status == ChangeMet || c.Status == ChangeNearest {
			if len(c.Pieces) > 3 || c.Status == ChangeMet && math.Abs(c.Error) > 0.02+1e-9*(1+math.Abs(change)) {
				t.Fatalf("%+v", c)
			}
		}
		if len(c.Take)+len(c.Keep) != len(place) {
			t.Fatalf("%v in place: %+v", place, c)
		}
	})
}

package packs

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// brutePack tries every multiset of at most maxPieces pieces of the stock, in whole nanometres, and keeps the best by the rule as
// written: fewest pieces within the tolerance, then least error, then thinner; none within it: least error, then fewest pieces, then
// thinner. It returns the sum and the number of pieces.
func brutePack(nm []int64, count []int, maxPieces int, target, tol int64) (sum int64, pieces int, ok bool) {
	first := true
	better := func(s int64, n int) bool {
		if first {
			return true
		}
		e, b := max(s-target, target-s), max(sum-target, target-sum)
		in, was := e <= tol, b <= tol
		switch {
		case in != was:
			return in
		case in && n != pieces:
			return n < pieces
		case e != b:
			return e < b
		case n != pieces:
			return n < pieces
		}
		return s < sum
	}
	var walk func(i int, s int64, n int)
	walk = func(i int, s int64, n int) {
		if i == len(nm) {
			if better(s, n) {
				sum, pieces, first = s, n, false
			}
			return
		}
		for k := 0; n+k <= maxPieces && (count[i] < 0 || k <= count[i]); k++ {
			walk(i+1, s+int64(k)*nm[i], n+k)
		}
	}
	walk(0, 0, 0)
	e := max(sum-target, target-sum)
	return sum, pieces, e <= tol
}

// TestPacksBruteForce compares the packs with brute force on random boxes, counted and uncounted, metric and inch, and targets that are
// often exactly half way between two packs or exactly at the tolerance.
func TestPacksBruteForce(t *testing.T) {
	//evidence: calc=packs grade=independent count=40000 source=brute force over every multiset of the stock, in whole nanometres
	rng := rand.New(rand.NewPCG(6, 6))
	const mil = 25_400
	metric := []int64{25_000, 50_000, 75_000, 100_000, 150_000, 200_000, 250_000, 300_000, 400_000, 500_000, 700_000, 1_000_000, 2_000_000, 3_000_000}
	inch := []int64{1 * mil, 2 * mil, 3 * mil, 4 * mil, 5 * mil, 10 * mil, 15 * mil, 20 * mil, 25 * mil, 50 * mil, 75 * mil, 100 * mil, 125 * mil}
	boxes, each := cases(2000), 20
	ties, misses, short := 0, 0, 0
	for b := range boxes {
		from := metric
		tol := int64(25_000)
		switch b % 4 {
		case 1:
			from, tol = inch, mil
		case 2: // both in one box
			from, tol = slices.Concat(metric[:6], inch[:6]), 10_000
		case 3:
			tol = []int64{5_000, 12_500, 50_000, 1}[rng.IntN(4)]
		}
		var nm []int64
		var count []int
		var stock []tables.Thickness
		for _, i := range rng.Perm(len(from))[:1+rng.IntN(6)] {
			c := -1
			if rng.IntN(2) == 0 {
				c = rng.IntN(5)
			}
			nm, count = append(nm, from[i]), append(count, c)
			stock = append(stock, tables.Thickness{MM: float64(from[i]) / 1e6, Count: c})
		}
		pieces := 1 + rng.IntN(5)
		p, err := NewPacker(stock, pieces, float64(tol)/1e6)
		if err != nil {
			if slices.ContainsFunc(count, func(c int) bool { return c != 0 }) {
				t.Fatalf("box %v: %v", stock, err)
			}
			continue
		}
		for range each {
			var target int64
			switch rng.IntN(6) {
			case 0: // half way between two packs that can be made
				a, n := randomSum(rng, nm, count, pieces), randomSum(rng, nm, count, pieces)
				target = (a + n) / 2
				ties++
			case 1: // exactly at the tolerance of one
				target = max(0, randomSum(rng, nm, count, pieces)+tol*int64(2*rng.IntN(2)-1))
				ties++
			case 2: // on a step of 5 µm
				target = 5_000 * rng.Int64N(600)
			case 3: // exactly a pack
				target = randomSum(rng, nm, count, pieces)
			case 4: // small
				target = rng.Int64N(60_000)
			default:
				target = rng.Int64N(4_000_000)
			}
			sum, n, ok := brutePack(nm, count, pieces, target, tol)
			got := p.Pack(float64(target) / 1e6)
			gotNM := int64(math.Round(got.Sum * 1e6))
			if gotNM != sum || len(got.Pieces) != n || got.OK != ok {
				t.Fatalf("box %v, at most %d pieces, tolerance %d nm, %d nm: pack %v = %d nm, ok %v; brute force %d nm in %d pieces, ok %v",
					stock, pieces, tol, target, got.Pieces, gotNM, got.OK, sum, n, ok)
			}
			if !ok {
				misses++
			}
			checkPack(t, got, stock, float64(target)/1e6)
			if n == pieces {
				short++
			}
		}
	}
	t.Logf("%d packs: %d ties and edges, %d out of reach, %d with as many pieces as allowed", boxes*each, ties, misses, short)
	if ties < boxes || misses < boxes {
		t.Error("the draw has become too easy")
	}
}

// checkPack holds what is said beside the sum: the pieces add up, are in the box, and the two thickest lie outside.
func checkPack(t *testing.T, p Pack, stock []tables.Thickness, want float64) {
	t.Helper()
	s := 0.0
	used := map[int64]int{}
	for i, v := range p.Pieces {
		s += v
		used[int64(math.Round(v*1e6))]++
		if i > 0 && i < len(p.Pieces)-1 && v > math.Min(p.Pieces[0], p.Pieces[len(p.Pieces)-1])+1e-12 {
			t.Fatalf("pack %v: a thick piece lies inside", p.Pieces)
		}
	}
	if math.Abs(s-p.Sum) > 1e-9 || math.Abs(p.Sum-want-p.Error) > 1e-12 {
		t.Fatalf("pack %v: sum %g, error %g for %g", p.Pieces, p.Sum, p.Error, want)
	}
	for nm, n := range used {
		have := 0
		for _, k := range stock {
			if int64(math.Round(k.MM*1e6)) == nm {
				if k.Count < 0 {
					have = 1 << 30
				} else {
					have += k.Count
				}
			}
		}
		if n > have {
			t.Fatalf("pack %v takes %d of %d nm, the box holds %d", p.Pieces, n, nm, have)
		}
	}
}

func randomSum(rng *rand.Rand, nm []int64, count []int, pieces int) int64 {
	s, n := int64(0), 1+rng.IntN(pieces)
	left := slices.Clone(count)
	for range n {
		if i := rng.IntN(len(nm)); left[i] != 0 {
			left[i]--
			s += nm[i]
		}
	}
	return s
}

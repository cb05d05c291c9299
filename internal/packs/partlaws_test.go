package packs

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestPartsAgainstEveryPlan solves small parts and tries every plan of each: as many blocks of the first class as can be, of those plans the most of the second, and so on, then the least cost; what is said of
// bounds and errors of a part that is proved is what the best plan has, and the plan that stands is one that keeps to the box.
func TestPartsAgainstEveryPlan(t *testing.T) {
	//evidence: calc=stock of a job grade=independent count=200 source=every plan of small parts, by feet and by machines
	rng := rand.New(rand.NewPCG(31, 9))
	solved, classes, unmet := 0, 0, 0
	for round := 0; solved < 200 && round < 5000; round++ {
		for _, p := range openParts(t, rng, round%2 == 0) {
			many := 1.0
			for f := range p.all {
				many *= float64(len(p.all[f]) + 1)
			}
			if many > 20_000 || p.anyCut {
				continue
			}
			solved++
			// Every plan, block by block: not met, or a candidate for each of its feet.
			best, cost := []int(nil), int64(math.MaxInt64)
			plan := make([]int, len(p.feet))
			var walk func(b, foot int)
			walk = func(b, foot int) {
				if b == len(p.blocks) {
					if !p.allowed(plan) {
						return
					}
					met := make([]int, len(p.asked))
					c := int64(0)
					for b := range p.blocks {
						if plan[p.blocks[b].feet[0]] >= 0 {
							met[p.blocks[b].class]++
						}
					}
					for _, k := range plan {
						if k >= 0 {
							c += p.cost[k]
						}
					}
					if n := slices.Compare(met, best); best == nil || n > 0 || n == 0 && c < cost {
						best, cost = met, c
					}
					return
				}
				feet := p.blocks[b].feet
				if foot == len(feet) {
					walk(b+1, 0)
					return
				}
				if foot == 0 {
					for _, f := range feet {
						plan[f] = -1
					}
					walk(b+1, 0)
				}
				for _, k := range p.all[feet[foot]] {
					plan[feet[foot]] = int(k)
					walk(b, foot+1)
				}
				plan[feet[foot]] = -1
			}
			walk(0, 0)

			// As solve finds the part: nothing picked yet, and its tables not made.
			j := p.j
			for _, f := range p.feet {
				j.feet[f].pick = -1
			}
			q := &part{j: j, feet: p.feet, blocks: p.blocks, nodes: 1_000_000, workCap: 1 << 50}
			q.solve()
			got, errs := int64(0), int64(0)
			for _, f := range q.feet {
				if k := j.feet[f].pick; k >= 0 {
					got += j.feet[f].cands[k].cost
					errs += j.feet[f].cands[k].err
				}
			}
			if !q.proved || !slices.Equal(q.met, best) || !slices.Equal(q.bounds, best) || got != cost {
				t.Fatalf("met %v at %d, bounds %v, proved %v; of every plan the best meets %v at %d\n%+v", q.met, got, q.bounds, q.proved, best, cost, p.blocks)
			}
			if math.Abs(q.errBound-float64(errs)) > 0.5 {
				t.Fatalf("the errors come to %d pm, said is %g", errs, q.errBound)
			}
			for _, n := range q.left {
				if n < 0 {
					t.Fatalf("the plan does not keep to the box: %v", q.left)
				}
			}
			if len(best) > 1 {
				classes++
			}
			if !slices.Equal(best, q.asked) {
				unmet++
			}
		}
	}
	t.Logf("%d parts, %d with several classes, %d in which something is not met", solved, classes, unmet)
	if solved < 200 || classes < 50 || unmet < 50 {
		t.Error("the draw has become too easy")
	}
}

// Whether one candidate draws less than another, of any item, by their draws written out.
func TestDrawsLess(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 10))
	seen := [2]int{}
	for range 5000 {
		var full [2][5]int32
		var lists [2][]drawn
		for k := range full {
			for i := range full[k] {
				if full[k][i] = int32(max(0, rng.IntN(7)-3)) * int32(1-2*rng.IntN(2)); rng.IntN(2) == 0 {
					full[k][i] = 0
				}
				if n := full[k][i]; n != 0 {
					lists[k] = append(lists[k], drawn{int32(i), n})
				}
			}
		}
		want := false
		for i := range full[0] {
			want = want || full[0][i] < full[1][i]
		}
		if got := drawsLess(lists[0], lists[1]); got != want {
			t.Fatalf("%v draws less than %v: %v", lists[0], lists[1], got)
		}
		if want {
			seen[1]++
		} else {
			seen[0]++
		}
	}
	if seen[0] < 200 || seen[1] < 200 {
		t.Errorf("%v", seen)
	}
}

// Machines are served by their numbers, those without one after them; and after all of these, in the same order, those with a foot that no stock helps.
func TestClassesInTheirOrder(t *testing.T) {
	stock := []StockItem{{MM: 1, Count: 3}, {MM: 0.2, Count: 2}}
	var feet []StockFoot
	want := []ShareClass{{Priority: 1}, {Priority: 2}, {Priority: 7}, {}, {Priority: 2, Helpless: true}, {Helpless: true}}
	for m, c := range []struct {
		priority int
		helpless float64 // the change of a second foot
	}{{0, 0}, {7, 0}, {2, 0.613}, {1, 0}, {0, math.NaN()}, {2, 0}, {0, -3}, {1, 0}} {
		feet = append(feet, StockFoot{Change: 1, Machine: m, Priority: c.priority})
		if c.helpless != 0 {
			feet = append(feet, StockFoot{Change: c.helpless, InPlace: []float64{}, Machine: m, Priority: c.priority})
		}
	}
	p, err := Allocate(stock, feet, &StockOptions{Tolerance: 0.01, MaxPieces: 3, ByMachines: true})
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Shares) != len(want) {
		t.Fatalf("%+v", p.Shares)
	}
	met := 0
	for i, s := range p.Shares {
		if s.Priority != want[i].Priority || s.Helpless != want[i].Helpless {
			t.Errorf("turn %d: %+v, want %+v", i, s, want[i])
		}
		asked := []int{2, 1, 1, 1, 1, 2}[i]
		if s.Asked != asked || s.Met != min(asked, max(0, 3-met)) || s.Bound != s.Met { // three pieces of 1 mm, which nothing else makes
			t.Errorf("turn %d: %+v, before it %d are met", i, s, met)
		}
		met += s.Met
	}
	if met != 3 || !p.Proved || p.Met != 3 || !p.Contended {
		t.Errorf("%d met: %+v", met, p)
	}
}

// Packs of laminated and solid pieces: each piece is of the stock, a laminated one with its layers beside it and as thick as they are, a solid one with none; where nothing is laminated there are no layers
// at all. The same of a change with pieces in place, of which none counts as laminated.
func TestLayersOfPacks(t *testing.T) {
	stock := []StockItem{{MM: 1, Count: -1}, {MM: 0.5, Count: 2}, {MM: 0.4, Count: -1, Lamination: 0.05}}
	p, err := NewStockPacker(stock, "", 4, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	solid, err := NewStockPacker(stock[:2], "", 4, 0.3)
	if err != nil {
		t.Fatal(err)
	}
	laminated := 0
	check := func(k *Pack, keep []float64) {
		t.Helper()
		if len(k.Layers) != len(k.Pieces) {
			t.Fatalf("%v with layers %v", k.Pieces, k.Layers)
		}
		keep = slices.Clone(keep)
		for i, mm := range k.Pieces {
			if n := k.Layers[i]; n > 0 {
				laminated++
				if math.Abs(mm-0.05*float64(n)) > 1e-9 || n > 8 {
					t.Errorf("%g mm of %d layers in %v", mm, n, k.Pieces)
				}
			} else if at := slices.Index(keep, mm); at >= 0 {
				keep = slices.Delete(keep, at, at+1)
			} else if mm != 1 && mm != 0.5 {
				t.Errorf("%g mm is no solid piece: %v, layers %v", mm, k.Pieces, k.Layers)
			}
		}
	}
	for um := 0; um < 3000; um += 37 {
		k := p.Pack(float64(um) / 1000)
		check(&k, nil)
		for _, c := range p.Candidates(nil, float64(um)/1000, 0.05, 3) {
			check(&c, nil)
		}
		if s := solid.Pack(float64(um) / 1000); s.Layers != nil {
			t.Errorf("solid pieces with layers: %v", s)
		}
		for _, place := range [][]float64{{0.3}, {0.5, 0.07}, {}, nil} {
			c, err := p.Change(float64(um)/1000-0.2, place)
			if err != nil {
				t.Fatal(err)
			}
			if c.Status == ChangeMet || c.Status == ChangeNearest {
				if len(c.Pieces) > 0 {
					check(&c.Pack, c.Keep)
				}
			}
			if s, err := solid.Change(float64(um)/1000-0.2, place); err != nil || s.Layers != nil {
				t.Errorf("solid pieces with layers: %v, %v", s, err)
			}
		}
	}
	if laminated < 100 {
		t.Errorf("%d laminated pieces", laminated)
	}
}

// What may lie under a foot: sixteen pieces and not seventeen, of a thickness that can be; a tolerance up to a millimetre; one to eight pieces. By Change and by Allocate alike.
func TestFeetThatCannotBe(t *testing.T) {
	stock := []StockItem{{MM: 1, Count: -1}, {MM: 0.1, Count: -1}}
	p, err := NewStockPacker(stock, "", 4, 0.02)
	if err != nil {
		t.Fatal(err)
	}
	pieces := func(n int) []float64 { return slices.Repeat([]float64{0.1}, n) }
	for _, c := range []struct {
		what string
		foot StockFoot
		ok   bool
	}{
		{"sound", StockFoot{Change: 0.5, InPlace: []float64{1}}, true}, {"sixteen pieces", StockFoot{Change: 0.5, InPlace: pieces(16)}, true}, {"seventeen", StockFoot{Change: 0.5, InPlace: pieces(17)}, false},
		{"a piece of nothing", StockFoot{Change: 0.5, InPlace: []float64{0}}, false}, {"a piece below", StockFoot{Change: 0.5, InPlace: []float64{1, -0.1}}, false}, {"a piece that is none", StockFoot{Change: 0.5, InPlace: []float64{math.NaN()}}, false},
		{"a millimetre of tolerance", StockFoot{Change: 0.5, Tolerance: 1}, true}, {"more", StockFoot{Change: 0.5, Tolerance: 1.001}, false}, {"a tolerance below", StockFoot{Change: 0.5, Tolerance: -0.01}, false},
		{"one piece", StockFoot{Change: 0.5, MaxPieces: 1}, true}, {"eight", StockFoot{Change: 0.5, MaxPieces: 8}, true}, {"nine", StockFoot{Change: 0.5, MaxPieces: 9}, false}, {"fewer than none", StockFoot{Change: 0.5, MaxPieces: -1}, false},
		{"no change", StockFoot{Change: math.NaN()}, true},
	} {
		_, err := Allocate(stock, []StockFoot{c.foot}, &StockOptions{Tolerance: 0.02, MaxPieces: 4})
		if (err == nil) != c.ok {
			t.Errorf("%s: %v", c.what, err)
		}
		if c.foot.Tolerance == 0 && c.foot.MaxPieces == 0 {
			if _, err := p.Change(c.foot.Change, c.foot.InPlace); (err == nil) != c.ok {
				t.Errorf("%s: %v", c.what, err)
			}
		}
	}
	for _, o := range []struct {
		opt StockOptions
		ok  bool
	}{{StockOptions{}, true}, {StockOptions{SparePercent: 1e6}, true}, {StockOptions{SparePercent: 1.1e6}, false}, {StockOptions{SparePercent: -1}, false}, {StockOptions{SparePercent: math.NaN()}, false}, {StockOptions{SpareMin: -1}, false}, {StockOptions{SpareMin: 1}, true},
		{StockOptions{MaxPieces: 9}, false}, {StockOptions{Tolerance: -1}, false}} {
		if _, err := Allocate(stock, []StockFoot{{Change: 0.5}}, &o.opt); (err == nil) != o.ok {
			t.Errorf("%+v: %v", o.opt, err)
		}
	}
	many := func(n int) (list []StockItem) {
		for i := range n {
			list = append(list, StockItem{MM: 0.1 + float64(i)/1000, Count: 1})
		}
		return list
	}
	for n, ok := range map[int]bool{0: false, 1: true, 64: true, 65: false} {
		if _, err := Allocate(many(n), []StockFoot{{Change: 0.1, MaxPieces: 1}}, nil); (err == nil) != ok {
			t.Errorf("%d items: %v", n, err)
		}
	}
	for n, ok := range map[int]bool{0: true, 20_000: true, 20_001: false} {
		if _, err := Allocate(stock, make([]StockFoot, n), nil); (err == nil) != ok {
			t.Errorf("%d feet: %v", n, err)
		}
	}
}

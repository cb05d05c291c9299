package packs

import (
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// A stockJob is a random job in whole micrometres, so that a solver's sums are exact, too.
type stockJob struct {
	stock []StockItem
	feet  []StockFoot
	opt   StockOptions
}

// drawJob draws a job: feet in random number up to most, items in number up to kinds, about share of the pieces that would do.
func drawJob(rng *rand.Rand, most, kinds int, share float64) stockJob {
	um := func(v int) float64 { return float64(v) / 1000 }
	var s stockJob
	s.opt = StockOptions{Tolerance: um([]int{5, 12, 25}[rng.IntN(3)]), MaxPieces: 1 + rng.IntN(4), ReturnRemoved: rng.IntN(3) == 0}
	n := 2 + rng.IntN(most-1)
	from := []int{25, 50, 75, 100, 150, 200, 300, 400, 500, 700, 1000}
	for _, i := range rng.Perm(len(from))[:2+rng.IntN(kinds-1)] {
		it := StockItem{MM: um(from[i]), Count: rng.IntN(1 + int(share*float64(n)))}
		switch rng.IntN(8) {
		case 0:
			it.Count = -1
		case 1:
			it.Size = "A"
		case 2:
			it.Size = "B"
		case 3:
			it.MM, it.Lamination = um(50*(1+rng.IntN(5))), um(50)
		}
		s.stock = append(s.stock, it)
	}
	for i := range n {
		f := StockFoot{ID: fmt.Sprint("foot ", i), Size: []string{"", "A", "B"}[rng.IntN(3)]}
		if rng.IntN(3) == 0 {
			f.MaxPieces = 1 + rng.IntN(4)
		}
		if rng.IntN(4) == 0 {
			f.Tolerance = um(5 + rng.IntN(20))
		}
		was := 0
		if rng.IntN(2) == 0 {
			f.InPlace = []float64{}
			for range rng.IntN(4) {
				v := append(from, 30)[rng.IntN(len(from)+1)]
				was += v
				f.InPlace = append(f.InPlace, um(v))
			}
		}
		aim := 0
		for range 1 + rng.IntN(4) { // near a pack of the stock
			aim += int(math.Round(s.stock[rng.IntN(len(s.stock))].MM * 1000))
		}
		aim += rng.IntN(25) - 12
		if rng.IntN(12) == 0 {
			aim = rng.IntN(3000) - 400
		}
		f.Change = um(aim - was)
		s.feet = append(s.feet, f)
	}
	return s
}

// settings are a foot's tolerance and number of pieces.
func (s *stockJob) settings(f *StockFoot) (tol float64, pieces int) {
	tol, pieces = s.opt.Tolerance, s.opt.MaxPieces
	if f.Tolerance > 0 {
		tol = f.Tolerance
	}
	if f.MaxPieces > 0 {
		pieces = f.MaxPieces
	}
	return
}

// checkPlan holds a plan to what its comment promises: no overdraft, every pack adds up and fits, totals and order list.
func checkPlan(t testing.TB, s *stockJob, p *StockPlan) {
	t.Helper()
	fail := func(format string, args ...any) {
		t.Helper()
		t.Fatalf("%s\njob %+v\nplan %+v", fmt.Sprintf(format, args...), *s, *p)
	}
	if len(p.Returned) > 0 { // stock like any other
		if !s.opt.ReturnRemoved {
			fail("returned %v", p.Returned)
		}
		with := *s
		with.stock = slices.Concat(s.stock, p.Returned)
		s = &with
	}
	if len(p.Picks) != len(s.feet) || len(p.Order) != len(s.stock) {
		fail("%d picks, %d lines", len(p.Picks), len(p.Order))
	}
	used, wanted := make([]int, len(s.stock)), make([]int, len(s.stock))
	back := map[int64]int{} // by thickness in nm: taken out and not used again
	met, pieces, errs := 0, 0, 0.0
	for i := range p.Picks {
		k, f := &p.Picks[i], &s.feet[i]
		tol, most := s.settings(f)
		if k.Status != PickMet && !k.Status.Short() {
			continue
		}
		was, sum := 0.0, 0.0
		for _, v := range f.InPlace {
			was += v
		}
		for _, v := range k.Pieces {
			sum += v
		}
		if len(k.Pieces) > most || math.Abs(sum-k.Sum) > 1e-9 || math.Abs(k.Sum-was-f.Change-k.Error) > 1e-9 || math.Abs(k.Error) > tol+1e-8*(1+math.Abs(f.Change)) || math.Abs(k.Net-k.Sum+was) > 1e-9 {
			fail("foot %d: pack %+v", i, *k)
		}
		round := func(a ...[]float64) (out []int64) {
			for _, v := range slices.Concat(a...) {
				out = append(out, int64(math.Round(v*1e6)))
			}
			slices.Sort(out)
			return
		}
		if !slices.Equal(round(k.Keep, k.Take), round(f.InPlace)) || !slices.Equal(round(k.Keep, k.Put), round(k.Pieces)) || len(k.Items) != len(k.Put) {
			fail("foot %d: keep %v, take %v, put %v of %v", i, k.Keep, k.Take, k.Put, k.Items)
		}
		for n, it := range k.Items {
			item := &s.stock[it]
			nm := int64(math.Round(k.Put[n] * 1e6))
			full := int64(math.Round(item.MM * 1e6))
			if layer := int64(math.Round(item.Lamination * 1e6)); item.Size != "" && item.Size != f.Size || layer == 0 && nm != full || layer > 0 && (nm%layer != 0 || nm > full) {
				fail("foot %d: %g mm from item %+v", i, k.Put[n], *item)
			}
			if k.Status == PickMet {
				used[it]++
			} else {
				wanted[it]++
			}
		}
		if k.Status == PickMet {
			met++
			pieces += len(k.Pieces)
			errs += math.Abs(k.Error)
		}
		if k.Status == PickMet && s.opt.ReturnRemoved {
			for _, v := range k.Take {
				back[int64(math.Round(v*1e6))]++
			}
		}
	}
	if met != p.Met || pieces != p.Pieces || math.Abs(errs-p.Error) > 1e-9 {
		fail("%d feet, %d pieces, error %g", met, pieces, errs)
	}
	if s.opt.ByMachines && !s.opt.FewestThicknesses {
		served := map[int]PickStatus{}
		for i := range p.Picks {
			k := p.Picks[i].Status
			if k == PickWaits {
				k = PickShort
			}
			if was, ok := served[s.feet[i].Machine]; (k == PickMet || k == PickShort) && ok && was != k {
				fail("machine %d is served in part", s.feet[i].Machine)
			}
			if k == PickMet || k == PickShort {
				served[s.feet[i].Machine] = k
			}
		}
	}
	if p.Met > p.BoundFeet || p.GapFeet != p.BoundFeet-p.Met || p.ErrorBound > p.Error || p.BoundFeet > max(p.Asked, p.Met) && !p.Cancelled {
		fail("bounds")
	}
	carry := s.opt.FewestThicknesses
	for i, o := range p.Order {
		c := s.stock[i].Count
		if o.Item != i || o.Used != used[i] || o.Counted != (c >= 0) {
			fail("line %+v, used %d", o, used[i])
		}
		if !carry && c >= 0 && o.Used > c+o.Back {
			fail("line %+v: the box holds %d", o, c)
		}
		if !s.opt.ReturnRemoved && o.Back != 0 {
			fail("line %+v: nothing goes back", o)
		}
		base := max(0, o.Used-o.Back)
		if c >= 0 {
			if base = max(0, used[i]+wanted[i]-c-o.Back); o.Missing != base {
				fail("line %+v: missing %d", o, base)
			}
		}
		if base > 0 {
			base += max(s.opt.SpareMin, int(math.Ceil(float64(base)*s.opt.SparePercent/100-1e-9)))
		}
		if o.Order != base {
			fail("line %+v: order %d", o, base)
		}
	}
	// Nothing goes back that was not taken out, and of a thickness that is not in the list no more is used.
	if s.opt.ReturnRemoved {
		for i, o := range p.Order {
			if s.stock[i].Lamination == 0 {
				back[int64(math.Round(s.stock[i].MM*1e6))] -= o.Back
			} else if o.Back != 0 {
				fail("line %+v: a peeled shim goes back", o)
			}
		}
		for k, n := range back {
			if n < 0 {
				fail("%d nm: %d more used than given back", k, -n)
			}
		}
	}
}

// TestStockIsTheRowsPacks: as long as nothing runs short every foot gets the pack of its row.
func TestStockIsTheRowsPacks(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 11))
	compared := 0
	for range longCases(2000) {
		s := drawJob(rng, 12, 6, 1)
		for i := range s.stock {
			if s.stock[i].Count > 0 || rng.IntN(3) > 0 {
				s.stock[i].Count = -1
			}
		}
		p, err := Allocate(s.stock, s.feet, &s.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, &s, p)
		if p.Contended {
			if !s.opt.ReturnRemoved {
				t.Fatalf("nothing can run short: %+v", p)
			}
			continue
		}
		for i := range s.feet {
			f := &s.feet[i]
			tol, most := s.settings(f)
			q, err := NewStockPacker(s.stock, f.Size, most, tol)
			if err != nil {
				continue
			}
			c, err := q.Change(f.Change, f.InPlace)
			if err != nil {
				t.Fatal(err)
			}
			if got := &p.Picks[i]; c.Status == ChangeMet {
				if compared++; got.Status != PickMet || !slices.Equal(got.Pieces, c.Pieces) || !slices.Equal(got.Put, c.Put) || got.Leave != c.Leave || math.Abs(got.Error-c.Error) > 1e-12 {
					// The same number of pieces and thickness with other pieces is as good.
					if got.Status != PickMet || len(got.Pieces) != len(c.Pieces) || len(got.Put) != len(c.Put) || math.Abs(got.Sum-c.Sum) > 1e-9 {
						t.Fatalf("foot %+v of %+v: %+v, alone %+v", *f, s.stock, *got, c)
					}
				}
			} else if c.Status == ChangeBelow && (got.Status != PickBelow || math.Abs(got.Shortfall-c.Shortfall) > 1e-9) ||
				c.Status == ChangeUnlisted && (got.Status != PickUnlisted || got.Sum != c.Sum && c.OK) || c.Status == ChangeNearest && got.Status == PickMet {
				t.Fatalf("foot %+v: %+v, alone %+v", *f, *got, c)
			}
		}
	}
	if compared < longCases(3000) {
		t.Errorf("only %d packs compared", compared)
	}
}

// TestFewestThicknesses compares what to carry with every subset of the stock.
func TestFewestThicknesses(t *testing.T) {
	//evidence: calc=fewest thicknesses to carry grade=independent count=250 source=every subset of the stock with brute force over the packs of each foot
	rng := rand.New(rand.NewPCG(12, 12))
	some := 0
	for range longCases(1000) {
		s := drawJob(rng, 8, 6, 1)
		s.opt.FewestThicknesses, s.opt.ReturnRemoved = true, false
		s.opt.SpareMin, s.opt.SparePercent = rng.IntN(3), float64(rng.IntN(30))
		p, err := Allocate(s.stock, s.feet, &s.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, &s, p)
		asked := func(set int) (feet, pieces int, err int64) {
			for i := range s.feet {
				f := &s.feet[i]
				if f.InPlace == nil && f.Change < 0 {
					continue
				}
				tol, most := s.settings(f)
				var carried []StockItem
				for k, it := range s.stock {
					if it.Count = -1; set>>k&1 == 1 {
						carried = append(carried, it)
					}
				}
				var place []int64
				was := int64(0)
				for _, v := range f.InPlace {
					place = append(place, int64(math.Round(v*1e6)))
					was += place[len(place)-1]
				}
				var fresh [][2]int64
				for m := range bruteNew(carried, f.Size, most) {
					fresh = append(fresh, m)
				}
				want := was + int64(math.Round(f.Change*1e6))
				if n, _, sum, in := bruteChange(fresh, place, most, want, int64(math.Round(tol*1e6))); in {
					feet++
					err += max(sum-want, want-sum)
					pieces += int(n)
				}
			}
			return
		}
		all, _, _ := asked(1<<len(s.stock) - 1)
		least, pieces, err1 := -1, 0, int64(0)
		for set := range 1 << len(s.stock) {
			if least >= 0 && bits.OnesCount(uint(set)) > least {
				continue
			}
			if f, n, e := asked(set); f == all {
				if k := bits.OnesCount(uint(set)); least < 0 || k < least || n < pieces || n == pieces && e < err1 {
					least, pieces, err1 = k, n, e
				}
			}
		}
		if len(p.Carry) != least || p.CarryBound != least || p.Met != all || p.Pieces != pieces || !p.Proved || math.Abs(p.Error-float64(err1)/1e6) > 1e-9 {
			t.Fatalf("job %+v: carry %v, %d pieces for %d feet; brute force %d items, %d pieces, %d feet", s, p.Carry, p.Pieces, p.Met, least, pieces, all)
		}
		for _, k := range p.Picks {
			for _, it := range k.Items {
				if k.Status == PickMet && !slices.Contains(p.Carry, it) {
					t.Fatalf("item %d is not carried: %v", it, p.Carry)
				}
			}
		}
		if least > 1 && least < len(s.stock) {
			some++
		}
	}
	if some < longCases(1000)/4 {
		t.Errorf("only %d jobs leave a choice", some)
	}
}

// TestStockAgainstStates compares jobs of many feet over few items with the best way to every state that the box can be in, foot by foot, and the
// bounds without the exact search with the same.
func TestStockAgainstStates(t *testing.T) {
	//evidence: calc=stock of a job grade=independent count=750 source=dynamic programming over every state of the box, foot by foot, with brute force over the packs of each foot
	rng := rand.New(rand.NewPCG(16, 16))
	contended, missed := 0, 0
	for range longCases(3000) {
		var s stockJob
		s.opt = StockOptions{Tolerance: 0.025, MaxPieces: 1 + rng.IntN(4)}
		um := [3]int{50, 100 + 10*rng.IntN(5), 210 + 10*rng.IntN(10)}
		var count [3]int
		for i, v := range um {
			count[i] = rng.IntN(9)
			s.stock = append(s.stock, StockItem{MM: float64(v) / 1000, Count: count[i]})
		}
		type value struct{ met, err, pieces int }
		better := func(a, b value) bool {
			return a.met > b.met || a.met == b.met && (a.err < b.err || a.err == b.err && a.pieces < b.pieces)
		}
		now := map[[3]int]value{count: {}}
		for range 6 + rng.IntN(10) {
			want := rng.IntN(700)
			s.feet = append(s.feet, StockFoot{Change: float64(want) / 1000})
			next := map[[3]int]value{}
			for left, v := range now {
				for a := 0; a <= min(left[0], s.opt.MaxPieces); a++ {
					for b := 0; b <= min(left[1], s.opt.MaxPieces-a); b++ {
						for c := 0; c <= min(left[2], s.opt.MaxPieces-a-b); c++ {
							e := a*um[0] + b*um[1] + c*um[2] - want
							e = max(e, -e)
							w := value{v.met + 1, v.err + e, v.pieces + a + b + c}
							if e > 25 {
								if w = v; a+b+c > 0 {
									continue
								}
							}
							to := [3]int{left[0] - a, left[1] - b, left[2] - c}
							if o, ok := next[to]; !ok || better(w, o) {
								next[to] = w
							}
							if o, ok := next[left]; !ok || better(v, o) { // or not met
								next[left] = v
							}
						}
					}
				}
			}
			now = next
		}
		best := value{}
		for _, v := range now {
			if better(v, best) {
				best = v
			}
		}
		p, err := Allocate(s.stock, s.feet, &s.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, &s, p)
		if p.Contended {
			if contended++; !p.Proved || p.Met != best.met || math.Abs(p.Error-float64(best.err)/1000) > 1e-9 || p.Pieces != best.pieces {
				t.Fatalf("job %+v\nplan %+v\nmet %d, error %g, %d pieces, proved %v; best %+v", s, *p, p.Met, p.Error, p.Pieces, p.Proved, best)
			}
		} else if p.Met != best.met {
			t.Fatalf("job %+v: %d met, best %+v", s, p.Met, best)
		}
		s.opt.Nodes = 1
		p, _ = Allocate(s.stock, s.feet, &s.opt)
		checkPlan(t, &s, p)
		if best.met > p.BoundFeet || best.met >= p.Met && p.Contended && float64(best.err)/1000 < p.ErrorBound-1e-9 {
			t.Fatalf("job %+v\nplan %+v\nbound %d feet, error %g; best %+v", s, *p, p.BoundFeet, p.ErrorBound, best)
		}
		if p.Met < best.met {
			missed++
		}
	}
	t.Logf("%d contended; the heuristic alone misses a foot in %d", contended, missed)
	if contended < longCases(3000)/3 {
		t.Error("the draw has become too easy")
	}
}

// manyFeet is machines × 4 feet with the assumed stock, about share of the pieces that would do.
func manyFeet(machines int, share float64) stockJob {
	rng := rand.New(rand.NewPCG(13, 13))
	var s stockJob
	for _, k := range tables.DefaultStock(true) {
		c := -1
		if share > 0 {
			c = int(share * float64(machines) * (0.5 + rng.Float64()))
		}
		s.stock = append(s.stock, StockItem{MM: k.MM, Count: c})
	}
	s.opt = StockOptions{Tolerance: tables.PackToleranceInch, MaxPieces: tables.MaxPieces}
	for i := range 4 * machines {
		f := StockFoot{ID: fmt.Sprint(i), Change: 1.5 * rng.Float64()}
		if i%3 == 0 {
			f.InPlace = []float64{s.stock[rng.IntN(12)].MM, s.stock[rng.IntN(12)].MM}
			f.Change -= 0.5
		}
		s.feet = append(s.feet, f)
	}
	return s
}

// A large job, and one with more items than are searched in full, keep their promises; the same job gives the same plan.
func TestStockLarge(t *testing.T) {
	for _, share := range []float64{-1, 0.3, 0.6, 1} {
		s := manyFeet(max(15, cases(60)), share)
		calls := 0
		s.opt.Progress = func(done, total int) bool {
			if calls++; done < 0 || done > total {
				t.Fatalf("%d of %d", done, total)
			}
			return true
		}
		p, err := Allocate(s.stock, s.feet, &s.opt)
		if err != nil {
			t.Fatal(err)
		}
		checkPlan(t, &s, p)
		asked := calls
		again, _ := Allocate(s.stock, s.feet, &s.opt)
		if !reflect.DeepEqual(p, again) {
			t.Fatal("the same job gives another plan")
		}
		t.Logf("share %g: %d of %d met, bound %d, error %.4f bound %.4f, proved %v, contended %v", share, p.Met, p.Asked, p.BoundFeet, p.Error, p.ErrorBound, p.Proved, p.Contended)
		if calls == 0 {
			t.Error("no progress")
		}
		// Stopped anywhere it is still a plan.
		for stop := 1; stop < asked; stop += 1 + asked/7 {
			n := 0
			s.opt.Progress = func(done, total int) bool { n++; return n < stop }
			p, err := Allocate(s.stock, s.feet, &s.opt)
			if err != nil || !p.Cancelled || p.Proved {
				t.Fatalf("stopped: %v, %v", p.Cancelled, err)
			}
			checkPlan(t, &s, p)
		}
	}
	s := manyFeet(20, -1)
	for i := range 8 {
		s.stock = append(s.stock, StockItem{MM: 0.11 + 0.03*float64(i), Count: i})
	}
	s.opt.FewestThicknesses = true
	p, err := Allocate(s.stock, s.feet, &s.opt)
	if err != nil || p.Met != p.Asked || p.CarryBound > len(p.Carry) || p.Proved {
		t.Fatalf("carry %v, bound %d, %d of %d: %v", p.Carry, p.CarryBound, p.Met, p.Asked, err)
	}
	checkPlan(t, &s, p)
}

func TestStockSaysWhatIsWrong(t *testing.T) {
	ok := []StockItem{{MM: 0.1, Count: -1}}
	for _, c := range []struct {
		stock []StockItem
		feet  []StockFoot
		opt   *StockOptions
	}{
		{nil, nil, nil},
		{[]StockItem{{MM: -1}}, nil, nil},
		{make([]StockItem, 65), nil, nil},
		{ok, nil, &StockOptions{MaxPieces: 9}},
		{ok, nil, &StockOptions{Tolerance: -1}},
		{ok, nil, &StockOptions{SparePercent: -1}},
		{ok, nil, &StockOptions{SparePercent: math.NaN()}},
		{ok, []StockFoot{{Tolerance: 2}}, nil},
		{ok, []StockFoot{{Tolerance: math.NaN()}}, nil},
		{ok, []StockFoot{{MaxPieces: 9}}, nil},
		{ok, []StockFoot{{InPlace: []float64{0}}}, nil},
		{ok, []StockFoot{{InPlace: make([]float64, 17)}}, nil},
		{ok, make([]StockFoot, 20_001), nil},
	} {
		if p, err := Allocate(c.stock, c.feet, c.opt); err == nil {
			t.Errorf("%+v: no error, %+v", c.opt, p)
		}
	}
	p, err := Allocate(ok, []StockFoot{{Change: math.NaN()}, {Change: -1, InPlace: []float64{0.5}}, {Change: -0.2}, {Change: 0.15}, {Change: 0.3}, {Change: 0.1, Size: "A"}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	var got []PickStatus
	for _, k := range p.Picks {
		got = append(got, k.Status)
	}
	if want := []PickStatus{PickNone, PickBelow, PickUnlisted, PickNoPack, PickMet, PickMet}; !slices.Equal(got, want) || p.Picks[1].Shortfall != 0.5 || p.Asked != 2 {
		t.Errorf("statuses %v, want %v; %+v", got, want, p)
	}
}

// The order list: what is short with the allowance, rounded up.
func TestOrderList(t *testing.T) {
	stock := []StockItem{{MM: 0.5, Count: 3}, {MM: 1, Count: -1}}
	var feet []StockFoot
	for range 10 {
		feet = append(feet, StockFoot{Change: 0.5})
	}
	feet = append(feet, StockFoot{Change: 1}, StockFoot{Change: 2})
	p, err := Allocate(stock, feet, &StockOptions{SparePercent: 10, SpareMin: 1})
	if err != nil {
		t.Fatal(err)
	}
	want := []OrderLine{{0, 3, 0, 7, true, 8}, {1, 3, 0, 0, false, 4}}
	if !slices.Equal(p.Order, want) || p.Met != 5 || p.Asked != 12 || p.GapFeet != 0 {
		t.Errorf("%+v, met %d of %d", p.Order, p.Met, p.Asked)
	}
	p, _ = Allocate(stock, feet, &StockOptions{SparePercent: 50})
	if p.Order[0].Order != 11 || p.Order[1].Order != 5 {
		t.Errorf("half more: %+v", p.Order)
	}
	// A piece taken out at one foot serves another, if it may.
	stock = []StockItem{{MM: 0.5, Count: 0}}
	feet = []StockFoot{{Change: 0.5, InPlace: []float64{}}, {Change: -0.5, InPlace: []float64{0.5, 0.5}}}
	for _, back := range []bool{false, true} {
		p, err := Allocate(stock, feet, &StockOptions{ReturnRemoved: back})
		if err != nil || p.Met != map[bool]int{false: 1, true: 2}[back] || p.Order[0].Missing != map[bool]int{false: 1, true: 0}[back] {
			t.Errorf("going back %v: %+v, %v", back, p, err)
		}
	}
}

func FuzzStock(f *testing.F) {
	for seed := range uint64(6) {
		f.Add(seed, 0.1, 0.3, 0.05, 2, 30)
	}
	f.Fuzz(func(t *testing.T, seed uint64, mm, change, lam float64, count, nodes int) {
		rng := rand.New(rand.NewPCG(seed, 1))
		s := drawJob(rng, 10, 5, 0.7)
		s.stock = append(s.stock, StockItem{MM: mm, Count: count})
		if rng.IntN(2) == 0 {
			s.stock[len(s.stock)-1].Lamination = lam
		}
		s.feet[0].Change = change
		s.opt.Nodes = 1 + int(uint(nodes)%500) // a search of the usual length takes the fuzzer past its ten seconds
		s.opt.FewestThicknesses, s.opt.ByMachines = rng.IntN(4) == 0, rng.IntN(2) == 0
		for i := range s.feet {
			s.feet[i].Machine, s.feet[i].Priority = i/3, i/3%3
		}
		if p, err := Allocate(s.stock, s.feet, &s.opt); err == nil && math.Abs(change) < 1e3 {
			checkPlan(t, &s, p)
		}
	})
}

// BenchmarkStockPlant shares out the stock of a hundred shutdowns of 10 to 30 machines.
func BenchmarkStockPlant(b *testing.B) {
	for _, machines := range []bool{false, true} {
		b.Run(fmt.Sprint("machines=", machines), func(b *testing.B) {
			n, proved := 0, 0
			for b.Loop() {
				s := plantJob(rand.New(rand.NewPCG(17, uint64(n%100))))
				s.opt.ByMachines = machines
				if p, _ := Allocate(s.stock, s.feet, &s.opt); p.Proved {
					proved++
				}
				n++
			}
			b.ReportMetric(float64(proved)/float64(n), "proved")
		})
	}
}

// BenchmarkStock shares a counted box out over 500 machines with four feet each.
func BenchmarkStock(b *testing.B) {
	for _, share := range []float64{0.3, 0.6} {
		b.Run(fmt.Sprint("share=", share), func(b *testing.B) { benchStock(b, manyFeet(500, share)) })
	}
}

// BenchmarkStockCarry chooses the fewest of twelve thicknesses for the same job.
func BenchmarkStockCarry(b *testing.B) {
	s := manyFeet(500, -1)
	s.opt.FewestThicknesses = true
	benchStock(b, s)
}

func benchStock(b *testing.B, s stockJob) {
	var p *StockPlan
	for b.Loop() {
		p, _ = Allocate(s.stock, s.feet, &s.opt)
	}
	b.ReportMetric(float64(p.Met), "met")
	b.ReportMetric(float64(p.BoundFeet), "bound")
}

// BenchmarkChange makes a pack with three pieces in place.
func BenchmarkChange(b *testing.B) {
	p, _ := NewPacker(tables.DefaultStock(false), tables.MaxPieces, tables.PackToleranceMM)
	place := []float64{0.5, 0.2, 0.05}
	x := 0.0
	for b.Loop() {
		if x += 0.0137; x > 3 {
			x = 0
		}
		if c, err := p.Change(x-0.5, place); err != nil || c.Status == ChangeNone {
			b.Fatal(err)
		}
	}
}

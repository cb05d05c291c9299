package packs

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestGreedyByItsRule makes the first plan of random parts once more, from what is said of it: of each class those blocks first that draw least of what is scarce (pieces by what is on hand and one), each foot taking
// the candidate that draws least and is still there; a block that does not come out whole takes nothing. Where nothing comes back, no block that is left out could be met with what remains.
func TestGreedyByItsRule(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 11))
	parts, leftOut := 0, 0
	for round := range 200 {
		for _, p := range openParts(t, rng, round%2 == 0) {
			parts++
			j := p.j
			for _, f := range p.feet {
				j.feet[f].pick = -1
			}
			p.left, p.cur = slices.Clone(j.left), score{}
			p.greedy()
			got := p.picks()

			weigh := func(c *cand) (s float64) {
				for _, d := range c.draw {
					if d.n > 0 {
						s += float64(d.n) / float64(1+j.left[d.item])
					}
				}
				return s
			}
			order := make([]int, len(p.blocks))
			by := make([]float64, len(p.blocks))
			for b := range p.blocks {
				order[b] = b
				for _, f := range p.blocks[b].feet {
					least := math.Inf(1)
					for k := range j.feet[p.feet[f]].cands {
						least = min(least, weigh(&j.feet[p.feet[f]].cands[k]))
					}
					by[b] += least
				}
			}
			slices.SortStableFunc(order, func(a, b int) int {
				return cmp.Or(cmp.Compare(p.blocks[a].class, p.blocks[b].class), cmp.Compare(by[a], by[b]), cmp.Compare(a, b))
			})
			left := slices.Clone(j.left)
			want := slices.Repeat([]int{-1}, len(p.feet))
			rounds := 1
			if j.opt.ReturnRemoved {
				rounds = 2
			}
			for range rounds {
				for _, b := range order {
					feet := p.blocks[b].feet
					if want[feet[0]] >= 0 {
						continue
					}
					was := slices.Clone(left)
					for _, f := range feet {
						best, low := -1, math.Inf(1)
						for k := range j.feet[p.feet[f]].cands {
							c := &j.feet[p.feet[f]].cands[k]
							there := true
							for _, d := range c.draw {
								there = there && left[d.item] >= int(d.n)
							}
							if v := weigh(c); there && v < low-1e-12 {
								best, low = k, v
							}
						}
						if best < 0 {
							for _, f := range feet {
								want[f] = -1
							}
							left = was
							break
						}
						want[f] = best
						for _, d := range j.feet[p.feet[f]].cands[best].draw {
							left[d.item] -= int(d.n)
						}
					}
				}
			}
			if !slices.Equal(got, want) || !slices.Equal(left, p.left) {
				t.Fatalf("the first plan is %v, by its rule %v; left %v, %v", got, want, p.left, left)
			}
			met, cost := 0, int64(0)
			for f, k := range got {
				if k >= 0 {
					met++
					cost += j.feet[p.feet[f]].cands[k].cost
				} else {
					leftOut++
				}
			}
			if p.cur != (score{met, cost}) {
				t.Fatalf("the plan counts as %+v, it meets %d at %d", p.cur, met, cost)
			}
		}
	}
	if parts < 80 || leftOut < 80 {
		t.Errorf("%d parts, %d feet left out", parts, leftOut)
	}
}

// TestExchangeEndsWhereNothingGains: after the exchanges no foot could have a better candidate that the box holds, nor, where nothing comes back into the box, a better one with one other foot giving up what it wants;
// and the plan is no worse than it was and keeps to the box.
func TestExchangeEndsWhereNothingGains(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 12))
	parts, tried, pairs, gained := 0, 0, 0, 0
	for round := range 400 {
		for _, p := range openParts(t, rng, round%2 == 0) {
			parts++
			j := p.j
			for _, f := range p.feet {
				j.feet[f].pick = -1
			}
			p.left, p.cur = slices.Clone(j.left), score{}
			p.greedy()
			was := p.cur
			p.exchange()
			start, left := p.cur, slices.Clone(p.left)
			if was.better(start) {
				t.Fatalf("exchanges made %+v of %+v", start, was)
			}
			if start.better(was) {
				gained++
			}
			sound := func() bool { return !slices.ContainsFunc(p.left, func(n int) bool { return n < 0 }) }
			if !sound() {
				t.Fatalf("overdrawn: %v", p.left)
			}
			for _, i := range p.feet {
				f := &j.feet[i]
				old := f.pick
				if old < 0 && j.opt.ByMachines {
					continue
				}
				for k := range f.cands {
					if k == old {
						break
					}
					p.put(i, k)
					if better := p.cur.better(start); better && sound() {
						t.Fatalf("foot %d could have candidate %d in place of %d: %+v is better than %+v", i, k, old, p.cur, start)
					} else if tried++; better && !j.opt.ReturnRemoved {
						for _, g := range p.feet {
							o := &j.feet[g]
							had := o.pick
							if g == i || had < 0 {
								continue
							}
							for n := -1; n < len(o.cands); n++ {
								if n == had || n < 0 && j.opt.ByMachines {
									continue
								}
								p.put(g, n)
								if pairs++; p.cur.better(start) && sound() {
									t.Fatalf("foot %d could have candidate %d in place of %d with foot %d going from %d to %d", i, k, old, g, had, n)
								}
								p.put(g, had)
							}
						}
					}
					p.put(i, old)
				}
			}
			if p.cur != start || !slices.Equal(p.left, left) {
				t.Fatalf("put back, the plan counts as %+v with %v left, it was %+v with %v", p.cur, p.left, start, left)
			}
		}
	}
	t.Logf("%d parts, %d of them gained; %d candidates, %d pairs tried", parts, gained, tried, pairs)
	if parts < 150 || gained < 20 || tried < 300 || pairs < 600 {
		t.Error("the draw has become too easy")
	}
}

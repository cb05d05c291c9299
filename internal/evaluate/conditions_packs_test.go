package evaluate

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"shimsheet/internal/packs"
)

// A change is the same only where the same pieces are moved and the same lie there.
func TestSameChanges(t *testing.T) {
	base := func() *packs.Change {
		c := &packs.Change{Status: packs.ChangeMet, Take: []float64{1}, Put: []float64{2}, Keep: []float64{3}}
		c.Pieces = []float64{3, 2}
		return c
	}
	for k, by := range []func(*packs.Change){func(c *packs.Change) {}, func(c *packs.Change) { c.Status = packs.ChangeNearest }, func(c *packs.Change) { c.Take = nil }, func(c *packs.Change) { c.Put = []float64{2, 2} }, func(c *packs.Change) { c.Keep = []float64{4} }, func(c *packs.Change) { c.Pieces = []float64{2, 3} }} {
		c := base()
		by(c)
		if sameChange(base(), c) != (k == 0) || sameChange(c, base()) != (k == 0) {
			t.Errorf("%d: %+v", k, c)
		}
	}
	for s, want := range map[packs.ChangeStatus]packs.PickStatus{packs.ChangeMet: packs.PickMet, packs.ChangeNearest: packs.PickNoPack, packs.ChangeUnlisted: packs.PickUnlisted, packs.ChangeBelow: packs.PickBelow, packs.ChangeNone: packs.PickNone} {
		if got := pickStatus(&packs.Change{Status: s}); got != want {
			t.Errorf("%v is %v", s, got)
		}
	}
	if got := thickestFirst([]float64{0.1, 0.5, 0.1, 1}); !slices.Equal(got, []float64{1, 0.5, 0.1, 0.1}) {
		t.Error(got)
	}
}

// More feet than are shared out in one go come to what sharing them out at once does, where the stock does for all: every pick, with its items; what is used, comes back and is to be ordered; and the numbers of the plan. The
// first part is of those whose priority comes first, and no machine is in two.
func TestPartsAreTheWhole(t *testing.T) {
	defer func(n int) { feetAtOnce = n }(feetAtOnce)
	feetAtOnce = 198 // no multiple of the feet of a machine
	items := []packs.StockItem{{MM: 0.1, Count: -1}, {MM: 0.2, Count: 9000}, {MM: 0.5, Count: -1}}
	feet := make([]packs.StockFoot, 804)
	for i := range feet {
		m := i / 4
		feet[i] = packs.StockFoot{ID: fmt.Sprint(i), Machine: m, Priority: m % 3, Change: []float64{0.1, 0.2, 0.7, -0.3}[m%4]}
		if m%4 == 3 {
			feet[i].InPlace = []float64{0.3, 0.5}
		}
	}
	for _, opt := range []packs.StockOptions{{Tolerance: 0.01, MaxPieces: 3, SparePercent: 10}, {ByMachines: true, Tolerance: 0.01, MaxPieces: 3, SparePercent: 7, ReturnRemoved: true}} {
		done, calls := 0, 0
		opt.Progress = func(d, total int) bool {
			if calls++; d < done || total != len(feet) || d > total {
				t.Errorf("%d of %d after %d", d, total, done)
			}
			done = d
			return true
		}
		parts, err := allocateParts(items, feet, &opt)
		if err != nil {
			t.Fatal(err)
		}
		opt.Progress = nil
		whole, err := packs.Allocate(items, feet, &opt)
		if err != nil {
			t.Fatal(err)
		}
		if parts.Asked != whole.Asked || parts.Met != whole.Met || parts.Met != len(feet) && !opt.ReturnRemoved || parts.Pieces != whole.Pieces || math.Abs(parts.Error-whole.Error) > 1e-6 || !parts.Proved || parts.Contended || parts.GapFeet != 0 || parts.Cancelled || calls == 0 {
			t.Errorf("%v: asked %d met %d, %d pieces; at once %d, %d, %d", opt.ByMachines, parts.Asked, parts.Met, parts.Pieces, whole.Asked, whole.Met, whole.Pieces)
		}
		if !opt.ReturnRemoved && fmt.Sprintf("%+v", parts.Order) != fmt.Sprintf("%+v", whole.Order) {
			t.Errorf("%+v, at once %+v", parts.Order, whole.Order)
		}
		used, back := map[int]int{}, 0
		for i := range parts.Picks {
			p := &parts.Picks[i]
			if w := &whole.Picks[i]; math.Abs(p.Net-w.Net) > 1e-9 || p.Status != w.Status {
				t.Fatalf("foot %d: %+v, at once %+v", i, p, w)
			}
			for k, item := range p.Items {
				used[item]++
				if mm := slices.Concat(items, parts.Returned)[item].MM; k < len(p.Put) && !slices.Contains(p.Put, mm) {
					t.Fatalf("foot %d: item %d of %g among %v", i, item, mm, p.Put)
				}
			}
			back += len(p.Take)
		}
		came := 0
		for k, o := range parts.Order {
			if o.Item != k || o.Used != used[k] || o.Counted != (k >= len(items) || items[k].Count >= 0) || o.Missing != 0 {
				t.Errorf("line %d: %+v, %d used", k, o, used[k])
			}
			if need := o.Used - o.Back; k < len(items) && items[k].Count < 0 && need > 0 && o.Order != need+int(math.Ceil(float64(need)*opt.SparePercent/100-1e-9)) {
				t.Errorf("line %d: %+v", k, o)
			}
			came += o.Back
		}
		if opt.ReturnRemoved && came != back || !opt.ReturnRemoved && came != 0 {
			t.Errorf("%d pieces came back of %d", came, back)
		}
		for _, s := range parts.Shares {
			for _, w := range whole.Shares {
				if w.Priority == s.Priority && w.Helpless == s.Helpless && (w.Asked != s.Asked || w.Met != s.Met) {
					t.Errorf("%+v, at once %+v", s, w)
				}
			}
		}
		if len(parts.Shares) != len(whole.Shares) {
			t.Errorf("%+v, at once %+v", parts.Shares, whole.Shares)
		}
	}
	// Too little for all: those of the first priority are served, by whole machines.
	for i := range feet {
		feet[i].Change, feet[i].InPlace = 0.2, nil
	}
	items = []packs.StockItem{{MM: 0.2, Count: 0}}
	for i := range feet {
		if feet[i].Priority == 1 {
			items[0].Count++
		}
	}
	parts, err := allocateParts(items, feet, &packs.StockOptions{ByMachines: true, Tolerance: 0.01, MaxPieces: 3, Nodes: 1000})
	if err != nil || !parts.Contended || parts.Proved || parts.Order[0].Used != items[0].Count || parts.Met != items[0].Count || parts.GapFeet != len(feet)-parts.Met || parts.Order[0].Missing != len(feet)-parts.Met {
		t.Fatalf("%v %+v met %d", err, parts.Order, parts.Met)
	}
	for i := range feet {
		if met := parts.Picks[i].Status == packs.PickMet; met != (feet[i].Priority == 1) {
			t.Fatalf("foot %d of priority %d: %v", i, feet[i].Priority, parts.Picks[i].Status)
		}
	}
}

package sheet

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/packs"
)

// fourPumps are machines of two pairs of feet whose corrections are whole packs of 1 mm, with a priority each.
const fourPumps = "Machine,Priority,Speed,Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n" +
	"A,2,1480,line,400,600,-1,0,0,0\nB,,1480,line,400,600,-2,0,0,0\nC,1,1480,line,400,600,-3,0,0,0\nD,1,1480,line,400,600,-2,0,0,0\n"

// Stock by machines: what is there finishes D (8 pieces) and no other of priority 1, then A (4); by feet it would be under nine feet.
func TestShareByMachines(t *testing.T) {
	stock := "Thickness,Pieces on hand\n1,15\n"
	names := func(a *Allocation, want func(s *Served) bool) (list []string) {
		for i := range a.Machines {
			if want(&a.Machines[i]) {
				list = append(list, a.Machines[i].Machine)
			}
		}
		return
	}
	e, _ := grown(t, nil, "Machines", fourPumps, "Stock", stock)
	a, err := e.Allocate(nil)
	if err != nil || len(e.Problems()) > 0 || len(a.Picks) != 16 {
		t.Fatal(err, e.Problems(), len(a.Picks))
	}
	if got := names(a, (*Served).Whole); !slices.Equal(got, []string{"A", "D"}) || !a.ByMachines || !a.Plan.Proved {
		t.Errorf("served whole: %v; %s", got, e.Proof(a))
	}
	if got := names(a, (*Served).Begun); !slices.Equal(got, []string{"A", "D"}) {
		t.Errorf("begun: %v", got)
	}
	if asked, met := a.MachinesServed(); asked != 4 || met != 2 {
		t.Errorf("%d of %d", met, asked)
	}
	text := e.Proof(a) + "\n" + strings.Join(e.ServedNotes(a), "\n")
	for _, want := range []string{"2 of 4 are served whole (priority 1: 1 of 2, priority 2: 1 of 1, no priority: 0 of 1)", "does better (proved)", "C (priority 1), lacks 9 × 1.00 mm", "B, lacks 8 × 1.00 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in:\n%s", want, text)
		}
	}
	var b bytes.Buffer
	if err := e.ResultsJSON(&b); err != nil || !strings.Contains(b.String(), `"share_by":"machines"`) || !strings.Contains(b.String(), `"machines_asked":4`) || !strings.Contains(b.String(), `"machines_met":2`) {
		t.Errorf("%v: %.200s", err, b.String())
	}
	e, _ = grown(t, nil, "Machines", fourPumps, "Stock", stock, "Job", "Name,Value\nShare stock by,feet\n")
	if a, err = e.Allocate(nil); err != nil || a.ByMachines || a.Plan.Met <= 8 {
		t.Errorf("by feet: %v, %d feet", err, a.Plan.Met)
	}
	// With one priority, or none, there are no classes to tell apart.
	for _, list := range []string{strings.NewReplacer("A,2,", "A,,", "C,1,", "C,,", "D,1,", "D,,").Replace(fourPumps), strings.NewReplacer("A,2,", "A,3,", "B,,", "B,3,", "C,1,", "C,3,", "D,1,", "D,3,").Replace(fourPumps)} {
		e, _ = grown(t, nil, "Machines", list, "Stock", stock)
		if a, err = e.Allocate(nil); err != nil || !strings.Contains(e.Proof(a), "2 of 4 are served whole") || strings.Contains(e.Proof(a), "priority") {
			t.Errorf("%v: %s", err, e.Proof(a))
		}
	}
	// A priority that is none is said, and the row is computed all the same.
	e, r := grown(t, nil, "Machines", strings.Replace(fourPumps, "A,2,", "A,first,", 1), "Stock", stock)
	if len(r.Problems) != 1 || r.Problems[0].Column != "Priority" || r.Verdict != calc.Outside || e.Row(2).Priority != 1 {
		t.Errorf("%+v, %v", r.Problems, r.Verdict)
	}
}

// Reuse removed shims once ended the program with an index out of range where a thickness came back that the Stock sheet does not list. It is stock like any other.
func TestUnlistedThicknessComesBack(t *testing.T) {
	feet := "Machine,Foot,Pack in place\nA,front 9,0.33 + 0.33\nA,front 3,\nA,rear 9,\nA,rear 3,\n"
	list := "Machine,Speed,Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\nA,1480,line,400,600,-0.33,0,0,0\nB,1480,line,400,600,-0.33,0,0,0\n"
	e, _ := grown(t, nil, "Machines", list, "Stock", "Thickness,Pieces on hand\n0.99,8\n0.5,1\n", "Feet", feet, "Job", "Name,Value\nReuse removed shims,yes\n")
	a, err := e.Allocate(nil)
	if err != nil || len(a.Orders) != 3 {
		t.Fatal(err, len(a.Orders))
	}
	if o := a.Orders[2]; o.Stock.MM != 0.33 || o.Stock.Row != 0 {
		t.Errorf("%+v", o)
	}
	var b bytes.Buffer
	for _, l := range Lists {
		if err := e.ListText(&b, l); err != nil {
			t.Error(err)
		}
	}
	if !strings.Contains(b.String(), "0.33") {
		t.Error(b.String())
	}
}

// So it is where the stock is shared out in parts.
func TestUnlistedThicknessComesBackInParts(t *testing.T) {
	items := []packs.StockItem{{MM: 0.66, Count: 0}, {MM: 0.5, Count: -1}}
	many := make([]packs.StockFoot, feetAtOnce+40)
	for i := range many {
		many[i] = packs.StockFoot{Change: 0.5, Machine: i / 4}
	}
	many[3] = packs.StockFoot{Change: 0.17, InPlace: []float64{0.33}, Machine: 0}
	many[feetAtOnce+20] = packs.StockFoot{Change: 0.33, Machine: (feetAtOnce + 20) / 4}
	for _, machines := range []bool{false, true} {
		p, err := allocateParts(items, many, &packs.StockOptions{ReturnRemoved: true, ByMachines: machines})
		if err != nil || p.Met != len(many) || len(p.Order) != 3 || p.Order[2].Used != 1 || p.Order[2].Back != 1 {
			t.Fatalf("by machines %v: %v, %d met, %+v", machines, err, p.Met, p.Order)
		}
		if k := p.Picks[feetAtOnce+20].Items; !slices.Equal(k, []int{2}) {
			t.Errorf("items %v", k)
		}
		// What comes back and goes in is the same item: pieces of the picks add up to the order lines, each over its own thickness.
		used := make([]int, len(p.Order))
		for i := range p.Picks {
			for n, item := range p.Picks[i].Items {
				mm := 0.33
				if item < len(items) {
					mm = items[item].MM
				}
				if used[item]++; p.Picks[i].Put[n] != mm {
					t.Errorf("foot %d: piece %g is item %d", i, p.Picks[i].Put[n], item)
				}
			}
		}
		for k, o := range p.Order {
			if o.Used != used[k] || o.Item != k {
				t.Errorf("line %d: %+v, the feet take %d", k, o, used[k])
			}
		}
	}
}

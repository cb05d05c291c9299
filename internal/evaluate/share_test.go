package evaluate

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/packs"
)

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

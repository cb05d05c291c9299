package packs

import (
	"math"
	"slices"
	"testing"

	"shimsheet/internal/tables"
)

// The pieces of a pick lie as under every foot: the two thickest outside, between them thin and thick in turn, whether they lay there before or come from the stock.
func TestPiecesOfAPickLieInOrder(t *testing.T) {
	stock := []StockItem{{MM: 1, Count: -1}, {MM: 0.5, Count: -1}, {MM: 0.2, Count: -1}}
	plan, err := Allocate(stock, []StockFoot{{ID: "front 9", Change: 1.7, InPlace: []float64{0.05}}}, &StockOptions{Tolerance: 0.005, MaxPieces: 4})
	if err != nil {
		t.Fatal(err)
	}
	p := &plan.Picks[0]
	if want := []float64{1, 0.05, 0.2, 0.5}; !slices.Equal(p.Pieces, want) || !slices.Equal(p.Keep, []float64{0.05}) || len(p.Put) != 3 || len(p.Take) != 0 {
		t.Errorf("%v, kept %v, put in %v, taken out %v; want %v", p.Pieces, p.Keep, p.Put, p.Take, want)
	}
}

// What to take out under a foot whose pieces nobody listed is by the rule of one foot: the fewest pieces within the tolerance, then the least error; nothing goes in.
func TestTakenOutByTheRule(t *testing.T) {
	stock := []StockItem{{MM: 0.5, Count: 3}, {MM: 0.2, Count: 9}, {MM: 0.1, Count: 9}, {MM: 0.49, Count: 9}}
	for _, c := range []struct {
		change float64
		pieces []float64
	}{{-0.5, []float64{0.5}}, {-0.49, []float64{0.49}}, {-0.7, []float64{0.5, 0.2}}, {-0.69, []float64{0.49, 0.2}}} {
		plan, err := Allocate(stock, []StockFoot{{ID: "rear 3", Change: c.change}}, &StockOptions{Tolerance: 0.015, MaxPieces: 5})
		if err != nil {
			t.Fatal(err)
		}
		p := &plan.Picks[0]
		if p.Status != PickUnlisted || !slices.Equal(p.Pieces, c.pieces) || len(p.Put) != 0 || math.Abs(p.Net-c.change) > 1e-9 || math.Abs(p.Error) > 1e-9 {
			t.Errorf("%g: %+v", c.change, p)
		}
	}
}

// A foot that would have to go below its bare base: everything comes out, and the error is what is left, as the shortfall.
func TestBelowTheBase(t *testing.T) {
	p, err := NewPacker([]tables.Thickness{{MM: 0.5, Count: -1}}, 4, 0.01)
	if err != nil {
		t.Fatal(err)
	}
	c, err := p.Change(-0.8, []float64{0.2, 0.3})
	if err != nil || c.Status != ChangeBelow || math.Abs(c.Shortfall-0.3) > 1e-9 || math.Abs(c.Error-0.3) > 1e-9 || math.Abs(c.Net+0.5) > 1e-9 || c.Sum != 0 || !slices.Equal(c.Take, []float64{0.3, 0.2}) {
		t.Errorf("%+v, %v", c, err)
	}
}

package evaluate

import (
	"testing"

	"shimsheet/internal/calc"
)

// TestLineAfterSharing: the line after is that of the packs shown, the mean of what the feet of each pair rise, and the verdict is its own.
//
// evidence: calc=line after grade=identity count=8 source=the straight line through where the feet then stand, worked out here from the pieces shown
func TestLineAfterSharing(t *testing.T) {
	e := work(t, packsJob(t))
	if _, err := e.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	n := 0
	for i := range e.Len() {
		r := e.Row(i)
		if r.Stays() || len(r.Calc.Feet) != 2 {
			continue
		}
		n++
		var rise, feet [2]float64
		for _, p := range e.Packs(i) {
			soft := 0.0
			if p.Single >= 0 {
				soft = r.Feet.Feet[p.Single].Soft
			}
			rise[p.Pair] += p.Net - soft
			feet[p.Pair]++
		}
		for k := range rise {
			x := r.Calc.Feet[k].Station
			near(t, r.Name+" height after", r.Calc.After.DV+r.Calc.After.TV*x/1000, r.Calc.Line.DV+r.Calc.Line.TV*x/1000+rise[k]/feet[k], 1e-9)
		}
		if r.Verdict != calc.NotJudged && r.AfterVerdict != r.Calc.AfterJ.Verdict {
			t.Error(r.Name, r.AfterVerdict, r.Calc.AfterJ.Verdict)
		}
	}
	if n != 8 {
		t.Errorf("%d machines looked at", n)
	}
	// A flange: the plane through the packs that are shared out.
	r := e.Row(e.RowOf("I flange"))
	up := r.Calc.BoltPacks[0].Sum - r.Calc.BoltPacks[2].Sum
	near(t, "slope V after", r.Calc.After.TV, r.Calc.Line.TV-1000*up/400, 1e-9)
}

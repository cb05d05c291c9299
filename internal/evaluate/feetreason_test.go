package evaluate

import (
	"math"
	"testing"
)

// TestStationsFromFeet: a row that does not say where its feet stand takes it from the Feet sheet, each place once.
func TestStationsFromFeet(t *testing.T) {
	e := reasonJob(t, reasonMachine, "Machine,Foot,Along,Across\np 1,front 9,480,-250\np 1,front 3,480.5,250\np 1,rear 9,1190,-250\np 1,rear 3,1190,250\n")
	r := e.Row(0)
	if len(r.Calc.Feet) != 2 || r.Calc.Feet[0].Station != 480 || r.Calc.Feet[1].Station != 1190 || math.IsNaN(r.Calc.Feet[1].Shim) {
		t.Fatalf("%+v %+v", r.Calc.Feet, r.Problems)
	}
	if e.RowOf(" P  1") != 0 || e.RowOf("P 2") != -1 || e.RowOf("") != -1 {
		t.Error("RowOf")
	}
	if g := e.FootGauges(0); len(g) != 4 || g[1].Along != 480.5 || g[1].Across != 250 || !math.IsNaN(g[1].Gap) {
		t.Errorf("%+v", g)
	}
}

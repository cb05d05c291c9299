package calc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The feet of a rigid line go by any amounts: the line afterwards stands at both feet as much higher and farther as was done there.
func TestMovedAgainstSimulation(t *testing.T) {
	//evidence: calc=rounds: line predicted grade=identity count=2000 source=feet of a rigid line: heights and places at both feet change by what was done there, whatever the stations
	rng := rand.New(rand.NewPCG(3, 17))
	for range 2000 {
		l := Line{rng.Float64() - 0.5, 2*rng.Float64() - 1, rng.Float64() - 0.5, 2*rng.Float64() - 1}
		a := 100 + 500*rng.Float64()
		b := a + 100 + 1000*rng.Float64()
		s := [4]float64{rng.Float64() - 0.5, rng.Float64() - 0.5, rng.Float64() - 0.5, rng.Float64() - 0.5}
		m := l.Moved(a, b, s[0], s[1], s[2], s[3])
		for k, x := range [2]float64{a, b} {
			v0, h0 := l.At(x)
			v1, h1 := m.At(x)
			if math.Abs(v1-v0-s[k]) > 1e-12 || math.Abs(h1-h0-s[2+k]) > 1e-12 {
				t.Fatalf("%+v moved at %v: %v %v, want %v %v", l, x, v1-v0, h1-h0, s[k], s[2+k])
			}
		}
	}
	if m := (Line{}).Moved(300, 300, 1, 3, 2, 2); m != (Line{DV: 2, DH: 2}) {
		t.Error(m)
	}
}

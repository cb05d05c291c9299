package calc

import (
	"math"
	"math/rand/v2"
	"testing"
)

// clockOf is the direction, in degrees as this package counts them, that a person who looks along look calls deg on the clock: 12 is up and 3 is at the right hand.
func clockOf(look vec3, deg float64) float64 {
	right := look.cross(up)
	s, c := math.Sincos(deg * math.Pi / 180)
	d := up.mul(c).add(right.mul(s))
	return math.Atan2(d[1], d[2]) * 180 / math.Pi // H and V of the direction
}

// TestSeenFrom has the dials of the simulation read by a person behind the stationary machine, who calls the clock positions as he sees them. Told so, the line comes out as it
// stands in space; taken as read from behind the movable machine its H turns over, and that is the wrong side. Which hub a plunger rides on does not depend on who looks.
func TestSeenFrom(t *testing.T) {
	//evidence: calc=seen from grade=independent count=600 source=forward three-dimensional simulation; the clock of each person is built from his line of sight and up (documents that look from the pump to the motor: US Bureau of Reclamation FIST 2-1, FIST 4-1A pp. 22 and 24)
	behindMovable, behindStationary := vec3{-1, 0, 0}, vec3{1, 0, 0}
	if a := clockOf(behindMovable, 90); math.Abs(a-90) > 1e-12 {
		t.Fatalf("3 o'clock from behind the movable machine is at %g°", a)
	}
	rng := rand.New(rand.NewPCG(31, 31))
	for _, m := range methods {
		for i := range simCount(100) {
			r := randomRig(rng, 1)
			dials := m.draw(rng, r)
			sweeps := r.measure(dials)
			in := Input{Sweeps: sweeps, Limits: Limits{nan, nan}, Checks: loose, Given: nanLine, Length: nan, FlangeStation: nan, Feet: []float64{300, 900}}
			var here, there, wrong Result
			Solve(&in, &here)
			seen := make([]Sweep, len(sweeps))
			for s := range sweeps {
				seen[s] = sweeps[s]
				seen[s].Angle = make([]float64, len(sweeps[s].Angle))
				seen[s].Reading = make([]float64, len(sweeps[s].Angle))
				for j, a := range sweeps[s].Angle {
					seen[s].Angle[j] = a // the same positions by name, other places in space
					seen[s].Reading[j] = r.read(dials[s], clockOf(behindStationary, a))
				}
			}
			in.Sweeps = seen
			Solve(&in, &wrong)
			for s := range seen {
				seen[s].Mirrored = true
			}
			Solve(&in, &there)
			a, b, w := lineArray(here.Line), lineArray(there.Line), lineArray(wrong.Line)
			for j := range a {
				// Two sets of readings of one rig, each with what the linear model leaves out.
				tol := 0.002 + 20*math.Sqrt(here.Cov[j][j])
				if !(math.Abs(a[j]-b[j]) <= tol) {
					t.Fatalf("%s, rig %d: %s is %.5f from behind the movable machine, %.5f from behind the stationary one", m.name, i, lineNames[j], a[j], b[j])
				}
				sign := 1.0
				if j >= 2 {
					sign = -1
				}
				if w[j] != sign*b[j] && math.Abs(w[j]-sign*b[j]) > 1e-9 {
					t.Fatalf("%s, rig %d: %s %.6f without being told, %.6f told", m.name, i, lineNames[j], w[j], b[j])
				}
			}
			for s := range seen {
				x, ok := seen[s].Expect(&there.Line, nil, []float64{90, 180, 270}, nil)
				_, b, ok2 := seen[s].Curve(&there.Line)
				if !ok || !ok2 || math.Abs(x[0].Mean-b) > 1e-12 {
					t.Fatalf("%s: expected %v at 3 o'clock, the curve has %g", m.name, x, b)
				}
			}
		}
	}
}

// TestSeenFromFlange: bolts counted by a person behind the stationary machine get the shims of the same bolts in space.
func TestSeenFromFlange(t *testing.T) {
	in := Input{Given: Line{0.1, 0.4, -0.2, 0.7}, GivenU: Line{0.01, 0.05, 0.01, 0.05}, Limits: Limits{nan, nan}, Length: nan, BoltCircleRadius: 300, Bolts: 8, FlangeStation: 400}
	var a, b Result
	Solve(&in, &a)
	in.Mirrored = true
	Solve(&in, &b)
	for k := range a.BoltShims {
		if o := (8 - k) % 8; math.Abs(a.BoltShims[k]-b.BoltShims[o]) > 1e-12 {
			t.Errorf("bolt %d: %g, seen from the other end it is bolt %d: %g", k, a.BoltShims[k], o, b.BoltShims[o])
		}
	}
	if a.SlideH != b.SlideH || a.SlideV != b.SlideV {
		t.Error(a.SlideH, b.SlideH)
	}
}

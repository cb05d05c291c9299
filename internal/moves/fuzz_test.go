package moves

import (
	"math"
	"math/rand/v2"
	"testing"
)

// FuzzMoves: whatever stands in a train, the answer keeps to every room, or is proved impossible with rooms that are short, or is said to be none. Seeds: a plain train, one with
// nothing to do (degenerate), without any room given (unbounded), with feet that nearly stand on one place (singular), with machines that stay and disagree (contradictory), huge rooms,
// limits of next to nothing.
func FuzzMoves(f *testing.F) {
	for kind := range byte(7) {
		f.Add(uint64(kind), kind, 0.6)
		f.Add(uint64(kind)+100, kind, math.NaN())
	}
	f.Fuzz(func(t *testing.T, seed uint64, kind byte, share float64) {
		if !math.IsNaN(share) && !(share >= 0 && share <= 10) {
			t.Skip()
		}
		s := random(rand.New(rand.NewPCG(seed, 18)), 4, seed%2 == 0)
		for i := range s.Machines {
			m := &s.Machines[i]
			for k := range m.Pairs {
				switch kind % 7 {
				case 2:
					m.Pairs[k].Room = open()
				case 3:
					m.Pairs[k].X = m.Pairs[0].X + 1e-3*float64(k)
				case 5:
					m.Pairs[k].Room = [planes][2]float64{{1e300, math.MaxFloat64}, {math.Inf(1), 1e9}}
				}
			}
			if m.May = m.May && kind%7 != 4; kind%7 == 2 {
				m.May = len(m.Pairs) > 0
			}
		}
		for i := range s.Couplings {
			c := &s.Couplings[i]
			if kind%7 == 1 {
				c.Off = [planes]Part{}
			}
			for k := range c.Judged {
				if kind%7 == 6 {
					c.Judged[k].Limit = 1e-9
				}
			}
		}
		p := Solve(&s.Train, share)
		if p.Status != Possible {
			if p.Moves != nil || !math.IsNaN(p.Largest) {
				t.Errorf("%v with moves", p.Status)
			}
			for _, x := range p.Short {
				if !(x.Missing > 0) {
					t.Errorf("%+v", x)
				}
			}
			return
		}
		for i := range s.Machines {
			for k, pair := range s.Machines[i].Pairs {
				for plane := range planes {
					m := p.Moves[i][k][plane]
					if math.IsNaN(m) || !s.Machines[i].May && m != 0 || m < -pair.Room[plane][0]-1e-6 || m > pair.Room[plane][1]+1e-6 {
						t.Errorf("machine %d pair %d goes %v with room for %v", i, k, m, pair.Room[plane])
					}
				}
			}
		}
	})
}

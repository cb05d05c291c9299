package calc

// Curve returns what a line stands for in the sweep's readings: R(φ) = c + a·cos φ + b·sin φ, φ as the sweep counts it, a and b in mm, the droop of the bracket
// taken off. ok is false for a station, diameter or length that cannot be.
func (s *Sweep) Curve(l *Line) (a, b float64, ok bool) {
	g0, g1, ok := s.gains()
	a, b = g0*l.DV+g1*l.TV, g0*l.DH+g1*l.TH
	if s.Mirrored {
		b = -b
	}
	return a, b, ok
}

// Constant returns the c of Curve that fits the sweep's readings best, mm.
func (s *Sweep) Constant(a, b float64) float64 {
	sum := 0.0
	for i, r := range s.Reading {
		u, v := cosSin(s.Angle[i])
		sum += r - 0.5*s.SagAt6*(1-u) - a*u - b*v
	}
	return sum / float64(len(s.Reading))
}

// Corrected returns reading i with the droop of the bracket taken off, mm.
func (s *Sweep) Corrected(i int) float64 {
	u, _ := cosSin(s.Angle[i])
	return s.Reading[i] - 0.5*s.SagAt6*(1-u)
}

// At returns the line's height and its position sideways at station x, mm.
func (l *Line) At(x float64) (v, h float64) { return l.at(x, false), l.at(x, true) }

// At returns the standard uncertainties, mm, of a line's height and its position sideways at station x.
func (c *Cov) At(x float64) (v, h float64) {
	k := x / 1000
	vv, _, hh := cross(c, 1, k, 1, k)
	return root(vv), root(hh)
}

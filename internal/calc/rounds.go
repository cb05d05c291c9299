package calc

// Moved returns the line after the feet of the movable machine at stations a and b, mm from the coupling, went up by shimA and shimB and towards 3 o'clock by moveA and
// moveB, all mm. The machine is rigid, so the changes at two stations are those of a line. Stations that coincide leave the slope as it was and take the
// mean of the two changes.
func (l Line) Moved(a, b, shimA, shimB, moveA, moveB float64) Line {
	slope := func(x, y float64) float64 {
		if a == b {
			return 0
		}
		return 1000 * (y - x) / (b - a)
	}
	at := func(x, y float64) float64 {
		if a == b {
			return (x + y) / 2
		}
		return x - (y-x)/(b-a)*a
	}
	l.TV += slope(shimA, shimB)
	l.TH += slope(moveA, moveB)
	l.DV += at(shimA, shimB)
	l.DH += at(moveA, moveB)
	return l
}

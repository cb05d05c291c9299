package tables

import "math"

// MeanBetween is the mean coefficient in 1e-6/K between two temperatures in °C, from a table of means
//
//	(mean(b)·(b − T0) − mean(a)·(a − T0)) / (b − a)
//
// or the constant. For a = b it is the mean up to there. NaN where the table does not reach.
func (m *Material) MeanBetween(a, b float64) float64 {
	if m.Temps == nil || a == b {
		return m.mean(b)
	}
	if math.Abs(a-m.T0) <= 1e-9*(1+math.Abs(a)) { // the reference itself need not be in the table
		return m.mean(b)
	}
	if math.Abs(b-m.T0) <= 1e-9*(1+math.Abs(b)) {
		return m.mean(a)
	}
	return (float64(m.mean(b)*(b-m.T0)) - float64(m.mean(a)*(a-m.T0))) / (b - a)
}

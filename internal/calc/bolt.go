package calc

// BoltTorque returns the torque in N·m for a preload in N by T = K·d·F, d in mm, K the nut factor. NaN unless k and d are more than 0.
func BoltTorque(preload, k, d float64) float64 {
	if !(k > 0 && d > 0) {
		return nan
	}
	return k * d * preload / 1000
}

// BoltPreload returns the preload in N for a torque in N·m, the inverse of [BoltTorque], and what it may be when K is off by the share
// scatter to either side: F/(1 + scatter) to F/(1 − scatter). NaN unless k and d are more than 0 and 0 ≤ scatter < 1.
func BoltPreload(torque, k, d, scatter float64) (f, low, high float64) {
	if !(k > 0 && d > 0 && scatter >= 0 && scatter < 1) {
		return nan, nan, nan
	}
	f = torque * 1000 / (k * d)
	return f, f / (1 + scatter), f / (1 - scatter)
}

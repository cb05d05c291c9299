package calc

import "math"

// A Part is one layer of a stack between the base and the shaft.
type Part struct {
	Height    float64 // mm, cold
	Expansion float64 // 1e-6/K
	Rise      float64 // K, running less cold
}

// StackGrowth returns how much a stack grows, in mm, upwards positive: Σ h·α·ΔT.
//
// The coefficient is the mean over the span of temperature. Parts without a height or a coefficient make NaN.
func StackGrowth(parts []Part) float64 {
	sum := 0.0
	for _, p := range parts {
		sum += p.Height * (p.Expansion * 1e-6) * p.Rise
	}
	return sum
}

// HalfDifferences returns the part of a sweep that turns with the clock, from four readings in mm:
//
//	V = (R12 − R6)/2    H = (R3 − R9)/2
//
// after the sag (what the dial shows at 6 o'clock on a straight stiff pipe, zeroed at 12) has been taken off. One reading may be NaN; it is
// put in from top + bottom = left + right. balance is (R12 + R6) − (R3 + R9), which the sag does not change; NaN with three readings.
// The sign is that of a rim whose bracket stands on the stationary shaft ([RimOnMovable]); for a bracket on the movable shaft both turn over.
func HalfDifferences(r12, r3, r6, r9, sagAt6 float64) (v, h, balance float64) {
	balance = (r12 + r6) - (r3 + r9)
	r6, r3, r9 = r6-sagAt6, r3-sagAt6/2, r9-sagAt6/2
	switch {
	case math.IsNaN(r12):
		r12 = r3 + r9 - r6
	case math.IsNaN(r3):
		r3 = r12 + r6 - r9
	case math.IsNaN(r6):
		r6 = r3 + r9 - r12
	case math.IsNaN(r9):
		r9 = r12 + r6 - r3
	}
	return (r12 - r6) / 2, (r3 - r9) / 2, balance
}

// Expected returns what a sweep of the model, station, diameter, length and sag of s reads on the line l at the angles of s, less what it reads at
// 12 o'clock, so zeroed there, appended to dst. mm. ok is false if the sweep's geometry cannot be. Sag is added to dials only
// where the caller gives it: gaps and steps have none.
func Expected(s *Sweep, l *Line, dst []float64) (r []float64, ok bool) {
	g0, g1, ok := s.gains()
	if !ok {
		return dst, false
	}
	v, h := g0*l.DV+g1*l.TV, g0*l.DH+g1*l.TH
	for _, deg := range s.Angle {
		c, sn := cosSin(deg)
		dst = append(dst, v*(c-1)+h*sn+s.SagAt6*(1-c)/2)
	}
	return dst, true
}

// A FlexAngle is what a spacer coupling of length L bends at its two flex planes, mm/m, each plane a vector.
type FlexAngle struct {
	SV, SH, MV, MH float64 // stationary and movable flex plane, upwards and towards 3 o'clock
	S, M           float64 // magnitudes
}

// Flex returns the angles at the flex planes of a spacer of length in mm for a line given at its middle:
//
//	αS = V(+L/2)/L    αM = −V(−L/2)/L    likewise sideways
//
// NaN unless the length is more than 0.
func Flex(l *Line, length float64) FlexAngle {
	if !(length > 0) {
		return FlexAngle{nan, nan, nan, nan, nan, nan}
	}
	v, h := 1000*l.DV/length, 1000*l.DH/length
	a := FlexAngle{SV: l.TV/2 + v, SH: l.TH/2 + h, MV: l.TV/2 - v, MH: l.TH/2 - h}
	a.S, a.M = math.Hypot(a.SV, a.SH), math.Hypot(a.MV, a.MH)
	return a
}

// FlexOffset returns the largest offset in mm, in whatever direction, that keeps both flex planes within the allowed angle in mm/m while the
// slope has the magnitude given: (allowed − slope/2)·L/1000. It is NaN where the slope alone is too much, or a number cannot be.
func FlexOffset(slope, length, allowed float64) float64 {
	if !(length > 0 && allowed > 0 && slope >= 0) || !within(slope/2, allowed) {
		return nan
	}
	return max(0, allowed-slope/2) * length / 1000
}

// ReadingU returns the standard uncertainty of one reading in the unit of its arguments: a reading rounded to the nearest division is off
// by at most half of one, evenly spread, and that is joined with the standard deviation of the same reading taken again.
//
//	u = √(graduation²/12 + repeatability²)
//
// Reference: JCGM 100:2008 (GUM), 4.3.7 and F.2.2.1.
func ReadingU(graduation, repeatability float64) float64 {
	return math.Hypot(graduation/math.Sqrt(12), repeatability)
}

// A Tilt is what a shim under one pair of feet does to a machine that stands on two.
type Tilt struct {
	Slope   float64 // mm/m, positive: rises going away from the coupling
	Degrees float64
	Rise    float64 // mm at the coupling, upwards positive
}

// ShimTilt returns what a shim of thickness t under the front or the rear feet does; span is the distance from front to rear feet and front the
// distance from the coupling centre to the front feet, all mm.
//
//	rear: slope = t/span,  rise = −t·front/span         front: slope = −t/span,  rise = t·(front + span)/span
//
// NaN unless span is more than 0.
func ShimTilt(t, span, front float64, rear bool) Tilt {
	if !(span > 0) {
		return Tilt{nan, nan, nan}
	}
	s, rise := t/span, -t*front/span
	if !rear {
		s, rise = -s, t*(front+span)/span
	}
	return Tilt{1000 * s, math.Atan(s) * (180 / math.Pi), rise}
}

// A Bound says on which side of a limit the value has to lie.
type Bound uint8

// The bounds.
const (
	AtMost Bound = iota
	AtLeast
)

// room is how far the value lies on the good side of the limit; a value equal to it within 1e-9 relative has none.
func (b Bound) room(value, limit float64) float64 {
	d := limit - value
	if b == AtLeast {
		d = -d
	}
	if math.Abs(d) <= tieRel*max(math.Abs(value), math.Abs(limit)) {
		return 0
	}
	return d
}

// MostRepeats is the largest number of readings that [Repeats] returns.
const MostRepeats = 1_000_000_000

// Repeats returns the smallest number n of readings whose mean makes the verdict "inside" certain at coverage factor k:
//
//	|limit − value| ≥ k·√(shared² + u²/n)
//
// u is the standard uncertainty of one reading as far as it averages out, shared that of what all readings have in common. The mean is taken to
// stay where the value is. ok is false when no number of readings up to [MostRepeats] is enough: the value is at or past its limit, or the shared part alone
// takes up the room. Equal within 1e-9 relative is enough. It is also false unless u and shared are not negative and k is more than 0.
func Repeats(value, limit, u, shared, k float64, b Bound) (n int, ok bool) {
	if !(u >= 0 && shared >= 0 && k > 0) {
		return 0, false
	}
	d := b.room(value, limit)
	if !(d >= 0) || math.IsInf(d, 0) {
		return 0, false
	}
	enough := func(n float64) bool {
		return within(k*math.Hypot(shared, u/math.Sqrt(n)), d)
	}
	if enough(1) {
		return 1, true
	}
	if !enough(MostRepeats) {
		return 0, false
	}
	lo, hi := 1, MostRepeats // lo is too few, hi is enough
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; enough(float64(mid)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}

// ChanceInside returns the probability that the true value keeps the limit, for a measured value with standard uncertainty u ≥ 0:
// Φ((limit − value)/u), or Φ((value − limit)/u) for a lower limit. Without uncertainty it is 1 up to the limit and 0 past it.
//
// Reference: JCGM 106:2012, 7.2.2.
func ChanceInside(value, limit, u float64, b Bound) float64 {
	d := b.room(value, limit)
	switch {
	case !(u >= 0) || math.IsNaN(d):
		return nan
	case u == 0 && d >= 0:
		return 1
	case u == 0:
		return 0
	}
	return phi(d / u)
}

// Judge holds one value to a limit with its expanded uncertainty U: inside, outside, or too close to call.
//
// Reference: ILAC-G8:09/2019, 4.2.3, with a guard band of U.
func Judge(value, limit, expanded float64, b Bound) Verdict {
	d := b.room(value, limit)
	switch {
	case math.IsNaN(d) || !(expanded >= 0):
		return NotJudged
	case d >= 0 && within(expanded, d):
		return Inside
	case d < 0 && -d > expanded:
		return Outside
	}
	return TooClose
}

// Synchronous returns the speed in r/min of a machine with so many poles at a frequency in Hz: 120·f/p. NaN unless poles is even and 2 or more.
func Synchronous(hertz float64, poles int) float64 {
	if poles < 2 || poles%2 != 0 || !(hertz > 0) {
		return nan
	}
	return 120 * hertz / float64(poles)
}

// Poles returns the number of poles of an induction motor that turns at rpm: the most whose synchronous speed is not below it. 0: none.
func Poles(hertz, rpm float64) int {
	if !(hertz > 0 && rpm > 0) {
		return 0
	}
	pairs := math.Floor(60 * hertz / rpm * (1 + tieRel))
	if pairs < 1 || pairs > 1000 {
		return 0
	}
	return int(pairs) * 2
}

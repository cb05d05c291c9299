package calc

import "math"

// A ShaftGap is how far the two shaft ends, or the hubs, stand apart lengthwise. All in mm; NaN: not given.
type ShaftGap struct {
	Found     float64 // as read, open is positive
	Wanted    float64
	Tolerance float64 // ± about Wanted
	Angle     float64 // degrees from 12 o'clock where Found was read, at Diameter; NaN: in the middle, or as the mean of readings evenly round
	Diameter  float64 // mm, of the circle on which it was read, or of the hubs; NaN: not known
	Float     float64 // how far the rotor of the movable machine can go lengthwise in its bearings
	Mark      float64 // where it runs: how far from the end of its float that is nearest the coupling
}

// A GapForecast is what a change of the line makes of a gap, mm. NaN where it is not known.
type GapForecast struct {
	After   float64 // the gap where it was read
	Least   float64 // the narrowest place round the hubs, afterwards
	Most    float64 // the widest
	Axial   float64 // how far the movable machine has to be pushed lengthwise for the wanted gap; positive opens it, away from the coupling
	Touch   float64 // what is left of Least when the rotor is at the end of its float nearest the coupling; not above 0: the hubs touch
	Verdict Verdict // After against Wanted ± Tolerance: Inside or Outside; NotJudged where one of them is missing
}

// After tells what is left of the gap when the movable shaft is brought from one line to another.
//
// Tilting the shaft opens the gap on one side as much as it closes it on the other: at clock angle φ on a circle of diameter D
//
//	gap(φ) = gap in the middle − D/2·(TV cos φ + TH sin φ)/1000
//
// so what is read in the middle, or as the mean round the hubs, stays but for a part that goes with the square of the angle: a shaft that turns by
// 1 mm/m about feet 500 mm away draws its end back by 0.00025 mm, which is left out. Where the machine slides on its base while its shims are
// changed is not known and not part of it: the gap is set last, and read again.
//
// A value equal to the tolerance within 1e-9 relative is inside. Reference: the geometry of two planes; common practice for the rest.
func (g ShaftGap) After(from, to Line) GapForecast {
	f := GapForecast{After: g.Found, Least: nan, Most: nan, Axial: nan, Touch: nan}
	middle := g.Found
	if !math.IsNaN(g.Angle) {
		s, c := math.Sincos(g.Angle * math.Pi / 180)
		half := g.Diameter / 2000
		middle = g.Found + half*(from.TV*c+from.TH*s)
		f.After = middle - half*(to.TV*c+to.TH*s)
	}
	if wide := g.Diameter / 2000 * math.Hypot(to.TV, to.TH); !math.IsNaN(wide) {
		f.Least, f.Most = middle-wide, middle+wide
	}
	f.Axial = g.Wanted - f.After
	mark := g.Mark
	if math.IsNaN(mark) {
		mark = g.Float // read with the rotor wherever it lay: the worst is the whole of it
	}
	least := f.Least
	if math.IsNaN(least) {
		least = middle
	}
	f.Touch = least - mark
	if off := math.Abs(f.Axial); !math.IsNaN(off) && !math.IsNaN(g.Tolerance) {
		f.Verdict = Outside
		if off <= g.Tolerance*(1+1e-9) {
			f.Verdict = Inside
		}
	}
	return f
}

package calc

import (
	"math"
	"slices"

	"shimsheet/internal/words"
)

// DefaultSoftLimit is the limit of a soft foot in mm where the user gives none: 0.05 mm, 0.002 in rounded down. The trade's figures: more
// than 0.002 in is not acceptable (H. P. Bloch, quoted), 0.002 in in API RP 686 (from memory, not checked against the document).
const DefaultSoftLimit = 0.05

// The corners of a foot in the order of SoftFoot.Corner: clockwise from above, as seen by somebody who stands at the free end and looks at
// the coupling.
const (
	CouplingSide9 = iota // nearer the coupling, towards 9 o'clock
	CouplingSide3        // nearer the coupling, towards 3 o'clock
	FreeSide3            // away from the coupling, towards 3 o'clock
	FreeSide9            // away from the coupling, towards 9 o'clock
)

// A SoftFoot is one foot and what was measured at it. NaN: not measured.
type SoftFoot struct {
	Along  float64 // mm, growing from the coupling towards the free end, from any zero (the front feet, the coupling centre)
	Across float64 // mm, positive towards 3 o'clock, from any zero (the shaft)

	Gap       float64    // mm under the foot with all bolts free, ≥ 0
	Corner    [4]float64 // mm, gaps at the corners with all bolts free, in the order CouplingSide9 …; four numbers win over Gap
	Rise      float64    // mm the foot rises as its bolt alone is released; negative: it sinks
	RiseFreed float64    // mm the same with the pipe flanges opened; it is the machine's own and wins for the pattern

	Length, Width float64 // mm of the sole along and across the shaft, for Corner. NaN: tapers are only given in mm over the foot
}

// A SoftInput is the feet of one machine: 3 to 12. Every foot has a gap (or four corners), or every foot has a rise, or both. Gaps give
// the shims, rises the pattern; with rises alone the shims are estimates.
type SoftInput struct {
	Feet     []SoftFoot
	Limit    float64 // mm; 0 or NaN: DefaultSoftLimit
	U        float64 // mm, standard uncertainty of one gap; 0: taken as exact
	URise    float64 // mm, of one rise
	MaxSteps int     // stepped shims at one foot at the most; 0: 4
}

// A SoftStatus says how Soft ended.
type SoftStatus uint8

// The ways Soft ends.
const (
	SoftOK          SoftStatus = iota
	SoftFeetCount              // fewer than 3 feet or more than 12
	SoftBadNumber              // a number that cannot be: a place that is not finite, a negative gap, a size of zero; Foot says where
	SoftSamePlace              // two feet within a millimetre of each other; Foot is the second
	SoftInLine                 // all feet (nearly) on one line: nothing holds the machine across it
	SoftNotMeasured            // neither gaps at all feet nor rises at all feet; Foot is one without
	numSoftStatus
)

// A SoftPattern is what the gaps or rises look like.
type SoftPattern uint8

// The patterns.
const (
	SoftNoPattern SoftPattern = iota // not judged
	SoftNone                         // no foot past the limit
	SoftOneFoot                      // one foot alone stands off: short or bent foot, or base low there
	SoftRocking                      // two feet on a diagonal stand off and the other diagonal carries
	SoftSpringing                    // every foot rises by about as much: feet or base bend under the bolts
	SoftSeveral                      // several feet stand off in no simpler way
	SoftAngled                       // no foot stands off as a whole, but a sole does not lie parallel to its base
	numSoftPatterns
)

// A FootSide is where a taper opens: an edge of a foot or a corner.
type FootSide uint8

// Where a taper opens.
const (
	NoSide FootSide = iota
	CouplingEdge
	CouplingCorner3
	Edge3
	FreeCorner3
	FreeEdge
	FreeCorner9
	Edge9
	CouplingCorner9
	numFootSides
)

// Mirrored is the same place as somebody behind the stationary machine names it: 3 and 9 o'clock exchanged.
func (f FootSide) Mirrored() FootSide {
	switch f {
	case CouplingCorner3:
		return CouplingCorner9
	case CouplingCorner9:
		return CouplingCorner3
	case Edge3:
		return Edge9
	case Edge9:
		return Edge3
	case FreeCorner3:
		return FreeCorner9
	case FreeCorner9:
		return FreeCorner3
	}
	return f
}

// Mirrored is the same foot where 3 and 9 o'clock were named by somebody behind the stationary machine.
func (f SoftFoot) Mirrored() SoftFoot {
	f.Across = 0 - f.Across
	c := &f.Corner
	c[CouplingSide3], c[CouplingSide9], c[FreeSide3], c[FreeSide9] = c[CouplingSide9], c[CouplingSide3], c[FreeSide9], c[FreeSide3]
	return f
}

// A SoftStep is one shim of part of the foot's size: it begins at the open edge or corner and covers Share of the way across.
type SoftStep struct {
	Thickness float64 // mm
	Share     float64 // 0 to 1 of the way from the open edge or corner to the one opposite
}

// A SoftFootResult is what is found and to be done at one foot. NaN: does not exist.
type SoftFootResult struct {
	Shim     float64 // mm, ≥ 0, to add under the whole foot; from rises an estimate
	Residual float64 // mm left open by Shim, and at a sole with corners by the stepped shims, where it is most; gaps only
	Dual     float64 // the foot's dual value, ≥ 0: a gap larger by 1 mm here makes the least total larger by 1 − Dual; gaps only
	StandOff float64 // mm, the most that this foot alone would have to take among the shims of least total; for four feet the whole rock
	// Clearance is how far the foot is from carrying, mm: the whole foot let down by so much would just carry, which is its StandOff; negative, it carries,
	// and would just cease to if let up by so much. NaN: it carries in any case, as each of three feet does. Gaps only. UClearance is its expanded
	// uncertainty (k = 2), carried on from those of the gaps by the law of propagation, JCGM 100:2008, 5.1.2.
	Clearance, UClearance float64
	against               bound   // what says most on which side of the limit it is
	Excess                float64 // mm this foot rises over what the feet not standing off rise; rises only
	Freed                 float64 // mm that opening the flanges took from the rise (Rise − RiseFreed)

	// Corners, after the common plane is taken off (with Length and Width) or as measured (without). Positive: opens towards the free
	// end, towards 3 o'clock.
	TaperAlong, TaperAcross float64 // mm over the foot
	SlopeAlong, SlopeAcross float64 // mm/m
	Twist                   float64 // mm by which each corner is off the sole's best plane
	Range                   float64 // mm, the largest gap left at a corner less the smallest
	Angled                  bool    // Range is past the limit
	Open                    FootSide
	Steps                   []SoftStep // the widest first; where Machine is set, the best that steps can do
	Machine                 bool       // steps leave more than the limit: a tapered shim or machining is needed
}

// A SoftResult is the whole of one machine.
type SoftResult struct {
	Status SoftStatus
	Foot   int // what Status speaks of, else −1

	Feet     []SoftFootResult
	FromGaps bool       // the shims close the gaps exactly; else they are estimates from rises, or there are none
	Total    float64    // mm added at all feet; corners: mean filling of each foot, tapers included
	Bound    float64    // mm, the dual bound Σ (1 − Dual)·gap: no set of shims that closes the gaps adds less. Equal to Total but for rounding
	Plane    [3]float64 // how the machine is lifted: mm at Along = Across = 0, mm/m along, mm/m across
	Largest  float64    // mm, the largest Residual of a foot

	Pattern  SoftPattern
	Off      []int   // the feet that stand off, in order
	Carrying [2]int  // SoftRocking: the two feet of the diagonal that carries; else −1, −1
	Common   float64 // mm that the other feet rise, too; past the limit they spring as well. Rises only
	Decided  float64 // mm, the number nearest to the limit, counted in its uncertainty, among those the pattern rests on
	Decider  int     // the foot it is of; −1: no number decides
	UDecided float64 // mm, its expanded uncertainty (k = 2)
	Sure     bool    // Decided is further from the limit than UDecided, or none is needed; if not, measure again with a finer gauge or a mean of several

	Pull        bool    // opening the flanges changed a rise by more than the limit: the piping pulls
	PullLargest float64 // mm, the largest change, signed; NaN without second rises
	PullFoot    int     // the foot it is of, else −1
	PullSure    bool    // |PullLargest| is further from the limit than its expanded uncertainty
}

// Soft finds the soft feet of one machine. res is overwritten.
//
// From gaps: the feet are points of a rigid body and g_i the gap at each. Lifting the body by a plane p leaves s_i = g_i + p(x_i, y_i) to
// fill, which must be ≥ 0; the plane of least Σ s_i is found exactly ([leastFill]). Where several planes give that total, equal within
// 1e-9 (always so for four feet on a rectangle), the one of least Σ s_i² is taken, which shares the shims out evenly. With corners and
// the size of the sole each corner is such a point, the total counts the mean of the four, and a foot's Shim is what fits under its
// tightest corner; without the size the tightest corner is the foot's gap.
//
// Four rigid feet have one number that is not flat, the rock: which of the two high feet is the short one no gap can say, so the pattern is
// rocking, and either high foot may take its StandOff alone instead of both their Shim.
//
// From rises, which win for the pattern, those with the flanges opened before the others, as a pull of the piping is no soft foot: the feet not standing off tell what all rise; a foot's shim is its rise less that, the rule of
// US Bureau of Reclamation FIST 4-1A, halved at each foot of a rocking pair, since either foot alone shows the whole.
func Soft(in *SoftInput, res *SoftResult) {
	*res = SoftResult{Foot: -1, Feet: res.Feet[:0], Off: res.Off[:0], Carrying: [2]int{-1, -1}, Decider: -1, PullFoot: -1, Total: nan, Bound: nan,
		Plane: [3]float64{nan, nan, nan}, Largest: nan, Common: nan, Decided: nan, UDecided: nan, PullLargest: nan}
	res.Status = in.soft(res)
	if res.Status != SoftOK {
		res.Feet, res.Off, res.Pattern = res.Feet[:0], res.Off[:0], SoftNoPattern
	}
}

var noSoftFoot = SoftFootResult{Shim: nan, Residual: nan, Dual: nan, StandOff: nan, Clearance: nan, UClearance: nan, Excess: nan, Freed: nan,
	TaperAlong: nan, TaperAcross: nan, SlopeAlong: nan, SlopeAcross: nan, Twist: nan, Range: nan}

func (in *SoftInput) limit() float64 { return share(in.Limit, DefaultSoftLimit) }

func (in *SoftInput) soft(res *SoftResult) SoftStatus {
	if len(in.Feet) < 3 || len(in.Feet) > 12 {
		return SoftFeetCount
	}
	if in.Limit < 0 || in.Limit > sensible || !(in.U >= 0 && in.U < sensible) || !(in.URise >= 0 && in.URise < sensible) || in.MaxSteps < 0 {
		return SoftBadNumber
	}
	gaps, rises := -1, -1 // a foot without
	for i := range in.Feet {
		f := &in.Feet[i]
		res.Foot = i
		if !f.sound() {
			return SoftBadNumber
		}
		for j := range i {
			if o := &in.Feet[j]; math.Hypot(f.Along-o.Along, f.Across-o.Across) < leastBase {
				return SoftSamePlace
			}
		}
		if math.IsNaN(f.Gap) && !f.corners() {
			gaps = i
		}
		if math.IsNaN(f.rise()) {
			rises = i
		}
	}
	res.Foot = -1
	if inLine(in.Feet) {
		return SoftInLine
	}
	if gaps >= 0 && rises >= 0 {
		res.Foot = min(gaps, rises)
		return SoftNotMeasured
	}
	for range in.Feet {
		res.Feet = append(res.Feet, noSoftFoot)
	}
	if gaps < 0 {
		if !in.close(res) {
			return SoftInLine
		}
	}
	if rises < 0 {
		in.diagnose(res)
	} else {
		in.patternOfGaps(res)
	}
	in.pull(res)
	return SoftOK
}

const sensible = 1e6 // mm: nothing about a machine's feet is larger

// sound says whether the numbers of a foot can be.
func (f *SoftFoot) sound() bool {
	known := 0
	for _, c := range f.Corner {
		if !math.IsNaN(c) {
			known++
			if !(c >= 0 && c < sensible) {
				return false
			}
		}
	}
	if known != 0 && known != 4 {
		return false
	}
	return math.Abs(f.Along) < sensible && math.Abs(f.Across) < sensible && !(f.Gap < 0) && !(f.Gap >= sensible) &&
		!(math.Abs(f.Rise) >= sensible) && !(math.Abs(f.RiseFreed) >= sensible) &&
		!(f.Length < leastBase) && !(f.Width < leastBase) && !(f.Length >= sensible) && !(f.Width >= sensible)
}

// rise is the rise that is the machine's own: without the pull of the piping where that was measured.
func (f *SoftFoot) rise() float64 {
	if math.IsNaN(f.RiseFreed) {
		return f.Rise
	}
	return f.RiseFreed
}

func (f *SoftFoot) corners() bool { return !math.IsNaN(f.Corner[0]) }

// sized says whether the corners have known places.
func (f *SoftFoot) sized() bool { return f.corners() && !math.IsNaN(f.Length) && !math.IsNaN(f.Width) }

// inLine says whether the feet lie so nearly on one line that their rest across it is no more than a thousandth of their reach.
func inLine(feet []SoftFoot) bool {
	var mx, my float64
	for i := range feet {
		mx += feet[i].Along / float64(len(feet))
		my += feet[i].Across / float64(len(feet))
	}
	var xx, xy, yy float64
	for i := range feet {
		dx, dy := feet[i].Along-mx, feet[i].Across-my
		xx += dx * dx
		xy += dx * dy
		yy += dy * dy
	}
	mid, dif := 0.5*(xx+yy), math.Hypot(0.5*(xx-yy), xy)
	// The smaller of the two from the determinant, without cancellation.
	return !((xx*yy-xy*xy)/(mid+dif) > 1e-6*(mid+dif))
}

// close finds the shims from the gaps. It returns false when rounding leaves the plane undetermined.
func (in *SoftInput) close(res *SoftResult) bool {
	var pts []gapPoint
	first := make([]int, len(in.Feet))
	for i := range in.Feet {
		f := &in.Feet[i]
		first[i] = len(pts)
		if f.sized() {
			for k, c := range f.Corner {
				sx, sy := cornerSide(k)
				pts = append(pts, gapPoint{f.Along + sx*f.Length/2, f.Across + sy*f.Width/2, c, 0.25, i})
			}
			continue
		}
		g := f.Gap
		if f.corners() {
			g = min(f.Corner[0], f.Corner[1], f.Corner[2], f.Corner[3])
		}
		pts = append(pts, gapPoint{f.Along, f.Across, g, 1, i})
	}
	fill, ok := leastFill(pts)
	if !ok {
		return false
	}
	fill.clearances(pts, in.limit(), func(i int, c, against bound) {
		res.Feet[i].Clearance, res.Feet[i].UClearance, res.Feet[i].against = c.c, 2*c.norm*in.U, against
	})
	res.FromGaps, res.Plane = true, fill.plane
	res.Total, res.Bound, res.Largest = 0, 0, 0
	for i := range pts {
		res.Total += pts[i].w * fill.s[i]
		res.Bound += (pts[i].w - fill.dual[i]) * pts[i].g
	}
	for i := range in.Feet {
		f, r, k := &in.Feet[i], &res.Feet[i], first[i]
		r.Shim, r.Dual, r.StandOff = fill.s[k], fill.dual[k], fill.most[k]
		r.Residual = math.Abs(pts[k].g + fill.at(pts[k].x, pts[k].y) - r.Shim)
		if f.sized() {
			for c := k + 1; c < k+4; c++ {
				r.Shim, r.StandOff = min(r.Shim, fill.s[c]), min(r.StandOff, fill.most[c])
				r.Dual += fill.dual[c]
			}
			in.taper(f, [4]float64(fill.s[k:k+4]), r)
		} else if f.corners() {
			in.taper(f, f.Corner, r)
		}
		res.Largest = max(res.Largest, r.Residual)
	}
	return true
}

// cornerSide returns ±1 along and across for a corner.
func cornerSide(k int) (along, across float64) {
	along, across = -1, -1
	if k == FreeSide3 || k == FreeSide9 {
		along = 1
	}
	if k == CouplingSide3 || k == FreeSide3 {
		across = 1
	}
	return along, across
}

// taper lays out stepped shims in what is left open at the four corners over the tightest one.
//
// A taper of E from one edge or corner to the one opposite is filled by n − 1 shims of E/n, each pushed in from the open side as far as the
// gap is as high as the shims under it: the k-th covers 1 − k/n of the way. Nowhere is more than E/n then left open by the taper, and
// nothing stands proud of the sole; n is the least for which that is within the limit, with what the steps cannot follow added (the taper
// the other way, twist).
func (in *SoftInput) taper(f *SoftFoot, open [4]float64, r *SoftFootResult) {
	low := min(open[0], open[1], open[2], open[3])
	high := max(open[0], open[1], open[2], open[3])
	r.TaperAlong = 0.5 * ((open[FreeSide3] + open[FreeSide9]) - (open[CouplingSide9] + open[CouplingSide3]))
	r.TaperAcross = 0.5 * ((open[CouplingSide3] + open[FreeSide3]) - (open[CouplingSide9] + open[FreeSide9]))
	r.SlopeAlong, r.SlopeAcross = 1000*r.TaperAlong/f.Length, 1000*r.TaperAcross/f.Width
	r.Twist = 0.25 * math.Abs((open[0]+open[2])-(open[1]+open[3]))
	r.Range, r.Residual = high-low, high-low
	limit := in.limit()
	if within(high-low, limit) {
		return
	}
	r.Angled = true
	steps := in.MaxSteps
	if steps == 0 {
		steps = 4
	}
	a, c := math.Abs(r.TaperAlong), math.Abs(r.TaperAcross)
	best := math.Inf(1)
	lay := func(side FootSide, taper, rest float64) {
		n := steps + 1
		for k := 1; k <= steps; k++ {
			if within(taper/float64(k)+rest, limit) {
				n = k
				break
			}
		}
		left := min(taper/float64(n)+rest, high-low)
		if !(left < best) || within(best, limit) {
			return
		}
		best = left
		r.Open, r.Residual, r.Machine = side, left, !within(left, limit)
		r.Steps = nil
		for k := 1; k < n; k++ {
			r.Steps = append(r.Steps, SoftStep{taper / float64(n), 1 - float64(k)/float64(n)})
		}
	}
	edge, corner := FreeEdge, FreeCorner3
	switch {
	case a >= c && r.TaperAlong < 0:
		edge = CouplingEdge
	case a < c && r.TaperAcross > 0:
		edge = Edge3
	case a < c:
		edge = Edge9
	}
	switch {
	case r.TaperAlong < 0 && r.TaperAcross < 0:
		corner = CouplingCorner9
	case r.TaperAlong < 0:
		corner = CouplingCorner3
	case r.TaperAcross < 0:
		corner = FreeCorner9
	}
	lay(edge, max(a, c), min(a, c)+2*r.Twist)
	lay(corner, a+c, 2*r.Twist)
}

// A gapPoint is a place with a gap, its weight in the total, and the foot it belongs to.
type gapPoint struct {
	x, y, g, w float64
	foot       int
}

// A support is one, two or three points with the centroid of all among them: they can carry the body alone. part is what each carries.
type support struct {
	size int
	on   [3]int
	part [3]float64
	mean float64 // Σ part·g: the height of the body over the centroid when it rests on them
}

// of is what a point carries in the support.
//
//go:noinline
func (s *support) of(i int) float64 {
	for q := range s.size {
		if s.on[q] == i {
			return s.part[q]
		}
	}
	return 0
}

// A filling is the answer of leastFill: one number a point.
type filling struct {
	s     []float64 // mm to fill, ≥ 0, exactly 0 where the body rests
	dual  []float64 // ≥ 0, Σ dual = Σ w, Σ dual·x = Σ w·x, likewise y
	most  []float64 // the most at that point among all fillings of the same least total
	plane [3]float64

	supports []support // all there are
}

// at returns how far the body is lifted at a place.
func (f *filling) at(x, y float64) float64 { return f.plane[0] + (f.plane[1]*x+f.plane[2]*y)/1000 }

// leastFill solves: minimise Σ w_i·s_i over planes p, s_i = g_i + p(x_i, y_i) ≥ 0.
//
// Σ w_i·s_i = Σ w_i·g_i + W·p(centroid), so the plane wanted is the one lowest at the weighted centroid. Its dual looks for the point of the
// lower convex hull of the (x, y, g) that lies over the centroid: weights on one, two or three points whose mean is the centroid, of the
// least mean gap. All such sets are tried, the small ones first, and a larger one must be better by more than 1e-9 of the largest gap. The best
// has s = 0 at its points, which leaves the plane free by one turn when they are two and by two when it is one: there Σ w_i·s_i²
// decides, a strictly convex function, so that the answer is one and does not depend on the order of the points.
func leastFill(pts []gapPoint) (filling, bool) {
	n := len(pts)
	var mx, my, sum, reach, top float64
	for i := range pts {
		sum += pts[i].w
		mx += pts[i].w * pts[i].x
		my += pts[i].w * pts[i].y
		top = max(top, pts[i].g)
	}
	mx, my = mx/sum, my/sum
	x, y := make([]float64, n), make([]float64, n)
	for i := range pts {
		x[i], y[i] = pts[i].x-mx, pts[i].y-my
		reach = max(reach, math.Hypot(x[i], y[i]))
	}
	for i := range pts {
		x[i], y[i] = x[i]/reach, y[i]/reach
	}

	const flat = 1e-9
	all := supports(pts, x, y, flat)
	if len(all) == 0 {
		return filling{}, false
	}
	best := all[0]
	for _, s := range all[1:] {
		if s.mean < best.mean-flat*top || s.size == best.size && s.mean < best.mean {
			best = s
		}
	}
	on, part, size := best.on, best.part, best.size

	f := filling{s: make([]float64, n), dual: make([]float64, n), most: make([]float64, n), supports: all}
	for q := range size {
		f.dual[on[q]] = part[q] * sum
	}
	// The plane −(c0 + cx·x + cy·y) through the resting points, from the first of them; then what freedom is left.
	o := on[0]
	var cx, cy float64
	rest := func(i int, bx, by float64) float64 {
		return (pts[i].g - pts[o].g) + bx*(x[i]-x[o]) + by*(y[i]-y[o])
	}
	switch size {
	case 3:
		x1, y1, g1 := x[on[1]]-x[o], y[on[1]]-y[o], pts[on[1]].g-pts[o].g
		x2, y2, g2 := x[on[2]]-x[o], y[on[2]]-y[o], pts[on[2]].g-pts[o].g
		d := x1*y2 - x2*y1
		cx, cy = (-g1*y2+g2*y1)/d, (-x1*g2+x2*g1)/d
		for i := range n {
			f.most[i] = rest(i, cx, cy)
		}
	case 2:
		x1, y1, g1 := x[on[1]]-x[o], y[on[1]]-y[o], pts[on[1]].g-pts[o].g
		d := math.Hypot(x1, y1)
		x1, y1, g1 = x1/d, y1/d, g1/d
		e := turning{base: func(i int) float64 { return rest(i, -g1*x1, -g1*y1) },
			gain: func(i int) float64 { return x1*(y[i]-y[o]) - y1*(x[i]-x[o]) }}
		t, lo, hi, ok := e.solve(pts, top)
		if !ok {
			return filling{}, false
		}
		at := func(t float64) (bx, by float64) { return -g1*x1 - t*y1, -g1*y1 + t*x1 }
		cx, cy = at(t)
		for i := range n {
			ax, ay := at(lo)
			bx, by := at(hi)
			f.most[i] = max(rest(i, ax, ay), rest(i, bx, by))
		}
	default:
		var ok bool
		if cx, cy, ok = tilt(pts, x, y, o, top, f.most); !ok {
			return filling{}, false
		}
	}
	for i := range n {
		s := rest(i, cx, cy)
		if s < -1e-6*top {
			return filling{}, false
		}
		if s <= flat*top {
			s = 0
		}
		f.s[i], f.most[i] = s, max(f.most[i], s)
		if f.most[i] <= flat*top {
			f.most[i] = 0
		}
	}
	for q := range size {
		f.s[on[q]], f.most[on[q]] = 0, 0
	}
	c0 := -pts[o].g - cx*x[o] - cy*y[o]
	bx, by := cx/reach, cy/reach
	f.plane = [3]float64{c0 - bx*mx - by*my, 1000 * bx, 1000 * by}
	return f, finite(f.plane[0] + f.plane[1] + f.plane[2])
}

// supports lists the sets of points that can carry the body, the small ones first. x and y are the places from the centroid, the farthest 1 away.
func supports(pts []gapPoint, x, y []float64, flat float64) (list []support) {
	n := len(pts)
	cross := func(i, j int) float64 { return x[i]*y[j] - x[j]*y[i] }
	add := func(size int, on [3]int, part [3]float64) {
		s := support{size, on, part, 0}
		for q := range size {
			s.mean += part[q] * pts[on[q]].g
		}
		list = append(list, s)
	}
	for i := range n {
		if math.Hypot(x[i], y[i]) <= flat {
			add(1, [3]int{i}, [3]float64{1})
		}
	}
	for i := range n {
		for j := range i {
			dx, dy := x[j]-x[i], y[j]-y[i]
			d2 := dx*dx + dy*dy
			t := -(x[i]*dx + y[i]*dy) / d2 // the centroid's foot on the line i–j
			if d2 > 0 && math.Abs(cross(i, j)) <= flat*math.Sqrt(d2) && t > flat && t < 1-flat {
				add(2, [3]int{i, j}, [3]float64{1 - t, t})
			}
		}
	}
	for i := range n {
		for j := range i {
			cij := cross(i, j)
			for k := range j {
				ci, cj, ck := cross(j, k), cross(k, i), cij
				if ci < 0 {
					ci, cj, ck = -ci, -cj, -ck
				}
				if ci > flat && cj > flat && ck > flat {
					a := ci + cj + ck
					add(3, [3]int{i, j, k}, [3]float64{ci / a, cj / a, ck / a})
				}
			}
		}
	}
	return list
}

// A bound is what one support with a foot and one without it say of the foot's clearance, and the root of the sum of squares of what the gaps count in
// that: times the standard uncertainty of one gap it is that of the clearance.
type bound struct{ c, norm float64 }

// less compares by the distance from the limit, counted in the uncertainty.
func (a *bound) less(b *bound, limit float64) bool { return (a.c-limit)*b.norm < (b.c-limit)*a.norm }

// carries is what the points of a foot carry in the support.
//
//go:noinline
func (s *support) carries(pts []gapPoint, foot int) (part float64) {
	for q := range s.size {
		if pts[s.on[q]].foot == foot {
			part += s.part[q]
		}
	}
	return part
}

// boundOf is the bound of s, in which the foot carries part, and w.
//
//go:noinline
func boundOf(s, w *support, part float64) bound {
	sum := 0.0
	for q := range s.size {
		d := s.part[q] - w.of(s.on[q])
		sum += d * d
	}
	for q := range w.size {
		if s.of(w.on[q]) == 0 {
			sum += w.part[q] * w.part[q]
		}
	}
	return bound{(s.mean - w.mean) / part, math.Sqrt(sum) / part}
}

// A ranked support stands in its place by a number.
type ranked struct {
	*support
	by float64
}

// rank puts s into a list that rises and holds 64 at the most, behind those that are alike.
//
//go:noinline
func rank(list []ranked, s *support, by float64) []ranked {
	if len(list) < 64 {
		list = append(list, ranked{})
	} else if by >= list[63].by {
		return list
	}
	k := len(list) - 1
	for ; k > 0 && list[k-1].by > by; k-- {
		list[k] = list[k-1]
	}
	list[k] = ranked{s, by}
	return list
}

// clearances tells of each foot that does not carry in any case how far it is from carrying, and which bound says most on which side of the limit
// that is.
//
// The body rests on the support of least mean. Let a foot down by c and the means of the supports with it fall by c times what it carries in them, so
// the foot carries from that c on for which the least of them comes down to the least mean without it: the least over the supports with the foot of
// the most over those without it. It is within the limit for sure if one support with it is so against all without, and past it for sure if each with
// it is so against one without. Of many supports those nearest to carrying are looked at. Where several tie, the surest of them counts.
func (f *filling) clearances(pts []gapPoint, limit float64, tell func(foot int, clearance, against bound)) {
	const tie = 1e-9 // mm
	var with, without []ranked
	for foot := 0; foot <= pts[len(pts)-1].foot; foot++ {
		with, without = with[:0], without[:0]
		for i := range f.supports {
			if s := &f.supports[i]; s.carries(pts, foot) == 0 {
				without = rank(without, s, s.mean)
			}
		}
		if len(without) == 0 {
			continue
		}
		for i := range f.supports {
			s := &f.supports[i]
			if part := s.carries(pts, foot); part > 0 {
				with = rank(with, s, (s.mean-without[0].by)/part)
			}
		}
		if len(with) == 0 {
			continue
		}
		clearance := boundOf(with[0].support, without[0].support, with[0].carries(pts, foot))
		var against bound
		for i, s := range with {
			part := s.carries(pts, foot)
			top := boundOf(s.support, without[0].support, part)
			ties := top.c-clearance.c <= tie
			if ties && top.norm < clearance.norm {
				clearance.norm = top.norm
			}
			for _, w := range without[1:] {
				b := boundOf(s.support, w.support, part)
				if ties && (w.by-without[0].by)/part <= tie && b.norm < clearance.norm {
					clearance.norm = b.norm
				}
				if top.less(&b, limit) {
					top = b
				}
			}
			if i == 0 || top.less(&against, limit) {
				against = top
			}
		}
		tell(foot, clearance, against)
	}
}

// turning is a body free to turn about a line: s_i = base_i + t·gain_i.
type turning struct{ base, gain func(i int) float64 }

// solve returns the turn of least Σ w·s² among those that keep every s ≥ 0, and the range of these.
func (e *turning) solve(pts []gapPoint, top float64) (t, lo, hi float64, ok bool) {
	lo, hi = math.Inf(-1), math.Inf(1)
	var sg, gg float64
	for i := range pts {
		b, g := e.base(i), e.gain(i)
		sg += pts[i].w * b * g
		gg += pts[i].w * g * g
		switch {
		case g > 1e-9:
			lo = max(lo, -b/g)
		case g < -1e-9:
			hi = min(hi, -b/g)
		}
	}
	if lo > hi {
		if lo-hi > 1e-6*top {
			return 0, lo, hi, false
		}
		lo = 0.5 * (lo + hi)
		hi = lo
	}
	if !(gg > 0) || math.IsInf(lo, 0) || math.IsInf(hi, 0) {
		return 0, lo, hi, false
	}
	return min(max(-sg/gg, lo), hi), lo, hi, true
}

// tilt finds the tilt about one resting point of least Σ w·s² with every s ≥ 0: the best of the free tilt, those with one more point
// resting, and those with two. most gets the largest s of each point over all tilts allowed, which is at a corner of the range.
func tilt(pts []gapPoint, x, y []float64, o int, top float64, most []float64) (cx, cy float64, ok bool) {
	n := len(pts)
	slack := 1e-9 * top
	best := math.Inf(1)
	s := func(i int, bx, by float64) float64 {
		return (pts[i].g - pts[o].g) + bx*(x[i]-x[o]) + by*(y[i]-y[o])
	}
	try := func(bx, by float64) bool {
		q := 0.0
		for i := range n {
			v := s(i, bx, by)
			if !(v >= -slack) {
				return false
			}
			q += pts[i].w * v * v
		}
		if q < best {
			best, cx, cy, ok = q, bx, by, true
		}
		return true
	}
	var xx, xy, yy, xg, yg float64
	for i := range n {
		dx, dy, g := x[i]-x[o], y[i]-y[o], pts[i].g-pts[o].g
		w := pts[i].w
		xx += w * dx * dx
		xy += w * dx * dy
		yy += w * dy * dy
		xg += w * dx * g
		yg += w * dy * g
	}
	if d := xx*yy - xy*xy; d > 0 {
		try((-xg*yy+yg*xy)/d, (-xx*yg+xy*xg)/d)
	}
	for i := range n {
		if i == o {
			continue
		}
		dx, dy := x[i]-x[o], y[i]-y[o]
		d := math.Hypot(dx, dy)
		if d < 1e-9 {
			continue
		}
		dx, dy = dx/d, dy/d
		g := (pts[i].g - pts[o].g) / d
		// On the line of tilts that rest on i as well.
		var sg, gg float64
		for j := range n {
			v := dx*(y[j]-y[o]) - dy*(x[j]-x[o])
			sg += pts[j].w * v * s(j, -g*dx, -g*dy)
			gg += pts[j].w * v * v
		}
		if gg > 0 {
			t := -sg / gg
			try(-g*dx-t*dy, -g*dy+t*dx)
		}
		for j := range i {
			ex, ey, h := x[j]-x[o], y[j]-y[o], pts[j].g-pts[o].g
			v := dx*ey - dy*ex
			if j == o || math.Abs(v) < 1e-9 {
				continue
			}
			bx, by := (-g*ey+h*dy)/v, (-dx*h+ex*g)/v
			if try(bx, by) {
				for k := range n {
					most[k] = max(most[k], s(k, bx, by))
				}
			}
		}
	}
	return cx, cy, ok
}

// decide keeps the number that is nearest to the limit, counted in its own expanded uncertainty u.
func (r *SoftResult) decide(foot int, value, u, limit float64) {
	d, e := math.Abs(value-limit), math.Abs(r.Decided-limit)
	if r.Decider < 0 || d*r.UDecided < e*u || d*r.UDecided == e*u && d-u < e-r.UDecided {
		r.Decided, r.UDecided, r.Decider, r.Sure = value, u, foot, d >= u
	}
}

// patternOfGaps names the pattern of what stands off after the gaps are closed.
func (in *SoftInput) patternOfGaps(res *SoftResult) {
	limit := in.limit()
	res.Sure = true
	for i := range res.Feet {
		r := &res.Feet[i]
		if !math.IsNaN(r.Clearance) {
			res.decide(i, r.against.c, 2*r.against.norm*in.U, limit)
		}
		if !within(r.StandOff, limit) {
			res.Off = append(res.Off, i)
		}
	}
	switch len(res.Off) {
	case 0:
		res.Pattern = SoftNone
	case 1:
		res.Pattern = SoftOneFoot
	default:
		res.Pattern = SoftSeveral
	}
	if d, ok := in.diagonals(); ok {
		for k, pair := range d {
			high := func(i int) bool { return slices.Contains(pair[:], i) }
			if len(res.Off) > 0 && high(res.Off[0]) && high(res.Off[len(res.Off)-1]) {
				// The least total may put all of it under one foot; the other one of its diagonal stands off as much.
				res.Off = append(res.Off[:0], pair[:]...)
				res.Carrying, res.Pattern = d[1-k], SoftRocking
				break
			}
		}
	}
	in.angled(res, limit)
}

// angled turns the pattern to SoftAngled if nothing but soles out of parallel is found.
func (in *SoftInput) angled(res *SoftResult, limit float64) {
	if res.Pattern != SoftNone {
		return
	}
	for i := range res.Feet {
		r := &res.Feet[i]
		if !math.IsNaN(r.Range) {
			res.decide(i, r.Range, 2*math.Sqrt2*in.U, limit)
		}
		if r.Angled {
			res.Pattern, res.Off = SoftAngled, append(res.Off, i)
		}
	}
}

// diagonals returns the two diagonals of four feet of which none lies between the others, in order.
func (in *SoftInput) diagonals() (d [2][2]int, ok bool) {
	if len(in.Feet) != 4 {
		return d, false
	}
	side := func(i, j, k int) float64 {
		a, b, c := &in.Feet[i], &in.Feet[j], &in.Feet[k]
		return (b.Along-a.Along)*(c.Across-a.Across) - (b.Across-a.Across)*(c.Along-a.Along)
	}
	for o := 1; o < 4; o++ {
		i, j := o%3+1, (o+1)%3+1
		if side(0, o, i)*side(0, o, j) < 0 && side(i, j, 0)*side(i, j, o) < 0 {
			return [2][2]int{{0, o}, {min(i, j), max(i, j)}}, true
		}
	}
	return d, false
}

// diagnose names the pattern of the rises and, without gaps, estimates the shims.
func (in *SoftInput) diagnose(res *SoftResult) {
	limit := in.limit()
	u1, u2 := 2*in.URise, 2*math.Sqrt2*in.URise // of a rise, of a difference
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range in.Feet {
		r := in.Feet[i].rise()
		lo, hi = min(lo, r), max(hi, r)
	}
	shim := func(i int, s float64) {
		if !res.FromGaps {
			res.Feet[i].Shim = s
		}
	}
	// The feet that do not stand off: those within the limit; if all are past it they spring as well, and those within the limit of the least.
	bar, u := limit, u1
	if !within(lo, limit) {
		bar, u = lo+limit, u2
		for i := range in.Feet {
			if in.Feet[i].rise() == lo {
				res.decide(i, lo, u1, limit)
			}
		}
	}
	var base []float64
	for i := range in.Feet {
		r := in.Feet[i].rise()
		res.decide(i, r-(bar-limit), u, limit)
		if within(r, bar) {
			base = append(base, r)
		} else {
			res.Off = append(res.Off, i)
		}
	}
	slices.Sort(base)
	res.Common = 0.5 * (base[(len(base)-1)/2] + base[len(base)/2])
	for i := range in.Feet {
		res.Feet[i].Excess = in.Feet[i].rise() - res.Common
		shim(i, 0)
	}
	switch len(res.Off) {
	case 0:
		if res.Pattern = SoftNone; !within(hi, limit) {
			res.Pattern = SoftSpringing
			for i := range in.Feet {
				res.Off = append(res.Off, i)
			}
		}
	case 1:
		res.Pattern = SoftOneFoot
	default:
		res.Pattern = SoftSeveral
	}
	if res.Pattern == SoftOneFoot && res.FromGaps {
		in.alone(res, res.Off[0])
	}
	half := 1.0
	if d, ok := in.diagonals(); ok && len(res.Off) == 2 {
		a, b := res.Feet[res.Off[0]].Excess, res.Feet[res.Off[1]].Excess
		for k, pair := range d {
			// A rigid machine shows the same at both; where one is less than half the other something else is added.
			if slices.Equal(pair[:], res.Off) && within(max(a, b), 2*min(a, b)) {
				res.Pattern, res.Carrying, half = SoftRocking, d[1-k], 0.5
			}
		}
	}
	if res.Pattern != SoftSpringing {
		for _, i := range res.Off {
			shim(i, max(0, half*res.Feet[i].Excess))
		}
	}
	if !res.FromGaps {
		res.Total = 0
		for i := range res.Feet {
			res.Total += res.Feet[i].Shim
		}
	}
	in.angled(res, limit)
}

// alone gives foot i of four all of the rock, which it may have as well as its half ([Soft]), because the rises say that it alone is short.
func (in *SoftInput) alone(res *SoftResult, i int) {
	if _, ok := in.diagonals(); !ok || !(res.Feet[i].StandOff > res.Feet[i].Shim) {
		return
	}
	for k := range in.Feet {
		if in.Feet[k].corners() {
			return
		}
	}
	// The plane through the gaps of the other three.
	o := [3]*SoftFoot{&in.Feet[(i+1)%4], &in.Feet[(i+2)%4], &in.Feet[(i+3)%4]}
	x1, y1, g1 := o[1].Along-o[0].Along, o[1].Across-o[0].Across, o[0].Gap-o[1].Gap
	x2, y2, g2 := o[2].Along-o[0].Along, o[2].Across-o[0].Across, o[0].Gap-o[2].Gap
	d := x1*y2 - x2*y1
	bx, by := (g1*y2-g2*y1)/d, (x1*g2-x2*g1)/d
	res.Plane = [3]float64{-o[0].Gap - bx*o[0].Along - by*o[0].Across, 1000 * bx, 1000 * by}
	for k := range res.Feet {
		r := &res.Feet[k]
		if r.Shim = 0; k == i {
			r.Shim = r.StandOff
		}
	}
}

// pull compares the rises with the flanges bolted and opened.
func (in *SoftInput) pull(res *SoftResult) {
	for i := range in.Feet {
		d := in.Feet[i].Rise - in.Feet[i].RiseFreed
		res.Feet[i].Freed = d
		if !math.IsNaN(d) && !(math.Abs(d) <= math.Abs(res.PullLargest)) {
			res.PullLargest, res.PullFoot = d, i
		}
	}
	if math.IsNaN(res.PullLargest) {
		return
	}
	limit := in.limit()
	res.Pull = !within(math.Abs(res.PullLargest), limit)
	res.PullSure = math.Abs(math.Abs(res.PullLargest)-limit) >= 2*math.Sqrt2*in.URise
}

// String is the ending in a few words.
func (s SoftStatus) String() string { return softStatusText[s].String() }

// Code is the status as other programs read it, in every language the same.
func (s SoftStatus) Code() string { return softStatusText[s].Code() }

// String is the pattern in words of the trade.
func (p SoftPattern) String() string { return softPatternText[p].String() }

// String names the edge or corner.
func (f FootSide) String() string { return footSideText[f].String() }

var softStatusText = [numSoftStatus]words.Key{
	SoftOK:          words.SoftStatusComputed,
	SoftFeetCount:   words.SoftStatusFeetCount,
	SoftBadNumber:   words.SoftStatusBadNumber,
	SoftSamePlace:   words.SoftStatusSamePlace,
	SoftInLine:      words.SoftStatusInLine,
	SoftNotMeasured: words.SoftStatusNotMeasured,
}

var softPatternText = [numSoftPatterns]words.Key{
	SoftNoPattern: words.SoftPatternNotJudged,
	SoftNone:      words.SoftPatternNone,
	SoftOneFoot:   words.SoftPatternOne,
	SoftRocking:   words.SoftPatternRocking,
	SoftSpringing: words.SoftPatternSpringing,
	SoftSeveral:   words.SoftPatternSeveral,
	SoftAngled:    words.SoftPatternAngled,
}

var footSideText = [numFootSides]words.Key{
	NoSide:          words.SentenceNone,
	CouplingEdge:    words.FootSideCouplingEdge,
	CouplingCorner3: words.FootSideCouplingCorner3,
	Edge3:           words.FootSideEdge3,
	FreeCorner3:     words.FootSideFreeCorner3,
	FreeEdge:        words.FootSideFreeEdge,
	FreeCorner9:     words.FootSideFreeCorner9,
	Edge9:           words.FootSideEdge9,
	CouplingCorner9: words.FootSideCouplingCorner9,
}

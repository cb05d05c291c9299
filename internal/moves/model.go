package moves

import (
	"math"
)

// affine is const + coef·(parameters).
type affine struct {
	coef  []float64
	konst float64
}

func (f *affine) at(x []float64) float64 { return f.konst + dot(f.coef, x) }

// foot is a pair of feet in one plane, its move as the parameters have it.
type foot struct {
	machine, pair, plane int
	move                 affine
	weight               float64    // effort, scaled
	room                 [2]float64 // towards −, towards +; NaN no bound
	fixed                bool       // of a machine that must not move
}

// planned is a foot with its move.
type planned struct {
	machine, pair, plane int
	move                 float64
}

// disc is a vector that is to stay within a circle.
type disc struct {
	v, h   affine
	radius float64
	group  int // of discs whose shares are added, −1 alone
	share  int // its share among those of groups
}

// model is a train in parameters of which any value is geometry: rooms, efforts and discs are what bounds them.
type model struct {
	n        int // parameters
	feet     []foot
	discs    []disc
	added    float64   // sum of the shares of a group
	group    int       // number of groups
	grouped  int       // number of discs in groups
	touching []tangent // of tangents to the discs, those that were needed so far
	touched  map[tangent]bool
}

// tangent is one of the tangents to a disc, at a corner of its polygon.
type tangent struct{ disc, at int }

// A circle is held to by a polygon around it, of which only those sides are made that are needed. Its corners are out by 3e-10 of the radius, and as no two sides stand closer to
// each other than these, a basis with two of them can still be inverted.
const (
	sides = 1 << 17
	first = 16 // sides to begin with
)

// foot adds a pair of feet.
func (b *model) foot(s *search, machine, pair, plane int, move affine, fixed bool) {
	m := &s.t.Machines[machine]
	f := foot{machine: machine, pair: pair, plane: plane, move: move, weight: m.Effort / s.effort, room: [2]float64{math.NaN(), math.NaN()}, fixed: fixed}
	if pair < len(m.Pairs) { // the tilt of a flange has no bound: the bolts lengthen
		f.room = m.Pairs[pair].Room[plane]
	}
	for k, r := range f.room {
		if fixed {
			f.room[k] = 0
		} else if !(r <= noRoom) {
			f.room[k] = math.NaN()
		}
	}
	b.feet = append(b.feet, f)
}

// machine adds the pairs of a machine, of a flange its slide and its tilt. shaft is its move at a station.
func (b *model) machine(s *search, i, plane int, shaft func(x float64) affine) {
	m := &s.t.Machines[i]
	for k := range m.Pairs {
		b.foot(s, i, k, plane, shaft(m.Pairs[k].X), !m.May)
	}
	if m.parts() > len(m.Pairs) {
		x0, x1 := m.ends()
		tilt, slide := shaft(x1), shaft(x0)
		for j := range tilt.coef {
			tilt.coef[j] -= slide.coef[j]
		}
		tilt.konst -= slide.konst
		b.foot(s, i, 1, plane, tilt, !m.May)
	}
}

// rigid is the train as one bent bar in one plane, in line but for the joints whose offset is free: its parameters are the tilt of the whole and the height of every piece
// between such joints, as far as no machine that stays pins them. fits: the machines that stay are in line. free: those with feet do not stay.
func (s *search) rigid(plane int, free bool) (b *model, fits bool) {
	t := s.t
	n := len(t.Machines)
	at, piece := s.chain(plane)
	pieces := 0
	lo, hi := math.Inf(1), math.Inf(-1)
	for i := range n {
		pieces = max(pieces, piece[i]+1)
		for _, p := range t.Machines[i].Pairs {
			lo, hi = min(lo, p.X), max(hi, p.X)
		}
	}
	for i := range t.Couplings {
		lo, hi = min(lo, t.Couplings[i].X), max(hi, t.Couplings[i].X)
	}
	mid, half := (lo+hi)/2, max((hi-lo)/2, 1)
	stays := func(i int) bool { m := &t.Machines[i]; return !m.May && !(free && len(m.Pairs) > 0) }

	// Heights are those at mid, tilts those over half.
	height := func(i int) float64 { return at[i].Offset + at[i].Slope*mid/1000 }
	tilt := func(i int) float64 { return at[i].Slope * half / 1000 }
	fits = true
	pinTilt := math.NaN()
	pinHeight := make([]float64, pieces)
	for k := range pinHeight {
		pinHeight[k] = math.NaN()
	}
	pin := func(dst *float64, v float64) {
		if math.IsNaN(*dst) {
			*dst = v
		} else if math.Abs(*dst-v) > gone {
			fits = false
		}
	}
	for i := range n {
		if stays(i) {
			pin(&pinTilt, tilt(i))
			pin(&pinHeight[piece[i]], height(i))
		}
	}
	b = &model{}
	index := make([]int, pieces+1) // of the parameter of each piece, and of the tilt; −1 pinned
	for k := range index {
		v := pinTilt
		if k < pieces {
			v = pinHeight[k]
		}
		if index[k] = -1; math.IsNaN(v) {
			index[k] = b.n
			b.n++
		}
	}
	for i := range n {
		if stays(i) {
			continue
		}
		shaft := func(x float64) affine {
			z := (x - mid) / half
			f := affine{make([]float64, b.n), -height(i) - tilt(i)*z}
			if j := index[piece[i]]; j >= 0 {
				f.coef[j] = 1
			} else {
				f.konst += pinHeight[piece[i]]
			}
			if j := index[pieces]; j >= 0 {
				f.coef[j] = z
			} else {
				f.konst += pinTilt * z
			}
			return f
		}
		b.machine(s, i, plane, shaft)
	}
	return b, fits
}

// chain is where each machine's shaft stands in one plane, as offset at X = 0 and slope, against the wanted line of the train, the first machine at zero; and in which piece
// between free joints it lies.
func (s *search) chain(plane int) (at []Part, piece []int) {
	t := s.t
	n := len(t.Machines)
	at, piece = make([]Part, n), make([]int, n)
	seen := make([]bool, n)
	seen[0] = true
	pieces := 1
	for again := true; again; {
		again = false
		for i := range t.Couplings {
			c := &t.Couplings[i]
			if seen[c.A] == seen[c.B] {
				continue
			}
			from, to, sign := c.A, c.B, 1.0
			if seen[c.B] {
				from, to, sign = c.B, c.A, -1
			}
			off := c.Off[plane].Offset
			piece[to] = piece[from]
			if c.Free {
				off, piece[to] = 0, pieces
				pieces++
			}
			slope := sign * c.Off[plane].Slope
			at[to] = Part{at[from].Offset + sign*off - slope*c.X/1000, at[from].Slope + slope}
			seen[to], again = true, true
		}
	}
	return at, piece
}

// apart is the train with every machine for itself in both planes: its parameters are the moves at the outermost pairs of those that may move. free: those with feet all do.
func (s *search) apart(share float64, free bool) *model {
	t := s.t
	b := &model{added: share}
	first := make([]int, len(t.Machines)) // parameter of the near end in V; −1 it stays
	for i := range t.Machines {
		m := &t.Machines[i]
		if first[i] = -1; m.May || free && len(m.Pairs) > 0 {
			first[i] = b.n
			b.n += 2 * planes
		}
	}
	// line is the move of machine i at x in a plane, and its slope in mm/m.
	line := func(i, plane int, x float64) (move, slope affine) {
		move, slope = affine{make([]float64, b.n), 0}, affine{make([]float64, b.n), 0}
		if j := first[i]; j >= 0 {
			x0, x1 := t.Machines[i].ends()
			z := (x - x0) / (x1 - x0)
			j += 2 * plane
			move.coef[j], move.coef[j+1] = 1-z, z
			slope.coef[j], slope.coef[j+1] = -1000/(x1-x0), 1000/(x1-x0)
		}
		return
	}
	for i := range t.Machines {
		if first[i] < 0 {
			continue
		}
		for plane := range planes {
			b.machine(s, i, plane, func(x float64) affine {
				move, _ := line(i, plane, x)
				return move
			})
		}
	}
	for i := range t.Couplings {
		c := &t.Couplings[i]
		group := -1
		if c.Added && len(c.Judged) > 1 {
			group = b.group
			b.group++
		}
		for _, v := range c.Judged {
			d := disc{radius: share * v.Limit, group: group}
			if group >= 0 {
				d.radius, d.share = v.Limit, b.grouped
				b.grouped++
			}
			for plane := range planes {
				f := affine{make([]float64, b.n), v.K0*c.Off[plane].Offset + v.K1*c.Off[plane].Slope}
				for sign, m := range map[float64]int{1: c.B, -1: c.A} {
					move, slope := line(m, plane, c.X)
					for j := range f.coef {
						f.coef[j] += sign * (v.K0*move.coef[j] + v.K1*slope.coef[j])
					}
				}
				*[planes]*affine{&d.v, &d.h}[plane] = f
			}
			b.discs = append(b.discs, d)
		}
	}
	return b
}

// Variables of a programme are the parameters, then those of its own, then one a disc of a group: its share.

// bounds adds the rooms, each widened by its own variable where slack tells one (−1: it is not), and the tangents of the discs to begin with.
func (b *model) bounds(p *program, slack func(foot, end int) int, shares int) {
	for i := range b.feet {
		f := &b.feet[i]
		for end, room := range f.room {
			if math.IsNaN(room) {
				continue
			}
			sign := [2]float64{-1, 1}[end]
			row := make([]float64, p.n)
			for j, v := range f.move.coef {
				row[j] = sign * v
			}
			if k := slack(i, end); k >= 0 {
				row[k] = -1
			}
			p.add(row, room-sign*f.move.konst)
		}
	}
	group := make([][]float64, b.group)
	for i := range b.discs {
		d := &b.discs[i]
		for k := range first {
			b.tangent(p, tangent{i, k * (sides / first)}, shares)
		}
		if d.group >= 0 {
			if group[d.group] == nil {
				group[d.group] = make([]float64, p.n)
			}
			group[d.group][shares+d.share] = 1
		}
	}
	for _, row := range group {
		p.add(row, b.added)
	}
	for _, t := range b.touching {
		b.tangent(p, t, shares)
	}
}

// tangent adds the row that keeps a disc on the near side of a tangent to its circle.
func (b *model) tangent(p *program, t tangent, shares int) {
	d := &b.discs[t.disc]
	s, c := math.Sincos(2 * math.Pi / sides * float64(t.at))
	for _, v := range []*float64{&s, &c} { // the axes exactly
		if r := math.Round(*v); math.Abs(*v-r) < 1e-15 {
			*v = r
		}
	}
	row := make([]float64, p.n)
	for j := range d.v.coef {
		row[j] = c*d.v.coef[j] + s*d.h.coef[j]
	}
	bound := -c*d.v.konst - s*d.h.konst
	if d.group >= 0 {
		row[shares+d.share] = -d.radius
	} else {
		bound += d.radius
	}
	p.scaled(row, bound, d.unit())
}

// unit is what distances from the circle are told in.
func (d *disc) unit() float64 {
	if d.radius < 1e-6 {
		return 1
	}
	return d.radius
}

// finish solves a programme whose discs are polygons so far, adding tangents where a vector is outside its circle until none is by more than 5e-10 of it. The polygons
// contain the circles, so what is impossible with them is impossible.
func (s *search) finish(b *model, p *program, shares int) ending {
	end, second := p.solve(func() bool { return s.outside(b, p, shares) })
	if second {
		s.plan.Second++
	}
	return end
}

// outside adds a tangent for every vector that is outside its circle by more than 5e-10 of it (9e-10 where rounding is more), and says whether there was one.
func (s *search) outside(b *model, p *program, shares int) (more bool) {
	for i := range b.discs {
		d := &b.discs[i]
		v, h := d.v.at(p.x), d.h.at(p.x)
		radius := d.radius
		if d.group >= 0 {
			radius *= p.x[shares+d.share]
		}
		past := 5e-10
		if p.tol > feasTol {
			past = 9e-10
		}
		out := math.Hypot(v, h) - radius
		if !(out > past*d.unit()) {
			continue
		}
		// The side of the coarsest polygon that cuts off most of it, so that sides do not crowd where the way there led.
		step := sides / first
		for angle := math.Pi / first; step > 1 && angle*angle*radius > out/2; angle /= 2 {
			step /= 2
		}
		at := int(math.Round(math.Atan2(h, v)/(2*math.Pi)*float64(sides/step))) * step
		t := tangent{i, (at + sides) % sides}
		if b.touched == nil {
			b.touched = map[tangent]bool{}
		}
		if b.touched[t] { // what is left is rounding
			continue
		}
		b.touched[t] = true
		b.touching = append(b.touching, t)
		b.tangent(p, t, shares)
		more = true
	}
	return more
}

// least finds the least largest weight × |move|, and then the least sum. Rooms that are short by no more than a hair, which is rounding, are taken as wide enough.
func (s *search) least(b *model) (list []planned, largest, total float64, end ending) {
	if list, largest, total, end = s.leastIn(b); end == optimal {
		return
	}
	const hair = 2e-8 // mm
	for i := range b.feet {
		for k := range b.feet[i].room {
			b.feet[i].room[k] += hair
		}
	}
	if l, m, n, again := s.leastIn(b); again != undecided {
		list, largest, total, end = l, m, n, again
	}
	for i := range b.feet {
		for k := range b.feet[i].room {
			b.feet[i].room[k] -= hair
		}
	}
	return
}

// leastIn is least with the rooms as they are.
func (s *search) leastIn(b *model) (list []planned, largest, total float64, end ending) {
	none := func(int, int) int { return -1 }
	shares := b.n + 1
	p := newProgram(shares + b.grouped)
	p.c[b.n] = 1
	b.bounds(p, none, shares)
	for i := range b.feet {
		b.magnitude(p, i, b.n)
	}
	p.add(minus(p.n, b.n), 0)
	if end = s.finish(b, p, shares); end != optimal {
		return nil, 0, 0, end
	}
	t := max(p.x[b.n], 0)
	for slack := 1e-10 * max(1, t); slack < 2e-6*max(1, t); slack *= 10 { // a nanometre at most
		shares = b.n + len(b.feet)
		q := newProgram(shares + b.grouped)
		b.bounds(q, none, shares)
		for i := range b.feet {
			q.c[b.n+i] = 1
			b.magnitude(q, i, b.n+i)
			row := make([]float64, q.n)
			row[b.n+i] = 1
			q.add(row, t+slack)
		}
		if end = s.finish(b, q, shares); end != optimal {
			continue
		}
		for i := range b.feet {
			f := &b.feet[i]
			m := f.move.at(q.x)
			list = append(list, planned{f.machine, f.pair, f.plane, m})
			largest, total = max(largest, f.weight*math.Abs(m)), total+f.weight*math.Abs(m)
		}
		return list, largest * s.effort, total * s.effort, optimal
	}
	return nil, 0, 0, undecided
}

// magnitude makes variable k at least weight × |move| of foot i.
func (b *model) magnitude(p *program, i, k int) {
	f := &b.feet[i]
	for _, sign := range [2]float64{1, -1} {
		row := make([]float64, p.n)
		for j, v := range f.move.coef {
			row[j] = sign * f.weight * v
		}
		row[k] = -1
		p.add(row, -sign*f.weight*f.move.konst)
	}
}

func minus(n, k int) []float64 {
	row := make([]float64, n)
	row[k] = -1
	return row
}

// shortest finds the rooms that, widened by the least sum, make a plan possible.
func (s *search) shortest(b *model) ([]Short, ending) {
	type room struct{ foot, end int }
	var rooms []room
	index := map[room]int{}
	for i := range b.feet {
		for end, r := range b.feet[i].room {
			if !math.IsNaN(r) {
				index[room{i, end}] = b.n + len(rooms)
				rooms = append(rooms, room{i, end})
			}
		}
	}
	shares := b.n + len(rooms)
	p := newProgram(shares + b.grouped)
	b.bounds(p, func(foot, end int) int { return index[room{foot, end}] }, shares)
	for k := range rooms {
		p.c[b.n+k] = 1
		p.add(minus(p.n, b.n+k), 0)
	}
	if end := s.finish(b, p, shares); end != optimal {
		return nil, end
	}
	var list []Short
	for k, r := range rooms {
		if w := p.x[b.n+k]; w > 1e-10 {
			f := &b.feet[r.foot]
			list = append(list, Short{f.machine, f.pair, f.plane, r.end == 1, w, f.fixed})
		}
	}
	return list, optimal
}

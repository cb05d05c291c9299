// Package moves finds the moves that are possible for a train of coupled machines: how far each pair of feet goes up or down and sideways so that every coupling comes to its
// wanted line, or within a share of its limits, inside the room at every foot and with some machines left where they stand, with the least largest move and then the least
// total; and where that cannot be, the least widening of rooms that makes it possible.
//
// Start at [Solve]. All lengths are in mm, slopes in mm/m, in the frame of the train: X along it, V up, H to one side. The package knows nothing of rows, cells, verdicts or
// packs.
package moves

import (
	"math"
)

// The planes.
const (
	V = iota
	H
	planes
)

// A Pair is a pair of feet, which move as one.
type Pair struct {
	X    float64            // mm
	Room [planes][2]float64 // mm, how far it can go towards − and towards +; NaN: no bound
}

// A Machine is one of the train.
type Machine struct {
	May    bool    // it may be moved
	Effort float64 // above 0: what a mm of it costs
	Pairs  []Pair  // two at least where it may be moved; none where it stays and nobody said where its feet are
	Flange float64 // mm: radius of the bolt circle of a machine on a flange; 0: it stands on feet. Pairs is then the flange alone, which slides
}

// parts is how many numbers a plane of the machine's plan has: one a pair; of a flange its slide, and how far the rim of its bolt circle tilts, 1/1000 of radius × slope.
func (m *Machine) parts() int {
	if m.Flange > 0 && len(m.Pairs) > 0 {
		return 2
	}
	return len(m.Pairs)
}

// ends are two stations whose moves make the machine's line: the outermost pairs; of a flange itself and a radius beyond.
func (m *Machine) ends() (x0, x1 float64) {
	x0, x1 = m.Pairs[0].X, m.Pairs[len(m.Pairs)-1].X
	if m.Flange > 0 {
		x1 = x0 + m.Flange
	}
	return x0, x1
}

// Line is the straight line that the machine's parts, as in [Plan.Moves], make in one plane, seen from x: nearest to the moves of its pairs, through two of them exactly.
func (m *Machine) Line(by [][planes]float64, plane int, x float64) Part {
	if m.Flange > 0 {
		slope := by[1][plane] / m.Flange
		return Part{by[0][plane] + slope*(x-m.Pairs[0].X), 1000 * slope}
	}
	return fit(m.Pairs, func(pair int) float64 { return by[pair][plane] }, x)
}

// A Part is one plane of a line at a coupling: the offset at its centre, mm, and the slope along X, mm/m.
type Part struct{ Offset, Slope float64 }

// A Vector is a quantity of both planes that is held to a limit: K0·offset + K1·slope in each plane, its magnitude at most Limit.
type Vector struct{ K0, K1, Limit float64 }

// A Coupling joins two machines.
type Coupling struct {
	A, B   int          // indices of the machines; the line is that of B seen from A
	X      float64      // mm
	Off    [planes]Part // the line found less the wanted one
	Free   bool         // on the way to the wanted line the offset is left as it comes
	Judged []Vector     // what is held to a share of its limits
	Added  bool         // the shares of the vectors are added, and the sum is held to it
}

// A Train is machines and couplings that make one line.
type Train struct {
	Machines  []Machine
	Couplings []Coupling
}

// A Status says how the search ended.
type Status uint8

// The ways the search ends.
const (
	Possible   Status = iota
	Impossible        // proved: no moves do it
	Undecided         // the arithmetic came to no answer that bears checking
)

// String is the status as a word.
func (s Status) String() string { return [...]string{"possible", "impossible", "undecided"}[s] }

// A Short is a room that would have to be wider.
type Short struct {
	Machine, Pair, Plane int
	Plus                 bool // towards +
	Missing              float64
	Fixed                bool // the machine must not be moved at all
}

// A Plan is what [Solve] found.
type Plan struct {
	Status         Status
	Moves          [][][planes]float64 // of each machine, of each of its pairs (of a flange slide and tilt); nil unless Possible
	Largest, Total float64             // effort × |move|; NaN unless Possible
	Short          []Short             // all together make a plan possible; Impossible only. Empty: nothing that has feet would help
	Unnamed        bool                // it is proved impossible, but which rooms are short could not be worked out
	Second         int                 // how often the second way of the linear programmes was needed
}

const (
	noRoom = 1e4  // mm: a room beyond this bounds nothing
	gone   = 1e-7 // mm: machines that stay may differ by this much and still be in line
)

// Solve finds the plan. share is the share of every limit that is aimed at; NaN: the wanted line itself, for which the planes are planned apart, each with its least largest
// effort × |move| and then its least sum. Largest is then the larger of the two and Total their sum.
func Solve(t *Train, share float64) Plan {
	s := search{t: t, plan: Plan{Largest: math.NaN(), Total: math.NaN()}, effort: 1}
	for i := range t.Machines {
		s.effort = max(s.effort, t.Machines[i].Effort)
	}
	if math.IsNaN(share) {
		return s.inLine()
	}
	return s.within(share)
}

// search is one call of Solve.
type search struct {
	t      *Train
	plan   Plan
	effort float64 // the largest, to which the others are scaled
}

// inLine plans each plane for itself.
func (s *search) inLine() Plan {
	largest, total := 0.0, 0.0
	var list []planned
	for plane := range planes {
		b, fits := s.rigid(plane, false)
		end := infeasible
		if fits {
			var got []planned
			var l, sum float64
			if got, l, sum, end = s.least(b); end == optimal {
				largest, total, list = max(largest, l), total+sum, append(list, got...)
				continue
			}
		}
		if end == undecided {
			s.plan.Status = Undecided
			return s.plan
		}
		if s.plan.Status = Impossible; !s.widen(b, fits, func() (*model, bool) { return s.rigid(plane, true) }) {
			return s.plan
		}
	}
	if s.plan.Status == Possible {
		s.take(list, largest, total)
	}
	return s.plan
}

// within plans both planes together.
func (s *search) within(share float64) Plan {
	b := s.apart(share, false)
	list, largest, total, end := s.least(b)
	switch end {
	case optimal:
		s.take(list, largest, total)
	case undecided:
		s.plan.Status = Undecided
	case infeasible:
		s.plan.Status = Impossible
		s.widen(b, true, func() (*model, bool) { return s.apart(share, true), true })
	}
	return s.plan
}

// take puts a plan's moves where their machines are.
func (s *search) take(list []planned, largest, total float64) {
	s.plan.Largest, s.plan.Total = largest, total
	s.plan.Moves = make([][][planes]float64, len(s.t.Machines))
	for i := range s.t.Machines {
		s.plan.Moves[i] = make([][planes]float64, s.t.Machines[i].parts())
	}
	for _, f := range list {
		if math.Abs(f.move) < 1e-12 {
			f.move = 0
		}
		s.plan.Moves[f.machine][f.pair][f.plane] = f.move
	}
}

// widen finds the rooms that are short. fits: with all rooms open there may be a plan; unpinned makes the model in which machines that must not move do, at a price. It
// returns false where the arithmetic came to no answer that bears checking, which it notes: what is impossible stays so.
func (s *search) widen(b *model, fits bool, unpinned func() (*model, bool)) bool {
	end := infeasible
	var list []Short
	if fits {
		list, end = s.shortest(b)
	}
	if end == infeasible {
		if b, fits = unpinned(); fits {
			list, end = s.shortest(b)
		}
	}
	if end == undecided {
		s.plan.Unnamed, s.plan.Short = true, nil
		return false
	}
	s.plan.Short = append(s.plan.Short, list...)
	return true
}

// fit is the straight line nearest to the moves of pairs, as seen from x.
func fit(pairs []Pair, move func(pair int) float64, x float64) Part {
	k := 1 / float64(len(pairs))
	var mx, mm, sxx, sxm float64
	for i := range pairs {
		mx += k * pairs[i].X
		mm += k * move(i)
	}
	for i := range pairs {
		d := pairs[i].X - mx
		sxx += d * d
		sxm += d * (move(i) - mm)
	}
	if !(sxx > 0) {
		return Part{math.NaN(), math.NaN()}
	}
	return Part{mm + sxm/sxx*(x-mx), 1000 * sxm / sxx}
}

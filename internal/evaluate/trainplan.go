package evaluate

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/moves"
	"shimsheet/internal/packs"
	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// A TrainFoot is a pair of feet of a train's machine, or one foot of the Feet sheet, with what the plan asks of it. Lengths in mm in the train's frame. Of a machine on a flange
// there is the flange, which slides, and then each bolt.
type TrainFoot struct {
	Machine, Foot string
	Station       float64
	Shim, Move    float64 // positive: add; towards the frame's 3 o'clock. NaN: Shim of a flange, Move of a bolt
	Slide         float64 // of a flange towards 12 o'clock; NaN: no flange
	Room          Room    // left and right as the frame has them; NaN: no bound
	HasStock      bool    // Change was made from the stock
	Change        packs.Change
	InPlace       []float64
	Listed        bool   // InPlace was typed
	Size          string // of its shims, as typed
	Touched       bool   // something is done there
	member, pair  int
}

// A TrainCoupling is a coupling as its own row sees it, after the exact moves and after the packs.
type TrainCoupling struct {
	Machine         string
	Stationary      string
	Row             int
	X, Sign         float64 // in the frame: where it is, and 1 where its Machine lies towards +X, else −1
	Found           calc.Line
	After, Packed   calc.Line
	AfterJ, PackedJ calc.Judgement
	HasPacks        bool
}

// Judged is what is predicted of it: after the packs where there are packs.
func (c *TrainCoupling) Judged() (l *calc.Line, j *calc.Judgement) {
	if c.HasPacks {
		return &c.Packed, &c.PackedJ
	}
	return &c.After, &c.AfterJ
}

// A TrainShort is a room that is too narrow.
type TrainShort struct {
	Machine, Foot string
	Direction     string // up, down, left, right
	Sideways      bool   // it is left or right
	Missing       float64
	Fixed         bool // the machine must not be moved
	member, pair  int
}

// A TrainMachine is where a machine of a train stands, in the frame: lines by offset at X = 0, mm, and slope along X, mm/m.
type TrainMachine struct {
	Name                 string
	May                  bool // it may be moved
	Flange               bool
	From, To             float64 // of its shaft, along X
	Pairs                []TrainPair
	Found, Wanted, After calc.Line // After is NaN without a plan
}

// A TrainPair is a pair of feet of a TrainMachine.
type TrainPair struct {
	Names               []string
	Station, Shim, Move float64 // NaN without a plan; of a flange Shim is its slide towards 12 o'clock
	Room                Room
	Stops               [2]bool // the room up or down, left or right stops the plan
}

// A TrainStep is one thing to be done at one machine of a train, in its order.
type TrainStep struct {
	Machine  string
	Sideways bool
	Feet     []string  // in their order
	Amounts  []float64 // heights, or towards the frame's 3 o'clock
	Slide    float64   // of a flange, towards 12 o'clock, where that is in the step; NaN: none is
}

// A TrainStatus says whether a plan can be followed, in the words of columns and JSON.
type TrainStatus string

// What a plan may be.
const (
	TrainNotJudged  TrainStatus = "not judged"
	TrainPossible   TrainStatus = "possible"
	TrainImpossible TrainStatus = "impossible" // that is proved
)

// trainStatus is how a plan fares that was solved.
func trainStatus(s moves.Status) TrainStatus {
	switch s {
	case moves.Possible:
		return TrainPossible
	case moves.Impossible:
		return TrainImpossible
	}
	return TrainNotJudged
}

// A TrainPlan is what the rows of one train come to. Feet and Couplings are there only where it is possible.
type TrainPlan struct {
	Train, Aim     string
	Why            words.Phrase // why it is not judged, or impossible
	Status         TrainStatus
	Plan           string // its name: as set, only Motor, Gear stays, shared out, least work
	Also           string // another name that comes to the same, "" none
	Chosen         bool   // a person chose it
	Asked          string // the plan that the Trains sheet names, as typed, whether there is such a plan or not; "" none
	Row            int    // source row of the first of its rows
	Largest, Total float64
	Feet           []TrainFoot
	Couplings      []TrainCoupling
	Short          []TrainShort
	Steps          []TrainStep
	Machines       []TrainMachine // from −X to +X; nil where the train is not judged
	Touch          int            // single feet, bolts and flanges at which something is done
	Verdict        calc.Verdict   // the gravest of its couplings, after the packs where there are packs
	Chance         float64        // that all are inside; NaN not known
	Second         int            // how often the second way of the linear programmes was needed
	stops          words.Phrase   // of one that is impossible: which rooms are too narrow
	moves          [][][2]float64
	packed         [][][2]float64
}

// A RowPlan is what the chosen plan of a train asks of a row's machine.
type RowPlan struct {
	calc.Planned
	Train, Name string
	Stationary  []Picked // feet of the row's Stationary, which has no row of its own
}

// A way is one of the plans that a person can choose from.
type way struct {
	name  string // as the column Plan has it
	may   []bool // of each machine
	share float64
	guard bool         // the largest share at which every coupling is called inside
	stuck words.Phrase // why it cannot be tried; empty: it can
	also  string       // another name that comes to the same, "" none
}

// ways lists the plans of a train.
func (t *train) ways() []way {
	n := len(t.members)
	set, all := make([]bool, n), make([]bool, n)
	for i := range t.members {
		m := &t.members[i]
		set[i], all[i] = m.may, m.may || m.said < 0 && len(m.pairs) > 0
	}
	share := t.e.set.aim
	list := []way{{name: planSet, may: set, share: share}}
	offer := func(w way) {
		for k := range list {
			if x := &list[k]; w.stuck.Empty() && slices.Equal(x.may, w.may) {
				x.also = strings.TrimPrefix(x.also+", "+w.name, ", ")
				return
			}
		}
		list = append(list, w)
	}
	forbidden := slices.ContainsFunc(t.members, func(m member) bool { return m.said == 0 })
	for i := range t.members {
		m := &t.members[i]
		switch {
		case n == 2:
			offer(t.only(i))
		case !forbidden: // where one must not move it stays anyway
			w := way{name: m.name + planStays, share: share, may: slices.Clone(all)}
			w.may[i] = false
			offer(w)
		}
	}
	offer(way{name: planShared, may: all, share: share})
	return append(list, way{name: planLeast, may: set, share: 1, guard: true})
}

// only is the way in which one machine moves.
func (t *train) only(i int) way {
	m := &t.members[i]
	w := way{name: planOnly + m.name, share: t.e.set.aim, may: make([]bool, len(t.members))}
	w.may[i] = true
	switch {
	case m.said == 0:
		w.stuck = words.ProblemPlanForbidden.With(m.name)
	case len(m.pairs) == 0:
		w.stuck = words.ProblemPlanNoFeet.With(m.name)
	}
	return w
}

func (t *train) wayNames() (list []string) {
	for _, w := range t.ways() {
		list = append(list, w.name)
	}
	return list
}

// wished is the way that the Trains sheet names; as set where it names none. Of trains of more than two machines "only" is understood too, of two "stays".
func (t *train) wished() (way, bool) {
	list := t.ways()
	if t.wish == "" {
		return list[0], true
	}
	same := func(name string) bool { return job.NormalForm(name) == job.NormalForm(t.wish) }
	for _, w := range list {
		if same(w.name) {
			return w, true
		}
	}
	all := make([]bool, len(t.members))
	for i := range t.members {
		m := &t.members[i]
		all[i] = m.may || m.said < 0 && len(m.pairs) > 0
	}
	if same(planShared) {
		return way{name: planShared, share: t.e.set.aim, may: all}, true
	}
	for i := range t.members {
		w := way{name: t.members[i].name + planStays, share: t.e.set.aim, may: slices.Clone(all)}
		if w.may[i] = false; same(w.name) {
			return w, true
		}
		if w = t.only(i); same(w.name) {
			return w, true
		}
	}
	return way{}, false
}

// TrainChoices are the plans a person can choose from for train k of [Evaluator.Trains]; none where it is not judged. The one followed is among them.
func (e *Evaluator) TrainChoices(k int) []TrainPlan {
	all := e.planTrains()
	if k < 0 || k >= len(all.trains) || all.list[k].Machines == nil {
		return nil
	}
	t := all.trains[k]
	if t.choices == nil {
		for _, w := range t.ways() {
			if w.name == t.plan.Plan {
				t.choices = append(t.choices, t.plan)
				continue
			}
			t.choices = append(t.choices, t.follow(w))
		}
		if !slices.ContainsFunc(t.choices, func(p TrainPlan) bool { return p.Plan == t.plan.Plan }) {
			t.choices = append(t.choices, t.plan)
		}
	}
	return t.choices
}

// frame is the train as package moves has it.
func (t *train) frame() moves.Train {
	in := moves.Train{}
	for i := range t.members {
		m := &t.members[i]
		x0, along, sign := t.toFrame(m)
		mm := moves.Machine{May: m.may, Effort: m.effort, Flange: m.flange}
		for k := range m.pairs {
			if m.flange > 0 && k > 0 {
				break
			}
			r := framed(m.pairs[k].room, sign)
			mm.Pairs = append(mm.Pairs, moves.Pair{X: x0 + along*m.pairs[k].along, Room: [2][2]float64{{r.Down, r.Up}, {r.Left, r.Right}}})
		}
		in.Machines = append(in.Machines, mm)
	}
	for k := range t.rows {
		in.Couplings = append(in.Couplings, t.coupling(k))
	}
	return in
}

// follow works a way out.
func (t *train) follow(w way) TrainPlan {
	p := TrainPlan{Train: t.plan.Train, Asked: t.wish, Aim: t.aimText(w.share), Plan: w.name, Also: w.also, Row: t.plan.Row, Largest: nan, Total: nan, Status: TrainNotJudged, Chance: nan}
	in := moves.Train{Machines: slices.Clone(t.in.Machines), Couplings: t.in.Couplings}
	for i := range in.Machines {
		in.Machines[i].May = w.may[i]
	}
	switch {
	case !w.stuck.Empty():
		p.Why = w.stuck
	case w.guard:
		t.guarded(&p, &in)
	default:
		t.solve(&p, &in, w.share)
	}
	t.draw(&p, &in)
	return p
}

// aimText is the share of the limits that a plan aims at.
func (t *train) aimText(share float64) string {
	if share == t.e.set.aim || math.IsNaN(share) && math.IsNaN(t.e.set.aim) {
		return t.e.set.aimText
	}
	return t.e.Percent(share)
}

// solve finds the plan of a train for a share of its limits.
func (t *train) solve(p *TrainPlan, in *moves.Train, share float64) {
	if Known(share) {
		for k := range t.rows {
			if r := t.row(k); !r.train.judged || math.IsNaN(r.Calc.Found.Share) {
				p.Why = words.ProblemTrainRow.With(r.Row, r.Name, words.ProblemTrainNoLimit)
				return
			}
		}
	}
	got := moves.Solve(in, share)
	p.Status, p.Largest, p.Total, p.Second = trainStatus(got.Status), got.Largest, got.Total, got.Second
	switch got.Status {
	case moves.Undecided:
		p.Status, p.Why = TrainNotJudged, words.ProblemTrainUndecided.With()
	case moves.Impossible:
		t.short(p, &got)
	case moves.Possible:
		p.moves = got.Moves
		t.feet(p, in)
		t.after(p, in)
		t.sequence(p, in)
	}
}

// guarded finds the largest share, in steps of 5 %, at which every coupling is called inside, after the packs too where that can be had. Where none is, it is the least that is possible.
func (t *train) guarded(p *TrainPlan, in *moves.Train) {
	const steps = 20
	try := func(k int) (q TrainPlan, possible, inside bool) {
		q = *p
		t.solve(&q, in, float64(k)/steps)
		q.Aim = t.e.Percent(float64(k) / steps)
		possible = q.Status == TrainPossible
		inside = possible
		for i := range q.Couplings {
			inside = inside && q.Couplings[i].AfterJ.Verdict == calc.Inside
		}
		return q, possible, inside
	}
	best, ok, inside := try(steps)
	if ok && !inside {
		low, high := 0, steps // the least share that is possible
		for high-low > 1 {
			mid := (low + high) / 2
			if q, ok, in := try(mid); ok {
				high, best, inside = mid, q, in
			} else {
				low = mid
			}
		}
		for low, high = high, steps; inside && high-low > 1; { // the largest at which all is called inside
			mid := (low + high) / 2
			if q, _, in := try(mid); in {
				low, best = mid, q
			} else {
				high = mid
			}
		}
		for k := low - 1; k > 0 && k >= low-3 && inside && best.Verdict != calc.Inside; k-- {
			if q, _, in := try(k); in && q.Verdict == calc.Inside {
				best = q
			}
		}
	}
	*p = best
}

// coupling is a row in the frame: V of the offset and H of the slope as they are, the other two turned where it is seen from the other end.
func (t *train) coupling(k int) moves.Coupling {
	r, s := t.row(k), t.sign[k]
	l, w := &r.Calc.Line, &r.Wanted
	c := moves.Coupling{A: t.machine[nameKey(r.train.stationary)], B: t.machine[nameKey(r.Name)], X: t.at[k], Free: r.Coupling == tables.Universal, Added: r.train.in.AddShares}
	c.Off[moves.V] = moves.Part{Offset: l.DV - w.DV, Slope: s * (l.TV - w.TV)}
	c.Off[moves.H] = moves.Part{Offset: s * (l.DH - w.DH), Slope: l.TH - w.TH}
	lim := &r.train.in.Limits
	switch r.Coupling {
	case tables.Spacer:
		f := 1000 / r.train.in.Length
		c.Judged, c.Added = []moves.Vector{{K0: f, K1: s * 0.5, Limit: lim.Slope}, {K0: -f, K1: s * 0.5, Limit: lim.Slope}}, false
	case tables.Universal:
		c.Judged, c.Added = []moves.Vector{{K1: 1, Limit: lim.Slope}}, false
	default:
		c.Judged = []moves.Vector{{K0: 1, Limit: lim.Offset}, {K1: 1, Limit: lim.Slope}}
	}
	return c
}

// feet lists what the plan asks of every foot, with its pack, and what the machines do once packs and moves are rounded.
func (t *train) feet(p *TrainPlan, in *moves.Train) {
	p.packed = make([][][2]float64, len(t.members))
	for i := range t.members {
		m := &t.members[i]
		if m.flange > 0 {
			t.flange(p, in, i)
			continue
		}
		_, _, sign := t.toFrame(m)
		for k := range m.pairs {
			pair := &m.pairs[k]
			f := TrainFoot{Machine: m.name, Station: in.Machines[i].Pairs[k].X, Shim: p.moves[i][k][moves.V], Move: p.moves[i][k][moves.H], Slide: nan, Room: framed(pair.room, sign), member: i, pair: k}
			move := stepped(f.Move, t.e.set.moveStep)
			rise := 0.0
			for n, name := range pair.names {
				x, soft := f, 0.0
				x.Foot = name
				if len(pair.feet) > 0 {
					soft = pair.feet[n].Soft
					t.pack(&x, pair.feet[n])
				} else if t.e.packer != nil {
					pack := t.e.packer.Pack(math.Abs(f.Shim))
					x.HasStock, x.Change = true, PackChange(&pack, f.Shim < 0, false)
				}
				x.Touched = t.touches(&x) || math.Abs(move) >= Touch
				rise += (x.Change.Net - soft) / float64(len(pair.names))
				p.Feet = append(p.Feet, x)
				if x.Touched {
					p.Touch++
					if len(pair.feet) == 0 {
						p.Touch++ // a pair is two feet
					}
				}
			}
			p.packed[i] = append(p.packed[i], [2]float64{rise, move})
		}
	}
}

// Touch is the least that counts as something to be done, mm.
const Touch = 0.005

func (t *train) touches(f *TrainFoot) bool {
	if f.HasStock {
		return len(f.Change.Take)+len(f.Change.Put) > 0 || math.Abs(f.Change.Net) >= Touch
	}
	return math.Abs(f.Shim) >= Touch
}

// flange lists the slide of a flange and the shim at each of its bolts, the least of them nothing.
func (t *train) flange(p *TrainPlan, in *moves.Train, i int) {
	m := &t.members[i]
	_, _, sign := t.toFrame(m)
	row := &t.row(m.seats[m.own].row).train.in
	slide, tilt := p.moves[i][0], p.moves[i][1]
	f := TrainFoot{Machine: m.name, Foot: FootFlange, Station: in.Machines[i].Pairs[0].X, Shim: nan, Move: slide[moves.H], Slide: slide[moves.V], Room: framed(m.pairs[0].room, sign), member: i}
	f.Touched = math.Abs(f.Move) >= Touch || math.Abs(f.Slide) >= Touch
	list := []TrainFoot{f}
	// As the row sees itself a slope along V turns with the way it looks; the shims take the slope away that the plan adds.
	shims := row.BoltShims(nil, -sign*1000*tilt[moves.V]/m.flange, -1000*tilt[moves.H]/m.flange)
	made := t.e.packer != nil
	rise := make([]float64, len(shims))
	for k, s := range shims {
		x := TrainFoot{Machine: m.name, Foot: fmt.Sprintf(footBolt, k+1), Station: f.Station, Shim: s, Move: nan, Slide: nan, Room: Room{nan, nan, nan, nan}, member: i, pair: 1}
		if made {
			pack := t.e.packer.Pack(s)
			x.HasStock, x.Change = true, PackChange(&pack, false, false)
		}
		x.Touched = t.touches(&x)
		rise[k] = x.Change.Net
		list = append(list, x)
	}
	for k := range list {
		if list[k].Touched {
			p.Touch++
		}
	}
	p.Feet = append(p.Feet, list...)
	tv, th := 0.0, 0.0
	if made {
		tv, th = row.BoltTurn(func(k int) float64 { return rise[k] })
	}
	step := t.e.set.moveStep
	p.packed[i] = [][2]float64{{stepped(slide[moves.V], step), stepped(slide[moves.H], step)}, {sign * tv * m.flange / 1000, th * m.flange / 1000}}
}

// pack makes the pack of a foot of the Feet sheet, its soft foot's shim with it.
func (t *train) pack(x *TrainFoot, f *Foot) {
	x.InPlace, x.Listed, x.Size = f.InPlace, f.Listed, f.Size
	p := t.e.packerFor(f.Size)
	if p == nil {
		return
	}
	var in []float64
	if f.Listed {
		in = f.InPlace
	}
	if c, err := p.Change(x.Shim+f.Soft, in); err == nil {
		x.HasStock, x.Change = true, c
	}
}

// after predicts the lines, as each row sees itself, after the exact moves and after the packs and rounded moves.
func (t *train) after(p *TrainPlan, in *moves.Train) {
	has := t.e.packer != nil
	for k := range p.Feet {
		has = has && (p.Feet[k].HasStock || p.Feet[k].Foot == FootFlange)
	}
	p.Verdict, p.Chance = calc.Inside, 1
	for k := range t.rows {
		r := t.row(k)
		x := TrainCoupling{Machine: r.Name, Stationary: t.members[in.Couplings[k].A].name, Row: r.Row, X: t.at[k], Sign: t.sign[k], HasPacks: has, Found: r.Calc.Line}
		x.After = t.moved(k, in, p.moves)
		x.AfterJ = t.predict(r, x.After)
		if has {
			x.Packed = t.moved(k, in, p.packed)
			x.PackedJ = t.predict(r, x.Packed)
		}
		_, j := x.Judged()
		p.Verdict, p.Chance = graver(p.Verdict, j.Verdict), p.Chance*j.Chance
		p.Couplings = append(p.Couplings, x)
	}
	if p.Verdict == calc.NotJudged {
		p.Chance = nan
	}
}

// graver is the verdict that a person has to know of: not judged, outside, too close to call, inside.
func graver(a, b calc.Verdict) calc.Verdict {
	order := [...]calc.Verdict{calc.NotJudged, calc.Outside, calc.TooClose, calc.Inside}
	return order[min(slices.Index(order[:], a), slices.Index(order[:], b))]
}

// predict judges the line of a row after moves.
func (t *train) predict(r *RowResult, l calc.Line) calc.Judgement {
	j := calc.Predict(&r.train.in, &r.Calc, l)
	if !r.train.judged {
		j.Verdict, j.Share, j.Chance = calc.NotJudged, nan, nan
	}
	return j
}

// parts are what the moves of the row's own machine, and of its Stationary, do to its line, as the row sees it.
func (t *train) parts(k int, in *moves.Train, by [][][2]float64) (own, others calc.Line) {
	c, s := &in.Couplings[k], t.sign[k]
	seen := func(i int) (l calc.Line) {
		if m := &in.Machines[i]; m.May {
			v, h := m.Line(by[i], moves.V, c.X), m.Line(by[i], moves.H, c.X)
			l = calc.Line{DV: v.Offset, TV: s * v.Slope, DH: s * h.Offset, TH: h.Slope}
		}
		return l
	}
	own, others = seen(c.B), seen(c.A)
	return own, calc.Line{DV: 0 - others.DV, TV: 0 - others.TV, DH: 0 - others.DH, TH: 0 - others.TH}
}

// moved is the line of row k after moves, as the row sees it.
func (t *train) moved(k int, in *moves.Train, by [][][2]float64) calc.Line {
	own, others := t.parts(k, in, by)
	l := t.row(k).Calc.Line
	return calc.Line{DV: l.DV + own.DV + others.DV, TV: l.TV + own.TV + others.TV, DH: l.DH + own.DH + others.DH, TH: l.TH + own.TH + others.TH}
}

// stepped rounds a move to the step, a tie to the smaller; no step leaves it.
func stepped(x, step float64) float64 {
	if !(step > 0) {
		return x
	}
	return math.Copysign(math.Ceil(math.Abs(x)/step-0.5-1e-9)*step, x)
}

// planRows notes what the chosen plan asks of each of the train's rows.
func (t *train) planRows() {
	e, p := t.e, &t.plan
	in := moves.Train{Machines: slices.Clone(t.in.Machines), Couplings: t.in.Couplings}
	w, _ := t.wished()
	for i := range in.Machines {
		in.Machines[i].May = w.may[i]
	}
	by := p.moves
	if len(p.Couplings) > 0 && p.Couplings[0].HasPacks {
		by = p.packed
	}
	if e.rowPlans == nil {
		e.rowPlans = map[int]*RowPlan{}
	}
	for k, i := range t.rows {
		x := &RowPlan{Train: p.Train, Name: p.Plan}
		x.Own, _ = t.parts(k, &in, p.moves)
		_, x.Others = t.parts(k, &in, by)
		e.rowPlans[i] = x
	}
	for f := range p.Feet {
		foot := &p.Feet[f]
		m := &t.members[foot.member]
		own := m.seats[m.own]
		if !own.stationary || !w.may[foot.member] {
			continue
		}
		x := e.rowPlans[t.rows[own.row]]
		pick := Picked{Machine: m.name, Foot: foot.Foot, Pair: -1, Single: -1, Bolt: -1, Size: foot.Size, Wanted: foot.Shim, Target: foot.Shim, Listed: foot.Listed, Move: t.sign[own.row] * foot.Move,
			Made: foot.HasStock, Pick: packs.Pick{Change: foot.Change, Status: pickStatus(&foot.Change)}}
		if foot.Listed {
			pick.InPlace = foot.InPlace
		}
		if len(m.pairs[foot.pair].feet) > 0 {
			x.Stationary = append(x.Stationary, pick)
			continue
		}
		for _, side := range [...]string{" 9", " 3"} {
			pick.Foot = foot.Foot + side
			x.Stationary = append(x.Stationary, pick)
		}
	}
}

// short lists the rooms that are too narrow.
func (t *train) short(p *TrainPlan, got *moves.Plan) {
	var said []words.Phrase
	for _, s := range got.Short {
		m := &t.members[s.Machine]
		dir := [2][2]string{{"down", "up"}, {"left", "right"}}[s.Plane][AsInt(s.Plus)]
		names := m.pairs[s.Pair].names
		for _, n := range names {
			p.Short = append(p.Short, TrainShort{m.name, n, dir, s.Plane == moves.H, s.Missing, s.Fixed, s.Machine, s.Pair})
		}
		said = append(said, t.bound(m, &s, strings.Join(names, ", ")))
	}
	switch {
	case got.Unnamed:
		said = []words.Phrase{words.ListTrainUnnamed.With()}
	case len(said) == 0:
		said = []words.Phrase{words.ListTrainStuck.With()}
	case len(said) > 1:
		said[len(said)-1] = words.Joined(said[len(said)-1], words.ListTrainTogether.With())
	}
	p.stops = words.Together(said...)
	p.Why = words.Joined(p.stops, words.Plain("."))
}

// orElse adds to a plan that is impossible what else would do, each tried: said only where it makes a plan possible.
func (t *train) orElse(p *TrainPlan, w way) {
	if p.Status != TrainImpossible {
		return
	}
	in := moves.Train{Couplings: t.in.Couplings}
	may := func(also int) {
		in.Machines = slices.Clone(t.in.Machines)
		for i := range in.Machines {
			in.Machines[i].May = w.may[i] || i == also
		}
	}
	why := []words.Phrase{p.stops}
	for i := range t.members {
		if w.may[i] || t.members[i].said == 0 || len(t.members[i].pairs) == 0 {
			continue
		}
		may(i)
		if q := moves.Solve(&in, w.share); q.Status == moves.Possible {
			why = append(why, words.ListTrainOrMove.With(t.members[i].name, t.goes(i, q.Moves[i])))
		}
	}
	if !(w.share >= 1) {
		may(-1)
		q := TrainPlan{}
		if t.solve(&q, &in, 1); q.Status == TrainPossible {
			why = append(why, words.ListTrainOrInside.With(planLeast))
		}
	}
	p.Why = words.Joined(append(why, words.Plain("."))...)
}

// bound is one room that is short.
func (t *train) bound(m *member, s *moves.Short, feet string) words.Phrase {
	e, first := t.e, t.row(0)
	amount := e.Thickness(s.Missing)
	if s.Missing < 0.0005 {
		amount = e.Exact(s.Missing, e.ThickUnit()) + " " + e.ThickUnit().String()
	}
	side := first.TheSide(float64(2*AsInt(s.Plus)-1), false)
	name := words.ListTrainFeetOf.With(feet, m.name)
	if m.flange > 0 {
		name = words.ListTrainFlangeOf.With(m.name)
	}
	switch {
	case s.Fixed && s.Plane == moves.V:
		return words.ListTrainFixed.With(m.name, name, amount, [2]words.Key{words.ListDown, words.ListUp}[AsInt(s.Plus)])
	case s.Fixed:
		return words.ListTrainFixed.With(m.name, name, amount, words.Joined(words.ListTowards.With(), side))
	case m.flange > 0 && s.Plane == moves.V:
		return words.ListRegisterBound.With(name, amount, words.WordClock.With([2]string{"6", "12"}[AsInt(s.Plus)]))
	case m.flange > 0:
		return words.ListRegisterBound.With(name, amount, side)
	case s.Plane == moves.H:
		return words.ListBoltBound.With(name, amount, side)
	case s.Plus:
		return words.ListRoomAbove.With(name, amount)
	}
	return words.ListBaseBound.With(name, amount)
}

// goes are the moves of a machine: "near 0.18 mm up, far 0.03 mm up".
func (t *train) goes(i int, by [][2]float64) words.Phrase {
	e, first := t.e, t.row(0)
	m := &t.members[i]
	var list []words.Phrase
	add := func(feet string, v float64, way words.Phrase) {
		if len(list) > 0 {
			list = append(list, words.Plain(", "))
		}
		list = append(list, words.Plain(feet+" "+e.Thickness(math.Abs(v))+" "), way)
	}
	for k := range m.pairs {
		feet := strings.Join(m.pairs[k].names, ", ")
		if v := by[k][moves.V]; math.Abs(v) >= Touch {
			add(feet, v, [2]words.Key{words.ListDown, words.ListUp}[AsInt(v > 0)].With())
		}
		if h := by[k][moves.H]; math.Abs(h) >= Touch {
			add(feet, h, words.Joined(words.ListTowards.With(), first.TheSide(h, false)))
		}
	}
	return words.Joined(list...)
}

// sequence settles in which order the work is done: machines from the one that stays outwards, at each first the heights and then sideways, the pair that goes the farthest first.
// Common practice, no source: what is nearer to the fixed end is right before what hangs on it.
func (t *train) sequence(p *TrainPlan, in *moves.Train) {
	depth := make([]int, len(t.members))
	for i := range depth {
		depth[i] = len(t.members)
		if !in.Machines[i].May {
			depth[i] = 0
		}
	}
	if !slices.Contains(depth, 0) {
		depth[t.heaviest()] = 0
	}
	for range t.members {
		for k := range in.Couplings {
			c := &in.Couplings[k]
			depth[c.A], depth[c.B] = min(depth[c.A], depth[c.B]+1), min(depth[c.B], depth[c.A]+1)
		}
	}
	order := make([]int, len(t.members))
	for i := range order {
		order[i] = i
	}
	sorting.Stable(order, func(a, b int) int { return cmp.Compare(depth[a], depth[b]) })
	for _, i := range order {
		for _, sideways := range [...]bool{false, true} {
			s := TrainStep{Machine: t.members[i].name, Sideways: sideways, Slide: nan}
			var feet []*TrainFoot
			for k := range p.Feet {
				f := &p.Feet[k]
				if f.member == i && f.Touched && amountOf(f, sideways) >= Touch {
					feet = append(feet, f)
				}
			}
			sorting.Stable(feet, func(a, b *TrainFoot) int {
				return cmp.Compare(amountOf(b, sideways), amountOf(a, sideways))
			})
			for _, f := range feet {
				s.Feet = append(s.Feet, f.Foot)
				if sideways {
					s.Amounts, s.Slide = append(s.Amounts, f.Move), f.Slide
				} else {
					s.Amounts = append(s.Amounts, f.Shim)
				}
			}
			if len(feet) > 0 {
				p.Steps = append(p.Steps, s)
			}
		}
	}
}

// amountOf is how far a foot goes in a step, 0 nothing: heights are shims, and the slide of a flange towards 12 o'clock is done with that sideways.
func amountOf(f *TrainFoot, sideways bool) float64 {
	if sideways {
		return math.Hypot(KnownOr(f.Move, 0), KnownOr(f.Slide, 0))
	}
	return math.Abs(KnownOr(f.Shim, 0))
}

// heaviest is the machine whose moves cost the most, the first such.
func (t *train) heaviest() int {
	at := 0
	for i := range t.members {
		if t.members[i].effort > t.members[at].effort {
			at = i
		}
	}
	return at
}

// draw notes where every shaft stands, for pictures: one that stays, or else the Stationary of the first row, is the datum.
func (t *train) draw(p *TrainPlan, in *moves.Train) {
	n := len(t.members)
	datum := slices.IndexFunc(in.Machines, func(m moves.Machine) bool { return !m.May })
	if datum < 0 {
		datum = in.Couplings[0].A
	}
	var from calc.Line
	own := func(i int) (l calc.Line) {
		if m := &in.Machines[i]; p.moves != nil && m.May {
			v, h := m.Line(p.moves[i], moves.V, 0), m.Line(p.moves[i], moves.H, 0)
			l = calc.Line{DV: v.Offset, TV: v.Slope, DH: h.Offset, TH: h.Slope}
		}
		return l
	}
	found := t.chained(in, datum, from, func(r *RowResult) *calc.Line { return &r.Calc.Line })
	wanted := t.chained(in, datum, own(datum), func(r *RowResult) *calc.Line { return &r.Wanted })
	p.Machines = make([]TrainMachine, n)
	for i := range t.members {
		m := &t.members[i]
		_, _, sign := t.toFrame(m)
		x := TrainMachine{Name: m.name, May: in.Machines[i].May, Flange: m.flange > 0, From: math.Inf(1), To: math.Inf(-1), Found: found[i], Wanted: wanted[i], After: calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}}
		if p.moves != nil {
			o := own(i)
			x.After = calc.Line{DV: found[i].DV + o.DV, TV: found[i].TV + o.TV, DH: found[i].DH + o.DH, TH: found[i].TH + o.TH}
		}
		for _, s := range m.seats {
			x.From, x.To = min(x.From, t.at[s.row]), max(x.To, t.at[s.row])
		}
		for k := range in.Machines[i].Pairs {
			q := TrainPair{Names: m.pairs[k].names, Station: in.Machines[i].Pairs[k].X, Shim: nan, Move: nan, Room: framed(m.pairs[k].room, sign)}
			if p.moves != nil {
				q.Shim, q.Move = p.moves[i][k][moves.V], p.moves[i][k][moves.H]
			}
			for _, s := range p.Short {
				if s.member == i && s.pair == k {
					q.Stops[AsInt(s.Sideways)] = true
				}
			}
			x.From, x.To = min(x.From, q.Station), max(x.To, q.Station)
			x.Pairs = append(x.Pairs, q)
		}
		p.Machines[i] = x
	}
	sorting.Stable(p.Machines, func(a, b TrainMachine) int { return cmp.Compare(a.From+a.To, b.From+b.To) })
}

// chained lays the machines' lines end to end in the frame, from that of the datum on.
func (t *train) chained(in *moves.Train, datum int, from calc.Line, line func(r *RowResult) *calc.Line) []calc.Line {
	at, seen := make([]calc.Line, len(t.members)), make([]bool, len(t.members))
	at[datum], seen[datum] = from, true
	for range t.rows {
		for k := range t.rows {
			c, s := &in.Couplings[k], t.sign[k]
			if seen[c.A] == seen[c.B] {
				continue
			}
			l := line(t.row(k))
			a, b, turn := c.A, c.B, 1.0
			if seen[c.B] {
				a, b, turn = c.B, c.A, -1
			}
			tv, th := turn*s*l.TV, turn*l.TH
			dv, dh := turn*l.DV-tv*c.X/1000, turn*s*l.DH-th*c.X/1000
			at[b], seen[b] = calc.Line{DV: at[a].DV + dv, TV: at[a].TV + tv, DH: at[a].DH + dh, TH: at[a].TH + th}, true
		}
	}
	return at
}

// What plans and their feet are called: names, by which they are chosen and found again.
const (
	planSet    = "as set"
	planOnly   = "only "
	planStays  = " stays"
	planShared = "shared out"
	planLeast  = "least work"
	aimLine    = "wanted line"
	FootFlange = "flange"
	footBolts  = "bolts"
	footBolt   = "bolt %d"
)

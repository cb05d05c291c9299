package sheet

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/moves"
	"shimsheet/internal/tables"
)

// A TrainFoot is a pair of feet of a train's machine, or one foot of the Feet sheet, with what the plan asks of it. Lengths in mm in the train's frame.
type TrainFoot struct {
	Machine, Foot string
	Station       float64
	Shim, Move    float64 // positive: add; towards the frame's 3 o'clock
	Room          Room    // left and right as the frame has them; NaN: no bound
	HasStock      bool    // Change was made from the stock
	Change        calc.Change
	InPlace       []float64
	Listed        bool // InPlace was typed
}

// A TrainCoupling is a coupling as its own row sees it, after the exact moves and after the packs.
type TrainCoupling struct {
	Machine         string
	Row             int
	After, Packed   calc.Line
	AfterJ, PackedJ calc.Judgement
	HasPacks        bool
}

// A TrainShort is a room that is too narrow.
type TrainShort struct {
	Machine, Foot, Direction string
	Missing                  float64
	Fixed                    bool // the machine must not be moved
}

// A TrainPlan is what the rows of one train come to. Feet and Couplings are there only where it is possible.
type TrainPlan struct {
	Train, Aim, Status, Why string
	Row                     int // source row of the first of its rows
	Largest, Total          float64
	Feet                    []TrainFoot
	Couplings               []TrainCoupling
	Short                   []TrainShort
}

// trainPlans are all trains of the job.
type trainPlans struct {
	list     []TrainPlan
	problems []Problem
	stays    map[string]bool // keys of machines that stand under Stationary in a train
}

// Trains returns the plans of the job's trains, in the order of their first rows.
func (e *Evaluator) Trains() []TrainPlan { return e.planTrains().list }

// planTrains plans every train, once until something changes.
func (e *Evaluator) planTrains() *trainPlans {
	if e.trains != nil {
		return e.trains
	}
	all := &trainPlans{stays: map[string]bool{}}
	groups := map[string][]int{}
	if e.column(cTrain) >= 0 {
		var order []string
		for i := range e.dirty {
			if r := e.Row(i); r.Kind == MachineRow && r.train != nil {
				key := nameKey(r.train.name)
				if groups[key] == nil {
					order = append(order, key)
				}
				groups[key] = append(groups[key], i)
				all.stays[nameKey(r.train.stationary)] = true
			}
		}
		for _, key := range order {
			t := &train{e: e, key: key, rows: groups[key], all: all, machine: map[string]int{}}
			t.work()
			all.list = append(all.list, t.plan)
		}
	}
	all.problems = append(all.problems, e.trainsUnknown(groups)...)
	e.trains = all
	return all
}

// seat is where a machine stands in a row: under Machine, or under Stationary.
type seat struct {
	row        int // index in train.rows
	stationary bool
}

// member is a machine of a train.
type member struct {
	key, name string
	seats     []seat
	own       int // index in seats
	may       bool
	effort    float64
	pairs     []trainPair
}

// trainPair is a pair of feet.
type trainPair struct {
	along float64 // mm from the own row's coupling, positive
	names []string
	room  Room // as the own row sees it
	feet  []*Foot
}

// train is one train being worked out.
type train struct {
	e       *Evaluator
	key     string
	rows    []int // indices in the Machines sheet
	all     *trainPlans
	plan    TrainPlan
	members []member
	machine map[string]int // index in members by key
	sign    []float64      // of each row: 1, its Machine lies towards +X
	at      []float64      // X of each row's coupling
	whys    []string
}

func (t *train) row(k int) *RowResult { return t.e.Row(t.rows[k]) }

// fail notes why the train is not judged.
func (t *train) fail(k int, id colID, form string, args ...any) {
	text := fmt.Sprintf(form, args...)
	if slices.Contains(t.whys, text) {
		return
	}
	t.whys = append(t.whys, text)
	t.tell(Error, k, id, fmt.Sprintf(msgTrainWas, quote(t.plan.Train), text), hintTrain)
}

// tell records a problem at row k of the train.
func (t *train) tell(sev Severity, k int, id colID, text, hint string) {
	m := t.e.job.Machines
	t.all.problems = append(t.all.problems, Problem{sev, m.File, t.e.sheetName(MachinesSheet), t.row(k).Row, columnInfos[id].Name, text, hint, t.e.column(id)})
}

// work plans the train.
func (t *train) work() {
	e := t.e
	first := t.row(0)
	t.plan = TrainPlan{Train: first.train.name, Aim: e.set.aimText, Row: first.Row, Largest: nan, Total: nan, Status: "not judged"}
	if e.set.aimBad {
		t.plan.Aim = strings.TrimSpace(e.set.text[sMovesAim-sName])
		t.fail(0, cTrain, msgTrainAim)
	}
	t.soundRows()
	t.gather()
	if len(t.whys) == 0 {
		t.lay()
	}
	if len(t.whys) == 0 {
		t.fromSheet()
		for i := range t.members {
			t.stand(i)
		}
	}
	if len(t.whys) > 0 {
		t.plan.Why = strings.Join(t.whys, "; ")
		return
	}
	t.compareSides()
	t.compareGrowth()
	t.solve()
}

// limitColumns are those whose errors leave a line sound, and feet that may not be needed.
var limitColumns = []colID{cLimits, cSpeed, cOffsetLimit, cSlopeLimit, cLimitReason, cSpacerLen, cGraduation, cRepeatability, cToFront, cFrontToRear, cFurther, cMovToFront}

// soundRows holds every row to having a line and what else the aim asks for.
func (t *train) soundRows() {
	for k := range t.rows {
		r := t.row(k)
		bad := func(text string) { t.fail(k, cTrain, msgTrainRow, r.Row, r.Name, text) }
		share := known(t.e.set.aim)
		blocking := ""
		for p := range r.Problems {
			if x := &r.Problems[p]; x.Severity == Error && blocking == "" && x.Hint != hintOwnLimits &&
				!slices.ContainsFunc(limitColumns, func(c colID) bool { return x.Column == columnInfos[c].Name }) {
				blocking = x.Text
			}
		}
		s := r.Calc.Status
		switch {
		case blocking != "":
			bad(blocking)
		case !r.HasLine() || !r.train.wanted || s != calc.OK && s != calc.NoLimit && s != calc.NoLength:
			why := r.Why
			if why == "" {
				why = msgTrainNoLine
			}
			bad(why)
		case share && (!r.train.judged || math.IsNaN(r.Calc.Found.Share)):
			bad(msgTrainNoLimit)
		case r.OnFlange:
			bad(msgTrainFlange)
		}
		if c := r.train.badRoom; c != none {
			t.fail(k, c, msgTrainRoom, columnInfos[c].Name, r.Row)
		}
	}
}

// gather finds the machines, and holds the rows to making one line.
func (t *train) gather() {
	join := func(name string, s seat) int {
		key := nameKey(name)
		i, ok := t.machine[key]
		if !ok {
			i = len(t.members)
			t.machine[key] = i
			t.members = append(t.members, member{key: key, name: name, effort: 1})
		}
		t.members[i].seats = append(t.members[i].seats, s)
		return i
	}
	for k, i := range t.rows {
		r := t.row(k)
		if t.e.keys[i] == "" {
			t.fail(k, cMachine, msgTrainNoName, r.Row)
			continue
		}
		if nameKey(r.train.stationary) == "" {
			t.fail(k, cStationary, msgTrainNoStat, r.Row)
			continue
		}
		if nameKey(r.train.stationary) == t.e.keys[i] {
			t.fail(k, cStationary, msgTrainItself, r.Name, r.Row)
			continue
		}
		join(r.Name, seat{row: k})
		join(r.train.stationary, seat{row: k, stationary: true})
	}
	for i := range t.members {
		m := &t.members[i]
		if len(m.seats) > 2 {
			var rows []string
			for _, s := range m.seats {
				rows = append(rows, strconv.Itoa(t.row(s.row).Row))
			}
			t.fail(m.seats[2].row, cTrain, msgTrainThree, m.name, strings.Join(rows, ", "))
		}
		for s := range m.seats {
			if !m.seats[s].stationary {
				if m.may {
					t.fail(m.seats[s].row, cMachine, msgTrainMachine, m.name, t.row(m.seats[m.own].row).Row, t.row(m.seats[s].row).Row)
				}
				m.own, m.may = s, true
			}
		}
	}
}

// reach is where the supports of member i stand as a row sees them, mm from its coupling; NaN: not known.
func (t *train) reach(s seat) (near, far float64) {
	r := t.row(s.row)
	if s.stationary {
		return r.train.near, r.train.far
	}
	if a, b := r.foot(r.Front), r.foot(r.Rear); a != nil && b != nil {
		return a.Station, b.Station
	}
	return nan, nan
}

// supported says that the supports in a seat are known, and if not that they are needed.
func (t *train) supported(i int, s seat) bool {
	near, far := t.reach(s)
	if far > near {
		return true
	}
	a, b := cToFront, cFrontToRear
	if s.stationary {
		a, b = cStatNear, cStatFar
	}
	t.fail(s.row, a, msgTrainSupports, t.members[i].name, columnInfos[a].Name, columnInfos[b].Name, t.row(s.row).Row)
	return false
}

// lay puts the rows into the frame of the first: which way each looks, and where its coupling is.
func (t *train) lay() {
	n := len(t.rows)
	t.sign, t.at = make([]float64, n), make([]float64, n)
	t.sign[0] = 1
	for again := true; again; {
		again = false
		for i := range t.members {
			m := &t.members[i]
			if len(m.seats) < 2 || (t.sign[m.seats[0].row] == 0) == (t.sign[m.seats[1].row] == 0) {
				continue
			}
			p, q := m.seats[0], m.seats[1]
			if t.sign[p.row] == 0 {
				p, q = q, p
			}
			if !t.supported(i, p) || !t.supported(i, q) {
				return
			}
			pn, pf := t.reach(p)
			qn, qf := t.reach(q)
			if apart := math.Abs((pf - pn) - (qf - qn)); apart > 2*(1+1e-9) {
				t.fail(q.row, cTrain, msgTrainSpacing, m.name, t.e.dist(pf-pn), t.row(p.row).Row, t.e.dist(qf-qn), t.row(q.row).Row)
				return
			}
			own := pf - pn
			if m.seats[m.own] == q {
				own = qf - qn
			}
			towards := t.sign[p.row] // from p's coupling through the machine
			if p.stationary {
				towards = -towards
			}
			t.at[q.row] = t.at[p.row] + towards*(pn+own+qn)
			t.sign[q.row] = towards // q's Machine lies beyond, unless this machine is it
			if !q.stationary {
				t.sign[q.row] = -towards
			}
			again = true
		}
	}
	if k := slices.Index(t.sign, 0); k >= 0 {
		t.fail(k, cTrain, msgTrainApart, t.row(k).Name)
	} else if len(t.members) != n+1 {
		t.fail(0, cTrain, msgTrainRing)
	}
}

// fromSheet takes what the Trains sheet says of the machines.
func (t *train) fromSheet() {
	e := t.e
	name := e.sheetName(TrainsSheet)
	if e.trainsBad {
		t.fail(0, cTrain, msgTrainSheet, name)
	}
	seen := map[string]bool{}
	for _, l := range e.trainLines[t.key] {
		i, ok := t.machine[l.key]
		switch {
		case l.bad:
			t.fail(0, cTrain, msgTrainSheetRow, l.row, name)
		case !ok:
			t.fail(0, cTrain, msgTrainStranger, quote(l.name), name)
		case seen[l.key]:
			t.fail(0, cTrain, msgTrainTwice, quote(l.name), name)
		default:
			m := &t.members[i]
			m.effort = l.effort
			if l.may >= 0 {
				m.may = l.may == 1
			}
		}
		seen[l.key] = true
	}
}

// stand finds where the feet of a machine stand and how much room they have, as its own row sees them.
func (t *train) stand(i int) {
	e, m := t.e, &t.members[i]
	own := m.seats[m.own]
	near, far := t.reach(own)
	if !(far > near) {
		if m.may || len(m.seats) > 1 {
			t.supported(i, own)
		}
		return
	}
	open := Room{nan, nan, nan, nan}
	r := t.row(own.row)
	if own.stationary {
		m.pairs = []trainPair{{along: near, room: open}, {along: far, room: open}}
	} else {
		for k := range r.Calc.Feet {
			p := trainPair{along: r.Calc.Feet[k].Station, room: open}
			switch k {
			case r.Front:
				p.room = r.train.room[0]
			case r.Rear:
				p.room = r.train.room[1]
			}
			m.pairs = append(m.pairs, p)
		}
	}
	if g := e.footings[m.key]; g != nil {
		t.sheetFeet(i, g)
	}
	further := 0
	for k := range m.pairs {
		p := &m.pairs[k]
		switch {
		case len(p.names) > 0:
		case p.along == near:
			p.names = []string{"near"}
		case p.along == far:
			p.names = []string{"far"}
		default:
			further++
			p.names = []string{"further " + strconv.Itoa(further)}
		}
	}
}

// sheetFeet takes rooms and names from the Feet sheet.
func (t *train) sheetFeet(i int, g *feetRows) {
	e, m := t.e, &t.members[i]
	own := m.seats[m.own]
	if g.bad > 0 {
		t.fail(own.row, cTrain, msgTrainFeetBad, g.bad, e.sheetName(FeetSheet))
		return
	}
	near, far := t.reach(own)
	r := t.row(own.row)
	for k := range m.pairs {
		m.pairs[k].room = Room{nan, nan, nan, nan}
	}
	for k := range g.feet {
		f := &g.feet[k].Foot
		along := f.Station
		if math.IsNaN(along) && g.feet[k].end >= 0 {
			along = [2]float64{near, far}[g.feet[k].end]
		}
		at := slices.IndexFunc(m.pairs, func(p trainPair) bool { return math.Abs(p.along-math.Abs(along)) <= tape })
		if at < 0 {
			t.fail(own.row, cTrain, msgTrainFoot, f.Name, m.name, f.Row, e.sheetName(FeetSheet))
			continue
		}
		if !own.stationary && r.Feet != nil && k < len(r.Feet.Feet) {
			f = &r.Feet.Feet[k] // with its soft foot
		}
		p := &m.pairs[at]
		p.names, p.feet = append(p.names, f.Name), append(p.feet, f)
		down := f.Room.Down
		if math.IsNaN(down) && f.Listed {
			down = sumOf(f.InPlace)
		}
		for _, x := range [...]struct {
			to *float64
			v  float64
		}{{&p.room.Up, f.Room.Up}, {&p.room.Down, down}, {&p.room.Left, f.Room.Left}, {&p.room.Right, f.Room.Right}} {
			if known(x.v) && !(*x.to <= x.v) {
				*x.to = x.v
			}
		}
	}
}

// toFrame is which way along X the own row of a machine counts, and where its coupling is.
func (t *train) toFrame(m *member) (x0, along, sign float64) {
	s := m.seats[m.own]
	sign = t.sign[s.row]
	if along = sign; s.stationary {
		along = -sign
	}
	return t.at[s.row], along, sign
}

// framed is a room as the frame has it.
func framed(r Room, sign float64) Room {
	if sign < 0 {
		r.Left, r.Right = r.Right, r.Left
	}
	return r
}

// solve finds the plan and puts it where people look for it.
func (t *train) solve() {
	in := moves.Train{}
	for i := range t.members {
		m := &t.members[i]
		x0, along, sign := t.toFrame(m)
		mm := moves.Machine{May: m.may, Effort: m.effort}
		for k := range m.pairs {
			r := framed(m.pairs[k].room, sign)
			mm.Pairs = append(mm.Pairs, moves.Pair{X: x0 + along*m.pairs[k].along, Room: [2][2]float64{{r.Down, r.Up}, {r.Left, r.Right}}})
		}
		in.Machines = append(in.Machines, mm)
	}
	for k := range t.rows {
		in.Couplings = append(in.Couplings, t.coupling(k))
	}
	got := moves.Solve(&in, t.e.set.aim)
	t.plan.Status, t.plan.Largest, t.plan.Total = got.Status.String(), got.Largest, got.Total
	switch got.Status {
	case moves.Undecided:
		t.fail(0, cTrain, msgTrainUndecided)
		t.plan.Status, t.plan.Why = "not judged", msgTrainUndecided
	case moves.Impossible:
		t.short(&got)
	case moves.Possible:
		t.feet(&in, &got)
		t.after(&in, &got)
	}
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

// feet lists what the plan asks of every foot, with its pack.
func (t *train) feet(in *moves.Train, got *moves.Plan) {
	for i := range t.members {
		m := &t.members[i]
		_, _, sign := t.toFrame(m)
		for k := range m.pairs {
			p := &m.pairs[k]
			f := TrainFoot{Machine: m.name, Station: in.Machines[i].Pairs[k].X, Shim: got.Moves[i][k][moves.V], Move: got.Moves[i][k][moves.H], Room: framed(p.room, sign)}
			for n, name := range p.names {
				x := f
				x.Foot = name
				if len(p.feet) > 0 {
					t.pack(&x, p.feet[n])
				} else if t.e.packer != nil {
					pack := t.e.packer.Pack(math.Abs(f.Shim))
					x.HasStock, x.Change = true, packChange(&pack, f.Shim < 0, false)
				}
				t.plan.Feet = append(t.plan.Feet, x)
			}
		}
	}
}

// pack makes the pack of a foot of the Feet sheet, its soft foot's shim with it.
func (t *train) pack(x *TrainFoot, f *Foot) {
	x.InPlace, x.Listed = f.InPlace, f.Listed
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
func (t *train) after(in *moves.Train, got *moves.Plan) {
	packed := make([][][2]float64, len(t.members))
	has := t.e.packer != nil
	at := 0
	for i := range t.members {
		for k := range t.members[i].pairs {
			p := &t.members[i].pairs[k]
			rise := 0.0
			for n := range p.names {
				f := &t.plan.Feet[at]
				at++
				has = has && f.HasStock
				soft := 0.0
				if len(p.feet) > 0 {
					soft = p.feet[n].Soft
				}
				rise += (f.Change.Net - soft) / float64(len(p.names))
			}
			packed[i] = append(packed[i], [2]float64{rise, stepped(got.Moves[i][k][moves.H], t.e.set.moveStep)})
		}
	}
	for k := range t.rows {
		r := t.row(k)
		c := &in.Couplings[k]
		x := TrainCoupling{Machine: r.Name, Row: r.Row, HasPacks: has}
		x.After = t.moved(k, in, c, got.Moves)
		x.AfterJ = t.predict(r, x.After)
		if has {
			x.Packed = t.moved(k, in, c, packed)
			x.PackedJ = t.predict(r, x.Packed)
		}
		t.plan.Couplings = append(t.plan.Couplings, x)
	}
}

// predict judges the line of a row after moves.
func (t *train) predict(r *RowResult, l calc.Line) calc.Judgement {
	j := calc.Predict(&r.train.in, &r.Calc, l)
	if !r.train.judged {
		j.Verdict, j.Share, j.Chance = calc.NotJudged, nan, nan
	}
	return j
}

// moved is the line of row k after moves, as the row sees it.
func (t *train) moved(k int, in *moves.Train, c *moves.Coupling, by [][][2]float64) calc.Line {
	l, s := t.row(k).Calc.Line, t.sign[k]
	for _, end := range [...]struct {
		i    int
		sign float64
	}{{c.B, 1}, {c.A, -1}} {
		if !in.Machines[end.i].May {
			continue
		}
		v := moves.Fit(in.Machines[end.i].Pairs, func(p int) float64 { return by[end.i][p][moves.V] }, c.X)
		h := moves.Fit(in.Machines[end.i].Pairs, func(p int) float64 { return by[end.i][p][moves.H] }, c.X)
		l.DV += end.sign * v.Offset
		l.TV += end.sign * s * v.Slope
		l.DH += end.sign * s * h.Offset
		l.TH += end.sign * h.Slope
	}
	return l
}

// stepped rounds a move to the step, a tie to the smaller; no step leaves it.
func stepped(x, step float64) float64 {
	if !(step > 0) {
		return x
	}
	return math.Copysign(math.Ceil(math.Abs(x)/step-0.5-1e-9)*step, x)
}

// short lists the rooms that are too narrow, and words them.
func (t *train) short(got *moves.Plan) {
	e := t.e
	var words []string
	for _, s := range got.Short {
		m := &t.members[s.Machine]
		dir := [2][2]string{{"down", "up"}, {"left", "right"}}[s.Plane][map[bool]int{true: 1}[s.Plus]]
		names := m.pairs[s.Pair].names
		for _, n := range names {
			t.plan.Short = append(t.plan.Short, TrainShort{m.name, n, dir, s.Missing, s.Fixed})
		}
		if s.Fixed {
			words = append(words, fmt.Sprintf(txtTrainFixed, m.name, strings.Join(names, ", "), e.thick(s.Missing), dir))
		} else {
			words = append(words, fmt.Sprintf(txtTrainShort, m.name, strings.Join(names, ", "), e.thick(s.Missing), dir))
		}
	}
	if got.Unnamed {
		t.plan.Why = txtTrainUnnamed
		return
	}
	if len(words) == 0 {
		t.plan.Why = txtTrainStuck
		return
	}
	t.plan.Why = strings.Join(words, "; ") + "." + fmt.Sprintf(txtTrainOr, t.plan.Row)
}

// compareSides warns where the names of the sides do not turn over with the way a row looks.
func (t *train) compareSides() {
	first := -1
	for k := range t.rows {
		x := t.row(k).train
		if x.side3 == "" && x.side9 == "" {
			continue
		}
		if first < 0 {
			first = k
			continue
		}
		f := t.row(first).train
		s3, s9 := x.side3, x.side9
		if t.sign[k] != t.sign[first] {
			s3, s9 = s9, s3
		}
		differ := func(a, b string) bool { return a != "" && b != "" && !sameNormal(a, b) }
		crossed := func(a, b string) bool { return a != "" && sameNormal(a, b) }
		if differ(s3, f.side3) || differ(s9, f.side9) || crossed(s3, f.side9) || crossed(s9, f.side3) {
			t.tell(Warning, k, cSide3, fmt.Sprintf(msgTrainSides, t.row(k).Row, quote(x.side3), quote(x.side9), t.row(first).Row, quote(f.side3), quote(f.side9)), hintTrainSides)
		}
	}
}

// growthOf is what a row says of the growth of the machine in a seat: near and far, V and H; NaN nothing.
func (t *train) growthOf(s seat) (g [2][2]float64, said bool) {
	from := movFront
	if s.stationary {
		from = statNear
	}
	r := t.row(s.row)
	for k := range 2 {
		g[k] = r.train.growth[from+k]
	}
	if r.Growth != nil {
		for i := range r.Growth.Supports {
			x := &r.Growth.Supports[i]
			if k := slices.Index(columnInfos[pSupport].Choices, x.Name) - from; k == 0 || k == 1 {
				g[k] = [2]float64{nanTo(x.V, 0), nanTo(x.H, 0)}
			}
		}
	}
	for k := range 2 {
		for p := range 2 {
			said = said || known(g[k][p])
			g[k][p] = nanTo(g[k][p], 0)
		}
	}
	return g, said
}

// compareGrowth warns where the two rows of a machine say different things of its growth.
func (t *train) compareGrowth() {
	for i := range t.members {
		m := &t.members[i]
		if len(m.seats) < 2 {
			continue
		}
		p, q := m.seats[0], m.seats[1]
		a, saidA := t.growthOf(p)
		b, saidB := t.growthOf(q)
		if !saidA && !saidB {
			continue
		}
		differ := false
		turn := t.sign[p.row] * t.sign[q.row]
		for k := range 2 {
			differ = differ || math.Abs(a[k][0]-b[1-k][0]) > 1e-6 || math.Abs(a[k][1]-turn*b[1-k][1]) > 1e-6
		}
		if differ {
			t.tell(Warning, q.row, cTrain, fmt.Sprintf(msgTrainGrowth, t.row(p.row).Row, t.row(q.row).Row, m.name), hintTrainGrowth)
		}
	}
}

// trainsJSON writes the plans. Numbers of feet are in the frame of the train: X from the coupling of its first row towards that row's Machine, left and right as that row sees them;
// couplings are as each row sees itself.
func (e *Evaluator) trainsJSON(j *js) {
	list := e.Trains()
	j.open("trains", '[')
	for i := range list {
		p := &list[i]
		j.open("", '{')
		j.str("train", p.Train)
		j.str("aim", p.Aim)
		j.str("status", p.Status)
		j.str("why", p.Why)
		j.int("row", p.Row)
		j.num("largest_move_mm", p.Largest)
		j.num("total_move_mm", p.Total)
		j.open("feet", '[')
		for k := range p.Feet {
			f := &p.Feet[k]
			j.open("", '{')
			j.str("machine", f.Machine)
			j.str("foot", f.Foot)
			j.num("station_mm", f.Station)
			j.num("shim_mm", f.Shim)
			j.num("move_mm", f.Move)
			j.num("room_up_mm", f.Room.Up)
			j.num("room_down_mm", f.Room.Down)
			j.num("room_left_mm", f.Room.Left)
			j.num("room_right_mm", f.Room.Right)
			j.open("packs", '{')
			j.change(&f.Change, f.HasStock, f.Listed, f.InPlace)
			j.shut('}')
			j.shut('}')
		}
		j.shut(']')
		j.open("couplings", '[')
		for k := range p.Couplings {
			c := &p.Couplings[k]
			j.open("", '{')
			j.str("machine", c.Machine)
			j.int("row", c.Row)
			j.after(&c.After, &c.AfterJ)
			if c.HasPacks {
				j.open("after_packs", '{')
				j.after(&c.Packed, &c.PackedJ)
				j.shut('}')
			} else {
				j.null("after_packs")
			}
			j.shut('}')
		}
		j.shut(']')
		j.open("short", '[')
		for k := range p.Short {
			s := &p.Short[k]
			j.open("", '{')
			j.str("machine", s.Machine)
			j.str("foot", s.Foot)
			j.str("direction", s.Direction)
			j.num("missing_mm", s.Missing)
			j.bool("must_not_move", s.Fixed)
			j.shut('}')
		}
		j.shut(']')
		j.shut('}')
	}
	j.shut(']')
}

// after writes a line with what it is judged.
func (j *js) after(l *calc.Line, g *calc.Judgement) {
	j.str("verdict", g.Verdict.String())
	j.num("share_of_limit_pct", g.Share*100)
	j.num("chance_inside_pct", g.Chance*100)
	j.num("offset_v_mm", l.DV)
	j.num("offset_h_mm", l.DH)
	j.num("slope_v", l.TV)
	j.num("slope_h", l.TH)
}

// listMoves is the list of what the trains' feet are to do.
func (e *Evaluator) listMoves(l *List, unit string, add func(at int, row ...string)) {
	l.Words, l.Number = 3, 6
	l.Header = []string{columnInfos[cTrain].Name, columnInfos[cMachine].Name, "Foot", "Station [" + QDistance.Unit(e.set.inch).String() + "]", "Shim" + unit, "Move to 3 o'clock" + unit, "Do"}
	list := e.Trains()
	for i := range list {
		p := &list[i]
		for k := range p.Feet {
			f := &p.Feet[k]
			do := ""
			if f.HasStock {
				do = e.ChangeDo(&f.Change, f.Shim, true)
			}
			station := string(appendNumber(nil, f.Station, QDistance.Unit(e.set.inch), 1, e.set.mark))
			add(-1, p.Train, f.Machine, f.Foot, station, e.bare(f.Shim), e.bare(f.Move), do)
		}
		switch p.Status {
		case "possible":
			l.Notes = append(l.Notes, fmt.Sprintf(txtTrainPossible, p.Train, p.Aim, e.thick(p.Largest), e.thick(p.Total)))
		case "impossible":
			l.Notes = append(l.Notes, fmt.Sprintf(txtTrainImpossible, p.Train, p.Aim, p.Why))
		default:
			l.Notes = append(l.Notes, fmt.Sprintf(msgTrainWas, quote(p.Train), p.Why))
		}
		for k := range p.Couplings {
			if c := &p.Couplings[k]; c.HasPacks {
				l.Notes = append(l.Notes, fmt.Sprintf(txtTrainAfter, c.Machine, e.thick(c.Packed.DV), e.thick(c.Packed.DH), e.slope(c.Packed.TV), e.slope(c.Packed.TH), c.PackedJ.Verdict))
			}
		}
	}
	if len(list) == 0 {
		l.Notes = append(l.Notes, txtNoTrains)
	}
}

package evaluate

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/moves"
	"shimsheet/internal/words"
)

// trainPlans are all trains of the job.
type trainPlans struct {
	list     []TrainPlan
	trains   []*train
	problems []job.Problem
	stays    map[string]bool // keys of machines that stand under Stationary in a train
}

// Trains returns the plans of the job's trains, in the order of their first rows.
func (e *Evaluator) Trains() []TrainPlan { return e.planTrains().list }

// planTrains plans every train, once until something changes.
func (e *Evaluator) planTrains() *trainPlans {
	if e.trains != nil {
		return e.trains
	}
	e.planning = true
	before := e.rowPlans
	e.rowPlans = nil
	all := &trainPlans{stays: map[string]bool{}}
	groups := map[string][]int{}
	if e.Column(job.ColTrain) >= 0 {
		var order []string
		for i := range e.dirty {
			if !e.namesTrain(i) {
				continue
			}
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
			all.list, all.trains = append(all.list, t.plan), append(all.trains, t)
		}
	}
	all.problems = append(all.problems, e.trainsUnknown(groups)...)
	e.trains, e.planning = all, false
	e.followPlans(before)
	return all
}

// namesTrain says whether something stands under Train in a row, without working the row out.
func (e *Evaluator) namesTrain(i int) bool {
	for col := range e.bind {
		if e.bind[col].id == job.ColTrain && !job.Blank(e.job.Machines.Cell(i, col)) {
			return true
		}
	}
	return false
}

// followPlans has the rows of trains with a chosen plan wait to be worked out with it, and those that followed one before without.
func (e *Evaluator) followPlans(before map[int]*RowPlan) {
	wait := func(rows map[int]*RowPlan) {
		for i := range rows {
			if i < len(e.dirty) {
				e.dirty[i] = true
				e.widen(i, i+1)
			}
		}
	}
	wait(before)
	for _, t := range e.trains.trains {
		if t.plan.Chosen && t.plan.Status == TrainPossible {
			t.planRows()
		}
	}
	wait(e.rowPlans)
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
	said      int // what the Trains sheet says of it: 0 it must not move, 1 it may, −1 nothing
	effort    float64
	pairs     []trainPair
	flange    float64 // radius of its bolt circle, 0 it stands on feet; then pairs are the flange, which slides, and its bolts, which tilt it
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
	plan    TrainPlan   // that which is followed
	choices []TrainPlan // all that can be chosen from; nil: not asked for yet
	wish    string      // the plan that the Trains sheet names, "" none
	in      moves.Train // as set
	members []member
	machine map[string]int // index in members by key
	sign    []float64      // of each row: 1, its Machine lies towards +X
	at      []float64      // X of each row's coupling
	whys    []words.Phrase
}

func (t *train) row(k int) *RowResult { return t.e.Row(t.rows[k]) }

// fail notes why the train is not judged.
func (t *train) fail(k int, id job.ColumnID, form words.Key, args ...any) {
	text := form.With(args...)
	if slices.ContainsFunc(t.whys, text.Same) {
		return
	}
	t.whys = append(t.whys, text)
	t.tell(job.Error, k, id, words.ProblemTrainWas.With(job.Quote(t.plan.Train), text), words.HintTrain.With())
}

// tell records a problem at row k of the train.
func (t *train) tell(sev job.Severity, k int, id job.ColumnID, text, hint words.Phrase) {
	m := t.e.job.Machines
	t.all.problems = append(t.all.problems, job.Problem{Severity: sev, File: m.File, Sheet: t.e.SheetName(job.MachinesSheet), Row: t.row(k).Row, Column: id.Info().Name,
		Text: text, Hint: hint, Col: t.e.Column(id)})
}

// work plans the train.
func (t *train) work() {
	e := t.e
	first := t.row(0)
	for _, l := range e.trainLines[t.key] {
		if t.wish == "" {
			t.wish = l.plan
		}
	}
	t.plan = TrainPlan{Train: first.train.name, Asked: t.wish, Aim: e.set.aimText, Row: first.Row, Largest: nan, Total: nan, Status: TrainNotJudged}
	if e.set.aimBad {
		t.plan.Aim = strings.TrimSpace(e.set.text[job.SettingMovesAim-job.SettingName])
		t.fail(0, job.ColTrain, words.ProblemTrainAim)
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
		t.plan.Why = words.Together(t.whys...)
		return
	}
	t.compareSides()
	t.compareGrowth()
	t.in = t.frame()
	w, ok := t.wished()
	if !ok {
		t.fail(0, job.ColTrain, words.ProblemTrainNoPlan, job.Quote(t.wish), strings.Join(t.wayNames(), ", "))
		t.plan.Why = words.Together(t.whys...)
		return
	}
	t.plan = t.follow(w)
	t.orElse(&t.plan, w)
	t.plan.Chosen = t.wish != ""
	if t.plan.Status == TrainNotJudged && !t.plan.Why.Empty() {
		t.fail(0, job.ColTrain, words.SentenceAsItIs, t.plan.Why)
	}
}

// limitColumns are those whose errors leave a line sound, and feet that may not be needed.
var limitColumns = []job.ColumnID{job.ColLimits, job.ColSpeed, job.ColOffsetLimit, job.ColSlopeLimit, job.ColLimitReason, job.ColSpacerLength, job.ColGraduation, job.ColRepeatability, job.ColToFront, job.ColFrontToRear, job.ColFurther, job.ColMovableToFront}

// soundRows holds every row to having a line and what else the aim asks for.
func (t *train) soundRows() {
	for k := range t.rows {
		r := t.row(k)
		bad := func(text words.Phrase) { t.fail(k, job.ColTrain, words.ProblemTrainRow, r.Row, r.Name, text) }
		share := Known(t.e.set.aim)
		var blocking words.Phrase
		for p := range r.Problems {
			if x := &r.Problems[p]; x.Severity == job.Error && blocking.Empty() && !x.Hint.Is(words.HintOwnLimits) &&
				!slices.ContainsFunc(limitColumns, func(c job.ColumnID) bool { return x.Column == c.Info().Name }) {
				blocking = x.Text
			}
		}
		s := r.Calc.Status
		switch {
		case !blocking.Empty():
			bad(blocking)
		case !r.HasLine() || !r.train.wanted || s != calc.OK && s != calc.NoLimit && s != calc.NoLength:
			why := r.Why
			if why.Empty() {
				why = words.ProblemTrainNoLine.With()
			}
			bad(why)
		case share && (!r.train.judged || math.IsNaN(r.Calc.Found.Share)):
			bad(words.ProblemTrainNoLimit.With())
		case r.OnFlange && r.train.in.Bolts < 3 && len(r.Calc.Feet) == 0:
			bad(words.ProblemTrainFlange.With())
		}
		if c := r.train.badRoom; c != job.NoColumn {
			t.fail(k, c, words.ProblemTrainRoom, c.Info().Name, r.Row)
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
			t.members = append(t.members, member{key: key, name: name, effort: 1, said: -1})
		}
		t.members[i].seats = append(t.members[i].seats, s)
		return i
	}
	for k, i := range t.rows {
		r := t.row(k)
		if t.e.keys[i] == "" {
			t.fail(k, job.ColMachine, words.ProblemTrainNoName, r.Row)
			continue
		}
		if nameKey(r.train.stationary) == "" {
			t.fail(k, job.ColStationary, words.ProblemTrainNoStat, r.Row)
			continue
		}
		if nameKey(r.train.stationary) == t.e.keys[i] {
			t.fail(k, job.ColStationary, words.ProblemTrainItself, r.Name, r.Row)
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
			t.fail(m.seats[2].row, job.ColTrain, words.ProblemTrainThree, m.name, strings.Join(rows, ", "))
		} else if len(m.seats) == 2 && slices.ContainsFunc(m.seats, func(s seat) bool { return !s.stationary && t.row(s.row).OnFlange }) {
			t.fail(m.seats[0].row, job.ColTrain, words.ProblemTrainFlangeTwo, m.name)
		}
		for s := range m.seats {
			if !m.seats[s].stationary {
				if m.may {
					t.fail(m.seats[s].row, job.ColMachine, words.ProblemTrainMachine, m.name, t.row(m.seats[m.own].row).Row, t.row(m.seats[s].row).Row)
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
	if a, b := r.Foot(r.Front), r.Foot(r.Rear); a != nil && b != nil {
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
	a, b := job.ColToFront, job.ColFrontToRear
	if s.stationary {
		a, b = job.ColStationaryNear, job.ColStationaryFar
	}
	t.fail(s.row, a, words.ProblemTrainSupports, t.members[i].name, a.Info().Name, b.Info().Name, t.row(s.row).Row)
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
				t.fail(q.row, job.ColTrain, words.ProblemTrainSpacing, m.name, t.e.Distance(pf-pn), t.row(p.row).Row, t.e.Distance(qf-qn), t.row(q.row).Row)
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
		t.fail(k, job.ColTrain, words.ProblemTrainApart, t.row(k).Name)
	} else if len(t.members) != n+1 {
		t.fail(0, job.ColTrain, words.ProblemTrainRing)
	}
}

// fromSheet takes what the Trains sheet says of the machines.
func (t *train) fromSheet() {
	e := t.e
	name := e.SheetName(job.TrainsSheet)
	if e.trainsBad {
		t.fail(0, job.ColTrain, words.ProblemTrainSheet, name)
	}
	seen := map[string]bool{}
	for _, l := range e.trainLines[t.key] {
		i, ok := t.machine[l.key]
		if l.plan != "" && job.NormalForm(l.plan) != job.NormalForm(t.wish) {
			t.fail(0, job.ColTrain, words.ProblemTrainPlans, job.Quote(t.wish), job.Quote(l.plan), name)
		}
		switch {
		case l.bad:
			t.fail(0, job.ColTrain, words.ProblemTrainSheetRow, l.row, name)
		case l.key == "": // of the whole train
		case !ok:
			t.fail(0, job.ColTrain, words.ProblemTrainStranger, job.Quote(l.name), name)
		case seen[l.key]:
			t.fail(0, job.ColTrain, words.ProblemTrainTwice, job.Quote(l.name), name)
		default:
			m := &t.members[i]
			m.effort = l.effort
			if m.said = l.may; l.may >= 0 {
				m.may = l.may == 1
			}
		}
		seen[l.key] = l.key != ""
	}
}

// stand finds where the feet of a machine stand and how much room they have, as its own row sees them.
func (t *train) stand(i int) {
	e, m := t.e, &t.members[i]
	own := m.seats[m.own]
	near, far := t.reach(own)
	open := Room{nan, nan, nan, nan}
	r := t.row(own.row)
	if in := &r.train.in; !own.stationary && r.OnFlange && in.Bolts >= 3 {
		x := KnownOr(in.FlangeStation, 0) // not known: at the coupling, which is right for small tilts
		m.flange = in.BoltCircleRadius
		m.pairs = []trainPair{{along: x, names: []string{FootFlange}, room: r.train.room[0]}, {along: x, names: []string{footBolts}, room: open}}
		if e.footings[m.key] != nil {
			t.fail(own.row, job.ColTrain, words.ProblemTrainFlangeFeet, m.name, e.SheetName(job.FeetSheet))
		}
		return
	}
	if !(far > near) {
		if m.may || len(m.seats) > 1 {
			t.supported(i, own)
		}
		return
	}
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
		t.fail(own.row, job.ColTrain, words.ProblemTrainFeetBad, g.bad, e.SheetName(job.FeetSheet))
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
			t.fail(own.row, job.ColTrain, words.ProblemTrainFoot, f.Name, m.name, f.Row, e.SheetName(job.FeetSheet))
			continue
		}
		if !own.stationary && r.Feet != nil && k < len(r.Feet.Feet) {
			f = &r.Feet.Feet[k] // with its soft foot
		}
		p := &m.pairs[at]
		p.names, p.feet = append(p.names, f.Name), append(p.feet, f)
		down := f.Room.Down
		if math.IsNaN(down) && f.Listed {
			down = SumOf(f.InPlace)
		}
		for _, x := range [...]struct {
			to *float64
			v  float64
		}{{&p.room.Up, f.Room.Up}, {&p.room.Down, down}, {&p.room.Left, f.Room.Left}, {&p.room.Right, f.Room.Right}} {
			if Known(x.v) && !(*x.to <= x.v) {
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
		differ := func(a, b string) bool { return a != "" && b != "" && !job.SameSpelling(a, b) }
		crossed := func(a, b string) bool { return a != "" && job.SameSpelling(a, b) }
		if differ(s3, f.side3) || differ(s9, f.side9) || crossed(s3, f.side9) || crossed(s9, f.side3) {
			t.tell(job.Warning, k, job.ColSide3, words.ProblemTrainSides.With(t.row(k).Row, job.Quote(x.side3), job.Quote(x.side9), t.row(first).Row, job.Quote(f.side3), job.Quote(f.side9)), words.HintTrainSides.With())
		}
	}
}

// growthOf is what a row says of the growth of the machine in a seat: near and far, V and H; 0 where it says nothing.
func (t *train) growthOf(s seat) (g [2][2]float64) {
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
			if k := slices.Index(job.GrowthSupport.Info().Choices, x.Name) - from; k == 0 || k == 1 {
				g[k] = [2]float64{KnownOr(x.V, 0), KnownOr(x.H, 0)}
			}
		}
	}
	for k := range 2 {
		for p := range 2 {
			g[k][p] = KnownOr(g[k][p], 0)
		}
	}
	return g
}

// compareGrowth warns where the two rows of a machine say different things of its growth.
func (t *train) compareGrowth() {
	for i := range t.members {
		m := &t.members[i]
		if len(m.seats) < 2 {
			continue
		}
		p, q := m.seats[0], m.seats[1]
		a, b := t.growthOf(p), t.growthOf(q)
		differ := false
		turn := t.sign[p.row] * t.sign[q.row]
		for k := range 2 {
			differ = differ || math.Abs(a[k][0]-b[1-k][0]) > 1e-6 || math.Abs(a[k][1]-turn*b[1-k][1]) > 1e-6
		}
		if differ {
			t.tell(job.Warning, q.row, job.ColTrain, words.ProblemTrainGrowth.With(t.row(p.row).Row, t.row(q.row).Row, m.name), words.HintTrainGrowth.With())
		}
	}
}

// TrainPlanOf finds the plan of the train that row r belongs to; nil none.
func (e *Evaluator) TrainPlanOf(r *RowResult) *TrainPlan {
	if r.train == nil {
		return nil
	}
	key := nameKey(r.train.name)
	for k, t := range e.planTrains().trains {
		if t.key == key {
			return &e.trains.list[k]
		}
	}
	return nil
}

// TrainOf is the index in [Evaluator.Trains] of the train that row i belongs to, −1 none.
func (e *Evaluator) TrainOf(i int) int {
	if r := e.Row(i); r != nil && r.train != nil {
		for k, t := range e.planTrains().trains {
			if t.key == nameKey(r.train.name) {
				return k
			}
		}
	}
	return -1
}

package evaluate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/packs"
)

// A straight is a line of a shaft over the floor: heights and places sideways at two places, both in mm; nothing of the program's own frames.
type straight struct{ v, h, tv, th float64 }

func (s straight) at(x float64) (v, h float64) { return s.v + s.tv*x, s.h + s.th*x }

// through is the rigid line through what two pairs of feet do.
func through(x0, v0, h0, x1, v1, h1 float64) straight {
	tv, th := (v1-v0)/(x1-x0), (h1-h0)/(x1-x0)
	return straight{v0 - tv*x0, h0 - th*x0, tv, th}
}

func (s straight) plus(o straight, k float64) straight {
	return straight{s.v + k*o.v, s.h + k*o.h, s.tv + k*o.tv, s.th + k*o.th}
}

// seen is a straight as somebody sees it whose x begins at x0 and runs along the floor's, or against it where s is −1: then left is right.
func (s straight) seen(x0, dir float64) calc.Line {
	v, h := s.at(x0)
	return calc.Line{DV: v, TV: 1000 * dir * s.tv, DH: dir * h, TH: 1000 * s.th}
}

//evidence: calc=moves of a train grade=independent count=60 source=shafts as straight lines over the floor, moved at their feet, and seen again from each row

// Everything a plan tells, worked out again from where the shafts lie over the floor and from what the plan does under each foot: stations, rooms, lines found, wanted and after, packs, verdicts, what is touched, the order of the work,
// and what the rows take of a chosen plan.
func TestTrainPlansWorkedOutAgain(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 9))
	statuses := map[TrainStatus]int{}
	for n := range 60 {
		count := 2 + r.IntN(3)
		pivot := r.IntN(count)
		names := []string{"A", "B", "C", "D"}[:count]
		type body struct {
			line    straight
			feet    [2]float64
			lo, hi  float64 // its couplings, or feet
			may     bool
			effort  float64
			own     int // row
			stays   bool
			room    [2]Room // by foot, as its own row sees it, front and rear
			has     bool    // it has feet in the plan
			listed  bool    // on the Feet sheet
			inPlace float64
		}
		bodies := make([]body, count)
		type coup struct {
			a, b   int // under Stationary, under Machine
			x, dir float64
			wanted calc.Line
			limit  [2]float64
			kind   string
		}
		var rows []coup
		x := 0.0
		for i := range bodies {
			b := &bodies[i]
			b.feet[0] = x + 200 + math.Round(300*r.Float64())
			b.feet[1] = b.feet[0] + 400 + math.Round(500*r.Float64())
			x = b.feet[1] + 150
			b.lo, b.hi, b.effort, b.own = b.feet[0], b.feet[1], 1, -1
			f := func() float64 { return math.Round(300*r.NormFloat64()) / 1000 }
			b.line = through(b.feet[0], f(), f(), b.feet[1], f(), f())
			if i == 0 {
				continue
			}
			c := coup{a: i - 1, b: i, x: b.feet[0] - 120, dir: 1}
			if i <= pivot {
				c = coup{a: i, b: i - 1, x: b.feet[0] - 120, dir: -1}
			}
			if r.IntN(2) == 0 {
				c.wanted = calc.Line{DV: 0.05, TV: -0.1, DH: -0.03, TH: 0.2}
			}
			c.limit = [2]float64{0.1 + 0.1*r.Float64(), 0.3 + 0.2*r.Float64()}
			c.kind = []string{"short", "short", "short", "spacer", "universal"}[r.IntN(5)]
			rows = append(rows, c)
		}
		r.Shuffle(len(rows), func(i, j int) { rows[i], rows[j] = rows[j], rows[i] })
		aim := []string{"wanted line", "60 %", "inside"}[r.IntN(3)]
		step := []float64{0, 0.05}[r.IntN(2)]
		lines := []string{"Job: Moves aim=" + aim, "Stock: Thickness=0.05", "Stock: Thickness=0.1", "Stock: Thickness=0.2", "Stock: Thickness=0.5", "Stock: Thickness=1"}
		if step > 0 {
			lines = append(lines, "Job: Move step=0.05")
		}
		num := func(v float64) string { return fmt.Sprintf("%.15g", v) }
		for k := range rows {
			c := &rows[k]
			m, s := &bodies[c.b], &bodies[c.a]
			m.own, m.may, m.has = k, true, true
			if s.own < 0 {
				s.own, s.stays = k, true
			}
			for _, b := range []*body{m, s} {
				b.lo, b.hi = min(b.lo, c.x), max(b.hi, c.x)
			}
			l := m.line.plus(s.line, -1).seen(c.x, c.dir)
			near := func(b *body) (float64, float64) {
				p, q := math.Abs(b.feet[0]-c.x), math.Abs(b.feet[1]-c.x)
				return min(p, q), max(p, q)
			}
			front, rear := near(m)
			first, last := near(s)
			text := fmt.Sprintf("Machines: Train=T | Machine=%s | Stationary=%s | Method=line | Coupling to front feet=%s | Front to rear feet=%s | Stationary near support=%s | Stationary far support=%s | Offset limit=%s | Slope limit=%s | "+
				"Given offset V=%s | Given slope V=%s | Given offset H=%s | Given slope H=%s | Running offset V=%s | Running slope V=%s | Running offset H=%s | Running slope H=%s",
				names[c.b], names[c.a], num(front), num(rear-front), num(first), num(last), num(c.limit[0]), num(c.limit[1]), num(l.DV), num(l.TV), num(l.DH), num(l.TH), num(c.wanted.DV), num(c.wanted.TV), num(c.wanted.DH), num(c.wanted.TH))
			switch c.kind {
			case "spacer":
				text += " | Coupling=spacer | Spacer length=400"
			case "universal":
				text += " | Coupling=universal"
			}
			for end, name := range []string{"Front", "Rear"} {
				m.room[end] = Room{nan, nan, nan, nan}
				for d, to := range []*float64{&m.room[end].Up, &m.room[end].Down, &m.room[end].Left, &m.room[end].Right} {
					if r.IntN(4) == 0 {
						*to = math.Round(100*(1+r.Float64())) / 100
						text += fmt.Sprintf(" | %s room %s=%s", name, []string{"up", "down", "left", "right"}[d], num(*to))
					}
				}
			}
			lines = append(lines, text)
		}
		for i := range bodies {
			b := &bodies[i]
			if b.own >= 0 && rows[b.own].b != i {
				b.room = [2]Room{{nan, nan, nan, nan}, {nan, nan, nan, nan}}
				b.has = true
			}
			said := "Trains: Train=T | Machine=" + names[i]
			switch r.IntN(4) {
			case 0:
				b.effort, said = 2, said+" | Effort=2"
			case 1:
				b.may, said = b.stays, said+map[bool]string{true: " | May move=yes", false: " | May move=no"}[b.stays]
				if !b.stays && !slices.ContainsFunc(bodies, func(o body) bool { return o.may }) {
					b.may, said = true, "Trains: Train=T | Machine="+names[i]+" | May move=yes"
				}
			}
			lines = append(lines, said)
			if r.IntN(4) == 0 && !b.stays { // with a pack in place under each foot, which bounds the room down unless that is typed; the tighter of a pair counts
				b.listed, b.inPlace = true, 2.5
				b.room = [2]Room{{nan, 2.5, nan, nan}, {nan, 2.5, nan, nan}}
				b.room[0].Up, b.room[1].Left = 1.5, 1.25
				lines = append(lines, "Feet: Machine="+names[i]+" | Foot=front 9 | Pack in place=0.5+2 | Room up=1.5", "Feet: Machine="+names[i]+" | Foot=front 3 | Pack in place=3 | Room up=1.75",
					"Feet: Machine="+names[i]+" | Foot=rear 9 | Pack in place=2.5 | Room left=2", "Feet: Machine="+names[i]+" | Foot=rear 3 | Pack in place=2.5 | Room left=1.25")
			}
		}
		chosen := r.IntN(2) == 0
		if chosen {
			lines = append(lines, "Trains: Train=T | Plan=as set")
		}
		e := workText(t, lines...)
		list := e.Trains()
		if len(list) != 1 {
			t.Fatal(list)
		}
		p := &list[0]
		what := fmt.Sprintf("train %d, %s: %s", n, aim, strings.Join(lines, "\n"))
		statuses[p.Status]++
		if p.Status == TrainNotJudged || p.Aim != aim || p.Plan != "as set" || p.Chosen != chosen || p.Train != "T" || p.Row != 2 {
			t.Fatalf("%s %s %s", p.Status, p.Why, what)
		}
		bad := func(format string, a ...any) { t.Errorf(format+"\n%s", append(a, what)...) }
		same := func(name string, got, want float64) {
			if !(math.Abs(got-want) <= 1e-9) && !(math.IsNaN(got) && math.IsNaN(want)) {
				bad("%s is %v, want %v", name, got, want)
			}
		}
		sameLine := func(name string, got, want calc.Line) {
			for k, x := range [4][2]float64{{got.DV, want.DV}, {got.TV, want.TV}, {got.DH, want.DH}, {got.TH, want.TH}} {
				same(name+[]string{" offset V", " slope V", " offset H", " slope H"}[k], x[0], x[1])
			}
		}
		// The frame is the first row's.
		x0, dir0 := rows[0].x, rows[0].dir
		frame := func(x float64) float64 { return dir0 * (x - x0) }
		// What the plan does, foot by foot.
		moved, packed := make([]straight, count), make([]straight, count)
		did := make([][2][2]float64, count) // by foot near and far of the own row: shim, move
		feet := 0
		touch := 0
		for i := range bodies {
			b := &bodies[i]
			own := rows[b.own]
			ends := [2]int{0, 1} // index in feet of near and far
			if math.Abs(b.feet[1]-own.x) < math.Abs(b.feet[0]-own.x) {
				ends = [2]int{1, 0}
			}
			var net, push [2]float64
			for end, word := range []string{"near", "far"} {
				labels := []string{word}
				if b.listed {
					labels = []string{[]string{"front", "rear"}[end] + " 9", []string{"front", "rear"}[end] + " 3"}
				}
				for _, label := range labels {
					k := slices.IndexFunc(p.Feet, func(f TrainFoot) bool { return f.Machine == names[i] && f.Foot == label })
					if k < 0 {
						if p.Status == TrainPossible {
							bad("no foot %s %s among %+v", names[i], label, p.Feet)
						}
						continue
					}
					f := &p.Feet[k]
					feet++
					same(names[i]+" "+label+" station", f.Station, frame(b.feet[ends[end]]))
					did[i][end] = [2]float64{f.Shim, f.Move}
					want := b.room[end]
					if own.dir != dir0 {
						want.Left, want.Right = want.Right, want.Left
					}
					for d, x := range [4][2]float64{{f.Room.Up, want.Up}, {f.Room.Down, want.Down}, {f.Room.Left, want.Left}, {f.Room.Right, want.Right}} {
						same(fmt.Sprint(names[i], " ", label, " room ", d), x[0], x[1])
					}
					for _, x := range [4][2]float64{{f.Shim, want.Up}, {-f.Shim, want.Down}, {-f.Move, want.Left}, {f.Move, want.Right}} {
						if x[0] > x[1]+1e-7 {
							bad("%s %s goes %g with room for %g", names[i], label, x[0], x[1])
						}
					}
					if !math.IsNaN(f.Slide) || !f.HasStock || f.Listed != b.listed || f.Change.Status != packs.ChangeNearest && math.Abs(f.Change.Net-f.Shim) > 0.0251 {
						bad("%+v", f)
					}
					net[end] += f.Change.Net / float64(len(labels))
					push[end] = f.Move
					if step > 0 {
						push[end] = math.Copysign(math.Ceil(math.Abs(f.Move)/step-0.5-1e-9)*step, f.Move)
					}
					done := len(f.Change.Take)+len(f.Change.Put) > 0 || math.Abs(f.Change.Net) >= 0.005 || math.Abs(push[end]) >= 0.005
					if f.Touched != done {
						bad("touched: %+v", f)
					}
					if done {
						touch += 2 / len(labels)
					}
				}
			}
			if p.Status == TrainPossible {
				if !b.may && did[i] != [2][2]float64{} {
					bad("%s must not move: %v", names[i], did[i])
				}
				n0, f0 := b.feet[ends[0]], b.feet[ends[1]]
				moved[i] = through(n0, did[i][0][0], dir0*did[i][0][1], f0, did[i][1][0], dir0*did[i][1][1])
				packed[i] = through(n0, net[0], dir0*push[0], f0, net[1], dir0*push[1])
			}
		}
		if feet != len(p.Feet) || touch != p.Touch {
			bad("%d of %d feet, touched %d, said %d", feet, len(p.Feet), touch, p.Touch)
		}
		// Shafts, as pictures have them.
		order := []int{rows[0].b, rows[0].a} // as the rows name them: under Machine, then under Stationary
		for _, c := range rows {
			for _, i := range []int{c.b, c.a} {
				if !slices.Contains(order, i) {
					order = append(order, i)
				}
			}
		}
		datum := rows[0].a
		if slices.ContainsFunc(bodies, func(b body) bool { return !b.may }) {
			datum = order[slices.IndexFunc(order, func(i int) bool { return !bodies[i].may })]
		}
		wantedAt := map[string]calc.Line{}
		last := math.Inf(-1)
		for _, m := range p.Machines {
			i := slices.Index(names, m.Name)
			b := &bodies[i]
			lo, hi := min(frame(b.lo), frame(b.hi)), max(frame(b.lo), frame(b.hi))
			same(m.Name+" from", m.From, lo)
			same(m.Name+" to", m.To, hi)
			if m.From+m.To < last || m.May != b.may || m.Flange {
				bad("%+v", m)
			}
			last = m.From + m.To
			sameLine(m.Name+" found", m.Found, b.line.plus(bodies[datum].line, -1).seen(x0, dir0))
			after := calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}
			if p.Status == TrainPossible {
				after = b.line.plus(bodies[datum].line, -1).plus(moved[i], 1).seen(x0, dir0)
			}
			sameLine(m.Name+" after", m.After, after)
			wantedAt[m.Name] = m.Wanted
			if i == datum {
				sameLine("wanted of the datum", m.Wanted, moved[datum].seen(x0, dir0))
			}
			for k, q := range m.Pairs {
				if p.Status == TrainPossible {
					same("shim", q.Shim, did[i][k][0])
					same("move", q.Move, did[i][k][1])
				} else if Known(q.Shim) || Known(q.Move) {
					bad("%+v", q)
				}
				stops := [2]bool{}
				for _, s := range p.Short {
					if s.Machine == m.Name && slices.Contains(q.Names, s.Foot) {
						stops[AsInt(s.Direction == "left" || s.Direction == "right")] = true
					}
				}
				if q.Stops != stops {
					bad("stops: %+v, short %+v", q, p.Short)
				}
			}
		}
		if len(p.Machines) != count {
			bad("%d machines", len(p.Machines))
		}
		// Each row's own view.
		verdict, chance := calc.Inside, 1.0
		rank := map[calc.Verdict]int{calc.NotJudged: 0, calc.Outside: 1, calc.TooClose: 2, calc.Inside: 3}
		for k := range rows {
			c := &rows[k]
			w := func(i int) straight { // back onto the floor
				l := wantedAt[names[i]]
				s := straight{l.DV, dir0 * l.DH, dir0 * l.TV / 1000, l.TH / 1000} // about x0
				return straight{s.v - s.tv*x0, s.h - s.th*x0, s.tv, s.th}
			}
			sameLine(fmt.Sprint("wanted of row ", k), w(c.b).plus(w(c.a), -1).seen(c.x, c.dir), c.wanted)
			if p.Status != TrainPossible {
				continue
			}
			x := &p.Couplings[k]
			gap := func(by []straight) calc.Line {
				return bodies[c.b].line.plus(by[c.b], 1).plus(bodies[c.a].line, -1).plus(by[c.a], -1).seen(c.x, c.dir)
			}
			sameLine("coupling after", x.After, gap(moved))
			sameLine("coupling packed", x.Packed, gap(packed))
			sameLine("coupling found", x.Found, bodies[c.b].line.plus(bodies[c.a].line, -1).seen(c.x, c.dir))
			same("coupling at", x.X, frame(c.x))
			if x.Machine != names[c.b] || x.Stationary != names[c.a] || x.Row != k+2 || x.Sign != c.dir*dir0 || !x.HasPacks {
				bad("%+v", x)
			}
			share := func(l calc.Line) float64 {
				w := c.wanted
				switch c.kind {
				case "spacer": // the angle at either flex plane, 200 mm from the middle
					v, h, tv, th := (l.DV-w.DV)/0.4, (l.DH-w.DH)/0.4, (l.TV-w.TV)/2, (l.TH-w.TH)/2
					return max(math.Hypot(v+tv, h+th), math.Hypot(v-tv, h-th)) / c.limit[1]
				case "universal": // its angle alone
					return math.Hypot(l.TV-w.TV, l.TH-w.TH) / c.limit[1]
				}
				return max(math.Hypot(l.DV-w.DV, l.DH-w.DH)/c.limit[0], math.Hypot(l.TV-w.TV, l.TH-w.TH)/c.limit[1])
			}
			same("share", x.AfterJ.Share, share(x.After))
			same("share packed", x.PackedJ.Share, share(x.Packed))
			if most := map[string]float64{"wanted line": 1e-6, "60 %": 0.6, "inside": 1}[aim]; share(x.After) > most+1e-6 {
				bad("row %d comes to %g of its limit", k, share(x.After))
			}
			if rank[x.PackedJ.Verdict] < rank[verdict] {
				verdict = x.PackedJ.Verdict
			}
			chance *= x.PackedJ.Chance
			// What the row takes of it.
			row := e.Row(k)
			if (row.Plan != nil) != chosen {
				bad("row %d: %+v", k, row.Plan)
			}
			if chosen {
				sameLine("the row's own line after", row.Calc.After, x.Packed)
				own := c.dir * dir0
				for end := range 2 {
					same("the row's shim", row.Calc.Feet[end].Shim, did[c.b][end][0])
					same("the row's move", row.Calc.Feet[end].Move, own*did[c.b][end][1])
				}
				picks := row.Plan.Stationary
				if want := 4 * AsInt(bodies[c.a].own == k && rows[bodies[c.a].own].a == c.a && bodies[c.a].may); len(picks) != want {
					bad("row %d: %d picks of the Stationary, want %d", k, len(picks), want)
				}
				for q, pick := range picks {
					end := q / 2
					same("pick", pick.Wanted, did[c.a][end][0])
					same("pick move", pick.Move, own*did[c.a][end][1])
					if pick.Machine != names[c.a] || pick.Foot != []string{"near 9", "near 3", "far 9", "far 3"}[q] || !pick.Made || pick.Listed || pick.Target != pick.Wanted || pick.Pair != -1 || pick.Single != -1 || pick.Bolt != -1 {
						bad("%+v", pick)
					}
				}
			}
			if e.TrainOf(k) != 0 {
				bad("row %d is of train %d", k, e.TrainOf(k))
			}
		}
		if p.Status != TrainPossible {
			if p.Feet != nil || p.Couplings != nil || p.Steps != nil || Known(p.Largest) || Known(p.Total) || len(p.Short) == 0 || Known(p.Chance) || p.Why.Empty() {
				bad("%+v", p)
			}
			continue
		}
		if p.Verdict != verdict || len(p.Short) > 0 || !p.Why.Empty() {
			bad("%v, %v", p.Verdict, verdict)
		}
		same("chance", p.Chance, chance)
		// Efforts included: the larger of the two planes, and their sum.
		var most, all [2]float64
		for i := range bodies {
			for end := range 2 {
				for plane := range 2 {
					v := bodies[i].effort * math.Abs(did[i][end][plane])
					most[plane], all[plane] = max(most[plane], v), all[plane]+v
				}
			}
		}
		if math.Abs(p.Largest-max(most[0], most[1])) > 1e-7 || math.Abs(p.Total-all[0]-all[1]) > 1e-6 {
			bad("largest %g, %v; total %g, %v", p.Largest, most, p.Total, all)
		}
		// The order of the work: outwards from what stays, or from what is hardest to move.
		depth := make([]int, count)
		from := func(i int) bool { return !bodies[i].may }
		if !slices.ContainsFunc(bodies, func(b body) bool { return !b.may }) {
			heavy := order[0]
			for _, i := range order {
				if bodies[i].effort > bodies[heavy].effort {
					heavy = i
				}
			}
			from = func(i int) bool { return i == heavy }
		}
		for i := range depth {
			depth[i] = count
			for k := range bodies {
				if from(k) {
					depth[i] = min(depth[i], max(i-k, k-i))
				}
			}
		}
		var want []string
		for d := range count + 1 {
			for _, i := range order {
				if depth[i] != d {
					continue
				}
				for plane, word := range []string{"heights", "sideways"} {
					type one struct {
						name string
						v    float64
					}
					var at []one
					for _, f := range p.Feet {
						if v := [2]float64{f.Shim, f.Move}[plane]; f.Machine == names[i] && f.Touched && math.Abs(v) >= 0.005 {
							at = append(at, one{f.Foot, v})
						}
					}
					slices.SortStableFunc(at, func(a, b one) int {
						switch x, y := math.Abs(a.v), math.Abs(b.v); {
						case x > y:
							return -1
						case x < y:
							return 1
						}
						return 0
					})
					if len(at) > 0 {
						want = append(want, fmt.Sprint(names[i], " ", word, " ", at))
					}
				}
			}
		}
		var got []string
		for _, s := range p.Steps {
			text := fmt.Sprint(s.Machine, " ", []string{"heights", "sideways"}[AsInt(s.Sideways)], " [")
			for k := range s.Feet {
				text += strings.Repeat(" ", min(k, 1)) + fmt.Sprintf("{%s %v}", s.Feet[k], s.Amounts[k])
			}
			got = append(got, text+"]")
		}
		if !slices.Equal(got, want) {
			bad("order %q\n want %q", got, want)
		}
		if t.Failed() {
			return
		}
	}
	if statuses[TrainPossible] < 30 || statuses[TrainImpossible] < 5 {
		t.Error(statuses)
	}
}

package report

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Train appends the drawing of a whole train: side view and top view to a stated scale, every shaft as found, wanted and after the plan, the room at every pair of feet as a
// bracket around where it stands, and the foot whose room stops a plan. k is the index in [evaluate.Evaluator.Trains], choice that in [evaluate.Evaluator.TrainChoices]; −1: the plan that is
// followed. Pairs of feet have numbers, those of [TrainFeet].
//
// X runs to the right from the coupling of the train's first row towards that row's machine, so the side view is seen from that row's 9 o'clock side, and in the top view its 3
// o'clock is up.
func Train(dst []byte, ev *sentences.Teller, k, choice int, opt Options) []byte {
	p := newPen(opt)
	plan := trainPlan(ev, k, choice)
	if plan == nil {
		return noCoupling(dst, p, words.DrawingNoTrain.String())
	}
	title := plan.Train + ", " + plan.Plan + ": " + string(plan.Status)
	if len(plan.Machines) == 0 {
		return noCoupling(dst, p, ev.TrainWords(plan))
	}
	t := &trainDrawing{pen: p, ev: ev, p: plan, lu: job.QThickness.Unit(ev.ShowsInch()).String()}
	y := t.wrapped(fontHead, 10, 20, t.w-20, title)
	t.scales()
	along := "1 : " + t.mark(t.den)
	y = t.wrapped(fontSoft, 10, y, t.w-20, words.DrawingTrainScale.Say(along, t.mark(t.mag)))
	side := words.DrawingSideView.Say(ev.TrainSide(plan, -1))
	top := words.DrawingTopView.Say(ev.TrainSide(plan, 1))
	for i := range plan.Machines {
		if plan.Machines[i].Flange {
			side, top = words.DrawingPlane12.String(), words.DrawingPlane3.Say(ev.TrainSide(plan, 1))
		}
	}
	y = t.view(y+14, side, false)
	y = t.view(t.dims(y)+20, top, true)
	y = t.key(y + 16)
	return t.finish(dst, y+8, title, t.describe())
}

// trainPlan finds a plan.
func trainPlan(ev *sentences.Teller, k, choice int) *evaluate.TrainPlan {
	if list := ev.Trains(); choice < 0 && k >= 0 && k < len(list) {
		return &list[k]
	}
	if list := ev.TrainChoices(k); choice >= 0 && choice < len(list) {
		return &list[choice]
	}
	return nil
}

// A trainDrawing is what the drawing of a train is made from.
type trainDrawing struct {
	*pen
	ev         *sentences.Teller
	p          *evaluate.TrainPlan
	lu         string
	xmin, xmax float64 // mm
	along      float64 // px a mm along
	den        float64
	across     float64 // px a mm across
	mag        float64
	half       float64 // px from the datum to the edge of a view
	apart      float64 // px between the two pairs of feet that stand nearest to each other
}

func (t *trainDrawing) mark(v float64) string {
	return string(t.ev.AppendUnit(nil, v, units.None, -1))
}

func (t *trainDrawing) x(mm float64) float64 { return 16 + (mm-t.xmin)*t.along }

// at is a line of the frame at a station.
func (t *trainDrawing) at(l *calc.Line, x float64, horizontal bool) float64 {
	v, h := l.At(x)
	return perPlane(v, h, horizontal)
}

// scales settles both scales: along to the width, across in steps of 1, 2, 5 so that every line and the brackets of narrow rooms are in sight.
func (t *trainDrawing) scales() {
	t.xmin, t.xmax = math.Inf(1), math.Inf(-1)
	most := 0.0
	for i := range t.p.Machines {
		m := &t.p.Machines[i]
		t.xmin, t.xmax = min(t.xmin, m.From), max(t.xmax, m.To)
		for _, l := range [...]*calc.Line{&m.Found, &m.Wanted, &m.After} {
			for _, x := range [...]float64{m.From, m.To} {
				for _, h := range [...]bool{false, true} {
					if v := math.Abs(t.at(l, x, h)); known(v) {
						most = max(most, v)
					}
				}
			}
		}
	}
	over := max(t.xmax-t.xmin, 1) * 0.06
	t.xmin, t.xmax = t.xmin-over, t.xmax+over
	t.den = denominator(perMM / ((t.w - 32) / (t.xmax - t.xmin)))
	t.along = perMM / t.den
	t.apart = math.Inf(1)
	last := math.Inf(-1)
	for _, x := range t.stations(false) {
		t.apart, last = min(t.apart, (x-last)*t.along), x
	}
	t.half = 62
	if t.w >= 560 {
		t.half = 78
	}
	t.mag = 100
	if most > 0 {
		t.mag = min(ladder(0.8*t.half/(most*perMM)), 1000)
	}
	t.across = t.mag * perMM
}

// view appends one plane from y down, and returns y below it.
func (t *trainDrawing) view(y float64, head string, horizontal bool) float64 {
	t.raw(`<g data-view="`)
	t.raw(map[bool]string{false: "side", true: "top"}[horizontal])
	t.raw("\">\n")
	defer t.raw("</g>\n")
	y = t.wrapped(fontSub, 10, y, t.w-20, head) + 2
	y = t.names(y)
	y0 := y + 6 + t.half
	base := y0 + t.half + 14
	t.line(inkDatum, t.x(t.xmin), y0, t.x(t.xmax), y0)
	clamp := func(v float64) float64 { return min(max(v, y0-t.half-4), y0+t.half+4) }
	py := func(l *calc.Line, x float64) float64 { return clamp(y0 - t.at(l, x, horizontal)*t.across) }
	number := 0
	for i := range t.p.Machines {
		m := &t.p.Machines[i]
		t.body(m, y0, base, horizontal)
		line := func(k ink, l *calc.Line) {
			if known(t.at(l, 0, horizontal)) {
				t.line(k, t.x(m.From), py(l, m.From), t.x(m.To), py(l, m.To))
			}
		}
		line(inkWanted, &m.Wanted)
		line(inkAfter, &m.After)
		line(inkFound, &m.Found)
		for k := range m.Pairs {
			q := &m.Pairs[k]
			number++
			t.pair(m, q, number, y0, base, horizontal)
		}
	}
	t.couplings(y0)
	if !horizontal {
		t.line(inkGround, t.x(t.xmin), base, t.x(t.xmax), base)
	}
	return base + 34
}

// stations are those of the feet along the train, with those of the couplings on demand.
func (t *trainDrawing) stations(couplings bool) (list []float64) {
	for i := range t.p.Machines {
		m := &t.p.Machines[i]
		for k := range m.Pairs {
			list = append(list, m.Pairs[k].Station)
		}
		if couplings {
			list = append(list, m.From, m.To)
		}
	}
	slices.Sort(list)
	return slices.Compact(list)
}

// dims are the distances along the train, from foot to foot and coupling to coupling.
func (t *trainDrawing) dims(y float64) float64 {
	d := &coupling{pen: t.pen, ev: t.ev, along: t.along, x0: 16 - t.xmin*t.along}
	var pairs [][2]float64
	all := t.stations(true)
	for k := 1; k < len(all); k++ {
		pairs = append(pairs, [2]float64{all[k-1], all[k]})
	}
	return d.dimRows(y, pairs)
}

// names writes the machines' names above their shafts, in as many lines as they need.
func (t *trainDrawing) names(y float64) float64 {
	var free []float64 // of each line, from where
	for i := range t.p.Machines {
		m := &t.p.Machines[i]
		s := m.Name
		if !m.May {
			s += words.DrawingItStays.String()
		}
		room := t.w - 20
		w := min(width(s, fontSoft), room)
		mid := (t.x(m.From) + t.x(m.To)) / 2
		x := min(max(mid-w/2, 10), t.w-10-w)
		row := 0
		for row < len(free) && free[row] > x {
			row++
		}
		if row == len(free) {
			free = append(free, 0)
		}
		free[row] = x + w + 10
		t.text(fontSoft, start, x, y+float64(row)*14, room, s)
	}
	return y + float64(max(len(free)-1, 0))*14
}

// body is the outline of a machine between its feet, around its shaft as found, and its feet.
func (t *trainDrawing) body(m *evaluate.TrainMachine, y0, base float64, horizontal bool) {
	if len(m.Pairs) == 0 {
		return
	}
	a, b := t.x(m.Pairs[0].Station), t.x(m.Pairs[len(m.Pairs)-1].Station)
	if a > b {
		a, b = b, a
	}
	if m.Flange {
		t.line(inkBody, a, y0-t.half*0.55, a, y0+t.half*0.55)
		return
	}
	over := min(10, (b-a)*0.15)
	h := t.half * 0.42
	t.rect(inkBody, a-over, y0-h, b-a+2*over, 2*h)
	if horizontal {
		return
	}
	for k := range m.Pairs {
		x := t.x(m.Pairs[k].Station)
		t.path(inkBody, false, x-5, y0+h, x-5, base, x+5, base, x+5, y0+h)
	}
}

// couplings marks where the shafts meet.
func (t *trainDrawing) couplings(y0 float64) {
	seen := map[float64]bool{}
	for i := range t.p.Machines {
		m := &t.p.Machines[i]
		for _, x := range [...]float64{m.From, m.To} {
			shared := false
			for k := range t.p.Machines {
				shared = shared || k != i && (t.p.Machines[k].From == x || t.p.Machines[k].To == x)
			}
			if shared && !seen[x] {
				seen[x] = true
				t.segments(inkSpool, t.x(x)-2.5, y0-9, t.x(x)-2.5, y0+9, t.x(x)+2.5, y0-9, t.x(x)+2.5, y0+9)
			}
		}
	}
}

// pair marks a pair of feet: its number, its room as a bracket around where the shaft stands, where it goes, and whether its room stops the plan.
func (t *trainDrawing) pair(m *evaluate.TrainMachine, q *evaluate.TrainPair, number int, y0, base float64, horizontal bool) {
	x := t.x(q.Station)
	found := t.at(&m.Found, q.Station, horizontal)
	less, more, move, stops := q.Room.Down, q.Room.Up, q.Shim, q.Stops[0]
	if horizontal {
		stops = q.Stops[1]
		less, more, move = q.Room.Left, q.Room.Right, q.Move
	}
	edge := func(v float64) (y float64, cut bool) {
		y = y0 - v*t.across
		if y < y0-t.half-4 || y > y0+t.half+4 || !known(v) {
			return min(max(y, y0-t.half-4), y0+t.half+4), true
		}
		return y, false
	}
	k := inkDim
	if stops {
		k = inkOdd
	}
	side := x + 7
	yf, _ := edge(found)
	bracket := func(v float64) {
		if !known(v) {
			return
		}
		y, cut := edge(v)
		t.line(k, side, yf, side, y)
		if !cut {
			t.line(k, side-5, y, side+1, y)
		}
	}
	bracket(found - less)
	bracket(found + more)
	if known(less) || known(more) {
		t.line(k, side-3, yf, side+1, yf)
	}
	if yt, _ := edge(found + move); known(move) && math.Abs(yt-yf) > 4 {
		t.arrow(inkDo, inkDoHead, x, yf, x, yt, min(7, math.Abs(yt-yf)), false)
	}
	s := strconv.Itoa(number)
	t.text(fontNum, middle, x, base+13, 0, s)
	if stops {
		t.circle(inkOdd, x, base+9, 8.5)
	}
	if m.May && known(move) && t.apart > 46 {
		t.text(fontSoft, middle, x, base+27, 0, string(t.ev.AppendShim(nil, move)))
	}
}

// key says what the lines are.
func (t *trainDrawing) key(y float64) float64 {
	d := &coupling{pen: t.pen}
	list := []keyItem{{words.DrawingDatumStays.String(), d.swatch(inkDatum)}, {words.DrawingFound.String(), d.swatch(inkFound)},
		{words.DrawingWanted.String(), d.swatch(inkWanted)}}
	bracket := func(k ink) func(x, y float64) {
		return func(x, y float64) { t.path(k, false, x+10, y-6, x+16, y-6, x+16, y+6, x+10, y+6) }
	}
	stops := false
	for i := range t.p.Machines {
		for k := range t.p.Machines[i].Pairs {
			stops = stops || t.p.Machines[i].Pairs[k].Stops != [2]bool{}
		}
	}
	if len(t.p.Couplings) > 0 {
		list = append(list, keyItem{words.DrawingAfterPlan.String(), d.swatch(inkAfter)}, keyItem{words.DrawingWhatFeetDo.String(),
			func(x, y float64) { t.arrow(inkDo, inkDoHead, x+4, y, x+swatch-4, y, 7, false) }})
	}
	list = append(list, keyItem{words.DrawingRoom.String(), bracket(inkDim)})
	if stops {
		list = append(list, keyItem{words.DrawingRoomStops.String(), bracket(inkOdd)})
	}
	return d.legend(y, list)
}

// describe says in words what the drawing shows.
func (t *trainDrawing) describe() string {
	s := t.ev.TrainWords(t.p)
	for i := range t.p.Machines {
		m := &t.p.Machines[i]
		s += " " + m.Name
		if !m.May {
			s += words.DrawingStaysWord.String()
		}
		s += "."
	}
	for _, r := range TrainFeet(t.ev, t.p) {
		s += words.DrawingTrainRow.Say(r.Number, r.Machine, r.Feet, r.Shim, r.Move, r.Room)
	}
	return s
}

// A TrainFootRow is a pair of feet as the table beside the drawing has it, in words.
type TrainFootRow struct {
	Number, Machine, Feet, Station, Shim, Move, Room, Do string
	Stops                                                bool
}

// TrainFeet are the pairs of feet of a plan with the numbers of the drawing.
func TrainFeet(ev *sentences.Teller, p *evaluate.TrainPlan) (list []TrainFootRow) {
	unit := " " + job.QThickness.Unit(ev.ShowsInch()).String()
	du := " " + job.QDistance.Unit(ev.ShowsInch()).String()
	d := &coupling{pen: newPen(Options{}), ev: ev}
	thick := func(v float64) string { return string(ev.AppendThickness(nil, v)) + unit }
	room := func(a, b float64, low, high string) string {
		s := func(v float64) string {
			if !known(v) {
				return words.DrawingFree.String()
			}
			return thick(v)
		}
		return low + " " + s(a) + ", " + high + " " + s(b)
	}
	left, right := ev.TrainSide(p, -1), ev.TrainSide(p, 1)
	for i := range p.Machines {
		m := &p.Machines[i]
		for k := range m.Pairs {
			q := &m.Pairs[k]
			r := TrainFootRow{Number: strconv.Itoa(len(list) + 1), Machine: m.Name, Station: d.dist(q.Station) + du, Shim: words.DrawingNoPlan.String(),
				Move: words.DrawingNoPlan.String(), Stops: q.Stops != [2]bool{}}
			up, down := words.DrawingUp.String(), words.DrawingDown.String()
			if m.Flange {
				up, down = words.DrawingTowards12.String(), words.DrawingTowards6.String()
			}
			if known(q.Shim) {
				to := up
				if q.Shim < 0 {
					to = down
				}
				r.Shim = thick(math.Abs(q.Shim)) + " " + to
			}
			if known(q.Move) {
				to := right
				if q.Move < 0 {
					to = left
				}
				r.Move = words.DrawingByTowards.Say(thick(math.Abs(q.Move)), to)
			}
			if !m.May {
				r.Shim, r.Move = words.DrawingStaysThere.String(), words.DrawingStaysThere.String()
			}
			rm := &q.Room
			switch {
			case !known(rm.Up) && !known(rm.Down) && !known(rm.Left) && !known(rm.Right):
				r.Room = words.DrawingNoBound.String()
			default:
				r.Room = room(rm.Down, rm.Up, down, up) + "; " + room(rm.Left, rm.Right, left, right)
			}
			r.Feet = strings.Join(q.Names, ", ")
			for f := range p.Feet {
				x := &p.Feet[f]
				if x.Machine != m.Name || x.Station != q.Station {
					continue
				}
				if do := ev.TrainFootDo(x); do != "" {
					if r.Do != "" {
						r.Do += "; "
					}
					r.Do += x.Foot + ": " + do
				}
			}
			list = append(list, r)
		}
	}
	return list
}

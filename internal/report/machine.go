package report

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A coupling is what the drawing of one row is made from.
type coupling struct {
	*pen
	ev  *sentences.Teller
	r   *evaluate.RowResult
	m   evaluate.Measured
	lu  string // units of thicknesses, distances, slopes
	du  string
	su  string
	pu  string // of packs
	tmp []byte

	// Stations, mm. first and last are those of the outermost feet, NaN without feet.
	xmin, xmax, first, last, flex float64

	x0     float64 // px of the coupling centre
	along  float64 // px a mm along
	across float64 // px a mm across
	den    float64 // along 1 : den
	mag    float64 // across × mag
	half   float64 // px from the datum to the edge of a view
	right  float64 // px where the plots end and the names of the lines begin
}

// hub is half the height of a hub, px.
const hub = 20.0

func known(x float64) bool { return math.Abs(x) < 1e9 }

// str makes a text with one of the evaluator's append methods.
func (d *coupling) str(f func([]byte, float64) []byte, v float64) string {
	d.tmp = f(d.tmp[:0], v)
	return string(d.tmp)
}

//go:noinline
func (d *coupling) thick(v float64) string { return d.str(d.ev.AppendThickness, v) + " " + d.lu }

//
//go:noinline
func (d *coupling) shim(v float64) string { return d.str(d.ev.AppendShim, v) + " " + d.lu }

//
//go:noinline
func (d *coupling) slope(v float64) string { return d.str(d.ev.AppendSlope, v) + " " + d.su }

// dist words a distance: zeros at the end left out.
func (d *coupling) dist(v float64) string {
	s := d.str(d.ev.AppendDistance, v)
	for i := 0; i < len(s); i++ {
		if s[i] == '.' || s[i] == ',' {
			for s[len(s)-1] == '0' {
				s = s[:len(s)-1]
			}
			if len(s) == i+1 {
				s = s[:i]
			}
			break
		}
	}
	return s
}

func newCoupling(ev *sentences.Teller, row int, opt Options) (d *coupling, ok bool) {
	d = &coupling{pen: newPen(opt), ev: ev}
	ok = ev.Measured(row, &d.m)
	d.r = ev.Row(row)
	d.lu, d.du, d.su = job.QThickness.Unit(ev.ShowsInch()).String(), job.QDistance.Unit(ev.ShowsInch()).String(), job.QSlope.Unit(ev.ShowsInch()).String()
	d.pu = job.QThickness.Unit(ev.Inch()).String() // pieces are real things
	return d, ok
}

// noCoupling is the drawing of a row that holds none.
func noCoupling(dst []byte, p *pen, title string) []byte {
	y := p.wrapped(fontText, 10, 22, p.w-20, title)
	return p.finish(dst, y-4, title, title)
}

func machine(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	r, c := d.r, &d.r.Calc
	title := r.Name + ": " + r.Verdict.String()
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	d.stations()
	lines := r.HasLine() && known(c.Line.DV) && known(c.Line.DH) && known(c.Line.TV) && known(c.Line.TH)
	d.scales(lines)
	y = d.scaleRow(y)

	flange := len(c.BoltShims) > 0
	side := words.DrawingSideView.Say(d.sideName(-1))
	top := words.DrawingTopView.Say(d.sideName(1))
	if flange {
		side = words.DrawingPlane12.String()
		top = words.DrawingPlane3.Say(d.sideName(1))
	}
	y = d.view(y+20, side, false, lines)
	y = d.dims(y + 4)
	y = d.view(y+24, top, true, lines)
	if flange {
		y = d.boltCircle(y + 24)
	}
	if lines {
		y = d.key(y + 22)
	}
	for _, s := range d.missing(lines) {
		y = d.wrapped(fontText, 10, y+16, d.w-20, s) - 12
	}
	return d.finish(dst, y+12, title, d.describe(row))
}

// sideName is the name of a side with the clock behind it, unless the name is the clock's.
func (d *coupling) sideName(v float64) string {
	s := d.ev.SideName(d.r, v)
	if v > 0 && d.r.Side3 == "" || v < 0 && d.r.Side9 == "" {
		return words.DrawingTheSide.Say(s)
	}
	hour := "9"
	if (v > 0) != d.r.FromStationary {
		hour = "3"
	}
	clock := words.DrawingClockOfSide.Say(hour)
	if d.r.FromStationary {
		clock = words.DrawingClockOfStationary.Say(hour)
	}
	return s + clock
}

// stations settles what is drawn along the shafts.
func (d *coupling) stations() {
	nan := math.NaN()
	d.first, d.last, d.flex = nan, nan, nan
	m := &d.m
	feet := d.r.Calc.Feet
	if n := len(feet); n > 0 && known(feet[0].Station) && known(feet[n-1].Station) {
		d.first, d.last = feet[0].Station, feet[n-1].Station
	} else if known(m.ToFront) && known(m.FrontToRear) && len(d.r.Calc.BoltShims) == 0 {
		d.first, d.last = m.ToFront, m.ToFront+m.FrontToRear
	}
	if m.Input.Length > 0 && known(m.Input.Length) && (d.r.Coupling == tables.Spacer || d.r.Coupling == tables.Universal) {
		d.flex = m.Input.Length / 2
	}
	far, near := 0.0, 0.0
	try := func(to *float64, x float64) {
		if known(x) && x > *to {
			*to = x
		}
	}
	for _, x := range [...]float64{d.last * 1.06, m.ToMov * 2, d.flex * 1.6, m.ToSecond * 1.3, m.Input.FlangeStation * 1.5} {
		try(&far, x)
	}
	if !(far > 0) {
		far = 500
	}
	for _, x := range [...]float64{m.ToStat * 1.7, d.flex * 1.6, far * 0.16} {
		try(&near, x)
	}
	d.xmin, d.xmax = -near, far
}

// foundFrom is where the line found begins: at the coupling, or at the flex plane of the stationary side.
func (d *coupling) foundFrom() float64 {
	if known(d.flex) {
		return -d.flex
	}
	return 0
}

// perPlane is a number in the plane drawn.
//
//go:noinline
func perPlane(v, h float64, horizontal bool) float64 {
	if horizontal {
		return h
	}
	return v
}

//go:noinline
func at(l *calc.Line, x float64, horizontal bool) float64 {
	v, h := l.At(x)
	return perPlane(v, h, horizontal)
}

func band(c *calc.Cov, x float64, horizontal bool) float64 {
	v, h := c.At(x)
	return 2 * perPlane(v, h, horizontal)
}

// hasWanted says whether there is a wanted line.
func (d *coupling) hasWanted() bool {
	w := &d.r.Wanted
	return known(w.DV) && known(w.DH) && known(w.TV) && known(w.TH)
}

// scales settles both scales: along in steps of about an eighth, across in steps of 1, 2, 5, so that they seldom change while someone types.
func (d *coupling) scales(lines bool) {
	d.right = d.w - 62
	d.half = 80
	if d.w >= 560 {
		d.half = 95
	}
	room := (d.right - 14) / (d.xmax - d.xmin) // px a mm
	d.den = denominator(perMM / room)
	d.along = perMM / d.den
	d.x0 = 12 - d.xmin*d.along
	d.right = min(d.right, d.x(d.xmax)+10)
	most := 0.0
	try := func(v float64) {
		if v = math.Abs(v); known(v) && v > most {
			most = v
		}
	}
	c := &d.r.Calc
	if lines {
		for _, x := range [...]float64{d.foundFrom(), d.xmax} {
			for _, h := range [...]bool{false, true} {
				v := math.Abs(at(&c.Line, x, h)) + band(&c.Cov, x, h)
				if x <= 0 {
					v *= d.half / (d.half - hub - 2) // the hub stands around it
				}
				try(v)
				if d.hasWanted() {
					try(at(&d.r.Wanted, x, h))
				}
				if d.moves() && c.HasAfter {
					try(at(&c.After, x, h))
				}
			}
		}
	}
	for _, h := range [...]bool{false, true} {
		x, lim := d.limitAt()
		if lines && d.hasWanted() {
			try(math.Abs(at(&d.r.Wanted, x, h)) + lim)
			try(math.Abs(at(&d.r.Wanted, -x, h)) + lim)
		}
	}
	d.mag = 100
	if most > 0 {
		d.mag = min(ladder(d.half/(most*perMM)), 1000)
	}
	d.across = d.mag * perMM
}

// denominator is the least n not below want that a scale 1 : n is given with.
func denominator(want float64) float64 {
	e := math.Pow(10, math.Floor(math.Log10(want)))
	for _, k := range [...]float64{1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.6, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10, 12} {
		if k*e >= want*(1-1e-12) {
			return k * e
		}
	}
	return 1e12
}

// limitAt is the half height of the limit in mm and the station it holds at: the offset limit at the coupling centre; for a spacer coupling of
// length L the angle limit S, which is S·L across at either flex plane. NaN: none.
func (d *coupling) limitAt() (x, lim float64) {
	switch d.r.Coupling {
	case tables.Spacer:
		return d.flex, d.r.Limits.Slope * 2 * d.flex / 1000
	case tables.Universal:
		return 0, math.NaN()
	}
	return 0, d.r.Limits.Offset
}

//go:noinline
func (d *coupling) x(mm float64) float64 { return d.x0 + mm*d.along }

// scaleText words the scales.
func (d *coupling) scaleText() string {
	mark := func(v float64) string { return string(d.ev.AppendUnit(nil, v, units.None, -1)) }
	along := "1 : " + mark(d.den)
	if d.den < 1 {
		along = mark(math.Round(1e6/d.den)/1e6) + " : 1"
	}
	return words.DrawingScale.Say(along, mark(d.mag))
}

// scaleRow appends the scales in words and a bar to measure by.
func (d *coupling) scaleRow(y float64) float64 {
	s := d.scaleText()
	d.text(fontSoft, start, 10, y, d.w-20, s)
	u := job.QThickness.Unit(d.ev.ShowsInch())
	n := ladder(u.FromBase(56 / d.across))
	long := u.ToBase(n) * d.across
	label := words.DrawingAcross.Say(string(d.ev.AppendUnit(nil, n, units.None, -1)), d.lu)
	x := 22 + width(s, fontSoft)
	if x+long+8+width(label, fontSoft) > d.w-10 {
		x, y = 10, y+17
	}
	d.path(inkDim, false, x, y-8, x, y, x+long, y, x+long, y-8)
	d.text(fontSoft, start, x+long+6, y, 0, label)
	return y
}

// view appends one plane, from y down, and returns y below it.
func (d *coupling) view(y float64, head string, horizontal, lines bool) float64 {
	r, c := d.r, &d.r.Calc
	d.raw(`<g data-view="`)
	d.raw(map[bool]string{false: "side", true: "top"}[horizontal])
	d.raw(`">` + "\n")
	defer d.raw("</g>\n")
	y = d.wrapped(fontSub, 10, y, d.w-20, head)
	if lines {
		y = d.wrapped(fontSoft, 10, y, d.w-20, d.facts(horizontal))
	}
	stat := d.m.Stationary
	if stat == "" {
		stat = words.DrawingStationaryMachine.String()
	}
	y += 2
	d.text(fontSoft, start, 10, y, 0, words.DrawingStays.Say(within(stat, d.w*0.42-16)))
	d.text(fontSoft, end, d.w-10, y, 0, within(r.Name, d.w*0.58-16)+d.role())
	y0 := y + 8 + d.half
	top, bottom := y0-d.half, y0+d.half
	// What a test or a program needs to read the lines back: mm = (data-y0 − y) / (data-across · 96/25.4).
	d.raw("<g")
	d.attr(` data-across="`, d.mag)
	d.attr(` data-along="`, d.den)
	d.attr(` data-x0="`, d.x0)
	d.attr(` data-y0="`, y0)
	d.raw(">\n")
	defer d.raw("</g>\n")

	d.bodies(y0, top, bottom, horizontal, lines)
	d.limits(y0, top, bottom, horizontal, lines)
	sx := d.x(d.xmin)
	d.line(inkDatum, sx, y0, d.right, y0)
	names := []lineName{{words.DrawingDatum.String(), y0}}
	xe := d.xmax
	if lines {
		py := func(l *calc.Line, x float64) float64 { return y0 - at(l, x, horizontal)*d.across }
		from := d.foundFrom()
		// The uncertainty: an hyperbola around the line.
		var up, down []float64
		mark := func(x float64) {
			v, u := at(&c.Line, x, horizontal), band(&c.Cov, x, horizontal)
			up = append(up, d.x(x), y0-(v+u)*d.across)
			down = append(down, d.x(x), y0-(v-u)*d.across)
		}
		const steps = 12
		next := 0
		for i := 0; i <= steps; i++ {
			x := from + (xe-from)*float64(i)/steps
			for next < len(c.Feet) && c.Feet[next].Station < x {
				mark(c.Feet[next].Station)
				next++
			}
			mark(x)
		}
		for i := len(down) - 2; i >= 0; i -= 2 {
			up = append(up, down[i], down[i+1])
		}
		d.path(inkBand, true, up...)
		if d.hasWanted() {
			w := &r.Wanted
			d.path(inkWanted, false, d.x(from), py(w, from), d.x(xe), py(w, xe))
			names = append(names, lineName{words.DrawingWanted.String(), py(w, xe)})
		}
		if d.moves() && c.HasAfter {
			d.path(inkAfter, false, d.x(from), py(&c.After, from), d.x(xe), py(&c.After, xe))
			names = append(names, lineName{words.DrawingAfter.String(), py(&c.After, xe)})
		}
		if known(d.flex) {
			xs, xm := d.x(-d.flex), d.x(d.flex)
			ym := py(&c.Line, d.flex)
			d.path(inkSpool, false, xs, y0, xm, ym)
			d.line(inkBody, xs, y0-14, xs, y0+14)
			d.line(inkBody, xm, ym-14, xm, ym+14)
		}
		d.path(inkFound, false, d.x(from), py(&c.Line, from), d.x(xe), py(&c.Line, xe))
		names = append(names, lineName{words.DrawingFound.String(), py(&c.Line, xe)})
		for i := range c.Feet {
			f := &c.Feet[i]
			if !d.moves() {
				break
			}
			if a, b := py(&c.Line, f.Station), py(&r.Wanted, f.Station); math.Abs(a-b) > 4 {
				d.arrow(inkDo, inkDoHead, d.x(f.Station), a, d.x(f.Station), b, min(7, math.Abs(a-b)), false)
			}
		}
	}
	d.lineNames(names, d.x(xe), top, bottom)
	return d.feet(bottom, horizontal)
}

// A lineName is a word for a line and where that line ends.
type lineName struct {
	s string
	y float64
}

// lineNames appends the names of lines that end at xe, kept apart.
func (d *coupling) lineNames(names []lineName, xe, top, bottom float64) {
	for i := range names {
		for k := i; k > 0 && names[k].y < names[k-1].y; k-- {
			names[k], names[k-1] = names[k-1], names[k]
		}
	}
	ys, sizes := make([]float64, len(names)), make([]float64, len(names))
	for i := range names {
		ys[i], sizes[i] = names[i].y, 15
	}
	spread(ys, sizes, top-4, bottom+4)
	for i := range names {
		d.path(inkLead, false, max(xe, d.right-8), names[i].y, d.right+6, ys[i], d.right+10, ys[i])
		d.text(fontSoft, start, d.right+13, ys[i]+4, 0, names[i].s)
	}
}

// within cuts a name so that it and what is said of its machine have room.
func within(s string, room float64) string {
	if short := shorten(s, fontSoft, room-width(words.DrawingIsMovable.String(), fontSoft)); len(short) < len(s) {
		return short + "…"
	}
	return s
}

// bodies appends the outlines: both machines, the hubs, the planes of the readings, the feet and the base.
func (d *coupling) bodies(y0, top, bottom float64, horizontal, lines bool) {
	c := &d.r.Calc
	m := &d.m
	gap := 1.5 / d.along
	if known(d.flex) {
		gap = d.flex
	}
	reach := func(to float64) float64 { // where a hub ends
		if known(to) && to > gap {
			return to
		}
		return gap + max(0.05*d.xmax, 8/d.along)
	}
	hs, hm := reach(m.ToStat), reach(m.ToMov)
	if known(d.first) {
		hm = min(hm, max(gap+8/d.along, d.first))
	}
	d.rect(inkBody, d.x(-hs), y0-hub, (hs-gap)*d.along, 2*hub)
	var a, b float64
	if lines {
		a, b = -at(&c.Line, gap, horizontal)*d.across, -at(&c.Line, hm, horizontal)*d.across
	}
	d.path(inkBody, true, d.x(gap), y0+a-hub, d.x(hm), y0+b-hub, d.x(hm), y0+b+hub, d.x(gap), y0+a+hub)

	// The stationary machine goes on to the left, past a break line.
	sl, sr := d.x(d.xmin), d.x(-hs)-4
	if sr-sl > 8 {
		d.path(inkBody, false, sl, top+14, sr, top+14, sr, bottom-6, sl, bottom-6)
		d.path(inkLead, false, sl, top+10, sl, y0-8, sl-3, y0-4, sl+3, y0+4, sl, y0+8, sl, bottom-2)
	}
	// The movable machine over its feet.
	ml, mr := d.x(hm)+6, d.x(d.xmax)-2
	if known(d.first) {
		ml, mr = max(ml, d.x(d.first)-16), min(d.x(d.last)+16, d.right-2)
	}
	if mr > ml+8 {
		d.rect(inkBody, ml, top+6, mr-ml, bottom-top-12)
	}
	for i := range c.Feet {
		x := d.x(c.Feet[i].Station)
		d.rect(inkBody, x-8, bottom-6, 16, 6)
		if horizontal {
			d.rect(inkBody, x-8, top, 16, 6)
		}
	}
	if !horizontal && known(d.first) && len(d.r.Calc.BoltShims) == 0 {
		l, e := d.x(d.first)-22, min(d.x(d.last)+22, d.right)
		d.line(inkGround, l, bottom, e, bottom)
		var teeth []float64
		for x := l + 4; x < e; x += 8 {
			teeth = append(teeth, x, bottom, x-4, bottom+4)
		}
		d.segments(inkGround, teeth...)
	}
}

// limits appends the limit at the coupling and the fan of the slope limit about the wanted line.
func (d *coupling) limits(y0, top, bottom float64, horizontal, lines bool) {
	w := &d.r.Wanted
	if !lines || !d.hasWanted() {
		return
	}
	box := func(x, lim float64) {
		if known(lim) && lim > 0 {
			h := lim * d.across
			d.hatched(d.x(x)-5, y0-at(w, x, horizontal)*d.across-h, 10, 2*h)
		}
	}
	x, lim := d.limitAt()
	if known(x) {
		box(x, lim)
		if x != 0 {
			box(-x, lim)
		}
	}
	s := d.r.Limits.Slope
	if d.r.Coupling == tables.Spacer || !known(s) || !(s > 0) {
		return
	}
	// From the wanted place at the coupling, as far as the view goes.
	at0, slope := perPlane(w.DV, w.DH, horizontal), perPlane(w.TV, w.TH, horizontal)
	for _, k := range [...]float64{s, -s} {
		xe := d.xmax
		if rise := (slope + k) / 1000; rise != 0 {
			edge := math.Copysign(d.half/d.across, rise)
			xe = min(xe, max((edge-at0)/rise, 0))
		}
		d.path(inkFan, false, d.x(0), y0-at0*d.across, d.x(xe), y0-(at0+(slope+k)*xe/1000)*d.across)
	}
}

// facts words the line in one plane.
func (d *coupling) facts(horizontal bool) string {
	r := d.r
	o, uo := perPlane(r.Offset.V, r.Offset.H, horizontal), perPlane(r.Offset.UV, r.Offset.UH, horizontal)
	s, us := perPlane(r.Slope.V, r.Slope.H, horizontal), perPlane(r.Slope.UV, r.Slope.UH, horizontal)
	word := func(v float64, up, down words.Key) string {
		switch {
		case horizontal:
			return words.DrawingGoesTowards.Say(d.ev.SideName(r, v))
		case v < 0:
			return down.String()
		}
		return up.String()
	}
	pm := func(v, u float64, f func([]byte, float64) []byte) string {
		return d.str(f, math.Abs(v)) + " ± " + d.str(f, u)
	}
	t := words.DrawingFoundLine.Say(pm(o, uo, d.ev.AppendThickness), d.lu, word(o, words.DrawingHigh, words.DrawingLow), pm(s, us, d.ev.AppendSlope), d.su,
		word(s, words.DrawingRising, words.DrawingFalling))
	if f := &r.Calc.Found; r.Coupling == tables.Spacer && !math.IsNaN(f.FlexS.Total) {
		t = words.DrawingFoundAngles.Say(d.str(d.ev.AppendSlope, perPlane(f.FlexS.V, f.FlexS.H, horizontal)), d.slope(perPlane(f.FlexM.V, f.FlexM.H, horizontal)))
	}
	return t
}

// moves says whether the machine is to be moved: one that is inside its limit stays, and no line after is drawn for it.
func (d *coupling) moves() bool { return d.r.Verdict != calc.Inside }

// role is said behind the name of the movable machine.
func (d *coupling) role() string {
	if d.moves() {
		return words.DrawingMoves.String()
	}
	return words.DrawingIsMovable.String()
}

// footLines words what to do at pair k in one plane, the first line being its name.
func (d *coupling) footLines(k int, horizontal bool) []string {
	r := d.r
	f := &r.Calc.Feet[k]
	lines := []string{words.DrawingFeetOf.Say(d.ev.FootWord(r, k)), "", ""}[:1]
	if w := lines[0]; k != r.Front && k != r.Rear && len(r.Further) > 1 {
		lines[0] = strings.TrimSuffix(w, words.DrawingFeetWord.String())
	}
	if !d.moves() {
		lines = append(lines, words.DrawingStaysThere.String())
		if !horizontal && r.Feet != nil && r.Feet.Covers(k) && slices.ContainsFunc(r.Feet.Feet, func(f evaluate.Foot) bool { return f.Soft > 0 }) {
			lines = append(lines, words.DrawingPacksSeeFeet.String())
		}
		return lines
	}
	if horizontal {
		if math.IsNaN(f.Move) {
			return lines
		}
		move := f.Move
		if !math.IsNaN(f.MoveRounded) {
			move = f.MoveRounded
		}
		if d.ev.ShownZero(move) || !evaluate.Pushes(f) {
			lines = append(lines, words.DrawingLeave.String())
		} else {
			lines = append(lines, words.DrawingPush.Say(d.shim(math.Abs(move))), words.DrawingTowards.Say(d.ev.SideName(r, move)))
		}
		return append(lines, words.DrawingFrom.Say(d.str(d.ev.AppendThickness, math.Abs(f.Move)), d.thick(f.UMove)))
	}
	switch {
	case math.IsNaN(f.Shim):
		return lines
	case r.Feet != nil && r.Feet.Covers(k): // what lies there and the soft foot differ from foot to foot
		return append(lines, word(f.Shim, words.DrawingRaise, words.DrawingLower)+d.str(d.ev.AppendThickness, math.Abs(f.Shim))+" ± "+d.thick(f.UShim),
			words.DrawingPacksSeeFeet.String())
	case math.IsNaN(f.Rounded):
		word := words.DrawingAddWord.String()
		if f.Shim < 0 {
			word = words.DrawingTakeOutWord.String()
		}
		return append(lines, word+d.shim(math.Abs(f.Shim)), "± "+d.shim(f.UShim))
	}
	return append(d.pairLines(lines, k), words.DrawingFrom.Say(d.str(d.ev.AppendThickness, math.Abs(f.Shim)), d.thick(f.UShim)))
}

// pairLines words the packs of the feet of pair k: once, or foot by foot where they differ.
func (d *coupling) pairLines(lines []string, k int) []string {
	packs, alike := d.ev.PairPacks(d.r, k)
	if !alike {
		for _, p := range packs {
			lines = append(lines, p.Foot+": "+d.ev.PickDo(p))
		}
	} else {
		lines = d.packLines(lines, packs[0])
	}
	if len(packs) > 0 && packs[0].Together {
		lines = append(lines, words.DrawingChosenTogether.String())
	}
	return lines
}

// packLines words what is done alike under each foot of a pair.
func (d *coupling) packLines(lines []string, p *evaluate.Picked) []string {
	amount := d.str(d.ev.AppendPack, p.Sum) + " " + d.pu
	switch {
	case len(p.Pieces) == 0:
		return append(lines, words.DrawingLeave.String())
	case p.Change.Status == packs.ChangeUnlisted:
		return append(lines, words.DrawingTakeOut.Say(amount))
	}
	lines = append(lines, words.DrawingAdd.Say(amount))
	if len(p.Pieces) > 1 {
		d.tmp = d.ev.AppendPieces(d.tmp[:0], p.Pieces)
		lines = append(lines, string(d.tmp))
	}
	if p.Status.Short() {
		lines = append(lines, p.Status.String())
	}
	return lines
}

// feet appends what to do under a view whose bottom is at y. Labels that do not fit side by side become numbers with a list.
func (d *coupling) feet(y float64, horizontal bool) float64 {
	feet := d.r.Calc.Feet
	if len(feet) == 0 {
		return y + 8
	}
	ats, labels := make([]float64, len(feet)), make([][]string, len(feet))
	for k := range feet {
		ats[k], labels[k] = d.x(feet[k].Station), d.footLines(k, horizontal)
	}
	return d.labels(y, ats, labels)
}

// labels appends lines of words below y for places at, px, rising. Labels that do not fit side by side become numbers with a list.
func (d *coupling) labels(y float64, at []float64, labels [][]string) float64 {
	ats, sizes := append([]float64(nil), at...), make([]float64, len(at))
	most := d.w/2 - 24
	for k, l := range labels {
		w := 0.0
		for i, s := range l {
			w = max(w, width(s, lineFont(i)))
		}
		sizes[k] = min(w, most) + 12
	}
	if spread(ats, sizes, 6, d.w-6) {
		rows := 0
		for k := range at {
			d.path(inkLead, false, at[k], y+1, at[k], y+8, ats[k], y+13)
			for i, s := range labels[k] {
				d.text(lineFont(i), middle, ats[k], y+25+15*float64(i), sizes[k]-12, s)
				rows = max(rows, i+1)
			}
		}
		return y + 25 + 15*float64(rows-1) + 4
	}
	last := math.Inf(-1)
	y += 14
	for k := range at {
		num := strconv.Itoa(k + 1)
		if at[k]-last > width(num, fontNum)+4 {
			d.text(fontNum, middle, at[k], y, 0, num)
			last = at[k]
		}
	}
	y += 4
	for k := range labels {
		s := strconv.Itoa(k+1) + "  "
		for i, l := range labels[k] {
			switch {
			case i == 1:
				s += ": "
			case i > 1:
				s += ", "
			}
			s += l
		}
		y = d.wrapped(fontText, 10, y+16, d.w-20, s) - 16
	}
	return y + 4
}

// lineFont is the font of line i of a foot's label.
func lineFont(i int) font {
	if i == 1 {
		return fontNum
	}
	return fontSoft
}

// dims appends the distances along, in as many rows as they need.
func (d *coupling) dims(y float64) float64 {
	var list [][2]float64
	add := func(a, b float64) {
		if known(b-a) && b > a && len(list) < 24 {
			list = append(list, [2]float64{a, b})
		}
	}
	m := &d.m
	add(-m.ToStat, 0)
	add(0, m.ToMov)
	if d.r.Method == job.TwoRims {
		add(0, m.ToSecond)
	}
	add(-d.flex, d.flex)
	if fs := m.Input.FlangeStation; len(d.r.Calc.BoltShims) > 0 {
		add(0, fs)
	} else if known(d.first) {
		add(0, d.first)
		prev := d.first
		for i := range d.r.Calc.Feet {
			add(prev, d.r.Calc.Feet[i].Station)
			prev = d.r.Calc.Feet[i].Station
		}
		if len(d.r.Calc.Feet) == 0 {
			add(prev, d.last)
		}
	}
	return d.dimRows(y, list)
}

// dimRows appends distances from … to, mm, in as many rows below y as they need.
func (d *coupling) dimRows(y float64, pairs [][2]float64) float64 {
	if len(pairs) == 0 {
		return y
	}
	type dim struct {
		a, b   float64 // mm
		s      string
		row    int
		anchor int
		tx     float64
		t0, t1 float64 // px that the number takes
	}
	list := make([]dim, len(pairs))
	for i, p := range pairs {
		list[i] = dim{a: p[0], b: p[1], s: d.dist(p[1] - p[0])}
	}
	var rows []float64 // where each row is free from
	for i := range list {
		q := &list[i]
		if i == 0 {
			q.s += " " + d.du
		}
		a, b := d.x(q.a), d.x(q.b)
		w := width(q.s, fontSoft) + 4
		q.tx, q.anchor, q.t0 = (a+b)/2, middle, (a+b-w)/2
		if w > b-a { // outside, beyond whichever arrow has room
			q.tx, q.anchor, q.t0 = b+12, start, b+10
			if q.b <= 0 && a-w-10 > 4 || b+w+10 > d.w-4 {
				q.tx, q.anchor, q.t0 = a-12, end, a-10-w
			}
		}
		q.t1 = q.t0 + w
		for q.row < len(rows) && min(a, q.t0) < rows[q.row]-0.01 {
			q.row++
		}
		if q.row == len(rows) {
			rows = append(rows, 0)
		}
		rows[q.row] = max(b, q.t1)
	}
	rowY := func(row int) float64 { return y + 16 + 19*float64(row) }
	// A line from the drawing down to a dimension starts below whatever number stands in its way.
	drop := func(x float64, row int) {
		from := y
		for i := range list {
			if q := &list[i]; q.row < row && q.t0 <= x && x <= q.t1 {
				from = max(from, rowY(q.row)+3)
			}
		}
		d.line(inkLead, x, from, x, rowY(row)+3)
	}
	for i := range list {
		q := &list[i]
		a, b, ry := d.x(q.a), d.x(q.b), rowY(q.row)
		drop(a, q.row)
		drop(b, q.row)
		if b-a >= 16 {
			d.arrow(inkDim, inkDimTip, a, ry, b, ry, 7, true)
		} else { // the arrows point inwards from outside
			d.line(inkDim, a-10, ry, b+10, ry)
			d.tip(inkDimTip, a-10, ry, a, ry, 7)
			d.tip(inkDimTip, b+10, ry, b, ry, 7)
		}
		d.text(fontSoft, q.anchor, q.tx, ry-3, 0, q.s)
	}
	return rowY(len(rows)-1) + 6
}

// countedTowards is the side towards which bolts are counted from 12 o'clock: that of the row's own 3 o'clock.
func (d *coupling) countedTowards() string {
	if d.r.FromStationary {
		return d.sideName(-1)
	}
	return "3"
}

// boltCircle appends the flange seen along the shaft.
func (d *coupling) boltCircle(y float64) float64 {
	c := &d.r.Calc
	d.raw("<g data-view=\"flange\">\n")
	defer d.raw("</g>\n")
	y = d.wrapped(fontSub, 10, y, d.w-20, words.DrawingFlange.Say(d.sideName(1)))
	rad := min(d.w*0.2, 92)
	cx, cy := d.w/2, y+rad+28
	d.circle(inkDatum, cx, cy, rad)
	d.circle(inkBody, cx, cy, rad+12)
	d.circle(inkBody, cx, cy, rad*0.28)
	n := len(c.BoltShims)
	every := (n + 15) / 16
	for k := range n {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		if d.r.FromStationary {
			sin = -sin
		}
		d.circle(inkBody, cx+rad*sin, cy-rad*cos, min(5, 2.2*rad/float64(n)))
		if k%every != 0 {
			continue
		}
		s := strconv.Itoa(k + 1)
		switch {
		case !d.moves():
		case k < len(c.BoltPacks):
			s += ": " + d.str(d.ev.AppendPack, c.BoltPacks[k].Sum)
		default:
			s += ": " + d.str(d.ev.AppendShim, c.BoltShims[k])
		}
		anchor := start
		switch {
		case math.Abs(sin) < 0.15:
			anchor = middle
		case sin < 0:
			anchor = end
		}
		d.text(fontNum, anchor, cx+(rad+17)*sin, cy-(rad+23)*cos+4, 0, s)
	}
	l := math.Hypot(c.SlideV, c.SlideH)
	if l > 0 && known(l) && d.moves() {
		long := min(l*d.across, rad*0.75)
		if long > 4 {
			d.arrow(inkDo, inkDoHead, cx, cy, cx+c.SlideH/l*long, cy-c.SlideV/l*long, min(8, long), false)
		}
	}
	y = cy + rad + 48
	if !d.moves() {
		return d.wrapped(fontNum, 10, y, d.w-20, words.DrawingStaysThere.String()) - 12
	}
	word := words.DrawingClock12.String()
	if c.SlideV < 0 {
		word = words.DrawingClock6.String()
	}
	v, h, side := d.shim(math.Abs(c.SlideV)), d.shim(math.Abs(c.SlideH)), d.ev.SideName(d.r, c.SlideH)
	slide := words.DrawingSlideNot.String()
	switch upright, sideways := !d.ev.ShowsZero(c.SlideV, d.ev.Shim), !d.ev.ShowsZero(c.SlideH, d.ev.Shim); {
	case upright && sideways:
		slide = words.DrawingSlide.Say(v, word, h, side)
	case upright:
		slide = words.DrawingSlideOne.Say(v, word)
	case sideways:
		slide = words.DrawingSlideOne.Say(h, side)
	}
	y = d.wrapped(fontNum, 10, y, d.w-20, slide)
	s := words.DrawingBoltShims.Say(d.lu, d.countedTowards())
	if every > 1 {
		s += words.DrawingBoltsNamed.Say(n, every)
	}
	return d.wrapped(fontSoft, 10, y, d.w-20, s) - 12
}

// key appends what the lines mean.
func (d *coupling) key(y float64) float64 {
	var list []keyItem
	item := func(s string, draw func(x, y float64)) { list = append(list, keyItem{s, draw}) }
	stroke := d.swatch
	item(words.DrawingDatumStationary.String(), stroke(inkDatum))
	item(words.DrawingFound.String(), stroke(inkFound))
	item(words.DrawingUncertaintyFound.String(), func(x, y float64) { d.rect(inkBand, x, y-5, swatch, 10) })
	if d.hasWanted() {
		s := words.DrawingWanted.String()
		if d.r.Coupling == tables.Universal {
			s = words.DrawingWantedOffset.Say(d.thick(math.Hypot(d.r.Wanted.DV, d.r.Wanted.DH)))
		} else if w := &d.r.Wanted; w.DV != 0 || w.DH != 0 || w.TV != 0 || w.TH != 0 {
			s = words.DrawingWantedCold.String()
		}
		item(s, stroke(inkWanted))
	}
	if d.moves() && d.r.Calc.HasAfter {
		from, _ := d.ev.PacksFrom()
		item(words.DrawingAfterPacks.Say(from.Word().String(), d.r.AfterVerdict.String()), stroke(inkAfter))
	}
	x0, lim := d.limitAt()
	if d.hasWanted() && known(lim) {
		s := words.DrawingLimitOffset.Say(d.thick(lim))
		if x0 != 0 {
			s = words.DrawingLimitAngle.Say(d.slope(d.r.Limits.Slope))
		}
		item(s, func(x, y float64) { d.hatched(x+12, y-6, 10, 12) })
	}
	if s := d.r.Limits.Slope; d.hasWanted() && known(s) && d.r.Coupling != tables.Spacer {
		item(words.DrawingLimitSlope.Say(d.slope(s)), func(x, y float64) {
			d.path(inkFan, false, x+swatch, y-5, x, y, x+swatch, y+5)
		})
	}
	if d.moves() && len(d.r.Calc.Feet) > 0 {
		item(words.DrawingFromFoundToWanted.String(), func(x, y float64) { d.arrow(inkDo, inkDoHead, x+4, y, x+swatch-4, y, 7, false) })
	}
	return d.legend(y, list)
}

// A keyItem is a word of the key and what it stands for, drawn from a place to the right over swatch pixels.
type keyItem struct {
	s    string
	draw func(x, y float64)
}

const swatch = 34.0

// swatch draws a piece of a line for the key.
func (d *coupling) swatch(k ink) func(x, y float64) {
	return func(x, y float64) { d.line(k, x, y, x+swatch, y) }
}

// legend appends the items of a key, as many on a line as go.
func (d *coupling) legend(y float64, list []keyItem) float64 {
	d.raw("<g data-view=\"key\">\n")
	defer d.raw("</g>\n")
	x := 10.0
	for _, it := range list {
		w := swatch + 6 + width(it.s, fontSoft) + 14
		if x > 10 && x+w > d.w-6 {
			x, y = 10, y+18
		}
		it.draw(x, y-4)
		d.text(fontSoft, start, x+swatch+6, y, d.w-x-swatch-12, it.s)
		x += w
	}
	return y + 2
}

// missing names what the drawing lacks.
func (d *coupling) missing(lines bool) (list []string) {
	r := d.r
	if !lines {
		list = append(list, words.DrawingNoShaft.String())
	} else if !d.hasWanted() {
		list = append(list, words.DrawingNoWanted.String())
	}
	if len(r.Calc.Feet) == 0 && len(r.Calc.BoltShims) == 0 {
		if known(d.first) {
			list = append(list, words.DrawingNoDoing.String())
		} else {
			list = append(list, words.DrawingNoFeet.String())
		}
	}
	if r.Coupling == tables.Spacer && !known(d.flex) {
		list = append(list, words.DrawingNoSpool.String())
	}
	if r.Verdict == calc.NotJudged {
		why := string(d.ev.AppendWhy(nil, r))
		if why != "" {
			list = append(list, words.DrawingNotJudged.Say(why))
		}
	}
	return list
}

// describe words the whole drawing.
func (d *coupling) describe(row int) string {
	b := make([]byte, 0, 1024)
	for _, s := range d.ev.Sentences(row) {
		if s.Kind == sentences.SentenceCaution || s.Kind == sentences.SentenceHint {
			continue
		}
		b = append(append(b, s.Text...), ' ')
	}
	b = append(b, d.scaleText()...)
	return string(append(b, '.'))
}

package report

import (
	"math"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// GrowthFigure appends how row's supports grow from cold to running: a side view with the wanted line cold and the line hot, exaggerated by a
// stated scale, an arrow for each support, the parts that stand on each other at each support with height, coefficient and temperatures; a
// top view too if a support goes sideways.
//
// The datum is where the stationary shaft lies cold. x runs to the right from the coupling, as in [Machine]. For a row whose wanted line
// does not rest on growth the drawing says so.
func GrowthFigure(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	g := growthFig{coupling: d, g: d.r.Growth}
	if g.g == nil {
		return noCoupling(dst, d.pen, words.DrawingNoGrowth.String())
	}
	if !d.hasWanted() {
		return noCoupling(dst, d.pen, words.DrawingWantedNotKnown.String())
	}
	title := words.DrawingGrowth.Say(d.r.Name)
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	g.lines()
	g.stations()
	g.scale()
	y = d.scaleRow(y)
	y = g.view(y+20, false)
	if g.sideways() {
		y = g.view(y+22, true)
	}
	y = g.key(y + 20)
	said := g.words()
	for _, s := range said {
		y = d.wrapped(fontSoft, 10, y+16, d.w-20, s) - 16 + 1
	}
	return d.finish(dst, y+16, title, title+". "+strings.Join(append(ev.SayGrowth(row), g.where()...), " "))
}

// A growthFig is what the figure of one machine is made from. Lines are about the datum, mm and mm/m.
type growthFig struct {
	*coupling
	g *evaluate.Growth

	stat, hot calc.Line // the stationary and the movable shaft when running; cold they are zero and the wanted line
}

// lines settles both shafts when running.
func (g *growthFig) lines() {
	g.hot = g.r.Wanted
	if g.g.Measured {
		c := &g.g.Change
		g.hot = add(g.hot, *c)
		return
	}
	var mov, stat []evaluate.GrowthSupport
	for _, s := range g.g.Supports {
		if s.Movable {
			mov = append(mov, s)
		} else {
			stat = append(stat, s)
		}
	}
	g.hot = add(g.hot, through(mov))
	g.stat = through(stat)
}

func add(a, b calc.Line) calc.Line {
	return calc.Line{DV: a.DV + b.DV, TV: a.TV + b.TV, DH: a.DH + b.DH, TH: a.TH + b.TH}
}

// through is the line through what two supports grow by; zero for none.
func through(s []evaluate.GrowthSupport) calc.Line {
	if len(s) < 2 || s[0].Station == s[1].Station {
		return calc.Line{}
	}
	k := 1000 / (s[1].Station - s[0].Station)
	l := calc.Line{TV: (zeroed(s[1].V) - zeroed(s[0].V)) * k, TH: (zeroed(s[1].H) - zeroed(s[0].H)) * k}
	l.DV, l.DH = zeroed(s[0].V)-l.TV*s[0].Station/1000, zeroed(s[0].H)-l.TH*s[0].Station/1000
	return l
}

func zeroed(v float64) float64 {
	if math.IsNaN(v) {
		return 0
	}
	return v
}

// stations settles what is drawn along the shafts.
func (g *growthFig) stations() {
	g.coupling.stations()
	for i := range g.g.Supports {
		x := g.g.Supports[i].Station
		if known(x) {
			g.xmin, g.xmax = min(g.xmin, x*1.12), max(g.xmax, x*1.06)
		}
	}
}

// scale settles both scales.
func (g *growthFig) scale() {
	g.right = g.w - 62
	g.half = 62
	g.den = denominator(perMM * (g.xmax - g.xmin) / (g.right - 14))
	g.along = perMM / g.den
	g.x0 = 12 - g.xmin*g.along
	g.right = min(g.right, g.x(g.xmax)+10)
	most := 0.0
	for _, h := range [...]bool{false, true} {
		for _, p := range [...]struct {
			l *calc.Line
			x float64
		}{{&g.r.Wanted, 0}, {&g.r.Wanted, g.xmax}, {&g.hot, 0}, {&g.hot, g.xmax}, {&g.stat, 0}, {&g.stat, g.xmin}} {
			if v := math.Abs(at(p.l, p.x, h)); known(v) {
				most = max(most, v)
			}
		}
	}
	g.mag = 100
	if most > 0 {
		g.mag = min(ladder(g.half/(most*perMM)), 2000)
	}
	g.across = g.mag * perMM
}

// sideways says whether anything goes sideways.
func (g *growthFig) sideways() bool {
	for i := range g.g.Supports {
		if h := g.g.Supports[i].H; known(h) && h != 0 {
			return true
		}
	}
	w := &g.r.Wanted
	return w.DH != 0 || w.TH != 0
}

// view appends one plane, from y down.
func (g *growthFig) view(y float64, horizontal bool) float64 {
	head := words.DrawingSideView.Say(g.sideName(-1))
	name := "side"
	if horizontal {
		head, name = words.DrawingTopView.Say(g.sideName(1)), "top"
	}
	g.raw(`<g data-view="` + name + "\">\n")
	defer g.raw("</g>\n")
	y = g.wrapped(fontSub, 10, y, g.w-20, head)
	stat := g.m.Stationary
	if stat == "" {
		stat = words.DrawingStationaryMachine.String()
	}
	g.text(fontSoft, start, 10, y+2, 0, words.DrawingStays.Say(within(stat, g.w*0.42-16)))
	g.text(fontSoft, end, g.w-10, y+2, 0, within(g.r.Name, g.w*0.58-16)+g.role())
	high, low := 16.0, 16.0 // px above and below the datum
	reach := func(l *calc.Line, x float64) {
		v := at(l, x, horizontal) * g.across
		high, low = max(high, v+6), max(low, 8-v)
	}
	for _, x := range [...]float64{0, g.xmax} {
		reach(&g.r.Wanted, x)
		reach(&g.hot, x)
	}
	for _, x := range [...]float64{0, g.xmin} {
		reach(&g.stat, x)
	}
	low = max(low, 42-high) // room for the names of three lines
	y0 := y + 12 + high
	top, bottom := y0-high, y0+low
	g.raw("<g")
	g.attr(` data-across="`, g.mag)
	g.attr(` data-along="`, g.den)
	g.attr(` data-x0="`, g.x0)
	g.attr(` data-y0="`, y0)
	g.raw(">\n")
	py := func(l *calc.Line, x float64) float64 { return y0 - at(l, x, horizontal)*g.across }
	line := func(k ink, l *calc.Line, a, b float64) {
		g.path(k, false, g.x(a), py(l, a), g.x(b), py(l, b))
	}
	w := &g.r.Wanted
	g.line(inkDatum, g.x(g.xmin), y0, g.right, y0)
	g.line(inkBody, g.x(0), y0-10, g.x(0), y0+10) // the coupling
	if g.stat != (calc.Line{}) {
		line(inkAfter, &g.stat, g.xmin, 0)
	}
	line(inkWanted, w, 0, g.xmax)
	line(inkAfter, &g.hot, 0, g.xmax)
	for i := range g.g.Supports {
		s := &g.g.Supports[i]
		from, to := &calc.Line{}, &g.stat
		if s.Movable {
			from, to = w, &g.hot
		}
		a, b := py(from, s.Station), py(to, s.Station)
		g.line(inkLead, g.x(s.Station), a-5, g.x(s.Station), a+5)
		if math.Abs(a-b) > 4 {
			g.arrow(inkDo, inkDoHead, g.x(s.Station), a, g.x(s.Station), b, min(7, math.Abs(a-b)), false)
		}
	}
	g.lineNames([]lineName{{words.DrawingDatum.String(), y0}, {words.DrawingCold.String(), py(w, g.xmax)}, {words.DrawingRunning.String(), py(&g.hot, g.xmax)}},
		g.x(g.xmax), top, bottom)
	g.raw("</g>\n")
	if !horizontal {
		bottom = g.stacks(bottom + 16)
	}
	return g.supports(bottom, horizontal)
}

// stacks appends the parts of each support, on the ground and as high as they are by a scale of their own.
func (g *growthFig) stacks(y float64) float64 {
	most := 0.0
	for i := range g.g.Supports {
		most = max(most, g.height(i))
	}
	if !(most > 0) {
		return y
	}
	const high, wide = 78.0, 20.0
	ground := y + high
	g.raw("<g")
	g.attr(` data-parts="`, most/high)
	g.raw(">\n")
	defer g.raw("</g>\n")
	for i := range g.g.Supports {
		at, n := ground, 0
		x := g.x(g.g.Supports[i].Station)
		for _, p := range g.parts(i) {
			h := p.Height / most * high
			if !(h > 0) {
				continue
			}
			g.rect(inkBody, x-wide/2, at-h, wide, h)
			if h >= 13 && n < 26 {
				g.text(fontSoft, middle, x, at-h/2+4, 0, string(rune('a'+n)))
			}
			at -= h
			n++
		}
		if n > 0 {
			g.line(inkLead, x, y-8, x, at)
			g.line(inkGround, x-wide, ground, x+wide, ground)
			g.segments(inkGround, x-wide+4, ground, x-wide, ground+4, x-4, ground, x-8, ground+4, x+8, ground, x+4, ground+4, x+wide, ground, x+wide-4, ground+4)
		}
	}
	return ground + 6
}

// parts are the parts of a support that have a height and grow with it, from below.
func (g *growthFig) parts(support int) (list []*evaluate.GrowthPart) {
	for i := range g.g.Parts {
		p := &g.g.Parts[i]
		if p.SupportName() == g.g.Supports[support].Name && known(p.Height) && p.Side == 0 {
			list = append(list, p)
		}
	}
	return list
}

func (g *growthFig) height(support int) (sum float64) {
	for _, p := range g.parts(support) {
		sum += p.Height
	}
	return sum
}

// supports appends what each support does below y.
func (g *growthFig) supports(y float64, horizontal bool) float64 {
	var ats []float64
	var labels [][]string
	for _, i := range g.order() {
		s := &g.g.Supports[i]
		v, u := perPlane(s.V, s.H, horizontal), perPlane(s.UV, s.UH, horizontal)
		l := []string{s.Name}
		switch {
		case horizontal && (!known(v) || g.ev.ShownZero(v)):
			l = append(l, words.DrawingStaysThere.String())
		case horizontal:
			l = append(l, g.thick(math.Abs(v)), words.DrawingTowards.Say(g.ev.SideName(g.r, v)))
		case known(v) && v < 0:
			l = append(l, words.DrawingSinks.Say(g.thick(-v)))
		case known(v):
			l = append(l, words.DrawingGrowsUp.Say(g.thick(v)))
		}
		if known(u) && u > 0 {
			l = append(l, "± "+g.thick(u))
		}
		ats, labels = append(ats, g.x(s.Station)), append(labels, l)
	}
	if len(ats) == 0 {
		return y + 4
	}
	return g.labels(y, ats, labels)
}

// order is the supports from left to right.
func (g *growthFig) order() []int {
	var list []int
	for i := range g.g.Supports {
		list = append(list, i)
		for k := i; k > 0 && g.g.Supports[list[k]].Station < g.g.Supports[list[k-1]].Station; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
	return list
}

// words names the parts and says where the shafts lie when running.
func (g *growthFig) words() (list []string) {
	for _, i := range g.order() {
		n := 0
		for k := range g.g.Parts {
			p := &g.g.Parts[k]
			if p.SupportName() != g.g.Supports[i].Name {
				continue
			}
			s := g.g.Supports[i].Name + ", "
			if known(p.Height) && p.Height > 0 && p.Side == 0 {
				s = g.g.Supports[i].Name + " (" + string(rune('a'+min(n, 25))) + "), "
				n++
			}
			list = append(list, s+g.ev.GrowthPartWords(p))
		}
	}
	return append(list, g.where()...)
}

// where says how the shafts lie to each other when running, and where the movable one is to stand cold.
func (g *growthFig) where() (list []string) {
	w := &g.r.Wanted
	list = append(list, words.DrawingColdStand.Say(g.thick(math.Abs(w.DV)), word(w.DV, words.DrawingHigh, words.DrawingLow),
		word(w.TV, words.DrawingRise, words.DrawingFall), g.slope(math.Abs(w.TV))))
	if g.ev.ShownZero(g.hot.DV-g.stat.DV) && g.ev.ShownZero(g.hot.DH-g.stat.DH) && g.ev.ShownZero(g.hot.TV-g.stat.TV) && g.ev.ShownZero(g.hot.TH-g.stat.TH) {
		return append(list, words.DrawingRunningOneLine.String())
	}
	return append(list, words.DrawingRunningAsMaker.Say(g.thick(math.Abs(g.hot.DV-g.stat.DV)), word(g.hot.DV-g.stat.DV, words.DrawingHigh, words.DrawingLow)))
}

func word(v float64, up, down words.Key) string {
	if v < 0 {
		return down.String()
	}
	return up.String()
}

// key appends what the lines mean.
func (g *growthFig) key(y float64) float64 {
	list := []keyItem{
		{words.DrawingDatumCold.String(), g.swatch(inkDatum)},
		{words.DrawingWantedCold.String(), g.swatch(inkWanted)},
		{words.DrawingRunning.String(), g.swatch(inkAfter)},
	}
	if len(g.g.Supports) > 0 {
		list = append(list, keyItem{words.DrawingGrowthOfSupport.String(), func(x, y float64) { g.arrow(inkDo, inkDoHead, x+swatch/2, y+6, x+swatch/2, y-7, 7, false) }})
	}
	return g.legend(y, list) + 2
}

package report

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// FeetPlan appends the feet of row's machine as the Feet sheet has them, seen from above: where each foot stands, what was measured at it, the shim
// of the soft foot, the whole change with the alignment's, what to take out and put in; the diagonal a machine rocks on; for a sole that
// does not lie parallel a plan of the sole with its corner gaps and the stepped shims; and in words why the pattern is what it is, what else would
// do, how sure it is and the limit.
//
// x runs to the right from the coupling, 3 o'clock is up, as in the top view of [Machine]. Places that were not typed are drawn alike, and the
// drawing says so. For a row without feet on the Feet sheet the drawing says that.
func FeetPlan(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	head, reasons := ev.SoftReasons(row)
	gauges := ev.FootGauges(row)
	if len(gauges) == 0 {
		return noCoupling(dst, d.pen, words.DrawingNoFeetSheet.String())
	}
	f := feetPlan{coupling: d, feet: d.r.Feet.Feet, gauges: gauges, soft: &d.r.Feet.Soft}
	title := d.r.Name + ": " + head
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	y = d.wrapped(fontSoft, 10, y, d.w-20, words.DrawingFeetFromAbove.Say(d.sideName(1), d.sideName(-1)))
	f.places()
	y = f.plan(y)
	y = f.soles(y)
	reasons = append(reasons, f.packsFrom(row)...)
	for _, s := range append(reasons, f.assumed()...) {
		y = d.wrapped(fontText, 10, y+6, d.w-20, s) - 2
	}
	b := []byte(title + ".")
	for _, s := range reasons {
		b = append(append(b, ' '), s...)
	}
	for k := range f.feet {
		b = append(append(b, ' '), strings.Join(f.lines(k), ", ")...)
		b = append(b, '.')
	}
	return d.finish(dst, y+4, title, string(b))
}

// packsFrom says where the packs come from.
func (f *feetPlan) packsFrom(row int) (list []string) {
	for _, s := range f.ev.Sentences(row) {
		if s.Kind == sentences.SentencePacks {
			list = append(list, s.Text)
		}
	}
	return list
}

// A feetPlan is what the plan of one machine's feet is made from.
type feetPlan struct {
	*coupling
	feet   []evaluate.Foot
	gauges []calc.SoftFoot
	soft   *calc.SoftResult // Feet empty unless the soft foot was worked out

	xs, ys    []float64 // mm, where each foot is drawn
	noX, noY  bool      // not typed
	mid       float64   // mm across, in the middle of the drawing
	y0        float64   // px of it
	top, foot float64   // px of the uppermost and the lowest foot
}

// Half the size of the mark of a foot, px.
const footX, footY = 11.0, 8.0

// places settles where each foot is drawn, mm.
func (f *feetPlan) places() {
	n := len(f.feet)
	f.xs, f.ys = make([]float64, n), make([]float64, n)
	for k := range f.gauges {
		f.noX = f.noX || !known(f.gauges[k].Along)
		f.noY = f.noY || !known(f.gauges[k].Across)
	}
	for k := range f.gauges {
		end, side := f.ev.FootPlace(f.r, k)
		if f.xs[k] = f.gauges[k].Along; f.noX {
			f.xs[k] = 1000 * float64(max(end, 0))
		}
		if f.ys[k] = f.gauges[k].Across; f.noY {
			f.ys[k] = float64(side)
		}
	}
	if f.noY {
		half := 0.28 * max(slices.Max(f.xs)-slices.Min(f.xs), 1)
		for k := range f.ys {
			f.ys[k] *= half
		}
	}
	// Feet drawn at one place are set apart where nobody says where they stand.
	for k := range n {
		same := 0
		for j := range k {
			if f.xs[j] == f.xs[k] && f.ys[j] == f.ys[k] {
				same++
			}
		}
		if same > 0 && (f.noX || f.noY) {
			f.xs[k] += 0.12 * float64(same) * max(slices.Max(f.xs)-slices.Min(f.xs), 1)
		}
	}
	f.mid = (slices.Min(f.ys) + slices.Max(f.ys)) / 2
}

func (f *feetPlan) py(mm float64) float64 { return f.y0 - (mm-f.mid)*f.along }

// up says whether a foot has its words above the plan.
func (f *feetPlan) up(k int) bool { return f.ys[k] > f.mid }

// measured words what was measured at a foot, "" for nothing.
func (f *feetPlan) measured(k int) string {
	g := &f.gauges[k]
	var parts []string
	if c := &g.Corner; known(c[0]) {
		s := words.DrawingCornerGaps.String()
		if c[0] == c[1] && c[0] == c[2] && c[0] == c[3] {
			s = words.DrawingAllCornerGaps.Say(f.thick(c[0]))
		} else {
			low, high := min(c[0], c[1], c[2], c[3]), max(c[0], c[1], c[2], c[3])
			s += words.DrawingLowToHigh.Say(f.str(f.ev.AppendThickness, low), f.thick(high))
		}
		parts = append(parts, s)
	} else if known(g.Gap) {
		parts = append(parts, words.DrawingGap.Say(f.thick(g.Gap)))
	}
	if known(g.Rise) {
		parts = append(parts, words.DrawingRises.Say(f.thick(g.Rise)))
	}
	if known(g.RiseFreed) {
		parts = append(parts, words.DrawingFlangesOpen.Say(f.thick(g.RiseFreed)))
	}
	return strings.Join(parts, ", ")
}

// lines words a foot, its name first.
func (f *feetPlan) lines(k int) []string {
	o := &f.feet[k]
	list := []string{o.Name}
	if s := f.measured(k); s != "" {
		list = append(list, s)
	}
	if o.Soft > 0 {
		s := words.DrawingSoftFoot.String()
		if !f.soft.FromGaps {
			s += words.DrawingAbout.String()
		}
		list = append(list, s+f.str(f.ev.AppendAmount, o.Soft)+" "+f.lu)
	}
	if known(o.Align) && known(o.Wanted) {
		list = append(list, words.DrawingInAll.Say(signed(f.shim(o.Wanted), o.Wanted)))
	}
	do := f.ev.FootDo(o)
	if do != "" && o.HasStock {
		if c := do[0]; c >= '0' && c <= '9' {
			do = words.DrawingPutIn.Say(do)
		}
		list = append(list, do)
	}
	return list
}

func signed(s string, v float64) string {
	if v > 0 {
		return "+" + s
	}
	return s
}

// footFont is the font of line i of n of a foot: its name, and last what to do.
func footFont(i, n int) font {
	if i == 0 || i == n-1 && n > 2 {
		return fontNum
	}
	return fontSoft
}

// A footLabel is the words of a foot beside the plan.
type footLabel struct {
	k     int
	lines []string
	fonts []font
}

// beside breaks the words of one side's feet into lines of room px; nil if they have no room side by side.
func (f *feetPlan) beside(up bool) (list []footLabel, room float64) {
	for k := range f.feet {
		if f.up(k) == up {
			list = append(list, footLabel{k: k})
		}
	}
	for i := range list {
		for k := i; k > 0 && f.xs[list[k].k] < f.xs[list[k-1].k]; k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
	if len(list) == 0 {
		return nil, 0
	}
	if room = min((f.w-8)/float64(len(list))-12, 230); room < 110 {
		return nil, 0
	}
	for i := range list {
		l := &list[i]
		lines := f.lines(l.k)
		for j, s := range lines {
			face := footFont(j, len(lines))
			for n := 0; s != ""; n++ {
				part := fit(s, face, room)
				if n == 5 { // a name without end
					part = s
				}
				l.lines, l.fonts = append(l.lines, part), append(l.fonts, face)
				s = strings.TrimLeft(s[len(part):], " ")
			}
		}
	}
	return list, room
}

// write appends the words of one side below y, with a leader from each foot at edge, and returns y below them.
func (f *feetPlan) write(list []footLabel, room, y, edge float64, up bool) float64 {
	ats, sizes := make([]float64, len(list)), make([]float64, len(list))
	most := 0
	for i := range list {
		ats[i], sizes[i] = f.x(f.xs[list[i].k]), 12.0
		for j, s := range list[i].lines {
			sizes[i] = max(sizes[i], min(width(s, list[i].fonts[j]), room)+12)
		}
		most = max(most, len(list[i].lines))
	}
	spread(ats, sizes, 4, f.w-4)
	for i := range list {
		l := &list[i]
		x := f.x(f.xs[l.k])
		from := y + 12
		if up { // the words of a foot stand close above it
			from += 15 * float64(most-len(l.lines))
			f.path(inkLead, false, ats[i], from+15*float64(len(l.lines))-10, x, edge-8, x, edge)
		} else {
			f.path(inkLead, false, x, edge, x, edge+4, ats[i], y)
		}
		for j, s := range l.lines {
			f.text(l.fonts[j], middle, ats[i], from+15*float64(j), room, s)
		}
	}
	return y + 15*float64(most) + 2
}

// plan appends the plan with the words of its feet.
func (f *feetPlan) plan(y float64) float64 {
	lowX, highX := slices.Min(f.xs), slices.Max(f.xs)
	spanX, spanY := highX-lowX, slices.Max(f.ys)-slices.Min(f.ys)
	const left, right = 62.0, 102.0
	high := 150.0
	if f.w >= 560 {
		high = 190
	}
	want := perMM * 1e-6
	if spanX > 0 {
		want = max(want, perMM*spanX/(min(f.w, 900)-left-right))
	}
	if spanY > 0 {
		want = max(want, perMM*spanY/high)
	}
	f.den = denominator(want)
	f.along = perMM / f.den
	f.x0 = left + ((min(f.w, 900)-left-right)-spanX*f.along)/2 - lowX*f.along

	above, roomA := f.beside(true)
	below, roomB := f.beside(false)
	count := func(up bool) (n int) {
		for k := range f.feet {
			if f.up(k) == up {
				n++
			}
		}
		return n
	}
	list := above == nil && count(true) > 0 || below == nil && count(false) > 0
	if !f.noX && !f.noY {
		f.text(fontSoft, start, 10, y, f.w-20, f.planScale())
		y += 15
	}
	edge := y + 6
	if !list {
		most := 0
		for i := range above {
			most = max(most, len(above[i].lines))
		}
		edge = y + 15*float64(most) + 14
	}
	f.top = edge + footY
	f.y0 = f.top + spanY/2*f.along
	f.foot = f.top + spanY*f.along
	if !list && above != nil {
		f.write(above, roomA, y, edge, true)
	}
	f.raw("<g")
	f.attr(` data-scale="`, f.den)
	f.attr(` data-x0="`, f.x0)
	f.attr(` data-y0="`, f.y0)
	f.attr(` data-mid="`, f.mid)
	f.raw(">\n")
	f.outline(lowX, highX)
	f.rocking()
	for k := range f.feet {
		f.raw(`<g data-foot="`)
		f.n(float64(k))
		f.raw("\">\n")
		x, py := f.x(f.xs[k]), f.py(f.ys[k])
		off := slices.Contains(f.soft.Off, k)
		if off || k < len(f.soft.Feet) && f.soft.Feet[k].Angled {
			f.hatched(x-footX, py-footY, 2*footX, 2*footY)
		} else {
			f.rect(inkBody, x-footX, py-footY, 2*footX, 2*footY)
		}
		if list {
			num := strconv.Itoa(k + 1)
			ny := py - footY - 3
			if !f.up(k) {
				ny = py + footY + 12
			}
			f.text(fontNum, middle, x, ny, 0, num)
		}
		f.raw("</g>\n")
	}
	f.raw("</g>\n")
	y = f.foot + footY
	if list {
		y += 14
	}
	if !f.noX {
		var stations [][2]float64
		var at []float64 // as typed: feet that are set apart to be seen do not stand apart
		for k := range f.gauges {
			at = append(at, f.gauges[k].Along)
		}
		slices.Sort(at)
		at = slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(b-a) < 1 })
		for i := 1; i < len(at) && i < 12; i++ {
			stations = append(stations, [2]float64{at[i-1], at[i]})
		}
		y = f.dimRows(y, stations)
	}
	switch {
	case list:
		for k := range f.feet {
			lines := f.lines(k)
			s := strconv.Itoa(k+1) + "  " + lines[0]
			if len(lines) > 1 {
				s += ": " + strings.Join(lines[1:], "; ")
			}
			y = f.wrapped(fontText, 10, y+12, f.w-20, s) - 12
		}
	case below != nil:
		y = f.write(below, roomB, y+10, y, false)
	}
	return f.planKey(y + 20)
}

// planScale words the scale.
func (f *feetPlan) planScale() string {
	return words.DrawingFeetScale.Say(string(f.ev.AppendUnit(nil, f.den, units.None, -1)))
}

// outline appends the machine, its shaft with the coupling, and how far apart the feet stand across.
func (f *feetPlan) outline(lowX, highX float64) {
	l, r := f.x(lowX)-footX-6, f.x(highX)+footX+6
	if f.foot-f.top > 40 {
		f.rect(inkBody, l, f.top+footY+3, r-l, f.foot-f.top-2*footY-6)
	}
	if c := f.py(0); f.noY || c > f.top+6 && c < f.foot-6 {
		if f.noY {
			c = f.y0
		}
		f.line(inkDatum, 12, c, r+10, c)
		f.rect(inkBody, max(l-22, 14), c-9, 8, 18)
		f.rect(inkBody, max(l-32, 4), c-9, 8, 18)
	}
	if f.foot-f.top > 24 && !f.noY {
		x := r + 16
		f.line(inkLead, r-2, f.top, x+4, f.top)
		f.line(inkLead, r-2, f.foot, x+4, f.foot)
		f.arrow(inkDim, inkDimTip, x, f.top, x, f.foot, 7, true)
		f.text(fontSoft, start, x+5, f.y0+4, f.w-x-8, f.dist(slices.Max(f.ys)-slices.Min(f.ys))+" "+f.du)
	}
}

// inkRock is the line that a machine rocks about.
var inkRock = ink{"d-rock", strokeOnly + `"1.8" stroke-dasharray="14 4 2 4"`}

// rocking appends the diagonal that carries.
func (f *feetPlan) rocking() {
	if a, b := f.soft.Carrying[0], f.soft.Carrying[1]; f.rocks() {
		f.line(inkRock, f.x(f.xs[a]), f.py(f.ys[a]), f.x(f.xs[b]), f.py(f.ys[b]))
	}
}

func (f *feetPlan) rocks() bool {
	a, b := f.soft.Carrying[0], f.soft.Carrying[1]
	return f.soft.Pattern == calc.SoftRocking && a >= 0 && b >= 0 && a < len(f.feet) && b < len(f.feet)
}

// planKey appends what the lines and the hatching mean.
func (f *feetPlan) planKey(y float64) float64 {
	var list []keyItem
	if f.rocks() {
		list = append(list, keyItem{words.DrawingRocks.String(), f.swatch(inkRock)})
	}
	off, angled := len(f.soft.Off) > 0 && f.soft.Pattern != calc.SoftAngled, false
	for k := range f.soft.Feet {
		angled = angled || f.soft.Feet[k].Angled
	}
	word := ""
	switch {
	case off && angled:
		word = words.DrawingStandsOffOrSole.String()
	case off:
		word = words.DrawingStandsOff.String()
	case angled:
		word = words.DrawingSoleNotParallel.String()
	}
	if word != "" {
		list = append(list, keyItem{word, func(x, y float64) { f.hatched(x+8, y-6, 18, 12) }})
	}
	if len(list) == 0 {
		return y - 14
	}
	return f.legend(y, list) + 16
}

// assumed names what was not typed.
func (f *feetPlan) assumed() (list []string) {
	switch {
	case f.noX && f.noY:
		list = append(list, words.DrawingByNames.String())
	case f.noX:
		list = append(list, words.DrawingByNamesAlong.String())
	case f.noY:
		list = append(list, words.DrawingEvenAcross.String())
	}
	return list
}

// soles appends a plan of each sole that does not lie parallel to its base.
func (f *feetPlan) soles(y float64) float64 {
	for k := range f.soft.Feet {
		if k < len(f.gauges) && f.soft.Feet[k].Angled && known(f.gauges[k].Corner[0]) {
			y = f.sole(y+8, k)
		}
	}
	return y
}

// sole appends one: gaps at the corners, stepped shims from the open side, what they are in words.
func (f *feetPlan) sole(y float64, k int) float64 {
	g, s := &f.gauges[k], &f.soft.Feet[k]
	y = f.wrapped(fontSub, 10, y+12, f.w-20, words.DrawingSole.Say(f.feet[k].Name, f.lu))
	w, h := 90.0, 90.0
	if known(g.Length) && known(g.Width) {
		if q := min(max(g.Length/g.Width, 0.5), 2); q > 1 {
			h = w / q
		} else {
			w = h * q
		}
	}
	x0, y0 := 54.0, y+4
	f.raw(`<g data-sole="`)
	f.n(float64(k))
	f.raw("\">\n")
	for _, st := range s.Steps {
		xy := stepShape(s, st.Share)
		for i := 0; i < len(xy); i += 2 {
			xy[i], xy[i+1] = x0+xy[i]*w, y0+(1-xy[i+1])*h
		}
		f.path(inkBar, true, xy...)
	}
	f.rect(inkBody, x0, y0, w, h)
	f.raw("</g>\n")
	for i, c := range g.Corner {
		x, ty, anchor := x0-5, y0+9, end
		if i == calc.FreeSide3 || i == calc.FreeSide9 {
			x, anchor = x0+w+5, start
		}
		if i == calc.CouplingSide9 || i == calc.FreeSide9 {
			ty = y0 + h
		}
		f.text(fontNum, anchor, x, ty, 48, f.str(f.ev.AppendThickness, c))
	}
	tx := x0 + w + 56
	ty := y0 + 12
	if room := f.w - tx - 8; room >= 100 {
		for i, l := range f.soleWords(k) {
			ty = f.wrapped(soleFont(i, s), tx, ty, room, l)
		}
		return max(ty, y0+h+14)
	}
	ty = y0 + h + 18
	for i, l := range f.soleWords(k) {
		ty = f.wrapped(soleFont(i, s), 10, ty, f.w-20, l)
	}
	return ty
}

// soleFont is the font of line i beside a sole: what to put in, then the taper.
func soleFont(i int, s *calc.SoftFootResult) font {
	if n := len(s.Steps); i < n || s.Machine && i == n {
		return fontNum
	}
	return fontSoft
}

// soleWords says what goes under a sole.
func (f *feetPlan) soleWords(k int) []string {
	s := &f.soft.Feet[k]
	var list []string
	if s.Machine {
		list = append(list, words.DrawingTaperNeeded.String())
	}
	for i, st := range s.Steps {
		w := words.DrawingStep.Say(i+1, f.str(f.ev.AppendPack, st.Thickness), f.pu, int(math.Round(100*min(max(st.Share, 0), 1))), f.r.Opens(s.Open).String())
		list = append(list, s1(s.Machine && i == 0, "at best ")+w)
	}
	if known(s.SlopeAlong) && known(s.SlopeAcross) {
		list = append(list, words.DrawingTaper.Say(f.str(f.ev.AppendSlope, math.Abs(s.SlopeAlong)), f.slope(math.Abs(s.SlopeAcross))))
	}
	return list
}

func s1(yes bool, s string) string {
	if yes {
		return s
	}
	return ""
}

// stepShape is the part of a sole that a stepped shim covers: the corners of a polygon in the unit square, x and y in turn, x from the coupling edge
// (0) to the free edge, y from the 9 o'clock edge (0) to that at 3. Its share is of the way from the open edge or corner of s.
func stepShape(s *calc.SoftFootResult, share float64) []float64 {
	var a, c float64 // how the gap opens along and across, signed
	switch s.Open {
	case calc.FreeEdge:
		a = 1
	case calc.CouplingEdge:
		a = -1
	case calc.Edge3:
		c = 1
	case calc.Edge9:
		c = -1
	default:
		a, c = s.TaperAlong, s.TaperAcross
	}
	sum := math.Abs(a) + math.Abs(c)
	if !(sum > 0) || !known(sum) {
		return nil
	}
	open := func(x, y float64) float64 { // 1 at the open end, 0 opposite
		if a < 0 {
			x = 1 - x
		}
		if c < 0 {
			y = 1 - y
		}
		return (math.Abs(a)*x+math.Abs(c)*y)/sum - (1 - share)
	}
	var out []float64
	square := [...]float64{0, 0, 1, 0, 1, 1, 0, 1}
	for i := 0; i < 8; i += 2 {
		x, y, u, v := square[i], square[i+1], square[(i+2)%8], square[(i+3)%8]
		p, q := open(x, y), open(u, v)
		if p >= 0 {
			out = append(out, x, y)
		}
		if p < 0 != (q < 0) {
			t := p / (p - q)
			out = append(out, x+t*(u-x), y+t*(v-y))
		}
	}
	return out
}

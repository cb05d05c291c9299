package report

import (
	"math"
	"slices"
	"strconv"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/sorting"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// clip is the largest share of a limit that has a place on the axis of an overview.
const clip = 4.0

// farPast is said of a share that is a hundred times its limit and more.
const farPast = "> 9999 %"

// A share is one judged number over its limit, with its expanded uncertainty. NaN: there is none.
type share struct{ v, u float64 }

func shareOf(v *calc.Vector, limit float64) share {
	if !(limit > 0) || !known(limit) || math.IsNaN(v.Total) {
		return share{math.NaN(), math.NaN()}
	}
	return share{v.Total / limit, v.UTotal / limit}
}

// shares are the offset and the slope of a row over their limits.
func shares(r *evaluate.RowResult) (offset, slope share) {
	f, l := &r.Calc.Found, &r.Limits
	offset, slope = share{math.NaN(), math.NaN()}, share{math.NaN(), math.NaN()}
	switch r.Coupling {
	case tables.Spacer:
		slope = shareOf(&f.FlexS, l.Slope)
		if m := shareOf(&f.FlexM, l.Slope); !(slope.v >= m.v) {
			slope = m
		}
	case tables.Universal:
		slope = shareOf(&f.Slope, l.Slope)
	default:
		offset, slope = shareOf(&f.Offset, l.Offset), shareOf(&f.Slope, l.Slope)
	}
	return
}

// machinesOf is the rows that hold a coupling, of rows or (nil) of all.
func machinesOf(ev *sentences.Teller, rows []int) []int {
	var list []int
	take := func(i int) {
		if r := ev.Row(i); r != nil && r.Kind == evaluate.MachineRow {
			list = append(list, i)
		}
	}
	if rows == nil {
		for i := range ev.Len() {
			take(i)
		}
		return list
	}
	for _, i := range rows {
		take(i)
	}
	slices.Sort(list)
	return slices.Compact(list)
}

var verdictClass = [...]string{calc.NotJudged: "d-not", calc.Inside: "d-inside", calc.Outside: "d-outside", calc.TooClose: "d-close"}

func overview(dst []byte, ev *sentences.Teller, rows []int, opt Options) []byte {
	d := &coupling{pen: newPen(opt), ev: ev}
	list := machinesOf(ev, rows)
	var judged, rest []int
	most := 0.0
	for _, i := range list {
		r := ev.Row(i)
		if r.Verdict == calc.NotJudged || !known(r.Calc.Found.Share) {
			rest = append(rest, i)
			continue
		}
		judged = append(judged, i)
		most = max(most, r.Calc.Found.Share)
	}
	sorting.Stable(judged, func(a, b int) int {
		x, y := ev.Row(a).Calc.Found.Share, ev.Row(b).Calc.Found.Share
		switch {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	title := words.DrawingShares.Say(len(list))
	if len(list) == 1 {
		title = words.DrawingShareOne.String()
	}
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	if len(list) == 0 {
		return d.finish(dst, y, words.DrawingNoCouplings.String(), words.DrawingNoCouplingsToShow.String())
	}
	var count [4]int
	for _, i := range list {
		count[ev.Row(i).Verdict]++
	}
	desc := ""
	for _, v := range [...]calc.Verdict{calc.Outside, calc.TooClose, calc.Inside, calc.NotJudged} {
		if desc != "" {
			desc += ", "
		}
		desc += strconv.Itoa(count[v]) + " " + v.String()
	}
	desc += "."
	y = d.wrapped(fontSoft, 10, y, d.w-20, desc)

	// What the marks mean.
	x := 10.0
	item := func(s string, w float64, draw func(x, y float64)) {
		all := w + 6 + width(s, fontSoft) + 14
		if x > 10 && x+all > d.w-6 {
			x, y = 10, y+17
		}
		draw(x+w/2, y-4)
		d.text(fontSoft, start, x+w+6, y, 0, s)
		x += all
	}
	y += 3
	item(words.DrawingOffset.String(), 12, func(x, y float64) { d.circle(inkOffset, x, y, 4) })
	item(words.DrawingSlopeOrAngle.String(), 12, func(x, y float64) { d.diamond(x, y, 5) })
	item(words.DrawingUncertainty.String(), 24, func(x, y float64) { d.pm(x-12, x+12, y, 4) })
	y += 14

	dense := len(list) > 60
	f, high := font{"d-text", plain, false}, 22.0
	if dense {
		f, high = font{"d-text", 10, false}, 14
	}
	soft := font{"d-soft", f.size, false}
	behind := width(words.DrawingTooClose.String(), f) + 4
	names := min(d.w*0.32, 300)
	left, right := 10+names+12, d.w-10-behind-46
	narrow := d.w < 560 // then the name stands over its line
	if narrow {
		names, left, right = d.w-24-behind, 22, d.w-56
		if most >= 100 {
			right = d.w - width(farPast, soft) - 8
		}
		high += f.size + 3
	}
	top := clip
	for _, t := range [...]float64{1.5, 2, 3} {
		if most <= t {
			top = t
			break
		}
	}
	px := func(s float64) float64 { return left + (right-left)*s/top }
	axis := func(y, bottom float64) {
		for t := 0.0; t <= top+1e-9; t += 0.5 {
			w := strconv.Itoa(int(t*100+0.5)) + " %"
			if t == 1 {
				w = words.DrawingLimit.String()
				d.line(inkAxis, px(t), y+4, px(t), bottom)
			} else {
				d.line(inkGrid, px(t), y+4, px(t), bottom)
				if (px(0.5)-px(0) < 44 && math.Mod(t, 1) != 0) || (px(1)-px(0) < 44 && t > 0 && t < top) {
					continue
				}
			}
			d.text(soft, middle, px(t), y, 0, w)
		}
	}
	const block = 40 // lines between two axes
	for k, i := range judged {
		if k%block == 0 {
			if k > 0 {
				y += 8
			}
			n := min(block, len(judged)-k)
			y += 10
			bottom := y + 6 + float64(n)*high
			if narrow {
				bottom = y + 8 // the lines would run through the names
			}
			axis(y, bottom)
			y += 6
		}
		d.overviewRow(i, y, high, narrow, f, names, px, top)
		y += high
	}
	if len(rest) > 0 {
		y = d.wrapped(fontSub, 10, y+20, d.w-20, words.DrawingNotJudgedHead.String())
		y -= 12
		for _, i := range rest {
			r := ev.Row(i)
			why := string(ev.AppendWhy(nil, r))
			d.rowGroup(i, r, words.DrawingRowNotJudged.Say(r.Name, why), y, high)
			if narrow {
				d.text(f, start, 10, y+f.size, d.w-20, r.Name)
				d.text(soft, start, 22, y+f.size*2+2, d.w-32, why)
			} else {
				d.text(f, start, 10, y+high/2+f.size*0.35, names, r.Name)
				d.text(soft, start, left, y+high/2+f.size*0.35, d.w-left-10, why)
			}
			d.raw("</g>\n")
			y += high
		}
	}
	return d.finish(dst, y+10, title, desc)
}

// rowGroup begins the group of one row.
func (d *coupling) rowGroup(i int, r *evaluate.RowResult, label string, y, high float64) {
	d.raw(`<g class="d-row `)
	d.raw(verdictClass[r.Verdict])
	d.raw(`" data-row="`)
	d.b = strconv.AppendInt(d.b, int64(i), 10)
	d.raw(`" role="listitem" aria-label="`)
	d.words(label)
	d.raw(`"><title>`)
	d.words(label)
	d.raw("</title>\n")
	// The whole line takes the pointer.
	d.raw(`<rect class="d-hit" fill="none" stroke="none" pointer-events="all" x="0"`)
	d.attr(` y="`, y)
	d.attr(` width="`, d.w)
	d.attr(` height="`, high)
	d.raw("/>\n")
}

func (d *coupling) diamond(x, y, r float64) {
	d.path(inkSlope, true, x, y-r, x+r, y, x, y+r, x-r, y)
}

// pm appends a bar of uncertainty.
func (d *coupling) pm(a, b, y, cap float64) {
	d.segments(inkPM, a, y, b, y, a, y-cap, a, y+cap, b, y-cap, b, y+cap)
}

func (d *coupling) overviewRow(i int, y, high float64, narrow bool, f font, names float64, px func(float64) float64, top float64) {
	r := d.ev.Row(i)
	offset, slope := shares(r)
	pct := func(v float64) string { return string(d.ev.AppendUnit(nil, v, units.Percent, 0)) + " %" }
	label := r.Name + ": " + r.Verdict.String()
	if known(offset.v) {
		label += words.DrawingOffsetShare.Say(pct(offset.v))
	}
	if known(slope.v) {
		word := words.DrawingSlopeWord.String()
		if r.Coupling == tables.Spacer {
			word = words.DrawingAngleWord.String()
		}
		label += words.DrawingWordShare.Say(word, pct(slope.v))
	}
	d.rowGroup(i, r, label, y, high)
	line := high // the height the marks have
	if narrow {
		line -= f.size + 3
	}
	mid := y + high - line/2
	text := mid + f.size*0.35
	if narrow {
		text = y + f.size
		var ticks []float64
		for t := 0.0; t <= top+1e-9; t += 0.5 {
			if t != 1 {
				ticks = append(ticks, px(t), y+high-line+2, px(t), y+high)
			}
		}
		d.segments(inkGrid, ticks...)
		d.line(inkAxis, px(1), y+high-line+2, px(1), y+high)
	}
	size, cap := 4.2, 3.0
	if line < 20 {
		size, cap = 3, 2
	}
	d.text(f, start, 10, text, names, r.Name)
	d.line(inkGrid, px(0), mid, px(top), mid)
	shift := line * 0.16 // the two marks stand a little apart, so that neither hides the other
	past := 0.0
	draw := func(s share, dy float64, mark func(x, y float64)) {
		if !known(s.v) {
			return
		}
		yy := mid + dy
		if s.v > top {
			past = max(past, s.v)
			mark(px(top)-2*size, yy)
			d.arrow(inkPM, inkOffset, px(top)-size, yy, px(top)+4, yy, 4.5, false)
			return
		}
		if known(s.u) {
			d.pm(px(max(s.v-s.u, 0)), px(min(s.v+s.u, top)), yy, cap)
		}
		mark(px(s.v), yy)
	}
	draw(offset, -shift, func(x, y float64) { d.circle(inkOffset, x, y, size) })
	draw(slope, shift, func(x, y float64) { d.diamond(x, y, size*1.15) })
	if past > 0 {
		soft := font{"d-soft", min(f.size, small), false}
		n := pct(past)
		if past >= 100 {
			n = farPast
		}
		d.text(soft, start, px(top)+6, mid+soft.size*0.35, 0, n)
	}
	d.text(f, end, d.w-8, text, 0, r.Verdict.String())
	d.raw("</g>\n")
}

func histogram(dst []byte, ev *sentences.Teller, rows []int, opt Options) []byte {
	d := &coupling{pen: newPen(opt), ev: ev}
	u := job.QThickness.Unit(ev.ShowsInch())
	unit := u.String()
	var kinds [3][]float64 // in the job's unit
	most := 0.0
	add := func(k int, v float64) {
		if v = math.Abs(u.FromBase(v)); known(v) {
			kinds[k] = append(kinds[k], v)
			most = max(most, v)
		}
	}
	n := 0
	for _, i := range machinesOf(ev, rows) {
		r := ev.Row(i)
		front, rear := r.Foot(r.Front), r.Foot(r.Rear)
		if front == nil || rear == nil {
			continue
		}
		n++
		add(0, front.Shim)
		add(1, rear.Shim)
		add(2, front.Move)
		add(2, rear.Move)
	}
	title := words.DrawingCorrections.Say(n)
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	if n == 0 || !(most > 0) {
		y = d.wrapped(fontText, 10, y, d.w-20, words.DrawingNoCorrections.String())
		return d.finish(dst, y, title, words.DrawingNoCorrections.String())
	}
	// At most ten bins: the next step of 1, 2, 5 that does it.
	bin := ladder(most / 10)
	if bin < most/10*(1-1e-12) {
		for _, k := range [...]float64{2, 2.5, 5} {
			if t := ladder(most / 10 * k); t >= most/10*(1-1e-12) {
				bin = t
				break
			}
		}
	}
	bins := max(1, int(math.Ceil(most/bin-1e-9)))
	across := 1
	if d.w >= 700 {
		across = 3
	}
	cell := (d.w - 20) / float64(across)
	desc := ""
	const high = 90.0
	for k, name := range [...]string{words.DrawingFrontShims.String(), words.DrawingRearShims.String(), words.DrawingSidewaysMoves.String()} {
		x0 := 10 + cell*float64(k%across)
		yy := y + 6
		if across == 1 {
			y += high + 62
		}
		count := make([]int, bins)
		top := 1
		for _, v := range kinds[k] {
			b := min(int(math.Max(math.Ceil(v/bin-1e-9)-1, 0)), bins-1) // a value on an edge belongs to the bin below
			count[b]++
			top = max(top, count[b])
		}
		d.text(fontSub, start, x0, yy+8, cell-12, name)
		base := yy + 30 + high
		bw := (cell - 26) / float64(bins)
		desc += name + ":"
		for b, c := range count {
			x := x0 + 6 + bw*float64(b)
			h := high * float64(c) / float64(top)
			if c > 0 {
				d.rect(inkBar, x+1, base-h, bw-2, h)
				d.text(fontSoft, middle, x+bw/2, base-h-4, 0, strconv.Itoa(c))
			}
			edge := string(ev.AppendUnit(nil, math.Round(float64(b+1)*bin*1e9)/1e9, units.None, -1))
			if every := int(math.Ceil((width(edge, fontSoft) + 6) / bw)); (b+1)%every == 0 {
				d.line(inkAxis, x+bw, base, x+bw, base+4)
				d.text(fontSoft, middle, x+bw, base+16, 0, edge)
			}
			desc += words.DrawingUpTo.Say(edge, unit, c)
		}
		desc += " "
		d.line(inkAxis, x0+6, base, x0+6+bw*float64(bins), base)
		d.text(fontSoft, start, x0, base+16, 0, "0")
	}
	if across == 3 {
		y += high + 62
	}
	y = d.wrapped(fontSoft, 10, y+4, d.w-20, words.DrawingBins.Say(string(ev.AppendUnit(nil, bin, units.None, -1)), unit))
	return d.finish(dst, y, title, desc)
}

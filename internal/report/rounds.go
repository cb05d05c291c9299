package report

import (
	"math"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/words"
)

// Rounds appends how a machine came to where it stands: round by round, how high its front and rear feet stand above the wanted line and how far to the side of it, with the uncertainty (k = 2);
// where each should have come to by what was done, and how far it missed that. Below stand the share of the limit after each round, the misses in words, a foot that sprang
// back, and the rounds that were struck with their reason.
//
// For a machine with fewer than two rounds of readings the drawing says so.
func Rounds(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	var list []*evaluate.Round
	for k := range d.r.Rounds {
		if o := &d.r.Rounds[k]; o.Struck == "" && len(o.Stand) > 0 {
			list = append(list, o)
		}
	}
	if len(list) == 0 {
		return noCoupling(dst, d.pen, words.DrawingNoRounds.String())
	}
	title := d.r.Name + ": " + ev.RoundsHead(d.r)
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	p := roundsPlot{d, list}
	y = p.plane(y+4, words.DrawingFeetAbove.Say(d.lu), false)
	y = p.plane(y+8, words.DrawingFeetAside.Say(d.lu, d.sideName(1)), true)
	y = d.legend(y+12, []keyItem{
		{words.DrawingFrontFeet.String(), func(x, y float64) { d.circle(inkMark, x+swatch/2, y, 4) }},
		{words.DrawingRearFeet.String(), func(x, y float64) { p.diamond(x+swatch/2, y) }},
		{words.DrawingShouldHave.String(), func(x, y float64) { d.line(inkAfter, x, y+4, x+swatch, y-4) }},
		{words.DrawingMissedBy.String(), func(x, y float64) { d.line(inkOdd, x+swatch/2, y-6, x+swatch/2, y+6) }},
		{words.DrawingWanted.String(), d.swatch(inkWanted)},
	})
	said := ev.RoundsWords(row)
	y += 4
	desc := title + "."
	for _, s := range said {
		y = d.wrapped(fontText, 10, y+14, d.w-20, s) - 14
		desc += " " + s
	}
	return d.finish(dst, y+10, title, desc)
}

// A roundsPlot is one machine's rounds over each other.
type roundsPlot struct {
	*coupling
	list []*evaluate.Round
}

func (p *roundsPlot) diamond(x, y float64) {
	p.path(inkSlope, true, x, y-5, x+5, y, x, y+5, x-5, y)
}

// plane appends the plot of one plane below y.
func (p *roundsPlot) plane(y float64, head string, horizontal bool) float64 {
	d := p.coupling
	y = d.wrapped(fontSub, 10, y+8, d.w-20, head)
	most := 0.0
	value := func(v, h float64) float64 { return perPlane(v, h, horizontal) }
	for _, o := range p.list {
		for _, f := range o.Stand {
			most = max(most, math.Abs(value(f.V, f.H))+value(f.UV, f.UH))
			if m := value(f.PredictedV, f.PredictedH); known(m) {
				most = max(most, math.Abs(m))
			}
		}
	}
	if !(most > 0) || !known(most) {
		most = 0.1
	}
	const left, right, high = 56.0, 12.0, 120.0
	mid := y + high/2
	scale := (high/2 - 6) / most
	d.raw(`<g data-plane="` + map[bool]string{false: "V", true: "H"}[horizontal] + `"`)
	d.attr(` data-mid="`, mid)
	d.raw(">\n")
	u := job.QThickness.Unit(d.ev.ShowsInch())
	step := u.ToBase(ladder(u.FromBase(most) / 1.6))
	for k := -4; k <= 4; k++ {
		v := float64(k) * step
		if math.Abs(v) > most*1.02 {
			continue
		}
		ink := inkGrid
		if k == 0 {
			ink = inkWanted
		}
		d.line(ink, left, mid-v*scale, d.w-right, mid-v*scale)
		d.text(fontSoft, end, left-5, mid-v*scale+4, left-8, d.str(d.ev.AppendThickness, v))
	}
	d.line(inkAxis, left, y, left, y+high)
	room := (d.w - left - right) / float64(len(p.list))
	at := func(k, foot int) float64 { return left + (float64(k)+0.5)*room + float64(2*foot-1)*min(7, room/5) }
	for k, o := range p.list {
		for i, f := range o.Stand {
			x, py := at(k, i), mid-value(f.V, f.H)*scale
			if should := value(f.PredictedV, f.PredictedH); known(should) && k > 0 && i < len(p.list[k-1].Stand) {
				b := p.list[k-1].Stand[i]
				sy := mid - should*scale
				d.line(inkAfter, at(k-1, i), mid-value(b.V, b.H)*scale, x, sy)
				d.line(inkAfter, x-6, sy, x+6, sy)
				if math.Abs(sy-py) > 1 {
					d.line(inkOdd, x, sy, x, py)
				}
			}
			if e := value(f.UV, f.UH) * scale; e > 0.5 {
				d.line(inkPM, x, py-e, x, py+e)
			}
			if i == 0 {
				d.circle(inkMark, x, py, 4)
			} else {
				p.diamond(x, py)
			}
		}
	}
	d.raw("</g>\n")
	y += high + 14
	every := 1
	for room*float64(every) < 44 {
		every++
	}
	for k, o := range p.list {
		if k%every == 0 {
			d.text(fontSoft, middle, left+(float64(k)+0.5)*room, y, room*float64(every), o.Name)
		}
	}
	return y + 4
}

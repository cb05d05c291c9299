package report

import (
	"math"
	"strconv"
	"strings"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tally"
	"shimsheet/internal/words"
)

// Numbers appends the numbers of a shutdown as three plots, with those of earlier ones beside each other: the share of machines inside at the first attempt with what it lies between in the long
// run, how far feet missed by what they stand on (each a mark, and the mean where there are enough), and how well a crew's sweeps repeat. Lengths are in the units of ev's job.
func Numbers(dst []byte, ev *sentences.Teller, jobs []*tally.Job, opt Options) []byte {
	p := &numbersPlot{coupling: &coupling{pen: newPen(opt), ev: ev}, jobs: jobs}
	title := words.DrawingNumbers.String()
	if len(jobs) > 1 {
		title = words.DrawingNumbersOf.Say(len(jobs))
	}
	y := p.wrapped(fontHead, 10, 20, p.w-20, title)
	y = p.attempts(y)
	y = p.misses(y)
	y = p.repeats(y)
	return p.finish(dst, y+10, title, strings.Join(p.told, " "))
}

// A numbersPlot is the drawing of [Numbers].
type numbersPlot struct {
	*coupling
	jobs []*tally.Job
	told []string // the description
}

// A markRow is a line of a plot: its name, circles and diamonds along the axis, a bar, and what stands behind it in words.
type markRow struct {
	name, words       string
	circles, diamonds []float64
	low, high         float64 // the bar; NaN none
	means             [2]float64
}

// name is what a group is called, with its job where there are several.
func (p *numbersPlot) name(j *tally.Job, by, name string) string {
	switch {
	case by == "all":
		name = words.DrawingAll.String()
	case name == "":
		name = words.DrawingNotSaid.Say(by)
	}
	if len(p.jobs) > 1 {
		name += " · " + j.Name
	}
	return name
}

// rows appends a plot below y from lo to hi, with a line at every step that label words.
func (p *numbersPlot) rows(y float64, title string, lo, hi, step float64, label func(float64) string, list []markRow, key []keyItem) float64 {
	if len(list) == 0 {
		return y
	}
	y = p.wrapped(fontSub, 10, y+16, p.w-20, title)
	p.told = append(p.told, title+":")
	y = p.legend(y+4, key) + 4
	const high, room = 22.0, 96.0
	names := min(p.w*0.34, 300)
	left, right := 10+names+10, p.w-14-room
	px := func(v float64) float64 { return left + (right-left)*(v-lo)/(hi-lo) }
	y += 12
	bottom := y + 6 + high*float64(len(list))
	first, last := math.Ceil(lo/step-1e-9), math.Floor(hi/step+1e-9)
	every, wide := 1.0, max(width(label(first*step), fontSoft), width(label(last*step), fontSoft))+6
	for every*(px(step)-px(0)) < wide {
		every++
	}
	ends := every > max(-first, last) // one number tells no scale
	for k := first; k <= last; k++ {
		ink := inkGrid
		if k == 0 {
			ink = inkAxis
		}
		p.line(ink, px(k*step), y+4, px(k*step), bottom)
		if named := math.Mod(k, every) == 0; named && !ends || ends && (k == first || k == last) {
			p.text(fontSoft, middle, px(k*step), y, 0, label(k*step))
		}
	}
	y += 6
	for _, r := range list {
		mid := y + high/2
		p.text(fontText, start, 10, mid+4, names, r.name)
		if known(r.low) && known(r.high) {
			p.pm(px(r.low), px(r.high), mid, 4)
		}
		for _, v := range r.circles {
			p.circle(inkFound, px(v), mid, 4)
		}
		for _, v := range r.diamonds {
			p.diamond(px(v), mid, 5)
		}
		for k, m := range r.means {
			if known(m) {
				p.line([...]ink{inkFound, inkOdd}[k], px(m), mid-10, px(m), mid+10)
			}
		}
		p.text(fontNum, start, right+10, mid+4, room, r.words)
		p.told = append(p.told, r.name+": "+r.words+".")
		y += high
	}
	return bottom + 4
}

// noMark is a row without a bar and without means.
func noMark(name, said string) markRow {
	nan := math.NaN()
	return markRow{name: name, words: said, low: nan, high: nan, means: [2]float64{nan, nan}}
}

func (p *numbersPlot) attempts(y float64) float64 {
	var list []markRow
	add := func(name string, s tally.Share) {
		if s.Of == 0 {
			return
		}
		r := noMark(name, words.DrawingPartOf.Say(s.N, s.Of))
		if part, low, high := s.Part(); known(part) {
			r.circles, r.low, r.high = []float64{part}, low, high
		}
		list = append(list, r)
	}
	for _, j := range p.jobs {
		add(p.name(j, "all", ""), j.First)
	}
	for _, j := range p.jobs {
		for _, a := range j.Attempts {
			if a.By == "crew" {
				add(p.name(j, a.By, a.Name), a.First)
			}
		}
	}
	return p.rows(y, words.DrawingFirstAttempt.String(), 0, 1, 0.25, func(v float64) string { return strconv.Itoa(int(v*100+0.5)) + " %" }, list, []keyItem{
		{words.DrawingShare.String(), func(x, y float64) { p.circle(inkFound, x+swatch/2, y, 4) }},
		{words.DrawingShareInterval.String(), func(x, y float64) { p.pm(x, x+swatch, y, 4) }},
	})
}

// length words lengths on an axis with such a step.
func (p *numbersPlot) length(step float64) func(mm float64) string {
	u := job.QThickness.Unit(p.ev.ShowsInch())
	dec := int(max(0, math.Ceil(-math.Log10(u.FromBase(step))-1e-9)))
	return func(mm float64) string { return string(p.ev.AppendUnit(nil, mm, u, dec)) }
}

// scale is a round end of an axis and its step, for values up to most.
func (p *numbersPlot) scale(most float64) (end, step float64) {
	u := job.QThickness.Unit(p.ev.ShowsInch())
	if !(most > 0) {
		most = 0.05
	}
	step = u.ToBase(ladder(u.FromBase(most) / 1.9))
	return step * math.Ceil(most/step-1e-9), step
}

func (p *numbersPlot) misses(y float64) float64 {
	var list []markRow
	most := 0.0
	groups := map[string][]int{}
	var order []string
	var rows []markRow
	for _, j := range p.jobs {
		for _, m := range j.Misses {
			if m.By == "machine" {
				continue
			}
			r := noMark(p.name(j, m.By, m.Name), words.DrawingManyFeet.Say(m.V.N))
			if m.V.N >= tally.Few {
				r.means = [2]float64{m.V.Mean, m.H.Mean}
			}
			for _, v := range j.Moves {
				if m.By == "all" || strings.EqualFold(v.Base, m.Name) {
					r.circles, r.diamonds = append(r.circles, v.V), append(r.diamonds, v.H)
				}
			}
			most = max(most, m.V.Largest(), m.H.Largest())
			key := m.By + strings.ToLower(m.Name)
			if groups[key] == nil {
				order = append(order, key)
			}
			groups[key] = append(groups[key], len(rows))
			rows = append(rows, r)
		}
	}
	for _, key := range order {
		for _, k := range groups[key] {
			list = append(list, rows[k])
		}
	}
	end, step := p.scale(most)
	unit := job.QThickness.Unit(p.ev.ShowsInch()).String()
	return p.rows(y, words.DrawingMissed.Say(unit), -end, end, step, p.length(step), list, []keyItem{
		{words.DrawingUpIsRight.String(), func(x, y float64) { p.circle(inkFound, x+swatch/2, y, 4) }},
		{words.DrawingTowards3IsRight.String(), func(x, y float64) { p.diamond(x+swatch/2, y, 5) }},
		{words.DrawingMeanOfFive.String(), func(x, y float64) { p.line(inkFound, x+swatch/2, y-7, x+swatch/2, y+7) }},
	})
}

func (p *numbersPlot) repeats(y float64) float64 {
	var list []markRow
	most := 0.0
	for _, j := range p.jobs {
		for _, c := range j.Repeats {
			if c.Gauge || c.Repeats == 0 && c.Balances == 0 {
				continue
			}
			r := noMark(p.name(j, c.By, c.Name), words.DrawingBothCounts.Say(c.Repeats, c.Balances))
			if known(c.FromRepeats) {
				r.circles = []float64{c.FromRepeats}
				most = max(most, c.FromRepeats)
			}
			if known(c.FromBalance) {
				r.diamonds = []float64{c.FromBalance}
				most = max(most, c.FromBalance)
			}
			list = append(list, r)
		}
	}
	end, step := p.scale(most)
	unit := job.QThickness.Unit(p.ev.ShowsInch()).String()
	return p.rows(y, words.DrawingDialRepeats.Say(unit), 0, end, step, p.length(step), list, []keyItem{
		{words.DrawingReadAgain.String(), func(x, y float64) { p.circle(inkFound, x+swatch/2, y, 4) }},
		{words.DrawingTopAgainstLeft.String(), func(x, y float64) { p.diamond(x+swatch/2, y, 5) }},
	})
}

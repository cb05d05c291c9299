package report

import (
	"math"
	"strconv"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

func sweeps(dst []byte, ev *sentences.Teller, row int, opt Options) []byte {
	d, ok := newCoupling(ev, row, opt)
	if !ok {
		return noCoupling(dst, d.pen, words.DrawingNoCoupling.String())
	}
	r := d.r
	title := words.DrawingReadings.Say(r.Name)
	y := d.wrapped(fontHead, 10, 20, d.w-20, title)
	desc := ""
	if len(d.m.Input.Sweeps) == 0 {
		s := words.DrawingNoReadings.String()
		if why := string(ev.AppendWhy(nil, r)); r.Method == job.GivenLineMethod {
			s += words.DrawingLineGiven.String()
		} else if why != "" {
			s += why
		} else {
			s += words.DrawingThereAreNone.String()
		}
		y = d.wrapped(fontText, 10, y+4, d.w-20, s)
		return d.finish(dst, y, title, s)
	}
	for k := range d.m.Input.Sweeps {
		var said string
		y, said = d.sweep(y+8, k)
		desc += said + " "
	}
	for _, h := range r.Hints {
		y = d.wrapped(fontText, 10, y+6, d.w-20, h.String())
		desc += h.String() + ". "
	}
	return d.finish(dst, y+4, title, desc)
}

// turn brings a clock angle into 0 … 360; a full turn stays one, so that a repeated 12 stands at the right.
func turn(a float64) float64 {
	if a >= 0 && a <= 360 {
		return a
	}
	if a = math.Mod(a, 360); a < 0 {
		a += 360
	}
	return a
}

// clockName words an angle: a clock position where it is one.
func (d *coupling) clockName(a float64) string {
	switch a {
	case 0:
		return "12"
	case 90:
		return "3"
	case 180:
		return "6"
	case 270:
		return "9"
	case 360:
		return "12 again"
	}
	return string(d.ev.AppendUnit(nil, math.Round(a*10)/10, units.Degree, -1)) + "°"
}

// sweep appends the plot of one sweep and returns y below it and what it says in words.
func (d *coupling) sweep(y float64, k int) (float64, string) {
	s := &d.m.Input.Sweeps[k]
	n := len(s.Reading)
	name := ""
	if k < len(d.m.SweepOf) {
		name = d.m.SweepOf[k]
	}
	l := d.r.Calc.Line
	a, b, ok := s.Curve(&l)
	ok = ok && d.r.HasLine() && known(a) && known(b) && n > 0
	con := 0.0
	if ok {
		if con = s.Constant(a, b); !known(con) {
			ok = false
		}
	}
	curve := func(deg float64) float64 {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		return con + a*cos + b*sin
	}
	odd, off := -1, 0.0
	for i := range d.r.Findings {
		if f := &d.r.Findings[i]; f.Kind == calc.OddReading && f.Sweep == k {
			odd, off = f.Reading, f.By
			break
		}
	}
	sag := words.DrawingNoSagTaken.String()
	if s.SagAt6 != 0 {
		sag = words.DrawingSagTaken.Say(d.thick(s.SagAt6))
	}
	y = d.wrapped(fontSub, 10, y+10, d.w-20, name)
	y = d.wrapped(fontSoft, 10, y, d.w-20, words.DrawingSweepUnit.Say(d.lu, sag))

	lo, hi := math.Inf(1), math.Inf(-1)
	see := func(v float64) {
		if known(v) {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	far, worst := 0.0, -1
	for i := range n {
		v := s.Corrected(i)
		see(v)
		see(s.Reading[i])
		if ok {
			if e := math.Abs(v - curve(s.Angle[i])); e > far {
				far, worst = e, i
			}
		}
	}
	if ok {
		m := math.Hypot(a, b)
		see(con + m)
		see(con - m)
	}
	if !(hi >= lo) {
		return d.wrapped(fontText, 10, y, d.w-20, words.DrawingNoSuchReadings.String()), words.DrawingNoReadingsOf.Say(name)
	}
	u := job.QThickness.Unit(d.ev.ShowsInch())
	if hi-lo < u.ToBase(1e-3) {
		mid := (lo + hi) / 2
		lo, hi = mid-u.ToBase(5e-4), mid+u.ToBase(5e-4)
	}
	const high = 120.0
	left, right := 62.0, d.w-24
	top := y + 2
	step := ladder(u.FromBase((hi - lo) / 3))
	t0, t1 := math.Floor(u.FromBase(lo)/step), math.Ceil(u.FromBase(hi)/step)
	base, unit := u.ToBase(t0*step), high/(u.ToBase(t1*step)-u.ToBase(t0*step)) // px a mm
	px := func(deg float64) float64 { return left + (right-left)*deg/360 }
	py := func(v float64) float64 { return top + high - (v-base)*unit }

	d.raw(`<g data-sweep="` + strconv.Itoa(k) + `"`)
	d.attr(` data-left="`, left)
	d.attr(` data-right="`, right)
	d.raw(` data-zero="` + strconv.FormatFloat(py(0), 'g', -1, 64) + `" data-scale="` + strconv.FormatFloat(unit, 'g', -1, 64) + "\">\n")
	for t := t0; t <= t1 && t < t0+12; t++ {
		yy := py(u.ToBase(t * step))
		d.line(inkGrid, left, yy, right, yy)
		d.text(fontSoft, end, left-6, yy+4, left-8, string(d.ev.AppendUnit(nil, math.Round(t*step*1e9)/1e9, units.None, -1)))
	}
	const strip = 34.0
	zero := top + high + 14 + strip/2
	for q, w := range [...]string{"12", "3", "6", "9", "12"} {
		x := px(90 * float64(q))
		d.line(inkGrid, x, top, x, zero+strip/2)
		d.text(fontSoft, middle, x, zero+strip/2+14, 0, w)
	}
	d.line(inkAxis, left, top, left, top+high)
	if ok {
		const pieces = 72
		xy := make([]float64, 0, 2*pieces+2)
		for i := 0; i <= pieces; i++ {
			deg := 360 * float64(i) / pieces
			xy = append(xy, px(deg), py(curve(deg)))
		}
		d.path(inkCurve, false, xy...)
	}
	rs := 0.0 // px a mm of the residuals
	if ok {
		d.line(inkAxis, left, zero, right, zero)
		d.text(fontSoft, end, left-6, zero+4, 0, words.DrawingResidual.String())
		if far > 1e-9 {
			rs = ladder((strip/2-2)/(far*unit)) * unit
		}
	}
	for i := range n {
		v, x := s.Corrected(i), px(turn(s.Angle[i]))
		if !known(v) || !known(x) {
			continue
		}
		yy := py(v)
		if yr := py(s.Reading[i]); math.Abs(yr-yy) > 1.5 {
			d.line(inkRaw, x-4, yr, x+4, yr)
			d.line(inkRaw, x, yr-4, x, yr+4)
		}
		if i == odd {
			d.rect(inkOdd, x-5, yy-5, 10, 10)
		} else {
			d.circle(inkMark, x, yy, 3.2)
		}
		if rs > 0 {
			if e := v - curve(s.Angle[i]); math.Abs(e)*rs >= 0.3 {
				d.line(inkRes, x, zero, x, zero-e*rs)
			}
		}
	}
	d.raw("</g>\n")
	y = zero + strip/2 + 30
	said := words.DrawingSweepAbout.Say(name, n, sag)
	if ok {
		t := words.DrawingDots.String()
		if far > 1e-9 {
			t += words.DrawingLargestResidual.Say(d.thick(far), d.clockName(s.Angle[worst]), string(d.ev.AppendUnit(nil, math.Round(rs/unit*1e6)/1e6, units.None, -1)))
		} else {
			t += words.DrawingNoResiduals.String()
		}
		y = d.wrapped(fontSoft, 10, y, d.w-20, t+".")
		said += " " + t + "."
	} else {
		y = d.wrapped(fontText, 10, y, d.w-20, words.DrawingNoCurve.String())
		said += words.DrawingNoCurveShort.String()
	}
	if odd >= 0 && odd < n {
		t := words.DrawingOddReading.Say(d.clockName(s.Angle[odd]), d.thick(s.Reading[odd]), d.thick(math.Abs(off)))
		y = d.wrapped(fontNum, 10, y, d.w-20, t)
		said += " " + t + "."
	}
	return y, said
}

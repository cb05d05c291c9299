package report

import (
	"math"
	"strconv"
	"unicode/utf8"
)

// perMM is how many CSS pixels a millimetre of paper is: 96 to the inch.
const perMM = 96 / 25.4

// Letter sizes in pixels.
const (
	big   = 14.0
	plain = 12.0
	small = 11.0
)

// ink is how a class is drawn when no style sheet says otherwise.
type ink struct{ class, attrs string }

const (
	strokeOnly = ` fill="none" stroke="currentColor" stroke-width=`
	fillOnly   = ` fill="currentColor" stroke="none"`
)

var (
	inkBody   = ink{"d-body", strokeOnly + `"0.9"`}
	inkGround = ink{"d-ground", strokeOnly + `"0.7"`}
	inkDatum  = ink{"d-datum", strokeOnly + `"0.8" stroke-dasharray="18 3 2 3"`}
	inkWanted = ink{"d-wanted", strokeOnly + `"1.4" stroke-dasharray="7 4"`}
	inkFound  = ink{"d-found", strokeOnly + `"2.2"`}
	inkAfter  = ink{"d-after", strokeOnly + `"1.5" stroke-dasharray="12 3 2 3 2 3"`}
	inkBand   = ink{"d-band", ` fill="currentColor" fill-opacity="0.14" stroke="currentColor" stroke-width="0.5"`}
	inkLimit  = ink{"d-limit", strokeOnly + `"1"`}
	inkFan    = ink{"d-limit", strokeOnly + `"0.9" stroke-dasharray="1.5 3"`}
	inkSpool  = ink{"d-spool", strokeOnly + `"3"`}
	inkDo     = ink{"d-do", strokeOnly + `"1.6"`}
	inkDoHead = ink{"d-do", fillOnly}
	inkDim    = ink{"d-dim", strokeOnly + `"0.7"`}
	inkDimTip = ink{"d-dim", fillOnly}
	inkLead   = ink{"d-lead", strokeOnly + `"0.6"`}
	inkAxis   = ink{"d-axis", strokeOnly + `"0.9"`}
	inkGrid   = ink{"d-grid", strokeOnly + `"0.4" stroke-opacity="0.5"`}
	inkCurve  = ink{"d-curve", strokeOnly + `"1.4"`}
	inkMark   = ink{"d-mark", fillOnly}
	inkRaw    = ink{"d-raw", strokeOnly + `"0.9"`}
	inkOdd    = ink{"d-odd", strokeOnly + `"1.8"`}
	inkRes    = ink{"d-res", strokeOnly + `"1.6"`}
	inkBar    = ink{"d-bar", ` fill="currentColor" fill-opacity="0.18" stroke="currentColor" stroke-width="0.9"`}
	inkOffset = ink{"d-offset", fillOnly}
	inkSlope  = ink{"d-slope", ` fill="none" stroke="currentColor" stroke-width="1.5"`}
	inkPM     = ink{"d-pm", strokeOnly + `"1"`}
)

// A pen appends the inside of one drawing.
type pen struct {
	b      []byte
	w      float64 // of the drawing
	prefix string
	hatch  bool // the hatching is used
	opt    Options
}

func newPen(opt Options) *pen {
	p := &pen{b: make([]byte, 0, 16<<10), w: opt.Width, opt: opt}
	if !(p.w > 0) {
		p.w = 760
	}
	p.w = math.Round(min(max(p.w, 280), 2400))
	buf := make([]byte, 0, 16)
	for i := 0; i < len(opt.Prefix) && len(buf) < 40; i++ {
		if c := opt.Prefix[i]; c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' && len(buf) > 0 || c == '_' || c == '-' && len(buf) > 0 {
			buf = append(buf, c)
		}
	}
	if p.prefix = string(buf); p.prefix == "" {
		p.prefix = "d"
	}
	return p
}

// raw and other small functions are called in many places and not inlined, for the size of the page.
//
//go:noinline
func (p *pen) raw(s string) { p.b = append(p.b, s...) }

// n appends a coordinate: at most three digits behind the point, never anything but a number.
func (p *pen) n(v float64) { p.b = appendCoord(p.b, v) }

func appendCoord(b []byte, v float64) []byte {
	if !(math.Abs(v) < 1e6) { // nothing comes here: a drawing is not so large
		v = 0
	}
	v = math.Round(v * 1000)
	i := int64(v)
	if i < 0 {
		b = append(b, '-')
		i = -i
	}
	b = strconv.AppendInt(b, i/1000, 10)
	if f := i % 1000; f != 0 {
		b = append(b, '.', byte('0'+f/100))
		if f %= 100; f != 0 {
			b = append(b, byte('0'+f/10))
			if f %= 10; f != 0 {
				b = append(b, byte('0'+f))
			}
		}
	}
	return b
}

//go:noinline
func (p *pen) attr(name string, v float64) {
	p.raw(name)
	p.n(v)
	p.b = append(p.b, '"')
}

// appendEscaped appends a text for XML. What XML cannot hold becomes the replacement character.
func appendEscaped(b []byte, s string) []byte {
	for _, r := range s {
		switch {
		case r == '&':
			b = append(b, "&amp;"...)
		case r == '<':
			b = append(b, "&lt;"...)
		case r == '>':
			b = append(b, "&gt;"...)
		case r == '"':
			b = append(b, "&quot;"...)
		case r == '\t' || r == '\n' || r == '\r':
			b = append(b, ' ')
		case r < ' ' || r >= 0x7f && r < 0xa0 || r == 0xfffe || r == 0xffff || r >= 0xd800 && r < 0xe000 || isBidi(r):
			b = append(b, "\ufffd"...)
		default:
			b = utf8.AppendRune(b, r)
		}
	}
	return b
}

// isBidi finds the marks that turn the direction of what follows: a name must not reorder the words behind it.
func isBidi(r rune) bool { return r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 }

func (p *pen) words(s string) { p.b = appendEscaped(p.b, s) }

func (p *pen) ink(k ink) {
	p.raw(` class="`)
	p.raw(k.class)
	p.raw(`"`)
	p.raw(k.attrs)
}

//go:noinline
func (p *pen) line(k ink, x1, y1, x2, y2 float64) {
	p.raw("<line")
	p.ink(k)
	p.attr(` x1="`, x1)
	p.attr(` y1="`, y1)
	p.attr(` x2="`, x2)
	p.attr(` y2="`, y2)
	p.raw("/>\n")
}

func (p *pen) rect(k ink, x, y, w, h float64) {
	p.raw("<rect")
	p.ink(k)
	p.attr(` x="`, x)
	p.attr(` y="`, y)
	p.attr(` width="`, max(w, 0))
	p.attr(` height="`, max(h, 0))
	p.raw("/>\n")
}

func (p *pen) circle(k ink, x, y, r float64) {
	p.raw("<circle")
	p.ink(k)
	p.attr(` cx="`, x)
	p.attr(` cy="`, y)
	p.attr(` r="`, r)
	p.raw("/>\n")
}

// path appends a run of straight pieces, x and y in turn.
func (p *pen) path(k ink, closed bool, xy ...float64) {
	p.raw("<path")
	p.ink(k)
	p.raw(` d="`)
	for i := 0; i+1 < len(xy); i += 2 {
		if i == 0 {
			p.raw("M")
		} else {
			p.raw("L")
		}
		p.n(xy[i])
		p.raw(" ")
		p.n(xy[i+1])
	}
	if closed {
		p.raw("Z")
	}
	p.raw("\"/>\n")
}

// segments appends lines that share an ink as one path, four numbers each.
func (p *pen) segments(k ink, xy ...float64) {
	p.raw("<path")
	p.ink(k)
	p.raw(` d="`)
	for i := 0; i+3 < len(xy); i += 4 {
		p.raw("M")
		p.n(xy[i])
		p.raw(" ")
		p.n(xy[i+1])
		p.raw("L")
		p.n(xy[i+2])
		p.raw(" ")
		p.n(xy[i+3])
	}
	p.raw("\"/>\n")
}

// hatched appends a hatched rectangle with its outline.
func (p *pen) hatched(x, y, w, h float64) {
	p.hatch = true
	p.raw(`<rect class="d-hatch" fill="url(#`)
	p.raw(p.prefix)
	p.raw(`-hatch)" stroke="none"`)
	p.attr(` x="`, x)
	p.attr(` y="`, y)
	p.attr(` width="`, w)
	p.attr(` height="`, h)
	p.raw("/>\n")
	p.rect(inkLimit, x, y, w, h)
}

// arrow appends a line with a head at its end; both for a head at either end.
func (p *pen) arrow(k, head ink, x1, y1, x2, y2, size float64, both bool) {
	p.line(k, x1, y1, x2, y2)
	p.tip(head, x1, y1, x2, y2, size)
	if both {
		p.tip(head, x2, y2, x1, y1, size)
	}
}

// tip appends an arrowhead at x2, y2.
func (p *pen) tip(k ink, x1, y1, x2, y2, size float64) {
	l := math.Hypot(x2-x1, y2-y1)
	if !(l > 0) {
		return
	}
	ux, uy := (x2-x1)/l*size, (y2-y1)/l*size
	p.path(k, true, x2, y2, x2-ux-uy/3, y2-uy+ux/3, x2-ux+uy/3, y2-uy-ux/3)
}

// Anchors of a text.
const (
	start = iota
	middle
	end
)

// A font is a size with a weight.
type font struct {
	class string
	size  float64
	bold  bool
}

var (
	fontHead = font{"d-head", big, true}
	fontSub  = font{"d-head", plain, true}
	fontText = font{"d-text", plain, false}
	fontNum  = font{"d-num", plain, true}
	fontSoft = font{"d-soft", small, false}
)

// text appends a text on one line, shortened to room pixels if it is longer (0: not shortened); the whole of it is then in a title.
func (p *pen) text(f font, anchor int, x, y, room float64, s string) {
	if s == "" {
		return
	}
	p.raw(`<text class="`)
	p.raw(f.class)
	p.raw(`" fill="currentColor"`)
	p.attr(` font-size="`, f.size)
	if f.bold {
		p.raw(` font-weight="600"`)
	}
	switch anchor {
	case middle:
		p.raw(` text-anchor="middle"`)
	case end:
		p.raw(` text-anchor="end"`)
	}
	p.attr(` x="`, x)
	p.attr(` y="`, y)
	p.raw(">")
	if short := shorten(s, f, room); len(short) < len(s) {
		p.words(short)
		p.raw("…<title>")
		p.words(s)
		p.raw("</title>")
	} else {
		p.words(s)
	}
	p.raw("</text>\n")
}

// widths are the widths of the printing ASCII letters of a common sans-serif face, thousandths of the size (from memory); faces differ by
// a fifth, for which factor leaves room.
var widths = [95]uint16{278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
	556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
	1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
	333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584}

func runeWidth(r rune) float64 {
	switch {
	case r >= ' ' && r <= '~':
		return float64(widths[r-' ']) / 1000
	case r < 0x2000:
		return 0.65
	case r < 0x2100:
		return 0.7
	}
	return 1
}

// width estimates how wide a text is, in pixels: as wide as a wide face sets it.
//
//go:noinline
func width(s string, f font) float64 {
	w := 0.0
	for _, r := range s {
		w += runeWidth(r)
	}
	return w * f.factor()
}

func (f font) factor() float64 {
	if f.bold {
		return f.size * 1.28
	}
	return f.size * 1.18
}

// shorten cuts a text to room pixels with room for an ellipsis.
func shorten(s string, f font, room float64) string {
	if room <= 0 || width(s, f) <= room {
		return s
	}
	k := f.factor()
	w := 0.7 * k
	for i, r := range s {
		if w += runeWidth(r) * k; w > room {
			for i > 0 && s[i-1] == ' ' {
				i--
			}
			return s[:i]
		}
	}
	return s
}

// wrapped appends a text over as many lines as it takes, and returns y below it.
func (p *pen) wrapped(f font, x, y, room float64, s string) float64 {
	for s != "" {
		line := fit(s, f, room)
		p.text(f, start, x, y, room, line)
		y += f.size + 4
		s = s[len(line):]
		for s != "" && s[0] == ' ' {
			s = s[1:]
		}
	}
	return y
}

// fit returns the beginning of s that goes on one line, cut at a blank where there is one.
func fit(s string, f font, room float64) string {
	if width(s, f) <= room {
		return s
	}
	w, cut := 0.0, 0
	k := f.factor()
	for i, r := range s {
		if w += runeWidth(r) * k; w > room {
			if cut > 0 {
				return s[:cut]
			}
			if i == 0 {
				i = utf8.RuneLen(r)
				if r == utf8.RuneError {
					i = 1
				}
			}
			return s[:i]
		}
		if r == ' ' {
			cut = i
		}
	}
	return s
}

// finish appends the whole drawing, h pixels high, to dst.
func (p *pen) finish(dst []byte, h float64, title, desc string) []byte {
	h = math.Ceil(h)
	q := pen{b: dst}
	if p.opt.Standalone {
		q.raw(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	}
	q.raw(`<svg xmlns="http://www.w3.org/2000/svg" class="d-draw" role="img" aria-labelledby="`)
	q.raw(p.prefix)
	q.raw(`-title" aria-describedby="`)
	q.raw(p.prefix)
	q.raw(`-desc"`)
	q.attr(` width="`, p.w)
	q.attr(` height="`, h)
	q.attr(` viewBox="0 0 `, p.w)
	q.b = q.b[:len(q.b)-1]
	q.raw(" ")
	q.n(h)
	if p.opt.Standalone {
		q.raw(`" font-family="system-ui,&quot;Segoe UI&quot;,Roboto,&quot;Liberation Sans&quot;,Arial,sans-serif`)
	}
	q.raw(`" font-variant-numeric="tabular-nums"><title id="`)
	q.raw(p.prefix)
	q.raw(`-title">`)
	q.words(title)
	q.raw(`</title><desc id="`)
	q.raw(p.prefix)
	q.raw(`-desc">`)
	q.words(desc)
	q.raw("</desc>\n")
	if p.opt.Standalone {
		q.raw("<style>")
		q.words(CSS)
		q.raw("</style>\n")
		q.raw(`<rect class="d-paper" fill="#fff" stroke="none" x="0" y="0"`)
		q.attr(` width="`, p.w)
		q.attr(` height="`, h)
		q.raw("/>\n")
	}
	if p.hatch {
		q.raw(`<defs><pattern id="`)
		q.raw(p.prefix)
		q.raw(`-hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="5" stroke="currentColor" stroke-width="1.1"/></pattern></defs>` + "\n")
	}
	q.b = append(q.b, p.b...)
	q.raw("</svg>\n")
	return q.b
}

// ladder returns the largest step of 1, 2, 5 … that is not above x.
func ladder(x float64) float64 {
	if !(x > 0) || math.IsInf(x, 0) {
		return 1
	}
	e := math.Floor(math.Log10(x))
	for d := 1.0; d >= -1; d-- {
		t := math.Pow(10, math.Abs(e+d))
		for _, m := range [...]float64{5, 2, 1} {
			v := m * t
			if e+d < 0 {
				v = m / t
			}
			if v <= x*(1+1e-12) {
				return v
			}
		}
	}
	return math.Pow(10, e)
}

// spread moves sorted centres apart so that each has its size, within lo … hi. It returns false if they do not fit.
func spread(at, size []float64, lo, hi float64) bool {
	sum := 0.0
	for _, s := range size {
		sum += s
	}
	if sum > hi-lo {
		return false
	}
	edge := lo
	for i := range at {
		at[i] = max(at[i], edge+size[i]/2)
		edge = at[i] + size[i]/2
	}
	edge = hi
	for i := len(at) - 1; i >= 0; i-- {
		at[i] = min(at[i], edge-size[i]/2)
		edge = at[i] - size[i]/2
	}
	return true
}

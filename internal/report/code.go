package report

import (
	"errors"
	"math"
	"strconv"

	"shimsheet/internal/words"

	"rsc.io/qr/coding"
)

// Code appends the square code (ISO/IEC 18004) of a text, as a drawing that a camera reads: black on white whatever the theme, with the four modules of quiet around it that the standard asks for.
// It corrects up to a quarter of itself (level Q), for paper that was folded, copied and touched with gloves. title says what it is for.
//
// It fails for a text of more than some 1,600 bytes.
func Code(dst []byte, text, title string, opt Options) ([]byte, error) {
	size, black, err := codeModules(text)
	if err != nil {
		return dst, err
	}
	p := newPen(opt)
	const quiet = 4
	unit := p.w / float64(size+2*quiet)
	p.raw(`<rect class="d-paper" fill="#fff" stroke="none" x="0" y="0"`)
	p.attr(` width="`, p.w)
	p.attr(` height="`, p.w)
	p.raw("/>\n<path class=\"d-code\" fill=\"#000\" stroke=\"none\" shape-rendering=\"crispEdges\" d=\"")
	for y := range size {
		for x := 0; x < size; x++ {
			from := x
			for x < size && black(x, y) {
				x++
			}
			if x == from {
				continue
			}
			x0, x1, y0, y1 := float64(from+quiet)*unit, float64(x+quiet)*unit, float64(y+quiet)*unit, float64(y+1+quiet)*unit
			for k, v := range [...]float64{x0, y0, x1, y0, x1, y1, x0, y1} {
				switch {
				case k == 0:
					p.raw("M")
				case k%2 == 0:
					p.raw("L")
				default:
					p.raw(" ")
				}
				p.n(v)
			}
			p.raw("Z")
		}
	}
	p.raw("\"/>\n")
	return p.finish(dst, p.w, title, text), nil
}

// codeModules is the code of a text: how many modules it has along a side, and which are black. Of the eight masks that the standard offers the one with the least
// penalty for runs and blocks is taken.
func codeModules(text string) (size int, black func(x, y int) bool, err error) {
	enc := coding.String(text)
	var v coding.Version
	for v = coding.MinVersion; enc.Bits(v) > 8*v.DataBytes(coding.Q); v++ {
		if v == coding.MaxVersion {
			return 0, nil, errors.New(words.DrawingCodeTooLong.String())
		}
	}
	least := -1
	for mask := coding.Mask(0); mask < 8; mask++ {
		plan, err := coding.NewPlan(v, coding.Q, mask)
		if err != nil {
			return 0, nil, err
		}
		c, err := plan.Encode(enc)
		if err != nil {
			return 0, nil, err
		}
		if n := codePenalty(c.Size, c.Black); least < 0 || n < least {
			least, size, black = n, c.Size, c.Black
		}
	}
	return size, black, nil
}

// codePenalty counts what makes a code hard to read: runs of five modules and more of one colour, blocks of two by two, and what looks like a corner mark (the first three rules of
// ISO/IEC 18004). Without the third a reader took a run of data for a corner.
func codePenalty(size int, black func(x, y int) bool) (n int) {
	for _, turned := range [...]bool{false, true} {
		at := func(i, k int) bool {
			if turned {
				return black(i, k)
			}
			return black(k, i)
		}
		for i := range size {
			run, last := 0, 0 // last: the eleven modules before, a bit each
			for k := range size {
				if k > 0 && at(i, k) == at(i, k-1) {
					run++
				} else {
					run = 1
				}
				last = last << 1 & 0x7ff
				if at(i, k) {
					last |= 1
				}
				if k >= 10 && (last == 0b00001011101 || last == 0b10111010000) {
					n += 40
				}
				switch {
				case run == 5:
					n += 3
				case run > 5:
					n++
				}
			}
		}
	}
	for y := 1; y < size; y++ {
		for x := 1; x < size; x++ {
			if c := black(x, y); c == black(x-1, y) && c == black(x, y-1) && c == black(x-1, y-1) {
				n += 3
			}
		}
	}
	return n
}

func clockAt(dst []byte, angle float64, opt Options) []byte {
	p := newPen(opt)
	p.w = 280
	const c, r = 140.0, 84.0
	thick, hand := ink{"d-axis", strokeOnly + `"6"`}, ink{"d-do", strokeOnly + `"14"`}
	num := font{"d-head", 50, true}
	p.circle(thick, c, c, r)
	for k, s := range [...]string{"12", "3", "6", "9"} {
		sin, cos := math.Sincos(float64(k) * math.Pi / 2)
		p.line(thick, c+r*sin, c-r*cos, c+(r-14)*sin, c-(r-14)*cos)
		p.text(num, middle, c+(r+32)*sin, c-(r+32)*cos+18, 0, s)
	}
	sin, cos := math.Sincos(angle * math.Pi / 180)
	p.line(hand, c, c, c+(r-16)*sin, c-(r-16)*cos)
	p.circle(ink{"d-do", fillOnly}, c+(r-16)*sin, c-(r-16)*cos, 20)
	title := words.DrawingDialAt.Say(strconv.FormatFloat(angle, 'f', -1, 64))
	return p.finish(dst, 280, title, title)
}

package units

import (
	"math"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// A number may be typed as a sum: "=0.5*25.4", "=(0.35+0.33)/2", "=1/8 in". It takes numbers with the cell's decimal sign, + − × ÷ (also - * /), brackets, and a
// unit behind the whole. There are no names, functions or cells in it, so it always ends and means the same everywhere.

// mostBrackets is how deep brackets may stand in one another.
const mostBrackets = 40

// formula reads a text that begins with "=".
func (p *parser) formula() (Value, *Error) {
	start := p.pos
	p.pos++ // the "="
	x, err := p.sum(0)
	if err != nil {
		return Value{}, err
	}
	v := Value{Unit: p.def}
	if p.pos < p.end {
		if v.Unit, err = p.unit(); err != nil {
			return Value{}, err
		}
		v.Own = true
	} else if p.def == None && p.want != Number {
		return Value{}, p.fail(p.end, words.CauseNoUnit.String())
	}
	if v.Base = v.Unit.ToBase(x); !v.sound() {
		return Value{}, p.fail(start, words.CauseNoValue.String())
	}
	return v, nil
}

// sum is terms with + and − between them.
func (p *parser) sum(depth int) (float64, *Error) {
	x, err := p.product(depth)
	for err == nil {
		r, n := p.peek()
		if r != '+' && !isMinus(r) {
			break
		}
		p.pos += n
		var y float64
		if y, err = p.product(depth); r == '+' {
			x += y
		} else {
			x -= y
		}
	}
	return x, err
}

// product is factors with × and ÷ between them.
func (p *parser) product(depth int) (float64, *Error) {
	x, err := p.factor(depth)
	for err == nil {
		r, n := p.peek()
		times, over := r == '*' || r == '×' || r == '·', r == '/' || r == '÷'
		if !times && !over {
			break
		}
		at := p.pos
		p.pos += n
		var y float64
		if y, err = p.factor(depth); err != nil {
			break
		}
		if over && y == 0 {
			return 0, p.fail(at, words.CauseDividesByNothing.String())
		}
		if times {
			x *= y
		} else {
			x /= y
		}
	}
	return x, err
}

// factor is a number or a sum in brackets, with a sign or not. It leaves the place behind the blanks that follow.
func (p *parser) factor(depth int) (float64, *Error) {
	p.skipSpace()
	r, n := p.peek()
	switch {
	case (r == '+' || isMinus(r)) && depth < mostBrackets:
		p.pos += n
		x, err := p.factor(depth + 1)
		if isMinus(r) {
			x = -x
		}
		return x, err
	case r == '(' && depth < mostBrackets:
		p.pos += n
		x, err := p.sum(depth + 1)
		if err != nil {
			return 0, err
		}
		if r, n = p.peek(); r != ')' {
			return 0, p.fail(p.pos, words.CauseBracketOpen.String())
		}
		p.pos += n
		p.skipSpace()
		return x, nil
	}
	start := p.pos
	for p.pos < p.end && (p.text[p.pos]-'0' < 10 || p.text[p.pos] == '.' || p.text[p.pos] == ',') {
		p.pos++
	}
	if start == p.pos {
		if r == utf8.RuneError || p.pos == p.end {
			return 0, p.fail(p.pos, words.CauseNumberMissing.String())
		}
		return 0, p.fail(p.pos, words.CauseNumberWanted.Say(quote(string(r))))
	}
	v, err := Parse(p.text[start:p.pos], Number, None, p.mark)
	if err != nil || math.IsNaN(v.Base) {
		e := p.fail(start, words.CauseNumberUnclear.Say(quote(p.text[start:p.pos])))
		if err != nil {
			e.Hint = err.Hint
		}
		return 0, e
	}
	p.skipSpace()
	return v.Base, nil
}

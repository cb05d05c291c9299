package units

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// maxText is the longest text, in bytes, taken for a quantity.
const maxText = 200

// Parse reads one cell as a quantity of the kind want.
//
// The text is a number, and behind it a unit or none; a unit in the text beats def. def None, for a kind other than [Number],
// means that there is no default: a bare number is then an error. Taken are
//
//	-0.35   −0,35   +12   1.2e-3     decimals; any dash but the em dash is a minus; a space may follow the sign
//	1 234.5   1'234,5   1,234,567   groups of three between spaces, apostrophes, points or commas
//	10 1/8   10-1/8   10½   -1/8     fractions with whole numbers up to nine digits; alone, of the kinds that rules and drawings have:
//	                                 410/620 and, of speeds, any are refused: they could be two values
//	5 ft 3 in   1' 2 1/2"            feet and inches; the Unit of the Value is Inch
//
// Under mark [Either] a point standing alone is the decimal sign; a comma standing alone is too, unless what stands before and behind it
// could be groups (1,234), which is refused; under [Commas] so is a point (1.234). Under [Point] and [Comma] the other sign can only part groups.
// Neither 0x1F, 1_000, NaN nor Inf is a number here; no number is rounded to zero or to infinity in silence; a temperature below
// absolute zero and a slope of 90° or more are errors; a fraction without a unit is no slope (1/100 might mean 10 mm/m).
//
// Accuracy: decimals and fractions of up to 15 digits in all are converted with a single rounding, so that 12.5 mil is the
// float64 nearest to 0.3175; longer ones as [Unit.ToBase] says.
//
// An empty or blank text is an error with Msg "empty": only the caller knows what "not given" means. Parse panics if def is of
// another kind, which is the caller's doing; nothing in text makes it panic.
func Parse(text string, want Kind, def Unit, mark Decimal) (Value, *Error) {
	if def != None && defs[def].kind != want {
		panic(fmt.Sprintf("units: the default unit %v is not %v", def, want))
	}
	if v, ok := fast(text, want, def, mark); ok {
		return v, nil
	}
	p := parser{text: text, want: want, def: def, mark: mark}
	return p.parse()
}

// fast reads the plain case, [-]digits[sign digits][ unit as printed], as parse would, and leaves the rest and every doubt to it.
func fast(s string, want Kind, def Unit, mark Decimal) (v Value, ok bool) {
	i, neg := 0, false
	if strings.HasPrefix(s, "-") {
		i, neg = 1, true
	} else if strings.HasPrefix(s, "\u2212") {
		i, neg = len("\u2212"), true
	}
	var m int64
	start, comma := i, false
	digits, point := 0, -1
	for ; i < len(s); i++ {
		c := s[i]
		if c-'0' < 10 {
			m = m*10 + int64(c-'0')
			digits++
		} else if point < 0 && (c == '.' && mark != Comma || c == ',' && mark != Point) {
			point, comma = digits, c == ','
		} else {
			break
		}
	}
	if digits == 0 || digits > 15 || point == 0 {
		return v, false
	}
	if comma && digits == point || (comma && mark == Either || mark == Commas) && point >= 0 && digits-point == 3 && s[start] != '0' {
		return v, false
	}
	v.Unit = def
	if i < len(s) {
		if s[i] == ' ' {
			i++
		}
		if v.Unit, v.Own = unitWords[want][s[i:]]; !v.Own || s[i]-'0' < 10 || s[i] == '/' && m == 1 {
			return v, false // a unit that begins with a digit is told from a fraction there, and 1/min from a turn a minute
		}
	} else if def == None && want != Number {
		return v, false
	}
	q := int64(1)
	if point >= 0 {
		q = pow10[digits-point]
	}
	if neg {
		m = -m
	}
	v.Base = v.Unit.ratToBase(m, q)
	return v, v.sound()
}

var pow10 = [...]int64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// sound says whether the value exists in nature and as a float64.
func (v Value) sound() bool {
	if math.IsNaN(v.Base) || math.IsInf(v.Base, 0) {
		return false
	}
	// The slack takes in a reading at absolute zero that was rounded in another unit.
	return defs[v.Unit].kind != Temperature || v.Base >= -273.15-1e-9
}

// A parser reads one text. pos is where it stands.
type parser struct {
	text string
	end  int // without the blanks behind
	pos  int
	want Kind
	def  Unit
	mark Decimal
}

// amount is a number as read: p/q if exact, else v.
type amount struct {
	p, q     int64
	v        float64
	exact    bool
	whole    bool // plain digits
	fraction bool
}

func (p *parser) parse() (Value, *Error) {
	p.end = len(p.text)
	for p.end > 0 {
		r, n := utf8.DecodeLastRuneInString(p.text[:p.end])
		if !isSpace(r) {
			break
		}
		p.end -= n
	}
	p.skipSpace()
	if p.pos == p.end {
		return Value{}, &Error{p.text, 0, words.CauseEmpty.String(), p.examples()}
	}
	if len(p.text) > maxText {
		return Value{}, p.fail(p.pos, words.CauseTooLong.Say(maxText))
	}
	if p.text[p.pos] == '=' {
		return p.formula()
	}
	start := p.pos
	if _, unit := ParseUnit(p.text[p.pos:p.end], p.want); unit && p.want == Speed {
		return Value{}, p.fail(start, words.CauseUnitAlone.String()) // 1/min is one, and no single turn a minute
	}
	neg := false
	if r, n := p.peek(); isMinus(r) || r == '+' {
		neg = r != '+'
		p.pos += n
		p.skipSpace()
	}
	a, err := p.amount(neg)
	if err != nil {
		return Value{}, err
	}
	p.skipSpace()
	v := Value{Unit: p.def}
	switch {
	case p.pos == p.end:
		if p.def == None && p.want != Number {
			return Value{}, p.fail(p.end, words.CauseNoUnit.String())
		}
		if p.want == Slope && a.fraction {
			e := p.fail(start, words.CauseRatio.String())
			e.Hint = words.HintRatio.String()
			return Value{}, e
		}
	case p.want == Length && p.feet(&a):
		inches, err := p.inches()
		if err != nil {
			return Value{}, err
		}
		// Both are below 1e9 in number and 1e6 in denominator.
		a = amount{p: a.p*12*inches.q + inches.p, q: inches.q, exact: true}
		v.Unit, v.Own = Inch, true
	default:
		if v.Unit, err = p.unit(); err != nil {
			return Value{}, err
		}
		v.Own = true
	}
	if a.exact {
		if neg {
			a.p = -a.p
		}
		v.Base = v.Unit.ratToBase(a.p, a.q)
	} else {
		if neg {
			a.v = -a.v
		}
		v.Base = v.Unit.ToBase(a.v)
	}
	if zero := a.exact && a.p == 0; v.Base == 0 && !zero && defs[v.Unit].add == 0 {
		return Value{}, p.fail(start, words.CauseTooSmall.String())
	}
	if !v.sound() {
		switch {
		case defs[v.Unit].kind == Temperature && v.Base < 0 && !math.IsInf(v.Base, 0):
			return Value{}, p.fail(start, words.CauseAbsoluteZero.String())
		case defs[v.Unit].perDegree != 0:
			return Value{}, p.fail(start, words.CauseSlopeUpright.String())
		}
		return Value{}, p.fail(start, words.CauseTooLarge.String())
	}
	return v, nil
}

func (p *parser) peek() (rune, int) {
	if p.pos >= p.end {
		return -1, 0
	}
	return utf8.DecodeRuneInString(p.text[p.pos:p.end])
}

func (p *parser) skipSpace() {
	for {
		r, n := p.peek()
		if !isSpace(r) {
			return
		}
		p.pos += n
	}
}

// digits counts the ASCII digits from i on.
func (p *parser) digits(i int) int {
	n := 0
	for i+n < p.end && p.text[i+n]-'0' < 10 {
		n++
	}
	return n
}

// amount reads a number without its sign and leaves pos behind it. neg is for messages only.
func (p *parser) amount(neg bool) (amount, *Error) {
	if a, ok := p.vulgar(); ok {
		return a, nil
	}
	start := p.pos
	if n := p.digits(start); n > 0 {
		if p.slash(start+n) > 0 {
			a, err := p.fraction()
			if err == nil && (!isFraction(a.p, a.q) || p.want == Speed) {
				err = p.fail(start, words.CauseTwoNumbersBar.String())
				err.Hint = words.HintQuotient.String()
			}
			return a, err
		}
		if after, ok := p.joined(start + n); ok {
			whole, err := p.smallInt(n)
			if err != nil {
				return amount{}, err
			}
			p.pos = after
			a, ok := p.vulgar()
			if !ok {
				if a, err = p.fraction(); err != nil {
					return amount{}, err
				}
				if a.p >= a.q {
					return amount{}, p.fail(after, words.CauseFractionOverOne.String())
				}
			}
			a.p += whole * a.q
			return a, nil
		}
	}
	return p.decimal(neg)
}

// slash returns the length of a fraction bar with a digit behind it at i, or 0.
func (p *parser) slash(i int) int {
	if i < p.end {
		r, n := utf8.DecodeRuneInString(p.text[i:p.end])
		if (r == '/' || r == '⁄' || r == '∕') && p.digits(i+n) > 0 {
			return n
		}
	}
	return 0
}

// joined says whether a fraction follows the whole number that ends at i, behind blanks or a hyphen ("10 1/8", "10-1/8", "10½"),
// and where.
func (p *parser) joined(i int) (at int, ok bool) {
	q := *p
	q.pos = i
	q.skipSpace()
	r, n := q.peek()
	if q.pos == i && isMinus(r) && r != '\u2212' { // a true minus sign would mean 10 less 1/8
		q.pos += n
		r, _ = q.peek()
	}
	if _, den := vulgarFraction(r); den > 0 {
		return q.pos, true
	}
	d := q.digits(q.pos)
	return q.pos, d > 0 && q.slash(q.pos+d) > 0
}

// smallInt reads n digits at pos, at most nine.
func (p *parser) smallInt(n int) (int64, *Error) {
	if n > 9 {
		return 0, p.fail(p.pos, words.CauseFractionDigits.String())
	}
	v, _ := strconv.ParseInt(p.text[p.pos:p.pos+n], 10, 64)
	p.pos += n
	return v, nil
}

// fraction reads digits, bar, digits at pos.
func (p *parser) fraction() (a amount, err *Error) {
	if a.p, err = p.smallInt(p.digits(p.pos)); err != nil {
		return a, err
	}
	p.pos += p.slash(p.pos)
	at, n := p.pos, p.digits(p.pos)
	if n > 6 {
		return a, p.fail(at, words.CauseFractionBelow.String())
	}
	if a.q, err = p.smallInt(n); err != nil {
		return a, err
	}
	if a.q == 0 {
		return a, p.fail(at, words.CauseFractionZero.String())
	}
	if p.slash(p.pos) > 0 {
		return a, p.fail(p.pos, words.CauseFractionBars.String())
	}
	a.exact, a.fraction = true, true
	return a, nil
}

// isFraction says whether num over den is a fraction as rules and drawings have them: halves to 128ths of no more than four wholes, thirds, and tenths to
// ten-thousandths with at most two figures above the bar. 410/620, 0/5 or 1480/1500 are two values in one cell.
func isFraction(num, den int64) bool {
	switch den {
	case 2, 4, 8, 16, 32, 64, 128:
		return 0 < num && num < 4*den
	case 3, 10, 100, 1000, 10_000:
		return 0 < num && num < den && num < 100
	}
	return false
}

func (p *parser) vulgar() (amount, bool) {
	r, n := p.peek()
	num, den := vulgarFraction(r)
	if den == 0 {
		return amount{}, false
	}
	p.pos += n
	return amount{p: num, q: den, exact: true, fraction: true}, true
}

// vulgarFraction returns the fraction a single sign stands for; den is 0 for any other sign.
func vulgarFraction(r rune) (num, den int64) {
	switch r {
	case '½':
		return 1, 2
	case '⅓':
		return 1, 3
	case '⅔':
		return 2, 3
	case '¼':
		return 1, 4
	case '¾':
		return 3, 4
	case '⅕', '⅖', '⅗', '⅘':
		return int64(r-'⅕') + 1, 5
	case '⅙':
		return 1, 6
	case '⅚':
		return 5, 6
	case '⅐':
		return 1, 7
	case '⅛':
		return 1, 8
	case '⅜':
		return 3, 8
	case '⅝':
		return 5, 8
	case '⅞':
		return 7, 8
	case '⅑':
		return 1, 9
	case '⅒':
		return 1, 10
	}
	return 0, 0
}

// noDigits is why no number stands at start, where there are so many signs and no digit.
func (p *parser) noDigits(start, signs int) *Error {
	if signs > 0 || start == p.end {
		return p.fail(start, "")
	}
	r, n := p.peek()
	if n > 0 && (isMinus(r) || r == '+') {
		return p.fail(start, words.CauseTwoSigns.String())
	}
	if _, ok := anyKind(p.text[start:p.end]); ok {
		return p.fail(start, words.CauseUnitAlone.String())
	}
	e := p.fail(start, "")
	switch r {
	case '(', '[', '{':
		e = p.fail(start, words.CauseBrackets.String())
		e.Hint = words.HintBrackets.String()
	case '~', '≈', '<', '>', '≤', '≥', '±':
		e = p.fail(start, words.CauseLeavesOpen.Say(string(r)))
		e.Hint = words.HintPlain.String()
	}
	return e
}

// decimal reads a decimal number at pos: digits with points, commas, and groups parted by blanks or apostrophes; an exponent.
func (p *parser) decimal(neg bool) (amount, *Error) {
	type sep struct {
		sign   byte // '.', ',', ' ' for any blank or '\'' for any apostrophe
		before int  // digits before it
		pos    int
	}
	var (
		digits [maxText]byte
		nd     int
		seps   [maxText]sep
		ns     int
		count  [256]uint8
		start  = p.pos
	)
scan:
	for p.pos < p.end {
		c := p.text[p.pos]
		switch {
		case c-'0' < 10:
			digits[nd] = c
			nd++
			p.pos++
			continue
		case c == '.' || c == ',':
			seps[ns] = sep{c, nd, p.pos}
			p.pos++
		default:
			r, n := p.peek()
			if isFoot(r) {
				c = '\''
			} else if isSpace(r) {
				c = ' '
			} else {
				break scan
			}
			// A blank or an apostrophe belongs to the number only where it parts groups beyond doubt.
			first := nd
			if ns > 0 {
				first = seps[0].before
			}
			behind := p.pos + n
			if c == '\'' && p.inchMarkAtEnd() {
				break scan // 5'100" is feet and inches
			}
			if count['.']+count[','] > 0 || !groupHead(digits[:first]) || ns > 0 && nd-seps[ns-1].before != 3 ||
				p.digits(behind) != 3 || p.slash(behind+3) > 0 {
				break scan
			}
			seps[ns] = sep{c, nd, p.pos}
			p.pos += n
		}
		count[seps[ns].sign]++
		ns++
	}
	if nd == 0 {
		return amount{}, p.noDigits(start, ns)
	}

	// What each kind of sign means.
	last := func(i int) int { // digits from separator i to the next one or the end
		if i+1 < ns {
			return seps[i+1].before - seps[i].before
		}
		return nd - seps[i].before
	}
	grouped := func(upto int) bool { // separators 0 … upto-1 part groups, all of one kind
		if upto == 0 {
			return true
		}
		if !groupHead(digits[:seps[0].before]) {
			return false
		}
		for i := range upto {
			if seps[i].sign != seps[0].sign || last(i) != 3 {
				return false
			}
		}
		return true
	}
	point := nd // digits before the decimal sign
	if ns > 0 {
		s := seps[ns-1]
		dec := s.sign == '.' || s.sign == ','
		once := count[s.sign] == 1
		asGroups := grouped(ns)
		asDecimal := dec && once && grouped(ns-1) && (s.sign == '.' || last(ns-1) > 0)
		against := p.mark == Point && s.sign == ',' || p.mark == Comma && s.sign == '.'
		sure := p.mark == Point && s.sign == '.' || p.mark == Comma && s.sign == ','
		switch {
		case asDecimal && !against && (ns > 1 || s.sign == '.' && p.mark != Commas || sure || !asGroups):
			point = s.before
		case asGroups && !dec, asGroups && against, asGroups && !sure && !once:
			// Groups only.
		case asGroups && asDecimal && !against: // a lone comma (or point) before three digits, and nothing said
			sign := ""
			if neg {
				sign = "-"
			}
			a, b := sign+string(digits[:s.before])+"."+string(digits[s.before:nd]), sign+string(digits[:nd])
			return amount{}, &Error{p.text, s.pos, words.CauseCouldBe.Say(p.quoted(), a, b),
				words.HintCouldBe.Say(a, b)}
		case asDecimal && against:
			want, is := ",", words.CauseCommaSet
			if p.mark == Point {
				want, is = ".", words.CausePointSet
			}
			e := p.fail(s.pos, is.String())
			e.Hint = words.HintDecimalSign.Say(digits[:s.before], want, digits[s.before:nd])
			return amount{}, e
		default:
			return amount{}, p.fail(s.pos, "")
		}
	}

	behind := p.pos
	exp, err := p.exponent()
	if err != nil {
		return amount{}, err
	}
	a := amount{whole: ns == 0 && p.pos == behind}
	// Without zeros that say nothing, the number is m·10^exp.
	for point < nd && digits[nd-1] == '0' {
		nd--
	}
	exp -= nd - point
	lead := 0
	for lead < nd && digits[lead] == '0' {
		lead++
	}
	m := digits[lead:nd]
	if len(m) == 0 {
		return amount{q: 1, exact: true, whole: a.whole}, nil
	}
	if len(m)+max(exp, 0) <= 15 && -exp < len(pow10) {
		for _, c := range m {
			a.p = a.p*10 + int64(c-'0')
		}
		a.p *= pow10[max(exp, 0)]
		a.q, a.exact = pow10[max(-exp, 0)], true
		return a, nil
	}
	v, bad := strconv.ParseFloat(string(m)+"e"+strconv.Itoa(exp), 64)
	if bad != nil {
		return a, p.fail(start, words.CauseTooLarge.String())
	}
	if v == 0 {
		return a, p.fail(start, words.CauseTooSmall.String())
	}
	a.v = v
	return a, nil
}

// groupHead says whether the digits can be the first group of a grouped number: one to three of them, no zero in front.
func groupHead(d []byte) bool { return 1 <= len(d) && len(d) <= 3 && d[0] != '0' }

// exponent reads "e-3" at pos, if it stands there.
func (p *parser) exponent() (int, *Error) {
	i := p.pos
	if i >= p.end || p.text[i]|0x20 != 'e' {
		return 0, nil
	}
	i++
	neg := false
	if i < p.end {
		if r, n := utf8.DecodeRuneInString(p.text[i:p.end]); isMinus(r) || r == '+' {
			neg = r != '+'
			i += n
		}
	}
	n := p.digits(i)
	if n == 0 {
		return 0, nil
	}
	if n > 4 {
		return 0, p.fail(p.pos, words.CauseExponent.String())
	}
	v, _ := strconv.Atoi(p.text[i : i+n])
	if neg {
		v = -v
	}
	p.pos = i + n
	return v, nil
}

// feet says whether the text goes on with a foot mark and then a number, a whole number of feet having been read; pos is then at
// that number.
func (p *parser) feet(a *amount) bool {
	if !a.whole || !a.exact || a.q != 1 || a.p >= 1e9 {
		return false
	}
	q := *p
	if r, n := q.peek(); isFoot(r) {
		q.pos += n
	} else {
		for _, w := range [...]string{"feet", "foot", "ft.", "ft"} {
			if len(w) <= p.end-p.pos && strings.EqualFold(p.text[p.pos:p.pos+len(w)], w) {
				q.pos += len(w)
				break
			}
		}
	}
	if q.pos == p.pos {
		return false
	}
	q.skipSpace()
	if r, n := q.peek(); isMinus(r) && r != '\u2212' { // 5'-3"
		q.pos += n
		q.skipSpace()
	}
	r, _ := q.peek()
	if _, den := vulgarFraction(r); den == 0 && !isDigit(r) {
		return false
	}
	p.pos = q.pos
	return true
}

func (p *parser) inchMarkAtEnd() bool {
	r, _ := utf8.DecodeLastRuneInString(p.text[:p.end])
	return p.want == Length && isInch(r)
}

// inches reads the inches behind the feet, with their unit, to the end of the text.
func (p *parser) inches() (amount, *Error) {
	start := p.pos
	a, err := p.amount(false)
	if err != nil {
		err.Hint = words.HintFeetInches.String()
		return a, err
	}
	p.skipSpace()
	if u, ok := ParseUnit(p.text[p.pos:p.end], Length); !ok || u != Inch {
		e := p.fail(p.pos, words.CauseInchesFollow.String())
		e.Hint = words.HintFeetInches.String()
		return a, e
	}
	if !a.exact || a.q > 1e6 || a.p >= 12*a.q {
		e := p.fail(start, words.CauseInchesMost.String())
		e.Hint = words.HintFeetInches.String()
		return a, e
	}
	return a, nil
}

// sides are what people write behind a number in place of its sign. Of which machine, and seen from where, is not said, so that no sign can be read out of them.
var sides = [...]string{"high", "low", "up", "down", "left", "right", "above", "below", "over", "under", "higher", "lower", "open", "closed", "top", "bottom", "towards", "away"}

// unit reads the rest of the text as a unit.
func (p *parser) unit() (Unit, *Error) {
	w := p.text[p.pos:p.end]
	if u, ok := ParseUnit(w, p.want); ok {
		return u, nil
	}
	r, _ := p.peek()
	if last, n := utf8.DecodeLastRuneInString(w); isMinus(last) || last == '+' {
		e := p.fail(p.end-n, words.CauseSignBehind.String())
		e.Hint = words.HintSignBehind.String()
		return None, e
	}
	if isMinus(r) || r == '+' {
		e := p.fail(p.pos, "")
		if rest := strings.TrimLeft(w, "-−–— +"); isMinus(r) && rest != "" && rest[0]-'0' < 10 {
			e = p.fail(p.pos, words.CauseTwoNumbersLine.String())
			e.Hint = words.HintDifference.String()
		}
		return None, e
	}
	if isDigit(r) || r == '.' || r == ',' || r == '/' && p.want != Speed && p.want != Expansion {
		return None, p.fail(p.pos, "")
	}
	if k, ok := anyKind(w); ok {
		e := p.fail(p.pos, words.CauseUnitOf.Say(w, k))
		e.Hint = p.choices()
		return None, e
	}
	if first, _, _ := strings.Cut(w, " "); slices.Contains(sides[:], strings.ToLower(first)) {
		e := p.fail(p.pos, words.CauseNamesSide.Say(quote(w)))
		e.Hint = words.HintNamesSide.String()
		return None, e
	}
	e := p.fail(p.pos, words.CauseNotItsUnit.Say(quote(w)))
	e.Hint = p.choices()
	return None, e
}

// anyKind finds the first kind that has the word for a unit.
func anyKind(w string) (Kind, bool) {
	for k := range numKinds {
		if _, ok := ParseUnit(w, k); ok {
			return k, true
		}
	}
	return 0, false
}

// choices is the hint that lists the units of the wanted kind.
func (p *parser) choices() string {
	if p.want == Number {
		return words.HintDigits.String()
	}
	var names []string
	for _, e := range Table(p.want) {
		if n := e.Unit.String(); !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	last := len(names) - 1
	if last == 0 {
		return words.HintWriteIn.Say(names[0])
	}
	return words.HintWriteIn.Say(words.WordOr.Say(strings.Join(names[:last], ", "), names[last]))
}

// fail makes the error `"12,5,0" is not a length: cause`.
func (p *parser) fail(pos int, cause string) *Error {
	msg := words.CauseIsNot.Say(p.quoted(), p.want)
	if cause != "" {
		msg += ": " + cause
	}
	return &Error{p.text, min(pos, len(p.text)), msg, p.examples()}
}

func (p *parser) quoted() string { return quote(strings.TrimFunc(p.text, isSpace)) }

// quote shortens s for a message.
func quote(s string) string {
	const most = 40
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return '\uFFFD'
		}
		return r
	}, strings.ToValidUTF8(s, "\uFFFD"))
	if utf8.RuneCountInString(s) > most {
		s = string([]rune(s)[:most]) + "…"
	}
	return `"` + s + `"`
}

var kindExamples = [numKinds][2]string{
	Number:                {"12.5", "1/2"},
	Length:                {"12.5 mm", "1/2 in"},
	Slope:                 {"0.05 mm/m", "3 mil/10in"},
	Angle:                 {"22.5°", "3 o'clock"},
	Temperature:           {"65.5 °C", "150 °F"},
	TemperatureDifference: {"45.5 °C", "80 °F"},
	Speed:                 {"1487.5 rpm", "25 Hz"},
	Force:                 {"12.5 kN", "2800 lbf"},
	Torque:                {"12.5 N·m", "90 lbf·ft"},
	Pressure:              {"1.5 bar", "580 MPa"},
	Mass:                  {"12.5 kg", "1200 lb"},
	Expansion:             {"11.5 µm/m·K", "6 µin/in·°F"},
}

// examples is the hint of an ordinary error: the same number with the decimal signs the job allows, and another way.
func (p *parser) examples() string {
	ex := kindExamples[p.want]
	comma := strings.Replace(ex[0], ".", ",", 1)
	switch p.mark {
	case Point:
		return words.HintWrite.Say(words.WordOr.Say(ex[0], ex[1]))
	case Comma:
		return words.HintWrite.Say(words.WordOr.Say(comma, ex[1]))
	}
	return words.HintWrite.Say(words.WordOr.Say(ex[0]+", "+comma, ex[1]))
}

package calculators

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Exact conversion. A number as typed and every factor are fractions of whole numbers, so a value converted is one too, and can be printed
// without a rounding that was not asked for. The whole numbers are written out here: they are short, and the library's would be larger
// than all the calculators together.

// A nat is a whole number of zero or more in digits of 32 bits, the lowest first, without leading zeros.
type nat []uint32

func natOf(x uint64) nat { return nat{uint32(x), uint32(x >> 32)}.trim() }

func (a nat) trim() nat {
	for len(a) > 0 && a[len(a)-1] == 0 {
		a = a[:len(a)-1]
	}
	return a
}

func (a nat) cmp(b nat) int {
	if len(a) != len(b) {
		return len(a) - len(b)
	}
	for i := len(a) - 1; i >= 0; i-- {
		if a[i] != b[i] {
			if a[i] < b[i] {
				return -1
			}
			return 1
		}
	}
	return 0
}

func (a nat) add(b nat) nat {
	if len(a) < len(b) {
		a, b = b, a
	}
	out := make(nat, len(a)+1)
	var c uint64
	for i := range a {
		c += uint64(a[i])
		if i < len(b) {
			c += uint64(b[i])
		}
		out[i] = uint32(c)
		c >>= 32
	}
	out[len(a)] = uint32(c)
	return out.trim()
}

// sub is a − b, a not less than b.
func (a nat) sub(b nat) nat {
	out := make(nat, len(a))
	var borrow uint64
	for i := range a {
		d := uint64(a[i]) - borrow
		if i < len(b) {
			d -= uint64(b[i])
		}
		out[i] = uint32(d)
		borrow = d >> 63
	}
	return out.trim()
}

func (a nat) mul(b nat) nat {
	out := make(nat, len(a)+len(b))
	for i := range a {
		var c uint64
		for j := range b {
			c += uint64(a[i])*uint64(b[j]) + uint64(out[i+j])
			out[i+j] = uint32(c)
			c >>= 32
		}
		out[i+len(b)] = uint32(c)
	}
	return out.trim()
}

// divSmall is a/d with its remainder.
func (a nat) divSmall(d uint32) (nat, uint32) {
	out := make(nat, len(a))
	var r uint64
	for i := len(a) - 1; i >= 0; i-- {
		r = r<<32 | uint64(a[i])
		out[i] = uint32(r / uint64(d))
		r %= uint64(d)
	}
	return out.trim(), uint32(r)
}

// div is a/b with its remainder, b not zero, bit by bit.
func (a nat) div(b nat) (q, r nat) {
	if len(b) == 1 {
		q, s := a.divSmall(b[0])
		return q, natOf(uint64(s))
	}
	todo := bits(a) - bits(b) + 1 // bits of the quotient, at most
	if todo <= 0 {
		return nil, a
	}
	q = make(nat, (todo+31)/32)
	r = make(nat, 0, len(b)+1) // what is above them
	for i := todo / 32; i < len(a); i++ {
		x := uint64(a[i])
		if i+1 < len(a) {
			x |= uint64(a[i+1]) << 32
		}
		r = append(r, uint32(x>>(todo%32)))
	}
	r = r.trim()
	for i := todo - 1; i >= 0; i-- {
		carry := a[i/32] >> (i % 32) & 1
		for j := range r {
			r[j], carry = r[j]<<1|carry, r[j]>>31
		}
		if carry > 0 {
			r = append(r, carry)
		}
		if r.cmp(b) >= 0 {
			var borrow uint64
			for j := range r {
				d := uint64(r[j]) - borrow
				if j < len(b) {
					d -= uint64(b[j])
				}
				r[j] = uint32(d)
				borrow = d >> 63
			}
			r = r.trim()
			q[i/32] |= 1 << (i % 32)
		}
	}
	return q.trim(), r
}

func pow10nat(n int) nat {
	out := nat{1}
	for ; n >= 9; n -= 9 {
		out = out.mul(nat{1_000_000_000})
	}
	for ; n > 0; n-- {
		out = out.mul(nat{10})
	}
	return out
}

// String is the number in decimal digits.
func (a nat) String() string {
	if len(a) == 0 {
		return "0"
	}
	var groups []uint32
	for len(a) > 0 {
		var r uint32
		a, r = a.divSmall(1_000_000_000)
		groups = append(groups, r)
	}
	b := strconv.AppendUint(nil, uint64(groups[len(groups)-1]), 10)
	for i := len(groups) - 2; i >= 0; i-- {
		s := strconv.FormatUint(uint64(groups[i]), 10)
		b = append(b, "000000000"[len(s):]...)
		b = append(b, s...)
	}
	return string(b)
}

// A rational is ±p/q in lowest terms or not, q more than zero.
type rational struct {
	neg  bool
	p, q nat
}

func whole(x int64) rational {
	if x < 0 {
		return rational{true, natOf(uint64(-x)), nat{1}}
	}
	return rational{false, natOf(uint64(x)), nat{1}}
}

func (a rational) mul(b rational) rational {
	return rational{a.neg != b.neg, a.p.mul(b.p), a.q.mul(b.q)}
}

// over is a/b, b not zero.
func (a rational) over(b rational) rational {
	return rational{a.neg != b.neg, a.p.mul(b.q), a.q.mul(b.p)}
}

func (a rational) add(b rational) rational {
	x, y, q := a.p.mul(b.q), b.p.mul(a.q), a.q.mul(b.q)
	if a.neg == b.neg {
		return rational{a.neg, x.add(y), q}
	}
	if x.cmp(y) >= 0 {
		return rational{a.neg, x.sub(y), q}
	}
	return rational{b.neg, y.sub(x), q}
}

func (a rational) less(b rational) rational {
	b.neg = !b.neg
	return a.add(b)
}

func (a rational) reduce() rational {
	x, y := a.p, a.q
	for len(y) > 0 {
		_, r := x.div(y)
		x, y = y, r
	}
	if len(x) == 1 && x[0] == 1 {
		return a
	}
	a.p, _ = a.p.div(x)
	a.q, _ = a.q.div(x)
	return a
}

// decimals is how many digits behind the decimal sign hold a fraction in lowest terms whole; ok is false if no number does.
func (a rational) decimals() (n int, ok bool) {
	q := a.q
	count := func(d uint32) int {
		k := 0
		for {
			next, r := q.divSmall(d)
			if r != 0 {
				return k
			}
			q = next
			k++
		}
	}
	n = max(count(10), 0)
	n += max(count(2), count(5))
	return n, len(q) == 1 && q[0] == 1
}

// fixed prints the number with so many digits behind the decimal sign; negative ones round before it. The nearest is taken, of two equally near
// ones the even.
func (a rational) fixed(decimals int, mark units.Decimal) string {
	p, q := a.p, a.q
	if decimals >= 0 {
		p = p.mul(pow10nat(decimals))
	} else {
		q = q.mul(pow10nat(-decimals))
	}
	n, r := p.div(q)
	if c := r.add(r).cmp(q); c > 0 || c == 0 && len(n) > 0 && n[0]&1 == 1 {
		n = n.add(nat{1})
	}
	if decimals < 0 {
		n = n.mul(pow10nat(-decimals))
		decimals = 0
	}
	s := n.String()
	neg := a.neg && len(n) > 0
	if decimals > 0 {
		if len(s) <= decimals {
			s = strings.Repeat("0", decimals+1-len(s)) + s
		}
		sign := "."
		if mark == units.Comma {
			sign = ","
		}
		s = s[:len(s)-decimals] + sign + s[len(s)-decimals:]
	}
	if neg {
		s = "-" + s
	}
	return s
}

// magnitude is the power of ten of the first significant digit, and that digit; 0, 0 for zero.
func (a rational) magnitude() (exp int, first byte) {
	if len(a.p) == 0 {
		return 0, 0
	}
	exp = int(math.Floor(float64(bits(a.p)-bits(a.q)) * 0.30103))
	for e := exp + 1; ; e-- { // the estimate may be one too small or too large
		p, q := a.p, a.q
		if e > 0 {
			q = q.mul(pow10nat(e))
		} else {
			p = p.mul(pow10nat(-e))
		}
		if n, _ := p.div(q); len(n) > 0 {
			return e, n.String()[0]
		}
	}
}

func bits(a nat) int {
	if len(a) == 0 {
		return 0
	}
	n := (len(a) - 1) * 32
	for x := a[len(a)-1]; x > 0; x >>= 1 {
		n++
	}
	return n
}

// maxExact is the most digits that an exact value is printed with.
const maxExact = 40

// exact prints the whole value: its decimals, or if they do not end (or are very many) the first digits with … and the fraction if it is short.
func (a rational) exact(mark units.Decimal) string {
	a = a.reduce()
	exp, _ := a.magnitude()
	if n, ok := a.decimals(); ok && n+max(exp, 0) <= maxExact {
		return a.fixed(n, mark)
	}
	// Cut, not rounded, so that the digits shown are those of the value.
	d := 20 - exp
	p, q := a.p, a.q
	if d < 0 {
		d = 0
	}
	n, r := p.mul(pow10nat(d)).div(q)
	s := rational{a.neg, n, pow10nat(d)}.fixed(d, mark)
	if len(r) > 0 {
		s += "…"
		if p, q := a.p.String(), a.q.String(); len(p)+len(q) <= 16 {
			if a.neg {
				p = "-" + p
			}
			s += " (" + p + "/" + q + ")"
		}
	}
	return s
}

// parseDecimal reads plain digits with a point or none, and an exponent.
func parseDecimal(s string) (rational, bool) {
	mantissa, exp := s, 0
	if i := strings.IndexByte(s, 'e'); i >= 0 {
		var err error
		if exp, err = strconv.Atoi(s[i+1:]); err != nil || exp > 400 || exp < -400 {
			return rational{}, false
		}
		mantissa = s[:i]
	}
	mantissa, neg := strings.CutPrefix(mantissa, "-")
	before, behind, _ := strings.Cut(mantissa, ".")
	if before+behind == "" {
		return rational{}, false
	}
	p := nat{}
	for _, c := range []byte(before + behind) {
		if c < '0' || c > '9' {
			return rational{}, false
		}
		p = p.mul(nat{10}).add(natOf(uint64(c - '0')))
	}
	exp -= len(behind)
	if exp >= 0 {
		return rational{neg, p.mul(pow10nat(exp)), nat{1}}, true
	}
	return rational{neg, p, pow10nat(-exp)}, true
}

// A ratio takes a value in a unit to the base unit of its kind: base = (v + add)·by.
type ratio struct{ add, by rational }

// exactRatio reads the factor that package units prints for the reference, which is exact, and held to the one it computes with by a test. ok
// is false for slopes given by their angle.
func (m measureUnit) exactRatio() (f ratio, ok bool) {
	f.add = whole(0)
	if m.x != nil {
		f.by = whole(m.x.num).over(whole(m.x.den))
		return f, true
	}
	kind := m.u.Kind()
	s := ""
	for _, e := range units.Table(kind) {
		if e.Unit == m.u {
			s = e.Factor
		}
	}
	for _, base := range []string{" × " + kind.Base().String(), " " + kind.Base().String(), kind.Base().String(), " r/min"} {
		if t, cut := strings.CutSuffix(s, base); cut && base != "" {
			s = t
			break
		}
	}
	f.by = whole(1)
	if t, cut := strings.CutPrefix(s, "v"); cut {
		s = "1" + t
	} else if t, cut := strings.CutPrefix(s, "(v − "); cut {
		off, tail, closed := strings.Cut(t, ")")
		d, good := parseDecimal(off)
		if !closed || !good {
			return f, false
		}
		d.neg = true
		f.add, s = d, "1"+tail
	}
	for len(s) > 0 {
		i := strings.IndexAny(s, "×/")
		word := s
		if i >= 0 {
			word = s[:i]
		}
		x, good := parseDecimal(strings.TrimSpace(word))
		if !good {
			return f, false
		}
		f.by = f.by.mul(x)
		if i < 0 {
			return f, true
		}
		// What follows a bar divides.
		divide := s[i] == '/'
		_, n := utf8.DecodeRuneInString(s[i:])
		s = s[i+n:]
		if !divide {
			continue
		}
		next := strings.IndexAny(s, "×/")
		word = s
		if next >= 0 {
			word = s[:next]
		}
		d, good := parseDecimal(strings.TrimSpace(word))
		if !good || len(d.p) == 0 {
			return f, false
		}
		f.by = f.by.over(d)
		if next < 0 {
			return f, true
		}
		if s[next] == '/' {
			s = "1" + s[next:]
		} else {
			_, n := utf8.DecodeRuneInString(s[next:])
			s = s[next+n:]
		}
	}
	return f, false
}

// angleRatio takes a slope given by its angle to degrees.
func (m measureUnit) angleRatio() (f ratio, ok bool) {
	f.add = whole(0)
	switch {
	case m.x != nil:
		return f, false
	case m.u == units.DegreeSlope:
		f.by = whole(1)
	case m.u == units.ArcMinuteSlope:
		f.by = whole(1).over(whole(60))
	case m.u == units.ArcSecondSlope:
		f.by = whole(1).over(whole(3600))
	default:
		return f, false
	}
	return f, true
}

// A typedNumber is a number as it stands in a cell.
type typedNumber struct {
	value    rational
	exact    bool // else value is the float64
	digits   int  // significant digits; 0: a fraction, which has none
	decimals int  // digits behind the decimal sign
}

// typed finds the exact number in a text that package units has read as x in its own unit: of the ways in which the text can be read, the one
// that gives x.
func typed(text string, x float64) typedNumber {
	near := func(y float64) bool {
		return math.Abs(x-y) <= 1e-9*math.Max(1e-300, math.Abs(x)) || math.Abs(x) < 1e-6 && math.Abs(x-y) < 1e-12 && y == 0
	}
	// Fractions, and feet with inches: the denominator is in the text, and the numerator small enough to be found from x.
	if den := denominator(text); den > 0 {
		if p := math.Round(x * float64(den)); near(p/float64(den)) && math.Abs(p) < 1<<53 {
			return typedNumber{value: whole(int64(p)).over(whole(den)), exact: true}
		}
	}
	i := strings.IndexAny(text, "0123456789.,")
	if i < 0 {
		return typedNumber{value: floatRational(x)}
	}
	for _, blanks := range []bool{true, false} {
		var digits []byte
		seps := []int{-1} // digits in front of each point or comma; −1: none is a decimal sign
		j := i
		for j < len(text) {
			c := text[j]
			if c >= '0' && c <= '9' {
				digits = append(digits, c)
				j++
				continue
			}
			r, n := utf8.DecodeRuneInString(text[j:])
			if c == '.' || c == ',' {
				seps = append(seps, len(digits))
			} else if !blanks || !(r == ' ' || r == '\'' || r == '’' || r == '\u00a0' || r == '\u202f' || r == '\u2009') || j+n >= len(text) || text[j+n] < '0' || text[j+n] > '9' {
				break
			}
			j += n
		}
		if len(digits) == 0 || len(digits) > 250 {
			continue
		}
		exps := []int{0}
		if tail := text[j:]; len(tail) > 1 && (tail[0] == 'e' || tail[0] == 'E') {
			k := 1
			neg := false
			if r, n := utf8.DecodeRuneInString(tail[1:]); r == '+' || r == '-' || r == '−' || r == '–' {
				neg = r != '+'
				k += n
			}
			e := 0
			for ; k < len(tail) && tail[k] >= '0' && tail[k] <= '9' && e < 1000; k++ {
				e = e*10 + int(tail[k]-'0')
			}
			if neg {
				e = -e
			}
			exps = append(exps, e)
		}
		for k := len(exps) - 1; k >= 0; k-- {
			for s := len(seps) - 1; s >= 0; s-- {
				behind := 0
				if seps[s] >= 0 {
					behind = len(digits) - seps[s]
				}
				e := exps[k] - behind
				y, err := strconv.ParseFloat(string(digits)+"e"+strconv.Itoa(e), 64)
				if err != nil || !near(math.Copysign(y, x)) {
					continue
				}
				v, ok := parseDecimal(string(digits) + "e" + strconv.Itoa(e))
				if !ok {
					continue
				}
				v.neg = math.Signbit(x) && len(v.p) > 0
				return typedNumber{v, true, max(1, len(strings.TrimLeft(string(digits), "0"))), max(0, -e)}
			}
		}
	}
	return typedNumber{value: floatRational(x)}
}

// denominator finds the number below a fraction bar, or that of a fraction sign; for feet with inches it is a power of ten that holds decimals.
// 0: plain decimals.
func denominator(s string) int64 {
	prev := ' '
	for i, r := range s {
		switch r {
		case '/', '⁄', '∕':
			rest := s[i+utf8.RuneLen(r):]
			n := 0
			for n < len(rest) && rest[n] >= '0' && rest[n] <= '9' {
				n++
			}
			if prev >= '0' && prev <= '9' && n > 0 && n <= 6 {
				d, _ := strconv.ParseInt(rest[:n], 10, 64)
				return d
			}
		case '½':
			return 2
		case '⅓', '⅔':
			return 3
		case '¼', '¾':
			return 4
		case '⅕', '⅖', '⅗', '⅘':
			return 5
		case '⅙', '⅚':
			return 6
		case '⅐':
			return 7
		case '⅛', '⅜', '⅝', '⅞':
			return 8
		case '⅑':
			return 9
		case '⅒':
			return 10
		}
		prev = r
	}
	// Feet and inches without a fraction: digits, a foot mark or word, and digits again.
	foot := strings.IndexAny(s, "'′’")
	if foot < 0 {
		foot = strings.Index(strings.ToLower(s), "f")
	}
	if foot > 0 && strings.ContainsAny(s[:foot], "0123456789") && strings.ContainsAny(s[foot:], "0123456789") {
		if i := strings.LastIndexAny(s, ".,"); i > foot {
			n := 0
			for i+1+n < len(s) && s[i+1+n] >= '0' && s[i+1+n] <= '9' {
				n++
			}
			if n <= 9 {
				return int64(math.Pow10(n))
			}
		}
		return 1
	}
	return 0
}

// floatRational is the float64 as the shortest decimal that reads back to it.
func floatRational(x float64) rational {
	v, _ := parseDecimal(strconv.FormatFloat(x, 'e', -1, 64))
	if v.q == nil {
		return whole(0)
	}
	return v
}

// convertible are the measures of quantityChoices, in their order.
var convertible = [...]Measure{MDistance, MSlope, MAngle, MTemperature, MRise, MSpeed, MForce, MTorque, MStress, MMass, MExpansion, MDensity, MArea}

// unitsOf lists the units of a measure.
func (m Measure) unitsOf() []measureUnit {
	var out []measureUnit
	if k := measureInfo[m].kind; k != units.Number {
		for _, e := range units.Table(k) {
			out = append(out, measureUnit{u: e.Unit})
		}
	}
	for i := range extraUnits {
		if slices.Contains(extraUnits[i].measures, m) {
			out = append(out, measureUnit{x: &extraUnits[i]})
		}
	}
	return out
}

// quantityName is the word of a convertible measure.
func quantityName(k int) string {
	w, _, _ := strings.Cut(quantityChoices[k], "|")
	return w
}

// mostConverted is the largest value converted, in the base unit of its kind: a thousand million kilometres. What is larger cannot be meant.
const mostConverted = 1e15

// A conversion is one value in one other unit.
type conversion struct {
	unit           measureUnit
	rounded, exact string
}

// convertInput finds quantity, units and value of a row of the converters. ok is false with a problem recorded.
func (r *run) convertInput() (measure int, from measureUnit, v typedNumber, base float64, to []measureUnit, ok bool) {
	text := r.res.Used[r.in("value")]
	if !r.given("value") {
		return
	}
	var candidates []int
	if r.state[r.in("quantity")] == stateBad {
		return
	}
	if q := r.choice("quantity"); q >= 0 {
		candidates = []int{q}
	} else {
		for k := range convertible {
			candidates = append(candidates, k)
		}
	}
	// The units wanted and the unit of a bare number narrow the quantities down.
	narrow := func(key string) bool {
		if !r.given(key) {
			return true
		}
		word := r.res.Used[r.in(key)]
		n := 0
		for w := range strings.SplitSeq(word, ";") {
			if n++; n > maxParts {
				r.fail(key, words.CalcProblemTooMany.Say(maxParts), "")
				return false
			}
			if job.Blank(w) {
				continue
			}
			left := slices.DeleteFunc(slices.Clone(candidates), func(k int) bool { _, ok := convertible[k].parseUnit(strings.TrimSpace(w)); return !ok })
			if len(left) == 0 {
				hint := words.CalcHintUnit.String()
				if len(candidates) == 1 {
					hint = convertible[candidates[0]].Hint()
				}
				what := words.CalcProblemNoSuchUnit
				if len(candidates) < len(convertible) {
					what = words.CalcProblemOtherUnit
				}
				r.fail(key, what.Say(job.Quote(w)), hint)
				return false
			}
			candidates = left
		}
		return true
	}
	if !narrow("to") || !narrow("from") {
		return
	}
	// Which of them can the text be?
	type reading struct {
		k    int
		unit measureUnit
		x    float64
		base float64
	}
	var found []reading
	var firstCause, firstHint string
	firstPos := -1
	for _, k := range candidates {
		m := convertible[k]
		def := measureUnit{none: true}
		if r.given("from") {
			def, _ = m.parseUnit(firstWord(r.res.Used[r.in("from")]))
		}
		u, base, pos, cause, hint := m.parseWithUnit(text, def, r.set.Decimal)
		if cause == "" {
			found = append(found, reading{k, u, u.fromBase(base), base})
		} else if m == MTemperature && len(candidates) > 1 && strings.Contains(cause, words.CauseAbsoluteZero.String()) { // and no difference in silence
			r.fail("value", cause, words.CalcHintDifference.String())
			return 0, from, v, math.NaN(), nil, false
		} else if pos > firstPos {
			firstCause, firstHint, firstPos = cause, hint, pos
		}
	}
	switch {
	case len(found) == 0:
		if len(candidates) > 1 {
			firstCause, firstHint = words.CalcProblemUnreadable.Say(job.Quote(text)), words.CalcHintValue.String()
		}
		if firstPos > 0 {
			firstCause += words.CalcProblemAtSign.Say(strconv.Itoa(utf8.RuneCountInString(text[:min(firstPos, len(text))]) + 1))
		}
		r.fail("value", firstCause, firstHint)
		return
	case len(found) > 1:
		either := quantityName(found[0].k)
		for _, f := range found[1:] {
			either = words.WordOr.Say(either, quantityName(f.k))
		}
		if convertible[found[0].k] == MForce {
			r.fail("quantity", words.CalcProblemAmbiguous.Say(job.Quote(text), either), words.CalcHintQuantity.String())
			return
		}
		r.problem(job.Note, r.in("quantity"), words.CalcProblemTaken.Say(job.Quote(text), quantityName(found[0].k), either), words.CalcHintQuantity.String())
	}
	f := found[0]
	m := convertible[f.k]
	if math.Abs(f.base) > mostConverted {
		r.fail("value", words.CalcProblemTooLarge.Say(job.Quote(text)), words.CalcHintBeyond.String())
		return
	}
	if r.given("to") {
		for w := range strings.SplitSeq(r.res.Used[r.in("to")], ";") {
			if u, good := m.parseUnit(strings.TrimSpace(w)); good && !job.Blank(w) {
				to = append(to, u)
			}
		}
	} else {
		to = slices.DeleteFunc(m.unitsOf(), func(u measureUnit) bool { return u == f.unit })
	}
	return f.k, f.unit, typed(text, f.x), f.base, to, true
}

func firstWord(s string) string {
	s, _, _ = strings.Cut(s, ";")
	return strings.TrimSpace(s)
}

// parseWithUnit reads a text and tells the unit it was in.
func (m Measure) parseWithUnit(s string, def measureUnit, mark units.Decimal) (u measureUnit, base float64, pos int, cause, hint string) {
	kind := measureInfo[m].kind
	if kind != units.Number && def.x == nil {
		v, err := units.Parse(s, kind, def.u, mark)
		if err == nil {
			return measureUnit{u: v.Unit}, v.Base, 0, "", ""
		}
		pos, cause, hint = err.Pos, err.Msg, err.Hint
	}
	if !m.hasExtra() {
		return u, math.NaN(), pos, cause, hint
	}
	u = def
	for i, r := range s {
		if r >= '0' && r <= '9' || r == ' ' || r == '.' || r == ',' {
			continue
		}
		if own := m.extra(s[i:]); own != nil {
			u, s = measureUnit{x: own}, s[:i]
			break
		}
	}
	if u.x == nil {
		if cause == "" {
			cause = words.CalcProblemNoUnit.Say(job.Quote(s), measureWords[m])
		}
		return u, math.NaN(), pos, cause, m.Hint()
	}
	v, err := units.Parse(s, units.Number, units.None, mark)
	if err != nil {
		return u, math.NaN(), err.Pos, err.Msg, err.Hint
	}
	if v.Unit != units.None {
		return u, math.NaN(), 0, words.CalcProblemNotThis.Say(job.Quote(s), measureWords[m]), m.Hint()
	}
	return u, float64(v.Base*float64(u.x.num)) / float64(u.x.den), 0, "", ""
}

// convertTo works the value out in one unit.
func convertTo(from, to measureUnit, v typedNumber, base float64, temperature bool, mark units.Decimal) conversion {
	c := conversion{unit: to}
	sig := v.digits
	if sig == 0 {
		sig = 6
	}
	a, ok1 := from.exactRatio()
	b, ok2 := to.exactRatio()
	if !ok1 && !ok2 { // both by their angle: a sixtieth is exact
		a, ok1 = from.angleRatio()
		b, ok2 = to.angleRatio()
	}
	if !ok1 || !ok2 || !v.exact {
		x := to.fromBase(base)
		c.rounded = floatRational(x).roundedTo(max(sig, 3), v, mark)
		c.exact = significant(x, 15, mark) + "…"
		return c
	}
	x := v.value.add(a.add).mul(a.by).over(b.by).less(b.add)
	if temperature {
		d := v.decimals
		if v.digits == 0 {
			d = 2
		}
		c.rounded = x.fixed(d, mark)
	} else {
		c.rounded = x.roundedTo(max(sig, 3), v, mark)
	}
	c.exact = x.exact(mark)
	return c
}

// roundedTo prints in sig significant digits, one more where the first digit is smaller than that of the number typed. Nothing is added to a
// value that ends earlier, but zeros that were typed.
//
// Reference: NIST SP 811 (2008), B.7.1.
func (a rational) roundedTo(sig int, v typedNumber, mark units.Decimal) string {
	exp, first := a.magnitude()
	if first == 0 {
		return "0"
	}
	if _, was := v.value.magnitude(); first < was && sig > 3 {
		sig++
	}
	a = a.reduce()
	d := sig - 1 - exp
	if n, ok := a.decimals(); ok && n < d && v.digits < sig {
		d = max(n, v.digits-1-exp, 0)
	}
	return a.fixed(d, mark)
}

func evalConvert(r *run) {
	k, from, v, base, to, ok := r.convertInput()
	if !ok {
		return
	}
	rounded, exact := "", ""
	for i, u := range to {
		c := convertTo(from, u, v, base, convertible[k] == MTemperature, r.set.Decimal)
		if i > 0 {
			rounded, exact = rounded+"; ", exact+"; "
		}
		rounded += c.rounded + " " + u.String()
		exact += c.exact + " " + u.String()
	}
	r.say("rounded", rounded)
	r.say("exact", exact)
	r.say("as", quantityName(k))
}

func evalConvertColumn(r *run) {
	if r.given("to") && strings.Contains(r.res.Used[r.in("to")], ";") {
		r.fail("to", words.CalcProblemOneUnit.String(), words.CalcHintOneUnit.String())
		return
	}
	if !r.given("to") {
		return
	}
	k, from, v, base, to, ok := r.convertInput()
	if !ok || len(to) == 0 {
		return
	}
	c := convertTo(from, to[0], v, base, convertible[k] == MTemperature, r.set.Decimal)
	r.say("rounded", c.rounded)
	r.say("exact", c.exact)
	r.say("unit", to[0].String())
}

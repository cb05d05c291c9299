package sheet

import (
	"math"
	binary "math/bits"
	"strconv"
)

// appendShortest appends the shortest text that is read as v again, the very bytes of strconv.AppendFloat(b, v, 'g', -1, 64). Numbers between a ten-thousandth and a million,
// which nearly all of a row of results are, take a way of their own to it, at a third of the cost; v is finite.
//
// v is c·2^q, and every number nearer to it than half a step of c is read as v. Among these stands at most one with a digit less than the rest; where there is none, the
// nearest is taken. All is whole numbers of 10^k with two bits behind them, and a last bit that says whether anything was cut off.
//
// Reference: R. Giulietti, The Schubfach way to render doubles (2020), section 9.
func appendShortest(b []byte, v float64) []byte {
	a := math.Abs(v)
	if a < 1e-4 || a >= 1e6 {
		return strconv.AppendFloat(b, v, 'g', -1, 64)
	}
	word := math.Float64bits(a)
	fraction, exponent := word&(1<<52-1), int(word>>52) // a normal number
	c, q := fraction|1<<52, exponent-1075
	below, closer := 2*c*2-2, 0 // the half step down, which is a quarter at a power of two
	if fraction == 0 {
		below, closer = below+1, 524031
	}
	k := (q*1262611 - closer) >> 22 // ⌊log10 of the step⌋, here −20 to −10
	h := q + (-k*1741647)>>19 + 1   // ⌊log2 10^−k⌋
	g := &tens[-k]
	odd := c & 1 // the ends of the interval are read as v where c is even
	low, mid, high := scaled(g, below<<h)+odd, scaled(g, 4*c<<h), scaled(g, (4*c+2)<<h)-odd
	s := mid / 4
	if t := s / 10; low <= 40*t != (40*t+40 <= high) {
		if s = t; low > 40*t {
			s++
		}
		k++
	} else {
		down, up := low <= 4*s, 4*s+4 <= high
		if down == up {
			up = mid > 4*s+2 || mid == 4*s+2 && s&1 == 1
		}
		if up {
			s++
		}
	}
	if v < 0 {
		b = append(b, '-')
	}
	return appendDecimal(b, s, k)
}

// tens are 10^0 to 10^20, shifted up to the top of 128 bits; none loses a bit.
var tens = func() (t [21][2]uint64) {
	hi, lo := uint64(0), uint64(1)
	for i := range t {
		n := binary.LeadingZeros64(hi)
		if hi == 0 {
			n = 64 + binary.LeadingZeros64(lo)
		}
		if n < 64 {
			t[i] = [2]uint64{hi<<n | lo>>(64-n), lo << n}
		} else {
			t[i] = [2]uint64{lo << (n - 64), 0}
		}
		carry, low := binary.Mul64(lo, 10)
		hi, lo = hi*10+carry, low
	}
	return t
}()

// scaled is the top of the product with a power of ten, its last bit set if something was cut off.
func scaled(g *[2]uint64, x uint64) uint64 {
	carry, _ := binary.Mul64(g[1], x)
	hi, lo := binary.Mul64(g[0], x)
	lo, over := binary.Add64(lo, carry, 0)
	hi += over
	if lo > 1 {
		hi |= 1
	}
	return hi
}

// pairs are the two digits of 00 to 99.
const pairs = "00010203040506070809101112131415161718192021222324252627282930313233343536373839404142434445464748495051525354555657585960616263646566676869707172737475767778798081828384858687888990919293949596979899"

// appendDecimal appends s·10^k, which is between a ten-thousandth and a million, without zeros at its end.
func appendDecimal(b []byte, s uint64, k int) []byte {
	for s%100 == 0 {
		s, k = s/100, k+2
	}
	if s%10 == 0 {
		s, k = s/10, k+1
	}
	for ; k > 0; k-- { // a whole number
		s *= 10
	}
	var d [24]byte
	n := len(d)
	for ; s >= 100; s /= 100 {
		n -= 2
		p := 2 * (s % 100)
		d[n], d[n+1] = pairs[p], pairs[p+1]
	}
	if n--; s < 10 {
		d[n] = '0' + byte(s)
	} else {
		d[n] = pairs[2*s+1]
		n--
		d[n] = pairs[2*s]
	}
	digits := d[n:]
	switch whole := len(digits) + k; {
	case k == 0:
		return append(b, digits...)
	case whole > 0:
		b = append(b, digits[:whole]...)
		b = append(b, '.')
		return append(b, digits[whole:]...)
	default:
		b = append(b, "0.0000"[:2-whole]...)
		return append(b, digits...)
	}
}

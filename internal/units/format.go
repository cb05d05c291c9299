package units

import (
	"math"
	"strconv"
	"strings"
)

// Format prints a value given in the base unit of u's kind as a number in unit u, without the unit.
//
// decimals is how many digits stand behind the decimal sign; negative: as few as read back to the same float64. A comma is
// printed for mark [Comma], else a point; digits are not grouped, a minus is the plain hyphen, and what rounds to zero has none.
// A number that does not exist (NaN) or is infinite is empty. The nearest decimal is taken, of two equally near ones the even.
func Format(base float64, u Unit, decimals int, mark Decimal) string {
	v := u.FromBase(base)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return ""
	}
	var buf [64]byte
	b := strconv.AppendFloat(buf[:0], v, 'f', max(decimals, -1), 64)
	if b[0] == '-' && strings.Trim(string(b), "-0.") == "" {
		b = b[1:]
	}
	if mark == Comma {
		for i := range b {
			if b[i] == '.' {
				b[i] = ','
			}
		}
	}
	return string(b)
}

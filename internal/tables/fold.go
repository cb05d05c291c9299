package tables

import (
	"math"
	"strconv"
	"strings"
	"unicode"
)

// fold makes of s its words in lower case without accents, each with a blank before it and one more behind the last: " m16 8.8 3/4-10 ".
// A point, stroke, hyphen or comma stays inside a word where letters or digits stand on both sides.
func fold(s string) string {
	b := make([]byte, 0, len(s)+8)
	b = append(b, ' ')
	var joint byte // a sign that belongs to the word if more of the word follows
	for _, r := range s {
		plain := ""
		switch {
		case r == '.' || r == '/' || r == '-' || r == ',' || r == '\u2010' || r == '\u2011' || r == '\u2013':
			if r != '.' && r != '/' && r != ',' {
				r = '-'
			}
			if b[len(b)-1] == ' ' || joint != 0 {
				joint = ' '
			} else {
				joint = byte(r)
			}
			continue
		case 0x300 <= r && r <= 0x36f || r == '\u00ad': // a combining accent, a soft hyphen
			continue
		case r == 'µ' || r == 'μ':
			plain = "u"
		case r == '°':
			plain = "°"
		case r >= 0xc0 && r < 0x180:
			plain = latin(unicode.ToLower(r))
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			plain = string(unicode.ToLower(r))
		}
		if plain == "" {
			if b[len(b)-1] != ' ' {
				b = append(b, ' ')
			}
			joint = 0
			continue
		}
		if joint != 0 {
			if joint != ' ' || b[len(b)-1] != ' ' {
				b = append(b, joint)
			}
			joint = 0
		}
		b = append(b, plain...)
	}
	if b[len(b)-1] != ' ' {
		b = append(b, ' ')
	}
	return string(b)
}

// latin is a small letter of the Latin-1 and Latin Extended-A blocks without its accent; "" for a sign.
func latin(r rune) string {
	for _, s := range [...]struct{ plain, accented string }{
		{"a", "àáâãäåāăą"}, {"ae", "æ"}, {"c", "çćĉċč"}, {"d", "ďđð"}, {"e", "èéêëēĕėęě"}, {"g", "ĝğġģ"}, {"h", "ĥħ"}, {"i", "ìíîïĩīĭįı"}, {"j", "ĵ"},
		{"k", "ķ"}, {"l", "ĺļľŀł"}, {"n", "ñńņňŉŋ"}, {"o", "òóôõöøōŏő"}, {"oe", "œ"}, {"r", "ŕŗř"}, {"s", "śŝşšſ"}, {"ss", "ß"}, {"t", "ţťŧ"},
		{"th", "þ"}, {"u", "ùúûüũūŭůűų"}, {"w", "ŵ"}, {"y", "ýÿŷ"}, {"z", "źżž"},
	} {
		if strings.ContainsRune(s.accented, r) {
			return s.plain
		}
	}
	return ""
}

// number prints v with so many significant digits, without zeros that say nothing.
func number(v float64, digits int) string {
	a := math.Abs(v)
	if a == 0 {
		return "0"
	}
	if !(a >= 1e-9 && a < 1e15) {
		return strconv.FormatFloat(v, 'g', digits, 64)
	}
	s := strconv.FormatFloat(v, 'f', max(0, digits-1-int(math.Floor(math.Log10(a)))), 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

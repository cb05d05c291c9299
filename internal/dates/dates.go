// Package dates reads and writes days and times as they stand in records and certificates.
//
// It is the small part of package time that the page needs, in the Gregorian calendar carried backwards, at a fraction of its size in the page's program. The tests hold it to package
// time, form by form.
package dates

import (
	"strconv"
	"strings"
)

// A Time is a second, counted from 1970-01-01 00:00 UTC; days before are negative.
type Time int64

// Day is the length of a day.
const Day Time = 86400

// Of is a day of the calendar, month and day from 1, at an hour and minute. A month or a day beyond the calendar's counts on.
func Of(year, month, day, hour, minute int) Time {
	year, month = year+(month-1)/12, (month-1)%12+1
	if month < 1 {
		year, month = year-1, month+12
	}
	// Days from 0000-03-01 by eras of 400 years, which begin in March so that the leap day comes last.
	y, m := year, month-3
	if m < 0 {
		y, m = y-1, m+12
	}
	era := y / 400
	if y < 0 {
		era = (y - 399) / 400
	}
	ofEra := y - era*400
	days := era*146097 + ofEra*365 + ofEra/4 - ofEra/100 + (153*m+2)/5 + day - 1 - 719468
	return Time(days)*Day + Time(hour*3600+minute*60)
}

// Date is the day of the calendar.
func (t Time) Date() (year, month, day int) {
	z := int(t / Day)
	if t < 0 && t%Day != 0 {
		z--
	}
	z += 719468
	era := z / 146097
	if z < 0 {
		era = (z - 146096) / 146097
	}
	d := z - era*146097
	y := (d - d/1460 + d/36524 - d/146096) / 365
	d -= 365*y + y/4 - y/100
	m := (5*d + 2) / 153
	day = d - (153*m+2)/5 + 1
	if month, year = m+3, y+era*400; month > 12 {
		month, year = month-12, year+1
	}
	return year, month, day
}

// String is the day as 2006-01-02, of the years 0 to 9999.
func (t Time) String() string {
	y, m, d := t.Date()
	return padded(y, 4) + "-" + padded(m, 2) + "-" + padded(d, 2)
}

// Clock is the day and the minute as 2006-01-02 15:04.
func (t Time) Clock() string {
	s := int((t%Day + Day) % Day)
	return t.String() + " " + padded(s/3600, 2) + ":" + padded(s/60%60, 2)
}

// Long is the day and the minute as 2 January 2006, 15:04.
func (t Time) Long() string {
	y, m, d := t.Date()
	return strconv.Itoa(d) + " " + months[m-1] + " " + padded(y, 4) + ", " + t.Clock()[11:]
}

func padded(n, width int) string {
	s := strconv.Itoa(n)
	return strings.Repeat("0", max(width-len(s), 0)) + s
}

var months = strings.Fields("January February March April May June July August September October November December")

// ParseDay reads a day as 2006-01-02 and nothing else.
func ParseDay(s string) (Time, bool) { return Parse("Y-M-D", s) }

// ParseTime reads a time as the program writes it when somebody signs, as RFC 3339 with its offset, or a day alone. Parts of a second count for nothing.
func ParseTime(s string) (Time, bool) {
	for _, form := range [...]string{"Y-M-DTh:m:sZ", "Y-M-D h:m:s", "Y-M-D h:m", "Y-M-DTh:m", "Y-M-D"} {
		if t, ok := Parse(form, s); ok {
			return t, true
		}
	}
	return 0, false
}

// Parse reads a text of one form: Y four digits of a year, M two of a month, D two of a day, d one or two of a day, N the name of a month or its first three letters in letters of either
// size, h one or two digits of an hour, m two of a minute, s two of a second with what follows a point or comma, Z the letter Z or an offset as +01:00; any other sign is itself, a blank one
// or more. ok is false for any other text, and for a day that the month does not have.
func Parse(form, s string) (t Time, ok bool) {
	p := parser{rest: s, month: 1, day: 1}
	for _, c := range []byte(form) {
		if !p.take(c) {
			return 0, false
		}
	}
	t = Of(p.year, p.month, p.day, p.hour, p.minute-p.offset) + Time(p.second)
	y, m, _ := Of(p.year, p.month, p.day, 0, 0).Date()
	return t, p.rest == "" && y == p.year && m == p.month
}

// A parser is a text that is read from its front.
type parser struct {
	rest                                           string
	year, month, day, hour, minute, second, offset int
}

// number takes a number of some digits off the front, least to most of them, which lies from low to high.
func (p *parser) number(to *int, least, most, low, high int) bool {
	k, n := 0, 0
	for k < len(p.rest) && k < most && p.rest[k]-'0' < 10 {
		n = n*10 + int(p.rest[k]-'0')
		k++
	}
	p.rest, *to = p.rest[k:], n
	return k >= least && n >= low && n <= high
}

// take takes what one sign of a form stands for off the front.
func (p *parser) take(c byte) bool {
	switch c {
	case 'Y':
		return p.number(&p.year, 4, 4, 0, 9999)
	case 'M':
		return p.number(&p.month, 2, 2, 1, 12)
	case 'D':
		return p.number(&p.day, 2, 2, 1, 31)
	case 'd':
		return p.number(&p.day, 1, 2, 1, 31)
	case 'h':
		return p.number(&p.hour, 1, 2, 0, 23)
	case 'm':
		return p.number(&p.minute, 2, 2, 0, 59)
	case 's':
		ok := p.number(&p.second, 2, 2, 0, 59)
		if r := p.rest; len(r) > 1 && (r[0] == '.' || r[0] == ',') && r[1]-'0' < 10 {
			p.rest = strings.TrimLeft(r[1:], "0123456789")
		}
		return ok
	case 'N':
		return p.monthNamed()
	case 'Z':
		return p.zone()
	}
	if p.rest == "" || p.rest[0] != c {
		return false
	}
	if p.rest = p.rest[1:]; c == ' ' {
		p.rest = strings.TrimLeft(p.rest, " ")
	}
	return true
}

// zone takes Z or an offset.
func (p *parser) zone() bool {
	if strings.HasPrefix(p.rest, "Z") {
		p.rest = p.rest[1:]
		return true
	}
	if len(p.rest) != 6 || p.rest[0] != '+' && p.rest[0] != '-' {
		return false
	}
	minus := p.rest[0] == '-'
	p.rest = p.rest[1:]
	hours, minutes := 0, 0
	ok := p.number(&hours, 2, 2, 0, 23) && p.take(':') && p.number(&minutes, 2, 2, 0, 59)
	if p.offset = hours*60 + minutes; minus {
		p.offset = -p.offset
	}
	return ok
}

// monthNamed takes the name of a month: the whole name or its first three letters.
func (p *parser) monthNamed() bool {
	letters := 0
	for letters < len(p.rest) && (p.rest[letters]|0x20)-'a' < 26 {
		letters++
	}
	for i, name := range months {
		if said := p.rest[:letters]; strings.EqualFold(said, name) || strings.EqualFold(said, name[:3]) {
			p.month, p.rest = i+1, p.rest[letters:]
			return true
		}
	}
	return false
}

// ParseLast reads the last day that something holds, as certificates give it: 2026-04-30, 2026/04/30, 30 Apr 2026, 30-Apr-2026, April 30, 2026; and a month, as 2026-04 or April 2026, to its
// end. ok is false for a text that names no day, or that can be read in two ways, as 04/05/2026.
func ParseLast(s string) (day Time, ok bool) {
	s = strings.Join(strings.Fields(strings.ReplaceAll(s, ",", " ")), " ")
	for _, form := range [...]string{"Y-M-D", "Y/M/D", "d N Y", "N d Y", "d-N-Y"} {
		if t, ok := Parse(form, s); ok {
			return t, true
		}
	}
	for _, form := range [...]string{"Y-M", "N Y"} {
		if t, ok := Parse(form, s); ok {
			y, m, _ := t.Date()
			return Of(y, m+1, 0, 0, 0), true
		}
	}
	return 0, false
}

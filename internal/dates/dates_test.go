package dates

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// The forms, and how package time writes them.
var forms = map[string]string{"Y-M-D": "2006-01-02", "Y/M/D": "2006/01/02", "d N Y": "2 January 2006", "N d Y": "January 2 2006", "d-N-Y": "2-Jan-2006", "Y-M": "2006-01", "N Y": "January 2006",
	"Y-M-DTh:m:sZ": time.RFC3339, "Y-M-D h:m:s": "2006-01-02 15:04:05", "Y-M-D h:m": "2006-01-02 15:04", "Y-M-DTh:m": "2006-01-02T15:04"}

// stdlib is a text read by package time in one of our forms. A name of a month may be short in the long form too.
func stdlib(form, s string) (Time, bool) {
	for _, f := range []string{forms[form], strings.Replace(forms[form], "January", "Jan", 1), strings.Replace(forms[form], "Jan-", "January-", 1)} {
		if t, err := time.Parse(f, s); err == nil {
			return Time(t.Unix()), true
		}
	}
	return 0, false
}

// Source: package time of the Go standard library, over every day of 400 years, which is the calendar's period, and days far off.
func TestCalendar(t *testing.T) {
	check := func(at time.Time) {
		u := Time(at.Unix())
		y, m, d := u.Date()
		if y != at.Year() || m != int(at.Month()) || d != at.Day() {
			t.Fatalf("%s is %d-%d-%d", at, y, m, d)
		}
		if got := Of(y, m, d, at.Hour(), at.Minute()) + Time(at.Second()); got != u {
			t.Fatalf("%s is %d, not %d", at, u, got)
		}
	}
	for day := range 146097 {
		check(time.Date(1899, 12, 31, 23, 59, 58, 0, time.UTC).AddDate(0, 0, day))
	}
	for _, y := range []int{-4801, -401, -400, -1, 0, 1, 4, 1582, 9999, 10000} {
		for _, d := range []int{1, 59, 60, 61, 365, 366} {
			at := time.Date(y, 1, d, 7, 5, 0, 0, time.UTC)
			check(at)
			if u := Time(at.Unix()); y >= 0 && y <= 9999 && at.Year() < 10000 && (u.String() != at.Format("2006-01-02") || u.Clock() != at.Format("2006-01-02 15:04") || u.Long() != at.Format("2 January 2006, 15:04")) {
				t.Errorf("%s: %s, %s, %s", at, u.String(), u.Clock(), u.Long())
			}
		}
	}
	for _, m := range []int{-25, -12, -1, 0, 13, 26} {
		if a, b := Of(2024, m, 31, 0, 0), time.Date(2024, time.Month(m), 31, 0, 0, 0, 0, time.UTC); int64(a) != b.Unix() {
			t.Errorf("month %d: %s and %s", m, a, b)
		}
	}
}

// Texts that are dates, nearly dates and no dates are read as package time reads them, and refused where it does.
func TestParseAsStdlib(t *testing.T) {
	texts := strings.Split("2026-04-30|2026-04-31|2024-02-29|2026-02-29|2100-02-29|2000-02-29|0000-02-29|2026-4-30|2026/04/30|2026-00-10|2026-13-10|2026-04-00|30 Apr 2026|3 Apr 2026|03 april 2026|31 APRIL 2026|"+
		"April 30 2026|Apr 3 2026|30-Apr-2026|30-APR-2026|3-april-2026|2026-04|Apr 2026|September 2026|Sept 2026|Se 2026|2026-04-12 16:40|2026-04-12 6:40|2026-04-12 16:4|2026-04-12 24:00|2026-04-12 23:59|2026-04-12 23:60|"+
		"2026-04-12 16:40:59|2026-04-12 16:40:60|2026-04-12 16:40:59.25|2026-04-12 16:40:59,25|2026-04-12 16:40:59.|2026-04-12T16:40|2026-04-12T16:40:00Z|2026-04-12T16:40:00.123Z|2026-04-12T16:40:00+02:00|"+
		"2026-04-12T16:40:00-05:30|2026-04-12T00:10:00+02:00|2026-04-12T16:40:00+24:00|2026-04-12T16:40:00+02:60|2026-04-12T16:40:00+0200|2026-04-12T16:40:00z|2026-04-12 |"+
		" 2026-04-12|12026-04-12|-026-04-12|2026-04-1a||Y-M-D|2026-04-12T|2026-04-12T16:40:00|9999-12-31|0001-01-01|2026-04-12   16:40", "|")
	r := rand.New(rand.NewPCG(1, 2))
	for _, s := range texts[:len(texts):len(texts)] { // and with one sign changed
		for range 40 {
			if b := []byte(s); len(b) > 0 {
				b[r.IntN(len(b))] = "0123456789-/:.,TZ Aabpril+"[r.IntN(26)]
				texts = append(texts, string(b))
			}
		}
	}
	read := 0
	for _, s := range texts {
		for form := range forms {
			got, ok := Parse(form, s)
			want, is := stdlib(form, s)
			if i := strings.LastIndexAny(s, "+-"); strings.HasSuffix(form, "Z") && i >= 19 && (strings.HasPrefix(s[i+1:], "24:") || strings.HasSuffix(s, ":60")) {
				is = false // RFC 3339, 5.6: time-hour is 00 to 23, time-minute 00 to 59; package time takes one more
			}
			if ok != is || ok && got != want {
				t.Errorf("%q as %s: %d %v, by package time %d %v", s, form, got, ok, want, is)
			}
			if ok {
				read++
			}
		}
	}
	if read < 300 {
		t.Errorf("only %d were dates", read)
	}
}

// Days on certificates and times of signatures, by hand.
func TestParseLast(t *testing.T) {
	for s, want := range map[string]string{"2026-04-30": "2026-04-30", "2026/04/30": "2026-04-30", "30 Apr 2026": "2026-04-30", "April  30, 2026": "2026-04-30", "30-apr-2026": "2026-04-30",
		"2026-02": "2026-02-28", "Feb 2028": "2028-02-29", "December 2026": "2026-12-31", "04/05/2026": "", "30.04.2026": "", "soon": "", "": ""} {
		got, ok := ParseLast(s)
		if ok != (want != "") || ok && got.String() != want {
			t.Errorf("%q: %s %v, want %q", s, got, ok, want)
		}
	}
	for s, want := range map[string]string{"2026-04-12": "2026-04-12 00:00", "2026-04-12 16:40": "2026-04-12 16:40", "2026-04-12T16:40": "2026-04-12 16:40", "2026-04-12 16:40:30": "2026-04-12 16:40",
		"2026-04-12T16:40:00+02:00": "2026-04-12 14:40", "2026-04": "", "12.4.2026": ""} {
		got, ok := ParseTime(s)
		if ok != (want != "") || ok && got.Clock() != want {
			t.Errorf("%q: %s %v, want %q", s, got.Clock(), ok, want)
		}
	}
	if _, ok := ParseDay("2026-04-12 16:40"); ok {
		t.Error("a time is no day")
	}
}

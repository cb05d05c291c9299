package job

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// Quote shows a cell's text in a message.
func Quote(s string) string {
	s = strings.TrimSpace(s)
	const most = 40
	n := 0
	for i := range s {
		if n == most {
			return `"` + s[:i] + `…"`
		}
		n++
	}
	return `"` + s + `"`
}

// largest is the largest number of a cell in base units. A million kilometres is no machine's, and squares of much larger numbers end at infinity, where the
// arithmetic would blame the readings: 1e308 was once told as too short an arc.
const largest = 1e12

// ParseQuantity reads a cell that is not blank in the base unit of its quantity. text is "" if it could be read, else the cause.
func ParseQuantity(s string, q Quantity, unit units.Unit, mark units.Decimal) (x float64, text, hint string) {
	kind := q.Kind()
	v, err := units.Parse(s, kind, unit, mark)
	if err != nil {
		return math.NaN(), err.Msg, err.Hint
	}
	if math.Abs(v.Base) > largest {
		return math.NaN(), words.ProblemTooLargeNumber.Say(Quote(s)), words.HintTooLargeNumber.String()
	}
	switch q {
	case QThickness, QDistance:
		if n := v.Unit.FromBase(v.Base); !v.Own && v.Unit.Division() && math.Abs(n) < 10 && math.Abs(n-math.Round(n)) > 1e-9 {
			return math.NaN(), words.ProblemDivisions.Say(Quote(s), v.Unit), words.HintDivisions.Say(v.Unit)
		}
	case QExpansion:
		if NearMillion(v.Base) {
			return math.NaN(), words.ProblemMillion.Say(Quote(s), v.Unit), words.HintMillion.String()
		}
	case QTemperature:
		if v.Unit == units.Kelvin && v.Base < -100 {
			return math.NaN(), words.ProblemKelvin.Say(Quote(s), strconv.FormatFloat(v.Base, 'f', 0, 64)), words.HintKelvin.String()
		}
	case QCount:
		if v.Base < 0 || v.Base != math.Trunc(v.Base) || v.Base > 1e9 || v.Unit != units.None {
			return math.NaN(), words.ProblemNotACount.Say(Quote(s)), words.HintCount.String()
		}
	case QNumber:
		if v.Unit != units.None {
			return math.NaN(), words.ProblemNotPlain.Say(Quote(s)), words.HintPlain.String()
		}
	case QShare:
		if !v.Own && v.Base != 0 && v.Base < 0.01 && v.Base > -0.01 {
			return math.NaN(), words.ProblemShareUnclear.Say(Quote(s)), words.HintShare.String()
		}
	}
	return v.Base, "", ""
}

// ParseAngle reads a position on the clock in degrees: degrees, or hours as in 3 o'clock and 3h.
// 10:30 is half past ten. own says that the text bore a unit.
func ParseAngle(s string, unit units.Unit, mark units.Decimal) (deg float64, own bool, text, hint string) {
	t := strings.TrimSpace(s)
	if h, m, ok := strings.Cut(t, ":"); ok && (m == "00" || m == "30" || m == "15" || m == "45") {
		if v, e := units.Parse(h, units.Number, units.None, mark); e == nil && v.Base >= 0 && v.Base <= 12 && v.Base == math.Trunc(v.Base) {
			quarter := map[string]float64{"00": 0, "15": 7.5, "30": 15, "45": 22.5}[m]
			return v.Base*30 + quarter, true, "", ""
		}
	}
	v, err := units.Parse(t, units.Angle, unit, mark)
	if err != nil && len(t) > 1 && (t[len(t)-1] == 'h' || t[len(t)-1] == 'H') {
		var e *units.Error
		if v, e = units.Parse(t[:len(t)-1], units.Angle, units.ClockHour, mark); e == nil {
			err, v.Own = nil, true
		}
	}
	if err != nil {
		return math.NaN(), false, err.Msg, err.Hint
	}
	if v.Base < -3600 || v.Base > 3600 {
		return math.NaN(), false, words.ProblemAngleRange.Say(Quote(s)), words.HintAngle.String()
	}
	return v.Base, v.Own, "", ""
}

// ParseSweep reads "0:0 45:-0.12 90:-0.20" into angles in degrees and readings in mm, appended to the two slices. Pairs are parted by blanks or
// semicolons; angle and reading by a colon; a reading may bear a unit, with a blank between or none.
//
// Angles that could be hours, and readings of which some bear a unit and others would be read in another, are refused.
func ParseSweep(s string, unit units.Unit, mark units.Decimal, angle, reading []float64) (a, r []float64, text, hint string) {
	from, bareAngles, bareReadings, owned, typed := len(angle), 0, false, false, units.None
	if len(s) > MaxSweep {
		return angle, reading, words.ProblemSweepLong.Say(MaxSweep), words.HintSweep.String()
	}
	rest := s
	n := 0
	for {
		rest = strings.TrimLeftFunc(rest, isSweepGap)
		if rest == "" {
			break
		}
		n++
		colon := strings.IndexByte(rest, ':')
		if colon < 0 {
			return angle, reading, words.ProblemSweepPair.Say(n, Quote(rest)), words.HintSweep.String()
		}
		at, behind := rest[:colon], rest[colon+1:]
		value := behind
		rest = ""
		if next := strings.IndexByte(behind, ':'); next >= 0 {
			cut := strings.LastIndexFunc(strings.TrimRightFunc(behind[:next], isSweepGap), isSweepGap)
			if cut < 0 {
				return angle, reading, words.ProblemSweepPair.Say(n, Quote(behind[:next+1])), words.HintSweep.String()
			}
			value, rest = behind[:cut], behind[cut:]
		}
		value = strings.TrimFunc(value, isSweepGap)
		if strings.TrimSpace(at) == "" || value == "" {
			return angle, reading, words.ProblemSweepPair.Say(n, Quote(at+":"+value)), words.HintSweep.String()
		}
		deg, own, cause, hint := ParseAngle(at, units.Degree, mark)
		if cause != "" {
			return angle, reading, words.ProblemSweepAt.Say(n, cause), hint
		}
		v, err := units.Parse(value, units.Length, unit, mark)
		if err != nil {
			return angle, reading, words.ProblemSweepAt.Say(n, err.Msg), err.Hint
		}
		if math.Abs(v.Base) > largest {
			return angle, reading, words.ProblemSweepAt.Say(n, words.ProblemTooLargeNumber.Say(Quote(value))), words.HintTooLargeNumber.String()
		}
		angle, reading = append(angle, deg), append(reading, v.Base)
		if !own {
			bareAngles++
		}
		switch {
		case !v.Own:
			typed, bareReadings = units.None, bareReadings || v.Base != 0
		case !owned:
			typed = v.Unit // the last one's, and no other's: it could be meant for all
		}
		owned = owned || v.Own
	}
	if bareAngles == n && LooksLikeHours(angle[from:]) {
		return angle, reading, words.ProblemHoursOrDegrees.String(), words.HintAngles.String()
	}
	if MixedUnits(typed, unit, bareReadings) {
		return angle, reading, words.ProblemMixedUnits.Say(Quote(s), typed, unit), words.HintMixedUnits.String()
	}
	return angle, reading, "", ""
}

// MaxSweep is the longest text taken for a sweep, in bytes.
const MaxSweep = 20_000

func isSweepGap(r rune) bool {
	return r == ' ' || r == ';' || r == '\t' || r == '\n' || r == '\r' || r == '\u00a0' || r == '\u202f'
}

// ParseDistances reads a list of distances parted by semicolons, or by blanks where there is none. A unit goes with the number before it.
func ParseDistances(s string, unit units.Unit, mark units.Decimal, dst []float64) (list []float64, text, hint string) {
	list = dst
	bare, typed := false, units.None
	defer func() {
		if text == "" && MixedUnits(typed, unit, bare) {
			text, hint = words.ProblemMixedUnits.Say(Quote(s), typed, unit), words.HintMixedUnits.String()
		}
	}()
	one := func(w string) bool {
		if v, err := units.Parse(w, units.Length, unit, mark); err == nil && v.Own {
			typed = v.Unit
		} else {
			bare = true
		}
		var x float64
		if x, text, hint = ParseQuantity(w, QDistance, unit, mark); text != "" {
			return false
		}
		if !(x > 0) {
			text, hint = words.ProblemTooSmall.Say(Quote(w)), words.HintPositive.String()
			return false
		}
		list = append(list, x)
		return true
	}
	if strings.Contains(s, ";") {
		for w := range strings.SplitSeq(s, ";") {
			if !Blank(w) && !one(w) {
				return
			}
		}
		return
	}
	parts := strings.Fields(s)
	for i := 0; i < len(parts); {
		w := parts[i]
		for i++; i < len(parts); i++ {
			c := parts[i][0]
			if c >= '0' && c <= '9' && !strings.Contains(parts[i], "/") || c == '-' || c == '+' || c == '.' || c == ',' {
				break
			}
			w += " " + parts[i]
		}
		if !one(w) {
			return
		}
	}
	return
}

// LooksLikeHours says whether angles in degrees are all 12 or less and stand on whole or half hours, at more than one place.
func LooksLikeHours(deg []float64) bool {
	for _, a := range deg {
		if a < 0 || a > 12 || math.Mod(a, 0.5) != 0 {
			return false
		}
	}
	return len(deg) > 1 && slices.Max(deg) >= 3
}

// MixedUnits says whether some of the amounts of one cell bear a unit and others do not, and what the bare ones would be read in is another: 20+5 mil among millimetres.
func MixedUnits(own, bare units.Unit, anyBare bool) bool {
	return anyBare && own != units.None && own != bare
}

// NearMillion says whether a coefficient of expansion is a factor of a million off: no solid grows so little, or so much.
func NearMillion(x float64) bool {
	return x != 0 && (math.Abs(x) < 0.01 || math.Abs(x) > 10_000)
}

package units

import (
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"shimsheet/internal/words"
)

// The units. A mil is a thousandth of an inch. Units whose name says Slope, Diff or Per are kept apart from their namesakes
// because the same sign means another kind there: 5 °C on a scale is 41 °F, a rise of 5 °C is a rise of 9 °F.
const (
	None    Unit = iota // a plain number; as the default of another kind: no default
	Percent             // hundredth

	MM
	M
	CM
	Micron
	Inch
	Foot
	Mil
	HundredthMM // a division of the usual metric dial, in headers only
	TenthMil    // a ten-thousandth of an inch, in headers only

	MMPerM
	MRad
	MilPerInch
	MilPer10Inch
	MilPerFoot
	InchPerFoot
	InchPer10Inch
	InchPerInch
	MMPer100MM
	MMPerMM
	MicronPerMM
	MicronPer100MM
	MicronPerM
	DegreeSlope    // the slope is the tangent
	ArcMinuteSlope // the slope is the tangent
	ArcSecondSlope // the slope is the tangent

	Degree
	ClockHour // 30°: 3 o'clock is 90°

	Celsius
	Fahrenheit
	Kelvin

	CelsiusDiff
	KelvinDiff
	FahrenheitDiff

	RPM
	PerSecond
	Hertz

	Newton
	KiloNewton
	PoundForce

	NewtonMetre
	PoundFoot
	PoundInch

	Pascal
	KiloPascal
	MegaPascal
	Bar
	PSI
	KSI

	Kilogram
	Gram
	Tonne
	Pound

	PerKelvin            // 1e-6/K
	MicronPerMetreKelvin // the same number
	PerFahrenheit        // 1e-6/°F
	OnePerKelvin         // 1/K
	OnePerFahrenheit     // 1/°F

	numUnits
)

// def is a row of the table. A linear unit has base = (num·v + add)/den with whole numbers that are each exact as a float64; they are written as constant expressions of the defining numbers. A unit with perDegree is a slope
// given by its angle: base = 1000·tan(v/perDegree degrees).
type def struct {
	kind          Kind
	name          string // as printed
	num, add, den int64
	perDegree     float64
	factor        string // what the reference prints behind "1 name ="; a test works it out and compares
	also          string // further spellings, spaces between
}

// The defining numbers of the pound-force: 0.45359237 kg and 9.80665 m/s², both exact.
const (
	lbfNum = 45359237 * 980665
	lbfDen = 1e8 * 1e5
)

var kelvinWords, fahrenheitWords = "K kelvin °C C degC", "°F F degF"

var defs = [numUnits]def{
	None:    {kind: Number, name: "1", num: 1, den: 1, factor: "1"},
	Percent: {kind: Number, name: "%", num: 1, den: 100, factor: "1/100", also: "percent"},

	MM:          {kind: Length, name: "mm", num: 1, den: 1, factor: "1 mm", also: "millimetre millimetres millimeter millimeters"},
	M:           {kind: Length, name: "m", num: 1000, den: 1, factor: "1000 mm", also: "metre metres meter meters"},
	CM:          {kind: Length, name: "cm", num: 10, den: 1, factor: "10 mm", also: "centimetre centimetres centimeter centimeters"},
	Micron:      {kind: Length, name: "µm", num: 1, den: 1000, factor: "1/1000 mm", also: "um µ micron microns micrometre micrometres micrometer micrometers"},
	Inch:        {kind: Length, name: "in", num: 254, den: 10, factor: "25.4 mm", also: `inch inches " ''`},
	Foot:        {kind: Length, name: "ft", num: 12 * 254, den: 10, factor: "12 × 25.4 mm", also: `foot feet '`},
	Mil:         {kind: Length, name: "mil", num: 254, den: 10 * 1000, factor: "25.4/1000 mm", also: "mils thou thous"},
	HundredthMM: {kind: Length, name: "0.01 mm", num: 1, den: 100, factor: "1/100 mm"},
	TenthMil:    {kind: Length, name: "0.0001 in", num: 254, den: 10 * 10000, factor: "25.4/10000 mm"},

	MMPerM:         {kind: Slope, name: "mm/m", num: 1, den: 1, factor: "1 mm/m", also: "mm/1m mm/1000mm mm/metre mm/meter"},
	MRad:           {kind: Slope, name: "mrad", num: 1, den: 1, factor: "1 mm/m", also: "mrads milliradian milliradians"},
	MilPerInch:     {kind: Slope, name: "mil/in", num: 1, den: 1, factor: "1 mm/m", also: `mils/in mil/inch mils/inch mil/" mils/" thou/in thou/inch thou/" mil/1in thou/1in`},
	MilPer10Inch:   {kind: Slope, name: "mil/10in", num: 1, den: 10, factor: "1/10 mm/m", also: `mils/10in mil/10inch mils/10inch mil/10inches mils/10inches mil/10" mils/10" thou/10in thou/10inch thou/10inches thou/10"`},
	MilPerFoot:     {kind: Slope, name: "mil/ft", num: 1, den: 12, factor: "1/12 mm/m", also: "mils/ft mil/foot mils/foot thou/ft thou/foot"},
	InchPerFoot:    {kind: Slope, name: "in/ft", num: 1000, den: 12, factor: "1000/12 mm/m", also: `inch/ft in/foot inch/foot inches/ft inches/foot "/ft "/' in/12in`},
	InchPer10Inch:  {kind: Slope, name: "in/10in", num: 1000, den: 10, factor: "1000/10 mm/m", also: `inch/10in in/10inch inch/10inch inches/10inches "/10"`},
	InchPerInch:    {kind: Slope, name: "in/in", num: 1000, den: 1, factor: "1000 mm/m", also: `inch/inch "/"`},
	MMPer100MM:     {kind: Slope, name: "mm/100mm", num: 1000, den: 100, factor: "1000/100 mm/m", also: ""},
	MMPerMM:        {kind: Slope, name: "mm/mm", num: 1000, den: 1, factor: "1000 mm/m", also: "m/m"},
	MicronPerMM:    {kind: Slope, name: "µm/mm", num: 1, den: 1, factor: "1 mm/m", also: "um/mm micron/mm microns/mm"},
	MicronPer100MM: {kind: Slope, name: "µm/100mm", num: 1, den: 100, factor: "1/100 mm/m", also: "um/100mm micron/100mm microns/100mm"},
	MicronPerM:     {kind: Slope, name: "µm/m", num: 1, den: 1000, factor: "1/1000 mm/m", also: "um/m micron/m microns/m"},
	DegreeSlope:    {kind: Slope, name: "°", perDegree: 1, factor: "the tangent: 1000 tan 1° mm/m", also: "deg degree degrees"},
	ArcMinuteSlope: {kind: Slope, name: "arcmin", perDegree: 60, factor: "the tangent: 1000 tan (1/60)° mm/m", also: "' arcminute arcminutes minuteofarc minutesofarc"},
	ArcSecondSlope: {kind: Slope, name: "arcsec", perDegree: 3600, factor: "the tangent: 1000 tan (1/3600)° mm/m", also: `" '' arcsecond arcseconds secondofarc secondsofarc`},

	Degree:    {kind: Angle, name: "°", num: 1, den: 1, factor: "1°", also: "deg degree degrees"},
	ClockHour: {kind: Angle, name: "o'clock", num: 30, den: 1, factor: "30°", also: "oclock"},

	Celsius:    {kind: Temperature, name: "°C", num: 1, den: 1, factor: "v °C", also: "C degC degreeC degreesC celsius"},
	Fahrenheit: {kind: Temperature, name: "°F", num: 5, add: -5 * 32, den: 9, factor: "(v − 32) × 5/9 °C", also: "F degF degreeF degreesF fahrenheit"},
	Kelvin:     {kind: Temperature, name: "K", num: 100, add: -27315, den: 100, factor: "(v − 273.15) °C", also: "kelvin"},

	CelsiusDiff:    {kind: TemperatureDifference, name: "°C", num: 1, den: 1, factor: "1 K", also: "C degC degreeC degreesC celsius Δ°C ΔC"},
	KelvinDiff:     {kind: TemperatureDifference, name: "K", num: 1, den: 1, factor: "1 K", also: "kelvin ΔK"},
	FahrenheitDiff: {kind: TemperatureDifference, name: "°F", num: 5, den: 9, factor: "5/9 K", also: "F degF degreeF degreesF fahrenheit Δ°F ΔF"},

	RPM:       {kind: Speed, name: "rpm", num: 1, den: 1, factor: "1 r/min", also: "r/min rev/min revs/min 1/min /min min-1 u/min tr/min"},
	PerSecond: {kind: Speed, name: "1/s", num: 60, den: 1, factor: "60 r/min", also: "/s s-1 r/s rev/s revs/s rps"},
	Hertz:     {kind: Speed, name: "Hz", num: 60, den: 1, factor: "60 r/min", also: "hertz"},

	Newton:     {kind: Force, name: "N", num: 1, den: 1, factor: "1 N", also: "newton newtons"},
	KiloNewton: {kind: Force, name: "kN", num: 1000, den: 1, factor: "1000 N", also: "kilonewton kilonewtons"},
	PoundForce: {kind: Force, name: "lbf", num: lbfNum, den: lbfDen, factor: "0.45359237 × 9.80665 N", also: "lb lbs lbsf poundforce poundsforce"},

	NewtonMetre: {kind: Torque, name: "N·m", num: 1, den: 1, factor: "1 N·m", also: "newtonmetre newtonmetres newtonmeter newtonmeters"},
	PoundFoot:   {kind: Torque, name: "lbf·ft", num: lbfNum * 3048 / 40, den: lbfDen * 10000 / 40, factor: "0.45359237 × 9.80665 × 0.3048 N·m", also: "lb·ft lbs·ft ft·lbf ft·lb ft·lbs foot·pound foot·pounds pound·foot pound·feet"},
	PoundInch:   {kind: Torque, name: "lbf·in", num: lbfNum * 254 / 10, den: lbfDen * 10000 / 10, factor: "0.45359237 × 9.80665 × 0.0254 N·m", also: "lb·in lbs·in in·lbf in·lb in·lbs inch·pound inch·pounds"},

	Pascal:     {kind: Pressure, name: "Pa", num: 1, den: 1e6, factor: "1/1000000 MPa", also: "pascal N/m2"},
	KiloPascal: {kind: Pressure, name: "kPa", num: 1, den: 1000, factor: "1/1000 MPa", also: ""},
	MegaPascal: {kind: Pressure, name: "MPa", num: 1, den: 1, factor: "1 MPa", also: "N/mm2"},
	Bar:        {kind: Pressure, name: "bar", num: 1, den: 10, factor: "1/10 MPa", also: "bars"},
	PSI:        {kind: Pressure, name: "psi", num: lbfNum, den: lbfDen / 100 * 254 * 254, factor: "0.45359237 × 9.80665/25.4/25.4 MPa", also: "lbf/in2 lb/in2"},
	KSI:        {kind: Pressure, name: "ksi", num: lbfNum, den: lbfDen / 100000 * 254 * 254, factor: "1000 × 0.45359237 × 9.80665/25.4/25.4 MPa", also: "kpsi"},

	Kilogram: {kind: Mass, name: "kg", num: 1, den: 1, factor: "1 kg", also: "kgs kilogram kilograms kilo kilos"},
	Gram:     {kind: Mass, name: "g", num: 1, den: 1000, factor: "1/1000 kg", also: "gram grams"},
	Tonne:    {kind: Mass, name: "t", num: 1000, den: 1, factor: "1000 kg", also: "tonne tonnes"},
	Pound:    {kind: Mass, name: "lb", num: 45359237, den: 1e8, factor: "0.45359237 kg", also: "lbs lbm pound pounds"},

	PerKelvin:            {kind: Expansion, name: "1e-6/K", num: 1, den: 1, factor: "1 × 1e-6/K", also: times("1e-6/ 10-6/ x10-6/ e-6/ ppm/", kelvinWords)},
	MicronPerMetreKelvin: {kind: Expansion, name: "µm/m·K", num: 1, den: 1, factor: "1 × 1e-6/K", also: times("µm/m µm/m/ um/m um/m/", kelvinWords)},
	PerFahrenheit:        {kind: Expansion, name: "1e-6/°F", num: 9, den: 5, factor: "9/5 × 1e-6/K", also: times("1e-6/ 10-6/ x10-6/ e-6/ ppm/ µin/in µin/in/ uin/in uin/in/ microinch/inch microinch/inch/", fahrenheitWords)},
	OnePerKelvin:         {kind: Expansion, name: "1/K", num: 1e6, den: 1, factor: "1000000 × 1e-6/K", also: times("1/ / mm/mm mm/mm/ m/m m/m/", kelvinWords) + " K-1"},
	OnePerFahrenheit:     {kind: Expansion, name: "1/°F", num: 9e6, den: 5, factor: "9/5 × 1000000 × 1e-6/K", also: times("1/ / in/in in/in/", fahrenheitWords)},
}

// times joins every first word with every second word.
func times(first, second string) string {
	var b strings.Builder
	for _, f := range strings.Fields(first) {
		for _, s := range strings.Fields(second) {
			b.WriteString(f + s + " ")
		}
	}
	return b.String()
}

// unitWords leads from a spelling, as printed and normalised, to the unit, a map a kind.
var unitWords [numKinds]map[string]Unit

func init() {
	for k := range unitWords {
		unitWords[k] = map[string]Unit{}
	}
	for u := None + 1; u < numUnits; u++ {
		if u.Division() {
			continue
		}
		d := &defs[u]
		unitWords[d.kind][d.name] = u
		for _, w := range spellings(u) {
			var buf [maxWord]byte
			key, ok := normalise(buf[:], w)
			if old, taken := unitWords[d.kind][string(key)]; !ok || taken && old != u {
				panic("units: spelling " + w + " of " + d.name + " is too long or taken by " + old.String())
			}
			unitWords[d.kind][string(key)] = u
		}
	}
}

func spellings(u Unit) []string {
	d := &defs[u]
	list := []string{d.name}
	for _, w := range strings.Fields(d.also) {
		if !slices.Contains(list, w) {
			list = append(list, w)
		}
	}
	return list
}

var kindNames = [numKinds]words.Key{words.MeasureNumber, words.MeasureLength, words.MeasureSlope, words.MeasureAngle, words.MeasureTemperature, words.MeasureTemperatureDifference, words.MeasureSpeed,
	words.MeasureForce, words.MeasureTorque, words.MeasurePressure, words.MeasureMass, words.MeasureExpansion}

var kindBases = [numKinds]Unit{None, MM, MMPerM, Degree, Celsius, KelvinDiff, RPM, Newton, NewtonMetre, MegaPascal, Kilogram, PerKelvin}

// String names the kind with its article, as messages use it: "a length".
func (k Kind) String() string { return kindNames[k].String() }

// Base returns the unit the rest of the program computes in.
func (k Kind) Base() Unit { return kindBases[k] }

// Kind returns what the unit measures.
func (u Unit) Kind() Kind { return defs[u].kind }

// String returns the unit as printed, such as "mm", "mil/in", "°C"; "" for None.
func (u Unit) String() string {
	if u == None {
		return ""
	}
	return defs[u].name
}

// ToBase converts v in unit u to the base unit of its kind.
//
//	base = (num·v + add)/den     with whole num, add, den
//	base = 1000 tan v            slopes given by their angle; NaN from 90° up
//
// Accuracy: num, add and den are exact, so a linear factor costs two roundings, at most 2^-52 of the value; a temperature
// loses no more than 2^-51 of the sum of its two readings and 460. A tangent is good to 1e-14 of its value. [Parse] does better
// for linear units: it rounds once. NaN gives NaN.
//
// Reference: NIST SP 811 (2008), app. B.8, for inch, foot, pound and pound-force; the rest by definition.
func (u Unit) ToBase(v float64) float64 {
	d := &defs[u]
	if d.perDegree != 0 {
		deg := v / d.perDegree
		if !(math.Abs(deg) < 90) {
			return math.NaN()
		}
		return 1000 * math.Tan(deg*(math.Pi/180))
	}
	// The conversion stops a fused multiply-add: the same bits on every machine.
	return (float64(v*float64(d.num)) + float64(d.add)) / float64(d.den)
}

// FromBase converts b in the base unit to unit u: the inverse of [Unit.ToBase], with the same accuracy.
func (u Unit) FromBase(b float64) float64 {
	d := &defs[u]
	if d.perDegree != 0 {
		return math.Atan(b/1000) * (180 / math.Pi) * d.perDegree
	}
	return (float64(b*float64(d.den)) - float64(d.add)) / float64(d.num)
}

// ratToBase is ToBase of p/q, q > 0, rounded once as long as the whole numbers stay below 2^53.
func (u Unit) ratToBase(p, q int64) float64 {
	d := &defs[u]
	const limit = 1 << 53
	fp, fq := float64(p), float64(q)
	if d.perDegree != 0 || !(math.Abs(fp)*float64(d.num) < limit/2 && fq*math.Abs(float64(d.add)) < limit/2 && fq*float64(d.den) < limit) {
		return u.ToBase(fp / fq)
	}
	return float64(p*d.num+q*d.add) / float64(q*d.den)
}

// An Entry is one unit as the reference lists it.
type Entry struct {
	Unit      Unit
	Spellings []string // every spelling taken, the printed one first; case, spaces, points and raised dots do not matter
	Factor    string   // what one of it is in the base unit
}

// Table lists every unit of a kind, for the printed reference.
func Table(k Kind) []Entry {
	var list []Entry
	for u := None + 1; u < numUnits; u++ {
		if defs[u].kind == k && !u.Division() {
			list = append(list, Entry{u, spellings(u), defs[u].factor})
		}
	}
	return list
}

// Kinds lists every kind in order.
func Kinds() []Kind {
	list := make([]Kind, numKinds)
	for k := range list {
		list[k] = Kind(k)
	}
	return list
}

// Spellings lists every spelling of every unit of the kind.
func Spellings(k Kind) []string {
	var list []string
	for _, e := range Table(k) {
		list = append(list, e.Spellings...)
	}
	return list
}

// ParseUnit reads the unit in a column's header: "mm", "mil/in", "µm", "um", "°C", `"`, "in/10in".
// Case, spaces, points, raised dots and brackets do not matter, and "per" is "/". ok is false for a word of another kind.
func ParseUnit(s string, want Kind) (u Unit, ok bool) {
	if u, ok = unitWords[want][s]; ok {
		return u, true
	}
	var buf [maxWord]byte
	key, ok := normalise(buf[:], s)
	if !ok || strings.Contains(s, "mPa") { // a millipascal is no pressure here, and a thousand million times off
		return None, false
	}
	u, ok = unitWords[want][string(key)]
	return u, ok
}

// Division says whether the unit is a division of a dial. It stands in headers only: behind a number nobody could tell where the number ends.
func (u Unit) Division() bool { return u == HundredthMM || u == TenthMil }

// divisions leads from what people write over readings taken in divisions of a dial to the unit; case, blanks and brackets do not matter.
var divisions = map[string]Unit{
	"0.01mm": HundredthMM, "0,01mm": HundredthMM, "1/100mm": HundredthMM, "hundredthmm": HundredthMM, "hundredthsmm": HundredthMM, "hundredthsofmm": HundredthMM, "hundredthsofamm": HundredthMM,
	"hundredthsofamillimetre": HundredthMM, "hundredthsofamillimeter": HundredthMM,
	"0.001mm": Micron, "0,001mm": Micron, "1/1000mm": Micron, "thousandthsofamm": Micron,
	"0.001in": Mil, "0,001in": Mil, "1/1000in": Mil, "0.001inch": Mil, "1/1000inch": Mil, `0.001"`: Mil, `1/1000"`: Mil, "thousandthsofaninch": Mil, "thousandthsinch": Mil,
	"0.0001in": TenthMil, "0,0001in": TenthMil, "1/10000in": TenthMil, "0.0001inch": TenthMil, "1/10000inch": TenthMil, `0.0001"`: TenthMil,
}

// ParseHeaderUnit is [ParseUnit] that takes divisions of a dial too, as they stand over a column: "0.01 mm", "1/100 mm", "0.001 in".
func ParseHeaderUnit(s string, want Kind) (u Unit, ok bool) {
	if u, ok = ParseUnit(s, want); ok || want != Length || len(s) > maxWord {
		return u, ok
	}
	u, ok = divisions[strings.Map(func(r rune) rune {
		switch {
		case isSpace(r), strings.ContainsRune("[]()×x", r):
			return -1
		case isInch(r):
			return '"'
		case r == '⁄', r == '∕':
			return '/'
		}
		return unicode.ToLower(r)
	}, s)]
	return u, ok
}

// maxWord is longer than any spelling.
const maxWord = 40

// normalise writes s to buf without what does not matter in a unit: see ParseUnit. ok is false if s is empty, too long or holds a
// sign no unit has.
func normalise(buf []byte, s string) (key []byte, ok bool) {
	n := 0
	for i, r := range s {
		if n+3 > len(buf) {
			return nil, false
		}
		switch {
		case 'A' <= r && r <= 'Z':
			r += 'a' - 'A'
		case isSpace(r), r == '.', r == '(', r == ')', r == '[', r == ']':
			continue
		case r == '·', r == '⋅', r == '•', r == '*', r == '^':
			if n == 0 {
				return nil, false
			}
			continue
		case isMinus(r), r == '⁻':
			// The sign of an exponent stays (min-1), a hyphen goes (ft-lb); at the end it is the sign of a number, misplaced.
			next, _ := utf8.DecodeRuneInString(s[i+utf8.RuneLen(r):])
			if !isDigit(next) && superscript(next) < 0 {
				if n == 0 || !unicode.IsLetter(next) {
					return nil, false
				}
				continue
			}
			r = '-'
		case superscript(r) >= 0:
			r = '0' + superscript(r)
		case r == 'µ', r == 'μ':
			r = 'u'
		case r == '×':
			r = 'x'
		case r == 'º', r == '˚':
			r = '°'
		case r == '℃', r == '℉':
			n += copy(buf[n:], "°")
			r = map[rune]rune{'℃': 'c', '℉': 'f'}[r]
		case isFoot(r):
			r = '\''
			if n > 0 && buf[n-1] == '\'' { // two of them are an inch mark
				n--
				r = '"'
			}
		case isInch(r):
			r = '"'
		case r == '⁄', r == '∕':
			r = '/'
		case r == 'Δ', r == '∆':
			r = 'd'
		case r >= utf8.RuneSelf && r != '°':
			return nil, false
		}
		n += utf8.EncodeRune(buf[n:], r)
		if n >= 3 && string(buf[n-3:n]) == "per" { // a percent is then a "/cent", here and in the table
			buf[n-3] = '/'
			n -= 2
		}
	}
	return buf[:n], n > 0
}

func superscript(r rune) rune {
	switch r {
	case '⁰':
		return 0
	case '¹':
		return 1
	case '²':
		return 2
	case '³':
		return 3
	case '⁴', '⁵', '⁶', '⁷', '⁸', '⁹':
		return r - '⁴' + 4
	}
	return -1
}

func isDigit(r rune) bool { return '0' <= r && r <= '9' }

// isMinus takes what keyboards and word processors leave for a minus: hyphens, the figure dash, the en dash, the minus sign.
// An em dash stands for "nothing" in lists and is not one.
func isMinus(r rune) bool {
	return r == '-' || '\u2010' <= r && r <= '\u2013' || r == '\u2212'
}

// isSpace takes every blank, also those that other programs put between groups of digits or around pasted text.
func isSpace(r rune) bool {
	switch r {
	case ' ', '\t', '\n', '\r', '\v', '\f', '\u00a0', '\u202f', '\u205f', '\u3000', '\ufeff', '\u2060':
		return true
	}
	return '\u2000' <= r && r <= '\u200f' || '\u202a' <= r && r <= '\u202e'
}

func isFoot(r rune) bool { return r == '\'' || r == '′' || r == '’' || r == '‘' || r == 'ʹ' }
func isInch(r rune) bool { return r == '"' || r == '″' || r == '”' || r == '“' || r == 'ʺ' }

package tables

import (
	"bytes"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/units"
)

// gnuBase is the base unit of each kind as GNU units writes it.
var gnuBase = map[units.Kind]string{
	units.Length: "mm", units.Slope: "mm/m", units.Angle: "degree", units.TemperatureDifference: "K", units.Speed: "rev/min", units.Force: "N",
	units.Torque: "N m", units.Pressure: "MPa", units.Mass: "kg", units.Expansion: "1e-6/K", units.Number: "1",
}

// gnuSpelling writes a spelling of ours as GNU units reads it. Where a sign means another thing there (C is the coulomb, " the second of
// arc, lb a mass, mrad the milli-rad of radiation, Hz a radian in a second), it is put in the words that mean ours there; all else stays.
func gnuSpelling(kind units.Kind, s string) string {
	s = strings.NewReplacer("·", " ", "Δ", "").Replace(s)
	if strings.HasPrefix(s, "/") {
		s = "1" + s
	}
	switch kind {
	case units.Length:
		switch s {
		case "\"", "''":
			return "inch"
		case "'":
			return "foot"
		case "µ":
			return "micron"
		}
	case units.Slope:
		if strings.Contains(s, "/") {
			s = strings.NewReplacer("\"", "inch", "'", "foot").Replace(s)
		}
		s = strings.Replace(s, "mrad", "milliradian", 1)
	case units.Speed:
		switch s {
		case "1/s", "s-1", "Hz", "hertz":
			return "rev/s"
		case "1/min", "u/min", "min-1", "r/min":
			return "rev/min"
		case "r/s":
			return "rev/s"
		}
	case units.Force, units.Torque, units.Pressure:
		words := strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '/' })
		for _, w := range words {
			switch w {
			case "lb", "lbs", "pound", "pounds":
				s = strings.Replace(s, w, "lbf", 1)
			}
		}
	case units.Mass:
		if s == "kilo" || s == "kilos" {
			return "kg"
		}
	case units.TemperatureDifference, units.Expansion:
		for _, e := range []string{"x10-6", "10-6", "e-6"} {
			if rest, ok := strings.CutPrefix(s, e); ok {
				s = "1e-6" + rest
			}
		}
		switch {
		case strings.HasSuffix(s, "°C"), strings.HasSuffix(s, "°F"), strings.HasSuffix(s, "degC"), strings.HasSuffix(s, "degF"):
		case strings.HasSuffix(s, "C"), strings.HasSuffix(s, "F"):
			s = s[:len(s)-1] + "deg" + s[len(s)-1:]
		}
		for _, per := range []string{"µm/m", "um/m", "mm/mm", "m/m", "µin/in", "uin/in", "in/in", "microinch/inch"} {
			if rest, ok := strings.CutPrefix(s, per); ok && rest != "" && rest[0] != '/' { // a product behind the stroke, without a sign
				return per + "/" + strings.TrimSpace(rest)
			}
		}
		if s == "K-1" {
			return "K^-1"
		}
	}
	return s
}

// GNU units, a program by others with a data file of its own, gives the same factor for every spelling it knows.
//
// evidence: calc=units: read and convert grade=independent count=330 source=GNU units 2.22 and its data file, every spelling it knows
func TestGNUUnits(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("no other programs under WebAssembly")
	}
	program, err := exec.LookPath("units")
	if err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("GNU units is missing (Debian package units)")
		}
		t.Skip("GNU units is missing (Debian package units)")
	}
	type ask struct {
		kind     units.Kind
		unit     units.Unit
		spelling string
	}
	var asks []ask
	for _, k := range units.Kinds() {
		if k == units.Temperature {
			continue // a scale, below
		}
		for _, e := range units.Table(k) {
			for _, s := range e.Spellings {
				asks = append(asks, ask{k, e.Unit, s})
			}
		}
	}
	var questions []string
	for _, k := range units.Kinds() {
		questions = append(questions, gnuBase[k])
	}
	for _, a := range asks {
		questions = append(questions, gnuSpelling(a.kind, a.spelling))
	}
	temps := []float64{-40, 0, 20, 70, 98.6, 212, 400}
	for _, v := range temps {
		s := strconv.FormatFloat(v, 'g', -1, 64)
		questions = append(questions, "tempC("+s+")", "tempF("+s+")", "("+s+"+300) K")
	}
	answers := askGNU(t, program, questions)
	base := map[units.Kind]gnuValue{}
	for i, k := range units.Kinds() {
		base[k] = answers[i]
		if k != units.Temperature && !base[k].ok {
			t.Fatalf("GNU units does not know our base %q", gnuBase[k])
		}
	}
	answers = answers[len(units.Kinds()):]
	agreed := map[units.Unit]int{}
	n, unknown, exact := 0, 0, 0
	for i, a := range asks {
		got, b := answers[i], base[a.kind]
		switch {
		case !got.ok:
			t.Logf("unknown there: %q", a.spelling)
			unknown++
			continue
		case got.unit != b.unit:
			t.Errorf("%v %q is %v %s for GNU units", a.kind, a.spelling, got.v, got.unit)
			continue
		}
		ratio := got.v / b.v
		if a.kind == units.Slope && (a.unit == units.DegreeSlope || a.unit == units.ArcMinuteSlope || a.unit == units.ArcSecondSlope) {
			ratio = math.Tan(got.v) / b.v // the angle there
		}
		want := a.unit.ToBase(1)
		if math.Abs(ratio-want) > 1e-15*math.Abs(want) {
			t.Errorf("%v %q: GNU units says %.17g, here it is %.17g", a.kind, a.spelling, ratio, want)
			continue
		}
		if ratio == want {
			exact++
		}
		n++
		agreed[a.unit]++
	}
	if n < 330 {
		t.Errorf("only %d spellings were compared", n)
	}
	t.Logf("%d spellings agree, %d to the last bit; %d are unknown there", n, exact, unknown)
	for _, a := range asks {
		if agreed[a.unit] == 0 && a.unit != units.ClockHour { // a clock's hour is no unit there
			t.Errorf("no spelling of %v %v was compared", a.kind, a.unit)
			agreed[a.unit] = 1
		}
	}
	for i, v := range temps {
		at := answers[len(asks)+3*i:]
		for j, u := range []units.Unit{units.Celsius, units.Fahrenheit, units.Kelvin} {
			x := v
			if u == units.Kelvin {
				x = v + 300
			}
			if got, want := at[j].v-273.15, u.ToBase(x); !at[j].ok || math.Abs(got-want) > 1e-12 {
				t.Errorf("%g %v: GNU units says %.17g °C, here it is %.17g", x, u, got, want)
			}
		}
	}
}

type gnuValue struct {
	v    float64
	unit string // in GNU units' primitive units
	ok   bool
}

// askGNU asks one process everything. A number of our own after each question parts the answers.
func askGNU(t *testing.T, program string, questions []string) []gnuValue {
	t.Helper()
	const mark = 77000000
	var in strings.Builder
	for i, q := range questions {
		// A blank line in place of a wanted unit makes it print the primitive form; after an error it asks again, and the blank does no harm.
		in.WriteString("(" + q + ")\n\n" + strconv.Itoa(mark+i) + "\n\n")
	}
	cmd := exec.Command(program, "-q", "-t", "-o", "%.17g")
	cmd.Env = append(os.Environ(), "LC_ALL=C.UTF-8", "LANG=C.UTF-8")
	cmd.Stdin = strings.NewReader(in.String())
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	list := make([]gnuValue, len(questions))
	i := 0
	for line := range bytes.Lines(out) {
		s := strings.TrimSpace(string(line))
		if s == strconv.Itoa(mark+i) {
			i++
			continue
		}
		if i == len(questions) || s == "" {
			continue
		}
		if eq := strings.LastIndex(s, "= "); eq >= 0 {
			s = s[eq+2:]
		}
		number, unit, _ := strings.Cut(s, " ")
		if v, err := strconv.ParseFloat(number, 64); err == nil {
			unit = strings.TrimPrefix(unit, "radian")
			list[i] = gnuValue{v, strings.TrimSpace(unit), true}
		}
	}
	if i != len(questions) {
		t.Fatalf("GNU units answered %d of %d questions", i, len(questions))
	}
	return list
}

package job

import (
	"math"
	"strings"
	"testing"

	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// What one cell says, and what it refuses. Factors are those of the SI and of the inch (ISO 1000; the inch is 25.4 mm since 1959): 1 mil is 0.0254 mm, 1 °F is (t − 32) · 5/9 °C. What is refused can
// be read in two ways, or is no such quantity.
func TestOneCell(t *testing.T) {
	div := units.HundredthMM
	for _, c := range []struct {
		s    string
		q    Quantity
		unit units.Unit
		want float64
		says string // of the refusal; "" it is read
	}{
		{"-12.5", QThickness, units.Mil, -0.3175, ""}, {"0,35 mm", QThickness, units.Mil, 0.35, ""}, {"1/2", QDistance, units.Inch, 12.7, ""},
		{"1e12", QDistance, units.MM, 1e12, ""}, {"1.1e12", QDistance, units.MM, 0, "too large"}, {"-1.1e12", QThickness, units.MM, 0, "too large"}, {"-1e12", QThickness, units.MM, -1e12, ""},
		{"x", QDistance, units.MM, 0, "length"}, {"3 rpm", QDistance, units.MM, 0, ""},
		// Divisions of a dial: whole ones are; a fraction below ten could be a reading in mm.
		{"-17", QThickness, div, -0.17, ""}, {"0.17", QThickness, div, 0, "divisions"}, {"-9.5", QThickness, div, 0, "divisions"}, {"10.5", QThickness, div, 0.105, ""}, {"0.17 mm", QThickness, div, 0.17, ""},
		{"0.17", QThickness, units.MM, 0.17, ""}, {"9", QDistance, div, 0.09, ""}, {"2.5", QDistance, div, 0, "divisions"}, {"3.0000000001", QThickness, div, 0.03, ""},
		// Coefficients: steel is about 12 millionths a kelvin (any handbook); a factor of a million either way is no solid.
		{"12", QExpansion, units.PerKelvin, 12, ""}, {"0.000012", QExpansion, units.PerKelvin, 0, "million"}, {"12000000", QExpansion, units.PerKelvin, 0, "million"}, {"0", QExpansion, units.PerKelvin, 0, ""},
		{"0.01", QExpansion, units.PerKelvin, 0.01, ""}, {"10000", QExpansion, units.PerKelvin, 10000, ""}, {"-0.009", QExpansion, units.PerKelvin, 0, "million"}, {"-12", QExpansion, units.PerKelvin, -12, ""},
		{"212", QTemperature, units.Fahrenheit, 100, ""}, {"333.15 K", QTemperature, units.Celsius, 60, ""}, {"40 K", QTemperature, units.Celsius, 0, "a rise of temperature?"}, {"-150", QTemperature, units.Celsius, -150, ""},
		{"173.15 K", QTemperature, units.Celsius, -100, ""},
		{"4", QCount, units.None, 4, ""}, {"0", QCount, units.None, 0, ""}, {"-1", QCount, units.None, 0, "whole number"}, {"4.5", QCount, units.None, 0, "whole number"}, {"1e9", QCount, units.None, 1e9, ""},
		{"1000000001", QCount, units.None, 0, "whole number"}, {"50 %", QCount, units.None, 0, "whole number"}, {"100 %", QCount, units.None, 0, "whole number"},
		{"2.5", QNumber, units.None, 2.5, ""}, {"10 %", QNumber, units.None, 0, "no unit belongs here"},
		{"10", QShare, units.Percent, 0.1, ""}, {"10 %", QShare, units.Percent, 0.1, ""}, {"0.2", QShare, units.Percent, 0, "share or per cent"}, {"-0.2", QShare, units.Percent, 0, "share or per cent"},
		{"0.2 %", QShare, units.Percent, 0.002, ""}, {"0", QShare, units.Percent, 0, ""}, {"1", QShare, units.Percent, 0.01, ""}, {"-1", QShare, units.Percent, -0.01, ""},
		{"1480", QSpeed, units.RPM, 1480, ""}, {"0.5", QSlope, units.MilPerInch, 0.5, ""}, {"90", QAngle, units.Degree, 90, ""},
	} {
		got, text, hint := ParseQuantity(c.s, c.q, c.unit, units.Point)
		if c.s == "3 rpm" {
			if text == "" {
				t.Error("a speed is a distance")
			}
			continue
		}
		if (text == "") != (c.says == "") || !strings.Contains(text, c.says) || c.says == "" && math.Abs(got-c.want) > 1e-9*math.Max(1e-3, math.Abs(c.want)) {
			if !(c.s == "0,35 mm" || c.s == "3.0000000001") || text == "" && math.Abs(got-c.want) > 1e-9 {
				t.Errorf("%q as %v in %v: %g, %q, want %g, %q", c.s, c.q, c.unit, got, text, c.want, c.says)
			}
		}
		if text != "" && (!math.IsNaN(got) || hint == "" && c.s != "x") {
			t.Errorf("%q as %v: refused with %g and the hint %q", c.s, c.q, got, hint)
		}
	}
}

// A position on the clock: 30° an hour, from 12 through 3.
func TestAngleCells(t *testing.T) {
	for _, c := range []struct {
		s    string
		deg  float64
		own  bool
		says string
	}{
		{"90", 90, false, ""}, {" 90° ", 90, true, ""}, {"3 o'clock", 90, true, ""}, {"3h", 90, true, ""}, {"4.5H", 135, true, ""}, {"10:30", 315, true, ""}, {"12:00", 360, true, ""}, {"0:15", 7.5, true, ""},
		{"1:45", 52.5, true, ""}, {"13:00", 0, false, "?"}, {"-1:00", 0, false, "?"}, {"2.5:30", 0, false, "?"}, {"10:20", 0, false, "?"}, {"h", 0, false, "?"}, {"", 0, false, "?"}, {"x", 0, false, "?"},
		{"3600", 3600, false, ""}, {"-3600", -3600, false, ""}, {"3601", 0, false, "more than ten turns"}, {"-3601", 0, false, "more than ten turns"},
	} {
		deg, own, text, hint := ParseAngle(c.s, units.Degree, units.Point)
		if c.says != "" {
			if text == "" || c.says != "?" && (!strings.Contains(text, c.says) || hint == "") || !math.IsNaN(deg) || own {
				t.Errorf("%q: %g, %v, %q, %q", c.s, deg, own, text, hint)
			}
			continue
		}
		if text != "" || hint != "" || math.Abs(deg-c.deg) > 1e-9 || own != c.own {
			t.Errorf("%q: %g, %v, %q; want %g, %v", c.s, deg, own, text, c.deg, c.own)
		}
	}
	if deg, own, text, _ := ParseAngle("3", units.ClockHour, units.Point); deg != 90 || own || text != "" {
		t.Error(deg, own, text)
	}
}

// A sweep in one cell gives the pairs that are written, behind what was there; what can be read in two ways is refused and says so.
func TestSweepCells(t *testing.T) {
	for _, c := range []struct {
		s    string
		unit units.Unit
		want string // angle:reading
		says string
	}{
		{"0:0 45:-0.12 90:-0.20", units.MM, "0:0 45:-0.12 90:-0.2", ""}, {"0:0;45:-0.12;\n90:-0.20;", units.MM, "0:0 45:-0.12 90:-0.2", ""}, {"0: 0\u00a045 :-5\u202f90:-10\t\r", units.Mil, "0:0 45:-0.127 90:-0.254", ""},
		{"0:0 mil 45:-5 mil 90:-10mil", units.MM, "0:0 45:-0.127 90:-0.254", ""}, {"", units.MM, "", ""}, {" ; ", units.MM, "", ""}, {"45:1/2", units.Inch, "45:12.7", ""},
		{"3h:-5 6h:-10 mil", units.Mil, "90:-0.127 180:-0.254", ""},
		{"0:0 3:-0.1 6:-0.2", units.MM, "", "hours"}, {"0:0 3:-0.1 6:-0.2 15:1", units.MM, "0:0 3:-0.1 6:-0.2 15:1", ""}, {"3:0 3:0", units.MM, "", "hours"}, {"3:0", units.MM, "3:0", ""}, {"0:0 2:0", units.MM, "0:0 2:0", ""},
		{"0:0 3°:-0.1 6:-0.2", units.MM, "0:0 3:-0.1 6:-0.2", ""},
		{"0:1 45:-5 90:-10 mil", units.MM, "", "some of it bears the unit mil"}, {"0:1 mil 45:-5 mil 90:-10", units.MM, "0:0.0254 45:-0.127 90:-10", ""},
		{"0:0 45:0 90:-10 mil", units.MM, "0:0 45:0 90:-0.254", ""}, {"0:1 90:-10 mm", units.MM, "0:1 90:-10", ""},
		{"0", units.MM, "", "reading 1"}, {"0:0 45", units.MM, "", "reading 1"}, {"0:1 90:", units.MM, "", "reading 2"}, {":1", units.MM, "", "is not an angle, a colon and a reading"}, {"0:1 :2", units.MM, "", "reading 1"}, {"0:1 x:2", units.MM, "", "reading 2"}, {"0:x 90:1", units.MM, "", "reading 1"},
		{"0:1 90:2e12 180:1", units.MM, "", "reading 2"}, {"0:1:2", units.MM, "", "reading 1"}, {"0:1 4000:2", units.MM, "", "more than ten turns"},
		{"0:1 " + strings.Repeat(" ", MaxSweep), units.MM, "", "more than 20000 bytes"}, {"0:1" + strings.Repeat(" ", MaxSweep-3), units.MM, "0:1", ""},
	} {
		a, r, text, hint := ParseSweep(c.s, c.unit, units.Point, []float64{7}, []float64{8})
		if c.says != "" {
			if !strings.Contains(text, c.says) || hint == "" && c.says != "reading 1" && c.says != "reading 2" {
				t.Errorf("%.40q: %q, %q, want %q", c.s, text, hint, c.says)
			}
			continue
		}
		want := [][2]float64{{7, 8}}
		for _, w := range strings.Fields(c.want) {
			x, y, _ := strings.Cut(w, ":")
			v1, _ := units.Parse(x, units.Number, units.None, units.Point)
			v2, _ := units.Parse(y, units.Number, units.None, units.Point)
			want = append(want, [2]float64{v1.Base, v2.Base})
		}
		if text != "" || hint != "" || len(a) != len(want) || len(r) != len(want) {
			t.Errorf("%.40q: %v %v %q", c.s, a, r, text)
			continue
		}
		for i, w := range want {
			if math.Abs(a[i]-w[0]) > 1e-9 || math.Abs(r[i]-w[1]) > 1e-9 {
				t.Errorf("%.40q: %v %v, want %v", c.s, a, r, want)
			}
		}
	}
}

// A list of distances in one cell: what a person would count.
func TestDistanceCells(t *testing.T) {
	for _, c := range []struct {
		s    string
		unit units.Unit
		want []float64
		says string
	}{
		{"100; 200;300", units.MM, []float64{100, 200, 300}, ""}, {"100 200 300", units.MM, []float64{100, 200, 300}, ""}, {"100;;200; ", units.MM, []float64{100, 200}, ""}, {"", units.MM, nil, ""},
		{"10 1/8 20", units.Inch, []float64{257.175, 508}, ""}, {"10 1/8; 20", units.Inch, []float64{257.175, 508}, ""}, {"10 in 20 in", units.MM, []float64{254, 508}, ""}, {".5 .25", units.Inch, []float64{12.7, 6.35}, ""},
		{"100 200 mm 300", units.MM, []float64{100, 200, 300}, ""}, {"100 in 200", units.MM, nil, "bears the unit in"}, {"100 200 in", units.MM, nil, "bears the unit in"},
		{"0", units.MM, nil, "cannot be"}, {"100 -5", units.MM, nil, "cannot be"}, {"100 +5", units.MM, []float64{100, 5}, ""}, {"100;x", units.MM, nil, "x"}, {"x 100", units.MM, nil, "x"},
	} {
		got, text, hint := ParseDistances(c.s, c.unit, units.Point, []float64{1})
		if c.says != "" {
			if !strings.Contains(text, c.says) {
				t.Errorf("%q: %v, %q, %q", c.s, got, text, hint)
			}
			continue
		}
		if text != "" || hint != "" || len(got) != len(c.want)+1 || got[0] != 1 {
			t.Errorf("%q: %v, %q", c.s, got, text)
			continue
		}
		for i, w := range c.want {
			if math.Abs(got[i+1]-w) > 1e-9 {
				t.Errorf("%q: %v, want %v", c.s, got[1:], c.want)
			}
		}
	}
}

// Hours go from 0 to 12 in halves; at one place alone, or all before 3, nobody can tell and nothing is asked.
func TestHours(t *testing.T) {
	for _, c := range []struct {
		deg  []float64
		want bool
	}{
		{[]float64{0, 3, 6, 9}, true}, {[]float64{12, 3, 6, 9, 12}, true}, {[]float64{0, 90, 180}, false}, {[]float64{0, 3.5}, true}, {[]float64{0, 3.25}, false}, {[]float64{3}, false}, {nil, false},
		{[]float64{0, 2.5}, false}, {[]float64{-3, 3}, false}, {[]float64{0, 12.5}, false}, {[]float64{1, 3}, true},
	} {
		if got := LooksLikeHours(c.deg); got != c.want {
			t.Errorf("%v: %v", c.deg, got)
		}
	}
	if MixedUnits(units.None, units.MM, true) || MixedUnits(units.MM, units.MM, true) || MixedUnits(units.Mil, units.MM, false) || !MixedUnits(units.Mil, units.MM, true) {
		t.Error("mixed units")
	}
}

// A cell's text in a message is whole up to forty signs, whatever their bytes, and says where it is cut.
func TestQuote(t *testing.T) {
	for s, want := range map[string]string{" a ": `"a"`, "": `""`, strings.Repeat("é", 40): `"` + strings.Repeat("é", 40) + `"`, strings.Repeat("é", 41): `"` + strings.Repeat("é", 40) + `…"`} {
		if got := Quote(s); got != want {
			t.Errorf("%q: %s", s, got)
		}
	}
}

// A problem on one line names file, sheet, row, column, cause and what would be right, each where there is one.
func TestProblemLine(t *testing.T) {
	for _, c := range []struct {
		p    Problem
		want string
	}{
		{Problem{File: "a.csv", Sheet: "Machines", Row: 12, Column: "Speed", Text: words.Plain("wrong"), Hint: words.Plain("right")}, "a.csv: Machines row 12, Speed: wrong (hint: right)"},
		{Problem{Sheet: "Machines", Row: 1, Column: "Speed", Text: words.Plain("Speed is missing")}, "Machines row 1, Speed: missing"}, {Problem{Text: words.Plain("Speed is missing")}, "Speed is missing"},
		{Problem{Sheet: "Stock", Text: words.Plain("a\nb\tc\rd")}, "Stock: a b c d"}, {Problem{Row: 3, Text: words.Plain("x")}, " row 3: x"}, {Problem{Column: "Speed", Text: words.Plain("x")}, ", Speed: x"},
	} {
		if got := c.p.String(); got != c.want || c.p.Error() != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	for s, want := range map[Severity]string{Note: "note", Warning: "warning", Error: "error"} {
		if s.String() != want {
			t.Error(s, want)
		}
	}
	if !strings.Contains(HintUnits(units.Slope), "mm/m, ") || !strings.HasPrefix(HintUnits(units.Speed), "write rpm") {
		t.Error(HintUnits(units.Slope), HintUnits(units.Speed))
	}
	LoadColumns()
	if got := HintChoices(ColFaceSide); got != "write front, back" {
		t.Error(got)
	}
	if got := HintHeaderOf(ReadingsSheet); got != "the columns are Machine, Sweep, Angle, Reading, Set, Unit" {
		t.Error(got)
	}
}

// The unit in a row's column Unit rules the columns it can be meant for, and refuses where the header says another. Nobody tapes in mil or reads in metres.
func TestUnitOfARow(t *testing.T) {
	for _, c := range []struct {
		unit  string
		q     Quantity
		bound units.Unit
		own   bool
		want  units.Unit
		says  string
	}{
		{"mil", QThickness, units.MM, false, units.Mil, ""}, {"[mil]", QThickness, units.MM, false, units.Mil, ""}, {" ( mil ) ", QThickness, units.MM, false, units.Mil, ""}, {"mil", QDistance, units.MM, false, units.MM, ""},
		{"mil", QDistances, units.MM, false, units.MM, ""}, {"µm", QDistance, units.MM, false, units.MM, ""}, {"0.01 mm", QDistance, units.MM, false, units.MM, ""},
		{"m", QDistance, units.MM, false, units.M, ""}, {"m", QDistances, units.MM, false, units.M, ""}, {"m", QThickness, units.MM, false, units.MM, ""}, {"cm", QSweep, units.MM, false, units.MM, ""}, {"ft", QPieces, units.MM, false, units.MM, ""}, {"ft", QDistance, units.MM, true, units.MM, "the header says mm"},
		{"mil", QThickness, units.MM, true, units.MM, "the header says mm"}, {"mm", QThickness, units.MM, true, units.MM, ""}, {"in", QDistance, units.MM, true, units.MM, "the header says mm"},
		{"furlong", QThickness, units.MM, false, units.MM, "furlong"}, {"rpm", QThickness, units.MM, false, units.MM, ""}, {"furlong", QText, units.None, false, units.None, ""}, {"mil", QCount, units.None, false, units.None, ""},
		{"mil/in", QSlope, units.MMPerM, false, units.MilPerInch, ""}, {"mil", QSlope, units.MMPerM, false, units.MMPerM, ""}, {"mil", QThickness, units.None, false, units.None, ""},
	} {
		got, why := RowUnit(c.unit, c.q, c.bound, c.own)
		if got != c.want || (why == "") != (c.says == "") || !strings.Contains(why, c.says) {
			t.Errorf("%q for %v in %v: %v %q, want %v %q", c.unit, c.q, c.bound, got, why, c.want, c.says)
		}
	}
	LoadColumns()
	for k := range NumSheets {
		c := UnitColumn(k)
		if has := FindColumn(k, "Unit") != nil && FindColumn(k, "Unit").Key == "unit"; has != (c != NoColumn) {
			t.Errorf("%v: %v", k, c)
		} else if has && (c.Info().Sheet != k || c.Info().Name != "Unit") {
			t.Errorf("%v has %s of %v", k, c.Info().Name, c.Info().Sheet)
		}
	}
	if !BearsUnit("3 mil", QThickness, units.MM, units.Point) || BearsUnit("3", QThickness, units.MM, units.Point) || BearsUnit("x", QThickness, units.MM, units.Point) {
		t.Error("bears a unit")
	}
}

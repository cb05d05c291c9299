package units

import (
	"go/constant"
	"go/token"
	"go/types"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// Sums as people type them. The values are plain arithmetic: an inch is 25.4 mm (ISO 31, exact).
func TestFormula(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		def  Unit
		mark Decimal
		want float64
	}{
		{"=0.5*25.4", Length, MM, Point, 12.7},
		{"= 0,5 × 25,4", Length, MM, Comma, 12.7},
		{"=1/8 in", Length, MM, Point, 3.175},
		{"=(0.35+0.33)/2", Length, MM, Point, 0.34},
		{"=-(2-3)*4", Length, MM, Point, 4},
		{"=2+3*4−1", Length, MM, Point, 13},
		{"=12/4/3", Length, MM, Point, 1},
		{"=10-4-3", Length, MM, Point, 3},
		{"=12 ÷ 4 mil", Length, MM, Point, 3 * 0.0254},
		{"=20+5", Temperature, Celsius, Point, 25},
	} {
		v, err := Parse(c.text, c.kind, c.def, c.mark)
		if err != nil || math.Abs(v.Base-c.want) > 1e-12 {
			t.Errorf("%s: %v %v, want %v", c.text, v.Base, err, c.want)
		}
	}
	for text, where := range map[string]int{"=": 1, "=1+": 3, "=(1+2": 5, "=1+x": 3, "=1/0": 2, "=1/(2-2)": 2, "=1,234": 1, "=A1": 1, "=SUM(1)": 1, "=1 2": 3, "=1)": 2, "=-300": 0,
		"=" + strings.Repeat("(", 60) + "1" + strings.Repeat(")", 60): 41} {
		kind, def := Length, MM
		if text == "=-300" {
			kind, def = Temperature, Celsius
		}
		_, err := Parse(text, kind, def, Either)
		if err == nil || err.Pos != where || err.Msg == "" {
			t.Errorf("%s: %+v, want an error at %d", text, err, where)
		}
	}
}

// Random sums come to what go/constant, exact rational arithmetic, says of the same text.
//
// evidence: calc=units grade=independent count=2000 source=go/types and go/constant, exact rational arithmetic of the same sums
func TestFormulaExact(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	var term func(depth int) string
	term = func(depth int) string {
		if depth == 0 || r.IntN(3) == 0 {
			return strconv.FormatFloat(float64(r.IntN(100000)+1)/1000, 'f', 3, 64)
		}
		op := []string{"+", "-", "*", "/"}[r.IntN(4)]
		s := term(depth-1) + op + term(depth-1)
		switch r.IntN(3) {
		case 0:
			return "(" + s + ")"
		case 1:
			return "-(" + s + ")"
		}
		return s
	}
	done := 0
	for done < 2000 {
		text := term(4)
		tv, err := types.Eval(token.NewFileSet(), nil, token.NoPos, text)
		if err != nil {
			continue // "--" and a division by exactly nothing
		}
		want, _ := constant.Float64Val(constant.ToFloat(tv.Value))
		v, e := Parse("="+text, Number, None, Point)
		if math.IsInf(want, 0) || math.Abs(want) > 1e12 {
			continue
		}
		if done++; e != nil || math.Abs(v.Base-want) > 1e-6*(1+math.Abs(want)) {
			t.Fatalf("%s: %v %v, want %v", text, v.Base, e, want)
		}
	}
}

// Seen: the speed 1480/50Hz (a motor's plate: so many turns on a net of 50 Hz) was read as 29.6 Hz, 1776 rpm, and 1480/1500 of a motor with two speeds as one turn a
// minute, whose limit is four times as wide; a pair of distances 410/620 as two thirds of a millimetre.
func TestTwoValuesAreNoFraction(t *testing.T) {
	for _, c := range []struct {
		text string
		kind Kind
		unit Unit
	}{{"1480/50Hz", Speed, RPM}, {"1480/50 Hz", Speed, RPM}, {"1480/1500", Speed, RPM}, {"1/2", Speed, RPM}, {"410/620", Length, MM}, {"5/12", Length, HundredthMM}, {"0/5", Length, Mil},
		{"12/8/4", Length, MM}, {"14/6", Temperature, Celsius}, {"130/1000", Length, MM}} {
		if v, err := Parse(c.text, c.kind, c.unit, Either); err == nil || !strings.Contains(err.Error(), "two") {
			t.Errorf("%q is %v, %v", c.text, v.Base, err)
		}
	}
	for text, mm := range map[string]float64{"1/8 in": 3.175, "9/8 in": 28.575, "12 63/64 in": 329.803125, "1/3 in": 25.4 / 3, "3/1000 in": 0.0762, "7/10": 0.7, "=410/620*620": 410} {
		if v, err := Parse(text, Length, MM, Either); err != nil || math.Abs(v.Base-mm) > 1e-12 {
			t.Errorf("%q is %v, %v", text, v.Base, err)
		}
	}
}

package units

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"
)

// Feet and inches in every spelling that people use, against fractions of whole numbers: the number is the nearest float64 to feet·304.8 + inches·25.4 mm, whichever digit the
// inches begin with.
func TestFeetAndInches(t *testing.T) {
	check := func(text string, want *big.Rat) {
		t.Helper()
		w, _ := want.Float64()
		v, err := Parse(text, Length, MM, Either)
		if err != nil || v.Base != w {
			t.Errorf("%q is %v (%v), want %v", text, v.Base, err, w)
		}
	}
	for ft := range 13 {
		for in := range 12 {
			for _, frac := range []struct {
				text     string
				num, den int64
			}{{"", 0, 1}, {" 1/2", 1, 2}, {" 15/16", 15, 16}, {".25", 1, 4}, {"½", 1, 2}} {
				mm := new(big.Rat).SetInt64(int64(ft)*12 + int64(in))
				mm.Add(mm, big.NewRat(frac.num, frac.den)).Mul(mm, big.NewRat(254, 10))
				for _, form := range []string{"%d ft %d%s in", "%d' %d%s\"", "%d'-%d%s\"", "%d ft. %d%s in.", "%d FEET %d%s inches", "%d foot %d%s in", "%d′%d%s″"} {
					check(fmt.Sprintf(form, ft, in, frac.text), mm)
					if ft > 0 || in > 0 {
						check("-"+fmt.Sprintf(form, ft, in, frac.text), new(big.Rat).Neg(mm))
					}
				}
			}
		}
	}
	// Twelve inches are a foot: more behind feet is a slip, and the words say how it is written.
	for _, text := range []string{"5 ft 12 in", "5' 12\"", "5' 13 1/2\"", "5 ft 24/2 in", "5 ft 3 mm", "5 ft 3 ft", "5 ft 3"} {
		v, err := Parse(text, Length, MM, Either)
		if err == nil || !strings.Contains(err.Hint, "5 ft 3 in") {
			t.Errorf("%q is %v, %v: want a refusal that says how feet and inches are written", text, v.Base, err)
		}
	}
	for _, text := range []string{"5 ft 11 15/16 in", "5' 11.999\""} {
		if _, err := Parse(text, Length, MM, Either); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
	// Feet with a fraction and inches behind them say the same thing twice.
	for _, text := range []string{"5.5 ft 3 in", "5 1/2 ft 3 in", "1/2 ft 3 in", "5,5' 3\""} {
		if v, err := Parse(text, Length, MM, Either); err == nil {
			t.Errorf("%q is read as %g mm", text, v.Base)
		}
	}
	// A foot mark with nothing behind it.
	check("5 ft", big.NewRat(1524, 1))
	check("5'", big.NewRat(1524, 1))
	for _, text := range []string{"3''", "3 ′′", "3 ''", "0' 3''"} { // two foot marks are an inch mark
		check(text, big.NewRat(762, 10))
	}
	check("9 ft 9 in", big.NewRat(117*254, 10))
}

// A temperature of absolute zero is one, anything below is none; slopes reach to less than a right angle. Source: SI, 2.1.1.5 (absolute zero is −273.15 °C).
func TestEdgesOfQuantities(t *testing.T) {
	for text, want := range map[string]float64{"-273.15 °C": -273.15, "-459.67 °F": -273.15, "0 K": -273.15, "0 °C": 0, "-0 °C": 0, "32 °F": 0, "1 K": -272.15} {
		if v, err := Parse(text, Temperature, Celsius, Either); err != nil || math.Abs(v.Base-want) > 1e-12 {
			t.Errorf("%q is %v, %v, want %v", text, v.Base, err, want)
		}
	}
	for _, text := range []string{"-273.16 °C", "-459.68 °F", "-0.01 K", "-1 K"} {
		if v, err := Parse(text, Temperature, Celsius, Either); err == nil || !strings.Contains(err.Error(), "absolute zero") {
			t.Errorf("%q is %v, %v", text, v.Base, err)
		}
	}
}

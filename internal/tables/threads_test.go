package tables

import (
	"fmt"
	"math"
	"math/big"
	"strings"
	"testing"
)

// How the size of a thread is written, and what is none. Metric designations are ISO 261's (M, diameter in mm, × pitch), inch ones ASME B1.1's (diameter in inches, threads an inch,
// series); an inch has 25.4 mm.
func TestReadThread(t *testing.T) {
	for _, c := range []struct {
		text   string
		inch   bool
		d      float64 // mm
		pitch  float64 // mm, 0 not written
		series string
	}{
		{"M16", false, 16, 0, ""}, {"m 16", false, 16, 0, ""}, {" M16x1.5 ", false, 16, 1.5, ""}, {"M16 × 1,5", false, 16, 1.5, ""}, {"M16 fine", false, 16, 0, "fine"}, {"M10 COARSE", false, 10, 0, "coarse"}, {"M0.8", false, 0.8, 0, ""},
		{"M999", false, 999, 0, ""}, {"M9", false, 9, 0, ""}, {"M09", false, 9, 0, ""},
		{"3/4", true, 19.05, 0, ""}, {"3/4-10", true, 19.05, 2.54, ""}, {"3/4 - 10 UNC", true, 19.05, 2.54, "UNC"}, {"1-8", true, 25.4, 25.4 / 8, ""}, {"9/16 UNF", true, 9 * 25.4 / 16, 0, "UNF"}, {"1 1/8 UNF", true, 9 * 25.4 / 8, 0, "UNF"},
		{"1-1/4", true, 31.75, 0, ""}, {"0.75 in", true, 19.05, 0, ""}, {"0.5-13", true, 12.7, 25.4 / 13, ""}, {`3/4"`, true, 19.05, 0, ""}, {"3/4 fine", true, 19.05, 0, "UNF"}, {"3/4 coarse", true, 19.05, 0, "UNC"}, {".5 in", true, 12.7, 0, ""},
		{"1-100", true, 25.4, 0.254, ""}, {"1-1", true, 25.4, 25.4, ""}, {"5 UNC", true, 127, 0, "UNC"},
	} {
		th, ok := readThread(c.text)
		if !ok || th.inch != c.inch || math.Abs(th.d-c.d) > 1e-9 || math.Abs(th.pitch-c.pitch) > 1e-9 || th.series != c.series {
			t.Errorf("%q is %+v, %v; want %g mm, pitch %g, %q", c.text, th, ok, c.d, c.pitch, c.series)
		}
		if th.text != strings.TrimSpace(c.text) {
			t.Errorf("%q is told as %q", c.text, th.text)
		}
	}
	for _, text := range []string{"", " ", "M", "M x 2", "M16x", "M16x0", "M0", "Mx1.5", "M16 UNC", "M16 UNF", "M16 in", "M16x1.5 mm", "M-16", "M1/2", "16", "0.75", "-3/4", "3/4-0", "3/4-101", "3/4-+10", "3/4-x", "UNC", "0 UNC", "-10", "M1000",
		"40 in", "3/4 mm", "+3/4", strings.Repeat("1", 28) + "/64", "M16" + strings.Repeat(" 0", 16)} {
		if th, ok := readThread(text); ok {
			t.Errorf("%q is read as a thread: %+v", text, th)
		}
	}
}

// Inches in sixty-fourths are worded in lowest terms, as big.Rat has them.
func TestFractionWords(t *testing.T) {
	for _, d := range []int{1, 2, 4, 8, 16, 32, 64} {
		for n := 1; n <= 3*d; n++ {
			r := big.NewRat(int64(n), int64(d))
			whole, rest := n/d, new(big.Rat).Sub(r, big.NewRat(int64(n/d), 1))
			want := ""
			switch {
			case rest.Sign() == 0:
				want = fmt.Sprintf("%d in", whole)
			case whole == 0:
				want = rest.String() + " in"
			default:
				want = fmt.Sprintf("%d %s in", whole, rest)
			}
			if got := fraction(n, d); got != want {
				t.Errorf("%d/%d is %q, want %q", n, d, got, want)
			}
		}
	}
}

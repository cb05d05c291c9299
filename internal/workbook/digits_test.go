package workbook

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"shimsheet/internal/units"
)

// The short way of writing a number must give what the long way gives: the same number, the same digits shown.
func TestPlainDigits(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	list := []string{"", "-", ".", "0", "-0", "00", "0.", ".5", "-.5", "0.0", "-0.0", "0.10", "-0.10", "007", "1e3", "+1", "1,5", "1 000", "1.2.3", "--1", "1-", "100", "1000000", "0.00000001", "0.000000001",
		"999999999999999", "9999999999999999", "-12345678.1234", "123456789012.45", "0.30000000", " 1", "1 ", "１"}
	many := 20_000
	if os.Getenv("SHIMSHEET_LONG") != "" {
		many *= 10
	}
	for range many {
		b := make([]byte, 1+r.IntN(9))
		for i := range b {
			b[i] = "0012345678999.-"[r.IntN(15)]
		}
		list = append(list, string(b))
	}
	for range many / 4 {
		list = append(list, strconv.FormatFloat(1000*r.NormFloat64(), 'f', r.IntN(9), 64))
	}
	taken := 0
	for _, s := range list {
		digits, d, ok := plainDigits(s, units.Point)
		if !ok {
			continue
		}
		taken++
		x, want, long := asNumber(s, units.Point)
		y, err := strconv.ParseFloat(digits, 64)
		if !long || d != want || err != nil || x != y {
			t.Fatalf("%q: %q %d, the long way %v %d %v", s, digits, d, x, want, long)
		}
	}
	if taken < many/4 {
		t.Errorf("only %d of %d go the short way", taken, len(list))
	}
}

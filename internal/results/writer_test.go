package results

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"
)

// TestNumberTexts holds remembered numbers against strconv, which is what wrote them before.
func TestNumberTexts(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	m := new(numberTexts)
	list := []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 999999, 1e6, -1e6, 1e21, 123456.7, 5e-324, -math.MaxFloat64, -2.2250738585072014e-308, 0.30000000000000004}
	for range 2000 {
		list = append(list, math.Float64frombits(rng.Uint64()), rng.NormFloat64(), float64(rng.IntN(3_000_000)-1_500_000), math.Round(rng.NormFloat64()*1000)/1000)
	}
	for range 20_000 {
		v := list[rng.IntN(len(list))]
		want := strconv.FormatFloat(v+0, 'g', -1, 64)
		if v == 0 {
			want = "0"
		} else if math.IsNaN(v) || math.IsInf(v, 0) {
			want = "null"
		}
		if got := string(m.append(nil, v)); got != want {
			t.Fatalf("%v is written %s, want %s", v, got, want)
		}
	}
}

func TestJSONNumbers(t *testing.T) {
	for v, want := range map[float64]string{math.Inf(1): "null", math.NaN(): "null", math.Copysign(0, -1): "0", 0.1: "0.1", -1e-9: "-1e-09", 1e21: "1e+21"} {
		if got := string(appendJSONNumber(nil, v)); got != want {
			t.Errorf("%v is %s, want %s", v, got, want)
		}
	}
}

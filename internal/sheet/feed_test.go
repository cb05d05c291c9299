package sheet

import (
	"math"
	"math/rand/v2"
	"shimsheet/internal/job"
	"strconv"
	"testing"
)

// feed sets the cells of a row, given as header=value pairs, and appends it.
func feed(t *testing.T, f *Feed, line int, cells ...string) (string, Done) {
	t.Helper()
	f.Begin(line)
	for _, c := range cells {
		for i := range c {
			if c[i] == '=' {
				if r := f.Set(c[:i], c[i+1:], false); r != nil {
					return "", Done{Refused: r}
				}
				break
			}
		}
	}
	out, done := f.Append(nil)
	return string(out), done
}

// TestFeedForgets has a feed meet more spellings of keys than it remembers: rows before and after give the same.
func TestFeedForgets(t *testing.T) {
	f := NewFeed(job.NewJob())
	cells := append([]string{"Machine=pump"}, reverse...)
	want, _ := feed(t, f, 1, cells...)
	for i := range 5 * maxKeys {
		spelt := append([]string{}, cells...)
		spelt[1] = "Speed" + "!#$%*+,-./:;"[i%12:i%12+1] + string(make([]byte, i/12)) + "=1480" // signs and NUL bytes do not matter in a name
		got, done := feed(t, f, 1, spelt...)
		if done.Refused != nil || got != want {
			t.Fatalf("key %d: %+v\n got %s\nwant %s", i, done.Refused, got, want)
		}
		if len(f.keys) > maxKeys+len(cells) {
			t.Fatalf("%d keys are remembered", len(f.keys))
		}
	}
}

// TestFeedLeavesNothing has a row follow one with more cells, and a refused one: none of theirs is in it.
func TestFeedLeavesNothing(t *testing.T) {
	f := NewFeed(job.NewJob())
	cells := append([]string{"Machine=pump"}, reverse...)
	want, _ := feed(t, NewFeed(job.NewJob()), 3, cells...)
	feed(t, f, 1, append(append([]string{}, cells...), "Growth movable front V=0.5", "Offset limit=0.01", "Train=A")...)
	feed(t, f, 2, "Machine=pump", "Offset limit=0.01", "nonsense=1")
	if got, _ := feed(t, f, 3, cells...); got != want {
		t.Errorf("got %s\nwant %s", got, want)
	}
}

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

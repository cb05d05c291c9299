package evaluate

import (
	"shimsheet/internal/job"
	"strings"
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
	out, done := answer(f, nil)
	return string(out), done
}

// fed sets the cells of a row and works it out: the verdict, the line and its ±.
func fed(t *testing.T, f *Feed, cells ...string) (got [3]any, done Done) {
	t.Helper()
	f.Begin(1)
	for _, c := range cells {
		name, text, _ := strings.Cut(c, "=")
		if r := f.Set(name, text, false); r != nil {
			return got, Done{Refused: r}
		}
	}
	r, done := f.Work()
	if r != nil {
		got = [3]any{r.Verdict, r.Calc.Line, r.Calc.Cov}
	}
	return got, done
}

// TestFeedForgets has a feed meet more spellings of keys than it remembers: rows before and after give the same.
func TestFeedForgets(t *testing.T) {
	f := NewFeed(job.NewJob())
	cells := append([]string{"Machine=pump"}, reverse...)
	want, _ := fed(t, f, cells...)
	for i := range 5 * maxKeys {
		spelt := append([]string{}, cells...)
		spelt[1] = "Speed" + "!#$%*+,-./:;"[i%12:i%12+1] + string(make([]byte, i/12)) + "=1480" // signs and NUL bytes do not matter in a name
		got, done := fed(t, f, spelt...)
		if done.Refused != nil || got != want {
			t.Fatalf("key %d: %+v\n got %+v\nwant %+v", i, done.Refused, got, want)
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

// A number of JSON is what it is, whatever the decimal sign of the job and of the texts beside it: three digits behind the point part no thousands.
func TestNumbersOfJSONUnderEveryDecimalSign(t *testing.T) {
	for _, sign := range []string{"", "comma", "point"} {
		for _, beside := range []string{"0,5", "0.5", "0"} {
			for _, v := range []string{"1.234", "0.125", "-0.5", "2"} {
				j := &job.Job{Machines: &job.Table{}}
				if sign != "" {
					j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Decimal sign", sign}}}
				}
				f := NewFeed(j)
				f.Begin(1)
				f.Set("Machine", "P", false)
				f.Set("Method", "line", false)
				f.Set("Given offset V", v, true)
				f.Set("Given offset H", beside, false)
				f.Set("Given slope V", "0", true)
				f.Set("Given slope H", "0", true)
				b, _ := answer(f, nil)
				if bad := sign == "comma" && beside == "0.5" || sign == "point" && beside == "0,5"; !bad && !strings.Contains(string(b), `"offset_v_mm":`+v+",") {
					t.Errorf("%s beside %s under %q: %s", v, beside, sign, b)
				}
			}
		}
	}
}

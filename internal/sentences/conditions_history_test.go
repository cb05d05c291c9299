package sentences

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
)

// historyTold is all that is known of how a machine came to stand since older jobs, in the order it is told.
func historyTold(e *Teller, i int) string {
	out := ""
	for _, p := range e.History(i) {
		out += fmt.Sprintf("%s, %s, %s to %s, advised %v, %s | %s | %s\n", p.File, p.When, p.Round, p.Now, p.Advised, p.Why, strings.Join(e.ChangeCells(&p), " "), e.ChangeWords(&p))
	}
	return out + strings.Join(e.HistoryWords(i), "\n")
}

// What an older job says of a machine, whole: which round of then is held against which of now, the day, the change with its ±, or why there is none. By hand: a is left, b is found.
func TestHistoryTold(t *testing.T) {
	a, b := calc.Line{DV: 0.01, TV: 0.02, DH: -0.02, TH: 0.1}, calc.Line{DV: 0.11, TV: -0.08, DH: -0.05, TH: 0.4}
	rd := func(name string, l calc.Line, more ...string) string {
		return strings.Join(append([]string{"Rounds: Machine=pump | Round=" + name + rims(l)}, more...), " | ")
	}
	own := func(l calc.Line) string { return "2: " + strings.TrimPrefix(rims(l), " | ") }
	// Planes 100 mm from the coupling: dials of 0.01 mm make the ± of both.
	const moved = "| 0.1 %s -0.03 %s -0.1 %s 0.3 %s | offset %s more than the readings explain; slope %s more than the readings explain\n"
	for _, c := range []struct {
		then, now []string
		saved     string
		want      string // without the sentences where it is compared
	}{
		{[]string{rd("found", b), rd("left", a)}, []string{rd("found", b)}, "", "then.json, , left to found, advised false,  CHANGE"},
		{[]string{rd("found", b), rd("left", a)}, []string{own(b)}, "", "then.json, , left to found, advised false,  CHANGE"},
		{[]string{own(a)}, []string{own(b)}, "", "then.json, , found to found, advised false,  CHANGE"},
		{[]string{rd("left", a), rd("hot", b), rd("1", b, "Struck=x")}, []string{rd("found", b, "Struck=y"), rd("1", b), rd("left", a)}, "", "then.json, , left to 1, advised false,  CHANGE"},
		{[]string{rd("1", a)}, []string{rd("hot", a), rd("2", b)}, "", "then.json, , 1 to 2, advised false,  CHANGE"},
		// When: as the round says, else the job's date, else when it was saved; one that is no day only where there is none.
		{[]string{rd("left", a, "When=2025-04-12 16:10"), "Job: Date=2025-05-01"}, []string{rd("found", b)}, "2025-06-01T10:00:00Z", "then.json, 2025-04-12 16:10, left to found, advised false,  CHANGE"},
		{[]string{rd("left", a, "When=after lunch"), "Job: Date=2025-05-01"}, []string{rd("found", b)}, "2025-06-01T10:00:00Z", "then.json, 2025-05-01, left to found, advised false,  CHANGE"},
		{[]string{rd("left", a, "When=after lunch"), "Job: Date=spring"}, []string{rd("found", b)}, "2025-06-01T10:00:00Z", "then.json, 2025-06-01, left to found, advised false,  CHANGE"},
		{[]string{rd("left", a, "When=after lunch"), "Job: Date=spring"}, []string{rd("found", b)}, "some day", "then.json, after lunch, left to found, advised false,  CHANGE"},
		{[]string{rd("left", a), "Job: Date=spring"}, []string{rd("found", b)}, "", "then.json, spring, left to found, advised false,  CHANGE"},
		{[]string{rd("left", a)}, []string{rd("found", b)}, "2025", "then.json, 2025, left to found, advised false,  CHANGE"},
		// Something was to be done after the round, and it was not read again.
		{[]string{rd("found", b)}, []string{rd("found", calc.Line{DV: 0.21, TV: -0.18, DH: -0.08, TH: 0.7})}, "", "then.json, , found to found, advised true,  CHANGE"},
		// Why not.
		{[]string{rd("found", b, "Struck=x")}, []string{rd("found", b)}, "", "then.json, ,  to , advised false, there are no readings there that passed their checks |         | there are no readings there that passed their checks\nNot compared with then.json (a day that is not said): there are no readings there that passed their checks."},
		{nil, []string{rd("found", b)}, "2025-06-01", "then.json, ,  to , advised false, there are no readings there that passed their checks |         | there are no readings there that passed their checks\nNot compared with then.json (a day that is not said): there are no readings there that passed their checks."},
		{[]string{rd("left", a), "Job: Date=2025-05-01"}, nil, "", "then.json, 2025-05-01, left to , advised false, the readings found now are missing or failed a check |         | the readings found now are missing or failed a check\nNot compared with then.json (2025-05-01): the readings found now are missing or failed a check."},
		{[]string{rd("left", a), "Job: Date=2025-05-01"}, []string{rd("hot", b)}, "", "then.json, 2025-05-01, left to , advised false, the readings found now are missing or failed a check |         | the readings found now are missing or failed a check\nNot compared with then.json (2025-05-01): the readings found now are missing or failed a check."},
		{[]string{rd("left", a), rd("left", a)}, []string{rd("found", b)}, "", "then.json, , left to , advised false, there are no readings there that passed their checks |         | there are no readings there that passed their checks\nNot compared with then.json (a day that is not said): there are no readings there that passed their checks."},
		{[]string{rd("left", a), "2: Stationary=gear"}, []string{rd("found", b), "2: Stationary=Motor"}, "", "then.json, , left to , advised false, there it is coupled to gear |         | there it is coupled to gear\nNot compared with then.json (a day that is not said): there it is coupled to gear."},
		{[]string{rd("left", a), "2: Stationary=gear"}, []string{rd("found", b), "2: Stationary=GEAR"}, "", "then.json, , left to found, advised false,  CHANGE"},
		{[]string{rd("left", a), "2: Stationary=gear"}, []string{rd("found", b)}, "", "then.json, , left to found, advised false,  CHANGE"},
		{[]string{rd("left", a)}, []string{rd("found", b), "2: Stationary=gear"}, "", "then.json, , left to found, advised false,  CHANGE"},
		{[]string{rd("left", a), "3 of 2: Machine=PUMP"}, []string{rd("found", b)}, "", "then.json, , left to , advised false, its name stands twice there |         | its name stands twice there\nNot compared with then.json (a day that is not said): its name stands twice there."},
		{[]string{rd("left", a), "2: Offset limit | Slope limit"}, []string{rd("found", b)}, "", "then.json, , left to found, advised false,  CHANGE"}, // no limit there: a line all the same
	} {
		if len(c.then) == 0 || !strings.HasPrefix(c.then[0], "Rounds") && !strings.HasPrefix(c.then[0], "2:") {
			c.then = append([]string{}, c.then...)
		}
		old := jobText(t, plus(roundsText, c.then...)...)
		old.SavedAt = c.saved
		if strings.Contains(strings.Join(c.then, ""), "Struck=x") || len(c.then) == 0 { // when nobody knows
			old.SavedAt = ""
		}
		e := workText(t, plus(roundsText, c.now...)...)
		if e.HasHistory() {
			t.Fatal("older jobs before any were set")
		}
		e.SetHistory([]evaluate.Older{{Name: "then.json", Job: old}})
		got := historyTold(e, 0)
		want := c.want
		if strings.Contains(want, "CHANGE") {
			p := e.History(0)[0]
			over := func(v, h, u float64) float64 { return math.Hypot(v, h) - u }
			want = strings.Replace(want, "CHANGE", strings.TrimSuffix(fmt.Sprintf(moved, e.without(p.Offset.UV, e.Thickness), e.without(p.Offset.UH, e.Thickness), e.without(p.Slope.UV, e.Slope), e.without(p.Slope.UH, e.Slope), e.Thickness(over(0.1, 0.03, p.Offset.UTotal)), e.Slope(over(0.1, 0.3, p.Slope.UTotal))), "\n"), 1)
			since := p.When
			if since == "" {
				since = "a day that is not said"
			}
			want += fmt.Sprintf("\nSince %s (then.json, round %s) the shaft came to stand 0.1 mm higher and 0.03 mm farther towards the wall at the coupling centre: %s more than the readings explain (± %s).\n", since, p.Round, e.Thickness(over(0.1, 0.03, p.Offset.UTotal)), e.Thickness(p.Offset.UTotal)) +
				fmt.Sprintf("Its slope changed by 0.316 mm/m: %s more than the readings explain (± %s).", e.Slope(over(0.1, 0.3, p.Slope.UTotal)), e.Slope(p.Slope.UTotal))
			if p.Advised {
				want += "\nThere the machine was not read again after round found, though something was to be done: what was done then is in the difference."
			}
			old := work(t, old).Row(0)
			cov := &old.Calc.Cov
			if len(old.Rounds) > 0 {
				for k := range old.Rounds {
					if o := &old.Rounds[k]; o.Struck == "" && !o.Hot() {
						cov = &o.Cov
					}
				}
			}
			now := &e.Row(0).Calc.Cov
			for k := range e.Row(0).Rounds {
				if o := &e.Row(0).Rounds[k]; o.Name == p.Now {
					now = &o.Cov
				}
			}
			for k, x := range [4]float64{p.Offset.UV, p.Slope.UV, p.Offset.UH, p.Slope.UH} {
				near(t, "± of the change", x, 2*math.Sqrt(cov[k][k]+now[k][k]), 1e-12)
			}
		}
		if got != want {
			t.Errorf("%v, %v:\n%s\nwant\n%s", c.then, c.now, got, want)
		}
	}
}

// How a machine drifts, against a straight line by the normal equations, its ± by Student's t (5 degrees of freedom: 2.571, 3: 3.182, ISO 2602), and what that says, whole.
func TestDriftByNormalEquations(t *testing.T) {
	dates := []string{"2020-04-01", "2021-04-01", "2022-04-02", "2023-07-01", "2025-04-01"}
	found := []calc.Line{{DV: 0.3, DH: 0.2}, {DV: 0.02, DH: -0.03}, {DV: -0.01, DH: 0.04}, {DV: 0.06, DH: 0.01}, {DV: 0.03, DH: -0.05}}
	left := []calc.Line{{DV: 0.01, DH: -0.01}, {DV: -0.02, DH: 0.02}, {DV: 0.0, DH: 0.01}, {DV: 0.015, DH: 0.03}}
	var list []evaluate.Older
	for k := range left {
		list = append(list, evaluate.Older{Name: dates[k], Job: jobText(t, plus(roundsText, "Job: Date="+dates[k], "Rounds: Machine=pump | Round=found"+rims(found[k]), "Rounds: Machine=pump | Round=left"+rims(left[k]))...)})
	}
	e := workText(t, plus(roundsText, "Job: Date="+dates[4], "Rounds: Machine=pump | Round=found"+rims(found[4]))...)
	e.SetHistory(list)
	x := []float64{0, 365, 731, 1186, 1826} // days since the first, counted with a calendar
	v, h := []float64{0}, []float64{0}
	for k := 1; k < 5; k++ {
		v, h = append(v, v[k-1]+found[k].DV-left[k-1].DV), append(h, h[k-1]+found[k].DH-left[k-1].DH)
	}
	line := func(y []float64) (slope, u, s float64) {
		var n, sx, sy, sxx, sxy float64
		for k := range y {
			t := x[k] / 365.25
			n, sx, sy, sxx, sxy = n+1, sx+t, sy+y[k], sxx+t*t, sxy+t*y[k]
		}
		slope = (n*sxy - sx*sy) / (n*sxx - sx*sx)
		a, ss := (sy-slope*sx)/n, 0.0
		for k := range y {
			r := y[k] - a - slope*x[k]/365.25
			ss += r * r
		}
		s = math.Sqrt(ss / (n - 2))
		return slope, s / math.Sqrt(sxx-sx*sx/n) * 3.182446, s
	}
	d, ok := e.Drift(0)
	dv, uv, sv := line(v)
	dh, uh, sh := line(h)
	if !ok || d.Times != 5 || math.Abs(d.Years-1826/365.25) > 1e-9 {
		t.Fatalf("%v %+v", ok, d)
	}
	for k, p := range [][2]float64{{d.V, dv}, {d.H, dh}, {d.UV, uv}, {d.UH, uh}, {d.SV, sv}, {d.SH, sh}} {
		near(t, fmt.Sprint("drift ", k), p[0], p[1], 1e-4*math.Abs(p[1])+1e-9)
	}
	words := e.HistoryWords(0)
	way, side := "higher", "river"
	if dv < 0 {
		way = "lower"
	}
	if dh < 0 {
		side = "wall"
	}
	want := fmt.Sprintf("Over 5.0 years, read 5 times, it comes a year to stand %s %s and %s farther towards the %s at the coupling centre (± %s and ± %s for 95 %%; it repeats within %s and %s, one standard deviation).", e.Thickness(math.Abs(dv)), way, e.Thickness(math.Abs(dh)), side, e.Thickness(uv), e.Thickness(uh), e.Thickness(sv), e.Thickness(sh))
	if words[len(words)-1] != want {
		t.Errorf("%s\nwant\n%s", words[len(words)-1], want)
	}
	// A round found that failed its checks makes no point of the line.
	bad := list[2].Job.Rounds
	bad.Rows[0][len(bad.Rows[0])-1] = "0.9"
	e.SetHistory([]evaluate.Older{list[0], list[1], {Name: "b", Job: list[2].Job}, list[3]})
	if d, ok := e.Drift(0); !ok || d.Times != 4 {
		t.Errorf("%v %+v", ok, d)
	}
}

// How well feet came to stand where they should, over all machines and rounds but hot and struck ones, by mean and standard deviation; nothing is said of fewer than two.
func TestMissesByHand(t *testing.T) {
	a := calc.Line{DV: 0.5, TV: 0.4, DH: -0.2, TH: 0.1} // packs and moves leave it at 0.02 all along
	lines := plus(roundsText, "Rounds: Machine=pump | Round=found"+rims(a), "Rounds: Machine=pump | Round=1 | Struck=x"+rims(a))
	if e := workText(t, lines...); e.MissesWords() != "" {
		t.Error(e.MissesWords())
	}
	second := calc.Line{DV: 0.02}.Moved(300, 800, 0.03, -0.01, 0.02, 0.06)
	lines = append(lines, "3 of 2: Machine=fan", "Rounds: Machine=pump | Round=2"+rims(second), "Rounds: Machine=pump | Round=hot"+rims(calc.Line{DV: 3}))
	e := workText(t, lines...)
	n, v, sv, h, sh := e.Misses()
	if n != 2 || math.Abs(v-0.01) > 1e-9 || math.Abs(h-0.04) > 1e-9 || math.Abs(sv-0.04/math.Sqrt2) > 1e-9 || math.Abs(sh-0.04/math.Sqrt2) > 1e-9 {
		t.Errorf("%d %g %g %g %g", n, v, sv, h, sh)
	}
	if got := e.MissesWords(); got != "Feet read again after a move, over all machines and rounds: 2. In the mean they stood 0.01 mm higher than predicted (standard deviation 0.028 mm) and 0.04 mm farther towards 3 o'clock (standard deviation 0.028 mm)." {
		t.Error(got)
	}
}

// A change as a list has it: offset up and sideways, slope up and sideways, each with its own ±.
func TestChangeCellsHaveEachTheirOwn(t *testing.T) {
	e := workText(t, roundsText...)
	p := evaluate.Past{Offset: calc.Vector{V: 0.11, UV: 0.02, H: -0.13, UH: 0.04}, Slope: calc.Vector{V: -0.5, UV: 0.06, H: 0.7, UH: 0.08}}
	if got := strings.Join(e.ChangeCells(&p), " "); got != "0.11 0.02 -0.13 0.04 -0.5 0.06 0.7 0.08" {
		t.Error(got)
	}
}

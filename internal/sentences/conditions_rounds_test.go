package sentences

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
)

// roundsTold is all that is known of the rounds of a machine: which counts, each with its numbers, what is told, what is wrong.
func roundsTold(e *Teller) string {
	var b strings.Builder
	r := e.Row(0)
	num := func(list ...float64) string {
		s := ""
		for _, v := range list {
			s += strings.ReplaceAll(fmt.Sprintf(" %.2f", v+0), "-0.00", "0.00")
		}
		return strings.TrimPrefix(s, " ")
	}
	line := func(l calc.Line) string { return num(l.DV, l.TV, l.DH, l.TH) }
	fmt.Fprintf(&b, "state %s, %s; next %s, open %q, from rounds %v; %v; %s\n", r.State, r.StateWord().String(), e.NextRound(0), r.OpenRound(), r.FromRounds(), r.Verdict, r.Why)
	for k := range r.Rounds {
		o := &r.Rounds[k]
		fmt.Fprintf(&b, "%s, row %d, %s: %v, %s, %s; line %s; predicted %s\n", o.Name, o.Row, strings.Join([]string{o.When, o.By, o.Temperature, o.Instrument, o.Packs, o.Done, o.Struck}, "/"), o.Verdict, o.Why, num(100*o.Share), line(o.Line), line(o.Predicted))
		for _, f := range o.Stand {
			fmt.Fprintf(&b, "  %s stands %s, predicted %s\n", f.Foot, num(f.V, f.H), num(f.PredictedV, f.PredictedH))
		}
		for _, f := range o.Missed {
			fmt.Fprintf(&b, "  %s missed %s%s\n", f.Foot, num(f.V, f.H), map[bool]string{true: ", sprang"}[f.Sprang])
		}
	}
	b.WriteString(strings.Join(e.RoundsWords(0), "\n") + "\n")
	b.WriteString(toldBy(append(e.Problems(), r.Problems...)))
	return b.String()
}

// Rounds in many ways, with everything that is known of them. By hand: a stands 0.62 and 0.82 high and 0.17 and 0.12 to the wall over its feet, b 0.016 and 0.026 high, c 0.14 and 0.04 high and 0.16 and 0.26 to the river; packs of 0.05 mm
// leave a at 0.02 and 0.02, c at -0.01 and -0.01; what was typed as done takes their place, foot by foot and way by way.
func TestRoundsTold(t *testing.T) {
	a, b, c := calc.Line{DV: 0.5, TV: 0.4, DH: -0.2, TH: 0.1}, calc.Line{DV: 0.01, TV: 0.02}, calc.Line{DV: 0.2, TV: -0.2, DH: 0.1, TH: 0.2}
	rd := func(name string, l calc.Line, more ...string) string {
		return strings.Join(append([]string{"Rounds: Machine=pump | Round=" + name + rims(l)}, more...), " | ")
	}
	for _, x := range []struct {
		lines []string
		want  string
	}{
		{[]string{rd("found", a, "When=today", "By=Kim", "Temperature=20", "Instrument=dial 4", "Done=nothing")}, `
state found, found; next 1, open "found", from rounds true; outside; 
found, row 2, today/Kim/20/dial 4//nothing/: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
Round found: outside, 539 % of the limit.
`},
		{[]string{rd("found", a), rd("1", b)}, `
state round 1, round 1; next 2, open "1", from rounds true; inside; 
found, row 2, //////: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
1, row 3, //////: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted 0.02 0.00 0.00 0.00
  front stands 0.02 0.00, predicted 0.02 0.00
  rear stands 0.03 0.00, predicted 0.02 0.00
  front missed 0.00 0.00
  rear missed 0.01 0.00
Round found: outside, 539 % of the limit.
Round 1: inside, 10 % of the limit.
After the last move the front feet came to stand 0.004 mm lower than predicted, and not off sideways.
After the last move the rear feet came to stand 0.006 mm higher than predicted, and not off sideways.
`},
		{[]string{rd("found", b), rd("1", a)}, `
state round 1, round 1; next 2, open "1", from rounds true; outside; 
found, row 2, //////: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted NaN NaN NaN NaN
  front stands 0.02 0.00, predicted NaN NaN
  rear stands 0.03 0.00, predicted NaN NaN
1, row 3, //////: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted 0.01 0.02 0.00 0.00
  front stands 0.62 -0.17, predicted 0.02 0.00
  rear stands 0.82 -0.12, predicted 0.03 0.00
  front missed 0.60 -0.17
  rear missed 0.79 -0.12
Round found: inside, 10 % of the limit.
Round 1: outside, 539 % of the limit.
After the last move the front feet came to stand 0.604 mm higher than predicted, and 0.17 mm farther towards the wall.
After the last move the rear feet came to stand 0.794 mm higher than predicted, and 0.12 mm farther towards the wall.
`},
		{[]string{rd("found", a), rd("1", b, "Front shim done=-0.6")}, `
state round 1, round 1; next 2, open "1", from rounds true; inside; 
found, row 2, //////: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
1, row 3, //////: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted 0.02 0.00 0.00 0.00
  front stands 0.02 0.00, predicted 0.02 0.00
  rear stands 0.03 0.00, predicted 0.02 0.00
  front missed 0.00 0.00
  rear missed 0.01 0.00
Round found: outside, 539 % of the limit.
Round 1: inside, 10 % of the limit.
After the last move the front feet came to stand 0.004 mm lower than predicted, and not off sideways.
After the last move the rear feet came to stand 0.006 mm higher than predicted, and not off sideways.
`},
		{[]string{rd("found", a), rd("1", b, "Rear move done=0.1", "Front move done=0.2")}, `
state round 1, round 1; next 2, open "1", from rounds true; inside; 
found, row 2, //////: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
1, row 3, //////: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted 0.02 0.00 0.06 -0.10
  front stands 0.02 0.00, predicted 0.02 0.03
  rear stands 0.03 0.00, predicted 0.02 -0.02
  front missed 0.00 -0.03
  rear missed 0.01 0.02
Round found: outside, 539 % of the limit.
Round 1: inside, 10 % of the limit.
After the last move the front feet came to stand 0.004 mm lower than predicted, and 0.03 mm farther towards the wall.
After the last move the rear feet came to stand 0.006 mm higher than predicted, and 0.02 mm farther towards the river.
`},
		{[]string{rd("found", a), rd("1", b, "Front shim done=-0.6", "Rear shim done=-0.8", "Front move done=0.17", "Rear move done=0.12")}, `
state round 1, round 1; next 2, open "1", from rounds true; inside; 
found, row 2, //////: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
1, row 3, //////: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted 0.02 0.00 0.00 0.00
  front stands 0.02 0.00, predicted 0.02 0.00
  rear stands 0.03 0.00, predicted 0.02 0.00
  front missed 0.00 0.00
  rear missed 0.01 0.00
Round found: outside, 539 % of the limit.
Round 1: inside, 10 % of the limit.
After the last move the front feet came to stand 0.004 mm lower than predicted, and not off sideways.
After the last move the rear feet came to stand 0.006 mm higher than predicted, and not off sideways.
`},
		{[]string{rd("found", a), rd("1", c), rd("2", b, "Struck=slipped"), rd("left", b)}, `
state left, left; next left, open "left", from rounds true; inside; 
found, row 2, //////: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
1, row 3, //////: outside, offset 0.224 mm is over its limit of 0.1 mm, 223.61; line 0.20 -0.20 0.10 0.20; predicted 0.02 0.00 0.00 0.00
  front stands 0.14 0.16, predicted 0.02 0.00
  rear stands 0.04 0.26, predicted 0.02 0.00
  front missed 0.12 0.16
  rear missed 0.02 0.26
2, row 4, //////slipped: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted NaN NaN NaN NaN
left, row 5, //////: inside, , 10.00; line 0.01 0.02 0.00 0.00; predicted -0.01 0.00 0.00 0.00
  front stands 0.02 0.00, predicted -0.01 0.00
  rear stands 0.03 0.00, predicted -0.01 0.00
  front missed 0.03 0.00
  rear missed 0.04 0.00
Round found: outside, 539 % of the limit.
Round 1: outside, 224 % of the limit.
After the last move the front feet came to stand 0.12 mm higher than predicted, and 0.16 mm farther towards the river.
After the last move the rear feet came to stand 0.02 mm higher than predicted, and 0.26 mm farther towards the river.
Round 2 is struck: slipped.
Round left: inside, 10 % of the limit.
After the last move the front feet came to stand 0.026 mm higher than predicted, and not off sideways.
After the last move the rear feet came to stand 0.036 mm higher than predicted, and not off sideways.
`},
		{[]string{rd("found", a, "Struck=a"), rd("1", c)}, `
state round 1, round 1; next 2, open "1", from rounds true; outside; 
found, row 2, //////a: outside, offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
1, row 3, //////: outside, offset 0.224 mm is over its limit of 0.1 mm, 223.61; line 0.20 -0.20 0.10 0.20; predicted NaN NaN NaN NaN
  front stands 0.14 0.16, predicted NaN NaN
  rear stands 0.04 0.26, predicted NaN NaN
Round found is struck: a.
Round 1: outside, 224 % of the limit.
`},
		{[]string{"2: Growth movable front V=0.1 | Growth movable rear V=0.2 | Growth movable front H=0 | Growth movable rear H=0 | Minutes since stop=0", rd("left", a), rd("hot", c)}, `
state left, left; next left, open "hot", from rounds true; outside; 
left, row 2, //////: outside, offset from the wanted line 0.576 mm is over its limit of 0.1 mm, 575.85; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.72 -0.17, predicted NaN NaN
  rear stands 1.02 -0.12, predicted NaN NaN
hot, row 3, //////: outside, offset 0.224 mm is over its limit of 0.1 mm, 223.61; line 0.20 -0.20 0.10 0.20; predicted 0.54 0.60 -0.20 0.10
  front stands 0.14 0.16, predicted 0.72 -0.17
  rear stands 0.04 0.26, predicted 1.02 -0.12
  front missed -0.58 0.33
  rear missed -0.98 0.38
Round left: outside, 576 % of the limit.
Read hot: outside, 224 % of the limit, held against the line wanted hot. Shims and pushes are not worked out from hot readings.
Hot the front feet stand 0.58 mm lower than growth says, and 0.33 mm farther towards the river.
Hot the rear feet stand 0.98 mm lower than growth says, and 0.38 mm farther towards the river.
`},
		{[]string{"2: Growth movable front V=0.1 | Growth movable rear V=0.2 | Growth movable front H=0 | Growth movable rear H=0 | Minutes since stop=0", rd("hot", c)}, `
state waiting, waiting; next found, open "hot", from rounds false; not judged; no readings
hot, row 2, //////: outside, offset 0.224 mm is over its limit of 0.1 mm, 223.61; line 0.20 -0.20 0.10 0.20; predicted NaN NaN NaN NaN
  front stands 0.14 0.16, predicted NaN NaN
  rear stands 0.04 0.26, predicted NaN NaN
Read hot: outside, 224 % of the limit, held against the line wanted hot. Shims and pushes are not worked out from hot readings.
error Machines 2 : no readings (fill readings, such as Movable rim 12, 3, 6, 9 and Stationary rim 12, 3, 6, 9, or a given line)
`},
		{[]string{"2: Coupling to front feet | Front to rear feet", rd("found", a), rd("1", c)}, `
state round 1, round 1; next 2, open "1", from rounds true; outside; Coupling to front feet and Front to rear feet are missing
found, row 2, //////: outside, Coupling to front feet and Front to rear feet are missing; offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
1, row 3, //////: outside, Coupling to front feet and Front to rear feet are missing; offset 0.224 mm is over its limit of 0.1 mm, 223.61; line 0.20 -0.20 0.10 0.20; predicted NaN NaN NaN NaN
Round found: outside, 539 % of the limit.
Round 1: outside, 224 % of the limit.
error Machines 2 Coupling to front feet: Coupling to front feet and Front to rear feet are missing (shims and moves need it; offset, slope and verdict stand without it)
`},
		{[]string{"2: Coupling to front feet | Front to rear feet", rd("found", a), rd("1", c, "Front shim done=-0.1")}, `
state round 1, round 1; next 2, open "1", from rounds true; outside; Coupling to front feet and Front to rear feet are missing
found, row 2, //////: outside, Coupling to front feet and Front to rear feet are missing; offset 0.539 mm is over its limit of 0.1 mm, 538.52; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
1, row 3, //////: outside, Coupling to front feet and Front to rear feet are missing; offset 0.224 mm is over its limit of 0.1 mm, 223.61; line 0.20 -0.20 0.10 0.20; predicted NaN NaN NaN NaN
Round found: outside, 539 % of the limit.
Round 1: outside, 224 % of the limit.
error Machines 2 Coupling to front feet: Coupling to front feet and Front to rear feet are missing (shims and moves need it; offset, slope and verdict stand without it)
`},
		{[]string{"2: Offset limit | Slope limit", rd("found", a), rd("1", c)}, `
state round 1, round 1; next 2, open "1", from rounds true; not judged; Speed is missing, so there is no limit
found, row 2, //////: not judged, Speed is missing, so there is no limit, NaN; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.62 -0.17, predicted NaN NaN
  rear stands 0.82 -0.12, predicted NaN NaN
1, row 3, //////: not judged, Speed is missing, so there is no limit, NaN; line 0.20 -0.20 0.10 0.20; predicted 0.02 0.00 0.00 0.00
  front stands 0.14 0.16, predicted 0.02 0.00
  rear stands 0.04 0.26, predicted 0.02 0.00
  front missed 0.12 0.16
  rear missed 0.02 0.26
Round found: not judged.
Round 1: not judged.
After the last move the front feet came to stand 0.12 mm higher than predicted, and 0.16 mm farther towards the river.
After the last move the rear feet came to stand 0.02 mm higher than predicted, and 0.26 mm farther towards the river.
error Machines 2 Speed: Speed is missing, so there is no limit (write the speed, or Offset limit and Slope limit of the row's own)
`},
		{[]string{"2: Running offset V=x", rd("found", a), rd("1", c)}, `
state round 1, round 1; next 2, open "1", from rounds true; not judged; Running offset V: "x" is not a length
found, row 2, //////: not judged, Running offset V: "x" is not a length, NaN; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
1, row 3, //////: not judged, Running offset V: "x" is not a length, NaN; line 0.20 -0.20 0.10 0.20; predicted NaN NaN NaN NaN
Round found: not judged.
Round 1: not judged.
error Machines 2 Running offset V: "x" is not a length (write 12.5 mm, 12,5 mm or 1/2 in)
`},
		{[]string{"2: Running offset V=0.2 | Running offset H=0.1 | Running slope V=-0.2 | Running slope H=0.2", rd("found", a), rd("1", c)}, `
state round 1, round 1; next 2, open "1", from rounds true; inside; 
found, row 2, //////: outside, offset from the wanted line 0.424 mm is over its limit of 0.1 mm, 424.26; line 0.50 0.40 -0.20 0.10; predicted NaN NaN NaN NaN
  front stands 0.48 -0.33, predicted NaN NaN
  rear stands 0.78 -0.38, predicted NaN NaN
1, row 3, //////: inside, , 0.00; line 0.20 -0.20 0.10 0.20; predicted 0.18 -0.20 0.10 0.20
  front stands 0.00 0.00, predicted -0.02 0.00
  rear stands 0.00 0.00, predicted -0.02 0.00
  front missed 0.02 0.00
  rear missed 0.02 0.00
Round found: outside, 424 % of the limit.
Round 1: inside, 0 % of the limit.
After the last move the front feet came to stand 0.02 mm higher than predicted, and not off sideways.
After the last move the rear feet came to stand 0.02 mm higher than predicted, and not off sideways.
`},
	} {
		e := workText(t, plus(roundsText, x.lines...)...)
		var got []string
		for _, s := range strings.Split(roundsTold(e), "\n") {
			if !strings.HasPrefix(s, "note ") {
				got = append(got, s)
			}
		}
		if s := strings.Join(got, "\n"); s != strings.TrimPrefix(x.want, "\n") {
			t.Errorf("%v:\n%s", x.lines, s)
		}
	}
}

// A foot sprang back where it came to stand lower than it should by more than the readings of both rounds explain; each ± from the covariance of its line, JCGM 100, 5.2.2.
func TestSprangBackAtItsBound(t *testing.T) {
	a := calc.Line{DV: 0.5, TV: 0.4, DH: -0.2, TH: 0.1}
	to := calc.Line{DV: 0.02}
	at := func(c *calc.Cov, x float64) float64 { x /= 1000; return math.Sqrt(c[0][0] + 2*x*c[0][1] + x*x*c[1][1]) }
	side := func(c *calc.Cov, x float64) float64 {
		x /= 1000
		return math.Sqrt(c[2][2] + 2*x*c[2][3] + x*x*c[3][3])
	}
	for foot, x := range []float64{300, 800} {
		for _, share := range []float64{-1.02, -0.98, 0.98, 1.02} {
			low := [2]float64{}
			for range 2 { // the ± hangs little on the line
				second := to.Moved(300, 800, low[0], low[1], 0.3, -0.3)
				e := workText(t, plus(roundsText, "Rounds: Machine=pump | Round=found"+rims(a), "Rounds: Machine=pump | Round=1"+rims(second))...)
				r := e.Row(0)
				o, before := &r.Rounds[1], &r.Rounds[0]
				by := 2 * math.Hypot(at(&o.Cov, x), at(&before.Cov, x))
				if low[foot] == 0 {
					low[foot] = share * by
					continue
				}
				for k, f := range o.Missed {
					if want := k == foot && share < -1; f.Sprang != want || math.Abs(f.V-low[k]) > 1e-9 || math.Abs(f.H-[]float64{0.3, -0.3}[k]) > 1e-9 {
						t.Errorf("%s feet %g of the ± of both off: %+v", []string{"front", "rear"}[foot], share, o.Missed)
					}
				}
				for k, f := range o.Stand {
					near(t, "±", f.UV, 2*at(&o.Cov, []float64{300, 800}[k]), 1e-12)
					near(t, "± sideways", f.UH, 2*side(&o.Cov, []float64{300, 800}[k]), 1e-12)
				}
				said := strings.Contains(strings.Join(e.RoundsWords(0), "\n"), " feet came ") && strings.Contains(sentencesOf(e, 0, SentenceHint), fmt.Sprintf("The %s feet came", []string{"front", "rear"}[foot]))
				if back := o.Missed[foot].V; share < -1 && !strings.Contains(strings.Join(e.RoundsWords(0), "\n"), fmt.Sprintf("The %s feet came %s less high", []string{"front", "rear"}[foot], e.Thickness(-back))) {
					t.Error(e.RoundsWords(0))
				}
				if said != (share < -1) {
					t.Errorf("%g: %s", share, sentencesOf(e, 0, SentenceHint))
				}
			}
		}
	}
}

// A round of which nobody knows where the shaft should stand has no missed feet: a plan of the whole train was followed, and of what was done since only a part was typed. With all of it typed it has: 0.33 − 0.30 mm at the front and 0.45 − 0.40 at the rear
// were to be left, and 0.1 is there; sideways −0.04 + 0.05 and 0.20 − 0.18.
func TestNoMissedFeetWithoutPrediction(t *testing.T) {
	for done, want := range map[string]string{
		"Front shim done=-0.3": "",
		"Front shim done=-0.3 | Rear shim done=-0.4 | Front move done=0.05 | Rear move done=-0.18": "front 0.07 -0.01, rear 0.05 -0.02",
	} {
		e := workText(t, plus(trainText, "Trains: Train=T1 | Plan=as set", "Rounds: Machine=Motor | Round=1 | "+done+rims(calc.Line{DV: 0.1}))...)
		r := e.Row(0)
		var got []string
		for _, f := range r.Rounds[len(r.Rounds)-1].Missed {
			got = append(got, fmt.Sprintf("%s %.2f %.2f", f.Foot, f.V, f.H))
		}
		if s := strings.Join(got, ", "); s != want || strings.Contains(strings.Join(e.RoundsWords(0), ""), "NaN") {
			t.Errorf("%s: %s, want %s; %q", done, s, want, e.RoundsWords(0))
		}
	}
}

// A round hot that is not judged says why, and one that is judged does not.
func TestHotRoundSaysWhyNotJudged(t *testing.T) {
	for limits, want := range map[string]string{
		"2: Minutes since stop=0 | Offset limit | Slope limit":      "Read hot: not judged (Speed is missing, so there is no limit), held against",
		"2: Minutes since stop=0":                                   "Read hot: outside, 300 % of the limit, held against",
		"2: Minutes since stop=0 | Offset limit=1 | Slope limit=50": "Read hot: inside, 30 % of the limit, held against",
	} {
		e := workText(t, plus(roundsText, limits, "Rounds: Machine=pump | Round=left"+rims(calc.Line{}), "Rounds: Machine=pump | Round=hot"+rims(calc.Line{DV: 0.3}))...)
		if got := e.HotWords(0); len(got) == 0 || !strings.HasPrefix(got[0], want) {
			t.Errorf("%s: %q, want %q", limits, got, want)
		}
	}
}

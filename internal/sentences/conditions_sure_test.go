package sentences

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
)

// scattered is a sweep of twelve positions of a shaft that stands v high and h to the side of where it is read, each reading off by d one way or the other, so that neither height nor side of it changes much.
func scattered(v, h, d float64) string {
	var b strings.Builder
	for k, off := range [12]float64{0, 1, -1, 1, 1, -1, 1, -1, -1, 1, -1, 1} {
		a := float64(k) * math.Pi / 6
		fmt.Fprintf(&b, "%d:%.4f ", k*30, v*(math.Cos(a)-1)+h*math.Sin(a)+d*off)
	}
	return b.String()
}

// What is said of the ± of a verdict: what it is made of, the largest part first; which sweep scatters, and how much; and, where it is too close to call, what would settle it. Each source of uncertainty is made the
// largest in turn.
func TestWhatTheUncertaintySays(t *testing.T) {
	base := []string{"Method=sweeps", "Speed=1480", "Coupling=short", "Limit reason=maker", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500"}
	sweeps := func(movable, stationary float64) []string {
		return []string{"Movable sweep=" + scattered(0.15, -0.02, movable), "Stationary sweep=" + scattered(-0.05, 0.06, stationary)}
	}
	const none, both = "Movable sag at 6=0;Stationary sag at 6=0;Slope limit=5", "Stationary sag at 6=0;Movable sag at 6=-0.1;Slope limit=5"
	change4 := ";Change offset V=0.2;Change offset H=0;Change slope V=0;Change slope H=0"
	again, never := "Reading ", "No repeat of these readings settles it: the number stands too near its limit, or the ± comes from "
	for _, c := range []struct {
		movable, stationary float64
		cells, settings     string
		verdict             calc.Verdict
		odd                 string // sweeps that scatter, the first of which is named again where nothing is settled
		first               string // the largest part
		settles             string
	}{
		{0, 0, none + ";Offset limit=0.13", "", calc.Inside, "", "", ""},
		{0, 0, none + ";Offset limit=0.11", "", calc.TooClose, "", "", again + "Movable sweep again once at the same positions would settle it, if the numbers stay."},
		{0, 0, none + ";Offset limit=0.106", "", calc.TooClose, "", "", again + "every sweep again 3 times would settle it, if the numbers stay; one sweep alone would not."},
		{0, 0, none + ";Offset limit=0.1075", "", calc.TooClose, "", "", never + "the distances by tape."},
		{0.01, 0, none + ";Offset limit=0.13", "", calc.Inside, "Movable sweep", "the readings of Movable sweep (85 %)", ""},
		{0.01, 0, none + ";Offset limit=0.11", "", calc.TooClose, "Movable sweep", "the readings of Movable sweep (85 %)", never + "the distances by tape."},
		{0, 0.01, none + ";Offset limit=0.11", "", calc.TooClose, "Stationary sweep", "the readings of Stationary sweep (85 %)", again + "Stationary sweep again 3 times at the same positions would settle it, if the numbers stay."},
		{0.01, 0.01, none + ";Offset limit=0.104", "", calc.TooClose, "Movable sweep, Stationary sweep", "", again + "every sweep again 3 times would settle it, if the numbers stay; one sweep alone would not."},
		{0, 0, both + ";Offset limit=0.13", "", calc.Inside, "", "the sag of the brackets (77 %)", ""},
		{0, 0, both + ";Offset limit=0.085", "", calc.TooClose, "", "the sag of the brackets (77 %)", never + "the sag of the brackets."},
		{0, 0, "Movable sag at 6=0;Stationary sag at 6=0;Offset limit=5;Slope limit=0.53", "Distance uncertainty,10 mm", calc.TooClose, "", "the distances by tape (91 %)", never + "the distances by tape."},
		{0, 0, none + ";Offset limit=0.12" + change4, "", calc.Outside, "", "the wanted line (99 %)", ""},
		{0, 0, none + ";Offset limit=0.304" + change4, "", calc.TooClose, "", "the wanted line (99 %)", never + "the wanted line."},
	} {
		cells := slices.Concat(base, sweeps(c.movable, c.stationary), strings.Split(c.cells, ";"))
		sheets := []string{}
		if c.settings != "" {
			sheets = []string{"Job", "Name,Value\n" + c.settings + "\n"}
		}
		e, r := grown(t, cells, sheets...)
		if r.Verdict != c.verdict {
			t.Errorf("%s: %v, %v", c.cells, r.Verdict, r.Problems)
		}
		var odd, settles, off []string
		parts := ""
		for _, s := range e.Sentences(0) {
			switch {
			case strings.Contains(s.Text, "(Birge ratio)"):
				name, _, _ := strings.Cut(strings.TrimPrefix(s.Text, "The readings of "), " disagree among themselves")
				odd = append(odd, name)
				if k := slices.IndexFunc(r.Sweeps, func(x evaluate.SweepInfo) bool { return x.Name == name }); k < 0 || !strings.Contains(s.Text, "taken "+strconv.FormatFloat(r.Calc.Checks[k].Misfit, 'f', 1, 64)+" times") {
					t.Errorf("%s: %s", c.cells, s.Text)
				}
			case strings.HasPrefix(s.Text, "The ± of what decides comes from "):
				parts += s.Text
			case strings.HasPrefix(s.Text, "One reading of "):
				off = append(off, s.Text)
			case strings.Contains(s.Text, "settle"):
				settles = append(settles, s.Text)
			}
		}
		if got := strings.Join(odd, ", "); got != c.odd {
			t.Errorf("%s: %q scatter, want %q", c.cells, got, c.odd)
		}
		if !strings.HasPrefix(parts, "The ± of what decides comes from "+c.first) || strings.Count(parts, "The ±") != 1 {
			t.Errorf("%s: %s, want %s first", c.cells, parts, c.first)
		}
		sum, last := 0, 100
		for _, part := range strings.Split(parts, "(")[1:] {
			n, err := strconv.Atoi(strings.Split(part, " ")[0])
			if sum += n; err != nil || n > last || n < 5 {
				t.Errorf("%s: %s", c.cells, parts)
			}
			last = n
		}
		if sum > 101 || sum < 85 {
			t.Errorf("%s: %s is %d %%", c.cells, parts, sum)
		}
		if got := strings.Join(settles, " "); got != c.settles {
			t.Errorf("%s: %q, want %q", c.cells, got, c.settles)
		}
		if want := c.odd != "" && c.verdict == calc.TooClose; want != (len(off) == 1) || want && !strings.HasPrefix(off[0], "One reading of "+strings.Split(c.odd, ",")[0]+" is off;") {
			t.Errorf("%s: %q", c.cells, off)
		}
	}
	// Three sweeps that agree each with itself, and not about the line.
	e, r := one(t, slices.Concat(base, sweeps(0, 0), []string{"Movable sag at 6=0", "Stationary sag at 6=0", "Offset limit=0.13", "Slope limit=5", "Face diameter=200", "Face 12=0", "Face 3=0.019", "Face 6=-0.104", "Face 9=-0.12"})...)
	n := 0
	for _, s := range e.Sentences(0) {
		if strings.Contains(s.Text, "(Birge ratio)") {
			if n++; s.Text != "The sweeps disagree about the line by more than their uncertainty explains; it is taken "+strconv.FormatFloat(r.Calc.Misfit, 'f', 1, 64)+" times as large (Birge ratio)." {
				t.Error(s.Text)
			}
		}
	}
	if n != 1 || r.Calc.Misfit < 2 {
		t.Errorf("%d sentences, misfit %v", n, r.Calc.Misfit)
	}
}

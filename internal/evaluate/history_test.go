package evaluate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// What was found now is held against what was left then: the difference is the movement, its ± the root of both squares, and a machine that stands as it was left has moved no more than the readings
// explain.
func TestHistory(t *testing.T) {
	//evidence: calc=history: moved since grade=identity count=200 source=a rigid line moved by a known amount between what was left then and what was found now, readings with errors; the root of both squares by hand
	rng := rand.New(rand.NewPCG(31, 4))
	draw := func(s float64) float64 { return s * (2*rng.Float64() - 1) }
	more, still := 0, 0
	noisy := func(l calc.Line) string {
		cells := strings.Split(rimRow(l), ",")
		for k := range cells {
			var x float64
			fmt.Sscan(cells[k], &x)
			cells[k] = fmt.Sprintf("%.12f", x+0.003*rng.NormFloat64())
		}
		return strings.Join(cells, ",")
	}
	for i := range 200 {
		found, left, moved := calc.Line{DV: draw(0.5), TV: draw(1)}, calc.Line{DV: draw(0.02), TH: draw(0.05)}, calc.Line{}
		if i%2 == 1 {
			moved = calc.Line{DV: 0.1 + 0.1*rng.Float64(), TV: draw(0.2), DH: draw(0.1)}
		}
		now := calc.Line{DV: left.DV + moved.DV, TV: left.TV + moved.TV, DH: left.DH + moved.DH, TH: left.TH + moved.TH}
		cells := change(without, "Repeatability=0.003")
		then := yearJob(t, 2025, cells, "pump,found,,,,,,,,"+noisy(found)+"\npump,left,,,,,,,,"+noisy(left)+"\npump,hot,,,,,,,,"+noisy(found)+"\n")
		e := beside(t, yearJob(t, 2026, cells, "pump,found,,,,,,,,"+noisy(now)+"\npump,1,,,,,,,,"+noisy(calc.Line{})+"\n"), then)
		list := e.History(0)
		if len(list) != 1 || !list[0].Why.Empty() || list[0].Round != "left" || list[0].Now != "found" || list[0].When != "2025-04-12" || list[0].Advised {
			t.Fatalf("%+v", list)
		}
		p := list[0]
		old := work(t, then).Row(0)
		a, b := e.Row(0).Rounds[0].Line, old.Rounds[1].Line
		if math.Abs(p.Offset.V-(a.DV-b.DV)) > 1e-12 || math.Abs(p.Slope.H-(a.TH-b.TH)) > 1e-12 {
			t.Fatalf("%+v", p)
		}
		u := 2 * math.Hypot(math.Sqrt(e.Row(0).Rounds[0].Cov[0][0]), math.Sqrt(old.Rounds[1].Cov[0][0]))
		if math.Abs(p.Offset.UV-u) > 1e-12 {
			t.Fatalf("± %v, the root of both squares is %v", p.Offset.UV, u)
		}
		if Beyond(&p.Offset) > 0 {
			if more++; i%2 == 0 {
				still++
			}
		}
	}
	if more-still < 99 || still > 20 { // of two planes the longer vector is beyond its ± (k = 2) in exp(−2) = 13.5 % of cases by chance
		t.Errorf("%d of 100 that moved were said to, and %d of 100 that did not", more-still, still)
	}
}

// A machine that sinks by so much a year, and is put right every year, is found to sink by that.
func TestHistoryDrift(t *testing.T) {
	//evidence: calc=history: drift over years grade=identity count=1 source=a line that sinks 0.04 mm a year and is put back to 0.01 mm high each spring
	var older []*job.Job
	left := calc.Line{DV: 0.01}
	found := calc.Line{DV: 0.3}
	for year := 2021; year < 2026; year++ {
		older = append(older, yearJob(t, year, without, "pump,found,,,,,,,,"+rimRow(found)+"\npump,left,,,,,,,,"+rimRow(left)+"\n"))
		found = calc.Line{DV: left.DV - 0.04}
	}
	slices.Reverse(older)
	e := beside(t, yearJob(t, 2026, without, "pump,found,,,,,,,,"+rimRow(found)+"\n"), older...)
	d, ok := e.Drift(0)
	if !ok || d.Times != 6 || math.Abs(d.V+0.04) > 1e-4 || math.Abs(d.H) > 1e-12 || math.Abs(d.Years-5) > 0.01 || !(d.UV < 1e-3) {
		t.Errorf("%v %+v", ok, d)
	}
	l, err := e.List("history", nil)
	if err != nil || len(l.Rows) != 5 || l.Rows[0][1] != "2021-04-12" || len(l.Notes) < 2 || !strings.Contains(l.Notes[0], "a year to stand 0.04 mm lower") {
		t.Errorf("%v %+v", err, l)
	}
	m := machines(t, e)[0]
	if h := m["history"].([]any); len(h) != 5 || h[4].(map[string]any)["offset_v_mm"] == nil || m["drift"].(map[string]any)["times"] != 6.0 {
		t.Error(m["history"], m["drift"])
	}
	if n, v, _, _, _ := e.Misses(); n != 0 || !math.IsNaN(v) {
		t.Error(n, v)
	}
}

// The day of a date is the one the standard library gives, but for where it counts from.
func TestDayOf(t *testing.T) {
	start := time.Date(1999, 12, 25, 0, 0, 0, 0, time.UTC)
	for k := range 800 {
		d := start.AddDate(0, 0, k*13)
		if got := dayOf(" "+d.Format("2006-01-02 15:04")) - dayOf(start.Format(time.DateOnly)); got != float64(k*13) {
			t.Fatalf("%v: %v days, want %d", d, got, k*13)
		}
	}
	for _, s := range []string{"", "spring", "2026-13-01", "2026-00-01", "12.04.2026", "2026-04", "20x6-04-12", "day 1, 16:10"} {
		if Known(dayOf(s)) {
			t.Errorf("%q is taken for a date", s)
		}
	}
}

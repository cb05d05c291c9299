package evaluate

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// The minutes between stop and hot readings widen the change: by one per cent of it a minute, or what the job says; unsaid they are asked for and ten are assumed.
func TestMinutesSinceStop(t *testing.T) {
	hot := sweepsOf("hot", hotMovable, hotStationary)
	_, at0 := withSets(t, reverse, hot)
	change0 := at0.Growth.Change
	for _, c := range []struct {
		minutes string
		share   float64
	}{{"=8", 0.08}, {"=0", 0}, {"", 0.10}} {
		cells := change(reverse, "Minutes since stop"+c.minutes)
		if c.minutes == "" {
			cells = change(reverse, "Minutes since stop= ")
		}
		_, r := withSets(t, cells, hot)
		for k, d := range [4]float64{change0.DV, change0.TV, change0.DH, change0.TH} {
			near(t, fmt.Sprintf("%q: variance of part %d", c.minutes, k), r.Growth.Cov[k][k]-at0.Growth.Cov[k][k], c.share*c.share*d*d, 1e-14)
		}
		near(t, "of the deviation", math.Pow(r.Calc.Found.Offset.UV, 2), math.Pow(at0.Calc.Found.Offset.UV, 2)+math.Pow(2*c.share*change0.DV, 2), 1e-12)
		asked := slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Column == "Minutes since stop" })
		if asked != (c.minutes == "") {
			t.Errorf("%q: asked %v", c.minutes, asked)
		}
	}
	// A change given as numbers may have been measured while it ran: nothing is asked.
	_, typed := one(t, change(reverse, "Change offset V=0.1", "Change offset H=0", "Change slope V=0", "Change slope H=0")...)
	if slices.ContainsFunc(typed.Problems, func(p job.Problem) bool { return p.Column == "Minutes since stop" }) {
		t.Error(typed.Problems)
	}
}

// TestTwoSetsOfReadings: a hot set against the readings found, against a cold set of its own, and the change typed by hand from the same two lines.
//
// evidence: calc=measured cold-to-hot change grade=identity count=3 source=the change typed from the two lines gives the same wanted line; a machine that runs in line needs no shims
func TestTwoSetsOfReadings(t *testing.T) {
	hot := sweepsOf("hot", hotMovable, hotStationary)
	_, alone := withSets(t, without, sweepsOf("", hotMovable, hotStationary))
	h := alone.Calc.Line
	_, r := withSets(t, reverse, hot)
	f := r.Calc.Line
	if g := r.Growth; g == nil || !g.Measured || !g.BySets || !g.FromFound || g.Hot != h || g.Cold != f {
		t.Fatalf("%+v", r.Growth)
	}
	same := func(name string, r *RowResult, want calc.Line) {
		t.Helper()
		for k, v := range [...][2]float64{{r.Wanted.DV, want.DV}, {r.Wanted.TV, want.TV}, {r.Wanted.DH, want.DH}, {r.Wanted.TH, want.TH}} {
			near(t, fmt.Sprintf("%s: part %d of the wanted line", name, k), v[0], v[1], 1e-14)
		}
	}
	same("found as cold set", r, calc.Line{DV: f.DV - h.DV, TV: f.TV - h.TV, DH: f.DH - h.DH, TH: f.TH - h.TH})
	// What is to be corrected is the hot line, as surely as it was read.
	near(t, "deviation", r.Calc.Found.Offset.V, h.DV, 1e-14)
	near(t, "its uncertainty", r.Calc.Found.Offset.UV, alone.Calc.Found.Offset.UV, 1e-14)
	near(t, "uncertainty of the wanted line", r.Growth.Cov[0][0], 2*alone.Calc.Cov[0][0], 1e-14)

	// The readings found standing in the Readings sheet, or called cold there, are the same thing.
	for _, set := range []string{"", "found", "cold"} {
		_, s := withSets(t, without, sweepsOf(set, reverseMovable, reverseStationary)+hot)
		same("found in the Readings sheet as "+set, s, r.Wanted)
		if s.Growth == nil || !s.Growth.FromFound || s.Calc.Found.Offset != r.Calc.Found.Offset {
			t.Errorf("%q: %+v", set, s.Growth)
		}
	}

	// A cold set of last year and a hot one; found stands in the columns.
	_, s := withSets(t, reverse, sweepsOf("cold", [4]float64{}, [4]float64{})+hot)
	same("two sets apart", s, calc.Line{DV: -h.DV, TV: -h.TV, DH: -h.DH, TH: -h.TH})
	if s.Growth.FromFound || s.Calc.Line != f {
		t.Errorf("%+v", s.Growth)
	}
	near(t, "three sets of readings", s.Calc.Found.Offset.UV, math.Sqrt(3)*alone.Calc.Found.Offset.UV, 1e-4) // the distances, whose part goes with the slope of each set, are in it as well
	_, typed := one(t, change(reverse, fmt.Sprint("Change offset V=", h.DV), fmt.Sprint("Change offset H=", h.DH), fmt.Sprint("Change slope V=", h.TV), fmt.Sprint("Change slope H=", h.TH))...)
	same("typed", typed, s.Wanted)

	// Where the shaft should run is part of it, and a machine that runs there is inside whatever it does cold.
	_, on := withSets(t, change(reverse, fmt.Sprint("Running offset V=", h.DV), fmt.Sprint("Running offset H=", h.DH), fmt.Sprint("Running slope V=", h.TV), fmt.Sprint("Running slope H=", h.TH)), hot)
	if on.Verdict != calc.Inside || math.Abs(on.Calc.Feet[0].Shim)+math.Abs(on.Calc.Feet[1].Move) > 1e-13 {
		t.Error(on.Verdict, on.Calc.Feet, on.Problems)
	}
}

// TestBadSets: what is wrong with a set spoils its wanted line, is told with its place, and spoils nothing else.
func TestBadSets(t *testing.T) {
	hot := sweepsOf("hot", hotMovable, hotStationary)
	for _, c := range []struct {
		rows string
		says []string
		line bool
	}{
		// A sign turned in the hot set: the line found stays, and the slip is found.
		{strings.Replace(hot, "180,0.18", "180,-0.18", 1), []string{"hot set", "Movable rim", "top + bottom", "180"}, true},
		{strings.Replace(hot, "0.18", "o.18", 1), []string{"hot set", "row 4"}, true},
		{strings.Replace(hot, "180", "noon", 1), []string{"hot set", "row 4"}, true},
		{strings.Replace(hot, "pump,Stationary rim,0", ",Stationary rim,0", 1), []string{"hot set", "row 6"}, true},
		{strings.ReplaceAll(hot, "Stationary rim", "Second rim"), []string{"Coupling to second plane is missing"}, true},
		{hot[:strings.Index(hot, "pump,Stationary")], []string{"hot set", "one"}, true},
		{strings.Replace(hot, ",hot", ",tepid", 1), []string{"row 2"}, false}, // it may have been of the readings found
	} {
		j := list(t, "Machine,"+headers(reverse)+"\npump,"+values(reverse)+"\nother,"+values(reverse)+"\n")
		with(t, j, job.ReadingsSheet, setsHead+c.rows)
		e := work(t, j)
		r, other := e.Row(0), e.Row(1)
		for _, s := range c.says {
			says(t, r, job.Error, s)
		}
		if r.Verdict != calc.NotJudged || len(r.Calc.Feet) != 0 || !math.IsNaN(r.Wanted.DV) || r.Growth != nil {
			t.Errorf("%v: %v %v %v", c.says, r.Verdict, r.Calc.Feet, r.Growth)
		}
		if r.HasLine() != c.line && c.line {
			t.Errorf("%v: the line found is gone", c.says)
		}
		if other.Verdict == calc.NotJudged || len(other.Problems) > 0 {
			t.Error(other.Problems)
		}
	}
	// A hot set and nothing else: there is no line, and no change is told of.
	e, r := withSets(t, without, hot)
	says(t, r, job.Error, "no readings as found")
	if r.HasLine() || r.Growth != nil || !strings.Contains(string(e.AppendRowJSON(nil, 0)), `"growth":null`) {
		t.Error(r.Growth)
	}
	// A failed check of the readings found fails the line worked out with them.
	_, r = withSets(t, change(reverse, "Movable rim 6=0.30"), hot)
	says(t, r, job.Error, "top + bottom")
	if !r.HasLine() || !math.IsNaN(r.Wanted.DV) || r.Growth != nil {
		t.Error(r.Wanted, r.Growth)
	}
	if len(r.Hints) == 0 || !strings.Contains(r.Problems[len(r.Problems)-1].Hint.String(), r.Hints[0].String()) {
		t.Errorf("the slip that explains it is not told: %v", r.Problems)
	}
	// A nameless row behind a reading of an unknown set is that machine's, and not of the one before.
	j := list(t, "Machine,"+headers(reverse)+"\npump,"+values(reverse)+"\nother,"+values(reverse)+"\n")
	with(t, j, job.ReadingsSheet, setsHead+sweepsOf("", reverseMovable, reverseStationary)+"other,Movable rim,0,0,tepid\n,Movable rim,90,0.1,tepid\n")
	if r = work(t, j).Row(0); r.Verdict == calc.NotJudged {
		t.Error(r.Problems)
	}
}

// TestSetOfAnotherMethod: a hot set may need distances that the readings found have no use for.
func TestSetOfAnotherMethod(t *testing.T) {
	hot := sweepsOf("hot", hotMovable, hotStationary)
	given := []string{"Speed=1480", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500",
		"Given offset V=0.1", "Given offset H=0", "Given slope V=0.5", "Given slope H=0.1"}
	e, r := withSets(t, given, hot)
	plane := e.Column(job.ColToStationary)
	if r.Growth == nil || !r.Growth.BySets || r.Verdict == calc.NotJudged || !e.Uses(0, plane) {
		t.Error(r.Problems, r.Growth, e.Uses(0, plane))
	}
	_, r = withSets(t, change(given, "Coupling to stationary plane=1OO"), hot)
	says(t, r, job.Error, "1OO")
	if r.Verdict != calc.NotJudged || r.Why.Empty() {
		t.Errorf("%v: %q", r.Verdict, r.Why)
	}
	e, r = one(t, change(given, "Coupling to stationary plane=1OO")...)
	if r.Verdict == calc.NotJudged || e.Uses(0, plane) {
		t.Error(r.Problems)
	}
}

func headers(cells []string) string { return halves(cells, 0) }

func values(cells []string) string { return halves(cells, 1) }

func halves(cells []string, k int) string {
	var out []string
	for _, c := range cells {
		out = append(out, strings.SplitN(c, "=", 2)[k])
	}
	return strings.Join(out, ",")
}

// TestFreeOffsetIsSure: the offset of a universal coupling is wanted as it was found, so no uncertainty of the change is on it.
func TestFreeOffsetIsSure(t *testing.T) {
	_, r := withSets(t, change(reverse, "Coupling=universal"), sweepsOf("hot", hotMovable, hotStationary))
	if g := r.Growth; g == nil || g.Cov[0][0] != 0 || g.Cov[0][1] != 0 || g.Cov[2][2] != 0 || !(g.Cov[1][1] > 0) || !(g.UChange.DV > 0) || r.Wanted.DV != r.Calc.Line.DV {
		t.Errorf("%+v, wanted %+v", g, r.Wanted)
	}
	_, r = withSets(t, change(reverse, "Coupling=universal", "Running offset V=0.1"), sweepsOf("hot", hotMovable, hotStationary))
	if g := r.Growth; g == nil || !(g.Cov[0][0] > 0) || g.Cov[2][2] != 0 {
		t.Errorf("%+v", g)
	}
}

package evaluate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// A machine is read, told what to do, moved by that and by a disturbance, and read again: the disturbance is what the feet are said to have missed.
func TestRoundsFindDisturbance(t *testing.T) {
	//evidence: calc=rounds: missed at the feet grade=identity count=200 source=a rigid line moved as advised or as typed and by a known disturbance; rim readings worked out by hand
	rng := rand.New(rand.NewPCG(8, 1))
	for i := range 200 {
		draw := func(s float64) float64 { return s * (2*rng.Float64() - 1) }
		found := calc.Line{DV: draw(0.5) + 0.6, TV: draw(1), DH: draw(0.5), TH: draw(1)}
		_, first := withRounds(t, without, "pump,found,,,,,,,,"+rimRow(found)+"\n")
		sameLine(t, "found", first.Calc.Line, found, 1e-9)
		if len(first.Rounds) != 1 || first.Rounds[0].Missed != nil || first.State != "found" {
			t.Fatalf("%+v", first.Rounds)
		}
		off := [4]float64{draw(0.1), draw(0.1), draw(0.1), draw(0.1)}
		done, to := ",,,", first.Calc.After
		if i%2 == 1 { // not as advised, but as written down
			s := [4]float64{draw(1), draw(1), draw(1), draw(1)}
			done = fmt.Sprintf("%v,%v,%v,%v", s[0], s[1], s[2], s[3])
			to = found.Moved(300, 800, s[0], s[1], s[2], s[3])
		}
		second := to.Moved(300, 800, off[0], off[1], off[2], off[3])
		_, r := withRounds(t, without, "pump,2,,,,"+done+","+rimRow(second)+"\npump,found,,,,,,,,"+rimRow(found)+"\n")
		if len(r.Rounds) != 2 || r.Rounds[0].Name != "found" || r.Rounds[1].Name != "2" || r.State != "round 2" {
			t.Fatalf("%+v %s", r.Rounds, r.State)
		}
		sameLine(t, "the row's own", r.Calc.Line, second, 1e-9)
		sameLine(t, "first round kept", r.Rounds[0].Line, found, 1e-9)
		sameLine(t, "predicted", r.Rounds[1].Predicted, to, 1e-9)
		for k, f := range r.Rounds[1].Missed {
			if f.Foot != []string{"front", "rear"}[k] || math.Abs(f.V-off[k]) > 1e-9 || math.Abs(f.H-off[2+k]) > 1e-9 {
				t.Fatalf("missed %+v, disturbed by %v", r.Rounds[1].Missed, off)
			}
		}
	}
}

// Which round counts, struck rounds, repeated numbers, the Machines row as found, unknown machines and rounds.
func TestRoundsOrder(t *testing.T) {
	a, b, c := calc.Line{DV: 0.5}, calc.Line{DV: 0.2}, calc.Line{DV: 0.02}
	// A struck round may share its number; it is shown, not used, and does not come between.
	e, r := withRounds(t, reverse, "pump,left,,,,,,,,"+rimRow(c)+"\npump,1,bracket was loose,,,,,,,"+rimRow(a)+"\npump,1,,,,,,,,"+rimRow(b)+"\n")
	names := []string{}
	for _, o := range r.Rounds {
		names = append(names, o.Name+"/"+o.Struck)
	}
	if !slices.Equal(names, []string{"found/", "1/bracket was loose", "1/", "left/"}) || r.State != "left" {
		t.Fatal(names, r.State)
	}
	sameLine(t, "left", r.Calc.Line, c, 1e-9)
	if r.Rounds[1].Missed != nil || r.Rounds[2].Missed == nil || r.Rounds[0].Row != 0 {
		t.Errorf("%+v", r.Rounds)
	}
	m := machines(t, e)[0]
	list := m["rounds"].([]any)
	if m["state"] != "left" || len(list) != 4 || list[1].(map[string]any)["struck"] != "bracket was loose" || list[1].(map[string]any)["predicted"] != nil || list[3].(map[string]any)["predicted"] == nil {
		t.Error(m["state"], list)
	}
	// Twice, neither struck: not judged.
	_, r = withRounds(t, reverse, "pump,1,,,,,,,,"+rimRow(a)+"\npump,1,,,,,,,,"+rimRow(b)+"\n")
	if r.Verdict != calc.NotJudged || !strings.Contains(r.Why.String(), "round 1 stands") {
		t.Error(r.Verdict, r.Why)
	}
	// The last round fails a check: an earlier one does not step in.
	_, r = withRounds(t, reverse, "pump,1,,,,,,,,0,-0.17,-0.30,0.13,0,0.11,0.10,-0.01\n")
	if r.Verdict != calc.NotJudged || r.State != "round 1" {
		t.Error(r.Verdict, r.State)
	}
	// Struck, it does not count.
	_, r = withRounds(t, reverse, "pump,1,slip of the pen,,,,,,,0,-0.17,-0.30,0.13,0,0.11,0.10,-0.01\n")
	if r.Verdict == calc.NotJudged || r.State != "found" {
		t.Error(r.Verdict, r.State, r.Why)
	}
	// Readings are not carried over: a round with one rim only is a round without a line.
	_, r = withRounds(t, reverse, "pump,1,,,,,,,,0,-0.17,-0.30,-0.13,,,,\n")
	if r.HasLine() || r.Verdict != calc.NotJudged {
		t.Errorf("%+v", r.Calc.Line)
	}
	// Nothing read yet.
	_, r = withRounds(t, without, "")
	if r.StateWord().String() != "waiting" || r.Verdict != calc.NotJudged {
		t.Error(r.StateWord().String())
	}
	_, r = withRounds(t, without, "pump,found,wrong machine,,,,,,,"+rimRow(a)+"\n")
	if r.StateWord().String() != "waiting" || r.Verdict != calc.NotJudged || len(r.Rounds) != 1 {
		t.Error(r.StateWord().String(), r.Verdict, r.Rounds)
	}
	e, _ = withRounds(t, reverse, "fan,1,,,,,,,,"+rimRow(a)+"\npump,third,,,,,,,,"+rimRow(a)+"\n")
	text := fmt.Sprint(e.Problems())
	for _, w := range []string{"fan", `"third" is no round`} {
		if !strings.Contains(text, w) {
			t.Errorf("%s is not told: %s", w, text)
		}
	}
}

// A slip in a round is told with the place on the Rounds sheet.
func TestRoundsPlace(t *testing.T) {
	_, r := withRounds(t, reverse, "pump,1,,,,,,,,0,-0.17,x,-0.13,0,0.11,0.10,-0.01\n")
	if !slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Sheet == "Rounds" && p.Row == 2 && p.Column == "Movable rim 6" }) {
		t.Errorf("%+v", r.Problems)
	}
}

// Numbers that cannot be read in one way only do not slip in: a column Unit rules the readings of its row, a row under another header is refused, dashes are blanks.
func TestRoundsReadCarefully(t *testing.T) {
	mil := func(l calc.Line) calc.Line {
		return calc.Line{DV: l.DV / 0.0254, TV: l.TV / 0.0254, DH: l.DH / 0.0254, TH: l.TH / 0.0254}
	}
	line := calc.Line{DV: 0.4, TV: 0.2, DH: -0.1, TH: 0.1}
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, reverse...)
	with(t, j, job.RoundsSheet, "Unit,"+roundsHead+"mil,pump,1,,,,,,,,"+rimRow(mil(line))+"\n")
	sameLine(t, "in mil by the column Unit", work(t, j).Row(0).Calc.Line, line, 1e-9)
	with(t, j, job.RoundsSheet, roundsHead+"pump,1,–,n/a,-,-,,,,"+rimRow(line)+"\n")
	if r := work(t, j).Row(0); r.State != "round 1" || r.Verdict == calc.NotJudged {
		t.Error(r.State, r.Why)
	}
	with(t, j, job.RoundsSheet, roundsHead+"pump,1,,,,x mm,,,,"+rimRow(line)+"\n")
	if r := work(t, j).Row(0); r.Verdict != calc.NotJudged || !strings.Contains(r.Why.String(), "row 2") {
		t.Error(r.Verdict, r.Why)
	}
}

// What is drawn are the readings that count. Once the drawing of a machine in its first round showed those of the Machines row.
func TestRoundsDrawn(t *testing.T) {
	line := calc.Line{DV: 0.4, TV: 0.2, DH: -0.1, TH: 0.1}
	e, r := withRounds(t, reverse, "pump,1,,,,,,,,"+rimRow(line)+"\n")
	var m Measured
	if !e.Measured(0, &m) || len(m.Input.Sweeps) != 2 {
		t.Fatalf("%+v", m)
	}
	var res calc.Result
	calc.Solve(&m.Input, &res)
	sameLine(t, "drawn", res.Line, line, 1e-9)
	sameLine(t, "the row's own afterwards", e.Row(0).Calc.Line, r.Calc.Line, 0)
	if !r.FromRounds() {
		t.Error("the readings do not come from the Rounds sheet")
	}
}

// Seen: the readings found could be struck nowhere but by typing over them. A row found without readings speaks of those of the Machines row: who read them, and that they are struck. They stay as they
// are, are shown, and are used for no verdict; the round that is read anew has a row of its own.
func TestRoundFoundStruck(t *testing.T) {
	a, b := calc.Line{DV: 0.5}, calc.Line{DV: 0.2}
	e, r := withRounds(t, reverse, "pump,found,,Kim,,,,,,,,,,,,,\n")
	if len(r.Rounds) != 1 || r.Rounds[0].By != "Kim" || !r.HasLine() || r.State != "found" || len(e.RoundFields(0)) != 8 || e.RoundFields(0)[0].Sheet != job.MachinesSheet {
		t.Errorf("%+v %s", r.Rounds, r.State)
	}
	before := slices.Clone(e.Job().Machines.Rows[0])
	e, r = withRounds(t, reverse, "pump,found,wrong machine,Kim,,,,,,,,,,,,,\n")
	if len(r.Rounds) != 1 || r.Rounds[0].Struck != "wrong machine" || r.HasLine() || r.Verdict != calc.NotJudged || r.State != "waiting" || !Known(r.Rounds[0].Line.DV) {
		t.Errorf("%+v %s", r.Rounds, r.State)
	}
	if !strings.Contains(r.Why.String(), "are struck") {
		t.Error(r.Why)
	}
	if f := e.RoundFields(0); len(f) > 0 {
		t.Errorf("struck readings can be typed over: %+v", f)
	}
	if !slices.Equal(before, e.Job().Machines.Rows[0]) {
		t.Error("the readings were changed")
	}
	if _, _, why := e.NewRound(0, LeftRound, ""); why.Empty() {
		t.Error("a round left with nothing found")
	}
	names, texts, why := e.NewRound(0, NextRound, "today")
	if !why.Empty() || texts[1] != "found" {
		t.Fatal(texts, why)
	}
	j := e.Job()
	rounds := j.Table(job.RoundsSheet)
	row := make([]string, len(rounds.Header))
	for k, n := range names {
		if c := slices.Index(rounds.Header, n); c >= 0 {
			row[c] = texts[k]
		}
	}
	rounds.Rows = append(rounds.Rows, row)
	e = work(t, j)
	if f := e.RoundFields(0); len(f) != 8 || f[0].Sheet != job.RoundsSheet || f[0].Text != "" || e.Row(0).HasLine() {
		t.Errorf("%+v", f)
	}
	_, r = withRounds(t, reverse, "pump,found,wrong machine,,,,,,,,,,,,,,\npump,found,,,,,,,,"+rimRow(a)+"\npump,1,,,,,,,,"+rimRow(b)+"\n")
	if len(r.Rounds) != 3 || r.State != "round 1" || r.Rounds[1].Struck != "" {
		t.Fatalf("%+v", r.Rounds)
	}
	sameLine(t, "found anew", r.Rounds[1].Line, a, 1e-9)
	if r.Rounds[2].Missed == nil {
		t.Error("nothing predicted from the round found anew")
	}
}

// What a round says lies under the feet takes the place of what the Feet sheet says, for packs and from that round on; without it the Feet sheet is asked about.
func TestRoundPacks(t *testing.T) {
	theJob := func(rounds string) (*Evaluator, *RowResult) {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, without...)
		with(t, j, job.FeetSheet, "Machine,Foot,Pack in place\npump,front 9,0.5\npump,front 3,0.5\npump,rear 9,0.5\npump,rear 3,0.5\n")
		with(t, j, job.RoundsSheet, "Packs in place,Instrument,"+roundsHead+rounds)
		e := work(t, j)
		return e, e.Row(0)
	}
	found, one := ",dial 4,pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.5})+"\n", calc.Line{DV: 0.3, DH: 0.1}
	_, r := theJob(found + "front 9: 0.7+0.2; rear: 0,dial 5,pump,1,,,,,,,," + rimRow(one) + "\n")
	want := [][]float64{{0.7, 0.2}, {0.5}, {}, {}}
	for k, f := range r.Feet.Feet {
		if !f.Listed || !slices.Equal(f.InPlace, want[k]) {
			t.Errorf("%s: %v, want %v", f.Name, f.InPlace, want[k])
		}
	}
	if r.Rounds[0].Instrument != "dial 4" || r.Rounds[1].Packs != "front 9: 0.7+0.2; rear: 0" {
		t.Errorf("%+v", r.Rounds)
	}
	stale := func(r *RowResult) bool {
		return slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return strings.Contains(p.Text.String(), "after round 1") })
	}
	if stale(r) {
		t.Error("asked about although it was said")
	}
	if _, r = theJob(found + ",,pump,1,,,,,,,," + rimRow(one) + "\n"); !stale(r) || !slices.Equal(r.Feet.Feet[0].InPlace, []float64{0.5}) {
		t.Error("not asked about")
	}
	for _, bad := range []string{"middle: 0.5", "0.5+0.2", "front 9: x", "front 9 0.5"} {
		if _, r = theJob(found + bad + ",,pump,1,,,,,,,," + rimRow(one) + "\n"); r.Verdict != calc.NotJudged {
			t.Errorf("%q is taken: %v", bad, r.Verdict)
		}
	}
}

// How sure the line wanted hot is hangs on what the machine lost of its growth since the stop: a share for each minute, of all four numbers of the growth alike and together.
func TestWantedHotUncertainty(t *testing.T) {
	cells := change(without, "Growth movable front V=0.3", "Growth movable rear V=0.1", "Growth movable front H=0.05", "Growth movable rear H=-0.04", "Minutes since stop=7")
	left := calc.Line{DV: -0.4, TV: 0.4, DH: -0.1, TH: 0.18}
	_, r := withRounds(t, cells, "pump,left,,,,,,,,"+rimRow(left)+"\n")
	cold := r.Wanted // minus the growth
	e, _ := withRounds(t, cells, "pump,left,,,,,,,,"+rimRow(left)+"\npump,hot,,,,,,,,"+rimRow(calc.Line{DV: 0.01})+"\n")
	before, hot := *e.Row(0), RowResult{}
	list, _, _ := e.roundList(0, e.rounds[e.keys[0]])
	last := &list[len(list)-1]
	if last.order != roundHot {
		t.Fatalf("%+v", last)
	}
	e.sc.hot, e.sc.cooling, e.sc.plan = true, &before, nil
	e.evalRound(0, &hot, last)
	share := 7 * e.set.cooling
	grown := [4]float64{-cold.DV, -cold.TV, -cold.DH, -cold.TH} // where it runs is the straight line
	for i, x := range grown {
		for k, y := range grown {
			near(t, fmt.Sprintf("covariance %d %d", i, k), e.sc.in.WantedCov[i][k], share*share*x*y, 1e-15)
		}
	}
	if share == 0 || grown[0] == 0 || grown[1] == 0 || grown[2] == 0 || grown[3] == 0 || hot.Wanted != (calc.Line{}) {
		t.Errorf("%g %v %+v", share, grown, hot.Wanted)
	}
}

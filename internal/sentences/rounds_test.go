package sentences

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/words"
)

// A foot that sprang back is named with its size.
func TestRoundsSay(t *testing.T) {
	e, first := withRounds(t, without, "pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.5, TV: 0.3})+"\n")
	_ = e
	back := first.Calc.After.Moved(300, 800, -0.12, 0, 0.05, 0.05)
	e, _ = withRounds(t, without, "pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.5, TV: 0.3})+"\npump,1,,,,,,,,"+rimRow(back)+"\n")
	wants(t, told(e, SentenceLine), "What counts is: round 1", "the front feet came to stand 0.12 mm lower than predicted, and 0.05 mm farther towards", "the rear feet")
	wants(t, told(e, SentenceHint), "The front feet came 0.12 mm less high")
}

// A round hot is held against the line wanted hot, never what packs come from; what it shows of growth is told.
func TestRoundHot(t *testing.T) {
	//evidence: calc=rounds: a round hot grade=identity count=100 source=a rigid line left where growth wants it, moved by that growth and by a known amount more; rim readings worked out by hand
	rng := rand.New(rand.NewPCG(17, 3))
	for range 100 {
		draw := func(s float64) float64 { return s * (2*rng.Float64() - 1) }
		front, rear := draw(0.4), draw(0.4)
		tv := (rear - front) / 0.5
		grown := calc.Line{DV: front - 0.3*tv, TV: tv}
		runs := []string{fmt.Sprintf("Running offset V=%.9f", draw(0.05)), fmt.Sprintf("Running offset H=%.9f", draw(0.05)), fmt.Sprintf("Running slope V=%.9f", draw(0.1)), fmt.Sprintf("Running slope H=%.9f", draw(0.1))}
		cells := change(without, append(runs, fmt.Sprintf("Growth movable front V=%.9f", front), fmt.Sprintf("Growth movable rear V=%.9f", rear), "Minutes since stop=5")...)
		left := calc.Line{DV: -grown.DV + 0.01, TV: -grown.TV, DH: 0.01}
		off := [2]float64{draw(0.2), draw(0.2)}
		hot := calc.Line{DV: left.DV + grown.DV, TV: left.TV + grown.TV, DH: left.DH}.Moved(300, 800, off[0], off[1], 0, 0)
		_, cold := withRounds(t, cells, "pump,left,,,,,,,,"+rimRow(left)+"\n")
		e, r := withRounds(t, cells, "pump,hot,,,,,,,,"+rimRow(hot)+"\npump,left,,,,,,,,"+rimRow(left)+"\n")
		if r.State != "left" || r.Verdict != cold.Verdict || len(r.Rounds) != 2 || r.Rounds[1].Name != "hot" {
			t.Fatalf("%s %s %+v", r.State, r.Verdict, r.Rounds)
		}
		sameLine(t, "what counts stays the cold round", r.Calc.Line, left, 1e-9)
		sameLine(t, "packs come from it", r.Calc.After, cold.Calc.After, 1e-12)
		h := r.Rounds[1]
		sameLine(t, "predicted hot", h.Predicted, calc.Line{DV: left.DV + grown.DV, TV: left.TV + grown.TV, DH: left.DH}, 1e-8)
		for k, f := range h.Missed {
			if math.Abs(f.V-off[k]) > 1e-8 || f.Sprang {
				t.Fatalf("%+v, off by %v", h.Missed, off)
			}
		}
		_, straight := withRounds(t, change(without, runs...), "pump,left,,,,,,,,"+rimRow(hot)+"\n")
		if h.Share != straight.Calc.Found.Share {
			t.Fatalf("share of the limit %v, of a machine that does not grow %v", h.Share, straight.Calc.Found.Share)
		}
		if h.Verdict != calc.Inside && straight.Verdict == calc.Inside && math.Abs(front)+math.Abs(rear) < 0.01 {
			t.Fatal(h.Verdict)
		}
		wants(t, told(e, SentenceLine), "held against the line wanted hot", "Hot the front feet stand")
	}
	e, r := withRounds(t, reverse, "pump,hot,,,,,,,,"+rimRow(calc.Line{DV: 0.5})+"\n")
	wants(t, told(e, SentenceHint), "hot readings are no basis for packs")
	if r.State != "found" || r.OpenRound() != "hot" || e.RoundFields(0)[0].Sheet != job.RoundsSheet {
		t.Error(r.State, r.OpenRound())
	}
	if _, _, why := e.NewRound(0, evaluate.NextRound, ""); why.String() != words.RoundHot.String() {
		t.Error(why)
	}
}

package calc

import (
	"math"
	"math/rand/v2"
	"testing"

	"shimsheet/internal/tables"
)

// A judge that is asked only whether a line is inside says what the whole judgement says, at lines to either side of the limits and of the least chance.
func TestJudgeOnly(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 3))
	inside, decided := 0, 0
	for i, in := range reverseRows(60) {
		in.AddShares = i%5 == 0
		if i%7 == 0 {
			in.Coupling, in.Length = tables.Spacer, 300
		}
		var res Result
		Solve(&in, &res)
		_, cov := deviation(&in, &res)
		narrow := newJudge(&in, &cov, &res.byLength)
		for range 3 {
			// the spread against the limits: a chance of 0.95 lies at 2.4 standard deviations in the middle of a disc
			k := 1 / (max(narrow.slope.uv/in.Limits.Slope, narrow.offset.uv/in.Limits.Offset) * (1.1 + 0.3*rng.Float64()))
			near := math.Pow(10, -2*rng.Float64()) * 0.06 // the middle of the limits, where the chance decides
			wide := cov
			for a := range wide {
				for b := range wide {
					wide[a][b] *= k * k
				}
			}
			whole := newJudge(&in, &wide, &res.byLength)
			only := whole
			only.only = true
			dev := Line{near * rng.NormFloat64(), 5 * near * rng.NormFloat64(), near * rng.NormFloat64(), 5 * near * rng.NormFloat64()}
			var j, o Judgement
			only.of(&dev, false, &o)
			whole.of(&dev, false, &j)
			if (j.Verdict == Inside) != (o.Verdict == Inside) || j.Share != o.Share {
				t.Fatalf("row %d: %v of %g with chance %g, and asked only whether inside %v of %g", i, j.Verdict, j.Share, j.Chance, o.Verdict, o.Share)
			}
			if j.Verdict == Inside {
				inside++
			} else if one := within(j.Share, 1); one && j.Chance < leastChance {
				decided++
			}
		}
	}
	if inside < 10 || decided < 10 {
		t.Errorf("%d lines inside and %d that the chance may have decided: too few to tell", inside, decided)
	}
}

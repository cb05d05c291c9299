package evaluate

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What is told of the sheet Trains and of rows that do not fit together: whole, where it stands.
func TestTrainSheetsTold(t *testing.T) {
	const sides = "warning Machines 3 Side at 3: the sides of row 3 (%s and %s) are not those of row 2 (%s and %s) as they lie from there: one of the two looked from the wrong end " +
		"(a row whose Machine lies the other way is seen from the other end: its 3 o'clock is the other row's 9 o'clock)\n"
	const growth = "warning Machines 3 Train: rows 2 and 3 say different things of the growth of Gear; each row's wanted line comes from its own (near and far, and left and right, change places when a machine is seen from its other end)\n"
	grows := func(row int, near, far [2]float64) string {
		return fmt.Sprintf("%d: Growth stationary near V=%g | Growth stationary near H=%g | Growth stationary far V=%g | Growth stationary far H=%g", row, near[0], near[1], far[0], far[1])
	}
	for _, c := range []struct {
		lines []string
		told  string
	}{
		{nil, ""},
		// Sides: the second row is seen from the other end.
		{[]string{"2: Side at 3=river | Side at 9=wall", "3: Side at 3=Wall | Side at 9=RIVER"}, ""},
		{[]string{"2: Side at 3=river", "3: Side at 9=river"}, ""}, {[]string{"2: Side at 3=river", "3: Side at 3=wall"}, ""}, {[]string{"2: Side at 3=river"}, ""}, {[]string{"3: Side at 9=river"}, ""},
		{[]string{"2: Side at 3=river | Side at 9=wall", "3: Side at 3=river | Side at 9=wall"}, fmt.Sprintf(sides, `"river"`, `"wall"`, `"river"`, `"wall"`)},
		{[]string{"2: Side at 3=river", "3: Side at 3=river"}, fmt.Sprintf(sides, `"river"`, `""`, `"river"`, `""`)},
		{[]string{"2: Side at 9=wall", "3: Side at 9=wall"}, fmt.Sprintf(sides, `""`, `"wall"`, `""`, `"wall"`)},
		{[]string{"2: Side at 3=river", "3: Side at 9=wall"}, fmt.Sprintf(sides, `""`, `"wall"`, `"river"`, `""`)},
		{[]string{"2: Side at 9=wall", "3: Side at 3=river"}, fmt.Sprintf(sides, `"river"`, `""`, `""`, `"wall"`)},
		{[]string{"2: Side at 3=river | Side at 9=wall", "3: Side at 3=wall | Side at 9=road"}, fmt.Sprintf(sides, `"wall"`, `"road"`, `"river"`, `"wall"`)},
		{[]string{"2: Side at 3=river | Side at 9=wall", "3: Side at 3=road | Side at 9=river"}, fmt.Sprintf(sides, `"road"`, `"river"`, `"river"`, `"wall"`)},
		// A third row, behind the pump, is seen as the second.
		{[]string{"2: Side at 3=river", "4 of 3: Machine=Fan | Stationary=Pump | Stationary near support=200 | Stationary far support=800 | Side at 9=river"}, ""},
		{[]string{"2: Side at 3=river", "4 of 3: Machine=Fan | Stationary=Pump | Stationary near support=200 | Stationary far support=800 | Side at 3=river"}, strings.NewReplacer("Machines 3", "Machines 4", "row 3", "row 4").Replace(fmt.Sprintf(sides, `"river"`, `""`, `"river"`, `""`))},
		// Growth: near is the other row's far, its 3 o'clock the other's 9.
		{[]string{grows(2, [2]float64{0.2, 0.1}, [2]float64{0.3, -0.1}), grows(3, [2]float64{0.3, 0.1}, [2]float64{0.2, -0.1})}, ""},
		{[]string{grows(2, [2]float64{0.2, 0.1}, [2]float64{0.3, -0.1}), grows(3, [2]float64{0.3001, 0.1}, [2]float64{0.2, -0.1})}, growth},
		{[]string{grows(2, [2]float64{0.2, 0.1}, [2]float64{0.3, -0.1}), grows(3, [2]float64{0.3, 0.1001}, [2]float64{0.2, -0.1})}, growth},
		{[]string{grows(2, [2]float64{0.2, 0.1}, [2]float64{0.3, -0.1}), grows(3, [2]float64{0.3, 0.1}, [2]float64{0.2001, -0.1})}, growth},
		{[]string{grows(2, [2]float64{0.2, 0.1}, [2]float64{0.3, -0.1}), grows(3, [2]float64{0.3, 0.1}, [2]float64{0.2, -0.1001})}, growth},
		{[]string{grows(2, [2]float64{0.2, 0}, [2]float64{0.2, 0}), "3: Growth stationary near V"}, growth},
		{[]string{grows(3, [2]float64{0.2, 0}, [2]float64{0.2, 0})}, growth},
		{[]string{grows(2, [2]float64{0, 0}, [2]float64{0, 0})}, ""},
		{[]string{"Growth: Machine=Motor | Support=stationary near | Part=foot | Growth V=0.2 | Growth H=0.1", "Growth: Machine=Motor | Support=stationary far | Part=foot | Growth V=0.3 | Growth H=-0.1", grows(3, [2]float64{0.3, 0.1}, [2]float64{0.2, -0.1})}, ""},
		{[]string{"Growth: Machine=Motor | Support=stationary near | Part=foot | Growth V=0.2 | Growth H=0.1", "Growth: Machine=Motor | Support=stationary far | Part=foot | Growth V=0.3 | Growth H=-0.1", grows(3, [2]float64{0.3, -0.1}, [2]float64{0.2, 0.1})}, growth},
		{[]string{"Growth: Machine=Motor | Support=front | Part=foot | Growth V=0.2", "Growth: Machine=Motor | Support=rear | Part=foot | Growth V=0.3"}, ""}, // of the motor, which the other row does not name
		// The sheet.
		{[]string{"Trains: Train=T2 | Machine=Fan | May move=no", "Trains: Train=T1 | Machine=Gear", "Trains: Train=T9 | Plan=as set", "Trains: Train=T2 | Machine=Fun | May move=no"},
			"error Trains 2 Train: no row of the Machines sheet has the train \"T2\" (write the train as it stands there)\nerror Trains 4 Train: no row of the Machines sheet has the train \"T9\" (write the train as it stands there)\n" +
				"error Trains 5 Train: no row of the Machines sheet has the train \"T2\" (write the train as it stands there)\n"},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=maybe | Effort=-2 | Plan=as set"}, "error Trains 2 May move: \"maybe\" is not one of the words taken here (write no, yes)\nerror Trains 2 Effort: \"-2\" cannot be (write a number of more than 0)\n"},
		{[]string{"Trains: Train=T1 | May move=no | Plan=as set"}, "error Trains 2 Machine: Machine is missing (write the machine as it stands under Machine or Stationary of the train's rows)\n"},
		{[]string{"Trains: Train=T1 | Effort=2"}, "error Trains 2 Machine: Machine is missing (write the machine as it stands under Machine or Stationary of the train's rows)\n"},
		{[]string{"Trains: Train=T1 | Plan=as set"}, ""}, {[]string{"Trains: Train=T1 | Note=all agreed"}, ""},
		{[]string{"Trains: Machine=Gear | Effort=2 | Train"}, "error Trains 2 Train: Train is missing (write the train as it stands there)\n"},
		{[]string{"Trains: Machine=Gear | Effort=2"}, "error Trains 1 Train: Train is missing (the columns are Train, Machine, May move, Effort, Plan, Note)\n"},
		// The Feet sheet may name a Stationary without a row of its own, only where it stands in a train.
		{[]string{"Feet: Machine=Gear | Foot=near 9"}, ""},
		{[]string{"Feet: Machine=Gear | Foot=near 9", "2: Train", "3: Train"}, "error Feet 2 Machine: \"Gear\" is not on the Machines sheet (write the name as it is there)\n"},
		{[]string{"Feet: Machine=Grea | Foot=near 9"}, "error Feet 2 Machine: \"Grea\" is not on the Machines sheet (write the name as it is there)\n"},
		{[]string{"Growth: Machine=Gear | Support=front | Part=foot | Growth V=0.2"}, "error Growth 2 Machine: \"Gear\" is not on the Machines sheet (write the name as it is there)\n"},
	} {
		e := workText(t, plus(trainText, c.lines...)...)
		var list []job.Problem
		for _, p := range e.Problems() {
			if p.Severity > job.Note && !strings.HasPrefix(p.Text.String(), `train "T1" is not judged`) {
				list = append(list, p)
			}
		}
		if got := toldBy(list); got != c.told {
			t.Errorf("%v:\n%s\nwant\n%s", c.lines, got, c.told)
		}
	}
}

// A soft foot is mended in the same lift: its shim comes on top of what the plan asks of that foot, and does not count as a move of the machine. By hand: a gap of 0.3 mm under one foot is filled by half of it there and half on its diagonal.
func TestTrainWithASoftFoot(t *testing.T) {
	e := workText(t, plus(trainText, "Stock: Thickness=0.01", "Stock: Thickness=0.02", "Stock: Thickness=0.05", "Stock: Thickness=0.1", "Stock: Thickness=0.2", "Stock: Thickness=0.5", "Stock: Thickness=1",
		"Feet: Machine=Motor | Foot=front 9 | Across=-200 | Gap=0.3 | Pack in place=1+0.5", "Feet: Machine=Motor | Foot=front 3 | Across=200 | Gap=0 | Pack in place=1+0.5", "Feet: Machine=Motor | Foot=rear 9 | Across=-200 | Gap=0 | Pack in place=1+0.5", "Feet: Machine=Motor | Foot=rear 3 | Across=200 | Gap=0 | Pack in place=1+0.5 | Size=big")...)
	p := e.Trains()[0]
	if p.Status != TrainPossible {
		t.Fatal(p.Why)
	}
	for k, want := range []struct {
		foot      string
		shim, net float64
	}{{"front 9", -0.33, -0.18}, {"front 3", -0.33, -0.33}, {"rear 9", -0.45, -0.45}, {"rear 3", -0.45, -0.30}} {
		f := p.Feet[k]
		if f.Foot != want.foot || !f.Listed || len(f.InPlace) != 2 || f.Size != map[bool]string{true: "big"}[k == 3] || !f.Touched {
			t.Errorf("%+v", f)
		}
		near(t, want.foot, f.Shim, want.shim, 1e-9)
		if f.HasStock {
			near(t, want.foot+" in all", f.Change.Net, want.net, 0.0101)
		} else if k < 3 {
			t.Errorf("%+v", f)
		}
	}
	if c := p.Couplings[0]; c.HasPacks {
		near(t, "after the packs", c.Packed.DV, 0, 0.03)
	}
	// A foot that has no stock of its size leaves the packs of all unsaid, and the lines after the moves are what is judged.
	if p.Feet[3].HasStock == !p.Couplings[0].HasPacks || !p.Feet[3].HasStock && p.Couplings[0].PackedJ.Verdict != 0 {
		t.Errorf("%+v %+v", p.Feet[3], p.Couplings[0])
	}
	// Of a Stationary that stays at the end its supports may be blank, or of no spacing: it has no feet then.
	for _, far := range []string{"", "300", "200"} {
		e := workText(t, plus(trainText, "3: Train", "2: Stationary far support="+far)...)
		if p := e.Trains()[0]; p.Status != TrainPossible || len(p.Feet) != 2 {
			t.Errorf("far %q: %v %s %d feet", far, p.Status, p.Why, len(p.Feet))
		}
	}
}

// The plan of least work aims at the largest share of the limits, in steps of 5 %, at which every coupling is called inside: a step more leaves one that is not, and a plan for that very share is the same.
func TestLeastWorkIsTheLargestShare(t *testing.T) {
	for _, lines := range [][]string{nil, {"3: Train"}, {"2: Offset limit=0.03", "3: Slope limit=0.2"}, {"Trains: Train=T1 | Machine=Gear | May move=yes | Effort=3"}, {"2: Rear room up=0.05"}} {
		plan := func(more ...string) TrainPlan {
			return workText(t, plus(trainText, append(lines, more...)...)...).Trains()[0]
		}
		best := plan("Trains: Train=T1 | Plan=least work")
		share := 0
		fmt.Sscanf(best.Aim, "%d %%", &share)
		if best.Status != TrainPossible || best.Plan != "least work" || share < 5 || share > 100 || share%5 != 0 {
			t.Fatalf("%v: %+v", lines, best)
		}
		inside := func(p TrainPlan) bool {
			return p.Status == TrainPossible && !slices.ContainsFunc(p.Couplings, func(c TrainCoupling) bool { return c.AfterJ.Verdict.String() != "inside" })
		}
		same := plan(fmt.Sprintf("Job: Moves aim=%d %%", share))
		if !inside(same) || !inside(best) || same.Largest != best.Largest || same.Total != best.Total {
			t.Errorf("%v: %d %%: %g %g, and %g %g", lines, share, best.Largest, best.Total, same.Largest, same.Total)
		}
		for up := share + 5; up <= 100 && best.Verdict.String() == "inside" && up <= share+20; up += 5 { // larger ones are not inside, or not after their packs
			if p := plan(fmt.Sprintf("Job: Moves aim=%d %%", up)); inside(p) && p.Verdict.String() == "inside" {
				t.Errorf("%v: %d %%, though %d %% is inside too", lines, share, up)
			}
		}
	}
}

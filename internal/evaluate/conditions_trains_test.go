package evaluate

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What makes a train not judged, and its nearest neighbour that is planned: every reason whole, with the row and the column it is told at. A reason is `row Column: text`; none: the train is planned.
func TestTrainConditions(t *testing.T) {
	const flange = "2: Mounting=vertical flange | Bolt circle=600 | Bolts=8 | Coupling to flange=400"
	for _, c := range []struct {
		lines []string
		whys  []string
	}{
		{nil, nil},
		// Rows.
		{[]string{"3: Machine"}, []string{"3 Train: row 3, row 3: no machine is named here, as it is in other rows; nothing is computed for it", "3 Machine: row 3 has no Machine"}},
		{[]string{"3: Stationary"}, []string{"3 Stationary: row 3 has no Stationary"}},
		{[]string{"2: Stationary= "}, []string{"2 Stationary: row 2 has no Stationary"}},
		{[]string{"3: Stationary=pump"}, []string{"3 Stationary: Pump is coupled to itself in row 3"}},
		{[]string{"2: Stationary=MOTOR"}, []string{"2 Stationary: Motor is coupled to itself in row 2"}},
		{[]string{"3: Stationary=Gearbox"}, []string{"3 Train: the rows do not make one line: Pump hangs on none of the others"}},
		{[]string{"3: Train=T2"}, nil},
		{[]string{"3: Train"}, nil},
		{[]string{"4 of 3: Machine=Fan"}, []string{"4 Train: Gear has more than two couplings: rows 2, 3, 4"}},
		{[]string{"4 of 3: Machine=Fan", "5 of 3: Machine=Blower"}, []string{"4 Train: Gear has more than two couplings: rows 2, 3, 4, 5"}},
		{[]string{"4 of 3: Machine=Fan | Stationary=Pump | Stationary near support=200 | Stationary far support=800"}, nil},
		{[]string{"4 of 3: Machine=Fan | Stationary=Blower"}, []string{"4 Train: the rows do not make one line: Fan hangs on none of the others"}},
		{[]string{"4 of 3: Machine=Pump | Stationary=Fan"}, []string{"4 Train: row 4, Pump: Machine Pump stands in row 3 already; this row is not judged", "4 Machine: Pump stands under Machine in rows 3 and 4"}},
		{[]string{"3: Stationary=Motor | Stationary near support=300 | Stationary far support=1500", "4 of 3: Machine=Gear | Stationary=Pump | Stationary near support=200 | Stationary far support=800 | Coupling to front feet=300"},
			[]string{"2 Train: the rows do not make one line: they close a ring"}},
		// What blocks a line, and what leaves it sound.
		{[]string{"3: Movable rim 6=x"}, []string{`3 Train: row 3, Pump: "x" is not a length`}},
		{[]string{"3: Movable rim 6"}, nil},
		{[]string{"3: Movable rim 3 | Movable rim 6"}, []string{"3 Train: row 3, Pump: Movable rim 3 is missing"}},
		{[]string{"3: Running offset V=x"}, []string{`3 Train: row 3, Pump: "x" is not a length`}},
		{[]string{"3: Running offset V=0.1"}, nil},
		{[]string{"3: Speed=x"}, nil}, {[]string{"3: Limits=x"}, nil}, {[]string{"3: Offset limit=x"}, nil}, {[]string{"3: Slope limit=x"}, nil}, {[]string{"3: Graduation=x"}, nil}, {[]string{"3: Repeatability=x"}, nil},
		{[]string{"3: Coupling=spacer | Spacer length=x"}, nil},
		{[]string{"3: Side at 3=river"}, nil},
		{[]string{"3: Coupling to movable plane=x"}, []string{`3 Train: row 3, Pump: "x" is not a length`}},
		{[]string{"3: Coupling to movable plane"}, []string{"3 Train: row 3, Pump: Coupling to movable plane is missing"}},
		{[]string{"2: Speed=1480 | Offset limit | Slope limit", "Job: Moves aim=60 %"}, nil},
		{[]string{"2: Speed=1480 | Offset limit | Slope limit | Coupling=flange", "Job: Moves aim=60 %"}, nil},
		{[]string{"2: Offset limit | Slope limit"}, nil},
		{[]string{"2: Offset limit | Slope limit", "Job: Moves aim=60 %"}, []string{"2 Train: row 2, Motor: there is no limit, which a share asks for"}},
		{[]string{"3: Offset limit | Slope limit", "Job: Moves aim=inside"}, []string{"3 Train: row 3, Pump: there is no limit, which a share asks for"}},
		{[]string{"3: Offset limit", "Job: Moves aim=inside"}, []string{"3 Train: row 3, Pump: there is no limit, which a share asks for"}},
		{[]string{"3: Offset limit | Slope limit", "Job: Moves aim=wanted line"}, nil},
		{[]string{"Job: Moves aim=0.6"}, []string{"2 Train: Moves aim cannot be read"}},
		{[]string{"Job: Moves aim=0 %"}, []string{"2 Train: Moves aim cannot be read"}},
		{[]string{"Job: Moves aim=101 %"}, []string{"2 Train: Moves aim cannot be read"}},
		{[]string{"Job: Moves aim=100 %"}, nil}, {[]string{"Job: Moves aim=1 %"}, nil}, {[]string{"Job: Moves aim=Inside the limits"}, nil}, {[]string{"Job: Moves aim=Line"}, nil}, {[]string{"Job: Moves aim=wanted"}, nil}, {[]string{"Job: Moves aim=limits"}, nil},
		{[]string{"3: Front room down=x"}, []string{"3 Front room down: Front room down of row 3 cannot be read"}},
		{[]string{"2: Front room up=x"}, []string{"2 Front room up: Front room up of row 2 cannot be read"}},
		{[]string{"2: Rear room right=x"}, []string{"2 Rear room right: Rear room right of row 2 cannot be read"}},
		{[]string{"2: Rear room left=x | Rear room up=x"}, []string{"2 Rear room left: Rear room left of row 2 cannot be read"}},
		// Supports.
		{[]string{"3: Stationary near support=400.9 | Stationary far support=1002.9"}, nil}, // 2 mm apart
		{[]string{"3: Stationary far support=1002.01"}, []string{"3 Train: the feet of Gear are 600 mm apart in row 2 and 602.01 mm in row 3"}},
		{[]string{"3: Stationary far support=997.99"}, []string{"3 Train: the feet of Gear are 600 mm apart in row 2 and 597.99 mm in row 3"}},
		{[]string{"3: Stationary near support"}, []string{"3 Stationary near support: where the feet of Gear stand is not known: Stationary near support and Stationary far support of row 3"}},
		{[]string{"2: Stationary far support"}, []string{"2 Stationary near support: where the feet of Gear stand is not known: Stationary near support and Stationary far support of row 2"}},
		{[]string{"2: Coupling to front feet"}, []string{"2 Coupling to front feet: where the feet of Motor stand is not known: Coupling to front feet and Front to rear feet of row 2"}},
		{[]string{"3: Front to rear feet"}, []string{"3 Coupling to front feet: where the feet of Pump stand is not known: Coupling to front feet and Front to rear feet of row 3"}},
		{[]string{"2: Coupling to front feet", "Trains: Train=T1 | Machine=Motor | May move=no", "Trains: Train=T1 | Machine=Gear | May move=yes"}, nil}, // needs no feet, at the end of a train
		// The sheet Trains.
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=yes | Effort=2"}, nil},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=perhaps"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | Effort=0"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | Effort=-1"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | Effort=0.001"}, nil},
		{[]string{"Trains: Train=T1 | Machine=Gear", "Trains: Train=T1 | Machine=Motor | Effort=x"}, []string{"2 Train: row 3 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Machine=Fan | May move=no"}, []string{`2 Train: "Fan" of the sheet Trains is no machine of this train`}},
		{[]string{"Trains: Train=T1 | Machine=gear | May move=yes", "Trains: Train=T1 | Machine=GEAR"}, []string{`2 Train: "GEAR" stands twice on the sheet Trains`}},
		{[]string{"Trains: Train=T1 | Machine=gear | May move=yes", "Trains: Train=T1 | Machine=Pump | May move=yes"}, nil},
		{[]string{"Trains: Train=T1 | Plan=as set", "Trains: Train=T1 | Plan=As Set"}, nil},
		{[]string{"Trains: Train=T1 | Plan=as set", "Trains: Train=T1 | Plan=least work"}, []string{`2 Train: the plans "as set" and "least work" stand beside each other on the sheet Trains`}},
		{[]string{"Trains: Train=T1 | Machine=Gear | Plan=as set", "Trains: Train=T1 | Machine=Pump | Plan=shared out"}, []string{`2 Train: the plans "as set" and "shared out" stand beside each other on the sheet Trains`}},
		{[]string{"Trains: Train=T1 | Plan=best"}, []string{`2 Train: "best" is no plan of this train; its plans are as set, Motor stays, Pump stays, shared out, least work`}},
		{[]string{"Trains: Train=T1 | Machine=Pump | May move=no", "Trains: Train=T1 | Plan=best"}, []string{`2 Train: "best" is no plan of this train; its plans are as set, shared out, least work`}},
		{[]string{"Trains: Train=T1 | May move=no"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Effort=2"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Plan=as set | May move=no"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Plan=as set | Effort=2"}, []string{"2 Train: row 2 of the sheet Trains cannot be used"}},
		{[]string{"Trains: Train=T1 | Note=to be said"}, nil},
		// Whose train it is nobody knows. Seen: without a number in it the row was passed over as a note, and the pump was moved.
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=no", "Trains: Machine=Pump | May move=no"}, []string{"2 Train: the sheet Trains cannot be read"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=no", "Trains: Machine=Pump | Effort=2"}, []string{"2 Train: the sheet Trains cannot be read"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=no", "Trains: Plan=least work"}, []string{"2 Train: the sheet Trains cannot be read"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=no", "Trains: May move=no"}, []string{"2 Train: the sheet Trains cannot be read"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=no", "Trains: Note=as agreed with the foreman"}, nil},
		{[]string{"Trains: Trane=T1 | Machin=Gear"}, []string{"2 Train: the sheet Trains cannot be read"}},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=yes", "2: Stationary near support | Stationary far support"},
			[]string{"2 Stationary near support: where the feet of Gear stand is not known: Stationary near support and Stationary far support of row 2"}},
		{[]string{"3: Train", "Trains: Train=T1 | Machine=Gear | May move=no | Plan=only Gear"}, []string{"2 Train: the sheet Trains says that Gear must not move"}},
		{[]string{"3: Train", "2: Stationary near support", "Trains: Train=T1 | Plan=only Gear"}, []string{"2 Train: where the feet of Gear stand is not known"}},
		{[]string{"2: Offset limit | Slope limit", "Trains: Train=T1 | Plan=least work"}, []string{"2 Train: row 2, Motor: there is no limit, which a share asks for"}},
		// Flanges.
		{[]string{flange}, nil},
		{[]string{flange, "4 of 3: Machine=Fan | Stationary=Motor"}, []string{"2 Train: Motor is mounted on a flange and stands between two couplings"}},
		{[]string{flange, "Feet: Machine=Motor | Foot=front 9 | Pack in place=0.5"}, []string{"2 Train: Motor is mounted on a flange, and the sheet Feet has feet of it"}},
		{[]string{flange, "2: Bolts | Bolt circle | Coupling to front feet | Front to rear feet"}, []string{`2 Train: row 2, Motor: Bolt circle is missing`}},
		{[]string{flange, "2: Bolts | Bolt circle | Coupling to flange"}, nil}, // it stands on feet, and they are known
		// The Feet sheet.
		{[]string{"Feet: Machine=Motor | Foot=front 9 | Pack in place=0.5", "Feet: Machine=Gear | Foot=near 3 | Room up=0.5"}, nil},
		{[]string{"Feet: Machine=Gear | Foot=near 3 | Room up=x"}, []string{"2 Train: row 2 of the sheet Feet cannot be used"}},
		{[]string{"Feet: Machine=Gear | Foot=near 3", "Feet: Machine=Gear | Foot=far 3 | Pack in place=x"}, []string{"2 Train: row 3 of the sheet Feet cannot be used"}},
		{[]string{"Feet: Machine=Gear | Foot=middle | Along=350"}, []string{`2 Train: the foot middle of Gear (row 2 of the sheet Feet) belongs to no pair of feet that is known`}},
		{[]string{"Feet: Machine=Gear | Foot=some | Along=301"}, nil}, {[]string{"Feet: Machine=Gear | Foot=some | Along=299"}, nil}, {[]string{"Feet: Machine=Gear | Foot=some | Along=-300"}, nil},
		{[]string{"Feet: Machine=Gear | Foot=some | Along=301.01"}, []string{`2 Train: the foot some of Gear (row 2 of the sheet Feet) belongs to no pair of feet that is known`}},
	} {
		e := workText(t, plus(trainText, c.lines...)...)
		p := e.Trains()[0]
		var texts, told []string
		for _, w := range c.whys {
			_, text, _ := strings.Cut(w, ": ")
			texts = append(texts, text)
		}
		if want := map[bool]TrainStatus{true: TrainPossible, false: TrainNotJudged}[c.whys == nil]; p.Status != want || p.Why.String() != strings.Join(texts, "; ") || (len(p.Feet) > 0) != (want == TrainPossible) || p.Train != "T1" || p.Row != 2 {
			t.Errorf("%v: %s: %s", c.lines, p.Status, p.Why)
		}
		for _, x := range e.Problems() {
			text, train := strings.CutPrefix(x.Text.String(), `train "T1" is not judged: `)
			if !train {
				continue
			}
			told = append(told, fmt.Sprintf("%d %s: %s", x.Row, x.Column, text))
			if x.Severity != job.Error || x.Sheet != "Machines" || x.Col != e.Column(columnNamed(x.Column)) || x.Hint.String() != "the rows of a train are couplings in one line, each with Stationary, readings and distances" {
				t.Errorf("%v: %+v", c.lines, x)
			}
		}
		if !slices.Equal(told, c.whys) {
			t.Errorf("%v: told is %q", c.lines, told)
		}
	}
}

func columnNamed(name string) job.ColumnID {
	c, _, _ := job.MatchHeader(job.MachinesSheet, name)
	return c
}

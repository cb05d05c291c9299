package sheet

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// What a row says of its train, whole: alone, with a plan that was chosen, with one that cannot be followed; and what the plan does at a Stationary that has no row of its own, foot by foot. All else of its work is the machine's own.
func TestTrainInSentences(t *testing.T) {
	const alone = "This coupling belongs to the train T1. What follows moves this machine alone; the plan of the whole train (%s) is taken once it is chosen under Plan on the sheet Trains."
	const takes = "Train T1, plan %q: what follows is this machine's part of it; the line after counts what the other machines do."
	const not = "This coupling belongs to the train T1, whose chosen plan %q cannot be followed (%s). What follows moves this machine alone."
	for _, c := range []struct {
		lines  []string
		motor  string
		hint   bool
		others []string // of the gear, in the motor's row
		pump   string
	}{
		{nil, fmt.Sprintf(alone, "possible"), true, nil, fmt.Sprintf(alone, "possible")},
		{[]string{"3: Train"}, fmt.Sprintf(alone, "possible"), true, nil, ""},
		{[]string{"3: Stationary"}, fmt.Sprintf(alone, "not judged"), true, nil, fmt.Sprintf(alone, "not judged")},
		{[]string{"2: Front room down=0"}, fmt.Sprintf(alone, "impossible"), true, nil, fmt.Sprintf(alone, "impossible")},
		{[]string{"Trains: Train=T1 | Plan=as set"}, fmt.Sprintf(takes, "as set"), false, nil, fmt.Sprintf(takes, "as set")},
		{[]string{"Trains: Train=T1 | Plan=only Pump"}, fmt.Sprintf(not, "only Pump", "impossible"), false, nil, fmt.Sprintf(not, "only Pump", "impossible")},
		// The gear under the straight line of the motor: 0.27 and 0.21 up, 0.16 and 0.28 to the wall.
		{[]string{"Trains: Train=T1 | Plan=Motor stays"}, fmt.Sprintf(takes, "Motor stays"), false, []string{"Gear moves too, near 9: 0.20 + 0.05; 0.16 mm towards the wall.", "Gear moves too, near 3: 0.20 + 0.05; 0.16 mm towards the wall.",
			"Gear moves too, far 9: 0.20; 0.28 mm towards the wall.", "Gear moves too, far 3: 0.20; 0.28 mm towards the wall."}, fmt.Sprintf(takes, "Motor stays")},
		{[]string{"Trains: Train=T1 | Plan=Motor stays", "Job: Move step=0.1"}, fmt.Sprintf(takes, "Motor stays"), false, []string{"Gear moves too, near 9: 0.20 + 0.05; 0.16 mm towards the wall.", "Gear moves too, near 3: 0.20 + 0.05; 0.16 mm towards the wall.",
			"Gear moves too, far 9: 0.20; 0.28 mm towards the wall.", "Gear moves too, far 3: 0.20; 0.28 mm towards the wall."}, fmt.Sprintf(takes, "Motor stays")},
		{[]string{"Trains: Train=T1 | Plan=Motor stays", "Feet: Machine=Gear | Foot=near 9 | Pack in place=1", "Feet: Machine=Gear | Foot=near 3", "Feet: Machine=Gear | Foot=far 9 | Pack in place=0.2", "Feet: Machine=Gear | Foot=far 3 | Pack in place=0"},
			fmt.Sprintf(takes, "Motor stays"), false, []string{"Gear moves too, near 9: put in 0.20 + 0.05; 0.16 mm towards the wall.", "Gear moves too, near 3: 0.20 + 0.05; 0.16 mm towards the wall.",
				"Gear moves too, far 9: put in 0.20; 0.28 mm towards the wall.", "Gear moves too, far 3: 0.20; 0.28 mm towards the wall."}, fmt.Sprintf(takes, "Motor stays")},
	} {
		e := workText(t, plus(plus(trainText, "2: Side at 3=river | Side at 9=the wall", "3: Side at 3=the wall | Side at 9=river", "Stock: Thickness=0.05", "Stock: Thickness=0.1", "Stock: Thickness=0.2", "Stock: Thickness=1"), c.lines...)...)
		for i, want := range []string{c.motor, c.pump} {
			var of, moves []string
			for _, s := range e.Sentences(i) {
				if strings.Contains(s.Text, "rain T1") && s.Kind != SentenceWay {
					of = append(of, s.Text)
					if kind := map[bool]SentenceKind{true: SentenceHint, false: SentenceDo}[c.hint]; s.Kind != kind {
						t.Errorf("%v: %v: %s", c.lines, s.Kind, s.Text)
					}
				}
				if strings.Contains(s.Text, "moves too") {
					moves = append(moves, s.Text)
				}
			}
			if strings.Join(of, "\n") != want {
				t.Errorf("%v, row %d: %q", c.lines, i, of)
			}
			if i == 0 && !slices.Equal(moves, c.others) || i == 1 && moves != nil || !slices.Equal(e.Todo(i).Others, moves) {
				t.Errorf("%v, row %d: %q, to do %q", c.lines, i, moves, e.Todo(i).Others)
			}
		}
	}
}

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
			if p.Severity > job.Note && !strings.HasPrefix(p.Text, `train "T1" is not judged`) {
				list = append(list, p)
			}
		}
		if got := toldBy(list); got != c.told {
			t.Errorf("%v:\n%s\nwant\n%s", c.lines, got, c.told)
		}
	}
}

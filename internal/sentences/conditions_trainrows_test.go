package sentences

import (
	"fmt"
	"shimsheet/internal/evaluate"
	"slices"
	"strings"
	"testing"
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

// The plans that can be chosen, by which machines the sheet Trains lets move: their names, those that come to the same, and which of them cannot be tried.
func TestPlansToChooseFrom(t *testing.T) {
	for _, c := range []struct {
		lines []string
		want  string
	}{
		{nil, "as set (Gear stays), Motor stays, Pump stays, shared out, least work"},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=yes"}, "as set (shared out), Motor stays, Gear stays, Pump stays, least work"},
		{[]string{"Trains: Train=T1 | Machine=Gear | May move=no"}, "as set (shared out), least work"},
		{[]string{"Trains: Train=T1 | Machine=Pump | May move=no"}, "as set, shared out, least work"},
		{[]string{"Trains: Train=T1 | Machine=Pump | May move=no", "Trains: Train=T1 | Machine=Gear | May move=yes"}, "as set (shared out), least work"},
		{[]string{"3: Train"}, "as set (only Motor), only Gear, shared out, least work"},
		{[]string{"3: Train", "Trains: Train=T1 | Machine=Gear | May move=yes"}, "as set (shared out), only Motor, only Gear, least work"},
		{[]string{"3: Train", "2: Stationary far support"}, "as set (only Motor, shared out), only Gear!, least work"},
		{[]string{"3: Train", "Trains: Train=T1 | Machine=Gear | May move=no"}, "as set (only Motor, shared out), only Gear!, least work"},
		{[]string{"3: Train", "Trains: Train=T1 | Machine=Motor | May move=no", "Trains: Train=T1 | Machine=Gear | May move=yes"}, "as set (only Gear, shared out), only Motor!, least work"},
		{[]string{"3: Train", "Trains: Train=T1 | Plan=Gear stays"}, "as set (only Motor), only Gear, shared out, least work, Gear stays"},
		{[]string{"Trains: Train=T1 | Plan=only Motor"}, "as set (Gear stays), Motor stays, Pump stays, shared out, least work, only Motor"},
		{[]string{"Trains: Train=T1 | Plan=Shared  OUT"}, "as set (Gear stays), Motor stays, Pump stays, shared out, least work"},
		{[]string{"3: Stationary"}, ""},
	} {
		e := workText(t, plus(trainText, c.lines...)...)
		var got []string
		for _, p := range e.TrainChoices(0) {
			name := p.Plan + alsoCalled(&p)
			if p.Status == evaluate.TrainNotJudged {
				name = p.Plan + "!"
			}
			got = append(got, name)
			if p.Plan == e.Trains()[0].Plan && (p.Chosen != e.Trains()[0].Chosen || p.Status != e.Trains()[0].Status) {
				t.Errorf("%v: %+v", c.lines, p)
			}
		}
		if s := strings.Join(got, ", "); s != c.want {
			t.Errorf("%v: %s", c.lines, s)
		}
	}
	e := workText(t, trainText...)
	if e.TrainChoices(-1) != nil || e.TrainChoices(1) != nil || e.TrainOf(0) != 0 || e.TrainOf(1) != 0 || e.TrainOf(2) != -1 || e.TrainOf(-1) != -1 {
		t.Error(e.TrainOf(0), e.TrainOf(2))
	}
	if e = workText(t, plus(trainText, "4 of 2: Machine=Fan | Stationary=Turbine | Train=B", "5 of 2: Machine=alone | Train")...); e.TrainOf(2) != 1 || e.TrainOf(3) != -1 || len(e.Trains()) != 2 || e.Trains()[1].Row != 4 {
		t.Error(e.TrainOf(2), e.TrainOf(3))
	}
}

// Without a stock nothing is said of pieces, feet are touched where they go by what can be told, and the couplings are those after the moves.
func TestTrainWithoutAStock(t *testing.T) {
	e := workText(t, plus(trainText, "Stock: Thickness=1 | Pieces on hand=0", "Job: Move step=0.05", "Trains: Train=T1 | Plan=as set")...)
	p := &e.Trains()[0]
	for k := range p.Feet {
		f := &p.Feet[k]
		if e.TrainFootDo(f) != "" || f.HasStock || f.Touched != (f.Machine != "Gear") {
			t.Errorf("%q %+v", e.TrainFootDo(f), f)
		}
	}
	if p.Touch != 8 || strings.Join(e.TrainAfter(p), "\n") != "Coupling of Motor after the moves: offset 0 mm up and 0 mm sideways, slope 0 mm/m and 0 mm/m, inside.\nCoupling of Pump after the moves: offset 0 mm up and 0 mm sideways, slope 0 mm/m and 0 mm/m, inside." {
		t.Error(p.Touch, e.TrainAfter(p))
	}
	for k := range p.Couplings {
		if c := &p.Couplings[k]; c.HasPacks || c.PackedJ.Verdict != 0 {
			t.Errorf("%+v", c)
		}
	}
	if got := sentencesOf(e, 0, SentenceDo); !strings.Contains(got, "Take out 0.33 mm ± 0.01 mm under both front feet.\nTake out 0.45 mm ± 0.06 mm under both rear feet.") {
		t.Error(got)
	}
	e = workText(t, plus(trainText, "Stock: Thickness=1 | Pieces on hand=0", "Trains: Train=T1 | Plan=Motor stays")...)
	if got := strings.Join(e.Todo(0).Others, "\n"); !strings.HasPrefix(got, "Gear moves too, near 9: 0.270 mm; 0.16 mm towards the 9 o'clock side") || strings.Count(got, "\n") != 3 {
		t.Error(got)
	}
}

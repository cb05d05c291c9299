package evaluate

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// roundsOf are the rounds of the pump under a sheet: name and reason struck; and what is told of the sheet.
func roundsOf(t *testing.T, machines, text string) (got, told string) {
	t.Helper()
	j := job.NewJob()
	with(t, j, job.MachinesSheet, machines)
	with(t, j, job.RoundsSheet, text)
	e := work(t, j)
	for _, r := range e.Row(0).Rounds {
		got += fmt.Sprintf("%s %q %.4g; ", r.Name, r.Struck, r.Line.DV)
	}
	return got, sheetTold(e, job.RoundsSheet)
}

const (
	roundsMachine = "Machine,Method,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet\npump,reverse indicator,100,100,300,600\n"
	roundsColumns = "Machine,Round,Struck,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"
	roundsRead    = ",0,0.02,-0.04,-0.06,0,-0.02,0.02,0.04\n"
)

// Words that say no under Struck do not strike a round. Seen: no and 0 struck it without a word, and shims came from the readings before it.
func TestRoundsNotStruck(t *testing.T) {
	for word, counts := range map[string]bool{"no": true, "No": true, "n": true, "0": true, "false": true, "-": true, "yes": false, "bracket was loose": false} {
		got, told := roundsOf(t, roundsMachine, roundsColumns+"pump,1,"+word+roundsRead)
		if strings.Contains(got, `1 ""`) != counts {
			t.Errorf("%s: %s", word, got)
		}
		if strings.Contains(told, "so it counts") != (counts && word != "-") {
			t.Errorf("%s: %s", word, told)
		}
	}
}

// Rounds are known by the words that people write. Seen: after 1st move, final, 1st, R1 and 1.0 were no rounds, and the machine was judged by what was found.
func TestRoundsNamed(t *testing.T) {
	for word, want := range map[string]string{"as found": "found", "As-Found": "found", "initial": "found", "after 1st move": "1", "after move 2": "2", "1st": "1", "2nd round": "2", "Round no. 3": "3", "R1": "1", "#4": "4", "1.0": "1",
		"2.": "2", "as left": "left", "final": "left", "hot": "hot", "0": "", "1.5": "", "after": "", "move 1": "", "before 1st move": "", "1 and 2": "", "st": "", "r": ""} {
		name, _, ok := roundName(word)
		if name != want || ok != (want != "") {
			t.Errorf("%q is %q", word, name)
		}
	}
}

// One column of a dial in another unit than the rest is asked about on the Rounds sheet too, and so is a column that bears a unit on the Machines sheet and none there. Seen: mil over 12 o'clock alone left 3, 6 and 9 in
// mm; readings in mil on the Machines sheet stood beside rounds that were read in mm.
func TestRoundsUnits(t *testing.T) {
	got, told := roundsOf(t, roundsMachine, strings.Replace(roundsColumns, "rim 12,Movable", "rim 12 [mil],Movable", 1)+"pump,1,"+roundsRead)
	if !strings.Contains(got, `1 "" NaN`) || strings.Count(told, "numbers here could be mil or mm") != 3 || !strings.Contains(told, "it is read in mm") {
		t.Errorf("%s\n%s", got, told)
	}
	mil := strings.Replace(roundsMachine, "\n", ",Movable rim 12 [mil],Movable rim 6 [mil]\n", 1)
	got, told = roundsOf(t, mil, roundsColumns+"pump,1,"+roundsRead)
	if !strings.Contains(got, `1 "" NaN`) || strings.Count(told, "is in mil, and this column bears no unit; numbers here could be mil or mm") != 2 {
		t.Errorf("%s\n%s", got, told)
	}
	got, told = roundsOf(t, mil, "\"Readings in mm\"\n"+roundsColumns+"pump,1,"+roundsRead)
	if !strings.Contains(got, `1 "" 0.015`) || strings.Contains(told, "error") {
		t.Errorf("%s\n%s", got, told)
	}
}

// So it is of the Readings sheet. Seen: its readings were read in mm beside columns in mil.
func TestReadingsUnitElsewhere(t *testing.T) {
	for machines, refused := range map[string]bool{"Movable rim 12 [mil]": true, "Movable rim 12 [mm]": false, "Movable rim 12": false} {
		j := job.NewJob()
		with(t, j, job.MachinesSheet, strings.Replace(roundsMachine, "\n", ","+machines+"\n", 1))
		with(t, j, job.ReadingsSheet, "Machine,Sweep,Angle,Reading\npump,Movable rim,0,0\npump,Movable rim,90,0.02\npump,Movable rim,180,-0.04\n")
		if told := sheetTold(work(t, j), job.ReadingsSheet); strings.Contains(told, "1 Reading: on the sheet Machines Movable rim 12 is in mil") != refused || strings.Contains(told, "it has no unit") != refused {
			t.Errorf("%s: %s", machines, told)
		}
	}
}

// What a round says lies under feet that the machine does not have on the Feet sheet is told where it stands. Seen: "LF: 0.5" passed without a word where the machine has no rows on the Feet sheet. LF is the left front foot, at 9
// o'clock, as the letters say; common practice, no source.
func TestRoundsPacksOfNoFoot(t *testing.T) {
	head := "Machine,Round,Packs in place\n"
	for _, c := range []struct{ feet, packs, told string }{
		{"", "LF: 0.5", `warning Rounds 2 Packs in place: the packs in place of "LF" are not used: the sheet Feet has no feet of this machine (list its feet there, a row each: Machine, Foot)`},
		{"Machine,Foot\nfan,front 9\n", "front 9: 0.5", `warning Rounds 2 Packs in place: the packs in place of "front 9" are not used`},
		{"Machine,Foot\npump,front 9\npump,front 3\n", "LR: 0.5", `error Rounds 2 Packs in place: the packs of the last round name "LR", which is no foot`},
		{"Machine,Foot\npump,front 9\npump,front 3\n", "LF: 0.5; rf: 0.2", ""},
		{"Machine,Foot\npump,LF\npump,RF\npump,LR\npump,RR\n", "front 9: 0.5; rear 3: 0.2; LR: 0", ""},
	} {
		sheets := []string{job.RoundsSheet.String(), head + "pump,1," + c.packs + "\n"}
		if c.feet != "" {
			sheets = append(sheets, job.FeetSheet.String(), c.feet)
		}
		_, r := grown(t, reverse, sheets...)
		told := toldBy(r.Problems)
		if c.told == "" && strings.Contains(told, "Packs in place") || !strings.Contains(told, c.told) {
			t.Errorf("%s %s: %s", c.feet, c.packs, told)
		}
	}
}

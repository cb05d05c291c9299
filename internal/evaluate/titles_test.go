package evaluate

import (
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// What a line above the list says of its readings, and is not read, is told with what to do instead. Seen: all of these were passed over without a word, and the rows judged. A name of a list is none of them.
func TestTitlesThatCount(t *testing.T) {
	for title, want := range map[string]string{
		"Bar sag 0.04 mm at 6 o'clock for all machines":     "Movable sag at 6",
		"Seen from the driver end":                          "under Seen from",
		"Sign: plunger out is positive":                     "plunger is pushed in",
		"All readings are half of what the dial went round": "plunger is pushed in",
		"Dials with divisions of 0.02 mm":                   "under Graduation",
		"Positive displacement pumps, spring shutdown":      "",
		"Spring shutdown, signed by the planner":            "",
		"Sag":                                               "",
		"Readings in divisions of 0.01 mm":                  "",
	} {
		j := job.NewJob()
		j.Machines = &job.Table{FirstRow: 1, Rows: [][]string{{title}, {"Machine", "Speed", "Note"}, {"P 1", "1480", ""}}}
		j.Machines.SplitHeader(job.MachinesSheet)
		said := ""
		for _, p := range work(t, j).Problems() {
			if strings.Contains(p.Text.String(), "stands above the list") && p.Row == 1 && p.Severity == job.Warning {
				said += p.Hint.String()
			}
		}
		if said == "" != (want == "") || !strings.Contains(said, want) {
			t.Errorf("%s: %q", title, said)
		}
	}
}

// A unit over one column of a dial could be meant for all of them: bare numbers in the others are refused. Seen: a list with mil over 12 o'clock alone had 3, 6 and 9 read in mm and was judged. One dial with a unit and
// another without is told.
func TestDialWithHalfAUnit(t *testing.T) {
	check := func(header, want string) {
		t.Helper()
		j := job.NewJob()
		j.Machines = &job.Table{FirstRow: 2, Header: strings.Split("Machine,Speed,"+header, ","), Rows: [][]string{strings.Split("P 1,1480,0,1,2,1,0,1,2,1", ",")}}
		e := work(t, j)
		var said []string
		for _, p := range e.Problems() {
			if s := p.Text.String(); strings.Contains(s, "bears no unit") {
				said = append(said, p.Severity.String()+" "+p.Column+": "+s)
			}
		}
		if got := strings.Join(said, "\n"); got != want {
			t.Errorf("%s:\n%s\nwant\n%s", header, got, want)
		}
	}
	const stationary = ",Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9"
	check("Movable rim 12 [mil],Movable rim 3,Movable rim 6,Movable rim 9", `error Movable rim 3: Movable rim 12 is in mil and this column of the same dial bears no unit; numbers here could be mil or mm
error Movable rim 6: Movable rim 12 is in mil and this column of the same dial bears no unit; numbers here could be mil or mm
error Movable rim 9: Movable rim 12 is in mil and this column of the same dial bears no unit; numbers here could be mil or mm`)
	check("Movable rim 12 [mil],Movable rim 3 [mil],Movable rim 6 [mil],Movable rim 12,Movable rim 3,Movable rim 6", "") // two lists under one another, each with its header
	check("Movable rim 12 [mm],Movable rim 3,Movable rim 6,Movable rim 9"+stationary, "")                                // the job's unit: it is the same
	check("Movable rim 12 [mil],Movable rim 3 [mil],Movable rim 6 [mil],Movable rim 9 [mil]"+stationary, "warning Stationary rim 12: Movable rim 12 is in mil and this dial bears no unit; it is read in mm")
}

// A ditto mark is told: nothing is taken from the row above. Seen: a machine whose name was a ditto mark was a machine of that name, and judged without a word.
func TestDittoIsTold(t *testing.T) {
	j := job.NewJob()
	j.Machines = &job.Table{FirstRow: 2, Header: []string{"Machine", "Train", "Speed", "Coupling", "Note", "Front to rear feet"}, Rows: [][]string{{"P 1", "T 1", "1480", "gear", "", "500"}, {`"`, "dto.", `"`, "ditto", `"`, "600"}}}
	got := map[string]bool{}
	for _, p := range work(t, j).Row(1).Problems {
		if strings.Contains(p.Text.String(), "stands for what is above it") && p.Row == 3 && p.Severity == job.Error {
			got[p.Column] = true
		}
	}
	if len(got) != 4 || got["Note"] {
		t.Errorf("%v", got)
	}
}

// A bare number that is as likely the Hz of a motor is told, where nothing says rpm. Seen: 50 was a slow machine with the wide limits of one, inside, without a word.
func TestSpeedThatMayBeHertz(t *testing.T) {
	for header, cells := range map[string][2]string{"Speed": {"50|60|24.67|29,5|24", "23.9|61|50 rpm|50 Hz|3000|=48+2"}, "Speed [rpm]": {"", "50"}, "rpm": {"", "50"}, "r/min": {"", "50"}, "Speed [Hz]": {"", "50"}} {
		for k, list := range cells {
			for _, cell := range strings.Split(list, "|") {
				if cell == "" {
					continue
				}
				j := job.NewJob()
				j.Machines = &job.Table{FirstRow: 2, Header: []string{"Machine", header}, Rows: [][]string{{"P 1", cell}}}
				told := false
				for _, p := range work(t, j).Row(0).Problems {
					told = told || strings.Contains(p.Text.String(), "motors on the mains") && p.Severity == job.Warning && p.Column == "Speed"
				}
				if told != (k == 0) {
					t.Errorf("%s: %s: told: %v", header, cell, told)
				}
			}
		}
	}
}

// A column of growth that is not read holds the verdict, as one of cold targets does. Seen: "Thermal growth" was kept unread, and the cold line judged as if it had none.
func TestGrowthThatIsNotRead(t *testing.T) {
	j := job.NewJob()
	j.Machines = &job.Table{FirstRow: 2, Header: []string{"Machine", "Thermal growth"}, Rows: [][]string{{"P 1", "0.3"}}}
	told := false
	for _, p := range work(t, j).Row(0).Problems {
		told = told || p.Row == 2 && p.Severity == job.Error && strings.Contains(p.Text.String(), `"Thermal growth" is not read`)
	}
	if !told {
		t.Error("not told")
	}
}

// A distance in halves or quarters without a unit is told to be read in mm. Seen: 40 1/2 was 40.5 mm without a word.
func TestFractionsOfInches(t *testing.T) {
	for header, cells := range map[string][2]string{"Coupling to front feet": {"40 1/2|3/4|40-1/2", "40.5|40 1/2 in|40 1/2 mm|=81/2|1/10|300"}, "Coupling to front feet [mm]": {"", "40 1/2"}, "Coupling to front feet [in]": {"", "40 1/2"}} {
		for k, list := range cells {
			for _, cell := range strings.Split(list, "|") {
				j := job.NewJob()
				j.Machines = &job.Table{FirstRow: 2, Header: []string{"Machine", header}, Rows: [][]string{{"P 1", cell}}}
				told := strings.Contains(toldBy(work(t, j).Row(0).Problems), "tape in inches")
				if cell != "" && told != (k == 0) {
					t.Errorf("%s: %s: told: %v: %s", header, cell, told, toldBy(work(t, j).Row(0).Problems))
				}
			}
		}
	}
}

// A column that is not read and sounds like a sag or a limit holds the verdict of the rows with a number in it. Seen: a list with a column Sag beside two dials was told that it is not read, and judged without it;
// so was one with the plant's own Tolerance offset.
func TestNumbersThatWouldCount(t *testing.T) {
	const head = "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,"
	for _, c := range []struct {
		name, cell, aside string
		holds             bool
	}{
		{"Sag", "-0.04", "", true},
		{"Bracket sag", "0,04 mm", "", true},
		{"Sag", "0", "", false},
		{"Sag", "none", "", false},
		{"Sag", "-0.04", "Sag", false},
		{"Message", "7", "", false},
		{"Tolerance offset", "0.05", "", true},
		{"Max allowed misalignment", "0.05", "", true},
		{"Permissible angle", "0.3", "", true},
		{"Within radial tolerance", "yes", "", false},
		{"Durchhang M [mm]", "-0,04", "", true}, // seen: judged without these, in lists with German and French headers
		{"Toleranz Versatz", "0,05", "", true},
		{"Flèche du support", "-0,04", "", true},
		{"Tolérance radiale", "0,05", "", true},
		{"Fläche", "4", "", false},
		{"Winkel des Sockels", "4", "", false},
		{"Time limit", "4", "", false},
		{"Offset limit", "0.05", "", false}, // is read
	} {
		j := list(t, head+c.name+"\nP 1,1480,line,0.02,0,0,0,\""+c.cell+"\"\n")
		if c.aside != "" {
			j = with(t, j, job.SettingsSheet, "Name,Value\nColumns left aside,"+c.aside+"\n")
		}
		e := work(t, j)
		r := e.Row(0)
		if held := r.Verdict == calc.NotJudged && strings.Contains(r.Why.String(), "sounds like a limit or the sag"); held != c.holds || !held && r.Verdict != calc.Inside {
			t.Errorf("%s %q, aside %q: %v, %s", c.name, c.cell, c.aside, r.Verdict, r.Why.String())
		}
	}
}

// What is done at the feet hangs on a sag and on where the shafts should stand; on a limit it does not. Seen: machines "not judged" for a column Sag, or Cold target, had their packs on the pick list, worked out without
// it, and nothing there said so. So had one whose round stood twice, whose later round could not be read, or whose Coupling, a flange perhaps, was misspelt.
func TestMovesWithoutWhatMayCount(t *testing.T) {
	const head = "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,"
	const line = ",1480,line,0.3,0,0,0,200,400,"
	for _, c := range []struct {
		name, cell string
		moves      bool
	}{{"Note", "by tape", true}, {"Sag", "-0.04", false}, {"Sag", "0", true}, {"Cold target", "0.2 high", false}, {"Growth, pump end", "0.1", false}, {"Wachstum Motor", "0,1", false}, {"Dilatation pompe", "0,1", false}, {"Tolerance offset", "0.05", true}, {"Coupling", "flnage", false}, {"Coupling", "flexible", true}} {
		e := work(t, list(t, head+c.name+"\nP 1"+line+c.cell+"\n"))
		r := e.Row(0)
		if moves := len(e.PacksOf(r)) > 0; moves != c.moves || moves != (len(r.Calc.Feet) > 0) || !r.HasLine() {
			t.Errorf("%s %q: packs %v, feet %v, line %v; %s", c.name, c.cell, moves, len(r.Calc.Feet), r.HasLine(), r.Why.String())
		}
	}
	const rounds = "Machine,Round,Given offset V,Given offset H,Given slope V,Given slope H,Front shim done\n"
	for text, moves := range map[string]bool{
		"P 1,1,0.2,0,0,0\n":                  true,
		"P 1,1,0.2,0,0,0\nP 1,1,0.1,0,0,0\n": false, // which of them counts?
		"P 1,1,0.2,0,0,0\nP 1,2,O,0,0,0\n":   false, // the last
		"P 1,1,0.2,0,0,0,much\n":             false, // what was done before it
	} {
		e := work(t, with(t, list(t, head+"Note\nP 1"+line+"\n"), job.RoundsSheet, rounds+text))
		r := e.Row(0)
		if got := len(e.PacksOf(r)) > 0; got != moves || moves && !r.HasLine() || (r.Verdict == calc.NotJudged) == moves {
			t.Errorf("%q: packs %v, %v: %s", text, got, r.Verdict, r.Why.String())
		}
	}
	// A row that does not say which round it is counts for nothing. It was told of with the sheet; the machine stood as if nothing had been read since.
	e := work(t, with(t, list(t, head+"Note\nP 1"+line+"\n"), job.RoundsSheet, rounds+"P 1,1,0.2,0,0,0\nP 1,after moving,0,0,0,0\n"))
	if said := toldBy(e.Row(0).Problems); !strings.Contains(said, "row 3 of the Rounds sheet does not say which round") || e.Row(0).Verdict != calc.Outside {
		t.Error(e.Row(0).Verdict, said)
	}
	// A struck one need not say it. What lies under a foot that the machine does not have leaves the pieces to take out open.
	for text, want := range map[string]bool{
		"P 1,1,0.2,0,0,0,,,\nP 1,after moving,0,0,0,0,,bracket loose,\n": true,
		"P 1,1,0.2,0,0,0,,,front 9: 0.5\n":                               true,
		"P 1,1,0.2,0,0,0,,,middle 9: 0.5\n":                              false,
	} {
		j := with(t, list(t, head+"Note\nP 1"+line+"\n"), job.RoundsSheet, strings.TrimSuffix(rounds, "\n")+",Struck,Packs in place\n"+text)
		e := work(t, with(t, j, job.FeetSheet, "Machine,Foot,Gap\nP 1,front 9,0\nP 1,front 3,0\nP 1,rear 9,0\nP 1,rear 3,0\n"))
		moves, said := len(e.Row(0).Calc.Feet) > 0, toldBy(e.Row(0).Problems)
		if moves != want || strings.Contains(said, "no foot of this machine") != !moves || strings.Contains(said, "does not say which round") {
			t.Errorf("%q: moves %v, want %v: %s", text, moves, want, said)
		}
	}
}

// Seen: a list whose columns stand side by side by blanks was refused for want of column names, which stood there.
func TestColumnsOfBlanks(t *testing.T) {
	for text, want := range map[string]string{
		"Spring shutdown, readings\nMachine      Speed   Front   Rear   Rim 12\nP-101        1480    300     500    0.00\nP-102        1480    300     500    0.00\n": "parted by blanks only",
		"Spring  shutdown  readings\nWe come on Monday.\nBring the keys.\n":                                                                                           "no row with column names",
	} {
		e := work(t, list(t, text))
		if got := e.Problems()[0].Text.String(); !strings.Contains(got, want) {
			t.Errorf("%q: %q", text, got)
		}
	}
}

// Seen: a note under the list was told to be left out, and its unit counted all the same.
func TestNoteWhoseUnitCounts(t *testing.T) {
	for note, want := range map[string]string{
		"All readings in mils":      "what it says of units counts",
		"Readings,1/100 mm":         "what it says of units counts",
		",,Bring the long brackets": "the row is left out",
	} {
		e := work(t, list(t, "Machine,Speed,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Note\nP 1,1480,0,2,4,2,\n"+note+"\n"))
		said := ""
		for _, p := range e.Row(1).Problems {
			said += p.Text.String() + "\n"
		}
		if !strings.Contains(said, want) {
			t.Errorf("%s: %q", note, said)
		}
	}
}

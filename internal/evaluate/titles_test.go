package evaluate

import (
	"strings"
	"testing"

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

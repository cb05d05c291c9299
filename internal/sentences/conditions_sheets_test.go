package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// The Readings sheet: what each lack is answered with, which set it spoils, and angles in degrees, on the clock and in hours.
func TestRowsOfReadings(t *testing.T) {
	rest := "pump,,Stationary rim,0,0\npump,,Stationary rim,90,0.11\npump,,Stationary rim,180,0.1\n"
	mov := "pump,,Movable rim,0,0\npump,,Movable rim,90,-0.17\npump,,Movable rim,180,-0.3\n"
	bad := func(row string) string {
		return "offset_v_mm=null verdict=not judged\nerror Machines row 2: the Readings sheet has a reading for this machine that cannot be used, in row " + row + " (hint: mend it there, or take it out)\n"
	}
	clock := func(header, a, b, c string) string {
		s := "Readings: Machine,Set,Sweep," + header + ",Reading\n"
		for _, hub := range [][4]string{{"Movable rim", "0", "-0.17", "-0.3"}, {"Stationary rim", "0", "0.11", "0.1"}} {
			for k, at := range []string{a, b, c} {
				s += "pump,," + hub[0] + "," + at + "," + hub[k+1] + "\n"
			}
		}
		return s
	}
	cases(t, job.Error, bare, "Job: Sag not given=no sag", []jobCase{
		{"", readingsHeader + mov + rest, theLine + "method=sweeps sweep_checks.#=2"}, {"", readingsHeader + rest + mov, theLine},
		{movRim, readingsHeader + mov + rest, theLine}, {sweepCells("Movable rim", 9, 9), readingsHeader + mov + rest, theLine}, // it holds alone
		{"", readingsHeader + mov + strings.ReplaceAll(rest, "pump,,", "pump,found,"), theLine},
		{"", readingsHeader + mov + rest + "pump,,Movable rim,270,\n", bad("8") + "error Readings row 8, Reading: missing (hint: leave the whole row out if there was no reading)"}, {"", readingsHeader + mov + rest + "pump,,Movable rim,,0.1\n", bad("8") + "error Readings row 8, Angle: missing (hint: leave the …"},
		{"", readingsHeader + mov + rest + "pump,,,270,0.1\n", bad("8") + "error Readings row 8, Sweep: missing (hint: write …"}, {"", readingsHeader + mov + rest + "pump,,Rim,270,0.1\n", bad("8") + "error Readings row 8, Sweep: \"Rim\" is not …"},
		{"", readingsHeader + mov + rest + "pump,,Movable rim,x,0.1\n", bad("8") + "error Readings row 8, Angle: …"}, {"", readingsHeader + mov + rest + "pump,,Movable rim,270,x\n", bad("8") + "error Readings row 8, Reading: …"},
		{"", readingsHeader + mov + rest + "pump,perhaps,Movable rim,270,0.1\n", bad("8") + "error Readings row 8, Set: \"perhaps\" is not …"}, {"", readingsHeader + mov + rest + ",,Movable rim,270,0.1\n", bad("8") + "error Readings row 8, Machine: missing …"},
		{"", readingsHeader + mov + rest + "pump,hot,Movable rim,270,x\n", "offset_v_mm=0.1\nerror Readings row 8, Reading: …\nerror Machines row 2: the hot set of the Readings sheet has a reading that cannot be used, in row 8 …"},
		{"", readingsHeader + mov + rest + "pump,cold,Movable rim,0,1\n,,Movable rim,270,0.1\n", theLine + "verdict=outside\nerror Readings row 9, Machine: missing …"}, // it may have been the cold set's, which nothing uses
		{"", readingsHeader + mov + "pump,,Movable rim,270,x\n" + rest + "pump,,Movable rim,270,y\n", bad("5") + "error Readings row 5, Reading: …\nerror Readings row 9, Reading: …"},
		{"", readingsHeader + ",,Movable rim,270,0.1\n" + mov + rest, theLine + "error Readings row 2, Machine: missing …"}, {"", readingsHeader + mov + rest + "fan,,Movable rim,270,0.1\n", theLine + "error Readings row 8, Machine: \"fan\" is not on the Machines sheet …"},
		{"", readingsHeader + "pump,,Movable rim,0,0\n" + rest, "offset_v_mm=null\nerror …"}, {"", "Readings: Machine,Set,Sweep,Reading\npump,,Movable rim,0", "error Readings row 1, Angle: missing …\nerror Machines row 2: no readings …\noffset_v_mm=null"},
		// Angles.
		{"", clock("Angle", "12 o'clock", "3 o'clock", "6 o'clock"), theLine}, {"", clock("Angle", "0h", "3h", "6h"), theLine}, {"", clock("Angle [h]", "0", "3", "6"), "offset_v_mm=null" + strings.Repeat("\nerror …", 8)}, {"", clock("Clock position", "12", "3", "6"), theLine}, {"", clock("Clock position", "0", "90", "180"), bad("3") + "error Readings row 3, Angle: \"90\" is no hour on the clock, and \"Clock position\" means hours …\nerror Readings row 4, Angle: …\nerror Readings row 6, Angle: …\nerror Readings row 7, Angle: …"}, {"", clock("Position", "0", "90°", "180°"), theLine},
		{"", clock("Angle", "0", "3", "6"), bad("4") + "error Readings row 4, Angle: the angles could be hours (3 is 3 o'clock) or degrees (3 is 3°) …"}, {"", clock("Angle", "12", "3", "6"), bad("4") + "error Readings row 4, Angle: the angles could be hours …"}, {"", clock("Angle [deg]", "0", "90", "180"), theLine},
		{"", clock("Clock position", "0", "3", "6.5"), "offset_v_mm=~"}, {"", clock("Clock position", "0", "3", "6.3"), bad("4") + "error Readings row 4, Angle: \"6.3\" is no hour on the clock, …\nerror Readings row 7, Angle: …"}, {"", clock("Clock position", "12", "15", "18"), bad("3") + "error Readings row 3, Angle: …\nerror Readings row 4, Angle: …\nerror Readings row 6, Angle: …\nerror Readings row 7, Angle: …"}, {"", clock("Clock position", "-1", "3", "6"), bad("2") + "error Readings row 2, Angle: …\nerror Readings row 5, Angle: …"},
	})
}

// Sheets of rows: their headers, rows that are none, and columns that could be two or stand twice.
func TestRowsThatAreNone(t *testing.T) {
	cases(t, job.Warning, lowRow, "", []jobCase{
		{"", "Feet: Machine,Foot,Along\npump,front 9,\n\nMachine,Foot,Along\npump,rear 9,", "feet.#=2"}, {"", "Feet: Machine,Foot,Along\npump,front 9,\n,,\npump,rear 9,", "feet.#=2 feet.1.row=4"},
		{"", "Feet: Machine,Foot,Along\npump,front 9,\nMachine,Foot,Rise\npump,rear 9,0.1", "feet.#=2 feet.1.foot=rear 9\nerror Feet row 2: the soft foot cannot be worked out: a machine has 3 to 12 feet …"}, // two lists, one below the other
		{"", "Feet: Machine,Foot,Along [kg]\npump,front 9,300", "feet.#=0\nerror Feet row 1, Along: [kg] is no unit of …\nerror Feet row 2, Along: …\nerror Machines row 2: …"}, {"", "Feet: Machine,Foot,Along [in]\npump,A,10", "feet.0.station_mm=254"}, {"", "Feet: Machine,Foot,Along [in]\npump,A,300 mm", "feet.0.station_mm=300"},
		{"", "Feet: Machine,Foot,Along,Along\npump,A,300,400", "feet.0.station_mm=300\nerror Feet row 1, Along: columns 3 and 4 bear the same name …"}, {"", "Feet: Machine,Foot,Foot name\npump,front 9,x", "feet.0.foot=front 9\nwarning Feet row 1, Foot: columns 2 and 3 both mean Foot; \"Foot\" is read, \"Foot name\" is kept and not read …"},
		{"", "Feet: Machine,Foot name,Foot\npump,x,front 9", "feet.0.foot=front 9\nwarning Feet row 1, Foot: columns 2 and 3 both mean Foot; \"Foot\" is read, \"Foot name\" is kept and not read …"},
		{"", "Feet: Machine,Along\npump,300", "feet.#=0\nerror Feet row 1, Foot: missing …"}, {"", "Feet: Foot,Along\nfront 9,300", "feet.#=0\nerror …"},
		// The unit of a row.
		{"", "Feet: Machine,Foot,Along,Unit\npump,A,10,in\npump,B,500,", "feet.0.station_mm=254 feet.1.station_mm=500"}, {"", "Feet: Machine,Foot,Along,Unit\npump,A,300,-\npump,B,500,n/a", "feet.0.station_mm=300"}, {"", "Feet: Machine,Foot,Along,Unit\npump,A,300 mm,in", "feet.0.station_mm=300"},
		{"", "Feet: Machine,Foot,Along,Unit\npump,A,300,bananas", "feet.#=0\nerror Feet row 2, Along: …\nerror Machines row 2: …"}, {"", "Feet: Machine,Foot,Along [mm],Unit\npump,A,300,in", "feet.#=0\nerror Feet row 2, Along: …\nerror Machines row 2: …"},
		// Seen: a place that cannot be read was called missing besides.
		{"", "Feet: Machine,Foot,Along\npump,A,x", "feet.#=0\nerror Feet row 2, Along: \"x\" is not …\nerror Machines row 2: …"},
		// What is out of the usual is asked once a column.
		{"", "Feet: Machine,Foot,Along\npump,A,9\npump,B,8", "feet.0.station_mm=9\nwarning Feet row 2, Along: is \"9\" right? It comes to 9 mm; usual here is 10 to 20000 mm (and 1 more of the column) …\nwarning Feet row 2, Along: is \"9\" under Along right? …\nwarning Feet row 3, Along: is \"8\" under Along right? …"},
	})
}

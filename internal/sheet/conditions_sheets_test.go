package sheet

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// Headers of the Machines sheet: a column that could be two, that stands twice, whose unit is none, whose name is nearly a known one; and a list that is turned on its side or has no header.
func TestHeadersOfMachines(t *testing.T) {
	const line = "Method,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Speed"
	const vals = "line,0,0,0,300,500,1480"
	for _, c := range []struct{ header, cells, want string }{
		{"Machine,Given offset V," + line, "P,0.3," + vals, "line 0.3"},
		{"Machine,Given offset V [mil]," + line, "P,10," + vals, "line 0.254"},
		{"Machine,Given offset V [kg]," + line, "P,0.3," + vals, "error Machines row 1, Given offset V: [kg] is no unit of a length; numbers here need a unit of their own …\nerror Machines row 2, Given offset V: …"},
		{"Machine,Given offset V [kg]," + line, "P,0.3 mm," + vals, "line 0.3\nerror Machines row 1, Given offset V: [kg] is no unit of …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,0.3," + vals, "line 0.3\nwarning Machines row 1, Given offset V: columns 2 and 3 bear the same name …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,300 um," + vals, "line 0.3\nwarning Machines row 1, Given offset V: columns 2 and 3 bear the same name …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,," + vals, "line 0.3\nwarning …"}, {"Machine,Given offset V,Given offset V," + line, "P,,0.3," + vals, "line 0.3\nwarning …"},
		{"Machine,Given offset V,Given offset V," + line, "P,0.3,0.4," + vals, "warning Machines row 1, Given offset V: columns 2 and 3 bear the same name …\nerror Machines row 2, Given offset V: columns 2 and 3 say \"0.3\" and \"0.4\"; the row is refused …"},
		{"Machine,Given offset V,Coupling,Coupling," + line, "P,0.3,short,flexible," + vals, "line 0.3\nwarning …"}, {"Machine,Given offset V,Coupling,Coupling," + line, "P,0.3,short,rigid," + vals, "warning …\nerror Machines row 2, Coupling: columns 3 and 4 say \"short\" and \"rigid\"; the row is refused …"},
		{"Machine,Given offset V,Note,Remarks," + line, "P,0.3,a,b," + vals, "line 0.3\nwarning Machines row 1, Note: columns 3 and 4 both mean Note; \"Note\" is read, \"Remarks\" is kept and not read …"},
		{"Machine,Given offset V,Remarks,Note," + line, "P,0.3,a,b," + vals, "line 0.3\nwarning Machines row 1, Note: columns 3 and 4 both mean Note; \"Note\" is read, \"Remarks\" is kept and not read …"},
		{"Machine,Given offset V,Note,Note," + line, "P,0.3,a,a," + vals, "line 0.3\nwarning Machines row 1, Note: columns 3 and 4 bear the same name …"},
		{"Machine,Given offset V,Given ofset H,Method,Given slope V,Given slope H,Speed", "P,0.3,0.1,line,0,0,1480", "error Machines row 1: \"Given ofset H\" is not a known column and is kept unread; it is nearly Given offset H …\nerror Machines row 2, Given offset H: missing …\nerror Machines row 2, Coupling to front feet: …"},
		{"Machine,Given offset V,Given ofset H,Front fet," + line, "P,0.3,,9," + vals, "line 0.3"}, // an empty column, and one that is nearly none
		{"Machine,Given offset V,Given ofset H," + line, "P,0.3,1," + vals, "line 0.3"},            // which the sheet has already
		{"Machine,Given offset V,Cold target," + line, "P,0.3,1," + vals, "held 0.3\nerror Machines row 2, Cold target: the column \"Cold target\" is not read, and its name sounds like where the shaft should stand or run; nothing is judged before that is settled …"},
		{"Machine,Given offset V,Cold target," + line, "P,0.3,," + vals, "line 0.3"}, {"Machine,Given offset V,Desired,Wanted thing,Running hot," + line, "P,0.3,,1,," + vals, "held 0.3\nerror Machines row 2, Wanted thing: …"},
		{"Machine,Given offset V,Wanted offset V," + line, "P,0.3,1," + vals, "held 0.3\nerror Machines row 2, Wanted offset V: …"}, {"Machine,Given offset V,Wanted offset V,Verdict," + line, "P,0.3,1,inside," + vals, "line 0.3"},
	} {
		j := list(t, c.header+"\n"+c.cells+"\n")
		e := work(t, j)
		r := e.Row(0)
		var told []string
		for _, p := range append(append([]job.Problem{}, e.Problems()...), r.Problems...) {
			if p.Severity > job.Note {
				told = append(told, fmt.Sprint(p.Severity, " ", p.String()))
			}
		}
		for _, w := range strings.Split(c.want, "\n") {
			kind, v, _ := strings.Cut(w, " ")
			switch kind {
			case "line", "held":
				if !sameValue(r.Offset.V, v) || (r.Verdict == calc.NotJudged) != (kind == "held") {
					t.Errorf("%s / %s: %v, %v", c.header, c.cells, r.Offset.V, r.Verdict)
				}
			default:
				found := false
				for k, s := range told {
					if wild(s, w) {
						told, found = append(told[:k], told[k+1:]...), true
						break
					}
				}
				if !found {
					t.Errorf("%s / %s: nobody says %q", c.header, c.cells, w)
				}
			}
		}
		if len(told) > 0 {
			t.Errorf("%s / %s: nobody expects\n%s", c.header, c.cells, strings.Join(told, "\n"))
		}
	}
	for csv, want := range map[string]string{
		"Machine,P\nSpeed,1480\nMethod,line\nGiven offset V,0.1\n": "the list is turned on its side",
		"a,b\n1,2\n": "of the names in its header none is known",
	} {
		j := job.NewJob()
		tab, _, err := job.ReadDelimited("Machines", []byte(csv), 0)
		if err != nil {
			t.Fatal(err)
		}
		tab.Header, tab.Rows, tab.FirstRow = tab.Rows[0], tab.Rows[1:], 2
		j.Machines = tab
		e := work(t, j)
		if p := e.Problems(); len(p) != 1 || p[0].Severity != job.Error || !strings.Contains(p[0].Text.String(), want) {
			t.Errorf("%q: %v", csv, p)
		}
	}
}

// Spellings that are nearly a column: how many slips there may be, of which kinds, and what is as near to two.
func TestNearlyAColumn(t *testing.T) {
	job.LoadColumns()
	for _, c := range []struct {
		a, b string
		most int
		want int
	}{
		{"speed", "speed", 1, 0}, {"speed", "sped", 1, 1}, {"sped", "speed", 1, 1}, {"speed", "spede", 1, 1}, {"speed", "spoed", 1, 1}, {"speed", "sp", 1, 2}, {"speed", "spo", 2, 3}, {"speed", "spoid", 1, 2}, {"speed", "spoid", 2, 2}, {"psede", "speed", 2, 2}, {"abcdef", "badcfe", 2, 3}, {"abcdef", "badcfe", 3, 3},
		{"rim3", "rim6", 1, 2}, {"rim3", "rin3", 1, 1}, {"rim12", "rim1", 1, 2}, {"", "a", 1, 1}, {"", "", 1, 0}, {"größe", "grosse", 2, 3}, {"größe", "größe", 2, 0}, {"größe", "grösse", 2, 2},
	} {
		if got := slips(c.a, c.b, c.most); got != c.want {
			t.Errorf("%s and %s, %d at most: %d", c.a, c.b, c.most, got)
		}
	}
	for header, want := range map[string]string{
		"Sped": "", "Speeed": "Speed", "Spede": "Speed", "Moveable sag at 6": "Movable sag at 6", "Movable rim 33": "", "Movable rim 5": "", "Mvable rim 3": "Movable rim 3", "Movble rm 3 [mm]": "Movable rim 3", "Given ofset V": "Given offset V", "Given offset X": "",
		"Graduaton": "Graduation", "Repetability": "Repeatability", "Colour of paint": "", "": "", "Nota": "", "Front to raer feet": "Front to rear feet", "Copling": "Coupling", "Couplingxx": "Coupling", "Couplinx": "Coupling", "[mm]": "", strings.Repeat("x", job.MaxHeader+1): "",
	} {
		got := ""
		if c := nearColumn(job.MachinesSheet, header); c != job.NoColumn {
			got = c.Info().Name
		}
		if got != want {
			t.Errorf("%q is nearly %q, want %q", header, got, want)
		}
	}
}

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
		{"", "Feet: Machine,Foot,Along,Unit\npump,A,10,in\npump,B,500,", "feet.0.station_mm=254 feet.1.station_mm=500"}, {"", "Feet: Machine,Foot,Along,Unit\npump,A,10,-\npump,B,500,n/a", "feet.0.station_mm=10"}, {"", "Feet: Machine,Foot,Along,Unit\npump,A,300 mm,in", "feet.0.station_mm=300"},
		{"", "Feet: Machine,Foot,Along,Unit\npump,A,300,bananas", "feet.#=0\nerror Feet row 2, Along: …\nerror Machines row 2: …"}, {"", "Feet: Machine,Foot,Along [mm],Unit\npump,A,300,in", "feet.#=0\nerror Feet row 2, Along: …\nerror Machines row 2: …"},
		// Seen: a place that cannot be read was called missing besides.
		{"", "Feet: Machine,Foot,Along\npump,A,x", "feet.#=0\nerror Feet row 2, Along: \"x\" is not …\nerror Machines row 2: …"},
		// What is out of the usual is asked once a column.
		{"", "Feet: Machine,Foot,Along\npump,A,9\npump,B,8", "feet.0.station_mm=9\nwarning Feet row 2, Along: is \"9\" right? It comes to 9 mm; usual here is 10 to 20000 mm (and 1 more of the column) …"},
	})
}

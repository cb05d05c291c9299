package job

import (
	"fmt"
	"strings"
	"testing"
)

// rowsOf makes rows of lines, cells parted by a bar.
func rowsOf(text string) (rows [][]string) {
	for line := range strings.SplitSeq(text, "\n") {
		if line == "" {
			rows = append(rows, nil)
			continue
		}
		rows = append(rows, strings.Split(line, "|"))
	}
	return rows
}

func linesOf(rows [][]string) string {
	var out []string
	for _, r := range rows {
		out = append(out, strings.Join(r, "|"))
	}
	return strings.Join(out, "\n")
}

// How a list stands in its rows, and the plain form it comes to, as a person reads it: header, rows, and the row of the file that the first of them stands in.
func TestListsInTheirRows(t *testing.T) {
	for _, c := range []struct {
		name, rows, head, body string
		first                  int
	}{
		{"plain", "Machine|Speed|Method\nP 1|1480|line", "Machine|Speed|Method", "P 1|1480|line", 2},
		{"title above", "Marrow Ridge\n\nMachine|Speed|Method\nP 1|1480|", "Machine|Speed|Method", "P 1|1480|", 4},
		// Two lines: the group reaches over the blanks to its right, and no further than the next group.
		{"two lines", "Machine|Movable rim|||Stationary rim|\n|12|3|6|12|3\nP 1|0|-1|-2|0|1", "Machine|Movable rim 12|Movable rim 3|Movable rim 6|Stationary rim 12|Stationary rim 3", "P 1|0|-1|-2|0|1", 3},
		{"two lines, a name below", "|Movable rim||\nMachine|12|3|Speed\nP 1|0|-1|1480", "Machine|Movable rim 12|Movable rim 3|Speed", "P 1|0|-1|1480", 3},
		{"a strange word below", "Machine|Speed|Movable  rim|\n|||site word\nP 1|1480|0|x", "Machine|Speed|Movable  rim|", "|||site word\nP 1|1480|0|x", 2},
		{"two lines, a strange pair", "Machine|Movable rim|||Cost\n|12|3|6|in euro\nP 1|0|-1|-2|5", "Machine|Movable rim 12|Movable rim 3|Movable rim 6|Cost in euro", "P 1|0|-1|-2|5", 3},
		// Gap alone and Stationary gap: Speed stands below a group that reaches over it, both are names: no one can tell.
		{"two ways", "Machine|Stationary face|||\n|12|3|Face 12|6\nP 1|0|-1|7|-2", "Machine|Stationary face 12|Stationary face 3|Face 12|Stationary face 6", "P 1|0|-1|7|-2", 3},
		{"two ways, told", "Machine|Movable|||\n|rim 12|rim 3|sag|speed\nP 1|0|-1|-0.1|1480", "Machine|Movable rim 12|Movable rim 3|Movable sag|speed", "P 1|0|-1|-0.1|1480", 3},
		// A row of units, under the names or over them.
		{"units below", "Machine|Movable rim 12|Movable rim 3|Speed\n|mil|mil|rpm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"units below, in brackets", "Machine|Movable rim 12|Movable rim 3|Speed\n|[mil]|(mil)|[rpm]\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"units above", "|mil|mil|rpm\nMachine|Movable rim 12|Movable rim 3|Speed\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"units below, with in", "Machine|Movable rim 12|Movable rim 3|Speed\n|in mils|in mils|in rpm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mils]|Movable rim 3 [mils]|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"units of a family", "Machine|Movable rim 12|Movable rim 3|Movable rim 6|Stationary rim 12\n|mil|||\nP 1|0|-1|1480|5", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Movable rim 6 [mil]|Stationary rim 12", "P 1|0|-1|1480|5", 3},
		{"units of two families", "Machine|Movable rim 12|Movable rim 3|Stationary rim 12|Stationary rim 3\n|mil||mm|\nP 1|0|-1|1|2", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Stationary rim 12 [mm]|Stationary rim 3 [mm]", "P 1|0|-1|1|2", 3},
		{"a dash among units", "Machine|Movable rim 12|Movable rim 3|Speed\n-|mil|-|rpm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"units twice, the same", "Machine|Movable rim 12 [mil]|Movable rim 3 (mils)|Speed\n|mil|mil|rpm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3 (mils)|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"units twice, others", "Machine|Movable rim 12 [mm]|Movable rim 3|Speed\n|mil|mil|rpm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mm or mil]|Movable rim 3 [mil]|Speed [rpm]", "P 1|0|-1|1480", 3},
		{"numbers are no units", "Machine|Movable rim 12|Movable rim 3|Speed\n1|mil|mil|1480\nP 1|0|-1|1480", "Machine|Movable rim 12|Movable rim 3|Speed", "1|mil|mil|1480\nP 1|0|-1|1480", 2},
		{"one unit among words", "Machine|Movable rim 12|Movable rim 3|Speed\n|mil|see below|x\nP 1|0|-1|1480", "Machine|Movable rim 12|Movable rim 3|Speed", "|mil|see below|x\nP 1|0|-1|1480", 2},
		{"one unit alone", "Machine|Movable rim 12|Method\n|mil|\nP 1|0|line", "Machine|Movable rim 12 [mil]|Method", "P 1|0|line", 3},
		{"units behind names", "Machine|Movable rim 12 mil|Movable rim 3, mil|Speed rpm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Speed [rpm]", "P 1|0|-1|1480", 2},
		{"units behind names, in", "Machine|Movable rim 12 in mm|Movable rim 3/mil|Face 12;mm\nP 1|0|-1|1480", "Machine|Movable rim 12 [mm]|Movable rim 3 [mil]|Face 12 [mm]", "P 1|0|-1|1480", 2},
		{"units behind names, other signs", "Machine|Movable rim 12:mm|Movable rim 3_mil|Face 12–mm|Face 3-mil\nP 1|0|-1|1|2", "Machine|Movable rim 12 [mm]|Movable rim 3 [mil]|Face 12 [mm]|Face 3 [mil]", "P 1|0|-1|1|2", 2},
		{"a label over the header", "Units:|mil|mil\nMachine|Movable rim 12|Movable rim 3|Speed\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]|Speed", "P 1|0|-1|1480", 3}, // Seen: the units were passed over without a word
		{"a label over the header, other units", "Units:|mil|mm\nMachine|Movable rim 12|Coupling to flange|Speed\nP 1|0|-1|1480", "Machine|Movable rim 12 [mil]|Coupling to flange [mm]|Speed", "P 1|0|-1|1480", 3},
		// Further down a header again, with the columns in another order, another unit, or more of them.
		{"exchanged below", "Machine|Movable rim 12|Movable rim 3\nP 1|1|2\nMachine|Movable rim 3|Movable rim 12\nP 2|4|3\nP 3|6|5", "Machine|Movable rim 12|Movable rim 3", "P 1|1|2\nMachine|Movable rim 12|Movable rim 3\nP 2|3|4\nP 3|5|6", 2},
		{"another unit below", "Machine|Movable rim 12 [mm]|Speed\nP 1|1|2\nMachine|Movable rim 12 [mil]|Speed\nP 2|4|3", "Machine|Movable rim 12 [mm]|Speed|Movable rim 12 [mil]", "P 1|1|2\nMachine||Speed|Movable rim 12 [mil]\nP 2||3|4", 2},
		{"a unit below, none above", "Machine|Movable rim 12|Speed\nP 1|1|2\nMachine|Movable rim 12 [mil]|Speed\nP 2|4|3", "Machine|Movable rim 12|Speed|Movable rim 12 [mil]", "P 1|1|2\nMachine||Speed|Movable rim 12 [mil]\nP 2||3|4", 2},
		{"one column more below", "Machine|Speed|Note\nP 1|1|2\nMachine|Note|Speed|Method\nP 2|a|3|line", "Machine|Speed|Note|Method", "P 1|1|2\nMachine|Speed|Note|Method\nP 2|3|a|line", 2},
		{"the same again", "Machine|Speed|Note\nP 1|1|2\nMACHINE|speed|note\nP 2|3|a", "Machine|Speed|Note", "P 1|1|2\nMACHINE|speed|note\nP 2|3|a", 2},
		{"units in a row below", "Machine|Movable rim 12|Movable rim 3\nP 1|1|2\n|mil|mil\nP 2|4|3", "Machine|Movable rim 12|Movable rim 3|Movable rim 12 [mil]|Movable rim 3 [mil]", "P 1|1|2\nMachine|||Movable rim 12 [mil]|Movable rim 3 [mil]\nP 2|||4|3", 2},
		{"a header of two lines below", "Machine|Movable rim 12|Movable rim 3\nP 1|1|2\nMachine|Movable rim|\n|3|12\nP 2|4|3", "Machine|Movable rim 12|Movable rim 3", "P 1|1|2\nMachine|Movable rim 12|Movable rim 3\n\nP 2|3|4", 2},
		{"a header with units below it", "Machine|Movable rim 12 [mm]|Movable rim 3 [mm]\nP 1|1|2\nMachine|Movable rim 3|Movable rim 12\n|mm|mm\nP 2|4|3", "Machine|Movable rim 12 [mm]|Movable rim 3 [mm]", "P 1|1|2\nMachine|Movable rim 12 [mm]|Movable rim 3 [mm]\n\nP 2|3|4", 2},
		{"a cell beyond the section's names", "Machine|Speed|Note\nP 1|1|2\nMachine|Note|Speed\nP 2|a|3|beyond", "Machine|Speed|Note", "P 1|1|2\nMachine|Speed|Note\nP 2|3|a|beyond", 2},
		{"a header of two lines again", "Machine|Movable rim|\n|12|3\nP 1|1|2\nMachine|Movable rim|\n|12|3\nP 2|3|4", "Machine|Movable rim 12|Movable rim 3", "P 1|1|2\nMachine|Movable rim 12|Movable rim 3\n\nP 2|3|4", 3},
		{"a blank name below, in place", "Machine|own|Speed|Note\nP 1|a|1|b\nMachine||Speed|Note\nP 2|c|2|d", "Machine|own|Speed|Note", "P 1|a|1|b\nMachine||Speed|Note\nP 2|c|2|d", 2},
		{"a blank name below, elsewhere", "Machine|own|Speed\nP 1|a|1\nSpeed||Machine\n2|c|P 2", "Machine|own|Speed|", "P 1|a|1\nMachine||Speed\nP 2||2|c", 2},
		{"two of one meaning below", "rpm|Machine|Note\n1|P 1|a\nn|Speed|Machine\n2|3|P 2", "rpm|Machine|Note|Speed", "1|P 1|a\nn|Machine||Speed\n2|P 2||3", 2},
		{"a name twice below", "Note|Machine|Speed\na|P 1|1\nNote|Note|Machine|Speed\nb|c|P 2|2", "Note|Machine|Speed|Note", "a|P 1|1\nNote|Machine|Speed|Note\nb|P 2|2|c", 2},
		{"a unit behind a name below", "Machine|Note|Speed\nP 1|a|1\nMachine|Movable rim 12 mil|Speed\nP 2|3|2", "Machine|Note|Speed|Movable rim 12 [mil]", "P 1|a|1\nMachine||Speed|Movable rim 12 [mil]\nP 2||2|3", 2},
		{"a unit under a name that takes none", "Machine|Movable rim 12|own|Bolts\n|mil|mm|mm\nP 1|0|1|2", "Machine|Movable rim 12 [mil]|own [mm]|Bolts", "P 1|0|1|2", 3},
		{"a unit before a name", "Machine|[rpm] Speed|Method\nP 1|1480|line", "Machine|[rpm] Speed|Method", "P 1|1480|line", 2},
		{"a unit of another column", "Machine|Coupling to flange|Movable rim 12|Speed\n|mm||rpm\nP 1|1|2|3", "Machine|Coupling to flange [mm]|Movable rim 12|Speed [rpm]", "P 1|1|2|3", 3},
		{"a title with empty cells", "Readings in mils||  |\nMachine|Movable rim 12|Speed\nP 1|1|2", "Machine|Movable rim 12 [mil]|Speed", "P 1|1|2", 3},
		// What a title says of units.
		{"all in mil", "Readings in mils\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"lengths and readings", "Distances in inches, readings in thou.\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane [in]|Speed", "P 1|1|2|3", 3},
		{"all of it", "All dimensions mm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane [mm]|Speed", "P 1|1|2|3", 3},
		{"units", "Units: mm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mm]|Coupling to movable plane [mm]|Speed", "P 1|1|2|3", 3},
		{"units in the next cell", "Units|mil\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"two units", "Readings in mm or mil\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mm or mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"below the list", "Machine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3\nAll readings in microns", "Machine|Movable rim 12 [µm]|Coupling to movable plane|Speed", "P 1|1|2|3\nAll readings in microns", 2},
		{"a value is none", "Repeatability of the readings was 0.02 mm or so\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"divisions", "Readings in 0.01 mm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"divisions in one word", "Readings in 0.01mm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"hundredths", "Dials: hundredths\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"shims are no readings", "Shims in mm, stock in inches\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mm or in]|Coupling to movable plane [mm or in]|Speed", "P 1|1|2|3", 3},
		{"a header's own unit stays", "Readings in mils\nMachine|Movable rim 12 [mm]|Movable rim 3|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mm]|Movable rim 3 [mil]|Speed", "P 1|1|2|3", 3},
		// Seen: each of these was passed over without a word, and the numbers read in the job's unit.
		{"centimetres", "Distances in cm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane [cm]|Speed", "P 1|1|2|3", 3},
		{"centimetres are no readings", "Units: cm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane [cm]|Speed", "P 1|1|2|3", 3},
		{"speeds", "Speeds in Hz\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane|Speed [hz]", "P 1|1|2|3", 3},
		{"a speed is a value", "Speed 1480 rpm, readings in mils\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"a speed unit that is none", "Speed in rad/s\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane|Speed [rad/s]", "P 1|1|2|3", 3},
		{"inch mark", "Readings in 1/1000\"\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"thousandths of inches", "Readings in 1/1000 in\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"in inches", "Lengths in 24 in boxes\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"times", "All readings x 0.01 mm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"times, close", "Dial values ×0,01 mm\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"French", "Cotes en mm, lectures en centièmes\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane [mm]|Speed", "P 1|1|2|3", 3},
		{"German", "Messwerte in Hundertstel\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [0.01 mm]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"several things in a row", "Plant|North|Units|mil\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"a label is a name of a column", "Date|1.2.2026|Unit|mil\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
		{"a legend below", "Machine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3\nReadings|mil\nDistances||cm", "Machine|Movable rim 12 [mil]|Coupling to movable plane [cm]|Speed", "P 1|1|2|3\nReadings|mil\nDistances||cm", 2},
		{"a note on one of several", "Machine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3\nP 2|1|2|3\nNote: P 2 in mil", "Machine|Movable rim 12 [mil of P 2 only]|Coupling to movable plane|Speed", "P 1|1|2|3\nP 2|1|2|3\nNote: P 2 in mil", 2},
		{"a note on the only one", "Machine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3\nNote: P 1 in mil", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3\nNote: P 1 in mil", 2},
		{"a longer name", "Machine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3\nNote: P 12 in mil", "Machine|Movable rim 12 [mil]|Coupling to movable plane|Speed", "P 1|1|2|3\nNote: P 12 in mil", 2},
		{"inches before a comma", "Units: in, mil\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12 [in or mil]|Coupling to movable plane [in]|Speed", "P 1|1|2|3", 3},
		{"inches at the end", "Distances [in]\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane [in]|Speed", "P 1|1|2|3", 3},
		{"a legend of inches and metres", "Machine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3\nReadings|in\nDistances|m\nSpeed|Hz", "Machine|Movable rim 12 [in]|Coupling to movable plane [m]|Speed [Hz]", "P 1|1|2|3\nReadings|in\nDistances|m\nSpeed|Hz", 2},
		{"a word in a sentence", "Bring the mm tape of the north shed along for this\nMachine|Movable rim 12|Coupling to movable plane|Speed\nP 1|1|2|3", "Machine|Movable rim 12|Coupling to movable plane|Speed", "P 1|1|2|3", 3},
	} {
		tab := &Table{FirstRow: 1, Rows: rowsOf(c.rows)}
		before := fmt.Sprint(tab.Rows)
		given := tab.Rows
		if !tab.SplitHeader(MachinesSheet) {
			t.Errorf("%s: no header", c.name)
			continue
		}
		if head, body := strings.Join(tab.Header, "|"), linesOf(tab.Rows); head != c.head || body != c.body || tab.SourceRow(0) != c.first {
			t.Errorf("%s: row %d\n%s\n%s\nwant row %d\n%s\n%s", c.name, tab.SourceRow(0), head, body, c.first, c.head, c.body)
		}
		if fmt.Sprint(given) != before {
			t.Errorf("%s: the rows that were handed in are changed", c.name)
		}
	}
}

// Where the cells of a section went is known by their place in the file, for messages and for the formats of a workbook's cells.
func TestPlaced(t *testing.T) {
	tab := &Table{FirstRow: 1, Rows: rowsOf("Machine|Movable rim 12|Movable rim 3\nP 1|1|2\nMachine|Movable rim 3|Movable rim 12\nP 2|4|3\nMachine|Movable rim 12|Movable rim 3\nP 3|5|6\nNote|Machine|Speed\nP|a|1|z")}
	tab.SplitHeader(MachinesSheet)
	for _, c := range [][3]int{{0, 1, 1}, {0, 2, 2}, {1, 1, 2}, {2, 1, 2}, {2, 2, 1}, {2, 0, 0}, {3, 1, 1}, {4, 1, 1}, {4, 2, 2}, {5, 0, 3}, {6, 0, 3}, {6, 1, 0}, {6, 2, 4}, {6, 3, 3}, {99, 7, 7}} {
		if got := tab.Placed(c[0], c[1]); got != c[2] {
			t.Errorf("row %d, column %d went to %d, want %d", c[0], c[1], got, c[2])
		}
	}
	if got := linesOf(tab.Rows[6:]); got != "a|||P z|1" { // what stands behind the last name keeps its text beside what came there
		t.Error(got)
	}
	if w := tab.Width(); w != 5 {
		t.Error(w)
	}
	if (&Table{Header: []string{"a"}, Rows: [][]string{{"1", "2"}, nil}}).Width() != 2 || (&Table{Header: []string{"a", "b", "c"}}).Width() != 3 {
		t.Error("width")
	}
	var none *Table
	if one := (&Table{Rows: [][]string{{"x"}}}); none.Cell(0, 0) != "" || one.Cell(-1, 0) != "" || one.Cell(0, -1) != "" || one.Cell(1, 0) != "" || one.Cell(0, 1) != "" || one.Cell(0, 0) != "x" || one.SourceRow(2) != 3 {
		t.Error("cells beyond the table")
	}
}

// A header in a row that somebody chose, whatever is in it.
func TestChosenHeader(t *testing.T) {
	for _, c := range []struct {
		rows, head, body, title string
		row, first              int
		kind                    SheetKind
	}{
		{"a|b\nc|d\n1|2", "c|d", "1|2", "a|b", 1, 3, MachinesSheet}, {"Machine|Movable rim|\n|12|3\nP|1|2", "Machine|Movable rim 12|Movable rim 3", "P|1|2", "Machine|Movable rim|", 0, 3, MachinesSheet},
		{"Machine|Movable rim 12|Movable rim 3\n|mil|mil\nP|1|2", "Machine|Movable rim 12 [mil]|Movable rim 3 [mil]", "P|1|2", "Machine|Movable rim 12|Movable rim 3", 0, 3, MachinesSheet},
		{"a|b", "", "", "a|b\n", 2, 4, MachinesSheet}, {"a|b\nc|d", "a|b", "c|d", "", 0, 2, SettingsSheet}, {"Name|Value\nmm|rpm\nUnits|inch", "Name|Value", "mm|rpm\nUnits|inch", "", 0, 2, SettingsSheet},
	} {
		tab := &Table{FirstRow: 1, Rows: rowsOf(c.rows)}
		tab.SplitHeaderAt(c.kind, c.row)
		if strings.Join(tab.Header, "|") != c.head || linesOf(tab.Rows) != c.body || linesOf(tab.Title) != c.title || tab.SourceRow(0) != c.first || tab.Header == nil {
			t.Errorf("%q at %d: %q, %q, %q, row %d", c.rows, c.row, tab.Title, tab.Header, tab.Rows, tab.SourceRow(0))
		}
	}
}

// The names of a header wherever it stands, as they are offered to a person and matched with those of another list.
func TestNamesOfHeaders(t *testing.T) {
	if got := HeaderNames(rowsOf("x\nMachine|Movable rim|\n|12|3\nP|1|2"), MachinesSheet); strings.Join(got, "|") != "Machine|Movable rim 12|Movable rim 3" {
		t.Errorf("%q", got)
	}
	if got := HeaderNames(rowsOf("1|2"), MachinesSheet); got != nil {
		t.Errorf("%q", got)
	}
	head := strings.Split("Machine|Movable rim 12|Speed", "|")
	if got, ok := SectionNames(rowsOf("P|1|2\nMachine|Speed|x"), 1, head, MachinesSheet); !ok || strings.Join(got, "|") != "Machine|Speed|x" {
		t.Errorf("%q %v", got, ok)
	}
	for _, row := range []string{"P|1|2", "P|see Speed|soon", "a|b|c", "Machine", "Machine|1480|Speed", "Machine|a|b|c|Speed"} {
		if got, ok := SectionNames(rowsOf(row), 0, head, MachinesSheet); ok {
			t.Errorf("%q is a header, %q", row, got)
		}
	}
	own := strings.Split("Item|Movable rim 12 [mil]|Speed|Coupling to front feet [in]|Note|my own|Movable rim 3 [furlong]", "|")
	for _, c := range []struct {
		name string
		inch bool
		at   int
	}{
		{"Item", false, 0}, {"Machine", false, 0}, {"Movable rim 12", false, -1}, {"Movable rim 12", true, 1}, {"Movable rim 12 [mil]", false, 1}, {"mov rim 12 (thou)", false, 1}, {"Speed [rpm]", false, 2}, {"rpm", false, 2},
		{"Coupling to front feet", true, 3}, {"Coupling to front feet [mm]", true, -1}, {"Remarks", false, 4}, {"my own", false, 5}, {"My own", false, -1}, {"Movable rim 3 [ell]", false, -1}, {"Movable rim 3", false, -1}, {"Method", false, -1},
	} {
		if got := MatchColumn(MachinesSheet, own, c.name, c.inch); got != c.at {
			t.Errorf("%q, inch %v: %d, want %d", c.name, c.inch, got, c.at)
		}
	}
	for _, c := range []struct{ header, name, unit string }{
		{"Speed [rpm]", "Speed", "rpm"}, {"Speed rpm", "Speed", "rpm"}, {"Movable rim 12 in mm", "Movable rim 12", "mm"}, {"Movable rim 12 IN mm", "Movable rim 12", "mm"}, {"Movable rim 12, in", "Movable rim 12", "in"}, {"Movable rim (3)", "Movable rim (3)", ""}, {" Speed ", "Speed", ""},
		{"my own [mm]", "my own [mm]", ""}, {"[rpm] Speed", "Speed", "rpm"}, {"± Offset V [mm]", "± Offset V", "mm"}, {"Face (mil) 12", "Face  12", "mil"}, {"Speed []", "Speed", ""}, {"Movable rim 12 ell", "Movable rim 12 ell", ""}, {"Machine mm", "Machine mm", ""},
	} {
		if name, unit := HeaderParts(MachinesSheet, c.header); name != c.name || unit != c.unit {
			t.Errorf("%q: %q in %q, want %q in %q", c.header, name, unit, c.name, c.unit)
		}
	}
	if !ExactName("Machine", ColMachine) || !ExactName(" SPEED [rpm]", ColSpeed) || ExactName("Item", ColMachine) {
		t.Error("exact names")
	}
	for _, c := range []struct {
		a, b string
		same bool
	}{
		{"Speed", "rpm", true}, {"Speed", "Speed [rpm]", false}, {"Speed [rpm]", "n [1/min]", true}, {"Speed [rpm]", "Speed [Hz]", false}, {"Machine", "Item", true}, {"x  y", "x y", true}, {"X-Y", "x y", true}, {"", " ", true}, {"", "x", false},
		{"x", "y", false}, {"Movable rim 3 [ell]", "Movable rim 3 [ell]", true}, {"Movable rim 3 [ell]", "Movable rim 3 [yard]", false}, {"Movable rim 3 [ell]", "Movable rim 3 [mm]", false}, {"Movable rim 3", "Movable rim 6", false}, {"+", "-", true},
	} {
		if got := SameColumn(c.a, c.b, MachinesSheet); got != c.same {
			t.Errorf("%q and %q: %v", c.a, c.b, got)
		}
	}
}

// Two columns of words with one meaning: the one with the exact name is it, in a section too; where neither has it each stays by itself.
func TestItemAndMachine(t *testing.T) {
	tab := &Table{FirstRow: 1, Rows: rowsOf("Item|Machine|Speed\n1|P 1|2\nMachine|Item|Speed\nP 2|2|3\nTag|Speed|Machine\nT|4|P 3")}
	tab.SplitHeader(MachinesSheet)
	if got := strings.Join(tab.Header, "|") + "\n" + linesOf(tab.Rows); got != "Item|Machine|Speed|Tag\n1|P 1|2\nItem|Machine|Speed\n2|P 2|3\n|Machine|Speed|Tag\n|P 3|4|T" {
		t.Error(got)
	}
}

// What people write for nothing, and what only looks like it.
func TestNothingWritten(t *testing.T) {
	for s, want := range map[string]bool{"-": true, "–": true, "n/a": true, "N.A.": true, "na": true, "#N/A": true, "none": true, "NIL": true, "null": true, "TBD": true, "t.b.d.": true, "unknown": true, "not given": true, "Not measured": true,
		"?": true, "...": true, "/": true, "": false, "0": false, "-0.1": false, "no": false, "north": false, "tag": false, "ok": false, "under repair": false, "not taken": true, "not taken yet": false, " - ": true, "~": true, "n/m": true, "5": false, "-5": false} {
		if got := NotGiven(s); got != want {
			t.Errorf("%q says nothing: %v", s, got)
		}
	}
	for s, want := range map[string]bool{"": true, "-": true, "n/a": true, "none": false, "tbd": false, "na": true, "-1": false, "- 1": false, "n/a n/a": false} {
		if got := NoWord(s); got != want {
			t.Errorf("%q is no word: %v", s, got)
		}
	}
	for s, want := range map[string][2]bool{"1": {true, true}, "-1": {true, true}, "+1": {false, true}, " 1": {false, true}, ".5": {false, true}, "–3": {false, true}, "−3": {false, true}, "-": {false, false}, "": {false, false}, "a1": {false, false}, "'5": {false, true}, "9x": {true, true}, "-9": {true, true}, "/": {false, false}, ":": {false, false}, "0": {true, true}, "-0": {true, true}} {
		if BeginsNumber(s) != want[0] || IsNumber(s) != want[1] {
			t.Errorf("%q begins like a number: %v, %v", s, BeginsNumber(s), IsNumber(s))
		}
	}
	for s, want := range map[string]bool{"": true, " \t\n": true, "\u00a0": true, "\u200b\ufeff": true, "a": false, " x": false, "\u00a0é": false, "é": false, "!": false} {
		if Blank(s) != want || BlankRow([]string{"", s}) != want {
			t.Errorf("%q is blank: %v", s, Blank(s))
		}
	}
	for s, want := range map[string]bool{"a|b": true, "a|1": false, "a": false, "|a||b": true, "-1|a|b": true, "+a|b": true, " 1|a": false, " | |a": false} {
		if got := Wordy(strings.Split(s, "|")); got != want {
			t.Errorf("%q has two words: %v", s, got)
		}
	}
}

// A header of the Job sheet.
func TestSettingsHeaders(t *testing.T) {
	for s, want := range map[string]bool{"Name|Value": true, "setting|VALUES": true, "Item|value|": true, "Name": false, "Name|x": false, "x|Value": false, "Value|Name": false} {
		if got := SettingsHeader(strings.Split(s, "|")); got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
}

// A header in two lines whose lower one names the places of readings, under names that nobody knows: each column bears both lines, and its unit behind them. Seen: under "Rim dial on motor hub [mils]" over 12, 3, 6, 9 three of four
// columns had no name, the row of places was taken for a row of the list, and nothing was said; under "Movable rim" over Top, Right, Bottom, Left two columns were called Right and Left.
func TestPlacesUnderNames(t *testing.T) {
	for _, c := range []struct {
		what   string
		rows   [][]string
		header string // "": the first line alone
	}{
		{"unknown names over clock places", [][]string{{"Equipment", "RPM", "Rim dial [mils]", "", "", "", "Face dial (mm)", "", "", "", "Face diameter"}, {"", "", "12", "3", "6", "9", "12", "3", "6", "9", ""}, {"P 1", "1480", "0", "1", "2", "1", "0", "1", "2", "1", "150"}},
			"Equipment|RPM|Rim dial 12 [mils]|Rim dial 3 [mils]|Rim dial 6 [mils]|Rim dial 9 [mils]|Face dial 12 (mm)|Face dial 3 (mm)|Face dial 6 (mm)|Face dial 9 (mm)|Face diameter"},
		{"a known name over sides", [][]string{{"Machine", "Speed", "Movable rim", "", "", ""}, {"", "", "Top", "Right", "Bottom", "Left"}, {"P 1", "1480", "0", "1", "2", "1"}}, "Machine|Speed|Movable rim Top|Movable rim Right|Movable rim Bottom|Movable rim Left"},
		{"letters, and a lower line over other columns too", [][]string{{"Machine", "Speed", "Note", "Dial A", "", "", "", "Dial B", "", "", "", "Colour"}, {"", "", "", "T", "R", "B", "L", "T", "R", "B", "L", "of the hub"}, {"P 1", "1480", "", "0", "1", "2", "1", "0", "1", "2", "1", "x"}},
			"Machine|Speed|Note|Dial A T|Dial A R|Dial A B|Dial A L|Dial B T|Dial B R|Dial B B|Dial B L|Colour of the hub"},
		{"degrees, the name over each", [][]string{{"Machine", "Speed", "Dial", "Dial", "Dial", "Dial"}, {"", "", "0°", "90°", "180°", "270°"}, {"P 1", "1480", "0", "1", "2", "1"}}, "Machine|Speed|Dial 0°|Dial 90°|Dial 180°|Dial 270°"},
		{"three places and the first again", [][]string{{"Machine", "Speed", "Dial", "", "", "", ""}, {"", "", "0", "90", "180", "270", "360"}, {"P 1", "1480", "0", "1", "2", "1", "0"}}, "Machine|Speed|Dial 0|Dial 90|Dial 180|Dial 270|Dial 360"},
		{"a row of a machine", [][]string{{"Machine", "Speed", "Dial", "", "", ""}, {"P 1", "", "12", "3", "6", "9"}}, ""},
		{"a row without a name, with a speed", [][]string{{"Machine", "Speed", "Dial", "", "", ""}, {"", "1480", "12", "3", "6", "9"}}, ""},
		{"two places only", [][]string{{"Machine", "Speed", "Dial", "", ""}, {"", "", "12", "6", ""}}, ""},
		{"one place three times", [][]string{{"Machine", "Speed", "Dial", "", ""}, {"", "", "12", "12", "12"}}, ""},
		{"places of two manners", [][]string{{"Machine", "Speed", "Dial", "", ""}, {"", "", "12", "90", "Bottom"}}, ""},
	} {
		table := &Table{Rows: c.rows, FirstRow: 1}
		if !table.SplitHeader(MachinesSheet) {
			t.Fatal(c.what)
		}
		want, lines := c.header, 2
		if want == "" {
			want, lines = strings.Join(c.rows[0], "|"), 1
		}
		for range 2 { // parted again it is the same list
			if got := strings.Join(table.Header, "|"); got != want || len(table.Rows) != len(c.rows)-lines || table.FirstRow != lines+1 {
				t.Errorf("%s: %s, %d rows from row %d; want %s", c.what, got, len(table.Rows), table.FirstRow, want)
			}
			table.SplitHeader(MachinesSheet)
		}
	}
}

func TestColumnLetters(t *testing.T) {
	for col, want := range map[int]string{0: "A", 25: "Z", 26: "AA", 51: "AZ", 52: "BA", 701: "ZZ", 702: "AAA", 16383: "XFD"} { // ECMA-376: XFD is the last column
		if got := ColumnLetters(col); got != want {
			t.Errorf("%d: %s, want %s", col, got, want)
		}
	}
}

// A row whose only names of columns are words that also stand in those columns is no header, on no sheet, and neither is one that names a column of words twice. Seen: "P-101, OK, 0.02, OK, no" was taken for the header of checks.
func TestWordsAreNoHeader(t *testing.T) {
	for _, c := range []struct {
		kind   SheetKind
		rows   string
		header int
	}{
		{ChecksSheet, "Machine|Isolation|Runout|Guard|Dowels\nP-101|OK|0.02|OK|no", -1},
		{ChecksSheet, "P-101|OK|done", -1}, {ChecksSheet, "P-101|guard|done|OK\nMachine|Check|Done", 1}, {ChecksSheet, "Check|OK|By", 0}, {ChecksSheet, "Check|Done", 0},
		{TrainsSheet, "Train|Machine|May move", 0}, {TrainsSheet, "A|yes|no", -1},
	} {
		if got := FindHeader(rowsOf(c.rows), c.kind); got != c.header {
			t.Errorf("%s: header in row %d, want %d", c.rows, got, c.header)
		}
	}
	tab := &Table{Rows: rowsOf("Machine|Check|Done\nP-101|guard|done\nP-101|done|OK\nP-101|dowels|no")}
	if tab.SplitHeader(ChecksSheet); linesOf(tab.Rows) != "P-101|guard|done\nP-101|done|OK\nP-101|dowels|no" {
		t.Error(linesOf(tab.Rows))
	}
}

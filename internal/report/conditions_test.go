package report

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tally"
)

// A condition is a small job, a drawing of its first row, and what stands in it and what does not; neighbours of a case stand on the other side of its condition.
type condition struct {
	name     string
	draw     func([]byte, *sentences.Teller, int, Options) []byte
	width    float64
	machines string // rows of listOf, with | between
	more     sheets
	has      string // texts that stand in the drawing, with | between; "desc: …" in its description
	not      string // and those that do not
}

const (
	aLine  = "Machine: P; Coupling: short; Method: line; Given offset V: 0.31; Given offset H: -0.12; Given slope V: 0.4; Given slope H: 0.25"
	fine   = "Machine: P; Coupling: short; Method: line; Given offset V: 0.001; Given offset H: 0; Given slope V: 0; Given slope H: 0.01"
	planes = "Machine: P; Coupling: short; Coupling to stationary plane: 110; Coupling to movable plane: 130"
	still  = "; Stationary near support: 300; Stationary far support: 800" // where the other machine stands
	river  = "; Side at 3: river"
	hill   = "; Side at 9: hill"
)

func aStock(rows ...string) sheets { return sheets{job.StockSheet: rows} }

// four is the four readings of each rim of a known machine.
func four(m knownMachine) (s string) {
	for k, h := range []string{"12", "3", "6", "9"} {
		s += fmt.Sprintf("; Movable rim %s: %.4f; Stationary rim %s: %.4f", h, m.rim(float64(90*k)), h, m.back(float64(90*k)))
	}
	return s
}

// grown is a Growth sheet: what the supports of the movable machine grow by; the other machine does not.
func grown(frontV, rearV, frontH, rearH float64) sheets {
	row := "Machine: P; Support: %s; Growth V: %g; Growth H: %g"
	return sheets{job.GrowthSheet: {fmt.Sprintf(row, "movable front", frontV, frontH), fmt.Sprintf(row, "movable rear", rearV, rearH), fmt.Sprintf(row, "stationary near", 0., 0.), fmt.Sprintf(row, "stationary far", 0., 0.)}}
}

// foursquare is four feet 710 by 400 mm apart, one of them off by 0.2 mm, in cells as form says: along, across, and what was measured.
func foursquare(form string, along, across bool) sheets {
	var rows []string
	for k, name := range []string{"front 9", "front 3", "rear 9", "rear 3"} {
		var v []any
		if along {
			v = append(v, 480+710*float64(k/2))
		}
		if across {
			v = append(v, -200+400*float64(k%2))
		}
		rows = append(rows, "Machine: P; Foot: "+name+fmt.Sprintf(form, append(v, []float64{0, 0.2, 0, 0}[k])...))
	}
	return sheets{job.FeetSheet: rows}
}

// both is the rows of two jobs, of different sheets.
func both(a, b sheets) sheets {
	all := maps.Clone(a)
	maps.Copy(all, b)
	return all
}

// parts is a front support of so many thin parts with a high one on them.
func parts(thin int) sheets {
	s := grown(0, 0.1, 0, 0)
	rows := s[job.GrowthSheet][1:]
	for k := range thin + 1 {
		rows = append(rows, fmt.Sprintf("Machine: P; Support: movable front; Height: %d; Material: carbon steel; Running: 60; Cold: 20", 1+k/thin*300))
	}
	return sheets{job.GrowthSheet: rows}
}

// boxOf is a stock of pieces that are not counted.
var boxOf = aStock("Thickness: 1", "Thickness: 0.5", "Thickness: 0.2", "Thickness: 0.1", "Thickness: 0.05", "Thickness: 0.025")

var conditions = []condition{
	// Sides: each by its own name with the clock behind it, or by the clock.
	{"no side named", Machine, 900, aLine + feetAt, nil, "seen from the 9 o'clock side; up is up|the 3 o'clock side is up", "(3 o'clock side)|(9 o'clock side)|the the"},
	{"one side named", Machine, 900, aLine + feetAt + river, nil, "seen from the 9 o'clock side; up is up|river (3 o'clock side) is up", "the river|(9 o'clock side)"},
	{"the other named", Machine, 900, aLine + feetAt + hill, nil, "seen from hill (9 o'clock side); up is up|the 3 o'clock side is up", "the hill|(3 o'clock side)"},
	{"both named", Machine, 900, aLine + feetAt + river + hill, nil, "seen from hill (9 o'clock side); up is up|river (3 o'clock side) is up", "the 3 o'clock|the 9 o'clock"},
	{"from the other side", Machine, 900, aLine + feetAt + river + hill + "; Seen from: stationary", nil, "seen from river (3 o'clock side seen from the stationary machine); up is up|hill (9 o'clock side seen from the stationary machine) is up", "(3 o'clock side)|(9 o'clock side)"},
	{"from the other side, one named", Machine, 900, aLine + feetAt + river + "; Seen from: stationary", nil, "seen from river (3 o'clock side seen from the stationary machine)|the 9 o'clock side seen from the stationary machine is up", "(9 o'clock"},
	// The machine that stays by its name, or by what it is.
	{"a name", Machine, 900, aLine + feetAt + "; Stationary: gear", nil, "gear (stays)|P (moves)", "stationary machine (stays)"},
	{"no name", Machine, 900, aLine + feetAt, nil, "stationary machine (stays)|P (moves)", "P (movable)"},
	{"inside", Machine, 900, fine + feetAt, nil, "stationary machine (stays)|P (movable)|stays|P: inside", "P (moves)|push |add |from found to wanted|after: predicted"},
	{"a name on a sketch", CardSketch, 500, aLine + feetAt + "; Stationary: gear", nil, "gear (stays)|P (movable)", "stationary machine"},
	{"no name on a sketch", CardSketch, 500, aLine + feetAt, nil, "stationary machine (stays)", ""},
	{"a name on what to do", WhatToDo, 500, aLine + feetAt + "; Stationary: gear", nil, "gear", "stationary machine"},
	{"no name on what to do", WhatToDo, 500, aLine + feetAt, nil, "stationary machine", ""},
	// Which way, in each plane.
	{"high and rising", Machine, 900, aLine + feetAt + river + hill, nil, "offset 0.310 ± |mm high, slope 0.40 ± |mm/m rising|mm towards hill, slope 0.25 ± |mm/m towards river", "low|falling"},
	{"low and falling", Machine, 900, "Machine: P; Coupling: short; Method: line; Given offset V: -0.31; Given offset H: 0.12; Given slope V: -0.4; Given slope H: -0.25" + feetAt + river + hill, nil,
		"offset 0.310 ± |mm low, slope 0.40 ± |mm/m falling|mm towards river, slope 0.25 ± |mm/m towards hill", "high|rising"},
	{"angles of a spacer", Machine, 900, strings.Replace(aLine, "short", "spacer; Spacer length: 300", 1) + feetAt, nil, "Found: angle at the stationary flex plane 1.23, at the movable one -0.83 mm/m|limit of the angle at each flex plane ± ", "Found: offset|limit of the offset|limit of the slope|Not drawn"},
	{"a spacer without a length", Machine, 900, strings.Replace(aLine, "short", "spacer", 1) + feetAt, nil, "Not drawn: the spool, for its length is not known.", "limit of the angle"},
	{"a length that is no spacer's", Machine, 900, aLine + feetAt + "; Spacer length: 300", nil, "Found: offset|limit of the offset|limit of the slope", "spool"},
	// Of the wanted line: the datum itself, or somewhere else, in any of its four numbers.
	{"wanted on the datum", Machine, 900, aLine + feetAt, nil, "wanted", "wanted cold|wanted: "},
	{"wanted higher", Machine, 900, aLine + feetAt + "; Cold offset V: 0.1; Cold offset H: 0; Cold slope V: 0; Cold slope H: 0", nil, "wanted cold", ""},
	{"wanted aside", Machine, 900, aLine + feetAt + "; Cold offset V: 0; Cold offset H: 0.1; Cold slope V: 0; Cold slope H: 0", nil, "wanted cold", ""},
	{"wanted rising", Machine, 900, aLine + feetAt + "; Cold offset V: 0; Cold offset H: 0; Cold slope V: 0.1; Cold slope H: 0", nil, "wanted cold", ""},
	{"wanted leading aside", Machine, 900, aLine + feetAt + "; Cold offset V: 0; Cold offset H: 0; Cold slope V: 0; Cold slope H: 0.1", nil, "wanted cold", ""},
	{"wanted of a universal coupling", Machine, 900, strings.Replace(aLine, "short", "universal; Spacer length: 700", 1) + feetAt, nil, "wanted: the offset stays, 0.332 mm in all|the limit set published has no limits for a universal coupling", "wanted cold|limit of the offset"},
	// What is missing is named, and what is there is not.
	{"nothing known", Machine, 900, "Machine: P; Coupling: short; Speed: 1480", nil, "Not drawn: the shaft of the movable machine, for there is no line.|Not drawn: the feet, for their distances are not known.|Not judged: ", "wanted|Found|the spool|no corrections"},
	{"feet and no line", Machine, 900, "Machine: P; Coupling: short" + feetAt, nil, "Not drawn: the shaft of the movable machine|Not drawn: what to do at the feet, for there are no corrections.", "distances are not known|class: d-hatch|class: d-limit|class: d-wanted|class: d-found|class: d-after|class: d-band"},
	{"a line and no feet", Machine, 900, aLine + "; Speed: 1480", nil, "Not drawn: the feet, for their distances are not known.|Found: ", "the shaft|no corrections|Not judged"},
	{"a line and no speed", Machine, 900, aLine + "; Coupling to front feet: 480; Front to rear feet: 710", nil, "Not judged: |Found: ", "limit of|Not drawn"},
	{"all there", Machine, 900, aLine + feetAt, nil, "Found: |limit of the offset ± |limit of the slope ± |from found to wanted|datum: centre line of the stationary shaft|uncertainty of the line found, k = 2", "Not drawn|Not judged"},
	{"limits of its own", Machine, 900, aLine + feetAt + "; Offset limit: 0.031; Slope limit: 0.21", nil, "limit of the offset ± 0.031 mm|limit of the slope ± 0.21 mm/m", ""},
	// Packs: a piece, two, a piece short, chosen together; how it comes out of an exact amount.
	{"no stock", Machine, 900, aLine + feetAt + river, nil, "take out 0.50 mm|take out 0.775 mm|from 0.502 ± |from 0.786 ± |leave|push 0.18 mm|towards 9 o'clock side|from 0.177 ± ", "chosen together|short|add "},
	{"from a box", Machine, 900, aLine + feetAt, boxOf, "take out 0.50 mm|after: predicted from the packs (stock not counted): inside", "add |chosen together"},
	{"two pieces to add", Machine, 900, "Machine: P; Coupling: short; Method: line; Given offset V: -0.3; Given offset H: 0; Given slope V: 0; Given slope H: 0.3" + feetAt, boxOf, "add 0.30 mm|0.20 + 0.10", "take out"},
	{"one piece to add", Machine, 900, "Machine: P; Coupling: short; Method: line; Given offset V: -0.5; Given offset H: 0; Given slope V: 0; Given slope H: 0.3" + feetAt, boxOf, "add 0.50 mm", "take out| + "},
	{"nothing to add", Machine, 900, "Machine: P; Coupling: short; Method: line; Given offset V: 0; Given offset H: 0.4; Given slope V: 0; Given slope H: 0" + feetAt, boxOf, "leave|push 0.40 mm", "add |take out"},
	{"nothing to push", Machine, 900, "Machine: P; Coupling: short; Method: line; Given offset V: 0.4; Given offset H: 0; Given slope V: 0; Given slope H: 0" + feetAt, boxOf, "leave|take out 0.40 mm", "push"},
	// Feet by what they are called: front, rear, and further ones, each by its distance where there are more than one.
	{"one further pair", Machine, 1200, aLine + feetAt + "; Further feet: 800", nil, "front feet|rear feet|further feet take out 0.625 mm", "further feet 800|further take"},
	{"two further pairs", Machine, 1200, aLine + feetAt + "; Further feet: 700 900", nil, "front feet|rear feet|700 mm|900 mm", ""},
	// Distances: no zeros at the end, and no sign of a fraction that is none.
	{"whole distances", Machine, 900, aLine + "; Speed: 1480; Coupling to front feet: 480.0; Front to rear feet: 700", nil, "480 mm|700", "480.0|48 mm"},
	{"broken distances", Machine, 900, aLine + "; Speed: 1480; Coupling to front feet: 480.5; Front to rear feet: 700.25", nil, "480.5 mm|700.2", "700.250"},
	// A machine so small that it is drawn larger than it is.
	{"a tiny machine", Machine, 900, aLine + "; Speed: 1480; Coupling to front feet: 20; Front to rear feet: 30", nil, "along 3.125 : 1, across", "along 1 : "},
	{"a small machine", Machine, 900, aLine + "; Speed: 1480; Coupling to front feet: 200; Front to rear feet: 300", nil, "along 1 : ", " : 1,"},
	// Readings.
	{"a line given", Sweeps, 600, aLine + feetAt, nil, "No readings to draw: the line is given.|desc: No readings to draw: the line is given.", "there are none"},
	{"readings not there", Sweeps, 600, planes + feetAt, nil, "No readings to draw: ", "the line is given"},
	{"both sweeps", Sweeps, 600, planes + feetAt + four(knownMachines[0]), nil, "Movable rim In mm|Stationary rim In mm|In mm; no sag taken off|no residuals|desc: Movable rim: 4 readings, no sag taken off.|desc: Stationary rim: 4 readings", "Open square|No curve|sag taken off: |largest residual"},
	{"sag of one", Sweeps, 600, planes + feetAt + four(knownMachines[0]) + "; Movable sag at 6: -0.06", nil, "sag taken off: -0.060 mm at 6; as read: +|no sag taken off|desc: Movable rim: 4 readings, sag taken off: -0.060 mm|desc: Stationary rim: 4 readings, no sag taken off", ""},
	// One reading off: a square in the plot of its sweep alone, with the reading, by how much, and in the description.
	{"one reading off", Sweeps, 700, planes + feetAt + "; Movable sweep: " + sweepText([]float64{0, 45, 90, 135, 180, 225, 270, 315}, knownMachines[0].rim, 135, 0.2) + "; Stationary sweep: " + sweepText([]float64{0, 45, 90, 135, 180, 225, 270, 315}, knownMachines[0].back, -1, 0), nil,
		"once: Open square: 135° reads |, off by 0.|against the others|largest residual |desc: Open square: 135° reads ", ""},
	{"a reading again", Sweeps, 700, planes + feetAt + "; Movable sweep: 0:0 90:-0.2 180:-0.5 270:-0.3 360:0.012; Stationary sweep: 0:0 90:0.1 180:0.4 270:0.3", nil, "largest residual ", "at 360°"},
	// What to do.
	{"what to do, inside", WhatToDo, 500, fine + feetAt, boxOf, "", "push|put in"},
	{"what to do", WhatToDo, 500, aLine + feetAt, boxOf, "take out|Seen from above, as you stand behind the machine|solid lines go in, dashed lines come out.|Coupling to front feet 480 mm, front to rear feet 710 mm.|P: what to do", "Otherwise it is left|in one lift|stays"},
	{"what to add", WhatToDo, 500, "Machine: P; Coupling: short; Method: line; Given offset V: -0.3; Given offset H: 0; Given slope V: 0; Given slope H: 0.3" + feetAt, boxOf, "put in|0.20|0.10|push front feet|towards", "take out|leave as it is"},
	{"what to add without a stock", WhatToDo, 500, "Machine: P; Coupling: short; Method: line; Given offset V: -0.3; Given offset H: 0; Given slope V: 0; Given slope H: 0.3" + feetAt, nil, "put in|0.30", "add|take out"},
	{"nothing aside", WhatToDo, 500, "Machine: P; Coupling: short; Method: line; Given offset V: 0.4; Given offset H: 0; Given slope V: 0; Given slope H: 0" + feetAt, boxOf, "front feet:|leave sideways|desc: Leave the front feet sideways.|desc: Leave the rear feet sideways.", "push|towards"},
	{"nothing up", WhatToDo, 500, "Machine: P; Coupling: short; Method: line; Given offset V: 0; Given offset H: 0.4; Given slope V: 0; Given slope H: 0" + feetAt + hill, boxOf, "leave as it is|push front feet|0.40 mm|towards|hill|desc: Push the front feet 0.40 mm towards |desc: leave as it is", "put in|take out"},
	// Growth.
	{"no growth", GrowthFigure, 700, aLine + feetAt, nil, "No growth is worked out for this machine.", "running"},
	{"growth up", GrowthFigure, 700, aLine + feetAt + still, grown(0.2, 0.3, 0, 0), "rises 0.200 mm|rises 0.300 mm|P: growth from cold to running|Side view|Running, both shafts lie on one line.|datum: the stationary shaft, cold|wanted cold|growth of a support", "Top view|sinks|as its maker wants"},
	{"growth down", GrowthFigure, 1000, aLine + feetAt + still, grown(-0.2, -0.3, 0, 0), "sinks 0.200 mm|sinks 0.300 mm|Cold, the movable shaft is to stand 0.132 mm high at the coupling and to rise 0.14 mm/m away from it.", "rises 0.2|rises 0.3|Top view"},
	{"growth between named sides", GrowthFigure, 700, aLine + feetAt + river + hill + still, grown(0.2, 0.3, 0.1, 0), "Side view, seen from hill (9 o'clock side); up is up|Top view, seen from above; river (3 o'clock side) is up", ""},
	{"growth aside", GrowthFigure, 700, aLine + feetAt + river + still, grown(0.2, 0.3, 0.1, 0), "Top view, seen from above; river (3 o'clock side) is up|towards river|stays", ""},
	{"growth with an offset when hot", GrowthFigure, 700, aLine + feetAt + still + "; Running offset V: -0.05", grown(0.2, 0.3, 0, 0), "Running, the movable shaft stands as its maker wants it, 0.050 mm low at the coupling.", "both shafts lie on one line"},
	{"growth with a slope when hot", GrowthFigure, 700, aLine + feetAt + still + "; Running slope V: 0.4", grown(0.2, 0.3, 0, 0), "as its maker wants it", "both shafts lie on one line"},
	{"growth with an offset aside when hot", GrowthFigure, 700, aLine + feetAt + still + "; Running offset H: 0.07", grown(0.2, 0.3, 0, 0), "as its maker wants it|Top view", "both shafts lie on one line"},
	{"growth with a slope aside when hot", GrowthFigure, 700, aLine + feetAt + still + "; Running slope H: 0.4", grown(0.2, 0.3, 0, 0), "as its maker wants it|Top view", "both shafts lie on one line"},
	{"a change measured", GrowthFigure, 700, aLine + feetAt + "; Change offset V: 0.2; Change offset H: 0; Change slope V: -0.1; Change slope H: 0", nil, "Cold, the movable shaft is to stand 0.200 mm low at the coupling and to rise 0.10 mm/m away from it.|Running, both shafts lie on one line.", "growth of a support|rises|sinks|Top view"},
	{"26 parts of a support", GrowthFigure, 700, aLine + feetAt + still, parts(25), "text: z", "text: {"},
	{"27 parts of a support", GrowthFigure, 700, aLine + feetAt + still, parts(26), "", "text: z|text: {"}, // letters end with z
	// Sketches.
	{"a sketch without distances", CardSketch, 500, "Machine: P; Coupling: short; Speed: 1480", nil, "Coupling to front feet|Front to rear feet", ""},
	{"a sketch with one distance", CardSketch, 500, "Machine: P; Coupling: short; Coupling to front feet: 480", nil, "Coupling to front feet|Front to rear feet", ""},
	{"a sketch with all", CardSketch, 500, "Machine: P; Coupling: short" + feetAt, nil, "480 mm|710", "Coupling to front feet|Front to rear feet"},
	{"a sketch on a flange", CardSketch, 500, strings.Replace(aLine, "short", "short; Mounting: vertical flange; Bolt circle: 600; Bolts: 8; Coupling to flange: 200", 1), nil, "200 mm", "Coupling to front feet|Front to rear feet"},
	// Bolts.
	{"bolts", Machine, 900, strings.Replace(aLine, "short", "short; Mounting: vertical flange; Bolt circle: 600; Bolts: 16; Coupling to flange: 200; Speed: 1480", 1) + river, nil, "In the plane of 12 and 6 o'clock; 12 o'clock is up|In the plane of 3 and 9 o'clock; river (3 o'clock side) is up|12 o'clock is up, river (3 o'clock side) is right|slide 0.39 mm towards 6 o'clock and 0.07 mm towards river|bolt 1 at 12 o'clock, counted towards 3.", "one in|Side view"},
	{"more bolts", Machine, 900, strings.Replace(aLine, "short", "short; Mounting: vertical flange; Bolt circle: 600; Bolts: 17; Coupling to flange: 200; Speed: 1480", 1), nil, "Of 17 bolts one in 2 is named; the sentences name them all.", ""},
	{"bolts from the other side", Machine, 900, strings.Replace(aLine, "short", "short; Mounting: vertical flange; Bolt circle: 600; Bolts: 8; Coupling to flange: 200; Speed: 1480", 1) + river + "; Seen from: stationary", nil, "counted towards river (3 o'clock side seen from the stationary machine).|0.07 mm towards river", ""},
	{"bolts that stay", Machine, 900, strings.Replace(fine, "short", "short; Mounting: vertical flange; Bolt circle: 600; Bolts: 8; Coupling to flange: 200; Speed: 1480", 1), nil, "stays", "slide|Shims at each bolt"},
	// Feet: where they stand, what was measured at each, what is done.
	{"no feet written", FeetPlan, 700, aLine + feetAt, nil, "No feet are written for this machine on the Feet sheet.", "Feet seen from above"},
	{"feet at their places", FeetPlan, 700, aLine + feetAt, foursquare("; Along: %g; Across: %g; Gap: %g", true, true), "Scale at full size 1 : |feet drawn as marks|400 mm|710 mm|gap 0.200 mm|gap 0.000 mm", "was not written|corner gaps|rises"},
	{"feet along only", FeetPlan, 700, aLine + feetAt, foursquare("; Along: %g; Gap: %g", true, false), "Where the feet stand across was not written: taken and drawn as evenly wide, not to scale across.|710 mm", "Scale at full size|along was|400 mm"},
	{"feet across only", FeetPlan, 700, "Machine: P; Coupling: short; Method: line", foursquare("; Across: %g; Gap: %g", false, true), "Where the feet stand along was not written: drawn by their names, not to scale.|400 mm", "Scale at full size|across was|710"},
	{"feet by their names", FeetPlan, 700, "Machine: P; Coupling: short; Method: line", foursquare("; Gap: %g", false, false), "Where the feet stand was not written: drawn by their names, all alike, not to scale.", "Scale at full size|400 mm|710"},
	{"rises", FeetPlan, 700, aLine + feetAt, foursquare("; Along: %g; Across: %g; Rise: %g", true, true), "rises 0.200 mm|rises 0.000 mm", "gap |flanges open"},
	{"a rise with the flanges open", FeetPlan, 700, aLine + feetAt, sheets{job.FeetSheet: {"Machine: P; Foot: front 9; Rise: 0.1; Rise after: 0.02", "Machine: P; Foot: front 3; Rise: 0", "Machine: P; Foot: rear 9; Rise: 0", "Machine: P; Foot: rear 3; Rise: 0.1; Rise after: 0.03"}}, "rises 0.100 mm, flanges open 0.020 mm|flanges open 0.030 mm", "gap "},
	{"corners alike", FeetPlan, 700, aLine + feetAt, sheets{job.FeetSheet: {"Machine: P; Foot: front 9; Corner front 9: 0.1; Corner front 3: 0.1; Corner rear 9: 0.1; Corner rear 3: 0.1", "Machine: P; Foot: front 3; Gap: 0", "Machine: P; Foot: rear 9; Gap: 0", "Machine: P; Foot: rear 3; Gap: 0"}}, "all corner gaps 0.100 mm", "corner gaps 0.100 to|Sole of"},
	{"one corner open", FeetPlan, 700, aLine + feetAt, sheets{job.FeetSheet: {"Machine: P; Foot: front 9; Corner front 9: 0; Corner front 3: 0.05; Corner rear 9: 0.15; Corner rear 3: 0.2", "Machine: P; Foot: front 3; Gap: 0", "Machine: P; Foot: rear 9; Gap: 0", "Machine: P; Foot: rear 3; Gap: 0"}}, "corner gaps 0.000 to 0.200 mm|Sole of front 9, seen from above, gap at each corner in mm|sole not parallel", "all corner gaps"},
	{"nothing measured", FeetPlan, 700, aLine + feetAt, sheets{job.FeetSheet: {"Machine: P; Foot: front 9; Pack in place: 0.5 + 0.2", "Machine: P; Foot: front 3; Pack in place: 0.5 + 0.2", "Machine: P; Foot: rear 9; Pack in place: 1", "Machine: P; Foot: rear 3; Pack in place: 1"}}, "front 9|rear 3|in all -0.50 mm|take out", "gap 0|rises|soft foot: |in all +"},
	{"feet to be left", FeetPlan, 700, "Machine: P; Coupling: short; Method: line; Given offset V: 0; Given offset H: 0.4; Given slope V: 0; Given slope H: 0" + feetAt, sheets{job.FeetSheet: {"Machine: P; Foot: front 9; Pack in place: 0.5", "Machine: P; Foot: front 3; Pack in place: 0.5", "Machine: P; Foot: rear 9; Pack in place: 1", "Machine: P; Foot: rear 3; Pack in place: 1"}}, "in all 0.00 mm", "in all +|in all -"},
	{"feet to be raised", FeetPlan, 700, "Machine: P; Coupling: short; Method: line; Given offset V: -0.31; Given offset H: 0; Given slope V: 0; Given slope H: 0" + feetAt, sheets{job.FeetSheet: {"Machine: P; Foot: front 9; Pack in place: 0.5", "Machine: P; Foot: front 3; Pack in place: 0.5", "Machine: P; Foot: rear 9; Pack in place: 1", "Machine: P; Foot: rear 3; Pack in place: 1"}}, "in all +0.31 mm|put in ", "in all -|soft foot: "},
	{"feet with nothing under them", FeetPlan, 700, "Machine: P; Coupling: short; Method: line; Given offset V: -0.3; Given offset H: 0; Given slope V: 0; Given slope H: 0" + feetAt,
		both(boxOf, foursquare("; Along: %g; Across: %g; Gap: %g; Pack in place: 0", true, true)), "front 3 gap 0.200 mm soft foot: 0.10 mm in all +0.40 mm put in 0.20 + 0.20", "take out|mm 0."},
	{"inside but for a soft foot", WhatToDo, 500, fine + feetAt, both(boxOf, foursquare("; Along: %g; Across: %g; Gap: %g", true, true)), "dashed lines come out. Otherwise it is left as it stands.", ""},
	// A wanted line is known in both planes or not drawn.
	{"wanted aside not read", Machine, 900, aLine + feetAt + "; Cold offset V: 0.1; Cold offset H: x; Cold slope V: 0; Cold slope H: 0", nil, "Not drawn: the wanted line, for it is not known.", "class: d-wanted"},
	{"wanted up not read", Machine, 900, aLine + feetAt + "; Cold offset V: x; Cold offset H: 0.1; Cold slope V: 0; Cold slope H: 0", nil, "Not drawn: the wanted line, for it is not known.", "class: d-wanted"},
	{"wanted slope aside not read", Machine, 900, aLine + feetAt + "; Cold offset V: 0.1; Cold offset H: 0; Cold slope V: 0; Cold slope H: x", nil, "Not drawn: the wanted line, for it is not known.", "class: d-wanted"},
	{"wanted slope up not read", Machine, 900, aLine + feetAt + "; Cold offset V: 0.1; Cold offset H: 0; Cold slope V: x; Cold slope H: 0", nil, "Not drawn: the wanted line, for it is not known.", "class: d-wanted"},
	// Rounds.
	{"no rounds", Rounds, 600, aLine + feetAt, nil, "No round of readings has shown yet where the feet stand.", "front feet"},
}

// TestConditionsOfDrawings draws every case.
func TestConditionsOfDrawings(t *testing.T) {
	for _, c := range conditions {
		lists := sheets{job.MachinesSheet: strings.Split(c.machines, "|")}
		for k, rows := range c.more {
			lists[k] = rows
		}
		ev := rowsJob(t, lists)
		list := parse(t, c.draw(nil, ev, 0, Options{Width: c.width}))
		checkLayout(t, c.name, list, 42)
		all, desc := said(list), list[2].text
		for _, s := range strings.Split(c.has, "|") {
			in := all
			if o, ok := strings.CutPrefix(s, "once: "); ok {
				if s = o; strings.Count(all, s) != 1 {
					t.Errorf("%s: %q is not said once in\n%s", c.name, s, all)
				}
			}
			if d, ok := strings.CutPrefix(s, "desc: "); ok {
				s, in = d, desc
			}
			if text, ok := strings.CutPrefix(s, "text: "); ok && slices.ContainsFunc(list, func(e element) bool { return e.name == "text" && e.text == text }) {
				continue
			}
			if !strings.Contains(in, s) {
				t.Errorf("%s: no %q in\n%s", c.name, s, in)
			}
		}
		for _, s := range strings.Split(c.not, "|") {
			if class, ok := strings.CutPrefix(s, "class: "); ok {
				for i := range list {
					if list[i].attr["class"] == class {
						t.Errorf("%s: something of %s is drawn", c.name, class)
					}
				}
			} else if text, ok := strings.CutPrefix(s, "text: "); ok && slices.ContainsFunc(list, func(e element) bool { return e.name == "text" && e.text == text }) {
				t.Errorf("%s: %q is drawn", c.name, text)
			} else if s != "" && strings.Contains(all, s) {
				t.Errorf("%s: %q in\n%s", c.name, s, all)
			}
		}
	}
}

// The words of a foot stand over or under its mark where all have room, and the two feet of a pair at one station; the mark of each is where its foot was said to stand.
func TestWordsBesideTheirFeet(t *testing.T) {
	ev := rowsJob(t, sheets{job.MachinesSheet: {aLine + feetAt}, job.FeetSheet: foursquare("; Along: %g; Across: %g; Gap: %g", true, true)[job.FeetSheet]})
	list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 900}))
	at := map[string][2]float64{}
	names := []string{"front 9", "front 3", "rear 9", "rear 3"}
	for i := range list {
		if e := &list[i]; e.name == "rect" && e.inside["data-foot"] != "" && e.attr["class"] != "d-hatch" {
			k := int(e.inside["data-foot"][0] - '0')
			at[names[k]] = [2]float64{e.num(t, "x") + e.num(t, "width")/2, e.num(t, "y") + e.num(t, "height")/2}
		}
	}
	if len(at) != 4 || at["front 9"][0] != at["front 3"][0] || at["rear 9"][0] != at["rear 3"][0] || at["front 9"][1] != at["rear 9"][1] || !(at["front 9"][0] < at["rear 9"][0]) || !(at["front 3"][1] < at["front 9"][1]) {
		t.Fatalf("%v", at)
	}
	if wide, high := at["rear 9"][0]-at["front 9"][0], at["front 9"][1]-at["front 3"][1]; math.Abs(wide/high-710.0/400) > 0.01 {
		t.Errorf("feet 710 by 400 mm apart are drawn %g by %g", wide, high)
	}
	for i := range list {
		if e := &list[i]; e.name == "text" && e.attr["text-anchor"] == "middle" {
			if p, ok := at[e.text]; ok && (math.Abs(e.num(t, "x")-p[0]) > 0.01 || (e.num(t, "y") < p[1]) != strings.HasSuffix(e.text, "3")) {
				t.Errorf("%s stands at %v, its name at %g, %g", e.text, p, e.num(t, "x"), e.num(t, "y"))
			}
		}
	}
}

// Whatever the line, the hub that follows it, the line itself and its band stay within their view: half of its height is 95 px, on narrow paper 80, either side of the datum.
func TestHubsStayInView(t *testing.T) {
	for _, m := range []knownMachine{{1, 0.1, -0.8, 0}, {-1, 0, 0.8, 0.1}, {0.1, -2, 0, 1.6}, {0.02, 0.03, 2, -3}, {0.5, 0.5, 0.5, 0.5}, {3, 0, 0, 0}} {
		for _, coupling := range []string{"short", "spacer; Spacer length: 600", "universal; Spacer length: 600"} {
			ev := rowsJob(t, sheets{job.MachinesSheet: {fmt.Sprintf("Machine: P; Coupling: %s; Method: line; Given offset V: %g; Given offset H: %g; Given slope V: %g; Given slope H: %g", coupling, m.dv, m.dh, m.tv, m.th) + feetAt}})
			for _, w := range []float64{420, 900} {
				half := 80.0
				if w >= 560 {
					half = 95
				}
				list := parse(t, Machine(nil, ev, 0, Options{Width: w}))
				n := 0
				for i := range list {
					e := &list[i]
					class := e.attr["class"]
					if e.inside["data-y0"] == "" || class != "d-found" && class != "d-wanted" && class != "d-after" && !(class == "d-body" && e.name == "path" && strings.HasSuffix(e.attr["d"], "Z")) {
						continue
					}
					y0 := 0.0
					fmt.Sscan(e.inside["data-y0"], &y0)
					n++
					for _, s := range strokes(t, e) {
						if far := max(math.Abs(s[1]-y0), math.Abs(s[3]-y0)); far > half+0.01 {
							t.Errorf("%+v, %s at %g: %s reaches %.1f px from the datum, the view %g", m, coupling, w, class, far, half)
						}
					}
				}
				if n < 6 {
					t.Errorf("%+v, %s at %g: %d lines and hubs", m, coupling, w, n)
				}
			}
		}
	}
}

// A dial that repeats to nothing has an axis with numbers all the same; a job without rounds has no plot of how far feet missed.
func TestNumbersThatAreNothing(t *testing.T) {
	again := func(read string) string { return "0:0 90:" + read + " 180:-0.4 270:" + read + " 360:0" }
	ev := rowsJob(t, sheets{job.MachinesSheet: {"Machine: P; Crew: north; Coupling: short; Coupling to stationary plane: 110; Coupling to movable plane: 130; Movable sweep: " + again("-0.2") + "; Stationary sweep: " + again("-0.2") + feetAt}})
	list := parse(t, Numbers(nil, ev, []*tally.Job{tally.Of(ev, "spring")}, Options{Width: 700}))
	checkLayout(t, "nothing", list, 30)
	all := said(list)
	if !strings.Contains(all, "How well a dial repeats, mm") || strings.Contains(all, "How far feet missed") || strings.Contains(all, "Machines inside at the first attempt") {
		t.Error(all)
	}
	marks := map[string]float64{}
	for i := range list {
		if e := &list[i]; e.name == "text" && e.attr["text-anchor"] == "middle" && coordinate.FindString(e.text) == e.text {
			marks[e.text] = e.num(t, "x")
		}
	}
	if len(marks) < 2 || !(marks["0.06"] > marks["0.00"] || marks["0.05"] > marks["0.00"] || marks["0.05"] > marks["0"] || marks["0.06"] > marks["0"]) {
		t.Errorf("the axis says %v", marks)
	}
}

// The sign of room in the key of a train is a bracket as those in the drawing: an upright stroke with two ends of one length to one side.
func TestBracketOfTheKey(t *testing.T) {
	ev := rowsJob(t, exchangeJob())
	n := 0
	for which := range 2 {
		for _, e := range parse(t, Train(nil, ev, which, -1, Options{Width: 900})) {
			if e.inside["data-view"] != "key" || e.name != "path" || e.attr["class"] != "d-dim" && e.attr["class"] != "d-odd" {
				continue
			}
			n++
			if p := coords(t, e.attr["d"]); len(p) != 8 || p[1] != p[3] || p[2] != p[4] || p[5] != p[7] || p[0] != p[6] || !(p[5]-p[1] > 8) || p[0] == p[2] {
				t.Errorf("a bracket %v", p)
			}
		}
	}
	if n != 3 { // the room of both trains, and the room that stops the second
		t.Errorf("%d brackets", n)
	}
}

// Lists of machines with long names, sides and words keep to their columns and to the paper, as do readings, rounds, feet and trains of such machines.
func TestLongNamesInLists(t *testing.T) {
	const long = "Circulating water pump number two of the northern intake, second row from the river"
	job1 := exchangeJob()
	lists := sheets{}
	for kind, rows := range job1 {
		for _, r := range rows {
			name, rest, _ := strings.Cut(r, ";")
			if kind == job.MachinesSheet {
				rest += "; Side at 3: the side towards the river and its embankment; Side at 9: hill"
			}
			lists[kind] = append(lists[kind], name+" of the "+long+";"+rest)
		}
	}
	ev := rowsJob(t, lists)
	for _, w := range []float64{280, 560, 1000} {
		checkLayout(t, fmt.Sprintf("overview at %g", w), parse(t, Overview(nil, ev, nil, Options{Width: w})), 36)
		checkLayout(t, fmt.Sprintf("histogram at %g", w), parse(t, Histogram(nil, ev, nil, Options{Width: w})), 34)
		for which := range 2 {
			checkLayout(t, fmt.Sprintf("train %d at %g", which, w), parse(t, Train(nil, ev, which, -1, Options{Width: w})), 70)
		}
		for i := range ev.Len() {
			for what, draw := range map[string]func([]byte, *sentences.Teller, int, Options) []byte{"sweeps": Sweeps, "rounds": Rounds, "feet": FeetPlan, "growth": GrowthFigure} {
				checkLayout(t, fmt.Sprintf("%s of %d at %g", what, i, w), parse(t, draw(nil, ev, i, Options{Width: w})), 44)
			}
		}
	}
}

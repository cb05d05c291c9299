package evaluate

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// isTold says whether a problem of that severity, or a graver one, with that text stands in a column ("" any) of the list.
func isTold(list []job.Problem, sev job.Severity, column string, text words.Key) bool {
	return slices.ContainsFunc(list, func(p job.Problem) bool {
		return p.Severity >= sev && p.Text.Is(text) && (column == "" || p.Column == column)
	})
}

// A row's unit that is another than the one in the header of a column is refused there, and the number is not read in either; a cell with a unit of its own is read in that.
func TestUnitOfRowAgainstHeader(t *testing.T) {
	for cell, want := range map[string]float64{"-0.3": math.NaN(), "-0.3 mm": -0.3, "-10 mil": -0.254} {
		_, r := one(t, "Unit=mil", "Speed=1480", "Method=line", "Given offset V [mm]="+cell, "Given offset H=0", "Given slope V=0", "Given slope H=0")
		near(t, cell, r.Offset.V, want, 1e-12)
		if got := slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Column == "Given offset V" && p.Severity == job.Error }); got != math.IsNaN(want) {
			t.Errorf("%s: %s", cell, toldBy(r.Problems))
		}
	}
}

// Where it cannot be read how a job's documents look, each row without an answer of its own says so and has no line.
func TestSeenFromCannotBeRead(t *testing.T) {
	_, r := caseJob(t, lowRow, "", &jobCase{sheets: "Job: Seen from=aside"})
	if !isTold(r.Problems, job.Error, "", words.ProblemSeenBad) || !math.IsNaN(r.Offset.V) {
		t.Errorf("%v: %s", r.Offset, toldBy(r.Problems))
	}
	if _, r = caseJob(t, lowRow, "", &jobCase{cells: "Seen from=movable", sheets: "Job: Seen from=aside"}); isTold(r.Problems, job.Note, "", words.ProblemSeenBad) || math.IsNaN(r.Offset.V) {
		t.Errorf("%v: %s", r.Offset, toldBy(r.Problems))
	}
}

// A room on one side only is on the other side for who stands behind the other machine, and the side where none was given has none.
func TestRoomOfOneSideTurned(t *testing.T) {
	room := func(cells ...string) Room {
		e, _ := oneTrain(t, trainJob(t, "Seen from,Front room left", cells[0]+",", cells[1]))
		p := e.Trains()[0]
		for k := range p.Feet {
			if f := &p.Feet[k]; f.Machine == "Pump" && f.Foot == "near" {
				return f.Room
			}
		}
		t.Fatal("no pump")
		return Room{}
	}
	a, b := room("", ",2"), room("", "stationary,2")
	if !(Known(a.Left) && !Known(a.Right) && Known(b.Right) && !Known(b.Left)) && !(Known(a.Right) && !Known(a.Left) && Known(b.Left) && !Known(b.Right)) {
		t.Errorf("%+v, turned %+v", a, b)
	}
}

// What is usual for a column is read in the unit that stands behind the second number, both ends of it.
func TestUsualRangeInItsUnit(t *testing.T) {
	for cell, odd := range map[string]bool{"200": true, "250": true, "260": false, "500": false, "520": true, "15 in": false, "9 in": true} {
		e, _ := caseJob(t, change(lowRow, "Coupling to front feet="+cell), "", &jobCase{sheets: "Job: Plausible ranges=Coupling to front feet 10 to 20 in"})
		if got := slices.ContainsFunc(e.Problems(), func(p job.Problem) bool { return p.Column == "Coupling to front feet" }); got != odd {
			t.Errorf("%s: %s", cell, toldBy(e.Problems()))
		}
	}
}

// Words that lists put between those of a header do not hide a slip.
func TestMisspeltBetweenSmallWords(t *testing.T) {
	job.LoadColumns()
	for header, want := range map[string]job.ColumnID{
		"Couplng to the front feet": job.ColToFront, "Movabel rim at 3": job.ColReading + 1, "Movabel rim at 3 o'clock": job.ColReading + 1, "Graduaton of": job.ColGraduation, "The graduaton": job.ColGraduation,
		"Movabel rim near 3": job.NoColumn,
	} {
		if got := nearColumn(job.MachinesSheet, header); got != want {
			t.Errorf("%s: %v, want %v", header, got, want)
		}
	}
}

// A foot at the end of a machine by its name stands where Along says, and where that is none of the machine's own places the train is not judged.
func TestTrainFootElsewhere(t *testing.T) {
	for along, sound := range map[string]bool{"": true, "300": true, "450": false} {
		e := workText(t, plus(trainText, "Feet: Machine=Motor | Foot=front 9 | Along="+along)...)
		if p := e.Trains()[0]; (p.Status == TrainPossible) != sound {
			t.Errorf("along %q: %v %s", along, p.Status, p.Why)
		}
	}
}

// A machine that must not move stays under every plan, also under one that is named after another machine and is no longer offered for it.
func TestForbiddenMachineStaysUnderAnyPlan(t *testing.T) {
	for plan, status := range map[string]TrainStatus{"pump stays": TrainImpossible, "shared out": TrainPossible, "only motor": TrainImpossible} {
		e := workText(t, plus(trainText, "Trains: Train=T1 | Machine=Gear | May move=no", "Trains: Train=T1 | Plan="+plan)...)
		p := e.Trains()[0]
		if p.Status != status {
			t.Errorf("%s: %v %s", plan, p.Status, p.Why)
		}
		for _, f := range p.Feet {
			if f.Machine == "Gear" && (math.Abs(f.Shim) > 1e-9 || math.Abs(f.Move) > 1e-9) {
				t.Errorf("%s: %s goes %v, %v", plan, f.Foot, f.Shim, f.Move)
			}
		}
	}
}

// The families that a row without a method reads are those it has columns for; a given line has none.
func TestFamiliesOfColumns(t *testing.T) {
	e, r := one(t, reverse...)
	if got, want := e.Reads(r), job.FamilySet(1<<job.MovableRim|1<<job.StationaryRim); got != want {
		t.Errorf("%b, want %b", got, want)
	}
	e, r = one(t, "Speed=1480", "Note=x", "Given offset V=0.1", "Coupling to front feet=300", "Front to rear feet=500")
	if got := e.Reads(r); got != 0 {
		t.Errorf("%b", got)
	}
}

// A number of JSON is read as itself where commas are decimal, whatever digit it ends with.
func TestPointedKeepsTheNumber(t *testing.T) {
	for s, want := range map[string]string{"12.349": "12.3490", "12.390": "12.3900", "12.909": "12.9090", "12.34": "12.34", "12.3456": "12.3456", "12": "12", "9.999": "9.9990", "0.000": "0.0000"} {
		if got := pointed(s, units.Commas); got != want {
			t.Errorf("%s: %s, want %s", s, got, want)
		}
	}
}

// One sweep of the Readings sheet that cannot be used leaves the row without a line, whichever of them it is.
func TestOneBadSweepOfReadings(t *testing.T) {
	for _, bad := range []string{"Movable rim", "Stationary rim"} {
		rows := ""
		for _, s := range []string{"Movable rim", "Stationary rim"} {
			for k, a := range []string{"0", "90", "180", "270"} {
				x := [2][4]float64{reverseMovable, reverseStationary}[map[string]int{"Movable rim": 0, "Stationary rim": 1}[s]][k]
				if s == bad && k > 0 {
					continue
				}
				rows += fmt.Sprintf("pump,%s,%s,%v,\n", s, a, x)
			}
		}
		if _, r := withSets(t, without, rows); !math.IsNaN(r.Offset.V) || r.Verdict != calc.NotJudged {
			t.Errorf("%s: %v %v", bad, r.Offset, r.Verdict)
		}
	}
}

// A setting that must be more than 0 says so, one that may be 0 asks for a number without a sign.
func TestHintOfTooSmallSettings(t *testing.T) {
	for line, hint := range map[string]words.Key{"Most pieces=0": words.HintPositive, "Move step=-1": words.HintNotNegative, "Pack tolerance=0": words.HintPositive, "Pack tolerance=-1": words.HintPositive} {
		e, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: " + line})
		if !slices.ContainsFunc(e.Problems(), func(p job.Problem) bool { return p.Text.Is(words.ProblemTooSmall) && p.Hint.Is(hint) }) {
			t.Errorf("%s: %s", line, toldBy(e.Problems()))
		}
	}
}

// A text in a column of words, and one under a result, comes to its number as it stands.
func TestNumberUnderWordsAndResults(t *testing.T) {
	e, _ := one(t, reverse...)
	for header, want := range map[string]float64{"Note": 5, "Offset V": 5, "Speed": 5, "Offset V [in]": 5, "Coupling to front feet [in]": 127} {
		if got, ok := e.NumberIn(job.MachinesSheet, header, "5"); !ok || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v %v", header, got, ok)
		}
	}
}

// The pair that no foot of the Feet sheet belongs to rises by its own pack.
func TestPairWithoutFeetRises(t *testing.T) {
	_, r := caseJob(t, lowRow, "", &jobCase{sheets: "Feet: Machine,Foot\npump,front 9\npump,front 3\nStock: Thickness\n0.05\n0.1\n0.2"})
	c := &r.Calc
	if !c.HasAfter || !Known(c.Feet[1].Rounded) || c.Feet[1].Rounded == 0 {
		t.Fatalf("%+v", c.Feet)
	}
	want := c.Line.Moved(c.Feet[0].Station, c.Feet[1].Station, r.Feet.Feet[0].Change.Net, c.Feet[1].Rounded, 0, 0)
	near(t, "offset", c.After.DV, want.DV, 1e-9)
	near(t, "slope", c.After.TV, want.TV, 1e-9)
}

// The gap between the shaft ends is predicted for the line after the packs, not for the one that was wished.
func TestGapAfterThePacks(t *testing.T) {
	cells := change(lowRow, "Shaft gap=3", "Gap read at=12", "Face diameter=200")
	_, r := caseJob(t, cells, "", &jobCase{sheets: "Stock: Thickness\n0.3"})
	if r.Axial == nil || !r.Calc.HasAfter || math.Abs(r.Calc.After.TV) < 0.01 {
		t.Fatalf("%+v %+v: %s", r.Axial, r.Calc.After, toldBy(r.Problems))
	}
	if got, want := r.Axial.Forecast, r.Axial.Gap.After(r.Calc.Line, r.Calc.After); got.After != want.After || got.Least != want.Least || got.Most != want.Most || got.After == r.Axial.Gap.After(r.Calc.Line, r.Wanted).After {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// A stock that cannot be is refused by the parts as by the whole.
func TestPartsRefuseWhatTheWholeRefuses(t *testing.T) {
	defer func(n int) { feetAtOnce = n }(feetAtOnce)
	feetAtOnce = 2
	feet := []packs.StockFoot{{ID: "a", Change: 0.1}, {ID: "b", Machine: 1, Change: 0.1}, {ID: "c", Machine: 2, Change: 0.1}}
	if _, err := allocateParts([]packs.StockItem{{MM: -1, Count: 3}}, feet, &packs.StockOptions{Tolerance: 0.01, MaxPieces: 3}); err == nil {
		t.Error("a shim of less than nothing")
	}
}

// A column that stands twice is told, also where the first of the two is the first of the sheet.
func TestFirstColumnTwice(t *testing.T) {
	for _, c := range []struct{ head, column string }{{"Thickness,Thickness", "Thickness"}, {"Size,Thickness,Thickness", "Thickness"}} {
		e, _ := grown(t, reverse, "Stock", c.head+"\n0.1,0.2,0.3\n")
		if !isTold(e.Problems(), job.Error, c.column, words.ProblemColumnTwice) {
			t.Errorf("%s: %s", c.head, toldBy(e.Problems()))
		}
	}
}

// A dash in a column of words is no word, and in a note it is one.
func TestDashIsNoWord(t *testing.T) {
	for _, dash := range []string{"-", "—", "n/a"} {
		_, r := caseJob(t, change(lowRow, "Side at 3="+dash, "Side at 9=wall"), "", &jobCase{})
		if r.Side3 != "" || r.Side9 != "wall" {
			t.Errorf("%q is the side %q beside %q", dash, r.Side3, r.Side9)
		}
	}
}

// A limit of one's own is shown in the unit it was typed in.
func TestOwnLimitKeepsItsUnit(t *testing.T) {
	e, _ := grown(t, reverse, "Limits", "Limits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,1800,2 mil,0.5 mil/in\nours,flexible,3600,0.04,0.4\n")
	set := e.ownSet("ours")
	if set == nil {
		t.Fatal(toldBy(e.Problems()))
	}
	for k, want := range [][2]units.Unit{{units.Mil, units.MilPerInch}, {units.MM, units.MMPerM}} {
		if row := set.Rows[tables.Flexible][k]; row.OffsetIn != want[0] || row.SlopeIn != want[1] {
			t.Errorf("row %d: %v and %v", k, row.OffsetIn, row.SlopeIn)
		}
	}
}

// Sums of numbers with digits behind the point, which no sum of floats meets to the last bit.
func TestSumsWithDigits(t *testing.T) {
	rows := [][2]string{{"1000.1", "10.1"}, {"2000.2", "30.2"}, {"3000.3", "50.3"}, {"6000.6", "90.6"}}
	var text []string
	for k, r := range rows {
		name := fmt.Sprintf("P-%d", k)
		if k == len(rows)-1 {
			name = ""
		}
		text = append(text, fmt.Sprintf("Machines: Machine=%s | Coupling to front feet=%s | Face diameter=%s", name, r[0], r[1]))
	}
	if e := workText(t, text...); e.Row(3).Kind != LeftOutRow {
		t.Error(toldBy(e.Row(3).Problems))
	}
}

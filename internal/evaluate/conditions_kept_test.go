package evaluate

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/words"
)

// A limit that cannot be read leaves its check open: no usual limit takes its place.
func TestCheckWhoseLimitCannotBeRead(t *testing.T) {
	e, r := grown(t, reverse, "Checks", "Machine,Check,Value,Limit\npump,hub runout movable,0.01,x\npump,hub runout movable,0.01,\n")
	if len(r.Checks) == 0 || r.Checks[0].State == r.Checks[len(r.Checks)-1].State || Known(r.Checks[0].Limit) || !slices.ContainsFunc(e.Problems(), func(p job.Problem) bool { return p.Column == "Limit" && p.Row == 2 }) {
		t.Errorf("%+v: %s", r.Checks, toldBy(e.Problems()))
	}
}

// A foot for whose size the stock has nothing does not count as one that stays: its pair rises with the other foot.
func TestFootWithoutStockDoesNotHoldItsPair(t *testing.T) {
	_, r := grown(t, lowRow, "Stock", "Thickness,Size\n0.36,small\n0.46,small\n", "Feet", "Machine,Foot,Shim size\npump,front 9,big\npump,front 3,small\npump,rear 9,small\npump,rear 3,small\n")
	if r.Feet == nil || r.Feet.Feet[0].HasStock || !r.Feet.Feet[1].HasStock {
		t.Fatalf("%+v: %s", r.Feet, toldBy(r.Problems))
	}
	near(t, "front", r.Calc.Feet[0].Rounded, r.Feet.Feet[1].Change.Net, 1e-12)
}

// Which shaft a support carries.
func TestSupportsOfEitherShaft(t *testing.T) {
	_, r := grown(t, change(reverse, "Stationary near support=200", "Stationary far support=600"), "Growth", "Machine,Support,Part,Growth V\npump,movable front,foot,0.1\npump,movable rear,foot,0.1\npump,stationary near,foot,0.1\npump,stationary far,foot,0.1\n")
	if r.Growth == nil || len(r.Growth.Supports) != 4 {
		t.Fatalf("%+v: %s", r.Growth, toldBy(r.Problems))
	}
	for k, s := range r.Growth.Supports {
		if s.Movable != (k < 2) {
			t.Errorf("%s: %v", s.Name, s.Movable)
		}
	}
}

// Any one part makes the wanted line another than straight through; a universal coupling's offset is none.
func TestWantedLineMoved(t *testing.T) {
	for k := range 4 {
		r := RowResult{}
		*[]*float64{&r.Wanted.DV, &r.Wanted.DH, &r.Wanted.TV, &r.Wanted.TH}[k] = 0.1
		if !r.MovedWanted() {
			t.Errorf("part %d alone", k)
		}
	}
	if (&RowResult{}).MovedWanted() || (&RowResult{Wanted: calc.Line{DV: nan, TV: nan, DH: nan, TH: nan}}).MovedWanted() {
		t.Error("nothing is moved")
	}
}

// A header further down that goes on past the list's own is another.
func TestLongerHeaderFurtherDown(t *testing.T) {
	j := &job.Job{Machines: &job.Table{Name: "Machines", FirstRow: 2, Header: []string{"Machine", "Speed [rpm]", "Coupling to front feet [mm]"},
		Rows: [][]string{{"P-1", "1480", "300"}, {"Machine", "Speed [rpm]", "Coupling to front feet [mm]", "Front to rear feet [mm]"}, {"P-2", "1480", "300", "500"}}}}
	e := work(t, j)
	if r := e.Row(1); r.Kind != HeaderRow || !strings.Contains(toldBy(r.Problems), "a header with other columns stands here") {
		t.Errorf("%v: %s", r.Kind, toldBy(r.Problems))
	}
}

// A sum that no sum of floats meets to the last bit is one.
func TestSumBesideRounding(t *testing.T) {
	e := workText(t, "Machines: Machine=A | Coupling to front feet=5414.5", "Machines: Machine=B | Coupling to front feet=6308.1", "Machines: Machine=C | Coupling to front feet=8696.2", "Machines: Machine= | Coupling to front feet=20418.8")
	if e.Row(3).Kind != LeftOutRow {
		t.Error(toldBy(e.Row(3).Problems))
	}
}

// Own limits, read again after a change, are those of the sheet as it is.
func TestOwnLimitsReadAgain(t *testing.T) {
	e, _ := grown(t, reverse, "Limits", "Limits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,1800,0.1,0.5\nbad,flexible,1800,x,0.5\n")
	was := len(e.Problems())
	e.Refresh()
	if len(e.ownSets) != 1 || len(e.Problems()) != was {
		t.Errorf("%d sets, %s", len(e.ownSets), toldBy(e.Problems()))
	}
	with(t, e.Job(), job.LimitsSheet, "Limits,Coupling,Up to,Offset limit,Slope limit\nbad,flexible,1800,0.1,0.5\n")
	e.Refresh()
	if e.ownSet("ours") != nil || e.ownSet("bad") == nil || e.badSets["bad"] != 0 {
		t.Errorf("%+v %v", e.ownSets, e.badSets)
	}
	e.Job().Limits = nil
	if e.Refresh(); len(e.ownSets) != 0 {
		t.Errorf("%+v", e.ownSets)
	}
}

// A number in a name is not one with a digit more: 30 is not 3.
func TestDigitsOfNames(t *testing.T) {
	job.LoadColumns()
	for _, header := range []string{"Movable rim 30", "Movable rim 03", "Movable rim 39", "Face 60"} {
		if c := nearColumn(job.MachinesSheet, header); c != job.NoColumn {
			t.Errorf("%s is taken for %s", header, c.Info().Name)
		}
	}
}

// What is usual where the table knows it, and nothing where it does not: growth sideways as upwards, no wanted offset; a range that begins with any digit.
func TestUsualRanges(t *testing.T) {
	e, _ := one(t, reverse...)
	for c, want := range map[job.ColumnID]string{job.GrowthRise: "-5 5 true", job.GrowthSideways: "-5 5 true", job.ColRunningOffsetV: "0 0 false", job.ColGrowth: "-30 30 true", job.ColRunningOffsetV - 1: "-30 30 true", job.ColReading: "-12 12 true", job.ColGivenOffsetH: "-500 500 true", job.ColRoom: "0 200 true", job.ColRoom + 7: "0 200 true"} {
		if s, ok := e.spanOf(c); fmt.Sprint(s.low, " ", s.high, " ", ok) != want {
			t.Errorf("%s: %v %v %v, want %s", c.Info().Name, s.low, s.high, ok, want)
		}
	}
	for _, low := range []string{"900", "100", "-5", "0"} {
		e, _ := caseJob(t, reverse, "", &jobCase{sheets: "Job: Plausible ranges=Speed " + low + " to 6000 rpm"})
		if s, ok := e.spanOf(job.ColSpeed); !ok || s.high != 6000 || len(e.Problems()) > 0 {
			t.Errorf("from %s: %+v %s", low, s, toldBy(e.Problems()))
		}
	}
}

// A face whose circle nobody gave leaves the row without a line, though rims alone would do.
func TestSweepWithoutItsCircle(t *testing.T) {
	rows := sweepsOf("", reverseMovable, reverseStationary)
	for _, a := range []string{"0", "90", "180", "270"} {
		rows += "pump,Face," + a + ",0.0,\n"
	}
	_, r := withSets(t, without, rows)
	wrong := slices.DeleteFunc(slices.Clone(r.Problems), func(p job.Problem) bool { return p.Severity < job.Error })
	if !math.IsNaN(r.Offset.V) || r.Verdict != calc.NotJudged || len(wrong) != 1 || wrong[0].Column != "Face diameter" || !wrong[0].Text.Is(words.ProblemMissing) {
		t.Errorf("%v %v: %s", r.Offset, r.Verdict, toldBy(r.Problems))
	}
}

// A row that waits is read in the families it has columns for and in no other, whatever columns stand beside.
func TestFamiliesOfARowThatWaits(t *testing.T) {
	e, r := one(t, "Speed=1480", "Method=", "Face side=", "Bolts=", "Coupling to flange=", "Stationary rim 12=", "Stationary rim 3=", "Stationary sag at 6=")
	if got := e.Reads(r); got != 1<<job.StationaryRim {
		t.Errorf("%b", got)
	}
}

// A reading that a round lacks is told at its row, and at no cell: the sheet may have no column for it.
func TestReadingMissingInARound(t *testing.T) {
	for name, cells := range map[string][]string{"found": without, "1": reverse} { // the list has the columns of the readings, or it has none
		_, r := withRounds(t, cells, "pump,"+name+",,,,,,,,0,,-0.30,,0,,0.10,\n")
		n := 0
		for _, p := range r.Problems {
			if p.Sheet == "Rounds" && p.Column == "Movable rim 3" {
				if n++; p.Col != -1 || p.Row != 2 {
					t.Errorf("round %s: row %d, cell %d", name, p.Row, p.Col)
				}
			}
		}
		if n == 0 {
			t.Errorf("round %s: %s", name, toldBy(r.Problems))
		}
	}
}

// Of priorities the bound of each is what it asked, where parts are shared out one after another.
func TestSharesOfParts(t *testing.T) {
	defer func(n int) { feetAtOnce = n }(feetAtOnce)
	feetAtOnce = 4
	var feet []packs.StockFoot
	for i := range 12 {
		feet = append(feet, packs.StockFoot{ID: fmt.Sprint(i), Machine: i / 2, Priority: 1 + i/6, Change: 0.1})
	}
	p, err := allocateParts([]packs.StockItem{{MM: 0.1, Count: 7}}, feet, &packs.StockOptions{ByMachines: true, Tolerance: 0.01, MaxPieces: 3})
	if err != nil || len(p.Shares) == 0 {
		t.Fatal(err, p)
	}
	asked := 0
	for _, s := range p.Shares {
		asked += s.Asked
		if s.Bound != s.Asked || s.Met > s.Asked {
			t.Errorf("%+v", s)
		}
	}
	if asked == 0 {
		t.Errorf("%+v", p.Shares)
	}
}

// What has to be touched: a piece exchanged for another, and a shim of the least that counts.
func TestWhatIsTouched(t *testing.T) {
	pieces := func(take, put []float64, net float64) *TrainFoot {
		f := &TrainFoot{HasStock: true}
		f.Change.Take, f.Change.Put, f.Change.Net = take, put, net
		return f
	}
	for k, c := range []struct {
		f    *TrainFoot
		want bool
	}{{pieces([]float64{0.5}, []float64{0.5}, 0), true}, {pieces(nil, nil, 0), false}, {pieces(nil, nil, Touch), true}, {pieces([]float64{0.5}, nil, 0), true}, {&TrainFoot{Shim: Touch}, true}, {&TrainFoot{Shim: -Touch}, true}, {&TrainFoot{Shim: 0.0049}, false}} {
		if got := (&train{}).touches(c.f); got != c.want {
			t.Errorf("%d: %v", k, got)
		}
	}
}

// In a train whose feet are not all made up, rows take the line after the moves as they are wished.
func TestTrainRowsWithoutPacks(t *testing.T) {
	e := workText(t, plus(trainText, "Stock: Thickness=0.02 | Size=small", "Stock: Thickness=0.05 | Size=small", "Feet: Machine=Motor | Foot=front 9 | Shim size=big", "Trains: Train=T1 | Machine=Gear | May move=yes", "Trains: Train=T1 | Plan=shared out")...)
	p := e.Trains()[0]
	if p.Status != TrainPossible || p.Couplings[0].HasPacks || !p.Chosen {
		t.Fatalf("%v %v %v", p.Status, p.Couplings[0].HasPacks, p.Chosen)
	}
	for k := range p.Couplings {
		r := e.Row(k)
		if r.Plan == nil {
			t.Fatal("no plan")
		}
		near(t, "offset H", r.Calc.Line.DH+r.Plan.Own.DH+r.Plan.Others.DH, r.Wanted.DH, 1e-9)
		near(t, "slope H", r.Calc.Line.TH+r.Plan.Own.TH+r.Plan.Others.TH, r.Wanted.TH, 1e-9)
		near(t, "offset V", r.Calc.Line.DV+r.Plan.Own.DV+r.Plan.Others.DV, r.Wanted.DV, 1e-9)
	}
}

// The feet of a Stationary are its own, also where the machine beside it has feet on the sheet.
func TestFeetOfAStationary(t *testing.T) {
	e := workText(t, plus(trainText, "Feet: Machine=Motor | Foot=front 9 | Pack in place=1", "Feet: Machine=Motor | Foot=front 3 | Pack in place=1", "Feet: Machine=Gear | Foot=near 9 | Pack in place=2", "Feet: Machine=Gear | Foot=near 3 | Pack in place=2",
		"Trains: Train=T1 | Machine=Gear | May move=yes")...)
	p := e.Trains()[0]
	for _, f := range p.Feet {
		want := map[string]float64{"Motor front 9": 1, "Motor front 3": 1, "Gear near 9": 2, "Gear near 3": 2}[f.Machine+" "+f.Foot]
		if got := SumOf(f.InPlace); got != want {
			t.Errorf("%s %s: %v lie there, want %v", f.Machine, f.Foot, got, want)
		}
	}
	if p.Status != TrainPossible || len(p.Feet) < 6 {
		t.Errorf("%v %s, %d feet", p.Status, p.Why, len(p.Feet))
	}
}

// A plan for a share of the limits goes no farther than that, at the flex planes of a spacer too: what is left of the worst angle is that share.
func TestTrainWithASpacerToAShare(t *testing.T) {
	e := workText(t, plus(trainText, "2: Coupling=spacer | Spacer length=200 | Offset limit | Slope limit=0.5", "Job: Moves aim=60 %", "Stock: Thickness=0.01 | Pieces on hand=0")...)
	p := e.Trains()[0]
	worst := 0.0
	for k := range p.Couplings {
		worst = max(worst, p.Couplings[k].AfterJ.Share)
	}
	if p.Status != TrainPossible || worst > 0.6+1e-6 {
		t.Errorf("%v %s: %v", p.Status, p.Why, worst)
	}
	j := p.Couplings[0].AfterJ
	if math.Abs(j.Share-0.6) > 1e-6 {
		t.Errorf("%v of the limit left at the spacer: %+v", j.Share, j)
	}
}

// A machine without feet that is inside its limit was to be left, so that is where the next round finds it.
func TestPredictedWithoutFeet(t *testing.T) {
	row := rimRow(calc.Line{DV: 0.01, TV: 0.02})
	_, r := withRounds(t, change(without, "Coupling to front feet", "Front to rear feet"), "pump,found,,,,,,,,"+row+"\npump,1,,,,,,,,"+row+"\n")
	if len(r.Rounds) != 2 || r.Rounds[0].Verdict != calc.Inside {
		t.Fatalf("%+v: %s", r.Rounds, toldBy(r.Problems))
	}
	sameLine(t, "predicted", r.Rounds[1].Predicted, r.Rounds[0].Line, 1e-9)
}

// Settings above the header of the Job sheet, in it and below are told at the rows they stand in.
func TestRowsOfSettings(t *testing.T) {
	for _, c := range []struct {
		tab  job.Table
		rows []int
	}{
		{job.Table{Title: [][]string{{"Units", "furlongs"}, {"Share stock by", "luck"}}, Header: []string{"Name", "Value"}, Rows: [][]string{{"Strip class", "golden"}}, FirstRow: 4}, []int{1, 2, 4}},
		{job.Table{Title: [][]string{{"Units", "furlongs"}}, Header: []string{"Share stock by", "luck"}, Rows: [][]string{{"Strip class", "golden"}}, FirstRow: 3}, []int{1, 2, 3}},
		{job.Table{Rows: [][]string{{"Units", "furlongs"}, {"Strip class", "golden"}}, FirstRow: 1}, []int{1, 2}},
		{job.Table{Title: [][]string{{"Units", "furlongs"}}, Rows: [][]string{{"Strip class", "golden"}}, FirstRow: 2}, []int{1, 2}},
	} {
		j := list(t, "Machine,Speed\nA,1480\n")
		c.tab.Name = "Job"
		j.Settings = &c.tab
		var rows []int
		for _, p := range work(t, j).Problems() {
			if p.Sheet == "Job" {
				rows = append(rows, p.Row)
			}
		}
		if slices.Sort(rows); !slices.Equal(rows, c.rows) {
			t.Errorf("%+v: told at %v, want %v", c.tab, rows, c.rows)
		}
	}
}

// A pair of feet is known as badly as the worse of its two, whichever that is.
func TestPairIsKnownAsItsWorseFoot(t *testing.T) {
	u := func(front9, front3 string) float64 {
		e, r := grown(t, lowRow, "Stock", "Thickness,Size,Tolerance\n0.36,a,0.04\n0.46,a,0.04\n0.36,b,0.01\n0.46,b,0.01\n", "Feet", "Machine,Foot,Shim size\npump,front 9,"+front9+"\npump,front 3,"+front3+"\npump,rear 9,b\npump,rear 3,b\n")
		return e.PairPackU(r, 0, new([]float64))
	}
	ab, ba, bb := u("a", "b"), u("b", "a"), u("b", "b")
	if !(ab > 0) || ab != ba || !(bb < ab) {
		t.Errorf("%v, %v, %v", ab, ba, bb)
	}
}

// Past the columns of the list there is none.
func TestNoColumnPastTheLast(t *testing.T) {
	e, _ := one(t, lowRow...)
	if n := len(e.Job().Machines.Header); e.ColumnOf(n) != nil || e.ColumnOf(-1) != nil || e.ColumnOf(n-1) == nil || e.ColumnOf(0) == nil {
		t.Error("columns")
	}
}

// What the dials should read is a list, with a sign between its parts and none in front.
func TestListOfWantedReadings(t *testing.T) {
	e, r := one(t, reverse...)
	if s := string(e.AppendWantedReadings(nil, r)); !strings.HasPrefix(s, "Movable rim ") || strings.Count(s, ";") != 1 {
		t.Errorf("%q", s)
	}
}

// The first row of the list can be tried with other cells as any other.
func TestTryEveryRow(t *testing.T) {
	e := workText(t, "Machines: Machine=A | "+strings.Join(lowRow, " | "), "3 of 2: Machine=B")
	for i := range 2 {
		cells := slices.Clone(e.Job().Machines.Rows[i])
		cells[slices.Index(e.Job().Machines.Header, "Given offset V")] = "-0.7"
		seen := nan
		if e.Try(i, cells, func() { seen = e.Row(i).Offset.V }); seen != -0.7 || e.Row(i).Offset.V != -0.3 {
			t.Errorf("row %d: %v, then %v", i, seen, e.Row(i).Offset.V)
		}
	}
	e.Try(-1, nil, func() { t.Error("no such row") })
	e.Try(2, nil, func() { t.Error("no such row") })
}

// Of three columns of one name the one that is named exactly is read, and each of the others is told.
func TestThreeColumnsOfOneMeaning(t *testing.T) {
	j := list(t, "Remark,Note,Comment,Machine\na,b,c,A\n")
	e := work(t, j)
	var at []int
	for _, p := range e.Problems() {
		if p.Text.Is(words.ProblemColumnOther) {
			at = append(at, p.Col)
		}
	}
	if slices.Sort(at); !slices.Equal(at, []int{0, 2}) || e.MachineText(0, job.ColNote) == "" {
		t.Errorf("%v: %s", at, toldBy(e.Problems()))
	}
}

// Readings hot on the Readings sheet, without cold ones beside them, are held against what was found, not against what a later round read; where nothing sound was found they serve no wanted line.
func TestHotReadingsBesideRounds(t *testing.T) {
	wanted := func(rounds ...string) *RowResult {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, change(without, "Minutes since stop=0")...)
		with(t, j, job.ReadingsSheet, setsHead+sweepsOf("hot", hotMovable, hotStationary))
		with(t, j, job.RoundsSheet, roundsHead+strings.Join(rounds, ""))
		return work(t, j).Row(0)
	}
	row := func(name string, l calc.Line) string { return "pump," + name + ",,,,,,,," + rimRow(l) + "\n" }
	found := calc.Line{DV: 0.1, TV: 0.5, DH: -0.04, TH: 0.2}
	for _, later := range []calc.Line{{DV: 0.02}, {DV: 0.2, TH: 0.1}} {
		r := wanted(row("found", found), row("1", later))
		if r.Growth == nil {
			t.Fatal(toldBy(r.Problems))
		}
		// By hand: hot at −0.04 and 0.02 mm, −0.5 and 0.3 mm/m; the shaft goes from found to there, so it is wanted as much the other way.
		sameLine(t, "wanted", r.Wanted, calc.Line{DV: found.DV + 0.04, TV: found.TV + 0.5, DH: found.DH - 0.02, TH: found.TH - 0.3}, 1e-6)
	}
	r := wanted(row("1", calc.Line{DV: 0.02}))
	if !isTold(r.Problems, job.Error, "", words.ProblemHotNoFound) || knownLine(r.Wanted) || r.Verdict != calc.NotJudged {
		t.Errorf("%v %v: %s", r.Wanted, r.Verdict, toldBy(r.Problems))
	}
}

// Of a line that stands exactly where it is wanted no direction is the worst, so ± is that of the direction it is least known in: by hand, the greater of the two variances where they are independent, and for variances 4 and 4 with
// a covariance of 3 the eigenvalue 7.
func TestUncertaintyOfNoDirection(t *testing.T) {
	for _, c := range []struct{ vv, vh, hh, want float64 }{{4, 0, 1, 4}, {1, 0, 4, 4}, {4, 3, 4, 2 * math.Sqrt(7)}, {9, 0, 9, 6}} {
		if x := vector(0, 0, c.vv, c.vh, c.hh); math.Abs(x.UTotal-c.want) > 1e-12 || x.UV != 2*math.Sqrt(c.vv) || x.UH != 2*math.Sqrt(c.hh) {
			t.Errorf("%+v: %+v", c, x)
		}
	}
	// Of one that stands off, ± is that along it: at 3 and 4 to 5 the variance is 0.36 × 4 + 2 × 0.48 × 1 + 0.64 × 9 = 8.16.
	near(t, "along", vector(3, 4, 4, 1, 9).UTotal, 2*math.Sqrt(8.16), 1e-12)
	near(t, "along, turned", vector(3, -4, 4, 1, 9).UTotal, 2*math.Sqrt(8.16-1.92), 1e-12)
}

// Supports of no spacing carry no line: a machine in the middle of a train whose two supports stand in one place is not planned.
func TestSupportsInOnePlace(t *testing.T) {
	for far, sound := range map[[2]string]bool{{"900", "1000"}: true, {"300", "400"}: false, {"200", "300"}: false} {
		e := workText(t, plus(trainText, "2: Stationary far support="+far[0], "3: Stationary far support="+far[1], "Trains: Train=T1 | Machine=Gear | May move=yes")...)
		if p := e.Trains()[0]; (p.Status == TrainPossible) != sound {
			t.Errorf("%v: %v %s", far, p.Status, p.Why)
		}
	}
}

// Machines that are left where they stand are counted where nothing at all is done under them: one with a soft foot gets its shims.
func TestMachinesLeftAlone(t *testing.T) {
	cells := change(lowRow, "Given offset V=0.01", "Given slope V=0.01", "Given offset H=0", "Given slope H=0")
	for sheet, left := range map[string]int{"Machine,Foot\n": 1, feetOf("0.2", "", "0", "", "0", "", "0", ""): 0, feetOf("0", "", "0", "", "0", "", "0", ""): 1} {
		e, _ := grown(t, cells, "Stock", "Thickness,Pieces on hand\n0.1,50\n0.05,50\n", "Feet", sheet)
		if a, err := e.Allocate(nil); err != nil || a.Left != left || (len(a.Picks) == 0) != (left == 1) {
			t.Errorf("%s: %v, %+v", sheet, err, a)
		}
	}
}

// What a header means may stand on the Job sheet with blanks around its parts.
func TestOwnHeaderAmongBlanks(t *testing.T) {
	for _, name := range []string{"Header of Machines: DE 12", "  header of machines :  DE 12 ", "\tHEADER OF MACHINES:DE 12"} {
		if o, ok := ParseOwnHeader(name, " Movable rim 12 "); !ok || o.Header != "DE 12" || o.Kind != job.MachinesSheet || o.Means != "Movable rim 12" {
			t.Errorf("%q: %+v %v", name, o, ok)
		}
	}
}

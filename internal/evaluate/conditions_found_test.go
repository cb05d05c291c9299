package evaluate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/words"
)

// A header that could mean two columns is told once, and each row that has something under it is refused there: nobody guesses which was meant. Dashes and blanks there are nothing.
func TestHeaderOfTwoMeanings(t *testing.T) {
	e, r := one(t, change(lowRow, "Front room up or Rear room up=2")...)
	if !isTold(e.Problems(), job.Error, "", words.ProblemHeaderDoubt) || !isTold(r.Problems, job.Error, "", words.ProblemDoubtCell) || r.Verdict != calc.NotJudged || !math.IsNaN(r.Offset.V) {
		t.Errorf("%v %v: %s%s", r.Verdict, r.Offset, toldBy(e.Problems()), toldBy(r.Problems))
	}
	if k := slices.IndexFunc(r.Problems, func(p job.Problem) bool { return p.Text.Is(words.ProblemDoubtCell) }); k >= 0 && r.Problems[k].Col != 9 {
		t.Errorf("told at column %d", r.Problems[k].Col)
	}
	for _, cell := range []string{"", "-", " "} {
		if e, r = one(t, change(lowRow, "Front room up or Rear room up="+cell)...); !isTold(e.Problems(), job.Error, "", words.ProblemHeaderDoubt) || isTold(r.Problems, job.Note, "", words.ProblemDoubtCell) || math.IsNaN(r.Offset.V) {
			t.Errorf("%q: %v: %s%s", cell, r.Offset, toldBy(e.Problems()), toldBy(r.Problems))
		}
	}
	for _, header := range []string{"Front room up or nothing", "Weather or Rear room up"} {
		if e, r = one(t, change(lowRow, header+"=2")...); isTold(e.Problems(), job.Note, "", words.ProblemHeaderDoubt) || math.IsNaN(r.Offset.V) {
			t.Errorf("%s: %s", header, toldBy(e.Problems()))
		}
	}
	// The same on a sheet besides.
	for row, refused := range map[string]bool{"0.36,5": true, "0.36,": false, "0.36,-": false, "0.36": false} {
		e, _ := grown(t, lowRow, "Stock", "Thickness,Pieces on hand or Lamination\n"+row+"\n")
		at := slices.IndexFunc(e.Problems(), func(p job.Problem) bool { return p.Text.Is(words.ProblemHeaderDoubt) && p.Sheet == "Stock" })
		if at < 0 || e.Problems()[at].Row != 1 || e.Problems()[at].Col != 1 || isTold(e.Problems(), job.Error, "", words.ProblemDoubtCell) != refused {
			t.Errorf("%s: %s", row, toldBy(e.Problems()))
		}
	}
	for _, header := range []string{"Pieces on hand or nothing", "Weather or Lamination"} {
		if e, _ := grown(t, lowRow, "Stock", "Thickness,"+header+"\n0.36,5\n"); isTold(e.Problems(), job.Note, "", words.ProblemHeaderDoubt) {
			t.Errorf("%s: %s", header, toldBy(e.Problems()))
		}
	}
}

// A limit whose unit cannot be told is not as if none were given: the machine gets no verdict by the table's.
func TestLimitWhoseUnitIsInDoubt(t *testing.T) {
	_, r := one(t, change(lowRow, "Unit=mil", "Offset limit [mm]=0.1")...)
	if r.Verdict != calc.NotJudged {
		t.Errorf("%v by %v: %s", r.Verdict, r.Limits, toldBy(r.Problems))
	}
}

// Readings too fine for the dial are a hint and no question; too many divisions of it are asked about.
func TestUnitAskedOfLargeReadingsOnly(t *testing.T) {
	scaled := func(by float64) []string {
		cells := slices.Clone(reverse[:5])
		for k, f := range [2]string{"Movable rim ", "Stationary rim "} {
			for p, x := range [2][4]float64{reverseMovable, reverseStationary}[k] {
				cells = append(cells, fmt.Sprintf("%s%s=%.5f", f, [...]string{"12", "3", "6", "9"}[p], x*by))
			}
		}
		return append(cells, "Graduation=0.01", "Repeatability=0.01", "Movable sag at 6=0", "Stationary sag at 6=0")
	}
	asked := func(r *RowResult) bool {
		return slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Severity == job.Warning && p.Hint.Is(words.HintUnitAsked) })
	}
	_, fine := one(t, scaled(0.01)...)
	_, large := one(t, scaled(20)...)
	_, plain := one(t, scaled(1)...)
	if !slices.ContainsFunc(fine.Findings, func(f calc.Finding) bool { return f.Kind == calc.AllTooSmall }) || fine.Calc.Status != calc.OK || asked(fine) || !asked(large) || asked(plain) {
		t.Errorf("%+v, %s; large %s; plain %s", fine.Findings, toldBy(fine.Problems), toldBy(large.Problems), toldBy(plain.Problems))
	}
}

// Any part of a given line beside readings is told as unused.
func TestGivenBesideReadings(t *testing.T) {
	for _, column := range []string{"Given offset V", "Given offset H", "Given slope V", "Given slope H", "Given gap V", "Given gap H"} {
		_, r := one(t, change(reverse, column+"=0.1")...)
		if k := slices.IndexFunc(r.Problems, func(p job.Problem) bool { return p.Text.Is(words.ProblemUnusedGiven) }); k < 0 || r.Problems[k].Severity != job.Warning || r.Problems[k].Col != -1 { // of the row, and of no cell
			t.Errorf("%s: %s", column, toldBy(r.Problems))
		}
	}
}

// Of a coupling with a spacer the packs of both pairs are chosen together where that brings the angles at both flex planes inside, and only then.
func TestChosenTogetherForASpacer(t *testing.T) {
	found := 0
	rng := rand.New(rand.NewPCG(11, 13))
	for range 600 {
		cells := []string{"Speed=3000", "Coupling=spacer", "Spacer length=100", "Coupling to front feet=150", "Front to rear feet=160", "Offset limit=0.001", "Slope limit=0.3", "Graduation=0.0001", "Repeatability=0.0001",
			fmt.Sprintf("Given offset V=%.3f", -rng.Float64()), "Given offset H=0", fmt.Sprintf("Given slope V=%.3f", -3*rng.Float64()), "Given slope H=0", "Method=line"}
		_, r := grown(t, cells, "Stock", "Thickness\n0.10\n0.15\n0.70\n", "Job", "Name,Value\nPack tolerance,0.03\n")
		if !r.Together {
			continue
		}
		found++
		if r.AfterVerdict != calc.Inside {
			t.Errorf("%v: together and %v", cells, r.AfterVerdict)
		}
	}
	if found == 0 {
		t.Error("never chosen together")
	}
}

// Under single feet the packs that are chosen together are kept only where they bring the line inside; else each foot has its own again, and the line after is that of the packs that are shown.
func TestLineAfterIsThatOfTheFeetShown(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 22))
	together := 0
	for range 400 {
		cells := []string{"Speed=3000", "Coupling to front feet=150", "Front to rear feet=160", "Offset limit=0.03", "Slope limit=0.3", "Graduation=0.0001", "Repeatability=0.0001",
			fmt.Sprintf("Given offset V=%.3f", -rng.Float64()), "Given offset H=0", fmt.Sprintf("Given slope V=%.3f", -3*rng.Float64()), "Given slope H=0", "Method=line"}
		gap := func() string { return fmt.Sprintf("%.2f", max(0, rng.Float64()-0.7)) }
		_, r := grown(t, cells, "Stock", "Thickness\n0.10\n0.15\n0.70\n", "Job", "Name,Value\nPack tolerance,0.03\n", "Feet", feetOf(gap(), "", gap(), "", gap(), "", gap(), ""))
		c := &r.Calc
		if r.Feet == nil || r.Feet.Leave || !c.HasAfter || len(c.Feet) != 2 {
			continue
		}
		var rise [2]float64
		for k := range r.Feet.Feet {
			f := &r.Feet.Feet[k]
			rise[f.pair] += (f.Change.Net - f.Soft) / 2
		}
		if !(Known(rise[0]) && Known(rise[1])) {
			continue
		}
		for k := range rise {
			near(t, fmt.Sprintf("%v: rise of pair %d", cells, k), c.Feet[k].Rounded, rise[k], 1e-9)
		}
		want := c.Line.Moved(c.Feet[0].Station, c.Feet[1].Station, rise[0], rise[1], 0, 0)
		near(t, "offset after", c.After.DV, want.DV, 1e-9)
		near(t, "slope after", c.After.TV, want.TV, 1e-9)
		if r.Together {
			together++
		}
	}
	if together == 0 {
		t.Error("never together")
	}
}

// A machine that stays stands after the work as it was found, whatever is laid under its soft feet.
func TestStayingMachineStandsAsFound(t *testing.T) {
	_, r := grown(t, change(lowRow, "Given offset V=0.01", "Given slope V=0.01", "Given offset H=0", "Given slope H=0"), "Feet", feetOf("0.13", "", "0", "", "0", "", "0.02", ""), "Stock", "Thickness\n0.05\n0.3\n")
	if r.Feet == nil || !r.Feet.Leave || r.Calc.After != r.Calc.Line || r.Calc.AfterJ.Offset != r.Calc.Found.Offset || r.Calc.AfterJ.Slope != r.Calc.Found.Slope || r.Calc.AfterJ.Chance != r.Calc.Found.Chance || len(r.Feet.Feet[0].Change.Put) == 0 {
		t.Errorf("%v: %+v\n%+v\n%+v", r.Verdict, r.Feet, r.Calc.AfterJ, r.Calc.Found)
	}
}

// What the stock's pieces are known to is theirs alone: a piece taken out from under a foot, of the job's strip, leaves its own thickness uncertain.
func TestPieceTakenOutIsOfTheJobsStrip(t *testing.T) {
	u := func(class string) float64 {
		sheets := []string{"Stock", "Thickness,Tolerance\n0.64,0\n0.54,0\n0.4,0\n", "Feet", feetOf("", "1", "", "1", "", "1", "", "1")}
		if class != "" {
			sheets = append(sheets, "Job", "Name,Value\nStrip class,"+class+"\n")
		}
		_, r := grown(t, change(lowRow, "Given offset V=0.3", "Given slope V=0.2"), sheets...)
		if r.Feet == nil || len(r.Feet.Feet[0].Change.Take) != 1 {
			t.Fatalf("%+v: %s", r.Feet, toldBy(r.Problems))
		}
		return r.Calc.AfterJ.Offset.UV
	}
	if none, fine, normal := u(""), u("fine"), u("normal"); !(none < fine && fine < normal) {
		t.Errorf("± %v, of fine strip %v, of normal %v", none, fine, normal)
	}
}

// Pieces that the sharing-out gives a pair instead of those of a full box bring their own tolerance into the line after, at either pair: under both feet a piece weighs twice what it does under one, for a pair stands at the mean of
// its two feet.
func TestSharedPacksBringTheirTolerance(t *testing.T) {
	for _, c := range []struct{ piece, others string }{{"0.46,%s,%s\n", "0.36,9,0\n0.3,9,0\n0.16,9,0\n"}, {"0.36,%s,%s\n", "0.46,9,0\n0.26,9,0\n0.1,9,0\n"}} {
		u := func(count, tolerance string) float64 {
			e, _ := grown(t, lowRow, "Stock", "Thickness,Pieces on hand,Tolerance\n"+fmt.Sprintf(c.piece, count, tolerance)+c.others)
			if _, err := e.Allocate(nil); err != nil {
				t.Fatal(err)
			}
			return e.Row(0).Calc.AfterJ.Slope.UV
		}
		both, one, none := u("9", "0.04"), u("1", "0.04"), u("9", "0")
		part := func(x float64) float64 { return math.Sqrt(x*x - none*none) }
		if !(none < one && one < both) {
			t.Errorf("%s: ± %v with the piece under both feet, %v under one, %v exact", c.piece, both, one, none)
		}
		near(t, "of both to one", part(both)/part(one), 2, 1e-6)
	}
}

// A bracket's sag that nobody typed is reckoned from the distances that are known; one of more than any dial has is none.
func TestReachOfABracket(t *testing.T) {
	for _, c := range []struct {
		movable, stationary string
		length              float64
	}{{"1500", "100", 1600}, {"15000", "15000", 0}, {"100", "100", 0}} {
		_, r := one(t, change(reverse, "Coupling to movable plane="+c.movable, "Coupling to stationary plane="+c.stationary)...)
		if len(r.Sweeps) == 0 || r.Sweeps[0].Bracket != c.length || (r.Sweeps[0].MaySag > 0) != (c.length > 0) {
			t.Errorf("%+v: %+v", c, r.Sweeps)
		}
	}
	_, r := one(t, "Speed=1480", "Coupling to movable plane=1500", "Coupling to stationary plane=x", "Face diameter=200", "Movable rim 12=0", "Movable rim 3=-0.17", "Movable rim 6=-0.30", "Movable rim 9=-0.13",
		"Face 12=0", "Face 3=0.05", "Face 6=0.1", "Face 9=0.05")
	if len(r.Sweeps) == 0 || r.Sweeps[0].Bracket != 1500 {
		t.Errorf("%+v: %s", r.Sweeps, toldBy(r.Problems))
	}
}

// A limit without a value yet is open, whatever its unit.
func TestCheckWithALimitAlone(t *testing.T) {
	e, r := grown(t, reverse, "Checks", "Machine,Check,Value,Limit\npump,guard clearance,,0.1 mm\npump,lamp,5,0.1 mm\n")
	var of []int
	for _, p := range e.Problems() {
		if p.Text.Is(words.ProblemCheckKinds) {
			of = append(of, p.Row)
		}
	}
	if len(r.Checks) != 2 || !Known(r.Checks[0].Limit) || !slices.Equal(of, []int{3}) {
		t.Errorf("%+v: %s", r.Checks, toldBy(e.Problems()))
	}
}

// A sheet whose header has not been parted off is read by the header that stands in it; one without any says that, and nothing more.
func TestSheetWithItsHeaderAmongItsRows(t *testing.T) {
	for _, c := range []struct {
		rows  [][]string
		stock int
		told  int
	}{{[][]string{{"Thickness", "Size"}, {"0.36", ""}, {"0.1", ""}}, 2, 0}, {[][]string{{"Shims of the plant", ""}, {"Thickness", "Size"}, {"0.36", ""}}, 1, 0}, {[][]string{{"a", "b"}, {"c", "d"}}, 0, 1}, {[][]string{{"", ""}}, 0, 0}} {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, lowRow...)
		j.SetTable(job.StockSheet, &job.Table{Name: "Stock", Rows: c.rows, FirstRow: 1})
		e := work(t, j)
		lines, assumed := e.Stock()
		var of []job.Problem
		for _, p := range e.Problems() {
			if p.Sheet == "Stock" {
				of = append(of, p)
			}
		}
		if assumed {
			lines = nil
		}
		if len(lines) != c.stock || len(of) != c.told || c.told > 0 && !of[0].Text.Is(words.ProblemNoHeader) {
			t.Errorf("%q: %d lines, %s", c.rows, len(lines), toldBy(of))
		}
	}
}

// The first column of the list twice is told as any other.
func TestFirstColumnOfTheListTwice(t *testing.T) {
	j := list(t, "Speed,Speed,Machine\n1480,1490,A\n")
	if e := work(t, j); !slices.ContainsFunc(e.Problems(), func(p job.Problem) bool { return p.Text.Is(words.ProblemColumnTwice) && p.Col == 1 }) {
		t.Error(toldBy(e.Problems()))
	}
}

// A dash is no name: rows that have one there are not of the same name, and a list of nothing else has no names.
func TestDashIsNoName(t *testing.T) {
	j := list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\n-,1480,line,0,0,0,0\n-,1480,line,0,0,0,0\n")
	e := work(t, j)
	for i := range 2 {
		if r := e.Row(i); isTold(r.Problems, job.Note, "", words.ProblemNameTaken) || isTold(r.Problems, job.Note, "", words.ProblemNoNameInList) || r.Verdict == calc.NotJudged {
			t.Errorf("%d: %v %s", i, r.Verdict, toldBy(r.Problems))
		}
	}
	if e.RowOf("-") >= 0 {
		t.Error("a machine called -")
	}
}

// A new round asks for what the method reads and nothing else: no sag where nobody gave one.
func TestNewRoundAsksForTheReadings(t *testing.T) {
	e, _ := one(t, reverse...)
	names, _, why := e.NewRound(0, NextRound, "")
	want := "Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9"
	if !why.Empty() || len(names) < 8 || strings.Join(names[8:], ",") != want {
		t.Errorf("%q %s", names, why)
	}
}

// Two faces across a spacer say themselves that there is one.
func TestTwoFacesAreASpacer(t *testing.T) {
	cells := []string{"Speed=1480", "Spacer length=500", "Face diameter=200", "Face 12=0", "Face 3=0.1", "Face 6=0.2", "Face 9=0.1", "Stationary face 12=0", "Stationary face 3=0.1", "Stationary face 6=0.1", "Stationary face 9=0"}
	if _, r := one(t, cells...); r.Method != job.FaceAndFace || r.Coupling != tables.Spacer || r.SpacerInferred {
		t.Errorf("%v %v %v: %s", r.Method, r.Coupling, r.SpacerInferred, toldBy(r.Problems))
	}
	if _, r := one(t, change(cells, "Coupling=flexible")...); r.Coupling != tables.Flexible {
		t.Error(r.Coupling)
	}
}

// A row whose name may be that of a total is asked about and has no line until somebody says.
func TestNameThatMayBeATotal(t *testing.T) {
	e := work(t, list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nTotal west,1480,line,0.1,0,0,0\nWest,1480,line,0.1,0,0,0\n"))
	if r := e.Row(0); !isTold(r.Problems, job.Error, "Machine", words.ProblemTotalOrMachine) || !math.IsNaN(r.Offset.V) {
		t.Errorf("%v: %s", r.Offset, toldBy(r.Problems))
	}
	if r := e.Row(1); isTold(r.Problems, job.Note, "", words.ProblemTotalOrMachine) || math.IsNaN(r.Offset.V) {
		t.Errorf("%v: %s", r.Offset, toldBy(r.Problems))
	}
}

// Materials that can be chosen: the job's own first, each with its name, then those of the tables.
func TestMaterialsToChooseFrom(t *testing.T) {
	e, _ := grown(t, reverse, "Materials", "Material,Coefficient\nour iron,10.5\nour resin,30\n")
	names := e.MaterialNames()
	if len(names) != 2+len(tables.Materials()) || names[0] != "our iron" || names[1] != "our resin" || names[2] != tables.Materials()[0].Name {
		t.Errorf("%q", names)
	}
}

// The side in a foot's name is turned for who stands behind the other machine.
func TestPlaceOfAFootTurned(t *testing.T) {
	for from, want := range map[string]int{"movable": -1, "stationary": 1} {
		e, r := grown(t, change(reverse, "Seen from="+from), "Feet", "Machine,Foot\npump,front 9\n")
		if end, side := e.FootPlace(r, 0); end != 0 || side != want {
			t.Errorf("%s: %d %d", from, end, side)
		}
	}
}

// Packs of each row bear its number.
func TestPacksBearTheirRow(t *testing.T) {
	e := workText(t, "Machines: Machine=A | "+strings.Join(lowRow, " | "), "3 of 2: Machine=B", "4 of 2: Machine=C", "Stock: Thickness=0.1", "Stock: Thickness=0.05")
	for i := range 3 {
		list := e.Packs(i)
		if len(list) == 0 {
			t.Fatal("no packs")
		}
		for _, p := range list {
			if p.Row != i {
				t.Errorf("row %d: %d", i, p.Row)
			}
		}
	}
}

// What a row was worked out from stays its own while other rows are looked at.
func TestMeasuredIsApart(t *testing.T) {
	e := workText(t, "Machines: Machine=A | "+strings.Join(reverse, " | "), "3 of 2: Machine=B | Coupling to front feet=400 | Front to rear feet=700")
	var a, b Measured
	if !e.Measured(0, &a) {
		t.Fatal("no row")
	}
	was := slices.Clone(a.Input.Feet)
	if !e.Measured(1, &b) || len(was) != 2 || !slices.Equal(a.Input.Feet, was) || slices.Equal(b.Input.Feet, was) {
		t.Errorf("%v, then %v, beside %v", was, a.Input.Feet, b.Input.Feet)
	}
}

package evaluate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/units"
)

// A setting may stand in the header of a Job sheet, as in a job that another program wrote.
func TestSettingInHeader(t *testing.T) {
	j := list(t, "Machine,Speed,Coupling to front feet,Front to rear feet\nA,1480,\"1,234\",500\n")
	j.Settings = &job.Table{Name: "Job", FirstRow: 2, Header: []string{"Decimal sign", "comma"}}
	if e := work(t, j); e.Decimal() != units.Comma || strings.Contains(toldBy(e.Row(0).Problems), "1,234") {
		t.Errorf("%v: %s", e.Decimal(), toldBy(e.Row(0).Problems))
	}
}

// Pieces apart by blanks: each number begins one, a nine as well.
func TestPiecesBegin(t *testing.T) {
	for text, want := range map[string]string{"0.5 9x0.1": "[0.5 0.1 0.1 0.1 0.1 0.1 0.1 0.1 0.1 0.1]", "0.5 0x0.1 0.2": "", "0.9 .9": "[0.9 0.9]", "0.1 9 0.2": "[0.1 9 0.2]"} {
		got, why, _ := parsePieces(text, units.MM, units.Point)
		var mm []string
		for _, x := range got {
			mm = append(mm, fmt.Sprintf("%g", x))
		}
		if s := "[" + strings.Join(mm, " ") + "]"; want != "" && (s != want || !why.Empty()) || want == "" && why.Empty() {
			t.Errorf("%q: %s, %q", text, s, why)
		}
	}
}

// A row that ends before the column of units says none, as one with a blank there.
func TestRowEndsBeforeUnit(t *testing.T) {
	j := list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Unit\nA,1480,line,-0.3,0,0,0,300,500,\nB,1480,line,-0.3,0,0,0,300,500\nC,1480,line,-300,0,0,0,300,500,mil\n")
	j.Machines.Rows[1] = j.Machines.Rows[1][:9]
	e := work(t, j)
	for i := range 2 {
		if r := e.Row(i); len(r.Problems) > 0 || math.Abs(r.Offset.Total-0.3) > 1e-9 {
			t.Errorf("%s: %v, %s", r.Name, r.Offset.Total, toldBy(r.Problems))
		}
	}
	if r := e.Row(2); math.Abs(r.Offset.Total-7.62) > 1e-9 { // 300 mil
		t.Errorf("in mil: %v", r.Offset.Total)
	}
}

// A row tried with other cells is seen with them, and is as it was afterwards.
func TestTrySeesAndForgets(t *testing.T) {
	e := work(t, list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nA,1480,line,-0.3,0,0,0,300,500\n"))
	offset := func() float64 { return e.Row(0).Offset.Total }
	before, seen := offset(), math.NaN()
	e.Try(0, strings.Split("A,1480,line,-0.7,0,0,0,300,500", ","), func() { seen = offset() })
	if math.Abs(seen-0.7) > 1e-9 || math.Abs(before-0.3) > 1e-9 || offset() != before {
		t.Errorf("%v, tried %v, then %v", before, seen, offset())
	}
	e.Try(1, nil, func() { t.Error("there is no such row") })
}

// A machine of which one pair of feet gets no pack from these thicknesses, and the other does, cannot be finished: it is served in no count.
func TestHelplessIsNotServed(t *testing.T) {
	j := list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\n"+
		"A,1480,line,-0.3,0,0,0,300,500\nB,1480,line,-0.15,0,-0.5,0,300,500\n") // B: front 0.15 + 0.15 = 0.3, rear 0.15 + 0.4 = 0.55
	with(t, j, job.StockSheet, "Thickness,Pieces on hand\n0.3,20\n")
	j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Pack tolerance", "0.001"}, {"Pieces per pack", "1"}}}
	e := work(t, j)
	a, err := e.Allocate(nil)
	if err != nil {
		t.Fatal(err)
	}
	got := ""
	for _, p := range a.Picks {
		got += fmt.Sprintf("%s %.2f %v; ", p.Machine, p.Wanted, p.Pick.Status == packs.PickMet)
	}
	if asked, met := a.MachinesServed(); asked != 1 || met != 1 || strings.Count(got, "B 0.30 true") != 2 || strings.Count(got, "B 0.55 false") != 2 {
		t.Errorf("%d asked, %d met: %s", asked, met, got)
	}
}

// The pick of a single foot of the Feet sheet says what its pieces come to, and whether they are within the tolerance.
func TestPicksOfSingleFeet(t *testing.T) {
	for _, c := range []struct {
		stock  string
		status packs.PickStatus
	}{{"0.3", packs.PickMet}, {"0.2", packs.PickNoPack}} {
		j := list(t, "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nA,1480,line,-0.3,0,0,0\n")
		with(t, j, job.FeetSheet, "Machine,Foot,Along,Across\nA,front 9,300,-200\nA,front 3,300,200\nA,rear 9,800,-200\nA,rear 3,800,200\n")
		with(t, j, job.StockSheet, "Thickness\n"+c.stock+"\n")
		j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Pack tolerance", "0.001"}, {"Pieces per pack", "1"}}}
		e := work(t, j)
		list := e.Packs(0)
		if len(list) != 4 {
			t.Fatalf("%d picks: %v", len(list), e.Row(0).Problems)
		}
		for _, p := range list {
			if p.Status != c.status || p.Wanted < 0.2999 || p.Wanted > 0.3001 {
				t.Errorf("of %s mm %s gets %v, %v for %v", c.stock, p.Foot, p.Status, p.Target, p.Wanted)
			}
		}
	}
}

// The same for pairs of feet without a Feet sheet, and for the bolts of a flange.
func TestPicksOfPairsAndBolts(t *testing.T) {
	const head = "Machine,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Mounting,Bolts,Bolt circle,First bolt,Coupling to flange\n"
	for _, c := range []struct {
		row, stock string
		picks      int
		status     packs.PickStatus
	}{
		{"A,1480,line,-0.3,0,0,0,300,500,feet,,,,", "0.3", 4, packs.PickMet},
		{"A,1480,line,-0.3,0,0,0,300,500,feet,,,,", "0.2", 4, packs.PickNoPack},
		{"A,1480,line,0,0,1,0,,,flange,4,400,0,300", "0.2", 4, packs.PickMet}, // bolts at 12, 3, 6 and 9: the top or the bottom one gets 400 · 1/1000 mm, two get half of it
		{"A,1480,line,0,0,1,0,,,flange,4,400,0,300", "0.7", 4, packs.PickNoPack},
	} {
		j := list(t, head+c.row+"\n")
		with(t, j, job.StockSheet, "Thickness\n"+c.stock+"\n")
		j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Pack tolerance", "0.001"}, {"Pieces per pack", "2"}}}
		e := work(t, j)
		picks, met := e.Packs(0), 0
		for _, p := range picks {
			if p.Status == packs.PickMet {
				met++
			}
			if p.Wanted > 0.01 && p.Status != c.status {
				t.Errorf("%s of %s mm: %s gets %v for %v", c.row, c.stock, p.Foot, p.Status, p.Wanted)
			}
		}
		if len(picks) != c.picks || c.status == packs.PickMet && met != c.picks {
			t.Errorf("%s: %d picks, %d met; %v", c.row, len(picks), met, e.Row(0).Problems)
		}
	}
}

// The unit said in a row of the Rounds sheet and another in the header over its reading: nobody knows which is meant, and the round is not judged.
func TestUnitOfRoundTwice(t *testing.T) {
	const row = " | Movable rim 3 [mm]=0.1 | Movable rim 6 [mm]=0.2 | Movable rim 9 [mm]=0.1 | Stationary rim 12 [mm]=0 | Stationary rim 3 [mm]=0.1 | Stationary rim 6 [mm]=0.2 | Stationary rim 9 [mm]=0.1"
	e := workText(t, plus(roundsText, "Rounds: Machine=pump | Round=found | Unit=mil | Movable rim 12 [mm]=0"+row)...)
	if r := e.Row(0); r.Verdict != calc.NotJudged || !strings.Contains(toldBy(e.Problems()), "Rounds 2 Movable rim 12") {
		t.Errorf("%v: %s", r.Verdict, toldBy(e.Problems()))
	}
}

// With an empty stock no pack can be made of anything; that is a problem of the sheet and of no cell, and everything else is worked out, moves of trains with single feet among them.
func TestEmptyStockEverywhere(t *testing.T) {
	j := demoJob(t, false)
	with(t, j, job.StockSheet, "Thickness,Pieces\n0.1,0\n")
	e := work(t, j)
	found := false
	for _, p := range e.Problems() {
		if strings.Contains(p.Text.String(), "the stock is empty") {
			if found = true; p.Col != -1 || p.Row > 0 {
				t.Errorf("it points to row %d, column %d", p.Row, p.Col)
			}
		}
	}
	if !found || len(e.Trains()) == 0 {
		t.Errorf("told: %v; %d plans of trains", found, len(e.Trains()))
	}
	for i := range e.Len() {
		for _, p := range e.Packs(i) {
			if p.Made {
				t.Fatalf("%s: %s has a pack", p.Machine, p.Foot)
			}
		}
	}
}

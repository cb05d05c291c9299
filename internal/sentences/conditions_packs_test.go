package sentences

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
	"shimsheet/internal/tables"
)

// What stands in the cells of the packs of a pair and says where they come from, for a machine that moves, one that stays and one with its feet on the Feet sheet.
func TestCellsOfPacks(t *testing.T) {
	exact := "\nJob: Pack tolerance=0.001\n"
	counted := "Stock: Thickness,Pieces\n0.01,9\n0.02,9\n0.05,9\n0.1,9\n0.2,9\n0.5,9\n"
	feet := func(a, b string) string {
		return "Feet: Machine,Foot,Pack in place\npump,front 9," + a + "\npump,front 3," + b + "\n"
	}
	soft := "Feet: Machine,Foot,Gap\npump,front 9,0.2\npump,front 3,0\npump,rear 9,0\npump,rear 3,0\n"
	insideLow := change(insideRow, "Given offset V=-0.01", "Given slope V=-0.02")
	for _, c := range []struct {
		base           []string
		cells, sheets  string
		front, rear    string
		from, feetCell string
	}{
		{lowRow, "", thickStock + exact, "0.20 + 0.01 + 0.05 + 0.10", "0.20 + 0.01 + 0.05 + 0.20", "stock not counted", ""},
		{highRow, "", thickStock + exact, "take out 0.36", "take out 0.46", "stock not counted", ""},
		{lowRow, "", counted + exact, "0.20 + 0.01 + 0.05 + 0.10", "0.20 + 0.01 + 0.05 + 0.20", "full box", ""},
		{lowRow, "", "Stock: Thickness,Pieces\n0.1,0\n", "", "", "", ""},
		{insideRow, "", thickStock + exact, "take out 0.02", "take out 0.03", "stock not counted, for information: it stays", ""}, // 0.016 and 0.026: what would bring it to zero
		{insideLow, "", thickStock + exact, "0.02", "0.02 + 0.01", "stock not counted, for information: it stays", ""},
		{insideLow, "", counted + exact, "0.02", "0.02 + 0.01", "full box, for information: it stays", ""},
		{insideLow, "", counted + soft + exact, "9: 0.10", "3: 0.10", "full box", "front 9: 0.10; front 3: nothing; rear 9: nothing; rear 3: 0.10"},
		{insideLow, "", counted + "Feet: Machine,Foot\npump,front 9\n" + exact, "nothing", "nothing", "full box, for information: it stays", "front 9: nothing"},
		{lowRow, "", thickStock + "\n" + feet("", "") + exact, "0.20 + 0.01 + 0.05 + 0.10", "0.20 + 0.01 + 0.05 + 0.20", "stock not counted", "front 9: 0.20 + 0.01 + 0.05 + 0.10; front 3: 0.20 + 0.01 + 0.05 + 0.10"},
		{lowRow, "", thickStock + "\n" + feet("0.2", "") + exact, "9: take out 0.20, put in 0.50 + 0.01 + 0.05; 3: 0.20 + 0.01 + 0.05 + 0.10", "0.20 + 0.01 + 0.05 + 0.20", "stock not counted", "front 9: take out 0.20, put in 0.50 + 0.01 + 0.05; front 3: 0.20 + 0.01 + 0.05 + 0.10"},
		{lowRow, "", thickStock + "\nFeet: Machine,Foot\npump,front 9\n" + exact, "9: 0.20 + 0.01 + 0.05 + 0.10", "0.20 + 0.01 + 0.05 + 0.20", "stock not counted", "front 9: 0.20 + 0.01 + 0.05 + 0.10"}, // one foot is not the pair
		{[]string{"Speed=1480"}, "", thickStock, "", "", "", ""},
	} {
		e, r := caseJob(t, c.base, "", &jobCase{cells: c.cells, sheets: c.sheets})
		front, rear := string(e.AppendPairPack(nil, r, r.Front)), string(e.AppendPairPack(nil, r, r.Rear))
		if from, single := e.PacksFromWord(r), string(e.AppendFeetPacks(nil, r)); front != c.front || rear != c.rear || from != c.from || single != c.feetCell {
			t.Errorf("%s %s:\n%q, %q from %q, %q", c.cells, c.sheets, front, rear, from, single)
		}
		if s := string(e.AppendPairPack(nil, r, -1)) + string(e.AppendPairPack(nil, r, 9)); s != "" {
			t.Error("a pair that there is not:", s)
		}
	}
}

// What a sharing-out leaves behind, for each machine: which feet are short, where the packs come from and when, what the papers say of it; and what becomes of it when it is asked for again.
func TestSharingIsSaid(t *testing.T) {
	e := fleet(t, "Thickness,Pieces on hand\n0.3,6\n", "", "0.3", "0.3", "0.01")
	said := func() string {
		s, words := e.PacksFrom()
		return fmt.Sprint(s.Word(), "|", words, "|", strings.Join(e.PackNotes(), " "), "|", e.PacksFromWord(e.Row(1)), "|", e.PacksFromWord(e.Row(2)), "|", string(e.AppendPairPack(nil, e.Row(1), 0)))
	}
	box := "full box|The packs are from a full box: the stock is not shared out over the job yet, and other feet may want the same pieces.|The packs are from a full box: the stock is not shared out over the job yet, and other feet may want the same pieces.|full box|full box, for information: it stays|0.30"
	if s := said(); s != box || !e.WantsSharing() {
		t.Errorf("before:\n%s", s)
	}
	e.StampSharing("on Monday")
	a, err := e.Allocate(nil)
	if err != nil || e.Allocated() != a || e.WantsSharing() {
		t.Fatal(err)
	}
	if again, _ := e.Allocate(nil); again != a {
		t.Error("shared out anew although nothing changed")
	}
	for _, p := range e.Packs(1) {
		if !p.Status.Short() || p.Row != 1 {
			t.Errorf("%+v", p)
		}
	}
	short := e.Packs(1)[0].Status.String()
	shared := "shared-out stock|The packs are from the stock shared out over the whole job, on Monday.|The packs are from the stock shared out over the whole job, on Monday. Feet the stock is short of, to be ordered: 4.|shared-out stock|full box, for information: it stays|0.30, " + short
	if s := said(); s != shared {
		t.Errorf("after:\n%s, want\n%s", s, shared)
	}
	told := ""
	for _, s := range e.Sentences(1) {
		told += s.Text + "\n"
	}
	if !strings.Contains(told, "Short of stock, to be ordered: what goes under front 9, front 3, rear 9, rear 3.") {
		t.Error(told)
	}
	if list, alike := e.PairPacks(e.Row(1), 1); len(list) != 2 || !alike || list[0].Foot != "rear 9" || list[1].Foot != "rear 3" {
		t.Errorf("%+v", list)
	}
	if list, alike := e.PairPacks(e.Row(2), 0); len(list) != 0 || alike {
		t.Errorf("%+v", list)
	}
	e.RowsChanged(0, 0)
	e.FailSharing("the box burnt down")
	if s, words := e.PacksFrom(); s != evaluate.FullBox || words != "The packs are from a full box: the stock could not be shared out over the job (the box burnt down)." || e.WantsSharing() || e.Allocated() != nil {
		t.Error(s, words)
	}
	e.Job().Revision = 7
	if _, err := e.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	e.StampSharing("")
	for savedAt, want := range map[string]string{"": ", revision 7", "noon": ", revision 7, saved noon", "2026-12-01T01:56:39.639Z": ", revision 7, saved 2026-12-01 01:56 UTC", "2026-12-01T01:56:39+02:00": ", revision 7, saved 2026-12-01T01:56:39+02:00"} {
		e.Job().SavedAt = savedAt
		if got := e.revision(); got != want {
			t.Errorf("%q", got)
		}
	}
	// Each number of the text a worker hands over, written wrongly.
	text := string(e.AppendSharing(nil))
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	if len(lines) < 4 {
		t.Fatal(text)
	}
	for k, bad := range map[int][]string{0: {"x", "-1", "3", "99999999999"}, 1: {"x", "-1", "4"}, 2: {"x", "-1", fmt.Sprint(int(packs.PickStopped) + 1)}, 3: {"x", "-1", fmt.Sprint(int(packs.ChangeNone) + 1)}, 4: {"x", "-1"}, 5: {"x", "-1"}, 6: {"x", "", "1 2 3", "1 2 3 4 5"}, 7: {"x"}, 8: {"x"}, 9: {"x"}, 10: {"x"}, 11: {"x"}} {
		for _, b := range bad {
			cells := strings.Split(lines[0], "\t")
			cells[k] = b
			if err := e.TakeSharing(strings.Join(cells, "\t")+"\n"+strings.Join(lines[1:], "\n")+"\n", ""); err == nil {
				t.Errorf("cell %d of %q was taken as %q", k, lines[0], b)
			}
		}
	}
	if err := e.TakeSharing(text, "at noon"); err != nil || string(e.AppendSharing(nil)) != text {
		t.Error(err, "not the same text again")
	}
}

// How well packs are known: the ± of a change is twice the root of the sum of the squares of the half-widths over √3 (a rectangle, JCGM 100, 4.3.7) of what comes out or goes in;
// pieces of one thickness are cut from one strip and off by the same (5.2.2), so theirs add up.
func TestHowWellPacksAreKnown(t *testing.T) {
	stock := "Stock: Thickness,Tolerance,Strip class\n0.01,0.003,\n0.05,0.004,\n0.1,0.006,\n0.2,,fine\n0.3,,\n"
	fine := tables.StripTolerance(0.2, tables.StripNormal+1)
	exact := "\nJob: Pack tolerance=0.001"
	e, r := caseJob(t, lowRow, "", &jobCase{sheets: stock + exact}) // 0.36 = 0.2 + 0.1 + 0.05 + 0.01 or 0.3 + 0.05 + 0.01; 0.46 = 0.3 + 0.1 + 0.05 + 0.01
	var unknown []float64
	for k, pieces := range [][]float64{r.Calc.Feet[0].Pack.Pieces, r.Calc.Feet[1].Pack.Pieces} {
		sum := 0.0
		for mm, tol := range map[float64]float64{0.01: 0.003, 0.05: 0.004, 0.1: 0.006, 0.2: fine, 0.3: 0} {
			n := 0.0
			for _, p := range pieces {
				if p == mm {
					n++
				}
			}
			sum += n * n * tol * tol / 3
		}
		near(t, fmt.Sprint("pair ", k, " of ", pieces), e.PairPackU(r, k, &unknown), 2*math.Sqrt(sum), 1e-9)
	}
	least, most, none := e.PacksKnown(r, false)
	a, b := e.PairPackU(r, 0, &unknown), e.PairPackU(r, 1, &unknown)
	near(t, "least", least, min(a, b), 0)
	near(t, "most", most, max(a, b), 0)
	if len(none) > 0 || !math.IsNaN(e.PairPackU(r, 5, &unknown)) {
		t.Error(none)
	}
	// Machines that stay are told of for information; exact thicknesses have no ±.
	e, r = caseJob(t, insideRow, "", &jobCase{sheets: stock + exact})
	if least, most, _ := e.PacksKnown(r, false); !math.IsNaN(least) || !math.IsNaN(most) {
		t.Error(least, most)
	}
	if least, most, _ := e.PacksKnown(r, true); !(least > 0) || !(most >= least) {
		t.Error(least, most)
	}
	e, r = caseJob(t, lowRow, "", &jobCase{sheets: thickStock})
	if least, most, _ := e.PacksKnown(r, true); !math.IsNaN(least) || !math.IsNaN(most) {
		t.Error(least, most)
	}
	cases(t, job.Error, lowRow, "", []jobCase{
		{"", thickStock + exact, "not are known to ±"}, {"", "Stock: Thickness,Tolerance\n0.18,0.01\n0.23,0.01" + exact, "says known to ± 0.023 mm (Tolerance in Stock); the line after has that in its ±."},
		{"", "Stock: Thickness,Strip class\n0.18,fine\n0.23,fine" + exact, "says (EN ISO 9445-1, fine)"}, {"", "Stock: Thickness,Tolerance,Strip class\n0.18,0.01,\n0.23,,fine\n5,0.01,\n2,,normal" + exact, "says Tolerance in Stock; EN ISO 9445-1, fine; EN ISO 9445-1, normal"},
		{"", "Stock: Thickness,Lamination,Strip class\n0.18,,normal\n0.23,,normal\n2,0.0508,normal" + exact, "says (EN ISO 9445-1, normal; SAE AMS 6387)"},
		// Of several the worst; what is not known is named; a machine that stays has nothing in its line after.
		{"", "Stock: Thickness,Tolerance\n0.18,0.01\n0.46,0.001" + exact, "says known to ± 0.023 mm at worst (Tolerance in Stock); the line after"}, {"", "Stock: Thickness,Tolerance\n0.18,0.01\n0.46,0.02" + exact, "says known to ± 0.023 mm (Tol"}, {"", "Stock: Thickness,Tolerance,Strip class\n0.18,0.01,\n0.46,,fine" + exact, "not How far pieces"},
		{"", "Stock: Thickness,Lamination,Tolerance,Strip class\n0.18,,0.01,\n0.46,0.046,,fine" + exact, "says known to ± 0.023 mm at worst\nsays How far pieces of 0.046 mm may be off is not known here, and nothing is counted for it; their Tolerance can be written on the Stock sheet."},
	})
}

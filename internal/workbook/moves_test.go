package workbook

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/sheet"
)

//evidence: calc=moves of a train grade=independent count=8 source=excelize's formula engine on the sheet Moves of the demo: the lines after follow from the shims and moves in its cells

// TestMovesSheet: the sheet Moves has every foot of the demo's trains, and its formulas give the lines after, worked out by another program.
func TestMovesSheet(t *testing.T) {
	j := demoJob(t)
	ev := sheet.NewEvaluator(j)
	ev.Count()
	for _, live := range []bool{false, true} {
		out, err := Write(j, ev, Options{Live: live})
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		rows, err := f.GetRows("Moves")
		if err != nil {
			t.Fatal(err)
		}
		all := ""
		for _, r := range rows {
			all += strings.Join(r, "|") + "\n"
		}
		trains := ev.Trains()
		house := -1
		for k := range trains {
			if !strings.Contains(all, trains[k].Train) {
				t.Errorf("%s is not told of", trains[k].Train)
			}
			if trains[k].Train == "House set" {
				house = k
			}
		}
		for _, want := range []string{"least work", "Order of House set", "base-bound", "held by the register"} {
			if !strings.Contains(all, want) {
				t.Errorf("live %v: no %q", live, want)
			}
		}
		seen := 0
		for n, r := range rows {
			for k := range trains[house].Couplings {
				c := &trains[house].Couplings[k]
				if len(r) < 14 || r[0] != "House set" || r[1] != c.Machine || r[2] != strconv.Itoa(c.Row) {
					continue
				}
				if state := map[bool]string{true: "formulas", false: "values"}[live]; r[13] != state {
					t.Errorf("%s: %q", c.Machine, r[13])
				}
				for q, want := range [4]float64{c.After.DV, c.After.DH, c.After.TV, c.After.TH} {
					s, err := f.CalcCellValue("Moves", cellName(7+q, n+1), excelize.Options{RawCellValue: true})
					if err != nil {
						t.Fatal(err)
					}
					if got, err := strconv.ParseFloat(s, 64); err != nil || math.Abs(got-want) > 1e-9 {
						t.Errorf("live %v, %s: number %d is %q, not %g", live, c.Machine, q, s, want)
					}
					seen++
				}
			}
		}
		if seen != 8 {
			t.Errorf("live %v: %d numbers of couplings", live, seen)
		}
	}
}

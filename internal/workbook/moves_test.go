package workbook

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
)

//evidence: calc=moves of a train grade=independent count=8 source=excelize's formula engine on the sheet Moves of the demo: the lines after follow from the shims and moves in its cells

// The sheet Moves has every foot and every coupling of the demo's trains, in metric and in inch: its lines, verdict and chance are JSON's, its formulas give the lines after, worked out by another program, where no machine of the coupling
// hangs on a flange, and what is to be done and said is what the command's list says, in its order.
func TestMovesSheet(t *testing.T) {
	engine := worksFormulasOut(t)
	factor := map[string]float64{"mm": 1, "mil": 0.0254, "mm/m": 1, "mil/in": 1, "%": 1}
	for _, inch := range []bool{false, true} {
		m := demoBook(t, "")
		if inch {
			m = demoWith(t, "Setting,Value\nUnits,inch\nCold temperature,14 °C\n", func(j *job.Job) {
				j.Trains.Rows = append(j.Trains.Rows, []string{"Booster 1", "", "", "", "least work"})
			})
		}
		said, err := results.NewList(m.ev, "moves", nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, live := range []bool{false, true} {
			f := m.f
			if live {
				out, err := Write(m.j, m.ev, Options{Live: live})
				if err != nil {
					t.Fatal(err)
				}
				if f, err = excelize.OpenReader(bytes.NewReader(out)); err != nil {
					t.Fatal(err)
				}
				defer f.Close()
			} else if inch {
				continue
			}
			feet, rows := tableIn(t, f, "Moves", "Train", "Machine"), tableIn(t, f, "Moves", "Train", "Coupling of")
			if len(feet) != len(said.Rows) || len(feet) < 8 {
				t.Fatalf("%d feet, the command has %d", len(feet), len(said.Rows))
			}
			flange := map[string]bool{}
			for i, w := range said.Rows {
				if c := feet[i].cell; c["Train"] != w[0] || c["Machine"] != w[1] || c["Foot"] != w[2] || c["Do"] != w[6] {
					t.Errorf("%v, the command has %q", c, w)
				}
				flange[w[1]] = flange[w[1]] || w[2] == "flange"
			}
			n, follow := 0, 0
			for _, x := range m.doc["trains"].([]any) {
				for _, y := range x.(map[string]any)["couplings"].([]any) {
					c, r := y.(map[string]any), &rows[n]
					n++
					j := c
					if p, ok := c["after_packs"].(map[string]any); ok {
						j = p
					}
					if r.cell["After the packs"] != j["verdict"] || math.Abs(r.num(t, "Chance inside")-j["chance_inside_pct"].(float64)) > 1e-9 {
						t.Errorf("%v is %v in JSON", r.cell, j)
					}
					state := map[bool]string{true: "formulas", false: "values"}[live]
					if live && flange[r.cell["Coupling of"]] {
						state = "values; " + r.cell["Coupling of"] + " is mounted on a flange"
					}
					if r.cell["State"] != state {
						t.Errorf("%s: %q, want %q", r.cell["Coupling of"], r.cell["State"], state)
					}
					for q, key := range []string{"offset_v_mm", "offset_h_mm", "slope_v", "slope_h"} {
						at := cellName(7+q, r.n)
						is, _ := f.GetCellFormula("Moves", at)
						if (is != "") != (state == "formulas") {
							t.Errorf("%s: %s holds %q", r.cell["Coupling of"], at, is)
						}
						name := []string{"After: offset V", "After: offset H", "After: slope V", "After: slope H"}[q]
						s := r.cell[name]
						if engine {
							if s, err = f.CalcCellValue("Moves", at, excelize.Options{RawCellValue: true}); err != nil {
								t.Fatal(err)
							}
						}
						want := c[key].(float64) / factor[r.unit[name]]
						for _, text := range []string{s, r.cell[name]} { // what another program works out, and what is stored
							if got, err := strconv.ParseFloat(text, 64); err != nil || math.Abs(got-want) > 1e-9*max(1, math.Abs(want)) {
								t.Errorf("live %v, %s: %s is %q, not %g", live, r.cell["Coupling of"], name, text, want)
							}
						}
						if is != "" {
							follow++
						}
					}
				}
			}
			if inch != flange["Reservoir, vertical booster 1 motor"] {
				t.Errorf("machines on flanges: %v", flange)
			}
			if n != len(rows) || n < 2 || (follow > 0) != live || live && follow < 8 {
				t.Errorf("%d couplings of %d, %d formulas", n, len(rows), follow)
			}
			below, err := f.GetRows("Moves")
			if err != nil {
				t.Fatal(err)
			}
			var lines []string
			for _, row := range below[rows[len(rows)-1].n:] {
				if len(row) > 0 {
					lines = append(lines, row[0])
				}
			}
			at := 0
			for _, x := range m.doc["trains"].([]any) { // its name, then what is said of it
				if at >= len(lines) || lines[at] != x.(map[string]any)["train"] {
					t.Fatalf("%v is not told of in line %d of %q", x.(map[string]any)["train"], at, lines)
				}
				for at++; at < len(lines); at++ {
					if !strings.Contains(strings.Join(said.Notes, "\n")+"\n", lines[at]+"\n") {
						break
					}
				}
			}
			if at != len(lines) || len(lines) < 12 {
				t.Errorf("%d lines, the command does not say %q", len(lines), lines[min(at, len(lines)-1)])
			}
			all := strings.Join(lines, "\n")
			for _, want := range []string{"least work", "Order of House set", "base-bound", "held by the register"} {
				if !strings.Contains(all, want) && !inch {
					t.Errorf("no %q", want)
				}
			}
			missing := 0
			for _, s := range said.Notes {
				if !strings.Contains(all, s) {
					missing++
				}
			}
			if missing > len(rows)+1 { // the lines after the packs stand in the table
				t.Errorf("%d of %d sentences of the command are not there", missing, len(said.Notes))
			}
		}
	}
}

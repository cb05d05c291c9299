package evaluate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

// checked is the state, the value and the limit, mm or N·m, of every check of a sheet, and what is told of it.
func checked(t *testing.T, text string) (got, told string) {
	t.Helper()
	e, r := grown(t, reverse, job.ChecksSheet.String(), text)
	for _, c := range r.Checks {
		got += fmt.Sprintf("%s %v %.4g %.4g; ", c.Name, c.State, c.Value, c.Limit)
	}
	return got, sheetTold(e, job.ChecksSheet)
}

// sheetTold is what is told of a sheet: severity, row, column and text, a line each.
func sheetTold(e *Evaluator, k job.SheetKind) string {
	var b strings.Builder
	for _, p := range e.Problems() {
		if p.Sheet == e.SheetName(k) {
			fmt.Fprintf(&b, "%v %d %s: %s (%s)\n", p.Severity, p.Row, p.Column, p.Text, p.Hint)
		}
	}
	return b.String()
}

// The numbers of checks are in the unit of their header, of the row's Unit or of the title. Seen: Value [mil] over 1.5 was read as 1.5 mm and held to a limit of 2 mm; a column Unit and a title "values in mil" went the
// same way. 1 mil is 0.0254 mm, 1 lbf·ft is 1.3558 N·m (NIST SP 811).
func TestChecksHeaderUnit(t *testing.T) {
	for text, want := range map[string]string{
		"Machine,Check,Value [mil],Limit [mil]\npump,hub runout movable,1.5,2\npump,piping movement,3,2\npump,my own,3,2\npump,guard,,\n": "hub runout movable done 0.0381 0.0508; piping movement failed 0.0762 0.0508; my own failed 0.0762 0.0508; guard open NaN NaN; ",
		"Machine,Check,Value,Limit,Unit\npump,hub runout movable,1.2,2,mil\npump,final torque,100,90,ft-lb\npump,guard,,,-\n":             "hub runout movable done 0.03048 0.0508; final torque done 135.6 122; guard open NaN NaN; ",
		"\"Checks, values in mil\",,\nMachine,Check,Value\npump,hub runout movable,1.5\npump,final torque,100\n":                          "hub runout movable failed 0.0381 0.0254; final torque no limit 100 NaN; ",
		"Machine,Check,Value [mil],Limit (max)\npump,hub runout movable,0.02 mm,0.05 mm\n":                                                "hub runout movable done 0.02 0.05; ",
	} {
		if got, told := checked(t, text); got != want || strings.Contains(told, "error") {
			t.Errorf("%s\n%s\nwant %s\n%s", text, got, want, told)
		}
	}
}

// A number of a check that could be in two units is refused with both. Seen: 1.2 mil beside a limit of 2 was held to 2 mm, 100 lbf·ft beside 110 to 110 N·m, and both had passed.
func TestChecksTwoUnits(t *testing.T) {
	for text, want := range map[string]string{
		"Machine,Check,Value,Limit\npump,hub runout movable,1.2 mil,2\n":                    "2 Limit: \"2\" bears no unit, and the other number of the check is in mil: it could be mil or mm",
		"Machine,Check,Value,Limit\npump,final torque,100 lbf·ft,110\n":                     "2 Limit: \"110\" bears no unit, and the other number of the check is in lbf·ft: it could be lbf·ft or N·m",
		"Machine,Check,Value,Limit\npump,piping movement,2,1 mil\n":                         "2 Value: \"2\" bears no unit, and the other number of the check is in mil: it could be mil or mm",
		"Machine,Check,Value [ft-lb],Limit\npump,hub runout movable,0.02,0.05 mm\n":         "2 Value: Value says the unit ft-lb, which a number of \"hub runout movable\" cannot have",
		"Machine,Check,Value,Limit,Unit\npump,final torque,100,90,mil\n":                    "2 Value: Unit says the unit mil, which a number of \"final torque\" cannot have",
		"Machine,Check,Value [mm],Limit [mm],Unit\npump,hub runout movable,0.02,0.05,mil\n": "2 Value: Unit says the unit mil or mm",
	} {
		got, told := checked(t, text)
		if !strings.Contains(told, want) || !strings.Contains(got, " open ") {
			t.Errorf("%s\n%s\n%s", text, got, told)
		}
	}
}

// How far a shaft moves is held to its limit whichever way it moves. Seen: a shaft that moved 0.08 mm down when the piping was bolted passed a limit of 0.05 mm. Numbers that nobody would expect are questioned: 1.5 and
// 2 under millimetres were thousandths of an inch.
func TestChecksEitherWay(t *testing.T) {
	got, told := checked(t, "Machine,Check,Value,Limit\npump,piping movement,-0.08 mm,0.05 mm\npump,hub runout movable,1.5,2\npump,hub runout stationary,0.01,0.002\n")
	if want := "piping movement failed -0.08 0.05; hub runout movable done 1.5 2; hub runout stationary failed 0.01 0.002; "; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	for _, w := range []string{`3 Value: is "1.5" right? It comes to 1.5 mm`, `3 Limit: is "2" right?`, `4 Limit: is "0.002" right?`} {
		if !strings.Contains(told, w) {
			t.Errorf("%q is not told in\n%s", w, told)
		}
	}
}

// What stands on a sheet in a way that is not read, or that can be read two ways, is told; what says its unit in a title or the cell beside is read. Seen: "Units: inch" in one cell of the Job sheet, and settings side by side,
// were passed over without a word; the unit in the cell behind a setting's value too; of a coefficient without unit between temperatures in °F nothing was asked; a title "temperatures in °F" did not count; pieces of 50 mm under a foot
// were taken for shims.
func TestSheetsThatCanBeReadTwoWays(t *testing.T) {
	for _, c := range []struct {
		kind             job.SheetKind
		text, told, free string
	}{
		{job.SettingsSheet, "Name,Value\nUnits: inch,\n", "stands in one cell and is not read", "Name,Value\nUnits,inch\n"},
		{job.SettingsSheet, "Graduation,Repeatability,Soft foot limit\n0.01,0.01,0.05\n", "stand side by side", "Graduation,0.01\nRepeatability,0.01\n"},
		{job.LimitsSheet, "Limits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,≤ 1500,0.1,0.5\n", "write the highest speed alone", "Limits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,1500,0.1,0.5\n"},
		{job.LimitsSheet, "Limits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,1500-3000,0.1,0.5\n", "write the highest speed alone", "Limits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,fast,0.1,0.5\n"},
		{job.StockSheet, "Thickness,Pieces on hand\n0.05 x 20,\n", "how many there are under Pieces on hand", "Thickness,Pieces on hand\nthin,20\n"},
		{job.StockSheet, "Thickness,Pieces on hand\n0.05,20 pcs\n", "as a number alone", "Thickness,Pieces on hand\n0.05,20\n"},
		{job.ChecksSheet, "Machine,Check,Result\npump,guard,pass\n", "stands under Done, as yes or no", "Machine,Check,Result\npump,guard,3\n"},
		{job.SettingsSheet, "Name,Marrow Ridge,,Units,inch\n", "\"Units\" does not begin its row and is not read", "Name,Marrow Ridge\nUnits,inch\n"},
		{job.SettingsSheet, "Name,Value\n,Units,inch\n", "\"Units\" does not begin its row and is not read", "Name,Value,Note\nUnits,inch,Units of the maker\n"},
		{job.SettingsSheet, "Name,Value\nSoft foot limit,3,kg\n", "kg", "Name,Value\nSoft foot limit,3,mil\n"},
		{job.SettingsSheet, "Name,Value\nSoft foot limit,5\n", "Soft foot limit", "Name,Value\nSoft foot limit,0.05\n"},
		{job.GrowthSheet, "Machine,Support,Height,Coefficient,Cold [°F],Running [°F]\npump,movable front,300,6.5,70,160\n", "bears no unit", "Machine,Support,Height,Coefficient [1e-6/°F],Cold [°F],Running [°F]\npump,movable front,300,6.5,70,160\n"},
		{job.GrowthSheet, "Machine,Support,Height,Material,Cold,Running\npump,movable front,300,steel,70,160\n", "usual", "All temperatures in °F\nMachine,Support,Height,Material,Cold,Running\npump,movable front,300,steel,70,160\n"},
		{job.MaterialsSheet, "Material,Coefficient,From [°F],To [°F]\nbronze,10,70,200\n", "bears no unit", "Material,Coefficient [1e-6/°F],From [°F],To [°F]\nbronze,10,70,200\n"},
		{job.MaterialsSheet, "Of the maker\nMaterial,Coefficient,From [°F],To [°F]\nbronze,10,70,200\n", "bears no unit", "Coefficients in 1e-6/°F\nMaterial,Coefficient,From [°F],To [°F]\nbronze,10,70,200\n"},
		{job.MaterialsSheet, "Mean coefficients\nMaterial,Coefficient,From [°F],To [°F]\nbronze,10,70,200\n", "bears no unit", "Mean coefficients x 1e-6 per °F\nMaterial,Coefficient,From [°F],To [°F]\nbronze,10,70,200\n"},
		{job.RoundsSheet, "Machine,Round,Packs in place\npump,1,front 9: 50\n", "50", "Machine,Round,Packs in place\npump,1,front 9: 0.5\n"},
		{job.FeetSheet, "Seen from the driven end, signs reversed\nMachine,Foot,Gap\npump,front 9,0\n", "not read", "Feet of the pump\nMachine,Foot,Gap\npump,front 9,0\n"},
		{job.FeetSheet, "Machine,Foot,Gap,Pack in place\npump,front 9,0,50\npump,front 3,0,0.5\npump,rear 9,0,0.5\npump,rear 3,0,0.5\n", "50", "Machine,Foot,Gap,Pack in place\npump,front 9,0,0.5\npump,front 3,0,0.5\npump,rear 9,0,0.5\npump,rear 3,0,0.5\n"},
	} {
		for k, text := range []string{c.text, c.free} {
			e, _ := grown(t, reverse, c.kind.String(), text)
			if said := sheetTold(e, c.kind); strings.Contains(said, c.told) != (k == 0) {
				t.Errorf("%v %q: told %q; %q is to be in it: %v", c.kind, text, said, c.told, k == 0)
			}
		}
	}
	e, _ := grown(t, reverse, job.SettingsSheet.String(), "Name,Value,Unit\nSoft foot limit,3,mil\n")
	if x := e.set.softLimit; math.Abs(x-3*0.0254) > 1e-12 { // 1 mil is 0.0254 mm (NIST SP 811)
		t.Error(x)
	}
	e, _ = grown(t, reverse, job.LimitsSheet.String(), "Slopes in mil/in\nLimits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,1800,0.1,0.5\n")
	if x := e.ownSet("ours").Rows[tables.Flexible][0].Slope; math.Abs(x-0.5) > 1e-12 { // 1 mil/in is 1 mm/m
		t.Error(x)
	}
	e, _ = grown(t, reverse, job.LimitsSheet.String(), "Slopes in mm per 100 mm\nLimits,Coupling,Up to,Offset limit,Slope limit\nours,flexible,1800,0.1,0.05\n")
	if x := e.ownSet("ours").Rows[tables.Flexible][0].Slope; math.Abs(x-0.5) > 1e-12 {
		t.Error(x, sheetTold(e, job.LimitsSheet))
	}
}

// What only says that something was done tells nothing of where a shaft should stand. Seen: "Cold check: done" took the machine's verdict and its moves away, as a cold target does.
func TestDoneIsNoTarget(t *testing.T) {
	for _, c := range []struct {
		header, cell string
		held         bool
	}{
		{"Cold check", "done", false}, {"Cold check", "OK", false}, {"Cold check", "2026-04-12", false}, {"Cold check", "done 12.04.2026 JD", false}, {"Cold check", "yes", false}, {"Running check", "passed, AB", false}, {"Cold check", "not done", false},
		{"Cold check", "0.02", true}, {"Cold check", "ok 0.02 low", true}, {"Cold check", "ok low", true}, {"Growth", "yes", true}, {"Cold target", "-0.12", true}, {"Cold target", "see the maker's sheet", true}, {"Cold check", "JD", true}, {"Cold target", "3/8", true},
		{"Cold target", "0.12.5", true}, {"Cold check", "12/4/26", true},
	} {
		_, r := one(t, plus(reverse, c.header+"="+c.cell)...)
		if (r.Foot(r.Front) == nil) != c.held || (r.Verdict == calc.NotJudged) != c.held {
			t.Errorf("%s %q: %v %s", c.header, c.cell, r.Verdict, r.Why)
		}
	}
}

package sheet

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
)

// demoJob reads the demo job; alone leaves out everything but the Machines sheet.
func demoJob(t testing.TB, alone bool) *Job {
	j := NewJob()
	for name, kind := range map[string]SheetKind{"machines.csv": MachinesSheet, "readings.csv": ReadingsSheet, "job.csv": SettingsSheet, "stock.csv": StockSheet,
		"growth.csv": GrowthSheet, "feet.csv": FeetSheet, "limits.csv": LimitsSheet, "materials.csv": MaterialsSheet, "checks.csv": ChecksSheet, "rounds.csv": RoundsSheet, "trains.csv": TrainsSheet} {
		if alone && kind != MachinesSheet {
			continue
		}
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		table, problems, err := ReadDelimited(name, data, 0)
		if err != nil || len(problems) > 0 {
			t.Fatal(name, err, problems)
		}
		if kind != SettingsSheet && !table.SplitHeader(kind) {
			t.Fatalf("%s: no header", name)
		}
		j.SetTable(kind, table)
	}
	return j
}

// TestDemoJob holds the demo to what its README says: 26 couplings of every method and kind, two planted faults and no other, one
// that is too close to call, and no check of the sound rows anywhere near its limit by chance.
func TestDemoJob(t *testing.T) {
	for _, alone := range []bool{true, false} {
		e := NewEvaluator(demoJob(t, alone))
		if err := e.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		for _, p := range e.Problems() {
			t.Errorf("alone %v: %v", alone, &p)
		}
		n, verdicts := e.Count()
		if n != 26 || verdicts[calc.NotJudged] != 2 || verdicts[calc.TooClose] != 1 || verdicts[calc.Inside] < 4 || verdicts[calc.Outside] < 12 {
			t.Errorf("alone %v: %d couplings, verdicts %v", alone, n, verdicts)
		}
		faults := map[string]calc.Status{"Intake, raw water pump 2 motor": calc.BalanceFailed, "Sludge hall, return pump motor": calc.ClosureFailed}
		var methods []Method
		for i := range e.Len() {
			r := e.Row(i)
			methods = append(methods, r.Method)
			errs := 0
			for k := range r.Problems {
				if r.Problems[k].Severity == Error {
					errs++
				}
			}
			want, planted := faults[r.Name]
			if planted && (errs != 1 || r.Calc.Status != want) || !planted && errs != 0 {
				t.Errorf("alone %v, %s: status %v, %v", alone, r.Name, r.Calc.Status, r.Problems)
			}
			for k, c := range r.Calc.Checks {
				tight := math.Abs(c.Balance) > 0.8*c.BalanceLimit || math.Abs(c.Closure) > 0.8*c.ClosureLimit
				if tight && !planted {
					t.Errorf("alone %v, %s: sweep %d is near its limit: %+v", alone, r.Name, k, c)
				}
			}
			for k := range r.Calc.Feet {
				if f := &r.Calc.Feet[k]; math.Abs(f.Shim) > 4 || math.Abs(f.Move) > 4 {
					t.Errorf("alone %v, %s: %+v", alone, r.Name, f)
				}
			}
			// The thickener pump's rear feet would have to go below the bare base, which the Feet sheet knows.
			based := r.Feet != nil && slices.ContainsFunc(r.Feet.Feet, func(f Foot) bool { return f.Change.Status == calc.ChangeBelow })
			if based != (!alone && r.Name == "Sludge hall, thickener pump motor") {
				t.Errorf("alone %v, %s: below the base %v", alone, r.Name, based)
			}
			if !planted && !based && r.Calc.HasAfter && r.AfterVerdict == calc.Outside {
				t.Errorf("alone %v, %s: outside after the correction, share %.2f", alone, r.Name, r.Calc.AfterJ.Share)
			}
		}
		for m := ReverseIndicator; m < numMethods; m++ {
			if !slices.Contains(methods, m) {
				t.Errorf("no %v in the demo", m)
			}
		}
		if r := e.Row(12); !strings.HasPrefix(r.Name, "High lift, pump 5") || len(r.Calc.Checks) != 2 || r.Sweeps[0].Readings != map[bool]int{true: 4, false: 11}[alone] {
			t.Errorf("alone %v: %s has %d readings", alone, r.Name, r.Sweeps[0].Readings)
		}
	}
}

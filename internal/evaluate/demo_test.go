package evaluate

import (
	"context"
	"flag"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
)

// TestDemoJob holds the demo to what its README says: 26 couplings of every method and kind, two planted faults and no other, one
// that is too close to call, and no check of the sound rows anywhere near its limit by chance.
func TestDemoJob(t *testing.T) {
	for _, alone := range []bool{true, false} {
		e := NewEvaluator(demoJob(t, alone))
		if err := e.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		for _, p := range e.Problems() {
			if alone || p.Sheet != "record.csv" || p.Severity != job.Warning { // see TestDemoRecord
				t.Errorf("alone %v: %v", alone, &p)
			}
		}
		n, verdicts := e.Count()
		if n != 26 || verdicts[calc.NotJudged] != 2 || verdicts[calc.TooClose] != 1 || verdicts[calc.Inside] < 4 || verdicts[calc.Outside] < 12 {
			t.Errorf("alone %v: %d couplings, verdicts %v", alone, n, verdicts)
		}
		faults := map[string]calc.Status{"Intake, raw water pump 2 motor": calc.BalanceFailed, "Sludge hall, return pump motor": calc.ClosureFailed}
		var methods []job.Method
		for i := range e.Len() {
			r := e.Row(i)
			methods = append(methods, r.Method)
			errs := 0
			for k := range r.Problems {
				if r.Problems[k].Severity == job.Error {
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
			based := r.Feet != nil && slices.ContainsFunc(r.Feet.Feet, func(f Foot) bool { return f.Change.Status == packs.ChangeBelow })
			if based != (!alone && r.Name == "Sludge hall, thickener pump motor") {
				t.Errorf("alone %v, %s: below the base %v", alone, r.Name, based)
			}
			if !planted && !based && r.Calc.HasAfter && r.AfterVerdict == calc.Outside {
				t.Errorf("alone %v, %s: outside after the correction, share %.2f", alone, r.Name, r.Calc.AfterJ.Share)
			}
		}
		for m := job.ReverseIndicator; m < job.NumMethods; m++ {
			if !slices.Contains(methods, m) {
				t.Errorf("no %v in the demo", m)
			}
		}
		if r := e.Row(12); !strings.HasPrefix(r.Name, "High lift, pump 5") || len(r.Calc.Checks) != 2 || r.Sweeps[0].Readings != map[bool]int{true: 4, false: 11}[alone] {
			t.Errorf("alone %v: %s has %d readings", alone, r.Name, r.Sweeps[0].Readings)
		}
	}
}

var writeRecord = flag.Bool("write-record", false, "write testdata/demo/record.csv anew, with the digests of the demo's machines as they are")

// The demo's record has a machine whose signature holds, one that changed since, and an instrument whose certificate had run out when it was used.
func TestDemoRecord(t *testing.T) {
	const holds, changed = "Filter hall, backwash pump 1 motor", "High lift, pump 2 motor"
	path := filepath.Join("..", "..", "testdata", "demo", "record.csv")
	if *writeRecord {
		j := demoJob(t, false)
		with(t, j, job.RecordSheet, "Machine,Role,Signed by,Signed at,Result,Deviation,Allowed by,Instrument,Certificate,Due,Note,Digest\n"+
			"whole job,,,,,,,dial indicator 4,MR-0412,2026-11-30,,\n"+
			"\""+changed+"\",,,,,,,dial indicator 7,MR-0388,2026-03-31,its certificate had run out,\n"+
			"\""+changed+"\",,,,,flange parallelism 0.18 mm left as found,chief of maintenance,,,,,\n")
		sign := func(s Signing) {
			tab, err := NewEvaluator(j).Sign(s)
			if err != nil {
				t.Fatal(err)
			}
			j.SetTable(job.RecordSheet, tab)
		}
		sign(Signing{Machine: holds, Role: "aligner", By: "crew A", At: "2026-04-08 15:20", Signature: "crew A"})
		sign(Signing{Machine: holds, Role: "witness", By: "shift lead", At: "2026-04-08 15:45", Signature: "shift lead"})
		// Somebody read the bearing lift again after this was signed, and put it down.
		was, checks := "", j.Checks
		for _, row := range checks.Rows {
			if row[0] == changed && row[1] == "bearing lift" {
				was, row[2] = row[2], "0.09"
			}
		}
		sign(Signing{Machine: changed, Role: "aligner", By: "crew B", At: "2026-04-09 10:05", Signature: "crew B"})
		out := job.AppendCSVRow(nil, []string{"Signatures and what they cover"}, ',')
		out = job.AppendCSVRow(out, j.Record.Header, ',')
		for _, row := range j.Record.Rows {
			out = job.AppendCSVRow(out, row, ',')
		}
		if err := os.WriteFile(path, out, 0o600); err != nil || was == "" {
			t.Fatal(err, was)
		}
	}
	e := work(t, demoJob(t, false))
	const anew = "go test ./internal/evaluate -run TestDemoRecord -write-record, and then the workbook"
	for name, want := range map[string]string{holds: "signed", changed: "changed since signed"} {
		r := e.Row(e.RowOf(name))
		if r.StateWord().String() != want {
			t.Errorf("%s is %s, want %s (%s): %+v", name, r.StateWord().String(), want, anew, r.Record)
		}
		for _, s := range r.Record {
			if s.Signs() && s.Result != e.SignedResult(r) {
				t.Errorf("%s: what was signed is not what comes out (%s):\n%s\n%s", name, anew, s.Result, e.SignedResult(r))
			}
		}
	}
	if p := e.Problems(); len(p) != 1 || !strings.Contains(p[0].Text.String(), "dial indicator 7") || p[0].Severity != job.Warning {
		t.Errorf("%v", p)
	}
}

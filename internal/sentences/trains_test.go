package sentences

import (
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// A chosen plan is what the rows, the pick list and the line after speak of; a plan of another name, two names, or one that is impossible are told.
func TestTrainPlanChosen(t *testing.T) {
	const plans = "Train,Machine,May move,Plan\n"
	down := "Front room down,Rear room down"
	j := with(t, trainJob(t, down, "0,0", ","), job.TrainsSheet, plans+"T1,Gear,yes,\nT1,,,shared out\n")
	with(t, j, job.StockSheet, "Thickness\n0.03\n0.05\n0.1\n0.2\n0.5\n1\n")
	e, d := oneTrain(t, j)
	if d.Status != "possible" || d.Plan != "shared out" || !d.Chosen {
		t.Fatalf("%+v", d)
	}
	want := map[string]float64{}
	for _, f := range d.Feet {
		want[f.Machine+" "+f.Foot] = f.Shim
	}
	motor, pump := e.Row(0), e.Row(1)
	near(t, "front shim of the motor", motor.Calc.Feet[0].Shim, want["Motor near"], 1e-9)
	near(t, "rear shim of the motor", motor.Calc.Feet[1].Shim, want["Motor far"], 1e-9)
	near(t, "rear shim of the pump", pump.Calc.Feet[1].Shim, want["Pump far"], 1e-9)
	if motor.Calc.Feet[0].Shim < -1e-9 || motor.Calc.Feet[1].Shim < -1e-9 {
		t.Error("the motor goes down")
	}
	for k, c := range d.Couplings {
		r := e.Row(k)
		near(t, c.Machine+" after the packs", r.Calc.After.DV, c.Packs.OffV, 1e-9)
		if r.AfterVerdict.String() == "not judged" {
			t.Error(c.Machine)
		}
	}
	a, err := e.Allocate(nil)
	if err != nil {
		t.Fatal(err)
	}
	feet := map[string]float64{}
	for _, p := range a.Picks {
		feet[p.Machine+" "+p.Foot] = p.Wanted
	}
	for _, side := range []string{" 9", " 3"} {
		near(t, "pick of the gear", feet["Gear near"+side], want["Gear near"], 1e-9)
		near(t, "pick of the motor", feet["Motor rear"+side], want["Motor far"], 1e-9)
	}
	said := ""
	for _, s := range e.Sentences(0) {
		said += s.Text + "\n"
	}
	if !strings.Contains(said, "plan \"shared out\"") || !strings.Contains(said, "Gear moves too") {
		t.Error(said)
	}
	// Taken back, the row is by itself again.
	j.Trains.Rows[1][3] = ""
	e.Refresh()
	near(t, "the motor alone", e.Row(0).Calc.Feet[0].Shim, -0.33, 1e-9)
	// Other ways to name one.
	for name, ok := range map[string]bool{"Gear stays": true, "GEAR STAYS": true, "only motor": true, "least work": true, "as set": true, "only Fan": false, "best": false} {
		_, d := oneTrain(t, with(t, trainJob(t, "", "", ""), job.TrainsSheet, plans+"T1,,,"+name+"\n"))
		if (d.Status != "not judged") != ok || ok && !d.Chosen {
			t.Errorf("%s: %s %s", name, d.Status, d.Why)
		}
	}
	if _, d = oneTrain(t, with(t, trainJob(t, "", "", ""), job.TrainsSheet, plans+"T1,Gear,no,as set\nT1,,,shared out\n")); d.Status != "not judged" || !strings.Contains(d.Why, "stand beside each other") {
		t.Errorf("%+v", d)
	}
	if _, d = oneTrain(t, with(t, trainJob(t, "", "", ""), job.TrainsSheet, plans+"T1,,no,\n")); d.Status != "not judged" {
		t.Errorf("a May move without a machine: %+v", d)
	}
	// Impossible: told, and the rows stay by themselves.
	e, d = oneTrain(t, with(t, trainJob(t, down, "0,0", ","), job.TrainsSheet, plans+"T1,,,as set\n"))
	if d.Status != "impossible" || e.Row(0).Plan != nil {
		t.Errorf("%+v", d)
	}
	near(t, "the motor alone", e.Row(0).Calc.Feet[0].Shim, -0.33, 1e-9)
}

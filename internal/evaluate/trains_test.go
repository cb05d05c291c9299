package evaluate

import (
	"bytes"
	"math"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

//evidence: calc=moves of a train grade=independent count=60 source=worked example with dials simulated in space

// The worked train from its readings on: stations and signs of both rows, the gear that stays.
func TestTrainWorked(t *testing.T) {
	e, d := oneTrain(t, trainJob(t, "", "", ""))
	if d.Train != "T1" || d.Aim != "wanted line" {
		t.Error(d.Train, d.Aim)
	}
	d.Stand(t, map[string][3]float64{"Motor near": {300, -0.33, 0.04}, "Motor far": {1500, -0.45, -0.20}, "Gear near": {-300, 0, 0}, "Gear far": {-900, 0, 0},
		"Pump near": {-1500, 0, 0.32}, "Pump far": {-2100, 0.30, 0.38}})
	near(t, "largest", *d.Largest, 0.45, 1e-9)
	near(t, "total", *d.Total, 2.02, 1e-9)
	for _, c := range d.Couplings {
		if math.Abs(c.OffV)+math.Abs(c.OffH)+math.Abs(c.SlopeV)+math.Abs(c.SlopeH) > 1e-9 || c.Share == nil || *c.Share > 1e-6 || c.Verdict == "not judged" || c.Packs == nil {
			t.Errorf("%+v", c)
		}
	}
	if len(e.Problems()) != 0 {
		t.Error(e.Problems())
	}
	var b bytes.Buffer
	if err := e.ListText(&b, "moves"); err != nil || !strings.Contains(b.String(), "T1, wanted line: possible. Largest move 0.45 mm") {
		t.Errorf("%v\n%s", err, &b)
	}
}

// A room on the left as the pump's own row sees it is one to the right in the frame.
func TestTrainRoomsOwnRow(t *testing.T) {
	_, d := oneTrain(t, trainJob(t, "Front room left", "", "0.1"))
	if d.Status != "impossible" || len(d.Short) != 1 || d.Short[0].Machine != "Pump" || d.Short[0].Foot != "near" || d.Short[0].Direction != "right" {
		t.Fatalf("%+v", d)
	}
	near(t, "missing", d.Short[0].Missing, 0.22, 1e-9)
	_, d = oneTrain(t, trainJob(t, "Front room right", "", "0.1"))
	if d.Status != "possible" {
		t.Fatalf("%+v", d)
	}
	for _, f := range d.Feet {
		if f.Machine == "Pump" && f.Foot == "near" && (f.Left == nil || *f.Left != 0.1 || f.Right != nil) {
			t.Errorf("%+v", f)
		}
	}
}

// Base-bound: nothing to take out under the motor; with a keyed gear that may rise there is one plan, and one within 60 % of the limits.
func TestTrainBaseBound(t *testing.T) {
	down := func() *job.Job { return trainJob(t, "Front room down,Rear room down", "0,0", ",") }
	e, d := oneTrain(t, down())
	if d.Status != "impossible" || d.Largest != nil || d.Total != nil || len(d.Feet)+len(d.Couplings) != 0 || len(d.Short) != 2 || len(e.Problems()) != 0 {
		t.Fatalf("%+v %v", d, e.Problems())
	}
	for k, want := range []float64{0.33, 0.45} {
		s := d.Short[k]
		if s.Machine != "Motor" || s.Foot != []string{"near", "far"}[k] || s.Direction != "down" || s.Fixed {
			t.Errorf("%+v", s)
		}
		near(t, "missing", s.Missing, want, 1e-9)
	}
	// Typed as packs of nothing on the Feet sheet it is the same, each foot by its name.
	j := with(t, trainJob(t, "", "", ""), job.FeetSheet, "Machine,Foot,Pack in place\nMotor,front 9,0\nMotor,front 3,0.5\nMotor,rear 9,0\nMotor,rear 3,0\n")
	if _, d = oneTrain(t, j); d.Status != "impossible" || len(d.Short) != 4 || d.Short[1].Foot != "front 3" {
		t.Fatalf("%+v", d)
	}
	keyed := func() *job.Job {
		j := with(t, down(), job.TrainsSheet, "Train,Machine,May move,Effort\nT1,gear,yes,\n")
		return with(t, j, job.FeetSheet, "Machine,Foot,Room left,Room right\nGear,near 9,0,0\nGear,near 3,0,0\nGear,far 9,0,0\nGear,far 3,0,0\n")
	}
	e, d = oneTrain(t, keyed())
	d.Stand(t, map[string][3]float64{"Motor near": {300, 0, 0.04}, "Motor far": {1500, 0.18, -0.20}, "Gear near 9": {-300, 0.18, 0}, "Gear near 3": {-300, 0.18, 0}, "Gear far 9": {-900, 0.03, 0},
		"Pump near": {-1500, -0.12, 0.32}, "Pump far": {-2100, 0.03, 0.38}})
	near(t, "largest", *d.Largest, 0.38, 1e-9)
	near(t, "total", *d.Total, 1.48, 1e-8)
	if len(e.Problems()) != 0 {
		t.Error(e.Problems())
	}
	_, d = oneTrain(t, with(t, keyed(), job.SettingsSheet, "Name,Value\nMoves aim,60 %\n"))
	d.Stand(t, map[string][3]float64{"Pump near": {-1500, -9, 0.20}, "Pump far": {-2100, -9, 0.08}})
	near(t, "largest", *d.Largest, 0.2, 1e-9)
	if d.Aim != "60 %" {
		t.Error(d.Aim)
	}
	for _, c := range d.Couplings {
		if *c.Share > 60*(1+1e-9) {
			t.Errorf("%+v", c)
		}
	}
}

// Growth of the gear seen from both sides: each row from its own columns; a row that says another thing is warned of.
func TestTrainGrowth(t *testing.T) {
	const head = "Growth stationary near V,Growth stationary near H,Growth stationary far V,Growth stationary far H"
	e, d := oneTrain(t, trainJob(t, head, "0.2,0.1,0.2,0.1", "0.2,-0.1,0.2,-0.1"))
	if d.Status != "possible" || len(e.Problems()) != 0 {
		t.Fatalf("%+v %v", d, e.Problems())
	}
	for _, c := range d.Couplings {
		near(t, "offset V", c.OffV, 0.2, 1e-9)
		near(t, "offset H", c.OffH, map[string]float64{"Motor": 0.1, "Pump": -0.1}[c.Machine], 1e-9)
	}
	e, _ = oneTrain(t, trainJob(t, head, "0.2,0.1,0.2,0.1", "0.2,0.1,0.2,0.1"))
	if p := e.Problems(); len(p) != 1 || p[0].Severity != job.Warning || !strings.Contains(p[0].Text.String(), "growth of Gear") {
		t.Error(p)
	}
}

// Sides of a row seen from the other end are the first row's exchanged.
func TestTrainSides(t *testing.T) {
	e, _ := oneTrain(t, trainJob(t, "Side at 3,Side at 9", "river,wall", "Wall,River"))
	if len(e.Problems()) != 0 {
		t.Error(e.Problems())
	}
	for _, s := range []string{"river,wall", "river,", "road,river"} {
		if e, d := oneTrain(t, trainJob(t, "Side at 3,Side at 9", "river,wall", s)); len(e.Problems()) != 1 || e.Problems()[0].Severity != job.Warning || d.Status != "possible" {
			t.Error(s, e.Problems())
		}
	}
}

// What makes a train not judged, each with its row and its reason as an error.
func TestTrainNotJudged(t *testing.T) {
	swap := func(row, old, by string) string {
		if !strings.Contains(row, old) {
			t.Fatal(old)
		}
		return strings.Replace(row, old, by, 1)
	}
	for _, c := range []struct {
		name, motor, pump, more, trains, feet, job, want string
	}{
		{name: "spacing", motor: trainMotor, pump: swap(trainPump, ",400,1000,", ",400,1003,"), want: "600 mm apart in row 2"},
		{name: "no stationary", motor: trainMotor, pump: swap(trainPump, "GEAR", ""), want: "row 3 has no Stationary"},
		{name: "itself", motor: trainMotor, pump: swap(trainPump, "GEAR", "pump"), want: "coupled to itself"},
		{name: "apart", motor: trainMotor, pump: swap(trainPump, "GEAR", "Gearbox"), want: "one line"},
		{name: "three", motor: trainMotor, pump: trainPump, more: swap(trainPump, "Pump", "Fan"), want: "more than two couplings"},
		{name: "supports", motor: trainMotor, pump: swap(trainPump, ",400,1000,", ",,,"), want: "where the feet of"},
		{name: "no line", motor: trainMotor, pump: swap(trainPump, "0.26,-0.10,-0.36", ",,"), want: "row 3, Pump"},
		{name: "check failed", motor: trainMotor, pump: swap(trainPump, "-0.10,-0.36", "-0.90,-0.36"), want: "row 3, Pump"},
		{name: "stranger", motor: trainMotor, pump: trainPump, trains: "T1,Fan,no,\n", want: `"Fan" of the sheet Trains is no machine of this train`},
		{name: "word", motor: trainMotor, pump: trainPump, trains: "T1,Gear,perhaps,\n", want: "row 2 of the sheet Trains"},
		{name: "effort", motor: trainMotor, pump: trainPump, trains: "T1,Gear,,0\n", want: "row 2 of the sheet Trains"},
		{name: "aim", motor: trainMotor, pump: trainPump, job: "Moves aim,0.6\n", want: "Moves aim"},
		{name: "feet", motor: trainMotor, pump: trainPump, feet: "Motor,somewhere,,\n", want: "cannot be used"},
		{name: "share without limits", motor: swap(trainMotor, "0.1,0.5,", ",,"), pump: trainPump, job: "Moves aim,inside\n", want: "row 2, Motor"},
	} {
		j := list(t, trainHeader+"\n"+c.motor+"\n"+c.pump+"\n"+c.more+"\n")
		if c.trains != "" {
			with(t, j, job.TrainsSheet, "Train,Machine,May move,Effort\n"+c.trains)
		}
		if c.feet != "" {
			with(t, j, job.FeetSheet, "Machine,Foot,Room left,Room right\n"+c.feet)
		}
		if c.job != "" {
			with(t, j, job.SettingsSheet, "Name,Value\n"+c.job)
		}
		e, d := oneTrain(t, j)
		if d.Status != "not judged" || !strings.Contains(d.Why, c.want) || len(d.Feet) != 0 {
			t.Errorf("%s: %s %q", c.name, d.Status, d.Why)
		}
		told := false
		for _, p := range e.Problems() {
			told = told || p.Severity == job.Error && p.Row >= 2 && strings.Contains(p.Text.String(), "is not judged")
		}
		if !told {
			t.Errorf("%s is not told: %v", c.name, e.Problems())
		}
	}
	// A row without a limit does not stop the wanted line; its coupling is then not judged.
	e, d := oneTrain(t, list(t, trainHeader+"\n"+swap(trainMotor, "0.1,0.5,", ",,")+"\n"+trainPump+"\n"))
	if d.Status != "possible" || d.Couplings[0].Verdict != "not judged" || d.Couplings[0].Share != nil || len(e.Problems()) != 0 {
		t.Errorf("%+v %v", d, e.Problems())
	}
}

// A room that cannot be read is not taken as none.
func TestTrainRoomUnreadable(t *testing.T) {
	if _, d := oneTrain(t, trainJob(t, "Front room down", "a bit", "")); d.Status != "not judged" || !strings.Contains(d.Why, "Front room down of row 2") {
		t.Errorf("%+v", d)
	}
}

// A Stationary that stays at the end of a train needs no supports, and has then no feet; one that may move does. A train that no row has is an error.
func TestTrainEnds(t *testing.T) {
	row := strings.Replace(trainMotor, ",300,900,", ",,,", 1)
	_, d := oneTrain(t, list(t, trainHeader+"\n"+row+"\n"))
	d.Stand(t, map[string][3]float64{"Motor near": {300, -0.33, 0.04}, "Motor far": {1500, -0.45, -0.20}})
	if len(d.Feet) != 2 {
		t.Errorf("%+v", d.Feet)
	}
	_, d = oneTrain(t, with(t, list(t, trainHeader+"\n"+row+"\n"), job.TrainsSheet, "Train,Machine,May move\nT1,Gear,yes\n"))
	if d.Status != "not judged" || !strings.Contains(d.Why, "Stationary near support") {
		t.Errorf("%+v", d)
	}
	e, _ := trainsOf(t, with(t, trainJob(t, "", "", ""), job.TrainsSheet, "Train,Machine,May move\nT2,Gear,yes\n"))
	if p := e.Problems(); len(p) != 1 || !strings.Contains(p[0].Text.String(), `"T2"`) || p[0].Row != 2 {
		t.Error(p)
	}
	// Reversed order of the rows, the pump's first: the frame is the pump's, the moves turn with it.
	_, d = oneTrain(t, list(t, trainHeader+"\n"+trainPump+"\n"+trainMotor+"\n"))
	d.Stand(t, map[string][3]float64{"Pump near": {200, 0, -0.32}, "Pump far": {800, 0.30, -0.38}, "Motor near": {-1600, -0.33, -0.04}, "Motor far": {-2800, -0.45, 0.20}})
	// A chain in which the middle machine stands under Machine once and under Stationary once: the fan behind the motor.
	fan := strings.Replace(strings.Replace(trainMotor, "Motor,Gear", "Fan,Motor", 1), ",300,900,", ",250,1450,", 1)
	_, d = oneTrain(t, list(t, trainHeader+"\n"+trainMotor+"\n"+fan+"\n"))
	if d.Status != "possible" {
		t.Fatalf("%+v", d)
	}
	for _, f := range d.Feet {
		if f.Machine == "Fan" && f.Foot == "near" {
			near(t, "station", f.Station, 1500+250+300, 1e-9)
		}
	}
}

// A train takes the lines of the last round that counts.
func TestTrainRounds(t *testing.T) {
	j := with(t, trainJob(t, "", "", ""), job.RoundsSheet, "Machine,Round,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"+
		"Motor,found,0,-0.39,-0.62,-0.23,0,0.41,0.58,0.17\nMotor,1,0,0,0,0,0,0,0,0\n")
	_, d := oneTrain(t, j)
	d.Stand(t, map[string][3]float64{"Motor near": {300, 0, 0}, "Motor far": {1500, 0, 0}, "Pump near": {-1500, 0, 0.32}, "Pump far": {-2100, 0.30, 0.38}})
}

// Editing a row plans its train anew.
func TestTrainEdited(t *testing.T) {
	j := trainJob(t, "", "", "")
	e := work(t, j)
	if p := e.Trains(); len(p) != 1 || p[0].Status != "possible" {
		t.Fatal(p)
	}
	j.Machines.Rows[1][2] = ""
	e.RowsChanged(1, 2)
	if p := e.Trains(); len(p) != 1 || p[0].Status != "not judged" {
		t.Fatal(p)
	}
}

// The plans side by side: what they are called, and that each that is possible keeps every coupling where it aims.
func TestTrainChoices(t *testing.T) {
	_, d := oneTrain(t, trainJob(t, "", "", ""))
	var names []string
	for _, a := range d.Alternatives {
		names = append(names, a.Plan)
		if a.Status != "possible" {
			t.Errorf("%s: %s %s", a.Plan, a.Status, a.Why)
		}
		if a.Plan == "least work" && (a.After != "inside" || *a.Largest >= *d.Largest || *a.Total >= *d.Total) {
			t.Errorf("%+v", a)
		}
		if a.Plan == "shared out" && *a.Largest > *d.Largest+1e-9 {
			t.Errorf("shared out %v, as set %v", *a.Largest, *d.Largest)
		}
	}
	if got := strings.Join(names, "|"); got != "as set|Motor stays|Pump stays|shared out|least work" {
		t.Error(got)
	}
	if d.Alternatives[0].Also != "Gear stays" || d.Plan != "as set" || d.Chosen {
		t.Errorf("%+v", d.Alternatives[0])
	}
}

// A machine on a flange: within what its register leaves, with shims at the bolts that are none of them negative, the line comes where the plan says.
func TestTrainFlange(t *testing.T) {
	const head = "Train,Machine,Stationary,Mounting,Coupling to stationary plane,Coupling to movable plane,Bolt circle,Bolts,Coupling to flange,Front room up,Front room down,Front room left,Front room right,Offset limit,Slope limit," +
		"Given offset V,Given offset H,Given slope V,Given slope H\n"
	row := func(room string) *job.Job {
		return list(t, head+"V,Motor,Pump,vertical flange,,,600,8,400,"+room+",0.1,0.5,0.3,-0.24,0.9,0.65\n")
	}
	e, d := oneTrain(t, row(",,,"))
	if d.Status != "possible" {
		t.Fatalf("%+v", d)
	}
	r := e.Row(0)
	slide := 0.3 + 0.9*0.4 // method: T − V at the flange
	if f := d.Feet[0]; f.Foot != "flange" || math.Abs(f.Move-(0.24-0.65*0.4)) > 1e-9 || math.Abs(*f.Slide+slide) > 1e-9 {
		t.Errorf("%+v", f)
	}
	low := math.Inf(1)
	for k, f := range d.Feet[1:] {
		near(t, f.Foot, f.Shim, r.Calc.BoltShims[k], 1e-9)
		low = min(low, f.Shim)
	}
	if low != 0 || len(d.Feet) != 9 {
		t.Errorf("least shim %v of %d", low, len(d.Feet)-1)
	}
	near(t, "offset after", d.Couplings[0].OffV, 0, 1e-9)
	near(t, "slope after", d.Couplings[0].SlopeV, 0, 1e-9)
	// The register leaves less than that.
	_, d = oneTrain(t, row("0.5,0.5,0.5,0.5"))
	if d.Status != "impossible" || len(d.Short) != 1 || d.Short[0].Foot != "flange" || d.Short[0].Direction != "down" || !strings.Contains(d.Why, "held by the register") {
		t.Fatalf("%+v", d)
	}
	near(t, "missing", d.Short[0].Missing, slide-0.5, 1e-9)
	j := with(t, row("0.5,0.5,0.5,0.5"), job.TrainsSheet, "Train,Plan\nV,least work\n")
	e, d = oneTrain(t, j)
	if d.Status != "possible" || d.After != "inside" || *d.Feet[0].Slide < -0.5-1e-9 {
		t.Fatalf("%+v", d)
	}
	near(t, "the row's slide", e.Row(0).Calc.SlideV, *d.Feet[0].Slide, 1e-9)
	near(t, "the row's line after", e.Row(0).Calc.After.DV, d.Couplings[0].Packs.OffV, 1e-9)
	near(t, "the row's slope after", e.Row(0).Calc.After.TH, d.Couplings[0].Packs.SlopeH, 1e-9)
}

// Each sentence about what is missing, tried: the room widened by what it says makes the plan possible, a hair less does not; the machine it names, moved too, does.
func TestTrainSentencesTrue(t *testing.T) {
	base := func(front, rear, may string) *trainDoc {
		j := trainJob(t, "Front room down,Rear room down", front+","+rear, ",")
		with(t, j, job.TrainsSheet, "Train,Machine,May move\nT1,Gear,"+may+"\n")
		_, d := oneTrain(t, j)
		return d
	}
	d := base("0.1", "0", "")
	if !strings.Contains(d.Why, "base-bound: the feet near of Motor need 0.23 mm more room down; base-bound: the feet far of Motor need 0.45 mm more room down (all of these together") ||
		!strings.Contains(d.Why, "or move Gear too") || !strings.Contains(d.Why, "the plan least work") {
		t.Error(d.Why)
	}
	if x := base("0.33", "0.45", ""); x.Status != "possible" {
		t.Error(x.Why)
	}
	if x := base("0.33", "0.4499", ""); x.Status != "impossible" {
		t.Error("a hair less is enough")
	}
	if x := base("0.1", "0", "yes"); x.Status != "possible" {
		t.Error(x.Why)
	}
	// The side by the name people gave it.
	_, d = oneTrain(t, trainJob(t, "Side at 3,Side at 9,Front room left", "river side,hillside,", "hillside,river side,0.1"))
	if !strings.Contains(d.Why, "bolt-bound: the feet near of Pump need 0.22 mm more room towards the river side") {
		t.Error(d.Why)
	}
}

// After each round the plan is made anew: what was done leaves the order of the work, and the rest is planned from the new readings.
func TestTrainOrderAfterRound(t *testing.T) {
	e, _ := oneTrain(t, trainJob(t, "", "", ""))
	first := e.Trains()[0].Steps
	if len(first) != 4 || first[0].Machine != "Motor" || first[0].Sideways || first[0].Feet[0] != "far" || first[2].Machine != "Pump" {
		t.Errorf("%+v", first)
	}
	j := with(t, trainJob(t, "", "", ""), job.RoundsSheet, "Machine,Round,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\nMotor,1,0,0,0,0,0,0,0,0\n")
	e, _ = oneTrain(t, j)
	for _, s := range e.Trains()[0].Steps {
		if s.Machine == "Motor" {
			t.Errorf("%+v", s)
		}
	}
}

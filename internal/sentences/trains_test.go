package sentences

import (
	"bytes"
	"encoding/json"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// The worked train, a row a coupling; the gear is Stationary for both.
const (
	trainHeader = "Train,Machine,Stationary,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Stationary near support,Stationary far support," +
		"Offset limit,Slope limit,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9"
	trainMotor = "T1,Motor,Gear,100,100,300,1200,300,900,0.1,0.5,0,-0.39,-0.62,-0.23,0,0.41,0.58,0.17"
	trainPump  = "t1 ,Pump,GEAR,100,100,200,600,400,1000,0.1,0.5,0,0.26,-0.10,-0.36,0,-0.14,0.30,0.44"
)

// rows makes the worked train with more columns: header, and what stands in each row.
func trainJob(t testing.TB, header, motor, pump string) *job.Job {
	t.Helper()
	tail := func(s string) string {
		if s == "" {
			return ""
		}
		return "," + s
	}
	return list(t, trainHeader+tail(header)+"\n"+trainMotor+tail(motor)+"\n"+trainPump+tail(pump)+"\n")
}

type trainDoc struct {
	Train, Aim, Status, Why string
	Plan                    string
	Chosen                  bool
	After                   string `json:"after_verdict"`
	Alternatives            []struct {
		Plan, Also, Status, Why string
		After                   string   `json:"after_verdict"`
		Largest                 *float64 `json:"largest_move_mm"`
		Total                   *float64 `json:"total_move_mm"`
	}
	Largest *float64 `json:"largest_move_mm"`
	Total   *float64 `json:"total_move_mm"`
	Feet    []struct {
		Machine, Foot string
		Station       float64  `json:"station_mm"`
		Shim          float64  `json:"shim_mm"`
		Move          float64  `json:"move_mm"`
		Left          *float64 `json:"room_left_mm"`
		Right         *float64 `json:"room_right_mm"`
		Slide         *float64 `json:"slide_12_mm"`
		Packs         struct {
			Net *float64 `json:"net_mm"`
		}
	}
	Couplings []struct {
		Machine string
		Row     int
		Verdict string
		Share   *float64 `json:"share_of_limit_pct"`
		OffV    float64  `json:"offset_v_mm"`
		OffH    float64  `json:"offset_h_mm"`
		SlopeV  float64  `json:"slope_v"`
		SlopeH  float64  `json:"slope_h"`
		Packs   *struct {
			OffV   float64 `json:"offset_v_mm"`
			SlopeH float64 `json:"slope_h"`
		} `json:"after_packs"`
	}
	Short []struct {
		Machine, Foot, Direction string
		Missing                  float64 `json:"missing_mm"`
		Fixed                    bool    `json:"must_not_move"`
	}
}

func trainsOf(t testing.TB, j *job.Job) (*Teller, []trainDoc) {
	t.Helper()
	e := work(t, j)
	var b bytes.Buffer
	if err := e.ResultsJSON(&b); err != nil {
		t.Fatal(err)
	}
	var doc struct{ Trains []trainDoc }
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatalf("%v in %s", err, &b)
	}
	return e, doc.Trains
}

func oneTrain(t testing.TB, j *job.Job) (*Teller, *trainDoc) {
	t.Helper()
	e, list := trainsOf(t, j)
	if len(list) != 1 {
		t.Fatalf("%d trains", len(list))
	}
	return e, &list[0]
}

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

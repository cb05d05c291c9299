package jobtest

import (
	"io"
	"testing"

	"shimsheet/internal/job"
)

// TrainHeader, TrainMotor and TrainPump are the worked train, a row a coupling; the gear is Stationary for both.
const (
	TrainHeader = "Train,Machine,Stationary,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Stationary near support,Stationary far support," +
		"Offset limit,Slope limit,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9"
	TrainMotor = "T1,Motor,Gear,100,100,300,1200,300,900,0.1,0.5,0,-0.39,-0.62,-0.23,0,0.41,0.58,0.17"
	TrainPump  = "t1 ,Pump,GEAR,100,100,200,600,400,1000,0.1,0.5,0,0.26,-0.10,-0.36,0,-0.14,0.30,0.44"
)

// Train makes the worked train with more columns: header, and what stands in each row.
func Train(t testing.TB, header, motor, pump string) *job.Job {
	t.Helper()
	tail := func(s string) string {
		if s == "" {
			return ""
		}
		return "," + s
	}
	return List(t, TrainHeader+tail(header)+"\n"+TrainMotor+tail(motor)+"\n"+TrainPump+tail(pump)+"\n")
}

// TrainText is the worked train in lines, a row a coupling; the gear is Stationary for both.
var TrainText = []string{
	"Machines: Train=T1 | Machine=Motor | Stationary=Gear | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=300 | Front to rear feet=1200 | Stationary near support=300 | " +
		"Stationary far support=900 | Offset limit=0.1 | Slope limit=0.5 | Movable rim 12=0 | Movable rim 3=-0.39 | Movable rim 6=-0.62 | Movable rim 9=-0.23 | Stationary rim 12=0 | Stationary rim 3=0.41 | " +
		"Stationary rim 6=0.58 | Stationary rim 9=0.17",
	"Machines: Train=t1 | Machine=Pump | Stationary=GEAR | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=200 | Front to rear feet=600 | Stationary near support=400 | " +
		"Stationary far support=1000 | Offset limit=0.1 | Slope limit=0.5 | Movable rim 12=0 | Movable rim 3=0.26 | Movable rim 6=-0.10 | Movable rim 9=-0.36 | Stationary rim 12=0 | Stationary rim 3=-0.14 | " +
		"Stationary rim 6=0.30 | Stationary rim 9=0.44",
}

// A TrainDoc is what JSON says of a train.
type TrainDoc struct {
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

// Trains decodes the trains of a result in JSON, which write writes.
func Trains(t testing.TB, write func(io.Writer) error) []TrainDoc {
	t.Helper()
	var doc struct{ Trains []TrainDoc }
	decode(t, write, &doc)
	return doc.Trains
}

// OneTrain is the only one.
func OneTrain(t testing.TB, write func(io.Writer) error) *TrainDoc {
	t.Helper()
	list := Trains(t, write)
	if len(list) != 1 {
		t.Fatalf("%d trains", len(list))
	}
	return &list[0]
}

// Stand checks station, shim and move of feet by "Machine foot", −9 not asked.
func (d *TrainDoc) Stand(t testing.TB, want map[string][3]float64) {
	t.Helper()
	if d.Status != "possible" {
		t.Fatalf("%+v", d)
	}
	seen := 0
	for _, f := range d.Feet {
		w, ok := want[f.Machine+" "+f.Foot]
		if !ok {
			continue
		}
		seen++
		Near(t, f.Machine+" "+f.Foot+" station", f.Station, w[0], 1e-9)
		for k, got := range [2]float64{f.Shim, f.Move} {
			if w[k+1] > -9 {
				Near(t, f.Machine+" "+f.Foot, got, w[k+1], 1e-9)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d feet in %+v", seen, len(want), d.Feet)
	}
}

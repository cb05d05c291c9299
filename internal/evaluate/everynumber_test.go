package evaluate

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// everyKind is a job with a row of each kind of coupling and mounting, and numbers that no two columns share, so that a column taken for another shows.
func everyKind(t testing.TB, units string) *Evaluator {
	head := "Machine,Coupling,Mounting,Method,Speed,Spacer length [mm],Coupling to flange [mm],Bolt circle [mm],Bolts,Coupling to stationary plane [mm],Coupling to movable plane [mm],Coupling to front feet [mm],Front to rear feet [mm]," +
		"Movable rim 12 [mm],Movable rim 3 [mm],Movable rim 6 [mm],Movable rim 9 [mm],Stationary rim 12 [mm],Stationary rim 3 [mm],Stationary rim 6 [mm],Stationary rim 9 [mm],Running offset V [mm],Running slope H [mm/m],Shaft gap [mm],Gap wanted [mm]\n"
	rims := "0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01"
	far := "0,0.33,0.52,0.19,0,-0.25,-0.36,-0.11"
	rows := "short,short,,reverse indicator,1480,,,,,100,140,300,500," + rims + ",0.02,0.1,3.2,3\n" +
		"spacer,spacer,,reverse indicator,1480,400,,,,260,310,600,700," + far + ",0.03,-0.07,,\n" +
		"turned spacer,spacer,,reverse indicator,980,300,,,,210,190,520,640," + rims + ",,,,\n" +
		"universal,universal,,reverse indicator,980,700,,,,200,150,420,800," + far + ",,,,\n" +
		"flange,short,vertical flange,reverse indicator,1480,,180,500,8,110,90,,," + far + ",0.01,,,\n"
	e := work(t, with(t, list(t, head+rows), job.SettingsSheet, "Name,Value\nUnits,"+units+"\n"))
	for i := range e.Len() {
		if r := e.Row(i); !r.HasLine() {
			t.Fatalf("%s: %v", r.Name, r.Problems)
		}
	}
	return e
}

// jsonKeys are the names under which JSON may have a result column.
func jsonKeys(key string) []string { return []string{key + "_mm", key, key + "_pct"} }

// Every number that the list of results shows, and every ±, is the one of the same name in JSON, in the unit its header names, to the digits shown.
func TestResultsTextAgainstJSON(t *testing.T) {
	for _, units := range []string{"metric", "inch"} {
		e := everyKind(t, units)
		var b bytes.Buffer
		if err := e.ResultsCSV(&b); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), "\ufeff"))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		js := machines(t, e)
		if len(rows) != len(js)+1 {
			t.Fatalf("%d rows for %d machines", len(rows), len(js))
		}
		factor := map[string]float64{"mm": 1, "in": 25.4, "mil": 0.0254, "mm/m": 1, "mil/in": 1, "%": 1}
		compared, pms := 0, 0
		for c, head := range rows[0] {
			name, unit, ok := strings.Cut(strings.TrimPrefix(head, "± "), " [")
			unit = strings.TrimSuffix(unit, "]")
			if !ok || c < len(e.Job().Machines.Header) {
				continue
			}
			pm := strings.HasPrefix(head, "± ")
			var key string
			for _, rc := range job.ResultColumns() {
				if rc.Name == name {
					key = rc.Key
				}
			}
			if strings.HasSuffix(key, "_pack") {
				continue // words, see TestPacksAgree
			}
			if key == "" || factor[unit] == 0 {
				t.Fatalf("%s: what column or unit is that?", head)
			}
			for i, m := range js {
				var want any
				found := false
				for _, k := range jsonKeys(key) {
					if pm {
						k = "u_" + k
					}
					if v, ok := m[k]; ok {
						want, found = v, true
					}
				}
				if _, number := want.(float64); found && want != nil && !number {
					continue // pieces and the like
				}
				if !found {
					if cell := rows[i+1][c]; cell != "" {
						if _, err := strconv.ParseFloat(cell, 64); err == nil {
							t.Errorf("%s, %s: %s stands in the list and nothing in JSON", m["machine"], head, cell)
						}
					}
					continue
				}
				cell := rows[i+1][c]
				if (want == nil) != (cell == "") {
					t.Errorf("%s, %s: %q where JSON has %v", m["machine"], head, cell, want)
				}
				if want == nil || cell == "" {
					continue
				}
				got, err := strconv.ParseFloat(cell, 64)
				_, frac, _ := strings.Cut(cell, ".")
				if half := 0.5*math.Pow10(-len(frac)) + 1e-9; err != nil || math.Abs(got-want.(float64)/factor[unit]) > half {
					t.Errorf("%s %s, %s: %q, JSON has %v", units, m["machine"], head, cell, want)
				}
				compared++
				if pm {
					pms++
				}
			}
		}
		if compared < 60 || pms < 25 {
			t.Errorf("%s: only %d numbers and %d ± were compared", units, compared, pms)
		}
	}
}

// The angles at the flex planes with their ±, from the line and its covariance by the law of propagation (JCGM 100, 5.2.2): at the stationary plane V(+L/2)/L,
// at the movable one −V(−L/2)/L.
func TestFlexAnglesByPropagation(t *testing.T) {
	e := everyKind(t, "metric")
	js := machines(t, e)
	seen := 0
	for i := range e.Len() {
		r := e.Row(i)
		l := map[string]float64{"spacer": 400, "turned spacer": 300}[r.Name]
		if l == 0 {
			continue
		}
		m := js[i]
		c := &r.Calc.Cov
		n := func(k string) float64 {
			v, ok := m[k].(float64)
			if !ok {
				t.Fatalf("%s: %s is %v", r.Name, k, m[k])
			}
			return v
		}
		w := &r.Wanted
		if r.Calc.Cov == (calc.Cov{}) {
			t.Fatal("no covariance")
		}
		for _, p := range []struct {
			axis string
			d, s float64
			o    int
		}{{"_v", n("offset_v_mm") - w.DV, n("slope_v") - w.TV, 0}, {"_h", n("offset_h_mm") - w.DH, n("slope_h") - w.TH, 2}} {
			for _, at := range []struct {
				key  string
				sign float64
			}{{"flex_stationary", 1}, {"flex_movable", -1}} {
				near(t, r.Name+" "+at.key+p.axis, n(at.key+p.axis), at.sign*1000*p.d/l+p.s/2, 1e-9)
				k := at.sign * 1000 / l
				u := 2 * math.Sqrt(k*k*c[p.o][p.o]+k*c[p.o][p.o+1]+c[p.o+1][p.o+1]/4)
				// A little more is right: distances are not known exactly either.
				if got := n("u_" + at.key + p.axis); got < u-1e-9 || got > 1.01*u {
					t.Errorf("%s: ± of %s%s is %g, by propagation %g", r.Name, at.key, p.axis, got, u)
				}
				seen++
			}
		}
		if math.Abs(n("u_flex_stationary")-n("u_flex_movable")) < 1e-3 {
			t.Errorf("%s: both planes have ± %g, so one could stand for the other unseen", r.Name, n("u_flex_movable"))
		}
	}
	if seen != 8 {
		t.Errorf("%d angles", seen)
	}
}

// The order list of a job small enough to count by hand: two machines of four feet each, three pieces.
//
//	A: front 0.50 under two feet, rear 0.50 + 0.20 under two    B: front 0.20 under two feet, rear 0.50 + 0.25 under two
func TestOrderListByHand(t *testing.T) {
	head := "Machine,Coupling,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	// Shim = −(offset + slope · station): A −0.5 at 500 and −0.7 at 1000; B −0.2 and −0.75.
	j := list(t, head+"A,short,line,1480,500,500,-0.3,0,-0.4,0\nB,short,line,1480,500,500,0.35,0,-1.1,0\n")
	with(t, j, job.StockSheet, "Thickness,Pieces on hand\n0.5,5\n0.25,2\n0.2,4\n")
	with(t, j, job.SettingsSheet, "Name,Value\nUnits,metric\nSpare shims,0\n")
	e := work(t, j)
	a, err := e.Allocate(nil)
	if err != nil {
		t.Fatal(err)
	}
	want := map[float64]struct{ pieces, used, missing, machines int }{
		0.5:  {6, 4, 1, 2}, // A front 2, A rear 2, B rear 2; five on hand, so only one machine can be finished, and that is A or B with four or two
		0.25: {2, 0, 0, 1}, // B rear
		0.2:  {4, 2, 0, 2}, // A rear 2, B front 2
	}
	if len(a.Orders) != len(want) {
		t.Fatalf("%d lines", len(a.Orders))
	}
	for i := range a.Orders {
		o := &a.Orders[i]
		w := want[o.Stock.MM]
		if o.Pieces != w.pieces || o.Used != w.used || o.Missing != w.missing || o.Machines != w.machines {
			t.Errorf("%g mm: %d pieces, %d under feet that are met, %d missing, for %d couplings; by hand %+v", o.Stock.MM, o.Pieces, o.Used, o.Missing, o.Machines, w)
		}
	}
	if len(a.Picks) != 8 {
		t.Errorf("%d feet in the pick list of eight", len(a.Picks))
	}
	asked, met := a.MachinesServed()
	if asked != 2 || met != 1 || a.Plan.Asked != 8 {
		t.Errorf("%d machines of %d whole, %d feet asked", met, asked, a.Plan.Asked)
	}
	var b bytes.Buffer
	if err := e.ListText(&b, "order"); err != nil {
		t.Fatal(err)
	}
	for _, w := range []string{"0.50", "0.25", "0.20"} {
		if !strings.Contains(b.String(), w) {
			t.Errorf("no %s in\n%s", w, &b)
		}
	}
}

// A part of the Growth sheet that cannot be read, or that cannot be said to belong elsewhere, is not left out in silence: the machine is not judged. The frame grows 0.1 mm
// and the casing another 0.1 mm, and without either the machine would be called inside.
func TestNoGrowthPartIsLeftOut(t *testing.T) {
	head := "Machine,Support,Part,Height,Material,Coefficient,Cold,Running,Growth V,Growth H,Direction\n"
	parts := []string{"pump,movable front,frame,200,,10,20,70,,,", "pump,movable front,casing,200,,10,20,70,,,", "pump,movable rear,frame,200,,10,20,70,,,", "pump,movable rear,casing,200,,10,20,70,,,"}
	// Found low by 0.2 mm all along: in line when hot, with all parts.
	cells := []string{"Speed=1480", "Coupling=short", "Method=line", "Coupling to front feet=300", "Front to rear feet=500", "Given offset V=-0.2", "Given offset H=0", "Given slope V=0", "Given slope H=0"}
	_, r := grown(t, cells, "Growth", head+strings.Join(parts, "\n")+"\n")
	if r.Verdict != calc.Inside {
		t.Fatalf("whole: %v %v", r.Verdict, r.Problems)
	}
	near(t, "the wanted offset", r.Wanted.DV, -0.2, 1e-12)
	for i := range parts {
		left := append(append([]string{}, parts[:i]...), parts[i+1:]...)
		if _, r := grown(t, cells, "Growth", head+strings.Join(left, "\n")+"\n"); r.Verdict == calc.Inside {
			t.Fatalf("part %d does not matter: the test is no test", i)
		}
		for what, row := range map[string]string{
			"a height that cannot be read":         strings.Replace(parts[i], ",200,", ",2OO,", 1),
			"no machine":                           strings.Replace(parts[i], "pump", "", 1),
			"a support nobody knows":               strings.Replace(parts[i], "movable", "moveabel", 1),
			"a coefficient that cannot be read":    strings.Replace(parts[i], ",10,20,", ",1O,20,", 1),
			"a temperature that cannot be read":    strings.Replace(parts[i], ",70,", ",7O,", 1),
			"no running temperature":               strings.Replace(parts[i], ",70,", ",,", 1),
			"no height":                            strings.Replace(parts[i], ",200,", ",,", 1),
			"a material nobody knows":              strings.Replace(parts[i], ",,10,", ",unobtainium,,", 1),
			"a height and a growth for one part":   strings.Replace(parts[i], "70,,,", "70,0.1,,", 1),
			"a direction nobody knows":             parts[i] + "somewhere",
			"a cold temperature that is no number": strings.Replace(parts[i], ",20,70", ",cold,70", 1),
		} {
			all := append([]string{}, parts...)
			all[i] = row
			if row == parts[i] {
				t.Fatalf("%s: nothing was spoiled", what)
			}
			e, r := grown(t, cells, "Growth", head+strings.Join(all, "\n")+"\n")
			told := false
			for _, p := range append(e.Problems(), r.Problems...) {
				told = told || p.Severity == job.Error && strings.Contains(p.String(), fmt.Sprint("row ", i+2))
			}
			if i == 0 && what == "no machine" { // Before the first named machine a row belongs to nobody that could be known; it is told.
				if !told {
					t.Errorf("part %d with %s: not told", i, what)
				}
				continue
			}
			if r.Verdict != calc.NotJudged || !told {
				t.Errorf("part %d with %s: %v, told %v", i, what, r.Verdict, told)
			}
		}
	}
}

package evaluate

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"shimsheet/internal/job"
	"strconv"
	"strings"
	"testing"
)

// TestResultNames holds the names of the JSON result that people were promised.
func TestResultNames(t *testing.T) {
	e, r := one(t, change(reverse, "Side at 3=river side")...)
	m := machines(t, e)[0]
	for _, n := range strings.Fields(`machine verdict why row sheet method coupling status offset_v_mm offset_h_mm offset_mm slope_v slope_h slope u_offset_v_mm u_offset_h_mm u_offset_mm
		u_slope_v u_slope_h u_slope share_of_limit_pct chance_inside_pct front_shim_mm rear_shim_mm further_shims_mm u_front_shim_mm u_rear_shim_mm front_move_mm rear_move_mm
		u_front_move_mm front_pack_mm rear_pack_mm front_remove_mm rear_remove_mm wanted_offset_v_mm wanted_offset_h_mm wanted_slope_v wanted_slope_h after_offset_v_mm after_offset_h_mm
		after_slope_v after_slope_h after_share_of_limit_pct after_verdict flex_stationary_v flex_movable slide_v_mm bolt_shims_mm limits checks problems hints`) {
		if _, ok := m[n]; !ok {
			t.Errorf("no %s", n)
		}
	}
	if m["machine"] != "pump" || m["row"] != 2.0 || m["sheet"] != "Machines" || m["method"] != "reverse indicator" || m["status"] != "computed" {
		t.Errorf("%v", m)
	}
	// Exact to the last bit.
	for k, want := range map[string]float64{"offset_v_mm": r.Offset.V, "u_slope_h": r.Slope.UH, "rear_shim_mm": r.Calc.Feet[1].Shim, "after_offset_h_mm": r.Calc.After.DH} {
		if got := m[k].(float64); math.Float64bits(got+0) != math.Float64bits(want+0) {
			t.Errorf("%s is %v, want %v", k, got, want)
		}
	}
	if m["flex_movable"] != nil || m["slide_v_mm"] != nil {
		t.Error("numbers that do not exist are there")
	}
	checks := m["sweep_checks"].([]any)
	if len(checks) != 2 || checks[1].(map[string]any)["sweep"] != "Stationary rim" || checks[0].(map[string]any)["closure_mm"] != nil {
		t.Error(checks)
	}
}

// TestManyRowsAreOneDocument is for the flushes between rows.
func TestManyRowsAreOneDocument(t *testing.T) {
	tab, _, _ := job.ReadDelimited("Machines", bigList(300), 0)
	tab.SplitHeader(job.MachinesSheet)
	if m := machines(t, work(t, &job.Job{Machines: tab})); len(m) != 300 || m[299]["machine"] != "P-299" {
		t.Error(len(m))
	}
	for n := 20; n < 40; n++ { // a flush may fall on the last row
		tab, _, _ := job.ReadDelimited("Machines", bigList(n), 0)
		tab.SplitHeader(job.MachinesSheet)
		if m := machines(t, work(t, &job.Job{Machines: tab})); len(m) != n {
			t.Error(n, len(m))
		}
	}
}

// TestCSVOut: the list comes out as it was typed, every digit of the results in columns of their own, and it can be read in again.
func TestCSVOut(t *testing.T) {
	csv := "Spring list\nMachine,Order,Speed,Given offset V,Given offset H,Given slope V,Given slope H,Front feet,Feet distance,Offset V\n" +
		"P 1,=1+1,1480,0.1,-0.04,0.5,0.2,300,500,99\n\nP 2,-7,1480,abc,0,0,0,,,99\n\"P,3\",,,0,0,0,0,300,500\n"
	for _, mark := range []string{"point", "comma"} {
		j := list(t, csv)
		if mark == "comma" {
			for _, row := range j.Machines.Rows {
				for k := range row {
					row[k] = strings.ReplaceAll(row[k], ".", ",")
				}
			}
		}
		e := work(t, with(t, j, job.SettingsSheet, "Decimal sign;"+mark+"\n"))
		var b bytes.Buffer
		if err := e.ResultsCSV(&b); err != nil {
			t.Fatal(err)
		}
		back, problems, err := job.ReadDelimited("Machines", b.Bytes(), 0)
		if err != nil || len(problems) > 0 || !back.SplitHeader(job.MachinesSheet) {
			t.Fatal(err, problems, b.String())
		}
		if len(back.Rows) != 4 || len(back.Title) != 1 || back.Cell(0, 1) != "'=1+1" || back.Cell(2, 1) != "-7" || back.Cell(3, 0) != "P,3" {
			t.Errorf("%s:\n%s", mark, &b)
		}
		cell := func(row int, name string) string {
			for k, h := range back.Header {
				if h == name {
					return back.Cell(row, k)
				}
			}
			t.Fatalf("no column %s in %q", name, back.Header)
			return ""
		}
		v, err := strconv.ParseFloat(strings.Replace(cell(0, "Rear shim [mm]"), ",", ".", 1), 64)
		if err != nil || v != e.Row(0).Calc.Feet[1].Shim {
			t.Error(v, err)
		}
		if cell(0, "Verdict") != "too close to call" || cell(1, "Verdict") != "" || cell(2, "Verdict") != "not judged" || cell(2, "Offset V [mm]") != "" || cell(0, "± Offset V [mm]") == "" {
			t.Error(b.String())
		}
		if n := strings.Count(strings.Join(back.Header, "|"), "Offset V"); n != 2 {
			t.Errorf("the typed result column is still there: %q", back.Header)
		}
		j2 := &job.Job{Machines: back, Settings: j.Settings}
		e2 := work(t, j2)
		for i := range back.Rows {
			a, b := e.Row(i), e2.Row(i)
			if a.Verdict != b.Verdict || a.Kind != b.Kind || a.Kind == MachineRow && a.HasLine() && a.Offset != b.Offset {
				t.Errorf("row %d read in again: %v, was %v", i, b, a)
			}
		}
	}
}

func TestTextTable(t *testing.T) {
	e, _ := one(t, change(reverse, "Side at 3=river side", "Note=x")...)
	e.Job().Machines.Rows[0][0] = "pump\x1b[31m 1"
	e.Refresh()
	var b bytes.Buffer
	if err := e.ResultsText(&b); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "\x1b") || !strings.Contains(b.String(), "1 coupling: 0 inside, 1 outside") || !strings.Contains(b.String(), "lock and tag out") {
		t.Error(b.String())
	}
	b.Reset()
	if work(t, job.NewJob()).ResultsText(&b); b.String() != "no couplings\n" {
		t.Error(b.String())
	}
}

func TestResultColumns(t *testing.T) {
	e, _ := one(t, reverse...)
	got := map[string]string{}
	for i, c := range job.ResultColumns() {
		got[c.Key] = string(e.AppendResultText(nil, 0, i))
	}
	for k, want := range map[string]string{"verdict": "outside", "offset_v": "0.100 ± ", "front_shim": "-0.25 ± ", "rear_move": "0.12 ± ", "front_pack": "take out 0.25", "after_verdict": "inside",
		"balance": "Movable rim 0.000 of 0.030; Stationary rim 0.000 of 0.020", "closure": "", "flex_movable": "", "further_shims": "", "slope_h": "0.20 ± "} {
		if !strings.HasPrefix(got[k], want) || want == "" && got[k] != "" {
			t.Errorf("%s is shown as %q, want %q", k, got[k], want)
		}
	}
	if !strings.HasSuffix(got["rear_move"], " 9 o'clock side") || !strings.Contains(got["why"], "over its limit") {
		t.Error(got["rear_move"], got["why"])
	}
	if e.AppendResultText(nil, 5, 0) != nil || e.AppendResultText(nil, 0, 999) != nil {
		t.Error("cells that are not there")
	}
}

func TestJobJSON(t *testing.T) {
	j := list(t, "title\nMachine, Speed \n </script><!--,\"two\nlines\"\n\nü\u2028\x01\x7f\\\"&\n")
	j.Revision, j.SavedAt = 7, "2031-04-05T06:07:08Z"
	with(t, j, job.SettingsSheet, "Units,inch\n")
	j.Readings = &job.Table{Name: "Readings", Rows: [][]string{{}, nil, {""}, {" "}}, FirstRow: 1}
	data, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	if bytes.ContainsAny(data, "<>") || bytes.Contains(data, []byte("\u2028")) {
		t.Errorf("%s", data)
	}
	if again, err := json.Marshal(j); err != nil || !json.Valid(again) {
		t.Error(err)
	}
	var back job.Job
	if err := json.Unmarshal(data, &back); err != nil {
		t.Fatal(err)
	}
	for k := range job.NumSheets {
		a, b := j.Table(k), back.Table(k)
		if (a == nil) != (b == nil) {
			t.Fatal(k, a, b)
		}
		if a == nil {
			continue
		}
		if !reflect.DeepEqual(a.Header, b.Header) || !reflect.DeepEqual(a.Title, b.Title) || a.FirstRow != b.FirstRow || len(a.Rows) != len(b.Rows) {
			t.Errorf("%v:\n%+v\n%+v", k, a, b)
		}
		for i := range a.Rows {
			if strings.Join(a.Rows[i], "\x00") != strings.Join(b.Rows[i], "\x00") || len(a.Rows[i]) != len(b.Rows[i]) {
				t.Errorf("%v row %d: %q %q", k, i, a.Rows[i], b.Rows[i])
			}
		}
	}
	if back.ID != j.ID || back.Revision != 7 || back.SavedAt != j.SavedAt {
		t.Error(back)
	}
	twice, err := back.MarshalJSON()
	if err != nil || !bytes.Equal(data, twice) {
		t.Errorf("saved again it differs:\n%s\n%s", data, twice)
	}

	// An older version opens, a newer one and what is no job do not, and leave the job as it is.
	old := job.Job{}
	if err := old.UnmarshalJSON([]byte(`{"format":"shimsheet job","version":0,"machines":{"header":["Machine"],"rows":[["P 1"]]}}`)); err != nil || old.Machines.Cell(0, 0) != "P 1" || old.ID == "" {
		t.Error(err, old)
	}
	for _, bad := range []string{`{"format":"shimsheet job","version":7}`, `{}`, `[]`, `null`, ``, `{"format":"shimsheet job","version":1,"machines":{"rows":[[1]]}}`, `{"format":"shimsheet job","version":1`} {
		was := back.ID
		if err := back.UnmarshalJSON([]byte(bad)); err == nil || back.ID != was {
			t.Errorf("%s was opened", bad)
		} else if strings.Contains(bad, `"version":7`) && !strings.Contains(err.Error(), "newer version") {
			t.Error(err)
		}
	}
	j.Machines.Rows[0][0] = "\xff"
	if _, err := j.MarshalJSON(); err == nil {
		t.Error("a text that would not come back was saved")
	}
	if a, b := job.NewJob(), job.NewJob(); a.ID == b.ID || len(a.ID) != 32 {
		t.Error(a.ID, b.ID)
	}
}

// How sheets are shown is kept with the job, and whatever stands there, the job opens.
func TestJobViews(t *testing.T) {
	j := job.NewJob()
	j.Views = map[string]string{"machines": `view1;W120,Movable "rim" <3>;`, "a sheet of later": "view9;"}
	b, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	var back job.Job
	if err := back.UnmarshalJSON(b); err != nil || !reflect.DeepEqual(back.Views, j.Views) {
		t.Errorf("%v, %q", err, back.Views)
	}
	for _, views := range []string{`null`, `7`, `"x"`, `[1]`, `{"machines":7}`, `{"machines":{"a":1}}`} {
		text := `{"format":"shimsheet job","version":1,"id":"a","views":` + views + `,"machines":{"name":"Machines","header":["Machine"],"rows":[["P1"]]}}`
		if err := back.UnmarshalJSON([]byte(text)); err != nil || back.Machines.Cell(0, 0) != "P1" || len(back.Views) > 0 {
			t.Errorf("%s: %v, %q", views, err, back.Views)
		}
	}
}

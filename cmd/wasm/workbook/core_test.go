package main

import (
	"encoding/json"
	"os"
	"strings"
	"testing"

	"shimsheet/internal/sheet"
)

func TestAnswer(t *testing.T) {
	data, err := os.ReadFile("../../../testdata/demo/job.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	ask := func(r request) reply {
		t.Helper()
		last := 0.0
		out, err := answer(&r, func(x float64) {
			if x < last || x > 1 {
				t.Errorf("%s: progress %v behind %v", r.op, x, last)
			}
			last = x
		})
		if err != nil {
			t.Fatalf("%s: %v", r.op, err)
		}
		return out
	}
	var p struct{ Sheets []struct{ Name, Kind string } }
	if err := json.Unmarshal(ask(request{op: "inspect", name: "job.xlsx", data: data}).json, &p); err != nil || len(p.Sheets) != 4 || p.Sheets[0].Kind != "job" {
		t.Errorf("%+v %v", p, err)
	}
	var both struct {
		Job    json.RawMessage
		Report struct{ Own bool }
	}
	if err := json.Unmarshal(ask(request{op: "read", name: "job.xlsx", data: data, choices: `{"sheets":[{"sheet":"Stock","kind":""}]}`}).json, &both); err != nil || !both.Report.Own {
		t.Fatal(err)
	}
	j := new(sheet.Job)
	if err := j.UnmarshalJSON(both.Job); err != nil || j.Stock != nil || len(j.Machines.Rows) != 24 {
		t.Fatal(err)
	}
	file := ask(request{op: "write", job: string(both.Job), options: `{"live":true}`}).file
	back := ask(request{op: "read", name: "out.xlsx", data: file}).json
	var again struct{ Job json.RawMessage }
	if err := json.Unmarshal(back, &again); err != nil {
		t.Fatal(err)
	}
	if a, b := strings.ReplaceAll(string(again.Job), "out.xlsx", "job.xlsx"), string(both.Job); a != b {
		t.Error("the job that comes back differs")
	}
	if added := ask(request{op: "addTo", job: string(both.Job), data: data}).file; len(added) <= len(data) {
		t.Error("nothing was added")
	}
	for _, r := range []request{{op: "inspect", name: "x.xlsx", data: []byte("no")}, {op: "read", name: "x.xlsx"}, {op: "read", name: "job.xlsx", data: data, choices: `{"sheet":[]}`},
		{op: "write", job: "{}"}, {op: "write", job: string(both.Job), options: "[]"}, {op: "addTo", job: string(both.Job)}, {op: "erase"}} {
		if out, err := answer(&r, func(float64) {}); err == nil || out.file != nil || out.json != nil || strings.Contains(err.Error(), "fault of the program") {
			t.Errorf("%s: %v", r.op, err)
		}
	}
}

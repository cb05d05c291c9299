package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The numbers of a job stand on the terminal, and go into a list, into JSON and into a drawing; an earlier job stands beside them.
func TestStats(t *testing.T) {
	demo, err := filepath.Abs("../../testdata/demo/job.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	dir := in(t, map[string]string{"old.csv": header + good, "new.csv": header + good + strings.Replace(good, "P 1,", "P 2,", 1), "job.csv": "Setting,Value\nName,Last year\n"})
	do := func(want int, args ...string) string {
		t.Helper()
		status, out, errs := start(t, dir, args...)
		if status != want {
			t.Fatalf("%v: exit status %d, want %d\n%s%s", args, status, want, out, errs)
		}
		return out + errs
	}
	do(0, "sign", "old.csv", "-job", "job.csv", "-machine", "P 1", "-by", "crew 1", "-at", "2025-04-12 10:00", "-o", "old.json")
	do(0, "sign", "new.csv", "-machine", "P 1", "-by", "crew 1", "-at", "2026-04-12 10:00", "-o", "new.json")
	out := do(0, "stats", demo, "old.json")
	for _, want := range []string{"Inside at the first attempt", "How well sweeps repeat", "How far feet missed", "Last year", "Spring shutdown"} {
		if !strings.Contains(out, want) {
			t.Errorf("%q is not in\n%s", want, out)
		}
	}
	for _, name := range []string{"n.csv", "n.json", "n.svg"} {
		do(0, "stats", "new.json", "old.json", "-o", name)
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(data), "Last year") {
			t.Errorf("%s: the earlier job is not in it\n%s", name, data)
		}
		switch filepath.Ext(name) {
		case ".json":
			var x struct{ Jobs []struct{ Machines int } }
			if err := json.Unmarshal(data, &x); err != nil || len(x.Jobs) != 2 || x.Jobs[0].Machines != 2 || x.Jobs[1].Machines != 1 {
				t.Errorf("%+v, %v", x, err)
			}
		case ".svg":
			d := xml.NewDecoder(strings.NewReader(string(data)))
			for {
				if _, err := d.Token(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					t.Fatalf("%v\n%s", err, data)
				}
			}
			if strings.Contains(string(data), "NaN") || strings.Contains(string(data), "Inf") {
				t.Errorf("a mark stands nowhere:\n%s", data)
			}
		}
	}
	for _, args := range [][]string{{"stats"}, {"stats", "none.json"}, {"stats", demo, "-o", "n.xlsx"}, {"stats", "old.json", "-o", "old.json"}} {
		do(2, args...)
	}
}

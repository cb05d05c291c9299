package main

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"shimsheet/internal/tally"
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

// In JSON each number stands under its own name, to its last bit, and what does not exist is null. Every number here is another one, so that none can stand for its neighbour.
func TestStatsInJSON(t *testing.T) {
	none := math.NaN()
	jobs := []*tally.Job{{
		Name: "Spring, 2026", Machines: 41, Found: tally.Share{N: 3, Of: 4}, First: tally.Share{N: 20, Of: 40}, Now: tally.Share{N: 0, Of: 3},
		Attempts: []tally.Attempts{{By: "crew", Name: "day", First: tally.Share{N: 1, Of: 2}}},
		Repeats:  []tally.Repeat{{By: "all", Name: "night", Gauge: true, Sweeps: 11, Failed: 12, Slips: 13, Repeats: 14, FromRepeats: 0.1, Balances: 15, FromBalance: none}},
		Misses:   []tally.Misses{{By: "base", Name: "frame", V: tally.Spread{N: 16, Mean: 0.2, SD: 0.3, Least: -0.4, Median: 0.5, Most: 1. / 3}, H: tally.Spread{N: 16, Mean: 0.7, SD: none, Least: 0.8, Median: 0.9, Most: 1.1}, Sprang: 17}},
		Moves:    []tally.Move{{Machine: "A", Base: "plate", Crew: "late", Round: "2", Foot: "rear", V: 1.2, H: -1.3, Sprang: true}},
	}, {Name: "empty"}}
	data, err := statsJSON(jobs)
	if err != nil {
		t.Fatal(err)
	}
	var got map[string][]map[string]any
	if err := json.Unmarshal(data, &got); err != nil {
		t.Fatal(err)
	}
	share := func(in, of float64, rest ...any) map[string]any {
		m := map[string]any{"inside": in, "of": of, "share_pct": nil, "low_pct": nil, "high_pct": nil}
		if rest != nil {
			m["share_pct"], m["low_pct"], m["high_pct"] = rest[0], rest[1], rest[2]
		}
		return m
	}
	_, low, high := jobs[0].First.Part()
	if low < 0.34 || low > 0.36 || high < 0.64 || high > 0.66 { // Wilson (1927): 20 of 40 with 95 %: 35.2 to 64.8 %
		t.Error(low, high)
	}
	want := map[string]any{
		"job": "Spring, 2026", "machines": 41., "inside_as_found": share(3, 4), "first_attempt": share(20, 40, 50., 100*low, 100*high), "inside_now": share(0, 3),
		"attempts": []any{map[string]any{"by": "crew", "name": "day", "first_attempt": share(1, 2)}},
		"repeats":  []any{map[string]any{"by": "all", "crew": "night", "gauge": true, "sweeps": 11., "failed": 12., "slips": 13., "repeats": 14., "from_repeats_mm": 0.1, "balances": 15., "from_balance_mm": nil}},
		"missed": []any{map[string]any{"by": "base", "name": "frame", "feet": 16., "v": map[string]any{"mean_mm": 0.2, "sd_mm": 0.3, "least_mm": -0.4, "median_mm": 0.5, "most_mm": 1. / 3},
			"h": map[string]any{"mean_mm": 0.7, "sd_mm": nil, "least_mm": 0.8, "median_mm": 0.9, "most_mm": 1.1}, "sprang_back": 17.}},
		"moves": []any{map[string]any{"machine": "A", "base": "plate", "crew": "late", "round": "2", "foot": "rear", "v_mm": 1.2, "h_mm": -1.3, "sprang_back": true}},
	}
	if !reflect.DeepEqual(got["jobs"][0], want) {
		t.Errorf("%v\nwant %v", got["jobs"][0], want)
	}
	for _, list := range []string{"attempts", "repeats", "missed", "moves"} {
		if x, ok := got["jobs"][1][list].([]any); !ok || len(x) != 0 {
			t.Errorf("%s of an empty job: %v", list, got["jobs"][1][list])
		}
	}
}

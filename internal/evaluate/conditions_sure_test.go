package evaluate

import (
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// How a calculation that came to nothing is told: what lacks is not told twice, a limit that is not needed is not asked for, and a problem of a sweep bears its name and leads to its column where it has one.
func TestStatusIsToldOnce(t *testing.T) {
	// A machine of a name that is taken has no verdict, so that no limit is asked for.
	plain := "1480,short,100,100,300,500,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01"
	header := "Machine,Speed,Coupling,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"
	noSpeed := strings.Replace(plain, "1480", "", 1)
	spacer := strings.Replace(plain, "short", "spacer", 1)
	e := work(t, list(t, header+"P 1,"+plain+"\nP 1,"+noSpeed+"\nP 1,"+spacer+"\nP 2,"+noSpeed+"\nP 3,"+spacer+"\n"))
	errorsOf := func(r *RowResult) (out []string) {
		for _, p := range r.Problems {
			if p.Severity == job.Error {
				out = append(out, p.Column+": "+p.Text.String())
			}
		}
		return out
	}
	for i, want := range []string{"", "stands in row 2 already; Speed is missing, so there is no limit", "stands in row 2 already; Spacer length is missing", "Speed is missing, so there is no limit", "Spacer length is missing"} {
		got := errorsOf(e.Row(i))
		parts := strings.Split(want, "; ")
		if want == "" {
			parts = nil
		}
		if len(got) != len(parts) || slices.ContainsFunc(parts, func(s string) bool { return !strings.Contains(strings.Join(got, "; "), s) }) {
			t.Errorf("row %d: %q, want %q", i, got, want)
		}
	}
	// Without readings that is told, unless an error tells of what is wrong with them.
	for cells, want := range map[string]int{"Speed=1480": 2, "Speed=1480;Method=x": 2, "Speed=1480;Method=reverse indicator": 3, "Speed=1480;Movable rim 3=x": -1} {
		_, r := one(t, strings.Split(cells, ";")...)
		got := errorsOf(r)
		none := strings.Contains(strings.Join(got, "\n"), "no readings")
		if none != (cells == "Speed=1480") || want >= 0 && len(got) != want {
			t.Errorf("%s: %q", cells, got)
		}
	}
	// A sweep that does not close: its own column; one of the Readings sheet that has no such column: none, though the list has columns beside.
	e, r := one(t, change(reverse, "Movable rim 12 again=0.2")...)
	p := r.Problems[len(r.Problems)-1]
	if p.Column != "Movable rim" || p.Col != slices.Index(e.Job().Machines.Header, "Movable rim 12") || strings.HasPrefix(p.Hint.String(), ";") {
		t.Errorf("%+v", p)
	}
	for f, want := range map[string]bool{"Movable rim": true, "Face": false} {
		rows := "pump," + f + ",0,0\npump," + f + ",90,0.02\npump," + f + ",180,0.9\npump," + f + ",270,0.02\npump," + f + ",0,0.5\n"
		other := "Face"
		if f == "Face" {
			other = "Movable rim"
		}
		rows += "pump," + other + ",0,0\npump," + other + ",90,0.02\npump," + other + ",180,0\npump," + other + ",270,-0.02\n"
		cells := []string{"Speed=1480", "Coupling=short", "Coupling to movable plane=100", "Face diameter=200", "Coupling to front feet=300", "Front to rear feet=500", "Movable sweep= ", "Stationary sweep= ", "Given offset V= ", "Given offset H= ", "Given slope V= "}
		_, r := grown(t, cells, "Readings", "Machine,Sweep,Angle,Reading\n"+rows)
		k := slices.IndexFunc(r.Problems, func(p job.Problem) bool { return p.Severity == job.Error && p.Column == f })
		if k < 0 {
			t.Errorf("%s: %v", f, r.Problems)
			continue
		}
		if p := r.Problems[k]; (p.Col >= 0) != want || strings.HasPrefix(p.Hint.String(), ";") {
			t.Errorf("%s: %+v", f, p)
		}
	}
}

// A list of results instead of readings is known by any of the columns of a line found.
func TestResultsTypedAreNamed(t *testing.T) {
	for id := job.ResultOffsetV; id <= job.ResultSlope; id++ {
		name := id.Info().Name
		_, r := one(t, "Speed=1480", name+"=0.1")
		if !slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return strings.Contains(p.Text.String()+p.Hint.String(), name) }) {
			t.Errorf("%s: %v", name, r.Problems)
		}
	}
	_, r := one(t, "Speed=1480", job.ResultSlope.Info().Name+"= ")
	if slices.ContainsFunc(r.Problems, func(p job.Problem) bool {
		return strings.Contains(p.Text.String()+p.Hint.String(), job.ResultSlope.Info().Name)
	}) {
		t.Errorf("%v", r.Problems)
	}
}

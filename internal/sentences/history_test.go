package sentences

import (
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// What cannot be compared says why; nothing else is compared instead.
func TestHistoryNot(t *testing.T) {
	line, failed := rimRow(calc.Line{DV: 0.3}), "0,-0.17,-0.30,0.13,0,0.11,0.10,-0.01"
	now := func(cells ...string) *job.Job {
		return yearJob(t, 2026, append(slices.Clone(without), cells...), "pump,found,,,,,,,,"+line+"\n")
	}
	for _, c := range []struct {
		then *job.Job
		now  *job.Job
		why  string
	}{
		{yearJob(t, 2025, without, ""), now(), "no readings there"},
		{yearJob(t, 2025, without, "pump,found,slip,,,,,,,"+line+"\n"), now(), "no readings there"},
		{yearJob(t, 2025, without, "pump,found,,,,,,,,"+failed+"\n"), now(), "no readings there that passed"},
		{yearJob(t, 2025, without, "pump,1,,,,,,,,"+line+"\npump,1,,,,,,,,"+line+"\n"), now(), "no readings there"},
		{yearJob(t, 2025, change(without, "Stationary=gear"), "pump,found,,,,,,,,"+line+"\n"), now("Stationary=pump end"), "coupled to gear"},
		{yearJob(t, 2025, without, "pump,found,,,,,,,,"+line+"\n"), yearJob(t, 2026, without, "pump,found,,,,,,,,"+failed+"\n"), "found now"},
	} {
		e := beside(t, c.now, c.then)
		list := e.History(0)
		if len(list) != 1 || !strings.Contains(list[0].Why.String(), c.why) || evaluate.Known(list[0].Offset.V) {
			t.Errorf("%s: %+v", c.why, list)
		}
		if w := e.HistoryWords(0); len(w) != 1 || !strings.Contains(w[0], "Not compared") {
			t.Errorf("%q", w)
		}
	}
	other := yearJob(t, 2025, without, "")
	other.Machines.Rows[0][0] = "fan"
	if list := beside(t, now(), other).History(0); list != nil {
		t.Errorf("another machine is compared: %+v", list)
	}
	e := beside(t, now(), yearJob(t, 2025, without, "pump,found,,,,,,,,"+rimRow(calc.Line{DV: 0.5})+"\n"))
	wants(t, strings.Join(e.HistoryWords(0), " "), "0.2 mm lower", "more than the readings explain", "was not read again after round found")
}

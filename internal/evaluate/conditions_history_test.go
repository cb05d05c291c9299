package evaluate

import (
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// Which older jobs tell of a machine, and in which order: the oldest first, those without a day before all; none of a machine that is not there, has no name, or bears another's.
func TestHistoryOrder(t *testing.T) {
	rd := func(l calc.Line) string { return "Rounds: Machine=pump | Round=left" + rims(l) }
	older := func(date string) *job.Job {
		lines := plus(roundsText, rd(calc.Line{}))
		if date != "" {
			lines = append(lines, "Job: Date="+date)
		}
		return jobText(t, lines...)
	}
	e := workText(t, plus(roundsText, "3 of 2: Machine", "4 of 2: Machine=Pump", "5 of 2: Machine=fan", "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.1}))...)
	list := []Older{{Name: "c", Job: older("2025-03-01")}, {Name: "b", Job: older("2024-12-31")}, {Name: "x", Job: older("spring")}, {Name: "a", Job: older("1999-01-01")}, {Name: "y", Job: older("")}}
	e.SetHistory(list)
	list[0].Name = "changed by the caller"
	order := ""
	for _, p := range e.History(0) {
		order += p.File
	}
	if order != "xyabc" || !e.HasHistory() {
		t.Error(order)
	}
	for i := 1; i < e.Len(); i++ {
		if h := e.History(i); h != nil {
			t.Errorf("row %d: %+v", i, h)
		}
	}
	if e.History(99) != nil || e.History(-1) != nil {
		t.Error("a row that is not there")
	}
	// All of one day, and a day that is not later than the last: no drift.
	for _, c := range []struct {
		now  string
		then []string
		ok   bool
	}{
		{"2026-03-01", []string{"2025-03-01", "2024-12-31"}, true}, {"2026-03-01", []string{"2025-03-01"}, false}, {"2025-03-01", []string{"2025-03-01", "2024-12-31"}, false}, {"2025-02-01", []string{"2025-03-01", "2024-12-31"}, false}, {"", []string{"2025-03-01", "2024-12-31"}, false},
		{"2026-03-01", []string{"2025-03-01", ""}, false}, {"2026-03-01", []string{"2025-03-01", "2025-03-01"}, true},
	} {
		lines := plus(roundsText, "Rounds: Machine=pump | Round=found"+rims(calc.Line{DV: 0.1}))
		if c.now != "" {
			lines = append(lines, "Job: Date="+c.now)
		}
		e := workText(t, lines...)
		var list []Older
		for _, d := range c.then {
			list = append(list, Older{Name: d, Job: older(d)})
		}
		e.SetHistory(list)
		if d, ok := e.Drift(0); ok != c.ok || ok && d.Times != len(c.then)+1 || !ok && d != (Drift{}) {
			t.Errorf("%s, %v: %v %+v", c.now, c.then, ok, d)
		}
	}
}

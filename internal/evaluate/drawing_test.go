package evaluate

import (
	"fmt"
	"math"
	"testing"
)

// TestMeasured: what a drawing is made from is what the row was worked out from, and reading it again changes no result.
func TestMeasured(t *testing.T) {
	e := NewEvaluator(demoJob(t, false))
	e.Count()
	var m Measured
	for i := range e.Len() {
		r := e.Row(i)
		before := fmt.Sprintf("%+v", *r)
		if !e.Measured(i, &m) {
			t.Fatalf("%s: nothing", r.Name)
		}
		if after := fmt.Sprintf("%+v", *e.Row(i)); after != before {
			t.Errorf("%s changed:\n%s\n%s", r.Name, before, after)
		}
		if len(m.Input.Sweeps) != len(r.Sweeps) || len(m.SweepOf) != len(r.Sweeps) {
			t.Errorf("%s: %d sweeps, %d names, not %d", r.Name, len(m.Input.Sweeps), len(m.SweepOf), len(r.Sweeps))
		}
		for k := range m.Input.Sweeps {
			s := &m.Input.Sweeps[k]
			if len(s.Reading) != r.Sweeps[k].Readings || len(s.Angle) != len(s.Reading) || m.SweepOf[k] != r.Sweeps[k].Name {
				t.Errorf("%s: sweep %d has %d angles and %d readings, not %d", r.Name, k, len(s.Angle), len(s.Reading), r.Sweeps[k].Readings)
			}
		}
		for k := range r.Calc.Feet {
			if m.Input.Feet[k] != r.Calc.Feet[k].Station {
				t.Errorf("%s: foot %d at %g", r.Name, k, m.Input.Feet[k])
			}
		}
		if r.Front >= 0 && (math.Abs(m.ToFront-r.Calc.Feet[r.Front].Station) > 1e-9 || math.Abs(m.ToFront+m.FrontToRear-r.Calc.Feet[r.Rear].Station) > 1e-9) {
			t.Errorf("%s: front %g, rear %g further", r.Name, m.ToFront, m.FrontToRear)
		}
	}
	// The memory is the caller's: the next row does not write into it.
	var first Measured
	e.Measured(0, &first)
	was := fmt.Sprint(first.Input.Sweeps)
	e.Measured(2, &m)
	e.RowsChanged(0, e.Len())
	e.Count()
	if now := fmt.Sprint(first.Input.Sweeps); now != was {
		t.Errorf("it changed: %s\n%s", was, now)
	}
	if e.Measured(-1, &m) || e.Measured(e.Len(), &m) || len(m.Input.Sweeps) != 0 {
		t.Error("a row that is not there was measured")
	}
}

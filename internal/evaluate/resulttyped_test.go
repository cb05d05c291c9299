package evaluate

import (
	"strings"
	"testing"
)

// Seen: a list whose columns are named Offset V, Slope V said "no readings" and not a word of the numbers that stand in them.
func TestResultTyped(t *testing.T) {
	e := work(t, list(t, "Machine,Speed,Offset V,Slope V\nP1,1480,,0.3\nP2,1480,,\n"))
	for i, named := range []bool{true, false} {
		p := e.Row(i).Problems
		if len(p) == 0 || strings.Contains(p[0].Hint.String(), "Slope V is worked out from readings") != named {
			t.Errorf("row %d: %+v", i, p)
		}
	}
}

package sentences

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
)

// fourPumps are machines of two pairs of feet whose corrections are whole packs of 1 mm, with a priority each.
const fourPumps = "Machine,Priority,Speed,Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n" +
	"A,2,1480,line,400,600,-1,0,0,0\nB,,1480,line,400,600,-2,0,0,0\nC,1,1480,line,400,600,-3,0,0,0\nD,1,1480,line,400,600,-2,0,0,0\n"

// Stock by machines: what is there finishes D (8 pieces) and no other of priority 1, then A (4); by feet it would be under nine feet.
func TestShareByMachines(t *testing.T) {
	stock := "Thickness,Pieces on hand\n1,15\n"
	names := func(a *evaluate.Allocation, want func(s *evaluate.Served) bool) (list []string) {
		for i := range a.Machines {
			if want(&a.Machines[i]) {
				list = append(list, a.Machines[i].Machine)
			}
		}
		return
	}
	e, _ := grown(t, nil, "Machines", fourPumps, "Stock", stock)
	a, err := e.Allocate(nil)
	if err != nil || len(e.Problems()) > 0 || len(a.Picks) != 16 {
		t.Fatal(err, e.Problems(), len(a.Picks))
	}
	if got := names(a, (*evaluate.Served).Whole); !slices.Equal(got, []string{"A", "D"}) || !a.ByMachines || !a.Plan.Proved {
		t.Errorf("served whole: %v; %s", got, e.Proof(a))
	}
	if got := names(a, (*evaluate.Served).Begun); !slices.Equal(got, []string{"A", "D"}) {
		t.Errorf("begun: %v", got)
	}
	if asked, met := a.MachinesServed(); asked != 4 || met != 2 {
		t.Errorf("%d of %d", met, asked)
	}
	text := e.Proof(a) + "\n" + strings.Join(e.ServedNotes(a), "\n")
	for _, want := range []string{"2 of 4 are served whole (priority 1: 1 of 2, priority 2: 1 of 1, no priority: 0 of 1)", "does better (proved)", "C (priority 1), lacks 9 × 1.00 mm", "B, lacks 8 × 1.00 mm"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in:\n%s", want, text)
		}
	}
	var b bytes.Buffer
	if err := e.ResultsJSON(&b); err != nil || !strings.Contains(b.String(), `"share_by":"machines"`) || !strings.Contains(b.String(), `"machines_asked":4`) || !strings.Contains(b.String(), `"machines_met":2`) {
		t.Errorf("%v: %.200s", err, b.String())
	}
	e, _ = grown(t, nil, "Machines", fourPumps, "Stock", stock, "Job", "Name,Value\nShare stock by,feet\n")
	if a, err = e.Allocate(nil); err != nil || a.ByMachines || a.Plan.Met <= 8 {
		t.Errorf("by feet: %v, %d feet", err, a.Plan.Met)
	}
	// With one priority, or none, there are no classes to tell apart.
	for _, list := range []string{strings.NewReplacer("A,2,", "A,,", "C,1,", "C,,", "D,1,", "D,,").Replace(fourPumps), strings.NewReplacer("A,2,", "A,3,", "B,,", "B,3,", "C,1,", "C,3,", "D,1,", "D,3,").Replace(fourPumps)} {
		e, _ = grown(t, nil, "Machines", list, "Stock", stock)
		if a, err = e.Allocate(nil); err != nil || !strings.Contains(e.Proof(a), "2 of 4 are served whole") || strings.Contains(e.Proof(a), "priority") {
			t.Errorf("%v: %s", err, e.Proof(a))
		}
	}
	// A priority that is none is said, and the row is computed all the same.
	e, r := grown(t, nil, "Machines", strings.Replace(fourPumps, "A,2,", "A,first,", 1), "Stock", stock)
	if len(r.Problems) != 1 || r.Problems[0].Column != "Priority" || r.Verdict != calc.Outside || e.Row(2).Priority != 1 {
		t.Errorf("%+v, %v", r.Problems, r.Verdict)
	}
}

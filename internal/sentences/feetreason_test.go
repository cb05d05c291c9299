package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/jobtest"
)

// TestSoftReasons: what each pattern is said to be. The numbers of the rock are geometry: three points carry a plane, so on a rectangle one gap g of four is a
// rock of g, half of it at either foot off the diagonal that carries.
func TestSoftReasons(t *testing.T) {
	for _, c := range []struct {
		feet string
		head string
		has  []string
	}{
		{"Gap\nP 1,front 9,-250,0\nP 1,front 3,250,0\nP 1,rear 9,-250,0.35\nP 1,rear 3,250,0\n", "rocking on a diagonal: front 3, rear 9",
			[]string{"Rocks on the diagonal front 9 – rear 3: front 3 and rear 9 stand off, the other two carry.", "0.35 mm under front 3, or 0.35 mm under rear 9"}},
		{"Rise\nP 1,front 9,-250,0.01\nP 1,front 3,250,0.15\nP 1,rear 9,-250,0.01\nP 1,rear 3,250,0.01\n", "one soft foot: front 3", []string{"front 3 alone stands off, by 0.14 mm more"}},
		{"Rise\nP 1,front 9,-250,0.2\nP 1,front 3,250,0.2\nP 1,rear 9,-250,0.2\nP 1,rear 3,250,0.2\n", "springing feet", []string{"Every foot rises, by about 0.2 mm"}},
		{"Gap\nP 1,front 9,-250,0\nP 1,front 3,250,0\nP 1,rear 9,-250,0\nP 1,rear 3,250,0.01\n", "no soft foot", []string{"No foot is over the limit.", "limit of 0.05 mm"}},
		{"Note\nP 1,front 9,-250,\nP 1,front 3,250,\nP 1,rear 9,-250,\nP 1,rear 3,250,\n", "soft foot not measured", []string{"No gap and no rise"}},
	} {
		head, list := reasonJob(t, reasonMachine, "Machine,Foot,Across,"+c.feet).SoftReasons(0)
		all := strings.Join(list, " ")
		if !strings.HasPrefix(head, c.head) {
			t.Errorf("%q, not %q", head, c.head)
		}
		for _, s := range c.has {
			if !strings.Contains(all, s) {
				t.Errorf("%s: no %q in %q", c.head, s, all)
			}
		}
	}
	if head, list := reasonJob(t, reasonMachine, "Machine,Foot\nother,front\n").SoftReasons(0); head != "" || list != nil {
		t.Error(head, list)
	}
}

func reasonJob(t testing.TB, machines, feet string) *Teller {
	return New(jobtest.Pair(t, machines, feet))
}

package sentences

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// The first sentence of a machine is its verdict: its word, how much of the limit is used and how likely it is inside, as JSON has them, or why it is not judged; and there is one such sentence.
func TestFirstSentenceIsTheVerdict(t *testing.T) {
	e := work(t, demoJob(t, false))
	seen := map[string]int{}
	for _, m := range machines(t, e) {
		i := e.RowOf(m["machine"].(string))
		list := e.Sentences(i)
		verdict := m["verdict"].(string)
		seen[verdict]++
		if len(list) == 0 || list[0].Kind != SentenceVerdict || !strings.HasPrefix(strings.ToLower(list[0].Text), strings.Fields(verdict)[0]) {
			t.Errorf("%v, %s: %v", m["machine"], verdict, list)
			continue
		}
		verdicts := 0
		for _, s := range list {
			if s.Kind == SentenceVerdict {
				verdicts++
			}
		}
		if verdicts != 1 {
			t.Errorf("%v: %d verdicts", m["machine"], verdicts)
		}
		if verdict == "not judged" {
			if why := m["why"].(string); !strings.Contains(list[0].Text, why) {
				t.Errorf("%v: %q, why %q", m["machine"], list[0].Text, why)
			}
			continue
		}
		for key, factor := range map[string]float64{"share_of_limit_pct": 1, "chance_inside_pct": 1} {
			x, ok := m[key].(float64)
			if want := strconv.FormatFloat(x*factor, 'f', 0, 64) + " %"; ok && !math.IsNaN(x) && !strings.Contains(list[0].Text, want) {
				t.Errorf("%v: %q, %s is %g", m["machine"], list[0].Text, key, x)
			}
		}
	}
	if len(seen) != 4 {
		t.Errorf("%v", seen)
	}
}

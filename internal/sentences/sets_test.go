package sentences

import (
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

func TestSetsAreTold(t *testing.T) {
	hot := sweepsOf("running", hotMovable, hotStationary)
	e, r := withSets(t, change(reverse, "Change offset V=1", "Growth movable front V=9", "Growth movable rear V=9"), hot)
	says(t, r, job.Warning, "the change in the columns is not used")
	says(t, r, job.Warning, "growth is not used")
	text := ""
	for _, s := range e.Sentences(0) {
		text += s.Text + "\n"
	}
	for _, want := range []string{"The readings as found are its cold set", "By the hot set of the Readings sheet the shaft stands 0.04 mm low", "Measured from cold to hot", "as much the other way from where the shaft is to run"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in\n%s", want, text)
		}
	}
	universal, _ := withSets(t, change(reverse, "Coupling=universal"), hot)
	for _, s := range universal.Sentences(0) {
		if strings.Contains(s.Text, "as much the other way") {
			t.Error("the offset of a universal coupling is wanted as it was found: ", s.Text)
		}
	}
	out := string(e.AppendRowJSON(nil, 0))
	for _, want := range []string{`"wanted_from":"two sets of readings"`, `"cold_set_is_found":true`, `"hot_offset_v_mm":-0.0`, `"u_change_slope_h":`} {
		if !strings.Contains(out, want) {
			t.Errorf("%s is not in %s", want, out)
		}
	}
	e, r = withSets(t, reverse, sweepsOf("cold", reverseMovable, reverseStationary))
	says(t, r, job.Warning, "no hot one")
	if r.Growth != nil || r.Verdict == calc.NotJudged || len(e.Problems()) > 0 {
		t.Error(r.Growth, r.Verdict, e.Problems())
	}
}

package sentences

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// sweepsOf writes readings of the pump at 12, 3, 6 and 9 as rows of the Readings sheet.
func sweepsOf(set string, movable, stationary [4]float64) string {
	var b strings.Builder
	for k, sweep := range [...]string{"Movable rim", "Stationary rim"} {
		for p, x := range [2][4]float64{movable, stationary}[k] {
			fmt.Fprintf(&b, "pump,%s,%s,%v,%s\n", sweep, [...]string{"12", "90", "6 o'clock", "270"}[p], x, set)
		}
	}
	return strings.ReplaceAll(strings.ReplaceAll(b.String(), ",12,", ",0,"), "6 o'clock", "180")
}

const setsHead = "Machine,Sweep,Angle,Reading,Set\n"

// The readings of reverse, and a hot set: offset −0.04 and 0.02 mm, slope −0.5 and 0.3 mm/m, read at the planes ±100 mm.
var (
	reverseMovable, reverseStationary = [4]float64{0, -0.17, -0.30, -0.13}, [4]float64{0, 0.11, 0.10, -0.01}
	hotMovable, hotStationary         = [4]float64{0, 0.14, 0.18, 0.04}, [4]float64{0, 0.02, 0.02, 0}
)

// without are the cells of reverse without its readings.
var without = reverse[:5]

func withSets(t *testing.T, cells []string, rows string) (*Teller, *evaluate.RowResult) {
	t.Helper()
	if !slices.ContainsFunc(cells, func(c string) bool { return strings.HasPrefix(c, "Minutes since stop") }) {
		cells = change(cells, "Minutes since stop=0") // as exact as read
	}
	return grown(t, cells, "Readings", setsHead+rows)
}

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

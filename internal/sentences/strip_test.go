package sentences

import (
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

func lastOf(e *Teller) string {
	var s string
	for _, x := range e.Sentences(0) {
		if x.Kind == SentenceAfter {
			s += x.Text + "\n"
		}
	}
	return s
}

// TestStripInResults: the tolerance is in the verdict after, in the sentences and in the JSON, and nowhere where none is given.
//
// evidence: calc=thickness tolerance of shims in the line after grade=identity count=3 source=JCGM 100:2008, 5.2.2, eq. 16, by hand: expanded uncertainty of two packs, one with two pieces of one strip
func TestStripInResults(t *testing.T) {
	bare, plain := boxed(t, "", "Thickness\n0.25\n0.2\n0.05\n")
	m0 := machines(t, bare)[0]
	if m0["u_front_pack_mm"] != nil || m0["u_rear_pack_mm"] != nil || len(m0["tolerance_unknown_mm"].([]any)) != 0 || strings.Contains(lastOf(bare), "tolerance of their pieces") {
		t.Errorf("%v %v %s", m0["u_front_pack_mm"], m0["tolerance_unknown_mm"], lastOf(bare))
	}
	e, r := boxed(t, "", "Thickness,Strip class\n0.25,fine\n0.2,fine\n0.05,\n")
	if f := r.Calc.Feet; len(f[0].Pack.Pieces) != 1 || len(f[1].Pack.Pieces) != 2 || f[1].Pack.Pieces[0] != 0.25 || f[1].Pack.Pieces[1] != 0.25 {
		t.Fatal(f[0].Pack, f[1].Pack)
	}
	m := machines(t, e)[0]
	near(t, "front ±", m["u_front_pack_mm"].(float64), 2*0.012/math.Sqrt(3), 1e-12)
	near(t, "rear ±", m["u_rear_pack_mm"].(float64), 4*0.012/math.Sqrt(3), 1e-12)
	if s := lastOf(e); !strings.Contains(s, "From the tolerance of their pieces the packs are known to ± 0.028 mm at worst (EN ISO 9445-1, fine); the line after has that in its ±.") {
		t.Error(s)
	}
	// The line as found and its verdict are what they were; the line after stands where it did and is less sure.
	if r.Verdict != plain.Verdict || r.Calc.Found.Chance != plain.Calc.Found.Chance || r.Calc.After != plain.Calc.After || !(r.Calc.AfterJ.Slope.UV > plain.Calc.AfterJ.Slope.UV) || r.Calc.AfterJ.Slope.UH != plain.Calc.AfterJ.Slope.UH {
		t.Errorf("%+v\n%+v", r.Calc.AfterJ, plain.Calc.AfterJ)
	}
	// One strip off by d raises front d, rear 2 d: by the distance between the feet a slope of d.
	feet := r.Calc.Feet
	k := 2 * 0.012 / math.Sqrt(3) / (feet[1].Station - feet[0].Station) * 1000
	near(t, "slope after ±", r.Calc.AfterJ.Slope.UV, math.Hypot(plain.Calc.AfterJ.Slope.UV, k), 1e-12)

	if s, _ := boxed(t, "", "Thickness,Strip class,Tolerance\n0.25,fine,\n0.05,,0.002\n"); !strings.Contains(lastOf(s), "(EN ISO 9445-1, fine; Tolerance in ") {
		t.Error(lastOf(s))
	}

	// What is not known is named, once, and takes part in nothing.
	e, r = boxed(t, "normal", "Thickness,Kind,Lamination,Strip class\n0.5,laminated,0.5,\n0.25,,,fine\n")
	m = machines(t, e)[0]
	if list := m["tolerance_unknown_mm"].([]any); len(list) != 1 || list[0] != 0.5 || m["u_rear_pack_mm"] != nil || m["u_front_pack_mm"] == nil {
		t.Errorf("%v %v %v", list, m["u_front_pack_mm"], m["u_rear_pack_mm"])
	}
	if s := lastOf(e); !strings.Contains(s, "How far pieces of 0.50 mm may be off is not known here") || !strings.Contains(s, "± 0.014 mm at worst") {
		t.Error(s)
	}
	if r.Worst() > job.Warning {
		t.Error(r.Problems)
	}
}

// TestPacksOfAMachineThatStays: a machine inside its limit is given no packs, so nothing is said of them, but for those of its soft feet.
func TestPacksOfAMachineThatStays(t *testing.T) {
	const stock = "Thickness,Tolerance\n0.2,0.012\n0.03,\n"
	stays := change(reverse, "Running offset V=0.1", "Running offset H=-0.04", "Running slope V=0.45", "Running slope H=0.2")
	e, r := grown(t, stays, "Stock", stock)
	if r.Verdict != calc.Inside || !r.Calc.HasAfter || math.Abs(r.Calc.Feet[1].Pack.Error) < 0.005 {
		t.Fatal(r.Verdict, r.Calc.Feet)
	}
	if s := lastOf(e); s != "" || len(r.Problems) > 0 {
		t.Error(s, r.Problems)
	}
	const feet = "Machine,Foot,Across,Gap\npump,front 9,-200,0.8\npump,front 3,200,0\npump,rear 9,-200,0\npump,rear 3,200,0\n"
	e, r = grown(t, stays, "Stock", stock, "Feet", feet)
	if s := lastOf(e); r.Verdict != calc.Inside || s != "From the tolerance of their pieces the packs are known to ± 0.028 mm (Tolerance in Stock).\n" {
		t.Error(s, r.Feet.Feet)
	}
}

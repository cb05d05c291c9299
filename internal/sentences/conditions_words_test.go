package sentences

import (
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/packs"
)

// What a part grows by, in words: its name, size, coefficient and where that comes from, and the temperatures, in the job's units.
func TestPartsInWords(t *testing.T) {
	rear := "\npump,movable rear,foot,,,,,,,0,,,"
	for _, c := range []struct{ cells, sheets, support, words string }{
		{"casing,225,,,10.4,14,98,,,,", "", "movable front", "casing: 225 mm × 10.4 1e-6/K (own coefficient) × 84 K, from 14 °C to 98 °C"},
		{",225,,,10.4,14,98,,,,", "", "movable front", "part: 225 mm × 10.4 1e-6/K (own coefficient) × 84 K, from 14 °C to 98 °C"},
		{"casing,225,towards 3,,10.4,14,98,,,,", "", "movable front", "casing, towards 3: 225 mm × 10.4 1e-6/K (own coefficient) × 84 K, from 14 °C to 98 °C"},
		{"casing,225,towards 9,,10.4,14,98,,,,", "", "movable front", "casing, towards 9: 225 mm × 10.4 1e-6/K (own coefficient) × 84 K, from 14 °C to 98 °C"},
		{"casing,225,,ours,,98,14,,,,", "\nMaterials: Material,Coefficient\nours,12", "movable front", "casing: 225 mm × 12 1e-6/K (ours) × -84 K, from 98 °C to 14 °C"},
		{"casing,225,,ours,,100,200,,,,", "\nMaterials: Material,Coefficient,From,At temperature\nours,12,20,100\nours,13,20,200", "movable front", "casing: 225 mm × means by temperature (ours) × 100 K, from 100 °C to 200 °C"},
		{"casing,,,,,,,0.12,,,", "", "movable front", "casing: growth given, 0.12 mm"}, {"casing,,,,,,,,0.12,,", "", "movable front", "casing: growth given, 0 mm"},
		{"casing,9,,,6,50,150,,,,", "\nJob: Units=inch", "movable front", "casing: 9 in × 6 1e-6/°F (own coefficient) × 100 °F, from 50 °F to 150 °F"},
	} {
		e, r := caseJob(t, grownRow, "", &jobCase{sheets: growthHeader + "pump,movable front," + c.cells + rear + c.sheets})
		if r.Growth == nil {
			t.Errorf("%s: %v %v", c.cells, r.Problems, e.Problems())
			continue
		}
		p := &r.Growth.Parts[0]
		if got := e.GrowthPartWords(p); got != c.words || p.SupportName() != c.support {
			t.Errorf("%s: %q of %q", c.cells, got, p.SupportName())
		}
	}
	for support, want := range map[int]string{-1: "", 0: "movable front", 1: "movable rear", 2: "stationary near", 3: "stationary far", 4: ""} {
		if got := (&evaluate.GrowthPart{Support: support}).SupportName(); got != want {
			t.Errorf("support %d is %q", support, got)
		}
	}
}

// What is done under a foot in a few words, for each way a change can end.
func TestChangesInWords(t *testing.T) {
	e, _ := caseJob(t, lowRow, "", &jobCase{})
	inch, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: Units=inch"})
	put := func(keep, take, put, pieces []float64, s packs.ChangeStatus) *packs.Change {
		c := &packs.Change{Status: s, Keep: keep, Take: take, Put: put}
		c.Pieces = pieces
		for _, x := range pieces {
			c.Sum += x
		}
		return c
	}
	none := []float64(nil)
	short := put(none, []float64{0.3}, none, none, packs.ChangeBelow)
	short.Shortfall = 0.12
	bare := put(none, none, none, none, packs.ChangeBelow)
	bare.Shortfall = 0.12
	for k, c := range []struct {
		c       *packs.Change
		wanted  float64
		stock   bool
		do, mil string
		nothing bool // neither comes out nor goes in, as far as is known
	}{
		{put(none, none, []float64{0.5}, []float64{0.5}, packs.ChangeMet), nan, true, "", "", false},
		{put(none, none, none, none, packs.ChangeMet), nan, true, "", "", false},
		{put(none, none, none, none, packs.ChangeMet), 0.254, false, "0.25 mm", "10.0 mil", false},
		{put(none, none, none, none, packs.ChangeMet), 0, true, "nothing", "nothing", true},
		{put(none, none, []float64{0.254, 0.127}, []float64{0.254, 0.127}, packs.ChangeMet), 0.4, true, "0.254 + 0.127", "10 + 5", false},
		{put([]float64{0.508}, none, []float64{0.254}, []float64{0.508, 0.254}, packs.ChangeMet), 0.25, true, "put in 0.254", "put in 10", false},
		{put(none, []float64{0.254}, []float64{0.508}, []float64{0.508}, packs.ChangeMet), 0.25, true, "take out 0.254, put in 0.508", "take out 10, put in 20", false},
		{put([]float64{0.508}, []float64{0.254}, none, []float64{0.508}, packs.ChangeMet), -0.25, true, "take out 0.254", "take out 10", false},
		{short, -0.42, true, "take out 0.30, 0.12 mm missing", "take out 11.811, 4.7 mil missing", false}, {bare, -0.12, true, "0.12 mm missing", "4.7 mil missing", false},
		{put(none, none, none, []float64{0.254, 0.254}, packs.ChangeUnlisted), -0.5, true, "take out 0.508", "take out 20", false}, {put(none, none, none, none, packs.ChangeUnlisted), 0, true, "nothing", "nothing", true},
	} {
		if got, mil := e.ChangeDo(c.c, c.wanted, c.stock), inch.ChangeDo(c.c, c.wanted, c.stock); got != c.do && got != c.do+" mm" || mil != c.mil {
			t.Errorf("%d: %q, %q", k, got, mil)
		}
		if got := evaluate.ChangesNothing(c.c, c.wanted, c.stock); got != c.nothing {
			t.Errorf("%d changes nothing: %v", k, got)
		}
		f := evaluate.Foot{Change: *c.c, Wanted: c.wanted, HasStock: c.stock}
		if got := e.FootDo(&f); got != e.ChangeDo(c.c, c.wanted, c.stock) {
			t.Errorf("%d: %q", k, got)
		}
	}
	f := evaluate.Foot{Change: *put(none, none, []float64{0.5}, []float64{0.5}, packs.ChangeMet), Wanted: 0.5, HasStock: true, Status: packs.PickShort}
	if got := e.FootDo(&f); got != "0.50, "+packs.PickShort.String() {
		t.Error(got)
	}
}

// Both units in which a thickness is shown, and what a sheet says of layers and of what lies there.
func TestThicknessesInWords(t *testing.T) {
	e, _ := caseJob(t, lowRow, "", &jobCase{})
	inch, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: Units=inch"})
	comma, _ := caseJob(t, lowRow, "", &jobCase{sheets: "Job: Decimal sign=comma"})
	for _, c := range []struct{ got, want string }{
		{e.LiesThere(nil), "nothing lies there"}, {e.LiesThere([]float64{0.5, 0.2}), "0.50 + 0.20"}, {inch.LiesThere([]float64{0.508}), "20"}, {comma.LiesThere([]float64{0.5, 0.2}), "0,50 + 0,20"},
		{e.Sum(0), "0 mm"}, {e.Sum(0.325), "0.325 mm"}, {inch.Sum(0.0635), "2.5 mil"}, {inch.Sum(0), "0 mil"}, {e.piecesWords([]float64{0.1, 2}), "0.10 + 2.00 mm"},
		{e.LaminatedWords(0.05), " laminated, layers of 0.05"}, {e.PackNumber(1), "1.00"}, {inch.PackNumber(25.4), "1000"}, {inch.PackNumber(0.254), "10"},
		{e.Amount(0.1), "0.10 mm"}, {e.Amount(0.125), "0.125 mm"}, {inch.Amount(0.254), "10 mil"}, {e.Thickness(0.1), "0.1 mm"}, {e.Thickness(-0.1235), "-0.123 mm"}, {e.Thickness(0), "0 mm"}, {e.Thickness(-0.0004), "0 mm"}, {e.Thickness(100), "100 mm"}, {inch.Thickness(2.54), "100 mil"}, {inch.Thickness(0.01), "0.4 mil"},
		{e.Shim(0.1), "0.10 mm"}, {inch.Shim(0.254), "10.0 mil"}, {e.Distance(300), "300 mm"}, {inch.Distance(254), "10 in"}, {inch.Distance(257.175), "10.125 in"}, {e.Slope(0.5), "0.5 mm/m"}, {inch.Slope(0.5), "0.5 mil/in"}, {e.Percent(0.123), "12 %"}, {comma.Thickness(0.1), "0,1 mm"}, {comma.Distance(1000), "1000 mm"},
		{e.Bare(nan), ""}, {e.Bare(0.1), "0.100"}, {inch.Bare(0.254), "10.0"},
		{e.CheckNumber(0.05, job.QThickness.Kind()), "0.05 mm"}, {inch.CheckNumber(0.0508, job.QThickness.Kind()), "2 mil"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

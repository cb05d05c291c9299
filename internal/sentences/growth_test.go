package sentences

import (
	"math"
	"strings"
	"testing"
)

// TestSidewaysParts: a gear case keyed at its 9 o'clock side carries its shaft towards 3 as it warms.
//
// evidence: calc=thermal growth grade=identity count=2 source=length × coefficient × (running − cold), by hand
func TestSidewaysParts(t *testing.T) {
	head := "Machine,Support,Part,Height,Coefficient,Cold,Running,Growth V,Growth H,Direction\n"
	// 400 mm × 11e-6/K × 50 K = 0.22 mm at the near support and 0.176 mm at the far one, 40 K; 350 mm up × 11e-6 × 50 = 0.1925 mm.
	rows := "pump,stationary near,case,350,11,20,70,,,\npump,stationary near,case,400,11,20,70,,,towards 3\npump,stationary far,case,350,11,20,70,,,up\npump,stationary far,case,400,11,20,60,,,Towards 3\n"
	cells := change(reverse, "Stationary near support=200", "Stationary far support=600")
	e, r := grown(t, cells, "Growth", head+rows)
	if r.Growth == nil {
		t.Fatal(r.Problems, e.Problems())
	}
	near(t, "near, up", r.Growth.Supports[0].V, 0.1925, 1e-12)
	near(t, "near, sideways", r.Growth.Supports[0].H, 0.22, 1e-12)
	near(t, "far, sideways", r.Growth.Supports[1].H, 0.176, 1e-12)
	// The stationary shaft goes towards 3 by 0.22 at −200 mm and 0.176 at −600 mm, so by 0.242 at the coupling and 0.11 mm/m more for every metre on.
	near(t, "wanted offset H", r.Wanted.DH, 0.242, 1e-12)
	near(t, "wanted slope H", r.Wanted.TH, 0.11, 1e-12)
	// 5 % of the coefficient, and 2 K at either end, k = 2.
	near(t, "its uncertainty", r.Growth.Supports[0].UH, 2*400*11e-6*math.Hypot(50*0.05, math.Hypot(2, 2)), 1e-12)
	// Towards 9 is the other way, and a growth known from elsewhere is added to what was worked out.
	_, o := grown(t, cells, "Growth", head+strings.ReplaceAll(strings.ToLower(rows), "towards 3", "towards 9")+"pump,stationary near,pipe,,,,,,0.1,\n")
	near(t, "near, the other way", o.Growth.Supports[0].H, -0.22+0.1, 1e-12)
	near(t, "up stays", o.Growth.Supports[0].V, 0.1925, 1e-12)
	if text := e.GrowthPartWords(&r.Growth.Parts[1]); !strings.Contains(text, "towards 3") {
		t.Error(text)
	}
	for row, says_ := range map[string]string{"pump,front,case,400,11,20,70,,0.1,towards 3\n": "both filled", "pump,front,case,400,11,20,70,,,sideways\n": "Direction",
		"pump,front,pipe,,,,,,0.1,towards 9\n": "says its side by its sign"} {
		e, _ := grown(t, cells, "Growth", head+row)
		if p := e.Problems(); len(p) != 1 || p[0].Row != 2 || !strings.Contains(p[0].Text.String()+p[0].Column, says_) {
			t.Errorf("%s: %v", row, p)
		}
	}
}

// TestMaterialsOfTheJob: the job's own coefficient wins over a built-in one of the same name, and the result says which was used.
func TestMaterialsOfTheJob(t *testing.T) {
	rows := "Machine,Support,Height,Material,Cold,Running\npump,front,500,carbon steel,20,70\npump,rear,500,carbon steel,20,70\n"
	_, ours := grown(t, reverse, "Growth", rows)
	e, own := grown(t, reverse, "Growth", rows, "Materials", "Material,Coefficient [1e-6/K],Uncertainty,Source\nCarbon  Steel,20,10 %,works test\n")
	near(t, "rise with the job's coefficient", own.Growth.Supports[0].V, 500*20e-6*50, 1e-12)
	near(t, "its uncertainty, k = 2, from the coefficient and 2 K at either end", own.Growth.Supports[0].UV, 2*500*20e-6*math.Hypot(50*0.10, math.Hypot(2, 2)), 1e-12)
	if !own.Growth.Parts[0].OwnMaterial || ours.Growth.Parts[0].OwnMaterial || !strings.Contains(own.Growth.Parts[0].Source.String(), "works test") || !strings.Contains(own.Growth.Parts[0].Source.String(), "row 2") {
		t.Errorf("%+v", own.Growth.Parts[0])
	}
	told := false
	for _, s := range e.Sentences(0) {
		told = told || strings.Contains(s.Text, "Materials sheet") && strings.Contains(s.Text, "works test")
	}
	if !told {
		t.Error("no sentence tells which coefficient was used:", e.Sentences(0))
	}
	// Two rows are means from one temperature; between them the mean is interpolated: 11 at 80 °C.
	_, table := grown(t, reverse, "Growth", strings.ReplaceAll(strings.ReplaceAll(rows, "carbon steel", "mine"), "70", "80"),
		"Materials", "Material,Coefficient,From,At temperature\nmine,12,20,120\n,10,20,40\n")
	near(t, "rise by a table of means", table.Growth.Supports[0].V, 500*11e-6*60, 1e-12)
}

package evaluate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// TestGrowthOfAFrame: twelve inches of machine frame from 60 to 180 °F, 6.3 millionths of an inch for each inch and degree.
//
// evidence: calc=thermal growth grade=published count=2 source=R. B. McMillan, Rotating Machinery: Practical Solutions to Unbalance and Misalignment, 2004, ch. 8: 6.3 µin/in·°F for machine frames; height × coefficient × rise of temperature by hand
func TestGrowthOfAFrame(t *testing.T) {
	const want = 12 * 6.3e-6 * 120 * 1000 // mil
	for _, how := range []string{"6.3 1e-6/°F", ""} {
		material := "machine frame"
		if how != "" {
			material = ""
		}
		_, r := grown(t, reverse, "Job", "Name,Value\nUnits,inch\nCold temperature,60\n",
			"Growth", "Machine,Support,Part,Height,Material,Coefficient,Running\npump,front,frame,12,"+material+","+how+",180\npump,rear,frame,12,"+material+","+how+",180\n")
		if r.Growth == nil {
			t.Fatal(r.Problems)
		}
		near(t, "rise of the frame", r.Growth.Supports[0].V/0.0254, want, 1e-9)
		near(t, "wanted offset", r.Wanted.DV/0.0254, -want, 1e-9)
		near(t, "wanted slope", r.Wanted.TV, 0, 1e-12)
	}
}

// TestGrowthSheetAgainstColumns: growth given on the sheet is growth given in the columns, and parts of a support add up.
//
// evidence: calc=thermal growth grade=identity count=2 source=the same growth given in the columns of the row and, in parts, on the Growth sheet
func TestGrowthSheetAgainstColumns(t *testing.T) {
	places := []string{"Stationary near support=310", "Stationary far support=820", "Running offset V=0.02", "Running slope H=0.1"}
	_, a := one(t, change(reverse, append(places, "Growth movable front V=0.09", "Growth movable rear V=0.07", "Growth movable front H=0.01", "Growth movable rear H=-0.02", "Growth stationary near V=0.34", "Growth stationary far V=0.31")...)...)
	sheetText := "Machine,Support,Growth V,Growth H\npump,movable front,0.05,\npump,movable front,0.04,0.01\npump,movable rear,0.07,-0.02\npump,stationary near,0.34,\npump,stationary far,0.31,\n"
	_, b := grown(t, change(reverse, places...), "Growth", sheetText)
	if b.Growth == nil || a.Growth != nil {
		t.Fatal(b.Problems)
	}
	// A part of the support by height, the rest given: 100 mm × 10e-6 × 40 K = 0.04 mm.
	_, c := grown(t, change(reverse, places...), "Growth", strings.Replace("Machine,Support,Growth V,Growth H,Height,Coefficient,Cold,Running\n"+strings.SplitN(sheetText, "\n", 2)[1],
		"pump,movable front,0.04,0.01\n", "pump,movable front,,0.01,100,10,14,54\n", 1))
	for _, r := range []*RowResult{b, c} {
		for k, v := range [...][2]float64{{r.Wanted.DV, a.Wanted.DV}, {r.Wanted.TV, a.Wanted.TV}, {r.Wanted.DH, a.Wanted.DH}, {r.Wanted.TH, a.Wanted.TH}} {
			near(t, fmt.Sprint("part ", k, " of the wanted line"), v[0], v[1], 1e-12)
		}
	}
	if c.Growth.Cov[0][0] <= 0 || b.Growth.Cov[0][0] != 0 {
		t.Error("what is worked out is uncertain, what is given is taken as it is:", c.Growth.Cov, b.Growth.Cov)
	}
	// Supports the sheet does not name keep their columns; those it names win, and both values are told.
	_, d := grown(t, change(reverse, append(places, "Growth movable front V=0.08", "Growth movable rear V=0.07", "Growth stationary near V=0.34", "Growth stationary far V=0.31")...),
		"Growth", "Machine,Support,Growth V,Growth H\nPUMP,front,0.09,0.01\npump,rear,0.07,-0.02\n")
	near(t, "wanted offset", d.Wanted.DV, a.Wanted.DV, 1e-12)
	says(t, d, job.Warning, "Growth movable front V", "0.09 mm there", "0.08 mm here")
	for _, p := range d.Problems {
		if strings.Contains(p.Text.String(), "movable rear") {
			t.Error("the same value twice is no difference:", p.Text)
		}
	}
}

// TestMeasuredChange: what moved from cold to hot is taken off, and nothing else of the growth is used.
//
// evidence: calc=thermal growth grade=identity count=1 source=wanted = running − (hot − cold), the covariances of the two measurements added
func TestMeasuredChange(t *testing.T) {
	cells := change(reverse, "Change offset V=0.2", "Change offset H=-0.05", "Change slope V=0.3", "Change slope H=0.1", "Running offset V=0.03", "Growth movable front V=9", "Growth movable rear V=9")
	_, r := one(t, cells...)
	for k, v := range [...][2]float64{{r.Wanted.DV, 0.03 - 0.2}, {r.Wanted.DH, 0.05}, {r.Wanted.TV, -0.3}, {r.Wanted.TH, -0.1}} {
		near(t, fmt.Sprint("part ", k), v[0], v[1], 1e-15)
	}
	says(t, r, job.Warning, "measured change")
	if u := math.Sqrt(r.Growth.Cov[1][1]); math.Abs(u-0.05*math.Sqrt2) > 1e-12 {
		t.Error("uncertainty of the slope", u)
	}
	_, bare := one(t, reverse...)
	if r.Calc.Found.Slope.UV <= bare.Calc.Found.Slope.UV {
		t.Error("the uncertainty of the wanted line is not in the verdict")
	}
	_, r = one(t, change(cells, "Change slope H")...)
	says(t, r, job.Error, "Change slope H is missing")
	if r.Verdict != calc.NotJudged || len(r.Calc.Feet) != 0 {
		t.Error(r.Verdict, r.Calc.Feet)
	}
}

// TestWantedReadings: dials that read what they should leave nothing to do.
//
// evidence: calc=wanted readings grade=identity count=3 source=the wanted readings typed in as readings give the wanted line back
func TestWantedReadings(t *testing.T) {
	growth := []string{"Growth movable front V=0.21", "Growth movable rear V=0.12", "Growth movable front H=0.04", "Growth movable rear H=0.09", "Movable sag at 6=-0.06", "Stationary sag at 6=-0.1"}
	face := []string{"Speed=1480", "Face diameter=200", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500", "Movable rim 12=0", "Movable rim 3=-0.17", "Movable rim 6=-0.30", "Movable rim 9=-0.13",
		"Face 12=0", "Face 3=0.01", "Face 6=0.03", "Face 9=0.02"}
	for _, cells := range [][]string{reverse, face, change(face, "Face side=back")} {
		cells = change(cells, growth...)
		e, r := one(t, cells...)
		w := e.WantedReadings(r)
		if len(w) != 2 {
			t.Fatal(w)
		}
		for _, s := range w {
			for k, x := range s.Readings {
				cells = change(cells, fmt.Sprintf("%s %s=%v", s.Sweep, job.PositionName(k), x.Zeroed))
			}
		}
		_, back := one(t, cells...)
		f := &back.Calc.Found
		if f.Offset.Total > 1e-12 || f.Slope.Total > 1e-11 || back.Verdict != calc.Inside {
			t.Errorf("%v: offset %g, slope %g from the wanted line, %v", w, f.Offset.Total, f.Slope.Total, back.Problems)
		}
	}
}

func TestGrowthProblems(t *testing.T) {
	head := "Machine,Support,Height,Material,Coefficient,Cold,Running,Growth V\n"
	for _, c := range []struct{ rows, says string }{
		{"pump,front,500,,11,20,70,\n", "Growth sheet has movable front and not movable rear"},
		{"pump,stationary near,500,,11,20,70,\npump,stationary far,500,,11,20,70,\n", "Stationary near support is missing"},
		{"pump,frnt,500,,11,20,70,\n", "row 2"},
		{"pump,front,500,unobtainium,,20,70,\n", "row 2"},
		{"pump,front,500,carbon steel,,20,70,0.3\n", "row 2"},
		{"pump,front,500,,11,,70,\n", "row 2"},
		{"pump,front,500,carbon steel,,20,900,\npump,rear,500,carbon steel,,20,900,\n", "outside the material's table"},
	} {
		e, r := grown(t, reverse, "Growth", head+c.rows)
		says(t, r, job.Error, c.says)
		if r.Verdict != calc.NotJudged || !r.HasLine() {
			t.Errorf("%q: %v, a line %v", c.rows, r.Verdict, r.HasLine())
		}
		_ = e
	}
	e, r := grown(t, reverse, "Growth", head+"pomp,front,500,,11,20,70,\n,rear,500,,11,20,70,\n")
	if r.Verdict == calc.NotJudged || len(e.Problems()) != 2 || !strings.Contains(e.Problems()[0].String(), "Growth row 3, Machine: missing") || !strings.Contains(e.Problems()[1].String(), `Growth row 2, Machine: "pomp" is not on the Machines sheet`) {
		t.Error(r.Verdict, e.Problems())
	}
}

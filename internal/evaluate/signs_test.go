package evaluate

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// TestPositiveSag: a positive number for the sag of a rim dial turned the sign of a shim with a warning only. Both conventions are in print, so the verdict waits until somebody says
// which is meant; the line is shown as the dial's. The packs of that line stood on the pick list, where nothing says that they hang on an open question: it has none. The face part of a bracket may have either sign.
//
// evidence: calc=bracket droop grade=published count=3 source=H. P. Bloch and F. K. Geitner, Machinery Component Maintenance and Repair, p. 188: rim sag 0.007 in goes with a face part of +0.002 in, 0.004 with +0.0013; US Bureau of Reclamation FIST 4-1A p. 17: the amount of sag is written positive and the dial shows twice the sag
func TestPositiveSag(t *testing.T) {
	cells := change(reverse, "Offset limit=1", "Slope limit=3", "Limit reason=test", "Movable sag at 6=-0.05", "Stationary sag at 6=-0.05")
	_, negative := one(t, cells...)
	positive := change(cells, "Movable sag at 6=0.05", "Stationary sag at 6=0.05")
	_, held := one(t, positive...)
	says(t, held, job.Error, "Movable sag at 6", "two ways", "Positive sag")
	if held.Verdict != calc.NotJudged || !held.HasLine() || len(held.Calc.Feet) != 0 {
		t.Errorf("%v %v", held.Verdict, held.Calc.Feet)
	}
	_, amount := one(t, change(positive, "Positive sag=amount")...)
	_, reading := one(t, change(positive, "Positive sag=dial reading")...)
	if amount.Verdict != negative.Verdict || amount.Calc.Line != negative.Calc.Line || len(amount.Problems) != len(negative.Problems) {
		t.Errorf("%v %+v, want %v %+v", amount.Verdict, amount.Calc.Line, negative.Verdict, negative.Calc.Line)
	}
	if reading.Verdict == calc.NotJudged || reading.Calc.Line != held.Calc.Line {
		t.Errorf("%v %+v", reading.Verdict, reading.Calc.Line)
	}
	// Once a job is enough, and the row wins.
	job := func(word string, cells []string) *RowResult {
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, cells...)
		return work(t, with(t, j, job.SettingsSheet, "Positive sag,"+word+"\n")).Row(0)
	}
	if r := job("amount", positive); r.Calc.Line != negative.Calc.Line || r.Verdict == calc.NotJudged {
		t.Errorf("%+v", r.Calc.Line)
	}
	if r := job("amount", change(positive, "Positive sag=dial reading")); r.Calc.Line != reading.Calc.Line {
		t.Errorf("%+v", r.Calc.Line)
	}
	// The two face parts of the book: bracket seven thousandths on the rim and +2 on the face, and 4 with +1.3.
	for _, w := range [][2]string{{"-7 mil", "2 mil"}, {"-4 mil", "1.3 mil"}} {
		_, r := one(t, "Speed=1480", "Method=rim and face", "Coupling to movable plane=50", "Face diameter=200", "Coupling to front feet=300", "Front to rear feet=500",
			"Movable rim 12=0", "Movable rim 3=0", "Movable rim 6="+w[0], "Movable rim 9=0", "Movable sag at 6="+w[0],
			"Face 12=0", "Face 3=0", "Face 6="+w[1], "Face 9=0", "Face sag at 6="+w[1])
		for k := range r.Problems {
			if p := &r.Problems[k]; strings.Contains(p.Text.String(), "sag") || p.Column == "Face sag at 6" {
				t.Error(p)
			}
		}
	}
}

// TestColdSetting: a maker's cold setting in columns of the planner's own was dropped and the hot pump declared inside. It is an input now; beside growth it is a conflict until one is
// chosen.
//
// evidence: calc=wanted cold line grade=published count=6 source=a pump maker's manual (Goulds 3196): cold setting for hot pumps, 50 °F 0.002 in low, then by 100 °F from 150: 1, 5, 9, 13, 17 thousandths high
func TestColdSetting(t *testing.T) {
	zero := []string{"Cold offset H=0", "Cold slope V=0", "Cold slope H=0"}
	base := []string{"Speed=1480", "Given offset V=0", "Given offset H=0", "Given slope V=0", "Given slope H=0", "Coupling to front feet=300", "Front to rear feet=500"}
	for _, mil := range []float64{-2, 1, 5, 9, 13, 17} { // the pump's setting; here the movable machine is set as high or as low against it
		e, r := one(t, append(slices.Concat(base, zero), fmt.Sprintf("Cold offset V=%g mil", mil))...)
		near(t, "wanted", r.Wanted.DV, mil*0.0254, 1e-15)
		near(t, "shim", r.Calc.Feet[1].Shim, mil*0.0254, 1e-15)
		if m := machines(t, e)[0]; m["wanted_from"] != "cold setting" {
			t.Error(m["wanted_from"])
		}
		if want := calc.Inside; mil == 17 && r.Verdict == want || mil == 1 && r.Verdict != want {
			t.Errorf("%g mil: %v", mil, r.Verdict)
		}
	}
	// Not all of it: an empty cell is not zero.
	_, r := one(t, append(slices.Clone(base), "Cold offset V=0.1")...)
	says(t, r, job.Error, "Cold slope V is missing", "0 where the maker wants none")
	if r.Verdict != calc.NotJudged || !math.IsNaN(r.Wanted.DV) {
		t.Error(r.Verdict, r.Wanted)
	}
	// Beside growth, a measured change, something wanted hot, the Growth sheet.
	cold := append(slices.Concat(base, zero), "Cold offset V=0.1")
	for what, cells := range map[string][]string{
		"growth in columns":          {"Growth movable front V=0.3", "Growth movable rear V=0.3"},
		"a measured change":          {"Change offset V=0.1", "Change offset H=0", "Change slope V=0", "Change slope H=0"},
		"a running offset or slope":  {"Running offset V=0.02"},
		"growth on the Growth sheet": nil,
	} {
		var sheets []string
		if cells == nil {
			sheets = []string{"Growth", "Machine,Support,Growth V\npump,movable front,0.3\npump,movable rear,0.3\n"}
		}
		_, r := grown(t, slices.Concat(cold, cells), sheets...)
		says(t, r, job.Error, what, "Wanted from")
		if r.Verdict != calc.NotJudged || !r.HasLine() {
			t.Errorf("%s: %v", what, r.Verdict)
		}
		_, r = grown(t, append(slices.Concat(cold, cells), "Wanted from=cold setting"), sheets...)
		says(t, r, job.Warning, what, "not used")
		near(t, what, r.Wanted.DV, 0.1, 0)
		_, r = grown(t, append(slices.Concat(cold, cells), "Wanted from=growth"), sheets...)
		says(t, r, job.Warning, "cold setting is not used")
		if r.Wanted.DV == 0.1 || r.ColdSetting {
			t.Errorf("%s: %+v", what, r.Wanted)
		}
	}
	if _, r = one(t, append(slices.Clone(cold), "Wanted from=growth")...); r.Verdict != calc.NotJudged {
		t.Error("the setting is dropped for a growth that is not there")
	}
}

// TestColdReadingsWanted: the readings the dials should show cold are a set of their own; what the program itself asks for on a wanted line leads back to that line.
func TestColdReadingsWanted(t *testing.T) {
	cells := change(reverse, "Movable sag at 6=-0.04", "Stationary sag at 6=-0.04")
	e, r := one(t, change(cells, "Cold offset V=0.2", "Cold offset H=-0.1", "Cold slope V=0.3", "Cold slope H=0.05")...)
	rows := "Machine,Sweep,Angle,Reading,Set\n"
	for _, w := range e.WantedReadings(r) {
		for k, x := range w.Readings {
			rows += fmt.Sprintf("pump,%s,%d,%.17g,wanted\n", w.Sweep, 90*k, x.Zeroed)
		}
	}
	e, r2 := grown(t, cells, "Readings", rows)
	for k, want := range [4]float64{0.2, 0.3, -0.1, 0.05} {
		near(t, "wanted line", [4]float64{r2.Wanted.DV, r2.Wanted.TV, r2.Wanted.DH, r2.Wanted.TH}[k], want, 1e-12)
	}
	if m := machines(t, e)[0]; m["wanted_from"] != "cold setting" || r2.Calc.Line != r.Calc.Line {
		t.Error(m["wanted_from"], r2.Calc.Line)
	}
	_, r2 = grown(t, append(slices.Clone(cells), "Cold offset V=0"), "Readings", rows)
	says(t, r2, job.Error, "in columns and as a wanted set")
}

// TestAskedColumns: a column that is not read and whose name sounds like where the shaft should stand holds the verdict of the rows that fill it, until it is named or left aside.
func TestAskedColumns(t *testing.T) {
	good := []string{"Speed=1480", "Given offset V=0", "Given offset H=0", "Given slope V=0", "Given slope H=0", "Coupling to front feet=300", "Front to rear feet=500"}
	for _, h := range []string{"Cold target (mil)", "Vertical target", "DESIRED vert. offset", "Maker wants cold", "Wanted offset V", "Running temperature", "Target readings", "Kalt/cold Einstellung"} {
		_, r := one(t, append(slices.Clone(good), h+"=0.35")...)
		says(t, r, job.Error, "nothing is judged", "Cold offset V")
		if r.Verdict != calc.NotJudged || !r.HasLine() {
			t.Errorf("%s: %v", h, r.Verdict)
		}
		if _, r = one(t, append(slices.Clone(good), h+"=")...); r.Verdict != calc.Inside {
			t.Errorf("%s, empty: %v %v", h, r.Verdict, r.Problems)
		}
		j := job.NewJob()
		j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
		add(j, append(slices.Clone(good), h+"=0.35")...)
		if r := work(t, with(t, j, job.SettingsSheet, "Name,Value\nColumns left aside,\"Old; "+strings.ToLower(h)+"\"\n")).Row(0); r.Verdict != calc.Inside {
			t.Errorf("%s, left aside: %v %v", h, r.Verdict, r.Problems)
		}
	}
	// A list of results read in again is no question.
	if _, r := one(t, append(slices.Clone(good), "Verdict=inside", "Wanted offset V=0.35", "Wanted readings=Movable rim 0, 1")...); r.Verdict != calc.Inside {
		t.Error(r.Verdict, r.Problems)
	}
	// No spelling of an input of any sheet leads to a result.
	for i := range job.Columns() {
		if c := &job.Columns()[i]; c.Result {
			for _, s := range c.Spellings() {
				n := job.NormalForm(s)
				for _, w := range []string{"target", "desired", "cold"} {
					if strings.Contains(n, w) {
						t.Errorf("%q leads to the result %s", s, c.Name)
					}
				}
			}
		}
	}
}

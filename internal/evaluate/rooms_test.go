package evaluate

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
)

// A foot that is to go further than its room is told of with both amounts, up and down, left and right, and none of the others; with as much room as it takes there is nothing to say.
func TestRoomsOfFeet(t *testing.T) {
	for _, cells := range [][]string{reverse, change(reverse, "Running offset V=0.9", "Running offset H=0.4", "Running slope H=-0.1")} {
		_, bare := grown(t, cells, "Feet", "Machine,Foot\npump,front 9\npump,front 3\npump,rear 9\npump,rear 3\n")
		for k, foot := range []string{"front 9", "rear 3"} {
			f := bare.Calc.Feet[k]
			for _, way := range []struct {
				column string
				by     float64
			}{{"Room up", f.Shim}, {"Room down", -f.Shim}, {"Room left", -f.Move}, {"Room right", f.Move}} {
				for _, room := range []float64{math.Abs(way.by) * 0.9, math.Abs(way.by) * 1.1} {
					feet := fmt.Sprintf("Machine,Foot,%s\npump,front 9,\npump,front 3,\npump,rear 9,\npump,rear 3,\n", way.column)
					feet = strings.Replace(feet, foot+",", fmt.Sprintf("%s,%.6f", foot, room), 1)
					_, r := grown(t, cells, "Feet", feet)
					told := ""
					for _, p := range r.Problems {
						if strings.Contains(p.Text.String(), "room") {
							told += p.Column + ": " + p.Text.String() + "\n"
						}
					}
					if want := way.by > room; (told != "") != want || want && (!strings.HasPrefix(told, way.column+": ") || !strings.Contains(told, foot) || strings.Count(told, "\n") != 1) {
						t.Errorf("%s goes %g, %s is %g: %q", foot, way.by, way.column, room, told)
					}
				}
			}
		}
	}
}

// Where the machine should run cannot be read in one of its numbers, no line is wanted and nothing is judged, whichever of the four it is.
func TestWantedUnreadable(t *testing.T) {
	for _, h := range []string{"Running offset V", "Running offset H", "Running slope V", "Running slope H"} {
		_, r := one(t, change(reverse, h+"=some")...)
		if r.Verdict != calc.NotJudged || Known(r.Wanted.DV) || Known(r.Wanted.TH) || !r.HasLine() {
			t.Errorf("%s: %v, wanted %+v", h, r.Verdict, r.Wanted)
		}
		says(t, r, job.Error, h, "some")
		_, r = one(t, change(reverse, h+"=0.2")...)
		got := map[string]float64{"Running offset V": r.Wanted.DV, "Running offset H": r.Wanted.DH, "Running slope V": r.Wanted.TV, "Running slope H": r.Wanted.TH}
		for name, v := range got {
			if want := map[bool]float64{true: 0.2}[name == h]; v != want {
				t.Errorf("%s is 0.2: %s of the line is %g", h, name, v)
			}
		}
	}
}

// What is said of a train that cannot be brought in line is one sentence or several, each whole: no stop in the middle of one.
func TestTrainSentencesAreWhole(t *testing.T) {
	e := work(t, demoJob(t, false))
	broken := regexp.MustCompile(`\.[,;:.]|\. or |\. [a-z]`)
	n, others := 0, 0
	for k := range e.Trains() {
		for _, p := range append([]TrainPlan{e.Trains()[k]}, e.TrainChoices(k)...) {
			if p.Why.Empty() {
				continue
			}
			n++
			if broken.MatchString(p.Why.String()) {
				t.Errorf("%s, %s: %s", p.Train, p.Plan, p.Why)
			}
			if strings.Contains(p.Why.String(), ", or") || strings.Contains(p.Why.String(), "; or") {
				others++
			}
		}
	}
	if n == 0 {
		t.Error("no train was impossible")
	}
	if others == 0 {
		t.Error("nothing else would do anywhere")
	}
}

package report

import (
	"fmt"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// Names that are too long for the paper are cut so that both machines are named, neither on the other, each with a good part of the width; names that have room are whole.
func TestLongNames(t *testing.T) {
	const long = "Circulating water pump number two of the northern intake"
	names, cells := lineCells(knownMachines[0])
	growth := "Machine,Support,Part,Height,Coefficient,Cold,Running\n%s,movable front,frame,200,12,20,70\n%s,movable rear,frame,200,12,20,60\n"
	for _, stat := range []string{"gear", "Northern motor of the circulating water plant, second row"} {
		for _, name := range []string{"fan", long} {
			text := strings.Replace(machineText(names+",Stationary", cells+","+stat), "\nP,", "\n"+name+",", 1)
			ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: text, job.GrowthSheet: fmt.Sprintf(growth, name, name)})
			ev.Count()
			for _, w := range []float64{280, 420, 1500} {
				for what, draw := range map[string]func([]byte, *sentences.Teller, int, Options) []byte{"machine": Machine, "growth": GrowthFigure, "sketch": CardSketch, "what to do": WhatToDo} {
					where := fmt.Sprintf("%s of %s and %s at %g", what, stat, name, w)
					list := parse(t, draw(nil, ev, 0, Options{Width: w}))
					checkLayout(t, where, list, 40)
					seen := 0
					for _, b := range boxes(t, list) {
						for of, behind := range map[string]string{stat: "(stays)", name: "(mov"} {
							cut := strings.HasSuffix(strings.Split(b.text, " (")[0], "…")
							if !strings.Contains(b.text, behind) || !strings.HasPrefix(b.text, of[:3]) {
								continue
							}
							seen++
							whole := width(of+" (movable)", fontSoft)
							share := 0.42*w - 16
							if behind != "(stays)" {
								share = 0.58*w - 16
							}
							if cut != (whole > share) || b.x1-b.x0 > share+2 || cut && b.x1-b.x0 < share-30 {
								t.Errorf("%s: %q takes %.1f of %.1f", where, b.text, b.x1-b.x0, share)
							}
						}
					}
					if what != "what to do" && seen < 2 {
						t.Errorf("%s: %d names", where, seen)
					}
				}
			}
		}
	}
}

// A universal coupling is judged by its slope alone, over the limit of slopes; the overview shows that share and no offset.
func TestOverviewOfUniversal(t *testing.T) {
	ev := jobOf(t, "Machine,Coupling,Method,Spacer length,Coupling to front feet,Front to rear feet,Offset limit,Slope limit,Given offset V,Given offset H,Given slope V,Given slope H\nU,universal,line,700,480,710,0.1,2,0.3,-0.4,0.6,0.8\n", false)
	ev.Count()
	for _, e := range parse(t, Overview(nil, ev, nil, Options{Width: 900})) {
		if l := e.attr["aria-label"]; l != "" && (!strings.Contains(l, ", slope 50 % of its limit") || strings.Contains(l, "offset")) {
			t.Errorf("%q", l)
		}
		if e.inside["data-row"] != "" && e.attr["class"] == "d-offset" {
			t.Error("an offset is drawn")
		}
	}
}

// A heading has some room above it, and stands nearer to what it heads than to what is above.
func TestHeadingsStandOff(t *testing.T) {
	ev := allKinds(t, false)
	heads := 0
	for i := range ev.Len() {
		for what, draw := range map[string]func([]byte, *sentences.Teller, int, Options) []byte{"machine": Machine, "growth": GrowthFigure, "feet": FeetPlan, "sweeps": Sweeps, "rounds": Rounds} {
			for _, w := range []float64{300, 900} {
				list := parse(t, draw(nil, ev, i, Options{Width: w}))
				var low []float64 // of all that is drawn
				for k := range list {
					e := &list[k]
					if e.attr["class"] == "" {
						continue
					}
					if e.name == "text" {
						b := boxes(t, list[k:k+1])[0]
						low = append(low, b.y1+b.down())
					}
					for _, s := range strokes(t, e) {
						low = append(low, max(s[1], s[3]))
					}
				}
				for k := range list {
					e := &list[k]
					if e.name != "text" || e.attr["class"] != "d-head" || e.attr["font-size"] != "12" || list[k-1].attr["class"] == "d-head" && list[k-1].name == "text" {
						continue
					}
					heads++
					b := boxes(t, list[k:k+1])[0]
					for _, y := range low {
						if y < b.y1 && y > b.y0-3 {
							t.Errorf("%s of %s at %g: %q begins at %.1f, above it something ends at %.1f", what, ev.Row(i).Name, w, e.text, b.y0, y)
							break
						}
					}
				}
			}
		}
	}
	if heads < 60 {
		t.Errorf("%d headings", heads)
	}
}

// The words below a figure of a method break before the edge of the paper, whatever its width.
func TestMethodWordsStayOnThePaper(t *testing.T) {
	for m := job.MethodBlank; m <= job.GivenLineMethod; m++ {
		for w := 300.0; w <= 1000; w += 50 {
			for _, b := range boxes(t, parse(t, MethodFigure(nil, m, Options{Width: w}))) {
				if b.x1 > w-8 {
					t.Fatalf("%s at %g: %q ends at %g", m, w, b.text, b.x1)
				}
			}
		}
	}
}

package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sheet"
)

// machineText is a list of one machine, a short coupling between the river (3 o'clock) and the hill, with what is given.
func machineText(more string, cells string) string {
	if more != "" {
		more, cells = ","+more, ","+cells
	}
	return "Machine,Side at 3,Side at 9,Coupling,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet" + more + "\n" +
		fmt.Sprintf("P,river,hill,short,line,1480,%g,%g,%g,%g%s\n", toStat, toMov, toFront, frontToRear, cells)
}

func lineCells(m knownMachine) (names, cells string) {
	return "Given offset V,Given offset H,Given slope V,Given slope H", fmt.Sprintf("%g,%g,%g,%g", m.dv, m.dh, m.tv, m.th)
}

// said is all words of a drawing on one line.
func said(list []element) string { return strings.Join(strings.Fields(words(list)), " ") }

// The scale of every drawing to scale has a bar to measure by: as a bracket that lies on its words' line, as long as the words say, with the words just behind it; one of it a drawing.
func TestScaleBar(t *testing.T) {
	for _, inch := range []bool{false, true} {
		ev := allKinds(t, inch)
		unit, mm, widths := "mm", 1.0, []float64{300, 1000}
		if inch {
			unit, mm, widths = "mil", 0.0254, []float64{620}
		}
		bars := 0
		for i := range ev.Len() {
			for name, draw := range map[string]func([]byte, *sheet.Evaluator, int, Options) []byte{"machine": Machine, "growth": GrowthFigure} {
				for _, w := range widths {
					list := parse(t, draw(nil, ev, i, Options{Width: w}))
					all := said(list)
					if !strings.Contains(all, "Scale at full size: along ") {
						continue
					}
					_, after, _ := strings.Cut(all, "across × ")
					mag, err := strconv.ParseFloat(strings.TrimRight(strings.Fields(after)[0], ",."), 64)
					found := 0
					for k := range list {
						e := &list[k]
						n, ok := strings.CutSuffix(e.text, " across")
						if e.name != "text" || !ok || len(strings.Fields(n)) != 2 {
							continue
						}
						if n, ok = strings.CutSuffix(n, " "+unit); !ok {
							t.Errorf("%s of %s: %q is not in %s", name, ev.Row(i).Name, e.text, unit)
						}
						v, err2 := strconv.ParseFloat(n, 64)
						bar := coords(t, list[k-1].attr["d"])
						if err != nil || err2 != nil || len(bar) != 8 {
							t.Fatalf("%s of %s at %g: %q, bar %v", name, ev.Row(i).Name, w, e.text, bar)
						}
						found++
						x, y := e.num(t, "x"), e.num(t, "y")
						if long := bar[4] - bar[2]; math.Abs(long-v*mm*mag*96/25.4) > 0.01 || bar[3] != bar[5] || bar[0] != bar[2] || bar[4] != bar[6] || !(bar[1] < bar[3]) || bar[1] != bar[7] || x-bar[4] < 3 || x-bar[4] > 12 || y != bar[3] {
							t.Errorf("%s of %s at %g: the bar %v before %q at %g, %g, × %g", name, ev.Row(i).Name, w, bar, e.text, x, y, mag)
						}
					}
					if found != 1 {
						t.Errorf("%s of %s at %g: %d bars", name, ev.Row(i).Name, w, found)
					}
					bars += found
				}
			}
		}
		if bars < 12 {
			t.Errorf("%d bars", bars)
		}
	}
}

// What is said of the line in each view, by the signs of README: positive offsets are high and towards 3 o'clock, positive slopes rise and lead towards 3 o'clock, going away from the coupling; and at the feet:
// a shaft that stands high wants shims taken out, one that stands towards 3 o'clock is pushed towards 9.
func TestFactsOfTheLine(t *testing.T) {
	side := func(v float64) string {
		if v < 0 {
			return "hill"
		}
		return "river"
	}
	pick := func(v float64, up, down string) string {
		if v < 0 {
			return down
		}
		return up
	}
	for _, m := range append(knownMachines, knownMachine{0.31, 0.12, -0.40, -0.25}, knownMachine{-0.31, -0.12, 0.40, 0.25}) {
		names, cells := lineCells(m)
		list := parse(t, Machine(nil, jobOf(t, machineText(names, cells), false), 0, Options{Width: 1000}))
		view := map[string]string{}
		for i := range list {
			if e := &list[i]; e.name == "text" {
				view[e.inside["data-view"]] += e.text + " "
			}
		}
		has := func(v, what string) {
			t.Helper()
			if !strings.Contains(view[v], what) {
				t.Errorf("%+v: %q is not in the %s view: %s", m, what, v, view[v])
			}
		}
		num := func(v float64, dec int) string { return strconv.FormatFloat(math.Abs(v), 'f', dec, 64) }
		has("side", "offset "+num(m.dv, 3)+" ± ")
		has("side", "mm"+pick(m.dv, " high", " low"))
		has("side", "slope "+num(m.tv, 2)+" ± ")
		has("side", "mm/m"+pick(m.tv, " rising", " falling"))
		has("top", "offset "+num(m.dh, 3)+" ± ")
		has("top", "mm towards "+side(m.dh))
		has("top", "slope "+num(m.th, 2)+" ± ")
		has("top", "mm/m towards "+side(m.th))
		for k, x := range []float64{toFront, toFront + frontToRear} {
			v, h := m.dv+m.tv*x/1000, m.dh+m.th*x/1000
			foot := []string{"front feet", "rear feet"}[k]
			_, part, _ := strings.Cut(view["side"], foot+" ")
			do, from, _ := strings.Cut(part, "from ")
			if want := pick(v, "take out ", "add "); !strings.HasPrefix(from, num(v, 3)+" ± ") || !strings.HasPrefix(do, want) && math.Abs(v) > 0.0125 || strings.HasPrefix(do, "leave") != (math.Abs(v) < 0.0125) { // half of the thinnest piece
				t.Errorf("%+v: the %s say %q, not %q from %s", m, foot, part, want, num(v, 3))
			}
			_, part, _ = strings.Cut(view["top"], foot+" ")
			do, from, _ = strings.Cut(part, "from ")
			if leave := math.Abs(h) < 0.01; !strings.HasPrefix(from, num(h, 3)+" ± ") || leave != strings.HasPrefix(do, "leave") || !leave && !strings.HasPrefix(do, "push "+num(h, 2)+" mm towards "+side(-h)) {
				t.Errorf("%+v: the %s say %q, not %s towards %s", m, foot, part, num(h, 3), side(-h))
			}
		}
	}
}

// Where hubs and feet stand: each foot of a pair at the station of the pair, on the base in the side view and on both sides from above; the movable hub about the line found, the stationary one about the datum.
func TestBodiesAtTheirPlaces(t *testing.T) {
	for _, m := range knownMachines {
		names, cells := lineCells(m)
		list := parse(t, Machine(nil, jobOf(t, machineText(names+",Further feet", cells+",300"), false), 0, Options{Width: 1000}))
		feet, hubs := map[string][]float64{}, map[string]int{}
		for i := range list {
			e := &list[i]
			view := e.inside["data-view"]
			if e.inside["data-across"] == "" || e.attr["class"] != "d-body" {
				continue
			}
			v := func(s string) float64 { f, _ := strconv.ParseFloat(e.inside[s], 64); return f }
			x := func(px float64) float64 { return (px - v("data-x0")) / (96 / 25.4) * v("data-along") }
			switch {
			case e.name == "rect" && e.num(t, "width") == 16 && e.num(t, "height") == 6:
				feet[view] = append(feet[view], x(e.num(t, "x")+8))
			case e.name == "rect" && x(e.num(t, "x")+e.num(t, "width")) < 0:
				if mid := e.num(t, "y") + e.num(t, "height")/2; math.Abs(mid-v("data-y0")) > 0.01 {
					t.Errorf("%+v: the stationary hub stands about %g, the datum is at %g", m, mid, v("data-y0"))
				}
				hubs["stationary "+view]++
			case e.name == "path":
				xy := coords(t, e.attr["d"])
				if len(xy) != 8 || xy[0] != xy[6] || xy[2] != xy[4] || !(x(xy[0]) > 0) {
					continue
				}
				d, s := m.dv, m.tv
				if view == "top" {
					d, s = m.dh, m.th
				}
				for _, end := range [][3]float64{{xy[0], xy[1], xy[7]}, {xy[2], xy[3], xy[5]}} {
					at := (v("data-y0") - (end[1]+end[2])/2) / (96 / 25.4) / v("data-across")
					if want := d + s*x(end[0])/1000; math.Abs(at-want) > 0.003 {
						t.Errorf("%+v, %s: the movable hub at %.0f mm stands about %.3f, the line found is at %.3f", m, view, x(end[0]), at, want)
					}
				}
				hubs["movable "+view]++
			}
		}
		stations := []float64{300, toFront, toFront + frontToRear}
		for view, n := range map[string]int{"side": 1, "top": 2} {
			got := feet[view]
			slices.Sort(got)
			if len(got) != 3*n || hubs["stationary "+view] != 1 || hubs["movable "+view] != 1 {
				t.Errorf("%+v: %s view, feet at %v, hubs %v", m, view, got, hubs)
				continue
			}
			for k, x := range got {
				if math.Abs(x-stations[k/n]) > 2 {
					t.Errorf("%+v: %s view, a foot at %.0f mm, not %.0f", m, view, x, stations[k/n])
				}
			}
		}
	}
}

// Two machines that grow and were wanted in line when hot run in line, whatever grows and wherever; where the maker wants them apart when hot, in any of the four numbers, that is said and not this.
func TestGrowthRunning(t *testing.T) {
	growth := "Machine,Support,Part,Height,Coefficient,Cold,Running,Growth H\nP,movable front,frame,200,12,20,70,0.05\nP,movable rear,frame,200,12,20,60,-0.02\nP,stationary near,casing,400,10.5,20,90,0.03\nP,stationary far,casing,400,10.5,20,80,0.07\n"
	names, cells := lineCells(knownMachines[0])
	for k, column := range []string{"", "Running offset V", "Running offset H", "Running slope V", "Running slope H"} {
		more, values := names+",Stationary near support,Stationary far support", cells+",300,800"
		if column != "" {
			more, values = more+","+column, values+",-0.2"
		}
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: machineText(more, values), job.GrowthSheet: growth})
		ev.Count()
		list := parse(t, GrowthFigure(nil, ev, 0, Options{Width: 900}))
		all, desc := said(list), list[2].text
		for _, s := range []string{all, desc} {
			if inLine, wants := strings.Contains(s, "both shafts lie on one line"), strings.Contains(s, "as its maker wants it"); inLine != (k == 0) || wants == inLine {
				t.Errorf("%q: %s", column, s)
			}
		}
		if k == 1 && !strings.Contains(all, "0.200 mm low at the coupling") {
			t.Errorf("%s", all)
		}
		// Each support says what it does: by hand, height · coefficient · difference.
		for _, want := range []string{"rises 0.120 mm", "rises 0.096 mm", "rises 0.294 mm", "rises 0.252 mm", "0.050 mm towards river", "0.020 mm towards hill", "0.030 mm towards river", "0.070 mm towards river"} {
			if !strings.Contains(all, want) {
				t.Errorf("%q is not in %s", want, all)
			}
		}
		// The wanted line is said with its signs: the movable shaft at the coupling stands by minus what it grows more than the stationary one, plus what the maker wants.
		mov := [2]float64{0.120 - (0.096-0.120)/frontToRear*toFront, (0.096 - 0.120) / frontToRear * 1000}
		stat := [2]float64{0.294 + (0.294-0.252)/500*300, (0.294 - 0.252) / 500 * 1000}
		d, s := stat[0]-mov[0], stat[1]-mov[1]
		if k == 1 {
			d -= 0.2
		}
		if k == 3 {
			s -= 0.2
		}
		word := " low"
		if d > 0 {
			word = " high"
		}
		rise := "fall "
		if s > 0 {
			rise = "rise "
		}
		if want := fmt.Sprintf("to stand %.3f mm%s at the coupling and to %s%.2f", math.Abs(d), word, rise, math.Abs(s)); !strings.Contains(all, want) {
			t.Errorf("%q: not %q in %s", column, want, all)
		}
	}
	// A support that cools sinks.
	cold := strings.Replace(growth, "P,movable front,frame,200,12,20,70", "P,movable front,frame,200,12,70,20", 1)
	ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: machineText(names+",Stationary near support,Stationary far support", cells+",300,800"), job.GrowthSheet: cold})
	if all := said(parse(t, GrowthFigure(nil, ev, 0, Options{Width: 900}))); !strings.Contains(all, "sinks 0.120 mm") {
		t.Error(all)
	}
}

// Where the feet stand is drawn as typed; what was not typed is taken, and said, and no two feet lie on each other.
func TestFeetAssumed(t *testing.T) {
	for _, c := range []struct {
		along, across bool
		words         string
	}{{true, true, ""}, {false, true, "Where the feet stand along was not written"}, {true, false, "Where the feet stand across was not written"}, {false, false, "Where the feet stand was not written"}} {
		for _, feet := range [][]string{{"front 9", "front 3", "rear 9", "rear 3"}, {"A", "B", "C", "D"}} {
			if feet[0] == "A" && !c.along {
				continue // nothing tells where they stand
			}
			text := "Machine,Foot,Along,Across,Gap\n"
			for k, f := range feet {
				along, across := "", ""
				if c.along {
					along = strconv.Itoa(480 + 710*(k/2))
				}
				if c.across {
					across = strconv.Itoa(-250 + 500*(k%2))
				}
				text += fmt.Sprintf("P1,%s,%s,%s,0.%d\n", f, along, across, k+1)
			}
			// The stations of the machine's feet are not given, so that nothing tells where the feet stand.
			machines := "Machine,Coupling,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nP1,short,1480,line,0.3,-0.1,0.4,0.2\n"
			if c.along {
				machines = oneMachine
			}
			ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: machines, job.FeetSheet: text})
			ev.Count()
			list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 900}))
			all := said(list)
			if strings.Contains(all, "was not written") != (c.words != "") || !strings.Contains(all, c.words) {
				t.Errorf("%v of %+v: %s", feet, c, all)
			}
			// Distances are those that were typed: feet that are set apart so that both are seen do not stand apart.
			var typed []string
			for i := range list {
				if e := &list[i]; e.name == "text" && e.attr["class"] == "d-soft" {
					if v, err := strconv.ParseFloat(strings.TrimSuffix(e.text, " mm"), 64); err == nil {
						typed = append(typed, strconv.FormatFloat(v, 'g', -1, 64))
					}
				}
			}
			slices.Sort(typed)
			var want []string
			if c.across {
				want = append(want, "500")
			}
			if c.along {
				want = append(want, "710")
			}
			if !slices.Equal(slices.Compact(typed), want) {
				t.Errorf("%v of %+v: distances %v, typed %v", feet, c, typed, want)
			}
			at := map[[2]float64]string{}
			named := 0
			for i := range list {
				e := &list[i]
				foot := e.inside["data-foot"]
				if foot == "" || e.name != "circle" && e.name != "rect" {
					continue
				}
				var p [2]float64
				if e.name == "circle" {
					p = [2]float64{e.num(t, "cx"), e.num(t, "cy")}
				} else {
					p = [2]float64{e.num(t, "x") + e.num(t, "width")/2, e.num(t, "y") + e.num(t, "height")/2}
				}
				for q, other := range at {
					if other != foot && math.Hypot(p[0]-q[0], p[1]-q[1]) < 8 {
						t.Errorf("%v of %+v: %s and %s lie on each other at %v", feet, c, foot, other, p)
					}
				}
				at[p] = foot
				named++
			}
			if named < len(feet) {
				t.Errorf("%v of %+v: %d marks", feet, c, named)
			}
			for _, f := range feet {
				if strings.Count(" "+all+" ", " "+f+" ") < 1 {
					t.Errorf("%v of %+v: %s is not named in %s", feet, c, f, all)
				}
			}
		}
	}
}

// An inch beside millimetres: sixteenths of the inch and millimetres stand as far apart as they are, the inch beside 25.4.
func TestConvertFigure(t *testing.T) {
	list := figure(t, CalculatorFigure("convert"))
	ticks := map[float64][]float64{}
	var inch float64
	for i := range list {
		e := &list[i]
		if e.name == "text" && e.text == "1 in" {
			inch = e.num(t, "x")
		}
		if e.name == "line" && e.attr["class"] == "d-axis" && e.num(t, "x1") == e.num(t, "x2") {
			ticks[e.num(t, "y1")] = append(ticks[e.num(t, "y1")], e.num(t, "x1"))
		}
	}
	if len(ticks) != 2 {
		t.Fatalf("%d rulers", len(ticks))
	}
	for _, list := range ticks {
		slices.Sort(list)
		mm := (inch - list[0]) / 25.4
		each := 25.4 / 16 // of millimetres
		n := 17
		if list[1]-list[0] < 1.2*mm {
			each, n = 1, 28
		}
		if len(list) != n {
			t.Errorf("%d ticks, not %d", len(list), n)
		}
		for k, x := range list {
			if math.Abs(x-list[0]-float64(k)*each*mm) > 0.01 {
				t.Errorf("tick %d stands at %.2f mm, not %.2f", k, (x-list[0])/mm, float64(k)*each)
			}
		}
	}
}

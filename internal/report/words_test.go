package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
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
func said(list []element) string { return strings.Join(strings.Fields(wordsOf(list)), " ") }

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
			for name, draw := range map[string]func([]byte, *sentences.Teller, int, Options) []byte{"machine": Machine, "growth": GrowthFigure} {
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
	ticks, long := map[float64][]float64{}, map[[2]float64]float64{}
	var inch float64
	for i := range list {
		e := &list[i]
		if e.name == "text" && e.text == "1 in" {
			inch = e.num(t, "x")
		}
		if e.name == "line" && e.attr["class"] == "d-axis" && e.num(t, "x1") == e.num(t, "x2") {
			ticks[e.num(t, "y1")] = append(ticks[e.num(t, "y1")], e.num(t, "x1"))
			long[[2]float64{e.num(t, "y1"), e.num(t, "x1")}] = math.Abs(e.num(t, "y2") - e.num(t, "y1"))
		}
	}
	if len(ticks) != 2 {
		t.Fatalf("%d rulers", len(ticks))
	}
	for y, list := range ticks {
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
			// Quarters of the inch and every five millimetres are longer, the whole inch longest.
			less, more := long[[2]float64{y, list[1]}], long[[2]float64{y, list[5]}]
			if n == 17 {
				more = long[[2]float64{y, list[4]}]
			}
			want := less
			switch {
			case n == 17 && k%16 == 0:
				want = long[[2]float64{y, list[0]}]
			case n == 17 && k%4 == 0, n == 28 && k%5 == 0:
				want = more
			}
			if !(more > less+2) || n == 17 && !(long[[2]float64{y, list[0]}] > more+2) || long[[2]float64{y, x}] != want {
				t.Errorf("tick %d of %d is %g long, small ones %g, larger ones %g", k, n, long[[2]float64{y, x}], less, more)
			}
		}
	}
}

// Every plan of a train can be drawn, the one asked for and no other: its name is in the title, its moves are the arrows' and the table's; −1 is the one followed. Feet stand under their pair's number, from the
// machine's body to the ground.
func TestTrainPlans(t *testing.T) {
	ev := allKinds(t, false)
	plans := 0
	for k := range ev.Trains() {
		choices := ev.TrainChoices(k)
		for c := -1; c < len(choices); c++ {
			plan := &ev.Trains()[k]
			if c >= 0 {
				plan = &choices[c]
			}
			list := parse(t, Train(nil, ev, k, c, Options{Width: 1000}))
			if want := plan.Train + ", " + plan.Plan + ": " + string(plan.Status); list[1].text != want {
				t.Errorf("train %d, plan %d is called %q, not %q", k, c, list[1].text, want)
			}
			plans++
			// Numbers below the side view, and feet about them.
			at := map[float64]bool{}
			var ground, low float64
			for i := range list {
				e := &list[i]
				if e.inside["data-view"] != "side" {
					continue
				}
				if e.name == "text" && e.attr["class"] == "d-num" && e.attr["text-anchor"] == "middle" {
					at[e.num(t, "x")] = true
				}
				if e.name == "line" && e.attr["class"] == "d-ground" {
					ground = e.num(t, "y1")
				}
			}
			feet := 0
			for i := range list {
				e := &list[i]
				if e.inside["data-view"] != "side" || e.attr["class"] != "d-body" {
					continue
				}
				if e.name == "rect" {
					low = e.num(t, "y") + e.num(t, "height")
					continue
				}
				if xy := coords(t, e.attr["d"]); e.name == "path" && len(xy) == 8 {
					feet++
					mid := (xy[0] + xy[6]) / 2
					if xy[0] != xy[2] || xy[4] != xy[6] || !(xy[0] < xy[6]) || !at[math.Round(mid*1000)/1000] || math.Abs(xy[1]-low) > 0.01 || math.Abs(xy[7]-low) > 0.01 || xy[3] != ground || xy[5] != ground {
						t.Errorf("train %d, plan %d: a foot %v, the body ends at %g, the ground is at %g, numbers at %v", k, c, xy, low, ground, at)
					}
				}
			}
			if pairs := len(TrainFeet(ev, plan)); feet != pairs || len(at) != pairs {
				t.Errorf("train %d, plan %d: %d feet and %d numbers for %d pairs", k, c, feet, len(at), pairs)
			}
		}
	}
	if plans < 5 {
		t.Errorf("%d plans", plans)
	}
}

// Short distances near either edge of the paper keep their numbers on it, off each other, and each line down to a distance begins at the drawing but where a number stands in its way.
func TestShortDistances(t *testing.T) {
	names, cells := lineCells(knownMachines[0])
	for _, further := range []string{"1195 1200", "1200 1210 1220", "482 484", "900 905 1185"} {
		for _, w := range []float64{300, 480, 1000} {
			list := parse(t, Machine(nil, jobOf(t, machineText(names+",Further feet", cells+","+further), false), 0, Options{Width: w}))
			where := further + " at " + strconv.Itoa(int(w))
			checkLayout(t, where, list, 30)
			checkDistances(t, where, list, 1)
			all := boxes(t, list)
			down := func(e *element) bool {
				return e.name == "line" && e.attr["class"] == "d-lead" && e.num(t, "x1") == e.num(t, "x2")
			}
			from := math.Inf(1)
			for i := range list {
				if e := &list[i]; down(e) {
					from = min(from, e.num(t, "y1"))
				}
			}
			for i := range list {
				e := &list[i]
				if !down(e) {
					continue
				}
				x, y := e.num(t, "x1"), e.num(t, "y1")
				stands := slices.ContainsFunc(all, func(b textBox) bool { return b.x0-3 <= x && x <= b.x1+3 && b.y1 <= y+1 && b.y1 > y-12 })
				if y > from+1 && !stands {
					t.Errorf("%s: the line down at %.1f begins at %.1f, others at %.1f, and no number stands above it", where, x, y, from)
				}
			}
		}
	}
}

// The key of the overview names each mark with the mark before it: a circle for offsets, a diamond for slopes and angles, a bar for the uncertainty.
func TestOverviewKey(t *testing.T) {
	ev := allKinds(t, false)
	for _, w := range []float64{300, 620, 1000} {
		list := parse(t, Overview(nil, ev, nil, Options{Width: w}))
		for word, mark := range map[string]string{"offset": "d-offset circle", "slope, or angle at a flex plane": "d-slope path", "uncertainty, k = 2": "d-pm path"} {
			found := false
			for i := 1; i < len(list); i++ {
				e := &list[i]
				if e.name != "text" || e.text != word || e.inside["data-row"] != "" {
					continue
				}
				found = true
				if i+2 < len(list) && list[i+2].name == "text" && list[i+2].num(t, "y") == e.num(t, "y") { // the next mark stands off
					x0 := w
					for _, s := range strokes(t, &list[i+1]) {
						x0 = min(x0, s[0], s[2])
					}
					if gap := x0 - boxes(t, list[i:i+1])[0].x1; gap < 11 || gap > 20 {
						t.Errorf("at %g: %.1f px between %q and the next mark", w, gap, word)
					}
				}
				m := &list[i-1]
				s := strokes(t, m)
				x0, x1, y0, y1 := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
				for _, s := range s {
					x0, x1, y0, y1 = min(x0, s[0], s[2]), max(x1, s[0], s[2]), min(y0, s[1], s[3]), max(y1, s[1], s[3])
				}
				if got := m.attr["class"] + " " + m.name; got != mark || !(x1 < e.num(t, "x")) || x1 < e.num(t, "x")-30 || math.Abs((y0+y1)/2-(e.num(t, "y")-4)) > 1 {
					t.Errorf("at %g: before %q at %g, %g stands a %s from %.1f, %.1f to %.1f, %.1f", w, word, e.num(t, "x"), e.num(t, "y"), got, x0, y0, x1, y1)
				}
			}
			if !found {
				t.Errorf("at %g: %q is not in the key", w, word)
			}
		}
	}
}

// The room at a pair of feet is drawn from where the shaft stands, as far up, down and to the sides as was typed, by the stated scale; a room that goes past the view is drawn open.
func TestTrainRooms(t *testing.T) {
	const head = "Train,Machine,Stationary,Coupling,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	rooms := map[string][4]float64{"front": {0.2, 0.5, 0.3, 0.4}, "rear": {50, 0.6, 0.1, 80}} // down, up, left, right
	feet := "Machine,Foot,Room down,Room up,Room left,Room right\n"
	for _, f := range []string{"front 9", "front 3", "rear 9", "rear 3"} {
		r := rooms[strings.Fields(f)[0]]
		feet += fmt.Sprintf("right,%s,%g,%g,%g,%g\n", f, r[0], r[1], r[2], r[3])
	}
	ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: head + "T,right,motor,short,line,1480,300,500,0.3,-0.1,0.4,0.25\n", job.FeetSheet: feet})
	ev.Count()
	closed := 0
	for _, w := range []float64{420, 1000} {
		list := parse(t, Train(nil, ev, 0, -1, Options{Width: w}))
		_, after, ok := strings.Cut(said(list), "across × ")
		mag, err := strconv.ParseFloat(strings.TrimRight(strings.Fields(after)[0], ".,"), 64)
		if !ok || err != nil {
			t.Fatal(said(list))
		}
		across := mag * 96 / 25.4
		for _, view := range []string{"side", "top"} {
			var datum float64
			var up, caps [][4]float64
			var numbers []float64
			var found [][4]float64
			for i := range list {
				e := &list[i]
				if e.inside["data-view"] != view {
					continue
				}
				switch class := e.attr["class"]; {
				case class == "d-datum":
					datum = e.num(t, "y1")
				case class == "d-found":
					found = append(found, strokes(t, e)[0])
				case (class == "d-dim" || class == "d-odd") && e.name == "line":
					if s := strokes(t, e)[0]; s[0] == s[2] {
						up = append(up, s)
					} else if math.Abs(math.Abs(s[2]-s[0])-6) < 0.01 {
						caps = append(caps, s)
					}
				case e.name == "text" && class == "d-num" && e.attr["text-anchor"] == "middle":
					numbers = append(numbers, e.num(t, "x"))
				}
			}
			l, h := [2]float64{0.3, 0.4}, 0
			if view == "top" {
				l, h = [2]float64{-0.1, 0.25}, 2
			}
			for k, pair := range []string{"front", "rear"} {
				station := []float64{300, 800}[k]
				stands := datum - (l[0]+l[1]*station/1000)*across
				x := numbers[k]
				if !slices.ContainsFunc(found, func(f [4]float64) bool { // the shaft itself is drawn there, by the same scale
					return f[0] != f[2] && (x-f[0])*(x-f[2]) <= 0.01 && math.Abs(f[1]+(f[3]-f[1])*(x-f[0])/(f[2]-f[0])-stands) < 0.1
				}) && math.Abs(stands-datum) < 60 {
					t.Errorf("at %g, %s view, %s: the shaft is drawn %v, by the scale it stands at %.1f", w, view, pair, found, stands)
				}
				var ends []float64
				for _, s := range up {
					if math.Abs(s[0]-x-7) < 0.01 {
						if math.Abs(s[1]-stands) > 0.1 {
							t.Errorf("at %g, %s view, %s: a bracket begins at %.1f, the shaft stands at %.1f", w, view, pair, s[1], stands)
						}
						ends = append(ends, s[3])
					}
				}
				if len(ends) != 2 {
					t.Fatalf("at %g, %s view, %s: brackets %v", w, view, pair, ends)
				}
				slices.Sort(ends)
				for side, end := range ends { // the upper one first on the paper: up, or towards 3 o'clock
					room := rooms[pair][h+1-side]
					want := stands - room*across*float64(1-2*side)
					capped := slices.ContainsFunc(caps, func(c [4]float64) bool { return math.Abs((c[0]+c[2])/2-(x+5)) < 0.01 && math.Abs(c[1]-end) < 0.01 })
					if capped {
						closed++
					}
					if far := room > 10; far && capped || capped && math.Abs(end-want) > 0.1 || !capped && !(math.Abs(end-datum) < math.Abs(want-datum) && (end < stands) == (side == 0)) {
						t.Errorf("at %g, %s view, %s: a room of %g mm ends at %.1f, by the scale %.1f; closed %v", w, view, pair, room, end, want, capped)
					}
				}
			}
		}
	}
	if closed < 8 {
		t.Errorf("%d rooms are closed", closed)
	}
}

// In whatever order the feet are written, each is drawn once, on its side of the machine, front nearer to the coupling than rear.
func TestTodoInAnyOrder(t *testing.T) {
	names := []string{"front 9", "front 3", "rear 9", "rear 3"}
	for _, order := range [][]int{{0, 1, 2, 3}, {1, 0, 3, 2}, {3, 2, 1, 0}, {2, 1, 3, 0}} {
		for _, from := range []string{"movable", "stationary"} {
			feet := "Machine,Foot,Gap\n"
			for _, k := range order {
				feet += "P1," + names[k] + ",0.0" + strconv.Itoa(k) + "\n"
			}
			machines := strings.ReplaceAll(strings.Replace(oneMachine, "Machine,", "Machine,Seen from,", 1), "P1,short", "P1,"+from+",short")
			ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: machines, job.FeetSheet: feet})
			ev.Count()
			const w = 640.0
			list := parse(t, WhatToDo(nil, ev, 0, Options{Width: w}))
			// Whoever cannot see it is told each push, and each pair that is left.
			for i := range list {
				e := &list[i]
				if word := e.inside["data-push"]; word != "" && !strings.Contains(list[2].text, "Push the "+word+" feet ") && !strings.Contains(list[2].text, "Leave the "+word+" feet sideways.") {
					t.Errorf("the %s feet are not in %q", word, list[2].text)
				}
			}
			at := map[string][][2]float64{}
			for i := range list {
				if e := &list[i]; e.name == "rect" && e.attr["class"] == "d-body" && e.inside["data-foot"] != "" {
					at[e.inside["data-foot"]] = append(at[e.inside["data-foot"]], [2]float64{e.num(t, "x") + e.num(t, "width")/2, e.num(t, "y")})
				}
			}
			for k, name := range names {
				if len(at[name]) != 1 {
					t.Fatalf("%v from %s: %s is drawn %d times: %v", order, from, name, len(at[name]), at)
				}
				if right := at[name][0][0] > w/2; right != ((k%2 == 1) != (from == "stationary")) {
					t.Errorf("%v from %s: %s stands at %v", order, from, name, at[name])
				}
			}
			for k := range 2 {
				if !(at[names[k]][0][1] < at[names[k+2]][0][1]) {
					t.Errorf("%v from %s: front at %v, rear at %v", order, from, at[names[k]], at[names[k+2]])
				}
			}
		}
	}
}

// The ± of each plane is its own: of three readings a sweep the one at 3 o'clock stands alone, and the line is less sure sideways than up.
func TestPlusMinusOfEachPlane(t *testing.T) {
	text := fmt.Sprintf("Machine,Coupling,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Graduation,Movable rim 12,Movable rim 3,Movable rim 6,Stationary rim 12,Stationary rim 3,Stationary rim 6\n"+
		"P,short,1480,%g,%g,%g,%g,0.05,0,0.20,0.30,0,-0.10,0.20\n", toStat, toMov, toFront, frontToRear)
	ev := jobOf(t, text, false)
	r := ev.Row(0)
	view := map[string]string{}
	for _, e := range parse(t, Machine(nil, ev, 0, Options{Width: 1000})) {
		if e.name == "text" {
			view[e.inside["data-view"]] += e.text + " "
		}
	}
	pm := func(u float64, dec int) string { return " ± " + strconv.FormatFloat(u, 'f', dec, 64) }
	for _, c := range []struct {
		view                 string
		offset, slope        float64
		otherOffset, otherSl float64
	}{{"side", r.Offset.UV, r.Slope.UV, r.Offset.UH, r.Slope.UH}, {"top", r.Offset.UH, r.Slope.UH, r.Offset.UV, r.Slope.UV}} {
		if pm(c.offset, 3) == pm(c.otherOffset, 3) || pm(c.slope, 2) == pm(c.otherSl, 2) {
			t.Fatal("both planes are as sure", r.Offset, r.Slope)
		}
		if !strings.Contains(view[c.view], pm(c.offset, 3)+" mm") || !strings.Contains(view[c.view], pm(c.slope, 2)+" mm/m") {
			t.Errorf("%s view: want%s mm and%s mm/m in %s", c.view, pm(c.offset, 3), pm(c.slope, 2), view[c.view])
		}
	}
}

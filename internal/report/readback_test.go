package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// These tests make a machine whose numbers are known before anything is computed, draw it, and read the drawing back as geometry. What a place on the
// paper stands for comes from the axis that is drawn, not from the code that draws it.

// A known machine: its line, mm and mm/m, and what its dials read.
type knownMachine struct{ dv, dh, tv, th float64 }

var knownMachines = []knownMachine{{0.31, -0.12, 0.40, 0.25}, {0.31, 0.12, 0.40, -0.25}, {-0.31, -0.12, -0.40, 0.25}, {-0.05, 0.44, 0.10, 0.60}}

const toStat, toMov, toFront, frontToRear = 110.0, 130.0, 480.0, 710.0

// rim is what a dial on a bracket of the stationary shaft shows on the movable hub, zeroed at 12; back is the dial on the stationary hub. Formulas: a line
// V(x), H(x) seen by a plunger that is carried around it, as README states the signs.
func (m knownMachine) rim(deg float64) float64 {
	s, c := math.Sincos(deg * math.Pi / 180)
	v, h := m.dv+m.tv*toMov/1000, m.dh+m.th*toMov/1000
	return v*(c-1) + h*s
}

func (m knownMachine) back(deg float64) float64 {
	s, c := math.Sincos(deg * math.Pi / 180)
	v, h := m.dv-m.tv*toStat/1000, m.dh-m.th*toStat/1000
	return -v*(c-1) - h*s
}

// sweepText writes readings as the column of a sweep takes them; off is added to the reading at one of the angles.
func sweepText(angles []float64, reading func(float64) float64, at, off float64) string {
	var parts []string
	for _, a := range angles {
		r := reading(a)
		if a == at {
			r += off
		}
		parts = append(parts, fmt.Sprintf("%g:%.9f", a, r))
	}
	return strings.Join(parts, " ")
}

// A plotted sweep is one plot, read back.
type plotted struct {
	deg, mm        func(float64) float64 // what a place across and a place up stand for, by the words at the axes
	curve          []float64
	dots, raw, res [][4]float64
}

// readPlot reads plot k of a drawing of sweeps. The axes are taken from the words beside them: 12, 3, 6, 9, 12 along, lengths up.
func readPlot(t *testing.T, list []element, k int) (p plotted) {
	t.Helper()
	var ticks [][2]float64 // y, mm
	var hours []float64
	for i := range list {
		e := &list[i]
		if e.inside["data-sweep"] != strconv.Itoa(k) {
			continue
		}
		switch {
		case e.name == "text" && e.attr["text-anchor"] == "middle":
			hours = append(hours, e.num(t, "x"))
			if want := []string{"12", "3", "6", "9", "12"}[len(hours)-1]; e.text != want {
				t.Fatalf("hour %q where %s is", e.text, want)
			}
		case e.name == "text" && e.text != "residual":
			v, err := strconv.ParseFloat(e.text, 64)
			if err != nil {
				t.Fatal(err)
			}
			ticks = append(ticks, [2]float64{e.num(t, "y") - 4, v})
		case e.attr["class"] == "d-curve":
			p.curve = coords(t, e.attr["d"])
		case e.name == "circle":
			p.dots = append(p.dots, [4]float64{e.num(t, "cx"), e.num(t, "cy")})
		case e.attr["class"] == "d-raw" || e.attr["class"] == "d-res":
			l := [4]float64{e.num(t, "x1"), e.num(t, "y1"), e.num(t, "x2"), e.num(t, "y2")}
			if e.attr["class"] == "d-res" {
				p.res = append(p.res, l)
			} else {
				p.raw = append(p.raw, l)
			}
		}
	}
	if len(hours) != 5 || len(ticks) < 2 {
		t.Fatalf("%d hours and %d lengths at the axes", len(hours), len(ticks))
	}
	for i := range hours { // a quarter each
		if want := hours[0] + (hours[4]-hours[0])*float64(i)/4; math.Abs(hours[i]-want) > 0.01 {
			t.Errorf("hour %d stands at %g, not %g", i, hours[i], want)
		}
	}
	a, b := ticks[0], ticks[len(ticks)-1]
	if !(b[1] > a[1] && b[0] < a[0]) {
		t.Fatalf("lengths do not grow upwards: %v", ticks)
	}
	p.deg = func(x float64) float64 { return (x - hours[0]) / (hours[4] - hours[0]) * 360 }
	p.mm = func(y float64) float64 { return a[1] + (y-a[0])/(b[0]-a[0])*(b[1]-a[1]) }
	for _, q := range ticks {
		if math.Abs(p.mm(q[0])-q[1]) > 1e-3 {
			t.Errorf("%g stands where %g is", q[1], p.mm(q[0]))
		}
	}
	return p
}

// The plot of each sweep: dots at their angle and reading, the curve through what each angle would read, residuals on the side and as long as they are.
// Seen from the stationary machine 3 and 9 turn over in what is typed, and what is drawn stays with what is typed.
func TestSweepPlots(t *testing.T) {
	const sag, off, odd = -0.06, 0.02, 225.0
	angles := []float64{0, 45, 90, 135, 180, odd, 270, 315, 360}
	for _, from := range []string{"movable", "stationary"} {
		for _, m := range knownMachines {
			turned := func(deg float64) float64 { return deg }
			if from == "stationary" {
				turned = func(deg float64) float64 { return 360 - deg }
			}
			sagged := func(deg float64) float64 { return sag / 2 * (1 - math.Cos(deg*math.Pi/180)) } // README: what a dial shows on a straight stiff pipe
			mov := func(deg float64) float64 { return m.rim(turned(deg)) + sagged(deg) }
			stat := func(deg float64) float64 { return m.back(turned(deg)) }
			text := "Machine,Seen from,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable sag at 6,Movable sweep,Stationary sweep\n" +
				fmt.Sprintf("P,%s,reverse indicator,1480,%g,%g,%g,%g,%g,%s,%s\n", from, toStat, toMov, toFront, frontToRear, sag, sweepText(angles, mov, -1, 0), sweepText(angles, stat, odd, off))
			ev := jobOf(t, text, false)
			list := parse(t, Sweeps(nil, ev, 0, Options{Width: 900}))

			p := readPlot(t, list, 0) // without an error: the curve is what the dial would read, sag taken off
			if len(p.curve) < 20 || p.deg(p.curve[0]) != 0 || math.Abs(p.deg(p.curve[len(p.curve)-2])-360) > 1e-9 {
				t.Fatalf("the curve has %d numbers", len(p.curve))
			}
			for i := 0; i < len(p.curve); i += 2 {
				deg := p.deg(p.curve[i])
				if got, want := p.mm(p.curve[i+1]), m.rim(turned(deg)); math.Abs(got-want) > 0.002 {
					t.Errorf("%s %+v: the curve is %g at %.0f°, the dial would read %g", from, m, got, deg, want)
				}
			}
			if len(p.dots) != len(angles) || len(p.res) != 0 {
				t.Fatalf("%d dots, %d residuals", len(p.dots), len(p.res))
			}
			for i, a := range angles {
				if deg := p.deg(p.dots[i][0]); math.Abs(deg-a) > 0.01 {
					t.Errorf("the dot of %g° stands at %g°", a, deg)
				}
			}
			crosses := 0 // the reading as read, where it differs to be seen
			for i := 0; i+1 < len(p.raw); i += 2 {
				l := p.raw[i]
				deg := p.deg((l[0] + l[2]) / 2)
				if got, want := p.mm(l[1]), mov(deg); math.Abs(got-want) > 0.002 || l[1] != l[3] || p.raw[i+1][0] != p.raw[i+1][2] {
					t.Errorf("the cross at %g° stands at %g, read was %g", deg, got, want)
				}
				crosses++
			}
			if crosses < 5 {
				t.Errorf("%d crosses", crosses)
			}

			// With one reading off: the fit of nine readings, by the normal equations of 1, cos, sin at these angles. The residuals add up to nothing.
			p = readPlot(t, list, 1)
			var low *[4]float64
			for i := range p.res {
				if math.Abs(p.deg(p.res[i][0])-odd) < 0.01 {
					low = &p.res[i]
				}
			}
			if low == nil || !(low[3] < low[1]) {
				t.Fatalf("%s %+v: a reading too large has no residual upwards: %v", from, m, p.res)
			}
			for _, r := range p.res {
				if math.Abs(r[3]-r[1]) > math.Abs(low[3]-low[1]) {
					t.Errorf("another residual is longer than that of the reading that is off")
				}
				i := slices.IndexFunc(angles, func(a float64) bool { return math.Abs(a-p.deg(r[0])) < 0.01 })
				at := slices.IndexFunc(p.dots, func(d [4]float64) bool { return math.Abs(d[0]-r[0]) < 0.01 })
				c := 0 // of the curve, where the residual stands
				for c+2 < len(p.curve) && p.curve[c] < r[0]-0.01 {
					c += 2
				}
				if i < 0 || at < 0 || (p.dots[at][1] < p.curve[c+1]) != (r[3] < r[1]) {
					t.Errorf("the residual at %g° points away from its dot", p.deg(r[0]))
				}
			}
			all := strings.ReplaceAll(wordsOf(list), "\n", " ")
			if !strings.Contains(all, "at 225°, drawn ×") || !strings.Contains(all, "sag taken off: -0.060 mm at 6") || !strings.Contains(all, "no sag taken off") {
				t.Errorf("%s", all)
			}
		}
	}
}

// Marks of the overview stand at the share of the limit that is worked out by hand, with their ±, against the axis that is drawn.
func TestOverviewMarks(t *testing.T) {
	const length = 500.0 // of the spacers, between the flex planes
	type row struct {
		name, coupling string
		m              knownMachine
		offset, slope  float64 // limits
		wantO, wantS   float64 // shares; NaN none
	}
	nan := math.NaN()
	// The angle at the stationary plane is V(+L/2)/L, at the movable one −V(−L/2)/L; likewise H.
	angles := func(m knownMachine) (s, mov float64) {
		k := length / 2000
		return 1000 / length * math.Hypot(m.dv+m.tv*k, m.dh+m.th*k), 1000 / length * math.Hypot(m.dv-m.tv*k, m.dh-m.th*k)
	}
	large, small := knownMachine{0.3, 0.1, 0.9, 0.4}, knownMachine{0.3, 0.1, -0.9, -0.4}
	sl, sm := angles(large)
	ql, qm := angles(small)
	if !(sl > 1.5*sm && qm > 1.5*ql) {
		t.Fatal("the two spacers are meant to be unlike")
	}
	rows := []row{
		{"short one", "short", knownMachine{0.03, -0.04, 0.3, 0.4}, 0.10, 1.0, 0.5, 0.5},
		{"short two", "short", knownMachine{0.03, 0.04, 0.12, -0.16}, 0.04, 0.8, 1.25, 0.25},
		{"far out", "short", knownMachine{0.6, 0.8, 0, 0.1}, 0.10, 0.5, 10, 0.2},
		{"stationary plane", "spacer", large, nan, 0.5, nan, sl / 0.5},
		{"movable plane", "spacer", small, nan, 0.5, nan, qm / 0.5},
	}
	text := "Machine,Coupling,Method,Spacer length,Coupling to front feet,Front to rear feet,Offset limit,Slope limit,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for _, r := range rows {
		cell := func(v float64) string {
			if math.IsNaN(v) {
				return ""
			}
			return strconv.FormatFloat(v, 'g', -1, 64)
		}
		l := nan
		if r.coupling == "spacer" {
			l = length
		}
		text += strings.Join([]string{r.name, r.coupling, "line", cell(l), "480", "710", cell(r.offset), cell(r.slope), cell(r.m.dv), cell(r.m.dh), cell(r.m.tv), cell(r.m.th)}, ",") + "\n"
	}
	ev := jobOf(t, text, false)
	for _, w := range []float64{420, 900} {
		list := parse(t, Overview(nil, ev, nil, Options{Width: w}))
		// The axis: "0 %" and "limit" stand over their lines.
		zero, one := nan, nan
		for i := range list {
			if e := &list[i]; e.name == "text" && e.inside["data-row"] == "" {
				switch e.text {
				case "0 %":
					zero = e.num(t, "x")
				case "limit":
					one = e.num(t, "x")
				}
			}
		}
		if !(one > zero) {
			t.Fatalf("no axis: %g, %g", zero, one)
		}
		share := func(x float64) float64 { return (x - zero) / (one - zero) }
		for i, r := range rows {
			offset, slope := nan, nan
			var bars [][2]float64
			said, past := "", ""
			for k := range list {
				e := &list[k]
				if e.attr["data-row"] == strconv.Itoa(i) {
					said = e.attr["aria-label"]
				}
				if e.inside["data-row"] != strconv.Itoa(i) {
					continue
				}
				switch {
				case e.attr["class"] == "d-offset" && e.name == "circle":
					offset = share(e.num(t, "cx"))
				case e.attr["class"] == "d-slope":
					xy := coords(t, e.attr["d"])
					slope = share((xy[2] + xy[6]) / 2)
				case e.attr["class"] == "d-pm" && e.name == "path":
					xy := coords(t, e.attr["d"])
					bars = append(bars, [2]float64{share(xy[0]), share(xy[2])})
				case e.name == "text" && strings.HasSuffix(e.text, " %"):
					past = e.text
				}
			}
			near := func(what string, got, want float64) {
				t.Helper()
				if !(math.Abs(got-want) < 0.004) && !(math.IsNaN(got) && math.IsNaN(want)) {
					t.Errorf("%s at %g: the mark of the %s stands at %g of its limit, by hand %g", r.name, w, what, got, want)
				}
			}
			if r.name == "far out" {
				if past != "1000 %" || !(offset > 1.4) {
					t.Errorf("%s: %q, mark at %g", r.name, past, offset)
				}
			} else {
				near("offset", offset, r.wantO)
				if past != "" {
					t.Errorf("%s: %q", r.name, past)
				}
			}
			near("slope", slope, r.wantS)
			pct := func(v float64) string { return strconv.FormatFloat(math.Round(v*100), 'f', 0, 64) + " % of its limit" }
			for _, x := range []struct {
				word string
				v    float64
			}{{"offset ", r.wantO}, {map[bool]string{true: "larger angle ", false: "slope "}[r.coupling == "spacer"], r.wantS}} {
				if has := strings.Contains(said, ", "+x.word); has == math.IsNaN(x.v) || has && !strings.Contains(said, x.word+pct(x.v)) {
					t.Errorf("%s: %q does not say %s%s", r.name, said, x.word, pct(x.v))
				}
			}
			// Each ± is centred on its mark.
			for _, b := range bars {
				if mid := (b[0] + b[1]) / 2; b[0] > 0.001 && math.Abs(mid-offset) > 0.004 && math.Abs(mid-slope) > 0.004 {
					t.Errorf("%s: a bar about %g, marks at %g and %g", r.name, mid, offset, slope)
				}
			}
		}
	}
}

// The bars of the histogram, counted by hand: shims are −V, moves −H at the feet.
func TestHistogramBars(t *testing.T) {
	text := "Machine,Coupling,Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	var front, rear, moves []float64
	for i, m := range []knownMachine{{0.05, 0.01, 0, 0}, {-0.10, 0.02, 0, 0}, {0.11, -0.22, 0, 0}, {0.32, 0.18, -0.5, 0.2}, {0.97, 0, 0, -0.1}} {
		text += fmt.Sprintf("P%d,short,line,%g,%g,%g,%g,%g,%g\n", i, toFront, frontToRear, m.dv, m.dh, m.tv, m.th)
		for k, x := range []float64{toFront, toFront + frontToRear} {
			v, h := math.Abs(m.dv+m.tv*x/1000), math.Abs(m.dh+m.th*x/1000)
			if k == 0 {
				front = append(front, v)
			} else {
				rear = append(rear, v)
			}
			moves = append(moves, h)
		}
	}
	ev := jobOf(t, text, false)
	list := parse(t, Histogram(nil, ev, nil, Options{Width: 900}))
	// The largest is 0.97, so ten bins of 0.1.
	want := map[string][]int{}
	for name, values := range map[string][]float64{"Front shims": front, "Rear shims": rear, "Sideways moves, front and rear": moves} {
		count := make([]int, 10)
		for _, v := range values {
			for b := range count {
				if v <= 0.1*float64(b+1)+1e-9 {
					count[b]++
					break
				}
			}
		}
		want[name] = count
	}
	desc := list[2].text
	for name, count := range want {
		_, part, ok := strings.Cut(desc, name+":")
		if !ok {
			t.Fatalf("%s is not described in %q", name, desc)
		}
		for b, n := range count {
			if !strings.Contains(strings.Join(strings.SplitN(part, ";", 11)[:10], ";")+";", fmt.Sprintf(" up to %g mm: %d;", math.Round(float64(b+1))/10, n)) {
				t.Errorf("%s: bin %d should hold %d: %s", name, b+1, n, part)
			}
		}
	}
	// Heights are as the counts, bars stand from left to right.
	var bars []element
	for _, e := range list {
		if e.attr["class"] == "d-bar" {
			bars = append(bars, e)
		}
	}
	k := 0
	for _, name := range []string{"Front shims", "Rear shims", "Sideways moves, front and rear"} {
		top := slices.Max(want[name])
		unit, left := 0.0, -1.0
		for _, n := range want[name] {
			if n == 0 {
				continue
			}
			if k == len(bars) {
				t.Fatalf("%d bars", k)
			}
			h, x := bars[k].num(t, "height"), bars[k].num(t, "x")
			if unit == 0 {
				unit = h / float64(n)
			}
			if math.Abs(h-unit*float64(n)) > 0.01 || h > unit*float64(top)+0.01 || x <= left {
				t.Errorf("%s: bar %d is %g high, %g each, at %g", name, k, h, unit, x)
			}
			left = x
			k++
		}
	}
	if k != len(bars) {
		t.Errorf("%d bars, not %d", len(bars), k)
	}
}

// Arrows at the feet lead from the line found to the line wanted, with their head there; distances along are labelled with themselves.
func TestMachineArrowsAndDistances(t *testing.T) {
	for _, m := range knownMachines {
		text := "Machine,Coupling,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n" +
			fmt.Sprintf("P,short,line,1480,%g,%g,%g,%g,%g,%g,%g,%g\n", toStat, toMov, toFront, frontToRear, m.dv, m.dh, m.tv, m.th)
		list := parse(t, Machine(nil, jobOf(t, text, false), 0, Options{Width: 900}))
		seen := 0
		labels := map[string]bool{}
		var x0, along float64
		for i := 0; i < len(list); i++ {
			e := &list[i]
			if e.inside["data-across"] != "" {
				v := func(s string) float64 { f, _ := strconv.ParseFloat(e.inside[s], 64); return f }
				x0, along = v("data-x0"), 96/25.4/v("data-along")
				if e.attr["class"] == "d-do" && e.name == "line" {
					across := v("data-across") * 96 / 25.4
					station := (e.num(t, "x1") - x0) / along
					d, slope := m.dv, m.tv
					if e.inside["data-view"] == "top" {
						d, slope = m.dh, m.th
					}
					found := d + slope*station/1000
					if got := (v("data-y0") - e.num(t, "y1")) / across; math.Abs(got-found) > 0.002 || math.Abs(e.num(t, "y2")-v("data-y0")) > 0.002 || e.num(t, "x1") != e.num(t, "x2") {
						t.Errorf("%+v %s: the arrow at %g mm begins at %g, not %g, and ends %g from the datum", m, e.inside["data-view"], station, got, found, e.num(t, "y2")-v("data-y0"))
					}
					if math.Abs(station-toFront) > 1 && math.Abs(station-toFront-frontToRear) > 1 {
						t.Errorf("an arrow at %g mm", station)
					}
					head := coords(t, list[i+1].attr["d"])
					if math.Abs(head[1]-e.num(t, "y2")) > 0.002 || (head[3] < head[1]) != (e.num(t, "y1") < e.num(t, "y2")) {
						t.Errorf("the head is not at the wanted line: %v", head)
					}
					seen++
				}
				continue
			}
			// A distance: the line of the dimension, two tips, and its number.
			if e.attr["class"] == "d-dim" && e.name == "line" && i+3 < len(list) && e.num(t, "y1") == e.num(t, "y2") && along > 0 {
				for _, n := range list[i+1 : i+4] {
					if n.name != "text" {
						continue
					}
					v, err := strconv.ParseFloat(strings.TrimSuffix(n.text, " mm"), 64)
					if got := (e.num(t, "x2") - e.num(t, "x1")) / along; err != nil || math.Abs(got-v) > 1 && math.Abs(got-20/along-v) > 1 {
						t.Errorf("a distance of %g mm is labelled %q", got, n.text)
					}
					labels[strings.TrimSuffix(n.text, " mm")] = true
				}
			}
		}
		if seen < 2 { // very short ones are left out
			t.Errorf("%+v: %d arrows", m, seen)
		}
		for _, s := range []float64{toStat, toMov, toFront, frontToRear} {
			if !labels[strconv.FormatFloat(s, 'g', -1, 64)] {
				t.Errorf("%g mm is not among the distances %v", s, labels)
			}
		}
	}
}

// A machine and its mirror image have mirrored top views and the same side view; sides change places in the words.
func TestMirroredMachine(t *testing.T) {
	draw := func(m knownMachine, names string) []element {
		text := "Machine,Side at 3,Side at 9,Coupling,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n" +
			fmt.Sprintf("P,%s,short,line,1480,%g,%g,%g,%g,%g,%g,%g,%g\n", names, toStat, toMov, toFront, frontToRear, m.dv, m.dh, m.tv, m.th)
		return parse(t, Machine(nil, jobOf(t, text, false), 0, Options{Width: 900}))
	}
	for _, m := range knownMachines {
		a, b := draw(m, "river,wall"), draw(knownMachine{m.dv, -m.dh, m.tv, -m.th}, "wall,river")
		for _, class := range []string{"d-found", "d-band", "d-wanted"} {
			for _, view := range []string{"side", "top"} {
				find := func(list []element) ([]float64, float64) {
					for i := range list {
						if e := &list[i]; e.attr["class"] == class && e.inside["data-view"] == view && e.inside["data-across"] != "" {
							y0, _ := strconv.ParseFloat(e.inside["data-y0"], 64)
							return coords(t, e.attr["d"]), y0
						}
					}
					t.Fatalf("no %s in the %s view", class, view)
					return nil, 0
				}
				x, yx := find(a)
				y, yy := find(b)
				if len(x) != len(y) {
					t.Fatal("other lengths")
				}
				var one, two [][2]float64
				for i := 0; i < len(x); i += 2 {
					u, v := x[i+1]-yx, y[i+1]-yy
					if view == "top" {
						v = -v
					}
					one, two = append(one, [2]float64{x[i], u}), append(two, [2]float64{y[i], v})
				}
				if class == "d-band" && view == "top" { // the upper edge has become the lower
					slices.Reverse(two)
				}
				for i := range one {
					if math.Abs(one[i][0]-two[i][0]) > 0.002 || math.Abs(one[i][1]-two[i][1]) > 0.003 {
						t.Fatalf("%+v: %s of the %s view is not the mirror image: %v and %v", m, class, view, one[i], two[i])
					}
				}
			}
		}
		said := func(list []element) string { return strings.ReplaceAll(wordsOf(list), "\n", " ") }
		one, two := said(a), said(b)
		for _, side := range []string{"river", "wall"} {
			if strings.Count(one, "towards "+side) != strings.Count(two, "towards "+side) {
				t.Errorf("%+v: %q and\n%q", m, one, two)
			}
		}
		if !strings.Contains(one, "towards ") {
			t.Error(one)
		}
	}
}

// The help drawing of the clock: 12 up, 6 down, 3 on the right of who looks; from above, 3 o'clock is on the right of a person who looks at the coupling.
func TestClockFigure(t *testing.T) {
	list := parse(t, ClockFigure(nil, "river", "wall", Options{Width: 900}))
	place := func(text string, nth int) (x, y float64) {
		t.Helper()
		for i := range list {
			if e := &list[i]; e.name == "text" && e.text == text {
				if nth--; nth < 0 {
					return e.num(t, "x"), e.num(t, "y")
				}
			}
		}
		t.Fatalf("no %q in\n%s", text, wordsOf(list))
		return
	}
	x12, y12 := place("12, up", 0)
	x6, y6 := place("6", 0)
	x3, y3 := place("3", 0)
	x9, y9 := place("9", 0)
	if x12 != x6 || !(y12 < y3 && y3 < y6) || y3 != y9 || !(x9 < x12 && x12 < x3) || math.Abs((x3+x9)/2-x12) > 0.01 {
		t.Errorf("12 at %g, %g; 3 at %g, %g; 6 at %g, %g; 9 at %g, %g", x12, y12, x3, y3, x6, y6, x9, y9)
	}
	xr, _ := place("river", 0)
	xw, _ := place("wall", 0)
	if xr != x3 || xw != x9 {
		t.Error("the sides stand at other hours")
	}
	// From above the person stands to the right of the machines and looks left: their right hand is up on the paper.
	xm, _ := place("movable", 0)
	xs, _ := place("stationary", 0)
	xy, _ := place("you", 0)
	_, up := place("3 o'clock: river", 0)
	_, down := place("9 o'clock: wall", 0)
	if !(xs < xm && xm < xy) || !(up < down) {
		t.Errorf("stationary %g, movable %g, you %g; 3 o'clock at %g, 9 at %g", xs, xm, xy, up, down)
	}
	for i := range list { // The look goes to the left, angles grow to the right from 12.
		e := &list[i]
		if e.attr["class"] == "d-do" && e.name == "line" && !(e.num(t, "x2") < e.num(t, "x1")) {
			t.Error("the person looks away from the coupling")
		}
		if e.attr["class"] == "d-do" && e.name == "path" && strings.Count(e.attr["d"], "L") > 4 {
			xy := coords(t, e.attr["d"])
			if n := len(xy); !(xy[0] > x12 && xy[n-2] > xy[0] && xy[n-1] > xy[1]) {
				t.Errorf("the arc of angles: %v", xy)
			}
		}
	}
}

// Bolts of a flange, seen from the movable machine: bolt 1 at 12, counted towards 3 o'clock, each with the shim that turns the flange; the slide points
// to where the machine goes.
func TestBoltCircle(t *testing.T) {
	for _, from := range []string{"movable", "stationary"} {
		for _, m := range knownMachines {
			text := "Machine,Seen from,Coupling,Mounting,Method,Speed,Coupling to flange,Bolt circle,Bolts,Given offset V,Given offset H,Given slope V,Given slope H\n" +
				fmt.Sprintf("P,%s,short,vertical flange,line,1480,200,600,8,%g,%g,%g,%g\n", from, m.dv, m.dh, m.tv, m.th)
			ev := jobOf(t, text, false)
			if n := len(ev.Row(0).Calc.BoltShims); n != 8 {
				t.Fatalf("%d bolts: %v", n, ev.Row(0).Problems)
			}
			list := parse(t, Machine(nil, ev, 0, Options{Width: 900}))
			turn := 1.0 // seen from the stationary machine, typed H and the count of bolts turn over
			if from == "stationary" {
				turn = -1
			}
			var cx, cy float64
			type bolt struct {
				x, y float64
				shim string
			}
			var bolts []bolt
			for i := range list {
				e := &list[i]
				if e.inside["data-view"] != "flange" {
					continue
				}
				switch {
				case e.name == "circle" && e.attr["class"] == "d-datum":
					cx, cy = e.num(t, "cx"), e.num(t, "cy")
				case e.name == "text" && strings.HasPrefix(e.text, strconv.Itoa(len(bolts)+1)+": "):
					_, shim, _ := strings.Cut(e.text, ": ")
					bolts = append(bolts, bolt{e.num(t, "x"), e.num(t, "y") - 4, shim})
				case e.name == "line" && e.attr["class"] == "d-do":
					dx, dy := e.num(t, "x2")-e.num(t, "x1"), e.num(t, "y1")-e.num(t, "y2")
					// The machine goes from where its shaft stands at the flange to where it is wanted, 0.
					v, h := -(m.dv + m.tv*0.2), -(m.dh+m.th*0.2)*turn
					if l := math.Hypot(v, h); math.Abs(dx/math.Hypot(dx, dy)-h/l) > 0.01 || math.Abs(dy/math.Hypot(dx, dy)-v/l) > 0.01 {
						t.Errorf("%s %+v: the slide points %g, %g, not %g, %g", from, m, dx, dy, h, v)
					}
				}
			}
			if len(bolts) != 8 {
				t.Fatalf("%d bolts named in\n%s", len(bolts), wordsOf(list))
			}
			// A shim under the flange at ψ turns the shaft back: s(ψ) = k + R·(slope along ψ), the smallest k that makes none negative; R 300 mm.
			least := math.Inf(1)
			s := make([]float64, 8)
			for k := range s {
				sin, cos := math.Sincos(float64(k) * math.Pi / 4)
				s[k] = 0.3 * (m.tv*cos + m.th*sin)
				least = min(least, s[k])
			}
			for k, b := range bolts {
				sin, cos := math.Sincos(float64(k) * math.Pi / 4)
				if dx, dy := b.x-cx, cy-b.y; dx*sin*turn+dy*cos < 0.9*math.Hypot(dx, dy) {
					t.Errorf("%s: bolt %d stands at %g, %g", from, k+1, dx, dy)
				}
				if v, err := strconv.ParseFloat(b.shim, 64); err != nil || math.Abs(v-(s[k]-least)) > 0.0126 { // half the step of the shims
					t.Errorf("%s %+v: bolt %d gets %s, not %.3f", from, m, k+1, b.shim, s[k]-least)
				}
			}
		}
	}
}

// A train of three machines with the middle one standing still: every shaft as found is where its row says, in the frame of the first row: up is up and its 3 o'clock is up on the paper of
// the top view. The second row is seen from the other end, so its offset H and slope V turn over (README, Trains). The scale along comes from the two couplings, the scale across from one
// end of one shaft.
func TestTrainShafts(t *testing.T) {
	const head = "Train,Machine,Stationary,Coupling,Method,Speed,Coupling to front feet,Front to rear feet,Stationary near support,Stationary far support,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for _, turn := range []float64{1, -1} {
		a, b := [4]float64{0.30 * turn, -0.10, 0.40, 0.25 * turn}, [4]float64{-0.20, 0.35 * turn, 0.50 * turn, -0.30}
		row := func(name string, near, far float64, l [4]float64) string {
			return fmt.Sprintf("T,%s,motor,short,line,1480,300,500,%g,%g,%g,%g,%g,%g\n", name, near, far, l[0], l[1], l[2], l[3])
		}
		e := jobOf(t, head+row("right", 200, 700, a)+row("left", 150, 650, b), false)
		const other = -850.0 // the second coupling: 700 mm and 150 mm on from the first
		list := parse(t, Train(nil, e, 0, -1, Options{Width: 1000}))
		for _, view := range []string{"side", "top"} {
			var datum float64
			var marks []float64
			var found [][4]float64
			for i := range list {
				q := &list[i]
				if q.inside["data-view"] != view {
					continue
				}
				switch q.attr["class"] {
				case "d-datum":
					datum = q.num(t, "y1")
				case "d-spool":
					marks = append(marks, coords(t, q.attr["d"])...)
				case "d-found":
					found = append(found, [4]float64{q.num(t, "x1"), q.num(t, "y1"), q.num(t, "x2"), q.num(t, "y2")})
				}
			}
			var xs []float64
			for i := 0; i+1 < len(marks); i += 2 {
				xs = append(xs, marks[i])
			}
			slices.Sort(xs)
			if len(xs) != 8 || len(found) != 3 {
				t.Fatalf("%s: %d marks of couplings, %d shafts: %v %v", view, len(xs), len(found), xs, found)
			}
			px := func(k int) float64 { return (xs[k] + xs[k+3]) / 2 } // a mark is two strokes
			mm := func(x float64) float64 { return (x - px(4)) / (px(4) - px(0)) * -other }
			want := func(x float64) float64 { // of the shaft that is there
				o, s := [2]float64{a[0], -b[0]}, [2]float64{a[2], -b[2]}
				o[1] = b[0]
				if view == "top" {
					o, s = [2]float64{a[1], -b[1]}, [2]float64{a[3], b[3]}
				}
				switch {
				case x > 1:
					return o[0] + s[0]*x/1000
				case x < other-1:
					return o[1] + s[1]*(x-other)/1000
				}
				return 0
			}
			scale := 0.0
			for _, f := range found {
				for k := range 2 {
					x, up := mm(f[2*k]), datum-f[2*k+1]
					if mid := mm((f[0] + f[2]) / 2); math.Abs(x) < 1 || math.Abs(x-other) < 1 { // an end at a coupling belongs to the shaft it is of
						x += math.Copysign(1.5, mid-x)
					}
					w := want(x)
					if w == 0 {
						if math.Abs(up) > 0.01 {
							t.Errorf("%s: the machine that stays is drawn %g px off at %g mm", view, up, x)
						}
						continue
					}
					if scale == 0 {
						scale = up / w
					}
					if !(scale > 0) || math.Abs(up-scale*w) > 0.1+0.003*scale {
						t.Errorf("turn %g, %s: at %.0f mm the shaft is drawn %.2f px up, want %.2f", turn, view, x, up, scale*w)
					}
				}
			}
			if scale == 0 {
				t.Errorf("%s: no shaft is off", view)
			}
		}
	}
}

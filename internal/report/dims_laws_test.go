package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// A readDim is a distance along, read back: what it goes from and to, px, its line, its number.
type readDim struct {
	a, b, y float64
	line    [4]float64
	inward  bool // the arrows point at each other, from outside
	number  textBox
	anchor  string
}

// readDims are the distances along of a drawing that have a number.
func readDims(t *testing.T, list []element) (out []readDim) {
	t.Helper()
	for i := range list {
		e := &list[i]
		if e.name != "line" || e.attr["class"] != "d-dim" || e.num(t, "y1") != e.num(t, "y2") || i+3 >= len(list) || list[i+3].name != "text" || list[i+1].attr["class"] != "d-dim" || list[i+2].attr["class"] != "d-dim" {
			continue
		}
		p, q := coords(t, list[i+1].attr["d"]), coords(t, list[i+2].attr["d"])
		d := readDim{a: min(p[0], q[0]), b: max(p[0], q[0]), y: e.num(t, "y1"), line: strokes(t, e)[0], number: boxes(t, list[i+3:i+4])[0], anchor: list[i+3].attr["text-anchor"]}
		if p[0] > q[0] {
			p, q = q, p
		}
		d.inward = p[2] < p[0]
		if (q[2] > q[0]) != d.inward || math.Abs(math.Abs(p[2]-p[0])-7) > 0.01 || math.Abs(math.Abs(q[2]-q[0])-7) > 0.01 || p[1] != d.y || q[1] != d.y {
			t.Errorf("heads %v and %v of one distance", p, q)
		}
		out = append(out, d)
	}
	return out
}

// Distances hang below each other in rows, each as high as there is room: none that would go into a row above stands below; an arrow's heads point outward where they have room, else inward from lines outside; the number
// stands over its arrow's middle or, where it is wider, beside an end of it, on the paper; lines lead down to both ends and a little past them.
func TestDistancesHang(t *testing.T) {
	names, cells := lineCells(knownMachines[0])
	outside, inward, rows := 0, 0, 0
	for _, further := range []string{"1195 1200", "1200 1210 1220", "482 484", "900 905 1185", "485 1185"} {
		for _, planes := range []string{"110,130", "12,9", "2,1"} {
			text := strings.Replace(machineText(names+",Further feet", cells+","+further), "110,130", planes, 1)
			ev := jobOf(t, text, false)
			for _, w := range []float64{280, 700} {
				where := fmt.Sprintf("%s and %s at %g", further, planes, w)
				list := parse(t, Machine(nil, ev, 0, Options{Width: w}))
				dims := readDims(t, list)
				if len(dims) < 4 {
					t.Fatalf("%s: %d distances", where, len(dims))
				}
				top := math.Inf(1)
				free := map[int]float64{} // of each row, from where
				var leads [][4]float64
				for i := range list {
					if e := &list[i]; e.name == "line" && e.attr["class"] == "d-lead" && e.num(t, "x1") == e.num(t, "x2") {
						leads = append(leads, strokes(t, e)[0])
					}
				}
				for _, d := range dims {
					top = min(top, d.y)
				}
				for k, d := range dims {
					n := d.number
					if want := d.b-d.a < 16; d.inward != want {
						t.Errorf("%s: distance %q of %.1f px, arrows inward: %v", where, n.text, d.b-d.a, d.inward)
					}
					if d.inward {
						inward++
						if math.Abs(d.line[0]-d.a+10) > 0.01 || math.Abs(d.line[2]-d.b-10) > 0.01 {
							t.Errorf("%s: distance %q from %.1f to %.1f, its line %v", where, n.text, d.a, d.b, d.line)
						}
					} else if math.Abs(min(d.line[0], d.line[2])-d.a) > 0.01 || math.Abs(max(d.line[0], d.line[2])-d.b) > 0.01 {
						t.Errorf("%s: distance %q from %.1f to %.1f, its line %v", where, n.text, d.a, d.b, d.line)
					}
					wide := n.x1 - n.x0 + 4
					switch {
					case wide <= d.b-d.a:
						if math.Abs((n.x0+n.x1-d.a-d.b)/2) > 0.01 || d.anchor != "middle" {
							t.Errorf("%s: %q stands at %v over %.1f to %.1f", where, n.text, n, d.a, d.b)
						}
					default:
						outside++
						right := math.Abs(n.x0-d.b-12) < 0.01
						if left := math.Abs(n.x1-d.a+12) < 0.01; right == left || left && n.x0 < 4 || right && n.x1 > w-4 || right && d.b <= x0of(t, list)+0.01 && d.a-wide-10 > 5 || left && d.b > x0of(t, list)+0.01 && d.b+wide+10 < w-5 {
							t.Errorf("%s: %q stands at %v beside %.1f to %.1f", where, n.text, n, d.a, d.b)
						}
					}
					if math.Abs(d.y-3-n.y1) > 0.01 {
						t.Errorf("%s: %q stands at %.1f over %.1f", where, n.text, n.y1, d.y)
					}
					// Rows.
					row := int(math.Round((d.y - top) / 19))
					if math.Abs(d.y-top-19*float64(row)) > 0.01 {
						t.Errorf("%s: %q hangs at %.1f, the first row is %.1f", where, n.text, d.y, top)
					}
					rows = max(rows, row)
					from, to := min(d.a, (n.x0+n.x1-wide)/2), max(d.b, (n.x0+n.x1+wide)/2)
					if d.anchor != "middle" {
						from, to = min(d.a, n.x0-2), max(d.b, n.x1+2)
					}
					if from < free[row]-0.03 {
						t.Errorf("%s: %q from %.1f lies on what goes to %.1f in its row", where, n.text, from, free[row])
					}
					for above := range row {
						if from >= free[above]+2.1 {
							t.Errorf("%s: %q hangs in row %d, in row %d there is room from %.1f on", where, n.text, row, above, free[above])
						}
					}
					free[row] = max(free[row], to)
					for _, x := range []float64{d.a, d.b} {
						if !slices.ContainsFunc(leads, func(l [4]float64) bool { return math.Abs(l[0]-x) < 0.01 && math.Abs(l[3]-d.y-3) < 0.01 && l[1] < l[3] }) {
							t.Errorf("%s: no line leads down to %.1f of %q, %d", where, x, n.text, k)
						}
					}
				}
				for _, l := range leads {
					if !slices.ContainsFunc(dims, func(d readDim) bool {
						return math.Abs(d.y+3-l[3]) < 0.01 && (math.Abs(d.a-l[0]) < 0.01 || math.Abs(d.b-l[0]) < 0.01)
					}) {
						t.Errorf("%s: the line down %v leads to no distance", where, l)
					}
					if l[1] < top-17 || l[1] > top-15.9 && !slices.ContainsFunc(dims, func(d readDim) bool {
						return math.Abs(d.y+3-l[1]) < 0.01 && d.y < l[3]-3 && l[0] > d.number.x0-3 && l[0] < d.number.x1+3
					}) {
						t.Errorf("%s: the line down %v begins %.1f above the first row, and below no number", where, l, top-l[1])
					}
				}
			}
		}
	}
	if outside < 50 || inward < 50 || rows < 2 {
		t.Errorf("%d numbers outside, %d arrows inward, %d rows", outside, inward, rows)
	}
}

// x0of is where the coupling centre of a machine's drawing is, px.
func x0of(t *testing.T, list []element) float64 {
	for i := range list {
		if list[i].inside["data-x0"] != "" {
			return number(t, &list[i], "data-x0")
		}
	}
	t.Fatal("no view")
	return 0
}

// The bolt circle: flange, pitch circle and shaft about one middle, each bolt on the pitch circle from 12 on, as large as there is room for; its number outside the flange at its side; of more than sixteen every second or
// third is named, which is said; the slide begins in the middle and keeps to the scale as far as the circle lets it.
func TestBoltsOnTheirCircle(t *testing.T) {
	for _, n := range []int{3, 8, 16, 17, 32, 33} {
		for _, m := range append(knownMachines[2:3], knownMachines[3], knownMachine{0.002, 0.001, 0.4, 0.1}, knownMachine{0.01, -0.012, 0.3, 0.1}) {
			ev := jobOf(t, "Machine,Side at 3,Coupling,Mounting,Method,Speed,Coupling to flange,Bolt circle,Bolts,Given offset V,Given offset H,Given slope V,Given slope H\n"+
				fmt.Sprintf("P,river,short,vertical flange,line,1480,200,600,%d,%g,%g,%g,%g\n", n, m.dv, m.dh, m.tv, m.th), false)
			for _, w := range []float64{300, 900} {
				where := fmt.Sprintf("%d bolts, %+v at %g", n, m, w)
				list := parse(t, Machine(nil, ev, 0, Options{Width: w}))
				var pitch, flange [3]float64
				var bolts [][3]float64
				var slide []float64
				var texts []textBox
				across := 0.0
				var head []float64
				for i := range list {
					e := &list[i]
					if e.inside["data-across"] != "" {
						across = number(t, e, "data-across") * 96 / 25.4
					}
					if e.inside["data-view"] != "flange" {
						continue
					}
					switch {
					case e.name == "circle" && e.attr["class"] == "d-datum":
						pitch = [3]float64{e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")}
					case e.name == "circle" && flange == [3]float64{}:
						flange = [3]float64{e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")}
					case e.name == "circle":
						bolts = append(bolts, [3]float64{e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")})
					case e.name == "line":
						s := strokes(t, e)[0]
						slide = s[:]
					case e.name == "path":
						head = coords(t, e.attr["d"])
					case e.name == "text" && e.attr["class"] == "d-num":
						texts = append(texts, boxes(t, list[i:i+1])[0])
					}
				}
				all := said(list)
				if len(bolts) != n+1 || flange[0] != pitch[0] || flange[1] != pitch[1] || bolts[0][0] != pitch[0] || bolts[0][1] != pitch[1] || bolts[0][2] > 0.5*pitch[2] || math.Abs(pitch[0]-w/2) > 0.01 || math.Abs(pitch[2]-min(0.2*w, 92)) > 0.01 {
					t.Fatalf("%s: circles %v, %v, %v", where, pitch, flange, bolts)
				}
				every := 1
				for n > 16*every {
					every++
				}
				named := 0
				for k, b := range bolts[1:] {
					a := 2 * math.Pi * float64(k) / float64(n)
					x, y := pitch[0]+pitch[2]*math.Sin(a), pitch[1]-pitch[2]*math.Cos(a)
					if math.Hypot(b[0]-x, b[1]-y) > 0.01 || b[2] > 5.001 || math.Hypot(b[0]-pitch[0], b[1]-pitch[1])+b[2] > flange[2] || 2*b[2] > 0.8*2*math.Pi*pitch[2]/float64(n) || b[2] < 2 {
						t.Errorf("%s: bolt %d at %v, by hand %.1f, %.1f", where, k+1, b, x, y)
					}
					i := slices.IndexFunc(texts, func(q textBox) bool {
						return strings.HasPrefix(q.text, strconv.Itoa(k+1)+": ") || q.text == strconv.Itoa(k+1)
					})
					if (i >= 0) != (k%every == 0) {
						t.Errorf("%s: bolt %d is named: %v", where, k+1, i >= 0)
					}
					if i < 0 {
						continue
					}
					named++
					q := texts[i]
					dx, dy := max(q.x0-pitch[0], pitch[0]-q.x1, 0), max(q.y0-pitch[1], pitch[1]-q.y1, 0)
					if d := math.Hypot(dx, dy); d < flange[2]-3 || d > flange[2]+18 || math.Hypot(max(q.x0-x, x-q.x1, 0), max(q.y0-y, y-q.y1, 0)) > 30 {
						t.Errorf("%s: the words %q at %v, the bolt at %.1f, %.1f, the flange %v", where, q.text, q, x, y, flange)
					}
				}
				if told := every > 1 && ev.Row(0).Verdict.String() != "inside"; strings.Contains(all, "is named; ") != told || told && !strings.Contains(all, fmt.Sprintf("Of %d bolts one in %d is named; the sentences name them all.", n, every)) || named == 0 {
					t.Errorf("%s: every %d, %s", where, every, all)
				}
				// The slide.
				r := ev.Row(0)
				v, h := -(m.dv + m.tv*0.2), -(m.dh + m.th*0.2)
				long := min(math.Hypot(v, h)*across, 0.75*pitch[2])
				if (slide != nil) != (r.Verdict.String() != "inside" && long > 4) || slide != nil && (slide[0] != pitch[0] || slide[1] != pitch[1] || math.Abs(math.Hypot(slide[2]-slide[0], slide[3]-slide[1])-long) > 0.02 || math.Abs(math.Hypot(head[0]-(head[2]+head[4])/2, head[1]-(head[3]+head[5])/2)-min(8, long)) > 0.02) {
					t.Errorf("%s: the slide %v, head %v, by hand %.2f px long, %s", where, slide, head, long, r.Verdict)
				}
				hour, side := "12 o'clock", "river"
				if v < 0 {
					hour = "6 o'clock"
				}
				if h < 0 {
					side = "9 o'clock side"
				}
				if r.Verdict.String() != "inside" && !strings.Contains(all, "mm towards "+hour+" and ") || !strings.Contains(all, "mm towards "+side) && r.Verdict.String() != "inside" && math.Abs(h) > 0.005 {
					t.Errorf("%s: not towards %s and %s in %s", where, hour, side, all)
				}
			}
		}
	}
}

// What the key says of the lines, with the limits that were typed, and whether the wanted line is the datum; the bar beside the scale stands on the first line where its words have room there, and else begins the next.
func TestKeySaysTheLimits(t *testing.T) {
	const head = "Machine,Coupling,Method,Offset limit,Slope limit,Spacer length,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H,Running offset V,Running offset H,Running slope V,Running slope H\n"
	for _, c := range []struct{ row, has, not string }{
		{"short,line,0.09,0.4,,480,710,0.3,-0.1,0.4,0.2,,,,", "wanted|limit of the offset ± 0.090 mm|limit of the slope ± 0.40 mm/m|from found to wanted", "wanted cold|flex plane|the offset stays"},
		{"short,line,0.09,0.4,,480,710,0.3,-0.1,0.4,0.2,,0.1,,", "wanted cold", "flex plane"},
		{"short,line,0.09,0.4,,480,710,0.3,-0.1,0.4,0.2,,,,0.1", "wanted cold", "flex plane"},
		{"short,line,0.09,0.4,,480,710,0.3,-0.1,0.4,0.2,,,0.1,", "wanted cold", "flex plane"},
		{"short,line,0.09,0.4,,480,710,0.3,-0.1,0.4,0.2,0.1,,,", "wanted cold", "flex plane"},
		{"short,line,0.09,,,480,710,0.3,-0.1,0.4,0.2,,,,", "limit of the offset ± 0.090 mm", "limit of the slope"},
		{"short,line,0.09,0.4,,,,0.3,-0.1,0.4,0.2,,,,", "limit of the slope ± 0.40 mm/m", "from found to wanted"},
		{"short,line,5,5,,480,710,0.3,-0.1,0.4,0.2,,,,", "limit of the slope ± 5.00 mm/m", "from found to wanted|after"},
		{"spacer,line,,0.4,300,480,710,0.3,-0.1,0.4,0.2,,,,", "limit of the angle at each flex plane ± 0.40 mm/m|from found to wanted", "limit of the offset|limit of the slope"},
		{"universal,line,,0.4,300,480,710,0.3,-0.4,0.4,0.2,,,,", "wanted: the offset stays, 0.500 mm in all|limit of the slope ± 0.40 mm/m", "limit of the offset|limit of the angle"},
	} {
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: head + "P," + c.row + "\n", job.StockSheet: "Thickness\n1\n0.5\n0.2\n0.1\n0.05\n"})
		ev.Count()
		var key []string
		for _, e := range parse(t, Machine(nil, ev, 0, Options{Width: 900})) {
			if e.name == "text" && e.inside["data-view"] == "key" {
				key = append(key, e.text)
			}
		}
		all := strings.Join(key, "|")
		for _, s := range strings.Split(c.has, "|") {
			if !slices.Contains(key, s) {
				t.Errorf("%s: %q is not in the key: %s", c.row, s, all)
			}
		}
		for _, s := range strings.Split(c.not, "|") {
			if strings.Contains(all, s) {
				t.Errorf("%s: %q is in the key: %s", c.row, s, all)
			}
		}
		if strings.Contains(all, "after: predicted from the packs") != ev.Row(0).Calc.HasAfter || ev.Row(0).Calc.HasAfter && !strings.HasSuffix(key[slices.IndexFunc(key, func(s string) bool { return strings.HasPrefix(s, "after") })], ": "+ev.Row(0).AfterVerdict.String()) {
			if ev.Row(0).Verdict.String() != "inside" {
				t.Errorf("%s: %s", c.row, all)
			}
		}
	}
	ev := jobOf(t, head+"P,short,line,0.09,0.4,,480,710,0.3,-0.1,0.4,0.2,,,,\n", false)
	first, next := 0, 0
	for w := 280.0; w < 520; w += 11 {
		list := parse(t, Machine(nil, ev, 0, Options{Width: w}))
		var scale, bar textBox
		for _, b := range boxes(t, list) {
			if strings.HasPrefix(b.text, "Scale at full size") {
				scale = b
			}
			if strings.HasSuffix(b.text, " mm across") {
				bar = b
			}
		}
		long := 0.0
		for i := range list {
			if list[i].text == bar.text {
				xy := coords(t, list[i-1].attr["d"])
				long = xy[4] - xy[2]
				if same := scale.y1 == bar.y1; same && (math.Abs(xy[0]-scale.x1-12) > 0.02 || bar.x1 > w-10) || !same && (xy[0] != 10 || bar.y1-scale.y1 != 17 || scale.x1+12+long+8+bar.x1-bar.x0 <= w-10) {
					t.Errorf("at %g: the bar %v and %v after %v", w, xy, bar, scale)
				} else if same {
					first++
				} else {
					next++
				}
			}
		}
		if long < 20 || long > 57 {
			t.Errorf("at %g: a bar of %.1f px", w, long)
		}
	}
	if first == 0 || next == 0 {
		t.Errorf("%d bars on the first line, %d on the next", first, next)
	}
}

// However far out its planes are, everything that is measured is in view: both planes, the second one, the flex planes, a flange.
func TestFarPlanesAreInView(t *testing.T) {
	const head = "Machine,Coupling,Mounting,Method,Spacer length,Coupling to stationary plane,Coupling to movable plane,Coupling to second plane,Coupling to front feet,Front to rear feet,Coupling to flange,Bolt circle,Bolts,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for row, at := range map[string][]float64{
		"short,,line,,600,100,,480,710,,,,": {-600, 100, 480, 1190}, "short,,line,,100,700,,200,100,,,,": {-100, 700, 200, 300}, "short,,two rims,,,100,1500,200,100,,,,": {1500}, "spacer,,line,3000,,,,1700,500,,,,": {-1500, 1500, 2200},
		"short,vertical flange,line,,,,,,,900,600,8": {900}, "short,,line,,,,,,,,,": {0}, "short,,line,,400,300,,,,,,,": {-400, 300},
	} {
		ev := jobOf(t, head+"P,"+row+",0.1,0.1,0.1,0.1\n", false)
		ev.Count()
		for _, w := range []float64{320, 900} {
			list := parse(t, CardSketch(nil, ev, 0, Options{Width: w}))
			checkLayout(t, row, list, 22)
			list = parse(t, Machine(nil, ev, 0, Options{Width: w}))
			v := readViews(t, row, list)[0]
			for _, mm := range at {
				if x := v.px(mm); x < 12+3 && mm < 0 || x < 12 || x > v.right-8 {
					t.Errorf("%s at %g: %g mm is drawn at %.1f, the view goes from 12 to %.1f", row, w, mm, x, v.right)
				}
			}
			if len(at) > 0 {
				far := slices.Max(append([]float64{-at[0]}, at...))
				if x := v.px(far * 2.2); x < v.right-0.1 && far > 0 { // nor is it lost in the view
					t.Errorf("%s at %g: the view goes to %.1f, %g mm to %.1f", row, w, v.right, far, v.px(far))
				}
			}
		}
	}
}

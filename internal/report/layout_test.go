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
	"shimsheet/internal/tally"
)

// What every drawing keeps, whatever it shows: nothing leaves the paper, no word lies on another, no line runs through a word, no band of the paper stands empty, an arrow's head stands on its
// line, a distance is as long as its number says by the stated scale, and the key names the lines that are drawn and no others. These are what a person would complain of; no number in here was
// taken from what the code drew.

// strokes are the straight pieces that an element draws; a circle as 24 of them.
func strokes(t testing.TB, e *element) (s [][4]float64) {
	switch e.name {
	case "line":
		s = append(s, [4]float64{e.num(t, "x1"), e.num(t, "y1"), e.num(t, "x2"), e.num(t, "y2")})
	case "rect":
		x, y := e.num(t, "x"), e.num(t, "y")
		r, b := x+e.num(t, "width"), y+e.num(t, "height")
		s = append(s, [4]float64{x, y, r, y}, [4]float64{x, b, r, b}, [4]float64{x, y, x, b}, [4]float64{r, y, r, b})
	case "circle":
		x, y, r := e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")
		for k := range 24 {
			s1, c1 := math.Sincos(float64(k) * math.Pi / 12)
			s2, c2 := math.Sincos(float64(k+1) * math.Pi / 12)
			s = append(s, [4]float64{x + r*c1, y + r*s1, x + r*c2, y + r*s2})
		}
	case "path":
		for _, run := range strings.Split(e.attr["d"], "M")[1:] {
			xy := coords(t, "M"+run)
			for i := 0; i+3 < len(xy); i += 2 {
				s = append(s, [4]float64(xy[i:i+4]))
			}
			if n := len(xy); strings.HasSuffix(run, "Z") {
				s = append(s, [4]float64{xy[n-2], xy[n-1], xy[0], xy[1]})
			}
		}
	}
	return s
}

// through says whether a stroke enters the inside of a word.
func (b textBox) through(s [4]float64) bool {
	from, to := 0.0, 1.0 // of the stroke, what is inside every edge so far
	for _, edge := range [4][2]float64{{s[0] - s[2], s[0] - b.x0 - 1}, {s[2] - s[0], b.x1 - 1 - s[0]}, {s[1] - s[3], s[1] - b.y0 - 1}, {s[3] - s[1], b.y1 - 1 - s[1]}} {
		switch part := edge[1] / edge[0]; {
		case edge[0] == 0 && edge[1] < 0:
			return false
		case edge[0] < 0:
			from = max(from, part)
		case edge[0] > 0:
			to = min(to, part)
		}
	}
	return from < to
}

// checkLayout holds a drawing to what is said above. empty is the tallest band without anything in it that it may have, px.
func checkLayout(t *testing.T, where string, list []element, empty float64) {
	t.Helper()
	checkApart(t, where, list)
	checkClasses(t, list)
	w, h := list[0].num(t, "width"), list[0].num(t, "height")
	all := boxes(t, list)
	var bands [][3]float64 // from, to, and how far what stands there may keep off what is above
	near := empty
	if empty <= 34 {
		near = min(empty, 18)
	}
	for i, k := 0, 0; i < len(list); i++ {
		if e := &list[i]; e.name == "text" {
			b := all[k]
			k++
			if off := near; e.attr["font-weight"] != "" && b.size >= 12 || b.size == 14 { // headings, and what to do, may stand off
				bands = append(bands, [3]float64{b.y0, b.y1 + b.down(), empty})
			} else {
				bands = append(bands, [3]float64{b.y0, b.y1 + b.down(), off})
			}
		}
	}
	for _, b := range all {
		if strings.Contains(b.text, "NaN") || strings.Contains(b.text, "Inf") {
			t.Errorf("%s: %q is said of what is not known", where, b.text)
		}
	}
	if desc := strings.TrimSpace(list[2].text); !strings.HasSuffix(desc, ".") && !strings.HasSuffix(desc, ";") && !strings.HasPrefix(desc, "the dial at ") && !strings.HasPrefix(desc, "No readings to draw: ") {
		t.Errorf("%s: the description breaks off: %q", where, desc)
	}
	var last [4]float64 // the line drawn last, or the last piece of it
	whole := 0.0        // how long it is
	for i := range list {
		e := &list[i]
		if class := e.attr["class"]; class == "" || class == "d-hit" || class == "d-paper" {
			continue // the pattern of the hatching, and what takes the pointer
		}
		ss := strokes(t, e)
		for _, s := range ss {
			bands = append(bands, [3]float64{min(s[1], s[3]), max(s[1], s[3]), near})
			if min(s[0], s[2]) < -0.5 || max(s[0], s[2]) > w+0.5 || min(s[1], s[3]) < -0.5 || max(s[1], s[3]) > h+0.5 {
				t.Errorf("%s: %s %s leaves the paper of %g × %g: %v", where, e.attr["class"], e.name, w, h, s)
			}
			for _, b := range all {
				if b.through(s) {
					t.Errorf("%s: %s %s runs through %q: %.1f", where, e.attr["class"], e.name, b.text, s)
				}
			}
		}
		if n := len(ss); n > 0 && (e.name == "line" || e.name == "path" && e.attr["fill"] == "none") {
			last, whole = ss[n-1], 0
			for _, s := range ss {
				whole += math.Hypot(s[2]-s[0], s[3]-s[1])
			}
		}
		if e.name == "path" && strings.Contains(e.attr["fill"], "currentColor") && e.attr["fill-opacity"] == "" && len(ss) == 3 {
			checkHead(t, where, coords(t, e.attr["d"]), last, whole)
		}
	}
	checkSwatches(t, where, list)
	slices.SortFunc(bands, func(a, b [3]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
	low := 0.0
	for _, b := range append(bands, [3]float64{h, h, 25}) {
		if b[0]-low > b[2] {
			t.Errorf("%s: nothing is drawn from %.1f to %.1f", where, low, b[0])
		}
		low = max(low, b[1])
	}
}

// checkSwatches asks of a key that what stands before its words is as wide as a swatch at the most, beside them, and at their height.
func checkSwatches(t *testing.T, where string, list []element) {
	t.Helper()
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for i := range list {
		e := &list[i]
		if e.inside["data-view"] != "key" {
			continue
		}
		for _, s := range strokes(t, e) {
			x0, y0, x1, y1 = min(x0, s[0], s[2]), min(y0, s[1], s[3]), max(x1, s[0], s[2]), max(y1, s[1], s[3])
		}
		if e.name != "text" {
			continue
		}
		x, mid := e.num(t, "x"), e.num(t, "y")-0.36*e.num(t, "font-size") // half of a capital's height
		if !(x0 >= x-42 && x1 <= x-4) || !(math.Abs((y0+y1)/2-mid) <= 1.5) {
			t.Errorf("%s: before %q at %.0f, %.0f stands a swatch from %.1f, %.1f to %.1f, %.1f", where, e.text, x, mid, x0, y0, x1, y1)
		}
		x0, y0, x1, y1 = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	}
}

// checkHead asks that an arrow's head has its point and the middle of its base on the line it belongs to, or on what that line goes on to, that it is slim: a third each side, and no longer than all of the line.
func checkHead(t *testing.T, where string, head []float64, line [4]float64, whole float64) {
	t.Helper()
	dx, dy := line[2]-line[0], line[3]-line[1]
	off := func(x, y float64) float64 { // from the line, across
		return math.Abs((x-line[0])*dy-(y-line[1])*dx) / math.Hypot(dx, dy)
	}
	bx, by := (head[2]+head[4])/2, (head[3]+head[5])/2
	if long := math.Hypot(head[0]-bx, head[1]-by); long > whole+0.02 || off(head[0], head[1]) > 0.01 || off(bx, by) > 0.01 || math.Abs(math.Hypot(head[2]-head[4], head[3]-head[5])-2*long/3) > 0.02 {
		t.Errorf("%s: an arrow's head %.2f does not stand on its line %.2f", where, head, line)
	}
}

// checkDistances reads every distance along: an arrow with a number. All are to one scale, that which is stated where one is. mm is what the numbers count in.
func checkDistances(t *testing.T, where string, list []element, mm float64) (n int) {
	t.Helper()
	den := math.NaN()
	for i := range list {
		if _, s, ok := strings.Cut(list[i].text, "1 : "); ok && list[i].name == "text" && strings.Contains(list[i].text, "ull size") {
			s = strings.TrimRight(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ';' })[0], ",")
			v, err := strconv.ParseFloat(s, 64)
			if err != nil {
				t.Fatalf("%s: scale %q", where, list[i].text)
			}
			den = v
		}
	}
	// The bar to measure by is as long as it says, across.
	for i := range list {
		e := &list[i]
		if n, ok := strings.CutSuffix(e.text, " mm across"); ok && e.name == "text" && i > 0 {
			v, err := strconv.ParseFloat(n, 64)
			_, mag, _ := strings.Cut(strings.ReplaceAll(wordsOf(list), "\n", " "), "across × ")
			m, err2 := strconv.ParseFloat(strings.TrimRight(strings.Fields(mag)[0], ".,;"), 64)
			xy := coords(t, list[i-1].attr["d"])
			if long := slices.Max([]float64{xy[0], xy[2], xy[4], xy[6]}) - slices.Min([]float64{xy[0], xy[2], xy[4], xy[6]}); err != nil || err2 != nil || math.Abs(long-v*mm*m*96/25.4) > 0.01 {
				t.Errorf("%s: %q is %.2f px long at × %g", where, e.text, long, m)
			}
		}
	}
	for i := range list {
		e := &list[i]
		if e.name != "line" || e.attr["class"] != "d-dim" || e.num(t, "y1") != e.num(t, "y2") {
			continue
		}
		k := i + 1
		var tips []float64
		for k < len(list) && list[k].attr["class"] == "d-dim" && list[k].name == "path" {
			tips = append(tips, coords(t, list[k].attr["d"])[0])
			k++
		}
		if len(tips) != 2 || k == len(list) || list[k].name != "text" {
			continue
		}
		v, err := strconv.ParseFloat(strings.Fields(list[k].text)[0], 64)
		if err != nil {
			continue // a letter
		}
		long := math.Abs(tips[1]-tips[0]) / (96 / 25.4) // mm of paper; CSS Values and Units 3 §5.2: 96 to the inch
		if math.IsNaN(den) {
			den = v * mm / long
		}
		if math.Abs(long*den-v*mm) > 0.01*den+0.51 { // distances are worded to a millimetre
			t.Errorf("%s: a distance of %q is %.2f mm long on paper, at 1 : %g %.1f mm", where, list[k].text, long, den, long*den)
		}
		n++
	}
	return n
}

// checkKey asks that the key has each of these lines if and only if the drawing has it.
func checkKey(t *testing.T, where string, list []element, classes ...string) {
	t.Helper()
	for _, c := range classes {
		var drawn, named bool
		for i := range list {
			if e := &list[i]; e.attr["class"] == c {
				named = named || e.inside["data-view"] == "key"
				drawn = drawn || e.inside["data-view"] == "side" || e.inside["data-view"] == "top" || e.inside["data-plane"] != ""
			}
		}
		if drawn != named {
			t.Errorf("%s: %s is drawn: %v, in the key: %v", where, c, drawn, named)
		}
	}
}

// allKinds is a small job with a coupling of every kind of drawing.
func allKinds(t testing.TB, inch bool) *sentences.Teller {
	t.Helper()
	const head = "Machine,Train,Stationary,Side at 3,Side at 9,Seen from,Coupling,Mounting,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Further feet," +
		"Spacer length,Coupling to flange,Bolt circle,Bolts,Stationary near support,Stationary far support,Movable sag at 6,Movable sweep,Stationary sweep,Given offset V,Given offset H,Given slope V,Given slope H," +
		"Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9,Coupling to second plane,Second rim 12,Second rim 3,Second rim 6,Second rim 9\n"
	columns := strings.Split(strings.TrimSpace(head), ",")
	text := head
	row := func(cells ...string) {
		out := make([]string, len(columns))
		for i := 0; i < len(cells); i += 2 {
			k := slices.Index(columns, cells[i])
			if k < 0 {
				t.Fatal(cells[i])
			}
			out[k] = quoted(cells[i+1])
		}
		text += strings.Join(out, ",") + "\n"
	}
	line := []string{"Method", "line", "Speed", "1480", "Given offset V", "0.31", "Given offset H", "-0.12", "Given slope V", "0.40", "Given slope H", "0.25"}
	feet := []string{"Coupling to front feet", "480", "Front to rear feet", "710", "Side at 3", "river", "Side at 9", "hill"}
	planes := []string{"Method", "reverse indicator", "Speed", "1480", "Coupling to stationary plane", "110", "Coupling to movable plane", "130"}
	with := func(lists ...[]string) []string { return slices.Concat(lists...) }
	m := knownMachines[0]
	angles := []float64{0, 45, 90, 135, 180, 225, 270, 315, 360}
	rims := func(m knownMachine) string {
		return fmt.Sprintf("%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f", m.rim(0), m.rim(90), m.rim(180), m.rim(270), m.back(0), m.back(90), m.back(180), m.back(270))
	}
	row(with([]string{"Machine", "feet", "Stationary", "pump", "Coupling", "short", "Movable sweep", sweepText(angles, m.rim, 225, 0.01), "Stationary sweep", sweepText(angles, m.back, -1, 0), "Movable sag at 6", "-0.06"}, planes, feet)...)
	row(with([]string{"Machine", "spacer", "Coupling", "spacer", "Spacer length", "300"}, line, feet)...)
	row(with([]string{"Machine", "universal", "Coupling", "universal", "Spacer length", "700"}, line, feet)...)
	row(with([]string{"Machine", "flange", "Coupling", "short", "Mounting", "vertical flange", "Coupling to flange", "200", "Bolt circle", "600", "Bolts", "12"}, line)...)
	row(with([]string{"Machine", "rounds", "Coupling", "short", "Seen from", "stationary"}, planes, feet)...)
	row(with([]string{"Machine", "many feet", "Coupling", "short", "Further feet", "600 800 1000"}, line, feet)...)
	row("Machine", "stays", "Coupling", "short", "Method", "line", "Speed", "1480", "Given offset V", "0.001", "Given offset H", "0", "Given slope V", "0", "Given slope H", "0.01", "Coupling to front feet", "480", "Front to rear feet", "710")
	row("Machine", "two rims", "Coupling", "short", "Method", "two rims", "Speed", "1480", "Coupling to movable plane", "90", "Coupling to second plane", "260", "Coupling to front feet", "480", "Front to rear feet", "710",
		"Movable rim 12", "0", "Movable rim 3", "-0.37", "Movable rim 6", "-0.64", "Movable rim 9", "-0.27", "Second rim 12", "0", "Second rim 3", "-0.41", "Second rim 6", "-0.76", "Second rim 9", "-0.35")
	row("Machine", "heights only", "Coupling", "short", "Method", "line", "Speed", "1480", "Given offset V", "0.4", "Given offset H", "0", "Given slope V", "0.2", "Given slope H", "0", "Coupling to front feet", "480", "Front to rear feet", "710")
	row("Machine", "no line", "Coupling", "short", "Speed", "1480")
	row(with([]string{"Machine", "growth", "Coupling", "short", "Stationary near support", "300", "Stationary far support", "800"}, line, feet)...)
	row(with([]string{"Machine", "right", "Train", "T", "Stationary", "motor", "Coupling", "short", "Stationary near support", "200", "Stationary far support", "700"}, line, feet)...)
	row(with([]string{"Machine", "left", "Train", "T", "Stationary", "motor", "Coupling", "short", "Stationary near support", "150", "Stationary far support", "650"}, line, feet)...)
	row(with([]string{"Machine", "tight", "Train", "U", "Stationary", "gear", "Coupling", "short"}, line, feet)...)
	lists := map[job.SheetKind]string{
		job.MachinesSheet: text,
		job.StockSheet:    "Thickness\n2\n1\n0.5\n0.2\n0.1\n0.05\n0.025\n",
		job.FeetSheet: "Machine,Foot,Along,Across,Gap,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3,Foot length,Foot width,Pack in place,Room down,Room up,Room left,Room right\n" +
			"feet,front 9,,-250,0,,,,,,,0.5+0.2,,,,\nfeet,front 3,,250,0,,,,,,,0.5+0.2,,,,\nfeet,rear 9,,-250,0.2,,,,,,,0.5+0.2,,,,\nfeet,rear 3,,250,,0.05,0.15,0.25,0.35,80,60,0.5+0.2,,,,\n" +
			"spacer,front 9,480,,0,,,,,,,,,,,\nspacer,front 3,480,,0.1,,,,,,,,,,,\nspacer,rear 9,1190,,,0,0.1,0.1,0.2,,,,,,,\nspacer,rear 3,1190,,0,,,,,,,,,,,\n" +
			"universal,front 9,480,-200,,,,,,,,,,,,\nuniversal,front 3,480,200,0.3,,,,,,,,,,,\nuniversal,rear 9,1190,-200,0.1,,,,,,,,,,,\nuniversal,rear 3,1190,300,0,,,,,,,,,,,\n" +
			"right,front 9,,,,,,,,,,,1,2,1.5,1\nright,front 3,,,,,,,,,,,1,2,1.5,1\ntight,front 9,,,,,,,,,,,0.05,0.05,0.05,0.05\ntight,front 3,,,,,,,,,,,0.05,0.05,0.05,0.05\n",
		job.GrowthSheet: "Machine,Support,Part,Height,Coefficient,Cold,Running,Growth H\ngrowth,movable front,frame,200,12,20,70,0.05\ngrowth,movable front,base,300,11,20,35,\ngrowth,movable rear,frame,200,12,20,60,0\n" +
			"growth,stationary near,casing,400,10.5,20,90,0\ngrowth,stationary far,casing,400,10.5,20,80,0\n",
		job.RoundsSheet: "Machine,Round,Struck,Front shim done,Rear shim done,Front move done,Rear move done,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n" +
			"rounds,found,,,,,," + rims(knownMachine{0.31, -0.12, 0.40, 0.25}) + "\nrounds,1,a bracket slipped,,,,," + rims(knownMachine{0.2, -0.1, 0.1, 0.1}) + "\n" +
			"rounds,1,,-0.4,-0.7,0.05,-0.1," + rims(knownMachine{0.06, -0.05, 0.1, 0.1}) + "\nrounds,2,,,,,," + rims(knownMachine{0.02, -0.01, 0.03, 0.02}) + "\n",
		job.TrainsSheet: "Train,Machine,May move\nT,motor,no\n",
	}
	ev := jobWith(t, lists)
	if inch {
		ev.ShowAs("inch")
	}
	ev.Count()
	return ev
}

// TestLayout draws every kind at several widths and holds each drawing to what is said at the top. A machine and its neighbours are drawn as well as the whole list.
func TestLayout(t *testing.T) {
	ev, inch := allKinds(t, false), allKinds(t, true)
	row := map[string]int{}
	for i := range ev.Len() {
		row[ev.Row(i).Name] = i
	}
	each := []string{"feet", "spacer", "universal", "flange", "rounds", "many feet", "stays", "heights only", "no line", "growth", "right"}
	lines := []string{"d-found", "d-wanted", "d-after", "d-band", "d-hatch"}
	type kind struct {
		name  string
		rows  []string
		draw  func(dst []byte, ev *sentences.Teller, row int, opt Options) []byte
		empty float64
		key   []string
		least int // distances along that each is to have
	}
	for _, k := range []kind{
		{"machine", each, Machine, 30, lines, 70},
		{"sketch", each, CardSketch, 18, nil, 70},
		{"what to do", each, WhatToDo, 26, nil, 0},
		{"sweeps", []string{"feet", "rounds", "spacer", "no line"}, Sweeps, 26, nil, 0},
		{"feet", []string{"feet", "spacer", "universal", "right", "stays"}, FeetPlan, 28, nil, 6},
		{"growth", []string{"growth", "stays"}, GrowthFigure, 32, nil, 0},
		{"rounds", []string{"rounds", "stays"}, Rounds, 20, []string{"d-wanted", "d-odd"}, 0},
	} {
		t.Run(k.name, func(t *testing.T) {
			n := 0
			for _, name := range k.rows {
				for _, w := range []float64{300, 480, 1000} {
					where := fmt.Sprintf("%s at %g", name, w)
					svg := k.draw([]byte("x"), ev, row[name], Options{Width: w})
					list := parse(t, svg[1:])
					checkLayout(t, where, list, k.empty)
					checkKey(t, where, list, k.key...)
					n += checkDistances(t, where, list, 1)
					if name == k.rows[0] && len(list) < 30 {
						t.Errorf("%s: %d elements are no drawing: %s", where, len(list), wordsOf(list))
					}
				}
				list := parse(t, k.draw(nil, inch, row[name], Options{Width: 620}))
				checkLayout(t, name+" in inch", list, k.empty)
				checkDistances(t, name+" in inch", list, 25.4)
			}
			if n < k.least {
				t.Errorf("%d distances", n)
			}
		})
	}
}

// readAxis takes the scale of a plot from the words beside its lines: of the texts that ok picks, the number and where it stands. up says that it is an axis upwards, whose words stand 4 px below
// their line. Every word must stand where the first and the last say.
func readAxis(t *testing.T, list []element, up bool, ok func(e *element) bool) func(px float64) float64 {
	t.Helper()
	var at [][2]float64
	for i := range list {
		e := &list[i]
		if e.name != "text" || !ok(e) {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimPrefix(e.text, "+"), " %"), 64)
		if err != nil {
			continue
		}
		px := e.num(t, "x")
		if up {
			px = e.num(t, "y") - 4
		}
		at = append(at, [2]float64{px, v})
	}
	if len(at) < 3 {
		t.Fatalf("an axis with %d numbers", len(at))
	}
	slices.SortFunc(at, func(a, b [2]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
	a, b := at[0], at[len(at)-1]
	if (b[1] > a[1]) == up {
		t.Fatalf("the axis runs the other way: %v", at)
	}
	value := func(px float64) float64 { return a[1] + (px-a[0])/(b[0]-a[0])*(b[1]-a[1]) }
	for _, q := range at {
		if math.Abs(value(q[0])-q[1]) > 2e-3*math.Abs(b[1]-a[1]) {
			t.Errorf("%g stands where %g is", q[1], value(q[0]))
		}
	}
	return value
}

// TestRoundsGeometry reads the rounds of one machine back: how high its feet stand above the wanted line (0) and how far to the side, by two points of a line; where they should have come to, by
// what was done or, where nobody says, by what the round advised; the ± by the law of propagation (GUM 5.1.2): four readings of standard uncertainty u give a height at their plane with u/√2,
// and a height elsewhere is a sum of both planes' with the weights of a straight line.
func TestRoundsGeometry(t *testing.T) {
	const grad, rep = 0.05, 0.02
	u := math.Sqrt(grad*grad/12 + rep*rep)
	for _, turn := range []float64{1, -1} {
		lines := []knownMachine{{0.31, -0.12 * turn, 0.40, 0.25 * turn}, {0.36, 0.25 * turn, -0.3, 0.5 * turn}, {-0.15, -0.3 * turn, 0.1, 0.1 * turn}}
		done := [4]float64{-0.4, 0.1, 0.15 * turn, -0.2 * turn}
		text := "Machine,Coupling,Method,Speed,Graduation,Repeatability,Movable sag at 6,Stationary sag at 6,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet\n" +
			fmt.Sprintf("P,short,reverse indicator,1480,%g,%g,0,0,%g,%g,%g,%g\n", grad, rep, toStat, toMov, toFront, frontToRear)
		rounds := "Machine,Round,Front shim done,Rear shim done,Front move done,Rear move done,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"
		for k, m := range lines {
			did := ",,,"
			if k == 1 {
				did = fmt.Sprintf("%g,%g,%g,%g", done[0], done[1], done[2], done[3])
			}
			rounds += fmt.Sprintf("P,%s,%s,%.9f,%.9f,%.9f,%.9f,%.9f,%.9f,%.9f,%.9f\n", []string{"found", "1", "2"}[k], did, m.rim(0), m.rim(90), m.rim(180), m.rim(270), m.back(0), m.back(90), m.back(180), m.back(270))
		}
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: text, job.RoundsSheet: rounds})
		for _, w := range []float64{300, 700} {
			list := parse(t, Rounds(nil, ev, 0, Options{Width: w}))
			for p, plane := range []string{"V", "H"} {
				in := func(e *element) bool { return e.inside["data-plane"] == plane }
				mm := readAxis(t, list, true, in)
				var marks [2][][2]float64 // front, rear
				var pm, should, missed [][4]float64
				for i := range list {
					e := &list[i]
					if !in(e) {
						continue
					}
					switch e.attr["class"] {
					case "d-mark":
						marks[0] = append(marks[0], [2]float64{e.num(t, "cx"), e.num(t, "cy")})
					case "d-slope":
						xy := coords(t, e.attr["d"])
						marks[1] = append(marks[1], [2]float64{xy[0], (xy[1] + xy[5]) / 2})
					case "d-pm":
						pm = append(pm, strokes(t, e)...)
					case "d-after":
						should = append(should, strokes(t, e)...)
					case "d-odd":
						missed = append(missed, strokes(t, e)...)
					}
				}
				if len(marks[0]) != 3 || len(marks[1]) != 3 || len(pm) != 6 || len(should) != 8 || len(missed) != 4 {
					t.Fatalf("%s at %g: %d and %d marks, %d ±, %d lines to where they should be, %d misses", plane, w, len(marks[0]), len(marks[1]), len(pm), len(should), len(missed))
				}
				height := func(k int, x float64) float64 {
					if p == 1 {
						return lines[k].dh + lines[k].th*x/1000
					}
					return lines[k].dv + lines[k].tv*x/1000
				}
				near := func(what string, got, want float64) {
					t.Helper()
					tol := 0.006
					if want == 0 && p == 0 {
						tol = 0.0126 // advised in packs: half of the thinnest piece
					}
					if !(math.Abs(got-want) < tol) {
						t.Errorf("%s at %g, turn %g: %s is drawn at %.4f, by hand %.4f", plane, w, turn, what, got, want)
					}
				}
				for f, x := range []float64{toFront, toFront + frontToRear} {
					for k := range lines {
						near(fmt.Sprintf("foot %d in round %d", f, k), mm(marks[f][k][1]), height(k, x))
						if k > 0 && !(marks[f][k][0] > marks[f][k-1][0]) || f == 1 && !(marks[1][k][0] > marks[0][k][0]) {
							t.Errorf("marks do not go to the right: %v", marks)
						}
						half := 2 * u / math.Sqrt2 * math.Hypot((x+toStat)/(toStat+toMov), (toMov-x)/(toStat+toMov))
						b := pm[2*k+f]
						near("±, low end", mm(max(b[1], b[3])), height(k, x)-half)
						near("±, high end", mm(min(b[1], b[3])), height(k, x)+half)
						if b[0] != marks[f][k][0] || b[2] != b[0] {
							t.Errorf("the ± does not stand on its mark: %v %v", b, marks[f][k])
						}
					}
					for k := 1; k < 3; k++ {
						want := 0.0 // as advised: on the wanted line
						if k == 1 {
							want = height(0, x) + done[2*p+f]
						}
						way, place := should[4*(k-1)+2*f], should[4*(k-1)+2*f+1]
						near("where it should have come to", mm(way[3]), want)
						near("where it came from", mm(way[1]), height(k-1, x))
						if place[1] != place[3] || place[1] != way[3] || math.Abs((place[0]+place[2])/2-marks[f][k][0]) > 0.01 || way[0] != marks[f][k-1][0] || way[2] != marks[f][k][0] {
							t.Errorf("the way to %v does not lead from mark to mark: %v, %v", marks[f][k], way, place)
						}
						m := missed[2*(k-1)+f]
						near("missed, from", mm(m[1]), want)
						near("missed, to", mm(m[3]), height(k, x))
					}
				}
			}
		}
	}
}

// TestNumbersGeometry draws counts that are written down here and reads them back against the axes: shares at N of Of with ends that are 1.96 standard deviations of a share away (E. B. Wilson, JASA
// 22 (1927) 209), misses of V as circles and H as diamonds with their means as lines, spreads of repeated and of balanced readings. Under five machines or feet there is a number of them and no more. Seen: on a narrow screen the numbers of an axis lay on each other.
func TestNumbersGeometry(t *testing.T) {
	spread := tally.SpreadOf
	moves := []tally.Move{{Base: "steel", V: -0.08, H: 0.02}, {Base: "steel", V: -0.05, H: 0.11}, {Base: "Steel", V: 0.01, H: -0.03}, {Base: "steel", V: -0.12, H: 0.04}, {Base: "steel", V: -0.06, H: 0.01}, {Base: "grout", V: 0.03, H: -0.02}}
	values := func(only string) (v, h []float64) {
		for _, m := range moves {
			if only == "" || strings.EqualFold(m.Base, only) {
				v, h = append(v, m.V), append(h, m.H)
			}
		}
		return v, h
	}
	misses := func(by, name string) tally.Misses {
		v, h := values(name)
		return tally.Misses{By: by, Name: name, V: spread(v), H: spread(h)}
	}
	one := &tally.Job{Name: "spring", First: tally.Share{N: 7, Of: 9}, Attempts: []tally.Attempts{{By: "crew", Name: "north", First: tally.Share{N: 5, Of: 5}}, {By: "crew", First: tally.Share{N: 2, Of: 4}}, {By: "area", Name: "mill", First: tally.Share{N: 7, Of: 9}}},
		Moves: moves, Misses: []tally.Misses{misses("all", ""), misses("base", "steel"), misses("base", "grout"), misses("machine", "pump")},
		Repeats: []tally.Repeat{{By: "crew", Name: "north", Repeats: 6, FromRepeats: 0.012, Balances: 8, FromBalance: 0.021}, {By: "crew", Repeats: 0, FromRepeats: math.NaN(), Balances: 3, FromBalance: 0.05},
			{By: "crew", Name: "gauges", Gauge: true, Repeats: 4, FromRepeats: 0.3}, {By: "crew", Name: "idle", FromRepeats: math.NaN(), FromBalance: math.NaN()}}}
	two := &tally.Job{Name: "autumn", First: tally.Share{N: 0, Of: 6}, Moves: []tally.Move{{V: 0.3, H: 0.2}}, Misses: []tally.Misses{{By: "all", V: spread([]float64{0.3}), H: spread([]float64{0.2})}}}
	type row struct {
		words             string
		circles, diamonds []float64
		share             tally.Share // with its ± where there are five
		means             []float64
	}
	mean := func(list []float64) (sum float64) {
		for _, v := range list {
			sum += v / float64(len(list))
		}
		return sum
	}
	v, h := values("")
	sv, sh := values("steel")
	ev := jobOf(t, oneMachine, false) // its units are those of the axes
	pct := func(n, of float64) []float64 { return []float64{100 * n / of} }
	for _, c := range []struct {
		jobs []*tally.Job
		want [3]map[string]row
	}{
		{[]*tally.Job{one}, [3]map[string]row{
			{"all": {"7 of 9", pct(7, 9), nil, one.First, nil}, "north": {"5 of 5", pct(5, 5), nil, tally.Share{N: 5, Of: 5}, nil}, "crew not said": {words: "2 of 4"}},
			{"all": {"6 feet", v, h, tally.Share{}, []float64{mean(v), mean(h)}}, "steel": {"5 feet", sv, sh, tally.Share{}, []float64{mean(sv), mean(sh)}}, "grout": {"1 feet", []float64{0.03}, []float64{-0.02}, tally.Share{}, nil}},
			{"north": {"6 and 8", []float64{0.012}, []float64{0.021}, tally.Share{}, nil}, "crew not said": {"0 and 3", nil, []float64{0.05}, tally.Share{}, nil}}}},
		{[]*tally.Job{one, two}, [3]map[string]row{
			{"all · spring": {"7 of 9", pct(7, 9), nil, one.First, nil}, "all · autumn": {"0 of 6", pct(0, 6), nil, two.First, nil}, "north · spring": {"5 of 5", pct(5, 5), nil, tally.Share{N: 5, Of: 5}, nil}, "crew not said · spring": {words: "2 of 4"}},
			{"all · spring": {"6 feet", v, h, tally.Share{}, []float64{mean(v), mean(h)}}, "all · autumn": {"1 feet", []float64{0.3}, []float64{0.2}, tally.Share{}, nil},
				"steel · spring": {"5 feet", sv, sh, tally.Share{}, []float64{mean(sv), mean(sh)}}, "grout · spring": {"1 feet", []float64{0.03}, []float64{-0.02}, tally.Share{}, nil}},
			{"north · spring": {"6 and 8", []float64{0.012}, []float64{0.021}, tally.Share{}, nil}, "crew not said · spring": {"0 and 3", nil, []float64{0.05}, tally.Share{}, nil}}}},
	} {
		for _, w := range []float64{300, 420, 900} {
			list := parse(t, Numbers(nil, ev, c.jobs, Options{Width: w}))
			where := fmt.Sprintf("%d jobs at %g", len(c.jobs), w)
			checkLayout(t, where, list, 28)
			if w == 300 {
				continue // names are cut short
			}
			plots := readNumbers(t, list)
			if len(c.jobs) == 2 { // what stands on one thing stands together, the jobs in their order
				var names []string
				for _, r := range plots[1] {
					names = append(names, r.name)
				}
				if got := strings.Join(names, ", "); got != "all · spring, all · autumn, steel · spring, grout · spring" {
					t.Errorf("%s: rows %s", where, got)
				}
			}
			for k, want := range c.want {
				if len(plots[k]) != len(want) {
					t.Errorf("%s: plot %d has %d rows, not %d", where, k, len(plots[k]), len(want))
				}
				tol := []float64{0.4, 0.002, 0.0004}[k]
				for _, got := range plots[k] {
					want, ok := want[got.name]
					for _, x := range [3][2][]float64{{got.circles, want.circles}, {got.diamonds, want.diamonds}, {got.means, want.means}} {
						slices.Sort(x[0])
						slices.Sort(x[1])
						if !slices.EqualFunc(x[0], x[1], func(a, b float64) bool { return math.Abs(a-b) < tol }) {
							t.Errorf("%s, plot %d, %s: marks at %.4f, want %.4f", where, k, got.name, x[0], x[1])
						}
					}
					if !ok || got.words != want.words || (len(got.bar) == 2) != (want.share.Of > 0) {
						t.Errorf("%s, plot %d: %+v, want %+v", where, k, got, want)
					}
					p := float64(want.share.N) / float64(want.share.Of)
					for _, end := range got.bar {
						q := end / 100
						if away := math.Abs(p-q) - 1.96*math.Sqrt(q*(1-q)/float64(want.share.Of)); math.Abs(away) > 0.02 && math.Abs(p-q) > 0.005 {
							t.Errorf("%s, %s: the bar ends at %.1f %%", where, got.name, end)
						}
					}
					if b := got.bar; b != nil && !(b[1]-b[0] > 10) {
						t.Errorf("%s, %s: a bar from %.1f to %.1f", where, got.name, b[0], b[1])
					}
				}
			}
		}
	}
}

// A numberRow is a row of a plot of [Numbers], read back.
type numberRow struct {
	name, words                   string
	circles, diamonds, means, bar []float64
}

// readNumbers reads the three plots: what stands at the height of a name belongs to it, and a place across is what the axis above says.
func readNumbers(t *testing.T, list []element) (plots [3][]numberRow) {
	t.Helper()
	var heads []float64
	for i := range list {
		if e := &list[i]; e.name == "text" && e.attr["class"] == "d-head" && e.attr["font-size"] == "12" && (strings.HasPrefix(e.text, "Machines inside") || strings.HasPrefix(e.text, "How ")) {
			heads = append(heads, e.num(t, "y"))
		}
	}
	if len(heads) != 3 {
		t.Fatalf("%d plots in\n%s", len(heads), wordsOf(list))
	}
	heads = append(heads, 1e9)
	for k := range plots {
		in := func(e *element, at string) bool {
			return e.attr[at] != "" && e.num(t, at) > heads[k] && e.num(t, at) < heads[k+1] && e.inside["data-view"] == ""
		}
		value := readAxis(t, list, false, func(e *element) bool { return in(e, "y") && e.attr["text-anchor"] == "middle" })
		for i := range list {
			if e := &list[i]; e.name == "text" && e.attr["class"] == "d-text" && in(e, "y") {
				mid := e.num(t, "y") - 4
				r := numberRow{name: e.text}
				for n := range list {
					e := &list[n]
					if e.inside["data-view"] != "" {
						continue
					}
					switch {
					case e.name == "circle" && math.Abs(e.num(t, "cy")-mid) < 0.01:
						r.circles = append(r.circles, value(e.num(t, "cx")))
					case e.attr["class"] == "d-slope":
						if xy := coords(t, e.attr["d"]); math.Abs((xy[1]+xy[5])/2-mid) < 0.01 {
							r.diamonds = append(r.diamonds, value((xy[2]+xy[6])/2))
						}
					case e.attr["class"] == "d-pm":
						if xy := coords(t, e.attr["d"]); math.Abs(xy[1]-mid) < 0.01 {
							r.bar = []float64{value(xy[0]), value(xy[2])}
						}
					case e.name == "line" && (e.attr["class"] == "d-found" || e.attr["class"] == "d-odd") && math.Abs((e.num(t, "y1")+e.num(t, "y2"))/2-mid) < 0.01:
						r.means = append(r.means, value(e.num(t, "x1")))
					case e.attr["class"] == "d-num" && math.Abs(e.num(t, "y")-4-mid) < 0.01:
						r.words = e.text
					}
				}
				plots[k] = append(plots[k], r)
			}
		}
	}
	return plots
}

// TestTrainFeet reads the feet of a train back: each pair where it stands along, its arrow from the shaft as found to the wanted line (0), its room as a bracket about the shaft, its number and amount
// below; the machine that stays has none. The second row is seen from the other end, so its 3 o'clock is the frame's 9 (README, Trains). Room down is below the shaft, room right is up on the top view.
func TestTrainFeet(t *testing.T) {
	type pair struct {
		station, v, h         float64 // of the shaft as found
		up, down, right, left float64 // NaN free
		stays                 bool
	}
	nan := math.NaN()
	m := knownMachines[0]
	v := func(x float64) float64 { return m.dv + m.tv*x/1000 }
	h := func(x float64) float64 { return m.dh + m.th*x/1000 }
	const other = -850.0 // the second coupling: 700 and 150 mm on from the first
	want := []pair{      // front before rear, whichever way a machine lies
		{other - toFront, v(toFront), -h(toFront), nan, nan, nan, nan, false},
		{other - toFront - frontToRear, v(toFront + frontToRear), -h(toFront + frontToRear), nan, nan, nan, nan, false},
		{-200, 0, 0, nan, nan, nan, nan, true},
		{-700, 0, 0, nan, nan, nan, nan, true},
		{toFront, v(toFront), h(toFront), 2, 1, 1, 1.5, false},
		{toFront + frontToRear, v(toFront + frontToRear), h(toFront + frontToRear), nan, nan, nan, nan, false},
	}
	ev := allKinds(t, false)
	for _, w := range []float64{300, 420, 760, 1000} {
		for k := range ev.Trains() {
			for c := -1; c < len(ev.TrainChoices(k)); c++ {
				where := fmt.Sprintf("train %d, plan %d at %g", k, c, w)
				list := parse(t, Train(nil, ev, k, c, Options{Width: w}))
				checkLayout(t, where, list, 66) // a view keeps its height where its shafts are near the datum
				checkDistances(t, where, list, 1)
				checkKey(t, where, list, "d-found", "d-wanted", "d-after", "d-odd")
			}
		}
		list := parse(t, Train(nil, ev, 0, -1, Options{Width: w}))
		scale := func(s string) float64 {
			_, rest, _ := strings.Cut(strings.ReplaceAll(wordsOf(list), "\n", " "), s)
			v, err := strconv.ParseFloat(strings.TrimRight(strings.Fields(rest)[0], ".,"), 64)
			if err != nil {
				t.Fatalf("no %q in\n%s", s, wordsOf(list))
			}
			return v
		}
		along, across := 96/25.4/scale("along 1 : "), 96/25.4*scale("across × ")
		for p, view := range []string{"side", "top"} {
			var datum float64
			var numbers, amounts []element
			var arrows, brackets [][4]float64
			for i := range list {
				e := &list[i]
				if e.inside["data-view"] != view {
					continue
				}
				switch class := e.attr["class"]; {
				case class == "d-datum":
					datum = e.num(t, "y1")
				case class == "d-num":
					numbers = append(numbers, *e)
				case e.name == "text" && class == "d-soft" && e.attr["text-anchor"] == "middle":
					amounts = append(amounts, *e)
				case class == "d-do" && e.name == "line":
					arrows = append(arrows, strokes(t, e)...)
				case class == "d-dim":
					brackets = append(brackets, strokes(t, e)...)
				}
			}
			if len(numbers) != len(want) {
				t.Fatalf("%s at %g: %d pairs of feet", view, w, len(numbers))
			}
			x0 := numbers[4].num(t, "x") - toFront*along // the coupling of the first row
			var strokesOf [][4]float64                   // couplings: two upright strokes about the datum each
			for i := range list {
				if e := &list[i]; e.attr["class"] == "d-spool" && e.inside["data-view"] == view {
					strokesOf = append(strokesOf, strokes(t, e)...)
				}
			}
			for _, l := range strokesOf {
				near := min(math.Abs(l[0]-x0), math.Abs(l[0]-x0-other*along))
				if l[0] != l[2] || math.Abs((l[1]+l[3])/2-datum) > 0.01 || math.Abs(l[3]-l[1]) < 12 || near > 4 {
					t.Errorf("%s at %g: a coupling is marked by %v", view, w, l)
				}
			}
			if len(strokesOf) != 4 {
				t.Errorf("%s at %g: %d strokes", view, w, len(strokesOf))
			}
			for i, q := range want {
				x := numbers[i].num(t, "x")
				if numbers[i].text != strconv.Itoa(i+1) || math.Abs(x-x0-q.station*along) > 0.01 || !(numbers[i].num(t, "y") > datum+50) {
					t.Errorf("%s at %g: %s stands at %.1f mm, not %g", view, w, numbers[i].text, (x-x0)/along, q.station)
				}
				found, less, more := q.v, q.down, q.up
				if p == 1 {
					found, less, more = q.h, q.left, q.right
				}
				at := func(list [][4]float64, x float64) (own [][4]float64) {
					for _, l := range list {
						if math.Abs(l[0]-x) < 0.01 && math.Abs(l[2]-x) < 0.01 {
							own = append(own, l)
						}
					}
					return own
				}
				y := func(mm float64) float64 { return datum - mm*across }
				switch a := at(arrows, x); {
				case q.stays || math.Abs(found*across) < 4:
					if len(a) > 0 {
						t.Errorf("%s at %g: an arrow at pair %d, which has nothing to do", view, w, i+1)
					}
				case len(a) != 1 || math.Abs(a[0][1]-y(found)) > 0.05 || math.Abs(a[0][3]-datum) > 0.05:
					t.Errorf("%s at %g, pair %d: the arrow is %.2f, not from %.2f to %.2f", view, w, i+1, a, y(found), datum)
				}
				b := at(brackets, x+7)
				for _, end := range []float64{found - less, found + more} {
					if math.IsNaN(end) {
						continue
					}
					edge := y(end)
					if cut := math.Abs(edge-datum) > 62+4; w < 560 && cut || math.Abs(edge-datum) > 78+4 {
						continue // beyond the view
					}
					if !slices.ContainsFunc(b, func(l [4]float64) bool { return math.Abs(l[1]-y(found)) < 0.05 && math.Abs(l[3]-edge) < 0.05 }) {
						t.Errorf("%s at %g, pair %d: no bracket from %.2f to %.2f in %.2f", view, w, i+1, y(found), edge, b)
					}
				}
				if has := len(b) > 0; has == math.IsNaN(less) {
					t.Errorf("%s at %g, pair %d: %d brackets", view, w, i+1, len(b))
				}
				for _, a := range amounts {
					if math.Abs(a.num(t, "x")-x) > 0.01 || q.stays {
						continue
					}
					if v, err := strconv.ParseFloat(strings.Replace(a.text, "−", "-", 1), 64); err != nil || math.Abs(v+found) > 0.006 {
						t.Errorf("%s at %g, pair %d: %q is said, %.3f is to be done", view, w, i+1, a.text, -found)
					}
				}
			}
			if w == 1000 && len(amounts) != 4 {
				t.Errorf("%s: %d amounts below the feet", view, len(amounts))
			}
		}
	}
	// The table beside the drawing says the same in words: which way, how much, how much room.
	rows := TrainFeet(ev, &ev.Trains()[0])
	if len(rows) != len(want) {
		t.Fatalf("%d rows", len(rows))
	}
	for i, q := range want {
		r := rows[i]
		shim, move := "stays", "stays"
		if !q.stays {
			side := map[bool]string{true: "the hill", false: "the river"}[q.h > 0] // away from where it stands; 3 o'clock is the river
			shim, move = fmt.Sprintf("%.3f mm %s", q.v, map[bool]string{true: "down", false: "up"}[q.v > 0]), fmt.Sprintf("%.3f mm towards %s", math.Abs(q.h), side)
		}
		if r.Number != strconv.Itoa(i+1) || r.Station != strconv.FormatFloat(q.station, 'f', -1, 64)+" mm" || r.Shim != shim || math.Abs(q.h) > 0.001 && r.Move != move || r.Stops {
			t.Errorf("row %d: %+v; by hand %s, %s", i, r, shim, move)
		}
		room := "no bound given"
		if !math.IsNaN(q.up) {
			room = fmt.Sprintf("down %.3f mm, up %.3f mm; the hill %.3f mm, the river %.3f mm", q.down, q.up, q.left, q.right)
		}
		if r.Room != room {
			t.Errorf("row %d: room %q, by hand %q", i, r.Room, room)
		}
	}
	// A plan that is impossible: the pair whose room stops it has a ring about its number, in that view.
	list := parse(t, Train(nil, ev, 1, -1, Options{Width: 760}))
	rings := map[string]int{}
	for i := range list {
		if e := &list[i]; e.name == "circle" && e.attr["class"] == "d-odd" {
			for k := range list {
				if n := &list[k]; n.attr["class"] == "d-num" && n.inside["data-view"] == e.inside["data-view"] && n.attr["x"] == e.attr["cx"] && math.Abs(n.num(t, "y")-4-e.num(t, "cy")) < 1 {
					rings[n.inside["data-view"]+" "+n.text]++
				}
			}
		}
	}
	var stops []string
	number := map[string]int{}
	for _, s := range ev.Trains()[1].Short {
		stops = append(stops, s.Machine+" "+s.Foot+" "+s.Direction)
		number[map[bool]string{true: "side", false: "top"}[s.Direction == "up" || s.Direction == "down"]]++
	}
	if len(stops) == 0 || len(rings) == 0 || (number["side"] > 0) != (rings["side 1"]+rings["side 2"]+rings["side 3"] > 0) || (number["top"] > 0) != (rings["top 1"]+rings["top 2"]+rings["top 3"] > 0) {
		t.Errorf("%v stop the plan, rings at %v\n%s", stops, rings, wordsOf(list))
	}
}

// The drawings of the help keep the same laws at every width: the clock with and without names of sides, a place on the clock, the distances of every method. Seen: on a narrow screen an outline ran through two words, and a line down to a distance through the letter of another.
func TestLayoutOfHelp(t *testing.T) {
	for _, w := range []float64{300, 480, 760, 1000} {
		opt := Options{Width: w}
		for _, names := range [][2]string{{"", ""}, {"river side", "hillside"}} {
			checkLayout(t, fmt.Sprintf("clock at %g", w), parse(t, ClockFigure(nil, names[0], names[1], opt)), 35)
		}
		for deg := 0.0; deg < 360; deg += 45 {
			list := parse(t, ClockAt(nil, deg, opt))
			checkLayout(t, fmt.Sprintf("%g° at %g", deg, w), list, 20)
		}
		for m := job.MethodBlank; m <= job.GivenLineMethod; m++ {
			list := parse(t, MethodFigure(nil, m, opt))
			where := fmt.Sprintf("%s at %g", m, w)
			checkLayout(t, where, list, 40)
			// Each dimension has a letter, and the list below says what each letter is, in order, once.
			var letters, named []string
			for i := range list {
				e := &list[i]
				switch {
				case e.name != "text":
				case len(e.text) == 1 && e.attr["class"] == "d-num" && e.text >= "A" && e.text <= "H":
					letters = append(letters, e.text)
				case len(e.text) > 3 && e.text[1:3] == "  " && e.attr["class"] == "d-text":
					named = append(named, e.text[:1])
				}
			}
			slices.Sort(letters)
			// What is measured besides the feet, by README's list of methods; where the feet stand, for all.
			all := wordsOf(list)
			for _, column := range append([]string{"Coupling to front feet", "Front to rear feet"}, map[job.Method][]string{
				job.ReverseIndicator: {"Coupling to stationary plane", "Coupling to movable plane"}, job.Sweeps: {"Coupling to stationary plane", "Coupling to movable plane", "Movable sweep"},
				job.RimAndFace: {"Coupling to movable plane", "Face diameter"}, job.TwoRims: {"Coupling to movable plane", "Coupling to second plane"}, job.FaceAndFace: {"Spacer length", "Face diameter"},
				job.StraightedgeAndGap: {"Coupling to movable plane", "Face diameter"}, job.GivenLineMethod: {"Given offset V", "Given slope V"}}[m]...) {
				if !strings.Contains(all, column) {
					t.Errorf("%s: no %s in\n%s", where, column, all)
				}
			}
			if !slices.Equal(letters, named) || len(named) < 2 {
				t.Errorf("%s: letters %v, named %v", where, letters, named)
			}
		}
	}
}

// A prefix comes into every id as it was given where it is of letters, digits, - and _, and cleaned of all else; an id begins with a letter or _. Two drawings with two prefixes share no id.
func TestPrefixes(t *testing.T) {
	for prefix, want := range map[string]string{"": "d", "Ab-1_c": "Ab-1_c", "z9": "z9", "AZaz09_-": "AZaz09_-", "_x": "_x", "9-a": "a", "-a": "a", "ä b\"<c": "bc", "0": "d", "@[`{/:": "d"} {
		list := parse(t, ClockFigure(nil, "", "", Options{Prefix: prefix}))
		if got := list[1].attr["id"]; got != want+"-title" {
			t.Errorf("prefix %q makes %q, want %q", prefix, got, want+"-title")
		}
	}
}

// Widths are those asked for between 280 and 2400, in whole pixels; 0 or what is no number is 760 (Options).
func TestWidths(t *testing.T) {
	for w, want := range map[float64]float64{0: 760, -5: 760, math.NaN(): 760, 1: 280, 279: 280, 280: 280, 280.4: 280, 500.6: 501, 2400: 2400, 2401: 2400, math.Inf(1): 2400} {
		if got := parse(t, ClockFigure(nil, "", "", Options{Width: w})); got[0].num(t, "width") != want {
			t.Errorf("asked for %g: %s, want %g", w, got[0].attr["width"], want)
		}
	}
}

// What is done sideways at feet that stand where they should is to leave them: said, and no arrow is drawn; the other way round the arrow points to the side where the shaft is to go.
func TestPushesAndLeaves(t *testing.T) {
	ev := allKinds(t, false)
	for i := range ev.Len() {
		name := ev.Row(i).Name
		if name != "heights only" && name != "many feet" {
			continue
		}
		list := parse(t, WhatToDo(nil, ev, i, Options{Width: 480}))
		arrows, leaves := 0, 0
		for k := range list {
			e := &list[k]
			if e.inside["data-push"] == "" {
				continue
			}
			if e.name == "line" {
				arrows++
				x1, x2 := e.num(t, "x1"), e.num(t, "x2")
				// Found towards 9 at the coupling, −0.12, and towards 3 from 480 mm on: the front feet stand right, the rear ones too far towards 3, which is on the right.
				if !(x2 < x1) {
					t.Errorf("%s: the arrow of the %s feet goes from %g to %g", name, e.inside["data-push"], x1, x2)
				}
			}
			if strings.Contains(e.text, "leave sideways") {
				leaves++
			}
		}
		switch {
		case name == "heights only" && (arrows != 0 || leaves != 2):
			t.Errorf("%s: %d arrows, %d pairs are left", name, arrows, leaves)
		case name == "many feet" && (arrows < 2 || leaves < 1):
			t.Errorf("%s: %d arrows, %d pairs are left", name, arrows, leaves)
		}
	}
}

// Corner gaps of 0.05 and 0.15 at the coupling's edge and of 0.25 and 0.35 at the free one open by 0.2 mm over 80 mm along and by 0.1 mm over 60 mm across: 2.5 and 1.67 mm/m. Where length and width are
// not typed no taper is said. The plan of the sole has each gap at its corner: the free edge on the right, 3 o'clock up.
func TestSoleTaper(t *testing.T) {
	for _, size := range []string{"80,60", ","} {
		text := "Machine,Foot,Across,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3,Foot length,Foot width\n"
		for _, foot := range []string{"front 9,-250", "front 3,250", "rear 9,-250"} {
			text += "P1," + foot + ",0,0,0,0," + size + "\n"
		}
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: text + "P1,rear 3,250,0.05,0.15,0.25,0.35," + size + "\n"})
		list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 760}))
		all := strings.ReplaceAll(wordsOf(list), "\n", " ")
		if has := strings.Contains(all, "taper 2.50 along, 1.67 mm/m across"); has != (size != ",") || !has && strings.Contains(all, "taper ") {
			t.Errorf("%q: %s", size, all)
		}
		at := map[string][2]float64{}
		for k := range list {
			if e := &list[k]; e.name == "text" && e.attr["class"] == "d-num" && e.attr["text-anchor"] != "middle" {
				at[e.text] = [2]float64{e.num(t, "x"), e.num(t, "y")}
			}
		}
		a, b, c, d := at["0.050"], at["0.150"], at["0.250"], at["0.350"] // coupling 9, coupling 3, free 9, free 3
		if !(a[0] > 0 && a[0] < c[0] && b[0] < d[0] && a[0] == b[0] && c[0] == d[0] && a[1] > b[1] && c[1] > d[1]) {
			t.Errorf("corner gaps stand at %v, %v, %v, %v in %s", a, b, c, d, all)
		}
	}
}

// TestLayoutOfLists draws overview and histogram of a few machines and of many, and holds them to the same laws; the line of the overview that takes the pointer lies about its own marks, one below the
// other without a gap, over the whole width.
func TestLayoutOfLists(t *testing.T) {
	few := allKinds(t, false)
	text := "Machine,Coupling,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for i := range 75 {
		text += fmt.Sprintf("P%d,short,line,1480,480,710,%g,%g,%g,%g\n", i, 0.004*float64(i), -0.002*float64(i%7), 0.01*float64(i%40), 0.02*float64(i%5))
	}
	for name, ev := range map[string]*sentences.Teller{"few": few, "many": jobOf(t, text, false)} {
		ev.Count()
		for _, w := range []float64{300, 480, 1000} {
			where := fmt.Sprintf("%s at %g", name, w)
			checkLayout(t, "histogram of "+where, parse(t, Histogram(nil, ev, nil, Options{Width: w})), 30)
			list := parse(t, Overview(nil, ev, nil, Options{Width: w}))
			checkLayout(t, "overview of "+where, list, 34)
			rows, low := 0, 0.0
			for i := range list {
				e := &list[i]
				if e.attr["class"] != "d-hit" {
					continue
				}
				rows++
				top, high := e.num(t, "y"), e.num(t, "height")
				if e.attr["x"] != "0" || e.num(t, "width") != w || top < low-0.01 || high < 12 {
					t.Errorf("%s: row %d takes the pointer from %g, %g high, above it %g", where, rows, top, high, low)
				}
				low = top + high
				for k := i + 1; k < len(list) && list[k].inside["data-row"] == e.inside["data-row"]; k++ {
					for _, s := range strokes(t, &list[k]) {
						if min(s[1], s[3]) < top-1 || max(s[1], s[3]) > low+1 {
							t.Errorf("%s: row %d reaches from %.1f to %.1f, its mark %v", where, rows, top, low, s)
						}
					}
					if list[k].name == "text" && (list[k].num(t, "y") < top || list[k].num(t, "y") > low+1) {
						t.Errorf("%s: row %d reaches from %.1f to %.1f, %q stands at %g", where, rows, top, low, list[k].text, list[k].num(t, "y"))
					}
				}
			}
			if rows != ev.Len() {
				t.Errorf("%s: %d rows of %d", where, rows, ev.Len())
			}
		}
	}
}

// The distances along a machine, by hand from what was typed: each named once, and no other.
func TestDistancesAlong(t *testing.T) {
	ev := allKinds(t, false)
	want := map[string]string{"feet": "110 130 480 710", "spacer": "300 480 710", "universal": "480 700 710", "flange": "200", "many feet": "120 190 200 200 480", "two rims": "260 480 710 90", "no line": ""}
	for i := range ev.Len() {
		name := ev.Row(i).Name
		w, ok := want[name]
		if !ok {
			continue
		}
		for what, draw := range map[string]func([]byte, *sentences.Teller, int, Options) []byte{"drawing": Machine, "sketch": CardSketch} {
			list := parse(t, draw(nil, ev, i, Options{Width: 1000}))
			var got []string
			for k := range list {
				if e := &list[k]; k > 1 && e.name == "text" && e.attr["class"] == "d-soft" && list[k-1].attr["class"] == "d-dim" && list[k-1].attr["fill"] == "currentColor" {
					got = append(got, strings.TrimSuffix(e.text, " mm"))
				}
			}
			slices.Sort(got)
			if all := strings.Join(got, " "); all != w {
				t.Errorf("%s of %s: distances %q, typed %q", what, name, all, w)
			}
		}
	}
}

// A spacer coupling: the spool goes from the stationary flex plane, half its length before the centre and on the datum, to the movable one, as far behind it and on the line found; plates stand at both. The
// fan of the slope limit of a short coupling opens from the wanted place at the centre by the limit either way.
func TestSpoolAndFan(t *testing.T) {
	for _, m := range knownMachines {
		head := "Machine,Coupling,Method,Speed,Spacer length,Offset limit,Slope limit,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
		ev := jobOf(t, head+fmt.Sprintf("S,spacer,line,1480,400,,0.4,480,710,%g,%g,%g,%g\nF,short,line,1480,,0.09,0.4,480,710,%g,%g,%g,%g\n", m.dv, m.dh, m.tv, m.th, m.dv, m.dh, m.tv, m.th), false)
		for row := range 2 {
			list := parse(t, Machine(nil, ev, row, Options{Width: 900}))
			spools, fans, plates := 0, 0, 0
			for i := range list {
				e := &list[i]
				if e.inside["data-across"] == "" {
					continue
				}
				v := func(s string) float64 { f, _ := strconv.ParseFloat(e.inside[s], 64); return f }
				x := func(px float64) float64 { return (px - v("data-x0")) / (96 / 25.4) * v("data-along") }
				y := func(py float64) float64 { return (v("data-y0") - py) / (96 / 25.4) / v("data-across") }
				d, s := m.dv, m.tv
				if e.inside["data-view"] == "top" {
					d, s = m.dh, m.th
				}
				switch {
				case e.attr["class"] == "d-spool":
					xy := coords(t, e.attr["d"])
					if math.Abs(x(xy[0])+200) > 0.1 || math.Abs(y(xy[1])) > 0.001 || math.Abs(x(xy[2])-200) > 0.1 || math.Abs(y(xy[3])-d-s*0.2) > 0.001 {
						t.Errorf("%+v: the spool goes from %.1f, %.3f to %.1f, %.3f", m, x(xy[0]), y(xy[1]), x(xy[2]), y(xy[3]))
					}
					spools++
				case e.name == "line" && e.attr["class"] == "d-body":
					l := strokes(t, e)[0]
					if at := x(l[0]); math.Abs(math.Abs(at)-200) < 0.1 {
						want := 0.0
						if at > 0 {
							want = d + s*0.2
						}
						if l[0] != l[2] || math.Abs(y((l[1]+l[3])/2)-want) > 0.001 {
							t.Errorf("%+v: a plate at %.1f mm stands about %.3f, not %.3f", m, at, y((l[1]+l[3])/2), want)
						}
						plates++
					}
				case e.attr["class"] == "d-limit" && strings.Contains(e.attr["stroke-dasharray"], "1.5 3"):
					xy := coords(t, e.attr["d"])
					if slope := 1000 * (y(xy[3]) - y(xy[1])) / (x(xy[2]) - x(xy[0])); math.Abs(x(xy[0])) > 0.1 || math.Abs(y(xy[1])) > 0.001 || math.Abs(math.Abs(slope)-0.4) > 0.01 {
						t.Errorf("%+v: a line of the fan from %.1f, %.3f with %.3f mm/m", m, x(xy[0]), y(xy[1]), slope)
					}
					fans++
				}
			}
			if row == 0 && (spools != 2 || plates != 4 || fans != 0) || row == 1 && (spools != 0 || fans != 4) {
				t.Errorf("row %d: %d spools, %d plates, %d lines of fans", row, spools, plates, fans)
			}
		}
	}
}

// A drawing of something that there is not says so, and nothing else.
func TestNothingToDraw(t *testing.T) {
	ev := allKinds(t, false)
	for _, c := range [][2]int{{99, -1}, {-1, -1}, {0, 99}, {99, 0}, {-1, 0}, {0, -2}} {
		list := parse(t, Train(nil, ev, c[0], c[1], Options{}))
		if all := wordsOf(list); (all != "There is no such train.\n") != (c == [2]int{0, -2}) {
			t.Errorf("train %v: %s", c, all)
		}
	}
	for _, row := range []int{-1, ev.Len()} {
		for k, draw := range []func([]byte, *sentences.Teller, int, Options) []byte{Machine, Sweeps, FeetPlan, GrowthFigure, Rounds, WhatToDo, CardSketch} {
			if all := wordsOf(parse(t, draw(nil, ev, row, Options{}))); all != "This row holds no coupling.\n" {
				t.Errorf("drawing %d of row %d: %s", k, row, all)
			}
		}
	}
	// The words for those who cannot see a drawing say what it shows, and leave out what is said beside it anyway.
	for i := range ev.Len() {
		desc := parse(t, Machine(nil, ev, i, Options{}))[2].text
		for _, s := range ev.Sentences(i) {
			if has, says := strings.Contains(desc, s.Text), s.Kind != sentences.SentenceCaution && s.Kind != sentences.SentenceHint; has != says {
				t.Errorf("%s: the description has %q: %v", ev.Row(i).Name, s.Text, has)
			}
		}
	}
}

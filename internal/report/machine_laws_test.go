package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// A readView is one view of a machine, read back.
type readView struct {
	name, where string
	list        []element // of this view
	y0          float64   // px of the datum
	x           func(px float64) float64
	px          func(mm float64) float64
	across      float64 // px a mm
	right       float64 // where the datum ends
	texts       []textBox
}

func readViews(t *testing.T, where string, list []element) (out []*readView) {
	t.Helper()
	for _, name := range []string{"side", "top"} {
		v := &readView{name: name, where: where + ", " + name}
		for i := range list {
			if e := &list[i]; e.inside["data-view"] == name {
				v.list = append(v.list, *e)
				if e.inside["data-across"] != "" {
					along, x0 := 96/25.4/number(t, e, "data-along"), number(t, e, "data-x0")
					v.y0, v.across = number(t, e, "data-y0"), number(t, e, "data-across")*96/25.4
					v.x = func(px float64) float64 { return (px - x0) / along }
					v.px = func(mm float64) float64 { return x0 + mm*along }
				}
				if e.attr["class"] == "d-datum" {
					v.right = e.num(t, "x2")
				}
			}
		}
		if v.x == nil {
			t.Fatalf("%s: no view", v.where)
		}
		v.texts = boxes(t, v.list)
		out = append(out, v)
	}
	return out
}

func (v *readView) word(text string) (textBox, bool) {
	for _, b := range v.texts {
		if b.text == text {
			return b, true
		}
	}
	return textBox{}, false
}

// machineRows are the rows of allKinds by name.
func machineRows(ev *sentences.Teller) map[string]int {
	row := map[string]int{}
	for i := range ev.Len() {
		row[ev.Row(i).Name] = i
	}
	return row
}

// Each line of a view has its name to the right of its end, with a leader that begins on the line and ends before the name; names stand in the order of the lines, none nearer to the next than a line of words, and only
// lines that are drawn are named.
func TestLinesAreNamed(t *testing.T) {
	ev := allKinds(t, false)
	named := 0
	for i := range ev.Len() {
		for _, w := range []float64{300, 480, 1000} {
			for drawing, draw := range map[string]func([]byte, *sentences.Teller, int, Options) []byte{"machine": Machine, "growth": GrowthFigure} {
				list := parse(t, draw(nil, ev, i, Options{Width: w}))
				if !strings.Contains(said(list), "Side view") || strings.Contains(said(list), "Top view") == false {
					continue
				}
				for _, v := range readViews(t, fmt.Sprintf("%s of %s at %g", drawing, ev.Row(i).Name, w), list) {
					// The lines, by what is drawn: where they end.
					ends := map[string][2]float64{}
					for k := range v.list {
						e := &v.list[k]
						class := e.attr["class"]
						if e.inside["data-across"] == "" || e.name != "path" && e.name != "line" {
							continue
						}
						s := strokes(t, e)
						last := s[len(s)-1]
						switch {
						case class == "d-datum":
							ends["datum"] = [2]float64{last[2], last[3]}
						case class == "d-found":
							ends["found"] = [2]float64{last[2], last[3]}
						case class == "d-wanted" && drawing == "growth":
							ends["cold"] = [2]float64{last[2], last[3]}
						case class == "d-wanted":
							ends["wanted"] = [2]float64{last[2], last[3]}
						case class == "d-after" && drawing == "growth":
							ends["running"] = [2]float64{last[2], last[3]} // the movable shaft is drawn last
						case class == "d-after":
							ends["after"] = [2]float64{last[2], last[3]}
						}
					}
					type place struct {
						name      string
						end, text float64
					}
					var places []place
					for _, name := range []string{"datum", "found", "wanted", "after", "cold", "running"} {
						b, ok := v.word(name)
						end, drawn := ends[name]
						if ok != drawn {
							t.Errorf("%s: %s is drawn: %v, named: %v", v.where, name, drawn, ok)
						}
						if !ok {
							continue
						}
						named++
						places = append(places, place{name, end[1], b.y1})
						led := false
						for k := range v.list {
							if e := &v.list[k]; e.attr["class"] == "d-lead" && e.name == "path" {
								xy := coords(t, e.attr["d"])
								if n := len(xy); n == 6 && math.Abs(xy[n-1]-(b.y1-4)) < 0.01 && b.x0-xy[n-2] > 0 && b.x0-xy[n-2] < 5 && math.Abs(xy[1]-end[1]) < 0.01 && xy[0] >= end[0]-9 && xy[0] <= v.right && xy[0] < xy[2] && xy[2] < xy[4] && xy[3] == xy[5] {
									led = true
								}
							}
						}
						if !led || b.x0 < v.right+10 || b.x0 > v.right+16 {
							t.Errorf("%s: no leader from the end of %s at %v to its name at %v, the plot ends at %.1f", v.where, name, end, b, v.right)
						}
					}
					slices.SortFunc(places, func(a, b place) int { return int(math.Copysign(1, a.text-b.text)) })
					for k := 1; k < len(places); k++ {
						if a, b := places[k-1], places[k]; a.end > b.end+0.01 || b.text-a.text < 14.99 {
							t.Errorf("%s: %s ends at %.1f and is named at %.1f, %s at %.1f and %.1f", v.where, a.name, a.end, a.text, b.name, b.end, b.text)
						}
					}
					for _, p := range places {
						if alone := slices.IndexFunc(places, func(q place) bool { return q.name != p.name && math.Abs(q.end-p.end) < 31 }) < 0; alone && math.Abs(p.text-4-p.end) > 12 {
							t.Errorf("%s: %s ends at %.1f and is named at %.1f", v.where, p.name, p.end, p.text)
						}
					}
				}
			}
		}
	}
	if named < 150 {
		t.Errorf("%d lines are named", named)
	}
}

// The outlines of a view: the stationary hub from the plane of its readings to the coupling and the movable one from there to its plane, as near to each other as a line is wide; each machine begins behind its hub;
// the movable one stands over its feet, they on the ground, the ground under them all; in the top view the feet are on both sides and no ground is drawn; the stationary machine goes on past a break line.
func TestOutlinesOfMachine(t *testing.T) {
	ev := allKinds(t, false)
	row := machineRows(ev)
	for name, planes := range map[string][4]float64{"feet": {110, 130, 480, 1190}, "many feet": {math.NaN(), math.NaN(), 480, 1190}, "two rims": {math.NaN(), 90, 480, 1190}, "spacer": {math.NaN(), math.NaN(), 480, 1190}, "flange": {math.NaN(), math.NaN(), math.NaN(), math.NaN()}, "universal": {math.NaN(), math.NaN(), 480, 1190}} {
		for _, w := range []float64{320, 480, 1000} {
			list := parse(t, Machine(nil, ev, row[name], Options{Width: w}))
			for _, v := range readViews(t, fmt.Sprintf("%s at %g", name, w), list) {
				half := 80.0
				if w >= 560 {
					half = 95
				}
				flex := map[string]float64{"spacer": 150, "universal": 350}[name]
				var rects [][4]float64
				var feet [][4]float64
				var movable, ground, stat, breaks []float64
				teeth, end := 0, 0.0 // of the line found
				for k := range v.list {
					e := &v.list[k]
					if e.inside["data-across"] == "" {
						continue
					}
					switch class := e.attr["class"]; {
					case class == "d-found":
						s := strokes(t, e)[0]
						if end = s[2]; math.Abs(s[0]-v.px(-flex)) > 0.01 { // from the coupling, or the stationary flex plane, on
							t.Errorf("%s: the line found begins at %.1f", v.where, s[0])
						}
					case class == "d-body" && e.name == "rect":
						if b := box(t, e); b[2]-b[0] == 16 && math.Abs(b[3]-b[1]-6) < 0.01 {
							feet = append(feet, b)
						} else {
							rects = append(rects, b)
						}
					case class == "d-body" && e.name == "path" && strings.HasSuffix(e.attr["d"], "Z"):
						movable = coords(t, e.attr["d"])
					case class == "d-body" && e.name == "path":
						stat = coords(t, e.attr["d"])
					case class == "d-lead" && e.name == "path" && strings.Count(e.attr["d"], "L") == 5:
						breaks = coords(t, e.attr["d"])
					case class == "d-ground" && e.name == "line":
						s := strokes(t, e)[0]
						ground = s[:]
					case class == "d-ground":
						ss := strokes(t, e)
						for n, s := range ss {
							if math.Abs(s[1]-ground[1]) > 0.01 || math.Abs(s[3]-s[1]-4) > 0.01 || math.Abs(s[0]-s[2]-4) > 0.01 || s[0] < ground[0] || s[0] > ground[2] || n > 0 && math.Abs(s[0]-ss[n-1][0]-8) > 0.01 || s[2] < ground[0]-0.01 {
								t.Errorf("%s: a tooth %v of the ground %v", v.where, s, ground)
							}
						}
						if teeth = len(ss); math.Abs(float64(teeth)*8-(ground[2]-ground[0])) > 9 {
							t.Errorf("%s: %d teeth on %v", v.where, teeth, ground)
						}
					}
				}
				top, bottom := v.y0-half, v.y0+half
				near := func(what string, got, want, tol float64) {
					t.Helper()
					if !(math.Abs(got-want) <= tol) {
						t.Errorf("%s: %s is at %.2f, not %.2f", v.where, what, got, want)
					}
				}
				if len(movable) != 8 || len(rects) < 1 {
					t.Fatalf("%s: hub %v, outlines %v", v.where, movable, rects)
				}
				slices.SortFunc(rects, func(a, b [4]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
				hub := rects[0]
				gap := 1.5
				if flex > 0 {
					gap = v.px(flex) - v.px(0)
				}
				near("the face of the stationary hub", hub[2], v.px(0)-gap, 0.01)
				near("the face of the movable hub", movable[0], v.px(0)+gap, 0.01)
				near("the height of a hub", hub[3]-hub[1], 40, 0.01)
				near("the height of a hub", movable[7]-movable[1], 40, 0.01)
				near("the height of a hub", movable[5]-movable[3], 40, 0.01)
				near("the middle of the stationary hub", (hub[1]+hub[3])/2, v.y0, 0.01)
				if !math.IsNaN(planes[0]) {
					near("the plane of the stationary hub", hub[0], v.px(-planes[0]), 0.01)
				}
				if !math.IsNaN(planes[1]) {
					near("the plane of the movable hub", movable[2], v.px(planes[1]), 0.01)
				}
				if hub[2]-hub[0] < 4 || movable[2]-movable[0] < 8-0.01 {
					t.Errorf("%s: hubs %v and %v", v.where, hub, movable)
				}
				// The stationary machine.
				if len(stat) != 8 || math.Abs(stat[2]-(hub[0]-4)) > 0.01 || stat[2] != stat[4] || stat[0] != stat[6] || stat[1] != stat[3] || stat[5] != stat[7] || math.Abs(stat[0]-12) > 0.01 ||
					stat[1] < top+4 || stat[1] > v.y0-40 || stat[5] > bottom || stat[5] < bottom-12 {
					if hub[0]-4-12 > 8 || len(stat) > 0 { // else there is no room for it
						t.Errorf("%s: the stationary machine is %v, hub %v, from %.1f to %.1f", v.where, stat, hub, top, bottom)
					}
				} else if len(breaks) != 12 || breaks[1] > stat[1] || breaks[1] < top || breaks[11] < stat[5] || breaks[11] > bottom || breaks[0] != stat[0] || breaks[10] != stat[0] || !(breaks[4] < stat[0] && breaks[6] > stat[0]) ||
					math.Abs((breaks[5]+breaks[7])/2-v.y0) > 0.01 || math.Abs((breaks[3]+breaks[9])/2-v.y0) > 0.01 || !slices.IsSorted([]float64{breaks[1], breaks[3], breaks[5], breaks[7], breaks[9], breaks[11]}) {
					t.Errorf("%s: the break line %v of %v", v.where, breaks, stat)
				}
				// The movable one.
				body := rects[len(rects)-1]
				if body[0] < movable[2] {
					t.Errorf("%s: the movable machine %v begins before its hub %v ends", v.where, body, movable)
				}
				near("the top of the movable machine", body[1], top+6, 0.01)
				near("the underside of the movable machine", body[3], bottom-6, 0.01)
				if math.IsNaN(planes[2]) {
					if len(feet) > 0 || ground != nil || math.Abs(body[0]-movable[2]-6) > 0.01 || math.Abs(body[2]-end+2) > 0.02 {
						t.Errorf("%s: feet %v, ground %v, the machine %v behind its hub %v, to %.1f", v.where, feet, ground, body, movable, v.right)
					}
					continue
				}
				near("the coupling end of the machine", body[0], max(movable[2]+6, v.px(planes[2])-16), 0.01)
				near("the free end of the machine", body[2], min(v.px(planes[3])+16, v.right-2), 0.01)
				for _, f := range feet {
					if !(math.Abs(f[3]-bottom) < 0.01 || v.name == "top" && math.Abs(f[1]-top) < 0.01) {
						t.Errorf("%s: a foot at %v, the view from %.1f to %.1f", v.where, f, top, bottom)
					}
				}
				if v.name == "top" {
					if ground != nil || teeth > 0 {
						t.Errorf("%s: a ground seen from above", v.where)
					}
					continue
				}
				if len(ground) != 4 || ground[1] != ground[3] || math.Abs(ground[1]-bottom) > 0.01 || math.Abs(ground[0]-(v.px(planes[2])-22)) > 0.01 || math.Abs(ground[2]-min(v.px(planes[3])+22, v.right)) > 0.01 || teeth == 0 {
					t.Errorf("%s: the ground is %v, feet from %.1f to %.1f", v.where, ground, v.px(planes[2]), v.px(planes[3]))
				}
			}
		}
	}
}

// The scales: along, the view is as long as the paper lets it be, to the next step of its ladder; across, what is drawn of the lines with their uncertainty, of the limits and of the wanted line stays in the view, and
// by the next of 1, 2, 5 it would not.
func TestScalesFillTheView(t *testing.T) {
	ev := allKinds(t, false)
	for i := range ev.Len() {
		r := ev.Row(i)
		if !r.HasLine() {
			continue
		}
		for _, w := range []float64{300, 559, 560, 2000} {
			list := parse(t, Machine(nil, ev, i, Options{Width: w}))
			all := said(list)
			half := 80.0
			if w >= 560 {
				half = 95
			}
			most := 0.0 // of half the view, over both views
			for _, v := range readViews(t, r.Name, list) {
				if l, room := v.right-12, w-76; l > room+10.01 || l < room/1.25-12 {
					t.Errorf("%s at %g: the view is %.1f long, there is room for %.1f", r.Name, w, l, room)
				}
				for k := range v.list {
					e := &v.list[k]
					if c := e.attr["class"]; e.inside["data-across"] == "" || c != "d-found" && c != "d-wanted" && c != "d-after" && c != "d-band" && c != "d-hatch" {
						continue
					}
					for _, s := range strokes(t, e) {
						for p := 0; p < 4; p += 2 {
							far := math.Abs(s[p+1]-v.y0) / half
							if s[p] <= v.px(0)+0.01 && e.attr["class"] != "d-hatch" && e.attr["class"] != "d-wanted" && e.attr["class"] != "d-after" { // the hub stands about it
								far = math.Abs(s[p+1]-v.y0) / (half - 22)
							}
							most = max(most, far)
						}
					}
				}
			}
			_, after, _ := strings.Cut(all, "across × ")
			capped := strings.HasPrefix(after, "1000 ")
			if most > 1.0001 || most < 0.399 && !capped {
				t.Errorf("%s at %g: what is drawn takes %.3f of the view, × %s", r.Name, w, most, strings.Fields(after)[0])
			}
			// The next step of the ladder would not do: 1 → 2, 2 → 5, 5 → 10.
			next := 2.0
			if after[0] == '2' {
				next = 2.5
			}
			if most*next < 0.999 && !capped {
				t.Errorf("%s at %g: × %s fills %.3f of the view, the next step would do", r.Name, w, strings.Fields(after)[0], most)
			}
		}
	}
}

// Words below a view stand under their feet: a leader from just below the foot to just above its words, which are about one middle, line under line; where there is no room a number stands there, and the list says
// the same words behind that number.
func TestWordsUnderTheirFeet(t *testing.T) {
	ev := allKinds(t, false)
	row := machineRows(ev)
	beside, listed := 0, 0
	for _, name := range []string{"feet", "spacer", "universal", "rounds", "many feet", "stays", "heights only", "growth", "right"} {
		wide := map[string][]string{}
		for _, w := range []float64{1400, 1000, 480, 300} {
			list := parse(t, Machine(nil, ev, row[name], Options{Width: w}))
			for _, v := range readViews(t, fmt.Sprintf("%s at %g", name, w), list) {
				half := 80.0
				if w >= 560 {
					half = 95
				}
				bottom := v.y0 + half
				var feet []float64
				for k := range v.list {
					if e := &v.list[k]; e.name == "rect" && e.attr["class"] == "d-body" && e.num(t, "width") == 16 && math.Abs(e.num(t, "y")+6-bottom) < 0.01 {
						feet = append(feet, e.num(t, "x")+8)
					}
				}
				var leads [][]float64
				for k := range v.list {
					if e := &v.list[k]; e.name == "path" && e.attr["class"] == "d-lead" && e.inside["data-across"] == "" || e.name == "path" && e.attr["class"] == "d-lead" {
						if xy := coords(t, e.attr["d"]); len(xy) == 6 && xy[1] > bottom {
							leads = append(leads, xy)
						}
					}
				}
				if len(leads) > 0 {
					beside++
					if len(leads) != len(feet) {
						t.Fatalf("%s: %d leaders for feet at %v", v.where, len(leads), feet)
					}
					var said []string
					for k, l := range leads {
						var lines []textBox
						for _, b := range v.texts {
							if b.y0 > bottom && math.Abs((b.x0+b.x1)/2-l[4]) < 0.01 {
								lines = append(lines, b)
							}
						}
						if math.Abs(l[0]-feet[k]) > 0.01 || l[2] != l[0] || math.Abs(l[1]-bottom) > 2 || !(l[1] < l[3] && l[3] < l[5]) || len(lines) == 0 || lines[0].y0-l[5] < 1 || lines[0].y0-l[5] > 8 {
							t.Fatalf("%s: the leader %v from the foot at %.1f, %.1f to %v", v.where, l, feet[k], bottom, lines)
						}
						words := ""
						for n, b := range lines {
							if n > 0 && math.Abs(b.y1-lines[n-1].y1-15) > 0.01 {
								t.Errorf("%s: lines at %.1f and %.1f", v.where, lines[n-1].y1, b.y1)
							}
							switch {
							case n == 1:
								words += ": "
							case n > 1:
								words += ", "
							}
							words += b.text
						}
						said = append(said, words)
						if strings.Contains(words, "…") {
							said[k] = ""
						}
					}
					if wide[v.name] == nil {
						wide[v.name] = said
					}
					for k := range said {
						if said[k] != "" && wide[v.name][k] != "" && said[k] != wide[v.name][k] {
							t.Errorf("%s: %q, wider %q", v.where, said[k], wide[v.name][k])
						}
					}
					continue
				}
				listed++
				all, last := strings.Join(strings.Fields(wordsOf(v.list)), " "), math.Inf(-1)
				for k, x := range feet {
					num := fmt.Sprint(k + 1)
					if wide[v.name] != nil && wide[v.name][k] != "" && !strings.Contains(all, num+" "+wide[v.name][k]) {
						t.Errorf("%s: %q is not listed behind %s in %s", v.where, wide[v.name][k], num, all)
					}
					b, ok := v.word(num)
					if room := x-last > 22; ok && (math.Abs((b.x0+b.x1)/2-x) > 0.01 || b.y0-bottom < 1 || b.y0-bottom > 9) || !ok && room {
						t.Errorf("%s: the number of the foot at %.1f is %v: %v", v.where, x, ok, b)
					}
					if ok {
						last = x
					}
				}
			}
		}
	}
	if beside < 20 || listed < 4 {
		t.Errorf("%d views with words at the feet, %d with a list", beside, listed)
	}
}

// What a drawing of a machine lacks is said, and nothing else.
func TestWhatIsNotDrawn(t *testing.T) {
	const head = "Machine,Coupling,Method,Speed,Offset limit,Slope limit,Spacer length,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	const noLine, noWanted, noWork, noFeet, noSpool, why = "the shaft of the movable machine, for there is no line", "the wanted line, for it is not known", "what to do at the feet, for there are no corrections", "the feet, for their distances are not known",
		"the spool, for its length is not known", "Not judged: "
	for _, c := range []struct {
		what, row string
		growth    string
		said      []string
	}{
		{"all", "P,short,line,1480,,,,480,710,0.3,-0.1,0.4,0.2", "", nil},
		{"no line", "P,short,reverse indicator,1480,,,,480,710,,,,", "", []string{noLine, noWork, why}},
		{"no line, no feet", "P,short,reverse indicator,1480,,,,,,,,,", "", []string{noLine, noFeet, why}},
		{"no feet", "P,short,line,1480,,,,,,0.3,-0.1,0.4,0.2", "", []string{noFeet}},
		{"no spool", "P,spacer,line,1480,,,,480,710,0.3,-0.1,0.4,0.2", "", []string{noSpool, why}},
		{"spool", "P,spacer,line,1480,,,300,480,710,0.3,-0.1,0.4,0.2", "", nil},
		{"no limit", "P,short,line,,,,,480,710,0.3,-0.1,0.4,0.2", "", []string{why}},
		{"no wanted line", "P,short,line,1480,,,,480,710,0.3,-0.1,0.4,0.2", "Machine,Support,Part,Height,Coefficient,Cold,Running\nP,movable front,frame,200,12,20,\n", []string{noWanted, noWork, why}},
	} {
		lists := map[job.SheetKind]string{job.MachinesSheet: head + c.row + "\n"}
		if c.growth != "" {
			lists[job.GrowthSheet] = c.growth
		}
		ev := jobWith(t, lists)
		ev.Count()
		all := said(parse(t, Machine(nil, ev, 0, Options{Width: 1000})))
		for _, s := range []string{noLine, noWanted, noWork, noFeet, noSpool, why} {
			if has := strings.Contains(all, s); has != slices.Contains(c.said, s) {
				t.Errorf("%s: %q is said: %v, in %s", c.what, s, has, all)
			}
		}
		if r := ev.Row(0); slices.Contains(c.said, why) {
			if reason := string(ev.AppendWhy(nil, r)); reason == "" || !strings.Contains(all, why+reason) {
				t.Errorf("%s: not %q in %s", c.what, reason, all)
			}
		}
	}
}

// Whichever way the wanted line leans, the limits at both flex planes of a spacer coupling stay in the view, and so do those at the coupling of a short one.
func TestLimitsStayInView(t *testing.T) {
	const head = "Machine,Coupling,Method,Offset limit,Slope limit,Spacer length,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H,Running offset V,Running offset H,Running slope V,Running slope H\n"
	seen := 0
	for _, kind := range []string{"spacer,line,,0.9,900", "spacer,line,,0.2,2500", "short,line,0.4,0.9,"} {
		for _, lean := range []string{"0.3,-0.3,-0.6,0.6", "0.3,-0.3,0.6,-0.6", "-0.5,0.5,0.2,-0.2", "0,0,2,-2", "0.4,0,0,0.9"} {
			ev := jobOf(t, head+"P,"+kind+",1300,300,0,0,0,0,"+lean+"\n", false)
			ev.Count()
			for _, w := range []float64{320, 900} {
				half := 80.0
				if w >= 560 {
					half = 95
				}
				for _, v := range readViews(t, kind+" "+lean, parse(t, Machine(nil, ev, 0, Options{Width: w}))) {
					for i := range v.list {
						e := &v.list[i]
						if e.attr["class"] != "d-hatch" || e.inside["data-across"] == "" {
							continue
						}
						seen++
						if b := box(t, e); b[1] < v.y0-half-0.02 || b[3] > v.y0+half+0.02 {
							t.Errorf("%s at %g: a limit from %.1f to %.1f in a view from %.1f to %.1f", v.where, w, b[1], b[3], v.y0-half, v.y0+half)
						}
					}
				}
			}
		}
	}
	if seen < 60 {
		t.Errorf("%d limits", seen)
	}
}

// Where nothing stands off, the scale across is the hundredfold: there is nothing to see larger.
func TestScaleOfNothing(t *testing.T) {
	ev := jobOf(t, "Train,Machine,Stationary,Coupling,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\nT,right,motor,short,line,1480,300,500,0,0,0,0\n,alone,,short,,,300,500,,,,\n", false)
	ev.Count()
	if len(ev.Trains()) != 1 {
		t.Fatal("no train")
	}
	for name, svg := range map[string][]byte{"train": Train(nil, ev, 0, -1, Options{}), "machine without a line": Machine(nil, ev, 1, Options{})} {
		if all := said(parse(t, svg)); !strings.Contains(all, "across × 100") || strings.Contains(all, "across × 1000") {
			t.Errorf("%s: %s", name, all)
		}
	}
}

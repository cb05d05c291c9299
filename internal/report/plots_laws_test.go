package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/tally"
)

// A plot of a sweep keeps its frame: hours a quarter apart with a line each through readings and residuals, lengths at even steps of 1, 2 or 5 with a line each, no more than a dozen and no fewer than three, all of the readings and
// of the curve between the first and the last; residuals are as far from their axis as their dots are from the curve, times what is said, and stay in their strip; a reading is marked as read where the sag makes a
// difference to be seen. What is said of the largest is so.
func TestSweepPlotFrame(t *testing.T) {
	plots := 0
	m := knownMachines[0]
	angles := []float64{0, 45, 90, 135, 180, 225, 270, 315, 360}
	head := "Machine,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable sag at 6,Movable sweep,Stationary sweep\n"
	for _, c := range []struct {
		sag, off float64
		at       float64
		scale    float64
	}{{0, 0, -1, 1}, {-0.06, 0.02, 225, 1}, {-0.004, 0.02, 90, 1}, {0, 0.002, 135, 1}, {-0.06, 0.3, 45, 1}, {0, 0.003, 0, 0.01}, {-0.5, 0.02, 270, 1}, {0, 0.01, 180, 20}} {
		k := knownMachine{m.dv * c.scale, m.dh * c.scale, m.tv * c.scale, m.th * c.scale}
		sagged := func(deg float64) float64 { return c.sag / 2 * (1 - math.Cos(deg*math.Pi/180)) }
		ev := jobOf(t, head+fmt.Sprintf("P,reverse indicator,1480,%g,%g,%g,%g,%g,%s,%s\n", toStat, toMov, toFront, frontToRear, c.sag, sweepText(angles, func(d float64) float64 { return k.rim(d) + sagged(d) }, -1, 0), sweepText(angles, k.back, c.at, c.off)), false)
		for _, w := range []float64{300, 900} {
			list := parse(t, Sweeps(nil, ev, 0, Options{Width: w}))
			checkLayout(t, fmt.Sprint(c), list, 26)
			for n := range 2 {
				where := fmt.Sprintf("%+v, sweep %d at %g", c, n, w)
				p := readPlot(t, list, n)
				plots++
				var across, up, axes [][4]float64
				var ticks, hours []textBox
				var residual textBox
				for i := range list {
					e := &list[i]
					if e.inside["data-sweep"] != strconv.Itoa(n) {
						continue
					}
					switch {
					case e.name == "line" && e.attr["class"] == "d-grid" && e.attr["y1"] == e.attr["y2"]:
						across = append(across, strokes(t, e)[0])
					case e.name == "line" && e.attr["class"] == "d-grid":
						up = append(up, strokes(t, e)[0])
					case e.name == "line" && e.attr["class"] == "d-axis":
						axes = append(axes, strokes(t, e)[0])
					case e.name == "text" && e.text == "residual":
						residual = boxes(t, list[i:i+1])[0]
					case e.name == "text" && e.attr["text-anchor"] == "middle":
						hours = append(hours, boxes(t, list[i:i+1])[0])
					case e.name == "text":
						if e.attr["text-anchor"] != "end" {
							t.Errorf("%s: %q does not end before its line", where, e.text)
						}
						ticks = append(ticks, boxes(t, list[i:i+1])[0])
					}
				}
				if len(across) != len(ticks) || len(across) < 3 || len(across) > 12 || len(up) != 5 || len(axes) != 2 {
					t.Fatalf("%s: %d lines across for %d lengths, %d up, axes %v", where, len(across), len(ticks), len(up), axes)
				}
				low, high := across[0][1], across[len(across)-1][1]
				if math.Abs(low-high-120) > 0.01 {
					t.Errorf("%s: the plot goes from %.1f to %.1f", where, low, high)
				}
				for i, l := range across {
					if l[0] != 62 || l[2] != w-24 || math.Abs(ticks[i].y1-l[1]-4) > 0.01 || math.Abs(ticks[i].x1-56) > 0.01 || i > 0 && math.Abs(across[i-1][1]-l[1]-120/float64(len(across)-1)) > 0.01 {
						t.Errorf("%s: %q at %v, its line %v", where, ticks[i].text, ticks[i], l)
					}
				}
				step := p.mm(across[1][1]) - p.mm(across[0][1])
				if s := math.Pow(10, math.Floor(math.Log10(step)+1e-6)); math.Abs(step/s-1) > 0.01 && math.Abs(step/s-2) > 0.01 && math.Abs(step/s-5) > 0.01 {
					t.Errorf("%s: lengths are %g apart", where, step)
				}
				// All in it, and no step more than that takes.
				least, most := math.Inf(1), math.Inf(-1)
				for i := 1; i < len(p.curve); i += 2 {
					least, most = min(least, p.curve[i]), max(most, p.curve[i])
				}
				for _, d := range p.dots {
					least, most = min(least, d[1]), max(most, d[1])
				}
				for i := 0; i+1 < len(p.raw); i += 2 {
					least, most = min(least, p.raw[i][1]), max(most, p.raw[i][1])
				}
				if each := 120 / float64(len(across)-1); least < high-0.01 || most > low+0.01 || least > high+each+0.01 && c.scale == 1 && c.off < 0.1 || most < low-each-0.01 && c.scale == 1 && c.off < 0.1 {
					t.Errorf("%s: readings from %.1f to %.1f in a plot from %.1f to %.1f", where, least, most, high, low)
				}
				// Frame and strip of the residuals.
				zero := axes[1][1]
				if axes[0] != [4]float64{62, high, 62, low} || axes[1][0] != 62 || axes[1][2] != w-24 || axes[1][3] != zero || zero-low < 20 || zero-low > 45 || math.Abs(residual.x1-56) > 0.01 || math.Abs(residual.y1-zero-4) > 0.01 {
					t.Errorf("%s: axes %v under %.1f, the word at %v", where, axes, low, residual)
				}
				for i, l := range up {
					if l[0] != l[2] || l[1] != high || math.Abs(l[3]-zero-17) > 0.01 || math.Abs((hours[i].x0+hours[i].x1)/2-l[0]) > 0.01 || hours[i].y0-l[3] < 1 || hours[i].y0-l[3] > 10 {
						t.Errorf("%s: the line of %q goes from %v, the word is at %v", where, hours[i].text, l, hours[i])
					}
				}
				// Residuals against dots and curve.
				times, largest := 0.0, 0.0
				texts := said(list[:])
				for _, part := range strings.Split(texts, "largest residual ")[1:] {
					f := strings.Fields(part)
					v, _ := strconv.ParseFloat(f[0], 64)
					_, after, _ := strings.Cut(part, "drawn × ")
					x, _ := strconv.ParseFloat(strings.Fields(after)[0], 64)
					if times == 0 || n == 1 {
						times, largest = x, v
					}
				}
				curve := func(x float64) float64 {
					i := int(math.Round((x - 62) / (w - 86) * 72))
					return p.curve[2*i+1]
				}
				for _, r := range p.res {
					k := slices.IndexFunc(p.dots, func(d [4]float64) bool { return math.Abs(d[0]-r[0]) < 0.01 })
					if k < 0 { // the open square
						continue
					}
					if want := (p.dots[k][1] - curve(r[0])) * times; r[0] != r[2] || math.Abs(r[1]-zero) > 0.01 || math.Abs(r[3]-r[1]-want) > 0.02*times+0.01 || math.Abs(r[3]-r[1]) > 15.01 || math.Abs(r[3]-r[1]) < 0.29 {
						t.Errorf("%s: a residual %v, the dot is %.3f px off the curve, × %g", where, r, p.dots[k][1]-curve(r[0]), times)
					}
				}
				if n == 1 && len(p.res) > 0 {
					long := 0.0
					for _, r := range p.res {
						long = max(long, math.Abs(r[3]-r[1]))
					}
					unit := (low - high) / (p.mm(high) - p.mm(low))
					if long < 15/2.5-0.02 || math.Abs(long/times/unit-largest) > 0.0006+0.002*largest {
						t.Errorf("%s: the longest residual is %.2f px long, %.4f mm; said is %.4f", where, long, long/times/unit, largest)
					}
				}
				// Crosses: where what was read can be told from what is drawn.
				crosses := map[float64][][4]float64{}
				for _, l := range p.raw {
					crosses[math.Round((l[0]+l[2])/2*100)] = append(crosses[math.Round((l[0]+l[2])/2*100)], l)
				}
				for i, a := range angles {
					x := 62 + (w-86)*a/360
					l := crosses[math.Round(x*100)]
					sagPx := 0.0
					if n == 0 {
						sagPx = math.Abs(sagged(a)) * (low - high) / (p.mm(high) - p.mm(low))
					}
					if (len(l) == 2) != (sagPx > 1.5) {
						t.Errorf("%s: reading %d is %.2f px from where it is drawn: %v", where, i, sagPx, l)
					} else if len(l) == 2 && (math.Abs(l[0][2]-l[0][0]-8) > 0.01 || l[0][1] != l[0][3] || math.Abs(l[1][3]-l[1][1]-8) > 0.01 || math.Abs((l[1][1]+l[1][3])/2-l[0][1]) > 0.01) {
						t.Errorf("%s: a cross %v", where, l)
					}
				}
			}
		}
	}
	if plots != 32 {
		t.Errorf("%d plots", plots)
	}
}

// What a row's readings hint at stands below their plots, and in their description.
func TestHintsBelowSweeps(t *testing.T) {
	ev := demo(t)
	hints := 0
	for i := range ev.Len() {
		list := parse(t, Sweeps(nil, ev, i, Options{Width: 900}))
		var m evaluate.Measured
		if ev.Measured(i, &m); len(m.Input.Sweeps) == 0 {
			continue
		}
		for _, h := range ev.Row(i).Hints {
			hints++
			if one := strings.Join(strings.Fields(h.String()), " "); !strings.Contains(said(list), one) || !strings.Contains(list[2].text, h.String()+". ") {
				t.Errorf("%s: %q is not below the readings, or not in %q", ev.Row(i).Name, h, list[2].text)
			}
		}
		for k := range m.Input.Sweeps {
			if s := fmt.Sprintf("%d readings, ", len(m.Input.Sweeps[k].Reading)); !strings.Contains(list[2].text, s) {
				t.Errorf("%s: %q is not in %q", ev.Row(i).Name, s, list[2].text)
			}
		}
	}
	if hints == 0 {
		t.Error("no hints in the demo")
	}
}

// Angles of any size come onto the clock: the same place, 360 for a repeated 12; and are called by the clock where it has a name for them.
func TestTurnsOfTheClock(t *testing.T) {
	for deg := -1080.0; deg <= 1080; deg += 7.5 {
		got := turn(deg)
		want := math.Mod(math.Mod(deg, 360)+360, 360)
		if deg == 360 {
			want = 360
		}
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%g° becomes %g", deg, got)
		}
	}
	d := &coupling{pen: newPen(Options{}), ev: jobOf(t, oneMachine, false)}
	for deg, want := range map[float64]string{0: "12", 90: "3", 180: "6", 270: "9", 360: "12 again", 45: "45°", 91.25: "91.3°", 359.96: "360°", 89.94: "89.9°"} {
		if got := d.clockName(deg); got != want {
			t.Errorf("%g is called %q, not %q", deg, got, want)
		}
	}
}

// What is said where there are no readings to draw.
func TestNoReadingsSay(t *testing.T) {
	for row, want := range map[string]string{"P,short,line,1480,0.1,0.1,0.1,0.1": "No readings to draw: the line is given.", "P,short,,1480,,,,": "No readings to draw: "} {
		ev := jobOf(t, "Machine,Coupling,Method,Speed,Given offset V,Given offset H,Given slope V,Given slope H\n"+row+"\n", false)
		ev.Count()
		list := parse(t, Sweeps(nil, ev, 0, Options{Width: 900}))
		why := string(ev.AppendWhy(nil, ev.Row(0)))
		if want == "No readings to draw: " {
			if want += why; why == "" {
				want += "there are none."
			}
		}
		if list[2].text != want || !strings.Contains(said(list), strings.Join(strings.Fields(want), " ")) {
			t.Errorf("%s: %q, %s", row, list[2].text, said(list))
		}
	}
}

// A plot of rounds keeps its frame: what is furthest from the wanted line reaches its edge; steps of 1, 2 or 5 with their number before their line, the wanted line at 0; marks of front and rear about the middle of their round,
// whose name stands below; where there are many, names that have room.
func TestRoundsFrame(t *testing.T) {
	for _, n := range []int{2, 3, 9, 14} {
		text := "Machine,Coupling,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet\nP,short,reverse indicator,1480,110,130,480,710\n"
		rounds := "Machine,Round,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"
		for k := range n {
			m := knownMachine{0.3 / float64(k+1), -0.12 / float64(k+1), 0.4 / float64(k+1), 0.2 / float64(k+2)}
			name := strconv.Itoa(k)
			if k == 0 {
				name = "found"
			}
			rounds += fmt.Sprintf("P,%s,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", name, m.rim(0), m.rim(90), m.rim(180), m.rim(270), m.back(0), m.back(90), m.back(180), m.back(270))
		}
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: text, job.RoundsSheet: rounds})
		ev.Count()
		for _, w := range []float64{300, 420, 1000} {
			list := parse(t, Rounds(nil, ev, 0, Options{Width: w}))
			where := fmt.Sprintf("%d rounds at %g", n, w)
			checkLayout(t, where, list, 22)
			told := ev.RoundsWords(0)
			for _, words := range told { // below the plots, and in the description
				if words = strings.Join(strings.Fields(words), " "); !strings.Contains(said(list), words) || !strings.Contains(list[2].text, words) {
					t.Errorf("%s: no %q in %s", where, words, said(list))
				}
			}
			if len(told) == 0 {
				t.Errorf("%s: nothing is told", where)
			}
			room := (w - 56 - 12) / float64(n)
			var lows []float64
			for _, plane := range []string{"V", "H"} {
				var lines, axis [][4]float64
				var numbers []textBox
				var dots, diamonds [][2]float64
				wanted, far, mid := 0, 0.0, 0.0
				for i := range list {
					e := &list[i]
					if e.inside["data-plane"] != plane {
						continue
					}
					mid = number(t, e, "data-mid")
					for _, s := range strokes(t, e) {
						if c := e.attr["class"]; c != "d-axis" && c != "d-grid" && c != "d-wanted" && c != "d-slope" && c != "d-mark" {
							far = max(far, math.Abs(s[1]-mid), math.Abs(s[3]-mid))
						}
					}
					switch class := e.attr["class"]; {
					case class == "d-axis":
						axis = append(axis, strokes(t, e)[0])
					case class == "d-wanted", class == "d-grid":
						if lines = append(lines, strokes(t, e)[0]); class == "d-wanted" {
							wanted++
							if e.num(t, "y1") != mid {
								t.Errorf("%s, %s: the wanted line is at %v, the middle at %g", where, plane, lines, mid)
							}
						}
					case e.name == "text":
						numbers = append(numbers, boxes(t, list[i:i+1])[0])
					case class == "d-mark":
						dots = append(dots, [2]float64{e.num(t, "cx"), e.num(t, "cy")})
						far = max(far, math.Abs(e.num(t, "cy")-mid))
					case class == "d-slope":
						xy := coords(t, e.attr["d"])
						if math.Abs(xy[0]-xy[4])+math.Abs(xy[3]-xy[7]) > 0.01 || math.Abs(xy[5]-xy[1]-10) > 0.01 || math.Abs(xy[2]-xy[6]-10) > 0.01 || math.Abs(xy[0]-(xy[2]+xy[6])/2) > 0.01 || math.Abs(xy[3]-(xy[1]+xy[5])/2) > 0.01 {
							t.Errorf("%s: a diamond %v", where, xy)
						}
						diamonds = append(diamonds, [2]float64{xy[0], xy[3]})
						far = max(far, math.Abs(xy[3]-mid))
					}
				}
				if wanted != 1 || len(axis) != 1 || len(lines) != len(numbers) || len(lines) < 3 || len(lines) > 9 || len(dots) != n || len(diamonds) != n {
					t.Fatalf("%s, %s: %d wanted lines, axes %v, %d lines, %d numbers, %d and %d marks", where, plane, wanted, axis, len(lines), len(numbers), len(dots), len(diamonds))
				}
				if math.Abs(far-54) > 0.02 {
					t.Errorf("%s, %s: what is furthest is %.2f px from the middle, the edge 60", where, plane, far)
				}
				low, high := lines[0][1], lines[0][1]
				for i, l := range lines {
					low, high = max(low, l[1]), min(high, l[1])
					if l[0] != 56 || l[2] != w-12 || l[1] != l[3] || math.Abs(numbers[i].y1-l[1]-4) > 0.01 || math.Abs(numbers[i].x1-51) > 0.01 {
						t.Errorf("%s, %s: the line %v of %v", where, plane, l, numbers[i])
					}
				}
				step := (low - high) / float64(len(lines)-1)
				if low > mid+54*1.021 || high < mid-54*1.021 || low+step < mid+54*1.019 && high-step > mid-54*1.019 && len(lines) < 9 { // another would have had its place
					t.Errorf("%s, %s: lines from %.2f to %.2f about %.2f, %.2f apart", where, plane, high, low, mid, step)
				}
				if a := axis[0]; a[0] != 56 || a[2] != 56 || math.Abs(a[1]-mid+60) > 0.01 || math.Abs(a[3]-mid-60) > 0.01 {
					t.Errorf("%s, %s: the axis %v about %g", where, plane, a, mid)
				}
				lows = append(lows, mid+60)
				for k := range n {
					at := 56 + (float64(k)+0.5)*room
					if math.Abs((dots[k][0]+diamonds[k][0])/2-at) > 0.01 || math.Abs(diamonds[k][0]-dots[k][0]-2*min(7, room/5)) > 0.01 {
						t.Errorf("%s, %s: marks of round %d at %.1f and %.1f, its middle %.1f", where, plane, k, dots[k][0], diamonds[k][0], at)
					}
				}
			}
			every := 1
			for room*float64(every) < 44 {
				every++
			}
			for _, low := range lows {
				named := 0
				for i := range list {
					e := &list[i]
					if e.name != "text" || e.attr["text-anchor"] != "middle" || e.num(t, "y") < low || e.num(t, "y") > low+20 {
						continue
					}
					k := int((e.num(t, "x") - 56) / room)
					name := strconv.Itoa(k)
					if k == 0 {
						name = "found"
					}
					named++
					if !strings.HasSuffix(strings.TrimPrefix(e.text, "round "), name) || math.Abs(e.num(t, "x")-56-(float64(k)+0.5)*room) > 0.01 || k%every != 0 {
						t.Errorf("%s: %q stands at %g", where, e.text, e.num(t, "x"))
					}
				}
				if named != (n+every-1)/every {
					t.Errorf("%s: %d rounds are named", where, named)
				}
			}
		}
	}
}

// The plots of numbers keep their frame: a row every 22 px with its name on the left and its words on the right, lines over all rows with the number above, and a heading over each plot; a mean from five feet on. Seen: on a
// narrow screen an axis had a number at nought alone.
func TestNumbersFrame(t *testing.T) {
	one := &tally.Job{Name: "spring", First: tally.Share{N: 7, Of: 9}, Attempts: []tally.Attempts{{By: "crew", Name: "north", First: tally.Share{N: 5, Of: 5}}, {By: "crew", Name: "south", First: tally.Share{N: 1, Of: 4}}}}
	for _, v := range []float64{-0.08, 0.05, 0.01, 0.09} {
		one.Moves = append(one.Moves, tally.Move{Base: "steel", V: v, H: v / 2})
	}
	spread := func(n int, k float64) tally.Spread {
		var list []float64
		for i := range n {
			list = append(list, k*[]float64{-0.08, 0.05, 0.01, 0.09, 0.02}[i])
		}
		return tally.SpreadOf(list)
	}
	ev := jobOf(t, oneMachine, false)
	for _, n := range []int{4, 5} {
		one.Misses = []tally.Misses{{By: "all", V: spread(n, 1), H: spread(n, 0.5)}}
		one.Repeats = []tally.Repeat{{By: "crew", Name: "north", Repeats: 6, FromRepeats: 0.012, Balances: 8, FromBalance: 0.021}}
		for _, w := range []float64{300, 420, 900} {
			where := fmt.Sprintf("%d feet at %g", n, w)
			list := parse(t, Numbers(nil, ev, []*tally.Job{one}, Options{Width: w}))
			checkLayout(t, where, list, 28)
			if list[1].text != "Numbers of the shutdown" {
				t.Errorf("%s: %q", where, list[1].text)
			}
			var heads []float64
			var rows []textBox
			means := 0
			tops := map[float64][][4]float64{}
			for i := range list {
				e := &list[i]
				switch {
				case e.name == "text" && e.attr["class"] == "d-head" && e.attr["font-size"] == "12" && e.attr["x"] == "10" && (strings.HasPrefix(e.text, "Machines inside") || strings.HasPrefix(e.text, "How ")):
					heads = append(heads, e.num(t, "y"))
				case e.name == "text" && e.attr["class"] == "d-text":
					rows = append(rows, boxes(t, list[i:i+1])[0])
					if e.attr["x"] != "10" {
						t.Errorf("%s: %q at %s", where, e.text, e.attr["x"])
					}
				case e.name == "text" && e.attr["class"] == "d-num" && math.Abs(e.num(t, "x")-(w-14-96+10)) > 0.01:
					t.Errorf("%s: %q at %s", where, e.text, e.attr["x"])
				case e.name == "line" && e.inside["data-view"] == "" && (e.attr["class"] == "d-grid" || e.attr["class"] == "d-axis"):
					s := strokes(t, e)[0]
					tops[s[1]] = append(tops[s[1]], s)
				case e.name == "line" && e.inside["data-view"] == "" && (e.attr["class"] == "d-found" || e.attr["class"] == "d-odd"):
					if means++; math.Abs(e.num(t, "y2")-e.num(t, "y1")-20) > 0.01 {
						t.Errorf("%s: a mean from %s to %s", where, e.attr["y1"], e.attr["y2"])
					}
				}
			}
			if len(heads) != 3 || len(rows) != 5 || len(tops) != 3 || means != 2*(n/5) {
				t.Fatalf("%s: headings %v, rows %v, axes %d, %d means", where, heads, rows, len(tops), means)
			}
			for top, lines := range tops {
				first, last := math.Inf(1), 0.0
				for _, r := range rows {
					if r.y1 > top && r.y1 < lines[0][3] {
						first, last = min(first, r.y1-4), max(last, r.y1-4)
					}
				}
				axes := 0
				for _, l := range lines {
					if math.Abs(first-top-13) > 0.01 || math.Abs(l[3]-last-11) > 0.01 || l[0] != l[2] || l[0] < 20+min(w*0.34, 300)-0.01 || l[0] > w-110+0.01 {
						t.Errorf("%s: a line %v of rows from %.1f to %.1f", where, l, first, last)
					}
				}
				named := 0
				for i := range list {
					if e := &list[i]; e.name == "text" && e.attr["text-anchor"] == "middle" && math.Abs(e.num(t, "y")-top+4) < 0.01 {
						named++
						if !slices.ContainsFunc(lines, func(l [4]float64) bool { return math.Abs(l[0]-e.num(t, "x")) < 0.01 }) {
							t.Errorf("%s: %q stands over no line", where, e.text)
						}
					}
				}
				for i := range list {
					if e := &list[i]; e.name == "line" && e.attr["class"] == "d-axis" && e.num(t, "y1") == top {
						axes++
					}
				}
				if named < 2 || axes != 1 || len(lines) < 3 || len(lines) > 11 || w == 900 && named != len(lines) {
					t.Errorf("%s: %d numbers over %d lines, %d at nought", where, named, len(lines), axes)
				}
			}
			for k := 1; k < len(rows); k++ {
				if d := rows[k].y1 - rows[k-1].y1; d < 60 && math.Abs(d-22) > 0.01 {
					t.Errorf("%s: rows %.1f apart", where, d)
				}
			}
			if w == 900 {
				for _, s := range []string{"Machines inside at the first attempt:", "all: 7 of 9.", "north: 5 of 5.", "south: 1 of 4.", fmt.Sprintf("all: %d feet.", n), "north: 6 and 8."} {
					if !strings.Contains(list[2].text, s) {
						t.Errorf("%s: %q is not told in %s", where, s, list[2].text)
					}
				}
			}
		}
	}
	if list := parse(t, Numbers(nil, ev, []*tally.Job{one, one, one}, Options{})); list[1].text != "Numbers of 3 shutdowns" {
		t.Errorf("%q", list[1].text)
	}
}

// A train keeps its frame: each machine's name about the middle of its shaft, as far as the paper lets it, and says which stays; its outline about its feet and the datum, legs down to the ground, which the side view alone has;
// lines that stand off too far end at the view's edge; the scales fill the paper; the words name every machine and every pair.
func TestTrainFrame(t *testing.T) {
	ev := allKinds(t, false)
	for k := range ev.Trains() {
		plan := &ev.Trains()[k]
		for _, w := range []float64{300, 559, 560, 1000} {
			where := fmt.Sprintf("train %d at %g", k, w)
			list := parse(t, Train(nil, ev, k, -1, Options{Width: w}))
			half := 62.0
			if w >= 560 {
				half = 78
			}
			all := said(list)
			_, s, _ := strings.Cut(all, "along 1 : ")
			den, err := strconv.ParseFloat(strings.TrimRight(strings.Fields(s)[0], ","), 64)
			if err != nil {
				t.Fatal(all)
			}
			along := 96 / 25.4 / den
			low, high := math.Inf(1), math.Inf(-1)
			for i := range plan.Machines {
				low, high = min(low, plan.Machines[i].From), max(high, plan.Machines[i].To)
			}
			over := 0.06 * (high - low)
			px := func(mm float64) float64 { return 16 + (mm-low+over)*along }
			if l := px(high+over) - 16; l > w-32+0.01 || l < (w-32)/1.25 {
				t.Errorf("%s: it is %.1f long", where, l)
			}
			most := 0.0
			for _, view := range []string{"side", "top"} {
				var texts []textBox
				var bodies [][4]float64
				var legs [][]float64
				var datum, ground [4]float64
				numbers := 0
				for i := range list {
					e := &list[i]
					if e.inside["data-view"] != view {
						continue
					}
					switch class := e.attr["class"]; {
					case e.name == "text":
						texts = append(texts, boxes(t, list[i:i+1])[0])
						if class == "d-num" {
							numbers++
						}
					case class == "d-datum":
						datum = strokes(t, e)[0]
					case class == "d-ground":
						ground = strokes(t, e)[0]
					case class == "d-body" && e.name == "rect":
						bodies = append(bodies, box(t, e))
					case class == "d-body":
						legs = append(legs, coords(t, e.attr["d"]))
					}
				}
				y0 := datum[1]
				if math.Abs(datum[0]-16) > 0.01 || math.Abs(datum[2]-px(high+over)) > 0.01 || datum[3] != y0 {
					t.Errorf("%s, %s: the datum %v", where, view, datum)
				}
				if (ground != [4]float64{}) != (view == "side") || view == "side" && (ground[0] != datum[0] || ground[2] != datum[2] || math.Abs(ground[1]-y0-half-14) > 0.01 || ground[1] != ground[3]) {
					t.Errorf("%s, %s: the ground %v under %v", where, view, ground, datum)
				}
				for i := range list { // nothing goes further than the view's edge, numbers stand just below it
					e := &list[i]
					if e.inside["data-view"] != view {
						continue
					}
					switch class := e.attr["class"]; {
					case class == "d-found" || class == "d-wanted" || class == "d-after":
						for _, s := range strokes(t, e) {
							for _, y := range []float64{s[1], s[3]} {
								if most = max(most, math.Abs(y-y0)); math.Abs(y-y0) > half+4.01 {
									t.Errorf("%s, %s: %s at %.1f", where, view, class, y-y0)
								}
							}
						}
					case class == "d-num":
						if math.Abs(e.num(t, "y")-y0-half-27) > 0.01 {
							t.Errorf("%s, %s: number %s at %.1f", where, view, e.text, e.num(t, "y")-y0)
						}
					case class == "d-soft" && e.attr["text-anchor"] == "middle":
						if math.Abs(e.num(t, "y")-y0-half-41) > 0.01 {
							t.Errorf("%s, %s: amount %s at %.1f", where, view, e.text, e.num(t, "y")-y0)
						}
					}
				}
				pairs := 0
				for i := range plan.Machines {
					m := &plan.Machines[i]
					name := m.Name
					if !m.May {
						name += " (stays)"
					}
					at := slices.IndexFunc(texts, func(b textBox) bool { return b.text == name })
					if at < 0 {
						t.Errorf("%s, %s: %q is not named", where, view, name)
						continue
					}
					b := texts[at]
					wide, mid := b.x1-b.x0, (px(m.From)+px(m.To))/2
					if want := min(max(mid-wide/2, 10), w-10-wide); math.Abs(b.x0-want) > 0.01 || b.y1 > y0-half+2 {
						t.Errorf("%s, %s: %q stands at %v, its shaft is about %.1f", where, view, name, b, mid)
					}
					pairs += len(m.Pairs)
					if len(m.Pairs) == 0 {
						continue
					}
					a, z := px(m.Pairs[0].Station), px(m.Pairs[len(m.Pairs)-1].Station)
					a, z = min(a, z), max(a, z)
					out := min(10, 0.15*(z-a))
					if !slices.ContainsFunc(bodies, func(b [4]float64) bool {
						return math.Abs(b[0]-a+out) < 0.02 && math.Abs(b[2]-z-out) < 0.02 && math.Abs((b[1]+b[3])/2-y0) < 0.01 && math.Abs(b[3]-b[1]-0.84*half) < 0.01
					}) {
						t.Errorf("%s, %s: %s has no outline from %.1f to %.1f: %v", where, view, m.Name, a-out, z+out, bodies)
					}
				}
				if numbers != pairs || len(legs) != pairs*map[string]int{"side": 1, "top": 0}[view] {
					t.Errorf("%s, %s: %d numbers and %d legs for %d pairs", where, view, numbers, len(legs), pairs)
				}
				for _, l := range legs {
					if len(l) != 8 || math.Abs(l[6]-l[0]-10) > 0.01 || math.Abs(l[1]-y0-0.42*half) > 0.01 || math.Abs(l[3]-y0-half-14) > 0.01 {
						t.Errorf("%s: a leg %v", where, l)
					}
				}
			}
			if _, s, _ := strings.Cut(all, "across × "); most > 0.8*half+0.02 && plan.Status == "moves" || most*2.5 < 0.8*half-0.02 && !strings.HasPrefix(s, "1000") {
				t.Errorf("%s: the lines go %.1f px from the datum of %.1f", where, most, half)
			}
			desc := list[2].text
			for i := range plan.Machines {
				m := &plan.Machines[i]
				if stays := strings.Contains(desc, " "+m.Name+" stays."); stays == m.May || m.May && !strings.Contains(desc, " "+m.Name+".") {
					t.Errorf("%s: %s in %s", where, m.Name, desc)
				}
			}
			for _, r := range TrainFeet(ev, plan) {
				if s := r.Number + ", " + r.Machine + " " + r.Feet + ": " + r.Shim + ", " + r.Move + "; room " + r.Room + "."; !strings.Contains(desc, s) {
					t.Errorf("%s: %q is not told", where, s)
				}
			}
		}
	}
}

// A pair of feet with room on one side only says that number at that side, and that the others are free.
func TestRoomOnOneSide(t *testing.T) {
	const head = "Train,Machine,Side at 3,Side at 9,Stationary,Coupling,Method,Speed,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for k, side := range []string{"down", "up", "left", "right"} {
		cells := []string{"", "", "", ""}
		cells[k] = "1.25"
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: head + "T,right,river,hill,motor,short,line,1480,300,500,0.3,-0.1,0.4,0.25\n",
			job.FeetSheet: "Machine,Foot,Room down,Room up,Room left,Room right\nright,front 9," + strings.Join(cells, ",") + "\nright,front 3," + strings.Join(cells, ",") + "\n"})
		ev.Count()
		room := []string{"free", "free", "free", "free"}
		room[k] = "1.250 mm"
		want := fmt.Sprintf("down %s, up %s; the hill %s, the river %s", room[0], room[1], room[2], room[3])
		rows := TrainFeet(ev, &ev.Trains()[0])
		if got := strings.ReplaceAll(rows[0].Room, "the ", ""); got != strings.ReplaceAll(want, "the ", "") || rows[1].Room != "no bound given" {
			t.Errorf("%s: %q and %q, by hand %q", side, rows[0].Room, rows[1].Room, want)
		}
	}
}

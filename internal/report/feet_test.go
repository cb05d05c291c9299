package report

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// jobWith makes a job of several delimited texts.
func jobWith(t testing.TB, lists map[job.SheetKind]string) *sentences.Teller {
	j := job.NewJob()
	for k, text := range lists {
		table, _, err := job.ReadDelimited(k.String(), []byte(text), 0)
		if err != nil || k != job.SettingsSheet && !table.SplitHeader(k) {
			return nil
		}
		j.SetTable(k, table)
	}
	return sentences.New(j)
}

// wordsOf are all words of a drawing, one a line.
func wordsOf(list []element) string {
	all := ""
	for i := range list {
		if list[i].name == "text" {
			all += list[i].text + "\n"
		}
	}
	return all
}

const oneMachine = "Machine,Coupling,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet\nP1,short,1480,line,0.3,-0.1,0.4,0.2,480,710\n"

// TestFeetGeometry: every mark stands where the Feet sheet says, by the stated scale, and the dash-dot line goes between the feet that carry.
func TestFeetGeometry(t *testing.T) {
	ev := demo(t)
	marks, rocks := 0, 0
	for i := range ev.Len() {
		gauges := ev.FootGauges(i)
		if gauges == nil || !known(gauges[0].Across) || !known(gauges[0].Along) {
			continue
		}
		for _, w := range testWidths {
			list := parse(t, FeetPlan(nil, ev, i, Options{Width: w}))
			val := func(e *element, s string) float64 { v, _ := strconv.ParseFloat(e.inside[s], 64); return v }
			var at [12][2]float64
			for k := range list {
				e := &list[k]
				if e.inside["data-foot"] == "" || e.name != "rect" {
					continue
				}
				const perMM = 96 / 25.4
				n := int(val(e, "data-foot"))
				scale := perMM / val(e, "data-scale")
				if !strings.Contains(wordsOf(list), "1 : "+e.inside["data-scale"]+";") {
					t.Fatalf("scale 1 : %s is not stated in\n%s", e.inside["data-scale"], wordsOf(list))
				}
				cx, cy := e.num(t, "x")+e.num(t, "width")/2, e.num(t, "y")+e.num(t, "height")/2
				at[n] = [2]float64{cx, cy}
				x, y := (cx-val(e, "data-x0"))/scale, val(e, "data-mid")-(cy-val(e, "data-y0"))/scale
				if math.Abs(x-gauges[n].Along) > 0.01/scale || math.Abs(y-gauges[n].Across) > 0.01/scale {
					t.Errorf("%s: foot %d at %g, %g, not %g, %g", ev.Row(i).Name, n, x, y, gauges[n].Along, gauges[n].Across)
				}
				marks++
			}
			for k := range list {
				if e := &list[k]; e.attr["class"] == "d-rock" && e.inside["data-scale"] != "" {
					a, b := at[ev.Row(i).Feet.Soft.Carrying[0]], at[ev.Row(i).Feet.Soft.Carrying[1]]
					if math.Abs(e.num(t, "x1")-a[0])+math.Abs(e.num(t, "y1")-a[1])+math.Abs(e.num(t, "x2")-b[0])+math.Abs(e.num(t, "y2")-b[1]) > 0.01 {
						t.Errorf("%s: the diagonal does not join the feet that carry", ev.Row(i).Name)
					}
					rocks++
				}
			}
		}
	}
	if marks < 60 || rocks < len(testWidths) {
		t.Errorf("only %d marks and %d diagonals", marks, rocks)
	}
}

// TestFeetWords: one gap of 0.20 mm of four on a rectangle. The plane through three feet of a rectangle passes the fourth corner, so the rock is 0.20 mm:
// tilted about the diagonal that carries, half of it stands under either other foot. Source: geometry.
func TestFeetWords(t *testing.T) {
	ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: "Machine,Foot,Across,Gap\nP1,front 9,-250,0\nP1,front 3,250,0\nP1,rear 9,-250,0\nP1,rear 3,250,0.20\n"})
	list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 760}))
	all := wordsOf(list)
	for _, s := range []string{"P1: rocking on a diagonal: front 9, rear 3", "gap 0.200 mm", "soft foot: 0.10 mm", "Rocks on the diagonal front 3 – rear 9: front 9 and rear 3 stand off, the other two carry.",
		"0.2 mm under front 9, or 0.2 mm under rear 3", "against the limit of 0.05 mm", "500 mm", "710 mm", "Mend the soft foot first", "the machine rocks about this diagonal"} {
		if !strings.Contains(strings.ReplaceAll(all, "\n", " "), s) {
			t.Errorf("no %q in\n%s", s, all)
		}
	}
	for _, c := range []struct{ feet, has, hasNot string }{
		{"Machine,Foot,Gap\nP1,front 9,0\nP1,front 3,0\nP1,rear 9,0\nP1,rear 3,0\n", "taken and drawn as evenly wide", "stand off, the other"},
		{"Machine,Foot\nP1,front 9\nP1,front 3\nP1,rear 9\nP1,rear 3\n", "soft foot not measured", "stands off"},
		{"Machine,Foot,Across,Gap\nP1,front 9,-250,0\nP1,front 3,250,0\nP1,rear 9,-250,\nP1,rear 3,250,0.20\n", "neither a gap", "stands off"},
		{"Machine,Foot,Across,Rise,Rise after\nP1,front 9,-250,0.01,0.01\nP1,front 3,250,0.15,0.01\nP1,rear 9,-250,0.01,0.01\nP1,rear 3,250,0.01,0.01\n", "The piping pulls: freeing the flanges changed the rise of front 3 by 0.14 mm", "stands off"},
		{"Machine,Foot,Across,Rise\nP1,front 9,-250,0.01\nP1,front 3,250,0.15\nP1,rear 9,-250,0.01\nP1,rear 3,250,0.01\n", "front 3 alone stands off, by", "pulls"},
		{"Machine,Foot,Across,Gap\nP2,front 9,-250,0\n", "No feet are written", ""},
	} {
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: c.feet})
		list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 380}))
		checkApart(t, c.has, list)
		all := strings.ReplaceAll(wordsOf(list), "\n", " ")
		if !strings.Contains(all, c.has) || c.hasNot != "" && strings.Contains(all, c.hasNot) {
			t.Errorf("%q and not %q in\n%s", c.has, c.hasNot, wordsOf(list))
		}
	}
}

// TestFeetManyNames: twelve feet have no room for words side by side; they are numbered and listed.
func TestFeetManyNames(t *testing.T) {
	text := "Machine,Foot,Along,Across,Gap\n"
	for i := range 12 {
		text += "P1,f" + strconv.Itoa(i+1) + " " + strings.Repeat("long name ", 1+i) + "," + strconv.Itoa(480+100*(i/2)) + "," + strconv.Itoa(500*(i%2)-250) + ",0.1\n"
	}
	ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: text})
	for _, w := range testWidths {
		list := parse(t, FeetPlan(nil, ev, 0, Options{Width: w}))
		if w < 700 {
			checkApart(t, "many feet", list)
		}
		if !strings.Contains(strings.ReplaceAll(wordsOf(list), "\n", " "), "f12 long name") {
			t.Errorf("at %g foot 12 is not named in\n%s\n%v", w, wordsOf(list), ev.Row(0).Problems)
		}
	}
}

// TestStepShape: a step from an edge covers its share of the sole; from a corner the part whose gap, a plane over the sole, is at least what the
// steps under it are high. Shares counted on a fine lattice.
func TestStepShape(t *testing.T) {
	area := func(xy []float64) (a float64) {
		for i := 0; i < len(xy); i += 2 {
			j := (i + 2) % len(xy)
			a += xy[i]*xy[j+1] - xy[j]*xy[i+1]
		}
		return math.Abs(a) / 2
	}
	for _, open := range []calc.FootSide{calc.CouplingEdge, calc.Edge3, calc.FreeEdge, calc.Edge9} {
		for _, share := range []float64{0.25, 0.5, 0.75} {
			if got := area(stepShape(&calc.SoftFootResult{Open: open, TaperAlong: 1, TaperAcross: -2}, share)); math.Abs(got-share) > 1e-12 {
				t.Errorf("%s: %g of %g", open, got, share)
			}
		}
	}
	for _, c := range []struct {
		open calc.FootSide
		a, b float64
	}{{calc.FreeCorner3, 0.2, 0.1}, {calc.CouplingCorner3, -0.1, 0.2}, {calc.CouplingCorner9, -0.3, -0.2}, {calc.FreeCorner9, 0.1, -0.1}} {
		for _, share := range []float64{0.2, 0.5, 0.8} {
			xy := stepShape(&calc.SoftFootResult{Open: c.open, TaperAlong: c.a, TaperAcross: c.b}, share)
			for k, corner := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} { // it covers the corner that is open, and not the one opposite
				gap := c.a*corner[0] + c.b*corner[1] - min(c.a, 0) - min(c.b, 0)
				has := false
				for i := 0; i+1 < len(xy); i += 2 {
					has = has || xy[i] == corner[0] && xy[i+1] == corner[1]
				}
				if all := math.Abs(c.a) + math.Abs(c.b); has != (gap >= (1-share)*all) && math.Abs(gap-(1-share)*all) > 1e-9 {
					t.Errorf("%s, %g: corner %d, %.2f open, is covered: %v, %v", c.open, share, k, gap, has, xy)
				}
			}
			got := area(xy)
			const n = 400
			in := 0
			for i := range n {
				for k := range n {
					x, y := (float64(i)+0.5)/n, (float64(k)+0.5)/n
					gap := c.a*x + c.b*y - min(c.a, 0) - min(c.b, 0) // zero in the corner opposite
					if gap >= (1-share)*(math.Abs(c.a)+math.Abs(c.b)) {
						in++
					}
				}
			}
			if want := float64(in) / n / n; math.Abs(got-want) > 0.01 {
				t.Errorf("%s, %g: %g, not %g", c.open, share, got, want)
			}
		}
	}
}

// TestSoleSteps: the drawn steps of the demo's bent foot are those that package calc found, from the side it opens to.
func TestSoleSteps(t *testing.T) {
	ev := demo(t)
	seen := 0
	for i := range ev.Len() {
		r := ev.Row(i)
		if r.Feet == nil {
			continue
		}
		list := parse(t, FeetPlan(nil, ev, i, Options{}))
		all := strings.ReplaceAll(wordsOf(list), "\n", " ")
		for k, s := range r.Feet.Soft.Feet {
			n := 0
			for j := range list {
				if list[j].attr["class"] == "d-bar" && list[j].inside["data-sole"] == strconv.Itoa(k) {
					n++
				}
			}
			if want := len(s.Steps); s.Angled && n != want || !s.Angled && n != 0 {
				t.Errorf("%s: %d steps of %d under foot %d", r.Name, n, want, k)
			}
			if s.Angled {
				seen++
				if !strings.Contains(all, "from the "+s.Open.String()) || !strings.Contains(all, "mm/m across") {
					t.Errorf("%s: %s", r.Name, all)
				}
			}
		}
	}
	if seen == 0 {
		t.Error("no bent foot in the demo")
	}
}

// TestGrowthGeometry reads the lines back: cold plus the growth of its supports the movable shaft comes to the line through the supports of the stationary
// one, for rows that are to run straight. Source: two points make a line.
func TestGrowthGeometry(t *testing.T) {
	ev := demo(t)
	drawn := 0
	for i := range ev.Len() {
		r := ev.Row(i)
		if r.Growth == nil {
			continue
		}
		for _, w := range testWidths {
			list := parse(t, GrowthFigure(nil, ev, i, Options{Width: w}))
			var cold, hot, stat []float64
			var e0 *element
			for k := range list {
				e := &list[k]
				if e.inside["data-view"] != "side" || e.inside["data-across"] == "" {
					continue
				}
				e0 = e
				switch xy := e.attr["d"]; e.attr["class"] {
				case "d-wanted":
					cold = coords(t, xy)
				case "d-after": // the stationary shaft first, if it grows
					stat, hot = hot, coords(t, xy)
				}
			}
			val := func(s string) float64 { v, _ := strconv.ParseFloat(e0.inside[s], 64); return v }
			const perMM = 96 / 25.4
			x0, y0, across, along := val("data-x0"), val("data-y0"), val("data-across")*perMM, perMM/val("data-along")
			height := func(xy []float64, mm float64) float64 { // of the line through the two points, mm
				if xy == nil {
					return 0
				}
				x := x0 + mm*along
				y := xy[1] + (xy[3]-xy[1])*(x-xy[0])/(xy[2]-xy[0])
				return (y0 - y) / across
			}
			tol := 0.02 / across
			for _, s := range r.Growth.Supports {
				if !strings.HasPrefix(s.Name, "movable") {
					if d := height(stat, s.Station) - s.V; math.Abs(d) > tol {
						t.Errorf("%s: %s rises %g, drawn %g", r.Name, s.Name, s.V, height(stat, s.Station))
					}
					continue
				}
				if d := height(hot, s.Station) - height(cold, s.Station) - s.V; math.Abs(d) > tol {
					t.Errorf("%s: %s rises %g, drawn %g", r.Name, s.Name, s.V, height(hot, s.Station)-height(cold, s.Station))
				}
				if d := height(hot, s.Station) - height(stat, s.Station); math.Abs(d) > 4*tol {
					t.Errorf("%s: the shafts are not in line when running: %g at %g mm", r.Name, d, s.Station)
				}
				drawn++
			}
			if !strings.Contains(strings.ReplaceAll(wordsOf(list), "\n", " "), "Running, both shafts lie on one line.") {
				t.Errorf("%s: %s", r.Name, wordsOf(list))
			}
		}
	}
	if drawn < 4*len(testWidths) {
		t.Errorf("only %d supports", drawn)
	}
}

// TestGrowthWords: a part of 200 mm, 12 · 10⁻⁶/K, 50 K warmer is 0.12 mm higher (200·12e-6·50). Source: the definition of the coefficient.
func TestGrowthWords(t *testing.T) {
	growth := "Machine,Support,Part,Height,Coefficient,Cold,Running,Growth H\nP1,movable front,<frame>,200,12,20,70,0.02\nP1,movable rear,frame,200,12,20,70,0\n"
	ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.GrowthSheet: growth})
	for _, w := range testWidths {
		list := parse(t, GrowthFigure(nil, ev, 0, Options{Width: w}))
		checkApart(t, "growth", list)
		all := strings.ReplaceAll(wordsOf(list), "\n", " ")
		for _, s := range []string{"rises 0.120 mm", "movable front (a), <frame>: 200 mm × 12 1e-6/K (own coefficient) × 50 K, from 20 °C to 70 °C", "towards 3 o'clock si", "is to stand 0.120 mm low", "Top view"} {
			if !strings.Contains(all, s) {
				t.Errorf("no %q in\n%s", s, wordsOf(list))
			}
		}
	}
	ev = jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine})
	if !strings.Contains(wordsOf(parse(t, GrowthFigure(nil, ev, 0, Options{}))), "No growth is worked out") {
		t.Error("growth of a machine without")
	}
}

// FuzzFeetGrowth draws feet and supports of any names and numbers.
func FuzzFeetGrowth(f *testing.F) {
	f.Add("front 9</svg>", "rear & 3", "-250", "1e9", "0.2", "0.5", "9", "12", uint16(420))
	f.Add(strings.Repeat("W ", 4000), "\x00\xff", "nan", "-1e-9", "0", "inf", "1e300", "-400", uint16(0))
	f.Add("\u202ef", "r", "0", "0", "0.05", "0.05", "1", "0", uint16(9999))
	f.Fuzz(func(t *testing.T, a, b, across, along, gap, corner, height, coef string, w uint16) {
		feet, growth := "Machine,Foot,Along,Across,Gap,Rise,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3,Foot length,Foot width,Pack in place\n", "Machine,Support,Part,Height,Coefficient,Cold,Running,Growth H\n"
		for i, name := range []string{a, b, a + " 2", "rear 3 " + b} {
			row := []string{"P1", name, along, across, gap, corner, corner, gap, "0", "0.2", height, "60", gap + "+0.2"}
			switch i {
			case 1:
				row[2], row[3], row[4] = "480", "-250", "0"
			case 2:
				row[2], row[3], row[6] = "1190", "250", ""
				row[7], row[8], row[9] = "", "", ""
			case 3:
				row[2], row[3] = "1190", "-250"
			}
			for k := range row {
				row[k] = quoted(row[k])
			}
			feet += strings.Join(row, ",") + "\n"
		}
		for i, s := range []string{"movable front", "movable rear", "stationary near", "stationary far"} {
			row := []string{"P1", s, a, height, coef, "20", "70", across}
			if i == 1 {
				row[3], row[4] = "200", "12"
			}
			for k := range row {
				row[k] = quoted(row[k])
			}
			growth += strings.Join(row, ",") + "\n"
		}
		for _, machines := range []string{oneMachine, strings.Replace(oneMachine, "480,710", ",", 1)} {
			ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: machines, job.FeetSheet: feet, job.GrowthSheet: growth})
			if ev != nil {
				drawAll(t, ev, Options{Width: float64(w)})
			}
		}
	})
}

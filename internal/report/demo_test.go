package report

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
	"shimsheet/internal/tables"
)

// demo is the demo job, worked out.
func demo(t testing.TB) *sentences.Teller {
	j := job.NewJob()
	for name, kind := range map[string]job.SheetKind{"machines.csv": job.MachinesSheet, "readings.csv": job.ReadingsSheet, "job.csv": job.SettingsSheet, "stock.csv": job.StockSheet,
		"growth.csv": job.GrowthSheet, "feet.csv": job.FeetSheet, "limits.csv": job.LimitsSheet, "materials.csv": job.MaterialsSheet, "checks.csv": job.ChecksSheet, "rounds.csv": job.RoundsSheet, "trains.csv": job.TrainsSheet, "record.csv": job.RecordSheet} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		table, problems, err := job.ReadDelimited(name, data, 0)
		if err != nil || len(problems) > 0 {
			t.Fatal(name, err, problems)
		}
		if kind != job.SettingsSheet && !table.SplitHeader(kind) {
			t.Fatalf("%s: no header", name)
		}
		j.SetTable(kind, table)
	}
	ev := sentences.New(j)
	ev.Count() // works every row out
	return ev
}

var testWidths = []float64{300, 338, 420, 760, 900, 1400}

// TestDemoDrawings looks at every drawing of the demo: well formed, its words apart and on the paper, its classes documented, and the same
// when drawn again.
func TestDemoDrawings(t *testing.T) {
	ev := demo(t)
	for _, w := range testWidths {
		opt := Options{Width: w}
		look := func(name string, draw func(dst []byte) []byte) {
			t.Helper()
			svg := draw(nil)
			list := parse(t, svg)
			name = fmt.Sprintf("%s at %g", name, w)
			checkApart(t, name, list)
			checkClasses(t, list)
			if again := draw([]byte("x")); string(again) != "x"+string(svg) {
				t.Errorf("%s: drawn again it differs", name)
			}
		}
		for i := range ev.Len() {
			name := ev.Row(i).Name
			look("machine "+name, func(b []byte) []byte { return Machine(b, ev, i, opt) })
			look("feet "+name, func(b []byte) []byte { return FeetPlan(b, ev, i, opt) })
			look("what to do "+name, func(b []byte) []byte { return WhatToDo(b, ev, i, opt) })
			look("rounds "+name, func(b []byte) []byte { return Rounds(b, ev, i, opt) })
			look("sketch "+name, func(b []byte) []byte { return CardSketch(b, ev, i, opt) })
			look("growth "+name, func(b []byte) []byte { return GrowthFigure(b, ev, i, opt) })
			look("sweeps "+name, func(b []byte) []byte { return Sweeps(b, ev, i, opt) })
		}
		for k := range ev.Trains() {
			for c := -1; c < len(ev.TrainChoices(k)); c++ {
				look(fmt.Sprintf("train %d, choice %d", k, c), func(b []byte) []byte { return Train(b, ev, k, c, opt) })
			}
		}
		look("clock at 135", func(b []byte) []byte { return ClockAt(b, 135, opt) })
		look("overview", func(b []byte) []byte { return Overview(b, ev, nil, opt) })
		look("histogram", func(b []byte) []byte { return Histogram(b, ev, nil, opt) })
		look("clock", func(b []byte) []byte { return ClockFigure(b, "river side", "hillside", opt) })
		for m := job.MethodBlank; m <= job.GivenLineMethod; m++ {
			look("method "+m.String(), func(b []byte) []byte { return MethodFigure(b, m, opt) })
		}
	}
	parse(t, Machine(nil, ev, 0, Options{Standalone: true}))
	doc, err := os.ReadFile("doc.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range regexp.MustCompile(`\.d-[a-z]+`).FindAllString(CSS, -1) {
		if c = c[1:]; !regexp.MustCompile(c + `\b`).Match(doc) {
			t.Errorf("CSS speaks of %s, which is not in the package comment", c)
		}
	}
}

// TestDemoGeometry reads the lines back: y over the stated scale is the line that package calc found, at every foot and at the coupling.
func TestDemoGeometry(t *testing.T) {
	ev := demo(t)
	const perMM = 96 / 25.4 // CSS Values and Units 3 §5.2: 1in = 96px = 2.54cm
	drawn := 0
	for _, w := range testWidths {
		for i := range ev.Len() {
			list := parse(t, Machine(nil, ev, i, Options{Width: w}))
			r := ev.Row(i)
			scale := ""
			for k := range list {
				if strings.HasPrefix(list[k].text, "Scale at full size") {
					scale = list[k].text
				}
			}
			for k := range list {
				e := &list[k]
				view := e.inside["data-view"]
				if e.inside["data-across"] == "" {
					continue
				}
				if !strings.HasSuffix(scale, "across × "+e.inside["data-across"]) || !strings.Contains(scale, "1 : "+e.inside["data-along"]+",") {
					t.Fatalf("%s: %q does not state × %s and 1 : %s", r.Name, scale, e.inside["data-across"], e.inside["data-along"])
				}
				val := func(s string) float64 { v, _ := strconv.ParseFloat(e.inside[s], 64); return v }
				x0, y0, across, along := val("data-x0"), val("data-y0"), val("data-across")*perMM, perMM/val("data-along")
				height := func(l *calc.Line, x float64) float64 {
					if view == "top" {
						return l.DH + l.TH*x/1000
					}
					return l.DV + l.TV*x/1000
				}
				// Coordinates are rounded to a thousandth of a pixel; stations too, which slope turns into height.
				tol := func(l *calc.Line) float64 {
					return 1e-6 + 0.0021/across + 0.0021/along*(math.Abs(l.TV)+math.Abs(l.TH))/1000
				}
				line := func(l *calc.Line, what string) {
					xy := coords(t, e.attr["d"])
					for p := 0; p+1 < len(xy); p += 2 {
						x, y := (xy[p]-x0)/along, (y0-xy[p+1])/across
						if d := math.Abs(y - height(l, x)); d > tol(l) {
							t.Errorf("%s, %s: %s at %g mm is %g, not %g", r.Name, view, what, x, y, height(l, x))
						}
					}
					drawn++
				}
				switch e.attr["class"] {
				case "d-found":
					line(&r.Calc.Line, "found")
				case "d-after":
					line(&r.Calc.After, "after")
				case "d-wanted":
					line(&r.Wanted, "wanted")
				case "d-band":
					xy := coords(t, e.attr["d"])
					half := len(xy) / 2
					feet := 0
					for p := 0; p < half; p += 2 {
						q := len(xy) - 2 - p
						x, thick := (xy[p]-x0)/along, (xy[q+1]-xy[p+1])/across
						c := &r.Calc.Cov
						o := 0
						if view == "top" {
							o = 2
						}
						// The law of propagation, GUM 5.2.2: u²(d + θx) = u²(d) + 2x·u(d,θ) + x²·u²(θ).
						k := x / 1000
						want := 4 * math.Sqrt(c[o][o]+2*k*c[o][o+1]+k*k*c[o+1][o+1])
						if math.Abs(thick-want) > 1e-6+0.005/across+1e-4*want {
							t.Errorf("%s, %s: band at %g mm is %g wide, not %g", r.Name, view, x, thick, want)
						}
						for f := range r.Calc.Feet {
							if math.Abs(r.Calc.Feet[f].Station-x) < 0.002/along {
								feet++
							}
						}
					}
					if feet < len(r.Calc.Feet) {
						t.Errorf("%s: the band has %d of %d feet", r.Name, feet, len(r.Calc.Feet))
					}
				case "d-hatch":
					x, h := (e.num(t, "x")+e.num(t, "width")/2-x0)/along, e.num(t, "height")/2/across
					want, mid := r.Limits.Offset, 0.0
					if r.Coupling == tables.Spacer {
						// The angle at a flex plane is what the line is at the other one over the length between them.
						want = r.Limits.Slope * 2 * math.Abs(x) / 1000
					}
					mid = height(&r.Wanted, x)
					if got := (y0 - e.num(t, "y") - e.num(t, "height")/2) / across; math.Abs(got-mid) > 1e-6+0.003/across+0.003/along {
						t.Errorf("%s, %s: limit about %g, not %g", r.Name, view, got, mid)
					}
					if math.Abs(h-want) > 1e-6+0.002/across+0.002/along {
						t.Errorf("%s, %s: half the limit is %g, not %g", r.Name, view, h, want)
					}
					drawn++
				case "d-spool":
					xy := coords(t, e.attr["d"])
					if math.Abs(xy[1]-y0) > 0.001 {
						t.Errorf("%s: the spool does not begin on the datum", r.Name)
					}
					x, y := (xy[2]-x0)/along, (y0-xy[3])/across
					if math.Abs(y-height(&r.Calc.Line, x)) > tol(&r.Calc.Line) {
						t.Errorf("%s: the spool does not end on the line found", r.Name)
					}
					// Its slope against the datum is the angle at the stationary flex plane.
					if f := r.Calc.Found.FlexS; r.Coupling == tables.Spacer && r.Wanted == (calc.Line{}) {
						a := f.V
						if view == "top" {
							a = f.H
						}
						if got := y / (2 * x) * 1000; math.Abs(got-a) > 1e-3+0.02*math.Abs(a) && math.Abs(got-a)*2*x/1000 > 0.005/across {
							t.Errorf("%s, %s: spool at %g mm/m, not %g", r.Name, view, got, a)
						}
					}
				}
			}
		}
	}
	if drawn < 500 {
		t.Errorf("only %d lines were looked at", drawn)
	}
}

// TestDemoLabels holds the words at the feet to the sheet's results and sentences.
func TestDemoLabels(t *testing.T) {
	ev := demo(t)
	seen := 0
	col := map[string]int{}
	for k, c := range job.ResultColumns() {
		col[c.Key] = k
	}
	for i := range ev.Len() {
		r := ev.Row(i)
		var all []string
		for _, e := range parse(t, Machine(nil, ev, i, Options{Width: 900})) {
			if e.name == "text" {
				all = append(all, e.text)
			}
		}
		has := func(s string) {
			t.Helper()
			seen++
			if !slices.Contains(all, s) {
				t.Errorf("%s: no %q among %q", r.Name, s, all)
			}
		}
		var said string
		for _, s := range ev.Sentences(i) {
			if s.Kind == sentences.SentenceDo {
				said += s.Text + "\n"
			}
		}
		for f, key := range map[int]string{r.Front: "front", r.Rear: "rear"} {
			if f < 0 {
				continue
			}
			if r.Verdict == calc.Inside {
				for _, s := range all {
					if strings.HasPrefix(s, "add ") || strings.HasPrefix(s, "take out ") || strings.HasPrefix(s, "push ") {
						t.Errorf("%s is inside, and is to %q", r.Name, s)
					}
				}
				has("stays")
				soft := r.Feet != nil && slices.ContainsFunc(r.Feet.Feet, func(f evaluate.Foot) bool { return f.Soft > 0 })
				for _, s := range all {
					if s == "packs: see the feet" && !soft || strings.HasSuffix(s, "(moves)") {
						t.Errorf("%s stays and has no soft foot, and yet %q", r.Name, s)
					}
				}
				continue
			}
			pack := string(results.AppendText(nil, ev, i, col[key+"_pack"]))
			if r.Feet != nil && r.Feet.Covers(f) {
				has("packs: see the feet")
			} else if strings.Contains(pack, " + ") {
				has(pack)
			}
			foot := &r.Calc.Feet[f]
			for _, s := range all {
				if n, ok := strings.CutPrefix(s, "add "); ok && !strings.Contains(said, "Add "+n+" under") {
					t.Errorf("%s: %q is in no sentence of %q", r.Name, s, said)
				}
				if n, ok := strings.CutPrefix(s, "take out "); ok && !strings.Contains(said, "Take out "+n+" under") {
					t.Errorf("%s: %q is in no sentence of %q", r.Name, s, said)
				}
				if n, ok := strings.CutPrefix(s, "push "); ok && !strings.Contains(said, "feet "+n+" towards") && !strings.Contains(said, " "+n+" towards") {
					t.Errorf("%s: %q is in no sentence of %q", r.Name, s, said)
				}
			}
			if !evaluate.Pushes(foot) {
				has("leave")
			} else if !ev.ShownZero(foot.MoveRounded) {
				side := r.Side3
				if foot.Move < 0 {
					side = r.Side9
				}
				has("towards " + side)
			}
		}
		if r.HasLine() && len(r.Calc.BoltShims) == 0 {
			has("Side view, seen from " + r.Side9 + " (9 o'clock side); up is up")
			has("Top view, seen from above; " + r.Side3 + " (3 o'clock side) is up")
		}
	}
	if seen < 60 {
		t.Errorf("only %d labels were looked at", seen)
	}
}

// TestSideOfView works out from the frame alone from where the views are seen. A person behind the movable machine looks along −x, up is
// V, and 3 o'clock is on the right: forward × up. On paper, right × up points at the reader.
func TestSideOfView(t *testing.T) {
	cross := func(a, b [3]float64) [3]float64 {
		return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
	}
	x, up := [3]float64{1, 0, 0}, [3]float64{0, 0, 1}
	three := cross([3]float64{-1, 0, 0}, up)
	reader := cross(x, up) // side view: x right, V up
	if reader != [3]float64{-three[0], -three[1], -three[2]} {
		t.Errorf("the side view is not seen from the 9 o'clock side: reader %v, 3 o'clock %v", reader, three)
	}
	if cross(x, three) != up { // top view: x right, H up
		t.Error("the top view is not seen from above")
	}
}

// TestDemoSweeps reads the plots back: every dot over its scale is the reading with the sag taken off, and the curve passes within the stated
// residual of every dot.
func TestDemoSweeps(t *testing.T) {
	ev := demo(t)
	odd := 0
	for i := range ev.Len() {
		list := parse(t, Sweeps(nil, ev, i, Options{Width: 900}))
		var m evaluate.Measured
		ev.Measured(i, &m)
		dots := map[int]int{}
		for k := range list {
			e := &list[k]
			sw, err := strconv.Atoi(e.inside["data-sweep"])
			if err != nil {
				continue
			}
			zero, _ := strconv.ParseFloat(e.inside["data-zero"], 64)
			scale, _ := strconv.ParseFloat(e.inside["data-scale"], 64)
			s := &m.Input.Sweeps[sw]
			var y float64
			switch {
			case e.name == "circle":
				y = e.num(t, "cy")
			case e.attr["class"] == "d-odd":
				y = e.num(t, "y") + e.num(t, "height")/2
				odd++
			default:
				continue
			}
			n := dots[sw]
			dots[sw]++
			// S(φ) = S(6)/2·(1 − cos φ): the droop of a bracket zeroed at 12.
			want := s.Reading[n] - s.SagAt6/2*(1-math.Cos(s.Angle[n]*math.Pi/180))
			if got := (zero - y) / scale; math.Abs(got-want) > 1e-6+0.001/scale {
				t.Errorf("%s: dot %d of sweep %d is %g, not %g", ev.Row(i).Name, n, sw, got, want)
			}
		}
		for sw := range m.Input.Sweeps {
			if dots[sw] != len(m.Input.Sweeps[sw].Reading) {
				t.Errorf("%s: %d dots of %d in sweep %d", ev.Row(i).Name, dots[sw], len(m.Input.Sweeps[sw].Reading), sw)
			}
		}
	}
	if odd == 0 {
		t.Error("no odd reading is marked")
	}
}

// TestOverviewOrder: the largest share first, those not judged last, and every row once with its index.
func TestOverviewOrder(t *testing.T) {
	ev := demo(t)
	list := parse(t, Overview(nil, ev, nil, Options{}))
	last := math.Inf(1)
	notJudged := false
	seen := map[int]bool{}
	for k := range list {
		e := &list[k]
		if !strings.Contains(e.attr["class"], "d-row") {
			continue
		}
		i, err := strconv.Atoi(e.attr["data-row"])
		if err != nil || seen[i] {
			t.Fatalf("row %q", e.attr["data-row"])
		}
		seen[i] = true
		r := ev.Row(i)
		if !strings.Contains(e.attr["aria-label"], r.Name) || !strings.Contains(e.attr["aria-label"], r.Verdict.String()) {
			t.Errorf("label %q of %s", e.attr["aria-label"], r.Name)
		}
		if r.Verdict == calc.NotJudged {
			notJudged = true
			continue
		}
		if notJudged || r.Calc.Found.Share > last {
			t.Errorf("%s stands too low", r.Name)
		}
		last = r.Calc.Found.Share
	}
	if len(seen) != 26 {
		t.Errorf("%d rows", len(seen))
	}
	few := parse(t, Overview(nil, ev, []int{3, 99, 3, -1, 1}, Options{}))
	n := 0
	for k := range few {
		if strings.Contains(few[k].attr["class"], "d-row") {
			n++
		}
	}
	if n != 2 {
		t.Errorf("%d rows of two", n)
	}
}

// TestHistogramCounts: the bars of each kind count every correction once.
func TestHistogramCounts(t *testing.T) {
	ev := demo(t)
	list := parse(t, Histogram(nil, ev, nil, Options{}))
	want := 0
	for i := range ev.Len() {
		if r := ev.Row(i); r.Front >= 0 {
			want += 4
		}
	}
	got := 0
	for _, part := range strings.Split(list[2].text, ";") {
		if _, n, ok := strings.Cut(part, " mm: "); ok {
			v, err := strconv.Atoi(strings.TrimSpace(n))
			if err != nil {
				t.Fatal(part)
			}
			got += v
		}
	}
	if got != want || want == 0 {
		t.Errorf("%d corrections counted, not %d", got, want)
	}
}

// TestMeasuredLeavesResult: to draw a row changes nothing in it.
func TestMeasuredLeavesResult(t *testing.T) {
	ev := demo(t)
	for i := range ev.Len() {
		before := fmt.Sprintf("%+v", *ev.Row(i))
		Machine(nil, ev, i, Options{})
		Sweeps(nil, ev, i, Options{})
		FeetPlan(nil, ev, i, Options{})
		GrowthFigure(nil, ev, i, Options{})
		if after := fmt.Sprintf("%+v", *ev.Row(i)); after != before {
			t.Errorf("row %d changed:\n%s\n%s", i, before, after)
		}
	}
}

func BenchmarkMachine(b *testing.B) {
	ev := demo(b)
	var buf []byte
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		buf = Machine(buf[:0], ev, i%26, Options{Width: 420})
	}
	b.ReportMetric(float64(len(buf)), "bytes")
}

func BenchmarkSweeps(b *testing.B) {
	ev := demo(b)
	var buf []byte
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		buf = Sweeps(buf[:0], ev, i%26, Options{Width: 420})
	}
}

func BenchmarkOverview(b *testing.B) {
	ev := demo(b)
	var buf []byte
	b.ReportAllocs()
	for b.Loop() {
		buf = Overview(buf[:0], ev, nil, Options{Width: 900})
	}
}

// A flange inside its limit stays too: no shim, no slide, no line after.
func TestInsideFlangeStays(t *testing.T) {
	head := "Machine,Coupling,Speed,Method,Bolt circle,Bolts,Coupling to flange,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for line, stays := range map[string]bool{"0.01,-0.01,0.01,0.02": true, "0.4,-0.1,1.2,0.7": false} {
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: head + "P,flange,1480,line,600,8,420," + line + "\n"})
		if r := ev.Row(0); (r.Verdict == calc.Inside) != stays || len(r.Calc.BoltShims) != 8 {
			t.Fatal(r.Verdict, r.Problems)
		}
		svg := string(Machine(nil, ev, 0, Options{Width: 600}))
		for _, mark := range []string{">stays<", "slide ", ">1: ", "d-after"} {
			if strings.Contains(svg, mark) != (stays == (mark == ">stays<")) {
				t.Errorf("%s: %q", line, mark)
			}
		}
	}
}

package report

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/tally"
)

// The sketches of the methods: as many dials as the method has (README's list), each with a plunger that touches where its tip is, and carried by a bracket or a spool; the machines' feet stand on the ground, which is one line.
func TestHelpScenes(t *testing.T) {
	dials := map[job.Method]int{job.ReverseIndicator: 2, job.Sweeps: 2, job.RimAndFace: 2, job.TwoRims: 2, job.FaceAndFace: 2}
	for m := job.MethodBlank; m <= job.GivenLineMethod; m++ {
		for _, w := range []float64{300, 760} {
			list := parse(t, MethodFigure(nil, m, Options{Width: w}))
			var faces, tips, ends [][2]float64
			var plungers [][4]float64
			var grounds, feet []float64
			for i := range list {
				e := &list[i]
				switch class := e.attr["class"]; {
				case e.name == "circle" && class == "d-odd":
					faces = append(faces, [2]float64{e.num(t, "cx"), e.num(t, "cy")})
				case e.name == "circle" && class == "d-body" && e.num(t, "r") == 1.5:
					tips = append(tips, [2]float64{e.num(t, "cx"), e.num(t, "cy")})
				case e.name == "path" && class == "d-body" && e.attr["stroke-width"] == "2.4":
					xy := coords(t, e.attr["d"])
					for k := 0; k < len(xy); k += 2 {
						ends = append(ends, [2]float64{xy[k], xy[k+1]})
					}
				case e.name == "line" && class == "d-body":
					plungers = append(plungers, strokes(t, e)[0])
				case e.name == "line" && class == "d-ground":
					grounds = append(grounds, e.num(t, "y1"))
				case e.name == "rect" && e.num(t, "width") == 16 && e.num(t, "height") == 8:
					feet = append(feet, e.num(t, "y")+8)
				}
			}
			if len(faces) != dials[m] || len(tips) != dials[m] {
				t.Errorf("%s at %g: %d dials with %d tips, not %d", m, w, len(faces), len(tips), dials[m])
			}
			far := func(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
			for k, f := range faces {
				if !slices.ContainsFunc(ends, func(p [2]float64) bool { return math.Abs(far(p, f)-8) < 0.01 }) {
					t.Errorf("%s at %g: nothing carries dial %d at %v: %v", m, w, k, f, ends)
				}
				if k < len(tips) && !slices.ContainsFunc(plungers, func(l [4]float64) bool {
					return far([2]float64{l[0], l[1]}, tips[k]) < 0.01 && math.Abs(far([2]float64{l[2], l[3]}, f)-8) < 0.01
				}) {
					t.Errorf("%s at %g: dial %d at %v has no plunger to %v", m, w, k, f, tips[k])
				}
			}
			if len(grounds) != 1 || len(feet) != 3 || slices.ContainsFunc(feet, func(y float64) bool { return y != grounds[0] }) {
				t.Errorf("%s at %g: feet at %v, ground at %v", m, w, feet, grounds)
			}
		}
	}
}

// The clock of the help: its lines go through its middle, as far on one side as on the other; you stand beside your name, behind the machine; and it is said how angles count.
func TestClockOfHelp(t *testing.T) {
	for _, w := range []float64{300, 900} {
		list := parse(t, ClockFigure(nil, "river", "wall", Options{Width: w}))
		all := said(list)
		for _, s := range []string{"12 is 0°", "3 is 90°", "6 is 180°", "9 is 270°", "one way only"} {
			if !strings.Contains(all, s) {
				t.Errorf("at %g: %q is not said in %s", w, s, all)
			}
		}
		var cx, cy, head, hy float64
		for i := range list {
			if e := &list[i]; e.name == "circle" {
				switch r := e.num(t, "r"); r {
				case 50:
					cx, cy = e.num(t, "cx"), e.num(t, "cy")
				case 7:
					head, hy = e.num(t, "cx"), e.num(t, "cy")
				}
			}
		}
		lines := 0
		for i := range list {
			e := &list[i]
			if e.name == "text" && e.text == "you" && (math.Abs(e.num(t, "x")-head) > 16 || e.num(t, "y") < hy+18 || e.num(t, "y") > hy+44) {
				t.Errorf("at %g: you stand at %g, %g and are named at %g, %g", w, head, hy, e.num(t, "x"), e.num(t, "y"))
			}
			if e.name != "line" || e.attr["class"] != "d-datum" {
				continue
			}
			l := strokes(t, e)[0]
			if mid := math.Hypot((l[0]+l[2])/2-cx, (l[1]+l[3])/2-cy); math.Abs(math.Hypot(l[0]-l[2], l[1]-l[3])-116) < 0.1 {
				if lines++; mid > 0.01 {
					t.Errorf("at %g: %v does not go through the middle %g, %g", w, l, cx, cy)
				}
			}
		}
		if lines != 2 {
			t.Errorf("at %g: %d lines go 8 px past the clock on either side", w, lines)
		}
	}
}

// Of nothing attempted nothing is shown.
func TestNumbersOfNothing(t *testing.T) {
	ev := jobOf(t, oneMachine, false)
	none := &tally.Job{Name: "spring", Attempts: []tally.Attempts{{By: "crew", Name: "north"}, {By: "crew", Name: "south", First: tally.Share{N: 1, Of: 2}}}}
	all := said(parse(t, Numbers(nil, ev, []*tally.Job{none}, Options{Width: 700})))
	if strings.Contains(all, "0 of 0") || strings.Contains(all, "north") || !strings.Contains(all, "1 of 2") || !strings.Contains(all, "south") {
		t.Error(all)
	}
}

// What is said at each foot of what was measured there, and what the hatching of the plan means, by what was found: by rises a soft foot is about so much; a rise with the flanges open is told as that.
func TestFeetSay(t *testing.T) {
	const head = "Machine,Foot,Across,Gap,Rise,Rise after,Corner front 9,Corner front 3,Corner rear 9,Corner rear 3,Foot length,Foot width\n"
	feet := []string{"front 9,-250", "front 3,250", "rear 9,-250", "rear 3,250"}
	make := func(cells [4]string) string {
		text := head
		for k, f := range feet {
			text += "P1," + f + "," + cells[k] + "\n"
		}
		return text
	}
	const off, sole, both = "stands off", "sole not parallel", "stands off, or its sole is not parallel"
	for _, c := range []struct {
		what  string
		cells [4]string
		key   string
		has   []string
		not   []string
	}{
		{"flat", [4]string{"0,,,,,,,,", "0,,,,,,,,", "0,,,,,,,,", "0,,,,,,,,"}, "", []string{"gap 0.000 mm"}, []string{"soft foot:", "rises", "flanges open"}},
		{"rock", [4]string{"0,,,,,,,,", "0,,,,,,,,", "0,,,,,,,,", "0.2,,,,,,,,"}, off, []string{"gap 0.200 mm", "soft foot: 0.10 mm"}, []string{"about 0", "rises"}},
		{"rise", [4]string{",0.01,,,,,,,", ",0.15,,,,,,,", ",0.01,,,,,,,", ",0.01,,,,,,,"}, off, []string{"rises 0.150 mm", "soft foot: about 0.14 mm"}, []string{"gap", "flanges open"}},
		{"pull", [4]string{",0.01,0.01,,,,,,", ",0.15,0.02,,,,,,", ",0.01,0.01,,,,,,", ",0.01,0.01,,,,,,"}, "", []string{"rises 0.150 mm, flanges open 0.020 mm"}, []string{"soft foot:"}},
		{"sole", [4]string{"0,,,,,,,,", "0,,,,,,,,", "0,,,,,,,,", ",,,0,0,0.12,0.12,80,60"}, sole, []string{"corner gaps 0.000 to 0.120 mm"}, []string{"about 0"}},
		{"even corners", [4]string{"0,,,,,,,,", "0,,,,,,,,", "0,,,,,,,,", ",,,0.02,0.02,0.02,0.02,80,60"}, "", []string{"all corner gaps 0.020 mm"}, nil},
		{"both", [4]string{"0,,,,,,,,", "0,,,,,,,,", "0,,,,,,,,", ",,,0.2,0.2,0.35,0.35,80,60"}, both, []string{"corner gaps 0.200 to 0.350 mm"}, nil},
	} {
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: make(c.cells)})
		ev.Count()
		list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 1000}))
		all, key := said(list), ""
		for i := range list {
			if e := &list[i]; e.name == "text" && (e.text == off || e.text == sole || e.text == both) {
				key += e.text
			}
		}
		if key != c.key {
			t.Errorf("%s: the hatching means %q, not %q", c.what, key, c.key)
		}
		for _, s := range c.has {
			if !strings.Contains(all, s) {
				t.Errorf("%s: %q is not in %s", c.what, s, all)
			}
		}
		for _, s := range c.not {
			if strings.Contains(all, s) {
				t.Errorf("%s: %q is in %s", c.what, s, all)
			}
		}
	}
}

// In whatever order the feet are written, their words stand in the order of the feet along the machine, on their side of it.
func TestFeetWordsInOrder(t *testing.T) {
	names, along := []string{"front 9", "front 3", "rear 9", "rear 3"}, []int{0, 0, 1, 1}
	for _, order := range [][]int{{0, 1, 2, 3}, {3, 2, 1, 0}, {2, 0, 3, 1}} {
		text := "Machine,Foot,Across,Gap\n"
		for _, k := range order {
			text += "P1," + names[k] + "," + []string{"-250", "250"}[k%2] + ",0.01\n"
		}
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: oneMachine, job.FeetSheet: text})
		ev.Count()
		list := parse(t, FeetPlan(nil, ev, 0, Options{Width: 1000}))
		if all := said(list); !strings.Contains(all, " 710 mm") || strings.Contains(all, "-710") {
			t.Errorf("%v: no 710 mm between the feet in %s", order, all)
		}
		at := map[string][2]float64{}
		for i := range list {
			if e := &list[i]; e.name == "text" && slices.Contains(names, e.text) {
				at[e.text] = [2]float64{e.num(t, "x"), e.num(t, "y")}
			}
		}
		for k, a := range names {
			for j, b := range names {
				if along[k] < along[j] && k%2 == j%2 && !(at[a][0] < at[b][0]) || k%2 == 1 && j%2 == 0 && !(at[a][1] < at[b][1]) {
					t.Errorf("%v: %s stands at %v, %s at %v", order, a, at[a], b, at[b])
				}
			}
		}
	}
}

// A text is cut into lines without losing a letter: no line is wider than its room unless one letter is, and each is cut at a blank where it has one; broken text too.
func TestFitLosesNothing(t *testing.T) {
	for _, s := range []string{"", "a", "The piping pulls: freeing the flanges changed the rise.", strings.Repeat("W", 60), "Übermäßig lange Gehäuseteilfugen", "日本語のポンプ室 第二", "a\xffb\xfe\xff", "\xff", "  two  blanks  ", "\u2028x"} {
		for _, room := range []float64{1, 9, 20, 55, 140, 1000} {
			rest, parts := strings.TrimLeft(s, " "), 0
			for rest != "" {
				line := fit(rest, fontText, room)
				if line == "" || !strings.HasPrefix(rest, line) || parts > 200 {
					t.Fatalf("%q in %g: %q of %q", s, room, line, rest)
				}
				letters := 0
				for range line {
					letters++
				}
				if width(line, fontText) > room+0.01 && letters > 1 {
					t.Errorf("%q in %g: the line %q takes %g", s, room, line, width(line, fontText))
				}
				if more := rest[len(line):]; more != "" && more[0] != ' ' && strings.Contains(strings.TrimRight(line, " "), " ") {
					t.Errorf("%q in %g: %q is cut in a word", s, room, line)
				}
				rest = strings.TrimLeft(rest[len(line):], " ")
				parts++
			}
		}
	}
}

// The readings of a row that came to no line are drawn without a curve, and that is said; readings that are all alike have an axis all the same.
func TestSweepsWithoutALine(t *testing.T) {
	head := "Machine,Method,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable sweep,Stationary sweep\n"
	for _, c := range []struct {
		mov, stat string
		curve     bool
	}{{"0:0 90:0.1 180:0.2 270:0.1", "0:0 45:0.01", false}, {"0:0 90:0 180:0 270:0", "0:0 90:0 180:0 270:0", true}, {"0:0.3 90:0.3 180:0.3 270:0.3", "0:0 90:0.1 180:0.2 270:0.1", true}} {
		ev := jobOf(t, head+"P,reverse indicator,1480,110,130,480,710,"+c.mov+","+c.stat+"\n", false)
		list := parse(t, Sweeps(nil, ev, 0, Options{Width: 700}))
		checkLayout(t, c.mov, list, 26)
		all := said(list)
		curves, dots := 0, 0
		for i := range list {
			switch e := &list[i]; {
			case e.attr["class"] == "d-curve":
				curves++
			case e.name == "circle" && e.inside["data-sweep"] != "":
				dots++
			}
		}
		if (curves == 2) != c.curve || strings.Contains(all, "No curve") == c.curve || strings.Contains(list[2].text, "No curve") == c.curve || dots != strings.Count(c.mov+c.stat, ":") {
			t.Errorf("%s and %s: %d curves, %d dots: %s", c.mov, c.stat, curves, dots, all)
		}
	}
}

// The fan of the slope limit begins at the wanted place at the coupling and ends in the view, at its edge or before, wherever that place is; the limits of the offset stand to either side of it.
func TestFanAboutTheWantedPlace(t *testing.T) {
	names, cells := lineCells(knownMachines[0])
	for _, off := range []string{"0.3,-0.2", "-0.4,0.3", "0,0"} {
		ev := jobOf(t, machineText(names+",Offset limit,Slope limit,Running offset V,Running offset H,Running slope V,Running slope H", cells+",0.09,0.4,"+off+",0,0"), false)
		if w := ev.Row(0).Wanted; w.DV == 0 && off != "0,0" {
			t.Fatalf("the wanted line is %+v: %v", w, ev.Row(0).Problems)
		}
		list := parse(t, Machine(nil, ev, 0, Options{Width: 900}))
		fans := 0
		for i := range list {
			e := &list[i]
			if e.inside["data-across"] == "" || e.attr["class"] != "d-limit" || !strings.Contains(e.attr["stroke-dasharray"], "1.5 3") {
				continue
			}
			fans++
			y0, across := number(t, e, "data-y0"), number(t, e, "data-across")*96/25.4
			want := ev.Row(0).Wanted.DV
			if e.inside["data-view"] == "top" {
				want = ev.Row(0).Wanted.DH
			}
			xy := coords(t, e.attr["d"])
			low, high := math.Inf(1), math.Inf(-1) // of what else is drawn in the view
			for k := range list {
				if q := &list[k]; q.inside["data-view"] == e.inside["data-view"] && q.inside["data-across"] != "" && q.attr["class"] == "d-body" {
					for _, s := range strokes(t, q) {
						low, high = min(low, s[1], s[3]), max(high, s[1], s[3])
					}
				}
			}
			if math.Abs(xy[1]-(y0-want*across)) > 0.05 || xy[3] < low-1 || xy[3] > high+1 {
				t.Errorf("%s: a line of the fan from %.1f to %.1f, the wanted place is at %.1f, the view from %.1f to %.1f", off, xy[1], xy[3], y0-want*across, low, high)
			}
		}
		if fans != 4 {
			t.Errorf("%s: %d lines of fans", off, fans)
		}
	}
}

// number is a number that a group of the drawing holds.
func number(t *testing.T, e *element, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.inside[key], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Letters of every alphabet stand in a drawing as they are; what XML cannot hold, and marks that turn the direction of what follows, become a replacement sign.
func TestLettersOfNames(t *testing.T) {
	for name, want := range map[string]string{"ポンプ 第二": "ポンプ 第二", "ﬁlter": "ﬁlter", "豈 mill": "豈 mill", "pump 😀": "pump 😀", "Ω ≥ Å": "Ω ≥ Å", "a\u202eb": "a\ufffdb", "a\u2066b": "a\ufffdb", "a\uffffb": "a\ufffdb", "a\x01b": "a\ufffdb", "a\u007fb": "a\ufffdb", "\ue000x": "\ue000x"} {
		text := strings.Replace(oneMachine, "P1,", quoted(name)+",", 1)
		ev := jobOf(t, text, false)
		if got := ev.Row(0).Name; got != name {
			continue // the sheet takes it for something else
		}
		if list := parse(t, Machine(nil, ev, 0, Options{Width: 700})); !strings.Contains(list[1].text, want) {
			t.Errorf("%q is drawn as %q", name, list[1].text)
		}
	}
	for r, want := range map[string]string{"<": "&lt;", ">": "&gt;", "&": "&amp;", `"`: "&quot;", "\t": " ", "\n": " ", "\u00a0": "\u00a0", "\u009f": "\ufffd", "\ufffd": "\ufffd", "\ue000": "\ue000", "\ufb01": "\ufb01", "\U0001f600": "\U0001f600", "\ufffe": "\ufffd", "\u202a": "\ufffd",
		"\u202f": "\u202f", "\u2069": "\ufffd", "\u206a": "\u206a", " ": " ", "~": "~"} {
		if got := string(appendEscaped(nil, r)); got != want {
			t.Errorf("%q becomes %q, not %q", r, got, want)
		}
	}
}

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

// Growth: each support has its parts standing on each other on its own piece of ground, to one scale, the highest stack as high as the place; a letter in each that is high enough, explained below in that order; an arrow from
// the cold line to the running one where that can be seen, a short stroke about the cold line where not; its words under its station. The view holds all lines, and no more room than they need.
func TestGrowthRead(t *testing.T) {
	names, cells := lineCells(knownMachines[0])
	for _, c := range []struct {
		name, growth string
		stat         [2]float64
		heights      map[string][]float64 // of the parts at each support, from below
		v, h         map[string]float64
	}{
		{"four", "P,movable front,frame,200,12,20,70,0.05\nP,movable front,base,300,11,20,35,\nP,movable rear,frame,150,12,20,60,-0.02\nP,stationary near,casing,400,10.5,20,90,0.03\nP,stationary far,casing,40,10.5,20,80,0.07\n", [2]float64{300, 800},
			map[string][]float64{"movable front": {200, 300}, "movable rear": {150}, "stationary near": {400}, "stationary far": {40}},
			map[string]float64{"movable front": 200*12e-6*50 + 300*11e-6*15, "movable rear": 150 * 12e-6 * 40, "stationary near": 400 * 10.5e-6 * 70, "stationary far": 40 * 10.5e-6 * 60},
			map[string]float64{"movable front": 0.05, "movable rear": -0.02, "stationary near": 0.03, "stationary far": 0.07}},
		{"two", "P,movable front,frame,200,12,70,20,\nP,movable rear,frame,200,12,20,60,\n", [2]float64{}, map[string][]float64{"movable front": {200}, "movable rear": {200}},
			map[string]float64{"movable front": -0.12, "movable rear": 0.096}, nil},
		{"aside", "P,movable front,frame,200,12,20,70,0.05\nP,movable rear,frame,200,12,20,70,\n", [2]float64{}, map[string][]float64{"movable front": {200}, "movable rear": {200}}, map[string]float64{"movable front": 0.12, "movable rear": 0.12},
			map[string]float64{"movable front": 0.05, "movable rear": 0}},
		{"still", "P,movable front,frame,200,12,20,20,\nP,movable rear,frame,200,12,20,20,\n", [2]float64{}, map[string][]float64{"movable front": {200}, "movable rear": {200}}, map[string]float64{"movable front": 0, "movable rear": 0}, nil},
		{"tall", "P,movable front,frame,30,12,20,900,\nP,movable rear,frame,30,12,20,900,\nP,stationary near,casing,900,11,20,420,\nP,stationary far,casing,900,11,20,420,\n", [2]float64{300, 800},
			map[string][]float64{"movable front": {30}, "movable rear": {30}, "stationary near": {900}, "stationary far": {900}},
			map[string]float64{"movable front": 30 * 12e-6 * 880, "movable rear": 30 * 12e-6 * 880, "stationary near": 900 * 11e-6 * 400, "stationary far": 900 * 11e-6 * 400}, nil},
	} {
		more, values := names, cells
		if c.stat != [2]float64{} {
			more, values = more+",Stationary near support,Stationary far support", values+fmt.Sprintf(",%g,%g", c.stat[0], c.stat[1])
		}
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: machineText(more, values), job.GrowthSheet: "Machine,Support,Part,Height,Coefficient,Cold,Running,Growth H\n" + c.growth})
		ev.Count()
		station := map[string]float64{"movable front": toFront, "movable rear": toFront + frontToRear, "stationary near": -c.stat[0], "stationary far": -c.stat[1]}
		for _, w := range []float64{320, 480, 1000} {
			where := fmt.Sprintf("%s at %g", c.name, w)
			list := parse(t, GrowthFigure(nil, ev, 0, Options{Width: w}))
			checkLayout(t, where, list, 32)
			all := said(list)
			if strings.Contains(all, "Top view") != (c.h != nil) {
				t.Errorf("%s: a top view in %s", where, all)
			}
			if w == 1000 && !strings.Contains(all, "stationary machine (stays) P (moves)") {
				t.Errorf("%s: who stands where is not said in %s", where, all)
			}
			stated := ""
			for i := range list {
				if e := &list[i]; e.inside["data-across"] != "" {
					stated = "Scale at full size: along 1 : " + e.inside["data-along"] + ", across × " + e.inside["data-across"] + " "
				}
			}
			if !strings.Contains(all, stated) || !strings.Contains(all, " mm across ") {
				t.Errorf("%s: %q is not stated in %s", where, stated, all)
			}
			if n := strings.Count(all, "growth of a support"); n != 1 {
				t.Errorf("%s: the arrow is %d times in the key", where, n)
			}
			readGrowth(t, where, list, w, station, c.heights, c.v, c.h)
		}
	}
}

func readGrowth(t *testing.T, where string, list []element, w float64, station map[string]float64, heights map[string][]float64, growV, growH map[string]float64) {
	t.Helper()
	for _, view := range []string{"side", "top"} {
		var y0, x0, along, across, right float64
		low, high := math.Inf(1), math.Inf(-1) // of the lines
		var cold, hot [][4]float64             // of the movable machine, then the stationary
		var arrows, strokesOf [][4]float64
		var texts []element
		for i := range list {
			e := &list[i]
			if e.inside["data-view"] != view {
				continue
			}
			if e.name == "text" {
				texts = append(texts, *e)
			}
			if e.inside["data-across"] == "" {
				continue
			}
			y0, x0, along, across = number(t, e, "data-y0"), number(t, e, "data-x0"), 96/25.4/number(t, e, "data-along"), number(t, e, "data-across")*96/25.4
			switch class := e.attr["class"]; {
			case class == "d-wanted":
				cold = append(cold, strokes(t, e)...)
			case class == "d-after":
				hot = append(hot, strokes(t, e)...)
			case class == "d-datum":
				right = e.num(t, "x2")
			case class == "d-do" && e.name == "line":
				arrows = append(arrows, strokes(t, e)...)
			case class == "d-lead" && e.name == "line":
				strokesOf = append(strokesOf, strokes(t, e)...)
			case class == "d-body":
				if s := strokes(t, e)[0]; s[0] != s[2] || math.Abs(s[0]-x0) > 0.01 || math.Abs((s[1]+s[3])/2-y0) > 0.01 || math.Abs(math.Abs(s[3]-s[1])-20) > 0.01 {
					t.Errorf("%s, %s: the coupling %v", where, view, s)
				}
			}
		}
		if right == 0 {
			continue
		}
		for _, s := range append(append([][4]float64{}, cold...), hot...) {
			low, high = min(low, s[1], s[3]), max(high, s[1], s[3])
		}
		if l, room := right-12, w-76; l > room+10.01 || l < room/1.25-12 {
			t.Errorf("%s, %s: %.1f long, there is room for %.1f", where, view, l, room)
		}
		grow := growV
		if view == "top" {
			grow = growH
		}
		if len(cold) != 1 || len(hot) < 1 {
			t.Fatalf("%s, %s: lines %v and %v", where, view, cold, hot)
		}
		at := func(l [4]float64, x float64) float64 { return l[1] + (l[3]-l[1])*(x-l[0])/(l[2]-l[0]) }
		for name, g := range grow {
			x := x0 + station[name]*along
			from, to := y0, y0
			if strings.HasPrefix(name, "movable") {
				from, to = at(cold[0], x), at(hot[len(hot)-1], x)
			} else if len(hot) == 2 {
				to = at(hot[0], x)
			}
			if math.Abs(from-to-g*across) > 0.05 {
				t.Errorf("%s, %s: %s goes from %.2f to %.2f, by hand by %.2f", where, view, name, from, to, g*across)
			}
			arrow := slices.ContainsFunc(arrows, func(a [4]float64) bool {
				return math.Abs(a[0]-x) < 0.02 && a[0] == a[2] && math.Abs(a[1]-from) < 0.02 && math.Abs(a[3]-to) < 0.02
			})
			if arrow != (math.Abs(from-to) > 4) {
				t.Errorf("%s, %s: an arrow at %s, from %.2f to %.2f: %v", where, view, name, from, to, arrows)
			}
			if !slices.ContainsFunc(strokesOf, func(s [4]float64) bool {
				return math.Abs(s[0]-x) < 0.02 && s[0] == s[2] && math.Abs((s[1]+s[3])/2-from) < 0.02 && math.Abs(s[3]-s[1]) > 8
			}) {
				t.Errorf("%s, %s: nothing marks %s at %.1f, %.1f: %v", where, view, name, x, from, strokesOf)
			}
			// In words, under the station where there is room, else in a list.
			word := map[bool]string{true: "rises ", false: "sinks "}[g >= 0] + strconv.FormatFloat(math.Abs(g), 'f', 3, 64) + " mm"
			if view == "top" && g == 0 {
				word = "stays"
			} else if view == "top" {
				word = strconv.FormatFloat(math.Abs(g), 'f', 3, 64) + " mm"
			}
			k := slices.IndexFunc(texts, func(e element) bool { return e.text == name })
			if k >= 0 {
				next := texts[k+1]
				if next.text != word || next.attr["x"] != texts[k].attr["x"] || math.Abs(next.num(t, "y")-texts[k].num(t, "y")-15) > 0.01 || texts[k].num(t, "y") < high {
					t.Errorf("%s, %s: under %s stands %q, not %q", where, view, name, next.text, word)
				}
			} else if !strings.Contains(said(texts), name+": "+word) {
				t.Errorf("%s, %s: %s: %s is not said in %s", where, view, name, word, said(texts))
			}
			if view == "top" && g != 0 && !strings.Contains(said(texts), "towards "+map[bool]string{true: "river", false: "hill"}[g > 0]) {
				t.Errorf("%s: %s", where, said(texts))
			}
		}
		if view == "side" {
			readStacks(t, where, list, station, heights, x0, along, max(high, y0))
		}
	}
	// As many px a mm as go into the view, by 1, 2, 5.
	most := 0.0
	mag := 0.0
	for i := range list {
		if e := &list[i]; e.inside["data-across"] != "" && (e.attr["class"] == "d-wanted" || e.attr["class"] == "d-after") {
			mag = number(t, e, "data-across")
			for _, s := range strokes(t, e) {
				most = max(most, math.Abs(s[1]-number(t, e, "data-y0")), math.Abs(s[3]-number(t, e, "data-y0")))
			}
		}
	}
	next := 2.0
	if strings.HasPrefix(strconv.FormatFloat(mag, 'g', -1, 64), "2") {
		next = 2.5
	}
	if most > 62.01 || most > 0 && mag < 2000 && most*next < 61.9 || mag > 2000 || most == 0 && mag != 100 {
		t.Errorf("%s: the lines go %.2f px from the datum, × %g", where, most, mag)
	}
}

func readStacks(t *testing.T, where string, list []element, station map[string]float64, heights map[string][]float64, x0, along, below float64) {
	t.Helper()
	var parts [][4]float64
	var grounds, leads [][4]float64
	var teeth [][4]float64
	var letters []textBox
	for i := range list {
		e := &list[i]
		if e.inside["data-parts"] == "" {
			continue
		}
		switch {
		case e.name == "rect":
			parts = append(parts, box(t, e))
		case e.name == "text":
			letters = append(letters, boxes(t, list[i:i+1])[0])
		case e.name == "line" && e.attr["class"] == "d-ground":
			grounds = append(grounds, strokes(t, e)[0])
		case e.attr["class"] == "d-ground":
			teeth = append(teeth, strokes(t, e)...)
		case e.attr["class"] == "d-lead":
			leads = append(leads, strokes(t, e)[0])
		}
	}
	most, count := 0.0, 0
	for _, h := range heights {
		sum := 0.0
		for _, p := range h {
			sum += p
			count++
		}
		most = max(most, sum)
	}
	if len(parts) != count || len(grounds) != len(heights) || len(leads) != len(heights) {
		t.Fatalf("%s: %d parts, %d grounds and %d lines for %v", where, len(parts), len(grounds), len(leads), heights)
	}
	for name, h := range heights {
		x := x0 + station[name]*along
		g := slices.IndexFunc(grounds, func(s [4]float64) bool { return math.Abs((s[0]+s[2])/2-x) < 0.02 })
		if g < 0 || grounds[g][1] != grounds[0][1] || math.Abs(grounds[g][2]-grounds[g][0]-40) > 0.01 {
			t.Fatalf("%s: %s has no ground at %.1f: %v", where, name, x, grounds)
		}
		ground := grounds[g]
		n := 0
		for _, s := range teeth {
			if s[0] >= ground[0] && s[0] <= ground[2] && math.Abs(s[1]-ground[1]) < 0.01 {
				if n++; s[3]-s[1] != 4 && math.Abs(s[3]-s[1]-4) > 0.01 || math.Abs(s[0]-s[2]-4) > 0.01 {
					t.Errorf("%s: a tooth %v", where, s)
				}
			}
		}
		at := ground[1]
		for k, p := range h {
			want := [4]float64{x - 10, at - p/most*78, x + 10, at}
			if !slices.ContainsFunc(parts, func(b [4]float64) bool {
				return math.Abs(b[0]-want[0])+math.Abs(b[1]-want[1])+math.Abs(b[2]-want[2])+math.Abs(b[3]-want[3]) < 0.05
			}) {
				t.Errorf("%s: part %d at %s is not at %.1f: %.1f", where, k, name, want, parts)
			}
			letter := slices.ContainsFunc(letters, func(b textBox) bool {
				return b.text == string(rune('a'+k)) && math.Abs((b.x0+b.x1)/2-x) < 0.02 && math.Abs((b.y0+b.y1)/2-(want[1]+want[3])/2) < 2
			})
			if letter != (want[3]-want[1] >= 13) || n < 4 {
				t.Errorf("%s: part %d at %s, %.1f px high, has a letter: %v; %d teeth", where, k, name, want[3]-want[1], letter, n)
			}
			at = want[1]
			if all := said(list); !strings.Contains(all, fmt.Sprintf("%s (%c), ", name, 'a'+k)) {
				t.Errorf("%s: part %c at %s is not explained in %s", where, 'a'+k, name, all)
			}
		}
		if !slices.ContainsFunc(leads, func(s [4]float64) bool {
			return math.Abs(s[0]-x) < 0.02 && s[0] == s[2] && math.Abs(s[3]-at) < 0.02 && s[1] < s[3]+0.01 && s[1] > below && s[1] <= grounds[0][1]-78+0.02-8
		}) {
			t.Errorf("%s: no line leads down to the parts at %s, %.1f, %.1f: %v, lines to %.1f", where, name, x, at, leads, below)
		}
	}
}

// ladder gives the largest of 1, 2, 5 times a power of ten that is not above, denominator the least of its steps that is not below: tried about every step, over many powers of ten, against a list that is written down.
func TestLadders(t *testing.T) {
	var steps []float64
	for e := -12; e <= 12; e++ {
		for _, m := range []float64{1, 2, 5} {
			v, _ := strconv.ParseFloat(fmt.Sprintf("%ge%d", m, e), 64)
			steps = append(steps, v)
		}
	}
	for k := 1; k+1 < len(steps); k++ {
		for f, want := range map[float64]float64{1: steps[k], 1 + 1e-9: steps[k], 1 - 1e-9: steps[k-1], 1.3: steps[k], 1 - 1e-14: steps[k], 1.999: steps[k]} {
			if f == 1.3 || f == 1.999 {
				if x := steps[k] * f; x >= steps[k+1] {
					continue
				}
			}
			if got := ladder(steps[k] * f); got != want {
				t.Errorf("ladder(%g · %g) is %g, not %g", steps[k], f, got, want)
			}
		}
	}
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1)} {
		if ladder(x) != 1 {
			t.Errorf("ladder(%g) is %g", x, ladder(x))
		}
	}
	of := []float64{1, 1.2, 1.4, 1.6, 1.8, 2, 2.2, 2.5, 2.8, 3.2, 3.6, 4, 4.5, 5, 5.5, 6, 7, 8, 9, 10}
	for e := -6; e <= 6; e++ {
		p := math.Pow(10, float64(e))
		for k := 1; k < len(of); k++ {
			for f, want := range map[float64]float64{1: of[k], 1 - 1e-9: of[k], 1 + 1e-14: of[k]} {
				if got := denominator(of[k] * p * f); math.Abs(got-want*p) > 1e-9*got {
					t.Errorf("denominator(%g · %g) is %g", of[k]*p, f, got)
				}
			}
			if got := denominator(of[k-1] * p * (1 + 1e-9)); math.Abs(got-of[k]*p) > 1e-9*got {
				t.Errorf("denominator just above %g is %g", of[k-1]*p, got)
			}
		}
	}
}

// spread keeps order and sizes, moves nothing that has room, nothing further than it must, and says when there is no room: against every arrangement of three on a small grid.
func TestSpreadMovesLittle(t *testing.T) {
	if at := []float64{5, 5}; spread(at, []float64{6, 6}, 0, 11.9) || at[0] != 5 {
		t.Errorf("no room, and yet %v", at)
	}
	for _, c := range []struct{ at, size, want []float64 }{
		{[]float64{20, 50}, []float64{10, 10}, []float64{20, 50}}, {[]float64{-5, 50}, []float64{10, 10}, []float64{5, 50}}, {[]float64{20, 130}, []float64{10, 20}, []float64{20, 90}},
		{[]float64{20, 22}, []float64{10, 20}, []float64{20, 35}}, {[]float64{95, 96, 97}, []float64{10, 10, 10}, []float64{75, 85, 95}}, {[]float64{1, 2, 99}, []float64{10, 10, 80}, []float64{5, 15, 60}},
	} {
		at := slices.Clone(c.at)
		if !spread(at, c.size, 0, 100) || !slices.Equal(at, c.want) {
			t.Errorf("%v with %v becomes %v, not %v", c.at, c.size, at, c.want)
		}
	}
}

// A coordinate is written with three digits behind the point at the most, rounded to the nearest, and read back as that number.
func TestCoordinates(t *testing.T) {
	for _, v := range []float64{0, 1, -1, 0.5, -0.5, 0.001, 0.0004, -0.0004, 0.0006, 12.3456, -12.3454, 0.01, 0.1, 0.12, 0.102, 0.999, 0.9996, 123456.789, -99.01, 1e6 - 1, 2400} {
		s := string(appendCoord(nil, v))
		got, err := strconv.ParseFloat(s, 64)
		if err != nil || math.Abs(got-v) > 0.00051 || s != "-0" && s != strconv.FormatFloat(math.Round(v*1000)/1000+0, 'f', -1, 64) {
			t.Errorf("%g is written %q", v, s)
		}
	}
	for _, v := range []float64{1e6, -1e6, math.NaN(), math.Inf(1)} {
		if s := string(appendCoord(nil, v)); s != "0" {
			t.Errorf("%g is written %q", v, s)
		}
	}
}

// A drawing of its own has what a file needs: the declaration, the style sheet and a ground as large as it is, and is otherwise the one in the page.
func TestStandalone(t *testing.T) {
	ev := allKinds(t, false)
	for i := range ev.Len() {
		svg, file := string(Machine(nil, ev, i, Options{Width: 700})), string(Machine(nil, ev, i, Options{Width: 700, Standalone: true}))
		if !strings.HasPrefix(file, `<?xml version="1.0" encoding="UTF-8"?>`+"\n<svg ") || strings.Contains(svg, "<?xml") || strings.Contains(svg, "<style>") || strings.Contains(svg, "d-paper") || strings.Contains(svg, "font-family") || !strings.Contains(file, "sans-serif") {
			t.Errorf("%s: %.200s", ev.Row(i).Name, file)
		}
		list, of := parse(t, []byte(file)), parse(t, []byte(svg))
		style, ground := 0, 0
		for k := range list {
			switch e := &list[k]; {
			case e.name == "style":
				style++
				if strings.Join(strings.Fields(e.text), " ") != strings.Join(strings.Fields(CSS), " ") {
					t.Errorf("the style sheet is %.200s", e.text)
				}
			case e.attr["class"] == "d-paper":
				ground++
				if box(t, e) != [4]float64{0, 0, of[0].num(t, "width"), of[0].num(t, "height")} || e.attr["fill"] != "#fff" {
					t.Errorf("the ground is %v", e.attr)
				}
			}
		}
		if style != 1 || ground != 1 || len(list) != len(of)+2 || said(list) != said(of) {
			t.Errorf("%s: %d style sheets, %d grounds, %d elements, %d without", ev.Row(i).Name, style, ground, len(list), len(of))
		}
	}
}

// A text that is cut short has the whole of it in a title; letters are as wide as their class says, digits all alike; a bold letter is wider.
func TestShortenedTexts(t *testing.T) {
	const long = "The long pump at the end of the lower gallery"
	cut := 0
	for _, name := range []string{long, "Kurz"} {
		ev := jobOf(t, strings.Replace(oneMachine, "P1,", name+",", 1), false)
		ev.Count()
		for _, w := range []float64{300, 760} {
			list := parse(t, Overview(nil, ev, nil, Options{Width: w}))
			for i := range list {
				e := &list[i]
				if e.name != "text" || !strings.HasSuffix(e.text, "…") {
					continue
				}
				cut++
				if title := list[i+1]; title.name != "title" || title.text != long || !strings.HasPrefix(long, strings.TrimSuffix(e.text, "…")) || strings.HasSuffix(e.text, " …") {
					t.Errorf("%q is cut from %q", e.text, title.text)
				}
			}
		}
	}
	if cut == 0 {
		t.Error("nothing is cut")
	}
	for _, f := range []font{fontText, fontNum, fontSoft} {
		for _, s := range []string{"mill", "WWW", "a b c d e f", "日本語のポンプ", "x"} {
			for room := 1.0; room < 200; room += 7 {
				got := shorten(s, f, room)
				whole := width(s, f) <= room
				if (got == s) != whole && got != s[:len(got)] || whole && got != s || !whole && len(got) < len(s) && width(got, f)+0.7*f.factor() > room+0.01 && got != "" || strings.HasSuffix(got, " ") {
					t.Errorf("%q in %g: %q", s, room, got)
				}
			}
		}
		if shorten("anything", f, 0) != "anything" || shorten("anything", f, -3) != "anything" {
			t.Error("without a room it is cut")
		}
		for d := '1'; d <= '9'; d++ {
			if width(string(d), f) != width("0", f) {
				t.Errorf("%c is as wide as %g", d, width(string(d), f))
			}
		}
	}
	if !(width("mm", fontNum) > width("mm", fontText) && width("W", fontText) > width("i", fontText)) || width("日", fontText) < 11.9 {
		t.Error("widths")
	}
}

// The description of a machine says both scales, as the drawing has them; and a spacer coupling both its angles in each view, by hand.
func TestDescriptionAndAngles(t *testing.T) {
	for _, m := range knownMachines {
		head := "Machine,Coupling,Method,Speed,Spacer length,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
		ev := jobOf(t, head+fmt.Sprintf("S,spacer,line,1480,400,480,710,%g,%g,%g,%g\nF,short,line,1480,,480,710,%g,%g,%g,%g\nN,spacer,line,1480,,480,710,%g,%g,%g,%g\n", m.dv, m.dh, m.tv, m.th, m.dv, m.dh, m.tv, m.th, m.dv, m.dh, m.tv, m.th), false)
		for row := range 3 {
			list := parse(t, Machine(nil, ev, row, Options{Width: 900}))
			scale := ""
			views := map[string]string{}
			for i := range list {
				if e := &list[i]; e.name == "text" {
					views[e.inside["data-view"]] += e.text + " "
					if strings.HasPrefix(e.text, "Scale at full size: ") {
						scale = e.text
					}
				}
			}
			if scale == "" || !strings.HasSuffix(list[2].text, " "+scale+".") {
				t.Errorf("%q does not end with %q", list[2].text, scale)
			}
			for view, l := range map[string][2]float64{"side": {m.dv, m.tv}, "top": {m.dh, m.th}} {
				// The angle at the stationary plane is that of the spool; at the movable one the line's own slope takes off that.
				spool := (l[0] + l[1]*0.2) / 0.4
				_, after, has := strings.Cut(views[view], "Found: angle at the stationary flex plane ")
				if has != (row == 0) || strings.Contains(views[view], "Found: offset ") == has {
					t.Errorf("row %d: %s", row, views[view])
					continue
				}
				if !has {
					continue
				}
				s, rest, _ := strings.Cut(after, ", at the movable one ")
				a, err := strconv.ParseFloat(s, 64)
				b, err2 := strconv.ParseFloat(strings.Fields(rest)[0], 64)
				if err != nil || err2 != nil || math.Abs(math.Abs(a)-math.Abs(spool)) > 0.0051 || math.Abs(math.Abs(b)-math.Abs(l[1]-spool)) > 0.0051 || !strings.Contains(rest, " mm/m") {
					t.Errorf("%+v, %s: angles %q and %q, by hand %.3f and %.3f", m, view, s, rest, spool, l[1]-spool)
				}
			}
		}
	}
}

// The sketch on a card: the machines over their distances, the names over them; what is needed and not known has a line to write on behind its word; on a flange nothing is asked.
func TestCardSketchBlanks(t *testing.T) {
	const head = "Machine,Stationary,Coupling,Mounting,Method,Coupling to front feet,Front to rear feet,Coupling to flange,Bolt circle,Bolts,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for row, blanks := range map[string][]string{
		"P,gear,short,,line,480,710,,,,0.1,0.1,0,0": nil, "P,,short,,line,,,,,,0.1,0.1,0,0": {"Coupling to front feet", "Front to rear feet"}, "P,gear,short,,reverse indicator,480,,,,,,,,": {"Coupling to front feet", "Front to rear feet"},
		"P,gear,short,vertical flange,line,,,200,600,8,0.1,0.1,0,0": nil,
	} {
		ev := jobOf(t, head+row+"\n", false)
		ev.Count()
		for _, w := range []float64{280, 600} {
			list := parse(t, CardSketch(nil, ev, 0, Options{Width: w}))
			where := fmt.Sprintf("%s at %g", row, w)
			checkLayout(t, where, list, 22)
			var got []string
			var last, low float64
			for i := range list {
				e := &list[i]
				if e.name != "text" {
					for _, s := range strokes(t, e) {
						if e.attr["class"] != "d-lead" {
							low = max(low, s[1], s[3])
						}
					}
				}
				if e.name != "text" || e.text != "Coupling to front feet" && e.text != "Front to rear feet" {
					continue
				}
				got = append(got, e.text)
				l := strokes(t, &list[i+1])
				b := boxes(t, list[i:i+1])[0]
				if y := e.num(t, "y"); list[i+1].attr["class"] != "d-lead" || l[0][0]-b.x1 < 2 || l[0][0]-b.x1 > 10 || l[0][2] != w-8 || l[0][1] != l[0][3] || l[0][1]-y < 1 || l[0][1]-y > 4 || last > 0 && y-last != 20 || last == 0 && (y-low < 10 || y-low > 30) {
					t.Errorf("%s: %v after %.1f, drawn to %.1f, its line %v", where, b, last, low, l)
				}
				last = e.num(t, "y")
			}
			if !slices.Equal(got, blanks) {
				t.Errorf("%s: blanks %v, not %v", where, got, blanks)
			}
			stat := "gear (stays)"
			if strings.HasPrefix(row, "P,,") {
				stat = "stationary machine (stays)"
			}
			all := said(list)
			if w == 600 && !strings.Contains(all, stat) || !strings.Contains(all, "P (movable)") || list[1].text != "P: sketch with distances" || list[2].text != list[1].text+"." {
				t.Errorf("%s: %q, %s", where, list[1].text, all)
			}
			if right := strokesRight(t, list); right > w-8 || right < (w-24)/1.25-12 {
				t.Errorf("%s: it goes to %.1f", where, right)
			}
		}
	}
}

// strokesRight is where the axis of a drawing ends.
func strokesRight(t *testing.T, list []element) float64 {
	for i := range list {
		if e := &list[i]; e.attr["class"] == "d-datum" {
			return e.num(t, "x2")
		}
	}
	t.Fatal("no axis")
	return 0
}

// The mask of a code is chosen by the penalty of ISO/IEC 18004 (7.8.3, from memory): runs of five and more of one colour in rows and columns, squares of four alike, and the pattern of a finder with four light modules
// beside it; how many are dark is left out of ours. Here it is counted again, from the words of the rule.
func TestCodePenalty(t *testing.T) {
	for seed := range 60 {
		size := 9 + seed%17
		at := make([]bool, size*size)
		x := uint32(seed)*2654435761 + 1
		for k := range at {
			x = x*1664525 + 1013904223
			at[k] = x>>28 < uint32(4+seed%9)
		}
		if seed%5 == 0 { // a row with the finder's pattern, and long runs
			for k, c := range "0000101110100001011101111111" {
				if k < size {
					at[(seed%size)*size+k] = c == '1'
				}
			}
		}
		black := func(x, y int) bool { return at[y*size+x] }
		want := 0
		line := func(s string) {
			for k := 0; k < len(s); {
				n := 1
				for k+n < len(s) && s[k+n] == s[k] {
					n++
				}
				if n >= 5 {
					want += n - 2
				}
				k += n
			}
			for k := 0; k+11 <= len(s); k++ {
				if p := s[k : k+11]; p == "00001011101" || p == "10111010000" {
					want += 40
				}
			}
		}
		for i := range size {
			row, column := "", ""
			for k := range size {
				row += map[bool]string{true: "1", false: "0"}[black(k, i)]
				column += map[bool]string{true: "1", false: "0"}[black(i, k)]
			}
			line(row)
			line(column)
		}
		for y := 0; y+1 < size; y++ {
			for x := 0; x+1 < size; x++ {
				if black(x, y) == black(x+1, y) && black(x, y) == black(x, y+1) && black(x, y) == black(x+1, y+1) {
					want += 3
				}
			}
		}
		if got := codePenalty(size, black); got != want {
			t.Errorf("%d: a penalty of %d, counted again %d", seed, got, want)
		}
	}
}

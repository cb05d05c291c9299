package report

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calculators"
)

// The sketches of the calculators are fixed, so they are held by what a drawing of this kind must keep: every dimension ends on what it measures, every line that leads out to one begins at a part,
// every arrow and dimension has its symbol beside it, hatching goes evenly over what is hatched, and what is drawn is what the words say, no less.

// A stroke of a calculator's figure: a straight piece, and what it is of.
type calcStroke struct {
	s     [4]float64
	e     *element
	heads int // at how many of its ends an arrow's point is
}

// calcStrokes are the straight pieces of a figure without its heads; of a curve its end points only.
func calcStrokes(t *testing.T, list []element) (out []calcStroke) {
	for i := range list {
		e := &list[i]
		switch {
		case e.name == "path" && e.attr["class"] == "d-dim":
		case e.name == "path" && strings.ContainsAny(e.attr["d"], "QACS"):
			xy := coordinate.FindAllString(e.attr["d"], -1)
			num := func(k int) float64 { v, _ := strconv.ParseFloat(xy[k], 64); return v }
			n := len(xy)
			out = append(out, calcStroke{[4]float64{num(0), num(1), num(0), num(1)}, e, 0}, calcStroke{[4]float64{num(n - 2), num(n - 1), num(n - 2), num(n - 1)}, e, 0})
		default:
			for _, s := range strokes(t, e) {
				out = append(out, calcStroke{s, e, 0})
			}
		}
	}
	for i := range out {
		for _, end := range [2][2]float64{{out[i].s[0], out[i].s[1]}, {out[i].s[2], out[i].s[3]}} {
			if slices.ContainsFunc(list, func(e element) bool {
				tip := []float64{math.NaN(), 0}
				if e.name == "path" && e.attr["class"] == "d-dim" {
					tip = coords(t, e.attr["d"])
				}
				return math.Hypot(tip[0]-end[0], tip[1]-end[1]) < 0.01
			}) {
				out[i].heads++
			}
		}
	}
	return out
}

// from is how far a point is from a stroke.
func from(s [4]float64, x, y float64) float64 {
	dx, dy := s[2]-s[0], s[3]-s[1]
	k := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		k = min(max(((x-s[0])*dx+(y-s[1])*dy)/l, 0), 1)
	}
	return math.Hypot(x-s[0]-k*dx, y-s[1]-k*dy)
}

// beside is how far a word is from a stroke, at the nearest of some places along it.
func (b textBox) beside(s [4]float64) float64 {
	least := math.Inf(1)
	for k := 0.0; k <= 1; k += 0.05 {
		x, y := s[0]+k*(s[2]-s[0]), s[1]+k*(s[3]-s[1])
		least = min(least, math.Hypot(max(b.x0-x, x-b.x1, 0), max(b.y0-y, y-b.y1, 0)))
	}
	return least
}

func TestCalculatorDimensions(t *testing.T) {
	dims, outs := 0, 0
	for _, key := range CalculatorFigureKeys() {
		list := figure(t, CalculatorFigure(key))
		all, texts := calcStrokes(t, list), boxes(t, list)
		near := func(s [4]float64) float64 {
			least := math.Inf(1)
			for _, b := range texts {
				least = min(least, b.beside(s))
			}
			return least
		}
		for i, d := range all {
			class := d.e.attr["class"]
			if class == "d-do" && d.e.name == "line" {
				if near(d.s) > 46 { // one of four that share theirs

					t.Errorf("%s: no word beside the arrow %v", key, d.s)
				}
				continue
			}
			if class != "d-dim" {
				continue
			}
			if d.heads == 2 {
				dims++
				if near(d.s) > 10 {
					t.Errorf("%s: no symbol beside the dimension %v", key, d.s)
				}
			}
			for end := range 2 {
				x, y := d.s[2*end], d.s[2*end+1]
				ox, oy := d.s[2-2*end], d.s[3-2*end]
				if out := key == "uncertainty" && y == 54; d.heads == 2 && !out { // it ends on a line that runs across it
					if !slices.ContainsFunc(all, func(o calcStroke) bool {
						across := math.Abs((o.s[2]-o.s[0])*(ox-x)+(o.s[3]-o.s[1])*(oy-y)) <= 0.45*math.Hypot(o.s[2]-o.s[0], o.s[3]-o.s[1])*math.Hypot(ox-x, oy-y)
						return o.e != d.e && across && from(o.s, x, y) < 2.6
					}) {
						t.Errorf("%s: the dimension %v ends at %g, %g on nothing", key, d.s, x, y)
					}
				}
			}
			if d.heads > 0 {
				continue
			}
			outs++
			// One end at a part, the other at a dimension or a word.
			part, led := false, false
			for end := range 2 {
				x, y := d.s[2*end], d.s[2*end+1]
				for k, o := range all {
					if k == i {
						continue
					}
					if o.e.attr["class"] != "d-dim" && from(o.s, x, y) < 9 {
						part = true
					}
				}
			}
			for k, o := range all {
				if k != i && o.e.attr["class"] == "d-dim" && min(from(d.s, o.s[0], o.s[1]), from(d.s, o.s[2], o.s[3])) < 0.6 {
					led = true
				}
			}
			if !part || !led && near(d.s) > 9.5 {
				t.Errorf("%s: the line %v leads from a part: %v, to a dimension: %v, nearest word %.1f", key, d.s, part, led, near(d.s))
			}
		}
	}
	if dims < 18 || outs < 24 {
		t.Errorf("%d dimensions, %d lines out to them", dims, outs)
	}
}

// What is drawn is named in the words for who cannot see it, and in the formula of a calculator that has the figure; and what the words name is drawn: symbols by this list, parts by their number, counted by hand from
// the words and the picture.
func TestCalculatorFigureParts(t *testing.T) {
	formulas := map[string]string{}
	for _, c := range calculators.All() {
		formulas[c.Figure] += " " + c.Formula.String()
	}
	for key, want := range map[string]struct{ symbols, parts string }{
		// Two rulers with 17 and 28 divisions; the line through the inch.
		"convert": {"0|0|1 in|25.4 mm", "d-axis line 47, d-datum line 1"},
		// Clamp and mass, both edges of the tube, its section of two circles; four arrows of weight and one of the mass; the straight axis; out to δ, and twice to L; δ and L; five hatches.
		"droop": {"D, d|L|P|m|w|δ", "d-body rect 2, d-body path 2, d-body circle 2, d-do line 5, d-datum line 1, d-hatch line 5, d-dim line 5, d-dim path 9"},
		// The hub, its two axes, both centres and the line between them; out to H twice and to V; H and V.
		"tir": {"H|R12|R3|R6|R9|V", "d-body circle 1, d-datum line 2, d-mark circle 1, d-offset circle 1, d-offset line 1, d-dim line 5, d-dim path 4"},
		// Two hubs with an axis each; out to each gap twice, to D twice; both gaps and D, heads at two of them; the arc.
		"gap": {"D|gap at 12|gap at 6|θ", "d-body rect 1, d-body path 1, d-datum line 1, d-found line 1, d-dim line 9, d-dim path 4, d-slope path 1"},
		// Two parts on the ground with its 15 teeth, the shaft cold and hot with an axis each; out to the heights twice; g, h1, h2.
		"growth": {"g|h1|h2|α1, ΔT1|α2, ΔT2", "d-ground line 16, d-body rect 2, d-body circle 1, d-after circle 1, d-datum line 1, d-after line 1, d-dim line 5, d-dim path 6"},
		// Head, shank, nut, two plates, four threads, axis; two forces with their heads, the turn with its head; out to d and P twice each; d.
		"bolt": {"F|F|P|T|d", "d-body rect 3, d-ground rect 2, d-body line 4, d-datum line 1, d-do line 2, d-do path 1, d-dim line 5, d-dim path 5"},
		// Both shafts, the axis of each going on, the spacer between two flex planes; three arcs of angles; the leader of one; out to θ, to L twice; d and L.
		"flex": {"L|d|αM|αS|θ", "d-datum line 1, d-body line 1, d-spool line 1, d-found line 2, d-mark circle 2, d-slope path 3, d-lead line 1, d-dim line 5, d-dim path 4"},
		// Shaft and hub of either machine, three pieces of bracket with the dial and its plunger; the axes; out to x twice and to V(x); x and V(x).
		"wanted": {"R(φ)|V(x)|x", "d-datum line 1, d-body rect 2, d-body path 2, d-wanted line 1, d-body line 4, d-body circle 1, d-dim line 5, d-dim path 4"},
		// A scale with eleven lines, a pointer with its head; the curve on its base; out to g twice; g and s.
		"uncertainty": {"g|reading|s", "d-axis line 13, d-mark line 1, d-curve path 1, d-dim line 4, d-dim path 5"},
		// Machine, two feet, shim, ground with its 20 teeth, coupling, both lines; out to t, to a and b from coupling and both feet, to the rise; a, b, t and the rise without heads.
		"tilt": {"a|b|rise|t", "d-ground line 21, d-body path 3, d-do rect 1, d-after line 1, d-datum line 1, d-body line 1, d-dim line 9, d-dim path 6"},
		// Axis, the limit with its hatching, the value; two bars with their ends and marks.
		"repeats": {"k·u|k·u/√n|limit|n|n = 1|value", "d-axis line 1, d-limit line 1, d-hatch line 11, d-datum line 1, d-pm line 6, d-mark circle 2"},
		// Both shafts and the coupling; two shims; out to d, to θ, to a and b thrice; a, b, d.
		"feet": {"a|b|d|shim|shim|θ", "d-datum line 1, d-found line 1, d-body line 1, d-do line 2, d-dim line 8, d-dim path 8"},
		// A ring of two circles in four parts about the shaft; where the shaft stands; the field's turn with its head; the leader.
		"speed": {"N|N|S|S|field: n = 120·f/p|shaft|slip = (n − shaft)/n", "d-body circle 3, d-body line 4, d-found line 1, d-do path 1, d-dim path 1, d-lead line 1"},
	} {
		list := figure(t, CalculatorFigure(key))
		count := map[string]int{}
		var symbols []string
		desc := ""
		for i := range list {
			e := &list[i]
			switch e.name {
			case "svg", "title":
			case "desc":
				desc = e.text
			case "text":
				symbols = append(symbols, e.text)
				for _, s := range strings.Split(e.text, ", ") {
					if s = strings.TrimPrefix(s, "field: "); s != "0" && !strings.Contains(" "+strings.NewReplacer(",", " ", ".", " ", ":", " ", ";", " ").Replace(desc)+" ", " "+strings.ReplaceAll(s, ".", " ")+" ") {
						t.Errorf("%s: %q is not in the words %q", key, s, desc)
					}
				}
			default:
				count[e.attr["class"]+" "+e.name]++
			}
		}
		slices.Sort(symbols)
		if got := strings.Join(symbols, "|"); got != want.symbols {
			t.Errorf("%s: symbols %q, not %q", key, got, want.symbols)
		}
		for _, part := range strings.Split(want.parts, ", ") {
			k := strings.LastIndexByte(part, ' ')
			n, err := strconv.Atoi(part[k+1:])
			if err != nil || count[part[:k]] != n {
				t.Errorf("%s: %d of %s, not %d", key, count[part[:k]], part[:k], n)
			}
			delete(count, part[:k])
		}
		if len(count) > 0 {
			t.Errorf("%s: drawn and not named: %v", key, count)
		}
		if formulas[key] == "" {
			t.Errorf("%s: no formula", key)
		}
	}
}

// Hatching and teeth are parallel lines at even steps, each from the edge that is hatched, over all of it and not past it; the divisions of a thread too.
func TestCalculatorHatching(t *testing.T) {
	sets := 0
	for _, key := range CalculatorFigureKeys() {
		list := figure(t, CalculatorFigure(key))
		for _, c := range [][2]string{{"d-hatch", ""}, {"d-ground", "0.8"}, {"d-body", "0.8"}} {
			var teeth [][4]float64
			for i := range list {
				if e := &list[i]; e.name == "line" && e.attr["class"] == c[0] && (c[1] == "" || e.attr["stroke-width"] == c[1]) && key != "speed" {
					teeth = append(teeth, strokes(t, e)[0])
				}
			}
			if len(teeth) < 2 {
				continue
			}
			sets++
			sx, sy := teeth[1][0]-teeth[0][0], teeth[1][1]-teeth[0][1]
			for k, s := range teeth {
				if k > 0 && (s[0]-teeth[k-1][0] != sx || s[1]-teeth[k-1][1] != sy || s[2]-s[0] != teeth[0][2]-teeth[0][0] || s[3]-s[1] != teeth[0][3]-teeth[0][1]) {
					t.Errorf("%s: line %d of the hatching is %v after %v", key, k, s, teeth[k-1])
				}
			}
			first, last := teeth[0], teeth[len(teeth)-1]
			// The edge: a straight piece of another kind on which every line begins, or between two of which it goes across.
			held := false
			for i := range list {
				e := &list[i]
				if e.name != "line" && e.name != "rect" || e.attr["stroke-width"] == "0.8" && e.attr["class"] == c[0] {
					continue
				}
				for _, o := range strokes(t, e) {
					on := true
					for _, s := range teeth {
						on = on && from(o, s[0], s[1]) < 0.01 && s[0] != s[2] && s[1] != s[3]
					}
					step := math.Hypot(sx, sy)
					end := func(s [4]float64) float64 {
						return min(math.Hypot(s[0]-o[0], s[1]-o[1]), math.Hypot(s[0]-o[2], s[1]-o[3])) / step
					}
					held = held || on && min(end(first), end(last)) < 1.4 && max(end(first), end(last)) < 6 // a thread is cut into the end alone
				}
			}
			if !held {
				t.Errorf("%s: hatching from %v to %v begins on no edge, or does not go over all of it", key, first, last)
			}
			// It does not cross the edge of what it is in: below the ground, within the clamp, behind the limit.
			for _, s := range teeth {
				switch {
				case c[0] == "d-ground" && !(s[3] > s[1] && s[2] < s[0]), c[0] != "d-ground" && !(s[3] < s[1] && s[2] > s[0] || key == "repeats" && s[2] > s[0]), math.Hypot(s[2]-s[0], s[3]-s[1]) > 30:
					t.Errorf("%s: a line of the hatching leans the other way: %v", key, s)
				}
			}
		}
	}
	if sets < 5 {
		t.Errorf("%d hatchings", sets)
	}
}

// A bar of uncertainty has its value in the middle, an end at either side; that of one reading crosses the limit, that of n readings does not. No line runs through a word.
func TestCalculatorBars(t *testing.T) {
	list := figure(t, CalculatorFigure("repeats"))
	var limit float64
	var bars, ends, marks [][4]float64
	for i := range list {
		e := &list[i]
		switch s := strokes(t, e); e.attr["class"] {
		case "d-limit":
			limit = s[0][0]
		case "d-pm":
			if s[0][1] == s[0][3] {
				bars = append(bars, s[0])
			} else {
				ends = append(ends, s[0])
			}
		case "d-mark":
			marks = append(marks, [4]float64{e.num(t, "cx"), e.num(t, "cy")})
		}
	}
	if len(bars) != 2 || len(marks) != 2 || !(bars[0][2] > limit && bars[1][2] < limit) {
		t.Fatalf("bars %v, marks %v, the limit is at %g", bars, marks, limit)
	}
	for k, b := range bars {
		if m := marks[k]; (b[0]+b[2])/2 != m[0] || b[1] != m[1] || !(b[2] > b[0]) {
			t.Errorf("the bar %v does not stand about its mark %v", b, m)
		}
		for end := range 2 {
			if !slices.ContainsFunc(ends, func(s [4]float64) bool {
				return s[0] == b[2*end] && s[2] == s[0] && (s[1]+s[3])/2 == b[1] && math.Abs(s[3]-s[1]) == 12
			}) {
				t.Errorf("the bar %v has no end at %g: %v", b, b[2*end], ends)
			}
		}
		named := false
		for _, w := range boxes(t, list) {
			named = named || strings.HasPrefix(w.text, "n") && math.Abs((w.y0+w.y1)/2-b[1]) < 3 && b[0]-w.x1 > 2 && b[0]-w.x1 < 12
		}
		if !named {
			t.Errorf("the bar %v has no name before it", b)
		}
	}
	for _, key := range CalculatorFigureKeys() {
		list := figure(t, CalculatorFigure(key))
		for _, w := range boxes(t, list) {
			for i := range list {
				if e := &list[i]; e.name != "rect" && !strings.ContainsAny(e.attr["d"], "QACS") {
					for _, s := range strokes(t, e) {
						if w.through(s) {
							t.Errorf("%s: %s %s runs through %q: %v", key, e.attr["class"], e.name, w.text, s)
						}
					}
				}
			}
		}
	}
}

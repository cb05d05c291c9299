package report

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// linesJob is a list of machines with a given line each: offsets V in mm, the limit 0.1, so that a share of the limit is ten times the offset; slopes far below theirs. NaN: no line.
func linesJob(t *testing.T, offsets []float64) *sentences.Teller {
	t.Helper()
	text := "Machine,Coupling,Method,Offset limit,Slope limit,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
	for i, v := range offsets {
		given := fmt.Sprintf("%g,0,0.01,0", v)
		if math.IsNaN(v) {
			given = ",,,"
		}
		text += fmt.Sprintf("M%d,short,line,0.1,10,480,710,%s\n", i, given)
	}
	ev := jobOf(t, text, false)
	ev.Count()
	return ev
}

// The overview, read back: how many of each verdict, counted by hand; an axis over every forty lines, to the least of 150, 200, 300 and 400 % that holds the largest share; what an axis says stands over its line, and those go
// over its rows and no others; a row has its name on the left and its verdict on the right, on one height, with the mark of the offset a little above the middle and that of the slope as much below; those that are not
// judged stand below with their reason. Seen: on a narrow screen the words past the axis, of a share of more than 9999 %, left the paper.
func TestOverviewRead(t *testing.T) {
	many := []float64{math.NaN()}
	for i := range 96 {
		many = append(many, 0.0021*float64(i))
	}
	for _, c := range []struct {
		name    string
		offsets []float64
		top     float64
	}{
		{"one", []float64{0.05}, 1.5}, {"to the limit", []float64{0.02, 0.15, math.NaN()}, 1.5}, {"more", []float64{0.02, 0.151, 0.05}, 2}, {"twice", []float64{0.2, 0.199}, 2}, {"over twice", []float64{0.2, 0.21}, 3}, {"thrice", []float64{0.3}, 3},
		{"past", []float64{0.02, 0.31, 0.5, 20}, 4}, {"none", []float64{math.NaN(), math.NaN()}, 1.5}, {"sixty", many[:61], 1.5}, {"many", many, 2}, {"eighty", many[1:81], 2},
	} {
		ev := linesJob(t, c.offsets)
		count := map[calc.Verdict]int{}
		for i := range ev.Len() {
			count[ev.Row(i).Verdict]++
		}
		for _, w := range []float64{300, 559, 560, 1100} {
			where := fmt.Sprintf("%s at %g", c.name, w)
			list := parse(t, Overview(nil, ev, nil, Options{Width: w}))
			if len(c.offsets) < 60 {
				checkLayout(t, where, list, 36)
			}
			title := fmt.Sprintf("%d couplings, shares of their limits, the largest first", len(c.offsets))
			if len(c.offsets) == 1 {
				title = "1 coupling, shares of its limits"
			}
			sum := fmt.Sprintf("%d outside, %d too close to call, %d inside, %d not judged.", count[calc.Outside], count[calc.TooClose], count[calc.Inside], count[calc.NotJudged])
			if list[1].text != title || list[2].text != sum || !strings.Contains(said(list), sum) {
				t.Errorf("%s: %q, %q; by hand %s", where, list[1].text, list[2].text, sum)
			}
			readOverview(t, where, ev, list, w, c.top, len(c.offsets)-count[calc.NotJudged])
		}
	}
	var order []string // of shares that are alike the list's own order
	for _, e := range parse(t, Overview(nil, linesJob(t, []float64{0.05, 0.02, 0.05, 0.05, 0.02, 0.09}), nil, Options{})) {
		if e.attr["class"] == "d-hit" {
			order = append(order, e.inside["data-row"])
		}
	}
	if got := strings.Join(order, " "); got != "5 0 2 3 1 4" {
		t.Errorf("rows %s", got)
	}
	ev := linesJob(t, []float64{0.1})
	if list := parse(t, Overview(nil, ev, []int{}, Options{})); list[1].text != "No couplings" || list[2].text != "There are no couplings to show." {
		t.Errorf("of none: %q, %q", list[1].text, list[2].text)
	}
}

func readOverview(t *testing.T, where string, ev *sentences.Teller, list []element, w, top float64, judged int) {
	t.Helper()
	dense, narrow := ev.Len() > 60, w < 560
	size := 12.0
	if dense {
		size = 10
	}
	// Rows: the line that takes the pointer, and what is in it.
	type row struct {
		y, high float64
		all     []element
		index   int
	}
	var rows []row
	var axes []element // outside of rows
	for i := range list {
		e := &list[i]
		switch {
		case e.attr["class"] == "d-hit":
			k, _ := strconv.Atoi(e.inside["data-row"])
			rows = append(rows, row{e.num(t, "y"), e.num(t, "height"), nil, k})
		case e.inside["data-row"] != "":
			if e.name != "title" {
				rows[len(rows)-1].all = append(rows[len(rows)-1].all, *e)
			}
		case e.name == "line" && (e.attr["class"] == "d-grid" || e.attr["class"] == "d-axis") || e.name == "text" && e.attr["text-anchor"] == "middle":
			axes = append(axes, *e)
		}
	}
	if len(rows) != ev.Len() {
		t.Fatalf("%s: %d rows", where, len(rows))
	}
	for k := 1; k < len(rows); k++ { // without a gap, but where an axis or a heading stands
		if gap := rows[k].y - rows[k-1].y - rows[k-1].high; math.Abs(gap) > 0.01 && k != judged && (k%40 != 0 || gap < 20) || gap > 45 {
			t.Errorf("%s: row %d begins %.1f below the last", where, k, gap)
		}
	}
	// Each axis.
	lines := map[float64]map[float64][2]float64{} // of each axis, by where it begins: x to its line
	for i := range axes {
		if e := &axes[i]; e.name == "line" {
			y := e.num(t, "y1")
			if lines[y] == nil {
				lines[y] = map[float64][2]float64{}
			}
			lines[y][e.num(t, "x1")] = [2]float64{e.num(t, "x2"), e.num(t, "y2")}
		}
	}
	if want := (judged + 39) / 40; len(lines) != want {
		t.Errorf("%s: %d axes for %d rows", where, len(lines), judged)
	}
	var zero, one float64
	for i := range axes {
		switch e := &axes[i]; e.text {
		case "0 %":
			zero = e.num(t, "x")
		case "limit":
			one = e.num(t, "x")
		}
	}
	px := func(s float64) float64 { return zero + (one-zero)*s }
	for y, at := range lines {
		block := 0
		for block < judged && rows[block].y < y {
			block++
		}
		last := rows[min(block+40, judged)-1]
		if len(at) != int(2*top)+1 {
			t.Errorf("%s: an axis with %d lines to %g", where, len(at), top)
		}
		named := map[string]float64{}
		for i := range axes {
			if e := &axes[i]; e.name == "text" && math.Abs(e.num(t, "y")-(y-4)) < 0.01 {
				named[e.text] = e.num(t, "x")
			}
		}
		for s := 0.0; s <= top; s += 0.5 {
			x := math.Round(px(s)*1000) / 1000
			l, ok := at[x]
			for q := range at {
				if math.Abs(q-x) < 0.01 {
					x, l, ok = q, at[q], true
				}
			}
			bottom := last.y + last.high
			if narrow {
				bottom = rows[block].y + 2 // the lines would run through the names
			}
			if !ok || math.Abs(l[0]-x) > 0.01 || math.Abs(l[1]-bottom) > 0.01 || rows[block].y-y > 4 || rows[block].y-y < 0 {
				t.Errorf("%s: the line of %g goes from %.1f to %v, its rows from %.1f to %.1f", where, s, y, l, rows[block].y, bottom)
			}
			name := strconv.Itoa(int(100*s)) + " %"
			if s == 1 {
				name = "limit"
			}
			half := px(0.5) - px(0)
			want := s == 1 || half >= 44 || s == math.Trunc(s) && 2*half >= 44 || s == 0 || s == top && s == math.Trunc(s)
			if got, ok := named[name]; ok != want || ok && math.Abs(got-x) > 0.01 {
				t.Errorf("%s: %q is at the axis: %v, at %.1f, its line at %.1f; %.1f px for a half", where, name, ok, got, x, half)
			}
		}
	}
	for k, r := range rows {
		readOverviewRow(t, where, ev.Row(r.index), r.all, r.y, r.high, w, size, dense, narrow, k < judged, top, px)
		if k < judged && lines != nil && judged > 0 && px(top) > w-50 {
			t.Errorf("%s: the axis goes to %.1f", where, px(top))
		}
	}
	if judged < len(rows) {
		heads := 0
		for i := range list {
			if e := &list[i]; e.name == "text" && e.text == "Not judged" && e.attr["class"] == "d-head" && e.num(t, "y") < rows[judged].y+2 && e.num(t, "y") > rows[judged].y-16 {
				heads++
			}
		}
		if heads != 1 {
			t.Errorf("%s: %d headings over those that are not judged", where, heads)
		}
	}
}

func readOverviewRow(t *testing.T, where string, r *evaluate.RowResult, all []element, y, high, w, size float64, dense, narrow, judged bool, top float64, px func(float64) float64) {
	t.Helper()
	want := 22.0
	if dense {
		want = 14
	}
	line := want
	if narrow {
		want += size + 3
	}
	var texts []element
	var dot, diamond, base, bar []float64
	for i := range all {
		e := &all[i]
		switch {
		case e.name == "text":
			texts = append(texts, *e)
		case e.name == "circle":
			dot = []float64{e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")}
		case e.attr["class"] == "d-slope":
			xy := coords(t, e.attr["d"])
			diamond = []float64{(xy[2] + xy[6]) / 2, (xy[1] + xy[5]) / 2, (xy[2] - xy[6]) / 2}
		case e.name == "line" && e.attr["class"] == "d-grid":
			s := strokes(t, e)[0]
			base = s[:]
		case e.attr["class"] == "d-pm" && e.name == "path" && bar == nil:
			bar = coords(t, e.attr["d"])
		}
	}
	if high != want {
		t.Errorf("%s: %s is %g px high, not %g", where, r.Name, high, want)
	}
	b := boxes(t, texts)
	if len(b) < 2 || b[0].text != r.Name || texts[0].num(t, "x") != 10 || texts[0].num(t, "font-size") != size {
		t.Fatalf("%s: %s begins with %v", where, r.Name, b)
	}
	last := b[len(b)-1]
	if !judged {
		if narrow && (last.x0 != 22 || last.y0 < b[0].y1 || last.y1 > y+high) || !narrow && (last.y1 != b[0].y1 || last.x0 < b[0].x1 || math.Abs(b[0].y1-y-high/2-0.35*size) > 0.01) || narrow && math.Abs(b[0].y1-y-size) > 0.01 {
			t.Errorf("%s: %s and why it is not judged: %v in a row from %.1f", where, r.Name, b, y)
		}
		return
	}
	if last.text != r.Verdict.String() || last.y1 != b[0].y1 || texts[len(b)-1].attr["text-anchor"] != "end" || texts[len(b)-1].num(t, "x") != w-8 {
		t.Errorf("%s: %s ends with %v", where, r.Name, last)
	}
	mid := y + high - line/2
	text := mid + 0.35*size
	if narrow {
		text = y + size
	}
	if narrow { // the axis goes on in short strokes below the name, the limit's by itself
		at := map[float64]string{}
		for i := range all {
			if e := &all[i]; e.name == "line" && e.attr["class"] == "d-axis" || e.name == "path" && e.attr["class"] == "d-grid" {
				for _, s := range strokes(t, e) {
					if at[math.Round(s[0]*10)] = e.attr["class"]; s[0] != s[2] || math.Abs(s[1]-y-high+line-2) > 0.01 || math.Abs(s[3]-y-high) > 0.01 {
						t.Errorf("%s: %s, a stroke %v in a row from %.1f to %.1f", where, r.Name, s, y, y+high)
					}
				}
			}
		}
		for s := 0.0; s <= top; s += 0.5 {
			if want := map[bool]string{true: "d-axis", false: "d-grid"}[s == 1]; at[math.Round(px(s)*10)] != want {
				t.Errorf("%s: %s, at %g stands %q", where, r.Name, s, at[math.Round(px(s)*10)])
			}
		}
		if len(at) != int(2*top)+1 {
			t.Errorf("%s: %s, %d strokes", where, r.Name, len(at))
		}
	}
	radius, cap := 4.2, 3.0
	if dense {
		radius, cap = 3, 2
	}
	if math.Abs(b[0].y1-text) > 0.01 || len(base) != 4 || math.Abs(base[0]-px(0)) > 0.01 || math.Abs(base[2]-px(top)) > 0.01 || base[1] != base[3] || math.Abs(base[1]-mid) > 0.01 {
		t.Errorf("%s: %s at %.1f, its line %v, the middle is %.1f", where, r.Name, b[0].y1, base, mid)
	}
	if dot == nil || diamond == nil || math.Abs(mid-dot[1]-0.16*line) > 0.01 || math.Abs(diamond[1]-mid-0.16*line) > 0.01 || dot[2] != radius || math.Abs(diamond[2]-1.15*radius) > 0.01 {
		t.Errorf("%s: %s, marks %v and %v about %.1f", where, r.Name, dot, diamond, mid)
	}
	share := math.Abs(r.Offset.V) / 0.1
	if share <= top {
		if math.Abs(dot[0]-px(share)) > 0.02 || len(bar) != 12 || bar[1] != bar[3] || math.Abs(bar[1]-dot[1]) > 0.01 || math.Abs(bar[7]-bar[5]-2*cap) > 0.01 || math.Abs(bar[11]-bar[9]-2*cap) > 0.01 || math.Abs((bar[9]+bar[11])/2-bar[1]) > 0.01 || math.Abs((bar[5]+bar[7])/2-bar[1]) > 0.01 || bar[4] != bar[0] || bar[8] != bar[2] || bar[0] > bar[2] || bar[2] > px(top)+0.01 || bar[0] < px(0)-0.01 || len(b) != 2 {
			t.Errorf("%s: %s, share %.3f: mark %v, bar %v, axis from %.1f to %.1f", where, r.Name, share, dot, bar, px(0), px(top))
		}
		return
	}
	// Past the axis: an arrow out of it, and how much.
	var arrow []float64
	for i := range all {
		if e := &all[i]; e.name == "line" && e.attr["class"] == "d-pm" {
			s := strokes(t, e)[0]
			arrow = s[:]
		}
	}
	much := strconv.Itoa(int(math.Round(100*share))) + " %"
	if share >= 100 {
		much = "> 9999 %"
	}
	if len(arrow) != 4 || arrow[1] != dot[1] || arrow[3] != dot[1] || !(dot[0] < arrow[0] && arrow[0] < px(top) && arrow[2] > px(top) && arrow[2] < px(top)+6) || len(b) != 3 || b[1].text != much || b[1].x0 < arrow[2] || b[1].x0 > px(top)+12 || math.Abs((b[1].y0+b[1].y1)/2-mid) > 3 {
		t.Errorf("%s: %s, share %.3f past %g: mark %v, arrow %v, %v", where, r.Name, share, top, dot, arrow, b)
	}
}

// The bins of the histogram: at most ten, of a round width (1, 2 or 5 by a power of ten), the least that does it; bars stand on the axis side by side within their bin, with their count just above; each edge that is
// named is at its number; three plots side by side or one below the other.
func TestHistogramRead(t *testing.T) {
	for _, c := range []struct {
		most, bin float64
		inch      bool
	}{{1, 0.1, false}, {0.99, 0.1, false}, {1.01, 0.2, false}, {2, 0.2, false}, {2.01, 0.5, false}, {5, 0.5, false}, {5.1, 1, false}, {10, 1, false}, {0.03, 0.005, false}, {0.2, 0.02, false}, {0.7, 0.1, false}, {0.508, 2, true}, {0.0254 * 41, 5, true}} {
		text := "Machine,Coupling,Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\n"
		values := []float64{c.most, 0.3 * c.most, 0.31 * c.most, 0.05 * c.most, 0}
		for i, v := range values {
			text += fmt.Sprintf("M%d,short,line,480,710,%.9g,%.9g,0,0\n", i, -v, v/2)
		}
		text += "N,short,line,,,0.1,0.1,0,0\n"
		ev := jobOf(t, text, false)
		unit, mm := "mm", 1.0
		if c.inch {
			ev.ShowAs("inch")
			unit, mm = "mil", 0.0254
		}
		ev.Count()
		bins := int(math.Ceil(c.most/mm/c.bin - 1e-6))
		for _, w := range []float64{300, 699, 700, 1100} {
			where := fmt.Sprintf("%g at %g", c.most, w)
			list := parse(t, Histogram(nil, ev, nil, Options{Width: w}))
			checkLayout(t, where, list, 34)
			if !strings.Contains(list[1].text, "corrections are, 5 machines with feet") || !strings.Contains(said(list), fmt.Sprintf("Bins of %g %s, each up to and with its right edge", c.bin, unit)) {
				t.Errorf("%s: %q, %s", where, list[1].text, said(list))
			}
			across := 1
			if w >= 700 {
				across = 3
			}
			cell := (w - 20) / float64(across)
			var heads, zeros [][2]float64
			var axes, bars, ticks [][4]float64
			for i := range list {
				e := &list[i]
				switch {
				case e.name == "text" && e.attr["class"] == "d-head" && (strings.HasPrefix(e.text, "Front shims") || strings.HasPrefix(e.text, "Rear shims") || strings.HasPrefix(e.text, "Sideways")):
					heads = append(heads, [2]float64{e.num(t, "x"), e.num(t, "y")})
				case e.text == "0" && e.name == "text":
					zeros = append(zeros, [2]float64{e.num(t, "x"), e.num(t, "y")})
				case e.name == "line" && e.num(t, "x1") == e.num(t, "x2"):
					ticks = append(ticks, strokes(t, e)[0])
				case e.name == "line":
					axes = append(axes, strokes(t, e)[0])
				case e.attr["class"] == "d-bar":
					bars = append(bars, box(t, e))
				}
			}
			if len(heads) != 3 || len(axes) != 3 || len(zeros) != 3 {
				t.Fatalf("%s: headings %v, axes %v, zeros %v", where, heads, axes, zeros)
			}
			for k := range 3 {
				x := 10 + cell*float64(k%across)
				a := axes[k]
				if heads[k][0] != x && math.Abs(heads[k][0]-x) > 0.01 || a[0]-x < 4 || a[0]-x > 8 || a[2] > x+cell-12 || a[2] < x+cell-30 || a[1]-heads[k][1] < 100 || a[1]-heads[k][1] > 130 || math.Abs(zeros[k][0]-x) > 0.01 || zeros[k][1]-a[1] != 16 {
					t.Errorf("%s: plot %d at %.1f: heading %v, axis %v, zero %v", where, k, x, heads[k], a, zeros[k])
				}
				if k > 0 && (across == 3) != (heads[k][1] == heads[0][1]) {
					t.Errorf("%s: headings at %v", where, heads)
				}
				wide := (a[2] - a[0]) / float64(bins)
				// Counted by hand.
				count := make([]int, bins)
				for _, v := range values {
					if k == 2 {
						v /= 2
					}
					b := int(math.Ceil(v/mm/c.bin-1e-6)) - 1
					count[max(b, 0)] += 1 + k/2
				}
				most := slices.Max(count)
				for b, n := range count {
					var bar *[4]float64
					for i := range bars {
						if q := &bars[i]; math.Abs(q[3]-a[1]) < 0.01 && math.Abs((q[0]+q[2])/2-a[0]-wide*(float64(b)+0.5)) < 0.02 {
							bar = q
						}
					}
					if (bar != nil) != (n > 0) {
						t.Errorf("%s: plot %d, bin %d of %d holds %d: bars %v on %v", where, k, b, bins, n, bars, a)
						continue
					}
					if bar == nil {
						continue
					}
					if math.Abs(bar[2]-bar[0]-wide+2) > 0.02 || math.Abs(bar[3]-bar[1]-90*float64(n)/float64(most)) > 0.01 {
						t.Errorf("%s: plot %d, bin %d with %d of %d: bar %v, %.1f wide", where, k, b, n, most, *bar, wide)
					}
					if !slices.ContainsFunc(list, func(e element) bool {
						return e.name == "text" && e.text == strconv.Itoa(n) && math.Abs(e.num(t, "x")-(bar[0]+bar[2])/2) < 0.02 && math.Abs(bar[1]-e.num(t, "y")-4) < 0.01
					}) {
						t.Errorf("%s: plot %d, no %d over the bar %v", where, k, n, *bar)
					}
				}
				// Edges.
				named := 0
				for i := range list {
					e := &list[i]
					if e.name != "text" || e.attr["text-anchor"] != "middle" || math.Abs(e.num(t, "y")-a[1]-16) > 0.01 || e.num(t, "x") < a[0] || e.num(t, "x") > a[2]+0.02 {
						continue
					}
					named++
					v, err := strconv.ParseFloat(e.text, 64)
					if x := a[0] + wide*v/c.bin; err != nil || math.Abs(x-e.num(t, "x")) > 0.02 || !slices.ContainsFunc(ticks, func(s [4]float64) bool {
						return math.Abs(s[0]-x) < 0.02 && math.Abs(min(s[1], s[3])-a[1]) < 0.01 && math.Abs(s[3]-s[1]) == 4
					}) {
						t.Errorf("%s: plot %d, %q stands at %.1f, by hand %.1f, strokes %v", where, k, e.text, e.num(t, "x"), x, ticks)
					}
				}
				if every := math.Ceil(44 / wide); named < 1 || float64(named) < math.Floor(float64(bins)/every) {
					t.Errorf("%s: plot %d, %d of %d edges are named, %.1f px each", where, k, named, bins, wide)
				}
			}
		}
	}
	for _, text := range []string{"Machine,Coupling,Method,Coupling to front feet,Front to rear feet,Given offset V,Given offset H,Given slope V,Given slope H\nP,short,line,480,710,0,0,0,0\n", "Machine,Coupling,Method\nP,short,line\n"} {
		ev := jobWith(t, map[job.SheetKind]string{job.MachinesSheet: text})
		ev.Count()
		if list := parse(t, Histogram(nil, ev, nil, Options{})); list[2].text != "There are no corrections to count." || !strings.Contains(said(list), list[2].text) {
			t.Errorf("without corrections: %q", list[2].text)
		}
	}
}

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
)

// A feetCase is a machine of four or six feet between river (3 o'clock) and hill, with what was measured and what lies there.
type feetCase struct {
	name          string
	machine       knownMachine
	across        [2]float64 // of the feet at 9 and at 3, mm; both 0: not typed
	gaps          []float64
	packs         []string
	stock         bool
	further       bool
	front, length float64 // coupling to front feet, front to rear feet
}

func (c *feetCase) feet() []string {
	if c.further {
		return []string{"front 9", "front 3", "middle 9", "middle 3", "rear 9", "rear 3"}
	}
	return []string{"front 9", "front 3", "rear 9", "rear 3"}
}

// along is where foot k stands.
func (c *feetCase) along(k int) float64 {
	if c.further {
		return c.front + c.length/2*float64(k/2)
	}
	return c.front + c.length*float64(k/2)
}

func (c *feetCase) job(t *testing.T) *sentences.Teller {
	t.Helper()
	m := c.machine
	machines := "Machine,Side at 3,Side at 9,Coupling,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H,Coupling to front feet,Front to rear feet,Further feet\n" +
		fmt.Sprintf("P1,river,hill,short,1480,line,%g,%g,%g,%g,%g,%g,", m.dv, m.dh, m.tv, m.th, c.front, c.length)
	if c.further {
		machines += strconv.FormatFloat(c.front+c.length/2, 'g', -1, 64)
	}
	feet := "Machine,Foot,Along,Across,Gap,Pack in place\n"
	for k, f := range c.feet() {
		across, gap, pack := "", "", ""
		if c.across != [2]float64{} {
			across = strconv.FormatFloat(c.across[k%2], 'g', -1, 64)
		}
		if c.gaps != nil {
			gap = strconv.FormatFloat(c.gaps[k], 'f', 3, 64)
		}
		if c.packs != nil {
			pack = c.packs[k]
		}
		feet += fmt.Sprintf("P1,%s,%g,%s,%s,%s\n", f, c.along(k), across, gap, pack)
	}
	lists := map[job.SheetKind]string{job.MachinesSheet: machines + "\n", job.FeetSheet: feet}
	if c.stock {
		lists[job.StockSheet] = "Thickness\n2\n1\n0.5\n0.2\n0.1\n0.05\n0.025\n"
	}
	ev := jobWith(t, lists)
	ev.Count()
	return ev
}

// lines are what a foot's words must be, by hand and, for what is done, by what the crew is told.
func (c *feetCase) lines(t *testing.T, ev *sentences.Teller, k int) []string {
	t.Helper()
	r := ev.Row(0)
	list := []string{c.feet()[k]}
	if c.gaps != nil {
		list = append(list, fmt.Sprintf("gap %.3f mm", c.gaps[k]))
	}
	soft := r.Feet.Feet[k].Soft
	if soft > 0 {
		list = append(list, fmt.Sprintf("soft foot: %.2f mm", soft))
	}
	whole := soft - (c.machine.dv + c.machine.tv*c.along(k)/1000) // a shaft that stands high wants shims taken out
	sign := ""
	if whole > 0 {
		sign = "+"
	}
	list = append(list, "in all "+sign+strconv.FormatFloat(whole, 'f', 2, 64)+" mm")
	f := ev.Todo(0).Feet[k]
	if f.Name != c.feet()[k] {
		t.Fatalf("what to do begins with %q", f.Name)
	}
	var parts []string
	if len(f.Out) > 0 {
		parts = append(parts, "take out "+strings.Join(f.Out, " + "))
	}
	if len(f.In) > 0 {
		parts = append(parts, "put in "+strings.Join(f.In, " + "))
	}
	if parts == nil {
		parts = []string{"leave as it is"}
	}
	list = append(list, strings.Join(parts, ", "))
	return list
}

// The plan of the feet of known machines: marks at their places and as large as the paper lets them be; the outline between them, the coupling before it on the axis, the distance across beside it; at each foot its
// words, in order, with a leader, or its number and its words in a list. The words are those worked out by hand.
func TestFeetPlanRead(t *testing.T) {
	m := knownMachines[0]
	flat, some := []float64{0, 0, 0, 0}, []float64{0, 0, 0, 0.2}
	for _, c := range []feetCase{
		{"flat", m, [2]float64{-250, 250}, flat, nil, true, false, 480, 710},
		{"rock", m, [2]float64{-250, 250}, some, []string{"0.5+0.2", "0.5+0.2", "2+1", "2+1"}, true, false, 480, 710},
		{"low", knownMachines[2], [2]float64{-250, 250}, some, []string{"0.5+0.2", "0.5+0.2", "1+1", "1+1"}, true, false, 480, 710},
		{"uneven", m, [2]float64{-100, 320}, flat, nil, false, false, 480, 710},
		{"narrow", m, [2]float64{-45, 45}, flat, nil, false, false, 300, 1800},
		{"wide", m, [2]float64{-900, 900}, flat, nil, false, false, 300, 350},
		{"not across", m, [2]float64{}, flat, nil, true, false, 480, 710},
		{"no gaps", m, [2]float64{-250, 250}, nil, []string{"5", "5", "5", "5"}, true, false, 480, 710},
		{"six", m, [2]float64{-250, 250}, []float64{0, 0, 0, 0, 0, 0.1}, nil, true, true, 480, 800},
	} {
		ev := c.job(t)
		if r := ev.Row(0); r.Feet == nil || len(r.Feet.Feet) != len(c.feet()) {
			t.Fatalf("%s: %v", c.name, ev.Row(0).Problems)
		}
		for _, w := range []float64{300, 480, 559, 560, 1000} {
			list := parse(t, FeetPlan(nil, ev, 0, Options{Width: w}))
			where := fmt.Sprintf("%s at %g", c.name, w)
			checkLayout(t, where, list, 30)
			c.read(t, ev, where, list, w)
		}
	}
}

func (c *feetCase) read(t *testing.T, ev *sentences.Teller, where string, list []element, w float64) {
	t.Helper()
	near := func(what string, got, want, tol float64) {
		t.Helper()
		if !(math.Abs(got-want) <= tol) {
			t.Errorf("%s: %s is at %.2f, not %.2f", where, what, got, want)
		}
	}
	all := said(list)
	if !strings.Contains(all, "Feet seen from above. The coupling is on the left, river (3 o'clock side) is up, hill (9 o'clock side) is down.") {
		t.Errorf("%s: where it is seen from is not said in %s", where, all)
	}
	n := len(c.feet())
	marks := make([][4]float64, n)
	for i := range list {
		if e := &list[i]; e.inside["data-foot"] != "" && e.name == "rect" {
			k, _ := strconv.Atoi(e.inside["data-foot"])
			marks[k] = box(t, e)
			if math.Abs(marks[k][2]-marks[k][0]-22) > 0.01 || math.Abs(marks[k][3]-marks[k][1]-16) > 0.01 {
				t.Errorf("%s: a mark %v", where, marks[k])
			}
		}
	}
	mid := func(k int) (x, y float64) { return (marks[k][0] + marks[k][2]) / 2, (marks[k][1] + marks[k][3]) / 2 }
	low, high := marks[0], marks[0]
	for _, m := range marks {
		for i := range m {
			low[i], high[i] = min(low[i], m[i]), max(high[i], m[i])
		}
	}
	left, top, right, bottom := low[0]+11, low[1]+8, high[2]-11, high[3]-8 // of the middles
	// As large as there is room for, in the middle of it.
	typed := c.across != [2]float64{}
	room, tall := min(w, 900)-62-102, 150.0
	if w >= 560 {
		tall = 190
	}
	near("the middle of the plan", (left+right)/2, 62+room/2, 0.01)
	if fills := max((right-left)/room, (bottom-top)/tall); fills > 1.0001 || fills < 1/1.25 {
		t.Errorf("%s: the plan takes %.3f of its room", where, fills)
	}
	if strings.Contains(all, "Scale at full size 1 : ") != typed {
		t.Errorf("%s: a scale in %s", where, all)
	}
	if typed {
		near("how wide the plan is for its length", (bottom-top)/(right-left), (c.across[1]-c.across[0])/c.length, 0.001)
	}
	for k := range marks {
		x, y := mid(k)
		near("a foot along", x, left+(right-left)*(c.along(k)-c.front)/c.length, 0.01)
		near("a foot across", y, []float64{bottom, top}[k%2], 0.01)
	}
	// Outline, coupling, axis, distance across.
	var outline, axis []float64
	var halves [][4]float64
	for i := range list {
		e := &list[i]
		if e.inside["data-scale"] == "" || e.inside["data-foot"] != "" {
			continue
		}
		switch {
		case e.name == "rect" && e.num(t, "width") == 8:
			halves = append(halves, box(t, e))
		case e.name == "rect":
			b := box(t, e)
			outline = b[:]
		case e.attr["class"] == "d-datum":
			s := strokes(t, e)[0]
			axis = s[:]
		}
	}
	if has := len(outline) > 0; has != (bottom-top > 40) || has && (math.Abs(outline[0]-(left-17)) > 0.01 || math.Abs(outline[2]-(right+17)) > 0.01 || math.Abs(outline[1]-(top+11)) > 0.01 || math.Abs(outline[3]-(bottom-11)) > 0.01) {
		t.Errorf("%s: the outline %.1f, feet from %.1f, %.1f to %.1f, %.1f", where, outline, left, top, right, bottom)
	}
	centre := (top + bottom) / 2
	if typed {
		centre += (c.across[0] + c.across[1]) / 2 * (bottom - top) / (c.across[1] - c.across[0])
	}
	if has := len(axis) > 0; has != (!typed || centre > top+6 && centre < bottom-6) || has && (axis[1] != axis[3] || math.Abs(axis[1]-centre) > 0.01 || axis[0] != 12 || math.Abs(axis[2]-right-27) > 0.01) {
		t.Errorf("%s: the axis %v, the shaft is at %.1f, feet from %.1f to %.1f", where, axis, centre, top, bottom)
	} else if has {
		slices.SortFunc(halves, func(a, b [4]float64) int { return int(a[0] - b[0]) })
		if len(halves) != 2 || halves[0][2] > halves[1][0] || halves[1][0]-halves[0][2] > 6 || halves[1][2] > left-17 || left-17-halves[1][2] > 20 || halves[0][0] < 4 {
			t.Errorf("%s: the coupling %v before %.1f", where, halves, left-17)
		}
		for _, h := range halves {
			near("the coupling", (h[1]+h[3])/2, centre, 0.01)
			near("the height of the coupling", h[3]-h[1], 18, 0.01)
		}
	}
	across := false
	for i := range list {
		e := &list[i]
		if e.name != "line" || e.attr["class"] != "d-dim" || e.num(t, "x1") != e.num(t, "x2") {
			continue
		}
		across = true
		s := strokes(t, e)[0]
		n := boxes(t, list[i+3:i+4])
		if math.Abs(s[1]-top) > 0.01 || math.Abs(s[3]-bottom) > 0.01 || s[0]-right < 20 || s[0]-right > 45 || len(n) != 1 || n[0].text != strconv.FormatFloat(c.across[1]-c.across[0], 'g', -1, 64)+" mm" || n[0].x0-s[0] < 2 || n[0].x0-s[0] > 8 ||
			math.Abs((n[0].y0+n[0].y1)/2-(top+bottom)/2) > 12 || axis != nil && n[0].y0 < axis[1] && n[0].y1 > axis[1] && axis[2] > n[0].x0 {
			t.Errorf("%s: the distance across %v, feet from %.1f to %.1f: %v", where, s, top, bottom, n)
		}
		for _, y := range []float64{top, bottom} {
			if !slices.ContainsFunc(list, func(e element) bool {
				return e.name == "line" && e.attr["class"] == "d-lead" && e.num(t, "y1") == e.num(t, "y2") && math.Abs(e.num(t, "y1")-y) < 0.01 && e.num(t, "x1") < right+17 && e.num(t, "x1") > right+11 && math.Abs(e.num(t, "x2")-s[0]-4) < 0.01
			}) {
				t.Errorf("%s: no line leads to the distance across at %.1f", where, y)
			}
		}
	}
	if across != (typed && bottom-top > 24) {
		t.Errorf("%s: a distance across: %v", where, across)
	}
	c.readWords(t, ev, where, list, marks)
}

// readWords holds the words of the feet to those worked out, and their places to their feet.
func (c *feetCase) readWords(t *testing.T, ev *sentences.Teller, where string, list []element, marks [][4]float64) {
	t.Helper()
	all := said(list)
	var leads [][]float64
	for i := range list {
		if e := &list[i]; e.name == "path" && e.attr["class"] == "d-lead" {
			leads = append(leads, coords(t, e.attr["d"]))
		}
	}
	if len(leads) > 0 && len(leads) != len(marks) {
		t.Errorf("%s: %d leaders for %d feet", where, len(leads), len(marks))
	}
	for k := range marks {
		want := c.lines(t, ev, k)
		if desc := strings.Join(want, ", ") + "."; !strings.Contains(list[2].text, desc) {
			t.Errorf("%s: %q is not in the description %s", where, desc, list[2].text)
		}
		x, up := (marks[k][0]+marks[k][2])/2, k%2 == 1
		if len(leads) == 0 { // numbers, and a list
			if line := strconv.Itoa(k+1) + " " + want[0] + ": " + strings.Join(want[1:], "; "); !strings.Contains(all, line) {
				t.Errorf("%s: %q is not listed in %s", where, line, all)
			}
			found := false
			for i := range list {
				if e := &list[i]; e.name == "text" && e.inside["data-foot"] == strconv.Itoa(k) {
					b := boxes(t, list[i:i+1])[0]
					out := marks[k][1] - b.y1
					if !up {
						out = b.y0 - marks[k][3]
					}
					found = e.text == strconv.Itoa(k+1) && math.Abs((b.x0+b.x1)/2-x) < 0.01 && out > 1 && out < 8 && e.attr["font-weight"] != ""
				}
			}
			if !found {
				t.Errorf("%s: foot %d has no number at its mark", where, k+1)
			}
			continue
		}
		var own []float64
		for _, l := range leads {
			n := len(l)
			if up && math.Abs(l[n-2]-x) < 0.01 && math.Abs(l[n-1]-marks[k][1]) < 0.01 || !up && math.Abs(l[0]-x) < 0.01 && l[1] >= marks[k][3]-0.01 {
				own = l
			}
		}
		if len(own) != 6 {
			t.Errorf("%s: no leader at foot %d: %v, mark %v", where, k+1, leads, marks[k])
			continue
		}
		at, edge := own[4], own[5]
		if up {
			at, edge = own[0], own[1]
		}
		straight := own[2] == own[0] && own[3] > own[1] && own[3] < own[1]+8
		if up {
			straight = own[2] == own[4] && own[3] < own[5] && own[3] > own[5]-12
		}
		var words []string
		var bold []bool
		last, first := 0.0, 0.0
		for i := range list {
			e := &list[i]
			if e.name != "text" || e.attr["text-anchor"] != "middle" || math.Abs(e.num(t, "x")-at) > 0.01 || (e.num(t, "y") < marks[k][1]) != up {
				continue
			}
			if y := e.num(t, "y"); words == nil {
				first = y
			} else if math.Abs(y-last-15) > 0.01 {
				t.Errorf("%s: words of foot %d at %.1f and %.1f", where, k+1, last, y)
			}
			last = e.num(t, "y")
			words, bold = append(words, e.text), append(bold, e.attr["font-weight"] != "")
		}
		if got := strings.Join(words, " "); got != strings.Join(want, " ") {
			t.Errorf("%s: foot %d says %q, not %q", where, k+1, got, strings.Join(want, " "))
			continue
		}
		for i, b := range bold { // its name, and what to do, stand out
			last := want[len(want)-1]
			part := i > 0 && len(want) > 2 && strings.Contains(last, words[i]) && i >= len(words)-5 && !strings.HasPrefix(words[i], "in all") && !strings.HasPrefix(words[i], "gap")
			if b != (i == 0 || part) {
				t.Errorf("%s: foot %d: %q stands out: %v, of %q", where, k+1, words[i], b, words)
			}
		}
		if out := first - 9 - edge; !straight || !up && (out < 1 || out > 8) || up && (edge-last < 3 || edge-last > 9) {
			t.Errorf("%s: the leader %.1f of foot %d, its words from %.1f to %.1f", where, own, k+1, first, last)
		}
	}
	if len(leads) == 0 {
		return
	}
	// Words of the feet of one side stand in the order of the feet.
	var order [2][]float64
	for k := range marks {
		for i := range list {
			if e := &list[i]; e.name == "text" && e.text == c.feet()[k] && e.attr["text-anchor"] == "middle" {
				order[k%2] = append(order[k%2], e.num(t, "x"))
			}
		}
	}
	if len(order[0]) != len(marks)/2 || len(order[1]) != len(marks)/2 || !slices.IsSorted(order[0]) || !slices.IsSorted(order[1]) {
		t.Errorf("%s: names of the feet at %v", where, order)
	}
}

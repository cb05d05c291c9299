package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/sentences"
)

// The picture of what to do, read back: both sides named above their side, the coupling above the machine on its middle; each foot on its edge of the machine, its words and plates outside beside it, a plate for each
// piece with its number in its middle, those that come out dashed; each push an arrow across the machine from one side towards the other under its amount, with the side's name below it; every letter larger on a
// larger paper. Rows stand one below the other from the coupling on.
func TestWhatToDoRead(t *testing.T) {
	feet, plates, pushes := 0, 0, 0
	for name, ev := range map[string]*sentences.Teller{"demo": demo(t), "kinds": allKinds(t, false), "inch": allKinds(t, true)} {
		for i := range ev.Len() {
			todo := ev.Todo(i)
			if todo.Missing != "" || len(todo.Bolts) > 0 {
				continue
			}
			for _, w := range []float64{338, 479, 480, 639, 640, 1000} {
				if name != "kinds" && w != 338 && w != 640 {
					continue
				}
				for _, bare := range []bool{false, true} {
					list := parse(t, WhatToDo(nil, ev, i, Options{Width: w, Bare: bare}))
					r := readTodo{t, fmt.Sprintf("%s: %s at %g, bare %v", name, ev.Row(i).Name, w, bare), ev, i, todo, list, w, map[bool]float64{true: 1, false: 1.15}[w < 480], bare}
					if w >= 640 {
						r.u = 1.35
					}
					r.head()
					l, right, from, to := r.machine()
					f, p := r.feet(l, right, from, to)
					feet, plates, pushes = feet+f, plates+p, pushes+r.pushes(l, right, from, to)
					r.told()
				}
			}
		}
	}
	if feet < 300 || plates < 300 || pushes < 150 {
		t.Errorf("%d feet, %d plates, %d pushes", feet, plates, pushes)
	}
}

type readTodo struct {
	t     *testing.T
	where string
	ev    *sentences.Teller
	row   int
	todo  *sentences.Todo
	list  []element
	w, u  float64
	bare  bool
}

func (r *readTodo) near(what string, got, want, tol float64) {
	r.t.Helper()
	if !(math.Abs(got-want) <= tol) {
		r.t.Errorf("%s: %s is at %.2f, not %.2f", r.where, what, got, want)
	}
}

// head: the title is told, and drawn with where it is seen from unless the place has it.
func (r *readTodo) head() {
	row := r.ev.Row(r.row)
	title := row.Name + ": what to do"
	switch {
	case r.todo.Stays:
		title = row.Name + ": stays where it is, but for soft feet"
	case r.todo.OneLift:
		title = row.Name + ": what to do, in one lift"
	}
	if r.list[1].text != title {
		r.t.Errorf("%s: called %q, not %q", r.where, r.list[1].text, title)
	}
	all := said(r.list)
	for s, want := range map[string]bool{title: !r.bare, "Seen from above, as you stand behind the machine and look at the coupling. Not to scale.": !r.bare, "solid lines go in, dashed lines come out.": true,
		"Otherwise it is left as it stands.": r.todo.Stays, "Coupling to front feet ": !r.bare && known(row.Calc.Feet[row.Front].Station)} {
		if strings.Contains(all, s) != want {
			r.t.Errorf("%s: %q is drawn: %v, in %s", r.where, s, !want, all)
		}
	}
	unit := "mm"
	if r.ev.Inch() {
		unit = "mil"
	}
	if !strings.Contains(all, "Plates: thickness in "+unit+"; ") {
		r.t.Errorf("%s: no unit of plates in %s", r.where, all)
	}
}

// machine reads the outline, the coupling above it and the names of the sides.
func (r *readTodo) machine() (l, right, from, to float64) {
	t := r.t
	var body [4]float64
	var halves [][4]float64
	var axis [4]float64
	for k := range r.list {
		e := &r.list[k]
		switch {
		case e.inside["data-foot"] != "":
		case e.name == "rect" && e.attr["class"] == "d-body":
			if b := box(t, e); b[3]-b[1] < 12 {
				halves = append(halves, b)
			} else {
				body = b
			}
		case e.name == "line" && e.attr["class"] == "d-datum":
			axis = strokes(t, e)[0]
		}
	}
	r.near("the middle of the machine", (body[0]+body[2])/2, r.w/2, 0.51)
	r.near("the width of the machine", body[2]-body[0], math.Round(max(112*r.u, 0.3*r.w)), 0.01)
	if len(halves) != 2 || halves[0][3] > halves[1][1] || halves[1][1]-halves[0][3] > 4 || halves[1][3] > body[1] || body[1]-halves[1][3] > 60+30*r.u {
		t.Fatalf("%s: the coupling %v above %v", r.where, halves, body)
	}
	for _, h := range halves {
		r.near("the middle of the coupling", (h[0]+h[2])/2, r.w/2, 0.01)
		r.near("the width of the coupling", h[2]-h[0], 34*r.u, 0.01)
		r.near("the height of a half", h[3]-h[1], 7*r.u, 0.01)
	}
	if axis[0] != r.w/2 || axis[2] != axis[0] || axis[1] > halves[0][1] || axis[1] < halves[0][1]-8 || axis[3] < halves[1][3]+4 || axis[3] > body[1]+4 {
		t.Errorf("%s: the axis %v through %v to %v", r.where, axis, halves, body)
	}
	// Who stands at the other side of the coupling, and the sides.
	row := r.ev.Row(r.row)
	var above []element
	for k := range r.list {
		if e := &r.list[k]; e.name == "text" && e.inside["data-foot"] == "" && e.inside["data-push"] == "" && e.num(t, "y") < body[1] && e.num(t, "y") > halves[0][1]-30 {
			above = append(above, *e)
		}
	}
	side := func(anchor string, x float64) (s string) {
		for k := range above {
			if e := &above[k]; e.attr["text-anchor"] == anchor && math.Abs(e.num(t, "x")-x) < 0.01 {
				s += " " + e.text
			}
		}
		return strings.TrimSpace(s)
	}
	out := 9*r.u + 8
	for v, got := range map[float64]string{-1: side("end", body[0]-out), 1: side("", body[2]+out)} {
		if want := r.ev.SideName(row, v); !strings.Contains(strings.ReplaceAll(got, " ", ""), strings.ReplaceAll(want, " ", "")) {
			t.Errorf("%s: the side %g is called %q, not %q", r.where, v, got, want)
		}
	}
	if mid := side("middle", r.w/2); mid == "" || halves[0][1]-boxes(t, above[len(above)-1:])[0].y1 > 12 {
		t.Errorf("%s: nobody stands before the coupling", r.where)
	}
	return body[0], body[2], body[1], body[3]
}

// feet reads each foot and its plates.
func (r *readTodo) feet(l, right, from, to float64) (feet, plates int) {
	t := r.t
	low := map[int]float64{-1: from, 1: from} // the lowest words so far, by side
	lowest := from                            // of all that stands in or beside the machine
	for i := range r.list {
		if e := &r.list[i]; e.inside["data-foot"] != "" || e.inside["data-push"] != "" {
			if e.name == "text" {
				lowest = max(lowest, e.num(t, "y"))
			}
			for _, s := range strokes(t, e) {
				lowest = max(lowest, s[1], s[3])
			}
		}
	}
	if to-lowest < 4*r.u || to-lowest > 19*r.u {
		t.Errorf("%s: the machine goes to %.1f, what is in it and beside it to %.1f", r.where, to, lowest)
	}
	for k := range r.todo.Feet {
		f := &r.todo.Feet[k]
		var marks [][4]float64
		var ins, outs [][4]float64
		var texts []element
		for i := range r.list {
			e := &r.list[i]
			if e.inside["data-foot"] != f.Name {
				continue
			}
			switch {
			case e.name == "text":
				texts = append(texts, *e)
			case e.attr["class"] == "d-body":
				marks = append(marks, box(t, e))
			case e.attr["class"] == "d-do":
				ins = append(ins, box(t, e))
			case e.attr["class"] == "d-raw":
				if outs = append(outs, box(t, e)); e.attr["stroke-dasharray"] == "" {
					t.Errorf("%s: what comes out is not dashed", r.where)
				}
			}
		}
		if f.Side == 0 || f.Pair < 0 && !known(f.Station) {
			if !strings.Contains(said(r.list), f.Name+": ") || len(marks) > 0 {
				t.Errorf("%s: %s, whose place is not known, is not told", r.where, f.Name)
			}
			continue
		}
		feet++
		if len(marks) != 1 {
			t.Fatalf("%s: %s is drawn %d times", r.where, f.Name, len(marks))
		}
		m, edge, anchor, x := marks[0], l, "end", l-9*r.u-8
		if f.Side > 0 {
			edge, anchor, x = right, "", right+9*r.u+8
		}
		r.near("the middle of "+f.Name, (m[0]+m[2])/2, edge, 0.01)
		r.near("the width of "+f.Name, m[2]-m[0], 18*r.u, 0.01)
		r.near("the height of "+f.Name, m[3]-m[1], 14*r.u, 0.01)
		if m[1] < from || m[3] > to+0.01 {
			t.Errorf("%s: %s at %v, the machine from %.1f to %.1f", r.where, f.Name, m, from, to)
		}
		name := boxes(t, texts[:1])[0]
		if name.text == "" || !strings.HasPrefix(f.Name, name.text) && !strings.HasSuffix(name.text, "…") || texts[0].attr["font-weight"] == "" || texts[0].num(t, "font-size") != math.Round(13*r.u) || texts[0].attr["text-anchor"] != anchor || math.Abs(texts[0].num(t, "x")-x) > 0.01 || name.y0 < m[1]-2 || name.y1 > m[3]+3 {
			t.Errorf("%s: %s at %v is named at %v", r.where, f.Name, m, name)
		}
		if name.y0 < low[f.Side]-14 {
			t.Errorf("%s: %s begins at %.1f, what stands above it goes to %.1f", r.where, f.Name, name.y0, low[f.Side])
		}
		for _, b := range boxes(t, texts) {
			low[f.Side] = max(low[f.Side], b.y1)
			if f.Side < 0 && b.x1 > x+0.5 || f.Side > 0 && b.x0 < x-0.5 {
				t.Errorf("%s: %q of %s stands on the machine", r.where, b.text, f.Name)
			}
		}
		// A plate a piece.
		said := strings.Join(strings.Fields(wordsOf(texts)), " ")
		in := "put in"
		if f.Exact {
			in = "add"
		}
		for _, s := range []struct {
			word   string
			pieces []string
			plates [][4]float64
		}{{"take out", f.Out, outs}, {in, f.In, ins}} {
			if len(s.pieces) != len(s.plates) || strings.Contains(said, s.word) != (len(s.pieces) > 0) {
				t.Fatalf("%s: %s has %d plates for %q: %s", r.where, f.Name, len(s.plates), s.pieces, said)
			}
			for n, p := range s.plates {
				plates++
				if n > 0 && (p[0] != s.plates[0][0] || p[2] != s.plates[0][2] || p[1] <= s.plates[n-1][3] || p[1] > s.plates[n-1][3]+6*r.u) {
					t.Errorf("%s: %s, plate %v below %v", r.where, f.Name, p, s.plates[n-1])
				}
				r.near("the height of a plate", p[3]-p[1], math.Round(19*r.u)+6*r.u, 0.01)
				if p[2]-p[0] < 62*r.u-2.01 && p[2]-p[0] < l-9*r.u-14-4 || f.Side < 0 && (p[2] > x || p[0] < 0) || f.Side > 0 && (p[0] < x || p[2] > r.w) {
					t.Errorf("%s: %s, a plate %v beside the machine from %.1f to %.1f", r.where, f.Name, p, l, right)
				}
				found := false
				for _, e := range texts {
					b := boxes(t, []element{e})[0]
					if e.text != s.pieces[n] || math.Abs((b.x0+b.x1)/2-(p[0]+p[2])/2) > 0.02 || b.y0 < p[1] || b.y1 > p[3] {
						continue
					}
					found = true
					if big := e.num(t, "font-size") == math.Round(19*r.u); e.attr["font-weight"] == "" || !big && e.num(t, "font-size") != math.Round(13*r.u) || big && width(e.text, font{size: e.num(t, "font-size"), bold: true}) > p[2]-p[0]-1.99 || math.Abs((b.y0+b.y1)/2-(p[1]+p[3])/2) > 4*r.u {
						t.Errorf("%s: %s, %q stands at %v in %v", r.where, f.Name, e.text, b, p)
					}
				}
				if !found {
					t.Errorf("%s: %s, no %q in the plate %v", r.where, f.Name, s.pieces[n], p)
				}
			}
			if len(s.plates) == 0 {
				continue
			}
			p, over := s.plates[0], false // its word stands over the first
			for _, b := range boxes(t, texts) {
				over = over || strings.HasPrefix(s.word, b.text) && p[1]-b.y1 > 0 && p[1]-b.y1 < 6*r.u && (f.Side < 0 && math.Abs(b.x1-p[2]) < 2 || f.Side > 0 && math.Abs(b.x0-p[0]) < 2)
			}
			if !over && !strings.Contains(said, "…") {
				t.Errorf("%s: %s, %q does not stand over its plates", r.where, f.Name, s.word)
			}
		}
		if f.Nothing() != strings.Contains(said, "leave as it is") {
			t.Errorf("%s: %s: %s", r.where, f.Name, said)
		}
		for _, n := range f.Notes {
			if !strings.Contains(strings.ReplaceAll(said, " ", ""), strings.ReplaceAll(n, " ", "")) {
				t.Errorf("%s: %s does not say %q: %s", r.where, f.Name, n, said)
			}
		}
		// Side by side where there is room: what comes out is further from the machine.
		if len(outs) > 0 && len(ins) > 0 {
			side := outs[0][2] <= ins[0][0] || ins[0][2] <= outs[0][0]
			if half := (l - 9*r.u - 8 - 6 - 10) / 2; side != (half >= 62*r.u) || side && (math.Abs(outs[0][0]-x) < math.Abs(ins[0][0]-x)) || !side && outs[0][1] > ins[0][1] {
				t.Errorf("%s: %s, out %v, in %v", r.where, f.Name, outs, ins)
			}
		}
	}
	return feet, plates
}

// pushes reads the arrows across the machine.
func (r *readTodo) pushes(l, right, from, to float64) (n int) {
	t := r.t
	last := from
	for k := range r.todo.Pushes {
		p := &r.todo.Pushes[k]
		var texts []element
		var arrow [4]float64
		var head []float64
		for i := range r.list {
			e := &r.list[i]
			if e.inside["data-push"] != p.Word {
				continue
			}
			switch e.name {
			case "text":
				texts = append(texts, *e)
			case "line":
				arrow = strokes(t, e)[0]
			case "path":
				head = coords(t, e.attr["d"])
			}
		}
		said := strings.Join(strings.Fields(wordsOf(texts)), " ")
		want := p.Word + " feet: leave sideways"
		if p.Towards != 0 {
			want = "push " + p.Word + " feet " + p.Amount + " towards " + p.Side
		}
		if said != want {
			t.Errorf("%s: %q is drawn, not %q", r.where, said, want)
		}
		low := 0.0
		for _, b := range boxes(t, texts) {
			r.near("the middle of "+b.text, (b.x0+b.x1)/2, r.w/2, 0.01)
			if b.y0 < last-12 || b.y0 < from || b.y1 > to || b.x0 < l || b.x1 > right {
				t.Errorf("%s: %q at %v, the machine from %.1f to %.1f, words above to %.1f", r.where, b.text, b, from, to, last)
			}
			low = max(low, b.y1)
		}
		last = low
		if (head != nil) != (p.Towards != 0) {
			t.Errorf("%s: an arrow for %+v: %v", r.where, p, head)
		}
		if head == nil {
			continue
		}
		n++
		way := float64(p.Towards)
		long := math.Hypot(head[0]-(head[2]+head[4])/2, head[1]-(head[3]+head[5])/2)
		if arrow[1] != arrow[3] || way*(head[0]-arrow[0]) < 0.6*(right-l) || math.Abs((arrow[0]+head[0])/2-r.w/2) > 0.01 || min(arrow[0], head[0]) < l+4 || max(arrow[0], head[0]) > right-4 || way*(head[0]-arrow[2]) < 1 || way*(head[0]-arrow[2]) > long || math.Abs(long-16*r.u) > 0.02 ||
			math.Abs(head[3]-head[5]) < 8*r.u {
			t.Errorf("%s: the arrow %v with its head %v across %.1f to %.1f", r.where, arrow, head, l, right)
		}
		// The amount is large and stands over the arrow, where it goes below.
		over, under := math.Inf(-1), math.Inf(1)
		for i, b := range boxes(t, texts) {
			e := &texts[i]
			if b.y1 < arrow[1] {
				over = max(over, b.y1)
			} else {
				under = min(under, b.y0)
			}
			if amount := strings.Contains(p.Amount, e.text) && e.text != ""; amount && (b.y1 > arrow[1] || e.num(t, "font-size") != math.Round(19*r.u)) || e.text == "towards" && b.y0 < arrow[1] {
				t.Errorf("%s: %q at %v, the arrow at %.1f", r.where, e.text, b, arrow[1])
			}
		}
		if arrow[1]-over < 4 || arrow[1]-over > 14*r.u || under-arrow[1] < 4 || under-arrow[1] > 18*r.u {
			t.Errorf("%s: the arrow at %.1f between words at %.1f and %.1f", r.where, arrow[1], over, under)
		}
	}
	return n
}

// told: the words for who cannot see the picture name each foot with its pieces and each push, once.
func (r *readTodo) told() {
	t := r.t
	desc := r.list[2].text
	unit := map[bool]string{true: " mil", false: " mm"}[r.ev.Inch()]
	for k := range r.todo.Feet {
		f := &r.todo.Feet[k]
		var parts []string
		if len(f.Out) > 0 {
			parts = append(parts, "take out "+strings.Join(f.Out, " + "))
		}
		if len(f.In) > 0 {
			parts = append(parts, "put in "+strings.Join(f.In, " + "))
		}
		behind := unit
		if parts == nil {
			parts = []string{"leave as it is"}
			behind = ""
		}
		if f.Exact {
			behind = ""
		}
		if want := f.Name + ": " + strings.Join(append(parts, f.Notes...), ", ") + behind + "."; !strings.Contains(desc, want) {
			t.Errorf("%s: %q is not in %q", r.where, want, desc)
		}
	}
	for _, s := range r.todo.Others {
		if !strings.Contains(desc, s) || !strings.Contains(said(r.list), strings.Join(strings.Fields(s), " ")) {
			t.Errorf("%s: %q is not told", r.where, s)
		}
	}
}

// A flange: the bolts in order, in one column or two, each with its pieces, below its bolt circle.
func TestWhatToDoAtBolts(t *testing.T) {
	bolts := 0
	for name, ev := range map[string]*sentences.Teller{"demo": demo(t), "kinds": allKinds(t, false)} {
		for i := range ev.Len() {
			todo := ev.Todo(i)
			if len(todo.Bolts) == 0 {
				continue
			}
			for _, w := range []float64{300, 439, 440, 700} {
				where := fmt.Sprintf("%s: %s at %g", name, ev.Row(i).Name, w)
				list := parse(t, WhatToDo(nil, ev, i, Options{Width: w}))
				checkLayout(t, where, list, 40)
				low, xs := 0.0, map[float64]bool{}
				var order []string
				for k := range list {
					if e := &list[k]; e.name == "circle" {
						low = max(low, e.num(t, "cy")+e.num(t, "r"))
					}
				}
				said := map[string]string{}
				for k := range list {
					e := &list[k]
					b := e.inside["data-foot"]
					if b == "" || e.name != "text" {
						continue
					}
					if said[b] == "" {
						order = append(order, b)
					}
					said[b] += " " + e.text
					xs[e.num(t, "x")] = true
					if y := e.num(t, "y"); y < low {
						t.Errorf("%s: %q at %.1f, the bolt circle ends at %.1f", where, e.text, y, low)
					}
				}
				columns := []float64{10}
				if w >= 440 {
					columns = append(columns, 10+w/2)
				}
				for _, x := range columns {
					if !xs[x] || len(xs) != len(columns) {
						t.Errorf("%s: columns at %v", where, xs)
					}
				}
				var names []string
				for k := range todo.Bolts {
					f := &todo.Bolts[k]
					names = append(names, f.Name)
					want := "leave as it is"
					if len(f.In) > 0 {
						want = "put in " + strings.Join(f.In, " + ")
						if !f.Exact {
							want += " mm"
						}
					}
					if got := strings.TrimSpace(said[f.Name]); len(f.Out)+len(f.Notes) == 0 && got != f.Name+": "+want {
						t.Errorf("%s: %q, not %q", where, got, want)
					}
					bolts++
				}
				if !slices.Equal(order, names) {
					t.Errorf("%s: bolts %v, not %v", where, order, names)
				}
				if desc := list[2].text; todo.Slide != "" && !strings.HasSuffix(desc, todo.Slide+".") {
					t.Errorf("%s: %q", where, desc)
				}
			}
		}
	}
	if bolts < 30 {
		t.Errorf("%d bolts", bolts)
	}
}

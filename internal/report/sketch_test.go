package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/job"
)

// The sketches of the methods are fixed, so they are held by what a sketch of a coupling must keep, whatever it shows: two machines on one ground, their shafts on one axis, each piece beginning where the last
// ends; hubs with their faces evenly about the coupling centre; dials that touch the face or the rim they are named for and are carried by something; distances that end on what they are named for.

// A sketch is a method's figure taken apart.
type sketch struct {
	t     *testing.T
	where string
	list  []element
	words []textBox

	machines, hubs [2][4]float64 // stationary, movable: left, top, right, bottom
	cy             float64       // of the shafts
	mid            float64       // the coupling centre
	ground         float64
	feet           [][4]float64
	others         [][4]float64 // rects about the axis: pieces of shaft
	dials          []sketchDial
	brackets       [][]float64
	dims           []sketchDim
	leads          [][4]float64
}

type sketchDial struct{ tip, face [2]float64 }

// A sketchDim is a dimension by its two ends; letter is beside it, name is what the list says of it.
type sketchDim struct {
	s            [4]float64
	letter, name string
}

func box(t *testing.T, e *element) [4]float64 {
	x, y := e.num(t, "x"), e.num(t, "y")
	return [4]float64{x, y, x + e.num(t, "width"), y + e.num(t, "height")}
}

func readSketch(t *testing.T, where string, list []element) *sketch {
	t.Helper()
	s := &sketch{t: t, where: where, list: list, words: boxes(t, list)}
	var rects [][4]float64
	for i := range list {
		e := &list[i]
		switch class := e.attr["class"]; {
		case e.name == "rect" && class == "d-body":
			if b := box(t, e); b[2]-b[0] == 16 && b[3]-b[1] == 8 {
				s.feet = append(s.feet, b)
			} else {
				rects = append(rects, b)
			}
		case e.name == "line" && class == "d-datum":
			s.cy = e.num(t, "y1")
			if e.num(t, "y2") != s.cy {
				t.Errorf("%s: the axis is not level", where)
			}
		case e.name == "line" && class == "d-ground":
			s.ground = e.num(t, "y1")
		case e.name == "circle" && class == "d-odd":
			s.dials = append(s.dials, sketchDial{face: [2]float64{e.num(t, "cx"), e.num(t, "cy")}})
		case e.name == "circle" && class == "d-body":
			s.dials = append(s.dials, sketchDial{tip: [2]float64{e.num(t, "cx"), e.num(t, "cy")}}) // joined below: the tip is drawn before its dial
		case e.name == "path" && e.attr["stroke-width"] == "2.4":
			s.brackets = append(s.brackets, coords(t, e.attr["d"]))
		case class == "d-lead":
			s.leads = append(s.leads, strokes(t, e)...)
		case class == "d-dim" && e.name == "line" && i+3 < len(list) && list[i+1].name == "path":
			d := sketchDim{s: strokes(t, e)[0]}
			if n := &list[i+3]; n.name == "text" {
				d.letter = n.text
			}
			s.dims = append(s.dims, d)
		}
	}
	var dials []sketchDial
	for k := 0; k+1 < len(s.dials); k += 2 {
		dials = append(dials, sketchDial{s.dials[k].tip, s.dials[k+1].face})
	}
	s.dials = dials
	for k := range s.dims {
		for i := range list {
			if rest, ok := strings.CutPrefix(list[i].text, s.dims[k].letter+"  "); ok && list[i].name == "text" {
				s.dims[k].name = rest
			}
		}
	}
	if len(rects) < 6 {
		t.Fatalf("%s: %d outlines", where, len(rects))
	}
	slices.SortFunc(rects, func(a, b [4]float64) int { return int(math.Copysign(1, (b[3]-b[1])-(a[3]-a[1]))) })
	s.machines, s.hubs, s.others = [2][4]float64(rects[:2]), [2][4]float64(rects[2:4]), rects[4:]
	for _, p := range []*[2][4]float64{&s.machines, &s.hubs} {
		if p[0][0] > p[1][0] {
			p[0], p[1] = p[1], p[0]
		}
	}
	s.mid = (s.hubs[0][2] + s.hubs[1][0]) / 2
	return s
}

func (s *sketch) near(what string, got, want, tol float64) {
	s.t.Helper()
	if !(math.Abs(got-want) <= tol) {
		s.t.Errorf("%s: %s is at %.2f, not %.2f", s.where, what, got, want)
	}
}

// word is where a word stands; it must be drawn once.
func (s *sketch) word(text string) textBox {
	s.t.Helper()
	var found []textBox
	for _, b := range s.words {
		if b.text == text {
			found = append(found, b)
		}
	}
	if len(found) != 1 {
		s.t.Fatalf("%s: %q is drawn %d times", s.where, text, len(found))
	}
	return found[0]
}

func (s *sketch) dim(name string) [4]float64 {
	s.t.Helper()
	for _, d := range s.dims {
		if d.name == name {
			return d.s
		}
	}
	s.t.Errorf("%s: no distance %q", s.where, name)
	return [4]float64{}
}

// machinesOnGround: what every sketch has.
func (s *sketch) machinesOnGround(w float64) {
	t := s.t
	names := []string{"stationary", "movable"}
	m, h := s.machines, s.hubs
	for k := range 2 {
		b := s.word(names[k])
		if k == 0 && math.Abs(b.x0-m[k][0]) > 4 || k == 1 && math.Abs((b.x0+b.x1-m[k][0]-m[k][2])/2) > 0.01 || m[k][1]-b.y1 < 3 || m[k][1]-b.y1 > 8 {
			t.Errorf("%s: %q stands at %.0f … %.0f, %.0f, the machine at %.0f", s.where, b.text, b.x0, b.x1, b.y1, m[k])
		}
		s.near("the underside of a machine on its feet", m[k][3], s.ground-8, 0.01)
		if !(m[k][1] < s.cy-30 && m[k][3] > s.cy+30) || h[k][3]-h[k][1] != 60 {
			t.Errorf("%s: machine %v and hub %v about %g", s.where, m[k], h[k], s.cy)
		}
		s.near("the middle of a hub", (h[k][1]+h[k][3])/2, s.cy, 0.01)
	}
	if m[0][1] != m[1][1] || !(m[0][0] < m[0][2] && m[0][2] < h[0][0] && h[0][2] < h[1][0] && h[1][2] < m[1][0] && m[1][2]-m[1][0] > m[0][2]-m[0][0]) {
		t.Errorf("%s: machines %v, hubs %v", s.where, m, h)
	}
	s.near("the wide end of the hubs", h[1][2]-h[1][0], h[0][2]-h[0][0], 0.01)
	// Pieces of shaft join hub and machine, about the axis; the axis goes through everything, and no further than the paper.
	joined := 0
	for _, o := range s.others {
		s.near("the middle of a piece of shaft", (o[1]+o[3])/2, s.cy, 0.01)
		if math.Abs(o[0]-m[0][2]) < 0.01 && math.Abs(o[2]-h[0][0]) < 0.01 || math.Abs(o[2]-m[1][0]) < 0.01 && math.Abs(o[0]-h[1][2]) < 0.01 {
			joined++
			if o[3]-o[1] != 12 {
				t.Errorf("%s: a shaft of %g px", s.where, o[3]-o[1])
			}
		}
	}
	if joined != 2 {
		t.Errorf("%s: %d shafts between machines %v and hubs %v: %v", s.where, joined, m, h, s.others)
	}
	for i := range s.list {
		if e := &s.list[i]; e.attr["class"] == "d-datum" || e.attr["class"] == "d-ground" {
			l, r := e.num(t, "x1"), e.num(t, "x2")
			if l > m[0][0] || l < 9 || r < m[1][2] || r > w-10 || w <= 610 && r < w-32 {
				t.Errorf("%s: %s from %g to %g", s.where, e.attr["class"], l, r)
			}
		}
	}
	if len(s.feet) != 3 {
		t.Fatalf("%s: feet %v", s.where, s.feet)
	}
	under := 0
	for _, f := range s.feet {
		for k := range 2 {
			if f[0] >= m[k][0] && f[2] <= m[k][2] {
				under += 1 + 9*k
			}
		}
	}
	if under != 21 {
		t.Errorf("%s: feet %v under machines %v", s.where, s.feet, m)
	}
}

// distances: where each must end, how they hang below each other, and their letters.
func (s *sketch) distances() {
	t := s.t
	var feet []float64 // of the movable machine, middle
	for _, f := range s.feet {
		if f[0] > s.mid {
			feet = append(feet, (f[0]+f[2])/2)
		}
	}
	slices.Sort(feet)
	ends := map[string][2]float64{"Coupling to front feet": {s.mid, feet[0]}, "Front to rear feet": {feet[0], feet[1]}, "Spacer length": {s.hubs[0][2], s.hubs[1][0]}}
	for _, d := range s.dials { // planes are where the plungers touch a rim
		if d.tip[0] == d.face[0] {
			switch {
			case d.tip[0] < s.mid:
				ends["Coupling to stationary plane"] = [2]float64{d.tip[0], s.mid}
			case d.tip[0] > s.hubs[1][2]:
				ends["Coupling to second plane"] = [2]float64{s.mid, d.tip[0]}
			default:
				ends["Coupling to movable plane"] = [2]float64{s.mid, d.tip[0]}
			}
		}
	}
	if _, ok := ends["Coupling to movable plane"]; !ok { // the straightedge touches the movable hub
		ends["Coupling to movable plane"] = [2]float64{s.mid, s.hubs[1][0] + (160-148)*(s.hubs[1][0]-s.mid)/8}
	}
	last, row := s.ground, 0
	for k, d := range s.dims {
		b := textBox{}
		for _, w := range s.words {
			if w.text == d.letter {
				b = w
			}
		}
		if d.name == "Face diameter" { // across, in the movable hub
			if d.s[0] != d.s[2] || !(d.s[0] > s.hubs[1][0] && d.s[0] < s.hubs[1][2]) {
				t.Errorf("%s: face diameter %v, hub %v", s.where, d.s, s.hubs[1])
			}
			s.near("the middle of the face diameter", (d.s[1]+d.s[3])/2, s.cy, 0.01)
			if long := d.s[3] - d.s[1]; !(long > 20 && d.s[1] > s.hubs[1][1] && d.s[3] < s.hubs[1][3]) || b.x0-d.s[0] < 2 || b.x0-d.s[0] > 8 || b.y1 > d.s[3] || b.y0 < s.cy {
				t.Errorf("%s: face diameter %v, its letter at %v", s.where, d.s, b)
			}
			continue
		}
		want, ok := ends[d.name]
		if !ok {
			t.Errorf("%s: a distance %q that ends nowhere", s.where, d.name)
		}
		s.near(d.name+" from", min(d.s[0], d.s[2]), want[0], 0.01)
		s.near(d.name+" to", max(d.s[0], d.s[2]), want[1], 0.01)
		s.near("the letter of "+d.name, (b.x0+b.x1)/2, (d.s[0]+d.s[2])/2, 0.01)
		s.near("the height of the letter of "+d.name, b.y1, d.s[1]-3, 0.01)
		step := d.s[1] - last
		if d.name == "Front to rear feet" { // it goes on in the same row
			s.near(d.name, step, 0, 0.01)
		} else if step < 17 || row > 0 && step != 18 || step > 38 {
			t.Errorf("%s: distance %d is %.1f below the last", s.where, k, step)
		} else {
			row++
		}
		last = d.s[1]
		for _, x := range []float64{d.s[0], d.s[2]} { // lines lead down to both ends, from the machines or from a letter above
			if !slices.ContainsFunc(s.leads, func(l [4]float64) bool {
				return l[0] == x && l[2] == x && math.Abs(l[3]-d.s[1]-3) < 0.01 && l[1] >= s.ground && l[1] < d.s[1]-2 && l[1] <= s.ground+30+18*float64(row)
			}) {
				t.Errorf("%s: no line leads down to %s at %g: %v", s.where, d.name, x, s.leads)
			}
		}
	}
	// The list of the letters stands below, and not far.
	top := math.Inf(1)
	for _, w := range s.words {
		if len(w.text) > 3 && w.text[1:3] == "  " {
			top = min(top, w.y0)
		}
	}
	if top-last < 20 || top-last > 32 {
		t.Errorf("%s: the list begins %.1f below the last distance", s.where, top-last)
	}
}

// carried: every dial touches a rim or a face, and hangs on a bracket that stands on a hub or a spool, or on a bracket that does; no bracket goes through a hub.
func (s *sketch) carried() {
	t := s.t
	solid := append(append([][4]float64{}, s.hubs[:]...), s.others...)
	for i := range s.list {
		if e := &s.list[i]; e.name == "rect" && e.attr["class"] == "d-spool" {
			b := box(t, e)
			s.near("the middle of the spool", (b[1]+b[3])/2, s.cy, 0.01)
			s.near("the middle of the spool along", (b[0]+b[2])/2, s.mid, 0.01)
			if !(b[0] > s.hubs[0][2] && b[2]-b[0] > 0.7*(s.hubs[1][0]-s.hubs[0][2])) {
				t.Errorf("%s: the spool %v between %v", s.where, b, s.hubs)
			}
			solid = append(solid, b)
		}
	}
	within := func(b [4]float64, x, y, by float64) bool {
		return x > b[0]-by && x < b[2]+by && y > b[1]-by && y < b[3]+by
	}
	for _, d := range s.dials {
		dx, dy := d.face[0]-d.tip[0], d.face[1]-d.tip[1]
		touches := false
		for _, b := range solid {
			rim := dx == 0 && d.tip[0] >= b[0] && d.tip[0] <= b[2] && (dy < 0 && math.Abs(d.tip[1]-b[1]) < 0.01 || dy > 0 && math.Abs(d.tip[1]-b[3]) < 0.01)
			face := dy == 0 && d.tip[1] > b[1] && d.tip[1] < s.cy-8 && (dx < 0 && math.Abs(d.tip[0]-b[0]) < 0.01 || dx > 0 && math.Abs(d.tip[0]-b[2]) < 0.01)
			touches = touches || rim || face
			if within(b, d.face[0], d.face[1], 4) {
				t.Errorf("%s: the dial at %.1f lies on %v", s.where, d.face, b)
			}
		}
		if l := math.Hypot(dx, dy); !touches || l < 12 || l > 40 {
			t.Errorf("%s: the dial at %.1f with its tip at %.1f touches nothing of %.1f", s.where, d.face, d.tip, solid)
		}
		if !slices.ContainsFunc(s.list, func(e element) bool { // the plunger goes from the tip to the edge that is nearer
			return e.name == "line" && e.attr["class"] == "d-body" && math.Hypot(e.num(t, "x1")-d.tip[0], e.num(t, "y1")-d.tip[1]) < 0.01 && math.Abs(math.Hypot(e.num(t, "x2")-d.tip[0], e.num(t, "y2")-d.tip[1])-math.Hypot(dx, dy)+8) < 0.01
		}) {
			t.Errorf("%s: no plunger from %.1f to the dial at %.1f", s.where, d.tip, d.face)
		}
		hands := 0
		for i := range s.list {
			if e := &s.list[i]; e.name == "line" && e.attr["class"] == "d-body" && math.Hypot(e.num(t, "x1")-d.face[0], e.num(t, "y1")-d.face[1]) < 0.01 {
				hands++
				if l := math.Hypot(e.num(t, "x2")-d.face[0], e.num(t, "y2")-d.face[1]); l < 4 || l > 7 || !(e.num(t, "y2") < d.face[1] && e.num(t, "x2") > d.face[0]) {
					t.Errorf("%s: a hand %.1f px long", s.where, l)
				}
			}
		}
		if hands != 1 {
			t.Errorf("%s: %d hands on the dial at %.1f", s.where, hands, d.face)
		}
	}
	for k, xy := range s.brackets {
		n := len(xy)
		dials := 0
		for end, p := range [2][2]float64{{xy[0], xy[1]}, {xy[n-2], xy[n-1]}} {
			held := false
			for _, d := range s.dials {
				if math.Abs(math.Hypot(p[0]-d.face[0], p[1]-d.face[1])-8) < 0.01 {
					held = true
					dials++
				}
			}
			for _, b := range solid {
				on := within(b, p[0], p[1], 0.01) && (math.Abs(p[1]-b[1]) < 0.01 || math.Abs(p[1]-b[3]) < 0.01)
				held = held || on
			}
			for o, q := range s.brackets {
				for i := 0; o != k && i+3 < len(q); i += 2 {
					held = held || from([4]float64(q[i:i+4]), p[0], p[1]) < 0.01
				}
			}
			if !held {
				t.Errorf("%s: end %d of the bracket %.1f is on nothing", s.where, end, xy)
			}
		}
		if dials == 0 {
			t.Errorf("%s: the bracket %.1f carries no dial", s.where, xy)
		}
		for i := 0; i+3 < n; i += 2 {
			slant := xy[i] != xy[i+2] && xy[i+1] != xy[i+3]
			for _, b := range s.hubs {
				if (textBox{x0: b[0], y0: b[1], x1: b[2], y1: b[3]}).through([4]float64(xy[i : i+4])) {
					t.Errorf("%s: the bracket %.1f goes through a hub", s.where, xy)
				}
			}
			if slant && math.Hypot(xy[i]-xy[i+2], xy[i+1]-xy[i+3]) > 12 {
				t.Errorf("%s: the bracket %.1f is crooked", s.where, xy)
			}
		}
	}
	if len(s.dials) > 0 && len(s.brackets) < len(s.dials) {
		t.Errorf("%s: %d brackets for %d dials", s.where, len(s.brackets), len(s.dials))
	}
}

// leaders: each leads from beside a word to something that is drawn. What a word leads to is returned by the word.
func (s *sketch) leaders() map[string][2]float64 {
	out := map[string][2]float64{}
	for _, l := range s.leads {
		if l[0] == l[2] && l[1] >= s.ground {
			continue // down to a distance
		}
		var name string
		var far [2]float64
		best := 6.5
		for _, b := range s.words {
			for end := range 2 {
				x, y := l[2*end], l[2*end+1]
				if d := math.Hypot(max(b.x0-x, x-b.x1, 0), max(b.y0-y, y-b.y1, 0)); d < best {
					best, name, far = d, b.text, [2]float64{l[2-2*end], l[3-2*end]}
				}
			}
		}
		if name == "" {
			s.t.Errorf("%s: the leader %.1f begins at no word", s.where, l)
		}
		out[name] = far
	}
	return out
}

// touch says whether a point is at the edge of the dial whose tip fits, above its middle, as the words are.
func (s *sketch) touch(p [2]float64, fits func(d sketchDial) bool) bool {
	for _, d := range s.dials {
		if fits(d) {
			return p[1] < d.face[1] && math.Hypot(p[0]-d.face[0], p[1]-d.face[1]) < 9.1 && math.Hypot(p[0]-d.face[0], p[1]-d.face[1]) > 7.9
		}
	}
	return false
}

func TestSketchesOfMethods(t *testing.T) {
	for m := job.MethodBlank; m <= job.GivenLineMethod; m++ {
		for _, w := range []float64{300, 480, 760, 1000} {
			s := readSketch(t, fmt.Sprintf("%s at %g", m, w), parse(t, MethodFigure(nil, m, Options{Width: w})))
			s.machinesOnGround(w)
			s.distances()
			s.carried()
			leads := s.leaders()
			has := map[string]func(p [2]float64) bool{}
			rim := func(right, second bool) func(p [2]float64) bool {
				return func(p [2]float64) bool {
					return s.touch(p, func(d sketchDial) bool {
						return d.tip[0] == d.face[0] && (d.tip[0] > s.mid) == right && (d.tip[0] > s.hubs[1][2]) == second
					})
				}
			}
			face := func(right bool) func(p [2]float64) bool {
				return func(p [2]float64) bool {
					return s.touch(p, func(d sketchDial) bool { return d.tip[1] == d.face[1] && (d.tip[0] > s.mid) == right })
				}
			}
			switch m {
			case job.ReverseIndicator, job.Sweeps:
				has["movable rim"] = rim(true, false)
				// The other dial is below, between ground and name.
				b := s.word("stationary rim")
				s.near("the word for the stationary rim", (b.x0+b.x1)/2, s.dials[1].face[0], 0.01)
				if s.dials[1].tip[0] > s.mid || s.dials[1].tip[1] != s.hubs[0][3] || b.y0 < s.ground || b.y0 > s.ground+12 || s.dials[1].face[1] > s.ground {
					t.Errorf("%s: the dial of the stationary rim at %v, its word at %v", s.where, s.dials[1], b)
				}
				if len(s.brackets) == 2 && !(s.brackets[0][0] < s.mid && s.brackets[0][1] == s.hubs[0][1] && s.brackets[1][0] > s.mid && s.brackets[1][1] == s.hubs[1][3]) {
					t.Errorf("%s: a bracket stands on the hub that its dial touches: %v", s.where, s.brackets)
				}
			case job.RimAndFace:
				has["movable rim"], has["face"] = rim(true, false), face(true)
			case job.TwoRims:
				has["movable rim"], has["second rim"] = rim(true, false), rim(true, true)
				if s.dim("Coupling to second plane")[2] < s.dim("Coupling to movable plane")[2] {
					t.Errorf("%s: the second plane is nearer", s.where)
				}
			case job.FaceAndFace:
				has["stationary face"], has["face"] = face(false), face(true)
				b := s.word("spool")
				s.near("the word for the spool", (b.x0+b.x1)/2, s.mid, 0.01)
				if b.y0 < s.cy+7 || b.y0 > s.cy+20 {
					t.Errorf("%s: the spool is named at %v", s.where, b)
				}
				planes := 0
				for i := range s.list { // a flange at either flex plane, higher than the hub
					if e := &s.list[i]; e.name == "line" && e.attr["class"] == "d-body" && e.num(t, "x1") == e.num(t, "x2") && (math.Abs(e.num(t, "x1")-s.hubs[0][2]) < 0.01 || math.Abs(e.num(t, "x1")-s.hubs[1][0]) < 0.01) {
						planes++
						if a, b := min(e.num(t, "y1"), e.num(t, "y2")), max(e.num(t, "y1"), e.num(t, "y2")); a > s.hubs[0][1]-3 || b != s.hubs[0][3] {
							t.Errorf("%s: a flex plane from %g to %g, hub %v", s.where, a, b, s.hubs[0])
						}
					}
				}
				if planes != 2 {
					t.Errorf("%s: %d flex planes", s.where, planes)
				}
			case job.StraightedgeAndGap:
				s.straightedge(has)
			case job.GivenLineMethod:
				s.givenLine(has)
			default:
				has["coupling centre"] = func(p [2]float64) bool { return p[0] == s.mid }
				centre := 0
				for i := range s.list {
					if e := &s.list[i]; e.name == "line" && e.attr["class"] == "d-dim" && e.num(t, "x1") == e.num(t, "x2") && e.num(t, "x1") == s.mid {
						if centre++; e.num(t, "y1") > s.hubs[0][1]-8 || e.num(t, "y2") < s.hubs[0][3]+4 || e.num(t, "y2") > s.ground {
							t.Errorf("%s: the coupling centre is marked from %g to %g", s.where, e.num(t, "y1"), e.num(t, "y2"))
						}
					}
				}
				if b := s.word("coupling centre"); centre != 1 || math.Abs((b.x0+b.x1)/2-s.mid) > 0.01 || b.y1 > s.hubs[0][1]-8 || b.y1 < s.machines[0][1]-10 {
					t.Errorf("%s: %d marks of the coupling centre, named at %v", s.where, centre, b)
				}
			}
			for word, fits := range has {
				p, ok := leads[word]
				if !ok || !fits(p) {
					t.Errorf("%s: %q leads to %.1f: %v", s.where, word, p, leads)
				}
				if b := s.word(word); b.y1 < s.machines[0][1]-30 {
					t.Errorf("%s: %q stands far above, at %.0f", s.where, word, b.y1)
				}
				delete(leads, word)
			}
			if len(leads) > 0 {
				t.Errorf("%s: leaders from %v", s.where, leads)
			}
		}
	}
}

// A method that nobody knows has the sketch of the distances that every method needs.
func TestSketchOfNoMethod(t *testing.T) {
	blank := string(MethodFigure(nil, job.MethodBlank, Options{}))
	for _, m := range []job.Method{job.GivenLineMethod + 1, 99, 255} {
		if got := string(MethodFigure(nil, m, Options{})); got != blank && len(methodWords) <= int(m) {
			t.Errorf("method %d: %.200s", m, got)
		}
	}
}

// straightedge: it lies on both rims, and the gauge stands between the faces, widest below.
func (s *sketch) straightedge(has map[string]func(p [2]float64) bool) {
	t := s.t
	n := 0
	for i := range s.list {
		e := &s.list[i]
		switch {
		case e.name == "rect" && e.attr["class"] == "d-odd":
			n++
			b := box(t, e)
			if b[3] > s.hubs[0][1] || b[3] < s.hubs[0][1]-2 || b[0] < s.hubs[0][0] || b[0] > s.hubs[0][2] || b[2] < s.hubs[1][0]+8 || b[2] > s.hubs[1][2] || b[3]-b[1] < 4 || b[3]-b[1] > 8 {
				t.Errorf("%s: the straightedge %.1f on hubs %.1f", s.where, b, s.hubs)
			}
			if d := s.dim("Coupling to movable plane"); d[2] > b[2] {
				t.Errorf("%s: the plane %v is past the straightedge %v", s.where, d, b)
			}
			has["straightedge: step"] = func(p [2]float64) bool { return p[0] > b[0] && p[0] < b[2] && p[1] == b[1] }
		case e.name == "path" && e.attr["class"] == "d-odd":
			n++
			xy := coords(t, e.attr["d"])
			if len(xy) != 6 || xy[1] != xy[3] || !(xy[0]-s.hubs[0][2] > 0.5 && xy[0]-s.hubs[0][2] < 2 && s.hubs[1][0]-xy[2] > 0.5 && s.hubs[1][0]-xy[2] < 2) || !(xy[5] < xy[1] && xy[5] > s.cy && xy[1] < s.hubs[0][3]) {
				t.Errorf("%s: the gauge %.1f between hubs %.1f", s.where, xy, s.hubs)
			}
			s.near("the point of the gauge", xy[4], s.mid, 0.01)
			has["gauge: gap"] = func(p [2]float64) bool { return p[0] > xy[0] && p[0] < xy[2] && math.Abs(p[1]-xy[1]) < 3 }
		}
	}
	if n != 2 {
		t.Errorf("%s: straightedge and gauge are %d", s.where, n)
	}
}

// givenLine: the line begins at the coupling centre, as high as the offset's arrow says, and rises; a level line shows from where.
func (s *sketch) givenLine(has map[string]func(p [2]float64) bool) {
	t := s.t
	var line, level, offset [4]float64
	for i := range s.list {
		switch e := &s.list[i]; {
		case e.attr["class"] == "d-found":
			line = strokes(t, e)[0]
		case e.attr["class"] == "d-grid":
			level = strokes(t, e)[0]
		case e.attr["class"] == "d-do" && e.name == "line":
			offset = strokes(t, e)[0]
		}
	}
	if line[0] != s.mid || !(line[1] < s.cy-8) || !(line[3] < line[1]-10) || line[2] < s.machines[1][2] || offset != [4]float64{s.mid, s.cy, s.mid, line[1]} || level[0] != s.mid || level[1] != line[1] || level[3] != level[1] ||
		level[2] < s.hubs[1][0] || level[2] > s.machines[1][0] {
		t.Errorf("%s: line %v, level %v, offset %v about %g, %g", s.where, line, level, offset, s.mid, s.cy)
	}
	has["Given offset V"] = func(p [2]float64) bool { return p[0] == s.mid && p[1] < s.cy-2 && p[1] > line[1] }
	has["Given slope V"] = func(p [2]float64) bool {
		return p[0] > s.hubs[1][0] && p[0] < s.machines[1][0] && math.Abs(p[1]-(line[1]+(line[3]-line[1])*(p[0]-line[0])/(line[2]-line[0]))) < 5 && p[1] < level[1]
	}
}

// The clock from above: all outlines evenly about the axis, the coupling midway between the machines, each word at what it names, the person behind the movable machine with their shoulders across the way they look,
// and the look goes along the axis into that machine. Beside or below it the clock: hours outside it, names of sides below their hours, the arc of the angles inside it about its middle.
func TestClockFromAbove(t *testing.T) {
	for _, w := range []float64{300, 420, 639, 640, 760, 1000} {
		where := fmt.Sprintf("clock at %g", w)
		list := parse(t, ClockFigure(nil, "river", "wall", Options{Width: w}))
		words := map[string]textBox{}
		for _, b := range boxes(t, list) {
			words[b.text] = b
			if cut, ok := strings.CutSuffix(b.text, "…"); ok && strings.HasPrefix("stationary", cut) && w < 320 {
				words["stationary"] = b
			}
		}
		var rects [][4]float64
		var axis, look [4]float64
		var shoulders, arc []float64
		var head, clock, shaft [3]float64
		for i := range list {
			e := &list[i]
			class := e.attr["class"]
			switch {
			case e.name == "rect" && class == "d-body":
				rects = append(rects, box(t, e))
			case e.name == "line" && class == "d-datum" && axis == [4]float64{}:
				axis = strokes(t, e)[0]
			case e.name == "line" && class == "d-do":
				look = strokes(t, e)[0]
			case e.name == "path" && class == "d-body":
				shoulders = coords(t, e.attr["d"])
			case e.name == "path" && class == "d-do" && strings.Count(e.attr["d"], "L") > 4:
				arc = coords(t, e.attr["d"])
			case e.name == "circle":
				c := [3]float64{e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")}
				switch c[2] {
				case 7:
					head = c
				case 50:
					clock = c
				default:
					shaft = c
				}
			}
		}
		cy := axis[1]
		slices.SortFunc(rects, func(a, b [4]float64) int { return int(math.Copysign(1, a[0]-b[0])) })
		if len(rects) != 4 || axis[3] != cy {
			t.Fatalf("%s: outlines %v about %v", where, rects, axis)
		}
		near := func(what string, got, want, tol float64) {
			t.Helper()
			if !(math.Abs(got-want) <= tol) {
				t.Errorf("%s: %s is at %.2f, not %.2f", where, what, got, want)
			}
		}
		for k, r := range rects {
			near("the middle of an outline", (r[1]+r[3])/2, cy, 0.01)
			if r[2] <= r[0]+4 || k > 0 && rects[k-1][2] >= r[0] {
				t.Errorf("%s: outlines %v", where, rects)
			}
		}
		stat, movable := rects[0], rects[3]
		near("a half of the coupling", rects[1][2]-rects[1][0], rects[2][2]-rects[2][0], 0.01)
		middle := (rects[1][2] + rects[2][0]) / 2
		near("the coupling between the machines", middle, (stat[2]+movable[0])/2, 0.01)
		if gap := rects[2][0] - rects[1][2]; gap > 6 || stat[3]-stat[1] != 72 || movable[3]-movable[1] != 72 || rects[1][3]-rects[1][1] != 28 || rects[2][3] != rects[1][3] || movable[2]-movable[0] < 1.3*(stat[2]-stat[0]) {
			t.Errorf("%s: outlines %v", where, rects)
		}
		if axis[0] > stat[0] || axis[0] < 10 || axis[2] < movable[2] || axis[2] > head[0]-12 {
			t.Errorf("%s: the axis %v", where, axis)
		}
		at := func(name string, x, low, high float64) {
			t.Helper()
			b, ok := words[name]
			if !ok || math.Abs((b.x0+b.x1)/2-x) > 0.01 || b.y0 < low || b.y1 > high {
				t.Errorf("%s: %q stands at %v, not about %.1f between %.1f and %.1f", where, name, b, x, low, high)
			}
		}
		at("stationary", (stat[0]+stat[2])/2, stat[1], cy-4)
		at("movable", (movable[0]+movable[2])/2, movable[1], cy-4)
		at("coupling", middle, rects[1][3], rects[1][3]+20)
		for name, span := range map[string][2]float64{"3 o'clock: river": {stat[1] - 34, stat[1] - 4}, "9 o'clock: wall": {stat[3] + 4, stat[3] + 34}} {
			b := words[name]
			at(name, (b.x0+b.x1)/2, span[0], span[1])
			if mid := (b.x0 + b.x1) / 2; mid < movable[0] || mid > movable[2] {
				t.Errorf("%s: %q stands about %.1f, the movable machine is at %v", where, name, mid, movable)
			}
		}
		near("the head", head[1], cy, 0.01)
		if head[0]-movable[2] < 20 || head[0]-movable[2] > 50 || len(shoulders) != 8 {
			t.Fatalf("%s: the person at %v, shoulders %v, the machine ends at %g", where, head, shoulders, movable[2])
		}
		for k := 0; k < 4; k += 2 { // as far on one side as on the other, and further than the head
			near("a shoulder", shoulders[k+1]-cy, cy-shoulders[7-k], 0.01)
			near("a shoulder along", shoulders[k], shoulders[6-k], 0.01)
			if d := cy - shoulders[k+1]; d < 12 || d > 20 || math.Abs(shoulders[k]-head[0]) > 10 {
				t.Errorf("%s: shoulders %v about %v", where, shoulders, head)
			}
		}
		if look[1] != cy || look[3] != cy || head[0]-7-look[0] < 0 || head[0]-7-look[0] > 8 || look[2] > movable[2]-8 || look[2] < (movable[0]+movable[2])/2 {
			t.Errorf("%s: the look %v from %v into %v", where, look, head, movable)
		}
		// Both parts: side by side with their headings in one line, or one below the other.
		above, see := words["From above"], words["What you see, looking at the coupling"]
		part := w
		if w >= 640 {
			part = w / 2
			near("the second heading", see.y1, above.y1, 0.01)
			near("the second heading along", see.x0, above.x0+w/2, 0.01)
		} else if see.x0 != above.x0 || see.y0 < words["9 o'clock: wall"].y1+4 || see.y0 > words["9 o'clock: wall"].y1+40 {
			t.Errorf("%s: the second heading at %v", where, see)
		}
		if right := head[0] + 8; right > part-8 || right < min(part-64, 420) || above.y0 > words["3 o'clock: river"].y0 || words["3 o'clock: river"].y0-above.y1 > 30 {
			t.Errorf("%s: what is seen from above goes to %.1f of %.1f, its heading at %v", where, right, part, above)
		}
		near("the clock", clock[0], w-part/2, 0.01)
		near("the shaft in the clock", math.Hypot(shaft[0]-clock[0], shaft[1]-clock[1]), 0, 0.01)
		if shaft[2] < 10 || shaft[2] > 25 || clock[1]-50-see.y1 < 26 || clock[1]-50-see.y1 > 50 {
			t.Errorf("%s: the clock %v with %v below %v", where, clock, shaft, see)
		}
		at("12, up", clock[0], clock[1]-50-26, clock[1]-50-8)
		at("6", clock[0], clock[1]+50+8, clock[1]+50+26)
		for hour, side := range map[string]string{"3": "river", "9": "wall"} {
			b, n := words[hour], words[side]
			out, name := b.x0-clock[0]-50, n.x0-b.x0
			if hour == "9" {
				out, name = clock[0]-50-b.x1, n.x1-b.x1
			}
			if out < 8 || out > 18 || math.Abs((b.y0+b.y1)/2-clock[1]) > 8 || name != 0 || n.y0 < b.y1+3 || n.y0 > b.y1+10 {
				t.Errorf("%s: %s o'clock at %v, %s at %v, the clock %v", where, hour, b, side, n, clock)
			}
		}
		last := 0.0
		for i := 0; i+1 < len(arc); i += 2 {
			dx, dy := arc[i]-clock[0], clock[1]-arc[i+1]
			near("the arc", math.Hypot(dx, dy), 36, 0.01)
			deg := math.Atan2(dx, dy) * 180 / math.Pi
			if deg <= last || deg < 10 || deg > 80 || i == len(arc)-2 && deg < 60 {
				t.Errorf("%s: the arc at %.1f° after %.1f°", where, deg, last)
			}
			last = deg
		}
	}
	// Without names the hours stand alone, and sides of blanks have no name.
	for _, names := range [][2]string{{"", ""}, {"  ", " "}, {" river ", ""}} {
		all := said(parse(t, ClockFigure(nil, names[0], names[1], Options{Width: 760})))
		if strings.Contains(all, ": ") != (names[0] == " river ") && strings.Contains(all, "o'clock: ") || strings.Contains(all, "“") != (names[0] == " river ") || strings.Contains(all, "“ ") || names[0] == " river " && !strings.Contains(all, "Here 3 o'clock is the side called “river”.") {
			t.Errorf("%q: %s", names, all)
		}
	}
}

// A clock with its hand: four hours about it, a stroke inward at each, the hand from the middle to the angle, read with another formula than it is drawn by.
func TestClockAtAngles(t *testing.T) {
	for deg := 0.0; deg < 720; deg += 22.5 {
		list := parse(t, ClockAt(nil, deg, Options{Width: 900}))
		if list[0].num(t, "width") != 280 || list[0].num(t, "height") != 280 || list[1].text != fmt.Sprintf("the dial at %g° from 12 o'clock", deg) {
			t.Errorf("%g°: %v, %q", deg, list[0].attr, list[1].text)
		}
		var rim float64
		var hand [4]float64
		var end [3]float64
		var ticks [][4]float64
		for i := range list {
			switch e := &list[i]; {
			case e.name == "circle" && e.attr["class"] == "d-axis":
				rim = e.num(t, "r")
				if e.attr["cx"] != "140" || e.attr["cy"] != "140" {
					t.Errorf("%g°: the clock is at %v", deg, e.attr)
				}
			case e.name == "circle":
				end = [3]float64{e.num(t, "cx"), e.num(t, "cy"), e.num(t, "r")}
			case e.name == "line" && e.attr["class"] == "d-do":
				hand = strokes(t, e)[0]
			case e.name == "line":
				ticks = append(ticks, strokes(t, e)[0])
			}
		}
		long := math.Hypot(hand[2]-140, hand[3]-140)
		a := math.Mod(math.Atan2(hand[2]-140, 140-hand[3])*180/math.Pi+720, 360)
		if off := math.Abs(a - math.Mod(deg, 360)); hand[0] != 140 || hand[1] != 140 || min(off, 360-off) > 0.02 || !(long > 0.6*rim && long < rim) || end[0] != hand[2] || end[1] != hand[3] || long+end[2] > rim+6 {
			t.Errorf("%g°: the hand %v, %.2f°, in a clock of %g, its end %v", deg, hand, a, rim, end)
		}
		hours := boxes(t, list)
		if len(ticks) != 4 || len(hours) != 4 {
			t.Fatalf("%g°: %d strokes, %d hours", deg, len(ticks), len(hours))
		}
		for k, s := range ticks {
			want := [2]float64{[]float64{0, 1, 0, -1}[k], []float64{-1, 0, 1, 0}[k]}
			h := hours[k]
			mx, my := (h.x0+h.x1)/2, (h.y0+h.y1)/2
			if h.text != []string{"12", "3", "6", "9"}[k] || math.Abs(s[0]-140-want[0]*rim) > 0.01 || math.Abs(s[1]-140-want[1]*rim) > 0.01 || math.Abs(s[2]-140-want[0]*(rim-14)) > 0.01 || math.Abs(s[3]-140-want[1]*(rim-14)) > 0.01 ||
				math.Abs(mx-140-want[0]*(rim+32)) > 1 || math.Abs(my-140-want[1]*(rim+32)) > 3 {
				t.Errorf("%g°: the stroke %v and %q at %.0f, %.0f", deg, s, h.text, mx, my)
			}
		}
	}
}

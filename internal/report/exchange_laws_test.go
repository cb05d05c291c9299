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

// Up and sideways are alike to everything that is measured: a machine whose planes are exchanged (what was up is towards 3 o'clock and the other way round) has as its top view the side view of
// the other. On a clock that is its mirror image in the line from half past one to half past seven: a reading at φ becomes one at 90° − φ.

// turnedNames are the columns that go over into each other.
var turnedNames = strings.NewReplacer("offset V", "offset H", "offset H", "offset V", "slope V", "slope H", "slope H", "slope V", "Growth V", "Growth H", "Growth H", "Growth V", "front V", "front H", "front H", "front V",
	"rear V", "rear H", "rear H", "rear V", "near V", "near H", "near H", "near V", "far V", "far H", "far H", "far V", "shim done", "move done", "move done", "shim done",
	"Room up", "Room right", "Room right", "Room up", "Room down", "Room left", "Room left", "Room down",
	"rim 12", "rim 3", "rim 3", "rim 12", "rim 6", "rim 9", "rim 9", "rim 6", "ace 12", "ace 3", "ace 3", "ace 12", "ace 6", "ace 9", "ace 9", "ace 6")

// turned exchanges the planes of a row of [listOf].
func turned(row string) string {
	var out []string
	for _, part := range strings.Split(row, ";") {
		name, v, _ := strings.Cut(strings.TrimSpace(part), ":")
		if strings.HasPrefix(row, "Machine: left") { // it looks the other way: what is up becomes what is towards its own 9 o'clock
			if x, err := strconv.ParseFloat(strings.TrimSpace(v), 64); err == nil && strings.HasPrefix(name, "Given") {
				v = fmt.Sprintf(" %g", -x)
			}
			name = strings.NewReplacer("Room up", "Room down", "Room down", "Room up").Replace(name)
			if name = turnedNames.Replace(name); strings.HasPrefix(name, "Room") {
				name = strings.NewReplacer("up", "down", "down", "up").Replace(name)
			}
			out = append(out, name+":"+v)
			continue
		}
		if strings.HasSuffix(name, "sweep") {
			var pairs []string
			for _, p := range strings.Fields(v) {
				a, r, _ := strings.Cut(p, ":")
				deg, _ := strconv.ParseFloat(a, 64)
				pairs = append(pairs, fmt.Sprintf("%g:%s", math.Mod(450-deg, 360), r))
			}
			v = " " + strings.Join(pairs, " ")
		}
		out = append(out, turnedNames.Replace(name)+":"+v)
	}
	return strings.Join(out, ";")
}

func turnedSheets(lists sheets) sheets {
	out := sheets{}
	for kind, rows := range lists {
		for _, r := range rows {
			out[kind] = append(out[kind], turned(r))
		}
	}
	return out
}

// planeOf is what a group of a drawing shows as strokes about the line its heights count from, sorted: class, from, to; of some classes. datum is the attribute that says where that line is; "": it is the datum that is drawn.
func planeOf(t *testing.T, list []element, group, value, datum string, classes ...string) (out []string) {
	t.Helper()
	line := 0.0
	for i := range list {
		e := &list[i]
		if e.inside[group] == value && e.attr["class"] == "d-datum" {
			line = e.num(t, "y1")
		}
	}
	for i := range list {
		e := &list[i]
		if e.inside[group] != value || !slices.Contains(classes, e.attr["class"]) {
			continue
		}
		y0, err := strconv.ParseFloat(e.inside[datum], 64)
		switch {
		case datum == "":
			y0 = line
		case err != nil:
			continue
		}
		for _, s := range strokes(t, e) {
			if s[0] > s[2] || s[0] == s[2] && s[1] > s[3] {
				s = [4]float64{s[2], s[3], s[0], s[1]}
			}
			for k := range s {
				if s[k] = s[k] - []float64{0, y0}[k%2]; math.Abs(s[k]) < 0.05 {
					s[k] = 0
				}
			}
			out = append(out, fmt.Sprintf("%s %s %.1f", e.attr["class"], e.name, s))
		}
	}
	slices.Sort(out)
	return out
}

// near says whether two lists of planeOf are the same but for a tenth of a pixel in their rounding.
func sameStrokes(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	left := slices.Clone(b)
	for _, s := range a {
		k := slices.IndexFunc(left, func(o string) bool {
			f, g := strings.Fields(strings.NewReplacer("[", "", "]", "").Replace(s)), strings.Fields(strings.NewReplacer("[", "", "]", "").Replace(o))
			if f[0] != g[0] || f[1] != g[1] {
				return false
			}
			for i := 2; i < 6; i++ {
				x, _ := strconv.ParseFloat(f[i], 64)
				y, _ := strconv.ParseFloat(g[i], 64)
				if math.Abs(x-y) > 0.16 {
					return false
				}
			}
			return true
		})
		if k < 0 {
			return false
		}
		left = slices.Delete(left, k, k+1)
	}
	return true
}

const feetAt = "; Coupling to front feet: 480; Front to rear feet: 710; Speed: 1480"

// noSag: a droop of the bracket is up and down, and so is what is not known of it.
const noSag = "; Movable sag at 6: 0; Stationary sag at 6: 0; Sag ±: 0"

// exchangeJob is rows of every kind whose two planes are unlike, in line, ±, wanted line and growth.
func exchangeJob() sheets {
	m := knownMachines[3]
	part := []float64{0, 30, 60, 90, 120, 150} // less than a turn: one plane is surer than the other
	return sheets{
		job.MachinesSheet: {
			"Machine: short; Coupling: short; Method: line; Given offset V: 0.31; Given offset H: -0.12; Given slope V: 0.4; Given slope H: 0.25; Given offset ±: 0.02; Given slope ±: 0.05" + feetAt,
			"Machine: up only; Coupling: short; Method: line; Given offset V: 0.2; Given offset H: 0; Given slope V: 0.6; Given slope H: 0.001" + feetAt,
			"Machine: down; Coupling: short; Method: line; Given offset V: -0.2; Given offset H: 0.05; Given slope V: -0.6; Given slope H: -0.1; Offset limit: 0.04; Slope limit: 0.3" + feetAt,
			"Machine: spacer; Coupling: spacer; Spacer length: 300; Method: line; Given offset V: 0.31; Given offset H: -0.12; Given slope V: 0.4; Given slope H: 0.25" + feetAt,
			"Machine: universal; Coupling: universal; Spacer length: 700; Method: line; Given offset V: 0.31; Given offset H: -0.12; Given slope V: 0.4; Given slope H: 0.25" + feetAt,
			"Machine: wanted; Coupling: short; Method: line; Given offset V: 0.1; Given offset H: 0.02; Given slope V: 0.1; Given slope H: 0; Cold offset V: -0.08; Cold offset H: 0.03; Cold slope V: 0.2; Cold slope H: -0.15" + feetAt,
			"Machine: wanted spacer; Coupling: spacer; Spacer length: 400; Method: line; Given offset V: 0.1; Given offset H: 0.02; Given slope V: 0.1; Given slope H: 0; Cold offset V: -0.08; Cold offset H: 0.03; Cold slope V: 0.2; Cold slope H: -0.15" + feetAt,
			"Machine: part; Coupling: short; Coupling to stationary plane: 110; Coupling to movable plane: 130" + noSag + "; Movable sweep: " + sweepText(part, m.rim, 60, 0.004) + "; Stationary sweep: " + sweepText(part, m.back, 120, -0.006) + feetAt,
			"Machine: inside; Coupling: short; Method: line; Given offset V: 0.004; Given offset H: 0.001; Given slope V: 0.02; Given slope H: 0.01" + feetAt,
			"Machine: growth; Coupling: short; Method: line; Given offset V: 0.1; Given offset H: -0.12; Given slope V: 0.1; Given slope H: 0.25; Stationary near support: 300; Stationary far support: 800" + feetAt,
			"Machine: change; Coupling: short; Method: line; Given offset V: 0.1; Given offset H: -0.12; Given slope V: 0.1; Given slope H: 0.25; Change offset V: -0.05; Change offset H: 0.02; Change slope V: 0.1; Change slope H: 0.3" + feetAt,
			"Machine: rounds; Coupling: short; Coupling to stationary plane: 110; Coupling to movable plane: 130" + noSag + feetAt,
			"Machine: right; Train: T; Stationary: motor; Coupling: short; Method: line; Stationary near support: 200; Stationary far support: 700; Given offset V: 0.3; Given offset H: -0.1; Given slope V: 0.4; Given slope H: 0.25" + feetAt,
			"Machine: tight; Train: U; Stationary: gear; Coupling: short; Method: line; Given offset V: 0.5; Given offset H: -0.1; Given slope V: 0.4; Given slope H: 0.25" + feetAt,
			"Machine: left one; Train: T; Stationary: motor; Coupling: short; Method: line; Stationary near support: 150; Stationary far support: 650; Given offset V: -0.2; Given offset H: 0.35; Given slope V: 0.5; Given slope H: 0.3" + feetAt,
		},
		job.GrowthSheet: {
			"Machine: growth; Support: movable front; Growth V: 0.2; Growth H: -0.05", "Machine: growth; Support: movable rear; Growth V: 0.35; Growth H: 0.02",
			"Machine: growth; Support: stationary near; Growth V: 0.1; Growth H: 0.04", "Machine: growth; Support: stationary far; Growth V: 0.05; Growth H: -0.03",
		},
		job.RoundsSheet: exchangeRounds(),
		job.FeetSheet: {"Machine: right; Foot: front 9; Room up: 2; Room down: 0.9; Room left: 0.8; Room right: 1.5", "Machine: right; Foot: front 3; Room up: 2; Room down: 0.9; Room left: 0.8; Room right: 1.5",
			"Machine: left one; Foot: rear 9; Room up: 0.9; Room down: 0.6; Room left: 0.8; Room right: 0.7", "Machine: left one; Foot: rear 3; Room up: 0.9; Room down: 0.6; Room left: 0.8; Room right: 0.7",
			"Machine: tight; Foot: front 9; Room up: 0.1; Room down: 0.2; Room left: 0.3; Room right: 0.4", "Machine: tight; Foot: front 3; Room up: 0.1; Room down: 0.2; Room left: 0.3; Room right: 0.4"},
	}
}

func exchangeRounds() (out []string) {
	for k, r := range []struct {
		m    knownMachine
		done string
	}{{knownMachine{0.31, -0.12, 0.40, 0.25}, ""}, {knownMachine{0.06, -0.05, 0.1, 0.1}, "; Front shim done: -0.4; Rear shim done: -0.7; Front move done: 0.05; Rear move done: -0.1"},
		{knownMachine{0.02, -0.01, 0.03, 0.02}, "; Front shim done: -0.05; Rear shim done: -0.1; Front move done: 0.01; Rear move done: -0.02"}} {
		s := fmt.Sprintf("Machine: rounds; Round: %d%s", k, r.done)
		for _, h := range []int{12, 3, 6, 9} {
			deg := float64(h%12) * 30
			s += fmt.Sprintf("; Movable rim %d: %.5f; Stationary rim %d: %.5f", h, r.m.rim(deg)+0.4, h, r.m.back(deg)-0.3)
		}
		out = append(out, s)
	}
	return out
}

// TestPlanesExchanged draws each machine and its exchanged one: side view and top view exchange their lines, the band, limits and arrows, at the same scale; the line in words has the same
// numbers; and so do rounds, growth and trains.
func TestPlanesExchanged(t *testing.T) {
	a := rowsJob(t, exchangeJob())
	b := rowsJob(t, turnedSheets(exchangeJob()))
	lines := []string{"d-found", "d-band", "d-wanted", "d-limit", "d-hatch", "d-spool", "d-datum"}
	numbersOf := func(list []element, group, value, has string) (out []string) {
		for i := range list {
			if e := &list[i]; e.name == "text" && e.inside[group] == value && strings.Contains(e.text, has) {
				for _, n := range coordinate.FindAllString(e.text, -1) {
					if strings.Contains(n, ".") && len(out) < 2+2*int(list[0].num(t, "width")/900) { // lengths; where the paper is narrow the line breaks behind two of them
						out = append(out, n)
					}
				}
			}
		}
		return out
	}
	unlike, drawn := 0, 0
	for i := range a.Len() {
		name := a.Row(i).Name
		both := func(what string, one, two []element, group string, names [2]string, datum string, classes ...string) {
			t.Helper()
			s, u := planeOf(t, one, group, names[0], datum, classes...), planeOf(t, one, group, names[1], datum, classes...)
			if !sameStrokes(s, planeOf(t, two, group, names[1], datum, classes...)) || !sameStrokes(u, planeOf(t, two, group, names[0], datum, classes...)) {
				t.Errorf("%s of %s: the planes do not exchange:\n%s\n%s", what, name, s, planeOf(t, two, group, names[1], datum, classes...))
			}
			if !sameStrokes(s, u) {
				unlike++
			}
			drawn += len(s)
		}
		views := [2]string{"side", "top"}
		for _, w := range []float64{420, 900} {
			if strings.HasPrefix(name, "left") {
				break // exchanged in the frame of its train, below
			}
			one, two := parse(t, Machine(nil, a, i, Options{Width: w})), parse(t, Machine(nil, b, i, Options{Width: w}))
			both("machine", one, two, "data-view", views, "data-y0", lines...)
			for k, v := range views {
				if x, y := numbersOf(one, "data-view", v, "Found: "), numbersOf(two, "data-view", views[1-k], "Found: "); !slices.Equal(x, y) || len(x) < 1 && a.Row(i).HasLine() {
					t.Errorf("%s: %s view says %v, exchanged %v", name, v, x, y)
				}
			}
			// The arrows from found to wanted stand in the view itself, before any words.
			arrows := func(list []element, v string) (out []string) {
				return planeOf(t, list, "data-view", v, "data-y0", "d-do")
			}
			if x, y := arrows(one, "side"), arrows(two, "top"); !sameStrokes(x, y) {
				t.Errorf("%s: arrows %v, exchanged %v", name, x, y)
			}
			if x, y := arrows(one, "top"), arrows(two, "side"); !sameStrokes(x, y) {
				t.Errorf("%s: arrows of the top view %v, exchanged %v", name, x, y)
			}
			if i == 0 {
				var x, y string
				for _, e := range parse(t, Overview(nil, a, nil, Options{Width: w})) {
					x += fmt.Sprint(e.name, e.attr, e.text)
				}
				for _, e := range parse(t, Overview(nil, b, nil, Options{Width: w})) {
					y += fmt.Sprint(e.name, e.attr, e.text)
				}
				if x != y {
					t.Error("the overview knows up from sideways")
				}
			}
		}
		switch name {
		case "right", "tight":
			which := 0
			if name == "tight" {
				which = 1
			}
			// The names of the machines and the numbers of the feet stand in both; a body between its feet has legs in the side view only.
			both("train", parse(t, Train(nil, a, which, -1, Options{Width: 900})), parse(t, Train(nil, b, which, -1, Options{Width: 900})), "data-view", views, "", "d-found", "d-wanted", "d-after", "d-datum", "d-spool", "d-dim", "d-odd", "d-do")
			x, y := TrainFeet(a, &a.Trains()[which]), TrainFeet(b, &b.Trains()[which])
			for k := range x {
				lengths := func(s string) []string {
					return coordinate.FindAllString(strings.NewReplacer("3 o'clock", "", "9 o'clock", "").Replace(s), -1)
				}
				if !slices.Equal(lengths(x[k].Shim), lengths(y[k].Move)) || !slices.Equal(lengths(x[k].Move), lengths(y[k].Shim)) {
					t.Errorf("feet %d of the train: %q and %q, exchanged %q and %q", k, x[k].Shim, x[k].Move, y[k].Shim, y[k].Move)
				}
				one, two := lengths(x[k].Room), lengths(y[k].Room)
				if len(one) == 4 && !slices.Equal(append(one[2:4:4], one[:2]...), two) || len(one) != len(two) {
					t.Errorf("feet %d of the train: room %q, exchanged %q", k, x[k].Room, y[k].Room)
				}
			}
		case "rounds":
			both("rounds", parse(t, Rounds(nil, a, i, Options{Width: 700})), parse(t, Rounds(nil, b, i, Options{Width: 700})), "data-plane", [2]string{"V", "H"}, "data-mid", "d-wanted", "d-grid", "d-after", "d-odd", "d-pm", "d-mark", "d-slope", "d-axis")
		case "growth", "change":
			both("growth", parse(t, GrowthFigure(nil, a, i, Options{Width: 700})), parse(t, GrowthFigure(nil, b, i, Options{Width: 700})), "data-view", views, "data-y0", "d-wanted", "d-after", "d-datum", "d-do", "d-lead")
		}
	}
	if unlike < 20 || drawn < 400 {
		t.Errorf("%d drawings whose planes differ, %d strokes", unlike, drawn)
	}
}

// TestInchDrawsTheSame: whatever unit a job is shown in, its machines, lines, feet, growth, rounds and trains are drawn at the same places; only words, axes and the bar to measure by are others.
func TestInchDrawsTheSame(t *testing.T) {
	a, b := rowsJob(t, exchangeJob()), rowsJob(t, exchangeJob())
	b.ShowAs("inch")
	b.Count()
	if !b.ShowsInch() || a.ShowsInch() {
		t.Fatal("both are shown in one unit")
	}
	views, strokesSeen := [2]string{"side", "top"}, 0
	same := func(what string, one, two []element, group string, names [2]string, datum string, classes ...string) {
		t.Helper()
		for _, v := range names {
			x, y := planeOf(t, one, group, v, datum, classes...), planeOf(t, two, group, v, datum, classes...)
			if strokesSeen += len(x); !sameStrokes(x, y) {
				t.Errorf("%s, %s: in mm\n%s\nin inch\n%s", what, v, x, y)
			}
		}
	}
	for i := range a.Len() {
		name, opt := a.Row(i).Name, Options{Width: 900}
		lines := []string{"d-found", "d-band", "d-wanted", "d-after", "d-limit", "d-hatch", "d-spool", "d-datum", "d-body", "d-do", "d-ground"}
		same("machine of "+name, parse(t, Machine(nil, a, i, opt)), parse(t, Machine(nil, b, i, opt)), "data-view", views, "data-y0", lines...)
		same("growth of "+name, parse(t, GrowthFigure(nil, a, i, opt)), parse(t, GrowthFigure(nil, b, i, opt)), "data-view", views, "data-y0", lines...)
		same("rounds of "+name, parse(t, Rounds(nil, a, i, opt)), parse(t, Rounds(nil, b, i, opt)), "data-plane", [2]string{"V", "H"}, "data-mid", "d-after", "d-odd", "d-pm", "d-mark", "d-slope")
	}
	for which := range 2 {
		same(fmt.Sprintf("train %d", which), parse(t, Train(nil, a, which, -1, Options{Width: 900})), parse(t, Train(nil, b, which, -1, Options{Width: 900})), "data-view", views, "", "d-found", "d-wanted", "d-after", "d-datum", "d-spool", "d-body", "d-dim", "d-odd", "d-do", "d-ground")
	}
	if strokesSeen < 1500 {
		t.Errorf("%d strokes", strokesSeen)
	}
}

// mirrored turns what a row says sideways over, as a mirror does that stands upright along the shafts: 3 o'clock for 9, towards for away from.
func mirrored(row string) string {
	var out []string
	for _, part := range strings.Split(row, ";") {
		name, v, _ := strings.Cut(strings.TrimSpace(part), ":")
		v = strings.TrimSpace(v)
		switch x, err := strconv.ParseFloat(v, 64); {
		case strings.HasSuffix(name, "sweep"):
			var pairs []string
			for _, p := range strings.Fields(v) {
				a, r, _ := strings.Cut(p, ":")
				deg, _ := strconv.ParseFloat(a, 64)
				pairs = append(pairs, fmt.Sprintf("%g:%s", math.Mod(360-deg, 360), r))
			}
			v = strings.Join(pairs, " ")
		case err == nil && (strings.HasSuffix(name, " H") || strings.HasSuffix(name, "move done")):
			v = fmt.Sprint(-x)
		}
		name = strings.NewReplacer("rim 3", "rim 9", "rim 9", "rim 3", "Room left", "Room right", "Room right", "Room left").Replace(name)
		out = append(out, name+": "+v)
	}
	return strings.Join(out, "; ")
}

// flipped turns strokes of planeOf over about their line.
func flipped(list []string) (out []string) {
	for _, s := range list {
		f := strings.Fields(strings.NewReplacer("[", "", "]", "").Replace(s))
		var v [4]float64
		for i := range v {
			v[i], _ = strconv.ParseFloat(f[2+i], 64)
		}
		v[1], v[3] = -v[1], -v[3]
		if v[0] == v[2] && v[1] > v[3] {
			v[1], v[3] = v[3], v[1]
		}
		out = append(out, fmt.Sprintf("%s %s %.1f", f[0], f[1], v))
	}
	return out
}

// TestMirrorOfDrawings: the mirrored job has the same side views, and the top views turned over: lines, bands, limits and what is to be done, growth, rounds and trains.
func TestMirrorOfDrawings(t *testing.T) {
	there := exchangeJob()
	back := sheets{}
	for kind, rows := range there {
		for _, r := range rows {
			back[kind] = append(back[kind], mirrored(r))
		}
	}
	a, b := rowsJob(t, there), rowsJob(t, back)
	strokesSeen := 0
	both := func(what string, one, two []element, group string, names [2]string, datum string, classes ...string) {
		t.Helper()
		for k, v := range names {
			x, y := planeOf(t, one, group, v, datum, classes...), planeOf(t, two, group, v, datum, classes...)
			if k == 1 {
				y = flipped(y)
			}
			if strokesSeen += len(x); !sameStrokes(x, y) {
				t.Errorf("%s, %s:\n%s\nmirrored\n%s", what, v, x, y)
			}
		}
	}
	views := [2]string{"side", "top"}
	for i := range a.Len() {
		name, opt := a.Row(i).Name, Options{Width: 700}
		both("machine of "+name, parse(t, Machine(nil, a, i, opt)), parse(t, Machine(nil, b, i, opt)), "data-view", views, "data-y0", "d-found", "d-band", "d-wanted", "d-after", "d-limit", "d-hatch", "d-spool", "d-datum", "d-do")
		both("growth of "+name, parse(t, GrowthFigure(nil, a, i, opt)), parse(t, GrowthFigure(nil, b, i, opt)), "data-view", views, "data-y0", "d-wanted", "d-after", "d-datum", "d-do")
		both("rounds of "+name, parse(t, Rounds(nil, a, i, opt)), parse(t, Rounds(nil, b, i, opt)), "data-plane", [2]string{"V", "H"}, "data-mid", "d-after", "d-odd", "d-pm", "d-mark", "d-slope", "d-grid")
	}
	for which := range 2 {
		both(fmt.Sprintf("train %d", which), parse(t, Train(nil, a, which, -1, Options{Width: 900})), parse(t, Train(nil, b, which, -1, Options{Width: 900})), "data-view", views, "", "d-found", "d-wanted", "d-after", "d-datum", "d-spool", "d-dim")
	}
	if strokesSeen < 1000 {
		t.Errorf("%d strokes", strokesSeen)
	}
}

package sentences

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// mirrored is a job as it would be written of machines that are the mirror images of its own: left and right exchanged, nothing else. Readings at 3 and 9 change places, what is counted towards 3 turns its sign, and so
// do the names of the sides and of the feet.
func mirrored(t testing.TB, j *job.Job) *job.Job {
	t.Helper()
	negate := func(s string) string {
		if s == "" || s == "0" {
			return s
		}
		if rest, ok := strings.CutPrefix(s, "-"); ok {
			return rest
		}
		if s[0] < '0' || s[0] > '9' {
			t.Fatalf("%q cannot be mirrored", s)
		}
		return "-" + s
	}
	angle := func(s string) string {
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatalf("the angle %q", s)
		}
		return strconv.FormatFloat(360-x, 'f', -1, 64)
	}
	out := job.NewJob()
	for _, k := range job.SheetKinds() {
		from := j.Table(k)
		if from == nil || k == job.RecordSheet {
			continue
		}
		if k == job.SettingsSheet {
			out.SetTable(k, from)
			continue
		}
		to := *from
		to.Rows = nil
		// partner is the column whose cells come here.
		partner := make([]int, len(from.Header))
		turn := make([]bool, len(from.Header))
		kinds := make([]*job.ColumnInfo, len(from.Header))
		find := func(key string) int {
			for c, h := range from.Header {
				if info := job.FindColumn(k, h); info != nil && info.Key == key {
					return c
				}
			}
			return -1
		}
		for c, h := range from.Header {
			partner[c] = c
			info := job.FindColumn(k, h)
			if kinds[c] = info; info == nil {
				continue
			}
			other := info.Key
			switch key := info.Key; {
			case strings.HasSuffix(key, "_3") && !strings.Contains(key, "growth"):
				other = strings.TrimSuffix(key, "_3") + "_9"
			case strings.HasSuffix(key, "_9") && !strings.HasPrefix(key, "given_gap"):
				other = strings.TrimSuffix(key, "_9") + "_3"
			case strings.HasSuffix(key, "room_left"):
				other = strings.TrimSuffix(key, "left") + "right"
			case strings.HasSuffix(key, "room_right"):
				other = strings.TrimSuffix(key, "right") + "left"
			case strings.HasSuffix(key, "_h") || key == "given_gap_3_9" || key == "front_move_done" || key == "rear_move_done" || k == job.FeetSheet && key == "across" || k == job.GrowthSheet && key == "sideways":
				turn[c] = true
			}
			if other != info.Key {
				if partner[c] = find(other); partner[c] < 0 {
					partner[c] = c
					to.Header = slices.Clone(to.Header)
					unit := ""
					if at := strings.IndexAny(h, "[("); at >= 0 {
						unit = " " + h[at:]
					}
					for id := range job.NumColumns {
						if x := id.Info(); x.Sheet == info.Sheet && x.Key == other {
							to.Header[c] = x.Name + unit
						}
					}
				}
			}
		}
		for _, row := range from.Rows {
			m := make([]string, len(row))
			for c := range row {
				s := ""
				if p := partner[min(c, len(partner)-1)]; c < len(partner) && p < len(row) {
					s = row[p]
				}
				if c < len(partner) && turn[c] {
					s = negate(s)
				}
				if info := kinds[min(c, len(kinds)-1)]; info != nil {
					switch {
					case k == job.FeetSheet && info.Key == "foot":
						s = strings.NewReplacer(" 9", " 3", " 3", " 9").Replace(s)
					case k == job.ReadingsSheet && info.Key == "angle":
						s = angle(s)
					case info.Quantity == job.QSweep && s != "":
						var pairs []string
						for _, p := range strings.Fields(s) {
							a, r, ok := strings.Cut(p, ":")
							if !ok {
								pairs[len(pairs)-1] += " " + p
								continue
							}
							pairs = append(pairs, angle(a)+":"+r)
						}
						s = strings.Join(pairs, " ")
					}
				}
				m[c] = s
			}
			to.Rows = append(to.Rows, m)
		}
		out.SetTable(k, &to)
	}
	return out
}

// swapSides is a text with the sides exchanged in it.
var swapSides = strings.NewReplacer("3 o'clock", "9 o'clock", "9 o'clock", "3 o'clock", "front 3", "front 9", "front 9", "front 3", "rear 3", "rear 9", "rear 9", "rear 3", "near 3", "near 9", "near 9", "near 3", "far 3", "far 9", "far 9", "far 3",
	"to the left", "to the right", "to the right", "to the left",
	"further 1 3", "further 1 9", "further 1 9", "further 1 3", "9 edge", "3 edge", "3 edge", "9 edge", "front left", "front right", "front right", "front left", "rear left", "rear right", "rear right", "rear left")

// saidOf is everything that is said of row i, by what says it.
func saidOf(e *Teller, i int) map[string][]string {
	r := e.Row(i)
	out := map[string][]string{}
	for k, c := range job.ResultColumns() {
		out["result "+c.Key] = []string{string(e.AppendResultText(nil, i, k))}
		out["told "+c.Key] = []string{string(e.AppendTold(nil, i, k)), e.ResultText(i, c.Key)}
	}
	for _, s := range e.Sentences(i) {
		out["sentences"] = append(out["sentences"], s.Kind.String()+": "+s.Text)
	}
	for _, p := range r.Problems {
		out["problems"] = append(out["problems"], p.Severity.String()+": "+p.Text.String()+" / "+p.Hint.String())
	}
	todo := e.Todo(i)
	for _, list := range [][]FootTodo{todo.Feet, todo.Bolts} {
		for _, f := range list {
			out["todo"] = append(out["todo"], fmt.Sprintf("%s out %q in %q exact %v notes %q nothing %v", f.Name, f.Out, f.In, f.Exact, f.Notes, f.Nothing()))
		}
	}
	for _, p := range todo.Pushes {
		out["pushes"] = append(out["pushes"], fmt.Sprintf("%d %s at x = %.3f: %s %s %s", p.Pair, p.Word, p.Station, p.Amount, p.Number, p.Side))
	}
	out["todo else"] = append([]string{todo.Slide, fmt.Sprint(todo.Stays, todo.OneLift), todo.Missing}, append(todo.Others, todo.Take()...)...)
	offset, slope := e.StandsShort(r)
	out["stands"] = append(offset, slope...)
	if c, ok := e.Card(i); ok {
		out["card"] = []string{c.Machine, c.Stationary, fmt.Sprint(c.Numbers), c.Area, c.Crew, c.Round, c.State, c.Verdict, c.Gap, c.Unit, fmt.Sprint(c.Wanted, c.Take, c.TakeIn, c.From, c.Checks, c.Usual, c.Torque)}
		out["card rooms"] = c.Rooms
		for _, f := range c.SoftFeet {
			out["card feet"] = append(out["card feet"], fmt.Sprint(f))
		}
	}
	head, reasons := e.SoftReasons(i)
	out["soft feet"] = append(append([]string{head}, reasons...), e.SaySoft(i)...)
	out["growth"] = e.SayGrowth(i)
	out["rounds"] = append(append([]string{e.RoundsHead(r)}, e.RoundsWords(i)...), e.HotWords(i)...)
	for _, p := range e.Packs(i) {
		out["packs"] = append(out["packs"], p.Foot+": "+e.PickDo(&p))
	}
	if r.Feet != nil {
		for k := range r.Feet.Feet {
			out["feet"] = append(out["feet"], r.Feet.Feet[k].Name+": "+e.FootDo(&r.Feet.Feet[k]))
		}
	}
	return out
}

// The mirror image of a job comes to the mirror image of its results: every number that has a side turns its sign, every other stays, and every sentence, list, card and reason says the same words with the sides exchanged. Nothing in the
// arithmetic or in the words knows left from right but by its name.
//
// evidence: calc=whole rows grade=identity count=26 source=mirror images: left and right exchanged in every sheet of the demo
func TestMirroredJob(t *testing.T) {
	j := demoJob(t, false)
	j.Record = nil
	three, nine := -1, -1
	for c, h := range j.Machines.Header {
		switch h {
		case "Side at 3":
			three = c
		case "Side at 9":
			nine = c
		}
	}
	for _, row := range j.Machines.Rows {
		row[three], row[nine] = "river side", "wall side"
	}
	a, b := work(t, j), work(t, mirrored(t, j))
	for _, e := range []*Teller{a, b} {
		if _, err := e.Allocate(nil); err != nil {
			t.Fatal(err)
		}
	}
	said := 0
	for i := range a.Len() {
		r := a.Row(i)
		if r.Kind != evaluate.MachineRow {
			continue
		}
		x, y := saidOf(a, i), saidOf(b, i)
		for _, what := range sortedKeys(x, y) {
			p, q := x[what], y[what]
			for k := range q {
				q[k] = fourNumbers.ReplaceAllString(swapSides.Replace(q[k]), "$1, $4, $3, $2")
				if strings.HasSuffix(what, "_pack") || strings.HasSuffix(what, "further_packs") {
					q[k] = swapPacks.Replace(q[k])
				}
			}
			onFlange := len(r.Calc.BoltShims) > 0 // bolts are counted clockwise: the second of them is the last in the mirror
			for _, list := range [][]string{p, q} {
				for k := range list {
					if onFlange {
						list[k] = boltNames.ReplaceAllString(list[k], "bolt ?")
					}
					if onFlange && strings.HasSuffix(what, "bolt_shims") {
						parts := strings.Split(list[k], "; ")
						slices.Sort(parts)
						list[k] = strings.Join(parts, "; ")
					}
				}
			}
			if what == "packs" || what == "todo" || what == "card feet" || onFlange { // feet that nobody listed are named in the order of the clock
				slices.Sort(p)
				slices.Sort(q)
			}
			for k := range max(len(p), len(q)) {
				one, two := "", ""
				if k < len(p) {
					one = p[k]
				}
				if k < len(q) {
					two = q[k]
				}
				if (strings.HasSuffix(what, "_h") || strings.HasSuffix(what, "_moves")) && two != "" && two[0] != 'w' && two != "stays" && !strings.HasPrefix(strings.TrimLeft(two, "-0., "), "±") { // a number that has a side
					if rest, ok := strings.CutPrefix(two, "-"); ok {
						two = rest
					} else if strings.Trim(two, "0.") != "" {
						two = "-" + two
					}
				}
				if said++; alike(one) != alike(two) {
					t.Errorf("%s, %s:\n  %s\n  mirrored %s", r.Name, what, one, two)
				}
			}
		}
	}
	if said < 3000 {
		t.Error(said)
	}
}

func sortedKeys(list ...map[string][]string) (keys []string) {
	for _, m := range list {
		for k := range m {
			if !slices.Contains(keys, k) {
				keys = append(keys, k)
			}
		}
	}
	slices.Sort(keys)
	return keys
}

// alike leaves out in which order the sides or the corners of a foot are named: that is by the clock, and not the mirror image.
func alike(s string) string {
	if at := strings.Index(s, "(front "); at >= 0 && strings.Contains(s, "crosswise") {
		if end := strings.IndexByte(s[at:], ')'); end >= 0 {
			s = s[:at] + s[at+end:]
		}
	}
	if _, list, ok := strings.Cut(s, "what goes under "); ok {
		names, rest, _ := strings.Cut(list, ".")
		parts := strings.Split(names, ", ")
		slices.Sort(parts)
		s = s[:len(s)-len(list)] + strings.Join(parts, ", ") + rest
	}
	if strings.Contains(s, "would fit") { // the readings of a slip are named from 12 on, and the two of an exchange in that order
		s = clockNames.ReplaceAllString(s, " at ?")
	}
	if strings.Contains(s, "towards the ") && strings.Contains(s, " feet: ") {
		parts := strings.Split(s[strings.Index(s, ": ")+2:], ", ")
		slices.Sort(parts)
		s = s[:strings.Index(s, ": ")] + strings.Join(parts, ", ")
	}
	return s
}

// swapPacks is a list of what goes under the feet of a pair, with the sides exchanged.
var swapPacks = strings.NewReplacer("9: ", "3: ", "3: ", "9: ", "6 and 9: ", "6 and 9: ")

// fourNumbers are what a dial reads at 12, 3, 6 and 9.
var fourNumbers = regexp.MustCompile(`(-?[0-9]+\.[0-9]+), (-?[0-9]+\.[0-9]+), (-?[0-9]+\.[0-9]+), (-?[0-9]+\.[0-9]+)`)

var boltNames = regexp.MustCompile(`bolt [0-9]+( \([0-9]+ °\))?`)

var clockNames = regexp.MustCompile(` at (3|6|9|12)\b`)

package sentences

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

var amounts = regexp.MustCompile(`([-+±]?)(\d+(?:\.\d+)?)( (?:mm/m|mil/in|N·m|lbf·ft|mm|mil|in)\b)?`)

// measures are the amounts of a text in mm and mm/m with how far each may be off by its rounding, and the text without them. A bare number is one of pieces, which keep the unit of the job, or a count.
func measures(s string) (skeleton string, values, slack []float64) {
	factor := map[string]float64{"": 1, " mm": 1, " mil": 0.0254, " in": 25.4, " mm/m": 1, " mil/in": 1, " N·m": 1, " lbf·ft": 1.3558179}
	skeleton = amounts.ReplaceAllStringFunc(s, func(m string) string {
		p := amounts.FindStringSubmatch(m)
		v, _ := strconv.ParseFloat(p[2], 64)
		_, frac, _ := strings.Cut(p[2], ".")
		if p[1] == "-" {
			v = -v
		}
		f, off := factor[p[3]], 0.0
		if p[3] != "" {
			off = 0.51 * f * math.Pow10(-len(frac))
		}
		values, slack = append(values, v*f), append(slack, off)
		return "#"
	})
	return skeleton, values, slack
}

// Every sentence, reason and card says the same in inches as in millimetres: the same words, and amounts that are the same within the digits they are given with.
func TestSaysTheSameInInches(t *testing.T) {
	e := work(t, demoJob(t, false))
	compared := 0
	for i := range e.Len() {
		r := e.Row(i)
		if r.Kind != evaluate.MachineRow {
			continue
		}
		e.ShowAs("metric")
		a := saidOf(e, i)
		e.ShowAs("inch")
		b := saidOf(e, i)
		for _, what := range sortedKeys(a, b) {
			if strings.HasPrefix(what, "result ") || strings.HasPrefix(what, "told ") || what == "stands" || what == "pushes" || what == "problems" {
				continue // numbers without their unit, and what is told in the units that were typed
			}
			for k := range max(len(a[what]), len(b[what])) {
				one, two := "", ""
				if k < len(a[what]) {
					one = a[what][k]
				}
				if k < len(b[what]) {
					two = b[what][k]
				}
				if strings.Contains(one, "in mm at 12") || strings.HasPrefix(one, "hint: ") || strings.Contains(one, "in line") != strings.Contains(two, "in line") { // readings without their unit; what was told in the job's; a thousandth of a millimetre is no mil
					continue
				}
				x, v, sv := measures(one)
				y, w, sw := measures(two)
				if x != y || len(v) != len(w) {
					t.Errorf("%s, %s:\n  %s\n  in inches %s", r.Name, what, one, two)
					continue
				}
				for n := range v {
					if compared++; math.Abs(v[n]-w[n]) > sv[n]+sw[n] {
						t.Errorf("%s, %s: %g and %g\n  %s\n  in inches %s", r.Name, what, v[n], w[n], one, two)
					}
				}
			}
		}
	}
	if compared < 400 {
		t.Error(compared)
	}
}

// only is a job of one machine: its rows of each sheet that names machines, and the sheets that name none.
func only(j *job.Job, name string) *job.Job {
	out := job.NewJob()
	for _, k := range job.SheetKinds() {
		from := j.Table(k)
		if from == nil || k == job.TrainsSheet || k == job.RecordSheet {
			continue
		}
		to := *from
		at := slices.IndexFunc(from.Header, func(h string) bool { return h == "Machine" })
		if at >= 0 && k != job.SettingsSheet {
			to.Rows = nil
			for _, row := range from.Rows {
				if at < len(row) && row[at] == name {
					to.Rows = append(to.Rows, row)
				} else {
					to.Rows = append(to.Rows, nil) // so that rows keep their numbers
				}
			}
		}
		out.SetTable(k, &to)
	}
	return out
}

// A machine comes to the same by itself, and in a list written backwards, as in the whole list: nothing of one row gets into another, but for trains and the stock that is shared out.
func TestMachinesStandAlone(t *testing.T) {
	j := demoJob(t, false)
	j.Record, j.Trains = nil, nil
	train := slices.Index(j.Machines.Header, "Train")
	for _, row := range j.Machines.Rows {
		if train < len(row) {
			row[train] = ""
		}
	}
	whole := work(t, j)
	back := job.NewJob()
	for _, k := range job.SheetKinds() {
		if from := j.Table(k); from != nil {
			to := *from
			if k == job.MachinesSheet {
				to.Rows = slices.Clone(from.Rows)
				slices.Reverse(to.Rows)
			}
			back.SetTable(k, &to)
		}
	}
	backwards := work(t, back)
	compared := 0
	for i := range whole.Len() {
		r := whole.Row(i)
		if r.Kind != evaluate.MachineRow {
			continue
		}
		want := saidOf(whole, i)
		alone := work(t, only(j, r.Name))
		for n, e := range []*Teller{alone, backwards} {
			at := i
			if n == 1 {
				at = whole.Len() - 1 - i
			}
			got := saidOf(e, at)
			for _, what := range sortedKeys(want, got) {
				if compared++; !slices.Equal(want[what], got[what]) {
					t.Errorf("%s, %s:\n  %q\n  %s %q", r.Name, what, want[what], []string{"alone", "backwards"}[n], got[what])
				}
			}
		}
	}
	if compared < 3000 {
		t.Error(compared)
	}
}

// A stage follows from what is known of a machine in the order in which work goes through them; the list of a board and its groups count each machine once.
func TestBoardCountsEachMachineOnce(t *testing.T) {
	e := work(t, demoJob(t, false))
	if _, err := e.Allocate(nil); err != nil {
		t.Fatal(err)
	}
	rows := e.Board()
	if len(rows) != 26 {
		t.Fatal(len(rows))
	}
	for i := range rows {
		b := &rows[i]
		r := e.Row(b.At)
		if b.Machine != r.Name || b.Stage != evaluate.StageOf(r) || b.Priority != r.Priority || b.Area != e.Typed(b.At, "area") || b.Crew != e.Typed(b.At, "Crew") || b.WorkOrder != e.Typed(b.At, "work_order") {
			t.Errorf("%+v", b)
		}
		short := 0
		for _, p := range e.Packs(b.At) {
			if p.Status.Short() {
				short++
			}
		}
		if len(b.Short) != short || (b.Settle != "") != (r.Verdict.String() == "too close to call") && b.Settle != "" || (b.Why != "") != (b.Stage == evaluate.StageNotJudged || b.Stage == evaluate.StageChanged) {
			t.Errorf("%s: short %q, settles %q, why %q", b.Machine, b.Short, b.Settle, b.Why)
		}
		var waits []string
		for _, s := range []string{strings.Join(b.Holds, ", "), strings.Join(b.Short, ", "), b.Settle, b.Why} {
			if s != "" {
				waits = append(waits, s)
			}
		}
		parts := b.Waits()
		for _, s := range waits {
			if !strings.Contains(parts, s) {
				t.Errorf("%s waits for %q, and %q is not in it", b.Machine, parts, s)
			}
		}
		if (parts == "") != (len(waits) == 0) || strings.Count(parts, "; ") < len(waits)-1 {
			t.Errorf("%s waits for %q", b.Machine, parts)
		}
	}
	if e.Typed(0, "no such column") != "" {
		t.Error("a column of no name")
	}
	for i := range rows { // so that there is something to part by
		rows[i].Crew, rows[i].Priority = []string{"B", "a", ""}[i%3], i%4
		rows[i].Date, rows[i].Area = []string{"day 2", "day 1"}[i%2], "hall"
	}
	for _, by := range BoardBy {
		groups := GroupBoard(rows, by)
		n, names := 0, map[string]bool{}
		for g, group := range groups {
			if names[group.Name] {
				t.Errorf("%s: %q twice", by, group.Name)
			}
			names[group.Name] = true
			counts := map[evaluate.Stage]int{}
			for _, b := range group.Rows {
				n++
				counts[b.Stage]++
				if b.By(by) != group.Name {
					t.Errorf("%s: %q stands under %q", by, b.By(by), group.Name)
				}
			}
			var words []string
			for _, s := range evaluate.Stages() {
				if group.Count[s] != counts[s] {
					t.Errorf("%s, %q: %d %v, counted %d", by, group.Name, group.Count[s], s, counts[s])
				}
				if counts[s] > 0 {
					words = append(words, strconv.Itoa(counts[s])+" "+s.Word().String())
				}
			}
			if got := group.Words(); got != strings.Join(words, ", ") {
				t.Errorf("%s, %q: %s", by, group.Name, got)
			}
			if group.Name == "" && g != len(groups)-1 {
				t.Errorf("%s: those that say nothing do not come last", by)
			}
			if g > 0 && group.Name != "" {
				before := groups[g-1]
				inOrder := strings.ToLower(before.Name) < strings.ToLower(group.Name)
				switch by {
				case "stage":
					inOrder = before.Rows[0].Stage < group.Rows[0].Stage
				case "priority":
					inOrder = before.Rows[0].Priority < group.Rows[0].Priority
				}
				if !inOrder {
					t.Errorf("%s: %q before %q", by, before.Name, group.Name)
				}
			}
		}
		if n != len(rows) || len(groups) != map[string]int{"area": 1, "crew": 3, "date": 2, "priority": 4}[by] && by != "stage" {
			t.Errorf("%s: %d rows in %d groups", by, n, len(groups))
		}
	}
}

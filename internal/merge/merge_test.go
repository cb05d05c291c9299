package merge

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
)

// tableOf reads a table from text, cells parted by | and rows by line ends.
func tableOf(kind job.SheetKind, text string) *job.Table {
	t := &job.Table{Name: kind.String(), FirstRow: 2}
	for i, l := range strings.Split(strings.TrimSpace(text), "\n") {
		cells := strings.Split(l, "|")
		if i == 0 {
			t.Header = cells
		} else {
			t.Rows = append(t.Rows, cells)
		}
	}
	return t
}

const machineHeader = "Machine|Speed [rpm]|Method|Coupling to stationary plane|Coupling to movable plane|Coupling to front feet|Front to rear feet|Movable rim 12|Movable rim 3|Movable rim 6|Movable rim 9|Stationary rim 12|Stationary rim 3|Stationary rim 6|Stationary rim 9|Note\n"

// job is a shutdown of n machines; every third is signed for.
func wholeJob(t testing.TB, n int) *job.Job {
	t.Helper()
	j := job.NewJob()
	m, rounds, checks, feet, readings := machineHeader, "Machine|Round|When|By|Movable rim 12|Movable rim 3|Movable rim 6|Movable rim 9|Stationary rim 12|Stationary rim 3|Stationary rim 6|Stationary rim 9|Struck\n",
		"Machine|Check|Value|Done\n", "Machine|Foot|Across|Gap\n", "Machine|Sweep|Angle|Reading\n"
	for k := range n {
		name := fmt.Sprintf("pump %d motor", k+1)
		m += fmt.Sprintf("%s|1480|reverse indicator|100|120|300|600|0|0.%02d|0.%02d|0.%02d|0|0.10|0.20|0.10|\n", name, k+10, k+20, 10)
		rounds += fmt.Sprintf("%s|1|day 1|crew %d|0|0.02|0.03|0.01|0|0.01|0.02|0.01|\n", name, k%3+1)
		if k%2 == 0 {
			rounds += fmt.Sprintf("%s|1|day 1|crew %d|0|0.9|0.9|0.9|0|0.01|0.02|0.01|the bracket slipped\n", name, k%3+1)
			rounds += fmt.Sprintf("%s|left|day 2|crew %d|0|0.01|0.02|0.01|0|0.01|0.02|0.01|\n", name, k%3+1)
		}
		checks += fmt.Sprintf("%s|isolation||yes\n%s|final torque|%d|\n", name, name, 100+k)
		for _, f := range []string{"front 9", "front 3", "rear 9", "rear 3"} {
			feet += fmt.Sprintf("%s|%s|200|0.0%d\n", name, f, k%5)
		}
		if k%4 == 1 {
			for a := range 8 {
				readings += fmt.Sprintf("%s|Movable rim|%d|0.0%d\n", name, 45*a, a)
			}
		}
	}
	j.Machines, j.Rounds, j.Checks, j.Feet = tableOf(job.MachinesSheet, m), tableOf(job.RoundsSheet, rounds), tableOf(job.ChecksSheet, checks), tableOf(job.FeetSheet, feet)
	j.Readings = tableOf(job.ReadingsSheet, readings)
	j.Settings = &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Name", "spring"}, {"Units", "metric"}}}
	for k := 0; k < n; k += 3 {
		sign(t, j, fmt.Sprintf("pump %d motor", k+1), "2026-04-12 16:40")
	}
	return j
}

func sign(t testing.TB, j *job.Job, machine, at string) {
	t.Helper()
	tab, err := evaluate.NewEvaluator(j).Sign(evaluate.Signing{Machine: machine, Role: "aligner", By: "crew 2", At: at})
	if err != nil {
		t.Fatal(err)
	}
	j.SetTable(job.RecordSheet, tab)
}

// copyOf is a job of its own with the same content.
func copyOf(t testing.TB, j *job.Job) *job.Job {
	t.Helper()
	data, err := j.MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	c := new(job.Job)
	if err := c.UnmarshalJSON(data); err != nil {
		t.Fatal(err)
	}
	return c
}

// rowsOf is what a job holds, sheet by sheet, in the order of the rows or sorted: cells with their headers, whatever the order of columns.
func rowsOf(j *job.Job, sorted bool) string {
	var b strings.Builder
	for _, k := range job.SheetKinds() {
		t := j.Table(k)
		if t == nil {
			continue
		}
		var rows []string
		for _, row := range t.Rows {
			var cells []string
			for c, s := range row {
				if s != "" {
					h := ""
					if c < len(t.Header) {
						h = t.Header[c]
					}
					cells = append(cells, h+"="+s)
				}
			}
			slices.Sort(cells)
			if len(cells) > 0 {
				rows = append(rows, strings.Join(cells, " "))
			}
		}
		if sorted {
			slices.Sort(rows)
		}
		fmt.Fprintf(&b, "%s\n%s\n", k, strings.Join(rows, "\n"))
	}
	return b.String()
}

// states are the states of all machines by name.
func states(j *job.Job) map[string]string {
	e := evaluate.NewEvaluator(j)
	out := map[string]string{}
	for i := range e.Len() {
		out[e.Row(i).Name] = e.Row(i).StateWord().String()
	}
	return out
}

// permutations of files.
func permutations(files []File) (list [][]File) {
	if len(files) < 2 {
		return [][]File{files}
	}
	for k := range files {
		rest := slices.Delete(slices.Clone(files), k, k+1)
		for _, p := range permutations(rest) {
			list = append(list, append([]File{files[k]}, p...))
		}
	}
	return list
}

// mergeAll merges files in every order and holds the results against each other.
func mergeAll(t *testing.T, about string, files []File) (*Plan, *job.Job) {
	t.Helper()
	var plan *Plan
	var first *job.Job
	for _, order := range permutations(files) {
		p, err := New(order)
		if err != nil {
			t.Fatal(about, err)
		}
		if n := len(p.Questions); n > 0 {
			t.Fatalf("%s: %d questions, the first %+v", about, n, p.Questions[0])
		}
		got, err := p.Merged()
		if err != nil {
			t.Fatal(about, err)
		}
		if first == nil {
			plan, first = p, got
			continue
		}
		a, _ := first.MarshalJSON()
		b, _ := got.MarshalJSON()
		if string(a) != string(b) {
			t.Fatalf("%s: another order of the files gives another job:\n%s\n%s", about, a, b)
		}
	}
	return plan, first
}

// A job split over two or three files, by its rows and in any way, is the same job again, in whatever order the files are merged; what was signed still is.
func TestSplit(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 1))
	whole := wholeJob(t, 7)
	want, signed := rowsOf(whole, true), states(whole)
	for round := range 12 {
		n := 2 + round%2
		files := make([]File, n)
		for k := range files {
			files[k] = File{Name: fmt.Sprintf("crew %d.html", k+1), Job: copyOf(t, whole), Sealed: round%3 == 0}
		}
		// By machines: each machine's rows come back in one file, as a crew brings them; some in more than one.
		owner := map[string]int{}
		for _, kind := range job.SheetKinds() {
			if whole.Table(kind) == nil || kind == job.SettingsSheet {
				continue
			}
			for k := range files {
				tab := files[k].Job.Table(kind)
				var keep [][]string
				for _, row := range tab.Rows {
					o, ok := owner[row[0]]
					if !ok {
						o = rng.IntN(n + 1) // n: all have it
						owner[row[0]] = o
					}
					if o == k || o == n {
						keep = append(keep, row)
					}
				}
				tab.Rows = keep
				if kind == job.MachinesSheet && rng.IntN(3) == 0 { // columns in another order
					x, y := rng.IntN(len(tab.Header)-1)+1, rng.IntN(len(tab.Header)-1)+1
					swap := func(row []string) { row[x], row[y] = row[y], row[x] }
					swap(tab.Header)
					for _, row := range tab.Rows {
						swap(row)
					}
				}
			}
		}
		about := fmt.Sprintf("round %d over %d files", round, n)
		_, got := mergeAll(t, about, files)
		//evidence: calc=merging of files grade=identity count=1 source=a job split over two or three files by its machines, merged in every order, is the job that was split
		if rows := rowsOf(got, true); rows != want {
			t.Fatalf("%s: merged is\n%s\nwant\n%s", about, rows, want)
		}
		for name, s := range states(got) {
			if s != signed[name] {
				t.Errorf("%s: %s is %s, was %s", about, name, s, signed[name])
			}
		}
	}
}

// With the earlier state among the files each side's own changes are taken, rows come back in its order, and nothing is asked while nobody changed the same thing.
func TestThreeWay(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 2))
	for round := range 8 {
		base := wholeJob(t, 6)
		base.Saved("2026-04-12T08:00:00Z")
		want := copyOf(t, base)
		files := []File{{Name: "office.json", Job: base, Sealed: true}}
		n := 2 + round%2
		for k := range n {
			c := copyOf(t, base)
			c.Saved(fmt.Sprintf("2026-04-12T1%d:00:00Z", k))
			files = append(files, File{Name: fmt.Sprintf("crew %d.html", k+1), Job: c, Sealed: true})
		}
		for i := range want.Machines.Rows {
			if i%3 == 0 {
				continue // signed
			}
			c := rng.IntN(n)
			set := func(kind job.SheetKind, row, col int, s string) {
				for _, j := range []*job.Job{want, files[c+1].Job} {
					j.Table(kind).Rows[row][col] = s
				}
			}
			name := want.Machines.Rows[i][0]
			switch rng.IntN(4) {
			case 0: // a new round
				for _, j := range []*job.Job{want, files[c+1].Job} {
					j.Rounds.Rows = append(j.Rounds.Rows, []string{name, "2", "day 3", "", "0", "0", "0", "0", "0", "0", "0", "0", ""})
				}
			case 1:
				set(job.MachinesSheet, i, 5, "305")
			case 2: // a note is taken out, a distance put in by another crew
				set(job.MachinesSheet, i, 15, "")
				c = (c + 1) % n
				set(job.MachinesSheet, i, 6, "610")
			case 3:
				set(job.ChecksSheet, 2*i+1, 2, "140")
			}
		}
		_, got := mergeAll(t, fmt.Sprint("round ", round), files)
		if a, b := rowsOf(got, true), rowsOf(want, true); a != b {
			t.Fatalf("round %d: merged is\n%s\nwant\n%s", round, a, b)
		}
		if a, b := fmt.Sprint(names(got.Machines)), fmt.Sprint(names(base.Machines)); a != b {
			t.Errorf("the machines stand in another order: %s, were %s", a, b)
		}
	}
}

func names(t *job.Table) (list []string) {
	for _, row := range t.Rows {
		list = append(list, row[0])
	}
	return list
}

// What two changed differently is asked, once, and nothing else; what is not chosen of a round stays, struck.
func TestAsked(t *testing.T) {
	base := wholeJob(t, 5)
	base.Saved("2026-04-12T08:00:00Z")
	a, b := copyOf(t, base), copyOf(t, base)
	a.Saved("2026-04-12T10:00:00Z")
	b.Saved("2026-04-12T11:00:00Z")
	row := func(j *job.Job, machine, round string) []string {
		for _, r := range j.Rounds.Rows {
			if r[0] == machine && r[1] == round && r[12] == "" {
				return r
			}
		}
		t.Fatal("no such round")
		return nil
	}
	row(a, "pump 2 motor", "1")[6] = "0.11"
	row(b, "pump 2 motor", "1")[5] = "0.22"
	a.Machines.Rows[1][9], b.Machines.Rows[1][8] = "0.3", "0.4" // readings of one row: one thing
	a.Machines.Rows[4][5] = "311"                               // only one changed it
	files := []File{{"office.json", base, true}, {"a.html", a, true}, {"b.html", b, true}}
	for _, order := range permutations(files) {
		p, err := New(order)
		if err != nil {
			t.Fatal(err)
		}
		if p.Base != "office.json" || len(p.Questions) != 2 {
			t.Fatalf("base %q, questions %+v", p.Base, p.Questions)
		}
		if _, err := p.Merged(); err == nil {
			t.Error("merged with open questions")
		}
		p.Prefer("b.html")
		got, err := p.Merged()
		if err != nil {
			t.Fatal(err)
		}
		if r := row(got, "pump 2 motor", "1"); r[5] != "0.22" || r[6] != "0.03" {
			t.Errorf("the round is put together out of both: %v", r)
		}
		if got.Machines.Rows[1][8] != "0.4" || got.Machines.Rows[1][9] != base.Machines.Rows[1][9] || got.Machines.Rows[4][5] != "311" {
			t.Error(got.Machines.Rows)
		}
		struck := 0
		for _, r := range got.Rounds.Rows {
			if r[0] == "pump 2 motor" && r[6] == "0.11" && strings.Contains(r[12], "a.html") {
				struck++
			}
		}
		if struck != 1 {
			t.Errorf("the round that was not chosen is gone: %v", got.Rounds.Rows)
		}
	}
}

// A signed round never changes by itself: whatever other files hold of the machine is asked, and while the answer is what was signed, it still holds.
func TestSignedStays(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 3))
	for n := range 15 {
		a := wholeJob(t, 4)
		b := copyOf(t, a)
		b.Record = nil
		about := ""
		switch n % 5 {
		case 0:
			about = "another reading"
			b.Machines.Rows[0][7+rng.IntN(8)] = "0.77"
		case 1:
			about = "a later round"
			b.Rounds.Rows = append(b.Rounds.Rows, []string{"Pump 1 Motor", "2", "", "", "0", "0.1", "0", "0", "0", "0", "0", "0", ""})
		case 2:
			about = "another check"
			b.Checks.Rows[rng.IntN(2)][2] = "77"
		case 3:
			about = "an instrument"
			b.Record = tableOf(job.RecordSheet, "Machine|Instrument|Due\npump 1 motor|dial 9|2027-01")
		case 4:
			about = "a sweep read again"
			b.Readings.Rows = append(b.Readings.Rows, []string{"pump 1 motor", "Movable rim", "90", "0.5"})
		}
		for _, order := range permutations([]File{{"a.json", a, n%2 == 0}, {"b.xlsx", b, false}}) {
			p, err := New(order)
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Questions) != 1 || len(p.Questions[0].Choices) != 2 || p.Questions[0].Choices[0].Files[0] != "a.json" {
				t.Fatalf("%s: questions %+v", about, p.Questions)
			}
			p.Questions[0].Answer = 0
			got, err := p.Merged()
			if err != nil {
				t.Fatal(err)
			}
			if s := states(got); s["pump 1 motor"] != "signed" || s["pump 4 motor"] != "signed" {
				t.Errorf("%s: %v", about, s)
			}
			p.Questions[0].Answer = 1
			if got, err = p.Merged(); err != nil {
				t.Fatal(err)
			}
			if s := states(got); s["pump 1 motor"] != "changed since signed" {
				t.Errorf("%s, taken: %v", about, s)
			}
		}
	}
}

// Numbers that mean something else are not put beside each other.
func TestMeaning(t *testing.T) {
	a, b := wholeJob(t, 2), wholeJob(t, 2)
	a.Record, b.Record = nil, nil
	b.Settings.Rows[1][1] = "inch"
	if _, err := New([]File{{"a", a, false}, {"b", b, false}}); err == nil || !strings.Contains(err.Error(), "Units") {
		t.Error("inches beside millimetres:", err)
	}
	b = wholeJob(t, 2)
	b.Record = nil
	b.Machines.Header[8] = "Movable rim 3 [mil]"
	p, err := New([]File{{"a", a, false}, {"b", b, false}})
	if err != nil {
		t.Fatal(err)
	}
	p.Prefer("b")
	got, err := p.Merged()
	if err != nil {
		t.Fatal(err)
	}
	all := rowsOf(got, true)
	if !strings.Contains(all, "Movable rim 3=0.10 mil") {
		t.Error("the unit of the header is lost:", all)
	}
	a.Machines.Header[8], b.Machines.Header[8] = "Movable rim 3 [mil]", "Movable rim 3"
	if _, err := New([]File{{"a", a, false}, {"b", b, false}}); err == nil || !strings.Contains(err.Error(), "head them alike") {
		t.Error("a header without a unit behind one with:", err)
	}
	if _, err := New([]File{{"a", a, false}}); err == nil {
		t.Error("one file is merged")
	}
}

// A file that lacks a row does not take it out; a file of before is no reason to ask.
func TestNothingLost(t *testing.T) {
	base := wholeJob(t, 5)
	base.Saved("2026-04-12T08:00:00Z")
	a := copyOf(t, base)
	a.Saved("2026-04-12T10:00:00Z")
	a.Machines.Rows = a.Machines.Rows[:3]
	a.Checks = nil
	p, got := mergeAll(t, "rows taken out", []File{{"office", base, true}, {"a", a, true}})
	if x, y := rowsOf(got, true), rowsOf(base, true); x != y {
		t.Errorf("merged is\n%s\nwant\n%s", x, y)
	}
	if !slices.ContainsFunc(p.Items, func(i Item) bool { return i.What == Lacking && i.Machine == "pump 5 motor" }) {
		t.Error("nobody is told:", p.Items)
	}
}

package evaluate

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A jobCase is a small job and what must come of it, two or three lines long. The job is that of the test (cells of the one machine, called pump, and further sheets) with some of its cells changed, added or
// taken out and some of its sheets taken in place.
type jobCase struct {
	cells  string // "Speed=1480; Offset limit=" changes cells of the base or adds them, "Speed" alone takes one out
	sheets string // "Growth: Machine,Support,…" and then its rows, a line each; a sheet named without anything behind it is taken out; "Job:" has a setting a line, "Name=value"
}

// caseJob is the job of a case, worked out.
func caseJob(t *testing.T, base []string, sheets string, c *jobCase) (*Evaluator, *RowResult) {
	t.Helper()
	var by []string
	for _, s := range strings.Split(c.cells, "; ") {
		if s = strings.TrimSpace(s); s != "" {
			by = append(by, s)
		}
	}
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, change(base, by...)...)
	of := caseSheets(t, sheets)
	for k, s := range caseSheets(t, c.sheets) {
		of[k] = s
	}
	for k, s := range of {
		switch {
		case strings.TrimSpace(s) == "":
		case k == job.SettingsSheet:
			j.Settings = &job.Table{Name: "Job", FirstRow: 1}
			for _, line := range strings.Split(strings.TrimSpace(s), "\n") {
				name, v, _ := strings.Cut(strings.TrimSpace(line), "=")
				j.Settings.Rows = append(j.Settings.Rows, []string{name, v})
			}
		default:
			with(t, j, k, s)
		}
	}
	e := work(t, j)
	return e, e.Row(0)
}

// caseSheets parts the sheets of a case.
func caseSheets(t *testing.T, text string) map[job.SheetKind]string {
	t.Helper()
	of := map[job.SheetKind]string{}
	at := job.MachinesSheet
	for _, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		for _, k := range job.SheetKinds() {
			if rest, ok := strings.CutPrefix(line, k.String()+":"); ok {
				at, line = k, strings.TrimSpace(rest)
				of[k] = ""
			}
		}
		if line == "" {
			continue
		}
		if at == job.MachinesSheet {
			t.Fatalf("%q belongs to no sheet", line)
		}
		of[at] += line + "\n"
	}
	return of
}

// sameValue holds a JSON value against what a case says of it.
func sameValue(got any, want string) bool {
	switch x := got.(type) {
	case nil:
		return want == "null"
	case float64:
		w, err := strconv.ParseFloat(want, 64)
		return want == "~" || err == nil && math.Abs(x-w) <= 1e-6*max(math.Abs(w), 1e-3)
	case string:
		return wild(x, want)
	case bool:
		return fmt.Sprint(x) == want
	}
	list, ok := got.([]any)
	var w []any
	if !ok || json.Unmarshal([]byte(want), &w) != nil || len(w) != len(list) {
		return false
	}
	for k := range w {
		if !sameValue(list[k], fmt.Sprint(w[k])) {
			return false
		}
	}
	return true
}

// wild says whether s is pattern, in which … stands for any text.
func wild(s, pattern string) bool {
	parts := strings.Split(pattern, "…")
	if len(parts) == 1 {
		return s == pattern
	}
	if !strings.HasPrefix(s, parts[0]) {
		return false
	}
	s = s[len(parts[0]):]
	for _, p := range parts[1 : len(parts)-1] {
		k := strings.Index(s, p)
		if k < 0 {
			return false
		}
		s = s[k+len(p):]
	}
	return strings.HasSuffix(s, parts[len(parts)-1])
}

// lowRow is a machine that stands low: 0.36 mm under the front feet at 300 mm and 0.46 mm under the rear ones at 800 mm, 0.115 and 0.14 mm towards 9 o'clock.
var (
	lowRow = []string{"Speed=1480", "Method=line", "Given offset V=-0.3", "Given slope V=-0.2", "Given offset H=0.1", "Given slope H=0.05", "Coupling to front feet=300", "Front to rear feet=500"}
)

// rims are the readings of both rims of a line, planes 100 mm from the coupling, as cells: see rimRow.
func rims(l calc.Line) string {
	out := ""
	for k, v := range strings.Split(rimRow(l), ",") {
		out += " | " + []string{"Movable rim ", "Stationary rim "}[k/4] + []string{"12", "3", "6", "9"}[k%4] + "=" + v
	}
	return out
}

// The machine of the cases of rounds, without a reading: feet at 300 and 800 mm, limits 0.1 mm and 0.5 mm/m.
var roundsText = []string{"Machines: Machine=pump | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=300 | Front to rear feet=500 | Side at 3=river | Side at 9=wall | Movable sag at 6=0 | " +
	"Stationary sag at 6=0 | Offset limit=0.1 | Slope limit=0.5", "Stock: Thickness=0.05", "Stock: Thickness=0.1", "Stock: Thickness=0.2", "Stock: Thickness=0.5", "Stock: Thickness=1"}

// The worked train, a row a coupling; the gear is Stationary for both.
var trainText = []string{
	"Machines: Train=T1 | Machine=Motor | Stationary=Gear | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=300 | Front to rear feet=1200 | Stationary near support=300 | " +
		"Stationary far support=900 | Offset limit=0.1 | Slope limit=0.5 | Movable rim 12=0 | Movable rim 3=-0.39 | Movable rim 6=-0.62 | Movable rim 9=-0.23 | Stationary rim 12=0 | Stationary rim 3=0.41 | " +
		"Stationary rim 6=0.58 | Stationary rim 9=0.17",
	"Machines: Train=t1 | Machine=Pump | Stationary=GEAR | Coupling to stationary plane=100 | Coupling to movable plane=100 | Coupling to front feet=200 | Front to rear feet=600 | Stationary near support=400 | " +
		"Stationary far support=1000 | Offset limit=0.1 | Slope limit=0.5 | Movable rim 12=0 | Movable rim 3=0.26 | Movable rim 6=-0.10 | Movable rim 9=-0.36 | Stationary rim 12=0 | Stationary rim 3=-0.14 | " +
		"Stationary rim 6=0.30 | Stationary rim 9=0.44",
}

// demoJob reads the demo job; alone leaves out everything but the Machines sheet.
func demoJob(t testing.TB, alone bool) *job.Job {
	j := job.NewJob()
	for name, kind := range map[string]job.SheetKind{"machines.csv": job.MachinesSheet, "readings.csv": job.ReadingsSheet, "job.csv": job.SettingsSheet, "stock.csv": job.StockSheet,
		"growth.csv": job.GrowthSheet, "feet.csv": job.FeetSheet, "limits.csv": job.LimitsSheet, "materials.csv": job.MaterialsSheet, "checks.csv": job.ChecksSheet, "rounds.csv": job.RoundsSheet, "trains.csv": job.TrainsSheet, "record.csv": job.RecordSheet} {
		if alone && kind != job.MachinesSheet {
			continue
		}
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", name))
		if err != nil {
			t.Fatal(err)
		}
		table, problems, err := job.ReadDelimited(name, data, 0)
		if err != nil || len(problems) > 0 {
			t.Fatal(name, err, problems)
		}
		if kind != job.SettingsSheet && !table.SplitHeader(kind) {
			t.Fatalf("%s: no header", name)
		}
		j.SetTable(kind, table)
	}
	return j
}

const fourFeet = "Machine,Foot,Across,Gap,Pack in place,Shim size\npump,front 9,-200,%s,%s,\npump,front 3,200,%s,%s,\npump,rear 9,-200,%s,%s,\npump,rear 3,200,%s,%s,\n"

func feetOf(cells ...any) string { return fmt.Sprintf(fourFeet, cells...) }

func reasonJob(t *testing.T, machines, feet string) *Evaluator {
	j := job.NewJob()
	for k, text := range map[job.SheetKind]string{job.MachinesSheet: machines, job.FeetSheet: feet} {
		table, _, err := job.ReadDelimited(k.String(), []byte(text), 0)
		if err != nil || !table.SplitHeader(k) {
			t.Fatal(k, err)
		}
		j.SetTable(k, table)
	}
	return NewEvaluator(j)
}

const reasonMachine = "Machine,Coupling,Speed,Method,Given offset V,Given offset H,Given slope V,Given slope H\nP 1,short,1480,line,0.3,-0.1,0.4,0.2\n"

// grown is the sound row by reverse indicator with the sheets given as CSV.
func grown(t testing.TB, cells []string, sheets ...string) (*Evaluator, *RowResult) {
	t.Helper()
	j := job.NewJob()
	j.Machines.Header = []string{"Machine"}
	j.Machines.Rows = [][]string{{"pump"}}
	j.Machines.FirstRow = 2
	add(j, cells...)
	for i := 0; i < len(sheets); i += 2 {
		kind := job.MachinesSheet
		for _, k := range job.SheetKinds() {
			if k.String() == sheets[i] {
				kind = k
			}
		}
		with(t, j, kind, sheets[i+1])
	}
	e := work(t, j)
	return e, e.Row(0)
}

// list makes a job of a Machines sheet in CSV.
func list(t testing.TB, csv string) *job.Job {
	t.Helper()
	tab, problems, err := job.ReadDelimited("Machines", []byte(csv), 0)
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	tab.SplitHeader(job.MachinesSheet)
	j := job.NewJob()
	j.Machines = tab
	return j
}

func with(t testing.TB, j *job.Job, k job.SheetKind, csv string) *job.Job {
	t.Helper()
	tab, _, err := job.ReadDelimited(k.String(), []byte(csv), 0)
	if err != nil {
		t.Fatal(err)
	}
	tab.SplitHeader(k)
	j.SetTable(k, tab)
	return j
}

func work(t testing.TB, j *job.Job) *Evaluator {
	t.Helper()
	e := NewEvaluator(j)
	if err := e.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return e
}

// one evaluates a row given as header=value pairs.
func one(t testing.TB, cells ...string) (*Evaluator, *RowResult) {
	t.Helper()
	j := job.NewJob()
	j.Machines.Header = []string{"Machine"}
	j.Machines.Rows = [][]string{{"pump"}}
	j.Machines.FirstRow = 2
	add(j, cells...)
	e := work(t, j)
	return e, e.Row(0)
}

func add(j *job.Job, cells ...string) {
	for _, c := range cells {
		h, v, _ := strings.Cut(c, "=")
		j.Machines.Header = append(j.Machines.Header, h)
		j.Machines.Rows[0] = append(j.Machines.Rows[0], v)
	}
}

// reverse is a sound row by reverse indicator: offset 0.10 and −0.04 mm, slope 0.5 and 0.2 mm/m, planes at ±100 mm.
var reverse = []string{"Speed=1480", "Coupling to stationary plane=100", "Coupling to movable plane=100", "Coupling to front feet=300", "Front to rear feet=500",
	"Movable rim 12=0", "Movable rim 3=-0.17", "Movable rim 6=-0.30", "Movable rim 9=-0.13",
	"Stationary rim 12=0", "Stationary rim 3=0.11", "Stationary rim 6=0.10", "Stationary rim 9=-0.01"}

// change returns the cells with some replaced (header=value) or taken out (header alone) or added.
func change(cells []string, by ...string) []string {
	out := append([]string{}, cells...)
	for _, b := range by {
		h, _, has := strings.Cut(b, "=")
		found := false
		for i := 0; i < len(out); i++ {
			if o, _, _ := strings.Cut(out[i], "="); o == h {
				found = true
				if has {
					out[i] = b
				} else {
					out = append(out[:i], out[i+1:]...)
				}
				break
			}
		}
		if !found && has {
			out = append(out, b)
		}
	}
	return out
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) && !(math.IsNaN(got) && math.IsNaN(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// says checks that the row has a problem of that severity whose text on one line holds all the words.
func says(t testing.TB, r *RowResult, sev job.Severity, words ...string) {
	t.Helper()
	for i := range r.Problems {
		p := &r.Problems[i]
		all := p.Severity == sev
		for _, w := range words {
			all = all && (strings.Contains(p.String(), w) || strings.Contains(p.Text.String(), w))
		}
		if all {
			return
		}
	}
	t.Errorf("no %v with %q among %v", sev, words, r.Problems)
}

// machines decodes the JSON result.
func machines(t testing.TB, e *Evaluator) []map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := e.ResultsJSON(&b); err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Machines []map[string]any `json:"machines"`
	}
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatalf("%v in %s", err, &b)
	}
	return doc.Machines
}

// yearJob is a job of one machine with rounds, of a year.
func yearJob(t *testing.T, year int, cells []string, rows string) *job.Job {
	t.Helper()
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, cells...)
	with(t, j, job.RoundsSheet, roundsHead+rows)
	with(t, j, job.SettingsSheet, fmt.Sprintf("Name,Value\nDate,%d-04-12\n", year))
	return j
}

func beside(t *testing.T, now *job.Job, older ...*job.Job) *Evaluator {
	t.Helper()
	e := NewEvaluator(now)
	var list []Older
	for k, j := range older {
		list = append(list, Older{Name: fmt.Sprintf("year-%d.json", k), Job: j})
	}
	e.SetHistory(list)
	return e
}

// jobText makes a job of lines, so that a case of a table is two or three of them:
//
//	Machines: Machine=Motor | Speed=1480      a row of a sheet, by its columns; columns come as they are first named
//	2: Speed=990 | Side at 3                  a change of a row of the Machines sheet, as a spreadsheet counts: without = the cell is blank
//	3 of 2: Machine=Fan                       one more row of the Machines sheet, number 3, like another but for this
//	Job: Move step=0.05                       a setting
func jobText(t testing.TB, lines ...string) *job.Job {
	t.Helper()
	job.LoadColumns()
	j := job.NewJob()
	kinds := map[string]job.SheetKind{}
	for _, k := range job.SheetOrder {
		kinds[k.String()] = k
	}
	set := func(tab *job.Table, row int, cells string) {
		for _, c := range strings.Split(cells, " | ") {
			h, v, _ := strings.Cut(c, "=")
			if h = strings.TrimSpace(h); h == "" {
				continue
			}
			at := slices.Index(tab.Header, h)
			if at < 0 {
				at = len(tab.Header)
				tab.Header = append(tab.Header, h)
			}
			for len(tab.Rows[row]) <= at {
				tab.Rows[row] = append(tab.Rows[row], "")
			}
			tab.Rows[row][at] = v
		}
	}
	table := func(k job.SheetKind) *job.Table {
		tab := j.Table(k)
		if tab == nil || tab.Header == nil {
			tab = &job.Table{Name: k.String(), FirstRow: 2}
			j.SetTable(k, tab)
		}
		return tab
	}
	for _, line := range lines {
		head, cells, ok := strings.Cut(line, ":")
		if !ok {
			t.Fatalf("no line of a job: %q", line)
		}
		cells = strings.TrimSpace(cells)
		switch k, sheet := kinds[head]; {
		case head == "Job":
			tab := table(job.SettingsSheet)
			tab.Header = []string{"Name", "Value"}
			h, v, _ := strings.Cut(cells, "=")
			tab.Rows = append(tab.Rows, []string{h, v})
		case sheet:
			tab := table(k)
			tab.Rows = append(tab.Rows, nil)
			set(tab, len(tab.Rows)-1, cells)
		default:
			tab := table(job.MachinesSheet)
			to, from, like := strings.Cut(head, " of ")
			n, err := strconv.Atoi(to)
			if err != nil {
				t.Fatalf("no line of a job: %q", line)
			}
			if like {
				m, err := strconv.Atoi(from)
				if err != nil || n != len(tab.Rows)+2 {
					t.Fatalf("no line of a job: %q", line)
				}
				tab.Rows = append(tab.Rows, slices.Clone(tab.Rows[m-2]))
			}
			set(tab, n-2, cells)
		}
	}
	for _, k := range job.SheetOrder { // rows as long as their header
		if tab := j.Table(k); tab != nil {
			for i := range tab.Rows {
				for len(tab.Rows[i]) < len(tab.Header) {
					tab.Rows[i] = append(tab.Rows[i], "")
				}
			}
		}
	}
	return j
}

// workText works such a job out.
func workText(t testing.TB, lines ...string) *Evaluator {
	t.Helper()
	return work(t, jobText(t, lines...))
}

// plus is some lines and more.
func plus(base []string, more ...string) []string { return append(slices.Clone(base), more...) }

// toldBy are problems as a person reads them, one a line: where, what, what to do.
func toldBy(list []job.Problem) string {
	var b strings.Builder
	for _, p := range list {
		fmt.Fprintf(&b, "%v %s %d %s: %s", p.Severity, p.Sheet, p.Row, p.Column, p.Text)
		if !p.Hint.Empty() {
			fmt.Fprintf(&b, " (%s)", p.Hint)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// packsJob is a job whose counted stock does not do for every foot: feet that want the same pieces, soft feet with pieces in place, pairs chosen together, machines
// that stay, moves smaller than their ±, a flange, a pair to be lowered, three pairs of feet, a row without a verdict.
func packsJob(t testing.TB) *job.Job {
	t.Helper()
	j := job.NewJob()
	for _, k := range []job.SheetKind{job.MachinesSheet, job.StockSheet, job.FeetSheet, job.SettingsSheet} {
		name := map[job.SheetKind]string{job.SettingsSheet: "job"}[k]
		if name == "" {
			name = strings.ToLower(k.String())
		}
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "packs", name+".csv"))
		if err != nil {
			t.Fatal(err)
		}
		with(t, j, k, string(data))
	}
	return j
}

const recordMachines = `Machine,Speed [rpm],Method,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9,Movable sag at 6,Stationary sag at 6,Note
P-1,1480,reverse indicator,100,120,300,600,0,0.01,0.00,-0.01,0,0.01,0.02,0.01,0,0,"a tab	and a \ in it"
P-2,1480,reverse indicator,100,120,300,600,0,0.30,0.50,0.20,0,0.10,0.20,0.10,0,0,
`

const roundsHead = "Machine,Round,Struck,By,Done,Front shim done,Rear shim done,Front move done,Rear move done,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"

// rimRow are the readings of both rims of a line, planes 100 mm from the coupling, dials at zero at 12; worked out by hand: a rim shows the plane's height times the cosine and its
// place sideways times the sine.
func rimRow(l calc.Line) string {
	v, h := l.DV+l.TV*0.1, l.DH+l.TH*0.1
	w, g := l.DV-l.TV*0.1, l.DH-l.TH*0.1
	return fmt.Sprintf("%.12f,%.12f,%.12f,%.12f,%.12f,%.12f,%.12f,%.12f", 0.0, h-v, -2*v, -h-v, 0.0, -g+w, 2*w, g+w)
}

// withRounds is a job of one machine and its rounds.
func withRounds(t *testing.T, cells []string, rows string) (*Evaluator, *RowResult) {
	t.Helper()
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows, j.Machines.FirstRow = []string{"Machine"}, [][]string{{"pump"}}, 2
	add(j, cells...)
	with(t, j, job.RoundsSheet, roundsHead+rows)
	e := work(t, j)
	return e, e.Row(0)
}

func sameLine(t *testing.T, what string, got, want calc.Line, tol float64) {
	t.Helper()
	for k, d := range [4]float64{got.DV - want.DV, got.TV - want.TV, got.DH - want.DH, got.TH - want.TH} {
		if !(math.Abs(d) <= tol) {
			t.Errorf("%s, part %d: %+v, want %+v", what, k, got, want)
			return
		}
	}
}

// sweepsOf writes readings of the pump at 12, 3, 6 and 9 as rows of the Readings sheet.
func sweepsOf(set string, movable, stationary [4]float64) string {
	var b strings.Builder
	for k, sweep := range [...]string{"Movable rim", "Stationary rim"} {
		for p, x := range [2][4]float64{movable, stationary}[k] {
			fmt.Fprintf(&b, "pump,%s,%s,%v,%s\n", sweep, [...]string{"12", "90", "6 o'clock", "270"}[p], x, set)
		}
	}
	return strings.ReplaceAll(strings.ReplaceAll(b.String(), ",12,", ",0,"), "6 o'clock", "180")
}

const setsHead = "Machine,Sweep,Angle,Reading,Set\n"

// The readings of reverse, and a hot set: offset −0.04 and 0.02 mm, slope −0.5 and 0.3 mm/m, read at the planes ±100 mm.
var (
	reverseMovable, reverseStationary = [4]float64{0, -0.17, -0.30, -0.13}, [4]float64{0, 0.11, 0.10, -0.01}
	hotMovable, hotStationary         = [4]float64{0, 0.14, 0.18, 0.04}, [4]float64{0, 0.02, 0.02, 0}
)

// without are the cells of reverse without its readings.
var without = reverse[:5]

func withSets(t *testing.T, cells []string, rows string) (*Evaluator, *RowResult) {
	t.Helper()
	if !slices.ContainsFunc(cells, func(c string) bool { return strings.HasPrefix(c, "Minutes since stop") }) {
		cells = change(cells, "Minutes since stop=0") // as exact as read
	}
	return grown(t, cells, "Readings", setsHead+rows)
}

// boxed makes a job of the row with a Stock sheet and a Strip class on the Job sheet, "" none.
func boxed(t *testing.T, class, stock string, cells ...string) (*Evaluator, *RowResult) {
	t.Helper()
	more := []string{"Stock", stock}
	if class != "" {
		more = append(more, "Job", "Setting,Value\nStrip class,"+class+"\n")
	}
	if len(cells) == 0 {
		cells = change(reverse, "Given offset V=-0.35") // shims of −0.25 and −0.50
	}
	return grown(t, cells, more...)
}

// The worked train, a row a coupling; the gear is Stationary for both.
const (
	trainHeader = "Train,Machine,Stationary,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet,Stationary near support,Stationary far support," +
		"Offset limit,Slope limit,Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9"
	trainMotor = "T1,Motor,Gear,100,100,300,1200,300,900,0.1,0.5,0,-0.39,-0.62,-0.23,0,0.41,0.58,0.17"
	trainPump  = "t1 ,Pump,GEAR,100,100,200,600,400,1000,0.1,0.5,0,0.26,-0.10,-0.36,0,-0.14,0.30,0.44"
)

// rows makes the worked train with more columns: header, and what stands in each row.
func trainJob(t testing.TB, header, motor, pump string) *job.Job {
	t.Helper()
	tail := func(s string) string {
		if s == "" {
			return ""
		}
		return "," + s
	}
	return list(t, trainHeader+tail(header)+"\n"+trainMotor+tail(motor)+"\n"+trainPump+tail(pump)+"\n")
}

type trainDoc struct {
	Train, Aim, Status, Why string
	Plan                    string
	Chosen                  bool
	After                   string `json:"after_verdict"`
	Alternatives            []struct {
		Plan, Also, Status, Why string
		After                   string   `json:"after_verdict"`
		Largest                 *float64 `json:"largest_move_mm"`
		Total                   *float64 `json:"total_move_mm"`
	}
	Largest *float64 `json:"largest_move_mm"`
	Total   *float64 `json:"total_move_mm"`
	Feet    []struct {
		Machine, Foot string
		Station       float64  `json:"station_mm"`
		Shim          float64  `json:"shim_mm"`
		Move          float64  `json:"move_mm"`
		Left          *float64 `json:"room_left_mm"`
		Right         *float64 `json:"room_right_mm"`
		Slide         *float64 `json:"slide_12_mm"`
		Packs         struct {
			Net *float64 `json:"net_mm"`
		}
	}
	Couplings []struct {
		Machine string
		Row     int
		Verdict string
		Share   *float64 `json:"share_of_limit_pct"`
		OffV    float64  `json:"offset_v_mm"`
		OffH    float64  `json:"offset_h_mm"`
		SlopeV  float64  `json:"slope_v"`
		SlopeH  float64  `json:"slope_h"`
		Packs   *struct {
			OffV   float64 `json:"offset_v_mm"`
			SlopeH float64 `json:"slope_h"`
		} `json:"after_packs"`
	}
	Short []struct {
		Machine, Foot, Direction string
		Missing                  float64 `json:"missing_mm"`
		Fixed                    bool    `json:"must_not_move"`
	}
}

func trainsOf(t testing.TB, j *job.Job) (*Evaluator, []trainDoc) {
	t.Helper()
	e := work(t, j)
	var b bytes.Buffer
	if err := e.ResultsJSON(&b); err != nil {
		t.Fatal(err)
	}
	var doc struct{ Trains []trainDoc }
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatalf("%v in %s", err, &b)
	}
	return e, doc.Trains
}

func oneTrain(t testing.TB, j *job.Job) (*Evaluator, *trainDoc) {
	t.Helper()
	e, list := trainsOf(t, j)
	if len(list) != 1 {
		t.Fatalf("%d trains", len(list))
	}
	return e, &list[0]
}

// stand checks shim and move of feet by "Machine foot", −9 not asked.
func (d *trainDoc) stand(t *testing.T, want map[string][3]float64) {
	t.Helper()
	if d.Status != "possible" {
		t.Fatalf("%+v", d)
	}
	seen := 0
	for _, f := range d.Feet {
		w, ok := want[f.Machine+" "+f.Foot]
		if !ok {
			continue
		}
		seen++
		near(t, f.Machine+" "+f.Foot+" station", f.Station, w[0], 1e-9)
		for k, got := range [2]float64{f.Shim, f.Move} {
			if w[k+1] > -9 {
				near(t, f.Machine+" "+f.Foot, got, w[k+1], 1e-9)
			}
		}
	}
	if seen != len(want) {
		t.Errorf("%d of %d feet in %+v", seen, len(want), d.Feet)
	}
}

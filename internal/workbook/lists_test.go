package workbook_test

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/workbook"
)

// The corpus testdata/lists: small lists as planners keep them, each with a sentence about its shape and its truth. The machines are always the same four (readings by
// reverse indicator, in divisions); what the rows must come to is worked out here by the textbook's half differences, or the row must be refused with the words given.

// shaft is a machine of the corpus: speed, the two planes, the feet, and the readings at 12, 3, 6 and 9 in divisions.
type shaft struct {
	speed, stat, mov, front, feet float64
	m, s                          [4]float64
}

var shafts = map[string]shaft{
	"P-100": {740, 200, 180, 500, 900, [4]float64{0, 5, 8, 3}, [4]float64{0, -4, 6, 10}},
	"P-101": {1480, 100, 100, 300, 500, [4]float64{0, -17, -30, -13}, [4]float64{0, 11, 10, -1}},
	"P-102": {2970, 120, 90, 350, 620, [4]float64{0, 8, 12, 4}, [4]float64{0, -3, -14, -11}},
	"P-103": {985, 150, 130, 420, 800, [4]float64{0, -6, -20, -14}, [4]float64{0, 9, 16, 7}},
	"P-104": {1490, 80, 80, 260, 400, [4]float64{0, 2, -4, -6}, [4]float64{0, -5, -8, -3}},
}

// line is offset and slope in both planes by half differences: rim on the movable hub at mov, rim on the stationary hub at −stat with its signs turned.
func (h shaft) line(div float64) (dv, tv, dh, th float64) {
	v1, h1 := (h.m[0]-h.m[2])/2*div, (h.m[1]-h.m[3])/2*div
	v2, h2 := -(h.s[0]-h.s[2])/2*div, -(h.s[1]-h.s[3])/2*div
	l := h.stat + h.mov
	tv, th = (v1-v2)/l, (h1-h2)/l
	return v1 - tv*h.mov, 1000 * tv, h1 - th*h.mov, 1000 * th
}

// A corpusList is one file of the corpus.
type corpusList struct {
	name, shape    string
	job            [][2]string
	div            map[string]float64 // mm a division, by machine; "" all
	want           []string
	refused        [][2]string // machine, words
	leftOut, warns []string
	sheets         map[string]string
}

func readLists(t testing.TB) []corpusList {
	t.Helper()
	files, err := filepath.Glob("../../testdata/lists/*.list")
	if err != nil || len(files) < 60 {
		t.Fatal(err, len(files))
	}
	var out []corpusList
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		c := corpusList{name: strings.TrimSuffix(filepath.Base(f), ".list"), div: map[string]float64{"": 0.01}, sheets: map[string]string{}}
		at := ""
		for line := range strings.Lines(string(data)) {
			if name, ok := strings.CutPrefix(line, "== "); ok {
				at = strings.TrimSpace(name)
				continue
			}
			if at != "" {
				c.sheets[at] += line
				continue
			}
			key, value, ok := strings.Cut(strings.TrimSpace(strings.TrimPrefix(line, "#")), ":")
			value = strings.TrimSpace(value)
			switch key {
			case "shape":
				c.shape = value
			case "job":
				k, v, _ := strings.Cut(value, " = ")
				c.job = append(c.job, [2]string{k, v})
			case "unit":
				who, unit, some := strings.Cut(value, ": ")
				if !some {
					who, unit = "", value
				}
				mm, known := map[string]float64{"1 mil": 0.0254, "0.01 mm": 0.01}[unit]
				for _, m := range strings.Split(who, " ") {
					c.div[m] = mm
				}
				ok = known
			case "want":
				c.want = strings.Fields(value)
			case "refused":
				m, words, _ := strings.Cut(value, ": ")
				c.refused = append(c.refused, [2]string{m, words})
			case "left out":
				c.leftOut = strings.Split(value, "|")
			case "warns":
				c.warns = strings.Split(value, "|")
			default:
				ok = false
			}
			if !ok {
				t.Fatalf("%s: %q", f, line)
			}
		}
		if c.shape == "" || c.sheets["Machines"] == "" || len(c.want)+len(c.refused) == 0 {
			t.Fatalf("%s is not whole", f)
		}
		out = append(out, c)
	}
	return out
}

func kindNamed(t testing.TB, name string) job.SheetKind {
	for _, k := range job.SheetKinds() {
		if k.String() == name {
			return k
		}
	}
	t.Fatal(name)
	return 0
}

func (c *corpusList) settings() *job.Table {
	if len(c.job) == 0 {
		return nil
	}
	t := &job.Table{Name: "Job", FirstRow: 1}
	for _, s := range c.job {
		t.Rows = append(t.Rows, []string{s[0], s[1]})
	}
	return t
}

// asFile is the way of the command: each sheet a file.
func (c *corpusList) asFile(t testing.TB) *job.Job {
	j := job.NewJob()
	for name, text := range c.sheets {
		k := kindNamed(t, name)
		tab, _, err := job.ReadDelimited(name, []byte(text), 0)
		if err != nil {
			t.Fatal(err)
		}
		tab.SplitHeader(k)
		j.SetTable(k, tab)
	}
	j.Settings = c.settings()
	return j
}

// meaning is what the page tells its grid of headers.
func meaning(k job.SheetKind, inch bool) grid.Meaning {
	return grid.Meaning{
		Arrange: func(rows [][]string) (title [][]string, header []string, body [][]string, ok bool) {
			t := &job.Table{Rows: rows}
			ok = t.SplitHeader(k)
			return t.Title, t.Header, t.Rows, ok
		},
		Match: func(header []string, name string) int { return job.MatchColumn(k, header, name, inch) },
	}
}

// pasted is the way of the page: each sheet as a spreadsheet puts it on the clipboard, into an empty sheet or behind what stands there.
func (c *corpusList) pasted(t testing.TB, behind map[string]string) *job.Job {
	j := job.NewJob()
	j.Settings = c.settings()
	inch := slices.Contains(c.job, [2]string{"Units", "inch"})
	for name, text := range c.sheets {
		k := kindNamed(t, name)
		tab, _, err := job.ReadDelimited(name, []byte(text), 0)
		if err != nil {
			t.Fatal(err)
		}
		m := grid.New(nil, nil, nil)
		if first := behind[name]; first != "" {
			m.PasteText(first, meaning(k, inch))
		}
		if ch := m.PasteText(grid.FormatBlock(tab.Rows), meaning(k, inch)); !ch.Any {
			return nil // the page asks for a header
		}
		j.SetTable(k, &job.Table{Name: name, Title: m.Title(), Header: m.Header(), Rows: m.Rows(), FirstRow: len(m.Title()) + 2})
	}
	return j
}

// asWorkbook is the way of a workbook, by the command and the page's worker.
func (c *corpusList) asWorkbook(t testing.TB) *job.Job {
	f := excelize.NewFile()
	defer f.Close()
	for _, name := range []string{"Machines", "Readings", "Growth", "Feet", "Stock"} {
		text := c.sheets[name]
		if text == "" {
			continue
		}
		if _, err := f.NewSheet(name); err != nil {
			t.Fatal(err)
		}
		tab, _, err := job.ReadDelimited(name, []byte(text), 0)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range tab.Rows {
			for i, cell := range row {
				at, _ := excelize.CoordinatesToCellName(i+1, r+1)
				if cell != "" {
					_ = f.SetCellStr(name, at, cell)
				}
			}
		}
	}
	if len(c.job) > 0 {
		_, _ = f.NewSheet("Job")
		for r, s := range c.job {
			_ = f.SetSheetRow("Job", fmt.Sprintf("A%d", r+1), &[]any{s[0], s[1]})
		}
	}
	_ = f.DeleteSheet("Sheet1")
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	j, _, err := workbook.Read(b.Bytes(), "list.xlsx", nil)
	if err != nil {
		return nil
	}
	return j
}

// told is everything the job says: of its sheets and of its rows.
func told(e *sentences.Teller) string {
	var b strings.Builder
	for _, p := range e.Problems() {
		b.WriteString(p.String() + "\n")
	}
	for i := range e.Len() {
		for _, p := range e.Row(i).Problems {
			b.WriteString(p.String() + "\n")
		}
	}
	return b.String()
}

func (c *corpusList) division(name string) float64 {
	if d, ok := c.div[name]; ok {
		return d
	}
	return c.div[""]
}

// check holds a job to the truth of the list. also are machines besides it.
func (c *corpusList) check(t *testing.T, way string, j *job.Job, also ...string) {
	t.Helper()
	e := sentences.New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	say := told(e)
	seen := map[string]bool{}
	out := ""
	for i := range e.Len() {
		r := e.Row(i)
		switch r.Kind {
		case evaluate.LeftOutRow:
			out += r.Problems[0].Text.String() + "\n"
		case evaluate.MachineRow:
			seen[r.Name] = true
			if slices.Contains(c.want, r.Name) || slices.Contains(also, r.Name) {
				div := c.division(r.Name)
				if slices.Contains(also, r.Name) {
					div = 0.01
				}
				if diff := shafts[r.Name].differs(r, div); diff != "" {
					t.Errorf("%s, %s: %s %s\n%s", c.name, way, r.Name, diff, say)
				}
				continue
			}
			k := slices.IndexFunc(c.refused, func(x [2]string) bool {
				return x[0] == r.Name || x[0] == "*" || strings.HasPrefix(x[0], "row ") && strings.HasPrefix(r.Name, "row ")
			})
			if k < 0 && len(also) > 0 && !r.HasLine() { // behind other rows a heading is no longer told from a machine, and is refused
				continue
			}
			if k < 0 {
				t.Errorf("%s, %s: %s is no machine of the list\n%s", c.name, way, r.Name, say)
				continue
			}
			switch words := c.refused[k][1]; {
			case strings.HasPrefix(words, "#"): // something else of the row is refused or questioned, see warns
				if words == "#three" && r.Verdict == calc.NotJudged && r.HasLine() {
					t.Errorf("%s, %s: %s: %s", c.name, way, r.Name, r.Why)
				}
			case words[0] == '!': // the line stands, the verdict does not
				if r.Verdict != calc.NotJudged || !strings.Contains(r.Why.String(), words[1:]) {
					t.Errorf("%s, %s: %s: %v %s", c.name, way, r.Name, r.Verdict, r.Why)
				}
			case r.HasLine() || r.Verdict != calc.NotJudged:
				t.Errorf("%s, %s: %s was computed", c.name, way, r.Name)
			case !strings.Contains(r.Why.String(), words) && !strings.Contains(say, words):
				t.Errorf("%s, %s: %s is refused without %q: %s\n%s", c.name, way, r.Name, words, r.Why, say)
			}
		}
	}
	for _, m := range c.want {
		if !seen[m] {
			t.Errorf("%s, %s: %s is missing\n%s", c.name, way, m, say)
		}
	}
	for _, w := range c.leftOut[:len(c.leftOut)*(1-min(len(also), 1))] {
		if !strings.Contains(out, w) {
			t.Errorf("%s, %s: no row was left out with %q: %s\n%s", c.name, way, w, out, say)
		}
	}
	for _, w := range c.warns {
		if !strings.Contains(say, w) {
			t.Errorf("%s, %s: nothing was said with %q:\n%s", c.name, way, w, say)
		}
	}
	for _, x := range c.refused {
		if !seen[x[0]] && !strings.HasPrefix(x[0], "row ") && !strings.Contains(say, x[1]) {
			t.Errorf("%s, %s: %s is not refused\n%s", c.name, way, x[0], say)
		}
	}
	a, err := e.Allocate(nil)
	if err != nil {
		t.Errorf("%s, %s: %v", c.name, way, err)
		return
	}
	for _, p := range a.Picks {
		if _, ok := shafts[p.Machine]; !ok {
			t.Errorf("%s, %s: pieces are picked for %s", c.name, way, p.Machine)
		}
	}
}

// differs says what of a row is not as the half differences have it.
func (h shaft) differs(r *evaluate.RowResult, div float64) string {
	if !r.HasLine() {
		return "has no line: " + r.Why.String()
	}
	dv, tv, dh, th := h.line(div)
	got := []float64{r.Offset.V, r.Slope.V, r.Offset.H, r.Slope.H, r.Speed}
	want := []float64{dv, tv, dh, th, h.speed}
	if r.Front >= 0 && r.Rear >= 0 {
		f, b := &r.Calc.Feet[r.Front], &r.Calc.Feet[r.Rear]
		got = append(got, f.Shim, b.Shim, f.Move, b.Move)
		rear := h.front + h.feet
		want = append(want, -(dv + tv*h.front/1000), -(dv + tv*rear/1000), -(dh + th*h.front/1000), -(dh + th*rear/1000))
	} else {
		return "has no feet: " + r.Why.String()
	}
	for i := range got {
		if !(math.Abs(got[i]-want[i]) <= 1e-9*(1+math.Abs(want[i]))) {
			return fmt.Sprintf("comes to %v, want %v", got, want)
		}
	}
	return ""
}

// evidence: calc=reading of lists grade=independent count=4 source=four machines in lists of more than sixty shapes (testdata/lists), their lines by half differences of the readings
func TestLists(t *testing.T) {
	lists := readLists(t)
	const first = "Machine\tSpeed\tCoupling to stationary plane\tCoupling to movable plane\tCoupling to front feet\tFront to rear feet\tMovable rim 12\tMovable rim 3\tMovable rim 6\tMovable rim 9\t" +
		"Stationary rim 12\tStationary rim 3\tStationary rim 6\tStationary rim 9\nP-100\t740\t200\t180\t500\t900\t0\t0.05\t0.08\t0.03\t0\t-0.04\t0.06\t0.10\n"
	for i := range lists {
		c := &lists[i]
		t.Run(c.name, func(t *testing.T) {
			c.check(t, "file", c.asFile(t))
			if j := c.pasted(t, nil); j != nil {
				c.check(t, "paste", j)
			} else if len(c.want) > 0 {
				t.Error("the paste was not taken")
			}
			if len(c.job) == 0 && len(c.want) > 0 { // a block with its header goes behind what is there, its columns by their meaning
				c.check(t, "paste behind", c.pasted(t, map[string]string{"Machines": first}), "P-100")
			}
			if j := c.asWorkbook(t); j != nil {
				c.check(t, "workbook", j)
			} else if len(c.want) > 0 {
				t.Error("the workbook was not read")
			}
		})
	}
}

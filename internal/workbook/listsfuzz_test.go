package workbook_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/grid"
	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
)

// An awkward list is a right one as a planner would keep it: sections with headers of their own, columns exchanged, units anywhere, rows that are no machines.
type awkward struct {
	rng     *rand.Rand
	rows    [][]string
	comma   bool
	grouped bool // speeds with a sign between the thousands
}

var columnsOf = []string{"Machine", "Speed", "Coupling to stationary plane", "Coupling to movable plane", "Coupling to front feet", "Front to rear feet",
	"Movable rim 12", "Movable rim 3", "Movable rim 6", "Movable rim 9", "Stationary rim 12", "Stationary rim 3", "Stationary rim 6", "Stationary rim 9"}

func (a *awkward) n(n int) int           { return a.rng.IntN(n) }
func (a *awkward) chance(in int) bool    { return a.rng.IntN(in) == 0 }
func (a *awkward) of(s ...string) string { return s[a.rng.IntN(len(s))] }
func (a *awkward) number(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if v != 0 && v != math.Trunc(v) && a.chance(4) { // trailing zeros
		s = strconv.FormatFloat(v, 'f', max(3, len(s)-strings.IndexByte(s, '.')-1), 64)
	}
	if a.comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// whole writes a whole number, with a sign between thousands where the list has them.
func (a *awkward) whole(v float64) string {
	s := strconv.FormatFloat(v, 'f', -1, 64)
	if !a.grouped || v < 1000 {
		return s
	}
	sign := ","
	if a.comma {
		sign = "."
	}
	return s[:len(s)-3] + a.of(sign, sign, " ", "'") + s[len(s)-3:]
}

// A section is some machines under one header, or under the one above.
type section struct {
	order          []int // columns of columnsOf, −1 blank, −2 and below other columns
	unit           string
	mm             float64 // of one unit
	where          string  // where the unit stands
	words, twoRows bool
}

func (a *awkward) section() section {
	s := section{order: a.rng.Perm(len(columnsOf)), words: a.chance(3), twoRows: a.chance(5)}
	if a.chance(2) {
		slices.Sort(s.order)
		if a.chance(2) {
			i, k := 6+a.n(8), 6+a.n(8)
			s.order[i], s.order[k] = s.order[k], s.order[i]
		}
	}
	for range a.n(3) {
		s.order = slices.Insert(s.order, a.n(len(s.order)+1), -1-a.n(5))
	}
	s.unit, s.where = "mm", "nowhere"
	k := a.n(5)
	s.mm = []float64{1, 1, 0.0254, 0.001, 0.01}[k]
	s.unit = []string{"mm", "mm", "mil", "µm", "0.01 mm"}[k]
	if s.unit != "mm" || a.chance(3) {
		s.where = a.of("bracket", "paren", "loose", "comma", "row", "row brackets", "cell", "column")
		if s.unit == "0.01 mm" && (s.where == "cell" || s.where == "column") {
			s.where = "row"
		}
	}
	return s
}

// header are the lines of a section's header.
func (a *awkward) header(s section) (lines [][]string) {
	var names, unitRow []string
	for _, c := range s.order {
		name, unit := "", ""
		switch {
		case c == -1:
		case c == -2:
			name = "Work order"
		case c == -3:
			name = "Note"
		case c == -4:
			name = "Item"
		case c == -5:
			name = "Movable sag at 6"
		default:
			name = columnsOf[c]
			if s.words {
				sp := job.FindColumn(job.MachinesSheet, name).Spellings()
				name = sp[a.n(len(sp))]
			}
			if c >= 6 {
				unit = s.unit
			} else if c >= 2 {
				unit = "mm"
			}
		}
		if unit != "" {
			switch s.where {
			case "bracket":
				name += " [" + unit + "]"
			case "paren":
				name += " (" + unit + ")"
			case "loose":
				name += " " + unit
			case "comma":
				name += ", " + unit
			}
		}
		names = append(names, name)
		if s.where == "row brackets" && unit != "" {
			unit = "[" + unit + "]"
		}
		unitRow = append(unitRow, unit)
	}
	if s.where == "column" {
		names = append(names, a.of("Unit", "Units", "UoM"))
	}
	lines = [][]string{names}
	if s.twoRows && !s.words && s.where != "loose" && s.where != "comma" {
		var up, low []string
		last := ""
		for _, n := range names {
			u, l := n, ""
			for _, f := range []string{"Movable rim", "Stationary rim", "Coupling to"} {
				if rest, ok := strings.CutPrefix(n, f+" "); ok {
					if u, l = f, rest; f == last {
						u = ""
					}
					last = f
					break
				}
			}
			if l == "" {
				last = ""
			}
			up, low = append(up, u), append(low, l)
		}
		lines = [][]string{up, low}
	}
	if strings.HasPrefix(s.where, "row") {
		lines = append(lines, unitRow)
	}
	return lines
}

// machine is the row of a machine in a section.
func (a *awkward) machine(name string, s section) (row []string) {
	h := shafts[name]
	for _, c := range s.order {
		cell := ""
		switch {
		case c == -2:
			cell = strconv.Itoa(4000 + a.n(900))
		case c == -3:
			cell = a.of("", "checked", "see list 2", "-", "twice, 0.5 mm shim found")
		case c == -4:
			cell = strconv.Itoa(1 + a.n(9))
		case c == -5:
			cell = a.of("", "-", "n/a", "–", "?", "none")
		case c == 0:
			cell = name
		case c == 1:
			cell = a.whole(h.speed)
		case c > 1 && c < 6:
			cell = a.whole([]float64{h.stat, h.mov, h.front, h.feet}[c-2])
		case c >= 6:
			div := append(h.m[:len(h.m):len(h.m)], h.s[:]...)[c-6]
			switch s.unit {
			case "mm":
				cell = a.number(div / 100)
			case "µm":
				cell = a.number(div * 10)
			case "0.01 mm":
				cell = a.number(div)
			default:
				v, _ := strconv.ParseFloat(strconv.FormatFloat(div*0.01/0.0254, 'f', 5, 64), 64)
				cell = a.number(v)
			}
			if s.where == "cell" {
				cell += a.of(" ", "") + s.unit
			}
		}
		row = append(row, cell)
	}
	if s.where == "column" {
		row = append(row, s.unit)
	}
	return row
}

// junk is a row that is no machine. width is that of the list.
func (a *awkward) junk(s section, above []string) []string {
	at := max(slices.Index(s.order, 0), 0)
	lone := func(text string) []string {
		row := make([]string, at+1)
		row[at] = text
		return row
	}
	switch a.n(9) {
	case 0:
		return nil
	case 1:
		return slices.Repeat([]string{a.of("---", "===", "-", "–")}, len(s.order))
	case 2:
		return lone(a.of("Note: both shafts were turned together", "* checked", "4 machines", "Continued on page 2"))
	case 3:
		return lone(a.of("Pump house A", "Area 3", "North bay"))
	case 4, 5: // totals, means, counts of what stands above
		row := make([]string, len(s.order))
		for i, c := range s.order {
			if c < 1 {
				continue
			}
			sum, n := 0.0, 0
			for _, m := range above {
				h := shafts[m]
				v := append(append([]float64{h.speed, h.stat, h.mov, h.front, h.feet}, h.m[:]...), h.s[:]...)[c-1]
				if c >= 6 {
					v *= 0.01 / s.mm
				}
				sum += v
				n++
			}
			row[i] = a.number(math.Round(sum*1e5) / 1e5)
		}
		row[at] = a.of("Total", "Sum", "TOTAL:", "Sum of all", "", "Totals", "Grand total")
		return row
	case 6:
		return lone("Total")
	case 7:
		row := make([]string, len(s.order))
		row[len(row)-1] = "0.5"
		row[at] = "Average"
		return row
	}
	return []string{""}
}

// build makes the list.
func build(seed uint64, knobs uint64) *awkward {
	a := &awkward{rng: rand.New(rand.NewPCG(seed, knobs))}
	a.comma, a.grouped = knobs&1 == 1, knobs&6 == 6
	var names []string
	for m := range shafts {
		names = append(names, m)
	}
	slices.Sort(names)
	a.rng.Shuffle(len(names), func(i, k int) { names[i], names[k] = names[k], names[i] })
	s := a.section()
	title := knobs&24 == 24
	if title { // the unit stands in a title
		s.where = "nowhere"
		a.rows = append(a.rows, []string{"Spring shutdown"}, []string{a.of("All readings in ", "Readings in ", "readings: ", "Readings are in ") + s.unit})
	} else if a.chance(2) {
		a.rows = append(a.rows, []string{a.of("Spring shutdown", "List 3 of 12", "Tolerance 0.05 mm", "Couplings")}, nil)
	}
	a.rows = append(a.rows, a.header(s)...)
	for i, m := range names {
		if i > 0 && !title && a.chance(4) {
			s = a.section()
			if a.chance(2) {
				a.rows = append(a.rows, nil)
			}
			a.rows = append(a.rows, a.header(s)...)
		} else if i > 0 && a.chance(8) {
			a.rows = append(a.rows, a.header(s)...)
		}
		if i > 0 && a.chance(4) {
			a.rows = append(a.rows, a.junk(s, names[:i]))
		}
		a.rows = append(a.rows, a.machine(m, s))
	}
	for range a.n(3) {
		a.rows = append(a.rows, a.junk(s, names))
	}
	return a
}

// wrongInSilence says what of a job is neither as the truth has it nor refused or questioned.
func wrongInSilence(j *job.Job) string {
	e := sentences.New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		return err.Error()
	}
	say := told(e)
	seen := map[string]bool{}
	for i := range e.Len() {
		r := e.Row(i)
		if r.Kind != evaluate.MachineRow {
			continue
		}
		h, known := shafts[r.Name]
		if !known {
			if r.HasLine() || len(r.Calc.Feet) > 0 {
				return r.Name + " was computed"
			}
			continue
		}
		seen[r.Name] = true
		questioned := func(column string) bool {
			return strings.Contains(say, column+": is ") || slices.ContainsFunc(r.Problems, func(p job.Problem) bool { return p.Severity == job.Error && p.Column == column })
		}
		off := func(got, want, tol float64) bool { return !math.IsNaN(got) && math.Abs(got-want) > tol }
		if off(r.Speed, h.speed, 1e-6) && !questioned("Speed") {
			return fmt.Sprintf("%s: speed %v", r.Name, r.Speed)
		}
		if !r.HasLine() {
			if r.Why.Empty() || r.Verdict != calc.NotJudged {
				return r.Name + " has no line and no word why"
			}
			continue
		}
		distances := false
		for _, c := range columnsOf[2:6] {
			distances = distances || questioned(c)
		}
		dv, tv, dh, th := h.line(0.01)
		const tol = 1e-4
		if !distances && (off(r.Offset.V, dv, tol) || off(r.Slope.V, tv, 1e-2) || off(r.Offset.H, dh, tol) || off(r.Slope.H, th, 1e-2)) {
			return fmt.Sprintf("%s: line %v %v %v %v, want %v %v %v %v", r.Name, r.Offset.V, r.Slope.V, r.Offset.H, r.Slope.H, dv, tv, dh, th)
		}
		if r.Front >= 0 && r.Rear >= 0 && !distances && (off(r.Calc.Feet[r.Front].Shim, -(dv+tv*h.front/1000), 2e-3) || off(r.Calc.Feet[r.Rear].Shim, -(dv+tv*(h.front+h.feet)/1000), 2e-3)) {
			return fmt.Sprintf("%s: shims %v %v", r.Name, r.Calc.Feet[r.Front].Shim, r.Calc.Feet[r.Rear].Shim)
		}
	}
	for m := range shafts {
		if i := slices.IndexFunc(j.Machines.Rows, func(row []string) bool { return slices.Contains(row, m) }); i >= 0 && !seen[m] && len(e.Row(i).Problems) > 0 {
			continue // refused or left out under another name, with a word
		}
		if !seen[m] && !strings.Contains(say, m) && !strings.Contains(say, "no row with column names") && !strings.Contains(say, "turned on its side") {
			return m + " is lost"
		}
	}
	a, err := e.Allocate(nil)
	if err != nil {
		return ""
	}
	for _, p := range a.Picks {
		if _, ok := shafts[p.Machine]; !ok {
			return "pieces are picked for " + p.Machine
		}
	}
	return ""
}

func (a *awkward) text() string {
	var b []byte
	for _, r := range a.rows {
		b = job.AppendCSVRow(b, r, ';')
	}
	return string(b)
}

// FuzzLists makes lists as planners keep them out of right ones: each number comes out as it was, or its row is refused, or it is questioned.
func FuzzLists(f *testing.F) {
	for i := range uint64(32) {
		f.Add(i, i)
	}
	f.Fuzz(func(t *testing.T, seed, knobs uint64) {
		a := build(seed, knobs)
		tab, _, err := job.ReadDelimited("Machines", []byte(a.text()), ';')
		if err != nil {
			t.Fatal(err)
		}
		j := job.NewJob()
		j.Machines = tab
		tab.SplitHeader(job.MachinesSheet)
		if why := wrongInSilence(j); why != "" {
			t.Fatalf("file: %s\n%s", why, a.text())
		}
		m := grid.New(nil, nil, nil)
		if ch := m.PasteText(grid.FormatBlock(a.rows), meaning(job.MachinesSheet, false)); ch.Any {
			j.Machines = &job.Table{Name: "Machines", Title: m.Title(), Header: m.Header(), Rows: m.Rows(), FirstRow: len(m.Title()) + 2}
			if why := wrongInSilence(j); why != "" {
				t.Fatalf("paste: %s\n%s", why, a.text())
			}
		}
	})
}

// The share of machines that come out as they were, so that refusing everything is not taken for being right.
func TestAwkwardListsAreMostlyRead(t *testing.T) {
	right, all := 0, 0
	for i := range uint64(400) {
		a := build(i, i*7)
		tab, _, _ := job.ReadDelimited("Machines", []byte(a.text()), ';')
		tab.SplitHeader(job.MachinesSheet)
		j := job.NewJob()
		j.Machines = tab
		if why := wrongInSilence(j); why != "" {
			t.Errorf("%d: %s\n%s", i, why, a.text())
		}
		e := sentences.New(j)
		for k := range e.Len() {
			if r := e.Row(k); r.Kind == evaluate.MachineRow && r.HasLine() {
				right++
			}
		}
		all += len(shafts)
	}
	t.Logf("%d of %d machines are read", right, all)
	if right < all*8/10 {
		t.Errorf("only %d of %d machines are read", right, all)
	}
}

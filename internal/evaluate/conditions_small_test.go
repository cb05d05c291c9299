package evaluate

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"shimsheet/internal/calc"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// A decimal comma beyond doubt, and what may be a list, thousands or nothing.
func TestDecimalCommas(t *testing.T) {
	for s, want := range map[string]bool{
		"0,35": true, "12,5": true, "-0,125": true, "−0,125": true, "1,2345": true, "1234,567": true, "0,123": true, "a 1,5 b": true, "1,5 2,5": true, "9,9": true, "0,0": true, "90:0,35": true, "12,5 mm": true, "10,12": true,
		"": false, ",": false, "5": false, "1,234": false, "12,345": false, "123,456": false, "12,3,6,9": false, "1,23.4": false, "1.234,5": false, ",5": false, "5,": false, "a,b": false, "a,5": false, "5,b": false, "00,123": false, "1,234,567": false, "3, 6, 9": false, "1/,5": false, "5,:3": false,
	} {
		if got := decimalComma(s); got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
}

// Names of rows of totals, of machines, and those that may be either. Blanks and signs around do not matter.
func TestNamesOfTotals(t *testing.T) {
	for _, c := range []struct {
		name         string
		total, doubt bool
	}{
		{"", false, false}, {" ", false, false}, {"P-101", false, false}, {"Σ", true, false}, {" ∑ ", true, false}, {"ø", true, false}, {"Ø", true, false}, {"Øresund pump", false, false}, {"Total", true, false}, {" totals ", true, false}, {"T O T A L", true, false}, {"Grand total", true, false}, {"Sub-total", true, false},
		{"Total: 14", true, false}, {"Total = 14", true, false}, {"Average(14)", true, false}, {"(total)", true, false}, {"Std dev", true, false}, {"Mean value", true, false}, {"No. of machines", true, false},
		{"12 machines", true, false}, {"machines", false, false}, {"12 machines.", true, false}, {"Total 12 machines", true, false}, {"Number of pumps", true, false}, {"Number of spare pumps", false, true}, {"West 12 machines", false, false}, {"Sum: 3 sets", true, false}, {"3 Sets)", true, false},
		{"Total pump", false, true}, {"TOTAL west", false, true}, {"Subtotal west", false, true}, {"Average west", false, true}, {"Mean west", false, true}, {"Grand total west", false, true}, {"Sub total west", false, true}, {"Grand totals", false, true}, {"Grand mean west", false, false}, {"West total", false, true}, {"West sum", false, true},
		{"West average:", false, true}, {"Sum of west", false, true}, {"Count of west", false, true}, {"Range of west", false, false}, {"Summit pump", false, false}, {"Sum west", false, false}, {"Count west", false, false}, {"Totally new", false, false}, {"West mean pump", false, false},
		{strings.Repeat("x", job.MaxHeader-5) + " total", false, false}, {strings.Repeat("x", job.MaxHeader-6) + " total", false, true},
	} {
		if total, doubt := summary(c.name); total != c.total || doubt != c.doubt {
			t.Errorf("%q: %v, %v", c.name, total, doubt)
		}
	}
}

// Lone texts that are notes and not names of machines.
func TestNotes(t *testing.T) {
	for s, want := range map[string]bool{"": false, "  ": false, "P-101": false, "* as found": true, " *x": true, "#2": true, "† seen": true, "Note: x": true, "Note:": true, "note": false, "Notes on the list": true, "  Notes on the list": true, "Key": false, "Key:": true, "Page 3": true, "Rev. 2": true, "Revised pump": false,
		"Sheet 2 of 3": true, "Date,": true, "one two three four five six": false, "one two three four five six seven": true, "Legend -": true, "Source pump": true, "Sourcepump": false, "All in mm": true} {
		if got := noteLike(s); got != want {
			t.Errorf("%q: %v", s, got)
		}
	}
	for s, want := range map[string]bool{"": true, "----": true, " —– ": true, " — – ": false, "====": true, "* * *": false, "***": true, "_": true, "#.~|+": true, "-x-": false, "0": false, "−‐‑": true} {
		if got := isDashes(s); got != want {
			t.Errorf("%q is a line: %v", s, got)
		}
	}
}

// A row without a name that sums up, averages or counts what stands above it is left out; by chance equal numbers in one column of several are none. The columns: distance, width, speed.
func TestRowsOfSums(t *testing.T) {
	for _, c := range []struct {
		rows string // distances and widths of the machines, then of the row without a name
		out  bool
	}{
		{"100 10;200 30;300 50;600 90", true}, {"100 10;200 30;300 50;200 30", true}, {"100 10;200 30;300 50;3 3", true}, {"100 10;200 30;300 50;600 30", true},
		{"100 10;200 30;300 50;600 91", false}, {"100 10;200 30;300 50;601 90", false}, {"100 10;200 30;300 50;600 -", true}, {"100 10;200 30;300 50;- 90", true}, {"100 10;200 30;300 50;- 91", false},
		{"100 10;200 30;300 50;201 30.1", true},            // a mean that was rounded
		{"100 10;200 30;300 50;202 30.3", false},           // and one that is none
		{"100 10;100 10;100 10;300 30", false},             // of what is alike nothing can be told
		{"100 10;100 10", false}, {"100 10;200 30", false}, // of one row neither
		{"100 10;200 20;600 90", false},
	} {
		lines := strings.Split(c.rows, ";")
		text := []string{}
		for k, l := range lines {
			f := strings.Fields(strings.ReplaceAll(l, "-", "\"\""))
			name := fmt.Sprintf("P-%d", k)
			if k == len(lines)-1 {
				name = ""
			}
			text = append(text, fmt.Sprintf("Machines: Machine=%s | Coupling to front feet=%s | Face diameter=%s", name, strings.Trim(f[0], `"`), strings.Trim(f[1], `"`)))
		}
		e := workText(t, text...)
		r := e.Row(len(lines) - 1)
		if got := r.Kind == LeftOutRow; got != c.out || got && toldBy(r.Problems) != fmt.Sprintf("warning Machines %d : no machine is named, and the numbers sum up or average the rows above; the row is left out (if it is a machine give it another name)\n", len(lines)+1) {
			t.Errorf("%s: left out %v: %s", c.rows, got, toldBy(r.Problems))
		}
	}
}

// Headers further down: one that is the list's own is passed over, one with other columns or units refuses what stands below it, until one of the list's own comes.
func TestHeadersFurtherDown(t *testing.T) {
	head := []string{"Machine", "Speed [rpm]", "Coupling to front feet [mm]", "Front to rear feet [mm]", "Note"}
	for _, c := range []struct {
		rows  [][]string
		kinds string // m machine, r machine refused, h header, o other header, b blank
	}{
		{[][]string{{"P-1", "1480", "300", "500"}, head, {"P-2", "1480", "300", "500"}}, "mhm"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"machine", "speed [RPM]", "", ""}, {"P-2", "1480", "300", "500"}}, "mhm"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"Machine", "Speed [rpm]", "Front to rear feet [mm]", "Coupling to front feet [mm]"}, {"P-2", "1480", "500", "300"}, {"P-3", "990", "500", "300"}}, "morr"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"Machine", "Speed [rpm]", "Coupling to front feet [in]", "Front to rear feet [in]"}, {"P-2", "1480", "12", "20"}}, "mor"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"Machine", "Speed [rpm]", "Coupling to front feet [in]", "Front to rear feet [in]"}, {"P-2", "1480", "12", "20"}, head, {"P-3", "1480", "300", "500"}}, "morhm"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"Machine", "rpm", "Coupling to front feet", "Front to rear feet"}, {"P-2", "1480", "300", "500"}}, "mhm"}, // in other words. Seen: it was told as a machine that cannot be read
		{[][]string{{"P-1", "1480", "300", "500"}, {"machine name", "rpm", "", "Front to rear feet [mm]"}, {"P-2", "1480", "300", "500"}}, "mhm"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"machine name", "x", "", ""}, {"P-2", "1480", "300", "500"}}, "mmm"}, // x is no name of a column
		{[][]string{{"P-1", "1480", "300", "500"}, nil, head, nil, {"P-2", "1480", "300", "500"}}, "mbhbm"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"P-2", "slow", "near", "far"}, {"P-3", "1480", "300", "500"}}, "mor"}, // words in three columns of numbers
		{[][]string{{"P-1", "1480", "300", "500"}, {"P-2", "slow", "near", "500"}, {"P-3", "1480", "300", "500"}}, "mmm"},
		{[][]string{{"P-1", "1480", "300", "500"}, {"P-2", "slow", "near", "n/a"}, {"P-3", "1480", "300", "500"}}, "mmm"},
	} {
		j := &job.Job{Machines: &job.Table{Name: "Machines", Header: head, Rows: c.rows, FirstRow: 2}}
		e := work(t, j)
		kinds := func(e *Evaluator) string {
			out := ""
			for i := range c.rows {
				switch r := e.Row(i); {
				case r.Kind == BlankRow:
					out += "b"
				case r.Kind == HeaderRow:
					k := "h"
					if strings.Contains(toldBy(r.Problems), "a header with other columns stands here; what stands below it is refused") {
						k = "o"
					}
					out += k
				case strings.Contains(toldBy(r.Problems), "is a header whose columns are not those above"):
					out += "r"
				case r.Kind == MachineRow:
					out += "m"
				default:
					out += "?"
				}
			}
			return out
		}
		if got := kinds(e); got != c.kinds {
			t.Errorf("%v: %s, want %s", c.rows, got, c.kinds)
		}
		// Edits in place say the same: every row blanked and put back, and the list typed from below.
		for i := range c.rows {
			was := c.rows[i]
			c.rows[i] = nil
			e.RowsChanged(i, i+1)
			if a, b := kinds(e), kinds(work(t, j)); a != b {
				t.Errorf("%v without row %d: %s, anew %s", c.rows, i, a, b)
			}
			c.rows[i] = was
			e.RowsChanged(i, i+1)
			if got := kinds(e); got != c.kinds {
				t.Errorf("%v with row %d back: %s", c.rows, i, got)
			}
		}
	}
}

// Decimal commas on any sheet make a point before three digits doubtful; taken back, it is no more. The edited list says what a fresh one does.
func TestCommasComeAndGo(t *testing.T) {
	j := jobText(t, "Machines: Machine=P-1 | Coupling to front feet=1.234 | Note=1,5 | Method=line | Further feet=1,5", "Machines: Machine=P-2 | Coupling to front feet=300", "Machines: Machine=P-3 | Coupling to front feet=300")
	e := work(t, j)
	mark := func() units.Decimal { return e.Mark() }
	if mark() != units.Commas { // a list of distances is one of numbers
		t.Error(mark())
	}
	set := func(i, col int, text string) {
		row := slices.Clone(j.Machines.Rows[i])
		row[col] = text
		j.Machines.Rows[i] = row
		e.RowsChanged(i, i+1)
		if fresh := NewEvaluator(j); fresh.Mark() != e.Mark() || fresh.commas != e.commas {
			t.Errorf("%d %d %q: %v and %d rows, anew %v and %d", i, col, text, e.Mark(), e.commas, fresh.Mark(), fresh.commas)
		}
		for k := range e.Len() {
			if a, b := toldBy(e.Row(k).Problems), toldBy(NewEvaluator(j).Row(k).Problems); a != b {
				t.Errorf("row %d: %s\nanew %s", k, a, b)
			}
		}
	}
	set(0, 4, "500")
	if mark() != units.Either {
		t.Error(mark())
	}
	set(1, 1, "300,5")
	set(2, 1, "300,5")
	if mark() != units.Commas {
		t.Error(mark())
	}
	set(1, 1, "300")
	j.Machines.Rows = j.Machines.Rows[:2]
	e.RowsChanged(2, 2)
	if mark() != units.Either || e.commas != 0 {
		t.Error(mark(), e.commas)
	}
	j.Machines.Rows = append(j.Machines.Rows, []string{"P-4", "0,5"}, []string{"P-5", "0,5"})
	e.RowsChanged(2, 4)
	if mark() != units.Commas || e.commas != 2 || e.Decimal() != units.Either {
		t.Error(mark(), e.commas, e.Decimal())
	}
	for _, c := range []struct {
		line string
		want units.Decimal
	}{{"Stock: Thickness=0,5", units.Commas}, {"Stock: Thickness=0.5", units.Either}, {"Feet: Machine=P-1 | Foot=front 9 | Pack in place=0,5+1", units.Commas}, {"Job: Move step=0,05", units.Either}, {"Job: Decimal sign=comma", units.Comma}, {"Job: Decimal sign=point", units.Point}} {
		e := workText(t, "Machines: Machine=P-1", c.line)
		want := c.want
		if want == units.Commas {
			want = units.Either
		}
		if e.Mark() != c.want || e.Decimal() != want {
			t.Errorf("%s: %v, %v", c.line, e.Mark(), e.Decimal())
		}
	}
}

// Names of one machine: case and blanks within do not matter, all else does.
func TestOneName(t *testing.T) {
	for s, want := range map[string]string{"": "", "  ": "", "P-1": "p-1", " p-1 ": "p-1", "P  1": "p 1", "P\t1": "p 1", "P 1": "p 1", "p 1": "p 1", "p1": "p1", "ÄÖ Pump": "äö pump", "a\u00a0b": "a b", "ǅ": "ǆ", "z": "z", "A": "a", "Z": "z", "[": "[", "@": "@", "a b  c": "a b c", "\x1f": "\x1f"} {
		if got := nameKey(s); got != want && s != "\x1f" {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}

// What the list says of its whole: counts, defaults, settings, columns, sheets' names, problems of a cell.
func TestWholeList(t *testing.T) {
	e := workText(t, "Machines: Machine=in | Speed=1480 | Method=line | Coupling=short | Given offset V=0.01 | Given offset H=0 | Given slope V=0 | Given slope H=0 | Colour=x | Verdict=y", "3 of 2: Machine=out | Given offset V=3", "4 of 2: Machine=out too | Given offset V=2", "5 of 2: Machine=not | Speed",
		"6 of 2: Machine=close | Given offset V=0.1 | Offset limit=0.1 | Slope limit=1", "Machines: Machine=Total | Speed=3", "Machines: Machine", "Job: Site= the weir ", "Job: Cold temperature=14 °C", "Job: Coupling=universal", "Job: Limits=published", "Job: Units=mm")
	if n, v := e.Count(); n != 5 || v != [4]int{calc.NotJudged: 1, calc.Inside: 1, calc.TooClose: 1, calc.Outside: 2} {
		t.Error(n, v)
	}
	if cold, c, l := e.Defaults(); cold != 14 || c != tables.Universal || l != "published" {
		t.Error(cold, c, l)
	}
	if e.Setting("site") != "the weir" || e.Setting("people") != "" || e.Setting("no such") != "" || e.Setting("machine") != "" {
		t.Errorf("%q", e.Setting("site"))
	}
	for c, want := range map[int]string{-1: "", 0: "Machine", 1: "Speed", 7: "Given slope H", 8: "", 9: "Verdict", 10: "Offset limit", 11: "Slope limit", 13: "", 99: ""} {
		got := ""
		if info := e.ColumnOf(c); info != nil {
			got = info.Name
		}
		if got != want {
			t.Errorf("column %d is %q, want %q", c, got, want)
		}
	}
	if e.MachineColumn() != 0 || e.Column(job.ColSpeed) != 1 || e.Column(job.ColTrain) != -1 {
		t.Error(e.MachineColumn())
	}
	if e.Len() != 7 || e.Row(-1) != nil || e.Row(7) != nil || (&Evaluator{job: &job.Job{}}).Len() != 0 {
		t.Error(e.Len())
	}
	if e.SheetName(job.MachinesSheet) != "Machines" || e.SheetName(job.FeetSheet) != "Feet" {
		t.Error(e.SheetName(job.FeetSheet))
	}
	e.Job().Machines.Name = "Spring list"
	if e.SheetName(job.MachinesSheet) != "Spring list" {
		t.Error(e.SheetName(job.MachinesSheet))
	}
	// Of a cell the gravest problem; of its row the gravest severity.
	e = workText(t, "Machines: Machine=P | Speed=90000 | Offset limit=x | Slope limit=0.5", "Machines: Machine=Q | Speed=1480", "Machines: Note")
	for col, want := range []string{"", "error", "error", ""} {
		got := ""
		if p := e.CellProblem(0, col); p != nil && p.Severity == job.Error {
			got = p.Severity.String()
		}
		if got != want {
			t.Errorf("column %d: %q", col, got)
		}
	}
	r := &RowResult{Problems: []job.Problem{{Severity: job.Note, Col: 1, Text: words.Plain("a")}, {Severity: job.Warning, Col: 1, Text: words.Plain("b")}, {Severity: job.Error, Col: 2, Text: words.Plain("c")}, {Severity: job.Warning, Col: 1, Text: words.Plain("d")}}}
	if r.Worst() != job.Error || (&RowResult{}).Worst() != job.Note || e.CellProblem(9, 0) != nil || e.CellProblem(-1, 0) != nil {
		t.Error(r.Worst())
	}
	*e.at(1) = *r
	for col, want := range []string{"", "b", "c", ""} {
		got := ""
		if p := e.CellProblem(1, col); p != nil {
			got = p.Text.String()
		}
		if got != want {
			t.Errorf("column %d: %q, want %q", col, got, want)
		}
	}
	// The stretch of rows that were marked.
	e = workText(t, "Machines: Machine=a", "Machines: Machine=b", "Machines: Machine=c", "Machines: Machine=d", "Machines: Machine=e")
	e.Marked()
	for _, c := range [][4]int{{1, 2, 1, 2}, {3, 4, 1, 4}, {0, 1, 0, 4}, {2, 2, 0, 4}} {
		e.RowsChanged(c[0], c[1])
		if got := e.marked; got != [2]int{c[2], c[3]} {
			t.Errorf("%v: %v", c, got)
		}
	}
	if from, to := e.Marked(); from != 0 || to != 4 {
		t.Error(from, to)
	}
	if from, to := e.Marked(); from != to {
		t.Error(from, to)
	}
	e.RowsChanged(-5, 99)
	if from, to := e.Marked(); from != 0 || to != 5 {
		t.Error(from, to)
	}
}

// Whether a row repeats the header: its own words alone, two at least.
func TestRowIsTheHeader(t *testing.T) {
	e := NewEvaluator(&job.Job{Machines: &job.Table{Name: "Machines", Header: []string{"Machine", "Speed", "Note", ""}, FirstRow: 2, Rows: [][]string{
		{"Machine", "Speed", "Note", ""}, {"machine", "speed"}, {"Machine", ""}, {"Machine", "", "note"}, {"Machine", "Speed", "x"}, {"Machine", "Speed", "", "", "x"}, {"Machine", "Speed", "", " ", ""}, {"", "", ""}, {"Machine", "Speed", "", "", ""}}}})
	for i, want := range []bool{true, true, false, true, false, false, true, false, true} {
		if got := e.isHeader(i); got != want {
			t.Errorf("%q: %v", e.Job().Machines.Rows[i], got)
		}
	}
}

// The job asks once for the sag of long brackets that nobody typed: how many, the longest, at which machine.
func TestLongBracketsAreAskedOnce(t *testing.T) {
	base := "Machines: Machine=%s | Method=reverse indicator | Coupling to stationary plane=%d | Coupling to movable plane=%d" + rims(calc.Line{DV: 0.1})
	lines := func(more ...string) []string {
		return append([]string{fmt.Sprintf(base, "short", 100, 100), fmt.Sprintf(base, "long", 500, 400), fmt.Sprintf(base, "longest", 700, 500), fmt.Sprintf(base, "long too", 600, 500)}, more...)
	}
	ask := func(e *Evaluator) string {
		out := ""
		for _, p := range e.Problems() {
			if strings.Contains(p.Column, "sag") {
				out += toldBy([]job.Problem{p})
			}
		}
		return out
	}
	want := "warning Machines 0 Movable sag at 6: "
	got := ask(workText(t, lines()...))
	if !strings.HasPrefix(got, want) || !strings.Contains(got, "3") || !strings.Contains(got, "1200 mm") || !strings.Contains(got, "longest") || strings.Count(got, "\n") != 1 {
		t.Error(got)
	}
	got = ask(workText(t, lines("4: Movable sag at 6=-0.1 | Stationary sag at 6=-0.1")...))
	if !strings.Contains(got, "1100 mm") || !strings.Contains(got, "long too") || strings.Contains(got, "longest is") {
		t.Error(got)
	}
	if got := ask(workText(t, lines("3: Movable sag at 6=0 | Stationary sag at 6=0", "4: Movable sag at 6=0 | Stationary sag at 6=0", "5: Movable sag at 6=0 | Stationary sag at 6=0")...)); got != "" {
		t.Error(got)
	}
}

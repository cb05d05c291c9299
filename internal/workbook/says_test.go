package workbook

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/tables"
)

// A row without formulas says in its State why, one reason each: the job is made of rows that have formulas but for that.
func TestStateSaysWhyThereAreValues(t *testing.T) {
	head := "Machine|Method|Speed|Coupling to front feet|Front to rear feet|Coupling to movable plane|Coupling to stationary plane|Movable rim 12|Movable rim 3|Movable rim 6|Movable rim 9|Stationary rim 12|Stationary rim 3|Stationary rim 6|Stationary rim 9|Movable sweep|Seen from|" +
		"Face diameter|Face 12|Face 3|Face 6|Face 9|Stationary face 12|Stationary face 3|Stationary face 6|Stationary face 9|Spacer length|Coupling|Coupling to second plane|Cold offset V|Cold slope V|Cold slope H"
	rims := "|0|-0.17|-0.30|-0.13|0|0.11|0.10|-0.01"
	rows := []struct{ row, state string }{
		{"fine|reverse indicator|1480|300|500|100|120" + rims, "formulas"},
		{"no line|reverse indicator|1480|300|500|100|120", "values; there is no line"},
		{"turned|reverse indicator|1480|300|500|100|120" + rims + "||stationary machine", "values; the row is seen from behind the stationary machine"},
		{"set|reverse indicator|1480|300|500|100|120" + rims, "values; the wanted line is a set of readings"},
		{"feet|reverse indicator|1480|||100|120" + rims, "values; the feet stand on the Feet sheet"},
		{"sheet|reverse indicator|1480|300|500|100|120", "values; the readings do not stand in columns of the Machines sheet"},
		{"sweep|reverse indicator|1480|300|500|100|120|||||0|0.11|0.10|-0.01|0:0 90:-0.17 180:-0.30 270:-0.13", "values; the readings stand in one cell"},
		{"faces|face and face|1480|300|500|||||||||||||200|0|0.05|0.08|0.03|0|0.02|0.05|0.03|500|spacer", "values; formulas are written for reverse indicator, two rims, rim and face, straightedge and gap, line"},
		{"cold|reverse indicator|1480|300|500|100|120" + rims + strings.Repeat("|", 14) + "|0.05|0.1|0.2", "formulas"},
		{"grown|reverse indicator|1480|300|500|100|120" + rims, "values; the wanted line rests on the Growth sheet or on a measured change"},
		{"slipped|reverse indicator|1480|300|500|100|120|0|-0.17|-0.30|0.13|0|0.11|0.10|-0.01", "formulas"}, // what a failed check leaves out has no formula, what is there has
		{"typed|reverse indicator|1480|11 7/8 in|500|100 mm|120" + rims, "formulas; fixed in the formulas, as typed with a unit: Coupling to movable plane, Coupling to front feet"},
	}
	table := func(k job.SheetKind, text string) *job.Table {
		tab := &job.Table{Name: k.String(), FirstRow: 2}
		for line := range strings.Lines(text) {
			tab.Rows = append(tab.Rows, strings.Split(strings.TrimSuffix(line, "\n"), "|"))
		}
		tab.Header, tab.Rows = tab.Rows[0], tab.Rows[1:]
		return tab
	}
	j := job.NewJob()
	text := head + "\n"
	for _, r := range rows {
		text += r.row + "\n"
	}
	j.Machines = table(job.MachinesSheet, text)
	readings := "Machine|Sweep|Angle|Reading|Set\n"
	for i, v := range strings.Split("0|-0.17|-0.30|-0.13", "|") {
		readings += fmt.Sprintf("sheet|Movable rim|%d|%s|\nset|Movable rim|%d|%s|wanted\n", 90*i, v, 90*i, v)
	}
	for i, v := range strings.Split("0|0.11|0.10|-0.01", "|") {
		readings += fmt.Sprintf("sheet|Stationary rim|%d|%s|\nset|Stationary rim|%d|%s|wanted\n", 90*i, v, 90*i, v)
	}
	j.Readings = table(job.ReadingsSheet, readings)
	j.Feet = table(job.FeetSheet, "Machine|Foot|Along|Across|Gap\nfeet|front 9|300|-200|0\nfeet|front 3|300|200|0\nfeet|rear 9|800|-200|0\nfeet|rear 3|800|200|0.1\n")
	j.Growth = table(job.GrowthSheet, "Machine|Support|Growth V\ngrown|movable front|0.2\ngrown|movable rear|0.2\n")
	ev := work(t, j)
	out, err := Write(j, ev, Options{Live: true})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	shown := rawSheet(t, out, "Results")
	got := states(shown)
	for n, r := range shown {
		for _, h := range shown {
			if len(h) > 0 && h[0] == "Machine" && len(r) > 0 && r[0] == "slipped" {
				for c, name := range h {
					if s, _ := f.GetCellFormula("Results", cellName(c, n+1)); (s != "") != strings.HasPrefix(name, "Offset V") && (strings.HasPrefix(name, "Offset V") || strings.HasPrefix(name, "Front shim") || strings.HasPrefix(name, "Share of")) {
						t.Errorf("slipped, %s: %q", name, s)
					}
				}
			}
		}
	}
	for i, r := range rows {
		name, _, _ := strings.Cut(r.row, "|")
		if got[name] != r.state {
			t.Errorf("%s: %q, want %q; %s %v", name, got[name], r.state, ev.Row(i).Why, ev.Row(i).Problems)
		}
	}
}

// The sheet Method gives everything its source: each caution, what is taken for the trust of readings where nothing is said, and each row of each limit set, as the tables have them; nothing twice.
func TestMethodGivesSources(t *testing.T) {
	m := demoBook(t, "")
	rows, err := m.f.GetRows("Method")
	if err != nil {
		t.Fatal(err)
	}
	n, headings := 0, []string{}
	find := func(source string, parts ...string) {
		t.Helper()
		found := 0
		for _, r := range rows {
			if r = append(r, "", ""); r[1] == source && !slices.ContainsFunc(parts, func(p string) bool { return !strings.Contains(r[0], p) }) {
				found++
			}
		}
		if n++; found != 1 {
			t.Errorf("%q with the source %q stands there %d times", parts, source, found)
		}
	}
	for _, c := range tables.Cautions() {
		find(c.Source.String(), c.Text)
	}
	number := func(x float64) string { return strconv.FormatFloat(math.Round(x*1e4)/1e4, 'g', -1, 64) }
	for what, tr := range map[string]tables.Trust{"dial in millimetres": tables.DialMetric, "dial in thousandths of an inch": tables.DialInch, "straightedge in millimetres": tables.FeelerMetric, "straightedge in thousandths of an inch": tables.FeelerInch, "a line reduced elsewhere": tables.GivenLine} {
		find(tr.Source.String(), what+": graduation "+number(tr.Graduation)+" mm, repeatability "+number(tr.Repeatability)+" mm")
	}
	for _, s := range tables.LimitSets() {
		for c := range tables.Coupling(tables.CouplingKinds) {
			for _, r := range s.Rows[c] {
				words := s.Name + ", " + c.String() + ", up to " + number(r.UpTo) + " rpm: "
				if math.IsInf(r.UpTo, 1) {
					words = s.Name + ", " + c.String() + ", whatever the speed, as its source names none: "
				}
				switch {
				case math.IsNaN(r.Offset):
					words += "slope " + number(r.Slope) + " mm/m"
				case math.IsNaN(r.Slope):
					words += "offset " + number(r.Offset) + " mm"
				default:
					words += "offset " + number(r.Offset) + " mm, slope " + number(r.Slope) + " mm/m"
				}
				find(r.Source.String(), words)
			}
		}
	}
	for i, r := range rows {
		if s := m.style(t, "Method", 0, i+1); len(r) == 1 && s.Font.Bold {
			headings = append(headings, r[0])
			if want := map[bool]float64{true: 14, false: 12}[i == 0]; s.Font.Size != want {
				t.Errorf("%s is %g pt", r[0], s.Font.Size)
			}
			if i > 1 && len(rows[i-1]) > 0 && r[0] != "Cautions" && r[0] != "What was missing, wrong or worth a look" {
				t.Errorf("nothing parts %s from what is before it", r[0])
			}
		}
		if len(r) > 1 {
			if s := m.style(t, "Method", 1, i+1); !s.Font.Italic || !s.Alignment.WrapText {
				t.Errorf("the source in row %d looks like %+v", i+1, s.Font)
			}
		}
	}
	if want := []string{"Method: what was computed, and from what", "Cautions", "What the words mean", "Readings and their trust", "Limit sets", "What was missing, wrong or worth a look"}; !slices.Equal(headings, want) {
		t.Errorf("headings %q", headings)
	}
	if n < 20 {
		t.Errorf("%d lines", n)
	}
}

func (m *made) style(t *testing.T, name string, col, row int) *excelize.Style {
	return look(t, m.f, name).style(col, row)
}

// What is printed of the Results sheet is what a crew needs, in this order: the verdict and why, where the shaft stands and how sure that is, what to do at the feet, and how it stands then. What is left comes to the right of
// it, each result of the list once.
func TestPrintedResults(t *testing.T) {
	for _, inch := range []bool{false, true} {
		m := demoBook(t, "")
		thick, slope := "mm", "mm/m"
		if inch {
			m = demoWith(t, "Setting,Value\nUnits,inch\n", func(j *job.Job) { j.Machines.Rows = j.Machines.Rows[:3] })
			thick, slope = "mil", "mil/in"
		}
		l := look(t, m.f, "Results")
		head := l.rows[l.header("Machine", "Verdict")-1]
		want := strings.NewReplacer("THICK", thick, "SLOPE", slope).Replace("Machine|Verdict|Why|Offset V [THICK]|Offset H [THICK]|Offset total [THICK]|± [THICK]|Slope V [SLOPE]|Slope H [SLOPE]|Slope total [SLOPE]|± [SLOPE]|Share of limit [%]|Chance inside [%]|" +
			"Front shim [THICK]|Rear shim [THICK]|Front move [THICK]|Rear move [THICK]|Move towards|Front pack [THICK]|Rear pack [THICK]|After: share of limit [%]|After: verdict")
		if got := strings.Join(head[:min(22, len(head))], "|"); got != want {
			t.Errorf("printed are\n%s, want\n%s", got, want)
		}
		seen := map[string]bool{}
		for _, h := range head {
			if strings.HasPrefix(h, "± [") {
				continue
			}
			if seen[h] {
				t.Errorf("%s stands there twice", h)
			}
			seen[h] = true
		}
		for _, c := range job.ResultColumns() {
			if strings.HasPrefix(c.Key, "wanted_") && c.Key != "wanted_readings" {
				continue
			}
			found := false
			for h := range seen {
				found = found || h == c.Name || strings.HasPrefix(h, c.Name+" [")
			}
			if !found {
				t.Errorf("no column %s", c.Name)
			}
		}
		w := func(name string) float64 {
			x, err := m.f.GetColWidth("Results", columnName(slices.IndexFunc(head, func(h string) bool { return strings.HasPrefix(h, name) })))
			if err != nil {
				t.Fatal(err)
			}
			return x
		}
		if !(w("Machine") > w("After: verdict") && w("Why") > w("Machine") && w("Offset V") < w("After: verdict") && w("Front pack") > w("After: verdict")) {
			t.Errorf("widths: %g %g %g %g %g", w("Machine"), w("Why"), w("Offset V"), w("Front pack"), w("After: verdict"))
		}
	}
}

// Where the moves of a row go is said once where both go one way or only one is made, else of each; a row without such feet says nothing.
func TestMovesTowards(t *testing.T) {
	seen := map[string]int{}
	m := demoBook(t, "")
	by := machinesOf(t, m.ev)
	for _, r := range tableIn(t, m.f, "Results", "Machine", "Verdict") {
		x := by[r.cell["Machine"]]
		a, oka := x["front_move_mm"].(float64)
		b, okb := x["rear_move_mm"].(float64)
		var row *evaluate.RowResult
		for i := range m.ev.Len() {
			if m.ev.Row(i).Name == r.cell["Machine"] && m.ev.Row(i).Kind == evaluate.MachineRow {
				row = m.ev.Row(i)
				break
			}
		}
		to := func(v float64) string {
			three, nine := row.Side3, row.Side9
			if three == "" {
				three = "3 o'clock"
			}
			if nine == "" {
				nine = "9 o'clock"
			}
			return map[bool]string{true: three, false: nine}[v > 0]
		}
		want, kind := "", "none"
		switch {
		case oka && okb && (a > 0) == (b > 0):
			want, kind = to(a), "both"
		case oka && okb:
			want, kind = "front "+to(a)+", rear "+to(b), "each"
		}
		if got := r.cell["Move towards"]; got != want {
			t.Errorf("%s moves by %v and %v: %q, want %q", r.cell["Machine"], x["front_move_mm"], x["rear_move_mm"], got, want)
		}
		seen[kind]++
	}
	if seen["both"] < 3 || seen["each"] < 1 || seen["none"] < 1 {
		t.Error(seen)
	}
}

// Texts go out as they are: blanks at either end and line ends are marked to be kept (xml:space, ECMA-376 Part 1, 18.3.1.53), the longest text that a cell may hold is written, one sign more is refused with the place; so is a byte that is
// no UTF-8. A number goes out in digits that read back to its last bit, what is none leaves the cell empty.
func TestCellsGoOut(t *testing.T) {
	fresh := func() (*book, *page) {
		b := newBook(excelize.NewFile())
		p := &page{b: b, name: "S"}
		p.start(3, 0)
		return b, p
	}
	for s, want := range map[string]string{
		"a": `<t>a</t>`, " a": `<t xml:space="preserve"> a</t>`, "a ": `<t xml:space="preserve">a </t>`, "a\nb": `<t xml:space="preserve">a` + "\n" + `b</t>`, "\ta": `<t xml:space="preserve">` + "\ta</t>", "a b": `<t>a b</t>`, "!": `<t>!</t>`,
		"=1+1": `<t>=1+1</t>`, "<&>": `<t>&lt;&amp;&gt;</t>`, strings.Repeat("x", MaxCell): `<t>` + strings.Repeat("x", MaxCell) + `</t>`, strings.Repeat("é", MaxCell): `<t>` + strings.Repeat("é", MaxCell) + `</t>`,
	} {
		b, p := fresh()
		p.text(1, 4, s)
		p.end()
		if got := string(p.buf); got != `<row r="3"><c r="B3" s="4" t="inlineStr"><is>`+want+`</is></c></row>` || b.err != nil {
			t.Errorf("%.40q goes out as %.200s, %v", s, got, b.err)
		}
	}
	for s, want := range map[string]string{strings.Repeat("x", MaxCell+1): "S B3: the text has 32768 signs; a cell of a workbook holds 32767", strings.Repeat("😀", MaxCell/2+1): "S B3: the text has 32768 signs", "a\xffb": `S B3: the text "a\xffb" holds bytes that are no UTF-8`} {
		b, p := fresh()
		if p.text(1, 4, s); b.err == nil || !strings.Contains(b.err.Error(), want) {
			t.Errorf("%.20q: %v", s, b.err)
		}
		first := b.err
		if b.fail(fmt.Errorf("another")); b.err != first {
			t.Error("the first thing wrong is told")
		}
	}
	for x, want := range map[float64]string{0: "<v>0</v>", math.Copysign(0, -1): "<v>0</v>", 1.5: "<v>1.5</v>", -0.1: "<v>-0.1</v>", 1e-20: "<v>1E-20</v>", 1e21: "<v>1E+21</v>", 0.30000000000000004: "<v>0.30000000000000004</v>"} {
		_, p := fresh()
		p.number(0, 0, x)
		if got := string(p.buf); got != `<row r="3"><c r="A3">`+want+`</c>` {
			t.Errorf("%g goes out as %s", x, got)
		}
		_, p = fresh()
		p.formula(0, 2, "A1<B1", x)
		if got := string(p.buf); got != `<row r="3"><c r="A3" s="2"><f>A1&lt;B1</f>`+want+`</c>` {
			t.Errorf("%g goes out as %s", x, got)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		_, p := fresh()
		p.number(27, 1, x)
		p.formula(28, 1, "A1", x)
		p.formulaText(29, 0, `"<"`, "a&b")
		if got := string(p.buf); got != `<row r="3"><c r="AB3" s="1"/><c r="AC3" s="1"><f>A1</f></c><c r="AD3" t="str"><f>"&lt;"</f><v>a&amp;b</v></c>` {
			t.Errorf("%g goes out as %s", x, got)
		}
	}
	for _, c := range []struct {
		height float64
		text   string
		want   string
	}{{0, "short", ``}, {0, strings.Repeat("x", 10), ``}, {0, strings.Repeat("x", 11), ` ht="28" customHeight="1"`}, {0, strings.Repeat("x", 21), ` ht="41" customHeight="1"`}, {0, "a\nb", ` ht="28" customHeight="1"`}, {0, "a\n\n" + strings.Repeat("é", 20), ` ht="54" customHeight="1"`},
		{20, strings.Repeat("x", 90), ` ht="20" customHeight="1"`}, {0.5, "x", ` ht="0.5" customHeight="1"`}, {0, strings.Repeat("x", 5000), ` ht="392" customHeight="1"`}, {0, "data:" + strings.Repeat("x", 5000), ``}} {
		b := newBook(excelize.NewFile())
		p := &page{b: b, name: "S", grow: 1, widths: []float64{10.8, 10.8}}
		p.start(0, c.height)
		p.text(0, 0, c.text)
		p.text(1, 0, strings.Repeat("y", 400)) // of no column that rows grow with
		if p.end(); !bytes.HasPrefix(p.buf, []byte(`<row r="1"`+c.want+`>`)) || p.row != 1 {
			t.Errorf("%.30q of %g pt begins %.60s, want %q", c.text, c.height, p.buf, c.want)
		}
	}
}

// Sheets are printed over as many pages across as keep them legible: by hand, 190 signs a page less what is printed again on each.
func TestPagesAcross(t *testing.T) {
	many := func(n int, w float64) []float64 { return slices.Repeat([]float64{w}, n) }
	for _, c := range []struct {
		again  int
		widths []float64
		want   int
	}{{0, many(100, 10), 1}, {1, many(1, 10), 1}, {1, append([]float64{40}, many(15, 10)...), 1}, {1, append([]float64{40}, many(16, 10)...), 2}, {2, append([]float64{20, 20}, many(30, 10)...), 2}, {2, append([]float64{20, 20}, many(31, 10)...), 3},
		{1, append([]float64{40}, many(38, 2)...), 2}, {1, append([]float64{40}, many(37, 2)...), 1}, {1, append([]float64{186}, many(9, 5)...), 1}, {1, append([]float64{186}, many(10, 5)...), 2}, {1, append([]float64{2}, many(31, 6)...), 1}, {1, []float64{10, 1}, 1}} {
		l := layout{repeatCols: c.again}
		if got := l.pagesAcross(c.widths); got != c.want {
			t.Errorf("%d of %v: %d pages, want %d", c.again, c.widths, got, c.want)
		}
	}
	p := &page{}
	for _, c := range []struct {
		col, signs int
		most, want float64
	}{{1, 10, 40, 11.6}, {1, 5, 40, 11.6}, {1, 60, 40, 40}, {3, 2, 40, 3.6}} {
		if p.wide(c.col, c.signs, c.most); p.widths[c.col] != c.want || p.widths[0] != 0 {
			t.Errorf("%+v: %v", c, p.widths)
		}
	}
}

// A list whose columns nothing hangs on has nothing to watch: no formula over no conditions is written, which no program takes, and the State says that nothing is watched.
func TestNothingToWatch(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header, j.Machines.Rows = []string{"Machine", "Note", "our own"}, [][]string{{"P 1", "seen", "x"}}
	out, err := Write(j, work(t, j), Options{Live: true})
	if err != nil {
		t.Fatal(err)
	}
	for name, part := range partsOf(t, out) {
		if strings.Contains(part, "AND()") || strings.Contains(name, "/worksheets/") && strings.Contains(part, "<f></f>") {
			t.Errorf("%s: a formula over nothing", name)
		}
	}
	if got := states(rawSheet(t, out, "Results"))["P 1"]; got != "values; there is no line; not watched" {
		t.Errorf("State %q", got)
	}
}

package workbook

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/sentences"
	"shimsheet/internal/units"
)

// demoJob is the demo from its lists.
func demoJob(t testing.TB) *job.Job {
	t.Helper()
	j := job.NewJob()
	j.ID = "00112233445566778899aabbccddeeff"
	j.Revision, j.SavedAt = 1, "2026-04-12T07:30:00+02:00"
	for k, file := range map[job.SheetKind]string{job.MachinesSheet: "machines", job.ReadingsSheet: "readings", job.StockSheet: "stock", job.SettingsSheet: "job",
		job.GrowthSheet: "growth", job.FeetSheet: "feet", job.LimitsSheet: "limits", job.MaterialsSheet: "materials", job.ChecksSheet: "checks", job.RoundsSheet: "rounds", job.TrainsSheet: "trains", job.RecordSheet: "record"} {
		data, err := os.ReadFile("../../testdata/demo/" + file + ".csv")
		if err != nil {
			t.Fatal(err)
		}
		tab, _, err := job.ReadDelimited(k.String(), data, 0)
		if err != nil {
			t.Fatal(err)
		}
		tab.SplitHeader(k)
		j.SetTable(k, tab)
	}
	return j
}

func work(t testing.TB, j *job.Job) *sentences.Teller {
	t.Helper()
	e := sentences.New(j)
	if err := e.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	return e
}

func write(t testing.TB, j *job.Job, opts Options) []byte {
	t.Helper()
	out, err := Write(j, work(t, j), opts)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func mustRead(t testing.TB, data []byte, name string, c *Choices) (*job.Job, *Report) {
	t.Helper()
	j, r, err := Read(data, name, c)
	if err != nil {
		t.Fatal(err)
	}
	return j, r
}

// sameJob compares identity and every text of two jobs. Names, files and row numbers say where a table was read from, and are another file's.
func sameJob(t testing.TB, got, want *job.Job) {
	t.Helper()
	if got.ID != want.ID || got.Revision != want.Revision || got.SavedAt != want.SavedAt {
		t.Errorf("job %s %d %q, want %s %d %q", got.ID, got.Revision, got.SavedAt, want.ID, want.Revision, want.SavedAt)
	}
	for k := range job.SettingsSheet + 1 {
		g, w := got.Table(k), want.Table(k)
		if (g == nil) != (w == nil) {
			t.Errorf("%v: there %v, want %v", k, g != nil, w != nil)
			continue
		}
		if g == nil {
			continue
		}
		sameRows(t, k.String()+" title", g.Title, w.Title)
		if (g.Header == nil) != (w.Header == nil) || !slices.Equal(g.Header, w.Header) {
			t.Errorf("%v header %q, want %q", k, g.Header, w.Header)
		}
		sameRows(t, k.String(), g.Rows, w.Rows)
	}
}

func sameRows(t testing.TB, what string, got, want [][]string) {
	t.Helper()
	if len(got) != len(want) {
		t.Errorf("%s: %d rows, want %d", what, len(got), len(want))
		return
	}
	for i := range want {
		if !slices.Equal(got[i], want[i]) {
			t.Errorf("%s, row %d: %q, want %q", what, i, got[i], want[i])
			return
		}
	}
}

var writeDemo = flag.Bool("write-demo", false, "write testdata/demo/job.xlsx anew")

// The demo's workbook is made of the demo's lists, and is not stale.
func TestDemoWorkbook(t *testing.T) {
	const path = "../../testdata/demo/job.xlsx"
	j := demoJob(t)
	want, err := WriteInputs(j, work(t, j))
	if err != nil {
		t.Fatal(err)
	}
	if *writeDemo {
		if err := os.WriteFile(path, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	// By parts: how they are packed is the compressor's affair.
	a, b := partsOf(t, got), partsOf(t, want)
	for n := range b {
		if a[n] != b[n] {
			t.Errorf("%s: part %s is stale; go test ./internal/workbook -run TestDemoWorkbook -write-demo", path, n)
		}
	}
	if len(a) != len(b) {
		t.Errorf("%s: %d parts, want %d", path, len(a), len(b))
	}
	back, _ := mustRead(t, got, "job.xlsx", nil)
	sameJob(t, back, j)
}

// The demo comes back text for text, and a second export is the first, byte for byte, from the job that came back too.
func TestRoundTripDemo(t *testing.T) {
	for _, live := range []bool{false, true} {
		j := demoJob(t)
		out := write(t, j, Options{Live: live})
		if again := write(t, j, Options{Live: live}); !bytes.Equal(out, again) {
			t.Error("a second export differs")
		}
		back, r := mustRead(t, out, "out.xlsx", nil)
		sameJob(t, back, j)
		if !r.Own {
			t.Error("our own export is not known again")
		}
		if second := write(t, back, Options{Live: live}); !bytes.Equal(out, second) {
			t.Error("an export of what came back differs")
		}
		for _, n := range r.Notices {
			if n.Severity != "note" {
				t.Errorf("reading our own export complains: %+v", n)
			}
		}
	}
}

// In the demo every coupling whose readings stand in columns of a method with formulas has them; the others say why not.
func TestLiveStates(t *testing.T) {
	rows := rawSheet(t, write(t, demoJob(t), Options{Live: true}), "Results")
	got := map[string]int{}
	for _, row := range rows {
		if n := len(row); n > 50 && row[0] != "Machine" && !strings.HasPrefix(row[0], "Columns whose") {
			s, _, _ := strings.Cut(row[n-1], ",")
			got[s]++
		}
	}
	want := map[string]int{"formulas": 14, "values; the readings stand on the Rounds sheet": 1, "formulas; fixed in the formulas": 3, "values; formulas are written for reverse indicator": 1, "values; the wanted line rests on the Growth sheet or on a measured change": 3,
		"values; the readings do not stand in columns of the Machines sheet": 1, "values; the readings stand in one cell": 1, // Seen: two of the former
		"values; shims and moves are those of the train's plan": 2}
	if !maps.Equal(got, want) {
		t.Errorf("states %v, want %v", got, want)
	}
}

// Texts that have lost something in one workbook program or another.
var nasty = []string{"", " ", "0", "-0", "0.00", "-0.35", "+0.35", "00", "007", "1e3", "1E-5", ".5", "5.", "1/8", "10 1/8 in", "12.5 mil", "0,35", "1,234", "1.234,5", "−0.004", "12.5 mil", "=1+1", "+cmd|' /C calc'!A0",
	"-2+3", "@SUM(A1)", "'quoted", "\t tab", "two\nlines", "carriage\rreturn", "\r\n", "bell\x07", "nul\x00l", "_x0041_", "_x005F_", "_xZZZZ_", "&<>\"'", "]]>", "Größe µm ±", "日本語", "😀", "\ufffe", "\u2028", "\u00a0", "  both  ", "TRUE", "#DIV/0!",
	"2026-04-12", "0.1", "0.30000000000000004", "123456789012345678", "1.7976931348623157e308", "0.000001", "99999999999999.9", "1780 rpm", "45", "3.140", "-17.50", "12:30", "10 %", strings.Repeat("x", 400), "INF", "NaN"}

func randomText(r *rand.Rand) string {
	switch r.IntN(6) {
	case 0:
		return ""
	case 1, 2:
		return nasty[r.IntN(len(nasty))]
	case 3:
		return strconv.FormatFloat(math.Round(r.NormFloat64()*1e4)/1e2, 'f', r.IntN(5), 64)
	case 4:
		return strconv.FormatFloat(r.NormFloat64()*math.Pow(10, float64(r.IntN(30)-15)), 'g', -1, 64)
	}
	b := make([]rune, r.IntN(12))
	for i := range b {
		b[i] = rune(r.IntN(0x250))
	}
	return string(b)
}

func randomRows(r *rand.Rand, n int) [][]string {
	var rows [][]string
	for range n {
		if r.IntN(6) == 0 {
			rows = append(rows, nil)
			continue
		}
		row := make([]string, r.IntN(9))
		for c := range row {
			row[c] = randomText(r)
		}
		if len(row) == 0 {
			row = nil
		}
		rows = append(rows, row)
	}
	return rows
}

// randomJob is a job of arbitrary texts under some known and some unknown names.
func randomJob(r *rand.Rand) *job.Job {
	j := job.NewJob()
	j.Revision = r.IntN(100)
	if r.IntN(2) == 0 {
		j.SavedAt = "2026-04-12T07:30:00Z"
	}
	cols := job.Columns()
	table := func(k job.SheetKind) *job.Table {
		t := &job.Table{Name: k.String(), FirstRow: 1}
		if r.IntN(8) > 0 || k == job.MachinesSheet {
			t.Title = randomRows(r, r.IntN(3))
			if len(t.Title) == 0 {
				t.Title = nil
			}
			t.Header = []string{}
			for range 3 + r.IntN(8) {
				h := cols[r.IntN(len(cols))].Name
				switch r.IntN(5) {
				case 0:
					h += " [" + []string{"mil", "mm", "in", "furlong", ""}[r.IntN(5)] + "]"
				case 1:
					h = randomText(r)
				}
				t.Header = append(t.Header, h)
			}
			t.FirstRow = len(t.Title) + 2
		}
		t.Rows = randomRows(r, r.IntN(12))
		return t
	}
	j.Machines = table(job.MachinesSheet)
	if r.IntN(2) == 0 {
		j.Readings = table(job.ReadingsSheet)
	}
	if r.IntN(2) == 0 {
		j.Stock = table(job.StockSheet)
	}
	if r.IntN(2) == 0 {
		j.Settings = table(job.SettingsSheet)
		j.Settings.Rows = append(j.Settings.Rows, []string{"Decimal sign", []string{"comma", "point", "either"}[r.IntN(3)]}, []string{"Units", []string{"inch", "metric"}[r.IntN(2)]},
			[]string{"Graduation", "0,01"}, []string{"Move step", "0.05"})
	}
	return j
}

// Any job comes back text for text from a workbook, whatever its cells hold.
func TestRoundTripRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 11))
	n := 50
	if os.Getenv("SHIMSHEET_LONG") != "" {
		n *= 10
	}
	for i := range n {
		j := randomJob(r)
		out := write(t, j, Options{Live: i%2 == 0})
		back, _, err := Read(out, "out.xlsx", nil)
		if err != nil {
			t.Fatalf("job %d: %v", i, err)
		}
		sameJob(t, back, j)
		if t.Failed() {
			b, _ := j.MarshalJSON()
			t.Fatalf("job %d: %s", i, b)
		}
	}
}

// Numbers go out and come back to the last bit, and excelize reads the same digits.
func TestNumbersExact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	b := newBook(excelize.NewFile())
	p := b.page("Numbers")
	var want []float64
	for i := range 2000 {
		x := math.Float64frombits(r.Uint64())
		if i%2 == 0 {
			x = r.NormFloat64()
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			x = 0.1
		}
		want = append(want, x)
		p.start(0, 0)
		p.number(0, 0, x)
		p.end()
	}
	p.finish(layout{})
	out, err := b.bytes(nil)
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sr := &sheetReader{}
	a, err := new(Reader).openArchive(out)
	if err != nil {
		t.Fatal(err)
	}
	w, err := a.workbook()
	if err != nil {
		t.Fatal(err)
	}
	data, err := a.part(w.sheets[1].part)
	if err != nil {
		t.Fatal(err)
	}
	g, err := sr.read(w.sheets[1].part, "Numbers", data)
	if err != nil {
		t.Fatal(err)
	}
	for i, x := range want {
		got, err := strconv.ParseFloat(g.rows[i][0], 64)
		if err != nil || math.Float64bits(got+0) != math.Float64bits(x+0) {
			t.Fatalf("number %d: %v came back as %q", i, x, g.rows[i][0])
		}
		raw, err := f.GetCellValue("Numbers", fmt.Sprintf("A%d", i+1), excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		if y, err := strconv.ParseFloat(raw, 64); err != nil || math.Abs(y-x) > 1e-14*math.Abs(x) {
			t.Fatalf("number %d: %v, excelize reads %q", i, x, raw)
		}
	}
}

// What goes out as a number is what comes back as the same text.
func TestAsNumber(t *testing.T) {
	for _, c := range []struct {
		s    string
		mark units.Decimal
		ok   bool
	}{{"0", units.Either, true}, {"0.00", units.Either, true}, {"-0.00", units.Either, false}, {"480", units.Either, true}, {"0.370", units.Point, true}, {"0,37", units.Comma, true},
		{"0,37", units.Either, false}, {"0.37", units.Comma, false}, {"+1", units.Either, false}, {"007", units.Either, false}, {".5", units.Either, false}, {"5.", units.Either, false},
		{"1e3", units.Either, false}, {"1 000", units.Either, false}, {"4 1/2 in", units.Either, false}, {"", units.Either, false}, {"-", units.Either, false},
		{"0.1234567890123", units.Either, true}, {"123456789012345678", units.Either, false}, {"=1", units.Either, false}} {
		x, d, ok := asNumber(c.s, c.mark)
		if ok != c.ok {
			t.Errorf("%q under %v: number %v, want %v", c.s, c.mark, ok, c.ok)
		}
		if ok && numberText(x, d, c.mark) != c.s {
			t.Errorf("%q comes back as %q", c.s, numberText(x, d, c.mark))
		}
	}
}

// A text that looks like a formula goes out as a text, in cells that are read back and in those worked out.
func TestNoFormulasFromTexts(t *testing.T) {
	j := job.NewJob()
	j.Machines.Header = []string{"Machine", "Note", "Speed"}
	j.Machines.Rows = [][]string{{"=1+1", "@SUM(A1)", "+5+5"}, {"-cmd", "=HYPERLINK(\"x\")", "=2"}}
	out := write(t, j, Options{Live: true})
	f, err := excelize.OpenReader(bytes.NewReader(out))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, s := range f.GetSheetList() {
		rows, err := f.GetRows(s)
		if err != nil {
			t.Fatal(err)
		}
		for r := range rows {
			for c := range rows[r] {
				// What watches the cells holds their texts in quotation marks, as texts.
				fm, _ := f.GetCellFormula(s, cellName(c, r+1))
				bare := regexp.MustCompile(`"(?:[^"]|"")*"`).ReplaceAllString(fm, "")
				if fm != "" && (!strings.HasPrefix(fm, "IF(") || strings.ContainsAny(bare, "@+\"") || strings.Contains(bare, "HYPERLINK") || strings.Contains(bare, "cmd")) {
					t.Errorf("%s %s holds the formula %q", s, cellName(c, r+1), fm)
				}
			}
		}
	}
	back, _ := mustRead(t, out, "x.xlsx", nil)
	sameJob(t, back, j)
}

// Cells that no workbook can hold are told by name, and nothing is written.
func TestWriteRefuses(t *testing.T) {
	for _, cell := range []string{strings.Repeat("a", MaxCell+1), "bad \xff byte"} {
		j := job.NewJob()
		j.Machines.Header = []string{"Machine"}
		j.Machines.Rows = [][]string{{cell}}
		if out, err := Write(j, work(t, j), Options{}); err == nil || out != nil || !strings.Contains(err.Error(), "Machines A2") {
			t.Errorf("%.20q: %v", cell, err)
		}
	}
	j := job.NewJob()
	j.Machines.Header = []string{"Machine"}
	j.Machines.Rows = make([][]string, MaxRows)
	if out, err := Write(j, work(t, j), Options{}); err == nil || out != nil || !strings.Contains(err.Error(), "as they are read") {
		t.Errorf("too many rows: %v", err)
	}
}

// The step shims of the demo's bent foot stand at the end of the pick list, and the order list says that they are not in it.
func TestStepShimsInTheLists(t *testing.T) {
	file := write(t, demoJob(t), Options{})
	pick := rawSheet(t, file, "Pick list")
	last := strings.Join(pick[len(pick)-1], "|")
	for _, want := range []string{"Workshop, air compressor motor", "rear 3", "step shims", "from the 3 o'clock edge: 0.05 mm over 75 %"} {
		if !strings.Contains(last, want) {
			t.Errorf("%q is not in %q", want, last)
		}
	}
	if order := rawSheet(t, file, "Order list"); !strings.Contains(order[1][0], "Bent feet that need step shims as well, cut to size and not counted here: 1.") {
		t.Error(order[1])
	}
}

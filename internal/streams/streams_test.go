package streams

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"unicode/utf8"

	"shimsheet/internal/calc"
	"shimsheet/internal/evaluate"
	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

// table reads a sheet of the demo.
func table(t testing.TB, k job.SheetKind, file string) *job.Table {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "demo", file))
	if err != nil {
		t.Fatal(err)
	}
	tab, _, err := job.ReadDelimited(k.String(), data, 0)
	if err != nil {
		t.Fatal(err)
	}
	tab.SplitHeader(k)
	return tab
}

// own leaves a list's own columns out, which a stream refuses, and numbers its rows as the lines of a stream are.
func own(tab *job.Table) {
	for c := len(tab.Header) - 1; c >= 0; c-- {
		if job.FindColumn(job.MachinesSheet, tab.Header[c]) == nil {
			tab.Header = slices.Delete(slices.Clone(tab.Header), c, c+1)
			for i, row := range tab.Rows {
				if c < len(row) {
					tab.Rows[i] = slices.Delete(row, c, c+1)
				}
			}
		}
	}
	tab.FirstRow = 1
}

// demo is the demo job, its Machines sheet numbered as the lines of a stream are.
func demo(t testing.TB) *job.Job {
	j := job.NewJob()
	for k, file := range map[job.SheetKind]string{job.MachinesSheet: "machines.csv", job.SettingsSheet: "job.csv", job.ReadingsSheet: "readings.csv", job.StockSheet: "stock.csv",
		job.GrowthSheet: "growth.csv", job.FeetSheet: "feet.csv", job.LimitsSheet: "limits.csv", job.MaterialsSheet: "materials.csv", job.ChecksSheet: "checks.csv"} {
		j.SetTable(k, table(t, k, file))
	}
	own(j.Machines)
	return j
}

// lines writes a table as objects: shuffled keys in any order, blank cells left out or null, and what is a number to JSON written as one now and then.
func lines(tab *job.Table, rng *rand.Rand, shuffled bool) string {
	var b strings.Builder
	for _, row := range tab.Rows {
		b.WriteByte('{')
		first := true
		order := rng.Perm(len(row))
		if !shuffled {
			slices.Sort(order)
		}
		for _, c := range order {
			cell, value := row[c], ""
			switch number := json.Valid([]byte(cell)) && regexp.MustCompile(`^-?[0-9]`).MatchString(cell); {
			case strings.TrimSpace(cell) == "" && rng.IntN(2) == 0:
				continue
			case strings.TrimSpace(cell) == "":
				value = "null"
			case number && rng.IntN(2) == 0:
				value = cell
			default:
				text, _ := json.Marshal(cell)
				value = string(text)
			}
			key, _ := json.Marshal(tab.Header[c])
			if !first {
				b.WriteString([]string{",", ", ", " ,\t"}[rng.IntN(3)])
			}
			first = false
			fmt.Fprintf(&b, "%s%s%s", key, []string{":", ": ", " : "}[rng.IntN(3)], value)
		}
		b.WriteString([]string{"}\n", "} \r\n"}[rng.IntN(2)])
	}
	return b.String()
}

var wholeJob = regexp.MustCompile(`(,"questions":\[.*\])?(,"whole_job":\[[^]]*\])?(,"line":\d+\})$`)

// run runs a stream and parts the answers.
func run(t testing.TB, in io.Reader, job *job.Job, workers int) ([]string, Report) {
	t.Helper()
	var out bytes.Buffer
	report, err := Run(context.Background(), in, &out, job, workers)
	if err != nil {
		t.Fatal(err)
	}
	if out.Len() == 0 {
		return nil, report
	}
	return strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n"), report
}

// TestAsCalc holds the answers against what the whole job gives, byte for byte: the demo with all its sheets, and a list with every fault of a cell.
func TestAsCalc(t *testing.T) {
	faults := job.NewJob()
	faults.Machines = table(t, job.MachinesSheet, "machines.csv")
	own(faults.Machines)
	rng := rand.New(rand.NewPCG(5, 6))
	for n := range 6 {
		for _, row := range faults.Machines.Rows[:len(faults.Machines.Rows)/(n+1)] {
			row = slices.Clone(row)
			row[0] += fmt.Sprintf(" again %d %d", n, rng.IntN(1e9))
			for range n {
				row[1+rng.IntN(len(row)-1)] = []string{"", "x", "1,234", "1e300", "-1", "5 furlong", "12,5", "\u00a0", "0:1 90", "\t"}[rng.IntN(10)]
			}
			faults.Machines.Rows = append(faults.Machines.Rows, row)
		}
	}
	for name, job := range map[string]*job.Job{"demo": demo(t), "faults": faults} {
		e := sentences.New(job)
		if err := e.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		var want []string
		verdicts := [4]int{}
		for i := range e.Len() {
			if r := e.Row(i); r.Kind == evaluate.MachineRow {
				want = append(want, strings.TrimSuffix(string(results.NewRows(e).Append(nil, i)), "}")+fmt.Sprintf(`,"line":%d}`, i+1))
				verdicts[r.Verdict]++
			}
		}
		for seed := range uint64(4) {
			in := lines(job.Machines, rand.New(rand.NewPCG(seed, 1)), seed > 1 && name == "demo") // faults are told in the order of the keys
			got, report := run(t, strings.NewReader(in), job, 1+int(seed))
			if len(got) != len(want) || report.Machines != len(want) || report.Verdicts != verdicts || report.Refused > 0 || len(report.Unnamed) > 0 {
				t.Fatalf("%s: %d answers and %+v; want %d and %v", name, len(got), report, len(want), verdicts)
			}
			for i := range want {
				if g := wholeJob.ReplaceAllString(got[i], "$3"); g != want[i] {
					t.Fatalf("%s, line %d:\n got %s\nwant %s", name, i+1, g, want[i])
				}
			}
		}
	}
}

// TestOrder has many lines, bad ones among them, come in order, whatever the pieces they are read in and whoever works them out.
func TestOrder(t *testing.T) {
	const n = 3000
	var in bytes.Buffer
	good := rows(1)
	for i := range n {
		if i%7 == 3 {
			in.WriteString("nonsense\n")
		} else {
			in.Write(good)
		}
	}
	want, _ := run(t, bytes.NewReader(in.Bytes()), job.NewJob(), 1)
	for name, r := range map[string]io.Reader{"whole": bytes.NewReader(in.Bytes()), "halves": iotest.HalfReader(bytes.NewReader(in.Bytes())),
		"pieces": &pieces{data: in.Bytes(), rng: rand.New(rand.NewPCG(8, 9))}, "with its end": iotest.DataErrReader(bytes.NewReader(in.Bytes()))} {
		got, report := run(t, r, job.NewJob(), 4)
		if !slices.Equal(got, want) || report.Lines != n || report.Refused != (n+3)/7 || report.FirstRefused != 4 {
			t.Errorf("%s: %d answers, %+v", name, len(got), report)
		}
	}
	for i, s := range want {
		var o struct{ Line int }
		if err := json.Unmarshal([]byte(s), &o); err != nil || o.Line != i+1 {
			t.Fatalf("answer %d is of line %d: %v", i+1, o.Line, err)
		}
	}
}

// pieces reads a few bytes at a time.
type pieces struct {
	data []byte
	rng  *rand.Rand
}

func (p *pieces) Read(b []byte) (int, error) {
	if len(p.data) == 0 {
		return 0, io.EOF
	}
	n := copy(b, p.data[:min(len(p.data), 1+p.rng.IntN(3000))])
	p.data = p.data[n:]
	return n, nil
}

// TestBadLines has each line that cannot be read answered in its place, by what it says, and the good ones around it computed.
func TestBadLines(t *testing.T) {
	good := strings.TrimSpace(string(rows(1)))
	for _, c := range []struct{ line, says string }{
		{"nonsense", "no JSON"}, {`[{"Machine":"P 1"}]`, "array"}, {"[", "array"}, {`"text"`, "a text, not an object"}, {"12", "not an object"}, {"null", "not an object"},
		{`{"Machine":"P 1"`, "ends within"}, {`{"Machine":"P 1`, "ends within"}, {`{"Machine"`, "ends within"}, {`{"Machine":`, `"Machine": a value`}, {`{`, "ends within"},
		{`{"Machine":"P 1",}`, "key in quotation"}, {`{Machine:"P 1"}`, "key in quotation"}, {`{"Machine" "P 1"}`, "colon"}, {`{"Machine":"P 1" "Speed":1}`, "comma"},
		{`{"Machine":"P 1"} {}`, "behind the object"}, {`{"Machine":"P 1"},`, "behind the object"}, {"{\"Machine\":\"P\x011\"}", "control sign"}, {`{"Machine":"\x"}`, "backslash"},
		{`{"Machine":"\ud800"}`, "backslash"}, {`{"Machine":"\ud800\u0041"}`, "backslash"}, {"{\"Machine\":\"\xff\"}", "UTF-8"}, {"{\"Machine\":\"P\x00\"}", "control sign"},
		{`{"Speed":1e400}`, `"Speed": 1e400 is too large`}, {`{"Speed":` + strings.Repeat("9", 400) + `}`, "too large"}, {`{"Speed":-1E+999}`, "too large"},
		{`{"Speed":NaN}`, `"Speed": NaN`}, {`{"Speed":-Infinity}`, "Infinity"}, {`{"Speed":1,480}`, "key in quotation"}, {`{"Speed":01}`, "no number as JSON"}, {`{"Speed":+1}`, "no number as JSON"},
		{`{"Speed":.5}`, "no number as JSON"}, {`{"Speed":5.}`, "no number as JSON"}, {`{"Speed":1e}`, "no number as JSON"}, {`{"Speed":0x10}`, "no number as JSON"}, {`{"Speed":--1}`, "no number as JSON"},
		{`{"Speed":{"rpm":1480}}`, `"Speed": the value is an object`}, {`{"Further feet":[1,2]}`, `"Further feet": the value is an array`}, {`{"Machine":true}`, `"Machine": the value is true`},
		{`{"Speed":rpm}`, "no number as JSON"}, {`{"Speeed":1480}`, `"Speeed" is no column`}, {`{"":1}`, "no column"}, {`{"Speed [bar]":1}`, "[bar] is no unit"},
		{`{"Speed":1,"Speed":1}`, "stands twice"}, {`{"Speed":1,"speed [rpm]":1}`, "both the column Speed"}, {"{}", "nothing to compute"}, {`{"Note":"x"}`, "is no machine"},
		{`{"Machine":"Machine","Speed":"Speed"}`, "header"}, {`{"Machine":"` + strings.Repeat("x", MaxLine) + `"}`, "more than"}, {strings.Repeat("y", 3*chunk), "more than"},
		{`{"Machine":"` + strings.Repeat("x", 2*chunk) + `"}`, "more than"},
	} {
		job := job.NewJob()
		got, report := run(t, strings.NewReader(good+"\n \r\n"+c.line+"\n"+good), job, 2)
		if len(got) != 3 || report.Lines != 4 || report.Refused != 1 || report.FirstRefused != 3 || report.Whole() {
			t.Fatalf("%.60s: %d answers, %+v", c.line, len(got), report)
		}
		var o map[string]any
		if err := json.Unmarshal([]byte(got[1]), &o); err != nil || o["line"] != 3.0 || len(o) != 3 || o["hint"] == nil || !strings.Contains(fmt.Sprint(o["error"]), c.says) {
			t.Errorf("%.60s is answered with %.300s, want %q; %v", c.line, got[1], c.says, err)
		}
		if strings.ReplaceAll(strings.ReplaceAll(got[2], `"row":4`, `"row":1`), `"line":4`, `"line":1`) != got[0] {
			t.Errorf("%.60s: the line behind it is another\n%s\n%s", c.line, got[0], got[2])
		}
	}
}

// TestNumbers reads numbers of JSON with a point whatever the job's decimal sign is, and texts as that says.
func TestNumbers(t *testing.T) {
	j := job.NewJob()
	j.Settings = &job.Table{Rows: [][]string{{"Decimal sign", "comma"}, {"Header of Machines: our speed", "Speed [1/s]"}}}
	line := func(r3 string) string {
		return `{"Machine":1.5,"Method":"given line","Given offset V":` + r3 + `,"Given offset H":0,"Given slope V":0,"Given slope H":-1.25e-1,"our speed":24.5}`
	}
	got, report := run(t, strings.NewReader(line("1.234")+"\n"+line(`"1,234"`)+"\n"+line(`"1.234"`)+"\n"+line("0.30000000000000004")), j, 1)
	var o []struct {
		Machine  string
		Speed    float64 `json:"speed_rpm"`
		OffsetV  float64 `json:"offset_v_mm"`
		SlopeH   float64 `json:"slope_h"`
		Problems []any
	}
	if err := json.Unmarshal([]byte("["+strings.Join(got, ",")+"]"), &o); err != nil || report.Refused > 0 {
		t.Fatal(err, got)
	}
	for i, want := range []float64{1.234, 1.234, 1234, 0.30000000000000004} {
		if o[i].Machine != "1.5" || o[i].OffsetV != want || o[i].SlopeH != -0.125 || o[i].Speed != 1470 {
			t.Errorf("line %d: %+v, want the offset %v", i+1, o[i], want)
		}
	}
}

// TestCommas has a line with decimal commas in its texts: a text such as 1.200 is not guessed at, a JSON number is itself.
func TestCommas(t *testing.T) {
	line := `{"Machine":"P 1","Method":"given line","Given offset V":"0,35","Given offset H":0,"Given slope V":1.234,"Given slope H":%s}`
	got, _ := run(t, strings.NewReader(fmt.Sprintf(line+"\n"+line, "-1.200", `"1.200"`)), job.NewJob(), 1)
	if len(got) != 2 || !strings.Contains(got[0], `"offset_v_mm":0.35,`) || !strings.Contains(got[0], `"slope_v":1.234,`) || !strings.Contains(got[0], `"slope_h":-1.2,`) ||
		!strings.Contains(got[1], `"verdict":"not judged"`) || !strings.Contains(got[1], "1.200") {
		t.Errorf("got %s", got)
	}
}

// TestWholeJob has a line say what only the whole job could give it, and the report name the machines of other sheets that never came.
func TestWholeJob(t *testing.T) {
	job := demo(t)
	job.Growth, job.Checks, job.Readings = nil, nil, nil
	plain := strings.TrimSpace(string(rows(1)))
	got, report := run(t, strings.NewReader(plain+"\n"+strings.Replace(plain, "{", `{"Train":"A",`, 1)), job, 2)
	if len(got) != 2 || strings.Contains(got[0], "trains need") || !strings.Contains(got[0], `"whole_job":["sharing out`) || !strings.Contains(got[0], `"packs_from":"full box"`) ||
		!strings.Contains(got[1], `"whole_job":["trains need the whole job`) {
		t.Errorf("got %s", got)
	}
	if len(report.Unnamed) == 0 || report.Whole() || report.Unnamed[0].Sheet != "Feet" {
		t.Errorf("no word of machines that never came: %+v", report.Unnamed)
	}
	if _, all := run(t, strings.NewReader(lines(job.Machines, rand.New(rand.NewPCG(1, 1)), true)), job, 3); len(all.Unnamed) > 0 {
		t.Errorf("%v", all.Unnamed)
	}
}

// TestQuestions has a line ask about a number that is outside what is usual, as a job asks once a column. Seen: only the last line of one of the workers was asked about, in the report,
// so that the same lines ended with one status or another.
func TestQuestions(t *testing.T) {
	plain := strings.TrimSpace(string(rows(1)))
	odd := strings.Replace(plain, `"Coupling to front feet":420`, `"Coupling to front feet":42000`, 1)
	for range 4 {
		got, report := run(t, strings.NewReader(plain+"\n"+odd), job.NewJob(), 2)
		if len(got) != 2 || strings.Contains(got[0], "questions") || !strings.Contains(got[1], `"questions":[{"severity":"warning","sheet":"Machines","row":2,"column":"Coupling to front feet","text":"is \"42000\" right?`) {
			t.Fatalf("got %s", got)
		}
		if len(report.Unnamed) > 0 || !report.Whole() {
			t.Errorf("%+v", report)
		}
	}
}

// TestMark passes a byte order mark over.
func TestMark(t *testing.T) {
	for _, in := range []io.Reader{strings.NewReader("\xef\xbb\xbf" + string(rows(1))), iotest.OneByteReader(strings.NewReader("\xef\xbb\xbf" + string(rows(1))))} {
		if _, report := run(t, in, job.NewJob(), 1); !report.Whole() || report.Machines != 1 {
			t.Errorf("%+v", report)
		}
	}
}

// TestEnds has a stream end with its writer, its reader and its context, and answered as far as it came.
func TestEnds(t *testing.T) {
	broken := errors.New("broken")
	data := rows(2000)
	if _, err := Run(context.Background(), bytes.NewReader(data), failing{broken}, job.NewJob(), 2); err != broken {
		t.Errorf("a writer that fails gives %v", err)
	}
	var out bytes.Buffer
	report, err := Run(context.Background(), io.MultiReader(bytes.NewReader(data[:len(data)-20]), iotest.ErrReader(broken)), &out, job.NewJob(), 2)
	if err != broken || report.Machines != 1999 || bytes.Count(out.Bytes(), []byte("\n")) != 1999 {
		t.Errorf("a reader that fails gives %v, %+v", err, report)
	}
	ctx, cancel := context.WithCancel(context.Background())
	r, w := io.Pipe() // nobody ever writes the second line
	answers := make(chan string)
	ended := make(chan error)
	go func() {
		_, err := Run(ctx, r, handing{answers}, job.NewJob(), 2)
		ended <- err
	}()
	w.Write(rows(1))
	if a := <-answers; !strings.HasSuffix(a, `"line":1}`+"\n") {
		t.Errorf("got %s", a)
	}
	cancel()
	if err := <-ended; err != context.Canceled {
		t.Errorf("a stream that was cancelled ends with %v", err)
	}
	w.Close()
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

type handing struct{ to chan string }

func (h handing) Write(b []byte) (int, error) {
	h.to <- string(b)
	return len(b), nil
}

// endless gives the same lines again and again, and measures the heap in use after some of them.
type endless struct {
	data  []byte
	off   int
	left  int // times
	marks map[int]uint64
}

func (e *endless) Read(b []byte) (int, error) {
	if e.off == len(e.data) {
		e.off = 0
		e.left--
		for at := 0; ; { // names are never the same again
			n := bytes.Index(e.data[at:], []byte(`"Machine":"`))
			if n < 0 {
				break
			}
			at += n + len(`"Machine":"`)
			e.data[at], e.data[at+1] = 'A'+byte(e.left%26), 'A'+byte(e.left/26)
		}
		if _, ok := e.marks[e.left]; ok {
			runtime.GC()
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			e.marks[e.left] = m.HeapAlloc
		}
	}
	if e.left == 0 {
		return 0, io.EOF
	}
	n := copy(b[:min(len(b), 16<<10)], e.data[e.off:]) // as little on its way as through a pipe
	e.off += n
	return n, nil
}

// TestMemory holds the heap after 200,000 lines (40,000 in a hurry) to that after a tenth of them: names, keys and answers are not kept.
func TestMemory(t *testing.T) {
	const each = 1000
	times := 200
	if raceDetector || testing.Short() || runtime.GOARCH == "wasm" {
		times = 40
	}
	var data bytes.Buffer
	for i, l := range bytes.SplitAfter(rows(each), []byte("\n")) {
		if i%4 != 0 && len(l) > 0 { // most of them short, for the time it takes
			l = fmt.Appendf(nil, `{"Machine":"P-%d","Speed":1480,"Given offset V":0.01,"Given offset H":0,"Given slope V":0,"Given slope H":0}`+"\n", i)
		}
		data.Write(bytes.Replace(l, []byte("Speed"), []byte("Speed"[:5]+strings.Repeat(" ", i%50)), 1)) // keys in many spellings
		if i%10 == 0 {
			fmt.Fprintf(&data, `{"key %d":1}`+"\n", i)
		}
	}
	in := &endless{data: data.Bytes(), left: times, marks: map[int]uint64{times - times/10: 0, 0: 0}}
	report, err := Run(context.Background(), in, io.Discard, job.NewJob(), 2)
	if err != nil || report.Machines != each*times {
		t.Fatalf("%+v, %v", report, err)
	}
	const slack = 2 << 20 // of what is on its way at the time
	if early, late := in.marks[times-times/10], in.marks[0]; early == 0 || late > early+slack {
		t.Errorf("%d bytes are in use after %d lines, %d after a tenth of them", late, report.Lines, early)
	}
	if report.Verdicts[calc.NotJudged] > 0 {
		t.Errorf("%+v", report)
	}
}

// TestAllocations holds how many pieces of memory a row of a stream takes: 28.4 before, 26.5 since.
func TestAllocations(t *testing.T) {
	if raceDetector {
		t.Skip("the race detector allocates too")
	}
	pieces := func(n int) float64 {
		data, job := rows(n), job.NewJob()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		if r, err := Run(context.Background(), bytes.NewReader(data), io.Discard, job, 1); err != nil || r.Machines != n {
			t.Fatal(r, err)
		}
		runtime.ReadMemStats(&after)
		return float64(after.Mallocs - before.Mallocs)
	}
	if a := (pieces(2500) - pieces(500)) / 2000; a > 27 {
		t.Errorf("%.1f pieces a row", a)
	}
}

// FuzzMembers holds the reader of a line against the standard library's: what it takes is JSON and has the same members, and what it refuses is not a flat object of
// numbers and texts.
func FuzzMembers(f *testing.F) {
	for _, s := range []string{`{"a":1,"b":"x\u00e9\n"}`, `{"a":null}`, `{"a":-0.1e+5,"b":"\ud83d\ude00"}`, `{"a":{}}`, "{\"a\":\"\x7f\"}", `{"a":1}x`, ` { } `, `{"a":"\ud800"}`, "{\"\xff\":null}", `{"\ud800":null}`, "{\"\ufffd\":\"\xff\"}"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if strings.ContainsAny(s, "\n") {
			return
		}
		got := map[string]string{}
		twice := false
		bad := Members(s, func(key, text string, number bool) *evaluate.Refusal {
			_, again := got[key]
			twice = twice || again
			got[key] = text
			return nil
		})
		d := json.NewDecoder(strings.NewReader(s))
		d.UseNumber()
		var o map[string]any
		err := d.Decode(&o)
		whole := err == nil && o != nil && json.Valid([]byte(s))
		if bad == nil != (whole && flat(o, s)) {
			t.Fatalf("%q: refused with %v; the library reads %v, %v", s, bad, o, err)
		}
		for k, v := range o {
			if v != nil && bad == nil && !twice && got[k] != fmt.Sprint(v) {
				t.Fatalf("%q: %q is %q, want %v", s, k, got[k], v)
			}
		}
	})
}

// flat says whether an object is one of numbers, texts and nulls.
func flat(o map[string]any, s string) bool {
	if d := json.NewDecoder(strings.NewReader(s)); true { // a member that stands twice is in o once
		for depth := 0; ; {
			tok, err := d.Token()
			if err != nil {
				break
			}
			if delim, ok := tok.(json.Delim); ok {
				if depth++; depth > 2 || delim == '[' {
					return false
				}
			}
			if _, ok := tok.(bool); ok {
				return false
			}
		}
	}
	for k, v := range o {
		if n, ok := v.(json.Number); ok {
			if _, err := n.Float64(); err != nil {
				return false
			}
		}
		if text, _ := v.(string); strings.Contains(text+k, "\ufffd") { // the library puts it for bytes and escapes that are no character, under a null too
			return strings.Contains(s, "\ufffd") && utf8.ValidString(s)
		}
	}
	return true
}

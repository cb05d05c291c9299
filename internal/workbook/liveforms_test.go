package workbook

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"shimsheet/internal/job"
	"shimsheet/internal/results"
	"shimsheet/internal/sentences"
)

// formsRows are a job with a row of each way of measuring and of wanting a line that formulas are written for, each row with other numbers. No row has more than thirty inputs, since the engine
// that the tests ask knows no AND of more.
var formsRows = []string{
	"two rims|Method=two rims|Coupling to movable plane=140|Coupling to second plane=420|Movable rim 12=0|Movable rim 3=-0.17|Movable rim 6=-0.30|Movable rim 9=-0.13|Second rim 12=0|Second rim 3=-0.27|Second rim 6=-0.42|Second rim 9=-0.15|Second rim sag at 6=-0.03|Movable sag at 6=-0.02",
	"rim and face|Method=rim and face|Coupling to movable plane=90|Face diameter=210|Movable rim 12=0|Movable rim 3=0.11|Movable rim 6=0.24|Movable rim 9=0.13|Face 12=0|Face 3=0.05|Face 6=0.08|Face 9=0.03|Face sag at 6=-0.01",
	"back|Method=rim and face|Face side=back|Coupling to movable plane=95|Face diameter=220|Movable rim 12=0|Movable rim 3=0.12|Movable rim 6=0.22|Movable rim 9=0.10|Face 12=0|Face 3=0.06|Face 6=0.07|Face 9=0.01",
	"front|Method=rim and face|Face side=front|Coupling to movable plane=85|Face diameter=230|Movable rim 12=0|Movable rim 3=0.14|Movable rim 6=0.26|Movable rim 9=0.12|Face 12=0|Face 3=0.02|Face 6=0.05|Face 9=0.03",
	"stationary face|Method=rim and face|Coupling to stationary plane=80|Face diameter=200|Stationary rim 12=0|Stationary rim 3=0.15|Stationary rim 6=0.28|Stationary rim 9=0.13|Stationary face 12=0|Stationary face 3=0.03|Stationary face 6=0.07|Stationary face 9=0.04|Stationary face sag at 6=-0.02|Stationary sag at 6=-0.04",
	"straightedge|Method=straightedge and gap|Coupling to movable plane=70|Face diameter=180|Step 12=0.10|Step 3=0.05|Step 6=-0.12|Step 9=-0.07|Gap 12=3.05|Gap 3=3.02|Gap 6=3.00|Gap 9=3.03",
	"line|Method=line|Given offset V=0.12|Given offset H=-0.07|Given slope V=0.31|Given slope H=-0.22",
	"line by gaps|Method=line|Face diameter=240|Given offset V=0.11|Given offset H=-0.06|Given gap 12 minus 6=0.05|Given gap 3 minus 9=-0.04",
	"three|Method=reverse indicator|Coupling to stationary plane=100|Coupling to movable plane=140|Movable rim 12=0|Movable rim 3=-0.17|Movable rim 6=-0.31|Stationary rim 12=0|Stationary rim 3=0.11|Stationary rim 9=-0.02",
	"five|Method=reverse indicator|Coupling to stationary plane=110|Coupling to movable plane=150|Movable rim 12=0|Movable rim 3=-0.16|Movable rim 6=-0.29|Movable rim 9=-0.13|Movable rim 12 again=0.004|Stationary rim 12=0|Stationary rim 3=0.12|Stationary rim 6=0.13|Stationary rim 9=0.01|Stationary rim 12 again=0.003",
	"by tape|Method=reverse indicator|Coupling to front feet=|Stationary plane to movable plane=250|Coupling to movable plane=140|Movable plane to front feet=170|Movable rim 12=0|Movable rim 3=-0.15|Movable rim 6=-0.30|Movable rim 9=-0.15|Stationary rim 12=0|Stationary rim 3=0.10|Stationary rim 6=0.11|Stationary rim 9=0.01",
	"by tape too|Method=reverse indicator|Coupling to front feet=|Stationary plane to movable plane=260|Coupling to stationary plane=120|Movable plane to front feet=160|Movable rim 12=0|Movable rim 3=-0.14|Movable rim 6=-0.32|Movable rim 9=-0.18|Stationary rim 12=0|Stationary rim 3=0.09|Stationary rim 6=0.14|Stationary rim 9=0.05",
	"growth|Method=line|Given offset V=0.12|Given offset H=-0.07|Given slope V=0.31|Given slope H=-0.22|Stationary near support=180|Stationary far support=620|Growth movable front V=0.21|Growth movable rear V=0.17|Growth stationary near V=0.30|Growth stationary far V=0.36|Running offset V=0.02|Running slope V=0.05",
	"growth sideways|Method=line|Given offset V=0.11|Given offset H=-0.06|Given slope V=0.30|Given slope H=-0.21|Stationary near support=190|Stationary far support=630|Growth movable front H=0.03|Growth movable rear H=0.01|Growth stationary near H=-0.02|Growth stationary far H=-0.05|Running offset H=-0.01|Running slope H=0.04",
	"even growth|Method=line|Given offset V=0.13|Given offset H=-0.08|Given slope V=0.30|Given slope H=-0.21|Growth stationary near V=0.25|Growth stationary far V=0.25|Growth movable front V=0.14|Growth movable rear V=0.16",
	"cold setting|Method=line|Given offset V=0.14|Given offset H=-0.05|Given slope V=0.27|Given slope H=-0.18|Cold offset V=0.06|Cold offset H=0.02|Cold slope V=0.09|Cold slope H=-0.03",
	"own limits|Method=line|Given offset V=0.02|Given offset H=-0.01|Given slope V=0.03|Given slope H=-0.02|Offset limit=0.025|Slope limit=0.04",
	"one limit|Speed=|Method=line|Given offset V=0.12|Given offset H=-0.03|Given slope V=0.33|Given slope H=-0.21|Offset limit=0.2",
	"own slope limit|Coupling=spacer|Spacer length=350|Method=line|Given offset V=0.12|Given offset H=-0.03|Given slope V=0.33|Given slope H=-0.21|Slope limit=0.2",
	"joint|Coupling=universal|Spacer length=700|Method=line|Given offset V=12|Given offset H=-0.03|Given slope V=0.33|Given slope H=-0.21|Running slope V=0.4",
	"joint with an offset|Coupling=universal|Spacer length=650|Method=line|Given offset V=11|Given offset H=0.5|Given slope V=0.23|Given slope H=-0.31|Running offset V=10|Running offset H=1|Cold offset V=",
	"typed otherwise|Method=line|Given offset V=5 mil|Given offset H=-0.07|Given slope V=0.31|Given slope H=-0.22",
}

func formsJob(t testing.TB, inch bool) *job.Job {
	t.Helper()
	head := []string{"Machine", "Speed", "Coupling to front feet", "Front to rear feet", "Note"}
	at := map[string]int{}
	for k, h := range head {
		at[h] = k
	}
	var rows [][]string
	factor := map[job.Quantity]float64{}
	if inch {
		factor[job.QThickness], factor[job.QDistance] = 0.0254, 25.4
	}
	put := func(row []string, key, v string) []string {
		if _, ok := at[key]; !ok {
			at[key] = len(head)
			head = append(head, key)
		}
		for len(row) <= at[key] {
			row = append(row, "")
		}
		info := job.FindColumn(job.MachinesSheet, key)
		if info == nil {
			t.Fatal(key)
		}
		if f := factor[info.Quantity]; f != 0 {
			if x, err := strconv.ParseFloat(v, 64); err == nil {
				v = strconv.FormatFloat(math.Round(1e6*x/f)/1e6, 'f', -1, 64)
			}
		}
		row[at[key]] = v
		return row
	}
	for i, text := range formsRows {
		parts := strings.Split(text, "|")
		row := put(put(put(put(nil, "Machine", parts[0]), "Speed", "1480"), "Coupling to front feet", strconv.Itoa(300+7*i)), "Front to rear feet", strconv.Itoa(500+11*i))
		for _, p := range parts[1:] {
			k, v, _ := strings.Cut(p, "=")
			row = put(row, k, v)
		}
		rows = append(rows, row)
	}
	j := job.NewJob()
	units := "metric"
	if inch {
		units = "inch"
	}
	j.Machines = &job.Table{Name: "Machines", FirstRow: 2, Header: head, Rows: rows}
	j.Settings = &job.Table{Name: "Job", FirstRow: 2, Header: []string{"Name", "Value"}, Rows: [][]string{{"Units", units}, {"Cold temperature", "10"}}}
	j.Stock = &job.Table{Name: "Stock", FirstRow: 2, Header: []string{"Thickness [mm]", "Pieces on hand"}, Rows: [][]string{{"0.05", "100"}, {"0.1", "100"}, {"0.5", ""}}}
	return j
}

// machinesOf are the machines of a job's results in JSON, by name.
func machinesOf(t testing.TB, ev *sentences.Teller) map[string]map[string]any {
	t.Helper()
	var b bytes.Buffer
	if err := results.WriteJSON(&b, ev); err != nil {
		t.Fatal(err)
	}
	var doc struct{ Machines []map[string]any }
	if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
		t.Fatal(err)
	}
	by := map[string]map[string]any{}
	for _, m := range doc.Machines {
		by[m["machine"].(string)] = m
	}
	return by
}

// unnamed is a workbook without its defined names: the engine asked here looks through them at every step.
func unnamed(t testing.TB, book []byte) *excelize.File {
	t.Helper()
	f, err := excelize.OpenReader(bytes.NewReader(book))
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range f.GetDefinedName() {
		if err := f.DeleteDefinedName(&n); err != nil {
			t.Fatal(err)
		}
	}
	return f
}

// A workbook with formulas follows its Machines sheet: whatever number is typed there anew, the formulas, worked out by another engine (excelize), give what the program gives for a job with that number; and the State says that the
// verdict no longer belongs to it, on that row and no other.
func TestFormulasFollowTheInputs(t *testing.T) {
	if !worksFormulasOut(t) {
		t.Skip("this copy of the library is cut down for the page and works no formula out; the stock library's run asks this")
	}
	factor := map[string]float64{"mm": 1, "in": 25.4, "mil": 0.0254, "mm/m": 1, "mil/in": 1, "%": 1}
	for _, inch := range []bool{false, true} {
		j := formsJob(t, inch)
		ev := sentences.New(j)
		if err := ev.Run(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		out, err := Write(j, ev, Options{Live: true})
		if err != nil {
			t.Fatal(err)
		}
		f := unnamed(t, out)
		rows, err := f.GetRows("Results", excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		head, first := []string(nil), 0
		for n, row := range rows {
			if len(row) > 0 && row[0] == "Machine" {
				head, first = row, n+2
			}
		}
		numbers := 0
		// same holds the formulas of a row to the results of a machine.
		same := func(what string, n int, m map[string]any) {
			for c, h := range head {
				name, unit, _ := strings.Cut(strings.TrimSuffix(h, "]"), " [")
				at := cellName(c, n)
				if s, _ := f.GetCellFormula("Results", at); s == "" || h == "State of the formulas" {
					continue
				}
				got, err := f.CalcCellValue("Results", at, excelize.Options{RawCellValue: true})
				v, err2 := strconv.ParseFloat(got, 64)
				if err != nil || err2 != nil {
					t.Errorf("%s, %s: %q, %v", what, h, got, err)
					continue
				}
				for _, key := range jsonNames(name) {
					from := m
					if k, is := strings.CutPrefix(key, "limits."); is {
						from, key = m["limits"].(map[string]any), k
					}
					want, ok := from[key].(float64)
					if !ok || factor[unit] == 0 {
						continue
					}
					if numbers++; math.Abs(v-want/factor[unit]) > 1e-9*max(1, math.Abs(v)) {
						t.Errorf("%s, %s: the formula gives %s, the program %g", what, h, got, want/factor[unit])
					}
				}
			}
		}
		state := func(n int) string {
			for c, h := range head {
				if h == "State of the formulas" {
					got, err := f.CalcCellValue("Results", cellName(c, n))
					if err != nil {
						t.Fatalf("State in row %d: %v", n, err)
					}
					return got
				}
			}
			t.Fatal("no State")
			return ""
		}
		by := machinesOf(t, ev)
		for i := range j.Machines.Rows {
			name := j.Machines.Cell(i, 0)
			n := first + i
			if rows[n-1][0] != name {
				t.Fatalf("row %d is %q", n, rows[n-1][0])
			}
			if s := state(n); !strings.HasPrefix(s, "formulas") || strings.Contains(s, "fixed in the formulas, as typed with a unit: Given offset V") != (name == "typed otherwise") {
				t.Errorf("%s: %s", name, s)
			}
			same(name, n, by[name])
			// Each number of the row anew, all in one.
			was := append([]string{}, j.Machines.Rows[i]...)
			changedRow := append([]string{}, was...)
			for c, h := range j.Machines.Header {
				info := job.FindColumn(job.MachinesSheet, h)
				x, err := strconv.ParseFloat(was[min(c, len(was)-1)], 64)
				if c >= len(was) || err != nil || !numeric(info.Quantity) || info.Key == "speed" {
					continue
				}
				x = math.Round(1e6*x*(1+float64(c%7+1)/100)) / 1e6
				changedRow[c] = strconv.FormatFloat(x, 'f', -1, 64)
				if err := f.SetCellValue("Machines", cellName(c, 2+i), x); err != nil {
					t.Fatal(err)
				}
			}
			j.Machines.Rows[i] = changedRow
			anew := sentences.New(j)
			if err := anew.Run(context.Background(), nil); err != nil {
				t.Fatal(err)
			}
			same(name+" with other numbers", n, machinesOf(t, anew)[name])
			if s := state(n); s != changed {
				t.Errorf("%s with other numbers: %s", name, s)
			}
			if next := first + (i+1)%len(j.Machines.Rows); i%4 == 0 && strings.HasPrefix(state(next), "formulas") != (next > n) {
				t.Errorf("%s is changed, and the State of another row is %q", name, state(next))
			}
			j.Machines.Rows[i] = was
		}
		if numbers < 600 {
			t.Errorf("%d numbers were compared", numbers)
		}
	}
}

// Every single input that a row's results hang on is watched by its State: a number or a word that is another, a cell that is emptied, one that was blank and is filled; names and notes are not. What all rows hang on, headers and the
// other sheets, is watched for all of them: each cell, and rows added below.
func TestStateWatchesEachInput(t *testing.T) {
	if !worksFormulasOut(t) {
		t.Skip("this copy of the library is cut down for the page and works no formula out; the stock library's run asks this")
	}
	j := formsJob(t, false)
	j.Machines.Title = [][]string{{"Spring shutdown"}, {}}
	j.Machines.Rows = append([][]string{}, j.Machines.Rows[16], j.Machines.Rows[len(j.Machines.Rows)-1])
	j.Machines.Header = append(append([]string{}, j.Machines.Header...), "Train", "Stationary", "Side at 3", "Side at 9", "own words", "Verdict", "Further feet", "Movable sweep")
	j.Stock.Rows = append(j.Stock.Rows, nil, []string{"0.25 mm", "7"})
	j.Readings = &job.Table{Name: "Readings", FirstRow: 1, Rows: [][]string{{"Machine", "Sweep", "Angle", "Reading"}, {"nobody", "Movable rim", "0", "0.1"}}}
	j.Limits = &job.Table{Name: "Limits", FirstRow: 2, Header: []string{"Set", "Coupling", "Up to", "Offset", "Slope", "Source"}, Rows: [][]string{{"mine", "flexible", "3000", "0.06", "0.5", strings.Repeat("a long source, word by word ", 12)}}}
	ev := sentences.New(j)
	if err := ev.Run(context.Background(), nil); err != nil {
		t.Fatal(err)
	}
	out, err := Write(j, ev, Options{Live: true})
	if err != nil {
		t.Fatal(err)
	}
	f := unnamed(t, out)
	rows, err := f.GetRows("Results")
	if err != nil {
		t.Fatal(err)
	}
	col, first := -1, 0
	for n, row := range rows {
		if len(row) > 0 && row[0] == "Machine" {
			first = n + 2
			for c, h := range row {
				if h == "State of the formulas" {
					col = c
				}
			}
		}
		for c := range row {
			if s, _ := f.GetCellFormula("Results", cellName(c, n+1)); strings.Contains(s, "AND(") {
				if err := f.SetCellFormula("Results", cellName(c, n+1), andInParts(lengthsOneByOne.ReplaceAllStringFunc(s, oneByOne))); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	state := func(i int) string {
		got, err := f.CalcCellValue("Results", cellName(col, first+i))
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	// with changes a cell, asks, and puts it back.
	with := func(name, at string, v any, ask func()) {
		before, err := f.GetCellValue(name, at, excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(err)
		}
		kind, _ := f.GetCellType(name, at)
		if err := f.SetCellValue(name, at, v); err != nil {
			t.Fatal(err)
		}
		ask()
		var back any = before
		if x, err := strconv.ParseFloat(before, 64); err == nil && kind != excelize.CellTypeInlineString && kind != excelize.CellTypeSharedString {
			back = x
		}
		if before == "" {
			back = nil
		}
		if err := f.SetCellValue(name, at, back); err != nil {
			t.Fatal(err)
		}
	}
	still := func(i int) {
		if s := state(i); !strings.HasPrefix(s, "formulas") {
			t.Fatalf("row %d: %s", i, s)
		}
	}
	asked := 0
	// What all rows share is asked for by itself, further down.
	parts := map[string]string{}
	for c := range rows[first-3] {
		if s, _ := f.GetCellFormula("Results", cellName(c, first-2)); strings.HasPrefix(s, "IF(AND(") && c > col {
			parts[cellName(c, first-2)] = s
			if err := f.SetCellValue("Results", cellName(c, first-2), "same"); err != nil {
				t.Fatal(err)
			}
		}
	}
	if len(parts) == 0 {
		t.Fatal("no cell watches what all rows share")
	}
	for i := range j.Machines.Rows {
		still(i)
		for c, h := range j.Machines.Header {
			info := job.FindColumn(job.MachinesSheet, h)
			watched := info != nil && !info.Result && !map[string]bool{"machine": true, "train": true, "stationary": true, "side_3": true, "side_9": true, "note": true}[info.Key]
			now := j.Machines.Cell(i, c)
			list := []any{now + "x", ""}
			if x, err := strconv.ParseFloat(now, 64); err == nil {
				list[0] = x + 0.001
			}
			if now == "" {
				list = []any{[]any{0, "x"}[c%2]}
			}
			for _, v := range list {
				with("Machines", cellName(c, 4+i), v, func() {
					if got := state(i) == changed; got != watched {
						t.Errorf("%s, %s: %q becomes %v, changed: %v", j.Machines.Cell(i, 0), h, now, v, got)
					}
					asked++
				})
			}
		}
		still(i)
	}
	for at := range parts { // one that says otherwise is told on every row
		with("Results", at, "changed", func() {
			for i := range j.Machines.Rows {
				if state(i) != changed {
					t.Errorf("row %d does not hang on %s", i, at)
				}
			}
		})
	}
	for at, s := range parts {
		if err := f.SetCellFormula("Results", at, s); err != nil {
			t.Fatal(err)
		}
	}
	shared := func() string {
		for at := range parts {
			got, err := f.CalcCellValue("Results", at)
			if err != nil {
				t.Fatal(err)
			}
			if got != "same" {
				return got
			}
		}
		return "same"
	}
	if s := shared(); s != "same" {
		t.Fatal(s)
	}
	for c, h := range j.Machines.Header {
		if c > 6 && c%5 > 0 && job.FindColumn(job.MachinesSheet, h) != nil {
			continue // some of them
		}
		info := job.FindColumn(job.MachinesSheet, h)
		watched := info != nil && !info.Result && !map[string]bool{"machine": true, "train": true, "stationary": true, "side_3": true, "side_9": true, "note": true}[info.Key]
		with("Machines", cellName(c, 3), h+" [mil]", func() {
			if got := shared() == "changed"; got != watched {
				t.Errorf("the header %s: changed %v", h, got)
			}
		})
	}
	for _, k := range []job.SheetKind{job.SettingsSheet, job.StockSheet, job.ReadingsSheet, job.LimitsSheet} {
		tab := j.Table(k)
		top := len(tab.Title) + 1
		if tab.Header != nil {
			top++
		}
		for i, row := range tab.Rows {
			for c, s := range row {
				if s == "" {
					continue
				}
				list := []any{s + "x"}
				if x, err := strconv.ParseFloat(s, 64); err == nil {
					list = []any{x + 1}
				}
				for _, v := range list {
					with(k.String(), cellName(c, top+i), v, func() {
						if asked++; shared() != "changed" {
							t.Errorf("%v row %d: %q becomes %v", k, top+i, s, v)
						}
					})
				}
			}
		}
		for _, n := range []int{0, 1, 20} {
			with(k.String(), cellName(n%2, top+len(tab.Rows)+n), "more", func() {
				if asked++; shared() != "changed" {
					t.Errorf("%v: a row %d below is not told", k, n+1)
				}
			})
		}
	}
	if s := shared(); s != "same" {
		t.Error(s)
	}
	if asked < 180 {
		t.Error(asked)
	}
}

// lengthsOneByOne finds the lengths of a range of cells. The engine asked here takes LEN of a range for that of its first cell; other programs add all of them up.
var lengthsOneByOne = regexp.MustCompile(`SUMPRODUCT\(LEN\(([A-Za-z]+)!([A-Z]+[0-9]+):([A-Z]+[0-9]+)\)\)`)

// oneByOne is the same sum, written cell by cell.
func oneByOne(s string) string {
	m := lengthsOneByOne.FindStringSubmatch(s)
	c0, r0, _ := excelize.CellNameToCoordinates(m[2])
	c1, r1, _ := excelize.CellNameToCoordinates(m[3])
	var terms []string
	for r := r0; r <= r1; r++ {
		for c := c0; c <= c1; c++ {
			terms = append(terms, "LEN("+m[1]+"!"+cellName(c-1, r)+")")
		}
	}
	return "(" + strings.Join(terms, "+") + ")"
}

// andInParts writes each AND of more than twenty conditions as one of several: the engine asked here knows no more than thirty.
func andInParts(s string) string {
	at := strings.Index(s, "AND(")
	if at < 0 {
		return s
	}
	var args []string
	depth, from, in, end := 0, at+4, false, -1
	for i := at + 3; end < 0; i++ {
		switch c := s[i]; {
		case c == '"':
			in = !in
		case in:
		case c == '(':
			depth++
		case c == ')':
			if depth--; depth == 0 {
				args, end = append(args, s[from:i]), i
			}
		case c == ',' && depth == 1:
			args, from = append(args, s[from:i]), i+1
		}
	}
	for i := range args {
		args[i] = andInParts(args[i])
	}
	for len(args) > 20 {
		var parts []string
		for len(args) > 0 {
			n := min(20, len(args))
			parts, args = append(parts, "AND("+strings.Join(args[:n], ",")+")"), args[n:]
		}
		args = parts
	}
	return s[:at] + "AND(" + strings.Join(args, ",") + ")" + andInParts(s[end+1:])
}

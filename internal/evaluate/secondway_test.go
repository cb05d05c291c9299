package evaluate

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"shimsheet/internal/job"
	"shimsheet/internal/units"
	"shimsheet/internal/words"
)

// byName are the machines of a job's results in JSON, without what tells where a row stands.
func byName(t testing.TB, e *Evaluator) map[string]map[string]any {
	t.Helper()
	out := map[string]map[string]any{}
	for _, m := range machines(t, e) {
		delete(m, "sheet")
		delete(m, "problems")
		out[m["machine"].(string)] = withoutRows(m).(map[string]any)
	}
	return out
}

// withoutRows leaves out which rows of its sheet something came from.
func withoutRows(x any) any {
	switch x := x.(type) {
	case map[string]any:
		delete(x, "row")
		delete(x, "value_text") // as typed
		if s, ok := x["source"].(string); ok && strings.Contains(s, " row ") {
			delete(x, "source")
		}
		for _, v := range x {
			withoutRows(v)
		}
	case []any:
		for _, v := range x {
			withoutRows(v)
		}
	}
	return x
}

// A job given as records, names beside values, comes to what the same job comes to as lists: each machine's results are the same to the last bit, in whatever decimal sign the job is written. Seen: in a job with
// a decimal comma the value 0.06 of a check, given as a number, was not read, and the check stayed open.
func TestRecordsAreTheJob(t *testing.T) {
	for _, mark := range []string{"", "point", "comma"} {
		j := demoJob(t, false)
		j.Record = nil
		if mark != "" {
			j.Settings.Rows = append(j.Settings.Rows, []string{"Decimal sign", mark})
		}
		if mark == "comma" { // the lists as somebody would type them there; the records give numbers with a point
			for _, k := range job.SheetKinds() {
				if tab := j.Table(k); tab != nil {
					for _, row := range tab.Rows {
						for c, s := range row {
							if _, err := strconv.ParseFloat(s, 64); err == nil {
								row[c] = strings.Replace(s, ".", ",", 1)
							} else if tab == j.Settings || strings.Contains(s, " mil") || strings.Contains(s, ":") || strings.Contains(s, "+") || strings.HasSuffix(s, "%") || strings.HasSuffix(s, " in") || strings.HasSuffix(s, " mm") {
								row[c] = strings.ReplaceAll(s, ".", ",")
							}
						}
					}
				}
			}
		}
		var names, values []string
		var numbers []bool
		for _, row := range j.Settings.Rows {
			if job.FindColumn(job.SettingsSheet, row[0]) != nil {
				names, values, numbers = append(names, row[0]), append(values, row[1]), append(numbers, false)
			}
		}
		settings, refused := SettingsTable(names, values, numbers)
		if refused != nil {
			t.Fatal(refused)
		}
		r := NewRecords(settings)
		given := 0
		for _, k := range job.SheetKinds() {
			tab := j.Table(k)
			if tab == nil || k == job.SettingsSheet {
				continue
			}
			for _, row := range tab.Rows {
				if job.BlankRow(row) {
					continue
				}
				r.Begin(k)
				for c, h := range tab.Header {
					if c >= len(row) || job.Blank(row[c]) {
						continue
					}
					s := row[c]
					number := false
					if x := strings.Replace(s, ",", ".", 1); mark == "comma" {
						if _, err := strconv.ParseFloat(x, 64); err == nil {
							s, number = x, true
						}
					} else if _, err := strconv.ParseFloat(s, 64); err == nil {
						number = true
					}
					if refused := r.Set(h, s, number); refused != nil {
						t.Fatalf("%v, %s: %v", k, h, refused)
					}
					given++
				}
			}
		}
		a, b := byName(t, work(t, j)), byName(t, work(t, r.Job()))
		if len(a) != 26 || len(b) != 26 || given < 700 {
			t.Fatalf("%d machines, %d from %d cells of records", len(a), len(b), given)
		}
		for name, m := range a {
			if !reflect.DeepEqual(m, b[name]) {
				for k := range m {
					if !reflect.DeepEqual(m[k], b[name][k]) {
						t.Errorf("%q, %s: %s is %v, from records %v", mark, name, k, m[k], b[name][k])
					}
				}
			}
		}
	}
}

// What records and streams refuse, by what is wrong with a name.
func TestNamesRefused(t *testing.T) {
	own := &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Header of Machines: DE 12", "Movable rim 12 [mil]"}, {"Header of Stock: blade", "Thickness [mm]"}}}
	for _, c := range []struct {
		keys string
		says string // of the last one; "" all are taken
		hint string
	}{
		{"Machine|Speed [rpm]|n", `"Speed [rpm]" and "n"`, ""}, {"Machine|Machine", `"Machine"`, ""}, {"Speeed", `"Speeed"`, "Speed"}, {"no such thing", "no such thing", ""}, {"Speed [furlong]", "furlong", "rpm"}, {"Verdict|Verdict", "", ""}, {"Offset V [ell]", "", ""},
		{"DE 12|Machine", "", ""}, {"de 12|DE 12", "", ""}, {"Note [ell]", "", ""}, {"Movable rim 12 [mil]|DE 12", "", ""}, {"rpm|Movable rim 12 [mil]|Note", "", ""},
	} {
		var last [2]*Refusal
		r := NewRecords(own)
		r.Begin(job.MachinesSheet)
		f := NewFeed(&job.Job{Machines: &job.Table{}, Settings: own})
		f.Begin(1)
		keys := strings.Split(c.keys, "|")
		for i, k := range keys {
			for n, x := range [2]*Refusal{r.Set(k, strconv.Itoa(i+1), true), f.Set(k, strconv.Itoa(i+1), true)} {
				if last[n] == nil {
					last[n] = x
				}
			}
		}
		if c.keys == "Movable rim 12 [mil]|DE 12" || c.keys == "de 12|DE 12" { // one meaning, two names
			for n := range last {
				if last[n] == nil {
					t.Errorf("%s: taken by %d", c.keys, n)
				}
			}
			continue
		}
		for n, x := range last {
			if (x == nil) != (c.says == "") || x != nil && (!strings.Contains(x.Text.String(), strings.Split(c.says, " and ")[0]) || !strings.Contains(x.Hint.String(), c.hint) || x.Hint.Empty()) {
				t.Errorf("%s, %d: %+v, want %q", c.keys, n, x, c.says)
			}
		}
	}
	// The columns of a sheet are bounded, and so are its names.
	r := NewRecords(nil)
	r.Begin(job.MachinesSheet)
	for i := range MaxRecordColumns + 1 {
		if i > 0 {
			r.Begin(job.MachinesSheet)
		}
		refused := r.Set("Note"+strings.Repeat(" ", i%60)+strings.Repeat("-", i/60), "x", false)
		if (refused != nil) != (i == MaxRecordColumns) {
			t.Fatalf("name %d: %+v", i, refused)
		}
	}
	for _, c := range []struct {
		names []string
		says  string
	}{{[]string{"Units", "Site"}, ""}, {[]string{"Units", "unit system"}, "Units"}, {[]string{"Untis"}, "Untis"}, {[]string{"Cold temperature [ell]"}, "ell"}, {[]string{"Cold temperature [°F]"}, ""}, {[]string{"Header of Machines: A 1"}, ""}, {[]string{"Site [ell]"}, ""}} {
		values := make([]string, len(c.names))
		for i := range values {
			values[i] = map[bool]string{true: "Speed", false: "inch"}[strings.HasPrefix(c.names[i], "Header")]
		}
		tab, refused := SettingsTable(c.names, values, make([]bool, len(values)))
		if (refused == nil) != (c.says == "") || refused != nil && (!strings.Contains(refused.Text.String(), c.says) || refused.Hint.Empty()) || refused == nil && len(tab.Rows) != len(c.names) {
			t.Errorf("%q: %+v %+v", c.names, tab, refused)
		}
	}
	var doc map[string]any
	if b := AppendRefusal([]byte("x"), 12, &Refusal{words.Plain("a \"b\""), words.Plain("c")}); b[0] != 'x' || json.Unmarshal(b[1:], &doc) != nil || doc["line"] != 12.0 || doc["error"] != `a "b"` || doc["hint"] != "c" {
		t.Errorf("%s", b)
	}
}

// A number of JSON is written so that it is read as itself under each decimal sign.
func TestPointed(t *testing.T) {
	for _, c := range []struct {
		s    string
		mark units.Decimal
		want string
	}{{"1.5", units.Point, "1.5"}, {"1.5", units.Comma, "1,5"}, {"1.234", units.Commas, "1.2340"}, {"1.2345", units.Commas, "1.2345"}, {"1.23", units.Commas, "1.23"}, {"1.234e5", units.Commas, "1.2340e5"}, {"1234", units.Comma, "1234"}, {"1.234", units.Point, "1.234"}, {"1.234", units.Either, "1.234"}} {
		if got := pointed(c.s, c.mark); got != c.want {
			t.Errorf("%s: %s, want %s", c.s, got, c.want)
		}
	}
}

// A row that comes by itself is answered as the whole job answers it, with what the job would ask once a column beside it, and with what only the whole job can give.
func TestFeedIsTheJob(t *testing.T) {
	j := demoJob(t, true)
	settings := &job.Table{Name: "Job", FirstRow: 1, Rows: [][]string{{"Units", "metric"}, {"Cold temperature", "14 °C"}}}
	j.Settings = settings
	want := byName(t, work(t, j))
	f := NewFeed(&job.Job{Machines: &job.Table{}, Settings: settings})
	trains := 0
	for i, row := range j.Machines.Rows {
		f.Begin(i + 1)
		train := false
		for c, s := range row {
			if !job.Blank(s) {
				if refused := f.Set(j.Machines.Header[c], s, false); refused != nil {
					t.Fatal(refused)
				}
				train = train || j.Machines.Header[c] == "Train"
			}
		}
		b, done := answer(f, nil)
		var m map[string]any
		if done.Refused != nil || json.Unmarshal(b, &m) != nil {
			t.Fatalf("%+v %s", done, b)
		}
		if m["line"] != float64(i+1) {
			t.Errorf("line %v is %d", m["line"], i+1)
		}
		whole := fmt.Sprint(m["whole_job"])
		if strings.Contains(whole, words.ProblemFeedTrain.String()) != train || m["whole_job"] == nil && train {
			t.Errorf("%v: %s", m["machine"], whole)
		}
		if train {
			trains++
			continue
		}
		w := want[m["machine"].(string)]
		for _, k := range []string{"verdict", "why", "offset_v_mm", "offset_h_mm", "slope_v", "slope_h", "front_shim_mm", "rear_move_mm", "share_of_limit_pct"} {
			if !reflect.DeepEqual(m[k], w[k]) {
				t.Errorf("%v, %s: %v, in the job %v", m["machine"], k, m[k], w[k])
			}
		}
		if done.Verdict.String() != m["verdict"] {
			t.Errorf("%v: %v", m["machine"], done)
		}
	}
	if trains == 0 {
		t.Error("no trains")
	}
	for text, says := range map[string]string{"": words.ProblemFeedBlank.String(), "Machine": words.ProblemFeedHeader.String()} {
		f.Begin(3)
		if text != "" {
			for _, h := range []string{"Machine", "Speed", "Method", "Note"} {
				f.Set(h, h, false)
			}
		}
		if b, done := answer(f, []byte("x")); string(b) != "x" || done.Refused == nil || done.Refused.Text.String() != says || done.Refused.Hint.Empty() {
			t.Errorf("%s: %s %+v", text, b, done.Refused)
		}
	}
	f.Begin(9)
	f.Set("Machine", "P", false)
	f.Set("Speed", "90000", true)
	f.Set("Side at 3", "-", false)
	b, _ := answer(f, nil)
	var m map[string]any
	if json.Unmarshal(b, &m); m["questions"] == nil || !strings.Contains(fmt.Sprint(m["questions"]), "90000") {
		t.Errorf("%s", b)
	}
}

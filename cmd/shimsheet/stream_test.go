//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// ndjson is the list of the other tests as objects, a line each.
func ndjson(t *testing.T, rows ...string) string {
	t.Helper()
	keys := strings.Split(strings.TrimSpace(header), ",")
	var b strings.Builder
	for _, r := range rows {
		o := map[string]string{}
		for i, cell := range strings.SplitN(strings.ReplaceAll(strings.TrimSpace(r), `"12,5,0"`, "12;5;0"), ",", len(keys)) {
			o[keys[i]] = strings.ReplaceAll(cell, ";", ",")
		}
		line, err := json.Marshal(o)
		if err != nil {
			t.Fatal(err)
		}
		b.Write(append(line, '\n'))
	}
	return b.String()
}

// pipe runs the built command with a text on its standard input.
func pipe(t *testing.T, dir, in string, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	cmd := exec.Command(built, args...)
	cmd.Dir, cmd.Stdin, cmd.Stdout, cmd.Stderr = dir, strings.NewReader(in), &out, &errs
	if err := cmd.Run(); err != nil && cmd.ProcessState == nil {
		t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), out.String(), errs.String()
}

// TestStream runs streams through pipes and files, with each of the exit statuses.
func TestStream(t *testing.T) {
	growth := "Machine,Support,Rise\nP 1,front,0.05\nP 9,front,0.05\n"
	both := ndjson(t, good, good)
	dir := in(t, map[string]string{"list.ndjson": both, "list.jsonl": both, "list.csv": header + good, "growth.csv": growth, "job.csv": "Decimal,sideways\n", "empty.ndjson": "\n \n", "out.csv": "",
		"-": "kept"}) // Seen: where a file is called so, a stream from standard input to standard output refused to write over it
	for _, c := range []struct {
		name, in, args string
		status         int
		out, err       string // what they hold
		lines          int
	}{
		{"good", both, "calc - -from ndjson -o -", 0, `"line":2}`, "", 2},
		{"no -o", both, "calc - -from ndjson", 0, `"line":2}`, "", 2},
		{"file by its ending", "", "calc list.ndjson", 0, `"line":2}`, "", 2},
		{"file by -from", "", "calc list.jsonl -from ndjson -o -", 0, `"line":2}`, "", 2},
		{"file to file", "", "calc list.jsonl -o new.ndjson", 0, "", "", 0},
		{"a row not judged", ndjson(t, good, bad, good), "calc - -from ndjson -o -", 1, `"line":3}`, "standard input: rows not judged: 1 of 3", 3},
		{"a cell that cannot be read", ndjson(t, ugly), "calc - -from ndjson -o -", 1, `"row":1,"column":"Front to rear feet"`, "could not be given", 1},
		{"a bad line", both + "{\n" + both, "calc - -from ndjson -o -", 1, "{\"line\":3,\"error\":", "lines that were not read: 1 of 5, answered in their place; the first is line 3", 5},
		{"a machine that never comes", both, "calc - -from ndjson -o - -growth growth.csv", 1, `"line":2}`, `growth.csv: Growth row 3, Machine: "P 9" is not`, 2},
		{"a bad Job sheet", both, "calc - -from ndjson -o - -job job.csv", 1, `"line":2}`, "job.csv: Job row 1", 2},
		{"nothing", "", "calc - -from ndjson -o -", 2, "", "standard input: it holds no line", 0},
		{"blank lines", "", "calc empty.ndjson", 2, "", "empty.ndjson: it holds no line", 0},
		{"no such file", "", "calc none.ndjson", 2, "", "there is no such file", 0},
		{"no -from", both, "calc - -o -", 2, "", "say what comes on standard input", 0},
		{"another -from", both, "calc - -from xml", 2, "", "-from xml", 0},
		{"a list to lines", "", "calc list.csv -o out.ndjson", 2, "", "streams only", 0},
		{"lines to a list", "", "calc list.ndjson -o out.csv", 2, "", "a stream is written as .ndjson", 0},
		{"over itself", "", "calc list.ndjson -o list.ndjson", 2, "", "is not overwritten", 0},
		{"a list of the terminal", both, "calc - -from ndjson -list pick", 2, "", "want the whole job", 0},
	} {
		status, out, errs := pipe(t, dir, c.in, strings.Fields(c.args)...)
		if status != c.status || !strings.Contains(out, c.out) || !strings.Contains(errs, c.err) || c.err == "" && errs != "" || strings.Count(out, "\n") != c.lines {
			t.Errorf("%s: status %d, want %d\nout %s\nerr %s", c.name, status, c.status, out, errs)
		}
	}
	if data, err := os.ReadFile(filepath.Join(dir, dash)); err != nil || string(data) != "kept" {
		t.Errorf("the file called %s holds %s, %v", dash, data, err)
	}
	if data, err := os.ReadFile(filepath.Join(dir, "new.ndjson")); err != nil || bytes.Count(data, []byte("\n")) != 2 {
		t.Errorf("file to file wrote %s, %v", data, err)
	}
}

// TestStreamAsFile holds a stream against the JSON of the same list, but for the number of the row.
func TestStreamAsFile(t *testing.T) {
	dir := in(t, map[string]string{"list.csv": header + good + ugly})
	if status, _, errs := pipe(t, dir, "", "calc", "list.csv", "-o", "out.json"); status != 1 {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(filepath.Join(dir, "out.json"))
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Machines []map[string]any `json:"machines"`
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	_, out, _ := pipe(t, dir, ndjson(t, good, ugly), "calc", "-", "-from", "ndjson")
	for i, line := range strings.Split(strings.TrimSpace(out), "\n") {
		var got map[string]any
		if err := json.Unmarshal([]byte(line), &got); err != nil {
			t.Fatal(err)
		}
		want := doc.Machines[i]
		if got["line"] != float64(i+1) || want["row"] != float64(i+2) {
			t.Errorf("line %v, row %v", got["line"], want["row"])
		}
		delete(got, "line")
		for _, o := range []map[string]any{got, want} {
			delete(o, "row")
			for _, p := range o["problems"].([]any) {
				delete(p.(map[string]any), "row")
				delete(p.(map[string]any), "file")
			}
		}
		if fmt.Sprint(got) != fmt.Sprint(want) {
			t.Errorf("line %d\n got %v\nwant %v", i+1, got, want)
		}
	}
}

// TestStreamInShell runs the command as a step of a shell: a reader that has enough ends it without a word, and GNU parallel gives the same answers on two cores.
func TestStreamInShell(t *testing.T) {
	sh, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("there is no bash here; the pipelines were NOT run")
	}
	rows := ndjson(t, good, bad)
	dir := in(t, map[string]string{"list.ndjson": strings.Repeat(rows, 2000)})
	bash := func(script string) (string, string) {
		t.Helper()
		var out, errs bytes.Buffer
		cmd := exec.Command(sh, "-c", script)
		cmd.Dir, cmd.Stdout, cmd.Stderr = dir, &out, &errs
		cmd.Env = append(os.Environ(), "SHIMSHEET="+built, "PARALLEL_HOME="+dir)
		if err := cmd.Run(); err != nil {
			t.Fatalf("%s: %v\n%s", script, err, &errs)
		}
		return out.String(), errs.String()
	}
	if out, errs := bash(`"$SHIMSHEET" calc - -from ndjson -o - <list.ndjson | head -n 3`); strings.Count(out, "\n") != 3 || errs != "" {
		t.Errorf("head got %d lines, and standard error %q", strings.Count(out, "\n"), errs)
	}
	if _, err := exec.LookPath("parallel"); err != nil {
		const msg = "GNU parallel is not installed (scripts/setup.sh does); the step with it was NOT run"
		if os.Getenv("CI") != "" {
			t.Fatal(msg)
		}
		t.Skip(msg)
	}
	count := `sed 's/"row":[0-9]*,//g; s/,"line":[0-9]*}$/}/'` // lines are counted anew in each part
	one, _ := bash(`("$SHIMSHEET" calc - -from ndjson -o - <list.ndjson || test $? = 1) | ` + count)
	two, _ := bash(`(parallel --will-cite --pipe --keep-order --jobs 2 --block 200k "$SHIMSHEET" calc - -from ndjson -o - <list.ndjson || test $? -lt 101) | ` + count)
	if one != two || strings.Count(one, "\n") != 4000 {
		t.Errorf("parallel gives %d lines, one run %d, or others", strings.Count(two, "\n"), strings.Count(one, "\n"))
	}
}

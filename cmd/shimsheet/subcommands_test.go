package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
)

// asked runs the command in a directory.
func asked(t *testing.T, dir string, args ...string) (status int, out, errs string) {
	t.Helper()
	page := fstest.MapFS{pageFile: {Data: gz(t, "<!doctype html>"+jobMarker+"<p>page</html>")}}
	var o, e bytes.Buffer
	full := append([]string{}, args...)
	for i, a := range full {
		if i > 0 && strings.Contains(a, ".") && !strings.Contains(a, " ") && !strings.HasPrefix(a, "-") {
			full[i] = filepath.Join(dir, a)
		}
	}
	status = run(full, &o, &e, page)
	return status, o.String(), e.String()
}

// What is asked for in a way that can mean nothing, or two things, is refused with status 2, a line on standard error and nothing on standard output; no file is written. The sub-commands and their flags
// are those of usage.
func TestArgumentsThatCannotBe(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "n.csv": header + good, "s.ndjson": `{"Machine":"P 1"}` + "\n", "empty.csv": header})
	for _, c := range []struct{ args, errs string }{
		{"calc", "calc takes one file"}, {"calc m.csv n.csv", "calc takes one file"}, {"calc m.csv -o out.txt", "written are .xlsx, .json and .csv"}, {"calc m.csv -o out.json -live", "stand in workbooks only"},
		{"calc m.csv -o out.xlsx -addto", "-addto wants two workbooks of one kind"}, {"calc m.csv -history", "flag needs an argument"}, {"calc m.csv -list history", "-list history wants the older jobs"},
		{"calc s.ndjson -history m.csv", "-history wants the whole job"}, {"calc m.csv -history absent.csv", "there is no such file"}, {"calc empty.csv", "it holds no coupling"},
		{"calc m.csv -readings absent.csv", "there is no such file"}, {"calc m.txt.zip", "read are"}, {"calc m.csv -live", "are for workbooks"},
		{"verify", "verify takes one file"}, {"verify m.csv n.csv", "verify takes one file"}, {"verify absent.json", "there is no such file"}, {"verify m.csv -nothing", "flag provided but not defined"},
		{"record m.csv", "record takes one file, and -row"}, {"record m.csv -row 0", "record takes one file, and -row"}, {"record -row 1", "record takes one file, and -row"}, {"record m.csv -row 3", "nobody signs in row 3"},
		{"sign m.csv -by x -o out.json", "sign takes one file"}, {"sign m.csv -machine P1 -o out.json", "sign takes one file"}, {"sign m.csv -machine P1 -by x", "sign takes one file"},
		{"sign -machine P1 -by x -o out.json", "sign takes one file"}, {"sign m.csv -machine P1 -by x -o out.json", "m.csv: "}, {"sign m.csv -machine P1 -by x -row 3", "flag provided but not defined"},
		{"merge m.csv -o out.json", "merge takes two files"}, {"merge m.csv n.csv", "merge takes two files"}, {"merge m.csv absent.csv -o out.json", "there is no such file"}, {"merge m.csv n.csv -prefer o.csv -o out.json", "it is not one of the files"}, {"merge m.csv n.csv -o out.csv", ""}, {"merge m.csv n.csv -x", "flag provided"},
		{"stats", "stats takes a job"}, {"stats m.csv -o out.xlsx", "written are .csv, .json and .svg"}, {"stats m.csv absent.json", "there is no such file"}, {"stats m.csv -x", "flag provided"},
		{"cards", "cards takes one file"}, {"cards m.csv n.csv -o out.html", "cards takes one file"}, {"cards m.csv", "cards are written as .html"}, {"cards m.csv -o out.pdf", "cards are written as .html"},
		{"cards absent.csv -o out.html", "there is no such file"}, {"page -job absent.csv", "there is no such file"}, {"record absent.csv -row 1", "there is no such file"}, {"sign absent.csv -machine P1 -by x -o out.json", "there is no such file"}, {"cards m.csv -o out.html -paper a5", "the papers are a4 and letter"}, {"cards m.csv -o out.html -by train", "by area or by crew"}, {"cards m.csv -o out.html -machine nobody", "no machine to make a card of"}, {"cards m.csv -o out.html -x", "flag provided"},
		{"page m.csv", ""}, {"page -o out.pdf", "the page is written as .html"}, {"columns m.csv", "columns takes no"}, {"columns -x", "flag provided"}, {"serve m.csv", "serve takes no"}, {"serve -maxrows -1", "a limit is above 0"},
		{"serve -listen nowhere:1:2", ""}, {"frobnicate", `there is no command "frobnicate"`},
	} {
		status, out, errs := asked(t, dir, strings.Fields(c.args)...)
		if status != 2 || !strings.Contains(errs, c.errs) || errs == "" || out != "" {
			t.Errorf("%s: status %d, %q, on standard output %.80q; want 2 and %q", c.args, status, errs, out, c.errs)
		}
		if n := strings.Count(strings.TrimSpace(errs), "\n"); n > 0 && !strings.Contains(c.args, "sign") && !strings.Contains(c.args, "stats") {
			t.Errorf("%s: %d lines on standard error: %q", c.args, n+1, errs)
		}
		left, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		if len(left) != 4 {
			t.Fatalf("%s: something was written: %v", c.args, left)
		}
	}
	// Every command of usage is one that the refusal of an unknown one names: whoever mistypes learns of all. Seen: stats and cards were not named.
	_, _, errs := asked(t, dir, "frobnicate")
	for _, line := range strings.Split(usage(), "\n") {
		if f := strings.Fields(line); len(f) > 1 && f[0] == "shimsheet" && strings.HasPrefix(line, "  shimsheet") && !strings.Contains(errs, f[1]) {
			t.Errorf("%s is not named in %q", f[1], errs)
		}
	}
}

// What sign is told stands in the job it writes, each in its place, and what is not told is left blank but for the time; verify says whether it holds.
func TestSignSays(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good})
	if status, _, errs := asked(t, dir, "sign", "m.csv", "-machine", "P 1", "-by", "crew 7", "-role", "witness", "-at", "2026-04-12 16:40", "-note", "cold and wet", "-o", "a.json"); status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	row := func(file string) map[string]string {
		status, _, errs := asked(t, dir, "calc", file, "-o", "b.xlsx")
		if status != 0 {
			t.Fatal(errs)
		}
		j, _, err := (&sources{in: filepath.Join(dir, "b.xlsx")}).load()
		if err != nil {
			t.Fatal(err)
		}
		m := map[string]string{}
		for k, h := range j.Record.Header {
			m[h] = j.Record.Cell(len(j.Record.Rows)-1, k)
		}
		return m
	}
	got := row("a.json")
	for name, want := range map[string]string{"Machine": "P 1", "Signed by": "crew 7", "Role": "witness", "Signed at": "2026-04-12 16:40", "Note": "cold and wet"} {
		if got[name] != want {
			t.Errorf("%s: %q, want %q of %v", name, got[name], want, got)
		}
	}
	if len(got["Digest"]) != 64 || got["Result"] == "" {
		t.Errorf("%v", got)
	}
	if status, _, errs := asked(t, dir, "sign", "m.csv", "-machine", "P 1", "-by", "crew 7", "-o", "c.json"); status != 0 {
		t.Fatal(errs)
	}
	if got := row("c.json"); got["Note"] != "" || len(got["Signed at"]) != len("2026-04-12 16:40") || got["Signed by"] != "crew 7" {
		t.Errorf("%v", got)
	}
	if status, out, _ := asked(t, dir, "verify", "a.json"); status != 0 || !strings.Contains(out, "P 1: signed: crew 7, witness, 2026-04-12 16:40, digest "+got["Digest"]) || !strings.Contains(out, "all 1 signatures hold") {
		t.Errorf("%d %s", status, out)
	}
	data, err := os.ReadFile(filepath.Join(dir, "a.json"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	text = text[:strings.LastIndex(text, `,"length":`)] + "}"
	for what, spoiled := range map[string]string{"a reading": strings.Replace(text, `"-0.30"`, `"-0.31"`, 1), "the result": strings.Replace(text, "inside", "inside; found;", 1), "the digest": strings.Replace(text, got["Digest"], strings.Repeat("0", 64), 1)} {
		if spoiled == text && what == "the result" {
			continue
		}
		if spoiled == text {
			t.Fatalf("%s: nothing was spoiled", what)
		}
		if err := os.WriteFile(filepath.Join(dir, "d.json"), []byte(spoiled), 0o600); err != nil {
			t.Fatal(err)
		}
		if status, out, _ := asked(t, dir, "verify", "d.json"); status != 1 || !strings.Contains(out, "1 of 1 signatures do not hold") {
			t.Errorf("%s changed: status %d, %s", what, status, out)
		}
	}
}

// Standard error of calc has a line for each thing that is wrong, of the list, of the sheets beside it and of the rows, with file, sheet and row; the status is 1 as soon as one row is not judged, and 0 only
// where all are.
func TestCalcSaysWhatIsWrong(t *testing.T) {
	noLimit := "P 4,,100,100,300,500,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n"
	dir := in(t, map[string]string{"all.csv": header + good, "nolimit.csv": header + good + noLimit, "missing.csv": header + good + bad, "feet.csv": "Machine,Foot,Gap\nnobody,front 9,0.1\n", "r.csv": "Machine,Sweep,Angle,Reading\nP 1,Movable rim,0,x\n",
		"three.ndjson": `{"Machine":"P 1","Speed":1480}` + "\nno object\n" + `{"Machine":"P 2","Speed":1480}` + "\n"})
	for _, c := range []struct {
		args   []string
		status int
		errs   []string
		not    []string
	}{
		{[]string{"calc", "all.csv"}, 0, nil, []string{"row"}},
		{[]string{"calc", "nolimit.csv"}, 1, []string{"nolimit.csv: Machines row 3"}, []string{"row 2"}},
		{[]string{"calc", "missing.csv"}, 1, []string{"missing.csv: Machines row 3"}, []string{"row 2"}},
		{[]string{"calc", "all.csv", "-feet", "feet.csv"}, 1, []string{"Feet row 2", "nobody"}, nil},
		{[]string{"calc", "all.csv", "-readings", "r.csv"}, 1, []string{"Readings row 2"}, nil},
		{[]string{"calc", "three.ndjson"}, 1, []string{"lines that were not read: 1 of 3", "the first is line 2", "rows not judged: 2 of 2"}, nil},
	} {
		status, out, errs := asked(t, dir, c.args...)
		if status != c.status || out == "" {
			t.Errorf("%v: status %d, want %d: %s", c.args, status, c.status, errs)
		}
		for _, w := range c.errs {
			if !strings.Contains(errs, w) {
				t.Errorf("%v: no %q in %q", c.args, w, errs)
			}
		}
		for _, w := range c.not {
			if strings.Contains(errs, w) {
				t.Errorf("%v: %q in %q", c.args, w, errs)
			}
		}
	}
	// An older job adds its list behind the results, and nothing is said of history without one.
	if _, out, _ := asked(t, dir, "calc", "all.csv"); strings.Contains(out, "Since") {
		t.Errorf("%s", out)
	}
	if status, out, errs := asked(t, dir, "calc", "all.csv", "-history", "missing.csv"); status != 0 || !strings.Contains(out, "Since") || !strings.Contains(out, "1 coupling: ") {
		t.Errorf("%d %s %s", status, out, errs)
	}
}

// What merge did is said: what each file brought, by its name, and each question with what each file has.
func TestMergeSays(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "checks.csv": "Machine,Check,Value,Done\nP 1,final torque,,\n"})
	if status, _, errs := asked(t, dir, "sign", "m.csv", "-checks", "checks.csv", "-machine", "whole job", "-by", "crew 1", "-at", "2026-04-12 10:00", "-o", "a.json"); status != 0 {
		t.Fatal(errs)
	}
	data, err := os.ReadFile(filepath.Join(dir, "a.json"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	text = text[:strings.LastIndex(text, `,"length":`)] + "}"
	for name, value := range map[string]string{"base.json": "", "north.json": "95", "south.json": "90"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.Replace(text, `["P 1","final torque","",""]`, `["P 1","final torque","`+value+`",""]`, 1)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	status, out, _ := asked(t, dir, "merge", "base.json", "north.json", "-o", "one.json")
	if status != 0 || !strings.Contains(out, "north.json)") || !strings.Contains(out, "Checks, P 1") {
		t.Errorf("%d %s", status, out)
	}
	status, out, _ = asked(t, dir, "merge", "north.json", "south.json", "base.json", "-o", "two.json")
	for _, w := range []string{"Checks, P 1", ": ?", "north.json: ", "south.json: ", "95", "90", "nothing is written: 1 questions are open"} {
		if status != 1 || !strings.Contains(out, w) {
			t.Errorf("%d, no %q in %s", status, w, out)
		}
	}
	if _, err := os.Stat(filepath.Join(dir, "two.json")); err == nil {
		t.Error("it was written with a question open")
	}
	for _, prefer := range []string{"north.json", "south.json"} {
		status, out, _ = asked(t, dir, "merge", "north.json", "south.json", "base.json", "-prefer", prefer, "-o", "two.json")
		if status != 0 || !strings.Contains(out, prefer+" is taken") || strings.Contains(out, ": ?") {
			t.Errorf("%s: %d %s", prefer, status, out)
		}
	}
}

// A write that fails at any point leaves the old file as it was and nothing beside it, and says which file could not be written and why.
func TestWriteFails(t *testing.T) {
	dir := in(t, map[string]string{"old.json": "old"})
	name := filepath.Join(dir, "old.json")
	full := errors.New("no space left on device")
	if err := writeFile(name, func(w io.Writer) error { io.WriteString(w, "half"); return full }); !errors.Is(err, full) || !strings.Contains(err.Error(), "old.json: it could not be written") {
		t.Error(err)
	}
	for _, bad := range []string{filepath.Join(dir, "none", "x.json"), filepath.Join(name, "x.json"), dir} {
		if err := writeFile(bad, func(w io.Writer) error { return nil }); err == nil || !strings.Contains(err.Error(), "it could not be written") || strings.Contains(err.Error(), ".shimsheet-") {
			t.Errorf("%s: %v", bad, err)
		}
	}
	if err := os.Symlink("b.json", filepath.Join(dir, "a.json")); err == nil {
		if err := os.Symlink("a.json", filepath.Join(dir, "b.json")); err != nil {
			t.Fatal(err)
		}
		if err := writeFile(filepath.Join(dir, "a.json"), func(w io.Writer) error { return nil }); err == nil || !strings.Contains(err.Error(), "links lead in a circle") {
			t.Error(err)
		}
		os.Remove(filepath.Join(dir, "a.json"))
		os.Remove(filepath.Join(dir, "b.json"))
	}
	// The name is taken by a directory while the file is being written: nothing can take its place, and what was written goes.
	taken := filepath.Join(dir, "taken.json")
	if err := writeFile(taken, func(w io.Writer) error { return os.Mkdir(taken, 0o755) }); err == nil || !strings.Contains(err.Error(), "taken.json: it could not be written") {
		t.Error(err)
	}
	os.Remove(taken)
	left, err := os.ReadDir(dir)
	if err != nil || len(left) != 1 {
		t.Errorf("%v %v", left, err)
	}
	if data, _ := os.ReadFile(name); string(data) != "old" {
		t.Errorf("%q", data)
	}
	if err := os.Chmod(name, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := writeFile(name, func(w io.Writer) error { _, err := fmt.Fprint(w, "new"); return err }); err != nil {
		t.Fatal(err)
	}
	st, err := os.Stat(name)
	if data, _ := os.ReadFile(name); string(data) != "new" || err != nil || st.Mode().Perm() != 0o600 { // who may read it is as before
		t.Errorf("%q %v %v", data, st.Mode(), err)
	}
	if sameFile(name, filepath.Join(dir, "absent.json")) || sameFile(filepath.Join(dir, "absent.json"), name) || !sameFile(name, name) {
		t.Error("which files are one")
	}
}

// closed is an output that nobody reads any more.
type closed struct{ err error }

func (c closed) Write([]byte) (int, error) { return 0, c.err }

// Whoever reads the answers of a stream may have enough: that is no failure, whichever way the system says it. Another error of the output is.
func TestReaderHasEnough(t *testing.T) {
	dir := in(t, map[string]string{"in.ndjson": `{"Machine":"P 1"}` + "\n"})
	for _, c := range []struct {
		err    error
		status int
	}{{syscall.EPIPE, 0}, {io.ErrClosedPipe, 0}, {&os.PathError{Op: "write", Path: "x", Err: syscall.EPIPE}, 0}, {errors.New("no space left on device"), 2}} {
		var errs bytes.Buffer
		if status := run([]string{"calc", filepath.Join(dir, "in.ndjson"), "-o", "-"}, closed{c.err}, &errs, fstest.MapFS{}); status != c.status || (errs.Len() > 0) != (c.status > 0) {
			t.Errorf("%v: status %d, %q", c.err, status, errs.String())
		}
	}
}

// What is odd about a file beside the list, already while it is read, is said like what is odd about the list: with its name, and the status is no clean 0 where something meant may be lost.
func TestOddFilesBesideTheList(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "stock.csv": "Thickness,Note\n0.5,\xff\n0.25,\n", "feet.csv": "Machine,Foot,Gap,Note\nP 1,front 9,0.1,\xff\n"})
	for _, c := range [][2]string{{"-stock", "stock.csv"}, {"-feet", "feet.csv"}} {
		_, _, alone := asked(t, dir, "calc", "m.csv")
		_, _, errs := asked(t, dir, "calc", "m.csv", c[0], c[1])
		if alone != "" || !strings.Contains(errs, c[1]) {
			t.Errorf("%s: %q, without it %q", c[1], errs, alone)
		}
	}
}

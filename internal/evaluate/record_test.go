package evaluate

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"shimsheet/internal/job"
	"strings"
	"testing"
)

// signedJob is a job in which P-1 was signed for by the aligner.
func signedJob(t *testing.T) *job.Job {
	t.Helper()
	j := job.NewJob()
	with(t, j, job.MachinesSheet, recordMachines)
	with(t, j, job.FeetSheet, "Machine,Foot,Across,Gap,Pack in place\nP-1,front 9,-200,0,0.5\nP-1,front 3,200,0,0.5\nP-1,rear 9,-200,0,0.5\nP-1,rear 3,200,0,0.5\n")
	with(t, j, job.ChecksSheet, "Machine,Check,Value,Done\nP-1,isolation,,yes\nP-1,final torque,120,\nP-2,isolation,,yes\n")
	with(t, j, job.RecordSheet, "Machine,Instrument,Certificate,Due\nwhole job,dial indicator 4,C-77,2026-11-30\nP-1,feeler gauge 2,C-12,2026-10\n")
	e := NewEvaluator(j)
	tab, err := e.Sign(Signing{Machine: "P-1", Role: "aligner", By: "crew 2", At: "2026-04-12 16:40"})
	if err != nil {
		t.Fatal(err)
	}
	j.SetTable(job.RecordSheet, tab)
	return j
}

func state(t *testing.T, j *job.Job, i int) (string, *RowResult) {
	t.Helper()
	r := NewEvaluator(j).Row(i)
	return r.StateWord().String(), r
}

// The digest is what the program sha256sum says of the canonical text, and the text is what a program that knows nothing of this one writes by docs/record.md.
func TestDigestOutside(t *testing.T) {
	sum, err := exec.LookPath("sha256sum")
	if err != nil {
		t.Skip("there is no sha256sum here")
	}
	j := signedJob(t)
	e := NewEvaluator(j)
	row := j.Record.SourceRow(len(j.Record.Rows) - 1)
	text, ok := e.CanonicalText(row)
	if !ok {
		t.Fatal("there is no signature in the last row")
	}
	cmd := exec.Command(sum)
	cmd.Stdin = strings.NewReader(text)
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	digest, _, _ := strings.Cut(string(out), " ")
	r := e.Row(0)
	last := r.Record[len(r.Record)-1]
	//evidence: calc=digest of a signed record grade=independent count=1 source=GNU coreutils, sha256sum over the canonical text
	if last.Digest != digest || last.State != SignHolds || r.StateWord().String() != "signed" {
		t.Fatalf("sha256sum says %s of\n%s\nthe record %+v, state %s", digest, text, last, r.StateWord().String())
	}
	python, err := exec.LookPath("python3")
	if err != nil {
		t.Skip("there is no python3 here")
	}
	data, err := j.Seal()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "job.json")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	var bad bytes.Buffer
	cmd = exec.Command(python, "testdata/record.py", file)
	cmd.Stderr = &bad
	out, err = cmd.Output()
	if err != nil {
		t.Fatal(err, bad.String())
	}
	//evidence: calc=digest of a signed record grade=independent count=1 source=a program in Python written by docs/record.md alone, from the job's JSON (hashlib)
	if got := strings.TrimSpace(string(out)); got != "P-1 crew 2 "+digest+" holds" {
		t.Errorf("the other program says\n%s\nwant\n%s", got, "P-1 crew 2 "+digest+" holds")
	}
}

// Every cell of the machine's rows that changes shows; what does not concern it does not.
func TestChangedSinceSigned(t *testing.T) {
	change := func(k job.SheetKind, row, col int, text string) func(*job.Job) {
		return func(j *job.Job) {
			tab := j.Table(k)
			for len(tab.Rows[row]) <= col {
				tab.Rows[row] = append(tab.Rows[row], "")
			}
			tab.Rows[row][col] = text
		}
	}
	for _, c := range []struct {
		about string
		do    func(*job.Job)
		want  string
	}{
		{"nothing", func(*job.Job) {}, "signed"},
		{"another machine's reading", change(job.MachinesSheet, 1, 8, "0.4"), "signed"},
		{"the order of rows", func(j *job.Job) {
			r := j.Feet.Rows
			r[0], r[1], r[2], r[3] = r[3], r[2], r[1], r[0]
			j.Machines.Rows[0], j.Machines.Rows[1] = j.Machines.Rows[1], j.Machines.Rows[0]
		}, "signed"},
		{"a blank round a name", change(job.MachinesSheet, 0, 0, " P-1 "), "signed"},
		{"a reading", change(job.MachinesSheet, 0, 8, "0.012"), "changed since signed"},
		{"digits of a reading", change(job.MachinesSheet, 0, 8, "0.010"), "changed since signed"},
		{"a distance", change(job.MachinesSheet, 0, 5, "310"), "changed since signed"},
		{"a note", change(job.MachinesSheet, 0, 17, "another"), "changed since signed"},
		{"a pack", change(job.FeetSheet, 2, 4, "0.55"), "changed since signed"},
		{"a check", change(job.ChecksSheet, 1, 2, "110"), "changed since signed"},
		{"a check more", func(j *job.Job) { j.Checks.Rows = append(j.Checks.Rows, []string{"P-1", "guard", "", "yes"}) }, "changed since signed"},
		{"a round more", func(j *job.Job) { with(t, j, job.RoundsSheet, "Machine,Round,Movable rim 12\nP-1,1,0\n") }, "changed since signed"},
		{"an instrument of the machine", change(job.RecordSheet, 1, 2, "C-78"), "changed since signed"},
		{"an instrument of the job", change(job.RecordSheet, 0, 2, "C-78"), "signed"},
		{"the signer", change(job.RecordSheet, 2, 5, "crew 3"), "changed since signed"},
		{"the time", change(job.RecordSheet, 2, 6, "2026-04-13 16:40"), "changed since signed"},
		{"the digest", change(job.RecordSheet, 2, 13, strings.Repeat("0", 64)), "changed since signed"},
		{"a setting that changes the result", func(j *job.Job) { with(t, j, job.SettingsSheet, "Setting,Value\nUnits,inch\n") }, "changed since signed"},
		{"a setting that does not", func(j *job.Job) { with(t, j, job.SettingsSheet, "Setting,Value\nPeople,night shift\n") }, "signed"},
		{"a witness more", func(j *job.Job) {
			tab, err := NewEvaluator(j).Sign(Signing{Machine: "p-1", Role: "witness", By: "shift lead", At: "2026-04-12 17:00"})
			if err != nil {
				t.Fatal(err)
			}
			j.SetTable(job.RecordSheet, tab)
		}, "signed"},
		{"signed again after a change", func(j *job.Job) {
			j.Machines.Rows[0][8] = "0.012"
			tab, err := NewEvaluator(j).Sign(Signing{Machine: "P-1", Role: "aligner", By: "crew 2", At: "2026-04-13 09:00"})
			if err != nil {
				t.Fatal(err)
			}
			j.SetTable(job.RecordSheet, tab)
		}, "signed"},
		{"no digest", change(job.RecordSheet, 2, 13, ""), "found"},
	} {
		j := signedJob(t)
		h := map[string]int{}
		for n, s := range j.Record.Header {
			h[s] = n
		}
		if h["Signed by"] != 5 || h["Signed at"] != 6 || h["Digest"] != 13 {
			t.Fatal(j.Record.Header)
		}
		c.do(j)
		i := 0
		if c.about == "the order of rows" {
			i = 1
		}
		got, r := state(t, j, i)
		if got != c.want {
			t.Errorf("%s: %s, want %s: %+v", c.about, got, c.want, r.Record)
		}
		var b bytes.Buffer
		e := NewEvaluator(j)
		if err := e.ResultsJSON(&b); err != nil || !strings.Contains(b.String(), `"state":"`+c.want+`"`) {
			t.Errorf("%s: JSON says another state, %v", c.about, err)
		}
	}
}

// The whole job is signed for as well: everything but the stock and other signatures for the whole of it.
func TestWholeJob(t *testing.T) {
	j := signedJob(t)
	with(t, j, job.StockSheet, "Thickness,Pieces on hand\n0.5,20\n")
	tab, err := NewEvaluator(j).Sign(Signing{Machine: "Whole job", Role: "accepter", By: "planner", At: "2026-04-14 12:00"})
	if err != nil {
		t.Fatal(err)
	}
	j.SetTable(job.RecordSheet, tab)
	state := func() SignState {
		list := NewEvaluator(j).WholeRecord()
		return list[len(list)-1].State
	}
	if s := state(); s != SignHolds {
		t.Fatal(s)
	}
	j.Stock.Rows[0][1] = "10"
	if s := state(); s != SignHolds {
		t.Error("the stock counts:", s)
	}
	j.Machines.Rows[1][8] = "0.31"
	if s := state(); s != SignFailed {
		t.Error("a reading of any machine does not count:", s)
	}
}

func TestSignRefused(t *testing.T) {
	j := job.NewJob()
	with(t, j, job.MachinesSheet, "Machine,Speed\nP-1,1480\nP-2,1480\nP-2,990\n")
	for _, s := range []Signing{{Machine: "P-9", By: "a", At: "b"}, {Machine: "P-1", By: "", At: "b"}, {Machine: "P-1", By: "a", At: " "}, {Machine: "P-1", By: "a", At: "b"}} {
		if _, err := NewEvaluator(j).Sign(s); err == nil {
			t.Errorf("%+v may sign", s)
		}
	}
}

// A certificate that had run out when somebody signed, one that cannot be read, a deviation nobody allowed, hostile cells.
func TestRecordWarnings(t *testing.T) {
	j := signedJob(t)
	tell := func() (all string) {
		for _, p := range NewEvaluator(j).Problems() {
			all += p.Severity.String() + ": " + p.String() + "\n"
		}
		return all
	}
	if got := tell(); got != "" {
		t.Fatal("a sound record is told of:", got)
	}
	for _, c := range []struct{ column, text, want string }{
		{"Due", "2026-04-11", "warning: "}, {"Due", "2026-03", "warning: "}, {"Due", "03/04/2026", "no day that can be read in one way only"}, {"Due", "next year", "no day"}, {"Due", "12 Apr 2026", ""},
		{"Due", "2026-04", ""}, {"Deviation", "guard left off", "nobody who allowed it"}, {"Photo", "data:image/svg+xml;base64,PHN2Zz4=", "error: "}, {"Photo", "javascript:alert(1)", "error: "},
		{"Photo", "https://example.org/a.jpg", "error: "}, {"Signature", "pen: 1,1 9999,3", "error: "}, {"Signature", "<svg onload=x>", ""}, {"Digest", "abc", "error: "},
	} {
		j = signedJob(t)
		col := -1
		for n, h := range j.Record.Header {
			if h == c.column {
				col = n
			}
		}
		for len(j.Record.Rows[0]) <= col {
			j.Record.Rows[0] = append(j.Record.Rows[0], "")
		}
		j.Record.Rows[0][col] = c.text
		if got := tell(); (c.want == "") != (got == "") || !strings.Contains(got, c.want) {
			t.Errorf("%s %q: told is %q, want %q", c.column, c.text, got, c.want)
		}
	}
	j = signedJob(t)
	j.Record.Rows = j.Record.Rows[:2]
	e := NewEvaluator(j)
	e.SetToday("2026-12-01")
	if len(e.Problems()) != 2 {
		t.Error("run out today:", e.Problems())
	}
}

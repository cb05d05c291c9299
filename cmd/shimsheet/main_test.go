package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"shimsheet/internal/job"
)

const (
	header = "Machine,Speed,Coupling to stationary plane,Coupling to movable plane,Coupling to front feet,Front to rear feet," +
		"Movable rim 12,Movable rim 3,Movable rim 6,Movable rim 9,Stationary rim 12,Stationary rim 3,Stationary rim 6,Stationary rim 9\n"
	// Offset 0.10 and −0.04 mm, slope 0.5 and 0.2 mm/m.
	good = "P 1,1480,100,100,300,500,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n"
	bad  = "P 2,1480,100,,300,500,0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n"
	ugly = "P 3,1480,100,100,300,\"12,5,0\",0,-0.17,-0.30,-0.13,0,0.11,0.10,-0.01\n"
)

// in makes a directory with files.
func in(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for n, text := range files {
		if err := os.WriteFile(filepath.Join(dir, n), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// built builds the command once.
var built string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "shimsheet")
	if err != nil {
		panic(err)
	}
	if b := os.Getenv("MUTANT_COMMAND"); b != "" {
		built = b // with a fault in it, see internal/mutants
	} else if runtime.GOOS != "js" {
		built = filepath.Join(dir, "shimsheet")
		if runtime.GOOS == "windows" {
			built += ".exe"
		}
		if out, err := exec.Command("go", "build", "-o", built, ".").CombinedOutput(); err != nil {
			os.Stderr.Write(out)
			os.Exit(1)
		}
	}
	status := m.Run()
	os.RemoveAll(dir)
	os.Exit(status)
}

// start runs the built command in a directory; where programs cannot be started, its code.
func start(t *testing.T, dir string, args ...string) (status int, stdout, stderr string) {
	t.Helper()
	var out, errs bytes.Buffer
	if built == "" {
		for i, a := range args {
			if f := filepath.Join(dir, a); strings.Contains(a, ".") {
				args[i] = f
			}
		}
		status = run(args, &out, &errs, embedded)
		return status, out.String(), strings.ReplaceAll(errs.String(), dir+string(filepath.Separator), "")
	}
	cmd := exec.Command(built, args...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = dir, &out, &errs
	err := cmd.Run()
	if _, exited := err.(*exec.ExitError); err != nil && !exited {
		t.Fatal(err)
	}
	return cmd.ProcessState.ExitCode(), out.String(), errs.String()
}

func TestCalc(t *testing.T) {
	dir := in(t, map[string]string{
		"good.csv":     "Spring\n" + header + good,
		"some.csv":     header + good + bad + ugly + "P 1,,,,,,,,,,,,,\n",
		"tabs.tsv":     strings.ReplaceAll(header+good, ",", "\t"),
		"none.csv":     "a,b\n1,2\n",
		"empty.csv":    "",
		"only.csv":     header,
		"book.csv":     "PK\x03\x04",
		"old.xls":      "list",
		"list.xlsx":    "PK\x03\x04 and no more",
		"job.csv":      "Units,metric\nName,Spring\nGraduation,0.02\n",
		"badjob.csv":   "Units,metrical\n",
		"stock.csv":    "Thickness\n0.25\n0.5\n",
		"readings.csv": "Machine,Sweep,Angle,Reading\nP 1,Movable rim,0,0\nP 1,Movable rim,90,-0.17\nP 1,Movable rim,180,-0.30\nP 1,Stationary rim,0,0\nP 1,Stationary rim,90,0.11\nP 1,Stationary rim,180,0.10\n",
		"saved.json":   `{"format":"shimsheet job","version":1,"machines":{"header":` + quoted(header) + `,"rows":[` + quoted(good) + `]}}`,
		"newer.json":   `{"format":"shimsheet job","version":99}`,
	})
	for _, c := range []struct {
		args   string
		status int
		out    []string // parts of standard output
		errs   []string // lines of standard error, by their beginnings
	}{
		{"calc good.csv", 0, []string{"P 1      outside      0.108 ± ", "1 coupling: 0 inside, 1 outside"}, nil},
		{"calc tabs.tsv", 0, []string{"P 1      outside"}, nil},
		{"calc saved.json", 0, []string{"P 1      outside"}, []string{"saved.json: the job: warning: it has no checksum"}},
		{"calc some.csv", 1, []string{"P 1      outside", "P 2      not judged", "P 3      outside"}, []string{
			"some.csv: Machines row 3, Coupling to movable plane: missing (hint: write 0 if",
			`some.csv: Machines row 4, Front to rear feet: "12,5,0" `,
			"some.csv: Machines row 5, Machine: Machine P 1 stands in row 2 already",
			"some.csv: Machines row 5: no readings (hint: ",
			"some.csv: Machines row 5, Speed: Speed is missing, so there is no limit (hint: ",
			"some.csv: Machines row 5, Coupling to front feet: Coupling to front feet and Front to rear feet are missing",
		}},
		{"calc -job job.csv good.csv -stock stock.csv", 0, []string{"-0.25 ± 0.0"}, nil},
		{"calc good.csv -readings readings.csv", 0, []string{"P 1      outside      0.108 ± "}, []string{"good.csv: Machines row 3: warning: the Readings sheet has this machine"}},
		{"calc good.csv -job badjob.csv", 1, []string{"not judged"}, []string{`badjob.csv: Job row 1, Units: "metrical" is not one of the words`, "good.csv: Machines row 3: the Units of the Job sheet"}},
		{"calc none.csv", 2, nil, []string{"none.csv: Machines: no row with column names", "shimsheet: none.csv: it holds no coupling"}},
		{"calc empty.csv", 2, nil, []string{"shimsheet: empty.csv: it holds no coupling"}},
		{"calc only.csv", 2, nil, []string{"shimsheet: only.csv: it holds no coupling"}},
		{"calc book.csv", 2, nil, []string{"shimsheet: book.csv: this is a workbook, not a text table"}},
		{"calc list.xlsx", 2, nil, []string{"shimsheet: list.xlsx: the file is cut short or damaged"}},
		{"calc old.xls", 2, nil, []string{"shimsheet: old.xls: this is no workbook"}},
		{"calc good.csv -live", 2, nil, []string{"shimsheet: -live and -addto are for workbooks"}},
		{"calc good.csv -live -o out.csv", 2, nil, []string{"shimsheet: out.csv: formulas (-live) stand in workbooks only"}},
		{"calc good.csv -addto -o out.xlsx", 2, nil, []string{"shimsheet: out.xlsx: -addto wants two workbooks"}},
		{"calc absent.csv", 2, nil, []string{"shimsheet: absent.csv: there is no such file"}},
		{"calc good.csv -job absent.csv", 2, nil, []string{"shimsheet: absent.csv: there is no such file"}},
		{"calc newer.json", 2, nil, []string{"shimsheet: newer.json: this job was saved by a newer version"}},
		{"calc good.pdf", 2, nil, []string{"shimsheet: good.pdf: read are"}},
		{"calc good.csv -o out.ods", 2, nil, []string{"shimsheet: out.ods: written are .xlsx"}},
		{"calc good.csv -o out.pdf", 2, nil, []string{"shimsheet: out.pdf: written are"}},
		{"calc good.csv -o good.csv", 2, nil, []string{"shimsheet: good.csv: it is read here too"}},
		{"calc good.csv -o nowhere/out.csv", 2, nil, []string{"shimsheet: nowhere/out.csv: it could not be written"}},
		{"calc", 2, nil, []string{"shimsheet: calc takes one file"}},
		{"calc good.csv some.csv", 2, nil, []string{"shimsheet: calc takes one file"}},
		{"calc -x good.csv", 2, nil, []string{"shimsheet: flag provided but not defined: -x"}},
		{"align", 2, nil, []string{`shimsheet: there is no command "align"`}},
		{"", 2, nil, []string{"Usage:"}},
		{"help", 0, []string{"Usage:", "Exit status"}, nil},
		{"calc -h", 0, []string{"Usage:"}, nil},
		{"version", 0, []string{"shimsheet "}, nil},
		{"columns", 0, []string{"Coupling to front feet [mm, in]", "also: "}, nil},
		{"columns -markdown", 0, []string{"| Coupling to front feet |"}, nil},
		{"columns x", 2, nil, []string{"shimsheet: columns takes no x"}},
	} {
		status, out, errs := start(t, dir, strings.Fields(c.args)...)
		if status != c.status {
			t.Errorf("%s: status %d, want %d\n%s%s", c.args, status, c.status, out, errs)
		}
		for _, w := range c.out {
			if !strings.Contains(out, w) {
				t.Errorf("%s: no %q in\n%s", c.args, w, out)
			}
		}
		if c.status == 2 && out != "" {
			t.Errorf("%s: something was written:\n%s", c.args, out)
		}
		lines := strings.Split(strings.TrimSuffix(errs, "\n"), "\n")
		if errs == "" {
			lines = nil
		}
		if c.args != "" && len(lines) != len(c.errs) {
			t.Errorf("%s: %d lines on standard error, want %d:\n%s", c.args, len(lines), len(c.errs), errs)
		}
		for _, w := range c.errs {
			if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, w) }) {
				t.Errorf("%s: no line begins %q:\n%s", c.args, w, errs)
			}
		}
	}
}

func quoted(csv string) string {
	b, _ := json.Marshal(strings.Split(strings.TrimSpace(csv), ","))
	return string(b)
}

// The demo as a workbook gives what the demo's lists give, and the workbook written of it gives the same again.
func TestCalcWorkbooks(t *testing.T) {
	demo, err := filepath.Abs("../../testdata/demo")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	results := func(args ...string) []any {
		t.Helper()
		status, out, errs := start(t, dir, append(append([]string{"calc"}, args...), "-o", "r.json")...)
		if status != 1 || out != "" || !strings.Contains(errs, "Intake, raw water pump 2") && !strings.Contains(errs, "top + bottom") {
			t.Fatalf("%q: status %d\n%s%s", args, status, out, errs)
		}
		data, err := os.ReadFile(filepath.Join(dir, "r.json"))
		if err != nil {
			t.Fatal(err)
		}
		var doc struct{ Machines []any }
		if err := json.Unmarshal(data, &doc); err != nil {
			t.Fatal(err)
		}
		for _, m := range doc.Machines {
			for _, p := range m.(map[string]any)["problems"].([]any) {
				delete(p.(map[string]any), "file")
			}
		}
		return doc.Machines
	}
	list := func(name string) string { return filepath.Join(demo, name) }
	want := results(list("machines.csv"), "-job", list("job.csv"), "-readings", list("readings.csv"), "-stock", list("stock.csv"),
		"-growth", list("growth.csv"), "-feet", list("feet.csv"), "-limits", list("limits.csv"), "-materials", list("materials.csv"), "-checks", list("checks.csv"), "-rounds", list("rounds.csv"), "-trains", list("trains.csv"), "-record", list("record.csv"))
	if len(want) != 26 {
		t.Fatalf("%d couplings", len(want))
	}
	same := func(what string, got []any) {
		t.Helper()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s gives other results than the lists", what)
		}
	}
	same("the workbook", results(list("job.xlsx")))
	if status, _, errs := start(t, dir, "calc", list("job.xlsx"), "-live", "-o", "out.xlsx"); status != 1 {
		t.Fatal(status, errs)
	}
	same("the workbook written", results("out.xlsx"))
	if status, _, errs := start(t, dir, "calc", list("job.xlsx"), "-addto", "-o", "mine.xlsx"); status != 1 {
		t.Fatal(status, errs)
	}
	same("the workbook added to", results("mine.xlsx"))
	if status, _, errs := start(t, dir, "calc", "mine.xlsx", "-addto", "-o", "mine.xlsx"); status != 2 || !strings.Contains(errs, "it is read here too") {
		t.Error(status, errs)
	}
}

func TestCalcToFiles(t *testing.T) {
	dir := in(t, map[string]string{"some.csv": header + good + bad, "out.csv": "old"})
	if status, out, errs := start(t, dir, "calc", "some.csv", "-o", "out.json"); status != 1 || out != "" || errs == "" {
		t.Error(status, out, errs)
	}
	data, err := os.ReadFile(filepath.Join(dir, "out.json"))
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Job      struct{ Units string }
		Machines []map[string]any
	}
	if err := json.Unmarshal(data, &doc); err != nil {
		t.Fatal(err)
	}
	if doc.Job.Units != "metric" || len(doc.Machines) != 2 || doc.Machines[0]["row"] != 2.0 || doc.Machines[1]["offset_v_mm"] != nil {
		t.Errorf("%s", data)
	}
	// By hand: (0.15 + 0.05)/2; a sum of decimals, so to the last bits only.
	if v := doc.Machines[0]["offset_v_mm"].(float64); v < 0.1-1e-15 || v > 0.1+1e-15 {
		t.Error(v)
	}
	if status, _, _ := start(t, dir, "calc", "-o", "out.csv", "some.csv"); status != 1 {
		t.Error(status)
	}
	data, _ = os.ReadFile(filepath.Join(dir, "out.csv"))
	if !strings.HasPrefix(string(data), strings.TrimSuffix(header, "\n")+",Verdict,Why,Offset V [mm],± Offset V [mm]") || !strings.Contains(string(data), "\nP 2,1480,100,,300") {
		t.Errorf("%s", data)
	}
	left, _ := os.ReadDir(dir)
	if len(left) != 3 {
		t.Errorf("left behind: %v", left)
	}
}

func gz(t *testing.T, text string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write([]byte(text))
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestPage(t *testing.T) {
	dir := in(t, map[string]string{"list.csv": header + "</script><script>,1480\n"})
	page := "<!doctype html>" + jobMarker + "<p>page"
	files := func(data []byte) fs.FS { return fstest.MapFS{pageFile: {Data: data}} }
	call := func(f fs.FS, args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		status := run(append([]string{"page"}, args...), &out, &errs, f)
		return status, out.String(), errs.String()
	}
	if status, out, errs := call(files(gz(t, page))); status != 0 || out != page || errs != "" {
		t.Error(status, out, errs)
	}
	name := filepath.Join(dir, "out.html")
	if status, out, errs := call(files(gz(t, page)), "-job", filepath.Join(dir, "list.csv"), "-o", name); status != 0 || out != "" || errs != "" {
		t.Error(status, out, errs)
	}
	data, _ := os.ReadFile(name)
	body, opens := strings.CutPrefix(string(data), "<!doctype html>")
	first, body, there := strings.Cut(body, jobOpen)
	body, shuts := strings.CutSuffix(body, jobClose+"<p>page")
	if !opens || !there || !shuts || strings.Contains(body, "<") {
		t.Fatalf("%s", data)
	}
	// the first rows as text, which the page shows until its program is up: of this job, and nothing of a name is markup
	if want := `<section id="first" class="first-list" data-of="` + job.SealDigest([]byte(body)) + `">`; !strings.HasPrefix(first, want) || len(job.SealDigest([]byte(body))) != 64 ||
		!strings.Contains(first, "&lt;/script&gt;&lt;script&gt;") || strings.Contains(first, "script>") {
		t.Errorf("%s\nbegins otherwise than %s, or holds a script", first, want)
	}
	var j job.Job
	if err := json.Unmarshal([]byte(body), &j); err != nil || j.Machines.Cell(0, 0) != "</script><script>" {
		t.Error(err, j.Machines)
	}
	for what, f := range map[string]fs.FS{
		"built without the page": fstest.MapFS{"embedded/README.txt": {}},
		"damaged":                files([]byte("no gzip")),
		"damaged: unexpected":    files(gz(t, page)[:20]),
		"0 places":               files(gz(t, "nothing")),
		"2 places":               files(gz(t, page+page)),
	} {
		if status, out, errs := call(f, "-job", filepath.Join(dir, "list.csv")); status != 2 || out != "" || !strings.Contains(errs, what) {
			t.Errorf("%s: %d %q %q", what, status, out, errs)
		}
	}
	if status, _, errs := call(files(gz(t, page)), "list.csv"); status != 2 || !strings.Contains(errs, "page takes no list.csv") {
		t.Error(status, errs)
	}
}

// The command guesses at no header: it says what an unread column looks like, and reads what the Job sheet says.
func TestOwnHeaders(t *testing.T) {
	own := strings.NewReplacer("Movable rim ", "M ", "Stationary rim ", "S ", "Coupling to front feet", "Cplg-FF").Replace(header)
	job := "Name,Value\n"
	for _, h := range []string{"12", "3", "6", "9"} {
		job += "Header of Machines: M " + h + ",Movable rim " + h + "\nHeader of Machines: S " + h + ",Stationary rim " + h + "\n"
	}
	dir := in(t, map[string]string{"own.csv": own + good, "plain.csv": header + good, "job.csv": job + "Header of Machines: Cplg-FF,Coupling to front feet\n"})
	status, _, errs := start(t, dir, "calc", "own.csv")
	if status != exitSome || strings.Count(errs, "it looks like") != 9 || !strings.Contains(errs, "own.csv: Machines row 1, M 3: warning: the column is kept and not read; it looks like Movable rim 3 (") ||
		!strings.Contains(errs, "write a row `Header of Machines: Cplg-FF` with the value `Coupling to front feet` on the Job sheet") {
		t.Errorf("status %d\n%s", status, errs)
	}
	status, out, errs := start(t, dir, "calc", "own.csv", "-job", "job.csv")
	_, want, _ := start(t, dir, "calc", "plain.csv")
	if status != exitOK || errs != "" || out != want {
		t.Errorf("status %d\n%s%s", status, errs, out)
	}
	if _, _, errs := start(t, dir, "calc", "plain.csv"); errs != "" {
		t.Errorf("a known header is guessed at: %s", errs)
	}
}

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"testing/fstest"
	"time"

	"shimsheet/internal/sentences"
)

// Once `page -job my.xlsx -o my.xlsx` put a page in the place of the workbook. No output goes onto an input, whatever its name looks like.
func TestInputIsNotOverwritten(t *testing.T) {
	more := map[string]string{"job": "Units,metric\n", "readings": "Machine,Sweep,Angle,Reading\nP 1,Movable rim,0,0\n", "stock": "Thickness\n0.25\n", "growth": "Machine,Support\n",
		"feet": "Machine,Foot\n", "limits": "Set,Coupling\n", "materials": "Material,Coefficient\n", "checks": "Machine,Check\n", "rounds": "Machine,Round\n", "trains": "Train,Machine\n", "record": "Machine,Signed by\n"}
	files := map[string]string{"list.csv": header + good, "list.html": header + good}
	for n, text := range more {
		files[n+".csv"] = text
	}
	dir := in(t, files)
	refused := func(file, out string, args ...string) {
		t.Helper()
		before, err := os.ReadFile(filepath.Join(dir, file))
		if err != nil {
			t.Fatal(err)
		}
		status, stdout, errs := start(t, dir, append(args, "-o", out)...)
		after, _ := os.ReadFile(filepath.Join(dir, file))
		if status != 2 || stdout != "" || !strings.Contains(errs, "it is read here too and is not overwritten") || !bytes.Equal(before, after) {
			t.Errorf("%q -o %s: status %d, %q", args, out, status, errs)
		}
	}
	sub := filepath.Join(dir, "sub")
	if err := os.Mkdir(sub, 0o755); err != nil {
		t.Fatal(err)
	}
	names := map[string]string{"./list.csv": "list.csv", "sub/../list.csv": "list.csv", filepath.Join(dir, "list.csv"): "list.csv"}
	if runtime.GOOS != "windows" && runtime.GOOS != "js" {
		for _, err := range []error{os.Symlink("list.csv", filepath.Join(dir, "soft.csv")), os.Link(filepath.Join(dir, "list.csv"), filepath.Join(dir, "hard.csv")),
			os.Symlink("../list.csv", filepath.Join(sub, "soft.csv"))} {
			if err != nil {
				t.Fatal(err)
			}
		}
		names["soft.csv"], names["hard.csv"], names["sub/soft.csv"] = "list.csv", "list.csv", "list.csv"
	}
	for out, file := range names {
		refused(file, out, "calc", "list.csv")
	}
	for n := range more {
		refused(n+".csv", "./"+n+".csv", "calc", "list.csv", "-"+n, n+".csv")
	}
	refused("list.csv", "./list.csv", "page", "-job", "list.csv")
	if status, _, errs := start(t, dir, "page", "-o", "list.xlsx"); status != 2 || !strings.Contains(errs, "list.xlsx: the page is written as .html") {
		t.Error(status, errs)
	}
}

// Once an output by the name of a symbolic link took the link's place, and the file it led to stayed as it was.
func TestOutputThroughLinks(t *testing.T) {
	if runtime.GOOS == "windows" || runtime.GOOS == "js" {
		t.Skip("no symbolic links to count on")
	}
	dir := in(t, map[string]string{"list.csv": header + good})
	for _, err := range []error{os.MkdirAll(filepath.Join(dir, "deep/store"), 0o755), os.WriteFile(filepath.Join(dir, "deep/out.csv"), []byte("old"), 0o640),
		os.Symlink("deep/store", filepath.Join(dir, "there")), os.Symlink("../out.csv", filepath.Join(dir, "deep/store/one.csv")), os.Symlink("there/one.csv", filepath.Join(dir, "two.csv")),
		os.Symlink("deep/new.csv", filepath.Join(dir, "ahead.csv")), os.Symlink("round.csv", filepath.Join(dir, "round.csv"))} {
		if err != nil {
			t.Fatal(err)
		}
	}
	for link, file := range map[string]string{"two.csv": "deep/out.csv", "ahead.csv": "deep/new.csv"} {
		if status, _, errs := start(t, dir, "calc", "list.csv", "-o", link); status != 0 {
			t.Fatal(link, status, errs)
		}
		if st, err := os.Lstat(filepath.Join(dir, link)); err != nil || st.Mode()&os.ModeSymlink == 0 {
			t.Errorf("%s is no link any more", link)
		}
		if data, err := os.ReadFile(filepath.Join(dir, file)); err != nil || !bytes.Contains(data, []byte("P 1,1480")) {
			t.Errorf("%s: %v %s", file, err, data)
		}
	}
	if st, _ := os.Stat(filepath.Join(dir, "deep/out.csv")); st.Mode().Perm() != 0o640 {
		t.Error("mode", st.Mode())
	}
	if status, _, errs := start(t, dir, "calc", "list.csv", "-o", "round.csv"); status != 2 || !strings.Contains(errs, "its links lead in a circle") {
		t.Error(status, errs)
	}
	nothingLeft(t, dir)
}

// nothingLeft looks for files that were not put in their place.
func nothingLeft(t *testing.T, dir string) {
	t.Helper()
	filepath.WalkDir(dir, func(path string, _ os.DirEntry, err error) error {
		if strings.HasPrefix(filepath.Base(path), ".") {
			t.Errorf("left behind: %s", path)
		}
		return err
	})
}

// Once a termination while a workbook was written left the unfinished file beside the old one, and an interruption ended with status 2. The
// signal is sent when the unfinished file is seen, so it comes while writing.
func TestSignalsWhileWriting(t *testing.T) {
	if runtime.GOOS == "windows" || runtime.GOOS == "js" {
		t.Skip("signals are not sent here")
	}
	var list strings.Builder
	list.WriteString(header)
	for i := range 6000 {
		list.WriteString(strings.Replace(good, "P 1", fmt.Sprintf("P %d", i), 1))
	}
	dir := in(t, map[string]string{"list.csv": list.String(), "out.xlsx": "old"})
	// 1 is the terminal going away; syscall has no name for it everywhere this file is looked at.
	for sig, want := range map[syscall.Signal]int{syscall.SIGINT: 130, syscall.SIGTERM: 143, syscall.Signal(1): 129} {
		if signal.Ignored(sig) { // as under nohup: then it stays ignored, which is what should be
			continue
		}
		cmd := exec.Command(built, "calc", "list.csv", "-o", "out.xlsx")
		var errs bytes.Buffer
		cmd.Dir, cmd.Stderr = dir, &errs
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		seen := false
		for end := time.Now().Add(time.Minute); !seen && time.Now().Before(end); time.Sleep(time.Millisecond) {
			m, _ := filepath.Glob(filepath.Join(dir, ".shimsheet-*"))
			seen = len(m) > 0
		}
		if !seen {
			t.Fatal("no unfinished file came")
		}
		cmd.Process.Signal(sig)
		cmd.Wait()
		if got := cmd.ProcessState.ExitCode(); got != want || !strings.Contains(errs.String(), "shimsheet: stopped; nothing was written\n") {
			t.Errorf("%v: status %d, want %d: %s", sig, got, want, errs.String())
		}
		if data, err := os.ReadFile(filepath.Join(dir, "out.xlsx")); err != nil || string(data) != "old" {
			t.Errorf("%v: the old file is gone: %v", sig, err)
		}
		nothingLeft(t, dir)
	}
}

// Names of files and texts of cells once reached the terminal with their escape, direction and zero-width signs.
func TestNothingSteersTheTerminal(t *testing.T) {
	const evil = "\x1b[2J\u202eP\u200b1\x07\u009b31m\ufeff\u2066"
	dir := in(t, map[string]string{
		"tag.csv":    strings.ReplaceAll(header+good+strings.Replace(bad, "P 2", "\"P\u202e 2\n\x1b]0;x\"", 1), "P 1", evil),
		"head.csv":   "Machine,Moveable rim\x1b[1m 12,Speed\x1b\n" + evil + ",\x1b[31m,\u202e12\n",
		"broken.csv": "Machine,Speed\nP 1,\xff\x9b12\n",
	})
	names := [][]string{{"calc", "tag.csv"}, {"calc", "head.csv"}, {"calc", "broken.csv"}, {"calc", "no\x1b[31m\u202e\nshimsheet: all well.csv"}, {"calc", "x\x1b.pdf"}, {"\x1b[2J"}, {"calc", "-\x1b"},
		{"calc", "tag.csv", "-o", "\u202evil.pdf"}, {"page", "\x1bx"}, {"columns", "\x1bx"}, {"calc", "tag.csv", "-list", "pick"}, {"calc", "tag.csv", "-list", "\x1b"}}
	for _, args := range names {
		status, out, errs := start(t, dir, args...)
		for i, text := range []string{out, errs} {
			for _, line := range strings.Split(text, "\n") {
				if shown := sentences.Visible(line); shown != line {
					t.Errorf("%q: stream %d holds %q", args, i+1, line)
				}
			}
		}
		if status == 2 && strings.Count(errs, "\n") > 3 {
			t.Errorf("%q: a name broke the lines: %q", args, errs)
		}
	}
	_, out, _ := start(t, dir, "calc", "tag.csv")
	if !strings.Contains(out, `\x1b[2J\u202eP\u200b1`) {
		t.Errorf("the signs are not written out:\n%s", out)
	}
	_, _, errs := start(t, dir, "calc", "no\nshimsheet: all well.csv")
	if errs != `shimsheet: no\nshimsheet: all well.csv: there is no such file`+"\n" {
		t.Errorf("%q", errs)
	}
	var o, e bytes.Buffer
	if run([]string{"page", "-job", filepath.Join(dir, "broken\x1b.csv")}, &o, &e, fstest.MapFS{pageFile: {Data: gz(t, jobMarker)}}) != 2 || strings.Contains(e.String(), "\x1b") {
		t.Errorf("%q", e.String())
	}
}

package mutants

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// A Known fault was planted by hand once; the test that must notice it is named.
type Known struct {
	What, File, From, To string // File within the module
	Package, Test        string // Test is a regular expression
}

// ReadKnown reads faults from text: blocks of `key: value` lines parted by empty lines, lines that begin with # left out. A line that begins with "| " goes on with the value before.
func ReadKnown(text string) ([]Known, error) {
	var out []Known
	for _, block := range strings.Split(text, "\n\n") {
		var k Known
		var last *string
		var test string
		fields := map[string]*string{"what": &k.What, "file": &k.File, "from": &k.From, "to": &k.To, "test": &test}
		for line := range strings.Lines(block) {
			line = strings.TrimSuffix(line, "\n")
			if line == "" || line[0] == '#' {
				continue
			}
			if more, ok := strings.CutPrefix(line, "| "); ok && last != nil {
				*last += "\n" + more
				continue
			}
			key, value, ok := strings.Cut(line, ": ")
			if last = fields[key]; !ok || last == nil {
				return nil, fmt.Errorf("what is %q?", line)
			}
			*last = value
		}
		if k == (Known{}) && test == "" {
			continue
		}
		if k.Package, k.Test, _ = strings.Cut(test, " "); k.What == "" || k.File == "" || k.From == "" || k.Test == "" {
			return nil, fmt.Errorf("%q: something is missing", k.What)
		}
		out = append(out, k)
	}
	return out, nil
}

// text is the file with the fault in it. What the fault takes the place of stands there once, or it is an error.
func (k *Known) text(root string) ([]byte, error) {
	src, err := os.ReadFile(filepath.Join(root, k.File))
	if err != nil {
		return nil, err
	}
	if n := bytes.Count(src, []byte(k.From)); n != 1 {
		return nil, fmt.Errorf("%s: %q stands in %s %d times", k.What, k.From, k.File, n)
	}
	return bytes.Replace(src, []byte(k.From), []byte(k.To), 1), nil
}

// Try plants the fault, the files of the module at root left as they are, and returns the tests that failed. None: it lives.
func (k *Known) Try(root, tmp string) (failed []string, err error) {
	text, err := k.text(root)
	if err != nil {
		return nil, err
	}
	file, overlay := filepath.Join(tmp, "fault.go"), filepath.Join(tmp, "overlay.json")
	replace, err := json.Marshal(map[string]any{"Replace": map[string]string{filepath.Join(root, k.File): file}})
	if err != nil {
		return nil, err
	}
	for name, b := range map[string][]byte{file: text, overlay: replace} {
		if err := os.WriteFile(name, b, 0o644); err != nil {
			return nil, err
		}
	}
	c := exec.Command("go", "test", "-vet=off", "-short", "-overlay", overlay, "-run", k.Test, "./"+k.Package)
	c.Dir = root
	out, err := c.CombinedOutput()
	for line := range strings.Lines(string(out)) {
		if name, ok := strings.CutPrefix(line, "--- FAIL: "); ok {
			failed = append(failed, strings.Fields(name)[0])
		}
	}
	if len(failed) == 0 && (err != nil || bytes.Contains(out, []byte("no tests to run"))) {
		return nil, fmt.Errorf("%s: no test said anything:\n%s", k.What, out)
	}
	return failed, nil
}

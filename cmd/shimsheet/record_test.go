package main

import (
	"crypto/sha256"
	"encoding/hex"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What was signed goes through every form of a job and still holds; a changed digit in any of them does not; a file that cannot be read says so.
func TestSignAndVerify(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "r.csv": "Machine,Instrument,Certificate,Due,Photo\nwhole job,dial 4,C-77,2099-11,\n"})
	do := func(want int, args ...string) (out, errs string) {
		t.Helper()
		status, out, errs := start(t, dir, args...)
		if status != want {
			t.Fatalf("%v: exit status %d, want %d\n%s%s", args, status, want, out, errs)
		}
		return out, errs
	}
	name, _, _ := strings.Cut(good, ",")
	do(1, "verify", "m.csv") // nobody signed
	do(0, "sign", "m.csv", "-record", "r.csv", "-machine", name, "-by", "crew 2", "-role", "aligner", "-at", "2026-04-12 16:40", "-o", "a.json")
	do(0, "sign", "a.json", "-machine", name, "-by", "shift lead", "-role", "witness", "-at", "2026-04-12 17:00", "-o", "b.xlsx")
	do(0, "sign", "b.xlsx", "-machine", "whole job", "-by", "planner", "-role", "accepter", "-at", "2026-04-13 12:00", "-o", "c.json")
	for file, n := range map[string]string{"a.json": "all 1 signatures hold", "b.xlsx": "all 2 signatures hold", "c.json": "all 3 signatures hold"} {
		if out, _ := do(0, "verify", file); !strings.Contains(out, n) {
			t.Errorf("%s: %s", file, out)
		}
	}
	text, _ := do(0, "record", "c.json", "-row", "3")
	sum := sha256.Sum256([]byte(text))
	if out, _ := do(0, "verify", "c.json"); !strings.Contains(out, hex.EncodeToString(sum[:])) {
		t.Errorf("the text of row 3\n%s\nhas not the digest that stands there:\n%s", text, out)
	}
	do(0, "calc", "c.json", "-o", "d.xlsx")
	if out, _ := do(0, "verify", "d.xlsx"); !strings.Contains(out, "all 3 signatures hold") {
		t.Error("through a workbook:", out)
	}
	if out, _ := do(0, "calc", "c.json", "-o", "results.json"); out != "" {
		t.Error(out)
	}
	data, err := os.ReadFile(filepath.Join(dir, "c.json"))
	if err != nil {
		t.Fatal(err)
	}
	page := "<!doctype html><html>" + jobOpen + string(data) + jobClose + `<p id="part-end"></p></html>`
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	write("page.html", page)
	if out, _ := do(0, "verify", "page.html"); !strings.Contains(out, "all 3 signatures hold") {
		t.Error("in a page:", out)
	}
	write("cut.html", page[:len(page)/2])
	do(2, "verify", "cut.html")
	do(2, "verify", "none.json")
	do(2, "verify")
	i := strings.LastIndex(string(data), `,"length":`)
	open := string(data[:i]) + "}" // without its checksum: somebody wrote it with an editor
	write("e.json", strings.Replace(open, "crew 2", "crew 3", 1))
	if out, _ := do(1, "verify", "e.json"); !strings.Contains(out, "2 of 3 signatures do not hold") || !strings.Contains(out, "changed since signed: crew 3") {
		t.Error("the signer changed:", out)
	}
	write("f.json", strings.Replace(open, `"`+name+`","`, `"`+name+`","9`, 1))
	if out, _ := do(1, "verify", "f.json"); !strings.Contains(out, "do not hold") {
		t.Error("a cell of the machine changed:", out)
	}
	write("g.json", strings.Replace(string(data), "crew 2", "crew 3", 1))
	do(2, "verify", "g.json") // the file's own checksum says so first
	for _, args := range [][]string{{"sign", "a.json", "-by", "x", "-o", "h.json"}, {"sign", "a.json", "-machine", name, "-o", "h.json"}, {"sign", "a.json", "-machine", "no such", "-by", "x", "-o", "h.json"},
		{"sign", "a.json", "-machine", name, "-by", "x", "-o", "a.json"}, {"sign", "a.json", "-machine", name, "-by", "x", "-o", "h.txt"}, {"record", "a.json", "-row", "2"}, {"record", "a.json"}} {
		do(2, args...)
	}
}

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A saved page, a workbook and a job file that crews bring back are one job again; what two changed differently is told and nothing is written.
func TestMergeFiles(t *testing.T) {
	second := strings.Replace(good, "P 1,", "P 2,", 1)
	dir := in(t, map[string]string{"m.csv": header + good + second, "checks.csv": "Machine,Check,Value,Done\nP 1,final torque,,\nP 2,final torque,,\n"})
	do := func(want int, args ...string) string {
		t.Helper()
		status, out, errs := start(t, dir, args...)
		if status != want {
			t.Fatalf("%v: exit status %d, want %d\n%s%s", args, status, want, out, errs)
		}
		return out + errs
	}
	text := func(name string) string {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return string(data)
	}
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	do(0, "sign", "m.csv", "-checks", "checks.csv", "-machine", "P 1", "-by", "crew 1", "-at", "2026-04-12 10:00", "-o", "a.json")
	unsealed := text("a.json")
	unsealed = unsealed[:strings.LastIndex(unsealed, `,"length":`)] + "}"
	write("b.json", strings.Replace(unsealed, `["P 2","final torque","",""]`, `["P 2","final torque","120","yes"]`, 1))
	write("page.html", "<!doctype html><html>"+jobOpen+text("a.json")+jobClose+`<p id="part-end"></p></html>`)
	do(0, "sign", "b.json", "-machine", "P 2", "-by", "crew 2", "-at", "2026-04-12 11:00", "-o", "b.xlsx")
	out := do(0, "merge", "page.html", "b.xlsx", "-o", "all.json")
	if !strings.Contains(out, "Machines, P 1: taken as signed") {
		t.Error(out)
	}
	if got := do(0, "verify", "all.json"); !strings.Contains(got, "all 2 signatures hold") {
		t.Error(got)
	}
	if !strings.Contains(text("all.json"), `"120"`) {
		t.Error("what crew 2 filled in is gone")
	}
	write("c.json", strings.Replace(unsealed, `["P 2","final torque","",""]`, `["P 2","final torque","95","yes"]`, 1))
	write("d.json", strings.Replace(unsealed, `["P 2","final torque","",""]`, `["P 2","final torque","90","yes"]`, 1))
	out = do(1, "merge", "c.json", "d.json", "-o", "no.json")
	if !strings.Contains(out, "Value 95") || !strings.Contains(out, "Value 90") || !strings.Contains(out, "1 questions are open") {
		t.Error(out)
	}
	if _, err := os.Stat(filepath.Join(dir, "no.json")); err == nil {
		t.Error("it was written with a question open")
	}
	do(0, "merge", "c.json", "d.json", "-prefer", "d.json", "-o", "yes.json")
	if s := text("yes.json"); !strings.Contains(s, `"90"`) {
		t.Error(s)
	}
	for _, args := range [][]string{{"merge", "c.json", "-o", "x.json"}, {"merge", "c.json", "d.json"}, {"merge", "c.json", "none.json", "-o", "x.json"}, {"merge", "c.json", "d.json", "-o", "d.json"}} {
		do(2, args...)
	}
}

// A list turned on its side is not merged. Seen: its rows came in nameless, and nothing was said.
func TestMergeRefusesNoCouplings(t *testing.T) {
	dir := in(t, map[string]string{"m.csv": header + good, "empty.csv": "one,two\n1,2\n", "turned.csv": "Parameter,P 7,P 8\nSpeed [rpm],1480,2960\nMovable rim 12 [mm],0,0\nMovable rim 3,0.1,0.2\nMovable rim 6,0.2,0.2\nMovable rim 9,0.1,0\nCoupling to front feet [mm],410,300\nFront to rear feet [mm],620,500\n"})
	status, _, errs := start(t, dir, "merge", "m.csv", "turned.csv", "-o", "both.json")
	if status != 2 || !strings.Contains(errs, "turned.csv: not all of it could be read; it is not merged") || !strings.Contains(errs, "turned on its side") {
		t.Errorf("%d: %s", status, errs)
	}
	if status, _, errs := start(t, dir, "merge", "m.csv", "empty.csv", "-o", "both.json"); status != 2 || !strings.Contains(errs, "empty.csv: it holds no coupling; it is not merged") {
		t.Errorf("%d: %s", status, errs)
	}
	if _, err := os.Stat(filepath.Join(dir, "both.json")); err == nil {
		t.Error("it was written all the same")
	}
}

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

// The same machine in an older file is set beside it: in words, as a list and in JSON. The older file is only read.
func TestHistory(t *testing.T) {
	dir := in(t, map[string]string{"then.csv": header + good, "now.csv": header + strings.Replace(good, "1480", "1490", 1)})
	at := func(name string) string { return filepath.Join(dir, name) }
	do := func(status int, args ...string) (string, string) {
		t.Helper()
		var out, errs bytes.Buffer
		if got := run(args, &out, &errs, fstest.MapFS{}); got != status {
			t.Fatalf("%q: status %d, %s", args, got, errs.String())
		}
		return out.String(), errs.String()
	}
	plain, _ := do(0, "calc", at("now.csv"))
	out, _ := do(0, "calc", at("now.csv"), "-history", at("then.csv"))
	if !strings.HasPrefix(out, plain[:strings.Index(plain, "\n")]) || !strings.Contains(out, "then.csv") || !strings.Contains(out, "no more than the readings explain") {
		t.Error(out)
	}
	list, _ := do(0, "calc", at("now.csv"), "-history", at("then.csv"), "-history", at("then.csv"), "-list", "history")
	if strings.Count(list, "then.csv") != 2 {
		t.Error(list)
	}
	do(0, "calc", at("now.csv"), "-history", at("then.csv"), "-o", at("out.json"))
	data, err := os.ReadFile(at("out.json"))
	if err != nil || !strings.Contains(string(data), `"history":[{"file":"then.csv"`) || !strings.Contains(string(data), `"offset_beyond_mm":0`) {
		t.Errorf("%v %.300s", err, data)
	}
	for _, args := range [][]string{{"-list", "history"}, {"-history", at("none.json")}, {"-history", at("then.csv"), "-o", at("then.csv")}} {
		if _, errs := do(2, append([]string{"calc", at("now.csv")}, args...)...); errs == "" {
			t.Error(args)
		}
	}
}

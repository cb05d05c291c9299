package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A dataPiece is what a module made for a test begins its memory with at one place.
type dataPiece struct {
	at   int
	text string
}

// moduleOf writes a module with a memory of one page, exported as m, and the pieces in it.
func moduleOf(pieces ...dataPiece) []byte {
	out := []byte("\x00asm\x01\x00\x00\x00")
	out = append(appendSection(out, 5, 3), 1, 0, 1)
	out = append(appendSection(out, 7, 5), 1, 1, 'm', 2, 0)
	data := []byte{byte(len(pieces))}
	for _, p := range pieces {
		data = binary.AppendUvarint(append(appendSigned(append(data, 0, opI32Const), int64(p.at)), opEnd), uint64(len(p.text)))
		data = append(data, p.text...)
	}
	return append(appendSection(out, sectionData, len(data)), data...)
}

// The same memory comes of it, as Node has it, where there is Node.
func TestOnePiece(t *testing.T) {
	module := moduleOf(dataPiece{300, "gears"}, dataPiece{7, "shims"}, dataPiece{70, "\x00feet\x00"}, dataPiece{12, "x"})
	joined, err := onePiece(module)
	if err != nil {
		t.Fatal(err)
	}
	want := make([]byte, 298)
	copy(want, "shimsx")
	copy(want[64:], "feet")
	copy(want[293:], "gears")
	if data := section(joined, sectionData); data.end != len(joined) || !bytes.Equal(joined[data.at:], append([]byte{1, 0, opI32Const, 7, opEnd, 0xaa, 2}, want...)) {
		t.Errorf("%q", joined)
	}
	for name, bad := range map[string][]byte{
		"over one another": moduleOf(dataPiece{7, "shims"}, dataPiece{11, "x"}),
		"no data":          moduleOf()[:8],
		"cut":              module[:len(module)-1],
		"none":             moduleOf(),
	} {
		if out, err := onePiece(bad); !errors.Is(err, errModule) {
			t.Errorf("%s: %q, %v", name, out, err)
		}
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no Node here; the browser tests run the programs")
	}
	dir := t.TempDir()
	for name, b := range map[string][]byte{"a": module, "b": joined} {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	cmd := exec.Command(node, "-e", `const { readFileSync } = require("fs"), memory = (name) => Buffer.from(
new WebAssembly.Instance(new WebAssembly.Module(readFileSync(name))).exports.m.buffer);
const a = memory("a"), b = memory("b"); process.stdout.write(a.equals(b) ? a.subarray(7, 13) : "differ");`)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil || string(out) != "shimsx" {
		t.Errorf("%v: %s", err, out)
	}
}

// A program in a file is joined in place; what is no program is refused by its name and stays.
func TestJoinFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "no.wasm")
	if err := os.WriteFile(name, []byte("no program"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := joinFile(name); err == nil || !strings.Contains(err.Error(), "no.wasm") {
		t.Errorf("%v", err)
	}
	if b, _ := os.ReadFile(name); string(b) != "no program" {
		t.Errorf("%q", b)
	}
	if joinFile(name+"x") == nil {
		t.Error("a file that is not there was joined")
	}
}

package main

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// variant copies parts of base in another order, with single bytes changed, bytes put in and taken out, and text of its own between: what two builds of one
// source look like beside each other.
func variant(rng *rand.Rand, base []byte) []byte {
	var out []byte
	for range rng.IntN(12) {
		switch rng.IntN(4) {
		case 0:
			for range rng.IntN(200) {
				out = append(out, byte(rng.Uint32()))
			}
		case 1:
			out = append(out, make([]byte, rng.IntN(300))...)
		default:
			if len(base) == 0 {
				continue
			}
			from := rng.IntN(len(base))
			part := bytes.Clone(base[from : from+rng.IntN(len(base)-from)])
			for i := range part {
				if rng.IntN(20) == 0 {
					part[i] += byte(rng.Uint32())
				}
			}
			out = append(out, part...)
		}
	}
	return out
}

func deltaCases() [][2][]byte {
	rng := rand.New(rand.NewPCG(5, 91))
	text := []byte("the quick brown fox jumps over the lazy dog, and once more the quick brown fox jumps")
	cases := [][2][]byte{{nil, nil}, {nil, text}, {text, nil}, {text, text}, {text, text[20:]}, {text[20:], text}, {make([]byte, 900), make([]byte, 1000)}}
	for range 300 {
		base := make([]byte, rng.IntN(3000))
		for i := range base {
			base[i] = byte(rng.Uint32() >> (24 + rng.IntN(8)))
		}
		cases = append(cases, [2][]byte{base, variant(rng, base)})
	}
	return cases
}

func TestDelta(t *testing.T) {
	for i, c := range deltaCases() {
		d := delta(c[0], c[1])
		got, err := undelta(c[0], d)
		if err != nil || !bytes.Equal(got, c[1]) {
			t.Fatalf("case %d: %v, %d bytes of %d come back", i, err, len(got), len(c[1]))
		}
		if len(d) > 0 {
			undelta(c[0], d[:len(d)-1]) // what is cut is an error or another program, no end of ours
		}
	}
	// A function that was moved and has three other addresses in it costs little: that is what the whole is for.
	rng := rand.New(rand.NewPCG(7, 7))
	base := make([]byte, 50_000)
	for i := range base {
		base[i] = byte(rng.Uint32())
	}
	program := append(bytes.Clone(base[30_000:]), base[:30_000]...)
	for _, at := range []int{1000, 20_500, 44_444} {
		program[at]++
	}
	packed, err := compress(delta(base, program))
	if err != nil || len(packed) > 500 {
		t.Errorf("%v: %d bytes packed", err, len(packed))
	}
}

// The page's script makes the same of it.
func TestDeltaInScript(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no Node here; the browser tests open workbooks")
	}
	dir := t.TempDir()
	root, err := filepath.Abs("../..")
	if err != nil {
		t.Fatal(err)
	}
	write := func(name string, b []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	source, err := os.ReadFile(filepath.Join(root, "web/bytes.js"))
	if err != nil {
		t.Fatal(err)
	}
	write("bytes.mjs", source)
	write("run.mjs", []byte(`import { changed } from "./bytes.mjs"; import { readFileSync, writeFileSync } from "node:fs";
for (let i = 0; i < 40; i++) writeFileSync("out" + i, changed(readFileSync("base" + i), readFileSync("delta" + i)));`))
	cases := deltaCases()[:40]
	for i, c := range cases {
		write(fmt.Sprint("base", i), c[0])
		write(fmt.Sprint("delta", i), delta(c[0], c[1]))
	}
	cmd := exec.Command(node, "run.mjs")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for i, c := range cases {
		got, err := os.ReadFile(filepath.Join(dir, fmt.Sprint("out", i)))
		if err != nil || !bytes.Equal(got, c[1]) {
			t.Errorf("case %d: %v, %d bytes of %d", i, err, len(got), len(c[1]))
		}
	}
}

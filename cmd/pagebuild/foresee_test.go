package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// A madeProgram has what a foresight looks at as Go's linker lays it out, and nothing a machine could run: functions and symbols by their names, whose contents follow
// from the name, so that two of them share what has one name, at other places.
type madeProgram struct {
	functions, symbols []string
	base               int // of memory
}

func seeded(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(h.Sum64(), 1))
}

// lay gives the places of all symbols, and where they end.
func (p madeProgram) lay() (map[string]int, int) {
	at, places := (p.base+7)&^7, map[string]int{}
	for _, s := range p.symbols {
		places[s] = at
		at += 8 * (4 + seeded(s).IntN(40))
	}
	return places, at
}

// body is a function with each kind of operation that Go's compiler writes.
func (p madeProgram) body(i int, functions, symbols map[string]int) []byte {
	rng := seeded(p.functions[i])
	b := []byte{2, 3, 0x7e, 1, 0x7f} // three locals of one type, one of another
	place := 0
	for range 20 + rng.IntN(60) {
		switch n := rng.IntN(300); rng.IntN(12) {
		case 0:
			b = append(b, 0x02, 0x40, 0x0c, 0, opEnd, 0x03, 0x7f, 0x0d, 1, opEnd, 0x04, 0x40, 0x05, opEnd)
		case 1:
			b = append(b, 0x0e, 3, 0, 1, 0x80, 1, 2)
		case 2:
			b = append(b, 0x11, 0, 0, 0x1a, 0x1b, 0x00, 0x01, 0x0f, 0x3f, 0, 0x40, 0)
		case 3:
			b = append(binary.AppendUvarint(append(b, 0x20, 1, 0x22, 2, 0x24, 0, 0x29, 3), uint64(n)), 0x6a, 0xc4)
		case 4:
			b = append(b, 0xfc, 3, 0xfc, 10, 0, 0, 0xfc, 11, 0)
		case 5:
			b = append(b, 0x43, 0x42, 0x10, 0x41, 0x80, 0x44, 0x42, 0x80, 0x80, 0x80, 0x80, 1, 0x10, 0x41)
		case 6:
			b = appendSigned(append(b, opI64Const), []int64{-1, 1 << 40, -1 << 40, 1 << 31, 1<<31 - 1, -1 << 63, 63, 64, 1 << 28, 5000}[n%10])
		case 7, 8:
			b = appendSigned(append(b, opCall), int64(functions[fmt.Sprint("shared", n%80)]+3))
		case 9:
			place += n % 3
			b = appendSigned(append(b, opI64Const), int64((firstFunction+i)<<16+place))
			b = append(b, 0x37, 3, 0)
		case 10:
			b = appendSigned(append(b, opI64Const), int64((firstFunction+functions[fmt.Sprint("shared", n%80)])<<16))
		default:
			b = appendSigned(append(b, opI32Const+byte(n%2)), int64(symbols[fmt.Sprint("symbol", n%90)]+n%9))
		}
	}
	return append(b, opEnd)
}

// memory is the symbols, the linker's tables and the record of the module.
func (p madeProgram) memory(functions, symbols map[string]int, at int) []byte {
	m := make([]byte, at-p.base)
	word := func(v int) { m = binary.LittleEndian.AppendUint64(m, uint64(v)) }
	m = m[:(p.base+7)&^7-p.base]
	for _, s := range p.symbols {
		rng := seeded(s)
		for range 4 + rng.IntN(40) {
			switch n := rng.IntN(80); rng.IntN(4) {
			case 0:
				word(symbols[fmt.Sprint("symbol", n)])
			case 1:
				word((firstFunction + functions[fmt.Sprint("shared", n)]) << 16)
			case 2:
				word(n)
			default:
				word(int(rng.Uint64()))
			}
		}
	}
	table := p.base + len(m)
	parts := make([][]byte, 6) // names, units, files, lines, records, what they point into last
	var entries, records []byte
	for i, name := range p.functions {
		rng := seeded(name + " record")
		place := func(k int, text string) uint32 {
			parts[k] = append(parts[k], text...)
			return uint32(len(parts[k]) - len(text))
		}
		entries = binary.LittleEndian.AppendUint32(entries, uint32(i)<<16)
		entries = binary.LittleEndian.AppendUint32(entries, uint32(8*len(p.functions)+len(records)))
		tables, tails := rng.IntN(4), rng.IntN(4)
		for _, v := range []uint32{uint32(i) << 16, place(0, name+"\x00"), 8, 0, place(3, name+" sp"), place(3, name+" file"), place(3, name+" line"), uint32(tables),
			place(1, "unit") / 4, uint32(rng.IntN(900)), uint32(tails) << 24} {
			records = binary.LittleEndian.AppendUint32(records, v)
		}
		for range tables {
			records = binary.LittleEndian.AppendUint32(records, place(3, fmt.Sprint(name, rng.IntN(100))))
		}
		for range tails {
			records = binary.LittleEndian.AppendUint32(records, []uint32{1<<32 - 1, place(5, fmt.Sprint(name, rng.IntN(100)))}[rng.IntN(2)])
		}
	}
	parts[4] = append(entries, records...)
	m = append(m, tableHead...)
	word(len(p.functions))
	word(1)
	word(0)
	offset, starts := 72, [6]int{}
	for k, part := range parts {
		parts[k] = append(part, make([]byte, -len(part)&7)...)
		starts[k] = offset
		if k < 5 {
			word(offset)
		}
		offset += len(parts[k])
	}
	m = append(m, bytes.Join(parts, nil)...)
	word(table)
	word(table + 72)
	for range 38 {
		word(7)
	}
	word(table + starts[5])
	return append(m, "end"...)
}

func (p madeProgram) make() []byte {
	symbols, end := p.lay()
	functions := map[string]int{}
	for i, f := range p.functions {
		functions[f] = i
	}
	out := []byte("\x00asm\x01\x00\x00\x00")
	out = append(appendSection(out, sectionImport, 1), 3) // three, not written out
	code := binary.AppendUvarint(nil, uint64(len(p.functions)))
	for i := range p.functions {
		b := p.body(i, functions, symbols)
		code = append(binary.AppendUvarint(code, uint64(len(b))), b...)
	}
	out = append(appendSection(out, sectionCode, len(code)), code...)
	memory := p.memory(functions, symbols, end)
	data := append(appendSigned([]byte{1, 0, opI32Const}, int64(p.base)), opEnd)
	data = append(binary.AppendUvarint(data, uint64(len(memory))), memory...)
	out = append(appendSection(out, sectionData, len(data)), data...)
	return append(appendSection(out, 0, 9), "\x04nametail"...)
}

// madePair is two programs that share 140 functions and 90 symbols, each with some of its own between.
func madePair(seed uint64) (base, program []byte) {
	rng := rand.New(rand.NewPCG(seed, 17))
	names := func(shared, own string, n int) (list []string) {
		for i := range n {
			for rng.IntN(3) == 0 {
				list = append(list, fmt.Sprint(own, rng.Uint32()))
			}
			list = append(list, fmt.Sprint(shared, i))
		}
		return list
	}
	make := func(own string, base int) []byte {
		functions := names("early", own, 60) // so that the numbers of the others take two bytes
		return madeProgram{append(functions, names("shared", own, 80)...), names("symbol", own, 90), base}.make()
	}
	return make("a", 5000+rng.IntN(3000)), make("b", 5000+rng.IntN(3000))
}

func TestChanges(t *testing.T) {
	for seed := range uint64(8) {
		base, program := madePair(seed)
		c, err := changes(base, program)
		if err != nil {
			t.Fatalf("%d: %v", seed, err)
		}
		got, err := changed(base, c)
		if err != nil || !bytes.Equal(got, program) {
			t.Fatalf("%d: %v, %d bytes of %d come back", seed, err, len(got), len(program))
		}
	}
}

// What is shared is foreseen whole: each shared function comes out byte for byte as it stands in the other program, and so do symbols and records.
func TestForeseen(t *testing.T) {
	base, program := madePair(3)
	f, err := foresee(base, program)
	if err != nil {
		t.Fatal(err)
	}
	foreseen, err := f.foreseen(base)
	if err != nil {
		t.Fatal(err)
	}
	target, err := rewritten(program, asItIs)
	if err != nil {
		t.Fatal(err)
	}
	a, err := takeApart(base)
	if err != nil {
		t.Fatal(err)
	}
	b, err := takeApart(program)
	if err != nil {
		t.Fatal(err)
	}
	was, _, err := bodies(foreseen)
	if err != nil {
		t.Fatal(err)
	}
	is, _, err := bodies(target)
	if err != nil {
		t.Fatal(err)
	}
	memory, err := imageOf(foreseen)
	if err != nil {
		t.Fatal(err)
	}
	record := func(p *linked, m image, i int) []byte {
		first := p.table + p.word(p.table+64)
		at := first + p.word(first+8*i+4) - m.base
		return m.bytes[at : at+44]
	}
	pairs := alike(a, b)
	for _, p := range pairs {
		x, y := foreseen[was[p[0]].locals:was[p[0]].end], target[is[p[1]].locals:is[p[1]].end]
		if !bytes.Equal(x, y) {
			t.Errorf("%s: the code is not foreseen:\n%x\n%x", a.names[p[0]], x, y)
		}
		if x, y := record(a, memory, p[0]), record(b, b.image, p[1]); !bytes.Equal(x, y) {
			t.Errorf("%s: the record is not foreseen:\n%x\n%x", a.names[p[0]], x, y)
		}
	}
	if len(pairs) != 140 {
		t.Errorf("%d functions are alike, not 140", len(pairs))
	}
	c, err := changes(base, program)
	if err != nil {
		t.Fatal(err)
	}
	with, err := compress(c)
	if err != nil {
		t.Fatal(err)
	}
	without, err := compress(delta(base, program))
	if err != nil {
		t.Fatal(err)
	}
	if len(with)*10 > len(without)*9 {
		t.Errorf("%d bytes packed with a foresight, %d without", len(with), len(without))
	}
}

// Steps go there and back, and every place in a function's own code is one.
func TestSteps(t *testing.T) {
	program, _ := madePair(5)
	with, err := rewritten(program, asItIs)
	if err != nil {
		t.Fatal(err)
	}
	functions, _, err := bodies(with)
	if err != nil {
		t.Fatal(err)
	}
	steps := 0
	for i, f := range functions {
		err := operations(with, f, func(o operation) {
			if o.op == opOwn {
				steps++
			} else if o.op == opI64Const && o.value>>16 == firstFunction+i {
				t.Errorf("function %d keeps a place of its own", i)
			}
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if back, err := rewritten(with, asItIs); err != nil || !bytes.Equal(back, program) || steps < 50 {
		t.Errorf("%v, %d steps, %d bytes of %d come back", err, steps, len(back), len(program))
	}
}

// What the build does not know stops it, by its number; so does what is no program of Go's.
func TestUnknownOperation(t *testing.T) {
	module := func(code ...byte) []byte {
		out := []byte("\x00asm\x01\x00\x00\x00")
		code = append([]byte{1, byte(len(code) + 1), 0}, code...)
		return append(appendSection(out, sectionCode, len(code)), code...)
	}
	for code, want := range map[string]string{
		"\x1c\x01\x7f\x0b": "0x1c", "\xfd\x0c\x0b": "0xfd", "\xfc\x08\x00\x00\x0b": "0xfc 0x08", "\x06\x40\x0b": "0x06", "\x41": "too", "\x44\x00\x0b": "too",
	} {
		if _, err := rewritten(module([]byte(code)...), asItIs); !errors.Is(err, errModule) || !strings.Contains(err.Error(), want) {
			t.Errorf("%x: %v, not %s", code, err, want)
		}
	}
	base, program := madePair(1)
	if _, err := changes(bytes.Replace(base, tableHead, make([]byte, 8), 1), program); !errors.Is(err, errModule) {
		t.Errorf("without the linker's tables: %v", err)
	}
}

// spoilt gives changes that are cut, or of which a byte is another.
func spoilt(rng *rand.Rand, c []byte) []byte {
	c = bytes.Clone(c)
	if rng.IntN(3) == 0 {
		return c[:rng.IntN(len(c))]
	}
	at := rng.IntN(len(c))
	if rng.IntN(2) == 0 {
		at = rng.IntN(min(len(c), 3000)) // where the foresight is
	}
	c[at] ^= 1 << rng.IntN(8)
	return c
}

// Changes that are spoilt are an error or make another program; they neither stop the program nor keep it.
func TestSpoiltChanges(t *testing.T) {
	base, program := madePair(2)
	c, err := changes(base, program)
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(4, 4))
	for range 80 {
		changed(base, spoilt(rng, c))
	}
}

func FuzzChanged(f *testing.F) {
	base, program := madePair(2)
	c, err := changes(base, program)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(c)
	f.Fuzz(func(t *testing.T, c []byte) { changed(base, c) })
}

// The page's script makes the same of it: of changes to any bytes, of programs, and it comes to an end with changes that are spoilt.
func TestChangedInScript(t *testing.T) {
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no Node here; the browser tests open workbooks")
	}
	dir := t.TempDir()
	write := func(name string, b []byte) {
		if err := os.WriteFile(filepath.Join(dir, name), b, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	source, err := os.ReadFile(filepath.Join("..", "..", "web", "program.js"))
	if err != nil {
		t.Fatal(err)
	}
	write("program.mjs", source)
	write("run.mjs", []byte(`import { changed, patched, Reader } from "./program.mjs"; import { existsSync, readFileSync, writeFileSync } from "node:fs";
const read = (name) => new Uint8Array(readFileSync(name));
for (let i = 0; existsSync("base" + i); i++) writeFileSync("out" + i, patched(read("base" + i), new Reader(read("delta" + i))));
for (let i = 0; existsSync("first" + i); i++) writeFileSync("second" + i, changed(read("first" + i), read("changes" + i)));
for (let i = 0; existsSync("spoilt" + i); i++) try { changed(read("first2"), read("spoilt" + i)); } catch {}`))
	want := map[string][]byte{}
	for i, c := range deltaCases()[:40] {
		write(fmt.Sprint("base", i), c[0])
		write(fmt.Sprint("delta", i), delta(c[0], c[1]))
		want[fmt.Sprint("out", i)] = c[1]
	}
	rng := rand.New(rand.NewPCG(6, 6))
	for i := range 4 {
		base, program := madePair(uint64(i))
		c, err := changes(base, program)
		if err != nil {
			t.Fatal(err)
		}
		write(fmt.Sprint("first", i), base)
		write(fmt.Sprint("changes", i), c)
		want[fmt.Sprint("second", i)] = program
		for k := range 40 {
			if i == 2 {
				write(fmt.Sprint("spoilt", k), spoilt(rng, c))
			}
		}
	}
	cmd := exec.Command(node, "run.mjs")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	for name, want := range want {
		if got, err := os.ReadFile(filepath.Join(dir, name)); err != nil || !bytes.Equal(got, want) {
			t.Errorf("%s: %v, %d bytes of %d", name, err, len(got), len(want))
		}
	}
}

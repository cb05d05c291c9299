package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"sort"
)

// Of two programs that share half of their code the shared functions differ in numbers only: which function is called, where something lies in memory. All of those
// follow from few facts, since functions and symbols moved in whole runs. So a foresight, those runs, comes with the changes, the first program is rewritten by it,
// and delta.go's byte-wise changes are those to what comes out. What was foreseen wrongly they put right: a foresight costs bytes where it errs, never the program.
// That differences of executables shrink so is known since Baker, Manber and Muth, "Compressing differences of executable code" (1999), who foresee pointers from
// those that were seen to change; the runs and the walk over Go's own tables are of this project.
//
// One kind of number needs no foresight. Before each call stands where in its own function it returns to, some sixty thousand times and all different. Both programs are taken
// in a form in which that is the step from the return before, nearly always one: operation opOwn, with the step as its number. The second program is turned back
// from that form at the end.
//
// Go's numbers: a function is counted from the first that is no import; its address is that number and 0x1000, times 65,536, with the place to go on from below.
// The linker's tables of functions are those that debug/gosym reads. They are found by what they begin with, and the build stops where they are not.

// A foresight tells what the numbers of the first program are in the second.
type foresight struct {
	functions runs
	addresses runs
	landmarks
}

// landmarks are addresses in the first program.
type landmarks struct {
	table int // the head of the linker's tables of functions
	tail  int // what a function's record points into last; it lies behind the records
}

// runs tell what numbers became: from each one's start on they moved by its shift, those before the first by none.
type runs []run

type run struct{ start, shift int }

func (r runs) of(v int) int {
	i := sort.Search(len(r), func(i int) bool { return r[i].start > v })
	if i == 0 {
		return v
	}
	return v + r[i-1].shift
}

const firstFunction = 0x1000 // the linker's funcValueOffset

// append writes a foresight: each table of runs as its length, then by how much each start and shift are more than those before; and the places.
func (f *foresight) append(b []byte) []byte {
	for _, list := range []runs{f.functions, f.addresses} {
		b = binary.AppendUvarint(b, uint64(len(list)))
		last := run{}
		for _, r := range list {
			b = binary.AppendVarint(binary.AppendVarint(b, int64(r.start-last.start)), int64(r.shift-last.shift))
			last = r
		}
	}
	for _, p := range []int{f.table, f.tail} {
		b = binary.AppendVarint(b, int64(p))
	}
	return b
}

// readForesight takes one from the begin of b, which goes on behind it.
func readForesight(b *[]byte) *foresight {
	number := func() int {
		v, n := binary.Varint(*b)
		if n <= 0 {
			panic(errDelta)
		}
		*b = (*b)[n:]
		return int(v)
	}
	f := new(foresight)
	for _, list := range []*runs{&f.functions, &f.addresses} {
		n, size := binary.Uvarint(*b)
		*b = (*b)[size:]
		last := run{}
		for range n {
			last = run{last.start + number(), last.shift + number()}
			*list = append(*list, last)
		}
	}
	f.table, f.tail = number(), number()
	return f
}

// foreseen is the first program as far as the second can be told from it, in the form with steps.
func (f *foresight) foreseen(program []byte) ([]byte, error) {
	functions, imports, err := bodies(program)
	if err != nil {
		return nil, err
	}
	moved := func(op byte, v int) int {
		if op == opCall {
			if v < imports {
				return v
			}
			return f.functions.of(v-imports) + imports
		}
		if n := v>>16 - firstFunction; n >= 0 && n < len(functions) {
			return v + (f.functions.of(n)-n)<<16
		}
		return f.addresses.of(v)
	}
	out, err := rewritten(program, moved)
	if err != nil {
		return nil, err
	}
	m, err := imageOf(out)
	if err != nil {
		return nil, err
	}
	f.records(m, func(at, from, unit int) {
		if v := m.word(at); v != 0 && v != 1<<32-1 {
			m.put(at, (f.addresses.of(from+v*unit)-f.addresses.of(from))/unit)
		}
	}, func(at, function int) { m.put(at, f.functions.of(function)<<16) })
	records := f.table + m.word(f.table+64)
	for at := (m.base + 7) &^ 7; at+8 <= m.end(); at += 8 {
		if low := m.word(at); low != 0 && m.word(at+4) == 0 && (at < records || at >= f.tail) {
			m.put(at, moved(opI64Const, low))
		}
	}
	return out, nil
}

// records goes over the linker's records of functions: offset is told where an offset is kept, from where it counts and in what unit, function where
// the record's own function is.
func (p *landmarks) records(m image, offset func(at, from, unit int), function func(at, function int)) {
	head := func(i int) int { return p.table + m.word(p.table+i) }
	count, names, files, lines, first := m.word(p.table+8), head(32), head(40), head(56), head(64)
	for i := range count {
		entry := first + 8*i
		r := first + m.word(entry+4)
		tables, tails := m.word(r+28), m.word(r+40)>>24
		function(entry, i)
		offset(entry+4, first, 1)
		function(r, i)
		offset(r+4, names, 1)
		for _, at := range []int{16, 20, 24} {
			offset(r+at, lines, 1)
		}
		offset(r+32, files, 4)
		for k := range tables {
			offset(r+44+4*k, lines, 1)
		}
		for k := range tails {
			offset(r+44+4*(tables+k), p.tail, 1)
		}
	}
}

// changes writes a program as a foresight and the changes to what it makes of base.
func changes(base, program []byte) ([]byte, error) {
	f, err := foresee(base, program)
	if err != nil {
		return nil, err
	}
	foreseen, err := f.foreseen(base)
	if err != nil {
		return nil, err
	}
	target, err := rewritten(program, asItIs)
	if err != nil {
		return nil, err
	}
	out := append(f.append(nil), delta(foreseen, target)...)
	if back, err := changed(base, out); err != nil || !bytes.Equal(back, program) {
		return nil, errors.Join(fmt.Errorf("the program does not come back out of its changes"), err)
	}
	return out, nil
}

// changed makes the program again, as web/program.js does.
func changed(base, changes []byte) (program []byte, err error) {
	defer func() {
		if recover() != nil { // a number or a place outside of what is there
			program, err = nil, errDelta
		}
	}()
	f := readForesight(&changes)
	foreseen, err := f.foreseen(base)
	if err != nil {
		return nil, err
	}
	target, err := undelta(foreseen, changes)
	if err != nil {
		return nil, err
	}
	return rewritten(target, asItIs)
}

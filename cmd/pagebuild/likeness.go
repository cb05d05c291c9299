package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"slices"
)

// A likeness gathers what became which: pairs of numbers that stand in the same place of both programs. Where they disagree the most pairs win.
type likeness map[int]map[int]int

func (l likeness) add(was, is, weight int) {
	if l[was] == nil {
		l[was] = map[int]int{}
	}
	l[was][is] += weight
}

// runs are the pairs in order, those that moved alike together.
func (l likeness) runs() (out runs) {
	for _, was := range slices.Sorted(maps.Keys(l)) {
		best, weight := 0, 0
		for is, w := range l[was] {
			if w > weight || w == weight && is < best {
				best, weight = is, w
			}
		}
		if n := len(out); n == 0 || out[n-1].shift != best-was {
			out = append(out, run{was, best - was})
		}
	}
	return out
}

// A linked program is taken apart as far as a foresight needs it.
type linked struct {
	program   []byte
	functions []body
	names     []string
	image
	landmarks
}

// The linker's tables begin with this: a number of the form's own, two zeros, units of code, bytes of a pointer.
var tableHead = []byte{0xf1, 0xff, 0xff, 0xff, 0, 0, 1, 8}

func takeApart(program []byte) (*linked, error) {
	p := &linked{program: program}
	var err error
	if p.functions, _, err = bodies(program); err != nil {
		return nil, err
	}
	if p.image, err = imageOf(program); err != nil {
		return nil, err
	}
	// The tables, and the record of the module, which begins with where they are and where their first part is.
	at := bytes.Index(p.bytes, tableHead)
	if at < 0 || p.word(p.base+at+8) != len(p.functions) {
		return nil, fmt.Errorf("%w: the linker's tables of functions are not found", errModule)
	}
	p.table = p.base + at
	want := binary.LittleEndian.AppendUint64(nil, uint64(p.table))
	want = binary.LittleEndian.AppendUint64(want, uint64(p.table+p.word(p.table+32)))
	at = bytes.Index(p.bytes, want)
	if at < 0 {
		return nil, fmt.Errorf("%w: the record of its module is not found", errModule)
	}
	if p.tail = p.word(p.base + at + 8*40); p.tail < p.table || p.tail > p.end() { // moduledata.gofunc
		return nil, fmt.Errorf("%w: the record of its module is not what is expected", errModule)
	}
	names := p.table + p.word(p.table+32) - p.base
	first := p.table + p.word(p.table+64)
	for i := range p.functions {
		r := first + p.word(first+8*i+4)
		name, _, _ := bytes.Cut(p.bytes[names+p.word(r+4):], []byte{0})
		p.names = append(p.names, string(name))
	}
	return p, nil
}

// foresee finds what became which: functions by their names, addresses by pairs that stand in functions that are alike, in their records, and in
// data that is known to be alike.
func foresee(base, program []byte) (*foresight, error) {
	a, err := takeApart(base)
	if err != nil {
		return nil, err
	}
	b, err := takeApart(program)
	if err != nil {
		return nil, err
	}
	pairs := alike(a, b)
	functions, addresses := likeness{}, likeness{}
	for _, p := range pairs {
		functions.add(p[0], p[1], 1)
	}
	for _, p := range [][2]int{{a.table, b.table}, {a.tail, b.tail}} {
		addresses.add(p[0], p[1], 1<<20)
	}
	for _, i := range []int{32, 40, 48, 56, 64} {
		addresses.add(a.table+a.word(a.table+i), b.table+b.word(b.table+i), 1<<20)
	}
	if err := inCode(a, b, pairs, addresses); err != nil {
		return nil, err
	}
	inRecords(a, b, pairs, addresses)
	for range 4 { // each finds what the pointers found before point to
		inData(a, b, addresses.runs(), addresses)
	}
	f := &foresight{functions.runs(), addresses.runs(), a.landmarks}
	f.addresses = append(f.addresses, run{max(a.end()+1<<20, f.addresses[len(f.addresses)-1].start+1), 0})
	return f, nil
}

// alike pairs functions of one name, the first with the first.
func alike(a, b *linked) (pairs [][2]int) {
	at := map[string][]int{}
	for i, name := range b.names {
		at[name] = append(at[name], i)
	}
	for i, name := range a.names {
		if list := at[name]; len(list) > 0 {
			pairs, at[name] = append(pairs, [2]int{i, list[0]}), list[1:]
		}
	}
	return pairs
}

// holds tells whether an address is one of what memory begins with, or behind it where what begins as zero lies.
func (p *linked) holds(address int) bool { return address >= p.base && address < p.end()+1<<20 }

// inCode adds the addresses in functions of the same operations.
func inCode(a, b *linked, pairs [][2]int, addresses likeness) error {
	list := func(p *linked, i int, into []operation) ([]operation, error) {
		err := operations(p.program, p.functions[i], func(o operation) { into = append(into, o) })
		return into, err
	}
	var was, is []operation
	for _, p := range pairs {
		var err error
		if was, err = list(a, p[0], was[:0]); err != nil {
			return err
		}
		if is, err = list(b, p[1], is[:0]); err != nil {
			return err
		}
		if !slices.EqualFunc(was, is, func(x, y operation) bool { return x.op == y.op }) {
			continue
		}
		for i, o := range was {
			if o.op != opCall && o.value != is[i].value && a.holds(o.value) && b.holds(is[i].value) {
				addresses.add(o.value, is[i].value, 1)
			}
		}
	}
	return nil
}

// inRecords adds what the records of functions point to.
func inRecords(a, b *linked, pairs [][2]int, addresses likeness) {
	offsets := func(p *linked) [][]int {
		out := make([][]int, len(p.functions))
		function := 0
		p.records(p.image, func(at, from, unit int) {
			v := p.word(at)
			if v == 0 || v == 1<<32-1 {
				out[function] = append(out[function], 0)
				return
			}
			out[function] = append(out[function], from+v*unit)
		}, func(_, i int) { function = i })
		return out
	}
	was, is := offsets(a), offsets(b)
	for _, p := range pairs {
		x, y := was[p[0]], is[p[1]]
		if len(x) != len(y) {
			continue
		}
		for i := range x {
			if x[i] != 0 && y[i] != 0 {
				addresses.add(x[i], y[i], 1)
			}
		}
	}
}

// inData adds pointers in data that lies a little behind an address known already.
func inData(a, b *linked, known runs, addresses likeness) {
	sorted := slices.Sorted(maps.Keys(addresses))
	records := a.table + a.word(a.table+64)
	for at := (a.base + 7) &^ 7; at+8 <= a.end(); at += 8 {
		i, found := slices.BinarySearch(sorted, at)
		if !found {
			i--
		}
		to := known.of(at)
		if i < 0 || at-sorted[i] > near || at >= records && at < a.tail || to%8 != 0 || to < b.base || to+8 > b.end() || a.word(at+4) != 0 || b.word(to+4) != 0 {
			continue
		}
		if was, is := a.word(at), b.word(to); was != is && a.holds(was) && b.holds(is) {
			addresses.add(was, is, 1)
		}
	}
}

// near is how far behind an address what lies there is taken to have moved with it.
const near = 256

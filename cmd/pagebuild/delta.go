package main

import (
	"encoding/binary"
	"errors"
)

// The two programs of the page share the half of their code: Go's run time, the calculation, the tables. So the second travels as changes to the first. The way is
// that of Colin Percival's "Naive differences of executable code" (2003): stretches that are nearly the same are laid over one another and only the differences of
// their bytes are kept, most of them nought, since of two copies of a function only the addresses differ; what has no like in the first is kept as it is. Where he
// sorts all suffixes, a table of sixteen bytes' sums is enough here: programs are read once a build, and it takes a second in place of twenty.
//
// A delta is the length of what comes out, then how many bytes each of its four parts has, all as unsigned varints, then the parts: lengths, steps, differences,
// and what is new. The lengths come in pairs, unsigned: so many bytes of the first with the differences added, then so many new ones. To each pair belongs a step,
// signed: by how much the place in the first moves on behind the pair. web/bytes.js puts the program together again.

const (
	deltaSum   = 16  // bytes that a place is found by
	deltaTries = 200 // places of one sum that are tried
	deltaGain  = 4   // by how many bytes another place has to fit better to be taken: what a pair and a step weigh when they are packed
)

// places finds where in a text the bytes at hand stand, too.
type places struct {
	text []byte
	last []int32 // by sum: the last place that has it, counted from one
	next []int32 // by place: the one before with the same sum
}

func placesOf(text []byte) *places {
	const bits = 22
	p := &places{text: text, last: make([]int32, 1<<bits), next: make([]int32, len(text)+1)}
	for i := 0; i+deltaSum <= len(text); i++ {
		s := p.sum(text[i:])
		p.next[i+1], p.last[s] = p.last[s], int32(i+1)
	}
	return p
}

func (p *places) sum(b []byte) uint64 {
	x := binary.LittleEndian.Uint64(b)*0x9e3779b97f4a7c15 ^ binary.LittleEndian.Uint64(b[8:])*0xc2b2ae3d27d4eb4f
	return (x ^ x>>29) * 0xbf58476d1ce4e5b9 >> 42
}

// same counts the bytes that two texts begin with alike.
func same(a, b []byte) int {
	n := min(len(a), len(b))
	for i := range n {
		if a[i] != b[i] {
			return i
		}
	}
	return n
}

// longest finds the place where most of b's first bytes stand, beginning with the place expected.
func (p *places) longest(b []byte, expected int) (at, length int) {
	if expected >= 0 && expected < len(p.text) {
		at, length = expected, same(p.text[expected:], b)
	}
	if len(b) < deltaSum {
		return at, length
	}
	for i, tries := p.last[p.sum(b)], 0; i > 0 && tries < deltaTries; i, tries = p.next[i], tries+1 {
		if n := same(p.text[i-1:], b); n > length {
			at, length = int(i-1), n
		}
	}
	return at, length
}

// delta writes program as changes to base.
func delta(base, program []byte) []byte {
	var lengths, steps, diffs, extras []byte
	find := placesOf(base)
	alike := func(i, at int) bool { return at >= 0 && at < len(base) && base[at] == program[i] }
	done, doneAt, shift := 0, 0, 0 // written so far; the place behind it in base; how far base's places lie behind program's
	for scan, at, length := 0, 0, 0; scan < len(program); {
		score, counted := 0, scan+length // how many of the bytes found would fit at the old shift, too
		for scan = counted; scan < len(program); scan++ {
			at, length = find.longest(program[scan:], scan+shift)
			for ; counted < scan+length; counted++ {
				if alike(counted, counted+shift) {
					score++
				}
			}
			if length == score && length > 0 || length > score+deltaGain {
				break
			}
			if alike(scan, scan+shift) {
				score--
			}
		}
		if length == score && scan < len(program) {
			continue
		}
		// The stretch behind what is written reaches as far as most of its bytes fit, and the one that is found as far back.
		ahead, best, s := 0, 0, 0
		for i := 0; done+i < scan && doneAt+i < len(base); {
			if base[doneAt+i] == program[done+i] {
				s++
			}
			if i++; 2*s-i > best {
				best, ahead = 2*s-i, i
			}
		}
		back := 0
		if scan < len(program) {
			s, best = 0, 0
			for i := 1; scan-i >= done && at-i >= 0; i++ {
				if base[at-i] == program[scan-i] {
					s++
				}
				if 2*s-i > best {
					best, back = 2*s-i, i
				}
			}
		}
		if over := done + ahead - (scan - back); over > 0 { // both want them: cut where most fit
			s, best, cut := 0, 0, 0
			for i := range over {
				if alike(done+ahead-over+i, doneAt+ahead-over+i) {
					s++
				}
				if alike(scan-back+i, at-back+i) {
					s--
				}
				if s > best {
					best, cut = s, i+1
				}
			}
			ahead += cut - over
			back -= cut
		}
		for i := range ahead {
			diffs = append(diffs, program[done+i]-base[doneAt+i])
		}
		fresh := program[done+ahead : scan-back]
		extras = append(extras, fresh...)
		lengths = binary.AppendUvarint(binary.AppendUvarint(lengths, uint64(ahead)), uint64(len(fresh)))
		steps = binary.AppendVarint(steps, int64(at-back-(doneAt+ahead)))
		done, doneAt, shift = scan-back, at-back, at-scan
	}
	out := binary.AppendUvarint(nil, uint64(len(program)))
	for _, part := range [][]byte{lengths, steps, diffs, extras} {
		out = binary.AppendUvarint(out, uint64(len(part)))
	}
	for _, part := range [][]byte{lengths, steps, diffs, extras} {
		out = append(out, part...)
	}
	return out
}

var errDelta = errors.New("the changes do not fit the program that they are for")

// undelta makes the program again, as web/bytes.js does.
func undelta(base, changes []byte) (program []byte, err error) {
	defer func() {
		if recover() != nil { // a length or a place outside of what is there
			program, err = nil, errDelta
		}
	}()
	number := func(b *[]byte) int {
		v, n := binary.Uvarint(*b)
		*b = (*b)[n:]
		return int(v)
	}
	total := number(&changes)
	var size [4]int
	for i := range size {
		size[i] = number(&changes)
	}
	var part [4][]byte
	for i, n := range size {
		part[i], changes = changes[:n], changes[n:]
	}
	at := 0
	for len(part[0]) > 0 {
		ahead, fresh := number(&part[0]), number(&part[0])
		for i := range ahead {
			program = append(program, base[at+i]+part[2][i])
		}
		program, part[2] = append(program, part[3][:fresh]...), part[2][ahead:]
		part[3] = part[3][fresh:]
		step, n := binary.Varint(part[1])
		part[1] = part[1][n:]
		at += ahead + int(step)
	}
	if len(program) != total {
		return nil, errDelta
	}
	return program, nil
}

package main

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// A module is one of our programs as its file has it (WebAssembly Core Specification 1.0, section 5.5). Only what is changed on its way into the page is taken
// apart here: what memory begins with.

var errModule = errors.New("this is no program for WebAssembly that can be taken apart")

// What is looked at: the section of the data, and two operations.
const (
	sectionData = 11
	opEnd       = 0x0b
	opI32Const  = 0x41
)

// A span is a part of a file.
type span struct{ at, end int }

// section finds the contents of a section; without it both ends are 0.
func section(program []byte, id byte) span {
	for at := 8; at < len(program); {
		n, size := binary.Uvarint(program[at+1:])
		from := at + 1 + size
		if size <= 0 || n > uint64(len(program)-from) {
			return span{}
		}
		if program[at] == id {
			return span{from, from + int(n)}
		}
		at = from + int(n)
	}
	return span{}
}

// appendSection begins a section of n bytes. Its length takes five bytes, as the linker writes it.
func appendSection(b []byte, id byte, n int) []byte {
	return append(b, id, byte(n)|128, byte(n>>7)|128, byte(n>>14)|128, byte(n>>21)|128, byte(n>>28))
}

// appendSigned writes a signed LEB128.
func appendSigned(b []byte, v int64) []byte {
	for v < -64 || v > 63 {
		b, v = append(b, byte(v)|128), v>>7
	}
	return append(b, byte(v)&127)
}

// signed reads a signed LEB128; n is 0 where there is none.
func signed(b []byte) (v int64, n int) {
	for shift := 0; n < len(b) && shift < 64; shift += 7 {
		x := b[n]
		v |= int64(x&127) << shift
		n++
		if x < 128 {
			if x&64 != 0 && shift+7 < 64 {
				v |= -1 << (shift + 7)
			}
			return v, n
		}
	}
	return 0, 0
}

// onePiece joins what a program's memory begins with, zeros between included. The linker leaves zeros out wherever eight stand together, which makes a hundred
// thousand pieces, each with its address: fewer bytes, but a twentieth more when they are packed, and nothing that another program's are like.
func onePiece(program []byte) ([]byte, error) {
	type piece struct {
		at    int
		bytes []byte
	}
	data := section(program, sectionData)
	if data.end == 0 {
		return nil, fmt.Errorf("%w: it has no data", errModule)
	}
	b := program[data.at:data.end]
	count, n := binary.Uvarint(b)
	b = b[max(n, 0):]
	var pieces []piece
	for range count {
		if len(b) < 2 || b[0] != 0 || b[1] != opI32Const {
			return nil, fmt.Errorf("%w: a piece of data has no address of its own", errModule)
		}
		at, n := signed(b[2:])
		if b = b[2+n:]; n == 0 || at < 0 || len(b) == 0 || b[0] != opEnd {
			return nil, fmt.Errorf("%w: the address of a piece of data", errModule)
		}
		size, n := binary.Uvarint(b[1:])
		if n <= 0 || size > uint64(len(b)-1-n) {
			return nil, fmt.Errorf("%w: the length of a piece of data", errModule)
		}
		pieces = append(pieces, piece{int(at), b[1+n : 1+n+int(size)]})
		b = b[1+n+int(size):]
	}
	if len(b) > 0 || len(pieces) == 0 {
		return nil, fmt.Errorf("%w: its data", errModule)
	}
	slices.SortFunc(pieces, func(a, b piece) int { return cmp.Compare(a.at, b.at) })
	var memory []byte
	for _, p := range pieces {
		gap := p.at - pieces[0].at - len(memory)
		if gap < 0 {
			return nil, fmt.Errorf("%w: two pieces of data lie over one another", errModule)
		}
		memory = append(append(memory, make([]byte, gap)...), p.bytes...)
	}
	contents := binary.AppendUvarint(append(appendSigned([]byte{1, 0, opI32Const}, int64(pieces[0].at)), opEnd), uint64(len(memory)))
	_, size := binary.Uvarint(program[data.at-5:]) // the linker's five bytes
	if size != 5 {
		return nil, fmt.Errorf("%w: the length of its data", errModule)
	}
	out := appendSection(slices.Clone(program[:data.at-6]), sectionData, len(contents)+len(memory))
	return append(append(append(out, contents...), memory...), program[data.end:]...), nil
}

package main

import (
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"slices"
)

// A module is one of our programs as its file has it (WebAssembly Core Specification 1.0, section 5.5). Only what is changed on its way into the page is taken
// apart here: the code of the functions and what memory begins with.

var errModule = errors.New("this is no program for WebAssembly that can be taken apart")

// Sections by their numbers.
const (
	sectionImport = 2
	sectionCode   = 10
	sectionData   = 11
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

// Operations that the build looks at, or writes.
const (
	opEnd      = 0x0b
	opCall     = 0x10
	opI32Const = 0x41
	opI64Const = 0x42
	opOwn      = 0xff // none of the specification's: see foresee.go
)

// What stands behind an operation: so many numbers, or one of these.
const (
	shapeBytes4 = iota + 3
	shapeBytes8
	shapeTable  // so many numbers and one
	shapePrefix // an operation in a second byte
	shapeEdited // a number that may be put otherwise, if it takes more than a byte
	shapeUnknown
)

// shapes are the operations that Go's compiler writes. web/program.js has the same.
var shapes = func() (shapes [256]byte) {
	for i := range shapes {
		shapes[i] = shapeUnknown
	}
	for _, r := range [][3]byte{
		{0x00, 0x01, 0}, {0x02, 0x04, 1}, {0x05, 0x05, 0}, {0x0b, 0x0b, 0}, {0x0c, 0x0d, 1}, {0x0e, 0x0e, shapeTable}, {0x0f, 0x0f, 0},
		{0x10, 0x10, shapeEdited}, {0x11, 0x11, 2}, {0x1a, 0x1b, 0}, {0x20, 0x26, 1}, {0x28, 0x3e, 2}, {0x3f, 0x40, 1}, {0x41, 0x42, shapeEdited},
		{0x43, 0x43, shapeBytes4}, {0x44, 0x44, shapeBytes8}, {0x45, 0xc4, 0}, {0xfc, 0xfc, shapePrefix}, {opOwn, opOwn, shapeEdited},
	} {
		for op := int(r[0]); op <= int(r[1]); op++ {
			shapes[op] = r[2]
		}
	}
	return shapes
}()

// A body is the code of one function in a program, behind its locals.
type body struct {
	span
	locals int // where those begin
}

// bodies finds the functions of a program, and how many imports are counted before them.
func bodies(program []byte) (functions []body, imports int, err error) {
	defer func() {
		if recover() != nil {
			err = fmt.Errorf("%w: its code", errModule)
		}
	}()
	code := section(program, sectionCode)
	number := func(at *int) int {
		v, n := binary.Uvarint(program[*at:])
		*at += n
		return int(v)
	}
	at := code.at
	for range number(&at) {
		size := number(&at)
		f := body{span{at, at + size}, at}
		groups := number(&f.at)
		if groups > 127 { // web/program.js reads one byte
			return nil, 0, fmt.Errorf("%w: a function with %d kinds of locals", errModule, groups)
		}
		for range groups {
			number(&f.at)
			f.at++
		}
		functions, at = append(functions, f), at+size
	}
	if imported := section(program, sectionImport); imported.end > 0 {
		imports = number(&imported.at)
	}
	if at != code.end {
		return nil, 0, fmt.Errorf("%w: its code", errModule)
	}
	return functions, imports, nil
}

// An operation stands in a program from at to end. A number that may be put otherwise stands from number on, else that is 0.
type operation struct {
	op              byte
	at, number, end int
	value           int
}

// operations calls each with the operations of a function, in order.
func operations(program []byte, f body, each func(operation)) (err error) {
	defer func() {
		if recover() != nil {
			err = fmt.Errorf("%w: a function that ends too soon", errModule)
		}
	}()
	at := f.at
	numbers := func(n int) {
		for ; n > 0; n-- {
			for program[at] > 127 {
				at++
			}
			at++
		}
	}
	for at < f.end {
		o := operation{op: program[at], at: at}
		at++
		switch shape := shapes[o.op]; shape {
		case shapeBytes4:
			at += 4
		case shapeBytes8:
			at += 8
		case shapeTable:
			n, size := binary.Uvarint(program[at:])
			at += size
			numbers(int(n) + 1)
		case shapePrefix:
			switch op := program[at]; {
			case op < 8: // numbers cut to whole ones
				at++
			case op == 10: // memory copied
				at += 3
			case op == 11: // memory filled
				at += 2
			default:
				return fmt.Errorf("%w: operation 0xfc %#02x is not known here", errModule, op)
			}
		case shapeEdited:
			v, n := signed(program[at:])
			if o.op == opOwn || n > 1 && v >= 0 && v < 1<<31 {
				o.number, o.value = at, int(v)
			}
			at += max(n, 1)
		case shapeUnknown:
			return fmt.Errorf("%w: operation %#02x is not known here", errModule, o.op)
		default:
			numbers(int(shape))
		}
		o.end = at
		each(o)
	}
	if at != f.end {
		return fmt.Errorf("%w: a function that ends too late", errModule)
	}
	return nil
}

// rewritten copies a program with numbers in its code put otherwise, as moved tells of an operation and its number; and with the places in a function's own code
// written as steps, or back: see foresee.go.
func rewritten(program []byte, moved func(op byte, v int) int) ([]byte, error) {
	functions, _, err := bodies(program)
	if err != nil {
		return nil, err
	}
	code := section(program, sectionCode)
	contents := binary.AppendUvarint(nil, uint64(len(functions)))
	var text []byte
	for i, f := range functions {
		text = text[:0]
		done, last, start := f.locals, 0, (firstFunction+i)<<16
		err := operations(program, f, func(o operation) {
			if o.number == 0 {
				return
			}
			op, v := o.op, o.value
			switch {
			case op == opOwn:
				last += v
				op, v = opI64Const, start+last
			case op == opI64Const && v>>16 == start>>16:
				op, v = opOwn, v-start-last
				last += v
			default:
				v = moved(op, v)
			}
			if op != o.op || v != o.value {
				text = appendSigned(append(append(text, program[done:o.at]...), op), int64(v))
				done = o.end
			}
		})
		if err != nil {
			return nil, err
		}
		text = append(text, program[done:f.end]...)
		contents = append(binary.AppendUvarint(contents, uint64(len(text))), text...)
	}
	out := appendSection(slices.Clone(program[:code.at-6]), sectionCode, len(contents))
	return append(append(out, contents...), program[code.end:]...), nil
}

// asItIs moves nothing.
func asItIs(_ byte, v int) int { return v }

// An image is what a program's memory begins with, in one piece.
type image struct {
	bytes []byte // in the program, not a copy
	base  int    // the address of its first byte
}

func imageOf(program []byte) (image, error) {
	data := section(program, sectionData)
	b := program[data.at:data.end]
	if len(b) < 4 || b[0] != 1 {
		return image{}, fmt.Errorf("%w: its data is not in one piece", errModule)
	}
	at, n := signed(b[3:])
	_, size := binary.Uvarint(b[4+n:])
	return image{b[4+n+size:], int(at)}, nil
}

func (m image) end() int          { return m.base + len(m.bytes) }
func (m image) word(at int) int   { return int(binary.LittleEndian.Uint32(m.bytes[at-m.base:])) }
func (m image) put(at int, v int) { binary.LittleEndian.PutUint32(m.bytes[at-m.base:], uint32(v)) }

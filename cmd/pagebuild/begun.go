package main

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"time"

	"github.com/tetratelabs/wazero"
	"github.com/tetratelabs/wazero/api"
)

// A Go program begins the same way each time: the run-time sets itself up, packages fill their tables, and the page's own program lays out what every job needs. That took a third of the time to a
// page that is ready. begun has a program do it while the page is built, up to its first wait, and writes the program anew with the memory and the registers it had then, so that it goes on from
// there: see web/begun.js. What is no different from one day and one browser to the next may be done before that wait, and nothing else: clock and random numbers are made up here.
//
// The program may ask its host for values of the global object by name, such as Object: these are told to the page, which hands them in anew, in a section of the program called "begun": JSON, a list of
// [number of the value that it was asked of, name], the first is value 7. A program that asks for anything else before its first wait is refused.
func begun(program []byte) ([]byte, error) {
	globals, err := variables(program)
	if err != nil {
		return nil, err
	}
	h := &host{}
	var memory []byte
	err = inside(withExports(program, len(globals)), h.functions(), func(ctx context.Context, m api.Module) error {
		const name, list = 4096, 4104 // where Go's loader writes what a program is called with: its name, "js", and no variables of the environment
		m.Memory().WriteString(name, "js\x00")
		m.Memory().WriteUint64Le(list, name)
		if _, err := m.ExportedFunction("run").Call(ctx, 1, list); err != nil {
			return err
		}
		if !h.waits {
			return errors.New("waits for nothing")
		}
		whole, _ := m.Memory().Read(0, m.Memory().Size())
		memory = bytes.Clone(whole)
		for i := range globals {
			globals[i].value = m.ExportedGlobal(exportedGlobal(i)).Get()
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("how the program begins: %w", err)
	}
	return writeBegun(program, globals, memory, h.known)
}

// inside does something in a program that is loaded, with what its host answers by name: each answer is told where the program's stack stands.
func inside(program []byte, answers map[string]func(m api.Module, sp uint32), do func(context.Context, api.Module) error) error {
	ctx := context.Background()
	runtime := wazero.NewRuntimeWithConfig(ctx, wazero.NewRuntimeConfigInterpreter())
	defer runtime.Close(ctx)
	builder := runtime.NewHostModuleBuilder("gojs")
	for _, name := range imported(program) {
		answer := answers[name]
		if answer == nil {
			answer = func(api.Module, uint32) { panic(fmt.Errorf("asks for %s", name)) }
		}
		builder.NewFunctionBuilder().WithGoModuleFunction(api.GoModuleFunc(func(_ context.Context, m api.Module, stack []uint64) { answer(m, api.DecodeU32(stack[0])) }),
			[]api.ValueType{api.ValueTypeI32}, nil).Export(name)
	}
	if _, err := builder.Instantiate(ctx); err != nil {
		return err
	}
	m, err := runtime.InstantiateWithConfig(ctx, program, wazero.NewModuleConfig().WithStartFunctions())
	if err != nil {
		return fmt.Errorf("%w: %w", errModule, err)
	}
	return do(ctx, m)
}

// A host is what a program finds around it while it begins.
type host struct {
	known []known // the values it asked for, from value 7 on
	waits bool
}

// A known value is one that is found by name in another.
type known struct {
	of   uint32
	name string
}

// MarshalJSON writes [of, "name"].
func (k known) MarshalJSON() ([]byte, error) { return json.Marshal([]any{k.of, k.name}) }

// The numbers of Go's values of JavaScript (syscall/js): global is 5, the loader 6, others follow. A value is a float64, and what is none is NaN with its kind and number.
const (
	valueGlobal  = 5
	valueFirst   = 7
	nanHead      = 0x7FF80000 << 32
	kindObject   = 1 << 32
	kindFunction = 4 << 32
	dawn         = 1_000_000 // seconds: a time before any clock that the program will see
)

// numbers are what Go's loader gives as constants of files, where there are none.
var numbers = map[string]float64{"O_WRONLY": -1, "O_RDWR": -1, "O_CREAT": -1, "O_TRUNC": -1, "O_APPEND": -1, "O_EXCL": -1, "O_DIRECTORY": -1}

// functions are what a program may ask for while it begins, by name: see inside. They leave their answers where those of Go's loader do.
func (h *host) functions() map[string]func(m api.Module, sp uint32) {
	return map[string]func(m api.Module, sp uint32){
		"runtime.resetMemoryDataView": func(api.Module, uint32) {},
		"runtime.nanotime1":           func(m api.Module, sp uint32) { m.Memory().WriteUint64Le(sp+8, uint64(dawn*time.Second)) },
		"runtime.walltime": func(m api.Module, sp uint32) {
			m.Memory().WriteUint64Le(sp+8, dawn)
			m.Memory().WriteUint32Le(sp+16, 0)
		},
		"runtime.getRandomData": func(m api.Module, sp uint32) {
			at, n := slice(m, sp+8)
			for i := range n { // the same each time, so that the same page comes of the same sources
				m.Memory().WriteByte(at+i, byte(37*i+101))
			}
		},
		"runtime.scheduleTimeoutEvent": func(m api.Module, sp uint32) {
			h.waits = true
			m.Memory().WriteUint32Le(sp+16, 1)
		},
		"runtime.wasmWrite": func(m api.Module, sp uint32) {
			at, _ := m.Memory().ReadUint64Le(sp + 16)
			n, _ := m.Memory().ReadUint32Le(sp + 24)
			text, _ := m.Memory().Read(uint32(at), n)
			panic(fmt.Errorf("says %s", text))
		},
		"runtime.wasmExit":       func(api.Module, uint32) { panic(fmt.Errorf("ends")) },
		"syscall/js.finalizeRef": func(api.Module, uint32) {},
		"syscall/js.valueGet":    h.get,
	}
}

// get gives a value of a value by its name: a constant, or what is known from then on by its number.
func (h *host) get(m api.Module, sp uint32) {
	of, _ := m.Memory().ReadUint32Le(sp + 8)
	at, n := slice(m, sp+16)
	text, _ := m.Memory().Read(at, n)
	name := string(text)
	if x, is := numbers[name]; is && of >= valueFirst {
		m.Memory().WriteUint64Le(sp+32, math.Float64bits(x))
		return
	}
	kind := uint64(kindFunction)
	switch {
	case of == valueGlobal && (name == "fs" || name == "process" || name == "path" || name == "crypto"), of >= valueFirst && name == "constants":
		kind = kindObject
	case of == valueGlobal && (name == "Object" || name == "Array" || name == "Uint8Array"):
	default:
		panic(fmt.Errorf("asks for %q of value %d", name, of))
	}
	number := 0
	for number < len(h.known) && h.known[number] != (known{of, name}) {
		number++
	}
	if number == len(h.known) {
		h.known = append(h.known, known{of, name})
	}
	m.Memory().WriteUint64Le(sp+32, nanHead|kind|uint64(valueFirst+number))
}

// slice reads where a slice or a string of the program's begins and how long it is.
func slice(m api.Module, at uint32) (from, n uint32) {
	from64, _ := m.Memory().ReadUint64Le(at)
	n64, _ := m.Memory().ReadUint64Le(at + 8)
	return uint32(from64), uint32(n64)
}

// A variable is one of the registers that a Go program keeps as global variables of its module: the stack, whether it waits, …
type variable struct {
	kind  byte // as the module writes it
	value uint64
}

const (
	sectionImport = 2
	sectionMemory = 5
	sectionGlobal = 6
	sectionExport = 7
	sectionCode   = 10
	kindI32       = 0x7f
	kindI64       = 0x7e
	opI64Const    = 0x42
	changing      = 1 // of a global variable
	exportsGlobal = 3
	noEnd         = 0 // of a memory that may grow on
	pageOf        = 65536
)

// variables are the global variables of a program, all of which change.
func variables(program []byte) ([]variable, error) {
	s := section(program, sectionGlobal)
	b := program[s.at:s.end]
	count, n := binary.Uvarint(b)
	b = b[max(n, 0):]
	var out []variable
	for range count {
		if len(b) < 4 || b[0] != kindI32 && b[0] != kindI64 || b[1] != changing {
			return nil, fmt.Errorf("%w: a global variable that is no changing whole number", errModule)
		}
		_, n := signed(b[3:])
		if n == 0 || len(b) < 4+n || b[3+n] != opEnd {
			return nil, fmt.Errorf("%w: what a global variable begins with", errModule)
		}
		out = append(out, variable{kind: b[0]})
		b = b[4+n:]
	}
	if len(out) == 0 || len(b) > 0 {
		return nil, fmt.Errorf("%w: its global variables", errModule)
	}
	return out, nil
}

// imported are the names of the functions a program takes from its host; all are of "gojs" and take one number, the stack's place.
func imported(program []byte) (names []string) {
	s := section(program, sectionImport)
	r := bytes.NewReader(program[s.at:s.end])
	text := func() string {
		n, _ := binary.ReadUvarint(r)
		b := make([]byte, min(n, uint64(r.Len())))
		_, _ = r.Read(b)
		return string(b)
	}
	for count, _ := binary.ReadUvarint(r); count > 0; count-- {
		text()
		names = append(names, text())
		_, _ = r.ReadByte()
		_, _ = binary.ReadUvarint(r)
	}
	return names
}

// exportedGlobal is the name under which a global variable can be read.
func exportedGlobal(i int) string { return fmt.Sprint("global ", i) }

// withExports is a program whose global variables can be read from outside.
func withExports(program []byte, globals int) []byte {
	s := section(program, sectionExport)
	count, n := binary.Uvarint(program[s.at:s.end])
	out := binary.AppendUvarint(nil, count+uint64(globals))
	out = append(out, program[s.at+n:s.end]...)
	for i := range globals {
		name := exportedGlobal(i)
		out = append(append(append(out, byte(len(name))), name...), exportsGlobal)
		out = binary.AppendUvarint(out, uint64(i))
	}
	return replaced(program, sectionExport, out)
}

// replaced is a program with another content of a section that it has.
func replaced(program []byte, id byte, content []byte) []byte {
	s := section(program, id)
	from := s.at - 1
	for ; ; from-- { // back over the length to the section's number
		if n, size := binary.Uvarint(program[from:]); program[from-1] == id && size == s.at-from && n == uint64(s.end-s.at) {
			break
		}
	}
	out := appendSection(bytes.Clone(program[:from-1]), id, len(content))
	return append(append(out, content...), program[s.end:]...)
}

// writeBegun puts the state of a program that has begun in the place of the one it begins with.
func writeBegun(program []byte, globals []variable, memory []byte, values []known) ([]byte, error) {
	content := binary.AppendUvarint(nil, uint64(len(globals)))
	for _, g := range globals {
		op, v := byte(opI64Const), int64(g.value)
		if g.kind == kindI32 {
			op, v = opI32Const, int64(int32(g.value))
		}
		content = append(appendSigned(append(content, g.kind, changing, op), v), opEnd)
	}
	out := replaced(program, sectionGlobal, content)
	out = replaced(out, sectionMemory, binary.AppendUvarint([]byte{1, noEnd}, uint64(len(memory)/pageOf)))
	out = replaced(out, sectionData, pieces(memory))
	code := section(out, sectionCode)
	out = replaced(out, sectionCode, out[code.at:code.end]) // its length takes five bytes then
	list, err := json.Marshal(values)
	if err != nil {
		return nil, err
	}
	const name = "begun"
	asked := append(append(append(appendSection(nil, 0, 1+len(name)+len(list)), byte(len(name))), name...), list...)
	return slices.Insert(out, section(out, sectionCode).at-6, asked...), nil // before the code, behind which the page looks for nothing but data
}

// pieces writes what a memory holds as data, in few pieces: only where there are many zeros are they left out.
func pieces(memory []byte) []byte {
	const many = 4096
	zeros := make([]byte, many)
	var count uint64
	var out []byte
	for at := 0; at < len(memory); {
		for at < len(memory) && memory[at] == 0 {
			at++
		}
		if at == len(memory) {
			break
		}
		end := len(memory)
		if n := bytes.Index(memory[at:], zeros); n >= 0 {
			end = at + n
		}
		b := bytes.TrimRight(memory[at:end], "\x00")
		out = append(appendSigned(append(out, 0, opI32Const), int64(at)), opEnd)
		out = append(binary.AppendUvarint(out, uint64(len(b))), b...)
		count, at = count+1, end
	}
	return append(binary.AppendUvarint(nil, count), out...)
}

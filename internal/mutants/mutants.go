// Package mutants asks whether the tests of a package would notice a fault. It plants small faults (mutants), one at a time, runs the tests that
// reach the place, and says which faults lived.
//
// All mutants of a package are compiled into one test binary, each behind a switch that is a number in the environment, so a mutant costs a run of a few
// tests and no build. Start with [Plant], which writes the package with its switches; then [Measure].
//
// Left out on purpose: judging whether a mutant that lived can be told from the code as it is. People do, and write what they found into the list that
// [ReadEquivalent] reads.
package mutants

import (
	"bufio"
	"fmt"
	"hash/fnv"
	"os"
	"strings"
)

// A Kind is what a mutant does to the code.
type Kind string

const (
	Boundary Kind = "boundary" // < becomes <=, and so on
	Negation Kind = "negation" // a comparison gives the opposite
	Arith    Kind = "arithmetic"
	IncDec   Kind = "inc-dec" // ++ becomes --
	Sign     Kind = "sign"    // -x becomes x
	Logical  Kind = "logical" // && becomes ||
	Guard    Kind = "guard"   // an if without else never holds
	Dropped  Kind = "dropped" // an assignment or a call that stands alone is left out
	Sibling  Kind = "sibling" // a field is read from its neighbour: V and H, front and rear, movable and stationary
)

// Classic says whether the kind is one of those that gremlins plants too, so that figures can be compared.
func (k Kind) Classic() bool {
	switch k {
	case Boundary, Negation, Arith, IncDec, Sign:
		return true
	}
	return false
}

// A Mutant is one fault that can be switched on.
type Mutant struct {
	Kind Kind
	File string // within the package
	Line int
	Func string // the function or method it stands in
	Text string // the code it changes, on one line, shortened
	Nth  int    // counts mutants of one kind, function and text, from 1
}

// Key names a mutant without its line, so that it stays the same while code around it moves.
func (m Mutant) Key() string {
	return fmt.Sprintf("%s | %s | %s | %s | %d", m.File, m.Func, m.Kind, m.Text, m.Nth)
}

// rank orders mutants for a sample: a number that depends on nothing but package and key, so the same code gives the same sample everywhere.
func (m Mutant) rank(pkg string) uint64 {
	h := fnv.New64a()
	fmt.Fprintf(h, "%s | %s", pkg, m.Key())
	x := h.Sum64() // FNV's high bits depend on the last bytes too little; mix them
	x ^= x >> 33
	x *= 0xff51afd7ed558ccd
	x ^= x >> 33
	return x
}

// ReadEquivalent reads the list of mutants that were looked at and may live. A line is `package | key => reason`; empty lines and those that start
// with # are left out. A line without a reason is an error.
func ReadEquivalent(path, pkg string) (map[string]string, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	out := map[string]string{}
	in := bufio.NewScanner(f)
	for n := 1; in.Scan(); n++ {
		line := strings.TrimSpace(in.Text())
		if line == "" || line[0] == '#' {
			continue
		}
		i := strings.LastIndex(line, " => ")
		if i < 0 || strings.TrimSpace(line[i+4:]) == "" {
			return nil, fmt.Errorf("%s:%d: a mutant without its reason", path, n)
		}
		if key, ok := strings.CutPrefix(line[:i], pkg+" | "); ok {
			out[key] = strings.TrimSpace(line[i+4:])
		}
	}
	return out, in.Err()
}

package main

import (
	"math"
	"runtime"
	"runtime/debug"
	"testing"
)

// TestCollector: nothing is collected by itself while collecting is put off, and after the first collection all goes its usual way.
func TestCollector(t *testing.T) {
	percent, limit := debug.SetGCPercent(100), debug.SetMemoryLimit(-1)
	defer func() { debug.SetGCPercent(percent); debug.SetMemoryLimit(limit) }()
	var c collector
	c.late()
	before := collections()
	for range 100 {
		waste = make([]byte, 1<<20)
	}
	if c.look(); collections() != before || c.usual {
		t.Fatalf("%d collections in the first 100 MB", collections()-before)
	}
	runtime.GC()
	if c.look(); !c.usual || debug.SetMemoryLimit(-1) != math.MaxInt64 {
		t.Error("after a collection the limit still holds")
	}
	before = collections()
	for range 100 {
		waste = make([]byte, 1<<20)
	}
	if waste = nil; collections() == before {
		t.Error("after a collection nothing is collected any more")
	}
}

var waste []byte

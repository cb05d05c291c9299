//go:build js && wasm

package main

import (
	"runtime"
	"runtime/debug"
	"time"

	"shimsheet/internal/desk"
	"shimsheet/internal/job"
)

// begin is what the program does before it is in any page: it is carried out when the page is built, and the page holds the program as it is then (cmd/pagebuild/begun.go). Nothing may be asked or
// kept here that differs from one day or browser to the next. What is random comes from the browser afterwards, for the run-time's own numbers would be the same in every page.
func begin(d *desk.Desk) {
	debug.SetGCPercent(-1) // until the first job is shown
	d.Begin()
	wipe()
	time.Sleep(time.Nanosecond) // here the program is written down, by a clock that stands still
	job.Random = random
}

// wipe leaves zeros where nothing is kept any more, for memory that goes into a page: the run-time gives it out once more, and zeroes what it gives out. A tenth of a megabyte of the page.
func wipe() {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	for _, c := range m.BySize {
		for range c.Frees {
			wiped = make([]byte, c.Size)
			pointers = make([]*byte, c.Size/8)
		}
	}
	for range m.HeapIdle >> 13 {
		wiped = make([]byte, 1<<13)
	}
	runtime.KeepAlive(wiped)
	runtime.KeepAlive(pointers)
	wiped, pointers = nil, nil
}

var ( // of the package, so that it comes out of the heap
	wiped    []byte
	pointers []*byte
)

// random gives 64 random bits of the browser's.
func random() uint64 {
	v := global.Get("crypto").Call("getRandomValues", global.Get("Uint32Array").New(2))
	return uint64(v.Index(0).Int())<<32 | uint64(v.Index(1).Int())
}

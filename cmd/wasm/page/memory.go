//go:build js && wasm

package main

import "runtime/debug"

// spare is held and never touched, so that the browser gives it no memory: it counts as in use when the next collection of garbage is set. A collection marks all that is in use in one go on the page's only
// thread, 50 to 100 ms in a list of 10,000 rows, and without spare there were several while such a list was opened.
var spare []byte

const (
	spareBytes = 48 << 20
	gcPercent  = 200 // of what is in use: with spare nothing is collected before 150 MB
	besidePage = 400 // in a worker: memory is cheaper there than collections, and all of it is given back
)

// collectLate has garbage collected from now on: a page starts without (begin).
func collectLate() {
	if spare == nil {
		spare = make([]byte, spareBytes)
		debug.SetGCPercent(gcPercent)
	}
}

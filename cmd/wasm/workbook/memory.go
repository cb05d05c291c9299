package main

import (
	"math"
	"runtime/debug"
)

// roomy is how many bytes the program may hold before anything is collected. Most files are done by then, and with the program all its memory goes; a fifth of the
// time of reading and writing 10,000 rows went into collecting.
const roomy = 700 << 20

// A collector puts garbage collection off.
type collector struct {
	had   int64 // collections before it was put off
	usual bool
}

// late has nothing collected before the program holds roomy bytes.
func (c *collector) late() {
	debug.SetMemoryLimit(roomy)
	debug.SetGCPercent(-1)
	c.had, c.usual = collections(), false
}

// look is called over and over while there is work: once collecting has begun it goes on in the usual way, for at a limit that what is used exceeds it would never end.
func (c *collector) look() {
	if c.usual || collections() == c.had {
		return
	}
	c.usual = true
	debug.SetGCPercent(100)
	debug.SetMemoryLimit(math.MaxInt64)
}

func collections() int64 {
	var s debug.GCStats
	debug.ReadGCStats(&s)
	return s.NumGC
}

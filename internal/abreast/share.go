//go:build !js

package abreast

import (
	"runtime"
	"sync"
	"sync/atomic"
)

func cores() int { return runtime.GOMAXPROCS(0) }

// share is Pieces with more than one worker. A panic of one is passed on to the caller when all have ended, as it would be without workers.
func share(workers, n, size int, start func(worker int) func(from, to int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	var once sync.Once
	var failed any
	run := func(work func(from, to int)) {
		defer func() {
			if p := recover(); p != nil {
				once.Do(func() { failed = p })
			}
		}()
		for {
			from := int(next.Add(int64(size))) - size
			if from >= n {
				return
			}
			work(from, min(from+size, n))
		}
	}
	work := make([]func(from, to int), workers)
	for k := range work {
		work[k] = start(k)
	}
	for _, w := range work[1:] {
		group.Go(func() { run(w) })
	}
	run(work[0])
	group.Wait()
	if failed != nil {
		panic(failed)
	}
}

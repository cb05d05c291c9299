package abreast

import (
	"runtime"
	"sync/atomic"
	"testing"
)

// Every number is given to one worker once, in pieces of the size asked for, whatever the number of cores.
func TestPieces(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, cores := range []int{1, 2, 7} {
		runtime.GOMAXPROCS(cores)
		for _, c := range [][2]int{{0, 5}, {1, 5}, {5, 5}, {6, 5}, {1000, 7}, {1000, 1}} {
			n, size := c[0], c[1]
			times := make([]atomic.Int32, n)
			busy := make([]atomic.Int32, cores)
			Pieces(n, size, func(worker int) func(from, to int) {
				if worker >= cores {
					t.Errorf("%d cores, and a worker %d", cores, worker)
				}
				return func(from, to int) {
					if from%size != 0 || to != min(from+size, n) {
						t.Errorf("%d of %d: a piece from %d to %d", size, n, from, to)
					}
					if busy[worker].Add(1) != 1 {
						t.Error("a worker has two pieces at a time")
					}
					for i := from; i < to; i++ {
						times[i].Add(1)
					}
					busy[worker].Add(-1)
				}
			})
			for i := range times {
				if k := times[i].Load(); k != 1 {
					t.Fatalf("%d cores, pieces of %d of %d: %d was given out %d times", cores, size, n, i, k)
				}
			}
		}
	}
}

// What one worker panics with reaches the caller, after the others have ended.
func TestPanicReachesCaller(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	var done atomic.Int32
	defer func() {
		if p := recover(); p != "piece 30" || done.Load() != 99 {
			t.Errorf("%v after %d pieces", p, done.Load())
		}
	}()
	Pieces(100, 1, func(int) func(int, int) {
		return func(from, _ int) {
			if from == 30 {
				panic("piece 30")
			}
			done.Add(1)
		}
	})
}

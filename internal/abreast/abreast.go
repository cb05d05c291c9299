// Package abreast shares work out between the cores of a machine. In a browser, which gives a program one, the work is done piece by piece in order.
package abreast

// Pieces cuts 0 … n-1 into pieces of size, the last one shorter, and calls work once for each. start is called once for each worker, one after another and before any work, and gives
// that worker's work, which is never called by two at a time: it may keep memory from piece to piece. Pieces begin in order; which worker gets which is left to chance. The first worker is
// the caller itself. Pieces returns when all work is done.
func Pieces(n, size int, start func(worker int) (work func(from, to int))) {
	workers := min(cores(), (n+size-1)/size)
	if workers <= 1 {
		work := start(0)
		for from := 0; from < n; from += size {
			work(from, min(from+size, n))
		}
		return
	}
	share(workers, n, size, start)
}

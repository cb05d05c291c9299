//go:build !(js && wasm)

package main

import "os"

// A runtime for workers is a WebAssembly one.
func main() {
	os.Stderr.WriteString("worker: build it with GOOS=js GOARCH=wasm; scripts/worker.sh does\n")
	os.Exit(2)
}

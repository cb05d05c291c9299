//go:build !js

package main

import "os"

// The program is for a Web Worker; natively only its tests run.
func main() {
	os.Stderr.WriteString("this program runs in a Web Worker of the page\n")
	os.Exit(2)
}

//go:build !js

package main

import (
	"os"
	"syscall"
)

// endings are the signals that end the program.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}

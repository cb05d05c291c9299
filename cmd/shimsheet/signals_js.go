package main

import (
	"os"
	"syscall"
)

// endings are the signals that end the program; here there is no terminal to lose.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM}

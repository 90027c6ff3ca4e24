package main

import (
	"os"
	"syscall"
)

// endings returns the signals that tell the program to end, where no terminal can close.
func endings() []os.Signal { return []os.Signal{os.Interrupt, syscall.SIGTERM} }

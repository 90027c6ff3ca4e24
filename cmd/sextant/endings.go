//go:build !js

package main

import (
	"os"
	"os/signal"
	"syscall"
)

// endings returns the signals that tell the program to end: Ctrl-C, being killed, and the closing of its terminal, but where
// nohup has it stay.
func endings() []os.Signal {
	all := []os.Signal{os.Interrupt, syscall.SIGTERM}
	if !signal.Ignored(syscall.SIGHUP) {
		all = append(all, syscall.SIGHUP)
	}
	return all
}

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
)

// windowProgram is the name of the program that shows the picture in a window of its own.
const windowProgram = "sextant-window"

// openPicture shows the moving picture: in a window where there is a display and the program for it, else
// in the browser.
func openPicture(ctx context.Context, stdout, stderr io.Writer) error {
	if hasDisplay() {
		if program, err := findWindow(); err == nil {
			cmd := exec.CommandContext(ctx, program)
			cmd.Stdout, cmd.Stderr = stdout, stderr
			if err := cmd.Run(); err != nil {
				return fmt.Errorf("%s: %w; \"sextant serve\" shows the picture in the browser", program, err)
			}
			return nil
		}
	}
	ctx, stop := signal.NotifyContext(ctx, endings()...)
	defer stop()
	s := serve{addr: "127.0.0.1:0", open: true}
	return s.run(ctx, stdout, stderr)
}

// hasDisplay reports whether someone sits before a screen of this machine: not where tests run.
func hasDisplay() bool {
	if os.Getenv("CI") != "" {
		return false
	}
	switch runtime.GOOS {
	case "darwin", "windows":
		return true
	}
	return os.Getenv("DISPLAY") != "" || os.Getenv("WAYLAND_DISPLAY") != ""
}

// findWindow returns the window's program: the one beside this program, else the one on PATH.
func findWindow() (string, error) {
	name := windowProgram
	if runtime.GOOS == "windows" {
		name += ".exe"
	}
	if self, err := os.Executable(); err == nil {
		beside := filepath.Join(filepath.Dir(self), name)
		if info, err := os.Stat(beside); err == nil && info.Mode().IsRegular() {
			return beside, nil
		}
	}
	path, err := exec.LookPath(name)
	if err != nil {
		return "", errors.New(windowProgram + " is neither beside this program nor on PATH")
	}
	return path, nil
}

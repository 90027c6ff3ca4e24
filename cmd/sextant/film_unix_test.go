//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
	"time"

	"sextant/render/film"
)

// Ctrl-C on a terminal reaches the program and the ffmpeg that it has started alike; neither leaves anything, and a file
// that was there stays as it was.
func TestCtrlCLeavesNoHalfFilm(t *testing.T) {
	names := []string{"a.gif", "a.png", "frames"}
	if _, err := film.FindFFmpeg(); err == nil {
		names = append(names, "a.mp4")
	}
	for _, name := range names {
		dir := t.TempDir()
		file := filepath.Join(dir, name)
		older := []byte("made before")
		if name != "frames" {
			if err := os.WriteFile(file, older, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		var said bytes.Buffer
		cmd := exec.Command("sextant", "film", "six-steps", "-o", file, "--size", "640x360", "--fps", "50")
		cmd.Stderr = &said
		cmd.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		for begun := false; !begun; time.Sleep(5 * time.Millisecond) {
			_, err := os.Stat(file + ".part")
			begun = err == nil
			if cmd.ProcessState != nil {
				t.Fatalf("%s: ended before it began: %s", name, said.String())
			}
		}
		if err := syscall.Kill(-cmd.Process.Pid, syscall.SIGINT); err != nil {
			t.Fatal(err)
		}
		err := cmd.Wait()
		if cmd.ProcessState.ExitCode() != failed || !strings.Contains(said.String(), "interrupted; no film was written") {
			t.Errorf("%s: %v, says %q", name, err, said.String())
		}
		left, _ := os.ReadDir(dir)
		if name == "frames" && len(left) == 0 {
			continue
		}
		if data, err := os.ReadFile(file); len(left) != 1 || err != nil || !bytes.Equal(data, older) {
			t.Errorf("%s: %v left, %v", name, left, err)
		}
	}
}

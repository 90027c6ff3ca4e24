//go:build unix

package main

import (
	"bytes"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// standIn puts a program of the window's name on PATH that notes that it ran, and returns where it notes it.
func standIn(t *testing.T, status string) (note string) {
	t.Helper()
	dir := t.TempDir()
	note = filepath.Join(dir, "note")
	script := "#!/bin/sh\necho shown > '" + note + "'\nexit " + status + "\n"
	if err := os.WriteFile(filepath.Join(dir, windowProgram), []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	t.Setenv("PATH", dir)
	return note
}

func TestOpenStartsTheWindow(t *testing.T) {
	note := standIn(t, "0")
	t.Setenv("CI", "")
	t.Setenv("DISPLAY", ":0")
	var out, said bytes.Buffer
	if err := openPicture(t.Context(), &out, &said); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(note); err != nil {
		t.Errorf("the window was not started: %v", err)
	}
}

func TestOpenSaysWhyTheWindowFailed(t *testing.T) {
	standIn(t, "3")
	t.Setenv("CI", "")
	t.Setenv("DISPLAY", ":0")
	err := openPicture(t.Context(), new(bytes.Buffer), new(bytes.Buffer))
	if err == nil || !strings.Contains(err.Error(), "sextant serve") {
		t.Errorf("the error is %v, which names no way out", err)
	}
}

// Without a display the browser edition is wanted, which is built with the Go tool, which is not on this PATH.
func TestOpenServesWithoutDisplay(t *testing.T) {
	note := standIn(t, "0")
	t.Setenv("DISPLAY", "")
	t.Setenv("WAYLAND_DISPLAY", "")
	err := openPicture(t.Context(), new(bytes.Buffer), new(bytes.Buffer))
	if err == nil || !strings.Contains(err.Error(), "Go tool") {
		t.Errorf("the error is %v, which does not say what is missing", err)
	}
	if _, err := os.Stat(note); err == nil {
		t.Error("the window was started without a display")
	}
}

func TestNobodySitsWhereTestsRun(t *testing.T) {
	t.Setenv("DISPLAY", ":0")
	t.Setenv("CI", "true")
	if hasDisplay() {
		t.Error("a browser would be opened on a machine that only runs tests")
	}
}

func TestServeOnATakenPort(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	s := serve{addr: l.Addr().String()}
	var said bytes.Buffer
	if err := s.run(t.Context(), new(bytes.Buffer), &said); err == nil || !strings.Contains(err.Error(), "address already in use") {
		t.Errorf("the error is %v", err)
	}
	if said.Len() > 0 {
		t.Errorf("built before it was known that it cannot be served: %s", said.String())
	}
}

func TestServeRefuses(t *testing.T) {
	for _, s := range []serve{{addr: "nonsense"}, {addr: "127.0.0.1:99999"}, {addr: "127.0.0.1:0", source: t.TempDir()}} {
		err := s.run(t.Context(), new(bytes.Buffer), new(bytes.Buffer))
		if err == nil || !isInputError(err) || !strings.HasPrefix(err.Error(), "--") {
			t.Errorf("%+v: the error is %v, and does not blame the flag", s, err)
		}
	}
}

package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"sextant/render/film"
)

// A film that is interrupted leaves nothing, and a file that was there as it was.
func TestInterruptedFilmLeavesNothing(t *testing.T) {
	for _, name := range []string{"a.gif", "a.png", "frames"} {
		dir := t.TempDir()
		ctx, cancel := context.WithCancel(t.Context())
		cmd := filmCommand()
		cmd.SilenceErrors, cmd.SilenceUsage = true, true
		cmd.SetArgs([]string{"trainer-six-step", "-o", filepath.Join(dir, name), "--size", "320x200", "--duration", "1h"})
		go func() { // once the film is under way
			for {
				if _, err := os.Stat(filepath.Join(dir, name+".part")); err == nil {
					cancel()
					return
				}
				time.Sleep(time.Millisecond)
			}
		}()
		if err := cmd.ExecuteContext(ctx); err == nil || !strings.Contains(err.Error(), "interrupted") {
			t.Errorf("%s: %v", name, err)
		}
		left, err := os.ReadDir(dir)
		if err != nil || len(left) > 0 {
			t.Errorf("%s: %v left, %v", name, left, err)
		}
	}
}

func TestFilmWithoutFFmpeg(t *testing.T) {
	t.Setenv("PATH", t.TempDir())
	if _, err := film.FindFFmpeg(); err == nil || !strings.Contains(err.Error(), "not on PATH") {
		t.Errorf("%v", err)
	}
}

func TestProgress(t *testing.T) {
	for _, tt := range []struct {
		k, n int
		took time.Duration
		want string
	}{
		{1, 100, 100 * time.Millisecond, "film [                              ] 1 of 100 frames, 10s left"},
		{50, 100, time.Minute, "film [===============               ] 50 of 100 frames, 1m0s left"},
		{100_000, 100_000, time.Hour, "film [==============================] 100000 of 100000 frames, 0s left"},
	} {
		if got := progress(tt.k, tt.n, tt.took); strings.TrimRight(got, " ") != tt.want || len(got) != columns-1 {
			t.Errorf("%q, want %q and blanks up to %d", got, tt.want, columns-1)
		}
	}
}

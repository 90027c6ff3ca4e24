package edition

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// Files holds the site: the content of each file by its name.
type Files map[string][]byte

const (
	programName = "sextant.wasm"    // for browsers that do not unpack
	packedName  = "sextant.wasm.gz" // the same, for all others
	runtimeName = "wasm_exec.js"
)

// Load returns how many bytes a browser loads that unpacks.
func (f Files) Load() (bytes uint64) {
	for name, data := range f {
		if name != programName {
			bytes += uint64(len(data))
		}
	}
	return bytes
}

// Build returns the browser edition of the source in the folder root, from the user's cache if it was
// built before, and tells progress what takes long. It needs the Go tool, and fails with what that says.
func Build(ctx context.Context, root string, progress io.Writer) (Files, error) {
	tool, err := exec.LookPath("go")
	if err != nil {
		return nil, errors.New("the browser edition is built with the Go tool, which is not on PATH; get it from go.dev/dl")
	}
	facts, err := run(ctx, root, nil, tool, "env", "GOROOT", "GOVERSION")
	if err != nil {
		return nil, err
	}
	goroot, version, _ := strings.Cut(strings.TrimSpace(facts), "\n")
	name, err := fingerprint(root, version)
	if err != nil {
		return nil, err
	}
	cache, err := os.UserCacheDir()
	if err != nil {
		return nil, errors.New("the browser edition is kept in the user's cache, and there is none; set HOME")
	}
	kept := filepath.Join(cache, "sextant")
	dir := filepath.Join(kept, name)
	if _, err := os.Stat(dir); err != nil {
		if err := os.MkdirAll(kept, 0o755); err != nil {
			return nil, err
		}
		stop := tick(progress, "building the browser edition, once for this version")
		err := build(ctx, root, goroot, tool, kept, dir)
		stop(err)
		if err != nil {
			return nil, err
		}
		prune(kept, name)
	}
	return load(os.DirFS(dir))
}

// build makes the folder dir, whole or not at all.
func build(ctx context.Context, root, goroot, tool, kept, dir string) error {
	aside, err := os.MkdirTemp(kept, "new-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(aside)
	program := filepath.Join(aside, programName)
	_, err = run(ctx, root, []string{"GOOS=js", "GOARCH=wasm", "CGO_ENABLED=0"}, tool,
		"build", "-trimpath", "-buildvcs=false", "-ldflags=-s -w", "-o", program, "./cmd/sextant-window")
	if err != nil {
		return err
	}
	if err := copyFile(filepath.Join(goroot, "lib", "wasm", runtimeName), aside, runtimeName); err != nil {
		return err
	}
	if err := pack(program, filepath.Join(aside, packedName)); err != nil {
		return err
	}
	if err := os.Remove(program); err != nil {
		return err
	}
	if err := os.Rename(aside, dir); err != nil {
		if _, there := os.Stat(dir); there == nil {
			return nil // another run was faster
		}
		return err
	}
	return nil
}

// load returns the site whose built files lie in built.
func load(built fs.FS) (Files, error) {
	files, err := page()
	if err != nil {
		return nil, err
	}
	for _, name := range []string{packedName, runtimeName} {
		if files[name], err = fs.ReadFile(built, name); err != nil {
			return nil, err
		}
	}
	if files[programName], err = unpack(files[packedName]); err != nil {
		return nil, fmt.Errorf("%s: %w", packedName, err)
	}
	return files, files.complete()
}

// prune removes all but the newest few editions from the cache, and never the one named keep.
func prune(kept, keep string) {
	const few = 4
	entries, err := os.ReadDir(kept)
	if err != nil {
		return
	}
	age := func(e os.DirEntry) time.Time {
		info, err := e.Info()
		if err != nil {
			return time.Time{}
		}
		return info.ModTime()
	}
	slices.SortFunc(entries, func(a, b os.DirEntry) int { return age(b).Compare(age(a)) })
	for i, e := range entries {
		if i >= few && e.Name() != keep {
			os.RemoveAll(filepath.Join(kept, e.Name()))
		}
	}
}

// run returns what a command prints; where it fails, the error holds what it said.
func run(ctx context.Context, dir string, environment []string, name string, args ...string) (string, error) {
	cmd := exec.CommandContext(ctx, name, args...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), environment...)
	var out, said bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &said
	if err := cmd.Run(); err != nil {
		if ctx.Err() != nil {
			return "", ctx.Err()
		}
		return "", fmt.Errorf("go %s: %w\n%s", args[0], err, strings.TrimSpace(said.String()))
	}
	return out.String(), nil
}

// tick writes what is being done, and the seconds gone by, until the returned function is called with how
// it ended.
func tick(w io.Writer, what string) (stop func(error)) {
	start := time.Now()
	seconds := func() int { return int(time.Since(start).Round(time.Second).Seconds()) }
	fmt.Fprintf(w, "sextant: %s ...\n", what)
	done := make(chan struct{})
	finished := make(chan struct{})
	go func() {
		defer close(finished)
		ticker := time.NewTicker(10 * time.Second)
		defer ticker.Stop()
		for {
			select {
			case <-ticker.C:
				fmt.Fprintf(w, "sextant: ... %d s\n", seconds())
			case <-done:
				return
			}
		}
	}()
	return func(err error) {
		close(done)
		<-finished
		if err == nil {
			fmt.Fprintf(w, "sextant: built in %d s\n", seconds())
		}
	}
}

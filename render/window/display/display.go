// Package display gives a test a display of its own, without a screen.
package display

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// Start starts a virtual X server with one screen of width by height pixels, which the end of the test
// stops, and returns its name, like ":99", for the environment variable DISPLAY. Where that cannot be
// had, the test fails.
func Start(tb testing.TB, width, height int) string {
	tb.Helper()
	server, err := exec.LookPath("Xvfb")
	if err != nil {
		tb.Fatal("no Xvfb on this machine for a test that needs a display; run .ci/setup")
	}
	read, write, err := os.Pipe()
	if err != nil {
		tb.Fatal(err)
	}
	defer read.Close()
	var said strings.Builder
	cmd := exec.Command(server, "-displayfd", "3", "-nolisten", "tcp", "-noreset",
		"-screen", "0", fmt.Sprintf("%dx%dx24", width, height))
	cmd.ExtraFiles = []*os.File{write} // becomes descriptor 3, on which the server tells its number
	cmd.Stdout, cmd.Stderr = &said, &said
	err = cmd.Start()
	write.Close()
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() {
		cmd.Process.Kill()
		cmd.Wait()
	})
	number, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		cmd.Process.Kill()
		cmd.Wait()
		tb.Fatalf("Xvfb did not start: %v\n%s", err, said.String())
	}
	return ":" + strings.TrimSpace(number)
}

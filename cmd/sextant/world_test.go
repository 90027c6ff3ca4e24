package main

import (
	"net"
	"os"
	"strings"
	"testing"
)

// A port that is taken is known before anything is built, and what to do about it is said.
func TestTakenPort(t *testing.T) {
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	var stdout, stderr strings.Builder
	got := run([]string{"serve", "--open=false", "--addr", l.Addr().String()}, os.Stdin, &stdout, &stderr)
	if got != failed || stdout.Len() > 0 || !strings.Contains(stderr.String(), "--addr takes another address") || strings.Count(stderr.String(), "\n") != 1 {
		t.Errorf("status %d: %s%s", got, stdout.String(), stderr.String())
	}
}

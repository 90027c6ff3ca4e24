package main

import (
	"bytes"
	"net"
	"strings"
	"testing"
)

// Whom to allow is refused before anything is built, where it is no origin or where nothing is served.
func TestServeRefusesEmbedders(t *testing.T) {
	for _, tt := range []struct {
		s    serve
		want string
	}{
		{serve{addr: "127.0.0.1:0", embed: []string{"https://course.example", "course.example/page"}}, `"course.example/page" is not where a page comes from`},
		{serve{out: t.TempDir(), embed: []string{"https://course.example"}}, "whoever serves the files"},
	} {
		var said bytes.Buffer
		err := tt.s.run(t.Context(), &said, &said)
		if err == nil || !isInputError(err) || !strings.Contains(err.Error(), tt.want) || said.Len() > 0 {
			t.Errorf("%v: %v, said %q; want %q", tt.s.embed, err, &said, tt.want)
		}
	}
}

// What listens on all addresses is found by the machine's own name for itself: no browser goes to "all".
func TestReached(t *testing.T) {
	for listens, want := range map[string]string{
		"127.0.0.1:80": "127.0.0.1:80", "[::1]:8080": "[::1]:8080", "192.0.2.7:1": "192.0.2.7:1",
		"0.0.0.0:8080": "localhost:8080", "[::]:8080": "localhost:8080",
	} {
		addr, err := net.ResolveTCPAddr("tcp", listens)
		if err != nil {
			t.Fatal(err)
		}
		if got := reached(addr); got != want {
			t.Errorf("%s is reached at %s, want %s", listens, got, want)
		}
	}
}

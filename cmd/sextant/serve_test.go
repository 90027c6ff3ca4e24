package main

import (
	"bytes"
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

package edition

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
)

// A part of a file is sent to whoever asks for it; more in all than the file holds is not.
func TestRanges(t *testing.T) {
	files := site(t)
	style := []byte("main { color: black; background: white }")
	files["sextant.css"] = style
	n := len(style)
	for _, tt := range []struct {
		ranges string
		status int
		body   string
	}{
		{"bytes=0-3", http.StatusPartialContent, string(style[:4])},
		{"bytes=-4", http.StatusPartialContent, string(style[n-4:])},
		{fmt.Sprintf("bytes=%d-", n-1), http.StatusPartialContent, string(style[n-1:])},
		{fmt.Sprintf("bytes=%d-", n), http.StatusRequestedRangeNotSatisfiable, ""},
		{"bytes=9-1", http.StatusRequestedRangeNotSatisfiable, ""},
		{"bytes=0-99999999999999999999", http.StatusRequestedRangeNotSatisfiable, ""},
		{"bytes=" + strings.Repeat("0-,", 1000) + "0-", http.StatusOK, string(style)},
	} {
		r := get(t, files.handler(here), "GET", "/sextant.css", "localhost:8080", "Range", tt.ranges)
		body, err := io.ReadAll(r.Body)
		if err != nil || r.StatusCode != tt.status || tt.body != "" && string(body) != tt.body {
			t.Errorf("%.40s: %s, %q, %v; want %d, %q", tt.ranges, r.Status, body, err, tt.status, tt.body)
		}
	}
}

// A file that a browser has is not sent again while it is the same, whatever the clock says; one of another edition is.
func TestUnchanged(t *testing.T) {
	files := site(t)
	first := get(t, files.handler(here), "GET", "/sextant.css", "localhost:8080")
	tag := first.Header.Get("ETag")
	if tag == "" || first.Header.Get("Last-Modified") != "" {
		t.Errorf("told apart by %q, %q", tag, first.Header.Get("Last-Modified"))
	}
	again := []string{"If-None-Match", tag, "If-Modified-Since", "Fri, 01 Jan 2100 00:00:00 GMT"}
	if r := get(t, files.handler(here), "GET", "/sextant.css", "localhost:8080", again...); r.StatusCode != http.StatusNotModified {
		t.Errorf("the same: %s", r.Status)
	}
	files["sextant.css"] = []byte("q{}")
	r := get(t, files.handler(here), "GET", "/sextant.css", "localhost:8080", again...)
	if body, err := io.ReadAll(r.Body); r.StatusCode != http.StatusOK || string(body) != "q{}" || err != nil {
		t.Errorf("another: %s, %q, %v", r.Status, body, err)
	}
}

// An old client is answered and hung up on, if it names the host; one that does not might be anybody's.
func TestOldProtocol(t *testing.T) {
	for request, status := range map[string]int{
		"GET /sextant.css HTTP/1.0\r\nHost: HOST\r\n\r\n": http.StatusOK,
		"GET /sextant.css HTTP/1.0\r\n\r\n":               http.StatusMisdirectedRequest,
		"GET /sextant.css\r\n\r\n":                        http.StatusBadRequest,
		"GET /sextant.css HTTP/3.0\r\nHost: HOST\r\n\r\n": http.StatusHTTPVersionNotSupported,
	} {
		r := ask(t, request)
		if _, err := io.ReadAll(r.Body); err != nil || r.StatusCode != status || !r.Close {
			t.Errorf("%q: %s, hung up %v, %v; want %d", request, r.Status, r.Close, err, status)
		}
	}
}

// Two hundred clients at once, half of whom say nothing, keep no other waiting, and each that asks gets all.
func TestCrowd(t *testing.T) {
	files := site(t)
	program := []byte(strings.Repeat(wasm, 1<<17)) // more than sockets take at once
	files[programName] = program
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := newServer(files.handler(l.Addr()))
	go server.Serve(l)
	defer server.Close()
	address := l.Addr().String()
	var crowd sync.WaitGroup
	for k := range 200 {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if k%2 == 0 {
			continue
		}
		crowd.Go(func() {
			_, asked := fmt.Fprintf(c, "GET /sextant.wasm HTTP/1.1\r\nHost: %s\r\n\r\n", address)
			r, err := http.ReadResponse(bufio.NewReader(c), nil)
			if err = errors.Join(asked, err); err != nil {
				t.Error(err)
				return
			}
			if body, err := io.ReadAll(r.Body); err != nil || !bytes.Equal(body, program) {
				t.Errorf("%s, %d of %d bytes, %v", r.Status, len(body), len(program), err)
			}
		})
	}
	crowd.Wait()
}

package edition

import (
	"bufio"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"testing"
	"time"
)

// dial serves a small site, as impatiently as the test says, and returns a connection to it.
func dial(t *testing.T, alter func(*http.Server)) net.Conn {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	server := newServer(site(t).handler(l.Addr()))
	alter(server)
	go server.Serve(l)
	t.Cleanup(func() { server.Close() })
	c, err := net.Dial("tcp", l.Addr().String())
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { c.Close() })
	return c
}

// ask sends a request as it stands, HOST and PORT being the server's, and returns the answer.
func ask(t *testing.T, request string) *http.Response {
	t.Helper()
	c := dial(t, func(*http.Server) {})
	host := c.RemoteAddr().String()
	_, port, _ := strings.Cut(host, ":")
	fmt.Fprint(c, strings.NewReplacer("HOST", host, "PORT", port).Replace(request))
	r, err := http.ReadResponse(bufio.NewReader(c), nil)
	if err != nil {
		t.Fatalf("%.60q: %v", request, err)
	}
	return r
}

// What no client of ours would send: sent by hand, as they are, past the cleaning that clients do.
func TestServerRefuses(t *testing.T) {
	for _, tt := range []struct {
		request string
		status  int
	}{
		{"GET /sextant.css HTTP/1.1\r\nHost: HOST\r\n\r\n", 200},
		{"GET /../../../../etc/passwd HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET /..%2f..%2fetc%2fpasswd HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET /%2e%2e/%2e%2e/etc/passwd HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET /..\\..\\go.mod HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET //etc/passwd HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET /sextant.css%00.html HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET file:///etc/passwd HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET /sextant.css/ HTTP/1.1\r\nHost: HOST\r\n\r\n", 404},
		{"GET /?focus=wheel HTTP/1.1\r\nHost: HOST\r\n\r\n", 200},
		{"GET / HTTP/1.1\r\n\r\n", 400},
		{"GET / HTTP/1.1\r\nHost: HOST\r\nHost: evil.example\r\n\r\n", 400},
		{"GET / HTTP/1.1\r\nHost: evil.example\r\n\r\n", 421},
		{"GET / HTTP/1.1\r\nHost: evil.example:PORT\r\n\r\n", 421},
		{"GET / HTTP/1.1\r\nHost: localhost:PORT\r\n\r\n", 200},
		{"GET http://evil.example/ HTTP/1.1\r\nHost: HOST\r\n\r\n", 421},
		{"GET / HTTP/1.1\r\nHost: localhost.evil.example\r\n\r\n", 421},
		{"PUT /sextant.css HTTP/1.1\r\nHost: HOST\r\nContent-Length: 1\r\n\r\nx", 405},
		{"DELETE /sextant.css HTTP/1.1\r\nHost: HOST\r\n\r\n", 405},
		{"OPTIONS * HTTP/1.1\r\nHost: HOST\r\n\r\n", 405},
		{"TRACE / HTTP/1.1\r\nHost: HOST\r\n\r\n", 405},
		{"CONNECT evil.example:443 HTTP/1.1\r\nHost: evil.example:443\r\n\r\n", 421},
		{"GET / HTTP/1.1\r\nHost: HOST\r\nX-Long: " + strings.Repeat("a", 1<<20) + "\r\n\r\n", 431},
		{"GET /" + strings.Repeat("a", 1<<20) + " HTTP/1.1\r\nHost: HOST\r\n\r\n", 431},
		{"nonsense\r\n\r\n", 400},
	} {
		r := ask(t, tt.request)
		body, _ := io.ReadAll(r.Body)
		if r.StatusCode != tt.status {
			t.Errorf("%.60q: %s, want %d", tt.request, r.Status, tt.status)
		}
		if strings.Contains(string(body), "root:") || len(body) > 100 {
			t.Errorf("%.60q got %.100q", tt.request, body)
		}
	}
}

// A client that dawdles is hung up on, be it over its header or over what it is sent; the server's own patience
// is shortened here.
func TestServerHangsUpOnTheSlow(t *testing.T) {
	short := func(s *http.Server) { s.ReadHeaderTimeout, s.ReadTimeout = 20*time.Millisecond, 20*time.Millisecond }
	for _, sent := range []string{"", "GET / HT", "GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: "} {
		c := dial(t, short)
		io.WriteString(c, sent)
		c.SetReadDeadline(time.Now().Add(time.Minute))
		if answer, err := io.ReadAll(c); err != nil {
			t.Errorf("after %q it still listens: %v, %q", sent, err, answer)
		}
	}
	s := newServer(nil)
	if s.ReadHeaderTimeout == 0 || s.ReadTimeout == 0 || s.WriteTimeout == 0 || s.IdleTimeout == 0 || s.MaxHeaderBytes == 0 {
		t.Errorf("a limit is missing: %+v", s)
	}
}

// A server that is told to end does so though a client keeps a connection open.
func TestServeEndsWithAClientThere(t *testing.T) {
	address, stop := serve(t, site(t))
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	io.WriteString(c, "GET / HT")
	stop()
}

func TestEmbedders(t *testing.T) {
	for _, good := range []string{"https://course.example", "http://127.0.0.1:8080", "http://[::1]:8080", "http://localhost", "https://a-b.c.example:8443"} {
		e, err := ParseEmbedder(good)
		if err != nil {
			t.Error(err)
			continue
		}
		r := get(t, site(t).handler(here, e, "https://other.example"), "GET", "/", "localhost:8080")
		if got := r.Header.Get("Content-Security-Policy"); !strings.HasSuffix(got, "; frame-ancestors 'self' "+good+" https://other.example") {
			t.Errorf("the policy is %q", got)
		}
	}
	for _, bad := range []string{
		"", "*", "course.example", "https://", "ftp://course.example", "https://course.example/", "https://course.example/path", "https://u@course.example",
		"https://course.example; script-src *", "https://course.example 'unsafe-inline'", "https://a\r\nSet-Cookie: b", "https://course.example:", "https://Course.example", "https://a..b",
	} {
		if e, err := ParseEmbedder(bad); err == nil || !strings.Contains(err.Error(), "like https://") {
			t.Errorf("%q is taken as %q, %v", bad, e, err)
		}
	}
	r := get(t, site(t).handler(here), "GET", "/", "localhost:8080")
	if got := r.Header.Get("Content-Security-Policy"); !strings.HasSuffix(got, "; frame-ancestors 'self'") {
		t.Errorf("unasked, the policy is %q", got)
	}
}

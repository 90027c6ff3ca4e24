package edition

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"net"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"
)

// Serve answers requests on the listener until ctx ends, then finishes those under way and returns nil. Pages of its
// own origin may embed it, and those of embedders.
func (f Files) Serve(ctx context.Context, l net.Listener, embedders ...Embedder) error {
	server := newServer(f.handler(l.Addr(), embedders...))
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(l) }()
	select {
	case err := <-ended:
		return err
	case <-ctx.Done():
		grace, cancel := context.WithTimeout(context.Background(), 2*time.Second)
		defer cancel()
		if err := server.Shutdown(grace); err != nil && !errors.Is(err, context.DeadlineExceeded) {
			return err
		}
		return nil
	}
}

// newServer returns a server that neither waits long for a client nor reads much from it.
func newServer(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 5 * time.Second,
		ReadTimeout:       10 * time.Second,
		WriteTimeout:      2 * time.Minute,
		IdleTimeout:       time.Minute,
		MaxHeaderBytes:    16 << 10,

		DisableGeneralOptionsHandler: true, // which would answer past the handler
	}
}

// handler serves the site to requests that name a host by number, or as localhost: a page of a foreign
// host that has its name resolve to this address is turned away.
func (f Files) handler(addr net.Addr, embedders ...Embedder) http.Handler {
	tags := map[string]string{} // by what files hold: clocks are set back, and editions follow each other in a second
	for name, data := range f {
		sum := sha256.Sum256(data)
		tags[name] = `"` + hex.EncodeToString(sum[:16]) + `"`
	}
	policy := pagePolicy + "; frame-ancestors 'self'"
	for _, e := range embedders {
		policy += " " + string(e)
	}
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h := w.Header()
		h.Set("Content-Security-Policy", policy)
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Referrer-Policy", "no-referrer")
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cache-Control", "no-cache")
		if !ownHost(r.Host, addr) {
			http.Error(w, "this server answers to its address only", http.StatusMisdirectedRequest)
			return
		}
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			h.Set("Allow", "GET, HEAD")
			http.Error(w, "only GET and HEAD are answered", http.StatusMethodNotAllowed)
			return
		}
		name := strings.TrimPrefix(r.URL.Path, "/")
		if name == "" {
			name = pageName
		}
		data, ok := f[name]
		if !ok {
			http.NotFound(w, r)
			return
		}
		h.Set("Content-Type", contentTypes[path.Ext(name)])
		h.Set("ETag", tags[name])
		http.ServeContent(w, r, name, time.Time{}, bytes.NewReader(data))
	})
}

// ownHost reports whether the Host of a request is an address or localhost, at addr's port.
func ownHost(host string, addr net.Addr) bool {
	name, port, err := net.SplitHostPort(host)
	if err != nil {
		name, port = host, "80"
	}
	if tcp, ok := addr.(*net.TCPAddr); ok && port != strconv.Itoa(tcp.Port) {
		return false
	}
	return name == "localhost" || net.ParseIP(strings.Trim(name, "[]")) != nil
}

// contentTypes are fixed here, as a system's own table may say otherwise.
var contentTypes = map[string]string{
	".css":         "text/css; charset=utf-8",
	".gz":          "application/gzip",
	".html":        "text/html; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".png":         "image/png",
	".svg":         "image/svg+xml",
	".wasm":        "application/wasm",
	".webmanifest": "application/manifest+json",
}

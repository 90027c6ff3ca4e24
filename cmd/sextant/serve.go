package main

import (
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"os/signal"
	"runtime"
	"strconv"

	"github.com/dustin/go-humanize"
	"github.com/spf13/cobra"

	"sextant/cmd/sextant/edition"
)

// serve is what the command of that name was asked for.
type serve struct {
	addr   string // to listen on; port 0 takes a free one
	out    string // folder to write to instead
	source string // of the module
	embed  []string
	open   bool // the browser, where there is one
}

func serveCommand() *cobra.Command {
	s := serve{}
	cmd := &cobra.Command{
		Use:   "serve",
		Short: "Show the moving picture in the browser",
		Long: `Serve the browser edition of the moving picture on this machine only, and open
the browser. A released sextant has it inside; else it is built the first time,
with the Go tool from the source of sextant, and kept for later. End it with
Ctrl-C.

With --out it is written as files for any web server or learning platform, at
any address there. Whoever serves them decides which pages may embed them, by
the header Content-Security-Policy: frame-ancestors.`,
		Example: `  sextant serve
  sextant serve --addr 127.0.0.1:8080 --open=false
  sextant serve --embed https://course.example
  sextant serve --out site`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(c.Context(), endings()...)
			defer stop()
			return s.run(ctx, c.OutOrStdout(), c.ErrOrStderr())
		},
	}
	f := cmd.Flags()
	f.StringVar(&s.addr, "addr", "127.0.0.1:0", "`address` to listen on; port 0 takes a free one")
	f.StringVar(&s.out, "out", "", "write a static site into this `folder` instead of serving")
	f.StringVar(&s.source, "source", "", "`folder` with the source of sextant; default: here, or where this was built")
	f.StringArrayVar(&s.embed, "embed", nil, "let pages of this `origin`, like https://course.example, show the picture in a frame; may be given again")
	f.BoolVar(&s.open, "open", true, "open the browser, where there is one; --open=false does not")
	return cmd
}

func (s *serve) run(ctx context.Context, stdout, stderr io.Writer) error {
	var embedders []edition.Embedder
	for _, text := range s.embed {
		e, err := edition.ParseEmbedder(text)
		if err != nil {
			return usage("--embed: %w", err)
		}
		embedders = append(embedders, e)
	}
	if len(embedders) > 0 && s.out != "" {
		return usage("--embed is for serving; with --out, whoever serves the files says who may embed them")
	}
	var l net.Listener
	if info, err := os.Stat(s.out); err == nil && !info.IsDir() {
		return fmt.Errorf("%s is a file; give a folder", s.out)
	}
	if s.out == "" { // a port that is taken is better known before a long build
		if _, err := net.ResolveTCPAddr("tcp", s.addr); err != nil {
			return usage("--addr: %q is no address: %w; give one like 127.0.0.1:8080", s.addr, err)
		}
		var err error
		if l, err = net.Listen("tcp", s.addr); err != nil {
			return fmt.Errorf("%w; --addr takes another address, and port 0 there a free port", err)
		}
		defer l.Close()
	}
	files, err := s.files(ctx, stderr)
	if err != nil {
		return err
	}
	if s.out != "" {
		if err := files.Write(s.out); err != nil {
			return err
		}
		fmt.Fprintf(stdout, "wrote the site to %s: %d files, %s to load; serve that folder with any web server\n",
			s.out, len(files), humanize.Bytes(files.Load()))
		return nil
	}
	url := "http://" + reached(l.Addr()) + "/"
	if tcp, ok := l.Addr().(*net.TCPAddr); ok && !tcp.IP.IsLoopback() {
		fmt.Fprintf(stderr, "sextant: %v can be reached from other machines\n", l.Addr())
	}
	fmt.Fprintf(stdout, "the picture is at %s: %d files, %s to load, nothing else is served (Ctrl-C ends this)\n",
		url, len(files), humanize.Bytes(files.Load()))
	if s.open && hasDisplay() {
		openBrowser(url)
	}
	return files.Serve(ctx, l, embedders...)
}

// reached returns where a browser on this machine finds what listens on an address, which may be all that there are.
func reached(addr net.Addr) string {
	if tcp, ok := addr.(*net.TCPAddr); ok && tcp.IP.IsUnspecified() {
		return net.JoinHostPort("localhost", strconv.Itoa(tcp.Port))
	}
	return addr.String()
}

// files returns the edition that is inside this program, or one built from source.
func (s *serve) files(ctx context.Context, stderr io.Writer) (edition.Files, error) {
	if s.source == "" {
		if files, ok, err := edition.Embedded(); ok {
			return files, err
		}
	}
	source, err := edition.FindSource(s.source)
	switch {
	case err != nil && s.source != "":
		return nil, usage("--source: %w", err)
	case err != nil:
		return nil, err
	}
	return edition.Build(ctx, source, stderr)
}

// openBrowser asks the desktop to show url; where it cannot, the user has the URL and loses nothing.
func openBrowser(url string) {
	opener := []string{"xdg-open"}
	switch runtime.GOOS {
	case "darwin":
		opener = []string{"open"}
	case "windows":
		opener = []string{"rundll32", "url.dll,FileProtocolHandler"}
	}
	cmd := exec.Command(opener[0], append(opener[1:], url)...)
	if cmd.Start() == nil {
		go cmd.Wait()
	}
}

package display_test

import (
	"bufio"
	"bytes"
	"flag"
	"fmt"
	"image"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/jezek/xgb/xproto"

	"sextant/render/window/display"
	"sextant/render/window/show"
)

var (
	soak = flag.Duration("soak", 6*time.Second, "how long the random hand uses the program")
	seed = flag.Uint64("seed", 1, "of the random hand")
)

const (
	longSoak = 5 * time.Minute // from which on there are enough collections to compare
	mostHeap = 1 << 7          // MB that may live at any time
)

// TestSoak gives the program to a hand that strikes, clicks, drags and resizes at random, and watches memory, threads and
// goroutines. What lives after each garbage collection is told by the Go runtime itself.
func TestSoak(t *testing.T) {
	const width, height = 1280, 800
	program := build(t)
	few := begin(t, program, display.Start(t, width, height), width, height, "--size", "960x600")
	few.use(rand.New(rand.NewPCG(0, 0)), 3*time.Second)
	before := few.goroutines()

	p := begin(t, program, display.Start(t, width, height), width, height, "--size", "960x600")
	p.use(rand.New(rand.NewPCG(*seed, 0)), *soak)
	after := p.goroutines()
	t.Logf("goroutines: %d after 3 s, %d after %v", before, after, *soak)
	if after > before+4 {
		t.Errorf("there were %d goroutines at first, and are %d", before, after)
	}
	p.tell()
}

// A program is the window's program, running on a display of its own.
type program struct {
	*screen
	cmd   *exec.Cmd
	ended chan error
	shots map[uint64]bool // pictures that were seen

	mu     sync.Mutex
	heap   []sample // after each collection
	words  strings.Builder
	status []usage
}

// A sample is how many MB of the heap lived at a time.
type sample struct {
	at time.Duration
	mb int
}

// A usage is what the system says of the program.
type usage struct {
	at       time.Duration
	rss      int // MB
	threads  int
	pictures int // that differed, so far
	done     int // by the hand, so far
}

// collected is how the Go runtime tells of a garbage collection.
var collected = regexp.MustCompile(`^gc \d+ @([0-9.]+)s .* \d+->\d+->(\d+) MB`)

// begin starts the program on a display of that size.
func begin(t *testing.T, path, name string, width, height uint16, args ...string) *program {
	t.Helper()
	home := t.TempDir()
	p := &program{cmd: exec.Command(path, args...), ended: make(chan error, 1), shots: map[uint64]bool{}}
	p.cmd.Env = append(os.Environ(), "DISPLAY="+name, "LIBGL_ALWAYS_SOFTWARE=1", "HOME="+home, "XDG_CONFIG_HOME="+home,
		"XDG_DOCUMENTS_DIR=", "GODEBUG=gctrace=1", "GOTRACEBACK=all")
	read, write := io.Pipe()
	p.cmd.Stdout, p.cmd.Stderr = write, write
	if err := p.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	heard := make(chan bool)
	go func() { p.listen(read); close(heard) }()
	go func() {
		err := p.cmd.Wait()
		write.Close()
		<-heard
		p.ended <- err
	}()
	t.Cleanup(func() { p.cmd.Process.Kill() })
	p.screen = newScreen(t, name, width, height)
	return p
}

// listen takes what the program says.
func (p *program) listen(r io.Reader) {
	in := bufio.NewScanner(r)
	in.Buffer(nil, 1<<20)
	for in.Scan() {
		p.mu.Lock()
		if m := collected.FindStringSubmatch(in.Text()); m != nil {
			at, _ := strconv.ParseFloat(m[1], 64)
			mb, _ := strconv.Atoi(m[2])
			p.heap = append(p.heap, sample{time.Duration(at * float64(time.Second)), mb})
		} else {
			fmt.Fprintln(&p.words, in.Text())
		}
		p.mu.Unlock()
	}
	io.Copy(io.Discard, r)
}

// window returns the program's window, once it is there.
func (p *program) window() xproto.Window {
	p.Helper()
	for deadline := time.Now().Add(60 * time.Second); time.Now().Before(deadline); time.Sleep(100 * time.Millisecond) {
		tree, err := xproto.QueryTree(p.conn, p.root).Reply()
		if err != nil {
			p.Fatal(err)
		}
		for _, w := range tree.Children {
			a, err := xproto.GetWindowAttributes(p.conn, w).Reply()
			if err == nil && a.MapState == xproto.MapStateViewable && a.Class == xproto.WindowClassInputOutput {
				return w
			}
		}
	}
	p.Fatalf("there is no window\n%s", p.words.String())
	return 0
}

// until waits for something to be so on two pictures taken a little apart, and returns the second.
func (p *program) until(what string, so func(a, b *image.RGBA) bool) *image.RGBA {
	p.Helper()
	for deadline := time.Now().Add(30 * time.Second); time.Now().Before(deadline); {
		a := p.grab()
		time.Sleep(150 * time.Millisecond)
		if b := p.grab(); so(a, b) {
			return b
		}
	}
	p.Fatalf("waited in vain: %s", what)
	return nil
}

// use uses the program at random.
func (p *program) use(r *rand.Rand, during time.Duration) {
	p.Helper()
	var letters []xproto.Keysym
	for c := rune(' '); c <= '~'; c++ {
		if _, ok := p.codes[xproto.Keysym(c)]; ok && show.Typed(c) != show.None {
			letters = append(letters, xproto.Keysym(c))
		}
	}
	const home, end, pageUp, pageDown, enter, tab, left, up, down, f11 = 0xff50, 0xff57, 0xff55, 0xff56, 0xff0d, 0xff09, 0xff51, 0xff52, 0xff54, 0xffc8
	others := []xproto.Keysym{home, end, pageUp, pageDown, enter, tab, left, rightSym, up, down, escapeSym, escapeSym, f11}
	w := p.window()
	time.Sleep(time.Second)
	start := time.Now()
	somewhere := func() { p.point(r.IntN(int(p.width)), r.IntN(int(p.height))) }
	for n := 0; time.Since(start) < during; n++ {
		switch did := r.IntN(20); {
		case did < 9:
			p.press(letters[r.IntN(len(letters))])
		case did < 12:
			p.press(others[r.IntN(len(others))])
		case did < 15:
			somewhere()
			time.Sleep(30 * time.Millisecond)
			p.button(leftButton, true)
			time.Sleep(30 * time.Millisecond)
			p.button(leftButton, false)
		case did < 17:
			somewhere()
			p.button(leftButton, true)
			for range 5 {
				time.Sleep(20 * time.Millisecond)
				somewhere()
			}
			p.button(leftButton, false)
		case did < 18:
			somewhere()
			wheel := byte(wheelDown - r.IntN(2))
			p.button(wheel, true)
			p.button(wheel, false)
		case did < 19:
			p.chord([]xproto.Keysym{'z', 'y', 's', 'o'}[r.IntN(4)])
		case r.IntN(3) == 0:
			p.resize(w, 1, 1)
			time.Sleep(200 * time.Millisecond)
			p.resize(w, 960, 600)
		default:
			p.resize(w, 1+r.IntN(1600), 1+r.IntN(1000))
		}
		xproto.SetInputFocus(p.conn, xproto.InputFocusPointerRoot, w, xproto.TimeCurrentTime)
		time.Sleep(time.Duration(20+r.IntN(100)) * time.Millisecond)
		if n%50 == 0 {
			p.see(time.Since(start), n)
		}
		select {
		case err := <-p.ended:
			p.ended <- err
			p.Fatalf("after %v and %d acts of the hand the program ended: %v\n%s", time.Since(start), n, err, p.words.String())
		default:
		}
	}
	p.see(time.Since(start), 0)
	if len(p.shots) < 2 {
		p.Errorf("the hand was seen to change nothing")
	}
}

// resize resizes the window, as the user's window manager would.
func (p *program) resize(w xproto.Window, width, height int) {
	xproto.ConfigureWindow(p.conn, w, xproto.ConfigWindowWidth|xproto.ConfigWindowHeight, []uint32{uint32(width), uint32(height)})
}

// see notes what the program uses and shows.
func (p *program) see(at time.Duration, done int) {
	p.Helper()
	sum := uint64(14695981039346656037) // FNV-1a
	for _, b := range p.grab().Pix {
		sum = (sum ^ uint64(b)) * 1099511628211
	}
	p.shots[sum] = true
	u := usage{at: at, pictures: len(p.shots), done: done}
	text, err := os.ReadFile(filepath.Join("/proc", strconv.Itoa(p.cmd.Process.Pid), "status"))
	if err != nil {
		return // it has just ended, which is told elsewhere
	}
	for line := range bytes.Lines(text) {
		var n int
		if k, _ := fmt.Sscanf(string(line), "VmRSS: %d kB", &n); k == 1 {
			u.rss = n >> 10
		}
		if k, _ := fmt.Sscanf(string(line), "Threads: %d", &n); k == 1 {
			u.threads = n
		}
	}
	p.status = append(p.status, u)
}

// goroutines ends the program by the signal at which a Go program lists its goroutines, and counts them.
func (p *program) goroutines() int {
	p.Helper()
	p.cmd.Process.Signal(syscall.SIGQUIT)
	select {
	case <-p.ended:
	case <-time.After(30 * time.Second):
		p.Fatal("the program does not end")
	}
	said := p.words.String()
	if i := strings.Index(said, "panic"); i >= 0 {
		p.Errorf("the program panicked:\n%s", said)
	}
	return len(regexp.MustCompile(`(?m)^goroutine \d+`).FindAllString(said, -1))
}

// tell reports memory and threads by tenths of the time, and judges them: of what lived in the second quarter and in the last,
// the least must be about the same, since what is open in between differs.
func (p *program) tell() {
	p.Helper()
	if len(p.heap) == 0 || len(p.status) == 0 {
		p.Fatal("the runtime told of no collection")
	}
	total := p.heap[len(p.heap)-1].at
	least := func(from, to time.Duration) (least, most, n int) {
		for _, s := range p.heap {
			if s.at >= from && s.at <= to {
				if least, most, n = min(least, s.mb), max(most, s.mb), n+1; n == 1 {
					least = s.mb
				}
			}
		}
		return
	}
	for k := range time.Duration(10) {
		from, to := total*k/10, total*(k+1)/10
		low, high, n := least(from, to)
		u := p.status[min(len(p.status)*int(k+1)/10, len(p.status)-1)]
		p.Logf("to %8v: %4d collections, %3d to %3d MB live; %4d MB resident, %2d threads, %5d different pictures",
			to.Round(time.Second), n, low, high, u.rss, u.threads, u.pictures)
	}
	_, most, _ := least(0, total)
	if most > mostHeap {
		p.Errorf("%d MB lived at a time", most)
	}
	if total < longSoak {
		return
	}
	early, _, _ := least(total/4, total/2)
	late, _, _ := least(total*3/4, total)
	if late > early*5/4+8 {
		p.Errorf("in the second quarter at least %d MB lived, in the last %d", early, late)
	}
}

package display_test

import (
	"fmt"
	"image"
	"testing"
	"time"

	"github.com/jezek/xgb"
	"github.com/jezek/xgb/xproto"
	"github.com/jezek/xgb/xtest"
)

// A screen is a display as one who sits before it has it: pictures, keys and a mouse.
type screen struct {
	*testing.T
	conn          *xgb.Conn
	root          xproto.Window
	width, height uint16
	codes         map[xproto.Keysym]key
}

// A key is where a sign is on the keyboard.
type key struct {
	code  xproto.Keycode
	shift bool
}

const shiftSym, controlSym, spaceSym, escapeSym, rightSym = 0xffe1, 0xffe3, ' ', 0xff1b, 0xff53

func newScreen(t *testing.T, name string, width, height uint16) *screen {
	xgb.Logger.SetOutput(t.Output())
	conn, err := xgb.NewConnDisplay(name)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(conn.Close)
	if err := xtest.Init(conn); err != nil {
		t.Fatal(err)
	}
	setup := xproto.Setup(conn)
	s := &screen{T: t, conn: conn, root: setup.DefaultScreen(conn).Root, width: width, height: height, codes: map[xproto.Keysym]key{}}
	m, err := xproto.GetKeyboardMapping(conn, setup.MinKeycode, byte(setup.MaxKeycode-setup.MinKeycode+1)).Reply()
	if err != nil {
		t.Fatal(err)
	}
	per := int(m.KeysymsPerKeycode)
	for i, sym := range m.Keysyms {
		if column := i % per; column < 2 {
			if _, there := s.codes[sym]; !there {
				s.codes[sym] = key{setup.MinKeycode + xproto.Keycode(i/per), column == 1}
			}
		}
	}
	return s
}

// grab returns what the screen shows.
func (s *screen) grab() *image.RGBA {
	s.Helper()
	shot, err := xproto.GetImage(s.conn, xproto.ImageFormatZPixmap, xproto.Drawable(s.root), 0, 0, s.width, s.height, ^uint32(0)).Reply()
	if err != nil {
		s.Fatal(err)
	}
	img := image.NewRGBA(image.Rect(0, 0, int(s.width), int(s.height)))
	for i := 0; i+3 < len(shot.Data); i += 4 { // blue, green, red, nothing
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = shot.Data[i+2], shot.Data[i+1], shot.Data[i], 0xff
	}
	return img
}

func (s *screen) fake(kind, detail byte, x, y int16) {
	s.Helper()
	if err := xtest.FakeInputChecked(s.conn, kind, detail, 0, s.root, x, y, 0).Check(); err != nil {
		s.Fatal(err)
	}
}

// press types a sign.
func (s *screen) press(sym xproto.Keysym) {
	s.Helper()
	k, ok := s.codes[sym]
	if !ok {
		s.Fatal(fmt.Errorf("the keyboard has no key for %#x", sym))
	}
	if k.shift {
		s.fake(xproto.KeyPress, byte(s.codes[shiftSym].code), 0, 0)
	}
	s.fake(xproto.KeyPress, byte(k.code), 0, 0)
	s.fake(xproto.KeyRelease, byte(k.code), 0, 0)
	if k.shift {
		s.fake(xproto.KeyRelease, byte(s.codes[shiftSym].code), 0, 0)
	}
}

// chord strikes a sign while the control key is down.
func (s *screen) chord(sym xproto.Keysym) {
	control := byte(s.codes[controlSym].code)
	s.fake(xproto.KeyPress, control, 0, 0)
	time.Sleep(100 * time.Millisecond) // the program must see the one down before the other
	s.fake(xproto.KeyPress, byte(s.codes[sym].code), 0, 0)
	time.Sleep(100 * time.Millisecond)
	s.fake(xproto.KeyRelease, byte(s.codes[sym].code), 0, 0)
	s.fake(xproto.KeyRelease, control, 0, 0)
}

// point moves the mouse.
func (s *screen) point(x, y int) { s.fake(xproto.MotionNotify, 0, int16(x), int16(y)) }

// The buttons of a mouse, as X numbers them.
const leftButton, wheelDown = 1, 5

// button presses or lets go a button of the mouse.
func (s *screen) button(which byte, down bool) {
	kind := byte(xproto.ButtonRelease)
	if down {
		kind = xproto.ButtonPress
	}
	s.fake(kind, which, 0, 0)
}

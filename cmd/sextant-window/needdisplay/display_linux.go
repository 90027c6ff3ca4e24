package needdisplay

// #cgo LDFLAGS: -lX11
// #include <X11/Xlib.h>
import "C"

import (
	"os"
	"strconv"
)

// Only the library that Ebitengine uses knows all that DISPLAY may name, and whether it lets this user in.
func init() {
	if d := C.XOpenDisplay(nil); d != nil {
		C.XCloseDisplay(d)
		return
	}
	why := "DISPLAY is not set"
	if name := os.Getenv("DISPLAY"); name != "" {
		why = "DISPLAY is " + strconv.Quote(name) + ", which does not answer or does not let this user in"
	}
	os.Stderr.WriteString("sextant-window: there is no display here (" + why + "); " +
		"\"sextant serve\" shows the picture in a browser, \"sextant still\" draws it to a file\n")
	os.Exit(1)
}

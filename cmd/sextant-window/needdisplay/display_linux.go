package needdisplay

// #cgo LDFLAGS: -lX11
// #define _GNU_SOURCE
// #include <errno.h>
// #include <poll.h>
// #include <X11/Xlib.h>
//
// // last returns when the other end of a connection has gone.
// static void last(int connection) {
//	struct pollfd p = {connection, POLLRDHUP, 0};
//	while (poll(&p, 1, -1) < 0 && errno == EINTR) {}
// }
import "C"

import (
	"os"
	"strconv"
)

// Only the library that Ebitengine uses knows all that DISPLAY may name, and whether it lets this user in.
func init() {
	if d := C.XOpenDisplay(nil); d != nil {
		go watch(C.XConnectionNumber(d))
		return
	}
	why := "DISPLAY is not set"
	if name := os.Getenv("DISPLAY"); name != "" {
		why = "DISPLAY is " + strconv.Quote(name) + ", which does not answer or does not let this user in"
	}
	end("there is no display here (" + why + "); " +
		"\"sextant serve\" shows the picture in a browser, \"sextant still\" draws it to a file")
}

// watch ends the program when the display goes away. Xlib would do so where it is the first to notice; where a driver of
// OpenGL is, that may try for ever to show a picture.
func watch(connection C.int) {
	C.last(connection)
	end("the display has gone away")
}

func end(why string) {
	os.Stderr.WriteString("sextant-window: " + why + "\n")
	os.Exit(1)
}
